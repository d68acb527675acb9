"""The weight ledger: items, what they weigh as far as is known, and where they sit."""

import math
from dataclasses import dataclass, replace
from typing import Final, Self

from hullcheck.errors import InputError

Point = tuple[float, float, float]

WEIGHED_PLUS_MINUS_G: Final = 0.5
"""Of a weighed item without one stated: half a gram of a kitchen scale (common practice, no
source)."""
PLANNED_PLUS_MINUS: Final = 0.1
"""Share of a planned mass without one stated: uncalibrated prints come out 10 to 20 % off (common
practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One row of the ledger.

    Attributes
    ----------
    name : str
        What it is called.
    group : str
        What it belongs to, for sums.
    planned_g, weighed_g : float or None
        Mass [g]; the weighed one counts, else the planned. None: not known. 0 is a mass.
    x_mm, y_mm, z_mm : float or None
        Its center in body axes [mm]. A missing y counts as on the center plane.
    plus_minus_g : float or None
        How well its mass is known [g].
    aboard : bool
        Whether it is built in so far.
    note : str
        The builder's own.
    """

    name: str
    group: str = ""
    planned_g: float | None = None
    weighed_g: float | None = None
    x_mm: float | None = None
    y_mm: float | None = None
    z_mm: float | None = None
    plus_minus_g: float | None = None
    aboard: bool = True
    note: str = ""

    def __post_init__(self) -> None:
        """Refuse masses below 0 and numbers that are not finite."""
        for field in ("planned_g", "weighed_g", "plus_minus_g"):
            value = getattr(self, field)
            if value is not None and not (math.isfinite(value) and value >= 0.0):
                raise InputError(f"{self.name}: {field} {value:g}: must not be below 0")
        for field in ("x_mm", "y_mm", "z_mm"):
            value = getattr(self, field)
            if value is not None and not math.isfinite(value):
                raise InputError(f"{self.name}: {field} {value:g}: not a finite number")

    @property
    def mass_g(self) -> float | None:
        """What counts [g]: weighed, else planned, else None."""
        return self.planned_g if self.weighed_g is None else self.weighed_g

    @property
    def center_mm(self) -> Point | None:
        """Its center [mm]; None where x or z is missing."""
        if self.x_mm is None or self.z_mm is None:
            return None
        return (self.x_mm, 0.0 if self.y_mm is None else self.y_mm, self.z_mm)

    @property
    def uncertainty_g(self) -> float:
        """How well its mass is known [g], as stated or by rule of thumb."""
        if self.plus_minus_g is not None:
            return self.plus_minus_g
        if self.weighed_g is not None:
            return WEIGHED_PLUS_MINUS_G
        return PLANNED_PLUS_MINUS * (self.planned_g or 0.0)

    def moved(self, by_mm: Point) -> Self:
        """Return the item moved in body axes [mm]."""
        center = self.center_mm
        if center is None:
            raise InputError(
                f"{self.name}: has no place in the ledger to be moved from; fill in its x_mm and "
                "z_mm"
            )
        x, y, z = (at + by for at, by in zip(center, by_mm, strict=True))
        return replace(self, x_mm=x, y_mm=y, z_mm=z)

    def heavier(self, by_g: float) -> Self:
        """Return the item with grams on top; one that was not known weighs just those."""
        if self.weighed_g is not None:
            return replace(self, weighed_g=self._sum(self.weighed_g, by_g))
        return replace(self, planned_g=self._sum(self.planned_g or 0.0, by_g))

    def _sum(self, mass_g: float, by_g: float) -> float:
        """Return a mass with grams on top, refused below 0."""
        total = mass_g + by_g
        if total < 0.0:
            raise InputError(f"{self.name}: {mass_g:g} g and {by_g:g} g more make {total:g} g")
        return total


@dataclass(frozen=True, slots=True, kw_only=True)
class Ledger:
    """All items, in the order of the file."""

    items: tuple[Item, ...] = ()

    def __post_init__(self) -> None:
        """Refuse two items of one name."""
        seen: set[str] = set()
        for name in self.names:
            if name in seen:
                raise InputError(f"the item {name!r} stands in the ledger twice")
            seen.add(name)

    @property
    def names(self) -> tuple[str, ...]:
        """The items' names."""
        return tuple(item.name for item in self.items)

    @property
    def mass_g(self) -> float:
        """Sum of all known masses [g]."""
        return math.fsum(item.mass_g or 0.0 for item in self.items)

    @property
    def center_mm(self) -> Point | None:
        """Center of all known masses [mm]; None while one of them has no place, or without any.

        Moments are taken about the heaviest item, so that one item alone is its own center to the
        last digit.
        """
        heavy = [item for item in self.items if item.mass_g]
        if not heavy or self.without_place:
            return None
        about = max(heavy, key=lambda item: item.mass_g or 0.0).center_mm
        if about is None:
            return None
        total = self.mass_g
        places = [(item.mass_g or 0.0, item.center_mm or about) for item in heavy]
        x, y, z = (
            about[i] + math.fsum(mass * (place[i] - about[i]) for mass, place in places) / total
            for i in range(3)
        )
        return (x, y, z)

    @property
    def unknown(self) -> tuple[str, ...]:
        """Names of items neither planned nor weighed."""
        return tuple(item.name for item in self.items if item.mass_g is None)

    @property
    def without_place(self) -> tuple[str, ...]:
        """Names of items that weigh something and have no x or no z."""
        return tuple(item.name for item in self.items if item.mass_g and item.center_mm is None)

    @property
    def weighed_count(self) -> int:
        """How many items are weighed."""
        return sum(item.weighed_g is not None for item in self.items)

    @property
    def plus_minus_g(self) -> float:
        """How well the sum is known [g]: the items' own, independent of each other."""
        return math.sqrt(math.fsum(item.uncertainty_g**2 for item in self.items))

    def item(self, name: str) -> Item:
        """Return an item by name; InputError if it is not in the ledger."""
        for item in self.items:
            if item.name == name:
                return item
        raise InputError(f"the ledger has no item {name!r}")

    def replaced(self, new: Item) -> Self:
        """Return the ledger with an item of the same name changed."""
        self.item(new.name)
        return replace(
            self, items=tuple(new if item.name == new.name else item for item in self.items)
        )

    def without(self, name: str) -> Self:
        """Return the ledger without an item."""
        self.item(name)
        return replace(self, items=tuple(item for item in self.items if item.name != name))
