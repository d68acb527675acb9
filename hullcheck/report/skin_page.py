"""What the skin drawing's views share: the page, and where a flat view stands on it."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outlines import Loops
from hullcheck.report.sheet import Sheet, Spot
from hullcheck.report.skin_scene import SkinScene

TITLE_ROOM: Final = 22.0
"""How far up what has room beside a view's title may stand [pt]."""
TITLE_APART: Final = 12.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a flat view stands on the sheet: its scales right and up [pt/mm], the spot of its zero.

    A view from below has the second scale turned over.
    """

    right: float
    up: float
    zero: Spot

    def at(self, points: FloatArray) -> FloatArray:
        """Return flat points [mm] as spots on the sheet [pt]."""
        flat: FloatArray = np.asarray(points) * np.array([self.right, self.up])
        flat += np.array(self.zero)
        return flat

    def all(self, loops: Loops) -> Loops:
        """Return loops [mm] as loops on the sheet [pt]."""
        return [self.at(loop) for loop in loops]

    def spot(self, point: FloatArray) -> Spot:
        """Return a flat point [mm] as a spot on the sheet."""
        x, y = self.at(point)
        return float(x), float(y)


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """What all views share: sheet, scene, scale [pt/mm], and where their zero stands across."""

    sheet: Sheet
    scene: SkinScene
    scale: float
    left: float
