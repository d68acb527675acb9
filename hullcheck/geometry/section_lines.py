"""Sections of parts at many stations at once, as regions that their lines enclose."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray, IntArray

if TYPE_CHECKING:
    from shapely import Geometry, MultiPolygon

LINE_MM: Final = 0.02
"""Half the width an open line of a section is given, so that it bounds something."""
_DIGITS: Final = 5
"""Section points that agree to so many decimals of a millimeter are one."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Section:
    """What the parts fill at a station.

    Attributes
    ----------
    station_mm : float
        Where [mm].
    region : MultiPolygon
        All that closed lines enclose, filled, and the open lines with a little width; y, z [mm].
    open_mm : float
        Length of lines that do not close [mm].
    """

    station_mm: float
    region: "MultiPolygon"
    open_mm: float


def sections(triangles_mm: FloatArray, stations_mm: FloatArray) -> list[Section]:
    """Return the sections of triangles at rising stations; the facing of a triangle is not used.

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        All parts, body axes [mm].
    stations_mm : ndarray, shape (k,)
        Rising [mm].

    Returns
    -------
    list of Section
        One a station.
    """
    where, segments, _ = _segments(triangles_mm, stations_mm)
    cuts = np.searchsorted(where, np.arange(len(stations_mm) + 1))
    return [
        _section(float(station), segments[cuts[k] : cuts[k + 1]])
        for k, station in enumerate(stations_mm)
    ]


def section_areas(triangles_mm: FloatArray, stations_mm: FloatArray) -> FloatArray:
    """Return the areas of the sections of a closed outward surface at rising stations [mm²].

    By ½ ∮ p·n ds over the lines of each section, n the outward normal in its plane.
    """
    where, segments, rows = _segments(triangles_mm, stations_mm)
    a, b, c = np.moveaxis(triangles_mm[rows], 1, 0)
    normals = np.cross(b - a, c - a)[:, 1:]
    normals /= np.maximum(np.linalg.norm(normals, axis=1), 1e-300)[:, None]
    length = np.linalg.norm(segments[:, 1] - segments[:, 0], axis=1)
    share = 0.5 * length * np.einsum("ij,ij->i", segments.mean(axis=1), normals)
    return np.bincount(where, weights=share, minlength=len(stations_mm)).astype(np.float64)


def _segments(triangles: FloatArray, stations: FloatArray) -> tuple[IntArray, FloatArray, IntArray]:
    """Return each segment's station number, end points (y, z) and triangle, in station order."""
    along = triangles[:, :, 0]
    first = np.searchsorted(stations, along.min(axis=1), side="left")
    last = np.searchsorted(stations, along.max(axis=1), side="right")
    counts = last - first
    rows = np.repeat(np.arange(len(triangles)), counts)
    where = first[rows] + np.arange(len(rows)) - np.repeat(np.cumsum(counts) - counts, counts)
    corners = triangles[rows]
    heights = corners[:, :, 0] - stations[where][:, None]
    below = heights < 0.0
    number = below.sum(axis=1)
    cut = (number == 1) | (number == 2)
    where, corners, heights, below = where[cut], corners[cut], heights[cut], below[cut]
    rows = rows[cut]
    lone = np.where(number[cut] == 1, below.argmax(axis=1), (~below).argmax(axis=1))
    index = np.arange(len(lone))
    ends = []
    for turn in (1, 2):
        other = (lone + turn) % 3
        # Always from the lower corner: both triangles on an edge get the same point.
        low = np.where(below[index, lone], lone, other)
        high = np.where(below[index, lone], other, lone)
        a, b = heights[index, low], heights[index, high]
        share = (a / (a - b))[:, None]
        start = corners[index, low, 1:]
        ends.append(start + share * (corners[index, high, 1:] - start))
    segments = np.round(np.stack(ends, axis=1), _DIGITS) + 0.0
    order = np.argsort(where, kind="stable")
    return where[order], segments[order], rows[order]


def _section(station: float, segments: FloatArray) -> Section:
    """Return the section that segments (k, 2, 2) make."""
    import shapely

    segments = _once(segments)
    if len(segments) == 0:
        return Section(station_mm=station, region=nothing(), open_mm=0.0)
    lines = shapely.get_parts(shapely.line_merge(shapely.multilinestrings(list(segments))))
    closed = shapely.is_closed(lines) & (shapely.get_num_coordinates(lines) > 3)
    rings = [polygon for line in lines[closed] for polygon in _filled(line)]
    loose = lines[~closed]
    if len(loose):
        # Where ribs meet the skin the lines branch: nodes first, then what they enclose.
        noded = shapely.get_parts(shapely.node(shapely.multilinestrings(list(loose))))
        faces, _, dangles, _ = shapely.polygonize_full(list(noded))
        rings += list(shapely.get_parts(faces))
        loose = shapely.get_parts(dangles)
    bands = shapely.buffer(loose, LINE_MM, quad_segs=1, cap_style="square", join_style="mitre")
    return Section(
        station_mm=station,
        region=_enclosed(rings, bands),
        open_mm=float(shapely.length(loose).sum()),
    )


def _enclosed(rings: list[Any], bands: list[Any]) -> "MultiPolygon":
    """Return all that rings enclose, filled, and bands.

    Rings of walls lie within each other and do not cross: where one holds all others, it is all.
    """
    import shapely

    if len(rings) and not len(bands):
        widest = max(rings, key=lambda ring: float(ring.area))
        shapely.prepare(widest)
        if all(ring is widest or widest.contains_properly(ring) for ring in rings):
            return shapely.multipolygons([shapely.polygons(shapely.get_exterior_ring(widest))])
    return filled(whole(shapely.union_all([*rings, *bands])))


def _once(segments: FloatArray) -> FloatArray:
    """Return segments without those of no length, each once whatever its direction."""
    segments = segments[(segments[:, 0] != segments[:, 1]).any(axis=1)]
    if len(segments) == 0:
        return segments
    a, b = segments[:, 0], segments[:, 1]
    swap = (a[:, 0] > b[:, 0]) | ((a[:, 0] == b[:, 0]) & (a[:, 1] > b[:, 1]))
    ordered = np.where(swap[:, None, None], segments[:, ::-1], segments)
    unique: FloatArray = np.unique(ordered.reshape(-1, 4), axis=0).reshape(-1, 2, 2)
    return unique


def _filled(line: "Geometry") -> list[Any]:
    """Return the polygons a closed line encloses, made valid."""
    import shapely

    polygon = shapely.polygons(shapely.get_coordinates(line))
    if shapely.is_valid(polygon):
        return [polygon]
    return list(shapely.get_parts(whole(shapely.make_valid(polygon))))


def whole(shape: "Geometry") -> "MultiPolygon":
    """Return the areas of a shape, its points and lines left out."""
    import shapely

    parts = shapely.get_parts(shapely.get_parts(shape))
    areas = [part for part in parts if part.geom_type == "Polygon" and part.area > 0.0]
    return shapely.multipolygons(areas) if areas else nothing()


def nothing() -> "MultiPolygon":
    """Return a shape without any area."""
    import shapely

    return shapely.from_wkt("MULTIPOLYGON EMPTY")


def filled(shape: "MultiPolygon") -> "MultiPolygon":
    """Return areas without their holes."""
    import shapely

    parts = shapely.get_parts(shape)
    if not shapely.get_num_interior_rings(parts).any():
        return shape
    return whole(shapely.union_all(shapely.polygons(shapely.get_exterior_ring(parts))))
