"""A section of the skin from its keel up both sides: where the water meets it."""

from dataclasses import dataclass
from typing import Final, Self

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.sections import Slices, chained, loop_area

NUDGE_MM: Final = 0.01
"""A section at a step is cut this far ahead of it, where the forebody's bottom still is."""
_LEVEL_MM: Final = 1e-6
"""Points of a section within this of its highest are as high."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Way:
    """Points of a section from the keel up one side to its highest, and the girth to each.

    Attributes
    ----------
    points_mm : ndarray, shape (k, 3)
        The keel first [mm].
    girths_mm : ndarray, shape (k,)
        Along the section from the keel [mm].
    """

    points_mm: FloatArray
    girths_mm: FloatArray

    @classmethod
    def up(cls, points_mm: FloatArray) -> Self:
        """Return the way along points of a loop as far as the first of the highest."""
        heights = points_mm[:, 2]
        end = int(np.flatnonzero(heights >= heights.max() - _LEVEL_MM)[0]) + 1
        steps = np.linalg.norm(np.diff(points_mm[:end], axis=0), axis=1)
        return cls(points_mm=points_mm[:end], girths_mm=np.concatenate(([0.0], np.cumsum(steps))))

    def crossing(self, normal: FloatArray, height_mm: float) -> tuple[float, FloatArray] | None:
        """Return girth and place where the skin first comes out of the water going up [mm].

        Parameters
        ----------
        normal : ndarray, shape (3,)
            Unit normal out of the water.
        height_mm : float
            The water holds the points p with normal·p = height_mm [mm].

        Returns
        -------
        (float, ndarray of shape (3,)) or None
            None where this side is dry all the way, or wet to its highest point.
        """
        above = self.points_mm @ normal - height_mm
        out = np.flatnonzero((above[:-1] < 0.0) & (above[1:] >= 0.0))
        if len(out) == 0:
            return None
        i = int(out[0])
        share = float(above[i] / (above[i] - above[i + 1]))
        girth = self.girths_mm[i] + share * (self.girths_mm[i + 1] - self.girths_mm[i])
        place: FloatArray = self.points_mm[i] + share * (self.points_mm[i + 1] - self.points_mm[i])
        return float(girth), place


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class KeelSection:
    """A section of one body with its keel.

    Attributes
    ----------
    station_mm : float
        As it is called [mm].
    loops : tuple of ndarray, shape (k, 3)
        Its outlines [mm]; from astern, outer ones run counter-clockwise.
    keel_mm : ndarray, shape (3,)
        Its keel [mm].
    starboard, port : Way
        From the keel up each side.
    """

    station_mm: float
    loops: tuple[FloatArray, ...]
    keel_mm: FloatArray
    starboard: Way
    port: Way

    def heights_mm(self, normal: FloatArray, height_mm: float) -> FloatArray:
        """Return the heights of all its points above the water [mm]."""
        return np.concatenate(self.loops) @ normal - height_mm

    def crossings(self, normal: FloatArray, height_mm: float) -> int:
        """Return how often the water crosses its outlines."""
        count = 0
        for loop in self.loops:
            wet = loop @ normal < height_mm
            count += int((wet != np.roll(wet, -1)).sum())
        return count


def keel_section(
    slices: Slices, station_mm: float, center_mm: float, *, ahead: bool = False
) -> KeelSection | None:
    """Return the section of a body at a station, from its keel up both sides.

    Parameters
    ----------
    slices : Slices
        Of the body across x.
    station_mm : float
        Where [mm].
    center_mm : float
        y of the body's center plane [mm].
    ahead : bool, default False
        Whether the section just ahead is meant, as at a step.

    Returns
    -------
    KeelSection or None
        None where the body has no section there.
    """
    loops = chained(slices.at(station_mm - NUDGE_MM if ahead else station_mm))
    outer = [loop for loop in loops if loop_area(loop[:, 1:]) > 0.0]
    if not outer:
        return None
    keels = [(i, *found) for i, loop in enumerate(outer) if (found := _keel(loop, center_mm))]
    if keels:
        number, edge, foot = min(keels, key=lambda one: (float(one[2][2]), one[0]))
    else:
        number = min(range(len(outer)), key=lambda i: float(outer[i][:, 2].min()))
        edge = int(outer[number][:, 2].argmin())
        foot = outer[number][edge]
    rest = np.roll(outer[number], -edge - 1, axis=0)
    # Seen from astern the loop runs counter-clockwise: over the bottom it runs to starboard.
    return KeelSection(
        station_mm=station_mm,
        loops=tuple(loops),
        keel_mm=foot,
        starboard=Way.up(np.concatenate((foot[None], rest))),
        port=Way.up(np.concatenate((foot[None], rest[::-1]))),
    )


def _keel(loop: FloatArray, center_mm: float) -> tuple[int, FloatArray] | None:
    """Return the edge and the place where a loop crosses a plane y = constant lowest; or None."""
    start, end = loop, np.roll(loop, -1, axis=0)
    near, far = start[:, 1] - center_mm, end[:, 1] - center_mm
    crosses = np.flatnonzero((near == 0.0) | (near * far < 0.0))
    if len(crosses) == 0:
        return None
    run = near[crosses] - far[crosses]
    share = np.where(near[crosses] == 0.0, 0.0, near[crosses] / np.where(run == 0.0, 1.0, run))
    feet = start[crosses] + share[:, None] * (end[crosses] - start[crosses])
    lowest = int(feet[:, 2].argmin())
    return int(crosses[lowest]), feet[lowest]
