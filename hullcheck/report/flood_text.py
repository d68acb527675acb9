"""Water inside her, in words: the first screen, the answer first."""

from collections.abc import Sequence
from types import MappingProxyType
from typing import Final

from hullcheck.answers.flood_records import FloodAnswer, OpenCase
from hullcheck.answers.time_afloat_records import TimeAfloat
from hullcheck.report.fitting import cut, fitting
from hullcheck.report.flood_swamped_words import swamped_words
from hullcheck.report.flood_words import (
    DAY_MIN,
    break_words,
    floats_words,
    later_break,
    minutes_text,
    names_words,
    opening_words,
    range_text,
    run_sentence,
    telling_case,
)
from hullcheck.report.numbers import angle_text, mass_text, station_text
from hullcheck.report.words import trim_words, water_words

CAUTION: Final = (
    "a dunked battery or controller does not go back to work the same day: out, away from anything "
    "that burns, dried, watched; water is heavy (1 liter is 1 kg) and breaks a full hull's back; "
    "cold water takes swimmers: plan how she is fetched before she goes, and nobody swims after "
    "her. This is arithmetic on your files and notes, no clearance to go on the water."
)
LIMIT_NAMES: Final = MappingProxyType(
    {
        "freeboard_mm": "freeboard",
        "trim_deg": "trim",
        "heel_deg": "list",
        "opening_under": "an opening",
    }
)
_LABEL: Final = 13
_WIDTH: Final = 80


def first_screen(answer: FloodAnswer) -> list[str]:
    """Return the answer in at most seven lines of at most 80 characters.

    Parameters
    ----------
    answer : FloodAnswer
        Water inside a craft.

    Returns
    -------
    list of str
        Who she is; what water that runs aft does to the CG, or how she floats with what was asked
        about; water at rest; one and two compartments open; swamped; time afloat.
    """
    lines = [head_line(answer), sentence(answer)]
    rows = [
        ("At rest", _kept(answer) if answer.asked else _at_rest(answer)),
        ("Run aft", _run_aft(answer) if answer.asked else ""),
        ("One open", _open(answer, 1)),
        ("Two open", "" if answer.asked else _open(answer, 2)),
        ("Swamped", swamped_words(answer, _WIDTH - _LABEL)),
        ("Time afloat", _time(answer)),
    ]
    return lines + [
        f"{label:<{_LABEL}}{cut(text, _WIDTH - _LABEL)}" for label, text in rows if text
    ]


def head_line(answer: FloodAnswer) -> str:
    """Return who she is, what she weighs and in what water."""
    name = answer.craft if answer.setup is None else f"{answer.craft}, {answer.setup}"
    at = station_text(answer.center_of_gravity_mm[0])
    line = f"{name} · {mass_text(answer.mass_g)}, CG at {at} · {water_words(answer.water)}"
    return cut(line, _WIDTH)


def sentence(answer: FloodAnswer) -> str:
    """Return the answer in one sentence."""
    if answer.asked:
        return _asked(answer)
    case = telling_case(answer)
    if case is None:
        return cut("No compartment holds the water that was to be put in it.", _WIDTH)
    said = run_sentence(answer, case)
    angle = angle_text(answer.nose_up_deg)
    return fitting(
        (
            f"{said} (in {case.compartment}, nose {angle} up).",
            f"{said} (nose {angle} up).",
            f"{said}.",
        ),
        _WIDTH,
    )


def _asked(answer: FloodAnswer) -> str:
    """Return how she floats with what was asked about."""
    state = answer.state
    aboard = [
        f"{mass_text(one.water_g)} in {one.name}"
        for one in answer.compartments
        if one.water_g > 0.0 and not one.open_to_sea
    ]
    opened = tuple(one.name for one in answer.compartments if one.open_to_sea)
    what = names_words((*aboard, *((f"{names_words(opened)} open",) if opened else ())))
    begin = f"With {what} she" if what else "As asked she"
    how = f"{begin} {floats_words(state)}"
    low = opening_words(state)
    trim = "" if state.trim_deg is None else f", {trim_words(state.trim_deg)}"
    if not low:
        return fitting((f"{how}.", f"As asked she {floats_words(state)}."), _WIDTH)
    short = f"As asked she {floats_words(state)}{trim}; {low}."
    return fitting((f"{how}{trim}; {low}.", f"{how}; {low}.", short, f"{how}."), _WIDTH)


def _kept(answer: FloodAnswer) -> str:
    """Return which limits hold with what was asked about, and what is wet."""
    state = answer.state
    if state.rest == "sinks":
        return "no limit holds, and nothing stays dry"
    broken = [LIMIT_NAMES[one.name] for one in state.limits if not one.ok]
    held = "no limits in the sheet"
    if state.limits:
        held = f"{names_words(tuple(broken))} past the limit" if broken else "every limit holds"
    wet = names_words(state.wet)
    return fitting((f"{held}; wet: {wet or 'nothing named'}", held), _WIDTH - _LABEL)


def _run_aft(answer: FloodAnswer) -> str:
    """Return what water run aft does to the CG."""
    case = telling_case(answer)
    return "" if case is None else run_sentence(answer, case)


def _at_rest(answer: FloodAnswer) -> str:
    """Return what the most water in the compartment that lowers her most does at rest."""
    afloat = [case for case in answer.water_cases if case.state.freeboard_mm is not None]
    if not afloat:
        return ""
    most = max(case.water_g for case in afloat)
    worst = min(
        (case for case in afloat if case.water_g == most),
        key=lambda case: case.state.freeboard_mm or 0.0,
    )
    state = worst.state
    said = f"{mass_text(worst.water_g)} in {worst.compartment}: {opening_words(state)}"
    trim = "" if state.trim_deg is None else f", {trim_words(state.trim_deg)}"
    wet = f"; {names_words(_wet(answer, most))} wet" if _wet(answer, most) else ""
    return fitting((f"{said}{trim}{wet}", f"{said}{wet}", said), _WIDTH - _LABEL)


def _wet(answer: FloodAnswer, grams: float) -> tuple[str, ...]:
    """Return what gets wet with so much water in any compartment, at rest or run aft."""
    names: dict[str, None] = {}
    for case in answer.water_cases:
        if case.water_g <= grams:
            levels = (*case.state.bilge, *case.nose_up.bilge)
            names |= dict.fromkeys(one.name for one in levels if one.wet)
    return tuple(names)


def _open(answer: FloodAnswer, count: int) -> str:
    """Return how she floats with so many compartments open, the worst of them named."""
    cases = [case for case in answer.open_cases if len(case.compartments) == count]
    if not cases:
        return ""
    lost = [case for case in cases if not case.state.floats]
    under = [case for case in cases if case.state.floats and case.state.opening_under]
    if not lost and not under:
        return _open_held(cases, count)
    few = [*lost, *under]
    if len(few) == len(cases) and len(cases) > 1:
        said = "any one of them loses her" if count == 1 else "any two neighbors lose her"
        return fitting((f"{said}; {_case_words(_heaviest(few))}", said), _WIDTH - _LABEL)
    rest = len(cases) - len(few)
    said = "; ".join(_case_words(case) for case in few[:2])
    more = f"; {len(few) - 2} more lose her" if len(few) > 2 else ""
    held = f"; {rest} of {len(cases)} keep her afloat" if rest else ""
    texts = (f"{said}{more}{held}", f"{said}{more}", f"{_case_words(_heaviest(few))}")
    return fitting(texts, _WIDTH - _LABEL)


def _open_held(cases: Sequence[OpenCase], count: int) -> str:
    """Return how she floats at the worst where no opening goes under."""
    worst = min(cases, key=lambda case: case.state.freeboard_mm or 0.0)
    what = "any one" if count == 1 else "any two neighbors"
    name = " + ".join(worst.compartments)
    said = f"{what} open, she floats; least {opening_words(worst.state)}"
    return fitting((f"{said} ({name})", said), _WIDTH - _LABEL)


def _heaviest(cases: Sequence[OpenCase]) -> OpenCase:
    """Return the case that loses her by the most."""
    return max(cases, key=lambda case: (case.state.short_by_g or 0.0, case.compartments))


def _case_words(case: OpenCase) -> str:
    """Return a case with how she floats: "hull 2: sinks by 120 g"."""
    state = case.state
    how = opening_words(state) if state.floats else floats_words(state)
    return f"{' + '.join(case.compartments)}: {how}"


def _time(answer: FloodAnswer) -> str:
    """Return how long she stays afloat, then what, and whether the sheet's limit holds."""
    found = answer.time_afloat
    if found is None and any(one.code == "leak-into-open" for one in answer.warnings):
        return "left out: the known leak is into what is open already"
    if found is None:
        return "not known: no leak test in the log and no [[leak]] in the sheet"
    worst = found.leaks[0]
    limit = "" if found.limit_min is None else (
        f"; limit {found.limit_min:g} {'holds' if found.holds else 'is broken'}"
    )  # fmt: skip
    if worst.least_min == 0.0:
        return _broken_already(answer, found)
    then = break_words(worst.limited_by, worst.at, answer)
    joined = ", then " if worst.limited_by is not None else ": "
    then = "" if (found.low_min or 0.0) >= DAY_MIN else f"{joined}{then}"
    said = f"{range_text(found)}{then}"
    if found.source == "sheet":
        bare = "" if found.limit_min is None else f"; limit {found.limit_min:g}"
        texts = [f"{said}{limit} (supposed: {worst.name})", f"{said}{bare} (supposed leak)", said]
    else:
        texts = [f"{said}{limit} ({source_words(answer)})", f"{said}{limit}"]
    texts.append(f"{range_text(found)}{limit}")
    return fitting(texts, _WIDTH - _LABEL)


def _broken_already(answer: FloodAnswer, found: TimeAfloat) -> str:
    """Return what is past its limit as she floats, and what comes next."""
    past = [one for one in found.leaks[0].breaks if one.water_g == 0.0]
    parts = tuple(
        f"{one.at} wet"
        if one.limit == "equipment_wet"
        else f"{LIMIT_NAMES.get(one.limit, one.limit)} past its limit"
        for one in past
    )
    now = f"none: {names_words(parts)} as she floats"
    later = later_break(found)
    if later is None:
        return fitting((now, "none"), _WIDTH - _LABEL)
    least = min(t for t in (later.hole_min, later.crack_min) if t is not None)
    after = f"in {minutes_text(least)} {break_words(later.limit, later.at, answer)}"
    few = f"none: {parts[0]}"
    return fitting((f"{now}; {after}", f"{few}; {after}", now, few), _WIDTH - _LABEL)


def source_words(answer: FloodAnswer) -> str:
    """Return what the time afloat is worked out from: "entry 14, step joint"."""
    found = answer.time_afloat
    if found is None:
        return ""
    name = found.leaks[0].name
    if found.source == "test":
        return f"entry {found.entry}, {name}"
    return name
