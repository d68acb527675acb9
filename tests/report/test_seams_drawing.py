"""The drawing of her seams: nothing overlaps, each state has its own pattern, the same twice."""

import re

import numpy as np
import pytest
from drawn_texts import assert_apart, assert_on_sheet, assert_readable, boxes_of, texts_of
from seams_making import STATES, answered

from hullcheck.answers.seams_answer import distinct
from hullcheck.craft.seam_lines import seam_lines
from hullcheck.craft.seam_states import KINDS
from hullcheck.report import seams_marks, style
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.float_scene import Scene
from hullcheck.report.seams_drawing import seams_drawing
from hullcheck.report.seams_scene import drawn_seams
from hullcheck.report.seams_words import short_name, title
from hullcheck.report.sheet import Sheet


@pytest.fixture(scope="module", params=STATES)
def drawn(request):
    """Return a state's name, answer and figure."""
    build, answer = answered(request.param)
    return request.param, answer, seams_drawing(build.craft(), answer)


def test_texts_stand_apart_on_the_sheet_and_are_readable(drawn):
    """No two texts overlap, none leaves the sheet, none is under 8.5 pt or slanted."""
    name, _, figure = drawn
    boxes = boxes_of(figure, "seams")
    assert_apart(name, boxes)
    assert_on_sheet(name, figure, boxes, margin=5.0)
    assert_readable(figure, lowest_in=2.0, highest_in=7.5)
    assert all(text.get_rotation() == 0.0 for text in texts_of(figure))


def test_no_text_stands_across_an_outline(drawn):
    """No middle or bold line, seams and outlines among them, runs through a text."""
    from matplotlib.lines import Line2D

    name, _, figure = drawn
    up = np.array([0.0, figure.get_size_inches()[1] * 72.0])
    lines = [
        np.asarray(one.get_xydata())
        for one in figure.findobj(Line2D)
        if one.get_linewidth() >= style.THIN and len(one.get_xydata()) > 1
    ]
    steps = np.linspace(0.0, 1.0, 40)[:, None, None]
    spread = [(line[:-1] + steps * (line[1:] - line[:-1])).reshape(-1, 2) + up for line in lines]
    assert spread
    for words, box in boxes_of(figure, "seams"):
        for dense in spread:
            inside = ((dense > box[:2] + 0.5) & (dense < box[2:] - 0.5)).all(axis=1)
            assert not inside.any(), f"{name}: a line runs through {words!r}"


def test_the_title_is_the_finding_and_every_seam_is_named_once(drawn):
    """Each seam has one label, or stands in the line of those that found no room."""
    name, answer, figure = drawn
    texts = [text.get_text() for text in texts_of(figure)]
    assert title(answer) in texts
    said = " ".join(texts)
    for seam in answer.seams:
        words = short_name(seam.name)
        whole = len(re.findall(rf"(?<!\w){re.escape(words[:20])}", said, re.IGNORECASE))
        assert whole >= (0 if name == "odd names" else 1), f"{name}: {words}"
    labels = [text for text in texts if text in {short_name(s.name) for s in answer.seams}]
    assert len(labels) == len(set(labels))
    assert str(figure.axes[0].get_gid()).startswith(f"{title(answer)}.")


def test_only_leaks_are_in_the_color_of_limits(drawn):
    """The accent stands for what must be acted on: a seam that leaked, and nothing else."""
    name, answer, figure = drawn
    svg = drawing_bytes(figure, ".svg").decode().lower()
    leaked = any(seam.state == "leaked" for seam in answer.seams)
    assert (style.LIMIT.lower() in svg) == leaked, name
    assert len(svg) < 400_000


def _ink(state):
    """Return what a line and its end mark are drawn with, as a key."""
    sheet = Sheet("seams")
    seams_marks.line(sheet, np.array([[0.0, -50.0], [0.0, -10.0]]), state)
    lines = [
        (one.get_color(), round(one.get_linewidth(), 2), str(one._unscaled_dash_pattern),
         len(one.get_xydata()))
        for one in sheet.axes.lines
    ]  # fmt: skip
    before = len(sheet.axes.patches), len(sheet.axes.lines)
    seams_marks.end_mark(sheet, (20.0, -30.0), state)
    fills = [patch.get_facecolor() for patch in sheet.axes.patches[before[0] :]]
    inside = [one.get_xydata().round(2).tolist() for one in sheet.axes.lines[before[1] :]]
    return str(lines), str((fills, inside))


def test_states_differ_in_pattern_or_mark_without_color():
    """Only states that mean the same are drawn the same: not known to be sealed, by the sheet."""
    alike = {frozenset({"not stated", "never sealed", "open"}),
             frozenset({"taped", "sealed by the sheet, not in the log"})}  # fmt: skip
    groups = {}
    for kind in KINDS:
        groups.setdefault(_ink(kind), set()).add(kind)
    assert {frozenset(group) for group in groups.values() if len(group) > 1} == alike


def test_a_ring_is_seen_half_from_port_and_half_from_below():
    """Derived: round a box at a station port side and floor are seen, deck and starboard hidden."""
    from seams_making import EMPTY, NOW, across, along, box_build

    from hullcheck.answers.float_answer import float_answer
    from hullcheck.answers.seams_answer import seams_answer

    hidden = along("deck", (100.0, 20.0, 80.0), (500.0, 20.0, 80.0))
    build = box_build((*across(joint=250.0), hidden))
    craft, answer = build.craft(), seams_answer(build, EMPTY, NOW)
    scene = Scene.of(craft, float_answer(craft))
    seams = {one.seam.name: one for one in drawn_seams(scene, distinct(seam_lines(craft)), answer)}
    ring = seams["joint"]
    tall = np.ptp(np.concatenate(ring.side)[:, 1])
    wide = np.ptp(np.concatenate(ring.below)[:, 1])
    assert (tall, wide) == pytest.approx((80.0, 100.0), abs=13.0)
    assert np.concatenate(ring.below).shape[0] < 60
    assert ring.facing == "side"
    assert seams["deck"].below == ()


@pytest.mark.parametrize(
    ("state", "suffixes"), [("every state", (".svg",)), ("twin floats", (".png", ".pdf"))]
)
def test_same_twice_in_every_form(state, suffixes):
    """The same input gives the same bytes, with a line of every pattern in it."""
    build, answer = answered(state)
    figures = [seams_drawing(build.craft(), answer) for _ in range(2)]
    for suffix in suffixes:
        one, two = (drawing_bytes(figure, suffix) for figure in figures)
        assert one == two
