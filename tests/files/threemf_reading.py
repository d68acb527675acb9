"""The hull as a 3MF object, and what a package of objects and items is read as."""

import importlib
import sys
from pathlib import Path

from hullcheck.files.threemf import read_threemf

sys.path.insert(0, str(Path(__file__).parent))
making = importlib.import_module("mesh_making")

HULL = f'<object id="1" name="hull">{making.mesh_xml()}</object>'


def read(objects, items, parts=None, **options):
    """Return what a package of these elements is read as."""
    model = making.model_xml(objects, items, **options)
    return read_threemf(making.package(model, parts), "craft.3mf")
