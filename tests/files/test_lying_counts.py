"""Headers that promise millions of rows in a file of a few bytes: refused without making room."""

import importlib
import re
import struct
import sys
from pathlib import Path

import pytest

from hullcheck.errors import MeshFileError
from hullcheck.files.meshes import read_mesh_bytes

sys.path.insert(0, str(Path(__file__).parent))
making = importlib.import_module("mesh_making")

PLY = (
    "ply\nformat {0} 1.0\nelement vertex {1}\nproperty float x\nproperty float y\n"
    "property float z\nelement face {2}\nproperty list uint int vertex_indices\nend_header\n"
)
PLACES = struct.pack("<9f", 0, 0, 0, 1, 0, 0, 0, 1, 0)
NUMBERS = b"0 0 0\n1 0 0\n0 1 0\n3 0 1 2\n"
MANY = 900_000_000


def gltf(**accessor):
    """Return a GLB in which the accessor of the places is changed."""
    document, binary = making.gltf_document()
    document["accessors"][0].update(accessor)
    return making.glb(document, binary)


LIES = {
    "triangles.stl": (b"lie".ljust(80) + struct.pack("<I", 20_000_000) + bytes(500), "20000000"),
    "vertices.ply": (PLY.format("binary_little_endian", MANY, 1).encode() + PLACES, "truncated"),
    "faces.ply": (PLY.format("binary_little_endian", 3, MANY).encode() + PLACES, "truncated"),
    "list.ply": (
        PLY.format("binary_little_endian", 3, 1).encode() + PLACES + struct.pack("<I", MANY),
        "row 1 of 'face' runs past the end",
    ),
    "huge.ply": (PLY.format("binary_big_endian", "9" * 19, 1).encode() + PLACES, "line 3"),
    "vertices_text.ply": (PLY.format("ascii", MANY, 1).encode() + NUMBERS, "truncated"),
    "faces_text.ply": (PLY.format("ascii", 3, MANY).encode() + NUMBERS, "truncated"),
    "list_text.ply": (
        PLY.format("ascii", 3, 1).encode() + NUMBERS.replace(b"3 0", b"900000000 0"),
        "row 1 of 'face' runs past the end",
    ),
    "vertices.off": (b"OFF\n900000000 1 0\n" + NUMBERS, "900000000 vertices and 1 faces need"),
    "faces.off": (b"OFF\n3 900000000 0\n" + NUMBERS, "3 vertices and 900000000 faces need"),
    "corners.off": (
        b"OFF\n3 1 0\n" + NUMBERS.replace(b"3 0", b"900000000 0"),
        "face 1 of 1 is '900000000 0 1 2'",
    ),
    "index.obj": (b"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 900000000\n", "vertex 900000000 of 3"),
    "index.3mf": (
        making.package(
            making.model_xml(
                [f'<object id="1">{making.mesh_xml()}</object>'], ['<item objectid="1"/>']
            ).replace('v1="0"', 'v1="900000000"', 1)
        ),
        "triangle 1 names vertex 900000000",
    ),
    "count.glb": (gltf(count=MANY), "900000000 values do not fit into a view of 72 bytes"),
    "sparse.glb": (
        gltf(count=MANY, sparse={"count": MANY}, bufferView=0),
        "sparse or empty accessors are not read",
    ),
}


@pytest.mark.parametrize("name", LIES)
def test_a_count_that_lies_takes_no_memory(name, peak_bytes):
    """The refusal comes before any room is made: under 4 MB where 10 GB were promised."""
    data, message = LIES[name]

    def attempt():
        with pytest.raises(MeshFileError, match=re.escape(message)) as caught:
            read_mesh_bytes(data, name)
        assert str(caught.value).startswith(f"{name}: ")

    attempt()  # what is imported on the way does not count
    assert peak_bytes(attempt) < 4 << 20
