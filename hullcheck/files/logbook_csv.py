"""The logbook as CSV: everything in it, to the last bit, and back."""

import csv
import io
import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from hullcheck.craft.log_kinds import KINDS
from hullcheck.craft.log_records import Entry, Strike
from hullcheck.craft.logbook import Logbook
from hullcheck.errors import InputError
from hullcheck.files.logbook import check_follows, logbook_path, read_logbook
from hullcheck.files.logbook_rows import (
    FLAGS,
    Row,
    Value,
    entry_of,
    must_be_there,
    row_of,
)
from hullcheck.files.logbook_schema import COLUMNS, NUMBERS, WHOLE, WORDS
from hullcheck.files.logbook_store import insert, rows_of, writing

_RISKY: Final = frozenset("=+-@\t\r\n'＝＋－＠")
"""First characters that a spreadsheet runs as a formula, or takes away; and the mark itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Imported:
    """What an import did.

    Attributes
    ----------
    added : tuple of int
        Numbers of the entries that are new.
    skipped : tuple of int
        Numbers of those that were there already, word for word.
    """

    added: tuple[int, ...]
    skipped: tuple[int, ...]


def export_csv(where: str | os.PathLike[str] = ".") -> str:
    """Return a build's logbook as CSV text, a row an entry; `import_csv` restores it exactly.

    Parameters
    ----------
    where : str or path, default "."
        The build's folder, its build sheet (.toml), or the logbook itself (.sqlite).

    Returns
    -------
    str
        Rows end in CR LF (RFC 4180), since a text may hold either. Numbers have all their digits,
        times their zone, names found are a JSON list. A text that a spreadsheet would run as a
        formula has an apostrophe in front, as has one that begins with an apostrophe.

    Raises
    ------
    InputError
        If the logbook cannot be read.
    """
    return csv_of(read_logbook(where))


def csv_of(book: Logbook) -> str:
    """Return a logbook as CSV text, as `export_csv` does."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for entry in book.entries:
        row, always = row_of(entry), must_be_there(type(entry.record))
        writer.writerow([_cell(name, row[name], always) for name in COLUMNS])
    return text.getvalue()


def import_csv(where: str | os.PathLike[str], text: str, *, name: str = "the file") -> Imported:
    """Add the entries of an export to a build's logbook, all of them or none.

    Parameters
    ----------
    where : str or path
        The build's folder, its build sheet (.toml), or the logbook itself (.sqlite).
    text : str
        What `export_csv` gave; line ends must be as they were.
    name : str
        What the text is called in a refusal.

    Returns
    -------
    Imported
        Entries that are there already, word for word, are skipped.

    Raises
    ------
    InputError
        If a row makes no sense, or the logbook has another entry of its number, or one before it
        is missing; nothing was added then.
    """
    entries = _entries(text, name)
    path = logbook_path(where)
    _new(entries, read_logbook(where), name, path)  # refused before a file is made, if at all
    with writing(path) as connection:
        book = Logbook(entries=tuple(entry_of(row) for row in rows_of(connection, path)))
        new = _new(entries, book, name, path)
        for entry in new:
            insert(connection, row_of(entry))
    added = tuple(entry.number for entry in new)
    return Imported(
        added=added, skipped=tuple(e.number for e in entries if e.number not in set(added))
    )


def _new(entries: Sequence[Entry], book: Logbook, name: str, path: Path) -> list[Entry]:
    """Return the entries that a logbook does not have yet; refused if they do not follow on."""
    there = {entry.number: row_of(entry) for entry in book.entries}
    kept, new = list(book.entries), []
    for entry in entries:
        if entry.number in there:
            if row_of(entry) != there[entry.number]:
                raise InputError(
                    f"{name}: entry {entry.number} is another than the one in {path}; nothing was "
                    "imported. Import it into a folder of its own"
                )
            continue
        if entry.number != len(kept) + 1:
            raise InputError(
                f"{name}: entry {entry.number} comes after entry {len(kept)}: those between are "
                "missing; nothing was imported. Take the whole export"
            )
        if isinstance(entry.record, Strike) or entry.finishes is not None:
            check_follows(entry, Logbook(entries=tuple(kept)), path)
        kept.append(entry)
        new.append(entry)
    return new


def _entries(text: str, name: str) -> list[Entry]:
    """Return the entries of a CSV text, by number."""
    entries: dict[int, Entry] = {}
    usual = csv.field_size_limit(max(len(text), 1))
    try:
        reader = csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""), strict=True)
        header = next(reader, [])
        _check_header(header, name)
        for cells in reader:
            if not any(cells):
                continue
            entry = _entry(header, cells, f"{name} line {reader.line_num}")
            if entry.number in entries:
                raise InputError(
                    f"{name} line {reader.line_num}: entry {entry.number} stands there twice; "
                    "take one out"
                )
            entries[entry.number] = entry
    except csv.Error as problem:
        raise InputError(
            f"{name} line {reader.line_num}: {problem}; take the file as hullcheck log export "
            "wrote it"
        ) from problem
    finally:
        csv.field_size_limit(usual)
    return [entries[number] for number in sorted(entries)]


def _check_header(header: Sequence[str], name: str) -> None:
    """Refuse a first line that does not name an export's columns."""
    wrong = [column for column in header if column not in COLUMNS]
    missing = [column for column in ("number", "at", "written", "kind") if column not in header]
    if missing or wrong or len(set(header)) < len(header):
        what = f"no column {missing[0]}" if missing else "columns that are none of its own"
        raise InputError(
            f"{name} line 1: {what}: this is no export of a logbook, or a spreadsheet saved it "
            "with another separator than a comma; take the file as hullcheck log export wrote it"
        )


def _entry(header: Sequence[str], cells: Sequence[str], place: str) -> Entry:
    """Return the entry of a line."""
    if len(cells) != len(header):
        raise InputError(f"{place}: has {len(cells)} cells, the header has {len(header)}")
    texts = dict.fromkeys(COLUMNS, "") | dict(zip(header, cells, strict=True))
    kind = KINDS.get(texts["kind"])
    if kind is None:
        raise InputError(f"{place}, kind: {texts['kind']!r} is none of {', '.join(KINDS)}")
    always = must_be_there(kind)
    try:
        row: Row = {name: _value(name, text, always) for name, text in texts.items()}
        return entry_of(row)
    except InputError as problem:
        raise InputError(f"{place}: {problem}") from problem


def _cell(name: str, value: Value, always: frozenset[str]) -> str:
    """Return the cell of a value; an empty text where none need be there is a lone apostrophe."""
    if value is None:
        return ""
    if name in FLAGS:
        return "yes" if value else "no"
    if isinstance(value, float):
        return repr(value)
    text = str(value)
    lone = not text and name not in always
    return f"'{text}" if lone or text[:1] in _RISKY else text


def _value(name: str, text: str, always: frozenset[str]) -> Value:
    """Return the value of a cell."""
    if name in WORDS and not text and name in always:
        return ""
    if not text:
        return None
    if name in FLAGS:
        if text not in {"yes", "no"}:
            raise InputError(f"{name}: {text!r} is neither yes nor no")
        return int(text == "yes")
    if name in NUMBERS or name in WHOLE or name == "number":
        return _number(name, text)
    return text.removeprefix("'")


def _number(name: str, text: str) -> float | int:
    """Return the number in a cell."""
    try:
        return float(text) if name in NUMBERS else int(text)
    except ValueError as problem:
        raise InputError(f"{name}: {text!r} is not a number, with a decimal point") from problem
