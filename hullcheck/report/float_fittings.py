"""What is at her without being in the mesh: wing tips, the propeller, pencil marks."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

import numpy as np

from hullcheck.geometry.arrays import FloatArray, owned
from hullcheck.report import marks, style
from hullcheck.report.float_scene import Scene
from hullcheck.report.numbers import depth_text, given_length_text, height_text
from hullcheck.report.sheet import Box, Spot
from hullcheck.report.style import Type
from hullcheck.report.words import shown_name

if TYPE_CHECKING:
    from hullcheck.report.float_side import SideView

Disc = Literal["whole", "side", "cut"]
"""How much of the propeller is drawn: in both views, from port only, or there its lower half."""
_STUB: Final = 0.12
"""Of the diameter: what is drawn above the hub of a disc that is cut."""
_SIDES: Final = ((1.0, "starboard"), (-1.0, "port"))
_ROUND: Final = 72
_HALF_LIMIT: Final = 13.0
_LINE: Final = 10.2
_AIR: Final = 3.0
"""Around these words [pt]."""
_HAIR: Final = 1.0
"""A place that costs less crosses nothing at all; see `Room.cost`."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Point:
    """A point of a fitting with its side and its height above the water [mm]."""

    name: str
    side: float
    point_mm: FloatArray
    height_mm: float

    def __post_init__(self) -> None:
        """Own the point."""
        object.__setattr__(self, "point_mm", owned(self.point_mm, (3,)))


def wing_tips(scene: Scene) -> tuple[Point, ...]:
    """Return the lowest corner of each wing tip, starboard first; empty where no wing is given."""
    wing = scene.craft.fittings.wing
    if wing is None:
        return ()
    tips = []
    for sign, side in _SIDES:
        corners = wing.corners_mm[wing.corners_mm[:, 1] * sign >= 0.0]
        lowest = corners[int(np.argmin(corners @ scene.normal))]
        tips.append(_point(scene, f"{side} wing tip", lowest))
    return tuple(tips)


def propeller_ring_mm(scene: Scene) -> FloatArray | None:
    """Return the rim of the propeller disc, shape (72, 3) [mm]; None where none is given."""
    propeller = scene.craft.fittings.propeller
    if propeller is None:
        return None
    turn = np.linspace(0.0, 2.0 * np.pi, _ROUND, endpoint=False)[:, None]
    across = np.array([0.0, 1.0, 0.0])
    up = np.cross(across, propeller.axis)
    rim = np.cos(turn) * across + np.sin(turn) * up
    ring: FloatArray = np.array(propeller.hub_mm) + 0.5 * propeller.diameter_mm * rim
    return ring


def disc_side_mm(scene: Scene, disc: Disc) -> FloatArray | None:
    """Return the propeller disc as port shows it [mm], shape (k, 2); None where none is given.

    It is seen edge on, so that its lower end, where it is cut, and its upper end are all there is.
    """
    ring, propeller = propeller_ring_mm(scene), scene.craft.fittings.propeller
    if ring is None or propeller is None:
        return None
    rim = scene.from_port(ring)
    low, high = rim[int(rim[:, 1].argmin())], rim[int(rim[:, 1].argmax())]
    if disc == "cut":
        hub = scene.from_port(np.array(propeller.hub_mm))
        high = hub + 2.0 * _STUB * (high - hub)
    return np.stack((low, high))


def pencil_points(scene: Scene) -> tuple[Point, ...]:
    """Return the pencil marks as port shows them: the port twin of one to starboard."""
    points = []
    for mark in scene.craft.fittings.marks:
        x, y, z = mark.point_mm
        points.append(_point(scene, mark.name, np.array([x, -abs(y), z])))
    return tuple(points)


def pencil_words(scene: Scene) -> str:
    """Return each pencil mark's plumb distance to the water, in sentences."""
    if scene.answer.waterline is None or scene.answer.rest == "capsized":
        return ""
    return " ".join(
        f"Mark {shown_name(point.name)}: {_distance(point)} plumb {_way(point)} the water."
        for point in pencil_points(scene)
    )


def draw_propeller(view: "SideView") -> None:
    """Draw the propeller disc, dotted, its upper half left out where the sheet gets too tall."""
    flat, propeller = disc_side_mm(view.scene, view.disc), view.scene.craft.fittings.propeller
    if flat is None or propeller is None:
        return
    ends = view.placed.at(flat)
    marks.dotted(view.sheet, ends)
    view.room.line(ends)
    hub = view.spot(np.array(propeller.hub_mm))
    view.sheet.disc(hub, 1.6, fill=style.SOFT, layer=style.Layer.LINE)
    if view.disc == "cut":
        marks.left_out(view.sheet, (float(ends[1, 0]), float(ends[1, 1]) + 3.0))
        view.room.take(Box(left=hub[0], bottom=hub[1], right=hub[0], top=ends[1, 1]).grown(4.0))


def name_propeller(view: "SideView") -> None:
    """Write the propeller's gap to the water beside it."""
    scene, propeller = view.scene, view.scene.craft.fittings.propeller
    flat = disc_side_mm(scene, view.disc)
    if flat is None or propeller is None:
        return
    afloat = scene.answer.waterline is not None and scene.answer.rest != "capsized"
    point = _point(scene, "propeller", propeller.lowest_mm(scene.normal))
    wet = afloat and point.height_mm < 0.0
    words = ["propeller"]
    words += [f"{_distance(point)} {'under water' if wet else 'clear'}"] if afloat else []
    kind = style.BOLD_NAME.colored(style.LIMIT) if wet else style.NOTE
    width = max(view.sheet.width_of(line, kind) for line in words)
    (x, low), (_, high) = view.placed.at(flat).tolist()
    least = view.surface + 14.0 if afloat else -np.inf
    rows = np.append(np.arange(high - 6.0, max(low, least), -3.0), max(low, least))
    rows = rows[::-1] if wet else rows
    places = [
        (left, float(y))
        for away in (7.0, 14.0, 22.0, 34.0, 50.0, 70.0)
        for y in rows
        for left in (x + away, x - away - width)
        if left >= 4.0 and left + width <= view.sheet.width - 4.0
    ]
    _write_free(view, words, kind, places, always=True)


def draw_pencil_marks(view: "SideView") -> None:
    """Draw the pencil marks on the hull."""
    for point in _pencil_shown(view):
        x, y = view.spot(point.point_mm)
        marks.pencil_mark(view.sheet, (x, y))
        view.room.take(Box(left=x - 3.5, bottom=y - 3.5, right=x + 3.5, top=y + 1.0))


def name_pencil_marks(view: "SideView") -> None:
    """Write each pencil mark's name and its plumb distance to the water where that fits."""
    for point in _pencil_shown(view):
        x, y = view.spot(point.point_mm)
        wet = point.height_mm < 0.0
        words = [f"mark {shown_name(point.name)}", f"{_distance(point)}{' under' if wet else ''}"]
        kind = style.NOTE.colored(style.WATER) if wet else style.NOTE
        for lines in ([" ".join(words)], words):
            width = max(view.sheet.width_of(line, kind) for line in lines)
            places = [
                (left, y + rise)
                for rise in (-2.5, 2.0, 8.0, -7.0, 14.0, -12.0)
                for left in (x + 7.0, x - 7.0 - width)
                if left + width < view.sheet.width - 3.0
            ]
            if _write_free(view, lines, kind, places):
                break


def _pencil_shown(view: "SideView") -> tuple[Point, ...]:
    """Return the pencil marks that are shown: none of a craft upside down or on the bottom."""
    afloat = view.scene.answer.waterline is not None and view.scene.answer.rest != "capsized"
    return pencil_points(view.scene) if afloat else ()


def draw_limit(view: "SideView") -> None:
    """Draw the freeboard limit across the limiting bar."""
    spot = _limit_spot(view)
    if spot is not None:
        ends = (spot[0] - _HALF_LIMIT, spot[0] + _HALF_LIMIT)
        marks.limit_line(view.sheet, *ends, spot[1])
        view.room.line([(ends[0], spot[1]), (ends[1], spot[1])])


def name_limit(view: "SideView") -> None:
    """Write the freeboard limit beside its line where that is free."""
    spot = _limit_spot(view)
    if spot is None:
        return
    words = f"limit {given_length_text(_freeboard_limit(view.scene) or 0.0)}"
    width = view.sheet.width_of(words, style.NOTE)
    places = [
        (left, spot[1] + rise)
        for away in (4.0, 12.0, 24.0, 40.0)
        for rise in (-3.0, -1.0, 2.5, 5.0, -6.0)
        for left in (spot[0] + _HALF_LIMIT + away, spot[0] - _HALF_LIMIT - away - width)
    ]
    _write_free(view, [words], style.NOTE, places)


def _freeboard_limit(scene: Scene) -> float | None:
    """Return the least freeboard of the sheet [mm]."""
    check = next((c for c in scene.answer.limits if c.name == "freeboard_mm"), None)
    return None if check is None or isinstance(check.limit, tuple) else check.limit


def _limit_spot(view: "SideView") -> Spot | None:
    """Return where the freeboard limit crosses the limiting bar; None where neither is there."""
    limit = _freeboard_limit(view.scene)
    flag = next((f for f in view.row.flags if f.mark.limiting), None)
    if limit is None or limit <= 0.0 or flag is None:
        return None
    return flag.x, view.surface + limit * view.placed.scale


def _write_free(
    view: "SideView",
    lines: list[str],
    kind: Type,
    places: list[tuple[float, float]],
    *,
    always: bool = False,
) -> bool:
    """Write lines at the first place that is free, else at the best or nowhere; return whether."""
    groups = [
        [view.sheet.box_of((x, y - _LINE * i), words, kind) for i, words in enumerate(lines)]
        for x, y in places
        if x >= 3.0
    ]
    costs = [sum(view.room.cost(box, _AIR) for box in group) for group in groups]
    if not groups or (min(costs) >= _HAIR and not always):
        return False
    best = groups[int(np.argmin(costs))]
    for box, words in zip(best, lines, strict=True):
        at = (box.left, box.bottom + 0.24 * kind.size)
        view.room.take(view.sheet.text(at, words, kind))
    return True


def _point(scene: Scene, name: str, point_mm: FloatArray) -> Point:
    """Return a point with its height above the water."""
    height = float(scene.from_port(point_mm)[1])
    return Point(name=name, side=float(np.sign(point_mm[1])), point_mm=point_mm, height_mm=height)


def _distance(point: Point) -> str:
    """Return how far a point lies from the water, without a sign."""
    return height_text(point.height_mm) if point.height_mm >= 0.0 else depth_text(-point.height_mm)


def _way(point: Point) -> str:
    """Return on which side of the surface a point lies."""
    return "above" if point.height_mm >= 0.0 else "under"
