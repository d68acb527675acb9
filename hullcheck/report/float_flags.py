"""The heights above the water on the side view: bars, diamonds, masts and the labels they carry."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from hullcheck.report import marks, style
from hullcheck.report.float_marks import HeightMark
from hullcheck.report.labels import pushed_apart
from hullcheck.report.numbers import height_text
from hullcheck.report.sheet import Box, Sheet, Side, Spot

if TYPE_CHECKING:
    from hullcheck.report.float_side import SideView

_GAP: Final = 9.0
_FARTHEST: Final = 48.0
_BESIDE: Final = 4.7
_SAME_PLACE: Final = 12.0
"""Two marks closer than this are one to the eye: the limiting one stands for both [pt]."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Flag:
    """A height mark with its spot on the sheet and its words."""

    mark: HeightMark
    spot: Spot

    @property
    def loud(self) -> bool:
        """Whether it is drawn as what limits: the least, or any under water."""
        return self.mark.limiting or self.mark.height_mm < 0.0

    @property
    def value(self) -> str:
        """Its number."""
        return height_text(self.mark.height_mm)

    @property
    def state(self) -> str:
        """The soft words under its name."""
        said = [self.mark.state] if self.mark.state else []
        return ", ".join([*said, "under water"] if self.mark.height_mm < 0.0 else said)

    def width(self, sheet: Sheet) -> float:
        """Width of its words [pt]."""
        number = style.FLAG if self.loud else style.NUMBER
        name = style.BOLD_NAME if self.loud else style.NAME
        return max(
            sheet.width_of(self.value, number) + (8.0 if self.loud else 0.0),
            sheet.width_of(self.mark.name, name),
            sheet.width_of(self.state, style.NOTE),
        )


def draw_flags(view: "SideView", top: float) -> None:
    """Draw every height mark, its label's top at a height of the sheet [pt]."""
    flags = [
        Flag(mark=mark, spot=view.spot(mark.point_mm)) for mark in view.scene.height_marks
    ]  # fmt: skip
    flags = _kept(flags)
    dropped: list[Flag] = []
    placed = _placed(view.sheet, flags)
    while placed is None:
        least = _least_needed(flags)
        dropped.append(least)
        flags = [flag for flag in flags if flag is not least]
        placed = _placed(view.sheet, flags)
    if dropped:
        words = ", ".join(f"{flag.mark.full_name} {flag.value}" for flag in dropped)
        view.sheet.text((style.MARGIN, top + 6.0), f"Also dry: {words}", style.NOTE)
    for flag, (left, flipped) in zip(flags, placed, strict=True):
        _draw(view, flag, (left, flipped), top)


def _kept(flags: list[Flag]) -> list[Flag]:
    """Return the marks bow to stern, without those that stand where the limiting one does."""
    limiting = [flag for flag in flags if flag.mark.limiting]
    kept = [
        flag
        for flag in flags
        if flag.loud or all(abs(flag.spot[0] - other.spot[0]) >= _SAME_PLACE for other in limiting)
    ]
    return sorted(kept, key=lambda flag: flag.spot[0])


def _placed(sheet: Sheet, flags: list[Flag]) -> list[tuple[float, bool]] | None:
    """Return each label's left edge and whether its mast stands right of it; None if too full."""
    widths = [flag.width(sheet) for flag in flags]
    high = sheet.width - style.MARGIN
    flipped = [
        flag.spot[0] + _BESIDE + width > high for flag, width in zip(flags, widths, strict=True)
    ]
    wanted = [
        flag.spot[0] - _BESIDE - width if flip else flag.spot[0] + _BESIDE
        for flag, width, flip in zip(flags, widths, flipped, strict=True)
    ]
    lefts = pushed_apart(wanted, widths, _GAP, style.MARGIN, high)
    moved = max((abs(a - b) for a, b in zip(lefts, wanted, strict=True)), default=0.0)
    if moved > _FARTHEST and not all(flag.loud for flag in flags):
        return None
    return list(zip(lefts, flipped, strict=True))


def _least_needed(flags: list[Flag]) -> Flag:
    """Return the mark that matters least: a sealed one first, then the highest."""
    spare = [flag for flag in flags if not flag.loud]
    return max(spare, key=lambda flag: (flag.mark.state == "sealed", flag.mark.height_mm))


def _draw(view: "SideView", flag: Flag, place: tuple[float, bool], top: float) -> None:
    """Draw one height mark with its label."""
    sheet, room = view.sheet, view.room
    left, flipped = place
    width = flag.width(sheet)
    mast_x = left + width + _BESIDE if flipped else left - _BESIDE
    deck = view.reach(min(flag.spot[0], mast_x), max(flag.spot[0], mast_x))[1]
    deck = max(deck, view.surface)
    marks.height_bar(sheet, flag.spot, view.surface, limiting=flag.loud)
    marks.mast(sheet, flag.spot, (mast_x, top), limiting=flag.loud, over_y=deck)
    room.line([(flag.spot[0], view.surface), flag.spot, (mast_x, top)])
    room.take(
        Box(
            left=flag.spot[0] - 5.0,
            bottom=flag.spot[1] - 5.0,
            right=flag.spot[0] + 5.0,
            top=flag.spot[1] + 5.0,
        )
    )
    at = left + width if flipped else left
    side: Side = "right" if flipped else "left"
    if flag.loud:
        inset = -3.1 if flipped else 3.1
        room.take(marks.flag(sheet, (at + inset, top - 13.2), flag.value, side=side))
    else:
        room.take(sheet.text((at, top - 12.0), flag.value, style.NUMBER, side=side))
    name = style.BOLD_NAME.colored(style.LIMIT) if flag.loud else style.NAME
    drop = 29.5 if flag.loud else 24.5
    room.take(sheet.text((at, top - drop), flag.mark.name, name, side=side))
    room.take(sheet.text((at, top - drop - 10.8), flag.state, style.NOTE, side=side))
