"""Her seams by state for a sheet as narrow as a phone: both views, labels over and under them."""

from typing import TYPE_CHECKING, Final

from hullcheck.answers.seams_records import SeamsAnswer
from hullcheck.craft.craft import Craft
from hullcheck.report import style
from hullcheck.report.float_narrow import WIDTH
from hullcheck.report.seams_drawing import alt_text, seen_seams
from hullcheck.report.seams_narrow_labels import ColumnForm, write_list
from hullcheck.report.seams_views import Scheme, Views
from hullcheck.report.seams_words import title
from hullcheck.report.sheet import Sheet

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["seams_narrow"]

NAME: Final = "seams narrow"
_SCHEME: Final = Scheme(share=0.9, tallest=92.0, widest=150.0, form=ColumnForm())


def seams_narrow(craft: Craft, answer: SeamsAnswer) -> "Figure":
    """Return the drawing of a craft's seams and openings by state, 360 px wide.

    Parameters
    ----------
    craft : Craft
        At the load of the answer.
    answer : SeamsAnswer
        From `hullcheck.answers.seams_answer`.

    Returns
    -------
    matplotlib.figure.Figure
        3.6 in wide.

    Notes
    -----
    Lines, marks and words of `hullcheck.report.seams_drawing`, the type as large; its title is left
    to the page. Those that find no room beside a view are listed under both with their marks.
    """
    with style.context(NAME):
        sheet = Sheet(NAME)
        sheet.width = WIDTH
        scene, drawn = seen_seams(craft, answer)
        views = Views.of(sheet, scene, drawn, answer.now, _SCHEME)
        end = views.draw(-4.0)
        sheet.cut(4.0 - write_list(sheet, views.unnamed, answer.now, end))
        sheet.caption(title(answer), alt_text(answer))
    return sheet.figure
