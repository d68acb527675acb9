"""Weigh-ins by date: the table, its finding, the CSV, and the drawing's texts."""

import csv
import io
import random
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from drawn_texts import assert_apart, assert_on_sheet, assert_readable, assert_titled, boxes_of

from hullcheck.answers.float_records import LimitCheck
from hullcheck.answers.history_records import HistoryAnswer, HistoryRow
from hullcheck.report.display import shown_in
from hullcheck.report.history_drawing import NAME, drawing_bytes, history_drawing, title
from hullcheck.report.history_text import COLUMNS, csv_text, history_lines
from hullcheck.water import fresh_water


def row(at, mass, height, *, item=None, ok=True, rest="upright", **more):
    """Return a row of a history."""
    limit = LimitCheck(name="freeboard_mm", value=height, limit=15.0, ok=ok)
    values = {
        "entry": 1,
        "item": item,
        "weighed_g": mass,
        "weighed_plus_minus_g": 1.0,
        "plus_minus_g": 1.0,
        "measured": item is None,
        "grew_g": 3.0,
        "center_of_gravity_mm": (250.0, 0.0, 60.0),
        "at_opening": "pushrod exit",
        "sank_mm": 0.1,
        "trim_deg": 0.7,
        "limits": (limit,),
    }
    made = {"at": at.isoformat(), "mass_g": mass, "freeboard_mm": height, "rest": rest}
    return HistoryRow(**{**values, **made, **more})


def history(*rows, **more):
    """Return a history of rows."""
    values = {
        "schema": "hullcheck.weights-by-date/1",
        "craft": "Tarnwing 90",
        "setup": None,
        "water": fresh_water(temperature_c=15.0),
        "planned_mass_g": 690.0,
        "target_mass_g": 690.0,
        "freeboard_limit_mm": 15.0,
    }
    return HistoryAnswer(**{**values, "rows": rows, **more})


MAY = datetime(2026, 5, 3, 18, 30, tzinfo=UTC)
USUAL = history(
    row(MAY, 690.0, 27.0, item="battery"),
    row(MAY + timedelta(days=9), 702.0, 25.2),
    row(MAY + timedelta(days=10, hours=2), 930.0, 14.5, ok=False),
)


def cases():
    """Return histories of many shapes by name."""
    dice = random.Random(5)  # noqa: S311 - no secret
    many, mass = [], 600.0
    for k in range(60):
        mass += dice.uniform(-3.0, 15.0)
        many.append(row(MAY + timedelta(hours=7.0 * k), mass, 40.0 - 0.03 * k * k, item="paint"))
    long = "a very long name of an item that somebody made up"
    return {
        "usual": USUAL,
        "one": history(USUAL.rows[0]),
        "same day": history(*(replace(USUAL.rows[0], grew_g=k) for k in (0.0, 3.0))),
        "under water": history(
            row(MAY, 900.0, 5.0), row(MAY + timedelta(1), 950.0, -6.0, ok=False)
        ),
        "sinks": history(row(MAY, 900.0, 5.0), row(MAY + timedelta(2), 5e4, None, rest="sinks")),
        "no center": history(row(MAY, 900.0, None, rest=None, limits=(), at_opening=None)),
        "no limit": history(*USUAL.rows, freeboard_limit_mm=None, planned_mass_g=None),
        "sixty": history(*many),
        "years": history(row(MAY, 700.0, 20.0), row(MAY + timedelta(700), 720.0, 19.0, item=long)),
        "names": history(*USUAL.rows, craft='<script>alert(1)</script> & "Ünï" ' * 3),
    }


@pytest.mark.parametrize("name", cases())
@pytest.mark.parametrize("units", [(), ("oz", "in")])
def test_the_table_is_narrow_and_tells_every_row(name, units):
    """At most 80 characters a line, a line a weigh-in, in grams or in ounces."""
    answer = cases()[name]
    with shown_in(units):
        lines = history_lines(answer)
    assert all(len(line) <= 80 for line in lines), name
    assert len([line for line in lines if "18:30" in line or "May" in line]) >= 1
    assert "nan" not in " ".join(lines).lower()


def test_the_finding_stands_first():
    """What she grew since the plan, what is left at the lowest opening, and the limit."""
    lines = history_lines(USUAL)
    assert lines[0] == "Tarnwing 90 · 3 weigh-ins, 3 May to 13 May 2026 · 930 ± 1 g at the last"
    assert lines[1] == "240 g over plan; 14.5 mm left at the pushrod exit, limit 15 mm."
    assert "! 13 May, 20:30: limit broken: freeboard under 15 mm at the pushrod exit" in lines


def test_csv_has_a_row_a_weigh_in_and_runs_no_formula():
    """A hostile item name comes out as text; numbers are those of the rows."""
    answer = history(replace(USUAL.rows[0], item='=cmd("x")'), USUAL.rows[1])
    rows = list(csv.reader(io.StringIO(csv_text(answer))))
    assert tuple(rows[0]) == COLUMNS
    assert rows[1][2] == '\'=cmd("x")'
    assert float(rows[2][COLUMNS.index("freeboard_mm")]) == 25.2
    assert rows[2][COLUMNS.index("measured")] == "yes"


@pytest.mark.parametrize("name", cases())
def test_texts_of_the_drawing_stand_apart(name):
    """No two texts overlap, none leaves the sheet, none is small; the title is short."""
    answer = cases()[name]
    figure = history_drawing(answer)
    boxes = boxes_of(figure, NAME)
    assert_apart(name, boxes)
    assert_on_sheet(name, figure, boxes)
    assert_readable(figure, lowest_in=2.5, highest_in=5.0)
    assert_titled(name, figure, title(answer))


def test_the_same_history_gives_the_same_bytes():
    """Nothing of a drawing comes from a clock or from chance."""
    assert drawing_bytes(history_drawing(USUAL), ".svg") == drawing_bytes(
        history_drawing(USUAL), ".svg"
    )
