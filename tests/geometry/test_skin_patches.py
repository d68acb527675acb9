"""Invented faces as patches: names, sizes, areas, edges and errors of openings cut on purpose."""

import numpy as np
import pytest
from thin_walls import BEAM, BOTTOM, CUT, HATCH, HEIGHT, LENGTH, SLOT, WALL, block, segments, wall

from hullcheck.geometry.outer_skin import outer_skin
from hullcheck.geometry.skin_solids import INSET_MM

FULL_MM3 = LENGTH * BEAM * HEIGHT


def opening_words(box, axis):
    """Return the name of the opening that a box cuts into a side across an axis."""
    size = np.delete(np.ptp(np.array(box), axis=0), axis)
    middle = np.mean(box, axis=0)[0]
    return f"opening at station {middle:.0f}, {max(size):.0f} × {min(size):.0f} mm"


def area_through(box, axis):
    """Return the area of the opening that a box cuts into a side across an axis [mm²]."""
    return float(np.prod(np.delete(np.ptp(np.array(box), axis=0), axis)))


@pytest.fixture(scope="module")
def holed():
    """Return the skin of one wall with a hatch, a hole in the bottom and a slot in the side."""
    return outer_skin("hull", [("hull", wall(holes=[HATCH, BOTTOM, SLOT]))])


def test_openings_are_listed_the_largest_first(holed):
    """Station and size as they were cut, all of them openings; closed form."""
    cut = {opening_words(HATCH, 2), opening_words(BOTTOM, 2), opening_words(SLOT, 1)}
    assert {patch.name for patch in holed.patches} == cut
    assert {patch.kind for patch in holed.patches} == {"opening"}
    assert holed.patches[0].name == opening_words(HATCH, 2)
    areas = [patch.area_mm2 for patch in holed.patches]
    assert areas == sorted(areas, reverse=True)


@pytest.mark.parametrize(("box", "axis"), [(HATCH, 2), (BOTTOM, 2), (SLOT, 1)])
def test_a_patch_is_the_plane_over_its_opening(holed, box, axis):
    """Length × width of area, 0.06 mm behind the rim that its edge runs along."""
    (patch,) = [p for p in holed.patches if p.name == opening_words(box, axis)]
    assert patch.area_mm2 == pytest.approx(area_through(box, axis), rel=1e-3)
    flat = np.delete(np.array([patch.low_mm, patch.high_mm]), axis, axis=1)
    assert flat == pytest.approx(np.delete(np.array(box), axis, axis=1), rel=0, abs=0.01)
    assert patch.size_mm == pytest.approx(sorted(np.ptp(flat, axis=0).tolist())[::-1], abs=0.02)
    assert np.ptp(patch.triangles_mm[:, :, axis]) < 0.01
    surface = {0: 0.0, 1: 0.5 * BEAM, 2: 0.0 if box is BOTTOM else HEIGHT}[axis]
    behind = np.abs(patch.triangles_mm[:, :, axis] - surface)
    assert behind == pytest.approx(INSET_MM, rel=0, abs=1e-3)
    # Every point of the edge lies on one of the four sides of the opening.
    edge = np.delete(patch.edge_mm, axis, axis=1)
    assert np.abs(edge[:, None] - flat[None]).min(axis=(1, 2)).max() < 1e-3


def test_the_error_of_a_patch_holds_what_its_opening_costs(holed):
    """The skin lacks area × 0.06 mm under each opening, and states no less."""
    for patch in holed.patches:
        assert patch.error_mm3 >= 0.999 * INSET_MM * patch.area_mm2
    missing = FULL_MM3 - holed.volume_mm3
    assert missing == pytest.approx(sum(INSET_MM * p.area_mm2 for p in holed.patches), rel=1e-3)
    assert missing <= holed.error_mm3


def test_sources_say_which_faces_are_invented(holed):
    """−1 on the patches and nowhere else: the areas agree."""
    (shell,), (source,) = holed.shells, holed.sources
    a, b, c = np.moveaxis(shell.triangles_mm[source == -1], 1, 0)
    invented = 0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1).sum()
    assert invented == pytest.approx(sum(p.area_mm2 for p in holed.patches), rel=1e-4)
    assert set(source.tolist()) == {-1, 0}


@pytest.mark.parametrize("gap_mm", [0.0, 0.1, 0.3, 3.0])
def test_an_opening_across_a_seam_is_one_patch(gap_mm):
    """A hatch over both segments: one opening of its whole length, the groove of the seam apart."""
    hatch = ((CUT - 50.0, -30.0, 70.0), (CUT + 70.0, 30.0, 90.0))
    skin = outer_skin("hull", list(segments(holes=[hatch], gap_mm=gap_mm).items()))
    found = [patch for patch in skin.patches if patch.kind == "opening"]
    assert [patch.name for patch in found] == [opening_words(hatch, 2)]
    assert found[0].area_mm2 == pytest.approx(area_through(hatch, 2), rel=0.01)
    grooves = [patch for patch in skin.patches if patch.kind == "seam"]
    assert len(grooves) == (1 if gap_mm else 0)
    assert skin.volume_mm3 == pytest.approx(FULL_MM3, rel=0, abs=skin.error_mm3)


@pytest.mark.parametrize("gap_mm", [0.1, 0.3, 3.0])
def test_the_groove_of_a_seam_is_a_patch(gap_mm):
    """Gap × perimeter, named after both parts; the skin in it is flush, so nothing is missing."""
    skin = outer_skin("hull", list(segments(holes=[], gap_mm=gap_mm).items()))
    (patch,) = skin.patches
    assert patch.kind == "seam"
    assert patch.name == f"seam of nose and tail at station {round(CUT + 0.5 * gap_mm)}"
    assert patch.area_mm2 == pytest.approx(gap_mm * 2.0 * (BEAM + HEIGHT), rel=0.02)
    assert skin.volume_mm3 == pytest.approx(FULL_MM3, rel=1e-9)


V_LENGTH, V_BEAM, V_HEIGHT, RISE = 300.0, 100.0, 80.0, 20.0
"""A hull with a V bottom: its keel at 0, its chines 20 mm above."""


def v_hull(inset, holes=()):
    """Return the V hull as a solid, its sides moved inward by the wall."""
    from manifold3d import CrossSection, JoinType, Manifold

    half = 0.5 * V_BEAM
    points = [(0.0, 0.0), (half, RISE), (half, V_HEIGHT), (-half, V_HEIGHT), (-half, RISE)]
    section = CrossSection([points]).offset(-inset, JoinType.Miter, 10.0)
    solid = Manifold.extrude(section, V_LENGTH - 2.0 * inset)
    turned = solid.transform([[0, 0, 1, inset], [1, 0, 0, 0], [0, 1, 0, 0]])
    for low, high in holes:
        turned -= block(low, high)
    return turned


def triangles_of(solid):
    """Return a solid's triangles."""
    mesh = solid.to_mesh64()
    return np.asarray(mesh.vert_properties)[:, :3][np.asarray(mesh.tri_verts).astype(np.int64)]


@pytest.mark.parametrize(("length", "width"), [(40.0, 20.0), (50.0, 25.0), (30.0, 12.0)])
def test_an_opening_over_the_keel_states_what_its_chord_cuts_off(length, width):
    """Closed straight above the keel, it lacks length × (width/2)² × rise ÷ half beam.

    No less is stated, and not ten times that.
    """
    low, high = (120.0, -0.5 * width, -5.0), (120.0 + length, 0.5 * width, 15.0)
    walls = triangles_of(v_hull(0.0) - v_hull(WALL) - block(low, high))
    skin = outer_skin("hull", [("hull", walls)])
    (patch,) = skin.patches
    assert patch.kind == "opening"
    whole = V_LENGTH * V_BEAM * (V_HEIGHT - 0.5 * RISE)
    keel = length * (0.5 * width) ** 2 * RISE / (0.5 * V_BEAM)
    missing = whole - skin.volume_mm3
    assert missing == pytest.approx(keel + INSET_MM * length * width, rel=0.02)
    assert missing <= skin.error_mm3 <= 10.0 * missing


def test_an_opening_beside_the_keel_lies_in_the_bottom():
    """Between keel and chine the bottom is plane: the chord is the bottom itself."""
    hole = ((120.0, 10.0, -5.0), (160.0, 30.0, 20.0))
    walls = triangles_of(v_hull(0.0) - v_hull(WALL) - block(*hole))
    skin = outer_skin("hull", [("hull", walls)])
    (patch,) = skin.patches
    whole = V_LENGTH * V_BEAM * (V_HEIGHT - 0.5 * RISE)
    # 40 × 20 mm seen from below, as deep as the inset along the normal.
    slope = np.hypot(1.0, RISE / (0.5 * V_BEAM))
    assert patch.area_mm2 == pytest.approx(40.0 * 20.0 * slope, rel=0.01)
    assert whole - skin.volume_mm3 == pytest.approx(INSET_MM * patch.area_mm2, rel=0.02)
