"""The head of water along lines on the skin: what drives water in through them."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray

POINT_LENGTH_MM: Final = 1.0
"""A single point stands for a line this long at its own depth: any length does, as only the
product with a leak's strength counts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Heads:
    """What the water does along a line on the skin.

    Attributes
    ----------
    length_mm : float
        Of the whole line [mm].
    wet_length_mm : float
        Of what lies under water [mm].
    deepest_mm : float
        Depth of its lowest point [mm]; negative where it lies wholly above the water.
    crack_integral_mm2 : float
        ∫ h dl over what lies under water, h the depth [mm²]: what a laminar crack feels.
    hole_integral_mm15 : float
        ∫ √h dl over it [mm^1.5]: what holes along it feel.
    """

    length_mm: float
    wet_length_mm: float
    deepest_mm: float
    crack_integral_mm2: float
    hole_integral_mm15: float

    @property
    def wet(self) -> bool:
        """Whether any of it lies under water."""
        return self.wet_length_mm > 0.0


def heads_along(lines_mm: Sequence[FloatArray], normal: FloatArray, height_mm: float) -> Heads:
    """Return the head integrals along lines under a water surface.

    Parameters
    ----------
    lines_mm : sequence of ndarray, shape (k, 3)
        Open polylines in body axes [mm]; a closed one repeats its first point. A line of one point
        counts as `POINT_LENGTH_MM` long.
    normal : ndarray, shape (3,)
        Unit normal out of the water.
    height_mm : float
        The surface holds the points p with normal·p = height_mm [mm].

    Returns
    -------
    Heads

    Notes
    -----
    Along a straight stretch the depth is linear, so both integrals are exact: with depths a and b
    at the ends of its wet part and c the length of that, ∫ h dl = c (a + b)/2 and
    ∫ √h dl = (2/3) c (a + √(ab) + b)/(√a + √b).

    Examples
    --------
    >>> line = np.array([[0.0, 0.0, -10.0], [30.0, 0.0, -10.0]])
    >>> heads_along([line], np.array([0.0, 0.0, 1.0]), 0.0).crack_integral_mm2
    300.0
    """
    starts, ends, lengths = _stretches(lines_mm)
    before = height_mm - starts @ normal
    after = height_mm - ends @ normal
    wet = (before > 0.0) | (after > 0.0)
    a, b, c = before[wet], after[wet], lengths[wet]
    crossing = (a > 0.0) != (b > 0.0)
    share = np.ones_like(a)
    depth = np.maximum(a, b)[crossing]
    share[crossing] = depth / np.abs(a - b)[crossing]
    a, b, c = np.maximum(a, 0.0), np.maximum(b, 0.0), c * share
    root_a, root_b = np.sqrt(a), np.sqrt(b)
    return Heads(
        length_mm=float(lengths.sum()),
        wet_length_mm=float(c.sum()),
        deepest_mm=float(max(before.max(), after.max())),
        crack_integral_mm2=float(0.5 * c @ (a + b)),
        hole_integral_mm15=float(2.0 / 3.0 * c @ ((a + root_a * root_b + b) / (root_a + root_b))),
    )


def _stretches(lines: Sequence[FloatArray]) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return starts, ends and lengths of all straight stretches, shapes (n, 3), (n, 3), (n,)."""
    starts, ends, lengths = [], [], []
    for line in lines:
        if len(line) == 1:
            starts.append(line)
            ends.append(line)
            lengths.append(np.array([POINT_LENGTH_MM]))
        else:
            starts.append(line[:-1])
            ends.append(line[1:])
            lengths.append(np.linalg.norm(line[1:] - line[:-1], axis=1))
    return np.concatenate(starts), np.concatenate(ends), np.concatenate(lengths)
