"""What is drawn at full size: lines, areas and words in millimeters, not yet on any paper."""

from dataclasses import dataclass, field
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outlines import Loops
from hullcheck.report import style
from hullcheck.report.sheet import POINTS_PER_INCH, Side
from hullcheck.report.style import Pattern, Type
from hullcheck.units import MM_PER_UNIT

PT_PER_MM: Final = POINTS_PER_INCH / MM_PER_UNIT["inch"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """An upright rectangle of a piece [mm]."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Width [mm]."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Height [mm]."""
        return self.top - self.bottom

    @property
    def corners(self) -> FloatArray:
        """Its corners, counter-clockwise, shape (4, 2) [mm]."""
        return np.array([
            (self.left, self.bottom), (self.right, self.bottom),
            (self.right, self.top), (self.left, self.top),
        ])  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stroke:
    """A line through points, shape (k, 2) [mm]."""

    points: FloatArray
    color: str = style.INK
    width: float = style.THIN
    pattern: Pattern = style.SOLID


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fill:
    """A filled region [mm]."""

    loops: Loops
    color: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """Words on their baseline at a place [mm]."""

    at: tuple[float, float]
    words: str
    kind: Type = style.NOTE
    side: Side = "center"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Piece:
    """A drawing at full size.

    Attributes
    ----------
    kind : str
        "side view", "section" or "strip".
    title, note : str
        What stands above it.
    frame : Frame
        What must be on paper of it [mm].
    strokes, fills, words : list
        What is drawn, in the piece's own millimeters, x to the right and y up.
    """

    kind: str
    title: str
    note: str
    frame: Frame
    strokes: list[Stroke] = field(default_factory=list)
    fills: list[Fill] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)


def closed(loop: FloatArray) -> FloatArray:
    """Return a loop's points with the first again at the end."""
    return np.concatenate((loop, loop[:1]))


def frame_round(points: FloatArray, room: float) -> Frame:
    """Return the frame round points, shape (k, 2), with room on every side [mm]."""
    (left, bottom), (right, top) = points.min(axis=0) - room, points.max(axis=0) + room
    return Frame(left=float(left), bottom=float(bottom), right=float(right), top=float(top))
