"""Flat polygons into triangles, without changing the surface they bound."""

import itertools
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray, IntArray

MAX_CONCAVE_CORNERS: Final = 2000
"""Cutting ears costs the square of the corners; a deck outline has a few hundred."""

_FLATNESS: Final = 1e-9
"""A notch smaller than this share of the polygon's extent squared counts as rounding."""


class CrossedPolygonError(ValueError):
    """A polygon that no triangles fill; ``index`` is its number from 0. Never leaves a reader."""

    def __init__(self, index: int) -> None:
        """Keep the polygon's number."""
        super().__init__(index)
        self.index = index


def triangulated(
    vertices: FloatArray, corners: IntArray, sizes: IntArray
) -> tuple[IntArray, IntArray]:
    """Return the triangles of polygons, as vertex numbers, and the polygon each belongs to.

    Parameters
    ----------
    vertices : ndarray, shape (v, 3)
        Finite places.
    corners : ndarray, shape (sum of sizes,)
        Vertex numbers of polygon after polygon, all in range.
    sizes : ndarray, shape (p,)
        Corners of each polygon, at least 3.

    Returns
    -------
    triangles : ndarray, shape (t, 3)
        In the order of the polygons, turning the same way as they do.
    owners : ndarray, shape (t,)
        Polygon number of each triangle.

    Raises
    ------
    CrossedPolygonError
        For a polygon that crosses itself, or a concave one with over 2000 corners.

    Notes
    -----
    A polygon is cut into the fan from its first corner where every triangle of the fan turns with
    the polygon; a concave one has its ears cut off in the projection along its mean normal. A
    polygon that is not flat has no surface of its own: the cut decides it, as in every tool.
    """
    if (sizes == 3).all():
        return corners.reshape(-1, 3), np.arange(len(sizes))
    first_corner = np.concatenate(([0], np.cumsum(sizes)[:-1]))
    first_triangle = np.concatenate(([0], np.cumsum(sizes - 2)))
    triangles = np.empty((int(first_triangle[-1]), 3), dtype=np.int64)
    for size in np.unique(sizes):
        polygons = np.flatnonzero(sizes == size)
        rings = corners[first_corner[polygons, None] + np.arange(size)]
        cut = _fans(len(polygons), int(size))
        for i in _concave(vertices, rings) if size > 3 else ():
            ears = _ears(vertices[rings[i]]) if size <= MAX_CONCAVE_CORNERS else None
            if ears is None:
                raise CrossedPolygonError(int(polygons[i]))
            cut[i] = ears
        rows = first_triangle[polygons, None] + np.arange(size - 2)
        triangles[rows] = np.take_along_axis(rings[:, None, :], cut, axis=2)
    return triangles, np.repeat(np.arange(len(sizes)), sizes - 2)


def _fans(count: int, size: int) -> IntArray:
    """Return the fan from corner 0, once for each polygon: shape (count, size - 2, 3)."""
    step = np.arange(1, size - 1)
    fan = np.stack((np.zeros_like(step), step, step + 1), axis=1)
    return np.repeat(fan[None], count, axis=0)


def _concave(vertices: FloatArray, rings: IntArray) -> IntArray:
    """Return the numbers of the rings whose fan from corner 0 turns back on itself."""
    arms = _arms(vertices[rings])
    doubled = np.cross(arms[:, 1:-1], arms[:, 2:])
    normal = doubled.sum(axis=1, keepdims=True)
    length = np.linalg.norm(normal, axis=2, keepdims=True)
    unit = np.divide(normal, length, out=np.zeros_like(normal), where=length > 0)
    turns_back = ((doubled * unit).sum(axis=2) < -_FLATNESS).any(axis=1)
    # A figure of eight whose loops cancel has no normal to measure a turn by.
    cancels = (length <= _FLATNESS)[:, 0, 0] & (np.abs(doubled) > _FLATNESS).any(axis=(1, 2))
    return np.flatnonzero(turns_back | cancels)


def _arms(rings: FloatArray) -> FloatArray:
    """Return the corners seen from each ring's first one, in units of the ring's extent."""
    # Shrunk before subtracting as well, so that absurdly large places do not overflow.
    for _ in range(2):
        extent = np.abs(rings).max(axis=(1, 2), keepdims=True)
        rings = np.divide(rings, extent, out=np.zeros_like(rings), where=extent > 0)
        rings = rings - rings[:, :1]
    return rings


def _flattened(ring: FloatArray) -> FloatArray | None:
    """Return the ring seen against its mean normal, counterclockwise, in units of its extent."""
    arms = _arms(ring[None])[0]
    normal = np.cross(arms[1:-1], arms[2:]).sum(axis=0)
    axis = int(np.argmax(np.abs(normal)))
    if abs(normal[axis]) <= _FLATNESS:
        return None
    flat = arms[:, [(axis + 1) % 3, (axis + 2) % 3]]
    turned = 1.0 if normal[axis] > 0 else -1.0
    return np.column_stack((flat[:, 0], turned * flat[:, 1]))


def _ears(ring: FloatArray) -> IntArray | None:
    """Return the triangles of a concave polygon as corner numbers, None where there are none.

    Every cut triangle turns with the polygon. For one that does not cross itself that alone proves
    that they fill it without overlap: the triangles' indicator functions add up to its own.
    """
    flat = _flattened(ring)
    if flat is None:
        return None
    left = list(range(len(flat)))
    ears: list[tuple[int, int, int]] = []
    at = tries = 0
    while len(left) > 3 and tries <= len(left):
        at %= len(left)
        ear = (left[at - 1], left[at], left[(at + 1) % len(left)])
        if _is_ear(flat, left, ear):
            ears.append(ear)
            del left[at]
            tries = 0
        else:
            tries += 1
        # Stepping on after a cut leaves fewer slivers than cutting again beside it.
        at += 1
    # What is left is a triangle, or corners in a line that bound nothing.
    rest = [(left[0], b, c) for b, c in itertools.pairwise(left[1:])]
    turns = [_cross(flat[a], flat[b], flat[c]) for a, b, c in rest]
    if min(turns) < -_FLATNESS or (len(turns) > 1 and max(turns) > _FLATNESS):
        return None
    return np.array(ears + rest, dtype=np.int64)


def _cross(a: FloatArray, b: FloatArray, c: FloatArray) -> FloatArray:
    """Return twice the signed area of triangles in the plane."""
    turn = (b[..., 0] - a[..., 0]) * (c[..., 1] - a[..., 1])
    back = (b[..., 1] - a[..., 1]) * (c[..., 0] - a[..., 0])
    return np.asarray(turn - back)


def _is_ear(flat: FloatArray, left: list[int], ear: tuple[int, int, int]) -> bool:
    """Return whether the corner turns with the polygon and no other corner lies in its triangle."""
    a, b, c = flat[ear[0]], flat[ear[1]], flat[ear[2]]
    if not _cross(a, b, c) > 0:
        return False
    others = flat[left]
    within = (_cross(a, b, others) >= 0) & (_cross(b, c, others) >= 0) & (_cross(c, a, others) >= 0)
    for corner in (a, b, c):
        within &= (others != corner).any(axis=1)
    return not within.any()
