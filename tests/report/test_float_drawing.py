"""The float drawing in every state: nothing overlaps, nothing is cut off, the same every time."""

import hashlib
import os
import re
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from drawn_texts import assert_apart, assert_on_sheet, boxes_of, texts_of

from hullcheck.errors import InputError
from hullcheck.report import float_words, style
from hullcheck.report.float_drawing import alt_text, drawing_bytes, float_drawing
from hullcheck.report.float_scene import Scene

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="session")
def drawn(state):
    """Return a state's name, craft, answer and figure."""
    name, craft, answer = state
    return name, craft, answer, float_drawing(craft, answer)


def test_no_two_texts_overlap(drawn):
    """No two texts share more than the pixel their boxes are rounded to."""
    name, _, _, figure = drawn
    assert all(text.get_rotation() == 0.0 for text in texts_of(figure))
    assert_apart(name, boxes_of(figure, "float"))


def test_no_text_leaves_the_sheet(drawn):
    """Every text stands on the sheet, whole."""
    name, _, _, figure = drawn
    assert_on_sheet(name, figure, boxes_of(figure, "float"))


def test_no_text_is_too_small_or_of_another_font(drawn):
    """No text is under 8.5 pt, and all are DejaVu Sans."""
    _, _, _, figure = drawn
    for text in texts_of(figure):
        assert text.get_fontsize() >= style.LEAST_TYPE
        assert "dejavu" in Path(_font_of(text)).name.lower()


def _font_of(text):
    """Return the file of the font a text is drawn in."""
    from matplotlib.font_manager import findfont

    with style.context("float"):
        return findfont(text.get_fontproperties())


def test_no_text_stands_across_a_water_line(drawn):
    """Text stands on paper or a flat tint: no water surface runs through it."""
    from matplotlib.lines import Line2D

    name, _, _, figure = drawn
    height = figure.get_size_inches()[1] * 72.0
    surfaces = [
        line.get_xydata()
        for line in figure.findobj(Line2D)
        if line.get_linewidth() == style.WATER_LINE and line.get_color() == style.WATER
    ]
    assert len(surfaces) == 2
    for words, box in boxes_of(figure, "float"):
        for (left, y), (right, _) in surfaces:
            across = box[1] < y + height < box[3] and box[0] < right and left < box[2]
            assert not across, f"{name}: {words!r} stands across the water line"


def test_the_sheet_has_its_size(drawn):
    """The sheet is 8 in wide and 4.5 to 6.75 in high, whatever she looks like."""
    width, height = drawn[3].get_size_inches()
    assert width == pytest.approx(8.0)
    assert 4.5 <= height <= 6.75


def test_title_is_short_and_said(drawn):
    """The title has at most 62 characters, no full stop, fits one line and is on the sheet."""
    _, _, answer, figure = drawn
    title = float_words.title(answer)
    assert len(title) <= float_words.TITLE_LENGTH
    assert not title.endswith((".", "!"))
    assert title in {text.get_text() for text in texts_of(figure)}


def test_no_forbidden_word_and_no_typewriter_minus(drawn):
    """Nothing on the sheet praises, and every minus is a true one."""
    for text in texts_of(drawn[3]):
        assert not re.search(r"\bsafe|\berror|OK!|(?<!\w)-\d", text.get_text())


@pytest.mark.parametrize("suffix", [".svg", ".png", ".pdf"])
def test_files_are_small(drawn, suffix):
    """Each file is under 300 kB; 70 to 160 kB is the aim."""
    assert len(drawing_bytes(drawn[3], suffix)) < 300_000


def test_one_water_one_accent(drawn):
    """The accent is used if and only if something limits or lies under water."""
    from matplotlib.colors import to_hex
    from matplotlib.patches import PathPatch

    name, craft, answer, figure = drawn
    marks = Scene.of(craft, answer).height_marks
    filled = {to_hex(p.get_facecolor()).upper() for p in figure.findobj(PathPatch)}
    wanted = bool(marks) or any(
        (b.clearance_mm or 0.0) < 0.0 for b in answer.bodies if b.role == "tip float"
    )
    if "capsized" not in name:
        assert (style.LIMIT.upper() in filled) == wanted


def test_the_demo_says_its_numbers(demo):
    """The demo's sheet shows the heights, drafts and arms of its answer, each rounded once."""
    craft, answer = demo
    words = {text.get_text() for text in texts_of(float_drawing(craft, answer))}
    least = int(answer.freeboard_mm.least * 2.0) / 2.0
    assert f"{least:g} mm" in words
    assert f"{round(answer.draft_mm.step * 2.0) / 2.0:g} mm" in words
    assert f"{round(answer.step.behind_cg_mm)} mm, {answer.step.angle_from_cg_deg:.0f}°" in words
    assert f"{round(answer.level.cg_aft_of_cb_mm)} mm" in words
    assert {"CG", "CB", "port float", "starboard float"} <= words


def test_scale_is_true(demo):
    """Lengths on the sheet are lengths of the craft: the outline's size by one scale both ways."""
    from matplotlib.colors import to_hex
    from matplotlib.patches import PathPatch

    craft, answer = demo
    scene = Scene.of(craft, answer)
    figure = float_drawing(craft, answer)
    sizes = [
        np.ptp(patch.get_path().vertices, axis=0)
        for patch in figure.findobj(PathPatch)
        if to_hex(patch.get_facecolor()).upper() == style.SKIN
    ]
    hull = next(shape for shape in scene.shapes if shape.role == "hull")
    want = np.ptp(np.concatenate(hull.side), axis=0)
    biggest = max(sizes, key=lambda size: size[0])
    # Spots are rounded to 0.01 pt.
    assert biggest[0] / want[0] == pytest.approx(biggest[1] / want[1], rel=1e-3)


@pytest.mark.parametrize("suffix", [".svg", ".png", ".pdf"])
def test_same_input_same_bytes(demo, suffix):
    """Two drawings of one answer are the same file to the byte."""
    craft, answer = demo
    one, two = (drawing_bytes(float_drawing(craft, answer), suffix) for _ in range(2))
    assert one == two


SCRIPT = """
import hashlib, sys
sys.path.insert(0, sys.argv[1])
import importlib.util
spec = importlib.util.spec_from_file_location("states", sys.argv[1] + "/conftest.py")
states = importlib.util.module_from_spec(spec)
spec.loader.exec_module(states)
from hullcheck.report.float_drawing import drawing_bytes, float_drawing
craft = states.STATES["upright"]()
figure = float_drawing(craft, states.float_answer(craft))
for suffix in (".svg", ".png", ".pdf"):
    print(hashlib.sha256(drawing_bytes(figure, suffix)).hexdigest())
"""


def test_same_bytes_in_another_process(demo):
    """Neither the seed of hashes nor the user's own settings of matplotlib change a byte."""
    craft, answer = demo
    figure = float_drawing(craft, answer)
    here = [
        hashlib.sha256(drawing_bytes(figure, suffix)).hexdigest()
        for suffix in (".svg", ".png", ".pdf")
    ]
    run = subprocess.run(
        [sys.executable, "-c", SCRIPT, str(Path(__file__).parent)],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
        env={**os.environ, "PYTHONHASHSEED": "12345", "PYTHONPATH": str(ROOT)},
    )
    assert run.stdout.split() == here


def test_drawing_leaves_the_settings_alone(demo):
    """A user's own matplotlib settings neither reach the drawing nor are touched by it."""
    import matplotlib as mpl

    craft, answer = demo
    plain = drawing_bytes(float_drawing(craft, answer), ".svg")
    with mpl.rc_context({"font.size": 31.0, "lines.linewidth": 9.0, "savefig.bbox": "tight"}):
        before = dict(mpl.rcParams)
        assert drawing_bytes(float_drawing(craft, answer), ".svg") == plain
        assert dict(mpl.rcParams) == before


def test_files_carry_words_and_no_date(demo):
    """SVG and PDF say the finding in their metadata and hold no date; glyphs in SVG are paths."""
    craft, answer = demo
    figure = float_drawing(craft, answer)
    svg = drawing_bytes(figure, ".svg").decode()
    assert f"<title>{float_words.title(answer)}</title>" in svg
    assert not re.search(r"\b(19|20)\d\d-\d\d|dc:date", svg)
    assert "<text" not in svg
    assert b"CreationDate" not in drawing_bytes(figure, ".pdf")


def test_png_keeps_the_palette(demo):
    """The PNG's large areas and the accent have their colors to the last bit."""
    import io

    from PIL import Image

    craft, answer = demo
    picture = Image.open(io.BytesIO(drawing_bytes(float_drawing(craft, answer), ".png")))
    assert picture.width == 8 * style.PNG_DPI
    found = {f"#{r:02X}{g:02X}{b:02X}" for _, (r, g, b) in picture.convert("RGB").getcolors()}
    wanted = {style.PAPER, style.TINT, style.WET_SKIN, style.SKIN, style.WATER, style.INK}
    assert wanted | {style.LIMIT} <= found


def test_unknown_suffix_is_refused(demo):
    """A suffix that is none of the three is refused with the three."""
    craft, answer = demo
    figure = float_drawing(craft, answer)
    with pytest.raises(InputError, match=r"'\.gif': use one of \.svg, \.png, \.pdf"):
        drawing_bytes(figure, ".gif")


def test_alt_text_says_the_finding_and_its_numbers(state):
    """Alternative text says the title, then heights, drafts and floats where there are any."""
    _, _, answer = state
    said = alt_text(answer)
    assert float_words.title(answer) in said
    if answer.freeboard_mm is not None and answer.rest != "capsized":
        assert said.count("the water") + said.count("under water") >= len(
            answer.freeboard_mm.points
        )
