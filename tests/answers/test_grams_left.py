"""Grams left: closed forms, and what is left put aboard and floated again."""

import dataclasses
import math

import pytest
from crafts import (
    box_body,
    box_craft,
    craft_of,
    deck_of,
    demo_bodies,
    floated,
    loaded_crafts,
    margin,
    opening_at,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import uniform

from hullcheck.answers import grams_left
from hullcheck.answers.float_answer import float_answer
from hullcheck.answers.freeboard import freeboard
from hullcheck.answers.limits import limit_checks, slack
from hullcheck.answers.rest import rest_of
from hullcheck.craft.limits import Limits

pytestmark = pytest.mark.no_cover  # covered elsewhere by quicker tests; tracing takes time

FINE = 1e-7
"""Share of her mass that grams left are narrowed down to."""
UNBREAKABLE = Limits(trim_deg=(-90.0, 90.0))


def near(craft, grams):
    """Return what compares equal within the share of her mass that grams left are found to."""
    return pytest.approx(grams, rel=0.0, abs=2.0 * FINE * craft.mass_g)


def parts(found):
    """Return grams left, the limit they end at, and where."""
    return found.mass_g, found.limited_by, found.at


def with_more(craft, grams):
    """Return the craft with grams put aboard at her center of gravity."""
    return dataclasses.replace(craft, mass_g=craft.mass_g + grams)


def slacks(craft, grams):
    """Return slack by limit with grams put aboard, floated anew; below 0 it is broken."""
    loaded = with_more(craft, grams)
    floating = floated(loaded)
    checks = limit_checks(
        craft.limits,
        freeboard_mm=freeboard(loaded, deck_of(loaded), floating).least,
        trim_deg=floating.trim_deg,
        heel_deg=floating.heel_deg,
    )
    return {"capsizes": 45.0 - abs(floating.heel_deg), **{c.name: slack(c) for c in checks}}


@settings(max_examples=40)
@given(uniform(300.0, 2400.0), uniform(50.0, 80.0), uniform(0.0, 8.0))
def test_a_box_has_the_grams_of_its_area(mass, z, limit):
    """A box sinks evenly: F = z − m/(ρA), so ρ A (F − limit) grams are left, ρA 60 g/mm.

    The opening and the CG lie amidships, and she stays upright: d/2 + b²/12d is never under 40.8 mm
    for 100 mm of beam (the least of a/2 + c/a is √(2c)), and her CG is 30 mm up.
    """
    limits = Limits(freeboard_mm=limit)
    craft = box_craft(mass_g=mass, openings=(opening_at((300, 0, z)),), limits=limits)
    found = margin(craft)
    left = 60.0 * (z - limit) - mass
    assert found.mass_g == near(craft, left)
    assert found.mass_g == pytest.approx(left, rel=1e-6)
    assert (found.limited_by, found.at) == ("freeboard_mm", "hatch")


@settings(max_examples=20)
@given(uniform(500.0, 4500.0))
def test_without_a_limit_that_breaks_first_she_sinks(mass):
    """A level box carries ρV = 4800 g: all that is left of it, when no limit can break before."""
    found = margin(box_craft(mass_g=mass, limits=UNBREAKABLE))
    # Sinking is told a ten-millionth of her mass early, where hardly any waterplane is left.
    assert found.mass_g == pytest.approx(4800.0 - mass, rel=0.0, abs=3.0 * FINE * 4800.0)
    assert (found.limited_by, found.at) == ("sinks", None)


@pytest.mark.parametrize("limit", [1.0, 5.0, 12.0])
def test_a_wall_sided_list_breaks_the_heel_limit(limit):
    """She lolls to φ where GM + ½ BM tan²φ = 0 (the wall-sided formula): d² − 2 z_G d + k = 0.

    With GM = d/2 + BM − z_G and BM = b²/12d that is k = (b²/6)(1 + ½ tan²φ); her CG 45 mm up, she
    is stiff at 20 mm of draft and loses it as she sinks. The lesser root is met first. The righting
    arm of any wall-sided hull is (GM + ½ BM tan²φ) sin φ (the wall-sided formula of the textbooks).
    """
    craft = box_craft(cg=(300.0, 0.0, 45.0), limits=Limits(heel_deg=limit))
    k = 100.0**2 / 6.0 * (1.0 + 0.5 * math.tan(math.radians(limit)) ** 2)
    draft = 45.0 - math.sqrt(45.0**2 - k)
    # Neither bilge nor deck edge reaches the water, so her walls are all that is cut.
    assert (
        50.0 * math.tan(math.radians(limit)) < draft < 80.0 - 50.0 * math.tan(math.radians(limit))
    )
    found = margin(craft)
    assert found.mass_g == near(craft, 60.0 * draft - 1200.0)
    assert found.limited_by == "heel_deg"


@pytest.mark.parametrize(("x", "limit"), [(290.0, 0.5), (310.0, 0.7), (305.0, 0.3)])
def test_a_box_trims_more_the_deeper_she_sits(x, limit):
    """Wall-sided lengthwise: (GM_L + ½ BM_L tan²τ) tan τ = |x_G − L/2|, with BM_L = L²/12d.

    BM_L falls with the draft, so trim grows with the load and meets its limit t = tan τ where
    d² − 2 (|x_G − L/2|/t + z_G) d + (L²/6)(1 + ½t²) = 0: the lesser root is met first.
    """
    craft = box_craft(cg=(x, 0.0, 30.0), limits=Limits(trim_deg=(-limit, limit)))
    t = math.tan(math.radians(limit))
    total = abs(x - 300.0) / t + 30.0
    draft = total - math.sqrt(total**2 - 600.0**2 / 6.0 * (1.0 + 0.5 * t * t))
    # She meets it before the deck's end goes under, and keeps her bottom under all along.
    assert 20.0 < draft < 80.0 - 300.0 * t
    found = margin(craft)
    assert found.mass_g == near(craft, 60.0 * draft - 1200.0)
    assert found.limited_by == "trim_deg"


def test_one_that_is_broken_leaves_nothing():
    """A hatch 40 mm over the water against a limit of 41: 0 g, the limit and the hatch named."""
    broken = box_craft(openings=(opening_at((300, 0, 60)),), limits=Limits(freeboard_mm=41.0))
    assert parts(margin(broken)) == (0.0, "freeboard_mm", "hatch")
    over = box_craft(cg=(300.0, 0.0, 300.0), limits=UNBREAKABLE)
    assert parts(margin(over)) == (0.0, "capsizes", None)


def test_on_the_limit_nothing_is_left_and_the_limit_is_named():
    """Freeboard at the limit to the last digit: it holds, and the least more breaks it."""
    craft = box_craft(openings=(opening_at((300, 0, 60)),))
    least = float_answer(craft).freeboard_mm.least
    found = margin(dataclasses.replace(craft, limits=Limits(freeboard_mm=least)))
    assert found.mass_g == near(craft, 0.0)
    assert (found.limited_by, found.at) == ("freeboard_mm", "hatch")


def test_no_limit_no_grams_left():
    """Without a limit about floating there is no margin, of sinking neither."""
    assert margin(box_craft()) is None
    assert margin(box_craft(limits=Limits(time_on_water_min=15.0))) is None


def test_the_answer_gives_what_the_search_found():
    """The answer's three keys are the search's own, at the attitude it gives."""
    craft = box_craft(openings=(opening_at((300, 0, 60)),), limits=Limits(freeboard_mm=15.0))
    answer, found = float_answer(craft), margin(craft)
    assert (answer.margin_g, answer.margin_limited_by, answer.margin_at) == parts(found)


def test_the_opening_that_will_limit_is_named():
    """The bow hatch is the lower now; deeper she trims more by the stern, and the aft one limits.

    tan τ ≈ (x_G − L/2)/GM_L: 4/1480 at 20 mm of draft lifts the bow hatch 1.4 mm against the aft
    one, 4/595 at 50 mm lifts it 3.5 mm, and it lies 2 mm lower in the hull.
    """
    openings = (
        opening_at((40.0, 0.0, 60.0), name="bow hatch"),
        opening_at((560.0, 0.0, 62.0), name="stern hatch"),
    )
    limits = Limits(freeboard_mm=10.0)
    craft = box_craft(cg=(304.0, 0.0, 30.0), openings=openings, limits=limits)
    assert float_answer(craft).freeboard_mm.at == "bow hatch"
    found = margin(craft)
    assert found.at == "stern hatch"
    assert float_answer(with_more(craft, found.mass_g)).freeboard_mm.at == "stern hatch"


def lolling_load_g(heel_deg):
    """Return the load [g] at which a box with its CG 60 mm up rests on one wet bilge at a heel.

    Per mm of length the water then cuts off a triangle at the lower bilge, c up the side and a
    along the bottom, t = tan φ = c/a and u² = a c twice its area. Its centroid lies a/3 in and c/3
    up, and stands under G where 50 − a/3 + (c/3 − 60) t = 0: u = 3√t (50 − 60 t)/(1 − t²). The load
    is 0.6 u²/2; it has a greatest value, and beyond that she rests on no bilge any more.
    """
    t = math.tan(math.radians(heel_deg))
    return 0.3 * (3.0 * math.sqrt(t) * (50.0 - 60.0 * t) / (1.0 - t * t)) ** 2


def falling_load_g():
    """Return the load that rests 2° of heel before she falls, and that at which she falls [g]."""
    from scipy.optimize import minimize_scalar

    worst = minimize_scalar(
        lambda heel: -lolling_load_g(heel), bounds=(19.0, 25.0), method="bounded"
    ).x
    t = math.tan(math.radians(worst))
    # The triangle ends on bottom and side, as the formula takes it.
    u = math.sqrt(2.0 * lolling_load_g(worst) / 0.6)
    assert u / math.sqrt(t) < 100.0
    assert u * math.sqrt(t) < 80.0
    return lolling_load_g(worst - 2.0), lolling_load_g(worst)


@pytest.mark.parametrize(
    ("float_z", "limits", "label", "rest"),
    [
        (None, UNBREAKABLE, "capsizes", "capsized"),
        (190.0, Limits(heel_deg=25.0), "heel_deg", "on starboard tip float"),
    ],
)
def test_falling_over_is_met_by_the_grams_just_before(float_z, limits, label, rest):
    """Her list grows up to some 20°, then she falls: on her back, or onto a tip float 190 mm up.

    That is a jump from within the limit to beyond it, and the grams just before it are what is
    left. She is followed down in steps of 2° of heel: of loads whose rest lies less than that from
    where she falls, some are taken to fall already.
    """
    floats = [
        box_body(
            120.0, 30.0, 40.0, origin_mm=(240.0, 300.0 * side, float_z), name=name, role="tip float"
        )
        for side, name in ((1, "starboard float"), (-1, "port float"))
        if float_z is not None
    ]
    craft = craft_of(box_body(), *floats, mass_g=900.0, cg=(300.0, 0.0, 60.0), limits=limits)
    found = margin(craft)
    assert found.limited_by == label
    least, most = falling_load_g()
    assert least <= craft.mass_g + found.mass_g <= most
    before = with_more(craft, found.mass_g)
    after = with_more(craft, found.mass_g + 1.01 * FINE * craft.mass_g)
    assert rest_of(before, floated(before)) == "listing"
    heel = abs(floated(before).heel_deg)
    # The formula's own curve: she rests on the bilge, not on her way down.
    assert lolling_load_g(heel) == pytest.approx(before.mass_g, rel=1e-6)
    assert rest_of(after, floated(after)) == rest
    assert abs(floated(after).heel_deg) > heel + 5.0


FREEBOARD = uniform(0.0, 12.0).map(lambda f: Limits(freeboard_mm=f))
TRIM = st.tuples(uniform(-12.0, -1.0), uniform(1.0, 12.0)).map(lambda t: Limits(trim_deg=t))
HEEL = uniform(0.5, 20.0).map(lambda h: Limits(heel_deg=h))
TOGETHER = st.builds(
    lambda *parts: Limits(
        freeboard_mm=parts[0].freeboard_mm, trim_deg=parts[1].trim_deg, heel_deg=parts[2].heel_deg
    ),
    FREEBOARD,
    TRIM,
    HEEL,
)
MET = {"freeboard_mm": 0.01, "trim_deg": 1e-4, "heel_deg": 1e-4, "capsizes": 1e-4}
"""How near its limit each value must come [mm, deg]."""


@settings(max_examples=40)
@given(
    loaded_crafts(st.one_of(FREEBOARD, TRIM, HEEL, TOGETHER)),
    st.lists(uniform(0.0, 1.0), min_size=2, max_size=2),
)
def test_grams_left_put_aboard_meet_the_limit(craft, shares):
    """Put aboard she is at the limit, 1e-7 of her mass more breaks it, and no lesser load does.

    Where the limit is not met she jumps there: the same 1e-7 takes her far beyond it. A wrong
    number of grams would do neither.
    """
    found = margin(craft)
    more = found.mass_g + 1.01 * FINE * craft.mass_g
    if found.mass_g == 0.0 and slacks(craft, 0.0)[found.limited_by] < 0.0:
        return
    for share in shares:
        assert min(slacks(craft, share * found.mass_g).values()) >= 0.0
    if found.limited_by == "sinks":
        carried = 1e-3 * craft.skin.volume_mm3
        assert craft.mass_g + found.mass_g == pytest.approx(carried, rel=4.0 * FINE)
        return
    before, after = slacks(craft, found.mass_g), slacks(craft, more)
    assert min(before.values()) >= 0.0
    limit = found.limited_by
    assert after[limit] < 0.0
    jump = before[limit] - after[limit] > 100.0 * MET[limit]
    assert before[limit] <= MET[limit] or jump
    if limit == "freeboard_mm":
        answer = float_answer(with_more(craft, found.mass_g))
        assert answer.freeboard_mm.at == found.at


@settings(max_examples=20)
@given(loaded_crafts(st.one_of(FREEBOARD, TOGETHER)))
def test_the_number_of_times_she_is_floated_is_bounded(craft):
    """At most 80 steps of an eightieth of what is left, and some 50 halvings down to 1e-7 of it.

    A step is at least room/80 after the first, so 81 reach the end; the last one, room/40 wide, is
    narrowed to 1e-7 of the mass, log2(20/40/1e-7) = 22 halvings of the root finder at the least
    mass drawn, 5 % of what she carries, and at most twice as many of its steps.
    """
    calls = []
    counted = grams_left.float_at

    def counting(*args, **kwargs):
        """Count and float."""
        calls.append(1)
        return counted(*args, **kwargs)

    grams_left.float_at = counting
    try:
        margin(craft)
    finally:
        grams_left.float_at = counted
    assert len(calls) <= 125


@pytest.mark.parametrize(
    ("limits", "most"),
    [(Limits(freeboard_mm=15.0), 400), (UNBREAKABLE, 1200)],
)
def test_the_demo_craft_takes_few_planes(limits, most):
    """The planes evaluated for the demo craft's grams left: some hundreds, as work goes."""
    craft = craft_of(
        *demo_bodies(),
        mass_g=690.0,
        cg=(252.0, 0.0, 31.0),
        openings=(opening_at((240.0, 0.0, 70.0)),),
        limits=limits,
    )
    tree = craft.skin.tree
    deck, floating = deck_of(craft), floated(craft)
    before = tree.evaluations
    grams_left.margin_of(craft, deck, floating)
    assert tree.evaluations - before <= most
