"""The answer made from the plane that the readings found."""

import math
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from hullcheck.answers.bath_fit_load import PlaneLoad, expected_covariance, load_covariance, load_on
from hullcheck.answers.bath_fit_plane import ANGLES, HALF_WIDTH, Fitted, Gauge
from hullcheck.answers.bath_fit_records import (
    Assumed,
    AttitudeFound,
    BathFit,
    Difference,
    Excess,
    Expected,
    LoadFound,
    LoadVerdict,
    Misread,
    Quality,
    Reading,
    ReadingCheck,
    Verdict,
)
from hullcheck.answers.bath_fit_verdict import (
    Aside,
    Found,
    compare,
    outliers_of,
    probability_of,
    residuals_of,
)
from hullcheck.answers.float_records import Waterline
from hullcheck.answers.uncertainty import wet_error_mm3
from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import held_at
from hullcheck.geometry.arrays import BoolArray, FloatArray
from hullcheck.units import G_PER_MM3_PER_KG_M3

_ASK: Final[dict[str, Literal["a mark abeam", "a mark fore or aft"]]] = {
    "heel": "a mark abeam",
    "trim": "a mark fore or aft",
}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Case:
    """All that a fit is about: the craft, the gauge, the readings [mm], and what is expected."""

    craft: Craft
    gauge: Gauge
    readings: tuple[Reading, ...]
    measured_mm: FloatArray
    expected: Expected | None
    reading_mm: float


def answer_of(case: Case, whole: Fitted, aside: Aside | None) -> BathFit:
    """Return the answer from the plane of all readings or, where one was misread, of the others."""
    fitted = whole if aside is None else aside.fitted
    known = case.expected is not None and case.expected.center_of_gravity_mm is not None
    z_mm = _z_of(case.expected)
    load = load_on(
        case.craft.skin.tree,
        case.gauge,
        fitted.plane,
        density_kg_m3=case.craft.water.density_kg_m3,
        z_mm=0.0 if z_mm is None else z_mm,
    )
    told = np.array([True, known and fitted.free[0], known and fitted.free[1]])
    found = Found(values=load.values, covariance=_covariance(case, fitted, load), known=told)
    verdict, difference, excess = _compared(case.expected, found)
    quality = _quality(whole)
    answer: Verdict = verdict
    if aside is not None:
        answer = "misread"
    elif quality.residuals == "not explained":
        answer = "not explained"
    return BathFit(
        verdict=answer,
        load_verdict=verdict,
        attitude=_attitude(fitted),
        load=_load(found, z_mm),
        expected=case.expected,
        difference=difference,
        excess=excess,
        assumed=_assumed(fitted, load, told),
        misread=None if aside is None else _misread(case, aside),
        readings=_checks(case, whole, fitted),
        quality=quality,
    )


def _z_of(expected: Expected | None) -> float | None:
    """Return the height taken for the center of gravity [mm]; None where none is expected."""
    if expected is None or expected.center_of_gravity_mm is None:
        return None
    return expected.center_of_gravity_mm[2]


def _covariance(case: Case, fitted: Fitted, load: PlaneLoad) -> FloatArray:
    """Return how well mass, x and y are known: by the readings, z, and the skin's volume."""
    craft, density, z_mm = case.craft, case.craft.water.density_kg_m3, _z_of(case.expected)
    covariance = load_covariance(
        craft.skin.tree,
        fitted,
        load,
        density_kg_m3=density,
        z_mm=0.0 if z_mm is None else z_mm,
    )
    if case.expected is not None:
        covariance += expected_covariance(case.expected)[1] * np.outer(load.per_z, load.per_z)
    held = held_at(
        craft.skin,
        mass_g=float(load.values[0]),
        density_kg_m3=density,
        trim_deg=math.degrees(fitted.plane[0]),
        heel_deg=math.degrees(fitted.plane[1]),
    )
    covariance[0, 0] += (density * G_PER_MM3_PER_KG_M3 * wet_error_mm3(craft, held)) ** 2
    return covariance


def _compared(
    expected: Expected | None, found: Found
) -> tuple[LoadVerdict, Difference | None, Excess | None]:
    """Return what the load found says against the one expected, if there is one."""
    if expected is None:
        return "not compared", None, None
    center = expected.center_of_gravity_mm
    x, y = (0.0, 0.0) if center is None else center[:2]
    return compare(
        found,
        Found(
            values=np.array([expected.mass_g, x, y]),
            covariance=expected_covariance(expected)[0],
            known=np.array([True, center is not None, center is not None]),
        ),
    )


def _quality(whole: Fitted) -> Quality:
    """Return how well all readings agree."""
    probability = probability_of(whole.chi_square, whole.degrees_of_freedom)
    return Quality(
        residuals=residuals_of(probability),
        reading_mm=whole.reading_mm,
        chi_square=whole.chi_square,
        degrees_of_freedom=whole.degrees_of_freedom,
        probability=probability,
    )


def _attitude(fitted: Fitted) -> AttitudeFound:
    """Return how she lies on a plane."""
    normal, height = fitted.gauge.surface(fitted.plane)
    trim, heel = np.degrees(HALF_WIDTH * np.sqrt(np.diag(fitted.covariance)[:2])).tolist()
    x, y, z = normal.tolist()
    return AttitudeFound(
        waterline=Waterline(normal=(x, y, z), height_mm=height),
        trim_deg=math.degrees(fitted.plane[0]),
        trim_plus_minus_deg=trim if fitted.free[0] else None,
        heel_deg=math.degrees(fitted.plane[1]),
        heel_plus_minus_deg=heel if fitted.free[1] else None,
    )


def _load(found: Found, z_mm: float | None) -> LoadFound:
    """Return mass and center with their ±; None where they are not told."""
    half = HALF_WIDTH * np.sqrt(np.diag(found.covariance))
    (x, x_pm), (y, y_pm) = (
        (float(found.values[axis]), float(half[axis])) if found.known[axis] else (None, None)
        for axis in (1, 2)
    )
    return LoadFound(
        mass_g=float(found.values[0]),
        mass_plus_minus_g=float(half[0]),
        x_mm=x,
        x_plus_minus_mm=x_pm,
        y_mm=y,
        y_plus_minus_mm=y_pm,
        z_mm=z_mm,
    )


def _assumed(fitted: Fitted, load: PlaneLoad, told: BoolArray) -> tuple[Assumed, ...]:
    """Return the angles that were held, and what the rest changes by for each degree of them."""
    effects = np.radians(load.slopes @ fitted.held)
    return tuple(
        Assumed(
            angle=angle,
            value_deg=math.degrees(fitted.plane[number]),
            mass_g_per_deg=float(effects[0, number]),
            x_mm_per_deg=float(effects[1, number]) if told[1] else None,
            ask=_ASK[angle],
        )
        for number, angle in enumerate(ANGLES)
        if not fitted.free[number]
    )


def _misread(case: Case, aside: Aside) -> Misread:
    """Return the reading that was set aside, and by how much it is off."""
    reading = case.readings[aside.reading]
    return Misread(
        mark=reading.mark,
        side=reading.side,
        distance_mm=reading.distance_mm,
        should_be_mm=aside.others_mm,
        off_mm=reading.distance_mm - aside.others_mm,
        off_plus_minus_mm=HALF_WIDTH * aside.deviation_mm,
    )


def _checks(case: Case, whole: Fitted, fitted: Fitted) -> tuple[ReadingCheck, ...]:
    """Return each reading beside what the plane found makes of it and what the others say."""
    explained = case.gauge.values(fitted.plane)
    alone = 1.0 - whole.leverages
    checks = []
    for number, (reading, outlier) in enumerate(
        zip(case.readings, outliers_of(whole).tolist(), strict=True)
    ):
        told = not math.isnan(outlier)
        off = float(whole.left_mm[number] / alone[number]) if told else None
        checks.append(
            ReadingCheck(
                mark=reading.mark,
                side=reading.side,
                distance_mm=reading.distance_mm,
                explained_mm=float(explained[number]),
                left_over_mm=reading.distance_mm - float(explained[number]),
                others_mm=None if off is None else reading.distance_mm - off,
                others_plus_minus_mm=HALF_WIDTH * case.reading_mm / math.sqrt(alone[number])
                if told
                else None,
                outlier=outlier if told else None,
            )
        )
    return tuple(checks)
