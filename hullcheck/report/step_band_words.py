"""Words in a row of a block of rules: where they stand clear of bar, mark and each other."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.report import style
from hullcheck.report.sheet import Box, Sheet
from hullcheck.report.step_scale import Scale
from hullcheck.report.step_words import amount_text
from hullcheck.report.style import Layer

LEFT: Final = 214.0
"""Where scales begin, right of the rules' names [pt]."""
_CLEAR: Final = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A block being drawn: its scale on the sheet."""

    sheet: Sheet
    quantity: str
    scale: Scale
    right: float
    main: float | None

    def x(self, value: float) -> float:
        """Return where a value stands on the sheet [pt]."""
        return LEFT + self.scale.share(value) * (self.right - LEFT)


def write_not_comparable(block: Block, y: float, bar: Box | None, lines: list[float]) -> Box:
    """Write that a rule is not comparable where neither its bar nor her line stands."""
    words, kind = "not comparable", style.NOTE
    width = block.sheet.width_of(words, kind)
    ends = [block.right - width, LEFT]
    for x in lines:
        ends += [x + 8.0, x - 8.0 - width]
    if bar is not None:
        ends += [bar.left - 8.0 - width, bar.right + 8.0]
    at = next((at for at in ends if _is_free(block, at, width, (bar, lines))), ends[0])
    return block.sheet.text((at, y - 3.0), words, kind)


def _is_free(block: Block, at: float, width: float, row: tuple[Box | None, list[float]]) -> bool:
    """Return whether words of a width may stand at an x: clear of bar and lines, on the scale."""
    bar, lines = row
    clear = all(not at - _CLEAR < x < at + width + _CLEAR for x in lines)
    beside = bar is None or at + width + 4.0 < bar.left or bar.right + 4.0 < at
    return clear and beside and at >= LEFT and at + width <= block.right + 0.1


def write_band(block: Block, bar: Box, y: float, row: tuple[str, list[float], list[Box]]) -> Box:
    """Write a band in its bar, or beside it where it is too narrow or the craft's line crosses."""
    words, lines, taken = row
    sheet, kind = block.sheet, style.NOTE.colored(style.INK)
    width = sheet.width_of(words, kind)
    inside = [0.5 * (bar.left + bar.right - width)]
    for x in lines:
        inside += [x + _CLEAR + 2.0, x - _CLEAR - 2.0 - width]
    inside += [bar.left + 4.0, bar.right - 8.0 - width]
    fits = [at for at in inside if bar.left + 3.0 <= at and at + width <= bar.right - 5.0]
    beside = [bar.right + 4.0, bar.left - 4.0 - width]
    for x in lines:
        beside += [max(bar.right, x) + 6.0, min(bar.left, x) - 6.0 - width]
    for box in taken:
        beside += [box.right + 6.0, box.left - 6.0 - width]
    for at in [*fits, *beside]:
        box = sheet.box_of((at, y - 3.0), words, kind)
        clear = all(not box.left - _CLEAR < x < box.right + _CLEAR for x in lines)
        free = not any(box.grown(2.0).meets(other) for other in taken)
        on_bar = at in fits or box.right < bar.left or box.left > bar.right
        if clear and free and on_bar and box.left > LEFT - 40.0 and box.right <= block.right:
            return (
                sheet.text((at, y - 3.0), words, kind)
                if at in fits
                else (plain(sheet, at, y, words, kind))
            )
    return plain(sheet, block.right - width, y, words, kind)


def draw_own_mark(block: Block, value: float, y: float, row: tuple[list[float], Box | None]) -> Box:
    """Draw her mark by another line than the block's: an open diamond with its value."""
    lines, bar = row
    sheet, x, size = block.sheet, block.x(value), 3.9
    corners = np.array([(x, y - size), (x + size, y), (x, y + size), (x - size, y)])
    sheet.area([corners], fill=style.PAPER, edge=style.INK, width=1.3, layer=Layer.MARK + 0.2)
    words = amount_text(value, block.quantity)
    width = sheet.width_of(words, style.BOLD_NAME)
    edges = [*lines, *([] if bar is None else [bar.left, bar.right])]
    sides = [x + 7.0, x - 7.0 - width]
    for edge in sorted(edges, key=lambda e: abs(e - x)):
        sides += [max(edge, x) + 7.0, min(edge, x) - 7.0 - width]
    good = [
        at
        for at in sides
        if at > LEFT - 40.0
        and at + width <= block.right
        and not any(at - _CLEAR < edge < at + width + _CLEAR for edge in edges)
    ]
    at = good[0] if good else sides[0]
    box = sheet.text((at, y - 3.2), words, style.BOLD_NAME)
    if at > x + 8.0 or at + width < x - 8.0:
        return box
    return Box(
        left=min(box.left, x - size), bottom=box.bottom, right=max(box.right, x + size), top=box.top
    )


def plain(sheet: Sheet, at: float, y: float, words: str, kind: style.Type) -> Box:
    """Write words beside bars, on paper."""
    return sheet.text((at, y - 3.0), words, kind)
