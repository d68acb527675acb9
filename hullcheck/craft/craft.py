"""A craft: what floats, what it weighs, in what water."""

from dataclasses import dataclass, field
from functools import cached_property, lru_cache

import numpy as np

from hullcheck.craft.bodies import FREEBOARD_ROLES, Body
from hullcheck.craft.body_skin import BodySkin
from hullcheck.craft.fittings import Fittings
from hullcheck.craft.limits import Limits
from hullcheck.craft.openings import Opening
from hullcheck.craft.weighing import Weighing
from hullcheck.errors import InputError
from hullcheck.flotation.load import check_mass
from hullcheck.geometry.skin import Skin
from hullcheck.water import Water


@dataclass(frozen=True, kw_only=True, eq=False)
class Craft:
    """A craft ready to be floated.

    Attributes
    ----------
    name : str
        What she is called in every answer.
    bodies : tuple of Body
        Closed bodies that do not overlap.
    mass_g : float
        All-up mass [g].
    center_of_gravity_mm : tuple of float or None
        In body axes [mm]; None when it is not known.
    water : Water
        What she floats in.
    openings : tuple of Opening
        Where water can come in; empty where none is known.
    limits : Limits
        What she must keep.
    fittings : Fittings
        Wing tip, propeller, marks and the like.
    weighing : Weighing or None
        Where mass and center come from; None where they were given outright.
    target_mass_g : float or None
        What she was meant to weigh [g].
    cg_range_mm : tuple of float or None
        Stations her center of gravity must lie between to fly [mm].
    setup : str or None
        Name of the setup she is in; None as she is.
    skins : tuple of BodySkin
        What her bodies are made of; empty where meshes were taken as they are.
    """

    name: str
    bodies: tuple[Body, ...]
    mass_g: float
    center_of_gravity_mm: tuple[float, float, float] | None
    water: Water
    openings: tuple[Opening, ...] = ()
    limits: Limits = field(default_factory=Limits)
    fittings: Fittings = field(default_factory=Fittings)
    weighing: Weighing | None = None
    target_mass_g: float | None = None
    cg_range_mm: tuple[float, float] | None = None
    setup: str | None = None
    skins: tuple[BodySkin, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a mass or a center of gravity that makes no sense."""
        check_mass(self.mass_g)
        object.__setattr__(self, "mass_g", float(self.mass_g))
        center = self.center_of_gravity_mm
        if center is None:
            return
        if not np.isfinite(center).all():
            raise InputError(f"center of gravity {center} mm: not a finite number")
        x, y, z = (float(v) for v in center)
        object.__setattr__(self, "center_of_gravity_mm", (x, y, z))

    @cached_property
    def skin(self) -> Skin:
        """All bodies as one skin; crafts of the very same bodies, such as setups, share it."""
        return _skin_of(self.bodies)

    @property
    def deck_bodies(self) -> tuple[Body, ...]:
        """The bodies freeboard and draft are read off: hull and main floats, else all."""
        chosen = tuple(body for body in self.bodies if body.role in FREEBOARD_ROLES)
        return chosen or self.bodies

    @property
    def deck_body(self) -> Body:
        """The largest of those bodies: bow, step and stern are its own."""
        return max(self.deck_bodies, key=lambda body: body.shell.volume_mm3)

    @property
    def tip_floats(self) -> tuple[Body, ...]:
        """The tip floats, port first."""
        floats = [body for body in self.bodies if body.role == "tip float"]
        return tuple(sorted(floats, key=lambda b: float(b.shell.low_mm[1])))


@lru_cache(maxsize=2)
def _skin_of(bodies: tuple[Body, ...]) -> Skin:
    """Return bodies as one skin; the last two are kept, as a moment tree takes a while to make."""
    return Skin(
        names=tuple(body.name for body in bodies), shells=tuple(body.shell for body in bodies)
    )
