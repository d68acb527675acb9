"""hullcheck bath: the sheet for the tub, what was measured explained, refusals, exit codes."""

import csv
import dataclasses
import io
import json
import math

import jsonschema
import pytest
from schema_keys import assert_describes
from sheet_making import SHEET, build_in

from hullcheck.answers.bath_records import BathAnswer, ExpectedReading
from hullcheck.report.as_json import schema

MARKS = (
    '[[mark]]\nname = "bow"\npoint_mm = [40, 50, 66]\n'
    '[[mark]]\nname = "stern"\npoint_mm = [560, 50, 60]\nalong = "plumb"\n'
    '[[mark]]\nname = "stem"\npoint_mm = [10, 0, 80]\nalong = "plumb"\n'
)
WATER = "[water]\ndensity_kg_m3 = 1000\n"
LEDGER = (
    "item,group,planned_g,weighed_g,x_mm,y_mm,z_mm,plus_minus_g,aboard\n"
    "hull,hull,,800,300,0,30,,yes\n"
    "battery,drive,400,,300,0,50,,no\n"
)


@pytest.fixture
def box(tmp_path):
    """Return a build of a box of 600 × 100 × 80 mm that is level at 20 mm of draft."""
    return str(build_in(tmp_path / "box", SHEET + WATER + MARKS, ledger=LEDGER))


def test_first_screen_answers_first(hullcheck, box):
    """The bag and its place, the readings 66 − 20, 60 − 20 and 80 − 20, what flatters, the tub."""
    done = hullcheck("bath", box)
    assert done.returncode == 0
    lines = done.stdout.splitlines()
    assert len(lines) == 7
    assert max(map(len, lines)) <= 80
    assert lines[0] == "Test · bath test at 1200 g · water of 1000 kg/m³"
    assert lines[1].startswith("Bag 400 ± 40 g at station 300")
    assert "true height 50" in lines[1]
    assert "bow 46 mm, stern 40 mm, stem 60 mm" in lines[3]
    # Without wall_mm the middle of the bag lies at 10 mm: 400/1200 of 40 mm lower than finished,
    # which has B²/(12 T) + T/2 − KG = 41.67 + 10 − 36.67 = 15.
    assert "looks 13.3 mm (×1.9) stiffer than finished: GM 28 for 15.0 mm" in lines[4]
    assert "700 × 200 mm inside, 50 mm of water (5.8 l)" in lines[6]
    assert "batteries out" in done.stderr
    assert "no wall_mm is given" in done.stderr


def test_json_is_what_its_schema_says(hullcheck, box, tmp_path):
    """Forward, measured, inclined, without places, without a bag, sinking: all are valid."""
    bare = LEDGER.replace("800,300,0,30", "800,,,")
    placeless = str(build_in(tmp_path / "bare", SHEET + WATER + MARKS, ledger=bare))
    heavy = LEDGER.replace("400,,", "9400,,")
    sinking = str(build_in(tmp_path / "sinks", SHEET + WATER + MARKS, ledger=heavy))
    for arguments, code in (
        ((box,), 0),
        ((box, "--measured", "bow 46, stern 40, stem 60", "--incline", "20@50:1.6"), 0),
        ((box, "--measured", "bow 43/43, stern 37/37.5", "--weighed", "1201"), 0),
        ((box, "--measured", "bow 46"), 0),
        ((box, "--no-bag"), 0),
        ((placeless,), 0),
        ((sinking,), 3),
    ):
        done = hullcheck("bath", *arguments, "--json")
        assert done.returncode == code
        jsonschema.validate(json.loads(done.stdout), schema("bath"))


def test_schema_has_the_answers_keys_and_describes_each():
    """Every attribute of the answer is a key of the schema, and the other way round."""
    assert_describes(schema("bath"), BathAnswer)


def test_csv_is_a_row_a_reading(hullcheck, box):
    """Readings to expect unrounded; with --measured those read, beside what explains them."""
    rows = list(csv.DictReader(io.StringIO(hullcheck("bath", box, "--csv").stdout)))
    assert [(r["mark"], r["side"]) for r in rows] == [
        ("bow", "port"),
        ("bow", "starboard"),
        ("stern", "port"),
        ("stern", "starboard"),
        ("stem", "center"),
    ]
    assert set(rows[0]) <= {field.name for field in dataclasses.fields(ExpectedReading)}
    assert float(rows[0]["reading_mm"]) == pytest.approx(46.0, abs=1e-6)
    done = hullcheck("bath", box, "--measured", "bow 46/46.5, stern 40", "--csv")
    rows = list(csv.DictReader(io.StringIO(done.stdout)))
    assert [(r["side"], float(r["distance_mm"])) for r in rows] == [
        ("port", 46.0),
        ("starboard", 46.5),
        ("both", 40.0),
    ]


def _typed(document):
    """Return the readings to expect as they are typed behind --measured."""
    by_mark = {}
    for one in document["readings"]:
        by_mark.setdefault(one["mark"], []).append(repr(one["reading_mm"]))
    return ", ".join(f"{mark} {'/'.join(values)}" for mark, values in by_mark.items())


def test_expected_readings_typed_back_agree(hullcheck, tmp_path):
    """A bag off center and aft: the readings give back its mass, her CG and her list."""
    ledger = LEDGER.replace("400,,300,0,50", "400,,330,3,20")
    box = str(build_in(tmp_path / "box", SHEET + WATER + MARKS, ledger=ledger))
    expected = json.loads(hullcheck("bath", box, "--json").stdout)
    done = hullcheck("bath", box, "--measured", _typed(expected), "--json")
    found = json.loads(done.stdout)["measured"]
    x, y, _ = expected["load"]["center_of_gravity_mm"]
    assert found["verdict"] == "agrees"
    assert found["load"]["mass_g"] == pytest.approx(1200.0, abs=1e-4)
    assert (found["load"]["x_mm"], found["load"]["y_mm"]) == pytest.approx((x, y), abs=1e-5)
    assert found["attitude"]["heel_deg"] == pytest.approx(expected["heel_deg"], abs=1e-5)
    assert hullcheck("bath", box, "--measured", _typed(expected)).stdout.splitlines()[1] == (
        "Agrees: the marks read what the ledger says."
    )


def test_water_aboard_reads_as_more_than_weighed(hullcheck, box):
    """3 mm deeper all round is 180 g amidships: said, with what tells water from an item."""
    done = hullcheck("bath", box, "--measured", "bow 43/43, stern 37/37", "--weighed", "1200")
    lines = done.stdout.splitlines()
    assert done.returncode == 0
    assert lines[1].startswith("180 ± ")
    assert "more than weighed, centered at station 300" in lines[1]
    assert lines[2].startswith("Next        weigh bag and her dried: still so, an item is missing")
    assert len(lines) <= 7


def test_a_misread_mark_is_named(hullcheck, box):
    """6 mm too much at one of five: that one, and to measure it again."""
    done = hullcheck("bath", box, "--measured", "bow 46/52, stern 40/40, stem 60", "--ruler", "0.5")
    assert done.stdout.splitlines()[1].startswith("Misread: bow starboard, by 6")
    assert "measure that mark again" in done.stdout


def test_marks_in_one_line_say_what_they_cannot_tell(hullcheck, box):
    """Starboard marks alone do not tell the heel."""
    done = hullcheck("bath", box, "--measured", "bow -/46, stern -/40")
    assert "Cannot tell heel" in done.stdout
    assert "a mark abeam" in done.stdout


def test_inclining_gives_the_height_of_the_center_back(hullcheck, box):
    """Heels of the box with y_G = w d/m, to either side: GM and z_G of the load in the bath."""
    load = json.loads(hullcheck("bath", box, "--json").stdout)
    x, _, z = load["load"]["center_of_gravity_mm"]
    typed = []
    for grams, arm in ((20.0, 60.0), (20.0, -60.0), (40.0, 60.0)):
        center = f"{x},{grams * arm / 1200.0},{z}"
        rest = hullcheck("float", box, "--mass", "1200", "--cg", center, "--json")
        typed.append(f"{grams}@{arm}:{json.loads(rest.stdout)['heel_deg']!r}")
    done = hullcheck("bath", box, "--incline", ", ".join(typed), "--json")
    found = json.loads(done.stdout)["incline"]
    gm = load["heel"]["in_the_bath"]["metacentric_height_mm"]
    assert found["metacentric_height_mm"] == pytest.approx(gm, rel=1e-6)
    assert found["center_z_mm"] == pytest.approx(z, abs=1e-4)
    screen = hullcheck("bath", box, "--incline", ", ".join(typed)).stdout.splitlines()
    assert screen[1].startswith("Inclining: GM ")
    assert max(map(len, screen)) <= 80


def test_weights_put_aboard_on_top_are_told_apart(hullcheck, box):
    """With --added-z they do not belong to the mass, which the answer says."""
    done = hullcheck("bath", box, "--incline", "20@50:1.6", "--added-z", "80", "--all")
    assert "added on top" in done.stdout


def test_a_mass_that_differs_from_the_ledger_is_said(hullcheck, box):
    """60 g more on the scale than the ledger and the bag make: it counts, and is said."""
    marks = ("--measured", "bow 45/45, stern 39/39")
    done = hullcheck("bath", box, "--weighed", "1260", *marks)
    assert "60.0 g more than listed" in done.stderr
    assert "bath test at 1260 g" in done.stdout


@pytest.mark.parametrize(
    ("arguments", "code", "said"),
    [
        (("--measured", "bwo 31, stern 12"), 1, "no mark 'bwo'; did you mean 'bow'?"),
        (("--measured", "bow 31, bow 32"), 1, "'bow' is given twice"),
        (("--measured", "stem 31/32"), 1, "'stem' is one mark, center, with no twin"),
        (("--measured", "bow 3x"), 2, "'3x' is not a number"),
        (("--measured", "bow 31,5/32"), 2, "'5/32' is not a mark and its reading"),
        (("--measured", "bow -/-"), 2, "no reading is given"),
        (("--measured", " , "), 2, "nothing is given"),
        (("--incline", "50 at 300"), 2, "'50 at 300' is not grams @ arm : degrees"),
        (("--incline", "50@300:nan"), 2, "'nan' is not a number"),
        (("--incline", "-5@300:1"), 2, "must not be below 0"),
        (("--weighed", "0", "--measured", "bow 46"), 1, "0"),
        (("--scale", "1"), 2, "--scale goes with --weighed"),
        (("--added-z", "1"), 2, "--added-z goes with --incline"),
        (("--ruler", "0", "--measured", "bow 46"), 1, "must be above 0"),
        (("--bag-z", "3", "--propped"), 2, "choose one of them"),
        (("--json", "--csv"), 2, "choose one of them"),
        (("--setup", "nope"), 1, "there is no setup 'nope'"),
    ],
)
def test_refusals_name_what_is_wrong(hullcheck, box, arguments, code, said):
    """One line that names it, the exit code of its kind, nothing on standard output."""
    done = hullcheck("bath", box, *arguments)
    assert done.returncode == code
    assert said in done.stderr
    assert done.stdout == ""


def test_builds_that_say_too_little_are_refused(hullcheck, tmp_path):
    """No ledger; no marks to hold readings against."""
    bare = str(build_in(tmp_path / "bare", SHEET, ledger=None))
    markless = str(build_in(tmp_path / "markless", SHEET, ledger=LEDGER))
    done = hullcheck("bath", bare)
    assert done.returncode == 1
    assert "weights.csv" in done.stderr
    done = hullcheck("bath", markless, "--measured", "bow 30")
    assert done.returncode == 1
    assert "no [[mark]]" in done.stderr
    assert hullcheck("bath", markless).returncode == 0
    done = hullcheck("bath", "hull.stl")
    assert done.returncode == 2
    assert "hull.stl is a mesh: bath needs a build" in done.stderr


def test_decimal_commas_between_semicolons(hullcheck, box):
    """As a German spreadsheet has them, and with units, equal signs and true minus signs."""
    plain = hullcheck("bath", box, "--measured", "bow 46.5/46, stern 40.5", "--csv")
    commas = hullcheck("bath", box, "--measured", "bow = 46,5 / 46; stern: 40,5 mm", "--csv")
    assert commas.stdout == plain.stdout
    signs = hullcheck("bath", box, "--incline", "20@−50:−1,6; 20@50:1,6", "--json")
    assert json.loads(signs.stdout)["incline"]["metacentric_height_mm"] > 0.0


def test_she_sinks_is_exit_three(hullcheck, tmp_path):
    """9400 g on a box that carries 4800."""
    heavy = LEDGER.replace("400,,", "9400,,")
    box = str(build_in(tmp_path / "box", SHEET + WATER + MARKS, ledger=heavy))
    done = hullcheck("bath", box)
    assert done.returncode == 3
    assert "Sinks: that is 5400 g more than her skin can carry." in done.stdout


def test_other_water_is_another_waterline(hullcheck, box):
    """In sea water of 15 °C she floats higher by its density: 1200/(1.02597 × 60)."""
    done = hullcheck("bath", box, "--water", "sea", "--json")
    first = json.loads(done.stdout)["readings"][0]
    assert first["reading_mm"] == pytest.approx(66.0 - 1200.0 / (1.02597 * 60.0), abs=1e-3)


def test_other_units_are_shown(hullcheck, box):
    """Ounces and inches in text; JSON stays in grams and millimeters."""
    done = hullcheck("bath", box, "--show", "oz,in", "--all")
    assert "14.1 ± 1 oz" in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80
    whole = [json.loads(hullcheck("bath", box, "--json", *more).stdout) for more in
             ((), ("--show", "oz,in"))]  # fmt: skip
    assert whole[0] == whole[1]


def test_nothing_of_the_users_is_changed(hullcheck, box, tmp_path):
    """Every file beside the sheet keeps its bytes; none is added but the cache."""

    def files():
        """Return the bytes of every file of the build."""
        found = (tmp_path / "box").rglob("*")
        return {p: p.read_bytes() for p in found if p.is_file() and ".hullcheck" not in p.parts}

    before = files()
    hullcheck("bath", box)
    hullcheck("bath", box, "--measured", "bow 46, stern 40", "--incline", "20@50:1.6")
    assert files() == before


def test_all_holds_the_sheet_for_the_tub(hullcheck, box):
    """A row a mark and side with room to write, and every block; at most 80 characters a line."""
    done = hullcheck("bath", box, "--all", "--measured", "bow 46/46.5, stern 40, stem 60",
                     "--incline", "20@50:1.6, 20@-50:-1.6, 0@0:0")  # fmt: skip
    text = done.stdout
    assert max(map(len, text.splitlines())) <= 80
    assert text.count("________") == 5
    for title in ("Finished", "Aboard", "Bag", "In the bath", "Heel", "Tub"):
        assert f"\n{title}\n" in text
    assert math.isclose(float(text.split("GM finished")[1].split()[0]), 15.0)


def test_a_weighed_mass_without_a_measurement_is_refused(hullcheck, tmp_path):
    """It says nothing of what to expect, so it goes with readings or an inclining."""
    done = hullcheck("bath", str(tmp_path), "--weighed", "801")
    assert done.returncode == 2
    assert "--weighed goes with --measured or --incline" in done.stderr
