"""Whether "dry" may be said of a seam or of the whole hull."""

from collections.abc import Sequence
from datetime import datetime

from hullcheck.answers.leak_heads import soak_of
from hullcheck.answers.leak_records import Dryness
from hullcheck.craft.craft import Craft
from hullcheck.craft.leak_ladder import at_flying_weight, grade_of
from hullcheck.craft.log_records import Entry, LeakTest, Reopening, Sealing
from hullcheck.craft.logbook import Logbook
from hullcheck.craft.seam_lines import SeamLine, seam_lines
from hullcheck.errors import InputError

_Test = tuple[Entry, LeakTest]


def dryness(
    logbook: Logbook,
    craft: Craft,
    seam: str | None = None,
    *,
    lines: Sequence[SeamLine] | None = None,
) -> Dryness:
    """Return whether "dry" may be said, and what it lacks.

    Parameters
    ----------
    logbook : Logbook
        Struck entries do not count.
    craft : Craft
        Whose weight and planned time count.
    seam : str or None
        A seam or opening; None for the whole hull.
    lines : sequence of SeamLine or None
        Her seams and openings; worked out where they are not given and a seam is asked about.

    Returns
    -------
    Dryness

    Raises
    ------
    InputError
        If there is no such seam.

    Notes
    -----
    Counted are tests since the last work on the seam (on any, for the whole hull), and since the
    last of them that let water in; for one seam those in which it lay under water, and a gain does
    not count against it where the water was seen to come in elsewhere. A dry test is one whose
    gain the scale cannot tell from nothing, with nothing seen inside, on a scale fine enough to
    tell that she is at worst damp. "Dry" needs one at flying weight (to 1 %) for the planned time,
    `[limits] time_on_water_min` or else what the tests planned, and one running at flying weight.
    """
    since = _last_work(logbook, seam)
    tests = [(e, t) for e, t in logbook.tests if since is None or e.at >= since]
    if seam is not None:
        tests = _under_water(tests, craft, seam, lines)
    wet = [i for i, (_, test) in enumerate(tests) if _let_in(test, seam)]
    later = tests[wet[-1] + 1 :] if wet else tests
    dry = [(e, t) for e, t in later if _is_dry(t, craft.mass_g)]
    heavy = [t for _, t in dry if at_flying_weight(t, craft.mass_g)]
    needed = _minutes_needed(craft, [test for _, test in tests])
    long_enough = [t for t in heavy if needed is not None and t.minutes >= needed]
    held = (bool(heavy), bool(long_enough), any(t.setup.running for t in heavy))
    words = ("flying weight", _time_words(needed), "a running test")
    return Dryness(
        seam=seam,
        since=since,
        flying_weight=held[0],
        planned_time=held[1],
        running=held[2],
        minutes_needed=needed,
        water_in=tests[wet[-1]][0].number if wet else None,
        dry_tests=tuple(entry.number for entry, _ in dry),
        lacks=tuple(word for word, holds in zip(words, held, strict=True) if not holds),
    )


def _last_work(logbook: Logbook, seam: str | None) -> datetime | None:
    """Return when a seam, or any, was last sealed or opened; None: never."""
    times = [
        entry.at
        for entry in logbook.standing
        if isinstance(entry.record, Sealing | Reopening) and seam in {None, entry.record.seam}
    ]
    return max(times, default=None)


def _under_water(
    tests: list[_Test], craft: Craft, seam: str, lines: Sequence[SeamLine] | None
) -> list[_Test]:
    """Return the tests in which a seam lay under water."""
    known = seam_lines(craft) if lines is None else lines
    line = next((one for one in known if one.name == seam), None)
    if line is None:
        names = ", ".join(one.name for one in known) or "none"
        raise InputError(f"no seam or opening {seam!r}; there are: {names}")
    return [(e, t) for e, t in tests if soak_of(craft, t.setup, [line]).wet]


def _let_in(test: LeakTest, seam: str | None) -> bool:
    """Return whether a test let water in, through a seam where one is asked about."""
    if seam is not None and test.found:
        return seam in test.found
    return bool(not test.below_resolution or test.found or test.aft_of_step or test.stream)


def _is_dry(test: LeakTest, mass_g: float) -> bool:
    """Return whether a test was dry, on a scale fine enough to say so."""
    if not test.below_resolution or test.found or test.aft_of_step or test.stream:
        return False
    return grade_of(test, flying_mass_g=mass_g).worst_grade in {"tight", "damp"}


def _minutes_needed(craft: Craft, tests: list[LeakTest]) -> float | None:
    """Return the planned time [min]: the sheet's, else the longest that a test planned."""
    if craft.limits.time_on_water_min is not None:
        return craft.limits.time_on_water_min
    planned = [t.setup.minutes_planned for t in tests if t.setup.minutes_planned is not None]
    return max(planned, default=None)


def _time_words(minutes: float | None) -> str:
    """Return the planned time in words."""
    return "a planned time" if minutes is None else f"{minutes:g} min at flying weight"
