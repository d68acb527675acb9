"""The whole answer on bodies whose every number is known."""

import math

import make_bodies
import numpy as np
import pytest

from hullcheck.answers.float_answer import float_answer
from hullcheck.craft.bodies import Body, guessed_roles
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.geometry.shells import outer_shells
from hullcheck.water import water_of_density

WATER = water_of_density(1000.0)


def craft_of(*surfaces, mass_g, cg=None):
    """Return a craft of closed surfaces, roles guessed, in water of 1 g/cm³."""
    shells = tuple(outer_shells("body", s).shells[0] for s in surfaces)
    bodies = tuple(
        Body(name=f"body {i}", role=role, shell=shell)
        for i, (role, shell) in enumerate(zip(guessed_roles(shells), shells, strict=True))
    )
    return Craft(name="test", bodies=bodies, mass_g=mass_g, center_of_gravity_mm=cg, water=WATER)


@pytest.fixture
def box_answer():
    """Return the answer of a box 600 × 100 × 80 mm of 1200 g, its CG amidships at z 30."""
    box = make_bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0)
    return float_answer(craft_of(box, mass_g=1200.0, cg=(300.0, 0.0, 30.0)))


def test_a_box_has_every_number_of_the_closed_form(box_answer):
    """Draft 20 mm, KB 10, BM b²/12d, BM_L L²/12d, areas and moments of a box, to rounding."""
    a, near = box_answer, 1e-9
    assert a.rest == "upright"
    assert a.displaced_volume_cm3 == pytest.approx(1200.0, rel=near)
    assert a.waterline.height_mm == pytest.approx(20.0, rel=near)
    assert a.draft_mm.deepest == pytest.approx(20.0, rel=near)
    assert a.draft_mm.bow == pytest.approx(20.0, rel=near)
    assert a.draft_mm.step is None
    assert a.center_of_buoyancy_mm == pytest.approx((300.0, 0.0, 10.0), abs=1e-9)
    assert a.metacentric_radius_mm.transverse == pytest.approx(100.0**2 / (12 * 20), rel=near)
    assert a.metacentric_radius_mm.longitudinal == pytest.approx(600.0**2 / (12 * 20), rel=near)
    lever = 100.0**2 / (12 * 20) - 20.0
    assert a.metacentric_height_mm.transverse == pytest.approx(lever, rel=near)
    assert a.waterplane.area_cm2 == pytest.approx(600.0, rel=near)
    assert (a.waterplane.length_mm, a.waterplane.beam_mm) == pytest.approx((600.0, 100.0), rel=near)
    assert a.sinkage_g_per_mm == pytest.approx(60.0, rel=near)
    heel = 1200.0 * lever * math.tan(math.radians(1.0))
    assert a.moment_to_heel_g_mm_per_deg == pytest.approx(heel, rel=near)
    assert a.wetted_area_cm2 == pytest.approx(600.0 + 2 * (600 + 100) * 20 / 100, rel=near)
    assert a.level.highest_cg_z_mm == pytest.approx(10.0 + 100.0**2 / 240, rel=near)
    assert a.level.cg_aft_of_cb_mm == pytest.approx(0.0, abs=1e-9)


def test_a_box_keeps_its_reserve_up_to_the_deck(box_answer):
    """Freeboard 60 mm; the reserve up to it is all that is left of the box: 3600 cm³, 300 %."""
    assert box_answer.freeboard_mm.least == pytest.approx(60.0, rel=1e-9)
    reserve = box_answer.reserve_buoyancy
    assert reserve.to_first_opening_cm3 == pytest.approx(3600.0, rel=1e-9)
    assert reserve.to_first_opening_percent == pytest.approx(300.0, rel=1e-9)
    assert reserve.limited_by == box_answer.freeboard_mm.at
    assert reserve.envelope_ratio == pytest.approx(4.0, rel=1e-9)


def test_residuals_are_those_of_every_triangle(box_answer):
    """The direct pass leaves less than a millionth of the mass and no open skin."""
    assert box_answer.residual.mass_g < 1e-6 * 1200.0
    assert box_answer.residual.moment_g_mm < 1e-6 * 1200.0
    assert box_answer.closure_error_cm2 < 1e-9


def test_without_a_cg_she_is_held_level():
    """No CG: level says where it must be, rest and stability have no answer, and it is said."""
    box = make_bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0)
    answer = float_answer(craft_of(box, mass_g=1200.0))
    assert answer.rest is None
    assert answer.upright_is_stable is None
    assert answer.level.center_of_buoyancy_mm == pytest.approx((300.0, 0.0, 10.0), abs=1e-9)
    assert answer.metacentric_height_mm is None
    assert answer.metacentric_radius_mm.transverse == pytest.approx(100.0**2 / 240, rel=1e-9)
    assert answer.attitudes == ()
    assert "no-cg" in {caveat.code for caveat in answer.warnings}


def test_a_load_moved_aft_trims_her_bow_up():
    """tan(trim) = (x_G − x_B)/GM_L for a small shift of a box, bow up when the CG lies aft."""
    box = make_bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0)
    answer = float_answer(craft_of(box, mass_g=1200.0, cg=(302.0, 0.0, 30.0)))
    lever = 600.0**2 / 240 - 20.0
    expected = math.degrees(math.atan(2.0 / lever))
    # The cubic term of a box's longitudinal arm is tan²(trim)/2 of BM: 1e-6 of it here.
    assert answer.trim_deg == pytest.approx(expected, rel=1e-5)
    assert answer.level.cg_aft_of_cb_mm == pytest.approx(2.0, abs=1e-9)


def test_sinking_is_by_how_much():
    """A box that carries 4800 g sinks at 5000 g by 200 g; what has no answer is None."""
    box = make_bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0)
    answer = float_answer(craft_of(box, mass_g=5000.0, cg=(300.0, 0.0, 30.0)))
    assert answer.rest == "sinks"
    assert answer.short_by_g == pytest.approx(200.0, rel=1e-12)
    assert answer.waterline is None
    assert answer.freeboard_mm is None
    assert answer.bodies[0].volume_cm3 == pytest.approx(4800.0, rel=1e-12)


def hull_with_floats(cg_y_mm, clearance_mm=5.0, mass_g=1200.0):
    """Return a box hull with a box tip float on each side, their bottoms above the 20 mm line."""
    hull = make_bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0)
    floats = [
        make_bodies.box(
            length_mm=120.0,
            beam_mm=30.0,
            height_mm=40.0,
            origin_mm=(240.0, side * 300.0, 20.0 + clearance_mm),
        )
        for side in (1, -1)
    ]
    return craft_of(hull, *floats, mass_g=mass_g, cg=(300.0, cg_y_mm, 30.0))


@pytest.mark.parametrize(("y", "rest"), [(0.0, "upright"), (0.2, "listing")])
def test_rest_has_its_name(y, rest):
    """Upright under half a degree; a small offset lists her while both floats stay clear."""
    answer = float_answer(hull_with_floats(y, clearance_mm=20.0))
    assert answer.rest == rest
    if rest == "listing":
        lever = 100.0**2 / 240 - 20.0
        assert answer.heel_deg == pytest.approx(math.degrees(0.2 / lever), rel=1e-3)


@pytest.mark.parametrize(("y", "side"), [(8.0, "starboard"), (-8.0, "port")])
def test_one_wet_tip_float_gives_rest_its_name(y, side):
    """A CG off to one side puts that side's tip float into the water and no other."""
    answer = float_answer(hull_with_floats(y))
    assert answer.rest == f"on {side} tip float"
    wet = {b.name for b in answer.bodies if b.displaced_volume_cm3 > 0.0}
    assert wet == {"body 0", "body 1" if side == "starboard" else "body 2"}
    total = sum(b.displaced_volume_cm3 for b in answer.bodies)
    assert total == pytest.approx(answer.displaced_volume_cm3, rel=1e-12)


def test_both_tip_floats_wet_is_said():
    """Tip floats whose bottoms lie under the line both dip: upright, and a word about it."""
    answer = float_answer(hull_with_floats(0.0, clearance_mm=-3.0))
    assert answer.rest == "upright"
    assert "both-tip-floats-wet" in {caveat.code for caveat in answer.warnings}


def test_a_knife_edge_is_said_and_every_attitude_listed():
    """A hull with its CG too high falls to either side onto a float: both rests are found."""
    craft = hull_with_floats(0.0)
    high = Craft(
        name="high",
        bodies=craft.bodies,
        mass_g=1200.0,
        center_of_gravity_mm=(300.0, 0.0, 60.0),
        water=WATER,
    )
    answer = float_answer(high, all_attitudes=True)
    assert answer.upright_is_stable is False
    assert answer.rest == "on starboard tip float"
    assert {"on starboard tip float", "on port tip float"} <= {a.rest for a in answer.attitudes}
    assert "either-side" in {caveat.code for caveat in answer.warnings}


def test_a_sphere_displaces_its_mass_and_rests_somewhere():
    """A faceted sphere with its CG in the center displaces its mass and has a named rest."""
    sphere = make_bodies.sphere(diameter_mm=200.0, facets=64, bands=32)
    answer = float_answer(craft_of(sphere, mass_g=1000.0, cg=(0.0, 0.0, 100.0)))
    assert answer.displaced_volume_cm3 == pytest.approx(1000.0, rel=1e-9)
    # Facets make it stable to a hair, so the neutral flag is tested on the solver.
    assert answer.rest in {"upright", "listing", "capsized"}


def test_twin_floats_are_main_floats_and_both_carry():
    """Two equal bodies abreast are main floats; freeboard and draft are read off them."""
    floats = [
        make_bodies.box(
            length_mm=600.0, beam_mm=80.0, height_mm=80.0, origin_mm=(0.0, side * 150.0, 0.0)
        )
        for side in (1, -1)
    ]
    answer = float_answer(craft_of(*floats, mass_g=1920.0, cg=(300.0, 0.0, 100.0)))
    assert [body.role for body in answer.bodies] == ["main float", "main float"]
    assert answer.draft_mm.deepest == pytest.approx(20.0, rel=1e-9)
    # Twin boxes: I = (L/12)((s + b)³ − (s − b)³), Diehl, NACA TN 183, 1924.
    inertia = 600.0 / 12.0 * ((300.0 + 80.0) ** 3 - (300.0 - 80.0) ** 3)
    assert answer.metacentric_radius_mm.transverse == pytest.approx(inertia / 1_920_000.0, rel=1e-9)


def test_a_cg_outside_the_bodies_is_said():
    """A CG below the keel is doubted with its axis and range; one above floats is usual."""
    box = make_bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0)
    answer = float_answer(craft_of(box, mass_g=1200.0, cg=(300.0, 0.0, -30.0)))
    sentence = next(c.message for c in answer.warnings if c.code == "cg-outside")
    assert "z -30 mm is outside 0 to 680 mm" in sentence
    above = float_answer(craft_of(box, mass_g=1200.0, cg=(300.0, 0.0, 130.0)))
    assert all(c.code != "cg-outside" for c in above.warnings)


def test_a_craft_large_enough_for_a_person_is_told_who_decides():
    """Over 25 kg: no basis for airworthiness decisions."""
    box = make_bodies.box(length_mm=3000.0, beam_mm=600.0, height_mm=500.0)
    answer = float_answer(craft_of(box, mass_g=90_000.0, cg=(1500.0, 0.0, 200.0)))
    sentence = next(c.message for c in answer.warnings if c.code == "person-scale")
    assert "no basis for airworthiness decisions" in sentence


@pytest.mark.parametrize("mass", [0.0, -1.0, math.nan, math.inf])
def test_a_mass_that_is_none_is_refused(mass):
    """Zero, negative, NaN and infinite masses never make a craft."""
    box = make_bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0)
    with pytest.raises(InputError, match=r"the all-up mass must be above 0 g"):
        craft_of(box, mass_g=mass)


def test_an_unknown_role_is_refused():
    """A role that is none is refused by name."""
    shell = outer_shells("b", make_bodies.box(length_mm=6.0, beam_mm=1.0, height_mm=1.0)).shells[0]
    with pytest.raises(InputError, match=r"b: role 'keel' is none of"):
        Body(name="b", role="keel", shell=shell)


def test_tops_follow_the_deck_of_a_wedge():
    """On a deck that rises aft the lowest top is the foremost one the waterline reaches."""
    box = np.array(make_bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0))
    deck = box[:, :, 2] > 40.0
    box[:, :, 2] = np.where(deck, 40.0 + box[:, :, 0] / 15.0, box[:, :, 2])
    answer = float_answer(craft_of(box, mass_g=1200.0))
    assert answer.freeboard_mm.least == pytest.approx(20.0, abs=1e-6)
    assert answer.freeboard_mm.at == "top of the hull at station 0"
    bow = next(p for p in answer.freeboard_mm.points if p.name == "top of the hull at the bow")
    assert bow.point_mm[2] == pytest.approx(40.0 + 30.0 / 15.0, rel=1e-9)


def test_a_tip_float_on_one_side_only_is_said():
    """With the port float left out, a word says that nothing holds her up to port."""
    both = hull_with_floats(0.0)
    craft = Craft(
        name="one",
        bodies=both.bodies[:2],
        mass_g=1200.0,
        center_of_gravity_mm=(300.0, 0.0, 30.0),
        water=WATER,
    )
    said = {caveat.code: caveat.message for caveat in float_answer(craft).warnings}
    assert "to starboard only" in said["one-sided-tip-floats"]
    assert "one-sided-tip-floats" not in {c.code for c in float_answer(both).warnings}


@pytest.mark.parametrize("y", [10.0, -10.0])
def test_the_deepest_draft_is_that_of_the_lower_float(y):
    """Twin floats heeled to one side: deepest is read off the lower one, whichever comes first."""
    floats = [
        make_bodies.box(
            length_mm=600.0, beam_mm=80.0, height_mm=80.0, origin_mm=(0.0, side * 150.0, 0.0)
        )
        for side in (1, -1)
    ]
    answer = float_answer(craft_of(*floats, mass_g=1920.0, cg=(300.0, y, 100.0)))
    assert answer.rest == "listing"
    n, h = np.array(answer.waterline.normal), answer.waterline.height_mm
    lowest = min(float(corner @ n) for f in floats for corner in np.asarray(f).reshape(-1, 3))
    assert answer.draft_mm.deepest == pytest.approx(h - lowest, rel=1e-12)
