"""Every setup afloat as a table, opened by the worst in one line."""

from typing import Final

from hullcheck.answers.float_records import FloatAnswer
from hullcheck.answers.setups_answer import SetupsAnswer, fails, name_of
from hullcheck.report.fitting import cut
from hullcheck.report.limit_words import margin_end
from hullcheck.report.numbers import grams_left_text, height_text, mass_text
from hullcheck.report.table_values import angle
from hullcheck.report.words import heel_words, shown_name, trim_words

_WIDTH: Final = 80
_NAME: Final = 37


def setups_lines(answer: SetupsAnswer) -> list[str]:
    """Return the worst setup in one line, then a table of all, at most 80 characters wide."""
    worst, several = answer.worst_answer, len(answer.setups) > 1
    return [
        _verdict(worst, len(answer.setups)),
        "",
        f"  {'SETUP':<{_NAME - 2}}{'mass':>8}{'lowest':>9}{'trim':>7}{'heel':>7}{'left':>9}",
        *(_row(one, worst=several and one is worst) for one in answer.setups),
        "",
        *_openings(answer),
    ]


def setups_notes(answer: SetupsAnswer) -> list[str]:
    """Return what must be known beside the table; what is not said of all names its setup."""
    notes = [note.message for note in answer.warnings]
    said: dict[str, list[str]] = {}
    for one in answer.setups:
        for note in one.warnings:
            said.setdefault(note.message, []).append(name_of(one))
    for message, setups in said.items():
        everywhere = len(setups) == len(answer.setups)
        notes.append(message if everywhere else f"{', '.join(setups)}: {message}")
    return notes


def _verdict(worst: FloatAnswer, count: int) -> str:
    """Return how the worst setup stands, in one line."""
    head = f"Worst of {count}: {name_of(worst)}: " if count > 1 else "As she is: "
    if worst.short_by_g is not None:
        return cut(f"{head}she sinks, {mass_text(worst.short_by_g)} too heavy", _WIDTH)
    if worst.rest == "capsized":
        return cut(f"{head}she capsizes", _WIDTH)
    if fails(worst):
        return cut(f"{head}{margin_end(worst)}", _WIDTH)
    board = worst.freeboard_mm
    if worst.margin_g is not None:
        left = f"{head}{grams_left_text(worst.margin_g)} left"
        whole = f"{left}, then {margin_end(worst)}"
        return whole if len(whole) <= _WIDTH else cut(left, _WIDTH)
    if board is None or board.least is None:
        return cut(f"{head}no freeboard is known", _WIDTH)
    return cut(f"{head}{height_text(board.least)} at {shown_name(str(board.at))}", _WIDTH)


def _row(answer: FloatAnswer, *, worst: bool) -> str:
    """Return a setup's row."""
    name = cut(("> " if worst else "  ") + name_of(answer), _NAME - 1)
    board = answer.freeboard_mm
    low = "–" if board is None or board.least is None else height_text(board.least)
    trim = "–" if answer.trim_deg is None else angle(answer.trim_deg)
    heel = "–" if answer.heel_deg is None else angle(answer.heel_deg)
    left = "–" if answer.margin_g is None else grams_left_text(answer.margin_g)
    end = " !" if fails(answer) else "  "
    return (
        f"{name:<{_NAME}}{mass_text(answer.mass_g):>8}{low:>9}{trim:>7}{heel:>7}{left:>9}{end}"
    ).rstrip()


def _openings(answer: SetupsAnswer) -> list[str]:
    """Return which opening is the lowest in each setup, and what the signs mean."""
    lowest: dict[str, list[str]] = {}
    for one in answer.setups:
        if one.freeboard_mm is not None and one.freeboard_mm.at is not None:
            lowest.setdefault(shown_name(one.freeboard_mm.at), []).append(name_of(one))
    lines = [
        cut(f"Lowest: {name}" + ("" if len(lowest) == 1 else f" ({', '.join(setups)})"), _WIDTH)
        for name, setups in lowest.items()
    ]
    lines.append("Trim is bow up, heel to starboard; with a minus the other way.")
    failing = [one for one in answer.setups if fails(one)]
    return [*lines, *(cut(f"! {name_of(one)}: {_failing(one)}", _WIDTH) for one in failing)]


def _failing(answer: FloatAnswer) -> str:
    """Return what fails in a setup."""
    if answer.short_by_g is not None:
        return f"sinks, {mass_text(answer.short_by_g)} too heavy"
    if answer.rest == "capsized":
        return f"capsizes, {heel_words(answer.heel_deg or 0.0)}"
    words = {
        "freeboard_mm": "freeboard",
        "trim_deg": f"trim, {trim_words(answer.trim_deg or 0.0)}",
        "heel_deg": f"heel, {heel_words(answer.heel_deg or 0.0)}",
    }
    broken = [words[check.name] for check in answer.limits if not check.ok]
    return f"limit broken: {', '.join(broken)}"
