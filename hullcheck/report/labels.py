"""Where labels may stand: free of each other and of lines, in order, within the sheet."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.report.sheet import Box, Sheet, Spot
from hullcheck.report.style import Type

LEAST_SHIFT = 2.5
"""A shift under this is not made [pt]."""


@dataclass(frozen=True, slots=True, eq=False)
class _Line:
    """A line that text keeps off, and a box round it: most lines are far from most places.

    Attributes
    ----------
    segments : ndarray, shape (k, 2, 2)
    hair : bool
    around : Box
    """

    segments: FloatArray
    hair: bool
    around: Box

    @classmethod
    def along(cls, points: Sequence[Spot] | FloatArray, *, hair: bool) -> "_Line | None":
        """Return the line through some points; None through fewer than two."""
        path = np.asarray(points, dtype=np.float64)
        if len(path) < 2:
            return None
        left, bottom = path.min(axis=0).tolist()
        right, top = path.max(axis=0).tolist()
        around = Box(left=left, bottom=bottom, right=right, top=top)
        return cls(np.stack((path[:-1], path[1:]), axis=1), hair, around)

    def crosses(self, box: Box) -> bool:
        """Return whether the line passes through a box, or touches it."""
        near = self.around
        if near.right < box.left or near.left > box.right:
            return False
        if near.top < box.bottom or near.bottom > box.top:
            return False
        return _cross(self.segments, box)


class Room:
    """What is already on the sheet: boxes of text and marks, and lines that text keeps off."""

    def __init__(self) -> None:
        self._boxes: list[Box] = []
        self._lines: list[_Line] = []

    def take(self, *boxes: Box) -> None:
        """Mark boxes as taken."""
        self._boxes.extend(boxes)

    def line(self, points: Sequence[Spot] | FloatArray, *, hair: bool = False) -> None:
        """Mark an open line as one that text keeps off, a hair line less strictly."""
        line = _Line.along(points, hair=hair)
        if line is not None:
            self._lines.append(line)

    def loops(self, loops: Iterable[FloatArray], *, hair: bool = False) -> None:
        """Mark closed lines as ones that text keeps off."""
        for loop in loops:
            self.line(np.concatenate((loop, loop[:1])), hair=hair)

    def cost(self, box: Box, clearance: float = 1.5) -> float:
        """Return how bad a place is: 0 free, 1 across a hair line, 10 a line, 100 on a label."""
        wide = box.grown(clearance)
        cost = 100.0 * sum(wide.meets(other) for other in self._boxes)
        for line in self._lines:
            if line.crosses(wide):
                cost += 1.0 if line.hair else 10.0
        return cost

    def best(self, candidates: Sequence[Sequence[Box]]) -> int:
        """Return which candidate is the least bad, the first of equals; each is some boxes."""
        return int(np.argmin([sum(self.cost(box) for box in group) for group in candidates]))


def pushed_apart(
    wanted: Sequence[float], widths: Sequence[float], gap: float, low: float, high: float
) -> list[float]:
    """Return the left edges of blocks in a row, moved as little as keeps them apart and inside.

    Parameters
    ----------
    wanted : sequence of float
        Where each block's left edge would stand by itself, rising [pt].
    widths : sequence of float
        [pt]
    gap : float
        Between neighbors [pt].
    low, high : float
        Ends of the row [pt]; where the blocks do not all fit they run out at the high end.

    Notes
    -----
    Blocks that would touch are joined and stand where the squares of their shifts sum to the
    least; joined blocks that touch others are joined again. A shift under 2.5 pt is not made
    where nothing touches without it.
    """
    groups: list[tuple[list[int], float]] = []
    offsets: dict[int, float] = {}
    for i, left in enumerate(wanted):
        members, start = [i], left
        offsets[i] = 0.0
        while True:
            width = offsets[members[-1]] + widths[members[-1]]
            start = max(low, min(start, high - width))
            if not groups or _end(groups[-1], offsets, widths) + gap <= start + 1e-9:
                break
            before, _ = groups.pop()
            shift = offsets[before[-1]] + widths[before[-1]] + gap
            for k in members:
                offsets[k] += shift
            members = before + members
            start = float(np.mean([wanted[k] - offsets[k] for k in members]))
        groups.append((members, start))
    placed = [0.0] * len(wanted)
    for members, start in groups:
        for k in members:
            placed[k] = start + offsets[k]
    return _without_trifles(placed, wanted, widths, (gap, low, high))


def evened(sheet: Sheet, words: str, kind: Type, width: float) -> list[str]:
    """Return words in up to two lines, as alike as can be; cut where two do not hold them."""
    parts = words.split(" ")
    if len(parts) == 1 or sheet.width_of(words, kind) <= width:
        return [sheet.fitted(words, kind, width)]
    halves = [[" ".join(parts[:k]), " ".join(parts[k:])] for k in range(1, len(parts))]
    best = min(halves, key=lambda two: max(sheet.width_of(one, kind) for one in two))
    return [sheet.fitted(line, kind, width) for line in best]


def _end(
    group: tuple[list[int], float], offsets: dict[int, float], widths: Sequence[float]
) -> float:
    """Return where a group of joined blocks ends [pt]."""
    last = group[0][-1]
    return group[1] + offsets[last] + widths[last]


def _without_trifles(
    placed: list[float],
    wanted: Sequence[float],
    widths: Sequence[float],
    row: tuple[float, float, float],
) -> list[float]:
    """Return the places with trifling shifts undone where nothing touches without them."""
    gap, low, high = row
    for i, left in enumerate(wanted):
        if not 0.0 < abs(placed[i] - left) < LEAST_SHIFT:
            continue
        before = placed[i - 1] + widths[i - 1] if i else low - gap
        after = placed[i + 1] if i + 1 < len(placed) else high + gap
        if before + 0.5 * gap <= left and left + widths[i] + 0.5 * gap <= after:
            placed[i] = left
    return placed


def _cross(segments: FloatArray, box: Box) -> bool:
    """Return whether any of the segments, shape (k, 2, 2), passes through a box."""
    low, high = np.array([box.left, box.bottom]), np.array([box.right, box.top])
    aside = (segments.max(axis=1) < low).any(axis=1) | (segments.min(axis=1) > high).any(axis=1)
    near = segments[~aside]
    if len(near) == 0:
        return False
    start, run = near[:, 0], near[:, 1] - near[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        one, two = (low - start) / run, (high - start) / run
    still = run == 0.0
    # Along an axis it does not move in, a segment near the box lies within it.
    enter = np.where(still, -np.inf, np.minimum(one, two)).max(axis=1)
    leave = np.where(still, np.inf, np.maximum(one, two)).min(axis=1)
    return bool((np.maximum(enter, 0.0) <= np.minimum(leave, 1.0)).any())
