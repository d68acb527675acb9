"""From readings at the marks to the mass, the center of gravity and the list behind them."""

import math

import numpy as np

from hullcheck.answers.bath_fit_answer import Case, answer_of
from hullcheck.answers.bath_fit_plane import Fitted, Plane, free_of, gauge_of, solve_plane
from hullcheck.answers.bath_fit_records import BathFit, Expected, Reading
from hullcheck.answers.bath_fit_verdict import DOUBTFUL, misread_of, probability_of
from hullcheck.answers.bath_readings import Reader
from hullcheck.answers.uncertainty import READING_MM
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.flotation.floating import float_at, short_by_g
from hullcheck.geometry.arrays import BoolArray


def fit_readings(
    craft: Craft,
    readings: tuple[Reading, ...],
    *,
    expected: Expected | None,
    reading_mm: float = READING_MM,
    reader: Reader | None = None,
) -> BathFit:
    """Return the mass, center of gravity and list that explain readings at the marks.

    Parameters
    ----------
    craft : Craft
        Whose skin, water and marks count; her own mass and center do not.
    readings : tuple of Reading
        Measured distances [mm]; one at least, at most one a mark and side.
    expected : Expected or None
        What she should weigh and balance like; None: nothing is compared, and without a height of
        the center only mass and list are found.
    reading_mm : float, default 1
        Standard uncertainty of one reading [mm]: ruler and surface tension (common practice, no
        source). One value for a pair is taken to be known no better.
    reader : Reader, optional
        Of her marks, where one is at hand.

    Returns
    -------
    BathFit

    Raises
    ------
    InputError
        If there is no reading, a mark or a side that she does not have, one that is given twice, an
        uncertainty that is not above 0, or the plane lies clear of her or over her.
    SolverError
        If no plane was met that explains the readings best.

    Notes
    -----
    The plane by least squares; its covariance carried to mass, x and y by exact slopes. The height
    of the center is not found but taken, with its uncertainty. An angle that the marks cannot tell
    is taken from where the expected load floats (0 without one), and said in `assumed`.

    Examples
    --------
    >>> from dataclasses import replace
    >>> import hullcheck
    >>> from hullcheck.answers.bath_fit import fit_readings
    >>> from hullcheck.answers.bath_fit_records import Expected, Reading
    >>> from hullcheck.craft.fittings import Mark
    >>> craft = hullcheck.load("examples/twin-floats").craft()
    >>> marks = tuple(
    ...     Mark(name=name, point_mm=(x, 150.0, 80.0), along="plumb")
    ...     for name, x in (("bow", 100.0), ("stern", 500.0))
    ... )
    >>> craft = replace(craft, fittings=replace(craft.fittings, marks=marks))
    >>> load = Expected(mass_g=craft.mass_g, center_of_gravity_mm=craft.center_of_gravity_mm)
    >>> read = {"bow": 60.0, "stern": 60.0}
    >>> readings = tuple(
    ...     Reading(mark=name, side=side, distance_mm=value)
    ...     for name, value in read.items()
    ...     for side in ("port", "starboard")
    ... )
    >>> fit = fit_readings(craft, readings, expected=load)
    >>> fit.quality.residuals, abs(round(fit.attitude.heel_deg, 6)), fit.assumed
    ('explained', 0.0, ())
    """
    if not readings:
        raise InputError("no reading was given: measure from a mark down to the water")
    if not (math.isfinite(reading_mm) and reading_mm > 0.0):
        raise InputError(f"a reading known to {reading_mm:g} mm: must be above 0")
    gauge = gauge_of(Reader(craft) if reader is None else reader, readings)
    case = Case(
        craft=craft,
        gauge=gauge,
        readings=readings,
        measured_mm=np.array([reading.distance_mm for reading in readings]),
        expected=expected,
        reading_mm=reading_mm,
    )
    start = _start(case)
    whole, start = _told(case, start)
    return answer_of(case, whole, misread_of(whole, case.measured_mm, start))


def _told(case: Case, expected: Plane) -> tuple[Fitted, Plane]:
    """Return the plane of all readings, what they cannot tell held as expected, and its start.

    What they can tell is judged where the water is found to be: higher up a flared bow a reading
    along the skin may tell the heel, and lower down may not.
    """
    start = expected
    free = free_of(case.gauge, start, case.reading_mm)
    whole = _solved(case, start, free)
    again = free_of(case.gauge, whole.plane, case.reading_mm)
    if np.array_equal(again, free):
        return whole, start
    start = np.where(again, whole.plane, expected)
    other = _solved(case, start, again)
    agrees = np.array_equal(free_of(case.gauge, other.plane, case.reading_mm), again)
    # Where each contradicts itself the one that claims less is taken.
    return (other, start) if agrees or again.sum() < free.sum() else (whole, expected)


def _solved(case: Case, start: Plane, free: BoolArray) -> Fitted:
    """Return the plane of all readings; looked for from a level one too where they disagree."""
    found = solve_plane(
        case.gauge, case.measured_mm, reading_mm=case.reading_mm, start=start, free=free
    )
    probability = probability_of(found.chi_square, found.degrees_of_freedom)
    level = np.where(free, _level(case), start)
    if probability is None or probability >= DOUBTFUL or np.array_equal(level, start):
        return found
    other = solve_plane(
        case.gauge, case.measured_mm, reading_mm=case.reading_mm, start=level, free=free
    )
    return min(found, other, key=lambda one: one.chi_square)


def _level(case: Case) -> Plane:
    """Return a level plane that far under the marks as the readings are in the mean."""
    return np.array([0.0, 0.0, -float(case.measured_mm.mean())])


def _start(case: Case) -> Plane:
    """Return the plane the expected load floats on, or a level one where it floats on none."""
    craft, gauge, expected = case.craft, case.gauge, case.expected
    level = _level(case)
    density = craft.water.density_kg_m3
    if expected is None or expected.center_of_gravity_mm is None:
        return level
    if short_by_g(craft.skin, mass_g=expected.mass_g, density_kg_m3=density) >= 0.0:
        return level
    rest = float_at(
        craft.skin,
        mass_g=expected.mass_g,
        center_of_gravity_mm=expected.center_of_gravity_mm,
        density_kg_m3=density,
    ).floating
    height = rest.height_mm - float(rest.normal @ gauge.middle_mm)
    return np.array([math.radians(rest.trim_deg), math.radians(rest.heel_deg), height])
