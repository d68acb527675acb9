"""A sheet of paper with its rulers, and what is drawn at full size packed onto such sheets."""

from dataclasses import dataclass
from typing import Final, Self

import numpy as np

from hullcheck.report import style
from hullcheck.report.marking_pieces import PT_PER_MM
from hullcheck.report.marking_tiles import Tile, draw_map, draw_tile, map_height
from hullcheck.report.marking_words import RULER_MM
from hullcheck.report.sheet import Sheet

PAPERS: Final = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Width and height [mm]: ISO 216; ANSI/ASME Y14.1, 8.5 × 11 in."""
MARGIN: Final = 12.0 * PT_PER_MM
"""Printers leave up to 10 mm of a sheet white (common practice, no source)."""
RULER: Final = RULER_MM * PT_PER_MM
_RULER_TICKS: Final = (4.0, 7.0, 11.0)
"""Of every 10 mm, 50 mm, and of the ends [pt]."""
_HEAD: Final = 20.0
_FOOT: Final = 44.0
_SIDE: Final = 18.0
"""Of the upright ruler."""
_GAP: Final = 5.0 * PT_PER_MM
_LINE: Final = 11.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A kind of paper.

    Attributes
    ----------
    name : str
        "a4" or "letter".
    width, height : float
        [pt]
    """

    name: str
    width: float
    height: float

    @classmethod
    def of(cls, name: str) -> Self:
        """Return paper by its name."""
        width, height = PAPERS[name]
        return cls(name=name, width=width * PT_PER_MM, height=height * PT_PER_MM)

    @property
    def title(self) -> str:
        """What it is called in a sentence."""
        return {"a4": "A4", "letter": "Letter"}[self.name]

    @property
    def top(self) -> float:
        """Where what is drawn begins, from the upper edge down [pt]."""
        return -MARGIN - _HEAD

    @property
    def bottom(self) -> float:
        """Where what is drawn must end [pt]."""
        return -self.height + MARGIN + _FOOT

    @property
    def right(self) -> float:
        """Right edge of what is drawn [pt]."""
        return self.width - MARGIN - _SIDE

    @property
    def room(self) -> tuple[float, float]:
        """Width and height that may be drawn on [pt]."""
        return self.right - MARGIN, self.top - self.bottom


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A tile with its words above it, its upper left corner on a sheet [pt]."""

    tile: Tile
    left: float
    top: float


def bare_sheet(paper: Paper) -> Sheet:
    """Return an empty sheet of paper."""
    sheet = Sheet("marks")
    sheet.width = paper.width
    sheet.cut(paper.height)
    return sheet


def finish(sheet: Sheet, paper: Paper, craft: str, load: str, place: tuple[int, int]) -> None:
    """Draw rulers, head and foot of a sheet.

    Parameters
    ----------
    sheet : Sheet
    paper : Paper
    craft, load : str
        Who she is, and what the waterline is for.
    place : tuple of int
        Which sheet it is, and of how many.
    """
    y = -MARGIN - 9.0
    count = f"sheet {place[0]} of {place[1]}"
    room = paper.right - MARGIN - sheet.width_of(count, style.NOTE) - 12.0
    sheet.text((MARGIN, y), sheet.fitted(craft, style.BOLD_NAME, room), style.BOLD_NAME)
    sheet.text((paper.right, y), count, style.NOTE, side="right")
    base = -paper.height + MARGIN + 16.0
    _ruler(sheet, (MARGIN, base), (1.0, 0.0))
    side = paper.width - MARGIN - _RULER_TICKS[-1]
    _ruler(sheet, (side, base), (0.0, 1.0))
    x = MARGIN + RULER + 8.0
    lines = (f"Both rulers are {RULER_MM:g} mm: measure them.", "Not 99.5–100.5? Print at 100 %.")
    for number, words in enumerate(lines):
        sheet.text((x, base + 10.0 - _LINE * number), words, style.NOTE)
    foot = sheet.fitted(load, style.NOTE, paper.right - MARGIN)
    sheet.text((MARGIN, -paper.height + MARGIN + 2.0), foot, style.NOTE)


def _ruler(sheet: Sheet, start: tuple[float, float], way: tuple[float, float]) -> None:
    """Draw a ruler of 100 mm from a place to the right, or up."""
    along, across = np.array(way), np.array((way[1], way[0]))
    origin = np.array(start)
    sheet.line(np.array((origin, origin + RULER * along)), width=style.THIN)
    for step in range(11):
        tick = _RULER_TICKS[2 if step in {0, 10} else 1 if step == 5 else 0]
        at = origin + 0.1 * step * RULER * along
        sheet.line(np.array((at, at + tick * across)), width=style.THIN)


def packed(tiles: list[Tile], paper: Paper) -> list[list[Placed]]:
    """Return the tiles on sheets, in their order, row by row, each kind beginning a row.

    Parameters
    ----------
    tiles : list of Tile
        Each fits the paper with its words.
    paper : Paper
    """
    measure = bare_sheet(paper)
    sheets: list[list[Placed]] = []
    x = y = low = 0.0
    kind = ""
    for tile in tiles:
        wide, high = size_of(measure, tile)
        other, kind = tile.piece.kind != kind, tile.piece.kind
        if sheets and x > MARGIN and (other or x + wide > paper.right + 1e-6):
            x, y = MARGIN, low - _GAP
        if not sheets or y - high < paper.bottom - 1e-6:
            sheets.append([])
            x, y, low = MARGIN, paper.top, paper.top
        sheets[-1].append(Placed(tile=tile, left=x, top=y))
        low = min(low, y - high)
        x += wide + _GAP
    return sheets


def size_of(sheet: Sheet, tile: Tile) -> tuple[float, float]:
    """Return width and height of a tile with the words above it [pt]."""
    words = [sheet.width_of(text, kind) for text, kind in _heading(tile)]
    width = tile.frame.width * PT_PER_MM
    return max([width, *words]), tile.frame.height * PT_PER_MM + _heading_height(tile)


def draw_placed(sheet: Sheet, placed: Placed, paper: Paper) -> None:
    """Draw a tile with the words above it."""
    tile, y = placed.tile, placed.top
    for text, kind in _heading(tile):
        y -= _LINE
        sheet.text((placed.left, y + 3.0), sheet.fitted(text, kind, paper.room[0]), kind)
    if tile.count > 1:
        y -= 2.0
        y -= draw_map(sheet, tile, (placed.left, y)) + 2.0
    bottom = placed.top - _heading_height(tile) - tile.frame.height * PT_PER_MM
    draw_tile(sheet, tile, placed.left, bottom)


def heading_room(columns: int, rows: int) -> float:
    """Return the most that stands above a tile of a piece in so many columns and rows [pt]."""
    return 2.0 * _LINE + 4.0 + (map_height(rows) + 4.0 if columns * rows > 1 else 0.0)


def _heading_height(tile: Tile) -> float:
    """Return how much stands above a tile [pt]."""
    maps = map_height(tile.rows) + 4.0 if tile.count > 1 else 0.0
    return _LINE * len(_heading(tile)) + maps + (4.0 if _heading(tile) else 0.0)


def _heading(tile: Tile) -> list[tuple[str, style.Type]]:
    """Return the lines above a tile."""
    piece = tile.piece
    title = piece.title
    if tile.count > 1:
        title = f"{title}, tile {tile.number} of {tile.count}: lay cross on cross"
    lines = [(title, style.BOLD_NAME), (piece.note, style.NOTE)]
    return [(text, kind) for text, kind in lines if text]
