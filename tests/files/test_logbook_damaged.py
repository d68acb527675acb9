"""A logbook that is damaged, foreign, or cannot be written: one clear line, not a byte changed."""

import contextlib
import os
import random
import sqlite3
import stat
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from log_making import add, held

from hullcheck.craft.log_records import Note
from hullcheck.errors import InputError
from hullcheck.files import logbook_store
from hullcheck.files.logbook import logbook_path, read_logbook
from hullcheck.files.logbook_csv import export_csv, import_csv

PAGE = 4096
NOISE = random.Random(3).randbytes(PAGE)  # noqa: S311 - no secret


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    """Return the bytes of a logbook of some ten pages, and its export."""
    folder = tmp_path_factory.mktemp("whole")
    for number in range(30):
        add(folder, Note(text=f"note {number} " + "word " * 200))
    return logbook_path(folder).read_bytes(), export_csv(folder)


def by_hand(*statements):
    """Return a damage done with SQL."""

    def damage(data):
        """Run the statements on a copy."""
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "x.sqlite"
            path.write_bytes(data)
            with contextlib.closing(sqlite3.connect(path, isolation_level=None)) as connection:
                for statement in statements:
                    connection.execute(statement)
            return path.read_bytes()

    return damage


def noise(data):
    """Return a page's worth of noise in the middle."""
    start = len(data) // 2 // PAGE * PAGE
    return data[:start] + NOISE + data[start + PAGE :]


def other_database(data):
    """Return the database of another program."""
    del data
    return by_hand("CREATE TABLE things (name TEXT)")(b"")


DAMAGES = {
    "first bytes": (lambda data: b"X" + data[1:], "no logbook, or its beginning is damaged"),
    "page size": (lambda data: data[:16] + b"\x33\x33" + data[18:], "is damaged"),
    "noise in the middle": (noise, "is damaged"),
    "zeros in the middle": (
        lambda data: data[: 4 * PAGE] + bytes(PAGE) + data[5 * PAGE :],
        "is damaged",
    ),
    "cut at a page": (lambda data: data[: len(data) // 2 // PAGE * PAGE], "is damaged"),
    "cut anywhere": (lambda data: data[: len(data) - 1234], "is damaged"),
    "cut in the header": (lambda data: data[:50], "it ends after 50 bytes"),
    "no bytes": (lambda data: data[:0], "is empty, so what it held is lost"),
    "a text": (lambda data: b"number,at\r\n1,2\r\n" * (len(data) // 16), "no logbook"),
    "another program's": (other_database, "is a database of another program"),
    "a letter": (lambda data: data.replace(b"note 17 word", b"note 71 word"), "entry 18 is not as"),
    "an entry gone": (
        by_hand(
            "DROP TRIGGER no_deletion",
            "DELETE FROM entries WHERE number = 17",
            "CREATE TRIGGER no_deletion BEFORE DELETE ON entries BEGIN SELECT 1; END",
        ),
        "entry 17 is missing",
    ),
    "a trigger gone": (by_hand("DROP TRIGGER no_change"), r"not laid out .* \(no_change\)"),
    "a table more": (by_hand("CREATE TABLE mine (x)"), r"not laid out .* \(mine\)"),
    "newer": (by_hand("PRAGMA user_version = 99"), r"by a newer hullcheck \(layout 99"),
}


@pytest.mark.parametrize("name", DAMAGES)
def test_a_damaged_file_is_refused_and_left_as_it_is(tmp_path, book, name):
    """Reading, writing and importing each say so in one line; nothing is changed or added."""
    damage, message = DAMAGES[name]
    path = logbook_path(tmp_path)
    path.write_bytes(damage(book[0]))
    assert path.read_bytes() != book[0]
    before = held(tmp_path)
    for act in (
        lambda: read_logbook(tmp_path),
        lambda: add(tmp_path, Note(text="x")),
        lambda: import_csv(tmp_path, book[1]),
    ):
        with pytest.raises(InputError, match=message) as refused:
            act()
        assert str(refused.value).startswith(f"{path}: ")
        assert "\n" not in str(refused.value)
        assert held(tmp_path) == before


@pytest.mark.parametrize("seed", range(25))
def test_any_byte_that_counts_is_missed(tmp_path, book, seed):
    """One byte changed anywhere: refused, or the entries read are all those that were written."""
    rng = random.Random(seed)  # noqa: S311 - no secret
    data = bytearray(book[0])
    place = rng.randrange(len(data))
    data[place] ^= 1 << rng.randrange(8)
    path = logbook_path(tmp_path)
    path.write_bytes(data)
    with contextlib.suppress(InputError):
        assert export_csv(tmp_path) == book[1]
    assert held(tmp_path) == {path.name: bytes(data)}


def test_a_folder_and_a_dead_link_in_its_place_are_told(tmp_path):
    """What has the logbook's name and is no file."""
    path = logbook_path(tmp_path)
    path.mkdir()
    with pytest.raises(InputError, match="is a folder, not a logbook"):
        read_logbook(tmp_path)
    path.rmdir()
    path.symlink_to(tmp_path / "nowhere")
    for act in (read_logbook, lambda folder: add(folder, Note(text="x"))):
        with pytest.raises(InputError, match="leads nowhere"):
            act(tmp_path)
    assert not (tmp_path / "nowhere").exists()


def test_a_full_disk_is_told(tmp_path, book, monkeypatch):
    """SQLite finds no room for another page: the file is what it was, and the next try works."""
    path = logbook_path(tmp_path)
    path.write_bytes(book[0])
    connect = logbook_store._connect

    def cramped(path):
        """Connect to a file that may not grow."""
        connection = connect(path)
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.execute(f"PRAGMA max_page_count = {pages}")
        return connection

    monkeypatch.setattr(logbook_store, "_connect", cramped)
    with pytest.raises(
        InputError, match=r"logbook\.sqlite: the disk is full, nothing was recorded"
    ):
        add(tmp_path, Note(text="x" * 100_000))
    assert held(tmp_path) == {path.name: book[0]}
    monkeypatch.undo()
    assert add(tmp_path, Note(text="x" * 100_000)).number == 31


# What a child does under a limit it cannot lift; prints its refusal.
CHILD = """
import os, sys, resource
from datetime import datetime, timezone
from hullcheck.craft.log_records import Note
from hullcheck.errors import InputError
from hullcheck.files.logbook import append, read_logbook
act, folder, limit = sys.argv[1:]
now = datetime.now(timezone.utc)
if limit == "nobody" and os.geteuid() == 0:
    os.setgid(65534)
    os.setuid(65534)
elif limit != "nobody":
    resource.setrlimit(resource.RLIMIT_FSIZE, (int(limit), int(limit)))
try:
    if act == "read":
        print(len(read_logbook(folder).entries))
    else:
        append(folder, Note(text="x" * 20000), at=now, written=now)
        print("written")
except InputError as refused:
    print(refused)
"""


def in_a_child(act, folder, limit):
    """Return what a child under a limit prints."""
    done = subprocess.run(
        [sys.executable, "-c", CHILD, act, str(folder), str(limit)],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parents[2],
    )
    return done.stdout.strip()


@pytest.mark.skipif(os.name != "posix", reason="limits of a process are POSIX's")
def test_no_room_to_write_leaves_no_trace(tmp_path, book):
    """A process that may write no more bytes to any file: refused, for a new logbook and an old."""
    path = logbook_path(tmp_path)
    path.write_bytes(book[0])
    for limit in (0, len(book[0]), len(book[0]) + 5000):
        told = in_a_child("append", tmp_path, limit)
        assert told.startswith(f"{path}: the disk failed, or is full; nothing was recorded")
        assert held(tmp_path) == {path.name: book[0]}
    path.unlink()
    assert "the disk failed, or is full" in in_a_child("append", tmp_path, 3000)
    assert held(tmp_path) == {}


@pytest.fixture
def locked_folder():
    """Return a folder that everybody may read, and remove it again."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o755)
        yield folder
        folder.chmod(0o755)


@pytest.mark.skipif(os.name != "posix", reason="modes of files are POSIX's")
def test_a_read_only_folder_is_told(locked_folder, book):
    """Reading works there; writing is refused, with and without a logbook."""
    path = logbook_path(locked_folder)
    path.write_bytes(book[0])
    path.chmod(0o444)
    locked_folder.chmod(0o555)
    assert in_a_child("read", locked_folder, "nobody") == "30"
    told = in_a_child("append", locked_folder, "nobody")
    assert told.startswith(f"{path}: cannot be written")
    assert held(locked_folder) == {path.name: book[0]}
    locked_folder.chmod(0o755)
    path.unlink()
    locked_folder.chmod(0o555)
    assert in_a_child("read", locked_folder, "nobody") == "0"
    assert in_a_child("append", locked_folder, "nobody").startswith(
        f"{path}: cannot be opened here"
    )
    assert held(locked_folder) == {}


@pytest.mark.skipif(os.name != "posix", reason="modes of files are POSIX's")
def test_a_file_one_may_not_read_is_told(locked_folder, book):
    """Somebody else's logbook."""
    path = logbook_path(locked_folder)
    path.write_bytes(book[0])
    path.chmod(stat.S_IWUSR)
    if os.geteuid() != 0:
        path.chmod(0)
    told = in_a_child("read", locked_folder, "nobody")
    assert told.startswith(f"{path}: cannot be opened (Permission denied)")


def crashed(folder, data, into):
    """Write a logbook as a crash within a transaction leaves it, with its journal."""
    path = logbook_path(folder)
    path.write_bytes(data)
    with contextlib.closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA cache_size = 1")
        connection.execute("BEGIN IMMEDIATE")
        connection.execute(
            "INSERT INTO entries (number, at, written, kind, text, check_sum)"
            " VALUES (31, '', '', 'note', ?, 0)",
            ("y" * 50_000,),
        )
        for name, left in held(folder).items():
            (into / name).write_bytes(left)
        connection.execute("ROLLBACK")


def test_reading_after_a_crash_takes_back_what_was_half_written(tmp_path, book):
    """File and journal as a crash leaves them: all 30 entries, and the file as before the write."""
    (tmp_path / "then").mkdir()
    (tmp_path / "now").mkdir()
    crashed(tmp_path / "then", book[0], tmp_path / "now")
    left = held(tmp_path / "now")
    assert sorted(left) == ["logbook.sqlite", "logbook.sqlite-journal"]
    assert left["logbook.sqlite"] != book[0]
    assert len(read_logbook(tmp_path / "now").entries) == 30
    assert held(tmp_path / "now") == {"logbook.sqlite": book[0]}


@pytest.mark.skipif(os.name != "posix", reason="modes of files are POSIX's")
def test_a_crash_in_a_read_only_folder_is_told(tmp_path, locked_folder, book):
    """What is half written cannot be taken back there: it is said, and never read as whole."""
    crashed(tmp_path, book[0], locked_folder)
    before = held(locked_folder)
    for path in locked_folder.iterdir():
        path.chmod(0o444)
    locked_folder.chmod(0o555)
    told = in_a_child("read", locked_folder, "nobody")
    assert "a crash left an entry half written" in told
    assert held(locked_folder) == before
