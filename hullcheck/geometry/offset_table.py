"""A table of offsets as arrays, station by line; whatever makes no sense is refused by row."""

import difflib
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.errors import InputError
from hullcheck.geometry.arrays import BoolArray, FloatArray, IntArray, owned

AHEAD, BEHIND = 0, 1
_CORNER_WORDS: Final = ("keel", "chine", "edge", "knuckle")
_STEPS_UP: Final = ("keel", "chine")
_FARTHEST_MM: Final = 1e5
"""A hundred meters: a number beyond it was typed wrong, whatever the craft."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OffsetPoint:
    """One row of a table of offsets.

    Attributes
    ----------
    row : int
        Its number in the user's file, for messages.
    station_mm : float
        x of the point, aft positive [mm].
    line : str
        Line it lies on: keel, chine, deck edge, deck center or any other name.
    half_breadth_mm : float
        Distance from the body's own center plane [mm].
    height_mm : float
        z of the point [mm].
    """

    row: int
    station_mm: float
    line: str
    half_breadth_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class OffsetTable:
    """Points of m lines at n stations, each station seen from ahead of it and from behind it.

    Attributes
    ----------
    lines : tuple of str
        Names from keel to deck, in lower case.
    stations_mm : ndarray, shape (n,)
        Rising [mm].
    points_mm : ndarray, shape (2, n, m, 2)
        Half-breadth and height [mm]; first those that the skin ahead of the station ends at, then
        those that the skin behind it starts from. They differ at a step.
    rows : ndarray of int, shape (2, n, m)
        The row each point was given in.
    """

    lines: tuple[str, ...]
    stations_mm: FloatArray
    points_mm: FloatArray
    rows: IntArray

    def __post_init__(self) -> None:
        """Own the arrays that are computed with."""
        object.__setattr__(self, "stations_mm", owned(self.stations_mm, (-1,)))
        object.__setattr__(self, "points_mm", owned(self.points_mm, (2, -1, -1, 2)))

    @property
    def steps(self) -> BoolArray:
        """Which stations have a step, shape (n,)."""
        differs: BoolArray = (self.points_mm[AHEAD] != self.points_mm[BEHIND]).any(axis=(1, 2))
        return differs

    @property
    def corners(self) -> BoolArray:
        """Which lines are corners of the section and not points of a curve, shape (m,)."""
        named = [any(word in line for word in _CORNER_WORDS) for line in self.lines]
        named[0] = named[-1] = True
        return np.array(named)

    def kept(self, stations: BoolArray, lines: BoolArray) -> "OffsetTable":
        """Return the table with only some of its stations and lines."""
        return OffsetTable(
            lines=tuple(np.array(self.lines)[lines].tolist()),
            stations_mm=self.stations_mm[stations],
            points_mm=self.points_mm[:, stations][:, :, lines],
            rows=self.rows[:, stations][:, :, lines],
        )


def table_of(points: Sequence[OffsetPoint]) -> OffsetTable:
    """Return a table of offsets from its rows, in mm.

    Parameters
    ----------
    points : sequence of OffsetPoint
        In the order of the file, station by station or line by line.

    Returns
    -------
    OffsetTable
        Lines in the order their names first occur.

    Raises
    ------
    InputError
        If a row makes no sense by itself or beside the others; it names the row.
    """
    lines: dict[str, dict[float, list[OffsetPoint]]] = {}
    for point in points:
        _check_numbers(point)
        _placed(lines.setdefault(_folded(point), {}), point)
    stations = sorted({point.station_mm for point in points})
    _refuse_too_few(points, tuple(lines), stations)
    for station in stations:
        _check_station(station, lines, ends=(stations[0], stations[-1]))
    cells = [[lines[line][station] for line in lines] for station in stations]
    # One row serves both sides of its station.
    sides = [[[cell[side] for cell in row] for row in cells] for side in (0, -1)]
    values = [[[(p.half_breadth_mm, p.height_mm) for p in r] for r in side] for side in sides]
    return OffsetTable(
        lines=tuple(lines),
        stations_mm=np.array(stations) + 0.0,
        points_mm=np.array(values) + 0.0,
        rows=np.array([[[p.row for p in r] for r in side] for side in sides]),
    )


def millimeters(value_mm: float) -> str:
    """Return a length as it was written, with its unit."""
    return f"{value_mm:.10g} mm"


def _folded(point: OffsetPoint) -> str:
    """Return the name of a point's line in lower case, underscores and runs of spaces as one."""
    name = " ".join(point.line.replace("_", " ").split()).casefold()
    if not name:
        raise InputError(
            f"row {point.row}: its line has no name; write keel, chine, deck edge, deck center or "
            "a name of your own"
        )
    return name


def _check_numbers(point: OffsetPoint) -> None:
    """Refuse a row that holds a number no hull has."""
    for what, value in (
        ("station", point.station_mm),
        ("half-breadth", point.half_breadth_mm),
        ("height", point.height_mm),
    ):
        if not math.isfinite(value):
            raise InputError(f"row {point.row}: {what} is {value}; write a number of mm")
        if abs(value) > _FARTHEST_MM:
            raise InputError(
                f"row {point.row}: {what} {millimeters(value)} is beyond {_FARTHEST_MM:.0f} mm; "
                "write it in mm"
            )
    if point.half_breadth_mm < 0.0:
        raise InputError(
            f"row {point.row}: half-breadth {millimeters(point.half_breadth_mm)} is below 0; give "
            "the distance from the center plane, both sides are made from it"
        )


def _placed(line: dict[float, list[OffsetPoint]], point: OffsetPoint) -> None:
    """Add a row to the others of its line, by station; refuse one out of order or too many."""
    name, station = _folded(point), point.station_mm
    here = line.setdefault(station, [])
    where = f"row {point.row}: {name} at station {millimeters(station)}"
    last = max(line)
    if last > station:
        raise InputError(f"{where} after {millimeters(last)}: sort the rows by station")
    if len(here) == 2:
        raise InputError(
            f"{where} for the third time, after rows {here[0].row} and {here[1].row}; a step has "
            "two, the forward one first: leave one out"
        )
    here.append(point)
    if len(here) == 2 and _values(here[0]) == _values(here[1]):
        raise InputError(
            f"{where} is the same as in row {here[0].row}; leave one out, or give both points of "
            "a step"
        )


def _values(point: OffsetPoint) -> tuple[float, float]:
    """Return half-breadth and height of a row [mm]."""
    return point.half_breadth_mm, point.height_mm


def _refuse_too_few(
    points: Sequence[OffsetPoint], lines: tuple[str, ...], stations: list[float]
) -> None:
    """Refuse a table that has no second line or no second station."""
    if not points:
        raise InputError("there are no offsets; give at least 2 lines at 2 stations")
    rows = f"row {points[0].row} to row {points[-1].row}"
    if len(lines) < 2:
        raise InputError(
            f"{rows}: the only line is {lines[0]}; a body needs at least 2, from keel to deck"
        )
    if len(stations) < 2:
        raise InputError(
            f"{rows}: all are at station {millimeters(stations[0])}; a body needs at least 2 "
            "stations"
        )


def _refuse_rare(name: str, lines: dict[str, dict[float, list[OffsetPoint]]]) -> None:
    """Refuse a line that occurs at a few stations only: its name is more likely a slip."""
    most = max(len(line) for line in lines.values())
    if 2 * len(lines[name]) >= most:
        return
    rows = [point.row for points in lines[name].values() for point in points]
    others = [other for other in lines if other != name]
    close = difflib.get_close_matches(name, others, n=1)
    hint = f"did you mean {close[0]}?" if close else f"the other lines are {', '.join(others)}"
    raise InputError(
        f"row {rows[0]}: the line {name} occurs at {len(lines[name])} of {most} stations; {hint} "
        "Every line needs a point at every station"
    )


def _check_station(
    station: float, lines: dict[str, dict[float, list[OffsetPoint]]], *, ends: tuple[float, float]
) -> None:
    """Refuse a station where a line is missing or where a step makes no sense."""
    there = sorted(p.row for line in lines.values() for p in line.get(station, []))
    for name, line in lines.items():
        rows = line.get(station)
        if rows is None:
            _refuse_rare(name, lines)
            given = "in the only row" if len(there) == 1 else f"in its {len(there)} rows"
            raise InputError(
                f"row {there[0]}: station {millimeters(station)} has no {name} {given}; every line "
                "needs a point at every station (at a pointed bow lines may share one point)"
            )
        if len(rows) == 1:
            continue
        fore, after = rows
        if station in ends:
            end = "first" if station == ends[0] else "last"
            raise InputError(
                f"row {after.row}: a second {name} at station {millimeters(station)}, the {end} "
                f"of all; a step has skin on both sides: leave out row {fore.row} or {after.row}"
            )
        if name in _STEPS_UP and fore.height_mm > after.height_mm:
            raise InputError(
                f"row {fore.row}: the forward {name} at station {millimeters(station)} (height "
                f"{millimeters(fore.height_mm)}) is higher than the one behind it "
                f"({millimeters(after.height_mm)}, row {after.row}); a step goes up aft, and of "
                f"two rows the first is the forward one: swap rows {fore.row} and {after.row}"
            )
