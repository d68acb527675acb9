"""The load a waterline is marked for: as she is, in a setup, or that of the bath test."""

from dataclasses import dataclass

from hullcheck.answers.afloat import Refloater
from hullcheck.answers.bath_answer import bath
from hullcheck.answers.bath_bag import Placing
from hullcheck.answers.float_records import Caveat, Point
from hullcheck.answers.load_caveats import load_caveats
from hullcheck.answers.marking_records import LoadMarked
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.flotation.floating import Floating, held_at

_OF_READINGS = frozenset({"no-marks", "mark-not-met", "tip-float-touches", "not-stiff"})
"""Codes of what is said beside readings or heel in the bath only."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Loaded:
    """A craft with the load that is marked for.

    Attributes
    ----------
    craft : Craft
        With that load.
    marked : LoadMarked
        The same as a record.
    placed_mm : tuple of float
        How well her center is known from the placing of a bag [mm].
    said : tuple of Caveat
        What the bath test says beside it.
    """

    craft: Craft
    marked: LoadMarked
    placed_mm: Point = (0.0, 0.0, 0.0)
    said: tuple[Caveat, ...] = ()


def loaded_of(build: Build, setup: str | None, placing: Placing | None) -> Loaded:
    """Return a craft with the load that is marked for.

    Parameters
    ----------
    build : Build
    setup : str or None
        Name of the setup.
    placing : Placing or None
        How the bag is put where it is the load of the bath test; None for her own.

    Raises
    ------
    InputError
        If the ledger does not say what is aboard, or where the bag goes is not known.
    """
    if placing is not None:
        return _in_the_bath(build, setup, placing)
    craft = build.craft(setup)
    weighing = craft.weighing
    return Loaded(
        craft=craft,
        marked=LoadMarked(
            mass_g=craft.mass_g,
            plus_minus_g=0.0 if weighing is None else weighing.plus_minus_g,
            center_of_gravity_mm=craft.center_of_gravity_mm,
            items=0 if weighing is None else weighing.items,
            weighed=0 if weighing is None else weighing.weighed,
            in_the_bath=False,
            bag_g=None,
            bag_mm=None,
        ),
    )


def _in_the_bath(build: Build, setup: str | None, placing: Placing) -> Loaded:
    """Return the craft with what is aboard and the bag."""
    test = bath(build, setup, placing)
    craft, bag = test.load.craft, None if placing.none else test.answer.bag
    if craft.center_of_gravity_mm is None:
        why = next((c.message for c in test.answer.warnings if "place" in c.code), "")
        raise InputError(f"--bath: where the bag goes is not known{f': {why}' if why else ''}")
    here = set(test.answer.aboard.items)
    items = build.setup(setup).of_ledger(build.ledger).items
    there = [item for item in items if item.name in here]
    known = {caveat.code for caveat in load_caveats(craft)} | _OF_READINGS
    return Loaded(
        craft=craft,
        marked=LoadMarked(
            mass_g=craft.mass_g,
            plus_minus_g=test.answer.load.plus_minus_g,
            center_of_gravity_mm=craft.center_of_gravity_mm,
            items=len(there),
            weighed=sum(item.weighed_g is not None for item in there),
            in_the_bath=True,
            bag_g=None if bag is None else bag.mass_g,
            bag_mm=None if bag is None else bag.lies_at_mm,
        ),
        placed_mm=test.load.placed_mm,
        said=tuple(caveat for caveat in test.answer.warnings if caveat.code not in known),
    )


def floating_of(craft: Craft) -> Floating | None:
    """Return where she rests, or held level where her center is not known."""
    center = craft.center_of_gravity_mm
    if center is None:
        density = craft.water.density_kg_m3
        return held_at(craft.skin, mass_g=craft.mass_g, density_kg_m3=density)
    return Refloater.of(craft).floating(craft.mass_g, center)
