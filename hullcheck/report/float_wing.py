"""The wing as seen from astern, dotted: it is not in the mesh."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.report import marks, style
from hullcheck.report.float_fittings import wing_tips
from hullcheck.report.float_scene import BodyShape, Scene
from hullcheck.report.sheet import Sheet, Spot
from hullcheck.report.spread import Spread

LEFT: Final = style.MARGIN
RIGHT: Final = 262.0
_BEYOND: Final = 24.0
"""How far past its float a wing is drawn whose tip is not known [pt]."""
_HANGING_DEG: Final = 3.0
_WORDS: Final = "wing, not in the mesh"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Front:
    """What the parts of the view from astern share.

    `shifts` is each body's by its name and `lone` a wing tip's by its side, where no float stands
    there; all [pt].
    """

    sheet: Sheet
    scene: Scene
    layout: Spread
    surface: float
    shifts: dict[str, float]
    lone: dict[float, float]

    @property
    def middle(self) -> float:
        """Shift of the craft's middle: that of the hull, or between main floats [pt]."""
        return float(np.mean([self.shifts[shape.name] for shape in self.scene.hulls]))

    def shift(self, side: float) -> float:
        """Return the shift of what hangs under a wing's half, by its side [pt]."""
        for shape in self.scene.tip_floats:
            if shape.middle_mm[1] * side > 0.0:
                return self.shifts[shape.name]
        return self.lone.get(side, self.middle)

    def spot(self, point_mm: FloatArray, side: float, *, tip: bool = False) -> Spot:
        """Return a point's spot on a side; a wing tip beyond the view stands at its edge."""
        x, y = self.scene.from_astern(np.asarray(point_mm)) * self.layout.scale
        x = float(x) + self.shift(side)
        if tip:
            x = min(max(x, LEFT + 2.0), RIGHT - 2.0)
        return x, float(y) + self.surface


def has_wing(scene: Scene) -> bool:
    """Return whether a wing is drawn: one is given, or tip floats must hang under one."""
    given = scene.craft.fittings.wing is not None or bool(scene.tip_floats)
    return given and scene.flat and scene.answer.rest != "sinks"


def wing_points(scene: Scene) -> list[FloatArray]:
    """Return the wing's ends as seen from astern [mm]; empty where none is drawn."""
    if not has_wing(scene):
        return []
    tips = wing_tips(scene)
    ends = [tip.point_mm for tip in tips] or [_over(scene, shape) for shape in scene.tip_floats]
    return [scene.from_astern(end) for end in ends]


def draw_wing(view: Front, peak_mm: float) -> None:
    """Draw each half of the wing, the struts of the floats, and that it is not in the mesh.

    The words stand over the highest point of the view [mm].
    """
    tips = wing_tips(view.scene)
    for tip in tips:
        end = view.spot(tip.point_mm, tip.side, tip=True)
        _half(view, tip.point_mm, end, tip.side)
        for shape in view.scene.tip_floats:
            if shape.middle_mm[1] * tip.side > 0.0:
                _strut(view, shape, float(tip.point_mm[2]))
    for shape in () if tips else view.scene.tip_floats:
        over_mm = _over(view.scene, shape)
        side = float(np.sign(shape.middle_mm[1]))
        x = view.spot(over_mm, side)[0] + side * _BEYOND
        _half(view, over_mm, (min(max(x, LEFT), RIGHT), 0.0), side)
        _strut(view, shape, float(over_mm[2]))
    _say(view, peak_mm)


def _say(view: Front, peak_mm: float) -> None:
    """Write that the wing is not in the mesh: over all, or over the half that hangs down."""
    heel = view.scene.heel_deg
    if abs(heel) < _HANGING_DEG:
        # Between two hulls the wing's slashes may stand under the words.
        over = 4.0 if len(view.scene.hulls) == 1 else 8.0
        at = (view.middle, view.surface + peak_mm * view.layout.scale + over)
        view.sheet.text(at, _WORDS, style.NOTE, side="center")
        return
    ends = [tip.point_mm for tip in wing_tips(view.scene)]
    ends += [_over(view.scene, shape) for shape in view.scene.tip_floats]
    tops = [float(loop[:, 1].max()) for shape in view.scene.hulls for loop in shape.front]
    tops += [float(view.scene.from_astern(np.array([x, 0.0, z]))[1]) for x, _, z in ends]
    y = view.surface + max(tops) * view.layout.scale + 7.0
    half = 0.5 * view.sheet.width_of(_WORDS, style.NOTE)
    x = view.middle + float(np.sign(heel)) * half
    view.sheet.text((min(max(x, LEFT + half), RIGHT - half), y), _WORDS, style.NOTE, side="center")


def _over(scene: Scene, shape: BodyShape) -> FloatArray:
    """Return a point of the wing that must hold a float: over it, as high as hull and float."""
    top = float(2.0 * shape.middle_mm[2] - shape.lowest[2])
    tops = scene.deck_body.shell.triangles_mm.reshape(-1, 3)
    near = tops[np.abs(tops[:, 0] - shape.middle_mm[0]) < 0.1 * np.ptp(tops[:, 0])]
    hull = float(near[:, 2].max()) if len(near) else top
    height = max(hull, top + 0.4 * float(top - shape.lowest[2]))
    return np.array([shape.middle_mm[0], shape.middle_mm[1], height])


def _strut(view: Front, shape: BodyShape, wing_z_mm: float) -> None:
    """Draw what holds a float to the wing over it, if the wing is over it."""
    scene, side = view.scene, float(np.sign(shape.middle_mm[1]))
    over = view.spot(np.array([shape.middle_mm[0], shape.middle_mm[1], wing_z_mm]), side)
    top = max(float(loop[:, 1].max()) for loop in shape.front) * view.layout.scale + view.surface
    if over[1] > top:
        lean = math.tan(math.radians(scene.heel_deg))
        marks.dotted(view.sheet, [(over[0] + lean * (top - over[1]), top), over])


def _half(view: Front, point_mm: FloatArray, end: Spot, side: float) -> None:
    """Draw one half of the wing from its end on the sheet, through a point, to the center plane."""
    x, y, z = (float(v) for v in point_mm)
    scene = view.scene
    flat = scene.from_astern(np.array([[x, 0.0, z], [x, y, z]]))
    center = flat[0] * view.layout.scale + np.array([view.middle, view.surface])
    over = view.spot(point_mm, side)
    slope = float((flat[1][1] - flat[0][1]) / (flat[1][0] - flat[0][0]))
    between = [
        0.5 * (start + stop)
        for start, stop in view.layout.breaks
        if min(over[0], center[0]) < 0.5 * (start + stop) < max(over[0], center[0])
    ]
    gap = (min if side > 0.0 else max)(between) if between else None
    _broken_half(view, (over, (float(center[0]), float(center[1]))), (end, gap), slope)


def _broken_half(
    view: Front, spots: tuple[Spot, Spot], ends: tuple[Spot, float | None], slope: float
) -> None:
    """Draw one half of the wing through a spot over its float and one over the hull."""
    (over, center), (end, gap) = spots, ends
    sheet = view.sheet

    def at(spot: Spot, x: float) -> Spot:
        """Return the wing's spot at an x, going out from another."""
        return x, spot[1] + slope * (x - spot[0])

    if gap is None:
        marks.dotted(sheet, [at(over, end[0]), center])
        return
    way = 1.0 if over[0] > center[0] else -1.0
    outer, inner = at(over, gap + 4.0 * way), at(center, gap - 4.0 * way)
    marks.dotted(sheet, [at(over, end[0]), outer])
    marks.dotted(sheet, [center, inner])
    if abs(outer[1] - inner[1]) < 4.0:
        marks.left_out(sheet, (gap, 0.5 * (outer[1] + inner[1])))
        return
    marks.left_out(sheet, (outer[0] - 3.0 * way, outer[1]))
    marks.left_out(sheet, (inner[0] + 3.0 * way, inner[1]))
