"""The rows of a PLY file, of one size or with lists of many, checked before they are used."""

import math
import struct
from array import array
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from hullcheck.errors import MeshFileError
from hullcheck.files.guard import check_triangle_count, shown

_MAX_ROW_BYTES: Final = 2**31 - 1
"""numpy's own limit on the size of one row."""

Rows = dict[str, npt.NDArray[Any]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Property:
    """One property: its type, and the type of its length if it is a list."""

    name: str
    value: np.dtype[Any]
    length: np.dtype[Any] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Element:
    """One kind of row that the header promises."""

    name: str
    count: int
    properties: list[Property]

    @property
    def shortest_bytes(self) -> int:
        """The size of a row whose lists are empty."""
        return sum((p.length or p.value).itemsize for p in self.properties)


def read_rows(element: Element, body: bytes | bytearray, at: int, name: str) -> tuple[Rows, int]:
    """Return the columns of an element and where the next one starts.

    Parameters
    ----------
    element : Element
        What the header promises.
    body : bytes
        What holds the rows.
    at : int
        Where they start.
    name : str
        The path as given, for messages.

    Returns
    -------
    rows : dict of str to ndarray
        The columns by name; of a list all values in a row, its lengths under `length_of` its name.
        Of an element whose lists are not of one length, the lists alone.
    after : int
        Where they end.

    Raises
    ------
    MeshFileError
        If the rows run past the end, which is checked before room is made for any.
    """
    needed = element.count * element.shortest_bytes
    if needed > len(body) - at:
        promise = f"{element.count} rows of {shown(element.name)}, at least {needed} bytes"
        what = f"truncated: the header says {promise}, and {len(body) - at} are left"
        raise refusal(name, what)
    lists = [entry for entry in element.properties if entry.length is not None]
    if not needed:
        return {}, at
    if not lists:
        return _same_sized(element, body, at, {})
    if len(lists) == 1 and (lengths := _first_lengths(element, body, at)) is not None:
        rows, after = _same_sized(element, body, at, lengths)
        # Row by row from the first: if all say the same length, each stood where it was read.
        if rows and (rows[length_of(lists[0].name)] == lengths[lists[0].name]).all():
            return rows, after
    check_triangle_count(element.count, name)
    return _walked(element, body, at, name)


def length_of(key: str) -> str:
    """Return the name under which the lengths of a list are kept."""
    return f"{key} length"


def _first_lengths(element: Element, body: bytes | bytearray, at: int) -> dict[str, int] | None:
    """Return the length of the list in the first row, where it is one to build a row on."""
    for entry in element.properties:
        if entry.length is None:
            at += entry.value.itemsize
            continue
        length = np.frombuffer(body, entry.length, 1, at)[0].item()
        return {entry.name: int(length)} if 0 < length < len(body) and length % 1 == 0 else None
    return None


def _same_sized(
    element: Element, body: bytes | bytearray, at: int, lengths: dict[str, int]
) -> tuple[Rows, int]:
    """Return columns where each row is as long as the first, {} where the file is too short."""
    names: list[str] = []
    kinds: list[tuple[str, np.dtype[Any], tuple[int, ...]]] = []
    for entry in element.properties:
        if entry.length is not None:
            kinds.append((f"p{len(kinds)}", entry.length, ()))
            names.append(length_of(entry.name))
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


def _walked(element: Element, body: bytes | bytearray, at: int, name: str) -> tuple[Rows, int]:
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
                raise refusal(name, f"truncated or damaged: {what}")
            stop = at + int(length) * entry.value.itemsize
            lengths[entry.name].append(int(length))
            values[entry.name] += body[at:stop]
            at = stop
        if at > len(body):
            raise refusal(name, f"truncated in row {number} of {shown(element.name)}")
    rows: Rows = {}
    for key, entry in lists.items():
        rows[length_of(key)] = np.array(lengths[key])
        rows[key] = np.frombuffer(values[key], entry.value)
    return rows, at


def _struct_format(kind: np.dtype[Any]) -> str:
    """Return how the standard library unpacks one number of this type."""
    order = "<" if kind.str[0] == "|" else kind.str[0]
    return order + kind.char


def refusal(name: str, what: str) -> MeshFileError:
    """Return a refusal."""
    return MeshFileError(f"{name}: {what}; export the mesh again")
