"""What she weighs and what it costs, against boxes in closed form and against floating her."""

import math
from dataclasses import replace

import pytest
from crafts import box_body, opening_at
from scipy.optimize import brentq

from hullcheck.answers.afloat import Refloater
from hullcheck.answers.float_answer import float_answer
from hullcheck.answers.limit_margins import grams_left
from hullcheck.answers.weights_answer import weights_answer
from hullcheck.craft.build import Build
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.limits import Limits
from hullcheck.craft.setups import Setup
from hullcheck.errors import InputError
from hullcheck.water import water_of_density

LENGTH, BEAM, HEIGHT = 600.0, 100.0, 80.0
PER_MM = LENGTH * BEAM / 1000.0
"""Grams that sink the box 1 mm in water of 1 g/cm³."""


def item(name, planned, weighed, x=300.0, z=20.0, **more):
    """Return an item at a station and a height of the box."""
    return Item(name=name, planned_g=planned, weighed_g=weighed, x_mm=x, y_mm=0.0, z_mm=z, **more)


def box_build(*items, limits=None, hole=(300.0, 0.0, 60.0), **more):
    """Return a build of the box with a hole and a ledger."""
    return Build(
        name="box",
        bodies=(box_body(),),
        water=water_of_density(1000.0),
        ledger=Ledger(items=items),
        openings=(opening_at(hole),),
        limits=limits or Limits(freeboard_mm=10.0),
        **more,
    )


def of(answer, name):
    """Return an item of an answer."""
    return next(one for one in answer.items if one.name == name)


def test_an_item_amidships_costs_its_grams_over_the_waterplane():
    """Derived: h = m/(ρ A), so an item of 90 g takes 90/60 mm, wherever the hole; no trim."""
    build = box_build(item("hull", None, 1710.0), item("battery", None, 90.0))
    cost = of(weights_answer(build), "battery").cost
    assert cost.freeboard_mm == pytest.approx(-90.0 / PER_MM, rel=1e-9)
    assert cost.trim_deg == pytest.approx(0.0, abs=1e-9)
    assert cost.center_of_gravity_mm == pytest.approx((0.0, 0.0, 0.0), abs=1e-9)


def trimmed(mass, x, z):
    """Return the trim of the box [rad], bow up: wall-sided, closed form.

    With d = m/(ρ A) and I/V = L²/(12 d) the center of buoyancy lies at I/V·tan τ aft of the middle
    and ½ I/V·tan² τ over d/2; G is plumb over it where
    x_G − L/2 − I/V tan τ + tan τ (z_G − d/2 − ½ I/V tan² τ) = 0, for n = (−sin τ, 0, cos τ).
    """
    draft = mass / PER_MM
    inertia = LENGTH**2 / (12.0 * draft)

    def lever(slope):
        """Return how far G lies aft of the plumb line through B, over cos τ [mm]."""
        rise = 0.5 * draft + 0.5 * inertia * slope**2
        return x - 0.5 * LENGTH - inertia * slope + slope * (z - rise)

    return math.atan(brentq(lever, -0.3, 0.3, xtol=1e-15))


def test_an_item_at_the_end_costs_what_the_wedge_formula_says():
    """Trim and freeboard of a hole 240 mm aft of amidships with and without 60 g there."""
    hole = (540.0, 0.0, 70.0)
    build = box_build(
        item("hull", None, 1740.0, z=30.0), item("motor", None, 60.0, x=540.0, z=50.0), hole=hole
    )
    answer = weights_answer(build)
    mass = 1800.0
    x, z = (1740.0 * 300.0 + 60.0 * 540.0) / mass, (1740.0 * 30.0 + 60.0 * 50.0) / mass
    angle = trimmed(mass, x, z)

    def height(tau, total):
        """Return the height of the hole: she turns about the middle of a waterplane d up."""
        draft = total / PER_MM
        return -math.sin(tau) * (hole[0] - 300.0) + math.cos(tau) * (hole[2] - draft)

    cost = of(answer, "motor").cost
    assert answer.afloat.trim_deg == pytest.approx(math.degrees(angle), rel=1e-8)
    assert cost.trim_deg == pytest.approx(math.degrees(angle), rel=1e-8)
    assert cost.freeboard_mm == pytest.approx(height(angle, mass) - height(0.0, 1740.0), rel=1e-7)
    assert cost.center_of_gravity_mm == pytest.approx((x - 300.0, 0.0, z - 30.0), rel=1e-12)


def grown():
    """Return a build of which some items grew, one shrank and one was never planned."""
    return box_build(
        item("hull", 1000.0, 1060.0, x=310.0),
        item("wing", 300.0, 288.0, x=250.0, z=70.0),
        item("battery", 200.0, None, x=200.0),
        item("ballast", None, 40.0, x=40.0),
        item("motor", 90.0, 90.0, x=420.0, z=75.0),
        item("tail", 50.0, 66.0, x=580.0, z=60.0),
        limits=Limits(freeboard_mm=10.0, trim_deg=(-3.0, 3.0), heel_deg=5.0),
    )


def test_growth_adds_up_to_the_whole():
    """Each item's growth, put aboard in turn, adds up to today less planned to the last digits."""
    answer = weights_answer(grown())
    rows = [row.growth_cost for row in answer.items if row.growth_cost is not None]
    assert [r.name for r in answer.items if r.growth_cost] == ["hull", "wing", "tail"]
    for key in ("freeboard_mm", "trim_deg"):
        parts = math.fsum(getattr(row, key) for row in rows)
        assert parts == pytest.approx(getattr(answer.growth.cost, key), abs=1e-11)
    moved = [math.fsum(row.center_of_gravity_mm[k] for row in rows) for k in range(3)]
    assert moved == pytest.approx(answer.growth.cost.center_of_gravity_mm, abs=1e-11)
    assert answer.growth.mass_g == pytest.approx(60.0 - 12.0 + 16.0)
    assert math.fsum(row.growth_g or 0.0 for row in answer.items) == answer.growth.mass_g


def test_today_and_planned_are_what_float_says():
    """How she floats today, as planned and without an item is what `float` answers for those."""
    build = grown()
    answer = weights_answer(build)
    planned = replace(
        build,
        ledger=Ledger(
            items=tuple(
                one if one.planned_g is None else replace(one, weighed_g=None)
                for one in build.ledger.items
            )
        ),
    )
    less = replace(build, ledger=build.ledger.without("tail"))
    today, before, without = (float_answer(one.craft()) for one in (build, planned, less))
    assert answer.afloat.freeboard_mm == pytest.approx(today.freeboard_mm.least, abs=1e-9)
    assert answer.growth.planned.freeboard_mm == pytest.approx(before.freeboard_mm.least, abs=1e-9)
    assert answer.growth.planned.trim_deg == pytest.approx(before.trim_deg, abs=1e-9)
    cost = of(answer, "tail").cost
    assert cost.trim_deg == pytest.approx(today.trim_deg - without.trim_deg, abs=1e-9)
    assert answer.freeboard_plus_minus_mm == pytest.approx(
        math.sqrt(today.freeboard_mm.plus_minus**2 - 1.0), rel=1e-6
    )


def test_the_first_limit_is_the_grams_left_of_float():
    """Of the limits by themselves the first is what `float` ends at, with the same ±."""
    build = grown()
    first, *rest = weights_answer(build).grams_left
    afloat = float_answer(build.craft())
    assert first.limit == afloat.margin_limited_by
    assert first.at == afloat.margin_at
    assert first.mass_g == pytest.approx(afloat.margin_g, abs=1e-3)
    assert first.plus_minus_g == pytest.approx(afloat.margin_plus_minus_g, rel=1e-3)
    assert [row.mass_g for row in rest] == sorted(row.mass_g for row in rest)


def test_grams_left_to_each_limit_by_itself():
    """Freeboard at (hole − limit) ρA; trim where the wedge formula says; put aboard, both end."""
    limits = Limits(freeboard_mm=10.0, trim_deg=(-1.2, 0.25))
    items = (item("hull", None, 1500.0, x=303.0, z=24.0),)
    build = box_build(*items, limits=limits, hole=(300.0, 0.0, 62.0))
    rows = {row.limit: row for row in weights_answer(build).grams_left}

    def trim(mass):
        """Return her trim [deg] with a mass at her CG."""
        return math.degrees(trimmed(mass, 303.0, 24.0))

    assert set(rows) == {"freeboard_mm", "trim_deg"}
    # The hole is plumb over the middle: it sinks with the mass, but for cos τ.
    for row in rows.values():
        if row.limit == "freeboard_mm":
            mass = 1500.0 + row.mass_g
            angle = math.radians(trim(mass))
            assert math.cos(angle) * (62.0 - mass / PER_MM) == pytest.approx(10.0, abs=1e-4)
        if row.limit == "trim_deg":
            assert trim(1500.0 + row.mass_g) == pytest.approx(0.25, abs=1e-5)
            assert row.at == "bow up"


def test_a_limit_that_is_broken_leaves_nothing():
    """A list of limits with one broken already: 0 g to that one, the others by themselves."""
    limits = Limits(freeboard_mm=10.0, trim_deg=(0.5, 4.0))
    answer = weights_answer(box_build(item("hull", None, 1500.0), limits=limits))
    first, second = answer.grams_left
    assert (first.limit, first.mass_g, first.at) == ("trim_deg", 0.0, "bow down")
    assert second.limit == "freeboard_mm"
    assert second.mass_g == pytest.approx((60.0 - 10.0) * PER_MM - 1500.0, abs=1e-3)


def test_without_limits_she_sinks():
    """With no limit the grams left end where the whole box is under: 4800 g."""
    answer = weights_answer(
        box_build(item("hull", None, 1500.0, z=10.0), limits=Limits(heel_deg=90.0))
    )
    (row,) = answer.grams_left
    assert row.limit == "sinks"
    assert row.mass_g == pytest.approx(4800.0 - 1500.0, rel=1e-9)


def test_grams_left_end_where_she_falls_over():
    """CG at 45 mm: she lists more and more, and at some load goes over.

    With the grams left she floats on her feet; with a 600th of the room more she does not.
    """
    build = box_build(item("hull", None, 1500.0, z=45.0), limits=Limits(heel_deg=89.0))
    (row,) = weights_answer(build).grams_left
    assert row.limit == "capsizes"
    assert row.plus_minus_g is None
    room = 4800.0 - 1500.0
    for more, rests in ((0.0, {"listing"}), (room / 600.0, {"capsized"})):
        heavier = box_build(item("hull", None, 1500.0 + row.mass_g + more, z=45.0))
        assert float_answer(heavier.craft()).rest in rests


def test_the_first_limit_alone_is_the_same():
    """Asked for no more than the first limit, it is that of them all."""
    refloater = Refloater.of(grown().craft())
    assert grams_left(refloater, first_only=True) == grams_left(refloater)[:1]


def test_how_well_the_center_is_known():
    """Derived: u₁ (x₁ − G)/m and u₂ (x₂ − G)/m add by their squares."""
    build = box_build(
        item("bow", None, 600.0, x=100.0, plus_minus_g=6.0),
        item("stern", None, 1200.0, x=400.0, plus_minus_g=9.0),
    )
    answer = weights_answer(build)
    center = (600.0 * 100.0 + 1200.0 * 400.0) / 1800.0
    about = math.hypot(6.0 * (100.0 - center), 9.0 * (400.0 - center)) / 1800.0
    assert answer.center_plus_minus_mm[0] == pytest.approx(about, rel=1e-12)
    assert answer.plus_minus_g == pytest.approx(math.hypot(6.0, 9.0))


def test_how_well_trim_is_known_is_what_weighing_again_gives():
    """The ± of the trim is what the items' ± do, each by floating her with it."""
    build = grown()
    answer = weights_answer(build)
    squares = 0.0
    for one in build.ledger.items:
        ends = [
            float_answer(
                replace(
                    build, ledger=build.ledger.replaced(one.heavier(s * one.uncertainty_g))
                ).craft()
            ).trim_deg
            for s in (1.0, -1.0)
        ]
        squares += (0.5 * (ends[0] - ends[1])) ** 2
    # Linear in the items' ±; the largest is a tenth of 200 g: a hundredth is left for the bend.
    assert answer.trim_plus_minus_deg == pytest.approx(math.sqrt(squares), rel=0.01)


def test_groups_are_their_items():
    """A group weighs what its items weigh, and costs what she gains without all of them."""
    build = box_build(
        item("hull", 1000.0, 1060.0, group="print"),
        item("battery", 200.0, None, group="drive"),
        item("motor", 90.0, 99.0, group="drive", x=420.0),
        item("receiver", None, None, group="drive"),
    )
    answer = weights_answer(build)
    drive = next(group for group in answer.groups if group.name == "drive")
    assert (drive.items, drive.weighed, drive.mass_g) == (3, 1, 299.0)
    assert (drive.planned_g, drive.growth_g) == (290.0, 9.0)
    # Amidships nothing trims, but the motor sits aft: its hole amidships turns about little.
    assert drive.cost.freeboard_mm == pytest.approx(-299.0 / PER_MM, rel=2e-3)
    assert of(answer, "receiver").cost is None
    assert answer.load.unknown == ("receiver",)
    assert answer.warnings[0].code == "not-all-up"


def test_a_measured_mass_is_moved_by_what_an_item_weighs():
    """With a measured 1900 g and CG an item of 90 g amidships still costs 90/60 mm."""
    build = box_build(
        item("hull", None, 1710.0),
        item("battery", None, 90.0),
        mass_g=1900.0,
        center_of_gravity_mm=(300.0, 0.0, 25.0),
    )
    answer = weights_answer(build)
    assert answer.mass_g == 1900.0
    assert answer.plus_minus_g == 1.0
    assert answer.center_plus_minus_mm is None
    assert of(answer, "battery").cost.freeboard_mm == pytest.approx(-90.0 / PER_MM, rel=1e-9)
    assert "the ledger sums to 1800.0 g" in answer.warnings[0].message


def test_a_setup_has_its_own_ledger():
    """A heavier battery counts in the setup, an item taken off is no row of it."""
    setup = Setup(name="heavy", add=(("battery", 60.0),), off=("wheels",), wet_g=12.0)
    build = box_build(
        item("hull", None, 1500.0),
        item("battery", 90.0, None),
        item("wheels", None, 30.0),
        setups=(setup,),
    )
    answer = weights_answer(build, "heavy")
    assert answer.mass_g == pytest.approx(1500.0 + 150.0 + 12.0)
    assert [row.name for row in answer.items] == ["hull", "battery"]
    assert of(answer, "battery").cost.freeboard_mm == pytest.approx(-150.0 / PER_MM, rel=1e-6)


def test_without_places_the_masses_still_stand():
    """An item without a place leaves the center, costs and grams left unknown, and no more."""
    build = box_build(
        item("hull", 1000.0, 1060.0), Item(name="paint", planned_g=20.0, weighed_g=25.0)
    )
    answer = weights_answer(build)
    assert answer.center_of_gravity_mm is None
    assert answer.afloat is None
    assert answer.grams_left == ()
    assert answer.growth.mass_g == 65.0
    assert answer.growth.cost is None
    assert all(row.cost is None for row in answer.items)


def test_too_heavy_to_float():
    """A ledger heavier than the box sinks; what an item costs has no height."""
    answer = weights_answer(box_build(item("hull", 1000.0, 4000.0), item("lead", None, 900.0)))
    assert answer.afloat.rest == "sinks"
    assert answer.afloat.short_by_g == pytest.approx(100.0, rel=1e-9)
    assert answer.grams_left[0].mass_g == 0.0
    assert of(answer, "lead").cost.freeboard_mm is None


def test_a_build_without_a_ledger_is_refused():
    """There is nothing to look at."""
    with pytest.raises(InputError, match="box: has no weight ledger to look at"):
        weights_answer(box_build(mass_g=900.0))
