"""Her seams for a phone: nothing overlaps, type as large, no seam lost, the same twice."""

import re

import pytest
from drawn_texts import assert_apart, assert_on_sheet, boxes_of, texts_of
from seams_making import STATES, answered

from hullcheck.report import style
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.seams_drawing import alt_text
from hullcheck.report.seams_narrow import NAME, seams_narrow
from hullcheck.report.seams_words import short_name, title


@pytest.fixture(scope="module", params=STATES)
def drawn(request):
    """Return a state's name, answer and narrow drawing."""
    build, answer = answered(request.param)
    return request.param, answer, seams_narrow(build.craft(), answer)


def test_texts_stand_apart_on_360_px(drawn):
    """No two texts overlap or leave the sheet; it is 3.6 in wide, 360 px at 100 px an inch."""
    name, _, figure = drawn
    boxes = boxes_of(figure, NAME)
    assert_apart(name, boxes)
    assert_on_sheet(name, figure, boxes, margin=2.0)
    width, height = figure.get_size_inches()
    assert width == pytest.approx(3.6)
    assert 1.0 <= height <= 9.0


def test_type_is_not_shrunken(drawn):
    """No text is under 8.5 pt; names and states have the sizes of the wide drawing."""
    sizes = {text.get_fontsize() for text in texts_of(drawn[2])}
    assert sizes <= {10.0, style.NAME.size, style.NOTE.size}
    assert min(sizes) >= style.LEAST_TYPE


def test_every_seam_is_told(drawn):
    """Each seam has a label or stands in the list under the views; the alternative text is one."""
    name, answer, figure = drawn
    said = " ".join(" ".join(text.get_text() for text in texts_of(figure)).split())
    for seam in answer.seams:
        words = short_name(seam.name)
        if name != "odd names":
            assert re.search(rf"(?<!\w){re.escape(words[:20])}", said, re.IGNORECASE), words
    assert figure.axes[0].get_label() == title(answer)
    assert figure.axes[0].get_gid() == alt_text(answer)


def test_a_leak_stands_in_a_flag(drawn):
    """What leaked is there in the color of limits with its word; nothing else has that color."""
    name, answer, figure = drawn
    leaked = {short_name(seam.name) for seam in answer.seams if seam.state == "leaked"}
    red = {t.get_text() for t in texts_of(figure) if t.get_color() == style.LIMIT}
    assert red == leaked, name
    flags = [t.get_text() for t in texts_of(figure) if t.get_color() == style.PAPER]
    assert len(flags) == len(leaked)
    assert set(flags) <= {"leaked", "leaks"}


def test_same_bytes_twice():
    """The same input gives the same file."""
    build, answer = answered("every state")
    one, two = (drawing_bytes(seams_narrow(build.craft(), answer), ".svg") for _ in range(2))
    assert one == two
