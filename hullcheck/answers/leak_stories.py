"""The explanations of the leak tests that the next one is to tell apart."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from hullcheck.answers.leak_fit import Fit, simplest
from hullcheck.answers.leak_soaks import SoakTable
from hullcheck.answers.leak_suspect_records import LeakSuspects, Purpose, Suspect
from hullcheck.flotation.leak_laws import LeakLaw

_Columns = tuple[int, ...]

_MOST: Final = 12
"""Explanations by each law that are held against each other; the best ones."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Story:
    """One explanation of the tests: suspects, and how strongly each leaks by one law.

    Attributes
    ----------
    law : str
        "hole" or "crack".
    strengths : tuple of (Suspect, float)
        Empty for no leak at all.
    """

    law: LeakLaw
    strengths: tuple[tuple[Suspect, float], ...]

    @property
    def suspects(self) -> tuple[Suspect, ...]:
        """The suspects it blames."""
        return tuple(suspect for suspect, _ in self.strengths)


def stories_of(
    table: SoakTable, problems: dict[LeakLaw, Fit], found: LeakSuspects
) -> tuple[Purpose, tuple[Story, ...]]:
    """Return what the next test is for, and the explanations it is held to.

    Parameters
    ----------
    table : SoakTable
        The tests so far.
    problems : dict of str to Fit
        Them by each law.
    found : LeakSuspects
        What they say.

    Returns
    -------
    purpose : str
        "confirm the repair" where every named seam was worked on since, "confirm" where one is
        named and nothing is left open, else "tell apart".
    stories : tuple of Story
        Empty where there is no water to explain, or nothing explains it.
    """
    if found.verdict in {"no tests", "no water", "unexplained"}:
        return "tell apart", ()
    laws = simplest(problems)
    if not found.named or found.cannot_tell_between:
        return "tell apart", _told(table, _open(laws))
    if not any(suspect.current for suspect in found.named):
        named = tuple(k for k, one in enumerate(table.suspects) if one in found.named)
        before = _told(table, {law: (fit, [named]) for law, fit in laws.items()})
        return "confirm the repair", (*before, *(Story(law=law, strengths=()) for law in laws))
    now = [k for k, one in enumerate(table.suspects) if one.current]
    ways = {law: (fit, _least_and_singles(fit, now)) for law, fit in laws.items()}
    return "confirm", _told(table, ways)


def _told(
    table: SoakTable, ways: Mapping[LeakLaw, tuple[Fit, Sequence[_Columns]]]
) -> tuple[Story, ...]:
    """Return sets of columns as explanations, with their best strengths by each law."""
    return tuple(
        Story(
            law=law,
            strengths=tuple((table.suspects[k], float(fit.solve(set_)[0][k])) for k in set_),
        )
        for law, (fit, sets) in ways.items()
        for set_ in sets
    )


def _least_and_singles(fit: Fit, now: Sequence[int]) -> list[_Columns]:
    """Return the best of the least explanations, and every seam as it is now, all by itself."""
    least = _best_first(fit, fit.least)[:1]
    singles = [(k,) for k in now if [(k,)] != least]
    return [*least, *_best_first(fit, singles)[:_MOST]]


def _open(laws: Mapping[LeakLaw, Fit]) -> dict[LeakLaw, tuple[Fit, list[_Columns]]]:
    """Return the explanations that are open: by the fewest suspects, or by one more than that.

    One more is asked for where all laws have but the same one by the fewest.
    """
    ways = {law: _best_first(fit, fit.least)[:_MOST] for law, fit in laws.items()}
    if len({columns for sets in ways.values() for columns in sets}) == 1:
        for law, fit in laws.items():
            ways[law] += _best_first(fit, fit.explanations(len(ways[law][0]) + 1))[:_MOST]
    return {law: (laws[law], sets) for law, sets in ways.items()}


def _best_first(fit: Fit, sets: Iterable[_Columns]) -> list[_Columns]:
    """Return sets of columns by how well they explain the tests."""
    return sorted(sets, key=lambda columns: fit.solve(columns)[1])
