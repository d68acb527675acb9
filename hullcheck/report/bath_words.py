"""Lines behind a label, and other words that the texts of the bath share."""

from collections.abc import Iterable
from typing import Final

from hullcheck.report.fitting import fitting

LABEL: Final = 12
WIDTH: Final = 80


def row(label: str, text: str) -> str:
    """Return a labeled line."""
    return f"{label:<{LABEL}}{text}"


def cut(text: str) -> str:
    """Return a text, cut with three dots where it is too long to stand behind a label."""
    return fitting((text,), WIDTH - LABEL)


def fitted(texts: Iterable[str]) -> str:
    """Return the first text that fits behind a label; the last one cut if none does."""
    return fitting(texts, WIDTH - LABEL)
