"""What upsets her and what it does. Attribute names are the keys of the righting JSON."""

from dataclasses import dataclass
from typing import Literal

Side = Literal["starboard", "port"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SideArea:
    """Her side as the wind sees it at rest.

    `given` is true where area and center were given. Heights are above the water; `lever_mm`
    reaches from the middle of the side under water to that of the side above.
    """

    area_cm2: float
    center_height_mm: float
    center_depth_mm: float
    lever_mm: float
    given: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class WindReport:
    """A steady wind square on her side, M = ½ ρ C_D A v² b cos² φ."""

    speed_m_s: float
    air_density_kg_m3: float
    drag_coefficient: float
    side: SideArea
    moment_n_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnReport:
    """A flat turn; its moment is mass × v²/R × the lever from the side under water to the CG."""

    speed_m_s: float
    radius_m: float
    lever_mm: float
    moment_n_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something that goes under on one side, and the wind that brings her there.

    `steady_m_s` is a steady wind, `gust_m_s` a sudden one out of calm that rolls her so far, the
    roll undamped; None where no wind does.
    """

    name: str
    heel_deg: float
    steady_m_s: float | None
    gust_m_s: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PushedReport:
    """Wind and turn that push her to one side.

    `heel_deg` is where she comes to stand, None where nothing holds her short of 45°;
    `float_dry_share` how much of that side's tip float is still above the water there;
    `lowest_opening_mm` the height of the lowest opening that lets water in; `beyond_model` whether
    the wing is in the water there.
    """

    side: Side
    heel_deg: float | None
    trim_deg: float | None
    float_dry_share: float | None
    lowest_opening: str | None
    lowest_opening_mm: float | None
    beyond_model: bool
    events: tuple[Event, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class UpsetReport:
    """What upsets her, and what it does on either side; the worse side is named.

    `off_center` and `wet_wing` are [g, mm across] as given, already in mass and center of gravity.
    """

    off_center: tuple[float, float] | None
    wet_wing: tuple[float, float] | None
    wind: WindReport | None
    turn: TurnReport | None
    worse: Side
    pushed: tuple[PushedReport, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PushDown:
    """A wing tip pushed to the water and let go, in the heaviest setup.

    `to` says what was pushed to the water, `arm_mm` the arm that turns her back there;
    `returns_to_deg` is the heel at which nothing turns her back any further.
    """

    setup: str | None
    mass_g: float
    side: Side
    to: str
    heel_deg: float
    arm_mm: float
    returns_to_deg: float | None
    comes_back: bool
