"""Labels of the growth drawing: names at the right end, values under the water, grams left."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from hullcheck.answers.sweep_records import SweepAnswer, SweepEnd
from hullcheck.report import marks, style
from hullcheck.report.growth_chart import EDGE, Chart, Curves, Height, name_of, spread_names
from hullcheck.report.labels import Room, pushed_apart
from hullcheck.report.numbers import grams_left_text, height_text, plus_minus_text
from hullcheck.report.sheet import Box, Sheet, Side, Spot
from hullcheck.report.style import Layer, Type
from hullcheck.report.sweep_text import today_words
from hullcheck.report.sweep_titles import short_end_words
from hullcheck.report.sweep_words import end_plus_minus, number_text, unit_of
from hullcheck.report.words import state_words, water_words

NAMES_WIDE: Final = 150.0
"""Most room that names at the right end may take [pt]."""
_NAME_GAP: Final = 12.0
_SAME: Final = 0.012
"""Lines nearer to each other at their ends look like one: a share of the greatest height there."""
_BLOCK_GAP: Final = 9.0
_MOST_BLOCKS: Final = 5
BAND: Final = 38.0
"""Height of the band of values under the water [pt]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A value under the water: a bold number, what it is, and whether it must be there."""

    value: float
    number: str
    words: str
    needed: bool = True


def blocks_of(answer: SweepAnswer) -> list[Block]:
    """Return the values that are named under the water, rising: today, ends, named waters."""
    found = []
    today = answer.today
    low, high = answer.rows[0].value, answer.rows[-1].value
    if today is not None and low <= today.value <= high:
        number = today_words(answer).removeprefix("station ")
        found.append(Block(value=today.value, number=number, words="today"))
    for end, greatest in ends_of(answer):
        number = number_text(
            answer, end.value, end.plus_minus, rounds="down" if greatest else "up"
        )  # fmt: skip
        unit = unit_of(answer)
        known = end_plus_minus(answer, end)
        number = f"{number} {known}" if known else f"{number} {unit}"
        number = number.removesuffix(f" {unit}") if answer.over == "item" else number
        words = short_end_words(answer, end)
        found.append(Block(value=end.value, number=number, words=words))
    if answer.over == "water":
        taken = {block.value for block in found}
        for row in answer.rows:
            if row.water.kind != "given" and row.value not in taken:
                kind, _, warm = water_words(row.water).partition(", ")
                found.append(Block(value=row.value, number=warm, words=kind, needed=False))
    return sorted(found, key=lambda block: block.value)


def ends_of(answer: SweepAnswer) -> list[tuple[SweepEnd, bool]]:
    """Return every end, and whether it is the greatest value of its range."""
    found = []
    for kept in answer.kept:
        if kept.least_end is not None:
            found.append((kept.least_end, False))
        if kept.most_end is not None:
            found.append((kept.most_end, True))
    return found


def write_blocks(
    chart: Chart, blocks: Sequence[Block], top: float, room: Room, ends: tuple[float, float]
) -> None:
    """Write the values in their band under the water, each under its place as far as they fit.

    The band has room from one end to the other [pt].
    """
    sheet, kind, soft = chart.sheet, style.BOLD_NAME, style.NOTE
    most = ends[1] - ends[0]
    kept = [b for b in blocks if b.needed][:_MOST_BLOCKS]
    for block in blocks:
        wide = sum(_wide(sheet, b) + _BLOCK_GAP for b in (*kept, block))
        if not block.needed and len(kept) < _MOST_BLOCKS and wide < most:
            kept.append(block)
    kept.sort(key=lambda block: block.value)
    while len(kept) > 1 and sum(_wide(sheet, b) + _BLOCK_GAP for b in kept) > most:
        kept.remove(next((b for b in kept if b.words != "today"), kept[-1]))
    widths = [_wide(sheet, block) for block in kept]
    wanted = [chart.x(b.value) - 0.5 * w for b, w in zip(kept, widths, strict=True)]
    lefts = pushed_apart(wanted, widths, _BLOCK_GAP, *ends)
    for block, left, width in zip(kept, lefts, widths, strict=True):
        middle = left + 0.5 * width
        room.take(sheet.text((middle, top - 10.0), block.number, kind, side="center"))
        room.take(sheet.text((middle, top - 21.0), block.words, soft, side="center"))


def names_width(sheet: Sheet, curves: Curves) -> float:
    """Return the room that names at the right end take [pt]."""
    widths = [sheet.width_of(words, type_of(one, curves)) for one, words in named(curves)]
    return min(max(widths, default=0.0), NAMES_WIDE) + 8.0


def write_names(chart: Chart, curves: Curves, room: Room) -> None:
    """Name each line at its right end, the lowest bold in the color of limits."""
    sheet = chart.sheet
    ys = [chart.y(one.last_mm) - 3.0 for one in curves.heights]
    for (one, name), y in zip(named(curves), spread_names(ys, _NAME_GAP), strict=True):
        kind = type_of(one, curves)
        words = sheet.fitted(name, kind, NAMES_WIDE)
        room.take(sheet.text((chart.box.right + 7.0, y), words, kind))


def named(curves: Curves) -> list[tuple[Height, str]]:
    """Return the lines with their names, the lowest first.

    Two names at what looks like one line are said to be two: the lower begins with "and".
    """
    heights = curves.heights
    same = _SAME * max((abs(one.last_mm) for one in heights), default=0.0)
    named = []
    for i, one in enumerate(heights):
        shared = i + 1 < len(heights) and heights[i + 1].last_mm - one.last_mm < same
        named.append((one, f"{'and ' if shared else ''}{_name(one, curves)}"))
    return named


def write_today(
    chart: Chart, answer: SweepAnswer, room: Room, *, tight: bool = False
) -> Spot | None:
    """Draw today's freeboard as a bar on the water with its value; return its upper end.

    On a tight chart the value stands over the bar's end where it can, not beside it.
    """
    today, sheet = answer.today, chart.sheet
    if today is None or today.freeboard_mm is None or not chart.holds(today.value):
        return None
    at = chart.spot(today.value, today.freeboard_mm)
    marks.height_bar(sheet, at, chart.y(0.0), kind="limiting")
    room.line([(at[0], chart.y(0.0)), at])
    words = height_text(today.freeboard_mm)
    if today.freeboard_mm < 0.0:
        words = words if tight else f"{words}, under water"
    elif answer.today_plus_minus_mm is not None:
        words = plus_minus_text(words, answer.today_plus_minus_mm)
    kind = style.NUMBER.colored(style.LIMIT)
    shares = (0.72, 0.6, 0.48, 0.36, 0.24, 0.12, 0.85)
    base = chart.y(0.0)
    levels = [base + share * (at[1] - base) - 3.5 for share in shares]
    levels += [at[1] + up for up in (6.0, 9.0, 13.0, -14.0)]
    spots = [(at[0] - 6.0, y, "right") for y in levels]
    spots += [(at[0] + 6.0, y, "left") for _, y, _ in spots]
    # Stable: only which of equals comes first changes.
    spots.sort(key=lambda spot: tight and (spot[2] == "right", spot[1] < at[1]))
    boxes = [[sheet.box_of((x, y), words, kind, side)] for x, y, side in spots]  # type: ignore[arg-type]
    x, y, side = spots[room.best(boxes)]
    room.take(sheet.text((x, y), words, kind, side=side))  # type: ignore[arg-type]
    return at


def write_left(
    chart: Chart, answer: SweepAnswer, end: SweepEnd, room: Room, *, tight: bool = False
) -> None:
    """Draw the grams left as a dimension from today to the end, its text over no other.

    On a tight chart the number may stand over the dimension, the word under it.
    """
    today, sheet = answer.today, chart.sheet
    if today is None or answer.margin_g is None or not chart.holds(end.value):
        return
    one, two = chart.x(today.value) + 2.0, chart.x(end.value) - 1.0
    grams = grams_left_text(answer.margin_g, answer.margin_plus_minus_g)
    kind, base = style.NUMBER, chart.y(0.0)
    inside = two - one > sheet.width_of(f"{grams} left", kind) + 8.0
    parted = tight and not inside and two - one > sheet.width_of(grams, kind) + 4.0
    words, below = (grams, "left") if parted else (f"{grams} left", "")
    inside |= parted
    high = chart.box.top - base
    levels = [base + share * high for share in (0.16, 0.22, 0.1, 0.28, 0.34, 0.4, 0.5, 0.6, 0.05)]
    places: list[tuple[Spot, Side, float]] = [
        ((0.5 * (one + two), y + 4.5), "center", y)
        if inside
        else ((two + 14.0, y - 3.5), "left", y)
        for y in levels
    ]
    # Where there is none right of the end, there may be room left of today.
    places += [] if inside else [((one - 16.0, y - 3.5), "right", y) for y in levels]
    boxes = [
        [
            sheet.box_of(at, words, kind, side),
            Box(left=one, bottom=y - (12.0 if below else 2.0), right=two, top=y + 2.0),
        ]
        for at, side, y in places
    ]
    best = room.best(boxes)
    at, side, y = places[best]
    marks.dimension(sheet, (one, y), (two, y))
    sheet.text((0.5 * (one + two), y - 10.5), below, style.BOLD_NAME, side="center")
    room.take(sheet.text(at, words, kind, side=side), boxes[best][1])


def free_text(
    sheet: Sheet, spots: Sequence[tuple[float, float, str]], words: str, kind: Type, room: Room
) -> None:
    """Write words at the least bad of some places, each with the side that it is of them."""
    boxes = [[sheet.box_of((x, y), words, kind, side)] for x, y, side in spots]  # type: ignore[arg-type]
    x, y, side = spots[room.best(boxes)]
    room.take(sheet.text((x, y), words, kind, side=side))  # type: ignore[arg-type]


def plumb(chart: Chart, value: float, top: float, bottom: float, room: Room) -> None:
    """Draw the hair line from a value's mark down to its number."""
    x = chart.x(value)
    chart.sheet.line([(x, top), (x, bottom)], color=style.SOFT, width=style.HAIR, layer=Layer.HAIR)
    room.line([(x, top), (x, bottom)])


def _wide(sheet: Sheet, block: Block) -> float:
    """Return how wide a block is [pt]."""
    return max(
        sheet.width_of(block.number, style.BOLD_NAME), sheet.width_of(block.words, style.NOTE)
    )


def _is_lowest(one: Height, curves: Curves) -> bool:
    """Return whether a line is the lowest at the right end."""
    return one is curves.heights[0]


def _name(one: Height, curves: Curves) -> str:
    """Return a line's name, the lowest with its state."""
    if one.name == EDGE or not _is_lowest(one, curves):
        return name_of(one)
    points = next(row.openings for row in curves.rows if row.openings)
    state = next(point.state for point in points if point.name == one.name)
    return f"{name_of(one)}, {state_words(state)}"


def type_of(one: Height, curves: Curves) -> Type:
    """Return the type of a line's name."""
    if _is_lowest(one, curves):
        return style.BOLD_NAME.colored(style.LIMIT)
    return style.NAME.colored(style.SOFT)
