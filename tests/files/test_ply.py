"""PLY of all three kinds, against trimesh and by hand."""

import importlib
import io
import re
import struct
import sys
from pathlib import Path

import numpy as np
import pytest
import trimesh

from hullcheck.errors import MeshFileError
from hullcheck.files.ply import read_ply

sys.path.insert(0, str(Path(__file__).parent))
making = importlib.import_module("mesh_making")

VERTEX_LINES = "element vertex 4\nproperty double x\nproperty double y\nproperty double z\n"
FACE_LINES = "element face 2\nproperty list uchar int vertex_indices\n"
PLACES = [(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 0.1), (0.0, 1.0, 0.1)]


def text_ply(rows="4 0 1 2 3\n3 0 1 2\n", vertices=VERTEX_LINES, faces=FACE_LINES):
    """Return a text PLY of four vertices and two faces."""
    places = "".join(f"{x} {y} {z}\n" for x, y, z in PLACES)
    header = (
        f"ply\nformat ascii 1.0\ncomment end_header made by hand\n{vertices}{faces}end_header\n"
    )
    return (header + places + rows).encode()


def binary_ply(order, faces, kind="int"):
    """Return a binary PLY of four vertices and the given faces, with a scalar before each list."""
    name = {"<": "binary_little_endian", ">": "binary_big_endian"}[order]
    letter = {"int": "i", "uchar": "B", "ushort": "H"}[kind]
    header = (
        f"ply\nformat {name} 1.0\n{VERTEX_LINES}element face {len(faces)}\n"
        f"property short group\nproperty list ushort {kind} vertex_index\nproperty float area\n"
        "end_header\n"
    ).encode()
    body = b"".join(struct.pack(f"{order}3d", *place) for place in PLACES)
    for face in faces:
        body += struct.pack(f"{order}hH{len(face)}{letter}f", 7, len(face), *face, 0.5)
    return header + body


@pytest.mark.parametrize(("encoding", "kept"), [("binary", np.float64), ("ascii", np.float32)])
def test_ply_is_what_trimesh_wrote(encoding, kept):
    """The triangles equal those trimesh reads from its own file; of a text it keeps float32."""
    data = making.exported("ply", encoding=encoding)
    read = read_ply(data, "hull.ply")
    assert (read.kind, read.unit) == ("PLY", None)
    loaded = trimesh.load(io.BytesIO(data), file_type="ply", process=False)
    assert np.array_equal(making.all_triangles(read).astype(kept), loaded.triangles.astype(kept))


def test_text_numbers_stay_float64():
    """A number longer than the float its header names is kept whole."""
    data = text_ply(vertices=VERTEX_LINES.replace("double", "float"))
    assert read_ply(data, "hull.ply").parts[0].triangles[0, 2, 2] == 0.1


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize("kind", ["int", "uchar", "ushort"])
@pytest.mark.parametrize(
    "faces", [[(0, 1, 2), (0, 2, 3)], [(0, 1, 2, 3)], [(0, 1, 2), (0, 1, 2, 3)]]
)
def test_binary_lists_of_every_order_and_length(order, kind, faces):
    """Equal and unequal lists, with other columns around them, give the same triangles."""
    triangles = read_ply(binary_ply(order, faces, kind), "hull.ply").parts[0].triangles
    wanted = [
        [PLACES[f[0]], PLACES[f[i]], PLACES[f[i + 1]]] for f in faces for i in range(1, len(f) - 1)
    ]
    assert np.array_equal(triangles, wanted)


def test_other_elements_and_line_ends():
    """Elements before, between and after are passed over; CRLF is a line end."""
    header = (
        "ply\r\nformat ascii 1.0\r\nelement camera 1\r\nproperty float a\r\n"
        "property list uchar float b\r\n"
        f"{VERTEX_LINES}{FACE_LINES}element edge 1\r\nproperty int v\r\nend_header\r\n"
    )
    rows = "1 2 3 4\r\n0 0 0\r\n1 0 0\r\n1 1 0\r\n0 1 0\r\n3 0 1 2\r\n3 0 2 3\r\n9\r\n"
    read = read_ply((header + rows).replace("1.0\n", "1.0\r\n").encode(), "hull.ply")
    assert read.parts[0].triangles.shape == (2, 3, 3)


def test_nan_in_a_column_that_is_not_a_place_does_not_matter():
    """Normals without a value are written as nan by some programs."""
    data = text_ply(vertices=VERTEX_LINES + "property float nx\n")
    for _x, y, z in PLACES:
        data = data.replace(f"{y} {z}\n".encode(), f"{y} {z} -nan\n".encode(), 1)
    assert read_ply(data, "hull.ply").parts[0].triangles.shape == (3, 3, 3)


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (text_ply()[:60], "hull.ply: no 'end_header' in the first 64 kB"),
        (text_ply().replace(b"ascii", b"utf8"), "line 2: 'format utf8 1.0' is no line of a PLY"),
        (text_ply().replace(b"list uchar int", b"list int"), "is no property of a PLY"),
        (text_ply().replace(b"double y", b"double x"), "line 6: 'x' stands there twice"),
        (text_ply().replace(b"element face", b"element vertex"), "element 'vertex' twice"),
        (text_ply().replace(b"double z", b"double w"), "no vertices with one x, y and z each"),
        (text_ply().replace(b"vertex_indices", b"other"), "no faces, only 4 vertices"),
        (text_ply().replace(b"element face", b"element tristrips"), "triangle strips are not read"),
        (text_ply("4 0 1 2 x\n3 0 1 2\n"), "hull.ply: line 15: 'x' is not a number"),
        (text_ply("4 0 1 2 4\n3 0 1 2\n"), "face 1 names vertex 4, not one of 4 counted from 0"),
        (text_ply("4 0 1 2 3\n3 0 1 -1\n"), "face 2 names vertex -1, not one of 4"),
        (text_ply("4 0 1 2 3\n3 0 1 0.5\n"), "face 2 names vertex 0.5, not one of 4"),
        (text_ply("4 0 1 2 3\n3 0 1 inf\n"), "face 2 names vertex inf, not one of 4"),
        (text_ply("4 0 1 2 3\n2 0 1\n"), "face 2 has 2 corners, at least 3 wanted"),
        (text_ply("4 0 1 3 2\n3 0 1 2\n"), "face 1 of 4 corners crosses itself"),
        (text_ply("4 0 1 2 3\n3 0 1\n"), "row 2 of 'face' runs past the end"),
        (text_ply("4 0 1 2 3\n-3 0 1 2\n"), "row 2 of 'face' runs past the end"),
        (text_ply("4 0 1 2 3\n"), "row 2 of 'face' runs past the end"),
        (text_ply("4 0 1 2 3\n3 0 1 2\n5\n"), "longer than its header says by 8 bytes"),
        (text_ply().replace(b"1.0 1.0 0.1", b"1.0 nan 0.1"), "vertex 3 lies at (1, nan, 0.1)"),
        (text_ply().replace(b"1.0 1.0 0.1", b"1.0 1e999 0.1"), "vertex 3 lies at (1, inf, 0.1)"),
        (binary_ply("<", [(0, 1, 2)])[:-1], "truncated in row 1 of 'face'"),
        (binary_ply(">", [(0, 1, 2)])[:-9], "row 1 of 'face' runs past the end"),
        (binary_ply("<", [(0, 1, 2)])[:-17], "the header says 1 rows of 'face', at least 8 bytes"),
        (binary_ply(">", [(0, 1, 2)]) + b"abc", "longer than its header says by 3 bytes"),
    ],
)
def test_what_is_wrong_is_refused(data, message):
    """The refusal names the file, the place and the value."""
    with pytest.raises(MeshFileError, match=re.escape(message)):
        read_ply(data, "hull.ply")
