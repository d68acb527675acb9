"""Cells and rows of the page's tables."""

import re
from collections.abc import Iterable, Sequence
from typing import Final

from hullcheck.report.page_records import PageCell, PageTable
from hullcheck.report.words import capital

_GLUE: Final = "\N{NO-BREAK SPACE}"
_UNITS: Final = re.compile(
    r"(?<=\d) (?=×|(?:mm|cm|in|g|oz|lb|kg|cm²|cm³|in²|in³|min|h|°C)\b|%)| (?=±)|(?<=±) "
)
"""The spaces at which no line ends."""
_OPTION: Final = re.compile(r"(?:(?:[:;]|, see) --all)(?=\)?$)| \(--keep-dry\)$")
"""A hint for who reads it at a terminal, where first screens have it: at the end of a value."""
_LABELED: Final = re.compile(r"(?P<label>\S(?:.*?\S)?) {2,}(?P<value>\S.*)")
NONE: Final = "–"


def glued(words: str) -> str:
    """Return words in which no number is parted from its unit or its ± at the end of a line."""
    return _UNITS.sub(_GLUE, words)


def started(words: str) -> str:
    """Return words with a capital in front, unless they begin with a command or a key."""
    first = words.partition(" ")[0]
    return words if first == "hullcheck" or "_" in first else capital(words)


def text(words: str, *, more: str = "", strong: bool = False) -> PageCell:
    """Return a cell of words."""
    return PageCell(text=words, more=more, strong=strong)


def number(
    words: str | None, *, more: str = "", strong: bool = False, limit: bool = False
) -> PageCell:  # fmt: skip
    """Return a cell with a number, set to the right; a dash for None."""
    return PageCell(text=words or NONE, more=more, number=True, strong=strong, limit=limit)


def head(*names: str) -> tuple[PageCell, ...]:
    """Return the head of a table, all but its first column set to the right."""
    return (text(names[0]), *(number(name or " ") for name in names[1:]))


def labeled(lines: Sequence[str], title: str = "In brief", *, capitals: bool = True) -> PageTable:
    """Return labels with their values, read off the lines of a first screen.

    Parameters
    ----------
    lines : sequence of str
        "Grams left      540 ± 60 g, then …": a label, two blanks or more, a value. What has no
        label belongs to the row before.
    title : str
        Of the table.
    capitals : bool
        Whether values get a capital first letter.
    """
    rows: list[tuple[str, str]] = []
    for line in lines:
        found = _LABELED.fullmatch(line.rstrip())
        if found is not None:
            rows.append((found["label"], _for_a_page(found["value"])))
        elif rows:
            rows[-1] = (rows[-1][0], f"{rows[-1][1]} {_for_a_page(line)}")
        else:
            rows.append(("", line.strip()))
    begin = started if capitals else str
    return PageTable(title=title, rows=tuple((text(a), text(begin(b))) for a, b in rows))


def sentences(words: Iterable[str]) -> tuple[str, ...]:
    """Return sentences, each once, with a capital at the front and a full stop at the end."""
    said = dict.fromkeys(" ".join(one.split()) for one in words)
    return tuple(
        f"{started(one)}{'' if one.endswith(('.', '!', '?')) else '.'}" for one in said if one
    )


def _for_a_page(words: str) -> str:
    """Return a first screen's words without its hints at options."""
    return _OPTION.sub("", words.strip())
