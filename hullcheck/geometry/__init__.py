"""Shapes: arrays in, arrays or frozen records out. Knows no file, no water density, no mass."""
