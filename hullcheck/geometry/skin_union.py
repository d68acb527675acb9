"""Solids made one, and for every face of the result whose it is."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.errors import SurfaceError
from hullcheck.geometry.arrays import IntArray
from hullcheck.geometry.shells import winding_inside
from hullcheck.geometry.solids import as_solid
from hullcheck.geometry.topology import Mesh

if TYPE_CHECKING:
    from manifold3d import Manifold

_CRUMB: Final = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Hulk:
    """An outer shell of a union.

    Attributes
    ----------
    mesh : Mesh
        Closed, outward [mm].
    owner : ndarray of int, shape (n,)
        Whose each face is: the number that its solid was given with.
    volume_mm3, area_mm2 : float
    handles : int
        Tunnels through it; none of no width.
    """

    mesh: Mesh
    owner: IntArray
    volume_mm3: float
    area_mm2: float
    handles: int


def united_hulks(name: str, solids: Sequence[tuple["Manifold", int]]) -> list[Hulk]:
    """Return the outer shells of the union of solids, the largest first.

    Parameters
    ----------
    name : str
        What the body is called in messages.
    solids : sequence of (Manifold, int)
        Outward, each with a number to be found again in `Hulk.owner`.

    Raises
    ------
    SurfaceError
        If the union comes out empty.

    Notes
    -----
    Voids are left out, and shells within others: neither displaces water; and crumbs of less than
    1e-6 of the largest.
    """
    from manifold3d import Manifold, OpType

    marked = [solid.as_original() for solid, _ in solids]
    numbers = [number for _, number in solids]
    owner = {solid.original_id(): k for solid, k in zip(marked, numbers, strict=True)}
    whole = Manifold.batch_boolean(marked, OpType.Add)
    pieces = [(piece.volume(), piece) for piece in whole.decompose()]
    largest = max((volume for volume, _ in pieces), default=0.0)
    if largest <= 0.0:
        raise SurfaceError(f"{name}: its parts could not be made one solid")
    found = [_hulk(piece, owner) for volume, piece in pieces if volume > _CRUMB * largest]
    found.sort(key=lambda hulk: -hulk.volume_mm3)
    outer: list[Hulk] = []
    for hulk in found:
        if not any(_within(hulk, other) for other in outer):
            outer.append(hulk)
    return outer


def _hulk(piece: "Manifold", owner: dict[int, int]) -> Hulk:
    """Return a solid as a shell with the owner of each face."""
    made = piece.to_mesh64()
    points = np.ascontiguousarray(np.asarray(made.vert_properties)[:, :3])
    faces = np.asarray(made.tri_verts).astype(np.int64)
    runs = np.asarray(made.run_index).astype(np.int64) // 3
    ids = [owner[int(i)] for i in np.asarray(made.run_original_id)]
    mesh = Mesh(points=points, faces=faces)
    return Hulk(
        mesh=mesh,
        owner=np.repeat(np.array(ids, dtype=np.int64), np.diff(runs)),
        volume_mm3=float(piece.volume()),
        area_mm2=float(piece.surface_area()),
        handles=_handles(mesh) if piece.genus() else 0,
    )


def _handles(mesh: Mesh) -> int:
    """Return the tunnels through a surface, those of no width left out.

    Made a solid anew, edges shorter than arithmetic tells apart are gone, and such tunnels with
    them; what they led to is a void then.
    """
    pieces = as_solid(mesh).decompose()
    return int(max(pieces, key=lambda piece: piece.volume()).genus()) if pieces else 0


def _within(hulk: Hulk, other: Hulk) -> bool:
    """Return whether one shell lies inside another; they do not cross."""
    mine, its = hulk.mesh.points, other.mesh.points
    if (mine.min(axis=0) < its.min(axis=0)).any() or (mine.max(axis=0) > its.max(axis=0)).any():
        return False
    return bool(winding_inside(other.mesh.triangles, mine[:1])[0])
