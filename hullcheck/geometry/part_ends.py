"""Flat ends of parts, and the seams where the ends of two parts face each other."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.errors import SurfaceError
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outer_records import PartSeam
from hullcheck.geometry.rims import rims
from hullcheck.geometry.section_lines import filled, whole
from hullcheck.geometry.topology import loops, merged, unmatched_edges

if TYPE_CHECKING:
    from shapely import Geometry, MultiPolygon

GAP_MM: Final = 4.0
"""Ends farther apart than this are not a seam (a seam gapes some tenths; common practice, no
source)."""
_NEAR_MM: Final = 20.0
_LINE_UP_MM: Final = 1.0
_FLAT_MM: Final = 0.02
_END_SHARE: Final = 1e-4
_LEAST_MM: Final = 8.0
_FEWEST: Final = 6
_FINE_MM: Final = 0.002
_SHARED: Final = 0.4
_STEEP: Final = 0.7


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class End:
    """A flat end of a part: its plane, and its outline in that plane."""

    part: int
    normal: FloatArray
    offset_mm: float
    frame: FloatArray
    outline: "MultiPolygon"


def flat_ends(part: int, triangles_mm: FloatArray) -> list[End]:
    """Return the flat ends of a part across x: planes it lies wholly on one side of.

    Parameters
    ----------
    part : int
        Its number.
    triangles_mm : ndarray, shape (n, 3, 3)
        As placed [mm].

    Returns
    -------
    list of End
        With the normal away from the part, within 45° of x; an end is a flat face, or the flat rim
        of a surface without thickness.
    """
    sides = np.cross(
        triangles_mm[:, 1] - triangles_mm[:, 0], triangles_mm[:, 2] - triangles_mm[:, 0]
    )
    doubled = np.linalg.norm(sides, axis=1)
    normals = sides / np.maximum(doubled, 1e-300)[:, None]
    steep = np.flatnonzero(np.abs(normals[:, 0]) > _STEEP)
    ends: list[End] = []
    corners = triangles_mm.reshape(-1, 3)
    turned = normals[steep] * np.sign(normals[steep, :1])
    keys = np.round(turned, 3)
    offsets = np.einsum("ij,ij->i", turned, triangles_mm[steep].mean(axis=1))
    labels = np.unique(np.column_stack([keys, np.round(offsets, 1)]), axis=0, return_inverse=True)[
        1
    ]
    areas = np.bincount(labels.ravel(), weights=doubled[steep])
    for group in np.flatnonzero(areas > _END_SHARE * doubled.sum()):
        members = steep[labels.ravel() == group]
        normal = np.average(turned[labels.ravel() == group], axis=0, weights=doubled[members])
        ends += _end(part, normal / np.linalg.norm(normal), triangles_mm[members], corners)
    return ends + _rim_ends(part, triangles_mm, corners)


def _rim_ends(part: int, triangles: FloatArray, corners: FloatArray) -> list[End]:
    """Return the flat rims across x at which a surface without thickness ends.

    A rim that an opening or a lost triangle notches counts with what of it lies in the plane at the
    part's own end.
    """
    ends = []
    low, high = float(corners[:, 0].min()), float(corners[:, 0].max())
    for rim in rims(merged(triangles)):
        points = rim.points_mm
        if rim.flatness_mm > _FLAT_MM:
            for level in (low, high):
                on = points[np.abs(points[:, 0] - level) <= _FLAT_MM]
                if _goes_around(on):
                    ends += _end(part, np.array([1.0, 0.0, 0.0]), _fan(on), corners, on)
        elif float(np.sort(rim.size_mm)[1]) >= _LEAST_MM:
            normal = np.linalg.svd(points - points.mean(axis=0))[2][2]
            if abs(normal[0]) > _STEEP:
                ends += _end(part, normal * np.sign(normal[0]), _fan(points), corners, points)
    return ends


def _goes_around(points: FloatArray) -> bool:
    """Return whether points in order in a plane across x go most of the way around something."""
    if len(points) < _FEWEST:
        return False
    width, height = np.ptp(points[:, 1:], axis=0).tolist()
    path = float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())
    return bool(min(width, height) >= _LEAST_MM and path >= width + height)


def _fan(points: FloatArray) -> FloatArray:
    """Return the triangles of a fan over points in order, shape (k − 2, 3, 3)."""
    return np.stack(
        [np.broadcast_to(points[0], points[2:].shape), points[1:-1], points[2:]], axis=1
    )


def _end(
    part: int,
    normal: FloatArray,
    face: FloatArray,
    corners: FloatArray,
    line: FloatArray | None = None,
) -> list[End]:
    """Return the end that a flat face or a flat rim is, if the part lies on one side of it."""
    import shapely

    level = float(np.median(face.reshape(-1, 3) @ normal))
    heights = corners @ normal
    for sign in (1.0, -1.0):
        if float((sign * (heights - level)).max()) <= _FLAT_MM:
            frame = _frame(sign * normal)
            if line is None:
                shape = _outline(face, frame)
            else:
                shape = shapely.make_valid(shapely.polygons(line @ frame[:, :2]))
            outline = filled(whole(shape))
            return [
                End(
                    part=part,
                    normal=sign * normal,
                    offset_mm=sign * level,
                    frame=frame,
                    outline=outline,
                )
            ]
    return []


def _outline(face: FloatArray, frame: FloatArray) -> "Geometry":
    """Return what the rims of a flat face enclose; the union of its triangles where it has none."""
    import shapely

    mesh = merged(face)
    chains = [chain for chain in loops(unmatched_edges(mesh)) if len(chain) > 2]
    if chains:
        rings = [shapely.polygons(mesh.points[chain] @ frame[:, :2]) for chain in chains]
        return shapely.union_all(shapely.make_valid(rings))
    flat = shapely.polygons(face @ frame[:, :2])
    flat = flat[shapely.area(flat) > 0.0]
    return shapely.union_all(shapely.buffer(flat, 1e-4, join_style="mitre"))


def _frame(normal: FloatArray) -> FloatArray:
    """Return two directions in a plane and its normal as columns; one frame for both facings."""
    forward = normal * np.sign(normal[0])
    across = np.cross([0.0, 0.0, 1.0], forward)
    across /= np.linalg.norm(across)
    return np.column_stack([across, np.cross(forward, across), forward])


def seams_between(names: Sequence[str], ends: Sequence[End]) -> list[PartSeam]:
    """Return the seams between parts whose flat ends face each other, from the bow.

    Parameters
    ----------
    names : sequence of str
        Of the parts.
    ends : sequence of End
        Of all parts.

    Raises
    ------
    SurfaceError
        If two ends that belong together do not line up or lie too far apart; with both names and
        the distance.
    """
    found = []
    for i, one in enumerate(ends):
        for two in ends[i + 1 :]:
            if one.part == two.part or float(one.normal @ two.normal) > -0.999:
                continue
            fore, aft = (one, two) if one.normal[0] > 0.0 else (two, one)
            seam = _seam(names, fore, aft)
            if seam is not None:
                found.append((seam, fore.part, aft.part))
    kept = _nearest(found)
    for seam in kept:
        _refuse_apart(seam)
    return sorted(kept, key=lambda seam: seam.station_mm)


def _nearest(found: list[tuple[PartSeam, int, int]]) -> list[PartSeam]:
    """Return of the seams of two parts the one with the least gap."""
    best: dict[tuple[int, int], PartSeam] = {}
    for seam, fore, aft in found:
        known = best.get((fore, aft))
        if known is None or abs(seam.gap_mm) < abs(known.gap_mm):
            best[fore, aft] = seam
    return list(best.values())


def _seam(names: Sequence[str], fore: End, aft: End) -> PartSeam | None:
    """Return the seam of two ends if they cover each other and lie near each other."""
    import shapely

    # Both offsets run away from their own part.
    gap = -aft.offset_mm - fore.offset_mm
    if abs(gap) > _NEAR_MM:
        return None
    # By their hulls: an end that an opening reaches is the wall alone, a "C".
    hulls = [end.outline.convex_hull for end in (fore, aft)]
    shared = hulls[0].intersection(hulls[1]).area
    # Of the larger one: what a fitting inside has for an end is no end of the hull.
    if shared < _SHARED * max(hull.area for hull in hulls):
        return None
    middle = fore.frame[:, :2] @ np.array(fore.outline.centroid.coords[0])
    place = middle + fore.frame[:, 2] * (fore.offset_mm + 0.5 * gap)
    ends = [shapely.simplify(end.outline, _FINE_MM) for end in (fore, aft)]
    over = [
        float(shapely.hausdorff_distance(shapely.union_all([a, b]), b))
        for a, b in (ends, ends[::-1])
    ]
    return PartSeam(
        parts=(names[fore.part], names[aft.part]),
        normal=fore.frame[:, 2],
        place_mm=place,
        gap_mm=gap,
        mismatch_mm=min(over),
    )


def _refuse_apart(seam: PartSeam) -> None:
    """Refuse a seam that is none: ends that do not line up, gape, or run into each other."""
    one, two = seam.parts
    where = f"at station {seam.station_mm:.0f}"
    mend = "Move or turn one with at_mm, turn_deg or place"
    if seam.mismatch_mm > _LINE_UP_MM:
        raise SurfaceError(
            f"{one} and {two} do not line up {where}: the outlines of their ends lie up to "
            f"{seam.mismatch_mm:.1f} mm apart (limit {_LINE_UP_MM:g} mm), so one of them is "
            f"displaced or turned over. {mend}"
        )
    if seam.gap_mm > GAP_MM:
        raise SurfaceError(
            f"{one} and {two} lie {seam.gap_mm:.1f} mm apart {where} (limit {GAP_MM:g} mm for a "
            f"seam). {mend}"
        )


def overlap_notes(seams: Sequence[PartSeam]) -> list[tuple[str, str]]:
    """Return a note for each seam at which parts run into each other by over 1 mm."""
    return [
        (
            "parts-overlap",
            (
                f"{seam.parts[0]} and {seam.parts[1]} overlap by {-seam.gap_mm:.1f} mm at station "
                f"{seam.station_mm:.0f}: a lap joint, or one of them is displaced"
            ),
        )
        for seam in seams
        if seam.gap_mm < -1.0
    ]
