"""Floats, openings, range, loads and thrust of whole craft, against exact polygons and formulas."""

import dataclasses
import math
from pathlib import Path

import clipped_polygon
import numpy as np
import pytest
from crafts import box_body, craft_of, demo_bodies, opening_at
from scipy.optimize import brentq

import hullcheck
from hullcheck.answers.float_sizing import spare_moment, with_float
from hullcheck.answers.heeling import Heeling
from hullcheck.answers.righting_answer import righting_answer, righting_fails
from hullcheck.answers.upset_loads import Loads, loaded, side_area, upset_of
from hullcheck.craft.fittings import Fittings, Propeller, Wing
from hullcheck.errors import InputError
from hullcheck.flotation.upsetting import Upset
from hullcheck.units import STANDARD_GRAVITY_M_S2

ROOT = Path(__file__).resolve().parents[2]
LENGTH, BEAM, HEIGHT, MASS = 600.0, 100.0, 80.0, 1200.0
DRAFT = 20.0
CG = (300.0, 0.0, 30.0)
FLOAT_BEAM, FLOAT_HEIGHT, REACH, FOOT = 30.0, 25.0, 300.0, 24.0
HEELS = (0.0, 5.0, 10.0)


def rig(cg=(300.0, 0.0, 75.0), **more):
    """Return a box hull with two box floats of her length: a prism, so trim stays 0."""
    sizes = {"length_mm": LENGTH, "beam_mm": FLOAT_BEAM, "height_mm": FLOAT_HEIGHT}
    floats = [
        box_body(**sizes, origin_mm=(0.0, side * REACH, FOOT), name=f"{name} float",
                 role="tip float")
        for name, side in (("starboard", 1.0), ("port", -1.0))
    ]  # fmt: skip
    return craft_of(box_body(LENGTH, BEAM, HEIGHT), *floats, mass_g=MASS, cg=cg, **more)


def rectangle(middle, foot, wide, high):
    """Return a rectangle (y, z) counterclockwise."""
    left, right = middle - wide / 2, middle + wide / 2
    return np.array([[left, foot], [right, foot], [right, foot + high], [left, foot + high]])


SECTIONS = (
    rectangle(0.0, 0.0, BEAM, HEIGHT),
    rectangle(REACH, FOOT, FLOAT_BEAM, FLOAT_HEIGHT),
    rectangle(-REACH, FOOT, FLOAT_BEAM, FLOAT_HEIGHT),
)


def wet_parts(heel, height):
    """Return area and centroid of each section under the water at a heel and a height."""
    normal = np.array([-math.sin(heel), math.cos(heel)])
    parts = [clipped_polygon.below(section, normal, height) for section in SECTIONS]
    return [
        clipped_polygon.area_and_centroid(part) if len(part) > 2 else (0.0, np.zeros(2))
        for part in parts
    ]


def waterline(heel, area):
    """Return the height of the water over a wet area at a heel."""
    return brentq(lambda h: sum(a for a, _ in wet_parts(heel, h)) - area, -400.0, 400.0, xtol=1e-13)


def arm_about(parts, center, heel):
    """Return area × lever of some parts about a center at a heel."""
    across = np.array([math.cos(heel), math.sin(heel)])
    return [a * float((c - center) @ across) for a, c in parts]


def test_a_float_just_under_against_the_hull_by_exact_polygons():
    """Touch, burial, the float's moment, the hull's and their ratio are the clipped sections' own.

    A prism heels without trim, so three rectangles cut by a line tell all. 1e-6 of each: heels are
    narrowed to 1e-11 rad, drafts to rounding.
    """
    report = righting_answer(rig(), heels_deg=HEELS).floats[0]
    area, center = MASS * 1e3 / LENGTH, np.array([0.0, 75.0])
    foot, top = SECTIONS[1][0], SECTIONS[1][3]

    def over(heel, corner):
        """Return the height of a corner above the water."""
        return float(corner @ [-math.sin(heel), math.cos(heel)]) - waterline(heel, area)

    outer = SECTIONS[1][1]
    touch = brentq(lambda h: over(h, outer), 0.0, 0.2, xtol=1e-13)
    under = brentq(lambda h: over(h, top), 0.0, 0.4, xtol=1e-13)
    assert over(under, SECTIONS[1][2]) < 0.0 < over(0.0, foot)
    assert math.radians(report.touches_deg) == pytest.approx(touch, abs=1e-8)
    assert math.radians(report.under_deg) == pytest.approx(under, abs=1e-8)
    hull, own, other = arm_about(wet_parts(under, waterline(under, area)), center, under)
    grams = 1e-3 * LENGTH
    assert report.righting_moment_g_mm == pytest.approx(grams * own, rel=1e-6)
    assert report.upsetting_moment_g_mm == pytest.approx(-grams * (hull + other), rel=1e-6)
    assert report.ratio == pytest.approx(-own / (hull + other), rel=1e-6)
    assert report.ratio > 1.0
    assert report.holds
    assert (report.side, report.reach_mm) == ("starboard", REACH)


def test_both_floats_and_both_sides_are_alike():
    """A symmetric craft's floats, ranges and arms mirror each other."""
    answer = righting_answer(rig(), heels_deg=(-7.0, 7.0))
    one, two = answer.floats
    assert [one.name, two.name] == ["starboard float", "port float"]
    for key in ("touches_deg", "under_deg"):
        assert getattr(one, key) == pytest.approx(-getattr(two, key), abs=1e-7)
    assert one.ratio == pytest.approx(two.ratio, rel=1e-7)
    starboard, port = answer.sides
    assert starboard.range_deg == pytest.approx(-port.range_deg, abs=1e-7)
    assert starboard.area_mm_rad == pytest.approx(port.area_mm_rad, rel=1e-7)
    rows = answer.rows
    assert rows[0].righting_arm_mm == pytest.approx(-rows[1].righting_arm_mm, abs=1e-7)


@pytest.mark.parametrize("factor", [1.0, 1.5])
@pytest.mark.parametrize("wind_m_s", [None, 5.0])
def test_the_least_float_put_back_in_holds_and_two_percent_less_does_not(factor, wind_m_s):
    """Floated anew with the least volume she is held, with 2 % less she is not; so with the reach.

    Her CG is high: the bare hull falls over. Held means that the float's moment is the factor times
    what upsets her, which is looked at by solving the changed craft from the start.
    """
    craft = rig(cg=(300.0, 0.0, 90.0))
    loads = Loads(wind_m_s=wind_m_s)
    answer = righting_answer(craft, loads=loads, heels_deg=HEELS)
    heeling = Heeling.of(craft)
    upset = upset_of(heeling, loads, side_area(craft, heeling.rest.floating, None))
    report = answer.floats[0]
    size = next(one for one in report.sizes if one.factor == factor)
    assert 0.0 < size.least_volume_cm3 < report.volume_cm3
    assert BEAM / 2 + FLOAT_BEAM / 2 < size.least_reach_mm < REACH

    def spare(**change):
        """Return what the float's moment has to spare on a changed craft."""
        changed = with_float(craft, craft.bodies[1], **change)
        return spare_moment(changed, changed.bodies[1], upset, factor)

    share = size.least_volume_cm3 / report.volume_cm3
    assert spare(volume=share) >= 0.0 > spare(volume=0.98 * share)
    assert spare(reach_mm=size.least_reach_mm) >= 0.0 > spare(reach_mm=0.98 * size.least_reach_mm)


def test_a_hull_that_stands_alone_needs_no_float():
    """With a low CG nothing upsets her: no ratio, and the least float has no volume."""
    report = righting_answer(rig(cg=(300.0, 0.0, 20.0)), heels_deg=HEELS).floats[0]
    assert report.ratio is None
    assert report.holds
    assert {size.least_volume_cm3 for size in report.sizes} == {0.0}
    assert report.gap_at_rest_mm == pytest.approx(FOOT - DRAFT, abs=1e-6)


def test_a_float_too_small_for_her_is_told_how_large_it_must_be():
    """With a CG too high for her floats they do not hold, and more volume than theirs does."""
    craft = rig(cg=(300.0, 0.0, 400.0))
    craft = with_float(craft, craft.bodies[1], volume=0.1)
    report = righting_answer(craft, heels_deg=HEELS).floats[0]
    assert report.ratio < 1.0
    assert not report.holds
    assert report.sizes[0].least_volume_cm3 > report.volume_cm3
    assert report.sizes[0].least_reach_mm > REACH


def test_sponsons_are_reported_but_not_resized():
    """A sponson's moment is told; as it is joined to the hull it is neither scaled nor moved."""
    craft = rig()
    bodies = tuple(
        dataclasses.replace(b, role="sponson") if b.role == "tip float" else b for b in craft.bodies
    )
    report = righting_answer(dataclasses.replace(craft, bodies=bodies), heels_deg=HEELS).floats[0]
    assert report.role == "sponson"
    assert report.ratio > 1.0
    assert report.sizes == ()


def test_downflooding_is_the_lesser_of_both_sides():
    """Openings of a box go under where z = d + y tan φ: the nearer side counts, sealed ones do not.

    Derived: the water stands at z = d + y tan φ while neither bilge nor deck crosses it.
    """
    craft = craft_of(
        box_body(),
        mass_g=MASS,
        cg=CG,
        openings=(
            opening_at((300.0, 40.0, 34.0), name="hatch", state="taped"),
            opening_at((300.0, -45.0, 32.0), name="slot"),
            opening_at((300.0, 49.0, 21.0), name="plug", state="sealed"),
        ),
    )
    answer = righting_answer(craft, heels_deg=HEELS)
    hatch, slot, plug = answer.openings
    assert hatch.starboard_deg == pytest.approx(math.degrees(math.atan(14.0 / 40.0)), abs=1e-7)
    assert slot.port_deg == pytest.approx(-math.degrees(math.atan(12.0 / 45.0)), abs=1e-7)
    assert plug.starboard_deg < 2.0
    assert answer.downflooding_deg == pytest.approx(-slot.port_deg, abs=1e-12)
    assert [side.downflooding_at for side in answer.sides] == ["hatch", "slot"]


def test_the_wing_ends_what_the_model_knows():
    """Past the heel where the wing tip touches, z = d + y tan φ, rows are beyond the model."""
    wing = Wing(tip_mm=(200.0, 400.0, 110.0), chord_mm=100.0)
    craft = craft_of(box_body(), mass_g=MASS, cg=CG, fittings=Fittings(wing=wing))
    edge = math.degrees(math.atan(90.0 / 400.0))
    answer = righting_answer(craft, heels_deg=(-20.0, -12.0, 0.0, 12.0, 13.0, 90.0, 180.0))
    assert answer.sides[0].beyond_model_deg == pytest.approx(edge, abs=1e-7)
    assert 12.0 < edge < 13.0
    assert [row.beyond_model for row in answer.rows] == [
        True,
        False,
        False,
        False,
        True,
        True,
        True,
    ]
    capsized = [one for one in answer.attitudes if abs(one.heel_deg) > 90.0]
    assert capsized
    assert all(one.beyond_model for one in capsized)
    assert "beyond-model" in {warning.code for warning in answer.warnings}


def test_off_center_mass_lists_her_by_the_wall_sided_cubic():
    """A mass w moved by a across lists her to sin φ (GM + ½ BM tan² φ) = (w a/m) cos φ.

    Derrett and Barrass, Ship Stability for Masters and Mates, 5th ed., 1999, ch. 6 and 13 (list and
    wall-sided formula; chapters from memory); the equation is derived besides. 1e-7°.
    """
    radius = BEAM**2 / (12.0 * DRAFT)
    metacentric = DRAFT / 2 + radius - CG[2]
    across = 200.0 * 30.0 / MASS
    truth = brentq(
        lambda h: (
            math.sin(h) * (metacentric + 0.5 * radius * math.tan(h) ** 2) - across * math.cos(h)
        ),
        0.0,
        0.35,
        xtol=1e-15,
    )
    craft = craft_of(box_body(), mass_g=MASS, cg=CG)
    for side in (1.0, -1.0):
        loads = Loads(off_center=(200.0, side * 30.0))
        answer = righting_answer(craft, loads=loads, heels_deg=HEELS)
        assert answer.heel_deg == pytest.approx(side * math.degrees(truth), abs=1e-7)
        assert answer.upset.worse == ("starboard" if side > 0.0 else "port")


def test_a_wet_wing_adds_its_mass_where_it_lies():
    """50 g in the middle of the starboard half move mass and center by the lever rule."""
    wing = Wing(tip_mm=(200.0, 400.0, 110.0), chord_mm=100.0)
    craft = craft_of(box_body(), mass_g=MASS, cg=CG, fittings=Fittings(wing=wing))
    wet = loaded(craft, Loads(wet_wing_g=50.0))
    assert wet.mass_g == pytest.approx(1250.0)
    truth = (np.array(CG) * MASS + 50.0 * np.array([250.0, 200.0, 110.0])) / 1250.0
    assert wet.center_of_gravity_mm == pytest.approx(truth, rel=1e-12)


def test_side_area_of_a_box():
    """A box 600 mm long and 80 high, drawing 20, shows 360 cm² with a lever of 30 + 10 mm."""
    craft = craft_of(box_body(), mass_g=MASS, cg=CG)
    rest = Heeling.of(craft).rest.floating
    area = side_area(craft, rest, None)
    assert area.area_cm2 == pytest.approx(360.0, rel=1e-6)
    assert (area.center_height_mm, area.center_depth_mm) == pytest.approx((30.0, 10.0), rel=1e-6)
    given = side_area(craft, rest, (500.0, 95.0))
    assert (given.area_cm2, given.given) == (500.0, True)
    assert given.lever_mm == pytest.approx(95.0 - 20.0 + 10.0, rel=1e-6)


def test_wind_balances_the_arm_where_she_comes_to_stand():
    """At the steady heel ½ ρ C_D A v² b cos² φ is weight × arm, written out in SI units."""
    craft = craft_of(box_body(), mass_g=MASS, cg=CG)
    answer = righting_answer(craft, loads=Loads(wind_m_s=6.0), heels_deg=HEELS)
    pushed = answer.upset.pushed[0]
    heel = math.radians(pushed.heel_deg)
    moment = 0.5 * 1.225 * 1.2 * 0.0360 * 36.0 * 0.040 * math.cos(heel) ** 2
    arm = Heeling.of(craft).curve.arm(heel)
    assert moment == pytest.approx(1.2 * STANDARD_GRAVITY_M_S2 * arm * 1e-3, rel=1e-5)
    assert answer.upset.wind.moment_n_mm == pytest.approx(1e3 * moment / math.cos(heel) ** 2, 1e-5)


def test_limits_of_wind_are_those_winds():
    """The steady wind told for a float's burial brings her there; a little less does not."""
    craft = rig(cg=(300.0, 0.0, 90.0))
    answer = righting_answer(craft, loads=Loads(wind_m_s=1.0), heels_deg=HEELS)
    event = answer.upset.pushed[0].events[0]
    assert event.name == "starboard float under"
    assert event.gust_m_s < event.steady_m_s
    less = righting_answer(craft, loads=Loads(wind_m_s=0.99 * event.steady_m_s), heels_deg=HEELS)
    more = righting_answer(craft, loads=Loads(wind_m_s=1.01 * event.steady_m_s), heels_deg=HEELS)
    assert less.upset.pushed[0].heel_deg < event.heel_deg
    beyond = more.upset.pushed[0].heel_deg
    assert beyond is None or beyond > event.heel_deg
    assert less.upset.pushed[0].float_dry_share > 0.0
    assert righting_fails(more) == (beyond is None)


def test_pushed_down_she_comes_back_or_not():
    """A wing tip pushed to the water: low CG comes back to upright, a top-heavy one stays over."""
    wing = Wing(tip_mm=(200.0, 400.0, 110.0), chord_mm=100.0)
    for height, back in ((30.0, True), (90.0, False)):
        craft = craft_of(
            box_body(), mass_g=MASS, cg=(300.0, 0.0, height), fittings=Fittings(wing=wing)
        )
        heeling = Heeling.of(craft)
        if not back:
            assert abs(heeling.rest_heel) > 0.2
        answer = righting_answer(craft, heels_deg=HEELS)
        for one in answer.push_down:
            assert one.comes_back == back
            assert (one.returns_to_deg is None) != back
    assert righting_answer(rig(), heels_deg=HEELS).push_down[0].to == "starboard float under"


def test_thrust_lowers_the_bow_within_its_band():
    """Under thrust the bow sinks steadily, lower held at the keel; full thrust may put it under."""
    propeller = Propeller(hub_mm=(330.0, 0.0, 150.0), diameter_mm=140.0, thrust_g=600.0, up_deg=2.0)
    craft = craft_of(
        *demo_bodies(),
        mass_g=690.0,
        cg=(252.0, 0.0, 31.0),
        fittings=Fittings(propeller=propeller),
    )
    thrust = righting_answer(craft, heels_deg=HEELS).thrust
    high = [row.at_waterline.bow_freeboard_mm for row in thrust.rows if row.at_waterline]
    assert high == sorted(high, reverse=True)
    for row in thrust.rows[1:]:
        if row.at_keel is not None and row.at_waterline is not None:
            assert row.at_keel.trim_deg < row.at_waterline.trim_deg
            clearance = row.at_waterline.propeller_clearance_mm
            assert clearance > thrust.rows[0].at_waterline.propeller_clearance_mm
    assert thrust.bow_under_at_keel_g < thrust.bow_under_at_waterline_g <= 600.0


def test_stable_attitudes_say_what_is_wet():
    """The demo craft upright: her hull alone is wet; on her back all three bodies are."""
    craft = craft_of(*demo_bodies(), mass_g=690.0, cg=(252.0, 0.0, 31.0))
    answer = righting_answer(craft, heels_deg=HEELS)
    assert answer.attitudes[0].wet == ("hull",)
    assert answer.rest == "upright"
    on_float = craft_of(*demo_bodies(), mass_g=690.0, cg=(252.0, 4.0, 31.0))
    first = righting_answer(on_float, heels_deg=HEELS).attitudes[0]
    assert (first.rest, first.wet) == ("on starboard tip float", ("hull", "starboard float"))


def test_refusals_name_the_value():
    """No center, a heel past 180°, a wet wing without a wing, more off center than she weighs."""
    craft = craft_of(box_body(), mass_g=MASS, cg=CG)
    with pytest.raises(InputError, match="a righting arm needs the center of gravity"):
        righting_answer(dataclasses.replace(craft, center_of_gravity_mm=None))
    with pytest.raises(InputError, match="heel 200°: must be from -180 to 180"):
        righting_answer(craft, heels_deg=(200.0,))
    with pytest.raises(InputError, match="a wet wing needs its place"):
        righting_answer(craft, loads=Loads(wet_wing_g=5.0))
    with pytest.raises(InputError, match="off-center mass 1300 g: she weighs 1200 g"):
        righting_answer(craft, loads=Loads(off_center=(1300.0, 5.0)))
    with pytest.raises(InputError, match="wind_m_s -1: must not be below 0"):
        Loads(wind_m_s=-1.0)
    with pytest.raises(InputError, match="side area 0,10: the first must be above 0"):
        Loads(side_area=(0.0, 10.0))


def test_she_sinks_or_capsizes():
    """Too heavy she sinks by so many grams; top-heavy she capsizes; both fail."""
    heavy = righting_answer(craft_of(box_body(), mass_g=5000.0, cg=CG))
    assert (heavy.rest, heavy.rows) == ("sinks", ())
    assert heavy.short_by_g == pytest.approx(200.0, rel=1e-9)
    tall = righting_answer(craft_of(box_body(), mass_g=MASS, cg=(300.0, 0.0, 160.0)))
    assert tall.rest == "capsized"
    assert righting_fails(heavy)
    assert righting_fails(tall)
    assert not righting_fails(righting_answer(craft_of(box_body(), mass_g=MASS, cg=CG)))


def test_naca_tn_183_twin_floats_stand_by_their_spacing():
    """The arm's slope of twin floats at rest is KB + I/V − KG, I = (L/12)((s + b)³ − (s − b)³).

    Diehl, W. S., Static Stability of Seaplane Floats and Hulls, NACA TN 183, 1924. SEEN, and
    derived: two strips. L 1.0, b 0.1, s 0.5 m: I = 0.0126667 m⁴.
    """
    floats = [
        box_body(1000.0, 100.0, 90.0, origin_mm=(0.0, side, 0.0), name=name, role="main float")
        for name, side in (("starboard float", 250.0), ("port float", -250.0))
    ]
    craft = craft_of(*floats, mass_g=10_000.0, cg=(500.0, 0.0, 120.0))
    answer = righting_answer(craft, heels_deg=HEELS)
    inertia = 0.0126667e12
    truth = 25.0 + inertia / 10_000e3 - 120.0
    assert answer.slope_at_rest_mm_per_deg * 180.0 / math.pi == pytest.approx(truth, rel=1e-5)


def test_no_load_is_no_upset():
    """Without loads there is no upset, and an upset of nothing has no arm."""
    assert righting_answer(craft_of(box_body(), mass_g=MASS, cg=CG)).upset is None
    assert Upset().arm_mm(0.3) == 0.0


def test_a_jump_is_told_once_and_where_the_curve_ends():
    """Twin floats that go over stern first: one jump to either side, each side's end, no more."""
    craft = hullcheck.load(ROOT / "examples" / "twin-floats").craft()
    answer = righting_answer(craft)
    heels = [jump.heel_deg for jump in answer.jumps]
    assert len(heels) == 2
    assert heels[0] == pytest.approx(-heels[1], abs=0.5)
    for side in answer.sides:
        assert side.range_deg is None
        assert abs(heels[1]) < abs(side.ends_deg) < 90.0
