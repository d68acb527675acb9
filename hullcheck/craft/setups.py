"""Another way she may be: what it changes, and nothing else."""

import math
from dataclasses import dataclass, replace
from typing import Literal

from hullcheck.craft.ledger import Ledger, Point
from hullcheck.craft.openings import Opening, State
from hullcheck.errors import InputError
from hullcheck.water import Water, fresh_water, sea_water

USUAL_TEMPERATURE_C = 15.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Setup:
    """A worst case to look at.

    Attributes
    ----------
    name : str
        What it is called.
    add : tuple of (str, float)
        Item and grams on top of the ledger's; an item not known before counts 0 before it.
    move : tuple of (str, tuple of float)
        Item and how far it is moved in body axes [mm].
    off : tuple of str
        Items taken off.
    wet_g : float
        Water clinging to her [g], at the center of her skin's area.
    water : {"fresh", "sea"} or None
        Other water, at the build's temperature.
    openings : tuple of (str, str)
        Opening and its state.
    """

    name: str
    add: tuple[tuple[str, float], ...] = ()
    move: tuple[tuple[str, Point], ...] = ()
    off: tuple[str, ...] = ()
    wet_g: float = 0.0
    water: Literal["fresh", "sea"] | None = None
    openings: tuple[tuple[str, State], ...] = ()

    def __post_init__(self) -> None:
        """Refuse grams that are not finite, and an item both taken off and changed."""
        if not (math.isfinite(self.wet_g) and self.wet_g >= 0.0):
            raise InputError(f"setup {self.name!r}: wet_g {self.wet_g:g}: must not be below 0")
        touched = {item for item, _ in (*self.add, *self.move)}
        for item in self.off:
            if item in touched:
                raise InputError(f"setup {self.name!r}: {item!r} is taken off and changed as well")

    def of_ledger(self, ledger: Ledger) -> Ledger:
        """Return the ledger as this setup has it; InputError for an item it does not hold."""
        for name, grams in self.add:
            ledger = ledger.replaced(ledger.item(name).heavier(grams))
        for name, by_mm in self.move:
            ledger = ledger.replaced(ledger.item(name).moved(by_mm))
        for name in self.off:
            ledger = ledger.without(name)
        return ledger

    def of_water(self, water: Water) -> Water:
        """Return the water she is in."""
        if self.water is None:
            return water
        degrees = USUAL_TEMPERATURE_C if water.temperature_c is None else water.temperature_c
        make = sea_water if self.water == "sea" else fresh_water
        return make(temperature_c=degrees)

    def of_openings(self, openings: tuple[Opening, ...]) -> tuple[Opening, ...]:
        """Return the openings in the states it names; InputError for one that is not there."""
        states = dict(self.openings)
        for name in states:
            if all(opening.called != name for opening in openings):
                raise InputError(f"setup {self.name!r}: there is no opening {name!r}")
        return tuple(
            replace(one, state=states[one.called]) if one.called in states else one
            for one in openings
        )
