"""PLY: text, and binary of either byte order."""

import re
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from hullcheck.files.guard import check_finite, check_triangle_count, shown
from hullcheck.files.mesh_file import MeshFile, MeshPart
from hullcheck.files.ply_rows import Element, Property, Rows, length_of, read_rows, refusal
from hullcheck.files.polygons import CrossedPolygonError, triangulated
from hullcheck.files.text import number_blocks
from hullcheck.geometry.arrays import FloatArray, IntArray

_MAX_HEADER_BYTES: Final = 1 << 16

_TYPES: Final = {
    **dict.fromkeys(("char", "int8"), "i1"),
    **dict.fromkeys(("uchar", "uint8"), "u1"),
    **dict.fromkeys(("short", "int16"), "i2"),
    **dict.fromkeys(("ushort", "uint16"), "u2"),
    **dict.fromkeys(("int", "int32"), "i4"),
    **dict.fromkeys(("uint", "uint32"), "u4"),
    **dict.fromkeys(("float", "float32"), "f4"),
    **dict.fromkeys(("double", "float64"), "f8"),
}
_FORMATS: Final = {"ascii": "=", "binary_little_endian": "<", "binary_big_endian": ">"}


def is_ply(data: bytes) -> bool:
    """Return whether the file starts with the format's first line."""
    return data.startswith((b"ply\n", b"ply\r"))


def read_ply(data: bytes, name: str) -> MeshFile:
    """Return the one part of a PLY file; the format has no unit and no axes.

    Parameters
    ----------
    data : bytes
        The whole file.
    name : str
        The path as given, for messages.

    Returns
    -------
    MeshFile
        One part, polygons cut into triangles; other elements and properties are passed over.

    Raises
    ------
    MeshFileError
        Where the header promises what the file does not hold, or a face what no vertex is.
    """
    order, elements, at = _header(data, name)
    body: bytes | bytearray = data
    if order == "=":
        # As numbers of one type, a text is read by what reads the binary kinds.
        body = bytearray()
        for block in number_blocks(data, name, start=at):
            body += block.tobytes()
        at = 0
    found: dict[str, Rows] = {}
    for element in elements:
        rows, at = read_rows(element, body, at, name)
        if element.name in found:
            raise refusal(name, f"the header names the element {shown(element.name)} twice")
        found[element.name] = rows
    if body[at:].strip(b"\0 \t\r\n"):
        what = f"longer than its header says by {len(body) - at} bytes"
        raise refusal(name, f"{what}, all of its elements read")
    vertices = _vertices(found, name)
    part = MeshPart(name="", triangles=_triangles(found, vertices, name))
    return MeshFile(name=name, kind="PLY", parts=(part,))


def _header(data: bytes, name: str) -> tuple[str, list[Element], int]:
    """Return the byte order, the elements in their order and where the rows start."""
    last = re.search(rb"[\r\n]end_header", data[:_MAX_HEADER_BYTES])
    if last is None:
        raise refusal(name, "no 'end_header' in the first 64 kB: truncated or no PLY")
    end = last.start() + 1
    line_end = b"\n" if b"\n" in data[:end] else b"\r"
    start = data.find(line_end, end) + 1
    order = ""
    elements: list[Element] = []
    for number, raw in enumerate(data[:end].split(line_end), 1):
        line = raw.decode("ascii", "replace")
        words = line.split()
        known = len(words) > 1 and words[0] in ("format", "element", "property")
        if known and words[0] == "format" and words[1] in _FORMATS:
            order = _FORMATS[words[1]]
        elif known and words[0] == "element" and len(words) == 3 and _is_count(words[2]):
            elements.append(Element(name=words[1], count=int(words[2]), properties=[]))
        elif known and words[0] == "property" and elements and order:
            entry = _property(words, order, name, number)
            if entry.name in (other.name for other in elements[-1].properties):
                raise refusal(name, f"line {number}: {shown(entry.name)} stands there twice")
            elements[-1].properties.append(entry)
        elif words and words[0] not in ("ply", "comment", "obj_info"):
            raise refusal(name, f"line {number}: {shown(line)} is no line of a PLY header")
    if not order or start == 0:
        what = "no 'format' line" if start else "nothing after its header: truncated"
        raise refusal(name, what)
    return order, elements, start


def _is_count(word: str) -> bool:
    """Return whether a word of the header is a number of rows."""
    return word.isascii() and word.isdigit() and len(word) <= 18


def _property(words: list[str], order: str, name: str, number: int) -> Property:
    """Return the property that a line of the header describes."""
    types = words[2:4] if words[1] == "list" else words[1:2]
    if len(words) != len(types) + (3 if words[1] == "list" else 2) or not set(types) <= set(_TYPES):
        what = f"{shown(' '.join(words))} is no property of a PLY"
        raise refusal(name, f"line {number}: {what}")
    kinds = [np.dtype("=f8" if order == "=" else order + _TYPES[kind]) for kind in types]
    if len(kinds) == 1:
        return Property(name=words[-1], value=kinds[0])
    return Property(name=words[-1], length=kinds[0], value=kinds[1])


def _vertices(found: dict[str, Rows], name: str) -> FloatArray:
    """Return the vertices, shape (v, 3)."""
    rows = found.get("vertex", {})
    if not {"x", "y", "z"} <= set(rows) or any(length_of(axis) in rows for axis in "xyz"):
        raise refusal(name, "no vertices with one x, y and z each")
    # A signaling NaN warns when it is widened; it is refused right after.
    with np.errstate(invalid="ignore"):
        vertices = np.stack([rows[axis].astype(np.float64) for axis in "xyz"], axis=1)
    check_finite(vertices, name)
    return vertices


def _triangles(found: dict[str, Rows], vertices: FloatArray, name: str) -> FloatArray:
    """Return the faces, cut into triangles, shape (t, 3, 3)."""
    if "tristrips" in found:
        raise refusal(name, "triangle strips are not read; export faces")
    rows = found.get("face", {})
    key = next((k for k in ("vertex_indices", "vertex_index") if length_of(k) in rows), None)
    if key is None:
        raise refusal(name, f"no faces, only {len(vertices)} vertices")
    sizes = rows[length_of(key)].astype(np.int64)
    if sizes.min() < 3:
        face = int(np.argmin(sizes))
        what = f"face {face + 1} has {sizes[face]} corners, at least 3 wanted"
        raise refusal(name, what)
    corners = _corner_indices(rows[key].reshape(-1), sizes, len(vertices), name)
    check_triangle_count(int(np.sum(sizes - 2)), name)
    try:
        faces, _ = triangulated(vertices, corners, sizes)
    except CrossedPolygonError as crossed:
        what = f"face {crossed.index + 1} of {sizes[crossed.index]} corners crosses itself"
        raise refusal(name, what) from crossed
    return vertices[faces]


def _corner_indices(
    given: npt.NDArray[Any], sizes: IntArray, vertex_count: int, name: str
) -> IntArray:
    """Return the vertex numbers of all corners; every one is a vertex."""
    wrong = ~((given >= 0) & (given < vertex_count) & (np.floor(given) == given))
    if wrong.any():
        first = int(np.argmax(wrong))
        face = int(np.searchsorted(np.cumsum(sizes), first, side="right"))
        what = f"face {face + 1} names vertex {given[first]:.15g}"
        raise refusal(name, f"{what}, not one of {vertex_count} counted from 0")
    return given.astype(np.int64)
