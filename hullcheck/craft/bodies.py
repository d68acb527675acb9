"""The bodies of a craft and the parts they play."""

from dataclasses import dataclass
from typing import Final, Literal, get_args

import numpy as np

from hullcheck.errors import InputError
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.shells import Shell

Role = Literal["hull", "main float", "tip float", "sponson", "wing", "other"]

FREEBOARD_ROLES: Final = ("hull", "main float")
"""Freeboard and draft are read off these; a tip float's deck going under is no flooding."""

_TWIN_VOLUME: Final = 0.05
_SMALL_VOLUME: Final = 0.25


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Body:
    """One buoyant body.

    Attributes
    ----------
    name : str
        What it is called in every answer.
    role : str
        "hull", "main float", "tip float", "sponson", "wing" or "other".
    shell : Shell
        Its closed surface in body axes [mm].
    volume_error_mm3 : float or None
        How well its volume is known [mm³]; None where a mesh is taken at its word.
    """

    name: str
    role: Role
    shell: Shell
    volume_error_mm3: float | None = None

    def __post_init__(self) -> None:
        """Refuse an unknown role."""
        if self.role not in get_args(Role):
            raise InputError(f"{self.name}: role {self.role!r} is none of {get_args(Role)}")


def guessed_roles(shells: tuple[Shell, ...]) -> tuple[Role, ...]:
    """Return the role each closed surface most likely plays, from size and place alone.

    Parameters
    ----------
    shells : tuple of Shell
        In body axes [mm].

    Returns
    -------
    tuple of str
        The largest body is the hull. Two largest of equal volume (within 5 %) on either side of
        each other are main floats. A body of less than a quarter of the largest that lies wholly
        outboard of it is a tip float. All else is "other".
    """
    order = sorted(range(len(shells)), key=lambda i: -shells[i].volume_mm3)
    roles: list[Role] = ["other"] * len(shells)
    largest = shells[order[0]]
    mains = [order[0]]
    if len(order) > 1 and _are_twins(largest, shells[order[1]]):
        mains.append(order[1])
    for i in mains:
        roles[i] = "hull" if len(mains) == 1 else "main float"
    half = max(float(np.abs(_breadths(shells[i])).max()) for i in mains)
    for i in order[len(mains) :]:
        inner = float(np.abs(_breadths(shells[i])).min())
        if shells[i].volume_mm3 < _SMALL_VOLUME * largest.volume_mm3 and inner > half:
            roles[i] = "tip float"
    return tuple(roles)


def _are_twins(one: Shell, two: Shell) -> bool:
    """Return whether two surfaces are of one size and lie abreast of each other."""
    alike = abs(one.volume_mm3 - two.volume_mm3) <= _TWIN_VOLUME * one.volume_mm3
    (low_a, high_a), (low_b, high_b) = _breadths(one), _breadths(two)
    return bool(alike and (low_a >= high_b or low_b >= high_a))


def _breadths(shell: Shell) -> FloatArray:
    """Return the least and the greatest y of a surface [mm], shape (2,)."""
    return np.array([shell.low_mm[1], shell.high_mm[1]])
