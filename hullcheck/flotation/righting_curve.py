"""The righting arm over all heels: one continuous branch from upright, trim and draft free."""

import math
from bisect import bisect_right, insort
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from hullcheck.errors import InputError, SolverError
from hullcheck.flotation.descent import Descent, State
from hullcheck.flotation.righting import righting_arm, righting_slope, trim_follows
from hullcheck.flotation.roots import first_fall
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.attitude import normal_of, trim_of

STEP: Final = math.radians(5.0)
"""The branch is followed in steps no longer than this [rad]."""
ROOT: Final = 1e-11
"""How closely heels are narrowed down [rad]."""
STEEPEST: Final = math.radians(89.0)
"""Trim past which the curve is not foreseen [rad]: heel has no meaning at 90°."""

_APART: Final = math.radians(1.0)
_SAME_JUMP: Final = math.radians(0.5)
_SHORTEST: Final = math.radians(0.01)
_TRIMS: Final = tuple(math.radians(trim) for trim in (-75.0, -45.0, -15.0, 15.0, 45.0, 75.0))


class CurveEndError(SolverError):
    """The curve goes no further: from a heel on nothing holds her trim short of ±90°.

    Attributes
    ----------
    heel : float
        The last heel at which something does [rad].
    """

    def __init__(self, message: str, heel: float) -> None:
        super().__init__(message)
        self.heel = heel


@dataclass(frozen=True, slots=True, kw_only=True)
class Jump:
    """A heel at which the trim gives way and she goes over to another branch.

    Attributes
    ----------
    heel : float
        [rad]
    trim_before, trim_after : float
        [rad]
    arm_before_mm, arm_after_mm : float
        Righting arms on both sides of it [mm].
    energy_drop_mm : float
        Energy over weight that is lost there [mm].
    """

    heel: float
    trim_before: float
    trim_after: float
    arm_before_mm: float
    arm_after_mm: float
    energy_drop_mm: float


class RightingCurve:
    """The branch of attitudes over heel that passes through heel 0, trim and draft free.

    Parameters
    ----------
    descent : Descent
        The load on its skin.

    Notes
    -----
    From each attitude the trim at the next heel is foreseen by dτ/dφ = −f_φτ/f_ττ. Where she
    settles more than 1° off it the step is halved; a difference that is left over 0.01° of heel is
    a jump: the minimum over trim has ceased to be one there.
    """

    def __init__(self, descent: Descent) -> None:
        self.descent = descent
        upright = descent.at_heel(0.0, descent.state(normal_of(trim=0.0, heel=0.0), None))
        if _over_an_end(upright, 0.0):
            raise _ended(upright, 0.0)
        self._states: dict[float, State] = {0.0: upright}
        self._out: dict[bool, list[float]] = {True: [0.0], False: [0.0]}
        self._jumps: list[Jump] = []
        self._ends: dict[float, float] = {}

    @property
    def jumps(self) -> tuple[Jump, ...]:
        """Jumps met so far, by heel."""
        return tuple(sorted(self._jumps, key=lambda jump: jump.heel))

    def state(self, heel: float) -> State:
        """Return the load at a heel [rad], −π to π, on the branch."""
        if not abs(heel) <= math.pi + 1e-12:
            raise InputError(f"heel {math.degrees(heel):g}°: must be from −180 to 180")
        if heel in self._states:
            return self._states[heel]
        side, size = heel > 0.0, abs(heel)
        known = self._out[side]
        near = known[bisect_right(known, size) - 1]
        here = near if side else -near
        state = self._states[0.0 if near == 0.0 else here]
        count = math.ceil((size - near) / STEP - 1e-9)
        for k in range(1, count + 1):
            following = heel if k == count else here + (heel - here) / (count - k + 1)
            state = self._reach(here, state, following)
            here = following
        return state

    def arm(self, heel: float) -> float:
        """Return the righting arm at a heel [rad]: positive turns her to port [mm]."""
        return righting_arm(self.state(heel), heel)

    def slope(self, heel: float) -> float:
        """Return the slope of the arm at a heel [rad], trim and draft free [mm per rad]."""
        return righting_slope(self.state(heel))

    def height_mm(self, heel: float) -> float:
        """Return the height of the surface at a heel [rad], from the datum along the normal."""
        state = self.state(heel)
        return state.height + float(state.normal @ self.descent.tree.origin_mm)

    def heights_mm(self, heel: float, points_mm: FloatArray) -> FloatArray:
        """Return the heights of points (k, 3) above the surface at a heel [rad]."""
        return np.asarray(points_mm @ self.state(heel).normal - self.height_mm(heel))

    def work_mm(self, start: float, stop: float) -> float:
        """Return the area under the arm between two heels [mm·rad], from the energy.

        ∂f/∂φ = cos τ GZ, so this is the difference of the energy over weight: exact, and what it
        takes to heel her outward so far. What a jump on the way sheds has been spent all the same.
        """
        low, high = min(start, stop), max(start, stop)
        rise = self.state(stop).energy - self.state(start).energy
        return rise + sum(j.energy_drop_mm for j in self._jumps if low < j.heel < high)

    def first_fall(
        self, function: Callable[[float], float], heels: Sequence[float]
    ) -> float | None:
        """Return the first heel in a row [rad] where a function of heel falls to 0, narrowed.

        None where it never does, or not before the curve ends.
        """
        try:
            return first_fall(function, heels, tolerance=ROOT)
        except CurveEndError:
            return None

    def end(self, side: float) -> float:
        """Return the last heel of the curve on a side, 1 starboard and −1 port [rad]."""
        if side not in self._ends:
            self._ends[side] = side * math.pi
            try:
                self.state(side * math.pi)
            except CurveEndError as ended:
                self._ends[side] = ended.heel
        return self._ends[side]

    def _reach(self, here: float, state: State, heel: float) -> State:
        """Return the state at a heel from one nearby, the step halved where trim will not follow.

        Each state on the way is kept.
        """
        follows = trim_follows(state)
        foreseen = trim_of(state.normal)
        if math.isfinite(follows):
            foreseen += follows * (heel - here)
        foreseen = min(max(foreseen, -STEEPEST), STEEPEST)
        found = self.descent.at_heel(heel, state, trim=foreseen)
        over = _over_an_end(found, heel)
        if over or abs(trim_of(found.normal) - foreseen) > _APART:
            if abs(heel - here) > _SHORTEST:
                middle = 0.5 * (here + heel)
                return self._reach(middle, self._reach(here, state, middle), heel)
            if over:
                found = self._other(state, (here, heel))
            self._note_jump((here, heel), state, found)
        self._states[heel] = found
        insort(self._out[heel > 0.0], abs(heel))
        return found

    def _other(self, state: State, ends: tuple[float, float]) -> State:
        """Return the load at a heel in the trim nearest to where it went over an end.

        Raises
        ------
        CurveEndError
            If there is no trim within ±90° at which she stays.
        """
        here, heel = ends
        starts = (self.descent.at_heel(heel, state, trim=trim) for trim in _TRIMS)
        staying = [one for one in starts if not _over_an_end(one, heel)]
        if not staying:
            raise _ended(state, here)
        return min(staying, key=lambda one: abs(trim_of(one.normal) - trim_of(state.normal)))

    def _note_jump(self, ends: tuple[float, float], before: State, after: State) -> None:
        """Keep a jump between two heels; met again from a nearer attitude it is the same one."""
        if any(abs(jump.heel - ends[1]) < _SAME_JUMP for jump in self._jumps):
            return
        self._jumps.append(
            Jump(
                heel=ends[1],
                trim_before=trim_of(before.normal),
                trim_after=trim_of(after.normal),
                arm_before_mm=righting_arm(before, ends[0]),
                arm_after_mm=righting_arm(after, ends[1]),
                energy_drop_mm=max(before.energy - after.energy, 0.0),
            )
        )


def _ended(state: State, heel: float) -> CurveEndError:
    """Return the refusal of what lies past a heel [rad]."""
    way = "bow" if trim_of(state.normal) < 0.0 else "stern"
    return CurveEndError(
        f"past {math.degrees(heel):.2f}° of heel nothing holds her trim: she goes over {way} "
        "first, and an arm over heel has no meaning from there on",
        heel,
    )


def _over_an_end(state: State, heel: float) -> bool:
    """Return whether trim went past ±90° on the way down, so that the heel is another one."""
    up = np.array([0.0, -math.sin(heel), math.cos(heel)])
    return float(state.normal @ up) < 0.0


def heels_between(start: float, stop: float, more: Iterable[float] = ()) -> list[float]:
    """Return heels from one to another to look at the curve in [rad], others between them added.

    Notes
    -----
    1° apart up to 30°, 2° up to 90°, 5° beyond: tip floats touch and go under within a few degrees.
    """
    degrees = [*range(31), *range(32, 91, 2), *range(95, 181, 5)]
    every = {sign * math.radians(d) for d in degrees for sign in (1.0, -1.0)}
    low, high = min(start, stop), max(start, stop)
    inside = sorted(h for h in {*every, *more} if low + ROOT < h < high - ROOT)
    row = [low, *inside, high] if high > low else [low]
    return row if stop >= start else row[::-1]


def greatest_arm(curve: RightingCurve, heels: Sequence[float], side: float) -> tuple[float, float]:
    """Return the heel [rad] with the greatest arm that turns her back, and that arm [mm].

    Parameters
    ----------
    curve : RightingCurve
        The curve.
    heels : sequence of float
        From rest outward [rad].
    side : float
        1 to starboard, −1 to port.
    """
    best = max(range(len(heels)), key=lambda i: side * curve.arm(heels[i]))
    around = heels[max(best - 1, 0) : best + 2]
    # The arm rises outward where the slope over heel is positive, on either side.
    for low, high in pairwise(around):
        top = curve.first_fall(curve.slope, (low, high))
        if top is not None and curve.slope(low) > 0.0:
            return top, side * curve.arm(top)
    return heels[best], side * curve.arm(heels[best])
