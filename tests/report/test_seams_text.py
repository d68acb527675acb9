"""Her seams in words: the finding first, narrow, worst first, dates and units as shown."""

import csv
import io
import re

import pytest
from drawn_texts import assert_narrow
from seams_making import (
    EMPTY,
    NOW,
    ONE_LEAKS,
    STATES,
    STILL,
    across,
    answered,
    book,
    box_build,
    demo_build,
    on,
    seal,
    soak,
)

from hullcheck.answers.seams_answer import seams_answer
from hullcheck.answers.seams_records import Wetted
from hullcheck.answers.seams_suspects import NextSoak, SuspectReport, SuspectsReport
from hullcheck.craft.openings import Opening
from hullcheck.report.display import shown_in
from hullcheck.report.seams_csv import COLUMNS, csv_text
from hullcheck.report.seams_table import all_lines, wetted_words
from hullcheck.report.seams_tests_words import names_words
from hullcheck.report.seams_text import MOST_ROWS, first_screen
from hullcheck.report.seams_words import (
    article,
    date_words,
    short_name,
    state_words,
    time_words,
    title,
)

MORE_THAN_ROWS = 8
"""Lines of a first screen beside its rows: finding, head, header, rest, tests in four, limit."""


@pytest.mark.parametrize("state", STATES)
def test_screens_are_narrow_and_begin_the_table(state):
    """At most 80 characters a line; --all begins with the first screen; no praise, no nan."""
    _, answer = answered(state)
    screen = first_screen(answer)
    assert_narrow(state, screen, all_lines(answer), most=MOST_ROWS + MORE_THAN_ROWS + 2)
    assert screen[0] == title(answer)
    said = " ".join(all_lines(answer))
    assert not re.search(r"\b(error|OK|good|None)\b", said)
    assert not re.search(r"(?<!\w)-\d", said)


TITLES = {
    "empty log": "Four seams under water, and nothing says they are sealed",
    "one leaks": "The step joint leaks",
    "repaired": "Four seams under water tested dry, still and running",
    "every state": "The step joint leaks, and three seams are not ready for water",
    "nothing known": "No seam and no opening of hers is known",
    "twin floats": "Two seams under water, and nothing says they are sealed",
}


@pytest.mark.parametrize("state", STATES)
def test_titles(state):
    """The finding in at most 62 characters, no full stop."""
    words = title(answered(state)[1])
    assert len(words) <= 62
    assert not words.endswith((".", "!"))
    if state in TITLES:
        assert words == TITLES[state]
    if state == "sinks":
        assert re.fullmatch(r"Sinks: \d+ g too heavy", words)


def told(build, logbook):
    """Return the answer for a build."""
    return seams_answer(build, logbook, NOW)


BOX = across(keel_joint=250.0)


@pytest.mark.parametrize(
    ("pairs", "words"),
    [
        ([(on(10), seal("keel joint"))], "One seam under water is sealed but not tested"),
        (
            [(on(10), seal("keel joint")), (on(12), soak(mass_g=1200.0))],
            "One seam under water dry in still water, not tested running",
        ),
        (
            [(on(10), seal("keel joint")), (on(12), soak(mass_g=800.0))],
            "One seam under water tested dry, but at less than flying weight",
        ),
        (
            [(on(15, 20), seal("keel joint"))],
            "The keel joint is not ready for water",
        ),
        (
            [(on(10), seal("bow")), (on(12), soak(2.0, mass_g=1200.0))],
            "The keel joint leaks",
        ),
    ],
)
def test_titles_of_one_seam(pairs, words):
    """Sealed, dry with what that lacks, curing; the only seam under water must be the leak."""
    assert title(told(box_build(BOX), book(*pairs))).startswith(words[:62])


def test_a_gain_that_nobody_can_place_is_the_finding():
    """Two seams alike and a gain: no seam is accused, and the title says so."""
    pairs = [(on(10), seal("nose")), (on(10), seal("stern")), (on(12), soak(2.1, mass_g=1200.0))]
    answer = told(box_build(across(nose=290.0, stern=310.0)), book(*pairs))
    assert title(answer) == "She gained 2.1 g in 30 min, and the tests cannot tell where"
    text = " ".join(first_screen(answer))
    assert "The tests' sums cannot tell apart" in text
    assert "not cleared: 2.1 g in 30 min" in text


def test_the_row_of_a_leak_says_what_sealed_it_and_what_to_do():
    """Name, length and depth wet, what it was sealed with and when, the rate, the next step."""
    screen = first_screen(answered("one leaks")[1])
    assert screen[2].split() == ["WORST", "FIRST", "mm", "wet", "deep", "sealed", "state"]
    row = screen[3]
    assert row.startswith("step joint ")
    assert "thin CA, 10 May" in row
    assert row.endswith("leaked 2.1 g/30 min: repair")
    assert (
        "Last test 12 May, still: 2.1 ± 0.14 g in 30 min, damp; limit 1 g/30 min broken" in screen
    )


def test_a_test_older_than_the_last_sealing_says_so():
    """A limit broken before the repair is told as that."""
    seams, pairs = across(joint=250.0), [(on(10), soak(2.1, mass_g=1200.0, found=("joint",)))]
    screen = first_screen(told(box_build(seams), book(*pairs, (on(12), seal("joint")))))
    assert (
        "Last test 10 May, before the last sealing: 2.1 ± 0.14 g in 30 min; limit broken" in screen
    )
    assert screen[3].endswith("repaired, untested: soak")


def test_many_seams_are_cut_to_the_worst():
    """The first screen has ten; --all has every one."""
    _, answer = answered("many")
    screen, table = first_screen(answer), all_lines(answer)
    assert f"and {len(answer.seams) - MOST_ROWS} more, none of them worse: --all" in screen
    text = "\n".join(table)
    assert all(short_name(seam.name)[:18] in text for seam in answer.seams)


def test_every_row_keeps_the_seams_own_numbers():
    """The table of --all prints the integrals of each seam."""
    _, answer = answered("repaired")
    table = "\n".join(all_lines(answer))
    for seam in answer.seams:
        if seam.under_water:
            assert f"{seam.crack_integral_mm2:.0f}" in table
            assert f"{seam.wet_length_mm:.1f}" in table
    assert "(common practice, no source)" in " ".join(table.split())
    assert "does not clear a hull under way" in table


def test_inches_and_ounces_where_they_are_shown():
    """The unit stands in the table's head; nothing is printed in grams or millimeters."""
    _, answer = answered("one leaks")
    with shown_in(("oz", "in")):
        screen = "\n".join(first_screen(answer))
    assert " in wet" in screen
    assert not re.search(r"\d (g|mm)\b", screen)


def test_dates_are_short_and_have_their_year_where_it_differs():
    """The year is said where it is another than now's; hours where an hour counts."""
    now = "2026-05-16T09:00:00+02:00"
    assert date_words("2026-05-12T18:00:00+02:00", now) == "12 May"
    assert date_words("2025-12-01T18:00:00+02:00", now) == "1 Dec 2025"
    assert time_words("2026-05-17T08:05:00+02:00", now) == "17 May, 08:05"


def test_names_in_sentences():
    """Numbered joints have no article; an opening without a name is told by its place."""
    assert (article("keel"), article("joint 6")) == ("the keel", "joint 6")
    unnamed = Opening(points_mm=[[404.0, -26.0, 66.0], [428.0, -16.0, 66.0]], where=" to port")
    assert short_name(unnamed.called) == "opening at 416 port"
    now = "2026-05-16T09:00:00+02:00"
    before = SuspectReport(seam="keel", since=None, until="2026-05-13T18:00:00+02:00")
    pair = (SuspectReport(seam="bow seam", since=None, until=None), before)
    assert names_words(pair, now, "or") == "the bow seam or the keel as it was before 13 May"


@pytest.mark.parametrize(
    ("wetted", "words"),
    [
        (None, "–"),
        (Wetted(heel_deg=None, starboard_deg=None, port_deg=None, to_deg=60.0,
                beyond_model=False), "> 60°"),
        (Wetted(heel_deg=0.0, starboard_deg=0.0, port_deg=0.0, to_deg=60.0,
                beyond_model=False), "rest"),
        (Wetted(heel_deg=31.0, starboard_deg=31.0, port_deg=-31.0, to_deg=60.0,
                beyond_model=False), "31° both"),
        (Wetted(heel_deg=-12.0, starboard_deg=31.0, port_deg=-12.0, to_deg=60.0,
                beyond_model=True), "12° port *"),
    ],
)  # fmt: skip
def test_heels_have_their_side_in_words(wetted, words):
    """Wet at rest, never, on either side alike, on one, and beyond the model."""
    assert wetted_words(wetted) == words


@pytest.mark.parametrize(
    ("verdict", "words"),
    [
        ("named", "One test explains the water best by the keel (both leak laws agree)."),
        ("one alone", "only the keel would explain"),
        ("cannot tell", "The tests' sums cannot tell apart the keel and the bow."),
        ("laws disagree", "name different seams"),
        ("unexplained", "one may have opened"),
        ("no tests", "hullcheck log leak-test"),
    ],
)
def test_what_the_tests_say(verdict, words):
    """Every verdict has its sentence, and the next test its attitude in words."""
    import dataclasses

    keel, bow = (SuspectReport(seam=n, since=None, until=None) for n in ("keel", "bow"))
    soak_next = NextSoak(purpose="confirm", mass_g=702.0, ballast_g=0.0, trim_deg=-6.0,
                         heel_deg=0.0, held=True, minutes=30.0, predictions=())  # fmt: skip
    report = SuspectsReport(
        verdict=verdict,
        named=(keel,) if verdict == "named" else (),
        alone=keel if verdict == "one alone" else None,
        cannot_tell_between=((keel, bow),) if verdict == "cannot tell" else (),
        counted=(4,),
        left_out=(),
        never_wet=(),
        repair_held=None,
        next_test=soak_next,
    )
    answer = dataclasses.replace(answered("empty log")[1], suspects=report)
    text = " ".join(first_screen(answer))
    assert words in text
    assert "A soak of 30 min at 702 g, held 6° bow down, would confirm it." in text


def test_csv_is_a_row_a_seam_and_no_formula():
    """Numbers are never rounded; a name that a spreadsheet would run gets an apostrophe."""
    _, answer = answered("odd names")
    rows = list(csv.DictReader(io.StringIO(csv_text(answer))))
    assert tuple(rows[0]) == COLUMNS
    assert len(rows) == len(answer.seams)
    by_name = {row["name"]: row for row in rows}
    assert any(name.startswith("'=2+3") for name in by_name)
    assert any(row["material"].startswith("'@cyano") for row in rows)
    for row, seam in zip(rows, answer.seams, strict=True):
        assert float(row["length_mm"]) == seam.length_mm


def test_states_in_words_are_told_apart():
    """No two states share their words in a sentence."""
    _, answer = answered("every state")
    words = {seam.state: state_words(seam, answer.now) for seam in answer.seams}
    assert len(set(words.values())) == len(words)
    still = told(demo_build(), STILL)
    assert "still water only" in state_words(still.seams[-1], still.now) or any(
        "still water only" in state_words(seam, still.now) for seam in still.seams
    )
    assert ONE_LEAKS.entries
    assert not EMPTY.entries
