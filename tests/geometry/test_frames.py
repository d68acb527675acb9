"""How a file's axes lie in the craft, and the angles a water plane is spoken of in."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from strategies import normals, uniform

from hullcheck.errors import InputError
from hullcheck.geometry.attitude import (
    angle_between,
    heel_of,
    level_directions,
    normal_of,
    trim_of,
)
from hullcheck.geometry.frames import AXES, axis_name, body_rotation

SQUARE = [pair for pair in itertools.product(AXES, AXES) if pair[0][1] != pair[1][1]]


def vector(name):
    """Return the unit vector of a signed axis."""
    return np.eye(3)["xyz".index(name[1])] * (1.0 if name[0] == "+" else -1.0)


@pytest.mark.parametrize(("forward", "up"), SQUARE)
def test_axes_of_a_file(forward, up):
    """In each of the 24 frames forward becomes −x, up +z, starboard +y, and nothing is mirrored."""
    turn = body_rotation(forward=forward, up=up)
    assert np.array_equal(turn @ vector(forward), [-1.0, 0.0, 0.0])
    assert np.array_equal(turn @ vector(up), [0.0, 0.0, 1.0])
    # Facing forward with the sky above, starboard is to the right: forward × up.
    assert np.array_equal(turn @ np.cross(vector(forward), vector(up)), [0.0, 1.0, 0.0])
    assert np.array_equal(turn @ turn.T, np.eye(3))
    assert np.linalg.det(turn) == pytest.approx(1.0)
    assert len({body_rotation(forward=f, up=u).tobytes() for f, u in SQUARE}) == 24


def test_axes_that_make_no_frame_are_refused():
    """Two axes along one line, and a name that is no axis, are refused with what was given."""
    with pytest.raises(InputError, match=r"forward \+x and up -x lie along one axis"):
        body_rotation(forward="+x", up="-x")
    with pytest.raises(InputError, match="up: axis 'w' is none of"):
        body_rotation(forward="+x", up="w")
    with pytest.raises(InputError, match="axis '' is none of"):
        axis_name("")
    assert [axis_name(text) for text in ("x", " -Y ", "+z")] == ["+x", "-y", "+z"]


@given(trim=uniform(-1.5, 1.5), heel=uniform(-3.1, 3.1))
def test_angles_and_normals(trim, heel):
    """A normal made of trim and heel gives them back; level directions are square to it."""
    normal = normal_of(trim=trim, heel=heel)
    assert np.linalg.norm(normal) == pytest.approx(1.0, rel=1e-15)
    assert trim_of(normal) == pytest.approx(trim, abs=1e-14)
    # Near trim ±90° the heel hangs on a short lever: cos τ ≥ 0.07 here.
    assert heel_of(normal) == pytest.approx(heel, abs=1e-14)
    along, across = level_directions(trim=trim, heel=heel)
    frame = np.stack([along, across, normal])
    assert frame @ frame.T == pytest.approx(np.eye(3), abs=1e-14)
    assert np.linalg.det(frame) == pytest.approx(1.0)


@given(trim=uniform(-1.2, 1.2), heel=uniform(-3.0, 3.0))
def test_normals_turn_as_stated(trim, heel):
    """∂n/∂τ = −e_L and ∂n/∂φ = −cos τ e_T, by central differences of 1e-6 (errors 1e-10)."""
    step = 1e-6
    along, across = level_directions(trim=trim, heel=heel)
    by_trim = normal_of(trim=trim + step, heel=heel) - normal_of(trim=trim - step, heel=heel)
    by_heel = normal_of(trim=trim, heel=heel + step) - normal_of(trim=trim, heel=heel - step)
    assert list(by_trim / (2 * step)) == pytest.approx(list(-along), abs=1e-9)
    assert list(by_heel / (2 * step)) == pytest.approx(list(-math.cos(trim) * across), abs=1e-9)


def test_signs_of_trim_and_heel():
    """Bow up, water stands higher aft; starboard down, higher to starboard."""
    aft, starboard = np.array([100.0, 0.0, 0.0]), np.array([0.0, 100.0, 0.0])
    # Depth of a point of the level plane z = 0 below a water plane through the origin is −n·p.
    assert normal_of(trim=0.1, heel=0.0) @ aft < 0.0
    assert normal_of(trim=0.0, heel=0.1) @ starboard < 0.0
    assert heel_of(normal_of(trim=0.0, heel=-math.pi)) == math.pi
    assert math.copysign(1.0, heel_of(np.array([0.0, 0.0, 1.0]))) == 1.0


@given(first=normals(), angle=uniform(1e-9, 3.1))
def test_angle_between_directions(first, angle):
    """The angle between two directions is the one they were turned by, small ones too."""
    aside = np.cross(first, np.eye(3)[int(np.argmin(np.abs(first)))])
    aside /= np.linalg.norm(aside)
    second = math.cos(angle) * first + math.sin(angle) * aside
    # A unit vector is rounded to 1e-16: that is what an angle can be told to.
    assert angle_between(first, second) == pytest.approx(angle, rel=1e-9, abs=5e-16)
