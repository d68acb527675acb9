"""Tunnels through a skin: small ones filled, large ones left, by solids of known making."""

import pytest
from thin_walls import block

from hullcheck.geometry.skin_tunnels import MOST_MM3, tunnel_fillings
from hullcheck.geometry.skin_union import united_hulks

SIDE = 60.0


def pierced(*holes):
    """Return a cube of 60 mm less boxes, as the shells of a union."""
    solid = block((0, 0, 0), (SIDE, SIDE, SIDE))
    for low, high in holes:
        solid -= block(low, high)
    return solid, united_hulks("hull", [(solid, 0)])


def filled(solid, hulks):
    """Return the fillings and the shells of the union with them."""
    fillings = tunnel_fillings(hulks)
    return fillings, united_hulks("hull", [(solid, 0), *((one, -1) for one in fillings)])


NEEDLES_EYE = ((20.0, -1.0, 59.5), (20.3, 0.4, 59.8))
"""From the side of the cube, just under its deck."""
INTO_IT = ((20.0, 0.1, 59.5), (20.3, 0.4, 61.0))
"""From the deck down into the eye."""


def test_a_needles_eye_is_filled():
    """An L of 0.3 mm from the side to the deck: gone, for no more than its own volume."""
    solid, hulks = pierced(NEEDLES_EYE, INTO_IT)
    assert [hulk.handles for hulk in hulks] == [1]
    fillings, (hulk,) = filled(solid, hulks)
    assert len(fillings) == 1
    assert hulk.handles == 0
    eye = 0.3 * 0.3 * (0.4 + 0.2)
    assert 0.0 < hulk.volume_mm3 - hulks[0].volume_mm3 <= eye + 1e-6
    assert (hulk.owner == -1).any()


def test_a_tunnel_with_three_mouths_is_filled():
    """A duct of 8 mm under the deck with three holes down to it has two handles: all filled."""
    duct = ((20.0, 0.2, 59.4), (28.0, 0.5, 59.7))
    mouths = [((x, 0.2, 59.4), (x + 0.3, 0.5, 61.0)) for x in (20.0, 24.0, 27.7)]
    solid, hulks = pierced(duct, *mouths)
    assert [hulk.handles for hulk in hulks] == [2]
    _, (hulk,) = filled(solid, hulks)
    assert hulk.handles == 0
    assert hulk.volume_mm3 <= SIDE**3 * (1 + 1e-12)


def test_a_large_tunnel_is_left():
    """A moon pool of 20 × 20 mm is no accident of the union."""
    solid, hulks = pierced(((20, 20, -1), (40, 40, SIDE + 1)))
    fillings, (hulk,) = filled(solid, hulks)
    assert fillings == []
    assert hulk.handles == 1


def test_no_filling_adds_much():
    """A square hole of 2.2 mm through the lip at an edge: 10 mm³ more than a filling may add."""
    solid, hulks = pierced(((20, -1, 55), (22.2, 2.4, 57.2)), ((20, 0.2, 55), (22.2, 2.4, 61)))
    assert [hulk.handles for hulk in hulks] == [1]
    assert pytest.approx(1.0) == MOST_MM3
    fillings, (hulk,) = filled(solid, hulks)
    assert fillings == []
    assert hulk.handles == 1


def test_no_tunnel_no_filling():
    """A hollow open at the deck, whose rim any box around it cuts to a ring, has no tunnel."""
    _, hulks = pierced(((10, 10, 10), (50, 50, SIDE + 1)))
    assert tunnel_fillings(hulks) == []
