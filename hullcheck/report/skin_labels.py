"""Rows of labels over and under the views of the skin drawing, tied to their places by lines."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from hullcheck.report import marks, style
from hullcheck.report.labels import pushed_apart
from hullcheck.report.sheet import Sheet, Spot
from hullcheck.report.skin_scene import PatchShape
from hullcheck.report.skin_words import (
    place_name,
    short_name,
    size_text,
    where_words,
    with_state,
)
from hullcheck.report.style import Type

FOOT_HEIGHT: Final = 30.0
"""Of a row of two lines under a view, its leaders included [pt]."""
GAP: Final = 9.0
"""Between a row of labels and its view [pt]."""
_APART: Final = 9.0
_WIDTHS: Final = (150.0, 136.0, 124.0, 112.0, 106.0)
"""How wide a line may be before it is broken in two [pt]: less where there are many."""
_FIRST: Final = 10.0
_PITCH: Final = 10.35
_UNDER: Final = 4.3
"""Baselines of a label's lines: the first under its top, the others, and what is under the last."""
_INDENT: Final = 5.0
_LOW: Final = 3.0
_HIGH: Final = style.SHEET_WIDTH - 6.0
_NEAR: Final = 8.0
"""A label this close under its spot needs no leader [pt]."""
_FLAG_ROOM: Final = 10.0
_BELOW_FLAG: Final = -3.2
_SAME_STATION: Final = 2.0
_TWICE: Final = ", each"
_BOTH: Final = ", both sides"
_SIDE: Final = re.compile(r" to (?:port|starboard)\b")
_LEAST_LINES: Final = 3
"""All rows are as high as one of three lines at least."""

Lines = tuple[tuple[str, Type], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """Lines of text that belong to a spot; the higher its rank, the sooner it is kept."""

    at: Spot
    lines: Lines
    rank: tuple[bool, float]
    name: str
    flagged: bool = False
    dots: tuple[Spot, ...] = ()


def patch_label(patch: PatchShape, at: Spot) -> Label:
    """Return the label of an invented piece; one of a leak is flagged and says its depth first."""
    report = patch.report
    size, where = size_text(report.size_mm), where_words(report)
    name = with_state(report, short_name(report))
    # Of those that stand above water the lowest counts; without a load the largest.
    height = report.height_mm
    rank = (patch.is_leak, report.area_cm2 if height is None else -height)
    if patch.is_leak:
        lines = (
            (where, style.FLAG),
            (name, style.BOLD_NAME.colored(style.LIMIT)),
            (size, style.NOTE),
        )
        return Label(at=at, lines=lines, rank=rank, name=place_name(report), flagged=True)
    told = "closed by its lid" if report.kind == "lid" else where
    lines = ((size, style.NUMBER), (name, style.NAME), (told, style.NOTE))
    return Label(at=at, lines=lines, rank=rank, name=place_name(report))


def twins_once(labels: Sequence[Label]) -> list[Label]:
    """Return labels with those that say the same at one station made one, at the lowest spot.

    Two on either side say so behind their size; others behind their name.
    """
    kept: list[Label] = []
    for label in labels:
        same = next((k for k, one in enumerate(kept) if _are_twins(one, label)), None)
        if same is None:
            kept.append(label)
            continue
        one = kept[same]
        low = min(one.at, label.at, key=lambda at: at[1])
        dots = (*(one.dots or (one.at,)), label.at)
        lines = [
            (words.removesuffix(_TWICE).removesuffix(_BOTH), kind) for words, kind in one.lines
        ]
        size = 2 if one.flagged else 0
        apart = len(dots) == 2 and lines[1][0] != label.lines[1][0]
        where = size if apart else 1
        lines[1] = (_SIDE.sub("", lines[1][0]), lines[1][1])
        lines[where] = (f"{lines[where][0]}{_BOTH if apart else _TWICE}", lines[where][1])
        kept[same] = replace(one, at=low, dots=dots, lines=tuple(lines))
    return kept


def have_room(sheet: Sheet, labels: Sequence[Label]) -> bool:
    """Return whether labels all fit in a row."""
    return not _with_room(sheet, list(labels))[1]


def row_height(sheet: Sheet, labels: Sequence[Label]) -> float:
    """Return how high a row of labels is, 0 without any [pt]."""
    kept, _, width = _with_room(sheet, list(labels))
    return max((_height(sheet, one, width) for one in kept), default=0.0)


def label_row(sheet: Sheet, labels: Sequence[Label], top: float, over_y: float) -> list[str]:
    """Write labels in a row over a view, each at a mast from its spot; return what found no room.

    Parameters
    ----------
    top : float
        Upper end of the row [pt].
    over_y : float
        The view's highest spot, above which a mast may step aside [pt].
    """
    height = row_height(sheet, labels)
    kept, lefts, width, dropped = _placed(sheet, labels)
    for label, left in zip(kept, lefts, strict=True):
        kind: marks.Kind = "limiting" if label.flagged else "plain"
        marks.mast(
            sheet,
            (label.at[0], label.at[1] - marks.DIAMOND),
            (left, top),
            kind=kind,
            over_y=over_y - marks.DIAMOND,
            label_height=height,
        )
        _write(sheet, label, left, top, width)
    return dropped


def under_row(sheet: Sheet, labels: Sequence[Label], bottom: float, under_y: float) -> list[str]:
    """Write labels in a row under a view, each at a line to its spot; return what found no room.

    Parameters
    ----------
    bottom : float
        Lower end of the row [pt].
    under_y : float
        The view's lowest spot, under which a line may step aside [pt].
    """
    top = bottom + row_height(sheet, labels)
    kept, lefts, width, dropped = _placed(sheet, labels)
    for label, left in zip(kept, lefts, strict=True):
        color = style.LIMIT if label.flagged else style.INK
        x, foot = label.at[0], under_y - 3.0
        knee = max(foot - max(6.0, 0.35 * abs(left - x)), top)
        end = top - _height(sheet, label, width)
        path = [label.at, (x, foot), (left, knee), (left, end)]
        sheet.line(path, color=color, width=style.THIN, layer=style.Layer.LINE)
        _write(sheet, label, left, top, width)
    return dropped


def _placed(
    sheet: Sheet, labels: Sequence[Label]
) -> tuple[list[Label], list[float], float, list[str]]:
    """Return the labels with room, their left edges, their widest line, and who found no room."""
    kept, dropped, width = _with_room(sheet, sorted(labels, key=lambda one: one.at))
    widths = [_width(sheet, label, width) for label in kept]
    lefts = pushed_apart([one.at[0] for one in kept], widths, _APART, _LOW, _HIGH)
    return kept, lefts, width, dropped


def _write(sheet: Sheet, label: Label, left: float, top: float, width: float) -> None:
    """Write a label's lines right of a place, and the dots of what it names."""
    color = style.LIMIT if label.flagged else style.INK
    for dot in label.dots or (label.at,):
        sheet.disc(dot, 1.7, fill=color, layer=style.Layer.BAR)
    for i, (words, type_) in enumerate(_broken(sheet, label, width)):
        at = (left + _INDENT, top - _FIRST - _PITCH * i)
        if label.flagged and i == 0:
            marks.flag(sheet, (at[0] + 0.2, at[1] - 1.5), words)
            continue
        sheet.text((at[0], at[1] + (_BELOW_FLAG if label.flagged else 0.0)), words, type_)


def foot_row(sheet: Sheet, labels: Sequence[Label], top: float) -> list[str]:
    """Write labels of two lines in a row under a view; return what found no room.

    Parameters
    ----------
    top : float
        The view's lowest spot [pt].
    """
    kept, dropped, _ = _with_room(sheet, sorted(labels, key=lambda one: one.at), _INDENT)
    widths = [_width(sheet, label) - _INDENT for label in kept]
    wanted = [one.at[0] - 0.5 * width for one, width in zip(kept, widths, strict=True)]
    lefts = pushed_apart(wanted, widths, _APART, _LOW, _HIGH)
    for label, left, width in zip(kept, lefts, widths, strict=True):
        middle, x = left + 0.5 * width, label.at[0]
        path = [(x, label.at[1] - 2.0), (x, top - 2.0), (middle, top - 6.0)]
        if abs(middle - x) > 1.0 or label.at[1] - top > _NEAR:
            sheet.line(path, color=style.SOFT, width=style.HAIR, layer=style.Layer.HAIR)
        for i, (words, type_) in enumerate(label.lines):
            at = (middle, top - 15.5 - 10.3 * i)
            sheet.text(at, sheet.fitted(words, type_, width), type_, side="center")
    return dropped


def _are_twins(one: Label, two: Label) -> bool:
    """Return whether two labels say the same, but for their sides, and stand at one station."""
    texts = [
        [_SIDE.sub("", w.removesuffix(_TWICE).removesuffix(_BOTH)) for w, _ in label.lines]
        for label in (one, two)
    ]
    return texts[0] == texts[1] and abs(one.at[0] - two.at[0]) < _SAME_STATION


def _broken(sheet: Sheet, label: Label, width: float) -> Lines:
    """Return a label's lines, those wider than a width [pt] broken in two, empty ones left out."""
    lines: list[tuple[str, Type]] = []
    for i, (words, kind) in enumerate(label.lines):
        if label.flagged and i == 0:
            lines.append((words, kind))
            continue
        parts = _parts(sheet, words, kind, width) if words else []
        lines += [(sheet.fitted(part, kind, width), kind) for part in parts]
    return tuple(lines)


def _parts(sheet: Sheet, words: str, kind: Type, width: float) -> list[str]:
    """Return words in a line or two, a state in brackets in one more where they are too wide."""
    name, bracket, state = words.rpartition(" (")
    if sheet.width_of(words, kind) <= width:
        return [words]
    first, *more = sheet.wrapped(name or words, kind, width)
    lines = [first, " ".join(more)] if more else [first]
    return [*lines, f"({state}"] if bracket else lines


def _height(sheet: Sheet, label: Label, width: float) -> float:
    """Return how high a label is [pt]."""
    count = max(len(_broken(sheet, label, width)), _LEAST_LINES)
    return _FIRST + _PITCH * (count - 1) + _UNDER - (_BELOW_FLAG if label.flagged else 0.0)


def _width(sheet: Sheet, label: Label, width: float = _WIDTHS[0]) -> float:
    """Return how wide a label is, what goes before its text included [pt]."""
    lines = _broken(sheet, label, width)
    widths = [sheet.width_of(words, kind) for words, kind in lines]
    if label.flagged:
        widths[0] += _FLAG_ROOM
    return _INDENT + max(widths)


def _with_room(
    sheet: Sheet, labels: list[Label], less: float = 0.0
) -> tuple[list[Label], list[str], float]:
    """Return the labels that fit in a row, the names of those that do not, the widest line [pt].

    Lines are broken before a label is dropped.
    """
    kept = list(labels)
    dropped: list[str] = []
    while True:
        for width in _WIDTHS:
            every = sum(_width(sheet, one, width) - less + _APART for one in kept) - _APART
            if every <= _HIGH - _LOW:
                return kept, dropped, width
        least = min(kept, key=lambda one: one.rank)
        kept.remove(least)
        dropped.append(least.name)
