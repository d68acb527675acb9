"""Solids for the boolean library: parts as they are, plugs, collars in seams, thickened sheets."""

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray, IntArray
from hullcheck.geometry.parting import cut_at_rims
from hullcheck.geometry.skin_stations import CLEAR_MM
from hullcheck.geometry.solids import as_solid
from hullcheck.geometry.topology import Mesh, unmatched_edges

if TYPE_CHECKING:
    from manifold3d import Manifold
    from shapely import MultiPolygon, Polygon

INSET_MM: Final = 0.06
"""How far a plug stays inside the sections: inside the wall, and clear of its outside."""
_OVERLAP_MM: Final = 2e-3
_BUTT_MM: Final = 1e-6
_SIMPLE_MM: Final = 2e-2
_BODY_AXES: Final = ((0.0, 0.0, 1.0, 0.0), (1.0, 0.0, 0.0, 0.0), (0.0, 1.0, 0.0, 0.0))
"""An extrusion's own axes (y, z, then along) turned into body axes."""


def solid_of(mesh: Mesh) -> "Manifold | None":
    """Return a mesh as a solid in double precision, or None if it bounds none."""
    from manifold3d import Error

    solid = as_solid(mesh)
    return None if solid.status() != Error.NoError or solid.is_empty() else solid


def plug(
    stations_mm: Sequence[float] | FloatArray, regions: Sequence["MultiPolygon"]
) -> "Manifold":
    """Return the solid that lies within closed sections, a little inside them.

    Parameters
    ----------
    stations_mm : sequence of float
        Rising [mm].
    regions : sequence of MultiPolygon
        Closed sections there, y and z [mm].

    Returns
    -------
    Manifold
        Between two stations it holds what both sections hold, less 0.06 mm all around.
    """
    from manifold3d import Manifold, OpType

    rows: tuple[list[Manifold], list[Manifold]] = ([], [])
    for number, ((a, one), (b, two)) in enumerate(pairwise(zip(stations_mm, regions, strict=True))):
        shape = one if one is two else one.intersection(two)
        shape = shape.buffer(-INSET_MM, join_style="mitre").simplify(_SIMPLE_MM)
        if not shape.is_empty:
            rows[number % 2].append(prism(shape, a - _OVERLAP_MM, b + _OVERLAP_MM))
    # Every other slab lies clear of the rest: putting those together takes no boolean.
    return Manifold.batch_boolean([Manifold.compose(row) for row in rows], OpType.Add)


def stacked(
    stations_mm: Sequence[float] | FloatArray, regions: Sequence["MultiPolygon"]
) -> "Manifold":
    """Return the solid of closed sections alone: each drawn out half way to its neighbors.

    Parameters
    ----------
    stations_mm, regions
        As for `plug`.
    """
    from manifold3d import Manifold, OpType

    stations = np.asarray(stations_mm, dtype=np.float64)
    middles = 0.5 * (stations[1:] + stations[:-1])
    # The first and the last stand a little inside the ends.
    starts = np.concatenate([stations[:1] - CLEAR_MM, middles])
    stops = np.concatenate([middles, stations[-1:] + CLEAR_MM])
    rows: tuple[list[Manifold], list[Manifold]] = ([], [])
    for number, (region, start, stop) in enumerate(zip(regions, starts, stops, strict=True)):
        if not region.is_empty:
            rows[number % 2].append(prism(region, start - _BUTT_MM, stop + _BUTT_MM))
    return Manifold.batch_boolean([Manifold.compose(row) for row in rows], OpType.Add)


def prism(shape: "MultiPolygon | Polygon", start_mm: float, end_mm: float) -> "Manifold":
    """Return a flat shape in y and z drawn out along x from one station to another."""
    from manifold3d import CrossSection, FillRule, Manifold

    section = CrossSection(_contours(shape), FillRule.EvenOdd)
    solid = Manifold.extrude(section, end_mm - start_mm)
    return solid.transform(np.array(_BODY_AXES)).translate((start_mm, 0.0, 0.0))


def _contours(shape: "MultiPolygon | Polygon") -> list[FloatArray]:
    """Return the rings of a shape without their closing points."""
    import shapely

    rings = []
    for polygon in shapely.get_parts(shape):
        if polygon.geom_type == "Polygon":
            rings += [np.array(polygon.exterior.coords)[:-1]]
            rings += [np.array(hole.coords)[:-1] for hole in polygon.interiors]
    return rings


def collar(one: "Polygon", start_mm: float, two: "Polygon", end_mm: float) -> "Manifold | None":
    """Return the solid ruled from one section to the next, flush with both.

    Parameters
    ----------
    one, two : Polygon
        Sections at the two stations, y and z [mm]; their holes are not looked at.
    start_mm, end_mm : float
        Stations, the first one less [mm].

    Returns
    -------
    Manifold or None
        None if what comes out is no solid.
    """
    from manifold3d import triangulate

    rings = []
    for polygon, station in ((one, start_mm), (two, end_mm)):
        ring = np.array(polygon.exterior.coords)[:-1]
        ring = ring if polygon.exterior.is_ccw else ring[::-1]
        rings.append(np.column_stack([np.full(len(ring), station), ring]))
    first, second = rings
    band = _band(first, second)
    caps = [np.asarray(triangulate([ring[:, 1:]]), dtype=np.int64) for ring in rings]
    faces = np.concatenate([band, caps[0][:, ::-1], caps[1] + len(first)])
    solid = solid_of(Mesh(points=np.concatenate(rings), faces=faces))
    return solid if solid is not None and solid.volume() > 0.0 else None


def _band(first: FloatArray, second: FloatArray) -> IntArray:
    """Return the triangles between two rings in one sense of rotation, by the shorter diagonals."""
    n, m = len(first), len(second)
    offset = int(np.argmin(np.linalg.norm(second[:, 1:] - first[0, 1:], axis=1)))
    i = j = 0
    faces = []
    while i < n or j < m:
        a, b = i % n, (offset + j) % m
        next_a, next_b = (i + 1) % n, (offset + j + 1) % m
        along_first = np.linalg.norm(first[next_a, 1:] - second[b, 1:])
        along_second = np.linalg.norm(second[next_b, 1:] - first[a, 1:])
        if j >= m or (i < n and along_first <= along_second):
            faces.append((a, next_a, n + b))
            i += 1
        else:
            faces.append((a, n + next_b, n + b))
            j += 1
    return np.array(faces, dtype=np.int64)


def thickened(mesh: Mesh, depth_mm: float) -> "Manifold | None":
    """Return an oriented sheet with a copy behind it, joined along its edges, as a solid.

    Parameters
    ----------
    mesh : Mesh
        Faces outward.
    depth_mm : float
        How far behind the sheet its copy lies [mm].

    Returns
    -------
    Manifold or None
        None if what comes out is no solid.
    """
    if len(mesh.faces) == 0:
        return None
    mesh = cut_at_rims(mesh)
    behind = mesh.points - depth_mm * _corner_normals(mesh)
    count = len(mesh.points)
    rim = unmatched_edges(mesh)
    walls = np.concatenate(
        [
            np.column_stack([rim[:, 1], rim[:, 0], rim[:, 0] + count]),
            np.column_stack([rim[:, 1], rim[:, 0] + count, rim[:, 1] + count]),
        ]
    )
    faces = np.concatenate([mesh.faces, mesh.faces[:, ::-1] + count, walls])
    return solid_of(Mesh(points=np.concatenate([mesh.points, behind]), faces=faces))


def _corner_normals(mesh: Mesh) -> FloatArray:
    """Return unit normals at the corners, faces weighed by their angle there, shape (m, 3)."""
    corners = mesh.triangles
    sides = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    unit = sides / np.maximum(np.linalg.norm(sides, axis=1), 1e-300)[:, None]
    arms = np.roll(corners, -1, axis=1) - corners
    lengths = np.maximum(np.linalg.norm(arms, axis=2), 1e-300)
    cosine = -np.einsum("nij,nij->ni", arms, np.roll(arms, 1, axis=1)) / (
        lengths * np.roll(lengths, 1, axis=1)
    )
    angles = np.arccos(cosine.clip(-1.0, 1.0))
    normals = np.zeros_like(mesh.points)
    for k in range(3):
        for axis in range(3):
            normals[:, axis] += np.bincount(
                mesh.faces[:, k], weights=unit[:, axis] * angles[:, k], minlength=len(normals)
            )
    normals /= np.maximum(np.linalg.norm(normals, axis=1), 1e-300)[:, None]
    return normals
