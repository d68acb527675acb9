"""The water plane that explains readings at the marks best: weighted least squares."""

import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final

import numpy as np

from hullcheck.answers.bath_fit_records import Angle, Reading
from hullcheck.answers.bath_readings import MarkPoint, Reader
from hullcheck.errors import InputError, SolverError
from hullcheck.geometry.arrays import BoolArray, FloatArray
from hullcheck.geometry.attitude import level_directions, normal_of

ANGLES: Final[tuple[Angle, Angle]] = ("trim", "heel")
WEAK_RAD: Final = 0.1
"""An angle known no better than this (standard uncertainty, 5.7°) counts as not told by the marks
(common practice, no source)."""
HALF_WIDTH: Final = NormalDist().inv_cdf(0.975)
"""Standard deviations in half a 95 % interval."""
_RANK: Final = 1e-12
_TRIES: Final = 1000
_STEP_MM: Final = 1e-3
"""How far the plane is moved at the marks for the slope of a reading along the skin."""

Plane = FloatArray
"""Trim [rad], heel [rad], and height above the middle of the marks along the normal [mm]."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Gauge:
    """The readings that a plane gives, and how they change with it.

    Attributes
    ----------
    reader : Reader
        Of the marks.
    marks : tuple of MarkPoint
        Those that are read.
    shares : ndarray, shape (readings, marks)
        What each mark has in each reading: 1, or a half for the mean of a pair.
    points_mm : ndarray, shape (marks, 3)
        Where they are [mm].
    middle_mm : ndarray, shape (3,)
        Their mean [mm]; the plane turns about it.
    """

    reader: Reader
    marks: tuple[MarkPoint, ...]
    shares: FloatArray
    points_mm: FloatArray
    middle_mm: FloatArray

    @property
    def reach_mm(self) -> float:
        """How far the furthest mark is from the middle along an axis [mm], 1 at least."""
        return max(1.0, float(np.abs(self.points_mm - self.middle_mm).max()))

    def surface(self, plane: Plane) -> tuple[FloatArray, float]:
        """Return the normal and the height [mm] of the water for a plane."""
        normal = normal_of(trim=float(plane[0]), heel=float(plane[1]))
        return normal, float(normal @ self.middle_mm) + float(plane[2])

    def values(self, plane: Plane) -> FloatArray:
        """Return every reading [mm]."""
        normal, height = self.surface(plane)
        at_marks = self.points_mm @ normal - height
        for number, mark in enumerate(self.marks):
            if mark.along != "plumb":
                at_marks[number] = self.reader.reading(mark, normal, height)
        return np.asarray(self.shares @ at_marks)

    def slopes(self, plane: Plane) -> FloatArray:
        """Return how each reading changes with the plane, (readings, 3) [mm/rad, mm/rad, 1].

        Exact for plumb readings, by central differences along the skin.
        """
        along, across = level_directions(trim=float(plane[0]), heel=float(plane[1]))
        arms = self.points_mm - self.middle_mm
        turns = np.stack((-arms @ along, -math.cos(plane[0]) * (arms @ across)), axis=1)
        exact: FloatArray = self.shares @ np.column_stack((turns, np.full(len(arms), -1.0)))
        if all(mark.along == "plumb" for mark in self.marks):
            return exact
        turn = _STEP_MM / self.reach_mm
        steps = np.diag([turn, turn, _STEP_MM])
        return np.column_stack(
            [
                (self.values(plane + step) - self.values(plane - step)) / (2.0 * step.sum())
                for step in steps
            ]
        )

    def without(self, reading: int) -> "Gauge":
        """Return the gauge less one reading, turning about the same point."""
        return Gauge(
            reader=self.reader,
            marks=self.marks,
            shares=np.delete(self.shares, reading, axis=0),
            points_mm=self.points_mm,
            middle_mm=self.middle_mm,
        )


@dataclass(frozen=True, kw_only=True, eq=False)
class Fitted:
    """The plane found.

    Attributes
    ----------
    gauge : Gauge
    plane : ndarray, shape (3,)
    free : ndarray of bool, shape (3,)
        Which of its three numbers were found; the others were held.
    covariance : ndarray, shape (3, 3)
        Of the plane [rad², mm²]; 0 where held.
    held : ndarray, shape (3, 3)
        How the plane found changes with each number that is held; 0 in the other columns.
    left_mm : ndarray, shape (readings,)
        Measured less explained [mm].
    leverages : ndarray, shape (readings,)
        How much each reading determines its own explanation, 0 to 1.
    reading_mm : float
        Standard uncertainty of a reading [mm].
    """

    gauge: Gauge
    plane: Plane
    free: BoolArray
    covariance: FloatArray
    held: FloatArray
    left_mm: FloatArray
    leverages: FloatArray
    reading_mm: float

    @property
    def chi_square(self) -> float:
        """Sum of squares of what is left over, over the readings' uncertainty."""
        return float(self.left_mm @ self.left_mm) / self.reading_mm**2

    @property
    def degrees_of_freedom(self) -> int:
        """Readings less unknowns."""
        return len(self.left_mm) - int(self.free.sum())


def gauge_of(reader: Reader, readings: tuple[Reading, ...]) -> Gauge:
    """Return the gauge of readings; InputError where a mark or a side is not hers, or twice."""
    used: list[MarkPoint] = []
    rows = []
    for reading in readings:
        here = _marks_of(reader, reading)
        for mark in here:
            if mark in used:
                raise InputError(f"{mark.mark}, {mark.side}: read twice; give one value")
        used += here
        rows.append(here)
    shares = np.array([[float(mark in row) / len(row) for mark in used] for row in rows])
    points = np.array([mark.point_mm for mark in used], dtype=np.float64)
    return Gauge(
        reader=reader,
        marks=tuple(used),
        shares=shares,
        points_mm=points,
        middle_mm=points.mean(axis=0),
    )


def _marks_of(reader: Reader, reading: Reading) -> list[MarkPoint]:
    """Return the one or two marks that a reading was taken at."""
    named = [mark for mark in reader.marks if mark.mark == reading.mark]
    if not named:
        known = ", ".join(dict.fromkeys(mark.mark for mark in reader.marks)) or "none"
        raise InputError(f"there is no mark {reading.mark!r}; the build sheet has: {known}")
    if reading.side == "both":
        return named
    here = [mark for mark in named if mark.side == reading.side]
    if not here:
        sides = " and ".join(mark.side for mark in named)
        raise InputError(f"mark {reading.mark!r} has no {reading.side} side, only {sides}")
    return here


def free_of(gauge: Gauge, plane: Plane, reading_mm: float) -> BoolArray:
    """Return which of trim, heel and height the readings can tell; the height always.

    An angle is told when it comes out to better than `WEAK_RAD` with the height free. Of two that
    are told only together, the one with the greater part in what is not told is given up.
    """
    free = np.ones(3, dtype=np.bool_)
    turns, rise = gauge.slopes(plane)[:, :2] / reading_mm, gauge.slopes(plane)[:, 2]
    # What a change of height would do as well tells no angle.
    slopes = turns - np.outer(rise, rise @ turns) / float(rise @ rise)
    largest = float(np.linalg.norm(slopes, ord=2)) ** 2
    while free[:2].any():
        chosen = np.flatnonzero(free[:2])
        values, vectors = np.linalg.eigh(slopes[:, chosen].T @ slopes[:, chosen])
        if values[0] >= 1.0 / WEAK_RAD**2 and values[0] > _RANK * largest:
            break
        free[chosen[int(np.abs(vectors[:, 0]).argmax())]] = False
    return free


def solve_plane(
    gauge: Gauge, measured_mm: FloatArray, *, reading_mm: float, start: Plane, free: BoolArray
) -> Fitted:
    """Return the plane that explains readings best, from a start; what is not free stays there.

    Parameters
    ----------
    gauge : Gauge
    measured_mm : ndarray, shape (readings,)
        [mm]
    reading_mm : float
        Standard uncertainty of each [mm].
    start : ndarray, shape (3,)
        Where to begin.
    free : ndarray of bool, shape (3,)
        From `free_of`.

    Raises
    ------
    SolverError
        If no plane was met.

    Notes
    -----
    By `scipy.optimize.least_squares` (trust region: readings along the skin have kinks), with each
    angle measured by what it does at the furthest mark. Covariance σ² (JᵀJ)⁻¹ of what is free.
    """
    from scipy.optimize import least_squares

    scale = np.array([1.0 / gauge.reach_mm, 1.0 / gauge.reach_mm, 1.0])[free]

    def plane_of(steps: FloatArray) -> Plane:
        """Return the plane after steps [mm] in what is free."""
        plane = start.copy()
        plane[free] += scale * steps
        return plane

    def off(steps: FloatArray) -> FloatArray:
        """Return explained less measured [mm]."""
        return gauge.values(plane_of(steps)) - measured_mm

    found = least_squares(
        off,
        np.zeros(int(free.sum())),
        jac=lambda s: gauge.slopes(plane_of(s))[:, free] * scale,
        method="trf",
        xtol=1e-13,
        ftol=None,
        gtol=1e-12,
        max_nfev=_TRIES,
    )
    if found.status <= 0:
        raise SolverError(f"no water plane explains the readings: {found.message}")
    return _fitted(gauge, plane_of(found.x), free, -found.fun, reading_mm)


def _fitted(
    gauge: Gauge, plane: Plane, free: BoolArray, left_mm: FloatArray, reading_mm: float
) -> Fitted:
    """Return a plane with how well it is known."""
    slopes = gauge.slopes(plane)
    inverse = np.linalg.pinv(slopes[:, free])
    covariance, held = np.zeros((3, 3)), np.zeros((3, 3))
    covariance[np.ix_(free, free)] = reading_mm**2 * (inverse @ inverse.T)
    held[np.ix_(free, ~free)] = -inverse @ slopes[:, ~free]
    held[~free, ~free] = 1.0
    return Fitted(
        gauge=gauge,
        plane=plane,
        free=free,
        covariance=covariance,
        held=held,
        left_mm=left_mm,
        leverages=np.einsum("ij,ji->i", slopes[:, free], inverse),
        reading_mm=reading_mm,
    )
