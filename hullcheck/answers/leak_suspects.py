"""Which seam explains the water that came in."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from hullcheck.answers.leak_fit import Fit, simplest
from hullcheck.answers.leak_next_test import next_test
from hullcheck.answers.leak_repairs import repair_held
from hullcheck.answers.leak_soaks import SoakTable, soak_table
from hullcheck.answers.leak_suspect_records import LawFit, LeakSuspects, Strength, Suspect, Verdict
from hullcheck.craft.craft import Craft
from hullcheck.craft.leak_ladder import PER_MINUTES
from hullcheck.craft.logbook import Logbook
from hullcheck.craft.seam_lines import SeamLine, seam_lines
from hullcheck.flotation.leak_laws import LEAK_LAWS, LeakLaw

_Groups = tuple[tuple[Suspect, ...], ...]


def leak_suspects(
    logbook: Logbook,
    craft: Craft,
    *,
    lines: Sequence[SeamLine] | None = None,
    with_next_test: bool = True,
    minutes: float = PER_MINUTES,
) -> LeakSuspects:
    """Return which seam explains the water of all standing tests, or that they cannot tell.

    Parameters
    ----------
    logbook : Logbook
        Its leak tests, and the work on seams between them.
    craft : Craft
        Whose seams and skin tell the head of water in each test.
    lines : sequence of SeamLine or None
        Her seams and openings; worked out where they are not given.
    with_next_test : bool, default True
        Whether to look for the test that would tell.
    minutes : float, default 30
        How long that test is to last [min].

    Returns
    -------
    LeakSuspects

    Raises
    ------
    SolverError
        If no rest was found for a test.

    Notes
    -----
    Gain over time is the sum over all seams of strength × head integral, no strength below 0,
    weighted by each test's uncertainty (the scale's, and a tenth of the gain for what the laws
    leave out), by the hole law and by the crack law. A seam is named when by both laws no others
    together explain the tests without it: chi-squared rises by 9 or more, three standard
    deviations. It cannot know of a way in that the build sheet does not hold.

    References
    ----------
    Lawson, C. L., and R. J. Hanson, Solving Least Squares Problems, 1974, ch. 23 (non-negative
    least squares, as in `scipy.optimize.nnls`).
    """
    seams = seam_lines(craft) if lines is None else lines
    table = soak_table(logbook, craft, seams)
    if not table.counted:
        return LeakSuspects(
            verdict="no tests",
            left_out=table.left_out,
            seen=table.seen,
            never_wet=table.never_wet,
        )
    problems = {law: table.fit(law) for law in LEAK_LAWS}
    fits = tuple(_law_fit(table, law, fit) for law, fit in problems.items())
    verdict = _verdict(fits, problems)
    alone = _only(fits)
    found = LeakSuspects(
        verdict=verdict,
        named=_named(fits) if verdict == "named" else (),
        alone=alone if verdict in {"named", "one alone"} else None,
        cannot_tell_between=() if verdict == "no water" else _groups(table, problems),
        fits=fits,
        counted=table.counted,
        left_out=table.left_out,
        seen=table.seen,
        never_wet=table.never_wet,
    )
    found = replace(found, repair_held=repair_held(table, problems, found))
    # Where a repair is known to have held there is nothing left to ask.
    if not with_next_test or (found.repair_held is not None and not found.cannot_tell_between):
        return found
    return replace(
        found, next_test=next_test(craft, seams, table, problems, found, minutes=minutes)
    )


def _law_fit(table: SoakTable, law: LeakLaw, fit: Fit) -> LawFit:
    """Return the fit of one law as a record."""
    unit = table.unit_gains_g(law)
    strengths = []
    for column, suspect in enumerate(table.suspects):
        best = float(fit.strengths[column])
        low, high = fit.interval(column)
        strengths.append(
            Strength(
                suspect=suspect,
                law=law,
                best=best,
                low=low,
                high=high,
                gains_g=tuple((best * unit[:, column]).tolist()),
                worse_without=fit.without(column),
            )
        )
    return LawFit(
        law=law,
        chi_squared=fit.chi_squared,
        explains=fit.explains,
        strengths=tuple(strengths),
        needed=_of(table, fit.needed()),
        alone=_of(table, fit.alone()),
    )


def _verdict(fits: Sequence[LawFit], problems: dict[LeakLaw, Fit]) -> Verdict:
    """Return what may be said."""
    if not any(fit.explains for fit in fits):
        return "unexplained"
    if all(fit.explains_nothing for fit in problems.values()):
        return "no water"
    if _named(fits):
        return "named"
    if _only(fits) and not all(fit.needed for fit in fits):
        return "one alone"
    return "laws disagree" if _at_odds(fits) else "cannot tell"


def _at_odds(fits: Sequence[LawFit]) -> bool:
    """Return whether each law needs a seam, or has one that does alone, and none is both laws'."""
    singles = [set(fit.alone) for fit in fits]
    return all(fit.needed for fit in fits) or (all(singles) and not set.intersection(*singles))


def _named(fits: Sequence[LawFit]) -> tuple[Suspect, ...]:
    """Return the suspects that by every law no others can stand in for."""
    return tuple(s for s in fits[0].needed if all(s in fit.needed for fit in fits))


def _only(fits: Sequence[LawFit]) -> Suspect | None:
    """Return the one suspect that alone explains all tests, the same by every law."""
    if all(len(fit.alone) == 1 for fit in fits) and len({fit.alone for fit in fits}) == 1:
        return fits[0].alone[0]
    return None


def _groups(table: SoakTable, problems: dict[LeakLaw, Fit]) -> _Groups:
    """Return groups of suspects of which any one does as well, by any law that counts."""
    merged: list[set[int]] = []
    for fit in simplest(problems).values():
        for group in _interchangeable(fit):
            touching = [other for other in merged if other & group]
            merged = [other for other in merged if not other & group]
            merged.append(group.union(*touching))
    return tuple(_of(table, sorted(group)) for group in sorted(merged, key=min))


def _interchangeable(fit: Fit) -> list[set[int]]:
    """Return, for each part of the best of the least explanations, what can stand in for it."""
    best = min(fit.least, key=lambda columns: fit.solve(columns)[1])
    every = {frozenset(columns) for columns in fit.least}
    groups = [
        {k for k in range(fit.size) if frozenset({*best} - {part} | {k}) in every} for part in best
    ]
    return [group for group in groups if len(group) > 1]


def _of(table: SoakTable, columns: Iterable[int]) -> tuple[Suspect, ...]:
    """Return the suspects of columns."""
    return tuple(table.suspects[k] for k in columns)
