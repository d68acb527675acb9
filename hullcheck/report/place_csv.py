"""The places that were tried as CSV: a row a station, numbers never rounded."""

from collections.abc import Sequence
from typing import Final

from hullcheck.answers.place_records import PlaceRow
from hullcheck.report.csv_rows import csv_of

COLUMNS: Final = (
    "x_mm",
    "y_mm",
    "z_mm",
    "mass_g",
    "cg_x_mm",
    "cg_y_mm",
    "cg_z_mm",
    "trim_deg",
    "heel_deg",
    "freeboard_mm",
    "freeboard_at",
    "rest",
    "holds",
    "breaks",
)


def csv_text(rows: Sequence[PlaceRow]) -> str:
    """Return places as CSV text with a header, a row each; what has no answer is empty."""
    return csv_of(COLUMNS, map(_cells, rows))


def _cells(row: PlaceRow) -> list[object]:
    """Return a place's cells."""
    cells = {name: getattr(row, name) for name in COLUMNS}
    cells |= {"holds": "yes" if row.holds else "no", "breaks": " ".join(row.breaks)}
    return [cells[name] for name in COLUMNS]
