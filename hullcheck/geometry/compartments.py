"""A closed body parted by planes across it, and what water does in one of the parts."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.errors import SurfaceError
from hullcheck.geometry.arrays import FloatArray, bounds, owned
from hullcheck.geometry.moments import row_sum
from hullcheck.geometry.shells import CLOSURE_TOLERANCE
from hullcheck.geometry.solids import as_solid, mesh_of
from hullcheck.geometry.topology import Mesh, edges_match

if TYPE_CHECKING:
    from manifold3d import Manifold

_CRUMB: Final = 1e-9
_LEVEL: Final = 1e-9
_AFT: Final = (1.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Part:
    """One part of a body that planes across it cut out.

    Attributes
    ----------
    mesh : Mesh
        Its closed surface, the cuts included [mm].
    volume_mm3 : float
        What it encloses [mm³].
    first_station_mm, last_station_mm : float
        Where it begins and ends along x [mm].
    """

    mesh: Mesh
    volume_mm3: float
    first_station_mm: float
    last_station_mm: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pool:
    """One of the pieces that a level plane parts the water in a compartment into.

    Attributes
    ----------
    volume_mm3 : float
        Of the space it fills [mm³].
    lowest_mm : ndarray, shape (3,)
        Its lowest point [mm].
    """

    volume_mm3: float
    lowest_mm: FloatArray

    def __post_init__(self) -> None:
        """Own the point."""
        object.__setattr__(self, "lowest_mm", owned(self.lowest_mm, (3,)))


def cut_at_stations(name: str, mesh: Mesh, stations_mm: Sequence[float]) -> tuple[Part, ...]:
    """Return the parts of a closed body between planes x = constant, from the bow.

    Parameters
    ----------
    name : str
        What the body is called in messages.
    mesh : Mesh
        Its closed surface, area vectors outward [mm].
    stations_mm : sequence of float
        Where the planes stand, growing [mm]; those that miss the body part nothing.

    Returns
    -------
    tuple of Part

    Raises
    ------
    SurfaceError
        If the body is no solid, or its parts do not close or do not add up to it.

    Notes
    -----
    Each part is shown to be closed: edges match, ∮ dS = 0 and ∮ p_j dS_i = V δ_ij. Their volumes
    add up to the body's within 1e-9.
    """
    rest = _solid(name, mesh)
    whole = float(rest.volume())
    pieces = []
    for station in stations_mm:
        aft, fore = rest.split_by_plane(_AFT, float(station))
        if min(aft.volume(), fore.volume()) <= _CRUMB * whole:
            continue
        pieces.append(fore)
        rest = aft
    parts = tuple(_part(name, piece) for piece in (*pieces, rest))
    together = sum(part.volume_mm3 for part in parts)
    if abs(together - whole) > 1e-9 * whole * max(len(stations_mm), 1):
        raise SurfaceError(
            f"{name}: cut at its bulkheads, its parts hold {together:.9g} mm³ of {whole:.9g} mm³"
        )
    return parts


def pools_under(mesh: Mesh, normal: FloatArray, height_mm: float) -> tuple[Pool, ...]:
    """Return the pieces that hang together of what lies under a plane in a closed surface.

    Parameters
    ----------
    mesh : Mesh
        Closed surface of a compartment [mm].
    normal : ndarray, shape (3,)
        Unit normal out of the water.
    height_mm : float
        The plane holds the points p with normal·p = height_mm [mm].

    Returns
    -------
    tuple of Pool
        The largest first; empty where all is dry. More than one: a step, a floor or a hollow parts
        the water, and that all of it shares one level is a convention.
    """
    solid = _solid("a compartment", mesh)
    wet = solid.trim_by_plane((-normal).tolist(), -float(height_mm))
    if wet.is_empty():
        return ()
    least = _CRUMB * float(solid.volume())
    pools = [
        Pool(
            volume_mm3=float(piece.volume()),
            lowest_mm=lowest_point(mesh_of(piece).points, normal),
        )
        for piece in wet.decompose()
        if piece.volume() > least
    ]
    return tuple(sorted(pools, key=lambda pool: -pool.volume_mm3))


def lowest_point(points_mm: FloatArray, normal: FloatArray) -> FloatArray:
    """Return the lowest of points [mm], shape (m, 3) to (3,), for a normal out of the water.

    Of several that are equally low, such as a flat floor's corners, it is the one nearest to the
    middle of them; with −normal the highest is found.
    """
    heights = points_mm @ normal
    size = float(np.ptp(points_mm, axis=0).max())
    low = points_mm[heights <= heights.min() + _LEVEL * size]
    middle = 0.5 * (low.min(axis=0) + low.max(axis=0))
    nearest: FloatArray = low[np.linalg.norm(low - middle, axis=1).argmin()]
    return nearest


def _solid(name: str, mesh: Mesh) -> "Manifold":
    """Return a mesh as a solid; SurfaceError if it bounds none."""
    solid = as_solid(mesh)
    if solid.is_empty() or not solid.volume() > 0.0:
        raise SurfaceError(f"{name}: its surface bounds no solid ({solid.status().name})")
    return solid


def _part(name: str, piece: "Manifold") -> Part:
    """Return a piece as a part, its closure proved."""
    mesh = mesh_of(piece)
    triangles = mesh.triangles
    low, high = bounds(triangles)
    row = row_sum(triangles, 0.5 * (low + high))
    first = row[3:12].reshape(3, 3)
    volume, area = float(np.trace(first) / 3.0), float(row[30])
    gap = float(np.abs(row[0:3]).max()) / area
    skew = float(np.abs(first - volume * np.eye(3)).max()) / (area * float((high - low).max()))
    if not edges_match(mesh) or max(gap, skew) > CLOSURE_TOLERANCE:
        raise SurfaceError(f"{name}: the part from station {low[0]:.1f} to {high[0]:.1f} is open")
    return Part(
        mesh=mesh,
        volume_mm3=volume,
        first_station_mm=float(low[0]),
        last_station_mm=float(high[0]),
    )
