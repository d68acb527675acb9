"""Plugs, collars, thickened sheets and unions: volumes in closed form."""

import make_bodies as bodies
import numpy as np
import pytest
import shapely
from open_boxes import lacking
from thin_walls import block

from hullcheck.errors import SurfaceError
from hullcheck.geometry.section_lines import whole
from hullcheck.geometry.skin_solids import (
    INSET_MM,
    collar,
    cut_at_rims,
    plug,
    prism,
    solid_of,
    thickened,
)
from hullcheck.geometry.skin_union import united_hulks
from hullcheck.geometry.topology import is_closed_manifold, merged

LAP_MM = 2e-3
"""How far slabs of a plug reach into each other, to either side."""
BEAM, HEIGHT, LENGTH = 100.0, 80.0, 60.0
RECTANGLE = shapely.box(-50.0, 0.0, 50.0, HEIGHT)


def ring(radius, facets, turn=0.0, *, clockwise=False):
    """Return a regular polygon about (0, 40)."""
    angle = turn + 2.0 * np.pi * np.arange(facets) / facets
    points = np.column_stack([radius * np.cos(angle), 40.0 + radius * np.sin(angle)])
    return shapely.Polygon(points[::-1] if clockwise else points)


def polygon_area(radius, facets):
    """Return the area of a regular polygon, (n/2) r² sin(2π/n) [mm²]."""
    return 0.5 * facets * radius**2 * np.sin(2.0 * np.pi / facets)


def test_a_plug_of_one_section():
    """(beam − 2 i)(height − 2 i) over the length, and 0.002 mm at either end."""
    inset, stations = INSET_MM, np.linspace(0.0, LENGTH, 31)
    solid = plug(stations, [whole(RECTANGLE)] * 31)
    expected = (BEAM - 2 * inset) * (HEIGHT - 2 * inset) * (LENGTH + 2 * LAP_MM)
    assert solid.volume() == pytest.approx(expected, rel=1e-9)
    assert solid.genus() == 0
    assert solid.bounding_box() == pytest.approx(
        (-LAP_MM, inset - 50.0, inset, LENGTH + LAP_MM, 50.0 - inset, HEIGHT - inset)
    )


def test_a_plug_lies_within_the_sections():
    """Between two sections it holds what both hold: a wedge's plug sticks out of it nowhere.

    The wedge is 0 to 80 mm high over 60 mm; the plug is its stairs, less the inset all around.
    """
    wedge = solid_of(merged(bodies.prism(length_mm=60.0, beam_mm=90.0, height_mm=80.0)))
    stations = np.linspace(0.5, 59.5, 60)
    apex_down = shapely.Polygon([(0.0, 0.0), (45.0, 80.0), (-45.0, 80.0)])
    solid = plug(stations, [whole(apex_down)] * 60)
    assert (solid - wedge).volume() == pytest.approx(0.0, abs=1e-6)
    # A triangle with inset i is a smaller one of the same shape, its inradius less i.
    inradius = 2.0 * apex_down.area / apex_down.length
    expected = apex_down.area * (1.0 - INSET_MM / inradius) ** 2 * (59.0 + 2 * LAP_MM)
    assert solid.volume() == pytest.approx(expected, rel=1e-9)


def test_a_plug_of_stairs():
    """Between a low and a high section it takes the low one."""
    low, high = whole(shapely.box(-50.0, 10.0, 50.0, HEIGHT)), whole(RECTANGLE)
    solid = plug([0.0, 20.0, 40.0], [high, low, high])
    area = (BEAM - 2 * INSET_MM) * (70.0 - 2 * INSET_MM)
    assert solid.volume() == pytest.approx(area * (40.0 + 2 * LAP_MM), rel=1e-9)


def test_a_prism_keeps_its_holes():
    """A ring drawn out along x: y and z stay, x goes from one station to the other."""
    shape = RECTANGLE.difference(shapely.box(-10.0, 30.0, 20.0, 50.0))
    solid = prism(shape, 5.0, 25.0)
    assert solid.volume() == pytest.approx((8000.0 - 600.0) * 20.0, rel=1e-12)
    assert solid.genus() == 1
    assert solid.bounding_box() == pytest.approx((5.0, -50.0, 0.0, 25.0, 50.0, HEIGHT))


@pytest.mark.parametrize("clockwise", [False, True])
@pytest.mark.parametrize("facets", [3, 12, 64])
def test_a_collar_is_a_frustum(facets, clockwise):
    """Between like polygons: h/3 (A + B + √(A B)), the volume of the frustum of a cone."""
    one, two = ring(40.0, facets), ring(36.0, facets, clockwise=clockwise)
    solid = collar(one, 10.0, two, 13.0)
    a, b = polygon_area(40.0, facets), polygon_area(36.0, facets)
    assert solid.volume() == pytest.approx((a + b + np.sqrt(a * b)) * 3.0 / 3.0, rel=1e-9)
    assert solid.genus() == 0


def test_a_collar_of_rings_with_other_corners():
    """Corners added along the sides change nothing: a frustum of a square all the same."""
    one = shapely.box(-40.0, 0.0, 40.0, 80.0)
    two = shapely.segmentize(shapely.box(-36.0, 4.0, 36.0, 76.0), 5.0)
    solid = collar(one, 0.0, two, 3.0)
    assert len(two.exterior.coords) > 50
    assert solid.volume() == pytest.approx(80.0**2 + 72.0**2 + 80.0 * 72.0, rel=1e-9)
    assert collar(one, 0.0, one, 3.0).volume() == pytest.approx(3.0 * 6400.0, rel=1e-12)


def test_a_collar_of_no_width_is_none():
    """Ends at one station enclose nothing."""
    assert collar(ring(40.0, 12), 5.0, ring(40.0, 12), 5.0) is None


def test_a_flat_sheet_thickened():
    """Area × depth, all of it behind the sheet."""
    square = np.array([[[0, 0, 0], [30, 0, 0], [30, 20, 0]], [[0, 0, 0], [30, 20, 0], [0, 20, 0]]])
    solid = thickened(merged(square.astype(float)), 0.6)
    assert solid.volume() == pytest.approx(30.0 * 20.0 * 0.6, rel=1e-9)
    assert solid.bounding_box()[2::3] == pytest.approx((-0.6, 0.0))


def test_a_closed_box_thickened():
    """Corners move by the depth along (1, 1, 1)/√3: a box within the box is taken out."""
    box = bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    solid = thickened(merged(box), 0.6)
    less = 2.0 * 0.6 / np.sqrt(3.0)
    inner = (240.0 - less) * (96.0 - less) * (64.0 - less)
    assert solid.volume() == pytest.approx(240.0 * 96.0 * 64.0 - inner, rel=1e-9)


def test_leaves_on_one_edge_are_cut_apart():
    """Three leaves on one edge: each keeps corners of its own, and each is thickened."""
    spine = np.array([[0.0, 0.0, 0.0], [10.0, 0.0, 0.0]])
    leaves = [[*spine, tip] for tip in ([5.0, 8.0, 0.0], [5.0, -8.0, 0.0], [5.0, 0.0, 8.0])]
    mesh = merged(np.array(leaves))
    assert len(mesh.points) == 5
    assert len(cut_at_rims(mesh).points) == 9
    assert np.array_equal(cut_at_rims(mesh).triangles, mesh.triangles)


def test_a_sound_mesh_is_not_cut():
    """As many corners as before."""
    mesh = merged(bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0))
    cut = cut_at_rims(mesh)
    assert len(cut.points) == 8
    assert is_closed_manifold(cut)


def test_what_is_open_is_no_solid():
    """A box without its deck bounds nothing; a whole one bounds length × beam × height."""
    assert solid_of(merged(lacking("deck"))) is None
    box = solid_of(merged(bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)))
    assert box.volume() == pytest.approx(240.0 * 96.0 * 64.0, rel=1e-12)


# -------------------------------------------------------------------------------------- unions


def test_voids_and_what_lies_in_them_displace_nothing():
    """A box around a void in which another box floats: one shell, of the outer box."""
    outer, void, within = (block((-k, -k, -k), (k, k, k)) for k in (30.0, 20.0, 5.0))
    (hulk,) = united_hulks("hull", [(outer - void, 0), (within, 1)])
    assert hulk.volume_mm3 == pytest.approx(60.0**3, rel=1e-12)
    assert hulk.area_mm2 == pytest.approx(6.0 * 60.0**2, rel=1e-12)
    assert set(hulk.owner.tolist()) == {0}
    assert hulk.handles == 0


def test_crumbs_are_left_out_and_bodies_stay_the_largest_first():
    """Two bodies apart are two shells; what is smaller than 1e-6 of the largest is none."""
    small, large = block((0, 0, 0), (10, 10, 10)), block((50, 0, 0), (150, 100, 100))
    crumb = block((0, 50, 0), (0.9, 50.9, 0.9))
    grain = block((0, 70, 0), (1.1, 71.1, 1.1))
    hulks = united_hulks("hull", [(small, 4), (large, 5), (crumb, 6), (grain, 7)])
    assert [h.volume_mm3 for h in hulks] == pytest.approx([1e6, 1e3, 1.1**3])
    assert [set(h.owner.tolist()) for h in hulks] == [{5}, {4}, {7}]


def test_every_face_has_an_owner():
    """A box on a box: what each has of the skin is its surface but for the face they share."""
    low, high = block((0, 0, 0), (100, 50, 20)), block((30, 10, 20), (60, 30, 35))
    (hulk,) = united_hulks("hull", [(low, -1), (high, 3)])
    a, b, c = np.moveaxis(hulk.mesh.triangles, 1, 0)
    areas = 0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1)
    shared = 30.0 * 20.0
    assert areas[hulk.owner == -1].sum() == pytest.approx(2 * (5000 + 2000 + 1000) - shared)
    assert areas[hulk.owner == 3].sum() == pytest.approx(2 * (600 + 450 + 300) - shared)
    assert hulk.volume_mm3 == pytest.approx(100_000.0 + 9000.0, rel=1e-12)


def test_a_ring_has_a_handle():
    """A frame of four beams has one tunnel through it."""
    frame = block((0, 0, 0), (40, 40, 10)) - block((10, 10, -1), (30, 30, 11))
    (hulk,) = united_hulks("hull", [(frame, 0)])
    assert hulk.handles == 1


def test_nothing_makes_no_solid():
    """An empty union is refused by the body's name."""
    empty = block((0, 0, 0), (1, 1, 1)) - block((-1, -1, -1), (2, 2, 2))
    with pytest.raises(SurfaceError, match="left float: its parts could not be made one solid"):
        united_hulks("left float", [(empty, 0)])
