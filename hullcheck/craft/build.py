"""A build: bodies, ledger, openings, limits, and the ways she may be."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from hullcheck.craft.bodies import Body
from hullcheck.craft.body_skin import BodySkin
from hullcheck.craft.craft import Craft
from hullcheck.craft.fittings import Fittings, Structure
from hullcheck.craft.ledger import Ledger, Point
from hullcheck.craft.limits import Limits
from hullcheck.craft.openings import Opening
from hullcheck.craft.setups import Setup
from hullcheck.craft.weighing import Weighing
from hullcheck.errors import InputError
from hullcheck.water import Water, fresh_water

AS_SHE_IS = Setup(name="as she is")


@dataclass(frozen=True, kw_only=True, eq=False)
class Build:
    """All that a build sheet, its ledger and its meshes say.

    Attributes
    ----------
    name : str
        What she is called.
    bodies : tuple of Body
        What floats her.
    water : Water
        What she floats in, unless a setup says otherwise.
    ledger : Ledger
        What she weighs.
    mass_g, center_of_gravity_mm : float, tuple of float, or None
        Measured all-up mass [g] and center [mm]; they stand in for the ledger's sums.
    target_mass_g : float or None
        What she was meant to weigh [g].
    cg_range_mm : tuple of float or None
        Stations her center of gravity must lie between to fly [mm].
    openings : tuple of Opening
        Where water can come in.
    limits : Limits
        What she must keep.
    fittings : Fittings
        Wing tip, propeller, marks, seams and the like.
    structures : mapping of str to Structure
        What each body is made of, by its name.
    setups : tuple of Setup
        Other ways she may be.
    notes : tuple of (str, str)
        What was assumed or repaired in reading: a code and a sentence each.
    skins : tuple of BodySkin
        What each [[body]] of the sheet and each twin is made of, for how it was read.
    """

    name: str
    bodies: tuple[Body, ...]
    water: Water = field(default_factory=fresh_water)
    ledger: Ledger = field(default_factory=Ledger)
    mass_g: float | None = None
    center_of_gravity_mm: Point | None = None
    target_mass_g: float | None = None
    cg_range_mm: tuple[float, float] | None = None
    openings: tuple[Opening, ...] = ()
    limits: Limits = field(default_factory=Limits)
    fittings: Fittings = field(default_factory=Fittings)
    structures: Mapping[str, Structure] = field(default_factory=dict)
    setups: tuple[Setup, ...] = ()
    notes: tuple[tuple[str, str], ...] = ()
    skins: tuple[BodySkin, ...] = ()

    def __post_init__(self) -> None:
        """Refuse names used twice, and a setup of what is not there."""
        for what, names in (
            ("opening", [one.called for one in self.openings]),
            ("setup", [one.name for one in self.setups]),
            ("body", [one.name for one in self.bodies]),
        ):
            twice = next((n for i, n in enumerate(names) if n in names[:i]), None)
            if twice is not None:
                raise InputError(f"{what} {twice!r}: the name is used twice; give each its own")
            if what == "setup" and AS_SHE_IS.name in names:
                raise InputError(
                    f"setup {AS_SHE_IS.name!r}: that is what she is called without a setup; give "
                    "it another name"
                )
        for setup in self.setups:
            setup.of_ledger(self.ledger)
            setup.of_openings(self.openings)

    def setup(self, name: str | None) -> Setup:
        """Return a setup by name, or how she is; InputError if there is none of that name."""
        if name is None or name == AS_SHE_IS.name:
            return AS_SHE_IS
        for setup in self.setups:
            if setup.name == name:
                return setup
        known = ", ".join(repr(setup.name) for setup in self.setups) or "none"
        raise InputError(f"there is no setup {name!r}; the build sheet has: {known}")

    def craft(self, setup: str | None = None) -> Craft:
        """Return the craft as she is, or as a setup has her, ready to be floated.

        Parameters
        ----------
        setup : str, optional
            Name of the setup.

        Returns
        -------
        Craft

        Raises
        ------
        InputError
            If there is no such setup, or her mass is not known.
        """
        chosen = self.setup(setup)
        ledger = chosen.of_ledger(self.ledger)
        mass, center = self.load_of(chosen, ledger)
        return Craft(
            name=self.name,
            bodies=self.bodies,
            mass_g=mass,
            center_of_gravity_mm=center,
            water=chosen.of_water(self.water),
            openings=chosen.of_openings(self.openings),
            limits=self.limits,
            fittings=self.fittings,
            weighing=Weighing.of(
                ledger,
                mass_is_measured=self.mass_g is not None,
                center_is_measured=self.center_of_gravity_mm is not None,
            ),
            target_mass_g=self.target_mass_g,
            cg_range_mm=self.cg_range_mm,
            setup=None if chosen is AS_SHE_IS else chosen.name,
            skins=self.skins,
        )

    def load(self, setup: str | None, ledger: Ledger) -> tuple[float, Point | None]:
        """Return her mass [g] and center [mm] with another ledger, as she is or as a setup has her.

        Parameters
        ----------
        setup : str or None
            Name of the setup.
        ledger : Ledger
            In place of her own, before the setup changes it. Where mass or center were measured,
            they are moved by what differs between the two.

        Raises
        ------
        InputError
            If there is no such setup, her mass is not known or not above 0, or an item that differs
            has no place.
        """
        chosen = self.setup(setup)
        return self.load_of(chosen, chosen.of_ledger(ledger))

    @cached_property
    def skin_center_mm(self) -> Point:
        """Center of the area of all bodies' skin [mm]: where clinging water is taken to sit."""
        weights, places = [], []
        for body in self.bodies:
            corners = body.shell.triangles_mm
            sides = corners[:, 1:] - corners[:, :1]
            weights.append(np.linalg.norm(np.cross(sides[:, 0], sides[:, 1]), axis=1))
            places.append(corners.mean(axis=1))
        areas = np.concatenate(weights)
        x, y, z = (areas @ np.concatenate(places) / areas.sum()).tolist()
        return (x, y, z)

    def load_of(self, setup: Setup, ledger: Ledger) -> tuple[float, Point | None]:
        """Return mass and center [g, mm] with a ledger as a setup has left it; see `load`."""
        if self.mass_g is None and not self.ledger.items:
            raise InputError(
                f"{self.name}: her mass is not known; write weights.csv beside the build sheet, or "
                "mass_g under [craft]"
            )
        if self.mass_g is None and self.center_of_gravity_mm is None:
            mass, center = ledger.mass_g, ledger.center_mm
        else:
            mass, center = self._changed(ledger)
        if not mass > 0.0:
            raise self._weightless(setup, mass)
        if setup.wet_g:
            center = (
                None if center is None else _with(mass, center, setup.wet_g, self.skin_center_mm)
            )
            mass += setup.wet_g
        return mass, center

    def _weightless(self, setup: Setup, mass_g: float) -> InputError:
        """Return the refusal of a mass that is not above 0."""
        if self.mass_g is not None and not self.mass_g > 0.0:
            return InputError(f"{self.name}: mass_g {self.mass_g:g}: must be above 0")
        if setup is not AS_SHE_IS:
            return InputError(
                f"setup {setup.name!r}: it leaves her {mass_g:g} g; the all-up mass must be above "
                "0 g"
            )
        return InputError(
            f"{self.name}: the ledger's items weigh {mass_g:g} g in all; fill in planned_g or "
            "weighed_g, or mass_g under [craft]"
        )

    def _changed(self, ledger: Ledger) -> tuple[float, Point | None]:
        """Return the measured mass and center, moved by what a setup changed in the ledger."""
        before = self.ledger.mass_g if self.mass_g is None else self.mass_g
        center = self.center_of_gravity_mm or self.ledger.center_mm
        new = {item.name: item for item in ledger.items}
        pairs = [(a, new.get(a.name)) for a in self.ledger.items if a != new.get(a.name)]
        grams = [((b.mass_g or 0.0) if b else 0.0, a.mass_g or 0.0) for a, b in pairs]
        mass = before + math.fsum(b - a for b, a in grams)
        if center is None or not pairs or not mass > 0.0:
            return mass, center
        moments = []
        for (a, b), (after_g, before_g) in zip(pairs, grams, strict=True):
            for item, grams_there in ((b, after_g), (a, -before_g)):
                if item is None or grams_there == 0.0:
                    continue
                place = item.center_mm
                if place is None:
                    raise InputError(
                        f"{item.name}: has no place in the ledger, and a setup moves it"
                    )
                moments.append((grams_there, place))
        x, y, z = (
            center[i] + math.fsum(g * (place[i] - center[i]) for g, place in moments) / mass
            for i in range(3)
        )
        return mass, (x, y, z)


def _with(mass_g: float, center: Point, more_g: float, at: Point) -> Point:
    """Return the center of a mass with another one beside it [mm]."""
    share = more_g / (mass_g + more_g)
    x, y, z = (a + share * (b - a) for a, b in zip(center, at, strict=True))
    return (x, y, z)
