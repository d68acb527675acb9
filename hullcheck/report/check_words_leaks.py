"""Findings about seams, leak tests and water inside, in words."""

from hullcheck.answers.check_records import CheckDetail, CheckPoint
from hullcheck.report.check_parts import (
    in_setup,
    limit_end,
    name_words,
    names_words,
    number,
    with_plus_minus,
)
from hullcheck.report.flood_swamped_words import foam_text
from hullcheck.report.flood_words import minutes_text
from hullcheck.report.numbers import depth_text, height_text, mass_text
from hullcheck.report.seams_words import date_words, time_words

_TESTED = {
    "light test": "dry {day}, but at less than flying weight",
    "at less depth": "dry {day}, but at less depth than it lies",
    "too short": "dry {day}, but in too short a test",
    "tested dry": "dry {day}",
}
_STATES = {
    "leaked": "leaked {day}",
    "re-opened": "opened again {day}",
    "open": "open",
    "never sealed": "never sealed",
    "repaired, not tested since": "repaired {day}, not tested since",
    "not stated": "nothing says it is sealed",
    "taped": "taped, not tested",
    "sealed": "sealed {day}, not cleared by a test since",
    "sealed by the sheet, not in the log": "sealed by the sheet only, not tested",
    **_TESTED,
}


def seams_words(point: CheckPoint, now: str) -> str:
    """Return what the worst seam of a state is, then the names of the others."""
    lone = {
        "no waterline": "she has no waterline",
        "no seams known": "no joint of hers is named in the sheet",
        "none under water": "none lies under water at rest",
    }
    if point.cause in lone:
        return lone[point.cause]
    same = [row for row in point.details if row.word == point.cause]
    if point.state == "pass":
        day = _filled(point.cause, point.details[0], now)
        return f"{names_words(point.about)}: {day}{_deep(point)}"
    first, rest = same[0], [row.name for row in point.details if row.name != point.about[0]]
    said = f"{name_words(first.name)}: {_filled(point.cause, first, now)}{_deep(point)}"
    return said if not rest else f"{said}; also {names_words(rest)}"


def _filled(cause: str, row: CheckDetail, now: str) -> str:
    """Return the state of a seam with its day."""
    if cause == "curing":
        return "curing" if row.when is None else f"curing until {time_words(row.when, now)}"
    day = "" if row.when is None else date_words(row.when, now)
    return " ".join(_STATES[cause].format(day=day).split()).replace(" ,", ",")


def _deep(point: CheckPoint) -> str:
    """Return how deep the first seam lies; "" where it stands above the water."""
    if not point.value:
        return ""
    of = "" if point.state != "pass" or len(point.about) == 1 else "at most "
    deepest = point.value
    if of:
        deepest = max(row.value or 0.0 for row in point.details)
    return f", {of}{depth_text(deepest)} deep{in_setup(point)}"


def spray_words(point: CheckPoint, now: str) -> str:
    """Return what stands open where spray reaches it."""
    if point.cause == "no waterline":
        return "she has no waterline"
    if point.value is None:
        return "nothing stands open there"
    if point.cause == "curing" and len(point.details) == 1:
        cures = _filled("curing", point.details[0], now)
        return f"{names_words(point.about)}: {cures}, {height_text(point.value)} above the water"
    curing = {row.name for row in point.details if row.word == "curing"}
    names = [f"{one} (curing)" if one in curing else one for one in point.about]
    return f"{names_words(names)}; lowest {height_text(point.value)} above the water"


def leak_words(point: CheckPoint, now: str) -> str:
    """Return what came in in the last test, against the limit or by the ladder."""
    if point.value is None or point.when is None:
        return "no leak test is in the log"
    gain = with_plus_minus(mass_text(point.value), point.plus_minus)
    grade = next((row.word for row in point.details if row.name == "grade"), None)
    judged = f", {grade}"
    if isinstance(point.limit, float | int):
        judged = f", limit {mass_text(point.limit)}"
    said = f"{gain} in 30 min{judged}, {date_words(point.when, now)}"
    if point.cause == "light test":
        return f"{said}, at only {mass_text(number(point, 'mass') or 0.0)}"
    if point.cause == "before the last work":
        return f"{said}, before work on {names_words(point.about)}"
    return f"{said}, within ±" if point.cause == "limit in doubt" else said


def running_words(point: CheckPoint, now: str) -> str:
    """Return how she came back from being run."""
    if point.value is None or point.when is None:
        return "not run since she was last worked on"
    day, time = date_words(point.when, now), f"{number(point, 'time') or 0.0:g} min"
    if point.cause == "dry":
        return f"dry after {time}, {day}"
    if point.cause == "wet since":
        return f"dry when run {day}, but water came in since"
    if point.cause == "run light":
        return f"dry when run {day}, but at only {mass_text(number(point, 'mass') or 0.0)}"
    gain = with_plus_minus(mass_text(point.value), point.plus_minus)
    return f"not dry: {gain} in {time}, {day}"


def time_afloat_words(point: CheckPoint, now: str) -> str:
    """Return how long she stays within her limits with the leak of her last test."""
    del now
    if point.cause == "no waterline":
        return "she has no waterline"
    if point.cause == "no test":
        return "no leak test says what comes in"
    if point.cause == "broken already":
        return "no time to tell: one of her limits is broken before any water comes in"
    time = "more than 24 h" if point.value is None else minutes_text(point.value)
    end = limit_end(point) or "; no time to hold it against"
    at = name_words(point.about[0])
    leaks = [row for row in point.details if row.name not in {"from", "to"}]
    what = f"if all of it comes in at the {at}" if len(leaks) > 1 else f"leaking at the {at}"
    if point.cause == "only supposed":
        what = f"with {at}, which the sheet only supposes"
    return f"{time} {what}{end}"


def swamped_words(point: CheckPoint, now: str) -> str:
    """Return how she lies when she is full."""
    del now
    if point.value is None:
        return "she has no waterline"
    if point.cause == "floats":
        return f"floats, {height_text(point.value)} of her out of the water"
    foam = number(point, "foam to float")
    tail = "" if foam is None else f"; {foam_text(foam)} of foam would hold her up"
    return f"full of water she sinks, by {mass_text(point.value)}{tail}"


def electronics_words(point: CheckPoint, now: str) -> str:
    """Return what gets wet, by how much water."""
    del now
    said = {
        "no place": "no item's lowest point is in the sheet",
        "no waterline": "she has no waterline",
        "some without a place": f"{names_words(point.about)}: no lowest_mm in the sheet",
        "under the sea": f"{names_words(point.about)} under the sea at rest{in_setup(point)}",
    }
    if point.cause in said or point.value is None:
        return said.get(point.cause, "")
    grams = mass_text(point.value)
    if point.cause == "dry":
        return f"dry with up to {grams} in any compartment"
    row = next(row for row in point.details if row.name == point.about[0])
    return f"{names_words(point.about)} wet by {grams} of water in {row.word}"
