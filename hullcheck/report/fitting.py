"""Texts that must fit a width: the first that does, or the last one cut."""

from collections.abc import Iterable


def cut(text: str, width: int) -> str:
    """Return a text, cut with three dots where it is longer than a width."""
    return text if len(text) <= width else f"{text[: width - 1]}…"


def fitting(texts: Iterable[str], width: int) -> str:
    """Return the first text that fits a width; the last one cut if none does."""
    text = ""
    for text in texts:
        if len(text) <= width:
            return text
    return cut(text, width)
