"""Damaged meshes mended where only one answer is possible: sides, halved edges, lost triangles."""

from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from hullcheck.geometry.areas import surface_area_mm2
from hullcheck.geometry.arrays import BoolArray, FloatArray, IntArray
from hullcheck.geometry.repair import welded_and_unique
from hullcheck.geometry.topology import Mesh, edges_match, loops, side_keys, unmatched_edges

STITCH_MM: Final = 0.02
"""A corner this near to an open edge of another triangle lies on it."""
HOLE_EDGES: Final = 12
SMALL_HOLE_MM2: Final = 20.0
"""A hole of more than three edges is filled up to this area; a larger one may be an opening."""
_ALONGSIDE: Final = 0.98
"""Cosine of the angle up to which edges run, and faces lie, alongside each other: 11°."""
_ROUNDS: Final = 4
_MANY_HOLES: Final = 10


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Mended:
    """A mesh after mending.

    Attributes
    ----------
    mesh : Mesh
    pieces : ndarray of int, shape (n,)
        Number of the piece each face is in: faces that hang together by edges of just two faces.
    lost_share : float
        How many triangles are missing in small holes, as a share of those there should be; 0 where
        there are fewer than ten such holes.
    found : tuple of str
        What was done, a clause each.
    """

    mesh: Mesh
    pieces: IntArray
    lost_share: float
    found: tuple[str, ...]


def mended(mesh: Mesh) -> Mended:
    """Return a mesh with what could be set right set right, and a clause for each thing done.

    Parameters
    ----------
    mesh : Mesh
        Of any kind [mm].

    Returns
    -------
    Mended

    Notes
    -----
    In this order: equal corners and triangles given twice (`repair.welded_and_unique`); triangles
    whose edge has a corner of another within 0.02 mm are split there; triangles turned so that
    neighbors agree which side is outside, as most of a piece has it; holes of three edges filled,
    and those of up to 12 edges and 20 mm².
    """
    mesh, found = welded_and_unique(mesh)
    if edges_match(mesh):
        return Mended(mesh=mesh, pieces=pieces_of(mesh)[0], lost_share=0.0, found=found)
    done = list(found)
    mesh = _stitched(mesh, done)
    mesh = _wound(mesh, done)
    mesh, lost = _filled(mesh, done)
    return Mended(mesh=mesh, pieces=pieces_of(mesh)[0], lost_share=lost, found=tuple(done))


def face_pairs(mesh: Mesh) -> tuple[IntArray, IntArray, BoolArray]:
    """Return the pairs of faces that alone share an edge, and whether they run along it alike."""
    start, keys = mesh.faces.ravel(), side_keys(mesh)
    order = np.argsort(keys, kind="stable")
    ranked = keys[order]
    first = np.append(True, ranked[1:] != ranked[:-1])
    begins = np.flatnonzero(first)
    two = begins[np.diff(np.append(begins, len(ranked))) == 2]
    one, other = order[two], order[two + 1]
    return one // 3, other // 3, start[one] == start[other]


def by_edges(mesh: Mesh) -> IntArray:
    """Return each face's piece, pieces hanging together by edges, however many faces share one."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    keys = side_keys(mesh)
    order = np.argsort(keys, kind="stable")
    same = keys[order[1:]] == keys[order[:-1]]
    one, other = order[:-1][same] // 3, order[1:][same] // 3
    count = len(mesh.faces)
    graph = coo_array((np.ones(len(one), np.int8), (one, other)), shape=(count, count))
    return np.asarray(connected_components(graph, directed=False)[1], dtype=np.int64)


def pieces_of(mesh: Mesh) -> tuple[IntArray, BoolArray]:
    """Return each face's piece, and whether to turn it over for its piece to be of one mind.

    Pieces hang together by edges that just two faces share, and those on both sides of it: faces
    that lie flat on each other are of two sheets that overlap. Where a piece cannot be of one mind
    (a surface with one side only), nothing is turned.
    """
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    count = len(mesh.faces)
    one, other, alike = face_pairs(mesh)
    apart = ~_flat_on(mesh, one, other)
    one, other, alike = one[apart], other[apart], alike[apart]
    # Each face twice, as it is and turned over: neighbors that agree link like with like.
    same, cross = ~alike, alike
    start = np.concatenate([one[same], one[same] + count, one[cross], one[cross] + count])
    end = np.concatenate([other[same], other[same] + count, other[cross] + count, other[cross]])
    links = coo_array((np.ones(len(start), np.int8), (start, end)), shape=(2 * count, 2 * count))
    labels = np.asarray(connected_components(links, directed=False)[1], dtype=np.int64)
    as_it_is, over = labels[:count], labels[count:]
    low = np.minimum(as_it_is, over)
    pieces = np.unique(low, return_inverse=True)[1].ravel()
    turn = as_it_is > over
    sizes = np.bincount(pieces)
    mostly = np.bincount(pieces, weights=turn) > 0.5 * sizes
    return pieces, turn ^ (mostly[pieces] & (as_it_is != over))


def _flat_on(mesh: Mesh, one: IntArray, other: IntArray) -> BoolArray:
    """Return which pairs of faces with a common edge lie flat on each other, on one side of it."""
    faces, points = mesh.faces, mesh.points
    equal = faces[one][:, :, None] == faces[other][:, None, :]
    shared, mine, its = equal.any(axis=2), ~equal.any(axis=2), ~equal.any(axis=1)
    clear = (mine.sum(axis=1) == 1) & (its.sum(axis=1) == 1)
    flat = np.zeros(len(one), dtype=bool)
    a, b = one[clear], other[clear]
    ends = points[faces[a][shared[clear]].reshape(-1, 2)]
    along = _unit(ends[:, 1] - ends[:, 0])
    way, its_way = (
        _across(points[apex] - ends[:, 0], along)
        for apex in (faces[a][mine[clear]], faces[b][its[clear]])
    )
    flat[clear] = np.einsum("ij,ij->i", way, its_way) > _ALONGSIDE
    return flat


def _wound(mesh: Mesh, done: list[str]) -> Mesh:
    """Return the mesh with neighbors of one mind about which side is outside."""
    turn = pieces_of(mesh)[1]
    if not turn.any():
        return mesh
    done.append(f"turned over {_count(int(turn.sum()), 'triangle')} that contradicted the others")
    return Mesh(points=mesh.points, faces=np.where(turn[:, None], mesh.faces[:, ::-1], mesh.faces))


def _stitched(mesh: Mesh, done: list[str]) -> Mesh:
    """Return the mesh with triangles split where a corner of another lies on their open edge."""
    split = 0
    for _ in range(_ROUNDS):
        here = _split_once(mesh)
        if here is None:
            break
        mesh, number = here
        split += number
    if split:
        done.append(f"split {_count(split, 'triangle')} where the corner of another lay on an edge")
    return mesh


def _split_once(mesh: Mesh) -> tuple[Mesh, int] | None:
    """Return the mesh with one open edge of each such triangle split, and how many there were."""
    faces, sides = _open_sides(mesh)
    if len(faces) == 0:
        return None
    ends = np.stack([mesh.faces[faces, sides], mesh.faces[faces, (sides + 1) % 3]], axis=1)
    apexes = mesh.faces[faces, (sides + 2) % 3]
    on = _without_laps(mesh.points, ends, apexes, _corners_on(mesh.points, ends))
    fresh: list[tuple[int, int, int]] = []
    gone: set[int] = set()
    for row, corners in on.items():
        face = int(faces[row])
        if face in gone:
            continue
        a, b = ends[row].tolist()
        apex = int(apexes[row])
        if apex in corners:
            continue
        chain = [a, *corners, b]
        fresh += [(p, q, apex) for p, q in pairwise(chain)]
        gone.add(face)
    if not gone:
        return None
    kept = np.delete(mesh.faces, sorted(gone), axis=0)
    return Mesh(points=mesh.points, faces=np.concatenate([kept, np.array(fresh)])), len(gone)


def _open_sides(mesh: Mesh) -> tuple[IntArray, IntArray]:
    """Return faces and which of their sides no other face shares."""
    _, back, counts = np.unique(side_keys(mesh), return_inverse=True, return_counts=True)
    alone = np.flatnonzero(counts[back.ravel()] == 1)
    return alone // 3, alone % 3


def _corners_on(points: FloatArray, ends: IntArray) -> dict[int, list[int]]:
    """Return for each edge that has corners of others on it those corners, along the edge."""
    from scipy.spatial import cKDTree

    loose = np.unique(ends)
    a, b = points[ends[:, 0]], points[ends[:, 1]]
    along = b - a
    length = np.linalg.norm(along, axis=1)
    near = cKDTree(points[loose]).query_ball_point(0.5 * (a + b), 0.5 * length + STITCH_MM)
    rows = np.repeat(np.arange(len(ends)), [len(n) for n in near])
    corners = loose[np.concatenate([np.asarray(n, dtype=np.int64) for n in near])]
    arm = points[corners] - a[rows]
    share = np.einsum("ij,ij->i", arm, along[rows]) / np.maximum(length[rows] ** 2, 1e-300)
    off = np.linalg.norm(arm - share[:, None] * along[rows], axis=1)
    margin = STITCH_MM / np.maximum(length[rows], 1e-300)
    on = (off <= STITCH_MM) & (share > margin) & (share < 1.0 - margin)
    result: dict[int, list[int]] = {}
    for k in np.flatnonzero(on)[np.lexsort((share[on], rows[on]))].tolist():
        result.setdefault(int(rows[k]), []).append(int(corners[k]))
    return result


def _without_laps(
    points: FloatArray, ends: IntArray, apexes: IntArray, on: dict[int, list[int]]
) -> dict[int, list[int]]:
    """Return corners on open edges without those of a surface that lies over the edge's own.

    Where two sheets overlap at a seam and an opening is cut through both, their edges along the cut
    lie on each other. They are no neighbors: both faces lie on the same side of the edge.
    """
    along = _unit(points[ends[:, 1]] - points[ends[:, 0]])
    inward = _across(points[apexes] - points[ends[:, 0]], along)
    rows_at: dict[int, list[int]] = {}
    for row, pair in enumerate(ends.tolist()):
        for corner in pair:
            rows_at.setdefault(corner, []).append(row)
    kept: dict[int, list[int]] = {}
    for row, corners in on.items():
        for corner in corners:
            others = np.array(rows_at[corner])
            alongside = np.abs(along[others] @ along[row]) > _ALONGSIDE
            if not (alongside & (inward[others] @ inward[row] > _ALONGSIDE)).any():
                kept.setdefault(row, []).append(corner)
    return kept


def _across(arms: FloatArray, along: FloatArray) -> FloatArray:
    """Return which way arms point across unit vectors along an edge, of length one."""
    return _unit(arms - np.einsum("ij,ij->i", arms, along)[:, None] * along)


def _unit(vectors: FloatArray) -> FloatArray:
    """Return vectors of length one; a zero one stays as it is."""
    lengths = np.linalg.norm(vectors, axis=1, keepdims=True)
    unit: FloatArray = vectors / np.maximum(lengths, 1e-300)
    return unit


def _filled(mesh: Mesh, done: list[str]) -> tuple[Mesh, float]:
    """Return the mesh with its small holes filled, and the share of triangles they had lost."""
    fans: list[IntArray] = []
    lost = holes = 0
    for chain in loops(unmatched_edges(mesh)):
        if not 3 <= len(chain) <= HOLE_EDGES:
            continue
        lost += len(chain) - 2
        holes += 1
        fan, area = _least_fan(mesh.points, chain)
        if len(chain) == 3 or area <= SMALL_HOLE_MM2:
            fans.append(fan)
    share = lost / (len(mesh.faces) + lost) if holes >= _MANY_HOLES else 0.0
    if not fans:
        return mesh, share
    done.append(f"filled {_count(len(fans), 'hole')} of a few triangles")
    return Mesh(points=mesh.points, faces=np.concatenate([mesh.faces, *fans])), share


def _least_fan(points: FloatArray, chain: IntArray) -> tuple[IntArray, float]:
    """Return the fan of least area over a chain of edges, wound against it, and its area [mm²]."""
    fans = []
    for k in range(len(chain) if len(chain) > 3 else 1):
        turned = np.roll(chain, -k)
        fan = np.column_stack([np.full(len(turned) - 2, turned[0]), turned[2:], turned[1:-1]])
        fans.append((surface_area_mm2(points[fan]), k, fan))
    area, _, best = min(fans, key=lambda one: one[:2])
    return best, area


def _count(number: int, thing: str) -> str:
    """Return a number of things in words."""
    return f"1 {thing}" if number == 1 else f"{number} {thing}s"
