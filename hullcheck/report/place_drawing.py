"""The drawing of where an item may sit: from port, in the water, the interval as a bar."""

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from hullcheck.answers.float_answer import float_answer
from hullcheck.answers.place_records import PlaceAnswer
from hullcheck.craft.craft import Craft
from hullcheck.craft.limits import Limits
from hullcheck.report import style
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.float_scene import Scene
from hullcheck.report.heading import wrapped_facts, write_head
from hullcheck.report.numbers import mass_text, station_text
from hullcheck.report.place_side import draw_side
from hullcheck.report.place_text import costs_words
from hullcheck.report.place_words import (
    band_words,
    best_text,
    broken_words,
    ends_text,
    row_words,
    title,
)
from hullcheck.report.sheet import Sheet
from hullcheck.report.words import capital, water_words

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["drawing_bytes", "place_drawing"]

NAME: Final = "place"


def place_drawing(craft: Craft, answer: PlaceAnswer) -> "Figure":
    """Return the drawing of where an item may sit.

    Parameters
    ----------
    craft : Craft
        From `hullcheck.answers.place_answer.craft_of`: with the item at its best place, or at the
        closest one with the least ballast aboard.
    answer : PlaceAnswer
        From `hullcheck.answers.place_answer`.

    Returns
    -------
    matplotlib.figure.Figure
        8 in wide.

    Notes
    -----
    True scale, in the water as the craft floats. A solid bar along the hull at the item's height
    for each interval that holds; an open circle where the item is now; dots around the box it may
    be put in. The band of the CG is a gray bar at the CG's height with the CG on it. Ballast alone
    stands in a filled flag: it is what must be acted on.
    """
    with style.context(NAME):
        sheet = Sheet(NAME)
        name = title(answer)
        end = write_head(sheet, name, wrapped_facts(sheet, facts(answer))) - 3.0
        # Only how she floats is drawn: without limits no grams left are looked for.
        afloat = replace(craft, limits=Limits())
        end = draw_side(sheet, Scene.of(afloat, float_answer(afloat)), answer, end - 14.0)
        sheet.cut(10.0 - end)
        sheet.caption(name, alt_text(answer))
    return sheet.figure


def facts(answer: PlaceAnswer) -> list[str]:
    """Return the facts under the finding: who she is, and how she floats then."""
    name = answer.craft if answer.setup is None else f"{answer.craft}, {answer.setup}"
    item = f"{answer.item} {mass_text(answer.item_mass_g)} ({answer.item_mass_from})"
    said = [f"{name} · {item} · {mass_text(answer.mass_g)} in all · {water_words(answer.water)}"]
    if answer.best is not None:
        best = answer.best
        said.append(f"Drawn with it in the middle, {best_text(answer)}: {row_words(best)}")
    elif answer.ballast is not None:
        at = station_text(answer.ballast.aboard.x_mm)
        said.append(f"Drawn with it at {at} and the ballast aboard: {costs_words(answer.ballast)}")
    elif answer.closest is not None:
        at = station_text(answer.closest.x_mm)
        said.append(
            f"Drawn with it at {at}, the least short: {broken_words(answer.closest, answer)}"
        )
    return said


def alt_text(answer: PlaceAnswer) -> str:
    """Return the drawing in words."""
    said = [title(answer)]
    if answer.intervals:
        spans = ", ".join(" to ".join(ends_text(one)) for one in answer.intervals)
        said.append(f"{capital(answer.item)} holds at stations {spans}")
    if answer.now is not None:
        state = broken_words(answer.now, answer)
        said.append(f"Now it is at station {station_text(answer.now.x_mm)}: {state}")
    if answer.cg_range_mm is not None:
        said.append(f"The band of her CG is station {band_words(answer.cg_range_mm)}")
    return ". ".join([*said, *facts(answer)])
