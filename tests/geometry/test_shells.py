"""Closure proved, repairs listed one by one, and everything else refused by name."""

import numpy as np
import pytest
from make_bodies import box, cylinder, prism, sphere
from open_boxes import lacking

from hullcheck.errors import SurfaceError
from hullcheck.geometry.rims import OpenSurfaceError
from hullcheck.geometry.shells import Shell, outer_shells, winding_inside

BOX = {"length_mm": 240.0, "beam_mm": 96.0, "height_mm": 64.0}
VOLUME = 240.0 * 96.0 * 64.0


def finely(triangles, times):
    """Return triangles each cut in four, some times over; corners shared to the last bit."""
    for _ in range(times):
        a, b, c = np.moveaxis(triangles, 1, 0)
        ab, bc, ca = 0.5 * (a + b), 0.5 * (b + c), 0.5 * (c + a)
        triangles = np.concatenate(
            [np.stack(t, axis=1) for t in ((a, ab, ca), (ab, b, bc), (ca, bc, c), (ab, bc, ca))]
        )
    return triangles


def test_a_clean_box_is_left_alone():
    """A closed box comes back as it was, nothing repaired, nothing dropped."""
    found = outer_shells("hull.stl", box(**BOX))
    assert (found.repairs, found.dropped, len(found.shells)) == ((), (), 1)
    assert found.shells[0].volume_mm3 == pytest.approx(VOLUME, rel=1e-12)
    assert found.shells[0].area_mm2 == pytest.approx(
        2.0 * (240.0 * 96.0 + 240.0 * 64.0 + 96.0 * 64.0), rel=1e-12
    )
    assert np.array_equal(found.shells[0].triangles_mm, box(**BOX))


@pytest.mark.parametrize(
    ("names", "rims"),
    [
        (("bottom",), "1 rim"),
        (("deck",), "1 rim"),
        (("bottom", "deck"), "2 rims"),
        (("bow",), "1 rim"),
        (("starboard",), "1 rim"),
    ],
)
def test_an_open_box_is_refused(names, rims):
    """A box without bottom, deck, both or one side is refused: how many rims, where, how wide."""
    with pytest.raises(
        OpenSurfaceError, match=rf"hull\.stl is open: {rims}, the widest at"
    ) as caught:
        outer_shells("hull.stl", lacking(*names))
    assert "closed mesh" in str(caught.value)
    widest = caught.value.rims[0]
    assert widest.place() in str(caught.value)
    if names[0] in {"bottom", "deck"}:
        assert widest.area_mm2 == pytest.approx(240.0 * 96.0)
        assert "240 × 96 mm" in str(caught.value)


def test_all_faces_flipped_are_turned():
    """A surface inside out is turned outward, and that is said."""
    found = outer_shells("hull.stl", box(**BOX)[:, ::-1])
    assert found.repairs == ("hull.stl: all triangles looked inward; turned outward",)
    assert found.shells[0].volume_mm3 == pytest.approx(VOLUME, rel=1e-12)


def test_triangles_given_twice_are_dropped():
    """Triangles given twice, in any turn of their corners, count once, and that is said."""
    triangles = box(**BOX)
    again = np.roll(triangles[[3, 7]], 1, axis=1)
    found = outer_shells("hull.stl", np.concatenate([triangles, again]))
    assert found.repairs == ("hull.stl: dropped 2 triangles given twice",)
    assert found.shells[0].volume_mm3 == pytest.approx(VOLUME, rel=1e-12)


def test_triangles_without_area_are_dropped():
    """A triangle with two equal corners is dropped, and that is said."""
    triangles = box(**BOX)
    flat = triangles[:1][:, [0, 0, 1]]
    found = outer_shells("hull.stl", np.concatenate([triangles, flat]))
    assert found.repairs == ("hull.stl: dropped 1 triangle of zero area",)
    assert len(found.shells[0].triangles_mm) == 12


def test_a_stray_triangle_without_area_leaves_no_piece_behind():
    """A zero-area triangle off in space is dropped and is no body of its own."""
    stray = np.array([[[900.0, 0.0, 0.0], [900.0, 0.0, 0.0], [901.0, 0.0, 0.0]]])
    found = outer_shells("hull.stl", np.concatenate([stray, box(**BOX)]))
    assert found.repairs == ("hull.stl: dropped 1 triangle of zero area",)
    assert len(found.shells) == 1


def test_near_corners_are_joined():
    """A seam that gapes by less than 0.0001 mm is joined, and that is said with the number."""
    triangles = box(**BOX)
    aft = (triangles[:, :, 0] == 240.0).all(axis=1)
    triangles[aft] += np.array([0.0, 5e-5, 0.0])
    found = outer_shells("hull.stl", triangles)
    assert found.repairs == ("hull.stl: joined 4 corners that lay within 0.0001 mm of another",)
    assert found.shells[0].volume_mm3 == pytest.approx(VOLUME, rel=1e-6)


def test_a_wider_seam_is_refused():
    """A seam that gapes by 0.01 mm is no rounding of coordinates: it is refused."""
    triangles = box(**BOX)
    aft = (triangles[:, :, 0] == 240.0).all(axis=1)
    triangles[aft] += np.array([0.0, 0.01, 0.0])
    with pytest.raises(OpenSurfaceError, match="is open"):
        outer_shells("hull.stl", triangles)


def test_small_flat_holes_are_filled_one_by_one():
    """Small flat holes are filled, each with its edges, area and place."""
    triangles = finely(box(**BOX), 5)
    area = 0.5 * np.linalg.norm(
        np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]), axis=1
    )
    smallest = np.argsort(area)[[0, 40]]
    found = outer_shells("hull.stl", np.delete(triangles, smallest, axis=0))
    assert len(found.repairs) == 2
    assert all("filled a hole of 3 edges" in sentence for sentence in found.repairs)
    assert all(f"{area.min():.3g} mm²" in sentence for sentence in found.repairs)
    assert found.shells[0].volume_mm3 == pytest.approx(VOLUME, rel=1e-12)
    assert len(found.shells[0].triangles_mm) == len(triangles)


def test_a_hole_that_is_not_small_is_refused():
    """A flat hole of three edges but a twelfth of the skin is no repair: it is refused."""
    with pytest.raises(OpenSurfaceError, match="1 rim"):
        outer_shells("hull.stl", box(**BOX)[1:])


def test_contradicting_winding_is_refused():
    """Some triangles turned the wrong way: refused with the place, not guessed at."""
    triangles = finely(box(**BOX), 1)
    triangles[5] = triangles[5, ::-1]
    with pytest.raises(
        SurfaceError, match=r"contradict each other .* first near \(.*\) mm"
    ) as caught:
        outer_shells("hull.stl", triangles)
    assert "recalculate normals" in str(caught.value)


def test_flat_surfaces_are_refused():
    """A sheet doubled back on itself closes and encloses nothing: refused."""
    sheet = np.array([[[0.0, 0.0, 0.0], [9.0, 0.0, 0.0], [0.0, 9.0, 0.0]]])
    with pytest.raises(SurfaceError, match="is flat and encloses no volume"):
        outer_shells("hull.stl", np.concatenate([sheet, sheet[:, ::-1]]))
    with pytest.raises(SurfaceError, match="every triangle has zero area"):
        outer_shells("hull.stl", np.zeros((4, 3, 3)))


def test_a_thin_wall_tube_is_refused():
    """A tube of wall 1.2 mm, closed by its ends' annuli, is plastic and not what displaces."""
    facets, length, wall = 48, 200.0, 1.2
    outer = cylinder(diameter_mm=80.0, length_mm=length, facets=facets)
    inner = cylinder(diameter_mm=80.0 - 2 * wall, length_mm=length, facets=facets)

    def walls(triangles):
        """Return a cylinder's triangles that belong to no end."""
        return triangles[np.ptp(triangles[:, :, 0], axis=1) > 0.0]

    rim_out, rim_in = (
        np.unique(walls(t).reshape(-1, 3)[walls(t).reshape(-1, 3)[:, 0] == 0.0], axis=0)
        for t in (outer, inner)
    )

    def around(points):
        """Return a ring's points in order of their angle."""
        return points[np.argsort(np.arctan2(points[:, 1], points[:, 2]))]

    rim_out, rim_in = around(rim_out), around(rim_in)
    ends = []
    for a, b, c, d in zip(
        rim_out, np.roll(rim_out, -1, 0), np.roll(rim_in, -1, 0), rim_in, strict=True
    ):
        ends += [(a, b, c), (a, c, d)]
    fore = np.array(ends)
    aft = fore[:, ::-1] + [length, 0.0, 0.0]
    tube = np.concatenate([walls(outer), walls(inner)[:, ::-1], fore, aft])
    with pytest.raises(SurfaceError, match=r"nose\.stl is a thin-wall part") as caught:
        outer_shells("nose.stl", tube)
    assert "walls of about 1.2 mm" in str(caught.value)
    assert "export the outer skin as one closed mesh" in str(caught.value)


def test_a_slender_solid_is_no_thin_wall():
    """A plank 4 mm thick is solid, not the wall of a part."""
    found = outer_shells("wing.stl", box(length_mm=200.0, beam_mm=900.0, height_mm=4.0))
    assert found.shells[0].volume_mm3 == pytest.approx(200.0 * 900.0 * 4.0, rel=1e-12)


def test_an_inner_void_is_dropped():
    """An inner shell turned inward bounds a void: it displaces the same, and that is said."""
    void = box(length_mm=100.0, beam_mm=50.0, height_mm=20.0, origin_mm=(50.0, 0.0, 20.0))
    found = outer_shells("hull.stl", np.concatenate([void[:, ::-1], box(**BOX)]))
    assert found.repairs == ()
    assert found.dropped == ("hull.stl: left out an inner shell of 100 cm³, a void",)
    assert sum(s.volume_mm3 for s in found.shells) == pytest.approx(VOLUME, rel=1e-12)


def test_a_nested_solid_is_dropped():
    """An inner shell turned outward is a second solid within the first: left out, and said."""
    solid = box(length_mm=100.0, beam_mm=5.0, height_mm=2.0, origin_mm=(50.0, 0.0, 20.0))
    found = outer_shells("hull.stl", np.concatenate([box(**BOX), solid]))
    assert found.dropped == (
        "hull.stl: left out an inner shell of 1 cm³, a solid within the solid",
    )
    assert len(found.shells) == 1


def test_all_flipped_with_a_void():
    """Inside out as a whole, void and all, the outer shell is turned and the void is still one."""
    void = box(length_mm=100.0, beam_mm=50.0, height_mm=20.0, origin_mm=(50.0, 0.0, 20.0))
    both = np.concatenate([void[:, ::-1], box(**BOX)])[:, ::-1]
    found = outer_shells("hull.stl", both)
    assert len(found.repairs) == 1
    assert "looked inward; turned outward" in found.repairs[0]
    assert found.dropped == ("hull.stl: left out an inner shell of 100 cm³, a void",)


def test_bodies_apart_are_told_apart_largest_first():
    """Two bodies of one file are two shells, the largest first, a point in common or none."""
    ball = sphere(diameter_mm=30.0, origin_mm=(0.0, 200.0, 0.0))
    found = outer_shells("craft.stl", np.concatenate([ball, box(**BOX)]))
    assert [len(shell.triangles_mm) for shell in found.shells] == [12, len(ball)]
    assert (found.repairs, found.dropped) == ((), ())


def test_crossing_shells_are_refused():
    """A shell that pokes through the slanting side of another is refused with the place."""
    wedge = prism(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    pod = box(length_mm=40.0, beam_mm=30.0, height_mm=10.0, origin_mm=(60.0, 20.0, 30.0))
    with pytest.raises(SurfaceError, match=r"two shells cross near \(.*\) mm") as caught:
        outer_shells("hull.stl", np.concatenate([wedge, pod]))
    assert "unite them in the CAD program" in str(caught.value)


def test_winding_tells_inside_from_outside():
    """Points of a grid are inside a box by their solid angle just when their coordinates say so."""
    rng = np.random.default_rng(2)
    points = rng.uniform((-40.0, -60.0, -20.0), (280.0, 60.0, 90.0), (300, 3))
    truth = (points > [0.0, -48.0, 0.0]).all(axis=1) & (points < [240.0, 48.0, 64.0]).all(axis=1)
    assert 30 < truth.sum() < 270
    assert np.array_equal(winding_inside(finely(box(**BOX), 1), points), truth)


def test_a_shell_inside_out_cannot_be_made():
    """A shell record with no volume is refused."""
    with pytest.raises(SurfaceError, match=r"-3 mm³ encloses nothing"):
        Shell(triangles_mm=box(**BOX), volume_mm3=-3.0, area_mm2=1.0)
