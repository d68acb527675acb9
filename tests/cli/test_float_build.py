"""The float command on a build: setups, limits, exit codes, forms."""

import csv
import io
import json
import re
import shutil
from pathlib import Path

import jsonschema
import pytest

from hullcheck.cli.options import is_build
from hullcheck.files.build_folder import load
from hullcheck.files.demo import write_demo
from hullcheck.files.stl_writer import binary_stl_bytes
from hullcheck.report.as_json import schema
from hullcheck.report.float_csv import COLUMNS

MESHES = Path(__file__).resolve().parents[2] / "meshes"


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """Return a folder with the demo's build, its outer skin kept beside it."""
    folder = tmp_path_factory.mktemp("made")
    write_demo(folder)
    load(folder)
    return folder


@pytest.fixture
def demo(made, hullcheck, tmp_path):
    """Put the demo's build into the current folder and return its path."""
    assert hullcheck
    shutil.copytree(made, tmp_path, dirs_exist_ok=True)
    return tmp_path


def changed(folder, old, new):
    """Change the build sheet."""
    path = folder / "build.toml"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def test_a_build_is_floated_by_folder_by_sheet_and_from_within(hullcheck, demo):
    """The folder, its sheet, and nothing at all (here) mean the same build."""
    here = hullcheck("float")
    assert here.returncode == 0, here.stderr
    for name in (".", "build.toml", str(demo), str(demo / "build.toml")):
        assert hullcheck("float", name).stdout == here.stdout
    assert is_build(())


def test_the_first_screen_has_what_the_builder_asks(hullcheck, demo):
    """Seven lines of 80 columns: mass and what is weighed, rest, opening, grams, trim, doubts."""
    assert demo
    lines = hullcheck("float").stdout.splitlines()
    assert len(lines) == 7
    assert max(map(len, lines)) <= 80
    assert lines[0] == "Tarnwing 90 · 701 g all-up (11 of 15 items weighed) · fresh water, 15 °C"
    assert re.fullmatch(
        r"Lowest opening  [\d.]+ ± \d mm above the water: pushrod exit \(open\); limit 15 holds",
        lines[2],
    )
    assert re.fullmatch(
        r"Grams left      \d+ ± \d+ g, then the pushrod exit comes under 15 mm", lines[3]
    )
    assert lines[4].endswith("; limit 0 to 4° holds")
    assert lines[6] == "Not known       state of opening at station 416 to port"


def test_json_of_a_build_fits_its_schema(hullcheck, demo):
    """Openings, limits, grams left, clearances and load are all in the document."""
    assert demo
    done = hullcheck("float", "--json")
    document = json.loads(done.stdout)
    jsonschema.validate(document, schema("float"))
    assert done.returncode == 0
    assert document["setup"] is None
    points = {p["name"]: p for p in document["freeboard_mm"]["points"]}
    assert points["opening at station 416 to port, 24 × 12 mm"]["state"] is None
    assert points["starboard servo slot"]["state"] == "taped"
    assert points["canopy edge"]["what"] == "opening"
    assert document["freeboard_mm"]["at"] == "pushrod exit"
    assert [check["name"] for check in document["limits"]] == [
        "freeboard_mm",
        "trim_deg",
        "heel_deg",
    ]
    assert document["margin_limited_by"] == "freeboard_mm"
    assert document["reserve_buoyancy"]["limited_by"] == "pushrod exit"
    assert {p["name"] for p in document["clearances_mm"]} == {
        "starboard wing tip",
        "port wing tip",
        "propeller disc",
    }
    assert document["load"]["items"] == 15
    assert document["load"]["weighed"] == 11


def test_grams_left_put_aboard_meet_the_limit(hullcheck, demo):
    """The mass with the grams left floats at the limit, and a gram more breaks it: exit 3."""
    assert demo
    before = json.loads(hullcheck("float", "--json").stdout)
    mass = before["mass_g"] + before["margin_g"]
    full = hullcheck("float", "--json", "--mass", repr(mass))
    document = json.loads(full.stdout)
    assert full.returncode == 0
    assert document["freeboard_mm"]["least"] == pytest.approx(15.0, abs=0.01)
    over = hullcheck("float", "--mass", repr(mass + 1.0))
    assert over.returncode == 3
    assert "limit 15 broken" in over.stdout
    assert "Grams left      none: the pushrod exit is under 15 mm already" in over.stdout


def test_a_setup_is_floated_by_name(hullcheck, demo):
    """--setup adds its battery, moves it, opens the hatch, and names itself in the head."""
    assert demo
    done = hullcheck("float", "--setup", "heavy battery, sea, hatch open", "--json")
    document = json.loads(done.stdout)
    assert document["setup"] == "heavy battery, sea, hatch open"
    assert document["mass_g"] == pytest.approx(701.0 + 85.0, rel=1e-12)
    assert document["water"]["kind"] == "sea"
    states = {p["name"]: p["state"] for p in document["freeboard_mm"]["points"]}
    assert states["canopy edge"] == "open"
    unknown = hullcheck("float", "--setup", "heavy batery")
    assert unknown.returncode == 1
    assert "there is no setup 'heavy batery'" in unknown.stderr
    assert "heavy battery, sea, hatch open" in unknown.stderr


def test_all_setups_pick_out_the_worst(hullcheck, demo):
    """The table opens with the worst in one line; JSON and CSV hold a document or row a setup."""
    assert demo
    done = hullcheck("float", "--all-setups")
    assert done.returncode == 0
    lines = done.stdout.splitlines()
    assert lines[0].startswith("Worst of 4: bare, no battery: ")
    assert sum(line.startswith("> ") for line in lines) == 1
    assert max(map(len, lines)) <= 80
    document = json.loads(hullcheck("float", "--all-setups", "--json").stdout)
    jsonschema.validate(document, schema("float-setups"))
    assert document["worst"] == "bare, no battery"
    assert len(document["setups"]) == 4
    table = list(csv.DictReader(io.StringIO(hullcheck("float", "--all-setups", "--csv").stdout)))
    assert tuple(table[0]) == COLUMNS
    for row, one in zip(table, document["setups"], strict=True):
        assert float(row["freeboard_mm"]) == one["freeboard_mm"]["least"]
        assert float(row["margin_g"]) == one["margin_g"]


def test_a_broken_limit_exits_3_and_is_named(hullcheck, demo):
    """A freeboard limit above what she has is broken, in one setup or as she is."""
    changed(demo, "freeboard_mm = 15", "freeboard_mm = 23")
    assert hullcheck("float").returncode == 0
    done = hullcheck("float", "--all-setups")
    assert done.returncode == 3
    assert "! bare, no battery: limit broken: freeboard" in done.stdout
    changed(demo, "freeboard_mm = 23", "freeboard_mm = 40")
    assert hullcheck("float").returncode == 3


def test_an_opening_in_doubt_under_the_limit_comes_first(hullcheck, demo):
    """An opening without name or state within the limit is said in the second line."""
    changed(demo, 'state = "open"\npoints_mm = [[471, 28, 66]]', "points_mm = [[471, 29, 46]]")
    lines = hullcheck("float").stdout.splitlines()
    assert lines[1].startswith("Not known       state of pushrod exit: ")
    changed(demo, 'name = "pushrod exit" ', 'state = "open" ')
    lines = hullcheck("float").stdout.splitlines()
    assert lines[1].startswith("Not known       opening at station 471 (open) has no name: ")
    assert len(lines) == 7


def test_a_measured_mass_overrides_and_the_difference_is_printed(hullcheck, demo):
    """mass_g and cg_mm of the sheet stand in for the ledger's sums, and both are said."""
    changed(demo, "# mass_g = 706 ", "mass_g = 716 ")
    changed(demo, "# cg_mm = [251, 0, 50] ", "cg_mm = [251, 0, 50] ")
    done = hullcheck("float")
    assert "716 g all-up (given whole)" in done.stdout
    assert "measured 716.0 g, the ledger sums to 701.0 g: 15.0 g more than it lists" in done.stderr
    assert "measured CG at station 251.0, the ledger's at 255.4: 4.4 mm ahead" in done.stderr


def test_an_unknown_item_is_not_all_up(hullcheck, demo):
    """A battery neither planned nor weighed makes the answer not all-up, by name."""
    path = demo / "weights.csv"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("battery,drive,140,165,", "battery,drive,,,"), encoding="utf-8")
    done = hullcheck("float")
    assert "536 g, not all-up: battery not known" in done.stdout.splitlines()[0]
    assert "not all-up: battery is neither planned nor weighed" in done.stderr


def test_items_without_a_place_leave_the_cg_unknown(hullcheck, demo):
    """A mass without x: held level, and the item is named with what to fill in."""
    path = demo / "weights.csv"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("finish,12,,275,0,52", "finish,12,,,0,"), encoding="utf-8")
    done = hullcheck("float")
    assert done.returncode == 0
    assert "Her CG is not given" in done.stdout
    assert "fill in x_mm and z_mm of paint and lettering" in done.stderr


def test_the_same_load_through_sheet_and_meshes_agrees_to_the_last_digit(hullcheck, demo):
    """A one-line ledger and --mass with --cg give the same numbers, not one bit apart."""
    # A closed hull, whose corners 32-bit numbers hold: it comes back from STL as it was.
    shutil.copy(MESHES / "tarnwing_hull.stl", demo / "parts" / "hull.stl")
    (demo / "weights.csv").write_text(
        "item,weighed_g,x_mm,y_mm,z_mm,plus_minus_g\nall,690.3,252.1,0.7,31.7,0\n"
    )
    sheet = (demo / "build.toml").read_text(encoding="utf-8")
    start, end = sheet.index("[wing]"), sheet.index("[limits]")
    parts = re.compile(r"parts = \[\n.*?\n\]", re.DOTALL)
    closed = parts.sub('parts = ["parts/hull.stl"]', sheet[:start], count=1)
    (demo / "build.toml").write_text(closed, encoding="utf-8")
    assert end > start
    built = json.loads(hullcheck("float", "--json").stdout)
    names = []
    for body in load(demo).bodies[1:]:
        names.append(f"{body.name}.stl")
        (demo / names[-1]).write_bytes(binary_stl_bytes(body.shell.triangles_mm))
    bare = json.loads(
        hullcheck(
            "float", "parts/hull.stl", *names, "--mass", "690.3",
            "--cg", "252.1,0.7,31.7", "--unit", "mm", "--forward", "-x", "--up", "+z", "--json",
        ).stdout
    )  # fmt: skip
    for key in ("craft", "load", "warnings"):
        built.pop(key), bare.pop(key)
    assert built == bare


def test_water_and_mass_of_the_sheet_may_be_overruled(hullcheck, demo):
    """--water sea on a build floats her in the sea, --mass at another mass about the same CG."""
    assert demo
    sea = json.loads(hullcheck("float", "--water", "sea", "--json").stdout)
    assert sea["water"]["kind"] == "sea"
    heavy = json.loads(hullcheck("float", "--mass", "800", "--json").stdout)
    assert heavy["mass_g"] == 800.0
    assert heavy["center_of_gravity_mm"] == sea["center_of_gravity_mm"]


def test_a_wrong_key_is_one_line_with_its_place(hullcheck, demo):
    """A misspelt key: file, line, key and the nearest right one, exit 1."""
    changed(demo, "target_mass_g = 690", "target_mass = 690")
    done = hullcheck("float")
    assert done.returncode == 1
    assert done.stderr == (
        "hullcheck: build.toml line 6, craft.target_mass: there is no such key; did you mean "
        "target_mass_g?\n"
    )
    assert done.stdout == ""
