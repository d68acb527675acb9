"""What is swept: her mass, the place of an item, or the water, and the craft at each value."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from hullcheck.answers.sweep_records import Axis, Over
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.craft.ledger import Item, Point
from hullcheck.craft.weighing import Weighing
from hullcheck.errors import InputError
from hullcheck.flotation.load import mass_of
from hullcheck.water import Water, water_of_density

MOST_VALUES: Final = 1000
"""More rows than that no one reads; a finer step makes the ends no finer, they are refined."""
_UNITS: Final = {"mass": "g", "item": "mm", "water": "kg/m3"}
_AXES: Final[tuple[Axis, ...]] = ("x", "y", "z")
_ROWS: Final = 25
_LIGHT: Final = 0.5
"""Share of her mass at which a sweep begins, unless said."""
_OVER: Final = 1.2
"""Share of her mass it reaches at the least, and of the room below an end that it goes beyond."""
_BEYOND: Final = 0.15


@dataclass(frozen=True, kw_only=True, eq=False)
class Sweep:
    """What is swept over.

    Attributes
    ----------
    over : {"mass", "item", "water"}
    values : tuple of float
        Rising: masses [g], places along the axis [mm], or densities [kg/m³].
    craft : Craft
        As she is today, or at the first mass where that is not known.
    craft_at : callable
        The craft at a value.
    today : float or None
        The value she has today.
    waters : tuple of Water
        Of a sweep over the water, in the order of the values.
    item, axis : str or None
        Of a sweep over the place of an item.
    counts_cg : bool
        Whether the stations her CG must keep are one of the limits.
    """

    over: Over
    values: tuple[float, ...]
    craft: Craft
    craft_at: Callable[[float], Craft]
    today: float | None
    waters: tuple[Water, ...] = ()
    item: str | None = None
    axis: Axis | None = None
    counts_cg: bool = False

    def __post_init__(self) -> None:
        """Take plain numbers; refuse a sweep without a center of gravity, or no values."""
        object.__setattr__(self, "values", tuple(float(value) for value in self.values))
        if self.craft.center_of_gravity_mm is None:
            raise _no_center(self.craft)
        if not self.values:
            raise InputError("a sweep needs values")
        if len(self.values) > MOST_VALUES:
            raise InputError(
                f"{len(self.values)} steps are more than the {MOST_VALUES} a sweep may have; "
                "take a wider step, the ends are refined all the same"
            )
        if any(not b > a for a, b in zip(self.values, self.values[1:], strict=False)):
            raise InputError("the values of a sweep must rise")

    @property
    def unit(self) -> str:
        """Unit of the values."""
        return _UNITS[self.over]

    @property
    def center_mm(self) -> Point:
        """Center of gravity as she is [mm]."""
        if self.craft.center_of_gravity_mm is None:
            raise AssertionError("checked when it was made")
        return self.craft.center_of_gravity_mm


def values_between(start: float, stop: float, step: float) -> tuple[float, ...]:
    """Return the values of a range, its last one included where the step meets it.

    Parameters
    ----------
    start, stop, step : float
        The step above 0, the stop not below the start.

    Raises
    ------
    InputError
        If they make no range, or more than a thousand values.

    Examples
    --------
    >>> values_between(0.0, 1.0, 0.25)
    (0.0, 0.25, 0.5, 0.75, 1.0)
    """
    text = f"{start:g}:{stop:g}:{step:g}"
    if not all(math.isfinite(v) for v in (start, stop, step)):
        raise InputError(f"range {text}: not three finite numbers")
    if not step > 0.0:
        raise InputError(f"range {text}: the step {step:g} must be above 0")
    if not stop > start:
        raise InputError(f"range {text}: the end {stop:g} must be above the start {start:g}")
    count = math.floor((stop - start) / step + 1e-9) + 1
    if count > MOST_VALUES:
        raise InputError(
            f"range {text}: {count} steps are more than the {MOST_VALUES} a sweep may have; take "
            "a wider step, the ends are refined all the same"
        )
    return tuple(start + k * step for k in range(count))


def mass_sweep(craft: Craft, values: Sequence[float], *, today: bool = True) -> Sweep:
    """Return the sweep over her mass: grams come and go at her CG, which stays where it is.

    Parameters
    ----------
    craft : Craft
        As she is.
    values : sequence of float
        All-up masses [g].
    today : bool, default True
        Whether the craft's own mass is known, and not just one of the values.

    Raises
    ------
    InputError
        If a mass is not above 0, or her center of gravity is not known.
    """
    low = min(values, default=1.0)
    if not low > 0.0:
        raise InputError(f"mass {low:g} g: must be above 0")
    return Sweep(
        over="mass",
        values=tuple(values),
        craft=craft,
        craft_at=lambda value: replace(craft, mass_g=value),
        today=craft.mass_g if today else None,
    )


def usual_masses(craft: Craft, upper_g: float | None) -> tuple[float, ...]:
    """Return masses from half of hers until she sinks, or a little beyond a mass that ends it.

    Parameters
    ----------
    craft : Craft
        As she is.
    upper_g : float or None
        The mass at which the first limit breaks [g]; None where there is no limit.
    """
    low = _LIGHT * craft.mass_g
    carried = mass_of(volume_mm3=craft.skin.volume_mm3, density_kg_m3=craft.water.density_kg_m3)
    high = carried
    if upper_g is not None:
        high = min(carried, max(upper_g + _BEYOND * (upper_g - low), _OVER * craft.mass_g))
    high = max(high, _OVER * craft.mass_g)
    rough = (high - low) / _ROWS
    size = 10.0 ** math.floor(math.log10(rough))
    step = next(size * k for k in (1.0, 2.0, 2.5, 5.0, 10.0) if size * k >= rough * (1.0 - 1e-9))
    first = max(math.floor(low / step), 1)
    last = math.ceil(high / step - 1e-9)
    return tuple(step * k for k in range(first, last + 1))


def item_sweep(
    build: Build, setup: str | None, item: str, axis: Axis, values: Sequence[float]
) -> Sweep:
    """Return the sweep over the place of an item: all else stays, so her CG goes with it.

    Parameters
    ----------
    build : Build
        With a ledger.
    setup : str or None
        Name of the setup she is in; where that moves the item, its place is that after the move.
    item : str
        Of the ledger.
    axis : {"x", "y", "z"}
        Along which it is moved.
    values : sequence of float
        Places along that axis [mm].

    Raises
    ------
    InputError
        If the ledger has no such item, the setup takes it off, or it has no mass or no place.
    """
    craft, chosen = build.craft(setup), build.setup(setup)
    here = _movable(build, setup, item)
    center = here.center_mm
    if center is None:
        raise AssertionError("checked above")
    along = _AXES.index(axis)

    def craft_at(value: float) -> Craft:
        """Return her with the item at a place along the axis."""
        by = [0.0, 0.0, 0.0]
        by[along] = value - center[along]
        ledger = build.ledger.replaced(build.ledger.item(item).moved((by[0], by[1], by[2])))
        mass, place = build.load(setup, ledger)
        weighing = Weighing.of(
            chosen.of_ledger(ledger),
            mass_is_measured=build.mass_g is not None,
            center_is_measured=build.center_of_gravity_mm is not None,
        )
        return replace(craft, mass_g=mass, center_of_gravity_mm=place, weighing=weighing)

    return Sweep(
        over="item",
        values=tuple(values),
        craft=craft,
        craft_at=craft_at,
        today=center[along],
        item=item,
        axis=axis,
        counts_cg=axis == "x" and craft.cg_range_mm is not None,
    )


def water_sweep(craft: Craft, waters: Sequence[Water]) -> Sweep:
    """Return the sweep over the water she floats in, by its density.

    Parameters
    ----------
    craft : Craft
        As she is.
    waters : sequence of Water
        In any order; of equal densities the first counts.
    """
    by_density: dict[float, Water] = {}
    for water in (*waters, craft.water):
        by_density.setdefault(water.density_kg_m3, water)
    values = tuple(sorted({water.density_kg_m3 for water in waters}))

    def craft_at(value: float) -> Craft:
        """Return her in water of a density."""
        return replace(craft, water=by_density.get(value) or water_of_density(value))

    return Sweep(
        over="water",
        values=values,
        craft=craft,
        craft_at=craft_at,
        today=craft.water.density_kg_m3,
        waters=tuple(by_density[value] for value in values),
    )


def _movable(build: Build, setup: str | None, name: str) -> Item:
    """Return an item as a setup has it; refused unless it is there, has a mass and a place."""
    if name not in build.ledger.names:
        known = ", ".join(build.ledger.names) or "none"
        raise InputError(f"the ledger has no item {name!r}; it has: {known}")
    chosen = build.setup(setup)
    if name in chosen.off:
        raise InputError(f"{name}: setup {chosen.name!r} takes it off; there is nothing to move")
    item = chosen.of_ledger(build.ledger).item(name)
    if item.mass_g is None:
        raise InputError(
            f"{name}: neither planned nor weighed, so moving it changes nothing; fill in planned_g"
        )
    if item.mass_g == 0.0:
        raise InputError(f"{name}: weighs 0 g, so moving it changes nothing")
    if item.center_mm is None:
        raise InputError(f"{name}: has no place in the ledger; fill in x_mm and z_mm")
    return item


def _no_center(craft: Craft) -> InputError:
    """Return the refusal of a craft whose center of gravity is not known."""
    return InputError(
        f"{craft.name}: a sweep needs the center of gravity: --cg X,Y,Z in mm, or x_mm and z_mm of "
        "every item in the ledger"
    )
