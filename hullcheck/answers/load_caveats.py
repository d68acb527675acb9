"""What the reader must know of where mass and center of gravity come from."""

from typing import Final

from hullcheck.answers.float_records import Caveat
from hullcheck.craft.craft import Craft
from hullcheck.craft.weighing import Weighing
from hullcheck.flotation.load import mass_of

_LIGHT: Final = 0.005
"""Of what the skin carries: no craft is so light, and a mass in kilograms is."""
_NAMED: Final = 8
"""So many names are written out."""
_EQUAL: Final = 0.05
"""Grams and millimeters [g, mm] that make no difference where one decimal is printed."""


def load_caveats(craft: Craft) -> tuple[Caveat, ...]:
    """Return what must be said of a craft's mass and center of gravity, the gravest first.

    Parameters
    ----------
    craft : Craft
        What floats.

    Returns
    -------
    tuple of Caveat
        Codes "mass-light", "not-all-up", "cg-out-of-range", "places-missing",
        "ledger-differs".
    """
    found = []
    carried = mass_of(volume_mm3=craft.skin.volume_mm3, density_kg_m3=craft.water.density_kg_m3)
    if craft.mass_g < _LIGHT * carried:
        found.append(
            Caveat(
                code="mass-light",
                message=f"{craft.mass_g:g} g is very little for a skin that carries "
                f"{carried:.0f} g; masses are in grams, not kilograms",
            )
        )
    if craft.weighing is not None:
        found += _of_weighing(craft.weighing, craft)
    center, band = craft.center_of_gravity_mm, craft.cg_range_mm
    if center is not None and band is not None and not band[0] <= center[0] <= band[1]:
        off, way = (
            (band[0] - center[0], "ahead of")
            if center[0] < band[0]
            else (center[0] - band[1], "aft of")
        )
        found.append(
            Caveat(
                code="cg-out-of-range",
                message=f"her CG at station {center[0]:.1f} lies {off:.1f} mm {way} its range, "
                f"{band[0]:g} to {band[1]:g}",
            )
        )
    return tuple(found)


def _of_weighing(weighing: Weighing, craft: Craft) -> list[Caveat]:
    """Return what is not known of the ledger, and how measured values differ from it."""
    found = []
    if not weighing.all_up:
        found.append(
            Caveat(
                code="not-all-up",
                message=f"not all-up: {names_in_a_row(weighing.unknown)} "
                f"{'is' if len(weighing.unknown) == 1 else 'are'} neither planned nor weighed: 0 g "
                "here",
            )
        )
    if weighing.without_place and craft.center_of_gravity_mm is not None:
        found.append(
            Caveat(
                code="places-missing",
                message=f"{names_in_a_row(weighing.without_place)}: no x or z in the ledger, which "
                "is why its center is not known; the measured one counts",
            )
        )
    # A setup changes mass and center on purpose; measured against ledger is said of her as she is.
    differs = _difference(weighing, craft) if craft.setup is None else ""
    if differs:
        found.append(Caveat(code="ledger-differs", message=differs))
    return found


def _difference(weighing: Weighing, craft: Craft) -> str:
    """Return how the measured mass and center differ from the ledger's; "" where nothing does."""
    said = []
    mass, center = weighing.ledger_mass_g, weighing.ledger_center_of_gravity_mm
    if weighing.mass_is_measured and mass is not None:
        off = craft.mass_g - mass
        if abs(off) >= _EQUAL:
            said.append(
                f"measured {craft.mass_g:.1f} g, the ledger sums to {mass:.1f} g: {abs(off):.1f} g "
                f"{'more' if off > 0.0 else 'less'} than it lists"
            )
    here = craft.center_of_gravity_mm
    if weighing.center_is_measured and center is not None and here is not None:
        off = here[0] - center[0]
        if abs(off) >= _EQUAL:
            said.append(
                f"measured CG at station {here[0]:.1f}, the ledger's at {center[0]:.1f}: "
                f"{abs(off):.1f} mm {'aft' if off > 0.0 else 'ahead'} of it"
            )
    return "; ".join(said)


def names_in_a_row(names: tuple[str, ...]) -> str:
    """Return names in a row, the first ones written out."""
    text = ", ".join(names[:_NAMED])
    return text if len(names) <= _NAMED else f"{text} and {len(names) - _NAMED} more"
