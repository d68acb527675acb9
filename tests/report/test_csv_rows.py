"""Rows as CSV: every command's table runs no formula in a spreadsheet."""

import csv
import io
import re
from pathlib import Path

import pytest

from hullcheck.report.csv_rows import csv_of, harmless

REPORT = Path(__file__).resolve().parents[2] / "hullcheck" / "report"
HOSTILE = ['=cmd|"/c calc"!A0', "+1", "-1", "@SUM(A1)", "\t=1", "\r=1"]


@pytest.mark.parametrize("words", HOSTILE)
def test_a_formula_comes_out_as_text(words):
    """An apostrophe in front keeps it a text, and all of it stays readable."""
    assert harmless(words) == f"'{words}"
    rows = list(csv.reader(io.StringIO(csv_of(("note",), [(words,), ("end",)]), newline="")))
    assert rows == [["note"], [f"'{words}".replace("\r", "\n")], ["end"]]


def test_numbers_and_plain_words_stay():
    """A negative number is a number; None is an empty cell; quotes and commas are kept."""
    text = csv_of(("a", "b", "c"), [(-1.5, None, 'one, "two"')])
    assert text == 'a,b,c\n-1.5,,"one, ""two"""\n'


def test_every_table_is_written_this_way():
    """No other module of the reports writes CSV by itself."""
    own = [
        p.name for p in REPORT.rglob("*.py") if re.search(r"\bcsv\.writer", p.read_text("utf-8"))
    ]
    assert own == ["csv_rows.py"]
