"""The stations a waterline is marked at: an even row, and what the builder finds on the hull."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.craft.bodies import FREEBOARD_ROLES, Body
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.craft.seam_lines import seam_lines
from hullcheck.errors import InputError
from hullcheck.geometry.step import find_step

EVERY_MM: Final = 50.0
"""How far apart the even row is, unless asked for otherwise."""
MOST: Final = 400
"""So many stations a body are marked at most."""
_NEAR_MM: Final = 5.0
"""A station of the even row nearer than this to a seam, a mark, the step or a bulkhead is left
out."""
_SAME_MM: Final = 0.05
"""Named places within this are at one station."""
_ACROSS_MM: Final = 0.5
_OFF_MM: Final = 5.0
"""A mark within this of the box round a body is on it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """One station [mm], what is there, and whether it is the step, where just ahead is meant."""

    station_mm: float
    at: tuple[str, ...] = ()
    is_step: bool = False


def asked_stations(asked_mm: Iterable[float], body: Body) -> tuple[Station, ...]:
    """Return the stations that are asked for, those beyond the body left out, from the bow."""
    low, high = float(body.shell.low_mm[0]), float(body.shell.high_mm[0])
    inside = sorted({value for value in asked_mm if low <= value <= high})
    return tuple(Station(station_mm=value) for value in inside)


def refuse_outside(asked_mm: tuple[float, ...], bodies: tuple[Body, ...]) -> None:
    """Refuse a station that is no number, or that no body reaches; InputError."""
    spans = [(float(b.shell.low_mm[0]), float(b.shell.high_mm[0])) for b in bodies]
    low, high = min(a for a, _ in spans), max(b for _, b in spans)
    for value in asked_mm:
        if not math.isfinite(value) or not any(a <= value <= b for a, b in spans):
            raise InputError(
                f"--stations: {value:g} mm does not meet what is in the water, which lies between "
                f"stations {low:.0f} and {high:.0f}"
            )


def refuse_without_section(
    asked_mm: tuple[float, ...], found_mm: Iterable[float], bodies: tuple[Body, ...]
) -> None:
    """Refuse a station at which none of the bodies has a section, such as her very end; InputError.

    Parameters
    ----------
    asked_mm : tuple of float
        Which are asked for [mm].
    found_mm : iterable of float
        Those of them that have a section [mm].
    bodies : tuple of Body
        That are in the water.
    """
    without = sorted(set(asked_mm) - set(found_mm))
    if not without:
        return
    names = ", ".join(f"{value:g}" for value in without)
    low = min(float(body.shell.low_mm[0]) for body in bodies)
    high = max(float(body.shell.high_mm[0]) for body in bodies)
    raise InputError(
        f"--stations: {names} mm: she has no section there; ask for stations between "
        f"{low:.6g} and {high:.6g}, those two left out"
    )


def stations_of(
    build: Build, craft: Craft, body: Body, ends_mm: tuple[float, float], every_mm: float
) -> tuple[Station, ...]:
    """Return the stations a body is marked at, from the bow.

    Parameters
    ----------
    build : Build
        For its bulkheads.
    craft : Craft
        For seams and marks.
    body : Body
        Which is marked.
    ends_mm : tuple of float
        Foremost and aftmost station of its waterline [mm].
    every_mm : float
        How far apart the even row is [mm].

    Raises
    ------
    InputError
        If that is not above 0, or makes more than 400 stations.
    """
    fore, aft = ends_mm
    if not every_mm > 0.0 or not math.isfinite(every_mm) or (aft - fore) / every_mm > MOST:
        raise InputError(
            f"--every: {every_mm:g} mm on a waterline {aft - fore:.0f} mm long; it must be above "
            f"{(aft - fore) / MOST:.3g} mm"
        )
    named = _joined(_named(build, craft, body, ends_mm))
    first, last = math.floor(fore / every_mm) + 1, math.ceil(aft / every_mm) - 1
    row = [every_mm * count for count in range(first, last + 1)]
    free = [
        Station(station_mm=value)
        for value in row
        if all(abs(value - one.station_mm) >= _NEAR_MM for one in named)
    ]
    return tuple(sorted((*named, *free), key=lambda one: one.station_mm))


def _named(
    build: Build, craft: Craft, body: Body, ends_mm: tuple[float, float]
) -> list[Station]:  # fmt: skip
    """Return the step, seams, bulkheads and marks between the ends of the waterline."""
    found = []
    step = find_step(body.shell.triangles_mm) if body.role in FREEBOARD_ROLES else None
    if step is not None:
        found.append(Station(station_mm=step.station_mm, at=("step",), is_step=True))
    for seam in seam_lines(craft):
        along = seam.points_mm[:, 0]
        if not seam.is_opening and seam.body == body.name and np.ptp(along) < _ACROSS_MM:
            found.append(Station(station_mm=float(along.mean()), at=(seam.name,)))
    structure = build.structures.get(body.name)
    found += [
        Station(station_mm=bulkhead.station_mm, at=("bulkhead",))
        for bulkhead in (() if structure is None else structure.bulkheads)
    ]
    low, high = body.shell.low_mm - _OFF_MM, body.shell.high_mm + _OFF_MM
    for mark in craft.fittings.marks:
        x, y, z = mark.point_mm
        twins = [np.array((x, side, z)) for side in {y, -y if y > 0.0 else y}]
        if any(bool(((low <= at) & (at <= high)).all()) for at in twins):
            found.append(Station(station_mm=x, at=(f"mark {mark.name}",)))
    return [one for one in found if ends_mm[0] < one.station_mm < ends_mm[1]]


def _joined(stations: list[Station]) -> list[Station]:
    """Return stations in order, those at one place as one."""
    joined: list[Station] = []
    for one in sorted(stations, key=lambda station: station.station_mm):
        if joined and one.station_mm - joined[-1].station_mm <= _SAME_MM:
            last = joined.pop()
            both = (last, one) if not one.is_step else (one, last)
            one = Station(  # noqa: PLW2901 - the two together take the place of both
                station_mm=both[0].station_mm,
                at=tuple(dict.fromkeys((*last.at, *one.at))),
                is_step=last.is_step or one.is_step,
            )
        joined.append(one)
    return joined
