"""Changes as CSV: a row a change in the order put aboard, numbers never rounded."""

from typing import Final

from hullcheck.answers.compare_records import CompareAnswer, CompareChange
from hullcheck.report.csv_rows import csv_of

COLUMNS: Final = (
    "change",
    "kind",
    "was",
    "now",
    "mass_before_g",
    "mass_after_g",
    "moved_x_mm",
    "moved_y_mm",
    "moved_z_mm",
    "mass_g",
    "freeboard_mm",
    "trim_deg",
    "heel_deg",
    "cg_x_mm",
    "cg_y_mm",
    "cg_z_mm",
    "rest",
    "lowest",
)
"""From `mass_g` to `cg_z_mm` is what the change does; each of these columns adds up to the whole.
"""


def csv_text(answer: CompareAnswer) -> str:
    """Return changes as CSV text with a header, a row each; what is not known is empty."""
    return csv_of(COLUMNS, (_row(change) for change in answer.changes))


def _row(change: CompareChange) -> list[object]:
    """Return the cells of a change."""
    cost, afloat = change.cost, change.afloat
    does: list[float | None] = [None] * 6
    if cost is not None:
        does = [cost.freeboard_mm, cost.trim_deg, cost.heel_deg, *cost.center_of_gravity_mm]
    return [
        change.name,
        change.kind,
        change.was,
        change.now,
        change.mass_before_g,
        change.mass_after_g,
        *(change.moved_mm or (None, None, None)),
        change.mass_g,
        *does,
        None if afloat is None else afloat.rest,
        None if afloat is None else afloat.at,
    ]
