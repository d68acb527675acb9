"""The righting curve as CSV: a row a heel, numbers never rounded."""

import csv
import io
from typing import Final

from hullcheck.answers.righting_records import RightingAnswer

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
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    for row in answer.rows:
        writer.writerow(
            [
                row.heel_deg,
                row.righting_arm_mm,
                row.trim_deg,
                row.height_mm,
                *row.normal,
                "yes" if row.beyond_model else "no",
            ]
        )
    return text.getvalue()
