"""Words about a sweep that text and drawings share: its values, its ends, what breaks there."""

import math
from types import MappingProxyType
from typing import Final

from hullcheck.answers.sweep_records import KeptRange, SweepAnswer, SweepEnd, SweepRow
from hullcheck.report.display import G_PER, MM_PER, shown
from hullcheck.report.float_titles import the, verb
from hullcheck.report.numbers import MINUS, given_length_text, station_text
from hullcheck.report.words import shown_name

_STEPS: Final = MappingProxyType(
    {"g": 1.0, "oz": 0.1, "lb": 0.01, "kg": 0.001, "mm": 1.0, "cm": 0.1, "in": 0.05}
)
_DENSITY_STEP: Final = 0.1
_MOST_GRAMS: Final = 9_999.5
_NOISE: Final = 1e-6


def unit_of(answer: SweepAnswer) -> str:
    """Return the unit its values are shown in; from 10 kg on masses in g are in kg."""
    if answer.over == "water":
        return "kg/m³"
    if answer.over == "mass" and shown().mass == "g" and answer.rows[-1].value >= _MOST_GRAMS:
        return "kg"
    return shown().mass if answer.over == "mass" else shown().length


def in_unit(answer: SweepAnswer, value: float) -> float:
    """Return a value of the sweep in the unit shown."""
    return value / {**G_PER, **MM_PER}.get(unit_of(answer), 1.0)


def number_text(
    answer: SweepAnswer,
    value: float,
    plus_minus: float | None = None,
    *,
    rounds: str = "nearest",
    fine: bool = False,
) -> str:
    """Return a value of the sweep without its unit, no finer than it is known.

    Parameters
    ----------
    answer : SweepAnswer
        Whose value it is.
    value : float
        In the unit of the sweep.
    plus_minus : float, optional
        How well it is known, in that unit.
    rounds : {"nearest", "down", "up"}
        An end is rounded to the side that holds: down where it is the greatest, up where the least.
    fine : bool, default False
        Ten times as fine where the value is short.
    """
    unit = unit_of(answer)
    step = _STEPS.get(unit, _DENSITY_STEP)
    factor = {**G_PER, **MM_PER}.get(unit, 1.0)
    if plus_minus:
        step = max(step, 10.0 ** math.floor(math.log10(plus_minus / factor)))
    if fine and abs(value / factor) < 10.0 * step:
        step *= 0.1
    if answer.over == "mass" and 0.0 < value / factor < 10.0 * step:
        step = 10.0 ** (math.floor(math.log10(value / factor)) - 1)
    if unit == "kg" and value / factor >= 10.0:
        step = max(step, 10.0 ** (math.floor(math.log10(value / factor)) - 2))
    steps = value / factor / step
    count = {
        "down": math.floor(steps + _NOISE),
        "up": math.ceil(steps - _NOISE),
        "nearest": math.floor(steps + 0.5),
    }[rounds]
    return signed(round(count * step, 9))


def signed(value: float) -> str:
    """Return a number without idle decimals, with a true minus."""
    return f"{value + 0.0:.10g}".replace("-", MINUS)


def place_text(answer: SweepAnswer, number: str) -> str:
    """Return a value's number with what it is: "1240 g", "station 142", "8 mm to port"."""
    if answer.axis == "x":
        return f"station {number}"
    if answer.axis == "y":
        side = "port" if number.startswith(MINUS) else "starboard"
        bare = number.removeprefix(MINUS)
        return "the center plane" if bare == "0" else f"{bare} {unit_of(answer)} to {side}"
    return f"z {number}" if answer.axis == "z" else f"{number} {unit_of(answer)}"


def end_text(answer: SweepAnswer, end: SweepEnd, *, greatest: bool) -> str:
    """Return an end as text, rounded to the side that holds: "1240 g", "station 152"."""
    number = number_text(answer, end.value, end.plus_minus, rounds="down" if greatest else "up")
    return place_text(answer, number)


def end_plus_minus(answer: SweepAnswer, end: SweepEnd) -> str:
    """Return how well an end is known as text: "± 60 g"; "" where that is not known."""
    if not end.plus_minus:
        return ""
    about = in_unit(answer, end.plus_minus)
    size = 10.0 ** math.floor(math.log10(about))
    return f"± {signed(round(about / size) * size)} {unit_of(answer)}"


def span_text(answer: SweepAnswer, kept: KeptRange) -> str:
    """Return a range in words: "from 560 to 1240 g", "from station 105 to 152"."""
    low, high = _bounds(answer, kept)
    if answer.axis == "y":
        return f"from {place_text(answer, low)} to {place_text(answer, high)}"
    if answer.over == "item":
        return f"from {place_text(answer, low)} to {high}"
    return f"from {low} to {high} {unit_of(answer)}"


def whole_span_text(answer: SweepAnswer) -> str:
    """Return the range that is swept in words."""
    rows = answer.rows
    return span_text(
        answer,
        KeptRange(least=rows[0].value, most=rows[-1].value, least_end=None, most_end=None),
    )


def end_words(answer: SweepAnswer, end: SweepEnd) -> str:
    """Return what breaks past an end: "the pushrod exit comes under 15 mm"."""
    return breaks_words(answer.rows[0], end.limit, end.at)


def breaks_words(row: SweepRow, kind: str, at: str | None, *, now: bool = False) -> str:
    """Return what breaks a limit in words, as it comes to it or as it is now."""
    limit = next((check.limit for check in row.limits if check.name == kind), None)
    if kind == "freeboard_mm" and isinstance(limit, float):
        name = shown_name(at or "lowest edge", size=False)
        does = verb(name, "is", "are") if now else verb(name, "comes", "come")
        return f"{the(name)} {does} under {given_length_text(limit)}"
    if isinstance(limit, tuple) and kind == "trim_deg":
        over = at == "bow up"
        goes = "is" if now else "goes"
        return f"her trim {goes} {'over' if over else 'under'} {signed(limit[over])}°, {at}"
    if isinstance(limit, tuple):
        goes = "is" if now else "goes"
        return f"her CG {goes} {at} of {station_text(limit[at == 'aft'])}"
    if kind == "heel_deg" and isinstance(limit, float):
        return f"she {'lists' if now else 'comes to list'} more than {limit:g}° {at}"
    return "she capsizes" if kind == "capsizes" else "she sinks"


def beyond_label(answer: SweepAnswer, end: SweepEnd, *, greatest: bool) -> str:
    """Return where an end lies as a label: "Over 1240 g", "Ahead of 105", "Aft of 152"."""
    number = number_text(answer, end.value, end.plus_minus, rounds="down" if greatest else "up")
    if answer.axis == "x":
        return f"{'Aft' if greatest else 'Ahead'} of {number}"
    if answer.axis == "y":
        return f"From {place_text(answer, number)}"
    if answer.axis == "z":
        return f"{'Over' if greatest else 'Under'} z {number}"
    return f"{'Over' if greatest else 'Under'} {number} {unit_of(answer)}"


def rest_places(answer: SweepAnswer) -> list[tuple[str, str]]:
    """Return from where on she rests otherwise, as printed, and how; the last of one place."""
    found: dict[str, str] = {}
    for change in answer.rest_changes:
        if change.after != "sinks":
            number = number_text(answer, change.value, fine=True)
            found[place_text(answer, number)] = change.after
    return list(found.items())


def today_kept(answer: SweepAnswer) -> KeptRange | None:
    """Return the range that holds today, else the only one there is, else None."""
    today = None if answer.today is None else answer.today.value
    if today is not None:
        found = next((k for k in answer.kept if k.least <= today <= k.most), None)
        if found is not None:
            return found
    return answer.kept[0] if len(answer.kept) == 1 else None


def _bounds(answer: SweepAnswer, kept: KeptRange) -> tuple[str, str]:
    """Return both ends of a range as numbers, each rounded to the side that holds."""
    low, high = kept.least_end, kept.most_end
    least, most = (
        number_text(answer, value)
        if end is None
        else number_text(answer, value, end.plus_minus, rounds=way)
        for value, end, way in ((kept.least, low, "up"), (kept.most, high, "down"))
    )
    return least, most
