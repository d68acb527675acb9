"""Solids that touch in one file, told apart; truths are the volumes of boxes and tubes."""

from itertools import pairwise

import make_bodies as bodies
import numpy as np
import pytest
from thin_walls import finer

from hullcheck.geometry.parting import cut_at_rims, solids_apart
from hullcheck.geometry.skin_solids import solid_of
from hullcheck.geometry.topology import edges_match, merged


def box(low, high):
    """Return a closed box between two corners [mm]."""
    low, high = np.array(low), np.array(high)
    length, beam, height = high - low
    origin = (low[0], 0.5 * (low[1] + high[1]), low[2])
    return bodies.box(length_mm=length, beam_mm=beam, height_mm=height, origin_mm=origin)


def volumes(mesh):
    """Return the volumes that a closed mesh's pieces bound, rising [mm³]."""
    return sorted(piece.volume() for piece in solid_of(mesh).decompose())


def test_a_closed_solid_stays_as_it_is():
    """Nothing is shared by more than two faces: the same mesh."""
    mesh = merged(finer(box((0, -20, 0), (100, 20, 30))))
    assert solids_apart(mesh) is mesh


@pytest.mark.parametrize("cuts", [(40.0,), (30.0, 70.0)])
def test_segments_that_butt_across_x_are_told_apart(cuts):
    """Boxes end to end in one file, corner on corner: each keeps its own volume."""
    bounds = [0.0, *cuts, 100.0]
    pieces = [finer(box((a, -20, 0), (b, 20, 30))) for a, b in pairwise(bounds)]
    mesh = merged(np.concatenate(pieces))
    parted = solids_apart(mesh)
    assert edges_match(parted)
    assert len(parted.faces) == len(mesh.faces)
    expected = sorted(1200.0 * (b - a) for a, b in pairwise(bounds))
    assert volumes(parted) == pytest.approx(expected, rel=1e-9)


def test_boxes_that_share_an_edge_are_told_apart():
    """Two boxes that meet along one edge, not across x: paired by the material behind the faces."""
    one, two = box((0, 0, 0), (50, 20, 20)), box((0, 20, 20), (50, 60, 50))
    parted = solids_apart(merged(np.concatenate([one, two])))
    assert volumes(parted) == pytest.approx([20000.0, 60000.0], rel=1e-9)
    assert len(parted.points) == 16


def test_boxes_that_share_a_face_are_told_apart():
    """Two boxes side by side: their faces lie on each other, with material on either side."""
    one, two = box((0, 0, 0), (50, 20, 20)), box((0, 20, 0), (50, 60, 20))
    parted = solids_apart(merged(np.concatenate([one, two])))
    assert volumes(parted) == pytest.approx([20000.0, 40000.0], rel=1e-9)


def test_sheets_share_corners_only_where_they_hang_together():
    """Three sheets that meet along an edge each get corners of their own along it."""
    edge = [[0.0, 0.0, 0.0], [10.0, 0.0, 0.0]]
    fins = [[[*edge, [5.0, y, z]]] for y, z in ((8.0, 0.0), (0.0, 8.0), (-8.0, 0.0))]
    cut = cut_at_rims(merged(np.array(fins).reshape(-1, 3, 3)))
    assert len(cut.points) == 9
