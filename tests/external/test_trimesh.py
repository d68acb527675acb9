"""The same bodies and planes given to trimesh: it slices, caps the cut and measures."""

import numpy as np
import pytest
from outside import indexed, required

trimesh = required("trimesh")
for cap_library in ("shapely", "mapbox_earcut", "networkx"):
    required(cap_library)


def mesh_of(triangles):
    """Return the triangles as trimesh holds them, with nothing cleaned or merged by it."""
    points, faces = indexed(triangles)
    return trimesh.Trimesh(points, faces, process=False, validate=False)


def test_trimesh_measures_the_same_whole(afloat):
    """Volume, area and centroid of the whole body."""
    mesh = trimesh.load_mesh(afloat.path)
    tree = afloat.skin.tree
    whole = tree.under(np.array([0.0, 0.0, 1.0]), 1.0 + tree.length_mm)
    center = tree.origin_mm + whole.position_integral / whole.volume
    assert afloat.skin.volume_mm3 == pytest.approx(mesh.volume, rel=1e-9)
    assert afloat.skin.shells[0].area_mm2 == pytest.approx(mesh.area, rel=1e-9)
    assert center == pytest.approx(mesh.center_mass, rel=0, abs=1e-9 * tree.length_mm)


def test_trimesh_slices_off_the_same_volume_centroid_and_area(afloat):
    """Volume and waterplane area to 1e-9 of themselves, the centroid to 1e-9 of the length."""
    mesh, length = mesh_of(afloat.triangles), afloat.skin.tree.length_mm
    for normal, height, volume, centroid, area in afloat.under():
        wet = mesh.slice_plane(height * normal, -normal, cap=True)
        assert wet.is_watertight
        assert volume == pytest.approx(wet.volume, rel=1e-9)
        assert centroid == pytest.approx(wet.center_mass, rel=0, abs=1e-9 * length)
        on_plane = (np.abs(wet.triangles @ normal - height) < 1e-9 * length).all(axis=1)
        assert area == pytest.approx(wet.area_faces[on_plane].sum(), rel=1e-9)


def test_trimesh_sections_have_the_same_area(afloat):
    """The area that trimesh's section polygons enclose, holes taken off, to 1e-9."""
    mesh = mesh_of(afloat.triangles)
    for normal, height, _, _, area in afloat.under():
        flat, _ = mesh.section(plane_origin=height * normal, plane_normal=normal).to_2D()
        assert area == pytest.approx(flat.area, rel=1e-9)
