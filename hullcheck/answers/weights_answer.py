"""What she weighs: planned against weighed, what each gram cost, what is left."""

import math
from collections.abc import Sequence
from dataclasses import replace

from hullcheck.answers.afloat import Afloat, Refloater
from hullcheck.answers.float_records import Point
from hullcheck.answers.limit_margins import grams_left
from hullcheck.answers.load_caveats import load_caveats
from hullcheck.answers.load_report import load_report
from hullcheck.answers.scales_ledger import center_plus_minus_mm
from hullcheck.answers.uncertainty import response_of, spread_of
from hullcheck.answers.weights_asked import coats_of, scales_caveats, scales_of
from hullcheck.answers.weights_records import (
    Asked,
    Cost,
    GroupWeight,
    Growth,
    ItemWeight,
    WeightsAnswer,
)
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.errors import InputError

SCHEMA = "hullcheck.weights/1"


def weights_answer(
    build: Build, setup: str | None = None, *, asked: Asked | None = None
) -> WeightsAnswer:
    """Return what a build weighs, what each item and its growth cost, and what is left.

    Parameters
    ----------
    build : Build
        With a ledger.
    setup : str, optional
        Name of the setup she is in; its own items stand in the answer as it has them.
    asked : Asked, optional
        Scales under her, coats, soaked walls.

    Returns
    -------
    WeightsAnswer
        Costs, growth afloat and grams left are None or empty where her center is not known.

    Raises
    ------
    InputError
        If she has no ledger, there is no such setup, or her mass is not known.
    SolverError
        If no rest was found.
    """
    if not build.ledger.items:
        raise InputError(
            f"{build.name}: has no weight ledger to look at; write weights.csv beside the build "
            "sheet, a row an item"
        )
    craft = build.craft(setup)
    loads = _Loads(build, setup, craft)
    ledger = build.setup(setup).of_ledger(build.ledger)
    known = craft.center_of_gravity_mm is not None
    items = _items(ledger, build.ledger, loads, _growth_costs(build, loads))
    heights, trims = _spreads(loads.refloater) if known else (None, None)
    asked = asked or Asked()
    scales, check = scales_of(craft, ledger, asked)
    return WeightsAnswer(
        schema=SCHEMA,
        craft=craft.name,
        setup=craft.setup,
        water=craft.water,
        mass_g=craft.mass_g,
        plus_minus_g=ledger.plus_minus_g if craft.weighing is None else craft.weighing.plus_minus_g,
        center_of_gravity_mm=craft.center_of_gravity_mm,
        center_plus_minus_mm=_center_plus_minus_mm(build, ledger),
        load=load_report(craft),
        aboard_mass_g=math.fsum(item.mass_g or 0.0 for item in ledger.items if item.aboard),
        guessed_g=math.fsum(item.mass_g or 0.0 for item in ledger.items if item.weighed_g is None),
        afloat=loads.today,
        freeboard_plus_minus_mm=heights,
        trim_plus_minus_deg=trims,
        growth=_growth(build, loads),
        items=items,
        groups=_groups(ledger, loads, items),
        grams_left=grams_left(loads.refloater) if known else (),
        scales=scales,
        ledger_check=check,
        coats=coats_of(loads.refloater, asked),
        warnings=(*load_caveats(craft), *scales_caveats(craft, scales, check)),
    )


class _Loads:
    """How she floats with one ledger or another in place of hers."""

    def __init__(self, build: Build, setup: str | None, craft: Craft) -> None:
        self.build, self.setup = build, setup
        self.refloater = Refloater.of(craft)
        center = craft.center_of_gravity_mm
        self.today = None if center is None else self.refloater.at(craft.mass_g, center)

    def of(self, ledger: Ledger) -> Afloat | None:
        """Return how she floats with another ledger; None where nothing heavy is left of it."""
        if not ledger.mass_g > 0.0:
            return None
        mass, center = self.build.load(self.setup, ledger)
        return None if center is None else self.refloater.at(mass, center)

    def without(self, names: Sequence[str]) -> Cost | None:
        """Return what items cost together, by floating her without them."""
        chosen = self.build.setup(self.setup)
        ledger = chosen.of_ledger(self.build.ledger)
        for name in names:
            ledger = ledger.without(name)
        if self.today is None or not ledger.mass_g > 0.0:
            return None
        mass, center = self.build.load_of(chosen, ledger)
        if center is None or not mass > 0.0:
            return None
        return Cost.between(self.refloater.at(mass, center), self.today)


def _planned(item: Item) -> Item:
    """Return an item at its planned mass; one that was not planned as it is."""
    return item if item.planned_g is None else replace(item, weighed_g=None)


def _as_planned(build: Build) -> Ledger:
    """Return the ledger as it was planned."""
    return replace(build.ledger, items=tuple(_planned(item) for item in build.ledger.items))


def _growth(build: Build, loads: _Loads) -> Growth:
    """Return all growth together."""
    ledger = _as_planned(build)
    planned = None if loads.today is None else loads.of(ledger)
    return Growth(
        planned_mass_g=ledger.mass_g,
        mass_g=build.ledger.mass_g - ledger.mass_g,
        planned=planned,
        cost=None if planned is None or loads.today is None else Cost.between(planned, loads.today),
    )


def _growth_costs(build: Build, loads: _Loads) -> dict[str, Cost]:
    """Return what each item's growth cost, put aboard one after the other; {} without a CG."""
    ledger = _as_planned(build)
    before = None if loads.today is None else loads.of(ledger)
    costs: dict[str, Cost] = {}
    for item in build.ledger.items:
        if item == _planned(item) or item.weighed_g == item.planned_g or before is None:
            continue
        ledger = ledger.replaced(item)
        after = loads.of(ledger)
        if after is None:
            continue
        costs[item.name] = Cost.between(before, after)
        before = after
    return costs


def _items(
    ledger: Ledger, own: Ledger, loads: _Loads, growth_costs: dict[str, Cost]
) -> tuple[ItemWeight, ...]:
    """Return the rows of the ledger as a setup has it with what each costs.

    Plan and growth are those of her own ledger: what a setup adds is no growth.
    """
    rows, running = [], 0.0
    for item in ledger.items:
        mass, filed = item.mass_g, own.item(item.name)
        running = math.fsum((running, mass or 0.0))
        both = None not in (filed.planned_g, filed.weighed_g)
        rows.append(
            ItemWeight(
                name=item.name,
                group=item.group,
                planned_g=filed.planned_g,
                weighed_g=filed.weighed_g,
                mass_g=mass,
                plus_minus_g=item.uncertainty_g,
                is_weighed=filed.weighed_g is not None,
                aboard=item.aboard,
                center_mm=item.center_mm,
                growth_g=(filed.weighed_g or 0.0) - (filed.planned_g or 0.0) if both else None,
                running_mass_g=running,
                cost=loads.without([item.name]) if mass else None,
                growth_cost=growth_costs.get(item.name),
                note=item.note,
            )
        )
    return tuple(rows)


def _groups(ledger: Ledger, loads: _Loads, rows: Sequence[ItemWeight]) -> tuple[GroupWeight, ...]:
    """Return the groups in the order in which they first appear."""
    names = dict.fromkeys(item.group for item in ledger.items)
    groups = []
    for name in names:
        own = [row for row in rows if row.group == name]
        mass = math.fsum(row.mass_g or 0.0 for row in own)
        groups.append(
            GroupWeight(
                name=name,
                items=len(own),
                weighed=sum(row.is_weighed for row in own),
                planned_g=math.fsum(row.planned_g or 0.0 for row in own),
                mass_g=mass,
                growth_g=math.fsum(row.growth_g or 0.0 for row in own),
                plus_minus_g=math.hypot(*(row.plus_minus_g for row in own)),
                cost=loads.without([row.name for row in own]) if mass else None,
            )
        )
    return tuple(groups)


def _center_plus_minus_mm(build: Build, ledger: Ledger) -> Point | None:
    """Return how well the center is known; a measured one as its measuring was: nobody said."""
    return None if build.center_of_gravity_mm is not None else center_plus_minus_mm(ledger)


def _spreads(refloater: Refloater) -> tuple[float | None, float | None]:
    """Return how well freeboard [mm] and trim [deg] are known from masses and skin."""
    craft = refloater.craft
    found = (
        response_of(craft, refloater.height_mm, craft.mass_g),
        response_of(craft, lambda floating: floating.trim_deg, craft.mass_g),
    )
    one, two = (None if response is None else spread_of(craft, response) for response in found)
    return one, two
