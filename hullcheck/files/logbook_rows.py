"""Entries of the logbook as rows of plain values, and back."""

import json
import zlib
from collections.abc import Mapping
from dataclasses import fields
from datetime import datetime
from typing import Any, Final

from hullcheck.craft.log_kinds import KINDS, kind_of, values_of
from hullcheck.craft.log_records import (
    Entry,
    LeakTest,
    LeakTestSetup,
    Photo,
    Record,
)
from hullcheck.errors import InputError
from hullcheck.files.logbook_schema import COLUMNS

Value = int | float | str | None
Row = Mapping[str, Value]
"""An entry's values by column; those its kind does not have are None."""

FLAGS: Final = ("running", "aft_of_step", "stream")
"""Columns of yes and no."""
_ALWAYS: Final = ("number", "at", "written", "kind", "finishes", "photo_path", "photo_sha256")


def _hints(kind: type[Record]) -> dict[str, Any]:
    """Return the annotation of each column a kind of record fills, a test's set-up's too."""
    hints = {field.name: field.type for field in fields(kind)}
    if kind is LeakTest:
        del hints["setup"]
        return {**_hints(LeakTestSetup), **hints}
    return hints


_HINTS: Final = {kind: _hints(kind) for kind in KINDS.values()}
_NEEDED: Final = {
    kind: frozenset(name for name, hint in hints.items() if "None" not in str(hint))
    for kind, hints in _HINTS.items()
}


def columns_of(kind: type[Record]) -> tuple[str, ...]:
    """Return the columns that a kind of record fills, in the order of its attributes."""
    return tuple(_HINTS[kind])


def must_be_there(kind: type[Record]) -> frozenset[str]:
    """Return those columns of a kind of record that are never None."""
    return _NEEDED[kind]


def row_of(entry: Entry) -> dict[str, Value]:
    """Return an entry's values by column, in the order of `COLUMNS`.

    Raises
    ------
    InputError
        If a text holds what no text file can: half of a character.
    """
    values: dict[str, Any] = {
        "number": entry.number,
        "at": entry.at.isoformat(),
        "written": entry.written.isoformat(),
        "kind": kind_of(entry.record),
        "finishes": entry.finishes,
        "photo_path": entry.photo and entry.photo.path,
        "photo_sha256": entry.photo and entry.photo.sha256,
    }
    values |= values_of(entry.record)
    return {name: _plain(name, values.get(name)) for name in COLUMNS}


def entry_of(row: Row) -> Entry:
    """Return the entry of a row.

    Raises
    ------
    InputError
        If the row says what no entry can.
    """
    kind = KINDS.get(str(row["kind"]))
    if kind is None:
        raise InputError(f"{row['kind']!r} is no kind of entry: {', '.join(KINDS)}")
    of_kind = columns_of(kind)
    stray = [n for n in COLUMNS if row[n] is not None and n not in of_kind and n not in _ALWAYS]
    if stray:
        raise InputError(f"a {row['kind']} has no {', '.join(stray)}")
    values = {name: _meant(name, row[name]) for name in of_kind}
    try:
        return Entry(
            number=_whole(row["number"]),
            at=datetime.fromisoformat(str(row["at"])),
            written=datetime.fromisoformat(str(row["written"])),
            record=_record(kind, values),
            finishes=None if row["finishes"] is None else _whole(row["finishes"]),
            photo=_photo(row),
        )
    except InputError:
        raise
    except (TypeError, ValueError, AttributeError) as problem:
        raise InputError(f"makes no entry ({problem})") from problem


def check_sum_of(row: Row) -> int:
    """Return the CRC-32 of a row's values, those that are None left out, as JSON.

    A later layout that adds a column leaves the check sums of older entries as they are.
    """
    values = {name: value for name, value in row.items() if value is not None}
    return zlib.crc32(json.dumps(values, sort_keys=True, separators=(",", ":")).encode("ascii"))


def _plain(name: str, value: Any) -> Value:  # noqa: ANN401 - an attribute of any record
    """Return an attribute as the value a row holds."""
    if isinstance(value, bool):
        return int(value)
    if isinstance(value, tuple):
        value = json.dumps(value, ensure_ascii=False)
    if isinstance(value, str):
        try:
            value.encode("utf-8")
        except UnicodeEncodeError as problem:
            raise InputError(
                f"{name}: {value!a} holds bytes that are no text; type it again"
            ) from problem
        return value
    if isinstance(value, float):
        return value + 0.0  # a zero has no sign in the file
    if value is None or name in {"number", "entry", "finishes"}:
        return value if value is None else int(value)
    return float(value)


def _meant(name: str, value: Value) -> Any:  # noqa: ANN401 - an attribute of any record
    """Return a row's value as the attribute it stands for."""
    if value is None:
        return None
    if name in FLAGS:
        if value not in (0, 1):
            raise InputError(f"{name} {value!r}: is neither 0 nor 1")
        return bool(value)
    if name == "found":
        return _names(str(value))
    return value


def _names(text: str) -> tuple[str, ...]:
    """Return the names in a JSON list."""
    try:
        names = json.loads(text)
    except ValueError as problem:
        raise InputError(f"found {text!r}: is no list of names") from problem
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        raise InputError(f"found {text!r}: is no list of names")
    return tuple(names)


def _record(kind: type[Record], values: dict[str, Any]) -> Record:
    """Return a record of a kind; what must be there and is not is refused by name."""
    missing = [name for name in must_be_there(kind) if values[name] is None]
    if missing:
        raise InputError(f"{', '.join(sorted(missing))}: not there")
    if kind is LeakTest:
        names = columns_of(LeakTestSetup)
        setup = LeakTestSetup(**{name: values.pop(name) for name in names})
        return LeakTest(setup=setup, **values)
    return kind(**values)


def _photo(row: Row) -> Photo | None:
    """Return the picture of a row; a path without a hash, or the other way round, is refused."""
    path, sha256 = row["photo_path"], row["photo_sha256"]
    if path is None and sha256 is None:
        return None
    if path is None or sha256 is None:
        raise InputError("photo_path and photo_sha256: only one of them is there")
    return Photo(path=str(path), sha256=str(sha256))


def _whole(value: Value) -> int:
    """Return the number of an entry."""
    if not isinstance(value, int):
        raise InputError(f"{value!r} is no number of an entry")
    return value
