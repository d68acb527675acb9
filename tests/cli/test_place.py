"""hullcheck place: forms, units, exit codes, refusals."""

import csv
import io
import json

import jsonschema
import pytest
from schema_keys import assert_describes
from sheet_making import EQUIPMENT, SETUP, SHEET, build_in

from hullcheck.answers.place_records import PlaceAnswer
from hullcheck.report.as_json import schema

BAND = SHEET.replace('name = "Test"\n', 'name = "Test"\ncg_range_mm = [230, 240]\n')
BOX = f"{EQUIPMENT}within_mm = [[100, -10, 10], [260, 10, 30]]\n"
LIMITS = "[limits]\nfreeboard_mm = 20\ntrim_deg = [-9, 4]\n"
FULL = BAND + BOX + SETUP + LIMITS
# The ledger: 310 g at 290, 200 g at 150 (battery), 40 g at 250; 550 g in all.


@pytest.fixture
def build(tmp_path):
    """Return a folder with a build of a box in it."""
    return str(build_in(tmp_path / "build", FULL).parent)


def test_first_screen(hullcheck, build):
    """The ends are (band·550 − 310·290 − 40·250)/200: 133 and 160.5; now at 150 it holds."""
    done = hullcheck("place", "battery", build)
    assert done.returncode == 0
    lines = done.stdout.splitlines()
    assert len(lines) <= 7
    assert lines[1].startswith("Battery may sit from station 133 to 160; the middle, 147")
    assert lines[2].startswith("Fore end        133 ± ")
    assert "CG at 230, the fore end of its band" in lines[2]
    assert lines[5].startswith("Now, 150        holds; CG at 236, ")
    assert "no clearance to go on the water" in done.stderr


def test_json_and_csv(hullcheck, build):
    """JSON is what its schema says; CSV is a row a place; numbers are not rounded."""
    document = json.loads(hullcheck("place", "battery", build, "--json").stdout)
    jsonschema.validate(document, schema("place"))
    (one,) = document["intervals"]
    assert one["first"]["at_mm"] == pytest.approx(133.0)
    assert one["last"]["at_mm"] == pytest.approx(160.5)
    rows = list(csv.DictReader(io.StringIO(hullcheck("place", "battery", build, "--csv").stdout)))
    assert {"x_mm", "cg_x_mm", "trim_deg", "heel_deg", "freeboard_mm", "holds"} <= set(rows[0])
    assert [float(row["x_mm"]) for row in rows] == [row["x_mm"] for row in document["scan"]]
    shown = hullcheck("place", "battery", build, "--json", "--show", "oz,in").stdout
    assert json.loads(shown) == document


def test_schema_has_the_answers_keys_and_describes_each():
    """Every attribute of the answer is a key of the schema, and the other way round."""
    assert_describes(schema("place"), PlaceAnswer)


def test_without_a_place_the_exit_code_is_3(hullcheck, build):
    """A light battery at the box's end leaves the CG aft: ballast is told, and JSON holds it."""
    done = hullcheck("place", "battery", build, "--mass", "60")
    assert done.returncode == 3
    lines = done.stdout.splitlines()
    assert len(lines) <= 7
    assert lines[1].startswith("Battery has no place in its box, stations 100 to 260")
    # (310·290 + 40·250 + 60·100)/410 = 258.29 to 240: 410·18.29/(240 − 18) = 33.8 g.
    assert lines[3].startswith("Ballast         34 g in the nose, at (18, 0, 40), with battery at")
    document = json.loads(hullcheck("place", "battery", build, "--mass", "60", "--json").stdout)
    jsonschema.validate(document, schema("place"))
    assert document["ballast"]["mass_g"] == pytest.approx((105_900 - 410 * 240) / 222)
    given = hullcheck(
        "place", "battery", build, "--mass", "60", "--ballast-at", "60,0,20", "--json"
    )
    assert json.loads(given.stdout)["ballast"]["center_mm"] == [60.0, 0.0, 20.0]


def test_setup_height_and_side(hullcheck, build):
    """--setup, --y and --z are taken as they are given; sea water is told."""
    asked = ("--setup", "wet", "--y", "4", "--z", "25", "--water", "sea")
    document = json.loads(hullcheck("place", "battery", build, *asked, "--json").stdout)
    assert document["setup"] == "wet"
    assert (document["y_mm"], document["z_mm"]) == (4.0, 25.0)
    assert document["mass_g"] == 555.0
    assert document["water"]["kind"] == "sea"


def test_all_and_drawing(hullcheck, build, tmp_path):
    """--all prints every place; the drawing is written, over an older one."""
    done = hullcheck("place", "battery", build, "--all", "--show", "oz,in")
    assert done.returncode == 0
    assert "floated every" in done.stdout
    for _ in range(2):
        drawn = hullcheck("place", "battery", build, "--drawing", "place.svg")
        assert drawn.returncode == 0
        assert "Drawing written to place.svg" in drawn.stderr
    assert (tmp_path / "place.svg").stat().st_size > 5_000


def test_nothing_of_the_users_is_changed(hullcheck, build, tmp_path):
    """Sheet, ledger and meshes are byte for byte what they were."""
    folder = tmp_path / "build"
    names = ("build.toml", "weights.csv", "hull.stl")
    before = {name: (folder / name).read_bytes() for name in names}
    for more in ((), ("--mass", "60"), ("--setup", "wet")):
        hullcheck("place", "battery", build, *more)
    assert {name: (folder / name).read_bytes() for name in names} == before


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("engine",), 1, "has no item 'engine'; it has: 'hull', 'battery', 'wheels'"),
        (("battery", "--mass", "-3"), 1, "--mass -3 g: what is to be placed must weigh something"),
        (("battery", "--mass", "x"), 2, "'x' is not a number"),
        (("battery", "--z", "80"), 1, "--z 80 mm lies outside the box battery may be put in"),
        (("battery", "--ballast-at", "1,2"), 2, "is not three numbers"),
        (("battery", "--ballast-at", "1,2,inf"), 2, "not finite numbers"),
        (("battery", "--json", "--csv"), 2, "choose one of them"),
        (("battery", "--setup", "no such"), 1, "there is no setup 'no such'"),
        (("battery", "--drawing", "place.gif"), 2, "does not end in"),
    ],
)
def test_what_is_refused(hullcheck, build, arguments, code, words):
    """A wrong line or input is one clear line on standard error, nothing on standard output."""
    item, *more = arguments
    done = hullcheck("place", item, build, *more)
    assert (done.returncode, done.stdout) == (code, "")
    assert words in done.stderr


def test_meshes_have_no_ledger(hullcheck):
    """A mesh in place of a build is sent to where a build begins."""
    done = hullcheck("place", "battery", "hull.stl")
    assert (done.returncode, done.stdout) == (2, "")
    assert "hullcheck begin" in done.stderr


def test_arguments_the_wrong_way_round_are_told(hullcheck, tmp_path):
    """A folder where the item goes: the refusal has the right order."""
    (tmp_path / "boat").mkdir()
    done = hullcheck("place", "boat", "battery")
    assert done.returncode == 2
    assert "the item goes first: hullcheck place 'battery' boat" in done.stderr
    assert "the item is missing" in hullcheck("place", "boat").stderr
