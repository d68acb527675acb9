"""What to expect in the bath, and what was found there. Attribute names are keys of its JSON."""

from dataclasses import dataclass, replace
from typing import Literal, Self

from hullcheck.answers.bath_fit_records import BathFit
from hullcheck.answers.float_records import Caveat, Point, Waterline
from hullcheck.answers.incline_records import Inclining
from hullcheck.craft.fittings import Along
from hullcheck.water import Water

Lies = Literal["on the bottom", "at the height given", "propped"]
Meets = Literal["meets the water", "clear of the water", "under water"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """Part of her, or all: items of the ledger, what they weigh [g] and where [mm].

    `center_of_gravity_mm` is None where a place is missing in the ledger; `plus_minus_g` is how
    well the mass is known.
    """

    items: tuple[str, ...]
    mass_g: float
    plus_minus_g: float
    center_of_gravity_mm: Point | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bag:
    """What makes what is built in so far weigh and balance like the finished craft.

    `stands_for` are the items it stands in for. `center_of_gravity_mm` is where it would have to be
    for that, height and all; `lies_at_mm` where it lies, which differs in z only, and `lies` how.
    `bottom_z_mm` and `top_z_mm` are the outer skin under and over it, None where no skin is.
    """

    stands_for: tuple[str, ...]
    mass_g: float
    plus_minus_g: float
    center_of_gravity_mm: Point | None
    lies_at_mm: Point | None
    lies: Lies | None
    bottom_z_mm: float | None
    top_z_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stiffness:
    """How hard a load is to heel, about upright, trim free.

    The metacentric height across, and the moment that heels her by a degree [g·mm]; below 0 she
    does not stay upright.
    """

    center_of_gravity_mm: Point
    metacentric_height_mm: float
    moment_to_heel_g_mm_per_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Flattery:
    """How much stiffer in heel she looks in the bath than she will be.

    `in_the_bath` is with the bag as it lies, `finished` with it at its true height;
    `stiffer_by_mm` is the difference of their metacentric heights, `ratio` that of the first to the
    second, None where the second is not above 0.
    """

    in_the_bath: Stiffness
    finished: Stiffness
    stiffer_by_mm: float
    ratio: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedReading:
    """The distance to expect from a mark down to the water [mm], negative under water.

    None where the skin's section at the mark does not meet the water; `meets` says which way.
    `plus_minus_mm` is a standard uncertainty, as the ledger's are; `mean_plus_minus_mm` is that of
    the mean of port and starboard.
    """

    mark: str
    side: str
    along: Along
    point_mm: Point
    reading_mm: float | None
    plus_minus_mm: float | None
    mean_plus_minus_mm: float | None
    meets: Meets


@dataclass(frozen=True, slots=True, kw_only=True)
class Tub:
    """The tub it needs: length, width and depth of the water [mm], and how much water [l].

    `waterline_length_mm`, `waterline_beam_mm` and `draft_mm` are hers; `overall_length_mm` and
    `overall_width_mm` those of all bodies, clear of the water or not.
    """

    length_mm: float
    width_mm: float
    depth_mm: float
    water_l: float
    waterline_length_mm: float
    waterline_beam_mm: float
    draft_mm: float
    overall_length_mm: float
    overall_width_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BathLoad:
    """What floats in the bath: what is aboard and the bag, where it lies.

    `center_plus_minus_mm` is how well its center is known along x, y and z, a standard uncertainty:
    from the masses, and from how well a bag is placed.
    """

    mass_g: float
    plus_minus_g: float
    center_of_gravity_mm: Point | None
    center_plus_minus_mm: Point | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ByInclining:
    """What an inclining with the bag says of the finished craft, the bag at its true height.

    `agrees` tells whether the height found differs from that of the ledger and the bag by no more
    than the 95 % of both together.
    """

    center_z_mm: float
    metacentric_height_mm: float
    agrees: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BathAnswer:
    """What to expect in the bath.

    `bodies` are those that are fitted there. `rest` is a word of `answers.rest`, "sinks", or None
    where her center is not known: then there are no readings either. `trim_deg`, `heel_deg`,
    `waterline` and `readings` are those of the load in the bath. `weighed_g` is what that load
    weighed, None where nobody did; `measured` is what readings say, `incline` what an inclining
    says and `finished_by_inclining` what follows for the finished craft, None without them.
    """

    schema: str
    craft: str
    setup: str | None
    water: Water
    bodies: tuple[str, ...]
    finished: Share
    aboard: Share
    bag: Bag | None
    load: BathLoad
    rest: str | None
    short_by_g: float | None
    trim_deg: float | None
    heel_deg: float | None
    waterline: Waterline | None
    readings: tuple[ExpectedReading, ...]
    heel: Flattery | None
    tub: Tub | None
    weighed_g: float | None
    measured: BathFit | None
    incline: Inclining | None
    finished_by_inclining: ByInclining | None
    warnings: tuple[Caveat, ...]

    def with_warnings(self, first: tuple[Caveat, ...]) -> Self:
        """Return the answer with more warnings, ahead of its own."""
        return replace(self, warnings=(*first, *self.warnings))
