"""An item taken along its room, and across it: how she floats, and where everything holds."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Self

import numpy as np

from hullcheck.answers.float_records import Point
from hullcheck.answers.place_ends import interval_of
from hullcheck.answers.place_floats import Floats
from hullcheck.answers.place_records import PlaceInterval, PlaceRow
from hullcheck.answers.place_room import Room
from hullcheck.answers.place_windows import Condition, least_slack, windows

_TOLERANCE_MM: Final = 1e-6
_ACROSS_STEPS: Final = 8
_LEVEL_MM: Final = 1e-3
"""Where the limit on trim is 0°, level is the end itself, found in another way."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Scan:
    """The item taken along its room: rows, and intervals that hold."""

    floats: Floats
    room: Room
    y_mm: float
    rows: tuple[PlaceRow, ...]
    intervals: tuple[PlaceInterval, ...]

    @classmethod
    def of(cls, floats: Floats, room: Room, y_mm: float) -> Self:
        """Return the item taken along at a distance from the center plane."""
        stations = room.stations_mm(_band_ends(floats))

        def at(station: float) -> Point:
            """Return the item's place at a station."""
            return (station, y_mm, room.z_mm)

        def slacks_at(station: float) -> Mapping[Condition, float]:
            """Return the slacks with the item at a station."""
            return floats.slacks(floats.row(at(station)))

        found = windows(slacks_at, stations, tolerance=_TOLERANCE_MM)
        return cls(
            floats=floats,
            room=room,
            y_mm=y_mm,
            rows=tuple(floats.row(at(x)) for x in stations),
            intervals=tuple(interval_of(floats, one, at, 0, room.along) for one in found),
        )

    def holds(self, station_mm: float) -> bool:
        """Return whether a station lies in one of the intervals, or on an end of one."""
        return any(
            one.first.at_mm - _LEVEL_MM <= station_mm <= one.last.at_mm + _LEVEL_MM
            for one in self.intervals
        )

    @property
    def closest(self) -> PlaceRow:
        """The row that is the least short of holding."""
        return max(self.rows, key=lambda row: least_slack(self.floats.slacks(row)))

    @property
    def best(self) -> PlaceRow | None:
        """The middle of the longest interval, or the row in it that holds and is nearest to it."""
        one = max(self.intervals, key=lambda interval: interval.width_mm, default=None)
        if one is None:
            return None
        middle = 0.5 * (one.first.at_mm + one.last.at_mm)
        places = (middle, one.first.at_mm, one.last.at_mm)
        held = [
            row
            for x in (*places, *(row.x_mm for row in self.rows))
            if one.first.at_mm <= x <= one.last.at_mm
            and (row := self.floats.row((x, self.y_mm, self.room.z_mm))).holds
        ]
        return min(held, key=lambda row: abs(row.x_mm - middle), default=None)


def across(scan: Scan) -> tuple[PlaceInterval, ...]:
    """Return the intervals of y at the best station, where the box leaves room across."""
    best, room, floats = scan.best, scan.room, scan.floats
    if best is None or room.across_mm is None:
        return ()
    low, high = room.across_mm

    def at(y: float) -> Point:
        """Return the item's place at a distance from the center plane."""
        return (best.x_mm, y, best.z_mm)

    def slacks_at(y: float) -> Mapping[Condition, float]:
        """Return the slacks with the item at a distance from the center plane."""
        return floats.slacks(floats.row(at(y)))

    places = {*np.linspace(low, high, _ACROSS_STEPS + 1).tolist(), scan.y_mm}
    found = windows(slacks_at, places, tolerance=_TOLERANCE_MM)
    return tuple(interval_of(floats, one, at, 1, room.along) for one in found)


def _band_ends(floats: Floats) -> tuple[float, ...]:
    """Return the stations that put her CG on the ends of its band, in closed form [mm]."""
    if floats.band is None:
        return ()
    return tuple(floats.free.station_for(end) for end in floats.band)
