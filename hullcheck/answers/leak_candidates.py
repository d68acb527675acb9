"""Loads and attitudes that a leak test can be made at."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from hullcheck.answers.afloat import Refloater
from hullcheck.answers.heights import clearances
from hullcheck.answers.leak_heads import Soak, soak_at
from hullcheck.craft.craft import Craft
from hullcheck.craft.seam_lines import SeamLine
from hullcheck.flotation.floating import Floating, held_at, short_by_g

LOADS: Final = (1.0, 1.15, 1.3, 0.85)
"""Shares of the flying weight, the least trouble first."""
TRIMS_DEG: Final = tuple(sorted(range(-8, 11), key=abs))
HEELS_DEG: Final = (0, 15, -15)
HEELED_TRIMS_DEG: Final = tuple(sorted(range(-4, 5, 2), key=abs))
"""Heeled, fewer trims are tried: both are hard to hold together."""
DRY_MM: Final = 5.0
"""Least height above the water of an opening that is not sealed, and of wing tip and propeller, in
a test held by hand; common practice, no source."""


_ATTITUDES_DEG: Final = tuple(
    (heel, trim) for heel in HEELS_DEG for trim in (HEELED_TRIMS_DEG if heel else TRIMS_DEG)
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Candidate:
    """One set-up for a leak test.

    Attributes
    ----------
    mass_g : float
        What she is to weigh [g].
    held : bool
        Whether she must be held or ballasted to the attitude.
    soak : Soak
        Where she lies, and the water along the seams asked about.
    lowest_mm : float
        Height of the lowest opening that is not sealed, or of the hull's top [mm].
    """

    mass_g: float
    held: bool
    soak: Soak
    lowest_mm: float


def candidates(craft: Craft, lines: Sequence[SeamLine]) -> Iterator[Candidate]:
    """Yield the set-ups that are feasible, the simplest first.

    Parameters
    ----------
    craft : Craft
        At her own load, in her own water.
    lines : sequence of SeamLine
        The seams to tell the head of water along.

    Yields
    ------
    Candidate
        At rest with ballast at her own center of gravity, then held at −8 to 10° of trim by 1°, and
        at 15° of heel to either side within 4° of trim, at 0.85 to 1.3 of her weight. At rest, or
        held level, the freeboard limit of the sheet must hold with that load; at every attitude
        openings that are not sealed, wing tips and propeller stay 5 mm above the water.
    """
    refloater = Refloater.of(craft)
    density = craft.water.density_kg_m3
    for share in LOADS:
        mass = share * craft.mass_g
        if short_by_g(craft.skin, mass_g=mass, density_kg_m3=density) >= 0.0:
            continue
        rest = _at_rest(refloater, mass)
        if refloater.height_mm(rest) < max(craft.limits.freeboard_mm or 0.0, DRY_MM):
            continue
        if craft.center_of_gravity_mm is not None:
            yield from _feasible(refloater, mass, rest, lines, held=False)
        for heel, trim in _ATTITUDES_DEG:
            floating = held_at(
                craft.skin, mass_g=mass, density_kg_m3=density, trim_deg=trim, heel_deg=heel
            )
            yield from _feasible(refloater, mass, floating, lines, held=True)


def _at_rest(refloater: Refloater, mass: float) -> Floating:
    """Return where she rests with a mass at her own center, held level where that is not known."""
    craft = refloater.craft
    center = craft.center_of_gravity_mm
    floating = None if center is None else refloater.floating(mass, center)
    if floating is None:
        return held_at(craft.skin, mass_g=mass, density_kg_m3=craft.water.density_kg_m3)
    return floating


def _feasible(
    refloater: Refloater,
    mass: float,
    floating: Floating,
    lines: Sequence[SeamLine],
    *,
    held: bool,
) -> Iterator[Candidate]:
    """Yield a set-up unless it puts an opening, the wing or the propeller too near the water."""
    craft = refloater.craft
    lowest = refloater.height_mm(floating)
    clear = [point.height_mm for point in clearances(craft, floating)]
    if min([lowest, *clear]) < DRY_MM:
        return
    soak = soak_at(floating, craft.water, lines)
    yield Candidate(mass_g=mass, held=held, soak=soak, lowest_mm=lowest)
