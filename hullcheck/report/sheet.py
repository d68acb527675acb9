"""A sheet of paper measured in points from its upper left corner, and pencils for it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from typing import Any, Final, Literal

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.report import style
from hullcheck.report.style import Layer, Pattern, Type

Spot = tuple[float, float]
Side = Literal["left", "center", "right"]

POINTS_PER_INCH: Final = 72.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """An upright rectangle on the sheet [pt]."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Width [pt]."""
        return self.right - self.left

    def moved(self, right: float = 0.0, up: float = 0.0) -> "Box":
        """Return the box moved [pt]."""
        return Box(
            left=self.left + right,
            bottom=self.bottom + up,
            right=self.right + right,
            top=self.top + up,
        )

    def grown(self, by: float) -> "Box":
        """Return the box with room added on every side [pt]."""
        return Box(
            left=self.left - by, bottom=self.bottom - by, right=self.right + by, top=self.top + by
        )

    def meets(self, other: "Box") -> bool:
        """Return whether two boxes share more than an edge."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.bottom < other.top
            and other.bottom < self.top
        )


@cache
def _glyphs() -> frozenset[int]:
    """Return the characters the font has, which comes with matplotlib."""
    from matplotlib.font_manager import findfont, get_font

    return frozenset(get_font(findfont("DejaVu Sans")).get_charmap())


def drawable(words: str) -> str:
    """Return words with an empty box for each character the font has no glyph for."""
    return "".join(c if ord(c) in _glyphs() else "□" for c in words)


class Sheet:
    """A figure with one axes over all of it, in points, and pencils for it.

    x runs right and y up from the upper left corner, so that all y on the sheet are negative and
    its height may be settled last.

    Parameters
    ----------
    name : str
        Of the drawing.
    """

    def __init__(self, name: str) -> None:
        from matplotlib.backends.backend_agg import FigureCanvasAgg
        from matplotlib.figure import Figure

        self.width = style.SHEET_WIDTH
        self.figure = Figure(dpi=style.PNG_DPI)
        self.figure.set_label(name)
        FigureCanvasAgg(self.figure)
        self.axes = self.figure.add_axes((0.0, 0.0, 1.0, 1.0))
        self.axes.set_axis_off()
        self.cut(self.width)

    def cut(self, height: float) -> None:
        """Cut the sheet to a height [pt]."""
        self.height = height
        self.figure.set_size_inches(self.width / POINTS_PER_INCH, height / POINTS_PER_INCH)
        self.axes.set_xlim(0.0, self.width)
        self.axes.set_ylim(-height, 0.0)

    def caption(self, title: str, description: str) -> None:
        """Give the sheet the title and description its files carry."""
        self.axes.set_label(title)
        self.axes.set_gid(description)

    def line(
        self,
        points: Sequence[Spot] | FloatArray,
        *,
        color: str = style.INK,
        width: float = style.THIN,
        pattern: Pattern = style.SOLID,
        casing: bool = False,
        layer: float = Layer.LINE,
    ) -> None:
        """Draw a line through points, in a paper casing where it must cross others."""
        from matplotlib.lines import Line2D

        x, y = np.asarray(points, dtype=np.float64).T
        if casing:
            self.axes.add_line(
                Line2D(x, y, color=style.PAPER, lw=width + 2.0 * style.CASING, zorder=layer)
            )
        self.axes.add_line(Line2D(x, y, color=color, lw=width, ls=pattern, zorder=layer))

    def area(
        self,
        loops: Sequence[FloatArray],
        *,
        fill: str | None = None,
        edge: str | None = None,
        width: float = style.MIDDLE,
        pattern: Pattern = style.SOLID,
        layer: float = Layer.FILL,
    ) -> None:
        """Draw closed loops as one area, holes being loops the other way round."""
        from matplotlib.patches import PathPatch
        from matplotlib.path import Path

        kept = [np.asarray(loop) for loop in loops if len(loop) > 2]
        if not kept:
            return
        closed = [np.concatenate((loop, loop[:1])) for loop in kept]
        codes = [[Path.MOVETO, *[Path.LINETO] * (len(loop) - 2), Path.CLOSEPOLY] for loop in closed]
        self.axes.add_patch(
            PathPatch(
                Path(np.round(np.concatenate(closed), 2), np.concatenate(codes).tolist()),
                facecolor=fill or "none",
                edgecolor=edge or "none",
                lw=width if edge else 0.0,
                ls=pattern,
                joinstyle="miter",
                zorder=layer,
            )
        )

    def block(self, box: Box, fill: str, layer: float = Layer.GROUND) -> None:
        """Fill a rectangle."""
        corners = [
            (box.left, box.bottom),
            (box.right, box.bottom),
            (box.right, box.top),
            (box.left, box.top),
        ]
        self.area([np.array(corners)], fill=fill, layer=layer)

    def disc(
        self,
        center: Spot,
        radius: float,
        *,
        fill: str | None = None,
        edge: str | None = None,
        width: float = style.MIDDLE,
        pattern: Pattern = style.SOLID,
        layer: float = Layer.MARK,
    ) -> None:
        """Draw a disc or a ring."""
        from matplotlib.patches import Circle

        self.axes.add_patch(
            Circle(
                center,
                radius,
                facecolor=fill or "none",
                edgecolor=edge or "none",
                lw=width if edge else 0.0,
                ls=pattern,
                zorder=layer,
            )
        )

    def text(
        self,
        at: Spot,
        words: str,
        kind: Type,
        *,
        side: Side = "left",
        casing: str | None = None,
    ) -> Box:
        """Write words on their baseline and return the box they fill.

        Parameters
        ----------
        side : {"left", "center", "right"}
            Which point of the baseline `at` is.
        casing : str, optional
            Color of a casing, only where the words must cross a line.
        """
        from matplotlib.patheffects import withStroke

        effects = [withStroke(linewidth=2.4, foreground=casing)] if casing else None
        self.axes.text(
            *at,
            drawable(words),
            size=kind.size,
            weight="bold" if kind.bold else "normal",
            color=kind.color,
            ha=side,
            va="baseline",
            zorder=Layer.TEXT,
            path_effects=effects,
            parse_math=False,
        )
        return self.box_of(at, words, kind, side)

    def box_of(self, at: Spot, words: str, kind: Type, side: Side = "left") -> Box:
        """Return the box that words would fill: advance wide, ascender to descender high."""
        width = self.width_of(words, kind)
        left = at[0] - {"left": 0.0, "center": 0.5, "right": 1.0}[side] * width
        return Box(
            left=left,
            bottom=at[1] - 0.24 * kind.size,
            right=left + width,
            top=at[1] + 0.78 * kind.size,
        )

    def width_of(self, words: str, kind: Type) -> float:
        """Return how wide the renderer makes words [pt]."""
        from matplotlib import rcParams

        hinting = (rcParams["text.hinting"], rcParams["text.hinting_factor"])
        return _width(words, kind.size, kind.bold, hinting)

    def narrowed(self, words: str, kind: Type, width: float) -> Type:
        """Return a type small enough for words to be no wider than a width [pt]."""
        while self.width_of(words, kind) > width and kind.size > style.LEAST_TYPE + 0.5:
            kind = replace(kind, size=kind.size - 0.5)
        return kind

    def fitted(self, words: str, kind: Type, width: float) -> str:
        """Return words, cut with three dots where they are wider than a width [pt]."""
        if self.width_of(words, kind) <= width:
            return words
        count = len(words)
        while count > 1 and self.width_of(f"{words[:count].rstrip()}…", kind) > width:
            count -= 1
        return f"{words[:count].rstrip(' ,')}…"

    def wrapped(self, words: str, kind: Type, width: float) -> list[str]:
        """Return words broken into lines no wider than a width [pt]."""
        lines: list[str] = []
        for word in words.split(" "):
            longer = f"{lines[-1]} {word}" if lines else word
            if lines and self.width_of(longer, kind) <= width:
                lines[-1] = longer
            else:
                lines.append(word)
        return lines


@lru_cache(maxsize=20_000)
def _width(words: str, size: float, bold: bool, hinting: tuple[object, ...]) -> float:  # noqa: FBT001 - a key of the cache
    """Return how wide the renderer makes words [pt]; asked for thousands of times a drawing.

    The same words are measured over and over while labels look for room. How glyphs are hinted is a
    key too, for it is read from the settings.
    """
    from matplotlib.font_manager import FontProperties

    del hinting
    font = FontProperties(family="DejaVu Sans", size=size, weight="bold" if bold else "normal")
    width, _, _ = _renderer().get_text_width_height_descent(drawable(words), font, ismath=False)
    return float(width) / style.PNG_DPI * POINTS_PER_INCH


@lru_cache(maxsize=1)
def _renderer() -> Any:  # noqa: ANN401 - a renderer of matplotlib's, which has no types
    """Return a renderer to measure by, of a sheet that nothing is drawn on."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    return FigureCanvasAgg(Figure(dpi=style.PNG_DPI)).get_renderer()  # type: ignore[no-untyped-call]
