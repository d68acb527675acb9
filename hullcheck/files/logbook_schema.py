"""How a logbook is laid out in its file, one version after another.

The types of columns are held by checks and not by STRICT tables: these came with SQLite 3.37, and
Python 3.11 is built with older ones too (3.34 on a common server system), which then could not
read the file at all.
"""

from dataclasses import dataclass
from typing import Final

APPLICATION_ID: Final = 0x48554C4C
"""Four letters in the file's header that tell a logbook from any other SQLite file: HULL."""

NUMBERS: Final = (
    "mass_g",
    "plus_minus_g",
    "cure_h",
    "before_g",
    "wet_baseline_g",
    "temperature_c",
    "trim_deg",
    "heel_deg",
    "minutes_planned",
    "minutes",
    "after_g",
)
"""Columns of numbers."""

WHOLE: Final = ("finishes", "entry", "running", "aft_of_step", "stream")
"""Columns of numbers of entries, and of 0 for no and 1 for yes."""

WORDS: Final = (
    "photo_path",
    "photo_sha256",
    "item",
    "seam",
    "material",
    "batch",
    "why",
    "water",
    "ballast",
    "found",
    "text",
    "about",
)
"""Columns of texts; `found` is a JSON list of them."""

COLUMNS: Final = (
    "number",
    "at",
    "written",
    "kind",
    "item",
    "seam",
    "material",
    "batch",
    "cure_h",
    "why",
    "mass_g",
    "before_g",
    "plus_minus_g",
    "wet_baseline_g",
    "water",
    "temperature_c",
    "trim_deg",
    "heel_deg",
    "running",
    "ballast",
    "minutes_planned",
    "minutes",
    "after_g",
    "found",
    "aft_of_step",
    "stream",
    "text",
    "about",
    "entry",
    "finishes",
    "photo_path",
    "photo_sha256",
)
"""All columns of an entry but its check sum, in the order of the CSV."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """The statements that turn a version of the layout into the next, and what it then holds.

    Attributes
    ----------
    statements : tuple of str
        Run in one transaction with the new version's number.
    holds : frozenset of str
        Names of the tables and triggers there must be afterwards, no more and no fewer.
    """

    statements: tuple[str, ...]
    holds: frozenset[str]


def _column(name: str) -> str:
    """Return the definition of a column, its type held by a check."""
    if name in NUMBERS:
        return f"{name} REAL CHECK (typeof({name}) IN ('real', 'null'))"
    if name in WHOLE:
        return f"{name} INTEGER CHECK (typeof({name}) IN ('integer', 'null'))"
    if name == "number":
        return "number INTEGER PRIMARY KEY NOT NULL CHECK (number >= 1)"
    may_be = "('text', 'null')" if name in WORDS else "('text')"
    return f"{name} TEXT CHECK (typeof({name}) IN {may_be})"


_TABLE: Final = f"""
CREATE TABLE entries (
    {", ".join(_column(name) for name in COLUMNS)},
    check_sum INTEGER NOT NULL CHECK (typeof(check_sum) = 'integer')
)"""
_NO_CHANGE: Final = """
CREATE TRIGGER no_change BEFORE UPDATE ON entries
BEGIN SELECT RAISE(ABORT, 'an entry is never changed: strike it out with a later one'); END"""
_NO_DELETION: Final = """
CREATE TRIGGER no_deletion BEFORE DELETE ON entries
BEGIN SELECT RAISE(ABORT, 'an entry is never taken out: strike it out with a later one'); END"""
_NO_GAP: Final = """
CREATE TRIGGER no_gap BEFORE INSERT ON entries
WHEN NEW.number IS NOT (SELECT coalesce(max(number), 0) + 1 FROM entries)
BEGIN SELECT RAISE(ABORT, 'entries are numbered one after another'); END"""
_STRIKES_ONCE: Final = """
CREATE TRIGGER strikes_once BEFORE INSERT ON entries
WHEN NEW.entry IS NOT NULL AND (
    NOT EXISTS (SELECT 1 FROM entries WHERE number = NEW.entry AND entry IS NULL)
    OR EXISTS (SELECT 1 FROM entries WHERE entry = NEW.entry))
BEGIN SELECT RAISE(ABORT, 'there is no such entry that could be struck out'); END"""

STEPS: tuple[Step, ...] = (
    Step(
        statements=(
            f"PRAGMA application_id = {APPLICATION_ID}",
            _TABLE,
            _NO_CHANGE,
            _NO_DELETION,
            _NO_GAP,
            _STRIKES_ONCE,
        ),
        holds=frozenset({"entries", "no_change", "no_deletion", "no_gap", "strikes_once"}),
    ),
)
"""From an empty file to version 1, and so on; the last one is what this program writes."""
