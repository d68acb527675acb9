"""What was measured in the bath, held against what was to be expected there."""

import math
from dataclasses import dataclass, replace
from statistics import NormalDist
from typing import Final

from hullcheck.answers.bath_answer import Bath
from hullcheck.answers.bath_fit import fit_readings
from hullcheck.answers.bath_fit_records import Expected, Reading
from hullcheck.answers.bath_records import BathAnswer, ByInclining
from hullcheck.answers.float_records import Caveat
from hullcheck.answers.incline import ANGLE_DEG, incline
from hullcheck.answers.incline_records import Inclining, Shift
from hullcheck.answers.uncertainty import READING_MM
from hullcheck.craft.weighing import MEASURED_PLUS_MINUS_G
from hullcheck.errors import InputError
from hullcheck.flotation.load import check_mass

_HALF_WIDTH: Final = NormalDist().inv_cdf(0.975)
"""Standard uncertainties in half a 95 % interval."""
_SURE: Final = 2.0
"""Standard uncertainties by which a weighed mass must differ to be said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measurements:
    """What was measured, and how well; every uncertainty a standard one.

    Attributes
    ----------
    readings : tuple of Reading
        Distances at the marks; empty where none was read.
    reading_mm : float
        How well one of them is known [mm].
    weighed_g : float or None
        What all that floated weighed, dry, the bag too [g].
    scale_g : float
        How well that is known [g].
    shifts : tuple of Shift
        Of the inclining; empty without one.
    angle_deg : float
        How well one angle is known [deg].
    added_z_mm : float or None
        Height at which its weights were put aboard on top [mm]; None where they were moved across.
    """

    readings: tuple[Reading, ...] = ()
    reading_mm: float = READING_MM
    weighed_g: float | None = None
    scale_g: float = MEASURED_PLUS_MINUS_G
    shifts: tuple[Shift, ...] = ()
    angle_deg: float = ANGLE_DEG
    added_z_mm: float | None = None

    def __post_init__(self) -> None:
        """Refuse a mass or an uncertainty that makes no sense."""
        if self.weighed_g is not None:
            check_mass(self.weighed_g)
        for name in ("reading_mm", "scale_g", "angle_deg"):
            value = getattr(self, name)
            if not 0.0 < value < float("inf"):
                raise InputError(f"{name} {value:g}: how well a value is known must be above 0")


def with_found(bath: Bath, measured: Measurements) -> BathAnswer:
    """Return the answer with what was measured, explained.

    Parameters
    ----------
    bath : Bath
        What was to be expected.
    measured : Measurements

    Returns
    -------
    BathAnswer
        `measured` from the readings, `incline` from the inclining; a warning "weighed-differs"
        where the weighed mass is not that of what was to float.

    Raises
    ------
    InputError, SolverError
        As `bath_fit.fit_readings` and `incline.incline`.
    """
    fit = None
    if measured.readings:
        fit = fit_readings(
            bath.load.craft,
            measured.readings,
            expected=expected_of(bath, measured),
            reading_mm=measured.reading_mm,
            reader=bath.reader,
        )
    inclined = _inclined(bath, measured) if measured.shifts else None
    answer = replace(
        bath.answer,
        weighed_g=measured.weighed_g,
        measured=fit,
        incline=inclined,
        finished_by_inclining=None if inclined is None else _finished(bath.answer, inclined),
    )
    return replace(answer, warnings=(*answer.warnings, *_of_mass(bath, measured)))


def expected_of(bath: Bath, measured: Measurements) -> Expected:
    """Return what the readings are held against: weighed, or by the ledger; centered by it."""
    craft, weighing = bath.load.craft, bath.load.craft.weighing
    if measured.weighed_g is not None:
        return Expected(
            mass_g=measured.weighed_g,
            center_of_gravity_mm=craft.center_of_gravity_mm,
            spread=((measured.scale_g, None),),
            center_uncertainty_mm=bath.load.center_plus_minus_mm,
        )
    return Expected(
        mass_g=craft.mass_g,
        center_of_gravity_mm=craft.center_of_gravity_mm,
        spread=() if weighing is None else weighing.spread,
        center_uncertainty_mm=bath.load.placed_mm,
    )


def _inclined(bath: Bath, measured: Measurements) -> Inclining:
    """Return what the inclining says of the load in the bath."""
    craft, load = bath.load.craft, bath.answer.load
    if craft.center_of_gravity_mm is None:
        raise InputError(
            "--incline: her center of gravity is not known fore and aft; fill in x_mm and z_mm of "
            "every item in weights.csv"
        )
    weighed = measured.weighed_g is not None
    return incline(
        craft,
        measured.shifts,
        mass_g=craft.mass_g if measured.weighed_g is None else measured.weighed_g,
        center_of_gravity_mm=craft.center_of_gravity_mm,
        mode="moved" if measured.added_z_mm is None else "added",
        added_z_mm=measured.added_z_mm,
        angle_deg=measured.angle_deg,
        mass_uncertainty_g=measured.scale_g if weighed else load.plus_minus_g,
    )


def _finished(answer: BathAnswer, inclined: Inclining) -> ByInclining | None:
    """Return what the inclining says of the finished craft; None where that is not known.

    What the bag lies too low raises the center by as much when it is put right: the finished GM is
    that much less.
    """
    low, whole = answer.load.center_of_gravity_mm, answer.finished.center_of_gravity_mm
    known, found, about = (
        answer.load.center_plus_minus_mm,
        inclined.center_z_mm,
        inclined.center_z_interval_mm,
    )
    if low is None or whole is None or known is None or found is None or about is None:
        return None
    bare = answer.bag is None and answer.load.mass_g < answer.finished.mass_g
    if bare:
        return None
    # The interval is uneven: the end of it on the ledger's side counts, and where that is not told
    # nothing speaks against the ledger.
    end = about[0] if low[2] < found else about[1]
    far = math.inf if end is None else abs(end - found)
    together = math.hypot(far, _HALF_WIDTH * known[2])
    return ByInclining(
        center_z_mm=found + whole[2] - low[2],
        metacentric_height_mm=inclined.metacentric_height_mm
        - (0.0 if answer.heel is None else answer.heel.stiffer_by_mm),
        agrees=abs(found - low[2]) <= together,
    )


def _of_mass(bath: Bath, measured: Measurements) -> tuple[Caveat, ...]:
    """Return a word about a weighed mass that is not that of the ledger and the bag."""
    load, weighed = bath.answer.load, measured.weighed_g
    if weighed is None:
        return ()
    off = weighed - load.mass_g
    if abs(off) <= _SURE * (measured.scale_g**2 + load.plus_minus_g**2) ** 0.5:
        return ()
    what = "the ledger and the bag" if bath.answer.bag is not None else "the ledger"
    return (
        Caveat(
            code="weighed-differs",
            message=f"weighed {weighed:.1f} g, {what} sum to {load.mass_g:.1f} g: {abs(off):.1f} g "
            f"{'more' if off > 0.0 else 'less'} than listed; the weighed mass counts",
        ),
    )
