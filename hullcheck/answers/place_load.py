"""A build with one item free to be put anywhere: how her CG follows it, by moments."""

import difflib
import math
from dataclasses import dataclass, replace
from typing import Self

from hullcheck.answers.load_caveats import names_in_a_row
from hullcheck.craft.build import Build
from hullcheck.craft.craft import Craft
from hullcheck.craft.fittings import Equipment
from hullcheck.craft.ledger import Item, Ledger, Point
from hullcheck.craft.setups import Setup
from hullcheck.craft.weighing import Weighing
from hullcheck.errors import InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What is asked: an item, and what is set otherwise than in the ledger [g, mm]."""

    item: str
    setup: str | None = None
    mass_g: float | None = None
    y_mm: float | None = None
    z_mm: float | None = None

    def __post_init__(self) -> None:
        """Refuse a mass that is not above 0 and places that are not finite."""
        if self.mass_g is not None and not (math.isfinite(self.mass_g) and self.mass_g > 0.0):
            raise InputError(f"--mass {self.mass_g:g} g: what is to be placed must weigh something")
        for name in ("y_mm", "z_mm"):
            value = getattr(self, name)
            if value is not None and not math.isfinite(value):
                raise InputError(f"--{name[0]} {value:g}: not a finite number")


@dataclass(frozen=True, kw_only=True, eq=False)
class FreeItem:
    """A build in a setup with an item that may be put anywhere.

    Attributes
    ----------
    craft : Craft
        The craft in that setup; her own mass and center do not count.
    item : Item
        The item as the setup has it, its mass as asked for.
    now_mm : tuple of float or None
        Where the ledger and the setup have it [mm].
    equipment : Equipment or None
        What the sheet says of where it may be put.
    mass_g : float
        All-up mass with the item [g].
    start_mm, center_mm : tuple of float
        A place of the item, and her center of gravity with the item there [mm].
    ledger : Ledger
        In that setup, with the item at `start_mm`.
    measured : tuple of bool
        Whether her mass and whether her center were measured.
    mass_from : str
        Where the item's mass comes from: "given", "weighed" or "planned".
    """

    craft: Craft
    item: Item
    now_mm: Point | None
    equipment: Equipment | None
    mass_g: float
    start_mm: Point
    center_mm: Point
    ledger: Ledger
    measured: tuple[bool, bool]
    mass_from: str

    @classmethod
    def of(cls, build: Build, wanted: Wanted) -> Self:
        """Return a build with an item set free.

        Raises
        ------
        InputError
            If there is no such item or setup, the item's mass or height is not known, or the place
            of another one is not.
        """
        setup, raw = build.setup(wanted.setup), _item(build, wanted.item)
        if raw.name in setup.off:
            raise InputError(f"setup {setup.name!r} takes {raw.name} off: it has no place in it")
        moved = _moved_by(setup, raw.name)
        placed, now = _placed(raw, wanted, moved)
        ledger = build.ledger.replaced(placed)
        mass, center = _basis(build, raw, placed).load(wanted.setup, ledger)
        item = setup.of_ledger(ledger).item(raw.name)
        if center is None:
            others = names_in_a_row(tuple(n for n in ledger.without_place if n != raw.name))
            raise InputError(
                f"{build.name}: her CG is not known; fill in x_mm and z_mm of {others} in the "
                "ledger, or cg_mm under [craft]"
            )
        start = item.center_mm
        if start is None or not item.mass_g:
            raise AssertionError("the item was given a place and a mass")
        return cls(
            craft=replace(build, ledger=ledger).craft(wanted.setup),
            item=item,
            now_mm=now,
            equipment=next((e for e in build.fittings.equipment if e.item == raw.name), None),
            mass_g=mass,
            start_mm=start,
            center_mm=center,
            ledger=setup.of_ledger(ledger),
            measured=(build.mass_g is not None, build.center_of_gravity_mm is not None),
            mass_from=_mass_from(raw, wanted),
        )

    @property
    def item_mass_g(self) -> float:
        """The item's mass [g]."""
        return self.item.mass_g or 0.0

    @property
    def share(self) -> float:
        """How far her CG moves for each millimeter the item does."""
        return self.item_mass_g / self.mass_g

    def center_with(self, place_mm: Point) -> Point:
        """Return her center of gravity with the item at a place [mm], by moments."""
        x, y, z = (
            center + self.share * (there - here)
            for center, there, here in zip(self.center_mm, place_mm, self.start_mm, strict=True)
        )
        return (x, y, z)

    def station_for(self, cg_x_mm: float) -> float:
        """Return the item's station that puts her CG at a station [mm]."""
        return self.start_mm[0] + (cg_x_mm - self.center_mm[0]) / self.share

    def craft_with(self, place_mm: Point) -> Craft:
        """Return the craft with the item at a place, its share in what is not known with it."""
        x, y, z = place_mm
        ledger = self.ledger.replaced(replace(self.item, x_mm=x, y_mm=y, z_mm=z))
        mass, center = self.measured
        return replace(
            self.craft,
            mass_g=self.mass_g,
            center_of_gravity_mm=self.center_with(place_mm),
            weighing=Weighing.of(ledger, mass_is_measured=mass, center_is_measured=center),
        )


def _item(build: Build, name: str) -> Item:
    """Return an item of the ledger, refused by a line that names those it has."""
    if name in build.ledger.names:
        return build.ledger.item(name)
    if not build.ledger.items:
        raise InputError(
            f"{build.name}: there is no ledger, so no item {name!r}; write weights.csv beside the "
            "build sheet"
        )
    near = difflib.get_close_matches(name.lower(), build.ledger.names, n=1)
    meant = f"; did you mean {near[0]!r}? It" if near else "; it"
    raise InputError(
        f"the ledger has no item {name!r}{meant} has: {', '.join(map(repr, build.ledger.names))}"
    )


def _mass_from(raw: Item, wanted: Wanted) -> str:
    """Return where the item's mass comes from."""
    if wanted.mass_g is not None:
        return "given"
    return "planned" if raw.weighed_g is None else "weighed"


def _moved_by(setup: Setup, name: str) -> Point:
    """Return how far a setup moves an item [mm]."""
    moves = [by for item, by in setup.move if item == name]
    x, y, z = (math.fsum(move[i] for move in moves) for i in range(3))
    return (x, y, z)


def _placed(raw: Item, wanted: Wanted, moved: Point) -> tuple[Item, Point | None]:
    """Return the ledger's item with a mass and a place, and where it is in the setup now."""
    if wanted.mass_g is None and not raw.mass_g:
        why = "neither planned nor weighed" if raw.mass_g is None else "0 g in the ledger"
        raise InputError(f"{raw.name}: {why}; give --mass G, or fill in planned_g")
    own_z = None if raw.z_mm is None else raw.z_mm + moved[2]
    z = own_z if wanted.z_mm is None else wanted.z_mm
    if z is None:
        raise InputError(f"{raw.name}: has no z_mm in the ledger; give --z MM, its center's height")
    own_y = (raw.y_mm or 0.0) + moved[1]
    y = own_y if wanted.y_mm is None else wanted.y_mm
    center = raw.center_mm
    now = None
    if center is not None:
        now = (center[0] + moved[0], center[1] + moved[1], center[2] + moved[2])
    placed = replace(raw, x_mm=raw.x_mm or 0.0, y_mm=y - moved[1], z_mm=z - moved[2])
    if wanted.mass_g is not None:
        placed = replace(placed, planned_g=wanted.mass_g, weighed_g=None, plus_minus_g=None)
    return placed, now


def _basis(build: Build, raw: Item, placed: Item) -> Build:
    """Return the build whose ledger the load starts from: its own wherever that has a place."""
    if raw.center_mm is not None or not raw.mass_g:
        return build
    if build.center_of_gravity_mm is not None:
        raise InputError(
            f"{raw.name}: her CG was measured with it aboard, and the ledger does not say where; "
            "fill in its x_mm and z_mm as they were"
        )
    x, y, z = placed.x_mm, placed.y_mm, placed.z_mm
    return replace(build, ledger=build.ledger.replaced(replace(raw, x_mm=x, y_mm=y, z_mm=z)))
