"""The answer to how the files were read. Attribute names are the keys of its JSON."""

from dataclasses import dataclass, replace
from itertools import chain
from typing import Self

from hullcheck.answers.float_records import Caveat, Point, Waterline


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
