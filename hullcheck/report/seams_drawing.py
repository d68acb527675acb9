"""The drawing of her seams by state: from port in the water, and from below at the same scale."""

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from hullcheck.answers.float_answer import float_answer
from hullcheck.answers.seams_answer import distinct
from hullcheck.answers.seams_order import advice, not_ready
from hullcheck.answers.seams_records import SeamReport, SeamsAnswer
from hullcheck.craft.craft import Craft
from hullcheck.craft.limits import Limits
from hullcheck.craft.seam_lines import seam_lines
from hullcheck.report import style
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.float_scene import Scene
from hullcheck.report.heading import wrapped_facts, write_head
from hullcheck.report.seams_labels import label_words, place_words
from hullcheck.report.seams_scene import Drawn, drawn_seams
from hullcheck.report.seams_views import Views
from hullcheck.report.seams_words import short_name, state_words, title
from hullcheck.report.sheet import Sheet
from hullcheck.report.words import capital

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["drawing_bytes", "seams_drawing"]

NAME: Final = "seams"
_MOST_FACTS: Final = 2
"""Lines of facts under the finding."""


def seams_drawing(craft: Craft, answer: SeamsAnswer) -> "Figure":
    """Return the drawing of a craft's seams and openings by state.

    Parameters
    ----------
    craft : Craft
        At the load of the answer.
    answer : SeamsAnswer
        From `hullcheck.answers.seams_answer`.

    Returns
    -------
    matplotlib.figure.Figure
        8 in wide.

    Notes
    -----
    True scale. What is not sealed, or not known to be, is dotted; what cures is dashed, what was
    re-opened broken; a sealed seam is a line, a thin one where only the sheet says so; one that was
    tested dry is a double line; one that leaked is a zigzag in the color of limits. Each is named
    once, in the view that shows it best; those that find no room are told under the views.
    """
    with style.context(NAME):
        sheet = Sheet(NAME)
        name = title(answer)
        end = _head(sheet, name, answer)
        scene, drawn = seen_seams(craft, answer)
        views = Views.of(sheet, scene, drawn, answer.now)
        end = views.draw(end - 12.0)
        sheet.cut(10.0 - _also(sheet, views.unnamed, answer.now, end))
        sheet.caption(name, alt_text(answer))
    return sheet.figure


def seen_seams(craft: Craft, answer: SeamsAnswer) -> tuple[Scene, tuple[Drawn, ...]]:
    """Return a craft in the water, and her seams as they are seen from port and from below."""
    # Only how she floats is drawn: without limits no grams left are looked for.
    afloat = replace(craft, limits=Limits())
    scene = Scene.of(afloat, float_answer(afloat))
    return scene, drawn_seams(scene, distinct(seam_lines(craft)), answer)


def facts(answer: SeamsAnswer) -> str:
    """Return the facts under the finding: what must be acted on, the worst first."""
    due = [s for s in answer.seams if s.state == "leaked" or not_ready(s)]
    due = due or [s for s in answer.seams if advice(s) != "none"]
    said = [_fact(seam, answer.now) for seam in due]
    return " ".join(said) if said else "Every seam under water was tested dry."


def _fact(seam: SeamReport, now: str) -> str:
    """Return a seam and its state as a short sentence."""
    name, words = capital(short_name(seam.name)), state_words(seam, now)
    if seam.state == "leaked" and seam.height_mm is not None:
        words = f"{words}, {place_words(seam)}"
    return f"{name}: {words}."


def alt_text(answer: SeamsAnswer) -> str:
    """Return the drawing in words."""
    seams = "; ".join(
        f"{short_name(seam.name)}: {state_words(seam, answer.now)}, {place_words(seam)}"
        for seam in answer.seams
    )
    return f"{title(answer)}. {seams}."


def _head(sheet: Sheet, words: str, answer: SeamsAnswer) -> float:
    """Write the finding and the facts and return where they end [pt]."""
    lines = wrapped_facts(sheet, [facts(answer)])
    if len(lines) > _MOST_FACTS:
        # The last line is cut with three dots: there is more.
        lines = [*lines[: _MOST_FACTS - 1], f"{lines[_MOST_FACTS - 1]} {lines[_MOST_FACTS]}"]
    return write_head(sheet, words, lines) - 3.0


def _also(sheet: Sheet, unnamed: tuple[SeamReport, ...], now: str, end: float) -> float:
    """Write what found no room for a label and return where that ends [pt]."""
    if not unnamed:
        return end
    groups: dict[str, list[str]] = {}
    for seam in unnamed:
        groups.setdefault(label_words(seam, now)[0], []).append(short_name(seam.name))
    said = "; ".join(f"{words}: {', '.join(names)}" for words, names in groups.items())
    width = sheet.width - 2.0 * style.MARGIN
    y = end - 12.0
    for line in sheet.wrapped(f"Also {said}", style.NOTE, width):
        sheet.text((style.MARGIN, y), sheet.fitted(line, style.NOTE, width), style.NOTE)
        y -= 11.0
    return y + 6.0
