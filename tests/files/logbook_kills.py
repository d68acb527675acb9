"""Kill what writes a logbook, over and over: python tests/files/logbook_kills.py --kills 1000.

Each kill is a SIGKILL of a child that appends entries in a loop and reports each one as soon as it
was told that it is written. Half of them wait until the child stands between BEGIN and COMMIT, the
others come at any time. After each, everything reported must be there, nothing torn, no number
missing. The last line printed is the count, as JSON; it ends with exit code 1 at the first loss.
"""

import argparse
import collections
import contextlib
import json
import mmap
import os
import random
import select
import signal
import sqlite3
import sys
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from hullcheck.craft.log_records import Note
from hullcheck.files import logbook_store
from hullcheck.files.logbook import append, logbook_path, read_logbook

OUTSIDE, INSIDE, COMMITTING = 0, 1, 2
PHASES = ("outside", "between begin and commit", "committing")
KILLS_A_BOOK = 25
HOT_JOURNAL = bytes.fromhex("d9d505f920a163d7")
"""First bytes of a journal that SQLite must roll back (its file format, section 3)."""


def marked(phase, rng):
    """Return a connection class that marks where in a transaction it is, and dawdles there."""

    class Marked(sqlite3.Connection):
        """A connection that says how far it is."""

        def execute(self, sql, *values):
            """Run a statement, the phase told before and after."""
            if sql == "COMMIT":
                until = time.perf_counter() + rng.uniform(0.0, 0.003)
                while time.perf_counter() < until:
                    pass
                phase[0] = COMMITTING
            done = super().execute(sql, *values)
            if sql == "BEGIN IMMEDIATE":
                phase[0] = INSIDE
                # So few pages are held back that entries reach the file before their commit.
                super().execute("PRAGMA cache_size = 1")
            if sql == "COMMIT":
                phase[0] = OUTSIDE
            return done

    return Marked


def write_on(folder, report, phase, seed):
    """Append entries until killed; each is reported once it is said to be written."""
    rng = random.Random(seed)  # noqa: S311 - no secret
    plain, factory = sqlite3.connect, marked(phase, rng)
    logbook_store.sqlite3.connect = lambda *a, **k: plain(*a, **k, factory=factory)
    count = 0
    while True:
        count += 1
        text = f"{seed}.{count} " + "x" * rng.choice((10, 100, 30_000))
        now = datetime.now(UTC)
        entry = append(folder, Note(text=text), at=now, written=now)
        os.write(report, f"{entry.number} {seed}.{count}\n".encode())


def kill_one(folder, phase, seed, rng):
    """Let a child write, kill it, and return what it reported and in which phase it died."""
    phase[0] = OUTSIDE
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        try:
            write_on(folder, writing, phase, seed)
        finally:
            os._exit(3)  # never back into the parent's code
    os.close(writing)
    if rng.random() < 0.7:
        # Not before it has reported an entry, however long its start takes here.
        select.select([reading], [], [], 10.0)
    time.sleep(rng.uniform(0.0, 0.01))
    if rng.random() < 0.5:
        until = time.perf_counter() + 1.0
        while phase[0] != INSIDE and time.perf_counter() < until:
            time.sleep(0.0)
        time.sleep(rng.uniform(0.0, 0.002))
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    if not os.WIFSIGNALED(status):
        raise SystemExit(f"the child of seed {seed} ended by itself")
    with os.fdopen(reading, "rb") as stream:
        # A line that was cut off was not reported.
        lines = stream.read().decode().split("\n")[:-1]
    return [line.split() for line in lines], phase[0]


def check(folder, reported, seed):
    """Refuse a logbook that has lost, torn or left out anything; return how many entries it has."""
    entries = read_logbook(folder).entries
    texts = {entry.number: entry.record.text.split()[0] for entry in entries}
    lost = [number for number, text in reported.items() if texts.get(number) != text]
    if lost or list(texts) != list(range(1, len(texts) + 1)):
        raise SystemExit(f"kill {seed}: reported and not there: {lost}; numbers {list(texts)}")
    if logbook_path(folder).exists():
        with contextlib.closing(sqlite3.connect(logbook_path(folder))) as connection:
            found = connection.execute("PRAGMA integrity_check").fetchone()[0]
        if found != "ok":
            raise SystemExit(f"kill {seed}: {found}")
    return len(entries)


def is_hot(folder):
    """Return whether the crash left a journal that must be rolled back."""
    journal = Path(f"{logbook_path(folder)}-journal")
    return journal.exists() and journal.read_bytes()[:8] == HOT_JOURNAL


def kills(count, first_seed=0):
    """Kill so many writers and return what was counted."""
    rng = random.Random(first_seed)  # noqa: S311 - no secret
    phase = mmap.mmap(-1, 1)
    counted, reported_all, entries_all, hot = collections.Counter(), 0, 0, 0
    started, done = time.perf_counter(), 0
    while done < count:
        with tempfile.TemporaryDirectory() as folder:
            reported, entries = {}, 0
            for seed in range(first_seed + done, first_seed + min(done + KILLS_A_BOOK, count)):
                lines, died = kill_one(folder, phase, seed, rng)
                reported |= {int(number): text for number, text in lines}
                counted[PHASES[died]] += 1
                hot += is_hot(folder)
                entries = check(folder, reported, seed)
                done += 1
            reported_all += len(reported)
            entries_all += entries
    return {
        "kills": done,
        **{name: counted[name] for name in PHASES},
        "journals rolled back": hot,
        "entries reported": reported_all,
        "entries there": entries_all,
        "seconds": round(time.perf_counter() - started, 1),
    }


def main():
    """Run it from the command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--seed", type=int, default=0)
    options = parser.parse_args()
    print(json.dumps(kills(options.kills, options.seed)))  # noqa: T201 - its result


if __name__ == "__main__":
    main()
