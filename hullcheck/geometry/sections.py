"""Plane cuts of a closed surface, and its outline seen from a side."""

from functools import cached_property

import numpy as np

from hullcheck.geometry.arrays import FloatArray, IntArray
from hullcheck.geometry.topology import loops


def cut_segments(triangles_mm: FloatArray, normal: FloatArray, offset: float) -> FloatArray:
    """Return where a plane cuts triangles, as directed segments.

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        Triangles [mm], outward.
    normal : ndarray, shape (3,)
        Unit normal of the plane.
    offset : float
        The plane holds the points p with normal·p = offset [mm]; a corner on it counts as above.

    Returns
    -------
    ndarray, shape (k, 2, 3)
        Segments [mm]; seen from the tip of the normal the inside lies to their left. Segments of
        neighboring triangles share end points to the last bit, so that they can be chained.
    """
    heights = (triangles_mm.reshape(-1, 3) @ normal - offset).reshape(-1, 3)
    below = heights < 0.0
    count = below.sum(axis=1, dtype=np.int8)
    segments = []
    for wanted, lone_is_below in ((1, True), (2, False)):
        rows = np.flatnonzero(count == wanted)
        corners, levels = triangles_mm[rows], heights[rows]
        lone = (below[rows] == lone_is_below).argmax(axis=1)
        ends = []
        for turn in (1, 2):
            other = (lone + turn) % 3
            under, over = (lone, other) if lone_is_below else (other, lone)
            index = np.arange(len(rows))
            low, high = corners[index, under], corners[index, over]
            low_level, high_level = levels[index, under], levels[index, over]
            # Always from the lower corner: both triangles on an edge get the same point.
            share = (low_level / (low_level - high_level))[:, None]
            ends.append(low + share * (high - low))
        segments.append(np.stack(ends[::-1] if lone_is_below else ends, axis=1))
    return np.concatenate(segments)


class Slices:
    """Sections of one surface across an axis, each from the triangles that reach it.

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        Triangles in body axes [mm].
    axis : int, default 0
        Axis the cuts are square to: 0 gives sections at stations, 1 buttocks.
    """

    __slots__ = ("_first", "_last", "_normal", "_triangles")

    def __init__(self, triangles_mm: FloatArray, axis: int = 0) -> None:
        self._normal = np.eye(3)[axis]
        self._triangles = triangles_mm
        self._first, self._last = _spans(triangles_mm[:, :, axis])

    def at(self, place_mm: float) -> FloatArray:
        """Return the section at a place on the axis as directed segments, shape (k, 2, 3) [mm]."""
        near = (self._first <= place_mm) & (self._last >= place_mm)
        return cut_segments(self._triangles[near], self._normal, place_mm)


def _spans(along: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the least and the greatest of each triangle's three coordinates, shape (n,) each."""
    # Column by column: reducing rows of three costs several times as much.
    one, two, three = along[:, 0], along[:, 1], along[:, 2]
    return np.minimum(np.minimum(one, two), three), np.maximum(np.maximum(one, two), three)


class Cuts:
    """A surface ready to be cut again and again, across x and across y.

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        Triangles in body axes [mm].
    """

    def __init__(self, triangles_mm: FloatArray) -> None:
        self._triangles = triangles_mm

    @cached_property
    def stations(self) -> Slices:
        """Cuts across x."""
        return Slices(self._triangles, axis=0)

    @cached_property
    def buttocks(self) -> Slices:
        """Cuts across y."""
        return Slices(self._triangles, axis=1)


def chained(segments_mm: FloatArray) -> list[FloatArray]:
    """Return the loops that directed segments form, each its points in order, shape (k, 3) [mm]."""
    segments = segments_mm[(segments_mm[:, 0] != segments_mm[:, 1]).any(axis=1)]
    if len(segments) == 0:
        return []
    points, labels = np.unique(segments.reshape(-1, 3) + 0.0, axis=0, return_inverse=True)
    edges: IntArray = labels.reshape(-1, 2).astype(np.int64)
    return [points[chain] for chain in loops(edges)]


def loop_area(points: FloatArray) -> float:
    """Return the signed area of a closed polygon, shape (k, 2), positive counter-clockwise."""
    x, y = points[:, 0], points[:, 1]
    return float(0.5 * (x @ np.roll(y, -1) - y @ np.roll(x, -1)))


def envelope(
    along: FloatArray, height: FloatArray, stations: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return the lowest and the highest point of triangles at evenly spaced stations.

    Parameters
    ----------
    along, height : ndarray, shape (n, 3)
        The two coordinates of the triangles' corners in the plane of view [mm].
    stations : ndarray, shape (k,)
        Evenly spaced, rising [mm], at least 2.

    Returns
    -------
    lowest, highest : ndarray, shape (k,)
        [mm]; NaN at stations that no triangle reaches.
    """
    lowest = np.full(len(stations), np.inf)
    highest = np.full(len(stations), -np.inf)
    spacing = (stations[-1] - stations[0]) / (len(stations) - 1)
    first, last = _spans(along)
    start = np.ceil((first - stations[0]) / spacing).astype(np.int64).clip(0)
    stop = np.floor((last - stations[0]) / spacing).astype(np.int64).clip(-1, len(stations) - 1)
    counts = (stop - start + 1).clip(0)
    rows = np.repeat(np.arange(len(along)), counts)
    if len(rows):
        ranks = np.arange(len(rows)) - np.repeat(np.cumsum(counts) - counts, counts)
        columns = start[rows] + ranks
        _reach(along[rows], height[rows], stations[columns], columns, (lowest, highest))
    lowest[np.isinf(lowest)] = np.nan
    highest[np.isinf(highest)] = np.nan
    return lowest, highest


def _reach(
    along: FloatArray,
    height: FloatArray,
    station: FloatArray,
    columns: IntArray,
    extremes: tuple[FloatArray, FloatArray],
) -> None:
    """Widen the extremes by where each triangle's edges cross its station."""
    for a, b in ((0, 1), (1, 2), (2, 0)):
        near, far = along[:, a] - station, along[:, b] - station
        crosses = (near <= 0.0) & (far >= 0.0) | (near >= 0.0) & (far <= 0.0)
        run = near - far
        share = np.where(run != 0.0, near / np.where(run != 0.0, run, 1.0), 0.0)
        level = height[:, a] + share * (height[:, b] - height[:, a])
        for edge in (level, np.where(run == 0.0, height[:, b], level)):
            np.minimum.at(extremes[0], columns[crosses], edge[crosses])
            np.maximum.at(extremes[1], columns[crosses], edge[crosses])
