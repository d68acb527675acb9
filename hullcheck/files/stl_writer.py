"""Triangles into binary STL."""

import numpy as np
import numpy.typing as npt

from hullcheck.errors import InputError
from hullcheck.files.stl import FACET

_HEADER = b"hullcheck mesh in millimeters".ljust(80, b"\0")


def binary_stl_bytes(triangles_mm: npt.ArrayLike) -> bytes:
    """Return triangles as the bytes of a binary STL file, coordinates rounded to float32 [mm].

    Parameters
    ----------
    triangles_mm : array_like, shape (n, 3, 3)
        Triangle, corner, coordinate [mm].

    Returns
    -------
    bytes
        84 + 50 n bytes, the same for the same triangles: the header holds no date. Normals are
        those of the unrounded triangles, (0, 0, 0) where one has no area.

    Raises
    ------
    InputError
        If a coordinate is not finite, or too large for float32.

    Examples
    --------
    >>> len(binary_stl_bytes([[[0, 0, 0], [1, 0, 0], [0, 1, 0]]]))
    134
    """
    corners = np.asarray(triangles_mm, dtype=np.float64)
    if corners.ndim != 3 or corners.shape[1:] != (3, 3):
        msg = f"triangles of shape {corners.shape} were given where (n, 3, 3) is wanted"
        raise InputError(msg)
    largest = float(np.finfo(np.float32).max)
    wrong = ~(np.abs(corners) <= largest)
    if wrong.any():
        triangle = int(np.argmax(wrong.any(axis=(1, 2))))
        value = corners[triangle][wrong[triangle]][0]
        msg = f"triangle {triangle + 1}: a coordinate of {value:g} mm does not fit into an STL file"
        raise InputError(f"{msg} (at most {largest:.3g} mm)")
    facets = np.zeros(len(corners), dtype=FACET)
    facets["normal"] = _normals(corners)
    facets["corners"] = corners
    return _HEADER + len(corners).to_bytes(4, "little") + facets.tobytes()


def _normals(corners: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Return unit normals, zero where a triangle has no area."""
    sides = corners[:, 1:] - corners[:, :1]
    extent = np.abs(sides).max(axis=(1, 2), keepdims=True)
    sides = np.divide(sides, extent, out=np.zeros_like(sides), where=extent > 0)
    normals = np.cross(sides[:, 0], sides[:, 1])
    length = np.linalg.norm(normals, axis=1, keepdims=True)
    unit: npt.NDArray[np.float64] = np.divide(
        normals, length, out=np.zeros_like(normals), where=length > 0
    )
    return unit
