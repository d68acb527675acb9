"""Parts that belong together, lie in place, or are mirrored: against manifold3d and by hand."""

import numpy as np
import pytest
from sheet_making import box
from skin_making import surfaces

from hullcheck.geometry.part_groups import (
    alike,
    asymmetry_mm,
    lie_in_place,
    lie_near,
    near_groups,
    shared_box,
)


def turned_box(rng):
    """Return a box of random size, turned and moved at random, (12, 3, 3) [mm]."""
    turn, _ = np.linalg.qr(rng.normal(size=(3, 3)))
    turn[0] *= np.sign(np.linalg.det(turn))
    middle = np.array([0.0, 0.0, 20.0])
    block = box(*rng.uniform(5.0, 80.0, 3)) - middle
    return block @ turn.T + rng.uniform(-60.0, 60.0, 3)


def solid(triangles):
    """Return triangles as a solid of manifold3d."""
    from manifold3d import Manifold, Mesh64

    points, faces = np.unique(triangles.reshape(-1, 3), axis=0, return_inverse=True)
    return Manifold(Mesh64(points, faces.reshape(-1, 3).astype(np.uint64)))


def test_near_is_what_manifold3d_measures():
    """The least gap of 200 pairs of boxes by manifold3d: near to 4 mm, not near from 5.2 mm on."""
    rng = np.random.default_rng(5)
    told = {True: 0, False: 0}
    for _ in range(200):
        one, two = turned_box(rng), turned_box(rng)
        gap = solid(one).min_gap(solid(two), 200.0)
        if 4.0 < gap < 5.2:
            continue
        inside = solid(one) ^ solid(two)
        if gap > 0.0 or inside.volume() < min(solid(one).volume(), solid(two).volume()) * 0.999:
            assert lie_near(one, two) == (gap <= 4.0), gap
            told[gap <= 4.0] += 1
    assert min(told.values()) > 30


@pytest.mark.parametrize(("gap", "groups"), [(0.0, 1), (3.9, 1), (-2.0, 1), (6.0, 2), (200.0, 2)])
def test_parts_within_4_mm_are_one_group(gap, groups):
    """Two blocks end to end: touching, overlapping and up to 4 mm apart they belong together."""
    parts = [box(100.0), box(100.0, at=(100.0 + gap, 0.0, 0.0))]
    assert len(near_groups(parts)) == groups


def test_what_lies_in_the_room_of_a_group_is_of_it():
    """A tray inside that touches nothing is of the hull, a float beside her is not."""
    tray = box(50.0, 20.0, 10.0, at=(200.0, 0.0, 30.0))
    outrigger = box(50.0, 20.0, 10.0, at=(200.0, 200.0, 30.0))
    assert near_groups([tray, box(), outrigger]) == ((0, 1), (2,))


def test_the_demo_floats_are_bodies_of_their_own():
    """Hull, starboard and port float of the demo lie apart; the floats are mirror images."""
    hull, starboard, port = surfaces()
    assert near_groups([hull, starboard, port]) == ((0,), (1,), (2,))
    assert alike(starboard, port, mirrored=True)
    assert not alike(starboard, hull, mirrored=True)


def test_a_mirror_image_is_no_copy():
    """A body with a lump to one side is like its mirror image turned over, and not like itself."""
    lopsided = np.concatenate([box(), box(50.0, 30.0, 30.0, at=(300.0, 65.0, 20.0))])
    over = lopsided[:, ::-1] * np.array([1.0, -1.0, 1.0]) + np.array([30.0, 500.0, -7.0])
    assert alike(lopsided, over, mirrored=True)
    assert not alike(lopsided, over, mirrored=False)
    assert alike(lopsided, lopsided + 5.0, mirrored=False)
    assert not alike(lopsided, lopsided * 1.01, mirrored=False)


def test_a_hull_is_symmetric_across_y_alone():
    """Turned over from left to right the demo's hull lies on itself, otherwise far off."""
    hull = surfaces()[0]
    off = [asymmetry_mm(hull, axis) for axis in range(3)]
    assert off[1] < 0.3 * min(off[0], off[2])


def test_shared_room_is_that_of_the_boxes():
    """Half of two boxes in common is a third of the room they take; apart they share nothing."""
    assert shared_box(box(), box(at=(300.0, 0.0, 0.0))) == pytest.approx(1.0 / 3.0)
    assert shared_box(box(), box()) == pytest.approx(1.0)
    assert shared_box(box(), box(at=(700.0, 0.0, 0.0))) == 0.0


def tube(start, length, *, breadth=60.0, height=50.0, wall=1.5):
    """Return a thin-walled square tube along x, open at both ends."""
    from manifold3d import Manifold
    from skin_making import triangles_of

    outer = Manifold.cube([length, breadth, height])
    inner = Manifold.cube([length + 2.0, breadth - 2.0 * wall, height - 2.0 * wall])
    hollow = outer - inner.translate([-1.0, wall, wall])
    return triangles_of(hollow.translate([start, -0.5 * breadth, 0.0]))


def test_tubes_end_to_end_lie_in_place():
    """Open segments that meet lie in place; piled up at the zero of their files they do not."""
    row = [tube(0.0, 100.0), tube(100.1, 120.0), tube(220.2, 90.0)]
    assert lie_in_place(row) == (True, ())
    piled = [part - part.min(axis=(0, 1)) for part in row]
    assert not lie_in_place(piled)[0]


def test_a_small_open_part_that_lies_elsewhere_is_named():
    """A hatch with a rim on the deck does not make the segments lie out of place."""
    row = [tube(0.0, 100.0), tube(100.1, 120.0), tube(220.2, 90.0)]
    rim = tube(0.0, 12.0, breadth=30.0, height=24.0)
    hatch = rim[:, :, [1, 2, 0]] + np.array([150.0, 0.0, 52.0])
    assert lie_in_place([*row, hatch]) in ((True, (3,)), (True, ()))
    assert not lie_in_place([row[0], row[2]])[0]
