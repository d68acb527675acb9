"""From a folder of printed parts to where she floats, held against the design surface itself."""

import json
import shutil
from pathlib import Path

import make_printed
import numpy as np
import pytest

from hullcheck.flotation.floating import float_at
from hullcheck.geometry.shells import outer_shells
from hullcheck.geometry.skin import Skin

MESHES = Path(__file__).resolve().parents[2] / "meshes"
MASS_G, CENTER_MM = 702.0, (252.0, 0.0, 45.0)
AGREED_MM = 0.02
"""How far a waterline may lie from that of the surface the parts were made from."""


def copied(folder, where):
    """Put the parts of a folder of the demo's meshes under parts/, and return their names."""
    (where / "parts").mkdir()
    for path in sorted((MESHES / folder).glob("*.stl")):
        shutil.copy(path, where / "parts" / path.name)
    return [f"parts/{path.name}" for path in sorted((where / "parts").iterdir())]


def with_mass(sheet):
    """Type mass and CG into a sheet that begin wrote."""
    text = sheet.read_text()
    filled = text.replace("# mass_g = 712 ", f"mass_g = {MASS_G:g} ")
    filled = filled.replace("# cg_mm = [248, 0, 45]", f"cg_mm = {list(CENTER_MM)}")
    assert filled.count("\nmass_g") == filled.count("\ncg_mm") == 1
    sheet.write_text(filled)


def accepted(sheet):
    """Take the # away from the suggested places, as the sheet says to."""
    lines = sheet.read_text().split("\n")
    start = lines.index("# parts = [")
    for number in range(start, lines.index("# ]", start) + 1):
        lines[number] = lines[number].removeprefix("# ")
    sheet.write_text("\n".join(lines))


def heights_mm(normal, height):
    """Return how high a water plane stands at the bow and at the stern, z [mm]."""
    low, high = 0.0, make_printed.printed_skin_triangles()[..., 0].max()
    return np.array([(height - normal[0] * x) / normal[2] for x in (low, high)])


def design_waterline(density):
    """Return the water's height at bow and stern on the closed surface of the design [mm]."""
    shells = outer_shells("design", make_printed.printed_skin_triangles()).shells
    rest = float_at(
        Skin(names=("design",), shells=shells),
        mass_g=MASS_G,
        center_of_gravity_mm=np.array(CENTER_MM),
        density_kg_m3=density,
    ).floating
    return heights_mm(rest.normal, rest.height_mm)


@pytest.mark.parametrize("folder", ["printed", "print_axes"])
def test_printed_parts_float_where_the_design_does(hullcheck, tmp_path, folder):
    """begin, mass and CG typed in, float: the waterline is the design's, to 0.02 mm.

    Source: the closed surface that the printed parts were cut from.
    """
    begun = hullcheck("begin", *copied(folder, tmp_path), "-o", "build.toml")
    assert begun.returncode == 0, begun.stderr
    sheet = tmp_path / "build.toml"
    with_mass(sheet)
    if folder == "print_axes":
        refused = hullcheck("float", "build.toml")
        assert refused.returncode == 1
        assert "Traceback" not in refused.stderr
        accepted(sheet)
    afloat = hullcheck("float", "build.toml", "--json")
    assert afloat.returncode == 0, afloat.stderr
    answer = json.loads(afloat.stdout)
    waterline = heights_mm(answer["waterline"]["normal"], answer["waterline"]["height_mm"])
    expected = design_waterline(answer["water"]["density_kg_m3"])
    assert np.abs(waterline - expected).max() < AGREED_MM


def test_single_wall_sheets_float_where_the_design_does(hullcheck, tmp_path):
    """The same from sheets without thickness, ribs and all, the canopy open."""
    begun = hullcheck("begin", *copied("single_wall", tmp_path), "-o", "build.toml")
    assert begun.returncode == 0, begun.stderr
    with_mass(tmp_path / "build.toml")
    afloat = hullcheck("float", "build.toml", "--json")
    assert afloat.returncode == 0, afloat.stderr
    answer = json.loads(afloat.stdout)
    waterline = heights_mm(answer["waterline"]["normal"], answer["waterline"]["height_mm"])
    expected = design_waterline(answer["water"]["density_kg_m3"])
    assert np.abs(waterline - expected).max() < AGREED_MM
