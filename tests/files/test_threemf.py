"""3MF packages made by hand: units, transforms, components, parts in other files.

What a package means is taken from the 3MF Consortium's *Core Specification* 1.2 (chapters 3 and 4)
and *Production Extension* 1.2 (chapter 3); volumes are those of the prism's closed form.
"""

import importlib
import io
import sys
from pathlib import Path

import numpy as np
import pytest
import trimesh

from hullcheck.files.threemf import read_threemf
from hullcheck.units import MM_PER_UNIT

sys.path.insert(0, str(Path(__file__).parent))
making = importlib.import_module("mesh_making")

threemf = importlib.import_module("threemf_reading")
HULL, read = threemf.HULL, threemf.read
# float64 sums of eight products of about 1e7 mm³: 1e-9 mm³ on 6e5.
ROUNDING = 1e-12


def test_a_plain_package_is_read_to_the_last_bit():
    """One object, one item: the numbers as written, the name, the default unit."""
    mesh_file = read_threemf(making.one_object_package(), "craft.3mf")
    assert (mesh_file.kind, mesh_file.unit, mesh_file.up) == ("3MF", "mm", None)
    assert [part.name for part in mesh_file.parts] == ["hull"]
    assert np.array_equal(mesh_file.parts[0].triangles, making.VERTICES[making.FACES])


def test_trimesh_agrees_on_transforms():
    """A turned, stretched and moved item lies where trimesh puts it."""
    transform = "0 2 0 -1 0 0 0 0 3 10 20 30"
    data = making.package(
        making.model_xml([HULL], [f'<item objectid="1" transform="{transform}"/>'])
    )
    loaded = trimesh.load(io.BytesIO(data), file_type="3mf", process=False).to_mesh()
    ours = making.all_triangles(read_threemf(data, "craft.3mf"))
    order = np.lexsort(ours.reshape(-1, 9).T)
    theirs = np.asarray(loaded.triangles).reshape(-1, 9)
    np.testing.assert_allclose(
        ours.reshape(-1, 9)[order], theirs[np.lexsort(theirs.T)], rtol=ROUNDING
    )


@pytest.mark.parametrize(
    ("unit", "stated", "mm"),
    [
        ("micron", "mm", 0.001),
        ("millimeter", "mm", 1.0),
        ("centimeter", "cm", 10.0),
        ("inch", "inch", 25.4),
        ("foot", "mm", 304.8),
        ("meter", "m", 1000.0),
    ],
)
def test_every_unit_of_the_format(unit, stated, mm):
    """The volume in mm³ follows the unit; the foot is 12 inches of 25.4 mm, exactly."""
    mesh_file = read_threemf(making.one_object_package(unit=unit), "craft.3mf")
    assert mesh_file.unit == stated
    triangles = making.OFFSET + (making.all_triangles(mesh_file) * MM_PER_UNIT[stated])
    assert making.volume(triangles) == pytest.approx(making.VOLUME * mm**3, rel=1e-9)


def test_a_slicer_project_with_parts_in_other_files():
    """Meshes under /3D/Objects, assembled by the root model, all of them and nothing else."""
    child = making.model_xml(
        [
            HULL,
            f'<object id="2" type="other">{making.mesh_xml()}</object>',
            f'<object id="3" type="support">{making.mesh_xml()}</object>',
            f'<object id="9">{making.mesh_xml()}</object>',
        ],
        ['<item objectid="9"/>'],
    )
    shrunk = "0.5 0 0 0 0.5 0 0 0 0.5 0 0 100"
    boat = (
        '<object id="4" name="flying boat"><components>'
        '<component objectid="1" p:path="/3D/Objects/hull_1.model" p:UUID="a"/>'
        '<component objectid="2" p:path="/3D/Objects/hull_1.model"/>'
        '<component objectid="3" p:path="/3D/Objects/hull_1.model"/>'
        f'<component objectid="1" p:path="/3d/objects/HULL_1.model" transform="{shrunk}"/>'
        "</components></object>"
    )
    root = making.model_xml(
        [
            boat,
            f'<object id="5" name="never built">{making.mesh_xml()}</object>',
        ],
        [
            '<item objectid="4" transform="1 0 0 0 1 0 0 0 1 128 128 0" printable="1"/>',
            '<item objectid="1" p:path="/3D/Objects/hull_1.model"/>',
        ],
        extra='requiredextensions="p"',
    )
    data = making.package(
        root,
        {
            "3D/Objects/hull_1.model": child,
            "3D/_rels/3dmodel.model.rels": making.RELATIONSHIPS,
            "Metadata/model_settings.config": "<config/>",
        },
    )
    mesh_file = read_threemf(data, "craft.3mf")
    assert [part.name for part in mesh_file.parts] == ["flying boat", "hull"]
    both, one = (part.triangles for part in mesh_file.parts)
    assert making.volume(both) == pytest.approx(making.VOLUME * (1 + 0.5**3), rel=1e-9)
    assert making.volume(one) == pytest.approx(making.VOLUME, rel=ROUNDING)
    np.testing.assert_allclose(both[:8], one + np.array([128.0, 128.0, 0.0]), rtol=ROUNDING)


def test_nested_transforms_are_done_from_the_inside_out():
    """A point goes through the component's transform first, the item's last."""
    inner = '<component objectid="1" transform="1 0 0 0 1 0 0 0 1 5 0 0"/>'
    outer = '<component objectid="2" transform="0 1 0 -1 0 0 0 0 1 0 7 0"/>'
    objects = [
        HULL,
        f'<object id="2"><components>{inner}</components></object>',
        f'<object id="3"><components>{outer}</components></object>',
    ]
    mesh_file = read(objects, ['<item objectid="3" transform="2 0 0 0 3 0 0 0 4 0 0 1"/>'])
    x, y, z = np.moveaxis(making.VERTICES[making.FACES], -1, 0)
    # x + 5; then x → y and y → −x, y + 7; then stretched, z + 1.
    wanted = np.stack([-2 * y, 3 * (x + 5 + 7), 4 * z + 1], axis=-1)
    np.testing.assert_allclose(mesh_file.parts[0].triangles, wanted, rtol=ROUNDING)


@pytest.mark.parametrize("item", ["-1 0 0 0 1 0 0 0 1 0 0 0", "1 0 0 0 -1 0 0 0 1 0 0 0"])
def test_a_mirrored_part_still_faces_outward(item):
    """Core Specification 4.1: with a negative determinant the vertex order is inverted."""
    mirrored = '<component objectid="1" transform="1 0 0 0 1 0 0 0 -1 0 0 0"/>'
    objects = [HULL, f'<object id="2"><components>{mirrored}</components></object>']
    for built in ('<item objectid="2"/>', f'<item objectid="1" transform="{item}"/>'):
        triangles = read(objects, [built]).parts[0].triangles
        assert making.volume(triangles) == pytest.approx(making.VOLUME, rel=1e-9)
    twice = read(objects, [f'<item objectid="2" transform="{item}"/>']).parts[0].triangles
    assert making.volume(twice) == pytest.approx(making.VOLUME, rel=1e-9)
