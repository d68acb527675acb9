"""The step drawing in every state: nothing overlaps, nothing is cut off, the same every time."""

import re
from pathlib import Path

import numpy as np
import pytest
from drawn_texts import assert_apart, assert_on_sheet, boxes_of, texts_of
from step_hulls import STATES

from hullcheck.answers.step_answer import step_answer
from hullcheck.report import step_words, style
from hullcheck.report.display import shown_in
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.step_drawing import step_drawing
from hullcheck.report.step_scene import StepScene


@pytest.fixture(scope="module", params=[*STATES, "rules of floats", "rules of bare floats"])
def drawn(request):
    """Return a state's name, craft, answer and figure."""
    name = request.param
    floats = name.startswith("rules")
    state = {"rules of floats": "floats", "rules of bare floats": "floats, bare"}.get(name, name)
    craft = STATES[state]()
    answer = step_answer(craft)
    return name, craft, answer, step_drawing(craft, answer, floats=floats)


def test_no_two_texts_overlap(drawn):
    """No two texts share more than the pixel their boxes are rounded to."""
    name, _, _, figure = drawn
    assert_apart(name, boxes_of(figure, "step"))


def test_no_text_leaves_the_sheet(drawn):
    """Every text stands on the sheet, whole, and within its margins."""
    name, _, _, figure = drawn
    assert_on_sheet(name, figure, boxes_of(figure, "step"), margin=style.MARGIN - 1.0)


def test_no_text_is_too_small(drawn):
    """No text is under 8.5 pt, none is turned."""
    for text in texts_of(drawn[3]):
        assert text.get_fontsize() >= style.LEAST_TYPE
        assert text.get_rotation() == 0.0


def test_no_text_stands_across_her_line(drawn):
    """The bold lines that stand for the craft run through no text."""
    from matplotlib.lines import Line2D

    name, _, _, figure = drawn
    height = figure.get_size_inches()[1] * 72.0
    lines = [
        line.get_xydata() + np.array([0.0, height])
        for line in figure.findobj(Line2D)
        if line.get_linewidth() == style.BOLD and line.get_color() == style.INK
    ]
    for words, box in boxes_of(figure, "step"):
        for line in lines:
            x, (low, high) = line[0, 0], sorted(line[:, 1])
            across = box[0] < x < box[2] and box[1] < high and low < box[3]
            assert not across, f"{name}: {words!r} stands across a line of hers"


def test_no_text_stands_across_the_end_of_a_bar(drawn):
    """Words stand in a gray bar or beside it, never across its ends."""
    from matplotlib.colors import to_hex
    from matplotlib.patches import PathPatch

    name, _, _, figure = drawn
    height = figure.get_size_inches()[1] * 72.0
    bars = [
        patch.get_path().vertices + np.array([0.0, height])
        for patch in figure.findobj(PathPatch)
        if to_hex(patch.get_facecolor()).upper() == style.BAND
    ]
    for words, box in boxes_of(figure, "step"):
        for bar in bars:
            (left, low), (right, high) = bar.min(axis=0), bar.max(axis=0)
            beside = box[1] > high or box[3] < low or box[2] <= left or box[0] >= right
            inside = left <= box[0] and box[2] <= right
            assert beside or inside, f"{name}: {words!r} stands across the end of a bar"


def test_the_sheet_has_its_size(drawn):
    """The sheet is 8 in wide and as high as its rules need, 13.5 in at the most."""
    width, height = drawn[3].get_size_inches()
    assert width == pytest.approx(8.0)
    assert 2.5 <= height <= 13.5


def test_title_is_short_and_judges_nothing(drawn):
    """The title has at most 62 characters, no full stop, fits one line; no verdict anywhere."""
    name, _, answer, figure = drawn
    floats = name.startswith("rules")
    title = step_words.floats_title(answer) if floats else step_words.title(answer)
    assert len(title) <= step_words.TITLE_LENGTH
    assert not title.endswith((".", "!"))
    said = [text.get_text() for text in texts_of(figure)]
    assert title in said
    assert not re.search(r"\b(safe|error|OK|good|bad|pass|fails?)\b", " ".join(said))
    assert not any(re.search(r"(?<!\w)-\d", words) for words in said)


def test_no_limit_color(drawn):
    """Nothing is judged, so nothing is in the color of limits."""
    svg = drawing_bytes(drawn[3], ".svg").decode()
    assert style.LIMIT.lower() not in svg.lower()
    assert len(svg) < 300_000


@pytest.mark.parametrize("suffix", [".svg", ".png", ".pdf"])
def test_same_input_same_bytes(suffix):
    """Two drawings of one answer are the same file to the byte."""
    craft = STATES["demo"]()
    answer = step_answer(craft)
    one, two = (drawing_bytes(step_drawing(craft, answer), suffix) for _ in range(2))
    assert one == two


def test_the_demo_says_its_numbers():
    """The demo's sheet shows distance, angle and depth of its answer, and each of its rules."""
    craft = STATES["demo"]()
    answer = step_answer(craft)
    words = {text.get_text() for text in texts_of(step_drawing(craft, answer))}
    assert f"{answer.place.behind_cg_mm:.0f} mm" in words
    assert f"{answer.place.angle_from_keel_deg:.0f}°" in words
    assert f"{answer.step.sternpost_angle_deg:.1f}°" in words
    assert {"10–15 mm", "15–30 mm", "10–20°", "Models, most sources"} <= words
    assert any(text.startswith("Full size: ") for text in words)


def test_scale_is_true():
    """Lengths on the sheet are lengths of the craft: the outline's size by one scale both ways."""
    from matplotlib.colors import to_hex
    from matplotlib.patches import PathPatch

    craft = STATES["demo"]()
    answer = step_answer(craft)
    sizes = [
        np.ptp(patch.get_path().vertices, axis=0)
        for patch in step_drawing(craft, answer).findobj(PathPatch)
        if to_hex(patch.get_facecolor()).upper() == style.SKIN
    ]
    want = np.ptp(np.concatenate(StepScene.of(craft, answer).side), axis=0)
    biggest = max(sizes, key=lambda size: size[0])
    # Spots are rounded to 0.01 pt.
    assert biggest[0] / want[0] == pytest.approx(biggest[1] / want[1], rel=1e-3)


def test_marks_stand_where_their_values_lie():
    """Her line on the block of distances stands between 0 and the scale's end as her value does."""
    from matplotlib.lines import Line2D

    craft = STATES["demo"]()
    answer = step_answer(craft)
    figure = step_drawing(craft, answer)
    bold = [
        line.get_xydata()[0, 0]
        for line in figure.findobj(Line2D)
        if line.get_linewidth() == style.BOLD and line.get_color() == style.INK
    ]
    end = next(
        float(text.get_text().removesuffix(" mm"))
        for text in texts_of(figure)
        if text.get_text() == "32 mm"
    )
    left, right = 214.0, style.SHEET_WIDTH - style.MARGIN
    assert bold[0] == pytest.approx(
        left + answer.place.behind_cg_mm / end * (right - left), abs=0.05
    )


def test_alt_text_says_every_rule(drawn):
    """Who cannot see it reads each rule with its band and her value, or why there is none."""
    name, _, answer, _ = drawn
    floats = name.startswith("rules")
    said = step_words.alt_text(answer, floats=floats)
    for rule in answer.floats.rules if floats else answer.rules:
        assert rule.name in said
        assert rule.missing is None or rule.missing in said


def test_units_shown_reach_the_drawing():
    """In inches no millimeter is left but in the names of rules."""
    craft = STATES["demo"]()
    answer = step_answer(craft)
    with shown_in(("oz", "in")):
        figure = step_drawing(craft, answer)
    assert_apart("in other units", boxes_of(figure, "step"))
    said = [text.get_text() for text in texts_of(figure)]
    assert not any(re.search(r"\d mm", words) for words in said)
    assert any(words.endswith(" in") for words in said)


def test_fonts_are_those_of_the_house(drawn):
    """All text is DejaVu Sans."""
    from matplotlib.font_manager import findfont

    with style.context("step"):
        for text in texts_of(drawn[3]):
            assert "dejavu" in Path(findfont(text.get_fontproperties())).name.lower()
