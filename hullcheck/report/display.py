"""The units numbers are printed in: grams and millimeters unless others are asked for.

Only print changes. What is computed, stored or written as JSON stays in grams and millimeters.
"""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

from hullcheck.errors import InputError
from hullcheck.units import G_PER_OUNCE, G_PER_POUND, MM2_PER_CM2, MM3_PER_CM3, MM_PER_UNIT

G_PER: Final = MappingProxyType({"g": 1.0, "oz": G_PER_OUNCE, "lb": G_PER_POUND, "kg": 1000.0})
MM_PER: Final = MappingProxyType({"mm": 1.0, "cm": MM_PER_UNIT["cm"], "in": MM_PER_UNIT["inch"]})


@dataclass(frozen=True, slots=True, kw_only=True)
class Display:
    """The units numbers are printed in.

    Attributes
    ----------
    mass : str
        "g", "oz", "lb" or "kg".
    length : str
        "mm", "cm" or "in"; areas and volumes are in cm² and cm³, or in² and in³.
    """

    mass: str = "g"
    length: str = "mm"

    @property
    def area(self) -> str:
        """Unit of areas."""
        return "in²" if self.length == "in" else "cm²"

    @property
    def volume(self) -> str:
        """Unit of volumes."""
        return "in³" if self.length == "in" else "cm³"

    def mass_of(self, mass_g: float) -> float:
        """Return a mass [g] in the unit shown."""
        return mass_g / G_PER[self.mass]

    def length_of(self, length_mm: float) -> float:
        """Return a length [mm] in the unit shown."""
        return length_mm / MM_PER[self.length]

    def area_of(self, area_cm2: float) -> float:
        """Return an area [cm²] in the unit shown."""
        return area_cm2 * MM2_PER_CM2 / MM_PER["in"] ** 2 if self.length == "in" else area_cm2

    def volume_of(self, volume_cm3: float) -> float:
        """Return a volume [cm³] in the unit shown."""
        return volume_cm3 * MM3_PER_CM3 / MM_PER["in"] ** 3 if self.length == "in" else volume_cm3


_GRAMS_AND_MILLIMETERS: Final = Display()
_SHOWN: Final[ContextVar[Display]] = ContextVar("shown", default=_GRAMS_AND_MILLIMETERS)


def shown() -> Display:
    """Return the units numbers are printed in here."""
    return _SHOWN.get()


def display_units(text: str) -> tuple[str, ...]:
    """Return the units named in a text such as "oz,in", at most one of mass and one of length.

    Parameters
    ----------
    text : str
        Names between commas: g, oz, lb, kg; mm, cm, in.

    Raises
    ------
    InputError
        If a name is none of these, or two are of one kind.

    Examples
    --------
    >>> display_units("oz, in")
    ('oz', 'in')
    """
    names = tuple(name.strip() for name in text.split(","))
    _display(names)
    return names


@contextmanager
def shown_in(units: Iterable[str]) -> Iterator[None]:
    """Print masses, lengths, areas and volumes in other units inside the block.

    Parameters
    ----------
    units : iterable of str
        From `display_units`; a kind that is not named stays as it is by default.

    Examples
    --------
    >>> from hullcheck.report.numbers import height_text, mass_text
    >>> with shown_in(("oz", "in")):
    ...     mass_text(690.0), height_text(24.4)
    ('24.3 oz', '0.96 in')
    """
    token = _SHOWN.set(_display(tuple(units)))
    try:
        yield
    finally:
        _SHOWN.reset(token)


def _display(names: tuple[str, ...]) -> Display:
    """Return the display of some unit names; refuse a name that is none, or two of one kind."""
    display, kinds = Display(), set()
    for name in names:
        kind = "mass" if name in G_PER else "length" if name in MM_PER else None
        if kind is None:
            raise InputError(
                f"{name!r} is no unit to show in: use one of {', '.join(G_PER)} for mass and "
                f"one of {', '.join(MM_PER)} for length"
            )
        if kind in kinds:
            raise InputError(f"{','.join(names)!r} names two units of {kind}: give one")
        kinds.add(kind)
        display = replace(display, mass=name) if kind == "mass" else replace(display, length=name)
    return display
