"""The height of the center that explains the heels best, and how far the heels bound it."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.bath_fit_plane import HALF_WIDTH
from hullcheck.geometry.arrays import FloatArray

_ABOUT_MM: Final = 5.0
_REACH: Final = 60.0
"""Standard deviations of an angle: a heel that is further off than the arms reach counts so."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Heels:
    """Heels read, against the arms of the hull.

    Attributes
    ----------
    heels : ndarray, shape (n,)
        Read [rad].
    moments_mm : ndarray, shape (n,)
        Moment of each weight across over the craft's mass [mm].
    fine : ndarray, shape (m,)
        Heels the arms are known at, rising [rad].
    levers_mm : ndarray, shape (n, m)
        k at each of them, for each shift [mm].
    angle : float
        Standard uncertainty of a heel [rad].
    list_is_free : bool
        Whether the place of the center across is found too; else it is `across_mm`.
    across_mm : float
        Where it lies without that [mm].
    """

    heels: FloatArray
    moments_mm: FloatArray
    fine: FloatArray
    levers_mm: FloatArray
    angle: float
    list_is_free: bool
    across_mm: float

    def arms(self, z_mm: float) -> "Rising":
        """Return the y that a center with z would need to rest at each heel."""
        free: FloatArray = self.levers_mm - z_mm * np.tan(self.fine) - self.moments_mm[:, None]
        return Rising(
            from_port=np.maximum.accumulate(free, axis=1),
            from_starboard=np.minimum.accumulate(free[:, ::-1], axis=1)[:, ::-1],
        )

    def explained(self, arms: "Rising", y_mm: float) -> FloatArray:
        """Return the heels that a center gives [rad], from arms with its z: the nearer of two."""
        port, starboard = (
            np.array([np.interp(y_mm, arm, self.fine) for arm in way])
            for way in (arms.from_port, arms.from_starboard)
        )
        return np.where(abs(port - self.heels) <= abs(starboard - self.heels), port, starboard)

    def left(self, arms: "Rising", y_mm: float) -> FloatArray:
        """Return heels read less explained, in standard deviations."""
        beyond = (y_mm < arms.from_starboard[:, 0]) | (y_mm > arms.from_port[:, -1])
        off = (self.heels - self.explained(arms, y_mm)) / self.angle
        return np.where(beyond, np.copysign(_REACH, off), off)

    def best_y(self, z_mm: float) -> tuple[float, float]:
        """Return the place across that explains the heels best with z [mm], and its chi-square."""
        arms = self.arms(z_mm)
        if not self.list_is_free:
            off = self.left(arms, self.across_mm)
            return self.across_mm, float(off @ off)
        from scipy.optimize import minimize_scalar

        # Each heel asks for a y of its own; the best lies among them.
        at = np.searchsorted(self.fine, self.heels)
        wanted = np.concatenate(
            [w[np.arange(len(at)), at] for w in (arms.from_port, arms.from_starboard)]
        )
        low, high = float(wanted.min()), float(wanted.max())
        if high - low < 1e-12:
            off = self.left(arms, low)
            return low, float(off @ off)

        def square(y_mm: float) -> float:
            """Return the chi-square with a place across."""
            off = self.left(arms, y_mm)
            return float(off @ off)

        found = minimize_scalar(
            square,
            bounds=(low, high),
            method="bounded",
            options={"xatol": 1e-6 * (high - low)},
        )
        return float(found.x), float(found.fun)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rising:
    """The arms of all shifts with one z, each never falling as she heels, (n, m) [mm].

    Where an arm falls she cannot rest: coming from port she goes on to where it has risen again,
    and likewise from starboard.
    """

    from_port: FloatArray
    from_starboard: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Height:
    """The center found [mm], its chi-square, and the 95 % interval of z; None for no end."""

    z_mm: float
    y_mm: float
    chi_square: float
    low_mm: float | None
    high_mm: float | None


def center_of(heels: Heels, scan: FloatArray) -> tuple[float, float]:
    """Return z and y of the center that explains heels best [mm], of some heights to begin from."""
    squares = [heels.best_y(z)[1] for z in scan.tolist()] if len(scan) > 1 else [0.0]
    return _polished(heels, float(scan[int(np.argmin(squares))]))


def height_of(heels: Heels, scan: FloatArray) -> Height:
    """Return the height of the center that explains heels best, and its interval.

    Parameters
    ----------
    heels : Heels
    scan : ndarray
        Heights among which z is looked for, rising [mm].

    Returns
    -------
    Height
        The interval holds every z, the place across free, whose chi-square is less than 3.84
        (1.96²) above the least: where the hull's arm is straight that is z ± 1.96 σ.
    """
    z, y = center_of(heels, scan)
    off = heels.left(heels.arms(z), y)
    least = float(off @ off)

    def above(where: float) -> float:
        """Return how far the chi-square at a z lies above what the interval holds."""
        return heels.best_y(where)[1] - least - HALF_WIDTH**2

    down, up = scan[scan < z][::-1].tolist(), scan[scan > z].tolist()
    return Height(
        z_mm=z, y_mm=y, chi_square=least, low_mm=_end(above, z, down), high_mm=_end(above, z, up)
    )


def _polished(heels: Heels, z_mm: float) -> tuple[float, float]:
    """Return z and y [mm] of the least chi-square near a z."""
    from scipy.optimize import least_squares

    y_mm = heels.best_y(z_mm)[0]
    count = 2 if heels.list_is_free else 1

    def off(center: FloatArray) -> FloatArray:
        """Return what is left over with a center."""
        return heels.left(heels.arms(float(center[0])), float(center[1] if count == 2 else y_mm))

    found = least_squares(
        off,
        np.array([z_mm, y_mm])[:count],
        x_scale=np.array([1.0, 0.1])[:count],
        xtol=1e-12,
        ftol=1e-15,
        gtol=1e-13,
        max_nfev=60,
    )
    if found.status <= 0:  # caught on a bend of the arms: go along z alone
        from scipy.optimize import minimize_scalar

        middle = float(found.x[0])
        low = minimize_scalar(
            lambda z: heels.best_y(float(z))[1],
            bounds=(middle - _ABOUT_MM, middle + _ABOUT_MM),
            method="bounded",
            options={"xatol": 1e-7},
        )
        return float(low.x), heels.best_y(float(low.x))[0]
    return float(found.x[0]), float(found.x[1]) if count == 2 else y_mm


def _end(above: Callable[[float], float], start: float, scan: list[float]) -> float | None:
    """Return where the chi-square rises out of the interval along a scan; None if nowhere."""
    from scipy.optimize import brentq

    inside = start
    for where in scan:
        if above(where) > 0.0:
            return float(brentq(above, inside, where, xtol=1e-9)) if above(inside) < 0 else inside
        inside = where
    return None


def combined(value: float, end: float | None, spread: float) -> float | None:
    """Return an end of an interval moved out by another uncertainty, in squares."""
    if end is None:
        return None
    return value + math.copysign(math.hypot(end - value, spread), end - value)
