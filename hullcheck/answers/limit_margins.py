"""Grams left to each limit by itself, from one march of growing loads."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final

from hullcheck.answers.afloat import Afloat, Refloater
from hullcheck.answers.float_records import LimitCheck, Point
from hullcheck.answers.grams_left import known_to_g, where_of
from hullcheck.answers.limits import slack
from hullcheck.answers.weights_records import GramsLeft
from hullcheck.flotation.floating import short_by_g

CAPSIZES: Final = "capsizes"
SINKS: Final = "sinks"
_STEPS: Final = 40
"""Steps until she sinks: a break that heals again within one of them may be stepped over."""
_TOLERANCE: Final = 1e-7
"""Of her mass: a micrometer of freeboard on any hull."""
_HALVINGS: Final = 5
_JUMP: Final = 1e-3
"""Slack left at the last load that holds, in the limit's unit: more is a jump and not an end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _March:
    """A craft with grams added at her center; no load is floated twice."""

    refloater: Refloater
    center_mm: Point
    tried: dict[float, Afloat] = field(default_factory=dict)

    def at(self, added_g: float) -> Afloat:
        """Return how she floats with so many grams added."""
        if added_g not in self.tried:
            mass = self.refloater.craft.mass_g + added_g
            self.tried[added_g] = self.refloater.at(mass, self.center_mm)
        return self.tried[added_g]

    def slack(self, limit: str, added_g: float) -> float:
        """Return how far a limit is kept; below 0 it is broken, or she floats on her feet no more.

        `CAPSIZES` is kept as long as she floats on her feet.
        """
        state = self.at(added_g)
        if state.rest in {"sinks", "capsized"}:
            return -1.0
        return 1.0 if limit == CAPSIZES else slack(_check(state, limit))


def grams_left(refloater: Refloater, *, first_only: bool = False) -> tuple[GramsLeft, ...]:
    """Return the grams that may be added at the CG to each limit by itself, the least first.

    Parameters
    ----------
    refloater : Refloater
        Of a craft with a known center of gravity.
    first_only : bool, default False
        Whether to stop where the first limit breaks: what comes later is not looked for.

    Returns
    -------
    tuple of GramsLeft
        One for each limit of the sheet about how she floats that breaks before she falls over or
        sinks; where one is still kept there, one for that. Empty where her center is not known.

    Notes
    -----
    The load grows by a fortieth of what is left until she sinks; the step in which a limit breaks
    is narrowed down to 1e-7 of her mass, that in which she falls over, where each trial takes long,
    to a 1300th of the room. Her center of gravity stays where it is.
    """
    craft, center = refloater.craft, refloater.craft.center_of_gravity_mm
    if center is None:
        return ()
    room = -short_by_g(craft.skin, mass_g=craft.mass_g, density_kg_m3=craft.water.density_kg_m3)
    if room <= 0.0:
        return (GramsLeft(limit=SINKS, at=None, mass_g=0.0, plus_minus_g=None),)
    march = _March(refloater=refloater, center_mm=center)
    found = list(_brackets(march, room, first_only=first_only))
    rows = [_row(march, limit, held, broken) for limit, held, broken in found]
    names = {check.name for check in march.at(0.0).limits}
    ended = bool(rows) and first_only
    if (
        not ended
        and names - {row.limit for row in rows}
        and all(row.limit != CAPSIZES for row in rows)
    ):
        known = None if craft.weighing is None else craft.weighing.plus_minus_g
        rows.append(GramsLeft(limit=SINKS, at=None, mass_g=room, plus_minus_g=known))
    return tuple(sorted(rows, key=lambda row: row.mass_g))


def _brackets(
    march: _March, room: float, *, first_only: bool
) -> Iterator[tuple[str, float, float]]:
    """Yield each limit that breaks, the last load that held [g], and the first that did not."""
    left = [*(check.name for check in march.at(0.0).limits), CAPSIZES]
    step, held = room / _STEPS, 0.0
    for number in range(_STEPS):
        load = number * step
        falls = march.slack(CAPSIZES, load) < 0.0
        feet = _on_her_feet(march, held, load) if falls and load > 0.0 else load
        for name in [name for name in left if name != CAPSIZES and march.slack(name, feet) < 0.0]:
            yield name, held, feet
            left.remove(name)
        if falls:
            yield CAPSIZES, feet, load
            return
        if left == [CAPSIZES] or (first_only and len(left) <= len(march.at(0.0).limits)):
            return
        held = load


def _on_her_feet(march: _March, held: float, fallen: float) -> float:
    """Return the greatest load found with which she does not fall over [g], by halving."""
    for _ in range(_HALVINGS):
        middle = 0.5 * (held + fallen)
        if march.slack(CAPSIZES, middle) < 0.0:
            fallen = middle
        else:
            held = middle
    return held


def _row(march: _March, limit: str, held: float, broken: float) -> GramsLeft:
    """Return the grams at which a limit breaks between a load that holds and one that does not."""
    if broken == 0.0:
        return GramsLeft(
            limit=limit, at=_where(march.at(0.0), limit), mass_g=0.0, plus_minus_g=None
        )
    if limit == CAPSIZES:
        return GramsLeft(limit=CAPSIZES, at=None, mass_g=held, plus_minus_g=None)
    from scipy.optimize import brentq

    craft = march.refloater.craft
    tolerance = _TOLERANCE * craft.mass_g
    brentq(lambda added: march.slack(limit, added), held, broken, xtol=tolerance)
    between = [a for a in march.tried if held <= a <= broken]
    grams = max(a for a in between if march.slack(limit, a) >= 0.0)
    beyond = min(a for a in between if a > grams)
    end = march.at(beyond)
    if end.rest == "capsized":
        return GramsLeft(limit=CAPSIZES, at=None, mass_g=grams, plus_minus_g=None)
    jumped = march.slack(limit, grams) > _JUMP
    return GramsLeft(
        limit=limit,
        at=_where(end, limit),
        mass_g=grams,
        plus_minus_g=None if jumped else known_to_g(craft, march.refloater.deck, grams, limit),
    )


def _check(state: Afloat, limit: str) -> LimitCheck:
    """Return a limit by its key."""
    return next(check for check in state.limits if check.name == limit)


def _where(state: Afloat, limit: str) -> str | None:
    """Return the point freeboard is read off, or the way she trims or heels, for a limit."""
    if limit == CAPSIZES:
        return None
    return where_of(_check(state, limit), state.at, state.trim_deg or 0.0, state.heel_deg or 0.0)
