"""How she floats swamped, and the foam that would keep a point dry."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.float_records import Point
from hullcheck.answers.flood_states import point_of
from hullcheck.answers.rest import rest_of
from hullcheck.answers.swamped_records import KeepDry, Swamped
from hullcheck.answers.swamped_solids import Solids
from hullcheck.answers.swamped_tree import Share, SolidsTree, cube_mm
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.flotation.descent import Descent
from hullcheck.flotation.equilibrium import settle_down
from hullcheck.flotation.floating import Floating, floating_of
from hullcheck.flotation.load import Load, mass_of, volume_of
from hullcheck.geometry.moment_tree import MomentTree
from hullcheck.units import MM3_PER_CM3

_STEPS: Final = 16
_MOST_WEIGHTS: Final = 2.0
"""Times her own weight of foam's lift that is tried at the most."""
_EXACT: Final = 1e-3
"""Of the foam: how closely it is narrowed down."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DryPoint:
    """A point that foam is to keep dry, and where the foam would go [mm]."""

    name: str
    point_mm: Point
    foam_mm: Point


def swamped(
    craft: Craft, solids: Solids, *, sealed: Sequence[str] = (), keep: DryPoint | None = None
) -> Swamped:
    """Return how she floats with every compartment open that is not sealed.

    Parameters
    ----------
    craft : Craft
        With a known center of gravity.
    solids : Solids
        What still displaces, from `swamped_solids.solids_of`.
    sealed : sequence of str
        The compartments those take to be closed.
    keep : DryPoint, optional
        A point to be kept dry, and where foam would go for it.

    Returns
    -------
    Swamped

    Raises
    ------
    InputError
        If her center of gravity is not known.
    SolverError
        If no rest was found.
    """
    floating, short = swamped_floating(craft, solids)
    highest = None
    if floating is not None:
        corners = craft.skin.triangles_mm.reshape(-1, 3)
        highest = float(floating.height_above_water_mm(corners).max())
    return Swamped(
        sealed=tuple(sealed),
        solids=solids.told,
        volume_cm3=SolidsTree(craft, solids.shares).enclosed_mm3 / MM3_PER_CM3,
        rest="sinks" if floating is None else rest_of(craft, floating),
        short_by_g=short if floating is None else None,
        foam_to_float_cm3=None
        if floating is not None
        else volume_of(mass_g=short, density_kg_m3=craft.water.density_kg_m3) / MM3_PER_CM3,
        trim_deg=None if floating is None else floating.trim_deg,
        heel_deg=None if floating is None else floating.heel_deg,
        height_mm=None if floating is None else floating.height_mm,
        normal=None if floating is None else point_of(floating.normal),
        highest_mm=highest,
        keep_dry=None if keep is None else _keep_dry(craft, solids, keep, floating),
    )


def swamped_floating(
    craft: Craft, solids: Solids, *, foam_mm3: float = 0.0, foam_mm: Point = (0.0, 0.0, 0.0)
) -> tuple[Floating | None, float]:
    """Return where she rests on what still displaces, and by how many grams she is too heavy.

    Parameters
    ----------
    craft, solids
        As in `swamped`.
    foam_mm3 : float, default 0
        More foam, as a cube [mm³]; its own weight is not counted.
    foam_mm : tuple of float
        Where that is [mm].

    Returns
    -------
    floating : Floating or None
        None where she sinks. Its volume is what displaces, its wetted area nothing.
    short_g : float
        Below 0 where she floats [g].
    """
    center = craft.center_of_gravity_mm
    if center is None:
        raise InputError(f"{craft.name}: how she floats swamped needs her CG")
    shares = list(solids.shares)
    if foam_mm3 > 0.0:
        shares.append(Share(tree=MomentTree(cube_mm(foam_mm3, foam_mm)), share=1.0))
    tree, density = SolidsTree(craft, shares), craft.water.density_kg_m3
    short = craft.mass_g - mass_of(volume_mm3=tree.enclosed_mm3, density_kg_m3=density)
    if short >= 0.0:
        return None, short
    load = Load(mass_g=craft.mass_g, center_of_gravity_mm=np.array(center), density_kg_m3=density)
    state = settle_down(Descent(tree, load)).state
    return floating_of(craft.skin, state), short


def _keep_dry(craft: Craft, solids: Solids, keep: DryPoint, floating: Floating | None) -> KeepDry:
    """Return the least foam at a place that keeps a point out of the water."""

    def above(foam_mm3: float) -> float:
        """Return the point's height above the water with so much foam [mm]; −inf if she sinks."""
        found, _ = swamped_floating(craft, solids, foam_mm3=foam_mm3, foam_mm=keep.foam_mm)
        if found is None:
            return -np.inf
        return float(found.height_above_water_mm(np.array(keep.point_mm)))

    weight = volume_of(mass_g=craft.mass_g, density_kg_m3=craft.water.density_kg_m3)
    most = _MOST_WEIGHTS * weight
    height = None
    if floating is not None:
        height = float(floating.height_above_water_mm(np.array(keep.point_mm)))
    foam = 0.0 if height is not None and height >= 0.0 else None
    if foam is None:
        foam = _least(above, most)
    return KeepDry(
        name=keep.name,
        point_mm=keep.point_mm,
        height_mm=height,
        foam_cm3=None if foam is None else foam / MM3_PER_CM3,
        most_tried_cm3=most / MM3_PER_CM3,
        foam_mm=keep.foam_mm,
    )


def _least(above: Callable[[float], float], most_mm3: float) -> float | None:
    """Return the least volume up to a most at which a height is not below 0 [mm³]; or None."""
    low = 0.0
    for k in range(1, _STEPS + 1):
        tried = most_mm3 * k / _STEPS
        if above(tried) < 0.0:
            low = tried
            continue
        high = tried
        while high - low > _EXACT * high:
            middle = 0.5 * (low + high)
            low, high = (low, middle) if above(middle) >= 0.0 else (middle, high)
        return high
    return None
