"""Rows of seam labels: the mark at the end of its leader, name, state and reading beside it."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import Final

from hullcheck.answers.seams_records import SeamReport
from hullcheck.report import style
from hullcheck.report.labels import pushed_apart
from hullcheck.report.numbers import depth_text, height_text, mass_text
from hullcheck.report.seams_marks import RADIUS, end_mark
from hullcheck.report.seams_words import LEAST_LACKS, date_words, short_name, time_words
from hullcheck.report.sheet import Sheet, Side, Spot
from hullcheck.report.style import Layer, Type

HEIGHT: Final = 41.0
"""Of a label: name, state, reading [pt]."""
FLAG_HEIGHT: Final = 46.0
_INDENT: Final = 10.0
_EDGE: Final = 6.0
"""Labels end this far from the sheet's right edge [pt]."""
_WIDTHS: Final = (146.0, 128.0, 116.0)
"""How wide a label may be: less where there are many [pt]."""
NAME_TYPE: Final = style.Type(size=10.0, bold=True)
_KNEE: Final = 6.0
_FLAG_TYPE: Final = Type(size=9.0, bold=True, color=style.PAPER)

_WORDS: Final = {"sealed by the sheet, not in the log": "sealed, not in the log"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """What is written of a seam, and the spot its leader comes from; rank 0 is kept longest."""

    at: Spot
    state: str
    name: str
    words: str
    reading: str
    rank: int

    @property
    def leaked(self) -> bool:
        """Whether it is in the color of limits, its word in a flag."""
        return self.state == "leaked"


def label_of(seam: SeamReport, at: Spot, now: str, rank: int) -> Label:
    """Return the label of a seam at a spot."""
    words, reading = label_words(seam, now)
    return Label(
        at=at,
        state=seam.state,
        name=short_name(seam.name),
        words=words,
        reading=reading,
        rank=rank,
    )


def label_words(seam: SeamReport, now: str) -> tuple[str, str]:
    """Return a seam's state in words, and the date or reading under it."""
    if seam.state == "leaked" and seam.leak is not None:
        leak = seam.leak
        reading = f"{date_words(leak.at, now)}: {mass_text(leak.gain_g)}, {leak.minutes:g} min"
        return ("leaks" if seam.leak_is_inferred else "leaked"), reading
    if seam.state == "curing" and seam.sealed is not None and seam.sealed.cured_at is not None:
        return "curing", f"ready {time_words(seam.sealed.cured_at, now)}"
    if seam.state == "tested dry" and seam.dry_tests:
        last = seam.dry_tests[-1]
        lacks = [words for name, words in LEAST_LACKS.items() if name in seam.dry_lacks]
        day = f"{date_words(last.at, now)}, {last.minutes:g} min"
        return "tested dry", f"{date_words(last.at, now)}, {lacks[0]}" if lacks else day
    return _worked_on(seam, now) or (
        _WORDS.get(seam.state, seam.state),
        place_words(seam),
    )


def _worked_on(seam: SeamReport, now: str) -> tuple[str, str] | None:
    """Return the words and reading of a seam that was sealed or re-opened last, else None."""
    sealed, state = seam.sealed, seam.state
    if state == "re-opened" and seam.state_at is not None:
        return "re-opened", f"since {date_words(seam.state_at, now)}"
    if sealed is None or state not in {"sealed", "repaired, not tested since"}:
        return None
    if state == "sealed":
        tested = "no dry test yet" if seam.wet_tests else "not tested"
        return "sealed", f"{date_words(sealed.at, now)}, {tested}"
    return "repaired, not tested", f"sealed {date_words(sealed.at, now)}"


def place_words(seam: SeamReport) -> str:
    """Return how deep a seam lies, or how high above the water."""
    if seam.height_mm is None or seam.deepest_mm is None:
        return "no depth: she sinks"
    if seam.under_water:
        return f"down to {depth_text(seam.deepest_mm)} under water"
    return f"{height_text(seam.height_mm)} above water"


class RowForm:
    """How labels stand in a row: here each beside its mark, name over state over reading."""

    low = 8.0
    """Where a row begins [pt]."""
    apart = 12.0
    """Between labels [pt]."""

    def kept(
        self, sheet: Sheet, labels: Sequence[Label], elsewhere: Collection[int] = ()
    ) -> tuple[list[Label], list[Label]]:
        """Return the labels that fit in a row, from left to right, and those that do not.

        Parameters
        ----------
        sheet : Sheet
        labels : sequence of Label
            All that would stand in it.
        elsewhere : collection of int, optional
            Ranks of those that another view can name: they are the first to go.

        Notes
        -----
        Of either kind the least bad goes first.
        """
        kept = sorted(labels, key=lambda one: one.rank)
        left: list[Label] = []
        while kept and not self._fits(sheet, kept):
            going = next((one for one in reversed(kept) if one.rank in elsewhere), kept[-1])
            kept.remove(going)
            left.append(going)
        return sorted(kept, key=lambda one: (one.at[0], one.rank)), left

    def draw(
        self, sheet: Sheet, labels: Sequence[Label], top: float, edge: float, *, over: bool
    ) -> None:
        """Write labels in a row, each at a leader from its spot.

        Parameters
        ----------
        sheet : Sheet
        labels : sequence of Label
            From `kept`.
        top : float
            Upper end of the row [pt].
        edge : float
            The view's highest spot where the row is over it, its lowest where it is under; leaders
            step aside only beyond it [pt].
        over : bool
            Whether the row is over the view.
        """
        most, height = self._most(sheet, labels), self.height(sheet, labels)
        y, clear = self.mark_under(top, height, over=over)
        for label, (left, x) in zip(labels, self._places(sheet, labels, most), strict=True):
            _leader(sheet, label, (x, y), (edge, clear), over=over)
            end_mark(sheet, (x, y), label.state)
            self.write(sheet, label, (left, top), (most, height), over=over)

    def height(self, sheet: Sheet, labels: Sequence[Label]) -> float:
        """Return how high a row of labels is [pt], 0 without any."""
        del sheet
        if not labels:
            return 0.0
        return FLAG_HEIGHT if any(label.leaked for label in labels) else HEIGHT

    def widths(self) -> tuple[float, ...]:
        """Return how wide a label may be, less where there are many [pt]."""
        return _WIDTHS

    def width(self, sheet: Sheet, label: Label, most: float) -> float:
        """Return how wide a label is, at most so much [pt]."""
        texts = max(sheet.width_of(words, kind) for words, kind in label_lines(label))
        return min(2.0 * RADIUS + _INDENT + texts + (6.0 if label.leaked else 0.0), most)

    def mark_at(self, width: float) -> float:
        """Return where in a label of a width its mark stands, from its left end [pt]."""
        del width
        return RADIUS

    def mark_under(self, top: float, height: float, *, over: bool) -> tuple[float, float]:
        """Return the height of a row's marks, and how far under them leaders run plumb [pt]."""
        del over
        return top - RADIUS - 1.0, height - 2.0 * RADIUS

    def write(
        self,
        sheet: Sheet,
        label: Label,
        corner: Spot,
        size: tuple[float, float],
        *,
        over: bool,
    ) -> None:
        """Write a label's lines at its upper left corner; its size is that of the widest."""
        del over
        left, top = corner[0] + RADIUS + _INDENT, corner[1]
        room = size[0] - 2.0 * RADIUS - _INDENT
        for i, (whole, kind) in enumerate(label_lines(label)):
            words = sheet.fitted(whole, kind, room)
            if label.leaked and i == 1:
                leak_flag(sheet, (left + 3.0, top - 23.4), words)
                continue
            drop = (10.5, 22.2, 33.2)[i] + (5.0 if label.leaked and i == 2 else 0.0)
            sheet.text((left, top - drop), words, kind)

    def _places(
        self, sheet: Sheet, labels: Sequence[Label], most: float
    ) -> list[tuple[float, float]]:
        """Return the left end of each label of a row, and where its mark stands [pt]."""
        widths = [self.width(sheet, label, most) for label in labels]
        marks = [self.mark_at(width) for width in widths]
        wanted = [label.at[0] - mark for label, mark in zip(labels, marks, strict=True)]
        lefts = pushed_apart(wanted, widths, self.apart, self.low, sheet.width - _EDGE)
        return [(left, left + mark) for left, mark in zip(lefts, marks, strict=True)]

    def _most(self, sheet: Sheet, labels: Sequence[Label]) -> float:
        """Return how wide a label of a row may be [pt]."""
        for width in self.widths():
            if self._total(sheet, labels, width) <= sheet.width - _EDGE - self.low:
                return width
        return self.widths()[-1]

    def _fits(self, sheet: Sheet, labels: Sequence[Label]) -> bool:
        """Return whether labels fit in a row, none cut so far that it says nothing."""
        whole = self._total(sheet, labels, self._most(sheet, labels))
        return whole <= sheet.width - _EDGE - self.low

    def _total(self, sheet: Sheet, labels: Sequence[Label], width: float) -> float:
        """Return how wide a row is [pt]."""
        widths = sum(self.width(sheet, one, width) for one in labels)
        return widths + self.apart * (len(labels) - 1)


def label_lines(label: Label) -> tuple[tuple[str, Type], ...]:
    """Return a label's lines with their types."""
    name = NAME_TYPE.colored(style.LIMIT if label.leaked else style.INK)
    kind = _FLAG_TYPE if label.leaked else style.NAME
    return ((label.name, name), (label.words, kind), (label.reading, style.NOTE))


def leak_flag(sheet: Sheet, at: Spot, words: str, side: Side = "left") -> None:
    """Write the word of a leak in a filled flag."""
    inner = sheet.box_of(at, words, _FLAG_TYPE, side)
    box = replace(
        inner, left=inner.left - 3.0, right=inner.right + 3.0, bottom=at[1] - 3.6, top=at[1] + 9.4
    )
    sheet.block(box, style.LIMIT, layer=Layer.MARK)
    sheet.text(at, words, _FLAG_TYPE, side=side)


def _leader(
    sheet: Sheet, label: Label, mark: Spot, row: tuple[float, float], *, over: bool
) -> None:
    """Draw the leader from a spot to a mark; it steps aside between the view and the row."""
    edge, clear = row
    color = style.LIMIT if label.leaked else style.INK
    x, y = label.at
    if over:
        end = mark[1] - RADIUS
        foot = max(y, edge) + 3.0
        knee = min(foot + max(_KNEE, 0.3 * abs(mark[0] - x)), end - clear)
    else:
        end = mark[1] + RADIUS
        foot = min(y, edge) - 3.0
        knee = max(foot - max(_KNEE, 0.3 * abs(mark[0] - x)), end)
    path = [(x, y), (mark[0], end)]
    if abs(mark[0] - x) > 0.1:
        path = [(x, y), (x, foot), (mark[0], knee), (mark[0], end)]
    sheet.line(path, color=color, width=style.THIN, layer=Layer.LINE)
