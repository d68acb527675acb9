"""The drawing of a craft afloat: from port, from astern and from above, to scale."""

from typing import TYPE_CHECKING, Final

from hullcheck.answers.float_records import FloatAnswer
from hullcheck.craft.craft import Craft
from hullcheck.report import float_words, style
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.float_fittings import Disc, pencil_words
from hullcheck.report.float_front import LEFT as FRONT_LEFT
from hullcheck.report.float_front import front_points, front_title, front_view
from hullcheck.report.float_plan import LEFT as PLAN_LEFT
from hullcheck.report.float_plan import plan_title, plan_view
from hullcheck.report.float_scene import Scene
from hullcheck.report.float_side import extents_mm, side_view
from hullcheck.report.heading import head_width, wrapped_facts, write_head
from hullcheck.report.sheet import Sheet

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["alt_text", "drawing_bytes", "float_drawing"]

NAME: Final = "float"
_HULL_SHARE: Final = 0.8
_TALLEST: Final = 468.0
"""6.5 in [pt]."""
_TALLEST_SHEET: Final = 486.0
"""What labels in more lines may make of it: 6.75 in [pt]."""
_SMALLER: Final = 0.95
_WORDS_HEIGHT: Final = 265.0
"""What head, labels, dimensions and titles take of the height [pt]."""
_LEAST_OF_SCALE: Final = 0.95


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
        scene = Scene.of(craft, answer)
        disc, scale = _disc_and_scale(scene)
        sheet = _drawn(scene, disc, scale)
        # Labels and facts in more lines than usual make a sheet too tall.
        while sheet.height > _TALLEST_SHEET:
            scale *= _SMALLER
            sheet = _drawn(scene, disc, scale)
        words = " ".join([float_words.alt_text(answer), pencil_words(scene)]).strip()
        sheet.caption(float_words.title(answer), words)
    return sheet.figure


def _drawn(scene: Scene, disc: Disc, scale: float) -> Sheet:
    """Return the sheet with all three views at a scale [pt/mm]."""
    sheet = Sheet(NAME)
    end = _head(sheet, scene.answer)
    end = side_view(sheet, scene, end - 16.0, scale, disc)
    title = end - 22.0
    sheet.text((FRONT_LEFT, title), front_title(scene), style.VIEW_TITLE)
    sheet.text((PLAN_LEFT, title), plan_title(scene.answer), style.VIEW_TITLE)
    floor = front_view(sheet, scene, title - 10.0, scale, disc)
    floor = min(floor, title - 90.0)
    plan_view(sheet, scene, title - 12.0, floor, scale)
    sheet.cut(12.0 - floor)
    return sheet


def alt_text(answer: FloatAnswer) -> str:
    """Return the drawing in words: its finding and its numbers."""
    return float_words.alt_text(answer)


def _head(sheet: Sheet, answer: FloatAnswer) -> float:
    """Write the finding and the facts and return where they end [pt]."""
    lines: list[str] = []
    for sentence in float_words.facts(answer):
        joined = f"{lines[-1]} {sentence}" if len(lines) > 1 else ""
        if joined and sheet.width_of(joined, style.FACTS) <= head_width(sheet):
            lines[-1] = joined
        else:
            lines += wrapped_facts(sheet, [sentence])
    return write_head(sheet, float_words.title(answer), lines) - 3.0


def _disc_and_scale(scene: Scene) -> tuple[Disc, float]:
    """Return how much of the propeller is drawn, as much as costs next to no scale, and the scale.

    A disc high over the hull would shrink her on the sheet; what is asked is its lower end.
    """
    if scene.craft.fittings.propeller is None:
        return "whole", _scale(scene, "whole")
    cut = _scale(scene, "cut")
    discs: tuple[Disc, ...] = ("whole", "side")
    for disc in discs:
        scale = _scale(scene, disc)
        if scale >= _LEAST_OF_SCALE * cut:
            return disc, scale
    return "cut", cut


def _scale(scene: Scene, disc: Disc) -> float:
    """Return the side view's scale [pt/mm]: 80 % of the width, less if the sheet gets too tall."""
    fore, aft, low, high = extents_mm(scene, disc)
    front = front_points(scene, disc)
    tall = max(high, 0.0) - min(low, 0.0)
    if scene.broken:
        tall += max(float(front[:, 1].max()), 0.0) - min(float(front[:, 1].min()), 0.0)
        room = _TALLEST - _WORDS_HEIGHT
    else:
        room = _TALLEST - _WORDS_HEIGHT - 100.0
    return min(_HULL_SHARE * style.SHEET_WIDTH / max(aft - fore, 1e-9), room / tall)
