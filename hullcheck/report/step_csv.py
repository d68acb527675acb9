"""Rules of thumb with her marks as CSV: a row a rule, numbers never rounded."""

import csv
import io
from collections.abc import Sequence
from typing import Final

from hullcheck.answers.step_records import RuleCheck

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
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    for rule in rules:
        writer.writerow([getattr(rule, column) for column in COLUMNS])
    return text.getvalue()
