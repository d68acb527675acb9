"""Silhouettes, cuts and chines against shapes whose outlines are known."""

import importlib
import math
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hullcheck.geometry.outlines import (
    EdgeWeb,
    below,
    chine_lines,
    outer_region,
    plane_cut,
    seen,
    thinned,
)
from hullcheck.geometry.sections import loop_area

sys.path.insert(0, str(Path(__file__).parents[2] / "meshes"))
bodies = importlib.import_module("make_bodies")

AFT, STARBOARD, UP = np.eye(3)
ROUNDING = 1e-6
"""The polygon library works on a grid of 1e-8 mm or so; edges here are some 100 mm long."""


def _area(region):
    """Return a region's area."""
    return sum(loop_area(loop) for loop in region)


def _turned(pitch, yaw):
    """Return two level-free unit vectors, right and up, of a view turned by two angles."""
    right = np.array([math.cos(yaw), math.sin(yaw), 0.0])
    toward = np.array([math.sin(yaw) * math.cos(pitch), -math.cos(yaw) * math.cos(pitch),
                       math.sin(pitch)])  # fmt: skip
    return right, np.cross(toward, right)


@settings(deadline=None)
@given(st.floats(-1.5, 1.5), st.floats(-3.1, 3.1))
def test_shadow_of_a_box(pitch, yaw):
    """A box's shadow has the area Σ face area × |cosine|, from any side.

    A convex body's projected area is half the sum of its faces' projected areas (Cauchy; any text
    on convex geometry).
    """
    box = bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    right, up = _turned(pitch, yaw)
    toward = np.cross(right, up)
    faces = np.array([96.0 * 64.0, 240.0 * 64.0, 240.0 * 96.0])
    region = EdgeWeb.of(box).silhouette(right, up, 0.0)
    assert len(region) == 1
    assert _area(region) == pytest.approx(float(faces @ np.abs(toward)), rel=1e-6)


def test_shadow_is_that_of_the_convex_hull_for_a_sphere():
    """A sphere's silhouette is the convex hull of its projected corners (scipy's qhull)."""
    from scipy.spatial import ConvexHull

    sphere = bodies.sphere(diameter_mm=100.0)
    right, up = _turned(0.3, 0.7)
    flat = sphere.reshape(-1, 3) @ np.stack((right, up), axis=1)
    region = EdgeWeb.of(sphere).silhouette(right, up, 0.0)
    assert _area(region) == pytest.approx(ConvexHull(flat).volume, rel=1e-9)


def _stepped():
    """Return a stepped box, keel level, and its sizes."""
    return bodies.stepped_box(
        length_mm=480.0, beam_mm=100.0, height_mm=80.0, step_station_mm=265.0, step_depth_mm=11.0
    )


@pytest.mark.parametrize("trim_deg", [-4.0, 0.0, 4.0])
def test_step_stays_sharp_at_any_trim(trim_deg):
    """The step's two corners and no other point between them stand in the silhouette."""
    tau = math.radians(trim_deg)
    aft = np.array([math.cos(tau), 0.0, math.sin(tau)])
    up = np.array([-math.sin(tau), 0.0, math.cos(tau)])
    region = EdgeWeb.of(_stepped()).silhouette(aft, up, 0.2)
    assert len(region) == 1
    assert len(region[0]) == 6
    for corner in ([265.0, 0.0, 0.0], [265.0, 0.0, 11.0]):
        spot = np.array([corner @ aft, corner @ up])
        assert np.abs(region[0] - spot).max(axis=1).min() < ROUNDING


def test_hole_seen_through_is_a_hole():
    """Two rings of a square tube leave the middle open."""
    outer = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]])
    inner = outer[::-1] * 0.4 + 3.0
    region = outer_region([outer, inner])
    assert len(region) == 2
    assert _area(region) == pytest.approx(100.0 - 16.0)


def test_below_cuts_level():
    """The part under a level of a square is a rectangle; under its lowest point nothing."""
    square = [np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]])]
    assert _area(below(square, 2.5)) == pytest.approx(25.0)
    assert _area(below(square, 99.0)) == pytest.approx(100.0)
    assert below(square, -1.0) == []
    assert below([], 0.0) == []


def test_cut_is_counter_clockwise_from_either_side():
    """A section seen from astern and from ahead is an area above 0 both times."""
    cut = plane_cut(_stepped(), AFT, 100.0)
    for right in (STARBOARD, -STARBOARD):
        assert _area(seen(cut, right, UP, 0.0)) == pytest.approx(100.0 * 80.0)


def test_chine_of_a_stepped_box_lies_on_its_edges():
    """On a V bottom the port chine runs along the edge, with a jump at the step."""
    deadrise = 16.0
    rise = 50.0 * math.tan(math.radians(deadrise))
    body = bodies.stepped_box(
        length_mm=480.0,
        beam_mm=100.0,
        height_mm=80.0,
        step_station_mm=265.0,
        step_depth_mm=11.0,
        deadrise_deg=deadrise,
    )
    fore, after = chine_lines(body, 0.0, -1, (265.0,))
    for line, height in ((fore, rise), (after, rise + 11.0)):
        assert np.allclose(line[:, 1], -50.0)
        assert np.allclose(line[:, 2], height)
    assert fore[-1, 0] < 265.0 < after[0, 0]


def test_round_bottom_has_no_chine():
    """A lying cylinder has no chine to draw."""
    assert chine_lines(bodies.cylinder(diameter_mm=80.0, length_mm=240.0), 0.0, -1) == []


@given(st.lists(st.tuples(st.floats(-9, 9), st.floats(-9, 9)), min_size=3, max_size=40))
def test_thinned_line_stays_within_its_tolerance(points):
    """Every point left out lies within the tolerance of the thinned line; the ends stay."""
    line = np.array(points)
    short = thinned(line, 0.5)
    assert (short[0] == line[0]).all()
    assert (short[-1] == line[-1]).all()
    for point in line:
        start, run = short[:-1], np.diff(short, axis=0)
        size = np.maximum((run**2).sum(axis=1), 1e-300)
        share = np.clip(((point - start) * run).sum(axis=1) / size, 0.0, 1.0)
        away = np.linalg.norm(start + share[:, None] * run - point, axis=1)
        assert away.min() <= 0.5 + 1e-9
