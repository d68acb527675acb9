"""Where conditions hold along a line: sampled, every change of sign bracketed and narrowed down."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from hullcheck.flotation.roots import root_between

Condition = tuple[str, str]
"""A condition and which end of it: ("trim_deg", "bow up")."""
Slacks = Mapping[Condition, float]
"""How far each condition is kept, in its own unit; below 0 it is broken."""

HOPELESS: Final = -1e6
"""Slack of what cannot be told because she sinks or has no such value."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """Places in a row that hold, each end on the side that does.

    `before` and `after` are the conditions that end it; None where what was looked at ends there.
    """

    first: float
    last: float
    before: Condition | None
    after: Condition | None


def windows(
    slacks_at: Callable[[float], Slacks], places: Iterable[float], *, tolerance: float
) -> tuple[Window, ...]:
    """Return the intervals in which every condition holds.

    Parameters
    ----------
    slacks_at : callable
        The conditions' slacks at a place; the same conditions everywhere.
    places : iterable of float
        Where to look; the least and the greatest end what is looked at.
    tolerance : float
        How near an end is to where the condition breaks, in the variable.

    Returns
    -------
    tuple of Window
        From the least place on. Every condition is followed by itself, so a window between two
        places is found if it ends at two different conditions; one condition that breaks and holds
        again between two neighboring places is stepped over.
    """
    known: dict[float, Slacks] = {}

    def at(place: float) -> Slacks:
        """Return the slacks at a place, worked out once."""
        if place not in known:
            known[place] = slacks_at(place)
        return known[place]

    samples = sorted(set(places))
    for place in samples:
        at(place)
    for one, two in pairwise(samples):
        for condition in known[one]:
            _narrow(at, known, condition, (one, two), tolerance)
    return _runs(sorted(known.items()))


def least_slack(slacks: Slacks) -> float:
    """Return the least slack of all conditions."""
    return min(slacks.values(), default=0.0)


def _narrow(
    at: Callable[[float], Slacks],
    known: Mapping[float, Slacks],
    condition: Condition,
    ends: tuple[float, float],
    tolerance: float,
) -> None:
    """Look at places ever nearer to where a condition changes between two, if it does."""
    values = known[ends[0]][condition], known[ends[1]][condition]
    if (values[0] >= 0.0) == (values[1] >= 0.0):
        return
    if 0.0 in values:
        # It holds to the last digit there; a place just beyond tells what breaks.
        held, broken = ends if values[0] == 0.0 else ends[::-1]
        at(held + (min(tolerance, 0.5 * abs(broken - held)) * (1.0 if broken > held else -1.0)))
        return
    root_between(lambda place: at(place)[condition], ends, values, tolerance=tolerance)


def _runs(tried: Sequence[tuple[float, Slacks]]) -> tuple[Window, ...]:
    """Return the runs of places that hold, with what breaks just beyond."""
    found, start = [], None
    for i, (_, slacks) in enumerate(tried):
        holds = least_slack(slacks) >= 0.0
        if holds and start is None:
            start = i
        last = i + 1 == len(tried)
        if start is None or (holds and not last):
            continue
        end = i if holds else i - 1
        found.append(
            Window(
                first=tried[start][0],
                last=tried[end][0],
                before=_ending(tried, start, -1),
                after=_ending(tried, end, 1),
            )
        )
        start = None
    return tuple(found)


def _ending(tried: Sequence[tuple[float, Slacks]], end: int, way: int) -> Condition | None:
    """Return the condition that breaks beyond an end: of several the one with the least left."""
    beyond = end + way
    if not 0 <= beyond < len(tried):
        return None
    here, there = tried[end][1], tried[beyond][1]
    broken = [condition for condition, slack in there.items() if slack < 0.0]
    return min(broken, key=lambda condition: here[condition])
