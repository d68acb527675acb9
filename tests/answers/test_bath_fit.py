"""Readings at the marks give back the load that made them, or say what they cannot tell."""

import math
from dataclasses import replace

import numpy as np
import pytest
from bath_fit_making import (
    BEAM,
    LENGTH,
    box,
    demo,
    expecting,
    floated,
    mark,
    marked,
    misread,
    off_by,
    readings_of,
    readings_on,
    v_hull,
)
from crafts import box_craft

from hullcheck.answers.bath_fit import fit_readings
from hullcheck.answers.bath_fit_load import load_on
from hullcheck.answers.bath_fit_plane import gauge_of
from hullcheck.answers.bath_fit_records import Reading
from hullcheck.answers.bath_readings import Reader
from hullcheck.errors import InputError

GIVEN_BACK = 1e-6
"""What a round trip may lose [g, mm, deg]."""


@pytest.mark.parametrize(
    ("make", "mass", "center"),
    [
        (box, 1250.0, (303.0, 0.7, 28.0)),
        (v_hull, 1400.0, (255.0, 1.0, 50.0)),
        (demo, 720.0, (254.0, 0.2, 47.0)),
        (demo, 655.0, (249.0, -2.0, 41.0)),
    ],
    ids=["box", "V-hull", "demo", "demo on a tip float"],
)
def test_a_load_is_given_back(make, mass, center):
    """Readings made from a mass and a center give back both, and the attitude, to 1e-6."""
    craft = make()
    rest = floated(craft, mass, center)
    readings = readings_of(craft, mass, center)
    expected = expecting(craft.mass_g, (*craft.center_of_gravity_mm[:2], center[2]))
    for fit in (
        fit_readings(craft, readings, expected=expected),
        fit_readings(craft, readings, expected=expecting(mass, center)),
    ):
        assert fit.load.mass_g == pytest.approx(mass, abs=GIVEN_BACK)
        assert fit.load.x_mm == pytest.approx(center[0], abs=GIVEN_BACK)
        assert fit.load.y_mm == pytest.approx(center[1], abs=GIVEN_BACK)
        assert fit.attitude.trim_deg == pytest.approx(rest.trim_deg, abs=GIVEN_BACK)
        assert fit.attitude.heel_deg == pytest.approx(rest.heel_deg, abs=GIVEN_BACK)
        assert fit.attitude.waterline.height_mm == pytest.approx(rest.height_mm, abs=GIVEN_BACK)
        assert fit.quality.residuals == "explained"
        assert fit.quality.chi_square < 1e-12
    assert fit.verdict == "agrees"


@pytest.mark.parametrize(("rise", "lean"), [(0.0, 0.0), (0.03, 0.0), (-0.02, 0.08)])
def test_a_box_in_closed_form(rise, lean):
    """A box with the water at z = d + s (x − L/2) + t y weighs ρ L B d and balances where it must.

    The wedges that a tilt adds and takes off a wall-sided body move its center of buoyancy to
    L² s/(12 d) aft, B² t/(12 d) to starboard, d/2 + (L² s² + B² t²)/(24 d) up (moments of the
    wedges), and the center of gravity lies square to the water from it. Plumb readings are the
    marks' heights over that plane.
    """
    draft, z_g = 25.0, 30.0
    normal = np.array([-rise, -lean, 1.0]) / math.sqrt(1.0 + rise**2 + lean**2)
    height = float(normal @ [LENGTH / 2, 0.0, draft])
    readings = tuple(
        Reading(mark=name, side=side, distance_mm=float(normal @ [x, y, 70.0]) - height)
        for name, x in zip("abcd", (50.0, 200.0, 400.0, 550.0), strict=True)
        for side, y in (("port", -BEAM / 2), ("starboard", BEAM / 2))
    )
    up = draft / 2 + ((LENGTH * rise) ** 2 + (BEAM * lean) ** 2) / (24 * draft)
    mass = 1e-3 * LENGTH * BEAM * draft
    x = LENGTH / 2 + LENGTH**2 * rise / (12 * draft) - rise * (z_g - up)
    y = BEAM**2 * lean / (12 * draft) - lean * (z_g - up)
    load = fit_readings(box(), readings, expected=expecting(1200.0, (300.0, 0.0, z_g))).load
    assert load.mass_g == pytest.approx(mass, abs=GIVEN_BACK)
    assert load.x_mm == pytest.approx(x, abs=GIVEN_BACK)
    assert load.y_mm == pytest.approx(y, abs=GIVEN_BACK)
    assert load.z_mm == z_g


def test_uncertainty_of_a_box_in_closed_form():
    """Eight plumb readings, each ±σ, of a box known to ±1.96 ρ L B σ/√8 and x by the lever arms.

    The height is the mean of eight readings, the trim's variance σ²/Σ(x − mean)²; near level x_G
    moves by L²/(12 d) − (z_G − d/2) a radian. 1.959964 is the 97.5 % point of the normal
    distribution (any statistical table).
    """
    sigma, draft, z_g = 0.5, 20.0, 30.0
    center = (300.0, 0.0, z_g)
    fit = fit_readings(
        box(),
        readings_of(box(), 1200.0, center),
        expected=expecting(1200.0, center),
        reading_mm=sigma,
    )
    stations = np.repeat([50.0, 200.0, 400.0, 550.0], 2)
    spread = math.sqrt(((stations - stations.mean()) ** 2).sum())
    mass = 1.959964 * 1e-3 * LENGTH * BEAM * sigma / math.sqrt(8)
    trim = 1.959964 * sigma / spread
    heel = 1.959964 * sigma / (BEAM / 2 * math.sqrt(8))
    assert fit.load.mass_plus_minus_g == pytest.approx(mass, rel=1e-4)
    assert math.radians(fit.attitude.trim_plus_minus_deg) == pytest.approx(trim, rel=1e-4)
    assert math.radians(fit.attitude.heel_plus_minus_deg) == pytest.approx(heel, rel=1e-4)
    lever = LENGTH**2 / (12 * draft) - (z_g - draft / 2)
    # The arm's own bend, a share s² of it at either end of the ±, is all that is left out.
    assert fit.load.x_plus_minus_mm == pytest.approx(lever * trim, rel=2e-3)


@pytest.mark.parametrize("make", [box, v_hull, demo])
def test_slopes_are_the_difference_quotients(make):
    """Mass, x and y change with the plane as the exact slopes say: central differences agree."""
    craft = make()
    rest = floated(craft, craft.mass_g, craft.center_of_gravity_mm)
    gauge = gauge_of(Reader(craft), readings_on(craft, rest.normal, rest.height_mm))
    tilt = 0.011  # clear of the demo's tip floats' edges, where the slopes jump
    plane = np.array([tilt, tilt / 2, rest.height_mm - float(gauge.middle_mm[2])])

    def at(where):
        """Return the load on a plane."""
        return load_on(craft.skin.tree, gauge, where, density_kg_m3=1000.0, z_mm=40.0)

    steps = np.diag([1e-6, 1e-6, 1e-4])
    quotients = [(at(plane + s).values - at(plane - s).values) / (2 * s.sum()) for s in steps]
    slopes = at(plane).slopes
    # Rounding of the difference quotient: 1e-13 of a few 100 mm over 1e-6 rad.
    near = pytest.approx(slopes.T, rel=1e-5, abs=1e-4 * abs(slopes).max())
    assert np.array(quotients) == near
    higher = load_on(craft.skin.tree, gauge, plane, density_kg_m3=1000.0, z_mm=41.0)
    assert higher.values - at(plane).values == pytest.approx(at(plane).per_z, abs=1e-10)


def test_forgotten_weight_is_found_where_it_is():
    """150 g at station 480 that nobody knows of come out as more, that much, and there."""
    mass, at = 1200.0, (480.0, 6.0, 30.0)
    more = 150.0
    share = more / (mass + more)
    center = tuple(a + share * (b - a) for a, b in zip((300.0, 0.0, 30.0), at, strict=True))
    readings = readings_of(box(), mass + more, center)
    fit = fit_readings(box(), readings, expected=expecting(mass, (300.0, 0.0, 30.0)))
    assert fit.verdict == fit.load_verdict == "more"
    assert fit.excess.mass_g == pytest.approx(more, abs=GIVEN_BACK)
    assert fit.excess.x_mm == pytest.approx(at[0], abs=1e-4)
    assert fit.excess.y_mm == pytest.approx(at[1], abs=1e-4)
    assert fit.difference.mass_g == pytest.approx(more, abs=GIVEN_BACK)
    assert fit.excess.mass_plus_minus_g == pytest.approx(fit.difference.mass_plus_minus_g)
    assert fit.excess.x_plus_minus_mm > fit.difference.x_plus_minus_mm


def test_an_item_that_is_not_aboard_is_less():
    """An item of the ledger that is not there comes out as less, with its own place."""
    readings = readings_of(box(), 1050.0, (280.0, 0.0, 30.0))
    at = (1200.0 * 300.0 - 1050.0 * 280.0) / 150.0
    fit = fit_readings(box(), readings, expected=expecting(1200.0, (300.0, 0.0, 30.0)))
    assert fit.verdict == "less"
    assert fit.excess.mass_g == pytest.approx(-150.0, abs=GIVEN_BACK)
    assert fit.excess.x_mm == pytest.approx(at, abs=1e-4)


def test_the_center_alone_may_be_off():
    """The right mass with its center 15 mm aft is a CG that is off by 15 mm, no excess."""
    readings = readings_of(box(), 1200.0, (315.0, 0.0, 30.0))
    fit = fit_readings(box(), readings, expected=expecting(1200.0, (300.0, 0.0, 30.0)))
    assert fit.verdict == "cg off"
    assert fit.difference.x_mm == pytest.approx(15.0, abs=1e-4)
    assert fit.excess is None


def test_what_is_expected_may_be_uncertain():
    """A scale that is known to 100 g makes 150 g more an agreement, and the ± grows to hold it."""
    readings = readings_of(box(), 1350.0, (300.0, 0.0, 30.0))
    sharp = fit_readings(box(), readings, expected=expecting(1200.0, (300.0, 0.0, 30.0)))
    loose = fit_readings(
        box(),
        readings,
        expected=expecting(1200.0, (300.0, 0.0, 30.0), spread=((100.0, None),)),
    )
    assert (sharp.verdict, loose.verdict) == ("more", "agrees")
    fitted = sharp.difference.mass_plus_minus_g
    assert loose.difference.mass_plus_minus_g == pytest.approx(
        math.hypot(fitted, 1.959964 * 100.0), rel=1e-6
    )
    assert loose.load.mass_plus_minus_g == sharp.load.mass_plus_minus_g


def test_an_uncertain_item_moves_the_center_it_is_held_against():
    """An item known to δ at p makes x known to δ (p − x_G)/m besides the readings."""
    center = (300.0, 0.0, 30.0)
    readings = readings_of(box(), 1200.0, center)
    sharp = fit_readings(box(), readings, expected=expecting(1200.0, center))
    loose = fit_readings(
        box(), readings, expected=expecting(1200.0, center, spread=((40.0, (540.0, 0.0, 30.0)),))
    )
    item = 1.959964 * 40.0 * (540.0 - 300.0) / 1200.0
    assert loose.difference.x_plus_minus_mm == pytest.approx(
        math.hypot(sharp.difference.x_plus_minus_mm, item), rel=1e-6
    )


@pytest.mark.parametrize("number", range(8))
@pytest.mark.parametrize("by", [6.0, -6.0])
def test_one_mark_misread_names_itself(number, by):
    """One of eight marks misread by 6 mm is named, and by how much; the load is the others'."""
    center = (303.0, 0.5, 28.0)
    good = readings_of(box(), 1230.0, center)
    fit = fit_readings(box(), misread(good, number, by), expected=expecting(1230.0, center))
    assert fit.verdict == "misread"
    assert fit.load_verdict == "agrees"
    assert (fit.misread.mark, fit.misread.side) == (good[number].mark, good[number].side)
    assert fit.misread.off_mm == pytest.approx(by, abs=GIVEN_BACK)
    assert fit.misread.should_be_mm == pytest.approx(good[number].distance_mm, abs=GIVEN_BACK)
    assert fit.load.mass_g == pytest.approx(1230.0, abs=GIVEN_BACK)
    worst = max(fit.readings, key=lambda check: abs(check.outlier))
    assert (worst.mark, worst.side) == (fit.misread.mark, fit.misread.side)
    assert worst.others_mm == pytest.approx(good[number].distance_mm, abs=GIVEN_BACK)


@pytest.mark.parametrize("number", range(8))
def test_a_slip_of_the_decimal_point_on_the_demo_names_itself(number):
    """On the demo hull a reading ten times too great is named, though the plane starts far off."""
    center = (252.0, 0.0, 45.0)
    good = readings_of(demo(), 690.0, center)
    by = 9.0 * good[number].distance_mm
    fit = fit_readings(demo(), misread(good, number, by), expected=expecting(690.0, center))
    assert (fit.verdict, fit.load_verdict) == ("misread", "agrees")
    assert (fit.misread.mark, fit.misread.side) == (good[number].mark, good[number].side)
    assert fit.misread.off_mm == pytest.approx(by, abs=1e-4)


def test_a_mark_is_named_beside_one_that_nothing_checks():
    """Where one mark alone tells the heel, a misread one among the others still names itself."""
    line = [mark(name, x, 0, 70) for name, x in zip("abcdef", range(50, 600, 100), strict=True)]
    craft, center = box(*line, mark("edge", 300, -50, 70)), (303.0, 0.5, 28.0)
    good = readings_of(craft, 1230.0, center)
    fit = fit_readings(craft, misread(good, 2, 8.0), expected=expecting(1230.0, center))
    assert (fit.verdict, fit.misread.mark) == ("misread", "c")
    assert fit.misread.off_mm == pytest.approx(8.0, abs=GIVEN_BACK)
    assert fit.readings[6].outlier is None


def test_a_bent_hull_is_not_explained():
    """Ends that droop by 8 mm fit no plane, and no single mark is to blame."""
    center = (300.0, 0.0, 30.0)
    droop = (-8.0, -8.0, 8.0, 8.0, 8.0, 8.0, -8.0, -8.0)
    readings = off_by(readings_of(box(), 1200.0, center), *droop)
    fit = fit_readings(box(), readings, expected=expecting(1200.0, center))
    assert fit.verdict == fit.quality.residuals == "not explained"
    assert fit.misread is None
    assert fit.quality.degrees_of_freedom == 5
    # Chi-square of 5 degrees of freedom is beyond 15.086 once in a hundred (any table).
    assert fit.quality.chi_square > 15.086
    assert fit.quality.probability < 0.01


@pytest.mark.parametrize(
    ("chi_square", "says"),
    [(11.0, "explained"), (11.1, "doubtful"), (15.0, "doubtful"), (15.1, "not explained")],
)
def test_residuals_are_held_against_the_table(chi_square, says):
    """With 5 to spare the 95 % and 99 % points of chi-square are 11.070 and 15.086 (any table)."""
    center = (300.0, 0.0, 30.0)
    # A twist that no plane takes up and that no single reading stands out of.
    twist = np.array([1.0, -1.0, -1.0, 1.0, -1.0, 1.0, 1.0, -1.0])
    arms = np.repeat([-250.0, -100.0, 100.0, 250.0], 2)
    assert [twist.sum(), twist @ arms, twist @ np.tile([-1.0, 1.0], 4)] == [0.0, 0.0, 0.0]
    readings = off_by(
        readings_of(box(), 1200.0, center), *(twist * math.sqrt(chi_square / 8)).tolist()
    )
    fit = fit_readings(box(), readings, expected=expecting(1200.0, center))
    assert fit.quality.chi_square == pytest.approx(chi_square, abs=1e-6)
    assert fit.quality.residuals == says
    assert fit.misread is None


def test_two_that_could_both_be_misread_are_not_named():
    """With one reading to spare every reading could be the wrong one, and none is named."""
    craft = box(mark("a", 100, 50, 70), mark("b", 500, 50, 70))
    center = (300.0, 0.0, 30.0)
    readings = misread(readings_of(craft, 1200.0, center), 2, 9.0)
    fit = fit_readings(craft, readings, expected=expecting(1200.0, center))
    assert fit.verdict == "not explained"
    assert fit.quality.degrees_of_freedom == 1
    assert fit.misread is None


def test_two_that_contradict_each_other_alone_are_not_named():
    """Of two marks side by side that disagree, the others far off cannot say which is wrong."""
    craft = box(*(mark(name, x, 0, 70) for name, x in zip("abcd", (50, 54, 540, 546), strict=True)))
    center = (300.0, 0.0, 30.0)
    readings = misread(readings_of(craft, 1200.0, center), 1, 12.0)
    fit = fit_readings(craft, readings, expected=expecting(1200.0, center))
    assert fit.quality.degrees_of_freedom == 2
    assert fit.verdict == "not explained"
    assert fit.misread is None


def test_marks_in_one_line_ask_for_one_abeam():
    """Marks along the keel line tell mass and trim; the heel is taken as expected, and said."""
    line = tuple(mark(name, x, 0, 70) for name, x in zip("abc", (60, 300, 540), strict=True))
    craft, center = box(*line), (304.0, 0.6, 30.0)
    rest = floated(craft, 1260.0, center)
    expected = expecting(1260.0, center)
    fit = fit_readings(craft, readings_of(craft, 1260.0, center), expected=expected)
    (assumed,) = fit.assumed
    assert (assumed.angle, assumed.ask) == ("heel", "a mark abeam")
    assert assumed.value_deg == pytest.approx(rest.heel_deg, abs=GIVEN_BACK)
    assert fit.attitude.heel_plus_minus_deg is None
    assert fit.load.y_mm is None
    assert fit.difference.y_mm is None
    assert fit.load.mass_g == pytest.approx(1260.0, abs=GIVEN_BACK)
    assert fit.load.x_mm == pytest.approx(304.0, abs=GIVEN_BACK)
    assert fit.verdict == "agrees"


def test_what_is_told_is_judged_where_the_water_is():
    """A pair along a flared side tells no heel with the water at the keel, but does higher up.

    On a wedge floating with its keel just under, both readings change alike with heel, since the
    water meets the skin at y near 0; the load expected is 1 g, the true one 1400 g.
    """
    craft, center = v_hull(), (250.0, 0.4, 50.0)
    chosen = tuple(r for r in readings_of(craft, 1400.0, center) if r.mark != "middle")
    fit = fit_readings(craft, chosen, expected=expecting(1.0, (250.0, 0.0, 1.0)))
    assert fit.assumed == ()
    assert fit.load.mass_g == pytest.approx(1400.0, abs=GIVEN_BACK)
    low = readings_of(craft, 1.0, (250.0, 0.0, 1.0))
    fit = fit_readings(craft, low, expected=expecting(1400.0, (250.0, 0.0, 1.0)))
    assert [one.angle for one in fit.assumed] == ["heel"]
    assert fit.load.mass_g == pytest.approx(1.0, abs=GIVEN_BACK)


def test_one_mark_abeam_is_enough():
    """The same line with one mark abeam of it tells the heel too."""
    marks = [mark(name, x, 0, 70) for name, x in zip("abc", (60, 300, 540), strict=True)]
    craft, center = box(*marks, mark("edge", 300, -50, 70)), (304.0, 0.6, 30.0)
    fit = fit_readings(
        craft, readings_of(craft, 1260.0, center), expected=expecting(1200.0, (300.0, 0.0, 30.0))
    )
    assert fit.assumed == ()
    assert fit.load.y_mm == pytest.approx(0.6, abs=GIVEN_BACK)
    assert fit.attitude.heel_plus_minus_deg > 1.0


def test_what_hangs_on_an_assumed_heel_is_what_it_changes():
    """Grams and mm for each degree of the heel assumed are those of a fit with another heel."""
    marks = tuple(mark(name, x, 30, 70) for name, x in zip("ab", (60, 540), strict=True))
    craft = box(*marks)
    starboard = [r for r in readings_of(craft, 1200.0, (300.0, 0.0, 30.0)) if r.side == "starboard"]
    one, two = (
        fit_readings(craft, tuple(starboard), expected=expecting(1200.0, (300.0, y, 30.0)))
        for y in (0.0, 0.05)
    )
    assert [fit.assumed[0].angle for fit in (one, two)] == ["heel", "heel"]
    turned = two.assumed[0].value_deg - one.assumed[0].value_deg
    assert turned > 0.05
    per_deg = (two.load.mass_g - one.load.mass_g) / turned
    assert one.assumed[0].mass_g_per_deg == pytest.approx(per_deg, rel=1e-2)
    # A degree to starboard lowers a mark 30 mm out by 30 tan 1° = 0.524 mm: 31.4 g on 600 cm².
    assert per_deg == pytest.approx(-31.4, abs=0.1)


def test_two_marks_tell_trim_and_height_only():
    """Two marks on the center plane are a line: trim and mass, and the heel as expected."""
    craft = box(mark("bow", 40, 0, 70), mark("stern", 560, 0, 70))
    fit = fit_readings(
        craft,
        readings_of(craft, 1230.0, (297.0, 0.0, 30.0)),
        expected=expecting(1200.0, (300.0, 0.0, 30.0)),
    )
    assert [one.angle for one in fit.assumed] == ["heel"]
    assert fit.load.mass_g == pytest.approx(1230.0, abs=GIVEN_BACK)
    assert fit.load.x_mm == pytest.approx(297.0, abs=GIVEN_BACK)
    assert fit.quality.residuals == "not tested"
    assert fit.quality.probability is None
    assert all(check.outlier is None for check in fit.readings)


def test_marks_abreast_tell_heel_and_not_trim():
    """One pair of marks tells mass and heel; for the trim it asks for a mark fore or aft."""
    craft = box(mark("step", 300, 50, 70))
    fit = fit_readings(
        craft,
        readings_of(craft, 1230.0, (300.0, 0.4, 30.0)),
        expected=expecting(1200.0, (300.0, 0.0, 30.0)),
    )
    (assumed,) = fit.assumed
    assert (assumed.angle, assumed.ask) == ("trim", "a mark fore or aft")
    assert fit.load.x_mm is None
    assert fit.load.y_mm == pytest.approx(0.4, abs=GIVEN_BACK)


def test_one_reading_tells_the_mass_alone():
    """A single reading tells how deep she is, both angles as expected."""
    craft = box(mark("step", 300, 0, 70))
    fit = fit_readings(
        craft,
        readings_of(craft, 1230.0, (300.0, 0.0, 30.0)),
        expected=expecting(1200.0, (300.0, 0.0, 30.0)),
    )
    assert {one.angle for one in fit.assumed} == {"trim", "heel"}
    assert fit.load.mass_g == pytest.approx(1230.0, abs=GIVEN_BACK)
    assert (fit.load.x_mm, fit.load.y_mm) == (None, None)
    assert fit.difference.x_mm is None


def test_one_value_for_a_pair_is_its_mean():
    """One value for each pair gives mass and trim back; the list is then not told."""
    craft, center = box(), (304.0, 0.6, 30.0)
    pairs = readings_of(craft, 1260.0, center)
    means = tuple(
        Reading(
            mark=port.mark, side="both", distance_mm=(port.distance_mm + starboard.distance_mm) / 2
        )
        for port, starboard in zip(pairs[::2], pairs[1::2], strict=True)
    )
    fit = fit_readings(craft, means, expected=expecting(1260.0, center))
    assert [one.angle for one in fit.assumed] == ["heel"]
    assert fit.load.mass_g == pytest.approx(1260.0, abs=GIVEN_BACK)
    assert fit.load.x_mm == pytest.approx(304.0, abs=GIVEN_BACK)


def test_without_an_expected_load_nothing_is_compared():
    """Mass and list are found; the center is not, since its height is not known."""
    fit = fit_readings(box(), readings_of(box(), 1260.0, (304.0, 0.2, 30.0)), expected=None)
    assert fit.verdict == fit.load_verdict == "not compared"
    assert fit.load.mass_g == pytest.approx(1260.0, abs=GIVEN_BACK)
    assert (fit.load.x_mm, fit.load.z_mm, fit.difference) == (None, None, None)


def test_without_an_expected_center_the_mass_is_compared():
    """A weighed mass alone is held against the mass found."""
    readings = readings_of(box(), 1350.0, (300.0, 0.0, 30.0))
    fit = fit_readings(box(), readings, expected=expecting(1200.0, None))
    assert fit.verdict == "more"
    assert fit.excess.x_mm is None
    assert fit.excess.mass_g == pytest.approx(150.0, abs=GIVEN_BACK)


GOOD = Reading(mark="a", side="port", distance_mm=40.0)


@pytest.mark.parametrize(
    ("readings", "more", "words"),
    [
        ((), {}, "no reading"),
        ((GOOD,), {"reading_mm": 0.0}, "0 mm"),
        ((replace(GOOD, mark="bwo"),), {}, r"no mark 'bwo'; the build sheet has: a, b, c, d"),
        ((replace(GOOD, side="center"),), {}, "no center side, only port and starboard"),
        ((GOOD, replace(GOOD, distance_mm=41.0)), {}, "a, port: read twice"),
        ((GOOD, replace(GOOD, side="both")), {}, "a, port: read twice"),
        ((replace(GOOD, distance_mm=300.0),), {}, "clear of her"),
        ((replace(GOOD, distance_mm=-300.0),), {}, "over her"),
    ],
)
def test_readings_that_make_no_sense_are_refused(readings, more, words):
    """What is wrong with a reading is said by its name."""
    with pytest.raises(InputError, match=words):
        fit_readings(box(), readings, expected=expecting(1200.0, (300.0, 0.0, 30.0)), **more)


def test_a_reading_is_a_number():
    """A distance that is no number is refused where it is made."""
    with pytest.raises(InputError, match=r"bow, port: nan mm"):
        Reading(mark="bow", side="port", distance_mm=math.nan)


def test_a_craft_without_marks_has_none_to_read():
    """Without marks every reading is refused, and that there are none is said."""
    with pytest.raises(InputError, match="the build sheet has: none"):
        fit_readings(marked(box_craft()), (GOOD,), expected=None)
