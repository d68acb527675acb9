"""One compartment filling, gram by gram: where she floats with it, and which limits that breaks.

Where she floats depends on the water that is in, not on how it came in: both laws and every leak of
a compartment share these states.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Final

import numpy as np

from hullcheck.answers.flood_states import Flooder, surfaces_of
from hullcheck.answers.freeboard import lowest
from hullcheck.answers.grams_left import where_of
from hullcheck.answers.limits import limit_checks, slack
from hullcheck.answers.rest import CAPSIZED_DEG
from hullcheck.flotation.floating import short_by_g
from hullcheck.flotation.flooded import Flooded
from hullcheck.geometry.arrays import FloatArray

STEPS: Final = 32
"""Into which the filling is divided: what breaks and heals again within one is stepped over."""
_EXACT: Final = 1e-8
"""Of the most that may come in: how closely a break is narrowed down."""
LOST: Final = frozenset({"opening_under", "capsizes", "sinks"})
"""After these the water does not come by the leak alone any more, or there is nothing to tell."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A limit and how far it is kept, in its own unit; below 0 it is broken."""

    limit: str
    at: str | None
    slack: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Filled:
    """She with so much water in.

    Attributes
    ----------
    water_g : float
        Water that has come in [g].
    normal : ndarray, shape (3,)
        Out of the water.
    outside_mm : float
        Height of the sea's surface [mm].
    inside_mm : float or None
        Height of the surface inside [mm]; None where it is dry.
    held : mapping of str to Held
        Every limit, by its key; equipment by "equipment_wet" and its name.
    """

    water_g: float
    normal: FloatArray
    outside_mm: float
    inside_mm: float | None
    held: Mapping[str, Held]


@dataclass(frozen=True, slots=True, kw_only=True)
class Break:
    """The water at which a limit breaks first [g], and the limit."""

    water_g: float
    held: Held


@dataclass(frozen=True, kw_only=True, eq=False)
class Filling:
    """A compartment that fills.

    Attributes
    ----------
    flooder : Flooder
        Whose.
    compartment : str
        Which.
    aboard : mapping of str to float
        Water aboard from the beginning, in any compartment [g].
    opened : tuple of str
        Compartments open to the sea; this one is not.
    """

    flooder: Flooder
    compartment: str
    aboard: Mapping[str, float] = field(default_factory=dict)
    opened: tuple[str, ...] = ()
    _known: dict[float, Filled] = field(default_factory=dict, repr=False)

    @cached_property
    def most_g(self) -> float:
        """The most that may come in: until the compartment is full or she sinks [g]."""
        return min(self._room_g, self._carries_g)

    @property
    def fills_up(self) -> bool:
        """Whether she still floats with the compartment full."""
        return self._room_g < self._carries_g

    @cached_property
    def _room_g(self) -> float:
        """What the compartment still takes [g]."""
        one = self.flooder.named(self.compartment)
        density = self.flooder.craft.water.density_kg_m3
        return one.capacity_mm3 * density * 1e-6 - self.aboard.get(self.compartment, 0.0)

    @cached_property
    def _carries_g(self) -> float:
        """What she still carries before she sinks [g]; below 0 she sinks as she is."""
        craft = self.flooder.craft
        lost = sum(self.flooder.named(name).capacity_mm3 for name in self.opened)
        density = craft.water.density_kg_m3
        mass = craft.mass_g + math.fsum(self.aboard.values()) + lost * density * 1e-6
        return -short_by_g(craft.skin, mass_g=mass, density_kg_m3=density)

    def at(self, water_g: float) -> Filled:
        """Return how she floats once so much has come in, from 0 to less than `most_g` [g]."""
        if water_g not in self._known:
            self._known[water_g] = self._floated(water_g)
        return self._known[water_g]

    def _floated(self, water_g: float) -> Filled:
        """Float her with so much water in."""
        inside = self.aboard.get(self.compartment, 0.0) + water_g
        aboard = {**self.aboard, self.compartment: inside}
        rest = self.flooder.flooded(aboard, self.opened)
        found = rest.flooded
        if found is None:
            raise AssertionError("she was floated with more water than she carries")
        return Filled(
            water_g=water_g,
            normal=found.floating.normal,
            outside_mm=found.floating.height_mm,
            inside_mm=surfaces_of(found).get(self.compartment),
            held=self._held(found),
        )

    def _held(self, found: Flooded) -> dict[str, Held]:
        """Return how every limit is kept."""
        craft, floating = self.flooder.craft, found.floating
        low = lowest(craft, self.flooder.deck, floating)
        name = None if low is None else low.name
        over = abs(floating.heel_deg)
        kept = [Held(limit="capsizes", at=None, slack=CAPSIZED_DEG - over)]
        if low is not None:
            kept.append(Held(limit="opening_under", at=name, slack=low.height_mm))
        for check in limit_checks(
            craft.limits,
            freeboard_mm=None if low is None else low.height_mm,
            trim_deg=floating.trim_deg,
            heel_deg=floating.heel_deg,
        ):
            at = where_of(check, name, floating.trim_deg, floating.heel_deg)
            kept.append(Held(limit=check.name, at=at, slack=slack(check)))
        known = {one.limit: one for one in kept}
        return known | self._equipment(found)

    def _equipment(self, found: Flooded) -> dict[str, Held]:
        """Return how far above water every item of equipment is."""
        surfaces, normal = surfaces_of(found), found.floating.normal
        kept = {}
        for point in self.flooder.points:
            if not point.is_equipment:
                continue
            level = (
                found.floating.height_mm
                if point.compartment is None
                else surfaces.get(point.compartment, -math.inf)
            )
            above = float(np.array(point.point_mm) @ normal) - level
            kept[f"equipment_wet {point.name}"] = Held(
                limit="equipment_wet", at=point.name, slack=above
            )
        return kept

    @cached_property
    def grid_g(self) -> tuple[float, ...]:
        """The steps of the filling [g], where she sinks left out; empty if she sinks as she is."""
        if self.most_g <= 0.0:
            return ()
        steps = np.linspace(0.0, self.most_g, STEPS + 1).tolist()
        return tuple(steps if self.fills_up else steps[:-1])

    @cached_property
    def breaks(self) -> tuple[Break, ...]:
        """Where each limit breaks first, in that order, those broken from the beginning at 0 g.

        Up to the first that loses her.
        """
        found: dict[str, Break] = {}
        before: Filled | None = None
        for grams in self.grid_g:
            here = self.at(grams)
            for key, held in here.held.items():
                if held.slack < 0.0 and key not in found:
                    found[key] = self._narrowed(key, before, here)
            before = here
            if any(one.held.limit in LOST for one in found.values()):
                break
        else:
            if not self.fills_up:
                lost = Held(limit="sinks", at=None, slack=0.0)
                found["sinks"] = Break(water_g=max(self.most_g, 0.0), held=lost)
        ordered = sorted(found.values(), key=lambda one: one.water_g)
        lost_at = next((i for i, one in enumerate(ordered) if one.held.limit in LOST), len(ordered))
        return tuple(ordered[: lost_at + 1])

    @property
    def lost_g(self) -> float | None:
        """Water at which she is lost, by an opening under, falling over or sinking [g]; or None."""
        last = self.breaks[-1] if self.breaks else None
        return last.water_g if last is not None and last.held.limit in LOST else None

    @cached_property
    def steps_g(self) -> tuple[float, ...]:
        """The steps of the filling until she is lost, where that is or where it is full [g]."""
        lost = self.lost_g
        if lost is None:
            return self.grid_g
        return (*(grams for grams in self.grid_g if grams < lost), lost)

    def _narrowed(self, key: str, before: Filled | None, after: Filled) -> Break:
        """Return where a limit breaks between a state that keeps it and one that does not."""
        if before is None:
            return Break(water_g=0.0, held=after.held[key])
        low, high = before.water_g, after.water_g
        grams = crossing(lambda g: self.at(g).held[key].slack, low, high, _EXACT * self.most_g)
        return Break(water_g=grams, held=self.at(grams).held[key])


def crossing(value: Callable[[float], float], low: float, high: float, exact: float) -> float:
    """Return where a value falls from 0 or above to below 0; at a jump, its end.

    Parameters
    ----------
    value : callable
        At `low` 0 or above, maybe infinite, at `high` below 0.
    low, high : float
        Ends.
    exact : float
        How closely.
    """
    if math.isinf(value(low)):
        # Dry yet: a hair of water has a surface, and that is all a root finder needs.
        low = low + 1e-6 * (high - low)
        if value(low) < 0.0:
            return low
    from scipy.optimize import brentq

    return float(brentq(value, low, high, xtol=max(exact, 1e-300)))
