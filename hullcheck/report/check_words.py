"""Points of the check list in words: the finding, what it rests on, the closing sentences."""

from collections.abc import Callable, Mapping
from typing import Final

from hullcheck.answers.check_records import CheckAnswer, CheckPoint
from hullcheck.report import check_words_afloat as afloat
from hullcheck.report import check_words_leaks as leaks
from hullcheck.report import check_words_load as load
from hullcheck.report.check_parts import names_words
from hullcheck.report.seams_words import date_words, time_words

__all__ = ["CLOSING", "closing", "evidence_words", "finding", "large_words", "next_words"]

CLOSING: Final = (
    "This is arithmetic on your files and notes, no clearance to fly: local rules, the club and "
    "your own eyes decide. Batteries out before she is retrieved; nobody swims after a model."
)
_FINDINGS: Final[Mapping[str, Callable[[CheckPoint, str], str]]] = {
    "files": load.files_words,
    "openings": load.openings_words,
    "weights": load.weights_words,
    "cg": load.cg_words,
    "freeboard": afloat.freeboard_words,
    "trim": afloat.trim_point_words,
    "heel": afloat.heel_point_words,
    "upright": afloat.upright_words,
    "step": afloat.step_words,
    "propeller": afloat.propeller_words,
    "seams": leaks.seams_words,
    "spray": leaks.spray_words,
    "leak": leaks.leak_words,
    "running": leaks.running_words,
    "time_afloat": leaks.time_afloat_words,
    "swamped": leaks.swamped_words,
    "electronics": leaks.electronics_words,
}


def finding(point: CheckPoint, now: str) -> str:
    """Return what was found, with number, unit and limit, in the units shown.

    Parameters
    ----------
    point : CheckPoint
        A point of the list.
    now : str
        The time the list is told for (ISO 8601): dates of another year get theirs.

    Returns
    -------
    str
        Part of a sentence, the user's own names as they are, on one line.
    """
    kind = "seams" if point.key.startswith("seams_") else point.key
    return " ".join(_FINDINGS[kind](point, now).split())


def evidence_words(point: CheckPoint, now: str) -> str:
    """Return what a point rests on: "tested, 17 Oct", "computed"."""
    if point.when is None:
        return point.evidence
    if point.cause == "curing":
        return f"{point.evidence}, cured {time_words(point.when, now)}"
    return f"{point.evidence}, {date_words(point.when, now)}"


def next_words(point: CheckPoint) -> str:
    """Return what to do about a point; "" where nothing is to be done."""
    if point.cause == "not all-up":
        return f"fill in {names_words(point.about)} in weights.csv"
    return point.next_step or ""


def closing(answer: CheckAnswer) -> str:
    """Return what follows for her: what must be settled before she goes on the water."""
    count = sum(point.holds_back for point in answer.points)
    if count == 1:
        return "She should not go on the water before the first line is settled."
    if count:
        return f"She should not go on the water before the first {count} lines are settled."
    unknown, care = len(answer.of_state("not known")), len(answer.of_state("caution"))
    if not unknown and not care:
        return "Nothing on this list stops her. What it does not know of, you must judge."
    said = [f"{unknown} not known"] * bool(unknown) + [f"{care} to take care with"] * bool(care)
    return f"Nothing on this list stops her; {' and '.join(said)}."


def large_words(answer: CheckAnswer) -> str:
    """Return what is said of a craft that may carry a person; "" of any other."""
    if not answer.large:
        return ""
    why = {
        ("size",): "A craft of this size may carry a person",
        ("person",): "With a person aboard",
        ("size", "person"): "With a person aboard a craft of this size",
    }[answer.large_because]
    joint = ": " if answer.large_because == ("size",) else " "
    return (
        f"{why}{joint}this is no basis for airworthiness decisions. The designer of record, the "
        "inspector and the qualified test pilot decide."
    )
