"""The curve over heel: against closed forms and exact polygons, its symmetry, energy and jumps."""

import math

import clipped_polygon
import make_bodies as bodies
import numpy as np
import pytest
from hypothesis import given, settings
from scipy.integrate import quad
from scipy.optimize import brentq
from strategies import uniform

from hullcheck.errors import InputError
from hullcheck.flotation.righting import trim_follows
from hullcheck.flotation.righting_curve import (
    CurveEndError,
    RightingCurve,
    greatest_arm,
    heels_between,
)
from hullcheck.geometry.attitude import normal_of, trim_of

FRESH = 1e-3
LENGTH, BEAM, HEIGHT, DRAFT = 240.0, 96.0, 64.0, 30.0
SECTION = np.array([[-BEAM / 2, 0.0], [BEAM / 2, 0.0], [BEAM / 2, HEIGHT], [-BEAM / 2, HEIGHT]])


def box_curve(skin_of, descent_of, *, center=(0.0, 0.0, 25.0), sizes=(LENGTH, BEAM, HEIGHT, DRAFT)):
    """Return the curve of a box, its bottom's middle at the origin, at a draft [mm]."""
    length, beam, height, draft = sizes
    skin = skin_of(
        bodies.box(
            length_mm=length, beam_mm=beam, height_mm=height, origin_mm=(-length / 2, 0.0, 0.0)
        )
    )
    mass = FRESH * length * beam * draft
    return RightingCurve(descent_of(skin, mass_g=mass, center_of_gravity_mm=center))


def demo_curve(tarnwing_skin, descent_of, center=(252.0, 0.0, 31.0)):
    """Return the curve of the demo craft."""
    return RightingCurve(descent_of(tarnwing_skin, mass_g=690.0, center_of_gravity_mm=center))


@pytest.mark.parametrize("heel_deg", [-150.0, -70.0, -20.0, 5.0, 33.0, 47.0, 90.0, 119.0, 180.0])
@pytest.mark.parametrize("aside", [0.0, 7.0])
def test_box_past_the_edge_of_its_deck_by_exact_polygons(skin_of, descent_of, heel_deg, aside):
    """A box's arm past deck edge and bilge is that of its clipped section, to 1e-8 of the beam.

    Its deck goes under at 35°. The reference clips the rectangle by itself; a prism with G amid its
    length keeps trim 0. Both solve the draft to rounding, times the 1e-11 of the length of trim.
    """
    curve = box_curve(skin_of, descent_of, center=(0.0, aside, 25.0))
    heel = math.radians(heel_deg)
    truth = clipped_polygon.righting_arm(SECTION, BEAM * DRAFT, np.array([aside, 25.0]), heel)
    assert curve.arm(heel) == pytest.approx(truth, abs=1e-8 * BEAM)
    assert trim_of(curve.state(heel).normal) == pytest.approx(0.0, abs=1e-9)
    assert curve.jumps == ()


def test_derrett_barrass_page_130_on_the_curve(skin_of, descent_of):
    """The wall-sided arms of both examples, read off the curve: 0.56046 m and 0.34915 m at 25°.

    Derrett, D. R., and C. B. Barrass, Ship Stability for Masters and Mates, 5th ed., 1999, p. 130:
    Ex. 2 SEEN inputs, Ex. 1 SEEN (printed 0.35 m). A meter is 10 mm; the water's density falls out.
    """
    curve = box_curve(
        skin_of, descent_of, center=(0.0, 0.0, 40.0), sizes=(650.0, 120.0, 80.0, 40.0)
    )
    assert curve.arm(math.radians(25.0)) / 10.0 == pytest.approx(0.56046, abs=1e-5)
    beam = 10.0 * math.sqrt(216.0)
    curve = box_curve(
        skin_of, descent_of, center=(0.0, 0.0, 55.0), sizes=(660.0, beam, 120.0, 60.0)
    )
    assert curve.arm(math.radians(25.0)) / 10.0 == pytest.approx(0.34915, abs=1e-5)


def test_square_log_lies_at_45_degrees(skin_of, descent_of):
    """A square log of relative density 0.4: unstable upright, the arm's first zero is at 45°.

    Derrett and Barrass, Ship Stability for Masters and Mates, 5th ed., 1999, ch. 24 (value from
    memory); by symmetry besides. The wall-sided loll, 43.17°, is out of its range: the deck edge
    is under by then. From 45° the arm is positive up to 90° and falls through zero there.
    """
    curve = box_curve(skin_of, descent_of, center=(0, 0, 15.0), sizes=(60.0, 30.0, 30.0, 12.0))
    metacentric, radius = 6.0 + 6.25 - 15.0, 6.25
    assert curve.slope(0.0) == pytest.approx(metacentric, rel=1e-9)
    loll = math.degrees(math.atan(math.sqrt(2.0 * abs(metacentric) / radius)))
    assert loll == pytest.approx(43.17, abs=0.005)
    first = curve.first_fall(lambda h: -curve.arm(h), heels_between(1e-3, math.pi))
    assert math.degrees(first) == pytest.approx(45.0, abs=1e-7)
    end = curve.first_fall(curve.arm, heels_between(first + 1e-3, math.pi))
    assert math.degrees(end) == pytest.approx(90.0, abs=1e-7)


def test_greatest_arm_and_range_of_a_box(skin_of, descent_of):
    """Greatest arm and range of a box are those of its clipped section, found by other means."""
    curve = box_curve(skin_of, descent_of, center=(0.0, 0.0, 30.0))
    center = np.array([0.0, 30.0])

    def arm(heel):
        """Return the section's arm."""
        return clipped_polygon.righting_arm(SECTION, BEAM * DRAFT, center, heel)

    end = curve.first_fall(curve.arm, heels_between(1e-3, math.pi))
    truth = brentq(arm, math.radians(60.0), math.radians(100.0), xtol=1e-14)
    assert end == pytest.approx(truth, abs=1e-9)
    top, most = greatest_arm(curve, heels_between(0.0, end), 1.0)
    step = 1e-5
    assert arm(top) == pytest.approx(most, abs=1e-8 * BEAM)
    assert arm(top - step) < arm(top) > arm(top + step)
    fine = max(arm(h) for h in np.linspace(0.3, 1.2, 400))
    assert fine <= most + 1e-9


def test_area_under_a_wall_sided_arm(skin_of, descent_of):
    """The area from the energy is the integral of the closed arm, sin φ (GM + ½ BM tan² φ)."""
    curve = box_curve(skin_of, descent_of)
    radius = BEAM**2 / (12.0 * DRAFT)
    metacentric = DRAFT / 2 + radius - 25.0
    stop = math.radians(30.0)
    area = quad(lambda h: math.sin(h) * (metacentric + 0.5 * radius * math.tan(h) ** 2), 0.0, stop)[
        0
    ]
    assert curve.work_mm(0.0, stop) == pytest.approx(area, rel=1e-10)
    assert curve.work_mm(0.0, -stop) == pytest.approx(area, rel=1e-10)


def test_energy_along_the_curve(tarnwing_skin, descent_of):
    """∂f/∂φ = cos τ GZ: over stretches of heel the energy's rise is ∫ cos τ GZ dφ by quadrature.

    The demo craft with her center off the center plane, trim free; Gauss-Legendre over 0.5°. The
    arm is smooth but for the corners of facets that cross the water, which leave 1e-6 of it.
    """
    curve = demo_curve(tarnwing_skin, descent_of, (262.0, 4.0, 45.0))
    places, weights = np.polynomial.legendre.leggauss(8)
    for start_deg in (-120.0, -20.0, 1.0, 6.0, 40.0, 75.0):
        start, half = math.radians(start_deg), math.radians(0.25)
        heels = start + half * (1.0 + places)
        values = [math.cos(trim_of(curve.state(h).normal)) * curve.arm(h) for h in heels]
        rise = curve.state(start + 2.0 * half).energy - curve.state(start).energy
        assert rise == pytest.approx(half * float(weights @ values), rel=1e-5, abs=1e-9)


def test_a_symmetric_craft_has_an_odd_curve(tarnwing_skin, descent_of):
    """Arms to port are minus those to starboard, trims alike, to the rounding of the solver."""
    curve = demo_curve(tarnwing_skin, descent_of)
    for heel_deg in (0.0, 1.0, 4.0, 8.0, 25.0, 60.0, 95.0, 140.0, 179.0):
        heel = math.radians(heel_deg)
        assert curve.arm(-heel) == pytest.approx(-curve.arm(heel), abs=1e-7)
        trims = [trim_of(curve.state(side * heel).normal) for side in (1.0, -1.0)]
        assert trims[0] == pytest.approx(trims[1], abs=1e-9)


@given(heel_deg=uniform(-178.0, 178.0))
@settings(max_examples=25)
def test_the_way_there_does_not_matter(tarnwing_skin, descent_of, heel_deg):
    """A heel asked for first or after a hundred others is the same state, where nothing jumps."""
    heel = math.radians(heel_deg)
    fresh = demo_curve(tarnwing_skin, descent_of)
    walked = demo_curve(tarnwing_skin, descent_of)
    for other in heels_between(0.0, math.copysign(math.pi, heel)):
        walked.state(other)
    assert fresh.jumps == walked.jumps == ()
    assert fresh.arm(heel) == pytest.approx(walked.arm(heel), abs=1e-7)


def test_trim_follows_heel_as_foreseen(tarnwing_skin, descent_of):
    """dτ/dφ is the central difference of the free trim, within the two differences' own spread."""
    curve, step = demo_curve(tarnwing_skin, descent_of, (262.0, 4.0, 45.0)), 1e-4
    for heel_deg in (-30.0, 2.0, 6.0, 15.0, 50.0):
        heel = math.radians(heel_deg)
        trims = [trim_of(curve.state(heel + k * step).normal) for k in (-2, -1, 1, 2)]
        near, far = (trims[2] - trims[1]) / (2 * step), (trims[3] - trims[0]) / (4 * step)
        truth = trim_follows(curve.state(heel))
        assert truth == pytest.approx(near, abs=5.0 * abs(near - far) + 1e-6)


def folding(skin_of, descent_of):
    """Return the curve of a short box, turned by 10° about the upright, that trims either way.

    Level it is unstable in trim, as a square log is in heel; heeling to port flattens out the
    hollow it lies in until it falls into the other one.
    """
    angle = math.radians(10.0)
    turn = np.array(
        [
            [math.cos(angle), -math.sin(angle), 0.0],
            [math.sin(angle), math.cos(angle), 0.0],
            [0, 0, 1],
        ]
    )
    box = bodies.box(length_mm=28.0, beam_mm=90.0, height_mm=30.0, origin_mm=(-14.0, 0.0, 0.0))
    descent = descent_of(
        skin_of(box @ turn.T),
        mass_g=0.4 * FRESH * 28.0 * 90.0 * 30.0,
        center_of_gravity_mm=(0.3, 0.0, 14.0),
    )
    return RightingCurve(descent)


def hollows(curve, heel):
    """Return the trims [deg] at which the energy is least, by plain sampling at a held heel."""
    trims = np.arange(-60.0, 60.01, 0.25)
    energies = [
        curve.descent.settled(normal_of(trim=math.radians(t), heel=heel), None).energy
        for t in trims
    ]
    inner = [k for k in range(1, len(trims) - 1) if energies[k - 1] > energies[k] < energies[k + 1]]
    return trims[inner]


def test_a_jump_is_reported_where_its_hollow_is_gone(skin_of, descent_of):
    """The trim jumps at the heel where sampled energies lose the minimum it was in, and not before.

    Before it two hollows are there, she is in the upper one; 0.1° past it that one is gone. What
    the fall sheds is in the area under the curve.
    """
    curve = folding(skin_of, descent_of)
    curve.state(-math.radians(30.0))
    (jump,) = curve.jumps
    before, after = jump.heel + math.radians(0.1), jump.heel - math.radians(0.1)
    was, now = math.degrees(jump.trim_before), math.degrees(jump.trim_after)
    assert abs(was - now) > 40.0
    assert np.abs(hollows(curve, before) - was).min() < 3.0
    assert np.abs(hollows(curve, after) - was).min() > 40.0
    assert np.abs(hollows(curve, after) - now).min() < 1.0
    assert jump.energy_drop_mm > 0.1
    plain = curve.state(after).energy - curve.state(before).energy
    assert curve.work_mm(before, after) == pytest.approx(plain + jump.energy_drop_mm)


def test_a_curve_ends_where_nothing_holds_the_trim(skin_of, descent_of):
    """The same box goes over its stern near 178° to starboard: refused past it, and said where."""
    curve = folding(skin_of, descent_of)
    end = curve.end(1.0)
    assert 170.0 < math.degrees(end) < 180.0
    curve.state(end)
    with pytest.raises(CurveEndError, match="nothing holds her trim: she goes over"):
        curve.state(math.pi)
    assert curve.first_fall(lambda _: 1.0, heels_between(0.0, math.pi)) is None


def test_a_heel_beyond_180_is_refused(tarnwing_skin, descent_of):
    """The curve ends at 180°: more is refused with the heel."""
    with pytest.raises(InputError, match="heel 181°: must be from −180 to 180"):
        demo_curve(tarnwing_skin, descent_of).state(math.radians(181.0))


def test_a_curve_costs_few_planes(tarnwing_skin, descent_of):
    """37 points by 5° take at most 5 evaluations each, so that a curve stays cheap at any size.

    Measured: 3.6; each heel begins at the trim and the height foreseen. A tree is 12 times quicker
    than a direct pass at a million triangles: 37 × 5 / 12 passes are under the 18 allowed.
    """
    curve = demo_curve(tarnwing_skin, descent_of)
    before = tarnwing_skin.tree.evaluations
    for k in range(37):
        curve.state(math.radians(5.0 * k))
    assert tarnwing_skin.tree.evaluations - before <= 37 * 5
