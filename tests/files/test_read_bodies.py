"""From mesh files to bodies: what is united, dropped, mended, refused, and what is said of it."""

import sys
import zipfile
from pathlib import Path

import make_bodies
import numpy as np
import pytest
import trimesh
from make_tarnwing import hull_triangles

from hullcheck.errors import InputError, SurfaceError
from hullcheck.files.bodies import Reading, read_bodies
from hullcheck.files.stl_writer import binary_stl_bytes

sys.path.insert(0, str(Path(__file__).parent))
from mesh_making import CORE, RELATIONSHIPS

STATED = Reading(unit="mm", forward="-x", up="+z")


def box(**changes):
    """Return a box of 600 × 100 × 80 mm, its bottom on z = 0, or another one."""
    sizes = {"length_mm": 600.0, "beam_mm": 100.0, "height_mm": 80.0, **changes}
    return make_bodies.box(**sizes)


def tube(start_mm):
    """Return a print segment: a tube of 1 mm wall along x, 200 mm long, as a closed solid."""
    mesh = trimesh.creation.annulus(r_min=49.0, r_max=50.0, height=200.0)
    mesh.apply_transform(trimesh.transformations.rotation_matrix(np.pi / 2, [0, 1, 0]))
    return np.asarray(mesh.triangles) + np.array([start_mm + 100.0, 0.0, 0.0])


def without(triangles, axis, place):
    """Return triangles less those that lie in the plane across an axis."""
    return triangles[~(np.abs(triangles[:, :, axis] - place) < 1e-9).all(axis=1)]


@pytest.fixture
def written(tmp_path):
    """Write surfaces as binary STL and return their paths."""

    def write(**surfaces):
        paths = []
        for name, triangles in surfaces.items():
            path = tmp_path / f"{name}.stl"
            path.write_bytes(binary_stl_bytes(triangles))
            paths.append(path)
        return paths

    return write


def codes(found):
    """Return the codes of what was noted."""
    return {code for code, _ in found.notes}


def test_a_closed_box_is_one_body_and_nothing_is_said(written):
    """Stated unit and axes on a closed mesh: one hull, its exact volume, no notes."""
    found = read_bodies(written(hull_90=box()), STATED)
    assert [(body.name, body.role) for body in found.bodies] == [("hull 90", "hull")]
    assert found.bodies[0].shell.volume_mm3 == pytest.approx(600 * 100 * 80, rel=1e-15)
    assert found.notes == ()


def test_assumptions_are_said(written):
    """Without unit and axes mm, bow at −x and up at +z are assumed, and it is said."""
    found = read_bodies(written(hull=box()), Reading())
    assert codes(found) == {"unit-assumed", "axes-assumed"}
    assert any("binary STL states no unit; mm assumed" in text for _, text in found.notes)


@pytest.mark.parametrize(
    ("lacking", "place"),
    [
        ([(2, 0.0)], r"600 × 100 mm"),
        ([(2, 80.0)], r"600 × 100 mm"),
        ([(2, 0.0), (2, 80.0)], r"2 rims.*600 × 100 mm"),
        ([(1, 50.0)], r"600 × 80 mm"),
        ([(0, 600.0)], r"station 600 .* 100 × 80 mm"),
    ],
    ids=["bottom", "deck", "bottom and deck", "side", "transom"],
)
def test_a_box_that_lacks_a_side_is_refused_with_its_place(written, lacking, place):
    """A box without bottom, deck, both, a side or its transom: open, with the rim's size."""
    triangles = box()
    for axis, where in lacking:
        triangles = without(triangles, axis, where)
    with pytest.raises(SurfaceError, match=rf"hull is open: .*{place}"):
        read_bodies(written(hull=triangles), STATED)


def test_a_thin_wall_segment_is_named_for_what_it_is(written):
    """A tube of 1 mm wall is refused with its wall, its plastic and its outline."""
    with pytest.raises(SurfaceError, match=r"nose is a thin-wall part: walls of about 0\.99 mm"):
        read_bodies(written(nose=tube(0.0)), STATED)


def test_open_segments_whose_rims_touch_are_segments_of_one_hull(written):
    """Two boxes open towards each other at station 200 are no two bodies."""
    nose = without(box(length_mm=200.0), 0, 200.0)
    tail = without(box(length_mm=400.0, origin_mm=(200.0, 0.0, 0.0)), 0, 200.0)
    with pytest.raises(SurfaceError, match=r"nose and tail touch at their rims \(station 200\)"):
        read_bodies(written(nose=nose, tail=tail), STATED)


def test_closed_segments_that_butt_are_segments_of_one_hull(written):
    """Two closed boxes with 0.1 mm between their flat ends are refused with the station."""
    nose = box(length_mm=200.0)
    tail = box(length_mm=400.0, origin_mm=(200.1, 0.0, 0.0))
    with pytest.raises(SurfaceError, match=r"nose and tail butt with flat ends \(station 200\)"):
        read_bodies(written(nose=nose, tail=tail), STATED)


@pytest.mark.parametrize("kind", ["open", "thin wall", "butting"])
def test_parts_that_want_a_sheet_are_refused_with_the_line_to_use(written, kind):
    """Open, thin-wall and butting parts alike: the refusal ends with the begin line."""
    parts = {
        "open": {"nose": without(box(), 0, 600.0)},
        "thin wall": {"nose": tube(0.0), "tail": tube(300.0)},
        "butting": {
            "nose": box(length_mm=200.0),
            "tail": box(length_mm=400.0, origin_mm=(200.0, 0.0, 0.0)),
        },
    }[kind]
    paths = written(**parts)
    with pytest.raises(SurfaceError) as caught:
        read_bodies(paths, STATED)
    line = f"hullcheck begin {' '.join(map(str, paths))} -o build.toml"
    assert str(caught.value).endswith(f". To have parts put together: {line}")


def test_bodies_apart_are_bodies(written):
    """The same two boxes 20 mm apart are two bodies and float as such."""
    tail = box(length_mm=400.0, origin_mm=(220.0, 0.0, 0.0))
    found = read_bodies(written(nose=box(length_mm=200.0), tail=tail), STATED)
    assert [body.name for body in found.bodies] == ["nose", "tail"]
    assert "roles-guessed" in codes(found)


def test_overlapping_bodies_count_once(written):
    """Two boxes that share 300 × 60 × 60 mm are united to the volume of the union."""
    tower = box(length_mm=300.0, beam_mm=60.0, height_mm=100.0, origin_mm=(100.0, 0.0, 20.0))
    found = read_bodies(written(hull=box(), tower=tower), STATED)
    union = 600 * 100 * 80 + 300 * 60 * 40
    assert sum(b.shell.volume_mm3 for b in found.bodies) == pytest.approx(union, rel=1e-12)
    assert ("united", "hull and tower overlap; they count as one body") in found.notes


def test_an_inner_void_is_dropped_and_an_inner_solid_counts_once(written):
    """A shell within the hull displaces nothing of its own, whichever way it looks."""
    inner = box(length_mm=300.0, beam_mm=60.0, height_mm=40.0, origin_mm=(100.0, 0.0, 20.0))
    for shell, kind in ((inner[:, ::-1], "a void"), (inner, "a solid within the solid")):
        found = read_bodies(written(hull=np.concatenate([box(), shell])), STATED)
        assert found.bodies[0].shell.volume_mm3 == pytest.approx(600 * 100 * 80, rel=1e-12)
        assert found.notes == (
            ("inner-shell-dropped", f"hull: left out an inner shell of 720 cm³, {kind}"),
        )


def test_what_is_mended_is_listed(written):
    """All faces flipped, faces given twice and collapsed faces are mended, one sentence each."""
    plain = box()
    sliver = plain[:1].copy()
    sliver[0, 1] = sliver[0, 0]
    dirty = np.concatenate([plain, plain[:2], sliver])[:, ::-1]
    found = read_bodies(written(hull=dirty), STATED)
    assert found.bodies[0].shell.volume_mm3 == pytest.approx(600 * 100 * 80, rel=1e-12)
    assert [text for _, text in found.notes] == [
        "hull: dropped 1 triangle of zero area",
        "hull: dropped 2 triangles given twice",
        "hull: all triangles looked inward; turned outward",
    ]


def test_a_unit_the_file_states_holds_until_it_is_overruled(tmp_path):
    """A glTF is in meters with y up and z forward; --unit, --up, --forward overrule with a note."""
    hull = np.array(hull_triangles())
    # Body axes to glTF: forward (−x) to +z, up (z) to +y, so starboard (y) to −x.
    lying = np.stack((-hull[:, :, 1], hull[:, :, 2], -hull[:, :, 0]), axis=2) / 1000.0
    mesh = trimesh.Trimesh(
        vertices=lying.reshape(-1, 3), faces=np.arange(3 * len(hull)).reshape(-1, 3)
    )
    path = tmp_path / "hull.glb"
    path.write_bytes(trimesh.Scene(mesh).export(file_type="glb"))
    found = read_bodies([path], Reading())
    assert found.notes == ()
    volume = make_bodies_volume(hull)
    # glTF keeps float32 meters: 6e-8 of 0.6 m is 4e-5 mm on a hull 60 mm deep.
    assert found.bodies[0].shell.volume_mm3 == pytest.approx(volume, rel=1e-5)
    assert found.bodies[0].shell.triangles_mm[:, :, 0].max() == pytest.approx(624.0, abs=1e-3)
    overruled = read_bodies([path], Reading(unit="cm"))
    assert "unit-overruled" in codes(overruled)
    assert overruled.bodies[0].shell.volume_mm3 == pytest.approx(volume * 1e-6, rel=1e-5)


def make_bodies_volume(triangles):
    """Return the volume of a closed surface by trimesh."""
    mesh = trimesh.Trimesh(
        vertices=triangles.reshape(-1, 3), faces=np.arange(3 * len(triangles)).reshape(-1, 3)
    )
    return float(mesh.volume)


@pytest.mark.parametrize(
    ("factor", "hint"),
    [
        (0.001, "--unit m would make it 600 mm"),
        (0.1, "--unit cm or inch would make it 600 mm or 1524 mm"),
        (100.0, None),
    ],
)
def test_a_size_that_suggests_another_unit_is_said(written, factor, hint):
    """A hull of 0.6 mm, of 60 mm and of 60 m: said, with the unit that would make a model of it."""
    found = read_bodies(written(hull=box() * factor), STATED)
    sentence = next(text for code, text in found.notes if code == "size-unusual")
    assert "outside 150 to 3000 mm" in sentence
    assert (hint in sentence) if hint else ("--unit" not in sentence)


def test_two_files_of_one_name_are_told_apart(tmp_path):
    """hull.stl in two folders become two bodies with different names."""
    paths = []
    for i, folder in enumerate(("a", "b")):
        (tmp_path / folder).mkdir()
        path = tmp_path / folder / "hull.stl"
        path.write_bytes(binary_stl_bytes(box(origin_mm=(0.0, 200.0 * i, 0.0))))
        paths.append(path)
    found = read_bodies(paths, STATED)
    assert [body.name for body in found.bodies] == ["hull 1", "hull 2"]
    assert {body.role for body in found.bodies} == {"main float"}


def test_a_unit_or_axis_that_is_none_is_refused():
    """A unit or an axis outside the list is refused with the list."""
    with pytest.raises(InputError, match=r"unit 'ft' is none of mm, cm, m, inch"):
        Reading(unit="ft")
    with pytest.raises(InputError, match=r"axis 'q' is none of \+x, -x"):
        Reading(up="q")


def test_progress_is_told(written):
    """Every file is named as it is read and proved closed."""
    told = []
    read_bodies(written(hull=box(), pod=box(origin_mm=(700.0, 0, 0))), STATED, progress=told.append)
    assert any("reading" in what and "hull.stl" in what for what in told)
    assert "proving that pod is closed" in told


def test_patches_of_one_surface_are_read_as_one(tmp_path):
    """An OBJ whose named parts are a deck and the rest closes only as a whole, and it is said."""
    triangles = box()
    deck = (np.abs(triangles[:, :, 2] - 80.0) < 1e-9).all(axis=1)
    lines = []
    count = 0
    for name, part in (("deck", triangles[deck]), ("rest", triangles[~deck])):
        lines.append(f"o {name}")
        for triangle in part:
            lines += [f"v {x} {y} {z}" for x, y, z in triangle.tolist()]
            lines.append(f"f {count + 1} {count + 2} {count + 3}")
            count += 3
    path = tmp_path / "hull.obj"
    path.write_text("\n".join(lines))
    found = read_bodies([path], STATED)
    assert [body.name for body in found.bodies] == ["hull"]
    assert found.bodies[0].shell.volume_mm3 == pytest.approx(600 * 100 * 80, rel=1e-12)
    assert "2 parts close only together" in dict(found.notes)["patches-joined"]


def test_supports_left_out_of_a_3mf_are_said(tmp_path):
    """A support beside the hull is left out and named."""
    vertices, faces = np.unique(box().reshape(-1, 3), axis=0, return_inverse=True)
    points = "".join(f'<vertex x="{x}" y="{y}" z="{z}"/>' for x, y, z in vertices.tolist())
    corners = "".join(
        f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in faces.reshape(-1, 3).tolist()
    )
    mesh = f"<mesh><vertices>{points}</vertices><triangles>{corners}</triangles></mesh>"
    model = (
        f'<model unit="millimeter" xmlns="{CORE}"><resources>'
        f'<object id="1" name="hull">{mesh}</object>'
        f'<object id="2" type="support">{mesh}</object>'
        '</resources><build><item objectid="1"/><item objectid="2"/></build></model>'
    )
    path = tmp_path / "plate.3mf"
    with zipfile.ZipFile(path, "w") as package:
        package.writestr("_rels/.rels", RELATIONSHIPS)
        package.writestr("3D/3dmodel.model", model)
    found = read_bodies([path], Reading(forward="-x", up="+z"))
    assert [body.name for body in found.bodies] == ["plate"]
    assert ("left-out", f"{path}: left out object '2' (support)") in found.notes
