"""Trials of the outer skin on printed boats drawn at random, with a table of how good it was.

Run from the project's folder::

    python tests/external/skin_trials.py --cases 300 --seed 7 --kinds K3,K4
    python tests/external/skin_trials.py --faults --cases 3

A case is found again by --seed, --only INDEX, --kinds and, where one was given, --gap.
"""

import argparse
import os
import secrets
import sys
import time
import traceback
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve().parent
for folder in (HERE, HERE.parents[1]):
    if str(folder) not in sys.path:
        sys.path.insert(0, str(folder))

from printed_boats import GAPS_MM, KINDS, displaced, printed, true_error  # noqa: E402

from hullcheck.errors import HullcheckError  # noqa: E402
from hullcheck.geometry.moments import cut_row  # noqa: E402
from hullcheck.geometry.outer_skin import outer_skin  # noqa: E402

EXACT = 1e-9
"""Share of the displaced volume that sums in 64-bit numbers leave open."""
GOAL = 1e-4
"""Share of the displaced volume that a skin may be out by."""


@dataclass(frozen=True, kw_only=True)
class Trial:
    """One case: what it was, what was stated and what was true [mm³, s]."""

    index: int
    kind: str
    gap_mm: float
    described: str
    seconds: float
    triangles: int
    refusal: str = ""
    crashed: bool = False
    method: str = ""
    displaced_mm3: float = 0.0
    true_mm3: float = 0.0
    stated_mm3: float = 0.0
    patches: int = 0
    wet_patches: int = 0
    handles: int = 0

    @property
    def share(self):
        """Return the true error over the displaced volume, without sign."""
        return abs(self.true_mm3) / self.displaced_mm3

    @property
    def inside(self):
        """Return whether the true error is within the stated one."""
        return abs(self.true_mm3) <= self.stated_mm3 + EXACT * self.displaced_mm3

    def line(self):
        """Return the case as one line."""
        head = f"{self.index:4d} {self.kind} {_gap_words(self.gap_mm):>8} {self.triangles:7d}"
        if self.refusal:
            what = "CRASHED" if self.crashed else "refused"
            return f"{head} {what} after {self.seconds:.1f} s: {self.refusal}"
        return (
            f"{head} {self.true_mm3:+12.5f} {100 * self.share:10.6f} % {self.stated_mm3:12.5f} "
            f"{'inside' if self.inside else 'OUTSIDE'} {self.wet_patches:3d}/{self.patches:3d} "
            f"{self.method:<8} {self.seconds:6.2f} s"
        )


@cache
def seed_drawn():
    """Return the seed of this run: that of HULLCHECK_SEED in the environment, else a drawn one."""
    given = os.environ.get("HULLCHECK_SEED", "")
    return int(given) if given else secrets.randbelow(100_000)


def stated_error(skin, waterline_mm):
    """Return what a skin says its displaced volume may be out by, below a level plane [mm³]."""
    total = skin.base_error_mm3
    for patch in wet_patches(skin, waterline_mm):
        total += patch.error_mm3 * wet_area(patch.triangles_mm, waterline_mm) / patch.area_mm2
    return total


def wet_patches(skin, waterline_mm):
    """Return the invented patches that reach below a level plane."""
    return [p for p in skin.patches if p.lowest_mm[2] < waterline_mm and p.area_mm2 > 0.0]


def wet_area(triangles, waterline_mm):
    """Return the area of triangles below a level plane [mm²]."""
    return float(cut_row(triangles, np.array([0.0, 0.0, 1.0]), waterline_mm)[30])


def answer(boat):
    """Return the skin of a boat, or None, why there is none, and whether that was a crash."""
    try:
        return outer_skin("hull", boat.parts), "", False
    except HullcheckError as refusal:
        return None, str(refusal), False
    except Exception as crash:  # noqa: BLE001 - told and counted: one must not end all the others
        where = traceback.extract_tb(crash.__traceback__)
        own = [f"{Path(f.filename).name}:{f.lineno}" for f in where if "hullcheck" in f.filename]
        return None, f"{type(crash).__name__} at {' '.join(own[-3:])}: {crash}", True


def tried(index, boat):
    """Return the trial of one boat."""
    common = {
        "index": index,
        "kind": boat.kind,
        "gap_mm": boat.gap_mm,
        "described": boat.described,
        "triangles": sum(len(triangles) for _, triangles in boat.parts),
    }
    start = time.perf_counter()
    skin, refusal, crashed = answer(boat)
    seconds = time.perf_counter() - start
    if skin is None:
        return Trial(**common, seconds=seconds, refusal=refusal, crashed=crashed)
    triangles = np.concatenate([shell.triangles_mm for shell in skin.shells])
    return Trial(
        **common,
        seconds=seconds,
        method=skin.method,
        displaced_mm3=displaced(boat.closed, boat.waterline_mm),
        true_mm3=true_error(triangles, boat.closed, boat.waterline_mm),
        stated_mm3=stated_error(skin, boat.waterline_mm),
        patches=len(skin.patches),
        wet_patches=len(wet_patches(skin, boat.waterline_mm)),
        handles=skin.checks.handles,
    )


def summary(trials):
    """Return the table by kind and gap, a line each, and one for all."""
    head = (
        f"{'kind':<5}{'gap':>9}{'cases':>7}{'refused':>9}{'crashed':>9}{'worst %':>11}"
        f"{'> 0.01 %':>10}{'stated/true':>13}{'inside':>9}{'s':>7}"
    )
    lines = [head]
    groups = {}
    for trial in trials:
        groups.setdefault((trial.kind, _gap_words(trial.gap_mm)), []).append(trial)
    for (kind, gap), group in sorted(groups.items()):
        lines.append(f"{kind:<5}{gap:>9}{_figures(group)}")
    return [*lines, f"{'all':<5}{'':>9}{_figures(trials)}"]


def _figures(group):
    """Return the figures of a group of trials."""
    done = [t for t in group if not t.refusal]
    crashed = sum(t.crashed for t in group)
    head = f"{len(group):7d}{len(group) - len(done) - crashed:9d}{crashed:9d}"
    if not done:
        return head
    # A skin that is the file's own states nothing and is out by nothing.
    ratios = [t.stated_mm3 / abs(t.true_mm3) for t in done if t.stated_mm3 and t.true_mm3]
    ratio = f"{np.median(ratios):.1f}" if ratios else "–"
    return (
        f"{head}{100 * max(t.share for t in done):11.6f}"
        f"{sum(t.share > GOAL for t in done):10d}{ratio:>13}"
        f"{100 * np.mean([t.inside for t in done]):8.1f}%"
        f"{np.median([t.seconds for t in done]):7.2f}"
    )


def _gap_words(gap_mm):
    """Return a gap as the tables have it."""
    return "overlap" if gap_mm < 0.0 else f"{gap_mm:g} mm"


def main(arguments=None):
    """Run the trials that the command line asks for."""
    options = _options(arguments)
    seed = seed_drawn() if options.seed is None else options.seed
    say(f"seed {seed}")
    if options.faults:
        _faults(seed, options)
        return
    indices = range(options.cases) if options.only is None else [options.only]
    trials = []
    for index in indices:
        kind = options.kinds[index % len(options.kinds)]
        boat = printed(seed, index, kind, gap_mm=options.gap)
        trials.append(tried(index, boat))
        _report(trials[-1], options.quiet)
    say("")
    for line in summary(trials):
        say(line)


def _report(trial, quiet):
    """Print a trial; what it was where it did not go well."""
    failed = trial.refusal or not trial.inside or trial.share > GOAL
    if failed or not quiet:
        say(trial.line())
    if failed:
        say(f"     {trial.described}")


def _faults(seed, options):
    """Print what comes of each provoked fault."""
    from printed_faults import FAULTS, faulty

    for fault in FAULTS:
        for index in range(options.cases) if options.only is None else [options.only]:
            boat = faulty(fault, seed, index)
            say(f"{fault}: {boat.described}")
            skin, refusal, crashed = answer(boat)
            if skin is None:
                say(f"     {'CRASHED' if crashed else 'refused'}: {refusal}")
                continue
            triangles = np.concatenate([shell.triangles_mm for shell in skin.shells])
            out = true_error(triangles, boat.closed, boat.waterline_mm)
            share = 100.0 * abs(out) / displaced(boat.closed, boat.waterline_mm)
            stated = stated_error(skin, boat.waterline_mm)
            say(f"     answered: out by {out:+.1f} mm³ ({share:.4f} %), stated {stated:.1f} mm³")
            for patch in wet_patches(skin, boat.waterline_mm)[:4]:
                say(f"     under water: {patch.name}")
            for code, sentence in skin.notes:
                say(f"     {code}: {sentence}")


def _options(arguments):
    """Return what the command line asks for."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    parser.add_argument("--cases", type=int, default=300)
    parser.add_argument("--seed", type=int, default=None, help="drawn, and printed, if left out")
    parser.add_argument("--kinds", type=lambda text: text.split(","), default=list(KINDS))
    parser.add_argument("--gap", type=float, default=None, help=f"mm, such as {GAPS_MM}")
    parser.add_argument("--only", type=int, default=None, help="this one case")
    parser.add_argument("--quiet", action="store_true", help="lines for failed cases only")
    parser.add_argument("--faults", action="store_true", help="provoked faults, cases of each")
    return parser.parse_args(arguments)


def say(text):
    """Print a line at once."""
    print(text, flush=True)  # noqa: T201


if __name__ == "__main__":
    main()
