"""Front views of a craft at chosen heels: whole span, heel and heights true."""

import math
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from hullcheck.answers.heeling import Heeling
from hullcheck.answers.righting_records import RightingAnswer, SideReport
from hullcheck.craft.bodies import Body
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.attitude import level_directions, trim_of
from hullcheck.geometry.outlines import EdgeWeb, Loops, below
from hullcheck.report import marks, style
from hullcheck.report.numbers import angle_text
from hullcheck.report.righting_events import axis_end_deg, drawn_side
from hullcheck.report.righting_words import pushes, worse_side
from hullcheck.report.sheet import Box, Sheet
from hullcheck.report.style import Layer

_GAP: Final = 12.0
_AIR: Final = 6.0
_WATER: Final = 26.0
"""Water shown under her where she does not reach that deep [pt]."""
_TALLEST: Final = 108.0
"""Height of a view [pt]."""
_ALIKE_DEG: Final = 1.0
"""Rest and pushed nearer than this look the same."""
_TOLERANCE: Final = 0.2
"""How far an outline may be off [pt]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A view to be drawn: its title, heel [rad], and whether it lies beyond the model."""

    title: str
    heel: float
    beyond: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shapes:
    """What one view shows [mm, to starboard and above the water]: outlines and lines."""

    outlines: tuple[tuple[Loops, bool], ...]
    wing: FloatArray | None
    struts: tuple[FloatArray, ...]

    @property
    def points(self) -> FloatArray:
        """Every point that must be on the sheet, shape (k, 2) [mm]."""
        every = [loop for loops, _ in self.outlines for loop in loops]
        return np.concatenate([*every, *([] if self.wing is None else [self.wing])])


def front_views(sheet: Sheet, heeling: Heeling, views: list[View], top: float) -> float:
    """Draw views side by side under a height of the sheet and return where they end [pt].

    Parameters
    ----------
    sheet : Sheet
        What is drawn on.
    heeling : Heeling
        The craft on her curve.
    views : list of View
        One to three.
    top : float
        Baseline of their titles [pt].
    """
    room = sheet.width - 2.0 * style.MARGIN
    width = (room - _GAP * (len(views) - 1)) / len(views)
    webs = [(body, EdgeWeb.of(body.shell.triangles_mm)) for body in heeling.craft.bodies]
    every = [_shapes(heeling, webs, view.heel) for view in views]
    spans = [shapes.points for shapes in every]
    wide = max(2.0 * float(np.abs(points[:, 0]).max()) for points in spans)
    high = max(float(points[:, 1].max()) for points in spans)
    deep = max(-float(points[:, 1].min()) for points in spans)
    scale = min((width - 2.0 * _AIR) / wide, _TALLEST / max(high + deep, 1e-9))
    surface = top - 10.0 - max(high, 0.0) * scale
    floor = surface - max(deep * scale + _AIR, _WATER)
    for i, (view, shapes) in enumerate(zip(views, every, strict=True)):
        left = style.MARGIN + i * (width + _GAP)
        box = Box(left=left, bottom=floor, right=left + width, top=surface)
        clear = float(shapes.points[:, 0].min()) * scale > 28.0 - 0.5 * width
        marks.water(sheet, box, strokes=i == 0 and clear)
        middle = 0.5 * (box.left + box.right)
        kind = style.VIEW_TITLE.colored(style.SOFT) if view.beyond else style.VIEW_TITLE
        sheet.text((left, top), sheet.fitted(view.title, kind, width), kind)
        _draw(sheet, shapes, (middle, surface), scale, beyond=view.beyond)
    return floor


def _draw(
    sheet: Sheet, shapes: Shapes, at: tuple[float, float], scale: float, *, beyond: bool
) -> None:
    """Draw one view, her center plane's foot over a spot."""
    shift = np.array(at)
    edge = style.SOFT if beyond else style.INK
    pattern = style.DASHED if beyond else style.SOLID
    for loops, _ in shapes.outlines:
        placed = [loop * scale + shift for loop in loops]
        wet = [loop * scale + shift for loop in below(loops, 0.0)]
        if not beyond:
            sheet.area(placed, fill=style.SKIN)
        sheet.area(wet, fill=style.WET_SKIN, layer=Layer.WET)
        sheet.area(placed, edge=edge, width=1.1, pattern=pattern, layer=Layer.OUTLINE)
    lines = [*([] if shapes.wing is None else [shapes.wing]), *shapes.struts]
    for line in lines:
        dots = style.DASHED if beyond else style.DOTTED
        sheet.line(
            line * scale + shift, color=style.SOFT, width=1.2, pattern=dots, layer=Layer.HAIR
        )


def _shapes(heeling: Heeling, webs: list[tuple[Body, EdgeWeb]], heel: float) -> Shapes:
    """Return what the view at a heel [rad] shows, her middle at 0."""
    normal = heeling.curve.state(heel).normal
    across = level_directions(trim=trim_of(normal), heel=heel)[1]
    height = heeling.curve.height_mm(heel)
    basis = np.stack((across, normal), axis=1)
    middle = float(np.array(heeling.craft.deck_body.shell.middle_mm) @ across)

    def flat(points: FloatArray) -> FloatArray:
        """Return points as seen from astern."""
        seen: FloatArray = points @ basis - np.array([middle, height])
        return seen

    long = float(np.ptp(heeling.craft.deck_body.shell.triangles_mm[:, :, 0]))
    tolerance = _TOLERANCE * long / 500.0
    outlines = tuple(
        (
            [
                loop - np.array([middle, height])
                for loop in web.silhouette(across, normal, tolerance)
            ],
            body.role == "tip float",
        )
        for body, web in webs
    )
    wing = heeling.wing_mm
    if wing is None:
        return Shapes(outlines=outlines, wing=None, struts=())
    starboard, port = wing[0], wing[2]
    center = np.array([starboard[0], 0.0, starboard[2]])
    struts = []
    for body in heeling.floats:
        x, y, _ = body.shell.middle_mm
        if body.role == "tip float" and float(body.shell.high_mm[2]) < starboard[2]:
            ends = np.array([[x, y, body.shell.high_mm[2]], [x, y, starboard[2]]])
            struts.append(flat(ends))
    return Shapes(
        outlines=outlines, wing=flat(np.stack((port, center, starboard))), struts=tuple(struts)
    )


def beyond_heel(edge: float, end: float) -> float:
    """Return a heel to show past the model's edge [rad], on a curve drawn to an end [rad]."""
    wanted = math.radians(5.0 * round(math.degrees(abs(edge)) * 2.0 / 5.0))
    return math.copysign(min(max(wanted, abs(edge) + math.radians(5.0)), abs(end)), end)


def views_of(answer: RightingAnswer, heeling: Heeling) -> list[View]:
    """Return up to three views to draw: at rest, what decides, and one beyond the model."""
    side = drawn_side(answer)
    sign = 1.0 if side.side == "starboard" else -1.0
    rest = answer.heel_deg or 0.0
    past = heeling.is_beyond(heeling.rest_heel)
    words = f"At rest, {angle_text(abs(rest))}{', beyond the model' if past else ''}"
    views = [View(title=words, heel=heeling.rest_heel, beyond=past)]
    pushed = None if answer.upset is None else worse_side(answer.upset).heel_deg
    if answer.upset is not None and pushed is not None and pushes(answer.upset):
        if abs(pushed - rest) >= _ALIKE_DEG:
            title = f"Pushed, {angle_text(abs(pushed))}"
            views.append(View(title=title, heel=math.radians(pushed)))
        elif not past:
            views = [replace(views[0], title=f"{words}; pushed, {angle_text(abs(pushed))}")]
    found = [abs(f.under_deg) for f in answer.floats if f.side == side.side and f.under_deg]
    if found:
        heel = sign * math.radians(min(found))
        title = f"Float under, {angle_text(min(found))}"
        views.append(View(title=title, heel=heel, beyond=heeling.is_beyond(heel)))
    return [*views, *_past(side, axis_end_deg(answer), heeling, few=len(views) < 2)][:3]


def _past(side: SideReport, end_deg: float, heeling: Heeling, *, few: bool) -> list[View]:
    """Return a view with the first opening under and one beyond the model, as there is need."""
    views = []
    edge, under = side.beyond_model_deg, side.downflooding_deg
    if under is not None and (edge is None or (few and abs(under) < abs(edge))):
        title = f"Opening under, {angle_text(abs(under))}"
        views.append(View(title=title, heel=math.radians(under)))
    if edge is not None:
        heel = beyond_heel(math.radians(edge), math.copysign(math.radians(end_deg), edge))
        heel = math.copysign(min(abs(heel), abs(heeling.curve.end(math.copysign(1.0, edge)))), edge)
        title = f"At {angle_text(math.degrees(abs(heel)))}, beyond the model"
        views.append(View(title=title, heel=heel, beyond=True))
    return views
