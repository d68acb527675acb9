"""The drawing of the righting curve with what happens on it, and front views under it."""

import math
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.answers.heeling import Heeling
from hullcheck.answers.righting_records import RightingAnswer
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.flotation.upsetting import Upset
from hullcheck.geometry.arrays import FloatArray
from hullcheck.report import righting_events as events
from hullcheck.report import style
from hullcheck.report.display import shown
from hullcheck.report.drawing_file import drawing_bytes
from hullcheck.report.heading import wrapped_facts, write_head
from hullcheck.report.numbers import MINUS
from hullcheck.report.righting_front import front_views, views_of
from hullcheck.report.righting_labels import Chart, diamond, name_upset, off_the_drawing, stair
from hullcheck.report.sheet import Box, Sheet, Spot
from hullcheck.report.style import Layer
from hullcheck.units import STANDARD_GRAVITY_M_S2

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["drawing_bytes", "righting_drawing"]

NAME: Final = "righting"
_LEFT: Final = 66.0
_HIGH: Final = 150.0
"""Height of the chart [pt]."""
_ROW: Final = 15.0
"""Between the labels of the staircase [pt]."""
_SAMPLES: Final = 181


def righting_drawing(craft: Craft, answer: RightingAnswer) -> "Figure":
    """Return the drawing of a righting curve.

    Parameters
    ----------
    craft : Craft
        What is heeled, with all that lies off center in her.
    answer : RightingAnswer
        From `hullcheck.answers.righting_answer`.

    Returns
    -------
    matplotlib.figure.Figure
        8 in wide; `drawing_bytes` turns it into a file.

    Raises
    ------
    InputError
        If she sinks: there is no curve then.
    """
    if answer.short_by_g is not None:
        raise InputError(f"{craft.name} sinks: there is no curve to draw")
    heeling = Heeling.of(craft)
    with style.context(NAME):
        sheet = Sheet(NAME)
        end = _head(sheet, answer, heeling)
        end = _curve(sheet, answer, heeling, end - 12.0)
        floor = front_views(sheet, heeling, views_of(answer, heeling), end - 20.0)
        sheet.cut(12.0 - floor)
        sheet.caption(events.title(answer), events.alt_text(answer, heeling))
    return sheet.figure


def _head(sheet: Sheet, answer: RightingAnswer, heeling: Heeling) -> float:
    """Write the finding and the facts and return where they end [pt]."""
    said = " ".join(events.facts(answer, heeling))
    return write_head(sheet, events.title(answer), wrapped_facts(sheet, [said])) - 3.0


def _curve(sheet: Sheet, answer: RightingAnswer, heeling: Heeling, top: float) -> float:
    """Draw the curve with its staircase of events under a height; return where it ends [pt]."""
    side = events.drawn_side(answer)
    sign = 1.0 if side.side == "starboard" else -1.0
    end = min(events.axis_end_deg(answer), abs(math.degrees(heeling.curve.end(sign))))
    every = events.all_spots(answer, heeling)
    spots = [s for s in every if s.heel_deg <= end]
    heels = np.unique(np.append(np.linspace(0.0, end, _SAMPLES), [s.heel_deg for s in spots]))
    arms = np.array([sign * heeling.curve.arm(sign * math.radians(h)) for h in heels])
    upset = _upset(answer)
    pushed = np.array([upset.arm_mm(math.radians(h)) for h in heels])
    low, high, step = _axis(min(float(arms.min()), 0.0), max(float(arms.max()), *pushed, 1e-6))
    ceiling = top - max(_ROW * len(spots), 26.0)
    right = sheet.width - style.MARGIN - 6.0
    box = Box(left=_LEFT, bottom=ceiling - _HIGH, right=right, top=ceiling)
    chart = Chart(sheet=sheet, box=box, end_deg=end, low_mm=low, high_mm=high)
    edge = None if side.beyond_model_deg is None else abs(side.beyond_model_deg)
    _ground(chart, edge)
    _axes(chart, step, side.side)
    _line(chart, heels, arms, edge)
    feet = [chart.spot(s.heel_deg, float(np.interp(s.heel_deg, heels, arms))) for s in spots]
    if upset.arm_mm(0.0) > 0.0:
        points, curve = (
            np.array([chart.spot(h, a) for h, a in zip(heels, line, strict=True)])
            for line in (pushed, arms)
        )
        sheet.line(points, width=style.THIN, casing=True, layer=Layer.LINE)
        name_upset(chart, upset, (points, curve), feet, edge)
    for i, (spot, foot) in enumerate(zip(spots, feet, strict=True)):
        _mark(sheet, spot, foot)
        stair(chart, spot, feet[: i + 1], top - _ROW * (i + 0.7))
    return off_the_drawing(chart, [s for s in every if s.heel_deg > end], edge)


def _upset(answer: RightingAnswer) -> Upset:
    """Return the upsetting arms of wind and turn in the answer."""
    found, weight = answer.upset, answer.mass_g * 1e-3 * STANDARD_GRAVITY_M_S2
    if found is None:
        return Upset()
    return Upset(
        wind_mm=0.0 if found.wind is None else found.wind.moment_n_mm / weight,
        turn_mm=0.0 if found.turn is None else found.turn.moment_n_mm / weight,
    )


def _axis(low_mm: float, high_mm: float) -> tuple[float, float, float]:
    """Return the ends and the step of the arms' axis [mm], round in the unit shown."""
    unit = 1.0 / shown().length_of(1.0)
    span = (high_mm - low_mm) / unit
    rough = span / 4.0
    size = 10.0 ** math.floor(math.log10(rough))
    step = next(size * k for k in (1.0, 2.0, 5.0, 10.0) if size * k >= rough) * unit
    return step * math.floor(low_mm / step + 1e-9), step * math.ceil(high_mm / step - 1e-9), step


def _ground(chart: Chart, edge_deg: float | None) -> None:
    """Fill the ground of what lies beyond the model."""
    if edge_deg is not None and edge_deg < chart.end_deg:
        x = chart.spot(edge_deg, 0.0)[0]
        box = Box(left=x, bottom=chart.box.bottom, right=chart.box.right, top=chart.box.top)
        chart.sheet.block(box, style.BEYOND)


def _axes(chart: Chart, step_mm: float, side: str) -> None:
    """Draw both axes with their numbers, heel along zero."""
    sheet, box = chart.sheet, chart.box
    sheet.line([(box.left, box.bottom), (box.left, box.top)], layer=Layer.HAIR)
    count = round((chart.high_mm - chart.low_mm) / step_mm)
    for k in range(count + 1):
        arm = chart.low_mm + k * step_mm
        _, y = chart.spot(0.0, arm)
        sheet.line([(box.left - 3.5, y), (box.left, y)], layer=Layer.HAIR)
        number = f"{shown().length_of(arm) + 0.0:.3g}".replace("-", MINUS)
        words = f"{number} {shown().length}" if k == count else number
        sheet.text((box.left - 6.0, y - 3.0), words, style.NAME, side="right")
    sheet.text((style.MARGIN, box.top + 23.0), "Righting", style.BOLD_NAME)
    sheet.text((style.MARGIN, box.top + 12.5), "arm", style.BOLD_NAME)
    zero = chart.spot(0.0, 0.0)[1]
    sheet.line([(box.left, zero), (box.right, zero)], layer=Layer.HAIR)
    apart = next(d for d in (2.0, 5.0, 10.0, 15.0, 30.0) if chart.end_deg / d <= 10.0 or d == 30.0)
    for k in range(round(chart.end_deg / apart) + 1):
        x = chart.spot(k * apart, 0.0)[0]
        sheet.line([(x, zero - 3.5), (x, zero)], layer=Layer.HAIR)
        sheet.text((x, box.bottom - 12.0), f"{k * apart:g}°", style.NAME, side="center")
    sheet.text((box.left, box.bottom - 25.0), f"heel to {side}", style.NAME)


def _line(chart: Chart, heels: FloatArray, arms: FloatArray, edge_deg: float | None) -> None:
    """Draw the curve: bold as far as the model goes, dashed and soft beyond."""
    points = np.array([chart.spot(h, a) for h, a in zip(heels, arms, strict=True)])
    known = heels <= (math.inf if edge_deg is None else edge_deg + 1e-9)
    if known.sum() > 1:
        chart.sheet.line(points[known], width=style.BOLD, casing=True, layer=Layer.BAR)
    last = max(int(known.sum()) - 1, 0)
    if len(points) - last > 1:
        chart.sheet.line(
            points[last:],
            color=style.SOFT,
            width=style.MIDDLE,
            pattern=style.DASHED,
            layer=Layer.BAR,
        )


def _mark(sheet: Sheet, spot: events.Spot, at: Spot) -> None:
    """Draw what happens on the curve: rest filled, an opening a diamond, all else open."""
    if spot.mark == "opening":
        diamond(sheet, at)
        return
    fill = style.INK if spot.mark == "rest" else style.PAPER
    edge = style.SOFT if spot.mark == "beyond" else style.INK
    sheet.disc(at, 3.6, fill=fill, edge=edge, width=1.3, layer=Layer.MARK)
