"""The step in words: short, wide as a terminal, kinds of rules apart, no verdict."""

import csv
import io
import re

import pytest
from step_hulls import STATES, floats_craft, stepped_craft

from hullcheck.answers.step_answer import step_answer
from hullcheck.report.display import shown_in
from hullcheck.report.step_csv import COLUMNS, csv_text
from hullcheck.report.step_scale import scale_of
from hullcheck.report.step_table import all_lines, floats_lines, rules_lines
from hullcheck.report.step_text import first_screen, floats_screen
from hullcheck.report.step_words import band_text, ratio_text, trims_words

VERDICT = re.compile(r"\b(safe|error|OK|good|bad|pass|passes|fails?|too)\b")


@pytest.fixture(scope="module", params=list(STATES))
def answer(request):
    """Return a state's answer."""
    return step_answer(STATES[request.param]())


@pytest.mark.parametrize("units", [(), ("oz", "in"), ("kg", "cm")])
def test_the_first_screen_is_short_and_narrow(answer, units):
    """At most eight lines of at most 80 characters, in any unit, with a space behind a label."""
    with shown_in(units):
        screens = [first_screen(answer)]
        if answer.floats is not None:
            screens.append(floats_screen(answer))
    for lines in screens:
        assert 2 <= len(lines) <= 8
        for line in lines:
            assert len(line) <= 80, line
            assert not VERDICT.search(line), line
        for line in lines[2:]:
            assert line[15] == " ", line


@pytest.mark.parametrize("units", [(), ("oz", "in")])
def test_the_table_is_narrow_and_judges_nothing(answer, units):
    """Every line of --all has at most 80 characters; no word of praise or blame."""
    with shown_in(units):
        lines = all_lines(answer)
        if answer.floats is not None:
            lines += floats_lines(answer, everything=True)
    for line in lines:
        assert len(line) <= 80, line
        # "too far" would judge; "too gentle" and "too small" are about rules.
        assert not VERDICT.search(line.replace("too gentle", "").replace("too small", "")), line


def test_kinds_of_rules_stand_apart():
    """Every rule of model practice comes before the heading of full size, all others after it."""
    answer = step_answer(stepped_craft())
    lines = rules_lines(answer.rules)
    border = next(i for i, line in enumerate(lines) if line.startswith("Full size and towing"))
    for rule in answer.rules:
        at = [i for i, line in enumerate(lines) if line.strip().startswith(rule.name)]
        assert len(at) == 1
        assert (at[0] < border) == (rule.kind == "model practice")


def test_sources_are_named():
    """Bell, Parkinson with his bands from memory, and what has no source, are said."""
    said = "\n".join(all_lines(step_answer(stepped_craft())))
    assert "J. W. Bell, NACA tank tests on depth of step, July 1935" in said
    assert "NACA ARR 3K08" in said
    assert "from memory" in said
    assert "common practice, no source" in said
    floats = "\n".join(floats_lines(step_answer(floats_craft()), everything=True))
    assert "14 CFR 25.751(a)" in floats


def test_bars_show_band_and_mark():
    """On 18 cells from 0 to 24 mm, 10 mm stand in cell 7, a band from 6 mm begins in cell 4."""
    answer = step_answer(stepped_craft())
    line = next(x for x in rules_lines(answer.rules) if "At least 1 % of length" in x)
    assert line.endswith("····▒▒▒┃▒▒▒▒▒▒▒▒▒▒")


def test_a_line_that_differs_within_a_quantity_is_said():
    """The angles of full size are read from plumb and from the keel; each says its own."""
    lines = rules_lines(step_answer(stepped_craft()).rules)
    at = next(i for i, line in enumerate(lines) if "Homebuilt floats" in line)
    assert lines[at + 1].strip() == "from the plumb line, as she rests"
    at = next(i for i, line in enumerate(lines) if "Models, from the wing" in line)
    assert lines[at + 1].strip().startswith("not comparable: wing_angle_deg")


def test_bands_in_text():
    """Ranges, open ends, one value, degrees and ratios read as a builder writes them."""
    said = {r.name: band_text(r) for r in step_answer(stepped_craft()).rules}
    assert said["Models, most sources"] == "10–15 mm"
    assert said["One builder's figure"] == "about 13 mm"
    assert said["Never less than"] == "from 10 mm"
    assert said["Usually quoted, from the keel"] == "10–20°"
    assert said["Flying boats of the 1940s"] == "up to 1"
    assert said["Spray heavy"] == "0.0825"


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0925, "0.0925"),
        (2.4541, "2.45"),
        (0.5, "0.5"),
        (12.34, "12.3"),
        (0.0, "0"),
        (100.2, "100"),
    ],
)
def test_ratios_have_three_figures(value, text):
    """Pure numbers are printed to three figures, idle zeros left out."""
    assert ratio_text(value) == text


def test_trims_in_words():
    """Sides are said once where they agree."""
    assert trims_words(0.3, 0.9) == "0.3° to 0.9° bow up"
    assert trims_words(-0.3, 0.9) == "0.3° bow down to 0.9° bow up"
    assert trims_words(0.0, 0.9) == "level to 0.9° bow up"
    assert trims_words(-2.0, -1.0) == "2° to 1° bow down"


def test_a_scale_holds_every_band_and_mark():
    """No band end and no mark lies beyond its block's ends; 0 is always on it."""
    for make in STATES.values():
        rules = step_answer(make()).rules
        for quantity in {rule.quantity for rule in rules}:
            chosen = [rule for rule in rules if rule.quantity == quantity]
            scale = scale_of(chosen)
            if scale is None:
                continue
            assert scale.low <= 0.0 < scale.high
            for rule in chosen:
                if rule.value is not None and rule.unit != "percent":
                    assert scale.low <= rule.value <= scale.high


def test_csv_has_a_row_a_rule_unrounded():
    """Header and rows are the records' attributes; numbers come back to the last bit."""
    rules = step_answer(stepped_craft()).rules
    rows = list(csv.DictReader(io.StringIO(csv_text(rules))))
    assert tuple(rows[0]) == COLUMNS
    assert len(rows) == len(rules)
    for row, rule in zip(rows, rules, strict=True):
        assert row["name"] == rule.name
        assert row["value"] == ("" if rule.value is None else repr(rule.value))
