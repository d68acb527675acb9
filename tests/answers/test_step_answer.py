"""The step by every rule: coefficients, marks, lines, bands, and what is said where none fits."""

import dataclasses
import math

import make_bodies
import pytest
from crafts import body_of, box_craft, craft_of
from hypothesis import given, settings
from step_hulls import CG, ramped, side_view, stepped_craft, two_stepped, v_stepped
from strategies import uniform

from hullcheck.answers.step_answer import step_answer
from hullcheck.answers.step_rules import PRACTICE, STEP_RULES
from hullcheck.craft.fittings import Fittings, Reference
from hullcheck.flotation.floating import float_at
from hullcheck.water import water_of_density


def with_lines(**lines):
    """Return fittings with lines to read angles against."""
    return Fittings(reference=Reference(**lines))


def marks(answer, quantity):
    """Return the marks of a quantity by the rules' names."""
    return {r.name: r.value for r in answer.rules if r.quantity == quantity}


def codes(answer):
    """Return the codes of what is said beside an answer."""
    return [warning.code for warning in answer.warnings]


def test_coefficients_by_hand():
    """900 g on water of 1 g/cm³ and 100 mm of beam: 900/(0.001 · 10⁶) = 0.9; L_f/b 2.7; k.

    k = 0.9/2.7² = 0.9/7.29 = 0.123457.
    """
    loads = step_answer(stepped_craft(mass_g=900.0)).coefficients
    assert loads.load_coefficient == pytest.approx(0.9, rel=1e-6)
    assert loads.forebody_length_beam_ratio == pytest.approx(2.7, rel=1e-6)
    assert loads.spray == pytest.approx(0.1234568, rel=1e-6)


def test_coefficients_in_the_units_of_the_tanks():
    """50,000 lb on 64 lb/ft³ and a beam of 10 ft: C_Δ0 = 50,000/(64 · 10³) = 0.78125.

    With a forebody of 36 ft, k = 0.78125/3.6² = 0.0602816. The law C_Δ0 = k (L_f/b)² and
    C_Δ = W/(w b³) are Parkinson's, NACA ARR 3K08, 1943; the craft is made up. Pound and foot are
    exact: 453.59237 g, 304.8 mm; 64 lb/ft³ is 64 · 453.59237e-3/0.3048³ kg/m³.
    """
    foot, pound = 304.8, 453.59237
    shape = {
        "length_mm": 66.0 * foot,
        "beam_mm": 10.0 * foot,
        "height_mm": 12.0 * foot,
        "step_station_mm": 36.0 * foot,
        "step_depth_mm": 0.8 * foot,
        "deadrise_deg": 20.0,
        "forebody_keel_deg": 0.0,
        "afterbody_keel_deg": 6.0,
    }
    craft = craft_of(
        body_of(make_bodies.stepped_box(**shape)),
        mass_g=50_000.0 * pound,
        water=water_of_density(64.0 * pound * 1e-3 / (foot * 1e-3) ** 3),
    )
    answer = step_answer(craft)
    # The chine is found to a hair of its place, and beam enters cubed.
    assert answer.coefficients.load_coefficient == pytest.approx(0.78125, rel=1e-6)
    assert answer.coefficients.spray == pytest.approx(0.78125 / 3.6**2, rel=1e-6)
    assert "person-scale" in codes(answer)


@given(scale=uniform(0.2, 6.0))
@settings(max_examples=15, deadline=None)
def test_pure_numbers_and_angles_do_not_change_with_scale(scale):
    """Hull, CG and mass scaled together keep every coefficient, share and angle."""
    one = step_answer(stepped_craft(fittings=with_lines(wing_angle_deg=3.0)))
    two = step_answer(stepped_craft(scale=scale, fittings=with_lines(wing_angle_deg=3.0)))
    for name in ("load_coefficient", "forebody_length_beam_ratio", "spray"):
        wanted = getattr(one.coefficients, name)
        assert getattr(two.coefficients, name) == pytest.approx(wanted, rel=1e-6)
    for name in ("behind_cg_percent", "angle_from_keel_deg", "angle_from_wing_deg"):
        assert getattr(two.place, name) == pytest.approx(getattr(one.place, name), rel=1e-6)
    # The rest is found to a tolerance of its own, so trim and plumb line agree less closely.
    assert two.place.trim_deg == pytest.approx(one.place.trim_deg, abs=1e-4)
    for a, b in zip(one.rules, two.rules, strict=True):
        if a.unit in {"percent", "ratio"}:
            assert b.value == pytest.approx(a.value, rel=1e-6)


@given(shift=uniform(-40.0, 40.0))
@settings(max_examples=10, deadline=None)
def test_moving_the_cg_moves_every_mark_behind_it_as_far(shift):
    """The CG a millimeter aft brings the step a millimeter less behind it, by every rule in mm."""
    one = step_answer(stepped_craft())
    two = step_answer(stepped_craft(cg=(CG[0] + shift, *CG[1:])))
    pairs = [
        (a.value_mm, b.value_mm)
        for a, b in zip(one.rules, two.rules, strict=True)
        if a.quantity == "step_behind_cg"
    ]
    assert len(pairs) == 6
    for before, after in pairs:
        assert before - after == pytest.approx(shift, abs=1e-9)


@pytest.mark.parametrize(("wing", "rise"), [(0.0, 0.0), (2.0, 1.5), (-1.0, -3.0)])
def test_the_angle_by_every_line_is_that_of_the_turned_craft(wing, rise):
    """The step is 15 mm aft of and 60 mm under the CG: 14.036° from body x; lines turn it.

    A keel that rises forward by 2° and a wing set bow up by w turn their normals forward: the angle
    grows by as much. A fuselage line that rises aft, and a trim bow up, take it away.
    """
    line = ((100.0, 0.0, 50.0), (400.0, 0.0, 50.0 + 300.0 * math.tan(math.radians(rise))))
    answer = step_answer(stepped_craft(fittings=with_lines(wing_angle_deg=wing, line_mm=line)))
    plain, place = math.degrees(math.atan2(15.0, 60.0)), answer.place
    assert place.behind_cg_mm == pytest.approx(15.0, abs=1e-6)
    assert place.behind_cg_percent == pytest.approx(2.5, abs=1e-6)
    assert place.angle_from_keel_deg == pytest.approx(plain + 2.0, abs=1e-3)
    assert place.angle_from_wing_deg == pytest.approx(plain + wing, abs=1e-6)
    assert place.angle_from_fuselage_line_deg == pytest.approx(plain - rise, abs=1e-6)
    assert place.angle_from_plumb_deg == pytest.approx(plain - place.trim_deg, abs=1e-6)


def test_the_fuselage_line_may_be_given_from_either_end():
    """Its two points name one line; one that stands upright is none."""
    fore, aft = (100.0, 0.0, 50.0), (400.0, 0.0, 60.0)
    angles = [
        step_answer(stepped_craft(fittings=with_lines(line_mm=line))).fuselage_line_angle_deg
        for line in ((fore, aft), (aft, fore), (fore, (100.0, 0.0, 90.0)))
    ]
    assert angles[0] == angles[1] == pytest.approx(math.degrees(math.atan2(10.0, 300.0)))
    assert angles[2] is None


def test_a_rule_whose_line_is_not_known_is_not_comparable():
    """Without the wing's angle its rule has no mark and says why; with it, it has one."""
    without, given_wing = (
        step_answer(stepped_craft(fittings=with_lines(wing_angle_deg=angle)))
        for angle in (None, 2.0)
    )
    rule = next(r for r in without.rules if r.name == "Models, from the wing")
    assert rule.value is None
    assert "wing_angle_deg" in rule.missing
    assert "not-comparable" in codes(without)
    rule = next(r for r in given_wing.rules if r.name == "Models, from the wing")
    assert rule.missing is None
    assert rule.value == pytest.approx(given_wing.place.angle_from_wing_deg)
    assert "not-comparable" not in codes(given_wing)


def test_without_a_cg_only_what_is_read_from_it_is_missing():
    """Depth, angles of the bottom and coefficients stand; the rest is not comparable, said once."""
    answer = step_answer(stepped_craft(cg=None))
    assert answer.place is None
    missing = {r.quantity for r in answer.rules if r.missing is not None}
    assert missing == {"step_behind_cg", "step_angle"}
    assert codes(answer) == ["no-cg"]


def test_bands_in_percent_are_of_their_measure():
    """2–3 % of 600 mm are 12–18 mm; 15–20 % and 2.5–4 % of 100 mm of beam 15–20 and 2.5–4 mm."""
    bands = {r.name: (r.least_mm, r.most_mm) for r in step_answer(stepped_craft()).rules}
    assert bands["Share of length, 2–3 %"] == pytest.approx((12.0, 18.0), abs=1e-6)
    assert bands["15–20 % of beam"] == pytest.approx((15.0, 20.0), abs=1e-3)
    assert bands["Tank tests, 2.5–4 % of beam"] == pytest.approx((2.5, 4.0), abs=1e-3)
    assert bands["At least 1 % of length"] == (pytest.approx(6.0), None)
    depth = marks(step_answer(stepped_craft()), "step_depth")
    assert depth["15–20 % of beam"] == pytest.approx(10.0, abs=1e-3)
    assert depth["Never less than"] == pytest.approx(10.0, abs=1e-3)


def test_the_ends_of_the_cg_range_are_crafts_of_their_own():
    """Each end is what the answer says of a craft with her CG there; trim is that at rest."""
    craft = stepped_craft(cg_range_mm=(245.0, 262.0))
    for place, station in zip(
        step_answer(craft).places_in_cg_range, craft.cg_range_mm, strict=True
    ):
        center = (station, *CG[1:])
        moved = dataclasses.replace(craft, center_of_gravity_mm=center)
        assert place == step_answer(moved).place
        rest = float_at(
            craft.skin,
            mass_g=craft.mass_g,
            center_of_gravity_mm=center,
            density_kg_m3=craft.water.density_kg_m3,
        )
        assert place.trim_deg == pytest.approx(rest.floating.trim_deg, abs=1e-9)
        assert place.behind_cg_mm == pytest.approx(270.0 - station, abs=1e-6)


def test_rotation_is_the_sternpost_angle_and_turns_the_wing_along():
    """Keel 2° forward, sternpost (600, 10 + 330 tan 5°) from the corner (270, 0), wing at 3°."""
    turn = step_answer(stepped_craft(fittings=with_lines(wing_angle_deg=3.0))).rotation
    line = math.degrees(math.atan2(10.0 + 330.0 * math.tan(math.radians(5.0)), 330.0))
    assert turn.touches == "sternpost"
    assert turn.body_deg == pytest.approx(line, abs=1e-3)
    assert turn.keel_deg == pytest.approx(line + 2.0, abs=2e-3)
    assert turn.wing_deg == pytest.approx(line + 3.0, abs=1e-3)
    assert step_answer(stepped_craft()).rotation.wing_deg is None


def test_what_touches_is_named_where_it_is_no_sternpost():
    """A tail that hangs under the line to the second step touches first, and is said so."""
    hull = side_view(
        [(0, 160), (0, 6), (240, 0), (240, 10), (430, 60), (430, 75), (600, 75), (600, 160)]
    )
    turn = step_answer(craft_of(body_of(hull), mass_g=900.0, cg=CG)).rotation
    assert turn.touches == "keel at station 600"


def test_afterbody_angle_is_read_from_the_forebody_keel():
    """5° aft and 2° forward meet at 7°."""
    assert step_answer(stepped_craft()).afterbody_angle_deg == pytest.approx(7.0, abs=0.02)


def test_a_hull_without_a_step_says_so_and_compares_nothing():
    """A box has no step: every rule is not comparable, nothing else is made up."""
    answer = step_answer(box_craft())
    assert (answer.step, answer.place, answer.rotation, answer.coefficients) == (None,) * 4
    assert {rule.missing for rule in answer.rules} == {"no step was found"}
    assert codes(answer) == ["no-step"]


@pytest.mark.parametrize(
    ("hull", "code", "words"),
    [
        (ramped(20.0), "ramp", "at station 270 the keel rises 10.0 mm over 20.0 mm"),
        (two_stepped(), "other-step", "another step at station 430, 30.0 mm deep"),
        (v_stepped(), "v-step", "27.0 mm forward from keel to 45 mm off it"),
        (v_stepped(reach_mm=-30.0), "v-step", "27.0 mm aft from keel to 45 mm off it"),
    ],
)
def test_what_is_unusual_about_a_step_is_said(hull, code, words):
    """A ramp, a second step and a V in plan are named, with place and size."""
    answer = step_answer(craft_of(body_of(hull), mass_g=900.0, cg=CG))
    said = [w.message for w in answer.warnings if w.code == code]
    assert len(said) == 1
    assert words in said[0]


def test_a_straight_step_of_5_mm_ramp_is_a_step_and_nothing_is_said():
    """A face that leans over 5 mm is a step; no ramp, no V, no other step is claimed."""
    answer = step_answer(craft_of(body_of(ramped(5.0)), mass_g=900.0, cg=CG))
    assert answer.step.station_mm == pytest.approx(270.0, abs=0.1)
    assert not {"ramp", "v-step", "other-step", "no-step"} & set(codes(answer))


def test_she_who_sinks_has_no_plumb_line():
    """Too heavy for her skin: the angle from plumb is not comparable, all else stands."""
    answer = step_answer(stepped_craft(mass_g=1e5))
    assert answer.place.rest == "sinks"
    rule = next(r for r in answer.rules if r.name == "Homebuilt floats, from plumb")
    assert (rule.value, rule.missing) == (None, "she sinks")
    assert answer.place.angle_from_keel_deg is not None


def test_the_table_of_rules_is_whole():
    """Each rule has a band, a line and a source; names are not used twice; tanks are full size."""
    assert len({(rule.quantity, rule.name) for rule in STEP_RULES}) == len(STEP_RULES)
    for rule in STEP_RULES:
        assert rule.least is not None or rule.most is not None
        assert rule.least is None or rule.most is None or rule.least <= rule.most
        assert rule.line
        assert rule.source
        if "tank" in rule.name.lower() or rule.source != PRACTICE:
            assert rule.kind == "full size"
        if rule.quantity == "spray":
            assert "memory" in rule.source
