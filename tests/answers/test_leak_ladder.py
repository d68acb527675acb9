"""The ladder a leak test is graded by, step by step, and the limit of the sheet beside it."""

import subprocess
import sys

import pytest
from hypothesis import given
from leak_making import soak
from strategies import uniform

from hullcheck.craft.leak_ladder import (
    ACTIONS,
    GRADES,
    STATIC_CAUTION,
    at_flying_weight,
    grade_at,
    grade_of,
    last_telling,
    worse_of,
)
from hullcheck.craft.log_records import LeakTest, LeakTestSetup
from hullcheck.errors import InputError

SHARES = [
    (0.9, "tight"),  # within about 1 g
    (1.1, "damp"),
    (5.9, "damp"),  # up to 0.5 % of 1200 g, 6 g
    (6.1, "weeping"),
    (23.9, "weeping"),  # up to 2 %, 24 g
    (24.1, "leaking"),
]


@pytest.mark.parametrize(("gain_g", "grade"), SHARES)
def test_the_ladder(gain_g, grade):
    """Tight to about 1 g, damp to 0.5 % of the mass, weeping to 2 %, leaking above: 1200 g.

    Common practice, no source.
    """
    found = grade_of(soak(gain_g, scale_g=0.01))
    assert found.grade == found.worst_grade == grade
    assert found.rate_g_per_30min == pytest.approx(gain_g)
    assert found.action == ACTIONS[grade]
    assert found.caution == STATIC_CAUTION
    assert found.because == f"{gain_g / 12.0:.2g} % of 1200 g in 30 min"


@pytest.mark.parametrize(("gain_g", "grade"), SHARES)
def test_rates_are_of_thirty_minutes(gain_g, grade):
    """The same rate over two hours has the same grade; what the scale tells counts four times."""
    found = grade_of(soak(4.0 * gain_g, minutes=120.0))
    assert found.grade == grade
    assert found.rate_g_per_30min == pytest.approx(gain_g)
    assert found.rate_plus_minus_g_per_30min == pytest.approx(0.25 * 2.0**0.5 * 0.1)


def test_a_light_hull_has_no_whole_gram():
    """For 120 g the ladder's gram is 0.8 %: weeping; 0.5 g is within 0.5 % and tight."""
    assert grade_of(soak(1.0, mass_g=120.0)).grade == "weeping"
    assert grade_of(soak(0.5, mass_g=120.0)).grade == "tight"


def test_what_the_scale_cannot_tell_is_tight_and_may_be_worse():
    """A gain within ± of both weighings is tight; five minutes on a coarse scale leave it open."""
    fine, coarse = grade_of(soak(0.1)), grade_of(soak(1.0, scale_g=1.0, minutes=5.0))
    assert (fine.grade, fine.worst_grade, fine.below_resolution) == ("tight", "tight", True)
    assert (coarse.grade, coarse.worst_grade) == ("tight", "weeping")  # 6 + 8.5 g of 1200
    assert coarse.because == "no more than the scale can tell: ±1.4 g"


def test_water_aft_of_the_step_is_weeping():
    """Any water aft of the step makes her weep, however little; more water is not made less."""
    found = grade_of(soak(0.0, aft_of_step=True))
    assert (found.grade, found.because) == ("weeping", "water aft of the step")
    assert grade_of(soak(2.0, aft_of_step=False)).grade == "damp"
    assert grade_of(soak(30.0, aft_of_step=True)).grade == "leaking"
    assert grade_of(soak(30.0, aft_of_step=True)).because == "2.5 % of 1200 g in 30 min"


def test_a_stream_is_leaking():
    """Water that comes in as a visible stream is leaking, whatever was weighed."""
    found = grade_of(soak(0.5, stream=True, aft_of_step=True))
    assert (found.grade, found.worst_grade) == ("leaking", "leaking")
    assert found.because == "water came in as a visible stream"


def test_the_sheets_limit_wins():
    """The limit decides over the ladder, both are there; within ± of it, it is in doubt."""
    over = grade_of(soak(2.6), limit_g_per_30min=1.0)
    assert (over.grade, over.within_limit, over.passes, over.limit_in_doubt) == (
        "damp",
        False,
        False,
        False,
    )
    under = grade_of(soak(7.0), limit_g_per_30min=10.0)
    assert (under.grade, under.within_limit, under.passes) == ("weeping", True, True)
    close = grade_of(soak(1.1), limit_g_per_30min=1.0)
    assert (close.within_limit, close.limit_in_doubt) == (False, True)
    none = grade_of(soak(7.0))
    assert (none.within_limit, none.passes, grade_of(soak(2.0)).passes) == (None, False, True)


def test_shares_are_of_the_flying_weight():
    """A light hull's gain is held against what she will fly at, and whether she weighed that."""
    assert grade_of(soak(3.0, mass_g=500.0)).grade == "weeping"
    light = grade_of(soak(3.0, mass_g=500.0), flying_mass_g=1000.0)
    assert (light.grade, light.mass_g, light.at_flying_weight) == ("damp", 1000.0, False)
    assert at_flying_weight(soak(mass_g=1190.0), 1200.0)  # 1 % of 1200 is 12
    assert not at_flying_weight(soak(mass_g=1187.0), 1200.0)
    assert at_flying_weight(soak(), None) is None


def test_a_wet_baseline_is_no_leak():
    """What only dipping her adds is taken off; a hull that dried out gained less than nothing."""
    found = grade_of(soak(2.0, wet_baseline_g=1.9))
    assert (found.gain_g, found.grade) == (pytest.approx(0.1), "tight")
    assert grade_of(soak(-0.4)).rate_g_per_30min == pytest.approx(-0.4)


@given(less=uniform(0.0, 50.0), more=uniform(0.0, 50.0), mass=uniform(50.0, 5000.0))
def test_more_water_is_never_a_better_grade(less, more, mass):
    """The ladder only climbs with the rate."""
    low, high = sorted((less, more))
    assert worse_of(grade_at(low, mass), grade_at(high, mass)) == grade_at(high, mass)
    assert [worse_of(grade, "damp") for grade in GRADES] == ["damp", "damp", "weeping", "leaking"]


def test_a_flying_weight_of_nothing_is_refused():
    """No share can be told of a weight that is none."""
    with pytest.raises(InputError, match=r"flying weight of 0 g: must be above 0"):
        grade_of(soak(), flying_mass_g=0.0)


def test_the_ladder_is_light():
    """A grade costs no array library: the logbook's commands print it at once."""
    code = (
        "import sys, hullcheck.craft.leak_ladder as l;"
        "print(sorted({'numpy', 'scipy', 'pydantic', 'click'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_a_test_too_short_to_tell_tells_nothing():
    """In 6 s a scale of 0.1 g leaves room for 42 g in 30 minutes: such a test is passed over."""
    setup = LeakTestSetup(mass_g=700.0, before_g=700.0, plus_minus_g=0.1)
    short = LeakTest(setup=setup, minutes=0.1, after_g=700.0)
    long = LeakTest(setup=setup, minutes=30.0, after_g=700.0)
    lost = LeakTest(setup=setup, minutes=30.0, after_g=699.0)
    assert not grade_of(short).tells
    assert grade_of(long).tells
    assert not grade_of(lost).tells
    assert "lighter than before" in grade_of(lost).because
    assert last_telling([(1, long), (2, short), (3, lost)]) == (1, long)
    assert last_telling([(2, short)]) == (2, short)
    assert last_telling([]) is None
