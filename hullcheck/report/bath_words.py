"""Lines behind a label, and other words that the texts of the bath share."""

from typing import Final

LABEL: Final = 12
WIDTH: Final = 80


def row(label: str, text: str) -> str:
    """Return a labeled line."""
    return f"{label:<{LABEL}}{text}"


def cut(text: str) -> str:
    """Return a text, cut with three dots where it is too long to stand behind a label."""
    room = WIDTH - LABEL
    return text if len(text) <= room else f"{text[: room - 1]}…"
