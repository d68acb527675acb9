"""The side view for a phone: type as large, nothing overlapping, what limits never lost."""

import re

import pytest
from drawn_texts import assert_apart, boxes_of, texts_of
from matplotlib.text import Text

from hullcheck.answers.float_answer import float_answer
from hullcheck.report import float_words, style
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.float_narrow import NAME, float_narrow
from hullcheck.report.float_titles import limiting
from hullcheck.report.numbers import height_text

SHOWN = (
    "upright",
    "bow down",
    "stern under",
    "on a tip float",
    "capsized",
    "no center of gravity",
    "sinks",
    "sphere",
    "twin floats",
    "6 m long",
    "eight openings",
    "openings close together",
    "long names",
    "too low",
    "an opening under water",
    "all sealed",
)


@pytest.fixture(scope="module", params=SHOWN)
def drawn(request, states):
    """Return a state's name, answer and narrow drawing."""
    craft = states[request.param]()
    answer = float_answer(craft)
    return request.param, answer, float_narrow(craft, answer)


def test_texts_stand_apart_on_360_px(drawn):
    """No two texts overlap or leave the sheet; it is 3.6 in wide, 360 px at 100 px an inch."""
    name, _, figure = drawn
    boxes = boxes_of(figure, NAME)
    assert_apart(name, boxes)
    width, height = figure.get_size_inches()
    assert width == pytest.approx(3.6)
    assert 1.0 <= height <= 3.6
    for words, box in boxes:
        assert box[0] >= 0.0, f"{name}: {words!r} leaves the sheet"
        assert box[2] <= 72.0 * width, f"{name}: {words!r} leaves the sheet"
        assert box[1] >= 0.0, f"{name}: {words!r} leaves the sheet"
        assert box[3] <= 72.0 * height + 0.5, f"{name}: {words!r} leaves the sheet"


def test_type_is_not_shrunken(drawn):
    """No text is under 8.5 pt, and the sizes are those of the wide drawing."""
    _, _, figure = drawn
    sizes = {text.get_fontsize() for text in figure.findobj(Text) if text.get_text()}
    named = {style.FLAG, style.NUMBER, style.NAME, style.BOLD_NAME, style.NOTE}
    assert sizes <= {kind.size for kind in named}
    assert min(sizes) >= style.LEAST_TYPE


def test_limiting_height_stands_in_a_flag(drawn):
    """What limits is there with its unit; the title is left to the page, the words are the same."""
    name, answer, figure = drawn
    texts = [text.get_text() for text in texts_of(figure)]
    point = limiting(answer)
    if point is not None and answer.rest not in {"capsized", "sinks"}:
        assert height_text(point.height_mm) in texts, name
    assert float_words.title(answer) not in texts
    assert figure.axes[0].get_label() == float_words.title(answer)
    assert figure.axes[0].get_gid() == float_words.alt_text(answer)


def test_every_opening_is_told(drawn):
    """An opening without a flag of its own is named in the line above, with its height."""
    name, answer, figure = drawn
    if answer.freeboard_mm is None or answer.rest in {"capsized", "sinks"}:
        return
    said = " ".join(text.get_text() for text in texts_of(figure))
    for point in answer.freeboard_mm.points:
        if point.what == "opening":
            number = height_text(point.height_mm).partition(" ")[0]
            assert re.search(rf"(?<![\d.]){re.escape(number)}(?![\d.])", said), f"{name}: {point}"


def test_same_bytes_twice(states):
    """The same craft gives the same file."""
    craft = states["openings"]()
    answer = float_answer(craft)
    one, two = (drawing_bytes(float_narrow(craft, answer), ".svg") for _ in range(2))
    assert one == two
