"""2,000 random loads on three bodies: none fails, and each answer holds by the direct pass.

Masses from 1 to 99 % of what the skin can carry. Four of five centers of gravity lie low and near
the center plane, as a craft's does; every fifth anywhere in the middle half of the skin's box, far
beyond what any craft is loaded with. Those fall over, and cost ten times as much to follow.
"""

import make_bodies as bodies
import numpy as np
import pytest
from strategies import bumpy

from hullcheck.errors import SolverError
from hullcheck.flotation.floating import float_at
from hullcheck.geometry.moment_tree import under_directly

pytestmark = pytest.mark.no_cover  # covered elsewhere by quicker tests; tracing takes time

SEED = 20240607
LOADS = {"stepped hull with tip floats": 800, "parabolic hull": 800, "irregular": 400}


def surfaces(name):
    """Return the closed surfaces of a body."""
    if name == "parabolic hull":
        return [
            bodies.parabolic_hull(
                length_mm=400.0, beam_mm=90.0, draft_mm=40.0, freeboard_mm=30.0, columns=12, rows=6
            )
        ]
    if name == "irregular":
        return [bumpy(SEED)]
    hull = bodies.stepped_box(
        length_mm=480.0,
        beam_mm=100.0,
        height_mm=80.0,
        step_station_mm=265.0,
        step_depth_mm=12.0,
        deadrise_deg=17.0,
        forebody_keel_deg=1.5,
        afterbody_keel_deg=6.5,
    )
    floats = [
        bodies.prism(length_mm=120.0, beam_mm=30.0, height_mm=26.0, origin_mm=(190.0, side, 40.0))
        for side in (-330.0, 330.0)
    ]
    return [hull, *floats]


def balance(skin, mass, center, found):
    """Return how far mass and moment are off by the direct pass, as shares of mass and size."""
    origin = skin.tree.origin_mm
    under = under_directly(
        skin.triangles_mm, found.normal, found.height_mm - found.normal @ origin, origin
    )
    lever = center - origin - under.position_integral / under.volume
    aside = lever - (lever @ found.normal) * found.normal
    return abs(1e-3 * under.volume - mass) / mass, np.linalg.norm(aside) / skin.tree.length_mm


@pytest.mark.parametrize("name", list(LOADS))
def test_random_loads(skin_of, name):
    """Every load is settled, stable or neutral, and in balance to 1e-6 by the direct pass."""
    skin = skin_of(*surfaces(name))
    rng = np.random.default_rng([SEED, len(name)])
    low, high = skin.tree.low_mm, skin.tree.high_mm
    failed = []
    for number in range(LOADS[name]):
        mass = 1e-3 * skin.volume_mm3 * rng.uniform(0.01, 0.99)
        place = rng.uniform(0.25, 0.75, 3)
        if number % 5:
            place[1:] = rng.uniform((0.49, 0.1), (0.51, 0.45))
        center = low + place * (high - low)
        try:
            rest = float_at(skin, mass_g=mass, center_of_gravity_mm=center)
        except SolverError as problem:
            failed.append((number, mass, center.tolist(), str(problem)))
            continue
        short, aside = balance(skin, mass, center, rest.floating)
        if not (short < 1e-6 and aside < 1e-6 and (rest.floating.stable or rest.neutral)):
            failed.append((number, mass, center.tolist(), f"off by {short:.1e}, {aside:.1e}"))
    print(f"{name}: {LOADS[name]} loads from seed {SEED}")  # noqa: T201 - shown when it fails
    assert not failed, f"seed {SEED}, {len(failed)} of {LOADS[name]}, the first: {failed[:3]}"


def test_a_waterplane_that_is_nothing_but_rounding(skin_of):
    """The hull wholly under and a float barely touched: found by a random load, kept as it was.

    On the way to rest the plane passes between the two, where its area is 1e-11 mm² of rounding
    and a missing thousandth of the volume would be a slab of 10¹⁴ mm on it.
    """
    skin = skin_of(*surfaces("stepped hull with tip floats"))
    center = np.array([214.29372171265865, -170.82851955783673, 48.91197079838712])
    rest = float_at(skin, mass_g=2911.2307935872072, center_of_gravity_mm=center)
    short, aside = balance(skin, 2911.2307935872072, center, rest.floating)
    assert rest.floating.stable
    assert short < 1e-6
    assert aside < 1e-6
