"""How files lie: the demo's hull in every attitude files can have, told by her step."""

from itertools import product

import numpy as np
import pytest
from sheet_making import box
from skin_making import CANOPY, hull_solid, segments, surfaces, triangles_of
from skin_making import box as block

from hullcheck.answers.begin_axes import axes_found, step_below
from hullcheck.answers.begin_placing import told_by_step
from hullcheck.errors import InputError
from hullcheck.geometry.step import find_step

AXES = ("+x", "-x", "+y", "-y", "+z", "-z")
WAYS = [(bow, sky) for bow, sky in product(AXES, AXES) if bow[1] != sky[1]]


def filed(triangles, bow, sky):
    """Return body triangles as a file holds them whose bow and sky axes are given."""
    ahead, up = (
        (1.0 if axis[0] == "+" else -1.0) * np.eye(3)["xyz".index(axis[1])] for axis in (bow, sky)
    )
    starboard = np.cross(ahead, up)
    return triangles @ np.stack([-ahead, starboard, up])


@pytest.mark.parametrize(("bow", "sky"), WAYS)
def test_the_step_tells_bow_and_deck(bow, sky):
    """All 24 attitudes of the demo's hull in a file: both axes are found."""
    found = axes_found(filed(surfaces()[0], bow, sky))
    assert (found.forward, found.up) == (bow, sky)
    assert (found.forward_by, found.up_by) == ("step", "step")
    assert not found.assumed
    assert found.askew_deg == 0.0


def test_a_hole_that_is_looked_into_is_no_step():
    """Segments with a canopy, upside down: what is seen through the hole is no step."""
    parts, _ = segments((CANOPY,))
    over = np.concatenate([part.triangles_mm for part in parts]) * np.array([1.0, -1.0, -1.0])
    assert find_step(over) is not None
    assert step_below(over) is None


def test_without_a_step_nothing_tells_bow_from_stern():
    """A box: its long side runs fore and aft, the rest is assumed and said to be."""
    found = axes_found(box())
    assert (found.forward, found.up, found.forward_by) == ("-x", "+z", "assumed")
    assert found.assumed
    along_y = axes_found(box()[:, :, [1, 0, 2]])
    assert (along_y.forward, along_y.up, along_y.assumed) == ("-y", "+z", True)


def test_what_is_stated_holds():
    """Stated axes are taken as they are; one alone leaves the other to the step."""
    hull = surfaces()[0]
    stated = axes_found(hull, forward="+y", up="-x")
    assert (stated.forward, stated.up, stated.forward_by) == ("+y", "-x", "stated")
    half = axes_found(filed(hull, "+x", "-z"), forward="+x")
    assert (half.up, half.forward_by, half.up_by) == ("-z", "stated", "step")
    other = axes_found(filed(hull, "+x", "-z"), up="-z")
    assert (other.forward, other.up_by) == ("+x", "stated")
    with pytest.raises(InputError, match="along one axis"):
        axes_found(hull, forward="x", up="-x")


def test_a_hull_that_lies_askew_is_seen():
    """Turned by 10° about z her length runs 10° off; turned by 1° that is the lines of the hull."""
    hull = surfaces()[0]
    for angle, askew in ((10.0, 10.0), (1.0, 0.0)):
        c, s = np.cos(np.radians(angle)), np.sin(np.radians(angle))
        turn = np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])
        found = axes_found(hull @ turn.T, forward="-x", up="+z")
        assert found.askew_deg == pytest.approx(askew, abs=0.2)


def test_a_recess_seen_upside_down_is_no_step():
    """A canopy sunk 6 mm into the deck: upside down its edge rises like a step, and falls back."""
    sunk = triangles_of(hull_solid() - block((140.0, -25.0, 80.0), (230.0, 25.0, 200.0)))
    over = sunk * np.array([1.0, -1.0, -1.0])
    assert find_step(over) is not None
    assert step_below(over) is None
    assert step_below(sunk).station_mm == pytest.approx(265.0, abs=0.1)
    found = axes_found(filed(sunk, "+y", "-z"))
    assert (found.forward, found.up, found.up_by) == ("+y", "-z", "step")


@pytest.mark.parametrize("over", [(False, False), (True, False), (False, True), (True, True)])
def test_the_step_tells_how_she_is_turned_over(over):
    """Half turns about z and x of the demo's hull; a box has nothing to tell."""
    turn = np.array([1.0, 1.0, 1.0])
    turn[:2] *= -1.0 if over[0] else 1.0
    turn[1:] *= -1.0 if over[1] else 1.0
    assert told_by_step(surfaces()[0] * turn) == over
    assert told_by_step(box() * turn) is None
