"""Intervals of places with what ends them and how well each end is known."""

import math
from collections.abc import Callable

import numpy as np

from hullcheck.answers.float_records import Point
from hullcheck.answers.place_floats import Floats
from hullcheck.answers.place_records import PlaceEnd, PlaceInterval
from hullcheck.answers.place_windows import Condition, Window
from hullcheck.answers.uncertainty import (
    READING_MM,
    response_of,
    spread_of,
    station_plus_minus_mm,
)
from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import Floating

_FLAT: float = 1e-9
"""Change of a limit's value for each mm under which an end is not known at all."""


def interval_of(
    floats: Floats, window: Window, at: Callable[[float], Point], axis: int, beyond: str
) -> PlaceInterval:
    """Return a window of places as an interval with its ends described.

    Parameters
    ----------
    floats : Floats
        Her, with the item free.
    window : Window
        Along one axis.
    at : callable
        The item's place for a value of the window's variable.
    axis : int
        0 along, 1 across.
    beyond : str
        What ends the places that were looked at: "within_mm" or "hull".
    """
    return PlaceInterval(
        first=_end(floats, at(window.first), axis, window.before, (beyond, 0)),
        last=_end(floats, at(window.last), axis, window.after, (beyond, 1)),
    )


def limit_of(floats: Floats, condition: Condition) -> float | None:
    """Return the value a condition is held against: a station, degrees, mm; None where none is."""
    name, way = condition
    limits = floats.free.craft.limits
    if name == "cg_range_mm" and floats.band is not None:
        return floats.band[way == "aft"]
    if name == "trim_deg" and limits.trim_deg is not None:
        return limits.trim_deg[way == "bow up"]
    return (
        limits.heel_deg if name == "heel_deg" else limits.freeboard_mm if name[0] == "f" else None
    )


def _end(
    floats: Floats, place: Point, axis: int, condition: Condition | None, beyond: tuple[str, int]
) -> PlaceEnd:
    """Return an end of an interval."""
    row = floats.row(place)
    if condition is None:
        ways = (("fore", "aft"), ("port", "starboard"))[axis]
        name, way, limit, about = beyond[0], ways[beyond[1]], None, None
    else:
        name, way = condition
        way = (row.freeboard_at or "") if name == "freeboard_mm" else way
        limit, about = limit_of(floats, condition), _plus_minus_mm(floats, place, axis, name)
    return PlaceEnd(
        at_mm=place[axis],
        cg_x_mm=row.cg_x_mm,
        cg_y_mm=row.cg_y_mm,
        limited_by=name,
        way=way,
        limit=limit,
        plus_minus_mm=about,
    )


def _plus_minus_mm(floats: Floats, place: Point, axis: int, name: str) -> float | None:
    """Return how well an end is known [mm]: the limit's own uncertainty over its change per mm."""
    craft = floats.free.craft_with(place)
    if name == "cg_range_mm":
        return station_plus_minus_mm(craft) / floats.free.share or None
    if name not in {"freeboard_mm", "trim_deg", "heel_deg"}:
        return None

    def value(floating: Floating) -> float:
        """Return what the limit is on."""
        if name == "freeboard_mm":
            return floats.refloater.height_mm(floating)
        return floating.trim_deg if name == "trim_deg" else floating.heel_deg

    response = response_of(craft, value, craft.mass_g)
    if response is None:
        return None
    slope = abs(float(response.per_mm[axis])) * floats.free.share
    reading = READING_MM if name == "freeboard_mm" else 0.0
    about = math.hypot(reading, spread_of(craft, response))
    return None if slope < _FLAT or about == 0.0 else about / slope


def inside_skin(craft: Craft, points: tuple[Point, ...]) -> bool:
    """Return whether every point lies inside the outer skin of one of her bodies."""
    from hullcheck.geometry.shells import winding_inside

    left = np.array(points, dtype=np.float64)
    for body in craft.bodies:
        shell = body.shell
        boxed = ((left > shell.low_mm) & (left < shell.high_mm)).all(axis=1)
        inside = np.zeros(len(left), dtype=bool)
        inside[boxed] = winding_inside(shell.triangles_mm, left[boxed])
        left = left[~inside]
        if len(left) == 0:
            return True
    return False
