"""The page's style sheet: every color and size of it comes from the look of the drawings."""

import base64
import hashlib
from typing import Final

from hullcheck.report import style

PX_PER_PT: Final = 100.0 / 72.0
"""Drawings are shown at 100 px an inch: 8 in are 800 px."""


def variables() -> dict[str, str]:
    """Return the values that the style sheet is filled with: colors, and sizes in px."""
    colors = {
        "ink": style.INK,
        "soft": style.SOFT,
        "faint": style.FAINT,
        "paper": style.PAPER,
        "water": style.WATER,
        "tint": style.TINT,
        "limit": style.LIMIT,
        "beyond": style.BEYOND,
    }
    sizes = {
        "headline": style.HEADLINE.size,
        "number": style.NUMBER.size,
        "facts": style.FACTS.size,
        "name": style.NAME.size,
        "note": style.NOTE.size,
        "hair": style.HAIR,
        "thin": style.THIN,
        "middle": style.MIDDLE,
        "water_line": style.WATER_LINE,
        "bold": style.BOLD,
    }
    return colors | {key: f"{size * PX_PER_PT:.4g}px" for key, size in sizes.items()}


def hash_of(text: str) -> str:
    """Return what a content security policy calls a text by: "sha256-…"."""
    digest = hashlib.sha256(text.encode("utf-8")).digest()
    return f"sha256-{base64.b64encode(digest).decode('ascii')}"
