"""What may be asked of water inside her."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from hullcheck.answers.float_records import Point
from hullcheck.answers.step_bottom import Bottom
from hullcheck.answers.time_afloat_leaks import Breach
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError

GRAMS: Final = (25.0, 50.0, 100.0)
"""Of water in each compartment, unless others are asked for."""
USUAL_NOSE_UP_DEG: Final = 8.0
"""How far a nose comes up at rotation where no step tells (common practice, no source)."""
_MOST_NOSE_UP_DEG: Final = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is asked.

    Attributes
    ----------
    aboard : mapping of str to float
        Water in compartments [g].
    opened : tuple of str
        Compartments open to the sea.
    nose_up_deg : float or None
        The angle water runs aft at [deg]; None for that of her rotation.
    grams : tuple of float
        Water that is put in each compartment in turn [g].
    bilge : tuple of (str, tuple of float or None)
        Points whose bilge level is wanted; without a point a name is that of equipment.
    breaches : tuple of Breach
        A hole or a crack.
    sealed : tuple of str
        Compartments that stay closed when she is swamped.
    keep_dry : (str, tuple of float or None) or None
        The point that foam is to keep dry when she is swamped.
    foam_mm : tuple of float or None
        Where that foam goes [mm].
    """

    aboard: Mapping[str, float] = field(default_factory=dict)
    opened: tuple[str, ...] = ()
    nose_up_deg: float | None = None
    grams: tuple[float, ...] = GRAMS
    bilge: tuple[tuple[str, Point | None], ...] = ()
    breaches: tuple[Breach, ...] = ()
    sealed: tuple[str, ...] = ()
    keep_dry: tuple[str, Point | None] | None = None
    foam_mm: Point | None = None

    def __post_init__(self) -> None:
        """Refuse an angle at which water would not run aft."""
        angle = self.nose_up_deg
        if angle is not None and not abs(angle) <= _MOST_NOSE_UP_DEG:
            raise InputError(
                f"nose up {angle:g}°: must be from {-_MOST_NOSE_UP_DEG:g} to {_MOST_NOSE_UP_DEG:g}°"
            )
        for grams in self.grams:
            if not grams > 0.0:
                raise InputError(f"{grams:g} g of water: must be above 0")

    @property
    def anything_inside(self) -> bool:
        """Whether water aboard or an open compartment is asked about."""
        return bool(self.aboard or self.opened)


def nose_up(craft: Craft, asked: Asked) -> tuple[float, str]:
    """Return the angle water runs aft at [deg], and where it comes from.

    Notes
    -----
    Turned bow up about the step's corner until what lies aft of it touches level water: the angle
    of the line from the corner to the sternpost against body x.
    """
    if asked.nose_up_deg is not None:
        return asked.nose_up_deg, "as asked"
    turn = Bottom.of(craft.deck_body).rotation(None)
    if turn is None or turn.body_deg <= 0.0:
        return USUAL_NOSE_UP_DEG, "the usual 8°, for no step was found"
    return (
        turn.body_deg,
        f"as far as she turns on the step before the {turn.touches} touches the water",
    )
