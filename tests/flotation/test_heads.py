"""Head integrals along lines under water, against closed forms and quadrature."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from hullcheck.flotation.heads import POINT_LENGTH_MM, heads_along

UP = np.array([0.0, 0.0, 1.0])
coordinates = st.floats(-50.0, 50.0).map(lambda v: round(v, 3))


def test_a_level_line_feels_its_depth_times_its_length():
    """Derived: at constant depth h both integrals are length × h and length × √h."""
    found = heads_along([np.array([[0.0, 0.0, -16.0], [30.0, 40.0, -16.0]])], UP, 0.0)
    assert found.wet_length_mm == found.length_mm == 50.0
    assert found.deepest_mm == 16.0
    assert found.crack_integral_mm2 == pytest.approx(800.0, rel=1e-15)
    assert found.hole_integral_mm15 == pytest.approx(200.0, rel=1e-15)


def test_a_plumb_line_through_the_surface_counts_what_is_under_it():
    """Derived: from the surface down to h, ∫ h dl = h²/2 and ∫ √h dl = (2/3) h^1.5."""
    found = heads_along([np.array([[0.0, 0.0, 5.0], [0.0, 0.0, -9.0]])], UP, 0.0)
    assert found.length_mm == 14.0
    assert found.wet_length_mm == pytest.approx(9.0, rel=1e-15)
    assert found.crack_integral_mm2 == pytest.approx(40.5, rel=1e-15)
    assert found.hole_integral_mm15 == pytest.approx(18.0, rel=1e-15)


def test_the_seam_round_a_box_at_an_angle():
    """Derived: round a box of beam b, draft d: b d + d² by the crack law, b √d + (4/3) d^1.5."""
    ring = np.array([(0, -50, 0), (0, 50, 0), (0, 50, 80), (0, -50, 80), (0, -50, 0)], float)
    found = heads_along([ring], UP, 25.0)
    assert found.wet_length_mm == pytest.approx(150.0, rel=1e-15)
    assert found.crack_integral_mm2 == pytest.approx(100 * 25 + 25**2, rel=1e-15)
    assert found.hole_integral_mm15 == pytest.approx(100 * 5 + 4 / 3 * 125, rel=1e-15)


def test_above_the_water_nothing_is_felt():
    """A line above the water has no wet length, and a depth below nothing."""
    found = heads_along([np.array([[0.0, 0.0, 3.0], [9.0, 0.0, 4.0]])], UP, 0.0)
    assert not found.wet
    assert (found.crack_integral_mm2, found.hole_integral_mm15) == (0.0, 0.0)
    assert found.deepest_mm == -3.0


def test_a_point_stands_for_a_short_line():
    """A point under water counts as so many millimeters at its depth."""
    found = heads_along([np.array([[7.0, 0.0, -4.0]])], UP, 0.0)
    assert found.crack_integral_mm2 == pytest.approx(4.0 * POINT_LENGTH_MM, rel=1e-15)
    assert found.hole_integral_mm15 == pytest.approx(2.0 * POINT_LENGTH_MM, rel=1e-15)


@given(st.lists(st.tuples(coordinates, coordinates, coordinates), min_size=2, max_size=5))
def test_any_line_agrees_with_quadrature(points):
    """SciPy's adaptive quadrature along each stretch gives the same integrals, at a tilt too."""
    line = np.array(points)
    normal = np.array([-math.sin(0.2), -math.cos(0.2) * math.sin(0.3), math.cos(0.2) * 0.0])
    normal[2] = math.sqrt(1.0 - normal[0] ** 2 - normal[1] ** 2)
    found = heads_along([line], normal, 2.0)
    crack = hole = 0.0
    for a, b in pairwise(line):
        long = float(np.linalg.norm(b - a))
        ends = 2.0 - a @ normal, 2.0 - b @ normal
        # Where it crosses the surface the square root has a kink: told to the quadrature.
        kink = [ends[0] / (ends[0] - ends[1])] if ends[0] * ends[1] < 0.0 else None

        def depth(t, ends=ends):
            """Return the depth a share of the way along."""
            return max(ends[0] + t * (ends[1] - ends[0]), 0.0)

        crack += long * quad(depth, 0.0, 1.0, points=kink)[0]
        hole += long * quad(lambda t: math.sqrt(depth(t)), 0.0, 1.0, points=kink)[0]
    # Quadrature's own tolerance is 1.5e-8 of each stretch.
    assert found.crack_integral_mm2 == pytest.approx(crack, rel=1e-6, abs=1e-5)
    assert found.hole_integral_mm15 == pytest.approx(hole, rel=1e-6, abs=1e-5)
