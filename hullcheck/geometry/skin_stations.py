"""Stations at which parts are cut: close enough for a plug, clear of faces across x and seams."""

from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Final

import numpy as np

from hullcheck.errors import SurfaceError
from hullcheck.geometry.arrays import BoolArray, FloatArray
from hullcheck.geometry.outer_records import PartSeam
from hullcheck.geometry.part_ends import GAP_MM
from hullcheck.geometry.section_lines import Section

CLEAR_MM: Final = 0.05
"""How far stations keep from faces across x: a cut along a face is no section."""
SPACING_MM: Final = 2.5
_FINEST_MM: Final = 0.25
_CHANGE_MM: Final = 0.25
_FACE_MM2: Final = 2.0
_ROUNDS: Final = 3


def face_planes(triangles_mm: FloatArray) -> FloatArray:
    """Return the stations of faces across x, rising [mm], shape (k,)."""
    along = triangles_mm[:, :, 0]
    flat = np.ptp(along, axis=1) < 1e-3
    if not flat.any():
        return np.empty(0)
    a, b, c = np.moveaxis(triangles_mm[flat], 1, 0)
    area = 0.5 * np.abs(np.cross(b - a, c - a)[:, 0])
    places, labels = np.unique(np.round(along[flat].mean(axis=1), 2), return_inverse=True)
    kept: FloatArray = places[np.bincount(labels.ravel(), weights=area) > _FACE_MM2]
    return kept


def first_stations(triangles_mm: FloatArray, seams: Sequence[PartSeam]) -> FloatArray:
    """Return stations about 2.5 mm apart, and one on either side of each face across x [mm]."""
    low, high = float(triangles_mm[:, :, 0].min()), float(triangles_mm[:, :, 0].max())
    planes = face_planes(triangles_mm)
    ends = np.array([low, high])
    count = max(int(np.ceil((high - low) / SPACING_MM)), 8)
    wanted = np.concatenate(
        [
            np.linspace(low + CLEAR_MM, high - CLEAR_MM, count + 1),
            *(
                at + d
                for at in (planes, *(seam_ends(s) for s in seams))
                for d in (-CLEAR_MM, CLEAR_MM)
            ),
        ]
    )
    wanted = np.unique(np.round(wanted, 6))
    every = np.concatenate([planes, ends])
    keep = np.abs(wanted[:, None] - every).min(axis=1) >= CLEAR_MM - 1e-3
    keep &= (wanted > low) & (wanted < high) & ~in_gaps(wanted, seams)
    kept = wanted[keep]
    thinned: FloatArray = kept[np.append(True, np.diff(kept) > 1e-2)]
    return thinned


def seam_ends(seam: PartSeam) -> FloatArray:
    """Return the stations of a seam's two ends [mm], the forward part's first."""
    ends: FloatArray = seam.station_mm + np.array([-0.5, 0.5]) * seam.gap_mm
    return ends


def in_gaps(stations_mm: FloatArray, seams: Sequence[PartSeam]) -> BoolArray:
    """Return which stations lie in the gap of a seam across x, or too near its ends."""
    inside = np.zeros(len(stations_mm), dtype=bool)
    for seam in seams:
        if seam.across and seam.gap_mm > 0.0:
            near, far = seam_ends(seam)
            inside |= (stations_mm > near - CLEAR_MM + 1e-3) & (stations_mm < far + CLEAR_MM - 1e-3)
    return inside


def refined(
    sections: list[Section],
    cut: Callable[[FloatArray], list[Section]],
    seams: Sequence[PartSeam],
) -> list[Section]:
    """Return sections with more of them between those that differ by more than a wall bears."""
    for _ in range(_ROUNDS):
        middles = np.array(
            [
                0.5 * (a.station_mm + b.station_mm)
                for a, b in pairwise(sections)
                if b.station_mm - a.station_mm > 2.0 * _FINEST_MM and _differ(a, b)
            ]
        )
        if len(middles):
            middles = middles[~in_gaps(middles, seams)]
        if not len(middles):
            break
        sections = sorted([*sections, *cut(middles)], key=lambda section: section.station_mm)
    return sections


def _differ(one: Section, two: Section) -> bool:
    """Return whether two sections differ by more than a quarter of a millimeter on the whole."""
    a, b = one.region, two.region
    if a.is_empty or b.is_empty:
        return True
    mean = abs(a.area - b.area) / max(a.length, b.length)
    reach = float(np.abs(np.array(a.bounds) - np.array(b.bounds)).max())
    return mean > _CHANGE_MM or reach > 4.0 * _CHANGE_MM


def without_gaps(name: str, sections: list[Section], seams: Sequence[PartSeam]) -> list[Section]:
    """Return the sections that hold something; refused where nothing lies between two parts.

    Raises
    ------
    SurfaceError
        If more than a seam's width of the length is empty.
    """
    full = [section for section in sections if section.region.area > 1e-3]
    if not full:
        raise SurfaceError(f"{name}: no section of the parts encloses anything")
    for a, b in pairwise(full):
        wide = b.station_mm - a.station_mm
        if wide > max(GAP_MM, 2.0 * SPACING_MM) + 2.0 * CLEAR_MM + 0.1 and not any(
            a.station_mm < seam.station_mm < b.station_mm for seam in seams
        ):
            raise SurfaceError(
                f"{name}: nothing lies between station {a.station_mm:.0f} and station "
                f"{b.station_mm:.0f}, {wide:.0f} mm: a part is missing there, or one is displaced. "
                "Add it to parts, or move one with at_mm"
            )
    return full
