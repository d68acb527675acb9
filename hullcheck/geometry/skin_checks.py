"""What a skin is held against: its own sections, its tunnels, the walls across its inside."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.geometry.arrays import BoolArray, FloatArray
from hullcheck.geometry.outer_records import PartSeam, SkinChecks
from hullcheck.geometry.section_lines import section_areas
from hullcheck.geometry.skin_stations import CLEAR_MM, seam_ends
from hullcheck.geometry.skin_union import Hulk

if TYPE_CHECKING:
    from shapely import MultiPolygon

_WALL_SHARE: Final = 0.5
_NEAR_MM: Final = 5.0
_END_MM: Final = 3.0
_FLAT_MM: Final = 1e-3
_SIGMAS: Final = 2.6


def checked(
    hulks: Sequence[Hulk],
    stations_mm: FloatArray,
    closed: Sequence["MultiPolygon"],
    material_mm3: float,
) -> SkinChecks:
    """Return what the skin of shells is held against.

    Parameters
    ----------
    hulks : sequence of Hulk
    stations_mm : ndarray, shape (k,)
        Rising [mm].
    closed : sequence of MultiPolygon
        Closed sections there [mm].
    material_mm3 : float
        Volume of all parts' material [mm³].
    """
    areas = np.array([region.area for region in closed])
    around = np.array([region.length for region in closed])
    skin = section_areas(np.concatenate([h.mesh.triangles for h in hulks]), stations_mm)
    offset = np.abs(skin - areas) / np.maximum(around, 1e-300)
    volume = sum(hulk.volume_mm3 for hulk in hulks)
    return SkinChecks(
        section_volume_mm3=float(np.trapezoid(areas, stations_mm)),
        section_offset_mm=float(np.percentile(offset, 95.0)),
        handles=sum(hulk.handles for hulk in hulks),
        solid_share=material_mm3 / volume,
    )


def rounding_mm3(hulks: Sequence[Hulk]) -> float:
    """Return how far the volume of a united skin may be out but for its patches [mm³].

    Mesh files hold 32-bit numbers, rounded at random by up to half a step. A corner's step changes
    the volume by that times a third of the area vectors around it. Equal coordinates are rounded
    alike, a flat face as a whole; the squares of all different ones add up, and 2.6 times the root
    is stated: it holds 99 times of 100.

    A corner that stands on a 32-bit number in millimeters is the tessellation's own, and was not
    rounded on the way here. But where faces of two parts meet, or of a part and what closes it, an
    edge was cut, and the corner there rounded off it.
    """
    square = 0.0
    for hulk in hulks:
        points, faces = hulk.mesh.points, hulk.mesh.faces
        a, b, c = np.moveaxis(points[faces], 1, 0)
        vectors = np.cross(b - a, c - a) / 6.0
        single = points.astype(np.float32)
        rounded = (single != points).any(axis=1) | _between_owners(hulk)
        steps = np.spacing(np.abs(single)).astype(np.float64) * rounded[:, None]
        for axis in range(3):
            weight = np.repeat(vectors[:, axis], 3)
            around = np.bincount(faces.ravel(), weights=weight, minlength=len(points))
            alike = np.unique(single[:, axis], return_inverse=True)[1]
            moved = np.bincount(alike.ravel(), weights=around * steps[:, axis])
            square += float((moved**2).sum()) / 12.0
    return _SIGMAS * float(np.sqrt(square))


def _between_owners(hulk: Hulk) -> BoolArray:
    """Return which corners faces of more than one owner meet at."""
    corners, owners = hulk.mesh.faces.ravel(), np.repeat(hulk.owner, 3)
    count = len(hulk.mesh.points)
    least = np.full(count, np.iinfo(np.int64).max)
    most = np.full(count, np.iinfo(np.int64).min)
    np.minimum.at(least, corners, owners)
    np.maximum.at(most, corners, owners)
    between: BoolArray = least != most
    return between


def stacked_mm3(stations_mm: FloatArray, areas_mm2: FloatArray) -> float:
    """Return how far the volume of sections drawn out may be out [mm³].

    Drawn out half way on either side a section is out by what its area changes by over a quarter of
    the way; where the change is even the two halves cancel, and nothing is said of that. The two
    ends are known to a station's distance from them.
    """
    between = 0.25 * float((np.abs(np.diff(areas_mm2)) * np.diff(stations_mm)).sum())
    return between + CLEAR_MM * float(areas_mm2[0] + areas_mm2[-1])


def bulkheads(
    parts_mm: Sequence[FloatArray],
    stations_mm: FloatArray,
    areas_mm2: FloatArray,
    seams: Sequence[PartSeam],
) -> tuple[float, ...]:
    """Return the stations of walls across the inside, from the bow [mm].

    Parameters
    ----------
    parts_mm : sequence of ndarray, shape (n, 3, 3)
        Triangles of each part [mm].
    stations_mm, areas_mm2 : ndarray, shape (k,)
        Closed sections.
    seams : sequence of PartSeam

    Returns
    -------
    tuple of float
        Where faces across x fill half of the section or more, but for the ends of the body and of
        its parts at seams; the two faces of one wall count once.
    """
    places, sizes = _across(np.concatenate(list(parts_mm)))
    ends = [seam_ends(seam) for seam in seams]
    kept: list[float] = []
    for place, size in zip(places.tolist(), sizes.tolist(), strict=True):
        full = float(np.interp(place, stations_mm, areas_mm2))
        inner = stations_mm[0] + _END_MM < place < stations_mm[-1] - _END_MM
        seam = any(np.abs(end - place).min() < 0.5 for end in ends)
        if size >= _WALL_SHARE * full and inner and not seam:
            kept.append(place)
    groups: list[list[float]] = []
    for place in kept:
        if groups and place - groups[-1][-1] < _NEAR_MM:
            groups[-1].append(place)
        else:
            groups.append([place])
    return tuple(float(np.mean(group)) for group in groups)


def _across(triangles: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the stations of faces across x, rising, and their area at each [mm²]."""
    along = triangles[:, :, 0]
    flat = np.ptp(along, axis=1) < _FLAT_MM
    if not flat.any():
        return np.empty(0), np.empty(0)
    a, b, c = np.moveaxis(triangles[flat], 1, 0)
    area = 0.5 * np.abs(np.cross(b - a, c - a)[:, 0])
    places, labels = np.unique(np.round(along[flat].mean(axis=1), 2), return_inverse=True)
    return places, np.bincount(labels.ravel(), weights=area).astype(np.float64)
