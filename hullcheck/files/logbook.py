"""The logbook beside a build sheet: read, and added to; nothing in it is ever changed."""

import os
from datetime import datetime
from pathlib import Path
from typing import Final

from hullcheck.craft.log_records import Entry, LeakTest, LeakTestSetup, Photo, Record, Strike
from hullcheck.craft.logbook import Logbook
from hullcheck.errors import InputError
from hullcheck.files.logbook_rows import Row, entry_of, row_of
from hullcheck.files.logbook_store import insert, reading, rows_of, writing

LOGBOOK_NAME: Final = "logbook.sqlite"


def logbook_path(where: str | os.PathLike[str] = ".") -> Path:
    """Return where a build's logbook lies.

    Parameters
    ----------
    where : str or path, default "."
        The build's folder, its build sheet (.toml), or the logbook itself (.sqlite).
    """
    path = Path(where)
    if path.suffix.lower() == ".sqlite" and not path.is_dir():
        return path
    is_sheet = path.suffix.lower() == ".toml" and not path.is_dir()
    return (path.parent if is_sheet else path) / LOGBOOK_NAME


def read_logbook(where: str | os.PathLike[str] = ".") -> Logbook:
    """Return a build's logbook; an empty one where there is no file yet.

    Parameters
    ----------
    where : str or path, default "."
        The build's folder, its build sheet (.toml), or the logbook itself (.sqlite).

    Returns
    -------
    Logbook
        All entries, those struck out too, times with the zone they were written in.

    Raises
    ------
    InputError
        If the file is no logbook, is damaged, cannot be opened, or is of a newer hullcheck.

    Notes
    -----
    The file is neither made nor changed, but for one thing: what a crash left half written SQLite
    takes back, so that the file is again what it was before.
    """
    path = logbook_path(where)
    if not os.path.lexists(path):
        return Logbook()
    with reading(path) as connection:
        rows = rows_of(connection, path)
    return Logbook(entries=tuple(_entry(row, path) for row in rows))


def append(
    where: str | os.PathLike[str],
    record: Record,
    *,
    at: datetime,
    written: datetime,
    finishes: int | None = None,
    photo: Photo | None = None,
) -> Entry:
    """Write an entry at the end of a build's logbook; it is on the disk when this returns.

    Parameters
    ----------
    where : str or path
        The build's folder, its build sheet (.toml), or the logbook itself (.sqlite), made if it is
        not there.
    record : WeighIn, Sealing, Reopening, LeakTestSetup, LeakTest, Note or Strike
        What it tells.
    at, written : datetime
        When it happened and when it is written, each with its zone.
    finishes : int, optional
        Of a leak test: the number of the entry that started its clock.
    photo : Photo, optional
        A picture that belongs to it.

    Returns
    -------
    Entry
        With the number it got, one more than the last.

    Raises
    ------
    InputError
        If the record strikes out or finishes what it cannot, or the file cannot be written; the
        file is then what it was before.
    MissingFileError
        If there is no such folder.
    """
    path = logbook_path(where)
    entry = Entry(number=1, at=at, written=written, record=record, finishes=finishes, photo=photo)
    row = row_of(entry)  # refused before a file is made, if at all
    if not os.path.lexists(path):
        check_follows(entry, Logbook(), path)
    with writing(path) as connection:
        rows = rows_of(connection, path)
        row["number"] = len(rows) + 1
        entry = entry_of(row)
        if isinstance(record, Strike) or finishes is not None:
            book = Logbook(entries=tuple(_entry(one, path) for one in rows))
            check_follows(entry, book, path)
        insert(connection, row)
    return entry


def check_follows(entry: Entry, book: Logbook, path: Path) -> None:
    """Refuse an entry that strikes out or finishes what the book before it does not have open."""
    if isinstance(entry.record, Strike):
        check_strikes(entry.record.entry, book, path)
    if entry.finishes is None:
        return
    if not isinstance(entry.record, LeakTest):
        raise InputError(f"{path}: only a leak test finishes another entry; leave finishes out")
    started = dict(book.of(LeakTestSetup))
    if entry.finishes not in {start.number for start in started}:
        raise InputError(f"{path}: entry {entry.finishes} is no started leak test that stands")
    done = {test.finishes: test.number for test, _ in book.tests}
    if entry.finishes in done:
        raise InputError(
            f"{path}: the leak test started in entry {entry.finishes} was finished in entry "
            f"{done[entry.finishes]}; strike that out first if it was wrong"
        )


def check_strikes(number: int, book: Logbook, path: str | os.PathLike[str]) -> None:
    """Refuse to strike out what is not there, what is a strike, and what is struck already."""
    found = next((entry for entry in book.entries if entry.number == number), None)
    if found is None:
        last = len(book.entries)
        holds = f"its last is entry {last}" if last else "it has none yet"
        raise InputError(f"{path}: there is no entry {number} to strike out: {holds}")
    if isinstance(found.record, Strike):
        raise InputError(
            f"{path}: entry {number} strikes out entry {found.record.entry} and stays; write the "
            "entry it struck again instead"
        )
    if number in book.strikes:
        raise InputError(
            f"{path}: entry {number} is struck out already, by entry {book.strikes[number].number}"
        )


def _entry(row: Row, path: Path) -> Entry:
    """Return the entry of a row; one that makes no sense is told by file and number."""
    try:
        return entry_of(row)
    except InputError as problem:
        number = row["number"]
        raise InputError(f"{path}: entry {number}: {problem}") from problem
