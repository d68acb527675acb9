"""A sweep as a table opened by its answer, and every opening's height behind --all."""

import math
from typing import Final

from hullcheck.answers.sweep_records import SweepAnswer, SweepRow
from hullcheck.report import table_values as show
from hullcheck.report.display import shown
from hullcheck.report.numbers import depth_text, height_text
from hullcheck.report.sweep_text import first_screen, row_words
from hullcheck.report.sweep_words import in_unit, unit_of
from hullcheck.report.words import shown_name, water_words

_WIDTH: Final = 80
_BROKEN: Final = {
    "freeboard_mm": "freeboard",
    "trim_deg": "trim",
    "heel_deg": "heel",
    "cg_range_mm": "CG",
}
_PER_BLOCK: Final = 5
_COLUMN: Final = 13


def table_lines(answer: SweepAnswer) -> list[str]:
    """Return the first screen and a row for every value, at most 80 characters wide."""
    return [*first_screen(answer), "", *_rows(answer), "", *_legend(answer)]


def all_lines(answer: SweepAnswer) -> list[str]:
    """Return the table, then drafts and CG, and the height of every opening in every row."""
    return [*table_lines(answer), *_drafts(answer), *_openings(answer)]


def _shown_rows(answer: SweepAnswer) -> list[SweepRow]:
    """Return the rows, today's among them."""
    today = answer.today
    rows = list(answer.rows)
    if today is None or any(row.value == today.value for row in rows):
        return rows
    return sorted([*rows, today], key=lambda row: row.value)


def _rows(answer: SweepAnswer) -> list[str]:
    """Return the header and the rows."""
    last = "CG" if answer.over == "item" else "g a mm"
    if last == "g a mm" and (shown().mass, shown().length) != ("g", "mm"):
        last = "draft"
    head = f"  {_value_head(answer):>8}{'lowest':>9}  {'at':<20}{'trim':>7}{'heel':>8}{last:>8}"
    return [head, *(_row(answer, row, last) for row in _shown_rows(answer))]


def _row(answer: SweepAnswer, row: SweepRow, last: str) -> str:
    """Return a row of the table."""
    here = answer.today is not None and row.value == answer.today.value
    start = f"{'>' if here else ' '} {_value(answer, row):>8}"
    if row.rest in {"sinks", "capsized"}:
        return f"{start}  {row_words(row)}"
    low, name = "–", "–"
    if row.freeboard_mm is not None:
        below = row.freeboard_mm < 0.0
        low = f"−{depth_text(-row.freeboard_mm)}" if below else height_text(row.freeboard_mm)
        name = shown_name(str(row.at), size=False)
    name = name if len(name) <= 19 else f"{name[:18]}…"
    trim, heel = show.angle(row.trim_deg or 0.0), show.angle(row.heel_deg or 0.0)
    value = {
        "CG": show.bare_length(row.center_of_gravity_mm["xyz".index(answer.axis or "x")]),
        "g a mm": f"{row.sinkage_g_per_mm or 0.0:.0f}",
        "draft": "–" if row.draft_mm is None else show.bare_length(row.draft_mm.deepest),
    }[last]
    line = f"{start}{low:>9}  {name:<20}{trim:>7}{heel:>8}{value:>8}{_mark(row)}"
    return line.rstrip()


def _mark(row: SweepRow) -> str:
    """Return what does not hold in a row, and whether it lies beyond the model."""
    broken = [_BROKEN[check.name] for check in row.limits if not check.ok]
    words = f" ! {broken[0]}{' …' if len(broken) > 1 else ''}" if broken else ""
    return f"{words} ?" if row.beyond_model else words


def _value_head(answer: SweepAnswer) -> str:
    """Return the first column's header."""
    if answer.over == "item":
        return f"{answer.axis}, {unit_of(answer)}"
    return "mass" if answer.over == "mass" else "kg/m³"


def _value(answer: SweepAnswer, row: SweepRow) -> str:
    """Return a row's value as its column has it."""
    value = in_unit(answer, row.value)
    usual = {"g": 0, "kg": 3, "lb": 2, "oz": 1, "mm": 1, "cm": 2, "in": 2}.get(unit_of(answer), 2)
    if all(in_unit(answer, one.value) % 1.0 == 0.0 for one in _shown_rows(answer)):
        usual = 0
    largest = in_unit(answer, answer.rows[-1].value)
    if unit_of(answer) == "kg" and largest >= 10.0:
        usual = 1 if largest < 100.0 else 0
    short = answer.over == "mass" and largest < 10.0
    decimals = max(usual, 2 - math.floor(math.log10(largest))) if short else usual
    if answer.over == "mass":
        return f"{show.number(value, decimals)} {unit_of(answer)}"
    return show.number(value, decimals)


def _legend(answer: SweepAnswer) -> list[str]:
    """Return what the signs mean."""
    lines = ["Trim is bow up, heel to starboard; with a minus the other way."]
    signs = []
    if answer.today is not None:
        signs.append("> today")
    if any(not row.holds for row in answer.rows):
        signs.append("! breaks this limit")
    if any(row.beyond_model for row in answer.rows):
        signs.append("? beyond the model")
    if signs:
        lines.append("; ".join(signs) + ".")
    if answer.over == "water":
        waters = [f"{row.value:.2f} {water_words(row.water)}" for row in answer.rows]
        named = [w for w, row in zip(waters, answer.rows, strict=True) if row.water.kind != "given"]
        lines += [f"  {words}" for words in named]
    return lines


def _drafts(answer: SweepAnswer) -> list[str]:
    """Return drafts, CG and how she rests in every row."""
    lines = ["", f"Drafts and CG, in {shown().length}", ""]
    head = "".join(f"{name:>8}" for name in ("deepest", "bow", "step", "stern", "CG x", "y", "z"))
    lines.append(f"  {_value_head(answer):>8}{head}  rests")
    for row in _shown_rows(answer):
        if row.draft_mm is None:
            lines.append(f"  {_value(answer, row):>8}  sinks")
            continue
        depths = (getattr(row.draft_mm, k) for k in ("deepest", "bow", "step", "stern"))
        cells = [*depths, *row.center_of_gravity_mm]
        said = "".join(f"{'–' if v is None else show.bare_length(v):>8}" for v in cells)
        rest = row.rest.removeprefix("on ").replace("starboard tip", "stbd")
        lines.append(f"  {_value(answer, row):>8}{said}  {rest}"[:_WIDTH])
    return lines


def _openings(answer: SweepAnswer) -> list[str]:
    """Return the height of every opening in every row, some openings a block."""
    names = next((row.openings for row in answer.rows if row.openings), ())
    lines = []
    for first in range(0, len(names), _PER_BLOCK):
        block = range(first, min(first + _PER_BLOCK, len(names)))
        lines += ["", f"Openings above the water, in {shown().length} (* sealed)"]
        for k in block:
            star = "*" if names[k].state == "sealed" else ""
            lines.append(f"  {k + 1}{star} {shown_name(names[k].name)}"[:_WIDTH])
        lines.append(f"  {_value_head(answer):>8}" + "".join(f"{k + 1:>{_COLUMN}}" for k in block))
        for row in _shown_rows(answer):
            heights = [show.bare_length(row.openings[k].height_mm) for k in block if row.openings]
            cells = "".join(f"{height:>{_COLUMN}}" for height in heights)
            lines.append(f"  {_value(answer, row):>8}{cells or '  sinks'}")
    return lines
