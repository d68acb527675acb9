"""Limits in a chart, level and upright, with short ticks on their forbidden side."""

from typing import Final, Literal

import numpy as np

from hullcheck.report import style
from hullcheck.report.sheet import Sheet, Spot
from hullcheck.report.style import Layer

_APART: Final = 4.4
"""Between ticks [pt]."""
_LONG: Final = (2.6, 3.4)
_WIDE: Final = 1.1

Forbidden = Literal["below", "above", "left", "right"]


def limit(sheet: Sheet, one: Spot, two: Spot, forbidden: Forbidden) -> None:
    """Draw a limit from a spot to another with ticks on its forbidden side, as one path."""
    cased = forbidden in {"below", "above"}
    sheet.line([one, two], width=_WIDE, casing=cased, layer=Layer.LINE - 0.1)
    start, run = np.array(one), np.array(two) - np.array(one)
    count = max(int(float(np.hypot(*run)) // _APART), 1)
    tick = {
        "below": (-_LONG[0], -_LONG[1]),
        "above": (_LONG[0], _LONG[1]),
        "left": (-_LONG[1], -_LONG[0]),
        "right": (_LONG[1], _LONG[0]),
    }[forbidden]
    gap = (float("nan"), float("nan"))
    path: list[Spot] = []
    for i in range(count):
        x, y = start + (i + 0.6) / count * run
        path += [(float(x), float(y)), (float(x) + tick[0], float(y) + tick[1]), gap]
    sheet.line(path, width=style.HAIR, layer=Layer.LINE - 0.1)


def open_diamond(sheet: Sheet, at: Spot) -> None:
    """Draw where an opening meets its limit."""
    size = 4.3
    corners = np.array([(0.0, -size), (size, 0.0), (0.0, size), (-size, 0.0)]) + at
    sheet.area([corners], fill=style.PAPER, edge=style.LIMIT, width=1.3, layer=Layer.MARK)


def open_circle(sheet: Sheet, at: Spot) -> None:
    """Draw an event on a curve."""
    sheet.disc(at, 3.6, fill=style.PAPER, edge=style.INK, width=1.3, layer=Layer.MARK)


def dot(sheet: Sheet, at: Spot) -> None:
    """Draw where she is today on a curve."""
    sheet.disc(at, 3.4, fill=style.INK, layer=Layer.MARK)
