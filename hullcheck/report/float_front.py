"""The float drawing's view from astern: the hull's section in the water, the tip floats' gaps."""

import math
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outlines import Loops, below
from hullcheck.report import marks, style
from hullcheck.report.float_scene import BodyShape, Scene
from hullcheck.report.numbers import height_text
from hullcheck.report.sheet import Box, Sheet, Spot
from hullcheck.report.spread import Spread, spread, together
from hullcheck.report.style import Layer

LEFT: Final = style.MARGIN
RIGHT: Final = 262.0
_LABEL_ROOM: Final = 34.0
_GREATEST: Final = 135.0
"""Height of a craft shown whole, on her side or over [pt]."""


def front_title(scene: Scene) -> str:
    """Return the view's finding: the tip floats' gaps."""
    floats = scene.tip_floats
    if not floats or scene.answer.rest in {"capsized", "sinks"}:
        return "Seen from astern"
    low = min(floats, key=lambda f: f.clearance_mm)
    value = height_text(low.clearance_mm)
    alike = all(height_text(f.clearance_mm) == value for f in floats)
    who = "both floats" if alike and len(floats) == 2 else side_name(low)
    state = f"{value} clear" if low.clearance_mm >= 0.0 else "in the water"
    return f"Seen from astern: {who} {state}"


def side_name(shape: BodyShape) -> str:
    """Return a tip float by its side."""
    return "starboard float" if shape.middle_mm[1] > 0.0 else "port float"


def front_view(sheet: Sheet, scene: Scene, top: float, scale: float) -> float:
    """Draw the view from astern with its top at a height of the sheet and return its end [pt]."""
    shapes = scene.shapes
    every = np.concatenate([loop for s in shapes for loop in s.front])
    layout = _layout(sheet, scene, every, scale)
    wing = _wing_points(scene)
    peak = max([float(every[:, 1].max()), *(float(p[1]) for p in wing), 0.0])
    surface = top - peak * layout.scale - (13.0 if wing else 2.0)
    depth = max(-float(every[:, 1].min()) * layout.scale, 0.0)
    floor = surface - max(depth + 12.0, _LABEL_ROOM if scene.tip_floats else 0.0)
    if any(s.clearance_mm < 0.0 for s in scene.tip_floats) and scene.broken:
        floor = min(floor, surface - _deepest_float(scene) * layout.scale - 44.0)
    marks.water(sheet, Box(left=LEFT, bottom=floor, right=RIGHT, top=surface), strokes=False)
    for shape, shift in zip(shapes, layout.shifts, strict=True):
        _body(sheet, shape, (layout.scale, shift, surface))
    if scene.broken and scene.answer.rest != "sinks":
        if wing:
            _wing(sheet, scene, layout, surface)
        for shape, shift in zip(shapes, layout.shifts, strict=True):
            if shape in scene.tip_floats:
                x = float(scene.from_astern(shape.lowest)[0]) * layout.scale + shift
                _gap(sheet, shape, (x, surface), layout.scale)
    if not wing:
        for start, stop in layout.breaks:
            marks.left_out(sheet, (0.5 * (start + stop), surface))
    return floor


def _layout(sheet: Sheet, scene: Scene, every: FloatArray, scale: float) -> Spread:
    """Return where the bodies stand: span broken near upright, else the whole craft to scale."""
    shapes = scene.shapes
    spans = [
        (min(float(p[:, 0].min()) for p in s.front), max(float(p[:, 0].max()) for p in s.front))
        for s in shapes
    ]
    if scene.broken:
        rooms = [_label_width(sheet, s) if s in scene.tip_floats else 0.0 for s in shapes]
        return spread(spans, rooms, scale, (LEFT, RIGHT))
    high = float(np.ptp(np.append(every[:, 1], 0.0)))
    fits = min(scale, _GREATEST / max(high, 1e-9))
    return together(spans, fits, (LEFT + 8.0, RIGHT - 8.0))


def _label_width(sheet: Sheet, shape: BodyShape) -> float:
    """Return how wide a tip float's label is with some air [pt]."""
    words, value = side_name(shape), height_text(shape.clearance_mm)
    if shape.clearance_mm >= 0.0:
        return 8.0 + max(sheet.width_of(words, style.NAME), sheet.width_of(value, style.NUMBER))
    return 8.0 + max(
        sheet.width_of(words, style.BOLD_NAME), sheet.width_of(value, style.FLAG) + 8.0
    )


def _deepest_float(scene: Scene) -> float:
    """Return how deep the deepest tip float lies [mm]."""
    return max(-s.clearance_mm for s in scene.tip_floats)


def _placed(loops: Loops, place: tuple[float, float, float]) -> Loops:
    """Return loops [mm] on the sheet: scale, shift, surface."""
    scale, shift, surface = place
    return [loop * scale + np.array([shift, surface]) for loop in loops]


def _body(sheet: Sheet, shape: BodyShape, place: tuple[float, float, float]) -> None:
    """Draw a body: silhouette, its part under water, the section at the step in ink."""
    front, section = _placed(shape.front, place), _placed(shape.section, place)
    sheet.area(front, fill=style.SKIN)
    sheet.area(_placed(below(shape.front, 0.0), place), fill=style.WET_SKIN, layer=Layer.WET)
    if section:
        sheet.area(front, edge=style.SOFT, width=style.HAIR, layer=Layer.HAIR)
    sheet.area(section or front, edge=style.INK, layer=Layer.OUTLINE)


def _gap(sheet: Sheet, shape: BodyShape, foot: tuple[float, float], scale: float) -> None:
    """Draw a tip float's gap as a bar in the water line's height, named in the water below."""
    x, surface = foot
    gap = shape.clearance_mm
    low = surface + gap * scale
    wet = gap < 0.0
    marks.height_bar(sheet, (x, low), surface, limiting=wet, diamond=False)
    baseline = surface - 12.5 if not wet else low - 17.0
    if wet:
        marks.flag(sheet, (x, baseline), height_text(gap), side="center")
        name = style.BOLD_NAME.colored(style.LIMIT)
        sheet.text((x, baseline - 15.5), side_name(shape), name, side="center")
        return
    sheet.text((x, baseline), height_text(gap), style.NUMBER, side="center")
    sheet.text((x, baseline - 11.0), side_name(shape), style.NAME, side="center")


def _wing_height(scene: Scene, shape: BodyShape) -> float:
    """Return a height in body axes for the wing that must hold a float: over hull and float."""
    top = float(2.0 * shape.middle_mm[2] - shape.lowest[2])
    tops = scene.deck_body.shell.triangles_mm.reshape(-1, 3)
    near = tops[np.abs(tops[:, 0] - shape.middle_mm[0]) < 0.1 * np.ptp(tops[:, 0])]
    hull = float(near[:, 2].max()) if len(near) else top
    return max(hull, top + 0.4 * float(top - shape.lowest[2]))


def _wing_points(scene: Scene) -> list[FloatArray]:
    """Return the wing over each tip float as seen from astern [mm]; empty where none is shown."""
    if not scene.flat or scene.answer.rest == "sinks":
        return []
    return [
        scene.from_astern(np.array([s.middle_mm[0], s.middle_mm[1], _wing_height(scene, s)]))
        for s in scene.tip_floats
    ]


def _wing(sheet: Sheet, scene: Scene, layout: Spread, surface: float) -> None:
    """Draw the wing that must hold the tip floats, dotted: it is not in the mesh."""
    shifts = dict(zip((s.name for s in scene.shapes), layout.shifts, strict=True))
    middle = float(np.mean([shifts[s.name] for s in scene.hulls]))
    for shape in scene.tip_floats:
        z = _wing_height(scene, shape)
        x, y = (float(v) for v in shape.middle_mm[:2])
        points = scene.from_astern(np.array([[x, 0.0, z], [x, y, z]]))
        over = points[1] * layout.scale + np.array([shifts[shape.name], surface])
        top = max(float(loop[:, 1].max()) for loop in shape.front) * layout.scale + surface
        lean = math.tan(math.radians(scene.heel_deg))
        _dotted(sheet, [(float(over[0] + lean * (top - over[1])), top), tuple(over)])
        center = points[0] * layout.scale + np.array([middle, surface])
        slope = (points[1][1] - points[0][1]) / (points[1][0] - points[0][0])
        way = 1.0 if over[0] > center[0] else -1.0
        reach = RIGHT - over[0] if way > 0.0 else over[0] - LEFT
        tip = over[0] + way * min(24.0, reach)
        between = [
            0.5 * sum(ends)
            for ends in layout.breaks
            if min(over[0], center[0]) < 0.5 * sum(ends) < max(over[0], center[0])
        ]
        gap = (min if way > 0.0 else max)(between) if between else None
        _wing_half(sheet, (tuple(over), tuple(center)), (tip, gap), float(slope))
    hulls = [float(loop[:, 1].max()) for s in scene.hulls for loop in s.front]
    peak = max([*hulls, *(float(p[1]) for p in _wing_points(scene))])
    y = surface + peak * layout.scale + 4.0
    sheet.text((middle, y), "wing, not in the mesh", style.NOTE, side="center")


def _wing_half(
    sheet: Sheet, spots: tuple[Spot, Spot], ends: tuple[float, float | None], slope: float
) -> None:
    """Draw one half of the wing through a spot over its float and one over the hull."""
    (over, center), (tip, gap) = spots, ends

    def at(spot: Spot, x: float) -> Spot:
        """Return the wing's spot at an x, going out from another."""
        return x, spot[1] + slope * (x - spot[0])

    if gap is None:
        _dotted(sheet, [at(over, tip), center])
        return
    way = 1.0 if over[0] > center[0] else -1.0
    outer, inner = at(over, gap + 4.0 * way), at(center, gap - 4.0 * way)
    _dotted(sheet, [at(over, tip), outer])
    _dotted(sheet, [center, inner])
    if abs(outer[1] - inner[1]) < 4.0:
        marks.left_out(sheet, (gap, 0.5 * (outer[1] + inner[1])))
        return
    marks.left_out(sheet, (outer[0] - 3.0 * way, outer[1]))
    marks.left_out(sheet, (inner[0] + 3.0 * way, inner[1]))


def _dotted(sheet: Sheet, points: list[Spot]) -> None:
    """Draw a dotted line."""
    sheet.line(points, color=style.SOFT, width=1.2, pattern=style.DOTTED, layer=Layer.HAIR)
