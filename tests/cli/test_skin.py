"""The skin command, and float on printed parts: through the real command line."""

import csv
import io
import json

import jsonschema
import numpy as np
import pytest
from sheet_making import AXES, CRAFT, build_in
from thin_walls import BOTTOM, HATCH, outline_toml, segments, wall

from hullcheck.cli.skin_command import SKIN_SUFFIXES
from hullcheck.files.meshes import read_mesh
from hullcheck.files.stl_writer import binary_stl_bytes
from hullcheck.geometry.shells import outer_shells
from hullcheck.report.as_json import schema
from hullcheck.report.skin_csv import COLUMNS

LOAD = "mass_g = 1800\ncg_mm = [300, 0, 30]\n"
BODY = '[[body]]\nname = "hull"\nrole = "hull"\nparts = ["nose.stl", "tail.stl"]\n'
SHEET = CRAFT + LOAD + AXES + BODY
LID = f'[[lid]]\nname = "hatch"\noutline_mm = {outline_toml(HATCH)}\n'
MESHES = ("--unit", "mm", "--forward", "-x", "--up", "+z")
CLOSED_CM3 = 4800.0


@pytest.fixture
def printed(hullcheck, tmp_path):
    """Write a build of two thin-wall segments into the current folder."""
    assert hullcheck("--version").returncode == 0
    build_in(tmp_path, SHEET, ledger=None, **segments())
    return tmp_path


def document_of(done):
    """Return the JSON of a skin command, held against its schema."""
    assert done.returncode == 0, done.stderr
    document = json.loads(done.stdout)
    jsonschema.validate(document, schema("skin"))
    return document


def test_a_build_of_printed_parts_is_read_part_by_part(hullcheck, printed):
    """JSON by its schema: two thin walls of 2 mm in mm, one opening above the water, the box."""
    assert printed
    document = document_of(hullcheck("skin", "--json"))
    (body,) = document["bodies"]
    assert (body["name"], body["role"], body["method"]) == ("hull", "hull", "united")
    assert body["watertight"]
    assert abs(body["volume_cm3"] - CLOSED_CM3) <= body["error_cm3"] < 1.0
    assert [part["file"] for part in body["parts"]] == ["nose.stl", "tail.stl"]
    for part in body["parts"]:
        assert (part["kind"], part["unit"]) == ("thin wall", "mm")
        assert part["wall_mm"] == pytest.approx(2.0, rel=0.05)
    (hole,) = body["invented"]
    assert hole["name"] == "opening at station 310, 120 × 60 mm"
    assert hole["size_mm"] == pytest.approx([120.0, 60.0], abs=0.5)
    # 1800 g in fresh water of 0.9991 g/cm³ draw 30.03 mm of the box; the hatch's lower rim lies at
    # its chord through the wall, 78 to 80 mm up.
    assert 78.0 - 30.1 <= hole["height_mm"] <= 80.0 - 30.0
    assert hole["under_water"] is False
    assert [seam["station_mm"] for seam in body["seams"]] == [pytest.approx(200.0)]


def test_the_first_screen_and_the_table_say_what_was_read(hullcheck, printed):
    """Parts, openings and what is next in at most eight lines; --all has the pieces."""
    assert printed
    first = hullcheck("skin")
    lines = first.stdout.splitlines()
    assert first.returncode == 0
    assert len(lines) <= 8
    assert max(map(len, lines)) <= 80
    assert lines[0].startswith("Test · 2 parts → one outer skin of 48")
    assert "1 closed for buoyancy" in first.stdout
    assert "outer skin of" not in first.stderr
    everything = hullcheck("skin", "--all").stdout
    assert everything.startswith(first.stdout)
    assert "nose.stl" in everything
    assert hullcheck("skin", ".").stdout == hullcheck("skin", "build.toml").stdout == first.stdout


def test_csv_has_a_row_a_piece(hullcheck, printed):
    """One invented piece, its name as float prints it."""
    assert printed
    done = hullcheck("skin", "--csv")
    rows = list(csv.DictReader(io.StringIO(done.stdout)))
    assert tuple(rows[0]) == COLUMNS
    assert [row["name"] for row in rows] == ["opening at station 310, 120 × 60 mm"]
    float_ = json.loads(hullcheck("float", "--json").stdout)
    names = [p["name"] for p in float_["freeboard_mm"]["points"] if p["what"] == "opening"]
    assert names == [row["name"] for row in rows]
    both = hullcheck("skin", "--csv", "--json")
    assert (both.returncode, both.stdout) == (2, "")


def test_without_a_load_nothing_is_said_of_the_water(hullcheck, printed):
    """No mass and no ledger: the files are read, and it is said why nothing is wet or dry."""
    build_in(printed, SHEET.replace(LOAD, ""), ledger=None, **segments())
    done = hullcheck("skin", "--json")
    document = document_of(done)
    assert document["waterline"] is None
    assert document["bodies"][0]["invented"][0]["under_water"] is None
    assert {note["code"] for note in document["warnings"]} >= {"no-waterline"}
    with_load = document_of(hullcheck("skin", "--json", "--mass", "1800", "--cg", "300,0,30"))
    assert with_load["waterline"]["height_mm"] == pytest.approx(30.03, abs=0.02)


def test_no_waterline_is_shown_of_half_a_craft(hullcheck, printed):
    """A ledger with a blank item: the plastic alone would float too high; it is said why."""
    ledger = (
        "item,group,planned_g,x_mm,y_mm,z_mm\nhull,hull,400,300,0,30\nbattery,drive,,200,0,20\n"
    )
    build_in(printed, SHEET.replace(LOAD, ""), ledger=ledger, **segments())
    document = document_of(hullcheck("skin", "--json"))
    assert document["waterline"] is None
    assert "not-all-up" in {note["code"] for note in document["warnings"]}


def test_states_and_lids_of_the_sheet_are_shown(hullcheck, printed):
    """A lid is a piece of kind lid; an opening on it tells the state."""
    opening = '[[opening]]\nname = "hatch"\nstate = "taped"\npoints_mm = [[310, 30, 80]]\n'
    build_in(printed, SHEET + LID + opening, ledger=None, **segments())
    (piece,) = document_of(hullcheck("skin", "--json"))["bodies"][0]["invented"]
    assert (piece["name"], piece["kind"], piece["state"]) == ("hatch", "lid", "taped")


@pytest.mark.parametrize("suffix", SKIN_SUFFIXES)
def test_the_skin_is_written_closed(hullcheck, printed, suffix):
    """As each kind of file: reads back as one closed shell of the volume that was said."""
    volume = document_of(hullcheck("skin", "--json"))["bodies"][0]["volume_cm3"]
    done = hullcheck("skin", "--out", f"skin{suffix}")
    assert done.returncode == 0, done.stderr
    assert f"skin{suffix}: 1 closed shell" in done.stderr
    (part,) = read_mesh(printed / f"skin{suffix}").parts
    (shell,) = outer_shells("skin", part.triangles).shells
    assert shell.volume_mm3 / 1000.0 == pytest.approx(volume, rel=1e-4)
    wrong = hullcheck("skin", "--out", "skin.obj")
    assert wrong.returncode == 2
    assert "'skin.obj' does not end in .3mf, .ply, .stl" in wrong.stderr


def test_the_drawing_is_written(hullcheck, printed):
    """As SVG, said on standard error; the answer is printed all the same."""
    done = hullcheck("skin", "--drawing", "skin.svg")
    assert done.returncode == 0, done.stderr
    assert "Drawing written to skin.svg" in done.stderr
    assert done.stdout.startswith("Test · 2 parts")
    assert (printed / "skin.svg").read_text(encoding="utf-8").startswith("<?xml")


def test_parts_without_a_sheet_are_one_body(hullcheck, printed):
    """The same two files by name: the same volume, and a note that they are taken for one body."""
    by_sheet = document_of(hullcheck("skin", "--json"))["bodies"][0]
    document = document_of(hullcheck("skin", "nose.stl", "tail.stl", *MESHES, "--json"))
    (body,) = document["bodies"]
    assert printed
    assert (body["name"], body["role"]) == ("hull", "hull")
    assert body["volume_cm3"] == by_sheet["volume_cm3"]
    assert "one-body" in {note["code"] for note in document["warnings"]}
    assert document["waterline"] is None
    setup = hullcheck("skin", "nose.stl", "--setup", "wet")
    assert (setup.returncode, "--setup needs a build sheet" in setup.stderr) == (2, True)


def test_parts_as_they_are_printed_are_refused_with_the_next_step(hullcheck, printed):
    """Both at the zero of their files: no skin of 1 part in the other, named or in a sheet."""
    tail = segments()["tail"] - np.array([200.0, 0.0, 0.0])
    (printed / "tail.stl").write_bytes(binary_stl_bytes(tail))
    for what, step in (
        (("nose.stl", "tail.stl", *MESHES), "hullcheck begin nose.stl tail.stl -o build.toml"),
        ((".",), "give each its at_mm and turn_deg, or have hullcheck begin suggest them"),
    ):
        done = hullcheck("skin", *what)
        assert (done.returncode, done.stdout) == (1, "")
        assert done.stderr.rstrip().endswith(step)
    assert not (printed / ".hullcheck").exists()


def test_a_body_from_offsets_has_no_parts(hullcheck, printed):
    """Its volume and its error are those of the table; nothing is invented."""
    rows = "station_mm,line,half_breadth_mm,height_mm\n"
    for x in (0, 500):
        rows += f"{x},keel,0,10\n{x},chine,40,10\n{x},deck edge,40,60\n{x},deck center,0,60\n"
    (printed / "h.csv").write_text(rows, encoding="utf-8")
    sheet = f'{CRAFT}{LOAD}[[body]]\nname = "hull"\nrole = "hull"\noffsets = "h.csv"\n'
    (printed / "build.toml").write_text(sheet, encoding="utf-8")
    (body,) = document_of(hullcheck("skin", "--json"))["bodies"]
    assert (body["method"], body["parts"], body["invented"]) == ("offsets", [], [])
    assert body["volume_cm3"] == pytest.approx(500 * 80 * 50 / 1000.0, rel=1e-12)
    drawn = hullcheck("skin", "--drawing", "skin.svg", "--out", "skin.3mf")
    assert drawn.returncode == 0, drawn.stderr


def test_closed_files_apart_are_bodies(hullcheck, tmp_path):
    """Two closed boxes 200 mm apart: two bodies with the files' own triangles, no such note."""
    from make_bodies import box

    for name, y in (("a", 0.0), ("b", 300.0)):
        triangles = box(length_mm=300.0, beam_mm=60.0, height_mm=50.0, origin_mm=(0.0, y, 0.0))
        (tmp_path / f"{name}.stl").write_bytes(binary_stl_bytes(triangles))
    document = document_of(
        hullcheck(
            "skin", "a.stl", "b.stl", *MESHES, "--json", "--mass", "900", "--cg", "150,150,20"
        )
    )
    assert [(b["name"], b["role"], b["method"]) for b in document["bodies"]] == [
        ("a", "main float", "as filed"),
        ("b", "main float", "as filed"),
    ]
    # 900 g in two boxes of 300 × 60 mm of water of 0.9991 g/cm³.
    assert document["waterline"]["height_mm"] == pytest.approx(25.02, abs=0.01)
    assert "one-body" not in {note["code"] for note in document["warnings"]}


def test_a_file_that_is_not_there_is_one_line(hullcheck):
    """Exit 1 with the file's name."""
    done = hullcheck("skin", "no.stl")
    assert (done.returncode, done.stdout) == (1, "")
    assert len(done.stderr.splitlines()) == 1
    assert "no.stl" in done.stderr


def test_float_prints_openings_nobody_named_as_not_known(hullcheck, printed):
    """The hatch has no state: it counts as open, limits, and stands under Not known."""
    assert printed
    done = hullcheck("float")
    assert done.returncode == 0, done.stderr
    assert "opening at station 310" in done.stdout
    assert "Not known" in done.stdout
    document = json.loads(hullcheck("float", "--json").stdout)
    (point,) = [p for p in document["freeboard_mm"]["points"] if p["what"] == "opening"]
    assert point["state"] is None
    assert document["freeboard_mm"]["at"] == point["name"]
    assert "outer-skin" in {note["code"] for note in document["warnings"]}


def test_an_opening_in_doubt_within_the_limit_comes_first(hullcheck, printed):
    """A freeboard limit above the hatch: what is not known is the second line, exit 3."""
    text = SHEET + "[limits]\nfreeboard_mm = 60\n"
    build_in(printed, text, ledger=None, **segments())
    done = hullcheck("float")
    assert done.returncode == 3
    assert done.stdout.splitlines()[1].startswith("Not known")


def test_a_hole_in_the_bottom_is_refused_until_it_is_declared(hullcheck, printed):
    """60 × 40 mm under water: one line with what to write; the lid it names makes her float."""
    build_in(printed, SHEET, ledger=None, **segments(holes=(BOTTOM,)))
    done = hullcheck("float")
    assert (done.returncode, done.stdout) == (1, "")
    assert len(done.stderr.splitlines()) == 1
    for words in ("opening at station 130, 60 × 40 mm", "[[lid]]", "outline_mm", "floods = [["):
        assert words in done.stderr
    lid = done.stderr.split("[[lid]] ", 1)[1].split("; if it is a well")[0]
    name, outline = lid.split(" outline_mm")
    text = f"{SHEET}[[lid]]\n{name}\noutline_mm{outline}\n"
    build_in(printed, text, ledger=None, **segments(holes=(BOTTOM,)))
    closed = hullcheck("float")
    # She floats, and her bottom is an opening under water for as long as its state is not stated.
    assert closed.returncode in (0, 3), closed.stderr
    assert "lid at 130" in closed.stdout
    skin = document_of(hullcheck("skin", "--json"))
    assert [piece["kind"] for piece in skin["bodies"][0]["invented"]] == ["lid"]


def test_skin_shows_what_float_refuses(hullcheck, printed):
    """The hole in the bottom is listed as lying under water, with a note, exit 0."""
    build_in(printed, SHEET, ledger=None, **segments(holes=(BOTTOM,)))
    document = document_of(hullcheck("skin", "--json"))
    (piece,) = document["bodies"][0]["invented"]
    assert piece["under_water"] is True
    assert piece["area_under_water_cm2"] == pytest.approx(24.0, rel=0.05)
    assert "opening-under-water" in {note["code"] for note in document["warnings"]}


@pytest.mark.parametrize("parts", [("nose", "tail"), ("nose",)])
def test_float_on_bare_parts_names_the_line_that_begins_a_sheet(hullcheck, printed, parts):
    """Thin walls are refused, one or two, and the refusal ends with the command to use."""
    assert printed
    files = [f"{name}.stl" for name in parts]
    done = hullcheck("float", *files, *MESHES, "--mass", "700")
    assert (done.returncode, done.stdout) == (1, "")
    assert len(done.stderr.splitlines()) == 1
    assert done.stderr.rstrip().endswith(f"hullcheck begin {' '.join(files)} -o build.toml")


def test_the_line_that_begins_a_sheet_is_short_and_quoted(hullcheck, printed):
    """Twenty files are not all named; a blank in a name is quoted for the shell."""
    names = [f"part {i}.stl" for i in range(20)]
    for name in names:
        (printed / name).write_bytes(binary_stl_bytes(wall(aft=False)))
    done = hullcheck("float", *names, *MESHES, "--mass", "700")
    assert done.returncode == 1
    line = "hullcheck begin 'part 0.stl' 'part 1.stl' … 'part 19.stl' -o build.toml"
    assert done.stderr.rstrip().endswith(line)


def test_a_second_run_is_read_from_the_cache(hullcheck, printed):
    """The folder is there after the first run; the second prints the same."""
    first = hullcheck("float", "--json")
    assert list((printed / ".hullcheck").glob("skin-*.npz"))
    assert hullcheck("float", "--json").stdout == first.stdout
