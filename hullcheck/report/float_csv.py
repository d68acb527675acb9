"""Where she floats as CSV: a row a setup, numbers never rounded."""

from collections.abc import Sequence
from typing import Final

from hullcheck.answers.float_records import FloatAnswer
from hullcheck.answers.setups_answer import fails, name_of
from hullcheck.report.csv_rows import csv_of

COLUMNS: Final = (
    "setup",
    "mass_g",
    "x_mm",
    "y_mm",
    "z_mm",
    "density_kg_m3",
    "rest",
    "freeboard_mm",
    "freeboard_at",
    "trim_deg",
    "heel_deg",
    "deepest_draft_mm",
    "sinkage_g_per_mm",
    "margin_g",
    "margin_limited_by",
    "fails",
)


def csv_text(answers: Sequence[FloatAnswer]) -> str:
    """Return answers as CSV text with a header, a row each; what has no answer is empty."""
    return csv_of(COLUMNS, map(_row, answers))


def _row(answer: FloatAnswer) -> list[object]:
    """Return an answer's cells."""
    board, drafts = answer.freeboard_mm, answer.draft_mm
    return [
        name_of(answer),
        answer.mass_g,
        *(answer.center_of_gravity_mm or (None, None, None)),
        answer.water.density_kg_m3,
        answer.rest,
        None if board is None else board.least,
        None if board is None else board.at,
        answer.trim_deg,
        answer.heel_deg,
        None if drafts is None else drafts.deepest,
        answer.sinkage_g_per_mm,
        answer.margin_g,
        answer.margin_limited_by,
        "yes" if fails(answer) else "no",
    ]
