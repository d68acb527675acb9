"""The bottom from port with its angles, and sections at bow, step and stern: true scale."""

import math
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.report import marks, style
from hullcheck.report.labels import Room
from hullcheck.report.numbers import angle_text, arm_text, draft_text, station_text
from hullcheck.report.sheet import Sheet, Spot
from hullcheck.report.step_scene import StepScene, View
from hullcheck.report.step_words import place_words, way_words
from hullcheck.report.style import Layer
from hullcheck.report.words import LEAST_ANGLE_DEG

_X, _Y, _Z = np.eye(3)
_WIDE_SHARE: Final = 0.92
_TALLEST: Final = 170.0


def draw_profile(sheet: Sheet, scene: StepScene, top: float) -> float:
    """Draw the bottom from port and sections under it; return where they end [pt]."""
    points = _extent(scene)
    low, high = points.min(axis=0), points.max(axis=0)
    scale = min(_WIDE_SHARE * sheet.width / (high[0] - low[0]), _TALLEST / (high[1] - low[1]))
    sheet.text((style.MARGIN, top), f"{_capital(scene)} from port", style.VIEW_TITLE)
    view = View(
        scale=float(scale),
        spot=(0.5 * sheet.width, top - 12.0),
        zero=(float(0.5 * (low[0] + high[0])), float(high[1])),
    )
    _shape(sheet, view, scene)
    floor = float(view.at(low)[1])
    floor = _angles(sheet, view, scene, floor)
    _propeller(sheet, view, scene)
    _center(sheet, view, scene)
    return _sections(sheet, scene, floor - 24.0, float(scale))


def _capital(scene: StepScene) -> str:
    """Return the body's name for a title."""
    name = scene.answer.body
    return (name[:1].upper() + name[1:])[:60]


def _extent(scene: StepScene) -> FloatArray:
    """Return points the view must hold [mm]."""
    points = [np.concatenate(scene.side)]
    center, propeller = scene.answer.center_of_gravity_mm, scene.craft.fittings.propeller
    size = scene.answer.length_mm
    if center is not None and scene.answer.place is not None:
        points.append(np.array([[center[0], center[2]]]))
    if propeller is not None and scene.answer.role == "main float":
        lowest = propeller.lowest_mm(_Z)
        points.append(np.array([[propeller.hub_mm[0], propeller.hub_mm[2]], lowest[[0, 2]]]))
    every = np.concatenate(points)
    low, high = points[0].min(axis=0) - size, points[0].max(axis=0) + size
    kept: FloatArray = every[((every >= low) & (every <= high)).all(axis=1)]
    return kept


def _shape(sheet: Sheet, view: View, scene: StepScene) -> None:
    """Draw silhouette, center plane and chines."""
    side, center = ([view.at(loop) for loop in loops] for loops in (scene.side, scene.center))
    sheet.area(side, fill=style.SKIN, layer=Layer.FILL)
    for line in scene.chines:
        sheet.line(view.at(line), color=style.SOFT, width=style.HAIR, layer=Layer.HAIR)
    sheet.area(side, edge=style.SOFT, width=style.HAIR, layer=Layer.HAIR)
    sheet.area(center, edge=style.INK, layer=Layer.OUTLINE)


def _angles(sheet: Sheet, view: View, scene: StepScene, floor: float) -> float:
    """Draw the step, its lines and their angles under the keel; return where they end [pt]."""
    step = scene.answer.step
    if step is None:
        words = "No step was found on its center plane"
        for ramp in scene.answer.ramps[:1]:
            place = f"{station_text(ramp.station_mm)} rises {draft_text(ramp.depth_mm)}"
            words += f"; a ramp at station {place} over {draft_text(ramp.run_mm)}"
        sheet.text((style.MARGIN, floor - 14.0), words, style.NOTE)
        return floor - 18.0
    corner = view.spot_of(step.station_mm, step.keel_z_mm)
    post = view.spot_of(step.sternpost_station_mm, step.sternpost_z_mm)
    slope = math.tan(math.radians(step.forebody_keel_angle_deg))
    run = step.sternpost_station_mm - step.station_mm
    ahead = view.spot_of(step.station_mm + run, step.keel_z_mm + slope * run)
    for end in (post, ahead):
        sheet.line([corner, end], color=style.SOFT, width=style.THIN, layer=Layer.LINE)
    _arc(sheet, corner, (ahead, post), angle_text(step.sternpost_angle_deg))
    marks.step_triangle(sheet, corner)
    base = min(floor, corner[1], ahead[1])
    left = f"forebody keel {_rise_words(step.forebody_keel_angle_deg)}"
    left += f"   step {draft_text(step.depth_mm)} deep"
    afterbody = angle_text(scene.answer.afterbody_angle_deg or 0.0)
    right = f"sternpost {angle_text(step.sternpost_angle_deg)}, afterbody keel {afterbody}, both"
    right += " to the forebody keel"
    return _either_side(sheet, corner[0], base - 22.0, (left, right))


def _rise_words(angle_deg: float) -> str:
    """Return which way a keel rises in body axes."""
    if abs(angle_deg) < LEAST_ANGLE_DEG:
        return "along body x"
    way = "forward" if angle_deg < 0.0 else "aft"
    return f"rises {angle_text(abs(angle_deg))} {way}"


def _either_side(sheet: Sheet, x: float, y: float, words: tuple[str, str]) -> float:
    """Write words left and right of the step in one row, or in two; return where they end."""
    left, right = words
    one, two = (sheet.width_of(text, style.NOTE) for text in words)
    room = sheet.width - 2.0 * style.MARGIN
    if one + 24.0 + two > room:
        for i, text in enumerate(words):
            sheet.text((style.MARGIN, y - 11.0 * i), text, style.NOTE)
        return y - 11.0
    at = max(style.MARGIN, min(x - 12.0 - one, style.MARGIN + room - one - 24.0 - two))
    sheet.text((at, y), left, style.NOTE)
    sheet.text((at + one + 24.0, y), right, style.NOTE)
    return y


def _arc(sheet: Sheet, corner: Spot, ends: tuple[Spot, Spot], value: str) -> None:
    """Draw the arc of the sternpost angle, ends from the lower line up; its value if it fits."""
    center = np.array(corner)
    angles = [math.atan2(end[1] - corner[1], end[0] - corner[0]) for end in ends]
    radius = 0.82 * float(np.hypot(*(np.array(ends[1]) - center)))
    turn = np.linspace(angles[0], angles[1], 24)
    arc = center + radius * np.stack((np.cos(turn), np.sin(turn)), axis=1)
    sheet.line(arc, color=style.INK, width=style.THIN, layer=Layer.LINE)
    start, stop = float(arc[:, 0].max()) + 3.0, ends[1][0]
    width = sheet.width_of(value, style.NUMBER)
    if float(np.ptp(arc[:, 1])) >= 19.0 and start + width <= stop:
        sheet.text((start, float(arc[:, 1].mean()) - 4.0), value, style.NUMBER)


def _center(sheet: Sheet, view: View, scene: StepScene) -> None:
    """Draw the center of gravity with the step's angle from the forebody keel's normal."""
    place, step = scene.answer.place, scene.answer.step
    if place is None or step is None:
        return
    x, _, z = place.center_of_gravity_mm
    center, corner = view.spot_of(x, z), view.spot_of(step.station_mm, step.keel_z_mm)
    slope = math.radians(step.forebody_keel_angle_deg)
    reach = (step.station_mm - x) * math.sin(slope) - (step.keel_z_mm - z) * math.cos(slope)
    if reach > 0.0:
        foot = view.spot_of(x + reach * math.sin(slope), z - reach * math.cos(slope))
        marks.step_wedge(sheet, center, foot, corner, filled=place.behind_cg_mm > 0.0)
    marks.center_of_gravity(sheet, center)
    length, angle = place_words(place)
    words = f"CG, step {length} and {angle} {way_words(place.behind_cg_mm)} it"
    width = sheet.width_of(words, style.BOLD_NAME)
    room = Room()
    room.loops([view.at(loop) for loop in (*scene.center, *scene.side)])
    for line in scene.chines:
        room.line(view.at(line), hair=True)
    x, y = center
    places = [
        (x + across if across > 0.0 else x + across - width, y + up)
        for up in (4.0, -3.0, 9.0, 14.0, 20.0, -10.0)
        for across in (8.0, -8.0)
    ]
    right = sheet.width - style.MARGIN
    inside = [at for at in places if at[0] > style.MARGIN and at[0] + width < right]
    boxes = [[sheet.box_of(at, words, style.BOLD_NAME)] for at in inside]
    if inside:
        sheet.text(inside[room.best(boxes)], words, style.BOLD_NAME)


def _propeller(sheet: Sheet, view: View, scene: StepScene) -> None:
    """Draw the lower half of the propeller's disc over a float: what overhang is read from."""
    propeller = scene.craft.fittings.propeller
    if propeller is None or scene.answer.role != "main float":
        return
    lowest = propeller.lowest_mm(_Z)
    hub = view.spot_of(propeller.hub_mm[0], propeller.hub_mm[2])
    foot = view.spot_of(float(lowest[0]), float(lowest[2]))
    marks.dotted(sheet, [hub, foot])
    sheet.disc(hub, 2.0, fill=style.SOFT)
    sheet.text((hub[0] + 6.0, hub[1] - 10.0), "propeller", style.NOTE)


def _sections(sheet: Sheet, scene: StepScene, top: float, scale: float) -> float:
    """Draw the sections side by side at the scale of the side view; return where they end [pt]."""
    every = [np.concatenate(loops) for _, _, loops in scene.sections if loops]
    if not every:
        return top
    low = np.concatenate(every).min(axis=0)
    high = np.concatenate(every).max(axis=0)
    third = (sheet.width - 2.0 * style.MARGIN) / 3.0
    scale = min(scale, 0.8 * third / float(high[0] - low[0]))
    floor = top - 12.0 - scale * float(high[1] - low[1])
    for i, (name, station, loops) in enumerate(scene.sections):
        left = style.MARGIN + i * third
        view = View(
            scale=scale,
            spot=(left + 0.42 * third, floor),
            zero=(float(0.5 * (low[0] + high[0])), float(low[1])),
        )
        words = f"{name}, station {station_text(station)}"
        sheet.text((left, top), words, style.VIEW_TITLE)
        shapes = [view.at(loop) for loop in loops]
        sheet.area(shapes, fill=style.SKIN, layer=Layer.FILL)
        sheet.area(shapes, edge=style.INK, layer=Layer.OUTLINE)
        sheet.text((left, floor - 13.0), _below(scene, name), style.NOTE)
    return floor - 18.0


def _below(scene: StepScene, name: str) -> str:
    """Return what is said under a section."""
    step = scene.answer.step
    if name != "Step" or step is None:
        return "all from astern, at one scale" if name == "Bow" else " "
    if step.beam_over_chines_mm is None or step.deadrise_deg is None:
        return "no chine was found"
    beam = arm_text(step.beam_over_chines_mm)
    return f"{beam} over the chines, deadrise {angle_text(step.deadrise_deg)}"
