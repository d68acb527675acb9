"""The answer to where the step lies by every rule. Attribute names are the keys of its JSON."""

from dataclasses import dataclass, replace
from typing import Self

from hullcheck.answers.float_records import Caveat, Point, StepReport
from hullcheck.water import Water


@dataclass(frozen=True, slots=True, kw_only=True)
class StepPlace:
    """Where the step lies from one center of gravity; what has no line is None.

    `behind_cg_mm` is along body x, positive when the step is aft, `behind_cg_percent` its share
    of the body's length. Each angle is at the center of gravity, from a line's normal to the keel
    corner. `trim_deg` is that at rest with this center of gravity.
    """

    center_of_gravity_mm: Point
    behind_cg_mm: float
    behind_cg_percent: float
    angle_from_keel_deg: float
    angle_from_wing_deg: float | None
    angle_from_fuselage_line_deg: float | None
    angle_from_plumb_deg: float | None
    trim_deg: float | None
    rest: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherStep:
    """Another step, or a ramp too gentle for one, on the same keel line."""

    station_mm: float
    depth_mm: float
    run_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StepPlanPoint:
    """Where the step's edge runs, to starboard of the center plane."""

    half_breadth_mm: float
    station_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Rotation:
    """How far she turns bow up about the step's corner until what lies aft touches level water.

    `keel_deg` is the forebody keel's angle to the water then, `body_deg` that of body x, `wing_deg`
    that of the wing's chord, None where its angle is not known. `touches` is "sternpost" or "keel
    at station 430".
    """

    touches: str
    station_mm: float
    keel_deg: float
    body_deg: float
    wing_deg: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Coefficients:
    """How heavily the bottom is loaded for its size.

    `mass_g` is what this body carries; `load_coefficient` C_Δ0 = m/(ρ b³), `spray` k =
    C_Δ0/(L_f/b)².
    """

    mass_g: float
    beam_over_chines_mm: float
    forebody_length_mm: float
    load_coefficient: float
    forebody_length_beam_ratio: float
    spray: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleCheck:
    """A rule of thumb and this craft's mark on its scale; no verdict.

    `least`, `most` and `value` are in `unit`: "mm", "percent" (of `of`), "deg" or "ratio".
    `least_mm`, `most_mm` and `value_mm` are the same in mm where it speaks of a length. `missing`
    says why the craft cannot be held against it.
    """

    quantity: str
    name: str
    kind: str
    line: str
    source: str
    unit: str
    of: str
    least: float | None
    most: float | None
    value: float | None
    least_mm: float | None
    most_mm: float | None
    value_mm: float | None
    missing: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OneFloat:
    """A float of a pair.

    `volume_ratio` is what it carries wholly under over what it has to carry, `mass_g`.
    """

    name: str
    length_mm: float
    bow_station_mm: float
    thickness_mm: float
    beam_mm: float
    center_plane_mm: float
    volume_cm3: float
    mass_g: float
    volume_ratio: float
    top_angle_deg: float | None
    forebody_keel_angle_deg: float | None
    step_station_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FloatsReport:
    """The main floats, their spacing between center planes, and the rules for them.

    `incidence_deg` is wing's chord to the floats' top, positive when the wing's nose is higher,
    `keel_incidence_deg` the same to their forebody keel. `overhang_mm` is how far the floats reach
    ahead of the propeller's disc.
    """

    floats: tuple[OneFloat, ...]
    spacing_mm: float | None
    overhang_mm: float | None
    propeller_to_cg_mm: float | None
    propeller_clearance_mm: float | None
    incidence_deg: float | None
    keel_incidence_deg: float | None
    volume_ratio: float
    rules: tuple[RuleCheck, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StepAnswer:
    """The step of a craft by every rule.

    `body` is the body it is read off, the largest of hull and main floats. `places_in_cg_range`
    are those of the two ends of the stations her center of gravity must lie between.
    """

    schema: str
    craft: str
    setup: str | None
    mass_g: float
    center_of_gravity_mm: Point | None
    water: Water
    body: str
    role: str
    length_mm: float
    step: StepReport | None
    other_steps: tuple[OtherStep, ...]
    ramps: tuple[OtherStep, ...]
    plan: tuple[StepPlanPoint, ...]
    wing_angle_deg: float | None
    fuselage_line_angle_deg: float | None
    place: StepPlace | None
    cg_range_mm: tuple[float, float] | None
    places_in_cg_range: tuple[StepPlace, ...]
    afterbody_angle_deg: float | None
    rotation: Rotation | None
    coefficients: Coefficients | None
    rules: tuple[RuleCheck, ...]
    floats: FloatsReport | None
    warnings: tuple[Caveat, ...]

    def with_warnings(self, more: tuple[Caveat, ...]) -> Self:
        """Return the same answer with more to know, put first."""
        return replace(self, warnings=(*more, *self.warnings))
