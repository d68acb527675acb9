"""The turnable view's marks and line patterns, as data that its program only has to draw.

The shapes are those of `hullcheck.report.marks` and `hullcheck.report.seams_marks`, in CSS pixels
about their middle, y down.
"""

from typing import Final

from hullcheck.report import style

PIXELS_PER_POINT: Final = 4.0 / 3.0
"""CSS pixels a typographic point."""

Stroke = tuple[str, str | None, str | None, float]
"""A path in SVG's letters, its fill, its edge, and the edge's width [px]."""

_R: Final = 7.0
_EDGE: Final = 1.9
_RING: Final = "M7 0A7 7 0 1 1 -7 0A7 7 0 1 1 7 0Z"
_SMALL: Final = "M6 0A6 6 0 1 1 -6 0A6 6 0 1 1 6 0Z"
_DIAMOND: Final = "M0 -6L6 0L0 6L-6 0Z"
_DROP: Final = "M0 -9.5L4.7 -2.6A6 6 0 1 1 -4.7 -2.6Z"


def _ring(*inside: Stroke) -> list[Stroke]:
    """Return an open circle with strokes inside."""
    return [(_RING, style.PAPER, style.INK, _EDGE), *inside]


def _disc(*inside: Stroke) -> list[Stroke]:
    """Return a filled circle with strokes inside."""
    return [(_RING, style.INK, style.INK, _EDGE), *inside]


SHAPES: Final[dict[str, list[Stroke]]] = {
    "cg": [
        (_SMALL, style.PAPER, None, 0.0),
        ("M0 0L0 -6A6 6 0 0 1 6 0Z M0 0L0 6A6 6 0 0 1 -6 0Z", style.INK, None, 0.0),
        (_SMALL, None, style.INK, 1.6),
    ],
    "cb": [
        (_SMALL, style.PAPER, style.WATER, 2.3),
        ("M-2.6 1L0 -2L2.6 1", None, style.WATER, 1.6),
    ],
    "opening": [(_DIAMOND, style.PAPER, style.INK, 1.7)],
    "limiting": [(_DIAMOND, style.LIMIT, style.LIMIT, 1.7)],
    "waterline": [],
    "open circle": _ring(),
    "filled circle": _disc(),
    "tick": _disc(("M-3.9 -0.1L-1.1 3L4 -3.1", None, style.PAPER, 2.2)),
    "clock": _ring(("M0 -4.6L0 0L3.4 0", None, style.INK, 1.7)),
    "half": _ring(("M-7 0A7 7 0 0 0 7 0Z", style.INK, None, 0.0)),
    "slash": _ring(("M-4.6 4.6L4.6 -4.6", None, style.INK, _EDGE)),
    "strip": _ring(("M-7 0L7 0", None, style.INK, 3.6)),
    "drop": [(_DROP, style.LIMIT, None, 0.0)],
}
"""What a mark is made of, the lowest stroke first."""

_OF_STATE: Final = {
    "leaked": "drop",
    "tested dry": "tick",
    "sealed": "filled circle",
    "curing": "clock",
    "repaired, not tested since": "half",
    "re-opened": "slash",
    "taped": "strip",
    "sealed by the sheet, not in the log": "strip",
}
_PATTERNS: Final = {
    "leaked": ("zigzag", 2.0),
    "tested dry": ("double", 3.8),
    "curing": ("dashes", 2.0),
    "re-opened": ("broken", 2.0),
    "sealed": ("solid", 1.8),
    "repaired, not tested since": ("solid", 1.8),
    "taped": ("solid", 1.0),
    "sealed by the sheet, not in the log": ("solid", 1.0),
}
"""The line of each state and its width [pt]; all others are dots: not sealed, or only supposed."""
PATTERNS: Final = ("solid", "dots", "dashes", "broken", "double", "zigzag")
"""The program knows them by number."""


def shape_of(state: str | None) -> str:
    """Return the mark of a seam or opening by its state, None where no state is known."""
    return _OF_STATE.get(state or "", "open circle")


def pattern_of(state: str | None) -> tuple[str, float]:
    """Return the line pattern of a seam or opening by its state, and its width [pt]."""
    return _PATTERNS.get(state or "", ("dots", 2.0))


def color_of(state: str | None) -> str:
    """Return the color of a seam's line by its state."""
    return style.LIMIT if state == "leaked" else style.INK


def mixed(color: str, other: str, share: float) -> str:
    """Return a color with a share of another in it."""
    pairs = [(int(color[i : i + 2], 16), int(other[i : i + 2], 16)) for i in (1, 3, 5)]
    return "#" + "".join(f"{round(a + share * (b - a)):02X}" for a, b in pairs)
