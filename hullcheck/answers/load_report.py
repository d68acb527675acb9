"""Where her mass and her center of gravity come from, for the answer."""

from hullcheck.answers.float_records import LoadReport
from hullcheck.craft.craft import Craft


def load_report(craft: Craft) -> LoadReport | None:
    """Return how well her mass is known; None where mass and center were given outright."""
    weighing = craft.weighing
    if weighing is None:
        return None
    return LoadReport(
        all_up=weighing.all_up,
        items=weighing.items,
        weighed=weighing.weighed,
        unknown=weighing.unknown,
        without_place=weighing.without_place,
        plus_minus_g=weighing.plus_minus_g,
        mass_is_measured=weighing.mass_is_measured,
        center_is_measured=weighing.center_is_measured,
        ledger_mass_g=weighing.ledger_mass_g,
        ledger_center_of_gravity_mm=weighing.ledger_center_of_gravity_mm,
        target_mass_g=craft.target_mass_g,
        cg_range_mm=craft.cg_range_mm,
    )
