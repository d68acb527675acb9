"""The whole of `hullcheck weights` on 60 items against `float`: python tests/benchmarks/weights.py.

The demo's build, each item of its ledger cut in four, both commands in turns as whole processes.
The ratio is what counts: the seconds are this machine's.
"""

import csv
import os
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(Path(__file__).parent), str(ROOT)]
os.environ |= {"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1", "PYTHONPATH": str(ROOT)}

from run import say  # noqa: E402 - paths and one thread are set before
from timing import alternating, process  # noqa: E402

from hullcheck.files.demo import write_demo  # noqa: E402

PIECES = 4
ROUNDS = 7
WANTED = 3.0
"""Times of `float` that `weights` may take."""


def cut_ledger(path):
    """Cut every item of a ledger in four, a little apart; the first keeps its name."""
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, rows[0])
        writer.writeheader()
        for row in rows:
            for piece in range(PIECES):
                masses = {
                    key: float(row[key]) / PIECES if row[key] else ""
                    for key in ("planned_g", "weighed_g")
                }
                name = row["item"] if piece == 0 else f"{row['item']} {piece + 1}"
                place = float(row["x_mm"]) + 3.0 * (piece - 1.5)
                writer.writerow({**row, **masses, "item": name, "x_mm": place})
    return PIECES * len(rows)


def main():
    """Time both commands and print their ratio."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "boat"
        write_demo(folder)
        count = cut_ledger(folder / "weights.csv")
        jobs = {
            command: process("-m", "hullcheck", command, folder) for command in ("float", "weights")
        }
        seconds = alternating(jobs, ROUNDS)
    say(f"{count} items", "s", "× float")
    for command, spent in seconds.items():
        say(command, f"{spent:.2f}", f"{spent / seconds['float']:.2f}")
    say("wanted", "", f"< {WANTED:g}")


if __name__ == "__main__":
    main()
