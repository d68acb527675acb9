"""The side view of where an item may sit: hull in the water, bar of the interval, CG and band."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.place_records import PlaceAnswer
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outlines import below
from hullcheck.report import marks, style
from hullcheck.report.float_scene import Scene
from hullcheck.report.float_side import Placed
from hullcheck.report.label_rows import Label, draw_row, row_height
from hullcheck.report.numbers import station_text
from hullcheck.report.place_words import (
    at_least_text,
    ballast_place,
    band_words,
    broken_words,
    end_words,
    ends_text,
    with_plus_minus,
)
from hullcheck.report.sheet import Box, Sheet, Spot
from hullcheck.report.style import Layer
from hullcheck.report.words import water_words

_SHARE: Final = 0.8
_TALLEST: Final = 210.0
_WIDEST: Final = 128.0
"""Of a label's lines [pt]."""
_BAR: Final = 5.0
_KEEL_ROOM: Final = 14.0
_CLEAR: Final = 18.0
"""From a row of labels to the hull [pt]."""
_BAND_DROP: Final = 9.0
"""Of the CG's band under its disc [pt]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _View:
    """What the parts of the view share."""

    sheet: Sheet
    scene: Scene
    placed: Placed
    answer: PlaceAnswer

    def spot(self, point_mm: tuple[float, float, float]) -> Spot:
        """Return a point in body axes as a spot on the sheet."""
        x, y = self.placed.at(self.scene.from_port(np.array(point_mm)))
        return float(x), float(y)

    def along(self, station_mm: float) -> Spot:
        """Return a station at the item's height as a spot on the sheet."""
        return self.spot((station_mm, self.answer.y_mm, self.answer.z_mm))


def draw_side(sheet: Sheet, scene: Scene, answer: PlaceAnswer, top: float) -> float:
    """Draw the view with its top at a height of the sheet and return where it ends [pt]."""
    points = _extent(scene, answer)
    low, high = points.min(axis=0), points.max(axis=0)
    scale = min(
        _SHARE * sheet.width / max(high[0] - low[0], 1e-9),
        _TALLEST / max(high[1] - low[1], 1e-9),
    )
    zero = float(0.5 * (low[0] + high[0]))
    sheet.text((style.MARGIN, top), "From port", style.VIEW_TITLE)
    flat = _View(
        sheet=sheet,
        scene=scene,
        placed=Placed(scale=float(scale), spot=(0.5 * sheet.width, 0.0), zero_mm=zero),
        answer=answer,
    )
    above = _above(flat)
    height = row_height(above)
    surface = top - 10.0 - height - _CLEAR - max(float(high[1]), 0.0) * float(scale)
    view = _View(
        sheet=sheet,
        scene=scene,
        placed=Placed(scale=float(scale), spot=(0.5 * sheet.width, surface), zero_mm=zero),
        answer=answer,
    )
    keel = surface + min(float(low[1]), 0.0) * float(scale) - _KEEL_ROOM
    under = _below_labels(view)
    deep = row_height(under)
    floor = keel - deep - 0.5 * _CLEAR
    _water(view, surface, floor)
    _hull(view)
    _marks(view)
    draw_row(sheet, _above(view), top - 10.0 - height, up=True)
    draw_row(sheet, under, keel - 0.5 * _CLEAR + 4.0, up=False)
    return floor


def _extent(scene: Scene, answer: PlaceAnswer) -> FloatArray:
    """Return points the view must hold [mm]."""
    y, z = answer.y_mm, answer.z_mm
    wanted = [(x, y, z) for x in answer.along_mm]
    rows = [answer.now, answer.best, answer.closest]
    wanted += [(row.x_mm, row.y_mm, row.z_mm) for row in rows if row is not None]
    if answer.ballast is not None:
        wanted.append(answer.ballast.center_mm)
    if scene.craft.center_of_gravity_mm is not None:
        wanted.append(scene.craft.center_of_gravity_mm)
    shapes = [loop for shape in scene.hulls for loop in shape.side]
    return np.concatenate([*shapes, scene.from_port(np.array(wanted))])


def _hull(view: _View) -> None:
    """Draw silhouettes, wet parts and center-plane outlines."""
    for i, shape in enumerate(view.scene.hulls):
        layer = 0.01 * i
        side, center = view.placed.all(shape.side), view.placed.all(shape.center)
        view.sheet.area(side, fill=style.SKIN, layer=Layer.FILL + layer)
        wet = view.placed.all(below(shape.side, 0.0))
        view.sheet.area(wet, fill=style.WET_SKIN, layer=Layer.FILL + layer)
        if center:
            view.sheet.area(side, edge=style.SOFT, width=style.HAIR, layer=Layer.HAIR)
        view.sheet.area(center or side, edge=style.INK, layer=Layer.OUTLINE + layer)


def _water(view: _View, surface: float, floor: float) -> None:
    """Draw the water from edge to edge, and what water it is."""
    sheet = view.sheet
    box = Box(left=0.0, bottom=floor, right=sheet.width, top=surface)
    marks.water(sheet, box, strokes=True)
    words, kind = water_words(view.answer.water), style.NOTE.colored(style.WATER)
    center = view.scene.craft.center_of_gravity_mm
    # On the side that the words under her CG leave free.
    if center is not None and view.spot(center)[0] > 0.5 * sheet.width:
        sheet.text((style.MARGIN, floor + 5.0), words, kind)
    else:
        sheet.text((sheet.width - style.MARGIN, floor + 5.0), words, kind, side="right")


def _marks(view: _View) -> None:
    """Draw the box, the intervals, where the item is now, the band of the CG, CG and ballast."""
    sheet, answer, scene = view.sheet, view.answer, view.scene
    if answer.within_mm is not None:
        (x0, _, z0), (x1, _, z1) = answer.within_mm
        corners = [(x0, z0), (x1, z0), (x1, z1), (x0, z1), (x0, z0)]
        marks.dotted(sheet, [view.spot((x, answer.y_mm, z)) for x, z in corners])
    for one in answer.intervals:
        ends = [view.along(end.at_mm) for end in (one.first, one.last)]
        sheet.line(ends, width=_BAR, casing=True, layer=Layer.BAR)
        for x, y in ends:
            sheet.line([(x, y - 4.5), (x, y + 4.5)], width=style.MIDDLE, layer=Layer.BAR)
    center = scene.craft.center_of_gravity_mm
    if center is not None and answer.cg_range_mm is not None:
        _band(view, [view.spot((x, center[1], center[2])) for x in answer.cg_range_mm])
    if center is not None:
        marks.center_of_gravity(sheet, view.spot(center))
    if answer.now is not None:
        now = answer.now
        at = view.spot((now.x_mm, now.y_mm, now.z_mm))
        sheet.disc(at, 4.2, fill=style.PAPER, edge=style.INK, layer=Layer.MARK + 0.4)
    drawn = answer.ballast.aboard if answer.ballast is not None else answer.closest
    if drawn is not None:
        sheet.disc(view.along(drawn.x_mm), 4.2, fill=style.INK, layer=Layer.MARK + 0.3)
    if answer.ballast is not None:
        x, y = view.spot(answer.ballast.center_mm)
        square = np.array([(x - 4, y - 4), (x + 4, y - 4), (x + 4, y + 4), (x - 4, y + 4)])
        sheet.area([square], fill=style.LIMIT, edge=style.PAPER, width=1.0, layer=Layer.MARK + 0.5)


def _band(view: _View, ends: list[Spot]) -> None:
    """Draw the band of the CG: a gray bar under its disc, a tick at each end."""
    low = [(x, y - _BAND_DROP) for x, y in ends]
    view.sheet.line(low, color=style.BAND, width=5.0, layer=Layer.BAR)
    for x, y in low:
        view.sheet.line([(x, y - 3.6), (x, y + 3.6)], width=1.2, layer=Layer.BAR)


def _above(view: _View) -> list[Label]:
    """Return the labels over the hull: ends of the longest interval, now, ballast."""
    sheet, answer = view.sheet, view.answer
    found = []
    if answer.longest is not None:
        texts = ends_text(answer.longest)
        for text, end in zip(texts, (answer.longest.first, answer.longest.last), strict=True):
            lines = _wrapped(sheet, end_words(end))
            found.append(
                Label(foot=view.along(end.at_mm), number=with_plus_minus(text, end), lines=lines)
            )
    now = answer.now
    if now is not None:
        words = f"{answer.item} now: {broken_words(now, answer)}"
        foot = view.spot((now.x_mm, now.y_mm, now.z_mm))
        text = station_text(now.x_mm)
        found.append(Label(foot=foot, number=text, lines=_wrapped(sheet, words)))
    if answer.ballast is not None:
        foot = view.spot(answer.ballast.center_mm)
        words = f"ballast {ballast_place(answer.ballast)}, at least"
        grams = at_least_text(answer.ballast.mass_g)
        found.append(Label(foot=foot, number=grams, lines=_wrapped(sheet, words), flag=True))
        aboard = answer.ballast.aboard
        if now is None or abs(aboard.x_mm - now.x_mm) > 1e-6:
            lines = _wrapped(sheet, f"{answer.item} with the ballast")
            text = station_text(aboard.x_mm)
            found.append(Label(foot=view.along(aboard.x_mm), number=text, lines=lines))
    return sorted(found, key=lambda label: label.foot[0])


def _below_labels(view: _View) -> list[Label]:
    """Return the labels under the keel: the CG and its band."""
    center, band = view.scene.craft.center_of_gravity_mm, view.answer.cg_range_mm
    if center is None:
        return []
    foot = view.spot(center)
    lines = ["station of her CG as drawn"]
    lines.append("no band of the CG given" if band is None else f"its band is {band_words(band)}")
    if view.answer.level_cg_x_mm is not None:
        lines.append(f"level she wants it at {station_text(view.answer.level_cg_x_mm)}")
    return [Label(foot=foot, number=f"CG {station_text(center[0])}", lines=tuple(lines))]


def _wrapped(sheet: Sheet, words: str) -> tuple[str, ...]:
    """Return words in at most four lines of a label's width."""
    lines = [
        sheet.fitted(line, style.NOTE, _WIDEST)
        for line in sheet.wrapped(words, style.NOTE, _WIDEST)
    ]
    return tuple(lines[:4])
