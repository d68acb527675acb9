"""hullcheck compare: forms, setups, ledgers as spreadsheets write them, refusals."""

import csv
import hashlib
import io
import json
import math
import shutil
from pathlib import Path

import jsonschema
import pytest
from schema_keys import assert_describes

from hullcheck.answers.compare_records import CompareAnswer
from hullcheck.report.as_json import schema

TWINS = Path(__file__).resolve().parents[2] / "examples" / "twin-floats"


@pytest.fixture
def old(tmp_path):
    """Return the example with twin floats, copied to a folder of its own."""
    shutil.copytree(TWINS, tmp_path / "old", ignore=shutil.ignore_patterns(".hullcheck"))
    return tmp_path / "old"


@pytest.fixture
def new(old):
    """Return a later build: 12 g more wing, radio 20 mm aft, a hatch sealed, a plug, no finish."""
    folder = old.parent / "new"
    shutil.copytree(old, folder)
    ledger, sheet = folder / "weights.csv", folder / "build.toml"
    text = ledger.read_text(encoding="utf-8")
    for before, after in (
        ("wing;airframe;260;271;", "wing;airframe;260;283,5;"),
        ("120;;250;0;165;5;", "120;;270;0;165;5;"),
        ("finish;finish;40;;320;0;150;5;", "plug;finish;;2,5;300;0;5;;"),
    ):
        assert before in text
        text = text.replace(before, after)
    ledger.write_text(text, encoding="utf-8")
    text = sheet.read_text(encoding="utf-8")
    sheet.write_text(text.replace('state = "taped"', 'state = "sealed"', 1), encoding="utf-8")
    return folder


def hashes(folder):
    """Return what every file of a folder holds."""
    return {
        path.relative_to(folder): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def document(done):
    """Return a command's JSON, held to its schema."""
    found = json.loads(done.stdout)
    jsonschema.validate(found, schema("compare"))
    return found


@pytest.mark.usefixtures("new")
def test_two_builds(hullcheck, old):
    """Seven lines, the sum first: 12.5 g more wing, 2.5 g of plug and 40 g less finish."""
    before = hashes(old.parent)
    done = hullcheck("compare", "old", "new")
    assert done.returncode == 0
    lines = done.stdout.splitlines()
    assert len(lines) <= 7
    assert lines[0] == "Sedge 120 on floats · old → new"
    assert lines[1].startswith("−25 g: ")
    assert "no clearance to go on the water" in done.stderr
    assert hashes(old.parent) == before


def test_json_adds_up_and_is_what_its_schema_says(hullcheck, old, new):
    """Changes of two builds, of setups and of nothing are valid; the numbers sum to 1e-9."""
    for arguments in (
        (str(old), str(new)),
        (str(new), str(old), "--setup", "at the sea"),
        (str(old), "--new-setup", "fuel for an hour"),
        (str(old), str(old)),
    ):
        found = document(hullcheck("compare", *arguments, "--json"))
        assert math.fsum(c["mass_g"] for c in found["changes"]) == pytest.approx(
            found["mass_g"], abs=1e-9
        )
        for key in ("freeboard_mm", "trim_deg", "heel_deg"):
            total = math.fsum(change["cost"][key] for change in found["changes"])
            assert total == pytest.approx(found["cost"][key], abs=1e-9)
            ends = [found[side]["afloat"][key] for side in ("old", "new")]
            assert ends[1] - ends[0] == pytest.approx(found["cost"][key], abs=1e-12)


def test_both_ways_are_each_others_opposite(hullcheck, old, new):
    """New against old is old against new with the signs turned, as a whole."""
    there = document(hullcheck("compare", str(old), str(new), "--json"))
    back = document(hullcheck("compare", str(new), str(old), "--json"))
    assert back["mass_g"] == pytest.approx(-there["mass_g"], abs=1e-9)
    assert back["cost"]["freeboard_mm"] == pytest.approx(-there["cost"]["freeboard_mm"], abs=1e-9)
    assert {c["name"] for c in there["changes"]} == {
        "wing",
        "receiver, servos, battery",
        "finish",
        "plug",
        "starboard hatch",
    }


def test_two_setups_of_one_build(hullcheck, old):
    """120 g of fuel and the sea, from one setup to another, named by them."""
    done = hullcheck("compare", str(old), "--new-setup", "fuel for an hour")
    assert done.returncode == 0
    assert done.stdout.splitlines()[0].endswith("as she is → fuel for an hour")
    arguments = ("--old-setup", "fuel for an hour", "--new-setup", "at the sea", "--json")
    found = document(hullcheck("compare", str(old), *arguments))
    assert [c["kind"] for c in found["changes"]] == ["lighter", "water"]
    assert found["mass_g"] == pytest.approx(-120.0, abs=1e-9)
    assert (found["old"]["setup"], found["new"]["setup"]) == ("fuel for an hour", "at the sea")


@pytest.mark.parametrize("side", ["new", "old"])
def test_a_ledger_as_a_spreadsheet_writes_it(hullcheck, old, side):
    """BOM, semicolons, decimal comma, CRLF and blank lines: 1,5 g of tail more, either way."""
    text = (old / "weights.csv").read_text(encoding="utf-8")
    text = text.replace("tail;airframe;58;60,5;", "tail;airframe;58;62,0;") + ";;;;;;;;\n\n"
    ledger = old.parent / "october.csv"
    ledger.write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode("utf-8"))
    names = (str(old), str(ledger)) if side == "new" else (str(ledger), str(old))
    found = document(hullcheck("compare", *names, "--json"))
    (change,) = found["changes"]
    assert (change["name"], change["kind"]) == ("tail", "heavier" if side == "new" else "lighter")
    assert found["mass_g"] == pytest.approx(1.5 if side == "new" else -1.5, abs=1e-9)
    assert found[side]["name"] == "october.csv"


def test_a_ledger_with_text_in_a_number_cell_is_refused(hullcheck, old):
    """The row, the column and the value are said; nothing is guessed."""
    ledger = old.parent / "bad.csv"
    text = (old / "weights.csv").read_text(encoding="utf-8")
    ledger.write_text(text.replace("240;243;", "240;about 243;"), encoding="utf-8")
    done = hullcheck("compare", str(old), str(ledger))
    assert done.returncode == 1
    assert done.stdout == ""
    assert "weighed_g" in done.stderr
    assert "about 243" in done.stderr


@pytest.mark.usefixtures("new")
def test_csv_all_and_show(hullcheck):
    """A row a change; --all the table; --show other units in text alone."""
    rows = list(csv.DictReader(io.StringIO(hullcheck("compare", "old", "new", "--csv").stdout)))
    assert len(rows) == 5
    assert math.fsum(float(row["mass_g"]) for row in rows) == pytest.approx(-25.0, abs=1e-9)
    everything = hullcheck("compare", "old", "new", "--all").stdout
    assert "Rows add up to the last line exactly" in everything
    assert "Starboard hatch: taped → sealed" in everything
    ounces = hullcheck("compare", "old", "new", "--show", "oz,in").stdout
    assert "−0.88 oz" in ounces


def test_a_broken_limit_is_exit_3(hullcheck, old):
    """The new one breaks the freeboard limit: worked out, and it fails."""
    ledger = old.parent / "heavy.csv"
    text = (old / "weights.csv").read_text(encoding="utf-8")
    ledger.write_text(text.replace("330;342;352", "330;2042;300"), encoding="utf-8")
    done = hullcheck("compare", str(old), str(ledger))
    assert done.returncode == 3
    assert "limit broken (" in done.stdout or "sinks" in done.stdout


@pytest.mark.parametrize(
    ("arguments", "code", "said"),
    [
        (("old",), 2, "one build and --new-setup NAME"),
        (("old", "hull.stl"), 2, "hull.stl is a mesh; compare takes builds"),
        (("a.csv", "b.csv"), 2, "a ledger alone does not float"),
        (("a.csv", "--new-setup", "x"), 2, "a ledger alone does not float"),
        (("old", "old", "--setup", "x", "--old-setup", "y"), 2, "--setup is for both"),
        (("old", "old", "--json", "--csv"), 2, "choose one of them"),
        (("old", "--new-setup", "drunk"), 1, "there is no setup 'drunk'"),
        (("old", "gone.csv"), 1, "gone.csv"),
        (("old", "elsewhere"), 1, "elsewhere"),
    ],
)
@pytest.mark.usefixtures("old")
def test_what_cannot_be_compared_is_refused(hullcheck, arguments, code, said):
    """One line on standard error with what to do, and nothing on standard output."""
    done = hullcheck("compare", *arguments)
    assert (done.returncode, done.stdout) == (code, "")
    assert said in done.stderr
    assert "Traceback" not in done.stderr


def test_schema_has_the_answers_keys_and_describes_each():
    """Every attribute of the answer is a key of the schema, and the other way round."""
    assert_describes(schema("compare"), CompareAnswer)
