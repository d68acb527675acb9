"""How many grams may be added until the first limit breaks, by floating her again and again."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from hullcheck.answers.float_records import LimitCheck
from hullcheck.answers.freeboard import Deck, limit_value, lowest
from hullcheck.answers.limits import limit_checks, slack
from hullcheck.answers.rest import CAPSIZED_DEG
from hullcheck.answers.uncertainty import READING_MM, margin_plus_minus_g
from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import Floating, float_at, short_by_g
from hullcheck.units import G_PER_MM3_PER_KG_M3

_FINEST: Final = 40
"""Steps until she sinks: a break that heals again within one of them may be stepped over."""
_TOLERANCE: Final = 1e-7
"""Of her mass: a micrometer of freeboard on any hull."""

_JUMP: Final = 1e-3
"""Slack left at the last load that holds, in the limit's unit: more is a jump and not an end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Margin:
    """Grams left, how well they are known, the limit they end at by its key, and where.

    `at` is the point that freeboard is read off, or the way she trims or heels.
    """

    mass_g: float
    limited_by: str
    at: str | None
    plus_minus_g: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tried:
    """A load tried: least slack over the limits, which limit has it, and the lowest point."""

    slack: float
    limit: str
    at: str | None


def margin_of(craft: Craft, deck: Deck, floating: Floating) -> Margin | None:
    """Return the grams that may be added at the CG until the first limit breaks.

    Parameters
    ----------
    craft : Craft
        With limits and a known center of gravity.
    deck : Deck
        What freeboard is read off where she has no opening.
    floating : Floating
        Where she floats now.

    Returns
    -------
    Margin or None
        0 g if a limit is broken already; None where she has no limit. Sinking and capsizing count
        as limits once there is one.

    Notes
    -----
    Her center of gravity stays where it is. Freeboard need not fall evenly: the load grows in steps
    of at most a fortieth of what is left until she sinks, and the first step that breaks a limit is
    narrowed down to 1e-7 of her mass. Where the break is a jump (she falls onto a tip float), the
    grams just before it are given.
    """
    if not craft.limits.afloat:
        return None
    tried = {0.0: _judged(craft, deck, floating)}

    def at(added: float) -> _Tried:
        """Return the load with so many grams added, floated once."""
        if added not in tried:
            tried[added] = _floated(craft, deck, added)
        return tried[added]

    now = tried[0.0]
    if now.slack < 0.0:
        return Margin(mass_g=0.0, limited_by=now.limit, at=now.at)
    room = -short_by_g(craft.skin, mass_g=craft.mass_g, density_kg_m3=craft.water.density_kg_m3)
    held, broken = _bracket(at, room, _first_step(craft, now, floating))
    from scipy.optimize import brentq

    # brentq ends with both ends of its last bracket tried; what is wanted is the end that holds.
    brentq(lambda added: at(added).slack, held, broken, xtol=_TOLERANCE * craft.mass_g)
    grams = max(a for a, load in tried.items() if a < broken and load.slack >= 0.0)
    # On the limit to the last digit, it is the limit; else the load just beyond tells which.
    end = tried[grams if tried[grams].slack == 0.0 else min(a for a in tried if a > grams)]
    return Margin(
        mass_g=grams,
        limited_by=end.limit,
        at=end.at,
        plus_minus_g=None
        if tried[grams].slack > _JUMP and end.limit != "sinks"
        else known_to_g(craft, deck, grams, end.limit),
    )


def known_to_g(craft: Craft, deck: Deck, grams: float, limit: str) -> float | None:
    """Return how well the grams left to a limit are known [g]; None where nothing tells."""
    if limit == "sinks":
        return None if craft.weighing is None else craft.weighing.plus_minus_g
    if limit == "capsizes":
        return None

    def value(floating: Floating) -> float:
        """Return what the limit is on."""
        return limit_value(craft, deck, floating, limit)

    reading = READING_MM if limit == "freeboard_mm" else 0.0
    return margin_plus_minus_g(craft, value, grams, reading=reading) or None


def _first_step(craft: Craft, now: _Tried, floating: Floating) -> float:
    """Return the grams at which the first limit would break if she sank evenly."""
    per_mm = craft.water.density_kg_m3 * G_PER_MM3_PER_KG_M3 * floating.waterplane_area_mm2
    return max(now.slack * per_mm, 1e-3 * craft.mass_g)


def _bracket(at: Callable[[float], _Tried], room: float, guess: float) -> tuple[float, float]:
    """Return a load that holds and a greater one that does not."""
    held, step = 0.0, min(0.7 * guess, room / _FINEST)
    while True:
        broken = min(held + step, room)
        if broken >= room or at(broken).slack < 0.0:
            return held, broken
        held, step = broken, min(max(step, room / (2 * _FINEST)), room / _FINEST)


def _floated(craft: Craft, deck: Deck, added: float) -> _Tried:
    """Return how she floats with grams added at her center of gravity."""
    mass, density = craft.mass_g + added, craft.water.density_kg_m3
    short = short_by_g(craft.skin, mass_g=mass, density_kg_m3=density)
    if short >= -_TOLERANCE * mass:
        return _Tried(slack=-max(short, _TOLERANCE), limit="sinks", at=None)
    center = craft.center_of_gravity_mm
    if center is None:
        raise AssertionError("grams left need a center of gravity")
    rest = float_at(craft.skin, mass_g=mass, center_of_gravity_mm=center, density_kg_m3=density)
    return _judged(craft, deck, rest.floating)


def _judged(craft: Craft, deck: Deck, floating: Floating) -> _Tried:
    """Return how an attitude keeps the limits."""
    over = abs(floating.heel_deg) - CAPSIZED_DEG
    if over > 0.0:
        return _Tried(slack=-over, limit="capsizes", at=None)
    low = None if craft.limits.freeboard_mm is None else lowest(craft, deck, floating)
    checks = limit_checks(
        craft.limits,
        freeboard_mm=None if low is None else low.height_mm,
        trim_deg=floating.trim_deg,
        heel_deg=floating.heel_deg,
    )
    least: LimitCheck = min(checks, key=slack)
    return _Tried(
        slack=slack(least),
        limit=least.name,
        at=where_of(least, None if low is None else low.name, floating.trim_deg, floating.heel_deg),
    )


def where_of(check: LimitCheck, lowest: str | None, trim_deg: float, heel_deg: float) -> str | None:
    """Return the point freeboard is read off, or the way she trims or heels, for a limit."""
    if check.name == "freeboard_mm":
        return lowest
    if check.name == "heel_deg":
        return f"to {'starboard' if heel_deg > 0.0 else 'port'}"
    if not isinstance(check.limit, tuple):
        return None
    below = trim_deg - check.limit[0] < check.limit[1] - trim_deg
    return "bow down" if below else "bow up"
