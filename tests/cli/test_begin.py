"""The begin command: a first build that floats once it is filled in, and nothing overwritten."""

import shutil
from pathlib import Path

import pytest

MESHES = Path(__file__).resolve().parents[2] / "meshes"


def test_a_first_build_from_meshes_floats_once_filled_in(hullcheck, tmp_path):
    """Sheet and ledger of the demo's meshes: blank they say what is missing, filled they float."""
    for name in ("hull", "starboard_float", "port_float"):
        shutil.copy(MESHES / f"tarnwing_{name}.stl", tmp_path / f"{name}.stl")
    axes = ("--unit", "mm", "--forward", "-x", "--up", "+z")
    done = hullcheck("begin", "hull.stl", "starboard_float.stl", "port_float.stl", *axes)
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("Wrote build.toml weights.csv")
    assert 'role = "tip float"' in (tmp_path / "build.toml").read_text()
    blank = hullcheck("float")
    assert blank.returncode == 1
    assert "the ledger's items weigh 0 g in all" in blank.stderr
    ledger = (tmp_path / "weights.csv").read_text()
    filled = ledger.replace("\nhull,hull,,,,,,,,", "\nhull,hull,,690,252,0,31,,,")
    assert filled != ledger
    (tmp_path / "weights.csv").write_text(filled)
    afloat = hullcheck("float")
    assert afloat.returncode == 0, afloat.stderr
    assert "Floats upright, 0.5° bow up" in afloat.stdout


def test_a_first_build_from_offsets_floats_once_filled_in(hullcheck, tmp_path):
    """The form for offsets holds an example hull that closes and floats."""
    done = hullcheck("begin", "--offsets", "hull.csv")
    assert done.returncode == 0, done.stderr
    assert "hull.csv holds an example hull" in done.stdout
    afloat = hullcheck("float", "--mass", "500", "--cg", "235,0,40")
    assert afloat.returncode == 0, afloat.stderr
    assert "Floats upright" in afloat.stdout
    assert "6 stations, 4 lines of hull.csv, straight between the points" in afloat.stderr
    assert (
        (tmp_path / "hull.csv").read_text().startswith("station_mm,line,half_breadth_mm,height_mm")
    )


@pytest.mark.parametrize("taken", ["build.toml", "weights.csv"])
def test_begin_overwrites_nothing(hullcheck, tmp_path, taken):
    """A sheet or a ledger that is there stays as it is, and nothing is written beside it."""
    (tmp_path / taken).write_text("mine")
    done = hullcheck("begin", "--offsets", "hull.csv")
    assert done.returncode == 1
    assert f"{taken}: is there already and is not overwritten" in done.stderr
    assert (tmp_path / taken).read_text() == "mine"
    assert sorted(p.name for p in tmp_path.iterdir()) == [taken]


def test_begin_with_a_form_that_is_there_reads_it(hullcheck, tmp_path):
    """A table of offsets that is there already is named in the sheet and left as it is."""
    (tmp_path / "plan.csv").write_text("mine")
    done = hullcheck("begin", "--offsets", "plan.csv")
    assert done.returncode == 0
    assert "example" not in done.stdout
    assert (tmp_path / "plan.csv").read_text() == "mine"
    assert 'offsets = "plan.csv"' in (tmp_path / "build.toml").read_text()


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ((), "name mesh files, or --offsets FILE"),
        (("a.stl", "--offsets", "b.csv"), "name mesh files, or --offsets FILE"),
        (("--offsets", "b.csv", "--unit", "mm"), "--unit, --forward and --up are for mesh files"),
    ],
)
def test_a_wrong_begin_exits_2(hullcheck, arguments, message):
    """What begin cannot mean is usage."""
    done = hullcheck("begin", *arguments)
    assert done.returncode == 2
    assert message in done.stderr
