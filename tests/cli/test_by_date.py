"""hullcheck weights --by-date, and compare between dates."""

import json
import shutil
from datetime import UTC, datetime
from pathlib import Path

import jsonschema
import pytest
from schema_keys import assert_describes

from hullcheck.answers.history_records import HistoryAnswer
from hullcheck.craft.log_records import WeighIn
from hullcheck.files.logbook import append
from hullcheck.report.as_json import schema

TWINS = Path(__file__).resolve().parents[2] / "examples" / "twin-floats"


@pytest.fixture
def boat(tmp_path):
    """Return the example with twin floats with three weigh-ins in her logbook."""
    folder = tmp_path / "boat"
    shutil.copytree(TWINS, folder, ignore=shutil.ignore_patterns(".hullcheck"))
    for day, item, grams in ((3, "wing", 255.0), (9, "wing", 283.0), (12, None, 1500.0)):
        at = datetime(2026, 5, day, 18, 30, tzinfo=UTC)
        append(folder, WeighIn(item=item, mass_g=grams, plus_minus_g=1.0), at=at, written=at)
    return folder


def test_weigh_ins_are_told_by_date(hullcheck, boat):
    """Each weigh-in has its row, whichever form is asked for."""
    done = hullcheck("weights", str(boat), "--by-date")
    assert done.returncode == 0
    assert "3 weigh-ins, 3 May to 12 May 2026" in done.stdout
    assert "+28.0" in done.stdout
    assert done.stdout.count("18:30") == 3
    rows = hullcheck("weights", str(boat), "--by-date", "--csv").stdout.splitlines()
    assert len(rows) == 4


def test_json_is_what_its_schema_says(hullcheck, boat):
    """Every key is described, and the document is one of them."""
    found = json.loads(hullcheck("weights", str(boat), "--by-date", "--json").stdout)
    jsonschema.validate(found, schema("weights-by-date"))
    assert_describes(schema("weights-by-date"), HistoryAnswer)


def test_the_drawing_is_written(hullcheck, boat, tmp_path):
    """--drawing draws heights by date in place of the sweep."""
    done = hullcheck("weights", str(boat), "--by-date", "--drawing", str(tmp_path / "h.svg"))
    assert done.returncode == 0
    assert "above the water at" in (tmp_path / "h.svg").read_text(encoding="utf-8")


def test_scales_do_not_go_with_dates(hullcheck, boat):
    """Two questions at once are refused as a matter of usage."""
    done = hullcheck("weights", str(boat), "--by-date", "--scales", "800@120,700@380")
    assert done.returncode == 2
    assert "leave scales and coats out" in done.stderr


@pytest.mark.parametrize(
    "words",
    [
        ("2026-05-04", "2026-05-10", "--build", "boat"),
        ("2026-05-04", "--build", "boat"),
        ("2026-05-04", "boat"),
    ],
)
def test_two_dates_are_compared(hullcheck, boat, words):
    """The wing's 28 g between the two, and against today what weights.csv has."""
    done = hullcheck("compare", *words, "--json")
    assert boat.name == "boat"
    found = json.loads(done.stdout)
    (change,) = [one for one in found["changes"] if one["name"] == "wing"]
    assert change["mass_g"] == pytest.approx(28.0 if len(words) == 4 else 16.0)


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("2026-02-30", "boat"), 1, "no such day"),
        (("boat", "boat", "--build", "boat"), 2, "--build is for dates"),
    ],
)
def test_days_that_make_no_sense_are_refused(hullcheck, boat, words, code, said):
    """A day that is none, and a build named twice."""
    assert boat.is_dir()
    done = hullcheck("compare", *words)
    assert done.returncode == code
    assert said in done.stderr


def test_a_logbook_without_weigh_ins_is_told_what_to_do(hullcheck, boat):
    """Dates need weigh-ins of items: the command that writes one is named."""
    (boat / "logbook.sqlite").unlink()
    for words in (("weights", str(boat), "--by-date"), ("compare", "2026-05-04", str(boat))):
        done = hullcheck(*words)
        assert done.returncode == 1
        assert "hullcheck log weigh" in done.stderr
