"""What makes one body of a sheet: parts that butt or overlap, files of all kinds, offsets."""

import re
import zipfile

import numpy as np
import pytest
import trimesh
from manifold3d import Manifold, Mesh
from offset_rows import EXACT
from sheet_making import AXES, CRAFT, SHEET, box, build_in, corners, refused, solid, stl
from thin_walls import finer

from hullcheck.errors import InputError, MissingFileError, SurfaceError
from hullcheck.files.build_folder import load

BOX_ROWS = (
    "station_mm,line,half_breadth_mm,height_mm\n"
    "0,keel,0,10\n0,chine,40,10\n0,deck edge,40,60\n0,deck center,0,60\n"
    "500,keel,0,10\n500,chine,40,10\n500,deck edge,40,60\n500,deck center,0,60\n"
)
"""A box of 500 × 80 × 50 mm from stations."""


def body(*parts, name="hull", role="hull", more=""):
    """Return a [[body]] of parts, each a file's name or TOML."""
    listed = ", ".join(part if part.startswith("{") else f'"{part}"' for part in parts)
    return f'[[body]]\nname = "{name}"\nrole = "{role}"\nparts = [{listed}]\n{more}'


def offsets_body(value='"hull.csv"', more=""):
    """Return a sheet of one body from offsets."""
    return f'{CRAFT}[[body]]\nname = "hull"\nrole = "hull"\noffsets = {value}\n{more}'


def loaded(folder, *bodies, axes=AXES, **parts):
    """Return the build of a sheet of some bodies."""
    return load(build_in(folder, CRAFT + axes + "".join(bodies), **parts))


def volume_of(build):
    """Return the volume of each body [mm³]."""
    return [body.shell.volume_mm3 for body in build.bodies]


def without(triangles, axis, place):
    """Return triangles less those that lie in the plane across an axis."""
    return triangles[~(np.abs(triangles[:, :, axis] - place) < 1e-9).all(axis=1)]


def test_parts_that_butt_make_one_skin(tmp_path):
    """Three boxes end to end are one box: its volume, and no face left inside."""
    build = loaded(
        tmp_path,
        body("nose.stl", "mid.stl", "tail.stl"),
        nose=box(200.0),
        mid=box(150.0, at=(200.0, 0.0, 0.0)),
        tail=box(250.0, at=(350.0, 0.0, 0.0)),
    )
    (one,) = build.bodies
    assert one.name == "hull"
    assert one.shell.volume_mm3 == pytest.approx(600 * 100 * 80, rel=1e-12)
    assert one.shell.area_mm2 == pytest.approx(2 * (600 * 180 + 100 * 80), rel=1e-12)


@pytest.mark.parametrize("length_mm", [200.1, 199.7, 133.3, 250.05])
def test_parts_moved_to_butt_make_one_skin(tmp_path, length_mm):
    """The length that at_mm says and the file's rounded one differ by a millionth of a mm."""
    tail = f"{{ file = 'tail.stl', at_mm = [{length_mm}, 0, 0] }}"
    build = loaded(tmp_path, body("nose.stl", tail), nose=box(length_mm), tail=box(400.0))
    (one,) = build.bodies
    # STL keeps 250 mm to 1.5e-5 mm: 1e-7 of the length.
    assert one.shell.volume_mm3 == pytest.approx((length_mm + 400) * 100 * 80, rel=1e-7)
    assert one.shell.area_mm2 == pytest.approx(2 * ((length_mm + 400) * 180 + 8000), rel=1e-7)


def test_parts_of_other_sections_that_butt_make_one_skin(tmp_path):
    """A thin boom on the end of a wide hull, moved there: their volumes add up."""
    build = loaded(
        tmp_path,
        body("hull.stl", "{ file = 'boom.stl', at_mm = [600, 0, 30] }"),
        boom=box(300.0, 30.0, 20.0),
    )
    assert volume_of(build) == [pytest.approx(600 * 100 * 80 + 300 * 30 * 20, rel=1e-12)]


def test_parts_that_overlap_make_one_skin(tmp_path):
    """A ball sunk into a box: the volume of the union, by the boolean library alone."""
    ball = trimesh.creation.icosphere(subdivisions=3, radius=60.0)
    ball.apply_translation((300.0, 0.0, 70.0))
    build = loaded(tmp_path, body("hull.stl", "pod.stl"), pod=np.asarray(ball.triangles))
    sphere = solid(np.asarray(ball.triangles).astype(np.float32))
    points, faces = np.float32(sphere.vertices), np.uint32(sphere.faces)
    both = Manifold.cube((600, 100, 80)).translate((0, -50, 0)) + Manifold(Mesh(points, faces))
    # The library's mesh keeps float32.
    assert volume_of(build) == [pytest.approx(both.volume(), rel=1e-6)]
    assert not [code for code, _ in build.notes if code == "united"]


def test_parts_apart_are_refused_with_names_and_distance(tmp_path):
    """Two boxes 20 mm apart under one name: both parts, the distance, the next step."""
    sheet = CRAFT + AXES + body("nose.stl", "tail.stl")
    path = build_in(tmp_path, sheet, nose=box(200.0), tail=box(300.0, at=(220.0, 0.0, 0.0)))
    said = r"nose\.stl and tail\.stl do not make one skin: about 20\.0 mm .*at_mm.*\"hull\""
    with pytest.raises(SurfaceError, match=said):
        load(path)


def test_parts_that_gape_are_bridged_and_it_is_told(tmp_path):
    """An eighth of a millimeter between flat ends: one skin with the groove filled, and its error.

    The boxes and the gap have the section of 100 × 80 mm: (500 + 0.125) × 8000 mm³.
    """
    parts = {"nose": box(200.0), "tail": box(300.0, at=(200.125, 0.0, 0.0))}
    build = loaded(tmp_path, body("nose.stl", "tail.stl"), **parts)
    assert volume_of(build) == [pytest.approx(500.125 * 8000, rel=1e-9)]
    assert build.bodies[0].volume_error_mm3 > 0.0
    ((patch),) = build.skins[0].patches
    assert (patch.kind, build.openings) == ("seam", ())
    assert dict(build.notes)["outer-skin"].startswith("hull: outer skin of 2 ")


def test_open_parts_whose_rims_touch_are_one_skin(tmp_path):
    """Two sheets open towards each other: the closed box, and nothing invented or repaired."""
    nose = without(finer(box(200.0)), 0, 200.0)
    tail = without(finer(box(400.0, at=(200.0, 0.0, 0.0))), 0, 200.0)
    build = loaded(tmp_path, body("nose.stl", "tail.stl"), nose=nose, tail=tail)
    # The skin of a sheet is the sheet itself: the box to rounding and crumbs.
    assert volume_of(build) == [pytest.approx(600 * 100 * 80, rel=1e-6)]
    assert build.openings == ()
    assert not any(code == "repaired" for code, _ in build.notes)


def test_an_open_end_is_refused_until_a_lid_closes_it(tmp_path):
    """A sheet without its transom: station, size, and the lid to write, which makes the box."""
    transom = without(finer(box()), 0, 600.0)
    with pytest.raises(SurfaceError, match=r"hull ends open at station 600, .*\[\[lid\]\]"):
        loaded(tmp_path, body("hull.stl"), hull=transom)
    outline = "[[600, -50, 0], [600, 50, 0], [600, 50, 80], [600, -50, 80]]"
    lid = f'[[lid]]\nname = "transom"\noutline_mm = {outline}\n'
    build = loaded(tmp_path, body("hull.stl"), lid, hull=transom)
    assert volume_of(build) == [pytest.approx(600 * 100 * 80, rel=1e-6)]
    assert [(one.name, one.state) for one in build.openings] == [("transom", None)]


def test_a_part_that_is_mostly_missing_is_refused(tmp_path):
    """The two sides of a box and nothing else: no skin, and the body or the file is named."""
    triangles = box()
    sides = [triangles[(triangles[:, :, 1] == y).all(axis=1)] for y in (-50.0, 50.0)]
    with pytest.raises(SurfaceError, match=r"hull"):
        load(build_in(tmp_path, hull=np.concatenate(sides)))


def test_shells_of_one_file_become_numbered_bodies(tmp_path):
    """Two hulls in one file, mirrored: four bodies with names of their own, largest first."""
    two = np.concatenate([box(at=(0.0, 300.0, 0.0)), box(300.0, at=(0.0, 500.0, 0.0))])
    build = loaded(
        tmp_path,
        body("two.stl", name="float", role="main float", more='mirror = "twin"\n'),
        two=two,
    )
    names = ["float 1", "float 2", "twin 1", "twin 2"]
    assert [body.name for body in build.bodies] == names
    assert volume_of(build) == pytest.approx([48e5, 24e5, 48e5, 24e5], rel=1e-12)
    assert list(build.structures) == names


def test_a_numbered_name_that_is_taken_is_refused(tmp_path):
    """A file of two shells called hull, beside a body called hull 2."""
    two = np.concatenate([box(), box(at=(0.0, 300.0, 0.0))])
    sheet = SHEET + body("two.stl", name="hull 2")
    path = build_in(tmp_path, sheet, hull=two, two=box(at=(0.0, 600.0, 0.0)))
    with pytest.raises(InputError, match=r"build\.toml: body 'hull 2': the name is used twice"):
        load(path)


def test_bodies_that_overlap_count_once_and_it_is_said(tmp_path):
    """A tower half inside the hull: the union, under the hull's name and role, with a note."""
    tower = box(300.0, 60.0, 100.0, at=(100.0, 0.0, 20.0))
    bodies = body("tower.stl", name="tower", role="other") + body("hull.stl")
    build = loaded(tmp_path, bodies, tower=tower)
    (one,) = build.bodies
    assert (one.name, one.role) == ("hull", "hull")
    assert one.shell.volume_mm3 == pytest.approx(600 * 100 * 80 + 300 * 60 * 40, rel=1e-12)
    assert ("united", "tower and hull overlap; they count as one body") in build.notes
    assert list(build.structures) == ["hull"]


def test_one_file_twice_in_one_place_is_refused(tmp_path):
    """As two parts or as two bodies: the same surface counts once."""
    for i, bodies in enumerate((body("hull.stl", "hull.stl"), body("hull.stl") * 2)):
        sheet = CRAFT + AXES + bodies.replace('name = "hull"', 'name = "other"', i)
        path = build_in(tmp_path / str(i), sheet)
        with pytest.raises(SurfaceError, match=r"are the same surface in the same place; name it"):
            load(path)


def test_a_mesh_that_is_not_there_is_refused_with_line_path_and_the_nearest(tmp_path):
    """A part and a table of offsets: line, key, path, and the nearest file in that folder."""
    missing = CRAFT + AXES + body("hull.stl", "hul.stl")
    missing = missing.replace('"hul.stl"]', '"hul.stl"] # here')
    said = r"body\[1\]\.parts\[2\]\.file: .*hul\.stl: there is no such file; did you mean hull\.stl"
    assert isinstance(refused(tmp_path, "", said, head=missing), MissingFileError)
    table = offsets_body('"no/where.csv" # here')
    said = r"body\[1\]\.offsets\.file: .*no/where\.csv: there is no such file; check the name"
    assert isinstance(refused(tmp_path, "", said, head=table), MissingFileError)


def test_paths_climb_from_the_sheet_wherever_the_work_is_done(tmp_path, monkeypatch):
    """Files are found beside the sheet and above it, whatever the working directory."""
    stl(tmp_path / "parts" / "hull.stl", box())
    build_in(tmp_path / "plans" / "one", CRAFT + AXES + body("../../parts/hull.stl"))
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    for cwd, path in (
        (elsewhere, "../plans/one"),
        (tmp_path, "plans/one/build.toml"),
        (tmp_path / "plans" / "one", "."),
        (tmp_path / "plans" / "one", "build.toml"),
        (elsewhere, tmp_path / "plans" / "one"),
    ):
        monkeypatch.chdir(cwd)
        assert volume_of(load(path)) == [pytest.approx(48e5, rel=1e-12)]


def test_files_that_state_their_unit_and_axes_keep_them(tmp_path):
    """3MF in inches; glTF in meters, y up, z forward: both without [axes], nothing assumed."""
    hull = solid(box())
    inches = hull.copy()
    inches.apply_scale(1.0 / 25.4)
    folder = tmp_path / "a"
    sheet = build_in(folder, CRAFT + '[axes]\nforward = "-x"\n' + body("hull.3mf"))
    inches.units = "in"
    (folder / "hull.3mf").write_bytes(trimesh.Scene(inches).export(file_type="3mf"))
    _stated_in_inches(folder / "hull.3mf")
    build = load(sheet)
    assert volume_of(build) == [pytest.approx(48e5, rel=1e-6)]
    assert build.notes == ()
    points = np.stack([-hull.vertices[:, 1], hull.vertices[:, 2], -hull.vertices[:, 0]], axis=1)
    lying = trimesh.Trimesh(points / 1000.0, hull.faces)
    sheet = build_in(tmp_path / "b", CRAFT + body("hull.glb"))
    (tmp_path / "b" / "hull.glb").write_bytes(trimesh.Scene(lying).export(file_type="glb"))
    build = load(sheet)
    # glTF keeps float32 meters: 6e-8 of 0.6 m.
    assert build.bodies[0].shell.high_mm == pytest.approx([600.0, 50.0, 80.0], abs=1e-4)
    assert build.notes == ()


def _stated_in_inches(path):
    """Make a 3MF state inches, whatever unit its writer put there."""
    with zipfile.ZipFile(path) as package:
        files = {name: package.read(name) for name in package.namelist()}
    with zipfile.ZipFile(path, "w") as package:
        for name, data in files.items():
            package.writestr(name, re.sub(rb'(<model[^>]*unit=)"\w+"', rb'\1"inch"', data))


def test_bow_of_a_sheet_against_the_sky_of_a_file_is_refused(tmp_path):
    """Forward +y for a glTF, whose own sky is +y: refused with line and file."""
    sheet = f'{CRAFT}[axes]\nforward = "+y" # here\n' + body("hull.glb")
    build_in(tmp_path, sheet)
    (tmp_path / "hull.glb").write_bytes(trimesh.Scene(solid(box())).export(file_type="glb"))
    refused(tmp_path, "", r"hull\.glb: forward \+y and up \+y lie along one axis", head=sheet)


def test_a_size_that_suggests_another_unit_is_said_with_the_key(tmp_path):
    """A hull of 60 mm: the key of the sheet that would make a model of it."""
    build = loaded(tmp_path, body("hull.stl"), hull=box(60.0, 10.0, 8.0))
    assert dict(build.notes)["size-unusual"].endswith(
        "; unit cm or inch under [axes] would make it 600 mm or 1524 mm"
    )


def test_a_body_needs_parts_or_offsets(tmp_path):
    """Neither and both are refused with the body's line."""
    neither = CRAFT + '[[body]] # here\nname = "hull"\nrole = "hull"\n'
    said = r'body\[1\]: "hull" has neither parts nor offsets; give it one of them'
    refused(tmp_path, "", said, head=neither)
    both = offsets_body('"hull.csv" # here', 'parts = ["hull.stl"]\n')
    said = r'body\[1\]\.offsets: "hull" has parts as well; keep one of them'
    refused(tmp_path, "", said, head=both)


def table(folder, rows=BOX_ROWS):
    """Write a table of offsets."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "hull.csv").write_text(rows, encoding="utf-8")


def test_a_box_from_offsets_is_exact(tmp_path):
    """Its volume, its box, no error, and what is said of it; a bare file name is enough."""
    table(tmp_path)
    build = load(build_in(tmp_path, offsets_body()))
    (one,) = build.bodies
    assert one.shell.volume_mm3 == pytest.approx(500 * 80 * 50, rel=EXACT)
    assert one.shell.low_mm.tolist() == [0.0, -40.0, 10.0]
    assert one.shell.high_mm.tolist() == [500.0, 40.0, 60.0]
    assert one.volume_error_mm3 == 0.0
    ((code, said),) = build.notes
    assert code == "offsets-read"
    for word in ("2 stations", "4 lines", "hull.csv", "straight", "500 mm", "2000 cm³", "0.0 %"):
        assert word in said


def test_offsets_are_turned_moved_and_mirrored(tmp_path):
    """turn_deg, then at_mm, then the twin; the unit, axes and datum of files do not count."""
    table(tmp_path)
    value = '{ file = "hull.csv", at_mm = [120, 180, -40], turn_deg = [0, 0, 90] }'
    axes = '[axes]\nunit = "m"\nforward = "+y"\nup = "+z"\ndatum_mm = [1, 2, 3]\n'
    build = load(build_in(tmp_path, offsets_body(value, 'mirror = "twin"\n' + axes)))
    one, twin = (body.shell for body in build.bodies)
    # Quarter turn about z: x goes to y, y to −x.
    assert one.low_mm.tolist() == [80.0, 180.0, -30.0]
    assert one.high_mm.tolist() == [160.0, 680.0, 20.0]
    assert corners(twin.triangles_mm) == corners(one.triangles_mm * np.array([1.0, -1.0, 1.0]))


def test_smooth_offsets_are_said_to_be(tmp_path):
    """Smooth between the points: more than straight for a bulging hull, and its note says so."""
    rows = "".join(
        f"{x},keel,0,{z}\n{x},chine,{y},{z + 20}\n{x},deck edge,{y},60\n"
        for x, y, z in ((0, 10, 20), (150, 40, 5), (300, 50, 0), (450, 40, 5), (600, 10, 20))
    )
    table(tmp_path, BOX_ROWS.partition("\n")[0] + "\n" + rows)
    straight = load(build_in(tmp_path, offsets_body()))
    value = '{ file = "hull.csv", smooth = true }'
    smooth = load(build_in(tmp_path, offsets_body(value)))
    assert volume_of(smooth)[0] > volume_of(straight)[0]
    assert (
        "5 stations, 3 lines of hull.csv, smooth between the" in dict(smooth.notes)["offsets-read"]
    )
    assert "straight between the points" in dict(straight.notes)["offsets-read"]
    error = straight.bodies[0].volume_error_mm3
    assert f"known to {error / 1000:.0f} cm³" in dict(straight.notes)["offsets-read"]


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (BOX_ROWS.replace("500,chine,40,10\n", ""), r"hull\.csv row \d+.*chine"),
        (BOX_ROWS.replace("0,chine,40,10", "0,chine,-40,10", 1), r"hull\.csv row 3.*-40"),
        (BOX_ROWS.replace("0,chine,40,10", "0,chine,wide,10", 1), r"hull\.csv row 3.*'wide'"),
        (BOX_ROWS.replace("line", "what"), r"hull\.csv .*'line'"),
    ],
    ids=["a chine lacks", "below 0", "a word", "a column lacks"],
)
def test_what_is_wrong_in_a_table_is_told_by_file_and_row(tmp_path, rows, said):
    """A missing chine, a half-breadth below 0, a word for a number, a column that lacks."""
    table(tmp_path, rows)
    with pytest.raises(InputError, match=said):
        load(build_in(tmp_path, offsets_body()))


def test_bodies_from_offsets_and_meshes_are_united_with_their_error(tmp_path):
    """A mesh that overlaps a hull from offsets: one body that keeps what is stated of it."""
    table(tmp_path)
    pod = body("pod.stl", name="pod", role="other")
    build = load(build_in(tmp_path, offsets_body(more=AXES + pod), pod=box(100.0, 40.0, 80.0)))
    (one,) = build.bodies
    assert one.name == "hull"
    # The pod is 100 × 40 mm; from z = 0 to 80 it stands out 10 mm below and 20 mm above.
    assert one.shell.volume_mm3 == pytest.approx(500 * 80 * 50 + 100 * 40 * 30, rel=1e-12)
    assert one.volume_error_mm3 == 0.0
