"""The drawing of where an item may sit: nothing overlaps, nothing is cut off, the same twice."""

import re

import numpy as np
import pytest
from drawn_texts import assert_apart, assert_on_sheet, boxes_of, texts_of
from place_builds import STATES, answered

from hullcheck.answers.place_answer import craft_of
from hullcheck.report import style
from hullcheck.report.display import shown_in
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.place_drawing import place_drawing
from hullcheck.report.place_words import TITLE_LENGTH, title


@pytest.fixture(scope="module", params=STATES)
def drawn(request):
    """Return a state's name, answer, craft and figure."""
    build, wanted = STATES[request.param]()
    answer = answered(request.param)
    craft = craft_of(build, wanted, answer)
    return request.param, answer, craft, place_drawing(craft, answer)


def test_no_two_texts_overlap(drawn):
    """No two texts share more than the pixel their boxes are rounded to."""
    name, _, _, figure = drawn
    assert_apart(name, boxes_of(figure, "place"))


def test_no_text_leaves_the_sheet_or_is_too_small(drawn):
    """Every text stands on the sheet, whole, within its margins, level, and 8.5 pt at least."""
    name, _, _, figure = drawn
    assert_on_sheet(name, figure, boxes_of(figure, "place"), margin=style.MARGIN - 1.0)
    for text in texts_of(figure):
        assert text.get_fontsize() >= style.LEAST_TYPE
        assert text.get_rotation() == 0.0


def test_no_text_stands_across_an_outline(drawn):
    """No bold or middle line, the hull's outline among them, runs through a text."""
    from matplotlib.lines import Line2D
    from matplotlib.patches import PathPatch

    name, _, _, figure = drawn
    up = np.array([0.0, figure.get_size_inches()[1] * 72.0])
    lines = [
        one.get_path().vertices
        for one in figure.findobj(PathPatch)
        if one.get_linewidth() >= style.MIDDLE
    ]
    lines += [
        np.asarray(one.get_xydata())
        for one in figure.findobj(Line2D)
        if one.get_linewidth() >= style.MIDDLE and len(one.get_xydata()) > 1
    ]
    steps = np.linspace(0.0, 1.0, 40)[:, None, None]
    spread = [(line[:-1] + steps * (line[1:] - line[:-1])).reshape(-1, 2) + up for line in lines]
    assert len(spread) > 1
    for words, box in boxes_of(figure, "place"):
        for dense in spread:
            inside = ((dense > box[:2] + 0.5) & (dense < box[2:] - 0.5)).all(axis=1)
            assert not inside.any(), f"{name}: a line runs through {words!r}"


def test_the_bar_is_the_interval(drawn):
    """The bold bar is as long against the hull as the interval is, at the item's height."""
    from matplotlib.lines import Line2D

    _, answer, craft, figure = drawn
    bars = [one for one in figure.findobj(Line2D) if one.get_linewidth() == 5.0
            and one.get_color() == style.INK]  # fmt: skip
    assert len(bars) == len(answer.intervals)
    if not bars:
        return
    outline = _longest_outline(figure)
    hull = max(float(np.ptp(body.shell.triangles_mm[..., 0])) for body in craft.deck_bodies)
    scale = np.ptp(outline[:, 0]) / hull
    (x0, _), (x1, _) = bars[0].get_xydata()
    assert x1 - x0 == pytest.approx(answer.intervals[0].width_mm * scale, rel=0.02, abs=0.1)


def _longest_outline(figure):
    """Return the corners of the longest outline on a figure."""
    from matplotlib.patches import PathPatch

    edged = [one for one in figure.findobj(PathPatch) if one.get_linewidth() >= style.MIDDLE]
    paths = [one.get_path().vertices for one in edged]
    return max(paths, key=lambda path: float(np.ptp(path[:, 0])))


def test_only_ballast_is_in_the_color_of_limits(drawn):
    """The accent stands for what must be acted on: ballast, and nothing else."""
    _, answer, _, figure = drawn
    svg = drawing_bytes(figure, ".svg").decode().lower()
    assert (style.LIMIT.lower() in svg) == (answer.ballast is not None)
    assert len(svg) < 300_000


def test_title_is_short_and_in_words(drawn):
    """The title has at most 62 characters and no full stop; no bare sign, no praise anywhere."""
    _, answer, _, figure = drawn
    words = title(answer)
    assert len(words) <= TITLE_LENGTH
    assert not words.endswith((".", "!"))
    said = [text.get_text() for text in texts_of(figure)]
    assert words in said
    assert not re.search(r"\b(safe|error|OK|good|bad)\b", " ".join(said))
    assert not any(re.search(r"(?<!\w)-\d", text) for text in said)


def test_same_twice_in_every_form():
    """The same input gives the same bytes, in every form, and inches where they are shown."""
    build, wanted = STATES["box"]()
    answer = answered("box")
    craft = craft_of(build, wanted, answer)
    figures = [place_drawing(craft, answer) for _ in range(2)]
    for suffix in (".svg", ".png", ".pdf"):
        one, two = (drawing_bytes(figure, suffix) for figure in figures)
        assert one == two
    with shown_in(("oz", "in")):
        figure = place_drawing(craft, answer)
    said = " ".join(text.get_text() for text in texts_of(figure))
    assert " oz " in said
    assert " g " not in said
