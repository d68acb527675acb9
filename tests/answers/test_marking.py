"""Where to mark the waterline: girths and heights against closed forms and an outside kernel."""

import math

import manifold3d
import numpy as np
import pytest
import shapely
from crafts import body_of, box_body
from marking_making import (
    build_of,
    cylinder_build,
    demo_build,
    ledger_build,
    marked,
    wedge_build,
)

from hullcheck.answers.bath_answer import bath_answer
from hullcheck.answers.bath_bag import Placing
from hullcheck.answers.marking_answer import marking, marks_fail
from hullcheck.errors import InputError

# The plane is solved to 1e-9 of the mass; lengths of some 100 mm then agree to 1e-6 mm.
SOLVED = 1e-5


def station(build, station_mm, **more):
    """Return a build's only mark at a station."""
    answer = marking(build, stations_mm=(station_mm,), **more).answer
    return answer.bodies[0].stations[0]


def test_box_is_marked_at_its_draft():
    """1200 g on 600 × 100 mm draw 20 mm: 50 mm of bottom and 20 of side on either side."""
    one = station(build_of(), 200.0)
    assert one.keel_depth_mm == pytest.approx(20.0, abs=SOLVED)
    for side, y in ((one.starboard, 50.0), (one.port, -50.0)):
        assert side.vertical_mm == pytest.approx(20.0, abs=SOLVED)
        assert side.girth_mm == pytest.approx(70.0, abs=SOLVED)
        assert side.point_mm == pytest.approx((200.0, y, 20.0), abs=SOLVED)


def test_trimmed_box_by_its_own_plane():
    """With trim and list each side of a box is marked where the plane it floats at crosses it."""
    found = marking(build_of(cg=(312.0, 1.0, 20.0)), stations_mm=(100.0, 500.0))
    (nx, ny, nz), h = found.answer.waterline.normal, found.answer.waterline.height_mm
    assert abs(found.answer.heel_deg) > 0.5
    assert found.answer.trim_deg > 0.3
    for one in found.answer.bodies[0].stations:
        for side, y in ((one.starboard, 50.0), (one.port, -50.0)):
            z = (h - nx * one.station_mm - ny * y) / nz
            assert side.vertical_mm == pytest.approx(z, abs=SOLVED)
            assert side.girth_mm == pytest.approx(50.0 + z, abs=SOLVED)


@pytest.mark.parametrize("mass_g", [100.0, 368.64, 700.0])
def test_wedge_is_marked_by_the_root_of_its_mass(mass_g):
    """V = L b T²/(2 H): T = √(2 m H/(ρ L b)), the girth T/H of the slant √(H² + (b/2)²)."""
    one = station(wedge_build(mass_g), 60.0)
    draft = math.sqrt(2.0 * mass_g * 64.0 / (1e-3 * 240.0 * 96.0))
    assert one.starboard.vertical_mm == pytest.approx(draft, abs=SOLVED)
    slant = draft / 64.0 * math.hypot(64.0, 48.0)
    assert [one.starboard.girth_mm, one.port.girth_mm] == pytest.approx([slant, slant], abs=SOLVED)


def test_cylinder_half_under_is_marked_a_quarter_round():
    """A polygon of n facets has n/4 chords of 2 r sin(π/n) in a quarter, near a quarter circle."""
    one = station(cylinder_build(), 120.0)
    chords = 96.0 * 2.0 * 40.0 * math.sin(math.pi / 384.0)
    assert one.starboard.girth_mm == pytest.approx(chords, abs=SOLVED)
    assert one.starboard.girth_mm == pytest.approx(0.5 * math.pi * 40.0, abs=0.01)
    assert one.port.vertical_mm == pytest.approx(40.0, abs=SOLVED)


@pytest.mark.parametrize("cg", [(252.0, 0.0, 31.0), (249.0, 1.0, 31.0)])
def test_girths_of_a_hull_by_an_outside_kernel(cg):
    """Shapely's length of the section between keel and waterline is the girth on either side."""
    found = marking(demo_build(cg=cg), stations_mm=(80.0, 150.0, 240.0, 330.0, 470.0))
    (nx, ny, nz), h = found.answer.waterline.normal, found.answer.waterline.height_mm
    triangles = found.body("hull").shell.triangles_mm
    for one in found.answer.bodies[0].stations:
        # The same section once more, from triangles to rings by shapely alone.
        x = one.station_mm
        lines = []
        for corners in triangles[(triangles[:, :, 0].min(1) < x) & (triangles[:, :, 0].max(1) > x)]:
            ends = []
            for a, b in ((0, 1), (1, 2), (2, 0)):
                da, db = corners[a, 0] - x, corners[b, 0] - x
                if da * db < 0.0:
                    ends.append((corners[a] + da / (da - db) * (corners[b] - corners[a]))[1:])
            if len(ends) == 2:
                lines.append(np.round(ends, 6))
        ring = shapely.line_merge(shapely.multilinestrings(lines))
        assert shapely.is_closed(ring)
        far = 1e4
        plane = [(y, (h - nx * x - ny * y) / nz) for y in (-far, far)]
        wet = shapely.polygons([*plane, (far, -far), (-far, -far)])
        bottom = shapely.intersection(ring, wet)
        for side, half in (
            (one.starboard, shapely.box(0.0, -far, far, far)),
            (one.port, shapely.box(-far, -far, 0.0, far)),
        ):
            length = shapely.length(shapely.intersection(bottom, half))
            assert side.girth_mm == pytest.approx(length, abs=1e-4)


def test_named_places_are_stations_and_crowd_out_the_even_row():
    """Seams, marks, step and bulkheads are marked; a seam at a bulkhead is one station."""
    body = marked("demo").answer.bodies[0]
    named = {one.at: one.station_mm for one in body.stations if one.at}
    assert named[("nose joint", "bulkhead")] == 120.0
    assert named[("step",)] == pytest.approx(265.0, abs=0.01)
    assert {("mark stern",), ("step joint",), ("bulkhead",)} <= set(named)
    stations = [one.station_mm for one in body.stations]
    assert stations == sorted(stations)
    assert {100.0, 200.0, 300.0, 400.0} <= set(stations)
    assert body.fore_mm[0] < stations[0]
    assert stations[-1] < body.aft_mm[0]


def test_step_is_marked_just_ahead():
    """At the step the keel is the forebody's, 11 mm lower than the afterbody's behind it."""
    body = marked("demo").answer.bodies[0]
    step = next(one for one in body.stations if one.at == ("step",))
    behind = station(demo_build(), step.station_mm + 0.5)
    assert behind.keel_mm[2] - step.keel_mm[2] == pytest.approx(11.0, abs=0.2)


def test_station_beyond_the_water_says_so():
    """Ahead of the waterline the keel is clear of the water by its height above it."""
    found = marking(demo_build(), stations_mm=(10.0,)).answer
    one = found.bodies[0].stations[0]
    assert (one.meets, one.starboard, one.port) == ("clear of the water", None, None)
    (nx, _, nz), h = found.waterline.normal, found.waterline.height_mm
    assert -one.keel_depth_mm == pytest.approx(nx * 10.0 + nz * one.keel_mm[2] - h, abs=SOLVED)
    assert one.keel_depth_mm < 0.0


def test_bath_marks_agree_with_the_bath_test():
    """A reading from the deck edge down and the mark up from the keel make the side's height."""
    build = ledger_build(y=5.0)
    test = bath_answer(build, None, Placing())
    found = marking(build, stations_mm=(200.0,), in_the_bath=Placing()).answer
    assert found.waterline == test.waterline
    assert found.load.in_the_bath
    assert (found.load.bag_g, found.load.bag_mm) == (400.0, test.bag.lies_at_mm)
    assert (found.load.items, found.load.weighed) == (1, 1)
    bare = marking(build, in_the_bath=Placing(none=True)).answer
    assert bare.load.mass_g == 800.0
    assert bare.load.bag_g is None


def test_how_well_marks_are_known():
    """3 g of an item amidships sink a box of 60 g a mm by 0.05 mm, beside 1 mm of reading."""
    build = ledger_build()
    one = station(build, 300.0)
    weighing = build.craft().weighing
    grams = math.hypot(*(g for g, _ in weighing.spread))
    # Both items lie at station 300 on the center plane: their spread only sinks her.
    expected = math.hypot(1.0, grams / 60.0)
    assert one.starboard.vertical_plus_minus_mm == pytest.approx(expected, rel=1e-3)
    assert one.starboard.girth_plus_minus_mm == pytest.approx(expected, rel=1e-3)


def test_held_level_without_a_center():
    """Without a CG she is held level, which is said, and no ± is claimed."""
    answer = marking(build_of(cg=None), stations_mm=(300.0,)).answer
    assert (answer.rest, answer.trim_deg, answer.heel_deg) == (None, 0.0, 0.0)
    assert "no-cg" in {caveat.code for caveat in answer.warnings}
    one = answer.bodies[0].stations[0]
    assert one.starboard.vertical_mm == pytest.approx(20.0, abs=SOLVED)
    assert one.starboard.vertical_plus_minus_mm is None


@pytest.mark.parametrize(
    ("build", "rest"),
    [
        (lambda: build_of(mass_g=5000.0), "sinks"),
        (lambda: build_of(cg=(300.0, 0.0, 400.0)), "capsized"),
    ],
)
def test_nothing_is_marked_where_she_does_not_float(build, rest):
    """A craft that sinks or capsizes has no marks, and fails."""
    answer = marking(build()).answer
    assert (answer.rest, answer.bodies) == (rest, ())
    assert marks_fail(answer)


def test_each_float_is_marked_from_its_own_keel():
    """Two boxes 100 mm off center, 60 mm wide: 1800 g on 600 × 120 mm draw 25 mm."""
    answer = marked("twins").answer
    assert [body.name for body in answer.bodies] == ["port float", "starboard float"]
    for body in answer.bodies:
        for one in body.stations:
            assert one.starboard.girth_mm == pytest.approx(55.0, abs=SOLVED)
            assert one.port.girth_mm == pytest.approx(55.0, abs=SOLVED)


def test_a_float_in_the_air_is_not_marked():
    """Tip floats clear of the water are left out."""
    assert [body.name for body in marked("demo").answer.bodies] == ["hull"]


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"stations_mm": (900.0,)}, "--stations: 900 mm does not meet .* stations 0 and 600"),
        ({"stations_mm": (float("nan"),)}, "--stations: nan mm"),
        ({"every_mm": 0.0}, "--every: 0 mm on a waterline 600 mm long"),
        ({"every_mm": 1.0}, "--every: 1 mm on a waterline 600 mm long; it must be above 1.5"),
    ],
)
def test_what_is_refused(more, said):
    """A station no body reaches and a row too close are refused with their values."""
    with pytest.raises(InputError, match=said):
        marking(build_of(box_body()), **more)


def test_a_craft_that_may_carry_a_person_is_told_who_decides():
    """Over 5 m long the answer says that it is no basis for airworthiness decisions."""
    big = build_of(box_body(6000.0, 1000.0, 800.0), mass_g=1.2e6, cg=(3000.0, 0.0, 300.0))
    answer = marking(big, stations_mm=(3000.0,)).answer
    said = next(c.message for c in answer.warnings if c.code == "person-scale")
    assert "no basis for airworthiness decisions" in said
    assert answer.bodies[0].stations[0].port.vertical_mm == pytest.approx(200.0, abs=1e-4)


def test_a_tunnel_is_marked_from_its_roof_and_said():
    """Legs of 30 mm either side of a tunnel 40 × 50 mm draw 20: 20 + 50 + 30 + 20 mm of skin."""
    whole = manifold3d.Manifold.cube([600.0, 100.0, 80.0]).translate([0.0, -50.0, 0.0])
    tunnel = manifold3d.Manifold.cube([800.0, 40.0, 50.0]).translate([-100.0, -20.0, 0.0])
    mesh = (whole - tunnel).to_mesh64()
    triangles = np.asarray(mesh.vert_properties)[:, :3][np.asarray(mesh.tri_verts)]
    answer = marking(build_of(body_of(triangles), mass_g=720.0), stations_mm=(250.0,)).answer
    one = answer.bodies[0].stations[0]
    assert "meets-again" in {caveat.code for caveat in answer.warnings}
    assert (one.crossings, one.meets) == (4, "meets the water")
    assert one.keel_mm == pytest.approx((250.0, 0.0, 50.0), abs=SOLVED)
    for side in (one.starboard, one.port):
        assert side.girth_mm == pytest.approx(120.0, abs=SOLVED)
        assert side.vertical_mm == pytest.approx(-30.0, abs=SOLVED)
    assert "meets-again" not in {caveat.code for caveat in marked("box").answer.warnings}


def test_at_the_very_end_of_the_waterline_no_number_is_nan():
    """Where less load takes the crossing off the section, ± is that of more load, or not told."""
    body = marking(demo_build()).answer.bodies[0]
    for x in (body.fore_mm[0] + 0.02, body.aft_mm[0] - 0.02):
        one = station(demo_build(), x)
        assert one.meets == "meets the water"
        for side in (one.starboard, one.port):
            for known in (side.vertical_plus_minus_mm, side.girth_plus_minus_mm):
                assert known is None or known >= 1.0
