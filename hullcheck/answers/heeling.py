"""A craft on her righting curve: where she rests, and what goes under at which heel."""

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Final, Self

import numpy as np

from hullcheck.answers.rest import UPRIGHT_DEG
from hullcheck.answers.upset_records import Side
from hullcheck.craft.bodies import Body
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.flotation.descent import Descent
from hullcheck.flotation.floating import Rest, float_at
from hullcheck.flotation.load import Load
from hullcheck.flotation.righting_curve import RightingCurve, heels_between
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.extremes import extreme_points

SIDES: Final[tuple[tuple[Side, float], ...]] = (("starboard", 1.0), ("port", -1.0))
FLOAT_ROLES: Final = ("tip float", "sponson")
_HAIR: Final = math.radians(0.01)
"""So far past rest the arm is looked at first [rad]."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Heeling:
    """A craft on her righting curve.

    Attributes
    ----------
    craft : Craft
        Afloat, her center of gravity known.
    curve : RightingCurve
        Her curve, in radians.
    all_attitudes : bool
        Whether all her stable attitudes are looked for with `rest`.
    """

    craft: Craft
    curve: RightingCurve
    all_attitudes: bool = False
    _points: dict[str, FloatArray] = field(default_factory=dict, repr=False)

    @classmethod
    def of(cls, craft: Craft, *, all_attitudes: bool = False) -> Self:
        """Return a craft on her curve; InputError when no center of gravity is known or she sinks.

        All her stable attitudes are looked for when they are asked for.
        """
        if craft.center_of_gravity_mm is None:
            raise no_center(craft)
        curve = RightingCurve(Descent(craft.skin.tree, load_of(craft)))
        return cls(craft=craft, curve=curve, all_attitudes=all_attitudes)

    @cached_property
    def rest(self) -> Rest:
        """Where she floats, set down upright."""
        load = load_of(self.craft)
        return float_at(
            self.craft.skin,
            mass_g=load.mass_g,
            center_of_gravity_mm=load.center_of_gravity_mm,
            density_kg_m3=load.density_kg_m3,
            all_attitudes=self.all_attitudes,
        )

    @property
    def rest_heel(self) -> float:
        """Heel at rest [rad]."""
        return math.radians(self.rest.floating.heel_deg)

    @property
    def lean(self) -> float:
        """The side she leans to, 1 to starboard, −1 to port; 0 upright."""
        heel = self.rest.floating.heel_deg
        return 0.0 if abs(heel) < UPRIGHT_DEG else math.copysign(1.0, heel)

    def path(self, side: float, stop: float | None = None) -> list[float]:
        """Return heels from rest to one side [rad], as far as 180° or a heel given."""
        return heels_between(self.rest_heel, side * math.pi if stop is None else stop)

    def out(self, side: float) -> list[float]:
        """Return heels from 0 to 180° on one side [rad]."""
        return heels_between(0.0, side * math.pi)

    def points_of(self, body: Body) -> FloatArray:
        """Return the corners of a body that may be its lowest or highest [mm], shape (k, 3)."""
        if body.name not in self._points:
            self._points[body.name] = extreme_points(body.shell.triangles_mm)
        return self._points[body.name]

    def lowest_mm(self, points_mm: FloatArray) -> Callable[[float], float]:
        """Return the height above the water of the lowest of some points, by heel [rad]."""
        return lambda heel: float(self.curve.heights_mm(heel, points_mm).min())

    def highest_mm(self, points_mm: FloatArray) -> Callable[[float], float]:
        """Return the height above the water of the highest of some points, by heel [rad]."""
        return lambda heel: float(self.curve.heights_mm(heel, points_mm).max())

    def falls_at(self, height: Callable[[float], float], side: float) -> float | None:
        """Return the least heel on a side [rad] at which a height comes down to the water."""
        return self.curve.first_fall(height, self.out(side))

    def range_to(self, side: float) -> float | None:
        """Return the first heel past rest on a side at which the arm falls through zero [rad]."""
        start = self.rest_heel + side * _HAIR
        if abs(start) >= math.pi:
            return None
        heels = heels_between(start, side * math.pi)
        return self.curve.first_fall(lambda heel: side * self.curve.arm(heel), heels)

    @cached_property
    def wing_mm(self) -> FloatArray | None:
        """Corners of wing tips that are not in the meshes [mm]; None where none is known."""
        wing = self.craft.fittings.wing
        modelled = any(body.role == "wing" for body in self.craft.bodies)
        return None if wing is None or modelled else wing.corners_mm

    @cached_property
    def beyond(self) -> dict[float, float | None]:
        """The heel by side past which the wing, not in the meshes, is in the water [rad]."""
        corners = self.wing_mm
        if corners is None:
            return {1.0: None, -1.0: None}
        return {side: self.falls_at(self.lowest_mm(corners), side) for _, side in SIDES}

    def is_beyond(self, heel: float) -> bool:
        """Return whether the curve at a heel [rad] says nothing of her with her wing on."""
        edge = self.beyond[1.0 if heel >= 0.0 else -1.0]
        return edge is not None and abs(heel) > abs(edge) + 1e-12

    @property
    def floats(self) -> tuple[Body, ...]:
        """Tip floats and sponsons, the starboard ones first."""
        found = [body for body in self.craft.bodies if body.role in FLOAT_ROLES]
        return tuple(sorted(found, key=lambda body: -body.shell.center_plane_mm))


def no_center(craft: Craft) -> InputError:
    """Return the refusal of a craft whose center of gravity is not known."""
    return InputError(
        f"{craft.name}: a righting arm needs the center of gravity: --cg X,Y,Z in mm, or x_mm and "
        "z_mm of every item in the ledger"
    )


def load_of(craft: Craft) -> Load:
    """Return what a craft weighs, where, and in what water; her center must be known."""
    return Load(
        mass_g=craft.mass_g,
        center_of_gravity_mm=np.array(craft.center_of_gravity_mm, dtype=np.float64),
        density_kg_m3=craft.water.density_kg_m3,
    )


def degrees(heel: float | None) -> float | None:
    """Return an angle [rad] in degrees, None as None."""
    return None if heel is None else math.degrees(heel)
