"""What a skin is held against: rounding, walls across the inside, its own sections."""

import dataclasses

import make_bodies as bodies
import numpy as np
import pytest
import shapely
from thin_walls import BEAM, HEIGHT, LENGTH, WALL, block, finer, wall

from hullcheck.geometry.outer_records import PartSeam, SkinChecks
from hullcheck.geometry.outer_skin import outer_skin
from hullcheck.geometry.section_lines import whole
from hullcheck.geometry.skin_checks import bulkheads, checked, rounding_mm3, stacked_mm3
from hullcheck.geometry.skin_union import Hulk
from hullcheck.geometry.topology import merged

DRAWN = 400
SIGMAS = 2.6
NONE = SkinChecks()


def volume_of(points, faces):
    """Return the volume by the divergence theorem about the middle [mm³]."""
    a, b, c = np.moveaxis((points - points.mean(axis=0))[faces], 1, 0)
    return float(np.einsum("ni,ni->", a, np.cross(b, c))) / 6.0


def area_of(triangles):
    """Return the area of triangles [mm²]."""
    a, b, c = np.moveaxis(triangles, 1, 0)
    return float(0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1).sum())


def hulk_of(triangles):
    """Return a closed surface as an outer shell of a union."""
    mesh = merged(triangles)
    return Hulk(
        mesh=mesh,
        owner=np.zeros(len(mesh.faces), dtype=np.int64),
        volume_mm3=volume_of(mesh.points, mesh.faces),
        area_mm2=area_of(triangles),
        handles=0,
    )


def uneven(triangles, seed=3):
    """Return triangles whose corners lie on no common planes: moved by up to a millimeter."""
    mesh = merged(triangles)
    moved = mesh.points + np.random.default_rng(seed).uniform(-0.5, 0.5, mesh.points.shape)
    return moved[mesh.faces]


@pytest.mark.parametrize("size", [1.0, 3.0])
def test_the_rounding_bound_holds_in_99_of_100(size):
    """Corners shifted at random by up to half a step of 32-bit numbers, 400 times: Monte Carlo.

    The volume's spread is normal, so 2.6 of its deviations hold in 99 of 100; of 400 draws the
    deviation is known to 3.5 %, four of which are allowed. Up to twice that is no idle bound: the
    surface that parts are cut from may have been rounded too.
    """
    box = finer(bodies.box(length_mm=600.0 * size, beam_mm=100.0 * size, height_mm=80.0 * size), 2)
    hulk = hulk_of(uneven(box) + np.array([13.7, 5.1, -21.3]))
    points, faces = hulk.mesh.points, hulk.mesh.faces
    steps = np.spacing(np.abs(points).astype(np.float32)).astype(np.float64)
    rng = np.random.default_rng(11)
    off = [
        volume_of(points + steps * rng.uniform(-0.5, 0.5, points.shape), faces) - hulk.volume_mm3
        for _ in range(DRAWN)
    ]
    bound = rounding_mm3([hulk])
    assert (1.0 - 4.0 * 0.035) <= bound / (SIGMAS * np.std(off)) <= 2.0
    assert np.mean(np.abs(off) <= bound) >= 0.97


def test_rounding_to_a_file_is_within_the_bound():
    """Real rounding to 32 bits of a hull turned and shifted at random, sixty times: 57 within.

    At 99 of 100 more than three are outside once in 300 such tests.
    """
    box = uneven(finer(bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0), 2))
    rng = np.random.default_rng(7)
    inside = 0
    for _ in range(60):
        hulk = hulk_of(box + rng.uniform(-200.0, 200.0, 3))
        rounded = hulk.mesh.points.astype(np.float32).astype(np.float64)
        off = volume_of(rounded, hulk.mesh.faces) - hulk.volume_mm3
        inside += abs(off) <= rounding_mm3([hulk])
    assert inside >= 57


def test_corners_on_32_bit_numbers_are_the_files_own():
    """Of one part nothing is rounded; of two, only the corners where they meet, cut at random.

    The same surface in inches stands on no such numbers, and all of its corners count.
    """
    box = finer(bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0), 3)
    filed = uneven(box).astype(np.float32).astype(np.float64)
    one = hulk_of(filed)
    assert rounding_mm3([one]) == 0.0
    middles = one.mesh.triangles.mean(axis=1)
    two = dataclasses.replace(one, owner=(middles[:, 0] > 0.0).astype(np.int64))
    inches = hulk_of((filed / 25.4).astype(np.float32).astype(np.float64) * 25.4)
    assert 0.0 < rounding_mm3([two]) < 0.6 * rounding_mm3([inches])
    # Only the corners where both meet shifted at random: the deviation is known to 3.5 %.
    meet = np.intersect1d(two.mesh.faces[two.owner == 0], two.mesh.faces[two.owner == 1])
    points, faces = two.mesh.points, two.mesh.faces
    steps = np.spacing(np.abs(points[meet]).astype(np.float32)).astype(np.float64)
    rng, off = np.random.default_rng(5), []
    for _ in range(DRAWN):
        shifted = points.copy()
        shifted[meet] += steps * rng.uniform(-0.5, 0.5, (len(meet), 3))
        off.append(volume_of(shifted, faces) - two.volume_mm3)
    assert rounding_mm3([two]) / (SIGMAS * np.std(off)) == pytest.approx(1.0, abs=4.0 * 0.035)


def test_rounding_of_flat_faces_is_within_the_bound():
    """A box of many corners at any height: its deck's corners all round the same way.

    Its volume is then out by its area × what the one height is out by; as for any file the bound
    is to hold in 99 of 100, so in 57 of 60.
    """
    box = finer(bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0), 4)
    rng = np.random.default_rng(7)
    inside = 0
    for _ in range(60):
        hulk = hulk_of(box * rng.uniform(0.9, 1.1, 3) + rng.uniform(-200.0, 200.0, 3))
        rounded = hulk.mesh.points.astype(np.float32).astype(np.float64)
        off = volume_of(rounded, hulk.mesh.faces) - hulk.volume_mm3
        inside += abs(off) <= rounding_mm3([hulk])
    assert inside >= 57


def test_the_solid_of_sections_is_out_by_what_they_differ_by():
    """A pyramid of 90 mm² shrinking by 10 a millimeter: 10 mm² × 1 mm / 4 each, and its ends."""
    areas = np.arange(90.0, 0.0, -10.0)
    found = stacked_mm3(np.arange(9.0), areas)
    assert found == pytest.approx(8 * 10.0 / 4.0 + 0.05 * (90.0 + 10.0), rel=1e-12)


def test_a_skin_against_its_own_sections():
    """A box 100 mm wide whose sections are taken 0.1 mm too wide on either side.

    Each differs by 0.2 mm × height over a perimeter of 2 (100.2 + 80) mm; the sections' volume is
    their area × the length they cover.
    """
    hulk = hulk_of(bodies.box(length_mm=600.0, beam_mm=100.0, height_mm=80.0))
    stations = np.linspace(0.5, 599.5, 300)
    wide = whole(shapely.box(-50.1, 0.0, 50.1, 80.0))
    found = checked([hulk], stations, [wide] * 300, 48_000.0)
    assert found.section_offset_mm == pytest.approx(0.2 * 80.0 / (2.0 * 180.2), rel=1e-6)
    assert found.section_volume_mm3 == pytest.approx(100.2 * 80.0 * 599.0, rel=1e-9)
    assert found.solid_share == pytest.approx(0.01, rel=1e-9)
    assert found.handles == 0


def across(station, share=1.0, thick=WALL):
    """Return a wall across the box from its bottom up to a share of its height."""
    mesh = block((station, -49.0, 1.0), (station + thick, 49.0, 1.0 + share * 78.0)).to_mesh64()
    points = np.asarray(mesh.vert_properties)[:, :3]
    return points[np.asarray(mesh.tri_verts).astype(np.int64)]


def found_bulkheads(*walls, seams=()):
    """Return the bulkheads of the box with walls across it."""
    stations = np.linspace(0.5, LENGTH - 0.5, 301)
    areas = np.full(301, BEAM * HEIGHT)
    return bulkheads([wall(), *walls], stations, areas, seams)


def test_a_wall_across_is_a_bulkhead_once():
    """Its two faces count as one, in its middle; walls 100 mm apart are two, from the bow."""
    assert found_bulkheads(across(300.0)) == pytest.approx([301.0])
    assert found_bulkheads(across(400.0), across(300.0)) == pytest.approx([301.0, 401.0])


def test_what_fills_less_than_half_is_none():
    """A web of 45 % of the height is no bulkhead; the ends of the hull are none either."""
    assert found_bulkheads(across(300.0, share=0.45)) == ()
    assert found_bulkheads(across(300.0, share=0.75)) == pytest.approx([301.0])
    assert found_bulkheads() == ()


def test_the_closed_end_of_a_part_at_a_seam_is_none():
    """Faces at a seam's two ends are those of the parts."""
    seam = PartSeam(
        parts=("nose", "tail"),
        normal=np.array([1.0, 0.0, 0.0]),
        place_mm=np.array([200.0, 0.0, 40.0]),
        gap_mm=0.2,
        mismatch_mm=0.0,
    )
    near = across(199.9, thick=0.2)
    assert found_bulkheads(near, seams=[seam]) == ()
    assert found_bulkheads(near) == pytest.approx([200.0])


def test_a_printed_skin_lists_its_bulkheads():
    """A wall with a partition printed in it, from the files on."""
    skin = outer_skin(
        "hull", [("hull", wall(holes=[((250, -30, 70), (370, 30, 90))])), ("rib", across(450.0))]
    )
    assert skin.bulkheads_mm == pytest.approx([451.0], rel=0, abs=0.01)
    assert skin.checks.handles == 0
