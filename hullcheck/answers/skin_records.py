"""The answer to how the files were read. Attribute names are the keys of its JSON."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from itertools import chain
from types import MappingProxyType
from typing import Final, Self

from hullcheck.answers.float_records import Caveat, Point, Waterline
from hullcheck.errors import InputError
from hullcheck.geometry.outer_records import OuterSkin, PartFound, PartSeam, Patch
from hullcheck.geometry.shells import Shell

_NO_STATES: Final[Mapping[str, str]] = MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SkinOfBody:
    """A buoyant body with the skin its files make.

    Attributes
    ----------
    name, role : str
        As in the build sheet.
    skin : OuterSkin or None
        None for a body that comes from a table of offsets: `shells` is then its surface.
    shells : tuple of Shell
        Its closed surfaces in body axes; taken from the skin where there is one.
    error_mm3 : float
        How far the volume may be out; taken from the skin where there is one [mm³].
    units : tuple of str
        The unit each part's file is in, a name a part; empty where that is not told.
    states : mapping of str to str
        What the build sheet says of invented patches: name and "open", "taped" or "sealed".
    """

    name: str
    role: str
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
        """The pieces of skin that no part has."""
        return () if self.skin is None else self.skin.patches

    @property
    def seams(self) -> tuple[PartSeam, ...]:
        """Where parts meet."""
        return () if self.skin is None else self.skin.seams


@dataclass(frozen=True, slots=True, kw_only=True)
class PartReport:
    """One file and what was found in it; see `hullcheck.geometry.outer_records.PartFound`.

    `low_mm` and `high_mm` are the corners of the box around it, as placed, in body axes.
    """

    file: str
    triangles: int
    kind: str
    unit: str | None
    material_volume_cm3: float | None
    area_cm2: float
    wall_mm: float | None
    low_mm: Point
    high_mm: Point
    found: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class InventedReport:
    """A piece of skin that no file has.

    `lowest_mm` is its lowest point along body z; `height_mm` how high its lowest point stands above
    the water, negative under it. What depends on the water is None without a load; `state` is what
    the build sheet says of an opening, None where it says nothing.
    """

    name: str
    kind: str
    state: str | None
    area_cm2: float
    lowest_mm: Point
    size_mm: tuple[float, float]
    error_cm3: float
    under_water: bool | None
    area_under_water_cm2: float | None
    height_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamReport:
    """Where two parts meet; `gap_mm` is below 0 where they overlap."""

    parts: tuple[str, str]
    station_mm: float
    gap_mm: float
    mismatch_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ChecksReport:
    """What was held against what; see `hullcheck.geometry.outer_records.SkinChecks`.

    `shells` is of how many closed surfaces the body is made. What is invented is counted over the
    skin's own faces, named as a piece or not.
    """

    shells: int
    section_volume_cm3: float | None
    section_offset_mm: float | None
    handles: int | None
    solid_share: float | None
    invented_area_cm2: float
    invented_under_water_cm2: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SkinReport:
    """One body's outer skin.

    `watertight` is worked out from the triangles: every edge is met once from either side.
    `displaced_error_cm3` is how far the part under water may be out.
    """

    name: str
    role: str
    volume_cm3: float
    area_cm2: float
    method: str
    watertight: bool
    error_cm3: float
    displaced_error_cm3: float | None
    parts: tuple[PartReport, ...]
    invented: tuple[InventedReport, ...]
    seams: tuple[SeamReport, ...]
    bulkheads_mm: tuple[float, ...]
    checks: ChecksReport

    @property
    def openings(self) -> tuple[InventedReport, ...]:
        """The invented pieces that water can come in by, the largest first."""
        return tuple(piece for piece in self.invented if piece.kind == "opening")


@dataclass(frozen=True, slots=True, kw_only=True)
class SkinAnswer:
    """How the files were read; `waterline` is where she floats, None without a load."""

    schema: str
    name: str
    bodies: tuple[SkinReport, ...]
    waterline: Waterline | None
    warnings: tuple[Caveat, ...]

    @property
    def openings(self) -> tuple[InventedReport, ...]:
        """All bodies' openings."""
        return tuple(chain.from_iterable(body.openings for body in self.bodies))

    @property
    def parts(self) -> tuple[PartReport, ...]:
        """All bodies' parts."""
        return tuple(chain.from_iterable(body.parts for body in self.bodies))

    @property
    def volume_cm3(self) -> float:
        """Volume of all bodies [cm³]."""
        return sum(body.volume_cm3 for body in self.bodies)

    @property
    def error_cm3(self) -> float:
        """How far it may be out [cm³]."""
        return sum(body.error_cm3 for body in self.bodies)

    def with_warnings(self, more: tuple[Caveat, ...]) -> Self:
        """Return the same answer with more to know, put first."""
        return replace(self, warnings=(*more, *self.warnings))
