"""What changed in words: short, narrow, the answer first; the table and the CSV add up."""

import csv
import io
import re

import pytest
from crafts import WATER, box_body, opening_at

from hullcheck.answers.compare_answer import Side, compare_answer
from hullcheck.answers.weights_records import Cost
from hullcheck.craft.build import Build
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.limits import Limits
from hullcheck.craft.setups import Setup
from hullcheck.report.compare_csv import COLUMNS, csv_text
from hullcheck.report.compare_table import all_lines
from hullcheck.report.compare_text import (
    CAUTION,
    change_name,
    cost_words,
    first_screen,
    signed_mass,
)
from hullcheck.report.display import shown_in

BODY = box_body()
LONG = "receiver, servos, controller and all of their leads in the bow"
VERDICT = re.compile(r"\b(safe|error|OK|good|bad)\b")


def item(name, grams, x=300.0, z=30.0, y=0.0):
    """Return an item, weighed to a gram."""
    return Item(name=name, weighed_g=grams, x_mm=x, y_mm=y, z_mm=z, plus_minus_g=1.0)


def build_of(*items, **more):
    """Return the box of 600 × 100 × 80 mm with a hatch at 70 mm."""
    return Build(
        **{
            "name": "Box",
            "bodies": (BODY,),
            "water": WATER,
            "openings": (opening_at((300.0, 0.0, 70.0)),),
            "limits": Limits(freeboard_mm=10.0),
            "ledger": Ledger(items=items),
            **more,
        }
    )


OLD = build_of(item("hull", 1000.0), item("battery", 150.0), item(LONG, 50.0))
MANY = build_of(
    item("hull", 1010.0),
    item("battery", 180.0, x=280.0),
    item(LONG, 55.5, x=280.0, y=3.0),
    item("ballast", 12.0, x=60.0),
    item("plug", 0.4),
    water=WATER,
    limits=Limits(freeboard_mm=49.5),
)
STATES = {
    "many changes": MANY,
    "one": build_of(item("hull", 1004.2), item("battery", 150.0), item(LONG, 50.0)),
    "nothing": OLD,
    "sinks": build_of(item("hull", 6000.0), item("battery", 150.0), item(LONG, 50.0)),
    "lists": build_of(item("hull", 1000.0), item("battery", 150.0), item(LONG, 50.0, y=45.0)),
    "broader": build_of(*OLD.ledger.items, bodies=(box_body(beam_mm=120.0),)),
    "no center": build_of(*OLD.ledger.items, Item(name="bag", weighed_g=7.0)),
    "no opening": build_of(*OLD.ledger.items, openings=()),
}


def answer_of(new, old=OLD):
    """Return the comparison with the box."""
    return compare_answer(Side(name="before", build=old), Side(name="after", build=new))


@pytest.fixture(scope="module", params=list(STATES))
def answer(request):
    """Return a state's comparison."""
    return answer_of(STATES[request.param])


@pytest.mark.parametrize("units", [(), ("oz", "in"), ("kg", "cm")])
def test_the_first_screen_is_short_and_narrow(answer, units):
    """At most seven lines of at most 80 characters in any unit, the answer in the second."""
    with shown_in(units):
        lines = first_screen(answer)
    assert 3 <= len(lines) <= 7
    assert lines[0] == "Box · before → after"
    assert lines[1].endswith((".", ", …"))
    for line in lines:
        assert len(line) <= 80, line
        assert not VERDICT.search(line), line
        # Nothing is cut in the middle but a long name; what is left out is left out whole.
        assert "…" not in line.removesuffix(", …") or LONG[:5] in line.lower(), line
    assert "no clearance" in CAUTION


@pytest.mark.parametrize("units", [(), ("oz", "in")])
def test_the_table_is_narrow(answer, units):
    """Every line of --all has at most 80 characters."""
    with shown_in(units):
        lines = all_lines(answer)
    for line in lines:
        assert len(line) <= 80, line
    assert sum("All together" in line for line in lines) == 1


def test_what_the_answer_says():
    """85 g at the CG of a box sink it 85/60 mm; the line says so and where it stands now."""
    new = build_of(item("hull", 1085.0), item("battery", 150.0), item(LONG, 50.0))
    lines = first_screen(answer_of(new))
    assert lines[1] == "+85 g: the hatch 1.4 mm lower."
    assert lines[2].split() == ["Hull", "+85", "g", "1.4", "mm", "lower"]
    # ± of three items, 1 g each: √3 g; the reading's millimeter counts most.
    assert lines[3] == "Now 1285 ± 2 g, limits hold: hatch 48.5 ± 1 mm clear, level fore and aft"


def test_many_changes_are_the_greatest_and_the_rest():
    """Two that do most and one line of the rest; grams of the lines add up to the whole."""
    answer = answer_of(MANY)
    lines = first_screen(answer)
    assert len(lines) == 7
    rest = len(answer.changes) - 2
    assert lines[4].startswith(f"{rest} more")
    grams = [float(re.search(r"([+−]?[\d.]+) g", line)[1].replace("−", "-")) for line in lines[2:5]]
    assert sum(grams) == pytest.approx(answer.mass_g, abs=2.0)
    assert "limit broken (freeboard)" in lines[5]
    assert lines[6].startswith("Left none")


def test_states_that_have_no_millimeters():
    """She sinks now; her CG is not known; nothing changed: each is said in the second line."""
    assert first_screen(answer_of(STATES["sinks"]))[1] == "+5000 g: now she sinks."
    back = answer_of(OLD, STATES["sinks"])
    assert first_screen(back)[1] == "−5000 g: before she sank."
    assert "not floated: her CG is not known" in first_screen(answer_of(STATES["no center"]))[1]
    assert first_screen(answer_of(OLD))[1].startswith("Nothing changed")
    assert "the lowest opening" in first_screen(answer_of(STATES["no opening"]))[1]


def test_words_of_a_cost():
    """Lower and higher, bow up and down, to port and starboard, aft and forward."""
    one = Cost(
        freeboard_mm=-1.46, trim_deg=0.31, heel_deg=-0.5, center_of_gravity_mm=(2.2, 0.0, 0.0)
    )
    assert cost_words(one, "the hatch") == (
        "the hatch 1.5 mm lower, 0.3° more bow up, 0.5° more to port, CG 2 mm aft"
    )
    other = Cost(
        freeboard_mm=0.2, trim_deg=-0.31, heel_deg=0.5, center_of_gravity_mm=(-2.2, 0.0, 0.0)
    )
    assert cost_words(other, "") == (
        "0.2 mm higher, 0.3° more bow down, 0.5° more to starboard, CG 2 mm forward"
    )
    none = Cost(freeboard_mm=0.0, trim_deg=0.0, heel_deg=0.0, center_of_gravity_mm=(0.0,) * 3)
    assert cost_words(none, "the hatch") == "nothing that shows"
    assert [signed_mass(g) for g in (38.0, -1.5, 0.0, -0.01)] == ["+38 g", "−1.5 g", "0 g", "0 g"]


def test_names_of_changes():
    """What became of an item stands behind its name, which is cut before that is."""
    answer = answer_of(MANY)
    names = [change_name(change, 29) for change in answer.changes]
    assert names[2] == "Battery moved 20 mm forward"
    assert names[4].endswith("… moved 20 mm forward")
    assert len(names[4]) <= 29
    assert "Ballast added" in names
    setup = Setup(name="sea", water="sea", openings=(("hatch", "sealed"),))
    build = build_of(*OLD.ledger.items, setups=(setup,))
    both = Side(name="a", build=build), Side(name="b", build=build, setup="sea")
    assert [change_name(c) for c in compare_answer(*both).changes] == [
        "Water: sea 15 °C",
        "Hatch: sealed",
    ]


def test_csv_is_a_row_a_change_and_adds_up(answer):
    """Unrounded; the columns of what a change does sum to the whole."""
    rows = list(csv.DictReader(io.StringIO(csv_text(answer))))
    assert len(rows) == len(answer.changes)
    assert tuple(csv.reader(io.StringIO(csv_text(answer))).__next__()) == COLUMNS
    assert sum(float(row["mass_g"]) for row in rows) == pytest.approx(answer.mass_g, abs=1e-9)
    if answer.cost is not None and answer.cost.freeboard_mm is not None:
        total = sum(float(row["freeboard_mm"]) for row in rows)
        assert total == pytest.approx(answer.cost.freeboard_mm, abs=1e-9)
