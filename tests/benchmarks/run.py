"""How fast, against others, in one run: python tests/benchmarks/run.py [--quick] [--large].

Everything runs on one core and in turns, and every plane is new. --quick leaves out the million
triangles; --large adds five million (8 GB of memory). Ratios are what counts: the seconds are this
machine's.
"""

import argparse
import json
import os
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(Path(__file__).parent), str(ROOT)]
os.environ |= {"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}

import contenders  # noqa: E402 - paths and one thread are set before
import fine_meshes  # noqa: E402
import numpy as np  # noqa: E402
from timing import alternating, exponent, planes, process  # noqa: E402

from hullcheck.flotation.floating import float_at  # noqa: E402
from hullcheck.geometry.moment_tree import MomentTree  # noqa: E402
from hullcheck.geometry.shells import outer_shells  # noqa: E402
from hullcheck.geometry.skin import Skin  # noqa: E402

OTHERS = {
    "direct pass": contenders.direct,
    "trimesh cap": contenders.trimesh_cap,
    "VTK clip": contenders.vtk_clip,
    "manifold3d": contenders.manifold_trim,
}
CENTER_MM = np.array([252.0, 0.0, 31.0])
MASS_G = 690.0
LOAD = ("--mass", "690", "--cg", "252,0,31", "--unit", "mm", "--forward", "-x", "--up", "+z")
SLICE_ONCE = """
import sys, trimesh
mesh = trimesh.load_mesh(sys.argv[1])
print(mesh.slice_plane([0, 0, 30], [0, 0, -1], cap=True).volume)
"""


def say(*cells):
    """Print one row of a table."""
    first, *rest = cells
    print(f"{first:<44}" + "".join(f"{cell:>14}" for cell in rest), flush=True)  # noqa: T201


def measured(parts, rounds):
    """Return one mesh's count, seconds and departures by name, build time and bytes of the tree."""
    triangles = fine_meshes.hull(parts)
    moments = MomentTree(triangles)
    evaluate = {"moment tree": contenders.evaluation_of(moments)}
    for name, make in OTHERS.items():
        if len(triangles) < 2e6 or name == "direct pass":
            evaluate[name] = make(triangles)
    reference = evaluate["direct pass"]
    departures = {
        name: max(abs(job(*cut) / reference(*cut) - 1.0) for cut in planes(triangles, 3, seed=5))
        for name, job in evaluate.items()
    }
    fresh = planes(triangles, rounds + 1)
    jobs = {name: lambda turn, job=job: job(*fresh[turn]) for name, job in evaluate.items()}
    jobs["build"] = lambda _: MomentTree(triangles)
    seconds = alternating(jobs, rounds)
    build = seconds.pop("build") / seconds["direct pass"]
    return len(triangles), seconds, departures, build, tree_bytes(moments) / len(triangles)


def evaluation_and_build(parts_list, rounds):
    """Print one evaluation against the others, and the tree's build and size."""
    counts, table, builds = [], {}, []
    for parts in parts_list:
        count, seconds, departures, passes, size = measured(parts, rounds)
        counts.append(count)
        builds.append((passes, size))
        for name in seconds:
            table.setdefault(name, []).append((seconds[name], departures[name]))
    say("one evaluation, new plane each [ms]", *(f"{n:,}" for n in counts), "exponent")
    for name, row in table.items():
        slope = exponent(counts[: len(row)], [s for s, _ in row]) if len(row) > 1 else np.nan
        say(
            f"  {name}",
            *(f"{1e3 * s:.2f}" for s, _ in row),
            *[""] * (len(counts) - len(row)),
            f"{slope:.2f}",
        )
    say("the tree is quicker by")
    for name in OTHERS:
        # The slow ones have no entry at the largest size.
        pairs = zip(table[name], table["moment tree"], strict=False)
        say(f"  than {name}", *(f"{other / tree:.0f} x" for (other, _), (tree, _) in pairs))
    say("largest departure from the direct pass")
    for name, row in table.items():
        say(f"  {name}", *(f"{departure:.0e}" for _, departure in row))
    say("tree build, in direct passes", *(f"{passes:.1f}" for passes, _ in builds))
    say("tree, bytes a triangle", *(f"{size:.0f}" for _, size in builds))


def tree_bytes(moments):
    """Return the bytes of all arrays a tree holds."""
    arrays = [moments._triangles]
    for level in moments._levels:
        arrays += [level.centers, level.halves, level.sums]
    return sum(array.nbytes for array in arrays)


def equilibrium(parts_list, rounds):
    """Print the equilibrium against a root finder over bisection on trimesh's capped slice."""
    rows = []
    for parts in parts_list:
        triangles = fine_meshes.craft(parts)
        shells = outer_shells("craft", triangles).shells
        skin = Skin(names=tuple(f"body {i}" for i in range(len(shells))), shells=shells)
        tree = skin.tree
        rng = np.random.default_rng(8)
        loads = [
            (MASS_G * rng.uniform(0.8, 1.2), CENTER_MM + rng.uniform(-1, 1, 3) * [8, 1, 5])
            for _ in range(rounds + 1)
        ]
        taken = []

        def ours(turn, loads=loads, skin=skin, taken=taken):
            """Float one load."""
            mass, center = loads[turn]
            taken.append(float_at(skin, mass_g=mass, center_of_gravity_mm=center))

        seconds = alternating({"ours": ours}, rounds)["ours"]
        mesh = contenders.trimesh_of(triangles)
        assert mesh.is_watertight
        start = time.perf_counter()
        mass, center = loads[-1]
        trim, heel, _, slices = contenders.floated_by_slices(
            mesh, volume_mm3=1e3 * mass, center_mm=center
        )
        theirs = time.perf_counter() - start
        rest = taken[-1].floating
        apart = max(abs(np.degrees(trim) - rest.trim_deg), abs(np.degrees(heel) - rest.heel_deg))
        evaluations = [rest.evaluations for rest in taken]
        rows.append((len(triangles), 1e3 * seconds, evaluations, slices, theirs, apart, tree))
    say("equilibrium, the craft with her floats", *(f"{row[0]:,}" for row in rows))
    say("  hullcheck, median [ms]", *(f"{row[1]:.2f}" for row in rows))
    say("  evaluations, median", *(f"{np.median(row[2]):.0f}" for row in rows))
    say("  evaluations, most", *(f"{max(row[2])}" for row in rows))
    say("  bisection on capped slices [s]", *(f"{row[4]:.1f}" for row in rows))
    say("  its slices", *(f"{row[3]}" for row in rows))
    say("  quicker by", *(f"{1e3 * row[4] / row[1]:.0f} x" for row in rows))
    say("  the two differ by [deg]", *(f"{row[5]:.0e}" for row in rows))


def help_text(rounds):
    """Print `hullcheck --help` against an import of click."""
    medians = alternating(
        {
            "help": process("-m", "hullcheck", "--help"),
            "click": process("-c", "import click"),
            "bare": process("-c", "pass"),
        },
        rounds,
    )
    say("hullcheck --help [ms]", f"{1e3 * medians['help']:.0f}")
    say("  python -c 'import click' [ms]", f"{1e3 * medians['click']:.0f}")
    say("  python -c pass [ms]", f"{1e3 * medians['bare']:.0f}")
    say("  help, in imports of click", f"{medians['help'] / medians['click']:.2f}")


def whole_process(cases, rounds):
    """Print one command from STL to answer against trimesh loading it and slicing it once."""
    with tempfile.TemporaryDirectory() as folder:
        for title, triangles in cases:
            path = Path(folder) / "big.stl"
            fine_meshes.write_stl(path, triangles)
            command = ("-m", "hullcheck", "float", path, *LOAD)
            every = process(*command, "--json")
            theirs = process("-c", SLICE_ONCE, path)
            medians = alternating(
                {"plain": process(*command), "theirs": theirs, "every": every}, rounds
            )
            left_over = json.loads(every.last)["residual"]["mass_g"]
            say(f"whole process, {title}", f"{len(triangles):,}")
            say("  hullcheck float [s]", f"{medians['plain']:.2f}")
            say("  the same with --json, every attitude [s]", f"{medians['every']:.2f}")
            say("  trimesh load and one capped slice [s]", f"{medians['theirs']:.2f}")
            say(
                "  hullcheck float, as a share of it", f"{medians['plain'] / medians['theirs']:.2f}"
            )
            say("  with --json, as a share of it", f"{medians['every'] / medians['theirs']:.2f}")
            say("  weight left over by the direct pass [g]", f"{left_over:.0e}")


def main():
    """Run all of it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="no million triangles, fewer rounds")
    parser.add_argument("--large", action="store_true", help="five million triangles too")
    options = parser.parse_args()
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})
    os.environ["PYTHONPATH"] = os.pathsep.join(
        filter(None, [str(ROOT), os.environ.get("PYTHONPATH")])
    )
    sizes = [1, 2] if options.quick else [1, 2, 7]
    rounds = 3 if options.quick else 7
    evaluation_and_build([*sizes, 16] if options.large else sizes, rounds)
    equilibrium([1] if options.quick else [1, 6], rounds)
    help_text(3 * rounds)
    fine = (2, 2) if options.quick else (7, 6)
    whole_process(
        [("the hull alone", fine_meshes.hull(fine[0])), ("the craft", fine_meshes.craft(fine[1]))],
        rounds,
    )


if __name__ == "__main__":
    main()
