"""Where the step lies by every rule at once, and what the bottom allows: the whole answer."""

from hullcheck.answers.body_shares import step_report
from hullcheck.answers.caveats import caveats
from hullcheck.answers.float_records import Caveat
from hullcheck.answers.invented import refuse_invented
from hullcheck.answers.rest import rest_at
from hullcheck.answers.rule_checks import Measures, measures_of, rule_checks
from hullcheck.answers.step_bottom import Bottom, coefficients
from hullcheck.answers.step_caveats import comparing_caveats, step_caveats
from hullcheck.answers.step_places import Lines, places_in_range, step_place
from hullcheck.answers.step_records import Coefficients, StepAnswer, StepPlace
from hullcheck.answers.step_rules import STEP_RULES
from hullcheck.answers.twin_floats import floats_report
from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import Rest

SCHEMA = "hullcheck.step/1"

_OF_FLOAT = frozenset({"no-openings", "state-not-stated", "all-sealed", "no-cg"})
"""Codes of what is said beside freeboard only, or otherwise here."""


def step_answer(craft: Craft) -> StepAnswer:
    """Return the step of a craft by every rule.

    Parameters
    ----------
    craft : Craft
        What floats, what it weighs, in what water.

    Returns
    -------
    StepAnswer
        Read off the largest of hull and main floats. `step` is None on a bottom without one; what
        depends on a line, a center or a measure that is not known says so in its rule.

    Raises
    ------
    SolverError
        If no rest was found.
    SurfaceError
        If much of what is under water had to be invented; see `answers.invented`.
    """
    bottom, reference = Bottom.of(craft.deck_body), craft.fittings.reference
    lines, center, step = Lines.of(reference), craft.center_of_gravity_mm, bottom.step
    rest = _believed_rest(craft)
    place: StepPlace | None = None
    ends: tuple[StepPlace, ...] = ()
    if step is not None and center is not None:
        place = step_place(
            craft, step, lines, length_mm=bottom.length_mm, center_mm=center, rest=rest
        )
        ends = places_in_range(craft, step, bottom.length_mm, lines)
    loads = coefficients(craft, bottom)
    rules = rule_checks(STEP_RULES, _measures(craft, bottom, place, loads))
    said = comparing_caveats(rules, center_is_known=center is not None)
    return StepAnswer(
        schema=SCHEMA,
        craft=craft.name,
        setup=craft.setup,
        mass_g=craft.mass_g,
        center_of_gravity_mm=center,
        water=craft.water,
        body=bottom.body.name,
        role=bottom.body.role,
        length_mm=bottom.length_mm,
        step=None if step is None else step_report(step, center),
        other_steps=bottom.others,
        ramps=bottom.ramps,
        plan=bottom.plan,
        wing_angle_deg=reference.wing_angle_deg,
        fuselage_line_angle_deg=lines.fuselage_deg,
        place=place,
        cg_range_mm=craft.cg_range_mm,
        places_in_cg_range=ends,
        afterbody_angle_deg=bottom.afterbody_angle_deg,
        rotation=bottom.rotation(reference.wing_angle_deg),
        coefficients=loads,
        rules=rules,
        floats=floats_report(craft),
        warnings=(*step_caveats(bottom), *said, *_general(craft, rest)),
    )


def _believed_rest(craft: Craft) -> Rest | None:
    """Return where she rests, refused where much of what is under water is invented."""
    rest = rest_at(craft, craft.center_of_gravity_mm)
    if rest is not None:
        refuse_invented(craft, rest.floating)
    return rest


def _general(craft: Craft, rest: Rest | None) -> tuple[Caveat, ...]:
    """Return what must be said of load and place, without what is about freeboard."""
    return tuple(c for c in caveats(craft, rest, ()) if c.code not in _OF_FLOAT)


def _measures(
    craft: Craft, bottom: Bottom, place: StepPlace | None, loads: Coefficients | None
) -> Measures:
    """Return what rules are held against, by name, and why the rest is missing."""
    step = bottom.step
    if step is None:
        return measures_of(dict.fromkeys(_ALL, "no step was found"))
    beam = step.beam_over_chines_mm
    flat = "no chine was found: the bottom runs into the side unbroken"
    values: dict[str, float | str] = {
        "length_mm": bottom.length_mm,
        "beam_over_chines_mm": flat if beam is None else beam,
        "step_depth_mm": step.depth_mm,
        "afterbody_angle_deg": bottom.afterbody_angle_deg or 0.0,
        "sternpost_angle_deg": step.sternpost_angle_deg,
        "deadrise_deg": flat if step.deadrise_deg is None else step.deadrise_deg,
    }
    for name in ("load_coefficient", "forebody_length_beam_ratio", "spray"):
        values[name] = flat if loads is None else getattr(loads, name)
    return measures_of(values | _from_center(craft, place))


def _from_center(craft: Craft, place: StepPlace | None) -> dict[str, float | str]:
    """Return what needs a center of gravity."""
    if place is None:
        return dict.fromkeys(_FROM_CENTER, "her CG is not known")
    on_side = "she sinks" if place.rest == "sinks" else "she does not rest upright"
    wing = "wing_angle_deg is not in the sheet's [reference]"
    if craft.weighing is None and craft.fittings.reference.wing_angle_deg is None:
        wing = "wing_angle_deg of a build sheet is not given"
    by_line: dict[str, tuple[float | None, str]] = {
        "step_behind_cg_mm": (place.behind_cg_mm, ""),
        "angle_from_keel_deg": (place.angle_from_keel_deg, ""),
        "angle_from_wing_deg": (place.angle_from_wing_deg, wing),
        "angle_from_plumb_deg": (place.angle_from_plumb_deg, on_side),
    }
    return {name: why if value is None else value for name, (value, why) in by_line.items()}


_FROM_CENTER = (
    "step_behind_cg_mm",
    "angle_from_keel_deg",
    "angle_from_wing_deg",
    "angle_from_plumb_deg",
)
_ALL = tuple({rule.measure: None for rule in STEP_RULES})
