"""A first guess of what printed parts weigh, from their surfaces."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.geometry.areas import areas_mm2, surface_area_mm2
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.topology import edges_match, merged

PLA_G_CM3: Final = 1.24
"""Density of PLA (common practice, no source)."""
SINGLE_WALL_MM: Final = 0.45
"""Wall of a print of one line, by a nozzle of 0.4 mm (common practice, no source)."""
_THICKEST_MM: Final = 6.0
"""A closed surface that is thicker throughout is the outside of something hollow, not its wall."""
_G_PER_MM3: Final = PLA_G_CM3 / 1000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedPart:
    """What a part may weigh and where, in the axes it was given in; why.

    Attributes
    ----------
    mass_g : float or None
        None where the file does not say how thick its wall is [g].
    center_mm : tuple of float or None
        Center of gravity [mm].
    why : str
        How it was guessed, or what is missing.
    """

    mass_g: float | None
    center_mm: tuple[float, float, float] | None
    why: str


def planned_part(
    triangles_mm: FloatArray, *, material_volume_mm3: float | None = None
) -> PlannedPart:
    """Return what a printed part may weigh.

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        Its surface as it lies [mm].
    material_volume_mm3 : float or None
        What it encloses, where it had to be mended to enclose anything [mm³].

    Returns
    -------
    PlannedPart
        A closed surface that is a wall weighs its volume (half the area of both sides × wall), a
        surface without thickness its area × 0.45 mm, both in PLA. A closed surface that is the
        outside of something hollow says nothing of its wall: no mass.
    """
    area = surface_area_mm2(triangles_mm)
    closed = edges_match(merged(triangles_mm))
    if not closed and material_volume_mm3 is None:
        return PlannedPart(
            mass_g=area * SINGLE_WALL_MM * _G_PER_MM3,
            center_mm=_area_center(triangles_mm),
            why=f"guess: area × {SINGLE_WALL_MM:g} mm (a single wall assumed) × PLA {PLA_G_CM3:g}",
        )
    if closed:
        volume, center = _volume_center(triangles_mm)
    else:
        volume, center = material_volume_mm3 or 0.0, _area_center(triangles_mm)
    wall = 2.0 * abs(volume) / area
    if volume == 0.0 or wall > _THICKEST_MM:
        return PlannedPart(
            mass_g=None, center_mm=None, why="not guessed: the file shows no wall; weigh it"
        )
    return PlannedPart(
        mass_g=abs(volume) * _G_PER_MM3,
        center_mm=center,
        why=f"guess: wall of {wall:.1f} mm in the file × PLA {PLA_G_CM3:g}; print full",
    )


def _area_center(triangles: FloatArray) -> tuple[float, float, float]:
    """Return the center of a surface of even thickness [mm]."""
    x, y, z = np.average(triangles.mean(axis=1), axis=0, weights=areas_mm2(triangles))
    return float(x), float(y), float(z)


def _volume_center(triangles: FloatArray) -> tuple[float, tuple[float, float, float]]:
    """Return the volume that a closed surface encloses [mm³], signed, and its center [mm]."""
    origin = triangles.reshape(-1, 3).mean(axis=0)
    corners = triangles - origin
    sixfold = np.einsum("ni,ni->n", corners[:, 0], np.cross(corners[:, 1], corners[:, 2]))
    volume = float(sixfold.sum()) / 6.0
    if volume == 0.0:
        return 0.0, (0.0, 0.0, 0.0)
    x, y, z = origin + np.einsum("n,ni->i", sixfold, corners.sum(axis=1)) / (24.0 * volume)
    return volume, (float(x), float(y), float(z))
