"""Rows as CSV text that no spreadsheet runs."""

import csv
import io
from collections.abc import Iterable, Sequence
from typing import Final

_RUN: Final = frozenset("=+-@\t\r")
"""First characters of a text that a spreadsheet takes for a formula."""

Cell = str | float | int | bool | None


def csv_of(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    r"""Return rows under a header as CSV text.

    Parameters
    ----------
    columns : sequence of str
        The header.
    rows : iterable of sequence
        Numbers are never rounded; None is an empty cell. A text that a spreadsheet would run as a
        formula gets an apostrophe in front; line breaks in texts are line feeds.

    Returns
    -------
    str
        Each row ends in a line feed.

    Examples
    --------
    >>> csv_of(("item", "mass_g"), [("=1+2", 0.1), ("wing", None)])
    "item,mass_g\n'=1+2,0.1\nwing,\n"
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(
        [_text(cell) if isinstance(cell, str) else cell for cell in row] for row in rows
    )
    return text.getvalue()


def _text(words: str) -> str:
    """Return a text as a cell holds it: a bare carriage return would not be quoted."""
    return harmless(words).replace("\r\n", "\n").replace("\r", "\n")


def harmless(words: str) -> str:
    """Return a text that no spreadsheet takes for a formula."""
    return f"'{words}" if words[:1] in _RUN else words
