"""Layouts of the logbook: an older file is read as it is, and brought up to date when written."""

import contextlib
import sqlite3

import pytest
from log_making import TEST, add, held

from hullcheck.craft.log_records import Note, Strike
from hullcheck.errors import InputError
from hullcheck.files import logbook_schema
from hullcheck.files.logbook import logbook_path, read_logbook
from hullcheck.files.logbook_schema import (
    APPLICATION_ID,
    COLUMNS,
    NUMBERS,
    STEPS,
    WHOLE,
    WORDS,
    Step,
)
from hullcheck.files.logbook_store import writing

# A made-up next version: a column, and an index.
NEXT = Step(
    statements=(
        "ALTER TABLE entries ADD COLUMN weather TEXT",
        "CREATE INDEX by_kind ON entries (kind)",
    ),
    holds=STEPS[-1].holds | {"by_kind"},
)


def asked(folder, what):
    """Return what SQLite answers about a logbook."""
    with contextlib.closing(sqlite3.connect(logbook_path(folder))) as connection:
        return connection.execute(what).fetchone()[0]


def test_a_new_file_says_what_it_is(tmp_path):
    """Four letters and the version in the header, a rollback journal, nothing left beside it."""
    add(tmp_path, Note(text="x"))
    assert asked(tmp_path, "PRAGMA application_id") == int.from_bytes(b"HULL", "big")
    assert asked(tmp_path, "PRAGMA user_version") == len(STEPS) == 1
    assert asked(tmp_path, "PRAGMA journal_mode") == "delete"
    assert logbook_path(tmp_path).read_bytes()[18:20] == b"\1\1"  # rollback journal, file format


def test_what_is_written_is_on_the_disk(tmp_path):
    """A write asks for a rollback journal and for EXTRA synchronous, 3 in SQLite's manual."""
    with writing(logbook_path(tmp_path)) as connection:
        assert connection.execute("PRAGMA synchronous").fetchone() == (3,)
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("delete",)


def test_every_column_has_one_type():
    """Columns of numbers, whole numbers and texts are apart, and are all there is."""
    fixed = ("number", "at", "written", "kind")
    assert sorted(COLUMNS) == sorted((*fixed, *NUMBERS, *WHOLE, *WORDS))


def test_an_older_file_is_read_as_it_is(tmp_path, monkeypatch):
    """Read with a newer program: every entry, and not a byte of the file changed."""
    add(tmp_path, TEST)
    add(tmp_path, Strike(entry=1, why="wrong"))
    before, book = held(tmp_path), read_logbook(tmp_path)
    monkeypatch.setattr(logbook_schema, "STEPS", (*STEPS, NEXT))
    assert read_logbook(tmp_path) == book
    assert held(tmp_path) == before


def test_an_older_file_is_brought_up_to_date_when_written(tmp_path, monkeypatch):
    """The next entry and the new layout come in one transaction; older entries stay whole."""
    add(tmp_path, TEST)
    book = read_logbook(tmp_path)
    monkeypatch.setattr(logbook_schema, "STEPS", (*STEPS, NEXT))
    add(tmp_path, Note(text="x"))
    assert asked(tmp_path, "PRAGMA user_version") == 2
    assert read_logbook(tmp_path).entries[:1] == book.entries
    monkeypatch.undo()
    with pytest.raises(InputError, match=r"newer hullcheck \(layout 2; this one knows up to 1\)"):
        read_logbook(tmp_path)


def test_version_0_is_brought_up_to_date_too(tmp_path):
    """A made-up file of before version 1: ours by its four letters, and nothing in it."""
    with contextlib.closing(sqlite3.connect(logbook_path(tmp_path))) as connection:
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    before = held(tmp_path)
    assert read_logbook(tmp_path).entries == ()
    assert held(tmp_path) == before
    assert add(tmp_path, Note(text="x")).number == 1
    assert len(read_logbook(tmp_path).entries) == 1


@pytest.mark.parametrize(
    "last", ["SELECT nothing FROM nowhere", "INSERT INTO entries (number) VALUES (1)"]
)
def test_a_step_that_fails_leaves_the_older_file(tmp_path, monkeypatch, last):
    """Half a new layout is none: the file is what it was, and is told."""
    add(tmp_path, TEST)
    before = held(tmp_path)
    broken = Step(statements=(*NEXT.statements, last), holds=NEXT.holds)
    monkeypatch.setattr(logbook_schema, "STEPS", (*STEPS, broken))
    for act in (read_logbook, lambda folder: add(folder, Note(text="x"))):
        with pytest.raises(InputError, match=r"logbook\.sqlite: "):
            act(tmp_path)
        assert held(tmp_path) == before


def test_two_programs_bring_it_up_to_date_once(tmp_path, monkeypatch):
    """The second one finds it done."""
    add(tmp_path, TEST)
    monkeypatch.setattr(logbook_schema, "STEPS", (*STEPS, NEXT))
    assert [add(tmp_path, Note(text="x")).number for _ in range(2)] == [2, 3]
