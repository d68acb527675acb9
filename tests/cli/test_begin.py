"""The begin command: a first build that floats once it is filled in, and nothing overwritten."""

import shutil
from pathlib import Path

import numpy as np
import pytest
from begin_making import on_plate, project
from sheet_making import box, stl
from thin_walls import segments as walls

from hullcheck.files.meshes import read_mesh

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


def printed_parts(folder):
    """Write nose and tail of a box as printed; return their names."""
    for stem, triangles in walls().items():
        stl(folder / f"{stem}.stl", triangles)
    return "nose.stl", "tail.stl"


def test_parts_as_printed_make_a_build_that_floats(hullcheck, tmp_path):
    """Two thin-walled segments: what was written and guessed is said, and she floats."""
    done = hullcheck("begin", *printed_parts(tmp_path), "--unit", "mm")
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("Wrote build.toml weights.csv")
    assert "Guessed  hull = hull: 2 parts, 1 seam, 1 opening" in done.stdout
    assert "bow at -x (assumed), deck at +z (assumed)" in done.stdout
    assert "no step tells bow from stern: bow assumed at -x, deck at +z" in done.stderr
    afloat = hullcheck("float", "--mass", "900", "--cg", "300,0,30")
    assert afloat.returncode == 0, afloat.stderr
    assert "Floats upright" in afloat.stdout
    assert "opening at station 310" in afloat.stdout
    again = hullcheck("begin", "nose.stl", "tail.stl", "--unit", "mm")
    assert again.returncode == 1
    assert "build.toml: is there already and is not overwritten" in again.stderr


def test_an_unclear_unit_is_refused_where_nobody_can_be_asked(hullcheck, tmp_path):
    """Parts in cm or inches: both sizes are told, and the options to write."""
    stl(tmp_path / "hull.stl", box(24.0, 4.0, 3.0))
    done = hullcheck("begin", "hull.stl")
    assert done.returncode == 1
    assert "240 mm if they are cm, 610 mm if they are inches" in done.stderr
    assert "--unit cm or --unit inch" in done.stderr
    assert done.stderr.count("\n") == 1
    assert not (tmp_path / "build.toml").exists()


def test_an_unclear_unit_is_asked_for_at_a_terminal(hullcheck, tmp_path, monkeypatch):
    """Somebody is there to answer: the answer stands in the sheet as stated."""
    stl(tmp_path / "hull.stl", box(24.0, 4.0, 3.0))
    asked = []

    def answer(text, **options):
        """Answer a question."""
        asked.append((text, tuple(options["type"].choices)))
        return "inch"

    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("click.prompt", answer)
    done = hullcheck("begin", "hull.stl", "--forward", "-x", "--up", "+z")
    assert done.returncode == 0, done.stderr
    assert asked == [("Unit", ("cm", "inch"))]
    assert 'unit = "inch"' in (tmp_path / "build.toml").read_text()


def test_parts_on_the_printer_are_to_be_confirmed(hullcheck, tmp_path):
    """Order from the bow, what is doubtful and how to accept it; float refuses until then."""
    files = [str(path) for path in sorted((MESHES / "print_axes").glob("*.stl"))]
    done = hullcheck("begin", *files, "--unit", "mm")
    assert done.returncode == 0, done.stderr
    assert "Suggested from the bow: nose, fore, mid, aft, stern" in done.stdout
    assert "--end-for-end or --upside-down" in done.stdout
    assert "hatch has no end that fits another part" in done.stdout
    refused = hullcheck("float", "--mass", "690")
    assert refused.returncode == 1
    assert '"hull" has its parts commented out' in refused.stderr
    text = (tmp_path / "build.toml").read_text()
    start = text.index("# parts = [\n")
    stop = text.index("# ]\n", start) + 4
    block = "".join(line.removeprefix("# ") for line in text[start:stop].splitlines(keepends=True))
    (tmp_path / "build.toml").write_text(text[:start] + block + text[stop:])
    afloat = hullcheck("float", "--mass", "690", "--cg", "252,0,31")
    assert afloat.returncode == 0, afloat.stderr
    assert "Floats upright" in afloat.stdout


def test_turning_over_is_for_parts_in_print_axes(hullcheck, tmp_path):
    """With parts in place it is said to do nothing; with offsets it is usage."""
    done = hullcheck("begin", *printed_parts(tmp_path), "--unit", "mm", "--end-for-end")
    assert done.returncode == 0
    assert "are for parts that lie in their own print axes" in done.stderr
    usage = hullcheck("begin", "--offsets", "b.csv", "--upside-down")
    assert usage.returncode == 2


def test_variants_are_told(hullcheck, tmp_path):
    """A second version of a part is left out, and that is said."""
    files = printed_parts(tmp_path)
    stl(tmp_path / "tail (1).stl", walls()["tail"])
    done = hullcheck("begin", *files, "tail (1).stl", "--unit", "mm")
    assert done.returncode == 0, done.stderr
    assert "tail (1).stl left out: the same surface as tail" in done.stderr


def test_a_project_is_begun_object_by_object(hullcheck, tmp_path):
    """The demo's segments on plates, one of them twice: suggested, confirmed, she floats."""
    files = [MESHES / "print_axes" / f"{n}.stl" for n in ("mid", "stern", "nose", "aft", "fore")]
    meshes = [(file.stem, read_mesh(file).parts[0].triangles) for file in files]
    places = [(k, on_plate(k, turn_deg=50.0 * k)) for k in range(5)]
    project(tmp_path / "boat.3mf", meshes, [*places, (2, on_plate(7))])
    bare = hullcheck("float", "boat.3mf", "--mass", "690")
    assert bare.returncode == 1
    assert bare.stderr.rstrip().endswith("hullcheck begin boat.3mf -o build.toml")
    done = hullcheck("begin", "boat.3mf")
    assert done.returncode == 0, done.stderr
    assert "nose 2 of boat.3mf left out: a copy of nose" in done.stderr
    assert "Suggested from the bow: nose, fore, mid, aft, stern" in done.stdout
    text = (tmp_path / "build.toml").read_text()
    start = text.index("# parts = [\n")
    stop = text.index("# ]\n", start) + 4
    block = "".join(line.removeprefix("# ") for line in text[start:stop].splitlines(keepends=True))
    (tmp_path / "build.toml").write_text(text[:start] + block + text[stop:])
    read = hullcheck("skin", "--all")
    assert read.returncode == 0, read.stderr
    assert 'boat.3mf "stern"' in read.stdout
    afloat = hullcheck("float", "--mass", "690", "--cg", "252,0,31")
    assert afloat.returncode == 0, afloat.stderr
    assert "Floats upright" in afloat.stdout


def test_objects_in_place_float_without_a_word(hullcheck, tmp_path):
    """The same two segments in place in one file: one hull of two objects that floats."""
    project(tmp_path / "boat.3mf", list(walls().items()), [(0, np.eye(4)), (1, np.eye(4))])
    done = hullcheck("begin", "boat.3mf", "--forward", "-x", "--up", "+z")
    assert done.returncode == 0, done.stderr
    assert "Guessed  hull = hull: 2 parts, 1 seam, 1 opening" in done.stdout
    afloat = hullcheck("float", "--mass", "900", "--cg", "300,0,30")
    assert afloat.returncode == 0, afloat.stderr
    assert "Floats upright" in afloat.stdout
