"""How quick an entry is: python tests/benchmarks/logbook.py.

`hullcheck log show` and `hullcheck log note`, whole processes, against one that imports click and
sqlite3 and does nothing; and the two with a thousand entries in the book. Ratios are what counts.
"""

import os
import sys
import tempfile
from datetime import UTC, datetime
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(Path(__file__).parent), str(ROOT)]

from timing import alternating, process  # noqa: E402 - paths are set before

from hullcheck.craft.log_records import Note  # noqa: E402
from hullcheck.files.logbook import read_logbook  # noqa: E402
from hullcheck.files.logbook_csv import csv_of, import_csv  # noqa: E402

ROUNDS = 21
SHEET = '[[seam]]\nname = "step joint"\n[limits]\nleak_g_per_30min = 1.0\n'


def filled(folder, count):
    """Write a sheet and so many notes into a folder."""
    from hullcheck.craft.log_records import Entry
    from hullcheck.craft.logbook import Logbook

    (Path(folder) / "build.toml").write_text(SHEET, encoding="utf-8")
    now = datetime.now(UTC)
    notes = [
        Entry(number=n, at=now, written=now, record=Note(text=f"note {n}, of usual length"))
        for n in range(1, count + 1)
    ]
    import_csv(folder, csv_of(Logbook(entries=tuple(notes))))
    assert len(read_logbook(folder).entries) == count


def main():
    """Print medians and ratios."""
    os.environ["PYTHONPATH"] = os.pathsep.join(
        filter(None, [str(ROOT), os.environ.get("PYTHONPATH")])
    )
    with tempfile.TemporaryDirectory() as few, tempfile.TemporaryDirectory() as many:
        filled(few, 20)
        filled(many, 1000)
        log = ("-m", "hullcheck", "log")
        medians = alternating(
            {
                "import click, sqlite3": process("-c", "import click, sqlite3"),
                "log show, 20 entries": process(*log, "show", "--build", few),
                "log note, 20 entries": process(*log, "note", "wet again", "--build", few),
                "log show, 1000 entries": process(*log, "show", "--build", many),
                "log note, 1000 entries": process(*log, "note", "wet again", "--build", many),
            },
            ROUNDS,
        )
    base = medians["import click, sqlite3"]
    for name, seconds in medians.items():
        print(f"{name:<26}{1e3 * seconds:>8.0f} ms{seconds / base:>8.2f} x")  # noqa: T201 - its result


if __name__ == "__main__":
    main()
