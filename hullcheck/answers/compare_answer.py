"""Two builds, setups or ledgers: what each change does, put aboard one after another."""

import math
from typing import Final

from hullcheck.answers.afloat import Afloat, Refloater
from hullcheck.answers.caveats import caveats
from hullcheck.answers.compare_changes import Change, craft_changes, load_changes
from hullcheck.answers.compare_records import CompareAnswer, CompareSide
from hullcheck.answers.compare_sides import Side
from hullcheck.answers.compare_walk import Walk, with_loads
from hullcheck.answers.float_records import Caveat
from hullcheck.answers.limit_margins import grams_left
from hullcheck.answers.uncertainty import height_plus_minus_mm
from hullcheck.answers.weights_records import Cost, GramsLeft
from hullcheck.craft.craft import Craft

__all__ = ["SCHEMA", "Side", "compare_answer"]

SCHEMA: Final = "hullcheck.compare/1"
_BACKGROUND: Final = frozenset({"no-openings", "all-sealed", "state-not-stated"})
"""Codes of what `float` says of her openings; none of it is about a change."""


def compare_answer(old: Side, new: Side) -> CompareAnswer:
    """Return each change between two builds, setups or ledgers, and the whole they add up to.

    Parameters
    ----------
    old, new : Side
        What is compared.

    Returns
    -------
    CompareAnswer
        Changes are put aboard in the order of the old ledger, then what was added, each from where
        the last left her; then what is no item, the hull last. So grams, millimeters and degrees
        of the changes add up to those of the whole; where she would not float with a change, what
        it does falls to the next with which she does, and that is said.

    Raises
    ------
    InputError
        If there is no such setup, or a mass is not known.
    SurfaceError
        If much of what is under water had to be invented; see `answers.invented`.
    SolverError
        If no rest was found before any change or after all of them.

    Notes
    -----
    In another order each change would do a little else, as she sits deeper or lighter then; the
    whole would be the same. Without the center of gravity of both nothing is floated, and the
    changes are grams alone.
    """
    before, after = old.craft, new.craft
    floats = before.center_of_gravity_mm is not None and after.center_of_gravity_mm is not None
    walk = Walk.of(before, floats=floats)
    first, origin = walk.afloat, walk.refloater
    loads = with_loads(
        load_changes(old, new),
        (before.mass_g, before.center_of_gravity_mm),
        (after.mass_g, after.center_of_gravity_mm),
        measured=old.is_measured or new.is_measured,
    )
    changes = tuple(walk.put(change) for change in (*loads, *craft_changes(old, new)))
    last = walk.end()
    said = [*walk.said, *_without_place(loads, floats=floats), *_said_of(old, new)]
    return CompareAnswer(
        schema=SCHEMA,
        craft=after.name,
        old=_side(old, first, origin),
        new=_side(new, last, walk.refloater),
        mass_g=after.mass_g - before.mass_g,
        cost=None if first is None or last is None else Cost.between(first, last),
        changes=changes,
        warnings=tuple(said),
    )


def _side(side: Side, afloat: Afloat | None, refloater: Refloater | None) -> CompareSide:
    """Return what is told of one side, and how well its freeboard is known."""
    craft = side.craft
    weighing = craft.weighing
    return CompareSide(
        name=side.name,
        setup=craft.setup,
        mass_g=craft.mass_g,
        plus_minus_g=0.0 if weighing is None else weighing.plus_minus_g,
        center_of_gravity_mm=craft.center_of_gravity_mm,
        items=0 if weighing is None else weighing.items,
        weighed=0 if weighing is None else weighing.weighed,
        water=craft.water,
        afloat=afloat,
        freeboard_plus_minus_mm=None
        if refloater is None or afloat is None or afloat.freeboard_mm is None
        else height_plus_minus_mm(craft, refloater.height_mm),
        grams_left=None if afloat is None else _grams_left(craft),
        cg_in_range=_cg_in_range(craft),
    )


def _grams_left(craft: Craft) -> GramsLeft | None:
    """Return the grams left to the first limit; None where she has none."""
    if not craft.limits.afloat:
        return None
    return next(iter(grams_left(Refloater.of(craft), first_only=True)), None)


def _cg_in_range(craft: Craft) -> bool | None:
    """Return whether her CG lies in the stations it must keep."""
    center, band = craft.center_of_gravity_mm, craft.cg_range_mm
    return None if center is None or band is None else band[0] <= center[0] <= band[1]


def _without_place(changes: list[Change], *, floats: bool) -> list[Caveat]:
    """Return what must be said of changes that have no place."""
    names = [c.row.name for c in changes if any(place is None for _, place in c.loads)]
    if not floats:
        message = "the center of gravity of both is needed to float her; changes are grams alone"
        return [Caveat(code="not-floated", message=message)]
    if not names:
        return []
    message = (
        f"{', '.join(names)}: no x or z in the ledger; taken to act at her CG, as her measured "
        "center stands in for the ledger's"
    )
    return [Caveat(code="places-missing", message=message)]


def _said_of(old: Side, new: Side) -> list[Caveat]:
    """Return what must be known of both, once where it is the same, else with whose it is."""
    said = [
        [c for c in caveats(side.craft, None, ()) if c.code not in _BACKGROUND]
        for side in (old, new)
    ]
    both = [c for c in said[0] if c in said[1]]
    found = list(both)
    for side, of_side in zip((old, new), said, strict=True):
        found += [
            Caveat(code=c.code, message=f"{side.name}: {c.message}")
            for c in of_side
            if c not in both
        ]
    return found


def add_up(answer: CompareAnswer) -> dict[str, float]:
    """Return the sums of the changes' grams [g], millimeters and degrees, to hold to the whole.

    Parameters
    ----------
    answer : CompareAnswer

    Returns
    -------
    dict of str to float
        "mass_g", "freeboard_mm", "trim_deg", "heel_deg", "x_mm", "y_mm", "z_mm"; what a change
        does not have counts as 0.
    """
    costs = [change.cost for change in answer.changes if change.cost is not None]
    sums = {"mass_g": math.fsum(change.mass_g for change in answer.changes)}
    for name in ("freeboard_mm", "trim_deg", "heel_deg"):
        sums[name] = math.fsum(getattr(cost, name) or 0.0 for cost in costs)
    for i, axis in enumerate("xyz"):
        sums[f"{axis}_mm"] = math.fsum(cost.center_of_gravity_mm[i] for cost in costs)
    return sums
