"""Height above the water by date: a bar on the water for each day she was weighed."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Final

from hullcheck.answers.history_records import HistoryAnswer, HistoryRow
from hullcheck.report import growth_marks, marks, style
from hullcheck.report.date_words import day_words
from hullcheck.report.display import shown
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.growth_chart import round_step
from hullcheck.report.heading import wrapped_facts, write_head
from hullcheck.report.history_text import finding_lines
from hullcheck.report.labels import pushed_apart
from hullcheck.report.numbers import depth_text, given_length_text, height_text, mass_text
from hullcheck.report.sheet import Box, Sheet
from hullcheck.report.style import Layer
from hullcheck.report.words import capital, shown_name

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["drawing_bytes", "history_drawing"]

NAME: Final = "history"
_LEFT: Final = 60.0
_HIGH: Final = 150.0
_BAND: Final = 60.0
"""Of water under its surface, for what is written there [pt]."""
_GAP: Final = 10.0
_TITLE: Final = 62
_KEPT_CHANGE_G: Final = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class _Day:
    """The last weigh-in of a day, what the day's weigh-ins added [g], whether it is the first."""

    row: HistoryRow
    when: datetime
    grew_g: float
    measured: bool
    first: bool


def history_drawing(answer: HistoryAnswer) -> "Figure":
    """Return the drawing of her heights above the water by date.

    Parameters
    ----------
    answer : HistoryAnswer
        From `hullcheck.answers.history_answer`.

    Returns
    -------
    matplotlib.figure.Figure
        8 in wide. A solid bar where she was weighed all-up, a dotted one where her mass is the
        ledger's; the day's mass and growth under it, where there is room the dates of all days,
        else of the first, the last and those that grew most.
    """
    days = _days(answer)
    with style.context(NAME):
        sheet = Sheet(NAME)
        end = write_head(sheet, title(answer), wrapped_facts(sheet, facts(answer)))
        chart = _Chart(sheet, answer, days, top=end - 14.0)
        chart.draw()
        sheet.cut(12.0 - chart.foot)
        sheet.caption(title(answer), alt_text(answer))
    return sheet.figure


def title(answer: HistoryAnswer) -> str:
    """Return the finding, at most 62 characters."""
    last = answer.rows[-1]
    mass, height = mass_text(last.mass_g), last.freeboard_mm
    if height is None:
        return f"{mass} at the last weigh-in, her height not known"
    name = capital(shown_name(str(last.at_opening), size=False))
    high = (
        f"{height_text(height)} above the water"
        if height >= 0.0
        else f"{depth_text(-height)} under water"
    )
    limit = answer.freeboard_limit_mm
    kept = "" if limit is None else f", limit {given_length_text(limit).split(' ')[0]}"
    texts = (f"{name} {high} at {mass}{kept}", f"{name} {high} at {mass}", f"{high} at {mass}")
    return next((text for text in texts if len(text) <= _TITLE), texts[-1][:_TITLE])


def facts(answer: HistoryAnswer) -> list[str]:
    """Return the facts under the finding: the weigh-ins, and what she grew over plan."""
    last, planned = answer.rows[-1], answer.planned_mass_g
    said = [finding_lines(answer)[0]]
    if planned is not None:
        over = last.mass_g - planned
        way = "over" if over >= 0.0 else "under"
        said.append(f"{mass_text(abs(over))} {way} the {mass_text(planned)} of the plan.")
    return said


def alt_text(answer: HistoryAnswer) -> str:
    """Return the drawing in words."""
    said = [title(answer), *(line.rstrip(".") for line in facts(answer))]
    for day in _days(answer):
        row, height = day.row, day.row.freeboard_mm
        if height is not None:
            where = shown_name(str(row.at_opening), size=False)
            high = height_text(height) if height >= 0.0 else f"{depth_text(-height)} under water"
            said.append(f"{day_words(day.when)}: {mass_text(row.mass_g)}, {high} at the {where}")
    return ". ".join(said)


def _days(answer: HistoryAnswer) -> list[_Day]:
    """Return the days she was weighed."""
    found: dict[str, list[HistoryRow]] = {}
    for row in answer.rows:
        found.setdefault(row.at[:10], []).append(row)
    return [
        _Day(
            row=rows[-1],
            when=datetime.fromisoformat(rows[-1].at),
            grew_g=math.fsum(row.grew_g for row in rows),
            measured=any(row.measured for row in rows),
            first=first and answer.planned_mass_g is not None,
        )
        for first, rows in zip((True, *[False] * len(found)), found.values(), strict=False)
    ]


class _Chart:
    """The bars on the water, and what is written at them."""

    def __init__(
        self, sheet: Sheet, answer: HistoryAnswer, days: Sequence[_Day], top: float
    ) -> None:
        self.sheet, self.answer, self.days = sheet, answer, days
        self.left, self.right = _LEFT, sheet.width - style.MARGIN
        heights = [d.row.freeboard_mm for d in days if d.row.freeboard_mm is not None]
        every = [*heights, 0.0, answer.freeboard_limit_mm or 0.0]
        low, high = min(every), max(*every, 1.0)
        self.top = top - 16.0
        self.scale = (_HIGH - 26.0) / (high - min(low, 0.0))
        self.water_y = self.top - 26.0 - self.scale * high
        self.foot = min(self.water_y, self.y(low) - (20.0 if low < 0.0 else 0.0)) - _BAND
        self.high = high

    def y(self, height_mm: float) -> float:
        """Return where a height stands [pt]."""
        return self.water_y + self.scale * height_mm

    def x(self, when: datetime) -> float:
        """Return where a day stands [pt]."""
        first, last = self.days[0].when, self.days[-1].when
        span = (last - first).total_seconds()
        share = 0.5 if span == 0.0 else (when - first).total_seconds() / span
        return self.left + 40.0 + share * (self.right - self.left - 80.0)

    def draw(self) -> None:
        """Draw water, axis, limit and bars, and write what belongs to them."""
        surface = Box(left=self.left, bottom=self.foot, right=self.right, top=self.water_y)
        marks.water(self.sheet, surface, strokes=False)
        self._axis()
        limit = self.answer.freeboard_limit_mm
        if limit is not None:
            y = self.y(limit)
            growth_marks.limit(self.sheet, (self.left, y), (self.right, y), "below")
        self._bars()
        self._labels()

    def _axis(self) -> None:
        """Draw the axis of heights; the limit is named at its left end."""
        sheet, unit = self.sheet, 1.0 / shown().length_of(1.0)
        sheet.text(
            (style.MARGIN, self.top + 4.0),
            "Height of her lowest opening above the water",
            style.BOLD_NAME,
        )
        step = round_step(self.high / unit, 4.0) * unit
        sheet.line([(self.left, self.water_y), (self.left, self.y(self.high))], layer=Layer.HAIR)
        count = math.floor(self.high / step + 1e-9)
        limit = self.answer.freeboard_limit_mm
        for k in range(count + 1):
            y = self.y(k * step)
            sheet.line([(self.left - 3.5, y), (self.left, y)], layer=Layer.HAIR)
            if limit is not None and abs(y - self.y(limit)) < 11.0:
                continue
            number = f"{round(shown().length_of(k * step), 6):g}"
            words = f"{number} {shown().length}" if k == count else number
            sheet.text((self.left - 6.0, y - 3.0), words, style.NAME, side="right")
        if limit is not None:
            words = f"limit {given_length_text(limit).split(' ')[0]}"
            sheet.text((self.left - 6.0, self.y(limit) - 3.0), words, style.BOLD_NAME, side="right")

    def _bars(self) -> None:
        """Draw a bar a day; what breaks the limit is in its color."""
        for day in self.days:
            height = day.row.freeboard_mm
            if height is None:
                continue
            at = (self.x(day.when), self.y(height))
            kind: marks.Kind = "plain" if day.row.holds else "limiting"
            marks.height_bar(self.sheet, at, self.water_y, kind=kind, dotted=not day.measured)

    def _labels(self) -> None:
        """Write height over and date, mass and growth under each day there is room for."""
        sheet = self.sheet
        kept = list(self.days)
        while len(kept) > 2 and not self._fit(kept):
            kept.remove(min(kept[1:-1], key=lambda day: abs(day.grew_g)))
        widths = [self._width(day) for day in kept]
        wanted = [self.x(day.when) - 0.5 * w for day, w in zip(kept, widths, strict=True)]
        lefts = pushed_apart(wanted, widths, _GAP, self.left + 2.0, self.right)
        base = self.foot + _BAND - 16.0
        for day, left, width in zip(kept, lefts, widths, strict=True):
            middle = left + 0.5 * width
            for k, (words, kind) in enumerate(self._lines(day)):
                sheet.text((middle, base - 12.0 * k), words, kind, side="center")
            height = day.row.freeboard_mm
            if height is not None:
                self._value(day, height, middle)
        dropped = len(self.days) - len(kept)
        note = "the last weigh-in of each day"
        if dropped:
            note += f"; {dropped} more {'days' if dropped > 1 else 'day'} without a date here"
        sheet.text((self.right, self.top + 4.0), note, style.NOTE, side="right")

    def _value(self, day: _Day, height: float, middle: float) -> None:
        """Write a day's height over its bar, or under one that hangs down."""
        sheet = self.sheet
        if height >= 0.0:
            words, y = height_text(height), self.y(height) + 8.0
        else:
            words, y = f"−{depth_text(-height)}", self.y(height) - 15.0
        kind = style.NUMBER if day.row.holds else style.NUMBER.colored(style.LIMIT)
        at = self.x(day.when)
        # Where its texts had to move aside the number goes along, tied to the bar by a thin line.
        if abs(middle - at) > 2.5:
            y += 9.0
            sheet.line([(at, self.y(height) + 4.0), (middle, y - 3.0)], layer=Layer.HAIR)
        sheet.text((middle, y), words, kind, side="center")

    def _fit(self, days: Sequence[_Day]) -> bool:
        """Return whether the texts of days stand in a row."""
        return sum(self._width(day) + _GAP for day in days) <= self.right - self.left

    def _width(self, day: _Day) -> float:
        """Return how wide a day's texts are [pt]."""
        lines = [*self._lines(day), (self._height_words(day), style.NUMBER)]
        return max(self.sheet.width_of(words, kind) for words, kind in lines)

    @staticmethod
    def _height_words(day: _Day) -> str:
        """Return the height over a bar."""
        height = day.row.freeboard_mm
        if height is None:
            return ""
        return height_text(height) if height >= 0.0 else f"−{depth_text(-height)}"

    @staticmethod
    def _lines(day: _Day) -> list[tuple[str, style.Type]]:
        """Return what is written under a day, on the water's tint."""
        grew = day.grew_g
        said = [
            (day_words(day.when), style.NAME),
            (mass_text(day.row.mass_g), style.BOLD_NAME),
            ("weighed" if day.measured else "by ledger", style.NOTE),
        ]
        if abs(grew) >= _KEPT_CHANGE_G:
            sign = "+" if grew > 0.0 else "−"
            on = " on plan" if day.first else ""
            said.append((f"{sign}{mass_text(abs(grew))}{on}", style.NOTE))
        return said
