"""Openings of a section closed: the shortest chords that keep what its neighbors enclose.

A section across a thin wall with an opening is a "C": its inside lies open. Which chord closes it
is a question of the least cut. The room around the walls is triangulated; every triangle pays for
lying on the other side than the neighboring section has it, and every edge between inside and
outside pays its length. The cheapest division closes mouths straight from rim to rim, leaves alone
recesses shallower than about 5 mm, and does not bridge what was outside in the neighbor too.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.errors import SurfaceError
from hullcheck.geometry.arrays import FloatArray, IntArray
from hullcheck.geometry.section_lines import filled, whole

if TYPE_CHECKING:
    from shapely import MultiPolygon, Polygon

_PER_MM: Final = 0.2
"""Price of lying on the wrong side, per mm² against 1 per mm of chord: a recess is bridged when it
is deeper than 1/0.2 = 5 mm."""
_LOST_SHARE: Final = 0.02
"""A section that lacks less than this of its neighbor's area is taken as it is."""
_THIN_MM: Final = 1.5
"""If it is nowhere wider than twice this: her shape changes by as much between stations."""
_AGREE_SHARE: Final = 0.02
_SEALED_SHARE: Final = 0.5
"""A section that fills this much of its convex hull needs no neighbor to be believed."""
SLIT_MM: Final = 0.7
"""Sections nearer than this to each other that lack what both have are a slit."""
_SLIT_SHARE: Final = 0.002
_SIMPLE_MM: Final = 0.003
_MARGIN_MM: Final = 20.0
_SCALE: Final = 4096.0


def closed_sections(raw: Sequence["MultiPolygon"], stations_mm: FloatArray) -> list["MultiPolygon"]:
    """Return sections in the order of their stations with their openings closed.

    Parameters
    ----------
    raw : sequence of MultiPolygon
        What the lines of each section enclose [mm].
    stations_mm : ndarray, shape (k,)
        Rising [mm].

    Returns
    -------
    list of MultiPolygon

    Notes
    -----
    The march goes from the bow aft and from the stern forward, each section held against the one
    closed before it; where both have a say only what both close is closed: a step, past which the
    bottom is higher for good, is not an opening.
    """
    raw = _with_a_start(raw)
    aft = _march(raw)
    forward = [*reversed(_march([*reversed(raw)], [*reversed(aft)]))]
    regions = []
    for own, a, b in zip(raw, aft, forward, strict=True):
        if a is None and b is None:
            regions.append(own)
        elif a is None or b is None:
            regions.append(b if a is None else a)
        elif a is own or b is own:
            regions.append(own)
        else:
            regions.append(filled(whole(a.intersection(b))))
    return _without_slits(regions, stations_mm)


def _without_slits(regions: list["MultiPolygon"], stations: FloatArray) -> list["MultiPolygon"]:
    """Return sections with slits across x closed as both their sides have it.

    Around a hatch that lies in its opening the gap ahead of it and abaft it is such a slit: a chord
    would cut straight through under an arched deck.
    """
    result = list(regions)
    first = 1
    while first < len(regions) - 1:
        last = first
        while last + 1 < len(regions) - 1 and stations[last + 1] - stations[first - 1] < SLIT_MM:
            last += 1
        closed = _slit(regions, stations, first, last)
        if closed is not None:
            result[first : first + len(closed)] = closed
            first += len(closed) - 1
        first += 1
    return result


def _slit(
    regions: Sequence["MultiPolygon"], stations: FloatArray, first: int, last: int
) -> list["MultiPolygon"] | None:
    """Return the sections of a slit, closed; None if those between the two sides are none."""
    for end in range(last, first - 1, -1):
        if stations[end + 1] - stations[first - 1] > SLIT_MM:
            continue
        shared = whole(regions[first - 1].intersection(regions[end + 1]))
        if all(shared.area > (1.0 + _SLIT_SHARE) * r.area for r in regions[first : end + 1]):
            return [filled(whole(r.union(shared))) for r in regions[first : end + 1]]
    return None


def _march(
    raw: Sequence["MultiPolygon"], known: Sequence["MultiPolygon | None"] = ()
) -> list["MultiPolygon | None"]:
    """Return each section closed after the one before it; None until one can be believed.

    What the march the other way made of a section is taken over where the one before it agrees.
    """
    before: MultiPolygon | None = None
    result: list[MultiPolygon | None] = []
    for k, own in enumerate(raw):
        other = known[k] if known else None
        if before is not None and other is not None and other is not own and _agree(other, before):
            before = other
        elif before is not None:
            before = closed_after(own, before)
        elif _sealed(own):
            before = own
        result.append(before)
    return result


def _agree(one: "MultiPolygon", two: "MultiPolygon") -> bool:
    """Return whether two sections differ by less than 2 % of their area."""
    return bool(one.symmetric_difference(two).area < _AGREE_SHARE * two.area)


def _with_a_start(raw: Sequence["MultiPolygon"]) -> Sequence["MultiPolygon"]:
    """Return sections with one to start from where none can be believed: an open boat.

    The one with the widest hull around it is closed as if its neighbor were that hull.
    """
    if any(_sealed(region) for region in raw):
        return raw
    widest = max(range(len(raw)), key=lambda k: float(raw[k].convex_hull.area))
    own = raw[widest]
    return [*raw[:widest], closed_after(own, own.convex_hull), *raw[widest + 1 :]]


def _sealed(region: "MultiPolygon") -> bool:
    """Return whether a section is believed without a neighbor: it fills most of its hull."""
    return bool(region.area > _SEALED_SHARE * region.convex_hull.area > 0.0)


def closed_after(own: "MultiPolygon", before: "MultiPolygon") -> "MultiPolygon":
    """Return a section with the mouths closed behind which its neighbor has an inside."""
    import shapely

    lost = before.difference(own)
    if own.is_empty or _is_little(lost, before):
        return own
    low_y, low_z, high_y, high_z = shapely.total_bounds([own, before])
    frame = shapely.box(
        low_y - _MARGIN_MM, low_z - _MARGIN_MM, high_y + _MARGIN_MM, high_z + _MARGIN_MM
    )
    walls, tiles = _tiled(own, frame)
    corners = shapely.get_coordinates(tiles).reshape(-1, 4, 2)[:, :3]
    inside = _cheapest(tiles, corners, before, np.array([low_y, low_z, high_y, high_z]))
    if not inside.any():
        return own
    # The simplified walls too: the tiles fit them, and would leave slivers along the others.
    return filled(whole(shapely.union_all([own, walls, *tiles[inside]])))


def _is_little(lost: "MultiPolygon", before: "MultiPolygon") -> bool:
    """Return whether what a section lacks of its neighbor is no mouth: little, and thin besides."""
    return bool(lost.area <= _LOST_SHARE * before.area and lost.buffer(-_THIN_MM).is_empty)


def _tiled(own: "MultiPolygon", frame: "Polygon") -> tuple["MultiPolygon", np.ndarray]:
    """Return a section's walls, hardly changed, and the triangles of the room around them.

    Raises
    ------
    SurfaceError
        If the room cannot be triangulated however the walls are rounded.
    """
    import shapely

    for coarse in (1.0, 2.0, 5.0, 20.0):
        walls = shapely.simplify(own, coarse * _SIMPLE_MM)
        if coarse > 1.0:
            # Walls that touch themselves at a point: a little more of them.
            walls = whole(walls.buffer(coarse * _SIMPLE_MM, join_style="mitre"))
        try:
            tiles = shapely.constrained_delaunay_triangles(frame.difference(walls))
        except shapely.errors.GEOSException:
            continue
        return walls, shapely.get_parts(tiles)
    x, y = own.centroid.coords[0]
    raise SurfaceError(
        f"the section around y {x:.0f}, z {y:.0f} mm crosses itself so that it cannot be closed; "
        "mend the part in the CAD program"
    )


def _cheapest(
    tiles: np.ndarray, corners: FloatArray, before: "MultiPolygon", box: FloatArray
) -> np.ndarray:
    """Return which tiles lie inside in the cheapest division."""
    import shapely
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import breadth_first_order, maximum_flow

    shapely.prepare(before)
    shared = shapely.area(shapely.intersection(tiles, before))
    ones, twos, lengths = _neighbors(corners)
    count = len(tiles)
    source, sink = count, count + 1
    outer = ((corners < box[:2] - 1.0) | (corners > box[2:] + 1.0)).any(axis=(1, 2))
    to_inside = _PER_MM * shared
    # Where the neighbor has no inside none is asked for, and the chord alone keeps it out.
    to_outside = np.where(outer, 1e5, 0.0)
    nodes = np.arange(count)
    start = np.concatenate([ones, twos, np.full(count, source), nodes])
    end = np.concatenate([twos, ones, nodes, np.full(count, sink)])
    price = np.concatenate([lengths, lengths, to_inside, to_outside])
    capacity = np.rint(price * _SCALE).astype(np.int64).clip(0, 2**30).astype(np.int32)
    graph = coo_array((capacity, (start, end)), shape=(count + 2, count + 2)).tocsr()
    graph.eliminate_zeros()
    flow = maximum_flow(graph, source, sink).flow
    left = graph - flow
    left.data[left.data < 0] = 0
    left.eliminate_zeros()
    reached = breadth_first_order(left, source, return_predecessors=False)
    inside = np.zeros(count + 2, dtype=bool)
    inside[reached] = True
    return inside[:count]


def _neighbors(corners: FloatArray) -> tuple[IntArray, IntArray, FloatArray]:
    """Return the pairs of tiles that share an edge, and the length of each [mm]."""
    _, labels = np.unique(corners.reshape(-1, 2), axis=0, return_inverse=True)
    labels = labels.reshape(-1, 3)
    ends = np.sort(np.stack([labels, np.roll(labels, -1, axis=1)], axis=-1).reshape(-1, 2), axis=1)
    sides = np.linalg.norm(corners - np.roll(corners, -1, axis=1), axis=2).ravel()
    owner = np.repeat(np.arange(len(corners)), 3)
    order = np.lexsort((ends[:, 1], ends[:, 0]))
    same = (ends[order[1:]] == ends[order[:-1]]).all(axis=1)
    one, two = order[:-1][same], order[1:][same]
    return owner[one], owner[two], sides[one]
