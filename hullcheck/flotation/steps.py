"""Steps on the sphere of directions: which way down, how far, and where that leads."""

import math
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray

_STILL: Final = 1e-14
"""Of the length: a slope this small is rounding, and no step follows it."""


def turned(normal: FloatArray, turn: FloatArray) -> FloatArray:
    """Return the normal moved along the sphere by a tangent vector [rad]."""
    angle = float(np.linalg.norm(turn))
    if angle == 0.0:
        return normal
    moved = math.cos(angle) * normal + (math.sin(angle) / angle) * turn
    return np.asarray(moved / np.linalg.norm(moved))


def downhill_step(
    slope: FloatArray, stiffness: FloatArray, radius: float, length: float
) -> tuple[FloatArray, float]:
    """Return the step that follows the curvature downhill, at most a radius long, and its gain."""
    values, vectors = np.linalg.eigh(stiffness)
    along = vectors.T @ slope
    soft = np.maximum(np.abs(values), 1e-9 * length)
    parts = np.where(np.abs(along) > _STILL * length, -along / soft, 0.0)
    size = float(np.linalg.norm(parts))
    if size > radius:
        parts = parts * (radius / size)
    gain = -float(along @ parts + 0.5 * (values * parts) @ parts)
    return vectors @ parts, gain
