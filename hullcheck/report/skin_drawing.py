"""The drawing of how the files were read: the parts set apart, and the skin they make."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.answers.skin_records import SkinAnswer
from hullcheck.craft.body_skin import BodySkin
from hullcheck.report import skin_facts, skin_words, style
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.heading import head_width, wrapped_facts, write_head
from hullcheck.report.sheet import Sheet
from hullcheck.report.skin_exploded import APART, exploded_view, main_row
from hullcheck.report.skin_page import Page
from hullcheck.report.skin_plan import NAME_APART, flat_view
from hullcheck.report.skin_scene import BodyShape, SkinScene
from hullcheck.report.skin_views import side_view
from hullcheck.report.words import shown_name

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["alt_text", "drawing_bytes", "skin_drawing"]

NAME: Final = "skin"
_TALLEST: Final = 590.0
"""8.2 in [pt]; what shows a view from below besides may be taller by its share."""
_BELOW: Final = 50.0
_SHARE: Final = 0.80
"""Of the width: the length of all she is made of."""
_WIDEST_NAME: Final = 90.0
"""What a body's name may take of its length [pt]; a longer one is cut."""
_SMALLER: Final = 0.97
_LEAST: Final = 0.55
"""Of the first scale: smaller nothing would be known again; the sheet gets taller instead."""
_WIDEST_MAIN: Final = 0.95


def skin_drawing(bodies: Sequence[BodySkin], answer: SkinAnswer) -> "Figure":
    """Return the drawing of what files were read and what skin they make.

    Parameters
    ----------
    bodies : sequence of BodySkin
        What `answer` was made from.
    answer : SkinAnswer
        From `hullcheck.answers.skin_answer`.

    Returns
    -------
    matplotlib.figure.Figure
        8 in wide; `drawing_bytes` turns it into a file.

    Notes
    -----
    One scale for all views, never stretched, bow left: from port with the parts set apart, from
    port put together, from above, and from below where something was closed there. Where she leans
    or trims by more than 20° she is drawn level and without water.
    """
    with style.context(NAME):
        scene = SkinScene.of(bodies, answer)
        scale = first = _scale(scene)
        tallest = _TALLEST + (_BELOW if scene.shows_below else 0.0)
        sheet = _drawn(scene, scale)
        while sheet.height > tallest and scale > _LEAST * first:
            scale *= _SMALLER
            sheet = _drawn(scene, scale)
        sheet.caption(skin_words.title(answer), skin_facts.alt_text(answer))
    return sheet.figure


def alt_text(answer: SkinAnswer) -> str:
    """Return the drawing in words: its finding and its numbers."""
    return skin_facts.alt_text(answer)


def _drawn(scene: SkinScene, scale: float) -> Sheet:
    """Return the sheet with all views at a scale [pt/mm]."""
    sheet = Sheet(NAME)
    end = _head(sheet, scene)
    every = np.concatenate([loop for body in scene.bodies for loop in body.side])
    middle = 0.5 * float(every[:, 0].min() + every[:, 0].max())
    left = 0.5 * sheet.width - middle * scale
    page = Page(sheet=sheet, scene=scene, scale=scale, left=left)
    if len(scene.parts) > 1:
        end, beside = _title(sheet, end, "The parts set apart", "from port, bow left")
        end = exploded_view(page, end, beside)
    dotted = "dotted: no file has this" if scene.patches else ""
    together = "Put together" if len(scene.parts) > 1 else "As read"
    notes = ["from port", *([] if len(scene.parts) > 1 else ["bow left"]), dotted]
    end, _ = _title(sheet, end, together, ", ".join(notes[:-1]), notes[-1])
    end = side_view(page, end)
    end, beside = _title(sheet, end, "From above", "starboard up")
    end = flat_view(page, end, "above", beside)
    if scene.shows_below:
        end, beside = _title(sheet, end, "From below", "port up")
        end = flat_view(page, end, "below", beside)
    sheet.cut(12.0 - end)
    return sheet


def _head(sheet: Sheet, scene: SkinScene) -> float:
    """Write the finding and the facts and return where they end [pt]."""
    lines: list[str] = []
    facts = skin_facts.facts(scene.answer)
    if scene.answer.waterline is not None and not scene.in_water:
        facts.append("She does not rest upright: drawn level, without the water.")
    for sentence in facts:
        joined = f"{lines[-1]} {sentence}" if lines else ""
        if joined and sheet.width_of(joined, style.FACTS) <= head_width(sheet):
            lines[-1] = joined
        else:
            lines += wrapped_facts(sheet, [sentence])
    return write_head(sheet, skin_words.title(scene.answer), lines) - 3.0


def _title(sheet: Sheet, end: float, name: str, *notes: str) -> tuple[float, float]:
    """Write a view's title with how it is seen; return where it and its line of text end [pt]."""
    at = end - 19.0
    box = sheet.text((style.MARGIN, at), name, style.VIEW_TITLE)
    words = "; ".join(note for note in notes if note)
    box = sheet.text((box.right + 7.0, at), words, style.NOTE)
    return at - 9.0, box.right


def _with_its_name(sheet: Sheet, body: BodyShape, middle_mm: float) -> float:
    """Return the scale at which a body has room for its name aft of it; the sheet's at most."""
    reach = float(np.concatenate(body.plan)[:, 0].max()) - middle_mm
    name = min(sheet.width_of(shown_name(body.name), style.NAME), _WIDEST_NAME)
    return (0.5 * sheet.width - name - NAME_APART - 6.0) / max(reach, 1e-9)


def _scale(scene: SkinScene) -> float:
    """Return the scale at which her length, and that of the parts set apart, fit the width."""
    every = np.concatenate([loop for body in scene.bodies for loop in body.side])
    length = float(np.ptp(every[:, 0]))
    scale = _SHARE * style.SHEET_WIDTH / length
    if len(scene.bodies) > 1:
        sheet, middle = Sheet(NAME), 0.5 * float(every[:, 0].min() + every[:, 0].max())
        scale = min(scale, *(_with_its_name(sheet, body, middle) for body in scene.bodies))
    if scene.parts:
        main = main_row(scene)
        reach = float(max(p.box[1, 0] for p in main) - min(p.box[0, 0] for p in main))
        room = _WIDEST_MAIN * style.SHEET_WIDTH - APART * (len(main) - 1)
        scale = min(scale, max(room, 0.4 * style.SHEET_WIDTH) / reach)
    return scale
