"""A sweep as CSV: a row a value, numbers never rounded."""

from typing import Final

from hullcheck.answers.sweep_records import SweepAnswer, SweepRow
from hullcheck.report.csv_rows import csv_of

COLUMNS: Final = (
    "value",
    "mass_g",
    "cg_x_mm",
    "cg_y_mm",
    "cg_z_mm",
    "density_kg_m3",
    "rest",
    "short_by_g",
    "freeboard_mm",
    "at",
    "trim_deg",
    "heel_deg",
    "draft_mm",
    "sinkage_g_per_mm",
    "holds",
    "broken",
    "beyond_model",
)
"""`value` is what is swept; `broken` names the limits that do not hold by their keys."""


def csv_text(answer: SweepAnswer) -> str:
    """Return a sweep's rows as CSV text with a header; what has no answer is empty."""
    return csv_of(COLUMNS, map(_cells, answer.rows))


def _cells(row: SweepRow) -> list[object]:
    """Return a row's cells."""
    return [
        row.value,
        row.mass_g,
        *row.center_of_gravity_mm,
        row.water.density_kg_m3,
        row.rest,
        row.short_by_g,
        row.freeboard_mm,
        row.at,
        row.trim_deg,
        row.heel_deg,
        None if row.draft_mm is None else row.draft_mm.deepest,
        row.sinkage_g_per_mm,
        "yes" if row.holds else "no",
        " ".join(check.name for check in row.limits if not check.ok),
        "yes" if row.beyond_model else "no",
    ]
