"""Scales under a craft, what they say of her mass and center, and how that agrees with the ledger.

Every ± here is half of an interval that holds 95 of 100 times, of what is read as of what follows.
"""

import math
from dataclasses import dataclass, replace
from typing import Final, Literal, Self

from hullcheck.answers.float_records import Caveat, Point
from hullcheck.errors import InputError

SCALE_PLUS_MINUS_G: Final = 1.0
"""Of a kitchen scale that reads grams (common practice, no source)."""
POSITION_PLUS_MINUS_MM: Final = 1.0
"""Of the place of a support, measured with a ruler (common practice, no source)."""
ANGLE_PLUS_MINUS_DEG: Final = 0.2
"""Of an angle read off a telephone or a digital protractor (common practice, no source)."""

_LEAST_APART_MM: Final = 10.0
"""Supports nearer to each other across than this stand in one line."""

HeightFrom = Literal["weighed", "given", "ledger", "not known"]
Three = tuple[float | None, float | None, float | None]
"""Along x, y and z; None where it is not told."""
Verdict = Literal["agrees", "heavier", "lighter", "center differs"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Support:
    """What she stands on, or hangs from: where that touches her.

    Attributes
    ----------
    name : str
        What it is called; one support in two weighings has one name.
    x_mm, y_mm, z_mm : float
        Where it touches her, in body axes [mm].
    plus_minus_mm : float
        How well each of them is known [mm].
    """

    name: str
    x_mm: float
    y_mm: float = 0.0
    z_mm: float = 0.0
    plus_minus_mm: float = POSITION_PLUS_MINUS_MM

    def __post_init__(self) -> None:
        """Refuse a place that is none."""
        for field in ("x_mm", "y_mm", "z_mm"):
            value = getattr(self, field)
            if not math.isfinite(value):
                raise InputError(f"{self.name}: {field} {value:g}: not a finite number")
        check_plus_minus(self.name, "plus_minus_mm", self.plus_minus_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class OnScales:
    """One weighing: what each scale under her reads, in one attitude.

    Attributes
    ----------
    readings : tuple of (Support, float)
        Every support with what its scale reads [g], stands and trestles taken off. One alone: she
        balances on it, or hangs from it.
    bow_up_deg, starboard_down_deg : float
        How the datum line lies to the level [deg].
    plus_minus_g : float
        How well each scale reads [g].
    plus_minus_deg : float
        How well each angle is known [deg].
    tells_across : bool or None
        Whether it tells her center across. None: if three or more supports stand 10 mm apart across
        or more. Two do not: she would roll over on them, so somebody or something holds her. One
        alone does where she hangs from a point, and not where she lies on an edge across.
    """

    readings: tuple[tuple[Support, float], ...]
    bow_up_deg: float = 0.0
    starboard_down_deg: float = 0.0
    plus_minus_g: float = SCALE_PLUS_MINUS_G
    plus_minus_deg: float = ANGLE_PLUS_MINUS_DEG
    tells_across: bool | None = None

    def __post_init__(self) -> None:
        """Refuse readings and angles that make no sense."""
        if not self.readings:
            raise InputError("a weighing without a reading: name at least one support")
        for support, grams in self.readings:
            _check_reading(support.name, grams)
        for field in ("bow_up_deg", "starboard_down_deg"):
            value = getattr(self, field)
            if not abs(value) <= 90.0:
                raise InputError(f"weighing, {field} {value:g}: must lie between −90 and 90")
        check_plus_minus("weighing", "plus_minus_g", self.plus_minus_g)
        check_plus_minus("weighing", "plus_minus_deg", self.plus_minus_deg)
        self._check_apart()

    def _check_apart(self) -> None:
        """Refuse a support named twice, and several at one station."""
        names = [support.name for support, _ in self.readings]
        twice = next((n for i, n in enumerate(names) if n in names[:i]), None)
        if twice is not None:
            raise InputError(f"support {twice!r} stands in one weighing twice")
        stations = [support.x_mm for support, _ in self.readings]
        if len(stations) > 1 and max(stations) - min(stations) < 1.0:
            raise InputError(
                f"{' and '.join(names)} all stand at station {stations[0]:g}: scales there do not "
                "tell where along her the CG lies; put one further forward or aft"
            )

    @property
    def across(self) -> bool:
        """Whether it tells her center across."""
        if self.tells_across is not None:
            return self.tells_across
        sides = [support.y_mm for support, _ in self.readings]
        return len(sides) > 2 and max(sides) - min(sides) >= _LEAST_APART_MM

    @property
    def mass_g(self) -> float:
        """Sum of the readings [g]."""
        return math.fsum(grams for _, grams in self.readings)


@dataclass(frozen=True, slots=True, kw_only=True)
class CenterHeight:
    """The height of her center of gravity where scales do not tell it [mm], and where it is from.

    `plus_minus_mm` matters only as far as she is not level.
    """

    z_mm: float
    plus_minus_mm: float = 0.0
    source: Literal["given", "ledger"] = "given"

    def __post_init__(self) -> None:
        """Refuse a height that is none."""
        if not math.isfinite(self.z_mm):
            raise InputError(f"height of the CG {self.z_mm:g}: not a finite number")
        check_plus_minus("height of the CG", "plus_minus_mm", self.plus_minus_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """What one reading, place or angle, out by its ±, does to mass [g] and center [mm]."""

    of: str
    mass_g: float
    x_mm: float
    y_mm: float
    z_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ScalesReport:
    """What scales say of her mass and center of gravity.

    Attributes
    ----------
    mass_g, plus_minus_g : float
        Mean of the weighings' sums, and how well it is known [g].
    center_of_gravity_mm, center_plus_minus_mm : tuple of (float or None)
        In body axes [mm]; None where the weighings do not tell it.
    height_from : str
        "weighed" in a second, tilted weighing; else what height the correction for her attitude
        was made with: "given", "ledger" or "not known".
    as_read_station_mm : float
        (R₁x₁ + R₂x₂)/(R₁ + R₂) of the first weighing, as if she were level [mm].
    correction_mm : float
        What was added to that for her attitude [mm].
    sums_differ_g : float or None
        Greatest difference between the weighings' sums [g]; None with one weighing.
    shares : tuple of Share
        What each of the ± adds; independent of each other.
    warnings : tuple of Caveat
    """

    mass_g: float
    plus_minus_g: float
    center_of_gravity_mm: Three
    center_plus_minus_mm: Three
    height_from: HeightFrom
    as_read_station_mm: float
    correction_mm: float
    sums_differ_g: float | None
    shares: tuple[Share, ...]
    warnings: tuple[Caveat, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """What would explain the difference: grams and where they are centered, each with its ±.

    `center_mm` and `center_plus_minus_mm` hold None where that is not told; `outside` says that
    the station lies beyond both ends of her.
    """

    mass_g: float
    plus_minus_g: float
    center_mm: Three
    center_plus_minus_mm: Three
    outside: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerCheck:
    """Scales against the ledger.

    Attributes
    ----------
    verdict : str
        "agrees" (every difference is within its ±), "heavier", "lighter" (than the ledger, beyond
        the ±) or "center differs" (the mass agrees, the center does not).
    message : str
        The same in a sentence, in grams and millimeters.
    ledger_mass_g, ledger_plus_minus_g : float
        [g]
    ledger_center_mm : tuple of float or None
        None while an item has no place [mm].
    more_g, more_plus_minus_g : float
        Scales less ledger [g].
    center_differs_mm, center_differs_plus_minus_mm : tuple of (float or None)
        Scales less ledger along each axis [mm].
    moment_differs_g_mm : float or None
        Scales less ledger, mass times station from the ledger's CG [g·mm].
    missing : Missing or None
        The item that would explain it; None unless heavier or lighter.
    """

    verdict: Verdict
    message: str
    ledger_mass_g: float
    ledger_plus_minus_g: float
    ledger_center_mm: Point | None
    more_g: float
    more_plus_minus_g: float
    center_differs_mm: Three
    center_differs_plus_minus_mm: Three
    moment_differs_g_mm: float | None
    missing: Missing | None

    def saying(self, message: str) -> Self:
        """Return the same with the sentence put in."""
        return replace(self, message=message)


def check_plus_minus(name: str, field: str, value: float) -> None:
    """Refuse a ± below 0 or not finite."""
    if not (math.isfinite(value) and value >= 0.0):
        raise InputError(f"{name}, {field} {value:g}: must not be below 0")


def _check_reading(name: str, grams: float) -> None:
    """Refuse a reading that tells nothing."""
    if not math.isfinite(grams) or grams < 0.0:
        raise InputError(
            f"{name} reads {grams:g} g: must be above 0; if she pulls up on it, move the support"
        )
    if grams == 0.0:
        raise InputError(
            f"{name} reads 0 g: she stands on the others alone, so scales do not tell where the CG "
            "lies; move that support to the other side of it"
        )
