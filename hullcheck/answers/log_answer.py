"""The logbook as an answer: every entry with what struck it out, flat, as its CSV is."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from hullcheck.craft.log_kinds import kind_of, values_of
from hullcheck.craft.log_records import (
    Entry,
    LeakTest,
    Note,
    Record,
    Reopening,
    Sealing,
    Strike,
)
from hullcheck.craft.logbook import Logbook

_GAINED: Final = ("gain_g", "gain_plus_minus_g", "rate_g_per_min", "rate_plus_minus_g_per_min")
"""What is told of a leak test beside its attributes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LogEntry:
    """One entry; what its kind does not have is None.

    Attributes
    ----------
    number : int
        From 1, in the order of writing.
    at, written : str
        When it happened and when it was written, ISO 8601 with the zone.
    kind : str
        "weigh", "seal", "reopen", "leak-test start", "leak-test", "note" or "strike".
    struck_by : int or None
        The entry that struck it out.
    struck_why : str or None
        And why.
    finishes : int or None
        Of a leak test: the entry that started its clock.
    photo_path, photo_sha256 : str or None
        A picture: where it lies from the build's folder, and its hash.
    gain_g, gain_plus_minus_g : float or None
        Of a leak test: what came in, and how well that is known [g].
    rate_g_per_min, rate_plus_minus_g_per_min : float or None
        The same over time [g/min].
    item, seam, material, batch, cure_h, why, mass_g, before_g, plus_minus_g, wet_baseline_g, water
    temperature_c, trim_deg, heel_deg, running, ballast, minutes_planned, minutes, after_g, found
    aft_of_step, stream, text, about, entry
        The attributes of its record.
    """

    number: int
    at: str
    written: str
    kind: str
    struck_by: int | None
    struck_why: str | None
    finishes: int | None
    photo_path: str | None
    photo_sha256: str | None
    gain_g: float | None = None
    gain_plus_minus_g: float | None = None
    rate_g_per_min: float | None = None
    rate_plus_minus_g_per_min: float | None = None
    item: str | None = None
    seam: str | None = None
    material: str | None = None
    batch: str | None = None
    cure_h: float | None = None
    why: str | None = None
    mass_g: float | None = None
    before_g: float | None = None
    plus_minus_g: float | None = None
    wet_baseline_g: float | None = None
    water: str | None = None
    temperature_c: float | None = None
    trim_deg: float | None = None
    heel_deg: float | None = None
    running: bool | None = None
    ballast: str | None = None
    minutes_planned: float | None = None
    minutes: float | None = None
    after_g: float | None = None
    found: tuple[str, ...] | None = None
    aft_of_step: bool | None = None
    stream: bool | None = None
    text: str | None = None
    about: str | None = None
    entry: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LogAnswer:
    """Entries of a logbook.

    Attributes
    ----------
    schema : str
        Which document this is.
    running_test : int or None
        The entry of the leak test whose clock runs.
    entries : tuple of LogEntry
        By number.
    """

    schema: str = field(default="hullcheck.log/1", init=False)
    running_test: int | None
    entries: tuple[LogEntry, ...]


def log_answer(book: Logbook, shown: Sequence[Entry] | None = None) -> LogAnswer:
    """Return a logbook's entries as an answer.

    Parameters
    ----------
    book : Logbook
        All of it, for what was struck out.
    shown : sequence of Entry, optional
        Those to be told; all unless given.
    """
    running = book.running_test
    return LogAnswer(
        running_test=None if running is None else running[0].number,
        entries=tuple(_told(entry, book) for entry in (book.entries if shown is None else shown)),
    )


def about_seam(book: Logbook, names: Sequence[str]) -> tuple[Entry, ...]:
    """Return the entries about seams of these names, and those that strike them out."""
    wanted = {entry.number for entry in book.entries if set(_seams(entry.record)) & set(names)}
    return tuple(
        entry
        for entry in book.entries
        if entry.number in wanted
        or (isinstance(entry.record, Strike) and entry.record.entry in wanted)
    )


def seam_names(book: Logbook) -> tuple[str, ...]:
    """Return the names of seams and openings that entries have, each once."""
    return tuple(dict.fromkeys(name for entry in book.entries for name in _seams(entry.record)))


def _seams(record: Record) -> tuple[str, ...]:
    """Return the seams and openings that a record is about."""
    if isinstance(record, Sealing | Reopening):
        return (record.seam,)
    if isinstance(record, LeakTest):
        return record.found
    return (record.about,) if isinstance(record, Note) and record.about is not None else ()


def _told(entry: Entry, book: Logbook) -> LogEntry:
    """Return an entry as it is told."""
    strike = book.strikes.get(entry.number)
    photo = entry.photo
    return LogEntry(
        number=entry.number,
        at=entry.at.isoformat(),
        written=entry.written.isoformat(),
        struck_by=None if strike is None else strike.number,
        struck_why=strike.record.why if strike and isinstance(strike.record, Strike) else None,
        finishes=entry.finishes,
        photo_path=None if photo is None else photo.path,
        photo_sha256=None if photo is None else photo.sha256,
        **_values(entry.record),
    )


def _values(record: Record) -> dict[str, Any]:
    """Return a record's kind and its attributes, those of a test with its set-up's and its gain."""
    values = values_of(record)
    if isinstance(record, LeakTest):
        values |= {name: getattr(record, name) for name in _GAINED}
    return values | {"kind": kind_of(record)}
