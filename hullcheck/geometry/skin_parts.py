"""Parts as solids where they are sound, else as their outward faces, set right by the sections."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.errors import SurfaceError
from hullcheck.geometry.areas import area_vectors_mm2, surface_area_mm2
from hullcheck.geometry.arrays import BoolArray, FloatArray, IntArray
from hullcheck.geometry.mending import by_edges, mended
from hullcheck.geometry.outer_records import PartKind
from hullcheck.geometry.parting import solids_apart
from hullcheck.geometry.skin_solids import solid_of
from hullcheck.geometry.skin_stations import CLEAR_MM
from hullcheck.geometry.solids import mesh_of
from hullcheck.geometry.topology import (
    Mesh,
    edges_match,
    merged,
    side_keys,
    unmatched_edges,
)

if TYPE_CHECKING:
    from manifold3d import Manifold
    from shapely import MultiPolygon

DEPTH_MM: Final = 0.6
"""How far behind a sheet its copy lies: behind the plug's outside, which then crosses only one of
the two; that takes a third of the time that 0.3 mm takes."""
LEAST_WALL_MM: Final = 0.12
"""A wall thinner than twice the plug's inset would let the plug out."""
LOST_SHARE: Final = 0.03
"""A part that lacks more of its triangles than this is refused."""
_FLAKE: Final = 1e-3
_THICK_MM: Final = 3.0
_FULL_SHARE: Final = 0.5
_PROBE_MM: Final = 0.03
_DEEP_MM: Final = 0.35
_MIXED: Final = 0.05


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Taken:
    """A part as it is taken.

    Attributes
    ----------
    name : str
    triangles_mm : ndarray, shape (n, 3, 3)
        As given [mm].
    solids : tuple of Manifold
        What of it bounds a volume, outward, without inner shells.
    sheet : Mesh
        What of it does not, neighbors of one mind about their sides.
    pieces : ndarray of int
        Number of the piece of each face of `sheet`.
    kind, material_volume_mm3, wall_mm, found
        See `PartFound`.
    """

    name: str
    triangles_mm: FloatArray
    solids: tuple["Manifold", ...]
    sheet: Mesh
    pieces: IntArray
    kind: PartKind
    material_volume_mm3: float | None
    wall_mm: float | None
    found: tuple[str, ...]

    def surfaces(self) -> list[FloatArray]:
        """Return its surfaces as they hang together, triangles [mm] each, to find ends on."""
        found = [mesh_of(solid).triangles for solid in self.solids]
        if len(self.sheet.faces):
            # By edges: sheets that overlap share corners.
            labels = by_edges(self.sheet)
            found += [self.sheet.triangles[labels == k] for k in range(int(labels.max()) + 1)]
        return found

    def triangles(self) -> FloatArray:
        """Return all that was taken of it, shape (n, 3, 3) [mm]."""
        return np.concatenate([*(mesh_of(s).triangles for s in self.solids), self.sheet.triangles])


def taken(name: str, triangles_mm: FloatArray) -> Taken:
    """Return a part as solids as far as its surfaces close, the rest as a sheet.

    Parameters
    ----------
    name : str
        What it is called.
    triangles_mm : ndarray, shape (n, 3, 3)
        As placed [mm].

    Raises
    ------
    SurfaceError
        If too many triangles are missing, or its wall is too thin to be one.
    """
    found = mended(merged(triangles_mm))
    if found.lost_share > LOST_SHARE:
        raise SurfaceError(
            f"{name}: about {100.0 * found.lost_share:.1f} % of its triangles are missing, in "
            f"holes all over it (limit {100.0 * LOST_SHARE:g} %): the file is damaged; export it "
            "again"
        )
    closed = _closed_faces(found.mesh, found.pieces)
    said = list(found.found)
    solids = _outward_solids(found.mesh, closed, said)
    if solids is None:
        solids, closed = [], np.zeros(len(found.mesh.faces), dtype=bool)
    sheet = Mesh(points=found.mesh.points, faces=found.mesh.faces[~closed])
    if len(sheet.faces):
        said += _why_open(sheet)
    volume = sum(solid.volume() for solid in solids)
    area = sum(solid.surface_area() for solid in solids)
    wall = 2.0 * volume / area if area > 0.0 else None
    if wall is not None and wall < LEAST_WALL_MM:
        raise SurfaceError(
            f"{name}: its wall is {wall:.2g} mm thick (limit {LEAST_WALL_MM:g} mm), thinner than "
            "anything is printed: see whether the unit is right, or take a surface without "
            "thickness instead"
        )
    return Taken(
        name=name,
        triangles_mm=triangles_mm,
        solids=tuple(solids),
        sheet=sheet,
        pieces=found.pieces[~closed],
        kind=_kind(solids, sheet, wall),
        material_volume_mm3=volume if solids else None,
        wall_mm=wall,
        found=tuple(said),
    )


def _kind(solids: Sequence["Manifold"], sheet: Mesh, wall_mm: float | None) -> PartKind:
    """Return what a part is called."""
    if not solids:
        return "sheet"
    if len(sheet.faces):
        return "patched"
    around = sum(solid.hull().volume() for solid in solids)
    volume = sum(solid.volume() for solid in solids)
    thick = wall_mm is not None and wall_mm > _THICK_MM and volume > _FULL_SHARE * around
    return "closed skin" if thick else "thin wall"


def _closed_faces(mesh: Mesh, pieces: IntArray) -> BoolArray:
    """Return which faces are in pieces that close by themselves or with all the others."""
    if edges_match(mesh):
        return np.ones(len(mesh.faces), dtype=bool)
    rim = unmatched_edges(mesh)
    touched = np.zeros(len(mesh.points), dtype=bool)
    touched[rim.ravel()] = True
    open_pieces = np.zeros(int(pieces.max()) + 1, dtype=bool)
    open_pieces[pieces[touched[mesh.faces].any(axis=1)]] = True
    closed = ~open_pieces[pieces]
    if closed.any() and not edges_match(Mesh(points=mesh.points, faces=mesh.faces[closed])):
        return np.zeros(len(mesh.faces), dtype=bool)
    return closed


def _outward_solids(mesh: Mesh, closed: BoolArray, said: list[str]) -> "list[Manifold] | None":
    """Return the outer shells that closed faces bound, outward; None if they bound no solid."""
    if not closed.any():
        return []
    own = solids_apart(Mesh(points=mesh.points, faces=mesh.faces[closed]))
    solid = solid_of(own)
    if solid is None:
        return None
    pieces = sorted(solid.decompose(), key=lambda piece: -abs(piece.volume()))
    if pieces and pieces[0].volume() < 0.0:
        # The largest shell is the outside, whichever way its triangles look.
        solid = solid_of(Mesh(points=own.points, faces=own.faces[:, ::-1]))
        pieces = [] if solid is None else solid.decompose()
        said.append("all triangles looked inward; turned outward")
    whole = surface_area_mm2(mesh.triangles)
    flakes = [piece for piece in pieces if _is_flake(piece, whole)]
    pieces = [piece for piece in pieces if not _is_flake(piece, whole)]
    outward = [piece for piece in pieces if piece.volume() > 0.0]
    voids = len(pieces) - len(outward)
    if flakes:
        said.append(f"left out {len(flakes)} flake{'s' if len(flakes) > 1 else ''}, flat and small")
    if voids:
        said.append(f"left out {voids} inner shell{'s' if voids > 1 else ''}")
    return outward


def _is_flake(piece: "Manifold", whole_mm2: float) -> bool:
    """Return whether a closed piece is a small flat one, such as slivers at a T-junction make."""
    area = float(piece.surface_area())
    return area < _FLAKE * whole_mm2 and 2.0 * abs(float(piece.volume())) < LEAST_WALL_MM * area


def _why_open(mesh: Mesh) -> list[str]:
    """Return what is odd about a sheet that is none: open edges and ribs are not."""
    counts = np.unique(side_keys(mesh), return_counts=True)[1]
    if (counts != 2).any():
        return []
    return ["neighboring triangles contradict each other about which side is outside"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Depths:
    """Closed sections as a field: how deep under the skin a point lies."""

    stations_mm: FloatArray
    regions: Sequence["MultiPolygon"]

    def at(self, points_mm: FloatArray) -> FloatArray:
        """Return the signed distance in the section of points (n, 3) [mm], negative inside."""
        import shapely

        x = points_mm[:, 0]
        last = len(self.stations_mm) - 1
        right = np.searchsorted(self.stations_mm, x).clip(1, last)
        left = right - 1
        a, b = self.stations_mm[left], self.stations_mm[right]
        share = ((x - a) / (b - a)).clip(0.0, 1.0)
        ends = np.zeros((2, len(points_mm)))
        for side, number in enumerate((left, right)):
            order = np.argsort(number, kind="stable")
            cuts = np.searchsorted(number[order], np.arange(last + 2))
            for k in np.unique(number):
                rows = order[cuts[k] : cuts[k + 1]]
                region = self.regions[k]
                shapely.prepare(region)
                y, z = points_mm[rows, 1], points_mm[rows, 2]
                away = shapely.distance(region.boundary, shapely.points(y, z))
                inside = shapely.contains_xy(region, y, z)
                ends[side, rows] = np.where(inside, -away, away)
        value = (1.0 - share) * ends[0] + share * ends[1]
        # Across x no point is farther from the skin than from where the section changes sides.
        apart = np.maximum(b - a, 1e-9)
        crossed = (ends[0] < 0.0) != (ends[1] < 0.0)
        value = np.where(crossed, value.clip(-apart, apart), value)
        low, high = self.stations_mm[0] - CLEAR_MM, self.stations_mm[-1] + CLEAR_MM
        depth: FloatArray = np.maximum(value, np.maximum(low - x, x - high))
        return depth


def outward_faces(mesh: Mesh, pieces: IntArray, depths: Depths) -> Mesh:
    """Return the faces of a sheet that lie on the skin, outward.

    Parameters
    ----------
    mesh : Mesh
        Neighbors of one mind, but pieces in whatever facing.
    pieces : ndarray of int, shape (n,)
        The piece each face is in.
    depths : Depths
        The closed sections.

    Notes
    -----
    A piece is turned, kept or left out as a whole, by area, unless it holds both skin and inside:
    then each face is judged by itself. Left out is what lies deeper than 0.35 mm.
    """
    if len(mesh.faces) == 0:
        return mesh
    corners = mesh.triangles
    sides = area_vectors_mm2(corners)
    sizes = np.linalg.norm(sides, axis=1)
    normals = sides / np.maximum(sizes, 1e-300)[:, None]
    middles = corners.mean(axis=1)
    ahead, behind = (depths.at(middles + s * _PROBE_MM * normals) for s in (1.0, -1.0))
    deep = -0.5 * (ahead + behind)
    skin, proud = deep < _DEEP_MM, deep < -_DEEP_MM
    inward = ahead < behind
    count = int(pieces.max()) + 1
    whole = np.bincount(pieces, weights=sizes, minlength=count)
    on_skin = np.bincount(pieces, weights=sizes * skin, minlength=count)
    looking_in = np.bincount(pieces, weights=sizes * (skin & inward), minlength=count)
    share = on_skin / np.maximum(whole, 1e-300)
    mixed = (share > _MIXED) & (share < 1.0 - _MIXED)
    # A rib stands proud of the chord that closes an opening over it: no more skin than the rest.
    skin &= ~(proud & (share < 0.5)[pieces])
    keep = np.where(mixed[pieces], skin, (share > 0.5)[pieces])
    turn = np.where(mixed[pieces], inward, (looking_in > 0.5 * on_skin)[pieces])
    faces = np.where(turn[:, None], mesh.faces[:, ::-1], mesh.faces)
    return Mesh(points=mesh.points, faces=faces[keep])
