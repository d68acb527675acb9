"""Crafts to be floated in tests: bodies of triangles, and random ones with openings."""

import functools
import importlib

import make_bodies
import numpy as np
from hypothesis import strategies as st
from strategies import bumpy_bodies, stepped_hulls, uniform

from hullcheck.answers.freeboard import Deck
from hullcheck.answers.grams_left import margin_of
from hullcheck.craft.bodies import Body
from hullcheck.craft.craft import Craft
from hullcheck.craft.openings import Opening
from hullcheck.flotation.floating import float_at
from hullcheck.geometry.sections import Cuts
from hullcheck.geometry.shells import outer_shells
from hullcheck.geometry.step import find_step
from hullcheck.water import water_of_density

WATER = water_of_density(1000.0)
"""1 g/cm³, so that grams and cubic centimeters are one number."""


def body_of(triangles, *, name="hull", role="hull"):
    """Return a body of a closed surface (n, 3, 3) [mm]."""
    return Body(name=name, role=role, shell=outer_shells(name, np.asarray(triangles)).shells[0])


def craft_of(*bodies, mass_g, cg=None, **more):
    """Return a craft of bodies in water of 1 g/cm³ unless other water is given."""
    return Craft(
        name="test",
        bodies=bodies,
        mass_g=mass_g,
        center_of_gravity_mm=cg,
        **{"water": WATER, **more},
    )


def box_body(length_mm=600.0, beam_mm=100.0, height_mm=80.0, **more):
    """Return a box as a hull; 600 × 100 × 80 mm, which carries 4800 g, unless said otherwise."""
    sizes = {"length_mm": length_mm, "beam_mm": beam_mm, "height_mm": height_mm}
    origin = more.pop("origin_mm", (0.0, 0.0, 0.0))
    return body_of(make_bodies.box(**sizes, origin_mm=origin), **more)


def box_craft(*, mass_g=1200.0, cg=(300.0, 0.0, 30.0), **more):
    """Return that box as a craft: 600 g of it to the centimeter, upright at 20 mm of draft."""
    return craft_of(box_body(), mass_g=mass_g, cg=cg, **more)


def opening_at(*points_mm, name="hatch", state="open", **more):
    """Return an opening through points [mm]."""
    return Opening(name=name, points_mm=np.array(points_mm, dtype=float), state=state, **more)


def floated(craft):
    """Return where a craft rests."""
    return float_at(
        craft.skin,
        mass_g=craft.mass_g,
        center_of_gravity_mm=craft.center_of_gravity_mm,
        density_kg_m3=craft.water.density_kg_m3,
    ).floating


def deck_of(craft):
    """Return what freeboard is read off where there is no opening."""
    cuts = {body.name: Cuts(body.shell.triangles_mm) for body in craft.bodies}
    steps = {b.name: find_step(b.shell.triangles_mm, cuts=cuts[b.name]) for b in craft.bodies}
    return Deck.of(craft, steps, cuts[craft.deck_body.name])


def margin(craft):
    """Return the grams left of a craft, with its limit and place."""
    return margin_of(craft, deck_of(craft), floated(craft))


@st.composite
def hulls(draw):
    """Draw the bodies of a craft: a box, a stepped hull, an irregular body or the demo craft."""
    kind = draw(st.sampled_from(["box", "stepped", "irregular", "demo"]))
    if kind == "box":
        sizes = draw(uniform(200, 800)), draw(uniform(60, 200)), draw(uniform(40, 120))
        return (box_body(*sizes),)
    if kind == "stepped":
        return (body_of(make_bodies.stepped_box(**draw(stepped_hulls()))),)
    if kind == "irregular":
        return (body_of(draw(bumpy_bodies())),)
    return demo_bodies()


@functools.cache
def demo_bodies():
    """Return the hull and both tip floats of the demo craft."""
    demo = importlib.import_module("make_tarnwing")
    return (
        body_of(demo.hull_triangles()),
        body_of(demo.starboard_float_triangles(), name="starboard float", role="tip float"),
        body_of(demo.port_float_triangles(), name="port float", role="tip float"),
    )


@st.composite
def loaded_crafts(draw, limits):
    """Draw a craft with two openings and limits, her CG low and near the middle of her hull.

    She weighs 5 to 60 % of what she can carry; openings lie in the upper part of the hull's box.
    """
    bodies = draw(hulls())
    low, high = bodies[0].shell.low_mm, bodies[0].shell.high_mm

    def place(*bands):
        """Draw a place by its shares of the hull's box."""
        shares = [draw(uniform(*band)) for band in bands]
        return tuple((low + np.array(shares) * (high - low)).tolist())

    return craft_of(
        *bodies,
        mass_g=1e-3 * draw(uniform(0.05, 0.6)) * sum(b.shell.volume_mm3 for b in bodies),
        cg=place((0.42, 0.58), (0.48, 0.52), (0.1, 0.45)),
        openings=tuple(
            opening_at(place((0.1, 0.9), (0.2, 0.8), (0.7, 1.0)), name=name)
            for name in ("canopy", "hatch")
        ),
        limits=draw(limits),
    )
