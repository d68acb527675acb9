"""STL, binary and ASCII."""

import re
from collections.abc import Iterator
from typing import Final

import numpy as np

from hullcheck.errors import MeshFileError
from hullcheck.files.guard import MAX_FILE_BYTES, clean_name, shown
from hullcheck.files.mesh_file import MeshFile, MeshPart
from hullcheck.files.text import BLOCK_BYTES, floats, line_number, unix_lines, word_offset
from hullcheck.geometry.arrays import FloatArray

HEADER_BYTES: Final = 84
FACET: Final = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
"""One triangle of binary STL: 50 bytes."""

_FACET_WORDS: Final = 21
_KEYWORDS: Final = {
    0: b"facet",
    1: b"normal",
    5: b"outer",
    6: b"loop",
    7: b"vertex",
    11: b"vertex",
    15: b"vertex",
    19: b"endloop",
    20: b"endfacet",
}
_COORDINATES: Final = (8, 9, 10, 12, 13, 14, 16, 17, 18)


def is_binary_stl(data: bytes) -> bool:
    """Return whether the size is the one the count in a binary STL header asks for.

    Notes
    -----
    The word "solid" decides nothing, since many programs start binary headers with it. Four
    characters of text read as a count are at least 0x09090909, which asks for 7 GB: no text file
    that is small enough to be read passes by chance.
    """
    if len(data) < HEADER_BYTES:
        return False
    padding = len(data) - _promised_bytes(data)
    return 0 <= padding < FACET.itemsize and not any(data[len(data) - padding :])


def is_ascii_stl(data: bytes) -> bool:
    """Return whether the file starts as an ASCII STL does and has no zero bytes near its start."""
    start = data[: 4 * HEADER_BYTES].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    return start.startswith(b"solid") and b"\0" not in start


def read_stl(data: bytes, name: str) -> MeshFile:
    """Return the parts of an STL file, binary or ASCII; the format has no unit and no axes."""
    if is_ascii_stl(data) and not is_binary_stl(data):
        return read_ascii_stl(data, name)
    return read_binary_stl(data, name)


def read_binary_stl(data: bytes, name: str) -> MeshFile:
    """Return the one part of a binary STL file.

    Parameters
    ----------
    data : bytes
        The whole file.
    name : str
        The path as given, for messages.

    Returns
    -------
    MeshFile
        One part without a name, its float32 coordinates exactly as in the file.

    Raises
    ------
    MeshFileError
        If the size is not the 84 + 50 n bytes that the header's count n asks for (fewer than 50
        zero bytes after it are padding and pass), or a coordinate is not finite.
    """
    if len(data) < HEADER_BYTES:
        msg = f"{name}: {len(data)} bytes, shorter than the {HEADER_BYTES} of a binary STL header"
        raise MeshFileError(f"{msg}; export the mesh again")
    count = int.from_bytes(data[80:84], "little")
    if not is_binary_stl(data):
        promised = _promised_bytes(data)
        wrong = "truncated" if promised > len(data) else "longer than its header says"
        if promised > MAX_FILE_BYTES:
            wrong = "neither ASCII STL, which starts with 'solid', nor whole binary STL"
        msg = f"{name}: {wrong}: the header says {count} triangles = {promised} bytes"
        raise MeshFileError(f"{msg}, the file has {len(data)}; export or copy it again")
    if count == 0:
        raise MeshFileError(f"{name}: a binary STL with 0 triangles; export the mesh again")
    corners = np.frombuffer(data, FACET, count, HEADER_BYTES)["corners"]
    # A signaling NaN warns when it is widened; it is refused right after.
    with np.errstate(invalid="ignore"):
        triangles = corners.astype(np.float64)
    _check_finite(triangles, name)
    triangles.setflags(write=False)
    return MeshFile(name=name, kind="binary STL", parts=(MeshPart(name="", triangles=triangles),))


def read_ascii_stl(data: bytes, name: str) -> MeshFile:
    """Return the parts of an ASCII STL file, one for each ``solid`` block that has triangles.

    Case, indents, blank lines and line ends are free; normals are not read.

    Raises
    ------
    MeshFileError
        With the line, where a word is not the one the format wants or a file breaks off.
    """
    data = unix_lines(data)
    lowered = data.lower()
    parts = []
    for title, start, stop in _solids(data, lowered, name):
        blocks = list(_facet_blocks(lowered, start, stop, name))
        if blocks:
            triangles = np.concatenate(blocks) if len(blocks) > 1 else blocks[0]
            parts.append(MeshPart(name=title, triangles=triangles))
    if not parts:
        raise MeshFileError(f"{name}: an ASCII STL with 0 triangles; export the mesh again")
    return MeshFile(name=name, kind="ASCII STL", parts=tuple(parts))


def _promised_bytes(data: bytes) -> int:
    """Return the size of the file in bytes if the header's count is true."""
    return HEADER_BYTES + FACET.itemsize * int.from_bytes(data[80:84], "little")


def _check_finite(corners: FloatArray, name: str) -> None:
    """Refuse a triangle with a coordinate that is not a finite number, by its number from 1."""
    finite = np.isfinite(corners)
    if not finite.all():
        first = int(np.argmin(finite.all(axis=(1, 2))))
        value = corners[first][~finite[first]][0]
        msg = f"{name}: triangle {first + 1}: a coordinate is {value}, not a finite number"
        raise MeshFileError(f"{msg}; export the mesh again")


def _solids(data: bytes, lowered: bytes, name: str) -> Iterator[tuple[str, int, int]]:
    """Yield the name of each solid and where its facets start and stop."""
    title: str | None = None
    start = at = 0
    while (at := lowered.find(b"solid", at)) >= 0:
        line_start = lowered.rfind(b"\n", 0, at) + 1
        before = lowered[line_start:at].strip()
        end = lowered.find(b"\n", at)
        end = len(data) if end < 0 else end
        word_ends = not lowered[at + 5 : at + 6].strip()
        if before not in (b"", b"end") or not word_ends:
            at += 5
            continue
        if (before == b"end") != (title is not None):
            wanted = "'solid'" if title is None else "'endsolid'"
            raise _misplaced(data, line_start, wanted, name)
        if title is None:
            if lowered[start:line_start].strip():
                raise _misplaced(data, start, "'solid'", name)
            title = clean_name(data[at + 5 : end])
        else:
            yield title, start, line_start
            title = None
        start = at = end
    if title is not None:
        line = line_number(data, len(data.rstrip()))
        msg = f"{name}: truncated: it breaks off at line {line} without 'endsolid'"
        raise MeshFileError(f"{msg}; export or copy it again")
    if data[start:].strip(b" \t\r\n\f\v\0"):
        raise _misplaced(data, start, "'solid'", name)


def _facet_blocks(lowered: bytes, start: int, stop: int, name: str) -> Iterator[FloatArray]:
    """Yield the triangles between two places of the file, some ten thousand at a time."""
    while start < stop:
        cut = stop
        if stop - start > BLOCK_BYTES:
            last = lowered.rfind(b"endfacet", start, start + BLOCK_BYTES)
            if last < 0:
                raise _misplaced(lowered, start, "a facet of less than 4 MB", name)
            cut = last + len(b"endfacet")
        tokens = lowered[start:cut].split()
        if tokens:
            yield _facets(tokens, lowered, start, name)
        start = cut


def _facets(tokens: list[bytes], lowered: bytes, start: int, name: str) -> FloatArray:
    """Return the triangles of a run of whole facets."""
    count, left_over = divmod(len(tokens), _FACET_WORDS)
    if left_over or any(tokens[i::_FACET_WORDS].count(w) != count for i, w in _KEYWORDS.items()):
        raise _wrong_word(tokens, lowered, start, name)
    numbers = [b""] * (9 * count)
    for place, column in enumerate(_COORDINATES):
        numbers[place::9] = tokens[column::_FACET_WORDS]
    values = floats(numbers)
    wrong = np.flatnonzero(~np.isfinite(values))
    if wrong.size:
        facet, place = divmod(int(wrong[0]), 9)
        at = start + word_offset(lowered[start:], facet * _FACET_WORDS + _COORDINATES[place])
        msg = (
            f"{name}: line {line_number(lowered, at)}: {shown(numbers[wrong[0]])} stands where a "
            f"finite coordinate was expected; export the mesh again"
        )
        raise MeshFileError(msg)
    return values.reshape(-1, 3, 3)


def _wrong_word(tokens: list[bytes], lowered: bytes, start: int, name: str) -> MeshFileError:
    """Return the refusal for the first word that is not the one a facet has there."""
    for i, token in enumerate(tokens):
        wanted = _KEYWORDS.get(i % _FACET_WORDS)
        if wanted is not None and token != wanted:
            at = start + word_offset(lowered[start:], i)
            return _misplaced(lowered, at, shown(wanted), name)
    line = line_number(lowered, start + word_offset(lowered[start:], len(tokens) - 1))
    msg = f"{name}: line {line}: the facet breaks off after {shown(tokens[-1])}"
    return MeshFileError(f"{msg}; export or copy the file again")


def _misplaced(data: bytes, at: int, wanted: str, name: str) -> MeshFileError:
    """Return the refusal for a word that stands where another was wanted."""
    word = re.compile(rb"\S+").search(data, at)
    found, place = (shown(word[0]), word.start()) if word else ("the end", len(data))
    line = line_number(data, place)
    msg = f"{name}: line {line}: {found} stands where {wanted} was expected"
    return MeshFileError(f"{msg}; export the mesh again")
