"""The head of a drawing: the finding over the facts."""

from collections.abc import Iterable
from typing import Final

from hullcheck.report import style
from hullcheck.report.sheet import Sheet

_TITLE: Final = -20.0
_FIRST: Final = -38.5
_LINE: Final = 12.6


def write_head(sheet: Sheet, title: str, lines: Iterable[str]) -> float:
    """Write the finding and the facts under it.

    Parameters
    ----------
    sheet : Sheet
    title : str
        The finding; in smaller type, and at last cut, where it is wider than the sheet.
    lines : iterable of str
        The facts, broken into lines already (`wrapped_facts`); each is cut at the sheet's edge.

    Returns
    -------
    float
        Baseline of the last line [pt].
    """
    width = head_width(sheet)
    kind = sheet.narrowed(title, style.HEADLINE, width)
    sheet.text((style.MARGIN, _TITLE), sheet.fitted(title, kind, width), kind)
    y = _FIRST + _LINE
    for line in lines:
        y -= _LINE
        sheet.text((style.MARGIN, y), sheet.fitted(line, style.FACTS, width), style.FACTS)
    return y


def wrapped_facts(sheet: Sheet, facts: Iterable[str]) -> list[str]:
    """Return facts broken into lines, each beginning a new one."""
    return [line for one in facts for line in sheet.wrapped(one, style.FACTS, head_width(sheet))]


def head_width(sheet: Sheet) -> float:
    """Return how wide the head may be [pt]."""
    return sheet.width - 2.0 * style.MARGIN
