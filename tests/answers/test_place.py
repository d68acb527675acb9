"""Where an item may sit: boxes in closed form, put back in, worked examples, the least ballast."""

import dataclasses
import functools
import math

import numpy as np
import pytest
from crafts import WATER, box_body, demo_bodies, opening_at
from scipy.optimize import brentq

from hullcheck.answers.float_answer import float_answer
from hullcheck.answers.place_answer import craft_of, place_answer
from hullcheck.answers.place_load import Wanted
from hullcheck.answers.place_windows import windows
from hullcheck.craft.build import Build
from hullcheck.craft.fittings import Equipment, Fittings
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.limits import Limits
from hullcheck.craft.setups import Setup
from hullcheck.errors import InputError

LENGTH, BEAM, HEIGHT = 600.0, 100.0, 80.0
ROOT_MM = 2e-6
"""Ends are narrowed down to 1e-6 mm."""
HAIR_MM = 1e-3
ROUNDING = 1e-9
"""Of a load summed in another order: sums of a few hundred mm are good to 1e-13."""


def item(name, mass_g, x_mm, y_mm=0.0, z_mm=20.0, **more):
    """Return a weighed item of a ledger."""
    return Item(name=name, weighed_g=mass_g, x_mm=x_mm, y_mm=y_mm, z_mm=z_mm, **more)


HULL = item("hull", 900.0, 310.0, z_mm=30.0)
BATTERY = item("battery", 300.0, 200.0)


def build_of(*items, bodies=None, box=None, **more):
    """Return a build of a box of 600 × 100 × 80 mm with items, a box to put the battery in."""
    fittings = Fittings()
    if box is not None:
        fittings = Fittings(equipment=(Equipment(item="battery", within_mm=box),))
    return Build(
        name="test",
        bodies=bodies or (box_body(),),
        water=WATER,
        ledger=Ledger(items=items or (HULL, BATTERY)),
        fittings=fittings,
        **more,
    )


def placed(build, name="battery", **more):
    """Return where an item may sit."""
    ballast = more.pop("ballast_at_mm", None)
    return place_answer(build, Wanted(item=name, **more), ballast_at_mm=ballast)


def with_item_at(build, name, **place):
    """Return the build with an item put elsewhere in its ledger."""
    moved = dataclasses.replace(build.ledger.item(name), **place)
    return dataclasses.replace(build, ledger=build.ledger.replaced(moved))


def shortfall(build, setup=None):
    """Return by how much a build breaks its band or a limit, by floating her from her ledger."""
    craft = build.craft(setup)
    answer = float_answer(craft)
    short = [0.0]
    if craft.cg_range_mm is not None:
        x = craft.center_of_gravity_mm[0]
        short += [craft.cg_range_mm[0] - x, x - craft.cg_range_mm[1]]
    for check in answer.limits:
        if check.name == "freeboard_mm":
            short.append(check.limit - check.value)
        elif check.name == "heel_deg":
            short.append(check.value - check.limit)
        else:
            short += [check.limit[0] - check.value, check.value - check.limit[1]]
    return max(short)


def station_of(cg_x_mm, build, name="battery"):
    """Return the item's station for a station of the CG: (cg·M − Σ others)/m."""
    others = [one for one in build.ledger.items if one.name != name]
    mass = build.ledger.item(name).mass_g
    total = mass + math.fsum(one.mass_g for one in others)
    return (cg_x_mm * total - math.fsum(one.mass_g * one.x_mm for one in others)) / mass


def cg_for_tilt(tilt_deg, length_mm, mass_g, cg_z_mm, beam_mm):
    """Return how far from a box's middle its CG lies when it is tilted along a side.

    Wall-sided, the ends out and the bottom under water: with t the tangent, the center of buoyancy
    moves L²/(12 d) t along and L²/(24 d) t² up from d/2, and the CG stands plumb over it.
    """
    t, draft = math.tan(math.radians(tilt_deg)), 1e3 * mass_g / (length_mm * beam_mm)
    along = length_mm**2 / (12.0 * draft) * t
    up = 0.5 * draft + length_mm**2 / (24.0 * draft) * t**2
    return along - (cg_z_mm - up) * t


def cg_z_of(build):
    """Return the height of a build's CG [mm]."""
    return build.ledger.center_mm[2]


def test_ends_by_the_cg_are_exact():
    """Without other limits the ends are (band·M − Σ others)/m to the last digits."""
    build = build_of(cg_range_mm=(280.0, 292.0))
    answer = placed(build)
    (one,) = answer.intervals
    assert one.first.at_mm == pytest.approx(station_of(280.0, build), rel=1e-13)
    assert one.last.at_mm == pytest.approx(station_of(292.0, build), rel=1e-13)
    assert (one.first.limited_by, one.first.way, one.first.limit) == ("cg_range_mm", "fore", 280.0)
    assert (one.last.limited_by, one.last.way, one.last.limit) == ("cg_range_mm", "aft", 292.0)
    assert answer.best.x_mm == pytest.approx(0.5 * (one.first.at_mm + one.last.at_mm))
    assert answer.best.cg_x_mm == pytest.approx(286.0)
    assert answer.cg_moves_mm_per_mm == pytest.approx(0.25)
    assert [c.code for c in answer.warnings if c.code == "no-limits"]


def test_ends_by_trim_are_those_of_the_box():
    """At each end the box trims by just its limit, by its wedges in closed form."""
    build = build_of(limits=Limits(trim_deg=(-1.5, 2.5)))
    answer = placed(build)
    (one,) = answer.intervals
    for end, trim, way in ((one.first, -1.5, "bow down"), (one.last, 2.5, "bow up")):
        cg = 0.5 * LENGTH + cg_for_tilt(trim, LENGTH, 1200.0, cg_z_of(build), BEAM)
        assert end.at_mm == pytest.approx(station_of(cg, build), abs=ROOT_MM)
        assert (end.limited_by, end.way, end.limit) == ("trim_deg", way, trim)
    assert [c.code for c in answer.warnings if c.code == "no-cg-range"]


def test_the_end_by_freeboard_is_that_of_the_box():
    """A hatch at station 520, z 60: height (60 − d − (520 − L/2) t) cos τ comes down to 28 mm."""
    hatch = opening_at((520.0, 0.0, 60.0))
    build = build_of(openings=(hatch,), limits=Limits(freeboard_mm=28.0))
    answer = placed(build)
    (one,) = answer.intervals

    def room(trim):
        """Return the hatch's height over its limit."""
        t = math.tan(math.radians(trim))
        return (60.0 - 20.0 - 220.0 * t) * math.cos(math.radians(trim)) - 28.0

    trim = brentq(room, 0.0, 5.0, xtol=1e-14)
    cg = 0.5 * LENGTH + cg_for_tilt(trim, LENGTH, 1200.0, cg_z_of(build), BEAM)
    assert one.last.at_mm == pytest.approx(station_of(cg, build), abs=ROOT_MM)
    assert (one.last.limited_by, one.last.way) == ("freeboard_mm", "hatch")
    assert one.first.limited_by == "hull"


def test_across_ends_are_those_of_the_box():
    """At the middle the box is level along; across it heels by just 3° at each end, closed form."""
    box = ((100.0, -40.0, 10.0), (400.0, 40.0, 30.0))
    level = station_of(300.0, build_of())
    build = build_of(box=box, cg_range_mm=(299.0, 301.0), limits=Limits(heel_deg=3.0))
    answer = placed(build)
    assert answer.best.x_mm == pytest.approx(level)
    (one,) = answer.across
    off = cg_for_tilt(3.0, BEAM, 1200.0, cg_z_of(build), LENGTH) / 0.25
    assert off < 40.0
    assert one.last.at_mm == pytest.approx(off, abs=ROOT_MM)
    assert one.first.at_mm == pytest.approx(-off, abs=ROOT_MM)
    assert (one.last.limited_by, one.last.way) == ("heel_deg", "starboard")
    assert (one.first.limited_by, one.first.way) == ("heel_deg", "port")


def test_level_is_where_the_cg_stands_over_the_middle():
    """A box floats level with its CG over the middle; floated there it does not trim."""
    build = build_of(limits=Limits(trim_deg=(-3.0, 3.0)))
    answer = placed(build)
    assert answer.level_cg_x_mm == pytest.approx(300.0)
    assert answer.level_at_mm == pytest.approx(station_of(300.0, build))
    assert answer.level_holds
    there = float_answer(with_item_at(build, "battery", x_mm=answer.level_at_mm).craft())
    assert there.trim_deg == pytest.approx(0.0, abs=1e-9)


def test_moments_of_nichollss_ship():
    """Nicholls's Seamanship p. 517: 3250 t at 20 ft and six weights make KG 21.2 ft.

    Moments know no up: heights stand here for stations, a foot for 10 mm and a ton for a gram. With
    the band's fore end at her KG of 212,050/10,000 ft, the weight of 1000 t has to be at its 24 ft.
    """
    weights = [(3250, 20), (1000, 24), (1500, 22), (1250, 21), (1100, 19), (900, 23), (600, 25),
               (400, 18)]  # fmt: skip
    items = [item(f"{w} t at {kg} ft", float(w), 10.0 * kg, z_mm=0.0) for w, kg in weights]
    kg = 212_050 / 10_000
    build = build_of(
        *items, bodies=(box_body(420.0, 400.0, 150.0),), cg_range_mm=(10.0 * kg, 10.0 * kg + 1.0)
    )
    answer = placed(build, "1000 t at 24 ft")
    assert answer.mass_g == 10_000.0
    assert answer.now.cg_x_mm / 10.0 == pytest.approx(21.2, abs=0.01)  # printed to 0.1 ft
    assert answer.longest.first.at_mm / 10.0 == pytest.approx(24.0, rel=1e-12)


def test_even_keel_of_derrett_and_barrass():
    """D. R. Derrett and C. B. Barrass, Ship Stability, 5th ed. 1999, pp. 147-148, Ex. 5.

    25 cm by the stern at 100 t·m per cm; 1200 t out of the hold at +30 m, 600 t at −20 m, 360 t
    into the tank at −5 m; the other 2000 t come out of +50 and −45 m so that she is on an even keel
    (answer read: 649.5 t and 1350.5 t; quantities from memory, they give the answer). A ton out
    forward turns her as a ton in as far aft: 2500 t·m is 100 t at 25 m. The 2000 t act where the
    CG of all changes comes to station 0.
    """
    changes = [item("trim", 100.0, 250.0), item("no. 2", 1200.0, 300.0),
               item("no. 3", 600.0, -200.0), item("tank", 360.0, 50.0)]  # fmt: skip
    build = build_of(
        *changes, item("nos. 1 and 4", 2000.0, 0.0),
        bodies=(box_body(1200.0, 200.0, 80.0, origin_mm=(-600.0, 0.0, 0.0)),),
        cg_range_mm=(0.0, 1.0),
    )  # fmt: skip
    at = placed(build, "nos. 1 and 4").longest.first.at_mm / 10.0
    from_no_1 = 2000.0 * (at + 45.0) / 95.0
    assert from_no_1 == pytest.approx(649.5, abs=0.05)  # printed to 0.1 t
    assert 2000.0 - from_no_1 == pytest.approx(1350.5, abs=0.05)


def _random_build(seed):
    """Return a box of any size with a band, every limit and a hatch, some of them met."""
    rng = np.random.default_rng(seed)
    length, beam = rng.uniform(300.0, 800.0), rng.uniform(90.0, 200.0)
    mass = 1e-3 * length * beam * 80.0 * rng.uniform(0.15, 0.4)
    share = rng.uniform(0.1, 0.4)
    hull = item("hull", (1.0 - share) * mass, length * rng.uniform(0.47, 0.53), z_mm=25.0)
    middle = length * rng.uniform(0.48, 0.52)
    return build_of(
        hull,
        item("battery", share * mass, 0.5 * length, y_mm=rng.uniform(-2.0, 2.0)),
        bodies=(box_body(length, beam, 80.0),),
        openings=(opening_at((rng.uniform(0.1, 0.9) * length, 0.3 * beam, 72.0)),),
        cg_range_mm=(middle - rng.uniform(3.0, 30.0), middle + rng.uniform(3.0, 30.0)),
        limits=Limits(
            freeboard_mm=rng.uniform(20.0, 34.0),
            trim_deg=(rng.uniform(-3.0, -0.5), rng.uniform(0.5, 3.0)),
            heel_deg=4.0,
        ),
    )


def _demo_build(**more):
    """Return the demo craft's bodies with a ledger of two items."""
    return build_of(
        item("all else", 536.0, 286.0, z_mm=55.0),
        item("battery", 165.0, 142.0),
        bodies=demo_bodies(),
        openings=(opening_at((471.0, 28.0, 66.0)),),
        box=((60.0, -20.0, 14.0), (240.0, 20.0, 50.0)),
        **more,
    )


PUT_BACK = {
    **{f"box {seed}": functools.partial(_random_build, seed) for seed in (2, 3, 11, 12)},
    "demo, trim": lambda: _demo_build(limits=Limits(trim_deg=(0.2, 0.9))),
    "demo, freeboard and band": lambda: _demo_build(
        cg_range_mm=(247.0, 266.0), limits=Limits(freeboard_mm=23.5, heel_deg=3.0)
    ),
}


@pytest.mark.parametrize("name", PUT_BACK)
def test_put_back_in_the_ends_hold_and_a_hair_outside_does_not(name):
    """With the item at an end in her ledger everything holds; 1e-3 mm beyond, something breaks."""
    build = PUT_BACK[name]()
    answer = placed(build)
    assert answer.intervals
    for one in answer.intervals:
        for end, way in ((one.first, -1.0), (one.last, 1.0)):
            there = {"y_mm": answer.y_mm, "z_mm": answer.z_mm}
            inside = with_item_at(build, "battery", x_mm=end.at_mm, **there)
            assert shortfall(inside) <= ROUNDING
            if end.limited_by in {"within_mm", "hull"}:
                assert end.at_mm in answer.along_mm
                continue
            beyond = with_item_at(build, "battery", x_mm=end.at_mm + way * HAIR_MM, **there)
            assert shortfall(beyond) > 10.0 * ROUNDING


def test_every_row_is_how_she_floats_there():
    """Rows of the scan are what float says with the item there."""
    build = PUT_BACK["box 2"]()
    answer = placed(build)
    for row in answer.scan[:: len(answer.scan) // 4]:
        there = float_answer(with_item_at(build, "battery", x_mm=row.x_mm).craft())
        assert row.trim_deg == pytest.approx(there.trim_deg, abs=1e-7)
        assert row.freeboard_mm == pytest.approx(there.freeboard_mm.least, abs=1e-6)
        assert row.cg_x_mm == pytest.approx(there.center_of_gravity_mm[0])
        assert row.holds == (not row.breaks)


def test_a_setup_counts():
    """In a setup the item is heavier, elsewhere, and she is wet: ends by moments over all of it."""
    setup = Setup(name="wet", add=(("battery", 60.0),), move=(("battery", (30.0, 0.0, 2.0)),),
                  wet_g=40.0)  # fmt: skip
    build = build_of(cg_range_mm=(285.0, 295.0), setups=(setup,))
    answer = placed(build, setup="wet")
    # The wet skin of a box has its center in its middle.
    total = 900.0 + 360.0 + 40.0
    want = (285.0 * total - 900.0 * 310.0 - 40.0 * 300.0) / 360.0
    assert answer.longest.first.at_mm == pytest.approx(want)
    assert (answer.now.x_mm, answer.z_mm, answer.item_mass_g) == (230.0, 22.0, 360.0)
    inside = with_item_at(build, "battery", x_mm=answer.longest.first.at_mm - 30.0)
    assert shortfall(inside, "wet") <= ROUNDING


def test_measured_mass_and_center_are_moved():
    """Weighed whole, she is 1230 g with her CG at 284: what the item moves is added to that."""
    build = build_of(
        mass_g=1230.0, center_of_gravity_mm=(284.0, 0.0, 28.0), cg_range_mm=(280.0, 290.0)
    )
    answer = placed(build)
    assert answer.mass_g == 1230.0
    assert answer.longest.last.at_mm == pytest.approx(200.0 + (290.0 - 284.0) * 1230.0 / 300.0)
    assert answer.longest.last.plus_minus_mm is None
    heavier = placed(build, mass_g=400.0)
    assert heavier.mass_g == 1330.0
    center = (1230.0 * 284.0 + 100.0 * 200.0) / 1330.0
    want = 200.0 + (290.0 - center) * 1330.0 / 400.0
    assert heavier.longest.last.at_mm == pytest.approx(want)


def test_an_item_not_bought_yet():
    """With neither mass nor station in the ledger --mass and --z are enough."""
    build = build_of(HULL, Item(name="battery"), cg_range_mm=(280.0, 292.0))
    answer = placed(build, mass_g=300.0, z_mm=20.0)
    want = station_of(280.0, build_of())
    assert answer.longest.first.at_mm == pytest.approx(want)
    assert (answer.now, answer.item_mass_from) == (None, "given")
    assert not any(c.code == "not-all-up" for c in answer.warnings)


def test_an_interval_narrower_than_it_is_known_is_said():
    """A band of 0.5 mm is less than masses known to a few grams can tell."""
    vague = dataclasses.replace(HULL, x_mm=420.0, plus_minus_g=20.0)
    for width, said in ((0.5, True), (40.0, False)):
        build = build_of(vague, BATTERY, cg_range_mm=(360.0, 360.0 + width))
        codes = [c.code for c in placed(build).warnings]
        assert ("narrower-than-known" in codes) is said


@pytest.mark.parametrize("limits", [Limits(), Limits(trim_deg=(-1.0, 1.0))])
def test_how_well_an_end_is_known(limits):
    """± of an end is what it moves when each mass changes by what it is known to, in squares."""
    items = (item("hull", 900.0, 320.0, z_mm=30.0, plus_minus_g=3.0),
             item("tail", 80.0, 560.0, plus_minus_g=2.0),
             item("battery", 300.0, 170.0, plus_minus_g=4.0))  # fmt: skip
    band = (285.0, 310.0) if limits == Limits() else None

    def ends(ledger):
        """Return both ends with a ledger."""
        one = placed(build_of(*ledger, cg_range_mm=band, limits=limits)).longest
        return np.array([one.first.at_mm, one.last.at_mm])

    here, moved = ends(items), []
    for k, one in enumerate(items):
        other = dataclasses.replace(one, weighed_g=one.weighed_g + one.plus_minus_g)
        moved.append(ends((*items[:k], other, *items[k + 1 :])) - here)
    truth = np.linalg.norm(moved, axis=0)
    answer = placed(build_of(*items, cg_range_mm=band, limits=limits)).longest
    said = [answer.first.plus_minus_mm, answer.last.plus_minus_mm]
    # The changes are not small against the masses: their second order is 2 %.
    assert said == pytest.approx(truth, rel=0.03)


def test_nose_ballast_multiplier():
    """Arms from 3 % of a box's length at each end: 1 g aft and (582 − 260)/(260 − 18) g fore."""
    answer = placed(build_of(cg_range_mm=(250.0, 270.0)))
    arms = answer.arms
    assert arms.nose_mm == pytest.approx((18.0, 0.0, 40.0))
    assert arms.tail_mm == pytest.approx((582.0, 0.0, 40.0))
    assert arms.nose_per_tail == pytest.approx((582.0 - 260.0) / (260.0 - 18.0))
    # Together they leave a craft of any mass at the CG that is wanted.
    total = 500.0 + 1.0 + arms.nose_per_tail
    moment = 500.0 * 260.0 + 582.0 + arms.nose_per_tail * 18.0
    assert moment / total == pytest.approx(260.0)


BALLAST = {
    "band, nose": {
        "box": ((150.0, -10.0, 15.0), (250.0, 10.0, 30.0)), "cg_range_mm": (240.0, 260.0)
    },
    "band, tail": {
        "box": ((20.0, -10.0, 15.0), (60.0, 10.0, 30.0)), "cg_range_mm": (280.0, 300.0)
    },
    "trim, tail": {
        "box": ((100.0, 0.0, 20.0), (140.0, 0.0, 20.0)), "limits": Limits(trim_deg=(0.5, 3.0))
    },
    "trim, with freeboard": {
        "box": ((100.0, 0.0, 20.0), (140.0, 0.0, 20.0)),
        "openings": (opening_at((500.0, 0.0, 70.0)),),
        "limits": Limits(trim_deg=(-1.0, 3.0), freeboard_mm=20.0),
    },
}  # fmt: skip


@pytest.mark.parametrize("name", BALLAST)
def test_the_least_ballast_put_aboard_holds_and_one_percent_less_does_not(name):
    """As an item of the ledger it makes a place; with 1 % less there is none in all the box."""
    build = build_of(**BALLAST[name])
    answer = placed(build)
    ballast = answer.ballast
    assert not answer.intervals
    assert ballast.place == ("nose" if "nose" in name else "tail")
    assert ballast.inside_skin
    x, y, z = ballast.center_mm
    for share, holds in ((1.0 + 1e-9, True), (0.99, False)):
        lead = item("lead", share * ballast.mass_g, x, y_mm=y, z_mm=z)
        ledger = Ledger(items=(*build.ledger.items, lead))
        assert bool(placed(dataclasses.replace(build, ledger=ledger)).intervals) is holds
        if holds:
            aboard = dataclasses.replace(build, ledger=ledger)
            there = with_item_at(aboard, "battery", x_mm=ballast.aboard.x_mm)
            assert shortfall(there) <= 1e-7  # a billionth more ballast than the least


def test_the_least_ballast_by_the_cg_is_exact():
    """With the item at its box's fore end: M (c − band)/(band − nose), in closed form."""
    build = build_of(**BALLAST["band, nose"])
    center = (900.0 * 310.0 + 300.0 * 150.0) / 1200.0
    want = 1200.0 * (center - 260.0) / (260.0 - 18.0)
    answer = placed(build)
    assert answer.ballast.mass_g == pytest.approx(want, rel=1e-12)
    assert answer.ballast.aboard.x_mm == 150.0
    assert (answer.ballast.limited_by, answer.ballast.limit) == ("cg_range_mm", 260.0)
    given = placed(build, ballast_at_mm=(60.0, 0.0, 10.0)).ballast
    assert given.mass_g == pytest.approx(1200.0 * (center - 260.0) / (260.0 - 60.0), rel=1e-12)
    assert (given.place, given.inside_skin) == ("given", True)


def test_what_ballast_costs_is_what_float_says():
    """Freeboard, trim and grams left, without and with it, are those of the craft floated so."""
    build = build_of(**BALLAST["trim, with freeboard"])
    answer = placed(build)
    ballast = answer.ballast
    lead = item("lead", ballast.mass_g, ballast.center_mm[0], z_mm=ballast.center_mm[2])
    only = dataclasses.replace(build, limits=Limits(freeboard_mm=20.0))
    before = with_item_at(only, "battery", x_mm=ballast.aboard.x_mm)
    after = dataclasses.replace(before, ledger=Ledger(items=(*before.ledger.items, lead)))
    one, two = (float_answer(b.craft()) for b in (before, after))
    assert ballast.freeboard_cost_mm == pytest.approx(
        one.freeboard_mm.least - two.freeboard_mm.least, abs=1e-6
    )
    assert ballast.trim_change_deg == pytest.approx(two.trim_deg - one.trim_deg, abs=1e-7)
    assert ballast.grams_left_without_g == pytest.approx(one.margin_g, abs=1e-3)
    assert ballast.grams_left_g == pytest.approx(two.margin_g, abs=1e-3)
    aboard = craft_of(build, Wanted(item="battery"), answer)
    assert aboard.mass_g == pytest.approx(1200.0 + ballast.mass_g)
    assert aboard.center_of_gravity_mm == pytest.approx(after.craft().center_of_gravity_mm)


def test_no_ballast_mends_a_freeboard_too_high():
    """A limit that the empty hull hardly has is not met by adding weight."""
    hatch = opening_at((300.0, 0.0, 60.0))
    answer = placed(build_of(openings=(hatch,), limits=Limits(freeboard_mm=45.0)))
    assert not answer.intervals
    assert answer.ballast is None
    assert answer.ballast_tried_g == 1200.0
    assert answer.closest.breaks == ("freeboard_mm",)


def test_a_craft_that_sinks_has_no_place():
    """Too heavy for her skin by 200 g, she is not searched for ballast."""
    answer = placed(build_of(limits=Limits(heel_deg=3.0)), mass_g=4100.0)
    assert answer.short_by_g == pytest.approx(200.0)
    assert (answer.intervals, answer.ballast) == ((), None)
    assert answer.now.breaks == ("sinks",)


def test_an_item_goes_aside_where_only_that_holds():
    """A weight to port is met by the battery to starboard, within its box, and it is said."""
    heavy = item("pump", 60.0, 300.0, y_mm=-45.0)
    box = ((150.0, -20.0, 10.0), (350.0, 20.0, 30.0))
    build = build_of(HULL, heavy, BATTERY, box=box, limits=Limits(heel_deg=1.0))
    answer = placed(build)
    assert answer.y_mm > 0.0
    assert answer.intervals
    assert any(c.code == "put-aside" for c in answer.warnings)
    assert not placed(build, y_mm=0.0).intervals


def test_what_lies_outside_the_skin_is_said():
    """A box's inside is its own; above its deck or ahead of its bow is outside."""
    inside = placed(build_of(cg_range_mm=(280.0, 292.0)))
    assert inside.best_inside_skin
    assert not any(c.code == "outside-skin" for c in inside.warnings)
    above = placed(build_of(cg_range_mm=(280.0, 292.0)), z_mm=81.0)
    assert above.best_inside_skin is False
    assert any(c.code == "outside-skin" for c in above.warnings)
    build = build_of(**BALLAST["band, nose"])
    ahead = placed(build, ballast_at_mm=(-10.0, 0.0, 40.0))
    assert not ahead.ballast.inside_skin
    assert any(c.code == "ballast-outside-skin" for c in ahead.warnings)


def test_floats_of_a_pair_share_ballast():
    """On twin floats the nose's place is one in each, inside both, and acts on the center plane."""
    pair = tuple(
        box_body(origin_mm=(0.0, side * 150.0, 0.0), name=f"{side} float", role="main float")
        for side in (-1.0, 1.0)
    )
    build = build_of(bodies=pair, **BALLAST["band, nose"])
    answer = placed(build)
    assert answer.ballast.center_mm == pytest.approx((18.0, 0.0, 40.0))
    assert answer.ballast.inside_skin


@pytest.mark.parametrize(
    ("more", "asked", "words"),
    [
        ({}, {"name": "engine"}, "has no item 'engine'; it has: 'hull', 'battery'"),
        ({"limits": Limits(), "cg_range_mm": None}, {}, "nothing to place battery by"),
        ({}, {"mass_g": 0.0}, "--mass 0 g"),
        ({}, {"mass_g": math.nan}, "--mass nan g"),
        ({"box": ((1.0, 0.0, 1.0), (2.0, 0.0, 2.0))}, {"z_mm": 50.0}, "--z 50 mm lies outside"),
        ({"setups": (Setup(name="bare", off=("battery",)),)}, {"setup": "bare"}, "takes battery"),
        ({}, {"setup": "none"}, "there is no setup 'none'"),
    ],
)
def test_what_is_refused(more, asked, words):
    """One clear line each."""
    with pytest.raises(InputError, match=words):
        placed(build_of(**{"cg_range_mm": (280.0, 292.0), **more}), **asked)


@pytest.mark.parametrize(
    ("items", "words"),
    [
        ((), "there is no ledger"),
        ((HULL, Item(name="battery", z_mm=20.0)), "battery: neither planned nor weighed"),
        ((HULL, Item(name="battery", planned_g=0.0, z_mm=2.0)), "battery: 0 g in the ledger"),
        ((HULL, Item(name="battery", planned_g=300.0)), "has no z_mm in the ledger"),
        ((Item(name="hull", planned_g=900.0), BATTERY), "x_mm and z_mm of hull"),
    ],
)
def test_what_is_missing_in_the_ledger(items, words):
    """An item without mass or height, or another without a place, is one clear line."""
    build = dataclasses.replace(
        build_of(cg_range_mm=(280.0, 292.0), mass_g=1200.0), ledger=Ledger(items=items)
    )
    with pytest.raises(InputError, match=words):
        placed(build)


def test_windows_of_known_functions():
    """Both sin x ≥ ½ and cos x ≥ −½ hold from π/6 to 2π/3, ends named by what breaks there."""
    found = windows(
        lambda x: {("sin", ""): math.sin(x) - 0.5, ("cos", ""): math.cos(x) + 0.5},
        np.linspace(0.0, 4.0, 9),
        tolerance=1e-9,
    )
    (one,) = found
    assert (one.first, one.last) == pytest.approx((math.pi / 6.0, 2.0 * math.pi / 3.0), abs=1e-9)
    assert (one.before, one.after) == (("sin", ""), ("cos", ""))


def test_windows_of_several_and_of_narrow_ones():
    """Several windows are all found; one between two places too, where two conditions end it."""
    several = windows(
        lambda x: {("wave", ""): math.sin(x)}, np.linspace(1.0, 14.0, 40), tolerance=1e-9
    )
    assert [w.first for w in several] == pytest.approx([1.0, 2 * math.pi, 4 * math.pi], abs=1e-8)
    assert several[0].before is None
    assert several[-1].after is None
    narrow = windows(
        lambda x: {("low", ""): x - 0.501, ("high", ""): 0.502 - x}, [0.0, 1.0], tolerance=1e-9
    )
    assert (narrow[0].first, narrow[0].last) == pytest.approx((0.501, 0.502), abs=1e-9)
    assert windows(lambda x: {("never", ""): x - 9.0}, [0.0, 1.0], tolerance=1e-9) == ()
