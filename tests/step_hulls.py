"""Hulls with steps of every sort, drawn so that where the step lies is known; for tests."""

import dataclasses
import math

import make_bodies
import numpy as np
from crafts import body_of, box_craft, craft_of, demo_bodies
from manifold3d import CrossSection

from hullcheck.craft.fittings import Fittings, Propeller, Reference, Wing

SHAPE = {
    "length_mm": 600.0,
    "beam_mm": 100.0,
    "height_mm": 110.0,
    "step_station_mm": 270.0,
    "step_depth_mm": 10.0,
    "deadrise_deg": 15.0,
    "forebody_keel_deg": 2.0,
    "afterbody_keel_deg": 5.0,
}
CG = (255.0, 0.0, 60.0)


def side_view(points, breadth=100.0):
    """Return the body of a side view (k, 2) of x and z, counterclockwise from the upper bow.

    All of it lies in sight of its first corner.
    """
    profile = np.array(points, dtype=float)
    low = np.column_stack([profile[:, 0], np.full(len(profile), -breadth / 2), profile[:, 1]])
    high = low + np.array([0.0, breadth, 0.0])
    faces = []
    for i in range(1, len(profile) - 1):
        faces += [(low[0], low[i], low[i + 1]), (high[0], high[i + 1], high[i])]
    for i in range(len(profile)):
        faces += [(low[i - 1], high[i - 1], high[i]), (low[i - 1], high[i], low[i])]
    return np.array(faces)


def ramped(run_mm, rise_mm=10.0):
    """Return a hull of 600 mm whose keel rises 10 mm over a run at station 270."""
    stern = rise_mm + 330.0 * math.tan(math.radians(5.0))
    corner = (270.0, 0.0)
    landing = (270.0 + run_mm, rise_mm)
    return side_view([(0, 160), (0, 6), corner, landing, (600, stern), (600, 160)])


def two_stepped():
    """Return a hull of 600 mm: 8 mm at station 240, 30 mm at station 430, a tail behind."""
    return side_view(
        [(0, 160), (0, 6), (240, 0), (240, 8), (430, 20), (430, 50), (600, 70), (600, 160)]
    )


def v_stepped(*, reach_mm=30.0, depth_mm=10.0):
    """Return a hull of 600 × 100 mm, flat bottomed, whose step runs forward by reach at its side.

    The two bottoms lie level at z = 0 and z = depth; the step's edge is a straight line from the
    keel corner at station 270 to the side.
    """
    half, top, length, keel = 50.0, 100.0, 600.0, 270.0
    side = keel - reach_mm
    edge = [(side, half), (keel, 0.0), (side, -half)]
    fore = CrossSection([[(0.0, half), (0.0, -half), *edge[::-1]]]).extrude(top)
    aft = CrossSection([[(length, -half), (length, half), *edge]]).extrude(top - depth_mm)
    mesh = (fore + aft.translate((0.0, 0.0, depth_mm))).to_mesh64()
    return np.asarray(mesh.vert_properties)[:, :3][np.asarray(mesh.tri_verts)]


def stepped_craft(*, scale=1.0, cg=CG, mass_g=900.0, **more):
    """Return a craft with a step of the shape above, she and her mass scaled together."""
    shape = {
        key: value * scale if key.endswith("_mm") else value
        for key, value in (SHAPE | more.pop("shape", {})).items()
    }
    body = body_of(make_bodies.stepped_box(**shape))
    center = None if cg is None else tuple(v * scale for v in cg)
    return craft_of(body, mass_g=mass_g * scale**3, cg=center, **more)


def floats_craft(*, mass_g=1300.0, cg=(265.0, 0.0, 150.0), spacing_mm=250.0, **more):
    """Return a craft on two stepped floats of 600 × 100 mm, their tops level."""
    bodies = []
    for name, side in (("starboard float", 1.0), ("port float", -1.0)):
        triangles = make_bodies.stepped_box(**SHAPE, origin_mm=(0.0, side * 0.5 * spacing_mm, 0.0))
        bodies.append(dataclasses.replace(body_of(triangles, name=name), role="main float"))
    return craft_of(*bodies, mass_g=mass_g, cg=cg, **more)


LINES = Fittings(reference=Reference(wing_angle_deg=2.0))
RIG = Fittings(
    reference=Reference(wing_angle_deg=3.0),
    wing=Wing(tip_mm=(180.0, 700.0, 260.0), chord_mm=190.0),
    propeller=Propeller(hub_mm=(-30.0, 0.0, 290.0), diameter_mm=250.0),
)
RANGE = {"cg_range_mm": (246.0, 258.0)}


def _hull(triangles, **more):
    """Return a craft of one hull."""
    return craft_of(body_of(triangles), mass_g=900.0, **{"cg": CG, **more})


def _demo(**more):
    """Return the demo craft."""
    return craft_of(*demo_bodies(), mass_g=690.0, **{"cg": (252.0, 0.0, 31.0), **more})


STATES = {
    "demo": lambda: _demo(fittings=LINES, **RANGE),
    "demo, no lines": _demo,
    "demo, no CG": lambda: _demo(cg=None),
    "demo, high CG": lambda: _demo(cg=(256.0, 0.0, 70.0), fittings=LINES),
    "step far behind": lambda: stepped_craft(cg=(180.0, 0.0, 40.0), fittings=LINES),
    "step ahead": lambda: stepped_craft(cg=(300.0, 0.0, 60.0), fittings=LINES, **RANGE),
    "steep wing": lambda: stepped_craft(fittings=Fittings(reference=Reference(wing_angle_deg=15))),
    "tiny": lambda: stepped_craft(scale=0.2, fittings=LINES),
    "huge": lambda: stepped_craft(scale=12.0, fittings=LINES),
    "flat": lambda: stepped_craft(shape={"deadrise_deg": 0.0, "forebody_keel_deg": 0.0}),
    "sinks": lambda: stepped_craft(mass_g=1e5),
    "no step": box_craft,
    "ramp": lambda: _hull(ramped(20.0)),
    "two steps": lambda: _hull(two_stepped()),
    "V step": lambda: _hull(v_stepped()),
    "floats": lambda: floats_craft(fittings=RIG, cg_range_mm=(258.0, 270.0)),
    "floats, CG low": lambda: floats_craft(cg=(265.0, 0.0, 60.0), fittings=RIG),
    "floats, bare": floats_craft,
}
