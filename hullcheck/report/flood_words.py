"""Phrases of water inside that text, table and drawing share."""

import math
from typing import Final

from hullcheck.answers.flood_records import FloodAnswer, FloodedState, NoseUp, WaterCase
from hullcheck.answers.time_afloat_records import LimitBreak, TimeAfloat
from hullcheck.report.display import shown
from hullcheck.report.numbers import (
    angle_text,
    arm_text,
    given_length_text,
    height_text,
    mass_text,
    station_text,
)
from hullcheck.report.words import shown_name

ROUND_MIN: Final = (
    1, 2, 3, 5, 7, 10, 15, 20, 25, 30, 40, 50, 60, 75, 90, 120, 150, 180, 240, 300, 360, 480, 600,
    720, 960, 1200, 1440,
)  # fmt: skip
"""Round figures that times are rounded to [min]."""
DAY_MIN: Final = 1440.0
_SAME_SHARE: Final = 0.02
"""Two ends of a range closer than that are one time."""
_HOUR_MIN: Final = 60
_HOURS_FROM: Final = 120


def minutes_text(minutes: float) -> str:
    """Return a time afloat in a round figure, never more than it is.

    Examples
    --------
    >>> minutes_text(34.2), minutes_text(182.5), minutes_text(0.4), minutes_text(4000.0)
    ('30 min', '3 h', 'under 1 min', 'more than 24 h')
    """
    if minutes >= DAY_MIN:
        return "more than 24 h"
    kept = [one for one in ROUND_MIN if one <= minutes * (1.0 + 1e-9)]
    if not kept:
        return "under 1 min"
    if kept[-1] < _HOURS_FROM:
        return f"{kept[-1]} min"
    return f"{kept[-1] / _HOUR_MIN:g} h"


def _rounded_up(minutes: float) -> str:
    """Return a time in a round figure, never less than it is."""
    kept = [one for one in ROUND_MIN if one >= minutes * (1.0 - 1e-9)]
    return minutes_text(float(kept[0])) if kept and kept[0] < DAY_MIN else minutes_text(DAY_MIN)


def range_text(found: TimeAfloat) -> str:
    """Return the range of times afloat in round figures: "20 to 30 min", "at least 45 min"."""
    if found.low_min is None:
        return "more than 24 h"
    low = minutes_text(found.low_min)
    if found.at_least:
        return low if low.startswith("more") else f"at least {low}"
    if found.high_min is None:
        return f"{low} or more" if low[0].isdecimal() else low
    # One time is rounded down; of a range the far end is rounded up, so that it holds both.
    one = found.high_min <= found.low_min * (1.0 + _SAME_SHARE)
    high = low if one else _rounded_up(found.high_min)
    if high == low:
        return low if " than " in low or low.startswith("under") else f"about {low}"
    return _span(low, high)


def _span(low: str, high: str) -> str:
    """Return two times as one range, the unit said once where they share it."""
    if high.startswith("more"):
        return f"{low} to more than a day"
    if low.startswith("under"):
        return f"up to {high}"
    number, unit = low.split(" ")
    return f"{number} to {high}" if high.endswith(unit) else f"{low} to {high}"


def break_words(limit: str | None, at: str | None, answer: FloodAnswer) -> str:
    """Return what happens where a limit breaks, as a clause: "the battery gets wet"."""
    if limit is None:
        return "the water inside levels out"
    place = "" if at is None else shown_name(at, size=False)
    if limit == "freeboard_mm":
        least = _limit_of(answer, "freeboard_mm")
        under = "" if least is None else f" under {given_length_text(least)}"
        return f"the {place} comes{under}" if under else f"the {place} comes too low"
    if limit == "trim_deg":
        return f"she trims past her limit, {place}"
    if limit == "heel_deg":
        return f"she heels past her limit, {place}"
    return {
        "equipment_wet": f"the {place} gets wet",
        "opening_under": f"the {place} goes under",
        "capsizes": "she falls over",
        "sinks": "she sinks",
    }[limit]


def later_break(found: TimeAfloat) -> LimitBreak | None:
    """Return the first limit that holds as she floats and breaks later."""
    return next((one for one in found.leaks[0].breaks if one.water_g > 0.0), None)


def _limit_of(answer: FloodAnswer, name: str) -> float | None:
    """Return a limit of the sheet with one end."""
    found = next((one.limit for one in answer.state.limits if one.name == name), None)
    return found if isinstance(found, float) else None


def band_words(answer: FloodAnswer) -> str:
    """Return the band of the CG: "246 to 258"."""
    if answer.cg_range_mm is None:
        return "not given"
    return " to ".join(station_text(end) for end in answer.cg_range_mm)


def behind_words(behind_mm: float | None) -> str:
    """Return how far the CG is out of its band: "4 mm behind its band", "in its band"."""
    if behind_mm is None:
        return "no band given"
    if behind_mm == 0.0:
        return "in its band"
    # Out by a hair is out.
    away = arm_text(max(abs(behind_mm), 0.1))
    return f"{away} {'behind' if behind_mm > 0.0 else 'ahead of'} its band"


def run_aft(answer: FloodAnswer) -> tuple[WaterCase, ...]:
    """Return the cases of the compartment whose water takes the CG furthest aft, lightest first."""
    if not answer.water_cases:
        return ()

    def furthest(case: WaterCase) -> float:
        """Return the station of the CG with the water run aft [mm]."""
        return case.nose_up.center_of_gravity_mm[0]

    worst = max(answer.water_cases, key=furthest).compartment
    cases = [case for case in answer.water_cases if case.compartment == worst]
    return tuple(sorted(cases, key=lambda case: case.water_g))


def telling_case(answer: FloodAnswer) -> WaterCase | None:
    """Return the least water that takes the CG behind its band; the most where none does."""
    cases = run_aft(answer)
    over = [case for case in cases if (case.nose_up.behind_band_mm or 0.0) > 0.0]
    return over[0] if over else (cases[-1] if cases else None)


def run_sentence(answer: FloodAnswer, case: WaterCase) -> str:
    """Return what water run aft does to the CG, as a sentence without its end."""
    up: NoseUp = case.nose_up
    at = station_text(up.center_of_gravity_mm[0])
    grams = mass_text(case.water_g)
    if up.behind_band_mm is None:
        from_ = station_text(answer.center_of_gravity_mm[0])
        return f"{grams} running aft move the CG from {from_} to {at}; its band is not given"
    if up.behind_band_mm == 0.0:
        return f"{grams} running aft leave the CG at {at}, in its band {band_words(answer)}"
    does = "put" if up.behind_band_mm > 0.0 else "leave"
    return f"{grams} running aft {does} the CG at {at}, {behind_words(up.behind_band_mm)}"


def floats_words(state: FloodedState) -> str:
    """Return how she floats in a word or two: "floats upright", "sinks by 120 g"."""
    if state.rest == "sinks":
        return f"sinks by {mass_text(max(state.short_by_g or 0.0, 0.0))}"
    if state.rest == "capsized":
        return "falls over"
    if state.rest == "listing":
        side = "starboard" if (state.heel_deg or 0.0) > 0.0 else "port"
        return f"lists {angle_text(abs(state.heel_deg or 0.0))} to {side}"
    if state.rest.startswith("on "):
        return f"floats on her {state.rest.removeprefix('on ')}"
    return "floats upright"


def opening_words(state: FloodedState) -> str:
    """Return the height of the lowest opening with its name: "12 mm, pushrod exit"."""
    if state.freeboard_mm is None:
        return ""
    name = shown_name(state.at or "", size=False)
    if state.freeboard_mm < 0.0:
        return f"{name} under water"
    return f"{height_text(state.freeboard_mm)} at the {name}"


def names_words(names: tuple[str, ...]) -> str:
    """Return names in a row with "and" before the last."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def dry_text(level_mm: float) -> str:
    """Return where a point is by the water inside: "11 mm above its level"."""
    step = 1.0 if shown().length == "mm" else 0.0
    if level_mm > 0.0:
        return f"{arm_text(math.ceil(level_mm) if step else level_mm)} below its level"
    return f"{arm_text(math.floor(-level_mm) if step else -level_mm)} above its level"


def level_text(level_mm: float) -> str:
    """Return how high water stands at a point: "8 mm over it", "12 mm under it"."""
    step = 1.0 if shown().length == "mm" else 0.0
    if level_mm > 0.0:
        return f"{arm_text(math.ceil(level_mm) if step else level_mm)} over it"
    return f"{arm_text(math.floor(-level_mm) if step else -level_mm)} under it"
