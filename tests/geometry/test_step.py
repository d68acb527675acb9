"""The step and the bottom around it, on hulls whose step is drawn, and none where there is none."""

import math

import make_bodies as bodies
import make_tarnwing as tarnwing
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import stepped_hulls, uniform

from hullcheck.geometry.chine import chine_at, greatest_beam_over_chines
from hullcheck.geometry.sections import Slices
from hullcheck.geometry.step import find_step

STATION_MM, DEPTH_MM = 0.1, 0.01
"""What a builder can use of a step: a tenth of a millimeter fore and aft, a hundredth in depth."""


def cut_in_four(triangles, times):
    """Return triangles each cut in four, some times over."""
    for _ in range(times):
        a, b, c = np.moveaxis(triangles, 1, 0)
        ab, bc, ca = 0.5 * (a + b), 0.5 * (b + c), 0.5 * (c + a)
        triangles = np.concatenate(
            [np.stack(t, axis=1) for t in ((a, ab, ca), (ab, b, bc), (ca, bc, c), (ab, bc, ca))]
        )
    return triangles


def extruded(profile, breadth):
    """Return the body of a side view (k, 2) of x and z, as wide as given.

    Counterclockwise, all of it in sight of its first corner.
    """
    low = np.column_stack([profile[:, 0], np.full(len(profile), -breadth / 2), profile[:, 1]])
    high = low + np.array([0.0, breadth, 0.0])
    faces = []
    for i in range(1, len(profile) - 1):
        faces += [(low[0], low[i], low[i + 1]), (high[0], high[i + 1], high[i])]
    for i in range(len(profile)):
        faces += [(low[i - 1], high[i - 1], high[i]), (low[i - 1], high[i], low[i])]
    return np.array(faces)


@given(
    shape=stepped_hulls(),
    times=st.integers(0, 2),
    as_file=st.booleans(),
    shift=st.tuples(uniform(-500, 500), uniform(-50, 50), uniform(-50, 50)),
)
@settings(max_examples=60)
def test_the_drawn_step_is_found(shape, times, as_file, shift):
    """Station within 0.1 mm, depth within 0.01 mm, angles within 0.02°, whatever the facets.

    Corners as a file rounds them, to 32 bits, are off by 3e-5 mm: over the 24 mm a keel is fitted
    at the least that is 1e-4°, and 0.02° is a hundredth of the least angle drawn.
    """
    triangles = cut_in_four(bodies.stepped_box(origin_mm=shift, **shape), times)
    if as_file:
        triangles = triangles.astype(np.float32).astype(float)
    step = find_step(triangles)
    assert step is not None
    length, at = shape["length_mm"], shape["step_station_mm"]
    assert step.station_mm == pytest.approx(shift[0] + at, abs=STATION_MM)
    assert step.depth_mm == pytest.approx(shape["step_depth_mm"], abs=DEPTH_MM)
    assert step.keel_z_mm == pytest.approx(shift[2], abs=DEPTH_MM)
    assert step.forebody_keel_angle_deg == pytest.approx(-shape["forebody_keel_deg"], abs=0.02)
    assert step.afterbody_keel_angle_deg == pytest.approx(shape["afterbody_keel_deg"], abs=0.02)
    assert step.deadrise_deg == pytest.approx(shape["deadrise_deg"], abs=0.02)
    assert step.beam_over_chines_mm == pytest.approx(shape["beam_mm"], abs=STATION_MM)
    assert step.forebody_length_mm == pytest.approx(at, abs=STATION_MM)
    assert step.center_plane_mm == pytest.approx(shift[1], abs=1e-3)
    rise = shape["step_depth_mm"] + (length - at) * math.tan(
        math.radians(shape["afterbody_keel_deg"])
    )
    post = math.degrees(math.atan2(rise, length - at)) + shape["forebody_keel_deg"]
    assert step.sternpost_station_mm == pytest.approx(shift[0] + length, abs=STATION_MM)
    assert step.sternpost_z_mm == pytest.approx(shift[2] + rise, abs=DEPTH_MM)
    assert step.sternpost_angle_deg == pytest.approx(post, abs=0.02)
    # The keels are straight: each is fitted over all but the last widening of its length.
    assert step.forebody_fit_mm > 0.8 * at
    assert step.afterbody_fit_mm > 0.8 * (length - at)


STEPLESS = {
    "box": bodies.box(length_mm=400.0, beam_mm=90.0, height_mm=60.0),
    "wedge": bodies.prism(length_mm=400.0, beam_mm=90.0, height_mm=60.0),
    "lying cylinder": bodies.cylinder(diameter_mm=80.0, length_mm=400.0),
    "upright cylinder": bodies.cylinder(diameter_mm=80.0, length_mm=50.0, upright=True),
    "cone": bodies.cone(diameter_mm=80.0, height_mm=50.0),
    "sphere": bodies.sphere(diameter_mm=100.0),
    "parabolic hull": bodies.parabolic_hull(length_mm=400.0, beam_mm=90.0, draft_mm=40.0),
    "tip float": tarnwing.starboard_float_triangles(),
}


@pytest.mark.parametrize("name", sorted(STEPLESS))
def test_no_step_where_there_is_none(name):
    """Bodies without a step show none."""
    assert find_step(STEPLESS[name]) is None


@given(at=uniform(0.2, 0.8), before_deg=uniform(-6.0, 6.0), kink_deg=uniform(-12.0, 25.0))
def test_a_kink_is_no_step(at, before_deg, kink_deg):
    """A keel that only changes its angle, by 25° upward at the most, has no step."""
    length, height = 600.0, 220.0
    after = math.radians(before_deg + kink_deg)
    x = at * length
    bow, stern = -x * math.tan(math.radians(before_deg)), (length - x) * math.tan(after)
    top = max(bow, stern, 0.0) + height
    profile = np.array([(0.0, top), (0.0, bow), (x, 0.0), (length, stern), (length, top)])
    triangles = extruded(profile, 100.0)
    assert find_step(cut_in_four(triangles, 1)) is None


def test_a_shallow_jump_is_no_step():
    """A print's layer line or a lip of 0.2 % of the length is no step; 0.4 % is one."""
    shape = {"length_mm": 500.0, "beam_mm": 100.0, "height_mm": 80.0, "step_station_mm": 260.0}
    assert find_step(bodies.stepped_box(step_depth_mm=1.0, **shape)) is None
    assert find_step(bodies.stepped_box(step_depth_mm=2.0, **shape)) is not None


@pytest.mark.parametrize("rake_deg", [0.0, 20.0, 45.0])
def test_depth_of_a_raked_step_is_taken_at_the_corner(rake_deg):
    """A step whose face leans aft is as deep as the afterbody's line lies above the corner."""
    length, corner, depth, keel = 500.0, 260.0, 9.0, math.radians(5.0)
    run = (
        depth
        * math.tan(math.radians(rake_deg))
        / (1.0 - math.tan(keel) * math.tan(math.radians(rake_deg)))
    )
    landing = depth + run * math.tan(keel)
    stern = depth + (length - corner) * math.tan(keel)
    profile = np.array(
        [
            (0.0, 120.0),
            (0.0, 0.0),
            (corner, 0.0),
            (corner + run, landing),
            (length, stern),
            (length, 120.0),
        ]
    )
    step = find_step(extruded(profile, 100.0))
    assert step.station_mm == pytest.approx(corner, abs=STATION_MM)
    assert step.depth_mm == pytest.approx(depth, abs=DEPTH_MM)
    assert step.keel_z_mm == pytest.approx(0.0, abs=DEPTH_MM)


def test_step_of_the_demo_craft(tarnwing_surfaces):
    """The demo craft's step, keels, deadrise and sternpost are those her lines were drawn with.

    Her corners lie on a grid of 1/1024 mm.
    """
    step = find_step(tarnwing_surfaces[0])
    assert step.station_mm == pytest.approx(tarnwing.STEP_STATION_MM, abs=STATION_MM)
    assert step.depth_mm == pytest.approx(tarnwing.STEP_DEPTH_MM, abs=DEPTH_MM)
    assert step.keel_z_mm == pytest.approx(0.0, abs=DEPTH_MM)
    assert step.deadrise_deg == pytest.approx(tarnwing.DEADRISE_DEG, abs=0.1)
    assert step.forebody_keel_angle_deg == pytest.approx(-tarnwing.FOREBODY_KEEL_DEG, abs=0.05)
    assert step.afterbody_keel_angle_deg == pytest.approx(tarnwing.AFTERBODY_KEEL_DEG, abs=0.05)
    assert step.sternpost_station_mm == pytest.approx(tarnwing.STERNPOST_STATION_MM, abs=0.5)
    assert step.beam_over_chines_mm == pytest.approx(tarnwing.BEAM_MM, abs=0.2)


@given(shape=stepped_hulls(), ahead=uniform(-100.0, 100.0), above=uniform(10.0, 80.0))
@settings(max_examples=30)
def test_step_behind_a_center_of_gravity(shape, ahead, above):
    """The angle at the CG is between the forebody keel's normal and the line to the corner.

    Derived by turning the craft until that keel is level: then it is atan of run over drop.
    """
    step = find_step(bodies.stepped_box(**shape))
    center = np.array([step.station_mm - ahead, 0.0, step.keel_z_mm + above])
    behind, angle = step.behind(center)
    assert behind == pytest.approx(ahead, abs=1e-9)
    slope = math.radians(step.forebody_keel_angle_deg)
    turned = (complex(ahead, -above)) * complex(math.cos(slope), -math.sin(slope))
    assert angle == pytest.approx(math.degrees(math.atan2(turned.real, -turned.imag)), abs=1e-9)


@given(shape=stepped_hulls(), share=uniform(0.1, 0.9))
@settings(max_examples=40)
def test_chine_of_a_section(shape, share):
    """The chine of a wall-sided V bottom is where side meets bottom; deadrise is the V's."""
    slices = Slices(cut_in_four(bodies.stepped_box(**shape), 1))
    station = share * shape["step_station_mm"]
    chine = chine_at(slices, station, 0.0)
    assert chine is not None
    half = shape["beam_mm"] / 2
    keel = (shape["step_station_mm"] - station) * math.tan(math.radians(shape["forebody_keel_deg"]))
    assert chine.half_breadth_mm == pytest.approx(half, abs=1e-6)
    assert chine.height_mm == pytest.approx(
        keel + half * math.tan(math.radians(shape["deadrise_deg"])), abs=1e-6
    )
    assert chine.deadrise_deg == pytest.approx(shape["deadrise_deg"], abs=1e-6)


def test_round_bottoms_have_no_chine():
    """A cylinder and a sphere run from bottom into side unbroken; a missed section is none."""
    for triangles, station in (
        (bodies.cylinder(diameter_mm=80.0, length_mm=400.0), 133.0),
        (bodies.sphere(diameter_mm=100.0), 3.0),
    ):
        assert chine_at(Slices(triangles), station, 0.0) is None
        assert chine_at(Slices(triangles), 9999.0, 0.0) is None
    slices = Slices(bodies.cylinder(diameter_mm=80.0, length_mm=400.0))
    assert greatest_beam_over_chines(slices, 0.0, 400.0, 0.0) is None
