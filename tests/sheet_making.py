"""Build folders to test with: a sheet, a ledger, boxes as STL."""

import make_bodies
import numpy as np
import pytest

from hullcheck.errors import HullcheckError
from hullcheck.files.build_folder import load
from hullcheck.files.stl_writer import binary_stl_bytes

CRAFT = '[craft]\nname = "Test"\n'
AXES = '[axes]\nunit = "mm"\nforward = "-x"\nup = "+z"\n'
HULL = '[[body]]\nname = "hull"\nrole = "hull"\nparts = ["hull.stl"]\n'
SHEET = CRAFT + AXES + HULL
OPENING = '[[opening]]\nname = "canopy edge"\npoints_mm = [[100, 0, 60]]\n'
SEAM = '[[seam]]\nname = "joint"\nbody = "hull"\nstation_mm = 120\n'
MARK = '[[mark]]\nname = "bow"\npoint_mm = [40, 20, 60]\n'
SETUP = '[[setup]]\nname = "wet"\nwet_g = 5\n'
LID = '[[lid]]\nname = "canopy"\noutline_mm = [[1, 0, 0], [2, 0, 0], [2, 1, 0]]\n'
LEAK = '[[leak]]\nname = "pinhole"\npoint_mm = [1, 2, 3]\ndiameter_mm = 0.5\n'
EQUIPMENT = '[[equipment]]\nitem = "battery"\n'
FLOAT = '[[body]]\nname = "float"\nrole = "tip float"\nparts = ["hull.stl"]\nmirror = "twin"\n'
LEDGER = (
    "item,group,planned_g,weighed_g,x_mm,y_mm,z_mm\n"
    "hull,hull,300,310,290,0,30\n"
    "battery,drive,200,,150,0,20\n"
    "wheels,gear,,40,250,0,10\n"
)


def box(length_mm=600.0, beam_mm=100.0, height_mm=80.0, *, at=(0.0, 0.0, 0.0)):
    """Return a box (12, 3, 3) [mm], the middle of its bottom's forward edge at a place."""
    sizes = {"length_mm": length_mm, "beam_mm": beam_mm, "height_mm": height_mm}
    return make_bodies.box(**sizes, origin_mm=at)


def stl(path, triangles):
    """Write triangles as binary STL."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(binary_stl_bytes(triangles))


def build_in(folder, sheet=SHEET, *, ledger=LEDGER, **parts):
    """Write a build folder, its parts by stem, a box as hull.stl unless given; return the sheet."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, triangles in {"hull": box(), **parts}.items():
        stl(folder / f"{name}.stl", triangles)
    if ledger is not None:
        (folder / "weights.csv").write_text(ledger, encoding="utf-8")
    path = folder / "build.toml"
    path.write_text(sheet, encoding="utf-8")
    return path


def corners(triangles):
    """Return the corners that occur in triangles, as a set of points."""
    return {tuple(point) for point in (np.asarray(triangles).reshape(-1, 3) + 0.0).tolist()}


def solid(triangles):
    """Return triangles as a mesh of an outside library."""
    import trimesh

    points = np.asarray(triangles, dtype=float).reshape(-1, 3)
    return trimesh.Trimesh(*(points, np.arange(len(points)).reshape(-1, 3)), process=True)


def marked(table):
    """Return a table with its header's line marked."""
    return table.replace("]]\n", "]] # here\n", 1)


def refused(folder, text, said, *, head=SHEET, ledger=LEDGER, **parts):
    """Check that a sheet with a text at its end is refused in one line, the one marked # here."""
    page = head + text
    path = build_in(folder, page, ledger=ledger, **parts)
    line = page[: page.index("# here")].count("\n") + 1
    with pytest.raises(HullcheckError, match=said) as caught:
        load(path)
    message = str(caught.value)
    assert message.isprintable()
    assert message.startswith(f"{path} line {line}, ")
    return caught.value
