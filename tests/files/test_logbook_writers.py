"""Eight processes that write one logbook at once."""

import subprocess
import sys
from pathlib import Path

from hullcheck.craft.log_records import Note
from hullcheck.files.logbook import read_logbook

WRITERS, EACH = 8, 12
WRITER = """
import sys, time
from datetime import datetime, timezone
from pathlib import Path
from hullcheck.craft.log_records import Note
from hullcheck.files.logbook import append
folder, name, count = sys.argv[1:]
Path(folder, name).touch()
while not Path(folder, "go").exists():
    time.sleep(0.001)
for number in range(int(count)):
    now = datetime.now(timezone.utc)
    print(append(folder, Note(text=f"{name} {number}"), at=now, written=now).number)
"""


def test_eight_processes_at_once_lose_nothing(tmp_path):
    """All start at one signal with no file there: every entry is in, numbered without a gap.

    What each was told as its numbers is where its entries are, in the order it wrote them.
    """
    writers = [
        subprocess.Popen(
            [sys.executable, "-c", WRITER, str(tmp_path), f"writer{n}", str(EACH)],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            cwd=Path(__file__).parents[2],
        )
        for n in range(WRITERS)
    ]
    while not all((tmp_path / f"writer{n}").exists() for n in range(WRITERS)):
        assert all(writer.poll() is None for writer in writers)
    (tmp_path / "go").touch()
    told = [writer.communicate(timeout=60) for writer in writers]
    assert [errors for _, errors in told] == [""] * WRITERS
    entries = read_logbook(tmp_path).entries
    assert [entry.number for entry in entries] == list(range(1, WRITERS * EACH + 1))
    for n, (output, _) in enumerate(told):
        numbers = [int(line) for line in output.split()]
        assert numbers == sorted(numbers)
        assert [entries[number - 1].record for number in numbers] == [
            Note(text=f"writer{n} {count}") for count in range(EACH)
        ]
    others = [
        path.name for path in tmp_path.iterdir() if "logbook" in path.name or ".part" in path.name
    ]
    assert others == ["logbook.sqlite"]
