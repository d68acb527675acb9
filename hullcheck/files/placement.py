"""Where a file puts one of its meshes: affine maps, applied without turning surfaces inside out."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.errors import MeshFileError
from hullcheck.geometry.arrays import FloatArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Placement:
    """An affine map of row vectors, p → p · linear + offset.

    Attributes
    ----------
    linear : ndarray, shape (3, 3)
    offset : ndarray, shape (3,)
    """

    linear: FloatArray
    offset: FloatArray

    def inside(self, outer: "Placement") -> "Placement":
        """Return the map that does this one first and then the outer one."""
        with np.errstate(over="ignore", invalid="ignore"):
            return Placement(
                linear=self.linear @ outer.linear,
                offset=self.offset @ outer.linear + outer.offset,
            )


UNMOVED: Final = Placement(linear=np.eye(3), offset=np.zeros(3))


def placed(triangles: FloatArray, placement: Placement, name: str, where: str) -> FloatArray:
    """Return the triangles where the placement puts them, facing as they did.

    Parameters
    ----------
    triangles : ndarray, shape (t, 3, 3)
        Finite corners.
    placement : Placement
        The map. One that mirrors also reverses the order of the corners, so that surfaces that
        faced outward still do. One that leaves everything in place returns the very same numbers.
    name, where : str
        The file, and the object within it, for messages.

    Raises
    ------
    MeshFileError
        If the map flattens the object, or takes it beyond the largest number.
    """
    if np.array_equal(placement.linear, UNMOVED.linear) and not placement.offset.any():
        return triangles
    with np.errstate(over="ignore", invalid="ignore"):
        determinant = float(np.linalg.det(placement.linear))
        flat = triangles.reshape(-1, 3) @ placement.linear + placement.offset
    moved: FloatArray = flat.reshape(-1, 3, 3)
    if not abs(determinant) > 0.0:
        msg = f"{name}: {where}: its transform has the determinant {determinant:g} and flattens it"
        raise MeshFileError(f"{msg}; export the mesh again")
    if not np.isfinite(moved).all():
        msg = f"{name}: {where}: its transform takes it out of the range of numbers"
        raise MeshFileError(f"{msg}; export the mesh again")
    return moved[:, ::-1] if determinant < 0.0 else moved
