"""How long an outer skin takes from printed parts: python tests/benchmarks/skins.py [--quick].

Side by side, in turns, each in a process of its own on one core: the five thin-wall segments of
the demo hull read and made one skin, against trimesh reading each of them, filling its holes and
setting its normals right. Ratios are what counts: the seconds are this machine's.
"""

import argparse
import os
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(Path(__file__).parent), str(ROOT), str(ROOT / "meshes")]
os.environ |= {"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}

from fine_meshes import refined, write_stl  # noqa: E402 - one thread is set before
from make_printed import segment_triangles  # noqa: E402
from printed_skin import outer_sheet  # noqa: E402
from timing import alternating, process  # noqa: E402

OURS = """
import resource, sys
import numpy as np
from hullcheck.files.meshes import read_mesh
from hullcheck.geometry.outer_skin import outer_skin
parts = [(p, np.concatenate([x.triangles for x in read_mesh(p).parts])) for p in sys.argv[1:]]
skin = outer_skin("hull", parts)
print(skin.volume_mm3, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 2**20)
"""
THEIRS = """
import sys, trimesh
for path in sys.argv[1:]:
    mesh = trimesh.load_mesh(path)
    mesh.fill_holes()
    mesh.fix_normals()
"""


def say(*cells):
    """Print one row of a table."""
    first, *rest = cells
    print(f"{first:<52}" + "".join(f"{cell:>14}" for cell in rest), flush=True)  # noqa: T201


def main():
    """Run all of it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="no million triangles, one round")
    options = parser.parse_args()
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})
    os.environ["PYTHONPATH"] = os.pathsep.join(
        filter(None, [str(ROOT), os.environ.get("PYTHONPATH")])
    )
    segments = segment_triangles(outer_sheet())
    with tempfile.TemporaryDirectory() as folder:
        for cut, rounds in ((4, 1 if options.quick else 3), *(() if options.quick else ((8, 1),))):
            paths, count = [], 0
            for name, triangles in segments.items():
                paths.append(Path(folder) / f"{name}.stl")
                fine = refined(triangles, cut)
                write_stl(paths[-1], fine)
                count += len(fine)
            ours = process("-c", OURS, *paths)
            seconds = alternating({"ours": ours, "theirs": process("-c", THEIRS, *paths)}, rounds)
            say("triangles, in five segments", f"{count:,}")
            say("  read and made one skin [s]", f"{seconds['ours']:.1f}")
            say("  trimesh load, fill_holes, fix_normals [s]", f"{seconds['theirs']:.1f}")
            say("  as a multiple of it", f"{seconds['ours'] / seconds['theirs']:.2f}")
            say("  most memory held [GB]", f"{float(ours.last.split()[1]):.2f}")


if __name__ == "__main__":
    main()
