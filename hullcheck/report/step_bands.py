"""Blocks of rules: gray bars for what each asks for, one ink line for this craft, no verdict."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.step_records import RuleCheck
from hullcheck.answers.step_rules import KEEL
from hullcheck.report import style
from hullcheck.report.sheet import Box, Sheet
from hullcheck.report.step_band_words import (
    LEFT,
    Block,
    draw_own_mark,
    plain,
    write_band,
    write_not_comparable,
)
from hullcheck.report.step_scale import Scale, scale_of
from hullcheck.report.step_words import (
    QUANTITIES,
    amount_text,
    band_ends,
    band_text,
    mark_of,
    range_text,
    sided_text,
)
from hullcheck.report.style import Layer

_ROW: Final = 13.6
_HEAD: Final = 15.0
_GAP: Final = 10.0
_KIND_GAP: Final = 4.0
_BAR_HALF: Final = 5.4
_ARROW: Final = 6.0
_LEAST_BAR: Final = 3.0
_PREFIX: Final = "Full size: "


@dataclass(frozen=True, slots=True, kw_only=True)
class Ends:
    """Values of a quantity at the two ends of the range of her CG, and what the range is called."""

    name: str
    one: float
    two: float


def draw_blocks(
    sheet: Sheet, rules: Sequence[RuleCheck], top: float, ranges: dict[str, Ends]
) -> float:
    """Draw a block for each quantity, one under the other, and return where they end [pt].

    Parameters
    ----------
    sheet : Sheet
        What is drawn on.
    rules : sequence of RuleCheck
        In the order of their quantities.
    top : float
        Where the first block begins [pt].
    ranges : dict of str to Ends
        By quantity: what moving the CG inside its range does.
    """
    for quantity in dict.fromkeys(rule.quantity for rule in rules):
        chosen = [rule for rule in rules if rule.quantity == quantity]
        ends = ranges.get(quantity)
        scale = scale_of(chosen, () if ends is None else (ends.one, ends.two))
        if scale is not None:
            top = _block(sheet, chosen, scale, top, ends) - _GAP
    return top + _GAP


def _block(
    sheet: Sheet, rules: list[RuleCheck], scale: Scale, top: float, ends: Ends | None
) -> float:
    """Draw one quantity's block and return where it ends [pt]."""
    block = Block(
        sheet=sheet,
        quantity=rules[0].quantity,
        scale=scale,
        right=sheet.width - style.MARGIN,
        main=_main(rules),
    )
    baseline = top - 10.0
    sheet.text((style.MARGIN, baseline), QUANTITIES[block.quantity].name, style.NUMBER)
    _head(block, baseline)
    y = baseline - _HEAD
    last_kind = rules[0].kind
    for rule in rules:
        y -= _KIND_GAP if rule.kind != last_kind else 0.0
        last_kind = rule.kind
        _row(block, rule, y)
        y -= _ROW
    if ends is not None:
        _range_row(block, ends, y)
        y -= _ROW
    floor = y + _ROW - _BAR_HALF - 2.0
    if block.main is not None:
        x = block.x(block.main)
        line = [(x, baseline - 5.0), (x, floor)]
        sheet.line(line, width=style.BOLD, casing=True, layer=Layer.MARK)
        head = np.array([(x, baseline - 8.0), (x - 4.4, baseline - 1.0), (x + 4.4, baseline - 1.0)])
        sheet.area([head], fill=style.INK, layer=Layer.MARK)
    return floor


def _main(rules: list[RuleCheck]) -> float | None:
    """Return the craft's own mark: that by the forebody keel where lines differ, else the first."""
    marks = [(rule.line == KEEL, mark_of(rule)) for rule in rules]
    known = [(first, mark) for first, mark in marks if mark is not None]
    return max(known, key=lambda pair: pair[0])[1] if known else None


def _head(block: Block, baseline: float) -> None:
    """Write the scale's ends and the craft's value over its line; ends give way to it."""
    sheet = block.sheet
    low, high = (amount_text(v, block.quantity) for v in (block.scale.low, block.scale.high))
    taken: list[Box] = []
    if block.main is not None:
        words, x = sided_text(block.main, block.quantity), block.x(block.main)
        side = sheet.box_of((x + 7.0, baseline), words, style.NUMBER)
        at = x + 7.0 if side.right <= block.right else x - 7.0 - side.width
        taken.append(sheet.text((at, baseline), words, style.NUMBER).grown(6.0))
        taken.append(Box(left=x - 6.0, bottom=baseline - 9.0, right=x + 6.0, top=baseline + 2.0))
    ends = [(low, LEFT), (high, block.right - sheet.width_of(high, style.NOTE))]
    if block.scale.low < 0.0:
        ends.append(("0", block.x(0.0) - 0.5 * sheet.width_of("0", style.NOTE)))
    for words, at in ends:
        box = sheet.box_of((at, baseline), words, style.NOTE)
        if not any(box.meets(other) for other in taken):
            taken.append(sheet.text((at, baseline), words, style.NOTE).grown(6.0))


def _row(block: Block, rule: RuleCheck, y: float) -> None:
    """Draw a rule: its name, its bar with the band, and her mark where she has one of her own."""
    sheet = block.sheet
    name = rule.name if rule.kind == "model practice" else _named(rule.name)
    room = LEFT - style.MARGIN - 8.0
    sheet.text((style.MARGIN, y - 3.0), sheet.fitted(name, style.NOTE, room), style.NOTE)
    mark = mark_of(rule)
    own = None
    if mark is not None and block.main is not None and abs(mark - block.main) > 1e-9:
        own = mark
    bar = _band(block, rule, y)
    lines = [] if block.main is None else [block.x(block.main)]
    texts: list[Box] = []
    if own is not None:
        texts.append(draw_own_mark(block, own, y, (lines, bar)))
    if rule.missing is not None:
        texts.append(write_not_comparable(block, y, bar, lines))
    if bar is not None:
        texts.append(write_band(block, bar, y, (band_text(rule), lines, texts)))
    _ruling(block, y, [*texts, *([] if bar is None else [bar])])


def _named(name: str) -> str:
    """Return the name of a full-size rule: towing tanks are said by themselves."""
    if "ank " in name:
        return name
    return _PREFIX + (name if name[1:2] in " U" else name[:1].lower() + name[1:])


def _band(block: Block, rule: RuleCheck, y: float) -> Box | None:
    """Draw a band as a gray bar with ink ends, an open end as an arrow head; return its box."""
    least, most = band_ends(rule)
    if least is None and most is None:
        return None
    left = LEFT if least is None else block.x(least)
    right = block.right if most is None else block.x(most)
    if right - left < _LEAST_BAR:
        middle = 0.5 * (left + right)
        left, right = middle - 0.5 * _LEAST_BAR, middle + 0.5 * _LEAST_BAR
    low, high = y - _BAR_HALF, y + _BAR_HALF
    tip = _ARROW if most is None else 0.0
    corners = [(left, low), (right - tip, low), (right, y), (right - tip, high), (left, high)]
    if most is not None:
        corners = [(left, low), (right, low), (right, high), (left, high)]
    block.sheet.area([np.array(corners)], fill=style.BAND, layer=Layer.FILL)
    for x, known in ((left, least), (right, most)):
        if known is not None:
            line = [(x, low), (x, high)]
            block.sheet.line(line, color=style.SOFT, width=style.THIN, layer=Layer.HAIR)
    return Box(left=left, bottom=low, right=right, top=high)


def _range_row(block: Block, ends: Ends, y: float) -> None:
    """Draw what moving the CG inside its range does: a line between two ticks, named."""
    sheet = block.sheet
    sheet.text((style.MARGIN, y - 3.0), ends.name, style.NOTE.colored(style.INK))
    one, two = block.x(ends.one), block.x(ends.two)
    left, right = min(one, two), max(one, two)
    sheet.line([(left, y), (right, y)], width=style.MIDDLE, layer=Layer.LINE)
    for x in (left, right):
        sheet.line([(x, y - 4.0), (x, y + 4.0)], width=style.MIDDLE, layer=Layer.LINE)
    words = range_text(ends.one, ends.two, block.quantity)
    kind = style.NOTE.colored(style.INK)
    width = sheet.width_of(words, kind)
    at = right + 5.0 if right + 5.0 + width <= block.right else left - 5.0 - width
    plain(sheet, at, y, words, kind)


def _ruling(block: Block, y: float, taken: list[Box]) -> None:
    """Draw a row's faint ruling where nothing stands."""
    x = LEFT
    for box in sorted(taken, key=lambda b: b.left):
        if box.left - 3.0 > x:
            _faint(block.sheet, x, box.left - 3.0, y)
        x = max(x, box.right + 3.0)
    if block.right > x:
        _faint(block.sheet, x, block.right, y)


def _faint(sheet: Sheet, left: float, right: float, y: float) -> None:
    """Draw a piece of a ruling."""
    sheet.line([(left, y), (right, y)], color=style.FAINT, width=style.HAIR, layer=Layer.GROUND)
