"""First sheets of parts: what was found stands in them, what is doubtful waits for its owner."""

import re
import tomllib
from pathlib import Path

import numpy as np
import pytest
from begin_making import accepted, begin_files, rows
from sheet_making import box, stl
from skin_making import part as found_part
from skin_making import patch, printed, seam, skin, surfaces
from thin_walls import segments as walls
from thin_walls import wall

from hullcheck.answers import begin_placing
from hullcheck.errors import InputError, SurfaceError
from hullcheck.files.build_folder import load
from hullcheck.files.sheet import read_sheet
from hullcheck.geometry.outer_skin import outer_skin
from hullcheck.geometry.shells import outer_shells

MESHES = Path(__file__).resolve().parents[2] / "meshes"


def begin(folder, *, skin_of=outer_skin, over=(False, False), lie=(None, None), **parts):
    """Write parts by stem and a first build of them; return what was found and the sheet."""
    for stem, triangles in parts.items():
        stl(folder / f"{stem}.stl", triangles)
    return begin_files(
        folder, [folder / f"{stem}.stl" for stem in parts], skin_of=skin_of, over=over, lie=lie
    )


def test_thin_walls_make_a_build(tmp_path):
    """Nose and tail of a box as printed: one body, its seam, its hatch, its wall; it loads."""
    look, text = begin(tmp_path, **walls())
    build = load(tmp_path)
    assert [body.name for body in build.bodies] == ["hull"]
    assert build.bodies[0].shell.volume_mm3 == pytest.approx(600.0 * 100.0 * 80.0, rel=2e-3)
    keys = read_sheet(tmp_path).keys
    assert [(s.name, s.body, s.station_mm) for s in keys.seam] == [("nose to tail", "hull", 200.0)]
    assert keys.body[0].wall_mm == pytest.approx(2.0, abs=0.1)
    assert [one.name for one in keys.opening] == ["opening at station 310"]
    points = np.array(keys.opening[0].points_mm)
    assert 1 <= len(points) <= 12
    # The hatch is cut from 250 to 370, 30 mm to either side, into a deck at 78 to 80 mm.
    assert points.min(axis=0) == pytest.approx((250.0, -30.0, 79.0), abs=1.5)
    assert points.max(axis=0) == pytest.approx((370.0, 30.0, 79.0), abs=1.5)
    assert keys.opening[0].state is None
    assert '# state = "taped"' in text
    assert [one.called for one in build.openings] == ["opening at station 310"]
    assert look.in_place


def test_the_ledger_has_a_row_for_each_part(tmp_path):
    """Planned masses by hand from the walls of the boxes, marked as guesses, and their places."""
    begin(tmp_path, **walls(holes=()))
    nose = rows(tmp_path)["nose"]
    cm3 = (200.0 * 100.0 * 80.0 - 198.0 * 96.0 * 76.0) / 1000.0
    assert float(nose["planned_g"]) == pytest.approx(1.24 * cm3, abs=0.06)
    assert nose["weighed_g"] == ""
    assert nose["note"].startswith("guess: wall of")
    assert float(nose["y_mm"]) == 0.0
    assert list(rows(tmp_path))[:4] == ["nose", "tail", "wing", "motor and propeller"]
    assert rows(tmp_path)["battery"]["planned_g"] == ""


def test_floats_far_apart_are_bodies_and_twins(tmp_path):
    """A hull of two segments and two floats: three bodies, the pair told in a comment."""
    sides = {
        "left": box(120.0, 30.0, 30.0, at=(200.0, -300.0, 10.0)),
        "right": box(120.0, 30.0, 30.0, at=(200.0, 300.0, 10.0)),
    }
    look, text = begin(tmp_path, lie=("-x", "+z"), **walls(holes=()), **sides)
    assert [(b.name, b.role) for b in look.bodies] == [
        ("hull", "hull"),
        ("left", "tip float"),
        ("right", "tip float"),
    ]
    assert [body.twin for body in look.bodies] == ["", "right", "left"]
    assert text.count('# mirror = "left"') == 1
    assert '# mirror = "right"' not in text
    # One of the two is enough: without the other and with the # away the same bodies come out.
    stripped = text.replace('# mirror = "left"', 'mirror = "left"')
    start = stripped.index('[[body]]\nname = "left"')
    stripped = stripped[:start] + stripped[stripped.index("[[", start + 2) :]
    before = {b.name: b.shell.volume_mm3 for b in load(tmp_path).bodies}
    (tmp_path / "build.toml").write_text(stripped, encoding="utf-8")
    after = {b.name: b.shell.volume_mm3 for b in load(tmp_path).bodies}
    assert after == pytest.approx(before)


def test_a_lone_float_is_told(tmp_path):
    """A float to one side without a twin: the line that adds one stands in a comment."""
    aside = box(120.0, 30.0, 30.0, at=(200.0, 300.0, 10.0))
    _, text = begin(tmp_path, hull=box(), starboard_float=aside)
    assert '# mirror = "port float"' in text
    assert [body.name for body in load(tmp_path).bodies] == ["hull", "starboard float"]


def test_a_variant_is_left_out_and_told(tmp_path):
    """A second version of the tail: only the first is used, the other stands in a comment."""
    parts = walls(holes=())
    look, text = begin(tmp_path, **parts, tail_v2=wall(200.0, 604.0, fore=False))
    assert [look.parts[v.part].name for v in look.left_out] == ["tail v2"]
    assert re.search(r'^  # "tail_v2\.stl", +# left out: named like tail', text, re.MULTILINE)
    assert [part.file for part in read_sheet(tmp_path).keys.body[0].parts] == [
        "nose.stl",
        "tail.stl",
    ]
    assert "tail v2" not in rows(tmp_path)


def test_a_refused_skin_leaves_a_sheet_to_mend(tmp_path):
    """Where no skin can be made the sheet is written and says why."""

    def refused(name, parts):
        """Refuse every skin."""
        raise SurfaceError(f"{name}: {len(parts)} parts\ngape # by 3 mm")

    look, text = begin(tmp_path, skin_of=refused, **walls())
    assert "# No outer skin yet: the hull: 2 parts gape # by 3 mm." in text
    assert look.notes == ("hull: no outer skin yet: the hull: 2 parts\ngape # by 3 mm",)
    keys = read_sheet(tmp_path).keys
    assert [len(body.parts) for body in keys.body] == [2]
    assert keys.seam == keys.opening == []


def test_what_a_skin_says_stands_in_the_sheet(tmp_path):
    """Seams with gaps, openings to either side, bulkheads and lids, from a skin made by hand."""
    made = printed()[0].skin
    parts = {part.name.rsplit("/", 1)[1][:-4]: part.triangles_mm for part in made.parts}
    look, text = begin(tmp_path, skin_of=lambda *_: made, lie=("-x", "+z"), **parts)
    keys = tomllib.loads(text)
    assert [s["station_mm"] for s in keys["seam"]] == [120, 262, 380, 500]
    assert "# ends 0.30 mm apart" in text
    assert "# ends overlap by 0.05 mm" in text
    assert "# ends touch" in text
    names = [one["name"] for one in keys["opening"]]
    assert names == ["opening at station 175", "opening at station 320", "opening at station 420"]
    assert all("state" not in one and len(one["points_mm"]) <= 12 for one in keys["opening"])
    assert "# bulkheads = [{ station_mm = 118, watertight = false }" in text
    taken = text.replace("# bulkheads", "bulkheads")
    walls_ = tomllib.loads(taken)["body"][0]["bulkheads"]
    assert [one["station_mm"] for one in walls_] == [118, 310]
    assert look.bodies[0].step is not None
    assert "# Her step was found at station 265.0, 11.0 mm deep" in text


def test_two_openings_at_one_station_are_told_apart(tmp_path):
    """Slots to either side of one station have names of their own, with the lowest points."""
    holes = [
        patch("a", (400.0, 10.0, 60.0), (430.0, 90.0, 66.0)),
        patch("b", (400.0, -90.0, 60.0), (430.0, -10.0, 66.0)),
    ]
    made = skin([found_part("hull.stl", box(), "closed skin")], holes, [seam("a", "b", 200.0)])
    _, text = begin(tmp_path, skin_of=lambda *_: made, lie=("-x", "+z"), hull=box())
    openings = tomllib.loads(text)["opening"]
    assert [one["name"].split(" to ")[1] for one in openings] == ["starboard", "port"]
    for one, hole in zip(openings, holes, strict=True):
        lowest = min(z for _, _, z in one["points_mm"])
        assert lowest == pytest.approx(float(hole.lowest_mm[2]), abs=0.01)


def on_the_printer():
    """Return the demo's parts as they stand on the printer, and where they belong."""
    files = sorted((MESHES / "print_axes").glob("*.stl"))
    truth = tomllib.loads((MESHES / "print_axes" / "placements.toml").read_text(encoding="utf-8"))
    return files, {one["file"]: np.array(one["place"]) for one in truth["part"]}


def test_parts_on_the_printer_wait_to_be_confirmed(tmp_path):
    """Until the # is taken away the sheet is refused; then every part lies where it belongs."""
    files, truth = on_the_printer()
    look, text = begin_files(tmp_path, files)
    assert not look.in_place
    with pytest.raises(InputError, match=r'"hull" has its parts commented out'):
        load(tmp_path)
    assert "TO CONFIRM" in text
    sheet = tmp_path / "build.toml"
    sheet.write_text(accepted(text), encoding="utf-8")
    parts = read_sheet(tmp_path).keys.body[0].parts
    assert [Path(part.file).stem for part in parts] == ["nose", "fore", "mid", "aft", "stern"]
    for part in parts:
        assert np.array(part.place) == pytest.approx(truth[Path(part.file).name], abs=0.01)
    # The hatch fits no end: set by hand, where it belongs.
    line = next(line for line in accepted(text).splitlines() if line.startswith("  # {"))
    by_hand = line.replace("  # {", "  {")
    by_hand = re.sub(r"at_mm.* }", f"place = {truth['hatch.stl'].tolist()} }}", by_hand)
    sheet.write_text(accepted(text).replace(line, by_hand), encoding="utf-8")
    build = load(tmp_path)
    assert [body.name for body in build.bodies] == ["hull"]
    # What the demo's hull holds by its own closed mesh; the hatch leaves a gap around it.
    closed = outer_shells("hull", surfaces()[0]).shells[0].volume_mm3
    assert build.bodies[0].shell.volume_mm3 == pytest.approx(closed, rel=2e-3)


@pytest.mark.parametrize(
    ("over", "signs"), [((True, False), (-1.0, -1.0, 1.0)), ((False, True), (1.0, -1.0, -1.0))]
)
def test_a_suggestion_can_be_turned_over(tmp_path, over, signs):
    """End for end turns her about z, upside down about x, both against the true placements."""
    files, truth = on_the_printer()
    look, text = begin_files(tmp_path, files, over=over)
    assert "her step tells bow and deck otherwise" in look.suggestion.doubts[0]
    (tmp_path / "build.toml").write_text(accepted(text), encoding="utf-8")
    for part in read_sheet(tmp_path).keys.body[0].parts:
        place = np.array(part.place)[:3, :3]
        wanted = np.diag(signs) @ truth[Path(part.file).name][:3, :3]
        assert place == pytest.approx(wanted, abs=1e-6)


def test_her_step_mends_a_wrong_guess(tmp_path, monkeypatch):
    """Were bow or deck guessed wrong, her step would tell: the true placements come out."""
    files, truth = on_the_printer()
    guess = begin_placing.suggest_placements

    def misled(parts, *, end_for_end, upside_down):
        """Guess the other way round."""
        return guess(parts, end_for_end=not end_for_end, upside_down=not upside_down)

    monkeypatch.setattr(begin_placing, "suggest_placements", misled)
    look, text = begin_files(tmp_path, files)
    assert look.suggestion.doubts[0] == "Bow and deck are told by her step at station 265."
    assert not any("guessed" in doubt for doubt in look.suggestion.doubts)
    (tmp_path / "build.toml").write_text(accepted(text), encoding="utf-8")
    for part in read_sheet(tmp_path).keys.body[0].parts:
        assert np.array(part.place) == pytest.approx(truth[Path(part.file).name], abs=0.01)


def test_parts_that_fit_nothing_are_left_to_the_hand(tmp_path):
    """No two ends fit: every part stands in the sheet with zeros to fill in, and why."""
    tubes = {
        "one": wall(0.0, 200.0, fore=False, aft=False),
        "two": wall(0.0, 150.0, fore=False, aft=False) * np.array([1.0, 0.7, 0.8]),
    }
    look, text = begin(tmp_path, **tubes)
    assert look.suggestion is None
    assert look.no_suggestion
    assert "TO PLACE" in text
    with pytest.raises(InputError, match="has its parts commented out"):
        load(tmp_path)
    (tmp_path / "build.toml").write_text(accepted(text), encoding="utf-8")
    parts = read_sheet(tmp_path).keys.body[0].parts
    assert [(p.file, p.at_mm) for p in parts] == [("one.stl", [0, 0, 0]), ("two.stl", [0, 0, 0])]
    assert rows(tmp_path)["one"]["x_mm"] == ""
    assert rows(tmp_path)["one"]["planned_g"] != ""


def test_a_float_on_its_own_center_plane_is_not_swallowed(tmp_path):
    """A float in the middle of the hull's files would vanish in her: it is told, and marked."""
    pod = box(120.0, 30.0, 30.0, at=(250.0, 0.0, 25.0))
    look, text = begin(tmp_path, hull=box(), float=pod)
    assert [len(body.parts) for body in look.bodies] == [2]
    assert any("float lies inside hull and adds nothing" in note for note in look.notes)
    assert re.search(r'^  "float\.stl", +# inside her', text, re.MULTILINE)
    assert read_sheet(tmp_path).keys.body[0].parts is not None
