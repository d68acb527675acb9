"""Surface moments of triangles, the cut, and what they contract to."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from make_bodies import box
from open_boxes import lacking
from strategies import SEEDS, bumpy_bodies, normals, uniform

from hullcheck.geometry.moment_tree import MomentTree, under_directly, volume_mm3
from hullcheck.geometry.moments import contract, cut_row, group_rows, row_sum

UP = np.array([0.0, 0.0, 1.0])
PAIRS = ((0, 0), (1, 1), (2, 2), (0, 1), (0, 2), (1, 2))
ZERO = np.zeros(3)


def random_triangles(seed, count=7, size=50.0):
    """Return triangles of no surface in particular."""
    return np.random.default_rng(seed).normal(scale=size, size=(count, 3, 3))


def by_midpoints(triangle):
    """Return a triangle's row by the rule of edge midpoints, exact for polynomials of degree two.

    Strang, G., and G. Fix, An Analysis of the Finite Element Method, 1973, table 4.1 (value from
    memory): ∫ f = (area/3) Σ f(midpoints).
    """
    area_vector = 0.5 * np.cross(triangle[1] - triangle[0], triangle[2] - triangle[0])
    middles = 0.5 * (triangle + np.roll(triangle, -1, axis=0))
    first = middles.mean(axis=0)
    second = np.array([(middles[:, j] * middles[:, k]).mean() for j, k in PAIRS])
    return np.concatenate(
        [
            area_vector,
            np.outer(area_vector, first).ravel(),
            np.outer(area_vector, second).ravel(),
            [np.linalg.norm(area_vector)],
        ]
    )


@given(seed=SEEDS)
def test_row_of_triangles_by_the_midpoint_rule(seed):
    """A row is the sum of what an exact quadrature rule gives for each triangle."""
    triangles = random_triangles(seed)
    truth = sum(by_midpoints(triangle) for triangle in triangles)
    assert row_sum(triangles) == pytest.approx(truth, rel=1e-11, abs=1e-11 * np.abs(truth).max())


def test_row_of_a_triangle_by_adaptive_quadrature():
    """Second moments of one triangle are what scipy's adaptive double integral finds."""
    from scipy.integrate import dblquad

    a, b, c = random_triangles(3, count=1)[0]
    area_vector = 0.5 * np.cross(b - a, c - a)
    row = row_sum(np.array([[a, b, c]]))[12:30].reshape(3, 6)
    for q, (j, k) in enumerate(PAIRS):

        def product(v, u, j=j, k=k):
            """Return p_j p_k at the place u, v of the triangle."""
            place = a + u * (b - a) + v * (c - a)
            return place[j] * place[k]

        # u and v run over half a unit square; the triangle's area is half of that of its sides.
        mean = 2.0 * dblquad(product, 0.0, 1.0, 0.0, lambda u: 1.0 - u)[0]
        assert row[:, q] == pytest.approx(mean * area_vector, rel=1e-9)


@given(seed=SEEDS, count=st.integers(1, 40), size=st.integers(1, 8))
def test_groups_add_up_to_the_whole(seed, count, size):
    """Rows of groups are rows of their triangles, the last group short."""
    triangles = random_triangles(seed, count)
    rows = group_rows(triangles, size)
    assert rows.shape == (-(-count // size), 31)
    for i, row in enumerate(rows):
        truth = row_sum(triangles[i * size : (i + 1) * size])
        assert row == pytest.approx(truth, rel=1e-11, abs=1e-9 * np.abs(truth).max())


@given(seed=SEEDS)
def test_row_about_another_origin(seed):
    """A row about a point is the row of triangles moved there."""
    triangles, origin = random_triangles(seed), np.array([20.0, -7.0, 3.0])
    truth = row_sum(triangles - origin)
    assert row_sum(triangles, origin) == pytest.approx(truth, rel=1e-12, abs=0.0)


@given(seed=SEEDS, normal=normals(), height=uniform(-80.0, 80.0))
def test_cut_parts_add_up(seed, normal, height):
    """The part of triangles below a plane and the part above it are the triangles."""
    triangles = random_triangles(seed)
    below, above = cut_row(triangles, normal, height), cut_row(triangles, -normal, -height)
    truth = row_sum(triangles)
    assert below + above == pytest.approx(truth, abs=1e-11 * np.abs(truth).max())


def test_corner_on_the_plane_is_dry():
    """A corner on the plane counts as dry: the part below is the same, and no quotient is 0/0."""
    triangle = np.array([[[0.0, 0.0, 0.0], [4.0, 0.0, 0.0], [0.0, 4.0, 4.0]]])
    # An edge on the plane, the third corner above it, then below it.
    assert not cut_row(triangle, UP, 0.0).any()
    assert cut_row(triangle, -UP, 0.0) == pytest.approx(row_sum(triangle))
    # One corner on the plane, one on either side: half the triangle, split through that corner.
    upright = np.array([[[0.0, 0.0, 0.0], [4.0, 0.0, -2.0], [4.0, 0.0, 2.0]]])
    half = np.array([[[0.0, 0.0, 0.0], [4.0, 0.0, -2.0], [4.0, 0.0, 0.0]]])
    assert cut_row(upright, UP, 0.0) == pytest.approx(row_sum(half))
    # Flat on the plane.
    flat = np.array([[[0.0, 0.0, 1.0], [4.0, 0.0, 1.0], [0.0, 4.0, 1.0]]])
    assert not cut_row(flat, UP, 1.0).any()
    assert not cut_row(flat, -UP, -1.0).any()


@pytest.mark.parametrize("height", [-5.0, 0.0, 30.0, 64.0, 70.0])
def test_box_cut_at_bottom_deck_and_beyond(height):
    """A box cut flush with bottom or deck displaces nothing or all, its waterplane on one side."""
    triangles = box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    under = under_directly(triangles, UP, height, ZERO)
    wet = min(max(height, 0.0), 64.0)
    assert under.volume == pytest.approx(240.0 * 96.0 * wet, abs=1e-9)
    # Corners on the plane are dry: at the deck only it is left out, so the waterplane is whole.
    assert under.area == pytest.approx(240.0 * 96.0 if 0.0 < height <= 64.0 else 0.0, abs=1e-9)


def test_tetrahedron_by_hand():
    """The corner tetrahedron x + y + z ≤ 1: volume 1/6, centroid 1/4, cut at half its height.

    Derived: the top is the same body halved, so V = (1 − 1/8)/6; its centroid follows by
    subtraction, and the waterplane is the triangle of legs 1/2.
    """
    a, b, c, o = np.eye(3)[0], np.eye(3)[1], np.eye(3)[2], ZERO
    solid = np.array([[o, b, a], [o, a, c], [o, c, b], [a, b, c]])
    assert volume_mm3(solid) == pytest.approx(1.0 / 6.0, rel=1e-14)
    under = under_directly(solid, UP, 0.5, ZERO)
    assert under.volume == pytest.approx(7.0 / 48.0, rel=1e-13)
    small, low = 1.0 / 48.0, np.array([0.125, 0.125, 0.625])
    assert list(under.position_integral) == pytest.approx(
        list(np.full(3, 0.25) / 6.0 - small * low), rel=1e-12
    )
    assert under.area == pytest.approx(0.125, rel=1e-13)
    assert list(under.area_centroid) == pytest.approx([1.0 / 6.0, 1.0 / 6.0, 0.5], rel=1e-12)
    # A right triangle of legs l: l⁴/36 about its centroid, −l⁴/72 for the product.
    legs = 0.5**4
    truth = np.array([[legs / 36, -legs / 72, 0.0], [-legs / 72, legs / 36, 0.0], [0.0, 0.0, 0.0]])
    assert list(under.second_moments.ravel()) == pytest.approx(list(truth.ravel()), abs=1e-15)
    # The slanting face keeps 3/4 of itself, √3/2 · 3/4; two sides 3/8 each, the floor 1/2.
    assert under.wetted_area == pytest.approx(0.75 * np.sqrt(3.0) / 2.0 + 0.75 + 0.5, rel=1e-12)


@given(triangles=bumpy_bodies(), normal=normals(), share=uniform(-0.8, 0.8))
def test_far_from_the_datum_nothing_is_lost(triangles, normal, share):
    """A body 10 km from the datum keeps its inertia: sums are kept about its own middle.

    Its corners are whole sixty-fourths of a millimeter, so that moving them rounds nothing.
    """
    here = np.rint(triangles * 64.0) / 64.0
    far = here + np.array([1e7, -1e7, 1e7])
    near_tree, far_tree = MomentTree(here), MomentTree(far)
    height = share * near_tree.length_mm / 2
    near, away = near_tree.under(normal, height), far_tree.under(normal, height)
    size = near_tree.length_mm
    assert away.volume == pytest.approx(near.volume, abs=1e-12 * size**3)
    assert np.abs(away.second_moments - near.second_moments).max() < 1e-12 * size**4
    assert volume_mm3(far) == pytest.approx(volume_mm3(here), rel=1e-12)


def test_tree_and_direct_pass_on_the_demo_craft(tarnwing_skin):
    """The demo craft's tree gives the direct pass to 1e-12 at 200 planes drawn at random."""
    tree, rng = tarnwing_skin.tree, np.random.default_rng(5)
    size = tree.length_mm
    for _ in range(200):
        normal = rng.normal(size=3)
        normal /= np.linalg.norm(normal)
        height = rng.uniform(-0.4, 0.4) * size
        found = tree.under(normal, height)
        truth = under_directly(tarnwing_skin.triangles_mm, normal, height, tree.origin_mm)
        assert abs(found.volume - truth.volume) <= 1e-12 * tarnwing_skin.volume_mm3
        assert abs(found.area - truth.area) <= 1e-12 * size**2
        assert np.abs(found.position_integral - truth.position_integral).max() <= (
            1e-12 * size * tarnwing_skin.volume_mm3
        )
        assert np.abs(found.second_moments - truth.second_moments).max() <= 1e-12 * size**4


@pytest.mark.parametrize("count", [4, 8, 9, 63, 64, 65, 513])
def test_tree_of_any_number_of_triangles(count):
    """Leaves and levels that are not full lose and double nothing."""
    triangles = random_triangles(count, count)
    tree = MomentTree(triangles)
    truth = row_sum(triangles - tree.origin_mm)
    assert tree.whole() == pytest.approx(truth, abs=1e-12 * np.abs(truth).max())
    for height in (-40.0, 0.0, 25.0):
        row = contract(cut_row(triangles - tree.origin_mm, UP, height), UP, height)
        assert tree.under(UP, height).wetted_area == pytest.approx(row.wetted_area, rel=1e-12)
        assert tree.under(UP, height).volume == pytest.approx(row.volume, rel=1e-9, abs=1e-3)


def test_cross_check_of_an_open_box():
    """Of the two checks told at each answer, ∮ dS shows a missing side.

    A missing bottom shows in the volumes alone, and a dry deck that is missing in neither.
    """
    for names, area, volume in (
        ((), 0.0, 0.0),
        (("bow",), 96.0 * 30.0, None),
        (("starboard",), 240.0 * 30.0, None),
        (("bottom",), 0.0, 240.0 * 96.0 * 30.0),
        (("deck",), 0.0, 0.0),
    ):
        under = under_directly(lacking(*names), UP, 30.0, ZERO)
        assert under.closure_area == pytest.approx(area, abs=1e-9)
        if volume is not None:
            assert under.closure_volume == pytest.approx(volume, abs=1e-6)
    assert under_directly(lacking("bottom"), UP, 30.0, ZERO).volume == pytest.approx(0.0, abs=1e-9)
