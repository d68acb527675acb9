"""A heeled section by plain polygon clipping: the two-dimensional truth for prisms that only heel.

Nothing of hullcheck is used: Sutherland and Hodgman's clip against one line, the shoelace formula,
and a bracketing root finder.
"""

import math

import numpy as np
from scipy.optimize import brentq


def below(corners, normal, height):
    """Return the part of a polygon (k, 2) under the line normal·p = height, corners in order."""
    kept = []
    for here, following in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        near, far = here @ normal - height, following @ normal - height
        if near <= 0.0:
            kept.append(here)
        if near * far < 0.0:
            kept.append(here + near / (near - far) * (following - here))
    return np.array(kept)


def area_and_centroid(corners):
    """Return a polygon's area and centroid, counterclockwise positive."""
    x, y = (corners - corners[0]).T
    cross = x * np.roll(y, -1) - np.roll(x, -1) * y
    area = 0.5 * cross.sum()
    middle = [((c + np.roll(c, -1)) * cross).sum() / (6.0 * area) for c in (x, y)]
    return area, corners[0] + middle


def heeled(corners, wet_area, heel):
    """Return the water's height along its normal and the wet part's centroid at a heel [rad].

    Corners are (y, z) counterclockwise; starboard down is positive, so n = (−sin φ, cos φ).
    """
    normal = np.array([-math.sin(heel), math.cos(heel)])
    levels = corners @ normal
    span = np.ptp(levels)

    def excess(height):
        """Return the wet area less the one wanted."""
        return area_and_centroid(below(corners, normal, height))[0] - wet_area

    height = brentq(
        excess, levels.min() + 1e-6 * span, levels.max() - 1e-9 * span, xtol=1e-14, rtol=1e-15
    )
    return height, area_and_centroid(below(corners, normal, height))[1]


def righting_arm(corners, wet_area, center_of_gravity, heel):
    """Return the arm (B − G)·e, e = (cos φ, sin φ) level to starboard."""
    buoyancy = heeled(corners, wet_area, heel)[1]
    return float((buoyancy - center_of_gravity) @ [math.cos(heel), math.sin(heel)])


def energy(corners, wet_area, center_of_gravity, heel):
    """Return the height of the center of gravity over that of buoyancy, along the normal."""
    buoyancy = heeled(corners, wet_area, heel)[1]
    return float((center_of_gravity - buoyancy) @ [-math.sin(heel), math.cos(heel)])
