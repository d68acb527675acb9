"""The drawing of water run aft: from port at the nose-up angle, and the CG against its band."""

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from hullcheck.answers.float_answer import float_answer
from hullcheck.answers.flood_records import FloodAnswer, WaterCase
from hullcheck.craft.build import Build
from hullcheck.craft.compartment import compartment_named
from hullcheck.craft.compartments import compartments_of
from hullcheck.craft.limits import Limits
from hullcheck.errors import InputError
from hullcheck.flotation.flooded import held_flooded
from hullcheck.report import style
from hullcheck.report.display import shown
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.float_scene import Scene
from hullcheck.report.flood_band import draw_band
from hullcheck.report.flood_side import RunAft, draw_side
from hullcheck.report.flood_words import behind_words, run_aft, run_sentence, telling_case
from hullcheck.report.heading import wrapped_facts, write_head
from hullcheck.report.numbers import angle_text, arm_text, mass_text, station_text
from hullcheck.report.sheet import Sheet

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["drawing_bytes", "flood_drawing"]

NAME: Final = "flood"


def flood_drawing(build: Build, answer: FloodAnswer) -> "Figure":
    """Return the drawing of water that runs aft when the nose comes up.

    Parameters
    ----------
    build : Build
        That the answer is of.
    answer : FloodAnswer
        From `hullcheck.answers.flood_answer`.

    Returns
    -------
    matplotlib.figure.Figure
        8 in wide.

    Raises
    ------
    InputError
        If no compartment holds the water that was to be put in it, or she sinks with it.

    Notes
    -----
    True scale from port, held at the nose-up angle, afloat with the most water. Of all compartments
    the one whose water takes the CG furthest aft; that water is filled in, its level drawn, less of
    it as light lines. Under it her CG, dry and with each mass, on a scale of its own against the
    gray bar of its band; the first out of the band stands in a flag.
    """
    cases = run_aft(answer)
    if not cases:
        raise InputError(
            "there is nothing to draw: no compartment holds the water that was to be put in it; "
            "give less by --grams"
        )
    with style.context(NAME):
        sheet = Sheet(NAME)
        end = write_head(sheet, title(answer), wrapped_facts(sheet, facts(answer))) - 3.0
        angle = angle_text(answer.nose_up_deg)
        view = f"From port, held {angle} nose up, {mass_text(cases[-1].water_g)} run aft"
        sheet.text((style.MARGIN, end - 14.0), view, style.VIEW_TITLE)
        end = draw_side(sheet, _run(build, answer, cases), end - 24.0)
        words = f"Station of her CG with the water run aft, {shown().length} aft of the datum"
        sheet.text((style.MARGIN, end - 20.0), words, style.VIEW_TITLE)
        end = draw_band(sheet, answer, cases, end - 30.0)
        sheet.cut(8.0 - end)
        sheet.caption(title(answer), alt_text(answer))
    return sheet.figure


def title(answer: FloodAnswer) -> str:
    """Return the finding, at most 62 characters: "25 g running aft put the CG 3 mm behind …"."""
    case = telling_case(answer)
    if case is None:
        return "No compartment holds the water asked about"
    grams, up = mass_text(case.water_g), case.nose_up
    if up.behind_band_mm is None:
        moved = up.center_of_gravity_mm[0] - answer.center_of_gravity_mm[0]
        return f"{grams} running aft move the CG {arm_text(abs(moved))} {_way(moved)}"
    if up.behind_band_mm == 0.0:
        return f"{grams} running aft leave the CG in its band"
    does = "put" if up.behind_band_mm > 0.0 else "leave"
    return f"{grams} running aft {does} the CG {behind_words(up.behind_band_mm)}"


def facts(answer: FloodAnswer) -> list[str]:
    """Return the facts under the finding."""
    name = answer.craft if answer.setup is None else f"{answer.craft}, {answer.setup}"
    at = station_text(answer.center_of_gravity_mm[0])
    said = f"{name} · without water {mass_text(answer.mass_g)}, CG at {at}"
    return [said, f"Nose {angle_text(answer.nose_up_deg)} up: {answer.nose_up_from}"]


def alt_text(answer: FloodAnswer) -> str:
    """Return the drawing in words."""
    said = [title(answer), *(run_sentence(answer, case) for case in run_aft(answer))]
    return ". ".join([*said, *facts(answer)])


def _way(moved_mm: float) -> str:
    """Return which way something moves."""
    return "aft" if moved_mm >= 0.0 else "forward"


def _run(build: Build, answer: FloodAnswer, cases: tuple[WaterCase, ...]) -> RunAft:
    """Return what the side view shows."""
    # Only how she lies is drawn: without limits no grams left are looked for.
    craft = replace(build.craft(answer.setup), limits=Limits())
    one = compartment_named(compartments_of(build), cases[-1].compartment)
    held = held_flooded(
        craft.skin,
        mass_g=craft.mass_g,
        center_of_gravity_mm=answer.center_of_gravity_mm,
        density_kg_m3=craft.water.density_kg_m3,
        aboard=[one.aboard(cases[-1].water_g)],
        trim_deg=answer.nose_up_deg,
    )
    if held is None:
        raise InputError(
            f"there is nothing to draw: with {cases[-1].water_g:g} g in {one.name} she sinks; give "
            "less by --grams"
        )
    scene = Scene(
        craft=craft,
        answer=float_answer(craft),
        normal=held.floating.normal,
        height_mm=held.floating.height_mm,
    )
    return RunAft(scene=scene, answer=answer, cases=cases, compartment=one)
