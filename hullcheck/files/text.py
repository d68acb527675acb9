"""Numbers and lines out of text files, quickly and strictly."""

import io
import re
import warnings
from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from hullcheck.errors import MeshFileError
from hullcheck.files.guard import shown
from hullcheck.geometry.arrays import FloatArray, IntArray

BLOCK_BYTES: Final = 1 << 22
"""How much text is split into words at a time; words take ten times the room of their text."""

_SPACE: Final = re.compile(rb"\s")


def unix_lines(data: bytes) -> bytes:
    """Return text with lone CR line ends turned into LF and a byte-order mark into a space."""
    if data.startswith(b"\xef\xbb\xbf"):
        data = b"   " + data[3:]
    return data.replace(b"\r", b"\n") if b"\r" in data and b"\n" not in data else data


def line_number(data: bytes, offset: int) -> int:
    """Return the number of the line the byte stands in, the first line being 1."""
    return data.count(b"\n", 0, offset) + 1


def word_lines(data: bytes, name: str) -> Iterator[tuple[int, list[bytes]]]:
    """Yield each line's number and words; # starts a comment, a final backslash joins lines."""
    number, joined = 0, b""
    for number, whole in enumerate(io.BytesIO(unix_lines(data)), 1):
        line = whole
        if len(line) + len(joined) > BLOCK_BYTES:
            msg = f"{name}: line {number} is longer than {BLOCK_BYTES} bytes, no line of a mesh"
            raise MeshFileError(f"{msg}; export the mesh again")
        if b"#" in line:
            line = line[: line.index(b"#")]
        if b"\\" in line and line.rstrip().endswith(b"\\"):
            joined += line.rstrip()[:-1] + b" "
            continue
        words = (joined + line).split() if joined else line.split()
        joined = b""
        if words:
            yield number, words
    if joined.strip():
        yield number, joined.split()


def floats(tokens: Sequence[bytes]) -> FloatArray:
    """Return the float64 nearest to each token, NaN where a token is not a decimal number."""
    values = _parsed_floats(tokens)
    if values is None:
        alone = (_parsed_floats([token]) for token in tokens)
        values = np.array([np.nan if v is None else v[0] for v in alone], dtype=np.float64)
    return values


def places(words: Sequence[bytes], numbers: Sequence[int], done: int, name: str) -> FloatArray:
    """Return vertices, shape (n, 3), from three words each; the lines they stand in are given."""
    values = floats(words)
    wrong = np.flatnonzero(~np.isfinite(values))
    if wrong.size:
        vertex = int(wrong[0]) // 3
        msg = f"{name}: line {numbers[vertex]}: {shown(words[int(wrong[0])])} in vertex"
        msg = f"{msg} {done + vertex + 1} is not a finite number; export the mesh again"
        raise MeshFileError(msg)
    return values.reshape(-1, 3)


def whole_numbers(tokens: Sequence[bytes], *, bad: int) -> IntArray:
    """Return each token as int64, ``bad`` where a token is not a whole number of 18 digits."""
    lengths = [len(token) for token in tokens]
    if lengths and min(lengths) > 0 and max(lengths) <= 18 and b"".join(tokens).isdigit():
        return np.array(list(map(int, tokens)), dtype=np.int64)
    return np.array([_whole_number(token, bad) for token in tokens], dtype=np.int64)


def number_blocks(data: bytes, name: str, *, start: int) -> Iterator[FloatArray]:
    """Yield the numbers of a text of nothing but numbers, block by block; nan passes as one."""
    while start < len(data):
        end = _SPACE.search(data, start + BLOCK_BYTES)
        stop = end.start() if end else len(data)
        tokens = data[start:stop].split()
        values = floats(tokens)
        for i in np.flatnonzero(np.isnan(values)):
            if tokens[i].lower().lstrip(b"+-") != b"nan":
                line = line_number(data, start + word_offset(data[start:stop], int(i)))
                msg = f"{name}: line {line}: {shown(tokens[i])} is not a number"
                raise MeshFileError(f"{msg}; export the mesh again")
        yield values
        start = stop


def word_offset(text: bytes, index: int) -> int:
    """Return where the word with the given number, from 0, begins."""
    return next(m.start() for i, m in enumerate(re.finditer(rb"\S+", text)) if i == index)


def _parsed_floats(tokens: Sequence[bytes]) -> FloatArray | None:
    """Return the tokens as numbers, or None if one of them is not exactly one number."""
    joined = b";".join(tokens)
    if joined.count(b";") != len(tokens) - 1:
        return None
    # An unusual separator makes each token stand for exactly one number: with a blank, "1.5.5"
    # would be two. Older numpy warns where newer raises; the count shows it either way.
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)
        try:
            values = np.fromstring(joined, dtype=np.float64, sep=";")
        except ValueError:
            return None
    return values if values.size == len(tokens) else None


def _whole_number(token: bytes, bad: int) -> int:
    """Return one token as a whole number, or ``bad``."""
    digits = token[1:] if token[:1] in (b"-", b"+") else token
    return int(token) if digits.isdigit() and len(digits) <= 18 else bad
