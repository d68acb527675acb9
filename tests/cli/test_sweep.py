"""hullcheck sweep from the command line: forms, exit codes, refusals."""

import csv
import hashlib
import io
import json
import shutil
from pathlib import Path

import jsonschema
import pytest
from schema_keys import assert_describes

from hullcheck.answers import sweep_records
from hullcheck.files.demo import write_demo
from hullcheck.report.as_json import schema

MESHES = Path(__file__).resolve().parents[2] / "meshes"
READ = ("--unit", "mm", "--forward", "-x", "--up", "+z")


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """Return the folder of the demo build."""
    folder = tmp_path_factory.mktemp("demo")
    write_demo(folder)
    return str(folder)


@pytest.fixture
def hull(tmp_path):
    """Return the demo hull's mesh file."""
    return str(shutil.copy(MESHES / "tarnwing_hull.stl", tmp_path / "hull.stl"))


def _digests(folder):
    """Return a digest of every file of a build, its cache aside."""
    return {
        path.relative_to(folder): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(Path(folder).rglob("*"))
        if path.is_file() and ".hullcheck" not in path.parts
    }


def test_over_her_mass_the_answer_comes_first(hullcheck, demo, tmp_path):
    """The first line says from where to where, the table has its rows, the drawing is there."""
    before = _digests(demo)
    done = hullcheck("sweep", demo, "--drawing", str(tmp_path / "s.svg"))
    lines = done.stdout.splitlines()
    assert done.returncode == 0
    assert lines[0].startswith("She keeps every limit from ")
    assert lines[0].endswith("; then pushrod exit comes under 15 mm.")
    assert any(
        line.startswith("Over ") and "comes under 15 mm (end ±" in line for line in lines[:7]
    )
    assert any(line.startswith("Grams left") for line in lines[:7])
    assert sum(line.startswith(">") for line in lines) == 2  # today's row and what ">" means
    assert all(len(line) <= 80 for line in lines)
    assert (tmp_path / "s.svg").read_bytes().startswith(b"<?xml")
    assert "no clearance to go on the water" in done.stderr
    assert "grams come and go at her CG" in done.stderr
    assert _digests(demo) == before


def test_json_is_what_the_schema_says(hullcheck, demo):
    """Over mass, place and water, and where she sinks, the document validates."""
    document = schema("sweep")
    jsonschema.Draft202012Validator.check_schema(document)
    check = jsonschema.Draft202012Validator(document).validate
    answers = []
    for arguments in (
        ("--mass", "600:900:25"),
        ("--item", "battery", "--x", "60:140:40"),
        ("--waters", "fresh,sea,fresh@4,1010"),
        ("--mass", "2800:4000:400"),
    ):
        answers.append(json.loads(hullcheck("sweep", demo, *arguments, "--json").stdout))
        check(answers[-1])
    mass, item, water, sunk = answers
    assert mass["schema"] == "hullcheck.sweep/1"
    assert [row["value"] for row in mass["rows"]] == [600.0 + 25.0 * k for k in range(13)]
    assert [row["value"] for row in item["rows"]] == [60.0, 100.0, 140.0]
    assert {"cg_range_mm", "freeboard_mm", "trim_deg", "heel_deg"} == {
        check["name"] for check in item["rows"][0]["limits"]
    }
    densities = [row["value"] for row in water["rows"]]
    assert densities == sorted(densities)
    assert {row["water"]["kind"] for row in water["rows"]} == {"fresh", "sea", "given"}
    assert sunk["rows"][-1]["rest"] == "sinks"
    assert sunk["rows"][-1]["freeboard_mm"] is None


def test_rows_as_csv(hullcheck, demo):
    """--csv has a row a value, unrounded, with the place of her CG and what is broken."""
    done = hullcheck("sweep", demo, "--item", "battery", "--x", "60:200:20", "--csv")
    rows = list(csv.DictReader(io.StringIO(done.stdout)))
    assert [float(row["value"]) for row in rows] == [60.0 + 20.0 * k for k in range(8)]
    stations = [float(row["cg_x_mm"]) for row in rows]
    assert stations == sorted(stations)
    assert rows[0]["freeboard_mm"] == repr(float(rows[0]["freeboard_mm"]))
    for row, station in zip(rows, stations, strict=True):
        assert ("cg_range_mm" in row["broken"].split()) is not (246.0 <= station <= 258.0)
        assert (row["holds"] == "yes") is (row["broken"] == "")


def test_rows_say_what_float_says(hullcheck, demo):
    """At one mass and in one water the row is what `float` prints as JSON for it."""
    row = json.loads(hullcheck("sweep", demo, "--mass", "750:800:50", "--json").stdout)["rows"][0]
    one = json.loads(hullcheck("float", demo, "--mass", "750", "--cg", ",".join(
        repr(v) for v in row["center_of_gravity_mm"]), "--json").stdout)  # fmt: skip
    for mine, its in (
        (row["freeboard_mm"], one["freeboard_mm"]["least"]),
        (row["trim_deg"], one["trim_deg"]),
        (row["draft_mm"]["step"], one["draft_mm"]["step"]),
    ):
        assert mine == pytest.approx(its, abs=1e-7)
    assert row["at"] == one["freeboard_mm"]["at"]


def test_straight_from_meshes(hullcheck, hull):
    """Mesh files with --mass A:B:STEP and --cg are swept; today is not known then."""
    done = hullcheck("sweep", hull, "--mass", "600:900:100", "--cg", "252,0,31", *READ)
    assert done.returncode == 0
    assert done.stdout.startswith("She floats on her feet from 600 to 900 g")
    assert "Today" not in done.stdout
    assert "she has no limits" in done.stderr
    one = hullcheck("sweep", hull, "--mass", "690", "--cg", "252,0,31", "--json", *READ)
    assert json.loads(one.stdout)["today"]["value"] == 690.0


def test_a_setup_is_swept(hullcheck, demo):
    """--setup sweeps her as it has her; a limit broken today is exit 3."""
    done = hullcheck("sweep", demo, "--setup", "wet after a shower", "--mass", "700:800:50")
    assert "wet after a shower" in done.stdout.splitlines()[1]
    assert done.returncode == 0
    heavy = hullcheck("sweep", demo, "--mass", "1500")
    assert heavy.returncode == 3
    assert "\nNow " in heavy.stdout


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--json", "--csv"), "choose one of them"),
        (("--item", "battery"), "--item needs one of --x, --y and --z"),
        (("--item", "battery", "--x", "1:2:1", "--y", "1:2:1"), "--item needs one of"),
        (("--x", "60:140:5"), "--x goes with --item NAME"),
        (("--item", "battery", "--x", "60-140"), "not a range from:to:step"),
        (("--item", "battery", "--x", "60:140:0"), "the step 0 must be above 0"),
        (("--item", "battery", "--x", "140:60:5"), "the end 60 must be above the start 140"),
        (("--item", "battery", "--x", "0:1:1e-4"), "10001 steps are more than the 1000"),
        (("--mass", "heavy"), "neither a mass in g nor a range"),
        (("--mass", "1:2:1", "--waters", "sea"), "one thing at a time"),
        (("--waters", "sea", "--water", "fresh"), "leave out --water"),
        (("--waters", "brine"), "'brine' is no water"),
        (("--drawing", "s.jpg"), "does not end in"),
    ],
)
def test_usage_errors(hullcheck, demo, arguments, said):
    """What cannot be meant is a usage error that says what was expected."""
    done = hullcheck("sweep", demo, *arguments)
    assert done.returncode == 2
    assert said in " ".join(done.stderr.split())


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--item", "batery", "--x", "60:140:5"), "the ledger has no item 'batery'; it has: nose"),
        (("--setup", "gone"), "there is no setup 'gone'"),
        (("--setup", "bare, no battery", "--item", "battery", "--x", "1:9:1"), "takes it off"),
        (("--mass", "-100:100:50"), "mass -100 g: must be above 0"),
        (("--waters", "fresh@90"), "water temperature 90 °C is outside"),
        (("--waters", "1.02"), "did you mean 1020 kg/m³"),
    ],
)
def test_refusals(hullcheck, demo, arguments, said):
    """Input that makes no sense is refused in a line with its value: exit 1, no traceback."""
    done = hullcheck("sweep", demo, *arguments)
    assert done.returncode == 1
    assert said in done.stderr
    # On a slow machine the work is told of first, each line ending in "…".
    assert len([one for one in done.stderr.splitlines() if not one.endswith("…")]) == 1


def test_meshes_want_mass_and_center(hullcheck, hull):
    """Without a mass, a CG or a ledger mesh files cannot be swept: said, exit 2."""
    for arguments, said in (
        ((), "mesh files need --mass G"),
        (("--mass", "600:900:50"), "mesh files need --cg X,Y,Z"),
        (("--mass", "690", "--item", "battery", "--x", "1:2:1"), "--item needs a build sheet"),
    ):
        done = hullcheck("sweep", hull, *arguments)
        assert done.returncode == 2
        assert said in done.stderr


def test_units_shown(hullcheck, demo):
    """--show changes what is printed and nothing that is computed."""
    inches = hullcheck("sweep", demo, "--mass", "600:700:50", "--show", "oz,in", "--all")
    assert " oz" in inches.stdout
    assert "Drafts and CG, in in" in inches.stdout
    assert all(len(line) <= 80 for line in inches.stdout.splitlines())


def test_schema_has_the_answers_keys_and_describes_each():
    """Every attribute of the answer is a key of the schema, described, and the other way round."""
    assert_describes(schema("sweep"), sweep_records.SweepAnswer)
