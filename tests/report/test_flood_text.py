"""Water inside in words: short, narrow, round times; CSV and the document's schema."""

import csv
import dataclasses
import functools
import io
import json

import jsonschema
import pytest
from drawn_texts import assert_narrow
from flood_making import EQUIPMENT, LEAK, answered, box_build, hole, logbook_of
from schema_keys import assert_describes

from hullcheck.answers.flood_records import FloodAnswer
from hullcheck.craft.fittings import Equipment, Fittings, Structure
from hullcheck.craft.limits import Limits
from hullcheck.report.as_json import json_text, schema
from hullcheck.report.display import shown_in
from hullcheck.report.flood_csv import COLUMNS, csv_text
from hullcheck.report.flood_table import all_lines
from hullcheck.report.flood_text import CAUTION, first_screen
from hullcheck.report.flood_words import minutes_text, range_text

LONG = Fittings(
    leaks=(LEAK,),
    equipment=(
        *EQUIPMENT,
        Equipment(item="=a receiver with a name that is far too long for any line of a table",
                  lowest_mm=(300.0, 0.0, 0.5)),
    ),
)  # fmt: skip
STATES = {
    "usual": lambda: answered(box_build()),
    "tested": lambda: answered(box_build(), logbook_of(30.0, found=("middle joint",))),
    "dry test": lambda: answered(box_build(), logbook_of(0.05, found=("middle joint",))),
    "asked": lambda: answered(
        box_build(), aboard={"hull 2": 90.0}, keep_dry=("battery", None), sealed=("hull 1",)
    ),
    "open": lambda: answered(box_build(), opened=("hull 1", "hull 2"), grams=(5.0,)),
    "holes": lambda: answered(box_build(), breaches=(hole(6.0), hole(9.0, (300.0, 0.0, 0.0)))),
    "long names": lambda: answered(box_build(fittings=LONG)),
    "past a limit": lambda: answered(
        box_build(limits=Limits(freeboard_mm=60.0, time_on_water_min=5.0), fittings=LONG)
    ),
    "one room": lambda: answered(box_build(structure=Structure(), fittings=Fittings())),
    "no band": lambda: answered(box_build(cg_range_mm=None)),
    "too much": lambda: answered(box_build(), grams=(5000.0,)),
    "floats awash": lambda: answered(
        box_build(structure=Structure(permeability=0.5), mass_g=1200.0), aboard={"hull": 20.0}
    ),
}


@functools.cache
def _answer(name):
    """Return the answer of a state; worked out once."""
    return STATES[name]()


@pytest.fixture(scope="module", params=STATES)
def state(request):
    """Return a state's name and its answer."""
    return request.param, _answer(request.param)


@pytest.mark.parametrize("units", [(), ("oz", "in")])
def test_the_screen_is_short_and_the_table_narrow(state, units):
    """At most seven lines, of at most 80 characters, in any unit; the same begin the table."""
    name, answer = state
    with shown_in(units):
        assert_narrow(name, first_screen(answer), all_lines(answer), most=7)


def test_the_document_is_what_its_schema_says(state):
    """Every state's JSON is valid, and its numbers are finite."""
    _, answer = state
    document = json.loads(json_text(answer))
    jsonschema.validate(document, schema("flood"))
    assert document["schema"] == "hullcheck.flood/1"


def test_the_schema_has_the_answers_keys_and_describes_each():
    """Every attribute of the answer is a key of the schema, and the other way round."""
    assert_describes(schema("flood"), FloodAnswer)


def test_csv_has_a_row_a_case(state):
    """As asked or dry, water in each room, open rooms; formulas are disarmed, numbers whole."""
    _, answer = state
    rows = list(csv.DictReader(io.StringIO(csv_text(answer))))
    assert tuple(rows[0]) == COLUMNS
    assert len(rows) == 1 + len(answer.water_cases) + len(answer.open_cases)
    assert rows[0]["case"] == ("asked" if answer.asked else "dry")
    for row, case in zip(rows[1:], answer.water_cases, strict=False):
        assert float(row["nose_up_cg_x_mm"]) == case.nose_up.center_of_gravity_mm[0]
        assert not row["wet"].startswith("=")


def test_the_answer_comes_first():
    """The least water that takes the CG out of its band, or how she floats as asked."""
    lines = first_screen(answered(box_build(), grams=(50.0, 120.0), nose_up_deg=10.0))
    # A wedge of 500 mm², 75.3 mm long, against the stern: (360,000 + 50 × 574.9)/1250 = 311.0.
    assert lines[1] == "50 g running aft put the CG at 311, 1 mm behind its band (nose 10° up)."
    lines = first_screen(answered(box_build(), grams=(5.0,), nose_up_deg=10.0))
    assert lines[1].startswith("5 g running aft leave the CG at 301, in its band 280 to 310")
    lines = first_screen(answered(box_build(), aboard={"hull 2": 90.0}))
    assert lines[1] == "With 90 g in hull 2 she floats upright; 48.5 mm at the hatch."
    assert lines[2] == "At rest      every limit holds; wet: nothing named"
    lines = first_screen(_answer("open"))
    assert lines[1:3] == ["As asked she sinks by 0 g.",
                          "At rest      no limit holds, and nothing stays dry"]  # fmt: skip


def test_open_rooms_and_swamped_in_words():
    """Which one or two lose her, by how much; what foam would hold her up."""
    lines = first_screen(answered(box_build(mass_g=1250.0)))
    # 1250/30 = 41.7 mm deep on two thirds of her floor; 50 g short on one quarter of her volume.
    assert lines[3] == "One open     any one open, she floats; least 28 mm at the hatch (hull 2)"
    assert lines[4].startswith("Two open     any two neighbors lose her; hull ")
    assert lines[4].endswith(": sinks by 50 g")
    assert lines[5] == (
        "Swamped      sinks by 625 g; 625 cm³ of foam would just hold her up (--keep-dry)"
    )


def test_time_afloat_in_words():
    """A range in round figures with what comes then; at least; past a limit already."""
    tested = first_screen(_answer("tested"))[-1]
    # 1 g/min, and 180 g stand as high as the battery's lowest point.
    assert tested == "Time afloat  3 to 4 h, then the battery gets wet; limit 15 holds"
    dry = first_screen(_answer("dry test"))[-1]
    assert dry.startswith("Time afloat  more than 24 h; limit 15 holds")
    past = first_screen(_answer("past a limit"))[-1]
    assert past.startswith("Time afloat  none: freeboard past its limit")


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (0.0, "under 1 min"), (0.99, "under 1 min"), (1.0, "1 min"), (19.99, "15 min"),
        (20.0, "20 min"), (34.2, "30 min"), (119.0, "90 min"), (120.0, "2 h"), (155.0, "2.5 h"),
        (1439.0, "20 h"), (1440.0, "more than 24 h"),
    ],
)  # fmt: skip
def test_times_are_rounded_down(minutes, words):
    """In round figures, so that no time promises more than there is."""
    assert minutes_text(minutes) == words


@pytest.mark.parametrize(
    ("low", "high", "least", "words"),
    [
        (22.0, 31.0, False, "20 to 40 min"),
        (22.0, 23.0, False, "20 to 25 min"),
        (22.0, 22.1, False, "about 20 min"),
        (22.0, None, False, "20 min or more"),
        (50.0, 130.0, False, "50 min to 2.5 h"),
        (130.0, 190.0, False, "2 to 4 h"),
        (0.4, 3.2, False, "up to 5 min"),
        (0.4, 0.6, False, "up to 1 min"),
        (0.4, 0.4, False, "under 1 min"),
        (47.0, None, True, "at least 40 min"),
        (2000.0, None, True, "more than 24 h"),
        (600.0, 2000.0, False, "10 h to more than a day"),
        (2000.0, 3000.0, False, "more than 24 h"),
        (None, None, False, "more than 24 h"),
    ],
)
def test_ranges_in_words(low, high, least, words):
    """Rounded outward, one unit where they share it; "at least" where the scale saw none."""
    found = dataclasses.replace(
        _answer("tested").time_afloat, low_min=low, high_min=high, at_least=least
    )
    assert range_text(found) == words


def test_cautions_are_there():
    """Batteries not the same day, water's weight, cold water and how she is fetched."""
    for words in ("not go back to work the same day", "1 liter is 1 kg", "nobody swims after"):
        assert words in CAUTION
    said = {one.code for one in _answer("tested").warnings}
    assert "static-test" in said
