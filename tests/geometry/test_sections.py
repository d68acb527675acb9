"""Plane cuts, outlines from a side, and the keel as a line."""

import math

import make_bodies as bodies
import numpy as np
import pytest
from hypothesis import given, settings
from strategies import SEEDS, bumpy, bumpy_bodies, normals, uniform

from hullcheck.geometry.moment_tree import MomentTree
from hullcheck.geometry.profile import Profile, keel_profile, lower_edge
from hullcheck.geometry.sections import Cuts, Slices, chained, cut_segments, envelope, loop_area


@given(triangles=bumpy_bodies(), normal=normals(), share=uniform(-0.7, 0.7))
def test_a_cut_closes_and_has_the_waterplane_area(triangles, normal, share):
    """A cut's segments chain into closed loops whose area is that of the surface integral.

    Seen from the tip of the normal the inside lies to the left: the area is positive.
    """
    tree = MomentTree(triangles)
    height = share * tree.length_mm / 2
    offset = height + float(normal @ tree.origin_mm)
    segments = cut_segments(triangles, normal, offset)
    assert np.abs(segments @ normal - offset).max(initial=0.0) < 1e-9
    first = np.cross(normal, np.eye(3)[int(np.argmin(np.abs(normal)))])
    first /= np.linalg.norm(first)
    flat = np.stack([first, np.cross(normal, first)], axis=1)
    loops = chained(segments)
    area = sum(loop_area(loop @ flat) for loop in loops)
    assert area == pytest.approx(tree.under(normal, height).area, abs=1e-9 * tree.length_mm**2)
    # Closed: each end of a segment is the start of another, to the last bit.
    starts, ends = segments[:, 0] + 0.0, segments[:, 1] + 0.0
    assert np.array_equal(np.unique(starts, axis=0), np.unique(ends, axis=0))


def test_slices_are_the_cuts_of_all_triangles():
    """A slice made from the triangles that reach it is the cut of the whole surface."""
    triangles = bumpy(3)
    cuts = Cuts(triangles)
    low, high = triangles.min(axis=(0, 1)), triangles.max(axis=(0, 1))
    for slices, axis in ((cuts.stations, 0), (cuts.buttocks, 1), (Slices(triangles, 2), 2)):
        for place in np.linspace(low[axis] - 1.0, high[axis] + 1.0, 9):
            whole = cut_segments(triangles, np.eye(3)[axis], float(place))
            assert np.array_equal(slices.at(float(place)), whole)


def test_loop_area_has_a_sign():
    """A loop is positive counterclockwise and negative clockwise."""
    square = np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 3.0], [0.0, 3.0]])
    assert loop_area(square) == pytest.approx(6.0)
    assert loop_area(square[::-1]) == pytest.approx(-6.0)


def test_envelope_of_a_cone():
    """From the side a cone of corners fore and aft is a triangle; beyond it there is nothing."""
    triangles = bodies.cone(diameter_mm=90.0, height_mm=60.0, facets=32)
    stations = np.linspace(-60.0, 60.0, 41)
    lowest, highest = envelope(triangles[:, :, 0], triangles[:, :, 2], stations)
    inside = np.abs(stations) <= 45.0
    assert np.isnan(lowest[~inside]).all()
    assert np.isnan(highest[~inside]).all()
    assert list(lowest[inside]) == pytest.approx(
        list(np.abs(stations[inside]) * 60.0 / 45.0), abs=1e-9
    )
    assert list(highest[inside]) == pytest.approx([60.0] * int(inside.sum()), abs=1e-9)


@given(seed=SEEDS)
@settings(max_examples=20)
def test_envelope_by_cutting(seed):
    """Lowest and highest of an irregular body are those of its plane cuts."""
    triangles = bumpy(seed)
    low, high = triangles[:, :, 0].min(), triangles[:, :, 0].max()
    stations = np.linspace(low + 0.01, high - 0.01, 23)
    lowest, highest = envelope(triangles[:, :, 0], triangles[:, :, 2], stations)
    for x, least, greatest in zip(stations, lowest, highest, strict=True):
        heights = cut_segments(triangles, np.array([1.0, 0.0, 0.0]), float(x))[:, :, 2]
        assert least == pytest.approx(heights.min(), abs=1e-9)
        assert greatest == pytest.approx(heights.max(), abs=1e-9)


@given(seed=SEEDS, share=uniform(-0.6, 0.6))
@settings(max_examples=40)
def test_keel_profile_is_the_lower_edge(seed, share):
    """The keel profile's height is the least of its section's heights, at places drawn freely."""
    triangles = bumpy(seed)
    low, high = triangles.min(axis=(0, 1)), triangles.max(axis=(0, 1))
    plane = float(0.5 * (low + high)[1] + share * 0.5 * (high - low)[1])
    profile = keel_profile(triangles, plane)
    segments = cut_segments(triangles, np.array([0.0, 1.0, 0.0]), plane)[:, :, [0, 2]]
    for x in np.linspace(segments[:, :, 0].min(), segments[:, :, 0].max(), 17)[1:-1]:
        start, end = segments[:, 0], segments[:, 1]
        spans = (np.minimum(start, end)[:, 0] < x) & (x < np.maximum(start, end)[:, 0])
        part = (x - start[spans, 0]) / (end[spans, 0] - start[spans, 0])
        heights = start[spans, 1] + part * (end[spans, 1] - start[spans, 1])
        assert profile.height_at(float(x)) == pytest.approx(heights.min(), abs=1e-9)


def test_keel_profile_of_a_stepped_hull():
    """The profile of a stepped hull jumps at the step, and reads the lower side there."""
    triangles = bodies.stepped_box(
        length_mm=480.0,
        beam_mm=100.0,
        height_mm=80.0,
        step_station_mm=265.0,
        step_depth_mm=12.0,
        deadrise_deg=17.0,
        forebody_keel_deg=1.5,
        afterbody_keel_deg=6.5,
    )
    profile = keel_profile(triangles, 0.0)
    fore, aft = math.tan(math.radians(1.5)), math.tan(math.radians(6.5))
    for x, truth in (
        (0.0, 265.0 * fore),
        (200.0, 65.0 * fore),
        (265.0, 0.0),
        (265.0001, 12.0 + 0.0001 * aft),
        (480.0, 12.0 + 215.0 * aft),
    ):
        assert profile.height_at(x) == pytest.approx(truth, abs=1e-9)
    assert math.isnan(profile.height_at(-1.0))
    assert math.isnan(profile.height_at(481.0))
    line = profile.points()
    jump = np.flatnonzero(np.abs(np.diff(line[:, 0])) < 1e-9)
    assert list(line[jump[0]]) == pytest.approx([265.0, 0.0], abs=1e-9)
    assert list(line[jump[0] + 1]) == pytest.approx([265.0, 12.0], abs=1e-9)
    # A quarter beam out the bottom stands higher by the deadrise.
    buttock = keel_profile(triangles, 25.0)
    assert buttock.height_at(200.0) == pytest.approx(
        65.0 * fore + 25.0 * math.tan(math.radians(17.0)), abs=1e-9
    )


def test_a_missed_surface_has_no_profile():
    """A plane beside the surface, or segments without length along, give no profile."""
    triangles = bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    assert keel_profile(triangles, 200.0) is None
    assert lower_edge(np.array([[[1.0, 0.0], [1.0, 5.0]]])) is None


def test_a_profile_owns_its_arrays():
    """A profile's arrays cannot be written to, nor hold what is not finite."""
    profile = Profile(starts=np.zeros((1, 2)), ends=np.array([[1.0, 0.0]]))
    with pytest.raises(ValueError, match="read-only"):
        profile.starts[0, 0] = 3.0
    with pytest.raises(ValueError, match="not a finite number"):
        Profile(starts=np.array([[np.nan, 0.0]]), ends=np.array([[1.0, 0.0]]))
