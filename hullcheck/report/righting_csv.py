"""The righting curve as CSV: a row a heel, numbers never rounded."""

from typing import Final

from hullcheck.answers.righting_records import CurveRow, RightingAnswer
from hullcheck.report.csv_rows import csv_of

COLUMNS: Final = (
    "heel_deg",
    "righting_arm_mm",
    "trim_deg",
    "height_mm",
    "normal_x",
    "normal_y",
    "normal_z",
    "beyond_model",
)


def csv_text(answer: RightingAnswer) -> str:
    """Return the curve's rows as CSV text with a header; the header alone when she sinks."""
    return csv_of(COLUMNS, map(_cells, answer.rows))


def _cells(row: CurveRow) -> list[object]:
    """Return a row's cells."""
    return [
        row.heel_deg,
        row.righting_arm_mm,
        row.trim_deg,
        row.height_mm,
        *row.normal,
        "yes" if row.beyond_model else "no",
    ]
