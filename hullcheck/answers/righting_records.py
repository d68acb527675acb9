"""The answer to what rights and what upsets her. Attribute names are the keys of its JSON."""

from dataclasses import dataclass, replace
from typing import Self

from hullcheck.answers.float_records import Caveat, LoadReport, Point
from hullcheck.answers.upset_records import PushDown, Side, UpsetReport
from hullcheck.water import Water


@dataclass(frozen=True, slots=True, kw_only=True)
class CurveRow:
    """The righting arm at a heel, trim and draft free; positive turns her to port.

    The surface holds the points p with normal·p = height_mm. `beyond_model` is true past the heel
    where a wing that is not in the meshes reaches the water.
    """

    heel_deg: float
    righting_arm_mm: float
    trim_deg: float
    height_mm: float
    normal: Point
    beyond_model: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class JumpReport:
    """A heel at which her trim gives way, and what it and the arm are on both sides."""

    heel_deg: float
    trim_before_deg: float
    trim_after_deg: float
    arm_before_mm: float
    arm_after_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class GreatestArm:
    """The greatest arm that turns her back, and its heel."""

    heel_deg: float
    righting_arm_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SideReport:
    """The curve from rest to one side; heels are absolute, to port below 0.

    `range_deg` is where the arm falls through zero, None where it does not by 180°;
    `area_mm_rad` the area under the arm from rest to there, or to its end; `downflooding_deg` where
    the first opening that lets water in goes under; `beyond_model_deg` where the wing reaches the
    water; `ends_deg` where the curve ends before 180°, as nothing holds her trim; None if it does
    not.
    """

    side: Side
    range_deg: float | None
    greatest: GreatestArm | None
    area_mm_rad: float
    downflooding_deg: float | None
    downflooding_at: str | None
    beyond_model_deg: float | None
    ends_deg: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningReport:
    """The heels at which an opening goes under, to starboard and to port; None if by neither."""

    name: str
    state: str | None
    starboard_deg: float | None
    port_deg: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeReport:
    """The least float that holds, by scaling it and by moving it, all else being as it is.

    `factor` is how many times the upsetting moment the wholly submerged float must give; volumes
    are of one float scaled about the middle of its foot, 0 where the hull needs none; reaches from
    her center plane to its middle, from beside the hull outward. None where not ten times its
    volume does it, or nowhere up to three times as far out.
    """

    factor: float
    least_volume_cm3: float | None
    least_reach_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FloatReport:
    """A tip float or sponson: when it works and what it does just wholly under.

    Heels are absolute, to port below 0. Moments are about the center of gravity at that heel, trim
    and draft free: `righting_moment_g_mm` of the float's buoyancy, `upsetting_moment_g_mm` of all
    other buoyancy (below 0 where the hull rights itself), `load_moment_g_mm` of wind and turn.
    `ratio` is the first over the sum of the others; None where nothing upsets her.
    """

    name: str
    role: str
    side: Side
    volume_cm3: float
    reach_mm: float
    gap_at_rest_mm: float
    touches_deg: float | None
    under_deg: float | None
    under_beyond_model: bool
    righting_moment_g_mm: float | None
    upsetting_moment_g_mm: float | None
    load_moment_g_mm: float | None
    ratio: float | None
    holds: bool | None
    sizes: tuple[SizeReport, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RestReport:
    """A stable attitude with the bodies that are wet and the openings that are under in it.

    Beyond the model, a wing that is not in the meshes is in the water: no attitude to count on.
    """

    trim_deg: float
    heel_deg: float
    height_mm: float
    normal: Point
    rest: str
    wet: tuple[str, ...]
    openings_under: tuple[str, ...]
    beyond_model: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Pulled:
    """Trim, bow freeboard and the propeller's clearance with the resistance at one height."""

    trim_deg: float
    bow_freeboard_mm: float
    propeller_clearance_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ThrustRow:
    """A thrust, resisted at the waterline and at the keel: a band, as the height is not known.

    None where the bow goes under before she finds a rest.
    """

    thrust_g: float
    at_waterline: Pulled | None
    at_keel: Pulled | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ThrustReport:
    """Trim under thrust up to full; the least thrust that puts the bow's top under, by band.

    `bow_under_…_g` is None where full thrust does not.
    """

    full_g: float
    rows: tuple[ThrustRow, ...]
    bow_under_at_waterline_g: float | None
    bow_under_at_keel_g: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RightingAnswer:
    """What rights her and what upsets her; `short_by_g` instead when she sinks.

    `slope_at_rest_mm_per_deg` is the arm's slope over heel at rest, `upright_slope_mm_per_deg` at
    heel 0. `downflooding_deg` is the lesser of both sides, `range_deg` that on the side she leans
    to, upright the lesser, both without a sign.
    """

    schema: str
    craft: str
    setup: str | None = None
    mass_g: float
    center_of_gravity_mm: Point
    load: LoadReport | None = None
    water: Water
    rest: str
    short_by_g: float | None = None
    trim_deg: float | None = None
    heel_deg: float | None = None
    slope_at_rest_mm_per_deg: float | None = None
    upright_slope_mm_per_deg: float | None = None
    rows: tuple[CurveRow, ...] = ()
    jumps: tuple[JumpReport, ...] = ()
    downflooding_deg: float | None = None
    range_deg: float | None = None
    greatest: GreatestArm | None = None
    area_mm_rad: float | None = None
    sides: tuple[SideReport, ...] = ()
    openings: tuple[OpeningReport, ...] = ()
    floats: tuple[FloatReport, ...] = ()
    attitudes: tuple[RestReport, ...] = ()
    upset: UpsetReport | None = None
    push_down: tuple[PushDown, ...] = ()
    thrust: ThrustReport | None = None
    warnings: tuple[Caveat, ...] = ()

    def with_warnings(self, more: tuple[Caveat, ...]) -> Self:
        """Return the same answer with more to know, put first."""
        return replace(self, warnings=(*more, *self.warnings))
