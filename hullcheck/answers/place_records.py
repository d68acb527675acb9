"""The answer to where an item may sit. Attribute names are the keys of its JSON."""

from dataclasses import dataclass, replace
from typing import Self

from hullcheck.answers.float_records import Caveat, LimitCheck, Point
from hullcheck.water import Water


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceRow:
    """How she floats with the item at one place.

    `x_mm`, `y_mm` and `z_mm` are the item's center. Heights, trim and heel are None where she
    sinks. `breaks` names what does not hold: "cg_range_mm", keys of the sheet's limits, "sinks" or
    "capsizes"; `holds` is whether it is empty.
    """

    x_mm: float
    y_mm: float
    z_mm: float
    mass_g: float
    cg_x_mm: float
    cg_y_mm: float
    cg_z_mm: float
    trim_deg: float | None
    heel_deg: float | None
    freeboard_mm: float | None
    freeboard_at: str | None
    rest: str
    breaks: tuple[str, ...]
    holds: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceEnd:
    """One end of an interval, on the side that holds.

    `at_mm` is the item's station, or its y in an interval across. `limited_by` is "cg_range_mm", a
    key of the sheet's limits, "capsizes", "sinks", "within_mm" (the end of the box it may be put
    in) or "hull" (the end of the hull); `way` says which end of that, or where freeboard is read.
    `plus_minus_mm` is how well the end is known from how well masses and volumes are; None where
    nothing tells.
    """

    at_mm: float
    cg_x_mm: float
    cg_y_mm: float
    limited_by: str
    way: str
    limit: float | None
    plus_minus_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceInterval:
    """Places in a row that all hold: the fore and the aft end, or port and starboard."""

    first: PlaceEnd
    last: PlaceEnd

    @property
    def width_mm(self) -> float:
        """How long it is [mm]."""
        return self.last.at_mm - self.first.at_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Arms:
    """What a gram at the tail asks for in the nose, about the CG that is wanted.

    `nose_mm` and `tail_mm` are the foremost and aftmost places for ballast a little inside the
    hull; `nose_per_tail` is the tail's arm over the nose's. `wanted` is "cg_range_mm" (its middle)
    or "level" (where she floats level).
    """

    wanted: str
    wanted_cg_x_mm: float
    nose_mm: Point
    tail_mm: Point
    nose_arm_mm: float
    tail_arm_mm: float
    nose_per_tail: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BallastCost:
    """The least ballast with which everything holds, and what it costs.

    `place` is "given", "nose" or "tail". `without` and `aboard` are how she floats without and
    with it, the item at the same place. `grams_left_g` is what may then be added at the CG until
    the freeboard limit breaks, or until she sinks; `grams_left_without_g` the same without it;
    None without a freeboard limit. `limited_by` and `way` say what is kept with nothing to spare.
    """

    mass_g: float
    center_mm: Point
    place: str
    inside_skin: bool
    limited_by: str
    way: str
    limit: float | None
    without: PlaceRow
    aboard: PlaceRow
    freeboard_cost_mm: float | None
    trim_change_deg: float | None
    grams_left_without_g: float | None
    grams_left_g: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceAnswer:
    """Where an item may sit so that everything holds.

    `mass_g` is her all-up mass with the item, `item_mass_g` the item's. `now` is how she floats
    with the item where the ledger (and the setup) has it, None where it has no place. `along_mm`
    are the stations looked at, `along` whether "within_mm" or the "hull" ends them; `step_mm` is
    how far apart she was floated: what breaks and holds again within one step may be stepped over.
    `level_at_mm` is the item's station that puts her CG where level wants it, `level_cg_x_mm`.
    `best` is the middle of the longest interval, `across` the intervals of y there. Where nothing
    holds, `closest` is the place that is the least short of it, `ballast` the least that helps
    (None where none up to `ballast_tried_g` does).
    """

    schema: str
    craft: str
    setup: str | None
    water: Water
    item: str
    item_mass_g: float
    item_mass_from: str
    mass_g: float
    cg_moves_mm_per_mm: float
    cg_range_mm: tuple[float, float] | None
    limits: tuple[LimitCheck, ...]
    now: PlaceRow | None
    y_mm: float
    z_mm: float
    within_mm: tuple[Point, Point] | None
    along: str
    along_mm: tuple[float, float]
    step_mm: float
    intervals: tuple[PlaceInterval, ...] = ()
    best: PlaceRow | None = None
    best_inside_skin: bool | None = None
    level_cg_x_mm: float | None = None
    level_at_mm: float | None = None
    level_holds: bool | None = None
    across_mm: tuple[float, float] | None = None
    across: tuple[PlaceInterval, ...] = ()
    closest: PlaceRow | None = None
    arms: Arms | None = None
    ballast: BallastCost | None = None
    ballast_tried_g: float | None = None
    short_by_g: float | None = None
    scan: tuple[PlaceRow, ...] = ()
    warnings: tuple[Caveat, ...] = ()

    @property
    def longest(self) -> PlaceInterval | None:
        """The longest interval, the foremost of equals; None where there is none."""
        return max(self.intervals, key=lambda one: one.width_mm, default=None)

    def with_warnings(self, more: tuple[Caveat, ...]) -> Self:
        """Return the same answer with more to know, put first."""
        return replace(self, warnings=(*more, *self.warnings))
