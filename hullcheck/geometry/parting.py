"""Surfaces that touch told apart: at rims, and where several solids share an edge."""

from collections import Counter
from collections.abc import Sequence
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import BoolArray, IntArray
from hullcheck.geometry.mending import face_pairs
from hullcheck.geometry.topology import Mesh, edges_match, side_keys

_SAME_RAD: Final = 1e-6
_FLAT_MM: Final = 1e-5
_MANY: Final = 8
_THIN_MM: Final = 1e-3
_SMALL_MM2: Final = 0.05
"""A face no higher or no larger than these may look the wrong way: booleans leave such."""


def cut_at_rims(mesh: Mesh) -> Mesh:
    """Return a mesh in which faces share a corner only where they hang together by edges.

    An edge that more than two faces share, or two that run along it alike, is a rim of each.
    """
    one, other, alike = face_pairs(mesh)
    return _linked(mesh, one[~alike], other[~alike])


def solids_apart(mesh: Mesh) -> Mesh:
    """Return a closed mesh in which solids that share an edge do not share its corners.

    Parameters
    ----------
    mesh : Mesh
        Every directed edge met by its opposite, each counted; area vectors outward.

    Returns
    -------
    Mesh
        The same faces. Segments that butt in planes across x are told apart by the side they lie
        on. Around any other edge that four or more faces share, each is paired with the one that
        closes the material behind it.
    """
    crowded = _crowded(mesh)
    if len(crowded) == 0:
        return mesh
    parted = _at_planes(mesh, crowded)
    return _around_edges(parted if edges_match(parted) else mesh)


def _crowded(mesh: Mesh) -> IntArray:
    """Return the edges that more than two faces share, shape (k, 2)."""
    found, counts = np.unique(side_keys(mesh), return_counts=True)
    return np.stack(np.divmod(found[counts > 2], len(mesh.points)), axis=1)


def _at_planes(mesh: Mesh, crowded: IntArray) -> Mesh:
    """Return the mesh cut at the planes across x that hold such edges, faces by their side.

    A face in such a plane is the end of what its area vector looks away from; a tiny one goes
    where its edges are missed. By coordinates, not by angles: slivers have none to speak of.
    """
    ends = mesh.points[crowded][:, :, 0]
    across = ends[:, 0][np.abs(ends[:, 0] - ends[:, 1]) <= _FLAT_MM]
    planes, counts = np.unique(np.round(across, 5), return_counts=True)
    planes = planes[counts >= _MANY]
    corners = mesh.points[mesh.faces]
    along = corners[:, :, 0]
    slab = np.searchsorted(planes, along.mean(axis=1))
    facing = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])[:, 0]
    longest = np.linalg.norm(np.roll(corners, -1, axis=1) - corners, axis=2).max(axis=1)
    unsure: list[tuple[int, int]] = []
    for k, plane in enumerate(planes):
        flat = (np.abs(along - plane) <= _FLAT_MM).all(axis=1)
        slab[flat] = np.where(facing[flat] > 0.0, k, k + 1)
        small = np.abs(facing) < np.maximum(_THIN_MM * longest, _SMALL_MM2)
        thin = np.flatnonzero(flat & small)
        unsure += [(int(face), k) for face in thin]
    _settle(mesh, slab, unsure)
    keys = mesh.faces * (len(planes) + 1) + slab[:, None]
    kept, faces = np.unique(keys, return_inverse=True)
    points = mesh.points[kept // (len(planes) + 1)]
    return Mesh(points=points, faces=faces.reshape(-1, 3))


def _settle(mesh: Mesh, slab: IntArray, unsure: Sequence[tuple[int, int]]) -> None:
    """Put faces without area on that side of their plane where their edges are missed."""
    missed: Counter[tuple[int, int, int]] = Counter()
    open_faces = dict(unsure)
    near = np.isin(mesh.faces, np.unique(mesh.faces[list(open_faces)])).any(axis=1)
    for face in np.flatnonzero(near).tolist():
        if face not in open_faces:
            for a, b in _sides(mesh, face):
                missed[a, b, int(slab[face])] += 1
                missed[b, a, int(slab[face])] -= 1
    while open_faces:
        # The surest first: most of its edges asked for on one side more than on the other.
        votes = {
            face: sum(
                (missed[b, a, k + 1] > 0) - (missed[b, a, k] > 0) for a, b in _sides(mesh, face)
            )
            for face, k in open_faces.items()
        }
        face = max(votes, key=lambda one: abs(votes[one]))
        k = open_faces.pop(face)
        slab[face] = k + 1 if votes[face] > 0 else k
        for a, b in _sides(mesh, face):
            missed[a, b, int(slab[face])] += 1
            missed[b, a, int(slab[face])] -= 1


def _sides(mesh: Mesh, face: int) -> list[tuple[int, int]]:
    """Return a face's directed edges."""
    a, b, c = mesh.faces[face].tolist()
    return [(a, b), (b, c), (c, a)]


def _around_edges(mesh: Mesh) -> Mesh:
    """Return the mesh with the faces around crowded edges paired by the material behind them."""
    start, keys = mesh.faces.ravel(), side_keys(mesh)
    order = np.argsort(keys, kind="stable")
    begins = np.flatnonzero(np.append(True, keys[order][1:] != keys[order][:-1]))
    counts = np.diff(np.append(begins, len(order)))
    if not (counts > 2).any():
        return mesh
    one, other, _ = face_pairs(mesh)
    pairs = [np.column_stack([one, other])]
    for begin, count in zip(begins[counts > 2], counts[counts > 2], strict=True):
        sides = order[begin : begin + count]
        pairs.append(_around(mesh, sides // 3, start[sides] == keys[sides[0]] // len(mesh.points)))
    linked = np.concatenate(pairs)
    return _linked(mesh, linked[:, 0], linked[:, 1])


def _around(mesh: Mesh, faces: IntArray, forward: BoolArray) -> IntArray:
    """Return the pairs of faces around one edge that bound material between them.

    Seen along the edge, a face that runs along it forward has its material behind it clockwise.
    """
    corners = mesh.points[mesh.faces[faces]]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    shared = np.intersect1d(mesh.faces[faces[0]], mesh.faces[faces[1]])
    along = mesh.points[int(shared.max())] - mesh.points[int(shared.min())]
    along = along / max(float(np.linalg.norm(along)), 1e-300)
    into = np.cross(normals, np.where(forward[:, None], along, -along))
    first, second = into[0], np.cross(along, into[0])
    angles = np.arctan2(into @ second, into @ first)
    found, free = [], ~forward
    for k in np.flatnonzero(forward):
        turn = (angles[k] - angles) % (2.0 * np.pi)
        # Faces that lie on each other have their material on either side, not none between them.
        turn = np.where(turn < _SAME_RAD, 2.0 * np.pi, turn)
        partner = int(np.argmin(np.where(free, turn, np.inf)))
        free[partner] = False
        found.append((faces[k], faces[partner]))
    return np.array(found, dtype=np.int64)


def _linked(mesh: Mesh, one: IntArray, other: IntArray) -> Mesh:
    """Return a mesh whose faces share corners only across given pairs of them."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    size = mesh.faces.size
    links = []
    for k in range(3):
        corner = mesh.faces[one, k]
        for j in range(3):
            same = mesh.faces[other, j] == corner
            links.append(np.column_stack([3 * one[same] + k, 3 * other[same] + j]))
    pairs = np.concatenate(links)
    graph = coo_array((np.ones(len(pairs), np.int8), pairs.T), shape=(size, size))
    labels = np.asarray(connected_components(graph, directed=False)[1], dtype=np.int64)
    points = np.empty((int(labels.max()) + 1, 3))
    points[labels] = mesh.points[mesh.faces.ravel()]
    return Mesh(points=points, faces=labels.reshape(-1, 3))
