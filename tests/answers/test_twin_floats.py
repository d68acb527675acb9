"""Main floats against builders' rules, and a pair's waterplane against NACA TN 183."""

import dataclasses
import math

import make_bodies
import numpy as np
import pytest
from crafts import WATER, body_of, craft_of
from step_hulls import floats_craft, stepped_craft

from hullcheck.answers.float_rules import FLOAT_RULES
from hullcheck.answers.step_answer import step_answer
from hullcheck.answers.twin_floats import floats_report, top_angle_deg
from hullcheck.craft.fittings import Fittings, Propeller, Reference, Wing
from hullcheck.flotation.floating import held_at

RIG = Fittings(
    reference=Reference(wing_angle_deg=3.0),
    wing=Wing(tip_mm=(180.0, 700.0, 260.0), chord_mm=190.0),
    propeller=Propeller(hub_mm=(40.0, 0.0, 290.0), diameter_mm=250.0),
)


def by_name(report):
    """Return a report's rules by name."""
    return {rule.name: rule for rule in report.rules}


@pytest.mark.parametrize("spacing", [300.0, 500.0, 820.0])
def test_inertia_of_a_pair_of_boxes(spacing):
    """I = (L/12)((s + b)³ − (s − b)³), L 1.0 m, b 0.1 m, s between center planes.

    W. S. Diehl, "Static stability of seaplane floats and hulls", NACA TN 183, 1924 (title from
    memory); for s = 0.5 m it gives 0.0126667 m⁴. Two boxes float level; their waterplane's second
    moment is BM times displacement.
    """
    boxes = [
        dataclasses.replace(
            body_of(
                make_bodies.box(
                    length_mm=1000.0,
                    beam_mm=100.0,
                    height_mm=120.0,
                    origin_mm=(0.0, side * 0.5 * spacing, 0.0),
                ),
                name=f"float {side:+.0f}",
            ),
            role="main float",
        )
        for side in (1.0, -1.0)
    ]
    craft = craft_of(*boxes, mass_g=9000.0)
    held = held_at(craft.skin, mass_g=9000.0, density_kg_m3=WATER.density_kg_m3)
    inertia_m4 = held.metacentric_radius_mm[0] * held.displaced_volume_mm3 * 1e-12
    s, b = spacing * 1e-3, 0.1
    assert inertia_m4 == pytest.approx((1.0 / 12.0) * ((s + b) ** 3 - (s - b) ** 3), rel=1e-9)
    if spacing == 500.0:
        assert inertia_m4 == pytest.approx(0.0126667, abs=5e-8)
    assert floats_report(craft).spacing_mm == pytest.approx(spacing)


def test_measures_by_hand():
    """Floats from station 0 to 600 and 110 high; hub at 40 and 290, disc 250; CG at 265.

    Overhang 40; propeller to CG 225; disc's lowest point at 165, 55 over the deck; span 1400.
    """
    report = step_answer(floats_craft(fittings=RIG)).floats
    assert report.spacing_mm == pytest.approx(250.0)
    assert report.overhang_mm == pytest.approx(40.0)
    assert report.propeller_to_cg_mm == pytest.approx(225.0)
    assert report.propeller_clearance_mm == pytest.approx(55.0, abs=1e-6)
    rules = by_name(report)
    assert rules["At least 2.5 × propeller to CG"].least_mm == pytest.approx(562.5)
    two = rules["2 × (propeller to CG + 50–75 mm)"]
    assert (two.least_mm, two.most_mm) == pytest.approx((550.0, 600.0))
    # In percent of the same measure: 600/225.
    assert two.value == pytest.approx(100.0 * 600.0 / 225.0)
    assert two.least == pytest.approx(100.0 * 550.0 / 225.0)
    assert rules["Half a propeller"].least_mm == pytest.approx(125.0)
    assert rules["5 % of the float"].least_mm == pytest.approx(30.0)
    assert rules["Old layouts, up to 40 % of span"].most_mm == pytest.approx(560.0)
    assert rules["53–55 % of the float"].value == pytest.approx(45.0, abs=1e-3)
    assert rules["About 8 % of the float"].value_mm == pytest.approx(110.0, abs=1.0)


def test_reserve_is_the_pairs_lift_over_her_mass():
    """Both together, and each with its half, carry what their volume weighs in her water."""
    craft = floats_craft(mass_g=1300.0)
    report = floats_report(craft)
    volume_cm3 = sum(body.shell.volume_mm3 for body in craft.bodies) / 1000.0
    assert report.volume_ratio == pytest.approx(volume_cm3 / 1300.0, rel=1e-9)
    for one in report.floats:
        assert one.mass_g == pytest.approx(650.0, rel=1e-9)
        assert one.volume_ratio == pytest.approx(report.volume_ratio, rel=1e-9)
    rule = by_name(report)["Required, 1.80 × W"]
    assert (rule.kind, rule.least) == ("full size", 1.8)
    assert "25.751(a)" in rule.source


def test_coefficients_of_a_float_are_with_her_half():
    """C_Δ0 of a float: 650 g on 100 mm of beam in water of 1 g/cm³ is 0.65."""
    loads = step_answer(floats_craft(mass_g=1300.0)).coefficients
    assert loads.mass_g == pytest.approx(650.0, rel=1e-9)
    assert loads.load_coefficient == pytest.approx(0.65, rel=1e-5)


@pytest.mark.parametrize("turn", [-3.0, 0.0, 2.0])
def test_incidence_is_wing_less_the_floats_own_angle(turn):
    """A float turned bow up by t under a wing at 3° has its top at 3 − t to the chord."""
    shell = floats_craft().bodies[0].shell.triangles_mm
    angle = math.radians(turn)
    # Bow up: what lies aft goes down.
    matrix = np.array(
        [[math.cos(angle), 0, math.sin(angle)], [0, 1, 0], [-math.sin(angle), 0, math.cos(angle)]]
    )
    turned = shell @ matrix.T
    bodies = [
        dataclasses.replace(
            body_of(turned + np.array([0.0, y, 0.0]), name=f"float {y:+.0f}"), role="main float"
        )
        for y in (0.0, -250.0)
    ]
    assert top_angle_deg(bodies[0]) == pytest.approx(-turn, abs=1e-6)
    report = floats_report(craft_of(*bodies, mass_g=1300.0, cg=(265, 0, 150), fittings=RIG))
    assert report.incidence_deg == pytest.approx(3.0 - turn, abs=1e-6)


def test_what_no_sheet_says_is_not_comparable():
    """Hinge, tailplane and wheels are in no sheet; propeller and wing may not be."""
    rules = by_name(floats_report(floats_craft(fittings=RIG)))
    for name in ("75–80 % of propeller to hinge", "The wheel track"):
        assert rules[name].value is None
        assert "the sheet does not say" in rules[name].missing
    bare = floats_report(floats_craft())
    assert bare.overhang_mm is None
    assert by_name(bare)["50–75 mm"].missing == "[propeller] is not in the sheet"
    assert bare.incidence_deg is None
    assert "wing_angle_deg" in by_name(bare)["Nearly parallel"].missing
    no_center = floats_report(floats_craft(cg=None, fittings=RIG))
    assert by_name(no_center)["At least 2.5 × propeller to CG"].missing == "her CG is not known"


def test_floats_short_of_the_propeller_have_no_clearance():
    """A disc ahead of the floats' noses stands over no deck."""
    rig = dataclasses.replace(RIG, propeller=Propeller(hub_mm=(-30.0, 0.0, 290.0), diameter_mm=250))
    report = floats_report(floats_craft(fittings=rig))
    assert report.overhang_mm == pytest.approx(-30.0)
    assert report.propeller_clearance_mm is None


def test_a_hull_has_no_floats_and_a_single_float_no_spacing():
    """Without main floats there is no report; one alone carries all of her."""
    assert step_answer(stepped_craft()).floats is None
    craft = floats_craft()
    single = dataclasses.replace(craft, bodies=craft.bodies[:1])
    report = floats_report(single)
    assert report.spacing_mm is None
    assert report.floats[0].mass_g == craft.mass_g


def test_the_table_of_float_rules_is_whole():
    """Each has a band, a line and a source; all but the regulation are model practice."""
    assert len({rule.name for rule in FLOAT_RULES}) == len(FLOAT_RULES)
    for rule in FLOAT_RULES:
        assert rule.least is not None or rule.most is not None
        assert rule.line
        assert (rule.kind == "full size") == ("CFR" in rule.source)
