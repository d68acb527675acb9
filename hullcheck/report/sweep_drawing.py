"""The drawing of a sweep: heights over her mass or the water; over an item's place trim as well."""

from typing import TYPE_CHECKING, Final

from hullcheck.answers.sweep_records import SweepAnswer
from hullcheck.answers.sweep_samples import Samples
from hullcheck.errors import InputError
from hullcheck.report import style
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.growth_chart import Curves, value_axis
from hullcheck.report.growth_drawing import WIDE, growth_chart
from hullcheck.report.growth_trim import trim_chart
from hullcheck.report.heading import wrapped_facts, write_head
from hullcheck.report.sheet import Sheet
from hullcheck.report.sweep_titles import alt_text, facts, title
from hullcheck.report.sweep_words import unit_of

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["drawing_bytes", "sweep_drawing"]

NAME: Final = "sweep"
_ALONE: Final = 175.0
_ABOVE: Final = 135.0
"""Height of the chart of heights, alone and over another [pt]."""
_AXES: Final = {
    "x": "station of the {}, {} aft of the datum",
    "y": "y of the {}, {} to starboard of the center plane",
    "z": "z of the {}, {} up",
    "mass": "all she weighs",
    "water": "density of the water",
}


def sweep_drawing(samples: Samples, answer: SweepAnswer) -> "Figure":
    """Return the drawing of a sweep.

    Parameters
    ----------
    samples : Samples
        That the answer was made with; values between its rows are floated now.
    answer : SweepAnswer
        From `hullcheck.answers.sweep_answer`.

    Returns
    -------
    matplotlib.figure.Figure
        8 in wide; `drawing_bytes` turns it into a file.

    Raises
    ------
    InputError
        If there are not two values, or she sinks or lies capsized at nearly all of them: there is
        nothing to draw then.
    """
    curves = curves_of(samples, answer)
    with style.context(NAME):
        sheet = Sheet(NAME)
        end = _head(sheet, answer, curves)
        two = answer.over == "item"
        growth = growth_chart(sheet, answer, curves, end - 22.0, high=_ABOVE if two else _ALONE)
        bottom, chart = growth.bottom, growth.chart
        if two:
            chart, bottom = trim_chart(sheet, answer, curves, growth)
        value_axis(chart, answer, bottom - 12.5)
        words = axis_words(answer)
        wide = chart.box.right - WIDE.left
        sheet.text((WIDE.left, bottom - 25.0), sheet.fitted(words, style.NOTE, wide), style.NOTE)
        sheet.cut(37.0 - bottom)
        sheet.caption(title(answer), alt_text(answer))
    return sheet.figure


def curves_of(samples: Samples, answer: SweepAnswer) -> Curves:
    """Return the curves of a sweep, or refuse one of which there is nothing to draw."""
    if len(answer.rows) < 2:
        raise InputError("a drawing of a sweep needs two values at least")
    curves = Curves.of(samples, answer)
    if curves.afloat.sum() < 2 or not curves.heights:
        raise InputError(f"{answer.craft} sinks or capsizes all the way: there is nothing to draw")
    return curves


def axis_words(answer: SweepAnswer) -> str:
    """Return what the values under the chart are."""
    axis = answer.axis or "x" if answer.over == "item" else answer.over
    return _AXES[axis].format(answer.item, unit_of(answer))


def _head(sheet: Sheet, answer: SweepAnswer, curves: Curves) -> float:
    """Write the finding and the facts and return where they end [pt]."""
    said = facts(answer)
    if curves.left_out:
        many = curves.left_out > 1
        said += f" {curves.left_out} higher opening{'s are' if many else ' is'} not drawn."
    return write_head(sheet, title(answer), wrapped_facts(sheet, [said]))
