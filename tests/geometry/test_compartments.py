"""Bodies cut at bulkheads, water parted into pools, lowest points."""

import numpy as np
import pytest
from make_bodies import box, stepped_box
from strategies import bumpy

from hullcheck.errors import SurfaceError
from hullcheck.geometry.attitude import normal_of
from hullcheck.geometry.compartments import cut_at_stations, lowest_point, pools_under
from hullcheck.geometry.moment_tree import MomentTree, shifted_row, volume_mm3
from hullcheck.geometry.moments import row_sum
from hullcheck.geometry.topology import edges_match, merged

UP = np.array([0.0, 0.0, 1.0])


def test_box_cut_at_bulkheads():
    """Slices of a box have its section times their length, and stand where they were cut."""
    mesh = merged(box(length_mm=200.0, beam_mm=100.0, height_mm=60.0))
    parts = cut_at_stations("box", mesh, [-5.0, 30.0, 120.0, 200.0, 300.0])
    assert [part.volume_mm3 for part in parts] == pytest.approx(
        [30.0 * 6000.0, 90.0 * 6000.0, 80.0 * 6000.0], rel=1e-12
    )
    ends = [(part.first_station_mm, part.last_station_mm) for part in parts]
    assert ends == [(0.0, 30.0), (30.0, 120.0), (120.0, 200.0)]


@pytest.mark.parametrize("seed", range(4))
def test_parts_add_up_to_the_body(seed):
    """Each part is closed, and volumes, areas of cuts and first moments add up to the whole's."""
    body = bumpy(seed)
    low, high = body[..., 0].min(), body[..., 0].max()
    stations = (low + np.array([0.3, 0.55, 0.8]) * (high - low)).tolist()
    parts = cut_at_stations("body", merged(body), stations)
    assert all(edges_match(part.mesh) for part in parts)
    # The cuts cancel in pairs, so the whole row of moments but the area adds up.
    rows = sum(row_sum(part.mesh.triangles) for part in parts)
    whole = row_sum(body)
    scale = np.abs(whole[12:30]).max()
    assert np.abs(rows[3:12] - whole[3:12]).max() < 1e-9 * np.abs(whole[3:12]).max()
    assert np.abs(rows[12:30] - whole[12:30]).max() < 1e-9 * scale


def test_bulkhead_on_a_ring_of_corners():
    """A bulkhead at the step, where corners of the skin lie on it, cuts there all the same."""
    hull = stepped_box(
        length_mm=600.0,
        beam_mm=110.0,
        height_mm=80.0,
        step_station_mm=290.0,
        step_depth_mm=9.0,
        deadrise_deg=15.0,
    )
    fore, aft = cut_at_stations("hull", merged(hull), [290.0])
    # Upright V sections of one shape: area B (H − b B/4), less the step's depth aft of it.
    section = 110.0 * (80.0 - np.tan(np.radians(15.0)) * 110.0 / 4.0)
    assert fore.volume_mm3 == pytest.approx(290.0 * section, rel=1e-9)
    assert aft.volume_mm3 == pytest.approx(310.0 * (section - 9.0 * 110.0), rel=1e-9)


def test_an_open_body_is_refused():
    """A surface that bounds no solid has no parts."""
    mesh = merged(box(length_mm=200.0, beam_mm=100.0, height_mm=60.0)[2:])
    with pytest.raises(SurfaceError, match="box: its surface bounds no solid"):
        cut_at_stations("box", mesh, [50.0])


def test_a_keel_that_rises_both_ways_of_the_step_holds_two_pools():
    """Before and behind the step's floor water lies apart until it covers the corner.

    Held bow up by 4° the hull's two keels, each falling aft, have a low point each: ahead of the
    step and at the stern. The pools' volumes add up to what the moment tree has under the plane.
    """
    hull = stepped_box(
        length_mm=600.0,
        beam_mm=110.0,
        height_mm=90.0,
        step_station_mm=290.0,
        step_depth_mm=20.0,
        deadrise_deg=15.0,
    )
    normal = normal_of(trim=np.radians(4.0), heel=0.0)
    mesh = merged(hull)
    step, stern = np.array([290.0, 0.0, 0.0]), np.array([600.0, 0.0, 20.0])
    height = float(normal @ step) + 8.0
    pools = pools_under(mesh, normal, height)
    assert len(pools) == 2
    lowest = {tuple(np.round(pool.lowest_mm, 6)) for pool in pools}
    assert lowest == {tuple(step), tuple(stern)}
    tree = MomentTree(hull)
    under = tree.under(normal, height - float(normal @ tree.origin_mm))
    assert sum(pool.volume_mm3 for pool in pools) == pytest.approx(under.volume, rel=1e-9)
    deeper = float(normal @ np.array([290.0, 0.0, 20.0])) + 5.0
    assert len(pools_under(mesh, normal, deeper)) == 1
    assert pools_under(mesh, normal, float(normal @ stern) - 1.0) == ()


def test_lowest_and_highest_points():
    """The corner that a lean leaves lowest; on a flat floor a corner of the floor."""
    points = merged(box(length_mm=200.0, beam_mm=100.0, height_mm=60.0)).points
    nose_up = normal_of(trim=np.radians(5.0), heel=np.radians(2.0))
    assert list(lowest_point(points, nose_up)) == [200.0, 50.0, 0.0]
    assert list(lowest_point(points, -nose_up)) == [0.0, -50.0, 60.0]
    assert lowest_point(points, UP)[2] == 0.0
    assert lowest_point(points, -UP)[2] == 60.0


@pytest.mark.parametrize("seed", range(3))
def test_a_row_about_another_point(seed):
    """Shifted, a row is the one summed about the other point."""
    body, shift = bumpy(seed), np.array([31.0, -70.0, 12.0])
    moved, truth = shifted_row(row_sum(body), shift), row_sum(body + shift)
    for part in (slice(0, 3), slice(3, 12), slice(12, 30), slice(30, 31)):
        scale = np.abs(truth[part]).max() + surface(body, part)
        assert np.abs(moved[part] - truth[part]).max() < 1e-12 * scale


def surface(body, part):
    """Return how large a sum of a row's part can be before its terms cancel."""
    power = {0: 0, 3: 1, 12: 2, 30: 0}[part.start]
    return 6.0 * volume_mm3(body) ** (2.0 / 3.0) * 300.0**power
