"""Records of the logbook: valid or never made, and what counts of them."""

import math
from datetime import UTC, datetime

import pytest

from hullcheck.craft.log_records import (
    Entry,
    LeakTest,
    LeakTestSetup,
    Note,
    Reopening,
    Sealing,
    Strike,
    WeighIn,
)
from hullcheck.craft.logbook import Logbook
from hullcheck.errors import InputError

SETUP = {"mass_g": 702.0, "before_g": 702.0, "plus_minus_g": 0.1}


def entry(number, record, *, day=12, **more):
    """Return an entry of a day in May."""
    at = datetime(2026, 5, day, 18, 30, tzinfo=UTC)
    return Entry(number=number, at=at, written=at, record=record, **more)


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: WeighIn(mass_g=0.0, plus_minus_g=1.0), "a mass of 0 g: must be above 0"),
        (lambda: WeighIn(mass_g=math.nan, plus_minus_g=1.0), "mass_g nan: not a finite number"),
        (lambda: WeighIn(mass_g=1.0, plus_minus_g=-1.0), "plus_minus_g -1: must not be below 0"),
        (lambda: Sealing(seam=" ", material="CA"), "the seam has no text"),
        (lambda: Sealing(seam="x", material=""), "the material has no text"),
        (lambda: Sealing(seam="x", material="CA", cure_h=-2.0), "cure_h -2: must not be below 0"),
        (lambda: Reopening(seam=""), "the seam has no text"),
        (lambda: LeakTestSetup(**SETUP | {"before_g": 0.0}), "before_g 0 g: must be above 0"),
        (lambda: LeakTestSetup(**SETUP, water="beer"), "water 'beer' is none of"),
        (lambda: LeakTestSetup(**SETUP, trim_deg=math.inf), "trim_deg inf: not a finite number"),
        (
            lambda: LeakTest(setup=LeakTestSetup(**SETUP), minutes=0.0, after_g=703.0),
            "a test of 0 min: must last longer than 0",
        ),
        (
            lambda: LeakTest(setup=LeakTestSetup(**SETUP), minutes=1.0, after_g=703.0, found=("",)),
            "the seam has no text",
        ),
        (lambda: Note(text="\n"), "the note has no text"),
        (lambda: Strike(entry=0, why="x"), "entry 0: entries are numbered from 1"),
        (lambda: Strike(entry=1, why=""), "the reason has no text"),
        (lambda: entry(0, Note(text="x")), "entry 0: entries are numbered from 1"),
    ],
)
def test_what_makes_no_sense_is_never_made(make, message):
    """Each refusal names the value."""
    with pytest.raises(InputError, match=message):
        make()


def test_the_gain_of_a_test_by_hand():
    """After less before less the film outside; two weighings to 0.1 g know it to 0.1·√2."""
    setup = LeakTestSetup(**SETUP, wet_baseline_g=0.6)
    test = LeakTest(setup=setup, minutes=30.0, after_g=705.2)
    assert test.gain_g == pytest.approx(2.6)
    assert test.gain_plus_minus_g == pytest.approx(math.hypot(0.1, 0.1))
    assert test.rate_g_per_min == pytest.approx(2.6 / 30.0)
    assert not test.below_resolution
    assert LeakTest(setup=setup, minutes=30.0, after_g=702.7).below_resolution


def test_a_struck_entry_counts_no_more_and_stays():
    """Standing entries by when they happened; strikes among neither, but told."""
    book = Logbook(
        entries=(
            entry(1, WeighIn(mass_g=70.0, plus_minus_g=1.0), day=14),
            entry(2, WeighIn(mass_g=702.0, plus_minus_g=1.0), day=13),
            entry(3, Strike(entry=1, why="a digit short"), day=15),
            entry(4, Note(text="earlier"), day=12),
        )
    )
    assert [one.number for one in book.standing] == [4, 2]
    assert [one.number for one, _ in book.weigh_ins] == [2]
    assert set(book.strikes) == {1}
    assert len(book.entries) == 4


def test_the_clock_runs_until_its_test_is_finished():
    """A start that was finished or struck out runs no more."""
    setup = LeakTestSetup(**SETUP)
    done = LeakTest(setup=setup, minutes=30.0, after_g=702.0)
    started = (entry(1, setup), entry(2, setup, day=13))
    assert Logbook(entries=started).running_test[0].number == 2
    finished = (*started, entry(3, done, day=14, finishes=2))
    assert Logbook(entries=finished).running_test[0].number == 1
    struck = (*finished, entry(4, Strike(entry=1, why="forgotten"), day=15))
    assert Logbook(entries=struck).running_test is None


def test_work_on_a_seam_is_told_by_time():
    """Sealings and re-openings of that seam and no other."""
    sealed = Sealing(seam="step joint", material="CA")
    opened = Reopening(seam="step joint")
    book = Logbook(
        entries=(
            entry(1, opened, day=14),
            entry(2, sealed, day=13),
            entry(3, Sealing(seam="nose joint", material="CA")),
        )
    )
    assert [record for _, record in book.work_on("step joint")] == [sealed, opened]


def test_entries_out_of_order_are_refused():
    """Numbers go up."""
    with pytest.raises(InputError, match="out of order"):
        Logbook(entries=(entry(2, Note(text="x")), entry(1, Note(text="x"))))


def test_the_book_as_it_stood():
    """What was written later is not in it, strikes among it."""
    wrong = entry(1, Note(text="wrong"), day=12)
    strike = entry(2, Strike(entry=1, why="was another hull"), day=14)
    book = Logbook(entries=(wrong, strike))
    assert book.standing == ()
    assert book.as_of(wrong.written).standing == (wrong,)
    assert book.as_of(strike.written) == book
