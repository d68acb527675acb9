"""Puts this folder on the path, so that its checks share what they have in common; their bodies."""

import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

HERE = Path(__file__).parent
MESHES = HERE.parents[1] / "meshes"
for folder in (HERE, MESHES):
    if str(folder) not in sys.path:
        sys.path.insert(0, str(folder))

BODIES = (
    "tarnwing_hull",
    "tarnwing_starboard_float",
    "box",
    "wedge",
    "cylinder",
    "sphere",
    "stepped",
    "parabolic",
)


@dataclass(frozen=True, kw_only=True, eq=False)
class Afloat:
    """A body in its STL file, and what the product says lies under each of some planes.

    Attributes
    ----------
    path : Path
        Binary STL.
    triangles : ndarray, shape (n, 3, 3)
        As the product read them [mm].
    skin : Skin
        The body as the product holds it.
    planes : list of (ndarray, float)
        Unit normal and height [mm]: where the body rests at a load first, then planes drawn at
        random.
    """

    path: Path
    triangles: np.ndarray
    skin: object
    planes: list

    def under(self):
        """Yield each plane's normal and height [mm], and volume [mm³], centroid, cut area [mm²]."""
        tree = self.skin.tree
        for normal, height in self.planes:
            wet = tree.under(normal, height - normal @ tree.origin_mm)
            centroid = tree.origin_mm + wet.position_integral / wet.volume
            yield normal, height, wet.volume, centroid, wet.area


@pytest.fixture(scope="session", params=BODIES)
def afloat(request, tmp_path_factory):
    """Return a body read from STL and planes through it: half a dozen shapes, flat and round."""
    from make_bodies import on_grid, parabolic_hull, stepped_box
    from outside import planes
    from stl_bytes import stl_bytes

    from hullcheck.files.meshes import read_mesh
    from hullcheck.flotation.floating import float_at
    from hullcheck.geometry.shells import outer_shells
    from hullcheck.geometry.skin import Skin

    path = MESHES / f"{request.param}.stl"
    drawn = {
        "stepped": lambda: stepped_box(
            length_mm=600.0,
            beam_mm=110.0,
            height_mm=80.0,
            step_station_mm=290.0,
            step_depth_mm=9.0,
            deadrise_deg=15.0,
            forebody_keel_deg=2.0,
            afterbody_keel_deg=5.0,
        ),
        "parabolic": lambda: parabolic_hull(
            length_mm=600.0, beam_mm=120.0, draft_mm=60.0, freeboard_mm=30.0
        ),
    }
    if request.param in drawn:
        path = tmp_path_factory.mktemp("drawn") / f"{request.param}.stl"
        path.write_bytes(stl_bytes(on_grid(drawn[request.param]()), request.param))
    (part,) = read_mesh(path).parts
    found = outer_shells(request.param, part.triangles)
    skin = Skin(names=(request.param,), shells=found.shells)
    middle = 0.5 * (skin.tree.low_mm + skin.tree.high_mm)
    rest = float_at(
        skin,
        mass_g=4e-4 * skin.volume_mm3,
        center_of_gravity_mm=middle + np.array([6.0, 1.0, -12.0]),
    ).floating
    normals, heights = planes(part.triangles, 9, seed=len(part.triangles))
    drawn_planes = [(rest.normal, rest.height_mm), *zip(normals, heights, strict=True)]
    return Afloat(path=path, triangles=part.triangles, skin=skin, planes=drawn_planes)
