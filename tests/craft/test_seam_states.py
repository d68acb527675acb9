"""The state of a seam by the logbook: each by its own cause alone, and what does not count."""

from datetime import UTC, datetime, timedelta

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
from hullcheck.craft.seam_states import KINDS, named_only_in_log, seam_states

BEGIN = datetime(2026, 5, 10, 18, 0, tzinfo=UTC)
NOW = BEGIN + timedelta(days=6)
SEAM = "step joint"


def soak(gain_g=0.0, *, found=(), **more):
    """Return a leak test of half an hour at 702 g on a scale of 0.1 g."""
    setup = LeakTestSetup(mass_g=702.0, before_g=702.0, plus_minus_g=0.1)
    return LeakTest(setup=setup, minutes=30.0, after_g=702.0 + gain_g, found=found, **more)


def seal(seam=SEAM, cure_h=None):
    """Return a sealing."""
    return Sealing(seam=seam, material="thin CA", cure_h=cure_h)


def book(*records, finishes=None):
    """Return a logbook of records, one a day."""
    entries = [
        Entry(
            number=i,
            at=BEGIN + timedelta(days=i - 1),
            written=BEGIN + timedelta(days=i - 1),
            record=record,
            finishes=(finishes or {}).get(i),
        )
        for i, record in enumerate(records, start=1)
    ]
    return Logbook(entries=tuple(entries))


def depths(logbook, mm=20.0):
    """Return the seam as lying so deep in every test."""
    return {entry.number: {SEAM: mm} for entry, _ in logbook.tests}


def state(logbook, *, sheet=None, mm=20.0, now=NOW, inferred=None):
    """Return the state of the seam."""
    found = seam_states(
        {SEAM: sheet}, logbook, now, depths_mm=depths(logbook, mm), inferred=inferred or {}
    )
    return found[SEAM]


DRY, WET, FOUND = soak(), soak(2.0), soak(2.0, found=(SEAM,))
OTHER, ELSEWHERE = seal("nose joint"), soak(2.0, found=("nose joint",))
OPEN = Reopening(seam=SEAM, why="cracked")
LONG_CURE = seal(cure_h=24.0 * 30)


@pytest.mark.parametrize(
    ("records", "kind", "entry"),
    [
        ((), "not stated", None),
        ((WeighIn(mass_g=702.0, plus_minus_g=1.0), Note(text="x", about=SEAM)), "not stated", None),
        ((WET,), "not stated", None),
        ((OTHER,), "never sealed", None),
        ((seal(),), "sealed", 1),
        ((DRY, seal()), "sealed", 2),
        ((seal(), WET), "sealed", 1),
        ((seal(), ELSEWHERE), "sealed", 1),
        ((seal(), soak(found=("nose joint",))), "sealed", 1),
        ((seal(), soak(stream=True)), "sealed", 1),
        ((seal(), soak(aft_of_step=True)), "sealed", 1),
        ((LONG_CURE,), "curing", 1),
        ((LONG_CURE, DRY), "curing", 1),
        ((seal(), LONG_CURE), "curing", 2),
        ((OPEN,), "re-opened", 1),
        ((seal(), OPEN), "re-opened", 2),
        ((seal(), OPEN, DRY), "re-opened", 2),
        ((seal(), DRY), "tested dry", 2),
        ((DRY,), "tested dry", 1),
        ((seal(), DRY, WET), "sealed", 1),
        ((seal(), DRY, WET, DRY), "tested dry", 4),
        ((seal(), DRY, ELSEWHERE), "tested dry", 2),
        ((seal(), soak(-0.2)), "tested dry", 2),
        ((seal(), FOUND), "leaked", 2),
        ((FOUND,), "leaked", 1),
        ((seal(), soak(found=(SEAM,))), "leaked", 2),
        ((LONG_CURE, FOUND), "leaked", 2),
        ((OPEN, FOUND), "leaked", 2),
        ((seal(), FOUND, DRY), "leaked", 2),
        ((seal(), FOUND, seal()), "repaired, not tested since", 3),
        ((seal(), OPEN, seal()), "repaired, not tested since", 3),
        ((seal(), FOUND, seal(), WET), "sealed", 3),
        ((seal(), FOUND, LONG_CURE), "curing", 3),
        ((seal(), FOUND, seal(), DRY), "tested dry", 4),
        ((seal(), FOUND, seal(), FOUND), "leaked", 4),
    ],
)
def test_states(records, kind, entry):
    """What was last done counts, and what was tested since, with the entry that says so."""
    found = state(book(*records))
    assert found.kind == kind
    assert (found.decided_by.number if found.decided_by else None) == entry


@pytest.mark.parametrize(
    ("sheet", "records", "kind"),
    [
        ("open", (), "open"),
        ("taped", (), "taped"),
        ("sealed", (), "sealed by the sheet, not in the log"),
        ("sealed", (OTHER,), "sealed by the sheet, not in the log"),
        (None, (OTHER,), "never sealed"),
        ("open", (DRY,), "open"),
        ("taped", (DRY,), "tested dry"),
        ("sealed", (FOUND,), "leaked"),
        ("open", (seal(),), "sealed"),
    ],
)
def test_an_opening_the_log_is_silent_of_is_what_the_sheet_says(sheet, records, kind):
    """The log's own work on it wins; the sheet's word alone is told apart from it."""
    assert state(book(*records), sheet=sheet).kind == kind


def test_a_seam_above_the_water_is_not_tested_dry_by_a_test():
    """Where its lowest point stands at the surface or over it, or is not known, nothing is said."""
    logbook = book(seal(), DRY)
    for mm in (-5.0, 0.0):
        assert state(logbook, mm=mm).kind == "sealed"
    assert state(logbook, mm=1e-6).kind == "tested dry"
    bare = seam_states({SEAM: None}, logbook, NOW, depths_mm={})
    assert bare[SEAM].kind == "sealed"


def test_water_found_at_a_seam_counts_wherever_it_lay():
    """A jet of spray through an opening above the water is a leak all the same."""
    assert state(book(seal(), FOUND), mm=-5.0).kind == "leaked"


def test_struck_entries_do_not_count():
    """A leak that is struck out has not leaked; a sealing that is struck out sealed nothing."""
    assert state(book(seal(), FOUND, Strike(entry=2, why="wrong seam"))).kind == "sealed"
    assert state(book(seal(), Strike(entry=1, why="never done"))).kind == "not stated"
    assert state(book(seal(), DRY, Strike(entry=2, why="scale off"))).kind == "sealed"
    assert state(book(seal(), OPEN, Strike(entry=2, why="it held"))).kind == "sealed"


def test_a_cure_ends_at_its_hour():
    """Sealed on 10 May at 18:00 with 24 h: curing to the minute before, sealed from then on."""
    logbook = book(seal(cure_h=24.0))
    end = BEGIN + timedelta(hours=24)
    assert state(logbook, now=end - timedelta(minutes=1)).kind == "curing"
    assert state(logbook, now=end).kind == "sealed"
    assert state(logbook, now=end).cured_at == end


def test_a_test_of_a_seam_that_had_not_cured_does_not_clear_it():
    """A day's cure and a test the next day at the same hour, and one that began before its end."""
    logbook = book(seal(cure_h=24.0), DRY)
    assert state(logbook).kind == "tested dry"
    assert state(book(seal(cure_h=24.5), DRY)).kind == "sealed"
    begun = book(seal(cure_h=30.0), soak().setup, DRY, finishes={3: 2})
    assert state(begun).kind == "sealed"


def test_a_test_that_began_before_the_work_does_not_count():
    """Its clock was started, the seam sealed, and only then was it finished."""
    assert state(book(soak().setup, seal(), DRY, finishes={3: 1})).kind == "sealed"


def test_what_is_inferred_leaks_until_it_is_worked_on_or_tested_dry():
    """A seam that several tests name leaks, and it is said that nobody saw it."""
    named = {SEAM: 2}
    found = state(book(seal(), WET), inferred=named)
    assert (found.kind, found.inferred, found.leak.number) == ("leaked", True, 2)
    assert state(book(seal(), WET, seal()), inferred=named).kind == "repaired, not tested since"
    assert state(book(seal(), WET, seal(), DRY), inferred=named).kind == "tested dry"
    assert state(book(seal(), WET, DRY), inferred=named).kind == "tested dry"
    assert not state(book(seal(), WET, FOUND), inferred=named).inferred


def test_water_that_is_accounted_for_elsewhere_takes_nothing_back():
    """A later gain takes "dry" back, save where it was found or worked out to be another seam's."""
    logbook = book(seal(), DRY, WET)
    assert state(logbook).kind == "sealed"
    assert state(logbook, inferred={"nose joint": 3}).kind == "tested dry"


def test_tests_are_told_by_what_they_say():
    """Dry ones clear it, others since the last work neither clear nor accuse it; sealings count."""
    found = state(book(seal(), DRY, seal(), WET, DRY, ELSEWHERE))
    assert [entry.number for entry in found.dry_tests] == [5]
    assert [entry.number for entry in found.wet_tests] == [4, 6]
    assert (found.times_sealed, found.sealing.number) == (2, 3)


def test_kinds_are_ranked_and_told_apart():
    """A leak is the worst, tested dry the best; only what is sealed or better is ready."""
    assert (KINDS[0], KINDS[-1]) == ("leaked", "tested dry")
    assert state(book(seal(), FOUND)).rank == 0
    assert state(book(seal(), DRY)).rank == len(KINDS) - 1
    ready = {kind for kind in KINDS if state_of(kind).ready}
    assert ready == {"sealed", "taped", "tested dry", "sealed by the sheet, not in the log"}


def state_of(kind):
    """Return a state of a kind."""
    from hullcheck.craft.seam_states import SeamState

    return SeamState(seam=SEAM, kind=kind)


def test_names_that_only_the_log_uses():
    """What was sealed, opened or found under a name that is no seam's, once each, by use."""
    logbook = book(seal("keel"), soak(found=("step", SEAM)), seal("keel"), Reopening(seam="bow"))
    assert named_only_in_log(logbook, [SEAM]) == ("keel", "step", "bow")


def test_the_module_loads_no_array_library():
    """The logbook's commands tell a state in the time it takes to say so."""
    import subprocess
    import sys

    code = "import sys, hullcheck.craft.seam_states; print('numpy' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
