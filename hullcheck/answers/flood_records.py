"""The answer to what water inside her does. Attribute names are the keys of its JSON."""

from dataclasses import dataclass, replace
from typing import Self

from hullcheck.answers.float_records import Caveat, LimitCheck, Pair, Point
from hullcheck.answers.swamped_records import Swamped
from hullcheck.answers.time_afloat_records import TimeAfloat, TimeAfloatMinutes
from hullcheck.water import Water


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterPool:
    """A pool of the water in a compartment that shares no level with the rest.

    Attributes
    ----------
    volume_cm3 : float
        Water in it [cm³].
    lowest_mm : tuple of float
        Its lowest point [mm].
    """

    volume_cm3: float
    lowest_mm: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class CompartmentWater:
    """A compartment and the water asked about in it, as she floats with it.

    Attributes
    ----------
    name : str
        "hull 1", "hull 2" and so on from the bow.
    body : str
        The body it is in.
    volume_cm3 : float
        Enclosed by its walls [cm³].
    permeability : float
        Share of that volume that water can fill.
    first_station_mm, last_station_mm : float
        Where its inside begins and ends [mm].
    method : str
        How its inside was found: "skin less the wall", "whole skin less the wall's share" (taken
        off as a share of the volume) or "whole skin".
    foam_cm3 : float
        Sealed foam in it [cm³].
    open_to_sea : bool
        Whether the sea runs in and out of it.
    water_g : float
        Water in it [g]; of an open one, the sea that stands in it.
    surface_height_mm : float or None
        Its water's surface holds the points p with normal·p = surface_height_mm [mm].
    centroid_mm : tuple of float or None
        Of its water [mm].
    pools : tuple of WaterPool
        Where the water lies; more than one share no level.
    """

    name: str
    body: str
    volume_cm3: float
    permeability: float
    first_station_mm: float
    last_station_mm: float
    method: str
    foam_cm3: float
    open_to_sea: bool
    water_g: float
    surface_height_mm: float | None
    centroid_mm: Point | None
    pools: tuple[WaterPool, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BilgeLevel:
    """How high water stands at a named point.

    Attributes
    ----------
    name : str
        An item of equipment, or a point that was asked for.
    point_mm : tuple of float
        The point; of equipment its lowest [mm].
    compartment : str or None
        Where it is; None outside of all compartments, where the sea is what wets it.
    level_mm : float or None
        Height of the water's surface above it [mm], negative below; None where there is no water.
    wet : bool
        Whether that is above 0.
    """

    name: str
    point_mm: Point
    compartment: str | None
    level_mm: float | None
    wet: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FloodedState:
    """How she floats with water inside.

    Attributes
    ----------
    mass_g : float
        With the water aboard, without the sea in open compartments [g].
    center_of_gravity_mm : tuple of float or None
        Of that mass, the water where it lies [mm]; None where she sinks.
    rest : str
        "upright", "listing", "on starboard tip float", "on port tip float", "capsized" or "sinks".
    trim_deg, heel_deg : float or None
        Positive bow up, starboard down [deg]; None where she sinks.
    height_mm, normal : float and tuple of float, or None
        The sea's surface: the points p with normal·p = height_mm [mm].
    freeboard_mm : float or None
        Height above the water of the lowest opening that is not sealed, or of the hull's top where
        it is least [mm].
    at : str or None
        What that is.
    metacentric_height_mm : Pair or None
        With the water free to run [mm].
    free_surface_loss_mm : Pair or None
        How much its free surface takes off [mm].
    short_by_g : float or None
        How many grams too heavy she is [g]; None where she floats.
    limits : tuple of LimitCheck
        The sheet's limits about how she floats.
    bilge : tuple of BilgeLevel
        Water at every named point.
    """

    mass_g: float
    center_of_gravity_mm: Point | None
    rest: str
    trim_deg: float | None = None
    heel_deg: float | None = None
    height_mm: float | None = None
    normal: Point | None = None
    freeboard_mm: float | None = None
    at: str | None = None
    metacentric_height_mm: Pair | None = None
    free_surface_loss_mm: Pair | None = None
    short_by_g: float | None = None
    limits: tuple[LimitCheck, ...] = ()
    bilge: tuple[BilgeLevel, ...] = ()

    @property
    def floats(self) -> bool:
        """Whether she neither sinks nor capsizes."""
        return self.rest not in {"sinks", "capsized"}

    @property
    def opening_under(self) -> bool:
        """Whether the lowest opening is under water."""
        return self.freeboard_mm is not None and self.freeboard_mm < 0.0

    @property
    def holds(self) -> bool:
        """Whether she floats on her feet and keeps every limit."""
        return self.floats and all(check.ok for check in self.limits)

    @property
    def wet(self) -> tuple[str, ...]:
        """Names of the points that are wet."""
        return tuple(one.name for one in self.bilge if one.wet)


@dataclass(frozen=True, slots=True, kw_only=True)
class NoseUp:
    """Where the water runs to, and the CG with it, when her nose comes up.

    Attributes
    ----------
    trim_deg : float
        The angle [deg].
    center_of_gravity_mm : tuple of float
        With the water run aft [mm].
    behind_band_mm : float or None
        How far the CG is behind its band [mm]; negative ahead of it, 0 in it, None without one.
    surface_height_mm : float
        Of the water: the points p with n·p = surface_height_mm, n the normal at that angle [mm].
    centroid_mm : tuple of float
        Of the water [mm].
    pools : int
        Pools it parts into.
    bilge : tuple of BilgeLevel
        Water at the points of its compartment.
    """

    trim_deg: float
    center_of_gravity_mm: Point
    behind_band_mm: float | None
    surface_height_mm: float
    centroid_mm: Point
    pools: int
    bilge: tuple[BilgeLevel, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterCase:
    """Water of a given mass in one compartment, nothing else aboard.

    Attributes
    ----------
    compartment : str
        Which.
    water_g : float
        How much [g].
    state : FloodedState
        At rest.
    nose_up : NoseUp
        Run aft.
    """

    compartment: str
    water_g: float
    state: FloodedState
    nose_up: NoseUp


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenCase:
    """One compartment, or two neighbors, open to the sea.

    Attributes
    ----------
    compartments : tuple of str
        Which.
    state : FloodedState
        How she floats then.
    """

    compartments: tuple[str, ...]
    state: FloodedState


@dataclass(frozen=True, slots=True, kw_only=True)
class FloodAnswer:
    """What water inside her does.

    Attributes
    ----------
    mass_g, center_of_gravity_mm : float, tuple of float
        Without any water [g, mm].
    nose_up_deg : float
        Angle at which water is shown run aft [deg].
    nose_up_from : str
        Where that angle comes from.
    dry_behind_band_mm : float or None
        How far the CG is behind its band without water [mm].
    asked : bool
        Whether water aboard or compartments open to the sea were asked about.
    compartments : tuple of CompartmentWater
        With the water asked about.
    state : FloodedState
        With the water asked about; dry where none was.
    water_cases : tuple of WaterCase
        Some grams in each compartment that holds them.
    open_cases : tuple of OpenCase
        Any one compartment and any two neighbors open to the sea.
    swamped : Swamped
        Every compartment open that is not sealed.
    time_afloat_min : TimeAfloatMinutes or None
        How long she stays within her limits, by both laws; None where no leak is known.
    time_afloat : TimeAfloat or None
        The same in full.
    """

    schema: str
    craft: str
    setup: str | None
    mass_g: float
    center_of_gravity_mm: Point
    water: Water
    cg_range_mm: tuple[float, float] | None
    nose_up_deg: float
    nose_up_from: str
    dry_behind_band_mm: float | None
    asked: bool
    compartments: tuple[CompartmentWater, ...]
    state: FloodedState
    water_cases: tuple[WaterCase, ...]
    open_cases: tuple[OpenCase, ...]
    swamped: Swamped
    time_afloat_min: TimeAfloatMinutes | None
    time_afloat: TimeAfloat | None
    warnings: tuple[Caveat, ...]

    def with_warnings(self, more: tuple[Caveat, ...]) -> Self:
        """Return the same answer with more to know, put first."""
        return replace(self, warnings=(*more, *self.warnings))
