"""Points on leaks: the last leak test, a dry run, and the time afloat against the plan."""

from collections.abc import Sequence
from datetime import datetime

from hullcheck.answers.check_evidence import CheckEvidence
from hullcheck.answers.check_point import first_cause, point
from hullcheck.answers.check_records import CheckDetail, CheckPoint
from hullcheck.answers.leak_dryness import dryness
from hullcheck.answers.leak_records import Dryness
from hullcheck.answers.time_afloat_records import TimeAfloat
from hullcheck.craft.leak_ladder import grade_of, last_telling
from hullcheck.craft.log_records import Entry, LeakTest, Reopening, Sealing


def leak_point(evidence: CheckEvidence) -> CheckPoint:
    """Return the last leak test that stands, by the sheet's limit, or without one by the ladder."""
    tests, limits = evidence.logbook.tests, evidence.craft.limits
    last = last_telling(tests, evidence.craft.mass_g)
    if last is None:
        return point("leak", "no test", "noted", limit=limits.leak_g_per_30min)
    entry, test = last
    limit = limits.leak_g_per_30min
    grade = grade_of(test, limit_g_per_30min=limit, flying_mass_g=evidence.craft.mass_g)
    work = _work_since(evidence, entry.at)
    cause = first_cause(
        "leak",
        {
            "over the limit": grade.within_limit is False,
            "leaking": limit is None and grade.grade == "leaking",
            "weeping": limit is None and grade.grade == "weeping",
            "limit in doubt": grade.limit_in_doubt,
            "damp": limit is None and grade.grade == "damp",
            "light test": grade.at_flying_weight is False,
            "before the last work": bool(work),
            "tight": limit is None,
            "within the limit": True,
        },
    )
    return point(
        "leak",
        cause,
        "tested",
        when=entry.at.isoformat(),
        value=max(grade.rate_g_per_30min, 0.0),
        plus_minus=grade.rate_plus_minus_g_per_30min,
        unit="g_per_30min",
        limit=limit,
        about=test.found if grade.passes is False else work,
        details=(
            CheckDetail(name="grade", word=grade.grade),
            CheckDetail(name="mass", value=test.setup.mass_g, unit="g"),
            CheckDetail(name="time", value=test.minutes, unit="min"),
        ),
    )


def _work_since(evidence: CheckEvidence, when: datetime) -> tuple[str, ...]:
    """Return what was sealed or opened after a time, each once."""
    standing: Sequence[Entry] = evidence.logbook.standing
    return tuple(
        dict.fromkeys(
            entry.record.seam
            for entry in standing
            if isinstance(entry.record, Sealing | Reopening) and entry.at > when
        )
    )


def running_point(evidence: CheckEvidence) -> CheckPoint:
    """Return whether she came back dry from being run at flying weight since the last work.

    Notes
    -----
    A dry soak does not clear a hull under way. The first taxi is itself that test, so what is
    lacking needs care and does not hold her back.
    """
    dry = dryness(evidence.logbook, evidence.craft)
    runs = [
        (entry, test)
        for entry, test in evidence.logbook.tests
        if test.setup.running and (dry.since is None or entry.at >= dry.since)
    ]
    return point(
        "running",
        _run_cause(evidence, [entry for entry, _ in runs], dry),
        "tested" if runs else "noted",
        when=runs[-1][0].at.isoformat() if runs else None,
        value=None if not runs else max(runs[-1][1].gain_g, 0.0),
        plus_minus=None if not runs else runs[-1][1].gain_plus_minus_g,
        unit=None if not runs else "g",
        details=() if not runs else _run_rows(runs[-1][1]),
    )


def _run_cause(evidence: CheckEvidence, runs: Sequence[Entry], dry: Dryness) -> str:
    """Return why she counts as run dry, or does not."""
    if not runs:
        return "never run"
    if dry.running:
        return "dry"
    if runs[-1].number in dry.dry_tests:
        return "run light"
    wet = next((one for one in evidence.logbook.entries if one.number == dry.water_in), None)
    return "wet since" if wet is not None and wet.at > runs[-1].at else "water came in"


def _run_rows(test: LeakTest) -> tuple[CheckDetail, ...]:
    """Return how long and how heavy she was run."""
    return (
        CheckDetail(name="time", value=test.minutes, unit="min"),
        CheckDetail(name="mass", value=test.setup.mass_g, unit="g"),
    )


def time_point(evidence: CheckEvidence) -> CheckPoint:
    """Return how long she stays within her limits with the leak of her last test.

    Notes
    -----
    A leak that the sheet only supposes tells nothing of the one she has.
    """
    flood, limit = evidence.flood, evidence.craft.limits.time_on_water_min
    found = None if flood is None else flood.time_afloat
    cause = first_cause(
        "time_afloat",
        {
            "no waterline": flood is None,
            "no test": found is None,
            "only supposed": found is not None and found.source == "sheet",
            "no limit": limit is None,
            "broken already": found is not None and found.low_min == 0.0,
            "too short": found is not None and found.holds is False,
            "long enough": True,
        },
    )
    if found is None:
        return point("time_afloat", cause, "noted", limit=limit)
    return point(
        "time_afloat",
        cause,
        "assumed" if found.source == "sheet" else "tested",
        when=None if found.entry is None else _entry_at(evidence, found.entry),
        value=found.low_min,
        unit="min",
        limit=limit,
        setup=evidence.craft.setup,
        about=(found.leaks[0].name,),
        details=_time_rows(found),
    )


def _entry_at(evidence: CheckEvidence, number: int) -> str | None:
    """Return when an entry of the logbook happened."""
    entries = evidence.logbook.entries
    return next((one.at.isoformat() for one in entries if one.number == number), None)


def _time_rows(found: TimeAfloat) -> tuple[CheckDetail, ...]:
    """Return the range of times, and what breaks first by each leak it may be."""
    return (
        CheckDetail(name="from", value=found.low_min, unit="min"),
        CheckDetail(name="to", value=found.high_min, unit="min"),
        *(
            CheckDetail(name=one.name, word=one.limited_by, value=one.least_min, unit="min")
            for one in found.leaks
        ),
    )
