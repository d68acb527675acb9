"""The side view of water run aft: hull at the nose-up angle, its water with a level of its own."""

from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np

from hullcheck.answers.flood_records import BilgeLevel, FloodAnswer, WaterCase
from hullcheck.craft.compartment import Compartment
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outlines import Loops, below, plane_cut, seen
from hullcheck.report import marks, style
from hullcheck.report.float_scene import BodyShape, Scene
from hullcheck.report.float_side import Placed
from hullcheck.report.flood_words import dry_text
from hullcheck.report.label_rows import Label, draw_row, row_height
from hullcheck.report.numbers import mass_text, station_text
from hullcheck.report.sheet import Box, Sheet, Spot
from hullcheck.report.style import Layer
from hullcheck.report.words import water_words

_SHARE: Final = 0.8
_TALLEST: Final = 190.0
_CLEAR: Final = 18.0
"""From a row of labels to the hull [pt]."""
_KEEL_ROOM: Final = 12.0
_MOST_LABELS: Final = 4
_WIDEST: Final = 118.0
_DOT: Final = 2.0


@dataclass(frozen=True, kw_only=True, eq=False)
class RunAft:
    """What the view shows.

    Attributes
    ----------
    scene : Scene
        The craft held at the nose-up angle.
    answer : FloodAnswer
        Water inside her.
    cases : tuple of WaterCase
        The water of one compartment, lightest first.
    compartment : Compartment
        That one.
    """

    scene: Scene
    answer: FloodAnswer
    cases: tuple[WaterCase, ...]
    compartment: Compartment

    @cached_property
    def shapes(self) -> tuple[BodyShape, ...]:
        """The bodies drawn: those that float her, all where the water is in a tip float."""
        hulls = self.scene.hulls
        named = any(shape.name == self.compartment.body for shape in hulls)
        return hulls if named else self.scene.shapes

    @cached_property
    def inside(self) -> Loops:
        """The compartment cut along its middle, as seen from port [mm]."""
        middle = 0.5 * float(self.compartment.tree.low_mm[1] + self.compartment.tree.high_mm[1])
        cut = plane_cut(self.compartment.triangles_mm, np.eye(3)[1], middle)
        loops = seen(cut, self.scene.directions[0], self.scene.normal, self.scene.tolerance_mm)
        return [loop - np.array([0.0, self.scene.height_mm]) for loop in loops]

    def level_mm(self, case: WaterCase) -> float:
        """Return the height of a case's water over the sea as drawn [mm]."""
        return case.nose_up.surface_height_mm - self.scene.height_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class _View:
    """What the parts of the view share."""

    sheet: Sheet
    placed: Placed
    run: RunAft

    def spot(self, point_mm: tuple[float, float, float]) -> Spot:
        """Return a point in body axes as a spot on the sheet."""
        x, y = self.placed.at(self.run.scene.from_port(np.array(point_mm)))
        return float(x), float(y)


def draw_side(sheet: Sheet, run: RunAft, top: float) -> float:
    """Draw the view with its top at a height of the sheet and return where it ends [pt]."""
    points = _extent(run)
    low, high = points.min(axis=0), points.max(axis=0)
    scale = float(
        min(
            _SHARE * sheet.width / max(high[0] - low[0], 1e-9),
            _TALLEST / max(high[1] - low[1], 1e-9),
        )
    )
    zero = float(0.5 * (low[0] + high[0]))

    def view_at(surface: float) -> _View:
        """Return the view with the sea at a height of the sheet."""
        placed = Placed(scale=scale, spot=(0.5 * sheet.width, surface), zero_mm=zero)
        return _View(sheet=sheet, placed=placed, run=run)

    height = row_height(_above(view_at(0.0)))
    surface = top - height - (_CLEAR if height else 4.0) - max(float(high[1]), 0.0) * scale
    view = view_at(surface)
    keel = surface + min(float(low[1]), 0.0) * scale - _KEEL_ROOM
    under = _below(view)
    floor = keel - row_height(under) - 0.5 * _CLEAR
    _sea(view, floor)
    _hull(view)
    _inside(view)
    _center(view)
    draw_row(sheet, _above(view), top - height, up=True)
    draw_row(sheet, under, keel, up=False)
    return floor


def _extent(run: RunAft) -> FloatArray:
    """Return points the view must hold [mm]."""
    shapes = [loop for shape in run.shapes for loop in shape.side]
    center = run.scene.from_port(np.array([_with_most(run)]))
    return np.concatenate([*shapes, center])


def _sea(view: _View, floor: float) -> None:
    """Draw the sea from edge to edge, and what water it is."""
    sheet, surface = view.sheet, view.placed.spot[1]
    box = Box(left=0.0, bottom=floor, right=sheet.width, top=surface)
    marks.water(sheet, box, strokes=True)
    words, kind = water_words(view.run.answer.water), style.NOTE.colored(style.WATER)
    sheet.text((style.MARGIN, floor + 5.0), words, kind)


def _hull(view: _View) -> None:
    """Draw silhouettes, dry inside."""
    for i, shape in enumerate(view.run.shapes):
        layer = 0.01 * i
        side = view.placed.all(shape.side)
        # She is cut open: what is dry inside has the dry color below the sea's level too.
        view.sheet.area(side, fill=style.SKIN, edge=style.INK, layer=Layer.WATER + 0.01 + layer)


def _inside(view: _View) -> None:
    """Draw the compartment, its most water with its level, and the levels of less."""
    sheet, run = view.sheet, view.run
    inside = view.placed.all(run.inside)
    sheet.area(inside, edge=style.SOFT, width=style.HAIR, layer=Layer.WATER + 0.05)
    most = run.cases[-1]
    level = run.level_mm(most)
    for loop in (view.placed.at(one) for one in below(run.inside, level)):
        sheet.area([loop], fill=style.WATER, layer=Layer.WATER + 0.1)
        top = loop[np.isclose(loop[:, 1], view.placed.spot[1] + level * view.placed.scale)]
        if len(top) > 1:
            ends = [(float(top[:, 0].min()) - 4.0, float(top[0, 1])),
                    (float(top[:, 0].max()) + 4.0, float(top[0, 1]))]  # fmt: skip
            sheet.line(ends, color=style.WATER, width=style.WATER_LINE, layer=Layer.LINE)
    for case in run.cases[:-1]:
        _lesser_level(view, case)


def _lesser_level(view: _View, case: WaterCase) -> None:
    """Draw the level of less water as a light line across the most of it."""
    level = view.run.level_mm(case)
    y = view.placed.spot[1] + level * view.placed.scale
    for loop in (view.placed.at(one) for one in below(view.run.inside, level)):
        top = loop[np.isclose(loop[:, 1], y)]
        if len(top) > 1:
            ends = [(float(top[:, 0].min()), y), (float(top[:, 0].max()), y)]
            view.sheet.line(ends, color=style.PAPER, width=style.THIN, layer=Layer.LINE)


def _center(view: _View) -> None:
    """Draw her CG with the most water aboard, and the points that are to stay dry."""
    marks.center_of_gravity(view.sheet, view.spot(_with_most(view.run)))
    for one in _points(view.run):
        fill = style.LIMIT if one.wet else style.INK
        view.sheet.disc(view.spot(one.point_mm), _DOT, fill=fill, layer=Layer.MARK)


def _with_most(run: RunAft) -> tuple[float, float, float]:
    """Return her CG with the most water run aft [mm]."""
    return run.cases[-1].nose_up.center_of_gravity_mm


def _points(run: RunAft) -> list[BilgeLevel]:
    """Return the points of the compartment that the most water comes nearest to, wettest first."""
    known = [one for one in run.cases[-1].nose_up.bilge if one.level_mm is not None]
    known.sort(key=lambda one: (-(one.level_mm or 0.0), one.name))
    return known[:_MOST_LABELS]


def _above(view: _View) -> list[Label]:
    """Return the labels over the hull: her CG, and equipment in the compartment that fills."""
    run = view.run
    center, most = _with_most(run), mass_text(run.cases[-1].water_g)
    number = f"CG {station_text(center[0])}"
    found = [Label(foot=view.spot(center), number=number, lines=(f"with {most}",))]
    for one in _points(run):
        name = view.sheet.fitted(one.name, style.NOTE, _WIDEST)
        level = dry_text(one.level_mm or 0.0)
        foot = view.spot(one.point_mm)
        word = "wet" if one.wet else "dry"
        found.append(Label(foot=foot, number=word, lines=(name, level), flag=one.wet, clear=2.0))
    return found


def _below(view: _View) -> list[Label]:
    """Return the label under the keel: the water."""
    run = view.run
    few = [mass_text(case.water_g) for case in run.cases]
    name = view.sheet.fitted(f"of water in {run.compartment.name}", style.NOTE, 2.0 * _WIDEST)
    lines = (name,) if len(few) < 2 else (name, f"light lines: levels of {' and '.join(few[:-1])}")
    foot = view.spot(run.cases[-1].nose_up.centroid_mm)
    return [Label(foot=foot, number=few[-1], lines=lines, clear=1.0)]
