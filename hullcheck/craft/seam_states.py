"""What the logbook says of each seam: never sealed, curing, sealed, tested dry, leaked, re-opened.

Nothing here knows an array library or a clock: depths in a test and the present time come in.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, Literal, get_args

from hullcheck.craft.leak_ladder import grade_of
from hullcheck.craft.log_records import Entry, LeakTest, Reopening, Sealing
from hullcheck.craft.logbook import Logbook

if TYPE_CHECKING:
    from hullcheck.craft.openings import State

StateKind = Literal[
    "leaked",
    "re-opened",
    "open",
    "not stated",
    "never sealed",
    "taped",
    "repaired, not tested since",
    "curing",
    "sealed by the sheet, not in the log",
    "sealed",
    "tested dry",
]
"""What a seam may be, the worst first.

"open", "taped", "sealed by the sheet, not in the log": openings the log tells nothing of. "never
sealed": the log tells of sealing work, but of none on this seam. "not stated": nothing does.
"""

KINDS: Final[tuple[StateKind, ...]] = get_args(StateKind)
Depths = Mapping[int, Mapping[str, float]]
_OF_SHEET: Final[Mapping[str, StateKind]] = MappingProxyType(
    {"open": "open", "taped": "taped", "sealed": "sealed by the sheet, not in the log"}
)
_NONE: Final[Mapping[str, int]] = MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamState:
    """What the logbook says of one seam or opening.

    Attributes
    ----------
    seam : str
        The seam or opening.
    kind : str
        One of `KINDS`.
    decided_by : Entry or None
        The entry that says so; None where none does.
    sealing : Entry or None
        The last sealing that stands, whatever came after.
    times_sealed : int
        How often, by the log: a seam sealed again and again usually flexes there.
    cured_at : datetime or None
        When its last sealing is cured; None where no time was noted, or it was re-opened since.
    leak : Entry or None
        The last leak test in which it leaked; it may have been sealed since.
    inferred : bool
        Whether "leaked" was not seen but worked out from several tests.
    dry_tests : tuple of Entry
        Leak tests since its last work, on cured material, in which it lay under water and nothing
        came in; none before one in which water came in that nothing accounts for.
    wet_tests : tuple of Entry
        Those in which it lay under water and water came in, found elsewhere or nowhere.
    """

    seam: str
    kind: StateKind
    decided_by: Entry | None = None
    sealing: Entry | None = None
    times_sealed: int = 0
    cured_at: datetime | None = None
    leak: Entry | None = None
    inferred: bool = False
    dry_tests: tuple[Entry, ...] = ()
    wet_tests: tuple[Entry, ...] = ()

    @property
    def rank(self) -> int:
        """How bad its state is, 0 the worst."""
        return KINDS.index(self.kind)

    @property
    def ready(self) -> bool:
        """Whether nothing in its state says that it must be worked on or waited for first."""
        return self.kind in {"tested dry", "sealed", "sealed by the sheet, not in the log", "taped"}


@dataclass(frozen=True, slots=True, kw_only=True)
class _History:
    """The book, what it was told of depths and suspects, and the present time."""

    logbook: Logbook
    now: datetime
    depths_mm: Depths
    inferred: Mapping[str, int]
    starts: Mapping[int, datetime] = field(default_factory=dict)

    def began(self, entry: Entry) -> datetime:
        """Return when a leak test began, as near as the book knows."""
        return self.starts.get(entry.finishes or 0, entry.at)


def seam_states(
    seams: Mapping[str, "State | None"],
    logbook: Logbook,
    now: datetime,
    *,
    depths_mm: Depths,
    inferred: Mapping[str, int] = _NONE,
) -> dict[str, SeamState]:
    """Return the state of seams and openings by the logbook.

    Parameters
    ----------
    seams : mapping of str to str or None
        Names of seams and openings, with what the build sheet says of an opening: "open", "taped",
        "sealed", or None.
    logbook : Logbook
        Entries that were struck out do not count.
    now : datetime
        With its zone. Entries of later times count too: clocks differ.
    depths_mm : mapping of int to mapping of str to float
        For each leak test by the number of its entry, how deep each seam's lowest point lay
        [mm]; not above 0 where it stood clear of the water. A test or a seam that is missing
        says nothing, save of the water that was found there.
    inferred : mapping of str to int
        Seams that explain the water in several tests, with the number of the last of these tests.

    Returns
    -------
    dict of str to SeamState
        In the order of `seams`.

    Notes
    -----
    What was last done to a seam counts, and what was tested since. A test clears the seams that
    were under water in it only if the whole hull gained nothing and no water was seen inside; one
    of a seam that had not cured, or stood above the water, does not clear it, and a later one in
    which water came in, with the seam under it and nothing found or worked out elsewhere, takes
    that back. A seam in which water was found has leaked until it is sealed again: a leak that runs
    dry by itself, as joints swell, is not mended (common practice, no source). Nothing clears a
    seam that was re-opened but sealing it.
    """
    starts = {entry.number: entry.at for entry in logbook.entries}
    history = _History(
        logbook=logbook, now=now, depths_mm=depths_mm, inferred=inferred, starts=starts
    )
    told = any(isinstance(entry.record, Sealing) for entry in logbook.standing)
    return {name: _state(history, name, sheet, told=told) for name, sheet in seams.items()}


def named_only_in_log(logbook: Logbook, seams: Iterable[str]) -> tuple[str, ...]:
    """Return names the standing entries use for seams that are none of these, in order of use."""
    known, found = set(seams), dict[str, None]()
    for entry in logbook.standing:
        record = entry.record
        if isinstance(record, Sealing | Reopening):
            found[record.seam] = None
        elif isinstance(record, LeakTest):
            found.update(dict.fromkeys(record.found))
    return tuple(name for name in found if name not in known)


def _state(history: _History, name: str, sheet: "State | None", *, told: bool) -> SeamState:
    """Return the state of one seam; `told`: the log tells of sealing work on any."""
    work = history.logbook.work_on(name)
    last = work[-1][0] if work else None
    sealings = [(entry, record) for entry, record in work if isinstance(record, Sealing)]
    reopened = last is not None and isinstance(last.record, Reopening)
    cured_at = None
    if sealings and not reopened and sealings[-1][1].cure_h is not None:
        cured_at = sealings[-1][0].at + timedelta(hours=sealings[-1][1].cure_h)
    tests = _Tests.of(history, name, last, cured_at)
    leak, inferred = tests.leak
    kind, decided = _kind(history, tests, sheet, last, told=told, cured_at=cured_at)
    return SeamState(
        seam=name,
        kind=kind,
        decided_by=decided,
        sealing=sealings[-1][0] if sealings else None,
        times_sealed=len(sealings),
        cured_at=cured_at,
        leak=leak,
        inferred=inferred and kind == "leaked",
        dry_tests=tests.dry,
        wet_tests=tests.wet,
    )


def _kind(
    history: _History,
    tests: "_Tests",
    sheet: "State | None",
    last: Entry | None,
    *,
    told: bool,
    cured_at: datetime | None,
) -> tuple[StateKind, Entry | None]:
    """Return what a seam is, and the entry that says so: the first cause that holds."""
    leak, _ = tests.leak
    opened = last is not None and isinstance(last.record, Reopening)
    untold: StateKind = "never sealed" if told else "not stated"
    causes: tuple[tuple[bool, StateKind, Entry | None], ...] = (
        (leak is not None and tests.is_since(leak), "leaked", leak),
        (opened, "re-opened", last),
        (cured_at is not None and history.now < cured_at, "curing", last),
        (last is None and sheet == "open", "open", None),
        (bool(tests.dry), "tested dry", tests.dry[-1] if tests.dry else None),
        (last is not None and tests.was_bad and not tests.wet, "repaired, not tested since", last),
        (last is not None, "sealed", last),
        (sheet is None, untold, None),
        (True, _OF_SHEET.get(sheet or "", untold), None),
    )
    return next((kind, entry) for holds, kind, entry in causes if holds)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tests:
    """What leak tests say of one seam."""

    last_work: Entry | None
    leak: tuple[Entry | None, bool]
    dry: tuple[Entry, ...]
    wet: tuple[Entry, ...]
    was_bad: bool

    @classmethod
    def of(
        cls, history: _History, name: str, last: Entry | None, cured_at: datetime | None
    ) -> "_Tests":
        """Return what tests say of a seam whose last work is an entry."""
        dry: list[Entry] = []
        wet: list[Entry] = []
        found: list[Entry] = []
        inferred: Entry | None = None
        for entry, test in history.logbook.tests:
            if name in test.found:
                found.append(entry)
                continue
            if history.inferred.get(name) == entry.number:
                inferred = entry
            under = history.depths_mm.get(entry.number, {}).get(name, 0.0) > 0.0
            if not under or (last is not None and _before(history, entry, last)):
                continue
            if not _came_out_dry(test):
                wet.append(entry)
                if not (test.found or entry.number in history.inferred.values()):
                    # It may be this seam: what cleared it before does so no more.
                    dry.clear()
            elif cured_at is None or history.began(entry) >= cured_at:
                dry.append(entry)
        leak, by_numbers = _telling(found), False
        newer = inferred is not None and (leak is None or _order(leak) < _order(inferred))
        if newer and not (dry and inferred is not None and _order(inferred) < _order(dry[-1])):
            leak, by_numbers = inferred, True
        work = history.logbook.work_on(name)
        opened = any(isinstance(record, Reopening) for _, record in work)
        return cls(
            last_work=last,
            leak=(leak, by_numbers),
            dry=tuple(dry),
            wet=tuple(wet),
            was_bad=opened or leak is not None,
        )

    def is_since(self, entry: Entry) -> bool:
        """Return whether a test came after the last work on the seam."""
        return self.last_work is None or _order(self.last_work) < _order(entry)


def _telling(found: Sequence[Entry]) -> Entry | None:
    """Return the last test in which water was found, of those that weighed any if there are."""
    weighed = [e for e in found if isinstance(t := e.record, LeakTest) and not t.below_resolution]
    return (weighed or found)[-1] if found else None


def _came_out_dry(test: LeakTest) -> bool:
    """Return whether no water came in: none seen, none told by a test that could tell."""
    if test.found or test.stream or test.aft_of_step:
        return False
    return test.below_resolution and grade_of(test).tells


def _order(entry: Entry) -> tuple[datetime, int]:
    """Return what entries are put in order by."""
    return (entry.at, entry.number)


def _before(history: _History, test: Entry, work: Entry) -> bool:
    """Return whether a test began before a seam was worked on."""
    return (history.began(test), test.number) < _order(work)
