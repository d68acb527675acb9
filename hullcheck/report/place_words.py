"""What is said of where an item may sit, in text and drawing alike."""

import math
from types import MappingProxyType
from typing import Final

from hullcheck.answers.place_records import (
    BallastCost,
    PlaceAnswer,
    PlaceEnd,
    PlaceInterval,
    PlaceRow,
)
from hullcheck.report import table_values
from hullcheck.report.display import MM_PER, shown
from hullcheck.report.numbers import (
    MINUS,
    arm_text,
    depth_text,
    given_length_text,
    height_text,
    mass_text,
    plus_minus_text,
    station_text,
)
from hullcheck.report.words import capital, shown_name, trim_words

TITLE_LENGTH: Final = 62
_STEPS: Final = MappingProxyType({"mm": 1.0, "cm": 0.1, "in": 0.02})
_MASS_STEPS: Final = MappingProxyType({"g": 1.0, "oz": 0.1, "lb": 0.01, "kg": 0.001})
_NARROW: Final = 2.0
"""Steps under which an interval's ends are printed finer."""
_NOISE: Final = 1e-9


def title(answer: PlaceAnswer) -> str:
    """Return the finding, at most 62 characters."""
    name, one = capital(_short(answer.item)), answer.longest
    if answer.short_by_g is not None:
        return f"Sinks: {mass_text(answer.short_by_g)} too heavy"
    if one is not None:
        return _fitted(
            f"{name} may sit from station {' to '.join(ends_text(one))}",
            f"It may sit from station {' to '.join(ends_text(one))}",
        )
    if answer.ballast is None:
        return _fitted(f"No place for {answer.item}, and no ballast mends it", "No place for it")
    grams = at_least_text(answer.ballast.mass_g)
    where = ballast_place(answer.ballast)
    return _fitted(f"{name} needs {grams} of ballast {where}", f"Needs {grams} {where}")


def _short(name: str) -> str:
    """Return a name, shortened."""
    flat = " ".join(name.split())
    return flat if len(flat) <= 28 else f"{flat[:27].rstrip()}…"


def _fitted(*texts: str) -> str:
    """Return the first text that is short enough for a title, or the last one."""
    return next((text for text in texts if len(text) <= TITLE_LENGTH), texts[-1][:TITLE_LENGTH])


def ends_text(interval: PlaceInterval) -> tuple[str, str]:
    """Return the ends of an interval, each rounded into it, so that what is printed holds."""
    unit = shown().length
    step = _STEPS[unit]
    if interval.width_mm < _NARROW * step * MM_PER[unit]:
        step /= 10.0
    low, high = (shown().length_of(end.at_mm) for end in (interval.first, interval.last))
    one = math.ceil(low / step - _NOISE) * step
    two = math.floor(high / step + _NOISE) * step
    if one > two:
        # Narrower than any round number: as near as can be printed.
        one, two, step = low, high, step / 10.0
    decimals = max(0, math.ceil(-math.log10(step) - _NOISE))
    first, last = (_trimmed(table_values.number(value, decimals)) for value in (one, two))
    return first, last


def _trimmed(number: str) -> str:
    """Return a number without idle decimals."""
    return number.rstrip("0").rstrip(".") if "." in number else number


def best_text(answer: PlaceAnswer) -> str:
    """Return the best station, as fine as the ends of its interval."""
    best, longest = answer.best, answer.longest
    if best is None or longest is None:
        return ""
    if longest.width_mm < _NARROW * _STEPS[shown().length] * MM_PER[shown().length]:
        return table_values.number(shown().length_of(best.x_mm), 2)
    return station_text(best.x_mm)


def with_plus_minus(station: str, end: PlaceEnd) -> str:
    """Return a station with how well it is known: "152 ± 5"."""
    if end.plus_minus_mm is None:
        return station
    return plus_minus_text(f"{station} {shown().length}", end.plus_minus_mm).rpartition(" ")[0]


def end_words(end: PlaceEnd) -> str:
    """Return what ends an interval: "CG at 258, the aft end of its band"."""
    box = {
        "fore": "the fore end of its box (within_mm)",
        "aft": "the aft end of its box (within_mm)",
        "port": "the port side of its box (within_mm)",
        "starboard": "the starboard side of its box (within_mm)",
    }
    if end.limited_by == "within_mm":
        return box[end.way]
    if end.limited_by == "hull":
        return f"the {'bow' if end.way == 'fore' else 'stern'}, where the hull ends"
    return kept_words(end.limited_by, end.way, end.limit)


def kept_words(name: str, way: str, limit: float | None) -> str:
    """Return a condition that is kept with nothing to spare."""
    if name == "cg_range_mm" and limit is not None:
        return f"CG at {_given_station(limit)}, the {way} end of its band"
    if name == "trim_deg" and limit is not None:
        return f"trim at its limit, {_degrees(limit)}{'' if limit == 0.0 else f' {_side(limit)}'}"
    if name == "heel_deg" and limit is not None:
        return f"list at its limit, {_degrees(limit)} to {way}"
    if name == "freeboard_mm" and limit is not None:
        return f"{point_words(way)} down to {given_length_text(limit)}"
    return {"capsizes": "beyond it she falls over", "sinks": "she floats by nothing"}[name]


def _side(trim_deg: float) -> str:
    """Return which way a trim is."""
    return "bow up" if trim_deg > 0.0 else "bow down"


def _degrees(limit_deg: float) -> str:
    """Return a limit in degrees, without its sign."""
    return f"{abs(limit_deg):g}°"


def _given_station(station_mm: float) -> str:
    """Return a station as it was given, without its unit."""
    return given_length_text(station_mm).rpartition(" ")[0]


def band_words(band: tuple[float, float]) -> str:
    """Return the band of the CG: "246 to 258"."""
    return " to ".join(_given_station(end) for end in band)


def row_words(row: PlaceRow) -> str:
    """Return how she floats with the item at a place: CG, trim, heel, freeboard."""
    said = [f"CG at {station_text(row.cg_x_mm)}"]
    if row.rest == "sinks":
        return f"{said[0]}, she sinks"
    if row.rest == "capsized":
        return f"{said[0]}, she falls over"
    if row.trim_deg is not None:
        said.append(trim_words(row.trim_deg))
    if row.heel_deg is not None and abs(row.heel_deg) >= 0.05:
        side = "starboard" if row.heel_deg > 0.0 else "port"
        said.append(f"{table_values.number(abs(row.heel_deg))}° to {side}")
    height = freeboard_words(row)
    return ", ".join([*said, height] if height else said)


def point_words(name: str) -> str:
    """Return the name of a point that freeboard is read off, short."""
    return shown_name(name, size=False).replace("top of the hull at", "hull top,")


def freeboard_words(row: PlaceRow) -> str:
    """Return the freeboard with where it is read: "26 mm at the pushrod exit"."""
    if row.freeboard_mm is None:
        return ""
    at = "" if row.freeboard_at is None else point_words(row.freeboard_at)
    if row.freeboard_mm < 0.0:
        return f"{at or 'deck'} {depth_text(-row.freeboard_mm)} under water"
    return f"{height_text(row.freeboard_mm)} dry{f' at {at}' if at else ''}"


def broken_words(row: PlaceRow, answer: PlaceAnswer) -> str:
    """Return what does not hold with the item at a place, in brief; "holds" where all does."""
    band, limits = answer.cg_range_mm, {check.name: check.limit for check in answer.limits}
    said = []
    for name in row.breaks:
        limit = limits.get(name)
        if name == "cg_range_mm" and band is not None:
            off, way = (band[0] - row.cg_x_mm, "ahead of")
            if row.cg_x_mm > band[1]:
                off, way = row.cg_x_mm - band[1], "aft of"
            said.append(f"CG {arm_text(off)} {way} its band")
        elif name == "trim_deg" and isinstance(limit, tuple):
            low, high = (f"{value:g}".replace("-", MINUS) for value in limit)
            said.append(f"trim outside {low} to {high}°")
        elif name == "heel_deg" and limit is not None and not isinstance(limit, tuple):
            said.append(f"list over {limit:g}°")
        elif name == "freeboard_mm" and limit is not None and not isinstance(limit, tuple):
            said.append(f"freeboard under {given_length_text(limit)}")
        else:
            said.append({"sinks": "sinks", "capsizes": "falls over"}.get(name, name))
    return ", ".join(said) or "holds"


def ballast_place(ballast: BallastCost) -> str:
    """Return where ballast goes: "in the nose"."""
    if ballast.place == "given":
        return f"at station {station_text(ballast.center_mm[0])}"
    return f"in the {ballast.place}"


def at_least_text(mass_g: float) -> str:
    """Return a mass rounded up, so that what is printed is enough.

    Examples
    --------
    >>> at_least_text(34.09), at_least_text(3.02), at_least_text(35.0)
    ('35 g', '3.1 g', '35 g')
    """
    unit = shown().mass
    value, step = shown().mass_of(mass_g), _MASS_STEPS[unit]
    if value < 9.95 * step:
        step /= 10.0
    decimals = max(0, math.ceil(-math.log10(step) - _NOISE))
    count = math.ceil(value / step - _NOISE)
    return f"{_trimmed(table_values.number(count * step, decimals))} {unit}"
