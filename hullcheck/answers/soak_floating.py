"""How she floated in a leak test."""

from hullcheck.craft.craft import Craft
from hullcheck.craft.log_records import LeakTestSetup
from hullcheck.errors import InputError
from hullcheck.flotation.floating import Floating, float_at, held_at, short_by_g
from hullcheck.water import SEA_SALINITY, water_density_kg_m3

_DEFAULT_TEMPERATURE_C = 15.0


def floating_in_soak(craft: Craft, setup: LeakTestSetup) -> Floating:
    """Return where the water stood at the beginning of a leak test.

    Parameters
    ----------
    craft : Craft
        Her skin, and her center of gravity where no attitude was noted.
    setup : LeakTestSetup
        What she weighed, in what water, at what attitude.

    Returns
    -------
    Floating
        At the noted trim and heel (a missing one of the two is 0), else at rest with her own
        center of gravity, else, where that is not known, held level.

    Raises
    ------
    InputError
        If she sinks at the mass of the test.
    SolverError
        If no rest was found.
    """
    density = soak_density_kg_m3(craft, setup)
    mass, center = setup.mass_g, craft.center_of_gravity_mm
    short = short_by_g(craft.skin, mass_g=mass, density_kg_m3=density)
    if short >= 0.0:
        raise InputError(
            f"at the {mass:g} g of the test she sinks: that is {short:.0f} g more than her skin "
            "can carry; strike the entry if the mass is wrong"
        )
    held = setup.trim_deg is not None or setup.heel_deg is not None
    if held or center is None:
        return held_at(
            craft.skin,
            mass_g=mass,
            density_kg_m3=density,
            trim_deg=setup.trim_deg or 0.0,
            heel_deg=setup.heel_deg or 0.0,
        )
    return float_at(
        craft.skin, mass_g=mass, center_of_gravity_mm=center, density_kg_m3=density
    ).floating


def soak_density_kg_m3(craft: Craft, setup: LeakTestSetup) -> float:
    """Return the density of the water of a test [kg/m³]; her own water's where it is of a kind."""
    temperature = setup.temperature_c
    if temperature is None:
        if craft.water.kind == setup.water:
            return craft.water.density_kg_m3
        temperature = _DEFAULT_TEMPERATURE_C
    salinity = SEA_SALINITY if setup.water == "sea" else 0.0
    return water_density_kg_m3(temperature_c=temperature, salinity=salinity)
