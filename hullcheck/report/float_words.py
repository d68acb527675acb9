"""What the float drawing says in words: the finding, the facts, the text for who cannot see it."""

from typing import Final

from hullcheck.answers.float_records import BodyShare, FloatAnswer, HeightPoint
from hullcheck.report.numbers import (
    MINUS,
    angle_text,
    arm_text,
    depth_text,
    draft_text,
    grams_left_text,
    height_text,
    mass_text,
    sinkage_text,
    station_text,
)
from hullcheck.report.words import (
    LEAST_ANGLE_DEG,
    heel_words,
    height_words,
    trim_words,
    water_words,
)

TITLE_LENGTH: Final = 62


def title(answer: FloatAnswer) -> str:
    """Return the finding, at most 62 characters."""
    if answer.short_by_g is not None:
        return f"Sinks: {mass_text(answer.short_by_g)} too heavy"
    if answer.rest is None and answer.level is not None:
        station = station_text(answer.level.center_of_buoyancy_mm[0])
        return f"Level she needs her CG at station {station}"
    if answer.rest == "capsized":
        return "Falls over: no upright rest at this CG"
    under = lowest(answer)
    if under is not None and under.height_mm < 0.0:
        return f"Deck under water: {depth_text(-under.height_mm)} {place_of(under.name)}"
    return _rest_and_room(answer)


def facts(answer: FloatAnswer) -> list[str]:
    """Return the sentences under the finding: the cause, then the room there is."""
    load = f"{mass_text(answer.mass_g)} in {water_words(answer.water).partition(',')[0]}"
    if answer.short_by_g is not None:
        whole = sum(body.volume_cm3 for body in answer.bodies)
        carried = whole * answer.water.density_kg_m3 / 1000.0
        return [f"{load}: wholly under, her skin carries {mass_text(carried)}.", _ADVICE_SINKS]
    if answer.rest is None:
        return [f"{load}, held level: no CG is given.", _NO_OPENINGS]
    sits = f"{load}. She {posture(answer)}{_floats_clear(answer)}."
    if answer.rest == "capsized":
        return [sits, *_how_high(answer)]
    return [sits, *_room(answer), _NO_OPENINGS]


def alt_text(answer: FloatAnswer) -> str:
    """Return the drawing in words: its finding and its numbers."""
    said = [f"{answer.craft}: {title(answer)}.", *facts(answer)]
    if answer.freeboard_mm is not None and answer.rest != "capsized":
        said += [
            f"{_capital(p.name)}: {height_words(p.height_mm)}." for p in answer.freeboard_mm.points
        ]
    if answer.draft_mm is not None:
        said.append(f"Draft {draft_text(answer.draft_mm.deepest)}.")
    said += [f"{_capital(f.name)}: {clearance_words(f)}." for f in _tip_floats(answer)]
    if answer.step is not None and answer.step.behind_cg_mm is not None:
        said.append(f"Step {step_words(answer)}.")
    if answer.sinkage_g_per_mm is not None:
        said.append(f"{sinkage_text(answer.sinkage_g_per_mm)} sinks her deeper.")
    return " ".join(said)


def posture(answer: FloatAnswer) -> str:
    """Return how she sits: "sits 2.7° bow up and leans 1.3° to starboard"."""
    trim, heel = answer.trim_deg or 0.0, answer.heel_deg or 0.0
    if answer.rest == "capsized":
        return f"comes to rest {angle_text(abs(heel))} over"
    if abs(heel) >= LEAST_ANGLE_DEG:
        return f"sits {trim_words(trim)} and leans {heel_words(heel)}"
    if abs(trim) < LEAST_ANGLE_DEG:
        return "sits level"
    return f"sits {trim_words(trim)}, {heel_words(heel)}"


def place_of(name: str) -> str:
    """Return the place in a name such as "top of the hull at the bow"; else the name."""
    place = f"at {name.partition(' at ')[2]}" if " at " in name else f"at the {name}"
    return place.replace("-", MINUS)


def lowest(answer: FloatAnswer) -> HeightPoint | None:
    """Return the lowest of the heights read off, None without any."""
    points = () if answer.freeboard_mm is None else answer.freeboard_mm.points
    return min(points, key=lambda point: point.height_mm, default=None)


def clearance_words(body: BodyShare) -> str:
    """Return a tip float's gap in words: "9.5 mm clear"."""
    gap = body.clearance_mm or 0.0
    return f"{height_text(gap)} clear" if gap >= 0.0 else f"{depth_text(-gap)} in the water"


def step_words(answer: FloatAnswer) -> str:
    """Return where the step lies from the center of gravity: "13 mm and 25° behind the CG"."""
    step = answer.step
    if step is None or step.behind_cg_mm is None or step.angle_from_cg_deg is None:
        return "not found"
    where = "behind" if step.behind_cg_mm >= 0.0 else "ahead of"
    sign = 1.0 if step.behind_cg_mm >= 0.0 else -1.0
    angle = angle_text(sign * step.angle_from_cg_deg)
    return f"{arm_text(abs(step.behind_cg_mm))} and {angle} {where} the CG"


_NO_OPENINGS: Final = (
    "No openings are given: heights are to the top of the hull. Stations are mm aft of the datum."
)
_ADVICE_SINKS: Final = "Drawn at her full depth, water to the deck."


def _rest_and_room(answer: FloatAnswer) -> str:
    """Return how she rests and her freeboard, in one line."""
    least = None if answer.freeboard_mm is None else answer.freeboard_mm.least
    rest = _rest_words(answer)
    if least is None or answer.freeboard_mm is None or answer.freeboard_mm.at is None:
        return rest
    room = f"{rest}, lowest edge {height_text(least)}"
    longer = f"{room} {place_of(answer.freeboard_mm.at)}"
    return longer if len(longer) <= TITLE_LENGTH else room


def _rest_words(answer: FloatAnswer) -> str:
    """Return how she rests, as a title begins."""
    if answer.rest is not None and answer.rest.startswith("on "):
        return f"Rests on the {answer.rest.removeprefix('on ')}"
    if answer.rest == "listing":
        verb = "Leans" if answer.upright_is_stable else "Will not stay upright: lies"
        return f"{verb} {heel_words(answer.heel_deg or 0.0)}"
    return "Floats upright"


def _room(answer: FloatAnswer) -> list[str]:
    """Return how many grams are left and the limit they end at, if a limit is given."""
    if answer.margin_g is None:
        return []
    limits = [check for check in answer.limits if check.name.startswith("freeboard")]
    until = f" before the freeboard limit of {limits[0].limit:g} mm" if limits else ""
    return [f"Room for {grams_left_text(answer.margin_g)} more{until}."]


def _how_high(answer: FloatAnswer) -> list[str]:
    """Return how high the center of gravity may be, where that is known."""
    if answer.level is None:
        return []
    height = height_text(answer.level.highest_cg_z_mm)
    return [f"Held level, she stays upright with her CG lower than {height} above the datum."]


def _floats_clear(answer: FloatAnswer) -> str:
    """Return the tip floats' part of the facts: ", clear of both tip floats"."""
    floats = _tip_floats(answer)
    if answer.rest in {"capsized", None} or not floats:
        return ""
    wet = [f for f in floats if (f.clearance_mm or 0.0) < 0.0]
    if not wet:
        both = "both tip floats" if len(floats) == 2 else "all tip floats"
        return f", clear of {both if len(floats) > 1 else 'the tip float'}"
    if len(wet) == len(floats) and len(floats) > 1:
        return ", both tip floats in the water" if len(floats) == 2 else ", on all tip floats"
    return ""


def _tip_floats(answer: FloatAnswer) -> list[BodyShare]:
    """Return the tip floats' shares."""
    return [body for body in answer.bodies if body.role == "tip float"]


def _capital(words: str) -> str:
    """Return words with a capital first letter."""
    return words[:1].upper() + words[1:]
