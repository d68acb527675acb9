"""A setup changes what it names and nothing else; the worst setup is picked as documented."""

import dataclasses
from fractions import Fraction

import make_bodies
import numpy as np
import pytest
from crafts import body_of, box_body, opening_at
from hypothesis import assume, given
from hypothesis import strategies as st
from strategies import SEEDS, bumpy, uniform

from hullcheck.answers.float_answer import float_answer
from hullcheck.answers.setups_answer import fails, name_of, setups_answer
from hullcheck.craft.build import Build
from hullcheck.craft.fittings import Fittings, Wing
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.limits import Limits
from hullcheck.craft.setups import Setup
from hullcheck.water import fresh_water, sea_water, water_of_density

NAMES = ("hull", "wing", "battery", "wheels", "paint")
MEASURED = {"mass_g": 1500.0, "center_of_gravity_mm": (297.3, 0.4, 31.7)}
OPENINGS = tuple(
    opening_at((x, 0.0, z), name=name, state=state)
    for name, x, z, state in [
        ("canopy", 150.0, 78.0, "taped"),
        ("hatch", 320.0, 75.0, "open"),
        ("vent", 480.0, 79.0, None),
    ]
)
GRAMS, PLACES = uniform(1.0, 400.0), uniform(-300.0, 600.0)
POINTS = st.tuples(PLACES, PLACES, PLACES)


def build_of(ledger, **more):
    """Return a box with openings, limits and a wing, and the ledger given."""
    return Build(
        **{
            "name": "box",
            "bodies": (box_body(),),
            "ledger": ledger,
            "water": fresh_water(temperature_c=11.0),
            "openings": OPENINGS,
            "limits": Limits(freeboard_mm=10.0, heel_deg=8.0),
            "fittings": Fittings(wing=Wing(tip_mm=(250.0, 400.0, 90.0), chord_mm=80.0)),
            "target_mass_g": 1111.0,
            "cg_range_mm": (290.0, 310.0),
            **more,
        }
    )


@st.composite
def ledgers(draw):
    """Draw five placed items, of which the paint may be neither planned nor weighed."""
    items = []
    for name in NAMES:
        grams = draw(GRAMS)
        x, y, z = draw(POINTS)
        kind = draw(st.sampled_from(["planned_g", "weighed_g"]))
        known = {} if name == "paint" and draw(st.booleans()) else {kind: grams}
        items.append(Item(name=name, x_mm=x, y_mm=y, z_mm=z, **known))
    return Ledger(items=tuple(items))


@st.composite
def setups(draw):
    """Draw a setup that changes any of the things a setup can."""
    fate = {name: draw(st.sampled_from(["kept", "off", "changed"])) for name in NAMES}
    changed = [name for name in NAMES if fate[name] == "changed"]
    return Setup(
        name="other",
        add=tuple((name, draw(GRAMS)) for name in changed if draw(st.booleans())),
        move=tuple((name, draw(POINTS)) for name in changed if draw(st.booleans())),
        off=tuple(name for name in NAMES if fate[name] == "off"),
        wet_g=draw(st.one_of(st.just(0.0), GRAMS)),
        water=draw(st.sampled_from([None, "fresh", "sea"])),
        openings=tuple(
            (one.name, draw(st.sampled_from(["open", "taped", "sealed"])))
            for one in OPENINGS
            if draw(st.booleans())
        ),
    )


def summed(rows):
    """Return mass and moments of rows of grams and place, as fractions."""
    grams = [Fraction(mass) for mass, _ in rows]
    moments = [
        sum(
            (g * Fraction(place[i]) for g, (_, place) in zip(grams, rows, strict=True)), Fraction(0)
        )
        for i in range(3)
    ]
    return sum(grams, Fraction(0)), moments


def expected(build, setup):
    """Return mass and center that a setup must give, in fractions, and the grams moved about.

    The base is the ledger's sum or what was measured; what the setup takes off its ledger goes off
    with its place, what it puts on comes on with its place, and clinging water at the skin.
    """
    grams = {item.name: item.mass_g or 0.0 for item in build.ledger.items}
    places = {item.name: item.center_mm for item in build.ledger.items}
    mass, moments = summed([(grams[n], places[n]) for n in grams])
    gross = mass
    center = [m / mass for m in moments]
    if build.mass_g is not None:
        mass = Fraction(build.mass_g)
    if build.center_of_gravity_mm is not None:
        center = [Fraction(c) for c in build.center_of_gravity_mm]
    moments = [mass * c for c in center]
    by, plus = dict(setup.move), dict(setup.add)
    for name in {*by, *plus, *setup.off}:
        after = 0 if name in setup.off else Fraction(grams[name]) + Fraction(plus.get(name, 0.0))
        moved = by.get(name, (0.0, 0.0, 0.0))
        for i in range(3):
            there = Fraction(places[name][i])
            moments[i] += after * (there + Fraction(moved[i])) - Fraction(grams[name]) * there
        mass += after - Fraction(grams[name])
        gross += abs(after) + Fraction(grams[name])
    wet = Fraction(setup.wet_g)
    moments = [m + wet * Fraction(c) for m, c in zip(moments, build.skin_center_mm, strict=True)]
    return mass + wet, moments, gross + wet


@given(
    ledgers(),
    setups(),
    st.sampled_from(
        [{}, MEASURED, {"mass_g": 1500.0}, {"center_of_gravity_mm": (297.3, 0.4, 31.7)}]
    ),
)
def test_mass_and_center_are_those_of_fractions(ledger, setup, measured):
    """Whatever a setup adds, moves, takes off or wets, Σm and Σmp/Σm are those of fractions."""
    build = build_of(ledger, setups=(setup,), **measured)
    mass, moments, gross = expected(build, setup)
    # What is left of her, dry, floats; less is refused.
    assume(mass - Fraction(setup.wet_g) > 50)
    craft = build.craft("other")
    # Some two dozen roundings, each of half a unit in the last place of what is summed, magnified
    # where much is taken off and little is left: 64 units hold them all.
    loss = float(max(gross / mass, 1))
    assert craft.mass_g == pytest.approx(float(mass), rel=4e-16 * loss)
    center = [float(m / mass) for m in moments]
    room = 64.0 * np.spacing(1200.0) * loss
    assert craft.center_of_gravity_mm == pytest.approx(center, rel=0.0, abs=room)


@given(ledgers(), setups())
def test_what_is_not_named_stays_as_it_is(ledger, setup):
    """Bodies, limits, fittings, targets and openings not named are the very same objects."""
    build = build_of(ledger, setups=(setup,))
    assume(expected(build, setup)[0] - Fraction(setup.wet_g) > 1)
    before, after = build.craft(), build.craft("other")
    assert after.setup == "other"
    assert before.setup is None
    for same in ("name", "bodies", "limits", "fittings", "target_mass_g", "cg_range_mm"):
        assert getattr(after, same) is getattr(before, same)
    named = dict(setup.openings)
    for old, new in zip(before.openings, after.openings, strict=True):
        if old.name in named:
            assert new.state == named[old.name]
            kept = {field.name for field in dataclasses.fields(old)} - {"state"}
            assert all(getattr(new, field) is getattr(old, field) for field in kept)
        else:
            assert new is old
    if setup.water is None:
        assert after.water is build.water
    else:
        assert after.water == {"fresh": fresh_water, "sea": sea_water}[setup.water](
            temperature_c=11.0
        )
    if not (setup.add or setup.move or setup.off or setup.wet_g):
        assert after.mass_g == before.mass_g
        assert after.center_of_gravity_mm == before.center_of_gravity_mm
        assert after.weighing == before.weighing


@given(ledgers(), st.sampled_from([{}, MEASURED]))
def test_a_setup_that_names_nothing_changes_nothing(ledger, measured):
    """An empty setup gives mass, center and weighing to the last digit: nothing is recomputed."""
    build = build_of(ledger, setups=(Setup(name="same"),), **measured)
    before, after = build.craft(), build.craft("same")
    assert dataclasses.replace(after, setup=None).__dict__ == before.__dict__


def test_an_empty_setup_floats_alike_to_the_last_digit():
    """The whole answer of an empty setup is that of none, its name aside."""
    build = build_of(LEDGER, setups=(Setup(name="same"),))
    before, after = float_answer(build.craft()), float_answer(build.craft("same"))
    assert after.setup == "same"
    assert dataclasses.replace(after, setup=None) == before


LEDGER = Ledger(
    items=(
        Item(name="all else", weighed_g=1000.0, x_mm=300.0, z_mm=30.0),
        Item(name="battery", x_mm=200.0, y_mm=10.0, z_mm=20.0),
        Item(name="wheels", planned_g=40.0, x_mm=350.0, z_mm=0.0),
    )
)


def test_grams_added_to_a_blank_count_from_0_and_are_known():
    """A battery left blank and 240 g added: 1280 g at (1000·300 + 240·200 + 40·350)/1280."""
    build = build_of(LEDGER, setups=(Setup(name="s", add=(("battery", 240.0),)),))
    assert build.craft().weighing.unknown == ("battery",)
    craft = build.craft("s")
    assert craft.mass_g == 1280.0
    x = (300_000.0 + 48_000.0 + 14_000.0) / 1280.0
    assert craft.center_of_gravity_mm[0] == pytest.approx(x, rel=1e-15)
    assert craft.weighing.unknown == ()
    assert craft.weighing.all_up


def test_a_measured_load_is_changed_on_top():
    """Measured 1500 g at 310, 40 g of wheels off from 350: 1460 g at (1500·310 − 40·350)/1460."""
    build = build_of(
        LEDGER,
        mass_g=1500.0,
        center_of_gravity_mm=(310.0, 0.0, 30.0),
        setups=(Setup(name="bare", off=("wheels",)),),
    )
    craft = build.craft("bare")
    assert craft.mass_g == 1460.0
    assert craft.center_of_gravity_mm[0] == pytest.approx(
        (465_000.0 - 14_000.0) / 1460.0, rel=1e-15
    )
    assert [item.name for item in build.ledger.items] == ["all else", "battery", "wheels"]


@given(SEEDS)
def test_clinging_water_sits_at_the_center_of_the_skin(seed):
    """The skin's center is that of trimesh's `centroid`: triangle middles weighted by area."""
    import trimesh

    hull, other = bumpy(seed), make_bodies.box(length_mm=90.0, beam_mm=30.0, height_mm=20.0)
    other = other + np.array([50.0, 700.0, -40.0])
    bodies = (body_of(hull), body_of(other, name="float", role="tip float"))
    build = Build(name="two", bodies=bodies)
    corners = np.concatenate([hull, other]).reshape(-1, 3)
    mesh = trimesh.Trimesh(corners, np.arange(len(corners)).reshape(-1, 3), process=False)
    # Sums of a few hundred terms of some hundred millimeters: 1e-12 of them.
    assert build.skin_center_mm == pytest.approx(mesh.centroid, rel=0.0, abs=1e-9)


def test_salt_water_takes_the_temperature_of_the_sheet():
    """Sea at the sheet's 11 °C; at the usual 15 °C where the sheet gives a density alone."""
    setup = Setup(name="sea", water="sea")
    assert setup.of_water(fresh_water(temperature_c=11.0)) == sea_water(temperature_c=11.0)
    assert setup.of_water(water_of_density(1000.0)) == sea_water(temperature_c=15.0)


def ways(*setups, grams=1000.0, x_mm=300.0, z_mm=30.0, **more):
    """Return all setups of a box afloat, with an item to be put aboard amidships."""
    items = (
        Item(name="all", planned_g=grams, x_mm=x_mm, z_mm=z_mm),
        Item(name="bag", planned_g=0.0, x_mm=300.0, z_mm=30.0),
        Item(name="mast", planned_g=1.0, x_mm=300.0, z_mm=30.0),
    )
    return setups_answer(build_of(Ledger(items=items), setups=setups, **more))


HEAVY = Setup(name="heavy", add=(("bag", 800.0),))
OPEN = Setup(name="low hatch", add=(("bag", 3000.0),))
TIPPED = Setup(name="tipped", move=(("mast", (0.0, 0.0, 70_000.0)),))
SUNK = Setup(name="sunk", add=(("bag", 3900.0),))
SUNK_MORE = Setup(name="sunk deeper", add=(("bag", 4000.0),))


@pytest.mark.parametrize(
    ("setups", "worst"),
    [
        ((), "as she is"),
        ((HEAVY,), "heavy"),
        ((OPEN, HEAVY), "low hatch"),
        ((HEAVY, TIPPED, OPEN), "tipped"),
        ((SUNK, TIPPED, OPEN), "sunk"),
        ((SUNK, SUNK_MORE, TIPPED), "sunk deeper"),
        ((Setup(name="same"),), "as she is"),
        ((Setup(name="light", off=("mast",)),), "as she is"),
    ],
)
def test_the_worst_is_picked_in_the_order_documented(setups, worst):
    """Sinks before capsizes before a broken limit before fewest grams left; of equals the first."""
    answer = ways(*setups)
    assert answer.worst == worst
    assert name_of(answer.worst_answer) == worst
    assert [name_of(one) for one in answer.setups] == ["as she is", *(s.name for s in setups)]


def test_on_her_back_is_worse_than_any_broken_limit():
    """A freeboard limit missed by 240 mm is a greater number than 180° of heel, yet no capsize."""
    answer = ways(TIPPED, OPEN, limits=Limits(freeboard_mm=300.0))
    assert [fails(one) for one in answer.setups] == [True] * 3
    assert min(one.freeboard_mm.least for one in answer.setups) < 300.0 - 180.0
    assert answer.worst == "tipped"


def test_setups_fail_where_they_must():
    """A box of 4800 g: 3000 g more breaks 10 mm of freeboard, 3900 g more sinks her."""
    answer = ways(HEAVY, OPEN, TIPPED, SUNK)
    kept, heavy, low, tipped, sunk = answer.setups
    assert [fails(one) for one in answer.setups] == [False, False, True, True, True]
    # 75 mm of hatch over T = m/(ρ L B): 16.68 mm at 1001 g of the fresh water's 999.6 kg/m³.
    assert kept.freeboard_mm.least == pytest.approx(
        75.0 - 1001.0 / (60e-3 * kept.water.density_kg_m3), rel=1e-9
    )
    assert kept.margin_g - heavy.margin_g == pytest.approx(800.0, abs=1e-3)
    assert (low.rest, [c.name for c in low.limits if not c.ok]) == ("upright", ["freeboard_mm"])
    assert tipped.rest == "capsized"
    assert sunk.rest == "sinks"
    assert sunk.short_by_g == pytest.approx(4901.0 - 4.8 * sunk.water.density_kg_m3, rel=1e-9)


def test_without_limits_the_least_freeboard_is_worst():
    """No limits, no grams left: 800 g more sink her 13 mm, and that is the least freeboard."""
    answer = ways(HEAVY, Setup(name="hatch shut", openings=(("hatch", "sealed"),)), limits=Limits())
    assert answer.worst == "heavy"
    assert all(one.margin_g is None for one in answer.setups)


def test_grams_left_are_not_held_against_millimeters():
    """One setup's item has no place, so no center and no grams left: it ranks after known grams."""
    items = (
        Item(name="all", planned_g=1000.0, x_mm=300.0, z_mm=30.0),
        Item(name="sponge"),
    )
    soaked = Setup(name="soaked", add=(("sponge", 200.0),))
    answer = setups_answer(build_of(Ledger(items=items), setups=(soaked,)))
    kept, other = answer.setups
    assert other.margin_g is None
    assert other.freeboard_mm.least < kept.margin_g
    assert answer.worst == "as she is"
    assert not fails(other)


def test_notes_of_reading_come_with_the_setups():
    """What was assumed in reading stands once, beside all setups."""
    answer = ways(HEAVY, notes=(("unit-assumed", "millimeters are assumed"),))
    assert [(w.code, w.message) for w in answer.warnings] == [
        ("unit-assumed", "millimeters are assumed")
    ]
