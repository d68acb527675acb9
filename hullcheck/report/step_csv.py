"""Rules of thumb with her marks as CSV: a row a rule, numbers never rounded."""

from collections.abc import Sequence
from typing import Final

from hullcheck.answers.step_records import RuleCheck
from hullcheck.report.csv_rows import csv_of

COLUMNS: Final = (
    "quantity",
    "name",
    "kind",
    "line",
    "unit",
    "of",
    "least",
    "most",
    "value",
    "least_mm",
    "most_mm",
    "value_mm",
    "missing",
    "source",
)


def csv_text(rules: Sequence[RuleCheck]) -> str:
    """Return rules as CSV text with a header, a row each; what is not known is empty."""
    return csv_of(COLUMNS, ([getattr(rule, column) for column in COLUMNS] for rule in rules))
