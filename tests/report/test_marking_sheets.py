"""The full-size sheets, measured back from the PDF's vectors with a library that reads PDF."""

import dataclasses

import numpy as np
import pytest
import shapely
from crafts import box_body
from drawn_texts import assert_apart, assert_on_sheet, boxes_of, texts_of
from marking_making import (
    FORMULA,
    HOSTILE,
    STATES,
    build_of,
    marked,
    pdf_of,
    read,
    sheets_of,
    well_build,
)
from pdf_vectors import PT_PER_MM, rgb

from hullcheck.answers.marking_answer import marking
from hullcheck.errors import InputError
from hullcheck.report import style
from hullcheck.report.marking_page import MARGIN, Paper, bare_sheet
from hullcheck.report.marking_pieces import Frame, Piece
from hullcheck.report.marking_sheets import marking_sheets
from hullcheck.report.marking_side import CUT_OFF, side_pieces
from hullcheck.report.marking_tiles import draw_map, tiles_of

PAPERS_MM = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""ISO 216; ANSI/ASME Y14.1, 8.5 × 11 in."""
TRUE_MM = 0.1
"""What a ruler and an eye can tell apart; the vectors are ten times finer."""
EVERY = [*((state, "a4") for state in STATES), ("box", "letter"), ("demo", "letter")]
WATER, INK, SOFT = rgb(style.WATER), rgb(style.INK), rgb(style.SOFT)


def rulers(page_lines):
    """Return the two longest straight thin lines of ink that stand alone: across and upright."""
    thin = [one for one in page_lines if one.width == style.THIN and one.color == INK]
    across = [one for one in thin if len(one.points) == 2 and one.size[1] == 0.0]
    upright = [one for one in thin if len(one.points) == 2 and one.size[0] == 0.0]
    return max(across, key=lambda o: o.size[0]), max(upright, key=lambda o: o.size[1])


@pytest.mark.parametrize("paper", PAPERS_MM)
def test_every_sheet_is_its_paper_and_has_rulers_of_100_mm(paper):
    """Pages have the paper's size, and on each both rulers and their ten parts are true."""
    for page, found in zip(*read("demo", paper), strict=True):
        size = [float(v) / PT_PER_MM for v in page.mediabox[2:]]
        assert size == pytest.approx(PAPERS_MM[paper], abs=0.001)
        both = rulers(found)
        for ruler, axis in zip(both, (0, 1), strict=True):
            assert ruler.size[axis] / PT_PER_MM == pytest.approx(100.0, abs=TRUE_MM)
            start = ruler.points[0]
            ticks = sorted(
                (one.points[0][axis] - start[axis]) / PT_PER_MM
                for one in found
                if one.width == style.THIN and one.color == INK and one not in both
                and one.points[0][1 - axis] == pytest.approx(start[1 - axis])
                and one.size[axis] == 0.0
            )  # fmt: skip
            assert ticks == pytest.approx([10.0 * i for i in range(11)], abs=TRUE_MM)


@pytest.mark.parametrize(("state", "paper"), EVERY)
def test_what_is_drawn_keeps_clear_of_the_printers_margins(state, paper):
    """No line comes nearer than 10 mm to an edge, nor onto the rulers or the lines under them."""
    width, height = PAPERS_MM[paper]
    for sheet in sheets_of(state, paper).sheets:
        found = sheet.axes.lines
        points = np.concatenate([one.get_xydata() for one in found]) / PT_PER_MM
        assert (points >= (10.0, 10.0 - height)).all()
        assert (points <= (width - 10.0, -10.0)).all()
        # Both rulers were drawn last, each with its eleven ticks.
        across, upright = found[-24].get_xydata(), found[-12].get_xydata()
        assert np.ptp(across[:, 0]) == pytest.approx(100.0 * PT_PER_MM)
        assert np.ptp(upright[:, 1]) == pytest.approx(100.0 * PT_PER_MM)
        side, base = upright[0, 0], across[0, 1]
        drawn = [o for o in found if o.get_linewidth() != style.THIN or o.get_color() != style.INK]
        assert all(one.get_xydata()[:, 0].max() < side for one in drawn)
        assert all(one.get_xydata()[:, 1].min() > base for one in drawn)


@pytest.mark.parametrize("paper", PAPERS_MM)
def test_sections_of_a_box_show_its_waterline(paper):
    """Each section is 100 × 80 mm with the water 20 mm above its bottom: 1200 g / (600 × 100)."""
    seen = 0
    for found in read("box", paper)[1]:
        outlines = [one for one in found if one.width == style.MIDDLE and _is_box(one, 100.0, 80.0)]
        waters = [one for one in found if one.color == WATER and len(one.points) == 2]
        for outline in outlines:
            low, high = outline.points.min(axis=0), outline.points.max(axis=0)
            mine = [
                one for one in waters
                if one.points[:, 0].min() < low[0] and one.points[:, 0].max() > high[0]
                and low[1] < one.points[0, 1] < high[1]
            ]  # fmt: skip
            assert len(mine) == 1
            for _, y in mine[0].points:
                assert (y - low[1]) / PT_PER_MM == pytest.approx(20.0, abs=TRUE_MM)
            seen += 1
    assert seen == len(marked("box").answer.bodies[0].stations) == 5


def _is_box(line, width, height):
    """Return whether a line's box has a size [mm] within what is held to."""
    return bool((np.abs(line.size / PT_PER_MM - (width, height)) < TRUE_MM).all())


@pytest.mark.parametrize(("state", "girth_mm"), [("box", 70.0), ("wedge", 40.0)])
def test_strips_have_the_girths_between_their_lines(state, girth_mm):
    """Water lines stand 50 + 20 mm, or half the wedge's slant of 80 mm from the keel."""
    strips = 0
    for found in read(state)[1]:
        upright = [
            one for one in found
            if len(one.points) == 2 and one.size[0] == 0.0 and one.width in {style.THIN, style.BOLD}
            and one.size[1] / PT_PER_MM == pytest.approx(9.0)
        ]  # fmt: skip
        for keel in (one for one in upright if one.width == style.BOLD):
            level = keel.points[:, 1].min()
            blue = sorted(
                (one.points[0, 0] - keel.points[0, 0]) / PT_PER_MM
                for one in upright
                if one.color == WATER and one.points[:, 1].min() == pytest.approx(level)
            )
            assert blue[0] == pytest.approx(-girth_mm, abs=TRUE_MM)
            assert blue[-1] == pytest.approx(girth_mm, abs=TRUE_MM)
            strips += 1
    assert strips == len(marked(state).answer.bodies[0].stations)


@dataclasses.dataclass
class SideTile:
    """A tile read off the PDF: box, crosses, upright station lines, water and keel [mm]."""

    low: np.ndarray
    high: np.ndarray
    crosses: list
    stations: list
    water: list


def side_tiles(state, paper="a4"):
    """Return the tiles with crop corners, in their order, with what lies in each."""
    tiles = []
    for found in read(state, paper)[1]:
        corners = [o for o in found if o.color == SOFT and o.width == style.HAIR]
        assert len(corners) % 4 == 0
        for number in range(0, len(corners), 4):
            points = np.concatenate([o.points for o in corners[number : number + 4]]) / PT_PER_MM
            low, high = points.min(axis=0), points.max(axis=0)
            inside = [
                one for one in found if one.color != SOFT
                and (one.points / PT_PER_MM >= low - 0.01).all()
                and (one.points / PT_PER_MM <= high + 0.01).all()
            ]  # fmt: skip
            tiles.append(_tile(low, high, inside))
    return tiles


def _tile(low, high, inside):
    """Return a tile of the lines in its box."""
    hair = [o for o in inside if o.width == style.HAIR and o.color == INK]
    arms = [o for o in hair if len(o.points) == 2]
    crosses = [
        np.array((flat.points[:, 0].mean(), up.points[:, 1].mean())) / PT_PER_MM
        for flat in arms
        for up in arms
        if flat.size[1] == 0.0 and up.size[0] == 0.0
        and np.allclose(flat.points.mean(axis=0), up.points.mean(axis=0), atol=0.01)
    ]  # fmt: skip
    return SideTile(
        low=low,
        high=high,
        crosses=sorted(crosses, key=lambda c: (round(c[0], 1), c[1])),
        stations=sorted({round(o.points[0, 0] / PT_PER_MM, 4) for o in hair if len(o.points) == 3}),
        water=[o.points / PT_PER_MM for o in inside if o.color == WATER],
    )


@pytest.mark.parametrize("paper", PAPERS_MM)
def test_tiles_of_the_side_view_line_up_at_their_crosses(paper):
    """Laid cross on cross, a box's stations stand 100 mm apart over all tiles, its water level."""
    tiles = side_tiles("box", paper)
    assert len(tiles) > 2
    shift = np.zeros(2)
    along, levels, ends = [], [], []
    for number, tile in enumerate(tiles):
        if number:
            before, here = tiles[number - 1].crosses[-2:], tile.crosses[:2]
            offsets = [shift + b - h for b, h in zip(before, here, strict=True)]
            assert np.abs(offsets[0] - offsets[1]).max() < TRUE_MM
            shift = offsets[0]
        along += [x + shift[0] for x in tile.stations]
        levels += [y + shift[1] for line in tile.water for _, y in line]
        ends += [x + shift[0] for line in tile.water for x, _ in line]
    assert np.ptp(levels) < TRUE_MM
    assert np.ptp(ends) == pytest.approx(600.0, abs=TRUE_MM)
    found = np.sort(along)
    # What lies in an overlap is drawn in both tiles, at one place within a tenth.
    apart = found[np.concatenate(([True], np.diff(found) > TRUE_MM))]
    assert len(apart) == len(marked("box").answer.bodies[0].stations)
    assert np.diff(apart) == pytest.approx([100.0] * (len(apart) - 1), abs=TRUE_MM)


def test_a_section_larger_than_the_paper_lines_up_too():
    """Sections of 260 × 300 mm come in 2 × 2 tiles; crosses of neighbors are the same points."""
    sheets = sheets_of("large")
    wide = [p.tile for page in sheets.placed for p in page if p.tile.piece.kind == "section"]
    assert {(tile.columns, tile.rows) for tile in wide} == {(2, 2)}
    shared = {}
    for tile in wide[:4]:
        for x, y in tile.crosses():
            shared.setdefault((round(x, 6), round(y, 6)), []).append(tile.number)
    # Two on each of the four joints, every one in both neighbors.
    assert len(shared) == 8
    assert all(len(numbers) == 2 for numbers in shared.values())
    found = side_tiles("large")
    assert len(found) == sum(p.tile.count > 1 for page in sheets.placed for p in page)


def test_side_view_of_the_hull_passes_through_her_keel():
    """From the side the demo's outline passes a keel's depth under the water at each station."""
    answer = marked("demo").answer
    placed = [p.tile.piece for page in sheets_of("demo").placed for p in page]
    piece = next(piece for piece in placed if piece.kind == "side view")
    outline = shapely.linestrings(
        max((s.points for s in piece.strokes if s.width == style.MIDDLE), key=len)
    )
    n_x, _, n_z = answer.waterline.normal
    for one in answer.bodies[0].stations:
        x, _, z = one.keel_mm
        keel = shapely.points(x * n_z - z * n_x, -one.keel_depth_mm)
        assert shapely.distance(outline, keel) < TRUE_MM


@pytest.mark.parametrize(("state", "paper"), EVERY)
def test_texts_stand_apart_on_the_sheet_and_are_readable(state, paper):
    """No two texts overlap, none leaves the margins, none is under 8.5 pt."""
    sheets = sheets_of(state, paper)
    for number, sheet in enumerate(sheets.sheets):
        name, figure = f"{state}, {paper}, sheet {number + 1}", sheet.figure
        boxes = boxes_of(figure, "marks")
        assert_apart(name, boxes)
        assert_on_sheet(name, figure, boxes, margin=28.0)
        assert all(text.get_fontsize() >= style.LEAST_TYPE for text in texts_of(figure))


def test_pages_are_as_many_as_the_sheets_and_are_counted_on_them():
    """The demo takes a table and sheets of side view, sections, strips; each says which it is."""
    sheets = sheets_of("demo")
    pages, _ = read("demo")
    assert len(pages) == len(sheets.sheets) == 8
    for number, page in enumerate(pages, start=1):
        assert f"sheet {number} of {len(pages)}" in page.extract_text()
    assert sheets.words == "8 sheets of A4"
    kinds = [{p.tile.piece.kind for p in page} for page in sheets.placed]
    assert kinds[0] == set()
    assert sorted(set().union(*kinds)) == ["section", "side view", "strip"]


def test_a_craft_that_lists_is_drawn_from_both_sides():
    """Where the sides differ there is a starboard view too; level across the port one says why."""

    def titles(state):
        """Return the titles of what is drawn."""
        placed = [p.tile.piece for page in sheets_of(state).placed for p in page]
        return {piece.title for piece in placed if piece.kind == "side view"}

    assert titles("demo") == {"Side view from port"}
    assert {f"Hull, side view from {side}" for side in ("port", "starboard")} <= titles("listing")


def test_same_input_same_bytes_and_no_date():
    """Made twice the file is the same, and nothing in it tells when it was made."""
    again = marking_sheets(marking(STATES["wedge"](), every_mm=100.0)).pdf()
    assert again == pdf_of("wedge")
    assert b"CreationDate" not in again
    assert b"ModDate" not in again
    assert len(again) < 400_000


def test_hostile_names_come_out_as_text():
    """Names that a page would run or a formula typeset stand on the sheets letter by letter."""
    text = " ".join(page.extract_text() for page in read("odd names")[0])
    assert '<script>alert(1)</script> & "Ünï"' in text
    assert f"mark $x_1$ {HOSTILE[:8]}" in text
    assert FORMULA[:10] in text
    shown = {t.get_text() for t in texts_of(sheets_of("odd names").sheets[0].figure)}
    assert any(words.startswith(HOSTILE) for words in shown)


def test_what_was_assumed_and_how_to_print_stand_on_the_first_sheet():
    """The first sheet says load, assumption and the one rule of printing."""
    text = " ".join(read("box")[0][0].extract_text().split())
    assert "Waterline for 1200 g: level fore and aft, level across" in text
    assert "Assumed: mass and CG as the build sheet gives them" in text
    assert "Print at 100 %, not fitted to the page" in text
    assert "safe" not in text.lower()


def test_too_many_sheets_are_refused():
    """More than 120 sheets are refused, with what takes them and what makes them fewer."""
    found = marking(STATES["large"](), every_mm=6.0)
    said = r"the marks take \d+ sheets of A4, 2 of them with the side view, at most 120: ask for f"
    with pytest.raises(InputError, match=said):
        marking_sheets(found)
    # 24 m at 163 mm of new paper a sheet; no station fewer changes that.
    long = marking(
        build_of(box_body(24_000.0, 300.0, 600.0), mass_g=2.16e6, cg=(12_000.0, 0.0, 60.0)),
        stations_mm=(12_000.0,),
    )
    said = r"14\d of them with the side view, at most 120: leave it out \(--no-side\)$"
    with pytest.raises(InputError, match=said):
        marking_sheets(long)
    sheets = marking_sheets(long, side_view=False)
    assert len(sheets.sheets) < 12
    assert {p.tile.piece.kind for page in sheets.placed for p in page} == {"section", "strip"}
    words = " ".join(text.get_text() for text in texts_of(sheets.sheets[0].figure))
    assert "side view" not in words


def test_of_a_deep_side_view_a_band_at_the_water_is_drawn():
    """300 mm of draft take two rows of A4; the band takes one, with its water and its stations."""
    tiles = [p.tile for page in sheets_of("deep").placed for p in page]
    side = [tile for tile in tiles if tile.piece.kind == "side view"]
    assert {tile.rows for tile in side} == {1}
    piece = side[0].piece
    assert (piece.frame.top, piece.frame.bottom > -220.0) == (40.0, True)
    assert piece.title.endswith(CUT_OFF)
    assert any(s.color == style.WATER and np.ptp(s.points[:, 1]) < 1e-6 for s in piece.strokes)
    assert {word.words for word in piece.words} == {"300"}
    words = " ".join(text.get_text() for text in texts_of(sheets_of("deep").sheets[0].figure))
    assert "the ends of its waterline on hers" in words
    assert "keel on keel" not in words


def test_the_map_of_many_tiles_stays_on_the_paper():
    """Of 40 × 9 tiles those round the one are drawn, the one filled and numbered among them."""
    paper = Paper.of("a4")
    whole = Frame(left=0.0, bottom=0.0, right=6500.0, top=2000.0)
    tiles = tiles_of(Piece(kind="side view", title="", note="", frame=whole), 175.0, 235.0)
    assert (tiles[0].columns, tiles[0].rows) == (40, 9)
    for tile in (tiles[len(tiles) // 2], tiles[-1]):
        sheet = bare_sheet(paper)
        height = draw_map(sheet, tile, (MARGIN, paper.top))
        points = np.concatenate([line.get_xydata() for line in sheet.axes.lines])
        assert points[:, 0].max() <= paper.right
        assert np.ptp(points[:, 1]) == pytest.approx(height)
        assert height < 100.0
        assert str(tile.number) in {text.get_text() for text in texts_of(sheet.figure)}


def test_water_in_a_well_is_drawn_on_the_side_that_is_looked_at():
    """A loop inside her runs the other way round: from port its port half is drawn all the same.

    She lists, so that the well's port corner, 15 mm off her middle, wets its own height.
    """
    found = marking(well_build(), stations_mm=(100.0,))
    n_x, n_y, n_z = found.answer.waterline.normal
    for piece, y in zip(
        side_pieces(found, lambda *_: 1.0, several=False), (-15.0, 15.0), strict=True
    ):
        inner = [
            s.points for s in piece.strokes
            if s.color == style.WATER and np.ptp(s.points[:, 0]) == pytest.approx(30.0, abs=0.01)
        ]  # fmt: skip
        assert len(inner) == 1
        heights = inner[0][:, 1]
        corner = heights[np.abs(heights).argmax()]
        assert corner == pytest.approx(-n_y * y / np.hypot(n_x, n_z), abs=1e-6)
        assert abs(corner) > 0.1


def test_nothing_to_mark_makes_no_sheets():
    """A craft that sinks has no sheets."""
    with pytest.raises(InputError, match="no waterline to mark"):
        marking_sheets(marking(build_of(mass_g=9000.0)))
