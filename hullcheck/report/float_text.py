"""Where she floats, in words: the first screen, the answer first."""

import math
from typing import Final

from hullcheck.answers.float_records import BodyShare, FloatAnswer, Freeboard, StepReport
from hullcheck.report.numbers import (
    angle_text,
    arm_text,
    depth_text,
    draft_text,
    height_text,
    mass_text,
    station_text,
)
from hullcheck.report.words import (
    LEAST_ANGLE_DEG,
    heel_words,
    height_words,
    trim_words,
    water_words,
)

READING_MM: Final = 1.0
"""Surface tension and a ruler make about this much (common practice, no source)."""
CAUTION: Final = (
    "this is arithmetic on your files, no clearance to go on the water. Water and batteries, "
    "propellers and cold water want the usual care; local rules and your own eyes decide."
)
_LABEL: Final = 14


def first_screen(answer: FloatAnswer) -> list[str]:
    """Return the answer in at most seven lines of at most 80 characters.

    Parameters
    ----------
    answer : FloatAnswer
        Where she floats.

    Returns
    -------
    list of str
        Mass and water; how she rests; lowest edge; grams a millimeter; trim and its cause; what
        holds her upright; the step.
    """
    head = f"{answer.craft} · {mass_text(answer.mass_g)} all-up · {water_words(answer.water)}"
    if answer.short_by_g is not None:
        return [head, *_sunk_lines(answer)]
    return [
        head,
        rest_sentence(answer),
        _row("Lowest edge", _edge(answer.freeboard_mm)),
        _row("Load", _load(answer)),
        _row("CG wanted", _wanted(answer)) if answer.rest is None else _row("Trim", _trim(answer)),
        _row("Stability", _stability(answer)),
        _row("Step", _step(answer.step)),
    ]


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
    least = None if answer.freeboard_mm is None else answer.freeboard_mm.least
    if least is not None and least < 0.0:
        return f"Deck under water by {depth_text(-least)}: she lies {trim}, {leaned}."
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


def _edge(freeboard: Freeboard | None) -> str:
    """Return the lowest edge of the hull and its height."""
    if freeboard is None or freeboard.least is None or freeboard.at is None:
        return "not known: the hull has no top along the waterline"
    return f"{height_words(freeboard.least, READING_MM)}: {freeboard.at}"


def _load(answer: FloatAnswer) -> str:
    """Return what a load does to her."""
    plane = answer.waterplane
    if plane is None or answer.sinkage_g_per_mm is None:
        return "not known"
    return (
        f"{mass_text(answer.sinkage_g_per_mm)} sink her 1 mm; put at station "
        f"{station_text(plane.centroid_mm[0])} they leave her trim alone"
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
    if round(abs(off), 1) < 0.1:
        return f"{words}: CG at {here}, where level wants it"
    way = "aft" if off > 0.0 else "ahead"
    return f"{words}: CG at {here}, {arm_text(abs(off))} {way} of {wanted} where level wants it"


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
    return (
        f"{upright}; GM {arm_text(lever.transverse)} across; "
        f"CG at z {station_text(answer.center_of_gravity_mm[2])}, "
        f"highest {station_text(math.floor(level.highest_cg_z_mm))}"
    )


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
        _row("Skin", f"{volume:.0f} cm³ carry {mass_text(answer.mass_g - short)} and no more"),
        _row("Next", "check the mass, and the unit the meshes were read in"),
    ]
