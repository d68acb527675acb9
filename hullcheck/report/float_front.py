"""The float drawing's view from astern: the hull's section in the water, the gaps of floats."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outlines import Loops, below
from hullcheck.report import marks, style
from hullcheck.report.float_fittings import Disc, Point, propeller_ring_mm, wing_tips
from hullcheck.report.float_scene import BodyShape, Scene
from hullcheck.report.float_wing import LEFT, RIGHT, Front, draw_wing, has_wing, wing_points
from hullcheck.report.numbers import depth_text, height_text
from hullcheck.report.sheet import Box, Sheet
from hullcheck.report.spread import Spread, spread, together
from hullcheck.report.style import Layer

__all__ = ["LEFT", "front_points", "front_title", "front_view"]

_GREATEST: Final = 135.0
"""Height of a craft shown whole, on her side or over [pt]."""
_NEAR: Final = 60.0
"""A wing tip stands true beside its float if the two are no wider than this together [pt]."""

_REACHED: Final = 0.25
"""Of its distance from the middle: a wing tip no higher is in the water by 14° of heel."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Gap:
    """A gap to the water that is shown: of a tip float or of a wing tip."""

    name: str
    side: float
    point_mm: FloatArray
    height_mm: float

    @property
    def wet(self) -> bool:
        """Whether it is under water."""
        return self.height_mm < 0.0


def front_title(scene: Scene) -> str:
    """Return the view's finding: the least gap under floats and wing tips."""
    gaps = [*_float_gaps(scene), *_tip_gaps(scene)]
    if not gaps or scene.answer.rest in {"capsized", "sinks"}:
        return "Seen from astern"
    low = min(gaps, key=lambda gap: gap.height_mm)
    value = height_text(low.height_mm)
    alike = [gap for gap in gaps if height_text(gap.height_mm) == value]
    kinds = {gap.name.split(" ", 1)[1] for gap in alike}
    both = len(alike) == 2 and len(kinds) == 1
    tip = low.name.endswith("tip")
    who = f"both {kinds.pop()}s" if both else "wing tip" if tip else low.name
    if low.height_mm >= 0.0:
        return f"Seen from astern: {who} {value} clear"
    if not tip:
        return f"Seen from astern: {who} in the water"
    return f"Seen from astern: {who} {depth_text(-low.height_mm)} under"


def front_points(scene: Scene, disc: Disc) -> FloatArray:
    """Return every point the view from astern must hold [mm], shape (k, 2)."""
    points = [loop for shape in scene.shapes for loop in shape.front]
    if scene.broken:
        points += [point[None, :] for point in wing_points(scene)]
        ring = propeller_ring_mm(scene) if disc == "whole" else None
        points += [] if ring is None else [scene.from_astern(ring)]
    return np.concatenate(points)


def front_view(sheet: Sheet, scene: Scene, top: float, scale: float, disc: Disc = "whole") -> float:
    """Draw the view from astern with its top at a height of the sheet and return its end [pt]."""
    every = front_points(scene, disc)
    layout, lone = _layout(sheet, scene, every, scale)
    shown = _shown(scene)
    surface = top - max(float(every[:, 1].max()), 0.0) * layout.scale
    surface -= 13.0 if has_wing(scene) else 2.0
    floor = surface - max(-float(every[:, 1].min()) * layout.scale, 0.0) - 12.0
    labels = _label_rows(shown, surface, layout.scale)
    floor = min([floor, *(row - (27.0 if gap.wet else 21.5) for gap, row in labels)])
    marks.water(sheet, Box(left=LEFT, bottom=floor, right=RIGHT, top=surface), strokes=False)
    view = Front(
        sheet=sheet,
        scene=scene,
        layout=layout,
        surface=surface,
        shifts={s.name: shift for s, shift in zip(scene.shapes, layout.shifts, strict=False)},
        lone=lone,
    )
    for shape in scene.shapes:
        _body(view, shape)
    if disc == "whole":
        _propeller(view)
    if has_wing(scene):
        draw_wing(view, float(every[:, 1].max()))
    else:
        for start, stop in layout.breaks:
            marks.left_out(sheet, (0.5 * (start + stop), surface))
    for gap, row in labels:
        _gap(view, gap, row)
    return floor


def _float_gaps(scene: Scene) -> list[Gap]:
    """Return the gaps under the tip floats."""
    return [
        Gap(
            name="starboard float" if shape.middle_mm[1] > 0.0 else "port float",
            side=float(np.sign(shape.middle_mm[1])),
            point_mm=shape.lowest,
            height_mm=shape.clearance_mm,
        )
        for shape in scene.tip_floats
    ]


def _tip_gaps(scene: Scene) -> list[Gap]:
    """Return the gaps under wing tips that are shown: under water, or the lowest thing there is.

    One that many degrees of heel would not bring to the water says nothing and is left out.
    """
    tips = [
        tip
        for tip in (wing_tips(scene) if has_wing(scene) else ())
        if tip.height_mm <= _REACHED * abs(float(tip.point_mm[1]))
    ]
    heights = [gap.height_mm for gap in _float_gaps(scene)] + [tip.height_mm for tip in tips]
    low = min(heights, default=0.0)
    return [
        Gap(name=tip.name, side=tip.side, point_mm=tip.point_mm, height_mm=tip.height_mm)
        for tip in tips
        if tip.height_mm < 0.0 or height_text(tip.height_mm) == height_text(low)
    ]


def _shown(scene: Scene) -> list[Gap]:
    """Return the gaps that are drawn; none for a craft shown whole, on her side or sunk."""
    if not scene.broken or scene.answer.rest == "sinks":
        return []
    return [*_float_gaps(scene), *_tip_gaps(scene)]


def _label_rows(shown: list[Gap], surface: float, scale: float) -> list[tuple[Gap, float]]:
    """Return each gap with the baseline of its number: a wing tip's lies under its float's."""
    rows: list[tuple[Gap, float]] = []
    for gap in shown:
        row = surface + min(gap.height_mm, 0.0) * scale - (17.0 if gap.wet else 12.5)
        for other, y in [(other, y) for other, y in rows if other.side == gap.side]:
            row = min(row, y - (15.5 if other.wet else 11.0) - (19.0 if gap.wet else 14.0))
        rows.append((gap, row))
    return rows


def _layout(
    sheet: Sheet, scene: Scene, every: FloatArray, scale: float
) -> tuple[Spread, dict[float, float]]:
    """Return where the bodies stand, and the shift of each wing tip without a float by its side.

    The span is broken near upright; else the whole craft stands to scale.
    """
    spans = [
        (min(float(p[:, 0].min()) for p in s.front), max(float(p[:, 0].max()) for p in s.front))
        for s in scene.shapes
    ]
    if not scene.broken:
        high = float(np.ptp(np.append(every[:, 1], 0.0)))
        fits = min(scale, _GREATEST / max(high, 1e-9))
        return together(spans, fits, (LEFT + 8.0, RIGHT - 8.0)), {}
    shown = _shown(scene)
    rooms = [0.0] * len(spans)
    for gap in shown:
        shape = next((s for s in scene.tip_floats if s.lowest is gap.point_mm), None)
        if shape is not None:
            rooms[scene.shapes.index(shape)] = _label_width(sheet, gap)
    lone: dict[float, int] = {}
    for tip in wing_tips(scene) if has_wing(scene) else ():
        x = float(scene.from_astern(tip.point_mm)[0])
        beside = next((s for s in scene.tip_floats if s.middle_mm[1] * tip.side > 0.0), None)
        if beside is None:
            lone[tip.side] = len(spans)
            rooms.append(max([24.0, *(_label_width(sheet, g) for g in shown if _same(g, tip))]))
            spans.append((x, x))
            continue
        i = scene.shapes.index(beside)
        wide = (min(spans[i][0], x), max(spans[i][1], x))
        if (wide[1] - wide[0]) * scale <= _NEAR:
            rooms[i] += (wide[1] - wide[0] - (spans[i][1] - spans[i][0])) * scale
            spans[i] = wide
    layout = spread(spans, rooms, scale, (LEFT, RIGHT))
    return layout, {side: layout.shifts[i] for side, i in lone.items()}


def _same(gap: Gap, tip: Point) -> bool:
    """Return whether a gap is that of a wing tip."""
    return gap.name == tip.name


def _label_width(sheet: Sheet, gap: Gap) -> float:
    """Return how wide a gap's label is with some air [pt]."""
    value = height_text(gap.height_mm)
    if gap.height_mm >= 0.0:
        return 8.0 + max(sheet.width_of(gap.name, style.NAME), sheet.width_of(value, style.NUMBER))
    return 8.0 + max(
        sheet.width_of(gap.name, style.BOLD_NAME), sheet.width_of(value, style.FLAG) + 8.0
    )


def _placed(view: Front, shape: BodyShape, loops: Loops) -> Loops:
    """Return a body's loops [mm] on the sheet."""
    shift = np.array([view.shifts[shape.name], view.surface])
    return [loop * view.layout.scale + shift for loop in loops]


def _body(view: Front, shape: BodyShape) -> None:
    """Draw a body: silhouette, its part under water, the section at the step in ink."""
    sheet = view.sheet
    front, section = _placed(view, shape, shape.front), _placed(view, shape, shape.section)
    sheet.area(front, fill=style.SKIN)
    wet = _placed(view, shape, below(shape.front, 0.0))
    sheet.area(wet, fill=style.WET_SKIN, layer=Layer.WET)
    if section:
        sheet.area(front, edge=style.SOFT, width=style.HAIR, layer=Layer.HAIR)
    sheet.area(section or front, edge=style.INK, layer=Layer.OUTLINE)


def _propeller(view: Front) -> None:
    """Draw the propeller disc, dotted, where it fits between what stands beside the hull."""
    ring = propeller_ring_mm(view.scene) if view.scene.broken else None
    if ring is None:
        return
    spots = view.scene.from_astern(ring) * view.layout.scale
    spots = spots + np.array([view.middle, view.surface])
    low, high = float(spots[:, 0].min()), float(spots[:, 0].max())
    walls = [0.5 * (start + stop) for start, stop in view.layout.breaks]
    walls += [
        float(x)
        for shape in view.scene.tip_floats
        for loop in _placed(view, shape, shape.front)
        for x in (loop[:, 0].min(), loop[:, 0].max())
    ]
    if low >= LEFT and high <= RIGHT and not any(low - 5.0 < wall < high + 5.0 for wall in walls):
        marks.dotted(view.sheet, np.concatenate((spots, spots[:1])))


def _gap(view: Front, gap: Gap, row: float) -> None:
    """Draw a gap as a bar from the water's height, named in the water below."""
    sheet = view.sheet
    x, low = view.spot(gap.point_mm, gap.side, tip=gap.name.endswith("tip"))
    kind: marks.Kind = "limiting" if gap.wet else "plain"
    marks.height_bar(sheet, (x, low), view.surface, kind=kind, diamond=False)
    half = 0.5 * (_label_width(sheet, gap) - 8.0)
    x = min(max(x, LEFT + 2.0 + half), RIGHT - 2.0 - half)
    value = height_text(gap.height_mm)
    if gap.wet:
        marks.flag(sheet, (x, row), value, side="center")
        name = style.BOLD_NAME.colored(style.LIMIT)
        sheet.text((x, row - 15.5), gap.name, name, side="center")
        return
    sheet.text((x, row), value, style.NUMBER, side="center")
    sheet.text((x, row - 11.0), gap.name, style.NAME, side="center")
