"""Wavefront OBJ: polygons and the names of objects or groups; nothing else is opened or used."""

import re
from typing import Final

import numpy as np

from hullcheck.errors import MeshFileError
from hullcheck.files.guard import check_triangle_count, clean_name, shown
from hullcheck.files.mesh_file import MeshFile, MeshPart
from hullcheck.files.polygons import CrossedPolygonError, triangulated
from hullcheck.files.text import places, unix_lines, whole_numbers, word_lines
from hullcheck.geometry.arrays import FloatArray, IntArray

_IGNORED: Final = frozenset(
    b"vn vt vp l p s mtllib usemtl usemap maplib lod bevel c_interp d_interp mg "
    b"shadow_obj trace_obj".split()
)
_VERTEX: Final = re.compile(rb"(?m)^[ \t]*v(?:[ \t]+[-+.0-9][-+.0-9eE]*){3}")
_WORDS_AT_A_TIME: Final = 300_000


def is_obj(data: bytes) -> bool:
    """Return whether a line near the start of the file is an OBJ vertex."""
    return _VERTEX.search(unix_lines(data[:65536])) is not None


def read_obj(data: bytes, name: str) -> MeshFile:
    """Return the parts of an OBJ file; the format has no unit and no axes.

    Parameters
    ----------
    data : bytes
        The whole file.
    name : str
        The path as given, for messages.

    Returns
    -------
    MeshFile
        One part for each name of ``o`` statements, or of ``g`` statements in a file without ``o``;
        faces under one name are one part, in the order of the file. Polygons are cut into
        triangles. A part may be an open patch: some programs write a group for each material.

    Raises
    ------
    MeshFileError
        With the line, for a statement, number or vertex that is not right.

    Notes
    -----
    Materials (``mtllib``, ``usemtl``), normals, texture places, lines, points and the fourth and
    later numbers of a vertex are passed over; no other file is opened. Statements that bring in
    other files or commands (``call``, ``csh``) and free-form surfaces are refused.
    """
    reading = _Reading(name)
    for number, words in word_lines(data, name):
        reading.take(number, words)
    return reading.result()


class _Reading:
    """The state of one pass over the lines."""

    def __init__(self, name: str) -> None:
        """Start with nothing read."""
        self.name = name
        self.vertex_words: list[bytes] = []
        self.vertex_lines: list[int] = []
        self.vertex_blocks: list[FloatArray] = []
        self.vertex_count = 0
        self.face_words: list[bytes] = []
        self.face_blocks: list[IntArray] = []
        self.sizes: list[int] = []
        self.lines: list[int] = []
        self.seen: list[int] = []
        self.objects: list[tuple[int, str]] = []
        self.groups: list[tuple[int, str]] = []

    def take(self, number: int, words: list[bytes]) -> None:
        """Take in one line."""
        key = words[0]
        if key == b"v":
            self._take_vertex(number, words)
        elif key == b"f":
            self._take_face(number, words)
        elif key in (b"o", b"g"):
            marks = self.objects if key == b"o" else self.groups
            marks.append((len(self.sizes), clean_name(b" ".join(words[1:]))))
        elif key not in _IGNORED:
            raise self._refusal(number, f"{shown(key)} is no statement of a polygon mesh")

    def _take_vertex(self, number: int, words: list[bytes]) -> None:
        """Take in three coordinates."""
        if len(words) < 4:
            raise self._refusal(number, f"a vertex with {len(words) - 1} of 3 coordinates")
        self.vertex_words += words[1:4]
        self.vertex_lines.append(number)
        self.vertex_count += 1
        if len(self.vertex_words) >= _WORDS_AT_A_TIME:
            self._convert()

    def _take_face(self, number: int, words: list[bytes]) -> None:
        """Take in one polygon: the first of each corner's numbers v, v/vt, v//vn or v/vt/vn."""
        if len(words) < 4:
            raise self._refusal(number, f"a face with {len(words) - 1} corners, at least 3 wanted")
        self.face_words += [word.partition(b"/")[0] for word in words[1:]]
        self.sizes.append(len(words) - 1)
        self.lines.append(number)
        self.seen.append(self.vertex_count)
        if len(self.face_words) >= _WORDS_AT_A_TIME:
            self._convert()

    def _convert(self) -> None:
        """Turn the words taken in so far into numbers."""
        if self.vertex_words:
            done = self.vertex_count - len(self.vertex_lines)
            block = places(self.vertex_words, self.vertex_lines, done, self.name)
            self.vertex_blocks.append(block)
        if self.face_words:
            # OBJ counts from 1, so 0 is never a vertex.
            self.face_blocks.append(whole_numbers(self.face_words, bad=0))
        self.vertex_words, self.vertex_lines, self.face_words = [], [], []
        check_triangle_count(len(self.sizes), self.name)

    def result(self) -> MeshFile:
        """Return what was read."""
        self._convert()
        if not self.sizes:
            msg = f"{self.name}: an OBJ file without faces ({self.vertex_count} vertices)"
            raise MeshFileError(f"{msg}; export the hull as a mesh")
        vertices = np.concatenate([np.empty((0, 3)), *self.vertex_blocks])
        sizes = np.array(self.sizes)
        corners = self._corner_indices(np.concatenate(self.face_blocks), sizes)
        check_triangle_count(int(np.sum(sizes - 2)), self.name)
        try:
            faces, owners = triangulated(vertices, corners, sizes)
        except CrossedPolygonError as crossed:
            what = f"a face of {sizes[crossed.index]} corners crosses itself"
            refusal = self._refusal(self.lines[crossed.index], what)
            raise refusal from crossed
        parts = tuple(
            MeshPart(name=title, triangles=vertices[faces[chosen[owners]]])
            for title, chosen in self._parts(len(sizes))
        )
        return MeshFile(name=self.name, kind="OBJ", parts=parts)

    def _corner_indices(self, given: IntArray, sizes: IntArray) -> IntArray:
        """Return vertex numbers from 0; negative ones in the file count back from their line."""
        seen = np.repeat(np.array(self.seen), sizes)
        corners = np.where(given > 0, given - 1, seen + given)
        wrong = np.flatnonzero((given == 0) | (corners < 0) | (corners >= self.vertex_count))
        if wrong.size:
            face = int(np.searchsorted(np.cumsum(sizes), wrong[0], side="right"))
            what = f"vertex {given[wrong[0]]} of {self.vertex_count}"
            if given[wrong[0]] == 0:
                what = "a corner that is not a whole number from 1 up, or from -1 down"
            raise self._refusal(self.lines[face], f"the face names {what}")
        return corners

    def _parts(self, count: int) -> list[tuple[str, np.ndarray[tuple[int], np.dtype[np.bool_]]]]:
        """Return each part's name and which of the faces are its own."""
        marks = [(0, ""), *(self.objects or self.groups)]
        names = list(dict.fromkeys(title for _, title in marks))
        number = {title: i for i, title in enumerate(names)}
        starts = np.array([start for start, _ in marks] + [count])
        part = np.repeat([number[title] for _, title in marks], np.diff(starts))
        return [(title, part == i) for title, i in number.items() if (part == i).any()]

    def _refusal(self, number: int, what: str) -> MeshFileError:
        """Return a refusal with its line."""
        return MeshFileError(f"{self.name}: line {number}: {what}; export the mesh again")
