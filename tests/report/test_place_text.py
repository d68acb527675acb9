"""Where an item may sit in words: short, wide as a terminal, ends rounded into the interval."""

import csv
import dataclasses
import io
import re

import pytest
from place_builds import STATES, answered

from hullcheck.answers.place_records import PlaceEnd, PlaceInterval
from hullcheck.report.display import shown_in
from hullcheck.report.place_csv import COLUMNS, csv_text
from hullcheck.report.place_table import all_lines
from hullcheck.report.place_text import first_screen
from hullcheck.report.place_words import at_least_text, ends_text

VERDICT = re.compile(r"\b(safe|error|OK|good|bad)\b")


@pytest.fixture(scope="module", params=STATES)
def answer(request):
    """Return a state's answer."""
    return answered(request.param)


@pytest.mark.parametrize("units", [(), ("oz", "in"), ("kg", "cm")])
def test_the_first_screen_is_short_and_narrow(answer, units):
    """At most seven lines of at most 80 characters, in any unit, with a space behind a label."""
    with shown_in(units):
        lines = first_screen(answer)
    assert 3 <= len(lines) <= 7
    for line in lines:
        assert len(line) <= 80, line
        assert not VERDICT.search(line), line
        assert not re.search(r"(?<!\w)-\d", line), line
    for line in lines[2:]:
        assert line[15] == " ", line


@pytest.mark.parametrize("units", [(), ("oz", "in")])
def test_the_table_is_narrow(answer, units):
    """Every line of --all has at most 80 characters; every place that was tried stands in it."""
    with shown_in(units):
        lines = all_lines(answer)
    assert all(len(line) <= 80 for line in lines)
    assert not any(VERDICT.search(line) for line in lines)
    header = next(i for i, line in enumerate(lines) if line.lstrip().startswith("station  "))
    assert len(lines) - header - 2 == len(answer.scan)


def test_csv_has_every_place_unrounded(answer):
    """A row a place that was tried, with the numbers of the answer to the last digit."""
    rows = list(csv.DictReader(io.StringIO(csv_text(answer.scan))))
    assert list(rows[0]) == list(COLUMNS)
    assert [float(row["x_mm"]) for row in rows] == [row.x_mm for row in answer.scan]
    assert [float(row["cg_x_mm"]) for row in rows] == [row.cg_x_mm for row in answer.scan]
    assert [row["holds"] == "yes" for row in rows] == [row.holds for row in answer.scan]


@pytest.mark.parametrize("count", [2, 5])
def test_several_intervals_are_all_named(count):
    """Up to three are written out in the sentence, all of them in --all."""
    one = answered("a place")
    ends = [(110.0 + 30.0 * i, 120.0 + 30.0 * i) for i in range(count)]
    several = dataclasses.replace(one, intervals=tuple(_interval(*pair) for pair in ends))
    sentence = first_screen(several)[1]
    assert "110 to 120, or 140 to 150" in sentence
    assert (f"and {count - 3} more" in sentence) == (count > 3)
    assert len(sentence) <= 80
    assert sum(line.startswith("Along, interval") for line in all_lines(several)) == count


def _interval(first_mm, last_mm):
    """Return an interval between two stations."""
    ends = [
        PlaceEnd(at_mm=x, cg_x_mm=0.0, cg_y_mm=0.0, limited_by="hull", way=way, limit=None,
                 plus_minus_mm=None)
        for x, way in ((first_mm, "fore"), (last_mm, "aft"))
    ]  # fmt: skip
    return PlaceInterval(first=ends[0], last=ends[1])


@pytest.mark.parametrize(
    ("ends", "units", "text"),
    [
        ((104.2, 152.9), (), ("105", "152")),
        ((105.0, 152.0), (), ("105", "152")),
        ((-20.7, 20.7), (), ("−20", "20")),
        ((104.23, 105.57), (), ("104.3", "105.5")),
        ((104.234, 104.251), (), ("104.23", "104.25")),
        ((25.4, 50.9), ("in",), ("1", "2")),
    ],
)
def test_ends_are_rounded_into_the_interval(ends, units, text):
    """What is printed holds; where no round number lies inside, it is printed finer."""
    with shown_in(units):
        assert ends_text(_interval(*ends)) == text


@pytest.mark.parametrize(
    ("mass_g", "units", "text"),
    [
        (34.09, (), "35 g"),
        (35.0, (), "35 g"),
        (0.51, (), "0.6 g"),
        (34.09, ("oz",), "1.3 oz"),
        (1234.2, ("kg",), "1.235 kg"),
    ],
)
def test_ballast_is_rounded_up(mass_g, units, text):
    """What is printed is enough."""
    with shown_in(units):
        assert at_least_text(mass_g) == text
