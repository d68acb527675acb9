"""Pieces larger than the paper cut into tiles that overlap, with marks to put them together by."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outlines import Loops
from hullcheck.report import style
from hullcheck.report.marking_pieces import PT_PER_MM, Frame, Piece
from hullcheck.report.sheet import Sheet, Spot

OVERLAP_MM: Final = 12.0
"""How much two neighbors show alike; any station's number fits whole into one of them."""
CROSS_MM: Final = 2.5
"""Arm of a cross that neighbors share."""
CROP_MM: Final = 3.0
_EDGE_MM: Final = 1e-6
_LOW_MM: Final = 20.0
"""A tile lower than this has one cross a side."""
MAP_COLUMNS: Final = 24
MAP_ROWS: Final = 6
"""Of the map of tiles so many are drawn at most, those round the tile itself."""
_MAP_WIDE, _MAP_HIGH = 20.0, 13.0
"""Of a tile in the map [pt]."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tile:
    """What one rectangle of paper shows of a piece.

    Attributes
    ----------
    piece : Piece
    frame : Frame
        In the piece's millimeters.
    column, row : int
        From the left and from the top, 0 the first.
    columns, rows : int
        How many there are.
    """

    piece: Piece
    frame: Frame
    column: int = 0
    row: int = 0
    columns: int = 1
    rows: int = 1

    @property
    def number(self) -> int:
        """Its number, from 1, row by row."""
        return self.row * self.columns + self.column + 1

    @property
    def count(self) -> int:
        """How many tiles the piece has."""
        return self.columns * self.rows

    def crosses(self) -> list[tuple[float, float]]:
        """Return the crosses it shares with its neighbors [mm], in the piece's millimeters."""
        frame, half = self.frame, 0.5 * OVERLAP_MM
        across = [frame.left + half] * (self.column > 0)
        across += [frame.right - half] * (self.column < self.columns - 1)
        upright = [frame.top - half] * (self.row > 0)
        upright += [frame.bottom + half] * (self.row < self.rows - 1)
        shares = (0.5,) if frame.height < _LOW_MM else (0.35, 0.92)
        found = [(x, frame.bottom + share * frame.height) for x in across for share in shares]
        return found + [
            (frame.left + share * frame.width, y) for y in upright for share in (0.12, 0.88)
        ]


def tiles_of(piece: Piece, width_mm: float, height_mm: float) -> list[Tile]:
    """Return a piece in tiles of at most a width and height, as few as overlap.

    Parameters
    ----------
    piece : Piece
        Of any size.
    width_mm, height_mm : float
        Of the paper's part that may be drawn on [mm].
    """
    whole = piece.frame
    columns, wide = _shares(whole.width, width_mm)
    rows, high = _shares(whole.height, height_mm)
    tiles = []
    for row in range(rows):
        for column in range(columns):
            left = whole.left + column * (wide - OVERLAP_MM)
            top = whole.top - row * (high - OVERLAP_MM)
            frame = Frame(left=left, bottom=top - high, right=left + wide, top=top)
            tiles.append(
                Tile(piece=piece, frame=frame, column=column, row=row, columns=columns, rows=rows)
            )
    return tiles


def _shares(whole: float, most: float) -> tuple[int, float]:
    """Return how many equal parts of at most a size cover a length, and the size of one [mm]."""
    if whole <= most:
        return 1, whole
    count = math.ceil((whole - OVERLAP_MM) / (most - OVERLAP_MM) - 1e-9)
    return count, (whole + (count - 1) * OVERLAP_MM) / count


def draw_tile(sheet: Sheet, tile: Tile, left: float, bottom: float) -> None:
    """Draw a tile with the lower left corner of its frame at a place on a sheet [pt]."""
    frame, piece = tile.frame, tile.piece
    corner = np.array((frame.left, frame.bottom))

    def there(points: FloatArray) -> FloatArray:
        """Return points of the piece on the sheet."""
        placed: FloatArray = (points - corner) * PT_PER_MM + (left, bottom)
        return placed

    for fill in piece.fills:
        sheet.area([there(loop) for loop in _inside(fill.loops, frame)], fill=fill.color)
    for stroke in piece.strokes:
        for line in _clipped(stroke.points, frame):
            sheet.line(there(line), color=stroke.color, width=stroke.width, pattern=stroke.pattern)
    for word in piece.words:
        half = 0.5 * sheet.width_of(word.words, word.kind) / PT_PER_MM
        middle = word.at[0] + {"left": half, "center": 0.0, "right": -half}[word.side]
        if frame.left <= middle - half and middle + half <= frame.right and (
            frame.bottom <= word.at[1] <= frame.top
        ):  # fmt: skip
            x, y = there(np.array(word.at)).tolist()
            sheet.text((x, y), word.words, word.kind, side=word.side)
    if tile.count > 1:
        _draw_joints(sheet, tile, there)


def _draw_joints(sheet: Sheet, tile: Tile, there: Callable[[FloatArray], FloatArray]) -> None:
    """Draw the corners of a tile and the crosses it shares with its neighbors."""
    arm = CROSS_MM
    for x, y in tile.crosses():
        for one, other in (((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm))):
            sheet.line(there(np.array((one, other))), width=style.HAIR)
        middle_x, middle_y = there(np.array((x, y))).tolist()
        sheet.disc((middle_x, middle_y), 1.5 * PT_PER_MM, edge=style.INK, width=style.HAIR)
    frame = tile.frame
    for x, inward in ((frame.left, CROP_MM), (frame.right, -CROP_MM)):
        for y, up in ((frame.bottom, CROP_MM), (frame.top, -CROP_MM)):
            corner = np.array(((x + inward, y), (x, y), (x, y + up)))
            sheet.line(there(corner), color=style.SOFT, width=style.HAIR)


def draw_map(sheet: Sheet, tile: Tile, at: Spot) -> float:
    """Draw how the tiles lie with this one filled, its upper left corner at a place; its height.

    Where there are many, those round this one are drawn: the map stays on the paper.
    """
    wide, high = _MAP_WIDE, _MAP_HIGH
    rows = _round_it(tile.row, tile.rows, MAP_ROWS)
    columns = _round_it(tile.column, tile.columns, MAP_COLUMNS)
    for down, row in enumerate(rows):
        for along, column in enumerate(columns):
            number = row * tile.columns + column + 1
            x, y = at[0] + along * wide, at[1] - down * high
            corners = np.array([(x, y), (x + wide, y), (x + wide, y - high), (x, y - high), (x, y)])
            here = number == tile.number
            if here:
                sheet.area([corners[:-1]], fill=style.BAND)
            sheet.line(corners, width=style.HAIR)
            kind = style.NOTE.colored(style.INK) if here else style.NOTE
            sheet.text((x + 0.5 * wide, y - 9.8), str(number), kind, side="center")
    return map_height(tile.rows)


def map_height(rows: int) -> float:
    """Return how high the map of tiles in so many rows is [pt]."""
    return _MAP_HIGH * min(rows, MAP_ROWS)


def _round_it(place: int, count: int, most: int) -> range:
    """Return at most so many numbers from 0 to a count, about a place as their middle."""
    first = min(max(place - most // 2, 0), max(count - most, 0))
    return range(first, min(first + most, count))


def _clipped(points: FloatArray, frame: Frame) -> list[FloatArray]:
    """Return the parts of a line inside a frame, what runs along its edge too."""
    import shapely

    low, high = np.array((frame.left, frame.bottom)), np.array((frame.right, frame.top))
    low, high = low - _EDGE_MM, high + _EDGE_MM
    if ((points >= low) & (points <= high)).all():
        return [points]
    cut = shapely.clip_by_rect(shapely.linestrings(points), *low.tolist(), *high.tolist())
    parts = [shapely.get_coordinates(part) for part in shapely.get_parts(cut)]
    return [part for part in parts if len(part) > 1]


def _inside(loops: Loops, frame: Frame) -> Loops:
    """Return the part of a region inside a frame."""
    from manifold3d import CrossSection, FillRule

    if not loops:
        return []
    section = CrossSection(loops, FillRule.Positive) ^ CrossSection([frame.corners])
    return [np.array(p, dtype=np.float64) for p in section.to_polygons() if len(p) > 2]
