"""What the tests share: the scripts of `meshes/` importable, skins to float, hypothesis set up."""

import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import settings

TESTS = Path(__file__).parent
sys.path[:0] = [str(TESTS.parent / "meshes"), str(TESTS)]

from hullcheck.flotation.descent import Descent  # noqa: E402 - after the path is set
from hullcheck.flotation.load import Load  # noqa: E402
from hullcheck.geometry.shells import outer_shells  # noqa: E402
from hullcheck.geometry.skin import Skin  # noqa: E402

# The same examples on every machine and every run; a slow machine is no failure.
settings.register_profile("ci", derandomize=True, deadline=None, database=None)
settings.load_profile("ci")


def _skin_of(*surfaces):
    """Return the skin of closed surfaces, each an array (n, 3, 3) [mm], proved closed first."""
    shells = [
        shell
        for number, triangles in enumerate(surfaces)
        for shell in outer_shells(f"surface {number + 1}", np.asarray(triangles)).shells
    ]
    names = tuple(f"body {number + 1}" for number in range(len(shells)))
    return Skin(names=names, shells=tuple(shells))


@pytest.fixture(scope="session")
def skin_of():
    """Return the function that makes a skin of closed surfaces, each (n, 3, 3) [mm]."""
    return _skin_of


@pytest.fixture(scope="session")
def descent_of():
    """Return the function that makes the descent of a load on a skin."""

    def descent(skin, *, mass_g, center_of_gravity_mm, density_kg_m3=1000.0):
        """Return the descent of a load [g, mm, kg/m³] on a skin."""
        load = Load(
            mass_g=mass_g,
            center_of_gravity_mm=np.asarray(center_of_gravity_mm, dtype=float),
            density_kg_m3=density_kg_m3,
        )
        return Descent(skin.tree, load)

    return descent


@pytest.fixture(scope="session")
def tarnwing_surfaces():
    """Return the demo craft's hull, starboard and port tip float, (n, 3, 3) [mm] each."""
    import make_tarnwing

    return (
        make_tarnwing.hull_triangles(),
        make_tarnwing.starboard_float_triangles(),
        make_tarnwing.port_float_triangles(),
    )


@pytest.fixture(scope="session")
def tarnwing_skin(tarnwing_surfaces):
    """Return the demo craft's skin: the hull and two tip floats."""
    return _skin_of(*tarnwing_surfaces)
