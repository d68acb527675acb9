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
from hullcheck.flotation.draft import settle
from hullcheck.flotation.load import Load
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.attitude import angle_between, heel_of, level_directions, normal_of, trim_of
from hullcheck.geometry.moment_tree import MomentTree
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
    buoyancy : ndarray, shape (3,)
        Center of buoyancy at the load's volume, about the tree's origin [mm].
    energy : float
        n·(G − B) [mm].
    gradient : ndarray, shape (3,)
        Of the energy along the sphere [mm per rad].
    hessian : ndarray, shape (3, 3)
        Of the energy along the sphere [mm per rad²]; n is in its null space.
    """

    normal: FloatArray
    height: float
    moments: VolumeMoments
    missing: float
    buoyancy: FloatArray
    energy: float
    gradient: FloatArray
    hessian: FloatArray

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
    tree : MomentTree
        Moments of the skin.
    load : Load
        Lighter than the whole skin's buoyancy.
    """

    def __init__(self, tree: MomentTree, load: Load) -> None:
        self.tree = tree
        self.load = load
        self.volume = load.volume_mm3
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
        lever = self.gravity - buoyancy
        energy = float(normal @ lever)
        flat = np.eye(3) - np.outer(normal, normal)
        return State(
            normal=normal,
            height=height,
            moments=moments,
            missing=missing,
            buoyancy=buoyancy,
            energy=energy,
            gradient=lever - energy * normal,
            hessian=moments.second_moments / self.volume - energy * flat,
        )

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
            state = self.state(_turned(state.normal, sign * _KICK_RAD * side), None)
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
            step, gain = _step(slope, basis.T @ state.hessian @ basis, radius, self.length)
            if known and np.linalg.norm(step) <= _KICK_RAD:
                landing = _turned(state.normal, basis @ step)
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
        normal = _turned(state.normal, turn)
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


def _turned(normal: FloatArray, turn: FloatArray) -> FloatArray:
    """Return the normal moved along the sphere by a tangent vector [rad]."""
    angle = float(np.linalg.norm(turn))
    if angle == 0.0:
        return normal
    moved = math.cos(angle) * normal + (math.sin(angle) / angle) * turn
    return np.asarray(moved / np.linalg.norm(moved))


def _step(
    slope: FloatArray, stiffness: FloatArray, radius: float, length: float
) -> tuple[FloatArray, float]:
    """Return the step that follows the curvature downhill, at most a radius long, and its gain."""
    values, vectors = np.linalg.eigh(stiffness)
    along = vectors.T @ slope
    soft = np.maximum(np.abs(values), 1e-9 * length)
    parts = np.where(np.abs(along) > 1e-3 * GRADIENT_TOLERANCE * length, -along / soft, 0.0)
    size = float(np.linalg.norm(parts))
    if size > radius:
        parts = parts * (radius / size)
    gain = -float(along @ parts + 0.5 * (values * parts) @ parts)
    return vectors @ parts, gain
