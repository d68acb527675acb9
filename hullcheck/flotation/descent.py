"""Floating is a minimum of potential energy on the sphere of directions the water can lie in.

With B(n) the center of the displaced volume when the plane has normal n and the volume is that of
the load, and G the center of gravity, the energy over weight is f(n) = n·(G − B), its gradient the
part of G − B that lies in the plane, its second derivative J/V − f I with J the second moments of
the waterplane. A step that leaves the volume a little short is not solved again: the missing slab
is taken to lie on the plane, which is right to second order.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.errors import SolverError
from hullcheck.flotation.contents import Aboard, WaterAboard, basins_of, center_with
from hullcheck.flotation.draft import settle
from hullcheck.flotation.load import Load, volume_of
from hullcheck.flotation.steps import downhill_step, turned
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.attitude import angle_between, heel_of, level_directions, normal_of, trim_of
from hullcheck.geometry.moment_tree import Displacing
from hullcheck.geometry.moments import VolumeMoments

GRADIENT_TOLERANCE: Final = 1e-11
"""Of the skin's length: a lever of 6e-9 mm on a 600 mm hull."""

NEUTRAL: Final = 1e-9
"""Eigenvalues within this share of the length count as zero: she stays where she is put."""

_VOLUME_SLACK: Final = 0.02
_SLAB_SHARE: Final = 0.1
_TRUST_RAD: Final = 0.35
_KICK_RAD: Final = 0.05
_STEPS: Final = 400
_SAME_RAD: Final = 1e-4


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class State:
    """The load at one attitude.

    Attributes
    ----------
    normal : ndarray, shape (3,)
        Unit normal out of the water.
    height : float
        Of the plane above the tree's origin [mm].
    moments : VolumeMoments
        What lies under it, about the tree's origin.
    missing : float
        Load's volume less the displaced one [mm³].
    buoyancy, gravity : ndarray, shape (3,)
        Centers of buoyancy at the load's volume and of gravity with the water aboard, about the
        tree's origin [mm].
    energy : float
        n·(G − B) [mm].
    gradient : ndarray, shape (3,)
        Of the energy along the sphere [mm per rad].
    hessian : ndarray, shape (3, 3)
        Of the energy along the sphere [mm per rad²]; n is in its null space.
    water : tuple of WaterAboard
        Where the water shut in compartments lies.
    """

    normal: FloatArray
    height: float
    moments: VolumeMoments
    missing: float
    buoyancy: FloatArray
    gravity: FloatArray
    energy: float
    gradient: FloatArray
    hessian: FloatArray
    water: tuple[WaterAboard, ...] = ()

    @property
    def directions(self) -> tuple[FloatArray, FloatArray]:
        """Level unit vectors aft and to starboard."""
        return level_directions(trim=trim_of(self.normal), heel=heel_of(self.normal))

    def eigen(self) -> tuple[FloatArray, FloatArray]:
        """Return the two stiffnesses [mm], least first, and their directions as columns (3, 2)."""
        basis = np.stack(self.directions, axis=1)
        values, vectors = np.linalg.eigh(basis.T @ self.hessian @ basis)
        return values, basis @ vectors


class Descent:
    """Energy of one load on one skin, and the ways down it.

    Parameters
    ----------
    tree : MomentTree or like it
        Moments of the skin.
    load : Load
        Without the water aboard; with it, lighter than the whole skin's buoyancy.
    aboard : sequence of Aboard, optional
        Water shut in compartments.
    """

    def __init__(self, tree: Displacing, load: Load, aboard: Sequence[Aboard] = ()) -> None:
        self.tree = tree
        self.load = load
        self.basins = basins_of(aboard, load.density_kg_m3)
        self.mass_g = load.mass_g + math.fsum(basin.aboard.water_g for basin in self.basins)
        self.volume = volume_of(mass_g=self.mass_g, density_kg_m3=load.density_kg_m3)
        self.gravity: FloatArray = load.center_of_gravity_mm - tree.origin_mm
        self.length = tree.length_mm

    def state(self, normal: FloatArray, height: float | None) -> State:
        """Return the load's state at a normal [unit], from a height [mm] near the right one."""
        if height is not None:
            moments = self.tree.under(normal, height)
            missing = self.volume - moments.volume
            if abs(missing) <= _VOLUME_SLACK * self.volume and self._has_slab(moments):
                return self._state(normal, height, moments)
        height, moments = settle(self.tree, normal, self.volume, height=height, tolerance=5e-3)
        if not self._has_slab(moments):
            height, moments = settle(self.tree, normal, self.volume, height=height)
        return self._state(normal, height, moments)

    def settled(self, normal: FloatArray, height: float | None) -> State:
        """Return the load's state at a normal with its volume solved as far as rounding allows."""
        height, moments = settle(self.tree, normal, self.volume, height=height)
        return self._state(normal, height, moments)

    def _state(self, normal: FloatArray, height: float, moments: VolumeMoments) -> State:
        """Return the energy and its derivatives from what lies under a plane."""
        missing = self.volume - moments.volume
        position = moments.position_integral
        if self._has_slab(moments):
            slab = moments.area_centroid + (0.5 * missing / moments.area) * normal
            position = position + missing * slab
        buoyancy = position / self.volume
        water = self.water_at(normal)
        gravity = self.gravity
        if water:
            gravity = center_with(self.load.center_of_gravity_mm, self.mass_g, water)
            gravity = gravity - self.tree.origin_mm
        lever = gravity - buoyancy
        energy = float(normal @ lever)
        flat = np.eye(3) - np.outer(normal, normal)
        stiffness = moments.second_moments / self.volume - energy * flat
        return State(
            normal=normal,
            height=height,
            moments=moments,
            missing=missing,
            buoyancy=buoyancy,
            gravity=gravity,
            energy=energy,
            gradient=lever - energy * normal,
            hessian=stiffness - self.softening(water) if water else stiffness,
            water=water,
        )

    def water_at(self, normal: FloatArray) -> tuple[WaterAboard, ...]:
        """Return where the water aboard lies when the sea has a normal [unit]."""
        return tuple(basin.at(normal) for basin in self.basins)

    def softening(self, water: tuple[WaterAboard, ...]) -> FloatArray:
        """Return what free surfaces take off the stiffness, shape (3, 3): Σ (w/(m + Σ w)) j/v."""
        soft = np.zeros((3, 3))
        for one in water:
            soft += (one.water_g / (self.mass_g * one.volume_mm3)) * one.second_moments_mm4
        return soft

    def _has_slab(self, moments: VolumeMoments) -> bool:
        """Return whether what is missing makes a thin slab on the waterplane.

        Between two bodies, one under and one barely touched, the waterplane is nothing but
        rounding: a slab on it would reach to the sky.
        """
        missing = abs(self.volume - moments.volume)
        return moments.area > 0.0 and missing <= _SLAB_SHARE * self.length * moments.area

    def rest(self, state: State, *, lean: float = 1.0, known: Sequence[State] = ()) -> State:
        """Return the stable attitude reached downhill from a state.

        Parameters
        ----------
        state : State
            Where to begin.
        lean : float, default 1
            Where two ways down are alike: 1 goes to starboard, −1 to port.
        known : sequence of State, optional
            Minima met before; one of them is returned as soon as a step leads straight to it.

        Returns
        -------
        State
            A minimum, or where the least stiffness is zero within `NEUTRAL`.

        Raises
        ------
        SolverError
            If no minimum was met within 400 steps.
        """
        for _ in range(8):
            state = self._minimize(state, None, known)
            if any(state is other for other in known):
                return state
            values, vectors = state.eigen()
            if values[0] >= -NEUTRAL * self.length:
                return state
            # A pass between two valleys: a nudge to the side decides which way she falls.
            side = vectors[:, 0]
            toward = float(side @ -state.directions[1])
            sign = lean if abs(toward) < 1e-9 else math.copysign(lean, lean * toward)
            state = self.state(turned(state.normal, sign * _KICK_RAD * side), None)
        raise SolverError("no stable attitude was met downhill of the start")

    def at_heel(self, heel: float, start: State, *, trim: float | None = None) -> State:
        """Return the load with heel held [rad] and trim and draft free, downhill from a state.

        Where the trim is foreseen [rad] the descent begins there instead of at the state's own.
        """
        if trim is None:
            held, height = normal_of(trim=trim_of(start.normal), heel=heel), start.height
        else:
            held = normal_of(trim=trim, heel=heel)
            height = float(held @ start.moments.area_centroid)
        return self._minimize(self.state(held, height), heel)

    def _minimize(self, state: State, heel: float | None, known: Sequence[State] = ()) -> State:
        """Return the minimum, or the stationary point, downhill of a state; heel held if given."""
        radius = _TRUST_RAD
        for _ in range(_STEPS):
            basis = self._basis(state, heel)
            slope = basis.T @ state.gradient
            if np.abs(slope).max() <= GRADIENT_TOLERANCE * self.length:
                return self._finished(state, heel)
            step, gain = downhill_step(slope, basis.T @ state.hessian @ basis, radius, self.length)
            if known and np.linalg.norm(step) <= _KICK_RAD:
                landing = turned(state.normal, basis @ step)
                for other in known:
                    if angle_between(landing, other.normal) <= _SAME_RAD:
                        return other
            trial = self._moved(state, basis @ step)
            won = state.energy - trial.energy
            # Below the rounding of the energy itself only the slope can tell better from worse.
            noise = 1e-13 * self.length
            if won >= 0.1 * gain or (
                abs(gain) <= 100 * noise
                and np.abs(self._basis(trial, heel).T @ trial.gradient).max() <= np.abs(slope).max()
            ):
                state = trial
                if won > 0.75 * gain:
                    radius = min(2.0 * radius, _TRUST_RAD)
            else:
                radius = 0.25 * min(radius, float(np.linalg.norm(step)))
                if abs(state.missing) > 1e-9 * self.volume:
                    state = self.settled(state.normal, state.height)
            if radius < 1e-14:
                return self._stalled(state, heel)
        raise SolverError(f"no rest within {_STEPS} steps; the last was {radius:.1e} rad long")

    def _moved(self, state: State, turn: FloatArray) -> State:
        """Return the state after a turn of the plane about its center of flotation."""
        normal = turned(state.normal, turn)
        moments = state.moments
        if not self._has_slab(moments):
            return self.state(normal, None)
        height = float(normal @ moments.area_centroid) + state.missing / moments.area
        return self.state(normal, height)

    def _basis(self, state: State, heel: float | None) -> FloatArray:
        """Return the directions the plane may turn in, as columns: both, or trim alone."""
        if heel is None:
            return np.stack(state.directions, axis=1)
        sine = -float(state.normal[0])
        cosine = float(state.normal @ np.array([0.0, -math.sin(heel), math.cos(heel)]))
        return level_directions(trim=math.atan2(sine, cosine), heel=heel)[0][:, None]

    def _finished(self, state: State, heel: float | None) -> State:
        """Return the state with its volume solved to rounding, walking on if that moved it."""
        if abs(state.missing) <= 1e-12 * self.volume:
            return state
        exact = self.settled(state.normal, state.height)
        slope = self._basis(exact, heel).T @ exact.gradient
        if np.abs(slope).max() <= 10.0 * GRADIENT_TOLERANCE * self.length:
            return exact
        return self._minimize(exact, heel)

    def _stalled(self, state: State, heel: float | None) -> State:
        """Return the state if it is a minimum as far as rounding can tell."""
        exact = self.settled(state.normal, state.height)
        slope = np.abs(self._basis(exact, heel).T @ exact.gradient).max()
        if slope <= 1e-8 * self.length:
            return exact
        raise SolverError(
            f"no further way down, but a lever of {slope:.2e} mm is left; please keep the mesh and "
            "the load, they are wanted as a test"
        )
