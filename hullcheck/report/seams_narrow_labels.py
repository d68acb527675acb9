"""Labels of the seams' narrow drawing: words in a column over or under their mark."""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from hullcheck.answers.seams_records import SeamReport
from hullcheck.report import style
from hullcheck.report.labels import evened
from hullcheck.report.page_rows import glued
from hullcheck.report.seams_labels import Label, RowForm, label_lines, label_words, leak_flag
from hullcheck.report.seams_marks import RADIUS, end_mark
from hullcheck.report.seams_words import short_name
from hullcheck.report.sheet import Sheet, Spot
from hullcheck.report.style import Type

_WIDTHS: Final = (116.0, 96.0, 84.0, 77.0)
"""How wide a label may be, less where there are many [pt]."""
_NEAR: Final = 12.0
"""A leader that steps aside no further than this is as good as a plumb one [pt]."""
_PITCH: Final = 10.8
"""From a line to the next [pt]."""
_FLAG: Final = 3.8
"""More over and under the word of a leak [pt]."""
_MARK: Final = 2.0 * RADIUS + 4.0
"""Height of a mark with its room [pt]."""
_DAY: Final = re.compile(r"(?<=\d) (?=[A-Z][a-z]{2}\b)")
"""Between a day and its month, which are not parted at the end of a line."""
_LIST_PITCH: Final = 15.5
_LIST_INDENT: Final = 2.0 * RADIUS + 6.0
_LEFT: Final = 6.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    """A line of a label: its words, their type, and whether they stand in a flag."""

    words: str
    kind: Type
    flag: bool = False


class ColumnForm(RowForm):
    """Labels as columns in the middle of their marks, each text in up to two lines."""

    low = _LEFT
    apart = 8.0

    def height(self, sheet: Sheet, labels: Sequence[Label]) -> float:
        """Return how high a row of labels is [pt], 0 without any."""
        if not labels:
            return 0.0
        most = self._most(sheet, labels)
        return _MARK + max(_height(_lines(sheet, label, most)) for label in labels)

    def widths(self) -> tuple[float, ...]:
        """Return how wide a label may be, less where there are many [pt]."""
        return _WIDTHS

    def _most(self, sheet: Sheet, labels: Sequence[Label]) -> float:
        """Return how wide a label of a row may be [pt].

        Less than fits where none is cut for it, and leaders step aside less.
        """
        room = super()._most(sheet, labels)
        best, least = room, (math.inf, math.inf)
        for width in (one for one in _WIDTHS if one <= room):
            places = self._places(sheet, labels, width)
            aside = [abs(x - one.at[0]) for one, (_, x) in zip(labels, places, strict=True)]
            lines = [line.words for label in labels for line in _lines(sheet, label, width)]
            cost = sum(words.endswith("…") for words in lines), max([_NEAR, *aside])
            if cost < least:
                best, least = width, cost
        return best

    def width(self, sheet: Sheet, label: Label, most: float) -> float:
        """Return how wide a label is, at most so much [pt]."""
        return max(_width(sheet, line) for line in _lines(sheet, label, most))

    def mark_at(self, width: float) -> float:
        """Return where in a label of a width its mark stands, from its left end [pt]."""
        return 0.5 * width

    def mark_under(self, top: float, height: float, *, over: bool) -> tuple[float, float]:
        """Return the height of a row's marks, and how far under them leaders run plumb [pt]."""
        return top - (height - RADIUS - 1.0 if over else RADIUS + 1.0), 0.0

    def write(
        self,
        sheet: Sheet,
        label: Label,
        corner: Spot,
        size: tuple[float, float],
        *,
        over: bool,
    ) -> None:
        """Write a label's lines over its mark, or under it, from its upper left corner."""
        lines = _lines(sheet, label, size[0])
        middle = corner[0] + 0.5 * self.width(sheet, label, size[0])
        y = corner[1] - (size[1] - _MARK - _height(lines) if over else _MARK)
        for line in lines:
            y -= _pitch(line)
            if line.flag:
                leak_flag(sheet, (middle, y + 1.0 + _FLAG), line.words, side="center")
            else:
                sheet.text((middle, y + 2.0), line.words, line.kind, side="center")


def write_list(sheet: Sheet, seams: Sequence[SeamReport], now: str, top: float) -> float:
    """Write the seams that found no room, by mark and state, and return where that ends [pt]."""
    groups: dict[tuple[str, str], list[str]] = {}
    for seam in seams:
        key = (seam.state, label_words(seam, now)[0])
        groups.setdefault(key, []).append(short_name(seam.name))
    y, width = top, sheet.width - _LIST_INDENT - style.MARGIN - _LEFT
    for (state, words), names in groups.items():
        leaked = state == "leaked"
        kind = style.BOLD_NAME.colored(style.LIMIT) if leaked else style.NAME
        y -= _LIST_PITCH
        end_mark(sheet, (style.MARGIN + RADIUS, y + 3.2), state)
        for i, line in enumerate(sheet.wrapped(f"{words}: {', '.join(names)}", kind, width)):
            y -= _PITCH if i else 0.0
            sheet.text((style.MARGIN + _LIST_INDENT, y), sheet.fitted(line, kind, width), kind)
    return y - 3.0


def _lines(sheet: Sheet, label: Label, most: float) -> list[_Line]:
    """Return a label's lines, none wider than a width [pt]."""
    lines = []
    for i, (words, kind) in enumerate(label_lines(label)):
        flag = label.leaked and i == 1
        room = most - (6.0 if flag else 0.0)
        whole = _DAY.sub("\N{NO-BREAK SPACE}", glued(words))
        parts = [sheet.fitted(words, kind, room)] if flag else evened(sheet, whole, kind, room)
        lines += [_Line(words=one, kind=kind, flag=flag) for one in parts]
    return lines


def _pitch(line: _Line) -> float:
    """Return how high a line is [pt]."""
    return _PITCH + (2.0 * _FLAG if line.flag else 0.0)


def _height(lines: Sequence[_Line]) -> float:
    """Return how high lines are [pt]."""
    return sum(_pitch(line) for line in lines)


def _width(sheet: Sheet, line: _Line) -> float:
    """Return how wide a line is [pt]."""
    return sheet.width_of(line.words, line.kind) + (6.0 if line.flag else 0.0)
