"""Hulls from offsets: a table of points at stations made a closed body, with its stated error."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from hullcheck.errors import InputError
from hullcheck.geometry.arrays import BoolArray, FloatArray, IntArray, owned
from hullcheck.geometry.offset_crossings import refuse_crossed
from hullcheck.geometry.offset_lines import gridded
from hullcheck.geometry.offset_skin import panel_volumes, skin
from hullcheck.geometry.offset_table import OffsetPoint, OffsetTable, table_of

__all__ = ["OffsetBody", "OffsetPoint", "offset_body"]

_EMPTY = 1e-9
"""Of the box around the lines: a smaller volume is none."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class OffsetBody:
    """A closed body made from a table of offsets.

    Attributes
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        Its skin, outward, on its own center plane y = 0 [mm]: x the station, y to starboard, z the
        height. Port is the exact image of starboard.
    lines : tuple of str
        Names of the lines from keel to deck, in lower case.
    corners : tuple of str
        Those of them that the section has a corner at.
    stations_mm : tuple of float
        Stations, rising [mm].
    smooth : bool
        Whether it is curved between the points or straight.
    error_along_mm3, error_around_mm3 : float
        Stated error of its volume from stations, and from points around a section, being apart
        [mm³].
    """

    triangles_mm: FloatArray
    lines: tuple[str, ...]
    corners: tuple[str, ...]
    stations_mm: tuple[float, ...]
    smooth: bool
    error_along_mm3: float
    error_around_mm3: float

    def __post_init__(self) -> None:
        """Own the triangles."""
        object.__setattr__(self, "triangles_mm", owned(self.triangles_mm, (-1, 3, 3)))

    @property
    def error_mm3(self) -> float:
        """Stated error of the volume [mm³], both parts together."""
        return self.error_along_mm3 + self.error_around_mm3


def offset_body(points: Sequence[OffsetPoint], *, smooth: bool = False) -> OffsetBody:
    """Return the closed body of a table of offsets, in mm.

    Parameters
    ----------
    points : sequence of OffsetPoint
        In the order of the file, station by station or line by line. Lines run from keel to deck
        in the order in which their names first occur, each with a point at every station; of two
        points of one line at a station, a step, the first is the forward one. Where the first or
        the last line is off the center plane, a flat strip across closes the bottom or the deck;
        a flat face closes either end.
    smooth : bool, default False
        Curves through the points, along and around, instead of straight lines between them; see
        `hullcheck.geometry.offset_lines.gridded`.

    Returns
    -------
    OffsetBody

    Raises
    ------
    InputError
        If a row makes no sense by itself or beside the others, if lines cross in a section, or if
        nothing is enclosed; it names the row.

    Notes
    -----
    The stated error is what the volume changes by when every second station is left out, and when
    every second line that is no corner is: each gap takes half the change of the pair it becomes
    part of, the mean where it is in two, whatever the sign. The ends of a body, both sides of a
    step and the corners of a section always stay. For lines whose gap to the true hull goes with
    the square of the distance between points, the whole change is three times the true error;
    with its power p, 2**p - 1 times: it is never less than the error for p ≥ 1.

    It does not see what no point shows: a bulge between two stations, a curve between two corners
    with no line between them, or along a stretch of two stations only. Those are taken as given,
    and a box or a wedge states no error. A true knuckle at a station counts as a curve, so that
    such a hull states more than its error.

    Examples
    --------
    >>> rows = [(0, "keel", 0, 0), (0, "deck edge", 30, 40), (90, "keel", 0, 0)]
    >>> rows.append((90, "deck edge", 30, 40))
    >>> body = offset_body(
    ...     [
    ...         OffsetPoint(row=n + 2, station_mm=x, line=name, half_breadth_mm=y, height_mm=z)
    ...         for n, (x, name, y, z) in enumerate(rows)
    ...     ]
    ... )
    >>> len(body.triangles_mm), body.error_mm3
    (12, 0.0)
    """
    table = table_of(points)
    refuse_crossed(table)
    grid, gaps = gridded(table, smooth=smooth)
    volumes = _by_gap(grid, gaps)
    box = np.ptp(grid.reshape(-1, 3), axis=0).max() ** 3
    if not volumes.sum() > _EMPTY * box:
        raise InputError(
            f"row {points[0].row} to row {points[-1].row}: the lines enclose no volume, "
            f"{volumes.sum():.3g} mm³; give half-breadths above 0 mm and heights that differ"
        )
    return OffsetBody(
        triangles_mm=skin(grid),
        lines=table.lines,
        corners=tuple(n for n, corner in zip(table.lines, table.corners, strict=True) if corner),
        stations_mm=tuple(table.stations_mm.tolist()),
        smooth=smooth,
        error_along_mm3=_error_along(table, volumes, smooth=smooth),
        error_around_mm3=_error_around(table, volumes, smooth=smooth),
    )


def _by_gap(grid: FloatArray, gaps: IntArray) -> FloatArray:
    """Return the volume between stations and between lines [mm³], shape (stretches, m + 1)."""
    volumes = panel_volumes(grid).sum(axis=1)
    first = np.flatnonzero(np.diff(gaps, prepend=-1))
    by_gap: FloatArray = np.add.reduceat(volumes, first, axis=1)
    return by_gap


def _volumes(table: OffsetTable, *, smooth: bool) -> FloatArray:
    """Return the volume of a table's body between stations and between lines [mm³]."""
    return _by_gap(*gridded(table, smooth=smooth))


def _error_along(table: OffsetTable, volumes: FloatArray, *, smooth: bool) -> float:
    """Return the stated error from stations being apart [mm³]."""
    every_line = np.ones(len(table.lines), dtype=bool)
    fixed = table.steps
    fixed[[0, -1]] = True

    def thinned(kept: BoolArray) -> FloatArray:
        """Return the volumes between the stations kept [mm³]."""
        total: FloatArray = _volumes(table.kept(kept, every_line), smooth=smooth).sum(axis=1)
        return total

    return _stated(volumes.sum(axis=1), fixed, thinned)


def _error_around(table: OffsetTable, volumes: FloatArray, *, smooth: bool) -> float:
    """Return the stated error from points around a section being apart [mm³]."""
    every_station = np.ones(len(table.stations_mm), dtype=bool)

    # The strips across the center plane at either end enclose nothing.
    def thinned(kept: BoolArray) -> FloatArray:
        """Return the volumes between the lines kept, by stretch between stations [mm³]."""
        return _volumes(table.kept(every_station, kept), smooth=smooth)[:, 1:-1].T

    return _stated(volumes[:, 1:-1].T, table.corners, thinned)


def _stated(
    whole: FloatArray, fixed: BoolArray, thinned: Callable[[BoolArray], FloatArray]
) -> float:
    """Return what volumes between places, along axis 0, change by when every second place goes.

    Each gap takes half the change of the pair it becomes part of, the mean where it is in two.
    """
    shares, pairs = np.zeros(whole.shape), np.zeros(len(whole))
    for kept in _thinned(fixed):
        places = np.flatnonzero(kept)
        sizes = np.diff(places)
        paired = np.repeat(sizes == 2, sizes)
        change = np.abs(np.add.reduceat(whole, places[:-1], axis=0) - thinned(kept))
        shares[paired] += 0.5 * np.repeat(change, sizes, axis=0)[paired]
        pairs += paired
    return float((shares.T / np.maximum(pairs, 1.0)).sum())


def _thinned(fixed: BoolArray) -> tuple[BoolArray, BoolArray]:
    """Return both ways to keep every second place between those that stay."""
    last_fixed = np.maximum.accumulate(np.where(fixed, np.arange(len(fixed)), 0))
    odd = (np.arange(len(fixed)) - last_fixed) % 2 == 1
    return fixed | ~odd, fixed | odd
