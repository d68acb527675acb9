"""What differs between two builds, change by change, in the order it is put aboard."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Final

from hullcheck.answers.compare_records import CompareChange, Kind
from hullcheck.answers.compare_sides import Side, changed_bodies, same_bodies, same_points
from hullcheck.answers.float_records import Point
from hullcheck.craft.craft import Craft
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.openings import Opening
from hullcheck.units import MM3_PER_CM3
from hullcheck.water import Water

_NAMED: Final = 6
"""So many bodies and openings are named."""
Loads = tuple[tuple[float, Point | None], ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Change:
    """A change that is yet to be floated.

    Attributes
    ----------
    row : CompareChange
        What it is called and from what to what; not yet what it does.
    loads : tuple of (float, tuple of float or None)
        Grams put aboard (below 0: taken off) and where [g, mm]; None: at her CG.
    craft : mapping of str to object
        What it replaces of the craft she is floated as.
    whole : Craft or None
        The craft in place of the one so far: other bodies.
    ends : tuple of (float, tuple of float or None), or None
        Mass and center once it is aboard [g, mm]; None where the load stays.
    """

    row: CompareChange
    loads: Loads = ()
    craft: dict[str, Any] = field(default_factory=dict)
    whole: Craft | None = None
    ends: tuple[float, Point | None] | None = None


def load_changes(old: Side, new: Side) -> list[Change]:
    """Return the changes of the load, measured values aside: items, then clinging water."""
    found = item_changes(old.items, new.items)
    before, after = old.chosen.wet_g, new.chosen.wet_g
    if before != after:
        places = [side.build.skin_center_mm for side in (old, new)]
        row = CompareChange(
            name="water clinging to her",
            kind="clinging water",
            mass_before_g=before,
            mass_after_g=after,
            mass_g=after - before,
        )
        found.append(Change(row=row, loads=((-before, places[0]), (after, places[1]))))
    return found


def item_changes(old: Ledger, new: Ledger) -> list[Change]:
    """Return what became of each item: in the order of the old ledger, then what was added.

    Items are the same where their names are, capitals aside. One that weighs nothing in both, or
    whose mass and place are the same, is no change; one that is heavier and elsewhere is two: first
    heavier where it was, then moved.
    """
    after = {item.name.casefold(): item for item in new.items}
    before = {item.name.casefold() for item in old.items}
    pairs: list[tuple[Item | None, Item | None]] = [
        (item, after.get(item.name.casefold())) for item in old.items
    ]
    pairs += [(None, item) for item in new.items if item.name.casefold() not in before]
    return [change for pair in pairs for change in _item_changes(*pair)]


def craft_changes(old: Side, new: Side) -> list[Change]:
    """Return what changed besides the load: water, openings, target and limits, the hull last."""
    return [*_water(old, new), *_openings(old, new), *_limits(old, new), *_hull(old, new)]


def _item_changes(old: Item | None, new: Item | None) -> list[Change]:
    """Return what became of one item: its mass where it was, then its place."""
    before, after = (None if item is None else item.mass_g for item in (old, new))
    moved = _moved(old, new) if before and after else None
    found = []
    more = (after or 0.0) - (before or 0.0)
    if more:
        # What is moved as well is first made heavier where it was.
        there = old if moved is not None else new
        loads = tuple(
            (sign * mass, item.center_mm)
            for sign, mass, item in ((-1.0, before, old), (1.0, after, there))
            if item is not None and mass
        )
        row = CompareChange(
            name=_name(old, new),
            kind=_kind(before, after, gone=new is None),
            mass_before_g=before,
            mass_after_g=after,
            mass_g=more,
        )
        found.append(Change(row=row, loads=loads))
    if moved is not None and old is not None and new is not None and after:
        row = CompareChange(
            name=_name(old, new),
            kind="moved",
            mass_before_g=after,
            mass_after_g=after,
            moved_mm=moved,
        )
        found.append(Change(row=row, loads=((-after, old.center_mm), (after, new.center_mm))))
    return found


def _name(old: Item | None, new: Item | None) -> str:
    """Return what an item is called now, or was."""
    one = new or old
    if one is None:
        raise AssertionError("an item is in one of the ledgers")
    return one.name


def _kind(before: float | None, after: float | None, *, gone: bool) -> Kind:
    """Return what became of an item's mass in a word."""
    if gone:
        return "removed"
    if before is None:
        return "added"
    return "heavier" if (after or 0.0) > before else "lighter"


def _moved(old: Item | None, new: Item | None) -> Point | None:
    """Return how far an item was moved [mm]; None where not, or where a place is not known."""
    if old is None or new is None or old.center_mm is None or new.center_mm is None:
        return None
    x, y, z = (b - a for a, b in zip(old.center_mm, new.center_mm, strict=True))
    return (x, y, z) if x or y or z else None


def _water(old: Side, new: Side) -> list[Change]:
    """Return the change of the water she floats in, if there is one."""
    before, after = old.craft.water, new.craft.water
    if before == after:
        return []
    row = CompareChange(name="water", kind="water", was=_of_water(before), now=_of_water(after))
    return [Change(row=row, craft={"water": after})]


def _of_water(water: Water) -> str:
    """Return a water in words."""
    if water.temperature_c is None:
        return f"{water.density_kg_m3:g} kg/m³"
    return f"{water.kind} {water.temperature_c:g} °C"


def _openings(old: Side, new: Side) -> list[Change]:
    """Return each opening that changed; with another hull only states, the rest goes with it."""
    before = {opening.called: opening for opening in old.craft.openings}
    after = {opening.called: opening for opening in new.craft.openings}
    same_hull = same_bodies(old.craft.bodies, new.craft.bodies)
    found: list[Change] = []
    now = list(old.craft.openings)
    for name in dict.fromkeys((*before, *after)):
        a, b = before.get(name), after.get(name)
        stays = a is not None and b is not None and same_points(a, b)
        if (stays and a is not None and b is not None and a.state == b.state) or not (
            stays or same_hull
        ):
            continue
        now = [opening for opening in now if opening.called != name]
        if b is not None:
            now.append(b)
        row = CompareChange(name=name, kind="opening", was=_of_opening(a), now=_of_opening(b))
        if a is not None and b is not None and not stays:
            row = replace(row, now=f"{_of_opening(b)}, elsewhere")
        found.append(Change(row=row, craft={"openings": tuple(now)}))
    return found


def _of_opening(opening: Opening | None) -> str:
    """Return the state of an opening in words."""
    if opening is None:
        return "not there"
    return opening.state or "state not stated"


def _limits(old: Side, new: Side) -> list[Change]:
    """Return changes of what she is held against; nothing floats otherwise because of them."""
    a, b = old.craft, new.craft
    pairs: Sequence[tuple[str, object, object, str, str]] = (
        ("target mass", a.target_mass_g, b.target_mass_g, " g", "target_mass_g"),
        ("CG range", a.cg_range_mm, b.cg_range_mm, " mm", "cg_range_mm"),
        ("least freeboard", a.limits.freeboard_mm, b.limits.freeboard_mm, " mm", ""),
        ("trim limits", a.limits.trim_deg, b.limits.trim_deg, "°", ""),
        ("greatest heel", a.limits.heel_deg, b.limits.heel_deg, "°", ""),
    )
    return [
        Change(
            row=CompareChange(
                name=name, kind="limits", was=_of_limit(was, unit), now=_of_limit(now, unit)
            ),
            craft={key: now} if key else {"limits": b.limits},
        )
        for name, was, now, unit, key in pairs
        if was != now
    ]


def _of_limit(value: object, unit: str) -> str:
    """Return a limit in words."""
    if value is None:
        return "none"
    if isinstance(value, tuple):
        return " to ".join(f"{end:g}" for end in value) + unit
    return f"{value:g}{unit}"


def _hull(old: Side, new: Side) -> list[Change]:
    """Return the change to other bodies and the openings that come with them, if there is one."""
    before, after = old.craft.bodies, new.craft.bodies
    if same_bodies(before, after):
        return []
    named = [*changed_bodies(before, after), *_changed_openings(old, new)]
    more = f" and {len(named) - _NAMED} more" if len(named) > _NAMED else ""
    names = ", ".join(named[:_NAMED]) + more
    volumes = [
        f"{sum(body.shell.volume_mm3 for body in bodies) / MM3_PER_CM3:.1f} cm³"
        for bodies in (before, after)
    ]
    row = CompareChange(
        name=f"hull or openings: {names}", kind="hull", was=volumes[0], now=volumes[1]
    )
    return [Change(row=row, whole=new.craft)]


def _changed_openings(old: Side, new: Side) -> list[str]:
    """Return the names of openings that were added, removed or moved."""
    before, after = (
        {opening.called: opening for opening in side.craft.openings} for side in (old, new)
    )
    found = []
    for name in dict.fromkeys((*before, *after)):
        a, b = before.get(name), after.get(name)
        if a is None or b is None or not same_points(a, b):
            found.append(name)
    return found
