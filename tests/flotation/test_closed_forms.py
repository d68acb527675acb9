"""Bodies whose hydrostatics are known in closed form, held level.

All forms are derived, none is quoted: KB is the center of buoyancy above the keel, BM the second
moment of the waterplane over the displaced volume. A regular polygon of n corners in a circle of
radius r has area (n/2) r² sin(2π/n) and the second moment A (6 r² − s²)/24 about any axis through
its middle, s = 2 r sin(π/n) its side.

EXACT is for bodies whose corners are exact numbers, or whose form is that of the polyhedron itself:
rounding leaves 1e-12 or less, so 1e-9 allows nothing but rounding. Round bodies are inscribed
facets: their errors are of the order of the sagitta 1 − cos(π/n), fall fourfold each time the
facets are doubled, and vanish as their square; FOURFOLD is the next order of that, (π/n)².
"""

import math

import make_bodies as bodies
import numpy as np
import pytest
from closed_form import FOURFOLD, UP, exact, level

from hullcheck.geometry.moment_tree import under_directly


def polygon(corners, radius):
    """Return a regular polygon's area and its second moment about an axis through its middle."""
    area = 0.5 * corners * radius**2 * math.sin(2.0 * math.pi / corners)
    side = 2.0 * radius * math.sin(math.pi / corners)
    return area, area * (6.0 * radius**2 - side**2) / 24.0


def test_box_level(skin_of):
    """A box at draft d: KB d/2, BM B²/(12 d) and L²/(12 d), wetted L B + 2 d (L + B)."""
    length, beam, draft, x, z = 240.0, 96.0, 24.0, 10.0, 5.0
    skin = skin_of(
        bodies.box(length_mm=length, beam_mm=beam, height_mm=64.0, origin_mm=(x, 0.0, z))
    )
    found = level(skin, length * beam * draft)
    assert found.height_mm == exact(z + draft)
    assert list(found.center_of_buoyancy_mm) == exact([x + length / 2, 0.0, z + draft / 2])
    assert list(found.center_of_flotation_mm) == exact([x + length / 2, 0.0, z + draft])
    assert found.waterplane_area_mm2 == exact(length * beam)
    assert found.metacentric_radius_mm == exact(
        (beam**2 / (12.0 * draft), length**2 / (12.0 * draft))
    )
    assert found.wetted_area_mm2 == exact(length * beam + 2.0 * draft * (length + beam))
    assert found.displaced_volume_mm3 == exact(length * beam * draft)


@pytest.mark.parametrize(("trim_deg", "heel_deg"), [(4.0, 0.0), (0.0, 15.0), (-5.0, 12.0)])
def test_box_held_tilted(skin_of, trim_deg, heel_deg):
    """A box held askew, all four sides cut: the plane is z = d + a x + b y over its bottom.

    With I_x = L²/(12 d) and I_y = B²/(12 d) the center of buoyancy lies at a I_x, b I_y and
    d/2 + (a² I_x + b² I_y)/2; the waterplane is the bottom stretched by 1/n_z.
    """
    length, beam, draft = 240.0, 96.0, 30.0
    skin = skin_of(
        bodies.box(length_mm=length, beam_mm=beam, height_mm=64.0, origin_mm=(-120.0, 0.0, 0.0))
    )
    found = level(skin, length * beam * draft, trim_deg=trim_deg, heel_deg=heel_deg)
    tau, phi = math.radians(trim_deg), math.radians(heel_deg)
    upright = math.cos(tau) * math.cos(phi)
    a, b = math.tan(tau) / math.cos(phi), math.tan(phi)
    i_x, i_y = length**2 / (12.0 * draft), beam**2 / (12.0 * draft)
    assert list(found.center_of_buoyancy_mm) == exact(
        [a * i_x, b * i_y, draft / 2 + (a * a * i_x + b * b * i_y) / 2]
    )
    assert found.height_mm == exact(draft * upright)
    assert found.waterplane_area_mm2 == exact(length * beam / upright)
    across = (a * math.sin(phi)) ** 2 * i_x + (math.cos(phi) + b * math.sin(phi)) ** 2 * i_y
    run, lift = math.cos(tau), math.sin(tau) * math.cos(phi)
    aside = -math.sin(tau) * math.sin(phi)
    along = (run + a * lift) ** 2 * i_x + (aside + b * lift) ** 2 * i_y
    assert found.metacentric_radius_mm == exact((across / upright, along / upright))


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9])
def test_wedge_level(skin_of, share):
    """A wedge, apex down, to the draft d with waterline beam b: KB 2 d/3, BM b²/(6 d)."""
    length, beam, height = 240.0, 96.0, 64.0
    draft, breadth = share * height, share * beam
    found = level(
        skin_of(bodies.prism(length_mm=length, beam_mm=beam, height_mm=height)),
        0.5 * length * breadth * draft,
    )
    assert found.height_mm == exact(draft)
    assert found.center_of_buoyancy_mm[2] == exact(2.0 * draft / 3.0)
    assert found.metacentric_radius_mm[0] == exact(breadth**2 / (6.0 * draft))
    assert found.metacentric_radius_mm[1] == exact(length**2 / (6.0 * draft))
    assert found.wetted_area_mm2 == exact(
        breadth * draft + 2.0 * length * math.hypot(draft, breadth / 2.0)
    )


@pytest.mark.parametrize("facets", [7, 96])
def test_upright_cylinder_as_the_polygon_it_is(skin_of, facets):
    """An upright polygonal column: KB d/2, BM the polygon's second moment over A d."""
    diameter, draft = 80.0, 30.0
    area, second = polygon(facets, diameter / 2.0)
    found = level(
        skin_of(bodies.cylinder(diameter_mm=diameter, length_mm=50.0, facets=facets, upright=True)),
        area * draft,
    )
    assert found.height_mm == exact(draft)
    assert found.center_of_buoyancy_mm[2] == exact(draft / 2.0)
    assert found.waterplane_area_mm2 == exact(area)
    assert found.metacentric_radius_mm == exact((second / (area * draft),) * 2)


def test_upright_cylinder_tends_to_the_round_one(skin_of):
    """An upright cylinder of diameter B: BM B²/(16 d), short by a part that falls fourfold."""
    diameter, draft, errors = 80.0, 30.0, []
    for facets in (48, 96, 192):
        skin = skin_of(
            bodies.cylinder(diameter_mm=diameter, length_mm=50.0, facets=facets, upright=True)
        )
        found = level(skin, polygon(facets, diameter / 2.0)[0] * draft)
        errors.append(diameter**2 / (16.0 * draft) - found.metacentric_radius_mm[0])
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=FOURFOLD)
    assert errors[1] / errors[2] == pytest.approx(4.0, rel=FOURFOLD)


def test_cone_as_the_pyramid_it_is(skin_of):
    """A pyramid, apex down, to the draft d: KB 3 d/4, volume A d/3, BM of its waterplane."""
    diameter, height, draft, facets = 90.0, 60.0, 40.0, 31
    area, second = polygon(facets, diameter / 2.0 * draft / height)
    found = level(
        skin_of(bodies.cone(diameter_mm=diameter, height_mm=height, facets=facets)),
        area * draft / 3.0,
    )
    assert found.height_mm == exact(draft)
    assert found.center_of_buoyancy_mm[2] == exact(0.75 * draft)
    assert found.waterplane_area_mm2 == exact(area)
    assert found.metacentric_radius_mm == exact((3.0 * second / (area * draft),) * 2)


def test_cone_tends_to_the_round_one(skin_of):
    """A round cone with the waterline radius r: BM 3 r²/(4 d), short by the facets' part."""
    diameter, height, draft, errors = 90.0, 60.0, 40.0, []
    radius = diameter / 2.0 * draft / height
    for facets in (48, 96):
        skin = skin_of(bodies.cone(diameter_mm=diameter, height_mm=height, facets=facets))
        found = level(skin, polygon(facets, radius)[0] * draft / 3.0)
        errors.append(3.0 * radius**2 / (4.0 * draft) - found.metacentric_radius_mm[0])
    # BM goes with (6 r² − s²)/6 r²: short by the share (2/3) sin²(π/n) of itself.
    share = 2.0 / 3.0 * math.sin(math.pi / 48.0) ** 2
    assert errors[0] == pytest.approx(share * 3.0 * radius**2 / (4.0 * draft), rel=1e-6)
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=FOURFOLD)


@pytest.mark.parametrize("angle_deg", [60.0, 90.0, 120.0])
def test_lying_cylinder_tends_to_the_round_one(skin_of, angle_deg):
    """A lying cylinder wet to the angle α from its lowest line, ρ its radius.

    Segment area ρ² (α − sin α cos α), its centroid (2/3) ρ sin³α/(α − sin α cos α) below the axis,
    waterline beam b = 2 ρ sin α, BM b³/(12 area). The facets' corners lie on the waterline, so all
    of the error is that of inscribed facets.
    """
    radius, length, alpha = 40.0, 240.0, math.radians(angle_deg)
    area = radius**2 * (alpha - math.sin(alpha) * math.cos(alpha))
    beam = 2.0 * radius * math.sin(alpha)
    truth = np.array(
        [
            area * length,
            -2.0 / 3.0 * radius**3 * math.sin(alpha) ** 3 / area,
            beam**3 / (12.0 * area),
        ]
    )
    errors = []
    for facets in (48, 96, 192):
        triangles = bodies.cylinder(diameter_mm=2 * radius, length_mm=length, facets=facets)
        under = skin_of(triangles).tree.under(UP, -radius * math.cos(alpha))
        middle = skin_of(triangles).tree.origin_mm[2]
        found = [
            under.volume,
            under.position_integral[2] / under.volume + middle,
            under.second_moments[1, 1] / under.volume,
        ]
        assert under.area == exact(beam * length)
        errors.append(truth - found)
    # (2/3)(1 − cos) of a full circle's area is missing; a segment's share is at most twice that.
    assert np.abs(errors[0] / truth).max() < 4.0 * (1.0 - math.cos(math.pi / 48.0))
    assert list(errors[0] / errors[1]) == pytest.approx([4.0] * 3, rel=FOURFOLD)
    assert list(errors[1] / errors[2]) == pytest.approx([4.0] * 3, rel=FOURFOLD)


@pytest.mark.parametrize(("bands", "wet"), [(24, 8), (24, 12), (24, 18)])
def test_sphere_tends_to_the_round_one(bands, wet):
    """A sphere's cap tends to its closed form, its metacenter to the middle at any draft.

    To the depth h: volume π h² (3 ρ − h)/3, centroid 3 (2 ρ − h)²/(4 (3 ρ − h)) below the middle.

    The waterline lies on a parallel of the facets; meridians are doubled with the parallels.
    """
    radius, polar = 50.0, math.pi * wet / bands
    depth = radius * (1.0 - math.cos(polar))
    truth = np.array(
        [
            math.pi * depth**2 * (3.0 * radius - depth) / 3.0,
            -3.0 * (2.0 * radius - depth) ** 2 / (4.0 * (3.0 * radius - depth)),
            math.pi * (radius * math.sin(polar)) ** 2,
        ]
    )
    errors, metacenters = [], []
    for twice in (1, 2, 4):
        triangles = bodies.sphere(
            diameter_mm=2.0 * radius, facets=2 * bands * twice, bands=bands * twice
        )
        under = under_directly(triangles, UP, depth - radius, np.zeros(3))
        center = under.position_integral[2] / under.volume
        errors.append(truth - [under.volume, center, under.area])
        metacenters.append(center + under.second_moments[1, 1] / under.volume)
    assert np.abs(errors[0] / truth).max() < 4.0 * (1.0 - math.cos(math.pi / bands))
    assert list(errors[0] / errors[1]) == pytest.approx([4.0] * 3, rel=FOURFOLD)
    assert list(errors[1] / errors[2]) == pytest.approx([4.0] * 3, rel=FOURFOLD)
    assert abs(metacenters[0]) < radius * 4.0 * (1.0 - math.cos(math.pi / bands))
    assert metacenters[1] / metacenters[2] == pytest.approx(4.0, rel=FOURFOLD)
