"""Phrases that text and drawings share: sides in words, never a bare sign."""

import re
from typing import Final

from hullcheck.report.display import shown
from hullcheck.report.numbers import (
    angle_text,
    arm_text,
    depth_text,
    height_text,
    plus_minus_text,
    station_text,
)
from hullcheck.water import Water

LEAST_ANGLE_DEG: Final = 0.05
"""Below this an angle is printed as level."""
STATE_UNKNOWN: Final = "state not stated"

_MADE_UP: Final = re.compile(
    r"(?P<what>opening|top of the hull) at station (?P<station>-?\d+)"
    r"(?P<where>(?: to (?:port|starboard))?(?: of [^,]+)?(?: \(\d+\))?)"
    r"(?:, (?P<long>\d+) × (?P<wide>\d+) mm)?"
)
"""A name that was made from a place, not given."""


def capital(words: str) -> str:
    """Return words with a capital first letter."""
    return words[:1].upper() + words[1:]


def trim_words(trim_deg: float) -> str:
    """Return a trim in words: "0.5° bow up", "level fore and aft"."""
    if abs(trim_deg) < LEAST_ANGLE_DEG:
        return "level fore and aft"
    return f"{angle_text(abs(trim_deg))} bow {'up' if trim_deg > 0.0 else 'down'}"


def heel_words(heel_deg: float) -> str:
    """Return a heel in words: "1.3° to starboard", "level across"."""
    if abs(heel_deg) < LEAST_ANGLE_DEG:
        return "level across"
    return f"{angle_text(abs(heel_deg))} to {'starboard' if heel_deg > 0.0 else 'port'}"


def water_words(water: Water) -> str:
    """Return the water in words: kind and temperature, or the density that was given."""
    if water.temperature_c is None:
        return f"water of {water.density_kg_m3:g} kg/m³"
    return f"{water.kind} water, {water.temperature_c:g} °C"


def height_words(height_mm: float, plus_minus_mm: float | None = None) -> str:
    """Return a height in words: "24 ± 1 mm above the water", "3 mm under water"."""
    text, where = height_text(height_mm), "above the water"
    if height_mm < 0.0:
        text, where = depth_text(-height_mm), "under water"
    if plus_minus_mm is not None:
        text = plus_minus_text(text, plus_minus_mm)
    return f"{text} {where}"


def is_unnamed(name: str) -> bool:
    """Return whether an opening's name was made from its place, as it was given none."""
    made = _MADE_UP.fullmatch(name)
    return made is not None and made["what"] == "opening"


def shown_name(name: str, *, size: bool = True) -> str:
    """Return a name as it is printed: one made from a place has that in the units shown.

    Parameters
    ----------
    name : str
        Of an opening or a point of the hull.
    size : bool, default True
        Whether an unnamed opening's size is said too.

    Examples
    --------
    >>> shown_name("top of the hull at station -0"), shown_name("canopy edge")
    ('top of the hull at station 0', 'canopy edge')
    >>> shown_name("opening at station 250, 140 × 52 mm", size=False)
    'opening at station 250'
    """
    made = _MADE_UP.fullmatch(name)
    if made is None:
        return " ".join(name.split())
    place = f"{made['what']} at station {station_text(float(made['station']))}{made['where']}"
    if made["long"] is None or not size:
        return place
    long = arm_text(float(made["long"])).partition(" ")[0]
    return f"{place}, {long} × {arm_text(float(made['wide']))}"


def state_words(state: str | None) -> str:
    """Return the state of an opening in words: "taped", "state not stated"."""
    return STATE_UNKNOWN if state is None else state


def stations_words() -> str:
    """Return what a station is, in a sentence."""
    return f"Stations are {shown().length} aft of the datum."
