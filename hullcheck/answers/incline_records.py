"""What an inclining experiment says. Attribute names are the keys of its JSON.

What goes in is known to a standard uncertainty, "about this much"; what comes out as `plus_minus`
is half the width of a 95 % interval.
"""

import math
from dataclasses import dataclass
from typing import Literal

from hullcheck.answers.bath_fit_records import Residuals
from hullcheck.errors import InputError

Mode = Literal["moved", "added"]
Interval = tuple[float | None, float | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """A weight put to one side, and the heel read with it.

    Attributes
    ----------
    mass_g : float
        Of the weight [g].
    arm_mm : float
        How far it was moved across, or put from the center plane [mm], positive to starboard.
    heel_deg : float
        Read with it there [deg], positive starboard down; as she lies, her own list included.
        Without a weight across (0 g or 0 mm) it is that list.
    """

    mass_g: float
    arm_mm: float
    heel_deg: float

    def __post_init__(self) -> None:
        """Refuse what is no shift."""
        if not (math.isfinite(self.mass_g) and self.mass_g >= 0.0 and math.isfinite(self.arm_mm)):
            raise InputError(f"{self.mass_g:g} g at {self.arm_mm:g} mm: no weight at an arm")
        if not abs(self.heel_deg) < 90.0:
            raise InputError(f"heel {self.heel_deg:g}°: must lie between −90 and 90")

    @property
    def moment_g_mm(self) -> float:
        """Mass times arm [g·mm]."""
        return self.mass_g * self.arm_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class ShiftCheck:
    """A shift with the heel that what was found gives for it, and what is left over [deg]."""

    mass_g: float
    arm_mm: float
    heel_deg: float
    explained_deg: float
    left_over_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Inclining:
    """Metacentric height and height of the center of gravity from weights put to one side.

    Attributes
    ----------
    mode : {"moved", "added"}
        Whether the weights are part of the mass, or came on top of it.
    mass_g : float
        Of the craft [g]; without the weights where they were added.
    metacentric_height_mm : float
        GM across, square to the water [mm].
    plus_minus_mm : float or None
        Half the width of its interval [mm]; None where it has no end.
    interval_mm : tuple of (float or None, float or None)
        Its 95 % interval [mm], longer upward: small heels magnify error. An end is None where the
        angles set none: they cannot tell the heel from none, or a tip float in the water holds her
        so that her own height hardly matters.
    initial_heel_deg : float
        List without a weight across [deg], positive starboard down.
    initial_heel_is_fitted : bool
        Whether the shifts told it; else it was taken as 0.
    metacenter_above_keel_mm, center_above_keel_mm : float or None
        KM, and KG = KM − GM [mm], square to the water with no heel, from the lowest point of the
        skin there, or from where the KM given was measured; None where no KM is known.
    center_z_mm : float or None
        Height of the center of gravity along body z [mm]; None without a craft. What explains the
        heels best, even where that is below the keel: then a heel or a weight is wrong.
    center_z_interval_mm : tuple of (float or None, float or None), or None
        Its 95 % interval [mm]; an end is None where the angles set none between the keel and as far
        over the metacenter.
    shifts : tuple of ShiftCheck
        In the order given.
    angle_deg : float
        Standard uncertainty taken for one angle [deg].
    residuals : str
        "explained"; "doubtful": worse than 95 % of good angles; "not explained": worse than 99 %;
        "not tested": no more shifts than unknowns.
    chi_square, degrees_of_freedom, probability : float, int, float or None
        Sum of squares left over, over the angles' uncertainty; shifts less unknowns; how often good
        angles leave more.
    """

    mode: Mode
    mass_g: float
    metacentric_height_mm: float
    plus_minus_mm: float | None
    interval_mm: Interval
    initial_heel_deg: float
    initial_heel_is_fitted: bool
    metacenter_above_keel_mm: float | None
    center_above_keel_mm: float | None
    center_z_mm: float | None
    center_z_interval_mm: Interval | None
    shifts: tuple[ShiftCheck, ...]
    angle_deg: float
    residuals: Residuals
    chi_square: float
    degrees_of_freedom: int
    probability: float | None
