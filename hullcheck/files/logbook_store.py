"""The logbook's file: opened, held to be whole, written in one piece or not at all."""

import contextlib
import os
import secrets
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from hullcheck.errors import HullcheckError, InputError, MissingFileError
from hullcheck.files import logbook_schema as schema
from hullcheck.files.logbook_rows import Row, check_sum_of
from hullcheck.files.logbook_schema import APPLICATION_ID, COLUMNS

BUSY_S: float = 30.0
"""How long a write waits for others that write at the same time [s]."""

_MAGIC: Final = b"SQLite format 3\0"
_HEADER_BYTES: Final = 100
_ID_BYTES: Final = slice(68, 72)
_KEEP: Final = "Move this file away, then bring back a copy, or hullcheck log import an export"

# By the name of SQLite's primary result code; what is wrong, and the next step.
_TOLD: Final = {
    "SQLITE_BUSY": "another program is writing it and does not finish; close that and try again",
    "SQLITE_LOCKED": "another program is writing it and does not finish; close that and try again",
    "SQLITE_FULL": "the disk is full, nothing was recorded; make room and write the entry again",
    "SQLITE_READONLY_ROLLBACK": "a crash left an entry half written, and nothing may be written "
    "here to take it back; allow that, or copy the file together with the -journal beside it",
    "SQLITE_READONLY": "cannot be written, nor can the folder's other files; allow it, or copy the "
    "build to where you may write",
    "SQLITE_CANTOPEN": "cannot be opened here; check the rights of the file and its folder, or "
    "copy the build to where you may write",
    "SQLITE_PERM": "may not be opened; check the rights of the file and its folder",
    "SQLITE_AUTH": "may not be opened; check the rights of the file and its folder",
    "SQLITE_IOERR": "the disk failed, or is full; nothing was recorded: check it, make room, and "
    "write the entry again",
}


@contextlib.contextmanager
def reading(path: Path) -> Iterator[sqlite3.Connection]:
    """Give a logbook that is there, whole and at this program's version, to read from.

    Its file stays as it is: an older version is brought up to date in memory only. Should a crash
    have left a half-written entry behind, SQLite takes that back first.
    """
    with _in_words(path):
        refuse_foreign(path)
        with contextlib.closing(_connect(path)) as connection:
            connection.execute("BEGIN")
            version = _version(connection, path)
            if version == len(schema.STEPS):
                _check_whole(connection, path)
                yield connection
                return
            connection.execute("ROLLBACK")
            with contextlib.closing(sqlite3.connect(":memory:", isolation_level=None)) as newer:
                connection.backup(newer)
                _bring_up(newer, version)
                _check_whole(newer, path)
                yield newer


@contextlib.contextmanager
def writing(path: Path) -> Iterator[sqlite3.Connection]:
    """Give a logbook in a transaction: all of it is on the disk when this ends, or none of it.

    A file that is not there is made first; an older version is brought up to date within the same
    transaction.
    """
    with _in_words(path):
        if not os.path.lexists(path):
            _make(path)
        refuse_foreign(path)
        with contextlib.closing(_connect(path)) as connection:
            connection.execute("PRAGMA journal_mode = DELETE")
            connection.execute("PRAGMA synchronous = EXTRA")
            connection.execute("BEGIN IMMEDIATE")
            try:
                _bring_up(connection, _version(connection, path))
                _check_whole(connection, path)
                yield connection
                connection.execute("COMMIT")
            finally:
                # Where the disk failed SQLite has taken the transaction back already.
                if connection.in_transaction:
                    connection.execute("ROLLBACK")


def rows_of(connection: sqlite3.Connection, path: Path) -> list[Row]:
    """Return all rows by number, each held against its check sum, none missing between them."""
    names = ", ".join(COLUMNS)
    rows: list[Row] = []
    for values in connection.execute(f"SELECT {names}, check_sum FROM entries ORDER BY number"):  # noqa: S608 - the names are the layout's
        row = dict(zip(COLUMNS, values, strict=False))
        if row["number"] != len(rows) + 1:
            raise InputError(f"{path}: is damaged: entry {len(rows) + 1} is missing. {_KEEP}")
        if check_sum_of(row) != values[-1]:
            raise InputError(
                f"{path}: is damaged: entry {row['number']} is not as it was written. {_KEEP}"
            )
        rows.append(row)
    return rows


def insert(connection: sqlite3.Connection, row: Row) -> None:
    """Write a row within a transaction."""
    names = ", ".join((*COLUMNS, "check_sum"))
    marks = ", ".join("?" * (len(COLUMNS) + 1))
    connection.execute(
        f"INSERT INTO entries ({names}) VALUES ({marks})",  # noqa: S608 - the names are the layout's
        (*(row[name] for name in COLUMNS), check_sum_of(row)),
    )


def refuse_foreign(path: Path) -> None:
    """Refuse a file that is no logbook, by its first bytes, before SQLite gets to touch it."""
    if path.is_dir():
        raise InputError(f"{path}: is a folder, not a logbook; move it away")
    if not path.exists():
        raise InputError(f"{path}: leads nowhere: mend or remove the link")
    with path.open("rb") as stream:
        header = stream.read(_HEADER_BYTES)
    if not header:
        raise InputError(f"{path}: is empty, so what it held is lost. {_KEEP}")
    if header[: len(_MAGIC)] != _MAGIC:
        raise InputError(f"{path}: is no logbook, or its beginning is damaged. {_KEEP}")
    if len(header) < _HEADER_BYTES:
        raise InputError(f"{path}: is damaged: it ends after {len(header)} bytes. {_KEEP}")
    if int.from_bytes(header[_ID_BYTES], "big") != APPLICATION_ID:
        raise InputError(
            f"{path}: is a database of another program, or damaged; a logbook of hullcheck has "
            "this name: move the file away"
        )


def _connect(path: Path) -> sqlite3.Connection:
    """Return a connection to a file that is there; transactions are begun and ended by hand.

    Read only would not do for reading: what a crash left half written must be taken back.
    """
    return sqlite3.connect(
        f"{path.absolute().as_uri()}?mode=rw", uri=True, isolation_level=None, timeout=BUSY_S
    )


def _version(connection: sqlite3.Connection, path: Path) -> int:
    """Return the version of a logbook's layout; refused if this program is older."""
    version = int(connection.execute("PRAGMA user_version").fetchone()[0])
    if not 0 <= version <= len(schema.STEPS):
        raise InputError(
            f"{path}: was written by a newer hullcheck (layout {version}; this one knows up to "
            f"{len(schema.STEPS)}); update hullcheck. The file is as it was"
        )
    return version


def _bring_up(connection: sqlite3.Connection, version: int) -> None:
    """Turn an older layout into this program's, step by step."""
    for number in range(version, len(schema.STEPS)):
        for statement in schema.STEPS[number].statements:
            connection.execute(statement)
        connection.execute(f"PRAGMA user_version = {number + 1}")


def _check_whole(connection: sqlite3.Connection, path: Path) -> None:
    """Refuse a file whose pages are damaged, or that is not laid out as it must be."""
    found = connection.execute("PRAGMA quick_check(1)").fetchone()[0]
    if found != "ok":
        raise InputError(f"{path}: is damaged ({' '.join(found.split())}). {_KEEP}")
    names = {name for (name,) in connection.execute("SELECT name FROM sqlite_master")}
    holds = schema.STEPS[-1].holds
    if names != holds:
        wrong = ", ".join(sorted(names ^ holds))
        raise InputError(
            f"{path}: is not laid out as hullcheck does it ({wrong}): another program changed it. "
            f"{_KEEP}"
        )


def _make(path: Path) -> None:
    """Make a logbook without entries, complete on the disk before it gets its name."""
    if not path.parent.is_dir():
        raise MissingFileError(f"{path.parent}: there is no such folder; name the build's folder")
    part = path.with_name(f".{secrets.token_hex(8)}.part")
    try:
        with contextlib.closing(sqlite3.connect(part, isolation_level=None)) as connection:
            connection.execute("PRAGMA synchronous = EXTRA")
            connection.execute("BEGIN IMMEDIATE")
            _bring_up(connection, 0)
            connection.execute("COMMIT")
        _give_name(part, path)
    finally:
        part.unlink(missing_ok=True)
        part.with_name(f"{part.name}-journal").unlink(missing_ok=True)


def _give_name(part: Path, path: Path) -> None:
    """Give a finished file its name, unless another process was quicker, and keep it there."""
    try:
        path.hardlink_to(part)
    except FileExistsError:
        return
    except OSError:
        # No hard links here, as on memory cards: the name was free a moment ago.
        if not os.path.lexists(path):
            part.replace(path)
    if os.name == "posix":
        folder = os.open(path.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


@contextlib.contextmanager
def _in_words(path: Path) -> Iterator[None]:
    """Turn what SQLite and the disk refuse into a line that says what, where and what next."""
    try:
        yield
    except HullcheckError:
        raise
    except sqlite3.Error as problem:
        code = getattr(problem, "sqlite_errorname", "") or ""
        told = next((text for name, text in _TOLD.items() if code.startswith(name)), None)
        if told is None and code.startswith("SQLITE_CONSTRAINT"):
            told = f"the entry was refused, nothing was recorded: {problem}"
        if told is None:
            told = f"is damaged ({problem}). {_KEEP}"
        raise InputError(f"{path}: {told}") from problem
    except OSError as problem:
        why = problem.strerror or str(problem)
        raise InputError(
            f"{path}: cannot be opened ({why}); check the rights of the file and its folder, and "
            "the room left"
        ) from problem
