"""A body of the build sheet with the outer skin its files make."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from hullcheck.craft.bodies import Role
from hullcheck.errors import InputError
from hullcheck.geometry.outer_records import OuterSkin, PartFound, PartSeam, Patch
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
        Its closed surfaces in body axes [mm]; taken from the skin where there is one.
    error_mm3 : float
        How far its volume may be out; taken from the skin where there is one [mm³].
    units : tuple of str
        Unit that each part's file was read in; empty for offsets, and where it is not told.
    states : mapping of str to str
        What the sheet says of its invented patches: name and "open", "taped" or "sealed".
    """

    name: str
    role: Role
    skin: OuterSkin | None
    shells: tuple[Shell, ...] = ()
    error_mm3: float = 0.0
    units: tuple[str, ...] = ()
    states: Mapping[str, str] = field(default_factory=lambda: _NO_STATES)

    def __post_init__(self) -> None:
        """Take surfaces and error from the skin; refuse a body of nothing, and too few units."""
        if self.skin is not None:
            object.__setattr__(self, "shells", self.skin.shells)
            object.__setattr__(self, "error_mm3", self.skin.error_mm3)
        if not self.shells:
            raise InputError(f"{self.name}: neither a skin nor a surface was given")
        if self.units and len(self.units) != len(self.parts):
            raise InputError(f"{self.name}: {len(self.units)} units for {len(self.parts)} parts")

    @property
    def parts(self) -> tuple[PartFound, ...]:
        """What was read for it."""
        return () if self.skin is None else self.skin.parts

    @property
    def patches(self) -> tuple[Patch, ...]:
        """The pieces of skin that no file has, the largest first."""
        return () if self.skin is None else self.skin.patches

    @property
    def seams(self) -> tuple[PartSeam, ...]:
        """Where parts meet."""
        return () if self.skin is None else self.skin.seams


def part_stem(part: str) -> str:
    """Return the name of a part's file without its folder and its ending."""
    name = part.rsplit("/", 1)[-1]
    return name.rpartition(".")[0] or name
