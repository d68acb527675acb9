"""The righting arm with trim and draft free: its value, its slope, and the energy it comes from."""

import math

import make_bodies as bodies
import numpy as np
import pytest
from hypothesis import assume, given, settings
from scipy.optimize import brentq
from strategies import bumpy, uniform

from hullcheck.flotation.righting import levers, righting_arm, righting_slope
from hullcheck.geometry.attitude import level_directions, normal_of, trim_of

LENGTH, BEAM, HEIGHT, DRAFT = 240.0, 96.0, 64.0, 30.0
FRESH = 1e-3
UPRIGHT = normal_of(trim=0.0, heel=0.0)


def box_turned(angle_deg):
    """Return a box turned about the upright through its middle: heel and trim couple."""
    angle = math.radians(angle_deg)
    turn = np.array(
        [
            [math.cos(angle), -math.sin(angle), 0.0],
            [math.sin(angle), math.cos(angle), 0.0],
            [0.0, 0.0, 1.0],
        ]
    )
    triangles = bodies.box(
        length_mm=LENGTH, beam_mm=BEAM, height_mm=HEIGHT, origin_mm=(-LENGTH / 2, 0.0, 0.0)
    )
    return triangles @ turn.T, turn


def curve(descent, heels):
    """Return the states along a righting curve from upright, each from the one before."""
    state, states = descent.at_heel(0.0, descent.state(UPRIGHT, None)), []
    for heel in heels:
        state = descent.at_heel(heel, state)
        states.append(state)
    return states


@pytest.mark.parametrize("height", [15.0, 40.0, 50.0])
def test_wall_sided_arm(skin_of, descent_of, height):
    """A box's arm is sin φ (GM + ½ BM tan² φ) until bilge or deck meets the water.

    Derived: the wedges that go under and come out are those of a rectangle. 1e-9 of the beam, for
    the volume is solved to 1e-13 and the trim to a lever of 1e-11 of the length.
    """
    skin = skin_of(box_turned(0.0)[0])
    descent = descent_of(
        skin, mass_g=FRESH * LENGTH * BEAM * DRAFT, center_of_gravity_mm=(0.0, 0.0, height)
    )
    radius = BEAM**2 / (12.0 * DRAFT)
    metacentric = DRAFT / 2 + radius - height
    heels = np.radians([0.0, 0.5, 5.0, 10.0, 20.0, 30.0, 32.0])
    assert math.tan(heels[-1]) * BEAM / 2 < min(DRAFT, HEIGHT - DRAFT)
    for sign in (1.0, -1.0):
        for heel, state in zip(sign * heels, curve(descent, sign * heels), strict=True):
            truth = math.sin(heel) * (metacentric + 0.5 * radius * math.tan(heel) ** 2)
            assert righting_arm(state, heel) == pytest.approx(truth, abs=1e-9 * BEAM)
            slope = math.cos(heel) * (metacentric + 0.5 * radius * math.tan(heel) ** 2) + (
                radius * math.tan(heel) ** 2 / math.cos(heel)
            )
            assert righting_slope(state) == pytest.approx(slope, abs=1e-9 * BEAM)


@given(angle_deg=uniform(5.0, 85.0), height=uniform(10.0, 32.0), heel_deg=uniform(-18.0, 18.0))
@settings(max_examples=40)
def test_wall_sided_arm_where_trim_follows_heel(skin_of, descent_of, angle_deg, height, heel_deg):
    """A box heeled about an axis that is not its own trims as it heels; the arm is exact still.

    The water stands at z = d + a x + b y, a = tan τ/cos φ, b = tan φ. With I the bottom's second
    moments over the volume, B = (I (a, b), d/2 + ½ (a, b) I (a, b)): trim is the root of
    (G − B)·e_L, and the arm (B − G)·e_T.
    """
    triangles, turn = box_turned(angle_deg)
    descent = descent_of(
        skin_of(triangles),
        mass_g=FRESH * LENGTH * BEAM * DRAFT,
        center_of_gravity_mm=(0.0, 0.0, height),
    )
    own = np.diag([LENGTH**2, BEAM**2]) / (12.0 * DRAFT)
    second = turn[:2, :2] @ own @ turn[:2, :2].T
    heel = math.radians(heel_deg)

    def lever(trim):
        """Return G − B at a trim, the heel held."""
        slopes = np.array([math.tan(trim) / math.cos(heel), math.tan(heel)])
        aside = second @ slopes
        return np.array([-aside[0], -aside[1], height - DRAFT / 2 - 0.5 * slopes @ aside])

    trim = brentq(
        lambda t: lever(t) @ level_directions(trim=t, heel=heel)[0], -0.5, 0.5, xtol=1e-15
    )
    corners = np.array([[LENGTH, BEAM], [LENGTH, -BEAM]]) / 2 @ turn[:2, :2].T
    rise = corners @ [math.tan(trim) / math.cos(heel), math.tan(heel)]
    assume(np.abs(rise).max() < min(DRAFT, HEIGHT - DRAFT))
    state = curve(descent, [heel])[0]
    across = level_directions(trim=trim, heel=heel)[1]
    # 2.4e-9 mm of lever over a stiffness of 25 mm at least; the arm moves by 200 mm per rad.
    assert trim_of(state.normal) == pytest.approx(trim, abs=1e-9)
    assert righting_arm(state, heel) == pytest.approx(-lever(trim) @ across, abs=1e-7)


def cases(skin_of, descent_of, tarnwing_skin):
    """Return the descents the curve is differentiated on: the demo craft and irregular bodies."""
    hull = skin_of(bodies.parabolic_hull(length_mm=400.0, beam_mm=90.0, draft_mm=40.0))
    odd = skin_of(bumpy(11))
    low, high = odd.tree.low_mm, odd.tree.high_mm
    return [
        descent_of(tarnwing_skin, mass_g=690.0, center_of_gravity_mm=(252.0, 0.0, 31.0)),
        descent_of(tarnwing_skin, mass_g=740.0, center_of_gravity_mm=(262.0, 4.0, 45.0)),
        descent_of(hull, mass_g=300.0, center_of_gravity_mm=(8.0, 1.0, -25.0)),
        descent_of(
            odd,
            mass_g=0.4 * FRESH * odd.volume_mm3,
            center_of_gravity_mm=low + np.array([0.52, 0.47, 0.3]) * (high - low),
        ),
    ]


@pytest.mark.parametrize("which", range(4))
@pytest.mark.parametrize("heel_deg", [-40.0, -3.0, 0.0, 2.0, 11.0, 33.0])
def test_slope_and_energy_against_differences(skin_of, descent_of, tarnwing_skin, which, heel_deg):
    """The arm's slope is its central difference, and ∂f/∂φ = cos τ GZ that of the energy.

    Central differences over ±h differ from the derivative by h² f'''/6, and skins of flat facets
    have third derivatives that jump: the difference is taken over h and 2 h and must agree with
    the derivative as well as those two agree with each other, five times over, plus rounding.
    """
    descent = cases(skin_of, descent_of, tarnwing_skin)[which]
    heel, step = math.radians(heel_deg), 2e-4
    offsets = (-2.0, -1.0, 0.0, 1.0, 2.0)
    states = curve(descent, [heel + k * step for k in offsets])
    arms = [righting_arm(s, heel + k * step) for s, k in zip(states, offsets, strict=True)]
    energies = [s.energy for s in states]
    trim = trim_of(states[2].normal)
    for values, truth in (
        (arms, righting_slope(states[2])),
        (energies, math.cos(trim) * arms[2]),
    ):
        near = (values[3] - values[1]) / (2.0 * step)
        far = (values[4] - values[0]) / (4.0 * step)
        # Levers are solved to 1e-11 of the length and divided by the step.
        rounding = 2e-11 * descent.length / step
        assert truth == pytest.approx(near, abs=5.0 * abs(near - far) + rounding)
        assert abs(near - far) < 0.02 * max(abs(near), 1.0)


@pytest.mark.parametrize("which", range(4))
def test_slope_at_rest(skin_of, descent_of, tarnwing_skin, which):
    """At rest the arm's slope is cos τ (H_TT − H_TL²/H_LL), the second derivative trim eliminated.

    Per unit rotation it is the Schur complement of the Hessian; per unit heel times cos τ.
    """
    descent = cases(skin_of, descent_of, tarnwing_skin)[which]
    state = descent.rest(descent.state(UPRIGHT, None))
    along, across = state.directions
    stiff = np.array([[p @ state.hessian @ q for q in (across, along)] for p in (across, along)])
    truth = stiff[0, 0] - stiff[0, 1] ** 2 / stiff[1, 1]
    assert levers(state) == pytest.approx((stiff[0, 0], stiff[1, 1]))
    assert righting_slope(state) == pytest.approx(
        math.cos(trim_of(state.normal)) * truth, rel=1e-9, abs=1e-9 * descent.length
    )


def test_small_angle_arm_is_gm_times_heel(skin_of, descent_of):
    """At small angles GZ → GM φ where heel and trim do not couple."""
    descent = descent_of(
        skin_of(bodies.parabolic_hull(length_mm=400.0, beam_mm=90.0, draft_mm=40.0)),
        mass_g=400.0,
        center_of_gravity_mm=(0.0, 0.0, -28.0),
    )
    rest = descent.rest(descent.state(UPRIGHT, None))
    heel = 1e-4
    arm = righting_arm(curve(descent, [heel])[0], heel)
    # The cubic term is of the order of BM φ², 1e-8 of the whole; levers are solved to 4e-9 mm.
    assert arm / heel == pytest.approx(levers(rest)[0], rel=1e-6, abs=4e-9 / heel)
