"""The text of a table's file, in whatever encoding a spreadsheet saved it."""

import codecs
import os
import re
from typing import Final

from hullcheck.errors import InputError
from hullcheck.files.plain_file import FileKind, plain_bytes

MAX_TABLE_BYTES: Final = 10_000_000
"""10 MB: some hundred times a large ledger, or a sheet saved with all its million blank rows."""
_KIND: Final = FileKind(
    called="CSV file",
    limit_bytes=MAX_TABLE_BYTES,
    too_large="over the limit of {limit} (10 MB); keep nothing but the table in it",
    refusal=InputError,
)

# First bytes of what gets picked instead of a CSV file; each is its format's published magic.
_FOREIGN: Final = (
    (b"PK\x03\x04", "a spreadsheet's own file (xlsx, ods) or another ZIP archive"),
    (b"PK\x05\x06", "an empty ZIP archive"),
    (b"\xd0\xcf\x11\xe0", "a spreadsheet's own file (xls)"),
    (b"%PDF", "a PDF document"),
    (b"{\\rtf", "a word processor's document"),
    (b"\x89PNG", "a PNG picture"),
    (b"\xff\xd8\xff", "a JPEG picture"),
    (b"glTF", "a mesh"),
    (b"ISO-10303-21", "a STEP file"),
)
_MARKUP: Final = re.compile(rb"(?i)(?:\xef\xbb\xbf)?\s*<[?!a-z]")
_MARKS: Final = (
    (codecs.BOM_UTF8, "utf-8", "UTF-8"),
    (codecs.BOM_UTF16_LE, "utf-16", "UTF-16"),
    (codecs.BOM_UTF16_BE, "utf-16", "UTF-16"),
)
_CONTROL: Final = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")
_SAVE: Final = "save the table as CSV (UTF-8) from the spreadsheet"


def table_text(path: str | os.PathLike[str]) -> tuple[str, tuple[tuple[str, str], ...]]:
    """Return the text of a table's file, and what was assumed about its encoding.

    Parameters
    ----------
    path : str or path
        The file. It is only read.

    Returns
    -------
    text : str
        All of it, without a byte-order mark, line ends as they are.
    notes : tuple of (str, str)
        A code and a sentence each.

    Raises
    ------
    MissingFileError
        If there is no such file.
    InputError
        If it is a folder, over 10 MB, or no text.

    Notes
    -----
    A byte-order mark decides: UTF-8, or UTF-16 as of "Unicode text". Without one the text is UTF-8,
    and what is not UTF-8 is taken for Windows-1252, with a note. Text with control characters
    other than tabs and line ends is no table; UTF-16 without its mark is refused by them too.
    """
    name = os.fspath(path)
    data = plain_bytes(name, _KIND)
    looks_like = next((what for magic, what in _FOREIGN if data.startswith(magic)), None)
    if looks_like is None and _MARKUP.match(data[:1024]):
        looks_like = "a web page or another XML document"
    if looks_like is not None:
        raise InputError(f"{name}: looks like {looks_like}, not a CSV file; {_SAVE}")
    text, notes = _decoded(data, name)
    wrong = _CONTROL.search(text)
    if wrong is not None:
        what = f"character {wrong.start() + 1} is 0x{ord(wrong.group()):02X}, which no table holds"
        raise InputError(f"{name}: is not text: {what}; {_SAVE}")
    return text.lstrip("\ufeff"), notes


def _decoded(data: bytes, name: str) -> tuple[str, tuple[tuple[str, str], ...]]:
    """Return the text of bytes by their mark, else as UTF-8, else as Windows-1252 with a note."""
    for mark, codec, kind in _MARKS:
        if data.startswith(mark):
            try:
                return data.decode(codec), ()
            except UnicodeDecodeError as problem:
                what = f"it is marked as {kind}, but byte {problem.start + 1} is none"
                raise InputError(f"{name}: is damaged: {what}; {_SAVE} again") from problem
    try:
        return data.decode("utf-8"), ()
    except UnicodeDecodeError:
        pass
    try:
        text = data.decode("cp1252")
    except UnicodeDecodeError as problem:
        what = f"byte {problem.start + 1} is 0x{data[problem.start]:02X}"
        raise InputError(
            f"{name}: is not text: {what}, which is neither UTF-8 nor Windows-1252; {_SAVE}"
        ) from problem
    sentence = f"{name}: is not UTF-8; read as Windows-1252, so look at letters such as é and ü"
    return text, (("encoding-assumed", sentence),)
