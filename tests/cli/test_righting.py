"""hullcheck righting from the command line: forms, exit codes, refusals."""

import csv
import io
import json
import shutil
from pathlib import Path

import jsonschema
import pytest

from hullcheck.files.demo import write_demo
from hullcheck.report.as_json import schema

MESHES = Path(__file__).resolve().parents[2] / "meshes"
LOAD = ("--mass", "690", "--cg", "252,0,31", "--unit", "mm", "--forward", "-x", "--up", "+z")
HEAVY = "heavy battery, sea, hatch open"


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


def test_the_question_is_one_command_with_a_drawing(hullcheck, demo, tmp_path):
    """Crosswind, heavy battery, 10 mm off center: the second line answers, the drawing is there."""
    done = hullcheck(
        "righting", demo, "--setup", HEAVY, "--wind", "4", "--off-center", "250,10",
        "--drawing", str(tmp_path / "r.svg"),
    )  # fmt: skip
    lines = done.stdout.splitlines()
    assert done.returncode == 0
    assert HEAVY in lines[0]
    assert lines[1] == "The float holds her at 1.7° to starboard."
    assert lines[2].endswith("4 m/s of wind, 250 g 10 mm to starboard")
    assert len(lines) <= 8
    assert all(len(line) <= 80 for line in lines)
    assert (tmp_path / "r.svg").read_bytes().startswith(b"<?xml")
    assert "no clearance to go on the water" in done.stderr
    assert "a raised wing in wind lifts" in done.stderr
    assert "C_D 1.2" in done.stderr


def test_json_is_what_the_schema_says(hullcheck, demo):
    """The document validates, has 73 rows by default, and keeps the promised keys."""
    document = schema("righting")
    jsonschema.Draft202012Validator.check_schema(document)
    done = hullcheck("righting", demo, "--json", "--wind", "4", "--turn", "2,3")
    answer = json.loads(done.stdout)
    jsonschema.Draft202012Validator(document).validate(answer)
    assert answer["schema"] == "hullcheck.righting/1"
    assert [row["heel_deg"] for row in answer["rows"]] == [float(h) for h in range(-180, 181, 5)]
    assert {"mass_g", "center_of_gravity_mm", "water", "downflooding_deg", "range_deg", "greatest",
            "attitudes"} <= set(answer)  # fmt: skip
    first = min(
        abs(heel)
        for one in answer["openings"]
        if one["state"] != "sealed"
        for heel in (one["starboard_deg"], one["port_deg"])
        if heel is not None
    )
    assert answer["downflooding_deg"] == first
    jsonschema.Draft202012Validator(document).validate(
        json.loads(hullcheck("righting", demo, "--json", "--mass", "9000").stdout)
    )


def test_rows_as_csv_at_the_heels_asked_for(hullcheck, demo):
    """--csv prints the rows of --heels, a list or a range, unrounded."""
    for heels, wanted in (
        ("-10:10:5", [-10.0, -5.0, 0.0, 5.0, 10.0]),
        ("5,10,20.25", [5.0, 10.0, 20.25]),
    ):
        done = hullcheck("righting", demo, "--csv", "--heels", heels)
        rows = list(csv.DictReader(io.StringIO(done.stdout)))
        assert [float(row["heel_deg"]) for row in rows] == wanted
        assert {row["beyond_model"] for row in rows} <= {"yes", "no"}
    assert rows[0]["righting_arm_mm"] == repr(float(rows[0]["righting_arm_mm"]))


def test_straight_from_meshes(hullcheck, hull):
    """A mesh with --mass and --cg is heeled; without a CG, or a setup, it is a usage error."""
    done = hullcheck("righting", hull, *LOAD, "--heels", "0,10")
    assert done.returncode == 0
    assert "Rests upright" in done.stdout
    assert "no wing is given" in done.stderr
    for arguments, said in (
        (("--mass", "690"), "mesh files need --cg X,Y,Z"),
        ((), "mesh files need --mass G"),
        ((*LOAD, "--setup", "x"), "--setup needs a build sheet"),
    ):
        done = hullcheck("righting", hull, *arguments)
        assert done.returncode == 2
        assert said in done.stderr


def test_exit_codes(hullcheck, hull):
    """She sinks or capsizes: 3, and so where nothing holds her in the wind; all with an answer."""
    sunk = hullcheck("righting", hull, "--mass", "9000", "--cg", "252,0,31")
    assert sunk.returncode == 3
    assert "Sinks: she is" in sunk.stdout
    over = hullcheck("righting", hull, "--mass", "690", "--cg", "252,2,95", "--heels", "0")
    assert over.returncode == 3
    assert "Capsizes" in over.stdout
    blown = hullcheck("righting", hull, *LOAD, "--wind", "40", "--heels", "0")
    assert blown.returncode == 3
    assert "nothing holds her" in blown.stdout.lower()


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--json", "--csv"), "choose one of them"),
        (("--heels", "a,b"), "neither heels such as 5,10,20 nor a range"),
        (("--heels", "0:10:0"), "neither heels"),
        (("--heels", "10:0:5"), "neither heels"),
        (("--heels", "5,190"), "heel 190: must be from -180 to 180"),
        (("--off-center", "180"), "not two numbers such as 180,10"),
        (("--side-area", "400,70"), "go with --wind"),
        (("--drag", "1"), "go with --wind"),
        (("--drawing", "r.jpg"), "does not end in"),
    ],
)
def test_usage_errors(hullcheck, demo, arguments, said):
    """What cannot be meant is a usage error that says what was expected."""
    done = hullcheck("righting", demo, *arguments)
    assert done.returncode == 2
    assert said in done.stderr


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--setup", "gone"), "there is no setup 'gone'"),
        (("--wind", "-3"), "wind_m_s -3: must not be below 0"),
        (("--off-center", "9000,10"), "off-center mass 9000 g: she weighs 701 g all-up"),
        (("--wind", "3", "--turn", "2,0"), "the radius must be above 0"),
    ],
)
def test_refusals(hullcheck, demo, arguments, said):
    """Input that makes no sense is refused in a line with its value: exit 1, no traceback."""
    done = hullcheck("righting", demo, *arguments)
    assert done.returncode == 1
    assert said in done.stderr
    assert "Traceback" not in done.stderr


def test_units_shown(hullcheck, demo):
    """--show changes what is printed, all of it: no length is left in millimeters."""
    inches = hullcheck("righting", demo, "--show", "oz,in")
    assert " oz all-up" in inches.stdout
    assert " mm" not in inches.stdout
    assert " in at " in inches.stdout


def test_every_number_in_a_table(hullcheck, demo):
    """--all goes on to curve, floats, thrust and attitudes, all within 80 columns."""
    done = hullcheck("righting", demo, "--all", "--wind", "4", "--heels", "-10:10:5")
    for title in ("Curve", "Openings go under at", "What upsets her", "Stable attitudes",
                  "Thrust at rest: trim, bow and propeller disc over the water"):  # fmt: skip
        assert f"\n{title}\n" in done.stdout
    assert all(len(line) <= 80 for line in done.stdout.splitlines())
    assert "former 14 CFR 23.757, full size: 1.5" in done.stdout


def test_schema_has_the_answers_keys_and_describes_each():
    """Every attribute of the answer is a key of the schema, described, and the other way round."""
    import dataclasses
    import typing

    from hullcheck.answers import righting_records, upset_records

    document = schema("righting")
    hints = typing.get_type_hints(righting_records.RightingAnswer)
    assert set(document["properties"]) == set(hints) == set(document["required"])
    records = {
        record
        for module in (righting_records, upset_records)
        for record in vars(module).values()
        if dataclasses.is_dataclass(record) and record.__module__ == module.__name__
    }
    described = {frozenset(part["properties"]) for part in document["$defs"].values()
                 if "properties" in part}  # fmt: skip
    for record in records - {righting_records.RightingAnswer}:
        assert frozenset(field.name for field in dataclasses.fields(record)) in described, record
    for part in (document, *document["$defs"].values()):
        for key, inner in part.get("properties", {}).items():
            assert inner.get("description") or "$ref" in inner or "anyOf" in inner, key
