"""Where the waterline runs round her, to mark it. Attribute names are the keys of its JSON."""

from dataclasses import dataclass, replace
from typing import Literal, Self

from hullcheck.answers.float_records import Caveat, Point, Waterline
from hullcheck.water import Water

Meets = Literal["meets the water", "clear of the water", "under water"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SideMark:
    """Where the water meets the skin on one side of a station.

    Attributes
    ----------
    girth_mm : float
        Along the section of the skin from the keel [mm].
    vertical_mm : float
        Up from the keel along body z [mm].
    point_mm : tuple of float
        The place, in body axes [mm].
    girth_plus_minus_mm, vertical_plus_minus_mm : float or None
        How well these are known, standard uncertainties [mm]; None where no center of gravity is
        known, and where any change of the load moves the crossing off the section.
    """

    girth_mm: float
    vertical_mm: float
    point_mm: Point
    girth_plus_minus_mm: float | None
    vertical_plus_minus_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StationMark:
    """The waterline at one station of a body.

    Attributes
    ----------
    station_mm : float
        Aft of the datum [mm]; at the step the section just ahead of it counts.
    at : tuple of str
        What is there: seams, marks, the step, bulkheads; empty for one of the even row.
    keel_mm : tuple of float
        The keel: where the section crosses the body's center plane lowest, or its lowest point
        where it does not [mm].
    keel_depth_mm : float
        Depth of the keel under the water, plumb [mm]; below 0 it is clear of it.
    meets : str
        "meets the water", "clear of the water" or "under water".
    crossings : int
        How often the water crosses the section's outlines; more than 2 where there is a tunnel.
    starboard, port : SideMark or None
        The first place up each side where the skin comes out of the water; None where none is.
    """

    station_mm: float
    at: tuple[str, ...]
    keel_mm: Point
    keel_depth_mm: float
    meets: Meets
    crossings: int
    starboard: SideMark | None
    port: SideMark | None


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkedBody:
    """A body that the water meets.

    Attributes
    ----------
    name, role : str
        What it is called, and the part it plays.
    fore_mm, aft_mm : tuple of float
        Foremost and aftmost point of its waterline [mm].
    stations : tuple of StationMark
        From the bow.
    """

    name: str
    role: str
    fore_mm: Point
    aft_mm: Point
    stations: tuple[StationMark, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadMarked:
    """The load the waterline is for.

    Attributes
    ----------
    mass_g, plus_minus_g : float
        All that floats, and how well it is known [g].
    center_of_gravity_mm : tuple of float or None
        Its center [mm]; None when it is not known: she is then held level.
    items, weighed : int
        How many items of the ledger it holds, and how many of them are weighed.
    in_the_bath : bool
        Whether it is that of the bath test: what is aboard, and a bag.
    bag_g : float or None
        The bag [g]; None without one.
    bag_mm : tuple of float or None
        Where the bag lies [mm].
    """

    mass_g: float
    plus_minus_g: float
    center_of_gravity_mm: Point | None
    items: int
    weighed: int
    in_the_bath: bool
    bag_g: float | None
    bag_mm: Point | None


@dataclass(frozen=True, slots=True, kw_only=True)
class MarksAnswer:
    """The waterline of a craft at rest, station by station.

    Attributes
    ----------
    schema : str
        Which document this is.
    craft : str
        What she is called.
    setup : str or None
        Name of the setup; None as she is.
    load : LoadMarked
        What floats.
    water : Water
        What she floats in.
    rest : str or None
        How she rests; "sinks"; None where she is held level without a center of gravity.
    short_by_g : float or None
        By how many grams she is too heavy to float [g]; None where she floats.
    trim_deg, heel_deg : float or None
        Positive bow up, starboard down [deg]; None where she sinks.
    waterline : Waterline or None
        The water's plane; None where she sinks.
    bodies : tuple of MarkedBody
        Those that the water meets, of hull and main floats first; none where she sinks or capsizes.
    warnings : tuple of Caveat
        What the reader must know beside the numbers.
    """

    schema: str
    craft: str
    setup: str | None
    load: LoadMarked
    water: Water
    rest: str | None
    short_by_g: float | None
    trim_deg: float | None
    heel_deg: float | None
    waterline: Waterline | None
    bodies: tuple[MarkedBody, ...]
    warnings: tuple[Caveat, ...]

    def with_warnings(self, first: tuple[Caveat, ...]) -> Self:
        """Return the answer with more warnings, ahead of its own."""
        return replace(self, warnings=(*first, *self.warnings))
