"""GLB and glTF: against trimesh, by hand, and what must never be opened or believed."""

import base64
import importlib
import io
import json
import re
import sys
from pathlib import Path

import numpy as np
import pytest
import trimesh

from hullcheck.errors import MeshFileError
from hullcheck.files.gltf import read_gltf

sys.path.insert(0, str(Path(__file__).parent))
making = importlib.import_module("mesh_making")

FLOAT32 = making.VERTICES.astype(np.float32).astype(np.float64)
# The file's places are float32: 3e-8 of 312 mm over an 80 mm beam.
FLOAT32_VOLUME = making.volume(FLOAT32[making.FACES])


def read(**replaced):
    """Return what a GLB of the prism with some top-level keys replaced is read as."""
    return read_gltf(making.glb(*making.gltf_document(**replaced)), "craft.glb")


def test_glb_is_what_trimesh_wrote():
    """A scene of two nodes lies where trimesh put it; unit and axes are those of the format."""
    scene = trimesh.Scene()
    turn = trimesh.transformations.rotation_matrix(0.7, [1, 2, 3], [4, 5, 6])
    scene.add_geometry(making.hull(), node_name="hull", transform=turn)
    scene.add_geometry(making.hull(), node_name="float")
    data = scene.export(file_type="glb")
    mesh_file = read_gltf(data, "craft.glb")
    assert (mesh_file.kind, mesh_file.unit) == ("GLB", "m")
    assert (mesh_file.up, mesh_file.forward) == ("+y", "+z")
    parts = {part.name: part.triangles for part in mesh_file.parts}
    assert np.array_equal(parts["float"], FLOAT32[making.FACES])
    # trimesh applies the same float64 matrix to the same float32 places.
    wanted = trimesh.transform_points(FLOAT32, turn)[making.FACES]
    np.testing.assert_allclose(parts["hull"], wanted, rtol=1e-12, atol=1e-10)


@pytest.mark.parametrize(
    "node",
    [
        {
            "translation": [1, 2, 3],
            "scale": [2, 3, 4],
            "rotation": [0.1, 0.2, 0.3, 0.927361849549570],
        },
        {"matrix": [0, 2, 0, 0, -3, 0, 0, 0, 0, 0, 4, 0, 5, 6, 7, 1]},
        {"scale": [-1, 1, 1]},
    ],
)
def test_nodes_lie_where_trimesh_puts_them(node):
    """Scale, rotation, translation and matrix of a parent over a stretched child."""
    child = {"mesh": 0, "name": "hull", "scale": [1, 2, 1], "translation": [3, 1, 2]}
    nodes = [{"children": [1], **node}, child]
    data = making.glb(*making.gltf_document(nodes=nodes))
    loaded = trimesh.load(io.BytesIO(data), file_type="glb", process=False).to_mesh()
    ours = read_gltf(data, "craft.glb").parts[0].triangles
    theirs = np.asarray(loaded.triangles)
    # The corners of a triangle in any order: float64 rounding of places up to 10⁴.
    np.testing.assert_allclose(np.sort(ours, axis=1), np.sort(theirs, axis=1), atol=1e-9)
    scale = 2 * abs(np.prod(node.get("scale", [2, 3, 4])))
    assert making.volume(ours) == pytest.approx(FLOAT32_VOLUME * scale, rel=1e-9)


def test_a_mirrored_node_still_faces_outward():
    """A negative scale would turn the surface inside out; glTF flips the winding then."""
    nodes = [{"mesh": 0, "scale": [1, -1, 1]}]
    triangles = read(nodes=nodes).parts[0].triangles
    assert making.volume(triangles) == pytest.approx(FLOAT32_VOLUME, rel=1e-9)


def test_a_gltf_with_everything_inside_is_read():
    """A data address is inside the file, so a .gltf may use one."""
    document, binary = making.gltf_document()
    encoded = base64.b64encode(binary).decode()
    document["buffers"][0]["uri"] = f"data:application/octet-stream;base64,{encoded}"
    mesh_file = read_gltf(json.dumps(document).encode(), "craft.gltf")
    assert mesh_file.kind == "glTF"
    assert np.array_equal(mesh_file.parts[0].triangles, FLOAT32[making.FACES])


def test_a_mesh_without_indices_is_read():
    """Three vertices after another are a triangle."""
    places = making.VERTICES[making.FACES].astype("<f4").tobytes()
    document, _ = making.gltf_document(
        meshes=[{"primitives": [{"attributes": {"POSITION": 0}}], "name": "trough"}],
        nodes=[{"mesh": 0}],
        accessors=[{"bufferView": 0, "componentType": 5126, "count": 24, "type": "VEC3"}],
        bufferViews=[{"buffer": 0, "byteLength": len(places)}],
        buffers=[{"byteLength": len(places)}],
    )
    part = read_gltf(making.glb(document, places), "craft.glb").parts[0]
    assert part.name == "trough"
    assert np.array_equal(part.triangles, FLOAT32[making.FACES])


def test_interleaved_places_are_read():
    """A stride steps over what lies between the places."""
    rows = np.zeros((6, 6), "<f4")
    rows[:, 1:4] = making.VERTICES
    corners = making.FACES.astype("<u2").tobytes()
    document, _ = making.gltf_document()
    document["bufferViews"][0] = {"buffer": 0, "byteLength": 144, "byteStride": 24}
    document["bufferViews"][1]["byteOffset"] = 144
    document["accessors"][0]["byteOffset"] = 4
    document["buffers"][0]["byteLength"] = 144 + len(corners)
    data = making.glb(document, rows.tobytes() + corners)
    assert np.array_equal(read_gltf(data, "craft.glb").parts[0].triangles, FLOAT32[making.FACES])


def test_points_and_lines_are_passed_over():
    """A primitive of lines beside one of triangles does not matter; alone it is refused."""
    triangles = {"attributes": {"POSITION": 0}, "indices": 1}
    lines = {**triangles, "mode": 1}
    assert len(read(meshes=[{"primitives": [lines, triangles]}]).parts[0].triangles) == 8
    with pytest.raises(MeshFileError, match=r"craft.glb: no triangles in its scene"):
        read(meshes=[{"primitives": [lines]}])


def changed(where, value):
    """Return a GLB of the prism with one field, given by its path, set to another value."""
    document, binary = making.gltf_document()
    *path, last = where
    target = document
    for key in path:
        target = target[key]
    target[last] = value
    return making.glb(document, binary)


POSITION = ("accessors", 0)
INDICES = ("accessors", 1)
PRIMITIVE = ("meshes", 0, "primitives", 0)


@pytest.mark.parametrize(
    ("where", "value", "message"),
    [
        (("asset", "version"), "1.0", "glTF version '1.0' is not read, 2.0 is"),
        (("extensionsRequired",), ["KHR_draco_mesh_compression"], "is compressed by Draco"),
        (("extensionsRequired",), ["EXT_meshopt_compression"], "is compressed by meshopt"),
        (("extensionsRequired",), ["KHR_mesh_quantization"], "needs the glTF extension 'KHR_mesh"),
        ((*PRIMITIVE, "extensions"), {"KHR_draco_mesh_compression": {}}, "is compressed by Draco"),
        (("bufferViews", 0, "extensions"), {"EXT_meshopt_compression": {}}, "by meshopt"),
        (("nodes", 0, "extensions"), {"EXT_mesh_gpu_instancing": {}}, "is placed by EXT_mesh_gpu"),
        (("nodes", 0, "skin"), 0, "nodes 0: is bent by a skeleton"),
        ((*PRIMITIVE, "targets"), [], "primitives 0: has morph targets"),
        ((*PRIMITIVE, "mode"), 5, "meshes 0 primitives 0: is a strip or fan of triangles"),
        ((*PRIMITIVE, "mode"), 6, "meshes 0 primitives 0: is a strip or fan of triangles"),
        ((*POSITION, "sparse"), {"count": 10**9}, "accessors 0: sparse or empty accessors are not"),
        ((*POSITION, "count"), 10**12, "accessors 0: 1000000000000 values do not fit into a view"),
        ((*POSITION, "count"), 7, "accessors 0: 7 values do not fit into a view of 72 bytes"),
        ((*POSITION, "count"), 0, "accessors 0: 0 values do not fit"),
        ((*POSITION, "count"), -1, "accessors 0: 'count' is '-1' where a whole number from 0 up"),
        ((*POSITION, "count"), 6.0, "accessors 0: 'count' is '6.0' where a whole number"),
        ((*POSITION, "count"), None, "accessors 0: 'count' is nothing where a whole number"),
        ((*POSITION, "componentType"), 5123, "positions are not three 32-bit floats each"),
        ((*INDICES, "componentType"), 5126, "indices are not single unsigned whole numbers"),
        ((*INDICES, "count"), 23, "23 corners do not make whole triangles"),
        ((*INDICES, "bufferView"), 9, "accessors 1: bufferView 9 of 2, counted from 0, is not"),
        ((*PRIMITIVE, "indices"), 9, "meshes 0 primitives 0: accessor 9 of 2, counted from 0"),
        (("bufferViews", 0, "byteLength"), 10**9, "ends at byte 1000000000 of a buffer of 120"),
        (
            ("bufferViews", 0, "byteOffset"),
            60,
            "bufferViews 0: ends at byte 132 of a buffer of 120",
        ),
        (("bufferViews", 0, "byteStride"), 8, "has a stride of 8 bytes for values of 12"),
        (
            ("buffers", 0, "byteLength"),
            10**9,
            "truncated: 1000000000 bytes promised, 120 are there",
        ),
        (("buffers", 0, "uri"), "data:,abc", "buffers 0: is a data address that is not base64"),
        (("buffers", 0, "uri"), "data:;base64,ab!", "buffers 0: holds damaged base64"),
        (("nodes", 0, "mesh"), 3, "nodes 0: mesh 3 of 1 is not there"),
        (("nodes", 0, "children"), [0], "nodes 0: stands at two places of the scene, or within"),
        (("nodes", 0, "children"), [4], "craft.glb: node 4 of 1 is not there"),
        (("nodes", 0, "rotation"), [0, 0, 0, 2], "a quaternion of length 2, not 1"),
        (("nodes", 0, "scale"), [1, 0, 1], "nodes 0: its transform has the determinant 0"),
        (("nodes", 0, "scale"), [1e308, 1, 1], "nodes 0: its transform takes it out of the range"),
        (("nodes", 0, "translation"), [0, 1], "nodes 0: 'translation' is a list where 3 finite"),
        (("scene",), 2, "craft.glb: scene 2 of 1, counted from 0, is not there"),
        (("scenes",), {}, "craft.glb: 'scenes' is an object where a list is wanted"),
        (("meshes",), [1], "craft.glb: 'meshes' is a list where a list of objects is wanted"),
    ],
)
def test_what_is_wrong_is_refused(where, value, message):
    """The refusal names the file, the place in the document and the value."""
    with pytest.raises(MeshFileError, match=re.escape(message)) as caught:
        read_gltf(changed(where, value), "craft.glb")
    assert str(caught.value).startswith("craft.glb: ")


@pytest.mark.parametrize("key", ["buffers", "images"])
@pytest.mark.parametrize(
    "uri", ["hull.bin", "/somewhere/else", "http://127.0.0.1:9/x", "file:///x"]
)
def test_outside_files_are_named_and_not_opened(key, uri, opened_files, tmp_path, monkeypatch):
    """A buffer or picture beside the file is refused by its name, even where it is there."""
    (tmp_path / "hull.bin").write_bytes(bytes(120))
    monkeypatch.chdir(tmp_path)
    document, binary = making.gltf_document()
    document[key] = [{"uri": uri, "byteLength": 120}]
    data = making.glb(document, binary)
    message = f"{key} 0: wants the outside file '{uri}'; export as one .glb"
    with opened_files() as opened, pytest.raises(MeshFileError, match=re.escape(message)):
        read_gltf(data, "craft.glb")
    assert opened == []


def test_indices_and_places_are_checked():
    """A vertex that is not there and one that is no number are refused by their numbers."""
    document, binary = making.gltf_document()
    wrong = bytearray(binary)
    wrong[72 + 2 * 4 : 72 + 2 * 4 + 2] = b"\x09\0"
    message = "meshes 0 primitives 0, triangle 2 names vertex 9, but there are 6 vertices"
    with pytest.raises(MeshFileError, match=message):
        read_gltf(making.glb(document, bytes(wrong)), "craft.glb")
    wrong = bytearray(binary)
    wrong[12:16] = np.float32(np.inf).tobytes()
    with pytest.raises(MeshFileError, match=r"meshes 0 primitives 0, vertex 2 lies at \(inf"):
        read_gltf(making.glb(document, bytes(wrong)), "craft.glb")


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (making.glb({})[:-1], "truncated or damaged: the header says 24 bytes, the file has 23"),
        (b"glTF\1\0\0\0", "GLB version 1 is not read, 2 is"),
        (b"glTF\2\0\0\0\x0c\0\0\0", "a GLB without its JSON chunk"),
        (b"glTF\2\0\0\0\x14\0\0\0\xff\xff\xff\xffJSON", "a chunk of 4294967295 bytes at byte 12"),
        (making.glb([]), "its JSON is not a glTF document"),
        (b'{"asset": {"version": "2.0"}, "x": NaN}', "damaged or truncated JSON"),
        (b'{"asset": {"version": "2.0"}\n, "x": ', "damaged or truncated JSON, line 2"),
        (b'{"asset": ' + b"[" * 100_000, "damaged or truncated JSON"),
        (b'{"asset": ' + b"9" * 5000 + b"}", "damaged or truncated JSON"),
        (b'{"asset": {"version": "2.0"}}', "scene 0 of 0, counted from 0, is not there"),
    ],
)
def test_a_file_that_is_not_whole_is_refused(data, message):
    """The refusal says what is missing."""
    with pytest.raises(MeshFileError, match=message):
        read_gltf(data, "craft.glb")


def test_many_nodes_of_one_mesh_are_counted_before_they_are_made(monkeypatch):
    """The limit on triangles holds over all nodes together."""
    monkeypatch.setattr("hullcheck.files.guard.MAX_TRIANGLES", 20)
    nodes = [{"mesh": 0}, {"mesh": 0}, {"mesh": 0}]
    with pytest.raises(MeshFileError, match="24 triangles, over the limit of 20"):
        read(nodes=nodes, scenes=[{"nodes": [0, 1, 2]}])
