"""hullcheck weights: forms, units, scales and coats, exit codes, refusals."""

import csv
import hashlib
import io
import json
import math
from pathlib import Path

import jsonschema
import make_bodies
import pytest
from schema_keys import assert_describes
from sheet_making import stl

from hullcheck.answers.weights_records import WeightsAnswer
from hullcheck.report.as_json import schema

ROOT = Path(__file__).resolve().parents[2]
TWINS = ROOT / "examples" / "twin-floats"
LEDGER = "item,group,planned_g,weighed_g,x_mm,y_mm,z_mm,plus_minus_g,aboard,note\n"


@pytest.fixture
def boat(tmp_path):
    """Return a folder with a box of 600 × 100 × 80 mm, a hole amidships and a ledger."""
    folder = tmp_path / "boat"
    folder.mkdir()
    stl(folder / "box.stl", make_bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0))
    (folder / "build.toml").write_text(
        """[craft]
name = "box"
target_mass_g = 1800
cg_range_mm = [290, 320]
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
[[opening]]
name = "hatch"
points_mm = [[300, 0, 60]]
state = "open"
[[setup]]
name = "heavy"
add = { battery = 60 }
[limits]
freeboard_mm = 10
""",
        encoding="utf-8",
    )
    (folder / "weights.csv").write_text(
        LEDGER
        + "hull,print,1500,1560,300,0,20,,yes,\n"
        + "battery,drive,240,,300,0,20,,no,=2+2\n"
        + '"motor",drive,90,90,300,0,75,,yes,\n',
        encoding="utf-8",
    )
    return folder


def test_first_screen(hullcheck, boat):
    """60 g more than planned sink a box of 60 g to the millimeter by 1 mm, and 900 g are left."""
    done = hullcheck("weights", str(boat))
    assert done.returncode == 0
    lines = done.stdout.splitlines()
    assert len(lines) <= 7
    assert all(len(line) <= 80 for line in lines)
    assert lines[0] == "box · 1890 g all-up (2 of 3 items weighed) · water of 1000 kg/m³"
    assert lines[1] == "60 g over plan, 90 g over target: hatch 1.0 mm lower."
    assert "hull +60 g" in lines[2]
    assert "1 item, 240 g as planned: 1890 ± 24 g in all" in lines[3]
    assert "band 290 to 320 holds" in lines[4]
    # (60 − 10) mm × 60 g/mm − 1890 g; ± 1 mm and ± 24 g are ± 65 g.
    assert "1100 ± 100 g, then the hatch comes under 10 mm" in lines[5]
    assert "no clearance to go on the water" in done.stderr


def test_json_is_what_its_schema_says(hullcheck, boat):
    """The document is valid as she is, in a setup, and with scales, coats and soaked walls."""
    asked = ("--scales", "945@200,945@400", "--coat", "100", "--wet", "hull=12")
    for more in ((), ("--setup", "heavy"), asked):
        done = hullcheck("weights", str(boat), *more, "--json")
        assert done.returncode == 0
        jsonschema.validate(json.loads(done.stdout), schema("weights"))


def test_schema_has_the_answers_keys_and_describes_each():
    """Every attribute of the answer is a key of the schema, and the other way round."""
    assert_describes(schema("weights"), WeightsAnswer)


def test_csv_is_a_row_an_item_and_runs_no_formula(hullcheck, boat):
    """Costs by item: 240 g take 4 mm; a note that begins with = is text."""
    rows = list(csv.DictReader(io.StringIO(hullcheck("weights", str(boat), "--csv").stdout)))
    assert [row["item"] for row in rows] == ["hull", "battery", "motor"]
    assert float(rows[1]["freeboard_mm"]) == pytest.approx(-4.0, rel=1e-9)
    assert float(rows[0]["growth_freeboard_mm"]) == pytest.approx(-1.0, rel=1e-9)
    assert rows[1]["note"] == "'=2+2"
    assert rows[1]["weighed_g"] == ""


def test_all_has_every_item_group_and_limit(hullcheck, boat):
    """The table names items, groups, growth and limits, none of its lines over 80 characters."""
    done = hullcheck("weights", str(boat), "--all")
    assert max(len(line) for line in done.stdout.splitlines()) <= 80
    for words in (
        "battery",
        "guess",
        "GROUP",
        "drive",
        "GROWTH",
        "together",
        "Grams left at the CG",
    ):
        assert words in done.stdout


def test_other_units(hullcheck, boat):
    """In ounces and inches the same: 1890 g are 66.7 oz."""
    done = hullcheck("weights", str(boat), "--show", "oz,in")
    assert done.stdout.splitlines()[0].startswith("box · 66.7 oz all-up")


def test_scales_under_her_agree_or_do_not(hullcheck, boat):
    """Read from statics: 1890 g at 300 on supports at 200 and 400; then with 100 g more at 500.

    R₂ = (m (300 − 200) + 100 (500 − 200))/200, R₁ the rest.
    """
    done = hullcheck("weights", str(boat), "--scales", "945@200,945@400")
    assert "1890 ± 1 g; CG station 300.0 ± 0.7 mm" in done.stdout
    assert "agrees: 0 g, 0 mm of CG apart" in done.stdout
    commas = hullcheck("weights", str(boat), "--scales", "945,0@200; 945,0@400")
    assert commas.stdout == done.stdout
    second = (1890.0 * 100.0 + 100.0 * 300.0) / 200.0
    done = hullcheck("weights", str(boat), "--scales", f"{1990.0 - second}@200,{second}@400")
    assert "100 ± 24 g more than it lists, centered at station 500" in done.stdout


def test_scales_that_put_the_cg_out_of_its_range_are_said(hullcheck, boat):
    """1890 g at station 330 are 10 mm aft of 290 to 320; the ledger's CG still counts, and why."""
    second = 1890.0 * 130.0 / 200.0
    done = hullcheck("weights", str(boat), "--scales", f"{1890.0 - second}@200,{second}@400")
    assert done.returncode == 0
    assert "the CG lies 30 mm aft of where it says" in done.stdout
    assert "by the scales her CG at station 330.0 lies 10.0 mm aft of its range, 290 to 320" in (
        done.stderr
    )
    assert "write mass_g and cg_mm under [craft]" in done.stderr


def test_a_setup_is_no_growth(hullcheck, boat):
    """In a setup with 60 g more battery she has still grown by the 60 g of her hull alone."""
    found = json.loads(hullcheck("weights", str(boat), "--setup", "heavy", "--json").stdout)
    rows = {row["name"]: row for row in found["items"]}
    assert rows["battery"]["mass_g"] == 300.0
    assert rows["battery"]["planned_g"] == 240.0
    assert rows["battery"]["growth_g"] is None
    assert math.fsum(row["growth_g"] or 0.0 for row in found["items"]) == 60.0
    assert found["growth"]["mass_g"] == 60.0


def test_grams_left_are_before_a_coat(hullcheck, boat):
    """The grams left are those without what would be added, and say so."""
    lines = hullcheck("weights", str(boat), "--coat", "100").stdout.splitlines()
    assert "1100 ± 100 g before it, then the hatch comes under 10 mm" in lines[-1]


def test_a_tilted_weighing_tells_the_height(hullcheck, boat):
    """From statics: supports in the plane z = 0 hold R₂ = m (x_G − x₁ + z_G tan τ)/(x₂ − x₁)."""
    mass = 1890.0
    height = (1560.0 * 20.0 + 240.0 * 20.0 + 90.0 * 75.0) / mass
    level = mass * (300.0 - 200.0) / 200.0
    tilted = mass * (100.0 + height * math.tan(math.radians(12.0))) / 200.0
    found = json.loads(
        hullcheck(
            "weights",
            str(boat),
            "--scales",
            f"{mass - level}@200,{level}@400",
            "--tilted",
            f"{mass - tilted},{tilted}",
            "--tilt",
            "12",
            "--json",
        ).stdout
    )
    assert found["scales"]["center_of_gravity_mm"][2] == pytest.approx(height, rel=1e-9)
    assert found["scales"]["height_from"] == "weighed"
    assert found["ledger_check"]["verdict"] == "agrees"


def test_what_is_aboard_alone_stands_on_the_scales(hullcheck, boat):
    """Without the battery she weighs 1650 g, and --aboard holds that against what is built in."""
    scales = ("--scales", "825@200,825@400")
    assert "240 ± 24 g less than it lists" in hullcheck("weights", str(boat), *scales).stdout
    assert "agrees" in hullcheck("weights", str(boat), *scales, "--aboard").stdout


def test_a_coat_by_hand(hullcheck, boat):
    """100 g/m² on 2 (600·100 + 600·80 + 100·80) mm² are 23.2 g, 0.387 mm of freeboard."""
    done = hullcheck("weights", str(boat), "--coat", "100", "--json")
    coats = json.loads(done.stdout)["coats"]
    assert coats["mass_g"] == pytest.approx(0.232 * 100.0, rel=1e-9)
    assert coats["freeboard_changes_mm"] == pytest.approx(-23.2 / 60.0, rel=1e-9)
    both = hullcheck("weights", str(boat), "--coat", "hull=100:both", "--wet", "hull=13.6")
    assert "+60 g: hatch 1.0 mm lower" in both.stdout


def test_a_drawing_of_heights_over_her_mass(hullcheck, boat):
    """The growth drawing is written; without a CG there is none, and the refusal says why."""
    done = hullcheck("weights", str(boat), "--drawing", "growth.svg")
    assert done.returncode == 0
    assert "Drawing written to growth.svg" in done.stderr
    assert Path("growth.svg").read_bytes().startswith(b"<?xml")
    ledger = boat / "weights.csv"
    ledger.write_text(ledger.read_text().replace('"motor",drive,90,90,300', '"motor",drive,90,90,'))
    done = hullcheck("weights", str(boat), "--drawing", "growth.svg")
    assert done.returncode == 1
    assert "without her CG there is no height to draw" in done.stderr


def test_nothing_of_hers_is_changed(hullcheck, boat):
    """Sheet, ledger and mesh hold the same bytes afterwards."""

    def digests():
        """Return the digests of her files."""
        files = [path for path in sorted(boat.iterdir()) if path.is_file()]
        return {p.name: hashlib.sha256(p.read_bytes()).hexdigest() for p in files}

    before = digests()
    hullcheck("weights", str(boat), "--all", "--coat", "100", "--wet", "hull=5")
    assert digests() == before


def test_a_broken_limit_is_exit_3(hullcheck, boat):
    """With 1200 g more she keeps no 10 mm: worked out, and it fails."""
    ledger = boat / "weights.csv"
    ledger.write_text(ledger.read_text().replace("hull,print,1500,1560", "hull,print,1500,2760"))
    done = hullcheck("weights", str(boat))
    assert done.returncode == 3
    assert "none: the hatch is under 10 mm already" in done.stdout


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("--scales", "945"), 2, "grams, @ and the station of the support"),
        (("--scales", "945@x,9@1"), 2, "'x' is not a number"),
        (("--scales", "945@200,945@200"), 1, "all stand at station 200"),
        (("--scales", "945@200,945@400", "--tilted", "900", "--tilt", "8"), 2, "one for each"),
        (("--scales", "945@200,945@400", "--tilted", "900,990"), 2, "--tilt go together"),
        (("--bow-up", "3"), 2, "go with --scales"),
        (("--coat", "keel=60"), 1, "keel"),
        (("--coat", "60:top"), 2, "none of outside, inside, both"),
        (("--coat", "-5"), 1, "must be above 0"),
        (("--wet", "15"), 2, "such as hull=15"),
        (("--wet", "wing=15"), 1, "wing"),
        (("--setup", "none such"), 1, "there is no setup 'none such'"),
        (("--json", "--csv"), 2, "choose one"),
    ],
)
def test_what_makes_no_sense_is_refused_in_a_line(hullcheck, boat, arguments, code, words):
    """Each with what is wrong, and nothing on standard output."""
    done = hullcheck("weights", str(boat), *arguments)
    assert done.returncode == code
    assert done.stdout == ""
    assert words in done.stderr
    assert "Traceback" not in done.stderr


def test_without_a_ledger_there_is_nothing_to_weigh(hullcheck, boat):
    """The refusal says what to write."""
    (boat / "weights.csv").unlink()
    sheet = boat / "build.toml"
    text = sheet.read_text().replace('name = "box"', 'name = "box"\nmass_g = 900', 1)
    sheet.write_text(text.replace("add = { battery = 60 }", "wet_g = 5"))
    done = hullcheck("weights", str(boat))
    assert done.returncode == 1
    assert "box: has no weight ledger to look at; write weights.csv" in done.stderr


def test_the_example_in_a_setup(hullcheck):
    """The twin floats of the examples, as they are and with fuel."""
    for more in ((), ("--setup", "fuel for an hour")):
        done = hullcheck("weights", str(TWINS), *more)
        assert done.returncode == 0
        assert done.stdout.count("\n") <= 7
