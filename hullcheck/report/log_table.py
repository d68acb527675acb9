"""The logbook as a table of 80 columns: the last entries, or every one with every detail."""

import textwrap
from collections.abc import Sequence
from typing import Final

from hullcheck.craft.log_records import Entry
from hullcheck.craft.logbook import Logbook
from hullcheck.report.log_words import (
    detail_words,
    entry_words,
    gain_words,
    one_line,
    when_words,
    zone_words,
)

WIDTH: Final = 80
LAST: Final = 4
"""Entries on the first screen, which is seven lines."""


def first_screen(
    book: Logbook, shown: Sequence[Entry], limit_g_per_30min: float | None = None
) -> list[str]:
    """Return the answer in a line, and the last entries.

    Parameters
    ----------
    book : Logbook
        All of it, for what was struck out.
    shown : sequence of Entry
        Those to be told, by number.
    limit_g_per_30min : float or None
        The sheet's limit of a leak test [g].

    Returns
    -------
    list of str
        At most seven lines of at most 80 characters.
    """
    lines = [_fitted(_head(book, shown))]
    if not shown:
        return lines
    wide = _wide(shown)
    lines.append(f"{'no':>{wide}}   {'when':<16}  what")
    lines += [_fitted(_row(entry, book, wide, limit_g_per_30min)) for entry in shown[-LAST:]]
    if len(shown) > LAST:
        lines.append(f"{len(shown) - LAST} earlier: hullcheck log show --all")
    return lines


def all_lines(
    book: Logbook, shown: Sequence[Entry], limit_g_per_30min: float | None = None
) -> list[str]:
    """Return the answer in a line, and every entry with every detail, wrapped at 80 characters."""
    lines = [_fitted(_head(book, shown))]
    if not shown:
        return lines
    wide = _wide(shown)
    indent = " " * (wide + 21)
    lines.append(f"{'no':>{wide}}   {'when':<16}  what")
    for entry in shown:
        lines += _wrapped(_row(entry, book, wide, limit_g_per_30min), indent)
        for detail in detail_words(entry):
            lines += _wrapped(f"{indent}{detail}", f"{indent}  ")
    zones = sorted({zone_words(entry.at) for entry in shown})
    lines.append(f"Times are those of the clock there, {' and '.join(zones)} from UTC.")
    return lines


def _head(book: Logbook, shown: Sequence[Entry]) -> str:
    """Return the answer in a line: how many entries, and what the last test said."""
    count, struck = len(shown), sum(entry.number in book.strikes for entry in shown)
    if not count:
        return "The logbook has no entry yet." if not book.entries else "No entry is about that."
    head = f"{count} {'entry' if count == 1 else 'entries'}"
    head += f", {struck} struck out" if struck else ""
    numbers = {entry.number for entry in shown}
    running = book.running_test
    if running is not None and running[0].number in numbers:
        return f"{head}. A leak test runs since {when_words(running[0].at)} (--finish)"
    tests = [(entry, test) for entry, test in book.tests if entry.number in numbers]
    if not tests:
        return f"{head}; no leak test stands"
    entry, test = tests[-1]
    return f"{head}. Last leak test {when_words(entry.at)[:10]}: {gain_words(test)}"


def _row(entry: Entry, book: Logbook, wide: int, limit_g_per_30min: float | None) -> str:
    """Return the line about an entry; of one that was struck out by which, and why."""
    strike, words = (
        book.strikes.get(entry.number),
        entry_words(entry.record, limit_g_per_30min=limit_g_per_30min),
    )
    if strike is not None:
        why = one_line(getattr(strike.record, "why", ""))
        words = f"struck out by entry {strike.number} ({why}): {words}"
    mark = "×" if strike is not None else " "
    return f"{entry.number:>{wide}} {mark} {when_words(entry.at)}  {words}"


def _wide(shown: Sequence[Entry]) -> int:
    """Return how wide the numbers are."""
    return max(2, len(str(shown[-1].number)))


def _fitted(line: str) -> str:
    """Return a line cut to the width of the table."""
    return line if len(line) <= WIDTH else f"{line[: WIDTH - 1].rstrip()}…"


def _wrapped(line: str, indent: str) -> list[str]:
    """Return a line wrapped to the width of the table."""
    return textwrap.wrap(
        line, WIDTH, subsequent_indent=indent, drop_whitespace=True, break_on_hyphens=False
    )
