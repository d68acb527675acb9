"""The bath test: the bag, how she floats with it, the readings to expect, the tub it needs."""

from dataclasses import dataclass, replace

from hullcheck.answers.afloat import Refloater
from hullcheck.answers.bath_bag import Placing, bag_of, shares_of, skin_column
from hullcheck.answers.bath_caveats import bath_caveats, floating_caveats
from hullcheck.answers.bath_float import BathLoaded, bath_loaded, expected_readings, flattery
from hullcheck.answers.bath_readings import Reader
from hullcheck.answers.bath_records import (
    Bag,
    BathAnswer,
    BathLoad,
    ExpectedReading,
    Flattery,
    Share,
    Tub,
)
from hullcheck.answers.bath_tub import tub_of
from hullcheck.answers.float_records import Caveat, Waterline
from hullcheck.answers.invented import refuse_invented
from hullcheck.answers.rest import rest_of
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.craft.ledger import Ledger
from hullcheck.errors import InputError
from hullcheck.flotation.floating import Floating, held_at, short_by_g

SCHEMA = "hullcheck.bath/1"


@dataclass(frozen=True, kw_only=True, eq=False)
class Bath:
    """A bath test made ready: the answer, and what readings and an inclining are worked out with.

    Attributes
    ----------
    answer : BathAnswer
    load : BathLoaded
        The craft as she floats in the bath.
    reader : Reader
        Of her marks.
    """

    answer: BathAnswer
    load: BathLoaded
    reader: Reader


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Afloat:
    """How the load in the bath floats; None and empty where she sinks or its center is unknown."""

    rest: str | None = None
    floating: Floating | None = None
    readings: tuple[ExpectedReading, ...] = ()
    heel: Flattery | None = None
    tub: Tub | None = None


def bath(
    build: Build,
    setup: str | None = None,
    placing: Placing | None = None,
    *,
    floats_off: bool = False,
) -> Bath:
    """Return what to expect in the bath.

    Parameters
    ----------
    build : Build
        With a ledger whose `aboard` says what is built in so far.
    setup : str, optional
        Name of the setup that says what the finished craft is.
    placing : Placing, optional
        How the bag is put; on the bottom by default.
    floats_off : bool, default False
        Whether her tip floats are not fitted in the bath.

    Returns
    -------
    Bath

    Raises
    ------
    InputError
        If the ledger does not say what is aboard and what that weighs; see `bath_bag.shares_of`; or
        if tip floats are to be off that she does not have.
    SurfaceError
        If a mark along the skin lies off it, or much of what is under water had to be invented.
    SolverError
        If no rest was found.
    """
    placing = Placing() if placing is None else placing
    craft, shares = build.craft(setup), shares_of(build, setup)
    bag = bag_of(build, shares, placing)
    load = bath_loaded(
        _without_floats(craft) if floats_off else craft, shares, bag, bare=placing.none
    )
    reader = Reader(load.craft)
    afloat = _afloat(craft, shares[0], bag, load, reader)
    place = None if bag is None else bag.center_of_gravity_mm
    column = None if place is None else skin_column(build, place[0], place[1])
    said = bath_caveats(craft, shares, bag, column, placing)
    if afloat.rest not in {None, "sinks", "capsized"}:
        said = (*said, *floating_caveats(load.craft, afloat.readings, afloat.heel))
    return Bath(answer=_answer(load, shares, bag, afloat, said), load=load, reader=reader)


def bath_answer(
    build: Build,
    setup: str | None = None,
    placing: Placing | None = None,
    *,
    floats_off: bool = False,
) -> BathAnswer:
    """Return what to expect in the bath; see `bath`."""
    return bath(build, setup, placing, floats_off=floats_off).answer


def _without_floats(craft: Craft) -> Craft:
    """Return a craft without her tip floats; InputError where she has none."""
    off = {body.name for body in craft.tip_floats}
    if not off:
        raise InputError(f"{craft.name}: she has no tip floats to be off")
    return replace(
        craft,
        bodies=tuple(body for body in craft.bodies if body.name not in off),
        skins=tuple(skin for skin in craft.skins if skin.name not in off),
    )


def bath_fails(answer: BathAnswer) -> bool:
    """Return whether she sinks or capsizes with the load of the bath."""
    return answer.rest in {"sinks", "capsized"}


def _afloat(
    craft: Craft, finished: Share, bag: Bag | None, load: BathLoaded, reader: Reader
) -> _Afloat:
    """Return how the load in the bath floats."""
    loaded, center = load.craft, load.craft.center_of_gravity_mm
    density = loaded.water.density_kg_m3
    if short_by_g(loaded.skin, mass_g=loaded.mass_g, density_kg_m3=density) >= 0.0:
        return _Afloat(rest="sinks")
    if center is None:
        level = held_at(loaded.skin, mass_g=loaded.mass_g, density_kg_m3=density)
        return _Afloat(tub=tub_of(loaded, level))
    floating = Refloater.of(loaded).floating(loaded.mass_g, center)
    if floating is None:
        return _Afloat(rest="sinks")
    refuse_invented(loaded, floating)
    rest = rest_of(loaded, floating)
    if rest == "capsized":
        return _Afloat(rest=rest, floating=floating)
    return _Afloat(
        rest=rest,
        floating=floating,
        readings=expected_readings(load, reader, floating),
        heel=None if bag is None else flattery(craft, finished, loaded),
        tub=tub_of(loaded, floating),
    )


def _answer(
    load: BathLoaded,
    shares: tuple[Share, Share, Ledger],
    bag: Bag | None,
    afloat: _Afloat,
    warnings: tuple[Caveat, ...],
) -> BathAnswer:
    """Return the record of it all."""
    loaded, floating = load.craft, afloat.floating
    center, weighing = loaded.center_of_gravity_mm, loaded.weighing
    density = loaded.water.density_kg_m3
    short = short_by_g(loaded.skin, mass_g=loaded.mass_g, density_kg_m3=density)
    return BathAnswer(
        schema=SCHEMA,
        craft=loaded.name,
        setup=loaded.setup,
        water=loaded.water,
        bodies=tuple(body.name for body in loaded.bodies),
        finished=shares[0],
        aboard=shares[1],
        bag=bag,
        load=BathLoad(
            mass_g=loaded.mass_g,
            plus_minus_g=0.0 if weighing is None else weighing.plus_minus_g,
            center_of_gravity_mm=center,
            center_plus_minus_mm=None if center is None else load.center_plus_minus_mm,
        ),
        rest=afloat.rest,
        short_by_g=short if afloat.rest == "sinks" else None,
        trim_deg=None if floating is None else floating.trim_deg,
        heel_deg=None if floating is None else floating.heel_deg,
        waterline=None if floating is None else _waterline(floating),
        readings=afloat.readings,
        heel=afloat.heel,
        tub=afloat.tub,
        weighed_g=None,
        measured=None,
        incline=None,
        finished_by_inclining=None,
        warnings=warnings,
    )


def _waterline(floating: Floating) -> Waterline:
    """Return the water's plane as a record."""
    x, y, z = (float(value) + 0.0 for value in floating.normal)
    return Waterline(normal=(x, y, z), height_mm=floating.height_mm)
