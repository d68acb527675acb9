"""Trim under thrust at rest: what pulls high up pushes the bow down."""

import math
from dataclasses import dataclass

import numpy as np

from hullcheck.errors import InputError
from hullcheck.flotation.draft import settle
from hullcheck.flotation.load import Load, volume_of
from hullcheck.flotation.roots import root_between
from hullcheck.geometry.arrays import FloatArray, owned
from hullcheck.geometry.attitude import level_directions, normal_of
from hullcheck.geometry.moment_tree import MomentTree

_STEP = math.radians(1.0)
_FURTHEST = math.radians(45.0)
_TOLERANCE = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Thrust:
    """A thrust at her.

    Attributes
    ----------
    thrust_g : float
        [grams-force]
    hub_mm : ndarray, shape (3,)
        A point of its line [mm].
    axis : ndarray, shape (3,)
        Unit vector along it, in body axes.
    """

    thrust_g: float
    hub_mm: FloatArray
    axis: FloatArray

    def __post_init__(self) -> None:
        """Own the arrays; refuse a thrust that is below 0."""
        if not (math.isfinite(self.thrust_g) and self.thrust_g >= 0.0):
            raise InputError(f"thrust {self.thrust_g:g} g: must not be below 0")
        object.__setattr__(self, "hub_mm", owned(self.hub_mm, (3,)))
        object.__setattr__(self, "axis", owned(self.axis, (3,)))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pulled:
    """Where she lies under thrust: trim [rad], normal, and height of the surface [mm]."""

    trim: float
    normal: FloatArray
    height_mm: float


def trim_under_thrust(
    tree: MomentTree,
    load: Load,
    thrust: Thrust,
    *,
    resisted_mm: FloatArray | None,
    start: tuple[float, float],
) -> Pulled | None:
    """Return where she lies under thrust and held back at a height; None if she goes under first.

    Parameters
    ----------
    tree : MomentTree
        Moments of the skin.
    load : Load
        Her weight.
    thrust : Thrust
        What pulls.
    resisted_mm : ndarray, shape (k, 3), or None
        Points the lowest of which is as low as what holds her back [mm]; None for the waterline.
    start : tuple of float
        Trim and heel to begin at, those at rest or under less thrust [rad]; the heel is held.

    Notes
    -----
    The vertical part T_v takes weight off at the hub; the level part T_h and the resistance are a
    couple M = T_h (z_hub − z_R). With m' = m − T_v and m' G' = m G − T_v H the energy over trim is
    m' n·(G' − B) + M τ, and the trim is where m' (G' − B)·e_L = M: found from rest downward, the
    first one met. The height of the resistance at rest is not known: ask for keel and waterline,
    the answers are the ends of a band. No planing lift.
    """
    near: list[float | None] = [None]

    def excess(trim: float) -> float:
        """Return the bow-up moment left over at a trim [g·mm]; the height is kept for the next."""
        value, near[0] = _excess(tree, load, thrust, (trim, start[1], near[0]), resisted_mm)
        return value

    here, value = start[0], excess(start[0])
    way = 1.0 if value > 0.0 else -1.0
    while value != 0.0 and (value > 0.0) == (way > 0.0):
        if abs(here - start[0]) > _FURTHEST:
            return None
        following = here + way * _STEP
        after = excess(following)
        if (after > 0.0) != (value > 0.0) or after == 0.0:
            here = root_between(excess, (here, following), (value, after), tolerance=_TOLERANCE)
            break
        here, value = following, after
    normal = normal_of(trim=here, heel=start[1])
    lifted = thrust.thrust_g * float(thrust.axis @ normal)
    volume = volume_of(mass_g=load.mass_g - lifted, density_kg_m3=load.density_kg_m3)
    height = settle(tree, normal, volume)[0] + float(normal @ tree.origin_mm)
    return Pulled(trim=here, normal=normal, height_mm=height)


def _excess(
    tree: MomentTree,
    load: Load,
    thrust: Thrust,
    attitude: tuple[float, float, float | None],
    resisted_mm: FloatArray | None,
) -> tuple[float, float]:
    """Return m' (G' − B)·e_L − M at an attitude, above 0 she raises her bow [g·mm], and the height.

    The attitude is trim, heel [rad] and a height of the surface near the right one [mm].
    """
    trim, heel, near = attitude
    normal = normal_of(trim=trim, heel=heel)
    aft = level_directions(trim=trim, heel=heel)[0]
    lifted = thrust.thrust_g * float(thrust.axis @ normal)
    level = -thrust.thrust_g * float(thrust.axis @ aft)
    mass = load.mass_g - lifted
    if not mass > 0.0:
        raise InputError(
            f"thrust {thrust.thrust_g:g} g lifts her {load.mass_g:g} g off the water at "
            f"{math.degrees(trim):.0f}° of trim"
        )
    volume = volume_of(mass_g=mass, density_kg_m3=load.density_kg_m3)
    height, under = settle(tree, normal, volume, height=near, tolerance=1e-12)
    buoyancy = under.position_integral / under.volume + tree.origin_mm
    surface = height + float(normal @ tree.origin_mm)
    held = surface if resisted_mm is None else float(np.min(resisted_mm @ normal))
    couple = level * (float(normal @ thrust.hub_mm) - held)
    moment = load.mass_g * load.center_of_gravity_mm - lifted * thrust.hub_mm - mass * buoyancy
    return float(moment @ aft) - couple, height
