"""The inclining experiment gives back the height of the center of gravity."""

import math
from dataclasses import replace

import numpy as np
import pytest
from bath_fit_making import BEAM, LENGTH, demo, floated
from crafts import box_craft

from hullcheck.answers.incline import _Tub, incline, metacentric_height
from hullcheck.answers.incline_fit import height_of
from hullcheck.answers.incline_line import Case
from hullcheck.answers.incline_records import Shift
from hullcheck.errors import InputError

GIVEN_BACK = 1e-6
TONNE, METER = 1e6, 1e3


def moved(craft, mass_g, center, *weights):
    """Return the heels that weights [g, mm] make when each is moved across."""
    x, y, z = center
    return tuple(
        Shift(
            mass_g=grams,
            arm_mm=arm,
            heel_deg=floated(craft, mass_g, (x, y + grams * arm / mass_g, z)).heel_deg,
        )
        for grams, arm in weights
    )


def added(craft, mass_g, center, at, *weights):
    """Return the heels that weights [g, mm] make when each is added at a station and a height."""
    shifts = []
    for grams, arm in weights:
        place = (at[0], arm, at[1])
        mass = mass_g + grams
        both = tuple((mass_g * a + grams * b) / mass for a, b in zip(center, place, strict=True))
        heel = floated(craft, mass, both).heel_deg
        shifts.append(Shift(mass_g=grams, arm_mm=arm, heel_deg=heel))
    return tuple(shifts)


def test_the_exam_problem():
    """3300 t, 6 t moved 12 m, 0.12 m on an 11 m pendulum, KM 7.25 m: GM 2.000 m, KG 5.25 m.

    An exam problem; its inputs were read, the answer is arithmetic: 6 × 12 × 11/(3300 × 0.12).
    """
    shift = Shift(
        mass_g=6 * TONNE, arm_mm=12 * METER, heel_deg=math.degrees(math.atan2(0.12, 11.0))
    )
    found = metacentric_height((shift,), mass_g=3300 * TONNE, metacenter_mm=7.25 * METER)
    assert found.metacentric_height_mm == pytest.approx(2.000 * METER, abs=1e-6)
    assert found.center_above_keel_mm == pytest.approx(5.25 * METER, abs=1e-6)
    assert found.residuals == "not tested"


def test_small_tilts_magnify_the_error():
    """1/GM is known to a share σ/(sin φ cos φ): half as well at half the tangent.

    From 1/GM = m tan φ/(w d): d tan φ/tan φ = dφ/(sin φ cos φ). 1.959964 is the 97.5 % point of the
    normal distribution (any statistical table).
    """
    for tangent in (0.02, 0.04, 0.08):
        heel = math.atan(tangent)
        shift = Shift(mass_g=50.0, arm_mm=300.0, heel_deg=math.degrees(heel))
        found = metacentric_height((shift,), mass_g=700.0)
        share = 1.959964 * math.radians(0.2) / (math.sin(heel) * math.cos(heel))
        low, high = found.interval_mm
        assert low == pytest.approx(found.metacentric_height_mm / (1.0 + share), rel=1e-6)
        assert high == pytest.approx(found.metacentric_height_mm / (1.0 - share), rel=1e-6)
        assert found.plus_minus_mm == pytest.approx((high - low) / 2)


def test_a_heel_that_could_be_none_has_no_upper_end():
    """A heel of 0.3° read to 0.2° says how low GM may be, not how high."""
    found = metacentric_height((Shift(mass_g=5, arm_mm=100, heel_deg=0.3),), mass_g=700.0)
    assert found.interval_mm[1] is None
    assert found.plus_minus_mm is None
    assert 0.0 < found.interval_mm[0] < found.metacentric_height_mm


def test_the_mass_counts_in_the_uncertainty():
    """GM goes as 1/m: a mass known to 2 % adds 2 % in squares."""
    shift = Shift(mass_g=50, arm_mm=300, heel_deg=3.2)
    sharp, loose = (
        metacentric_height((shift,), mass_g=700.0, mass_uncertainty_g=grams) for grams in (0, 14)
    )
    one, two = (found.metacentric_height_mm / found.interval_mm[0] - 1 for found in (sharp, loose))
    assert two == pytest.approx(math.hypot(one, 1.959964 * 0.02), rel=1e-6)


def test_the_line_is_that_of_a_textbook_regression():
    """Slope, intercept and chi-square are those of numpy's weighted polynomial fit."""
    pairs = [(-15.0, -3.1), (-10.0, -1.6), (0.0, 0.5), (10.0, 2.4), (20.0, 4.7)]
    shifts = tuple(Shift(mass_g=100.0, arm_mm=a, heel_deg=h) for a, h in pairs)
    found = metacentric_height(shifts, mass_g=1000.0)
    arms, heels = np.array(pairs).T
    x, tangents = arms / 10.0, np.tan(np.radians(heels))
    weights = np.cos(np.radians(heels)) ** 2 / math.radians(0.2)
    (slope, start), covariance = np.polyfit(x, tangents, 1, w=weights, cov="unscaled")
    assert found.metacentric_height_mm == pytest.approx(1.0 / slope, rel=1e-9)
    share = 1.959964 * math.sqrt(covariance[0, 0]) / slope
    assert found.interval_mm[0] == pytest.approx(1.0 / slope / (1.0 + share), rel=1e-6)
    assert found.initial_heel_is_fitted
    assert math.tan(math.radians(found.initial_heel_deg)) == pytest.approx(start, rel=1e-9)
    left = (tangents - start - slope * x) * weights
    assert found.chi_square == pytest.approx(float(left @ left), rel=1e-9)
    assert found.degrees_of_freedom == 3
    explained = np.degrees(np.arctan(start + slope * x))
    for check, heel in zip(found.shifts, explained, strict=True):
        assert check.explained_deg == pytest.approx(heel, rel=1e-9)
        assert check.left_over_deg == pytest.approx(check.heel_deg - heel, rel=1e-9)


@pytest.mark.parametrize("trim_arm", [0.0, 2.0])
def test_a_box_in_closed_form(trim_arm):
    """A wall-sided box: m d_y = tan φ (GM + ½ BM tan² φ) gives KG back, GM = d/2 + B²/12d − KG.

    Trimmed by its CG aft, GM and KG are square to the water and so differ from those along z; the
    height along z is still given back.
    """
    mass, z_g, draft = 1200.0, 30.0, 20.0
    bm = BEAM**2 / (12 * draft)
    gm = draft / 2 + bm - z_g
    center = (LENGTH / 2 + trim_arm, 0.0, z_g)
    if trim_arm == 0.0:
        shifts = tuple(
            Shift(mass_g=mass, arm_mm=tangent * (gm + bm * tangent**2 / 2), heel_deg=heel)
            for heel in (-6.0, 3.0, 9.0)
            for tangent in (math.tan(math.radians(heel)),)
        )
    else:
        shifts = moved(box_craft(), mass, center, (40, 45), (60, 45), (60, -45))
    found = incline(
        box_craft(), shifts, mass_g=mass, center_of_gravity_mm=(center[0], 0.0, z_g + 8.0)
    )
    assert found.center_z_mm == pytest.approx(z_g, abs=GIVEN_BACK)
    rest = floated(box_craft(), mass, center)
    assert found.metacentric_height_mm == pytest.approx(
        rest.metacentric_height_mm[0], abs=GIVEN_BACK
    )
    if trim_arm == 0.0:
        assert found.metacentric_height_mm == pytest.approx(gm, abs=GIVEN_BACK)
        assert found.metacenter_above_keel_mm == pytest.approx(draft / 2 + bm, abs=GIVEN_BACK)
        assert found.center_above_keel_mm == pytest.approx(z_g, abs=GIVEN_BACK)
    assert found.initial_heel_deg == pytest.approx(0.0, abs=GIVEN_BACK)
    assert found.chi_square < 1e-9


def test_the_classical_formula_reads_high_at_large_heels():
    """It takes a wall-sided body's ½ BM tan² φ for GM; the craft's own arm does not."""
    craft, mass, z_g = box_craft(), 1200.0, 30.0
    shifts = moved(craft, mass, (300.0, 0.0, z_g), (120, 50))
    tangent = math.tan(math.radians(shifts[0].heel_deg))
    bm = BEAM**2 / 240.0
    plain = metacentric_height(shifts, mass_g=mass).metacentric_height_mm
    bent = incline(craft, shifts, mass_g=mass, center_of_gravity_mm=(300.0, 0.0, 20.0))
    assert shifts[0].heel_deg > 10.0
    assert plain - bent.metacentric_height_mm == pytest.approx(bm * tangent**2 / 2, abs=GIVEN_BACK)


WEIGHTS = ((10, 100), (10, -150), (10, 200), (0, 0))


@pytest.mark.parametrize("center", [(254.0, 0.5, 40.0), (250.0, -0.3, 50.0)])
def test_the_demo_gives_its_center_back(center):
    """On the demo hull, trimmed, listing, a tip float dipping, z of the center is given back."""
    craft = demo()
    start = (center[0], 0.0, center[2] + 10.0)
    found = incline(
        craft, moved(craft, 690.0, center, *WEIGHTS), mass_g=690.0, center_of_gravity_mm=start
    )
    assert found.center_z_mm == pytest.approx(center[2], abs=GIVEN_BACK)
    assert found.initial_heel_is_fitted
    assert found.chi_square < 1e-9


@pytest.mark.parametrize("make", [demo, box_craft])
def test_a_weight_added_is_not_a_weight_moved(make):
    """A weight that comes on top sinks and raises her too: heeded, z is given back; else it is not.

    What is found is her own center, without the weights.
    """
    craft = make()
    mass, center, at = craft.mass_g, (*craft.center_of_gravity_mm[:2], 30.0), (260.0, 70.0)
    shifts = added(craft, mass, center, at, (20, 30), (30, -25))
    options = {"mass_g": mass, "center_of_gravity_mm": center}
    right = incline(craft, shifts, mode="added", added_z_mm=at[1], added_x_mm=at[0], **options)
    wrong = incline(craft, shifts, **options)
    assert right.center_z_mm == pytest.approx(30.0, abs=GIVEN_BACK)
    assert abs(wrong.center_z_mm - 30.0) > 0.3
    assert right.mode == "added"


def test_one_shift_takes_the_list_as_none():
    """A single weight tells no list of its own; a reading without one tells it."""
    craft, center = box_craft(), (300.0, 0.4, 30.0)
    both = moved(craft, 1200.0, center, (60, 45), (0, 0))
    options = {"mass_g": 1200.0, "center_of_gravity_mm": (300.0, 0.0, 30.0)}
    one, two = (incline(craft, shifts, **options) for shifts in (both[:1], both))
    assert (one.initial_heel_is_fitted, two.initial_heel_is_fitted) == (False, True)
    assert two.center_z_mm == pytest.approx(30.0, abs=GIVEN_BACK)
    assert abs(one.center_z_mm - 30.0) > 1.0
    bare = both[1].heel_deg
    # atan of the line's intercept: the list but for the arm's own bend.
    assert two.initial_heel_deg == pytest.approx(bare, rel=1e-2)


TRIALS = 1000


def test_intervals_of_the_classical_gm_cover_it():
    """GM lies in its interval in 93 to 97 % of 1,000 sets of four angles, each 0.2° out at random.

    95 % of 1,000 have a standard deviation of 0.7 %.
    """
    gm, mass, random = 25.0, 1200.0, np.random.default_rng(3)
    arms = np.array([-40.0, 30.0, 45.0, 60.0])
    truth = np.degrees(np.arctan(0.01 + 50.0 * arms / (mass * gm)))
    held = 0
    for noise in random.normal(scale=0.2, size=(TRIALS, len(arms))):
        shifts = tuple(
            Shift(mass_g=50.0, arm_mm=arm, heel_deg=heel)
            for arm, heel in zip(arms.tolist(), (truth + noise).tolist(), strict=True)
        )
        low, high = metacentric_height(shifts, mass_g=mass).interval_mm
        held += low <= gm and (high is None or gm <= high)
    assert 930 <= held <= 970


def test_intervals_of_a_craft_cover_its_center():
    """So does z of the center of a box, in 100 sets: 95 % of them within three deviations of 2.2.

    Heels of 8 to 10°, where the arm has bent by a fifth of GM; the arms are worked out once.
    """
    craft, center, random = box_craft(), (300.0, 0.3, 30.0), np.random.default_rng(5)
    shifts = moved(craft, 1200.0, center, (70, 50), (90, 50), (90, -50))
    case = Case(shifts=shifts, mass_g=1200.0, angle_deg=0.2)
    tub = _Tub(craft=craft, case=case, x_mm=300.0, added=False, added_mm=(300.0, 30.0))
    bare, heels = tub.solve(33.0)
    held = 0
    for noise in random.normal(scale=math.radians(0.2), size=(100, len(shifts))):
        found = height_of(replace(heels, heels=heels.heels + noise), tub.scan(bare))
        held += found.low_mm <= 30.0 <= found.high_mm
    assert held >= 88


def test_a_tip_float_in_the_water_bounds_the_center_little():
    """On the demo, a float dipping holds her: the interval is wide, uneven, and holds z.

    Six sets of angles; at 95 % each, fewer than four of six would be met twice in a thousand times.
    """
    craft, center, random = demo(), (252.0, 0.2, 45.0), np.random.default_rng(8)
    good = moved(craft, 690.0, center, (50, 300), (50, -300))
    held = 0
    for noise in random.normal(scale=0.2, size=(6, 2)).tolist():
        shifts = tuple(
            replace(shift, heel_deg=shift.heel_deg + off)
            for shift, off in zip(good, noise, strict=True)
        )
        found = incline(craft, shifts, mass_g=690.0, center_of_gravity_mm=(252.0, 0.0, 50.0))
        low, high = found.center_z_interval_mm
        held += (low is None or low <= 45.0) and (high is None or high >= 45.0)
        assert low is None or high is None or high - low > 10.0
    assert held >= 4


ONE = Shift(mass_g=50.0, arm_mm=300.0, heel_deg=3.0)


@pytest.mark.parametrize(
    ("shifts", "more", "words"),
    [
        ((), {}, "no weight was put to one side"),
        ((Shift(mass_g=50.0, arm_mm=0.0, heel_deg=0.4),), {}, "no weight was put to one side"),
        ((Shift(mass_g=50.0, arm_mm=300.0, heel_deg=-3.0),), {}, "heels away from the weights"),
        ((ONE,), {"angle_deg": 0.0}, "angle known to 0°"),
        ((ONE,), {"mass_g": 0.0}, "mass 0 g"),
        ((ONE,), {"mass_g": 9000.0}, "sinks at 9000 g"),
        ((ONE,), {"mode": "added"}, "need the height they lie at"),
        ((ONE,), {"mode": "added", "added_z_mm": 60.0, "mass_g": 4790.0}, "sinks at 4840 g"),
    ],
)
def test_an_experiment_that_makes_no_sense_is_refused(shifts, more, words):
    """What is wrong with an experiment is said, with its value."""
    options = {"mass_g": 1200.0, "center_of_gravity_mm": (300.0, 0.0, 30.0), **more}
    with pytest.raises(InputError, match=words):
        incline(box_craft(), shifts, **options)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ((-5.0, 300.0, 3.0), "-5 g at 300 mm"),
        ((50.0, math.inf, 3.0), "50 g at inf mm"),
        ((50.0, 300.0, 95.0), "heel 95°"),
        ((50.0, 300.0, math.nan), "heel nan°"),
    ],
)
def test_a_shift_is_made_of_numbers(values, words):
    """A shift that cannot be is refused where it is made."""
    with pytest.raises(InputError, match=words):
        Shift(mass_g=values[0], arm_mm=values[1], heel_deg=values[2])
