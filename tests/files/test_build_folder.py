"""Builds from their folders: sheet, ledger and meshes together, and what they say of themselves."""

import shutil
from pathlib import Path

import make_printed as printed
import numpy as np
import pytest
from sheet_making import CRAFT, HULL, LEDGER, OPENING, SETUP, SHEET, box, build_in

import hullcheck
from hullcheck.errors import HullcheckError, InputError
from hullcheck.files.bodies import read_bodies
from hullcheck.files.build_folder import load
from hullcheck.files.reading import Reading

ROOT = Path(__file__).parents[2]
DEMO = {
    "build.toml": "tarnwing_build.toml",
    "weights.csv": "tarnwing_weights.csv",
    "parts/tip_float.stl": "tarnwing_tip_float.stl",
    **{
        f"parts/{part}.stl": f"printed/{part}.stl"
        for part in ("nose", "fore", "mid", "aft", "stern", "hatch")
    },
}


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """Return the folder of the demo craft's build, copied."""
    folder = tmp_path_factory.mktemp("demo") / "tarnwing-90"
    (folder / "parts").mkdir(parents=True)
    for name, carried in DEMO.items():
        shutil.copyfile(ROOT / "meshes" / carried, folder / name)
    return folder


def test_the_demo_is_read_whole(demo):
    """The demo craft: bodies, roles, openings, fittings and setups as her sheet says."""
    build = load(demo)
    assert build.name == "Tarnwing 90"
    assert [code for code, _ in build.notes] == ["outer-skin"]
    assert [(b.name, b.role) for b in build.bodies] == [
        ("hull", "hull"),
        ("starboard tip float", "tip float"),
        ("port tip float", "tip float"),
    ]
    assert [b.shell.low_mm[1] > 300.0 for b in build.bodies] == [False, True, False]
    assert build.bodies[2].shell.high_mm[1] < -300.0
    assert build.limits.trim_deg == (0.0, 4.0)
    assert build.cg_range_mm == (246.0, 258.0)
    assert build.target_mass_g == 690.0
    assert [(o.called, o.state) for o in build.openings] == [
        ("canopy edge", "taped"),
        ("motor pylon", "sealed"),
        ("starboard servo slot", "taped"),
        ("pushrod exit", "open"),
        ("opening at station 416 to port, 24 × 12 mm", None),
    ]
    assert [m.name for m in build.fittings.marks] == ["bow", "stern", "step"]
    assert build.fittings.propeller.up_deg == 2.0
    assert build.fittings.wing.tip_mm == (185.0, 448.0, 106.0)
    assert build.fittings.leaks[0].diameter_mm == 0.5
    hull = build.structures["hull"]
    assert (hull.wall_mm, hull.density_g_cm3) == (1.0, 1.24)
    assert [(b.station_mm, b.watertight, b.limber_mm) for b in hull.bulkheads] == [
        (120.0, True, None),
        (310.0, False, 4.0),
    ]


def test_the_printed_parts_of_the_demo_make_her_skin(demo):
    """Her hull: the volume her drawn skin has, seams at the cuts, each hole as the sheet has it."""
    build = load(demo)
    skin = build.skins[0].skin
    drawn = printed.printed_skin_triangles()
    volume = np.einsum("ij,ij->", drawn[:, 0], np.cross(drawn[:, 1], drawn[:, 2])) / 6.0
    made = sum(shell.volume_mm3 for shell in build.skins[0].shells)
    # The stated error covers how the openings are closed: straight, where the deck is curved.
    assert abs(made - volume) <= build.skins[0].error_mm3 < 1e-3 * volume
    stations = sorted(seam.station_mm for seam in build.fittings.seams)
    assert stations == sorted(round(float(seam.place_mm[0]), 3) for seam in skin.seams)
    assert stations == list(printed.CUTS_MM)
    states = build.skins[0].states
    assert sorted(states.values()) == ["sealed", "taped", "taped"]
    assert len([patch for patch in skin.patches if patch.kind != "seam"]) == 4


def test_setups_of_the_demo_change_what_they_name(demo):
    """Each setup can be floated; grams, places, openings and water are what it says."""
    build = load(demo)
    plain = build.craft()
    heavy = build.craft("heavy battery, sea, hatch open")
    assert heavy.mass_g == pytest.approx(plain.mass_g + 85.0, rel=1e-15)
    assert heavy.water.kind == "sea"
    assert [o.state for o in heavy.openings][:2] == ["open", "sealed"]
    assert heavy.center_of_gravity_mm[0] == pytest.approx(252.7, abs=0.1)
    wet = build.craft("wet after a shower")
    assert wet.mass_g == pytest.approx(plain.mass_g + 20.0, rel=1e-15)
    battery = build.ledger.item("battery").mass_g
    assert build.craft("bare, no battery").mass_g == pytest.approx(plain.mass_g - battery)


def test_the_second_example_is_read_whole():
    """Twin floats from offsets: both floats, abreast, with the error that is stated."""
    build = load(ROOT / "examples" / "twin-floats")
    one, twin = build.bodies
    assert (one.name, twin.name) == ("starboard float", "port float")
    assert one.shell.volume_mm3 == twin.shell.volume_mm3
    assert one.volume_error_mm3 > 0.0
    assert [code for code, _ in build.notes] == ["offsets-read"]
    assert hullcheck.float_answer(build.craft()).rest == "upright"


def test_a_sheet_and_its_mesh_say_the_same_to_the_last_digit(tmp_path):
    """The same mesh through a sheet with a ledger of one line, and straight: equal numbers."""
    ledger = "item,weighed_g,x_mm,y_mm,z_mm\nall,1234.5,301.25,0,31.75\n"
    path = build_in(tmp_path, ledger=ledger)
    craft = load(path).craft()
    found = read_bodies([tmp_path / "hull.stl"], Reading(unit="mm", forward="-x", up="+z"))
    straight = hullcheck.Craft(
        name="Test",
        bodies=found.bodies,
        mass_g=1234.5,
        center_of_gravity_mm=(301.25, 0.0, 31.75),
        water=hullcheck.fresh_water(),
    )
    assert craft.mass_g == straight.mass_g
    assert craft.center_of_gravity_mm == straight.center_of_gravity_mm
    one, other = hullcheck.float_answer(craft), hullcheck.float_answer(straight)
    assert one.draft_mm == other.draft_mm
    assert one.trim_deg == other.trim_deg


def test_the_ledger_beside_the_sheet_counts(tmp_path):
    """Weighed before planned, moments summed by hand."""
    build = load(build_in(tmp_path))
    craft = build.craft()
    assert craft.mass_g == 310.0 + 200.0 + 40.0
    # (310 · 290 + 200 · 150 + 40 · 250) / 550 and (310 · 30 + 200 · 20 + 40 · 10) / 550.
    assert craft.center_of_gravity_mm == pytest.approx((129900 / 550, 0.0, 13700 / 550))
    assert build.notes == ()


def test_measured_mass_and_center_stand_in_for_the_ledger(tmp_path):
    """mass_g and cg_mm of the sheet override the sums, which are kept to be printed."""
    craft = CRAFT + "mass_g = 702\ncg_mm = [251, 0, 34]\n"
    made = load(build_in(tmp_path, SHEET.replace(CRAFT, craft))).craft()
    assert (made.mass_g, made.center_of_gravity_mm) == (702.0, (251.0, 0.0, 34.0))
    assert made.weighing.ledger_mass_g == 550.0
    assert made.weighing.mass_is_measured


def test_without_a_ledger_there_are_no_items(tmp_path):
    """A sheet alone is read; floated she can be only with a mass in the sheet."""
    build = load(build_in(tmp_path, ledger=None))
    assert build.ledger.items == ()
    with pytest.raises(InputError, match=r"Test: her mass is not known; write weights\.csv"):
        build.craft()
    measured = SHEET.replace(CRAFT, CRAFT + "mass_g = 1200\n")
    craft = load(build_in(tmp_path, measured, ledger=None)).craft()
    assert (craft.mass_g, craft.center_of_gravity_mm) == (1200.0, None)


@pytest.mark.parametrize(
    ("ledger", "said"),
    [
        ("item,weighed_g\nhull,heavy\n", r"weights\.csv row 2.*'heavy'"),
        ("item,weighed_g\nhull,1\nhull,2\n", r"weights\.csv row 3.*'hull'.*stands in row 2"),
        ("what,weighed_g\nhull,1\n", r"weights\.csv.*'item'"),
    ],
)
def test_what_is_wrong_in_the_ledger_is_told_by_file_and_row(tmp_path, ledger, said):
    """A word for a mass, an item twice, a column that lacks: refused in reading the build."""
    with pytest.raises(InputError, match=said):
        load(build_in(tmp_path, ledger=ledger))


def test_a_ledger_that_leads_nowhere_is_not_passed_over(tmp_path):
    """A link to nothing and a folder named weights.csv are refused, not taken for no ledger."""
    path = build_in(tmp_path, ledger=None)
    (tmp_path / "weights.csv").symlink_to("gone.csv")
    with pytest.raises(HullcheckError, match=r"weights\.csv: "):
        load(path)
    (tmp_path / "weights.csv").unlink()
    (tmp_path / "weights.csv").mkdir()
    with pytest.raises(HullcheckError, match=r"weights\.csv: .*folder"):
        load(path)


def test_notes_say_what_was_assumed_and_left_out(tmp_path):
    """Without [axes] unit and axes are assumed; lids of a closed body do nothing."""
    lid = '[[lid]]\nname = "canopy"\noutline_mm = [[1, 0, 0], [2, 0, 0], [2, 1, 0]]\n'
    build = load(build_in(tmp_path, CRAFT + HULL + lid))
    assert [code for code, _ in build.notes] == ["unit-assumed", "axes-assumed", "lids-idle"]
    assert build.notes[0][1].endswith("hull.stl: binary STL states no unit; mm assumed")
    assert build.notes[2][1].endswith("all bodies here are closed: canopy")


def test_progress_is_told(tmp_path):
    """What is read, what is proved closed."""
    told = []
    load(build_in(tmp_path), progress=told.append)
    assert told[0] == "reading hull.stl"
    assert "proving that hull is closed" in told
    assert told[-1] == "looking for bodies that touch or overlap"


def test_only_the_files_of_the_build_are_opened(tmp_path, monkeypatch, opened_files):
    """Other sheets and ledgers, in the working directory too, are left alone."""
    path = build_in(tmp_path / "build")
    decoy = tmp_path / "decoy"
    build_in(decoy, "no sheet", ledger="no ledger", hull=box(10.0))
    monkeypatch.chdir(decoy)
    load(path)
    with opened_files() as opened:
        build = load(path)
    assert sorted(opened) == sorted(
        f"open {path.parent / name}" for name in ("build.toml", "weights.csv", "hull.stl")
    )
    assert build.ledger.names == ("hull", "battery", "wheels")


def test_the_order_of_tables_does_not_matter(tmp_path):
    """Setups before the openings they name, a body after all else."""
    setup = SETUP + 'openings = { "canopy edge" = "sealed" }\nadd = { battery = 5 }\n'
    one = load(build_in(tmp_path / "a", SHEET + OPENING + setup))
    other = load(build_in(tmp_path / "b", setup + HULL + OPENING + SHEET.replace(HULL, "")))
    assert one.setups == other.setups
    assert one.craft("wet").mass_g == other.craft("wet").mass_g == 560.0
    assert other.craft("wet").openings[0].state == "sealed"


def test_all_items_of_a_long_ledger_are_read(tmp_path):
    """500 items: their sum, and a setup of the last."""
    rows = "".join(f"item {i},{i % 7},{i},0,{i % 30}\n" for i in range(500))
    setup = SETUP + 'off = ["item 499"]\n'
    sheet = build_in(tmp_path, SHEET + setup, ledger="item,planned_g,x_mm,y_mm,z_mm\n" + rows)
    build = load(sheet)
    mass = sum(i % 7 for i in range(500))
    assert build.craft().mass_g == mass
    assert build.craft("wet").mass_g == mass - 499 % 7 + 5.0
    assert LEDGER.count("\n") == 4
