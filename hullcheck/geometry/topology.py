"""Which corners are one point, which edges meet, which triangles hang together.

Nothing is moved here: corners are one point only when their coordinates are equal to the last bit.
"""

from dataclasses import dataclass

import numpy as np

from hullcheck.geometry.arrays import FloatArray, IntArray

_MIX = tuple(np.uint64(v) for v in (0x9E3779B97F4A7C15, 0xC2B2AE3D27D4EB4F, 0x165667B19E3779F9))


_CHUNK = 1 << 14


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Mesh:
    """Triangles by corner number.

    Attributes
    ----------
    points : ndarray, shape (m, 3)
        Different points [mm].
    faces : ndarray of int, shape (n, 3)
        Corner numbers of each triangle.
    """

    points: FloatArray
    faces: IntArray

    @property
    def triangles(self) -> FloatArray:
        """Corner coordinates [mm], shape (n, 3, 3)."""
        return self.points[self.faces]


def merged(triangles: FloatArray) -> Mesh:
    """Return the triangles with equal corners made one point.

    Parameters
    ----------
    triangles : ndarray, shape (n, 3, 3)
        Triangle soup [mm].

    Returns
    -------
    Mesh
        Faces in the order given.

    Notes
    -----
    Points are found equal by a 64-bit mix of their coordinates' bits and then compared; should two
    different points ever share a mix, the slow exact sort decides.
    """
    corners = triangles.reshape(-1, 3)
    indices = np.arange(len(corners), dtype=np.uint64)
    low_bits = np.uint64((1 << max(len(corners) - 1, 1).bit_length()) - 1)
    # Mix and index sorted as one number: quicker than sorting indices by their mix.
    keys = _mixed(corners) & ~low_bits | indices
    keys.sort()
    order = (keys & low_bits).astype(np.intp)
    keys &= ~low_bits
    new = np.empty(len(order), dtype=bool)
    new[:1] = True
    np.not_equal(keys[1:], keys[:-1], out=new[1:])
    # Points are numbered as they first occur: what lies together stays together in memory.
    first = order[new]
    by_first = np.argsort(first)
    rank = np.empty(len(first), dtype=np.int64)
    rank[by_first] = np.arange(len(first))
    labels = np.empty(len(order), dtype=np.int64)
    labels[order] = rank.take(np.cumsum(new, dtype=np.int32) - 1)
    points = corners.take(first[by_first], axis=0)
    if not _same_points(points, labels, corners):
        points, labels = np.unique(corners, axis=0, return_inverse=True)
    return Mesh(points=points + 0.0, faces=labels.reshape(-1, 3))


def _same_points(points: FloatArray, labels: IntArray, corners: FloatArray) -> bool:
    """Return whether every corner has the coordinates of the point it is said to be."""
    # One coordinate at a time: taking whole rows costs several times as much.
    return all(
        np.array_equal(np.ascontiguousarray(points[:, axis]).take(labels), corners[:, axis])
        for axis in range(3)
    )


def _mixed(corners: FloatArray) -> np.ndarray:
    """Return a 64-bit mix of each point's coordinates; −0.0 and 0.0 are the same."""
    mixed = np.zeros(len(corners), dtype=np.uint64)
    for start in range(0, len(corners), _CHUNK):
        here = mixed[start : start + _CHUNK]
        for axis, factor in enumerate(_MIX):
            here ^= (corners[start : start + _CHUNK, axis] + 0.0).view(np.uint64)
            here *= factor
            here ^= here >> np.uint64(29)
    return mixed


def is_closed_manifold(mesh: Mesh) -> bool:
    """Return whether each edge is met by just two triangles, once in either direction."""
    start, end = mesh.faces.ravel(), mesh.faces[:, [1, 2, 0]].ravel()
    if len(start) % 2 or bool((start == end).any()):
        return False
    keys = np.minimum(start, end) * len(mesh.points) + np.maximum(start, end)
    keys *= 2
    keys += start > end
    keys.sort()
    once, back = keys[0::2], keys[1::2]
    return bool((once & 1 == 0).all() and (back == once + 1).all() and (once[1:] > back[:-1]).all())


def side_keys(mesh: Mesh) -> IntArray:
    """Return each triangle's three edges as keys that tell no direction.

    The key of an edge between a and b is the lesser · m + the greater, m the number of points;
    row-major, shape (3 n,), so that key k is of side k % 3 of triangle k // 3.
    """
    start, end = mesh.faces.ravel(), mesh.faces[:, [1, 2, 0]].ravel()
    return np.minimum(start, end) * len(mesh.points) + np.maximum(start, end)


def edge_keys(mesh: Mesh) -> tuple[IntArray, IntArray]:
    """Return each triangle's three directed edges as keys, and those of their opposites.

    The key of an edge from a to b is a·m + b, m the number of points; row-major, shape (3 n,).
    """
    start = mesh.faces.ravel()
    end = mesh.faces[:, [1, 2, 0]].ravel()
    size = len(mesh.points)
    return start * size + end, end * size + start


def edges_match(mesh: Mesh) -> bool:
    """Return whether every directed edge is matched by its opposite, each counted."""
    forward, backward = edge_keys(mesh)
    return bool(np.array_equal(np.sort(forward), np.sort(backward)))


def unmatched_edges(mesh: Mesh) -> IntArray:
    """Return the directed edges left over when edges and opposites are paired off, shape (k, 2)."""
    forward, backward = edge_keys(mesh)
    keys, counts = np.unique(forward, return_counts=True)
    there = np.searchsorted(keys, backward)
    there[there == len(keys)] = 0
    matched = keys[there] == backward
    spent = np.zeros(len(keys), dtype=np.int64)
    np.add.at(spent, there[matched], 1)
    left = np.repeat(keys, np.maximum(counts - spent, 0))
    return np.stack(np.divmod(left, len(mesh.points)), axis=1)


def component_labels(mesh: Mesh) -> tuple[int, IntArray]:
    """Return how many pieces hang together by shared points, and each triangle's piece."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    start = np.concatenate((mesh.faces[:, 0], mesh.faces[:, 1]))
    end = np.concatenate((mesh.faces[:, 1], mesh.faces[:, 2]))
    size = len(mesh.points)
    links = coo_array((np.ones(len(start), dtype=np.int8), (start, end)), shape=(size, size))
    count, of_point = connected_components(links, directed=False)
    labels = np.asarray(of_point, dtype=np.int64)[mesh.faces[:, 0]]
    # Points that repairs left without a triangle are pieces to scipy and none here.
    used = np.bincount(labels, minlength=count) > 0
    return int(used.sum()), (np.cumsum(used) - 1)[labels]


def loops(edges: IntArray) -> list[IntArray]:
    """Return the chains that directed edges form, each as its point numbers in order.

    Parameters
    ----------
    edges : ndarray of int, shape (k, 2)
        Directed edges; a point may start several of them.

    Returns
    -------
    list of ndarray
        A closed chain repeats no point; an open one ends where no edge goes on.
    """
    following: dict[int, list[int]] = {}
    for start, end in edges.tolist():
        following.setdefault(start, []).append(end)
    chains: list[IntArray] = []
    while following:
        first = next(iter(following))
        chain, place = [first], {first: 0}
        here = first
        while following.get(here):
            step = following[here].pop()
            if not following[here]:
                del following[here]
            if step in place:
                cut = place[step]
                chains.append(np.array(chain[cut:], dtype=np.int64))
                for point in chain[cut + 1 :]:
                    del place[point]
                chain = chain[: cut + 1]
            else:
                place[step] = len(chain)
                chain.append(step)
            here = step
        if len(chain) > 1:
            chains.append(np.array(chain, dtype=np.int64))
    return chains
