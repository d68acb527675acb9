"""The inside of a closed body: its skin less a wall of one thickness.

Each corner of the skin moves in so that every face that meets there moves in by the wall, which is
exact for flat faces and sharp edges. That fails where the body is thinner than two walls or rounded
more tightly than the wall is thick: there a corner is held back, and the wall of every face around
it is cut out of what is left, so that no face is nearer to the outside than the wall.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.errors import InputError, SurfaceError
from hullcheck.geometry.areas import area_vectors_mm2
from hullcheck.geometry.arrays import BoolArray, FloatArray
from hullcheck.geometry.inset_walls import unit, walls_behind
from hullcheck.geometry.solids import as_solid, mesh_of
from hullcheck.geometry.topology import Mesh, edges_match, merged

if TYPE_CHECKING:
    from manifold3d import Manifold

_SIMPLER: Final = 0.02
"""Of the wall: how far the skin may stray when slivers and needless corners are taken out."""
_CLEANER_MM: Final = 1e-3
"""How far what is left may stray when the slivers of the cut are taken out."""
_FLAT: Final = 1e-3
"""Of the greatest: a direction in which a corner's faces hold it less than this is free."""
_MITER: Final = 8.0
_HELD: Final = 0.05
_THIN: Final = 0.45
_TURNED: Final = 0.02
_ROUNDS: Final = 60
_CRUMB: Final = 1e-4
_MOST_WALL: Final = 1.1
_PROBE: Final = 1e-4
_PICKED: Final = 2000
_WRONG_SHARE: Final = 2e-3
_KEPT: Final = 8
"""Insides kept, a megabyte each for a printed hull."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Inset:
    """The inside of a closed body.

    Attributes
    ----------
    mesh : Mesh
        Its closed surface, area vectors out of the inside [mm].
    volume_mm3 : float
        What it encloses [mm³].
    held_corners : int
        Corners of the skin where it is too thin or too round to be moved in by the wall: the wall
        was cut out there.
    lost_mm3 : float
        Crumbs of the inside, cut off from the rest where two walls nearly meet, that were left out
        [mm³].
    """

    mesh: Mesh
    volume_mm3: float
    held_corners: int
    lost_mm3: float


def inset(name: str, triangles_mm: FloatArray, wall_mm: float) -> Inset:
    """Return the inside of a closed surface, its skin less a wall.

    Parameters
    ----------
    name : str
        What the body is called in messages.
    triangles_mm : ndarray, shape (n, 3, 3)
        Closed surface, area vectors outward [mm].
    wall_mm : float
        Thickness of the wall, square to the skin [mm].

    Returns
    -------
    Inset

    Raises
    ------
    InputError
        If the wall is not above 0.
    SurfaceError
        If the wall leaves no inside, or what it leaves cannot be shown to be sound.

    Notes
    -----
    A corner moves by the shortest d with n·d = −t for the normals n of its faces, in least squares
    weighted by the faces' angles there. What comes out is shown to be closed, to lie within the
    skin, to have its inner side inside all over, and to leave a wall between 0 and 1.1 t A. The
    last few are kept: what asks for one surface's inside asks again.
    """
    if not wall_mm > 0.0:
        raise InputError(f"{name}: wall {wall_mm:g} mm: must be above 0")
    return _inset(name, np.ascontiguousarray(triangles_mm, dtype=np.float64).tobytes(), wall_mm)


@lru_cache(maxsize=_KEPT)
def _inset(name: str, surface: bytes, wall_mm: float) -> Inset:
    """Return the inside of a surface given as the bytes of its triangles, shape (n, 3, 3) [mm]."""
    triangles_mm = np.frombuffer(surface).reshape(-1, 3, 3)
    skin = as_solid(merged(triangles_mm))
    if skin.is_empty() or not skin.volume() > 0.0:
        raise SurfaceError(f"{name}: its skin bounds no solid, so it has no inside")
    skin = skin.simplify(_SIMPLER * wall_mm)
    mesh = mesh_of(skin)
    move = _moves(mesh, wall_mm)
    share = _shares(skin, mesh, move, wall_mm)
    moved = Mesh(points=mesh.points + share[:, None] * move, faces=mesh.faces)
    inside = as_solid(moved)
    held: BoolArray = share < 1.0
    if held.any():
        cut = inside - walls_behind(mesh, held, wall_mm)
        # As one new solid: slivers between faces of different walls are taken out too.
        inside = cut.as_original().simplify(_CLEANER_MM)
    inside, lost = _without_crumbs(inside)
    if inside.is_empty():
        raise SurfaceError(
            f"{name}: a wall of {wall_mm:g} mm leaves no inside. Is that the wall? For a body that "
            "is solid, leave wall_mm out and give a small permeability"
        )
    _prove(name, inside, skin, wall_mm)
    return Inset(
        mesh=mesh_of(inside),
        volume_mm3=float(inside.volume()),
        held_corners=int(held.sum()),
        lost_mm3=lost,
    )


def _moves(mesh: Mesh, wall: float) -> FloatArray:
    """Return how each corner moves in, shape (m, 3) [mm]."""
    triangles = mesh.triangles
    sides = np.roll(triangles, -1, axis=1) - triangles
    normals = unit(area_vectors_mm2(triangles))
    along = unit(sides)
    cosines = -np.einsum("nki,nki->nk", along, np.roll(along, 1, axis=1))
    angles = np.arccos(np.clip(cosines, -1.0, 1.0))
    holds = np.zeros((len(mesh.points), 3, 3))
    pulls = np.zeros((len(mesh.points), 3))
    for k in range(3):
        weighted = angles[:, k, None] * normals
        np.add.at(holds, mesh.faces[:, k], weighted[:, :, None] * normals[:, None, :])
        np.add.at(pulls, mesh.faces[:, k], -wall * weighted)
    values, vectors = np.linalg.eigh(holds)
    parts = np.einsum("nij,ni->nj", vectors, pulls)
    firm = values > _FLAT * values[:, 2:]
    parts = np.where(firm, parts / np.where(firm, values, 1.0), 0.0)
    move: FloatArray = np.einsum("nij,nj->ni", vectors, parts)
    return move


def _shares(skin: "Manifold", mesh: Mesh, move: FloatArray, wall: float) -> FloatArray:
    """Return the share of its way that each corner may go, shape (m,): 1 where nothing hinders."""
    size = np.linalg.norm(move, axis=1)
    share = np.minimum(1.0, _MITER * wall / np.maximum(size, 1e-300))
    for i in np.flatnonzero(size > 0.0):
        way = move[i] / size[i]
        reach = share[i] * size[i] / _THIN
        start = mesh.points[i]
        for hit in skin.ray_cast(start + 1e-3 * wall * way, start + reach * way):
            if float(np.dot(hit.normal, way)) > 0.0:
                room = float(np.linalg.norm(np.array(hit.position) - start))
                share[i] = min(share[i], _THIN * room / size[i])
                break
    before = area_vectors_mm2(mesh.triangles)
    before_size = np.linalg.norm(before, axis=1)
    for _ in range(_ROUNDS):
        after = area_vectors_mm2((mesh.points + share[:, None] * move)[mesh.faces])
        agree = np.einsum("ni,ni->n", before, after)
        over = agree <= _TURNED * before_size * np.linalg.norm(after, axis=1)
        if not over.any():
            break
        hindered = np.unique(mesh.faces[over])
        share[hindered] = np.minimum(0.5 * share[hindered], _HELD)
    return np.where(share < 1.0, np.minimum(share, _HELD), 1.0)


def _without_crumbs(inside: "Manifold") -> tuple["Manifold", float]:
    """Return the pieces of an inside that hold more than a ten-thousandth of it, and the rest."""
    from manifold3d import Manifold

    pieces = inside.decompose()
    least = _CRUMB * max((piece.volume() for piece in pieces), default=0.0)
    kept = [piece for piece in pieces if piece.volume() > least]
    lost = sum(max(float(piece.volume()), 0.0) for piece in pieces if piece.volume() <= least)
    return Manifold.compose(kept), lost


def _prove(name: str, inside: "Manifold", skin: "Manifold", wall: float) -> None:
    """Refuse an inside that is open, pokes through the skin, is inside out, or of a wrong size."""
    mesh = mesh_of(inside)
    whole, area = float(skin.volume()), float(skin.surface_area())
    volume = float(inside.volume())
    most = _MOST_WALL * wall * area
    if not edges_match(mesh):
        raise SurfaceError(f"{name}: the inside behind a wall of {wall:g} mm does not close")
    if not whole - most <= volume < whole:
        raise SurfaceError(
            f"{name}: a wall of {wall:g} mm leaves {volume:.4g} mm³ of {whole:.4g} mm³: cannot be"
        )
    outside = float((inside - skin).volume())
    if outside > 1e-9 * whole:
        raise SurfaceError(
            f"{name}: the inside behind a wall of {wall:g} mm pokes through the skin by "
            f"{outside:.3g} mm³"
        )
    wrong = _inside_out_share(inside, mesh, wall)
    if wrong > _WRONG_SHARE:
        raise SurfaceError(
            f"{name}: {wrong:.2%} of the inside's surface behind a wall of {wall:g} mm is inside "
            "out"
        )


def _inside_out_share(inside: "Manifold", mesh: Mesh, wall: float) -> float:
    """Return the share of the area whose inner side a ray does not find to be inside.

    Faces are picked as a comb laid over their summed areas picks them: the large ones all.
    """
    triangles = mesh.triangles
    vectors = area_vectors_mm2(triangles)
    sums = np.cumsum(np.linalg.norm(vectors, axis=1))
    teeth = (np.arange(_PICKED) + 0.5) / _PICKED
    picked, counts = np.unique(np.searchsorted(sums, teeth * sums[-1]), return_counts=True)
    inward = -unit(vectors[picked])
    starts = triangles[picked].mean(axis=1) + _PROBE * wall * inward
    far = 2.0 * float(np.ptp(mesh.points, axis=0).sum())
    wrong = 0
    for start, way, count in zip(starts, inward, counts.tolist(), strict=True):
        hits = inside.ray_cast(start, start + far * way)
        crossed = sum(1 if float(np.dot(hit.normal, way)) > 0.0 else -1 for hit in hits)
        wrong += count * (crossed != 1)
    return wrong / _PICKED
