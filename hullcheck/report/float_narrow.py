"""Where she floats for a sheet as narrow as a phone: a second drawing, not a shrunken one."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.answers.float_records import FloatAnswer
from hullcheck.craft.craft import Craft
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outlines import below
from hullcheck.report import float_words, marks, style
from hullcheck.report.display import shown
from hullcheck.report.float_narrow_flags import NarrowRow, draw_row, narrow_row
from hullcheck.report.float_scene import Scene
from hullcheck.report.float_side import Placed, extents_mm
from hullcheck.report.labels import Room
from hullcheck.report.numbers import draft_text
from hullcheck.report.sheet import Box, Sheet, Spot
from hullcheck.report.style import Layer

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["float_narrow"]

NAME: Final = "float narrow"
WIDTH: Final = 259.2
"""360 px at the 100 px an inch that the wide drawings are shown at [pt]."""
_SHARE: Final = 0.9
_TALLEST: Final = 92.0
"""Of the hull on the sheet [pt]."""
_WATER_UNDER: Final = 50.0
_STEEP_DEG: Final = 12.0
"""Past this trim lengths along the hull are no lengths on the sheet."""
_LEAST_DRAFT: Final = 2.0
_ASIDE: Final = 20.0
"""A step's draft stands so far aft of it [pt]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _View:
    """What the parts of the drawing share: sheet, scene, place, the floor, what is taken."""

    sheet: Sheet
    scene: Scene
    placed: Placed
    floor: float
    row: NarrowRow
    room: Room = field(default_factory=Room)

    @property
    def surface(self) -> float:
        """The water's surface on the sheet [pt]."""
        return self.placed.spot[1]

    def spot(self, point_mm: FloatArray) -> Spot:
        """Return a point in body axes as a spot on the sheet."""
        x, y = self.placed.at(self.scene.from_port(np.asarray(point_mm)))
        return float(x), float(y)


def float_narrow(craft: Craft, answer: FloatAnswer) -> "Figure":
    """Return the side view of where a craft floats, 360 px wide.

    Parameters
    ----------
    craft : Craft
        What floats.
    answer : FloatAnswer
        Where she floats, from `hullcheck.answers.float_answer`.

    Returns
    -------
    matplotlib.figure.Figure
        3.6 in wide; `hullcheck.report.drawing_file.drawing_bytes` turns it into a file.

    Notes
    -----
    Values only, the type as large as on the wide drawing; its title is left to the page.
    """
    with style.context(NAME):
        scene = Scene.of(craft, answer)
        sheet = Sheet(NAME)
        sheet.width = WIDTH
        view = _placed(sheet, scene)
        _hull(view)
        _water(view)
        draw_row(sheet, view.row, view.surface, view.room)
        end = _levers(view)
        _drafts(view)
        _names(view)
        sheet.cut(2.0 - end)
        sheet.caption(float_words.title(answer), float_words.alt_text(answer))
    return sheet.figure


def _placed(sheet: Sheet, scene: Scene) -> _View:
    """Return the view with its flags, scale and water."""
    fore, aft, low, high = extents_mm(scene, None)
    tall = max(high, 0.0) - min(low, 0.0)
    scale = min(_SHARE * WIDTH / max(aft - fore, 1e-9), _TALLEST / tall)
    middle = 0.5 * (fore + aft)
    level = Placed(scale=scale, spot=(0.5 * WIDTH, 0.0), zero_mm=middle)
    at = [(mark, level.at(scene.from_port(mark.point_mm))) for mark in scene.height_marks]
    row = narrow_row(sheet, [(mark, (float(spot[0]), float(spot[1]))) for mark, spot in at])
    surface = -(row.height + max(high, 0.0) * scale + 4.0)
    return _View(
        sheet=sheet,
        scene=scene,
        placed=Placed(scale=scale, spot=(0.5 * WIDTH, surface), zero_mm=middle),
        floor=surface + min(low, 0.0) * scale - _WATER_UNDER,
        row=row,
    )


def _hull(view: _View) -> None:
    """Draw silhouettes, wet parts, center-plane outlines and chines."""
    sheet, placed = view.sheet, view.placed
    for i, shape in enumerate(view.scene.hulls):
        layer, side, center = 0.01 * i, placed.all(shape.side), placed.all(shape.center)
        sheet.area(side, fill=style.SKIN, layer=Layer.FILL + layer)
        wet = placed.all(below(shape.side, 0.0))
        sheet.area(wet, fill=style.WET_SKIN, layer=Layer.FILL + layer)
        if center:
            sheet.area(side, edge=style.SOFT, width=style.HAIR, layer=Layer.HAIR)
        sheet.area(center or side, edge=style.INK, layer=Layer.OUTLINE + layer)
        view.room.loops(center or side)


def _water(view: _View) -> None:
    """Draw the water from edge to edge, and the unit of the values."""
    sheet = view.sheet
    marks.water(
        sheet, Box(left=0.0, bottom=view.floor, right=WIDTH, top=view.surface), strokes=False
    )
    view.room.line([(0.0, view.surface), (WIDTH, view.surface)])
    kind = style.NOTE.colored(style.WATER)
    view.room.take(sheet.text((5.0, view.floor + 5.5), f"in {shown().length}", kind))


def _levers(view: _View) -> float:
    """Draw plumb line and step, write where that lies, and return where it all ends [pt]."""
    answer = view.scene.answer
    if answer.step is not None and answer.rest != "capsized":
        corner = (answer.step.station_mm, view.scene.center_plane_mm, answer.step.keel_z_mm)
        x, y = view.spot(np.array(corner))
        marks.step_triangle(view.sheet, (x, y))
        view.room.take(Box(left=x - 5.0, bottom=y - 10.0, right=x + 5.0, top=y))
    if answer.center_of_gravity_mm is None:
        return view.floor
    center = view.spot(np.array(answer.center_of_gravity_mm))
    foot = view.floor + 6.0
    top = center[1] + 9.0
    marks.plumb_line(view.sheet, center[0], top, foot)
    view.room.line([(center[0], top), (center[0], foot)])
    _step_words(view, center[0], foot)
    return view.floor


def _step_words(view: _View, x: float, foot: float) -> None:
    """Write beside the plumb line's bob where the step lies from the CG."""
    answer = view.scene.answer
    flat = abs(answer.trim_deg or 0.0) <= _STEEP_DEG and answer.rest != "capsized"
    if answer.step is None or answer.step.behind_cg_mm is None or not flat:
        return
    words = f"step {float_words.step_words(answer)}"
    room = max(x, WIDTH - x) - 12.0
    lines = view.sheet.wrapped(words, style.BOLD_NAME, min(room, 112.0))
    right = WIDTH - x >= 0.45 * WIDTH
    for i, line in enumerate(lines):
        at = (x + 6.0 if right else x - 6.0, foot - 0.5 + 10.4 * (len(lines) - 1 - i))
        view.room.take(
            view.sheet.text(at, line, style.BOLD_NAME, side="left" if right else "right")
        )


def _drafts(view: _View) -> None:
    """Draw the drafts with their values; a step's one stands aft of the step."""
    for mark in view.scene.draft_marks:
        keel, y = view.spot(np.array(mark.point_mm))
        if view.surface - y < _LEAST_DRAFT or mark.draft_mm < 0.5:
            continue
        aside = 0.0
        if mark.name == "step draft":
            aside = _ASIDE
            witness = [(keel + 5.0, y), (keel + aside + 4.0, y)]
            view.sheet.line(witness, color=style.SOFT, width=style.HAIR)
        x = min(max(keel + aside, 8.0), WIDTH - 8.0)
        marks.draft(view.sheet, x, view.surface, y)
        view.room.line([(x, view.surface), (x, y)])
        name = mark.name if mark.name == "step draft" else mark.name.removesuffix(" draft")
        _draft_label(view, (x, y), draft_text(mark.draft_mm).partition(" ")[0], name)


def _draft_label(view: _View, keel: Spot, value: str, name: str) -> None:
    """Write a draft's value over its name where they are free, under the keel."""
    sheet, number = view.sheet, style.NUMBER.colored(style.WATER)
    kind = style.NAME.colored(style.WATER)
    width = max(sheet.width_of(value, number), sheet.width_of(name, kind))
    places = []
    for shift in (0.0, 0.3, -0.3, 0.6, -0.6, 0.9, -0.9, 1.3, -1.3):
        middle = keel[0] + shift * (width + 6.0)
        middle = min(max(middle, 0.5 * width + 4.0), WIDTH - 0.5 * width - 4.0)
        places += [
            (middle, max(min(view.surface, keel[1]) - drop, view.floor + 13.5))
            for drop in (11.0, 14.5, 18.0, 21.5)
        ]
    groups = [
        [
            sheet.box_of(at, value, number, "center"),
            sheet.box_of((at[0], at[1] - 10.0), name, kind, "center"),
        ]
        for at in places
    ]
    best = view.room.best(groups)
    sheet.text(places[best], value, number, side="center")
    sheet.text((places[best][0], places[best][1] - 10.0), name, kind, side="center")
    view.room.take(*groups[best])


def _names(view: _View) -> None:
    """Draw CG and CB over the rest, and name them where they are free."""
    answer = view.scene.answer
    spots = []
    for words, place, mark, color, side in (
        ("CB", answer.center_of_buoyancy_mm, marks.center_of_buoyancy, style.WATER, -1.0),
        ("CG", answer.center_of_gravity_mm, marks.center_of_gravity, style.INK, 1.0),
    ):
        if place is not None:
            x, y = view.spot(np.array(place))
            mark(view.sheet, (x, y))
            view.room.take(Box(left=x, bottom=y, right=x, top=y).grown(4.5))
            spots.append((words, (x, y), color, side))
    for words, (x, y), color, side in reversed(spots):
        kind = style.BOLD_NAME.colored(color)
        width = view.sheet.width_of(words, kind)
        places = [
            (x + way * away - (width if way < 0.0 else 0.0), y + rise)
            for way in (side, -side)
            for away in (7.0, 11.0, 16.0, 22.0, 30.0)
            for rise in (side * 4.0 - 3.0, -3.0, 5.0, -9.0, 10.0, -15.0)
        ]
        inside = [at for at in places if 3.0 <= at[0] <= WIDTH - 3.0 - width] or places
        best = view.room.best([[view.sheet.box_of(at, words, kind)] for at in inside])
        view.room.take(view.sheet.text(inside[best], words, kind))
