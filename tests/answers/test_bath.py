"""The bath test: bag by moments, a box in closed form, what is refused and what is warned of."""

import math

import numpy as np
import pytest
from closed_form import exact
from crafts import WATER, box_body, demo_bodies
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import uniform

from hullcheck.answers.bath_answer import bath_answer, bath_fails
from hullcheck.answers.bath_bag import Placing
from hullcheck.craft.build import Build
from hullcheck.craft.fittings import Fittings, Mark, Structure
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.setups import Setup
from hullcheck.errors import InputError
from hullcheck.water import sea_water

MARKS = Fittings(
    marks=(
        Mark(name="bow", point_mm=(40.0, 50.0, 66.0)),
        Mark(name="stern", point_mm=(560.0, 50.0, 60.0), along="plumb"),
    )
)


def item(name, grams, x, z, *, y=0.0, aboard=True):
    """Return a weighed item."""
    return Item(name=name, weighed_g=grams, x_mm=x, y_mm=y, z_mm=z, aboard=aboard)


def build_of(*items, **more):
    """Return the box of 600 × 100 × 80 mm, 1 mm wall, marks at bow and stern, with a ledger."""
    given_ = {
        "bodies": (box_body(),),
        "water": WATER,
        "fittings": MARKS,
        "structures": {"hull": Structure(wall_mm=1.0)},
        "ledger": Ledger(items=items),
    }
    return Build(name="box", **(given_ | more))


def level_build(*, z=50.0, **more):
    """Return 800 g aboard and 400 g missing, both amidships: level at 20 mm of draft."""
    missing = item("battery", 400.0, 300.0, z, aboard=False)
    return build_of(item("hull", 800.0, 300.0, 30.0), missing, **more)


@settings(max_examples=30)
@given(
    st.lists(
        st.tuples(
            uniform(1.0, 300.0),
            uniform(0.0, 600.0),
            uniform(-40.0, 40.0),
            uniform(0.0, 80.0),
            st.booleans(),
        ),
        min_size=2,
        max_size=8,
    )
)
def test_what_is_aboard_and_the_bag_make_the_finished_craft(rows):
    """Mass and center of the two together are the finished craft's."""
    rows[0], rows[1] = (*rows[0][:4], True), (*rows[1][:4], False)
    build = build_of(*(item(str(i), g, x, z, y=y, aboard=on) for i, (g, x, y, z, on) in
                       enumerate(rows)))  # fmt: skip
    answer = bath_answer(build, None, Placing(propped=True))
    aboard, bag = answer.aboard, answer.bag
    total = aboard.mass_g + bag.mass_g
    assert total == exact(answer.finished.mass_g)
    center = (
        aboard.mass_g * np.array(aboard.center_of_gravity_mm)
        + bag.mass_g * np.array(bag.center_of_gravity_mm)
    ) / total
    assert center == exact(list(build.ledger.center_mm))
    assert answer.load.center_of_gravity_mm == exact(build.ledger.center_mm)


def test_level_box_with_the_bag_on_the_bottom():
    """Draft m/(ρ L B) = 20 mm, so the marks read 46 and 40; the bag's middle lies at 1 + 10 mm."""
    answer = bath_answer(level_build())
    assert answer.bag.mass_g == exact(400.0)
    assert answer.bag.lies_at_mm == exact((300.0, 0.0, 11.0))
    assert answer.bag.lies == "on the bottom"
    assert answer.rest == "upright"
    read = {(r.mark, r.side): r.reading_mm for r in answer.readings}
    assert read == pytest.approx(
        {(n, s): v for n, v in (("bow", 46.0), ("stern", 40.0)) for s in ("port", "starboard")},
        abs=1e-6,
    )
    assert not bath_fails(answer)


def test_a_low_bag_flatters_by_its_share_of_the_drop():
    """GM differs by m_bag/m (z_true − z_low); finished it is B²/(12 T) + T/2 − KG."""
    heel = bath_answer(level_build()).heel
    drop = 400.0 / 1200.0 * (50.0 - 11.0)
    finished = 100.0**2 / (12.0 * 20.0) + 10.0 - (800.0 * 30.0 + 400.0 * 50.0) / 1200.0
    assert heel.finished.metacentric_height_mm == pytest.approx(finished, abs=1e-6)
    assert heel.stiffer_by_mm == pytest.approx(drop, abs=1e-6)
    assert heel.ratio == pytest.approx((finished + drop) / finished, rel=1e-6)
    moment = 1200.0 * (finished + drop) * math.tan(math.radians(1.0))
    assert heel.in_the_bath.moment_to_heel_g_mm_per_deg == pytest.approx(moment, rel=1e-6)


def test_a_bag_can_hide_that_she_does_not_stay_upright():
    """At z 140 the finished GM is below 0, in the bath it is not: said, and no ratio."""
    answer = bath_answer(level_build(z=140.0))
    assert answer.heel.finished.metacentric_height_mm < 0.0
    assert answer.heel.in_the_bath.metacentric_height_mm > 0.0
    assert answer.heel.ratio is None
    said = {w.code: w.message for w in answer.warnings}
    assert "the low bag hides it" in said["not-stiff"]
    assert "propped inside it cannot be" in said["bag-above-skin"]


def test_trimmed_box_reads_her_trim():
    """Off center lengthwise: both marks read n·p − h, along the skin over n_z, by her own plane."""
    build = build_of(
        item("hull", 800.0, 300.0, 30.0), item("battery", 400.0, 330.0, 11.0, aboard=False)
    )
    answer = bath_answer(build)
    trim = math.radians(answer.trim_deg)
    # Level box, trimmed by a small angle: BM = L²/(12 T), tan τ = shift/(BM + T/2 − KG).
    arm = 600.0**2 / (12.0 * 20.0) + 10.0 - (800.0 * 30.0 + 400.0 * 11.0) / 1200.0
    assert math.tan(trim) == pytest.approx(10.0 / arm, rel=2e-3)
    read = {(r.mark, r.side): r.reading_mm for r in answer.readings}
    height = answer.waterline.height_mm
    bow = -40.0 * math.sin(trim) + 66.0 * math.cos(trim) - height
    stern = -560.0 * math.sin(trim) + 60.0 * math.cos(trim) - height
    assert read["bow", "port"] == pytest.approx(bow / math.cos(trim), abs=1e-6)
    assert read["stern", "starboard"] == pytest.approx(stern, abs=1e-6)


def test_readings_are_as_well_known_as_mass_and_ruler():
    """Level and placed amidships: 1 mm of ruler, and 0.5 g twice at 60 g a mm; trim by placing.

    The bag 5 mm out of place along moves her CG by 5/3 mm, which trims her by that over
    GM_L and moves a mark 260 mm off amidships; 2 mm across lists her likewise 50 mm abeam.
    """
    answer = bath_answer(level_build())
    kg = (800.0 * 30.0 + 400.0 * 11.0) / 1200.0
    long, wide = (size**2 / 240.0 + 10.0 - kg for size in (600.0, 100.0))
    masses = math.hypot(0.5, 0.5) / 60.0
    along, across = 260.0 * (5.0 / 3.0) / long, 50.0 * (2.0 / 3.0) / wide
    for reading in answer.readings:
        assert reading.plus_minus_mm == pytest.approx(
            math.hypot(1.0, masses, along, across), rel=5e-3
        )
        assert reading.mean_plus_minus_mm == pytest.approx(math.hypot(1.0, masses, along), rel=5e-3)


def test_the_tub_is_hers_with_room_around():
    """600 × 100 mm and 50 all around, 30 mm under 20 mm of draft; the water is the rest."""
    tub = bath_answer(level_build()).tub
    sizes = (tub.length_mm, tub.width_mm, tub.depth_mm, tub.draft_mm)
    assert sizes == pytest.approx((700.0, 200.0, 50.0, 20.0), abs=1e-6)
    assert (tub.waterline_length_mm, tub.waterline_beam_mm) == pytest.approx((600.0, 100.0))
    assert tub.water_l == pytest.approx(7.0 - 1.2, rel=1e-9)


def test_the_bag_where_it_is_put():
    """At a z of its own, propped, or none at all: what floats is what was asked for."""
    build = level_build()
    given_z = bath_answer(build, None, Placing(z_mm=25.0))
    assert given_z.bag.lies_at_mm == exact((300.0, 0.0, 25.0))
    assert given_z.heel.stiffer_by_mm == pytest.approx(400.0 / 1200.0 * 25.0, abs=1e-6)
    propped = bath_answer(build, None, Placing(propped=True))
    assert propped.heel.stiffer_by_mm == pytest.approx(0.0, abs=1e-9)
    bare = bath_answer(build, None, Placing(none=True))
    assert bare.bag is None
    assert bare.load.mass_g == exact(800.0)
    assert bare.readings[0].reading_mm == pytest.approx(66.0 - 800.0 / 60.0, abs=1e-6)
    with pytest.raises(InputError, match="choose one"):
        Placing(z_mm=3.0, propped=True)


def test_a_setup_says_what_the_finished_craft_is():
    """Without the battery, as a setup has her, nothing is missing; with more of it more is."""
    setups = (Setup(name="none", off=("battery",)), Setup(name="heavy", add=(("battery", 60.0),)))
    build = level_build(setups=setups)
    none, heavy = (bath_answer(build, name) for name in ("none", "heavy"))
    assert none.bag is None
    assert [w.code for w in none.warnings] == ["no-bag"]
    assert heavy.bag.mass_g == exact(460.0)


def test_a_measured_mass_counts_before_the_ledger():
    """Weighed whole at 1230 g, center given: the bag is that less what is aboard, by moments."""
    build = level_build(mass_g=1230.0, center_of_gravity_mm=(301.0, 0.0, 35.0))
    bag = bath_answer(build).bag
    assert bag.mass_g == exact(430.0)
    assert bag.center_of_gravity_mm[0] == exact((1230.0 * 301.0 - 800.0 * 300.0) / 430.0)


def test_a_bag_that_belongs_outside_the_skin_is_warned_of():
    """600 g at 300 and 100 g at 900 mm: the bag belongs ahead or astern of a hull of 600 mm."""
    build = build_of(
        item("hull", 600.0, 300.0, 30.0), item("tail", 100.0, 900.0, 60.0, aboard=False)
    )
    answer = bath_answer(build)
    assert answer.bag.center_of_gravity_mm[0] == exact(900.0)
    assert answer.bag.lies_at_mm is None
    said = {w.code: w.message for w in answer.warnings}
    assert "station 900, on the center plane" in said["bag-outside-skin"]
    assert answer.load.center_of_gravity_mm == exact(build.ledger.center_mm)


def test_without_places_the_bag_still_has_its_mass():
    """An item aboard without x: grams are told, place and readings are not, and it is named."""
    build = build_of(
        Item(name="hull", weighed_g=800.0),
        item("battery", 400.0, 300.0, 20.0, aboard=False),
    )
    answer = bath_answer(build)
    assert answer.bag.mass_g == exact(400.0)
    assert answer.bag.center_of_gravity_mm is None
    assert answer.readings == ()
    assert answer.rest is None
    assert answer.tub is not None
    said = {w.code: w.message for w in answer.warnings}
    assert "x_mm and z_mm of hull" in said["bag-place-unknown"]


def test_ledgers_that_say_too_little_are_refused():
    """No ledger; nothing aboard; something aboard without a mass; more aboard than she weighs."""
    battery = item("battery", 400.0, 300.0, 20.0, aboard=False)
    for build, said in (
        (build_of(mass_g=1200.0), "bath needs the weight ledger"),
        (build_of(battery), "no item of the ledger that weighs anything is aboard"),
        (build_of(Item(name="wing"), battery), "wing: aboard, but neither planned nor weighed"),
        (level_build(mass_g=700.0), "100.0 g more than the finished craft's 700 g"),
    ):
        with pytest.raises(InputError, match=said):
            bath_answer(build)


def test_something_missing_that_is_not_known_is_said():
    """A battery not bought yet: the bag is without it, and she is not all-up."""
    build = build_of(
        item("hull", 800.0, 300.0, 30.0),
        item("servos", 50.0, 300.0, 30.0, aboard=False),
        Item(name="battery", aboard=False),
    )
    answer = bath_answer(build)
    assert answer.bag.mass_g == exact(50.0)
    assert any(w.code == "not-all-up" and "battery" in w.message for w in answer.warnings)


def test_what_is_only_planned_aboard_and_sea_water_are_said():
    """The hull not weighed yet, in sea water: named both, with what to do."""
    build = build_of(
        Item(name="hull", planned_g=800.0, x_mm=300.0, z_mm=30.0),
        item("battery", 400.0, 300.0, 20.0, aboard=False),
        water=sea_water(temperature_c=15.0),
    )
    said = {w.code: w.message for w in bath_answer(build).warnings}
    assert said["aboard-planned"].startswith("aboard but not weighed: hull;")
    assert "--water fresh" in said["sea-water"]


def test_a_tip_float_that_touches_ends_the_metacentric_height():
    """Floats 4 mm clear at 380 mm abeam touch at about their height over their arm."""
    floats = [
        box_body(100.0, 20.0, 30.0, origin_mm=(250.0, y, 24.0), name=f"float {y}", role="tip float")
        for y in (380.0, -380.0)
    ]
    answer = bath_answer(level_build(bodies=(box_body(), *floats)))
    said = {w.code: w.message for w in answer.warnings}
    heel = math.degrees(math.atan2(4.0, 390.0))
    assert f"touches at {heel:.1f}° of heel" in said["tip-float-touches"]
    off = bath_answer(level_build(bodies=(box_body(), *floats)), floats_off=True)
    assert off.bodies == ("hull",)
    assert "tip-float-touches" not in {w.code for w in off.warnings}
    assert off.heel.stiffer_by_mm == pytest.approx(answer.heel.stiffer_by_mm, abs=1e-9)
    assert off.tub.overall_width_mm == pytest.approx(100.0)
    with pytest.raises(InputError, match="no tip floats"):
        bath_answer(level_build(), floats_off=True)


def test_too_heavy_a_craft_sinks_in_the_bath_too():
    """5000 g on a skin that carries 4800: 200 g too much, and it fails."""
    build = build_of(
        item("hull", 800.0, 300.0, 30.0), item("battery", 4200.0, 300.0, 20.0, aboard=False)
    )
    answer = bath_answer(build)
    assert answer.rest == "sinks"
    assert answer.short_by_g == exact(200.0)
    assert bath_fails(answer)


def test_without_marks_there_is_a_word_about_them():
    """No [[mark]]: no readings, and what to write."""
    answer = bath_answer(level_build(fittings=Fittings()))
    assert answer.readings == ()
    assert any(w.code == "no-marks" for w in answer.warnings)


def test_demo_hull_needs_room_for_her_tip_floats_only_overall():
    """They hang clear: the tub is the hull's, the overall width theirs."""
    build = Build(
        name="demo",
        bodies=demo_bodies(),
        water=WATER,
        ledger=Ledger(
            items=(
                item("hull", 430.0, 292.0, 50.0),
                item("battery", 260.0, 190.0, 24.0, aboard=False),
            )
        ),
    )
    answer = bath_answer(build)
    assert answer.rest == "upright"
    assert answer.tub.width_mm < 300.0
    assert answer.tub.overall_width_mm > 700.0
