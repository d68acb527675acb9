"""Pieces of sentences that findings of the check list share."""

from collections.abc import Sequence

from hullcheck.answers.check_records import CheckDetail, CheckPoint
from hullcheck.report.numbers import MINUS, given_length_text, plus_minus_text
from hullcheck.report.seams_words import short_name

_NAMED = 2
_LONGEST = 30
"""A name is cut to so many characters: a row of the list has only so much room."""


def name_words(name: str) -> str:
    """Return the user's name of a thing in brief, on one line, cut where it is long."""
    said = short_name(name)
    return said if len(said) <= _LONGEST else f"{said[: _LONGEST - 1]}…"


def names_words(names: Sequence[str]) -> str:
    """Return names in a row, the first ones written out: "a, b and 2 more"."""
    text = ", ".join(name_words(name) for name in names[:_NAMED])
    return text if len(names) <= _NAMED else f"{text} and {len(names) - _NAMED} more"


def in_setup(point: CheckPoint) -> str:
    """Return the setup a value is of, in brackets; "" as she is."""
    return "" if point.setup is None else f" ({name_words(point.setup)})"


def with_plus_minus(text: str, plus_minus: float | None) -> str:
    """Return a printed value with its ±, where there is one."""
    return text if not plus_minus else plus_minus_text(text, plus_minus)


def limit_end(point: CheckPoint) -> str:
    """Return the limit behind a value: ", limit 15 mm", ", limit 0 to 4°"; "" without one."""
    limit = point.limit
    if limit is None:
        return ""
    if isinstance(limit, tuple):
        low, high = (f"{end:g}".replace("-", MINUS) for end in limit)
        return f", limit {low} to {high}°"
    ends = {"mm": given_length_text(limit), "deg": f"{limit:g}°", "min": f"{limit:g} min"}
    return f", limit {ends[str(point.unit)]}"


def detail(point: CheckPoint, name: str, word: str | None = None) -> CheckDetail | None:
    """Return the first row behind a point of a name, and of a word where one is asked for."""
    return next(
        (row for row in point.details if row.name == name and (word is None or row.word == word)),
        None,
    )


def number(point: CheckPoint, name: str, word: str | None = None) -> float | None:
    """Return the number of such a row; None where there is none."""
    row = detail(point, name, word)
    return None if row is None else row.value
