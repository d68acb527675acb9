"""When "dry" may be said: flying weight, planned time and a running test, after the last work."""

import pytest
from leak_making import STATIONS, book_of, line_of, seamed_box, soak

from hullcheck.answers.leak_dryness import dryness
from hullcheck.craft.limits import Limits
from hullcheck.craft.log_records import Reopening, Sealing, Strike
from hullcheck.errors import InputError

CRAFT = seamed_box(limits=Limits(time_on_water_min=15.0))
SEALED = Sealing(seam="step joint", material="epoxy")
STILL, RUN = soak(0.0), soak(0.0, running=True)


def of(*records, craft=CRAFT, seam=None):
    """Return the dryness that a logbook of records says."""
    return dryness(book_of(*records), craft, seam)


@pytest.mark.parametrize("seam", [None, "step joint"])
def test_dry(seam):
    """Still at flying weight for the planned time, and running, after the last work: dry."""
    found = of(SEALED, STILL, RUN, seam=seam)
    assert found.dry
    assert (found.lacks, found.dry_tests, found.minutes_needed) == ((), (2, 3), 15.0)


@pytest.mark.parametrize(
    ("records", "lacks"),
    [
        ((), ("flying weight", "15 min at flying weight", "a running test")),
        ((SEALED, STILL), ("a running test",)),
        ((SEALED, soak(0.0, running=True, minutes=3.0)), ("15 min at flying weight",)),
        (
            (SEALED, soak(0.0, minutes=14.0), soak(0.0, running=True, minutes=3.0)),
            ("15 min at flying weight",),
        ),
        (
            (SEALED, soak(0.0, mass_g=1000.0), soak(0.0, mass_g=1000.0, running=True)),
            ("flying weight", "15 min at flying weight", "a running test"),
        ),
        ((STILL, RUN, SEALED), ("flying weight", "15 min at flying weight", "a running test")),
        ((STILL, SEALED, RUN, Reopening(seam="step joint"), STILL), ("a running test",)),
    ],
)
def test_what_dry_lacks(records, lacks):
    """Each of the three is missed by itself, and work on a seam ends what was known."""
    for seam in (None, "step joint"):
        found = of(*records, seam=seam)
        assert not found.dry
        assert found.lacks == lacks


def test_a_running_test_of_the_planned_time_is_all():
    """One running test at flying weight for the planned time has all three."""
    assert of(SEALED, RUN).dry


def test_work_elsewhere():
    """Work on another seam undoes the hull's dryness and not the seam's."""
    records = (SEALED, STILL, RUN, Sealing(seam="nose joint", material="CA"))
    assert of(*records, seam="step joint").dry
    assert not of(*records, seam="nose joint").dry
    assert not of(*records).dry


@pytest.mark.parametrize(
    "wet",
    [soak(0.5), soak(aft_of_step=True), soak(stream=True), soak(found=("step joint",))],
)
@pytest.mark.parametrize("seam", [None, "step joint"])
def test_water_that_came_in(wet, seam):
    """A gain, water seen inside or coming in: tests before it do not count any more."""
    found = of(SEALED, STILL, RUN, wet, seam=seam)
    assert not found.dry
    assert (found.water_in, found.dry_tests) == (4, ())
    again = of(SEALED, wet, STILL, RUN, seam=seam)
    assert (again.dry, again.water_in) == (True, 2)


def test_water_seen_elsewhere():
    """Water found at another seam is none of this one's, but it is the hull's."""
    records = (SEALED, STILL, RUN, soak(3.0, found=("nose joint",)))
    assert of(*records, seam="step joint").dry
    assert not of(*records, seam="nose joint").dry
    assert not of(*records).dry


def test_a_coarse_scale_says_nothing():
    """A scale that could have missed weeping makes no test a dry one."""
    assert of(SEALED, soak(0.0, scale_g=2.0), soak(0.0, scale_g=2.0, running=True)).dry
    coarse = [soak(0.0, scale_g=10.0, running=run) for run in (False, True)]
    assert of(SEALED, *coarse).lacks == (
        "flying weight",
        "15 min at flying weight",
        "a running test",
    )


def test_a_seam_above_the_water_was_not_tested():
    """Only tests count in which the seam lay under water: a strake 40 mm up is never dry."""
    craft = seamed_box(
        limits=Limits(time_on_water_min=15.0),
        seams=(line_of("strake", [100.0, 50.0, 40.0], [500.0, 50.0, 40.0]),),
    )
    assert of(STILL, RUN, craft=craft, seam="strake").dry_tests == ()
    heavy = [soak(0.0, mass_g=3000.0, running=run) for run in (False, True)]
    assert of(*heavy, craft=craft, seam="strake").dry


def test_the_planned_time():
    """Without a time in the sheet what the tests planned counts; without either none is long."""
    free = seamed_box()
    unplanned = of(STILL, RUN, craft=free)
    assert (unplanned.minutes_needed, unplanned.lacks) == (None, ("a planned time",))
    planned = of(STILL, soak(0.0, minutes=40.0, minutes_planned=40.0, running=True), craft=free)
    assert (planned.minutes_needed, planned.dry) == (40.0, True)
    assert not of(
        STILL, soak(0.0, minutes=30.0, minutes_planned=40.0, running=True), craft=free
    ).dry


def test_struck_entries_do_not_count():
    """A struck test is none, and a struck repair undoes nothing."""
    assert not of(SEALED, STILL, RUN, Strike(entry=3, why="not run")).dry
    assert of(SEALED, STILL, RUN, SEALED, Strike(entry=4, why="other hull")).dry


def test_a_seam_that_is_not_there():
    """An unknown seam is refused with those there are."""
    with pytest.raises(InputError, match=r"no seam or opening 'keel'; there are: nose joint, step"):
        of(STILL, seam="keel")
    assert "step joint" in STATIONS
