"""Craft in every state a drawing must show, from the demo meshes and the analytic bodies."""

import dataclasses
import importlib
import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from hullcheck.answers.float_answer import float_answer
from hullcheck.craft.bodies import Body
from hullcheck.craft.craft import Craft
from hullcheck.craft.fittings import Fittings, Mark, Propeller, Wing
from hullcheck.craft.limits import Limits
from hullcheck.craft.openings import Opening
from hullcheck.craft.weighing import Weighing
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


def _opening(name, state, *points_mm):
    """Return an opening."""
    return Opening(name=name, state=state, points_mm=np.array(points_mm))


OPENINGS = (
    _opening("canopy edge", "taped", (130.0, 0.0, 85.0), (210.0, 30.0, 79.0)),
    _opening("wing seat", "taped", (240.0, 20.0, 92.0)),
    _opening("motor leads", "sealed", (330.0, 12.0, 84.0)),
    _opening("pushrod exit", "open", (470.0, 8.0, 68.0)),
)
MANY = (
    *OPENINGS,
    _opening("nose hatch", "sealed", (60.0, 0.0, 70.0)),
    _opening("cooling vent", None, (285.0, 30.0, 90.0)),
    _opening("", "open", (390.0, -26.0, 66.0), (404.0, 26.0, 66.0)),
    _opening("tail drain", "taped", (560.0, 0.0, 74.0)),
)
LONG = (
    _opening("aft bulkhead inspection hatch over the receiver tray", "taped", (300.0, 0.0, 90.0)),
    _opening("Servoleitungsdurchführungsabdeckung", None, (420.0, 20.0, 70.0)),
    _opening("", None, (180.0, -26.0, 72.0), (320.0, 26.0, 72.0)),
    _opening("price of $5 or $6,\nvent 通気", "open", (520.0, 0.0, 76.0)),
)
CLOSE = tuple(
    _opening(name, state, (400.0 + 6.0 * i, y, z))
    for i, (name, state, y, z) in enumerate(
        [
            ("rudder pushrod", "open", 8.0, 70.0),
            ("elevator pushrod", "taped", -8.0, 71.0),
            ("aerial hole", None, 0.0, 78.0),
            ("servo slots", "taped", 15.0, 74.0),
            ("charge socket", "sealed", -15.0, 68.0),
        ]
    )
)
TWINS = (
    _opening("starboard vent", "open", (300.0, 30.0, 75.0)),
    _opening("port vent", "open", (300.0, -30.0, 75.0)),
    _opening("canopy edge", "taped", (150.0, 0.0, 80.0)),
)
LOW = (*OPENINGS, _opening("drain", "taped", (460.0, 0.0, 42.0)))
WET = (
    _opening("canopy edge", "open", (150.0, 50.0, 32.0)),
    _opening("drain", "sealed", (460.0, 0.0, 30.0)),
    _opening("servo slots", None, (300.0, 40.0, 20.0)),
    _opening("hatch", "taped", (230.0, 0.0, 90.0)),
)
SEALED = tuple(dataclasses.replace(one, state="sealed") for one in OPENINGS)
LIMITS = Limits(freeboard_mm=15.0, trim_deg=(0.0, 4.0), heel_deg=3.0)
MARKS = (
    Mark(name="bow", point_mm=(60.0, 22.0, 58.0)),
    Mark(name="stern", point_mm=(520.0, 14.0, 60.0), along="plumb"),
    Mark(name="chine", point_mm=(330.0, 40.0, 15.0)),
)
WING = Wing(tip_mm=(210.0, 450.0, 95.0), chord_mm=120.0)
PROPELLER = Propeller(hub_mm=(330.0, 0.0, 150.0), diameter_mm=140.0, thrust_g=600.0, up_deg=2.0)
FITTED = Fittings(wing=WING, propeller=PROPELLER, marks=MARKS)
WEIGHED = Weighing(items=9, weighed=6, unknown=("battery",), plus_minus_g=12.0)


def _sheet(craft, openings=OPENINGS, *, limits=LIMITS, fittings=FITTED, **changes):
    """Return a craft with what a build sheet adds."""
    return dataclasses.replace(
        craft, openings=openings, limits=limits, fittings=fittings, **changes
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
    "openings": lambda: _sheet(_demo()),
    "eight openings": lambda: _sheet(
        _demo(cg_mm=(262.0, 0.5, 31.0)), MANY, weighing=WEIGHED, setup="heavy battery, hatch open"
    ),
    "openings close together": lambda: _sheet(_demo(), CLOSE, fittings=Fittings(marks=MARKS)),
    "twin openings": lambda: _sheet(_demo(), TWINS, fittings=Fittings(wing=WING)),
    "long names": lambda: _sheet(_demo(), LONG, fittings=Fittings()),
    "one unnamed opening": lambda: _sheet(_demo(), MANY[6:7], fittings=Fittings()),
    "too low": lambda: _sheet(_demo(), LOW),
    "an opening under water": lambda: _sheet(_demo(), WET),
    "all sealed": lambda: _sheet(_demo(), SEALED),
    "openings on a tip float": lambda: _sheet(_demo(cg_mm=(270.0, 3.0, 31.0))),
    "openings, listing": lambda: _sheet(
        _demo(cg_mm=(252.0, 3.0, 55.0), tip_floats=False), fittings=Fittings(propeller=PROPELLER)
    ),
    "wing tip under water": lambda: _sheet(
        _demo(cg_mm=(252.0, 3.0, 55.0), tip_floats=False), limits=Limits()
    ),
    "wing tip under water by its float": lambda: _sheet(
        _demo(cg_mm=(270.0, 3.0, 31.0)),
        fittings=Fittings(wing=Wing(tip_mm=(210.0, 450.0, 40.0), chord_mm=120.0)),
    ),
    "wing without floats": lambda: _sheet(_demo(tip_floats=False)),
    "propeller in the water": lambda: _sheet(
        _demo(),
        fittings=Fittings(propeller=Propeller(hub_mm=(640.0, 0.0, 90.0), diameter_mm=180.0)),
    ),
    "openings, sinks": lambda: _sheet(_demo(mass_g=2800.0)),
    "openings, no center of gravity": lambda: _sheet(_demo(cg_mm=None)),
    "openings, capsized": lambda: _sheet(_demo(cg_mm=(252.0, 2.0, 85.0), tip_floats=False)),
    "openings on twin floats": lambda: _sheet(_twins(), OPENINGS[1:]),
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


@pytest.fixture(scope="session")
def sheet():
    """Return the demo craft with openings, limits and fittings, and her answer."""
    craft = _sheet(_demo(), weighing=WEIGHED)
    return craft, float_answer(craft)


@pytest.fixture(scope="session")
def states():
    """Return the makers of craft by state."""
    return STATES
