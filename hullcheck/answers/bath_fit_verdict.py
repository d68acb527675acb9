"""What the plane found says: are the readings of one mind, and is the load the expected one."""

import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final

import numpy as np

from hullcheck.answers.bath_fit_plane import HALF_WIDTH, Fitted, Plane, solve_plane
from hullcheck.answers.bath_fit_records import Difference, Excess, LoadVerdict, Residuals
from hullcheck.errors import SolverError
from hullcheck.geometry.arrays import BoolArray, FloatArray

DOUBTFUL: Final = 0.05
NOT_EXPLAINED: Final = 0.01
"""How often good readings leave as much over as where this is said."""
CERTAIN: Final = 0.95
_OUTLIER: Final = 0.01
"""How often the worst of good readings may be called misread."""
_APART: Final = 6.0
"""By how much setting the next best reading aside must leave a greater chi-square: the odds are
then exp(3) = 20 to 1."""
_TINY: Final = 1e-9


def probability_of(chi_square: float, degrees_of_freedom: int) -> float | None:
    """Return how often good readings leave a greater chi-square; None without any to spare."""
    if degrees_of_freedom == 0:
        return None
    from scipy.special import chdtrc

    return float(chdtrc(degrees_of_freedom, chi_square))


def residuals_of(probability: float | None) -> Residuals:
    """Return what a probability says of the readings."""
    if probability is None:
        return "not tested"
    if probability < NOT_EXPLAINED:
        return "not explained"
    return "doubtful" if probability < DOUBTFUL else "explained"


def outliers_of(fitted: Fitted) -> FloatArray:
    """Return measured less what the others say, over its standard deviation; NaN where none can.

    By leaving each out in turn, in closed form about the plane found: r/(σ √(1 − leverage)).
    """
    alone = 1.0 - fitted.leverages
    told = alone > _TINY
    scale = fitted.reading_mm * np.sqrt(np.where(told, alone, 1.0))
    return np.where(told, fitted.left_mm / scale, math.nan)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Aside:
    """A reading set aside, and the plane of the others: they say `others_mm`, ± one σ of both."""

    reading: int
    fitted: Fitted
    others_mm: float
    deviation_mm: float


def misread_of(fitted: Fitted, measured_mm: FloatArray, start: Plane) -> Aside | None:
    """Return the one reading that the others agree without; None where none names itself.

    The others are fitted from a start of their own, for a gross slip draws the plane far off. It is
    named when it lies further from what the others say than the worst of as many good readings does
    once in a hundred times, the others then explain themselves (99 %), and no other reading set
    aside does nearly as well. The others must have one reading more than unknowns.
    """
    count = len(measured_mm)
    if fitted.degrees_of_freedom < 2:
        return None
    chance = probability_of(fitted.chi_square, fitted.degrees_of_freedom)
    if chance is None or chance >= DOUBTFUL:
        return None
    slopes, free = fitted.gauge.slopes(start)[:, fitted.free], int(fitted.free.sum())
    # A reading that alone tells an angle leaves nothing over, and cannot be to blame.
    checked = [
        i for i in range(count) if np.linalg.matrix_rank(np.delete(slopes, i, axis=0)) == free
    ]
    tries = [_aside(fitted, measured_mm, start, i) for i in checked]
    ranked = sorted((t for t in tries if t), key=lambda one: one.fitted.chi_square)
    if not ranked:
        return None
    best, *others = ranked
    if others and others[0].fitted.chi_square - best.fitted.chi_square < _APART:
        return None
    after = probability_of(best.fitted.chi_square, best.fitted.degrees_of_freedom)
    far = abs(measured_mm[best.reading] - best.others_mm) / best.deviation_mm
    limit = NormalDist().inv_cdf(1.0 - 0.5 * _OUTLIER / count)
    return best if after is not None and after >= NOT_EXPLAINED and far > limit else None


def _aside(fitted: Fitted, measured_mm: FloatArray, start: Plane, reading: int) -> Aside | None:
    """Return what the other readings say of one; None where they settle on no plane at all."""
    gauge = fitted.gauge.without(reading)
    try:
        others = solve_plane(
            gauge,
            np.delete(measured_mm, reading),
            reading_mm=fitted.reading_mm,
            start=start,
            free=fitted.free,
        )
    except SolverError:  # with a gross slip among them: then this is not the one to set aside
        return None
    slope = fitted.gauge.slopes(others.plane)[reading]
    spread = float(slope @ others.covariance @ slope)
    return Aside(
        reading=reading,
        fitted=others,
        others_mm=float(fitted.gauge.values(others.plane)[reading]),
        deviation_mm=math.sqrt(fitted.reading_mm**2 + spread),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Found:
    """Mass [g], x and y [mm], found or expected, their covariance, and which of them are known."""

    values: FloatArray
    covariance: FloatArray
    known: BoolArray


def compare(found: Found, expected: Found) -> tuple[LoadVerdict, Difference, Excess | None]:
    """Return what a load found says against one expected.

    Returns
    -------
    verdict : str
        "more" or "less" when the masses differ, else "cg off" when x or y do, else "agrees". Each
        is held to the 95 % of all of them together (Bonferroni), so good readings of the very load
        expected agree 95 times in a hundred.
    difference : Difference
        Each with its own 95 %.
    excess : Excess or None
        With "more" and "less": the mass and the place that make up the difference of the moments.
    """
    off = found.values - expected.values
    sigma = np.sqrt(np.diag(found.covariance + expected.covariance))
    known = found.known & expected.known
    limit = NormalDist().inv_cdf(1.0 - 0.5 * (1.0 - CERTAIN) / int(known.sum()))
    far = known & (np.abs(off) > limit * sigma)
    verdict: LoadVerdict = "agrees"
    if far[0]:
        verdict = "more" if off[0] > 0.0 else "less"
    elif far.any():
        verdict = "cg off"
    pairs = [
        (float(a), HALF_WIDTH * float(s)) if k else (None, None)
        for a, s, k in zip(off, sigma, known, strict=True)
    ]
    (x, x_pm), (y, y_pm) = pairs[1:]
    mass, mass_pm = float(off[0]), HALF_WIDTH * float(sigma[0])
    difference = Difference(
        mass_g=mass,
        mass_plus_minus_g=mass_pm,
        x_mm=x,
        x_plus_minus_mm=x_pm,
        y_mm=y,
        y_plus_minus_mm=y_pm,
    )
    return verdict, difference, _excess(found, expected, known) if far[0] else None


def _excess(found: Found, expected: Found, known: BoolArray) -> Excess:
    """Return the mass that makes up the difference, and where: (m x − m₀ x₀)/(m − m₀)."""
    more = float(found.values[0] - expected.values[0])
    places: list[tuple[float | None, float | None]] = []
    for axis in (1, 2):
        if not known[axis]:
            places.append((None, None))
            continue
        at = float(
            found.values[0] * found.values[axis] - expected.values[0] * expected.values[axis]
        )
        at /= more
        variance = 0.0
        for side in (found, expected):
            slope = np.zeros(3)
            slope[0] = (side.values[axis] - at) / more
            slope[axis] = side.values[0] / more
            variance += float(slope @ side.covariance @ slope)
        places.append((at, HALF_WIDTH * math.sqrt(variance)))
    (x, x_pm), (y, y_pm) = places
    spread = float(found.covariance[0, 0] + expected.covariance[0, 0])
    return Excess(
        mass_g=more,
        mass_plus_minus_g=HALF_WIDTH * math.sqrt(spread),
        x_mm=x,
        x_plus_minus_mm=x_pm,
        y_mm=y,
        y_plus_minus_mm=y_pm,
    )
