"""Phrases of righting that text, table and drawing share."""

import math
from typing import Final

from hullcheck.answers.righting_records import RightingAnswer
from hullcheck.answers.upset_records import Event, PushedReport, UpsetReport
from hullcheck.report.display import shown
from hullcheck.report.numbers import angle_text, arm_text, given_length_text, mass_text
from hullcheck.report.words import LEAST_ANGLE_DEG, heel_words

_NEUTRAL: Final = 1e-6
"""Slope at heel 0 that is none [mm a degree]."""
_ACROSS_MM: Final = 0.05
"""So far across the center of gravity still lies on the center plane."""


def speed_text(speed_m_s: float, *, given: bool = False) -> str:
    """Return a speed in text: one that was given as given, a limit to 0.1 m/s rounded down.

    Examples
    --------
    >>> speed_text(4.0, given=True), speed_text(5.68), speed_text(15.96)
    ('4 m/s', '5.6 m/s', '15 m/s')
    """
    if given:
        return f"{speed_m_s:g} m/s"
    if speed_m_s >= 10.0:
        return f"{math.floor(speed_m_s)} m/s"
    return f"{math.floor(10.0 * speed_m_s + 1e-9) / 10.0:g} m/s"


def slope_text(slope_mm_per_deg: float) -> str:
    """Return how fast the arm grows, in text: "0.15 mm a degree"."""
    size = abs(shown().length_of(slope_mm_per_deg))
    text = f"{size:.2g}" if size < 10.0 else f"{size:.0f}"
    return f"{text} {shown().length} a degree"


def fine_arm_text(arm_mm: float) -> str:
    """Return an arm that is read off beside its line: two figures where 1 mm is too coarse.

    Examples
    --------
    >>> fine_arm_text(1.711), fine_arm_text(0.042), fine_arm_text(23.8)
    ('1.7 mm', '0.042 mm', '24 mm')
    """
    if abs(arm_mm) >= 9.95:
        return arm_text(arm_mm)
    return f"{shown().length_of(arm_mm):.2g} {shown().length}"


def upset_words(upset: UpsetReport) -> str:
    """Return what upsets her: "4 m/s of wind, 250 g 10 mm to starboard"."""
    return ", ".join([*_pushing(upset), *_lying(upset)])


def push_words(upset: UpsetReport) -> str:
    """Return what pushes her, wind and turn: "4 m/s of wind"; "" where nothing does."""
    return " and ".join(_pushing(upset))


def load_words(upset: UpsetReport, *, before: str = "") -> str:
    """Return what lies off center, after some words: "250 g 10 mm to starboard"; "" if nothing."""
    said = " and ".join(_lying(upset))
    return f"{before}{said}" if said else ""


def pushes(upset: UpsetReport) -> str:
    """Return what pushes her with its verb: "wind is", "wind and turn are"; "" if nothing does."""
    what = [name for name in ("wind", "turn") if getattr(upset, name) is not None]
    return f"{' and '.join(what)} {'are' if len(what) > 1 else 'is'}" if what else ""


def _pushing(upset: UpsetReport) -> list[str]:
    """Return wind and turn in words."""
    said = []
    if upset.wind is not None:
        said.append(f"{speed_text(upset.wind.speed_m_s, given=True)} of wind")
    if upset.turn is not None:
        speed = speed_text(upset.turn.speed_m_s, given=True)
        said.append(f"a turn at {speed} on {upset.turn.radius_m:g} m")
    return said


def _lying(upset: UpsetReport) -> list[str]:
    """Return the loads that lie off center in words."""
    said = []
    if upset.off_center is not None:
        grams, across = upset.off_center
        way = "starboard" if across >= 0.0 else "port"
        said.append(f"{mass_text(grams)} {given_length_text(abs(across))} to {way}")
    if upset.wet_wing is not None:
        said.append(f"{mass_text(upset.wet_wing[0])} in the starboard wing")
    return said


def upright_words(answer: RightingAnswer, center_mm: tuple[float, float, float] | None) -> str:
    """Return whether upright is stable, in a sentence.

    Parameters
    ----------
    answer : RightingAnswer
        Its `upright_slope_mm_per_deg` decides: a weight moved across leaves the slope at heel 0
        as it is, so it tells of her without what lies off center.
    center_mm : tuple of float or None
        Center of gravity the curve is of, loads in it [mm].
    """
    slope = answer.upright_slope_mm_per_deg or 0.0
    how = "stable" if slope > _NEUTRAL else "unstable" if slope < -_NEUTRAL else "neutral"
    across = 0.0 if center_mm is None else center_mm[1]
    upset = answer.upset
    moved = None if upset is None or upset.wet_wing is not None else upset.off_center
    own = across if moved is None else across - moved[0] * moved[1] / answer.mass_g
    if abs(own) >= _ACROSS_MM:
        return f"With her CG on the center line she is {how} upright."
    return f"Upright she is {how}." if moved is None else f"Without the load she is {how} upright."


def worse_side(upset: UpsetReport) -> PushedReport:
    """Return what the loads do to her on the worse side."""
    return next(one for one in upset.pushed if one.side == upset.worse)


def held_words(answer: RightingAnswer, pushed: PushedReport) -> str:
    """Return what holds her on a side and where: "the float holds her at 1.7° to starboard"."""
    if pushed.heel_deg is None:
        return f"nothing holds her: she goes over to {pushed.side}"
    if abs(pushed.heel_deg) < LEAST_ANGLE_DEG:
        return "she stays upright"
    heel = heel_words(pushed.heel_deg)
    floats = [one for one in answer.floats if one.side == pushed.side]
    touching = [
        one
        for one in floats
        if one.touches_deg is not None and abs(pushed.heel_deg) >= abs(one.touches_deg)
    ]
    if pushed.heel_deg * (1.0 if pushed.side == "starboard" else -1.0) < 0.0:
        return f"she stays at {heel}"
    if not touching:
        return f"she stands at {heel}, no float touching" if floats else f"she stands at {heel}"
    if pushed.float_dry_share is not None and pushed.float_dry_share < 1e-9:
        return f"the float goes under, she stands at {heel}"
    return f"the float holds her at {heel}"


def ratio_text(ratio: float) -> str:
    """Return a ratio in text, rounded down to 0.1, from 20 to 1."""
    if ratio >= 20.0:
        return f"{math.floor(ratio)}"
    return f"{math.floor(10.0 * ratio + 1e-9) / 10.0:g}"


def event_words(event: Event) -> str:
    """Return the winds of an event: "5°: 15 m/s steady, 11 m/s sudden"."""
    where = angle_text(abs(event.heel_deg))
    if event.steady_m_s is None or event.gust_m_s is None:
        return f"{where}: by no wind of this kind"
    if event.steady_m_s == 0.0:
        return f"{where}: without any wind"
    steady, sudden = speed_text(event.steady_m_s), speed_text(event.gust_m_s)
    return f"{where}: {steady} steady, {sudden} sudden"


def beyond_words(answer: RightingAnswer, heel_deg: float) -> str:
    """Return " (beyond the model)" where the wing is in the water at a heel, else ""."""
    side = next((s for s in answer.sides if (heel_deg >= 0.0) == (s.side == "starboard")), None)
    edge = None if side is None else side.beyond_model_deg
    return " (beyond the model)" if edge is not None and abs(heel_deg) > abs(edge) else ""
