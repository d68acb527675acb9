"""The inside of a body behind its wall: closed forms, bounds, and walls that leave nothing."""

import math

import numpy as np
import pytest
from make_bodies import box, cylinder, prism, sphere
from strategies import bumpy

from hullcheck.errors import InputError, SurfaceError
from hullcheck.geometry.areas import surface_area_mm2
from hullcheck.geometry.arrays import bounds
from hullcheck.geometry.inset import inset
from hullcheck.geometry.moment_tree import volume_mm3
from hullcheck.geometry.shells import winding_inside
from hullcheck.geometry.topology import edges_match


def test_box_behind_its_wall():
    """200 × 100 × 60 behind 5 is 190 × 90 × 50, to the corner (closed form)."""
    found = inset("box", box(length_mm=200.0, beam_mm=100.0, height_mm=60.0), 5.0)
    low, high = bounds(found.mesh.triangles)
    assert found.volume_mm3 == pytest.approx(190.0 * 90.0 * 50.0, rel=1e-12)
    assert list(low) == pytest.approx([5.0, -45.0, 5.0], abs=1e-9)
    assert list(high) == pytest.approx([195.0, 45.0, 55.0], abs=1e-9)
    assert found.held_corners == 0


def test_box_nearly_all_wall():
    """A box of 60 behind 29: corners cannot just move in, and 142 × 42 × 2 is left all the same."""
    found = inset("box", box(length_mm=200.0, beam_mm=100.0, height_mm=60.0), 29.0)
    assert found.held_corners == 8
    assert found.volume_mm3 == pytest.approx(142.0 * 42.0 * 2.0, rel=1e-6)


def test_wedge_behind_its_wall():
    """A wedge's section shrinks about the center of its inscribed circle (closed form).

    With the section's area S, perimeter p and inscribed radius r = 2 S/p, what is left is
    S (1 − t/r)² (L − 2 t).
    """
    length, beam, height, wall = 300.0, 80.0, 60.0, 3.0
    found = inset("wedge", prism(length_mm=length, beam_mm=beam, height_mm=height), wall)
    section = 0.5 * beam * height
    radius = 2.0 * section / (beam + 2.0 * math.hypot(0.5 * beam, height))
    truth = section * (1.0 - wall / radius) ** 2 * (length - 2.0 * wall)
    assert found.volume_mm3 == pytest.approx(truth, rel=1e-9)


def test_cylinder_behind_its_wall():
    """A regular polygon's apothem shortens by the wall (closed form)."""
    facets, radius, length, wall = 24, 40.0, 150.0, 2.0
    body = cylinder(diameter_mm=2.0 * radius, length_mm=length, facets=facets)
    apothem = radius * math.cos(math.pi / facets) - wall
    truth = facets * apothem**2 * math.tan(math.pi / facets) * (length - 2.0 * wall)
    assert inset("tube", body, wall).volume_mm3 == pytest.approx(truth, rel=1e-9)


@pytest.mark.parametrize("wall", [0.5, 2.0])
def test_sphere_behind_its_wall(wall):
    """Between the spheres inscribed in and about its facets, less the wall (closed form)."""
    ball = sphere(diameter_mm=100.0, facets=48, bands=24)
    share = volume_mm3(ball) / (4.0 / 3.0 * math.pi * 50.0**3)
    found = inset("ball", ball, wall)
    truth = 4.0 / 3.0 * math.pi * (50.0 - wall) ** 3
    # Facets cut off the same share of a smaller ball, but for the wall being square to them.
    assert found.volume_mm3 == pytest.approx(share * truth, rel=2e-3 * wall)


@pytest.mark.parametrize("seed", range(4))
def test_irregular_bodies_behind_their_wall(seed):
    """Closed, inside the skin, and smaller by no more than the wall times the area, in bounds."""
    skin, wall = bumpy(seed), 1.0
    found = inset("body", skin, wall)
    inner = found.mesh.triangles
    assert edges_match(found.mesh)
    assert volume_mm3(inner) == pytest.approx(found.volume_mm3, rel=1e-9)
    area = surface_area_mm2(skin)
    assert 0.85 * wall * area < volume_mm3(skin) - found.volume_mm3 < 1.02 * wall * area
    some = inner[:: max(len(inner) // 40, 1)].mean(axis=1)
    assert winding_inside(skin, some).all()


def test_the_wall_is_square_to_slanted_faces():
    """No point of the inside lies nearer to a face's plane of a wedge than the wall."""
    skin = prism(length_mm=300.0, beam_mm=80.0, height_mm=60.0)
    inner = inset("wedge", skin, 3.0).mesh.points
    for triangle in skin:
        normal = np.cross(triangle[1] - triangle[0], triangle[2] - triangle[0])
        depth = (triangle[0] - inner) @ (normal / np.linalg.norm(normal))
        assert depth.min() == pytest.approx(3.0, abs=1e-9)


def test_a_wall_that_leaves_no_inside():
    """A box of 60 behind 31 has no inside, and that is said."""
    body = box(length_mm=200.0, beam_mm=100.0, height_mm=60.0)
    with pytest.raises(SurfaceError, match="box: a wall of 31 mm leaves no inside"):
        inset("box", body, 31.0)


@pytest.mark.parametrize("wall", [0.0, -1.0, float("nan")])
def test_a_wall_that_is_none(wall):
    """A wall must be above 0."""
    body = box(length_mm=200.0, beam_mm=100.0, height_mm=60.0)
    with pytest.raises(InputError, match="must be above 0"):
        inset("box", body, wall)
