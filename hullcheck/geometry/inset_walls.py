"""The wall behind the places of a skin where it cannot simply be moved in."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.geometry.areas import area_vectors_mm2
from hullcheck.geometry.arrays import BoolArray, FloatArray, IntArray
from hullcheck.geometry.topology import Mesh

if TYPE_CHECKING:
    from manifold3d import Manifold

_CUT_PAST: Final = 0.05
_HAIR: Final = 1e-3


def walls_behind(mesh: Mesh, held: BoolArray, wall: float) -> "Manifold":
    """Return the wall behind the faces, edges and corners around held corners of a skin, joined.

    All of it lies within the wall's thickness of the skin: a prism behind a face and, where faces
    meet in a hollow and their prisms gape, the hull of what their normals reach from the edge or
    the corner.
    """
    from manifold3d import Manifold, OpType

    faces = mesh.faces[held[mesh.faces].any(axis=1)]
    normals = unit(area_vectors_mm2(mesh.points[faces]))
    wider = _wider(mesh.points[faces], wall)[:, :, None, :]
    ways = np.stack((_CUT_PAST * wall * normals, -wall * normals), axis=1)[:, None, :, :]
    hulls = [Manifold.hull_points(points) for points in (wider + ways).reshape(-1, 6, 3)]
    for corners, theirs in _around(mesh.points, faces, normals):
        ways = wall * normals[theirs]
        points = mesh.points[corners][:, None, :]
        reached = np.concatenate((points + _CUT_PAST * ways, points - ways), axis=1)
        reached = reached.reshape(-1, 3)
        grown = reached + _HAIR * wall * unit(reached - reached.mean(axis=0))
        hulls.append(Manifold.hull_points(grown))
    return Manifold.batch_boolean([one for one in hulls if not one.is_empty()], OpType.Add)


def _wider(triangles: FloatArray, wall: float) -> FloatArray:
    """Return triangles with their sides moved out a hair in their own plane, shape (n, 3, 3) [mm].

    Neighbors' prisms only touch: a hair wider they overlap, and no wafer is left between them.
    """
    opposite = np.roll(triangles, -1, axis=1) - np.roll(triangles, -2, axis=1)
    lengths = np.linalg.norm(opposite, axis=2)
    around = lengths.sum(axis=1)
    middle = np.einsum("nk,nkj->nj", lengths, triangles) / around[:, None]
    radius = 2.0 * np.linalg.norm(area_vectors_mm2(triangles), axis=1) / around
    arms = triangles - middle[:, None, :]
    reach = np.linalg.norm(arms, axis=2)
    grow = np.minimum(
        reach * (_HAIR * wall / np.maximum(radius, 1e-300))[:, None], _CUT_PAST * wall
    )
    grown: FloatArray = triangles + grow[:, :, None] * unit(arms)
    return grown


def _around(
    points: FloatArray, faces: IntArray, normals: FloatArray
) -> Iterator[tuple[list[int], list[int]]]:
    """Yield the corners and the faces of each hollow edge, and of each corner of one."""
    edges: dict[tuple[int, int], list[tuple[int, int]]] = {}
    at: dict[int, list[int]] = {}
    for number, (a, b, c) in enumerate(faces.tolist()):
        for start, end, opposite in ((a, b, c), (b, c, a), (c, a, b)):
            edges.setdefault((min(start, end), max(start, end)), []).append((number, opposite))
            at.setdefault(start, []).append(number)
    hollow: set[int] = set()
    for (start, end), sides in edges.items():
        numbers = [number for number, _ in sides]
        first, last = normals[numbers[0]], normals[numbers[-1]]
        rises = first @ (points[sides[-1][1]] - points[start]) > 0.0
        # Where they are all but flat, the hair that prisms are wider by bridges the gap.
        if rises and np.linalg.norm(last - first) > _HAIR:
            yield [start, end], numbers
            hollow.update((start, end))
    for corner in sorted(hollow):
        yield [corner], at[corner]


def unit(vectors: FloatArray) -> FloatArray:
    """Return vectors at length 1, those of no length as they are."""
    sizes = np.linalg.norm(vectors, axis=-1, keepdims=True)
    unit: FloatArray = vectors / np.where(sizes > 0.0, sizes, 1.0)
    return unit
