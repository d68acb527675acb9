"""Files as parts: what unit they are in, and what of them is one part."""

import numpy as np
import pytest
from sheet_making import box, stl

from hullcheck.errors import InputError
from hullcheck.files.begin_parts import own_axes, parts_of, read_files, unit_found
from hullcheck.files.mesh_file import MeshFile, MeshPart


def file(*objects, name="hull.stl", unit=None, **more):
    """Return a mesh file of objects, triangles each."""
    parts = tuple(MeshPart(name=f"object {k}", triangles=t) for k, t in enumerate(objects))
    return MeshFile(name=name, kind="a file", parts=parts, unit=unit, **more)


@pytest.mark.parametrize(
    ("length", "unit", "choices"),
    [
        (600.0, "mm", ("mm",)),
        (2900.0, "mm", ("mm",)),
        (200.0, "mm", ("mm", "cm")),
        (0.6, "m", ("m",)),
        (2.9, "m", ("m",)),
        (60.0, None, ("cm", "inch")),
        (24.0, None, ("cm", "inch")),
        (140.0, None, ("cm",)),
        (8.0, None, ("inch",)),
        (4.0, None, ("mm", "cm", "m", "inch")),
        (9000.0, None, ("mm", "cm", "m", "inch")),
    ],
)
def test_size_tells_mm_from_m_and_nothing_else(length, unit, choices):
    """150 to 3000 mm: mm where it fits, m where nothing else does, else it is to be said."""
    found = unit_found([file(box(length, length / 8.0, length / 10.0))], None)
    assert (found.unit, found.choices) == (unit, choices)
    assert found.by == ("assumed" if unit else "unclear")


def test_an_inch_is_25_4_mm():
    """What is asked tells both sizes (international inch of 1959: 25.4 mm)."""
    question = unit_found([file(box(24.0, 3.0, 3.0))], None).question
    assert "240 mm if they are cm, 610 mm if they are inches" in question


def test_what_is_stated_holds():
    """A unit that is asked for, or that all files state, is not doubted."""
    small = file(box(60.0, 8.0, 8.0), unit="inch")
    assert unit_found([small], None).by == "files"
    assert unit_found([small], "mm").unit == "mm"
    assert "unit mm as asked, though a file says inch" in parts_of([small], "mm")[1][0]
    both = [small, file(box(), name="float.stl", unit="mm")]
    assert unit_found(both, None).unit is None
    sizes = [np.ptp(part.triangles_mm[..., 0]) for part in parts_of(both, None)[0]]
    assert sizes == pytest.approx([60.0 * 25.4, 600.0])


def test_a_file_without_a_unit_beside_one_that_states_it():
    """It is taken in that unit if the size allows it; else it is to be said."""
    stated, unsaid = file(box(), unit="mm"), file(box(), name="b.stl")
    assert (unit_found([stated, unsaid], None).unit, unit_found([stated, unsaid], None).by) == (
        "mm",
        "assumed",
    )
    odd = file(box(0.6, 0.1, 0.1), unit="m")
    assert unit_found([odd, unsaid], None).by == "unclear"


def test_parts_piled_up_may_be_longer_than_they_seem():
    """Six parts of 120 mm, each in its own print axes, are a craft of up to 720 mm."""
    piled = [file(box(80.0, 70.0, 120.0), name=f"{k}.stl") for k in range(6)]
    assert unit_found(piled, None).unit == "mm"
    row = [file(box(20.0, 70.0, 60.0, at=(20.0 * k, 0.0, 0.0)), name=f"{k}.stl") for k in range(6)]
    assert unit_found(row, None).by == "unclear"


def test_patches_of_one_surface_are_one_part():
    """Six faces of a box as six objects are one part, and that is said."""
    faces = box().reshape(6, 2, 3, 3)
    parts, notes = parts_of([file(*faces)], "mm")
    assert len(parts) == 1
    assert parts[0].triangles_mm.shape == (12, 3, 3)
    assert "close only together" in notes[0]


def test_patches_that_share_their_rims_are_one_part():
    """Five faces of a box, its deck left out: patches of one open surface; said, and one part."""
    faces = box().reshape(6, 2, 3, 3)
    parts, notes = parts_of([file(*faces[:5])], "mm")
    assert [(part.object, len(part.triangles_mm)) for part in parts] == [("", 10)]
    assert notes == ("hull.stl: its 5 objects share their rims; read as one part",)


def test_open_objects_that_share_nothing_are_parts():
    """Two boxes without their decks, apart: each is open by itself, and a part."""
    faces = box().reshape(6, 2, 3, 3)[:5].reshape(-1, 3, 3)
    parts, notes = parts_of([file(faces, faces + 700.0)], "mm")
    assert [part.object for part in parts] == ["object 0", "object 1"]
    assert notes == ()


@pytest.mark.parametrize("at", [(100.0, 0.0, 0.0), (0.0, 300.0, 0.0)], ids=["touching", "apart"])
def test_each_object_is_a_part(at):
    """Two blocks in one file, end to end or apart, are two parts by the names of the objects."""
    plate = file(box(100.0), box(120.0, at=at), name="plate.3mf", unit="inch")
    parts, notes = parts_of([plate, file(box(), name="object_1.stl")], None)
    assert [(part.file, part.object, part.name) for part in parts] == [
        ("plate.3mf", "object 0", "object 0"),
        ("plate.3mf", "object 1", "object 1"),
        ("object_1.stl", "", "object 1 2"),
    ]
    assert np.ptp(parts[1].triangles_mm[..., 0]) == pytest.approx(120.0 * 25.4)
    assert notes == ()


def test_more_objects_than_a_craft_has_parts_are_refused():
    """A file of 201 objects: how many it holds and how many may be."""
    crowd = file(*[box(at=(0.0, 200.0 * k, 0.0)) for k in range(201)], name="crowd.obj")
    with pytest.raises(InputError, match=r"crowd\.obj: holds 201 objects; 200 parts at most"):
        parts_of([crowd], "mm")


def test_names_of_parts_are_told_apart():
    """Two files of one name in two folders, and one without letters."""
    files = [file(box(), name=name) for name in ("a/nose_1.stl", "b/nose_1.stl", "\u200b.stl")]
    assert [part.name for part in parts_of(files, "mm")[0]] == ["nose 1", "nose 1 2", "part 3"]


def test_a_file_named_twice_is_refused(tmp_path, monkeypatch):
    """By whatever path."""
    stl(tmp_path / "hull.stl", box())
    monkeypatch.chdir(tmp_path)
    with pytest.raises(InputError, match="is named twice"):
        read_files(["hull.stl", tmp_path / "hull.stl"])


def test_axes_of_a_format_hold_for_all_or_none():
    """A format with axes of its own beside one without is refused; alone its axes count."""
    own = file(box(), name="a.glb", up="+y", forward="+z")
    assert own_axes([own, own]) == ("+z", "+y")
    assert own_axes([file(box())]) == (None, None)
    with pytest.raises(InputError, match=r"a\.glb: .* --forward and --up"):
        own_axes([own, file(box())])
