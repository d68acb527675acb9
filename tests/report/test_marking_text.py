"""The marks of a waterline in words: what every line says, and that it fits the screen."""

import csv
import io
from dataclasses import replace

import pytest
from drawn_texts import assert_narrow
from marking_making import (
    FORMULA,
    HOSTILE,
    STATES,
    build_of,
    demo_build,
    ledger_build,
    marked,
    wedge_build,
)

from hullcheck.answers.bath_bag import Placing
from hullcheck.answers.marking_answer import marking
from hullcheck.report.display import shown_in
from hullcheck.report.marking_csv import COLUMNS, csv_text
from hullcheck.report.marking_table import all_lines
from hullcheck.report.marking_text import first_screen
from hullcheck.report.marking_words import distance_words

LONG = "An invented flying boat with a rather long name to print at the very top of a screen"


@pytest.mark.parametrize("state", STATES)
def test_every_screen_fits(state):
    """Seven lines of 80 characters begin the table, in other units too."""
    answer = marked(state).answer
    for units in ((), ("oz", "in")):
        with shown_in(units):
            assert_narrow(state, first_screen(answer), all_lines(answer), most=7)


def test_a_long_name_a_setup_without_a_center_and_the_bath_fit():
    """Long names are cut, and what is not known is said in the same room."""
    for found in (
        marking(build_of(name=LONG)),
        marking(build_of(name=LONG, cg=None)),
        marking(ledger_build(), in_the_bath=Placing()),
        marking(build_of(mass_g=9000.0)),
        marking(build_of(cg=(300.0, 0.0, 400.0))),
    ):
        assert_narrow("long", first_screen(found.answer), all_lines(found.answer), most=7)


def test_stations_that_the_water_meets_nowhere_are_said_to_be_so():
    """A station clear of the water has no mark; where all are, that is the sentence."""
    found = marking(STATES["box"](), stations_mm=(300.0,)).answer
    body = found.bodies[0]
    dry = replace(body.stations[0], meets="clear of the water", starboard=None, port=None)
    lines = first_screen(replace(found, bodies=(replace(body, stations=(dry,)),)))
    assert (
        lines[1] == "Waterline level fore and aft, level across: it meets none of these stations."
    )


def test_a_files_name_is_told_whole_how_to_print_where_there_is_room():
    """The end of the line goes before any of the name does."""
    answer = marked("box").answer
    for name, end in (
        ("marks.pdf", ": print at 100 %, measure both rulers"),
        (f"{'m' * 25}.pdf", ": print at 100 %"),
        (f"{'m' * 90}.pdf", ""),
    ):
        assert first_screen(answer, f"11 sheets of A4 in {name}")[-1] == (
            f"Sheets      11 sheets of A4 in {name}{end}"
        )


def test_first_screen_of_a_box():
    """The screen says attitude, count, distances, ends, assumption, and how to get sheets."""
    lines = first_screen(marked("box").answer)
    assert lines[0].startswith("box · 1200 g · ")
    assert lines[1] == (
        "Waterline level fore and aft, level across: 5 stations to mark, ± 1 mm at worst."
    )
    assert "station 100: 20, 200: 20, 300: 20, 400: 20, 500: 20 mm" in lines[2]
    assert "station 100: 70, 200: 70" in lines[3]
    assert "from station 0 (z 20 mm) to station 600 (z 20 mm)" in lines[4]
    assert lines[5].endswith("mass and CG as the build sheet gives them")
    assert "-o marks.pdf" in lines[6]


def test_sides_are_told_apart_where_she_lists():
    """Where she lists to starboard the water stands higher there: starboard/port."""
    answer = marking(build_of(cg=(300.0, 2.0, 30.0)), stations_mm=(300.0,)).answer
    one = answer.bodies[0].stations[0]
    up = f"{one.starboard.vertical_mm:.1f}", f"{one.port.vertical_mm:.1f}"
    assert float(up[0]) > float(up[1]) + 1.0
    line = first_screen(answer)[2]
    starboard, port = line.split("station 300: ")[1].split(" ")[0].split("/")
    assert float(starboard) == pytest.approx(one.starboard.vertical_mm, abs=0.25)
    assert float(port) == pytest.approx(one.port.vertical_mm, abs=0.25)
    said = distance_words(one)
    assert said.startswith("starboard up ")
    assert "; port up " in said


def test_sinking_and_capsizing_are_said_first():
    """There is nothing to mark where she does not float on her feet."""
    assert "Sinks: that is 200 g more" in first_screen(marking(build_of(mass_g=5000.0)).answer)[1]
    assert first_screen(marking(build_of(cg=(300.0, 0.0, 400.0))).answer)[1].startswith("Capsizes")


def test_load_of_the_bath_is_named():
    """The bath's load is what is aboard and the bag, where it lies."""
    lines = first_screen(marking(ledger_build(), in_the_bath=Placing()).answer)
    assert "bath test at 1200 g" in lines[0]
    assert "what is aboard and a bag of 400 g at station 300, z " in lines[5]


def test_table_names_what_is_at_a_station_and_what_misses_the_water():
    """Seams, marks and the step stand beside their station; a dry keel says by how much."""
    text = "\n".join(all_lines(marked("demo").answer))
    for words in ("nose joint; bulkhead", "step, just ahead", "mark stern"):
        assert words in text
    dry = marking(demo_build(), stations_mm=(10.0,)).answer
    assert "mm clear of the water" in all_lines(dry)[-1]


def test_csv_has_two_rows_a_station_and_nothing_a_spreadsheet_runs():
    """Unrounded numbers, starboard then port; a name that begins a formula gets an apostrophe."""
    answer = marked("odd names").answer
    rows = list(csv.DictReader(io.StringIO(csv_text(answer))))
    assert tuple(rows[0]) == COLUMNS
    assert len(rows) == 2 * len(answer.bodies[0].stations)
    assert {row["body"] for row in rows} == {f"'{FORMULA}"}
    assert HOSTILE in {row["at"] for row in rows}
    assert float(rows[0]["girth_mm"]) == answer.bodies[0].stations[0].starboard.girth_mm
    assert [row["side"] for row in rows[:2]] == ["starboard", "port"]


def test_wedge_is_told_in_inches():
    """Half of 64 mm is 1.26 in."""
    with shown_in(("in",)):
        line = first_screen(marking(wedge_build(), stations_mm=(120.0,)).answer)[2]
    assert line.endswith("station 4.72: 1.26 in")
