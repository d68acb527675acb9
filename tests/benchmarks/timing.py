"""Side by side: contenders take turns, each turn on new ground, medians at the end."""

import statistics
import subprocess
import sys
import time

import numpy as np


def planes(triangles, count, seed=3):
    """Return unit normals and heights [mm] of planes between a tenth and nine tenths of the body.

    Near level, as water is for a craft afloat: none is used twice, so nothing is warm.
    """
    rng = np.random.default_rng(seed)
    normals = np.array([0.0, 0.0, 1.0]) + 0.08 * rng.normal(size=(count, 3))
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    points = triangles[:, 0]
    chosen = []
    for normal in normals:
        extent = points @ normal
        low, high = extent.min(), extent.max()
        chosen.append((normal, float(low + rng.uniform(0.1, 0.9) * (high - low))))
    return chosen


def alternating(jobs, rounds):
    """Return each job's median seconds; a job is a function of the round's number.

    Parameters
    ----------
    jobs : dict of str to callable
        Called in turn, A B A B, once a round; their values of a round are handed to no one.
    rounds : int
        Rounds that count; one before them does not.
    """
    spent = {name: [] for name in jobs}
    for turn in range(rounds + 1):
        for name, job in jobs.items():
            start = time.perf_counter()
            job(turn)
            elapsed = time.perf_counter() - start
            if turn:
                spent[name].append(elapsed)
    return {name: statistics.median(times) for name, times in spent.items()}


def process(*arguments):
    """Return a job that runs Python with these arguments and keeps its output in `.last`."""

    def job(turn):
        """Run it; a failure ends the benchmark."""
        del turn
        job.last = subprocess.run(
            [sys.executable, *map(str, arguments)], check=True, capture_output=True, text=True
        ).stdout

    job.last = ""
    return job


def exponent(counts, seconds):
    """Return the power of the count that the times grow by."""
    return float(np.polyfit(np.log(counts), np.log(seconds), 1)[0])
