"""The analytic bodies: closed skins whose volumes equal their closed forms.

Volumes are taken by trimesh, a general-purpose library that knows nothing of the scripts. The
closed forms are derived: areas of regular polygons, and frusta of pyramids,
(h/3)(A + A' + √(A A')), in any table of solids.
"""

import importlib
import sys
from pathlib import Path

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1] / "meshes"))
bodies = importlib.import_module("make_bodies")
stl = importlib.import_module("stl_bytes")

# Sums of some 10⁴ float64 products carry about 1e-14 relative; a wrong facet is 1e-3 or more.
ROUNDING = 1e-12

SMALL = {
    "box": bodies.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0, origin_mm=(7.0, -3.0, 5.0)),
    "prism": bodies.prism(length_mm=240.0, beam_mm=96.0, height_mm=64.0),
    "lying cylinder": bodies.cylinder(diameter_mm=80.0, length_mm=240.0),
    "upright cylinder": bodies.cylinder(diameter_mm=80.0, length_mm=50.0, facets=7, upright=True),
    "cone": bodies.cone(diameter_mm=90.0, height_mm=60.0, facets=31),
    "sphere": bodies.sphere(diameter_mm=100.0, origin_mm=(1.0, 2.0, 3.0)),
    "parabolic hull": bodies.parabolic_hull(length_mm=400.0, beam_mm=90.0, draft_mm=40.0),
    "parabolic hull with sides": bodies.parabolic_hull(
        length_mm=400.0, beam_mm=90.0, draft_mm=40.0, freeboard_mm=30.0, columns=10, rows=6
    ),
    "stepped box": bodies.stepped_box(
        length_mm=480.0,
        beam_mm=100.0,
        height_mm=80.0,
        step_station_mm=265.0,
        step_depth_mm=12.0,
        deadrise_deg=17.0,
        forebody_keel_deg=1.5,
        afterbody_keel_deg=6.5,
    ),
    "flat stepped box": bodies.stepped_box(
        length_mm=400.0, beam_mm=90.0, height_mm=60.0, step_station_mm=200.0, step_depth_mm=10.0
    ),
}


def solid(triangles):
    """Return the triangles as trimesh holds them, corners merged where equal to the last bit."""
    points, faces = np.unique(triangles.reshape(-1, 3), axis=0, return_inverse=True)
    return trimesh.Trimesh(points, faces.reshape(-1, 3), process=False, validate=False)


def assert_closed(triangles):
    """Assert that each edge joins two faces, run through both ways, in one ball-like piece."""
    mesh = solid(triangles)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.euler_number == 2
    assert mesh.body_count == 1
    assert mesh.volume > 0.0
    assert mesh.area_faces.min() > 0.0


@pytest.mark.parametrize("name", sorted(SMALL))
def test_bodies_are_closed(name):
    """Each body is one closed skin, facing outward, with no flat triangle."""
    assert_closed(SMALL[name])


def polygon(facets, radius):
    """Return the area of a regular polygon in a circle: n/2 r² sin(2π/n)."""
    return 0.5 * facets * radius**2 * np.sin(2.0 * np.pi / facets)


@pytest.mark.parametrize(
    ("name", "volume_mm3"),
    [
        ("box", 240.0 * 96.0 * 64.0),
        ("prism", 240.0 * 96.0 * 64.0 / 2.0),
        ("lying cylinder", polygon(96, 40.0) * 240.0),
        ("upright cylinder", polygon(7, 40.0) * 50.0),
        ("cone", polygon(31, 45.0) * 60.0 / 3.0),
    ],
)
def test_volume_of_simple_bodies(name, volume_mm3):
    """Trimesh's volume of a body equals the polyhedron's own closed form."""
    assert solid(SMALL[name]).volume == pytest.approx(volume_mm3, rel=ROUNDING)


def test_volume_of_the_sphere():
    """Trimesh's volume of the sphere equals its frusta added up, which falls short of 4/3 π r³."""
    polar = np.linspace(0.0, np.pi, 33)
    area, height = polygon(64, 50.0 * np.sin(polar)), -50.0 * np.cos(polar)
    between = area[:-1] + area[1:] + np.sqrt(area[:-1] * area[1:])
    exact = (np.diff(height) * between).sum() / 3.0
    # √(A A') next to a pole, where sin π is 1e-16 and not 0, is off by no more than that.
    assert solid(SMALL["sphere"]).volume == pytest.approx(exact, rel=ROUNDING)
    assert 0.99 < exact / (4.0 / 3.0 * np.pi * 50.0**3) < 1.0


@pytest.mark.parametrize(
    ("make", "exact_mm3"),
    [
        (
            lambda n: bodies.cylinder(diameter_mm=80.0, length_mm=240.0, facets=16 * n),
            np.pi * 40.0**2 * 240.0,
        ),
        (
            lambda n: bodies.cone(diameter_mm=90.0, height_mm=60.0, facets=16 * n),
            np.pi * 45.0**2 * 60.0 / 3.0,
        ),
        (
            lambda n: bodies.sphere(diameter_mm=100.0, facets=16 * n, bands=8 * n),
            4.0 / 3.0 * np.pi * 50.0**3,
        ),
        (
            lambda n: bodies.parabolic_hull(
                length_mm=400.0, beam_mm=90.0, draft_mm=40.0, columns=16 * n, rows=8 * n
            ),
            4.0 / 9.0 * 400.0 * 90.0 * 40.0,
        ),
        (
            lambda n: bodies.parabolic_hull(
                length_mm=400.0,
                beam_mm=90.0,
                draft_mm=40.0,
                freeboard_mm=30.0,
                columns=16 * n,
                rows=8 * n,
            ),
            4.0 / 9.0 * 400.0 * 90.0 * 40.0 + 2.0 / 3.0 * 400.0 * 90.0 * 30.0,
        ),
    ],
    ids=["cylinder", "cone", "sphere", "parabolic hull", "parabolic hull with sides"],
)
def test_facets_close_in_on_the_curved_body(make, exact_mm3):
    """Halving the facets of a curved body quarters what its volume falls short by."""
    coarse, fine = (1.0 - solid(make(n)).volume / exact_mm3 for n in (1, 2))
    assert fine > 0.0
    # Were the limit any other volume, the quotient would not be 4. The next term of the series is
    # of fourth order: a few percent at 16 facets.
    assert coarse / fine == pytest.approx(4.0, rel=0.05)


def test_parabolic_hull_is_centered_where_its_integral_says():
    """Its centroid lies amidships, on the center plane, 0.375 T below the water, facets aside."""
    coarse, fine = (
        solid(
            bodies.parabolic_hull(
                length_mm=400.0, beam_mm=90.0, draft_mm=40.0, columns=32 * n, rows=32 * n
            )
        ).center_mass
        for n in (1, 2)
    )
    # Two second-order answers, combined, leave fourth order: (1/32)⁴ of the draft is 4e-5 mm.
    combined = (4.0 * fine - coarse) / 3.0
    assert combined == pytest.approx([0.0, 0.0, -0.375 * 40.0], abs=4e-5)
    assert fine[:2] == pytest.approx([0.0, 0.0], abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(
    share=st.floats(0.2, 0.8),
    depth_mm=st.floats(0.5, 20.0),
    deadrise_deg=st.floats(0.0, 25.0),
    forebody_deg=st.floats(0.0, 4.0),
    afterbody_deg=st.floats(0.0, 8.0),
    origin=st.tuples(*[st.integers(-64, 64).map(float)] * 3),
)
def test_stepped_box_has_its_closed_form(
    *, share, depth_mm, deadrise_deg, forebody_deg, afterbody_deg, origin
):
    """Whatever its angles and step, the stepped box is closed and has its slices' volume."""
    length, beam, height = 480.0, 100.0, 130.0
    triangles = bodies.stepped_box(
        length_mm=length,
        beam_mm=beam,
        height_mm=height,
        step_station_mm=share * length,
        step_depth_mm=depth_mm,
        deadrise_deg=deadrise_deg,
        forebody_keel_deg=forebody_deg,
        afterbody_keel_deg=afterbody_deg,
        origin_mm=origin,
    )
    assert_closed(triangles)
    fore, after = share * length, length - share * length
    # A section is the beam by its mean depth, a quarter beam × tan(deadrise) less than at the keel.
    quarter = 0.25 * beam * np.tan(np.radians(deadrise_deg))
    ahead = fore * (height - quarter - 0.5 * fore * np.tan(np.radians(forebody_deg)))
    abaft = after * (height - quarter - depth_mm - 0.5 * after * np.tan(np.radians(afterbody_deg)))
    # Trimesh sums volumes to its own origin, up to 600 mm off: a few digits more are lost.
    assert solid(triangles).volume == pytest.approx(beam * (ahead + abaft), rel=1e-11)


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: bodies.box(length_mm=240.0, beam_mm=0.0, height_mm=64.0), "a size of 0.0 mm"),
        (lambda: bodies.sphere(diameter_mm=float("nan")), "a size of nan mm"),
        (
            lambda: bodies.parabolic_hull(length_mm=400.0, beam_mm=90.0, draft_mm=40.0, columns=7),
            "columns is 7; give an even number",
        ),
        (
            lambda: bodies.stepped_box(
                length_mm=400.0,
                beam_mm=90.0,
                height_mm=60.0,
                step_station_mm=400.0,
                step_depth_mm=10.0,
            ),
            r"the step at 400.0 mm is not between 0 and 400.0 mm",
        ),
        (
            lambda: bodies.stepped_box(
                length_mm=400.0,
                beam_mm=90.0,
                height_mm=60.0,
                step_station_mm=200.0,
                step_depth_mm=60.0,
            ),
            r"a chine at 60 mm is not below the 60.0 mm deck",
        ),
        (lambda: stl.stl_bytes(SMALL["box"], "solid box"), "starts with 'solid'"),
        (lambda: stl.stl_bytes(SMALL["box"], "b" * 81), "longer than 80 bytes"),
        (
            lambda: stl.stl_bytes(SMALL["box"] * np.array([1.0, 1.0, 0.0]), "box"),
            "has no area as 32-bit numbers",
        ),
    ],
)
def test_bodies_that_cannot_be_are_refused(make, message):
    """A size of zero, an odd count, a step off the hull and a bad header are refused by name."""
    with pytest.raises(ValueError, match=message):
        make()
