"""Her seams as CSV: a row a seam or opening, the worst first, numbers never rounded."""

from typing import Final

from hullcheck.answers.seams_order import advice
from hullcheck.answers.seams_records import SeamReport, SeamsAnswer
from hullcheck.report.csv_rows import csv_of

PLAIN: Final = (
    "name",
    "kind",
    "body",
    "source",
    "sheet_state",
    "length_mm",
    "wet_length_mm",
    "height_mm",
    "deepest_mm",
    "crack_integral_mm2",
    "hole_integral_mm15",
    "in_spray",
    "state",
    "state_entry",
    "state_at",
)
COLUMNS: Final = (
    *PLAIN,
    "wetted_heel_deg",
    "sealed_entry",
    "sealed_at",
    "material",
    "batch",
    "cured_at",
    "times_sealed",
    "leak_entry",
    "leak_g_per_30min",
    "dry_tests",
    "dry_lacks",
    "next",
)


def csv_text(answer: SeamsAnswer) -> str:
    """Return seams as CSV text with a header; what is not known is empty.

    A text that a spreadsheet would run as a formula gets an apostrophe in front.
    """
    return csv_of(
        COLUMNS,
        ([*(getattr(seam, name) for name in PLAIN), *_more(seam)] for seam in answer.seams),
    )


def _more(seam: SeamReport) -> list[object]:
    """Return the cells of what lies deeper in a seam's report."""
    sealed, leak = seam.sealed, seam.leak
    done: list[object] = [None] * 6
    if sealed is not None:
        done = [
            sealed.entry,
            sealed.at,
            sealed.material,
            sealed.batch,
            sealed.cured_at,
            sealed.times,
        ]
    return [
        None if seam.wetted is None else seam.wetted.heel_deg,
        *done,
        None if leak is None else leak.entry,
        None if leak is None else leak.g_per_30min,
        " ".join(str(test.entry) for test in seam.dry_tests),
        "; ".join(seam.dry_lacks),
        advice(seam),
    ]
