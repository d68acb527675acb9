"""Damaged meshes mended: every count and volume here is known in closed form."""

from itertools import pairwise

import make_bodies as bodies
import numpy as np
import pytest
from hypothesis import given, settings
from open_boxes import lacking
from strategies import SEEDS
from thin_walls import finer

from hullcheck.geometry.mending import (
    SMALL_HOLE_MM2,
    STITCH_MM,
    by_edges,
    face_pairs,
    mended,
    pieces_of,
)
from hullcheck.geometry.topology import edges_match, is_closed_manifold, merged

SIDES = (240.0, 96.0, 64.0)


def box(times=3, scale=1.0):
    """Return a box of 240 × 96 × 64 mm in 12 · 4^times triangles."""
    length, beam, height = (side * scale for side in SIDES)
    return finer(bodies.box(length_mm=length, beam_mm=beam, height_mm=height), times)


def volume_of(mesh):
    """Return the signed volume by the divergence theorem [mm³]."""
    a, b, c = np.moveaxis(mesh.triangles, 1, 0)
    return float(np.einsum("ni,ni->", a, np.cross(b, c))) / 6.0


def apart(triangles, count):
    """Return numbers of triangles that share no corner, as many as asked."""
    kept, seen = [], set()
    for number, corners in enumerate(triangles.tolist()):
        here = {tuple(point) for point in corners}
        if not here & seen:
            kept.append(number)
            seen |= here
    assert len(kept) >= count
    return kept[:: len(kept) // count][:count]


def test_a_sound_mesh_is_left_alone():
    """Nothing done, nothing said, the faces as they were."""
    mesh = merged(box())
    found = mended(mesh)
    assert found.found == ()
    assert found.lost_share == 0.0
    assert np.array_equal(found.mesh.faces, mesh.faces)
    assert (found.pieces == 0).all()


@settings(max_examples=15)
@given(seed=SEEDS)
def test_flipped_triangles_are_turned_back(seed):
    """Fewer than half turned over, anywhere: just those are turned, and the volume is the box's."""
    rng = np.random.default_rng(seed)
    triangles = box()
    turned = rng.permutation(len(triangles))[: rng.integers(2, 0.45 * len(triangles))]
    triangles[turned] = triangles[turned, ::-1]
    found = mended(merged(triangles))
    assert found.found == (f"turned over {len(turned)} triangles that contradicted the others",)
    assert is_closed_manifold(found.mesh)
    assert volume_of(found.mesh) == pytest.approx(np.prod(SIDES), rel=1e-12)


def test_the_greater_number_says_which_side_is_outside():
    """With 70 % turned inward the other 30 % are turned too: one mind, inside out."""
    triangles = box()
    turned = np.arange(len(triangles)) % 10 < 7
    triangles[turned] = triangles[turned, ::-1]
    found = mended(merged(triangles))
    assert found.found == (
        f"turned over {np.count_nonzero(~turned)} triangles that contradicted the others",
    )
    assert volume_of(found.mesh) == pytest.approx(-np.prod(SIDES), rel=1e-12)


@pytest.mark.parametrize("corners", [1, 2, 5])
def test_a_halved_edge_is_stitched(corners):
    """Corners on a neighbor's whole edge, up to 0.01 mm off it: it is split into one more each."""
    triangles = bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    a, b, c = triangles[0]
    along = np.linspace(0.0, 1.0, corners + 2)[:, None]
    chain = a + along * (b - a)
    off = np.cross(b - a, [0.3, 0.5, 0.8])
    chain[1:-1] += 0.01 * off / np.linalg.norm(off)
    split = np.array([[p, q, c] for p, q in pairwise(chain)])
    found = mended(merged(np.concatenate([triangles[1:], split])))
    assert found.found == ("split 1 triangle where the corner of another lay on an edge",)
    assert is_closed_manifold(found.mesh)
    assert len(found.mesh.faces) == 12 + 2 * corners
    # Both sides have the same corners, so the volume is off by the moved corners alone.
    assert volume_of(found.mesh) == pytest.approx(np.prod(SIDES), rel=1e-4)


def test_a_corner_clear_of_the_edge_is_not_stitched():
    """At 0.03 mm it does not lie on the edge (limit 0.02): the slit stays open."""
    assert STITCH_MM == 0.02
    triangles = bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    a, b, c = triangles[0]
    off = np.cross(b - a, c - a)
    middle = 0.5 * (a + b) + 0.03 * off / np.linalg.norm(off)
    halves = np.array([[a, middle, c], [middle, b, c]])
    opened = np.concatenate([triangles[1:], halves])
    found = mended(merged(opened))
    assert not [clause for clause in found.found if clause.startswith("split")]


def strip(start, stop):
    """Return a flat strip 30 mm wide between two stations, facing up, as two triangles."""
    a, b, c, d = ((start, 0, 0), (stop, 0, 0), (stop, 30, 0), (start, 30, 0))
    return np.array([[a, b, c], [a, c, d]], dtype=float)


def test_sheets_that_overlap_along_a_cut_are_not_stitched():
    """Two strips 0.08 mm over each other along one straight cut stay two, whole; butting ones not.

    Their edges along the cut lie on each other with both faces on the same side of it.
    """
    over = mended(merged(np.concatenate([strip(0, 50), strip(49.92, 100)])))
    assert over.found == ()
    assert len(over.mesh.faces) == 4
    assert len(np.unique(over.pieces)) == 2
    across = np.array([[(0, 0, 0), (60, -30, 0), (100, 0, 0)]], dtype=float)
    butting = mended(merged(np.concatenate([strip(0, 50), strip(50, 100), across])))
    assert "split 1 triangle" in butting.found[0]
    assert len(np.unique(butting.pieces)) == 1


def test_lost_triangles_are_filled():
    """Nine single triangles missing: nine holes filled, the volume exact; too few for a share."""
    triangles = box()
    gone = apart(triangles, 9)
    found = mended(merged(np.delete(triangles, gone, axis=0)))
    assert found.found == ("filled 9 holes of a few triangles",)
    assert found.lost_share == 0.0
    assert is_closed_manifold(found.mesh)
    assert len(found.mesh.faces) == len(triangles)
    assert volume_of(found.mesh) == pytest.approx(np.prod(SIDES), rel=1e-12)


@pytest.mark.parametrize("count", [10, 25])
def test_the_share_of_lost_triangles_is_told(count):
    """Ten or 25 of 768 missing are so many of 768."""
    triangles = box()
    gone = apart(triangles, count)
    found = mended(merged(np.delete(triangles, gone, axis=0)))
    assert found.lost_share == count / len(triangles)
    assert is_closed_manifold(found.mesh)


@pytest.mark.parametrize(
    ("area", "filled"), [(0.5, True), (19.6, True), (20.4, False), (90.0, False)]
)
def test_a_hole_of_four_edges_is_filled_up_to_20_mm2(area, filled):
    """Two triangles of one flat cell, the box scaled so that the cell has the area asked [mm²]."""
    assert SMALL_HOLE_MM2 == 20.0
    triangles = box()
    a, b, c = np.moveaxis(triangles, 1, 0)
    areas = 0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1)
    one, other, _ = face_pairs(merged(triangles))
    normals = np.cross(b - a, c - a)
    flat = np.linalg.norm(np.cross(normals[one], normals[other]), axis=1) < 1e-9
    k = int(np.flatnonzero(flat)[0])
    triangles = triangles * np.sqrt(area / (areas[one[k]] + areas[other[k]]))
    found = mended(merged(np.delete(triangles, [one[k], other[k]], axis=0)))
    assert (found.found == ("filled 1 hole of a few triangles",)) is filled
    assert edges_match(found.mesh) is filled


def test_an_opening_of_three_edges_is_filled_whatever_its_size():
    """A whole side of a tetrahedron: three edges, 5000 mm²."""
    o, x, y, z = np.vstack([np.zeros(3), 100.0 * np.eye(3)])
    sides = np.array([[o, y, x], [o, z, y], [o, x, z], [x, y, z]])
    found = mended(merged(sides[:3]))
    assert found.found == ("filled 1 hole of a few triangles",)
    assert volume_of(found.mesh) == pytest.approx(1e6 / 6.0, rel=1e-12)


def test_a_missing_side_is_not_filled():
    """A box without its deck stays open: its rim has four edges and 23,040 mm²."""
    found = mended(merged(lacking("deck")))
    assert found.found == ()
    assert len(found.mesh.faces) == 10


@pytest.mark.parametrize("over", [False, True])
def test_triangles_given_twice_are_dropped(over):
    """Forty copies, as they are or turned over: forty dropped, the box as before."""
    triangles = box()
    copies = triangles[10:50, ::-1] if over else triangles[10:50]
    found = mended(merged(np.concatenate([triangles, copies])))
    assert found.found == ("dropped 40 triangles given twice",)
    assert is_closed_manifold(found.mesh)
    assert volume_of(found.mesh) == pytest.approx(np.prod(SIDES), rel=1e-12)


def test_everything_at_once():
    """Copies, flips, a halved edge and lost triangles: each told, and the box comes out."""
    triangles = box()
    a, b, c = triangles[100]
    middle = 0.5 * (a + b)
    halves = np.array([[a, middle, c], [middle, b, c]])
    spoilt = np.concatenate([triangles[:100], triangles[101:], halves, triangles[300:305]])
    spoilt[200:260] = spoilt[200:260, ::-1]
    spoilt = np.delete(spoilt, [0, 500], axis=0)
    found = mended(merged(spoilt))
    assert found.found == (
        "dropped 5 triangles given twice",
        "split 1 triangle where the corner of another lay on an edge",
        "turned over 60 triangles that contradicted the others",
        "filled 2 holes of a few triangles",
    )
    assert volume_of(found.mesh) == pytest.approx(np.prod(SIDES), rel=1e-12)


def test_a_strip_with_one_side_only_is_not_turned():
    """Nothing is turned in a Möbius strip: no turning makes it of one mind."""
    turns = np.linspace(0.0, 2.0 * np.pi, 25)[:-1]
    rims = []
    for side in (-10.0, 10.0):
        radius = 50.0 + side * np.cos(0.5 * turns)
        rims.append(
            np.column_stack(
                [radius * np.cos(turns), radius * np.sin(turns), side * np.sin(0.5 * turns)]
            )
        )
    low, high = rims
    # Around once, the one rim goes on as the other.
    low_on, high_on = (np.vstack([low[1:], high[:1]]), np.vstack([high[1:], low[:1]]))
    strip = np.concatenate(
        [np.stack([low, high, low_on], axis=1), np.stack([high, high_on, low_on], axis=1)]
    )
    pieces, turn = pieces_of(merged(strip))
    assert (pieces == 0).all()
    assert not turn.any()


def test_pieces_hang_together_by_edges_of_two_faces():
    """Three leaves on one edge are three pieces; by edges alone they are one."""
    spine = np.array([[0.0, 0.0, 0.0], [10.0, 0.0, 0.0]])
    leaves = [[*spine, tip] for tip in ([5.0, 8.0, 0.0], [5.0, -8.0, 0.0], [5.0, 0.0, 8.0])]
    mesh = merged(np.array(leaves))
    assert len(set(pieces_of(mesh)[0].tolist())) == 3
    assert len(set(by_edges(mesh).tolist())) == 1


def test_boxes_that_share_a_corner_are_two_pieces():
    """A shared corner joins nothing."""
    one = bodies.box(length_mm=10.0, beam_mm=10.0, height_mm=10.0)
    mesh = merged(np.concatenate([one, one + 10.0]))
    assert len(mesh.points) == 15
    assert len(set(by_edges(mesh).tolist())) == 2
    assert len(set(pieces_of(mesh)[0].tolist())) == 2


def test_faces_flat_on_each_other_are_no_neighbors():
    """Two triangles on one side of one edge, as of sheets that overlap there: two, none turned.

    Faces that meet at 20° on a knife edge hang together.
    """
    edge, rise = ((0.0, 0.0, 0.0), (10.0, 0.0, 0.0)), np.radians(20.0)
    near = (5.0, 10.0 * np.cos(rise), 10.0 * np.sin(rise))
    for apex, count in (((4.0, 8.0, 0.0), 2), (near, 1)):
        faces = np.array([(*edge, (5.0, 10.0, 0.0)), (*edge, apex)])
        pieces, turn = pieces_of(merged(faces))
        assert len(np.unique(pieces)) == count
        assert turn.sum() == (0 if count == 2 else 1)
