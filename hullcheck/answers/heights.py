"""Heights above the water of what is named: openings, wing tips, the propeller's disc."""

import numpy as np

from hullcheck.answers.float_records import HeightPoint, Point
from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import Floating
from hullcheck.geometry.arrays import FloatArray


def height_point(
    name: str,
    point_mm: FloatArray,
    floating: Floating,
    *,
    what: str = "top of the hull",
    state: str | None = None,
) -> HeightPoint:
    """Return a named point with its height above the surface [mm]."""
    place: Point = (float(point_mm[0]), float(point_mm[1]), float(point_mm[2]))
    return HeightPoint(
        name=name,
        height_mm=float(floating.height_above_water_mm(point_mm)),
        point_mm=place,
        what=what,
        state=state,
    )


def opening_points(craft: Craft, floating: Floating) -> tuple[HeightPoint, ...]:
    """Return every opening by its lowest point in an attitude, in the order of the sheet."""
    return tuple(
        height_point(
            opening.called,
            opening.lowest_mm(floating.normal),
            floating,
            what="opening",
            state=opening.state,
        )
        for opening in craft.openings
    )


def limiting_opening(points: tuple[HeightPoint, ...]) -> HeightPoint | None:
    """Return the lowest of the openings that are not sealed; None without any."""
    letting_in = [p for p in points if p.what == "opening" and p.state != "sealed"]
    return min(letting_in, key=lambda point: point.height_mm, default=None)


def clearances(craft: Craft, floating: Floating) -> tuple[HeightPoint, ...]:
    """Return the heights of both wing tips and of the propeller's disc [mm], where they are given.

    Notes
    -----
    A wing tip is the lower of its leading and trailing edge; the disc's lowest point lies on the
    rim, in the plane across the thrust.
    """
    found = []
    wing, propeller = craft.fittings.wing, craft.fittings.propeller
    if wing is not None:
        corners = wing.corners_mm
        for side, ends in (("starboard", corners[:2]), ("port", corners[2:])):
            lowest = ends[int(np.argmin(ends @ floating.normal))]
            found.append(height_point(f"{side} wing tip", lowest, floating, what="wing tip"))
    if propeller is not None:
        lowest = propeller.lowest_mm(floating.normal)
        found.append(height_point("propeller disc", lowest, floating, what="propeller disc"))
    return tuple(found)
