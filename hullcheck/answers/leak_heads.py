"""The water along every seam and opening in a leak test, and at the craft's own load."""

from collections.abc import Sequence
from dataclasses import dataclass

from hullcheck.answers.soak_floating import floating_in_soak
from hullcheck.craft.craft import Craft
from hullcheck.craft.log_records import LeakTestSetup
from hullcheck.craft.seam_lines import SeamLine
from hullcheck.flotation.floating import Floating, float_at, held_at, short_by_g
from hullcheck.flotation.heads import Heads
from hullcheck.water import Water, fresh_water, sea_water


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Soak:
    """Where she lay in the water, and the water along her seams.

    Attributes
    ----------
    floating : Floating
        Where she lay.
    water : Water
        In what.
    heads : dict of str to Heads
        By the name of the seam or opening.
    """

    floating: Floating
    water: Water
    heads: dict[str, Heads]

    @property
    def wet(self) -> dict[str, Heads]:
        """The seams and openings that lie under water."""
        return {name: heads for name, heads in self.heads.items() if heads.wet}


def soak_of(craft: Craft, setup: LeakTestSetup, lines: Sequence[SeamLine]) -> Soak:
    """Return where she lay in a leak test; raises InputError where she sinks at its mass."""
    return soak_at(floating_in_soak(craft, setup), soak_water(craft, setup), lines)


def soak_at(floating: Floating, water: Water, lines: Sequence[SeamLine]) -> Soak:
    """Return the water along seams where she floats so."""
    heads = {line.name: line.heads(floating.normal, floating.height_mm) for line in lines}
    return Soak(floating=floating, water=water, heads=heads)


def soak_water(craft: Craft, setup: LeakTestSetup) -> Water:
    """Return the water of a test; where no temperature was noted her own of that kind, or 15 °C."""
    if setup.temperature_c is None:
        if craft.water.kind == setup.water:
            return craft.water
        return sea_water() if setup.water == "sea" else fresh_water()
    make = sea_water if setup.water == "sea" else fresh_water
    return make(temperature_c=setup.temperature_c)


def at_her_load(craft: Craft, lines: Sequence[SeamLine]) -> Soak | None:
    """Return where she lies at her own load, level where her center is not known; None: sinks."""
    load, density = craft.mass_g, craft.water.density_kg_m3
    if short_by_g(craft.skin, mass_g=load, density_kg_m3=density) >= 0.0:
        return None
    center = craft.center_of_gravity_mm
    if center is None:
        floating = held_at(craft.skin, mass_g=load, density_kg_m3=density)
    else:
        floating = float_at(
            craft.skin, mass_g=load, center_of_gravity_mm=center, density_kg_m3=density
        ).floating
    return soak_at(floating, craft.water, lines)
