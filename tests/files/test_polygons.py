"""Polygons into triangles: area, direction and closure are those of the polygon."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullcheck.files.polygons import CrossedPolygonError, triangulated

QUARTER = np.array([[0.0, 0.0, 1.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])


def cut(*rings):
    """Return the vertices of some rings and what they are cut into."""
    sizes = np.array([len(ring) for ring in rings])
    vertices = np.concatenate(rings).astype(np.float64)
    return vertices, *triangulated(vertices, np.arange(len(vertices)), sizes)


def doubled_areas(vertices, triangles):
    """Return the cross product of each triangle's sides."""
    a, b, c = np.moveaxis(vertices[triangles], 1, 0)
    return np.cross(b - a, c - a)


def shoelace(ring):
    """Return the area vector of a closed ring, by the formula that knows no triangles."""
    return np.cross(ring, np.roll(ring, -1, axis=0)).sum(axis=0) / 2


@st.composite
def star_rings(draw):
    """Draw a polygon seen whole from its middle, so never crossing itself, mostly concave."""
    radii = draw(st.lists(st.floats(0.1, 1.0), min_size=4, max_size=24))
    angles = np.linspace(0.0, 2.0 * np.pi, len(radii), endpoint=False)
    flat = np.stack([radii * np.cos(angles), radii * np.sin(angles), np.zeros(len(radii))], axis=1)
    return flat @ np.linalg.matrix_power(QUARTER, draw(st.integers(0, 2)))


@given(st.lists(star_rings(), min_size=1, max_size=4))
def test_every_polygon_is_filled_once_and_keeps_its_rim(rings):
    """Triangles turn as the polygon does, add up to its area, and their rims cancel to its own."""
    vertices, triangles, owners = cut(*rings)
    assert len(triangles) == sum(len(ring) - 2 for ring in rings)
    start = 0
    for number, ring in enumerate(rings):
        own = triangles[owners == number]
        doubled = doubled_areas(vertices, own)
        area = shoelace(ring)
        # Unit-sized rings: rounding is 1e-16, the smallest allowed notch 1e-9.
        np.testing.assert_allclose(doubled.sum(axis=0) / 2, area, atol=1e-12)
        assert (doubled @ (area / np.linalg.norm(area))).min() > -1e-8
        edges = {
            edge
            for triangle in own.tolist()
            for edge in zip(triangle, triangle[1:] + triangle[:1], strict=True)
        }
        rim = {edge for edge in edges if edge[::-1] not in edges}
        corners = range(start, start + len(ring))
        assert rim == set(itertools.pairwise([*corners, start]))
        start += len(ring)


def test_a_convex_polygon_is_a_fan_from_its_first_corner():
    """Where the fan does, nothing cleverer is done."""
    ring = [[0, 0, 0], [2, 0, 0], [3, 1, 0], [2, 2, 0], [0, 2, 0]]
    _, triangles, _ = cut(np.array(ring))
    assert triangles.tolist() == [[0, 1, 2], [0, 2, 3], [0, 3, 4]]


def test_a_long_comb_and_a_spiral_are_cut():
    """Polygons in which almost no corner is an ear are filled all the same."""
    x = np.arange(200.0)
    teeth = np.stack([x, np.where(x % 2, 10.0, 1.0), 0 * x], axis=1)
    comb = np.concatenate([[[0, 0, 0], [199, 0, 0]], teeth[::-1]])
    turn = np.linspace(0.0, 6.0 * np.pi, 100)[:, None]
    way = np.concatenate([np.cos(turn), np.sin(turn), 0 * turn], axis=1)
    spiral = np.concatenate([(1 + turn) * way, ((3 + turn) * way)[::-1]])
    for ring in (comb, spiral):
        vertices, triangles, _ = cut(ring)
        doubled = doubled_areas(vertices, triangles)[:, 2]
        assert abs(np.sign(doubled).sum()) == len(ring) - 2
        assert doubled.sum() / 2 == pytest.approx(shoelace(ring)[2], rel=1e-12)


def test_corners_in_a_line_and_doubled_corners_are_kept():
    """They make triangles without area, which the checks of the surface find."""
    ring = np.array([[0, 0, 0], [1, 0, 0], [2, 0, 0], [2, 0, 0], [1, 1, 0], [1, 0.5, 0]])
    vertices, triangles, _ = cut(ring)
    assert len(triangles) == 4
    assert doubled_areas(vertices, triangles)[:, 2].sum() / 2 == shoelace(ring)[2]


@pytest.mark.parametrize(
    "ring",
    [
        [[0, 0, 0], [1, 1, 0], [1, 0, 0], [0, 1, 0]],
        [[0, 0, 0], [1, 1, 0], [2, 0, 0], [2, 2, 0], [1, 1.2, 0], [0, 1, 0], [1.5, -1, 0]],
        [[np.cos(0.8 * np.pi * k), np.sin(0.8 * np.pi * k), 0] for k in range(5)],
    ],
)
def test_a_polygon_that_crosses_itself_is_refused(ring):
    """The number of the polygon is in the refusal."""
    square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]])
    with pytest.raises(CrossedPolygonError) as caught:
        cut(square, np.array(ring), square)
    assert caught.value.index == 1


@pytest.mark.parametrize("size", [1e-300, 1e300, 1.7e308])
def test_absurd_sizes_are_cut_alike(size):
    """Neither under- nor overflow changes the cut of an L."""
    ring = np.array([[1, 1, 0], [-1, 1, 0], [-1, -1, 0], [1, -1, 0], [1, 0, 0], [0, 0, 0]])
    assert cut(ring * size)[1].tolist() == cut(ring)[1].tolist()


def test_a_concave_polygon_of_too_many_corners_is_refused():
    """Two thousand corners are the limit for cutting ears; a convex one has none."""
    angles = np.linspace(0.0, 2.0 * np.pi, 2002, endpoint=False)
    ring = np.stack([np.cos(angles), np.sin(angles), 0 * angles], axis=1)
    assert len(cut(ring)[1]) == 2000
    ring[::2] *= 0.5
    with pytest.raises(CrossedPolygonError):
        cut(ring)
