"""The logbook: what is written is there, in order; what cannot follow is refused."""

import contextlib
import sqlite3
from datetime import timedelta

import pytest
from log_making import NOON, SETUP, TEST, add, held

from hullcheck.craft.log_records import (
    LeakTest,
    Note,
    Photo,
    Reopening,
    Sealing,
    Strike,
    WeighIn,
)
from hullcheck.craft.logbook import Logbook
from hullcheck.errors import InputError, MissingFileError
from hullcheck.files import logbook_store
from hullcheck.files.logbook import append, logbook_path, read_logbook
from hullcheck.files.photo import photo_of

RECORDS = (
    WeighIn(mass_g=704.6, plus_minus_g=0.1),
    WeighIn(mass_g=1.0 / 3.0, plus_minus_g=0.1, item="battery"),
    Sealing(seam="step joint", material="thin CA", batch="12", cure_h=24.0),
    Reopening(seam="step joint", why="cracked"),
    SETUP,
    TEST,
    Note(text="two\nlines, 15 °C\0", about="canopy edge"),
)


def test_what_is_written_is_there_in_order(tmp_path):
    """Each kind of record comes back equal, numbered from 1, with its times and its picture."""
    photo = Photo(path="a/b.jpg", sha256="0" * 64)
    for record in RECORDS:
        add(tmp_path, record, photo=photo)
    entries = read_logbook(tmp_path).entries
    assert tuple(entry.record for entry in entries) == RECORDS
    assert [entry.number for entry in entries] == list(range(1, len(RECORDS) + 1))
    assert {(e.at, e.written, e.photo) for e in entries} == {(NOON, NOON, photo)}
    assert {entry.at.utcoffset() for entry in entries} == {timedelta(hours=2)}
    assert list(held(tmp_path)) == ["logbook.sqlite"]


def test_reading_makes_no_file_and_changes_none(tmp_path):
    """No file is an empty logbook; one that is there is the same byte for byte afterwards."""
    assert read_logbook(tmp_path) == Logbook()
    assert held(tmp_path) == {}
    add(tmp_path, TEST)
    before = held(tmp_path)
    read_logbook(tmp_path)
    assert held(tmp_path) == before


def test_a_build_sheet_and_the_file_itself_name_the_logbook(tmp_path):
    """Folder, sheet and logbook are three names for one book."""
    add(tmp_path / "build.toml", Note(text="x"))
    assert len(read_logbook(tmp_path).entries) == 1
    assert len(read_logbook(tmp_path / "logbook.sqlite").entries) == 1
    assert logbook_path("a.toml").as_posix() == "logbook.sqlite"


def test_an_odd_folder_name_is_no_obstacle(tmp_path):
    """A folder whose name holds what an address would give meaning to."""
    folder = tmp_path / "what? #1 100% ö"
    folder.mkdir()
    add(folder, Note(text="x"))
    assert len(read_logbook(folder).entries) == 1
    assert list(held(folder)) == ["logbook.sqlite"]


def test_a_struck_entry_stays(tmp_path):
    """Struck out it counts no more, and is there to be read with who struck it and why."""
    add(tmp_path, WeighIn(mass_g=70.0, plus_minus_g=1.0))
    add(tmp_path, Strike(entry=1, why="a digit short"))
    book = read_logbook(tmp_path)
    assert [entry.number for entry in book.entries] == [1, 2]
    assert book.weigh_ins == ()
    assert book.strikes[1].record == Strike(entry=1, why="a digit short")


@pytest.mark.parametrize(
    ("record", "finishes", "message"),
    [
        (Strike(entry=9, why="x"), None, "there is no entry 9 to strike out: its last is entry 6"),
        (Strike(entry=2, why="x"), None, "entry 2 strikes out entry 1 and stays"),
        (Strike(entry=1, why="x"), None, "entry 1 is struck out already, by entry 2"),
        (Note(text="x"), 3, "only a leak test finishes another entry"),
        (TEST, 1, "entry 1 is no started leak test that stands"),
        (TEST, 3, "started in entry 3 was finished in entry 4"),
        (TEST, 5, "entry 5 is no started leak test that stands"),
        (Note(text="\udc80"), None, "holds bytes that are no text"),
    ],
)
def test_what_cannot_follow_is_refused(tmp_path, record, finishes, message):
    """A strike of nothing, of a strike, twice; a test that finishes none: the file is untouched."""
    add(tmp_path, Note(text="x"))
    add(tmp_path, Strike(entry=1, why="wrong"))
    add(tmp_path, SETUP)
    add(tmp_path, TEST, finishes=3)
    add(tmp_path, SETUP)
    add(tmp_path, Strike(entry=5, why="nothing came of it"))
    before = held(tmp_path)
    with pytest.raises(InputError, match=message):
        add(tmp_path, record, finishes=finishes)
    assert held(tmp_path) == before


def test_what_is_refused_makes_no_file(tmp_path):
    """The first entry of a book cannot strike anything out, nor have half a character."""
    for record in (Strike(entry=1, why="x"), Note(text="\udc80")):
        with pytest.raises(InputError):
            add(tmp_path, record)
    assert held(tmp_path) == {}


def test_a_test_may_be_finished_again_once_the_first_finish_is_struck(tmp_path):
    """A wrong reading is mended by striking it and finishing anew."""
    add(tmp_path, SETUP)
    add(tmp_path, TEST, finishes=1)
    add(tmp_path, Strike(entry=2, why="read wrong"))
    assert read_logbook(tmp_path).running_test is not None
    again = LeakTest(setup=SETUP, minutes=30.0, after_g=703.0)
    assert add(tmp_path, again, finishes=1).number == 4
    assert read_logbook(tmp_path).running_test is None


@pytest.mark.parametrize(
    ("statement", "message"),
    [
        ("UPDATE entries SET text = 'y' WHERE number = 1", "never changed"),
        ("DELETE FROM entries WHERE number = 1", "never taken out"),
        ("INSERT OR REPLACE INTO entries SELECT * FROM entries WHERE number = 1", "one after"),
        ("UPDATE OR REPLACE entries SET number = 2 WHERE number = 1", "never changed"),
        (
            (
                "INSERT INTO entries (number, at, written, kind, entry, check_sum) "
                "SELECT 3, '', '', 'strike', 7, 0"
            ),
            "no such entry",
        ),
        (
            (
                "INSERT INTO entries (number, at, written, kind, text, check_sum) "
                "SELECT 4, '', '', 'note', 'x', 0"
            ),
            "one after another",
        ),
        (
            (
                "INSERT INTO entries (number, at, written, kind, mass_g, check_sum) "
                "SELECT 3, '', '', 'weigh', 'heavy', 0"
            ),
            "constraint",
        ),
    ],
)
def test_the_file_itself_refuses_changes(tmp_path, statement, message):
    """Another program cannot change, take out, replace, misnumber or mistype entries."""
    add(tmp_path, Note(text="x"))
    add(tmp_path, Note(text="z"))
    with contextlib.closing(sqlite3.connect(logbook_path(tmp_path))) as connection:
        with pytest.raises(sqlite3.IntegrityError, match=message):
            connection.execute(statement)
        connection.rollback()
    assert len(read_logbook(tmp_path).entries) == 2


def test_no_such_folder_is_told(tmp_path):
    """A folder that is not there is named; it is not made."""
    with pytest.raises(MissingFileError, match="there is no such folder"):
        add(tmp_path / "nowhere", Note(text="x"))
    assert held(tmp_path) == {}


@pytest.mark.parametrize("holding", ["EXCLUSIVE", "IMMEDIATE"])
def test_a_file_that_stays_locked_is_told(tmp_path, monkeypatch, holding):
    """While another program writes and does not finish, an entry is refused and nothing changes."""
    add(tmp_path, Note(text="x"))
    before = held(tmp_path)
    monkeypatch.setattr(logbook_store, "BUSY_S", 0.05)
    with contextlib.closing(sqlite3.connect(logbook_path(tmp_path), isolation_level=None)) as other:
        other.execute(f"BEGIN {holding}")
        with pytest.raises(InputError, match=r"logbook\.sqlite: another program is writing it"):
            add(tmp_path, Note(text="y"))
        other.execute("ROLLBACK")
    assert held(tmp_path) == before


def test_time_without_a_zone_is_refused(tmp_path):
    """A time must say of which clock it is."""
    with pytest.raises(InputError, match="has no time zone"):
        append(tmp_path, Note(text="x"), at=NOON.replace(tzinfo=None), written=NOON)
    assert held(tmp_path) == {}


def test_a_photo_is_kept_by_path_and_hash(tmp_path):
    """Path from the build's folder; SHA-256 of "abc" as FIPS 180-2, appendix B.1 has it."""
    (tmp_path / "pictures").mkdir()
    (tmp_path / "build").mkdir()
    (tmp_path / "pictures" / "a.jpg").write_bytes(b"abc")
    photo = photo_of(tmp_path / "build", tmp_path / "pictures" / "a.jpg")
    assert photo.path == "../pictures/a.jpg"
    assert photo.sha256 == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    with pytest.raises(MissingFileError, match="there is no such picture"):
        photo_of(tmp_path, tmp_path / "b.jpg")
    with pytest.raises(InputError, match="is a folder"):
        photo_of(tmp_path, tmp_path / "pictures")
