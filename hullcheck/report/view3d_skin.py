"""The skin in few triangles: what the page's turnable view draws."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.craft.bodies import Body
from hullcheck.errors import SurfaceError
from hullcheck.geometry.arrays import IntArray
from hullcheck.geometry.solids import as_solid, mesh_of
from hullcheck.geometry.topology import Mesh, merged
from hullcheck.report.view3d_nearness import apart_mm

if TYPE_CHECKING:
    from manifold3d import Manifold

MOST_TRIANGLES: Final = 8000
"""Of all bodies together."""
_FINEST: Final = 1e-5
"""Of the greatest size: the first tolerance."""
_COARSEST: Final = 0.05
_RISE: Final = 1.3


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FewTriangles:
    """Every body's surface in few triangles.

    Attributes
    ----------
    meshes : tuple of Mesh
        One a body, outward, in body axes [mm].
    tolerance_mm : float
        How far a surface may be off the true one, about, as measured at many points and 15 % added
        [mm]; 0 where nothing was left out.
    """

    meshes: tuple[Mesh, ...]
    tolerance_mm: float

    @property
    def count(self) -> int:
        """Triangles of all bodies."""
        return sum(len(mesh.faces) for mesh in self.meshes)


def few_triangles(bodies: Sequence[Body], most: int = MOST_TRIANGLES) -> FewTriangles:
    """Return the surfaces of bodies in few triangles.

    Parameters
    ----------
    bodies : sequence of Body
        Closed bodies in body axes [mm].
    most : int, default 8000
        Triangles that all of them together may have.

    Returns
    -------
    FewTriangles

    Raises
    ------
    SurfaceError
        If a body is no solid for the boolean library, or the bodies are too many.

    Notes
    -----
    Points are left out, never moved: corners that stay, such as a step's or a chine's, stay where
    they are. One tolerance is handed to the library for all bodies and raised until they are few
    enough. The library holds it from pass to pass only, so that what is said of the tolerance is
    measured between the surfaces.
    """
    whole = [merged(body.shell.triangles_mm) for body in bodies]
    return _fewer(whole, [body.name for body in bodies], most)


def fewer_triangles(skin: FewTriangles, most: int) -> FewTriangles:
    """Return a skin of few triangles in fewer still; as it is where it cannot be had.

    Parameters
    ----------
    skin : FewTriangles
        From `few_triangles`.
    most : int
        Triangles that all of it may have.
    """
    try:
        fewer = _fewer(list(skin.meshes), [""] * len(skin.meshes), most)
    except SurfaceError:  # only a smaller picture's sake: the finer skin is drawn as well
        return skin
    return replace(fewer, tolerance_mm=skin.tolerance_mm + fewer.tolerance_mm)


def _fewer(whole: list[Mesh], names: list[str], most: int) -> FewTriangles:
    """Return surfaces in few triangles."""
    if sum(len(mesh.faces) for mesh in whole) <= most:
        return FewTriangles(meshes=tuple(whole), tolerance_mm=0.0)
    size = max(float(np.ptp(mesh.points, axis=0).max()) for mesh in whole)
    solids = [_solid(name, mesh) for name, mesh in zip(names, whole, strict=True)]
    tolerance = _FINEST * size
    while sum(solid.num_tri() for solid in solids) > most:
        if tolerance > _COARSEST * size:
            raise SurfaceError(
                f"bodies cannot be drawn in {most} triangles: at a tolerance of {tolerance:.3g} mm "
                f"there are still {sum(solid.num_tri() for solid in solids)}"
            )
        solids = [_simplified(solid, tolerance) for solid in solids]
        tolerance *= _RISE
    meshes = tuple(mesh_of(solid) for solid in solids)
    off = [apart_mm(one, two, tolerance) for one, two in zip(whole, meshes, strict=True)]
    return FewTriangles(meshes=meshes, tolerance_mm=max(off))


def _simplified(solid: "Manifold", tolerance_mm: float) -> "Manifold":
    """Return a solid with points left out; as it is where nothing of it would stay."""
    simple = solid.simplify(tolerance_mm)
    return solid if simple.is_empty() else simple


def _solid(name: str, mesh: Mesh) -> "Manifold":
    """Return a body as a solid of the boolean library."""
    from manifold3d import Error

    solid = as_solid(mesh)
    if solid.status() != Error.NoError:
        raise SurfaceError(
            f"{name}: its surface cannot be simplified for the view ({solid.status().name})"
        )
    return solid


def creases(mesh: Mesh, least_deg: float) -> IntArray:
    """Return the edges where a surface turns by more than an angle [deg], shape (k, 2)."""
    corners = mesh.triangles
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normals /= np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-300)
    start, end = mesh.faces.ravel(), mesh.faces[:, [1, 2, 0]].ravel()
    keys = np.minimum(start, end) * len(mesh.points) + np.maximum(start, end)
    order = np.argsort(keys, kind="stable")
    same = np.flatnonzero(keys[order[1:]] == keys[order[:-1]])
    once, back = order[same] // 3, order[same + 1] // 3
    turned = np.einsum("ij,ij->i", normals[once], normals[back]) < np.cos(np.radians(least_deg))
    return np.stack(np.divmod(keys[order[same]][turned], len(mesh.points)), axis=1)
