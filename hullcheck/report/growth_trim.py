"""Trim, or heel, over the place of an item: the chart under that of the heights."""

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from hullcheck.answers.sweep_records import SweepAnswer
from hullcheck.geometry.arrays import FloatArray
from hullcheck.report import growth_marks, style
from hullcheck.report.growth_chart import Chart, Curves, draw_line, round_step
from hullcheck.report.growth_drawing import Growth, draw_cg_limits, limit_of
from hullcheck.report.growth_labels import ends_of, free_text
from hullcheck.report.labels import Room
from hullcheck.report.sheet import Box, Sheet, Spot
from hullcheck.report.style import Layer
from hullcheck.report.sweep_words import signed
from hullcheck.report.words import heel_words, trim_words

_HIGH: Final = 96.0
_ABOVE: Final = 26.0
_FAR: Final = 2.0
"""A limit further off than so many times what the line spans is left off the drawing."""
_NEAR_DEG: Final = 3.0
_LEAST_DEG: Final = 0.2
_ROOM: Final = 0.12


def trim_chart(
    sheet: Sheet, answer: SweepAnswer, curves: Curves, growth: Growth
) -> tuple[Chart, float]:
    """Draw trim over an item's place, heel where it is moved across; return chart and its foot."""
    heels = shows_heel(answer, curves)
    angles = curves.of_rows("heel_deg" if heels else "trim_deg")
    limits = _limits(answer, heels=heels)
    low, high, far = _ends(angles, limits)
    top = growth.bottom - _ABOVE
    upper = growth.chart.box
    box = Box(left=upper.left, bottom=top - _HIGH, right=upper.right, top=top)
    chart = Chart(
        sheet=sheet,
        box=box,
        first=growth.chart.first,
        last=growth.chart.last,
        low=low,
        high=high,
    )
    room = Room()
    _axis(chart, heels=heels)
    words = "Heel" if heels else "Trim"
    sheet.text((style.MARGIN, top + 10.0), words, style.BOLD_NAME)
    if far:
        off = f"limit of {' and '.join(far)} is off the drawing"
        left = style.MARGIN + sheet.width_of(words, style.BOLD_NAME) + 8.0
        sheet.text((left, top + 10.0), off, style.NOTE)
    for piece in draw_line(chart, curves, angles, color=style.INK, width=style.BOLD):
        room.line(piece)
    draw_cg_limits(chart, answer, box.bottom, room)
    _draw_limits(chart, answer, limits, room, heels=heels)
    _today(chart, answer, room, heels=heels)
    return chart, box.bottom - 2.0


def shows_heel(answer: SweepAnswer, curves: Curves) -> bool:
    """Return whether the chart shows heel: across always, upward where it changes more."""
    if answer.axis != "z":
        return answer.axis == "y"
    spans = [np.ptp(v[np.isfinite(v)]) for v in map(curves.of_rows, ("heel_deg", "trim_deg"))]
    return bool(spans[0] > spans[1])


def _limits(answer: SweepAnswer, *, heels: bool) -> list[tuple[float, bool]]:
    """Return each limit as an angle with its side, and whether what is above is forbidden."""
    limit = limit_of(answer, "heel_deg" if heels else "trim_deg")
    if limit is None:
        return []
    low, high = limit if isinstance(limit, tuple) else (-limit, limit)
    return [(low, False), (high, True)]


def _ends(
    angles: FloatArray, limits: Sequence[tuple[float, bool]]
) -> tuple[float, float, list[str]]:
    """Return the ends of the axis [deg], and the limits that lie too far off to be drawn."""
    found = angles[np.isfinite(angles)]
    low, high = float(found.min()), float(found.max())
    span = max(high - low, _LEAST_DEG)
    near, far = [low, high, 0.0], []
    for angle, _ in limits:
        off = max(low - angle, angle - high)
        if off > max(_FAR * span, _NEAR_DEG):
            far.append(f"{signed(angle)}°")
        else:
            near.append(angle)
    low, high = min(near), max(near)
    more = _ROOM * max(high - low, _LEAST_DEG)
    return low - more, high + more, far


def _axis(chart: Chart, *, heels: bool) -> None:
    """Draw the axis of angles with its numbers, the sides in words, and the level line."""
    sheet, box = chart.sheet, chart.box
    sheet.line([(box.left, box.bottom), (box.left, box.top)], layer=Layer.HAIR)
    step = round_step(chart.high - chart.low, 4.0)
    first, last = math.ceil(chart.low / step - 1e-9), math.floor(chart.high / step + 1e-9)
    for k in range(first, last + 1):
        y = chart.y(k * step)
        sheet.line([(box.left - 3.5, y), (box.left, y)], layer=Layer.HAIR)
        number = signed(round(abs(k * step), 6))
        words = "level" if k == 0 else f"{number}°"
        sheet.text((box.left - 6.0, y - 3.0), words, style.NAME, side="right")
    level = chart.y(0.0)
    sheet.line(
        [(box.left, level), (box.right, level)],
        color=style.FAINT,
        width=style.THIN,
        layer=Layer.HAIR,
    )
    up, down = ("starboard", "port") if heels else ("bow up", "bow down")
    right = box.right + 7.0
    if level < box.top - 14.0:
        sheet.text((right, box.top - 9.0), up, style.NOTE)
    if level > box.bottom + 14.0:
        sheet.text((right, box.bottom + 2.0), down, style.NOTE)


def _draw_limits(
    chart: Chart,
    answer: SweepAnswer,
    limits: Sequence[tuple[float, bool]],
    room: Room,
    *,
    heels: bool,
) -> None:
    """Draw the limits with their names, and where the line meets them."""
    sheet, box = chart.sheet, chart.box
    drawn = [(angle, above) for angle, above in limits if chart.low <= angle <= chart.high]
    for angle, above in drawn:
        y = chart.y(angle)
        growth_marks.limit(sheet, (box.left, y), (box.right, y), "above" if above else "below")
        room.line([(box.left, y), (box.right, y)])
    for angle, above in drawn:
        words = f"limit {_words(angle, heels=heels)}".replace("limit level", "limit: level")
        wide = sheet.width_of(words, style.BOLD_NAME)
        lefts = np.linspace(box.left + 4.0, box.right - wide - 4.0, 24).tolist()
        beside = (-11.0, 7.0) if above else (4.0, -13.5)
        spots = [(x, chart.y(angle) + off, "left") for off in beside for x in lefts]
        free_text(sheet, spots, words, style.BOLD_NAME, room)
    for end, _ in ends_of(answer):
        if end.limit == ("heel_deg" if heels else "trim_deg"):
            angle = min((a for a, _ in limits), key=lambda a: _off(answer, end.value, a, heels))
            growth_marks.open_circle(sheet, chart.spot(end.value, angle))


def _off(answer: SweepAnswer, value: float, angle: float, heels: bool) -> float:  # noqa: FBT001 - which of two angles
    """Return how far she is from an angle in the row nearest to a value [deg]."""
    row = min(answer.rows, key=lambda one: abs(one.value - value))
    here = row.heel_deg if heels else row.trim_deg
    return math.inf if here is None else abs(here - angle)


def _today(chart: Chart, answer: SweepAnswer, room: Room, *, heels: bool) -> None:
    """Draw today's point with its angle in words."""
    today = answer.today
    if today is None or not chart.holds(today.value) or today.rest in {"sinks", "capsized"}:
        return
    angle = (today.heel_deg if heels else today.trim_deg) or 0.0
    at: Spot = chart.spot(today.value, angle)
    growth_marks.dot(chart.sheet, at)
    words = _words(angle, heels=heels)
    places = ((7.0, 6.0), (7.0, -13.0), (7.0, 12.0), (7.0, -19.0), (9.0, -3.0))
    spots = [(at[0] + dx, at[1] + dy, "left") for dx, dy in places]
    spots += [(at[0] - dx, at[1] + dy, "right") for dx, dy in places]
    free_text(chart.sheet, spots, words, style.NUMBER, room)


def _words(angle_deg: float, *, heels: bool) -> str:
    """Return an angle in words: "0.7° bow up", "level"."""
    words = heel_words(angle_deg) if heels else trim_words(angle_deg)
    return "level" if words.startswith("level") else words
