"""Readings as CSV, a row a mark and side, numbers never rounded."""

from collections.abc import Sequence
from typing import Any, Final

from hullcheck.answers.bath_records import BathAnswer
from hullcheck.report.csv_rows import csv_of

EXPECTED: Final = (
    "mark",
    "side",
    "along",
    "reading_mm",
    "plus_minus_mm",
    "mean_plus_minus_mm",
    "meets",
)
MEASURED: Final = (
    "mark",
    "side",
    "distance_mm",
    "explained_mm",
    "left_over_mm",
    "others_mm",
    "others_plus_minus_mm",
    "outlier",
)


def csv_text(answer: BathAnswer) -> str:
    """Return the readings to expect, or those measured beside what explains them, as CSV text."""
    if answer.measured is not None:
        return _rows(MEASURED, answer.measured.readings)
    return _rows(EXPECTED, answer.readings)


def _rows(columns: tuple[str, ...], records: Sequence[Any]) -> str:
    """Return records as CSV text with a header; what is not known is empty."""
    return csv_of(columns, ([getattr(one, column) for column in columns] for one in records))
