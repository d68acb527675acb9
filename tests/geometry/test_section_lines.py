"""Sections of parts: areas, walls and open lines against closed forms."""

import make_bodies as bodies
import numpy as np
import pytest
from open_boxes import lacking
from thin_walls import BEAM, HATCH, HEIGHT, WALL, finer, wall

from hullcheck.geometry.section_lines import LINE_MM, filled, section_areas, sections, whole

BOX_MM2, INSIDE_MM2 = BEAM * HEIGHT, (BEAM - 2.0 * WALL) * (HEIGHT - 2.0 * WALL)
"""Area of the box across x, outside and inside its wall (thin_walls)."""


def polygon_area(radius, facets):
    """Return the area of a regular polygon, (n/2) r² sin(2π/n) [mm²]."""
    return 0.5 * facets * radius**2 * np.sin(2.0 * np.pi / facets)


def inner(triangles):
    """Return an inner shell: the triangles turned inward."""
    return triangles[:, ::-1]


def test_the_section_of_a_solid_box():
    """Its area is beam × height; no line is open."""
    box = bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    for section in sections(box, np.array([0.01, 77.7, 120.0, 239.99])):
        assert section.region.area == pytest.approx(96.0 * 64.0, rel=1e-9)
        assert section.open_mm == 0.0
        assert section.region.bounds == pytest.approx((-48.0, 0.0, 48.0, 64.0))


def test_the_section_of_a_wall_is_filled():
    """A box of 2 mm wall: the region is all it encloses."""
    (section,) = sections(wall(), np.array([300.0]))
    assert section.region.area == pytest.approx(BOX_MM2, rel=1e-9)
    assert section.open_mm == 0.0


def test_a_wall_with_a_hatch_is_a_c():
    """Where the hatch is the region is the wall alone, less the hatch's own 60 mm of deck."""
    (low_x, low_y, _), (high_x, high_y, _) = HATCH
    (section,) = sections(wall(holes=[HATCH]), np.array([0.5 * (low_x + high_x)]))
    material = BOX_MM2 - INSIDE_MM2 - (high_y - low_y) * WALL
    assert section.region.area == pytest.approx(material, rel=1e-9)
    assert section.open_mm == 0.0


def test_the_facing_of_triangles_is_not_used():
    """Turned over at random the sections stay the same."""
    tube = finer(wall(), 1)
    turned = np.where((np.arange(len(tube)) % 3 == 0)[:, None, None], tube[:, ::-1], tube)
    at = np.array([100.0, 300.0])
    for one, two in zip(sections(tube, at), sections(turned, at), strict=True):
        assert one.region.equals(two.region)


def test_an_open_line_has_its_length_and_a_little_width():
    """A box without a deck: a "U" of 96 + 2 × 64 mm, 0.04 mm wide with square ends and corners.

    Its area is outer less inner rectangle: (96 + 2 w)(64 + 2 w) − (96 − 2 w) · 64 with w = 0.02.
    """
    (section,) = sections(lacking("deck"), np.array([100.0]))
    assert section.open_mm == pytest.approx(96.0 + 2.0 * 64.0, rel=1e-9)
    w = LINE_MM
    expected = (96.0 + 2.0 * w) * (64.0 + 2.0 * w) - (96.0 - 2.0 * w) * 64.0
    assert section.region.area == pytest.approx(expected, rel=1e-6)


def test_a_rib_that_meets_the_skin_hides_nothing():
    """A sheet along the inside of a closed sheet: lines that branch enclose the whole box."""
    box = bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    shelf = np.array([[[20, -48, 30], [220, -48, 30], [220, 48, 30]]], dtype=float)
    shelf = np.concatenate([shelf, [[[20, -48, 30], [220, 48, 30], [20, 48, 30]]]])
    (section,) = sections(np.concatenate([box, shelf]), np.array([100.0]))
    assert section.region.area == pytest.approx(96.0 * 64.0, rel=1e-6)


def test_a_section_of_nothing_is_empty():
    """Beyond the ends nothing is enclosed."""
    box = bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    before, after = sections(box, np.array([-5.0, 245.0]))
    assert before.region.is_empty
    assert after.region.is_empty
    assert before.open_mm == after.open_mm == 0.0


def test_section_areas_of_cylinder_and_wedge():
    """By ½ ∮ p·n ds: (n/2) r² sin(2π/n) for a cylinder, beam × height / 2 for a wedge, to 1e-6.

    Section points are kept to five decimals of a millimeter, which is 1e-7 of these sizes.
    """
    at = np.linspace(1.3, 98.7, 12)
    cylinder = bodies.cylinder(diameter_mm=80.0, length_mm=100.0, facets=24)
    assert section_areas(cylinder, at) == pytest.approx(polygon_area(40.0, 24), rel=1e-6)
    wedge = bodies.prism(length_mm=100.0, beam_mm=90.0, height_mm=40.0)
    assert section_areas(wedge, at) == pytest.approx(90.0 * 40.0 / 2.0, rel=1e-6)


def test_section_areas_of_a_cone_go_with_the_square():
    """At a share s of the way from its apex a cone has s² of its base's area."""
    cone = bodies.cone(diameter_mm=80.0, height_mm=100.0, facets=24)[:, :, [2, 1, 0]][:, ::-1]
    low, high = cone[:, :, 0].min(), cone[:, :, 0].max()
    share = np.linspace(0.1, 0.9, 9)
    area = section_areas(cone, low + share * (high - low))
    assert area == pytest.approx(polygon_area(40.0, 24) * share**2, rel=1e-5)


def test_whole_and_filled_keep_areas_only():
    """Lines and points are left out, holes are filled."""
    import shapely

    ring = shapely.box(0, 0, 10, 10).difference(shapely.box(2, 2, 8, 8))
    mixed = shapely.geometrycollections([ring, shapely.linestrings([[0, 0], [50, 50]])])
    assert whole(mixed).area == pytest.approx(100.0 - 36.0)
    assert filled(whole(mixed)).area == pytest.approx(100.0)
    assert whole(shapely.linestrings([[0, 0], [1, 1]])).is_empty
