"""The lower edge of a section as a line, jumps and all: the keel profile and its kin."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import BoolArray, FloatArray, owned
from hullcheck.geometry.sections import Slices

_CHINK: Final = 1e-7
"""Of the length: positions closer than this are one."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Profile:
    """The lower edge of a section as straight pieces that need not meet.

    Attributes
    ----------
    starts, ends : ndarray, shape (k, 2)
        Where each piece begins and ends: position along, height [mm]. Pieces follow each other
        along; where two meet at different heights the profile jumps.
    """

    starts: FloatArray
    ends: FloatArray

    def __post_init__(self) -> None:
        """Own the arrays."""
        object.__setattr__(self, "starts", owned(self.starts, (-1, 2)))
        object.__setattr__(self, "ends", owned(self.ends, (-1, 2)))

    def __len__(self) -> int:
        """Return the number of pieces."""
        return len(self.starts)

    def height_at(self, along: float) -> float:
        """Return the height at a position [mm], the lower one at a jump; NaN where it has none."""
        spans = (self.starts[:, 0] <= along) & (along <= self.ends[:, 0])
        if not spans.any():
            return float("nan")
        start, end = self.starts[spans], self.ends[spans]
        share = (along - start[:, 0]) / (end[:, 0] - start[:, 0])
        return float((start[:, 1] + share * (end[:, 1] - start[:, 1])).min())

    def points(self) -> FloatArray:
        """Return the profile as a line, shape (m, 2): vertical where it jumps."""
        line = np.empty((2 * len(self), 2))
        line[0::2], line[1::2] = self.starts, self.ends
        fresh = np.ones(len(line), dtype=bool)
        fresh[1:] = (np.abs(line[1:] - line[:-1]) > 1e-9).any(axis=1)
        return line[fresh]


def keel_profile(triangles_mm: FloatArray, half_breadth_mm: float) -> Profile | None:
    """Return the lower edge of a surface over x, in the plane y = half_breadth_mm.

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        Closed surface in body axes [mm].
    half_breadth_mm : float
        Where the fore-and-aft plane stands [mm]; the center plane gives the keel.

    Returns
    -------
    Profile or None
        None where the plane misses the surface.
    """
    return buttock_profile(Slices(triangles_mm, axis=1), half_breadth_mm)


def buttock_profile(buttocks: Slices, half_breadth_mm: float) -> Profile | None:
    """Return `keel_profile` of a surface that is cut more than once, from its cuts across y."""
    return lower_edge(buttocks.at(half_breadth_mm)[:, :, [0, 2]])


def lower_edge(segments: FloatArray) -> Profile | None:
    """Return the lower edge of segments in a plane, shape (k, 2, 2); None if there are none."""
    order = np.argsort(segments[:, :, 0], axis=1)
    ordered = np.take_along_axis(segments, order[:, :, None], axis=1)
    ordered = ordered[ordered[:, 1, 0] > ordered[:, 0, 0]]
    if len(ordered) == 0:
        return None
    ordered = ordered[np.argsort(ordered[:, 0, 0], kind="stable")]
    starts, ends = ordered[:, 0], ordered[:, 1]
    breaks = np.unique(np.concatenate((starts[:, 0], ends[:, 0])))
    # Ends that ought to meet may miss by rounding; in such a chink only the upper edge would show.
    apart = np.diff(breaks, prepend=-np.inf) > _CHINK * (breaks[-1] - breaks[0])
    breaks = breaks[apart]
    left, right = breaks[:-1], breaks[1:]
    middle = 0.5 * (left + right)
    chosen = _lowest_at(starts, ends, middle)
    there = chosen >= 0
    left, right, chosen = left[there], right[there], chosen[there]
    slope = (ends[chosen, 1] - starts[chosen, 1]) / (ends[chosen, 0] - starts[chosen, 0])
    return Profile(
        starts=np.stack((left, starts[chosen, 1] + slope * (left - starts[chosen, 0])), axis=1),
        ends=np.stack((right, starts[chosen, 1] + slope * (right - starts[chosen, 0])), axis=1),
    )


def _lowest_at(starts: FloatArray, ends: FloatArray, along: FloatArray) -> np.ndarray:
    """Return which segment is the lowest at each position, −1 where there is none."""
    chosen = np.full(len(along), -1)
    slope = (ends[:, 1] - starts[:, 1]) / (ends[:, 0] - starts[:, 0])
    for first in range(0, len(along), 512):
        here = along[first : first + 512]
        near: BoolArray = (starts[:, 0] < here[-1]) & (ends[:, 0] > here[0])
        rows = np.flatnonzero(near)
        spans = (starts[rows, 0] < here[:, None]) & (here[:, None] < ends[rows, 0])
        levels = starts[rows, 1] + slope[rows] * (here[:, None] - starts[rows, 0])
        levels[~spans] = np.inf
        if len(rows):
            best = levels.argmin(axis=1)
            found = np.isfinite(levels[np.arange(len(here)), best])
            chosen[first : first + 512] = np.where(found, rows[best], -1)
    return chosen
