"""hullcheck marks: forms, sheets, exit codes, refusals; and the kit that proves the program."""

import csv
import io
import json
import math
from pathlib import Path

import jsonschema
import pytest
from schema_keys import assert_describes
from sheet_making import MARK, SEAM, SHEET, build_in

from hullcheck.answers.marking_records import MarksAnswer
from hullcheck.report.as_json import schema

ROOT = Path(__file__).resolve().parents[2]
KIT = ROOT / "examples" / "proof-kit"
FRESH_15_KG_M3 = 999.1026
"""ITTC 7.5-02-01-03 (2011), fresh water of 15 °C; the equation of state of 1980 has 999.1016."""


@pytest.fixture
def build(tmp_path):
    """Return a build folder of a box 600 × 100 × 80 mm, 550 g."""
    return str(build_in(tmp_path / "box", SHEET + SEAM + MARK.replace("40, 20, 60", "40, 50, 60")))


def test_json_is_what_its_schema_says(hullcheck, build):
    """The document is valid as she is and in the bath, and the keys are the record's."""
    assert_describes(schema("marks"), MarksAnswer)
    for more in ((), ("--bath",), ("--bath", "--propped"), ("--stations", "100,250.5")):
        done = hullcheck("marks", build, "--json", *more)
        assert done.returncode == 0
        jsonschema.validate(json.loads(done.stdout), schema("marks"))
    assert [s["station_mm"] for s in json.loads(done.stdout)["bodies"][0]["stations"]] == [
        100.0,
        250.5,
    ]


def test_csv_all_and_show(hullcheck, build):
    """A row a station and side; --all is the table; --show changes print only."""
    rows = list(csv.DictReader(io.StringIO(hullcheck("marks", build, "--csv").stdout)))
    assert {row["at"] for row in rows} == {"", "joint", "mark bow"}
    everything = hullcheck("marks", build, "--all").stdout
    assert "up from keel, mm" in everything
    assert "joint" in everything
    assert "up from keel, in" in hullcheck("marks", build, "--all", "--show", "in").stdout
    plain = hullcheck("marks", build, "--json").stdout
    assert hullcheck("marks", build, "--json", "--show", "in").stdout == plain


def test_sheets_are_written_and_never_over_another_file(hullcheck, build, tmp_path):
    """The same bytes again are left alone, other bytes refused unless they may be overwritten."""
    options = ("--stations", "300", "-o", "marks.pdf")
    done = hullcheck("marks", build, *options)
    assert done.returncode == 0
    assert "of A4 in marks.pdf: print at 100 %" in done.stdout
    assert "Sheets written to marks.pdf" in done.stderr
    file = tmp_path / "marks.pdf"
    first = file.read_bytes()
    assert first.startswith(b"%PDF-")
    assert hullcheck("marks", build, *options).returncode == 0
    assert file.read_bytes() == first
    refused = hullcheck("marks", build, *options, "--paper", "letter")
    assert (refused.returncode, refused.stdout) == (1, "")
    assert "marks.pdf: is there already; name another file, or say --overwrite" in refused.stderr
    assert file.read_bytes() == first
    over = hullcheck("marks", build, *options, "--paper", "letter", "--overwrite", "--no-side")
    assert over.returncode == 0
    assert "of Letter in marks.pdf" in over.stdout
    assert file.read_bytes() != first
    (tmp_path / "folder.pdf").mkdir()
    # Told before anything is worked out: this craft's build sheet is not even there.
    done = hullcheck("marks", "no such build", "-o", "folder.pdf")
    assert (done.returncode, done.stdout) == (1, "")
    assert "folder.pdf: is a folder" in done.stderr


def test_a_craft_that_sinks_exits_with_3_and_writes_nothing(hullcheck, tmp_path):
    """There is no waterline to mark on a craft that sinks."""
    heavy = build_in(tmp_path / "box", SHEET.replace("[axes]", "mass_g = 6000\n[axes]", 1))
    done = hullcheck("marks", str(heavy), "-o", "marks.pdf")
    assert done.returncode == 3
    assert "Sinks: that is" in done.stdout
    assert "No sheets were written" in done.stderr
    assert not (tmp_path / "marks.pdf").exists()


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("hull.stl",), 2, "marks needs a build sheet"),
        (("--json", "--csv"), 2, "choose one of them"),
        (("-o", "marks.png"), 2, "does not end in .pdf"),
        (("--paper", "letter"), 2, "--paper goes with -o FILE"),
        (("--overwrite",), 2, "--overwrite goes with -o FILE"),
        (("--no-side",), 2, "--no-side goes with -o FILE"),
        (("-o", "none/marks.pdf"), 1, "none/marks.pdf: there is no folder none"),
        (("--propped",), 2, "--propped goes with --bath"),
        (("--bath", "--propped", "--no-bag"), 2, "choose one of them"),
        (("--every", "50", "--stations", "100"), 2, "choose one of them"),
        (("--stations", "100,bow"), 2, "is not a list of stations in mm"),
        (("--stations", "700"), 1, "--stations: 700 mm does not meet"),
        (("--stations", "0,300"), 1, "--stations: 0 mm: she has no section there"),
        (("--every", "-5"), 1, "--every: -5 mm"),
        (("--setup", "no such"), 1, "there is no setup 'no such'"),
    ],
)
def test_what_is_refused(hullcheck, build, arguments, code, words):
    """A wrong line or input is one clear line on standard error, nothing on standard output."""
    what = () if arguments[0].endswith(".stl") else (build,)
    done = hullcheck("marks", *what, *arguments)
    assert (done.returncode, done.stdout) == (code, "")
    assert words in done.stderr


@pytest.mark.parametrize(
    ("kind", "mass_g", "setup"),
    [("box", 45.0, ()), ("box", 75.0, ("more coins",)), ("wedge", 20.0, ()),
     ("wedge", 35.0, ("more coins",))],
)  # fmt: skip
def test_proof_kit_floats_as_its_closed_form(hullcheck, kind, mass_g, setup):
    """A box draws m/(ρ L B), an apex-down wedge √(2 m H/(ρ L B)); both stand on their feet."""
    options = ("--setup", *setup) if setup else ()
    floats = json.loads(hullcheck("float", str(KIT / kind), "--json", *options).stdout)
    density = floats["water"]["density_kg_m3"]
    assert density == pytest.approx(FRESH_15_KG_M3, abs=0.002)
    draft = mass_g / (1e-6 * density * 80.0 * 50.0)
    if kind == "wedge":
        draft = math.sqrt(2.0 * 30.0 * draft)
    assert floats["mass_g"] == mass_g
    # The plane is solved to 1e-9 of the mass.
    assert floats["draft_mm"]["deepest"] == pytest.approx(draft, rel=1e-6)
    assert floats["rest"] == "upright"
    assert floats["metacentric_height_mm"]["transverse"] > 5.0
    assert (floats["trim_deg"], floats["heel_deg"]) == pytest.approx((0.0, 0.0), abs=1e-6)
    marks = json.loads(hullcheck("marks", str(KIT / kind), "--json", *options).stdout)
    side = marks["bodies"][0]["stations"][0]["port"]
    assert side["vertical_mm"] == pytest.approx(draft, rel=1e-6)
    # The readings that the sheets of the kit name, as a ruler has them.
    slant = 1.0 if kind == "box" else math.hypot(25.0, 30.0) / 30.0
    reading = f"{(30.0 - draft) * slant:.1f} mm"
    said = " ".join(
        (KIT / kind / "build.toml").read_text(encoding="utf-8").replace("#", "").split()
    )
    assert f"{reading} at {mass_g:g} g" in said


def test_proof_kit_marks_its_own_waterline(hullcheck):
    """The wedge's sheets come out, one for the table and one of drawings."""
    done = hullcheck("marks", str(KIT / "wedge"), "-o", "wedge.pdf")
    assert done.returncode == 0
    assert "2 sheets of A4 in wedge.pdf" in done.stdout
