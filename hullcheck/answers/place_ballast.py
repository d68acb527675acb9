"""The least ballast with which an item may stay somewhere, and what it costs."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from hullcheck.answers.float_records import Point
from hullcheck.answers.grams_left import margin_of
from hullcheck.answers.place_ends import limit_of
from hullcheck.answers.place_floats import Floats
from hullcheck.answers.place_records import BallastCost, PlaceRow
from hullcheck.answers.place_spots import Spot
from hullcheck.answers.place_windows import Condition, windows
from hullcheck.craft.limits import Limits
from hullcheck.flotation.floating import short_by_g

_STEPS: Final = 32
_TOLERANCE: Final = 1e-7
"""Of her mass."""
_TRIAL: Final = 1e-3
"""Of her mass: ballast to see what a little of it does."""
_ROOM: Final = 1.0 - 1e-6
"""Of the grams until she sinks: at the last of them she floats by nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """The least ballast at a spot with the item at a place, and what it just keeps."""

    mass_g: float
    spot: Spot
    place_mm: Point
    keeps: Condition


def most_g(floats: Floats) -> float:
    """Return how much ballast is tried [g]: until she sinks, and at the most her own mass."""
    free = floats.free
    density = free.craft.water.density_kg_m3
    room = -short_by_g(free.craft.skin, mass_g=free.mass_g, density_kg_m3=density)
    return max(min(_ROOM * room, free.mass_g), 0.0)


def least_ballast(
    floats: Floats, spots: Sequence[Spot], places: Sequence[Point]
) -> BallastCost | None:
    """Return the least ballast with which everything holds.

    Parameters
    ----------
    floats : Floats
        Her, with the item free.
    spots : sequence of Spot
        Where ballast may go.
    places : sequence of tuple of float
        Where the item may be meanwhile [mm].

    Returns
    -------
    BallastCost or None
        None where none up to `most_g` does.

    Notes
    -----
    The item goes to whichever of the places asks for the least. Where ballast moves the CG, that
    is the end of its range on the ballast's side: a millimeter there saves ballast, which costs
    mass.
    """
    least: _Found | None = None
    for spot in spots:
        for place in places:
            most = most_g(floats) if least is None else least.mass_g
            found = _least(floats, spot, place, most) if most > 0.0 else None
            if found is not None and (least is None or found.mass_g < least.mass_g):
                least = found
    return None if least is None else _cost(floats.with_ballast_at(least.spot.center_mm), least)


def _least(floats: Floats, spot: Spot, place: Point, most: float) -> _Found | None:
    """Return the least ballast at a spot with the item at a place, up to some grams."""
    aboard = floats.with_ballast_at(spot.center_mm)

    def slacks_at(grams: float) -> Mapping[Condition, float]:
        """Return the slacks with so many grams aboard."""
        return aboard.slacks(aboard.row(place, grams))

    if not _helps(slacks_at, _TRIAL * floats.free.mass_g):
        return None
    at_ends = _by_moments(floats, spot, place)
    if at_ends:
        # Past the far end of her band she has left it for good.
        most = min(most, at_ends[-1] if len(at_ends) == 2 or _in_band(floats, place) else most)
    # Finer where there is little: a gram in the nose may be all that is needed.
    grams = [most * (i / _STEPS) ** 2 for i in range(_STEPS + 1)]
    grams = sorted({*grams, *(g for g in at_ends if g < most)})
    for two in pairwise(grams):
        found = windows(slacks_at, two, tolerance=_TOLERANCE * floats.free.mass_g)
        if found and found[0].before is not None:
            keeps = found[0].before
            return _Found(mass_g=found[0].first, spot=spot, place_mm=place, keeps=keeps)
        if slacks_at(two[1])["capsizes", ""] < 0.0:
            break
    return None


def _helps(slacks_at: Callable[[float], Mapping[Condition, float]], trial_g: float) -> bool:
    """Return whether a little ballast brings anything that is broken nearer to holding."""
    before, after = slacks_at(0.0), slacks_at(trial_g)
    return any(slack < 0.0 and after[name] > slack for name, slack in before.items())


def _in_band(floats: Floats, place: Point) -> bool:
    """Return whether her CG lies in its band without ballast."""
    return "cg_range_mm" not in floats.row(place).breaks


def _by_moments(floats: Floats, spot: Spot, place: Point) -> list[float]:
    """Return the ballast that puts her CG on an end of its band, in closed form, rising [g]."""
    if floats.band is None:
        return []
    center, at = floats.free.center_with(place)[0], spot.center_mm[0]
    return sorted(
        grams
        for end in floats.band
        if end != at and (grams := floats.free.mass_g * (center - end) / (end - at)) > 0.0
    )


def _cost(floats: Floats, found: _Found) -> BallastCost:
    """Return ballast with what it costs."""
    without, aboard = floats.row(found.place_mm), floats.row(found.place_mm, found.mass_g)
    name, way = found.keeps
    if name == "freeboard_mm":
        way = aboard.freeboard_at or ""
    return BallastCost(
        mass_g=found.mass_g,
        center_mm=found.spot.center_mm,
        place=found.spot.name,
        inside_skin=found.spot.inside(floats.free.craft),
        limited_by=name,
        way=way,
        limit=limit_of(floats, found.keeps),
        without=without,
        aboard=aboard,
        freeboard_cost_mm=_difference(without.freeboard_mm, aboard.freeboard_mm),
        trim_change_deg=_difference(aboard.trim_deg, without.trim_deg),
        grams_left_without_g=_grams_left(floats, without),
        grams_left_g=_grams_left(floats, aboard),
    )


def _grams_left(floats: Floats, row: PlaceRow) -> float | None:
    """Return what may be added at the CG until the freeboard limit breaks [g]."""
    craft = floats.free.craft
    if craft.limits.freeboard_mm is None:
        return None
    center = (row.cg_x_mm, row.cg_y_mm, row.cg_z_mm)
    floating = floats.refloater.floating(row.mass_g, center)
    if floating is None:
        return 0.0
    loaded = replace(
        craft,
        mass_g=row.mass_g,
        center_of_gravity_mm=center,
        limits=Limits(freeboard_mm=craft.limits.freeboard_mm),
    )
    margin = margin_of(loaded, floats.refloater.deck, floating)
    return None if margin is None else margin.mass_g


def _difference(one: float | None, two: float | None) -> float | None:
    """Return one value less another; None where either is missing."""
    return None if one is None or two is None else one - two
