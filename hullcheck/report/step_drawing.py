"""The drawing of step and bottom: profile with its angles, sections, and every rule as a band."""

from typing import TYPE_CHECKING, Final

from hullcheck.answers.step_records import RuleCheck, StepAnswer
from hullcheck.craft.craft import Craft
from hullcheck.report import step_words, style
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.heading import wrapped_facts, write_head
from hullcheck.report.numbers import station_text
from hullcheck.report.sheet import Sheet
from hullcheck.report.step_bands import Ends, draw_blocks
from hullcheck.report.step_profile import draw_profile
from hullcheck.report.step_scene import StepScene

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["drawing_bytes", "step_drawing"]

NAME: Final = "step"
_BLOCKS: Final = (
    "step_behind_cg",
    "step_angle",
    "step_depth",
    "afterbody_angle",
    "sternpost_angle",
)
"""Quantities that are drawn; coefficients stand in the table, as pure numbers say little here."""


def step_drawing(craft: Craft, answer: StepAnswer, *, floats: bool = False) -> "Figure":
    """Return the drawing of a craft's step against the rules.

    Parameters
    ----------
    craft : Craft
        Whose step it is.
    answer : StepAnswer
        From `hullcheck.answers.step_answer`.
    floats : bool, default False
        Whether the rules for twin floats are drawn instead of those for the step.

    Returns
    -------
    matplotlib.figure.Figure
        8 in wide and as high as its rules need.

    Notes
    -----
    True scale in profile and sections. A block for each quantity on its own scale from 0: gray bars
    for what a rule asks for, one ink line for the craft, an open diamond where a rule reads from
    another line. Nothing is judged, so nothing is in the color of limits.
    """
    with style.context(NAME):
        sheet = Sheet(NAME)
        title = step_words.floats_title(answer) if floats else step_words.title(answer)
        lines = wrapped_facts(sheet, step_words.facts(answer, floats=floats))
        end = write_head(sheet, title, lines) - 3.0
        end = draw_profile(sheet, StepScene.of(craft, answer), end - 20.0)
        end = draw_blocks(sheet, _rules(answer, floats=floats), end - 14.0, _ranges(answer))
        sheet.cut(14.0 - end)
        sheet.caption(title, step_words.alt_text(answer, floats=floats))
    return sheet.figure


def _rules(answer: StepAnswer, *, floats: bool) -> list[RuleCheck]:
    """Return the rules that are drawn, model practice before full size."""
    if floats:
        return [] if answer.floats is None else list(answer.floats.rules)
    if answer.step is None:
        return []
    return [rule for rule in answer.rules if rule.quantity in _BLOCKS]


def _ranges(answer: StepAnswer) -> dict[str, Ends]:
    """Return what moving the CG inside its range does to what is drawn."""
    band = answer.cg_range_mm
    if len(answer.places_in_cg_range) != 2 or band is None:
        return {}
    one, two = answer.places_in_cg_range
    name = f"Her CG at {station_text(band[0])} to {station_text(band[1])}"
    return {
        "step_behind_cg": Ends(name=name, one=one.behind_cg_mm, two=two.behind_cg_mm),
        "step_angle": Ends(name=name, one=one.angle_from_keel_deg, two=two.angle_from_keel_deg),
    }
