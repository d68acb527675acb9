"""The check list in words: the first screen, the verdict and the worst point first."""

import re
import textwrap
from typing import Final

from hullcheck.answers.check_records import CheckAnswer, CheckPoint, GramsLeft
from hullcheck.report.check_parts import name_words
from hullcheck.report.check_titles import verdict_title
from hullcheck.report.check_words import CLOSING, closing, finding, large_words
from hullcheck.report.fitting import fitting
from hullcheck.report.numbers import grams_left_text, mass_text
from hullcheck.report.seams_words import date_words, log_words
from hullcheck.report.words import height_words, water_words

WIDTH: Final = 80
_STATE, _QUESTION = 11, 27
_LABEL: Final = 16
_ENDS: Final = {"trim_deg": " (her trim)", "heel_deg": " (her list)", "capsizes": " (falls over)"}
"""What ends grams left, where it is not her lowest opening."""
_BROKEN: Final = {
    "freeboard_mm": "her freeboard limit",
    "trim_deg": "her trim limit",
    "heel_deg": "her heel limit",
}
"""What is broken already where no grams are left."""
_GLUE: Final = "\N{NO-BREAK SPACE}"
_UNITS: Final = re.compile(r"(?<=\d) (?=±|(?:mm|cm|in|g|oz|lb|kg|cm³|in³|min|h)\b|%)|(?<=±) ")
"""The spaces at which no line ends."""


def first_screen(answer: CheckAnswer) -> list[str]:
    """Return verdict, first facts, every point with its finding, and what follows.

    Parameters
    ----------
    answer : CheckAnswer
        The list.

    Returns
    -------
    list of str
        At most 80 characters each.
    """
    lines = [verdict_title(answer), head_line(answer)]
    lines += wrapped(large_words(answer))
    lines += facts_lines(answer)
    lines.append("")
    for point in answer.points:
        lines += point_lines(point, answer.now)
    lines += _labeled("JUDGMENT", ", ".join(one.question for one in answer.judgment) + ": --all")
    count = len(answer.assumptions)
    lines += _labeled("ASSUMED", f"still water, and {count - 1} things more: --all")
    lines.append("")
    return lines + wrapped(f"{closing(answer)} {CLOSING}")


def head_line(answer: CheckAnswer) -> str:
    """Return who she is, what she weighs, in what water, and what log was read."""
    name = answer.craft if answer.setup is None else f"{answer.craft}, {answer.setup}"
    log = log_words(answer.last_entry)
    who = f"{' '.join(name.split())} · {mass_text(answer.mass_g)} · {water_words(answer.water)}"
    return fitting(
        (f"{who} · {log}, as of {date_words(answer.now, answer.now)}", f"{who} · {log}", who), WIDTH
    )


def facts_lines(answer: CheckAnswer, *, page: str = "") -> list[str]:
    """Return grams left, the lowest opening, the seam to look at, a line each; and the page's name.

    A name too long for its line is told whole.
    """
    facts, rows = answer.facts, []
    if facts.grams_left is not None:
        now, worst = facts.grams_left, facts.worst_grams_left
        rows.append(("Grams left", fitting(_grams_texts(now, worst), WIDTH - _LABEL)))
    low = facts.lowest_opening
    if low is not None:
        state = "" if low.state is None else f" ({low.state})"
        high = height_words(low.height_mm, low.plus_minus_mm)
        rows.append(("Lowest opening", f"{high}: {name_words(low.name)}{state}"))
    if facts.seam is not None:
        advice = facts.seam.advice.replace("seal: ", "seal it, ")
        rows.append(("Look at", f"{name_words(facts.seam.name)}: {advice}"))
    lines = [fitting((f"{label:<{_LABEL}}{text}",), WIDTH) for label, text in rows]
    return [*lines, f"{'Page':<{_LABEL}}{page}"] if page else lines


def _grams_texts(now: GramsLeft, worst: GramsLeft | None) -> list[str]:
    """Return what may be said of grams left, at length and in brief: how many, and what ends them.

    Where none are left it is said what is broken already, and in no setup can there be more.
    """
    said, end = grams_words(now), _ENDS.get(now.limited_by or "", "")
    if now.mass_g <= 0.0 and now.limited_by in _BROKEN:
        return [f"{said}: {_BROKEN[now.limited_by]} is broken already"]
    if worst is None or worst.setup == now.setup:
        return [f"{said}{end}"]
    more = f"{grams_words(worst)} in {name_words(worst.setup or '')}"
    why = _ENDS.get(worst.limited_by or "", "")
    texts = (f"{said}{end}; {more}{why}", f"{said}; {more}{why}", f"{said}; {more}", said)
    return list(dict.fromkeys(texts))


def grams_words(left: GramsLeft) -> str:
    """Return grams left with their ±."""
    return grams_left_text(left.mass_g, left.plus_minus_g)


def point_lines(point: CheckPoint, now: str) -> list[str]:
    """Return a point as rows: state, question, and the finding, which may go on below."""
    room = WIDTH - _STATE - _QUESTION
    said = wrapped(finding(point, now), width=room)
    first = f"{point.state.upper():<{_STATE}}{point.question:<{_QUESTION}}{said[0]}"
    return [first, *(f"{'':<{_STATE + _QUESTION}}{line}" for line in said[1:])]


def wrapped(text: str, *, width: int = WIDTH, indent: str = "") -> list[str]:
    """Return a text in lines of a width, no number parted from its unit or its ±."""
    glued = _UNITS.sub(_GLUE, text)
    lines = textwrap.wrap(
        glued,
        width=width,
        initial_indent=indent,
        subsequent_indent=indent,
        break_on_hyphens=False,
    )
    return [line.replace(_GLUE, " ") for line in lines]


def _labeled(label: str, text: str) -> list[str]:
    """Return a text behind a label in the first column."""
    lines = wrapped(text, width=WIDTH - _STATE)
    return [f"{label if i == 0 else '':<{_STATE}}{line}" for i, line in enumerate(lines)]
