"""Heights over her mass for a sheet as narrow as a phone: the growth chart alone."""

from typing import TYPE_CHECKING, Final

from hullcheck.answers.sweep_records import SweepAnswer
from hullcheck.answers.sweep_samples import Samples
from hullcheck.report import style
from hullcheck.report.float_narrow import WIDTH
from hullcheck.report.growth_chart import value_axis
from hullcheck.report.growth_drawing import growth_chart
from hullcheck.report.growth_narrow import NarrowGrowth
from hullcheck.report.sheet import Sheet
from hullcheck.report.sweep_drawing import axis_words, curves_of
from hullcheck.report.sweep_titles import alt_text, title
from hullcheck.report.sweep_words import unit_of

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["sweep_narrow"]

NAME: Final = "sweep narrow"
_HIGH: Final = 290.0
_TICKS: Final = 6.0


def sweep_narrow(samples: Samples, answer: SweepAnswer) -> "Figure":
    """Return the drawing of a sweep over her mass or the water, 360 px wide.

    Parameters
    ----------
    samples : Samples
        That the answer was made with.
    answer : SweepAnswer
        From `hullcheck.answers.sweep_answer`.

    Returns
    -------
    matplotlib.figure.Figure
        3.6 in wide.

    Raises
    ------
    InputError
        As `hullcheck.report.sweep_drawing.sweep_drawing`.

    Notes
    -----
    The type is as large as on the wide drawing; title and facts are left to the page.
    """
    curves = curves_of(samples, answer)
    with style.context(NAME):
        sheet = Sheet(NAME)
        sheet.width = WIDTH
        form = NarrowGrowth()
        growth = growth_chart(sheet, answer, curves, -12.0, high=_HIGH, form=form)
        value_axis(growth.chart, answer, growth.bottom - 12.5, ticks=_TICKS, bare=True)
        words = f"{axis_words(answer)}, {unit_of(answer)}"
        wide = growth.chart.box.width
        at = (form.left, growth.bottom - 25.0)
        sheet.text(at, sheet.fitted(words, style.NOTE, wide), style.NOTE)
        sheet.cut(33.0 - growth.bottom)
        sheet.caption(title(answer), alt_text(answer))
    return sheet.figure
