"""Parts and lids that are not in their place: said by name, never silently made hull."""

import numpy as np
import pytest
from thin_walls import BEAM, HATCH, HEIGHT, LENGTH, block, segments

from hullcheck.errors import SurfaceError
from hullcheck.geometry.outer_skin import outer_skin


def plate(at):
    """Return a plate of 40 × 30 × 2 mm with a corner at a place, as triangles."""
    mesh = block(at, np.add(at, (40.0, 30.0, 2.0))).to_mesh64()
    return np.asarray(mesh.vert_properties)[:, :3][np.asarray(mesh.tri_verts).astype(np.int64)]


def lid(height=HEIGHT, margin=0.0):
    """Return a lid over the hatch at a height, larger than it by a margin all around."""
    (low_x, low_y, _), (high_x, high_y, _) = HATCH
    a, b = low_x - margin, high_x + margin
    c, d = low_y - margin, high_y + margin
    return ("hatch", np.array([[a, c, height], [b, c, height], [b, d, height], [a, d, height]]))


def test_a_part_that_touches_no_other_is_refused():
    """A hatch left in its print axes, beside the hull: refused by name, with what to do."""
    parts = [*segments().items(), ("hatch.stl", plate((100.0, BEAM, 40.0)))]
    with pytest.raises(SurfaceError, match=r"hatch\.stl touches none of the other parts of hull"):
        outer_skin("hull", parts)


def test_a_part_given_twice_is_refused():
    """The same file twice: named once."""
    (name, triangles), *rest = segments().items()
    with pytest.raises(SurfaceError, match="are the same surface in the same place"):
        outer_skin("hull", [(name, triangles), ("again", triangles.copy()), *rest])


def test_a_lid_in_the_air_is_no_hull():
    """100 mm above the deck it closes nothing and displaces nothing; the hatch stays open."""
    with_lid = outer_skin("hull", list(segments().items()), lids=[lid(HEIGHT + 100.0)])
    without = outer_skin("hull", list(segments().items()))
    assert len(with_lid.shells) == 1
    assert with_lid.volume_mm3 == pytest.approx(without.volume_mm3, rel=1e-9)
    assert {patch.kind for patch in with_lid.patches if patch.size_mm[1] > 10.0} == {"opening"}


def test_a_lid_that_fits_closes_the_hatch_exactly():
    """In the deck's own plane: the whole box, and nothing to say."""
    skin = outer_skin("hull", list(segments().items()), lids=[lid()])
    assert skin.volume_mm3 == pytest.approx(LENGTH * BEAM * HEIGHT, rel=1e-6)
    assert [code for code, _ in skin.notes] == []


def test_a_lid_larger_than_the_hull_is_said():
    """60 mm larger all around it stands out over both sides."""
    skin = outer_skin("hull", list(segments().items()), lids=[lid(margin=60.0)])
    assert [code for code, _ in skin.notes] == ["lid-stands-out"]


def test_a_plate_alone_is_no_body():
    """Two triangles: nothing between their sides."""
    flat = np.array([[[0, 0, 0], [90, 0, 0], [90, 40, 0]], [[0, 0, 0], [90, 40, 0], [0, 40, 0]]])
    with pytest.raises(SurfaceError, match="enclose no room"):
        outer_skin("hull", [("plate", flat.astype(float))])
