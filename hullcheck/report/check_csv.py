"""The check list as CSV: a row a point, the worst first, numbers never rounded."""

from typing import Final

from hullcheck.answers.check_records import CheckAnswer, CheckPoint
from hullcheck.report.check_words import finding, next_words
from hullcheck.report.csv_rows import csv_of

COLUMNS: Final = (
    "state",
    "key",
    "question",
    "cause",
    "finding",
    "evidence",
    "when",
    "value",
    "plus_minus",
    "unit",
    "limit_low",
    "limit_high",
    "setup",
    "about",
    "next_step",
    "holds_back",
)


def csv_text(answer: CheckAnswer) -> str:
    """Return the points as CSV text with a header; what is not known is empty.

    A limit with one end stands in limit_low where the value must not be less, in limit_high where
    it must not be more. A text that a spreadsheet would run as a formula gets an apostrophe in
    front.
    """
    return csv_of(COLUMNS, (_cells(point, answer.now) for point in answer.points))


def _cells(point: CheckPoint, now: str) -> list[object]:
    """Return the cells of a point."""
    low, high = _ends(point)
    return [
        point.state,
        point.key,
        point.question,
        point.cause,
        finding(point, now),
        point.evidence,
        point.when,
        point.value,
        point.plus_minus,
        point.unit,
        low,
        high,
        point.setup,
        "; ".join(" ".join(name.split()) for name in point.about),
        next_words(point),
        "yes" if point.holds_back else "no",
    ]


def _ends(point: CheckPoint) -> tuple[float | None, float | None]:
    """Return the least and the greatest value that a limit allows."""
    if isinstance(point.limit, tuple):
        return point.limit
    if point.key in {"freeboard", "openings", "propeller", "time_afloat"}:
        return point.limit, None
    return None, point.limit
