"""Outer skins written as 3MF, PLY and STL, and read by a library this project did not write.

Volumes are those of the shells' closed forms or of trimesh on the shells themselves; that a file is
closed is trimesh's word (`is_watertight`: every edge has two triangles).
"""

import importlib
import re
import zipfile
from itertools import pairwise

import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree
from make_bodies import sphere
from open_boxes import lacking as box

from hullcheck.errors import InputError, SurfaceError
from hullcheck.files import skin_writer
from hullcheck.files.meshes import read_mesh
from hullcheck.files.skin_writer import write_skin
from hullcheck.files.stl_writer import binary_stl_bytes
from hullcheck.geometry.topology import edges_match, merged

making = importlib.import_module("skin_making")

BALL = sphere(diameter_mm=100.0)
ENDINGS = ("3mf", "ply", "stl")
# float64 sums of 10 000 products: 1e-12 of the whole each at most.
ROUNDING = 1e-12
HOSTILE = "<b>&amp;\"'</b>\n]]> \0\x1f\ud800\ufffe 通気口"


def loaded(path, **options):
    """Return what trimesh makes of a file, as one mesh."""
    return trimesh.load(path, force="mesh", **options)


def volume(triangles):
    """Return the volume that trimesh finds in triangles."""
    mesh = merged(np.asarray(triangles))
    return trimesh.Trimesh(mesh.points, mesh.faces, process=False).volume


def float32_bound(triangles):
    """Return how far a volume can be out when corners are rounded to float32: area × distance."""
    step = np.spacing(np.float32(np.abs(triangles).max())) / 2
    return float(np.sqrt(3) * step * trimesh.triangles.area(triangles).sum())


def slit_box(width_mm):
    """Return a box of 200 × 100 × 60 mm with a slit that leaves its deck and starboard side."""
    whole = making.box((400, 0, 0), (600, 100, 60))
    slit = making.box((500, 20, 30), (500 + width_mm, 200, 90))
    return making.triangles_of(whole - slit)


def touching_blocks():
    """Return two blocks on either side of one edge, and a third across them: one solid, 4 cm³."""
    blocks = (
        making.box((0, 0, 0), (10, 10, 10)),
        making.box((10, 10, 0), (20, 20, 10)),
        making.box((0, 0, 10), (20, 20, 15)),
    )
    return making.triangles_of(blocks[0] + blocks[1] + blocks[2])


def with_split_edge(triangles, *places_mm):
    """Return a box whose keel edge has further corners at the given x."""
    low = triangles.min(axis=(0, 1))
    on_edge = (triangles[:, :, 1:] == low[1:]).all(axis=2).sum(axis=1) == 2
    pieces = [triangles[~on_edge]]
    for triangle in triangles[on_edge]:
        apex = int(np.flatnonzero((triangle[:, 1:] != low[1:]).any(axis=1))[0])
        top, start, end = np.roll(triangle, -apex, axis=0)
        inner = sorted(places_mm, reverse=bool(start[0] > end[0]))
        chain = [start, *([x, *low[1:]] for x in inner), end]
        pieces += [np.array([[top, a, b]]) for a, b in pairwise(chain)]
    return np.concatenate(pieces)


@pytest.mark.parametrize("ending", ENDINGS)
def test_trimesh_finds_a_hull_and_two_floats_closed(tmp_path, tarnwing_surfaces, ending):
    """Three closed bodies, each with its volume: to rounding, and for STL to that of float32."""
    hull, *floats = tarnwing_surfaces
    path = tmp_path / f"skin.{ending}"
    said = write_skin(path, [("hull", [hull]), ("tip floats", floats)])
    found = loaded(path)
    assert found.is_watertight
    bodies = sorted(found.split(), key=lambda body: -body.volume)
    assert len(bodies) == 3
    for body, triangles in zip(bodies, (hull, *floats), strict=True):
        slack = float32_bound(triangles) if ending == "stl" else 0.0
        assert body.volume == pytest.approx(volume(triangles), rel=ROUNDING, abs=slack)
    total = sum(volume(triangles) for triangles in tarnwing_surfaces) / 1000
    assert said[-1].startswith(f"{path}: 3 closed shells, {total:.2f} cm³, in body axes and mm")
    held = f"{ending.upper()} holds no unit, axes or names: read it as mm, x aft, y starboard"
    assert [sentence.startswith(held) for sentence in said[:-1]] == [True] * (ending != "3mf")


@pytest.mark.parametrize("ending", ["3mf", "ply"])
def test_64_bit_formats_keep_every_bit(tmp_path, ending):
    """Corners 1e-6 mm apart come back as they were, in their order."""
    triangles = slit_box(1e-6)
    path = tmp_path / f"skin.{ending}"
    write_skin(path, [("box", [triangles])])
    (part,) = read_mesh(path).parts
    assert np.array_equal(part.triangles, triangles)
    assert loaded(path).is_watertight


def test_the_package_is_what_the_core_specification_asks_for(tmp_path):
    """Content types, start part, unit, an object and an item a shell; paths and types as printed.

    3MF Consortium, *Core Specification*, version 1.2: content and relationship types are those of
    appendix C ("Standard namespaces and content types"); ids and items of chapters 3 and 4.
    """
    path = tmp_path / "skin.3mf"
    write_skin(path, [("hull", [box(), box() + 500.0]), ("float", [box() - 500.0])])
    with zipfile.ZipFile(path) as archive:
        assert archive.testzip() is None
        assert archive.namelist() == ["[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"]
        types, relations, model = (etree.fromstring(archive.read(n)) for n in archive.namelist())
    assert {t.get("Extension"): t.get("ContentType") for t in types} == {
        "rels": "application/vnd.openxmlformats-package.relationships+xml",
        "model": "application/vnd.ms-package.3dmanufacturing-3dmodel+xml",
    }
    (start,) = relations
    assert start.get("Target") == "/3D/3dmodel.model"
    assert start.get("Type") == "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
    core = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
    assert (model.tag, model.get("unit")) == (f"{core}model", "millimeter")
    objects = model.findall(f"{core}resources/{core}object")
    assert [o.get("name") for o in objects] == ["hull 1", "hull 2", "float"]
    assert {o.get("type") for o in objects} == {"model"}
    items = model.findall(f"{core}build/{core}item")
    assert [i.get("objectid") for i in items] == [o.get("id") for o in objects] == ["1", "2", "3"]
    assert all(item.get("transform") is None for item in items)


@pytest.mark.parametrize("ending", ENDINGS)
def test_the_same_skin_makes_the_same_bytes(tmp_path, monkeypatch, ending):
    """Neither clock nor folder nor what stood there before gets into the file."""
    (tmp_path / "elsewhere").mkdir()
    paths = [tmp_path / f"one.{ending}", tmp_path / "elsewhere" / f"two.{ending.upper()}"]
    paths[1].write_bytes(b"older")
    for path, now in zip(paths, (1e9, 1.7e9), strict=True):
        monkeypatch.setattr("time.time", lambda now=now: now)
        write_skin(path, [("ball", [BALL])])
    assert paths[0].read_bytes() == paths[1].read_bytes()


def test_hostile_names_stay_names(tmp_path):
    """Markup, quotes, control characters and half characters: XML as strict as lxml reads it."""
    path = tmp_path / "skin.3mf"
    write_skin(path, [(HOSTILE, [box()]), ("", [box() + 500.0])])
    with zipfile.ZipFile(path) as archive:
        model = etree.fromstring(archive.read("3D/3dmodel.model"))
    wanted = ["<b>&amp;\"'</b> ]]> 通気口", ""]
    assert [o.get("name") for o in model.iter("{*}object")] == wanted
    assert [part.name for part in read_mesh(path).parts] == wanted
    assert loaded(path).is_watertight


def test_stl_drops_what_float32_cannot_tell(tmp_path):
    """Two corners 1e-6 mm apart on an edge become one, the two triangles between them go."""
    triangles = with_split_edge(box(), 100.0, 100.000001)
    assert len(triangles) == len(box()) + 4
    path = tmp_path / "skin.stl"
    said = write_skin(path, [("box", [triangles])])
    assert said[0] == "rounded to STL's 32-bit numbers: 2 triangles dropped"
    assert loaded(path).is_watertight
    assert loaded(path).volume == pytest.approx(240.0 * 96.0 * 64.0, rel=1e-7)


@pytest.mark.parametrize("width_mm", [1e-5, 1e-6, 1e-8])
def test_stl_is_simplified_where_float32_would_tear_it(tmp_path, width_mm):
    """A slit narrower than float32 can tell shuts: the plain box is left, and it is said.

    Of the 28 triangles that the slit takes, 12 are the box's; its volume is 1200 cm³ less none.
    """
    triangles = slit_box(width_mm)
    assert len(triangles) == 28
    torn = tmp_path / "torn.stl"
    torn.write_bytes(binary_stl_bytes(triangles))
    assert not loaded(torn).is_watertight
    path = tmp_path / "skin.stl"
    said = write_skin(path, [("box", [triangles])])
    assert said[0] == "simplified by 0.001 mm for STL's 32-bit numbers: 16 triangles dropped"
    assert loaded(path).is_watertight
    assert len(loaded(path).faces) == 12
    # The slit's own 70 × 30 × width mm³ are below the rounding of float32.
    assert loaded(path).volume == pytest.approx(200.0 * 100.0 * 60.0, rel=1e-7)


def test_a_skin_that_touches_itself_needs_3mf(tmp_path):
    """STL cannot hold it and says what can; 3MF tells the two sides of the edge apart."""
    triangles = touching_blocks()
    stl = tmp_path / "skin.stl"
    stl.write_bytes(b"older")
    wanted = (
        f"{stl}: not written, since it would not read back as the skin (rounded to STL's 32-bit "
        "numbers it touches itself, simplified by 0.001 mm or not); name a .3mf file, which"
    )
    with pytest.raises(SurfaceError, match=re.escape(wanted)):
        write_skin(stl, [("blocks", [triangles])])
    assert stl.read_bytes() == b"older"
    package = tmp_path / "skin.3mf"
    write_skin(package, [("blocks", [triangles])])
    # Corners are taken as the file numbers them: equal places are made one otherwise.
    found = loaded(package, process=False)
    assert found.is_watertight
    assert found.volume == pytest.approx(1000.0 + 1000.0 + 2000.0, rel=ROUNDING)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["skin.3mf", "skin.stl"]


@pytest.mark.parametrize(
    ("ending", "shells", "why"),
    [
        ("3mf", [box()[1:]], r"is open: 1 rim.*look at its drawing and mend the parts"),
        ("ply", [box()[1:]], r"is open: 1 rim.*name a \.3mf file"),
        ("stl", [box()[1:]], r"cannot be simplified: it does not close\).*name a \.3mf file"),
        ("3mf", [box()[:, ::-1]], "all triangles looked inward; turned outward"),
        ("stl", [box()[:, ::-1]], "all triangles looked inward; turned outward"),
        ("stl", [box() * 1e-50], "touches itself"),
        ("stl", [box() * 1e38], r"a coordinate of -inf mm does not fit into an STL file"),
        (
            "ply",
            [box() * 3, box() + np.array([100.0, 0.0, 50.0])],
            r"left out an inner shell of 1475 cm³",
        ),
        (
            "stl",
            [box(), box() + np.array([240.0, 96.0, 64.0])],
            r"shells to be written: 2, read back: 1",
        ),
    ],
)
def test_what_would_not_read_back_is_not_written(tmp_path, ending, shells, why):
    """Open, inside out, beyond float32, one within the other, or joined at a corner."""
    path = tmp_path / f"skin.{ending}"
    with pytest.raises(SurfaceError, match=f"not written, since it would not read back.*{why}"):
        write_skin(path, [("body", shells)])
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["skin.obj", "skin", "skin.3mf.bak", ".stl"])
def test_another_ending_is_refused(tmp_path, name):
    """The three that are written are named."""
    wanted = rf"{re.escape(name)}: a skin is written as \.3mf, \.ply or \.stl"
    with pytest.raises(InputError, match=wanted):
        write_skin(tmp_path / name, [("box", [box()])])
    assert list(tmp_path.iterdir()) == []


def test_nothing_to_write_and_nowhere_to_write_it(tmp_path):
    """No shell, no folder, and a folder of that name are refused with the path."""
    with pytest.raises(InputError, match=r"skin\.ply: there is no shell to write"):
        write_skin(tmp_path / "skin.ply", [("box", [])])
    with pytest.raises(InputError, match=r"skin\.stl: hull 2 is a shell without triangles"):
        write_skin(tmp_path / "skin.stl", [("hull", [box(), box()[:0]])])
    with pytest.raises(InputError, match=r"skin\.ply: cannot be written \(No such file"):
        write_skin(tmp_path / "none" / "skin.ply", [("box", [box()])])
    (tmp_path / "folder.ply").mkdir()
    with pytest.raises(InputError, match=r"folder\.ply: cannot be written \(it is a folder\)"):
        write_skin(tmp_path / "folder.ply", [("box", [box()])])


def test_a_disk_that_gives_back_other_bytes_is_noticed(tmp_path, monkeypatch):
    """What stands on the disk is held against what was proved, and removed if it differs."""

    def failing(path, data, *, overwrite):
        assert overwrite
        path.write_bytes(data[:-1] + b"?")

    monkeypatch.setattr(skin_writer, "write_new_bytes", failing)
    with pytest.raises(InputError, match=r"skin\.stl: the disk gave back other bytes than the 684"):
        write_skin(tmp_path / "skin.stl", [("box", [box()])])
    assert list(tmp_path.iterdir()) == []
    monkeypatch.setattr(skin_writer, "write_new_bytes", lambda *_, **__: None)
    with pytest.raises(InputError, match=r"was written and cannot be read back \(No such file"):
        write_skin(tmp_path / "skin.stl", [("box", [box()])])


def test_a_volume_that_is_out_is_refused(tmp_path, monkeypatch):
    """A maker that moved the skin by more than the stated share would be found out."""

    def moved(shells):
        return skin_writer._as_stl([(name, triangles * 1.0001) for name, triangles in shells])

    wanted = skin_writer._FORMATS[".stl"]
    swollen = type(wanted)(made=moved, tolerance=wanted.tolerance, next_step=wanted.next_step)
    monkeypatch.setitem(skin_writer._FORMATS, ".stl", swollen)
    with pytest.raises(SurfaceError, match=r"of 1474\.56 cm³ came back 3\.0e-04 of that off, at"):
        write_skin(tmp_path / "skin.stl", [("box", [box()])])


def enclosed(mesh):
    """Return the volume below all triangles, by the tetrahedra from the origin."""
    return np.linalg.det(mesh.triangles).sum() / 6.0


@given(st.floats(0.5, 60.0), st.integers(0, 2**32 - 1))
def test_cleaning_opens_nothing_and_moves_no_volume(step, seed):
    """A ball whose corners fall together on a grid stays closed, with the volume it had then."""
    triangles = BALL + np.random.default_rng(seed).uniform(0.0, step, 3)
    snapped = merged(np.round(triangles / step) * step)
    cleaned = skin_writer._cleaned(snapped)
    assert edges_match(cleaned)
    assert len(cleaned.faces) <= len(snapped.faces)
    # Sums of some thousand products of at most (2 × radius)³.
    size = float(np.abs(triangles).max())
    assert enclosed(cleaned) == pytest.approx(enclosed(snapped), abs=1e-10 * size**3)
    corners = np.sort(cleaned.faces, axis=1)
    assert (np.diff(corners, axis=1) > 0).all()
