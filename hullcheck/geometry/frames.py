"""How a file's axes lie in the craft."""

import math
from collections.abc import Sequence

import numpy as np

from hullcheck.errors import InputError
from hullcheck.geometry.arrays import FloatArray

AXES = ("+x", "-x", "+y", "-y", "+z", "-z")


def body_rotation(*, forward: str, up: str) -> FloatArray:
    """Return the rotation from file axes to body axes, shape (3, 3).

    Parameters
    ----------
    forward, up : str
        File axes that point to the bow and to the sky, such as "-x" and "+z".

    Returns
    -------
    ndarray, shape (3, 3)
        Body coordinates are rotation @ file coordinates: x aft, y to starboard, z up.

    Raises
    ------
    InputError
        If an axis is none of ±x, ±y, ±z or both lie along one line.

    Examples
    --------
    >>> bool((body_rotation(forward="-x", up="+z") == np.eye(3)).all())
    True
    """
    aft, sky = -_direction("forward", forward), _direction("up", up)
    if aft @ sky != 0.0:
        raise InputError(f"forward {forward} and up {up} lie along one axis; they must be square")
    return np.stack((aft, np.cross(sky, aft), sky)) + 0.0


def turned(turn_deg: Sequence[float]) -> FloatArray:
    """Return the rotation about body x, then y, then z, right-handed, shape (3, 3).

    Parameters
    ----------
    turn_deg : sequence of 3 floats
        Angles [deg]: +x lifts starboard, +y lifts the bow, +z turns the stern to starboard.

    Returns
    -------
    ndarray, shape (3, 3)
        Turned coordinates are rotation @ coordinates. Quarter turns are exact.

    Examples
    --------
    >>> (turned([90, 0, 0]) @ [0.0, 1.0, 0.0]).tolist()
    [0.0, 0.0, 1.0]
    """
    whole = np.eye(3)
    for axis, angle in enumerate(turn_deg):
        i, j = (axis + 1) % 3, (axis + 2) % 3
        cos, sin = _cos_sin(float(angle))
        one = np.eye(3)
        one[i, i] = one[j, j] = cos
        one[i, j], one[j, i] = -sin, sin
        whole = one @ whole
    return whole + 0.0


def _cos_sin(angle_deg: float) -> tuple[float, float]:
    """Return cosine and sine of an angle [deg], exact at quarter turns."""
    quarters = angle_deg / 90.0
    if quarters == round(quarters):
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[round(quarters) % 4]
    return math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))


def axis_name(text: str) -> str:
    """Return an axis with its sign written out: "x" is "+x"; InputError if it is none."""
    name = text.strip().lower()
    name = f"+{name}" if len(name) == 1 else name
    if name not in AXES:
        raise InputError(f"axis {text!r} is none of {', '.join(AXES)}")
    return name


def _direction(what: str, text: str) -> FloatArray:
    """Return the unit vector of an axis name."""
    try:
        name = axis_name(text)
    except InputError as problem:
        raise InputError(f"{what}: {problem}") from problem
    vector = np.zeros(3)
    vector["xyz".index(name[1])] = 1.0 if name[0] == "+" else -1.0
    return vector
