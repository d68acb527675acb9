"""Changes put aboard one after another: they add up, and each does what a box says it does."""

import math
from dataclasses import replace

import numpy as np
import pytest
from crafts import WATER, box_body, opening_at

from hullcheck.answers.afloat import Refloater
from hullcheck.answers.compare_answer import Side, add_up, compare_answer
from hullcheck.craft.build import Build
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.limits import Limits
from hullcheck.craft.setups import Setup
from hullcheck.errors import InputError, SolverError
from hullcheck.water import water_of_density

BODY = box_body()
HATCH = opening_at((300.0, 0.0, 70.0))


def item(name, grams, x=300.0, y=0.0, z=30.0, **more):
    """Return an item, weighed; amidships unless said otherwise."""
    return Item(name=name, weighed_g=grams, x_mm=x, y_mm=y, z_mm=z, **more)


def build_of(*items, **more):
    """Return the box of 600 × 100 × 80 mm with a hatch at 70 mm, in water of 1 g/cm³."""
    return Build(
        **{
            "name": "box",
            "bodies": (BODY,),
            "water": WATER,
            "openings": (HATCH,),
            "limits": Limits(freeboard_mm=10.0),
            "ledger": Ledger(items=items),
            **more,
        }
    )


def compared(old, new, **more):
    """Return the comparison of two builds."""
    return compare_answer(Side(name="old", build=old), Side(name="new", build=new, **more))


def assert_adds_up(answer):
    """Assert that grams, millimeters and degrees of the changes are those of the whole."""
    sums = add_up(answer)
    assert sums["mass_g"] == pytest.approx(answer.mass_g, abs=1e-9)
    for name in ("freeboard_mm", "trim_deg", "heel_deg"):
        assert sums[name] == pytest.approx(getattr(answer.cost, name), abs=1e-9), name
    moved = [sums["x_mm"], sums["y_mm"], sums["z_mm"]]
    assert moved == pytest.approx(answer.cost.center_of_gravity_mm, abs=1e-9)
    assert sum(c.mass_g for c in answer.changes) == pytest.approx(
        answer.new.mass_g - answer.old.mass_g, abs=1e-9
    )


def kinds(answer):
    """Return names and kinds of the changes."""
    return [(change.name, change.kind) for change in answer.changes]


@pytest.mark.parametrize("grams", [1.0, 37.5, 300.0])
def test_grams_at_the_center_lower_a_box_by_grams_over_its_waterplane(grams):
    """A load k at the CG sinks 600 × 100 mm of waterplane by k/(ρ L B), k/60 mm, no more."""
    old, new = (build_of(item("all", 1200.0 + more)) for more in (0.0, grams))
    answer = compared(old, new)
    (change,) = answer.changes
    assert (change.kind, change.mass_g) == ("heavier", pytest.approx(grams, abs=1e-12))
    assert change.cost.freeboard_mm == pytest.approx(-grams / 60.0, abs=1e-9)
    assert change.cost.trim_deg == pytest.approx(0.0, abs=1e-9)
    assert change.cost.center_of_gravity_mm == pytest.approx((0.0, 0.0, 0.0), abs=1e-12)
    assert answer.old.afloat.freeboard_mm == pytest.approx(50.0, abs=1e-9)
    assert_adds_up(answer)


def test_a_shift_trims_by_mass_times_way_over_the_metacentric_height():
    """60 g of 1200 moved 20 mm aft: tan τ = 60 × 20/(1200 GM_L), GM_L = 10 + 1500 − 30 mm.

    Trim by a shift as Nicholls's Seamanship, p. 527, works it: moment over moment to change trim.
    """
    old = build_of(item("all", 1140.0), item("bag", 60.0))
    new = build_of(item("all", 1140.0), item("bag", 60.0, x=320.0))
    (change,) = compared(old, new).changes
    assert (change.kind, change.moved_mm, change.mass_g) == ("moved", (20.0, 0.0, 0.0), 0.0)
    by_hand = math.degrees(math.atan(60.0 * 20.0 / (1200.0 * 1480.0)))
    assert change.cost.trim_deg == pytest.approx(by_hand, rel=1e-5)
    assert change.cost.center_of_gravity_mm == pytest.approx((1.0, 0.0, 0.0), abs=1e-12)


def random_ledger(rng, names):
    """Return a ledger of items anywhere in the box, in an order of its own."""
    return tuple(
        item(
            name,
            float(rng.uniform(20.0, 300.0)),
            float(rng.uniform(200.0, 400.0)),
            float(rng.uniform(-6.0, 6.0)),
            float(rng.uniform(5.0, 40.0)),
        )
        for name in rng.permutation(names).tolist()
    )


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("measured", [False, True])
def test_random_ledgers_add_up(seed, measured):
    """Whatever is added, moved, removed, measured, wet or opened: rows add up to 1e-9."""
    rng = np.random.default_rng(seed)
    shared = ["wing", "tail", "motor", "radio", "paint"]
    sides = []
    for own in (["wheels", "skids"], ["battery", "plug"]):
        more = {}
        if measured:
            more = {"mass_g": 1100.0 + 40.0 * rng.random()}
            more["center_of_gravity_mm"] = (300.0 + rng.normal(), 0.3 * rng.normal(), 25.0)
        wet = Setup(name="wet", wet_g=float(rng.uniform(5.0, 30.0)))
        state = str(rng.choice(["open", "taped", "sealed"]))
        build = build_of(
            *random_ledger(rng, shared + own),
            openings=(HATCH, opening_at((500.0, 30.0, 74.0), name="vent", state=state)),
            setups=(wet,),
            **more,
        )
        sides.append(Side(name=own[0], build=build, setup="wet"))
    answer = compare_answer(*sides)
    assert_adds_up(answer)
    assert answer.warnings == ()
    named = dict(kinds(answer))
    assert {named["wheels"], named["skids"]} == {"removed"}
    assert {named["battery"], named["plug"]} == {"added"}
    assert named["water clinging to her"] == "clinging water"
    assert ("measured, beside the ledger" in named) == measured
    assert answer.new.mass_g == answer.new.afloat.mass_g


def test_order_is_the_ledgers_and_each_starts_where_the_last_left_her():
    """Old ledger's order, then what was added; an item heavier and moved is two changes."""
    old = build_of(item("hull", 900.0), item("battery", 150.0), item("wheels", 20.0))
    new = build_of(
        item("plug", 3.0), item("battery", 180.0, x=280.0), item("Hull", 905.0), item("keel", 9.0)
    )
    answer = compared(old, new)
    assert kinds(answer) == [
        ("Hull", "heavier"),
        ("battery", "heavier"),
        ("battery", "moved"),
        ("wheels", "removed"),
        ("plug", "added"),
        ("keel", "added"),
    ]
    masses = [change.afloat.mass_g for change in answer.changes]
    assert masses == pytest.approx([1075.0, 1105.0, 1105.0, 1085.0, 1088.0, 1097.0], abs=1e-9)
    assert_adds_up(answer)


def test_two_setups_of_one_build():
    """add, move, off, wet_g, water and openings of a setup are each a change of their own."""
    setup = Setup(
        name="worst",
        add=(("battery", 50.0),),
        move=(("battery", (-20.0, 0.0, 0.0)),),
        off=("wheels",),
        wet_g=12.0,
        water="sea",
        openings=(("hatch", "sealed"),),
    )
    build = build_of(
        item("hull", 900.0), item("battery", 150.0), item("wheels", 20.0), setups=(setup,)
    )
    answer = compared(build, build, setup="worst")
    assert [change.kind for change in answer.changes] == [
        "heavier",
        "moved",
        "removed",
        "clinging water",
        "water",
        "opening",
    ]
    assert (answer.changes[-1].was, answer.changes[-1].now) == ("open", "sealed")
    # Without an opening that lets water in, freeboard is the hull's top: 10 mm above the hatch.
    assert answer.changes[-1].cost.freeboard_mm > 5.0
    assert_adds_up(answer)
    assert answer.new.setup == "worst"


def test_another_ledger_moves_measured_values_by_what_differs():
    """Measured 1200 g; a ledger with 40 g more makes 1240 g, and nothing is left over."""
    old = build_of(item("hull", 900.0), item("battery", 150.0), mass_g=1200.0)
    other = Ledger(items=(item("hull", 900.0), item("battery", 190.0)))
    answer = compared(old, old, ledger=other)
    assert kinds(answer) == [("battery", "heavier")]
    assert answer.new.mass_g == pytest.approx(1240.0, abs=1e-9)
    assert_adds_up(answer)
    plain = build_of(item("hull", 900.0), item("battery", 150.0))
    answer = compared(plain, plain, ledger=other)
    assert (answer.mass_g, answer.new.items) == (pytest.approx(40.0, abs=1e-9), 2)


def test_another_ledger_need_not_hold_what_other_setups_name():
    """A ledger without the item of a setup: floated as she is, refused in that setup alone."""
    heavy = Setup(name="heavy", add=(("battery", 50.0),))
    old = build_of(item("hull", 900.0), item("battery", 150.0), setups=(heavy,))
    other = Ledger(items=(item("hull", 900.0), item("cells", 160.0)))
    assert kinds(compared(old, old, ledger=other)) == [("battery", "removed"), ("cells", "added")]
    with pytest.raises(InputError, match="no item 'battery'"):
        compared(old, old, ledger=other, setup="heavy")


def test_a_measured_mass_is_a_change_of_its_own():
    """The ledger sums to 1050 g, the scale says 1068.5: 18.5 g beside the ledger."""
    old = build_of(item("hull", 900.0), item("battery", 150.0))
    answer = compared(old, replace(old, mass_g=1068.5))
    assert kinds(answer) == [("measured, beside the ledger", "measured")]
    assert answer.changes[0].mass_g == pytest.approx(18.5, abs=1e-9)
    assert_adds_up(answer)


def test_another_hull_comes_last_and_adds_up():
    """A hull 20 mm broader, in the same load and one opening moved: one change, the last."""
    old = build_of(item("hull", 1200.0))
    new = build_of(
        item("hull", 1230.0),
        bodies=(box_body(beam_mm=120.0),),
        openings=(opening_at((300.0, 0.0, 66.0)),),
    )
    answer = compared(old, new)
    assert [change.kind for change in answer.changes] == ["heavier", "hull"]
    assert answer.changes[-1].name == "hull or openings: hull, hatch"
    assert (answer.changes[-1].was, answer.changes[-1].now) == ("4800.0 cm³", "5760.0 cm³")
    # Draft 1230/60 = 20.5 mm becomes 1230/72 mm; the hatch lies 4 mm lower.
    by_hand = 1230.0 / 60.0 - 1230.0 / 72.0 - 4.0
    assert answer.changes[-1].cost.freeboard_mm == pytest.approx(by_hand, abs=1e-9)
    assert_adds_up(answer)


def test_openings_water_and_limits_of_two_builds():
    """An opening moved, one added, denser water, other limits: a change each, in that order."""
    old = build_of(item("hull", 1200.0))
    new = build_of(
        item("hull", 1200.0),
        water=water_of_density(1025.0),
        openings=(opening_at((300.0, 0.0, 60.0)), opening_at((100.0, 0.0, 75.0), name="vent")),
        limits=Limits(freeboard_mm=12.0),
        target_mass_g=1150.0,
    )
    answer = compared(old, new)
    assert kinds(answer) == [
        ("water", "water"),
        ("hatch", "opening"),
        ("vent", "opening"),
        ("target mass", "limits"),
        ("least freeboard", "limits"),
    ]
    water, hatch, vent, *rest = answer.changes
    assert water.cost.freeboard_mm == pytest.approx(20.0 - 20.0 / 1.025, abs=1e-9)
    assert (hatch.now, hatch.cost.freeboard_mm) == ("open, elsewhere", pytest.approx(-10.0))
    assert (vent.was, vent.cost.freeboard_mm) == ("not there", pytest.approx(0.0, abs=1e-9))
    assert all(change.cost.freeboard_mm == 0.0 for change in rest)
    assert answer.new.afloat.limits[0].limit == 12.0
    assert_adds_up(answer)


def test_nothing_changed_is_no_change():
    """A build beside itself, and its own ledger beside it: no change, and zero in all."""
    build = build_of(item("hull", 1200.0), Item(name="to be bought"))
    for answer in (compared(build, build), compared(build, build, ledger=build.ledger)):
        assert answer.changes == ()
        assert (answer.mass_g, answer.cost.freeboard_mm) == (0.0, 0.0)
    weighed = build_of(item("hull", 1200.0, planned_g=1100.0), Item(name="to be bought"))
    assert compared(build, weighed).changes == ()


def test_sinking_on_the_way_falls_to_the_next_change():
    """4000 g aboard before 4000 g go off again: the second has all of it, and it is said."""
    old = build_of(item("a", 500.0), item("b", 4100.0, z=20.0))
    new = build_of(item("a", 4500.0, z=20.0), item("b", 100.0))
    answer = compared(old, new)
    nothing = [change for change in answer.changes if change.cost.freeboard_mm is None]
    assert nothing[0].afloat.rest == "sinks"
    assert any(w.code == "between" and "she sinks" in w.message for w in answer.warnings)
    assert_adds_up(answer)


def test_everything_renamed_adds_up():
    """With no item in common she is taken down to nothing before she is put together again."""
    old = build_of(item("a", 500.0), item("b", 600.0, x=310.0))
    new = build_of(item("c", 700.0), item("d", 450.0, x=280.0))
    answer = compared(old, new)
    assert [change.kind for change in answer.changes] == ["removed", "removed", "added", "added"]
    assert any("there is nothing left of her" in w.message for w in answer.warnings)
    assert_adds_up(answer)


def test_no_rest_found_on_the_way_is_said_and_in_the_end_refused(monkeypatch):
    """An attitude that cannot be solved for: its change has no numbers, the next has both."""
    solve, failing = Refloater.at, {1250.0}

    def at(self, mass_g, center_of_gravity_mm):
        """Find no rest at the masses that fail."""
        if round(mass_g, 6) in failing:
            raise SolverError("no rest was found")
        return solve(self, mass_g, center_of_gravity_mm)

    monkeypatch.setattr(Refloater, "at", at)
    old = build_of(item("a", 1200.0), item("b", 30.0))
    new = build_of(item("a", 1220.0), item("b", 60.0))
    answer = compared(old, new)
    assert [change.afloat is None for change in answer.changes] == [True, False]
    assert answer.changes[1].cost.freeboard_mm == pytest.approx(-50.0 / 60.0, abs=1e-9)
    assert any("no rest was found" in w.message for w in answer.warnings)
    assert_adds_up(answer)
    failing.add(1280.0)
    with pytest.raises(SolverError):
        compared(old, new)


def test_sinking_in_the_end_has_no_millimeters():
    """2000 g too many: grams add up, and no height or angle is made up."""
    answer = compared(build_of(item("a", 1200.0)), build_of(item("a", 6800.0)))
    assert answer.new.afloat.rest == "sinks"
    assert answer.new.afloat.short_by_g == pytest.approx(2000.0, abs=1e-6)
    assert (answer.mass_g, answer.cost.freeboard_mm) == (5600.0, None)
    assert answer.new.freeboard_plus_minus_mm is None


def test_without_a_center_changes_are_grams_alone():
    """An item without a place: its grams are told, nothing is floated, and it is said."""
    old = build_of(item("hull", 1000.0), Item(name="bag", weighed_g=50.0))
    new = build_of(item("hull", 1020.0), Item(name="bag", weighed_g=80.0))
    answer = compared(old, new)
    assert [change.mass_g for change in answer.changes] == [20.0, 30.0]
    assert answer.cost is None
    assert all(change.cost is None and change.afloat is None for change in answer.changes)
    assert "not-floated" in {w.code for w in answer.warnings}
    # With a measured center she floats, and the bag acts there.
    measured = {"center_of_gravity_mm": (300.0, 0.0, 30.0)}
    answer = compared(replace(old, **measured), replace(new, **measured))
    assert_adds_up(answer)
    assert "places-missing" in {w.code for w in answer.warnings}


def test_freeboard_of_each_side_is_known_as_float_says():
    """± of a wall-sided box: a reading's millimeter and 30 g over 60 g a mm."""
    old = build_of(item("all", 1200.0, plus_minus_g=30.0))
    new = build_of(item("all", 1260.0, plus_minus_g=0.0))
    answer = compared(old, new)
    assert answer.old.freeboard_plus_minus_mm == pytest.approx(math.hypot(1.0, 0.5), rel=1e-6)
    assert answer.new.freeboard_plus_minus_mm == pytest.approx(1.0, rel=1e-6)
    assert (answer.old.plus_minus_g, answer.new.plus_minus_g) == (30.0, 0.0)


def test_a_setup_that_is_not_there_is_refused():
    """The name is said with those there are."""
    build = build_of(item("hull", 1200.0), setups=(Setup(name="wet", wet_g=5.0),))
    with pytest.raises(InputError, match="no setup 'dry'; the build sheet has: 'wet'"):
        compared(build, build, setup="dry")
