"""hullcheck log: each command's entry, what it says, what it refuses and what it asks."""

import csv
import io
import json
import os
import re
import subprocess
import sys
import time
from datetime import datetime
from pathlib import Path

import click
import jsonschema
import pytest
from schema_keys import assert_describes
from sheet_making import OPENING, SEAM, SHEET, build_in

from hullcheck.answers.log_answer import LogAnswer
from hullcheck.cli import log_ask
from hullcheck.cli.log_cautions import air_caution, sealing_caution
from hullcheck.cli.log_command import command
from hullcheck.cli.log_values import moment, number, weighed, yes_or_no
from hullcheck.craft.log_records import Note, Reopening, Sealing, Strike, WeighIn
from hullcheck.files.logbook import read_logbook
from hullcheck.report.as_json import schema

MAY = ("--at", "2026-05-12T18:30:00+02:00")


@pytest.fixture
def build(tmp_path):
    """Write a build with a seam, an opening and a ledger where commands run."""
    return build_in(tmp_path, SHEET + SEAM + OPENING)


@pytest.fixture
def answers(monkeypatch):
    """Return a function that sets what somebody at a terminal types, line by line."""

    def typed(*lines):
        """Type these lines."""
        waiting = iter(lines)
        monkeypatch.setattr(log_ask, "at_a_terminal", lambda: True)
        monkeypatch.setattr("builtins.input", lambda: next(waiting))

    return typed


def last(folder):
    """Return the last entry of a folder's logbook."""
    return read_logbook(folder).entries[-1]


def subcommands():
    """Return every command of the group by name."""
    context = click.Context(command)
    return {name: command.get_command(context, name) for name in command.list_commands(context)}


def test_every_command_and_option_has_help():
    """Each says what it does; the group lists them all without loading one."""
    for name, one in subcommands().items():
        assert one.help, name
        for option in one.params:
            assert not isinstance(option, click.Option) or option.help, (name, option.name)


def test_the_group_helps_and_names_the_nearest_command(hullcheck):
    """Alone it is its help; a slip is answered with the nearest name."""
    done = hullcheck("log")
    assert done.returncode == 0
    assert all(name in done.stdout for name in subcommands())
    done = hullcheck("log", "strik", "1")
    assert done.returncode == 2
    assert "did you mean log strike?" in done.stderr


@pytest.mark.usefixtures("build")
def test_weigh_an_item_and_what_the_ledger_says(hullcheck, tmp_path):
    """Its digits are the scale; the ledger's row to change is named, or that it is the same."""
    change = "change it to 41.5 if this weighing counts"
    done = hullcheck("log", "weigh", "Wheels", "41.5", *MAY)
    assert done.returncode == 0
    assert done.stdout.splitlines() == [
        "Recorded as entry 1.",
        f"weights.csv row 4, weighed_g: has 40 g for wheels; {change}.",
    ]
    assert "scale taken to 0.1 g, by the digits" in done.stderr
    assert last(tmp_path).record == WeighIn(mass_g=41.5, plus_minus_g=0.1, item="wheels")
    done = hullcheck("log", "weigh", "battery", "204", *MAY)
    assert "row 3, weighed_g: battery is not weighed there yet, planned 200 g; write 204" in (
        done.stdout
    )
    done = hullcheck("log", "weigh", "hull", "310.2", "--scale", "0.5", *MAY)
    assert "weights.csv row 2, weighed_g: has 310 g for hull too." in done.stdout
    assert last(tmp_path).record.plus_minus_g == 0.5
    assert "scale taken" not in done.stderr


def test_weigh_her_whole(hullcheck, tmp_path, build):
    """GRAMS alone is all-up; the sheet's measured mass is held against it."""
    done = hullcheck("log", "weigh", "553")
    assert "build.toml: mass_g = 553 under [craft] would float her at that." in done.stdout
    assert last(tmp_path).record == WeighIn(mass_g=553.0, plus_minus_g=1.0)
    build.write_text(
        build.read_text(encoding="utf-8").replace("[craft]\n", "[craft]\nmass_g = 560\n"),
        encoding="utf-8",
    )
    done = hullcheck("log", "weigh", "553")
    assert (
        "mass_g under [craft]: has 560 g; change it to 553 if this weighing counts" in done.stdout
    )


@pytest.mark.usefixtures("build")
def test_weigh_what_the_ledger_does_not_know(hullcheck, tmp_path):
    """A slip is refused with the nearest names; a new item may be kept; no ledger is said."""
    done = hullcheck("log", "weigh", "batery", "204")
    assert done.returncode == 1
    assert "weights.csv has no item 'batery' (nearest: battery)" in done.stderr
    assert hullcheck("log", "weigh", "ballast", "20", "--new-item").returncode == 0
    (tmp_path / "weights.csv").unlink()
    done = hullcheck("log", "weigh", "batery", "204")
    assert done.returncode == 0
    assert "no weights.csv there: the item's name is not checked" in done.stderr


@pytest.mark.usefixtures("build")
@pytest.mark.parametrize(
    "ledger", ["item;weighed_g\nhull;310,5\n", "item\tweighed_g\nhull\t310,5\n"]
)
def test_a_ledger_of_another_spreadsheet_is_read_too(hullcheck, tmp_path, ledger):
    """Semicolons or tabs, and a decimal comma."""
    (tmp_path / "weights.csv").write_text(f"\ufeffremark\n{ledger}", encoding="utf-8")
    done = hullcheck("log", "weigh", "hull", "312.0")
    assert "weights.csv row 3, weighed_g: has 310.5 g for hull" in done.stdout


@pytest.mark.usefixtures("build")
def test_seal_says_until_when_it_cures_and_what_to_mind(hullcheck, tmp_path):
    """24 h after 18:30 is 18:30 the next day; CA's vapor is minded where it is used."""
    done = hullcheck(
        "log", "seal", "Joint", "--with", "thin CA", "--batch", "12", "--cure-h", "24", *MAY
    )
    assert done.returncode == 0
    assert "joint: cures until 2026-05-13 18:30" in done.stdout
    assert "change its state" not in done.stdout  # a joint has none in the sheet
    assert "vapor" in done.stderr
    assert "gloves" in done.stderr
    expected = Sealing(seam="joint", material="thin CA", batch="12", cure_h=24.0)
    assert last(tmp_path).record == expected
    done = hullcheck("log", "seal", "canopy", "edge", "--with", "clear tape")
    assert "no cure time was said" in done.stderr
    assert last(tmp_path).record == Sealing(seam="canopy edge", material="clear tape")
    assert "change its state" not in done.stdout


def test_seal_tells_of_a_sheet_that_still_has_it_open(hullcheck, tmp_path, build):
    """Heights are told by the sheet's states: where it says open, that is to be changed too."""
    line = ("log", "seal", "Canopy  edge", "--with", "clear tape", "--cure-h", "0")
    for state, told in (("open", True), ("taped", False)):
        build.write_text(f'{SHEET}{SEAM}{OPENING}state = "{state}"\n', encoding="utf-8")
        done = hullcheck(*line)
        assert done.returncode == 0
        assert ("build.toml: has canopy edge open, and freeboard" in done.stdout) == told
    build.write_text(f"{SHEET}[[opening", encoding="utf-8")
    done = hullcheck(*line)
    assert (done.returncode, last(tmp_path).number) == (0, 3)
    assert "cannot be read" in done.stderr


@pytest.mark.usefixtures("build")
def test_a_name_the_sheet_does_not_know_is_refused_with_the_nearest(hullcheck, tmp_path):
    """Until --new-seam keeps it; then the logbook knows it. A joint of two parts needs none."""
    done = hullcheck("log", "seal", "jiont", "--with", "epoxy")
    assert done.returncode == 1
    assert done.stderr.startswith("hullcheck: no seam or opening is called 'jiont' in build.toml")
    assert "nearest: joint" in done.stderr
    assert read_logbook(tmp_path).entries == ()
    for command_line in (
        ("log", "seal", "wing seat", "--with", "gasket", "--new-seam"),
        ("log", "reopen", "Wing  Seat", "--why", "gasket torn"),
        ("log", "note", "still wet", "--seam", "wing seat"),
        ("log", "seal", "joint of hull and hull", "--with", "epoxy"),
    ):
        assert hullcheck(*command_line).returncode == 0, command_line
    assert read_logbook(tmp_path).entries[1].record == Reopening(
        seam="wing seat", why="gasket torn"
    )


def test_without_a_sheet_names_are_not_checked(hullcheck, tmp_path):
    """It is said; so it is when the sheet cannot be read."""
    done = hullcheck("log", "seal", "anything", "--with", "epoxy")
    assert done.returncode == 0
    assert "no build sheet in .: names are not checked" in done.stderr
    (tmp_path / "build.toml").write_text("[craft", encoding="utf-8")
    done = hullcheck("log", "seal", "anything else", "--with", "epoxy")
    assert done.returncode == 0
    assert "build.toml: cannot be read" in done.stderr


@pytest.mark.usefixtures("build")
def test_reopen_note_and_strike(hullcheck, tmp_path):
    """Each is written as it was said; what is struck out stays in the book with who and why."""
    hullcheck("log", "note", "sun", "on", "the", "hull", *MAY)
    assert last(tmp_path).record == Note(text="sun on the hull")
    done = hullcheck("log", "reopen", "joint", "--why", "tape came off", *MAY)
    assert "counts as not sealed until hullcheck log seal says otherwise" in done.stdout
    done = hullcheck("log", "strike", "1", "--why", "other hull", *MAY)
    assert done.stdout == "Recorded as entry 3.\nStruck out entry 1: sun on the hull\n"
    assert last(tmp_path).record == Strike(entry=1, why="other hull")
    for number_, message in (("1", "is struck out already"), ("9", "no entry 9"), ("3", "stays")):
        done = hullcheck("log", "strike", number_, "--why", "x")
        assert done.returncode == 1
        assert message in done.stderr
    assert len(read_logbook(tmp_path).entries) == 3


@pytest.mark.usefixtures("build")
def test_a_test_by_air_is_minded_where_it_is_noted(hullcheck):
    """Millibars, and thin hulls split; not for any note."""
    assert "millibars" in hullcheck("log", "note", "blew air in, soap outside").stderr
    assert hullcheck("log", "note", "sun and wind").stderr == ""
    assert air_caution("airfoil repaired", "stairs") == ""
    assert "uncured resin" in sealing_caution("30 min epoxy")
    assert "vapor" in sealing_caution("something")


def test_a_photo_and_a_build_elsewhere(hullcheck, tmp_path):
    """--build names folder or sheet; the picture's path is told from there."""
    build_in(tmp_path / "boat", SHEET)
    (tmp_path / "crack.jpg").write_bytes(b"abc")
    for where in ("boat", "boat/build.toml"):
        done = hullcheck("log", "note", "crack", "--build", where, "--photo", "crack.jpg")
        assert done.returncode == 0
    assert last(tmp_path / "boat").photo.path == "../crack.jpg"
    assert last(tmp_path / "boat").number == 2
    for wrong in (("--photo", "none.jpg"), ("--build", "nowhere"), ("--build", "boat/other.toml")):
        done = hullcheck("log", "note", "x", *wrong)
        assert done.returncode == 1
        assert done.stderr.count("\n") == 1
        assert "there is no such" in done.stderr
    done = hullcheck("log", "show", "--build", "crack.jpg")
    assert "is neither a folder nor a build sheet" in done.stderr
    assert not (tmp_path / "logbook.sqlite").exists()


@pytest.mark.usefixtures("build")
@pytest.mark.parametrize(
    ("command_line", "missing"),
    [
        (("weigh",), "GRAMS is missing: what the scale showed, in g"),
        (("seal",), "SEAM is missing: the seam or opening that was sealed"),
        (("seal", "joint"), "--with is missing: what it was sealed with"),
        (("reopen", "joint"), "--why is missing: what happened to it"),
        (("note",), "TEXT is missing: what is to be written down"),
        (("weigh", "hull"), "GRAMS is missing: what the scale showed, in g"),
        (("strike",), "N is missing: the number of the entry that is wrong"),
    ],
)
def test_what_is_missing_is_named_where_nobody_can_be_asked(
    hullcheck, tmp_path, command_line, missing
):
    """Exit 2, one line that names the option, nothing written."""
    done = hullcheck("log", *command_line)
    assert done.returncode == 2
    assert f"hullcheck: {missing}. There is no terminal to ask at." in done.stderr
    assert not (tmp_path / "logbook.sqlite").exists()


@pytest.mark.usefixtures("build")
def test_what_is_missing_is_asked_for_at_a_terminal(hullcheck, tmp_path, answers):
    """In plain words with the unit; an answer that makes no sense is told why and asked again."""
    answers("", "7o4", "1,234", "-3", "704.6 g")
    done = hullcheck("log", "weigh")
    assert done.returncode == 0
    assert done.stderr.count("Mass of the whole craft, all-up (g): ") == 5
    assert "It is needed: what the scale showed, in g." in done.stderr
    assert "'7o4' is not a mass in grams, such as 704.6." in done.stderr
    assert "may be thousands or decimals" in done.stderr
    assert last(tmp_path).record.mass_g == 704.6
    answers("jiont", "joint", "thin CA", "", "soon", "2,5")
    done = hullcheck("log", "seal")
    assert "nearest: joint" in done.stderr
    assert "'soon' is not a number" in done.stderr
    assert last(tmp_path).record == Sealing(seam="joint", material="thin CA", cure_h=2.5)
    answers("wing seat", "wing seat", "gasket torn")
    assert "type it again" in hullcheck("log", "reopen").stderr
    assert last(tmp_path).record == Reopening(seam="wing seat", why="gasket torn")
    answers("204")
    assert "Mass of battery (g): " in hullcheck("log", "weigh", "battery").stderr
    assert hullcheck("log", "strike", "4", "--why", "typed twice").returncode == 0
    answers("all well")
    hullcheck("log", "note")
    answers("four", "6", "was not")
    done = hullcheck("log", "strike")
    assert "'four' is not the number of an entry" in done.stderr
    assert "Why is it wrong? (all well) " in done.stderr
    assert last(tmp_path).record == Strike(entry=6, why="was not")


def test_times(monkeypatch):
    """Local by itself, summer time and winter time; with an offset as it stands; never ahead."""
    monkeypatch.setenv("TZ", "CET-1CEST,M3.5.0,M10.5.0/3")
    if hasattr(time, "tzset"):
        time.tzset()
    now = datetime.fromisoformat("2026-11-29T19:30:00+01:00")
    try:
        local = {
            "2026-05-12 18:30": "2026-05-12T18:30:00+02:00",
            "2026-11-12 18:30": "2026-11-12T18:30:00+01:00",
            "2026-05-12T18:30:15-07:00": "2026-05-12T18:30:15-07:00",
            "7:05": "2026-11-29T07:05:00+01:00",
        }
        for typed, meant in local.items():
            if hasattr(time, "tzset") or "-07" in typed:
                assert moment(typed, now).isoformat() == meant
    finally:
        monkeypatch.undo()
        if hasattr(time, "tzset"):
            time.tzset()
    for typed, why in {
        "2026-11-29T19:31+01:00": "lies in the future: it is 2026-11-29 19:30",
        "2026-05-12": "has no time of day",
        "yesterday": "is not a time such as 2026-05-12 18:30",
        "25:00": "is not a time",
    }.items():
        with pytest.raises(ValueError, match=why):
            moment(typed, now)


@pytest.mark.parametrize(
    ("line", "message"),
    [
        (("strike", "four", "--why", "x"), "'four' is not the number of an entry, such as 14"),
        (("strike", "0", "--why", "x"), "'0' is not the number of an entry"),
        (("weigh", "hull", "heavy"), "'heavy' is not a mass in grams, such as 704.6"),
        (("weigh", "70a"), "'70a' is not a mass in grams"),
        (("seal", "joint", "--with", " "), "there is nothing there"),
        (("seal", "joint", "--with", "CA", "--cure-h", "-1"), "'-1' must not be below 0"),
    ],
)
def test_values_that_make_no_sense_are_usage(hullcheck, tmp_path, line, message):
    """Exit 2, the value and why, nothing written."""
    done = hullcheck("log", *line)
    assert done.returncode == 2
    assert message in done.stderr
    assert not (tmp_path / "logbook.sqlite").exists()


def test_a_time_ahead_is_refused(hullcheck, tmp_path):
    """A log tells what happened."""
    done = hullcheck("log", "note", "x", "--at", "2126-05-12 18:30")
    assert done.returncode == 2
    assert "lies in the future" in done.stderr
    assert not (tmp_path / "logbook.sqlite").exists()


def test_masses_numbers_and_words_as_they_are_typed():
    """The last digit is the scale's; units other than grams are refused."""
    assert [(w.mass_g, w.digits_g) for w in map(weighed, ("704.6", "704", "0,25 g", "7.10g"))] == [
        (704.6, 0.1),
        (704.0, 1.0),
        (0.25, 0.01),
        (7.1, 0.01),
    ]
    for wrong in ("0", "-1", "1 kg", "1e3", "nan", "", "٣"):
        with pytest.raises(ValueError, match=r"gram|above 0"):
            weighed(wrong)
    assert [number(text) for text in ("-6", "−6", "+1,5")] == [-6.0, -6.0, 1.5]
    assert [yes_or_no(text) for text in ("Yes", "n")] == [True, False]
    with pytest.raises(ValueError, match="neither yes nor no"):
        yes_or_no("maybe")


def told(hullcheck):
    """Write a small story into the logbook."""
    for line in (
        ("weigh", "553", *MAY),
        ("weigh", "535", *MAY),
        ("seal", "joint", "--with", "thin CA", "--cure-h", "24", *MAY),
        ("strike", "2", "--why", "read upside down", *MAY),
        ("leak-test", "--start", "--mass", "553", "--before", "553.0", *MAY),
        ("note", "esc \x1b[2J and a long text " + "word " * 30, "--seam", "joint", *MAY),
    ):
        assert hullcheck("log", *line).returncode == 0, line


@pytest.mark.usefixtures("build")
def test_show_is_a_screen_and_all_is_everything(hullcheck):
    """Seven lines of 80, the answer first; struck entries with who struck them and why."""
    done = hullcheck("log", "show")
    assert done.stdout == "The logbook has no entry yet.\n"
    told(hullcheck)
    lines = hullcheck("log", "show").stdout.splitlines()
    assert (
        lines[0]
        == (
            "6 entries, 1 struck out. A leak test runs since 2026-05-12 18:30: log leak-test"
            " --finish"
        )[:79]
        + "…"
        or len(lines[0]) <= 80
    )
    assert len(lines) == 7
    assert lines[-1] == "2 earlier: hullcheck log show --all"
    everything = hullcheck("log", "show", "--all").stdout
    assert " 2 × 2026-05-12 18:30  struck out by entry 4 (read upside down): all-up" in everything
    assert "joint sealed with thin CA, cures 24 h" in everything
    assert "before 553.0 ± 0.1 g" in everything
    assert "+02:00 from UTC" in everything
    assert "\x1b" not in everything
    assert all(len(line) <= 80 for line in [*lines, *everything.splitlines()])


@pytest.mark.usefixtures("build")
def test_show_one_seam(hullcheck):
    """Its work, its notes and its tests; an unknown name is answered with those there are."""
    told(hullcheck)
    lines = hullcheck("log", "show", "--seam", "JOINT", "--csv").stdout.splitlines()
    assert [line.split(",")[3] for line in lines[1:]] == ["seal", "note"]
    done = hullcheck("log", "show", "--seam", "jiont")
    assert done.stdout == "No entry is about that.\n"
    assert "names in the logbook: joint" in done.stderr


@pytest.mark.usefixtures("build")
def test_json_is_what_its_schema_says(hullcheck):
    """Every entry with every attribute; what struck it out and why."""
    jsonschema.validate(json.loads(hullcheck("log", "show", "--json").stdout), schema("log"))
    told(hullcheck)
    document = json.loads(hullcheck("log", "show", "--json").stdout)
    jsonschema.validate(document, schema("log"))
    entries = document["entries"]
    assert [one["kind"] for one in entries] == [
        "weigh", "weigh", "seal", "strike", "leak-test start", "note",
    ]  # fmt: skip
    assert (entries[1]["struck_by"], entries[1]["struck_why"]) == (4, "read upside down")
    assert entries[0]["at"] == "2026-05-12T18:30:00+02:00"
    assert document["running_test"] == 5
    assert hullcheck("log", "show", "--json", "--csv").returncode == 2


def test_schema_has_the_answers_keys_and_describes_each():
    """Every attribute of the answer is a key of the schema, and the other way round."""
    assert_describes(schema("log"), LogAnswer)


@pytest.mark.usefixtures("build")
def test_export_and_import(hullcheck, tmp_path):
    """A file or standard output; restored word for word; refused in one line."""
    told(hullcheck)
    shown = hullcheck("log", "export").stdout
    done = hullcheck("log", "export", ".", "-o", "log.csv")
    assert done.returncode == 0
    assert "6 entries written to log.csv" in done.stderr
    assert (tmp_path / "log.csv").read_bytes().decode() == shown
    assert hullcheck("log", "export", "-o", "log.csv").returncode == 1  # is there already
    assert hullcheck("log", "show", "--csv").stdout == shown
    assert len(list(csv.reader(io.StringIO(shown, newline="")))) == 7
    (tmp_path / "other").mkdir()
    done = hullcheck("log", "import", "log.csv", "other")
    assert done.stdout == f"6 entries added to {Path('other', 'logbook.sqlite')}.\n"
    assert hullcheck("log", "export", "other").stdout == shown
    done = hullcheck("log", "import", "log.csv", "--build", "other")
    assert "0 entries added" in done.stdout
    assert "6 were there already" in done.stdout
    for wrong in ("nothing.csv", "hull.stl", "weights.csv"):
        done = hullcheck("log", "import", wrong)
        assert done.returncode == 1
        assert done.stderr.startswith(f"hullcheck: {wrong}")
    assert hullcheck("log", "export", ".", "--build", "other").returncode == 2


def test_a_damaged_logbook_is_one_line(hullcheck, tmp_path):
    """Never a traceback, whatever is asked of it."""
    (tmp_path / "logbook.sqlite").write_text("number,at\n", encoding="utf-8")
    for line in (("show",), ("note", "x"), ("export",), ("leak-test", "--finish")):
        done = hullcheck("log", *line)
        assert done.returncode == 1
        assert re.fullmatch(r"hullcheck: logbook\.sqlite: is no logbook.*\n", done.stderr)


LOADED = """
import json, sys
sys.argv = ["hullcheck", *sys.argv[1:]]
from hullcheck.cli.main import run
try:
    run()
except SystemExit as stopped:
    print(json.dumps([stopped.code, sorted(sys.modules)]))
"""
HEAVY = {"numpy", "scipy", "pandas", "pydantic", "matplotlib", "trimesh", "manifold3d", "rich"}


@pytest.mark.usefixtures("build")
@pytest.mark.parametrize(
    "line", [("note", "x"), ("show",), ("show", "--all"), ("weigh", "hull", "9")]
)
def test_an_entry_loads_nothing_heavy(tmp_path, line):
    """Showing and noting load click, sqlite3 and small modules: no numbers, tables or drawings."""
    root = Path(__file__).resolve().parents[2]
    paths = [str(root), *filter(None, [os.environ.get("PYTHONPATH")])]
    done = subprocess.run(
        [sys.executable, "-c", LOADED, "log", *line],
        capture_output=True,
        text=True,
        check=True,
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": os.pathsep.join(paths)},
    )
    code, modules = json.loads(done.stdout.splitlines()[-1])
    assert code == 0
    assert "sqlite3" in modules
    assert {name.split(".")[0] for name in modules} & HEAVY == set()
    ours = {
        name for name in modules if name.startswith(("hullcheck.geometry", "hullcheck.flotation"))
    }
    assert ours == set()


@pytest.mark.usefixtures("build")
def test_an_interrupt_at_a_question_writes_nothing(hullcheck, tmp_path, monkeypatch):
    """Ctrl-C: stopped, exit 130, no entry."""

    def interrupted():
        """Be interrupted."""
        raise KeyboardInterrupt

    monkeypatch.setattr(log_ask, "at_a_terminal", lambda: True)
    monkeypatch.setattr("builtins.input", interrupted)
    done = hullcheck("log", "seal", "joint")
    assert done.returncode == 130
    assert done.stderr.endswith("hullcheck: stopped\n")
    assert not (tmp_path / "logbook.sqlite").exists()
