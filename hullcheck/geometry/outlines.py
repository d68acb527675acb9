"""Outlines of closed surfaces: silhouettes, plane cuts and chines, as drawings need them."""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray, IntArray, bounds
from hullcheck.geometry.chine import chine_at
from hullcheck.geometry.sections import Slices, chained, cut_segments, loop_area
from hullcheck.geometry.topology import loops, merged

Loops = list[FloatArray]
"""Closed polygons, each shape (k, 2), the last point joined to the first: outer ones
counter-clockwise, holes clockwise."""

_CHINE_STATIONS: Final = 60
_CHINE_JUMP: Final = 0.025
"""Of the length: a chine that moves further than this between stations is another edge."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class EdgeWeb:
    """The edges of a closed surface with the triangles that meet in them.

    Made once, it gives the silhouette from any side by one pass over the edges.

    Attributes
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        The surface [mm], outward.
    points_mm : ndarray, shape (m, 3)
        Its different corners [mm].
    edges : ndarray of int, shape (e, 2)
        Corner numbers of each edge, the lesser first.
    uses : ndarray of int, shape (3 n,)
        Directed edges, 3 × triangle + corner, sorted by edge.
    first : ndarray of int, shape (e,)
        Where each edge's uses begin.
    signs : ndarray of int, shape (3 n,)
        +1 where a use runs from the lesser corner, −1 where it runs back.
    """

    triangles_mm: FloatArray
    points_mm: FloatArray
    edges: IntArray
    uses: IntArray
    first: IntArray
    signs: IntArray

    @classmethod
    def of(cls, triangles_mm: FloatArray) -> "EdgeWeb":
        """Return the web of a closed surface, shape (n, 3, 3) [mm]."""
        mesh = merged(triangles_mm)
        start, end = mesh.faces.ravel(), mesh.faces[:, [1, 2, 0]].ravel()
        size = len(mesh.points)
        keys = np.minimum(start, end) * size + np.maximum(start, end)
        order = np.argsort(keys, kind="stable")
        keys = keys[order]
        new = np.ones(len(keys), dtype=bool)
        np.not_equal(keys[1:], keys[:-1], out=new[1:])
        return cls(
            triangles_mm=triangles_mm,
            points_mm=mesh.points,
            edges=np.stack(np.divmod(keys[new], size), axis=1),
            uses=order,
            first=np.flatnonzero(new),
            signs=np.where(start < end, 1, -1)[order],
        )

    def silhouette(self, right: FloatArray, up: FloatArray, tolerance_mm: float) -> Loops:
        """Return the silhouette on the plane of two unit vectors, right and up [mm].

        Notes
        -----
        The boundary of the triangles that face the viewer, as a chain of directed edges, winds
        round a point of the picture as often as such triangles cover it. The silhouette is where
        that number is above 0: undercuts, holes and overlaps come out exact.
        """
        corners = self.triangles_mm @ np.stack((right, up), axis=1)
        ahead, aside = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
        facing = ahead[:, 0] * aside[:, 1] - ahead[:, 1] * aside[:, 0] > 0.0
        net = np.add.reduceat(self.signs * facing[self.uses // 3], self.first)
        rim = np.flatnonzero(net)
        directed = np.where((net[rim] > 0)[:, None], self.edges[rim], self.edges[rim][:, ::-1])
        directed = np.repeat(directed, np.abs(net[rim]), axis=0)
        flat = self.points_mm @ np.stack((right, up), axis=1)
        return outer_region([flat[chain] for chain in loops(directed)], tolerance_mm)


def outer_region(polygons: Loops, tolerance_mm: float = 0.0) -> Loops:
    """Return the region that directed polygons wind round counter-clockwise, in simple loops.

    Parameters
    ----------
    polygons : list of ndarray, shape (k, 2)
        Directed; they may cross, touch and overlap [mm].
    tolerance_mm : float, default 0
        How far a point left out may lie from its neighbors' line [mm].
    """
    from manifold3d import CrossSection, FillRule

    section = CrossSection([p for p in polygons if len(p) > 2], FillRule.Positive)
    if tolerance_mm > 0.0:
        section = section.simplify(tolerance_mm)
    return [np.array(p, dtype=np.float64) for p in section.to_polygons() if len(p) > 2]


def below(region: Loops, level_mm: float) -> Loops:
    """Return the part of a region under a level of its second coordinate [mm]."""
    from manifold3d import CrossSection, FillRule

    if not region:
        return []
    points = np.concatenate(region)
    low, high = points.min(axis=0) - 1.0, points.max(axis=0) + 1.0
    if level_mm <= low[1]:
        return []
    box = np.array([
        [low[0], low[1]], [high[0], low[1]], [high[0], level_mm], [low[0], level_mm]
    ])  # fmt: skip
    section = CrossSection(region, FillRule.Positive) ^ CrossSection([box], FillRule.Positive)
    return [np.array(p, dtype=np.float64) for p in section.to_polygons() if len(p) > 2]


def plane_cut(triangles_mm: FloatArray, normal: FloatArray, offset_mm: float) -> Loops:
    """Return a plane's cut with a surface as closed loops in body axes, shape (k, 3) [mm].

    Seen from the tip of the normal outer loops run counter-clockwise.
    """
    return chained(cut_segments(triangles_mm, normal, offset_mm))


def seen(cut: Loops, right: FloatArray, up: FloatArray, tolerance_mm: float) -> Loops:
    """Return a cut's loops, shape (k, 3), as a region on the plane of right and up [mm]."""
    flat = [loop @ np.stack((right, up), axis=1) for loop in cut]
    turned = sum(loop_area(loop) for loop in flat) < 0.0
    return outer_region([loop[::-1] if turned else loop for loop in flat], tolerance_mm)


def chine_lines(
    triangles_mm: FloatArray, center_mm: float, side: int, breaks_mm: tuple[float, ...] = ()
) -> Loops:
    """Return a body's chine on one side as open lines in body axes, shape (k, 3) [mm].

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        Closed body in body axes [mm].
    center_mm : float
        y of its center plane [mm].
    side : int
        +1 for starboard, −1 for port.
    breaks_mm : tuple of float
        Stations where the chine jumps, such as a step [mm]: no line runs across them.
    """
    low, high = bounds(triangles_mm)
    length = float(high[0] - low[0])
    ends = [float(low[0]), *sorted(breaks_mm), float(high[0])]
    slices = Slices(triangles_mm)
    lines: Loops = []
    for start, stop in pairwise(ends):
        count = max(3, round(_CHINE_STATIONS * (stop - start) / length))
        run: list[tuple[float, float, float]] = []
        for station in np.linspace(start + 1e-3 * length, stop - 1e-3 * length, count):
            chine = chine_at(slices, float(station), center_mm)
            if chine is None:
                lines.append(np.array(run))
                run = []
                continue
            point = float(station), center_mm + side * chine.half_breadth_mm, chine.height_mm
            if run and math.hypot(point[1] - run[-1][1], point[2] - run[-1][2]) > (
                _CHINE_JUMP * length
            ):
                lines.append(np.array(run))
                run = []
            run.append(point)
        lines.append(np.array(run))
    return [line for line in lines if len(line) > 2]


def thinned(line: FloatArray, tolerance_mm: float) -> FloatArray:
    """Return an open line with the points left out that lie within a tolerance of it.

    Notes
    -----
    The farthest point from the chord is kept and both halves are treated alike.

    References
    ----------
    Douglas, D. H., and T. K. Peucker, "Algorithms for the reduction of the number of points
    required to represent a digitized line or its caricature", Cartographica 10 (2), 1973.
    """
    kept = np.zeros(len(line), dtype=bool)
    kept[[0, -1]] = True
    spans = [(0, len(line) - 1)]
    while spans:
        first, last = spans.pop()
        if last - first < 2:
            continue
        chord = line[last] - line[first]
        offsets = line[first + 1 : last] - line[first]
        size = float(chord @ chord)
        share = np.clip(offsets @ chord / size, 0.0, 1.0) if size > 0.0 else np.zeros(len(offsets))
        away = np.linalg.norm(offsets - share[:, None] * chord, axis=1)
        middle = int(away.argmax())
        if away[middle] > tolerance_mm:
            kept[first + 1 + middle] = True
            spans += [(first, first + 1 + middle), (first + 1 + middle, last)]
    return line[kept]
