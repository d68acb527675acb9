"""What rights her and what upsets her, in words: the first screen, the answer first."""

from collections.abc import Iterable
from typing import Final

from hullcheck.answers.float_records import FloatAnswer
from hullcheck.answers.righting_records import FloatReport, RightingAnswer, SideReport
from hullcheck.report.fitting import fitting
from hullcheck.report.float_text import CAUTION, head_line
from hullcheck.report.numbers import angle_text, arm_text, depth_text, height_text, mass_text
from hullcheck.report.righting_sizes import size_line
from hullcheck.report.righting_words import (
    beyond_words,
    event_words,
    held_words,
    slope_text,
    upset_words,
    worse_side,
)
from hullcheck.report.words import capital, heel_words, shown_name, state_words, trim_words

__all__ = ["CAUTION", "first_screen"]

_LABEL: Final = 16
_WIDTH: Final = 80
_LINES: Final = 8


def first_screen(answer: RightingAnswer) -> list[str]:
    """Return the answer in at most eight lines of at most 80 characters.

    Parameters
    ----------
    answer : RightingAnswer
        What rights her and what upsets her.

    Returns
    -------
    list of str
        Mass and water; the finding; wind on the worse side; tip floats and the least that would
        hold; range; openings; a wing tip pushed to the water; thrust. What comes last gives way.
    """
    head = _head(answer)
    if answer.short_by_g is not None:
        short = mass_text(answer.short_by_g)
        return [head, f"Sinks: she is {short} too heavy for the whole skin."]
    rows = [
        ("Wind", _wind(answer)),
        ("Tip floats", _floats(answer)),
        ("Float size", _size(answer)),
        ("Range", _range(answer)),
        ("Openings", _openings(answer)),
        ("Pushed down", _pushed_down(answer)),
        ("Thrust", _thrust(answer)),
    ]
    lines = [f"{label:<{_LABEL}}{text}" for label, text in rows if text]
    return [head, *_finding(answer), *lines][:_LINES]


def _head(answer: RightingAnswer) -> str:
    """Return who she is, what she weighs and in what water."""
    return head_line(
        FloatAnswer(
            schema=answer.schema,
            craft=answer.craft,
            setup=answer.setup,
            mass_g=answer.mass_g,
            center_of_gravity_mm=answer.center_of_gravity_mm,
            load=answer.load,
            water=answer.water,
            rest=None,
            bodies=(),
            warnings=(),
        )
    )


def _fitting(texts: Iterable[str], width: int = _WIDTH - _LABEL) -> str:
    """Return the first text that fits a width; the last one cut if none does."""
    return fitting(texts, width)


def _finding(answer: RightingAnswer) -> list[str]:
    """Return what was found, in a sentence: under the loads, or how she rests and what rights."""
    rest = _rest(answer)
    if answer.upset is None:
        return [rest]
    held = held_words(answer, worse_side(answer.upset))
    loads = upset_words(answer.upset)
    sentence = f"Under {loads} {held}."
    if len(sentence) <= _WIDTH:
        return [sentence]
    return [_fitting((f"{capital(held)}.",), _WIDTH), f"{'Under':<{_LABEL}}{_fitting((loads,))}"]


def _rest(answer: RightingAnswer) -> str:
    """Return how she rests and how the arm grows from there."""
    heel, slope = answer.heel_deg or 0.0, answer.slope_at_rest_mm_per_deg or 0.0
    trim = trim_words(answer.trim_deg or 0.0)
    if answer.rest == "capsized" and any(one.beyond_model for one in answer.attitudes[:1]):
        way = "starboard" if heel >= 0.0 else "port"
        return f"Capsizes: she goes over to {way}; how she then lies is beyond the model."
    if answer.rest == "capsized":
        return f"Capsizes: set down upright she goes over {heel_words(heel)} and stays there."
    grows = f"from there her righting arm grows by {slope_text(slope)}"
    if answer.rest == "upright":
        return _fitting((f"Rests upright, {trim}; {grows}.", f"Rests upright; {grows}."), _WIDTH)
    where = f"Rests {answer.rest}" if answer.rest.startswith("on ") else "Rests with a list"
    return _fitting(
        (f"{where}, {heel_words(heel)}; {grows}.", f"{where}, {heel_words(heel)}."), _WIDTH
    )


def _lead(answer: RightingAnswer) -> SideReport | None:
    """Return the side that `range_deg` and `greatest` are of."""
    return next(
        (
            s
            for s in answer.sides
            if s.greatest == answer.greatest and s.area_mm_rad == answer.area_mm_rad
        ),
        None,
    )


def _range(answer: RightingAnswer) -> str:
    """Return the range and the greatest arm."""
    lead = _lead(answer)
    if answer.rest == "capsized":
        return ""
    if lead is None or answer.greatest is None:
        return "nothing turns her back from where she rests"
    top = answer.greatest
    other = next(s for s in answer.sides if s is not lead)
    alike = abs(abs(lead.range_deg or 180.0) - abs(other.range_deg or 180.0)) < 0.5
    where = "either side" if alike else f"to {lead.side}"
    most = f"{arm_text(top.righting_arm_mm)} at {angle_text(abs(top.heel_deg))}"
    beyond = beyond_words(answer, lead.range_deg or 180.0 * (1.0 if top.heel_deg >= 0.0 else -1.0))
    if lead.range_deg is None:
        far = "all round to 180°"
        if lead.ends_deg is not None:
            far = f"to {angle_text(abs(lead.ends_deg))}, the curve's end"
        return _fitting((f"{far}; greatest arm {most}{beyond}", f"{far}; most {most}{beyond}"))
    end = f"{angle_text(abs(lead.range_deg))} {where}"
    return _fitting((f"{end}; greatest arm {most}{beyond}", f"{end}; most {most}{beyond}"))


def _openings(answer: RightingAnswer) -> str:
    """Return the first opening that goes under, and where."""
    if not answer.openings:
        return "none are known: where water comes in is not told"
    sides = [s for s in answer.sides if s.downflooding_deg is not None]
    if not sides:
        return "none that lets water in goes under by 180°"
    first = min(sides, key=lambda s: round(abs(s.downflooding_deg or 0.0), 6))
    state = next((o.state for o in answer.openings if o.name == first.downflooding_at), None)
    name = shown_name(first.downflooding_at or "", size=False)
    heel = heel_words(first.downflooding_deg or 0.0)
    beyond = beyond_words(answer, first.downflooding_deg or 0.0)
    return _fitting(
        (
            f"{name} ({state_words(state)}) goes under first, at {heel}{beyond}",
            f"{name} goes under first, at {heel}{beyond}",
            f"{name} first, at {heel}{beyond}",
            f"first at {heel}{beyond}: {name}",
        )
    )


def _shown_float(answer: RightingAnswer) -> FloatReport | None:
    """Return the float that is shown: on the worse side, else the one that gives the least."""
    chosen = answer.floats
    if answer.upset is not None:
        chosen = tuple(f for f in chosen if answer.upset and f.side == answer.upset.worse) or chosen
    return min(
        chosen,
        key=lambda one: 1e9 if one.ratio is None else round(one.ratio, 6),
        default=None,
    )


def _floats(answer: RightingAnswer) -> str:
    """Return when the floats touch and go under, and what they then give."""
    one = _shown_float(answer)
    if one is None:
        return ""
    gap = one.gap_at_rest_mm
    stands = f"{height_text(gap)} clear" if gap >= 0.0 else f"{depth_text(-gap)} in the water"
    touches = "" if one.touches_deg is None else f"; touches at {angle_text(abs(one.touches_deg))}"
    if one.under_deg is None:
        return f"{stands}{touches}; never wholly under"
    under = f", under at {angle_text(abs(one.under_deg))}"
    alone = "; the hull rights itself there" if one.ratio is None else ""
    return _fitting((f"{stands}{touches}{under}{alone}", f"{stands}{touches}{under}"))


def _size(answer: RightingAnswer) -> str:
    """Return the least float that would hold."""
    one = _shown_float(answer)
    return "" if one is None else _fitting(size_line(one))


def _wind(answer: RightingAnswer) -> str:
    """Return the winds that bring a float or an opening under on the worse side."""
    upset = answer.upset
    if upset is None or upset.wind is None:
        return ""
    events = worse_side(upset).events
    if not events:
        return "no float and no opening goes under by 180°"
    name, winds = shown_name(events[0].name, size=False), event_words(events[0])
    return _fitting((f"{name} at {winds}", f"{name.split(' ', 1)[-1]} at {winds}"))


def _pushed_down(answer: RightingAnswer) -> str:
    """Return whether she comes back from a wing tip pushed to the water, the worse side."""
    if not answer.push_down or answer.rest == "capsized":
        return ""
    one = min(answer.push_down, key=lambda p: round(p.arm_mm, 6))
    with_what = "" if one.setup is None else f" ({one.setup})"
    at = angle_text(abs(one.heel_deg))
    if one.returns_to_deg is None:
        does = f"{one.to} in the water at {at}: she does not come back"
    else:
        to = angle_text(abs(one.returns_to_deg))
        does = f"{one.to} in the water at {at}: let go, she comes back to {to}"
    short = does.replace(" in the water at", " at")
    return _fitting((f"{does}{with_what}", does, short))


def _thrust(answer: RightingAnswer) -> str:
    """Return what full thrust does at rest, or which thrust puts the bow under."""
    thrust = answer.thrust
    if thrust is None:
        return ""
    high, low = thrust.bow_under_at_waterline_g, thrust.bow_under_at_keel_g
    full = mass_text(thrust.full_g)
    if low is None and high is None:
        last = thrust.rows[-1]
        ends = [p for p in (last.at_keel, last.at_waterline) if p is not None]
        bow = height_text(min(p.bow_freeboard_mm for p in ends))
        trims = " to ".join(trim_words(p.trim_deg) for p in reversed(ends))
        return _fitting((f"{full} at rest: {trims}; bow {bow} clear",))
    least = mass_text(min(g for g in (low, high) if g is not None))
    most = f"to over {full}" if high is None else f"to {mass_text(high)}"
    return _fitting(
        (
            f"at rest the bow is under from {least} {most}, of {full} (no planing lift)",
            f"at rest the bow is under from {least} {most}, of {full}",
        )
    )
