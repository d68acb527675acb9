"""How a file's axes lie in the craft."""

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
