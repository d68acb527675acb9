"""Boxes under loads off the middle, and boxes that loll: exact solutions, all derived.

Over a box's bottom (L × B, the origin at its middle) the water stands at z = d + a x + b y with
a = tan τ/cos φ and b = tan φ, as long as it cuts all four sides. With I_x = L²/(12 d) and
I_y = B²/(12 d) the center of buoyancy is

    x = a I_x,    y = b I_y,    z = d/2 + (a² I_x + b² I_y)/2

and rest means G − B along the normal (−a, −b, 1):

    x_G = a (I_x + d/2 − z_G + (a² I_x + b² I_y)/2),    y_G = b (I_y + d/2 − z_G + (same)/2).

With one of the slopes 0 this is the cubic  x_G = GM_L a + ½ BM_L a³,  GM = BM + KB − KG.

The tolerance is 1e-9 rad: the solver stops at a lever of 1e-11 of the length, 2.4e-9 mm here, and
the stiffness it acts against is kept above 3 mm.
"""

import math

import make_bodies as bodies
import numpy as np
import pytest
from clipped_polygon import energy, righting_arm
from hypothesis import assume, given
from scipy.optimize import brentq, minimize_scalar
from strategies import uniform

from hullcheck.flotation.floating import float_at
from hullcheck.geometry.attitude import normal_of

LENGTH, BEAM, HEIGHT = 240.0, 96.0, 64.0
FRESH = 1e-3
ANGLE = 1e-9
LEAST_GM = 3.0


@pytest.fixture(scope="module")
def box(skin_of):
    """Return a box, 240 × 96 × 64 mm, its bottom's middle at the origin."""
    return skin_of(
        bodies.box(
            length_mm=LENGTH, beam_mm=BEAM, height_mm=HEIGHT, origin_mm=(-LENGTH / 2, 0.0, 0.0)
        )
    )


def loaded(skin, draft, center):
    """Return where the box rests with a draft's worth of load at a center of gravity."""
    mass = FRESH * LENGTH * BEAM * draft
    return float_at(skin, mass_g=mass, center_of_gravity_mm=center)


def radii(draft):
    """Return I_x and I_y at a draft."""
    return LENGTH**2 / (12.0 * draft), BEAM**2 / (12.0 * draft)


def within_sides(draft, a, b):
    """Keep only draws whose water cuts all four sides, with a little to spare."""
    assume(abs(a) * LENGTH / 2 + abs(b) * BEAM / 2 < min(draft, HEIGHT - draft) - 0.5)


@given(draft=uniform(12.0, 52.0), height=uniform(0.0, 60.0), a=uniform(-0.5, 0.5))
def test_trim_of_a_box_by_the_exact_cubic(box, draft, height, a):
    """A load fore or aft of the middle trims a box to the root of the cubic."""
    within_sides(draft, a, 0.0)
    i_x, i_y = radii(draft)
    assume(i_y + draft / 2 + a * a * i_x / 2 - height > LEAST_GM)  # upright across at that trim
    offset = a * (i_x + draft / 2 - height) + 0.5 * i_x * a**3
    found = loaded(box, draft, (offset, 0.0, height)).floating
    assert math.radians(found.trim_deg) == pytest.approx(math.atan(a), abs=ANGLE)
    assert math.radians(found.heel_deg) == pytest.approx(0.0, abs=ANGLE)
    assert found.height_mm == pytest.approx(draft * math.cos(math.atan(a)), abs=1e-7)


@given(draft=uniform(12.0, 52.0), height=uniform(0.0, 60.0), b=uniform(-1.0, 1.0))
def test_list_of_a_box_by_the_exact_cubic(box, draft, height, b):
    """A load to one side lists a box to the root of the cubic, starboard down if it lies there."""
    within_sides(draft, 0.0, b)
    _, i_y = radii(draft)
    metacentric = i_y + draft / 2 - height
    assume(metacentric > LEAST_GM)
    found = loaded(box, draft, (0.0, metacentric * b + 0.5 * i_y * b**3, height)).floating
    assert math.radians(found.heel_deg) == pytest.approx(math.atan(b), abs=ANGLE)
    assert math.radians(found.trim_deg) == pytest.approx(0.0, abs=ANGLE)


@given(
    draft=uniform(12.0, 52.0), height=uniform(0.0, 60.0), a=uniform(-0.3, 0.3), b=uniform(-0.8, 0.8)
)
def test_trim_and_list_of_a_box_together(box, draft, height, a, b):
    """A load off both ways trims and lists a box to the root of the coupled pair of cubics."""
    within_sides(draft, a, b)
    i_x, i_y = radii(draft)
    assume(i_y + draft / 2 - height > LEAST_GM)
    lift = 0.5 * (a * a * i_x + b * b * i_y)
    center = (
        a * (i_x + draft / 2 - height + lift),
        b * (i_y + draft / 2 - height + lift),
        height,
    )
    found = loaded(box, draft, center).floating
    truth = np.array([-a, -b, 1.0]) / math.sqrt(1.0 + a * a + b * b)
    assert list(found.normal) == pytest.approx(list(truth), abs=ANGLE)


@given(draft=uniform(16.0, 48.0), b=uniform(0.05, 0.6))
def test_loll_of_a_box_within_its_sides(box, draft, b):
    """A box with GM < 0 lolls to tan θ = √(2 |GM|/BM), either side alike, GM there 2 |GM|/cos θ.

    GZ = sin φ (GM + ½ BM tan² φ) vanishes at θ with the slope BM tan² θ/cos θ.
    """
    within_sides(draft, 0.0, b)
    _, i_y = radii(draft)
    deficit = 0.5 * i_y * b * b
    rest = loaded(box, draft, (0.0, 0.0, i_y + draft / 2 + deficit))
    heel = math.atan(b)
    stiffness = 2.0 * deficit / math.cos(heel)
    assert not rest.upright_is_stable
    assert rest.either_side
    assert rest.floating.stable
    # The lever the solver stops at over the stiffness, which may be as low as 0.04 mm here.
    allowed = 1e-11 * LENGTH / min(1.0, stiffness) + ANGLE
    assert math.radians(rest.floating.heel_deg) == pytest.approx(heel, abs=allowed)
    # Heel error times ten to the curvature of GZ, which is of the order of BM.
    assert rest.floating.metacentric_height_mm[0] == pytest.approx(stiffness, abs=1e-5)


def test_loll_of_a_box_with_her_bilge_out(skin_of):
    """A box so top-heavy that a bilge comes out lolls where the rectangle's arm vanishes."""
    breadth, height, share = 55.0, 60.0, 0.4
    triangles = bodies.box(length_mm=400.0, beam_mm=breadth, height_mm=height)
    half = breadth / 2
    section = np.array([[-half, 0.0], [half, 0.0], [half, height], [-half, height]])
    center, wet = np.array([0.0, 29.0]), share * breadth * height
    truth = brentq(
        lambda heel: righting_arm(section, wet, center, heel), 0.3, 1.5, xtol=1e-14, rtol=1e-14
    )
    # The bilge on the high side is out, so the formula for upright sides does not hold.
    assert math.tan(truth) * half > height * share
    rest = float_at(
        skin_of(triangles), mass_g=FRESH * 400.0 * wet, center_of_gravity_mm=(200.0, 0.0, 29.0)
    )
    assert rest.either_side
    assert math.radians(rest.floating.heel_deg) == pytest.approx(truth, abs=ANGLE)


def test_square_log_lies_at_45_degrees(skin_of):
    """A square log of relative density 0.4 lies on its edge: 45° is the only least energy in 0–90°.

    Derived; the formula for upright sides gives 43.17° and is out of its range, as the corner of
    the section is under by then. The energy is scanned over all heels on the clipped square.
    """
    side, share = 30.0, 0.4
    section = np.array([[-15.0, 0.0], [15.0, 0.0], [15.0, side], [-15.0, side]])
    center, wet = np.array([0.0, side / 2]), share * side * side
    heels = np.radians(np.arange(0.5, 90.0, 0.5))
    levels = np.array([energy(section, wet, center, heel) for heel in heels])
    least = np.flatnonzero((levels[1:-1] < levels[:-2]) & (levels[1:-1] < levels[2:])) + 1
    assert np.degrees(heels[least]).tolist() == pytest.approx([45.0])
    found = minimize_scalar(
        lambda heel: energy(section, wet, center, heel), bounds=(0.5, 1.0), method="bounded"
    )
    assert math.degrees(found.x) == pytest.approx(45.0, abs=1e-3)  # the search's own step
    skin = skin_of(
        bodies.box(length_mm=60.0, beam_mm=side, height_mm=side, origin_mm=(-30.0, 0.0, 0.0))
    )
    rest = float_at(
        skin,
        mass_g=FRESH * 60.0 * wet,
        center_of_gravity_mm=(0.0, 0.0, side / 2),
        all_attitudes=True,
    )
    assert not rest.upright_is_stable
    assert rest.either_side
    assert rest.floating.heel_deg == pytest.approx(45.0, abs=1e-7)
    assert rest.floating.trim_deg == pytest.approx(0.0, abs=1e-7)
    everywhere = sorted(round(f.heel_deg, 6) for f in rest.attitudes)
    assert everywhere == [-135.0, -45.0, 45.0, 135.0]


@pytest.mark.parametrize("offset", [1e-3, -1e-3])
def test_small_trim_is_the_lever_over_gm(box, offset):
    """A small lever trims her by (LCG − LCB)/GM_L, bow up when the load lies aft of the middle."""
    draft, height = 24.0, 20.0
    i_x, _ = radii(draft)
    found = loaded(box, draft, (offset, 0.0, height)).floating
    # The cubic's second term is below 1e-10 of the first.
    assert math.tan(math.radians(found.trim_deg)) == pytest.approx(
        offset / (i_x + draft / 2 - height), rel=1e-9, abs=1e-11
    )
    assert found.normal[0] == pytest.approx(normal_of(trim=math.radians(found.trim_deg), heel=0)[0])
