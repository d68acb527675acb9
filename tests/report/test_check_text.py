"""The check list in words: every finding, narrow screens, hostile names, CSV, JSON and schema."""

import csv
import io
import json
import re
from dataclasses import replace
from datetime import datetime

import jsonschema
import pytest
from check_cases import CASES, answer_of
from check_making import base_evidence, floating, seamed
from schema_keys import assert_describes

from hullcheck.answers.check_answer import check_answer
from hullcheck.answers.check_records import CheckAnswer
from hullcheck.answers.check_rules import QUESTIONS, RULES
from hullcheck.report.as_json import json_text, schema
from hullcheck.report.check_csv import COLUMNS, csv_text
from hullcheck.report.check_judgment_words import judgment_words
from hullcheck.report.check_table import all_lines
from hullcheck.report.check_text import first_screen
from hullcheck.report.check_titles import verdict_title, well_and_next
from hullcheck.report.check_words import CLOSING, closing, evidence_words, finding, large_words
from hullcheck.report.display import shown_in

NAMES = ("passes", *CASES)
FEW = (
    "passes",
    "sinks",
    "no center",
    "item of no mass",
    "joint curing",
    "worked on since",
    "bow under",
)
EVIL = '<script>alert(1)</script> & "Ünï"'
FORMULA = "=1+2"


def answered(name):
    """Return the answer of a case, or of the craft on which every point passes."""
    return check_answer(base_evidence()) if name == "passes" else answer_of(name)


def point_of(answer, key):
    """Return a point by its key, of seams the worst."""
    return next(one for one in answer.points if one.key.split("_")[0] == key or one.key == key)


def said(name, key):
    """Return the finding of a point in a case."""
    answer = answered(name)
    return finding(point_of(answer, key), answer.now)


@pytest.mark.parametrize("name", NAMES)
def test_every_case_is_said_in_full_and_in_80_columns(name):
    """Title within its length, rows of four states, no empty finding, nothing called safe."""
    answer = answered(name)
    assert len(verdict_title(answer)) <= 62
    for units in ((), ("oz", "in")):
        with shown_in(units):
            screen, table = first_screen(answer), all_lines(answer)
            assert max(map(len, (*screen, *table))) <= 80
            assert len(screen) <= 60
            text = "\n".join([*screen, *table, well_and_next(answer)])
            for point in answer.points:
                assert finding(point, answer.now)
            assert not re.search(r"\b(safe\w*|None|nan|inf|OK)\b|\{|\}", text), text
    for point in answer.points:
        assert any(line.startswith(f"{point.state.upper():<11}") for line in screen)
    assert closing(answer) in " ".join(" ".join(screen).split())


@pytest.mark.parametrize("name", FEW)
def test_the_document_is_what_its_schema_says(name):
    """JSON is valid where all is known and where nothing is; a stop holds her back."""
    document = json.loads(json_text(answered(name)))
    jsonschema.validate(document, schema("check"))
    assert document["schema"] == "hullcheck.check/1"
    assert document["verdict"] != "stop" or document["holds_back"]


def test_the_schema_has_the_answers_keys_and_describes_each():
    """Every attribute of the answer is a key of the schema, and the other way round."""
    assert_describes(schema("check"), CheckAnswer)


def test_questions_fit_their_column():
    """A question ends before the finding begins."""
    assert max(map(len, QUESTIONS.values())) <= 26


@pytest.mark.parametrize(
    ("name", "key", "words"),
    [
        ("passes", "freeboard", "59 ± 1 mm at the vent, limit 15 mm"),
        ("passes", "trim", "1.2° bow up, limit −2 to 4°"),
        ("passes", "heel", "level across, limit 3°"),
        ("passes", "cg", "station 292, band 286 to 298"),
        ("passes", "weights", "all 3 items weighed: 1200 ± 0.87 g"),
        ("passes", "leak", "0 ± 0.21 g in 30 min, limit 1 g, 15 May"),
        ("passes", "running", "dry after 20 min, 15 May"),
        ("passes", "seams", "joint: dry 15 May, 25 mm deep"),
        ("passes", "time_afloat", "more than 24 h leaking at the joint, limit 15 min"),
        ("passes", "electronics", "dry with up to 100 g in any compartment"),
        ("CG outside", "cg", "station 292, 8 mm ahead of its band 300 to 310"),
        ("item of no mass", "weights", "not known what hook weighs"),
        ("item planned", "weights", "1 of 3 items planned, not weighed: 8 % of her (± 0.87 g)"),
        ("scale differs", "weights", "the scale showed 30 g more than the ledger (± 0.87 g)"),
        ("freeboard broken", "freeboard", "59 ± 1 mm at the vent, limit 70 mm"),
        ("no freeboard limit", "freeboard", "59 ± 1 mm at the vent; no limit to hold it against"),
        ("a setup capsizes", "freeboard", "she capsizes (other)"),
        ("opening under water", "freeboard", "slot 7 ± 1 mm under water"),
        ("joint curing", "seams", "joint: curing until 11 May, 18:00, 25 mm deep"),
        ("joint leaked", "seams", "joint: leaked 15 May, 25 mm deep"),
        ("joint not stated", "seams", "joint: nothing says it is sealed, 25 mm deep"),
        ("no seams", "seams", "no joint of hers is named in the sheet"),
        ("leak over the limit", "leak", "2 ± 0.14 g in 30 min, limit 1 g, 16 May"),
        ("weeping by the ladder", "leak", "12 ± 0.14 g in 30 min, weeping, 16 May"),
        ("worked on since", "leak", "0 ± 0.21 g in 30 min, limit 1 g, 15 May, before work on"),
        ("never tested", "leak", "no leak test is in the log"),
        ("step ahead", "step", "4 mm ahead of the CG"),
        ("rests on a float", "upright", "rests on a tip float, level across: port tip float"),
        ("rests on too small a float", "upright", "rights only 0.8 times what upsets her"),
        ("lolls", "upright", "neither hull nor float"),
        ("propeller in the water", "propeller", "its disc is 3 mm in the water at rest"),
        ("in at full thrust", "propeller", "2 mm in the water at full thrust, held still"),
        ("sinks", "freeboard", "she sinks by "),
        ("sinks swamped", "swamped", "full of water she sinks, by 20 g"),
        ("receiver wet by little", "electronics", "receiver wet by 25 g of water in hull, nose up"),
        ("receiver under the sea", "electronics", "receiver under the sea at rest"),
        ("passes", "upright", "her hull (GM 53 mm), to 121° of heel"),
        ("skin too rough", "files", "skin's error 50.0 mm of height, more than the margin"),
        (
            "CG near an end",
            "cg",
            "station 292 ± 0.1 mm: an end of its band 292 to 298 lies within ±",
        ),
        ("opening before the float", "upright", "an opening goes under at 5°, before a tip float"),
        ("float too small", "upright", "port tip float, wholly under, rights only 0.9 times what"),
        ("bow under", "propeller", "held still her bow goes under at full thrust"),
        ("run light", "running", "dry when run 15 May, but at only 1000 g"),
        ("leak over the limit", "running", "dry when run 15 May, but water came in since"),
        ("wet when run", "running", "not dry: 0.4 ± 0.14 g in 20 min, 15 May"),
        ("sinks too soon", "time_afloat", "7 min leaking at the joint, limit 15 min"),
        ("a limit broken dry", "time_afloat", "no time to tell: one of her limits is broken"),
        ("curing in spray", "spray", "joint: curing until 11 May, 18:00, 5 mm above the water"),
    ],
)
def test_findings_carry_number_unit_and_limit(name, key, words):
    """Each finding says its number with its unit, and the limit it is held against."""
    assert words in said(name, key)


def test_findings_are_in_the_units_shown():
    """Heights in inches and grams in ounces; JSON and CSV keep millimeters and grams."""
    answer = answered("passes")
    before = json_text(answer)
    with shown_in(("oz", "in")):
        assert said("passes", "freeboard") == "2.34 ± 0.04 in at the vent, limit 0.59 in"
        assert json_text(answer) == before
        rows = {row["key"]: row for row in csv.DictReader(io.StringIO(csv_text(answer)))}
    assert rows["freeboard"]["unit"] == "mm"
    assert float(rows["freeboard"]["value"]) == point_of(answer, "freeboard").value


@pytest.mark.parametrize(
    ("name", "title", "follows"),
    [
        ("passes", "Nothing on the list stops her; the weather is yours to judge",
         "Nothing on this list stops her. What it does not know of, you must judge."),
        ("no trim limit", "Nothing on the list stops her; 1 not known",
         "Nothing on this list stops her; 1 not known."),
        ("step ahead", "Nothing on the list stops her; 1 needs care",
         "Nothing on this list stops her; 1 to take care with."),
        ("joint leaked", "Not ready for water: the joint leaked",
         "She should not go on the water before the first line is settled."),
        ("no freeboard limit", "Not ready for water: no freeboard limit is given",
         "She should not go on the water before the first line is settled."),
        ("opening under water", "Not ready for water: the slot is under water",
         "She should not go on the water before the first line is settled."),
        ("sinks", "Not ready for water: she sinks, and one point more",
         "She should not go on the water before the first 2 lines are settled."),
    ],
)  # fmt: skip
def test_the_verdict_and_what_follows(name, title, follows):
    """The headline says what stops her, the end what must be settled."""
    answer = answered(name)
    assert verdict_title(answer) == title
    assert closing(answer) == follows
    assert " ".join(first_screen(answer)).endswith(CLOSING[-80:])


def test_every_cause_that_holds_her_back_has_a_clause():
    """No title falls back on a question."""
    from hullcheck.report.check_titles import _CLAUSES

    held = {(k, c) for k, rules in RULES.items() for c, rule in rules.items() if rule.holds_back}
    assert set(_CLAUSES) == held


def test_first_facts_are_on_the_first_screen():
    """Grams left with ±, the lowest opening, and the seam to look at, before the list."""
    lines = first_screen(answered("joint leaked"))
    assert lines[2].startswith("Grams left      3300 ")
    assert lines[3] == "Lowest opening  59 ± 1 mm above the water: vent (open)"
    assert lines[4] == "Look at         joint: repair, then soak"
    assert lines[6].startswith("STOP       seams under water          joint: leaked 15 May")


def test_what_ends_grams_left_is_said_beside_them():
    """What is broken already where none are left; else her trim or list, where it is one of them.

    The worst setup comes before its reason where the line holds no more.
    """
    answer = answered("passes")
    few = replace(
        answer.facts.grams_left, mass_g=0.0, plus_minus_g=None, limited_by="trim_deg", setup=None
    )
    some = replace(few, mass_g=580.0, plus_minus_g=200.0)
    bare = replace(some, mass_g=240.0, plus_minus_g=50.0, setup="wet")
    far = replace(bare, limited_by="heel_deg", setup="heavy battery, sea")
    for now, worst, said in (
        (few, bare, "0 g: her trim limit is broken already"),
        (replace(few, limited_by="capsizes"), None, "0 g (falls over)"),
        (some, None, "580 ± 200 g (her trim)"),
        (some, bare, "580 ± 200 g (her trim); 240 ± 50 g in wet (her trim)"),
        (some, far, "580 ± 200 g; 240 ± 50 g in heavy battery, sea (her list)"),
    ):
        facts = replace(answer.facts, grams_left=now, worst_grams_left=worst)
        assert first_screen(replace(answer, facts=facts))[2] == f"{'Grams left':<16}{said}"


def test_a_year_that_is_not_this_one_is_said():
    """Dates of another year get theirs, in findings and evidence."""
    answer = answered("passes")
    point = point_of(answer, "leak")
    assert evidence_words(point, answer.now) == "tested, 15 May"
    later = datetime.fromisoformat(answer.now).replace(year=2027).isoformat()
    assert evidence_words(point, later) == "tested, 15 May 2026"
    assert "15 May 2026" in finding(point, later)


def test_judgment_is_marked_and_never_a_pass():
    """Every sentence stands under the word judgment, waves with their planning values."""
    answer = answered("passes")
    waves = next(one for one in answer.judgment if one.key == "waves")
    assert judgment_words(waves).endswith("34 mm and 30 mm")
    lines = all_lines(answer)
    assert "JUDGMENT (judgment: common practice, no source)" in lines
    assert not any(line.startswith("PASS") and "wind" in line for line in lines)


def test_a_large_craft_says_who_decides():
    """On size, on a person, on both; nothing otherwise."""
    answer = answered("passes")
    assert large_words(answer) == ""
    for because in (("size",), ("person",), ("size", "person")):
        told = replace(answer, large=True, large_because=because)
        text = " ".join(first_screen(told))
        assert "no basis for airworthiness decisions" in text
        assert "test pilot decide" in text


def _hostile(name):
    """Return evidence in which a name of the user's stands wherever one can."""
    evidence = seamed(name=name, state="leaked")
    base = base_evidence()
    board = base.floating.freeboard_mm
    points = tuple(replace(one, name=name) if one.name == board.at else one for one in board.points)
    evidence.__dict__.update(
        floating(
            craft=name, freeboard_mm=replace(board, at=name, points=points), margin_at=name
        ).__dict__
        | {"seams": evidence.seams}
    )
    evidence.__dict__["craft"] = replace(base.craft, name=name)
    return evidence


@pytest.mark.parametrize("name", [EVIL, FORMULA, "@SUM(A1)", "-2+3", "two\nlines", "{0} {name} %s"])
def test_hostile_names_come_out_as_text(name):
    """Markup, formulas, braces and line breaks are printed as they are, on one line, never run."""
    answer = check_answer(_hostile(name))
    flat = " ".join(name.split())
    assert flat[:20] in "\n".join(first_screen(answer))
    assert flat in "\n".join(all_lines(answer))
    rows = list(csv.reader(io.StringIO(csv_text(answer))))
    assert tuple(rows[0]) == COLUMNS
    for row in rows[1:]:
        assert len(row) == len(COLUMNS)
        for cell in row:
            numeric = re.fullmatch(r"-?\d[\d.e-]*", cell)
            assert numeric or not cell or cell[0] not in "=+-@\t\r", cell
    assert json.loads(json_text(answer))["craft"] == name


def test_csv_has_a_row_a_point_with_both_ends_of_a_limit():
    """A limit that must be kept above stands low, one below high, a pair in both."""
    answer = answered("passes")
    rows = {row["key"]: row for row in csv.DictReader(io.StringIO(csv_text(answer)))}
    assert len(rows) == len(answer.points)
    ends = {key: (rows[key]["limit_low"], rows[key]["limit_high"]) for key in rows}
    assert ends["freeboard"] == ("15.0", "")
    assert ends["trim"] == ("-2.0", "4.0")
    assert ends["heel"] == ("", "3.0")
    assert ends["leak"] == ("", "1.0")
    assert rows["freeboard"]["finding"] == said("passes", "freeboard")
    assert {row["holds_back"] for row in rows.values()} == {"no"}


def test_long_names_are_cut_and_the_screen_stays_narrow():
    """A name of 90 characters is cut in the finding, and whole in the rows behind it."""
    long = "reinforcement joint between the lower starboard former and the battery tray " * 2
    answer = check_answer(seamed(name=long, state="leaked"))
    assert max(map(len, first_screen(answer))) <= 80
    assert "…" in verdict_title(answer)
    assert " ".join(long.split()) in " ".join(" ".join(all_lines(answer)).split())
