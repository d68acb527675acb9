"""Where a closed skin floats: arrays and frozen records in, frozen records out."""
