"""The skin drawing's first view: the parts set apart, each outline in its own place."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.report import style
from hullcheck.report.labels import pushed_apart
from hullcheck.report.sheet import Sheet
from hullcheck.report.skin_page import TITLE_APART, TITLE_ROOM, Page
from hullcheck.report.skin_scene import PartShape, SkinScene
from hullcheck.report.skin_words import file_name, kind_words
from hullcheck.report.style import Layer

APART: Final = 12.0
"""Between parts that follow each other [pt]."""
_OVERLAP: Final = 0.25
"""Of the shorter of two parts: what stands over another by more is set in a row of its own."""
_MOST_ROWS: Final = 4
_LABEL_ROOM: Final = 31.0
_LABEL_APART: Final = 7.0
_LEAST_LABEL: Final = 30.0
_WIDEST: Final = 120.0
_NARROW: Final = 64.0
"""A name's room where there are many [pt]."""
_MANY: Final = 9
_SHORTEST: Final = 2
"""How far a name and a kind may be shortened: without the thickness, without the file's end."""
_BETWEEN_ROWS: Final = 7.0
_LOW: Final = style.MARGIN
_HIGH: Final = style.SHEET_WIDTH - style.MARGIN


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Row:
    """Parts beside each other: where each one's zero stands, and how wide a name may be [pt]."""

    parts: list[PartShape]
    shifts: list[float]
    rises: list[float]
    height: float
    widest: float = _WIDEST
    low: float = _LOW


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Wanted:
    """A part that stands over others: where its middle belongs, and how wide it is [pt]."""

    part: PartShape
    middle: float
    width: float


def main_row(scene: SkinScene) -> list[PartShape]:
    """Return the parts that follow each other along her, the largest chosen first."""
    chosen: list[PartShape] = []
    order = sorted(
        scene.parts, key=lambda part: (part.report.kind == "inside", -_size(part.box))
    )  # fmt: skip
    for part in order:
        if part.report.kind == "inside" and chosen:
            continue
        if all(_overlap(part.box, other.box) <= _OVERLAP for other in chosen):
            chosen.append(part)
    return sorted(chosen, key=_center)


def exploded_view(page: Page, top: float, beside: float) -> float:
    """Draw the parts set apart below a height of the sheet and return where they end [pt].

    Parameters
    ----------
    top : float
        Where the view's title ends, downwards [pt].
    beside : float
        Where it ends to the right [pt].
    """
    sheet, scale, left = page.sheet, page.scale, page.left
    main = main_row(page.scene)
    rows, left_over = _upper_rows(page, main, beside + TITLE_APART)
    if rows and rows[-1].low > beside:
        top += TITLE_ROOM
    for row in reversed(rows):
        top = _draw_row(sheet, row, scale, top) - _BETWEEN_ROWS
    end = _draw_row(sheet, _main(main, scale, left), scale, top)
    if left_over:
        count = f"and {left_over} more part{'' if left_over == 1 else 's'}, named in the table"
        end -= 11.0
        sheet.text((style.MARGIN, end), count, style.NOTE)
        end -= 3.0
    return end


def _main(parts: list[PartShape], scale: float, left: float) -> Row:
    """Return the row of parts that follow each other, at their true heights."""
    middle = 0.5 * (len(parts) - 1)
    low = min(float(part.box[0, 1]) for part in parts)
    high = max(float(part.box[1, 1]) for part in parts)
    return Row(
        parts=parts,
        shifts=[left + (i - middle) * APART for i in range(len(parts))],
        rises=[-low * scale] * len(parts),
        height=(high - low) * scale,
    )


def _upper_rows(page: Page, main: list[PartShape], beside: float) -> tuple[list[Row], int]:
    """Return the rows of the parts that stand over others, and how many found no room.

    The last, the uppermost, stands right of the view's title where it has room there [pt].
    """
    scale = page.scale
    others = [part for part in page.scene.parts if part not in main]
    others.sort(key=lambda part: (part.report.kind == "inside", -_size(part.box)))
    rows: list[list[Wanted]] = []
    left_over = 0
    widest = _WIDEST if len(others) <= _MANY else _NARROW
    for part in others:
        middle = _center(part) * scale + page.left + _shift_of(part, main)
        wanted = Wanted(part=part, middle=middle, width=_room(page.sheet, part, scale, widest))
        row = next((row for row in rows if _fits(wanted, row)), None)
        if row is None and len(rows) < _MOST_ROWS - 1:
            row = []
            rows.append(row)
        if row is None:
            left_over += part.copies
        else:
            row.append(wanted)
    lows = [_LOW] * len(rows)
    if rows and sum(one.width + APART for one in rows[-1]) - APART <= _HIGH - beside:
        lows[-1] = beside
    return [_upper(row, scale, widest, low) for row, low in zip(rows, lows, strict=True)], left_over


def _shift_of(part: PartShape, main: list[PartShape]) -> float:
    """Return how far the part of the main row that a part belongs to is set apart [pt]."""
    nearest = int(np.argmin([abs(_center(part) - _center(one)) for one in main]))
    return (nearest - 0.5 * (len(main) - 1)) * APART


def _fits(wanted: Wanted, row: list[Wanted]) -> bool:
    """Return whether a row has room for a part; it may be pushed from where it belongs."""
    return sum(one.width + APART for one in (*row, wanted)) <= _HIGH - _LOW + APART


def _upper(row: list[Wanted], scale: float, widest: float, low: float) -> Row:
    """Return a row of parts over the main one, each near where it belongs."""
    row = sorted(row, key=lambda one: one.middle - 0.5 * one.width)
    widths = [one.width for one in row]
    lefts = pushed_apart([one.middle - 0.5 * one.width for one in row], widths, APART, low, _HIGH)
    shifts = [
        start + 0.5 * one.width - _center(one.part) * scale
        for one, start in zip(row, lefts, strict=True)
    ]
    heights = [float(np.ptp(one.part.box[:, 1])) for one in row]
    rises = [-float(one.part.box[0, 1]) * scale for one in row]
    parts = [one.part for one in row]
    return Row(
        parts=parts, shifts=shifts, rises=rises, height=max(heights) * scale, widest=widest, low=low
    )


def _draw_row(sheet: Sheet, row: Row, scale: float, top: float) -> float:
    """Draw a row's parts with their names under them and return where it ends [pt]."""
    floor = top - row.height
    for part, shift, rise in zip(row.parts, row.shifts, row.rises, strict=True):
        loops = [loop * scale + np.array([shift, floor + rise]) for loop in part.side]
        inside = part.report.kind == "inside"
        sheet.area(
            loops,
            fill=style.BEYOND if inside else style.SKIN,
            edge=style.SOFT if inside else style.INK,
            width=style.THIN if inside else 1.3,
            layer=Layer.FILL,
        )
    _names(sheet, row, scale, floor)
    return floor - _LABEL_ROOM


def _names(sheet: Sheet, row: Row, scale: float, floor: float) -> None:
    """Write each part's name and what it is under it; where they do not fit, the largest ones'."""
    ends = [
        (part.box * scale + np.array([shift, floor + rise]))
        for part, shift, rise in zip(row.parts, row.shifts, row.rises, strict=True)
    ]
    named = list(range(len(row.parts)))
    most = int((_HIGH - _LOW + _LABEL_APART) // (_LEAST_LABEL + _LABEL_APART))
    if len(named) > most:
        named = sorted(sorted(named, key=lambda i: -_size(row.parts[i].box))[:most])
    words, widths = _fitting(sheet, [row.parts[i] for i in named], row)
    wanted = [float(ends[i][:, 0].mean()) - 0.5 * w for i, w in zip(named, widths, strict=True)]
    lefts = pushed_apart(wanted, widths, _LABEL_APART, row.low, _HIGH)
    for i, left, width, (name, kind) in zip(named, lefts, widths, words, strict=True):
        middle, foot = left + 0.5 * width, float(ends[i][0, 1])
        x = min(max(middle, float(ends[i][0, 0])), float(ends[i][1, 0]))
        if abs(middle - x) > 1.0 or foot - floor > 12.0:
            path = [(x, foot - 2.0), (middle, floor - 4.5)]
            sheet.line(path, color=style.SOFT, width=style.HAIR, layer=Layer.HAIR)
        at = (middle, floor - 13.0)
        sheet.text(at, sheet.fitted(name, style.NAME, width), style.NAME, side="center")
        at = (middle, floor - 23.3)
        sheet.text(at, sheet.fitted(kind, style.NOTE, width), style.NOTE, side="center")


def _fitting(
    sheet: Sheet, parts: list[PartShape], row: Row
) -> tuple[list[tuple[str, str]], list[float]]:
    """Return parts' names and kinds, as full as a row has room for, and how wide each may be [pt].

    Thicknesses go first, then the ends of file names; then lines are cut.
    """
    room = _HIGH - row.low - _LABEL_APART * (len(parts) - 1)
    for short in range(_SHORTEST + 1):
        words = [_words(part, short) for part in parts]
        widths = [min(_wide(sheet, *both), row.widest) for both in words]
        if sum(widths) <= room:
            return words, widths
    widest = row.widest
    while sum(widths) > room:
        widest -= 2.0
        widths = [min(width, widest) for width in widths]
    return words, widths


def _words(part: PartShape, short: int = 0) -> tuple[str, str]:
    """Return a part's name without its folder, and what it is; of copies how many there are."""
    whole = file_name(part.report)
    kind = part.report.kind if short else kind_words(part.report)
    name = whole.replace("\\", "/").rstrip("/").rpartition("/")[2] or whole
    if short == _SHORTEST:
        name = name.rpartition(".")[0] or name
    if part.copies == 1:
        return name, kind
    return f"{name} ×{part.copies}", f"{kind}, one mirrored" if part.is_mirrored else kind


def _wide(sheet: Sheet, name: str, kind: str) -> float:
    """Return how wide a part's two lines are, a little more than none [pt]."""
    return max(sheet.width_of(name, style.NAME), sheet.width_of(kind, style.NOTE), 1.0) + 0.5


def _room(sheet: Sheet, part: PartShape, scale: float, widest: float) -> float:
    """Return how wide a part with its name is [pt]."""
    own = float(part.box[1, 0] - part.box[0, 0]) * scale
    return min(max(own, min(_wide(sheet, *_words(part)), widest)), _HIGH - _LOW)


def _center(part: PartShape) -> float:
    """Return the station of a part's middle [mm]."""
    return float(part.box[:, 0].mean())


def _size(box: FloatArray) -> float:
    """Return the area of a box [mm²]."""
    return float(np.prod(box[1] - box[0]))


def _overlap(one: FloatArray, two: FloatArray) -> float:
    """Return how much of the shorter of two boxes lies over the other along her."""
    shared = min(one[1, 0], two[1, 0]) - max(one[0, 0], two[0, 0])
    return float(shared / max(min(one[1, 0] - one[0, 0], two[1, 0] - two[0, 0]), 1e-9))
