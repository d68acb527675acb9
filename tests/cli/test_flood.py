"""hullcheck flood: forms, options, exit codes, refusals, the logbook."""

import csv
import dataclasses
import io
import json
import math
from pathlib import Path

import jsonschema
import make_bodies
import pytest
from flood_making import NOON
from stl_bytes import stl_bytes

from hullcheck.craft.log_records import LeakTest, LeakTestSetup, Note
from hullcheck.files.logbook import append
from hullcheck.report.as_json import schema

ROOT = Path(__file__).resolve().parents[2]
TWINS = str(ROOT / "examples" / "twin-floats")
SHEET = """
[craft]
name = "box"
mass_g = 1200
cg_mm = [300, 0, 30]
cg_range_mm = [280, 310]
[water]
density_kg_m3 = 1000
[axes]
unit = "mm"
forward = "-x"
up = "+z"
[[body]]
name = "hull"
role = "hull"
parts = ["box.stl"]
bulkheads = [{ station_mm = 150, watertight = true }, { station_mm = 450, watertight = true }]
[[opening]]
name = "hatch"
points_mm = [[300, 0, 70]]
state = "open"
[[seam]]
name = "joint"
body = "hull"
station_mm = 300
[[equipment]]
item = "battery"
lowest_mm = [200, 0, 6]
[[setup]]
name = "heavy"
wet_g = 200
[[leak]]
name = "pinhole"
point_mm = [300, 0, 0]
diameter_mm = 0.5
[limits]
freeboard_mm = 15
trim_deg = [-2, 4]
time_on_water_min = 15
"""
LEDGER = (
    "item,group,planned_g,x_mm,y_mm,z_mm\nbattery,drive,200,300,0,30\nrest,hull,1000,300,0,30\n"
)
MESH = ("box.stl", "--mass", "1200", "--cg", "300,0,30", "--unit", "mm", "--density", "1000",
        "--forward", "-x", "--up", "+z")  # fmt: skip


@pytest.fixture
def build(tmp_path):
    """Return the folder of a build: a box of 600 × 100 × 80 mm in three rooms."""
    triangles = make_bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0)
    (tmp_path / "box.stl").write_bytes(stl_bytes(triangles, "box"))
    (tmp_path / "build.toml").write_text(SHEET, encoding="utf-8")
    (tmp_path / "weights.csv").write_text(LEDGER, encoding="utf-8")
    return tmp_path


def _test_of(gain_g):
    """Return a leak test at 1200 g that gained so much in 30 minutes at the joint."""
    setup = LeakTestSetup(mass_g=1200.0, before_g=1200.0, plus_minus_g=0.1, temperature_c=4.0)
    return LeakTest(setup=setup, minutes=30.0, after_g=1200.0 + gain_g, found=("joint",))


def test_first_screen(build, hullcheck):
    """Answer first; seven lines; cautions on standard error; a supposed leak fails nothing."""
    done = hullcheck("flood")
    assert done.returncode == 0
    lines = done.stdout.splitlines()
    assert len(lines) <= 7
    assert lines[1].startswith("50 g running aft put the CG at 311, 0.9 mm behind its band")
    assert lines[-1].endswith("then the battery gets wet; limit 15 (supposed leak)")
    assert "that leak is one the sheet supposes (pinhole, a hole of 0.5 mm)" in done.stderr
    assert "not go back to work the same day" in done.stderr
    assert "no clearance to go on the water" in done.stderr
    assert "logbook.sqlite" not in [path.name for path in build.iterdir()]


@pytest.mark.usefixtures("build")
def test_json_is_what_its_schema_says(hullcheck):
    """With what is asked, and with nothing; the keys of every compartment are there."""
    for more in ((), ("--aboard", "hull 2=90", "--open", "hull 1")):
        done = hullcheck("flood", "--json", *more)
        document = json.loads(done.stdout)
        jsonschema.validate(document, schema("flood"))
        names = [one["name"] for one in document["compartments"]]
        assert names == ["hull 1", "hull 2", "hull 3"]
    assert document["compartments"][1]["water_g"] == 90.0
    assert document["compartments"][0]["open_to_sea"] is True
    assert document["asked"] is True


@pytest.mark.usefixtures("build")
def test_hole_and_crack_go_by_their_own_laws(hullcheck):
    """A hole has no crack's time and the other way round; both are timed in closed form.

    2 mm at the bottom of the middle room: 20 mm of head stay but for 1/30000 − 1/60000 a mm³.
    """
    hole = json.loads(hullcheck("flood", "--json", "--hole", "300,0,0,2").stdout)
    assert hole["time_afloat_min"]["crack"] is None
    assert hole["time_afloat_min"]["limited_by"] == "equipment_wet"
    k, flow = 1 / 30000.0 - 1 / 60000.0, 0.62 * math.pi * math.sqrt(2.0 * 9806.65)
    # 180 g: 6 mm over 300 cm²; the head falls to 20 − 3 mm.
    seconds = 2.0 * (math.sqrt(20.0) - math.sqrt(20.0 - k * 180e3)) / (k * flow)
    assert hole["time_afloat_min"]["hole"] == pytest.approx(seconds / 60.0, rel=1e-6)
    crack = json.loads(hullcheck("flood", "--json", "--crack", "300,0,0,0.05,100,1").stdout)
    assert crack["time_afloat_min"]["hole"] is None
    assert crack["time_afloat_min"]["crack"] > 0.0


@pytest.mark.usefixtures("build")
def test_exit_codes(hullcheck):
    """3 where what was asked breaks a limit; 0 for what is shown unasked."""
    assert hullcheck("flood", "--aboard", "hull 2=90").returncode == 0
    assert hullcheck("flood", "--open", "hull 1", "--open", "hull 2").returncode == 3
    assert hullcheck("flood", "--hole", "300,0,0,12").returncode == 3
    assert hullcheck("flood", "--hole", "300,0,0,0.5").returncode == 0


def test_the_last_test_of_the_logbook_counts(build, hullcheck):
    """A leaking hull fails by it, a dry one says "at least"; the file stays as it was."""
    append(build, _test_of(400.0), at=NOON, written=NOON)
    done = hullcheck("flood")
    assert done.returncode == 3
    assert "limit 15 is broken" in done.stdout
    assert "static: a dry soak does not clear a hull under way" in done.stderr
    later = NOON.replace(day=20)
    append(build, _test_of(0.0), at=later, written=later)
    append(build, Note(text="dried"), at=later, written=later)
    before = (build / "logbook.sqlite").read_bytes()
    done = hullcheck("flood", "--all")
    assert done.returncode == 0
    assert "more than 24 h" in done.stdout or "at least" in done.stdout
    assert (build / "logbook.sqlite").read_bytes() == before


@pytest.mark.usefixtures("build")
def test_csv_show_setup_and_grams(hullcheck):
    """A row a case; inches and ounces in text only; a setup's mass; other grams."""
    rows = list(csv.DictReader(io.StringIO(hullcheck("flood", "--csv", "--grams", "30").stdout)))
    assert [row["case"] for row in rows] == ["dry", *["water"] * 3, *["open to the sea"] * 5]
    assert {row["water_g"] for row in rows[1:4]} == {"30.0"}
    shown = hullcheck("flood", "--show", "oz,in", "--setup", "heavy")
    assert shown.stdout.startswith("box, heavy · 49.4 oz")


@pytest.mark.usefixtures("build")
def test_mesh_files_straight_away(hullcheck):
    """One compartment, the whole skin; without a CG, refused with the option."""
    document = json.loads(hullcheck("flood", *MESH, "--json").stdout)
    names = [one["name"] for one in document["compartments"]]
    done = hullcheck("flood", *MESH, "--json", "--aboard", f"{names[0]}=90")
    document = json.loads(done.stdout)
    assert len(document["compartments"]) == 1
    assert document["compartments"][0]["permeability"] == 1.0
    assert document["state"]["mass_g"] == 1290.0
    without = hullcheck("flood", *(one for one in MESH if one not in {"--cg", "300,0,30"}))
    assert without.returncode == 2
    assert "--cg X,Y,Z" in without.stderr


def test_a_drawing_is_written(build, hullcheck):
    """An SVG by its name, and that it was."""
    done = hullcheck("flood", "--drawing", "water.svg")
    assert done.returncode == 0
    assert (build / "water.svg").read_text(encoding="utf-8").startswith("<?xml")
    assert "Drawing written to water.svg" in done.stderr


@pytest.mark.usefixtures("build")
def test_points_foam_and_sealed_rooms(hullcheck):
    """A named point's level, the foam that keeps it dry, a room kept closed."""
    done = hullcheck("flood", "--json", "--aboard", "hull 2=300", "--bilge", "sump 250,0,2",
                     "--keep-dry", "lamp 300,0,75", "--foam-at", "300,0,60",
                     "--sealed", "hull 1", "--nose-up", "5")  # fmt: skip
    document = json.loads(done.stdout)
    levels = {one["name"]: one["level_mm"] for one in document["state"]["bilge"]}
    assert levels["sump"] == pytest.approx(8.0)
    assert levels["battery"] == pytest.approx(4.0)
    assert document["swamped"]["sealed"] == ["hull 1"]
    assert document["swamped"]["keep_dry"]["foam_mm"] == [300.0, 0.0, 60.0]
    assert document["nose_up_deg"] == 5.0


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("--aboard", "hull 2"), 2, "'hull 2' is not a compartment with grams"),
        (("--aboard", "hull 2=-5"), 2, "with grams of 0 or more"),
        (("--aboard", "hull 2=5", "--aboard", "hull 2=6"), 2, "'hull 2' is given twice"),
        (("--aboard", "hull 9=5"), 1, "there is no compartment 'hull 9'"),
        (("--aboard", "hull 1=2000"), 1, "2000 g of water do not fit in it; it holds 1200 g"),
        (("--open", "hull 2", "--aboard", "hull 2=5"), 2, "--aboard and --open both name hull 2"),
        (("--hole", "1,2,3"), 2, "is not 4 numbers between commas, such as 262,10,-8,0.5"),
        (("--hole", "1,2,3,0"), 2, "diameter_mm of 0: must be above 0"),
        (("--crack", "1,2,3,0.1,5"), 2, "is not 6 numbers between commas"),
        (("--crack", "1,2,3,0.1,5,-1"), 2, "wall_mm of -1: must be above 0"),
        (("--grams", "a,b"), 2, "is not grams such as 25,50,100"),
        (("--grams", "0,5"), 2, "every mass must be above 0 g"),
        (("--bilge", "servo"), 1, "'servo' is no equipment with lowest_mm"),
        (("--bilge", "x 1,2"), 2, "is not three numbers such as 180,0,22"),
        (("--foam-at", "1,2,3"), 2, "--foam-at goes with --keep-dry"),
        (("--nose-up", "75"), 1, "nose up 75°: must be from -60 to 60°"),
        (("--json", "--csv"), 2, "choose one of them"),
        (("--setup", "none"), 1, "there is no setup 'none'"),
        (("--open", "hull 2", "--hole", "300,0,0,1"), 1, "leaks into hull 2, which is open"),
        (("--grams", "9000", "--drawing", "a.png"), 1, "there is nothing to draw"),
    ],
)
@pytest.mark.usefixtures("build")
def test_refusals(hullcheck, arguments, code, words):
    """One clear line each: what, where, the value, the next step; never a traceback."""
    done = hullcheck("flood", *arguments)
    assert done.returncode == code
    assert words in done.stderr.replace("\n", " ").replace("  ", " ")
    assert "Traceback" not in done.stderr


def test_a_heavy_craft_without_a_place_for_her_weight(build, hullcheck):
    """A build without a CG cannot say where water runs; the next step is named."""
    sheet = SHEET.replace("cg_mm = [300, 0, 30]\n", "").replace("mass_g = 1200\n", "")
    (build / "build.toml").write_text(sheet, encoding="utf-8")
    (build / "weights.csv").write_text("item,planned_g\nbattery,1200\n", encoding="utf-8")
    done = hullcheck("flood")
    assert done.returncode == 1
    assert "give every item of weights.csv x and z" in done.stderr


def test_records_are_frozen():
    """What a test told cannot be changed afterwards."""
    with pytest.raises(dataclasses.FrozenInstanceError):
        _test_of(1.0).minutes = 5.0
