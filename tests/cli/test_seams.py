"""hullcheck seams: forms, units, exit codes, refusals, and the logbook beside the sheet."""

import csv
import io
import json
from datetime import UTC, datetime, timedelta

import jsonschema
import pytest
from schema_keys import assert_describes
from seams_making import seal, soak
from sheet_making import OPENING, SEAM, SETUP, SHEET, build_in

from hullcheck.answers.seams_records import SeamsAnswer
from hullcheck.files.logbook import append
from hullcheck.report.as_json import schema

LIMITS = "[limits]\nleak_g_per_30min = 1.0\n"
FULL = SHEET + SEAM + OPENING + SETUP + LIMITS
DAYS_AGO = datetime.now(UTC) - timedelta(days=10)
# The ledger comes to 550 g: 9.2 mm of draft.


@pytest.fixture
def build(tmp_path):
    """Return a folder with a build of a box with a seam and an opening in it."""
    return str(build_in(tmp_path / "build", FULL).parent)


def logged(build, *records):
    """Write records into the build's logbook, one a day."""
    for i, record in enumerate(records):
        at = DAYS_AGO + timedelta(days=i)
        append(build, record, at=at, written=at)


def test_without_a_logbook_nothing_is_known(hullcheck, build, tmp_path):
    """No logbook is an empty one, and looking makes none."""
    done = hullcheck("seams", build)
    assert done.returncode == 0
    lines = done.stdout.splitlines()
    assert lines[0] == "The joint is not ready for water: not stated"
    assert "nothing in the log" in lines[1]
    assert lines[2].startswith("WORST FIRST")
    assert lines[3].startswith("joint ")
    assert not (tmp_path / "build" / "logbook.sqlite").exists()
    assert "no clearance to go on the water" in done.stderr


def test_the_logbook_is_crossed_with_the_seams(hullcheck, build):
    """Leaked by the log breaks the sheet's limit; a dry test does not, and mends no leak either."""
    logged(build, seal("joint"), soak(2.1, mass_g=550.0, found=("joint",)))
    done = hullcheck("seams", build)
    assert done.returncode == 3
    assert done.stdout.splitlines()[0] == "The joint leaks"
    assert "limit 1 g/30 min broken" in done.stdout
    assert "does not clear a hull under way" in done.stderr
    append(build, soak(mass_g=550.0), at=datetime.now(UTC), written=datetime.now(UTC))
    dry = hullcheck("seams", build)
    assert dry.returncode == 0
    assert dry.stdout.splitlines()[0] == "The joint leaks"


def test_as_the_logbook_stood_then(hullcheck, build):
    """--at leaves out what was written later, and tells states as of that time."""
    logged(build, seal("joint"), soak(gain_g=5.0, found=("joint",)))
    before = DAYS_AGO + timedelta(hours=1)
    assert hullcheck("seams", build).returncode == 3
    done = hullcheck("seams", build, "--at", before.isoformat(), "--json")
    assert done.returncode == 0
    assert json.loads(done.stdout)["entries"] == 1
    late = (datetime.now(UTC) + timedelta(days=9)).isoformat()
    for time, words in ((late, "lies in the future"), ("then", "is not a time")):
        refused = hullcheck("seams", build, "--at", time)
        assert refused.returncode == 2
        assert words in refused.stderr


def test_json_is_what_its_schema_says(hullcheck, build):
    """With and without a log, in a setup, and where she sinks; JSON is never in other units."""
    logged(build, seal("joint"), soak(2.1, mass_g=550.0, found=("joint",)), soak(mass_g=500.0))
    for more in ((), ("--setup", "wet"), ("--mass", "9000")):
        document = json.loads(hullcheck("seams", build, "--json", *more).stdout)
        jsonschema.validate(document, schema("seams"))
    plain = json.loads(hullcheck("seams", build, "--json").stdout)
    shown = json.loads(hullcheck("seams", build, "--json", "--show", "oz,in").stdout)
    assert plain | {"now": ""} == shown | {"now": ""}
    assert plain["seams"][0]["deepest_mm"] == -plain["seams"][0]["height_mm"] > 0.0


def test_schema_has_the_answers_keys_and_describes_each():
    """Every attribute of the answer is a key of the schema, and the other way round."""
    assert_describes(schema("seams"), SeamsAnswer)


def test_csv_all_and_show(hullcheck, build):
    """CSV is a row a seam; --all begins with the first screen; --show changes units."""
    rows = list(csv.DictReader(io.StringIO(hullcheck("seams", build, "--csv").stdout)))
    assert [row["name"] for row in rows] == ["joint", "canopy edge"]
    first, everything = (hullcheck("seams", build, *more).stdout for more in ((), ("--all",)))
    assert everything.startswith(first)
    assert "∫h dl" in everything
    assert "Drain at the lowest inside point" in everything
    assert " in wet" in hullcheck("seams", build, "--show", "oz,in").stdout


def test_a_heavier_load_and_sinking(hullcheck, build):
    """--mass sinks her deeper; past what she carries the code is 3 and no depth is told."""
    heavy = json.loads(hullcheck("seams", build, "--mass", "1100", "--json").stdout)
    light = json.loads(hullcheck("seams", build, "--mass", "600", "--json").stdout)
    deep = [document["seams"][0]["deepest_mm"] for document in (light, heavy)]
    assert deep[1] > deep[0] + 5.0
    sunk = hullcheck("seams", build, "--mass", "9000")
    assert sunk.returncode == 3
    assert sunk.stdout.startswith("Sinks: ")


@pytest.mark.parametrize("suffix", [".svg", ".png"])
def test_drawing_is_written(hullcheck, build, tmp_path, suffix):
    """The drawing is written under its name; standard output stays the text."""
    name = f"seams{suffix}"
    done = hullcheck("seams", build, "--drawing", name)
    assert done.returncode == 0
    assert f"Drawing written to {name}" in done.stderr
    assert (tmp_path / name).stat().st_size > 5_000


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("hull.stl",), 2, "seams needs a build sheet"),
        (("nowhere",), 1, "nowhere"),
        (("build", "--json", "--csv"), 2, "choose one of them"),
        (("build", "--setup", "no such"), 1, "there is no setup 'no such'"),
        (("build", "--unit", "mm"), 2, "--unit"),
    ],
)
def test_refusals(hullcheck, build, arguments, code, words):
    """A wrong input is one line with what to do, and nothing on standard output."""
    assert build.endswith("build")
    done = hullcheck("seams", *arguments)
    assert done.returncode == code
    assert words in done.stderr
    assert done.stdout == ""


def test_a_seam_off_the_hull_is_refused(hullcheck, tmp_path):
    """Its station, the body and where that lies are said."""
    sheet = SHEET + SEAM.replace("120", "900")
    done = hullcheck("seams", str(build_in(tmp_path / "off", sheet).parent))
    assert done.returncode == 1
    assert "station 900" in done.stderr
