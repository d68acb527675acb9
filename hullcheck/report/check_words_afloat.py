"""Findings about how she floats, what holds her upright, step and propeller, in words."""

from collections.abc import Callable

from hullcheck.answers.check_records import CheckPoint
from hullcheck.report.check_parts import (
    detail,
    in_setup,
    limit_end,
    name_words,
    number,
    with_plus_minus,
)
from hullcheck.report.numbers import angle_text, arm_text, depth_text, height_text, mass_text
from hullcheck.report.words import heel_words, trim_words

_NO_CG = "her CG is not known"


def freeboard_words(point: CheckPoint, now: str) -> str:
    """Return the lowest opening's height in the worst setup, against the limit."""
    del now
    if point.cause == "sinks":
        return f"she sinks by {mass_text(point.value or 0.0)}{in_setup(point)}"
    if point.cause == "capsizes" or point.value is None:
        return f"she capsizes{in_setup(point)}"
    if point.cause == "no center":
        return f"{_NO_CG}: not known how she floats"
    at = name_words(point.about[0]) if point.about else "her lowest edge"
    if point.value < 0.0:
        deep = with_plus_minus(depth_text(-point.value), point.plus_minus)
        return f"{at} {deep} under water{in_setup(point)}"
    high = with_plus_minus(height_text(point.value), point.plus_minus)
    return f"{high} at the {at}{_end(point)}{in_setup(point)}"


def trim_point_words(point: CheckPoint, now: str) -> str:
    """Return her trim in the worst setup, against the limit."""
    del now
    return _angle(point, trim_words)


def heel_point_words(point: CheckPoint, now: str) -> str:
    """Return her list in the worst setup, against the limit."""
    del now
    return _angle(point, heel_words)


def _angle(point: CheckPoint, words: Callable[[float], str]) -> str:
    """Return an angle against its limit."""
    if point.value is None:
        return "she has no rest upright"
    return f"{words(point.value)}{_end(point)}{in_setup(point)}"


def _end(point: CheckPoint) -> str:
    """Return the limit behind a value, and whether it lies within ±."""
    end = limit_end(point) or "; no limit to hold it against"
    return f"{end}, within ±" if point.cause == "close" else end


def upright_words(point: CheckPoint, now: str) -> str:
    """Return what holds her upright, with how stiffly and how far."""
    del now
    said = {
        "no center": _NO_CG,
        "sinks": "nothing: she sinks",
        "capsizes": "nothing: she falls over",
        "lolls": f"neither hull nor float: she rests {heel_words(number(point, 'heel') or 0.0)}",
    }
    if point.cause in said:
        return said[point.cause]
    if point.cause == "does not come back":
        return "a wing tip pushed to the water does not come back up"
    if point.cause == "opening before the float":
        heels = [
            abs(row.value) for row in point.details if row.name == "opening under" and row.value
        ]
        return f"an opening goes under at {angle_text(min(heels))}, before a tip float does"
    if point.cause == "float without reserve":
        return _float(point).replace(", rights ", ", rights only ")
    if point.cause == "tip float":
        heel = heel_words(number(point, "heel") or 0.0)
        return f"rests on a tip float, {heel}: {_float(point)}"
    gm = "" if point.value is None else f" (GM {arm_text(point.value)})"
    held = detail(point, "floats on")
    ends = [f"her {'hull' if held is None else held.word}{gm}"]
    gaps = [row.value for row in point.details if row.word == "gap" and row.value is not None]
    if gaps:
        ends.append(f"tip floats {height_text(min(gaps))} clear")
    if (reach := number(point, "range")) is not None:
        ends.append(f"to {angle_text(abs(reach))} of heel")
    return ", ".join(ends)


def _float(point: CheckPoint) -> str:
    """Return what a tip float that is wholly under rights, as a multiple of what upsets her."""
    known = [
        (ratio, name) for name in point.about if (ratio := number(point, name, "ratio")) is not None
    ]
    if not known:
        return "nothing upsets her before it is under"
    ratio, name = min(known)
    return f"{name_words(name)}, wholly under, rights {ratio:.1f} times what upsets her"


def step_words(point: CheckPoint, now: str) -> str:
    """Return where the step lies from the CG; its angle and depth are shown, not judged."""
    del now
    if point.cause == "no step":
        return "no step was found"
    if point.value is None:
        return _NO_CG
    way = "behind" if point.value >= 0.0 else "ahead of"
    angle = number(point, "angle")
    tail = "" if angle is None or point.value < 0.0 else f", {angle_text(angle)}"
    judged = "" if point.value < 0.0 else "; how far is shown, not judged"
    return f"{arm_text(abs(point.value))} {way} the CG{tail}{judged}"


def propeller_words(point: CheckPoint, now: str) -> str:
    """Return how far the disc clears the water at rest and at full thrust, held still."""
    del now
    if point.cause == "no propeller":
        return "the sheet has none"
    if point.value is None:
        return "she has no rest"
    if point.value < 0.0:
        return f"its disc is {depth_text(-point.value)} in the water at rest{in_setup(point)}"
    rest = f"{height_text(point.value)} at rest{in_setup(point)}"
    return f"{rest}{_under_thrust(point)}"


def _under_thrust(point: CheckPoint) -> str:
    """Return what full thrust does to her when she is held still."""
    if point.cause == "no thrust":
        return "; its thrust is not known"
    if point.cause == "bow under":
        from_g = [row.value for row in point.details if row.name == "bow under from" and row.value]
        full = number(point, "full thrust")
        of = "of thrust" if full is None else f"of {mass_text(full)} of thrust"
        grams = f"from {mass_text(min(from_g))} {of}" if from_g else "at full thrust"
        return f"; held still her bow goes under {grams}"
    clear = [row.value for row in point.details if row.name == "at full thrust"]
    least = min((value for value in clear if value is not None), default=0.0)
    if least < 0.0:
        return f"; {depth_text(-least)} in the water at full thrust, held still"
    full = number(point, "full thrust")
    grams = "" if full is None else f" ({mass_text(full)})"
    return f", {height_text(least)} at full thrust{grams}"
