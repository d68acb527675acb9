"""What lies around a step: V in plan, a second step, ramps, and what touches first aft."""

import math

import make_bodies
import numpy as np
import pytest
from hypothesis import given, settings
from step_hulls import ramped, side_view, two_stepped, v_stepped
from strategies import stepped_hulls, uniform

from hullcheck.geometry.profile import keel_profile
from hullcheck.geometry.sections import Slices
from hullcheck.geometry.step import find_step
from hullcheck.geometry.step_plan import first_touch, other_steps, ramps, step_plan

STATION_MM, DEPTH_MM = 0.1, 0.01
"""What a builder can use of a step: a tenth of a millimeter fore and aft, a hundredth in depth."""


@given(reach=uniform(-40.0, 40.0), depth=uniform(7.0, 15.0))
@settings(max_examples=25, deadline=None)
def test_a_v_step_is_found_at_the_keel_and_followed_outward(reach, depth):
    """The edge is a straight line from the keel corner at 270 to `reach` forward at the side."""
    hull = v_stepped(reach_mm=reach, depth_mm=depth)
    step = find_step(hull)
    assert step is not None
    assert step.station_mm == pytest.approx(270.0, abs=STATION_MM)
    assert step.depth_mm == pytest.approx(depth, abs=DEPTH_MM)
    plan = step_plan(Slices(hull, axis=1), step, half_beam_mm=50.0, length_mm=600.0)
    assert len(plan) == 7
    for point in plan:
        wanted = 270.0 - reach * point.half_breadth_mm / 50.0
        assert point.station_mm == pytest.approx(wanted, abs=STATION_MM)


def test_the_main_step_of_two_is_the_lower_one_however_shallow():
    """8 mm at station 240 before 30 mm at 430: the first is the step, the second is listed."""
    hull = two_stepped()
    step, profile = find_step(hull), keel_profile(hull, 0.0)
    assert step.station_mm == pytest.approx(240.0, abs=STATION_MM)
    assert step.depth_mm == pytest.approx(8.0, abs=DEPTH_MM)
    # Its afterbody ends where the second step begins.
    assert step.sternpost_station_mm == pytest.approx(430.0, abs=STATION_MM)
    assert step.sternpost_z_mm == pytest.approx(20.0, abs=DEPTH_MM)
    (other,) = other_steps(profile, step, 600.0)
    assert other.station_mm == pytest.approx(430.0, abs=STATION_MM)
    assert other.rise_mm == pytest.approx(30.0, abs=DEPTH_MM)


def test_a_ledge_between_parts_does_not_hide_the_step():
    """A lip of 3 mm ahead of and below a step of 10 mm is another step, not the main one."""
    hull = side_view(
        [(0, 160), (0, 0), (120, 0), (120, 3), (270, 3), (270, 13), (600, 40), (600, 160)]
    )
    step = find_step(hull)
    assert step.station_mm == pytest.approx(270.0, abs=STATION_MM)
    (other,) = other_steps(keel_profile(hull, 0.0), step, 600.0)
    assert other.station_mm == pytest.approx(120.0, abs=STATION_MM)


def test_a_ramp_of_5_mm_is_a_step_as_deep_as_its_corner():
    """10 mm over 5 mm (63°): the depth is taken at the corner, along the afterbody's keel.

    That keel runs from (275, 10) to (600, 10 + 330 tan 5°); carried back 5 mm it lies
    5 (330 tan 5°)/325 = 0.444 mm lower.
    """
    step = find_step(ramped(5.0))
    fall = 5.0 * 330.0 * math.tan(math.radians(5.0)) / 325.0
    assert step.station_mm == pytest.approx(270.0, abs=STATION_MM)
    assert step.depth_mm == pytest.approx(10.0 - fall, abs=DEPTH_MM)
    assert ramps(keel_profile(ramped(20.0), 0.0), 600.0) != ()


@pytest.mark.parametrize(("run", "rise"), [(20.0, 10.0), (30.0, 10.0), (5.0, 3.0)])
def test_a_gentle_ramp_is_no_step_and_is_named(run, rise):
    """27°, 18° and 31° are too gentle for a step; each is found as a ramp of its rise and run."""
    hull = ramped(run, rise)
    assert find_step(hull) is None
    (ramp,) = ramps(keel_profile(hull, 0.0), 600.0)
    assert ramp.station_mm == pytest.approx(270.0, abs=STATION_MM)
    assert (ramp.rise_mm, ramp.run_mm) == pytest.approx((rise, run), abs=DEPTH_MM)


def test_a_smooth_bottom_has_no_ramp():
    """A box, a wedge, a round bottom and a rising tail have none."""
    tail = side_view([(0, 160), (0, 6), (400, 0), (600, 90), (600, 160)])
    bodies = [
        make_bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0),
        make_bodies.parabolic_hull(length_mm=600.0, beam_mm=100.0, draft_mm=50.0),
        tail,
    ]
    for body in bodies:
        assert ramps(keel_profile(body, 0.0), 600.0) == ()


@given(shape=stepped_hulls())
@settings(max_examples=40, deadline=None)
def test_first_to_touch_is_the_sternpost_of_a_straight_afterbody(shape):
    """Turned by that angle about the corner, the sternpost is level with it and all else above.

    The hull itself is turned: no formula of the program is used.
    """
    hull = make_bodies.stepped_box(**shape)
    step, profile = find_step(hull), keel_profile(hull, 0.0)
    touch = first_touch(profile, step)
    assert touch.station_mm == pytest.approx(step.sternpost_station_mm, abs=STATION_MM)
    turn = math.radians(touch.angle_deg)
    points = profile.points() - [step.station_mm, step.keel_z_mm]
    heights = points[:, 1] * math.cos(turn) - points[:, 0] * math.sin(turn)
    behind = heights[points[:, 0] > step.depth_mm]
    assert behind.min() == pytest.approx(0.0, abs=1e-9)
    assert behind[-1] == pytest.approx(0.0, abs=1e-6)


def test_a_hooked_tail_touches_before_the_sternpost():
    """Where the tail behind a second step hangs lower than the line to it, the tail touches."""
    hull = side_view(
        [(0, 160), (0, 6), (240, 0), (240, 10), (430, 60), (430, 75), (600, 75), (600, 160)]
    )
    step = find_step(hull)
    touch = first_touch(keel_profile(hull, 0.0), step)
    # From the corner (240, 0): 75/360 against 60/190.
    assert touch.station_mm == pytest.approx(600.0, abs=STATION_MM)
    assert touch.angle_deg == pytest.approx(math.degrees(math.atan2(75.0, 360.0)), abs=1e-6)


def test_a_hooked_afterbody_touches_where_it_hangs_lowest():
    """12 mm up at station 400, 4.3° from the corner, touches before a tail that rises to 60 mm."""
    hull = side_view([(0, 160), (0, 6), (240, 0), (240, 10), (400, 12), (600, 60), (600, 160)])
    touch = first_touch(keel_profile(hull, 0.0), find_step(hull))
    assert touch.station_mm == pytest.approx(400.0, abs=STATION_MM)
    assert touch.angle_deg == pytest.approx(math.degrees(math.atan2(12.0, 160.0)), abs=1e-6)


def test_plan_skips_buttocks_without_a_step():
    """Outside the body there is nothing to find: the keel alone is left."""
    hull = v_stepped()
    plan = step_plan(Slices(hull, axis=1), find_step(hull), half_beam_mm=1e4, length_mm=600.0)
    assert [point.half_breadth_mm for point in plan] == [0.0]
    assert np.isfinite(plan[0].station_mm)
