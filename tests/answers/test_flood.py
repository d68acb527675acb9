"""Water inside: bilge levels, CG and stability in closed form; open compartments; what fails."""

import dataclasses
import math

import numpy as np
import pytest
from crafts import body_of
from flood_making import (
    EQUIPMENT,
    LEAK,
    LIMITS,
    answered,
    answered_briefly,
    box_build,
    hole,
    logbook_of,
)
from step_hulls import stepped_craft

from hullcheck.answers.flood_answer import flood_answer, flood_fails
from hullcheck.answers.flood_asked import Asked, nose_up
from hullcheck.answers.step_answer import step_answer
from hullcheck.craft.fittings import Equipment, Fittings
from hullcheck.craft.limits import Limits
from hullcheck.errors import InputError
from hullcheck.report.as_json import json_text

MIDDLE_MM2 = 300.0 * 100.0
"""Floor of the middle room of the box of 600 × 100 × 80 mm, 1200 g, 20 mm deep."""
JOINT = ("middle joint",)


def _case(answer, compartment, grams):
    """Return a case of water."""
    return next(
        one for one in answer.water_cases if (one.compartment, one.water_g) == (compartment, grams)
    )


def _open(answer, *names):
    """Return the state with compartments open."""
    return next(one.state for one in answer.open_cases if one.compartments == names)


def test_bilge_levels_of_a_box_in_closed_form():
    """90 g on a floor of 300 cm² stand 3 mm deep; run aft at 1° the level is a line through that.

    Depth at x is w/A + (x − x_c) tan τ while the floor is wet all over; along the normal cos τ of
    it. 1° over ±150 mm is 2.6 mm, less than 3.
    """
    asked = {"grams": (90.0,), "nose_up_deg": 1.0, "bilge": (("low", (420.0, 0.0, 0.0)),)}
    case = _case(answered(box_build(), **asked), "hull 2", 90.0)
    rest = {one.name: one.level_mm for one in case.state.bilge}
    # She rests level: the water's center is the room's, amidships, under her CG.
    assert rest["low"] == pytest.approx(3.0, rel=1e-9)
    assert rest["battery"] == pytest.approx(3.0 - 6.0, rel=1e-9)
    aft = {one.name: one for one in case.nose_up.bilge}
    slope = math.radians(1.0)
    for name, x, z in (("low", 420.0, 0.0), ("battery", 200.0, 6.0), ("receiver", 400.0, 30.0)):
        depth = 3.0 + (x - 300.0) * math.tan(slope) - z
        assert aft[name].level_mm == pytest.approx(depth * math.cos(slope), rel=1e-9)
        assert aft[name].wet == (depth > 0.0)


def test_equipment_gets_wet_at_its_own_height():
    """6 mm over the floor: dry with a hair less than 6 mm of water, wet with a hair more."""
    answer = answered(box_build(), grams=(179.9, 180.1))
    for grams, wet in ((179.9, False), (180.1, True)):
        levels = {one.name: one for one in _case(answer, "hull 2", grams).state.bilge}
        assert levels["battery"].wet is wet
        assert levels["battery"].compartment == "hull 2"
        assert levels["receiver"].wet is False
    # What lies in another room stays dry, whatever is in this one.
    other = Fittings(equipment=(Equipment(item="horn", lowest_mm=(100.0, 0.0, 1.0)),))
    far = answered(box_build(fittings=other), grams=(180.0,))
    assert not _case(far, "hull 2", 180.0).state.wet
    assert _case(far, "hull 1", 180.0).state.wet == ("horn",)


def test_what_is_in_no_compartment_is_wet_by_the_sea():
    """A motor beside the hull is dry over the waterline and wet under it."""
    for z, wet in ((21.0, False), (19.0, True)):
        beside = Equipment(item="motor", lowest_mm=(300.0, 80.0, z))
        state = answered_briefly(box_build(fittings=Fittings(equipment=(beside,)))).state
        assert (state.bilge[0].compartment, state.bilge[0].wet) == (None, wet)


def test_a_wedge_of_water_run_aft_in_closed_form():
    """90 g at 20°: a wedge of ½ l² tan τ = 900 mm² against the bulkhead, its center l/3 from it."""
    answer = answered(box_build(), grams=(90.0,), nose_up_deg=20.0)
    up = _case(answer, "hull 2", 90.0).nose_up
    reach = math.sqrt(2.0 * 900.0 / math.tan(math.radians(20.0)))
    at = 450.0 - reach / 3.0
    assert up.centroid_mm[0] == pytest.approx(at, rel=1e-9)
    assert up.centroid_mm[2] == pytest.approx(reach * math.tan(math.radians(20.0)) / 3.0, rel=1e-9)
    x = (1200.0 * 300.0 + 90.0 * at) / 1290.0
    assert up.center_of_gravity_mm[0] == pytest.approx(x, rel=1e-12)
    assert up.pools == 1
    low, high = 280.0, 310.0
    assert up.behind_band_mm == pytest.approx(max(x - high, 0.0) - max(low - x, 0.0))
    assert answer.nose_up_from == "as asked"


def test_the_band_has_two_ends():
    """Behind it is above 0, ahead of it below, in it 0; without one it is None."""
    answer = answered(box_build(), grams=(400.0,), nose_up_deg=2.0)
    assert answer.dry_behind_band_mm == 0.0
    assert _case(answer, "hull 3", 400.0).nose_up.behind_band_mm > 0.0
    assert _case(answer, "hull 1", 400.0).nose_up.behind_band_mm < 0.0
    bare = answered(box_build(cg_range_mm=None), grams=(100.0,))
    assert _case(bare, "hull 3", 100.0).nose_up.behind_band_mm is None
    assert "no-cg-range" in {one.code for one in bare.warnings}


def test_free_surface_takes_its_moment_over_the_volume():
    """i/V with i = l b³/12 of the middle room and V that of 1290 g; the rest is frozen water's."""
    state = _case(answered(box_build(), grams=(90.0,)), "hull 2", 90.0).state
    loss = 300.0 * 100.0**3 / 12.0 / 1290e3
    assert state.free_surface_loss_mm.transverse == pytest.approx(loss, rel=1e-9)
    draft = 1290.0 / 60.0
    center = (1200.0 * 30.0 + 90.0 * 1.5) / 1290.0
    height = draft / 2.0 + 100.0**2 / (12.0 * draft) - center - loss
    assert state.metacentric_height_mm.transverse == pytest.approx(height, rel=1e-9)
    assert state.freeboard_mm == pytest.approx(70.0 - draft, rel=1e-9)


def test_compartments_open_to_the_sea():
    """Amidships d = m/(ρ(A − A_c)); two neighbors leave 150 mm of her: 1200 g is all of it."""
    answer = answered(box_build())
    names = [one.compartments for one in answer.open_cases]
    assert names == [("hull 1",), ("hull 2",), ("hull 3",), ("hull 1", "hull 2"),
                     ("hull 2", "hull 3")]  # fmt: skip
    middle = _open(answer, "hull 2")
    assert middle.freeboard_mm == pytest.approx(70.0 - 1200e3 / 30000.0, rel=1e-9)
    assert _open(answer, "hull 1").trim_deg == pytest.approx(-_open(answer, "hull 3").trim_deg)
    assert _open(answer, "hull 1").trim_deg < 0.0
    both = _open(answer, "hull 1", "hull 2")
    assert (both.rest, both.short_by_g) == ("sinks", pytest.approx(0.0, abs=1e-6))
    heavy = answered(box_build(mass_g=1300.0))
    assert _open(heavy, "hull 1", "hull 2").short_by_g == pytest.approx(100.0, rel=1e-9)


def test_what_is_asked_about_stands_in_the_compartments():
    """Water aboard and the sea in what is open, with levels, centers and pools."""
    answer = answered(box_build(), aboard={"hull 1": 60.0}, opened=("hull 2",))
    one, two, three = answer.compartments
    assert (one.water_g, one.open_to_sea, len(one.pools)) == (60.0, False, 1)
    assert two.open_to_sea
    assert two.surface_height_mm == answer.state.height_mm
    assert two.water_g == pytest.approx(1e3 * two.pools[0].volume_cm3 / 1e3, rel=1e-9)
    assert (three.water_g, three.surface_height_mm, three.pools) == (0.0, None, ())
    assert answer.state.mass_g == pytest.approx(1260.0)
    # Bow down: its own level lies lower than the sea's, and its water in the bow.
    assert one.surface_height_mm < two.surface_height_mm
    assert one.centroid_mm[0] < 75.0


def test_more_water_never_lifts_her():
    """Freeboard falls with the grams in one room; the level there rises."""
    answer = answered(box_build(), grams=tuple(np.linspace(20.0, 500.0, 9)))
    cases = [one for one in answer.water_cases if one.compartment == "hull 2"]
    heights = [one.state.freeboard_mm for one in cases]
    levels = [one.state.bilge[0].level_mm for one in cases]
    assert heights == sorted(heights, reverse=True)
    assert levels == sorted(levels)


def test_what_does_not_fit_is_left_out_or_refused():
    """A room of 1200 cm³ holds no 1300 g: no such case; asked for outright it is refused."""
    answer = answered(box_build(), grams=(1300.0,))
    assert {one.compartment for one in answer.water_cases} == {"hull 2"}
    with pytest.raises(InputError, match="hull 1: 1300 g of water do not fit in it; it holds 1200"):
        answered(box_build(), aboard={"hull 1": 1300.0})


def test_only_what_is_asked_about_fails():
    """Unasked she sinks with two rooms open, and a leak of the sheet is but supposed: no failure.

    A limit broken with what is asked, too short a time by the last test or by a leak asked about:
    failures.
    """
    leaky = Fittings(leaks=(dataclasses.replace(LEAK, diameter_mm=10.0),), equipment=EQUIPMENT)
    unasked = answered_briefly(box_build(fittings=leaky))
    assert unasked.time_afloat.holds is False
    assert not flood_fails(unasked)
    assert not flood_fails(answered_briefly(box_build(), aboard={"hull 2": 90.0}))
    assert flood_fails(answered_briefly(box_build(), aboard={"hull 3": 700.0}))
    assert flood_fails(answered_briefly(box_build(), opened=("hull 1", "hull 2")))
    assert flood_fails(answered_briefly(box_build(), breaches=(hole(10.0, (300.0, 0.0, 0.0)),)))
    assert not flood_fails(answered_briefly(box_build(), breaches=(hole(0.1, (300.0, 0.0, 0.0)),)))
    assert not flood_fails(answered_briefly(box_build(), logbook_of(2.0, found=JOINT)))
    assert flood_fails(answered_briefly(box_build(), logbook_of(900.0, found=JOINT)))
    free = box_build(limits=dataclasses.replace(LIMITS, time_on_water_min=None))
    assert not flood_fails(answered_briefly(free, logbook_of(900.0, found=JOINT)))


def test_the_nose_comes_up_as_far_as_the_sternpost_lets_it():
    """Of a stepped hull by its own rotation; 8° by rule of thumb where there is no step."""
    craft = stepped_craft()
    angle, why = nose_up(craft, Asked())
    turn = step_answer(craft).rotation
    assert angle == turn.body_deg
    assert turn.touches in why
    assert nose_up(box_build().craft(), Asked())[0] == 8.0


def test_names_and_numbers_that_are_none_are_refused():
    """With what there is instead."""
    with pytest.raises(InputError, match="no compartment 'hull 9'; she has: 'hull 1', 'hull 2'"):
        answered(box_build(), opened=("hull 9",))
    with pytest.raises(InputError, match=r"'servo' is no equipment with lowest_mm .*'battery'"):
        answered(box_build(), bilge=(("servo", None),))
    with pytest.raises(InputError, match="open to the sea, so it cannot hold"):
        answered(box_build(), opened=("hull 1",), aboard={"hull 1": 5.0})
    with pytest.raises(InputError, match="nose up 75°: must be from -60 to 60"):
        Asked(nose_up_deg=75.0)
    with pytest.raises(InputError, match="-1 g of water: must be above 0"):
        Asked(grams=(-1.0,))
    with pytest.raises(InputError, match="where her CG is decides where water runs"):
        flood_answer(box_build(center_of_gravity_mm=None))
    with pytest.raises(InputError, match="at 5000 g she sinks without any water in her"):
        flood_answer(box_build(mass_g=5000.0))


def test_the_same_build_gives_the_same_document():
    """Twice the same bytes, whatever the order of names."""
    one, two = (
        answered(box_build(), aboard=aboard)
        for aboard in ({"hull 1": 10.0, "hull 3": 10.0}, {"hull 3": 10.0, "hull 1": 10.0})
    )
    same = json_text(one) == json_text(two)
    assert same
    log = logbook_of(3.0, found=("middle joint",))
    same = json_text(answered(box_build(), log)) == json_text(answered(box_build(), log))
    assert same


def test_work_since_the_test_and_a_light_test_are_said():
    """And that a dry soak does not clear a hull under way."""
    said = {
        one.code for one in answered_briefly(box_build(), logbook_of(3.0, mass_g=900.0)).warnings
    }
    assert {"static-test", "light-test", "place-of-leak"} <= said
    assert "no-leak-known" in {one.code for one in answered_briefly(box_build()).warnings}


def test_large_craft_are_no_matter_for_this_program():
    """Over 25 kg or 5 m the answer says so first."""
    large = body_of(10.0 * np.asarray(box_build().bodies[0].shell.triangles_mm))
    build = box_build(
        bodies=(large,), mass_g=1.2e6, center_of_gravity_mm=(3000.0, 0.0, 300.0),
        structures={}, limits=Limits(), fittings=Fittings(), openings=(),
    )  # fmt: skip
    assert answered_briefly(build).warnings[0].code == "person-scale"
