"""What the leak tests together say of which seam leaks, as the seams' answer tells it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from hullcheck.answers.leak_suspect_records import LeakSuspects, NextTest, RepairHeld, Suspect
from hullcheck.answers.leak_suspects import leak_suspects
from hullcheck.answers.seams_suspects import (
    HeldReport,
    LeftOut,
    NextSoak,
    SoakPrediction,
    SuspectReport,
    SuspectsReport,
)
from hullcheck.craft.craft import Craft
from hullcheck.craft.logbook import Logbook
from hullcheck.craft.seam_lines import SeamLine


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspected:
    """Seams that explain the water in several tests.

    Attributes
    ----------
    inferred : mapping of str to int
        Those that must leak, or leaked until they were worked on, each with the number of the last
        test it explains.
    report : SuspectsReport
        What the tests say, with times as text.
    """

    inferred: Mapping[str, int]
    report: SuspectsReport


def suspected(craft: Craft, lines: Sequence[SeamLine], logbook: Logbook) -> Suspected:
    """Return what the tests say of which seam leaks.

    Parameters
    ----------
    craft : Craft
        As she is, without a setup.
    lines : sequence of SeamLine
        Her seams and openings.
    logbook : Logbook
        With the tests.
    """
    found = leak_suspects(logbook, craft, lines=tuple(lines))
    return Suspected(inferred=inferred_from(found, logbook), report=report_of(found))


def inferred_from(found: LeakSuspects, logbook: Logbook) -> dict[str, int]:
    """Return the seams that were named, each with the last counted test in which she gained.

    Of a seam that was worked on since, that is the last such test before the work.
    """
    gained = {entry.number: entry for entry, test in logbook.tests if not test.below_resolution}
    inferred: dict[str, int] = {}
    for one in found.named:
        tests = [
            gained[test.entry]
            for test in found.counted
            if test.entry in gained and _within(one, gained[test.entry].at)
        ]
        if tests:
            last = max(tests, key=lambda entry: (entry.at, entry.number)).number
            inferred[one.seam] = max(last, inferred.get(one.seam, 0))
    return inferred


def _within(suspect: Suspect, at: datetime) -> bool:
    """Return whether a time lies between the works that begin and end a suspect."""
    since, until = suspect.since, suspect.until
    return (since is None or since <= at) and (until is None or at <= until)


def report_of(found: LeakSuspects) -> SuspectsReport:
    """Return what the tests say, with times as text."""
    return SuspectsReport(
        verdict=found.verdict,
        named=_all(found.named),
        alone=None if found.alone is None else _one(found.alone),
        cannot_tell_between=tuple(_all(group) for group in found.cannot_tell_between),
        counted=tuple(test.entry for test in found.counted),
        left_out=tuple(LeftOut(entry=entry, why=why) for entry, why in found.left_out),
        never_wet=found.never_wet,
        repair_held=None if found.repair_held is None else _held(found.repair_held),
        next_test=None if found.next_test is None else _next(found.next_test),
    )


def _held(held: RepairHeld) -> HeldReport:
    """Return the test that shows that a repair held."""
    return HeldReport(
        entry=held.entry,
        at=held.at.isoformat(),
        gain_g=held.gain_g,
        expected_low_g=held.expected_low_g,
        expected_high_g=held.expected_high_g,
    )


def _next(test: NextTest) -> NextSoak:
    """Return the test to make next."""
    return NextSoak(
        purpose=test.purpose,
        mass_g=test.mass_g,
        ballast_g=test.ballast_g,
        trim_deg=test.trim_deg,
        heel_deg=test.heel_deg,
        held=test.held,
        minutes=test.minutes,
        predictions=tuple(
            SoakPrediction(suspects=_all(one.suspects), low_g=one.low_g, high_g=one.high_g)
            for one in test.predictions
        ),
    )


def _all(suspects: Sequence[Suspect]) -> tuple[SuspectReport, ...]:
    """Return suspects as they are reported."""
    return tuple(_one(suspect) for suspect in suspects)


def _one(suspect: Suspect) -> SuspectReport:
    """Return a suspect as it is reported."""
    since, until = suspect.since, suspect.until
    return SuspectReport(
        seam=suspect.seam,
        since=None if since is None else since.isoformat(),
        until=None if until is None else until.isoformat(),
    )
