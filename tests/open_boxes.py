"""Boxes that lack some of their sides."""

from make_bodies import box

SIDES = {"bottom": (2, 0.0), "deck": (2, 64.0), "bow": (0, 0.0), "starboard": (1, 48.0)}


def lacking(*names):
    """Return a box of 240 × 96 × 64 mm without some of its sides, (n, 3, 3)."""
    triangles = box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    for name in names:
        axis, place = SIDES[name]
        triangles = triangles[~(triangles[:, :, axis] == place).all(axis=1)]
    return triangles
