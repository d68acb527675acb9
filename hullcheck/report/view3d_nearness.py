"""How far one surface is from another: what the turnable view's simpler skin may be off."""

from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.topology import Mesh

_CHUNK: Final = 4000
_MOST_POINTS: Final = 20_000
"""Of a surface: more are taken evenly from all."""
_BETWEEN: Final = 1.15
"""What may be farther off between the points looked at."""
_WIDER: Final = 4.0


def apart_mm(true: Mesh, simple: Mesh, reach_mm: float) -> float:
    """Return how far two surfaces are apart, either way [mm].

    Parameters
    ----------
    true, simple : Mesh
        A surface, and the same with points left out.
    reach_mm : float
        About how far they may be apart [mm]; it only makes the search quick.

    Notes
    -----
    The greatest distance of the one's points, and of the middles of the other's faces and edges,
    from the surface of the other, 15 % added for what lies between.
    """
    corners = simple.triangles
    middles = np.concatenate(
        [corners.mean(axis=1), *(0.5 * (corners[:, k] + corners[:, k - 1]) for k in range(3))]
    )
    there = distances_mm(_evenly(true.points), corners, reach_mm).max()
    back = distances_mm(_evenly(middles), true.triangles, reach_mm).max()
    return float(_BETWEEN * max(there, back))


def distances_mm(points: FloatArray, triangles: FloatArray, reach_mm: float) -> FloatArray:
    """Return each point's distance from a surface, shape (k,) [mm].

    Parameters
    ----------
    points : ndarray, shape (k, 3)
        [mm]
    triangles : ndarray, shape (n, 3, 3)
        The surface [mm].
    reach_mm : float
        About how far the points are from it [mm]; the search widens where they are farther.
    """
    import shapely

    axes = np.sort(np.argsort(np.ptp(triangles.reshape(-1, 3), axis=0))[1:])
    low, high = triangles.min(axis=1)[:, axes], triangles.max(axis=1)[:, axes]
    tree = shapely.STRtree(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]))
    found = np.full(len(points), np.inf)
    left = np.arange(len(points))
    while len(left):
        for start in range(0, len(left), _CHUNK):
            here = left[start : start + _CHUNK]
            a, b = points[here][:, axes] - reach_mm, points[here][:, axes] + reach_mm
            one, other = tree.query(shapely.box(a[:, 0], a[:, 1], b[:, 0], b[:, 1]))
            np.minimum.at(found, here[one], to_triangles(points[here[one]], triangles[other]))
        # What was found within reach is the nearest: no face outside the search is nearer.
        left = left[found[left] > reach_mm]
        reach_mm *= _WIDER
    return found


def to_triangles(points: FloatArray, triangles: FloatArray) -> FloatArray:
    """Return the distance of each point (k, 3) from its triangle (k, 3, 3), shape (k,)."""
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    normals = np.cross(b - a, c - a)
    sizes = np.maximum(np.linalg.norm(normals, axis=1), 1e-300)
    within = np.ones(len(points), dtype=bool)
    best = np.full(len(points), np.inf)
    for start, end in ((a, b), (b, c), (c, a)):
        way, off = end - start, points - start
        within &= _dot(np.cross(normals, way), off) >= 0.0
        share = np.clip(_dot(off, way) / np.maximum(_dot(way, way), 1e-300), 0.0, 1.0)
        best = np.minimum(best, np.linalg.norm(off - share[:, None] * way, axis=1))
    flat: FloatArray = np.abs(_dot(normals, points - a)) / sizes
    return np.where(within & (sizes > 1e-300), np.minimum(flat, best), best)


def _dot(one: FloatArray, two: FloatArray) -> FloatArray:
    """Return the scalar products of rows."""
    products: FloatArray = np.einsum("ij,ij->i", one, two)
    return products


def _evenly(points: FloatArray) -> FloatArray:
    """Return at most so many of the points, evenly from all."""
    if len(points) <= _MOST_POINTS:
        return points
    picked: FloatArray = points[np.linspace(0, len(points) - 1, _MOST_POINTS).astype(int)]
    return picked
