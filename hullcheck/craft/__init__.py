"""Frozen records of a craft, and the rules they keep."""
