"""hullcheck check: forms, units, exit codes, refusals, and the logbook beside the sheet."""

import csv
import io
import json
from datetime import UTC, datetime, timedelta

import jsonschema
import pytest
from check_making import seal, soak
from sheet_making import SEAM, SETUP, SHEET, build_in

from hullcheck.files.logbook import append
from hullcheck.report.as_json import schema

CG_RANGE = '[craft]\nname = "Test"\ncg_range_mm = [220, 250]\n'
DECK = '[[opening]]\nname = "canopy edge"\nstate = "taped"\npoints_mm = [[300, 0, 80]]\n'
LIMITS = (
    "[limits]\nfreeboard_mm = 15\ntrim_deg = [-4, 4]\nheel_deg = 3\n"
    "time_on_water_min = 15\nleak_g_per_30min = 1.0\n"
)
FULL = SHEET.replace('[craft]\nname = "Test"\n', CG_RANGE) + SEAM + DECK + SETUP + LIMITS
DAYS_AGO = datetime.now(UTC) - timedelta(days=10)
# The ledger comes to 550 g at station 236: 9.2 mm of draft in the middle, bow down.


@pytest.fixture
def build(tmp_path):
    """Return a folder with a build of a box with a seam and an opening in it."""
    return str(build_in(tmp_path / "build", FULL).parent)


def logged(build, *records):
    """Write records into the build's logbook, one a day."""
    for i, record in enumerate(records):
        at = DAYS_AGO + timedelta(days=i)
        append(build, record, at=at, written=at)


def states(document):
    """Return the state of every point of a JSON document by its key."""
    return {point["key"]: point["state"] for point in document["points"]}


def test_without_a_logbook_she_is_not_ready(hullcheck, build, tmp_path):
    """Exit 3: no leak test, a seam nobody sealed; looking makes no logbook; plain text in 80."""
    done = hullcheck("check", build)
    assert done.returncode == 3
    lines = done.stdout.splitlines()
    assert lines[0].startswith("Not ready: the joint")
    assert "nothing in the log" in lines[1]
    assert max(map(len, lines)) <= 80
    assert "NOT KNOWN  seams under water" in done.stdout
    assert "She should not go on the water before the first 2 lines are settled." in " ".join(
        done.stdout.split()
    )
    assert "nobody swims after a model" in " ".join(done.stdout.split())
    assert "safe" not in done.stdout + done.stderr
    assert not (tmp_path / "build" / "logbook.sqlite").exists()


def test_sealed_soaked_and_run_nothing_stops_her(hullcheck, build):
    """Exit 0 with cautions left; JSON fits its schema, and is never in other units."""
    logged(
        build, seal("joint"), seal("joint"), soak(mass_g=550.0), soak(mass_g=550.0, running=True)
    )
    done = hullcheck("check", build, "--json", "--show", "oz,in")
    assert done.returncode == 0
    document = json.loads(done.stdout)
    jsonschema.validate(document, schema("check"))
    assert (document["verdict"], document["holds_back"]) == ("not known", False)
    assert "seams_pass" in states(document)
    assert states(document)["weights"] == "caution"
    assert document["mass_g"] == pytest.approx(550.0)


def test_csv_and_everything(hullcheck, build):
    """A row a point in CSV, in a setup, before the tests; --all with judgment and who decides."""
    logged(build, seal("joint"), soak(mass_g=550.0))
    before = (DAYS_AGO + timedelta(hours=1)).isoformat()
    done = hullcheck("check", build, "--setup", "wet", "--csv", "--at", before)
    rows = list(csv.DictReader(io.StringIO(done.stdout)))
    assert done.returncode == 3
    assert [row["cause"] for row in rows if row["key"] == "leak"] == ["no test"]
    assert {row["holds_back"] for row in rows} == {"yes", "no"}
    assert {row["setup"] for row in rows if row["key"] == "freeboard"} == {"wet"}
    every = hullcheck("check", build, "--all", "--person", "--show", "oz,in")
    assert "JUDGMENT (judgment: common practice, no source)" in every.stdout
    assert "no basis for airworthiness decisions" in " ".join(every.stdout.split())
    assert " in at the canopy edge" in every.stdout
    assert " mm" not in every.stdout.split("ASSUMED")[0]


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("hull.stl",), 2, "needs a build sheet"),
        (("build", "--json", "--csv"), 2, "choose one of them"),
        (("build", "--at", "then"), 2, "is not a time"),
        (("build", "--setup", "dry"), 1, "there is no setup 'dry'"),
        (("nowhere",), 1, "nowhere"),
    ],
)
def test_refusals(hullcheck, build, arguments, code, words):
    """One line that says what is wrong, before anything is worked out."""
    assert build
    done = hullcheck("check", *arguments)
    assert done.returncode == code
    assert words in done.stderr
    assert done.stdout == ""
