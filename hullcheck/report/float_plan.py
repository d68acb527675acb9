"""The float drawing's view from above: the waterplane and the center of flotation."""

from typing import Final

import numpy as np

from hullcheck.answers.float_records import FloatAnswer
from hullcheck.geometry.arrays import FloatArray
from hullcheck.report import marks, style
from hullcheck.report.float_scene import BodyShape, Scene
from hullcheck.report.labels import Room
from hullcheck.report.numbers import area_text, sinkage_text
from hullcheck.report.sheet import Box, Sheet, Spot
from hullcheck.report.spread import spread, together

LEFT: Final = 288.0
RIGHT: Final = style.SHEET_WIDTH - style.MARGIN


def plan_title(answer: FloatAnswer) -> str:
    """Return the view's finding: the waterplane."""
    if answer.waterplane is None:
        return "From above"
    return f"From above: {area_text(answer.waterplane.area_cm2)} of waterplane"


def plan_view(sheet: Sheet, scene: Scene, top: float, floor: float, scale: float) -> None:
    """Draw the view from above between two heights of the sheet [pt]."""
    shapes = scene.shapes
    every = np.concatenate([loop for s in shapes for loop in s.plan])
    fore, aft = float(every[:, 0].min()), float(every[:, 0].max())
    named = len(scene.hulls) > 1 and scene.broken
    right = RIGHT - (6.0 + sheet.width_of("starboard", style.NAME) if named else 0.0)
    scale = min(scale, (right - LEFT) / (aft - fore))
    spans = [
        (min(float(p[:, 1].min()) for p in s.plan), max(float(p[:, 1].max()) for p in s.plan))
        for s in shapes
    ]
    room = (floor, top)
    layout = (
        spread(spans, [11.0] * len(shapes), scale, room)
        if scene.broken
        else together(spans, scale, room)
    )
    scale = layout.scale
    left = 0.5 * (LEFT + right) - 0.5 * (fore + aft) * scale
    taken = Room()
    for shape, shift in zip(shapes, layout.shifts, strict=True):
        place = np.array([left, shift])
        end = _body(sheet, scene, shape, (scale, place), taken)
        if _named(scene, shape):
            side = "starboard" if shape.middle_mm[1] > 0.0 else "port"
            middle = 0.5 * sum(spans[shapes.index(shape)]) * scale + shift
            taken.take(sheet.text((end + 6.0, middle - 3.2), side, style.NAME))
    for start, stop in layout.breaks:
        at = (_middle(scene) * scale + left, 0.5 * (start + stop))
        marks.left_out(sheet, at)
        taken.take(Box(left=at[0] - 4.0, bottom=at[1] - 4.0, right=at[0] + 4.0, top=at[1] + 4.0))
    _flotation(sheet, scene, taken, (scale, left, layout.shifts))


def _named(scene: Scene, shape: BodyShape) -> bool:
    """Return whether a body is named by its side: tip floats, and hulls that are several."""
    return shape.role != "other" and (shape in scene.tip_floats or len(scene.hulls) > 1)


def _body(
    sheet: Sheet, scene: Scene, shape: BodyShape, to: tuple[float, FloatArray], taken: Room
) -> float:
    """Draw a body from above with its waterline and return where it ends aft [pt]."""
    scale, place = to
    plan = [loop * scale + place for loop in shape.plan]
    waterline = [loop * scale + place for loop in shape.waterline]
    fill = style.WET_SKIN if scene.answer.rest == "sinks" else style.SKIN
    sheet.area(plan, fill=fill, edge=style.INK, width=1.3)
    sheet.area(
        waterline,
        fill=style.WET_SKIN,
        edge=style.WATER,
        width=style.WATER_LINE,
        layer=style.Layer.OUTLINE,
    )
    taken.loops(plan)
    taken.loops(waterline)
    return max(float(loop[:, 0].max()) for loop in plan)


def _middle(scene: Scene) -> float:
    """Return where the slashes stand along her: between tip floats, else ahead [mm]."""
    shapes = scene.tip_floats or scene.hulls
    middle = float(np.mean([scene.from_above(s.middle_mm)[0] for s in shapes]))
    if scene.tip_floats:
        return middle
    return middle - 0.25 * float(np.ptp(np.concatenate([s.plan[0][:, 0] for s in shapes])))


def _flotation(
    sheet: Sheet, scene: Scene, taken: Room, place: tuple[float, float, tuple[float, ...]]
) -> None:
    """Draw the center of flotation and what it means, where that is free."""
    waterplane = scene.answer.waterplane
    if waterplane is None or waterplane.area_cm2 <= 0.0:
        return
    scale, left, shifts = place
    hull = scene.shapes.index(scene.hulls[0])
    x, y = scene.from_above(np.array(waterplane.centroid_mm)) * scale
    shift = shifts[hull] if len(scene.hulls) == 1 else float(np.mean(shifts))
    spot: Spot = (float(x) + left, float(y) + shift)
    marks.flotation_cross(sheet, spot)
    sinkage = scene.answer.sinkage_g_per_mm
    trim = "her trim" if sinkage is None else f"her trim, {sinkage_text(sinkage)}"
    _explain(sheet, spot, ("a load put here keeps", trim), taken)


def _explain(sheet: Sheet, spot: Spot, lines: tuple[str, str], taken: Room) -> None:
    """Say what the cross means, beside it where that is free, else at the end of a leader."""
    kind = style.NOTE.colored(style.WATER)
    width = max(sheet.width_of(words, kind) for words in lines)
    places = [(spot[0] + 9.0, spot[1] + 1.8), (spot[0] - 9.0 - width, spot[1] + 1.8)]
    beside = len(places)
    for drop in range(14, 60, 3):
        for across in (14.0, 26.0, 40.0, -width - 14.0, -width - 26.0, 56.0, -width - 40.0):
            left = max(LEFT, min(spot[0] + across, RIGHT - width))
            places += [(left, spot[1] - drop), (left, spot[1] + drop + 10.2)]
    groups = [
        [sheet.box_of((x, y - 10.2 * i), words, kind) for i, words in enumerate(lines)]
        for x, y in places
    ]
    best = taken.best(groups)
    x, y = places[best]
    for i, words in enumerate(lines):
        sheet.text((x, y - 10.2 * i), words, kind)
    if best >= beside:
        box = Box(left=x - 3.0, bottom=y - 12.0, right=x + width + 3.0, top=y + 6.5)
        end = (
            min(max(spot[0], box.left), box.right),
            box.top if spot[1] > box.top else box.bottom,
        )
        if box.left > spot[0] or box.right < spot[0]:
            end = (end[0], y - 2.5)
        away = np.array(end) - np.array(spot)
        start = np.array(spot) + 6.5 * away / np.hypot(*away)
        sheet.line([tuple(start), end], color=style.WATER, width=style.THIN)
