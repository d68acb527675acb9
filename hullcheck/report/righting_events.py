"""What the righting drawing marks on the curve, its heel axis, and its words."""

import math
from dataclasses import dataclass, replace
from typing import Final, Literal

from hullcheck.answers.heeling import Heeling
from hullcheck.answers.righting_records import RightingAnswer, SideReport
from hullcheck.report.numbers import angle_text, arm_text
from hullcheck.report.righting_words import (
    held_words,
    load_words,
    push_words,
    pushes,
    upright_words,
    worse_side,
)
from hullcheck.report.words import LEAST_ANGLE_DEG, capital, heel_words, shown_name

Mark = Literal["rest", "event", "opening", "beyond"]
_AXES_DEG: Final = (20.0, 30.0, 45.0, 60.0, 90.0, 120.0, 180.0)
_LONGEST: Final = 62


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Something at a heel on the drawn side [deg, without sign]."""

    heel_deg: float
    words: str
    mark: Mark


def drawn_side(answer: RightingAnswer) -> SideReport:
    """Return the side the curve is drawn to: the worse under loads, else that she leans to."""
    if answer.upset is not None:
        return next(side for side in answer.sides if side.side == answer.upset.worse)
    if abs(answer.heel_deg or 0.0) >= 0.5:
        name = "starboard" if (answer.heel_deg or 0.0) > 0.0 else "port"
        return next(side for side in answer.sides if side.side == name)
    return answer.sides[0]


def all_spots(answer: RightingAnswer, heeling: Heeling | None = None) -> list[Spot]:
    """Return everything that happens on the drawn side, by heel; arms are said with her curve."""
    side = drawn_side(answer)
    sign = 1.0 if side.side == "starboard" else -1.0
    spots = _rests(answer, sign)
    for one in answer.floats:
        if one.side != side.side:
            continue
        if one.touches_deg is not None:
            words = f"{one.name} touches"
            spots.append(Spot(heel_deg=abs(one.touches_deg), words=words, mark="event"))
        if one.under_deg is not None:
            words = f"{one.name} under"
            if heeling is not None:
                arm = sign * heeling.curve.arm(math.radians(one.under_deg))
                words = f"{words}, righting arm {arm_text(arm)}"
            spots.append(Spot(heel_deg=abs(one.under_deg), words=words, mark="event"))
    spots += _of_curve(answer, side)
    return sorted((s for s in spots if s.heel_deg >= 0.0), key=lambda spot: spot.heel_deg)


def _rests(answer: RightingAnswer, sign: float) -> list[Spot]:
    """Return where she rests, and where wind and turn push her."""
    upset = answer.upset
    words = "at rest" if upset is None else f"at rest{load_words(upset, before=' with ')}"
    rest = Spot(heel_deg=sign * (answer.heel_deg or 0.0), words=words, mark="rest")
    if upset is None or not pushes(upset) or worse_side(upset).heel_deg is None:
        return [rest]
    heel = sign * (worse_side(upset).heel_deg or 0.0)
    if angle_text(heel) == angle_text(rest.heel_deg):
        return [replace(rest, words=f"{words}, and pushed by {push_words(upset)}")]
    return [rest, Spot(heel_deg=heel, words=f"pushed here by {push_words(upset)}", mark="event")]


def _of_curve(answer: RightingAnswer, side: SideReport) -> list[Spot]:
    """Return what the curve comes to on a side: model's edge, opening, greatest arm, range."""
    edge = math.inf if side.beyond_model_deg is None else abs(side.beyond_model_deg)
    spots = []
    if side.beyond_model_deg is not None:
        words = "the model ends here: wing tip in the water"
        spots.append(Spot(heel_deg=edge, words=words, mark="beyond"))
    if side.downflooding_deg is not None:
        name = shown_name(side.downflooding_at or "", size=False)
        words = f"first opening under: {name}"
        spots.append(Spot(heel_deg=abs(side.downflooding_deg), words=words, mark="opening"))
    if answer.rest == "capsized":
        return spots
    found = [(side.range_deg, "past this heel she goes over")]
    if side.greatest is not None:
        words = f"greatest arm, {arm_text(side.greatest.righting_arm_mm)}"
        found.append((side.greatest.heel_deg, words))
    for heel, words in found:
        if heel is not None:
            mark: Mark = "beyond" if abs(heel) > edge else "event"
            spots.append(Spot(heel_deg=abs(heel), words=words, mark=mark))
    return spots


def axis_end_deg(answer: RightingAnswer) -> float:
    """Return the heel the axis ends at [deg]: well past what the model covers, or past all."""
    side = drawn_side(answer)
    spots = [spot.heel_deg for spot in all_spots(answer)]
    if side.beyond_model_deg is not None and (answer.rest != "capsized"):
        near = [h for h in spots if h <= 1.5 * abs(side.beyond_model_deg)]
        wanted = max(3.0 * abs(side.beyond_model_deg), 1.3 * max(near))
    else:
        wanted = 1.3 * max(spots)
    return next((end for end in _AXES_DEG if end >= wanted), _AXES_DEG[-1])


def title(answer: RightingAnswer) -> str:
    """Return the finding in up to 62 characters."""
    if answer.rest == "capsized":
        return "Falls over: no upright rest at this CG"
    if answer.upset is not None:
        held = capital(held_words(answer, worse_side(answer.upset)))
        wind = answer.upset.wind
        longer = held if wind is None else f"{held} in {wind.speed_m_s:g} m/s of wind"
        return longer if len(longer) <= _LONGEST else held
    if answer.rest != "upright":
        where = "Rests with a list of" if answer.rest == "listing" else f"Rests {answer.rest},"
        return f"{where} {heel_words(answer.heel_deg or 0.0)}"
    return _upright_title(answer)


def _upright_title(answer: RightingAnswer) -> str:
    """Return the finding of a craft that rests upright with nothing to upset her."""
    touches = [abs(f.touches_deg) for f in answer.floats if f.touches_deg is not None]
    if touches and (answer.upright_slope_mm_per_deg or 0.0) <= 0.0:
        return "The tip floats hold her up: the hull alone falls over"
    if touches and min(touches) > 0.0:
        return f"She stands upright; from {angle_text(min(touches))} a tip float holds her"
    if answer.range_deg is None:
        return "Something turns her back from any heel"
    return f"Righted from up to {angle_text(answer.range_deg)} of heel"


def facts(answer: RightingAnswer, heeling: Heeling) -> list[str]:
    """Return the facts under the title, in sentences: upright, at rest, what pushes her where."""
    heel, upset = answer.heel_deg or 0.0, answer.upset
    said = [upright_words(answer, heeling.craft.center_of_gravity_mm)]
    if answer.rest == "capsized" and heeling.is_beyond(heeling.rest_heel):
        way = "starboard" if heel >= 0.0 else "port"
        said.append(f"She goes over to {way}; where she then lies is beyond the model.")
    else:
        here = "upright" if abs(heel) < LEAST_ANGLE_DEG else f"at {heel_words(heel)}"
        loads = "" if upset is None else load_words(upset, before="With ")
        said.append(f"{loads}, which the curve includes, she rests {here}." if loads else "")
        said[-1] = said[-1] or f"She rests {here}."
    if upset is None and answer.rest != "capsized":
        said += _touching(answer)
    if upset is not None and pushes(upset):
        said.append(f"The {pushes(upset)} drawn pushing her to {upset.worse}, the worse side.")
    return said


def _touching(answer: RightingAnswer) -> list[str]:
    """Return where the first float of either side touches, in a sentence, if both sides do."""
    first = {
        side: min(
            (abs(f.touches_deg) for f in answer.floats if f.side == side and f.touches_deg),
            default=None,
        )
        for side in ("starboard", "port")
    }
    starboard, port = first["starboard"], first["port"]
    if starboard is None or port is None:
        return []
    if angle_text(starboard) == angle_text(port):
        return [f"On either side her float touches at {angle_text(starboard)}."]
    to_port = f"to port at {angle_text(port)}"
    return [f"Heeled to starboard her float touches at {angle_text(starboard)}, {to_port}."]


def alt_text(answer: RightingAnswer, heeling: Heeling) -> str:
    """Return the drawing in words: its finding and its numbers."""
    spots = "; ".join(f"{angle_text(s.heel_deg)} {s.words}" for s in all_spots(answer, heeling))
    side = drawn_side(answer).side
    return " ".join([f"{title(answer)}.", *facts(answer, heeling), f"Heel to {side}: {spots}."])
