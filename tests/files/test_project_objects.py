"""Objects of one file as parts: named in a sheet, found by begin on a slicer's plate."""

import re
import tomllib
from pathlib import Path

import numpy as np
import pytest
import trimesh
from begin_making import accepted, begin_files, on_plate, project, rows
from scipy.spatial.transform import Rotation
from sheet_making import AXES, CRAFT, box, build_in, corners, stl
from thin_walls import segments as walls

from hullcheck.answers.begin_variants import is_copy
from hullcheck.errors import InputError
from hullcheck.files import body_parts
from hullcheck.files.begin_parts import parts_of, read_files
from hullcheck.files.build_folder import load
from hullcheck.files.mesh_file import MeshFile, MeshPart
from hullcheck.files.mesh_objects import named_objects
from hullcheck.files.sheet import read_sheet

MESHES = Path(__file__).resolve().parents[2] / "meshes"
SEGMENTS = ("nose", "fore", "mid", "aft", "stern")
NOSE, TAIL = box(200.0), box(400.0, at=(200.0, 0.0, 0.0))


def read_stl(path):
    """Return the triangles of a binary STL file as trimesh reads them, in the file's order."""
    mesh = trimesh.load(path, file_type="stl", process=False)
    return np.asarray(mesh.triangles, dtype=np.float64)


def two(path, *titles, **options):
    """Write nose and tail of a box as two objects in place."""
    meshes = list(zip(titles or ("nose", "tail"), (NOSE, TAIL), strict=True))
    return project(path, meshes, [(0, np.eye(4)), (1, np.eye(4))], **options)


def sheet(*parts, more=""):
    """Return a sheet with one body of some parts, as TOML."""
    listed = ",\n  ".join(parts)
    return f'{CRAFT}{AXES}[[body]]\nname = "hull"\nrole = "hull"\nparts = [\n  {listed}\n]\n{more}'


def the_body(folder, *parts):
    """Return the triangles of the one body that a sheet of parts makes."""
    (body,) = load(build_in(folder, sheet(*parts))).bodies
    return body.shell.triangles_mm


def scene(kind):
    """Return a file of nose and tail as an outside library writes it."""
    whole = trimesh.Scene()
    for name, triangles in (("nose", NOSE), ("tail", TAIL)):
        mesh = trimesh.Trimesh(**trimesh.triangles.to_kwargs(triangles))
        whole.add_geometry(mesh, geom_name=name, node_name=name)
    content = whole.export(file_type=kind)
    return content if isinstance(content, bytes) else content.encode()


@pytest.mark.parametrize("kind", ["3mf", "obj", "glb"])
def test_a_part_may_be_one_object_of_a_file(tmp_path, kind):
    """Objects of 3MF, OBJ, glTF: the one named and no other; without a name all of them."""
    path = tmp_path / f"project.{kind}"
    if kind == "3mf":
        two(path)
    else:
        path.write_bytes(scene(kind))
    for name, expected in (("nose", NOSE), ("tail", TAIL)):
        found = the_body(tmp_path, f'{{ file = "project.{kind}", object = "{name}" }}')
        assert corners(found) == corners(expected)
    whole = the_body(tmp_path, f'"project.{kind}"')
    assert np.ptp(whole[..., 0]) == 600.0


def test_an_object_is_placed_from_the_plate(tmp_path):
    """The place of an object maps the file's coordinates, its own place on the plate included."""
    plate = on_plate(3, turn_deg=31.0)
    project(
        tmp_path / "project.3mf", [("tail", TAIL), ("nose", NOSE)], [(0, np.eye(4)), (1, plate)]
    )
    back = np.linalg.inv(plate).tolist()
    found = the_body(tmp_path, f'{{ file = "project.3mf", object = "nose", place = {back} }}')
    apart = np.linalg.norm(found.reshape(-1, 3)[:, None] - NOSE.reshape(-1, 3), axis=2)
    # A few roundings of 1e-16 of at most 1000 mm.
    assert apart.min(axis=1).max() < 1e-11
    moved = the_body(tmp_path, '{ file = "project.3mf", object = "tail", at_mm = [1, 2, 3] }')
    assert corners(moved) == corners(TAIL + np.array([1.0, 2.0, 3.0]))


def refusal(folder, part):
    """Return what is said of a sheet whose only part is refused, and the sheet."""
    path = build_in(folder, sheet(part))
    with pytest.raises(InputError) as caught:
        load(path)
    assert str(caught.value).isprintable()
    return str(caught.value), path


def test_no_such_object_is_one_clear_line(tmp_path):
    """Line and key, the nearest name, and all that the file holds."""
    two(tmp_path / "project.3mf")
    said, path = refusal(tmp_path, '{ file = "project.3mf", object = "nos" }')
    assert said == (
        f'{path} line 11, body[1].parts[1].object: "nos" is no object of project.3mf; did you mean '
        "nose? it holds: nose, tail"
    )
    said, _ = refusal(tmp_path, '{ file = "project.3mf", object = "wheel 7" }')
    assert said.endswith('"wheel 7" is no object of project.3mf; it holds: nose, tail')


def test_a_mesh_without_a_name_has_no_objects(tmp_path):
    """An STL holds one mesh: what to take away is said."""
    said, _ = refusal(tmp_path, '{ file = "hull.stl", object = "hull" }')
    assert said.endswith("it holds one mesh without a name; leave object out")


def test_many_objects_are_counted(tmp_path):
    """Of thirty objects two dozen are listed."""
    many = [(f"rib {k:02d}", NOSE) for k in range(30)]
    project(tmp_path / "p.3mf", many, [(k, on_plate(k)) for k in range(30)])
    said, _ = refusal(tmp_path, '{ file = "p.3mf", object = "canopy" }')
    assert "it holds: rib 00, rib 01," in said
    assert said.endswith("rib 23, … (30 in all)")


@pytest.mark.parametrize(
    ("titles", "names"),
    [
        (("nose", "nose"), ["nose", "nose 2"]),
        (("", ""), ["object 1", "object 2"]),
        (("", "object 1"), ["object 1", "object 1 2"]),
        (("nose", "nose", "nose 2"), ["nose", "nose 3", "nose 2"]),
        (("Nose", "nose"), ["Nose", "nose"]),
    ],
)
def test_objects_are_told_apart(titles, names):
    """Numbers for those without a name or with the same; an own name always means its object."""
    parts = tuple(MeshPart(name=title, triangles=NOSE) for title in titles)
    found = named_objects(MeshFile(name="p.3mf", kind="3MF", parts=parts))
    assert [part.name for part in found] == names


def test_the_second_of_one_name_can_be_named(tmp_path):
    """Two objects called nose: the second is "nose 2" in the sheet."""
    two(tmp_path / "project.3mf", "nose", "nose")
    found = the_body(tmp_path, '{ file = "project.3mf", object = "nose 2" }')
    assert corners(found) == corners(TAIL)


def test_a_file_is_read_once_for_all_its_parts(tmp_path, monkeypatch):
    """Three parts of two bodies from one file: read once a load, and what it says said once."""
    aside = np.eye(4)
    aside[1, 3] = 300.0
    project(
        tmp_path / "project.3mf",
        [("nose", NOSE), ("tail", TAIL)],
        [(0, np.eye(4)), (1, np.eye(4)), (0, aside)],
        unit="inch",
    )
    read, reading = [], body_parts.read_mesh

    def counted(path):
        """Read a file and count it."""
        read.append(Path(path).name)
        return reading(path)

    monkeypatch.setattr(body_parts, "read_mesh", counted)
    other = '[[body]]\nname = "other"\nrole = "other"\n'
    other += 'parts = [{ file = "./project.3mf", object = "nose 2" }]\n'
    text = sheet(
        '{ file = "project.3mf", object = "nose" }',
        '{ file = "project.3mf", object = "tail" }',
        more=other,
    )
    for loads in (1, 2):
        build = load(build_in(tmp_path, text))
        assert read == ["project.3mf"] * loads
        assert [code for code, _ in build.notes].count("unit-overruled") == 1
    assert [body.name for body in build.bodies] == ["hull", "other"]


def plated(path, *, twice=()):
    """Write the demo's parts as they are printed on plates; return where each mesh was put."""
    files = sorted((MESHES / "print_axes").glob("*.stl"), key=lambda f: f.stem[::-1])
    meshes = [(f.stem, read_stl(f)) for f in files]
    where = {f.stem: on_plate(k, turn_deg=37.0 * k) for k, f in enumerate(files)}
    items = [(k, where[f.stem]) for k, f in enumerate(files)]
    items += [(k, on_plate(9, turn_deg=90.0)) for k, f in enumerate(files) if f.stem in twice]
    project(path, meshes, items)
    return where


def test_a_plate_waits_to_be_confirmed_and_makes_the_printed_hull(tmp_path):
    """The demo's parts on plates, the nose there twice: accepted, she is as her parts in place."""
    where = plated(tmp_path / "project.3mf", twice=("nose",))
    look, text = begin_files(tmp_path, [tmp_path / "project.3mf"])
    assert not look.in_place
    with pytest.raises(InputError, match=r'"hull" has its parts commented out'):
        load(tmp_path)
    assert [(look.parts[v.part].name, v.why) for v in look.left_out] == [
        ("nose 2", "a copy of nose; if she carries both, place it as well")
    ]
    copy = '#   # { file = "project.3mf", object = "nose 2" },  # left out: a copy of nose;'
    assert copy in text
    assert [row for row in rows(tmp_path) if row in (*SEGMENTS, "hatch", "nose 2")] == [
        *SEGMENTS,
        "hatch",
    ]
    truth = tomllib.loads((MESHES / "print_axes" / "placements.toml").read_text(encoding="utf-8"))
    belongs = {Path(one["file"]).stem: np.array(one["place"]) for one in truth["part"]}
    # The hatch fits no end: set by hand, where it belongs.
    by_hand = (belongs["hatch"] @ np.linalg.inv(where["hatch"])).tolist()
    line = '  # { file = "project.3mf", object = "hatch", '
    placed = f"{line.replace('# ', '')}place = {by_hand} }},"
    taken = re.sub(f"{re.escape(line)}.* }},", placed, accepted(text))
    (tmp_path / "build.toml").write_text(taken, encoding="utf-8")
    parts = read_sheet(tmp_path).keys.body[0].parts
    assert [part.object for part in parts] == [*SEGMENTS, "hatch"]
    for part in parts:
        expected = belongs[part.object] @ np.linalg.inv(where[part.object])
        # Angles fit to 1e-4, half a meter off the origin of the plate.
        assert np.array(part.place)[:3, :3] == pytest.approx(expected[:3, :3], abs=1e-4)
    printed = [MESHES / "printed" / f"{name}.stl" for name in (*SEGMENTS, "hatch")]
    (tmp_path / "printed").mkdir()
    begin_files(tmp_path / "printed", printed)
    (one,), (other,) = load(tmp_path).bodies, load(tmp_path / "printed").bodies
    assert one.shell.volume_mm3 == pytest.approx(other.shell.volume_mm3, rel=1e-4)


def test_objects_in_place_make_bodies(tmp_path):
    """Hull segments and two floats in place in one file: three bodies, the two floats no copies."""
    meshes = [*walls(holes=()).items(), ("float", box(120.0, 30.0, 30.0))]
    sides = [np.eye(4), np.eye(4)]
    sides[0][:3, 3], sides[1][:3, 3] = (200.0, -300.0, 10.0), (200.0, 300.0, 10.0)
    items = [(0, np.eye(4)), (1, np.eye(4)), (2, sides[0]), (2, sides[1])]
    project(tmp_path / "project.3mf", meshes, items)
    look, text = begin_files(tmp_path, [tmp_path / "project.3mf"], lie=("-x", "+z"))
    assert look.in_place
    assert look.left_out == ()
    assert [(b.name, b.twin) for b in look.bodies] == [
        ("hull", ""),
        ("float", "float 2"),
        ("float 2", "float"),
    ]
    assert 'parts = [{ file = "project.3mf", object = "float 2" }]' in text
    volumes = {body.name: body.shell.volume_mm3 for body in load(tmp_path).bodies}
    assert volumes["float"] == volumes["float 2"] == pytest.approx(120.0 * 30.0 * 30.0)
    assert volumes["hull"] == pytest.approx(600.0 * 100.0 * 80.0, rel=2e-3)
    assert {"nose", "tail", "float", "float 2"} <= set(rows(tmp_path))


def test_objects_stand_beside_files(tmp_path):
    """A segment in a file of its own, the other an object of a project: one hull of both."""
    parts = walls(holes=())
    stl(tmp_path / "nose.stl", parts["nose"])
    wheel = box(20.0, 20.0, 20.0, at=(900.0, 400.0, 0.0))
    where = [(0, np.eye(4)), (1, np.eye(4))]
    project(tmp_path / "rest.3mf", [("tail", parts["tail"]), ("wheel", wheel)], where)
    files = [tmp_path / "nose.stl", tmp_path / "rest.3mf"]
    look, _ = begin_files(tmp_path, files, lie=("-x", "+z"))
    keys = read_sheet(tmp_path).keys
    assert [(p.file, p.object) for p in keys.body[0].parts] == [
        ("nose.stl", None),
        ("rest.3mf", "tail"),
    ]
    assert [body.name for body in look.bodies] == ["hull", "wheel"]
    assert len(load(tmp_path).bodies) == 2


def test_solids_side_by_side_on_one_plane_are_doubted(tmp_path):
    """Closed solids tell nothing of where they belong: as they stand they look like a plate."""
    where = [(k, on_plate(4 * k)) for k in range(2)]
    project(tmp_path / "plate.3mf", [("hull", box()), ("float", box(100.0))], where)
    look, text = begin_files(tmp_path, [tmp_path / "plate.3mf"])
    assert any("2 objects of" in doubt and "on one plane" in doubt for doubt in look.doubts)
    assert "# Look at this: the 2 objects of" in text
    where[1][1][2, 3] = 12.0
    project(tmp_path / "placed.3mf", [("hull", box()), ("float", box(100.0))], where)
    (tmp_path / "other").mkdir()
    look, _ = begin_files(tmp_path / "other", [tmp_path / "placed.3mf"])
    assert not any("on one plane" in doubt for doubt in look.doubts)


def test_objects_are_named_as_files_are(tmp_path):
    """Slicers call an object by the file it came from: no ending, blanks for underscores."""
    two(tmp_path / "project.3mf", "left_nose.STL", "")
    parts, _ = parts_of(read_files([tmp_path / "project.3mf"]), None)
    assert [(part.name, part.object) for part in parts] == [
        ("left nose", "left_nose.STL"),
        ("object 2", "object 2"),
    ]
    assert parts[0].source == f"left_nose.STL of {tmp_path / 'project.3mf'}"


def test_a_copy_is_turned_and_moved_and_no_mirror_image():
    """Turned by scipy's rotations at random and rounded as files are: a copy; mirrored: none."""
    rng = np.random.default_rng(3)
    part = walls()["nose"]
    for turn in Rotation.random(20, random_state=7):
        there = turn.apply(part.reshape(-1, 3)).reshape(part.shape) + rng.uniform(-900, 900, 3)
        assert is_copy(part, there.astype(np.float32).astype(np.float64))
        assert not is_copy(part, there * 1.001)
    lopsided = np.concatenate([box(), box(50.0, 30.0, 30.0, at=(300.0, 65.0, 20.0))])
    assert is_copy(lopsided, lopsided + 5.0)
    assert not is_copy(lopsided, lopsided * np.array([1.0, -1.0, 1.0]))
    assert not is_copy(lopsided, lopsided[:12])


def test_copies_by_other_names_are_both_used(tmp_path):
    """Left and right made alike and named so: both are hers."""
    tube = walls()["nose"]
    meshes = [("left", tube), ("right", tube)]
    project(tmp_path / "plate.3mf", meshes, [(k, on_plate(3 * k)) for k in range(2)])
    look, _ = begin_files(tmp_path, [tmp_path / "plate.3mf"])
    assert look.left_out == ()
    assert not look.in_place
