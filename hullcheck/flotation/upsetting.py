"""What heels her: wind on her side, a turn; the steady heel under them and the gust it takes."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from hullcheck.errors import InputError
from hullcheck.flotation.righting_curve import RightingCurve
from hullcheck.geometry.attitude import trim_of
from hullcheck.units import STANDARD_GRAVITY_M_S2

AIR_DENSITY_KG_M3: Final = 1.225
"""Of the standard atmosphere at sea level, 15 °C (ISO 2533:1975)."""
DRAG_COEFFICIENT: Final = 1.2
"""Of a side square to the wind: about that of a flat plate (handbooks, value from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wind:
    """A steady wind square on her side.

    Attributes
    ----------
    speed_m_s : float
        [m/s]
    area_mm2 : float
        Side area above the water [mm²].
    lever_mm : float
        From the middle of the side under water up to the middle of that area [mm].
    drag_coefficient : float
        Force over ½ ρ v² and the area.
    """

    speed_m_s: float
    area_mm2: float
    lever_mm: float
    drag_coefficient: float = DRAG_COEFFICIENT

    def __post_init__(self) -> None:
        """Refuse what is not finite or below 0."""
        for name in ("speed_m_s", "area_mm2", "drag_coefficient"):
            value = getattr(self, name)
            if not (math.isfinite(value) and value >= 0.0):
                raise InputError(f"wind: {name} {value:g}: must not be below 0")
        if not math.isfinite(self.lever_mm):
            raise InputError(f"wind: lever_mm {self.lever_mm:g}: not a finite number")

    @property
    def moment_n_mm(self) -> float:
        """Upsetting moment of her upright, ½ ρ C_D A v² b [N·mm]."""
        pressure = 0.5 * AIR_DENSITY_KG_M3 * self.speed_m_s**2
        return pressure * self.drag_coefficient * self.area_mm2 * 1e-6 * self.lever_mm

    def arm_mm(self, mass_g: float) -> float:
        """Return that moment over her weight [mm]."""
        return self.moment_n_mm / (mass_g * 1e-3 * STANDARD_GRAVITY_M_S2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """A flat turn at a speed, which heels her outward.

    Attributes
    ----------
    speed_m_s, radius_m : float
        [m/s], [m]
    lever_mm : float
        From the middle of the side under water up to the center of gravity [mm].
    """

    speed_m_s: float
    radius_m: float
    lever_mm: float

    def __post_init__(self) -> None:
        """Refuse a radius that is not above 0."""
        if not (math.isfinite(self.speed_m_s) and self.speed_m_s >= 0.0 and self.radius_m > 0.0):
            raise InputError(
                f"a turn at {self.speed_m_s:g} m/s on {self.radius_m:g} m: the radius must be "
                "above 0, the speed not below 0"
            )

    @property
    def arm_mm(self) -> float:
        """Upsetting moment over weight, v²/(g R) times the lever [mm]."""
        return self.speed_m_s**2 / (STANDARD_GRAVITY_M_S2 * self.radius_m) * self.lever_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Upset:
    """Upsetting arms of her upright [mm]: the wind's falls with cos² φ, the turn's with cos φ.

    The projected area and the lever of wind both shrink as she heels; a turn's force does not.
    """

    wind_mm: float = 0.0
    turn_mm: float = 0.0

    def arm_mm(self, heel: float) -> float:
        """Return the upsetting arm at a heel [rad], to the side it pushes her [mm]."""
        return self.wind_mm * math.cos(heel) ** 2 + self.turn_mm * abs(math.cos(heel))


def steady_heel(
    curve: RightingCurve, heels: Sequence[float], side: float, upset: Upset
) -> float | None:
    """Return the heel where the righting arm meets the upsetting one [rad]; None if it never does.

    Parameters
    ----------
    curve : RightingCurve
        The curve.
    heels : sequence of float
        From rest to the side she is pushed to [rad].
    side : float
        1 to starboard, −1 to port.
    upset : Upset
        What pushes her there.
    """
    return curve.first_fall(lambda heel: upset.arm_mm(heel) - side * curve.arm(heel), heels)


def steady_limit_mm(
    curve: RightingCurve, heels: Sequence[float], side: float, turn_mm: float = 0.0
) -> float:
    """Return the steady upsetting arm of a wind that brings her to the last of some heels [mm].

    It is the most that the righting arm, less a turn's, over cos² φ reaches on the way; infinite
    where the way passes 90°, which no wind by this law can.
    """
    most = 0.0
    for heel in heels:
        squared = math.cos(heel) ** 2
        left = side * curve.arm(heel) - turn_mm * abs(math.cos(heel))
        if abs(heel) >= 0.5 * math.pi:
            return math.inf
        most = max(most, left / squared)
    return most


def gust_limit_mm(
    curve: RightingCurve, heels: Sequence[float], side: float, turn_mm: float = 0.0
) -> float:
    """Return the arm of a sudden wind that rolls her from rest to the last of some heels [mm].

    Parameters
    ----------
    curve : RightingCurve
        The curve.
    heels : sequence of float
        From rest outward [rad].
    side : float
        1 to starboard, −1 to port.
    turn_mm : float, default 0
        A turn's upsetting arm that is there besides [mm].

    Notes
    -----
    Energy balance of a roll from rest that nothing damps: the wind's work, its arm times
    ∫ cos² φ cos τ dφ, against the area under the righting arm. The most over the way counts. Water
    damps the roll and takes some of the wind's work, so that a true gust may be stronger.
    """
    most, work, turned = 0.0, 0.0, 0.0
    start = heels[0]
    for here, heel in pairwise(heels):
        if abs(heel) >= 0.5 * math.pi:
            return math.inf
        level = math.cos(trim_of(curve.state(0.5 * (here + heel)).normal))
        work += side * level * (_half(heel) - _half(here))
        turned += side * level * (math.sin(heel) - math.sin(here))
        if work > 0.0:
            most = max(most, (curve.work_mm(start, heel) - turn_mm * turned) / work)
    return most


def wind_speed_m_s(wind: Wind, arm_mm: float, mass_g: float) -> float | None:
    """Return the speed whose arm is another one [m/s]; None where no speed has it."""
    unit = Wind(
        speed_m_s=1.0,
        area_mm2=wind.area_mm2,
        lever_mm=wind.lever_mm,
        drag_coefficient=wind.drag_coefficient,
    ).arm_mm(mass_g)
    if unit <= 0.0 or not math.isfinite(arm_mm):
        return None
    return math.sqrt(max(arm_mm, 0.0) / unit)


def _half(heel: float) -> float:
    """Return ∫ cos² φ dφ from 0 to a heel [rad]."""
    return 0.5 * (heel + math.sin(heel) * math.cos(heel))
