"""The righting chart on the sheet, and its labels: staircase, upsetting arm, what lies off it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.flotation.upsetting import Upset
from hullcheck.geometry.arrays import FloatArray
from hullcheck.report import marks, style
from hullcheck.report import righting_events as events
from hullcheck.report.numbers import angle_text
from hullcheck.report.righting_words import fine_arm_text
from hullcheck.report.sheet import Box, Sheet, Spot
from hullcheck.report.style import Layer

_LINE: Final = 13.0
"""Between the lines of what lies off the drawing [pt]."""
_ARROW: Final = 20.0
_COLORS: Final = {"opening": style.LIMIT, "beyond": style.SOFT}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Chart:
    """Arms over heel on the sheet: the box, and what its axes hold [deg, mm]."""

    sheet: Sheet
    box: Box
    end_deg: float
    low_mm: float
    high_mm: float

    def spot(self, heel_deg: float, arm_mm: float) -> Spot:
        """Return where a heel and an arm stand on the sheet."""
        x = self.box.left + self.box.width * heel_deg / self.end_deg
        share = (arm_mm - self.low_mm) / (self.high_mm - self.low_mm)
        return x, self.box.bottom + share * (self.box.top - self.box.bottom)


def diamond(sheet: Sheet, at: Spot) -> None:
    """Draw the mark of an opening that goes under."""
    size = marks.DIAMOND + 0.4
    corners = np.array([(0.0, -size), (size, 0.0), (0.0, size), (-size, 0.0)]) + at
    sheet.area([corners], fill=style.LIMIT, layer=Layer.MARK)


def stair(chart: Chart, spot: events.Spot, feet: Sequence[Spot], y: float) -> None:
    """Draw an event's mast up to its label: angle bold, words beside.

    The feet are those of all masts up to this one, which is the last. The label stands right of
    its mast; left of it where there is no room on the right and no other mast on the left.
    """
    sheet, (x, foot) = chart.sheet, feet[-1]
    color = _COLORS.get(spot.mark, style.INK)
    sheet.line([(x, foot + 4.0), (x, y + 9.0)], color=color, width=style.THIN, layer=Layer.HAIR)
    number, kind = angle_text(spot.heel_deg), style.NUMBER.colored(color)
    words = style.NAME.colored(color)
    shift = sheet.width_of(number, kind) + 6.0
    long = shift + sheet.width_of(spot.words, words)
    left = x + 5.0
    if left + long > sheet.width - style.MARGIN:
        before = max((one[0] for one in feet[:-1]), default=0.0)
        if x - 5.0 - long > max(before, chart.box.left) + 5.0:
            left = x - 5.0 - long
    fits = sheet.fitted(spot.words, words, sheet.width - style.MARGIN - (left + shift))
    sheet.text((left, y), number, kind)
    sheet.text((left + shift, y), fits, words)


def off_the_drawing(chart: Chart, spots: Sequence[events.Spot], edge_deg: float | None) -> float:
    """Say under the axis what happens at heels past its end; return where that ends [pt].

    Right under the end of the axis, with an arrow further to the right.
    """
    sheet, box = chart.sheet, chart.box
    room = box.width - _ARROW - 120.0
    for i, spot in enumerate(spots):
        y = box.bottom - 25.0 - _LINE * i
        color = _COLORS.get(spot.mark, style.INK)
        number, kind = angle_text(spot.heel_deg), style.NUMBER.colored(color)
        words = style.NAME.colored(color)
        shift = sheet.width_of(number, kind) + 6.0
        past = edge_deg is not None and spot.heel_deg > edge_deg
        where = "off the drawing, beyond the model" if past else "off the drawing"
        fits = sheet.fitted(f"{spot.words} ({where})", words, room - shift)
        right = box.right - _ARROW
        left = right - 4.0 - sheet.width_of(fits, words)
        sheet.text((left - shift, y), number, kind)
        sheet.text((left, y), fits, words)
        level = y + 3.2
        head = [(box.right - 4.0, level + 2.6), (box.right, level), (box.right - 4.0, level - 2.6)]
        sheet.line([(right, level), (box.right, level)], color=color, layer=Layer.LINE)
        sheet.line(head, color=color, layer=Layer.LINE)
        if spot.mark == "opening":
            diamond(sheet, (left - shift - 8.0, level))
    return box.bottom - 28.0 - _LINE * max(len(spots) - 1, 0)


def name_upset(
    chart: Chart,
    upset: Upset,
    lines: tuple[FloatArray, FloatArray],
    feet: Sequence[Spot],
    edge_deg: float | None,
) -> None:
    """Name the line of the upsetting arm as near upright as nothing runs through its name.

    The lines are that line and the curve on the sheet, feet where masts begin to rise, the edge
    is where the ground changes, which the name does not cross if it can be helped.
    """
    what = "wind" if not upset.turn_mm else "wind and turn" if upset.wind_mm else "turn"
    arm = fine_arm_text(upset.arm_mm(0.0))
    long, short = f"upsetting arm of {what}: {arm} upright", f"arm of {what}: {arm}"
    kind = style.NOTE.colored(style.INK)
    edge = None if edge_deg is None else chart.spot(edge_deg, 0.0)[0]
    for grounds in (None,) if edge is None else (edge, None):
        for left in np.arange(chart.box.left + 4.0, chart.box.right - 40.0, 3.0):
            for words in (long, short):
                width = chart.sheet.width_of(words, kind)
                if grounds is not None and left - 3.0 < grounds < left + width + 3.0:
                    continue
                y = _free(chart, lines, feet, (float(left), words))
                if y is not None:
                    chart.sheet.text((float(left), y), words, kind)
                    return


def _free(
    chart: Chart,
    lines: tuple[FloatArray, FloatArray],
    feet: Sequence[Spot],
    text: tuple[float, str],
) -> float | None:
    """Return a baseline over or under the first line where a text is free, None if there is none.

    The text is given by its left end and its words.
    """
    (left, words), own, kind = text, lines[0], style.NOTE
    right = left + chart.sheet.width_of(words, kind)
    zero = chart.spot(0.0, 0.0)[1]
    near = np.interp(np.linspace(left, right, 20), own[:, 0], own[:, 1])
    for y in (float(near.max()) + 4.5, float(near.min()) - 10.5):
        box = chart.sheet.box_of((left, y), words, kind, "left").grown(2.0)
        crossed = any(_crosses(box, line) for line in lines)
        crossed |= any(box.left < x < box.right and foot < box.top for x, foot in feet)
        inside = chart.box.bottom < box.bottom and box.top < chart.box.top
        inside &= box.right < chart.box.right
        if inside and not crossed and not box.bottom < zero < box.top:
            return y
    return None


def _crosses(box: Box, line: FloatArray) -> bool:
    """Return whether a line that runs from left to right passes through a box."""
    within = np.linspace(box.left, box.right, 60)
    heights = np.interp(within, line[:, 0], line[:, 1])
    return bool(((heights > box.bottom) & (heights < box.top)).any())
