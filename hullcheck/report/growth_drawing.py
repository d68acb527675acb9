"""Height above the water over what is swept, the water line at zero: the growth chart."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.sweep_records import SweepAnswer, SweepEnd
from hullcheck.report import growth_marks, marks, style
from hullcheck.report.display import shown
from hullcheck.report.growth_chart import Chart, Curves, cg_ends, draw_line, height_ends
from hullcheck.report.growth_labels import (
    BAND,
    blocks_of,
    ends_of,
    free_text,
    names_width,
    plumb,
    write_blocks,
    write_left,
    write_names,
    write_today,
)
from hullcheck.report.labels import Room
from hullcheck.report.numbers import given_length_text
from hullcheck.report.sheet import Box, Sheet
from hullcheck.report.style import Layer
from hullcheck.report.sweep_words import signed

_ABOVE: Final = 17.0
"""Under the chart's title [pt]."""
_OVER: Final = 1.06
"""Room over the highest line, as a share of the axis."""


class GrowthForm:
    """Where the chart stands on the sheet, and how its lines are named."""

    left = 60.0
    """Of the chart [pt]."""
    strokes = 23.0
    """Room of the strokes under the water's surface, 0 for none [pt]."""
    tight = False
    """Whether numbers stand without a unit beside the axis, and may be parted from their word."""

    def names_width(self, sheet: Sheet, curves: Curves) -> float:
        """Return the room right of the chart that names take [pt]."""
        return names_width(sheet, curves)

    def write_names(self, chart: Chart, curves: Curves, room: Room) -> None:
        """Name each line at its right end."""
        write_names(chart, curves, room)

    def water_end(self, chart: Chart) -> float:
        """Return where the water ends on the right [pt]."""
        return chart.box.right

    def values_end(self, chart: Chart, curves: Curves) -> float:
        """Return where the values under the water must end on the right [pt]."""
        del curves
        return chart.box.right - 3.0


WIDE: Final = GrowthForm()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Growth:
    """The chart that was drawn, the room left on it, and where its band ends [pt]."""

    chart: Chart
    room: Room
    bottom: float


def growth_chart(
    sheet: Sheet,
    answer: SweepAnswer,
    curves: Curves,
    top: float,
    *,
    high: float,
    form: GrowthForm = WIDE,
) -> Growth:
    """Draw the heights of what lets water in over what is swept, under a height of the sheet.

    Parameters
    ----------
    sheet : Sheet
    answer : SweepAnswer
    curves : Curves
        Of the same sweep.
    top : float
        Where its title stands [pt].
    high : float
        Height of the chart above its lowest line [pt].
    form : GrowthForm, optional
        Where it stands, and how its lines are named.

    Returns
    -------
    Growth
    """
    limit = limit_of(answer, "freeboard_mm")
    floor = limit if isinstance(limit, float) else None
    low, most, step = height_ends(curves, floor)
    right = sheet.width - style.MARGIN - form.names_width(sheet, curves)
    upper = top - _ABOVE
    box = Box(left=form.left, bottom=upper - high, right=right, top=upper)
    first, last = float(curves.values[0]), float(curves.values[-1])
    chart = Chart(
        sheet=sheet, box=box, first=first, last=last, low=low, high=low + _OVER * (most - low)
    )
    room = Room()
    # Nothing stands off the sheet, right or left.
    room.take(Box(left=-sheet.width, bottom=-1e4, right=2.0, top=0.0))
    room.take(Box(left=sheet.width - 2.0, bottom=-1e4, right=2.0 * sheet.width, top=0.0))
    bottom = box.bottom - BAND
    water = Box(left=box.left, bottom=bottom, right=form.water_end(chart), top=chart.y(0.0))
    marks.water(sheet, water, strokes=form.strokes > 0.0)
    _axis(chart, most, step, room, bare=form.tight)
    unit = f", {shown().length}" if form.tight else ""
    words = f"Height above the water{unit}"
    room.take(sheet.text((style.MARGIN, top), words, style.BOLD_NAME))
    _lines(chart, curves, room)
    if floor is not None:
        y = chart.y(floor)
        growth_marks.limit(sheet, (box.left, y), (box.right, y), "below")
        room.line([(box.left, y), (box.right, y)])
        room.line([(box.left, y - 3.0), (box.right, y - 3.0)], hair=True)
    room.line([(box.left, chart.y(0.0)), (box.right, chart.y(0.0))])
    draw_cg_limits(chart, answer, chart.y(0.0), room)
    _write(chart, answer, curves, room, floor=floor, form=form)
    return Growth(chart=chart, room=room, bottom=bottom)


def draw_cg_limits(chart: Chart, answer: SweepAnswer, bottom: float, room: Room) -> None:
    """Draw where her CG leaves the stations it must keep: upright limits from a height up."""
    for value, aft in cg_ends(answer):
        x, top = chart.x(value), chart.box.top
        growth_marks.limit(chart.sheet, (x, bottom), (x, top), "right" if aft else "left")
        room.line([(x, bottom), (x, top)])


def limit_of(answer: SweepAnswer, name: str) -> float | tuple[float, float] | None:
    """Return a limit by its key; None where there is none."""
    return next((check.limit for check in answer.rows[0].limits if check.name == name), None)


def _write(
    chart: Chart,
    answer: SweepAnswer,
    curves: Curves,
    room: Room,
    *,
    floor: float | None,
    form: GrowthForm,
) -> None:
    """Draw today, the ends and the limit's name, and write what belongs to them."""
    form.write_names(chart, curves, room)
    sheet, box = chart.sheet, chart.box
    today = answer.today
    if today is not None and chart.holds(today.value):
        plumb(chart, today.value, chart.y(0.0), box.bottom - 3.0, room)
    for end, _ in ends_of(answer):
        _end(chart, curves, end, room, floor)
    write_today(chart, answer, room, tight=form.tight)
    last = next((e for e, g in ends_of(answer) if g and _ends_today(answer, e)), None)
    if last is not None:
        write_left(chart, answer, last, room, tight=form.tight)
    if floor is not None:
        y, words = chart.y(floor), f"limit {given_length_text(floor)}"
        words = words.rpartition(" ")[0] if form.tight else words  # Its title names the unit.
        wide = sheet.width_of(words, style.BOLD_NAME)
        lefts = np.linspace(box.left + 4.0, box.right - wide - 4.0, 24).tolist()
        spots = [(x, y + 4.0, "left") for x in lefts] + [(x, y - 12.5, "left") for x in lefts]
        free_text(sheet, spots, words, style.BOLD_NAME, room)
    start, stop = box.left + max(form.strokes, 3.0), form.values_end(chart, curves)
    write_blocks(chart, blocks_of(answer), box.bottom - 2.0, room, (start, stop))
    lefts = np.linspace(start + 3.0, stop - 63.0, 12).tolist()
    # Just under the line, or where values fill that row, at the foot of their band.
    levels = (chart.y(0.0) - 9.5, box.bottom - BAND + 4.0)
    spots = [(x, y, "left") for y in levels for x in lefts]
    free_text(sheet, spots, "water surface", style.NOTE.colored(style.WATER), room)


def _ends_today(answer: SweepAnswer, end: SweepEnd) -> bool:
    """Return whether an end is that of the range she is in today."""
    today = answer.today
    return today is not None and any(
        kept.most_end is end and kept.least <= today.value <= kept.most for kept in answer.kept
    )


def _axis(chart: Chart, most: float, step: float, room: Room, *, bare: bool) -> None:
    """Draw the axis of heights with its numbers."""
    sheet, box = chart.sheet, chart.box
    count = math.floor(most / step + 1e-9)
    first = math.ceil(chart.low / step - 1e-9)
    sheet.line(
        [(box.left, chart.y(min(chart.low, 0.0))), (box.left, chart.y(most))], layer=Layer.HAIR
    )
    for k in range(first, count + 1):
        y = chart.y(k * step)
        sheet.line([(box.left - 3.5, y), (box.left, y)], layer=Layer.HAIR)
        number = signed(round(shown().length_of(k * step), 6))
        words = f"{number} {shown().length}" if k == count and not bare else number
        room.take(sheet.text((box.left - 6.0, y - 3.0), words, style.NAME, side="right"))
    room.line([(box.left, box.bottom), (box.left, box.top)])


def _lines(chart: Chart, curves: Curves, room: Room) -> None:
    """Draw every line soft, and bold in the color of limits where it is the lowest."""
    for one in curves.heights:
        soft = draw_line(chart, curves, one.heights_mm, color=style.SOFT, width=style.MIDDLE)
        lowest = one.lowest.copy()
        lowest[1:] |= one.lowest[:-1]
        draw_line(
            chart, curves, one.heights_mm, color=style.LIMIT, width=style.LIMIT_BAR, within=lowest
        )
        for piece in soft:
            room.line(piece)


def _end(chart: Chart, curves: Curves, end: SweepEnd, room: Room, floor: float | None) -> None:
    """Mark where a range ends: on the limit, or on the lowest line."""
    if not chart.holds(end.value):
        return
    row = curves.rows[int(np.argmin(np.abs(curves.values - end.value)))]
    height = 0.0 if row.freeboard_mm is None else row.freeboard_mm
    at = chart.spot(end.value, height if height >= chart.low else 0.0)
    if end.limit == "cg_range_mm":
        plumb(chart, end.value, chart.y(0.0), chart.box.bottom - 3.0, room)
        return
    plumb(chart, end.value, at[1], chart.box.bottom - 3.0, room)
    if end.limit == "freeboard_mm" and floor is not None:
        growth_marks.open_diamond(chart.sheet, at)
    else:
        growth_marks.open_circle(chart.sheet, at)
