"""The drawing of a craft afloat: from port, from astern and from above, to scale."""

from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.answers.float_records import FloatAnswer
from hullcheck.craft.craft import Craft
from hullcheck.report import float_words, style
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.float_front import LEFT as FRONT_LEFT
from hullcheck.report.float_front import front_title, front_view
from hullcheck.report.float_plan import LEFT as PLAN_LEFT
from hullcheck.report.float_plan import plan_title, plan_view
from hullcheck.report.float_scene import Scene
from hullcheck.report.float_side import extents_mm, side_view
from hullcheck.report.sheet import Sheet

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["alt_text", "drawing_bytes", "float_drawing"]

NAME: Final = "float"
_HULL_SHARE: Final = 0.8
_TALLEST: Final = 468.0
"""6.5 in [pt]."""
_WORDS_HEIGHT: Final = 265.0
"""What head, labels, dimensions and titles take of the height [pt]."""


def float_drawing(craft: Craft, answer: FloatAnswer) -> "Figure":
    """Return the drawing of where a craft floats.

    Parameters
    ----------
    craft : Craft
        What floats.
    answer : FloatAnswer
        Where she floats, from `hullcheck.answers.float_answer`.

    Returns
    -------
    matplotlib.figure.Figure
        8 in wide and up to 6.5 in high; `drawing_bytes` turns it into a file.

    Notes
    -----
    True scale in each view, never stretched; lengths left out are marked by two slashes. Bow left
    from port and from above, starboard right from astern and up from above.
    """
    with style.context(NAME):
        sheet = Sheet(NAME)
        scene = Scene.of(craft, answer)
        scale = _scale(scene)
        end = _head(sheet, answer)
        end = side_view(sheet, scene, end - 16.0, scale)
        title = end - 22.0
        sheet.text((FRONT_LEFT, title), front_title(scene), style.VIEW_TITLE)
        sheet.text((PLAN_LEFT, title), plan_title(answer), style.VIEW_TITLE)
        floor = front_view(sheet, scene, title - 10.0, scale)
        floor = min(floor, title - 90.0)
        plan_view(sheet, scene, title - 12.0, floor, scale)
        sheet.cut(12.0 - floor)
        sheet.caption(float_words.title(answer), float_words.alt_text(answer))
    return sheet.figure


def alt_text(answer: FloatAnswer) -> str:
    """Return the drawing in words: its finding and its numbers."""
    return float_words.alt_text(answer)


def _head(sheet: Sheet, answer: FloatAnswer) -> float:
    """Write the finding and the facts and return where they end [pt]."""
    sheet.text((style.MARGIN, -20.0), float_words.title(answer), style.HEADLINE)
    width = sheet.width - 2.0 * style.MARGIN
    lines: list[str] = []
    for sentence in float_words.facts(answer):
        joined = f"{lines[-1]} {sentence}" if len(lines) > 1 else ""
        if joined and sheet.width_of(joined, style.FACTS) <= width:
            lines[-1] = joined
        else:
            lines += sheet.wrapped(sentence, style.FACTS, width)
    baseline = -38.5
    for i, line in enumerate(lines):
        baseline = -38.5 - 12.6 * i
        sheet.text((style.MARGIN, baseline), line, style.FACTS)
    return baseline - 3.0


def _scale(scene: Scene) -> float:
    """Return the side view's scale [pt/mm]: 80 % of the width, less if the sheet gets too tall."""
    fore, aft, low, high = extents_mm(scene)
    front = np.concatenate([loop for s in scene.shapes for loop in s.front])
    tall = max(high, 0.0) - min(low, 0.0)
    if scene.broken:
        tall += max(float(front[:, 1].max()), 0.0) - min(float(front[:, 1].min()), 0.0)
        room = _TALLEST - _WORDS_HEIGHT
    else:
        room = _TALLEST - _WORDS_HEIGHT - 100.0
    return min(_HULL_SHARE * style.SHEET_WIDTH / max(aft - fore, 1e-9), room / tall)
