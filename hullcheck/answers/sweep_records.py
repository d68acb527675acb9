"""The answer to what a sweep shows. Attribute names are the keys of its JSON."""

from dataclasses import dataclass, replace
from typing import Literal, Self

from hullcheck.answers.float_records import (
    Caveat,
    Drafts,
    HeightPoint,
    LimitCheck,
    LoadReport,
    Point,
)
from hullcheck.water import Water

Over = Literal["mass", "item", "water"]
Axis = Literal["x", "y", "z"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SweepRow:
    """How she floats at one value of what is swept.

    Attributes
    ----------
    value : float
        Her mass [g], the item's place along its axis [mm], or the water's density [kg/m³].
    mass_g : float
        All-up mass [g].
    center_of_gravity_mm : tuple of float
        In body axes [mm].
    water : Water
        What she floats in.
    rest : str
        "upright", "listing", "on starboard tip float", "on port tip float", "capsized" or "sinks".
    short_by_g : float or None
        How many grams too heavy she is [g]; None where she floats.
    freeboard_mm, at : float, str, or None
        Height above the water of the lowest opening that is not sealed, or of the hull's top where
        it is least [mm], negative under water, and what that is; None where she sinks.
    trim_deg, heel_deg : float or None
        Positive bow up, starboard down [deg]; None where she sinks.
    draft_mm : Drafts or None
        Depths of the keel [mm]; None where she sinks.
    sinkage_g_per_mm : float or None
        Grams that sink her a millimeter there [g/mm]; None where she sinks.
    openings : tuple of HeightPoint
        Every opening by its lowest point, in the order of the sheet; empty where she sinks.
    limits : tuple of LimitCheck
        The sheet's limits about how she floats; for an item moved along x the stations her CG must
        keep ("cg_range_mm") too.
    holds : bool
        Whether she floats on her feet and keeps every one of these limits.
    beyond_model : bool
        Whether a wing that is not in the meshes is in the water, she lies capsized, or more of what
        is under water had to be invented than `float` believes.
    """

    value: float
    mass_g: float
    center_of_gravity_mm: Point
    water: Water
    rest: str
    short_by_g: float | None = None
    freeboard_mm: float | None = None
    at: str | None = None
    trim_deg: float | None = None
    heel_deg: float | None = None
    draft_mm: Drafts | None = None
    sinkage_g_per_mm: float | None = None
    openings: tuple[HeightPoint, ...] = ()
    limits: tuple[LimitCheck, ...] = ()
    holds: bool = False
    beyond_model: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SweepEnd:
    """Where a range that keeps every limit ends: the last value that does.

    `limit` is the key of the limit that breaks a hair further on ("sinks" or "capsizes" where none
    breaks before), `at` the point that freeboard is read off there, or the way she trims, heels or
    her CG goes. `plus_minus` is how well the value is known; None where she jumps.
    """

    value: float
    plus_minus: float | None
    limit: str
    at: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptRange:
    """A range of values that keeps every limit; without an end of its own the sweep ends there."""

    least: float
    most: float
    least_end: SweepEnd | None
    most_end: SweepEnd | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RestChange:
    """A value from which on she rests otherwise."""

    value: float
    before: str
    after: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SweepAnswer:
    """How she floats over her mass, over the place of an item, or over the water.

    Attributes
    ----------
    over : {"mass", "item", "water"}
        What is swept; `unit` is that of its values: "g", "mm" or "kg/m3".
    item, axis : str or None
        The item that is moved and the body axis it is moved along.
    mass_g, center_of_gravity_mm, water : float, tuple of float, Water
        What is kept where it is not swept, as she is today. From mesh files with a range of masses
        `mass_g` is None.
    today : SweepRow or None
        As she is; None where that is not known.
    today_plus_minus_mm : float or None
        How well today's freeboard is known [mm].
    margin_g, margin_plus_minus_g : float or None
        Grams left today [g], for a sweep over mass with limits.
    rows : tuple of SweepRow
        In the order of their values.
    kept : tuple of KeptRange
        Where every limit is kept, ends refined.
    rest_changes : tuple of RestChange
        Where she comes to rest otherwise, to a ten-thousandth of the sweep.
    """

    schema: str
    craft: str
    setup: str | None
    over: Over
    unit: str
    item: str | None
    axis: Axis | None
    mass_g: float | None
    center_of_gravity_mm: Point
    water: Water
    load: LoadReport | None
    cg_range_mm: tuple[float, float] | None
    today: SweepRow | None
    today_plus_minus_mm: float | None
    margin_g: float | None
    margin_plus_minus_g: float | None
    rows: tuple[SweepRow, ...]
    kept: tuple[KeptRange, ...]
    rest_changes: tuple[RestChange, ...]
    warnings: tuple[Caveat, ...]

    def with_warnings(self, more: tuple[Caveat, ...]) -> Self:
        """Return the same answer with more to know, put first."""
        return replace(self, warnings=(*more, *self.warnings))
