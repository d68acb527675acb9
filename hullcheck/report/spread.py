"""Bodies side by side on a sheet, the length between them shortened where they would not fit."""

from dataclasses import dataclass
from itertools import pairwise
from typing import Final

_LEAST_GAP: Final = 16.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """Bodies side by side with the length between them shortened where they would not fit.

    `shifts` is what is added to each body's coordinate times the scale [pt]; `breaks` are the gaps
    that were shortened, each as its two ends on the sheet [pt].
    """

    scale: float
    shifts: tuple[float, ...]
    breaks: tuple[tuple[float, float], ...]


def spread(
    spans_mm: list[tuple[float, float]], rooms: list[float], scale: float, room: tuple[float, float]
) -> Spread:
    """Return where bodies stand side by side in a room, at a scale or less.

    Parameters
    ----------
    spans_mm : list of tuple
        Least and greatest coordinate of each body [mm].
    rooms : list of float
        Least width each needs on the sheet, for its label [pt].
    scale : float
        [pt/mm]
    room : tuple of float
        Ends of the room on the sheet [pt].
    """
    order = sorted(range(len(spans_mm)), key=lambda i: spans_mm[i][0])
    width = room[1] - room[0]
    gaps_mm = [spans_mm[b][0] - spans_mm[a][1] for a, b in pairwise(order)]
    while True:
        sizes = [max(rooms[i], (spans_mm[i][1] - spans_mm[i][0]) * scale) for i in order]
        spare = [
            sizes[k] - (spans_mm[i][1] - spans_mm[i][0]) * scale for k, i in enumerate(order)
        ]  # fmt: skip
        # A label's room beyond its body comes out of the gaps beside it.
        true = [
            g * scale - 0.5 * (spare[k] + spare[k + 1]) for k, g in enumerate(gaps_mm)
        ]  # fmt: skip
        left = width - sum(sizes)
        if left >= _LEAST_GAP * len(true) or sum(sizes) <= 0.6 * width or scale < 1e-9:
            break
        scale *= 0.95
    fits = sum(true) <= left and min(true, default=0.0) >= 0.0
    shared = left / len(true) if true else 0.0
    gaps = true if fits else [min(max(t, 2.0), shared) for t in true]
    total = sum(sizes) + sum(gaps)
    here = room[0] + 0.5 * (width - total)
    shifts, breaks = [0.0] * len(order), []
    for k, i in enumerate(order):
        middle = 0.5 * (spans_mm[i][0] + spans_mm[i][1])
        shifts[i] = here + 0.5 * sizes[k] - middle * scale
        here += sizes[k]
        if k < len(gaps):
            if gaps[k] < true[k] - 1e-6:
                breaks.append((here - 0.5 * spare[k], here + gaps[k] + 0.5 * spare[k + 1]))
            here += gaps[k]
    return Spread(scale=scale, shifts=tuple(shifts), breaks=tuple(breaks))


def together(
    spans_mm: list[tuple[float, float]], scale: float, room: tuple[float, float]
) -> Spread:
    """Return bodies where they truly stand to each other, at a scale or less, amid a room [pt]."""
    low, high = min(s[0] for s in spans_mm), max(s[1] for s in spans_mm)
    scale = min(scale, (room[1] - room[0]) / (high - low))
    shift = 0.5 * (room[0] + room[1]) - 0.5 * (low + high) * scale
    return Spread(scale=scale, shifts=(shift,) * len(spans_mm), breaks=())
