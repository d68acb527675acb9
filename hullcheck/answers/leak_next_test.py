"""The leak test to make next: the load and attitude that set the explanations furthest apart."""

import itertools
from collections.abc import Sequence
from typing import Final

import numpy as np

from hullcheck.answers.leak_candidates import Candidate, candidates
from hullcheck.answers.leak_fit import Fit
from hullcheck.answers.leak_soaks import FINEST_SCALE_G, LAW_ERROR, SoakTable, unit_rate
from hullcheck.answers.leak_stories import Story, stories_of
from hullcheck.answers.leak_suspect_records import (
    LeakSuspects,
    NextTest,
    Prediction,
    Purpose,
    SoakCounted,
    Suspect,
)
from hullcheck.craft.craft import Craft
from hullcheck.craft.seam_lines import SeamLine
from hullcheck.flotation.leak_laws import LeakLaw
from hullcheck.geometry.arrays import FloatArray

_Pairs = list[tuple[int, int]]

TOLD_APART: Final = 3.0
"""A difference of so many standard uncertainties is told."""
_SAME_DEG: Final = {"tell apart": 1.5, "confirm": 4.0, "confirm the repair": 4.0}
"""Set-ups that differ by less are one: nobody holds her better, and a test that is to confirm what
another said should differ from it."""
_SAME_SHARE: Final = 0.05
"""The same of their masses."""
_WORTH: Final = 1.02
"""A more troublesome set-up must be better by this factor."""


def next_test(
    craft: Craft,
    lines: Sequence[SeamLine],
    table: SoakTable,
    problems: dict[LeakLaw, Fit],
    found: LeakSuspects,
    *,
    minutes: float,
) -> NextTest | None:
    """Return the test to make next; None where there is no water to explain.

    Parameters
    ----------
    craft : Craft
        At her own load.
    lines : sequence of SeamLine
        Her seams and openings.
    table : SoakTable
        The tests so far.
    problems : dict of str to Fit
        Them by each law.
    found : LeakSuspects
        What they say.
    minutes : float
        How long it is to last [min].

    Notes
    -----
    For each set-up every explanation predicts a gain, a range over both laws; two are as far
    apart as the gap between their ranges over the scale's and the laws' uncertainty. The set-up
    with the most pairs told apart is taken, of equals the simplest; none that was made already.
    """
    purpose, stories = stories_of(table, problems, found)
    if len({story.suspects for story in stories}) < 2:
        return None
    sigma = max(table.counted[-1].gain_plus_minus_g, FINEST_SCALE_G)
    names = {suspect.seam for story in stories for suspect in story.suspects}
    kept = [line for line in lines if line.name in names]
    done = _made(table, found, purpose)
    free = [
        c for c in candidates(craft, kept) if not any(_alike(c, test, purpose) for test in done)
    ]
    if not free:
        return None
    as_before = purpose == "confirm the repair"
    told = [_predictions(stories, one, minutes, as_before=as_before) for one in free]
    pairs = _pairs(len(told[0]), purpose)
    apart = np.array([_apart(predictions, sigma, pairs) for predictions in told])
    best = _simplest_best(apart)
    chosen, floating = free[best], free[best].soak.floating
    return NextTest(
        purpose=purpose,
        mass_g=chosen.mass_g,
        ballast_g=chosen.mass_g - craft.mass_g,
        trim_deg=floating.trim_deg,
        heel_deg=floating.heel_deg,
        held=chosen.held,
        minutes=minutes,
        lowest_opening_mm=chosen.lowest_mm,
        predictions=tuple(told[best]),
        apart_sigma=float(apart[best].min()),
        inseparable=_inseparable(told[best], apart.max(axis=0), pairs),
    )


def _made(table: SoakTable, found: LeakSuspects, purpose: Purpose) -> list[SoakCounted]:
    """Return the tests that need no repeating: to confirm a repair, only those made after it."""
    if purpose != "confirm the repair":
        return list(table.counted)
    repaired = [one.until for one in found.named if one.until is not None]
    return [test for test in table.counted if test.at >= max(repaired)]


def _alike(candidate: Candidate, test: SoakCounted, purpose: Purpose) -> bool:
    """Return whether a set-up is that of a test that was made."""
    lies, near = candidate.soak.floating, _SAME_DEG[purpose]
    return (
        abs(lies.trim_deg - test.trim_deg) < near
        and abs(lies.heel_deg - test.heel_deg) < near
        and abs(candidate.mass_g - test.mass_g) < _SAME_SHARE * test.mass_g
    )


def _predictions(
    stories: Sequence[Story], candidate: Candidate, minutes: float, *, as_before: bool
) -> list[Prediction]:
    """Return what each set of suspects would gain, over the laws, in the order of the stories."""
    gains: dict[tuple[Suspect, ...], list[float]] = {}
    for story in stories:
        rate = sum(
            strength * unit_rate(story.law, candidate.soak.heads[one.seam], candidate.soak.water)
            for one, strength in story.strengths
            if one.current or as_before
        )
        gains.setdefault(story.suspects, []).append(minutes * rate)
    return [Prediction(suspects=s, low_g=min(g), high_g=max(g)) for s, g in gains.items()]


def _pairs(number: int, purpose: Purpose) -> _Pairs:
    """Return the pairs of explanations to tell apart; to confirm one, all others from the first."""
    pairs = itertools.combinations(range(number), 2)
    return [(i, j) for i, j in pairs if i == 0 or purpose == "tell apart"]


def _apart(told: Sequence[Prediction], sigma: float, pairs: _Pairs) -> FloatArray:
    """Return how far each pair of predictions lies apart, over its uncertainty, shape (pairs,)."""
    found = []
    for i, j in pairs:
        below, above = sorted((told[i], told[j]), key=lambda p: p.low_g + p.high_g)
        gap = max(above.low_g - below.high_g, 0.0)
        found.append(gap / float(np.hypot(sigma, LAW_ERROR * above.low_g)))
    return np.array(found)


def _simplest_best(apart: FloatArray) -> int:
    """Return the row of the best set-up: most pairs told apart, a little for how far, shape (n, p).

    A later, more troublesome one must be clearly better than the best before it.
    """
    told = np.minimum(apart / TOLD_APART, 1.0).mean(axis=1)
    scores = told + 0.01 * np.minimum(apart, 10.0).mean(axis=1)
    best = 0
    for row, score in enumerate(scores):
        if score > _WORTH * scores[best]:
            best = row
    return best


def _inseparable(
    told: Sequence[Prediction], furthest: FloatArray, pairs: _Pairs
) -> tuple[tuple[tuple[Suspect, ...], tuple[Suspect, ...]], ...]:
    """Return pairs of explanations that no one set-up tells apart."""
    return tuple(
        (told[i].suspects, told[j].suspects)
        for (i, j), most in zip(pairs, furthest, strict=True)
        if most < TOLD_APART
    )
