"""Lines and end marks of seams by state: the more solid, the more trusted."""

from collections.abc import Callable
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.report import style
from hullcheck.report.sheet import Sheet, Spot
from hullcheck.report.style import Layer, Pattern

RADIUS: Final = 6.2
"""Of an end mark [pt]."""
SHORT: Final = 9.0
"""A line shorter than this on the sheet is drawn as a spot: no pattern shows in it [pt]."""
_SPOT: Final = 2.2
_LINE: Final = 2.0
_RING: Final = 1.6
_DOTS: Final[Pattern] = (0.0, (1.0, 1.3))
_BROKEN: Final[Pattern] = (0.0, (3.2, 1.2, 0.8, 1.2))
_DASHES: Final[Pattern] = (0.0, (4.0, 2.0))
_APART: Final = 0.6
"""Points of a line nearer than this on the sheet are one [pt]."""
_ZIG: Final = 3.4
_ZAG: Final = 2.6


def line(sheet: Sheet, path: FloatArray, state: str) -> None:
    """Draw what is seen of a seam, shape (k, 2) on the sheet, by its state."""
    path = _without_spikes(path)
    if _length(path) < SHORT:
        x, y = path.mean(axis=0)
        spot(sheet, (float(x), float(y)), state)
        return
    if state == "leaked":
        zigzag = _zigzag(path)
        sheet.line(zigzag, color=style.LIMIT, width=_LINE, casing=True, layer=Layer.BAR)
        return
    if state == "tested dry":
        sheet.line(path, width=3.8, layer=Layer.BAR)
        sheet.line(path, color=style.PAPER, width=1.6, layer=Layer.BAR + 0.1)
        return
    pattern, width = _PATTERNS.get(state, (_DOTS, _LINE))
    sheet.line(path, width=width, pattern=pattern, layer=Layer.BAR)


def spot(sheet: Sheet, at: Spot, state: str) -> None:
    """Draw a small hole, or what is too short for a pattern, by its state."""
    color = style.LIMIT if state == "leaked" else style.INK
    filled = state in _FILLED
    sheet.disc(
        at,
        _SPOT + (0.6 if state == "leaked" else 0.0),
        fill=color if filled else style.PAPER,
        edge=color,
        width=1.2,
        layer=Layer.BAR + 0.2,
    )


def end_mark(sheet: Sheet, at: Spot, state: str) -> None:
    """Draw the mark at the end of a seam's leader."""
    if state == "leaked":
        _drop(sheet, at)
        return
    fill = style.INK if state in _FILLED else style.PAPER
    sheet.disc(at, RADIUS, fill=fill, edge=style.INK, width=_RING, layer=Layer.MARK)
    inside = _INSIDE.get(state)
    if inside is not None:
        inside(sheet, at)


def _tick(sheet: Sheet, at: Spot) -> None:
    """Draw the tick of a seam that was tested dry."""
    x, y = at
    path = [(x - 2.9, y + 0.1), (x - 0.8, y - 2.2), (x + 3.0, y + 2.3)]
    sheet.line(path, color=style.PAPER, width=1.7, layer=Layer.MARK + 0.1)


def _hands(sheet: Sheet, at: Spot) -> None:
    """Draw the hands of the clock of a seam that cures."""
    x, y = at
    path = [(x, y + 3.8), (x, y), (x + 2.7, y)]
    sheet.line(path, width=1.4, layer=Layer.MARK + 0.1)


def _half(sheet: Sheet, at: Spot) -> None:
    """Fill the lower half: repaired, and not tested since."""
    turn = np.linspace(np.pi, 2.0 * np.pi, 25)
    rim = np.stack((np.cos(turn), np.sin(turn)), axis=1) * RADIUS + np.array(at)
    sheet.area([rim], fill=style.INK, layer=Layer.MARK + 0.1)


def _strip(sheet: Sheet, at: Spot) -> None:
    """Draw a strip of tape across: closed by the sheet's word alone."""
    x, y = at
    sheet.line([(x - RADIUS, y), (x + RADIUS, y)], width=3.0, layer=Layer.MARK + 0.1)


def _slash(sheet: Sheet, at: Spot) -> None:
    """Draw the slash of a seam that was sealed and is open again."""
    x, y = at
    reach = 0.72 * RADIUS
    path = [(x - reach, y - reach), (x + reach, y + reach)]
    sheet.line(path, width=_RING, layer=Layer.MARK + 0.1)


def _drop(sheet: Sheet, at: Spot) -> None:
    """Draw the drop of a seam that leaked."""
    x, y = at
    turn = np.linspace(-1.25 * np.pi, 0.25 * np.pi, 33)
    radius = 0.86 * RADIUS
    round_ = np.stack((np.cos(turn), np.sin(turn)), axis=1) * radius + np.array([x, y - 1.2])
    tip = np.array([[x, y + 1.35 * RADIUS]])
    sheet.area([np.concatenate((round_, tip))], fill=style.LIMIT, layer=Layer.MARK)


_PATTERNS: Final[dict[str, tuple[Pattern, float]]] = {
    "curing": (_DASHES, _LINE),
    "re-opened": (_BROKEN, _LINE),
    "sealed": (style.SOLID, 1.7),
    "repaired, not tested since": (style.SOLID, 1.7),
    "taped": (style.SOLID, 1.0),
    "sealed by the sheet, not in the log": (style.SOLID, 1.0),
}
"""The line of each state; all others are dots: not sealed, or only supposed."""
_INSIDE: Final[dict[str, Callable[[Sheet, Spot], None]]] = {
    "tested dry": _tick,
    "curing": _hands,
    "repaired, not tested since": _half,
    "re-opened": _slash,
    "taped": _strip,
    "sealed by the sheet, not in the log": _strip,
}
_FILLED: Final = frozenset({"sealed", "tested dry", "leaked"})


def _length(path: FloatArray) -> float:
    """Return how long a path is [pt]."""
    return float(np.linalg.norm(np.diff(path, axis=0), axis=1).sum())


def _without_spikes(path: FloatArray) -> FloatArray:
    """Return a path without points that are next to each other, and without ends turned back.

    Where a seam runs over the edge of what is seen its last point may lie back of the one before
    it, and a mitered corner there would be a spike.
    """
    kept = [path[0]]
    for point in path[1:]:
        if float(np.linalg.norm(point - kept[-1])) >= _APART:
            kept.append(point)
    for end in (0, -1):
        while len(kept) > 2 and _turns_back(kept[:3] if end == 0 else kept[-3:]):
            kept.pop(end)
    return np.array(kept)


def _turns_back(three: list[FloatArray]) -> bool:
    """Return whether the way through three points turns by more than a right angle."""
    a, b, c = three
    return bool((b - a) @ (c - b) < 0.0)


def _zigzag(path: FloatArray) -> FloatArray:
    """Return a path as a zigzag about it."""
    runs = np.linalg.norm(np.diff(path, axis=0), axis=1)
    along = np.concatenate(([0.0], np.cumsum(runs)))
    count = max(round(float(along[-1]) / _ZIG), 2)
    places = np.linspace(0.0, along[-1], count + 1)
    points = np.stack([np.interp(places, along, path[:, k]) for k in range(2)], axis=1)
    ways = np.gradient(points, axis=0)
    sizes = np.linalg.norm(ways, axis=1, keepdims=True)
    ways = np.divide(ways, sizes, out=np.zeros_like(ways), where=sizes > 0.0)
    aside = np.stack((-ways[:, 1], ways[:, 0]), axis=1)
    signs = np.where(np.arange(count + 1) % 2 == 0, 1.0, -1.0)[:, None]
    swung: FloatArray = points + signs * aside * 0.5 * _ZAG
    return swung
