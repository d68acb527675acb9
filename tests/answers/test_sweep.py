"""Sweeps: closed forms of a box, a worked example, what `float` answers, and ends put back in."""

import dataclasses
import math

import numpy as np
import pytest
from crafts import (
    WATER,
    box_body,
    box_craft,
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

from hullcheck.answers.float_answer import float_answer
from hullcheck.answers.freeboard import freeboard
from hullcheck.answers.limits import limit_checks
from hullcheck.answers.rest import rest_of
from hullcheck.answers.sweep_answer import sweep_answer, sweep_fails, usual_mass_sweep
from hullcheck.answers.sweep_ends import TOLERANCE
from hullcheck.answers.sweep_loads import item_sweep, mass_sweep, values_between, water_sweep
from hullcheck.answers.sweep_samples import Samples
from hullcheck.craft.build import Build
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.limits import Limits
from hullcheck.craft.setups import Setup
from hullcheck.errors import InputError
from hullcheck.flotation.floating import short_by_g
from hullcheck.water import fresh_water, sea_water, water_of_density

SOLVED = 1e-6
"""mm and degrees: the solver settles a box to far less, and its formulas are exact."""


def weighed(name, mass_g, x_mm, y_mm=0.0, z_mm=30.0, **more):
    """Return an item that weighs so much at a place, known to the last digit unless said."""
    exact = {"plus_minus_g": 0.0, **more}
    return Item(name=name, weighed_g=mass_g, x_mm=x_mm, y_mm=y_mm, z_mm=z_mm, **exact)


def build_of(*items, bodies=None, **more):
    """Return a build of a box 600 × 100 × 80 mm in water of 1 g/cm³ with a ledger."""
    return Build(
        name="test",
        bodies=(box_body(),) if bodies is None else bodies,
        ledger=Ledger(items=items),
        **{"water": WATER, **more},
    )


def answered(sweep):
    """Return a sweep's answer."""
    return sweep_answer(sweep)


def demo_build(**more):
    """Return the demo craft's skin with a short ledger, two openings and limits."""
    items = weighed("hull", 500.0, 290.0, 0.0, 40.0), weighed("battery", 190.0, 152.0, 0.0, 25.0)
    return Build(
        name="demo",
        bodies=demo_bodies(),
        water=WATER,
        **{
            "ledger": Ledger(items=items),
            "openings": (
                opening_at((150.0, 0.0, 80.0), name="canopy"),
                opening_at((470.0, 8.0, 62.0), name="pushrod exit"),
            ),
            "limits": Limits(freeboard_mm=15.0, trim_deg=(-1.0, 3.0), heel_deg=3.0),
            "cg_range_mm": (246.0, 258.0),
            **more,
        },
    )


@settings(max_examples=6)
@given(uniform(50.0, 80.0), uniform(300.0, 1500.0))
def test_a_box_draws_her_mass_over_her_area(z, mass):
    """Draft m/(ρLB), an opening z above the keel stands z − m/(ρLB) over the water; ρLB is 60 g/mm.

    Her CG is 30 mm up and amidships, where she stays upright (d/2 + b²/12d ≥ 40.8 mm).
    """
    craft = box_craft(openings=(opening_at((300.0, 0.0, z)),))
    for row in answered(mass_sweep(craft, (mass, mass + 100.0, mass + 700.0))).rows:
        assert row.draft_mm.deepest == pytest.approx(row.value / 60.0, abs=SOLVED)
        assert row.freeboard_mm == pytest.approx(z - row.value / 60.0, abs=SOLVED)
        assert row.sinkage_g_per_mm == pytest.approx(60.0, rel=1e-9)
        assert (row.mass_g, row.trim_deg) == (row.value, pytest.approx(0.0, abs=SOLVED))


@pytest.mark.parametrize(("z", "limit"), [(60.0, 15.0), (55.0, 31.5)])
def test_a_box_keeps_her_freeboard_up_to_a_mass_in_closed_form(z, limit):
    """The end is at m = ρLB (z − limit), known to 1 mm of reading; to there go the grams left.

    With nothing else uncertain the ± is the reading's alone: 1 mm × 60 g/mm.
    """
    craft = box_craft(openings=(opening_at((300.0, 0.0, z)),), limits=Limits(freeboard_mm=limit))
    answer = answered(usual_mass_sweep(craft))
    (kept,) = answer.kept
    assert kept.most == pytest.approx(60.0 * (z - limit), rel=4.0 * TOLERANCE)
    assert kept.least_end is None
    end = kept.most_end
    assert (end.limit, end.at) == ("freeboard_mm", "hatch")
    assert end.plus_minus == pytest.approx(60.0, rel=1e-4)
    assert answer.margin_g == pytest.approx(kept.most - 1200.0, abs=1e-6 * kept.most)


def test_without_limits_she_floats_until_she_sinks():
    """A level box carries ρV = 4800 g; nothing else ends a sweep without limits."""
    answer = answered(mass_sweep(box_craft(), values_between(600.0, 5400.0, 400.0)))
    (kept,) = answer.kept
    assert kept.most == pytest.approx(4800.0, rel=1e-6)
    assert (kept.most_end.limit, kept.most_end.plus_minus) == ("sinks", None)
    assert [row.rest for row in answer.rows[-2:]] == ["sinks", "sinks"]
    assert answer.rows[-1].short_by_g == pytest.approx(600.0, rel=1e-12)
    assert answer.margin_g is None


def item_place(station_mm, rest_g=900.0, item_g=300.0):
    """Return where an item must sit for a CG at a station, the rest of her being amidships."""
    return ((rest_g + item_g) * station_mm - rest_g * 300.0) / item_g


@pytest.mark.parametrize("trim", [-3.0, 0.4, 3.5])
def test_an_item_moved_trims_a_box_as_wall_sided_ships_do(trim):
    """With both ends wet and dry on top the trim of an item moved is known exactly, at any angle.

    The water stands d + (x − L/2) t deep at a station, t = tan τ, d = m/(ρLB). So, by integrals of
    it and of its square, x_B − L/2 = L² t/12d and z_B = d/2 + L² t²/24d. G stands over B where
    (x_G − x_B) + (z_G − z_B) t = 0, hence x_G − L/2 = t (L²/12d + d/2 + L² t²/24d − z_G).
    """
    t, draft = math.tan(math.radians(trim)), 20.0
    assert 300.0 * abs(t) < draft  # the bottom stays under, the deck (80 mm) dry
    station = 300.0 + t * (600.0**2 / 12.0 / draft * (1.0 + 0.5 * t * t) + 0.5 * draft - 30.0)
    build = build_of(weighed("rest", 900.0, 300.0), weighed("battery", 300.0, 300.0))
    x = item_place(station)
    row = answered(item_sweep(build, None, "battery", "x", (x, x + 1.0))).rows[0]
    assert row.center_of_gravity_mm[0] == pytest.approx(station, abs=1e-9)
    assert row.trim_deg == pytest.approx(trim, abs=SOLVED)
    assert row.draft_mm.deepest == pytest.approx(
        (draft + 300.0 * abs(t)) * math.cos(math.radians(trim)), abs=SOLVED
    )


@pytest.mark.parametrize("trim", [5.0, 8.0])
def test_an_item_far_aft_lifts_the_bow_out_of_the_water(trim):
    """Once her bottom comes out forward a wedge carries her: exact again, at any angle.

    The wedge is a long and c = a t high at her stern, t = tan τ, so m = ρB a² t/2 gives a. Its
    centroid is a/3 ahead of the stern and c/3 up. G stands over it where
    (x_G − x_B) + (z_G − z_B) t = 0, hence x_G = L − a/3 − (z_G − c/3) t.
    """
    t = math.tan(math.radians(trim))
    a = math.sqrt(2.0 * 1200.0 * 1000.0 / (100.0 * t))
    assert a < 600.0
    assert a * t < 80.0
    station = 600.0 - a / 3.0 - (30.0 - a * t / 3.0) * t
    build = build_of(weighed("rest", 900.0, 300.0), weighed("battery", 300.0, 300.0))
    x = item_place(station)
    row = answered(item_sweep(build, None, "battery", "x", (x, x + 1.0))).rows[0]
    assert row.trim_deg == pytest.approx(trim, abs=SOLVED)
    assert row.draft_mm.deepest == pytest.approx(a * math.sin(math.radians(trim)), abs=SOLVED)


def test_nicholls_40_tons_shifted_36_feet_aft():
    """Nicholls's Seamanship and Nautical Knowledge, p. 527: 8 ft 1½ in aft, 7 ft 10½ in forward.

    Draft 8 ft, 480 ft·tons to change trim 1 in, 40 tons moved 36 ft aft. A box with those numbers,
    a foot to the mm: 240 × 42 ft, KG 4 ft = KB, so GM_L = L²/12d = 600 ft; 35 ft³ of sea water a
    ton make 2304 tons, and 2304 × 600/(12 × 240) = 480 ft·tons an inch. 40 tons are 40/2304 of her
    mass. The book's rule is that of small angles, and shares the trim evenly between the ends: an
    inch of 1/12 mm is met to a hundredth of an inch.
    """
    density = 1000.0
    mass = 240.0 * 42.0 * 8.0 * 1e-3 * density * 1e-3
    cargo = mass * 40.0 / 2304.0
    build = build_of(
        weighed("ship", mass - cargo, 120.0, z_mm=4.0),
        weighed("cargo", cargo, 120.0, z_mm=4.0),
        bodies=(box_body(240.0, 42.0, 20.0),),
        water=water_of_density(density),
    )
    before, after = answered(item_sweep(build, None, "cargo", "x", (120.0, 156.0))).rows
    assert before.draft_mm.deepest == pytest.approx(8.0, abs=SOLVED)
    aft = after.draft_mm.deepest
    forward = aft - 240.0 * math.sin(math.radians(after.trim_deg))
    hundredth = 0.01 / 12.0
    assert aft == pytest.approx(8.0 + 1.5 / 12.0, abs=hundredth)
    assert forward == pytest.approx(7.0 + 10.5 / 12.0, abs=hundredth)


def test_a_box_draws_less_the_denser_the_water():
    """Draft times density is one number, m/(LB), in every water, and rows rise by density."""
    waters = (sea_water(), fresh_water(temperature_c=30.0), water_of_density(1000.0))
    answer = answered(water_sweep(box_craft(), waters))
    assert [row.water for row in answer.rows] == [waters[1], waters[2], waters[0]]
    for row in answer.rows:
        draft = row.draft_mm.deepest
        assert draft * row.value == pytest.approx(20.0 * 1000.0, rel=1e-9)
    ratio = answer.rows[0].draft_mm.deepest / answer.rows[-1].draft_mm.deepest
    assert ratio == pytest.approx(waters[0].density_kg_m3 / waters[1].density_kg_m3, rel=1e-9)


def test_the_water_in_which_a_box_just_keeps_her_freeboard():
    """Freeboard z − m/(ρLB) meets its limit at ρ = m/(LB (z − limit)), between two waters too."""
    craft = box_craft(openings=(opening_at((300.0, 0.0, 60.0)),), limits=Limits(freeboard_mm=40.05))
    waters = tuple(water_of_density(v) for v in (990.0, 1000.0, 1010.0))
    (kept,) = answered(water_sweep(craft, waters)).kept
    assert kept.least == pytest.approx(1200.0 / 60.0 / (60.0 - 40.05) * 1000.0, rel=4.0 * TOLERANCE)
    assert kept.least_end.at == "hatch"


def same_as_float(row, craft):
    """Check that a row is what `float` answers for a craft."""
    answer = float_answer(craft)
    # Floated from the same start, so to the last digits; drafts are taken another way.
    assert row.rest == answer.rest
    assert row.at == answer.freeboard_mm.at
    assert row.center_of_gravity_mm == pytest.approx(answer.center_of_gravity_mm, abs=1e-9)
    for mine, its in (
        (row.mass_g, answer.mass_g),
        (row.freeboard_mm, answer.freeboard_mm.least),
        (row.trim_deg, answer.trim_deg),
        (row.heel_deg, answer.heel_deg),
        (row.sinkage_g_per_mm, answer.sinkage_g_per_mm),
        (row.draft_mm.deepest, answer.draft_mm.deepest),
        (row.draft_mm.bow, answer.draft_mm.bow),
        (row.draft_mm.stern, answer.draft_mm.stern),
    ):
        assert mine == pytest.approx(its, rel=1e-9, abs=1e-7)
    openings = [p for p in answer.freeboard_mm.points if p.what == "opening"]
    assert [p.name for p in row.openings] == [p.name for p in openings]
    heights = [p.height_mm for p in openings]
    assert [p.height_mm for p in row.openings] == pytest.approx(heights, abs=1e-7)
    own = [check for check in row.limits if check.name != "cg_range_mm"]
    assert [(c.name, c.ok) for c in own] == [(c.name, c.ok) for c in answer.limits]


def test_rows_are_what_float_answers():
    """Over mass, along x and y, in other water: each row is float's answer for that load."""
    build = demo_build()
    craft = build.craft()
    for row in answered(mass_sweep(craft, (450.0, 1100.0))).rows:
        same_as_float(row, dataclasses.replace(craft, mass_g=row.value))
    for axis, key, values in (("x", "x_mm", (90.0,)), ("y", "y_mm", (12.0,))):
        for row in answered(item_sweep(build, None, "battery", axis, values)).rows:
            item = dataclasses.replace(build.ledger.item("battery"), **{key: row.value})
            moved = dataclasses.replace(build, ledger=build.ledger.replaced(item))
            same_as_float(row, moved.craft())
    for row in answered(water_sweep(craft, (sea_water(),))).rows:
        same_as_float(row, dataclasses.replace(craft, water=row.water))


def test_today_is_a_row_like_the_others():
    """Today stands at her own mass, at the item's own place, in her own water."""
    build, todays = demo_build(), []
    for sweep, value in (
        (mass_sweep(build.craft(), (500.0, 900.0)), 690.0),
        (item_sweep(build, None, "battery", "z", (0.0, 50.0)), 25.0),
        (water_sweep(build.craft(), (sea_water(), fresh_water())), WATER.density_kg_m3),
    ):
        answer = answered(sweep)
        assert answer.today.value == value
        todays.append(answer.today)
    same_as_float(todays[0], build.craft())
    for one in todays[1:]:
        assert one.freeboard_mm == pytest.approx(todays[0].freeboard_mm, abs=1e-9)
        assert one.trim_deg == pytest.approx(todays[0].trim_deg, abs=1e-9)


def holds(sweep, deck, value):
    """Return whether every limit holds at a value, floated anew."""
    craft = sweep.craft_at(value)
    if short_by_g(craft.skin, mass_g=craft.mass_g, density_kg_m3=craft.water.density_kg_m3) >= 0.0:
        return False
    floating = floated(craft)
    checks = limit_checks(
        craft.limits,
        freeboard_mm=freeboard(craft, deck, floating).least,
        trim_deg=floating.trim_deg,
        heel_deg=floating.heel_deg,
    )
    band = craft.cg_range_mm
    at_home = not sweep.counts_cg or band[0] <= craft.center_of_gravity_mm[0] <= band[1]
    return at_home and abs(floating.heel_deg) <= 45.0 and all(check.ok for check in checks)


def check_ends(sweep):
    """Check that each end holds, and a hair further does not; return how many there were."""
    answer, deck, count = answered(sweep), deck_of(sweep.craft), 0
    scale = max(abs(sweep.values[0]), abs(sweep.values[-1]))
    hair = 2.0 * TOLERANCE * max(scale, sweep.values[-1] - sweep.values[0])
    for kept in answer.kept:
        for end, value, way in (
            (kept.least_end, kept.least, -1.0),
            (kept.most_end, kept.most, 1.0),
        ):
            if end is None:
                assert value in {sweep.values[0], sweep.values[-1]}
                continue
            count += 1
            assert end.value == value
            assert holds(sweep, deck, value)
            assert not holds(sweep, deck, value + way * hair)
    return count


def test_ends_put_back_in():
    """At an end the limits hold, a hair beyond one does not: over station, breadth and water."""
    build = demo_build()
    craft = build.craft()
    tight = dataclasses.replace(
        craft, limits=Limits(freeboard_mm=float_answer(craft).freeboard_mm.least - 0.05)
    )
    counts = [
        check_ends(item_sweep(build, None, "battery", "x", values_between(40.0, 300.0, 13.0))),
        check_ends(item_sweep(build, None, "battery", "y", values_between(0.0, 90.0, 10.0))),
        check_ends(water_sweep(tight, [water_of_density(v) for v in (950.0, 1000.0, 1050.0)])),
    ]
    assert counts == [2, 1, 1]


LIMITS = st.builds(
    lambda freeboard, trim, heel: Limits(freeboard_mm=freeboard, trim_deg=trim, heel_deg=heel),
    uniform(0.0, 12.0),
    st.tuples(uniform(-8.0, -0.5), uniform(0.5, 8.0)),
    uniform(0.5, 20.0),
)


@settings(max_examples=6)
@given(loaded_crafts(LIMITS))
def test_ends_of_random_crafts_put_back_in(craft):
    """Boxes, stepped, irregular and demo hulls with limits of every kind: each end is one."""
    check_ends(mass_sweep(craft, np.linspace(0.3, 1.6, 8) * craft.mass_g))


def test_grams_left_are_the_way_to_the_end():
    """Today's mass and the grams left that `float` gives make the end of the range she is in."""
    items = (
        weighed("hull", 500.0, 290.0, 0.0, 40.0, plus_minus_g=20.0),
        weighed("battery", 190.0, 152.0, 0.0, 25.0, plus_minus_g=5.0),
    )
    craft = demo_build(ledger=Ledger(items=items)).craft()
    answer = answered(usual_mass_sweep(craft))
    found = margin(craft)
    # The same uncertainty, but the slope taken over another stretch.
    assert answer.kept[-1].most_end.plus_minus == pytest.approx(found.plus_minus_g, rel=1e-3)
    assert answer.margin_g == found.mass_g
    assert answer.kept[-1].most == pytest.approx(690.0 + found.mass_g, abs=1e-6 * 690.0)
    assert answer.kept[-1].most_end.limit == found.limited_by


def test_cg_band_in_closed_form_with_its_spread():
    """x_G = Σ m x/Σ m: the battery may sit where that stays in the band.

    Each mass known to δ_i moves x_G by δ_i (x_i − x_G)/M; all of them, as root of squares, over the
    battery's share m/M is how well an end is known.
    """
    build = build_of(
        weighed("rest", 900.0, 320.0, plus_minus_g=30.0),
        weighed("battery", 300.0, 240.0, plus_minus_g=5.0),
        cg_range_mm=(295.0, 305.0),
    )
    answer = answered(item_sweep(build, None, "battery", "x", values_between(150.0, 300.0, 10.0)))
    (kept,) = answer.kept
    for end, band, way in (
        (kept.least_end, 295.0, "ahead"),
        (kept.most_end, 305.0, "aft"),
    ):
        place = (1200.0 * band - 900.0 * 320.0) / 300.0
        assert end.value == pytest.approx(place, abs=300.0 * 2.0 * TOLERANCE)
        assert (end.limit, end.at) == ("cg_range_mm", way)
        spread = math.hypot(30.0 * (320.0 - band), 5.0 * (place - band)) / 1200.0
        assert end.plus_minus == pytest.approx(spread * 4.0, rel=1e-6)


def test_a_measured_center_goes_with_the_item():
    """Mass and CG measured whole: moving 300 of 1250 g by 100 mm moves her CG by 24 mm."""
    build = build_of(
        weighed("rest", 900.0, 300.0),
        weighed("battery", 300.0, 240.0),
        mass_g=1250.0,
        center_of_gravity_mm=(290.0, 0.0, 31.0),
    )
    rows = answered(item_sweep(build, None, "battery", "x", (240.0, 340.0))).rows
    assert [row.center_of_gravity_mm[0] for row in rows] == pytest.approx([290.0, 314.0])
    assert {row.mass_g for row in rows} == {1250.0}


def test_a_setup_that_moves_the_item_counts_first():
    """The place of the item is that after the setup's move; what it adds goes along."""
    setup = Setup(name="heavy", add=(("battery", 100.0),), move=(("battery", (25.0, 0.0, 0.0)),))
    build = build_of(
        weighed("rest", 900.0, 300.0), weighed("battery", 200.0, 240.0), setups=(setup,)
    )
    answer = answered(item_sweep(build, "heavy", "battery", "x", (250.0, 300.0)))
    assert (answer.setup, answer.today.value) == ("heavy", 265.0)
    stations = [(900.0 * 300.0 + 300.0 * x) / 1200.0 for x in (250.0, 300.0)]
    assert [row.center_of_gravity_mm[0] for row in answer.rows] == pytest.approx(stations)
    same = build.craft("heavy").center_of_gravity_mm
    assert answer.today.center_of_gravity_mm == pytest.approx(same)


def test_where_she_comes_to_rest_otherwise():
    """At a change she rests so, a hair before as she did; across, both sides are alike."""
    build = demo_build(limits=Limits())
    sweep = item_sweep(build, None, "battery", "y", values_between(-40.0, 40.0, 10.0))
    changes = answered(sweep).rest_changes
    assert [c.after for c in changes][-1] == "on starboard tip float"
    assert changes[0].before == "on port tip float"
    for change in changes:
        for value, rest in (
            (change.value, change.after),
            (change.value - 1.01e-4 * 80.0, change.before),
        ):
            craft = sweep.craft_at(value)
            assert rest_of(craft, floated(craft)) == rest
    # The first value on is told, so a mirrored one lies as far beyond: twice the tolerance apart.
    mirrored = [-c.value for c in reversed(changes)]
    assert [c.value for c in changes] == pytest.approx(mirrored, abs=2.02e-4 * 80.0)


def test_failing_is_breaking_a_limit_today_or_everywhere():
    """A limit broken today, or at every value, is a failure; a CG out of its band is none."""
    hatch = (opening_at((300.0, 0.0, 60.0)),)
    low = box_craft(openings=hatch, limits=Limits(freeboard_mm=45.0))
    high = box_craft(openings=hatch, limits=Limits(freeboard_mm=35.0))
    assert sweep_fails(answered(mass_sweep(low, (600.0, 1300.0))))
    assert not sweep_fails(answered(mass_sweep(high, (600.0, 1300.0))))
    assert sweep_fails(answered(mass_sweep(high, (1600.0, 1700.0), today=False)))
    build = demo_build(cg_range_mm=(200.0, 240.0))
    answer = answered(item_sweep(build, None, "battery", "x", values_between(40.0, 300.0, 20.0)))
    assert not answer.today.holds
    assert not sweep_fails(answer)


def test_each_value_is_floated_once():
    """What was floated is kept: an answer made again with the same samples floats nothing more."""
    samples = Samples.of(usual_mass_sweep(demo_build().craft()))
    sweep_answer(samples.sweep, samples)
    many = len(samples.known)
    again = sweep_answer(samples.sweep, samples)
    assert len(samples.known) == many
    assert again.rows[0] is samples.at(again.rows[0].value)


def test_values_may_be_an_array():
    """An array of masses is a sweep like any other, up and down to both of its ends."""
    craft = box_craft(openings=(opening_at((300.0, 0.0, 60.0)),), limits=Limits(freeboard_mm=20.0))
    (kept,) = answered(mass_sweep(craft, np.linspace(600.0, 3000.0, 9))).kept
    assert kept.most == pytest.approx(2400.0, rel=4.0 * TOLERANCE)
    waters = water_sweep(craft, [water_of_density(v) for v in np.linspace(500.0, 1500.0, 5)])
    band = dataclasses.replace(craft, limits=Limits(freeboard_mm=40.5))
    (kept,) = answered(water_sweep(band, waters.waters)).kept
    assert kept.least == pytest.approx(1200.0 / 60.0 / 19.5 * 1000.0, rel=4.0 * TOLERANCE)


def test_usual_masses_go_a_bit_beyond_the_first_limit():
    """From half her mass to between 10 and 40 % of the room beyond the end, in round steps."""
    answer = answered(usual_mass_sweep(demo_build().craft()))
    values = [row.value for row in answer.rows]
    end = answer.kept[-1].most
    assert values[0] == pytest.approx(345.0, abs=50.0)
    assert 0.1 < (values[-1] - end) / (end - values[0]) < 0.4
    assert 12 <= len(values) <= 30
    assert all(value % 10.0 == 0.0 for value in values)


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (
            lambda b: item_sweep(b, None, "batery", "x", (1.0, 2.0)),
            "no item 'batery'; it has: hull",
        ),
        (lambda b: item_sweep(b, None, "tail", "x", (1.0, 2.0)), "tail: neither planned nor weigh"),
        (lambda b: item_sweep(b, None, "wing", "x", (1.0, 2.0)), "wing: has no place in the ledg"),
        (lambda b: item_sweep(b, None, "nil", "x", (1.0, 2.0)), "nil: weighs 0 g"),
        (lambda b: item_sweep(b, "bare", "hull", "x", (1.0, 2.0)), "setup 'bare' takes it off"),
        (lambda b: item_sweep(b, "gone", "hull", "x", (1.0, 2.0)), "there is no setup 'gone'"),
        (lambda b: item_sweep(b, None, "hull", "x", ()), "needs values"),
        (lambda b: mass_sweep(b.craft(), (0.0, 10.0)), "mass 0 g: must be above 0"),
        (lambda b: mass_sweep(b.craft(), (20.0, 10.0)), "must rise"),
        (lambda b: mass_sweep(b.craft(), range(1, 1002)), "1001 steps are more than the 1000"),
        (lambda _: mass_sweep(box_craft(cg=None), (1.0, 2.0)), "a sweep needs the center of grav"),
        (lambda _: values_between(0.0, 1.0, 0.0), "range 0:1:0: the step 0 must be above 0"),
        (lambda _: values_between(2.0, 1.0, 1.0), "the end 1 must be above the start 2"),
        (lambda _: values_between(0.0, math.nan, 1.0), "not three finite numbers"),
        (lambda _: values_between(0.0, 1.0, 1e-5), "100001 steps are more than the 1000"),
    ],
)
def test_refusals(make, said):
    """What makes no sense is refused in a line with its value."""
    build = build_of(
        weighed("hull", 900.0, 300.0),
        weighed("nil", 0.0, 300.0),
        Item(name="tail", x_mm=1.0, z_mm=1.0),
        weighed("ballast", 300.0, 250.0),
        setups=(Setup(name="bare", off=("hull",)),),
    )
    placeless = build_of(
        weighed("hull", 900.0, 300.0),
        Item(name="wing", weighed_g=20.0),
        center_of_gravity_mm=(300.0, 0.0, 30.0),
    )
    chosen = placeless if said.startswith("wing") else build
    with pytest.raises(InputError, match=said):
        make(chosen)
