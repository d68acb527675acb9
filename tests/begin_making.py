"""First builds to test with: begun, accepted, their ledgers; objects on a slicer's plates."""

import importlib
import re
import sys
from pathlib import Path

import numpy as np
from scipy.spatial.transform import Rotation

from hullcheck.answers.begin_answer import first_look
from hullcheck.files.begin_parts import parts_of, read_files, unit_found
from hullcheck.files.begin_sheet import write_begun
from hullcheck.geometry.outer_skin import outer_skin

sys.path.insert(0, str(Path(__file__).parent / "files"))
making = importlib.import_module("mesh_making")


def begin_files(folder, files, *, skin_of=outer_skin, over=(False, False), lie=(None, None)):
    """Write a first build of files; return what was found and the text of the sheet."""
    read = read_files(files)
    unit = unit_found(read, "mm")
    look = first_look(
        parts_of(read, unit.unit)[0],
        skin_of,
        forward=lie[0],
        up=lie[1],
        end_for_end=over[0],
        upside_down=over[1],
    )
    sheet, _ = write_begun(folder, look, unit, name="Test")
    return look, sheet.read_text(encoding="utf-8")


def accepted(text):
    """Return a sheet with the # taken away from the parts, as its comment says."""
    start = text.index("# parts = [\n")
    stop = text.index("# ]\n", start) + len("# ]\n")
    block = re.sub(r"^# ", "", text[start:stop], flags=re.MULTILINE)
    return text[:start] + block + text[stop:]


def rows(folder):
    """Return the rows of the ledger in a folder by item."""
    import csv

    with (folder / "weights.csv").open(encoding="utf-8", newline="") as page:
        return {row["item"]: row for row in csv.DictReader(page)}


def on_plate(number, *, turn_deg=0.0):
    """Return where a slicer may set an object down: turned about z and moved, 4 × 4."""
    where = np.eye(4)
    where[:3, :3] = Rotation.from_euler("z", turn_deg, degrees=True).as_matrix()
    where[:3, 3] = (180.0 * number, 140.0 * (number % 2), 0.0)
    return where


def project(path, meshes, items, *, unit="millimeter"):
    """Write a 3MF project as slicers do: each mesh in a model file of its own, placed by items.

    Meshes by title, a title being a name or nothing; items are (number of the mesh, 4 × 4).
    """
    objects, parts = [], {}
    for k, (title, triangles) in enumerate(meshes, start=1):
        points, faces = np.unique(np.reshape(triangles, (-1, 3)), axis=0, return_inverse=True)
        mesh = making.mesh_xml(points, faces.reshape(-1, 3))
        parts[f"3D/Objects/{k}.model"] = making.model_xml(
            [f'<object id="1">{mesh}</object>'], [], unit=unit
        )
        name = f' name="{title}"' if title else ""
        child = f'<component objectid="1" p:path="/3D/Objects/{k}.model"/>'
        objects.append(f'<object id="{k}"{name}><components>{child}</components></object>')
    placed = []
    for number, where in items:
        numbers = " ".join(repr(float(v)) for v in where[:3].T.reshape(-1))
        placed.append(f'<item objectid="{number + 1}" transform="{numbers}"/>')
    path.write_bytes(making.package(making.model_xml(objects, placed, unit=unit), parts))
    return path
