"""OBJ against trimesh, and the forms of its faces."""

import importlib
import io
import re
import sys
from pathlib import Path

import numpy as np
import pytest
import trimesh

from hullcheck.errors import MeshFileError
from hullcheck.files.obj import read_obj

sys.path.insert(0, str(Path(__file__).parent))
making = importlib.import_module("mesh_making")

SQUARE = "v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\n"


def test_obj_is_what_trimesh_wrote():
    """The triangles equal those trimesh reads from its own file."""
    data = making.exported("obj", digits=12)
    read = read_obj(data, "hull.obj")
    assert (read.kind, read.unit) == ("OBJ", None)
    loaded = trimesh.load(io.BytesIO(data), file_type="obj", process=False, maintain_order=True)
    assert np.array_equal(making.all_triangles(read), np.asarray(loaded.triangles))
    assert making.volume(making.all_triangles(read)) == pytest.approx(making.VOLUME, rel=1e-12)


@pytest.mark.parametrize(
    "face",
    [
        "f 1 2 3",
        "f 1/5 2/6 3/7",
        "f 1//5 2//6 3//7",
        "f 1/5/9 2/6/9 3/7/9",
        "f -4 -3 -2",
        "f 1 -3/7 3//-1",
        "f 1 \\\n2 3",
        "  f\t1  2 3   # the deck",
    ],
)
def test_every_form_of_a_face_is_read(face):
    """Texture and normal numbers are passed over, negative numbers count back."""
    read = read_obj(f"# a comment\n{SQUARE}vt 0 0\nvn 0 0 1\n{face}\n".encode(), "hull.obj")
    assert np.array_equal(read.parts[0].triangles[0], [[0, 0, 0], [1, 0, 0], [1, 1, 0]])


def test_negative_numbers_count_back_from_their_own_line():
    """A vertex that comes later does not shift what -1 meant."""
    read = read_obj(f"{SQUARE}f -4 -3 -2\nv 9 9 9\nf -5 -4 -3\n".encode(), "hull.obj")
    assert np.array_equal(read.parts[0].triangles[0], read.parts[0].triangles[1])


def test_a_vertex_may_come_after_its_face():
    """Numbers from the start may name vertices further down."""
    read = read_obj(f"f 1 2 3\n{SQUARE}".encode(), "hull.obj")
    assert read.parts[0].triangles.shape == (1, 3, 3)


def test_colors_and_weights_are_passed_over():
    """Only the first three numbers of a vertex are its place."""
    text = "v 0 0 0 1\nv 1 0 0 0.5 0.5 0.5\nv 1 1 0 .1 .2 .3 1\nf 1 2 3\n"
    read = read_obj(text.encode(), "hull.obj")
    assert np.array_equal(read.parts[0].triangles[0], [[0, 0, 0], [1, 0, 0], [1, 1, 0]])


def test_objects_are_parts_and_groups_only_without_them():
    """Names of o statements make the parts; of g statements where there is no o."""
    faces = "{0} bow\nf 1 2 3\n{0} stern\nf 1 3 4\n{0} bow\nf 2 3 4\n"
    for key in ("o", "g"):
        read = read_obj((SQUARE + faces.format(key)).encode(), "hull.obj")
        assert [(part.name, len(part.triangles)) for part in read.parts] == [
            ("bow", 2),
            ("stern", 1),
        ]
    both = SQUARE + "f 1 2 4\no hull\ng bow\nf 1 2 3\ng stern\nf 1 3 4\n"
    assert [part.name for part in read_obj(both.encode(), "hull.obj").parts] == ["", "hull"]


def test_a_concave_polygon_is_cut_without_overlap():
    """An L-shaped deck has the area of the L whichever corner comes first."""
    corners = [(0, 0), (2, 0), (2, 1), (1, 1), (1, 2), (0, 2)]
    for first in range(6):
        turned = corners[first:] + corners[:first]
        text = "".join(f"v {x} {y} 0\n" for x, y in turned) + "f 1 2 3 4 5 6\n"
        triangles = read_obj(text.encode(), "deck.obj").parts[0].triangles
        doubled = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
        assert len(triangles) == 4
        assert doubled[:, 2].min() >= 0.0
        assert doubled[:, 2].sum() / 2 == 3.0


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (SQUARE + "f 1 2 5\n", "hull.obj: line 5: the face names vertex 5 of 4"),
        (SQUARE + "f 1 2 -5\n", "hull.obj: line 5: the face names vertex -5 of 4"),
        (SQUARE + "f 1 2 0\n", "line 5: the face names a corner that is not a whole number"),
        (SQUARE + "f 1 2 x/1\n", "line 5: the face names a corner that is not a whole number"),
        (SQUARE + "f 1 2 1.5\n", "line 5: the face names a corner that is not a whole number"),
        (SQUARE + "f 1 2\n", "hull.obj: line 5: a face with 2 corners, at least 3 wanted"),
        (SQUARE + "f 1 2 4 3\n", "hull.obj: line 5: a face of 4 corners crosses itself"),
        ("v 0 0\n", "hull.obj: line 1: a vertex with 2 of 3 coordinates"),
        ("\nv 0 1,5 0\n", "hull.obj: line 2: '1,5' in vertex 1 is not a finite number"),
        ("v 0 0 0\nv 0 nan 0\n", "hull.obj: line 2: 'nan' in vertex 2 is not a finite number"),
        ("v 0 0 -inf\n", "hull.obj: line 1: '-inf' in vertex 1 is not a finite number"),
        (SQUARE, "hull.obj: an OBJ file without faces (4 vertices)"),
        ("call other.obj\n", "hull.obj: line 1: 'call' is no statement of a polygon mesh"),
        ("csh rm -r x\n", "hull.obj: line 1: 'csh' is no statement of a polygon mesh"),
        ("surf 0 1 0 1 1 2\n", "hull.obj: line 1: 'surf' is no statement of a polygon mesh"),
        ("v 0 0 " + "0" * (1 << 22), "hull.obj: line 1 is longer than 4194304 bytes"),
    ],
)
def test_what_is_wrong_is_refused_with_its_line(text, message):
    """The refusal names the file, the line and the value."""
    with pytest.raises(MeshFileError, match=re.escape(message)):
        read_obj((text + "\n").encode(), "hull.obj")
