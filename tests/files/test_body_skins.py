"""Bodies of printed parts: one skin, its notes, the cache, lids, wells, twins, openings."""

import numpy as np
import pytest
from sheet_making import AXES, CRAFT, OPENING, box, build_in, corners
from thin_walls import BOTTOM, HATCH, HEIGHT, SLOT, outline_toml, segments, wall

import hullcheck
from hullcheck.errors import SurfaceError
from hullcheck.files import body_skins
from hullcheck.files.build_folder import load

TWO = ("nose.stl", "tail.stl")
LID = f'[[lid]]\nname = "hatch"\noutline_mm = {outline_toml(HATCH)}\n'
CLOSED = 600 * 100 * 80
"""Volume of the box that the walls enclose [mm³]."""


def body(*parts, name="hull", more=""):
    """Return a [[body]] of parts."""
    listed = ", ".join(f'"{part}"' for part in parts)
    return f'[[body]]\nname = "{name}"\nrole = "hull"\nparts = [{listed}]\n{more}'


def folder_of(folder, *bodies, **parts):
    """Write a build of some bodies and return its sheet."""
    return build_in(folder, CRAFT + AXES + "".join(bodies), **parts)


def test_thin_wall_segments_make_one_skin_that_is_told(tmp_path):
    """Two walls that meet at station 200: the box around them, its error, one opening, one note."""
    build = load(folder_of(tmp_path, body(*TWO), **segments()))
    (one,), (made,) = build.bodies, build.skins
    # The hatch's patch is the chord of its rim: less than 2 mm of wall over 120 × 60 mm.
    assert one.volume_error_mm3 > 0.0
    assert abs(one.shell.volume_mm3 - CLOSED) <= one.volume_error_mm3
    assert one.volume_error_mm3 == made.skin.error_mm3 == made.error_mm3
    assert (made.name, made.role, made.units) == ("hull", "hull", ("mm", "mm"))
    (opening,) = build.openings
    assert opening.called == "opening at station 310, 120 × 60 mm"
    assert (opening.name, opening.state, opening.in_doubt) == ("", None, True)
    ((code, said),) = build.notes
    assert code == "outer-skin"
    assert said.startswith("hull: outer skin of 2 thin-wall parts, 4799.")
    assert said.endswith("; 1 opening found")


def test_a_closed_mesh_is_taken_at_its_word_and_not_kept(tmp_path):
    """A box: as filed, no error, no note, and no folder beside the sheet."""
    build = load(folder_of(tmp_path, body("hull.stl")))
    assert build.bodies[0].volume_error_mm3 is None
    assert build.skins[0].skin.method == "as filed"
    assert (build.notes, build.openings) == ((), ())
    assert not (tmp_path / ".hullcheck").exists()


def test_the_second_time_it_is_read_from_the_cache(tmp_path, monkeypatch):
    """The same skin to the last bit without being made; made again when a part has moved."""
    sheet = folder_of(tmp_path, body(*TWO), **segments())
    first = load(sheet)
    (kept,) = (tmp_path / ".hullcheck").glob("skin-*.npz")
    assert kept.stat().st_size > 0
    make, made = body_skins.outer_skin, []

    def counted(*arguments, **options):
        """Make a skin and count it."""
        made.append(arguments[0])
        return make(*arguments, **options)

    monkeypatch.setattr(body_skins, "outer_skin", counted)
    second = load(sheet)
    assert made == []
    one, other = (build.bodies[0] for build in (first, second))
    assert np.array_equal(one.shell.triangles_mm, other.shell.triangles_mm)
    assert one.volume_error_mm3 == other.volume_error_mm3
    assert first.notes == second.notes
    assert [o.called for o in first.openings] == [o.called for o in second.openings]
    text = sheet.read_text(encoding="utf-8")
    moved = text.replace('"tail.stl"', "{ file = 'tail.stl', at_mm = [0, 0, 0.125] }")
    for changed in (moved, text.replace('"hull"', '"boat"', 1), text + LID):
        sheet.write_text(changed, encoding="utf-8")
        load(sheet)
    assert made == ["hull", "boat", "hull"]


def test_a_damaged_cache_is_made_again(tmp_path):
    """Bytes changed in the kept file: the skin is worked out again and kept again."""
    sheet = folder_of(tmp_path, body(*TWO), **segments())
    volume = load(sheet).bodies[0].shell.volume_mm3
    (kept,) = (tmp_path / ".hullcheck").glob("skin-*.npz")
    kept.write_bytes(b"PK" + kept.read_bytes()[100:])
    assert load(sheet).bodies[0].shell.volume_mm3 == volume
    assert load(sheet).notes[0][0] == "outer-skin"


def test_a_cache_that_cannot_be_written_is_a_note(tmp_path):
    """A file where the folder would go: the answer is the same, and it is said."""
    sheet = folder_of(tmp_path, body(*TWO), **segments())
    (tmp_path / ".hullcheck").write_text("in the way", encoding="utf-8")
    build = load(sheet)
    assert len(build.bodies) == 1
    notes = dict(build.notes)
    assert notes["skin-not-kept"].startswith("the skin of hull could not be kept")
    assert "outer-skin" in notes


def test_a_lid_closes_its_opening_exactly_and_is_an_opening_by_its_name(tmp_path):
    """The lid lies in the deck's plane: the box to rounding, and "hatch", state not stated."""
    lid = LID.replace("80.0]", f"{HEIGHT}]")
    build = load(folder_of(tmp_path, body(*TWO), lid, **segments()))
    assert build.bodies[0].shell.volume_mm3 == pytest.approx(CLOSED, rel=1e-6)
    ((opening),) = build.openings
    assert (opening.name, opening.state) == ("hatch", None)
    notes = dict(build.notes)
    assert notes["outer-skin"].endswith("; closed by lids: hatch")
    assert "lids-idle" not in notes


def test_a_lid_whose_opening_is_listed_is_listed_once(tmp_path):
    """By the lid's name, or by points on its edge: the sheet's opening stands, with its state."""
    for i, (name, point) in enumerate((("hatch", [0, 0, 0]), ("edge", [250, 0, 80]))):
        opening = f'[[opening]]\nname = "{name}"\nstate = "taped"\npoints_mm = [{point}]\n'
        build = load(folder_of(tmp_path / str(i), body(*TWO), LID, opening, **segments()))
        assert [(one.name, one.state) for one in build.openings] == [(name, "taped")]
        assert dict(build.skins[0].states) == {"hatch": "taped"}


def test_lids_that_close_nothing_are_said_to(tmp_path):
    """A closed box: lids are for open skins; walls with a second lid elsewhere: it is named."""
    closed = load(folder_of(tmp_path / "a", body("hull.stl"), LID))
    assert dict(closed.notes)["lids-idle"] == (
        "lids close open skins; all bodies here are closed: hatch"
    )
    inside = (
        '[[lid]]\nname = "tray"\noutline_mm = [[400,-9,40],[420,-9,40],[420,9,40],[400,9,40]]\n'
    )
    build = load(folder_of(tmp_path / "b", body(*TWO), LID, inside, **segments()))
    assert dict(build.notes)["lids-idle"].endswith("close nothing: tray")


def test_lids_and_wells_go_to_the_body_they_are_of(tmp_path, monkeypatch):
    """A lid on the nearer body, one on a twin turned over to the first; wells with their body."""
    make, given = body_skins.outer_skin, {}

    def noted(name, parts, *, lids, floods, progress):
        """Make a skin of the parts alone and note what came with them."""
        given[name] = (
            [(lid, outline.tolist()) for lid, outline in lids],
            np.array(floods).tolist(),
        )
        return make(name, parts, progress=progress)

    monkeypatch.setattr(body_skins, "outer_skin", noted)
    port = (
        LID.replace('"hatch"', '"port hatch"')
        .replace("-30.0", "-330.0")
        .replace(" 30.0", " -270.0")
    )
    folder_of(
        tmp_path,
        body("hull.stl", more="floods = [[130, 0, 1], [300, 0, 2.5]]\n"),
        body("float.stl", name="float", more='mirror = "twin"\n'),
        LID,
        port,
        float=box(at=(0.0, 300.0, 0.0)),
    )
    load(tmp_path)
    assert given["hull"] == (
        [("hatch", [[250, -30, 80], [370, -30, 80], [370, 30, 80], [250, 30, 80]])],
        [[130, 0, 1], [300, 0, 2.5]],
    )
    assert given["float"] == (
        [("port hatch", [[250, 270, 80], [370, 270, 80], [370, 330, 80], [250, 330, 80]])],
        [],
    )


def test_a_well_that_is_the_inside_of_the_hull_is_refused(tmp_path):
    """A point under the hatch: all of her would flood, and that is no well."""
    sheet = folder_of(tmp_path, body(*TWO, more="floods = [[310, 0, 60]]\n"), **segments())
    with pytest.raises(SurfaceError, match=r"hull: a well under floods is the inside of the hull"):
        load(sheet)


def test_floods_of_offsets_are_refused(tmp_path):
    """A body from a table has no wells: file, line and key."""
    sheet = '[[body]]\nname = "hull"\nrole = "hull"\noffsets = "h.csv"\nfloods = [[1, 2, 3]]\n'
    with pytest.raises(hullcheck.HullcheckError, match=r"line 12, body\[1\]\.floods: a well is"):
        load(build_in(tmp_path, CRAFT + AXES + "\n" + sheet))


def test_a_twin_has_the_skin_turned_over(tmp_path):
    """Shell, parts and patches at −y, outward; each side's slot is an opening of its own."""
    float_ = wall(holes=(SLOT,), at=(0.0, 300.0, 0.0))
    build = load(
        folder_of(tmp_path, body("f.stl", name="float", more='mirror = "twin"\n'), f=float_)
    )
    one, twin = build.skins
    over = np.array([1.0, -1.0, 1.0])
    assert corners(twin.shells[0].triangles_mm) == corners(one.shells[0].triangles_mm * over)
    assert [body.name for body in build.bodies] == ["float", "twin"]
    for mine, other in zip(one.patches, twin.patches, strict=True):
        assert other.kind == mine.kind
        assert other.center_mm == pytest.approx(mine.center_mm * over, abs=1e-9)
        sides = [p.triangles_mm[:, 1:] - p.triangles_mm[:, :1] for p in (mine, other)]
        areas = [np.cross(s[:, 0], s[:, 1]).sum(axis=0) for s in sides]
        assert areas[1] == pytest.approx(areas[0] * over, abs=1e-6)
    assert [one.called for one in build.openings] == [
        "opening at station 115 to starboard, 30 × 10 mm",
        "opening at station 115 to port, 30 × 10 mm",
    ]
    assert [p.name for p in twin.patches] == [build.openings[1].called]
    assert sum(code == "outer-skin" for code, _ in build.notes) == 1


def test_an_opening_of_the_sheet_stands_for_the_hole_it_lies_on(tmp_path):
    """The hatch is listed by two points of its rim, the bottom's hole is not."""
    parts = segments(holes=(HATCH, BOTTOM))
    listed = OPENING.replace("[[100, 0, 60]]", "[[250, 0, 80], [370, 30, 79]]")
    build = load(folder_of(tmp_path, body(*TWO), listed, **parts))
    assert [one.called for one in build.openings] == [
        "canopy edge",
        "opening at station 130, 60 × 40 mm",
    ]
    elsewhere = OPENING.replace("[[100, 0, 60]]", "[[500, 0, 80]]")
    build = load(folder_of(tmp_path / "b", body(*TWO), elsewhere, **parts))
    assert len(build.openings) == 3


def test_a_setup_may_name_an_opening_that_was_found(tmp_path):
    """It is taped over in one setup, under the name that float prints."""
    setup = (
        '[[setup]]\nname = "taped"\n'
        'openings = { "opening at station 310, 120 × 60 mm" = "taped" }\n'
    )
    build = load(folder_of(tmp_path, body(*TWO), setup, **segments()))
    assert [one.state for one in build.craft("taped").openings] == ["taped"]
    assert [one.state for one in build.craft().openings] == [None]
