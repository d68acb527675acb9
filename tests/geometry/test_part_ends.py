"""Flat ends of parts and the seams between them: gaps and mismatch known from their making."""

import make_bodies as bodies
import numpy as np
import pytest
from thin_walls import BEAM, CUT, HEIGHT, LENGTH, WALL, block, finer, wall

from hullcheck.errors import SurfaceError
from hullcheck.geometry.part_ends import flat_ends, overlap_notes, seams_between

GAPS_MM = (-1.5, -0.2, 0.0, 0.1, 0.3, 3.0)
TO_MM = 1e-3
MIDDLE = (0.0, 0.5 * HEIGHT)


def sheet(start, stop):
    """Return the four long sides of the box without thickness."""
    box = bodies.box(length_mm=stop - start, beam_mm=BEAM, height_mm=HEIGHT)
    box = finer(box, 2) + np.array([start, 0.0, 0.0])
    across = np.ptp(box[:, :, 0], axis=1) < 1e-9
    return box[~across]


def tube(start, stop):
    """Return a round tube of 2 mm wall, 64 facets."""
    from manifold3d import Manifold

    outer = Manifold.cylinder(stop - start, 40.0, circular_segments=64)
    hole = Manifold.cylinder(stop - start + 2.0, 38.0, circular_segments=64).translate((0, 0, -1))
    made = (outer - hole).rotate((0.0, 90.0, 0.0)).translate((start, 0.0, 40.0)).to_mesh64()
    return np.asarray(made.vert_properties)[:, :3][np.asarray(made.tri_verts).astype(np.int64)]


MAKE = {"wall": lambda a, b: wall(a, b, fore=False, aft=False), "sheet": sheet, "tube": tube}


def seams(*parts):
    """Return the seams between parts, which are called a, b, c."""
    names = [chr(ord("a") + k) for k in range(len(parts))]
    return seams_between(names, [e for k, part in enumerate(parts) for e in flat_ends(k, part)])


@pytest.mark.parametrize("kind", MAKE)
@pytest.mark.parametrize("gap_mm", GAPS_MM)
def test_the_gap_of_a_seam(kind, gap_mm):
    """To a thousandth of a millimeter, at its station, from the part ahead to the one aft."""
    (seam,) = seams(MAKE[kind](0.0, CUT), MAKE[kind](CUT + gap_mm, LENGTH))
    assert seam.gap_mm == pytest.approx(gap_mm, rel=0, abs=TO_MM)
    assert seam.station_mm == pytest.approx(CUT + 0.5 * gap_mm, rel=0, abs=TO_MM)
    assert seam.mismatch_mm == pytest.approx(0.0, rel=0, abs=TO_MM)
    assert seam.normal == pytest.approx([1.0, 0.0, 0.0])
    assert seam.place_mm[1:] == pytest.approx(MIDDLE, rel=0, abs=0.05)
    assert seam.parts == ("a", "b")
    assert seam.across


def test_the_order_of_the_files_does_not_matter():
    """The part ahead is named first, and seams come from the bow, whatever the order given."""
    pieces = [wall(a, b, fore=False, aft=False) for a, b in ((400, 600), (0, 200), (200, 400))]
    assert [seam.parts for seam in seams(*pieces)] == [("b", "c"), ("c", "a")]
    assert [round(seam.station_mm) for seam in seams(*pieces)] == [200, 400]


@pytest.mark.parametrize(("axis", "shift"), [(1, 0.4), (1, -0.9), (2, 0.7)])
def test_the_mismatch_of_a_seam(axis, shift):
    """Rectangles shifted along a side lie that far apart at the worst place, to a thousandth."""
    at = np.zeros(3)
    at[axis] = shift
    (seam,) = seams(wall(0.0, CUT, aft=False), wall(CUT, LENGTH, fore=False) + at)
    assert seam.mismatch_mm == pytest.approx(abs(shift), rel=0, abs=TO_MM)


@pytest.mark.parametrize("at", [(0.0, 5.0, 0.0), (0.0, 0.0, -5.0), (0.0, 1.1, 0.0)])
def test_parts_that_do_not_line_up_are_refused(at):
    """From 1 mm on, with both names, the station and the distance."""
    with pytest.raises(SurfaceError) as refused:
        seams(wall(0.0, CUT, aft=False), wall(CUT, LENGTH, fore=False) + np.array(at))
    far = max(map(abs, at))
    assert (
        f"a and b do not line up at station 200: the outlines of their ends lie up to {far} mm"
        in (str(refused.value))
    )


def test_parts_that_gape_too_far_are_refused():
    """At 5 mm it is no seam (limit 4), with both names; at 25 mm they have nothing to do here."""
    nose = wall(0.0, CUT, aft=False)
    with pytest.raises(
        SurfaceError, match=r"a and b lie 5\.0 mm apart at station 202 \(limit 4 mm"
    ):
        seams(nose, wall(CUT + 5.0, LENGTH, fore=False))
    assert seams(nose, wall(CUT + 25.0, LENGTH, fore=False)) == []


@pytest.mark.parametrize("gap_mm", [0.0, 0.3])
@pytest.mark.parametrize("slope_deg", [10.0, 30.0])
def test_an_oblique_seam(slope_deg, gap_mm):
    """Cut at a slope about y: the normal is the cut's, the gap is measured along it."""
    whole = block((0.0, -50.0, 0.0), (LENGTH, 50.0, HEIGHT)) - block(
        (-1.0, WALL - 50.0, WALL), (LENGTH + 1.0, 50.0 - WALL, HEIGHT - WALL)
    )
    slope = np.radians(slope_deg)
    normal = np.array([np.cos(slope), 0.0, np.sin(slope)])
    level = float(normal @ [300.0, 0.0, 0.5 * HEIGHT])
    parts = []
    for sign in (-1.0, 1.0):
        half = whole.trim_by_plane(tuple(sign * normal), sign * level + 0.5 * gap_mm)
        mesh = half.to_mesh64()
        points = np.asarray(mesh.vert_properties)[:, :3]
        parts.append(points[np.asarray(mesh.tri_verts).astype(np.int64)])
    (seam,) = seams(*parts)
    assert seam.gap_mm == pytest.approx(gap_mm, rel=0, abs=TO_MM)
    assert seam.normal == pytest.approx(normal, rel=0, abs=1e-3)
    # Along the normal from the middle of the end ahead: half a gap from 300 at most.
    assert np.linalg.norm(seam.place_mm - [300.0, *MIDDLE]) < 0.5 * gap_mm + TO_MM
    assert not seam.across


def test_a_part_has_the_ends_it_lies_on_one_side_of():
    """A tube open at both ends has two, their normals away from it; a bulkhead within is none."""
    ends = flat_ends(7, wall(0.0, CUT, fore=False, aft=False))
    assert sorted(end.normal[0] for end in ends) == pytest.approx([-1.0, 1.0])
    assert sorted(end.offset_mm for end in ends) == pytest.approx([0.0, CUT])
    assert {end.part for end in ends} == {7}
    assert [end.outline.area for end in ends] == pytest.approx([BEAM * HEIGHT] * 2, rel=1e-4)
    closed = flat_ends(0, wall(0.0, CUT))
    assert sorted(end.offset_mm for end in closed) == pytest.approx([0.0, CUT])


def test_an_end_that_an_opening_reaches_is_still_an_end():
    """A hatch that crosses the seam: the ends are "C"s, the gap is read all the same."""
    hatch = ((150.0, -30.0, 70.0), (250.0, 30.0, 90.0))
    nose = wall(0.0, CUT, aft=False, holes=[hatch])
    (seam,) = seams(nose, wall(CUT + 0.3, LENGTH, fore=False, holes=[hatch]))
    assert seam.gap_mm == pytest.approx(0.3, rel=0, abs=TO_MM)
    assert seam.mismatch_mm < TO_MM


def test_a_lap_of_more_than_a_millimeter_is_noted():
    """1.5 mm is, 0.9 mm is not; the note names both, how far and where."""
    (lapped,) = seams(wall(0.0, CUT, aft=False), wall(CUT - 1.5, LENGTH, fore=False))
    (touching,) = seams(wall(0.0, CUT, aft=False), wall(CUT - 0.9, LENGTH, fore=False))
    ((code, sentence),) = overlap_notes([lapped, touching])
    assert code == "parts-overlap"
    assert sentence.startswith("a and b overlap by 1.5 mm at station 199:")
