"""The corners of a surface that can be its highest or lowest, whichever way it lies."""

from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray

_FEW: Final = 4000


def extreme_points(triangles_mm: FloatArray) -> FloatArray:
    """Return corners among which the highest and the lowest of a surface are, in any direction.

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        A closed surface [mm].

    Returns
    -------
    ndarray, shape (k, 3)
        All corners where they are few, else those of the convex hull.
    """
    points: FloatArray = triangles_mm.reshape(-1, 3)
    if len(points) <= _FEW:
        return points
    from scipy.spatial import ConvexHull

    kept: FloatArray = points[ConvexHull(points).vertices]
    return kept


def centroid_of(loops: list[FloatArray]) -> tuple[float, FloatArray]:
    """Return the area [mm²] and first moments [mm³], shape (2,), of directed loops, (k, 2) each."""
    area, moments = 0.0, np.zeros(2)
    for loop in loops:
        origin = loop[0]
        here = loop - origin
        following = np.roll(here, -1, axis=0)
        cross = here[:, 0] * following[:, 1] - here[:, 1] * following[:, 0]
        own = 0.5 * float(cross.sum())
        area += own
        moments += ((here + following) * cross[:, None]).sum(axis=0) / 6.0 + own * origin
    return area, moments
