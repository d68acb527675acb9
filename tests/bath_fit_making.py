"""Crafts with marks, and the readings that a known load makes at them."""

from dataclasses import replace

import make_bodies
import numpy as np
from crafts import body_of, box_body, craft_of, demo_bodies

from hullcheck.answers.bath_fit_records import Expected, Reading
from hullcheck.answers.bath_readings import Reader
from hullcheck.craft.fittings import Fittings, Mark
from hullcheck.flotation.floating import float_at

LENGTH, BEAM, HEIGHT = 600.0, 100.0, 80.0
"""Of the box [mm]."""


def mark(name, x, y, z, along="plumb"):
    """Return a mark at a place [mm]."""
    return Mark(name=name, point_mm=(float(x), float(y), float(z)), along=along)


def marked(craft, *marks):
    """Return a craft with marks and no other fittings."""
    return replace(craft, fittings=Fittings(marks=marks))


def box(*marks):
    """Return the 600 × 100 × 80 mm box; without marks, four pairs on its upper edges, plumb."""
    chosen = marks or tuple(
        mark(name, x, BEAM / 2, 70) for name, x in zip("abcd", (50, 200, 400, 550), strict=True)
    )
    return marked(craft_of(box_body(), mass_g=1200.0, cg=(300.0, 0.0, 30.0)), *chosen)


def v_hull():
    """Return a wedge, apex down, 500 × 160 × 100 mm, with three pairs of marks along its sides."""
    wedge = body_of(make_bodies.prism(length_mm=500.0, beam_mm=160.0, height_mm=100.0))
    marks = [mark(n, x, 72, 90, "skin") for n, x in (("bow", 50), ("middle", 200), ("stern", 440))]
    return marked(craft_of(wedge, mass_g=1500.0, cg=(250.0, 0.0, 50.0)), *marks)


def demo():
    """Return the demo craft, hull and tip floats, with its marks along the skin and one plumb."""
    return marked(
        craft_of(*demo_bodies(), mass_g=690.0, cg=(252.0, 0.0, 45.0)),
        mark("bow", 40, 23, 60, "skin"),
        mark("stern", 476, 27, 62, "skin"),
        mark("step", 262, 53, 50, "skin"),
        mark("deck", 330, 20, 95),
    )


def floated(craft, mass_g, center_mm):
    """Return where a load rests on a craft."""
    return float_at(
        craft.skin,
        mass_g=mass_g,
        center_of_gravity_mm=center_mm,
        density_kg_m3=craft.water.density_kg_m3,
    ).floating


def readings_on(craft, normal, height_mm):
    """Return the readings at every mark of a craft for a water plane."""
    reader = Reader(craft)
    return tuple(
        Reading(mark=m.mark, side=m.side, distance_mm=reader.reading(m, normal, height_mm))
        for m in reader.marks
    )


def readings_of(craft, mass_g, center_mm):
    """Return the readings at every mark of a craft with a load [g, mm]."""
    rest = floated(craft, mass_g, center_mm)
    return readings_on(craft, rest.normal, rest.height_mm)


def off_by(readings, *amounts_mm):
    """Return readings, each off by an amount [mm]."""
    return tuple(
        replace(reading, distance_mm=reading.distance_mm + amount)
        for reading, amount in zip(readings, amounts_mm, strict=True)
    )


def misread(readings, number, by_mm):
    """Return readings with one of them off."""
    return off_by(readings, *(by_mm * np.eye(len(readings))[number]))


def expecting(mass_g, center_mm, **more):
    """Return an expected load that is known exactly unless said otherwise."""
    return Expected(mass_g=mass_g, center_of_gravity_mm=center_mm, **more)
