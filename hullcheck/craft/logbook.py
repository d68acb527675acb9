"""The logbook as a record: its entries in order, and those that still stand."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Self, TypeVar

from hullcheck.craft.log_records import (
    Entry,
    LeakTest,
    LeakTestSetup,
    Record,
    Reopening,
    Sealing,
    Strike,
    WeighIn,
)
from hullcheck.errors import InputError

Kind = TypeVar("Kind", bound=Record)


@dataclass(frozen=True, slots=True, kw_only=True)
class Logbook:
    """All entries of a logbook, in the order they were written.

    Attributes
    ----------
    entries : tuple of Entry
        Numbered upward.
    """

    entries: tuple[Entry, ...] = ()

    def __post_init__(self) -> None:
        """Refuse entries out of order."""
        numbers = [entry.number for entry in self.entries]
        if any(b <= a for a, b in itertools.pairwise(numbers)):
            raise InputError("the logbook's entries are out of order")

    @property
    def last_number(self) -> int:
        """Number of the newest entry; 0 where there is none."""
        return self.entries[-1].number if self.entries else 0

    @property
    def strikes(self) -> dict[int, Entry]:
        """The strike, by the number of the entry it strikes out; the first where there are two."""
        found: dict[int, Entry] = {}
        for entry in self.entries:
            if isinstance(entry.record, Strike):
                found.setdefault(entry.record.entry, entry)
        return found

    @property
    def standing(self) -> tuple[Entry, ...]:
        """Entries that were not struck out, strikes left away, by when they happened."""
        struck = self.strikes
        kept = [
            entry
            for entry in self.entries
            if entry.number not in struck and not isinstance(entry.record, Strike)
        ]
        return tuple(sorted(kept, key=lambda entry: (entry.at, entry.number)))

    def of(self, kind: type[Kind]) -> Iterator[tuple[Entry, Kind]]:
        """Yield the standing entries of one kind of record, with that record, by time."""
        for entry in self.standing:
            if isinstance(entry.record, kind):
                yield entry, entry.record

    @property
    def weigh_ins(self) -> tuple[tuple[Entry, WeighIn], ...]:
        """Weighings that stand."""
        return tuple(self.of(WeighIn))

    @property
    def tests(self) -> tuple[tuple[Entry, LeakTest], ...]:
        """Finished leak tests that stand."""
        return tuple(self.of(LeakTest))

    @property
    def running_test(self) -> tuple[Entry, LeakTestSetup] | None:
        """The latest test whose clock was started and that nothing has finished; None: none."""
        done = {entry.finishes for entry, _ in self.of(LeakTest)}
        started = [(e, s) for e, s in self.of(LeakTestSetup) if e.number not in done]
        return started[-1] if started else None

    def as_of(self, when: datetime) -> Self:
        """Return the logbook as it stood at a time, with what had been written by then."""
        return replace(self, entries=tuple(e for e in self.entries if e.written <= when))

    def work_on(self, seam: str) -> tuple[tuple[Entry, Sealing | Reopening], ...]:
        """Return the sealings and re-openings of one seam that stand, by time."""
        return tuple(
            (entry, entry.record)
            for entry in self.standing
            if isinstance(entry.record, Sealing | Reopening) and entry.record.seam == seam
        )
