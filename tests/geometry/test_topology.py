"""Which corners are one point, which edges meet, which triangles hang together."""

import make_bodies as bodies
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from open_boxes import lacking
from strategies import SEEDS, bumpy

from hullcheck.geometry.arrays import bounds, owned
from hullcheck.geometry.rims import flat_ends_meet, rim_of, rims, rims_touch
from hullcheck.geometry.topology import (
    Mesh,
    component_labels,
    edges_match,
    is_closed_manifold,
    loops,
    merged,
    unmatched_edges,
)


@given(seed=SEEDS)
def test_merging_changes_no_triangle(seed):
    """Merged corners are as many as numpy finds different, and the triangles are the same."""
    triangles = bumpy(seed)
    mesh = merged(triangles)
    assert np.array_equal(mesh.triangles, triangles)
    assert len(mesh.points) == len(np.unique(triangles.reshape(-1, 3), axis=0))
    assert is_closed_manifold(mesh)
    assert edges_match(mesh)
    assert len(unmatched_edges(mesh)) == 0
    # A ball: corners less edges plus faces is two.
    assert len(mesh.points) - len(mesh.faces) * 3 // 2 + len(mesh.faces) == 2


def test_zero_and_negative_zero_are_one_place():
    """A corner at −0.0 is the corner at 0.0."""
    triangles = bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    triangles[:3][triangles[:3] == 0.0] = -0.0
    assert len(merged(triangles).points) == 8


def test_corners_a_bit_apart_are_two_points():
    """A corner off by the last bit is another point: nothing is moved in merging."""
    triangles = bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    triangles[0, 0, 1] = np.nextafter(triangles[0, 0, 1], 0.0)
    assert len(merged(triangles).points) == 9
    assert not edges_match(merged(triangles))


def test_open_flipped_and_doubled_surfaces_are_no_manifold():
    """An open surface, one with a flipped triangle and one given twice over are no manifold."""
    triangles = bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    flipped = triangles.copy()
    flipped[4] = flipped[4, ::-1]
    for bad in (lacking("deck"), flipped, np.concatenate([triangles, triangles])):
        assert not is_closed_manifold(merged(bad))
    # Given twice, every edge still meets its opposite.
    assert edges_match(merged(np.concatenate([triangles, triangles])))
    assert not edges_match(merged(flipped))


def test_rims_of_an_open_box():
    """A box without bottom and bow has one rim through both; without both ends of z, two."""
    both = rims(merged(lacking("bottom", "deck")))
    assert [rim.area_mm2 for rim in both] == pytest.approx([240.0 * 96.0] * 2)
    assert [rim.flatness_mm for rim in both] == pytest.approx([0.0, 0.0])
    assert sorted(float(rim.center_mm[2]) for rim in both) == [0.0, 64.0]
    joined = rims(merged(lacking("bottom", "bow")))
    assert len(joined) == 1
    assert joined[0].flatness_mm > 10.0


def test_rim_of_a_slit_is_flat():
    """A rim without area whose points lie on a line has no flatness to speak of."""
    slit = rim_of(np.array([[0.0, 0.0, 0.0], [5.0, 0.0, 0.0], [9.0, 0.0, 0.0], [5.0, 0.0, 0.0]]))
    assert slit.area_mm2 == pytest.approx(0.0)
    assert slit.flatness_mm == pytest.approx(0.0, abs=1e-12)


def test_rims_of_print_segments_touch():
    """Two rims 0.3 mm apart belong together, two of different size or 2 mm apart do not."""
    ring = np.array([[0.0, -40.0, 0.0], [0.0, 40.0, 0.0], [0.0, 40.0, 60.0], [0.0, -40.0, 60.0]])
    near, far = ring + np.array([0.3, 0.0, 0.0]), ring + np.array([2.0, 0.0, 0.0])
    assert rims_touch(rim_of(ring), rim_of(near))
    assert not rims_touch(rim_of(ring), rim_of(far))
    assert not rims_touch(rim_of(ring), rim_of(near * [1.0, 0.8, 1.0]))


def test_flat_ends_that_butt_are_found():
    """Two closed segments of a hull that butt with flat ends are told with axis and station."""
    nose = bodies.box(length_mm=120.0, beam_mm=96.0, height_mm=64.0)
    tail = bodies.box(length_mm=90.0, beam_mm=90.0, height_mm=60.0, origin_mm=(120.2, 0.0, 0.0))
    axis, station = flat_ends_meet(nose, tail)
    assert (axis, station) == (0, pytest.approx(120.1))
    assert flat_ends_meet(tail, nose) == (axis, station)
    assert flat_ends_meet(nose, tail + np.array([3.0, 0.0, 0.0])) is None
    assert flat_ends_meet(nose, tail + np.array([0.0, 70.0, 0.0])) is None


@given(seed=SEEDS, count=st.integers(1, 5))
def test_pieces_hang_together(seed, count):
    """Bodies apart are as many pieces, each triangle in its own body's, in any order."""
    parts = [bumpy(seed + k) + np.array([1000.0 * k, 0.0, 0.0]) for k in range(count)]
    which = np.repeat(np.arange(count), [len(part) for part in parts])
    order = np.random.default_rng(seed).permutation(len(which))
    found, labels = component_labels(merged(np.concatenate(parts)[order]))
    assert found == count
    for k in range(count):
        assert len(np.unique(labels[which[order] == k])) == 1
    assert len(np.unique(labels)) == count


def test_points_no_triangle_uses_are_no_piece():
    """Points left over by a repair count as no piece."""
    mesh = merged(bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0))
    strays = np.array([[-5.0, 0.0, 0.0], [999.0, 0.0, 0.0]])
    padded = Mesh(points=np.concatenate([strays, mesh.points]), faces=mesh.faces + 2)
    count, labels = component_labels(padded)
    assert count == 1
    assert not labels.any()


def test_loops_of_edges():
    """Edges chain into closed loops, parted where a point is met twice; a loose end is a chain."""
    eight = np.array([[0, 1], [1, 2], [2, 0], [0, 3], [3, 4], [4, 0]])
    assert sorted(sorted(chain.tolist()) for chain in loops(eight)) == [[0, 1, 2], [0, 3, 4]]
    assert [chain.tolist() for chain in loops(np.array([[5, 6], [6, 7]]))] == [[5, 6, 7]]


@given(seed=SEEDS, count=st.integers(1, 300))
def test_bounds_are_the_least_and_greatest(seed, count):
    """Bounds taken in blocks are those of all corners, also where the last block is short."""
    triangles = np.random.default_rng(seed).normal(size=(count, 3, 3))
    low, high = bounds(triangles)
    assert np.array_equal(low, triangles.min(axis=(0, 1)))
    assert np.array_equal(high, triangles.max(axis=(0, 1)))


def test_owned_arrays():
    """An owned array is a read-only copy of the wanted shape, finite, or it is refused."""
    values = [1, 2, 3]
    array = owned(values, (3,))
    assert (array.dtype, array.flags.writeable) == (np.dtype(float), False)
    with pytest.raises(ValueError, match=r"shape \(2,\) was given where \(3,\)"):
        owned([1.0, 2.0], (3,))
    with pytest.raises(ValueError, match="not a finite number"):
        owned([1.0, np.inf, 0.0], (3,))
