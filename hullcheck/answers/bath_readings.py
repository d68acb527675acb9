"""Readings at the marks: how far it is from a mark on the hull down to the water."""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from hullcheck.craft.craft import Craft
from hullcheck.craft.fittings import Along, Point
from hullcheck.errors import InputError, SurfaceError
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.sections import Slices, chained

Side = Literal["port", "starboard", "center"]

OFF_SKIN_MM: Final = 5.0
"""A mark further than this off the skin is no mark on it: a pencil line and a point read off a
drawing agree to a few millimeters (common practice, no source)."""
_LEVEL_MM: Final = 1e-6
"""Points of a section within this of its lowest are as low."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkPoint:
    """One place to measure down to the water from.

    Attributes
    ----------
    mark : str
        Name of the mark in the build sheet.
    side : str
        "port", "starboard", or "center" for a mark with y = 0.
    point_mm : tuple of float
        Its place in body axes [mm], as the sheet has it or with y turned over.
    along : str
        "skin": along the skin's section at its station; "plumb": square to the water.
    """

    mark: str
    side: Side
    point_mm: Point
    along: Along


def mark_points(craft: Craft) -> tuple[MarkPoint, ...]:
    """Return every place to measure from, in the order of the sheet.

    A mark with y above 0 stands for its port twin too: port first, then starboard. One with y below
    0 is a port mark alone, one with y = 0 is "center".
    """
    points = []
    for mark in craft.fittings.marks:
        x, y, z = mark.point_mm
        sides: list[tuple[Side, float]] = [("center", 0.0)]
        if y != 0.0:
            sides = [("port", -abs(y))]
        if y > 0.0:
            sides.append(("starboard", y))
        points += [
            MarkPoint(mark=mark.name, side=side, point_mm=(x, across, z), along=mark.along)
            for side, across in sides
        ]
    return tuple(points)


def reading_mm(craft: Craft, mark: MarkPoint, normal: FloatArray, height_mm: float) -> float:
    """Return the distance from one mark down to the water [mm]; see `Reader.reading`."""
    return Reader(craft, (mark,)).reading(mark, normal, height_mm)


class Reader:
    """A craft's marks, each with its section of the skin, to be read at many water planes.

    Parameters
    ----------
    craft : Craft
        With marks in her fittings.
    marks : tuple of MarkPoint, optional
        Those wanted; all by default.

    Attributes
    ----------
    marks : tuple of MarkPoint

    Raises
    ------
    SurfaceError
        If a mark along the skin lies more than 5 mm off it, or no body has a section there.
    """

    def __init__(self, craft: Craft, marks: tuple[MarkPoint, ...] | None = None) -> None:
        self.marks = mark_points(craft) if marks is None else marks
        slices = [Slices(body.shell.triangles_mm) for body in craft.bodies]
        self._paths = {
            _key(mark): _paths(slices, mark) for mark in self.marks if mark.along == "skin"
        }

    def reading(self, mark: MarkPoint, normal: FloatArray, height_mm: float) -> float:
        """Return the distance from a mark down to the water [mm], negative under water.

        Parameters
        ----------
        mark : MarkPoint
            One of `marks`.
        normal : ndarray, shape (3,)
            Unit normal out of the water.
        height_mm : float
            The water holds the points p with normal·p = height_mm [mm].

        Returns
        -------
        float
            Plumb: n·p − h. Along the skin: the length of the skin's section at the mark's station,
            from the point of it nearest to the mark down the side to where it first meets the
            water; from a mark under water up the side, negative. Where the section hangs clear of
            the water the plumb distance from its lowest point is added, where all of it lies under
            that of its highest, so that the reading changes steadily; `meets` tells.

        Raises
        ------
        InputError
            If the mark is none of hers.
        """
        if mark.along == "plumb":
            return float(np.dot(normal, mark.point_mm)) - height_mm
        down, up = self._both(mark)
        if float(down.points_mm[0] @ normal) >= height_mm:
            return down.length(normal, height_mm)
        return -up.length(-normal, -height_mm)

    def meets(self, mark: MarkPoint, normal: FloatArray, height_mm: float) -> bool:
        """Return whether the section of a mark along the skin meets the water; plumb always."""
        if mark.along == "plumb":
            return True
        down, up = self._both(mark)
        heights = np.concatenate((down.points_mm, up.points_mm)) @ normal - height_mm
        return bool(heights.min() <= 0.0 <= heights.max())

    def _both(self, mark: MarkPoint) -> "tuple[_Path, _Path]":
        """Return the ways down and up the side from a mark."""
        paths = self._paths.get(_key(mark))
        if paths is None:
            raise InputError(f"{mark.mark}, {mark.side}: not one of the marks that are read here")
        return paths


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Path:
    """Points along a section from a mark on [mm], and the length from the mark to each [mm]."""

    points_mm: FloatArray
    lengths_mm: FloatArray

    def length(self, normal: FloatArray, height_mm: float) -> float:
        """Return the length to where it first comes down to a plane [mm]."""
        above = self.points_mm @ normal - height_mm
        reached = np.flatnonzero(above <= 0.0)
        if len(reached) == 0:
            return float(self.lengths_mm[-1] + above[-1])
        last = int(reached[0])
        if last == 0:
            return 0.0
        share = above[last - 1] / (above[last - 1] - above[last])
        step = self.lengths_mm[last] - self.lengths_mm[last - 1]
        return float(self.lengths_mm[last - 1] + share * step)


def _key(mark: MarkPoint) -> tuple[str, str]:
    """Return what a mark is known by."""
    return mark.mark, mark.side


def _paths(slices: list[Slices], mark: MarkPoint) -> tuple[_Path, _Path]:
    """Return the ways down and up the side from a mark, along the section at its station."""
    point = np.array(mark.point_mm)
    loops = [loop for body in slices for loop in chained(body.at(mark.point_mm[0]))]
    if not loops:
        raise SurfaceError(
            f"mark {mark.mark!r}, {mark.side}: no body reaches station {mark.point_mm[0]:g}; put "
            'it on the skin, or use along = "plumb"'
        )
    off, loop, edge, foot = min((_nearest(loop, point) for loop in loops), key=lambda one: one[0])
    if off > OFF_SKIN_MM:
        x, y, z = mark.point_mm
        raise SurfaceError(
            f"mark {mark.mark!r}, {mark.side}, at ({x:g}, {y:g}, {z:g}) mm: {off:.0f} mm off the "
            f"skin at its station, at most {OFF_SKIN_MM:g}; correct point_mm in the build sheet, "
            'or use along = "plumb"'
        )
    # From the foot on around the loop, the one way and the other.
    ahead = np.concatenate((foot[None], np.roll(loop, -edge - 1, axis=0)))
    back = np.concatenate((foot[None], np.roll(loop, -edge - 1, axis=0)[::-1]))
    side = 1.0 if mark.side != "port" else -1.0
    return _way(ahead, back, side), _way(ahead, back, side, upward=True)


def _nearest(loop: FloatArray, point: FloatArray) -> tuple[float, FloatArray, int, FloatArray]:
    """Return how far a loop is from a point, the loop, its nearest edge and the foot on it."""
    start, along = loop, np.roll(loop, -1, axis=0) - loop
    lengths = np.einsum("ij,ij->i", along, along)
    share = np.einsum("ij,ij->i", point - start, along) / np.where(lengths > 0.0, lengths, 1.0)
    feet = start + share.clip(0.0, 1.0)[:, None] * along
    away = np.linalg.norm(feet - point, axis=1)
    edge = int(away.argmin())
    return float(away[edge]), loop, edge, feet[edge]


def _way(ahead: FloatArray, back: FloatArray, side: float, *, upward: bool = False) -> _Path:
    """Return the shorter way to a section's lowest point, or to its highest; as short: outboard."""
    ways = []
    for points in (ahead, back):
        heights = -points[:, 2] if upward else points[:, 2]
        end = int(np.flatnonzero(heights <= heights.min() + _LEVEL_MM)[0])
        steps = np.linalg.norm(np.diff(points[: end + 1], axis=0), axis=1)
        lengths = np.concatenate(([0.0], np.cumsum(steps)))
        path = _Path(points_mm=points[: end + 1], lengths_mm=lengths)
        outboard = side * float(points[: end + 1, 1].mean())
        ways.append((round(float(lengths[-1]), 6), -outboard, path))
    return min(ways, key=lambda way: way[:2])[2]
