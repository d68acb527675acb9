"""What hypothesis draws from: bodies, attitudes, loads. Lengths in mm, angles in radians."""

import make_bodies
import numpy as np
from hypothesis import strategies as st


def uniform(low, high):
    """Draw a number between two, both included."""
    return st.floats(low, high, allow_nan=False, allow_infinity=False)


SEEDS = st.integers(0, 2**32 - 1)


@st.composite
def normals(draw):
    """Draw a unit vector, all directions alike."""
    height, angle = draw(uniform(-1.0, 1.0)), draw(uniform(-np.pi, np.pi))
    breadth = np.sqrt(1.0 - height * height)
    return np.array([breadth * np.cos(angle), breadth * np.sin(angle), height])


def bumpy(seed):
    """Return an irregular, not convex, closed body of 480 triangles, from a seed.

    A sphere's corners, each moved along its own direction by a sum of waves and then stretched:
    star-shaped about the origin, so it cannot cross itself.
    """
    rng = np.random.default_rng(seed)
    ball = make_bodies.sphere(diameter_mm=2.0, facets=16, bands=16)
    waves, phases = rng.normal(scale=2.5, size=(5, 3)), rng.uniform(0.0, 2.0 * np.pi, 5)
    sizes = rng.uniform(0.0, 0.1, 5)
    radius = 1.0 + (sizes * np.cos(ball @ waves.T + phases)).sum(axis=-1)
    stretch = rng.uniform(30.0, 120.0, 3)
    middle = rng.uniform(-200.0, 200.0, 3)
    return ball * radius[..., None] * stretch + middle


def bumpy_bodies():
    """Draw an irregular closed body, (480, 3, 3)."""
    return SEEDS.map(bumpy)


@st.composite
def stepped_hulls(draw):
    """Draw the arguments of a stepped box of a builder's proportions, as a dictionary."""
    length = draw(uniform(300.0, 900.0))
    beam = draw(uniform(0.15, 0.25)) * length
    return {
        "length_mm": length,
        "beam_mm": beam,
        "height_mm": draw(uniform(0.18, 0.25)) * length,
        "step_station_mm": draw(uniform(0.35, 0.6)) * length,
        "step_depth_mm": draw(uniform(0.01, 0.03)) * length,
        "deadrise_deg": draw(uniform(3.0, 24.0)),
        "forebody_keel_deg": draw(uniform(0.0, 4.0)),
        "afterbody_keel_deg": draw(uniform(1.0, 8.0)),
    }


@st.composite
def loads_on(draw, skin):
    """Draw a mass [g] and a center of gravity [mm] that float on a skin in fresh water.

    5 to 95 % of the skin's volume, the center within the middle half of its box.
    """
    share = draw(uniform(0.05, 0.95))
    low, high = skin.tree.low_mm, skin.tree.high_mm
    place = np.array([draw(uniform(0.25, 0.75)) for _ in range(3)])
    return 1e-3 * share * skin.volume_mm3, low + place * (high - low)
