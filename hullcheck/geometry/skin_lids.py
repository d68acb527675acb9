"""What the build sheet says of a skin: lids that close openings, wells that water fills."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.errors import SurfaceError
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.section_lines import filled, nothing, whole
from hullcheck.geometry.skin_parts import Taken
from hullcheck.geometry.topology import merged

if TYPE_CHECKING:
    from shapely import MultiPolygon

_REACH_MM: Final = 1.0
_MOST: Final = 0.5
"""A well that takes more than this of the hull is no well but a way to its inside."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WellEnd:
    """Where a well ends along x: between which stations [mm], and its last section."""

    near_mm: float
    far_mm: float
    opening: "MultiPolygon"


def lid_sheet(name: str, outline_mm: FloatArray) -> Taken:
    """Return a lid as a part: a sheet spanned over its outline.

    Parameters
    ----------
    name : str
        What it is called.
    outline_mm : ndarray, shape (k, 3)
        Its edge in order [mm], k ≥ 3.

    Raises
    ------
    SurfaceError
        If the outline encloses no area or crosses itself.
    """
    import shapely
    from manifold3d import triangulate

    outline = np.asarray(outline_mm, dtype=np.float64).reshape(-1, 3)
    spokes = outline - outline.mean(axis=0)
    across, along = np.linalg.svd(spokes, full_matrices=False)[2][:2]
    flat = np.column_stack([spokes @ across, spokes @ along])
    shape = shapely.polygons(flat)
    if not shape.is_valid or shape.area < 1e-3:
        raise SurfaceError(
            f"{name}: its outline crosses itself or encloses nothing; give its points in order "
            "around the opening"
        )
    if not shape.exterior.is_ccw:
        outline, flat = outline[::-1], flat[::-1]
    faces = np.asarray(triangulate([np.ascontiguousarray(flat)]), dtype=np.int64)
    triangles = outline[faces]
    mesh = merged(triangles)
    return Taken(
        name=name,
        triangles_mm=triangles,
        solids=(),
        sheet=mesh,
        pieces=np.zeros(len(mesh.faces), dtype=np.int64),
        kind="sheet",
        material_volume_mm3=None,
        wall_mm=None,
        found=(),
    )


def with_wells(
    name: str,
    stations_mm: FloatArray,
    raw: Sequence["MultiPolygon"],
    closed: Sequence["MultiPolygon"],
    floods_mm: Sequence[FloatArray],
) -> tuple[list["MultiPolygon"], list[WellEnd]]:
    """Return closed sections with the wells that water fills left open, and where wells end.

    Parameters
    ----------
    name : str
        What the body is called.
    stations_mm : ndarray, shape (k,)
        Rising [mm].
    raw, closed : sequence of MultiPolygon
        Sections as the parts enclose them, and with their openings closed [mm].
    floods_mm : sequence of ndarray, shape (3,)
        A point in each well [mm].

    Raises
    ------
    SurfaceError
        If a point lies in no well, or its well is the inside of the hull.
    """
    result = list(closed)
    ends: list[WellEnd] = []
    if not floods_mm:
        return result, ends
    pockets = [
        whole(c.difference(r)) if c.area > r.area else nothing()
        for r, c in zip(raw, closed, strict=True)
    ]
    before = _volume(stations_mm, closed)
    for point in floods_mm:
        well = _well(name, stations_mm, pockets, np.asarray(point, dtype=np.float64))
        taken = _volume(stations_mm, [well.get(k, pockets[k]) for k in sorted(well)], sorted(well))
        if taken > _MOST * before:
            raise SurfaceError(
                f"{name}: the well at {_place(point)} is the inside of the hull itself: "
                f"{100.0 * taken / before:.0f} % of its volume would flood. Close what opens it "
                "with a [[lid]], or move the point under floods into the well"
            )
        for k, pocket in well.items():
            result[k] = filled(whole(result[k].difference(pocket.buffer(1e-3))))
        ends += _ends_of(well, stations_mm)
    return result, ends


def _ends_of(well: dict[int, "MultiPolygon"], stations: FloatArray) -> list[WellEnd]:
    """Return the first and the last section of a well, with the stretch its end wall stands in."""
    first, last = min(well), max(well)
    found = []
    if first > 0:
        found.append(
            WellEnd(near_mm=stations[first - 1], far_mm=stations[first], opening=well[first])
        )
    if last < len(stations) - 1:
        found.append(WellEnd(near_mm=stations[last], far_mm=stations[last + 1], opening=well[last]))
    return found


def _well(
    name: str, stations: FloatArray, pockets: Sequence["MultiPolygon"], point: FloatArray
) -> dict[int, "MultiPolygon"]:
    """Return what a well takes of each section: pockets that hang together along the hull."""
    import shapely

    here = shapely.points(point[1], point[2])
    first = int(np.argmin(np.abs(stations - point[0])))
    near = sorted(shapely.get_parts(pockets[first]), key=lambda p: float(p.distance(here)))
    if not near or near[0].distance(here) > _REACH_MM:
        raise SurfaceError(
            f"{name}: floods has a point at {_place(point)} that lies in no well: there the skin "
            "has nothing to let go of. Give a point in the room that fills with water"
        )
    well = {first: shapely.multipolygons(near[:1])}
    for way in (1, -1):
        held, k = well[first], first + way
        while 0 <= k < len(pockets):
            on = [p for p in shapely.get_parts(pockets[k]) if p.intersection(held).area > 1e-3]
            if not on:
                break
            held = well[k] = shapely.multipolygons(on)
            k += way
    return well


def _volume(
    stations: FloatArray, regions: Sequence["MultiPolygon"], which: Sequence[int] | None = None
) -> float:
    """Return the volume between sections, by trapezoids [mm³]."""
    places = stations if which is None else stations[list(which)]
    areas = [region.area for region in regions]
    return float(np.trapezoid(areas, places))


def _place(point: FloatArray) -> str:
    """Return a place in words."""
    x, y, z = np.asarray(point, dtype=np.float64).tolist()
    return f"({x:.0f}, {y:.0f}, {z:.0f}) mm"
