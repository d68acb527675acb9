"""Craft in every state a drawing must show, from the demo meshes and the analytic bodies."""

import importlib
import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from hullcheck.answers.float_answer import float_answer
from hullcheck.craft.bodies import Body
from hullcheck.craft.craft import Craft
from hullcheck.geometry.shells import outer_shells
from hullcheck.water import fresh_water, sea_water, water_of_density

MESHES = Path(__file__).parents[2] / "meshes"
sys.path.insert(0, str(MESHES))
analytic = importlib.import_module("make_bodies")

FACET = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def _stl(name):
    """Return the triangles of a binary STL of the demo."""
    data = (MESHES / f"tarnwing_{name}.stl").read_bytes()
    return np.frombuffer(data, dtype=FACET, offset=84)["corners"].astype(np.float64)


def _body(name, role, triangles):
    """Return a body of one shell."""
    return Body(name=name, role=role, shell=outer_shells(name, triangles).shells[0])


def _demo(*, mass_g=690.0, cg_mm=(252.0, 0.0, 31.0), tip_floats=True, size=1.0, water=None):
    """Return the demo craft, loaded otherwise or of another size."""
    bodies = [_body("hull", "hull", _stl("hull") * size)]
    if tip_floats:
        bodies += [
            _body(f"{side} float", "tip float", _stl(f"{side}_float") * size)
            for side in ("starboard", "port")
        ]
    return Craft(
        name="Tarnwing 90",
        bodies=tuple(bodies),
        mass_g=mass_g * size**3,
        center_of_gravity_mm=None if cg_mm is None else tuple(v * size for v in cg_mm),
        water=water or fresh_water(),
    )


def _single(triangles, mass_g, cg_mm):
    """Return a craft of one body without a step."""
    return Craft(
        name="body",
        bodies=(_body("body", "hull", triangles),),
        mass_g=mass_g,
        center_of_gravity_mm=cg_mm,
        water=fresh_water(),
    )


def _twins():
    """Return a craft on two main floats, narrowed copies of the demo hull."""
    narrow = _stl("hull") * np.array([1.0, 0.55, 0.8])
    floats = [
        _body(f"{side} float", "main float", narrow + np.array([0.0, y, 0.0]))
        for side, y in (("starboard", 130.0), ("port", -130.0))
    ]
    return Craft(
        name="Twin",
        bodies=tuple(floats),
        mass_g=900.0,
        center_of_gravity_mm=(255.0, 0.0, 120.0),
        water=sea_water(),
    )


STATES: dict[str, Callable[[], Craft]] = {
    "upright": _demo,
    "bow up": lambda: _demo(cg_mm=(300.0, 0.0, 31.0)),
    "bow down": lambda: _demo(cg_mm=(215.0, 0.0, 31.0)),
    "stern under": lambda: _demo(cg_mm=(420.0, 0.0, 40.0)),
    "standing on her nose": lambda: _demo(cg_mm=(40.0, 0.0, 40.0)),
    "on a tip float": lambda: _demo(cg_mm=(270.0, 3.0, 31.0)),
    "listing": lambda: _demo(cg_mm=(252.0, 3.0, 55.0), tip_floats=False),
    "capsized": lambda: _demo(cg_mm=(252.0, 2.0, 85.0), tip_floats=False),
    "capsized with floats": lambda: _demo(cg_mm=(252.0, 20.0, 260.0)),
    "on her side": lambda: _demo(cg_mm=(252.0, 60.0, 60.0), tip_floats=False),
    "no center of gravity": lambda: _demo(cg_mm=None),
    "sinks": lambda: _demo(mass_g=2800.0),
    "bow under": lambda: _demo(mass_g=2300.0),
    "hull alone": lambda: _demo(tip_floats=False, water=water_of_density(1010.0)),
    "box": lambda: _single(
        analytic.box(length_mm=240.0, beam_mm=96.0, height_mm=64.0), 500.0, (125.0, 0.0, 30.0)
    ),
    "sphere": lambda: _single(analytic.sphere(diameter_mm=100.0), 300.0, (0.0, 0.0, -5.0)),
    "twin floats": _twins,
    "20 mm long": lambda: _demo(size=20.0 / 624.0),
    "6 m long": lambda: _demo(size=6000.0 / 624.0),
}


@pytest.fixture(scope="session", params=STATES)
def state(request):
    """Return the name of a state, a craft in it and her answer."""
    craft = STATES[request.param]()
    return request.param, craft, float_answer(craft)


@pytest.fixture(scope="session")
def demo():
    """Return the demo craft as she is meant to float, with her answer."""
    craft = _demo()
    return craft, float_answer(craft)
