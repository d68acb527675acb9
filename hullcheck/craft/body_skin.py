"""A body of the build sheet with the outer skin its files make."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from hullcheck.craft.bodies import Role
from hullcheck.geometry.outer_records import OuterSkin, Patch
from hullcheck.geometry.shells import Shell

_NO_STATES: Final[Mapping[str, str]] = MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BodySkin:
    """What one [[body]] of the sheet, or its twin, is made of.

    Attributes
    ----------
    name, role : str
        As in the sheet. Where a file holds several closed shells this is one record all the same,
        and the bodies are numbered.
    skin : OuterSkin or None
        None for a body from a table of offsets.
    shells : tuple of Shell
        Its closed surfaces in body axes [mm], as its files make them.
    error_mm3 : float
        How far its volume may be out [mm³].
    units : tuple of str
        Unit that each part's file was read in; empty for offsets.
    states : mapping of str to str
        What the sheet says of its invented patches: name and "open", "taped" or "sealed".
    """

    name: str
    role: Role
    skin: OuterSkin | None
    shells: tuple[Shell, ...]
    error_mm3: float = 0.0
    units: tuple[str, ...] = ()
    states: Mapping[str, str] = field(default_factory=lambda: _NO_STATES)

    @property
    def patches(self) -> tuple[Patch, ...]:
        """The pieces of skin that no file has, the largest first."""
        return () if self.skin is None else self.skin.patches
