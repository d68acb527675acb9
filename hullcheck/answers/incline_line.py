"""The line through the shifts of an inclining experiment, and the answer it makes."""

import math
from dataclasses import dataclass

import numpy as np

from hullcheck.answers.bath_fit_plane import HALF_WIDTH
from hullcheck.answers.bath_fit_verdict import probability_of, residuals_of
from hullcheck.answers.incline_records import Inclining, Interval, Mode, Shift, ShiftCheck
from hullcheck.errors import InputError
from hullcheck.geometry.arrays import FloatArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Case:
    """The shifts of an experiment on a craft of a mass [g], angles known to a degree's part."""

    shifts: tuple[Shift, ...]
    mass_g: float
    angle_deg: float

    def __post_init__(self) -> None:
        """Refuse what tells nothing, and heels away from the weights."""
        if not (math.isfinite(self.angle_deg) and self.angle_deg > 0.0):
            raise InputError(f"an angle known to {self.angle_deg:g}°: must be above 0")
        if not any(shift.moment_g_mm for shift in self.shifts):
            raise InputError("no weight was put to one side: give grams, arm and the heel read")
        if not self.line().inverse > 0.0:
            raise InputError(
                "she heels away from the weights: an arm to starboard and a heel starboard down "
                "are positive, both to port negative"
            )

    @property
    def moments_mm(self) -> FloatArray:
        """Mass times arm over the craft's mass [mm], one a shift."""
        return np.array([shift.moment_g_mm for shift in self.shifts]) / self.mass_g

    @property
    def heels(self) -> FloatArray:
        """Heels read [rad]."""
        return np.radians([shift.heel_deg for shift in self.shifts])

    @property
    def tells_list(self) -> bool:
        """Whether the list without a weight can be told: three shifts, or one without a weight."""
        arms = self.moments_mm
        return len(np.unique(arms)) > 1 and (len(arms) >= 3 or bool((arms == 0.0).any()))

    def line(self) -> "Line":
        """Return the line tan φ = a + (w d/m)/GM, weighted by how well each tangent is known."""
        heels, arms = self.heels, self.moments_mm
        deviations = math.radians(self.angle_deg) / np.cos(heels) ** 2
        columns = (arms, np.ones_like(arms)) if self.tells_list else (arms,)
        design = np.column_stack(columns)
        inverse = np.linalg.pinv(design / deviations[:, None])
        found = inverse @ (np.tan(heels) / deviations)
        spread = math.sqrt(float(inverse[0] @ inverse[0]))
        explained = np.arctan(design @ found)
        return Line(
            inverse=float(found[0]),
            deviation=spread,
            initial_heel=math.atan(float(found[1])) if self.tells_list else 0.0,
            explained=explained,
            chi_square=float(np.square((np.tan(heels) - design @ found) / deviations).sum()),
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Line:
    """The line through the tangents over the moments.

    `inverse` is 1/GM, `deviation` its standard uncertainty [per mm], `initial_heel` the heel
    without a moment and `explained` that of each shift [rad].
    """

    inverse: float
    deviation: float
    initial_heel: float
    explained: FloatArray
    chi_square: float


def record_of(
    case: Case,
    *,
    mode: Mode,
    height_mm: float,
    interval_mm: Interval,
    metacenter_mm: float | None,
    initial_heel: float,
    explained: FloatArray,
    chi_square: float,
) -> Inclining:
    """Return the answer with a metacentric height and its interval [mm], without a z of its own."""
    spare = len(case.shifts) - (2 if case.tells_list else 1)
    probability = probability_of(chi_square, spare)
    low, high = interval_mm
    return Inclining(
        mode=mode,
        mass_g=case.mass_g,
        metacentric_height_mm=height_mm,
        plus_minus_mm=None if low is None or high is None else 0.5 * (high - low),
        interval_mm=interval_mm,
        initial_heel_deg=math.degrees(initial_heel),
        initial_heel_is_fitted=case.tells_list,
        metacenter_above_keel_mm=metacenter_mm,
        center_above_keel_mm=None if metacenter_mm is None else metacenter_mm - height_mm,
        center_z_mm=None,
        center_z_interval_mm=None,
        shifts=_checks(case, explained),
        angle_deg=case.angle_deg,
        residuals=residuals_of(probability),
        chi_square=chi_square,
        degrees_of_freedom=spare,
        probability=probability,
    )


def _checks(case: Case, explained: FloatArray) -> tuple[ShiftCheck, ...]:
    """Return each shift beside the heel explained [rad]."""
    return tuple(
        ShiftCheck(
            mass_g=shift.mass_g,
            arm_mm=shift.arm_mm,
            heel_deg=shift.heel_deg,
            explained_deg=heel,
            left_over_deg=shift.heel_deg - heel,
        )
        for shift, heel in zip(case.shifts, np.degrees(explained).tolist(), strict=True)
    )


def inverse_interval(line: Line, mass_share: float) -> Interval:
    """Return the interval of 1/inverse [mm], the mass known to a share besides."""
    share = HALF_WIDTH * math.hypot(line.deviation / line.inverse, mass_share)
    height = 1.0 / line.inverse
    return height / (1.0 + share), None if share >= 1.0 else height / (1.0 - share)
