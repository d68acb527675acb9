"""Labels in a row over or under what they name, with thin leaders to it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from hullcheck.report import marks, style
from hullcheck.report.labels import pushed_apart
from hullcheck.report.sheet import Sheet, Spot
from hullcheck.report.style import Layer

_LINE: Final = 10.6
_GAP: Final = 12.0
_KNEE: Final = 9.0
_FLAG_ROOM: Final = 4.0
_CLEAR: Final = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A label, the spot its leader ends at [pt], and whether it stands in a flag.

    `clear` is how far the leader stays off that spot [pt].
    """

    foot: Spot
    number: str
    lines: tuple[str, ...] = ()
    flag: bool = False
    clear: float = _CLEAR


def row_height(labels: Sequence[Label]) -> float:
    """Return how high a row of labels is [pt]."""
    return max((_height(label) for label in labels), default=0.0)


def draw_row(sheet: Sheet, labels: Sequence[Label], baseline: float, *, up: bool) -> None:
    """Write labels in a row and draw their leaders.

    Parameters
    ----------
    sheet : Sheet
    labels : sequence of Label
        Those of one row; they are put in the order of their feet.
    baseline : float
        The row's lower end where it stands over what it names, its upper end under it [pt].
    up : bool
        Whether it stands over.
    """
    ordered = sorted(labels, key=lambda label: (label.foot[0], label.number))
    widths = [_width(sheet, label) for label in ordered]
    wanted = [label.foot[0] - 0.5 * width for label, width in zip(ordered, widths, strict=True)]
    low, high = style.MARGIN, sheet.width - style.MARGIN
    lefts = pushed_apart(wanted, widths, _GAP, low, high)
    for label, left, width in zip(ordered, lefts, widths, strict=True):
        middle = left + 0.5 * width
        y = (baseline + _height(label) if up else baseline) - 13.0
        if label.flag:
            marks.flag(sheet, (middle, y), label.number, side="center")
            y -= _FLAG_ROOM
        else:
            sheet.text((middle, y), label.number, style.NUMBER, side="center")
        for line in label.lines:
            y -= _LINE
            sheet.text((middle, y), line, style.NOTE, side="center")
        _leader(sheet, label, middle, (baseline - 1.0) if up else baseline, up=up)


def _leader(sheet: Sheet, label: Label, middle: float, start: float, *, up: bool) -> None:
    """Draw the thin line from a label to its foot, jogged where the label was moved."""
    color = style.LIMIT if label.flag else style.SOFT
    x, y = label.foot
    knee = start - _KNEE if up else start + _KNEE
    path = [(middle, start), (x, knee), (x, y + (label.clear if up else -label.clear))]
    sheet.line(path, color=color, width=style.THIN, casing=True, layer=Layer.LINE)


def _height(label: Label) -> float:
    """Return how high a label is [pt]."""
    return 16.0 + _LINE * len(label.lines) + (_FLAG_ROOM if label.flag else 0.0)


def _width(sheet: Sheet, label: Label) -> float:
    """Return how wide a label is [pt]."""
    kind = style.FLAG if label.flag else style.NUMBER
    wide = sheet.width_of(label.number, kind) + (8.0 if label.flag else 0.0)
    return max([wide, *(sheet.width_of(line, style.NOTE) for line in label.lines)])
