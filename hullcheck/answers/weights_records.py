"""The answer to what she weighs. Attribute names are the keys of its JSON."""

from dataclasses import dataclass, replace
from typing import Self

from hullcheck.answers.afloat import Afloat
from hullcheck.answers.coats_records import Coat, CoatsAnswer
from hullcheck.answers.float_records import Caveat, LoadReport, Point
from hullcheck.answers.scales_records import LedgerCheck, OnScales, ScalesReport
from hullcheck.water import Water


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is asked beside the ledger.

    Attributes
    ----------
    weighings : tuple of OnScales
        Scales under her, in one attitude or in two.
    aboard_only : bool
        Whether what stood on them is only what is built in so far.
    coats : tuple of Coat
        Coats to be put on.
    soaked_g : tuple of (str, float)
        Bodies and the grams of water their walls soaked up [g].
    """

    weighings: tuple[OnScales, ...] = ()
    aboard_only: bool = False
    coats: tuple[Coat, ...] = ()
    soaked_g: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """What something aboard costs: how she floats with it less how she floats without it.

    Attributes
    ----------
    freeboard_mm : float or None
        Change of the height of whatever is lowest, below 0 where she is lower [mm].
    trim_deg, heel_deg : float or None
        Positive more bow up, more starboard down [deg].
    center_of_gravity_mm : tuple of float
        How far the CG moves [mm].
    """

    freeboard_mm: float | None
    trim_deg: float | None
    heel_deg: float | None
    center_of_gravity_mm: Point

    @classmethod
    def between(cls, before: Afloat, after: Afloat) -> Self:
        """Return one way of floating less another; None for what one of the two has not."""

        def change(one: float | None, other: float | None) -> float | None:
            """Return a difference."""
            return None if one is None or other is None else other - one

        old, new = before.center_of_gravity_mm, after.center_of_gravity_mm
        return cls(
            freeboard_mm=change(before.freeboard_mm, after.freeboard_mm),
            trim_deg=change(before.trim_deg, after.trim_deg),
            heel_deg=change(before.heel_deg, after.heel_deg),
            center_of_gravity_mm=(new[0] - old[0], new[1] - old[1], new[2] - old[2]),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemWeight:
    """An item of the ledger, in its order.

    Attributes
    ----------
    name, group, note : str
        The ledger's.
    planned_g, weighed_g, mass_g : float or None
        `mass_g` is the one that counts: weighed, else planned [g].
    plus_minus_g : float
        How well it is known, as stated or by rule of thumb [g].
    is_weighed, aboard : bool
        Weighed; built in so far.
    center_mm : tuple of float or None
        [mm]
    growth_g : float or None
        What counts less what was planned [g]; None where one of the two is not known.
    running_mass_g : float
        Sum up to and with this item [g].
    cost : Cost or None
        Of all of it, by floating her without it; None where that has no answer.
    growth_cost : Cost or None
        Of its growth, put aboard in the ledger's order, each from where the last left her; None
        where it did not grow. They add up to `growth.cost`.
    """

    name: str
    group: str
    planned_g: float | None
    weighed_g: float | None
    mass_g: float | None
    plus_minus_g: float
    is_weighed: bool
    aboard: bool
    center_mm: Point | None
    growth_g: float | None
    running_mass_g: float
    cost: Cost | None
    growth_cost: Cost | None
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupWeight:
    """The items of a group together.

    Attributes
    ----------
    name : str
        The ledger's; "" for items without a group.
    items, weighed : int
        How many there are, and how many of them are weighed.
    planned_g : float
        Sum of what was planned; items that were not planned are left out [g].
    mass_g : float
        Sum of what counts [g].
    growth_g : float
        Sum of the growth of items that have both masses [g].
    plus_minus_g : float
        How well the sum is known [g].
    cost : Cost or None
        Of all of the group, by floating her without it.
    """

    name: str
    items: int
    weighed: int
    planned_g: float
    mass_g: float
    growth_g: float
    plus_minus_g: float
    cost: Cost | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Growth:
    """Weighed against planned: all growth together.

    Attributes
    ----------
    planned_mass_g : float
        All items as planned; one that was not planned counts as it is [g].
    mass_g : float
        What was added since [g].
    planned : Afloat or None
        How she would float as planned.
    cost : Cost or None
        Today less planned.
    """

    planned_mass_g: float
    mass_g: float
    planned: Afloat | None
    cost: Cost | None


@dataclass(frozen=True, slots=True, kw_only=True)
class GramsLeft:
    """What may be added at the CG until one limit breaks, whatever the others do.

    Attributes
    ----------
    limit : str
        "freeboard_mm", "trim_deg", "heel_deg" or "sinks"; "capsizes" where she falls over first.
    at : str or None
        The point freeboard is read off, or the way she trims or heels.
    mass_g : float
        0 where the limit is broken already [g].
    plus_minus_g : float or None
        None where nothing tells, or she falls over there [g].
    """

    limit: str
    at: str | None
    mass_g: float
    plus_minus_g: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class WeightsAnswer:
    """What she weighs, what each gram cost, and what is left.

    Attributes
    ----------
    schema : str
        Which document this is.
    craft : str
        What she is called.
    setup : str or None
        Name of the setup she is in; None as she is.
    water : Water
        What she floats in.
    mass_g, plus_minus_g : float
        All-up mass and how well it is known [g].
    center_of_gravity_mm, center_plus_minus_mm : tuple of float or None
        Her center and how well it is known from the masses alone; places are taken as written [mm].
    load : LoadReport or None
        Where mass and center come from.
    aboard_mass_g : float
        Sum of what is built in so far [g].
    guessed_g : float
        Sum of what is planned and not weighed [g].
    afloat : Afloat or None
        How she floats today; None without a center of gravity.
    freeboard_plus_minus_mm, trim_plus_minus_deg : float or None
        How well those are known, ruler and level aside [mm, deg].
    growth : Growth
        Weighed against planned.
    items : tuple of ItemWeight
        In the order of the ledger.
    groups : tuple of GroupWeight
        In the order of the ledger; items without a group under "".
    grams_left : tuple of GramsLeft
        To each limit and until she sinks, the least first; empty without a center of gravity.
    scales : ScalesReport or None
        What scales under her say; None where none were named.
    ledger_check : LedgerCheck or None
        That against the ledger.
    coats : CoatsAnswer or None
        What coats or soaked walls would add, and what that does.
    warnings : tuple of Caveat
        What was assumed, and what must be known.
    """

    schema: str
    craft: str
    setup: str | None
    water: Water
    mass_g: float
    plus_minus_g: float
    center_of_gravity_mm: Point | None
    center_plus_minus_mm: Point | None
    load: LoadReport | None
    aboard_mass_g: float
    guessed_g: float
    afloat: Afloat | None
    freeboard_plus_minus_mm: float | None
    trim_plus_minus_deg: float | None
    growth: Growth
    items: tuple[ItemWeight, ...]
    groups: tuple[GroupWeight, ...]
    grams_left: tuple[GramsLeft, ...]
    scales: ScalesReport | None
    ledger_check: LedgerCheck | None
    coats: CoatsAnswer | None
    warnings: tuple[Caveat, ...] = ()

    def with_warnings(self, more: tuple[Caveat, ...]) -> Self:
        """Return the same answer with more to know, put first."""
        return replace(self, warnings=(*more, *self.warnings))
