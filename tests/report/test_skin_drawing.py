"""The skin drawing in every state: nothing overlaps, nothing is cut off, each fault is seen."""

import hashlib
import os
import re
import subprocess
import sys
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import skin_making as making
from drawn_texts import assert_apart, assert_on_sheet, boxes_of, texts_of

from hullcheck.answers.skin_answer import skin_answer
from hullcheck.report import skin_words, style
from hullcheck.report.skin_copies import copies_once
from hullcheck.report.skin_drawing import alt_text, drawing_bytes, skin_drawing
from hullcheck.report.skin_exploded import main_row
from hullcheck.report.skin_scene import SkinScene, outline

ROOT = Path(__file__).parents[2]
SUFFIXES = (".svg", ".png", ".pdf")


@cache
def drawing(state):
    """Return a state's drawing, made once."""
    return skin_drawing(*making.made(state))


@pytest.fixture(scope="session", params=making.STATES)
def drawn(request):
    """Return a state's name, bodies, answer and figure."""
    return request.param, *making.made(request.param), drawing(request.param)


@pytest.fixture(scope="session")
def printed():
    """Return the hull of five thin walls and a hatch: bodies, answer and figure."""
    bodies, answer = making.made("five thin walls")
    return bodies, answer, drawing("five thin walls")


def words_of(figure):
    """Return all words on a figure."""
    return {text.get_text() for text in texts_of(figure)}


def areas_of(figure):
    """Return (fill, edge, pattern is dotted, corners) of every area on a figure, in points."""
    from matplotlib.colors import to_hex
    from matplotlib.patches import PathPatch

    found = []
    for one in figure.findobj(PathPatch):
        fill = to_hex(one.get_facecolor()).upper() if one.get_facecolor()[3] else None
        edge = to_hex(one.get_edgecolor()).upper() if one.get_linewidth() else None
        found.append((fill, edge, one.get_linestyle() != style.SOLID, one.get_path().vertices))
    return found


def test_no_two_texts_overlap(drawn):
    """No two texts share more than the pixel their boxes are rounded to."""
    name, _, _, figure = drawn
    assert all(text.get_rotation() == 0.0 for text in texts_of(figure))
    assert_apart(name, boxes_of(figure, "skin"))


def test_no_text_leaves_the_sheet(drawn):
    """Every text stands on the sheet, whole."""
    name, _, _, figure = drawn
    assert_on_sheet(name, figure, boxes_of(figure, "skin"))


def test_no_outline_leaves_the_sheet(drawn):
    """Every area but the water, which runs from edge to edge, stands within the sheet."""
    name, _, _, figure = drawn
    size = figure.get_size_inches() * 72.0
    for fill, _, _, corners in areas_of(figure):
        if fill == style.TINT.upper():
            continue
        assert corners[:, 0].min() >= 0.0, name
        assert corners[:, 0].max() <= size[0], name
        assert corners[:, 1].max() <= 0.0, name
        assert corners[:, 1].min() >= -size[1], name


def test_no_text_is_too_small_or_of_another_font(drawn):
    """No text is under 8.5 pt, and all are DejaVu Sans."""
    from matplotlib.font_manager import findfont

    for text in texts_of(drawn[3]):
        assert text.get_fontsize() >= style.LEAST_TYPE
        with style.context("skin"):
            font = findfont(text.get_fontproperties())
        assert "dejavu" in Path(font).name.lower()


def test_no_text_stands_across_the_water_line(drawn):
    """Text stands on paper or a flat tint: no water surface runs through it."""
    from matplotlib.lines import Line2D

    name, _, answer, figure = drawn
    height = figure.get_size_inches()[1] * 72.0
    surfaces = [
        line.get_xydata()
        for line in figure.findobj(Line2D)
        if line.get_linewidth() == style.WATER_LINE and line.get_color() == style.WATER
    ]
    wanted = answer.waterline is not None and name != "on her side"
    assert len(surfaces) == int(wanted)
    for words, box in boxes_of(figure, "skin"):
        for (left, y), (right, _) in surfaces:
            across = box[1] < y + height < box[3] and box[0] < right and left < box[2]
            assert not across, f"{name}: {words!r} stands across the water line"


def test_the_sheet_has_its_size(drawn):
    """The sheet is 8 in wide and at most 9 in high."""
    width, height = drawn[3].get_size_inches()
    assert width == pytest.approx(8.0)
    assert 3.0 <= height <= 9.0


def test_title_is_short_and_said(drawn):
    """The title has at most 62 characters, no full stop, and is on the sheet."""
    _, _, answer, figure = drawn
    title = skin_words.title(answer)
    assert len(title) <= 62
    assert not title.endswith((".", "!"))
    assert title in words_of(figure)


def test_no_forbidden_word_and_no_typewriter_minus(drawn):
    """Nothing on the sheet praises, and every minus is a true one."""
    for words in words_of(drawn[3]):
        assert not re.search(r"\bsafe|\berror|OK!|(?<![\w=])-\d", words)


def test_the_accent_stands_for_an_opening_under_water_alone(drawn):
    """The accent is used if and only if an opening lies under water."""
    name, _, answer, figure = drawn
    leaks = [piece for piece in answer.openings if piece.under_water]
    used = {color for fill, edge, _, _ in areas_of(figure) for color in (fill, edge)}
    assert (style.LIMIT.upper() in used) == bool(leaks), name


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_files_are_small(drawn, suffix):
    """Each file is under 300 kB; 70 to 160 kB is the aim."""
    assert len(drawing_bytes(drawn[3], suffix)) < 300_000


def test_titles_say_the_finding():
    """What was made of what, what was closed, what lies under water."""
    wanted = {
        "closed as filed": "One part makes one skin, closed as filed",
        "three closed files": "Three parts make three bodies, closed as filed",
        "five thin walls": "Six parts make one skin; three openings closed for buoyancy",
        "sheets": "Six parts make one skin; one opening is closed for buoyancy",
        "an opening under water": "One of four openings closed for buoyancy lies under water",
        "many parts": "60 parts make one skin; twelve openings closed for buoyancy",
        "offsets": "One body from offsets, closed all round",
    }
    for state, title in wanted.items():
        assert skin_words.title(making.made(state)[1]) == title


def test_every_part_opening_and_seam_is_named(printed):
    """Names of parts without their folder, sizes of openings, gaps of seams, kinds."""
    _, answer, figure = printed
    words = words_of(figure)
    assert {Path(part.file).name for part in answer.parts} <= words
    assert {"thin wall, 1 mm", "closed skin"} <= words
    assert {"opening at station 175", "opening at station 420"} <= words
    assert {"radio hatch (state not stated)", "(state not stated)"} <= words
    assert {"gap 0.1 mm", "touching", "gap 0.3 mm", "overlap 0.05 mm"} <= words
    assert {f"seam at {cut:.0f}" for cut in making.CUTS} <= words


def leaders_of(figure):
    """Return the lines that tie openings to their labels, corners in points from the upper left."""
    from matplotlib.lines import Line2D

    found = [
        line.get_xydata()
        for line in figure.findobj(Line2D)
        if line.get_linewidth() == style.THIN and line.get_color() in (style.INK, style.LIMIT)
    ]
    # The strokes that say length is left out are shorter than any leader.
    return [path for path in found if np.ptp(path[:, 1]) > 10.0]


def test_no_leader_crosses_another_body_or_a_word(drawn):
    """A line from an opening to its label runs over one outline at most, and over no text."""
    from matplotlib.path import Path as Outline
    from matplotlib.transforms import Bbox

    name, _, answer, figure = drawn
    height = figure.get_size_inches()[1] * 72.0
    ink = [
        corners
        for _, edge, dotted, corners in areas_of(figure)
        if edge == style.INK.upper() and not dotted
    ]
    leaders = leaders_of(figure)
    assert bool(leaders) == any(piece.kind != "seam" for b in answer.bodies for piece in b.invented)
    for leader in leaders:
        line = Outline(leader)
        crossed = sum(line.intersects_path(Outline(corners), filled=True) for corners in ink)
        assert crossed <= 1, f"{name}: a leader crosses {crossed} outlines"
        for words, box in boxes_of(figure, "skin"):
            low, high = box[1] - height, box[3] - height
            word = Bbox([[box[0], low], [box[2], high]])
            assert not line.intersects_bbox(word, filled=False), f"{name}: across {words!r}"


def test_twins_on_both_sides_are_one_label_with_two_dots():
    """Two slots nobody named at one station: one label; two vents of which one has a name: two."""
    from matplotlib.patches import Circle

    figure = drawing("twelve parts, tip floats")
    words = words_of(figure)
    assert {"24 × 10 mm, both sides", "opening at station 416"} <= words
    assert {
        "starboard vent (open)",
        "opening at station 315 to port",
        "canopy edge (taped)",
    } <= words
    assert not any("station 416 to" in text for text in words)
    assert not any(text.endswith("…") for text in words)
    # Five openings, a dot each.
    assert len(figure.findobj(Circle)) == 5


def test_a_file_and_its_mirror_image_are_drawn_once():
    """The tip float stands once among the parts, with how many there are and what they are."""
    bodies, answer = making.made("twelve parts, tip floats")
    scene = SkinScene.of(bodies, answer)
    assert len(answer.parts) == 13
    assert [(p.copies, p.is_mirrored) for p in scene.parts] == [(1, False)] * 11 + [(2, True)]
    words = words_of(drawing("twelve parts, tip floats"))
    assert {"tip_float.stl ×2", "closed skin, one mirrored"} <= words


def test_only_the_same_file_in_its_place_is_a_copy():
    """Moved across or mirrored across: one; another name, another place along, a turn: two."""
    float_ = making.surfaces()[1]
    one = making.part("float.stl", float_, "closed skin")
    across = making.part("float.stl", float_ + np.array([0.0, 50.0, 0.0]), "closed skin")
    mirrored = making.part("float.stl", float_ * np.array([1.0, -1.0, 1.0]), "closed skin")
    aft = making.part("float.stl", float_ + np.array([50.0, 0.0, 0.0]), "closed skin")
    turned = making.part("float.stl", float_ * np.array([-1.0, -1.0, 1.0]), "closed skin")
    other = making.part("other.stl", float_, "closed skin")
    for part, copies, turn in (
        (across, 2, False),
        (mirrored, 2, True),
        (aft, 1, False),
        (turned, 1, False),
        (other, 1, False),
    ):
        first = copies_once([[one], [part]])[0]
        assert (first.copies, first.is_mirrored) == (copies, turn)
    three = copies_once([[one, across], [mirrored]])
    assert [(group.copies, group.is_mirrored) for group in three] == [(3, True)]


def test_many_seams_alike_are_named_by_their_stations():
    """Ten seams that all touch: their stations, and once what all are."""
    words = words_of(drawing("twelve parts, tip floats"))
    assert {f"{cut:.0f}" for cut in making.TWELVE} <= words
    assert "seams at these stations: all touching" in words


def test_names_that_fit_are_whole():
    """Eleven parts in a row: the thickness and the file's end go before a name is cut."""
    words = words_of(drawing("twelve parts, tip floats"))
    assert {f"part_{i}" for i in range(1, 12)} <= words
    assert "thin wall" in words


def test_invented_pieces_are_dotted_and_of_another_tone(printed):
    """Each opening has a dotted edge in the side view, and white faces where it is seen."""
    dotted = [area for area in areas_of(printed[2]) if area[2]]
    # Two on the deck and one in the side from port; all three lie in view from above.
    assert len(dotted) == 6
    white = [area for area in areas_of(printed[2]) if area[0] == style.PAPER.upper()]
    assert len(white) >= 5


def test_parts_keep_their_scale_and_their_order(printed):
    """One scale for all views, and parts set apart by equal gaps over their true distances."""
    bodies, answer, figure = printed
    scene = SkinScene.of(bodies, answer)
    areas = [a for a in areas_of(figure) if a[1] == style.INK.upper() and not a[2]]
    hull = scene.bodies[0].side
    length = float(np.ptp(np.concatenate(hull)[:, 0]))
    widths = sorted(float(np.ptp(corners[:, 0])) for _, _, _, corners in areas)
    scale = widths[-1] / length
    for part in scene.parts:
        want = part.box[1] - part.box[0]
        # Corners are rounded to 0.01 pt on the sheet.
        assert any(
            np.allclose(np.ptp(corners, axis=0) / scale, want, atol=0.05) for *_, corners in areas
        ), part.report.file
    assert [part.report.file for part in main_row(scene)] == list(making.NAMES)


def test_a_part_upside_down_shows(printed):
    """Turned over, a part's outline is another: its flat top looks down."""
    bodies, answer = making.made("a part upside down")
    scene, whole = SkinScene.of(bodies, answer), SkinScene.of(printed[0], printed[1])
    turned, right = scene.parts[1].side[0], whole.parts[1].side[0]
    middle = 0.5 * (turned[:, 1].min() + turned[:, 1].max())
    assert abs(float(turned[:, 1].mean()) - float(right[:, 1].mean())) > 1.0
    assert middle == pytest.approx(0.5 * (right[:, 1].min() + right[:, 1].max()), abs=0.5)


def test_a_displaced_part_shows_at_its_place():
    """Set 5 mm up and aft, a part stands 5 mm higher and its gaps differ by as much."""
    there = SkinScene.of(*making.made("a part displaced")).parts[2].box
    here = SkinScene.of(*making.made("five thin walls")).parts[2].box
    # Outlines are simplified to 0.25 mm, and 0.5° of trim turns 5 mm by 0.04 mm.
    assert there - here == pytest.approx(np.full((2, 2), 5.0), abs=0.35)


def test_a_missing_bottom_is_seen_from_below():
    """What was closed underneath gets a view of its own, named there."""
    _, answer = making.made("an opening under water")
    figure = drawing("an opening under water")
    words = words_of(figure)
    assert "From below" in words
    assert {"39.5 mm under water", "opening at station 240"} <= words
    assert "From below" not in words_of(drawing("five thin walls"))
    assert any(piece.under_water for piece in answer.openings)


def test_what_finds_no_room_is_still_named_in_words():
    """With sixty parts and twelve openings the rest is counted and listed under the views."""
    words = words_of(drawing("many parts"))
    assert any(re.fullmatch(r"and \d+ more parts, named in the table", text) for text in words)
    assert any(text.startswith("Also closed: station ") for text in words)


def test_lowest_openings_keep_their_labels():
    """Of openings that find no room the higher ones go first."""
    _, answer = making.made("many parts")
    lowest = min(answer.openings, key=lambda piece: piece.height_mm)
    station = round(lowest.lowest_mm[0] / 20.0) * 20
    assert f"opening at station {station}" in words_of(drawing("many parts"))


def test_an_outline_does_not_mind_which_way_faces_look():
    """With every third face flipped, one missing and all doubled the outline is the same."""
    triangles = making.surfaces()[1]
    dirty = np.concatenate((triangles[1:], triangles))
    dirty[::3] = dirty[::3, ::-1]
    x, _, z = np.eye(3)
    one, two = (outline(t, x, z, 0.1) for t in (triangles, dirty))
    areas = [sum(_area(loop) for loop in loops) for loops in (one, two)]
    # Both are simplified to 0.1 mm of outlines 400 mm round.
    assert areas[0] == pytest.approx(areas[1], rel=2e-3)
    assert len(one) == len(two) == 1


def test_an_outline_is_that_of_the_solid():
    """A box turned by 30° about y is seen as wide as its sides' projections add up to."""
    import make_bodies

    corners = make_bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    angle = np.radians(30.0)
    right = np.array([np.cos(angle), 0.0, np.sin(angle)])
    up = np.array([-np.sin(angle), 0.0, np.cos(angle)])
    (loop,) = outline(corners, right, up, 0.05)
    wide = 240.0 * np.cos(angle) + 64.0 * np.sin(angle)
    # Corners snap to a quarter of 0.05 mm, and the outline is simplified to it.
    assert np.ptp(loop[:, 0]) == pytest.approx(wide, abs=0.1)
    assert _area(loop) == pytest.approx(240.0 * 64.0, rel=2e-3)


def _area(loop):
    """Return the area of a loop, counter-clockwise positive."""
    x, y = loop.T
    return 0.5 * float(x @ np.roll(y, -1) - y @ np.roll(x, -1))


def test_hostile_names_are_drawn_as_they_are():
    """Dollar signs, tags and line feeds are words; what the font lacks is an empty box."""
    words = words_of(drawing("hostile names"))
    assert "$5_or_$6^2.stl" in words
    assert any("□" in text for text in words)
    assert not any("\n" in text for text in words)


def test_alt_text_names_all(drawn):
    """Alternative text says the title, every part and every opening."""
    _, _, answer, _ = drawn
    said = alt_text(answer)
    assert said.startswith(skin_words.title(answer))
    assert all(skin_words.file_name(part) in said for part in answer.parts)
    assert said.count("water") >= sum(p.height_mm is not None for p in answer.openings)


SCRIPT = """
import hashlib, sys
sys.path[:0] = sys.argv[1:]
import skin_making as making
from hullcheck.report.skin_drawing import drawing_bytes, skin_drawing
figure = skin_drawing(*making.made("an opening under water"))
for suffix in (".svg", ".png", ".pdf"):
    print(hashlib.sha256(drawing_bytes(figure, suffix)).hexdigest())
"""


def test_same_bytes_in_another_process():
    """The seed of hashes changes no byte."""
    figure = drawing("an opening under water")
    here = [hashlib.sha256(drawing_bytes(figure, suffix)).hexdigest() for suffix in SUFFIXES]
    run = subprocess.run(
        [sys.executable, "-c", SCRIPT, str(ROOT / "tests"), str(ROOT / "meshes")],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
        env={**os.environ, "PYTHONHASHSEED": "12345", "PYTHONPATH": str(ROOT)},
    )
    assert run.stdout.split() == here


def test_files_carry_words_and_no_date(printed):
    """The SVG says the finding in its metadata and holds no date; its glyphs are paths."""
    _, answer, figure = printed
    svg = drawing_bytes(figure, ".svg").decode()
    assert f"<title>{skin_words.title(answer)}</title>" in svg
    assert not re.search(r"\b(19|20)\d\d-\d\d|dc:date", svg)
    assert "<text" not in svg


def test_a_body_of_another_waterline_is_drawn_level_with_it():
    """The water is level: trimmed by 3° her outline tilts, the line does not."""
    from hullcheck.answers.float_records import Waterline

    bodies, _ = making.made("closed as filed")
    angle = np.radians(3.0)
    normal = (-float(np.sin(angle)), 0.0, float(np.cos(angle)))
    answer = skin_answer(bodies, Waterline(normal=normal, height_mm=20.0), name="craft")
    scene = SkinScene.of(bodies, answer)
    assert scene.in_water
    assert scene.frame.side(np.array([0.0, 0.0, 0.0])) == pytest.approx([0.0, -20.0])
    bow, stern = (scene.frame.side(np.array([x, 0.0, 0.0]))[1] for x in (0.0, 600.0))
    assert bow - stern == pytest.approx(600.0 * np.sin(angle))
