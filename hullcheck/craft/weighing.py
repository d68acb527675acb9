"""How well her mass is known, and from what."""

from dataclasses import dataclass
from typing import Final

from hullcheck.craft.ledger import Ledger, Point

MEASURED_PLUS_MINUS_G: Final = 1.0
"""Of a whole craft on a scale that reads grams (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighing:
    """Where mass and center of gravity come from.

    Attributes
    ----------
    items, weighed : int
        How many items the ledger holds, and how many of them are weighed.
    unknown : tuple of str
        Items neither planned nor weighed.
    without_place : tuple of str
        Items that weigh something and have no x or no z.
    ledger_mass_g : float or None
        Sum of the ledger [g]; None without one.
    ledger_center_of_gravity_mm : tuple of float or None
        Its center [mm].
    mass_is_measured, center_is_measured : bool
        Whether the sheet's measured values stand in for the ledger's sums.
    plus_minus_g : float
        How well the mass is known [g].
    spread : tuple of (float, tuple of float or None)
        How well each mass is known [g] and where it sits [mm]; one entry for a measured whole.
    """

    items: int = 0
    weighed: int = 0
    unknown: tuple[str, ...] = ()
    without_place: tuple[str, ...] = ()
    ledger_mass_g: float | None = None
    ledger_center_of_gravity_mm: Point | None = None
    mass_is_measured: bool = False
    center_is_measured: bool = False
    plus_minus_g: float = 0.0
    spread: tuple[tuple[float, Point | None], ...] = ()

    @classmethod
    def of(cls, ledger: Ledger, *, mass_is_measured: bool, center_is_measured: bool) -> "Weighing":
        """Return how well a ledger's mass is known; a measured one is known to a gram."""
        there = bool(ledger.items)
        return cls(
            items=len(ledger.items),
            weighed=ledger.weighed_count,
            unknown=ledger.unknown,
            without_place=ledger.without_place,
            ledger_mass_g=ledger.mass_g if there else None,
            ledger_center_of_gravity_mm=ledger.center_mm,
            mass_is_measured=mass_is_measured,
            center_is_measured=center_is_measured,
            plus_minus_g=MEASURED_PLUS_MINUS_G if mass_is_measured else ledger.plus_minus_g,
            spread=((MEASURED_PLUS_MINUS_G, None),)
            if mass_is_measured
            else tuple((item.uncertainty_g, item.center_mm) for item in ledger.items),
        )

    @property
    def all_up(self) -> bool:
        """Whether nothing is left out: she was weighed whole, or no item is unknown."""
        return self.mass_is_measured or not self.unknown
