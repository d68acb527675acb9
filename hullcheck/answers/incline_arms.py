"""The arm that heels a hull, at every heel she may have had, her trim free."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.craft.craft import Craft
from hullcheck.flotation.descent import Descent, State
from hullcheck.flotation.load import Load
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.attitude import normal_of, trim_of

_NODES: Final = 49
_FINE: Final = 800


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Arms:
    """What balances the moments across at each heel, for one mass.

    Attributes
    ----------
    heels : ndarray, shape (n,)
        Rising [rad]; 0 and every heel that was read are among them.
    levers_mm : ndarray, shape (n,)
        k = B_y + B_z tan φ [mm]: a center of gravity at (y, z) rests there if y + z tan φ = k.
    states : tuple of State
        The load at each.
    """

    heels: FloatArray
    levers_mm: FloatArray
    states: tuple[State, ...]

    @property
    def upright(self) -> State:
        """The load without heel."""
        return self.states[int(np.flatnonzero(self.heels == 0.0)[0])]

    def finely(self, heels: FloatArray) -> FloatArray:
        """Return the levers at other heels [mm], by a curve through the nodes without overshoot."""
        from scipy.interpolate import PchipInterpolator

        fine: FloatArray = PchipInterpolator(self.heels, self.levers_mm)(heels)
        at = np.searchsorted(heels, self.heels)
        fine[at] = self.levers_mm
        return fine


def nodes_about(heels: FloatArray, margin: float) -> FloatArray:
    """Return the heels to work the arm out at [rad]: those read, 0, and a margin around them."""
    ends = (min(0.0, float(heels.min())) - margin, max(0.0, float(heels.max())) + margin)
    even = np.linspace(*ends, _NODES)
    exact = np.unique(np.append(heels, 0.0))
    # A node next to one that is wanted exactly would make a needless steep piece.
    apart = np.abs(even[:, None] - exact).min(axis=1) > 0.2 * (even[1] - even[0])
    return np.sort(np.concatenate((even[apart], exact)))


def fine_heels(nodes: FloatArray) -> FloatArray:
    """Return the nodes and many heels between them [rad]."""
    return np.unique(np.concatenate((np.linspace(nodes[0], nodes[-1], _FINE), nodes)))


def arms_of(
    craft: Craft,
    *,
    mass_g: float,
    x_mm: float,
    z_mm: float,
    heels: FloatArray,
    before: Arms | None = None,
) -> Arms:
    """Return the arms of a load whose center is free across.

    Parameters
    ----------
    craft : Craft
    mass_g : float
        [g]
    x_mm, z_mm : float
        Of its center [mm]; they decide the trim at each heel.
    heels : ndarray, shape (n,)
        From `nodes_about` [rad].
    before : Arms, optional
        Of the same heels and nearly the same load, to begin from.

    Notes
    -----
    At each heel the center lies across where it balances there, as far as `before` tells.
    """
    tree, tangents = craft.skin.tree, np.tan(heels)
    across = np.zeros(len(heels)) if before is None else before.levers_mm - z_mm * tangents
    middle = int(np.abs(heels).argmin())
    states: dict[int, State] = {}
    for order in (range(middle, len(heels)), range(middle - 1, -1, -1)):
        for i in order:
            load = Load(
                mass_g=mass_g,
                center_of_gravity_mm=np.array([x_mm, across[i], z_mm]),
                density_kg_m3=craft.water.density_kg_m3,
            )
            descent, heel = Descent(tree, load), float(heels[i])
            near = before.states[i] if before else states.get(i - 1, states.get(i + 1))
            if near is None:
                near = descent.settled(normal_of(trim=0.0, heel=heel), None)
            states[i] = descent.at_heel(heel, near)
    along = [states[i] for i in range(len(heels))]
    buoyancy = np.array([state.buoyancy for state in along]) + tree.origin_mm
    return Arms(
        heels=heels, levers_mm=buoyancy[:, 1] + buoyancy[:, 2] * tangents, states=tuple(along)
    )


def metacenter_of(craft: Craft, state: State) -> tuple[float, float, float]:
    """Return BM across [mm], KM from the lowest point of the skin, and cos τ, without heel."""
    across = state.directions[1]
    origin = craft.skin.tree.origin_mm
    volume = float(state.moments.volume)
    radius = float(across @ state.moments.second_moments @ across) / volume
    low = float((craft.skin.triangles_mm.reshape(-1, 3) @ state.normal).min())
    above = float((state.buoyancy + origin) @ state.normal) - low
    return radius, above + radius, math.cos(trim_of(state.normal))
