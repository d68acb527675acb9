"""Where she floats, in words: the first screen, the answer first."""

import math
from collections.abc import Iterable
from typing import Final

from hullcheck.answers.float_records import BodyShare, FloatAnswer, StepReport
from hullcheck.answers.weights_records import WeightsAnswer
from hullcheck.report.fitting import fitting
from hullcheck.report.float_titles import beyond_words, limiting
from hullcheck.report.limit_words import doubts, limit_words, margin_end
from hullcheck.report.numbers import (
    angle_text,
    arm_text,
    depth_text,
    draft_text,
    grams_left_text,
    height_text,
    mass_text,
    sinkage_parts,
    station_text,
    volume_text,
)
from hullcheck.report.plus_minus import grams_plus_minus, height_plus_minus_mm
from hullcheck.report.words import (
    LEAST_ANGLE_DEG,
    capital,
    heel_words,
    height_words,
    shown_name,
    state_words,
    trim_words,
    water_words,
)

CAUTION: Final = (
    "this is arithmetic on your files, no clearance to go on the water. Water and batteries, "
    "propellers and cold water want the usual care; local rules and your own eyes decide."
)
_LABEL: Final = 16
_WIDTH: Final = 80
_LINES: Final = 7
_TENDER: Final = 0.05
"""Of the waterline's beam: a smaller GM is soon lost (common practice, no source)."""


def first_screen(answer: FloatAnswer) -> list[str]:
    """Return the answer in at most seven lines of at most 80 characters.

    Parameters
    ----------
    answer : FloatAnswer
        Where she floats.

    Returns
    -------
    list of str
        Mass and water; how she rests; lowest opening or edge; grams left, or what a load does; trim
        and its cause; what holds her upright; the step; what is not known. Openings in doubt come
        right after the head when they lie under water or within the freeboard limit.
    """
    head = head_line(answer)
    if answer.short_by_g is not None:
        return [head, *_sunk_lines(answer)]
    doubt = doubts(answer)
    unknown = [_row("Not known", text) for text in doubt.lines(_WIDTH - _LABEL)]
    lines = [
        rest_sentence(answer),
        _row(*_lowest(answer)),
        _row(*_room(answer)),
        _row("CG wanted", _wanted(answer)) if answer.rest is None else _row("Trim", _trim(answer)),
        _row("Stability", _stability(answer)),
        _row("Step", _step(answer.step)),
    ]
    if 1 + len(lines) + len(unknown) > _LINES:
        # Where little holds her upright that comes before the step, and before what is not known
        # but does not matter either: that stands among the notes.
        if not is_tender(answer):
            del lines[-2]
        elif doubt.matters:
            del lines[-1]
        else:
            unknown = []
    return [head, *unknown, *lines] if doubt.matters else [head, *lines, *unknown]


def is_tender(answer: FloatAnswer) -> bool:
    """Return whether little or nothing holds her upright: GM under a twentieth of her beam."""
    lever, plane = answer.metacentric_height_mm, answer.waterplane
    if lever is None or plane is None or not answer.upright_is_stable:
        return True
    return lever.transverse < _TENDER * plane.beam_mm


def head_line(answer: FloatAnswer | WeightsAnswer) -> str:
    """Return who she is, what she weighs and in what water."""
    name = answer.craft if answer.setup is None else f"{answer.craft}, {answer.setup}"
    water = water_words(answer.water)
    mass, load = mass_text(answer.mass_g), answer.load
    if load is None or (load.mass_is_measured and not load.items):
        return f"{name} · {mass} all-up · {water}"
    if load.mass_is_measured:
        how = " all-up (given whole)"
    elif not load.all_up:
        missing = load.unknown[0] if len(load.unknown) == 1 else f"{len(load.unknown)} items"
        how = f", not all-up: {missing} not known"
    else:
        how = f" all-up ({load.weighed} of {load.items} items weighed)"
    return next(
        (line for line in (f"{name} · {mass}{how} · {water}",) if len(line) <= _WIDTH),
        f"{name} · {mass}{'' if load.all_up else ', not'} all-up · {water}",
    )


def rest_sentence(answer: FloatAnswer) -> str:
    """Return how she rests, in one sentence."""
    trim = trim_words(answer.trim_deg or 0.0)
    if answer.rest is None:
        draft = answer.level.draft_mm if answer.level else 0.0
        return f"Held level she draws {draft_text(draft)}. Her CG is not given."
    heel = answer.heel_deg or 0.0
    leaned = heel_words(heel)
    if answer.rest == "capsized":
        return f"Capsizes: set down upright she goes over {leaned} and stays there."
    if answer.rest.startswith("on "):
        return f"Rests {answer.rest}, leaning {leaned}, {trim}."
    low = limiting(answer)
    if low is not None and low.height_mm < 0.0:
        what = capital(shown_name(low.name, size=False)) if low.what == "opening" else "Deck"
        return f"{what} under water by {depth_text(-low.height_mm)}: she lies {trim}, {leaned}."
    floats = _tip_floats(answer.bodies)
    if answer.rest == "upright":
        level = leaned if abs(heel) < LEAST_ANGLE_DEG else f"leaning {leaned}"
        return f"Floats upright, {trim}, {level}{floats}."
    return f"Floats with a list of {leaned}, {trim}{floats}."


def _row(label: str, text: str) -> str:
    """Return a labeled line."""
    return f"{label:<{_LABEL}}{text}"


def _tip_floats(bodies: tuple[BodyShare, ...]) -> str:
    """Return how the tip floats stand to the water, as the end of a sentence."""
    gaps = [b.clearance_mm for b in bodies if b.role == "tip float" and b.clearance_mm is not None]
    if not gaps:
        return ""
    if min(gaps) > 0.0:
        count = "both tip floats" if len(gaps) == 2 else "tip floats" if len(gaps) > 2 else "float"
        return f"; {count} clear by {height_text(min(gaps))}"
    if max(gaps) <= 0.0:
        return f"; tip floats in the water by {depth_text(-min(gaps))}"
    return f"; one tip float in the water by {depth_text(-min(gaps))}"


def _fitting(texts: Iterable[str]) -> str:
    """Return the first text that fits behind a label; the last one cut if none does."""
    return fitting(texts, _WIDTH - _LABEL)


def _lowest(answer: FloatAnswer) -> tuple[str, str]:
    """Return the lowest opening that is not sealed, or the lowest edge, with its height."""
    low = limiting(answer)
    if low is None:
        return "Lowest edge", "not known: the hull has no top along the waterline"
    height = height_words(low.height_mm, height_plus_minus_mm(answer))
    limit = limit_words(answer, "freeboard_mm")
    whole, short = shown_name(low.name), shown_name(low.name, size=False)
    if low.what != "opening":
        return "Lowest edge", f"{height}: {whole}{limit}"
    state = state_words(low.state)
    names = [f"{whole} ({state})", f"{short} ({state})", whole, short]
    up = height.removesuffix(" above the water")
    tight = (f"{up}: {short}{limit}", f"{up}{limit}: {short}")
    return "Lowest opening", _fitting((*(f"{height}: {name}{limit}" for name in names), *tight))


def _room(answer: FloatAnswer) -> tuple[str, str]:
    """Return the grams left and what ends them, or what a load does where there is no limit."""
    if answer.margin_g is None or answer.margin_limited_by is None:
        return "Load", _load(answer)
    end = margin_end(answer)
    if answer.margin_g <= 0.0:
        return "Grams left", f"none: {end} already"
    left = grams_left_text(answer.margin_g, grams_plus_minus(answer))
    return "Grams left", f"{left}, then {end}"


def _load(answer: FloatAnswer) -> str:
    """Return what a load does to her."""
    plane = answer.waterplane
    if plane is None or answer.sinkage_g_per_mm is None:
        return "not known"
    grams, depth = sinkage_parts(answer.sinkage_g_per_mm)
    return (
        f"{grams} sink her {depth}; put at station {station_text(plane.centroid_mm[0])} they leave "
        "her trim alone"
    )


def _trim(answer: FloatAnswer) -> str:
    """Return the trim with its cause: where the CG lies against where level wants it."""
    level, center = answer.level, answer.center_of_gravity_mm
    if level is None or center is None or level.cg_aft_of_cb_mm is None:
        return "not known"
    off = level.cg_aft_of_cb_mm
    wanted = station_text(level.center_of_buoyancy_mm[0])
    here = station_text(center[0])
    words = trim_words(answer.trim_deg or 0.0)
    if answer.rest == "capsized":
        # On her side or back the CG's place along her does not tell why she trims.
        plain = f"{words} as she lies"
        return _fitting((f"{plain}; level she wants her CG at {wanted}, it is at {here}", plain))
    limit = limit_words(answer, "trim_deg")
    check = next((c for c in answer.limits if c.name == "trim_deg" and not c.ok), None)
    if check is not None:
        words = beyond_words(answer, check)
    plain = f"{words}: CG at {here}, level wants {wanted}{limit}"
    if limit:
        return plain
    if round(abs(off), 1) < 0.1:
        return f"{words}: CG at {here}, where level wants it"
    way = "aft" if off > 0.0 else "ahead"
    cause = f"{words}: CG at {here}, {arm_text(abs(off))} {way} of {wanted} where level wants it"
    return _fitting((cause, plain))


def _wanted(answer: FloatAnswer) -> str:
    """Return where her CG must be for her to float level and upright."""
    level = answer.level
    if level is None:
        return "not known"
    x, y, _ = level.center_of_buoyancy_mm
    across = "" if abs(y) < 0.5 else f", y = {arm_text(y)}"
    top = station_text(math.floor(level.highest_cg_z_mm))
    return f"station {station_text(x)}{across}, below z = {top} to stay upright"


def _stability(answer: FloatAnswer) -> str:
    """Return what holds her upright."""
    level, lever = answer.level, answer.metacentric_height_mm
    if lever is None or answer.center_of_gravity_mm is None or level is None:
        radius = answer.metacentric_radius_mm
        if radius is None:
            return "not known"
        return f"BM {arm_text(radius.transverse)} across, {arm_text(radius.longitudinal)} along"
    upright = "upright is stable" if answer.upright_is_stable else "upright is not stable"
    z = station_text(answer.center_of_gravity_mm[2])
    highest = station_text(math.floor(level.highest_cg_z_mm))
    arm = arm_text(lever.transverse)
    if answer.rest == "upright":
        return _fitting((f"{upright}; GM {arm} across; CG at z {z}, highest {highest}",))
    where = f"{upright}: CG at z {z}, highest {highest}"
    return _fitting((f"{where}; as she lies GM {arm}", where))


def _step(step: StepReport | None) -> str:
    """Return where the step lies against the CG."""
    if step is None:
        return "none found on the center plane of the bottom"
    place = f"station {station_text(step.station_mm)}"
    if step.behind_cg_mm is None or step.angle_from_cg_deg is None:
        return f"{place}, {arm_text(step.depth_mm)} deep"
    way = "behind" if step.behind_cg_mm >= 0.0 else "ahead of"
    return (
        f"{place}: {arm_text(abs(step.behind_cg_mm))}, "
        f"{angle_text(abs(step.angle_from_cg_deg))} {way} the CG (from the keel's normal)"
    )


def _sunk_lines(answer: FloatAnswer) -> list[str]:
    """Return the lines of a craft that sinks."""
    short = answer.short_by_g or 0.0
    volume = sum(body.volume_cm3 for body in answer.bodies)
    return [
        f"Sinks: she is {mass_text(short)} too heavy for the whole skin.",
        _row("Skin", f"{volume_text(volume)} carry {mass_text(answer.mass_g - short)} and no more"),
        _row("Next", "check the mass, the unit of meshes or offsets, a twin forgotten"),
    ]
