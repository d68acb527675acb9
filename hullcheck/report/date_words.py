"""Dates and times in words, in the zone they were written in."""

from datetime import datetime
from typing import Final

_MONTHS: Final = tuple(
    "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split()  # noqa: SIM905 - easier to read
)
"""English whatever the user's own language, so that the same input gives the same text."""


def day_words(when: datetime, *, year: bool = False) -> str:
    """Return a day: "12 May", "12 May 2026"."""
    words = f"{when.day} {_MONTHS[when.month - 1]}"
    return f"{words} {when.year}" if year else words


def time_words(when: datetime, *, year: bool = False) -> str:
    """Return a day and a time: "12 May, 18:30"."""
    return f"{day_words(when, year=year)}, {when:%H:%M}"
