"""A 37-point righting curve against direct passes: python tests/benchmarks/righting.py [--quick].

Trim and draft free, 0 to 180° by 5°, on one core; each round has another load. Ratios are what
counts: the seconds are this machine's. --quick leaves out the million triangles.
"""

import argparse
import math
import os
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(Path(__file__).parent), str(ROOT)]
os.environ |= {"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}

import contenders  # noqa: E402 - paths and one thread are set before
import fine_meshes  # noqa: E402
import numpy as np  # noqa: E402
from run import say  # noqa: E402
from timing import alternating, planes  # noqa: E402

from hullcheck.flotation.descent import Descent  # noqa: E402
from hullcheck.flotation.load import Load  # noqa: E402
from hullcheck.flotation.righting_curve import RightingCurve  # noqa: E402
from hullcheck.geometry.moment_tree import MomentTree  # noqa: E402

MASS_G = 690.0
CENTER_MM = np.array([252.0, 0.0, 31.0])
HEELS = [math.radians(5.0 * k) for k in range(37)]
WANTED = 18
"""Direct passes that 37 points may take at a million triangles."""


def measured(parts, rounds):
    """Return one mesh's count, seconds of a pass and of a curve, and the planes of each curve."""
    triangles = fine_meshes.hull(parts)
    tree = MomentTree(triangles)
    rng = np.random.default_rng(11)
    loads = [
        Load(
            mass_g=MASS_G * rng.uniform(0.8, 1.2),
            center_of_gravity_mm=CENTER_MM + rng.uniform(-1, 1, 3) * [8, 1, 5],
            density_kg_m3=1000.0,
        )
        for _ in range(rounds + 1)
    ]
    fresh = planes(triangles, rounds + 1)
    direct = contenders.direct(triangles)
    evaluations = []

    def curve(turn):
        """March one load over all heels."""
        before = tree.evaluations
        points = RightingCurve(Descent(tree, loads[turn]))
        for heel in HEELS:
            points.state(heel)
        evaluations.append(tree.evaluations - before)

    seconds = alternating({"pass": lambda turn: direct(*fresh[turn]), "curve": curve}, rounds)
    return len(triangles), seconds["pass"], seconds["curve"], evaluations


def main():
    """Run it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="no million triangles, fewer rounds")
    options = parser.parse_args()
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})
    rounds = 3 if options.quick else 5
    rows = [measured(parts, rounds) for parts in ([1, 2] if options.quick else [1, 2, 7])]
    say("righting curve, 37 points, trim free", *(f"{row[0]:,}" for row in rows))
    say("  one direct pass [ms]", *(f"{1e3 * row[1]:.1f}" for row in rows))
    say("  the curve [ms]", *(f"{1e3 * row[2]:.0f}" for row in rows))
    say("  planes a point, median", *(f"{np.median(row[3]) / 37:.1f}" for row in rows))
    say(
        f"  in direct passes (wanted at 1e6: {WANTED})", *(f"{row[2] / row[1]:.1f}" for row in rows)
    )


if __name__ == "__main__":
    main()
