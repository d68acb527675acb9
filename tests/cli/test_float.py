"""The float command: exit codes, what goes where, and what it refuses."""

import json
import struct
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from hullcheck.report.as_json import schema

MESHES = Path(__file__).resolve().parents[2] / "meshes"
HULL = str(MESHES / "tarnwing_hull.stl")
DEMO = (
    HULL,
    str(MESHES / "tarnwing_starboard_float.stl"),
    str(MESHES / "tarnwing_port_float.stl"),
)
AXES = ("--unit", "mm", "--forward", "-x", "--up", "+z")
LOAD = ("--mass", "690", "--cg", "252,0,31")


def test_first_screen_is_seven_lines_on_stdout_and_notes_on_stderr(hullcheck):
    """The answer is seven lines of at most 80 columns; what was assumed goes to stderr."""
    done = hullcheck("float", *DEMO, *LOAD, *AXES)
    assert done.returncode == 0
    lines = done.stdout.splitlines()
    assert len(lines) == 7
    assert max(map(len, lines)) <= 80
    assert lines[1] == "Floats upright, 0.5° bow up, level across; both tip floats clear by 4 mm."
    assert "roles taken from size and place" in done.stderr
    assert "no openings are known" in done.stderr
    assert "local rules" in done.stderr


def test_json_prints_every_key_and_fits_its_schema(hullcheck):
    """The hull alone as JSON has every key, fits the schema and is not rounded."""
    done = hullcheck("float", HULL, *LOAD, *AXES, "--json")
    assert done.returncode == 0
    document = json.loads(done.stdout)
    jsonschema.validate(document, schema("float"))
    assert document["rest"] == "upright"
    assert document["step"]["station_mm"] == pytest.approx(265.0, abs=0.1)
    assert document["displaced_volume_cm3"] * document["water"]["density_kg_m3"] == pytest.approx(
        690_000.0, rel=1e-12
    )
    codes = {warning["code"] for warning in document["warnings"]}
    assert codes == {"no-openings"}
    assert done.stderr == ""


def test_json_of_a_held_level_craft_and_of_a_sunk_one_fit_the_schema(hullcheck):
    """Without a CG `rest` is null and level answers; when she sinks the code is 3."""
    level = hullcheck("float", HULL, "--mass", "690", *AXES, "--json")
    held = json.loads(level.stdout)
    jsonschema.validate(held, schema("float"))
    assert level.returncode == 0
    assert held["rest"] is None
    assert held["level"]["cg_aft_of_cb_mm"] is None
    sunk = hullcheck("float", HULL, "--mass", "6900", "--cg", "252,0,31", *AXES, "--json")
    document = json.loads(sunk.stdout)
    jsonschema.validate(document, schema("float"))
    assert sunk.returncode == 3
    assert document["rest"] == "sinks"
    whole = document["bodies"][0]["volume_cm3"] * document["water"]["density_kg_m3"] / 1000.0
    assert document["short_by_g"] == pytest.approx(6900.0 - whole, rel=1e-12)
    assert document["waterline"] is None


def test_all_prints_the_seven_lines_and_every_block(hullcheck):
    """--all begins with the first screen and goes on with the tables, 80 columns wide."""
    short = hullcheck("float", *DEMO, *LOAD, *AXES).stdout.splitlines()
    full = hullcheck("float", *DEMO, *LOAD, *AXES, "--all").stdout.splitlines()
    assert full[:7] == short
    for title in ("Attitude", "Held level at this mass", "Step and bottom", "Stable attitudes"):
        assert title in full
    assert max(map(len, full)) <= 80


def test_a_craft_that_capsizes_exits_3(hullcheck):
    """A hull alone under a far too high CG goes over, and the exit code says it fails."""
    done = hullcheck("float", HULL, "--mass", "690", "--cg", "252,0,150", *AXES)
    assert done.returncode == 3
    assert done.stdout.splitlines()[1].startswith("Capsizes:")
    assert "she goes over" in done.stdout


def test_resting_on_a_tip_float_is_no_failure(hullcheck):
    """With the CG to starboard she leans on that tip float and the exit code is 0."""
    done = hullcheck("float", *DEMO, "--mass", "690", "--cg", "252,6,31", *AXES, "--json")
    assert done.returncode == 0
    document = json.loads(done.stdout)
    assert document["rest"] == "on starboard tip float"
    assert document["heel_deg"] > 0.5


def test_a_cg_with_a_minus_in_front_is_taken(hullcheck):
    """--cg -470,0,60 is a value and not an option."""
    done = hullcheck("float", HULL, "--mass", "690", "--cg", "-470,0,60", *AXES)
    assert "x -470 mm is outside 0 to 624 mm" in done.stderr
    assert done.returncode in {0, 3}


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("nope.stl", *LOAD), "nope.stl: there is no such file"),
        ((HULL, "--mass", "0"), "mass 0 g: the all-up mass must be above 0 g"),
        ((HULL, "--mass", "-5"), "mass -5 g: the all-up mass must be above 0 g"),
        ((HULL, "--mass", "nan"), "mass nan g"),
        ((HULL, *LOAD, "--density", "1.0"), "did you mean 1000 kg/m³?"),
        ((HULL, *LOAD, "--density", "5000"), "water density 5000 kg/m³ is outside 500 to 2000"),
        ((HULL, *LOAD, "--temperature", "80"), "water temperature 80 °C is outside -2 to 40"),
        ((HULL, *LOAD, "--forward", "x", "--up", "+x"), "forward +x and up +x lie along one axis"),
        ((HULL, *LOAD, "--forward", "bow"), "axis 'bow' is none of +x, -x, +y, -y, +z, -z"),
        ((HULL, "--mass", "690", "--cg", "nan,0,0"), "not a finite number"),
        (("build.toml", *LOAD), "build.toml: there is no such file"),
        ((), "there is no build sheet; name one, name mesh files with --mass, or write"),
        ((".", "--setup", "wet"), "there is no build sheet"),
    ],
)
def test_wrong_input_is_one_line_and_exit_1(hullcheck, arguments, message):
    """What is wrong is said in one line with its value; never a traceback, nothing on stdout."""
    done = hullcheck("float", *arguments)
    assert done.returncode == 1
    assert done.stdout == ""
    assert message in done.stderr
    assert done.stderr.startswith("hullcheck: ")
    assert len(done.stderr.splitlines()) == 1


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ((HULL,), "mesh files need --mass G, the all-up mass in grams"),
        ((HULL, *LOAD, "--setup", "wet"), "--setup and --all-setups need a build sheet"),
        ((HULL, "build.toml"), "build.toml is a build; name one build, or mesh files alone"),
        ((".", "--unit", "mm"), "--unit is for mesh files; a build sheet says it in [axes]"),
        ((HULL, *LOAD, "--json", "--csv"), "--json and --csv: choose one of them"),
        ((HULL, *LOAD, "--show", "stone"), "stone"),
        ((HULL, "--mass", "heavy"), "'heavy' is not a number: a decimal point, and no unit"),
        ((HULL, *LOAD, "--cg", "3,4"), "'3,4' is not three numbers such as 252,0,31"),
        ((HULL, *LOAD, "--drawing", "out.gif"), "'out.gif' does not end in .svg, .png, .pdf"),
        ((HULL, *LOAD, "--density", "1000", "--water", "sea"), "--density stands alone"),
    ],
)
def test_a_wrong_command_line_exits_2(hullcheck, arguments, message):
    """Usage is 2, with the reason, and the word error is not among it."""
    done = hullcheck("float", *arguments)
    assert done.returncode == 2
    assert message in done.stderr
    assert "Error" not in done.stderr
    assert done.stdout == ""


def test_a_size_that_suggests_another_unit_is_said(hullcheck, tmp_path):
    """A hull written in meters but read as mm is floated only with a word about its size."""
    raw = Path(HULL).read_bytes()
    facets = np.frombuffer(raw[84:], dtype=[("n", "<f4", 3), ("v", "<f4", (3, 3)), ("a", "<u2")])
    small = facets.copy()
    small["v"] /= 1000.0
    path = tmp_path / "meters.stl"
    path.write_bytes(b"\0" * 80 + struct.pack("<I", len(small)) + small.tobytes())
    done = hullcheck("float", str(path), "--mass", "1e-7", "--forward", "-x", "--up", "+z")
    assert "she is 0.624 mm over all, outside 150 to 3000 mm" in done.stderr
    assert "--unit m would make it 624 mm" in done.stderr
    right = hullcheck("float", str(path), *LOAD, "--unit", "m", "--forward", "-x", "--up", "+z")
    plain = hullcheck("float", HULL, *LOAD, *AXES)
    assert right.stdout.splitlines()[1:] == plain.stdout.splitlines()[1:]


def test_axes_of_the_file_are_turned(hullcheck, tmp_path):
    """The same hull lying bow to +y and up to -x floats as the hull in body axes does."""
    raw = Path(HULL).read_bytes()
    facets = np.frombuffer(raw[84:], dtype=[("n", "<f4", 3), ("v", "<f4", (3, 3)), ("a", "<u2")])
    turned = facets.copy()
    x, y, z = (facets["v"][:, :, k] for k in range(3))
    # Forward is +y, so y = -x_body; up is -x, so x = -z_body; starboard follows: z = y_body.
    turned["v"] = np.stack((-z, -x, y), axis=2)
    path = tmp_path / "turned.stl"
    path.write_bytes(b"\0" * 80 + struct.pack("<I", len(turned)) + turned.tobytes())
    done = hullcheck("float", str(path), *LOAD, "--unit", "mm", "--forward", "+y", "--up", "-x")
    plain = hullcheck("float", HULL, *LOAD, *AXES)
    assert done.stdout.splitlines()[1:] == plain.stdout.splitlines()[1:]


def test_drawing_is_written_by_its_ending(hullcheck, tmp_path):
    """--drawing writes SVG, PNG or PDF by the name, over an older one."""
    for name, magic in (("a.svg", b"<?xml"), ("a.png", b"\x89PNG"), ("a.pdf", b"%PDF")):
        (tmp_path / name).write_bytes(b"old")
        done = hullcheck("float", *DEMO, *LOAD, *AXES, "--drawing", name)
        assert done.returncode == 0, done.stderr
        assert (tmp_path / name).read_bytes().startswith(magic)
        assert f"Drawing written to {name}" in done.stderr


def test_show_changes_what_is_printed_and_not_what_is_computed(hullcheck):
    """--show oz,in prints ounces and inches; JSON and CSV stay in grams and millimeters."""
    shown = hullcheck("float", HULL, *LOAD, *AXES, "--show", "oz,in")
    # 690 g / 28.349523125 g per avoirdupois ounce (International Yard and Pound Agreement, 1959).
    assert "24.3 oz all-up" in shown.stdout
    assert " mm" not in shown.stdout
    for form in ("--json", "--csv"):
        plain = hullcheck("float", HULL, *LOAD, *AXES, form).stdout
        assert hullcheck("float", HULL, *LOAD, *AXES, form, "--show", "oz,in").stdout == plain


def test_help_loads_no_heavy_library(hullcheck):
    """The help answers without trimesh, scipy, matplotlib, numpy or manifold3d."""
    import subprocess
    import sys

    code = (
        "import sys\nfrom hullcheck.cli.main import cli\n"
        "try:\n    cli.main(['--help'], standalone_mode=False)\nexcept SystemExit:\n    pass\n"
        "heavy = {'trimesh', 'scipy', 'matplotlib', 'numpy', 'manifold3d', 'pandas', 'rich'}\n"
        "print('heavy:', sorted(heavy & set(sys.modules)))\n"
    )
    root = Path(__file__).resolve().parents[2]
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=root, capture_output=True, text=True, check=True
    )
    assert "heavy: []" in done.stdout
    assert hullcheck("--help").returncode == 0


def test_the_bare_name_prints_the_help_once(hullcheck):
    """Without a command the help is printed, once, to standard output."""
    done = hullcheck()
    assert done.returncode == 0
    assert done.stdout == hullcheck("--help").stdout
    assert done.stdout.count("Usage:") == 1
    assert done.stderr == ""


def test_a_command_that_is_not_there_is_refused_with_the_nearest(hullcheck):
    """A letter left out is told; nonsense names the help."""
    near, far = hullcheck("flot"), hullcheck("xyzzy")
    assert near.returncode == far.returncode == 2
    assert "there is no command 'flot'; did you mean float?" in near.stderr
    assert "hullcheck --help names them all" in far.stderr
