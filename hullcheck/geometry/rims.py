"""Rims: where a surface ends, and where two parts meet end to end."""

from dataclasses import dataclass

import numpy as np

from hullcheck.errors import SurfaceError
from hullcheck.geometry.arrays import FloatArray, bounds, owned
from hullcheck.geometry.topology import Mesh, loops, unmatched_edges

_TOUCH_MM = 0.5
"""Ends this close are taken to belong together: a print seam gapes 0.05 to 0.3 mm (common
practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rim:
    """A chain of edges with a triangle on one side only.

    Attributes
    ----------
    points_mm : ndarray, shape (k, 3)
        Its points in order [mm].
    area_mm2 : float
        Area of the flat figure it encloses [mm²].
    flatness_mm : float
        Greatest distance of a point from the rim's mean plane [mm].
    """

    points_mm: FloatArray
    area_mm2: float
    flatness_mm: float

    def __post_init__(self) -> None:
        """Own the points."""
        object.__setattr__(self, "points_mm", owned(self.points_mm, (-1, 3)))

    @property
    def center_mm(self) -> FloatArray:
        """Center of its bounding box [mm], shape (3,)."""
        center: FloatArray = 0.5 * (self.points_mm.min(axis=0) + self.points_mm.max(axis=0))
        return center

    @property
    def size_mm(self) -> FloatArray:
        """Sides of its bounding box [mm], shape (3,)."""
        size: FloatArray = np.ptp(self.points_mm, axis=0)
        return size

    def place(self) -> str:
        """Return where it is and how large, in words, such as "station 120, 96 × 70 mm"."""
        width, height = sorted(self.size_mm)[:0:-1]
        x, y, z = self.center_mm
        return f"station {x:.0f} (y {y:.0f}, z {z:.0f}), {width:.3g} × {height:.3g} mm"


class OpenSurfaceError(SurfaceError):
    """A surface that does not close, with its rims, the widest first."""

    def __init__(self, message: str, rims: tuple[Rim, ...]) -> None:
        super().__init__(message)
        self.rims = rims


def rim_of(points_mm: FloatArray) -> Rim:
    """Return the rim through points in order, shape (k, 3) [mm], with its area and flatness."""
    middle = points_mm.mean(axis=0)
    spokes = points_mm - middle
    area_vector = 0.5 * np.cross(spokes, np.roll(spokes, -1, axis=0)).sum(axis=0)
    area = float(np.linalg.norm(area_vector))
    scale = float(np.abs(spokes).max()) if len(spokes) else 0.0
    if area > 1e-12 * scale * scale:
        flatness = float(np.abs(spokes @ (area_vector / area)).max())
    else:
        # No area to speak of: a slit. It is flat when its points lie on a line.
        flatness = float(np.linalg.svd(spokes, compute_uv=False)[1]) if len(spokes) > 1 else 0.0
    return Rim(points_mm=points_mm, area_mm2=area, flatness_mm=flatness)


def rims(mesh: Mesh) -> tuple[Rim, ...]:
    """Return the rims of a mesh, the widest first."""
    found = [rim_of(mesh.points[chain]) for chain in loops(unmatched_edges(mesh))]
    return tuple(sorted(found, key=lambda rim: -float(rim.size_mm.max())))


def rims_touch(first: Rim, second: Rim) -> bool:
    """Return whether two rims lie on each other within a print seam's gap."""
    return bool(
        np.abs(first.center_mm - second.center_mm).max() <= _TOUCH_MM
        and np.abs(first.size_mm - second.size_mm).max() <= 2.0 * _TOUCH_MM
    )


def flat_ends_meet(first_mm: FloatArray, second_mm: FloatArray) -> tuple[int, float] | None:
    """Return the axis and station at which two closed surfaces butt with flat ends, else None.

    Parameters
    ----------
    first_mm, second_mm : ndarray, shape (n, 3, 3)
        Triangles of two closed surfaces [mm].

    Returns
    -------
    tuple of int and float, or None
        Axis number (0 is x) and position along it [mm] where a flat end of one lies on a flat end
        of the other: planes within 0.5 mm, outlines overlapping by half of the smaller's box.
    """
    (low_a, high_a), (low_b, high_b) = bounds(first_mm), bounds(second_mm)
    for axis in range(3):
        for one, one_end, two, two_end in (
            (first_mm, high_a[axis], second_mm, low_b[axis]),
            (second_mm, high_b[axis], first_mm, low_a[axis]),
        ):
            if abs(one_end - two_end) <= _TOUCH_MM and _ends_overlap(
                one, one_end, two, two_end, axis
            ):
                return axis, float(0.5 * (one_end + two_end))
    return None


def _ends_overlap(
    one: FloatArray, one_end: float, two: FloatArray, two_end: float, axis: int
) -> bool:
    """Return whether the flat ends of two surfaces at an axis position cover each other."""
    boxes = []
    for triangles, end in ((one, one_end), (two, two_end)):
        flat = triangles[(np.abs(triangles[:, :, axis] - end) < 1e-3).all(axis=1)]
        if len(flat) == 0:
            return False
        low, high = bounds(flat)
        boxes.append((np.delete(low, axis), np.delete(high, axis)))
    shared = np.minimum(boxes[0][1], boxes[1][1]) - np.maximum(boxes[0][0], boxes[1][0])
    if (shared <= 0).any():
        return False
    areas = [float(np.prod(high - low)) for low, high in boxes]
    return float(np.prod(shared)) >= 0.5 * min(areas)
