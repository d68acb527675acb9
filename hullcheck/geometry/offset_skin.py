"""The closed skin over a grid of section points: panels, step faces, end faces, both sides."""

from itertools import pairwise
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import BoolArray, FloatArray
from hullcheck.geometry.sections import loop_area

_PLANAR: Final = 1e-13
"""Six times a panel's tetrahedron over its size³: below this its corners lie in a plane."""
_SLIVER: Final = 1e-12
"""Twice a triangle's area over its longest edge²: below this its corners lie on a line."""


def skin(grid_mm: FloatArray) -> FloatArray:
    """Return the triangles (n, 3, 3) of a closed body in mm, outward, port the image of starboard.

    Parameters
    ----------
    grid_mm : ndarray, shape (k, p + 1, q, 3)
        Points of the starboard skin [mm]: k stretches of p + 1 sections, aft, each of q points,
        from the center plane up and back to it.

    Notes
    -----
    A panel whose corners do not lie in a plane becomes four triangles around their mean: they
    enclose with any plane just what the bilinear patch over the panel does, and prefer neither
    diagonal. Panels on the center plane are left out, as their images cancel them. Where three
    points of a flat face lie on a line, as at a step in an upright side, the triangle beyond that
    line is cut in two instead of leaving one without area.
    """
    low, high = grid_mm[:, :-1, :-1], grid_mm[:, :-1, 1:]
    low_aft, high_aft = grid_mm[:, 1:, :-1], grid_mm[:, 1:, 1:]
    panels = _panels(np.stack([low, high, high_aft, low_aft], axis=-2).reshape(-1, 4, 3))
    fore, after = grid_mm[:-1, -1], grid_mm[1:, 0]
    corners = [fore[:, :-1], fore[:, 1:], after[:, 1:], after[:, :-1]]
    flat = [_panels(np.stack(corners, axis=-2).reshape(-1, 4, 3))]
    flat += [_end_face(grid_mm[0, 0])[:, ::-1], _end_face(grid_mm[-1, -1])]
    starboard = np.concatenate([panels, *flat])
    starboard = _without_slivers(starboard[(starboard[..., 1] != 0.0).any(axis=1)])
    port = starboard[:, ::-1] * np.array([1.0, -1.0, 1.0])
    return np.concatenate([starboard, port]) + 0.0


def panel_volumes(grid_mm: FloatArray) -> FloatArray:
    """Return what lies between panels, their images and the plane between them, in mm³.

    Parameters
    ----------
    grid_mm : ndarray, shape (k, p + 1, q, 3)
        As `skin` takes it [mm].

    Returns
    -------
    ndarray, shape (k, p, q - 1)
        [mm³]; all of them together are the body's volume.

    Notes
    -----
    The flux of (0, y, 0) through the bilinear patches: faces across x have none. With mean
    half-breadths and side views of the four corner triangles it is exact, as the patch is the mean
    of both ways of cutting the panel in two.
    """
    a, b = grid_mm[:, :-1, :-1], grid_mm[:, :-1, 1:]
    c, d = grid_mm[:, 1:, 1:], grid_mm[:, 1:, :-1]
    halves = (a, b, c), (a, c, d), (a, b, d), (b, c, d)
    total: FloatArray = sum((_flux(*half) for half in halves), start=np.zeros(a.shape[:-1]))
    return total


def _flux(a: FloatArray, b: FloatArray, c: FloatArray) -> FloatArray:
    """Return the flux of (0, y, 0) through triangles [mm³]."""
    one, two = b - a, c - a
    across = 0.5 * (one[..., 2] * two[..., 0] - one[..., 0] * two[..., 2])
    flux: FloatArray = across * (a[..., 1] + b[..., 1] + c[..., 1]) / 3.0
    return flux


def _panels(corners: FloatArray) -> FloatArray:
    """Return the triangles of panels, each four corners in order (k, 4, 3)."""
    a, b, c, d = np.moveaxis(corners, 1, 0)
    size = np.maximum(_square(c - a), _square(d - b)) ** 0.5
    planar = np.abs(np.vecdot(np.cross(b - a, c - a), d - a)) <= _PLANAR * size**3
    along_ac = _prefers_first(a, b, c, d)
    middle = corners.mean(axis=1)
    around = [np.stack([corners[:, i - 1], corners[:, i], middle], axis=1) for i in range(4)]
    cut = [
        np.stack([a, b, np.where(along_ac[:, None], c, d)], axis=1),
        np.stack([np.where(along_ac[:, None], a, b), c, d], axis=1),
    ]
    return _with_three_corners(
        np.concatenate([*(part[planar] for part in cut), *(part[~planar] for part in around)])
    )


def _prefers_first(a: FloatArray, b: FloatArray, c: FloatArray, d: FloatArray) -> BoolArray:
    """Return whether flat panels are to be cut from a to c: inside them, else the shorter way."""
    inside_ac = np.vecdot(np.cross(b - a, c - a), np.cross(c - a, d - a)) >= 0.0
    inside_bd = np.vecdot(np.cross(b - a, d - a), np.cross(c - b, d - b)) >= 0.0
    # The margin decides a tie the same way on every machine.
    shorter = _square(c - a) <= _square(d - b) * (1.0 + 1e-9)
    first: BoolArray = np.where(inside_ac == inside_bd, shorter, inside_ac)
    return first


def _square(vectors: FloatArray) -> FloatArray:
    """Return the squared lengths of vectors (k, 3)."""
    squares: FloatArray = np.vecdot(vectors, vectors)
    return squares


def _with_three_corners(triangles: FloatArray) -> FloatArray:
    """Return the triangles that have three different corners: the others' edges cancel."""
    following = np.roll(triangles, -1, axis=1)
    kept: FloatArray = triangles[(triangles != following).any(axis=2).all(axis=1)]
    return kept


def _end_face(section: FloatArray) -> FloatArray:
    """Return the starboard half of the face over an end section (q, 3), facing aft."""
    section = section[np.append(True, (section[1:] != section[:-1]).any(axis=1))]
    inner = np.flatnonzero(section[:, 1] == 0.0)
    pieces = [section[first : last + 1] for first, last in pairwise(inner)]
    ears = [_ears(p if (p[0] != p[-1]).any() else p[:-1]) for p in pieces if len(p) > 2]
    return np.concatenate([np.empty((0, 3, 3)), *ears])


def _ears(polygon: FloatArray) -> FloatArray:
    """Return a polygon (k, 3) across x as triangles, cut off corner by corner, the stoutest first.

    A polygon that touches itself may run out of proper corners; any triangles close it, then, and
    their signed areas add up to its own.
    """
    turned = loop_area(polygon[:, 1:]) < 0.0
    left = polygon[::-1] if turned else polygon
    cut = []
    while len(left) > 3:
        at = int(_fitness(left[:, 1:]).argmax())
        cut.append(left[[at - 1, at, (at + 1) % len(left)]])
        left = np.delete(left, at, axis=0)
    if len(left) == 3:
        cut.append(left)
    triangles = _with_three_corners(np.array(cut).reshape(-1, 3, 3))
    return triangles[:, ::-1] if turned else triangles


def _fitness(corners: FloatArray) -> FloatArray:
    """Return how stout a triangle each corner (k, 2) of a polygon cuts off; below 0 if it cannot.

    A corner that turns the wrong way, or whose triangle holds another corner, cannot.
    """
    before, after = np.roll(corners, 1, axis=0), np.roll(corners, -1, axis=0)
    longest = np.maximum(np.hypot(*(after - before).T), np.hypot(*(corners - before).T))
    longest = np.maximum(longest, np.hypot(*(after - corners).T))
    stout = _turn(before, corners, after) / np.maximum(longest, 1e-300) ** 2
    ring = before, corners, after, before
    sides = [_turn(one[:, None], two[:, None], corners[None]) for one, two in pairwise(ring)]
    holds = np.minimum(np.minimum(*sides[:2]), sides[2]) >= 0.0
    for corner in ring[:-1]:
        holds &= (corner[:, None] != corners[None]).any(axis=2)
    blocked = holds.any(axis=1) | (stout <= _SLIVER)
    fitness: FloatArray = np.where(blocked, -1.0 - np.abs(stout), stout)
    return fitness


def _turn(one: FloatArray, two: FloatArray, three: FloatArray) -> FloatArray:
    """Return twice the signed areas of triangles of points (..., 2)."""
    run, other = two - one, three - one
    turn: FloatArray = run[..., 0] * other[..., 1] - run[..., 1] * other[..., 0]
    return turn


def _without_slivers(triangles: FloatArray) -> FloatArray:
    """Return a skin with each flat face's triangles on a line given up to what is beyond them.

    Rounding can leave points of one line a hair apart, and then no end to it: each triangle of a
    flat face has one turn, and what is thin after that stays, closed as it is.
    """
    x = triangles[..., 0]
    in_plane = (x == x[:, :1]).all(axis=1)
    faces = np.unique(x[np.flatnonzero(in_plane)[_thin(triangles[in_plane])], 0])
    near = (np.isin(x, faces).sum(axis=1) >= 2) if len(faces) else np.zeros(len(x), dtype=bool)
    part = triangles[near]
    for _ in range(int(in_plane[near].sum())):
        flat = np.flatnonzero((part[..., 0] == part[:, :1, 0]).all(axis=1))
        thin = flat[_thin(part[flat])]
        if len(thin) == 0:
            break
        part = _given_up(np.delete(part, thin[0], axis=0), part[thin[0]])
    return np.concatenate([triangles[~near], part])


def _thin(triangles: FloatArray) -> BoolArray:
    """Return which triangles have their corners on a line, other than along the center plane."""
    edges = np.roll(triangles, -1, axis=1) - triangles
    doubled = np.linalg.norm(np.cross(edges[:, 0], edges[:, 1]), axis=1)
    # What lies beyond an edge on the center plane is the image and not in this half.
    off_center = (triangles[..., 1] == 0.0).sum(axis=1) < 2
    thin: BoolArray = off_center & (doubled <= _SLIVER * np.vecdot(edges, edges).max(axis=1))
    return thin


def _given_up(triangles: FloatArray, sliver: FloatArray) -> FloatArray:
    """Return a skin without a sliver, its middle corner on its longest edge instead."""
    lengths = np.linalg.norm(np.roll(sliver, -1, axis=0) - sliver, axis=1)
    start, end, between = np.roll(sliver, -int(lengths.argmax()), axis=0)
    meets = (triangles == end).all(axis=2) & (np.roll(triangles, -1, axis=1) == start).all(axis=2)
    index, turn = (int(found[0]) for found in np.nonzero(meets))
    tip = triangles[index, (turn + 2) % 3]
    halves = np.array([(end, between, tip), (between, start, tip)])
    return np.concatenate([np.delete(triangles, index, axis=0), _with_three_corners(halves)])
