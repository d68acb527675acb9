"""What measured readings at the marks say of her. Attribute names are the keys of its JSON.

What goes in is known to a standard uncertainty, "about this much", as everywhere in the ledger.
What comes out as `plus_minus` is half the width of a 95 % interval.
"""

import math
from dataclasses import dataclass
from typing import Literal

from hullcheck.answers.float_records import Point, Waterline
from hullcheck.errors import InputError

ReadingSide = Literal["port", "starboard", "center", "both"]
LoadVerdict = Literal["agrees", "more", "less", "cg off", "not compared"]
Verdict = Literal["agrees", "more", "less", "cg off", "misread", "not explained", "not compared"]
Residuals = Literal["explained", "doubtful", "not explained", "not tested"]
Angle = Literal["trim", "heel"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A distance from a mark down to the water, as it was measured.

    Attributes
    ----------
    mark : str
        Name of the mark in the build sheet.
    side : str
        "port", "starboard", "center", or "both": one value for a pair, the mean of its two.
    distance_mm : float
        Plumb or along the skin, as the mark says [mm]; negative where the mark is under water.
    """

    mark: str
    side: ReadingSide
    distance_mm: float

    def __post_init__(self) -> None:
        """Refuse a distance that is no number."""
        if not math.isfinite(self.distance_mm):
            raise InputError(f"{self.mark}, {self.side}: {self.distance_mm} mm is no distance")


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """What she should weigh and balance like in the bath.

    Attributes
    ----------
    mass_g : float
        Weighed, or the ledger's [g].
    center_of_gravity_mm : tuple of float or None
        [mm]; None where it is not known: then only the mass is compared.
    spread : tuple of (float, tuple of float or None)
        How well each mass in it is known [g, standard uncertainty] and where it sits [mm], as
        `Weighing.spread` has them; without a place it acts at the center. One weighing of the
        whole: `((1.0, None),)`.
    center_uncertainty_mm : tuple of float
        How well the center is known besides [mm, standard uncertainty], along x, y and z.
    """

    mass_g: float
    center_of_gravity_mm: Point | None
    spread: tuple[tuple[float, Point | None], ...] = ()
    center_uncertainty_mm: Point = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingCheck:
    """A reading beside what the plane that was found makes of it.

    Attributes
    ----------
    mark, side, distance_mm
        As it was measured.
    explained_mm : float
        What the plane found gives there [mm].
    left_over_mm : float
        Measured less explained [mm].
    others_mm, others_plus_minus_mm : float or None
        What all the other readings say it should be [mm], without it, and how well the two can
        agree; None where the others alone do not find the plane.
    outlier : float or None
        Measured less what the others say, over its standard deviation.
    """

    mark: str
    side: ReadingSide
    distance_mm: float
    explained_mm: float
    left_over_mm: float
    others_mm: float | None
    others_plus_minus_mm: float | None
    outlier: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Misread:
    """The one reading that the others do not bear out, and which they agree without.

    `off_mm` is what was read less what the others say it should be, `should_be_mm`.
    """

    mark: str
    side: ReadingSide
    distance_mm: float
    should_be_mm: float
    off_mm: float
    off_plus_minus_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """What was found less what was expected; each ± holds both sides' uncertainty.

    None where the center was not expected, or could not be told from the marks.
    """

    mass_g: float
    mass_plus_minus_g: float
    x_mm: float | None
    x_plus_minus_mm: float | None
    y_mm: float | None
    y_plus_minus_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Excess:
    """A mass that is there and not in the ledger, or in the ledger and not there (below 0).

    Attributes
    ----------
    mass_g, mass_plus_minus_g : float
        [g]
    x_mm, x_plus_minus_mm : float or None
        The station it is centered at, from the difference of the moments [mm].
    y_mm, y_plus_minus_mm : float or None
        How far to starboard [mm].
    """

    mass_g: float
    mass_plus_minus_g: float
    x_mm: float | None
    x_plus_minus_mm: float | None
    y_mm: float | None
    y_plus_minus_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumed:
    """An angle that the marks cannot tell, and what hangs on what was taken for it.

    Attributes
    ----------
    angle : {"heel", "trim"}
        Which.
    value_deg : float
        The expected one, which was taken for it [deg]; 0 where no center was expected.
    mass_g_per_deg, x_mm_per_deg : float
        What the mass and the CG's station found change by for each degree it is out.
    ask : {"a mark abeam", "a mark fore or aft"}
        What would tell it.
    """

    angle: Angle
    value_deg: float
    mass_g_per_deg: float
    x_mm_per_deg: float | None
    ask: Literal["a mark abeam", "a mark fore or aft"]


@dataclass(frozen=True, slots=True, kw_only=True)
class AttitudeFound:
    """How she lies by the readings.

    Attributes
    ----------
    waterline : Waterline
        The plane found.
    trim_deg, heel_deg : float
        Of that plane [deg], bow up and starboard down; the list is the heel.
    trim_plus_minus_deg, heel_plus_minus_deg : float or None
        None where the angle was assumed.
    """

    waterline: Waterline
    trim_deg: float
    trim_plus_minus_deg: float | None
    heel_deg: float
    heel_plus_minus_deg: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadFound:
    """The load that rests so.

    Attributes
    ----------
    mass_g, mass_plus_minus_g : float
        Of the water displaced [g]; the ± holds the readings' and the skin's volume.
    x_mm, y_mm : float or None
        Center of gravity [mm]; None where the angle it hangs on was assumed (x on trim, y on heel)
        or no z was expected.
    z_mm : float or None
        Taken from what is expected, not measured [mm].
    """

    mass_g: float
    mass_plus_minus_g: float
    x_mm: float | None
    x_plus_minus_mm: float | None
    y_mm: float | None
    y_plus_minus_mm: float | None
    z_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Quality:
    """How well the readings agree with one another, before one is set aside as misread.

    Attributes
    ----------
    residuals : str
        "explained"; "doubtful": worse than 95 % of good readings; "not explained": worse than 99 %;
        "not tested": no more readings than unknowns.
    reading_mm : float
        Standard uncertainty taken for one reading [mm].
    chi_square : float
        Sum of squares of what is left over, over that uncertainty.
    degrees_of_freedom : int
        Readings less unknowns.
    probability : float or None
        How often good readings would leave more over; None without any to spare.
    """

    residuals: Residuals
    reading_mm: float
    chi_square: float
    degrees_of_freedom: int
    probability: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class BathFit:
    """Mass, center of gravity and list that explain the readings, held against what is expected.

    Attributes
    ----------
    verdict : str
        "agrees"; "more" or "less" than expected (see `excess`; more is weighed again, dried: still
        there, an item is missing; gone, it was water); "cg off" (see `difference`); "misread" (see
        `misread`; all else is from the other readings, see `load_verdict`); "not explained": wrong
        mesh, bent hull or misread marks, the numbers are not to be used; "not compared" without an
        expected load.
    load_verdict : str
        Which of "agrees", "more", "less", "cg off", "not compared" the plane found says, whatever
        the residuals do.
    attitude : AttitudeFound
    load : LoadFound
    expected : Expected or None
        What it was held against.
    difference : Difference or None
        From what is expected.
    excess : Excess or None
        With "more" and "less".
    assumed : tuple of Assumed
        Angles the marks cannot tell; empty where they tell both.
    misread : Misread or None
        With "misread".
    readings : tuple of ReadingCheck
        One a reading, in the order given.
    quality : Quality
    """

    verdict: Verdict
    load_verdict: LoadVerdict
    attitude: AttitudeFound
    load: LoadFound
    expected: Expected | None
    difference: Difference | None
    excess: Excess | None
    assumed: tuple[Assumed, ...]
    misread: Misread | None
    readings: tuple[ReadingCheck, ...]
    quality: Quality
