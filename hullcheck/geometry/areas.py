"""Areas of triangles."""

import numpy as np

from hullcheck.geometry.arrays import FloatArray


def area_vectors_mm2(triangles_mm: FloatArray) -> FloatArray:
    """Return a vector for each triangle, shape (n, 3): along its normal, as long as its area [mm²].

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        Seen from where the vector points, the corners run anticlockwise [mm].
    """
    first = triangles_mm[:, 0]
    return 0.5 * np.cross(triangles_mm[:, 1] - first, triangles_mm[:, 2] - first)


def areas_mm2(triangles_mm: FloatArray) -> FloatArray:
    """Return the area of each triangle, shape (n, 3, 3) [mm] to (n,) [mm²]."""
    areas: FloatArray = np.linalg.norm(area_vectors_mm2(triangles_mm), axis=1)
    return areas


def surface_area_mm2(triangles_mm: FloatArray) -> float:
    """Return the area of triangles, shape (n, 3, 3) [mm] together [mm²]."""
    return float(areas_mm2(triangles_mm).sum())
