"""Which compartment a point is in, and which one a leak lets water into."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.float_records import Point
from hullcheck.craft.compartment import Compartment
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.shells import winding_inside

_PIECES: Final = 8
"""Into which each stretch of a seam is divided to tell which compartment it runs beside."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BilgePoint:
    """A named point that should stay dry.

    Attributes
    ----------
    name : str
        An item of equipment, or what it was called.
    point_mm : tuple of float
        The point; of equipment its lowest [mm].
    compartment : str or None
        Where it is.
    is_equipment : bool
        Whether it is an item of the sheet's [[equipment]].
    """

    name: str
    point_mm: Point
    compartment: str | None
    is_equipment: bool = True


def bilge_points(
    craft: Craft,
    compartments: Sequence[Compartment],
    asked: Sequence[tuple[str, Point | None]] = (),
) -> tuple[BilgePoint, ...]:
    """Return the lowest points of all equipment, then the points asked for.

    Parameters
    ----------
    craft : Craft
        Whose equipment counts, where the sheet gives its lowest point.
    compartments : sequence of Compartment
        Hers.
    asked : sequence of (str, tuple of float or None)
        Names with their points [mm]; without one, the name is that of a piece of equipment.

    Raises
    ------
    InputError
        If a name without a point is that of no equipment with one.
    """
    known = {one.item: one.lowest_mm for one in craft.fittings.equipment if one.lowest_mm}
    found = {name: BilgePoint(name=name, point_mm=point, compartment=None)
             for name, point in known.items()}  # fmt: skip
    for name, point in asked:
        if point is not None:
            found[name] = BilgePoint(
                name=name, point_mm=point, compartment=None, is_equipment=False
            )
        elif name not in known:
            there = ", ".join(repr(one) for one in known) or "none"
            raise InputError(
                f"{name!r} is no equipment with lowest_mm in the build sheet (there: {there}); "
                f'give its point: "{name} 180,0,22"'
            )
    return tuple(
        BilgePoint(
            name=one.name,
            point_mm=one.point_mm,
            compartment=compartment_holding(craft, compartments, one.point_mm),
            is_equipment=one.is_equipment,
        )
        for one in found.values()
    )


def compartment_holding(
    craft: Craft, compartments: Sequence[Compartment], point_mm: Point
) -> str | None:
    """Return the compartment that a point is in, or in whose wall it is; None outside all bodies.

    A point in the wall of a body belongs to the compartment nearest along the body.
    """
    points = np.array([point_mm], dtype=np.float64)
    for one in compartments:
        if winding_inside(one.triangles_mm, points)[0]:
            return one.name
    for body in craft.bodies:
        inside = [one for one in compartments if one.body == body.name]
        if inside and winding_inside(body.shell.triangles_mm, points)[0]:
            return _nearest(inside, point_mm[0]).name
    return None


def compartments_behind(
    craft: Craft, compartments: Sequence[Compartment], lines_mm: Sequence[FloatArray]
) -> tuple[Compartment, ...]:
    """Return the compartments that a leak lets water into, the most of it first.

    Parameters
    ----------
    craft : Craft
        Whose bodies are looked at.
    compartments : sequence of Compartment
        Hers.
    lines_mm : sequence of ndarray, shape (k, 3)
        Where the leak runs on the skin [mm]; one point for a small one.

    Returns
    -------
    tuple of Compartment
        Of the body that lies nearest, those that the lines run beside, by length; of two that share
        a bulkhead at the leak itself the larger.
    """
    bodies = [b for b in craft.bodies if any(one.body == b.name for one in compartments)]
    middle = np.concatenate(lines_mm).mean(axis=0)
    body = min(bodies, key=lambda b: distance_mm(b.shell.triangles_mm, middle))
    inside = [one for one in compartments if one.body == body.name]
    lengths: dict[str, float] = {}
    for line in lines_mm:
        starts, ends = (line, line) if len(line) == 1 else (line[:-1], line[1:])
        for start, end in zip(starts, ends, strict=True):
            # In pieces, as one long stretch may pass several bulkheads.
            steps = (np.arange(_PIECES) + 0.5) / _PIECES
            piece = max(float(np.linalg.norm(end - start)), 1.0) / _PIECES
            for x in (start[0] + steps * (end[0] - start[0])).tolist():
                name = _nearest(inside, x).name
                lengths[name] = lengths.get(name, 0.0) + piece
    ordered = sorted(lengths, key=lambda name: (-lengths[name], name))
    known = {one.name: one for one in inside}
    return tuple(known[name] for name in ordered)


def distance_mm(triangles_mm: FloatArray, point_mm: FloatArray) -> float:
    """Return the least distance from a point to triangles [mm].

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        [mm]
    point_mm : ndarray, shape (3,)
        [mm]
    """
    corners = triangles_mm - point_mm
    least = [_to_edges(corners[:, k], corners[:, (k + 1) % 3]) for k in range(3)]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    sizes = np.linalg.norm(normals, axis=1)
    sound = sizes > 0.0
    units = normals[sound] / sizes[sound, None]
    kept = corners[sound]
    above = np.einsum("ni,ni->n", kept[:, 0], units)
    feet = above[:, None] * units
    turns = [
        np.einsum("ni,ni->n", np.cross(kept[:, (k + 1) % 3] - kept[:, k], feet - kept[:, k]), units)
        for k in range(3)
    ]
    over = np.stack(turns).min(axis=0) >= 0.0
    flat = np.abs(above[over])
    return float(min(np.concatenate([*least, flat]))) if len(flat) else float(min(map(min, least)))


def _to_edges(starts: FloatArray, ends: FloatArray) -> FloatArray:
    """Return the distances of the origin from edges, shape (n,)."""
    along = ends - starts
    squares = np.maximum(np.einsum("ni,ni->n", along, along), 1e-300)
    share = np.clip(-np.einsum("ni,ni->n", starts, along) / squares, 0.0, 1.0)
    distances: FloatArray = np.linalg.norm(starts + share[:, None] * along, axis=1)
    return distances


def _nearest(compartments: Sequence[Compartment], station_mm: float) -> Compartment:
    """Return the compartment nearest to a station; of two as near the larger."""

    def away(one: Compartment) -> float:
        """Return how far a station lies outside a compartment [mm], to a micrometer."""
        out = max(one.first_station_mm - station_mm, station_mm - one.last_station_mm, 0.0)
        return round(out, 3)

    return min(compartments, key=lambda one: (away(one), -one.capacity_mm3))
