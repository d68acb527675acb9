"""A tree of surface moments: what lies under a plane without visiting every triangle.

A node keeps the 31 summed moments of its triangles and their bounding box. A node wholly below the
plane adds its sums, one wholly above adds nothing, and only triangles in leaves that straddle the
plane are cut. The nodes that straddle lie along the waterline, so the work grows with the square
root of the number of triangles.
"""

from dataclasses import dataclass
from typing import Final, Protocol

import numpy as np

from hullcheck.geometry.arrays import FloatArray, IntArray, bounds
from hullcheck.geometry.moments import (
    ROW_LENGTH,
    SYMMETRIC_PAIRS,
    VolumeMoments,
    contract,
    cut_row,
    group_rows,
    row_sum,
)

FAN_OUT: Final = 8
LEAF_SIZE: Final = 8
_CHUNK: Final = 1 << 14


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Level:
    """One level of the tree: box centers, box half sizes and summed moments of its nodes."""

    centers: FloatArray
    halves: FloatArray
    sums: FloatArray


class Displacing(Protocol):
    """What a plane can be laid through: a tree, or what several trees leave of each other."""

    evaluations: int
    low_mm: FloatArray
    high_mm: FloatArray
    origin_mm: FloatArray

    @property
    def length_mm(self) -> float:
        """Greatest side of the bounding box [mm]."""

    @property
    def enclosed_mm3(self) -> float:
        """Volume that displaces water once all is under [mm³]."""

    def under(self, normal: FloatArray, height: float) -> VolumeMoments:
        """Return what lies under a plane, as `MomentTree.under` does."""


class MomentTree:
    """Moments of a set of closed surfaces, ready for any plane.

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        Triangles [mm], area vectors outward. Closure is the caller's to prove.

    Attributes
    ----------
    origin_mm : ndarray, shape (3,)
        Center of the bounding box; sums are kept about it, so a body far from the datum keeps
        its accuracy.
    evaluations : int
        How many planes were evaluated so far.
    """

    __slots__ = ("_levels", "_triangles", "evaluations", "high_mm", "low_mm", "origin_mm")

    def __init__(self, triangles_mm: FloatArray) -> None:
        low, high = bounds(triangles_mm)
        self.low_mm, self.high_mm = low, high
        self.origin_mm: FloatArray = 0.5 * (low + high)
        self._triangles = _in_leaf_order(triangles_mm, low, high, self.origin_mm)
        self._levels = _levels(self._triangles)
        self.evaluations = 0

    @property
    def length_mm(self) -> float:
        """Greatest side of the bounding box [mm], the scale of every tolerance."""
        return float((self.high_mm - self.low_mm).max())

    @property
    def enclosed_mm3(self) -> float:
        """Volume enclosed by the surfaces [mm³]."""
        return float(np.trace(self.whole()[3:12].reshape(3, 3)) / 3.0)

    def whole(self) -> FloatArray:
        """Return the moments of all triangles about `origin_mm`, shape (31,)."""
        total: FloatArray = self._levels[-1].sums.sum(axis=0)
        return total

    def under(self, normal: FloatArray, height: float) -> VolumeMoments:
        """Return what lies under a plane, about `origin_mm`.

        Parameters
        ----------
        normal : ndarray, shape (3,)
            Unit normal out of the water.
        height : float
            Height of the plane above `origin_mm`, along the normal [mm].

        Returns
        -------
        VolumeMoments
        """
        self.evaluations += 1
        return contract(self.wet_row(normal, height), normal, height)

    def extent(self, normal: FloatArray) -> tuple[float, float]:
        """Return the least and greatest height of a corner above `origin_mm` along a normal."""
        heights = self._triangles.reshape(-1, 3) @ normal
        return float(heights.min()), float(heights.max())

    def wet_row(self, normal: FloatArray, height: float) -> FloatArray:
        """Return the wet skin's row about `origin_mm`; parameters as those of `under`.

        Rows of several trees add up once they are about one point: see `wet_row_about`.
        """
        row = np.zeros(ROW_LENGTH)
        reach = np.abs(normal)
        frontier: IntArray = np.arange(len(self._levels[-1].centers))
        for depth in range(len(self._levels) - 1, -1, -1):
            level = self._levels[depth]
            middle = level.centers[frontier] @ normal - height
            half = level.halves[frontier] @ reach
            wet = frontier[middle < -half]
            if len(wet):
                row += level.sums[wet].sum(axis=0)
            frontier = frontier[np.abs(middle) <= half]
            if len(frontier) == 0:
                return row
            size = LEAF_SIZE if depth == 0 else FAN_OUT
            below = len(self._triangles) if depth == 0 else len(self._levels[depth - 1].centers)
            frontier = (frontier[:, None] * size + np.arange(size)).ravel()
            if frontier[-1] >= below:
                frontier = frontier[frontier < below]
        return row + cut_row(self._triangles[frontier], normal, height)


def wet_row_about(
    tree: MomentTree, shift: FloatArray, normal: FloatArray, height: float
) -> FloatArray:
    """Return the moments of a tree's wet surface about another point than its own, shape (31,).

    Parameters
    ----------
    tree : MomentTree
        The surface.
    shift : ndarray, shape (3,)
        From that point to the tree's origin [mm].
    normal : ndarray, shape (3,)
        Unit normal out of the water.
    height : float
        Of the plane above that point, along the normal [mm].
    """
    return shifted_row(tree.wet_row(normal, height - float(normal @ shift)), shift)


def shifted_row(row: FloatArray, shift: FloatArray) -> FloatArray:
    """Return a row of surface moments about another point.

    Parameters
    ----------
    row : ndarray, shape (31,)
        As `hullcheck.geometry.moments` describes it.
    shift : ndarray, shape (3,)
        Where the row's own point lies as seen from the new one [mm].

    Returns
    -------
    ndarray, shape (31,)

    Notes
    -----
    With p' = p + s: ∫ p'_j dS_i = M1_ij + a_i s_j and
    ∫ p'_j p'_k dS_i = M2_ijk + M1_ij s_k + M1_ik s_j + a_i s_j s_k.
    """
    moved = row.copy()
    first = row[3:12].reshape(3, 3)
    moved[3:12] += np.outer(row[0:3], shift).ravel()
    second = moved[12:30].reshape(3, 6)
    for column, (j, k) in enumerate(SYMMETRIC_PAIRS):
        second[:, column] += first[:, j] * shift[k] + first[:, k] * shift[j]
        second[:, column] += row[0:3] * (shift[j] * shift[k])
    return moved


def under_directly(
    triangles_mm: FloatArray, normal: FloatArray, height: float, origin_mm: FloatArray
) -> VolumeMoments:
    """Return what lies under a plane by one pass over every triangle: the tree's reference.

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        Triangles [mm], area vectors outward.
    normal : ndarray, shape (3,)
        Unit normal out of the water.
    height : float
        Height of the plane above `origin_mm`, along the normal [mm].
    origin_mm : ndarray, shape (3,)
        Point that moments are taken about [mm].

    Returns
    -------
    VolumeMoments
    """
    row = np.zeros(ROW_LENGTH)
    for start in range(0, len(triangles_mm), _CHUNK):
        row += cut_row(triangles_mm[start : start + _CHUNK] - origin_mm, normal, height)
    return contract(row, normal, height)


def volume_mm3(triangles_mm: FloatArray) -> float:
    """Return the volume enclosed by a closed surface [mm³], negative when it is inside out."""
    low, high = bounds(triangles_mm)
    row = row_sum(triangles_mm, 0.5 * (low + high))
    return float(np.trace(row[3:12].reshape(3, 3)) / 3.0)


def _in_leaf_order(
    triangles: FloatArray, low: FloatArray, high: FloatArray, origin: FloatArray
) -> FloatArray:
    """Return the triangles about the origin, sorted along a Morton curve of their centroids."""
    scale = 1023.0 / np.where(high > low, high - low, 1.0)
    centroids = (triangles[:, 0] + triangles[:, 1] + triangles[:, 2]) / 3.0
    cells = ((centroids - low) * scale).astype(np.intp)
    keys = np.arange(len(triangles), dtype=np.uint64)
    spread = _spread(np.arange(1024, dtype=np.uint64))
    for axis in range(3):
        keys |= spread.take(cells[:, axis]) << np.uint64(32 + axis)
    # Sorting code and index as one number is quicker than sorting indices by code.
    keys.sort()
    order = (keys & np.uint64(0xFFFFFFFF)).astype(np.intp)
    ordered: FloatArray = triangles.reshape(-1, 9).take(order, axis=0).reshape(-1, 3, 3)
    ordered -= origin
    return ordered


def _spread(cells: np.ndarray) -> np.ndarray:
    """Return 10-bit numbers with two empty bits after each of their bits."""
    spread = cells
    for shift, mask in ((16, 0x30000FF), (8, 0x300F00F), (4, 0x30C30C3), (2, 0x9249249)):
        spread = (spread | (spread << np.uint64(shift))) & np.uint64(mask)
    return spread


def _levels(triangles: FloatArray) -> tuple[_Level, ...]:
    """Return the levels from the leaves up to one of at most FAN_OUT nodes."""
    levels = [_leaves(triangles)]
    while len(levels[-1].centers) > FAN_OUT:
        below = levels[-1]
        starts = np.arange(0, len(below.centers), FAN_OUT)
        low = np.minimum.reduceat(below.centers - below.halves, starts, axis=0)
        high = np.maximum.reduceat(below.centers + below.halves, starts, axis=0)
        sums = np.add.reduceat(below.sums, starts, axis=0)
        levels.append(_boxed(low, high, sums))
    return tuple(levels)


def _leaves(triangles: FloatArray) -> _Level:
    """Return the lowest level."""
    starts = np.arange(0, len(triangles), LEAF_SIZE)
    low = np.minimum.reduceat(_extreme(np.minimum, triangles), starts, axis=0)
    high = np.maximum.reduceat(_extreme(np.maximum, triangles), starts, axis=0)
    return _boxed(low, high, group_rows(triangles, LEAF_SIZE))


def _extreme(pick: np.ufunc, triangles: FloatArray) -> FloatArray:
    """Return the least or greatest coordinates of each triangle."""
    extreme: FloatArray = pick(pick(triangles[:, 0], triangles[:, 1]), triangles[:, 2])
    return extreme


def _boxed(low: FloatArray, high: FloatArray, sums: FloatArray) -> _Level:
    """Return a level whose boxes are widened by the rounding of their own center and half size."""
    centers, halves = 0.5 * (low + high), 0.5 * (high - low)
    halves += 4.0 * np.finfo(float).eps * (np.abs(centers) + halves)
    return _Level(centers=centers, halves=halves, sums=sums)
