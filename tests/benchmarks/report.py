"""How long the report takes: python tests/benchmarks/report.py.

On the demo craft, whole processes side by side in turns: `hullcheck report` against the sum of
`hullcheck float`, `righting` and `flood`. Ratios are what counts.
"""

import os
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(Path(__file__).parent), str(ROOT)]

from timing import alternating, process  # noqa: E402 - paths are set before

from hullcheck.files.demo import write_demo  # noqa: E402

ROUNDS = 3
PARTS = ("float", "righting", "flood")
WANTED = 4.0
"""Times the three commands together that the report may take."""


def main():
    """Print medians and the ratio."""
    os.environ["PYTHONPATH"] = os.pathsep.join(
        filter(None, [str(ROOT), os.environ.get("PYTHONPATH")])
    )
    with tempfile.TemporaryDirectory() as folder:
        write_demo(folder)
        page = str(Path(folder) / "report.html")
        commands = {name: ("-m", "hullcheck", name, folder) for name in PARTS}
        commands["report"] = ("-m", "hullcheck", "report", folder, "-o", page)
        medians = alternating(
            {name: process(*command) for name, command in commands.items()}, ROUNDS
        )
        size = Path(page).stat().st_size
    for name, seconds in medians.items():
        print(f"{name:<12}{seconds:>8.2f} s")  # noqa: T201
    ratio = medians["report"] / sum(medians[name] for name in PARTS)
    print(f"report over float + righting + flood: {ratio:.2f} (wanted: {WANTED:g} at most)")  # noqa: T201
    print(f"page: {size / 1000:.0f} kB (wanted: 1000 at most)")  # noqa: T201


if __name__ == "__main__":
    main()
