"""The righting arm at a heel with trim and draft free, and its slope."""

import math

import numpy as np

from hullcheck.flotation.descent import State
from hullcheck.geometry.attitude import heel_of, level_directions, trim_of


def righting_arm(state: State, heel: float | None = None) -> float:
    """Return the righting arm (B − G)·e_T [mm]: positive turns her to port.

    Parameters
    ----------
    state : State
        The load at an attitude.
    heel : float, optional
        The heel the state was held at [rad]; read off its normal when left out.
    """
    held = heel_of(state.normal) if heel is None else heel
    across = level_directions(trim=0.0, heel=held)[1]
    return -float(state.gradient @ across)


def righting_slope(state: State) -> float:
    """Return the slope of the righting arm over heel, trim and draft free [mm per rad].

    Parameters
    ----------
    state : State
        The load at a heel, in equilibrium as far as trim and draft go.

    Notes
    -----
    On the sphere with metric dτ² + cos²τ dφ² the plain second derivatives of the energy are
    f_φφ = cos²τ H_TT, f_φτ = cos τ H_TL − tan τ f_φ and f_ττ = H_LL where f_τ = 0, and the trim
    follows heel by dτ/dφ = −f_φτ/f_ττ. With f_φ = cos τ GZ the arm's slope is
    (f_φφ − f_φτ²/f_ττ)/cos τ + GZ tan τ dτ/dφ. At rest this is cos τ (H_TT − H_TL²/H_LL): the
    metacentric height only where heel and trim do not couple.
    """
    trim = trim_of(state.normal)
    cosine, tangent = math.cos(trim), math.tan(trim)
    stiff_across, mixed, arm = _coupling(state)
    follow = trim_follows(state)
    return (cosine**2 * stiff_across + mixed * follow) / cosine + arm * tangent * follow


def trim_follows(state: State) -> float:
    """Return dτ/dφ, by how much the free trim follows heel; NaN where trim has no stiffness.

    Parameters
    ----------
    state : State
        The load at a heel, in equilibrium as far as trim and draft go.
    """
    along = state.directions[0]
    stiff_along = float(along @ state.hessian @ along)
    return math.nan if stiff_along == 0.0 else -_coupling(state)[1] / stiff_along


def _coupling(state: State) -> tuple[float, float, float]:
    """Return H_TT, f_φτ and the arm [mm]; see `righting_slope`."""
    trim = trim_of(state.normal)
    along, across = state.directions
    arm = -float(state.gradient @ across)
    coupled = float(across @ state.hessian @ along)
    mixed = math.cos(trim) * coupled - math.sin(trim) * arm
    return float(across @ state.hessian @ across), mixed, arm


def levers(state: State) -> tuple[float, float]:
    """Return the metacentric heights e·H e [mm], across and along."""
    along, across = state.directions
    stiffness = np.stack([across, along]) @ state.hessian @ np.stack([across, along]).T
    return float(stiffness[0, 0]), float(stiffness[1, 1])
