"""The outer skin: named closed bodies, and the moment tree over all of them."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from hullcheck.errors import InputError
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.moment_tree import MomentTree
from hullcheck.geometry.shells import Shell


@dataclass(frozen=True, kw_only=True, eq=False)
class Skin:
    """What displaces water: closed bodies that do not overlap.

    Attributes
    ----------
    names : tuple of str
        One name a body.
    shells : tuple of Shell
        Their surfaces in body axes [mm].
    """

    names: tuple[str, ...]
    shells: tuple[Shell, ...]

    def __post_init__(self) -> None:
        """Refuse a skin without bodies or with two of one name."""
        if not self.shells or len(self.names) != len(self.shells):
            raise InputError(f"{len(self.names)} names for {len(self.shells)} bodies")
        if len(set(self.names)) != len(self.names):
            raise InputError(f"two bodies share a name: {', '.join(self.names)}")

    @cached_property
    def triangles_mm(self) -> FloatArray:
        """All triangles [mm], shape (n, 3, 3), body after body."""
        if len(self.shells) == 1:
            return self.shells[0].triangles_mm
        return np.concatenate([shell.triangles_mm for shell in self.shells])

    @cached_property
    def tree(self) -> MomentTree:
        """The moment tree over all bodies."""
        return MomentTree(self.triangles_mm)

    @property
    def volume_mm3(self) -> float:
        """Volume of all bodies [mm³]."""
        return sum(shell.volume_mm3 for shell in self.shells)
