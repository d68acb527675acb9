"""The whole check list: evidence, next step and rows of every point, judgment, assumptions."""

from typing import Final

from hullcheck.answers.check_records import CheckAnswer, CheckDetail, CheckPoint
from hullcheck.report.check_judgment_words import JUDGMENT, judgment_words
from hullcheck.report.check_text import facts_lines, head_line, point_lines, wrapped
from hullcheck.report.check_titles import verdict_title
from hullcheck.report.check_words import CLOSING, closing, evidence_words, large_words, next_words
from hullcheck.report.seams_words import date_words
from hullcheck.report.table_values import angle, length, mass, number, volume
from hullcheck.report.words import capital, shown_name

_INDENT: Final = " " * 11


def all_lines(answer: CheckAnswer) -> list[str]:
    """Return everything: each point with evidence, next step and what lies behind it."""
    lines = [verdict_title(answer), head_line(answer)]
    lines += wrapped(large_words(answer))
    lines += facts_lines(answer)
    for point in answer.points:
        lines += ["", *point_lines(point, answer.now), *_behind(point, answer.now)]
    lines += ["", f"JUDGMENT ({JUDGMENT})"]
    for one in answer.judgment:
        lines += wrapped(f"{capital(one.question)}: {judgment_words(one)}.", indent="  ")
    lines += ["", "ASSUMED"]
    for caveat in answer.assumptions:
        lines += wrapped(f"{capital(caveat.message)}.", indent="  ")
    return [*lines, "", *wrapped(f"{closing(answer)} {CLOSING}")]


def _behind(point: CheckPoint, now: str) -> list[str]:
    """Return evidence and next step of a point, and the rows behind it."""
    said = evidence_words(point, now)
    todo = next_words(point)
    lines = wrapped(f"{said}; next: {todo}" if todo else said, indent=_INDENT)
    for row in point.details:
        lines += wrapped(_row(row, now), indent=f"{_INDENT}  ")
    return lines


def _row(row: CheckDetail, now: str) -> str:
    """Return one row behind a point."""
    parts = [shown_name(row.name)]
    if row.word is not None:
        parts.append(" ".join(row.word.replace("_", " ").split()))
    if row.value is not None:
        parts.append(_value(row.value, row.unit))
    elif row.unit is not None:
        parts.append("–")
    if row.when is not None:
        parts.append(date_words(row.when, now))
    return " · ".join(parts)


def _value(value: float, unit: str | None) -> str:
    """Return a number with its unit, in the units shown."""
    if unit == "mm":
        return length(value)
    if unit == "g":
        return mass(value)
    if unit == "deg":
        return angle(value)
    if unit == "cm3":
        return volume(value)
    ends = {"g_per_30min": " g/30 min", "min": " min", "percent": " %", "ratio": " times"}
    return f"{number(value, 0 if unit is None else 1)}{ends.get(unit or '', '')}"
