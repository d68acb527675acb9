"""What still displaces water when she is swamped: solids, each with a share, as one moment tree."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hullcheck.answers.float_records import Point
from hullcheck.craft.craft import Craft
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.moment_tree import MomentTree, wet_row_about
from hullcheck.geometry.moments import ROW_LENGTH, VolumeMoments, contract

_FACES = (
    (0, 2, 1), (0, 3, 2), (4, 5, 6), (4, 6, 7), (0, 1, 5), (0, 5, 4),
    (1, 2, 6), (1, 6, 5), (2, 3, 7), (2, 7, 6), (3, 0, 4), (3, 4, 7),
)  # fmt: skip
_CORNERS = ((0, 0, 0), (1, 0, 0), (1, 1, 0), (0, 1, 0), (0, 0, 1), (1, 0, 1), (1, 1, 1), (0, 1, 1))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Share:
    """A closed surface and the share of its inside that displaces; below 0 it is taken off."""

    tree: MomentTree
    share: float


class SolidsTree:
    """Solids that displace water, as a tree that a plane can be laid through.

    Parameters
    ----------
    craft : Craft
        Whose skin's origin moments are taken about.
    shares : sequence of Share
        What displaces; shares of surfaces within each other add up to between 0 and 1.

    Attributes
    ----------
    origin_mm : ndarray, shape (3,)
        That of the skin's tree.
    low_mm, high_mm : ndarray, shape (3,)
        Corners of a box about that origin that holds everything.
    evaluations : int
        How many planes were evaluated so far.
    """

    __slots__ = ("_shares", "evaluations", "high_mm", "low_mm", "origin_mm")

    def __init__(self, craft: Craft, shares: Sequence[Share]) -> None:
        self.origin_mm: FloatArray = craft.skin.tree.origin_mm
        corners = [one.tree.low_mm for one in shares] + [one.tree.high_mm for one in shares]
        corners += [craft.skin.tree.low_mm, craft.skin.tree.high_mm]
        reach = np.abs(np.stack(corners) - self.origin_mm).max(axis=0)
        self.low_mm, self.high_mm = self.origin_mm - reach, self.origin_mm + reach
        self._shares = tuple(
            (one, one.tree.origin_mm - self.origin_mm) for one in shares if one.share != 0.0
        )
        self.evaluations = 0

    @property
    def length_mm(self) -> float:
        """Greatest side of the bounding box [mm]."""
        return float((self.high_mm - self.low_mm).max())

    @property
    def enclosed_mm3(self) -> float:
        """All that displaces, wholly under [mm³]."""
        return math.fsum(one.share * one.tree.enclosed_mm3 for one, _ in self._shares)

    def under(self, normal: FloatArray, height: float) -> VolumeMoments:
        """Return what displaces under a plane, about `origin_mm`; as `MomentTree.under`."""
        self.evaluations += 1
        row = np.zeros(ROW_LENGTH)
        for one, shift in self._shares:
            row += one.share * wet_row_about(one.tree, shift, normal, height)
        return contract(row, normal, height)


def cube_mm(volume_mm3: float, center_mm: Point) -> FloatArray:
    """Return a cube of a volume about a center, shape (12, 3, 3) [mm]."""
    side = volume_mm3 ** (1.0 / 3.0)
    corners = (np.array(_CORNERS, dtype=np.float64) - 0.5) * side + np.array(center_mm)
    cube: FloatArray = corners[np.array(_FACES)]
    return cube
