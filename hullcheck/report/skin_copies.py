"""Parts that are one file over again, moved or as its mirror image: drawn once."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outer_records import PartFound

_ALIKE_MM: Final = 1e-6
"""What moving leaves of rounding, a thousand times over [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Copies:
    """Parts that are one: the number of the first one's body, its own in that, and how many."""

    body: int
    first: int
    copies: int = 1
    is_mirrored: bool = False


def copies_once(parts: Sequence[Sequence[PartFound]]) -> list[Copies]:
    """Return the parts of bodies with those made one that one file is, moved or mirrored.

    Parameters
    ----------
    parts : sequence of sequence of PartFound
        A row a body.
    """
    groups: list[Copies] = []
    for i, row in enumerate(parts):
        for k, part in enumerate(row):
            for n, group in enumerate(groups):
                other = parts[group.body][group.first]
                moved, mirrored = _is_moved(other, part), _is_mirrored(other, part)
                if moved or mirrored:
                    turned = group.is_mirrored or not moved
                    groups[n] = replace(group, copies=group.copies + 1, is_mirrored=turned)
                    break
            else:
                groups.append(Copies(body=i, first=k))
    return groups


def _is_moved(one: PartFound, two: PartFound) -> bool:
    """Return whether a part is another of the same name, moved across or not at all."""
    if not _may_be(one, two):
        return False
    off = _middles(two) - _middles(one)
    # Moved along or up it would be seen elsewhere from port.
    return bool(np.abs(off - off[0]).max() < _ALIKE_MM and np.abs(off[0, [0, 2]]).max() < _ALIKE_MM)


def _is_mirrored(one: PartFound, two: PartFound) -> bool:
    """Return whether a part is another of the same name with port and starboard changed over."""
    if not _may_be(one, two):
        return False
    mirrored = _middles(one) * np.array([1.0, -1.0, 1.0])
    return bool(np.abs(_middles(two) - mirrored).max() < _ALIKE_MM)


def _may_be(one: PartFound, two: PartFound) -> bool:
    """Return whether two parts have one name, one kind and as many triangles."""
    alike = one.name == two.name and one.kind == two.kind
    return alike and len(one.triangles_mm) == len(two.triangles_mm) > 0


def _middles(part: PartFound) -> FloatArray:
    """Return the middle of each of a part's triangles, shape (n, 3) [mm]."""
    middles: FloatArray = part.triangles_mm.mean(axis=1)
    return middles
