"""What the turnable view says in words."""

import math
from typing import Final

from hullcheck.answers.seams_records import SeamsAnswer
from hullcheck.report import seams_words
from hullcheck.report.display import shown
from hullcheck.report.float_titles import title
from hullcheck.report.float_words import center_words, posture
from hullcheck.report.numbers import station_text
from hullcheck.report.view3d_eye import View
from hullcheck.report.view3d_scene import Scene3d
from hullcheck.report.words import capital

BUTTONS: Final = (
    ("start", "as at first"),
    ("port", "from port"),
    ("astern", "from astern"),
    ("above", "from above"),
    ("nearer", "nearer"),
    ("farther", "farther"),
)
"""Value and words of each button."""
CAPTION: Final = "What is under water is blue gray."
HOW: Final = (
    "Drag to turn her; two fingers, or + and −, bring her nearer; so does the wheel after a click. "
    "Arrow keys turn her, a double click sets her back."
)


def alt_text(scene: Scene3d, seams: SeamsAnswer | None) -> str:
    """Return the view in words: its finding and its numbers.

    Parameters
    ----------
    scene : Scene3d
        What is shown.
    seams : SeamsAnswer or None
        What is known of her seams.
    """
    answer = scene.scene.answer
    name = " ".join(answer.craft.split())
    said = [f"View that can be turned of {name} in the water: {title(answer)}."]
    if answer.rest is not None and answer.short_by_g is None:
        said.append(f"She {posture(answer)}.")
    center = center_words(answer)
    said += [f"{center}."] if center else []
    buoyancy = answer.center_of_buoyancy_mm
    if buoyancy is not None:
        said.append(f"CB at station {station_text(buoyancy[0])}.")
    if seams is not None:
        said.append(f"{seams_words.title(seams)}.")
    marks = [mark for mark in scene.marks if mark.shape not in {"cg", "cb"}]
    named = [" ".join(filter(None, (mark.head, mark.name, mark.note))) for mark in marks]
    said += [f"Marked: {'; '.join(named)}."] if named else []
    return " ".join(said)


def seen_from(start: View, tolerance_mm: float, *, level: bool) -> str:
    """Return where the still picture is seen from, and how far its skin may be off [mm]."""
    held = ", held level" if level else ""
    return f"{capital(start.words)}{held}. {_drawn(tolerance_mm)}"


def how(tolerance_mm: float) -> str:
    """Return how far the skin that turns may be off [mm], and how to turn it."""
    return f"{_drawn(tolerance_mm)} {HOW}"


def _drawn(tolerance_mm: float) -> str:
    """Return how far a skin that is drawn may be off [mm], in a sentence."""
    if tolerance_mm == 0.0:
        return "Every triangle of her skin is drawn."
    return f"Skin drawn within about {_within(tolerance_mm)}."


def _within(tolerance_mm: float) -> str:
    """Return a length in the unit shown, to one figure, rounded up."""
    value = shown().length_of(tolerance_mm)
    step = 10.0 ** math.floor(math.log10(value))
    return f"{round(math.ceil(value / step) * step, 9):g} {shown().length}"
