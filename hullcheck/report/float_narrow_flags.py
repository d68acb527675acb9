"""The heights above the water on the narrow side view: values, names in two lines, masts, bars."""

from dataclasses import dataclass
from typing import Final

from hullcheck.report import marks, style
from hullcheck.report.float_marks import HeightMark
from hullcheck.report.labels import Room, pushed_apart
from hullcheck.report.numbers import height_text
from hullcheck.report.sheet import Box, Sheet, Spot
from hullcheck.report.style import Type

_GAP: Final = 7.0
_FARTHEST: Final = 46.0
"""A label further from its mast than this makes room for others [pt]."""
_NAME_WIDTH: Final = 58.0
_LINE: Final = 10.4
_EDGE: Final = 3.0
_MARGIN: Final = 10.0
"""Of running words: those of the page's words round the drawing [pt]."""
_TOP: Final = 3.0
_MOST: Final = 5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class NarrowFlag:
    """A height above the water with its place along the sheet [pt] and its name in lines."""

    mark: HeightMark
    at: Spot
    names: tuple[str, ...]

    @property
    def loud(self) -> bool:
        """Whether it is drawn as what limits: the least, or any under water."""
        return self.mark.limiting or self.mark.height_mm < 0.0

    @property
    def value(self) -> str:
        """Its number, with the unit where it limits."""
        text = height_text(self.mark.height_mm)
        return text if self.loud else text.partition(" ")[0]

    @property
    def kind(self) -> marks.Kind:
        """How its bar is drawn."""
        return "limiting" if self.loud else "quiet" if self.mark.sealed else "plain"

    @property
    def name_type(self) -> Type:
        """How its name is written."""
        return style.BOLD_NAME.colored(style.LIMIT) if self.loud else style.NAME

    def width(self, sheet: Sheet) -> float:
        """Width of its words [pt]."""
        number = style.FLAG if self.loud else style.NUMBER
        return max(
            sheet.width_of(self.value, number) + (8.0 if self.loud else 0.0),
            *(sheet.width_of(line, self.name_type) for line in self.names),
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class NarrowRow:
    """The flags that are shown, bow to stern, the middle of each, and words about the others."""

    flags: tuple[NarrowFlag, ...]
    middles: tuple[float, ...]
    also: tuple[str, ...]

    @property
    def also_height(self) -> float:
        """Height of what is said of the others [pt]."""
        return _LINE * len(self.also) + (4.0 if self.also else 0.0)

    @property
    def label_height(self) -> float:
        """Height of a label [pt]."""
        return 19.0 + _LINE * max((len(flag.names) for flag in self.flags), default=0)

    @property
    def height(self) -> float:
        """Height over the hull that labels need [pt]."""
        return self.also_height + (self.label_height + _TOP + 13.0 if self.flags else 6.0)


def narrow_row(sheet: Sheet, marks_at: list[tuple[HeightMark, Spot]]) -> NarrowRow:
    """Return the flags that fit for height marks with their spots [pt], the surface at 0.

    The limiting one always stays; sealed ones go first, then the highest, and are named in a line.
    """
    shown = [pair for pair in marks_at if pair[0].opening or pair[0].limiting]
    flags = sorted(
        (NarrowFlag(mark=mark, at=at, names=_lines(sheet, mark)) for mark, at in shown),
        key=lambda flag: (flag.at[0], not flag.mark.limiting),
    )
    dropped: list[NarrowFlag] = []
    middles, crowd = _middles(sheet, flags)
    while crowd:
        least = max(crowd, key=lambda flag: (not flag.loud, flag.mark.sealed, flag.mark.height_mm))
        flags.remove(least)
        dropped.append(least)
        middles, crowd = _middles(sheet, flags)
    return NarrowRow(flags=tuple(flags), middles=tuple(middles), also=tuple(_also(sheet, dropped)))


def draw_row(sheet: Sheet, row: NarrowRow, surface: float, room: Room) -> None:
    """Draw every height of a row: bar, diamond, mast and label, the surface at a height [pt]."""
    for i, line in enumerate(row.also):
        sheet.text((_MARGIN, -9.5 - _LINE * i), line, style.NOTE)
    top = -row.also_height - _TOP
    for flag, middle in zip(row.flags, row.middles, strict=True):
        spot = (flag.at[0], flag.at[1] + surface)
        marks.height_bar(sheet, spot, surface, kind=flag.kind, dotted=flag.mark.in_doubt)
        color = style.LIMIT if flag.loud else style.SOFT if flag.mark.sealed else style.INK
        foot = top - row.label_height - 3.0
        bend = (spot[0], max(spot[1] + marks.DIAMOND, foot - 9.0))
        path = [(spot[0], spot[1] + marks.DIAMOND), bend, (middle, foot)]
        sheet.line(path, color=color, width=style.THIN, layer=style.Layer.LINE)
        room.line([(spot[0], surface), *path])
        room.take(Box(left=spot[0], bottom=spot[1], right=spot[0], top=spot[1]).grown(5.0))
        _label(sheet, flag, middle, top)


def _label(sheet: Sheet, flag: NarrowFlag, middle: float, top: float) -> None:
    """Write a label: its number, filled where it limits, over its name."""
    if flag.loud:
        marks.flag(sheet, (middle, top - 13.2), flag.value, side="center")
    else:
        number = style.NUMBER.colored(style.SOFT) if flag.mark.sealed else style.NUMBER
        sheet.text((middle, top - 12.5), flag.value, number, side="center")
    for i, line in enumerate(flag.names):
        at = (middle, top - 28.0 - _LINE * i)
        sheet.text(at, line, flag.name_type, side="center")


def _lines(sheet: Sheet, mark: HeightMark) -> tuple[str, ...]:
    """Return a name in one line or two, cut where even two do not hold it."""
    loud = mark.limiting or mark.height_mm < 0.0
    kind = style.BOLD_NAME if loud else style.NAME
    name = mark.name.partition(", ")[0].replace("opening at station ", "opening ")
    lines = sheet.wrapped(name, kind, _NAME_WIDTH)
    if len(lines) > 2:
        lines = [lines[0], " ".join(lines[1:])]
    return tuple(sheet.fitted(line, kind, _NAME_WIDTH + 12.0) for line in lines)


def _middles(sheet: Sheet, flags: list[NarrowFlag]) -> tuple[list[float], list[NarrowFlag]]:
    """Return the middle of each label, and those that crowd each other; empty where all fit."""
    widths = [flag.width(sheet) for flag in flags]
    wanted = [flag.at[0] - 0.5 * width for flag, width in zip(flags, widths, strict=True)]
    low, high = _EDGE, sheet.width - _EDGE
    lefts = pushed_apart(wanted, widths, _GAP, low, high)
    middles = [left + 0.5 * width for left, width in zip(lefts, widths, strict=True)]
    spare = [flag for flag in flags if not flag.mark.limiting]
    moved = [abs(middle - flag.at[0]) for middle, flag in zip(middles, flags, strict=True)]
    if not spare:
        return middles, []
    if lefts[-1] + widths[-1] > high + 1e-6 or len(flags) > _MOST:
        return middles, spare
    if max(moved) <= _FARTHEST:
        return middles, []
    worst = moved.index(max(moved))
    first = last = worst
    while first > 0 and lefts[first - 1] + widths[first - 1] + _GAP > lefts[first] - 1.0:
        first -= 1
    while last + 1 < len(lefts) and lefts[last] + widths[last] + _GAP > lefts[last + 1] - 1.0:
        last += 1
    return middles, [flag for flag in flags[first : last + 1] if flag in spare] or spare


def _also(sheet: Sheet, dropped: list[NarrowFlag]) -> list[str]:
    """Return what is said of openings without a flag, in lines."""
    lines: list[str] = []
    for start, wet in (("Also under water", True), ("Also dry", False)):
        words = ", ".join(
            f"{' '.join(flag.names)} {flag.value}"
            for flag in sorted(dropped, key=lambda flag: flag.at[0])
            if (flag.mark.height_mm < 0.0) == wet
        )
        width = sheet.width - 2.0 * _MARGIN
        lines += sheet.wrapped(f"{start}: {words}", style.NOTE, width) if words else []
    return lines
