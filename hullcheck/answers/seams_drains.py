"""Where a drain and a vent would go in each compartment."""

from collections.abc import Sequence
from typing import Final

from hullcheck.answers.seams_records import DrainPlace
from hullcheck.answers.step_bottom import Bottom
from hullcheck.craft.compartment import Compartment
from hullcheck.craft.craft import Craft
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.attitude import normal_of
from hullcheck.units import DEG_PER_RAD

NOSE_UP_DEG: Final = 8.0
"""How far her nose is held up where no step says how far she turns on it (common practice, no
source)."""


def nose_up(craft: Craft) -> tuple[float, str]:
    """Return the trim her compartments are drained at nose up [deg], and where it comes from.

    Returns
    -------
    tuple of float and str
        How far the hull turns about its step until what lies aft of it touches level water; 8°
        where it has none.
    """
    turn = Bottom.of(craft.deck_body).rotation(None)
    if turn is None or not turn.body_deg > 0.0:
        return NOSE_UP_DEG, "taken, as no step says how far she turns"
    return turn.body_deg, f"turned about the step until the {turn.touches} touches"


def drain_places(
    compartments: Sequence[Compartment], normal: FloatArray, nose_up_deg: float
) -> tuple[DrainPlace, ...]:
    """Return the lowest and the highest inside point of compartments.

    Parameters
    ----------
    compartments : sequence of Compartment
        In the order they are told.
    normal : ndarray, shape (3,)
        Out of the water at rest; of its trim and heel upside down is told too.
    nose_up_deg : float
        Trim of the attitude nose up [deg], level across.
    """
    raised = normal_of(trim=nose_up_deg / DEG_PER_RAD, heel=0.0)
    attitudes = (
        ("at rest", normal),
        ("nose up", raised),
        ("inverted", -normal),
    )
    return tuple(
        DrainPlace(
            compartment=one.name,
            attitude=name,
            lowest_mm=_point(one.lowest_mm(up)),
            highest_mm=_point(one.highest_mm(up)),
        )
        for one in compartments
        for name, up in attitudes
    )


def _point(point: FloatArray) -> tuple[float, float, float]:
    """Return a point as numbers."""
    x, y, z = (float(value) + 0.0 for value in point)
    return (x, y, z)
