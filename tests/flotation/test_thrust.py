"""Trim under thrust against the wall-sided closed form, and what physics must keep."""

import math

import make_bodies as bodies
import numpy as np
import pytest
from scipy.optimize import brentq

from hullcheck.errors import InputError
from hullcheck.flotation.load import Load
from hullcheck.flotation.thrust import Thrust, trim_under_thrust

LENGTH, BEAM, HEIGHT, MASS = 600.0, 100.0, 80.0, 1200.0
CENTER = np.array([5.0, 0.0, 30.0])
KEEL = np.array([[x, 0.0, 0.0] for x in (-300.0, 300.0)])


def box(skin_of):
    """Return the box, its bottom's middle at the origin."""
    return skin_of(
        bodies.box(
            length_mm=LENGTH, beam_mm=BEAM, height_mm=HEIGHT, origin_mm=(-LENGTH / 2, 0.0, 0.0)
        )
    )


def load(center=CENTER):
    """Return 1200 g in water of 1 g/cm³."""
    return Load(mass_g=MASS, center_of_gravity_mm=center, density_kg_m3=1000.0)


def closed_trim(thrust_g, up, hub, *, at_keel):
    """Return the trim of the box under thrust by moments about the hub, written out anew.

    Wall-sided: the water stands at z = d + x tan τ, B = (a tan τ, d/2 + ½ a tan² τ), a = L²/(12 d).
    About the hub the thrust has no moment: weight, buoyancy and resistance balance there.
    """
    area = 1e-3 * LENGTH * BEAM

    def moment(trim):
        """Return the bow-up moment about the hub."""
        level, lifted = thrust_g * math.cos(up + trim), thrust_g * math.sin(up + trim)
        draft = (MASS - lifted) / area
        slope = math.tan(trim)
        reach = LENGTH**2 / (12.0 * draft)
        buoyancy = np.array([reach * slope, draft / 2 + 0.5 * reach * slope**2])
        aft = np.array([math.cos(trim), math.sin(trim)])
        normal = np.array([-math.sin(trim), math.cos(trim)])
        surface = draft * math.cos(trim)
        weight = MASS * (np.array([CENTER[0], CENTER[2]]) - hub) @ aft
        lift = -(MASS - lifted) * (buoyancy - hub) @ aft
        held = min(KEEL[:, [0, 2]] @ normal) if at_keel else surface
        return weight + lift - level * (hub @ normal - held)

    return brentq(moment, math.radians(-3.5), math.radians(1.5), xtol=1e-15)


@pytest.mark.parametrize("up_deg", [0.0, 2.0, -3.0])
@pytest.mark.parametrize("at_keel", [False, True])
@pytest.mark.parametrize("thrust_g", [0.0, 100.0, 250.0])
def test_trim_of_a_box_under_thrust(skin_of, up_deg, at_keel, thrust_g):
    """A box's trim under thrust is the closed form's, its vertical part included, to 1e-8 rad."""
    up, hub = math.radians(up_deg), np.array([40.0, 120.0])
    thrust = Thrust(
        thrust_g=thrust_g,
        hub_mm=np.array([hub[0], 0.0, hub[1]]),
        axis=np.array([-math.cos(up), 0.0, math.sin(up)]),
    )
    found = trim_under_thrust(
        box(skin_of).tree,
        load(),
        thrust,
        resisted_mm=KEEL if at_keel else None,
        start=(math.radians(0.2), 0.0),
    )
    truth = closed_trim(thrust_g, up, hub, at_keel=at_keel)
    assert found.trim == pytest.approx(truth, abs=1e-8)
    lifted = thrust_g * math.sin(up + truth)
    height = (MASS - lifted) / (1e-3 * LENGTH * BEAM) * math.cos(truth)
    assert found.height_mm == pytest.approx(height, abs=1e-6)


def test_a_low_resistance_trims_her_further(skin_of):
    """Held at the keel she trims further bow down than held at the waterline: the band's ends."""
    thrust = Thrust(
        thrust_g=250.0, hub_mm=np.array([0.0, 0.0, 150.0]), axis=np.array([-1.0, 0.0, 0.0])
    )
    high, low = (
        trim_under_thrust(box(skin_of).tree, load(), thrust, resisted_mm=held, start=(0.0, 0.0))
        for held in (None, KEEL)
    )
    assert low.trim < high.trim < 0.0


def test_too_much_thrust_has_no_rest(skin_of):
    """A thrust whose couple no trim of the box withstands is answered by None, not by a number."""
    thrust = Thrust(
        thrust_g=1100.0, hub_mm=np.array([0.0, 0.0, 900.0]), axis=np.array([-1.0, 0.0, 0.0])
    )
    found = trim_under_thrust(box(skin_of).tree, load(), thrust, resisted_mm=KEEL, start=(0.0, 0.0))
    assert found is None


def test_a_thrust_below_zero_is_refused():
    """A negative thrust is refused with its value."""
    with pytest.raises(InputError, match="thrust -5 g: must not be below 0"):
        Thrust(thrust_g=-5.0, hub_mm=np.zeros(3), axis=np.array([-1.0, 0.0, 0.0]))
