"""The float drawing's large view: from port, in the water, with heights, drafts and the step."""

from dataclasses import dataclass, field
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outlines import Loops, below
from hullcheck.report import marks, style
from hullcheck.report.float_fittings import (
    Disc,
    disc_side_mm,
    draw_limit,
    draw_pencil_marks,
    draw_propeller,
    name_limit,
    name_pencil_marks,
    name_propeller,
)
from hullcheck.report.float_flags import FlagRow, draw_flags, flag_row
from hullcheck.report.float_levers import draw_levers
from hullcheck.report.float_scene import Scene
from hullcheck.report.labels import Room
from hullcheck.report.numbers import draft_text
from hullcheck.report.sheet import Box, Sheet, Spot
from hullcheck.report.style import Layer
from hullcheck.report.words import water_words

KEEL_ROOM: Final = 32.0
"""Water under the keel, for the drafts' text [pt]."""
_LEAST_DRAFT_PT: Final = 2.0
_INSIDE: Final = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A view's place on the sheet: scale [pt per mm], the spot of its zero, its zero [mm]."""

    scale: float
    spot: Spot
    zero_mm: float = 0.0

    def at(self, points: FloatArray) -> FloatArray:
        """Return flat points [mm] as spots on the sheet [pt]."""
        flat: FloatArray = (np.asarray(points) - np.array([self.zero_mm, 0.0])) * self.scale
        flat += np.array(self.spot)
        return flat

    def all(self, loops: Loops) -> Loops:
        """Return loops [mm] as loops on the sheet [pt]."""
        return [self.at(loop) for loop in loops]


@dataclass(frozen=True, slots=True, kw_only=True)
class SideView:
    """What the parts of the side view share: sheet, scene, place, and what is taken."""

    sheet: Sheet
    scene: Scene
    placed: Placed
    floor: float
    row: FlagRow
    disc: Disc
    room: Room = field(default_factory=Room)

    @property
    def surface(self) -> float:
        """The water's surface on the sheet [pt]."""
        return self.placed.spot[1]

    def spot(self, point_mm: FloatArray) -> Spot:
        """Return a point in body axes as a spot on the sheet."""
        x, y = self.placed.at(self.scene.from_port(np.asarray(point_mm)))
        return float(x), float(y)

    def reach(self, left: float, right: float) -> tuple[float, float]:
        """Return the lowest and the highest spot of the hulls between two x [pt]."""
        found = [
            _between(loop, left, right)
            for shape in self.scene.hulls
            for loop in self.placed.all(shape.side)
        ]
        heights = np.concatenate(found) if found else np.array([])
        if len(heights) == 0:
            return self.surface, self.surface
        return float(heights.min()), float(heights.max())


def extents_mm(scene: Scene, disc: Disc | None) -> tuple[float, float, float, float]:
    """Return the side view's foremost, aftmost, lowest and highest [mm], CG and all.

    Parameters
    ----------
    disc : str or None
        How much of the propeller counts; None for the hull and her CG alone, without openings that
        stand out of the mesh.
    """
    points = [loop for shape in scene.hulls for loop in shape.side]
    ends = None if disc is None else disc_side_mm(scene, disc)
    if ends is not None:
        points.append(ends)
    if disc is not None and scene.height_marks:
        points.append(scene.from_port(np.stack([mark.point_mm for mark in scene.height_marks])))
    if scene.answer.center_of_gravity_mm is not None:
        center = np.array([scene.answer.center_of_gravity_mm])
        points.append(scene.from_port(center))
    every = np.concatenate(points)
    low, high = every.min(axis=0), every.max(axis=0)
    return float(low[0]), float(high[0]), float(low[1]), float(high[1])


def side_view(sheet: Sheet, scene: Scene, top: float, scale: float, disc: Disc = "whole") -> float:
    """Draw the side view with its top at a height of the sheet and return where it ends [pt]."""
    fore, aft, low, high = extents_mm(scene, disc)
    level = Placed(scale=scale, spot=(0.5 * sheet.width, 0.0), zero_mm=0.5 * (fore + aft))
    row = flag_row(
        sheet, [(m, float(level.at(scene.from_port(m.point_mm))[0])) for m in scene.height_marks]
    )
    surface = top - row.height - max(high, 0.0) * scale
    spot = (0.5 * sheet.width, surface)
    floor = surface + min(low, 0.0) * scale - KEEL_ROOM
    view = SideView(
        sheet=sheet,
        scene=scene,
        placed=Placed(scale=scale, spot=spot, zero_mm=0.5 * (fore + aft)),
        floor=floor,
        row=row,
        disc=disc,
    )
    _hull(view)
    _water(view)
    draw_flags(view, top)
    draw_limit(view)
    draw_propeller(view)
    draw_pencil_marks(view)
    _bow(view)
    feet = _draft_arrows(view)
    end = draw_levers(view)
    for foot, value, name in feet:
        _draft_label(view, foot, value, name)
    name_propeller(view)
    name_limit(view)
    name_pencil_marks(view)
    return end


def _hull(view: SideView) -> None:
    """Draw silhouettes, wet parts, center-plane outlines and chines."""
    sheet, placed = view.sheet, view.placed
    for i, shape in enumerate(view.scene.hulls):
        layer = 0.01 * i
        side, center = placed.all(shape.side), placed.all(shape.center)
        sheet.area(side, fill=style.SKIN, layer=Layer.FILL + layer)
        sheet.area(
            placed.all(below(shape.side, 0.0)), fill=style.WET_SKIN, layer=Layer.FILL + layer
        )
        for line in shape.chines:
            sheet.line(placed.at(line), color=style.SOFT, width=style.HAIR, layer=Layer.HAIR)
            view.room.line(placed.at(line), hair=True)
        if center:
            sheet.area(side, edge=style.SOFT, width=style.HAIR, layer=Layer.HAIR)
        sheet.area(center or side, edge=style.INK, layer=Layer.OUTLINE + layer)
        view.room.loops(side, hair=bool(center))
        view.room.loops(center)


def _water(view: SideView) -> None:
    """Draw the water from edge to edge, and what water it is."""
    sheet = view.sheet
    box = Box(left=0.0, bottom=view.floor, right=sheet.width, top=view.surface)
    fore = view.placed.at(np.array([extents_mm(view.scene, view.disc)[0], 0.0]))[0]
    marks.water(sheet, box, strokes=bool(fore > 26.0))
    view.room.line([(0.0, view.surface), (sheet.width, view.surface)])
    kind = style.NOTE.colored(style.WATER)
    words = water_words(view.scene.answer.water)
    view.room.take(sheet.text((6.0, view.floor + 6.5), words, kind))


def _bow(view: SideView) -> None:
    """Name the bow, where there is room before it."""
    tips = [loop[int(loop[:, 0].argmin())] for shape in view.scene.hulls for loop in shape.side]
    x, y = view.placed.at(min(tips, key=lambda spot: float(spot[0])))
    if view.scene.answer.rest == "capsized":
        return
    width = view.sheet.width_of("bow", style.NOTE)
    places = [(float(x) - 5.0 - width, float(y) + rise) for rise in (-3.0, 1.0, -7.0, 6.0, 11.0)]
    boxes = [[view.sheet.box_of(at, "bow", style.NOTE)] for at in places]
    best = view.room.best(boxes)
    if places[best][0] > 3.0 and view.room.cost(boxes[best][0]) < 1.0:
        view.room.take(view.sheet.text(places[best], "bow", style.NOTE))


def _draft_arrows(view: SideView) -> list[tuple[Spot, str, str]]:
    """Draw an arrow from the surface to the keel for each draft; return foot, value and name."""
    feet = []
    fore, aft, _, _ = extents_mm(view.scene, None)
    ends = view.placed.at(np.array([[fore, 0.0], [aft, 0.0]]))[:, 0]
    for mark in view.scene.draft_marks:
        x, y = view.spot(mark.point_mm)
        if view.surface - y < _LEAST_DRAFT_PT or mark.draft_mm < 0.5:
            continue
        if mark.name == "step draft":
            away = _free_aside(view, x)
            witness = [(x + 5.0, y), (x + away + 4.0, y)]
            view.sheet.line(witness, color=style.SOFT, width=style.HAIR)
            view.room.line(witness, hair=True)
            x += away
        else:
            x = min(max(x, ends[0] + _INSIDE), ends[1] - _INSIDE)
            y = view.reach(x, x)[0] if abs(view.reach(x, x)[0] - y) < _INSIDE else y
        marks.draft(view.sheet, x, view.surface, y)
        view.room.line([(x, view.surface), (x, y)])
        feet.append(((x, y), draft_text(mark.draft_mm), mark.name))
    return feet


def _free_aside(view: SideView, x: float) -> float:
    """Return how far aft of the step its draft's arrow stands clear of plumb line and bars [pt]."""
    center = view.scene.answer.center_of_gravity_mm
    taken = [flag.x for flag in view.row.flags]
    if center is not None:
        taken.append(view.spot(np.array(center))[0])
    for away in (29.0, 38.0, 47.0, 20.0, 56.0, 65.0):
        if all(abs(x + away - other) > 11.0 for other in taken):
            return away
    return 29.0


def _draft_label(view: SideView, keel: Spot, value: str, name: str) -> None:
    """Write a draft's value and name where they are free, under the keel."""
    sheet = view.sheet
    number, kind = style.NUMBER.colored(style.WATER), style.NAME.colored(style.WATER)
    width = max(sheet.width_of(value, number), sheet.width_of(name, kind))
    places = []
    for shift in (0.0, 0.5, -0.5, 0.75, -0.75, 1.0, -1.0, 1.3, -1.3, 1.7, -1.7, 2.2):
        middle = keel[0] + shift * (width + 10.0)
        middle = min(max(middle, 0.5 * width + 4.0), sheet.width - 0.5 * width - 4.0)
        under = view.reach(middle - 0.5 * width - 2.0, middle + 0.5 * width + 2.0)[0]
        for drop in (11.5, 15.0, 19.0):
            baseline = min(under, view.surface, keel[1] + 12.0) - drop
            places.append((middle, max(baseline, view.floor + 14.0)))
    groups = [
        [
            sheet.box_of(at, value, number, "center"),
            sheet.box_of((at[0], at[1] - 10.3), name, kind, "center"),
        ]
        for at in places
    ]
    best = view.room.best(groups)
    at = places[best]
    sheet.text(at, value, number, side="center")
    sheet.text((at[0], at[1] - 10.3), name, kind, side="center")
    view.room.take(*groups[best])


def _between(loop: FloatArray, left: float, right: float) -> FloatArray:
    """Return the heights a closed line takes between two x."""
    start, end = loop, np.roll(loop, -1, axis=0)
    run = end[:, 0] - start[:, 0]
    heights = [loop[(loop[:, 0] >= left) & (loop[:, 0] <= right), 1]]
    for x in (left, right):
        crosses = ((start[:, 0] - x) * (end[:, 0] - x) <= 0.0) & (run != 0.0)
        share = (x - start[crosses, 0]) / run[crosses]
        heights.append(start[crosses, 1] + share * (end[crosses, 1] - start[crosses, 1]))
    return np.concatenate(heights)
