"""The invented faces of a skin as patches: openings, seams and lids, each with its error."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.geometry.areas import areas_mm2
from hullcheck.geometry.arrays import BoolArray, FloatArray, IntArray
from hullcheck.geometry.mending import face_pairs
from hullcheck.geometry.outer_records import PartSeam, Patch, PatchKind
from hullcheck.geometry.section_lines import whole
from hullcheck.geometry.skin_parts import Depths
from hullcheck.geometry.skin_stations import seam_ends
from hullcheck.geometry.skin_union import Hulk
from hullcheck.geometry.topology import Mesh, loops, unmatched_edges

if TYPE_CHECKING:
    from shapely import MultiPolygon

PLUG: Final = -1
COLLAR: Final = -1_000
LID: Final = -1_000_000
"""Owners of invented faces: the plug; the collar of seam k, COLLAR − k; lid j, LID − j."""

GROOVE_MM: Final = 0.6
"""A patch narrower than this is the groove of a seam, not an opening."""
WIDE_MM: Final = 30.0
_SPECK_MM2: Final = 0.05
_NEAR_MM: Final = 2.0
_OFF_MM: Final = 0.15
_RIDGE_MM: Final = 2.0
_CLEAR_MM: Final = 0.1
_ROUGH: Final = 1.25
"""A patch's volume is summed over faces at their middles: found up to 12 % short of the truth; that
of a seam is read off sections beside it: found 15 % short at a gap of 3 mm."""
_BEFORE_MM: Final = 0.5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Closing:
    """What patches are judged by.

    Attributes
    ----------
    depths : Depths
        The closed sections.
    seams : tuple of PartSeam
    ends : tuple of (MultiPolygon, MultiPolygon) or None
        Of each seam with a collar, what the lines of the sections at its two ends enclose.
    lids : tuple of str
        Their names.
    """

    depths: Depths
    seams: tuple[PartSeam, ...]
    ends: tuple[tuple["MultiPolygon", "MultiPolygon"] | None, ...]
    lids: tuple[str, ...]


def patches_of(hulk: Hulk, closing: Closing) -> list[Patch]:
    """Return the connected pieces of a shell that no part has.

    Parameters
    ----------
    hulk : Hulk
        The shell; faces with an owner below 0 were invented.
    closing : Closing

    Returns
    -------
    list of Patch
        Collars as one "seam" each, but for the length of an opening that crosses it.
    """
    owner = _crossed(hulk, closing)
    patches = []
    for seam_number, seam in enumerate(closing.seams):
        own = owner == COLLAR - seam_number
        if own.any():
            patches.append(_seam_patch(hulk, own, seam, closing))
    rest = (owner == PLUG) | (owner <= LID)
    for faces in _connected(hulk.mesh, rest):
        area = areas_mm2(hulk.mesh.points[hulk.mesh.faces[faces]]).sum()
        if area >= _SPECK_MM2:
            patches.append(_patch(hulk, faces, owner[faces], closing))
    return patches


def _crossed(hulk: Hulk, closing: Closing) -> IntArray:
    """Return the owners with collars given to the plug where an opening crosses their seam.

    There the collar spans a chord: its faces lie off the walls of the sections on both sides.
    """
    import shapely

    owner = hulk.owner.copy()
    for number, ends in enumerate(closing.ends):
        rows = np.flatnonzero(owner == COLLAR - number)
        if ends is None or len(rows) == 0:
            continue
        middles = hulk.mesh.points[hulk.mesh.faces[rows]].mean(axis=1)
        points = shapely.points(middles[:, 1], middles[:, 2])
        off = np.minimum(*(shapely.distance(walls, points) for walls in ends))
        owner[rows[off > _OFF_MM]] = PLUG
    return owner


def _connected(mesh: Mesh, which: BoolArray) -> list[IntArray]:
    """Return the pieces that chosen faces make, joined by their edges."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    rows = np.flatnonzero(which)
    if len(rows) == 0:
        return []
    place = np.full(len(which), -1)
    place[rows] = np.arange(len(rows))
    one, other, _ = face_pairs(mesh)
    both = which[one] & which[other]
    links = (place[one[both]], place[other[both]])
    graph = coo_array((np.ones(both.sum(), np.int8), links), shape=(len(rows), len(rows)))
    labels = connected_components(graph, directed=False)[1]
    order = np.argsort(labels, kind="stable")
    return [rows[k] for k in np.split(order, np.cumsum(np.bincount(labels))[:-1])]


def _edge(mesh: Mesh, faces: IntArray) -> FloatArray:
    """Return the longest edge around faces, its points in order [mm]."""
    chains = loops(unmatched_edges(Mesh(points=mesh.points, faces=mesh.faces[faces])))
    lines = [mesh.points[chain] for chain in chains]
    if not lines:
        return mesh.points[np.unique(mesh.faces[faces])]
    return max(lines, key=lambda p: float(np.linalg.norm(np.roll(p, -1, axis=0) - p, axis=1).sum()))


def _patch(hulk: Hulk, faces: IntArray, owner: IntArray, closing: Closing) -> Patch:
    """Return the patch of connected faces of plug and lids."""
    mesh = hulk.mesh
    triangles = mesh.points[mesh.faces[faces]]
    areas = areas_mm2(triangles)
    edge = _edge(mesh, faces)
    lids = owner <= LID
    error = _under_mm3(triangles[~lids], areas[~lids], closing.depths)
    kind: PatchKind = "opening"
    area = float(areas.sum())
    around = float(np.linalg.norm(np.roll(edge, -1, axis=0) - edge, axis=1).sum())
    low, high = triangles.min(axis=(0, 1)), triangles.max(axis=(0, 1))
    if 2.0 * float(areas[lids].sum()) > area:
        kind = "lid"
        main = int(np.argmax(np.bincount(LID - owner[lids], weights=areas[lids])))
        name = closing.lids[main]
    elif 2.0 * area < GROOVE_MM * around and _at_a_seam(low, high, closing.seams):
        kind, name = "seam", f"groove at station {_whole(0.5 * (low[0] + high[0]))}"
    else:
        length, width, _ = sorted((high - low).tolist(), reverse=True)
        name = f"opening at station {_whole(0.5 * (low[0] + high[0]))}"
        name += "" if length < 0.5 else f", {length:.0f} × {width:.0f} mm"
        if width <= WIDE_MM:
            round_mm3 = _bulge_mm3(area, width, 0.5 * (low[0] + high[0]), closing.depths)
            error += max(round_mm3, _ridge_mm3(low, high, closing.depths))
    bound = _ROUGH * error
    return Patch(name=name, kind=kind, triangles_mm=triangles, edge_mm=edge, error_mm3=bound)


def _whole(value: float) -> int:
    """Return a station as a whole number, never −0."""
    return round(float(value))


def _at_a_seam(low: FloatArray, high: FloatArray, seams: Sequence[PartSeam]) -> bool:
    """Return whether a box lies at a seam."""
    for seam in seams:
        reach = _NEAR_MM + abs(seam.gap_mm)
        if not seam.across or low[0] - reach < seam.station_mm < high[0] + reach:
            return True
    return False


def _under_mm3(triangles: FloatArray, areas: FloatArray, depths: Depths) -> float:
    """Return the volume between faces of the plug and the closed sections over them [mm³]."""
    if len(triangles) == 0:
        return 0.0
    a, b, c = np.moveaxis(triangles, 1, 0)
    along = np.cross(b - a, c - a)[:, 0] / np.maximum(2.0 * areas, 1e-300)
    seen = areas * np.sqrt(np.clip(1.0 - along**2, 0.0, 1.0))
    deep = np.abs(depths.at(triangles.mean(axis=1)))
    return float((seen * deep).sum())


def _bulge_mm3(area: float, width: float, station: float, depths: Depths) -> float:
    """Return what a skin as round as the section there holds beyond a straight chord [mm³]."""
    k = int(np.argmin(np.abs(depths.stations_mm - station)))
    region = whole(depths.regions[k])
    if region.is_empty:
        return 0.0
    radius = max(2.0 * region.area / region.length, 0.5 * width)
    return float(2.0 / 3.0 * area * width**2 / (8.0 * radius))


def _ridge_mm3(low: FloatArray, high: FloatArray, depths: Depths) -> float:
    """Return what a ridge such as the keel holds beyond the chord that cuts it off [mm³].

    Read off the closed sections just before and abaft the box around a patch that reaches over the
    middle of the section: what they hold around it and the section through it does not.
    """
    import shapely

    stations = depths.stations_mm
    middle = int(np.argmin(np.abs(stations - 0.5 * (low[0] + high[0]))))
    region = depths.regions[middle]
    if region.is_empty or high[1] - low[1] < _RIDGE_MM:
        return 0.0
    if not low[1] < region.centroid.x < high[1]:
        return 0.0
    reach = high[1] - low[1]
    window = shapely.box(low[1], low[2] - reach, high[1], high[2] + reach)
    beside = [k for k in (_before(stations, low[0]), _abaft(stations, high[0])) if k is not None]
    beyond = [float(depths.regions[k].intersection(window).difference(region).area) for k in beside]
    return float(np.mean(beyond)) * float(high[0] - low[0]) if beyond else 0.0


def _before(stations: FloatArray, place: float) -> int | None:
    """Return the number of the last station clear before a place; None if there is none."""
    k = int(np.searchsorted(stations, place - _CLEAR_MM)) - 1
    return k if k >= 0 else None


def _abaft(stations: FloatArray, place: float) -> int | None:
    """Return the number of the first station clear abaft a place; None if there is none."""
    k = int(np.searchsorted(stations, place + _CLEAR_MM))
    return k if k < len(stations) else None


def _seam_patch(hulk: Hulk, own: BoolArray, seam: PartSeam, closing: Closing) -> Patch:
    """Return the patch of a seam's collar."""
    faces = np.flatnonzero(own)
    mesh = hulk.mesh
    one, two = seam.parts
    return Patch(
        name=f"seam of {one} and {two} at station {_whole(seam.station_mm)}",
        kind="seam",
        triangles_mm=mesh.points[mesh.faces[faces]],
        edge_mm=_edge(mesh, faces),
        error_mm3=_ROUGH * _ruled_mm3(seam, closing.depths),
    )


def _ruled_mm3(seam: PartSeam, depths: Depths) -> float:
    """Return how far the volume in a gap may differ from that of straight lines across it [mm³].

    Twice integrated, a section area A of curvature A'' leaves A'' g³ / 12 over a gap g; A'' is read
    off the slopes on either side. What the areas jump beyond those slopes may stand anywhere in it.
    """
    near, far = seam_ends(seam)
    gap = float(far - near)
    areas = np.array([region.area for region in depths.regions])
    at = np.array([near - _BEFORE_MM, near, far, far + _BEFORE_MM])
    a, b, c, d = np.interp(at, depths.stations_mm, areas)
    before, after = (b - a) / _BEFORE_MM, (d - c) / _BEFORE_MM
    jump = (c - b) - 0.5 * gap * (before + after)
    return float(abs(jump) * 0.5 * gap + abs(after - before) * gap**2 / 12.0)
