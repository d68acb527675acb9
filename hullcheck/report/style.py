"""The one look of every drawing: colors, line weights, patterns, type. No hex value elsewhere."""

from contextlib import AbstractContextManager
from dataclasses import dataclass, replace
from typing import Final

INK: Final = "#1A2530"
"""Outlines, dimensions, numbers, headings."""
SOFT: Final = "#5A6772"
"""Explanations, lines that do not limit, what lies beyond the model."""
FAINT: Final = "#C3CBD1"
"""Rulings."""
PAPER: Final = "#FFFFFF"
"""The ground, and the casing of lines that cross others."""
WATER: Final = "#0A5A86"
"""Water line, waterline outline, center of buoyancy, drafts and their text."""
TINT: Final = "#E1EEF5"
"""Water."""
WET_SKIN: Final = "#BFD5E1"
"""The part of the hull under water."""
SKIN: Final = "#F3ECDD"
"""The dry hull."""
LIMIT: Final = "#A3180F"
"""What limits, or what must be acted on; nothing else."""
BAND: Final = "#D5DADE"
"""Bars of rules of thumb."""
BEYOND: Final = "#F2F4F5"
"""Ground of what lies beyond the model."""

GROUNDS: Final = {
    INK: (PAPER, TINT, WET_SKIN, SKIN, BEYOND, BAND),
    SOFT: (PAPER, TINT, SKIN, BEYOND),
    WATER: (PAPER, TINT, WET_SKIN),
    LIMIT: (PAPER, TINT, SKIN),
    PAPER: (LIMIT,),
}
"""Which color of text may stand on which grounds."""

HAIR: Final = 0.5
THIN: Final = 0.8
MIDDLE: Final = 1.5
WATER_LINE: Final = 1.6
BOLD: Final = 2.2
BAR: Final = 2.4
LIMIT_BAR: Final = 3.0
QUIET_BAR: Final = 1.3
"""Of what is sealed."""
CASING: Final = 0.9
"""Paper on each side of a line that must cross another [pt]."""

DASHED: Final = (0.0, (4.0, 2.4))
"""Not yet, or beyond the model."""
DOTTED: Final = (0.0, (1.2, 2.0))
"""Not in the mesh, not sealed, or only supposed."""
DOTTED_BAR: Final = (0.0, (0.9, 0.7))
"""A bar whose opening's state is not stated: bars are short, so the dots are close."""
SOLID: Final = "solid"

Pattern = str | tuple[float, tuple[float, ...]]

SHEET_WIDTH: Final = 576.0
"""8 in [pt]."""
MARGIN: Final = 14.4
"""0.2 in [pt]."""
LEAST_TYPE: Final = 8.5
"""No text is smaller [pt]."""
PNG_DPI: Final = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Type:
    """A size, weight and color of text."""

    size: float
    bold: bool = False
    color: str = INK

    def colored(self, color: str) -> "Type":
        """Return the same type in another color."""
        return replace(self, color=color)


HEADLINE: Final = Type(size=14.0, bold=True)
FACTS: Final = Type(size=9.5, color=SOFT)
NUMBER: Final = Type(size=10.5, bold=True)
FLAG: Final = Type(size=11.5, bold=True, color=PAPER)
VIEW_TITLE: Final = Type(size=9.5, bold=True)
NAME: Final = Type(size=9.0)
BOLD_NAME: Final = Type(size=9.0, bold=True)
NOTE: Final = Type(size=8.5, color=SOFT)


class Layer:
    """What lies over what, from the ground up."""

    GROUND = 0.0
    FILL = 1.0
    WET = 1.5
    HAIR = 2.0
    OUTLINE = 2.5
    WATER = 3.0
    LINE = 3.5
    BAR = 4.0
    MARK = 4.5
    TEXT = 5.0


def context(drawing: str) -> AbstractContextManager[None]:
    """Return a context in which matplotlib draws in this look, whatever the user's own settings.

    Parameters
    ----------
    drawing : str
        Name of the drawing; the ids in its SVG come from it, so that they are the same every time.
    """
    import matplotlib as mpl

    return mpl.rc_context(
        {
            **mpl.rcParamsDefault,
            "backend": mpl.get_backend(auto_select=False) or "agg",
            "font.family": ["sans-serif"],
            "font.sans-serif": ["DejaVu Sans"],
            "text.color": INK,
            "text.hinting": "none",
            "lines.solid_capstyle": "butt",
            "lines.dash_capstyle": "butt",
            "lines.solid_joinstyle": "miter",
            "lines.dash_joinstyle": "miter",
            "lines.scale_dashes": True,
            "path.simplify": False,
            "savefig.facecolor": PAPER,
            "figure.facecolor": PAPER,
            "svg.fonttype": "path",
            "svg.hashsalt": f"hullcheck {drawing}",
            "pdf.fonttype": 42,
        }
    )
