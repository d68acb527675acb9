"""The answer to where she floats. Attribute names are the keys of its JSON."""

from dataclasses import dataclass, replace
from typing import Self

from hullcheck.water import Water

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Waterline:
    """The water surface: the points p in body axes with normal·p = height_mm."""

    normal: Point
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """Held level at the same mass: what that says of the center of gravity.

    `center_of_buoyancy_mm` is where the CG must be for her to rest level; `cg_aft_of_cb_mm` how
    far aft of that it is; `highest_cg_z_mm` the z at which she would just stop being stable.
    """

    draft_mm: float
    center_of_buoyancy_mm: Point
    cg_aft_of_cb_mm: float | None
    highest_cg_z_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Drafts:
    """Depths of the keel below the surface [mm]; negative when clear of it."""

    deepest: float
    bow: float | None
    step: float | None
    stern: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class HeightPoint:
    """A named point and its height above the surface [mm], negative under it.

    `what` is "opening", "top of the hull", "wing tip" or "propeller disc"; `state` is an opening's
    "open", "taped" or "sealed", None where it is not stated.
    """

    name: str
    height_mm: float
    point_mm: Point
    what: str = "top of the hull"
    state: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Freeboard:
    """Heights above the water; `least` is the one that counts, read off the point named `at`.

    `plus_minus` is how well that one is known: reading, weighing, the volume of the skin.
    """

    least: float | None
    plus_minus: float | None = None
    at: str | None
    points: tuple[HeightPoint, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitCheck:
    """A limit of the build sheet by its key, its value, and whether it holds.

    A limit with two ends is a pair; the value is None where she sinks and has none.
    """

    name: str
    value: float | None
    limit: float | tuple[float, float]
    ok: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadReport:
    """Where mass and center of gravity come from; see `hullcheck.craft.weighing.Weighing`."""

    all_up: bool
    items: int
    weighed: int
    unknown: tuple[str, ...]
    without_place: tuple[str, ...]
    plus_minus_g: float
    mass_is_measured: bool
    center_is_measured: bool
    ledger_mass_g: float | None
    ledger_center_of_gravity_mm: Point | None
    target_mass_g: float | None
    cg_range_mm: tuple[float, float] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Waterplane:
    """The cut of all bodies with the surface; length and beam over all of them together."""

    area_cm2: float
    centroid_mm: Point
    length_mm: float
    beam_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """A value across and a value along."""

    transverse: float
    longitudinal: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Reserve:
    """Buoyancy left between the waterline and the first point that lets water in.

    `envelope_ratio` is the whole skin over the displaced volume.
    """

    to_first_opening_cm3: float | None
    to_first_opening_percent: float | None
    limited_by: str | None
    envelope_ratio: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StepReport:
    """A step and the bottom around it; see `hullcheck.geometry.step.Step`."""

    station_mm: float
    depth_mm: float
    keel_z_mm: float
    behind_cg_mm: float | None
    angle_from_cg_deg: float | None
    forebody_keel_angle_deg: float
    forebody_fit_mm: float
    afterbody_keel_angle_deg: float
    afterbody_fit_mm: float
    sternpost_station_mm: float
    sternpost_z_mm: float
    sternpost_angle_deg: float
    forebody_length_mm: float
    beam_over_chines_mm: float | None
    deadrise_deg: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class BodyShare:
    """What one body carries; `clearance_mm` is its lowest point's height above the surface.

    `error_cm3` is how well its volume is known; None where a mesh is taken at its word.
    """

    name: str
    role: str
    volume_cm3: float
    error_cm3: float | None
    displaced_volume_cm3: float | None
    clearance_mm: float | None
    step: StepReport | None


@dataclass(frozen=True, slots=True, kw_only=True)
class AttitudeReport:
    """A stable attitude."""

    trim_deg: float
    heel_deg: float
    height_mm: float
    normal: Point
    rest: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Residual:
    """What is left of the balance by one pass over every triangle."""

    mass_g: float
    moment_g_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Caveat:
    """Something the reader must know: a code for programs, a sentence for people."""

    code: str
    message: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FloatAnswer:
    """Where she floats. Without a center of gravity `rest` is None and she is held level.

    When she sinks, `short_by_g` says by how many grams, and what has no answer is None. `margin_g`
    is what may be added at the CG until the first limit breaks, `margin_limited_by` names that
    limit by its key ("sinks" or "capsizes" where none breaks before), and `margin_at` the point
    that freeboard is read off there, or the way she trims or heels.
    """

    schema: str
    craft: str
    setup: str | None = None
    mass_g: float
    center_of_gravity_mm: Point | None
    load: LoadReport | None = None
    water: Water
    rest: str | None
    upright_is_stable: bool | None = None
    stable: bool | None = None
    short_by_g: float | None = None
    displaced_volume_cm3: float | None = None
    center_of_buoyancy_mm: Point | None = None
    waterline: Waterline | None = None
    trim_deg: float | None = None
    heel_deg: float | None = None
    level: Level | None = None
    draft_mm: Drafts | None = None
    freeboard_mm: Freeboard | None = None
    clearances_mm: tuple[HeightPoint, ...] = ()
    margin_g: float | None = None
    margin_plus_minus_g: float | None = None
    margin_limited_by: str | None = None
    margin_at: str | None = None
    limits: tuple[LimitCheck, ...] = ()
    waterplane: Waterplane | None = None
    metacentric_height_mm: Pair | None = None
    metacentric_radius_mm: Pair | None = None
    sinkage_g_per_mm: float | None = None
    moment_to_trim_g_mm_per_deg: float | None = None
    moment_to_heel_g_mm_per_deg: float | None = None
    wetted_area_cm2: float | None = None
    reserve_buoyancy: Reserve | None = None
    bodies: tuple[BodyShare, ...]
    step: StepReport | None = None
    attitudes: tuple[AttitudeReport, ...] = ()
    residual: Residual | None = None
    closure_error_cm2: float | None = None
    warnings: tuple[Caveat, ...]

    def with_warnings(self, more: tuple[Caveat, ...]) -> Self:
        """Return the same answer with more to know, put first."""
        return replace(self, warnings=(*more, *self.warnings))
