"""PLY: text, and binary of either byte order."""

import math
import struct
from array import array
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from hullcheck.errors import MeshFileError
from hullcheck.files.guard import check_finite, check_triangle_count, shown
from hullcheck.files.mesh_file import MeshFile, MeshPart
from hullcheck.files.polygons import CrossedPolygonError, triangulated
from hullcheck.files.text import number_blocks
from hullcheck.geometry.arrays import FloatArray, IntArray

_MAX_HEADER_BYTES: Final = 1 << 16
_MAX_ROW_BYTES: Final = 2**31 - 1
"""numpy's own limit on the size of one row."""

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

_Rows = dict[str, npt.NDArray[Any]]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Property:
    """One property: its type, and the type of its length if it is a list."""

    name: str
    value: np.dtype[Any]
    length: np.dtype[Any] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Element:
    """One kind of row that the header promises."""

    name: str
    count: int
    properties: list[_Property]

    @property
    def shortest_bytes(self) -> int:
        """The size of a row whose lists are empty."""
        return sum((p.length or p.value).itemsize for p in self.properties)


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
    found: dict[str, _Rows] = {}
    for element in elements:
        rows, at = _rows(element, body, at, name)
        if element.name in found:
            raise _refusal(name, f"the header names the element {shown(element.name)} twice")
        found[element.name] = rows
    if body[at:].strip(b"\0 \t\r\n"):
        what = f"longer than its header says by {len(body) - at} bytes"
        raise _refusal(name, f"{what}, all of its elements read")
    vertices = _vertices(found, name)
    part = MeshPart(name="", triangles=_triangles(found, vertices, name))
    return MeshFile(name=name, kind="PLY", parts=(part,))


def _header(data: bytes, name: str) -> tuple[str, list[_Element], int]:
    """Return the byte order, the elements in their order and where the rows start."""
    end = data.find(b"end_header", 0, _MAX_HEADER_BYTES)
    if end < 0:
        raise _refusal(name, "no 'end_header' in the first 64 kB: truncated or no PLY")
    line_end = b"\n" if b"\n" in data[:end] else b"\r"
    start = data.find(line_end, end) + 1
    order = ""
    elements: list[_Element] = []
    for number, raw in enumerate(data[:end].split(line_end), 1):
        line = raw.decode("ascii", "replace")
        words = line.split()
        known = len(words) > 1 and words[0] in ("format", "element", "property")
        if known and words[0] == "format" and words[1] in _FORMATS:
            order = _FORMATS[words[1]]
        elif known and words[0] == "element" and len(words) == 3 and _is_count(words[2]):
            elements.append(_Element(name=words[1], count=int(words[2]), properties=[]))
        elif known and words[0] == "property" and elements and order:
            entry = _property(words, order, name, number)
            if entry.name in (other.name for other in elements[-1].properties):
                raise _refusal(name, f"line {number}: {shown(entry.name)} stands there twice")
            elements[-1].properties.append(entry)
        elif words and words[0] not in ("ply", "comment", "obj_info"):
            raise _refusal(name, f"line {number}: {shown(line)} is no line of a PLY header")
    if not order or start == 0:
        what = "no 'format' line" if start else "nothing after its header: truncated"
        raise _refusal(name, what)
    return order, elements, start


def _is_count(word: str) -> bool:
    """Return whether a word of the header is a number of rows."""
    return word.isascii() and word.isdigit() and len(word) <= 18


def _property(words: list[str], order: str, name: str, number: int) -> _Property:
    """Return the property that a line of the header describes."""
    types = words[2:4] if words[1] == "list" else words[1:2]
    if len(words) != len(types) + (3 if words[1] == "list" else 2) or not set(types) <= set(_TYPES):
        what = f"{shown(' '.join(words))} is no property of a PLY"
        raise _refusal(name, f"line {number}: {what}")
    kinds = [np.dtype("=f8" if order == "=" else order + _TYPES[kind]) for kind in types]
    if len(kinds) == 1:
        return _Property(name=words[-1], value=kinds[0])
    return _Property(name=words[-1], length=kinds[0], value=kinds[1])


def _rows(element: _Element, body: bytes | bytearray, at: int, name: str) -> tuple[_Rows, int]:
    """Return the columns of an element and where the next one starts."""
    needed = element.count * element.shortest_bytes
    if needed > len(body) - at:
        promise = f"{element.count} rows of {shown(element.name)}, at least {needed} bytes"
        what = f"truncated: the header says {promise}, and {len(body) - at} are left"
        raise _refusal(name, what)
    lists = [entry for entry in element.properties if entry.length is not None]
    if not needed:
        return {}, at
    if not lists:
        return _same_sized(element, body, at, {})
    if len(lists) == 1 and (lengths := _first_lengths(element, body, at)) is not None:
        rows, after = _same_sized(element, body, at, lengths)
        # Row by row from the first: if all say the same length, each stood where it was read.
        if rows and (rows[_length_of(lists[0].name)] == lengths[lists[0].name]).all():
            return rows, after
    check_triangle_count(element.count, name)
    return _walked(element, body, at, name)


def _length_of(key: str) -> str:
    """Return the name under which the lengths of a list are kept."""
    return f"{key} length"


def _first_lengths(element: _Element, body: bytes | bytearray, at: int) -> dict[str, int] | None:
    """Return the length of the list in the first row, where it is one to build a row on."""
    for entry in element.properties:
        if entry.length is None:
            at += entry.value.itemsize
            continue
        length = np.frombuffer(body, entry.length, 1, at)[0].item()
        return {entry.name: int(length)} if 0 < length < len(body) and length % 1 == 0 else None
    return None


def _same_sized(
    element: _Element, body: bytes | bytearray, at: int, lengths: dict[str, int]
) -> tuple[_Rows, int]:
    """Return columns where each row is as long as the first, {} where the file is too short."""
    names: list[str] = []
    kinds: list[tuple[str, np.dtype[Any], tuple[int, ...]]] = []
    for entry in element.properties:
        if entry.length is not None:
            kinds.append((f"p{len(kinds)}", entry.length, ()))
            names.append(_length_of(entry.name))
        shape = () if entry.length is None else (lengths[entry.name],)
        kinds.append((f"p{len(kinds)}", entry.value, shape))
        names.append(entry.name)
    row_bytes = sum(kind.itemsize * math.prod(shape) for _, kind, shape in kinds)
    if row_bytes > min(len(body), _MAX_ROW_BYTES):
        return {}, at
    row = np.dtype(kinds)
    after = at + element.count * row.itemsize
    if after > len(body):
        return {}, at
    table = np.frombuffer(body, row, element.count, at)
    return {names[i]: table[f"p{i}"] for i in range(len(names))}, after


def _walked(element: _Element, body: bytes | bytearray, at: int, name: str) -> tuple[_Rows, int]:
    """Return the lists of an element row by row; columns that are no lists are passed over."""
    lists = {p.name: p for p in element.properties if p.length is not None}
    lengths = {key: array("q") for key in lists}
    values = {key: bytearray() for key in lists}
    readers = {k: struct.Struct(_struct_format(p.length)) for k, p in lists.items() if p.length}
    for number in range(1, element.count + 1):
        for entry in element.properties:
            if entry.name not in lists:
                at += entry.value.itemsize
                continue
            reader = readers[entry.name]
            length = reader.unpack_from(body, at)[0] if at + reader.size <= len(body) else -1
            at += reader.size
            if not 0 <= length <= (len(body) - at) // entry.value.itemsize or length % 1:
                what = f"row {number} of {shown(element.name)} runs past the end"
                raise _refusal(name, f"truncated or damaged: {what}")
            stop = at + int(length) * entry.value.itemsize
            lengths[entry.name].append(int(length))
            values[entry.name] += body[at:stop]
            at = stop
        if at > len(body):
            raise _refusal(name, f"truncated in row {number} of {shown(element.name)}")
    rows: _Rows = {}
    for key, entry in lists.items():
        rows[_length_of(key)] = np.array(lengths[key])
        rows[key] = np.frombuffer(values[key], entry.value)
    return rows, at


def _struct_format(kind: np.dtype[Any]) -> str:
    """Return how the standard library unpacks one number of this type."""
    order = "<" if kind.str[0] == "|" else kind.str[0]
    return order + kind.char


def _vertices(found: dict[str, _Rows], name: str) -> FloatArray:
    """Return the vertices, shape (v, 3)."""
    rows = found.get("vertex", {})
    if not {"x", "y", "z"} <= set(rows) or any(_length_of(axis) in rows for axis in "xyz"):
        raise _refusal(name, "no vertices with one x, y and z each")
    # A signaling NaN warns when it is widened; it is refused right after.
    with np.errstate(invalid="ignore"):
        vertices = np.stack([rows[axis].astype(np.float64) for axis in "xyz"], axis=1)
    check_finite(vertices, name)
    return vertices


def _triangles(found: dict[str, _Rows], vertices: FloatArray, name: str) -> FloatArray:
    """Return the faces, cut into triangles, shape (t, 3, 3)."""
    if "tristrips" in found:
        raise _refusal(name, "triangle strips are not read; export faces")
    rows = found.get("face", {})
    key = next((k for k in ("vertex_indices", "vertex_index") if _length_of(k) in rows), None)
    if key is None:
        raise _refusal(name, f"no faces, only {len(vertices)} vertices")
    sizes = rows[_length_of(key)].astype(np.int64)
    if sizes.min() < 3:
        face = int(np.argmin(sizes))
        what = f"face {face + 1} has {sizes[face]} corners, at least 3 wanted"
        raise _refusal(name, what)
    corners = _corner_indices(rows[key].reshape(-1), sizes, len(vertices), name)
    check_triangle_count(int(np.sum(sizes - 2)), name)
    try:
        faces, _ = triangulated(vertices, corners, sizes)
    except CrossedPolygonError as crossed:
        what = f"face {crossed.index + 1} of {sizes[crossed.index]} corners crosses itself"
        raise _refusal(name, what) from crossed
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
        raise _refusal(name, f"{what}, not one of {vertex_count} counted from 0")
    return given.astype(np.int64)


def _refusal(name: str, what: str) -> MeshFileError:
    """Return a refusal."""
    return MeshFileError(f"{name}: {what}; export the mesh again")
