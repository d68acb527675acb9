"""OFF: counts, vertices, polygons."""

import re
from collections.abc import Iterator
from typing import Final

import numpy as np

from hullcheck.errors import MeshFileError
from hullcheck.files.guard import check_triangle_count, shown
from hullcheck.files.mesh_file import MeshFile, MeshPart
from hullcheck.files.polygons import CrossedPolygonError, triangulated
from hullcheck.files.text import places, whole_numbers, word_lines
from hullcheck.geometry.arrays import FloatArray, IntArray

_HEADER: Final = re.compile(rb"(?:ST)?C?N?OFF$")
_SHORTEST_VERTEX: Final = len(b"0 0 0\n")
_SHORTEST_FACE: Final = len(b"3 0 0 0\n")
_WORDS_AT_A_TIME: Final = 300_000

_Lines = Iterator[tuple[int, list[bytes]]]


def is_off(data: bytes) -> bool:
    """Return whether the first word that is no comment is one of the format's headers."""
    first = next(word_lines(data[:4096], ""), None)
    return first is not None and re.match(rb"(?:ST)?C?N?4?n?OFF$", first[1][0]) is not None


def read_off(data: bytes, name: str) -> MeshFile:
    """Return the one part of an OFF file; the format has no unit and no axes.

    Parameters
    ----------
    data : bytes
        The whole file.
    name : str
        The path as given, for messages.

    Returns
    -------
    MeshFile
        One part, polygons cut into triangles; colors and normals are passed over.

    Raises
    ------
    MeshFileError
        With the line, where the counts or a number are not right.
    """
    lines = word_lines(data, name)
    vertex_count, face_count = _counts(lines, data, name)
    vertices = _vertices(lines, vertex_count, name)
    corners, sizes, numbers = _faces(lines, face_count, vertex_count, name)
    extra = next(lines, None)
    if extra is not None:
        raise _refusal(name, extra[0], f"more lines than {face_count} faces")
    check_triangle_count(int(np.sum(sizes - 2)), name)
    try:
        faces, _ = triangulated(vertices, corners, sizes)
    except CrossedPolygonError as crossed:
        what = f"a face of {sizes[crossed.index]} corners crosses itself"
        refusal = _refusal(name, numbers[crossed.index], what)
        raise refusal from crossed
    part = MeshPart(name="", triangles=vertices[faces])
    return MeshFile(name=name, kind="OFF", parts=(part,))


def _counts(lines: _Lines, data: bytes, name: str) -> tuple[int, int]:
    """Return how many vertices and faces the header promises, if the file can hold them."""
    number, words = next(lines, (1, [b""]))
    if not _HEADER.match(words[0]) or words[1:2] == [b"BINARY"]:
        kind = shown(b" ".join(words[:2]))
        raise _refusal(name, number, f"{kind} is not the header of a text OFF in three dimensions")
    if len(words) == 1:
        number, words = next(lines, (number, []))
        words = [b"OFF", *words]
    counts = whole_numbers([*words[1:3], b"-", b"-"][:2], bad=-1)
    if counts.min() < 0:
        raise _refusal(name, number, "the numbers of vertices and faces are missing")
    vertex_count, face_count = (int(count) for count in counts)
    needed = vertex_count * _SHORTEST_VERTEX + face_count * _SHORTEST_FACE
    if needed > len(data):
        what = f"{vertex_count} vertices and {face_count} faces need {needed} bytes or more"
        raise _refusal(name, number, f"{what}, the file has {len(data)}: truncated")
    if face_count == 0:
        raise _refusal(name, number, "0 faces")
    return vertex_count, face_count


def _vertices(lines: _Lines, count: int, name: str) -> FloatArray:
    """Return the promised vertices, the first three numbers of each line."""
    words: list[bytes] = []
    numbers: list[int] = []
    blocks = [np.empty((0, 3))]
    number = 0
    for done in range(count):
        number, line = next(lines, (number, []))
        if len(line) < 3:
            what = f"vertex {done + 1} of {count} has {len(line)} of 3 numbers"
            raise _refusal(name, number, what)
        words += line[:3]
        numbers.append(number)
        if len(words) >= _WORDS_AT_A_TIME or done == count - 1:
            blocks.append(places(words, numbers, done + 1 - len(numbers), name))
            words, numbers = [], []
    return np.concatenate(blocks)


def _faces(
    lines: _Lines, count: int, vertex_count: int, name: str
) -> tuple[IntArray, IntArray, list[int]]:
    """Return the corners of the promised faces, their sizes and their lines."""
    words: list[bytes] = []
    blocks: list[IntArray] = []
    sizes: list[int] = []
    numbers: list[int] = []
    number = 0
    for done in range(count):
        number, line = next(lines, (number, []))
        size = int(line[0]) if line and line[0].isdigit() and len(line[0]) < 10 else 0
        if size < 3 or len(line) <= size:
            what = f"face {done + 1} of {count} is {shown(b' '.join(line[:9]))}"
            raise _refusal(name, number, f"{what}, not a number of corners from 3 up and as many")
        words += line[1 : size + 1]
        sizes.append(size)
        numbers.append(number)
        if len(words) >= _WORDS_AT_A_TIME or done == count - 1:
            blocks.append(whole_numbers(words, bad=-1))
            words = []
    corners = np.concatenate(blocks)
    wrong = np.flatnonzero((corners < 0) | (corners >= vertex_count))
    if wrong.size:
        face = int(np.searchsorted(np.cumsum(sizes), wrong[0], side="right"))
        what = f"face {face + 1} names vertex {corners[wrong[0]]}"
        raise _refusal(name, numbers[face], f"{what}, not one of {vertex_count} counted from 0")
    return corners, np.array(sizes), numbers


def _refusal(name: str, number: int, what: str) -> MeshFileError:
    """Return a refusal with its line."""
    return MeshFileError(f"{name}: line {number}: {what}; export the mesh again")
