"""Every stable attitude: the list against descent from directions spread over the whole sphere."""

import math

import make_bodies as bodies
import numpy as np
import pytest
from strategies import bumpy

from hullcheck.flotation.floating import float_at
from hullcheck.geometry.attitude import angle_between

pytestmark = pytest.mark.no_cover  # covered elsewhere by quicker tests; tracing takes time

SPREAD = 500


def directions(count):
    """Return directions spread evenly over the sphere by the golden angle, (count, 3)."""
    height = 1.0 - 2.0 * (np.arange(count) + 0.5) / count
    angle = math.pi * (1.0 + math.sqrt(5.0)) * np.arange(count)
    breadth = np.sqrt(1.0 - height**2)
    return np.column_stack([breadth * np.cos(angle), breadth * np.sin(angle), height])


def loads(skin_of, tarnwing_skin):
    """Return skins and loads by name: mass [g] and center of gravity [mm]."""
    plank = skin_of(bodies.box(length_mm=150.0, beam_mm=60.0, height_mm=50.0))
    hull = skin_of(
        bodies.parabolic_hull(
            length_mm=400.0, beam_mm=90.0, draft_mm=40.0, freeboard_mm=30.0, columns=16, rows=8
        )
    )
    stepped = skin_of(
        bodies.stepped_box(
            length_mm=480.0,
            beam_mm=100.0,
            height_mm=80.0,
            step_station_mm=265.0,
            step_depth_mm=12.0,
            deadrise_deg=17.0,
            forebody_keel_deg=1.5,
            afterbody_keel_deg=6.5,
        )
    )
    odd = skin_of(bumpy(5))
    middle = 0.5 * (odd.tree.low_mm + odd.tree.high_mm)
    return {
        "demo craft": (tarnwing_skin, 690.0, (252.0, 0.0, 31.0)),
        "plank": (plank, 0.55e-3 * plank.volume_mm3, (75.0, 0.0, 25.0)),
        "parabolic hull": (hull, 500.0, (5.0, 2.0, -8.0)),
        "stepped hull": (stepped, 700.0, (250.0, 0.0, 55.0)),
        "irregular": (odd, 0.45e-3 * odd.volume_mm3, tuple(middle)),
    }


@pytest.mark.parametrize(
    "name", ["demo craft", "plank", "parabolic hull", "stepped hull", "irregular"]
)
def test_list_is_what_500_descents_find(skin_of, descent_of, tarnwing_skin, name):
    """The list holds each minimum that descent from 500 spread directions meets, and no other.

    Two are one within 0.02°: twice the angle within which the list itself merges them.
    """
    skin, mass, center = loads(skin_of, tarnwing_skin)[name]
    rest = float_at(skin, mass_g=mass, center_of_gravity_mm=center, all_attitudes=True)
    listed = [f.normal for f in rest.attitudes]
    descent = descent_of(skin, mass_g=mass, center_of_gravity_mm=center)
    met = []
    for normal in directions(SPREAD):
        state = descent.rest(descent.state(normal, None))
        if all(angle_between(state.normal, other) > math.radians(0.02) for other in met):
            met.append(state.normal)
    nearest = [min(math.degrees(angle_between(m, n)) for n in listed) for m in met]
    assert max(nearest) < 0.02
    assert len(listed) == len(met)
    assert all(f.stable for f in rest.attitudes)
