"""OFF against trimesh, and what its lines may hold."""

import importlib
import io
import re
import sys
from pathlib import Path

import numpy as np
import pytest
import trimesh

from hullcheck.errors import MeshFileError
from hullcheck.files.off import read_off

sys.path.insert(0, str(Path(__file__).parent))
making = importlib.import_module("mesh_making")

SQUARE = "OFF\n4 2 0\n0 0 0\n1 0 0\n1 1 0\n0 1 0\n3 0 1 2\n3 0 2 3\n"


def test_off_is_what_trimesh_wrote():
    """The triangles equal those trimesh reads from its own file."""
    data = making.exported("off")
    read = read_off(data, "hull.off")
    assert (read.kind, read.unit) == ("OFF", None)
    loaded = trimesh.load(io.BytesIO(data), file_type="off", process=False)
    assert np.array_equal(making.all_triangles(read), np.asarray(loaded.triangles))


@pytest.mark.parametrize(
    "text",
    [
        SQUARE,
        SQUARE.replace("OFF\n", "OFF "),
        SQUARE.replace("\n", "\r\n"),
        "# made by hand\n\n" + SQUARE.replace("4 2 0", "4 2 0 # counts\n# more"),
        SQUARE.replace("OFF", "COFF")
        .replace(" 0\n", " 0 255 0 0 255\n")
        .replace("4 2 0 255", "4 2"),
        SQUARE.replace("3 0 1 2", "3 0 1 2 0.5 0.5 0.5"),
        SQUARE.replace("4 2 0", "4 1 4").replace("3 0 1 2\n3 0 2 3", "4 0 1 2 3"),
    ],
)
def test_comments_colors_and_polygons(text):
    """Two triangles of a square come out of every way to write them."""
    triangles = read_off(text.encode(), "hull.off").parts[0].triangles
    assert np.array_equal(triangles[:, 1:, :2], [[[1, 0], [1, 1]], [[1, 1], [0, 1]]])


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("OFF", "4OFF", "hull.off: line 1: '4OFF' is not the header of a text OFF"),
        ("OFF", "OFF BINARY", "hull.off: line 1: 'OFF BINARY' is not the header of a text OFF"),
        ("4 2 0", "4 x", "line 2: the numbers of vertices and faces are missing"),
        ("4 2 0", "4 -2 0", "line 2: the numbers of vertices and faces are missing"),
        ("4 2 0", "4 0 0", "hull.off: line 2: 0 faces"),
        ("4 2 0", "4 99 0", "line 2: 4 vertices and 99 faces need 816 bytes or more, the file has"),
        ("4 2 0", "4 3 0", "face 3 of 3 is '', not a number of corners from 3 up"),
        ("4 2 0", "4 1 0", "hull.off: line 8: more lines than 1 faces"),
        ("1 1 0", "1 1", "hull.off: line 5: vertex 3 of 4 has 2 of 3 numbers"),
        ("1 1 0", "1 nan 0", "hull.off: line 5: 'nan' in vertex 3 is not a finite number"),
        ("1 1 0", "1 1e999 0", "hull.off: line 5: '1e999' in vertex 3 is not a finite number"),
        ("3 0 2 3", "3 0 2 4", "line 8: face 2 names vertex 4, not one of 4 counted from 0"),
        ("3 0 2 3", "3 0 2 -1", "hull.off: line 8: face 2 names vertex -1"),
        ("3 0 2 3", "3 0 2", "hull.off: line 8: face 2 of 2 is '3 0 2', not a number of corners"),
        ("3 0 2 3", "2 0 2", "hull.off: line 8: face 2 of 2 is '2 0 2', not a number of corners"),
        ("3 0 2 3", "4 0 2 1 3", "hull.off: line 8: a face of 4 corners crosses itself"),
    ],
)
def test_what_is_wrong_is_refused_with_its_line(old, new, message):
    """The refusal names the file, the line and the value."""
    with pytest.raises(MeshFileError, match=re.escape(message)):
        read_off(SQUARE.replace(old, new).encode(), "hull.off")
