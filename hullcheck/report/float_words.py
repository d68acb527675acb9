"""What the float drawing says in words: the finding, the facts, the text for who cannot see it."""

from typing import Final

from hullcheck.answers.float_records import BodyShare, FloatAnswer, HeightPoint
from hullcheck.report.float_titles import (
    TITLE_LENGTH,
    beyond_words,
    broken_limits,
    limit_words,
    limiting,
    openings,
    place_of,
    points,
    the,
    title,
    verb,
)
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
from hullcheck.report.plus_minus import grams_plus_minus
from hullcheck.report.words import (
    LEAST_ANGLE_DEG,
    capital,
    heel_words,
    height_words,
    shown_name,
    state_words,
    stations_words,
    trim_words,
    water_words,
)

__all__ = ["TITLE_LENGTH", "alt_text", "facts", "place_of", "posture", "title"]

_ADVICE_SINKS: Final = "Drawn at her full depth, water to the deck."
_KINDS: Final = {"freeboard_mm": "freeboard", "trim_deg": "trim", "heel_deg": "heel"}


def facts(answer: FloatAnswer) -> list[str]:
    """Return the sentences under the finding: the cause, then the room there is."""
    load = _load(answer)
    if answer.short_by_g is not None:
        whole = sum(body.volume_cm3 for body in answer.bodies)
        carried = whole * answer.water.density_kg_m3 / 1000.0
        return [f"{load}: wholly under, her skin carries {mass_text(carried)}.", _ADVICE_SINKS]
    if answer.rest is None:
        wanted = _lowest_then(answer) if "CG" in title(answer) else [_cg_wanted(answer)]
        return [f"{load}, held level: no CG is given.", *wanted, *_heights(answer)]
    sits = f"{load}. She {posture(answer)}{_floats_clear(answer)}."
    if answer.rest == "capsized":
        return [sits, *_how_high(answer)]
    return [
        sits,
        *_unstable(answer),
        *_fittings_under(answer),
        *_also_broken(answer),
        *_room(answer),
        *_heights(answer),
    ]


def alt_text(answer: FloatAnswer) -> str:
    """Return the drawing in words: its finding and its numbers."""
    said = [f"{answer.craft}: {title(answer)}.", *facts(answer)]
    if answer.rest != "capsized":
        said += [_height_sentence(point) for point in points(answer)]
    center = center_words(answer)
    said += [f"{center}."] if center else []
    if answer.draft_mm is not None:
        said.append(f"Draft {draft_text(answer.draft_mm.deepest)}.")
    said += [f"{capital(f.name)}: {clearance_words(f)}." for f in _tip_floats(answer)]
    said += [_height_sentence(point) for point in answer.clearances_mm]
    if answer.step is not None and answer.step.behind_cg_mm is not None:
        said.append(f"Step {step_words(answer)}.")
    if answer.sinkage_g_per_mm is not None:
        said.append(f"{sinkage_text(answer.sinkage_g_per_mm)} sinks her deeper.")
    held = [check for check in answer.limits if check.ok and check.name in _KINDS]
    said += [f"The {_KINDS[check.name]} limit of {limit_words(check)} holds." for check in held]
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


def center_words(answer: FloatAnswer) -> str:
    """Return where the CG is: "CG at station 252, 31 mm above the datum"; "" if not known."""
    if answer.center_of_gravity_mm is None:
        return ""
    x, y, z = answer.center_of_gravity_mm
    high = "above" if z >= 0.0 else "below"
    side = f", {arm_text(abs(y))} to {'starboard' if y > 0.0 else 'port'}"
    aside = "" if arm_text(abs(y)).startswith("0 ") else side
    return f"CG at station {station_text(x)}{aside}, {arm_text(abs(z))} {high} the datum"


def _load(answer: FloatAnswer) -> str:
    """Return what she weighs in what, and in which setup."""
    setup = "" if answer.setup is None else f"Setup “{' '.join(answer.setup.split())}”: "
    unknown = () if answer.load is None or answer.load.all_up else answer.load.unknown
    without = ""
    if unknown:
        several = f"{len(unknown)} items that have no mass"
        without = f" without {' and '.join(unknown) if len(unknown) < 3 else several}"
    water = water_words(answer.water).partition(",")[0]
    return f"{setup}{mass_text(answer.mass_g)}{without} in {water}"


def _heights(answer: FloatAnswer) -> list[str]:
    """Return what the heights are read off, where that is not an opening, and what a station is."""
    found = openings(answer)
    if not found:
        return [f"No openings are given: heights are to the top of the hull. {stations_words()}"]
    if all(point.state == "sealed" for point in found):
        return [f"All openings are sealed: what counts is the top of the hull. {stations_words()}"]
    return []


def _cg_wanted(answer: FloatAnswer) -> str:
    """Return where her CG must be, where the title says another thing."""
    station = "" if answer.level is None else station_text(answer.level.center_of_buoyancy_mm[0])
    return f"Level she needs it at station {station}."


def _lowest_then(answer: FloatAnswer) -> list[str]:
    """Return how high her lowest opening stands held level."""
    point = limiting(answer)
    if point is None or point.what != "opening":
        return []
    name, stands = the(shown_name(point.name, size=False)), verb(point.name, "stands", "stand")
    return [f"{capital(name)} then {stands} {height_text(point.height_mm)} up."]


def _also_broken(answer: FloatAnswer) -> list[str]:
    """Return the broken limits that the title does not name."""
    said = title(answer)
    told = said.startswith(("Too low", "Trims too far", "Leans too far"))
    rest = broken_limits(answer)[1 if told else 0 :]
    words = []
    for check in rest:
        if check.name == "freeboard_mm":
            words.append(f"Below the freeboard limit of {limit_words(check)}.")
        else:
            kind = capital(_KINDS[check.name])
            words.append(f"{kind} {beyond_words(answer, check)}, limit {limit_words(check)}.")
    return words


def _unstable(answer: FloatAnswer) -> list[str]:
    """Return that she would not stay upright, where the title does not say it."""
    told = answer.upright_is_stable is not False or title(answer).startswith(("Will", "Unstable"))
    return [] if told or answer.rest == "upright" else ["Set upright she would not stay so."]


def _fittings_under(answer: FloatAnswer) -> list[str]:
    """Return wing tips and propeller that are under water."""
    return [
        f"{capital(the(point.name))} is {depth_text(-point.height_mm)} under water."
        for point in answer.clearances_mm
        if point.height_mm < 0.0 and not title(answer).startswith(capital(point.name))
    ]


def _room(answer: FloatAnswer) -> list[str]:
    """Return how many grams are left and the limit they end at."""
    if answer.margin_g is None:
        return []
    if answer.margin_g <= 0.0:
        return [] if broken_limits(answer) else ["No grams are left."]
    left = grams_left_text(answer.margin_g, grams_plus_minus(answer))
    return [f"Room for {left} more at her CG{_until(answer)}."]


def _until(answer: FloatAnswer) -> str:
    """Return what ends the grams left: " before the freeboard limit of 15 mm"."""
    by, at, here = answer.margin_limited_by or "", answer.margin_at, limiting(answer)
    check = next((c for c in answer.limits if c.name == by), None)
    if check is None:
        return {"sinks": " before she sinks", "capsizes": " before she falls over"}.get(by, "")
    limit = limit_words(check)
    if by == "freeboard_mm" and at is not None and here is not None and at != here.name:
        name = the(shown_name(at, size=False))
        return f", then {name} {verb(at, 'comes', 'come')} under {limit}"
    return f" before the {_KINDS.get(by, 'other')} limit of {limit}"


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


def _height_sentence(point: HeightPoint) -> str:
    """Return a point with its state and height: "Canopy edge (taped): 24 mm above the water."."""
    state = f" ({state_words(point.state)})" if point.what == "opening" else ""
    name = shown_name(point.name)
    name = name.replace("-", MINUS) if name.startswith("top of the hull") else name
    return f"{capital(name)}{state}: {height_words(point.height_mm)}."
