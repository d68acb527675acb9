"""First build folders: what is written is read again, and nothing is overwritten."""

import csv

import pytest
from sheet_making import box, stl

from hullcheck.answers.begin_answer import first_look
from hullcheck.errors import InputError
from hullcheck.files.begin_parts import parts_of, read_files, unit_found
from hullcheck.files.begin_sheet import write_begun
from hullcheck.files.build_folder import load
from hullcheck.files.first_build import (
    FirstItem,
    body_text,
    name_for,
    write_first_build,
    write_offsets_build,
)
from hullcheck.geometry.outer_skin import outer_skin

HULL = body_text("hull", "hull", 'parts = ["hull.stl"]')
ROW = FirstItem(name="hull", group="hull")
STATED = {"unit": "mm", "forward": "-x", "up": "+z"}


def begun(sheet, *meshes, unit=None, forward=None, up=None):
    """Write a first build of meshes and return what was found and written."""
    files = read_files(meshes)
    found = unit_found(files, unit)
    parts, _ = parts_of(files, found.unit)
    look = first_look(parts, outer_skin, forward=forward, up=up)
    return look, write_begun(sheet, look, found, name="Test")


def filled(ledger):
    """Give every item of a ledger 100 g at a place, as a spreadsheet would."""
    with ledger.open(encoding="utf-8", newline="") as page:
        rows = list(csv.DictReader(page))
    with ledger.open("w", encoding="utf-8", newline="") as page:
        writer = csv.DictWriter(page, rows[0])
        writer.writeheader()
        writer.writerows(row | {"weighed_g": 100, "x_mm": 250, "z_mm": 30} for row in rows)
    return [row["item"] for row in rows]


@pytest.mark.parametrize(
    "lie",
    [STATED, {}, {"unit": "cm", "forward": "+y", "up": "-z"}],
    ids=["stated", "assumed", "other"],
)
def test_a_first_build_of_meshes_is_read_again(tmp_path, lie):
    """Sheet and ledger as written: the same bodies, roles and volumes; then with masses."""
    stl(tmp_path / "hull.stl", box())
    stl(tmp_path / "tip_float.stl", box(80.0, 30.0, 30.0, at=(200.0, 300.0, 30.0)))
    meshes = tmp_path / "hull.stl", tmp_path / "tip_float.stl"
    sheet = tmp_path / "build.toml"
    look, written = begun(sheet, *meshes, **lie)
    assert written == (sheet, tmp_path / "weights.csv")
    build = load(sheet)
    assert build.name == "Test"
    assert [(b.name, b.role) for b in build.bodies] == [(b.name, b.role) for b in look.bodies]
    scale = 1000.0 if lie.get("unit") == "cm" else 1.0
    volumes = [body.shell.volume_mm3 for body in build.bodies]
    assert volumes == pytest.approx([48e5 * scale, 72e3 * scale], rel=1e-6)
    for one, other in zip(build.bodies, look.bodies, strict=True):
        assert one.shell.low_mm == pytest.approx(other.low_mm, abs=1e-6)
        assert one.shell.high_mm == pytest.approx(other.high_mm, abs=1e-6)
    assert "unit-assumed" not in dict(build.notes)
    assert ("assumed" in sheet.read_text()) == (not lie)
    items = filled(written[1])
    assert items[:2] == ["hull", "tip float"]
    assert "battery" in items
    assert load(tmp_path).craft().mass_g == 100.0 * len(items)


def test_a_first_build_of_offsets_is_read_again(tmp_path):
    """The form with its example, the sheet and the ledger, in a folder named: she floats."""
    written, new = write_offsets_build(tmp_path, tmp_path / "hull.csv", name="Test")
    assert new
    assert [path.name for path in written] == ["build.toml", "weights.csv", "hull.csv"]
    build = load(tmp_path)
    assert [(b.name, b.role) for b in build.bodies] == [("hull", "hull")]
    assert build.bodies[0].shell.high_mm[0] == 470.0
    filled(written[1])
    assert load(tmp_path).craft().mass_g > 0.0


def test_a_form_that_is_there_is_kept(tmp_path):
    """A table of offsets that was written before is named in the sheet and left as it is."""
    form = tmp_path / "my hull.csv"
    form.write_text("mine")
    written, new = write_offsets_build(tmp_path / "build.toml", form, name="Test")
    assert not new
    assert form.read_text() == "mine"
    assert form not in written
    assert 'offsets = "my hull.csv"' in written[0].read_text()


@pytest.mark.parametrize("taken", ["build.toml", "weights.csv"])
def test_nothing_is_overwritten(tmp_path, taken):
    """A sheet or a ledger that is there: refused, and nothing at all is written."""
    (tmp_path / taken).write_text("mine")
    with pytest.raises(
        InputError, match=rf"{taken}: is there already and is not overwritten; .*-o"
    ):
        write_first_build(tmp_path / "build.toml", name="x", bodies=HULL, items=[ROW])
    with pytest.raises(InputError, match=rf"{taken}: is there already"):
        write_offsets_build(tmp_path, tmp_path / "hull.csv", name="x")
    assert [path.name for path in tmp_path.iterdir()] == [taken]
    assert (tmp_path / taken).read_text() == "mine"


def test_a_link_to_nothing_is_not_written_through(tmp_path):
    """A dangling link named build.toml counts as there."""
    (tmp_path / "build.toml").symlink_to(tmp_path / "elsewhere.toml")
    with pytest.raises(InputError, match=r"build\.toml: is there already"):
        write_first_build(tmp_path, name="x", bodies=HULL, items=[ROW])
    assert not (tmp_path / "elsewhere.toml").exists()


def test_a_form_that_cannot_be_written_leaves_no_half_a_build(tmp_path):
    """A form in a folder that is not there: refused before sheet and ledger are written."""
    with pytest.raises(InputError, match=r"hull\.csv: cannot be written"):
        write_offsets_build(tmp_path, tmp_path / "gone" / "hull.csv", name="x")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "name",
    [
        'the "old" one',
        "back\\slash\\now",
        "{name}",
        "Lærke 60",
        "it's # [no] comment",
        "tab\\t",
        '"""',
    ],
)
def test_names_survive(tmp_path, name):
    """Quotes, backslashes, braces and brackets in her name and in those of bodies come back."""
    stl(tmp_path / "hull.stl", box())
    body = body_text(name, "hull", 'parts = ["hull.stl"]')
    row = FirstItem(name=name, group="hull")
    written = write_first_build(tmp_path, name=name, bodies=body, items=[row])
    assert filled(written[1])[0] == name
    build = load(tmp_path)
    assert build.name == build.bodies[0].name == build.ledger.items[0].name == name


@pytest.mark.parametrize(
    "stem", ['say "hull"', "back\\slash", "a, b; c", " blank ", "ü", "a\u00a0b"]
)
def test_file_names_survive(tmp_path, stem):
    """A mesh whose name holds quotes, commas, blanks: the sheet finds it, the ledger has it."""
    mesh = tmp_path / f"{stem}.stl"
    stl(mesh, box())
    look, written = begun(tmp_path / "build.toml", mesh)
    items = filled(written[1])
    build = load(tmp_path)
    assert items[0] == build.bodies[0].name == look.bodies[0].name == " ".join(stem.split())
    assert build.ledger.names == tuple(items)


@pytest.mark.parametrize("stem", ["tab\there", "del\x7f", "line\nbreak", "latin\udce6"])
def test_file_names_no_sheet_can_hold_are_refused(tmp_path, stem):
    """Control characters and bytes that are no text: refused, and nothing is written."""
    stl(tmp_path / f"{stem}.stl", box())
    with pytest.raises(InputError, match=r"\?.*\.stl': its name holds a control character; rename"):
        begun(tmp_path / "build.toml", tmp_path / f"{stem}.stl")
    assert len(list(tmp_path.iterdir())) == 1


def test_a_body_called_like_a_usual_item_is_in_the_ledger_once(tmp_path):
    """A float called wing, a hull called Battery: no item stands there twice."""
    stl(tmp_path / "wing.stl", box())
    stl(tmp_path / "Battery.stl", box(50.0, at=(100.0, 300.0, 0.0)))
    _, written = begun(tmp_path, tmp_path / "wing.stl", tmp_path / "Battery.stl")
    items = filled(written[1])
    assert items[:3] == ["wing", "Battery", "tail"]
    assert load(tmp_path).ledger.names == tuple(items)


def test_parts_are_named_relative_to_the_sheet(tmp_path, monkeypatch):
    """A sheet in another folder, reached by a link too, from any working directory."""
    stl(tmp_path / "parts" / "hull.stl", box())
    (tmp_path / "plans" / "one").mkdir(parents=True)
    (tmp_path / "link").symlink_to(tmp_path / "plans" / "one")
    monkeypatch.chdir(tmp_path / "parts")
    begun("../link/build.toml", "hull.stl")
    sheet = tmp_path / "plans" / "one" / "build.toml"
    assert 'parts = ["../../parts/hull.stl"]' in sheet.read_text()
    monkeypatch.chdir("/")
    for path in (sheet, tmp_path / "link"):
        assert load(path).bodies[0].shell.volume_mm3 == pytest.approx(48e5, rel=1e-12)


@pytest.mark.parametrize(
    ("folder", "name"),
    [("tarnwing-90", "tarnwing 90"), ("my__new_boat", "my new boat"), ("- _", "my seaplane")],
)
def test_a_craft_is_called_after_her_folder(tmp_path, monkeypatch, folder, name):
    """Dashes and underscores are blanks; a sheet in the working directory has a folder too."""
    (tmp_path / folder).mkdir()
    assert name_for(tmp_path / folder) == name
    assert name_for(tmp_path / folder / "build.toml") == name
    monkeypatch.chdir(tmp_path / folder)
    assert name_for("build.toml") == name_for(".") == name
