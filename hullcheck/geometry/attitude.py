"""The water plane's normal and the two angles it is spoken of in.

The water surface, in body axes, holds the points p with n·p = h; n is the unit vector that points
up out of the water: n = (−sin τ, −cos τ sin φ, cos τ cos φ), with trim τ positive bow up and heel φ
positive starboard down.
"""

import math

import numpy as np

from hullcheck.geometry.arrays import FloatArray


def normal_of(*, trim: float, heel: float) -> FloatArray:
    """Return the unit normal out of the water for a trim and a heel.

    Parameters
    ----------
    trim : float
        Positive bow up [rad].
    heel : float
        Positive starboard down [rad].

    Returns
    -------
    ndarray, shape (3,)

    Examples
    --------
    >>> normal_of(trim=0.0, heel=math.pi / 2).round(12).tolist()
    [-0.0, -1.0, 0.0]
    """
    return np.array(
        [-math.sin(trim), -math.cos(trim) * math.sin(heel), math.cos(trim) * math.cos(heel)]
    )


def trim_of(normal: FloatArray) -> float:
    """Return the trim of a normal [rad], −π/2 to π/2, positive bow up."""
    # The arc tangent keeps its accuracy near ±90°, where the arc sine loses half its digits.
    return math.atan2(-float(normal[0]), math.hypot(float(normal[1]), float(normal[2])))


def heel_of(normal: FloatArray) -> float:
    """Return the heel of a normal [rad], −π to π, positive starboard down."""
    heel = math.atan2(-float(normal[1]), float(normal[2]))
    return math.pi if heel == -math.pi else heel + 0.0


def level_directions(*, trim: float, heel: float) -> tuple[FloatArray, FloatArray]:
    """Return the level unit vectors aft and to starboard at an attitude [rad], shape (3,) each.

    Notes
    -----
    e_L = (cos τ, −sin τ sin φ, sin τ cos φ) is x̂ laid level, e_T = n × e_L = (0, cos φ, sin φ);
    ∂n/∂τ = −e_L and ∂n/∂φ = −cos τ e_T.
    """
    along = np.array(
        [math.cos(trim), -math.sin(trim) * math.sin(heel), math.sin(trim) * math.cos(heel)]
    )
    return along, np.array([0.0, math.cos(heel), math.sin(heel)])


def angle_between(first: FloatArray, second: FloatArray) -> float:
    """Return the angle between two unit vectors [rad], exact for small angles."""
    return 2.0 * math.atan2(
        float(np.linalg.norm(first - second)), float(np.linalg.norm(first + second))
    )
