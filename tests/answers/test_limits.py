"""Limits held against how she floats: at the limit she keeps it, beyond she does not."""

import math

import numpy as np
import pytest
from crafts import box_craft, opening_at
from hypothesis import given, settings
from strategies import uniform

from hullcheck.answers.float_answer import float_answer
from hullcheck.answers.limits import limit_checks, slack
from hullcheck.answers.setups_answer import fails
from hullcheck.craft.limits import Limits

ALL = Limits(freeboard_mm=15.0, trim_deg=(-1.0, 4.0), heel_deg=3.0)


def checks(**values):
    """Return the checks of all three limits by name."""
    found = {"freeboard_mm": 20.0, "trim_deg": 0.0, "heel_deg": 0.0, **values}
    return {check.name: check for check in limit_checks(ALL, **found)}


@pytest.mark.parametrize(
    ("name", "value", "left"),
    [
        ("freeboard_mm", 15.0, 0.0),
        ("freeboard_mm", 17.5, 2.5),
        ("freeboard_mm", np.nextafter(15.0, 0.0), -1.8e-15),
        ("freeboard_mm", -4.0, -19.0),
        ("trim_deg", -1.0, 0.0),
        ("trim_deg", 4.0, 0.0),
        ("trim_deg", 3.0, 1.0),
        ("trim_deg", -1.25, -0.25),
        ("trim_deg", 4.25, -0.25),
        ("heel_deg", 3.0, 0.0),
        ("heel_deg", -3.0, 0.0),
        ("heel_deg", -2.0, 1.0),
        ("heel_deg", 3.5, -0.5),
        ("heel_deg", -3.5, -0.5),
    ],
)
def test_a_limit_holds_up_to_itself(name, value, left):
    """Slack is the distance to the nearer end, by subtraction here; 0 still holds."""
    check = checks(**{name: value})[name]
    assert slack(check) == pytest.approx(left, abs=1e-15)
    assert check.ok == (left >= 0.0)
    assert check.value == (abs(value) if name == "heel_deg" else value)
    others = [other for other in checks(**{name: value}).values() if other.name != name]
    assert all(other.ok for other in others)


def test_nothing_holds_where_she_sinks():
    """Without a waterline there is no value, and no limit is kept."""
    found = checks(freeboard_mm=None, trim_deg=None, heel_deg=None)
    assert [(c.name, c.value, c.ok) for c in found.values()] == [
        ("freeboard_mm", None, False),
        ("trim_deg", None, False),
        ("heel_deg", None, False),
    ]
    assert {slack(check) for check in found.values()} == {-math.inf}


def test_only_limits_that_are_set_and_about_floating_are_checked():
    """Time on the water and leaks are not about how she floats; what is None is no limit."""
    idle = Limits(time_on_water_min=15.0, leak_g_per_30min=1.0)
    assert limit_checks(idle, freeboard_mm=1.0, trim_deg=0.0, heel_deg=0.0) == ()
    assert not idle.afloat
    assert not Limits().afloat
    for one in ({"freeboard_mm": 0.0}, {"trim_deg": (0.0, 1.0)}, {"heel_deg": 0.0}):
        limits = Limits(**one)
        assert limits.afloat
        (check,) = limit_checks(limits, freeboard_mm=1.0, trim_deg=0.5, heel_deg=0.0)
        assert check.name in one
        assert check.limit == one[check.name]


@settings(max_examples=30)
@given(uniform(10.0, 30.0), uniform(290.0, 310.0), uniform(-2.0, 2.0))
def test_an_answer_holds_its_own_values_against_the_limits(z, x, y):
    """The checks of an answer are made of the very freeboard, trim and heel that it gives."""
    hatch = opening_at((120.0, 30.0, 20.0 + z))
    answer = float_answer(box_craft(cg=(x, y, 30.0), openings=(hatch,), limits=ALL))
    found = {check.name: check for check in answer.limits}
    assert found["freeboard_mm"].value == answer.freeboard_mm.least
    assert found["freeboard_mm"].ok == (answer.freeboard_mm.least >= 15.0)
    assert found["trim_deg"].value == answer.trim_deg
    assert found["trim_deg"].ok == (-1.0 <= answer.trim_deg <= 4.0)
    assert found["heel_deg"].value == abs(answer.heel_deg)
    assert found["heel_deg"].ok == (abs(answer.heel_deg) <= 3.0)
    assert fails(answer) == (not all(check.ok for check in found.values()))
    assert (answer.margin_g == 0.0) == fails(answer)


def test_a_sunk_craft_breaks_every_limit_and_has_no_grams_left():
    """A box that carries 4800 g sinks at 5000: no grams left, and "sinks" is why."""
    answer = float_answer(box_craft(mass_g=5000.0, limits=ALL))
    assert [check.ok for check in answer.limits] == [False] * 3
    assert (answer.margin_g, answer.margin_limited_by) == (0.0, "sinks")
    assert fails(answer)
    without = float_answer(box_craft(mass_g=5000.0))
    assert without.limits == ()
    assert (without.margin_g, without.margin_limited_by) == (None, None)
    assert fails(without)


def test_held_level_no_limit_is_checked():
    """Without a center of gravity she has no trim or heel of her own, nor grams left."""
    answer = float_answer(box_craft(cg=None, limits=ALL))
    assert answer.limits == ()
    assert (answer.margin_g, answer.margin_limited_by, answer.margin_at) == (None, None, None)
    assert not fails(answer)


def test_a_craft_without_limits_fails_only_on_her_back_or_under():
    """A box with its CG 300 mm up falls over, beyond 45°: that fails without any limit."""
    assert not fails(float_answer(box_craft()))
    over = float_answer(box_craft(cg=(300.0, 0.0, 300.0)))
    assert over.rest == "capsized"
    assert fails(over)
