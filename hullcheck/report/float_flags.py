"""The heights above the water on the side view: bars, diamonds, masts and the labels they carry."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.report import marks, style
from hullcheck.report.float_marks import HeightMark
from hullcheck.report.labels import pushed_apart
from hullcheck.report.numbers import height_text
from hullcheck.report.sheet import Box, Sheet, Side
from hullcheck.report.words import STATE_UNKNOWN

if TYPE_CHECKING:
    from hullcheck.report.float_side import SideView

_GAP: Final = 9.0
_FARTHEST: Final = 48.0
_BESIDE: Final = 4.7
_SAME_PLACE: Final = 12.0
"""A hull top closer to what limits than this is one with it to the eye [pt]."""
_ONE_SPOT: Final = 3.0
"""Openings of one height, state and place stand under one flag [pt]."""
_NAME_WIDTH: Final = 98.0
"""A longer name is written in two lines [pt]."""
_LINE: Final = 10.8
_FEW: Final = 3
"""With more openings than this the tops of the hull are left out."""
_ENDS: Final = ("at the bow", "at the stern", "at the sternpost")
"""Beside openings the hull's top is shown here only."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Flag:
    """A height mark with its place along the sheet [pt] and its name in lines.

    `more` are the names of others that stand under the same flag.
    """

    mark: HeightMark
    x: float
    names: tuple[str, ...]
    more: tuple[str, ...] = ()

    @property
    def wet(self) -> bool:
        """Whether it is under water."""
        return self.mark.height_mm < 0.0

    @property
    def loud(self) -> bool:
        """Whether it is drawn as what limits: the least, or any under water."""
        return self.mark.limiting or self.wet

    @property
    def kind(self) -> marks.Kind:
        """How its bar is drawn."""
        return "limiting" if self.loud else "quiet" if self.mark.sealed else "plain"

    @property
    def value(self) -> str:
        """Its number."""
        return height_text(self.mark.height_mm)

    @property
    def state(self) -> str:
        """The soft words under its name."""
        said = self.mark.state or ""
        if self.mark.in_doubt:
            said = "not stated" if self.wet else STATE_UNKNOWN
        return ", ".join(part for part in (said, "under water" if self.wet else "") if part)

    def width(self, sheet: Sheet) -> float:
        """Width of its words [pt]."""
        number = style.FLAG if self.loud else style.NUMBER
        name = style.BOLD_NAME if self.loud else style.NAME
        return max(
            sheet.width_of(self.value, number) + (8.0 if self.loud else 0.0),
            *(sheet.width_of(line, name) for line in self.names),
            sheet.width_of(self.state, style.NOTE),
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FlagRow:
    """The flags that are shown, bow to stern, each with its left edge and whether it is flipped.

    `also` is what is said of the openings that are not shown.
    """

    flags: tuple[Flag, ...]
    places: tuple[tuple[float, bool], ...]
    also: tuple[str, ...]

    @property
    def label_height(self) -> float:
        """Height of a label [pt]."""
        return 32.2 + _LINE * max((len(flag.names) for flag in self.flags), default=0)

    @property
    def also_height(self) -> float:
        """Height of what is said of the others [pt]."""
        return _LINE * len(self.also) + (5.0 if self.also else 0.0)

    @property
    def height(self) -> float:
        """Height over the hull that labels need [pt]."""
        return 8.0 if not self.flags else self.also_height + self.label_height + 9.0


def flag_row(sheet: Sheet, marks_at: list[tuple[HeightMark, float]]) -> FlagRow:
    """Return the flags that fit for height marks with their places along the sheet [pt]."""
    flags = _kept([Flag(mark=mark, x=x, names=_lines(sheet, mark)) for mark, x in marks_at])
    dropped: list[Flag] = []
    places, crowd = _placed(sheet, flags)
    while crowd:
        least = _least_needed(crowd)
        dropped += [least] if least.mark.opening else []
        flags = [flag for flag in flags if flag is not least]
        places, crowd = _placed(sheet, flags)
    dropped.sort(key=lambda flag: flag.x)
    return FlagRow(flags=tuple(flags), places=tuple(places), also=tuple(_also(sheet, dropped)))


def draw_flags(view: "SideView", top: float) -> None:
    """Draw every height mark of a view, the row's top at a height of the sheet [pt]."""
    for i, line in enumerate(view.row.also):
        view.sheet.text((style.MARGIN, top - 6.5 - _LINE * i), line, style.NOTE)
    for flag, place in zip(view.row.flags, view.row.places, strict=True):
        _draw(view, flag, place, top - view.row.also_height)


def _also(sheet: Sheet, dropped: list[Flag]) -> list[str]:
    """Return what is said of openings without a flag, in lines."""
    lines: list[str] = []
    for start, wet in (("Also under water", True), ("Also dry", False)):
        words = ", ".join(
            f"{_parted(name)[0]} ({_state(flag.mark)}) {flag.value}"
            for flag in dropped
            if flag.wet == wet
            for name in (flag.mark.name, *flag.more)
        )
        width = sheet.width - 2.0 * style.MARGIN
        lines += sheet.wrapped(f"{start}: {words}", style.NOTE, width) if words else []
    return lines


def _state(mark: HeightMark) -> str:
    """Return an opening's state in a word or two."""
    return mark.state or STATE_UNKNOWN


def _parted(name: str) -> tuple[str, str]:
    """Return a name, and the size behind it that an unnamed opening has; else ""."""
    first, _, size = name.partition(", ")
    if size.endswith(("mm", "cm", "in")) and first.startswith("opening at "):
        return first, size
    return name, ""


def _lines(sheet: Sheet, mark: HeightMark) -> tuple[str, ...]:
    """Return a name in one line or two, cut where even two do not hold it."""
    kind = style.BOLD_NAME if mark.limiting or mark.height_mm < 0.0 else style.NAME
    first, size = _parted(mark.name)
    if size:
        return first, size
    lines = sheet.wrapped(mark.name, kind, _NAME_WIDTH)
    if len(lines) > 2:
        lines = [lines[0], " ".join(lines[1:])]
    return tuple(sheet.fitted(line, kind, _NAME_WIDTH + 14.0) for line in lines)


def _kept(flags: list[Flag]) -> list[Flag]:
    """Return the marks bow to stern, twins as one; tops of the hull only where few openings are."""
    openings = [flag for flag in flags if flag.mark.opening]
    limiting = [flag for flag in flags if flag.mark.limiting]
    kept: list[Flag] = []
    for flag in sorted(flags, key=lambda flag: (flag.x, not flag.mark.limiting)):
        near = any(abs(flag.x - other.x) < _SAME_PLACE for other in limiting)
        spare = near or len(openings) > _FEW or (openings and flag.mark.state not in _ENDS)
        if not flag.mark.opening and not flag.loud and spare:
            continue
        twin = next((other for other in kept if flag.mark.opening and _twins(flag, other)), None)
        if twin is None:
            kept.append(flag)
        else:
            kept[kept.index(twin)] = _joined(twin, flag)
    return kept


def _twins(one: Flag, two: Flag) -> bool:
    """Return whether two openings are one to the eye: one height, one state, one place."""
    alike = one.value == two.value and one.state == two.state
    return alike and two.mark.opening and abs(one.x - two.x) < _ONE_SPOT


def _joined(one: Flag, two: Flag) -> Flag:
    """Return two openings under one flag."""
    more = (*one.more, two.mark.name)
    second = two.names[0] if len(more) == 1 else f"and {len(more)} more"
    return replace(one, names=(f"{one.names[0].rstrip(',')},", second), more=more)


def _placed(sheet: Sheet, flags: list[Flag]) -> tuple[list[tuple[float, bool]], list[Flag]]:
    """Return each label's left edge and whether its mast stands right of it, and what is too much.

    Those are flags that stand in one block with one that moved too far, none of them limiting;
    empty where all fit or none is left to drop.
    """
    widths = [flag.width(sheet) for flag in flags]
    high = sheet.width - style.MARGIN
    flipped = [flag.x + _BESIDE + width > high for flag, width in zip(flags, widths, strict=True)]
    wanted = [
        flag.x - _BESIDE - width if flip else flag.x + _BESIDE
        for flag, width, flip in zip(flags, widths, flipped, strict=True)
    ]
    lefts = pushed_apart(wanted, widths, _GAP, style.MARGIN, high)
    moved = [abs(a - b) for a, b in zip(lefts, wanted, strict=True)]
    spare = [flag for flag in flags if not flag.mark.limiting]
    places = list(zip(lefts, flipped, strict=True))
    if not spare or max(moved) <= _FARTHEST:
        full = bool(flags) and lefts[-1] + widths[-1] > high + 1e-6
        return places, spare if full else []
    worst = int(np.argmax(moved))
    first = last = worst
    while first > 0 and lefts[first - 1] + widths[first - 1] + _GAP > lefts[first] - 1.0:
        first -= 1
    while last + 1 < len(lefts) and lefts[last] + widths[last] + _GAP > lefts[last + 1] - 1.0:
        last += 1
    block = [flag for flag in flags[first : last + 1] if not flag.mark.limiting]
    return places, block or spare


def _least_needed(flags: list[Flag]) -> Flag:
    """Return the mark that matters least: a top of the hull, a sealed one, then the highest."""
    spare = [flag for flag in flags if not flag.mark.limiting]
    return max(
        spare, key=lambda flag: (not flag.wet, not flag.mark.opening, flag.mark.sealed,
                                 flag.mark.height_mm)
    )  # fmt: skip


def _draw(view: "SideView", flag: Flag, place: tuple[float, bool], top: float) -> None:
    """Draw one height mark with its label."""
    sheet, room, spot = view.sheet, view.room, view.spot(flag.mark.point_mm)
    left, flipped = place
    mast_x = left + flag.width(sheet) + _BESIDE if flipped else left - _BESIDE
    deck = max(view.reach(min(spot[0], mast_x), max(spot[0], mast_x))[1], view.surface)
    marks.height_bar(sheet, spot, view.surface, kind=flag.kind, dotted=flag.mark.in_doubt)
    path = marks.mast(
        sheet,
        spot,
        (mast_x, top),
        kind=flag.kind,
        over_y=deck,
        label_height=view.row.label_height,
    )
    room.line([(spot[0], view.surface), *path])
    room.take(Box(left=spot[0], bottom=spot[1], right=spot[0], top=spot[1]).grown(5.0))
    _label(view, flag, place, top)


def _label(view: "SideView", flag: Flag, place: tuple[float, bool], top: float) -> None:
    """Write a label: its number, filled where it limits, its name and its state."""
    sheet, room, (left, flipped) = view.sheet, view.room, place
    at = left + flag.width(sheet) if flipped else left
    side: Side = "right" if flipped else "left"
    if flag.loud:
        inset = -3.1 if flipped else 3.1
        room.take(marks.flag(sheet, (at + inset, top - 13.2), flag.value, side=side))
    else:
        number = style.NUMBER.colored(style.SOFT) if flag.mark.sealed else style.NUMBER
        room.take(sheet.text((at, top - 12.0), flag.value, number, side=side))
    name = style.BOLD_NAME.colored(style.LIMIT) if flag.loud else style.NAME
    drop = 29.5 if flag.loud else 24.5
    for line in flag.names:
        room.take(sheet.text((at, top - drop), line, name, side=side))
        drop += _LINE
    room.take(sheet.text((at, top - drop), flag.state, style.NOTE, side=side))
