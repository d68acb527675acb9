"""What acts where on the side view: CG and CB, the plumb line, the cause of the trim, the step."""

import math
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.report import marks, style
from hullcheck.report.float_words import center_words
from hullcheck.report.numbers import angle_text, arm_text, height_text, station_text
from hullcheck.report.sheet import Box, Sheet, Spot
from hullcheck.report.style import Type

if TYPE_CHECKING:
    from hullcheck.report.float_side import SideView

_STEEP_DEG: Final = 12.0
"""Past this trim lengths along the hull are no longer lengths on the sheet."""
_RINGS_APART: Final = 12.0
_LEAST_ARM_MM: Final = 0.5
_LEAST_TRIM_DEG: Final = 0.05

_CAPITAL: Final = 0.73
"""Height of capitals in type sizes."""
_NAME_PLACES: Final = [(away, rise) for away in range(7, 52, 3) for rise in range(-12, 22, 2)]

Line = list[tuple[str, Type]]


def draw_levers(view: "SideView") -> float:
    """Draw what acts where, with its dimensions, and return where the view ends [pt]."""
    if view.scene.answer.center_of_gravity_mm is None:
        return _held_level(view)
    row = view.floor - 13.0
    center = view.spot(np.array(view.scene.answer.center_of_gravity_mm))
    step_spot, cause_spot = _step(view, center), _cause(view, center)
    spans = [spot for spot in (cause_spot, step_spot) if spot is not None]
    foot = row - 19.0 if spans else view.floor - 10.0
    top = max(view.reach(center[0], center[0])[1], center[1]) + 11.0
    marks.plumb_line(view.sheet, center[0], top, foot)
    view.room.line([(center[0], top), (center[0], foot)])
    left, right = _dimensions(view, center[0], cause_spot, step_spot, row)
    _centers(view, center)
    count = 0
    if cause_spot is not None:
        lines = _cause_lines(view, left - style.MARGIN)
        count = len(lines)
        _write(view.sheet, (left, row - 3.4), lines, "right")
    if step_spot is not None and view.scene.answer.step is not None:
        lines = _step_lines(view, right)
        count = max(count, len(lines))
        _write(view.sheet, (right, row - 3.4), lines, "left")
    return _center_place(view, center[0], min(foot - 9.5, row - 4.4 - 12.0 * count))


def _center_place(view: "SideView", x: float, baseline: float) -> float:
    """Write under the plumb line's bob where the CG is and return where the view ends [pt]."""
    words = center_words(view.scene.answer)
    half = 0.5 * view.sheet.width_of(words, style.NOTE)
    middle = min(max(x, style.MARGIN + half), view.sheet.width - style.MARGIN - half)
    view.sheet.text((middle, baseline), words, style.NOTE, side="center")
    return baseline - 5.0


def _held_level(view: "SideView") -> float:
    """Draw the center of buoyancy of a craft without a known CG: where that must lie."""
    answer = view.scene.answer
    if answer.level is None or answer.center_of_buoyancy_mm is None:
        return view.floor
    spot = view.spot(np.array(answer.center_of_buoyancy_mm))
    row = view.floor - 13.0
    view.sheet.line([(spot[0], spot[1] - 4.4), (spot[0], row - 6.0)], color=style.WATER)
    view.room.line([spot, (spot[0], row - 6.0)])
    marks.center_of_buoyancy(view.sheet, spot)
    view.room.take(_around(spot))
    _name(view, spot, "CB", style.BOLD_NAME.colored(style.WATER), (-1.0, 1.0))
    station = station_text(answer.level.center_of_buoyancy_mm[0])
    lines: list[Line] = [
        [(f"station {station}", style.NUMBER), ("  is where her CG must lie", style.NOTE)],
        [("Lower than ", style.NOTE), (height_text(answer.level.highest_cg_z_mm), style.NOTE),
         (" above the datum, or she falls over", style.NOTE)],
    ]  # fmt: skip
    _write(view.sheet, (spot[0] + 8.0, row - 3.4), lines, "left")
    return row - 30.0


def _cause(view: "SideView", center: Spot) -> Spot | None:
    """Return where CB would be held level, if that tells why she trims; draw its dotted ring."""
    level = view.scene.answer.level
    if level is None or level.cg_aft_of_cb_mm is None or not _dimensioned(view):
        return None
    if abs(level.cg_aft_of_cb_mm) < _LEAST_ARM_MM:
        return None
    spot = view.spot(np.array(level.center_of_buoyancy_mm))
    if abs(spot[0] - center[0]) >= _RINGS_APART:
        # Nearer than this it would hide behind the CG; the dimension says it alone.
        marks.center_of_buoyancy(view.sheet, spot, supposed=True)
        view.room.take(_around(spot))
    return spot


def _step(view: "SideView", center: Spot) -> Spot | None:
    """Draw the step's triangle and its wedge from the CG; return the corner's spot."""
    step = view.scene.answer.step
    if step is None or view.scene.answer.rest == "capsized":
        return None
    corner_mm = np.array([step.station_mm, view.scene.center_plane_mm, step.keel_z_mm])
    corner = view.spot(corner_mm)
    marks.step_triangle(view.sheet, corner)
    view.room.take(
        Box(left=corner[0] - 5.0, bottom=corner[1] - 10.0, right=corner[0] + 5.0, top=corner[1])
    )
    if not _dimensioned(view) or step.behind_cg_mm is None:
        return None
    slope = math.radians(step.forebody_keel_angle_deg)
    normal = np.array([math.sin(slope), 0.0, -math.cos(slope)])
    center_mm = np.array(view.scene.answer.center_of_gravity_mm)
    reach = float((corner_mm - center_mm) @ normal)
    if reach > 0.0:
        foot = view.spot(center_mm + reach * normal)
        marks.step_wedge(view.sheet, center, foot, corner, filled=step.behind_cg_mm > 0.0)
        view.room.line([foot, center, corner])
    return corner


def _dimensioned(view: "SideView") -> bool:
    """Return whether lengths along the hull can be dimensioned level."""
    answer = view.scene.answer
    flat = abs(answer.trim_deg or 0.0) <= _STEEP_DEG
    return flat and answer.rest not in {"capsized", "sinks"}


def _dimensions(
    view: "SideView", plumb: float, cause: Spot | None, step: Spot | None, row: float
) -> tuple[float, float]:
    """Draw witness lines and the row of dimensions; return where text may end and begin [pt]."""
    sheet = view.sheet
    ends = [spot for spot in (cause, step) if spot is not None]
    for spot, start in ((cause, 4.4), (step, 9.2)):
        if spot is not None:
            foot = [(spot[0], spot[1] - start), (spot[0], row - 5.0)]
            sheet.line(foot, color=style.SOFT, width=style.HAIR)
            view.room.line(foot)
    one_side = len(ends) == 2 and (ends[0][0] - plumb) * (ends[1][0] - plumb) > 0.0
    short = [abs(spot[0] - plumb) < marks.SHORT for spot in ends]
    reach = [plumb, *(spot[0] for spot in ends)]
    margin = 20.0 if any(short) else 9.0
    if len(ends) == 2 and any(short) and not one_side:
        _chain(sheet, sorted(spot[0] for spot in ends), plumb, row)
    else:
        for i, spot in enumerate(ends):
            y = row - (7.0 * i if one_side else 0.0)
            marks.dimension(sheet, (plumb, y), (spot[0], y))
    return min(reach) - margin, max(reach) + margin


def _chain(sheet: Sheet, ends: list[float], plumb: float, row: float) -> None:
    """Draw two short dimensions that share the plumb line: arrows outside, a dot between."""
    sheet.line([(ends[0], row), (ends[1], row)], width=style.THIN)
    marks.arrow(sheet, (ends[0] - 11.0, row), (ends[0], row))
    marks.arrow(sheet, (ends[1] + 11.0, row), (ends[1], row))
    sheet.disc((plumb, row), 1.5, fill=style.INK)


def _centers(view: "SideView", center: Spot) -> None:
    """Draw CG and CB with their names; a sunk craft has no CB to show."""
    answer = view.scene.answer
    buoyancy = answer.center_of_buoyancy_mm
    view.room.take(_around(center))
    if buoyancy is not None:
        spot = view.spot(np.array(buoyancy))
        marks.center_of_buoyancy(view.sheet, spot)
        view.room.take(_around(spot))
    marks.center_of_gravity(view.sheet, center)
    _name(view, center, "CG", style.BOLD_NAME, (1.0, 1.0))
    if buoyancy is not None:
        _name(view, spot, "CB", style.BOLD_NAME.colored(style.WATER), (-1.0, -1.0))


def _name(view: "SideView", spot: Spot, words: str, kind: Type, way: tuple[float, float]) -> None:
    """Write a name in capitals beside a mark, on the wished side if it is free there."""
    size = (view.sheet.width_of(words, kind), _CAPITAL * kind.size)
    places = []
    for away, rise in sorted(_NAME_PLACES, key=lambda p: math.hypot(p[0], 1.4 * (p[1] - 3.5))):
        for across in (way[0], -way[0]):
            left = spot[0] + (away if across > 0.0 else -away - size[0])
            bottom = spot[1] + (rise if way[1] > 0.0 else -rise - size[1])
            places.append((left, bottom, across != way[0]))
    boxes = [Box(left=x, bottom=y, right=x + size[0], top=y + size[1]) for x, y, _ in places]
    costs = [
        view.room.cost(box, 2.0) + 0.012 * i + (0.6 if wrong else 0.0)
        for i, (box, (_, _, wrong)) in enumerate(zip(boxes, places, strict=True))
    ]
    best = int(np.argmin(costs))
    view.room.take(view.sheet.text(places[best][:2], words, kind))


def _around(spot: Spot) -> Box:
    """Return the box of a round mark."""
    return Box(left=spot[0] - 5.0, bottom=spot[1] - 5.0, right=spot[0] + 5.0, top=spot[1] + 5.0)


def _cause_lines(view: "SideView", room: float) -> list[Line]:
    """Return what causes the trim, in words that fit a width [pt]."""
    answer = view.scene.answer
    arm = 0.0 if answer.level is None else (answer.level.cg_aft_of_cb_mm or 0.0)
    where = "ahead of" if arm > 0.0 else "aft of"
    value = (arm_text(abs(arm)), style.NUMBER)
    bow = "up" if arm > 0.0 else "down"
    trim = answer.trim_deg or 0.0
    so = abs(trim) >= _LEAST_TRIM_DEG and (trim > 0.0) == (arm > 0.0)
    choices: list[list[Line]] = [
        [[(f"Held level, CB would lie {where} CG by  ", style.NOTE), value]],
        [[(f"Held level, CB lies {where} CG by  ", style.NOTE), value]],
        [[("Held level, CB would lie", style.NOTE)], [(f"{where} CG by  ", style.NOTE), value]],
    ]
    for choice in choices:
        if so:
            choice.append([(f"That is why she sits bow {bow}", style.NOTE)])
    return next((c for c in choices if _width(view.sheet, c) <= room), choices[-1])


def _step_lines(view: "SideView", left: float) -> list[Line]:
    """Return where the step lies from the CG, in words that fit from an x [pt] to the margin."""
    step = view.scene.answer.step
    arm = 0.0 if step is None else (step.behind_cg_mm or 0.0)
    angle = 0.0 if step is None else (step.angle_from_cg_deg or 0.0)
    way, sign = ("aft", 1.0) if arm >= 0.0 else ("forward", -1.0)
    value = (f"{arm_text(abs(arm))}, {angle_text(sign * angle)}", style.NUMBER)
    first: Line = [value, (f"  from CG {way} to the step", style.NOTE)]
    choices: list[list[Line]] = [
        [first, [("Angle at CG, from the normal to the forebody keel", style.NOTE)]],
        [first, [("Angle at CG, from the normal", style.NOTE)],
         [("to the forebody keel", style.NOTE)]],
    ]  # fmt: skip
    room = view.sheet.width - style.MARGIN - left
    return next((c for c in choices if _width(view.sheet, c) <= room), choices[-1])


def _width(sheet: Sheet, lines: list[Line]) -> float:
    """Return how wide lines of several types are [pt]."""
    return max(sum(sheet.width_of(words, kind) for words, kind in line) for line in lines)


def _write(sheet: Sheet, at: Spot, lines: list[Line], side: str) -> None:
    """Write lines of several types, all ending or all beginning at one x."""
    for i, line in enumerate(lines):
        width = sum(sheet.width_of(words, kind) for words, kind in line)
        x, y = at[0] - (width if side == "right" else 0.0), at[1] - 12.0 * i
        for words, kind in line:
            sheet.text((x, y), words, kind)
            x += sheet.width_of(words, kind)
