"""glTF 2.0: one binary .glb, or a .gltf with everything inside."""

from typing import Final

import numpy as np

from hullcheck.errors import MeshFileError
from hullcheck.files.accessors import Buffers
from hullcheck.files.fields import Fields, json_fields
from hullcheck.files.guard import check_finite, check_indices, check_triangle_count, clean_name
from hullcheck.files.mesh_file import MeshFile, MeshPart
from hullcheck.files.placement import UNMOVED, Placement, placed
from hullcheck.geometry.arrays import FloatArray, IntArray

_MAGIC: Final = b"glTF"
_JSON_CHUNK: Final = b"JSON"
_BINARY_CHUNK: Final = b"BIN\0"
_POINTS_AND_LINES: Final = (0, 1, 2, 3)
_TRIANGLES: Final = 4
# Extensions that change how a surface looks, not where it is.
_LOOKS: Final = ("KHR_materials_", "KHR_texture_", "EXT_texture_", "KHR_lights_")
_COMPRESSED: Final = {
    "KHR_draco_mesh_compression": "Draco",
    "EXT_meshopt_compression": "meshopt",
}


def is_gltf(data: bytes) -> bool:
    """Return whether the file starts as a GLB does, or is JSON with a glTF's one required field."""
    return data.startswith(_MAGIC) or (data[:64].lstrip().startswith(b"{") and b'"asset"' in data)


def read_gltf(data: bytes, name: str) -> MeshFile:
    """Return the parts of a GLB or glTF file, one for each node with a mesh, in meters.

    Parameters
    ----------
    data : bytes
        The whole file.
    name : str
        The path as given, for messages.

    Returns
    -------
    MeshFile
        The nodes of the scene, their transforms applied, +y up and +z forward as the format fixes.

    Raises
    ------
    MeshFileError
        For a damaged file, one that wants outside files, and what is not read: compression,
        sparse accessors, strips and fans of triangles, skeletons, morph targets.

    References
    ----------
    The Khronos Group, *glTF 2.0 Specification*, 2021, sections 3 and 4.
    """
    binary: bytes | None = None
    kind, text = "glTF", data
    if data.startswith(_MAGIC):
        kind = "GLB"
        text, binary = _chunks(data, name)
    document = json_fields(text, name)
    version = document.fields("asset").text("version")
    if not version.startswith("2."):
        document.refuse(f"glTF version '{clean_name(version)}' is not read, 2.0 is")
    for extension in document.texts("extensionsRequired"):
        _refuse_extension(document, extension)
    parts = _Scene(document, Buffers(document, binary)).parts()
    return MeshFile(name=name, kind=kind, parts=parts, unit="m", up="+y", forward="+z")


def _chunks(data: bytes, name: str) -> tuple[bytes, bytes | None]:
    """Return the JSON and the binary chunk of a GLB file."""
    version, length = (int.from_bytes(data[at : at + 4], "little") for at in (4, 8))
    if version != 2:
        msg = f"{name}: GLB version {version} is not read, 2 is; export the mesh again"
        raise MeshFileError(msg)
    if length != len(data):
        msg = f"{name}: truncated or damaged: the header says {length} bytes"
        raise MeshFileError(f"{msg}, the file has {len(data)}; export or copy it again")
    found: list[tuple[bytes, bytes]] = []
    at = 12
    while at + 8 <= len(data) and len(found) < 2:
        size = int.from_bytes(data[at : at + 4], "little")
        if at + 8 + size > len(data):
            msg = f"{name}: truncated: a chunk of {size} bytes at byte {at} runs past the end"
            raise MeshFileError(f"{msg}; export or copy it again")
        found.append((data[at + 4 : at + 8], data[at + 8 : at + 8 + size]))
        at += 8 + size
    if not found or found[0][0] != _JSON_CHUNK:
        raise MeshFileError(f"{name}: a GLB without its JSON chunk; export the mesh again")
    binary = found[1][1] if len(found) > 1 and found[1][0] == _BINARY_CHUNK else None
    return found[0][1], binary


def _refuse_extension(owner: Fields, extension: str) -> None:
    """Refuse an extension without which the mesh cannot be read."""
    if extension in _COMPRESSED:
        what = f"is compressed by {_COMPRESSED[extension]} ({extension})"
        owner.refuse(what, "export without compression")
    if not extension.startswith(_LOOKS):
        owner.refuse(f"needs the glTF extension '{clean_name(extension)}', which is not read")


class _Scene:
    """The way through the nodes of a scene."""

    def __init__(self, document: Fields, buffers: Buffers) -> None:
        """Start at the scene the document shows, the first one if it says nothing."""
        self.document = document
        self.name = document.name
        self.buffers = buffers
        self.nodes = document.each("nodes")
        self.meshes = document.each("meshes")
        self.count = 0
        scenes = document.each("scenes")
        shown = document.whole("scene", 0)
        if shown >= len(scenes):
            document.refuse(f"scene {shown} of {len(scenes)}, counted from 0, is not there")
        self.roots = scenes[shown].wholes("nodes")

    def parts(self) -> tuple[MeshPart, ...]:
        """Return the parts of all nodes with a mesh of triangles."""
        parts: list[MeshPart] = []
        seen: set[int] = set()
        waiting = [(index, UNMOVED) for index in reversed(self.roots)]
        while waiting:
            index, outer = waiting.pop()
            if index >= len(self.nodes):
                self.document.refuse(f"node {index} of {len(self.nodes)} is not there")
            node = self.nodes[index]
            if index in seen:
                node.refuse("stands at two places of the scene, or within itself")
            seen.add(index)
            placement = _placement(node).inside(outer)
            waiting += [(child, placement) for child in reversed(node.wholes("children"))]
            if "mesh" in node:
                parts += self._part(node, placement)
        if not parts:
            self.document.refuse("no triangles in its scene")
        return tuple(parts)

    def _part(self, node: Fields, placement: Placement) -> list[MeshPart]:
        """Return the part of one node, none if its mesh is points and lines."""
        index = node.whole("mesh")
        if index >= len(self.meshes):
            node.refuse(f"mesh {index} of {len(self.meshes)} is not there")
        if "skin" in node:
            node.refuse("is bent by a skeleton", "export the hull as a plain mesh")
        if "EXT_mesh_gpu_instancing" in node.fields("extensions"):
            node.refuse("is placed by EXT_mesh_gpu_instancing", "export the copies as meshes")
        mesh = self.meshes[index]
        pieces = [
            self._triangles(primitive)
            for primitive in mesh.each("primitives")
            if primitive.whole("mode", _TRIANGLES) not in _POINTS_AND_LINES
        ]
        if not pieces:
            return []
        triangles = placed(np.concatenate(pieces), placement, self.name, node.where)
        title = clean_name(node.text("name") or mesh.text("name"))
        return [MeshPart(name=title, triangles=triangles)]

    def _triangles(self, primitive: Fields) -> FloatArray:
        """Return the triangles of a primitive, shape (t, 3, 3)."""
        if primitive.whole("mode", _TRIANGLES) != _TRIANGLES:
            primitive.refuse("is a strip or fan of triangles", "export plain triangles")
        for extension in primitive.fields("extensions").values:
            if extension in _COMPRESSED:
                _refuse_extension(primitive, extension)
        if "targets" in primitive:
            primitive.refuse("has morph targets", "export the hull as a plain mesh")
        position = primitive.fields("attributes").whole("POSITION")
        given = self.buffers.places(position, primitive)
        check_finite(given, self.name, where=f"{primitive.where}, ")
        vertices = given.astype(np.float64)
        faces = self._faces(primitive, len(vertices))
        self.count += len(faces)
        check_triangle_count(self.count, self.name)
        check_indices(faces, len(vertices), self.name, where=f"{primitive.where}, ")
        return vertices[faces]

    def _faces(self, primitive: Fields, vertex_count: int) -> IntArray:
        """Return the vertex numbers of each triangle of a primitive."""
        if "indices" in primitive:
            corners = self.buffers.indices(primitive.whole("indices"), primitive)
        else:
            corners = np.arange(vertex_count)
        if len(corners) % 3:
            primitive.refuse(f"{len(corners)} corners do not make whole triangles")
        return corners.reshape(-1, 3)


def _placement(node: Fields) -> Placement:
    """Return where a node stands within its parent: a matrix, or scale, rotation, translation."""
    if "matrix" in node:
        identity = np.eye(4).ravel().tolist()
        # Stored column by column, which for row vectors is row by row.
        rows = np.array(node.numbers("matrix", identity)).reshape(4, 4)
        return Placement(linear=rows[:3, :3], offset=rows[3, :3])
    scale = np.array(node.numbers("scale", [1.0, 1.0, 1.0]))
    offset = np.array(node.numbers("translation", [0.0, 0.0, 0.0]))
    linear = np.diag(scale) @ _rotation(node)
    return Placement(linear=linear, offset=offset)


def _rotation(node: Fields) -> FloatArray:
    """Return a node's rotation for row vectors, from its unit quaternion x, y, z, w."""
    given = np.array(node.numbers("rotation", [0.0, 0.0, 0.0, 1.0]))
    # Files store float32, so a unit quaternion is one to about 1e-7; 1e-3 is another thing.
    with np.errstate(over="ignore"):
        length = float(np.linalg.norm(given))
    if abs(length - 1.0) > 1e-3:
        node.refuse(f"its rotation is a quaternion of length {length:g}, not 1")
    x, y, z, w = given / length
    return np.array(
        [
            [1 - 2 * (y * y + z * z), 2 * (x * y + z * w), 2 * (x * z - y * w)],
            [2 * (x * y - z * w), 1 - 2 * (x * x + z * z), 2 * (y * z + x * w)],
            [2 * (x * z + y * w), 2 * (y * z - x * w), 1 - 2 * (x * x + y * y)],
        ]
    )
