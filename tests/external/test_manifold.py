"""The same bodies and planes given to manifold3d, a library of exact solid operations."""

import pytest
from outside import indexed, required, tetrahedra

manifold3d = required("manifold3d")


def solid_of(triangles):
    """Return the triangles as a manifold3d solid in 64-bit numbers."""
    points, faces = indexed(triangles)
    solid = manifold3d.Manifold(manifold3d.Mesh64(points, faces.astype("uint64")))
    assert solid.status() == manifold3d.Error.NoError
    return solid


def test_manifold3d_trims_to_the_same_volume_and_centroid(afloat):
    """Volume to 1e-9, and the centroid of the trimmed solid's triangles to 1e-9 of the length."""
    solid, length = solid_of(afloat.triangles), afloat.skin.tree.length_mm
    assert afloat.skin.volume_mm3 == pytest.approx(solid.volume(), rel=1e-9)
    for normal, height, volume, centroid, _ in afloat.under():
        wet = solid.trim_by_plane(-normal, -height)
        assert volume == pytest.approx(wet.volume(), rel=1e-9)
        trimmed = wet.to_mesh64()
        corners = trimmed.vert_properties[:, :3][trimmed.tri_verts]
        assert centroid == pytest.approx(tetrahedra(corners)[1], rel=0, abs=1e-9 * length)


def test_manifold3d_parts_sum_to_the_whole(afloat):
    """Below by the product and above by manifold3d make the whole, to 1e-9 of it."""
    solid = solid_of(afloat.triangles)
    for normal, height, volume, _, _ in afloat.under():
        above = solid.trim_by_plane(normal, height).volume()
        assert volume + above == pytest.approx(afloat.skin.volume_mm3, rel=1e-9)
