"""Builds to mark waterlines on: boxes, a wedge, a cylinder, the demo craft, names that bite."""

import functools

import make_bodies
import manifold3d
import numpy as np
from crafts import WATER, body_of, box_body, demo_bodies
from pdf_vectors import lines_of, pages_of

from hullcheck.answers.marking_answer import marking
from hullcheck.craft.build import Build
from hullcheck.craft.fittings import Bulkhead, Fittings, Mark, Seam, Structure
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.report.marking_sheets import marking_sheets

HOSTILE = '<script>alert(1)</script> & "Ünï"'
FORMULA = '=HYPERLINK("http://example.invalid","x")'


def build_of(*bodies, mass_g=1200.0, cg=(300.0, 0.0, 30.0), name="box", **more):
    """Return a build of bodies in water of 1 g/cm³ with a mass [g] and a center [mm]."""
    return Build(
        name=name,
        bodies=bodies or (box_body(),),
        water=WATER,
        mass_g=mass_g,
        center_of_gravity_mm=cg,
        **more,
    )


def wedge_build(mass_g=184.32):
    """Return a wedge 240 × 96 × 64 mm, apex down; 184.32 g float it at half its depth."""
    shape = make_bodies.prism(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    return build_of(body_of(shape), mass_g=mass_g, cg=(120.0, 0.0, 20.0), name="wedge")


def cylinder_build(facets=384):
    """Return a lying cylinder, 80 mm across and 240 mm long, half of its polyhedron under water."""
    shape = make_bodies.cylinder(diameter_mm=80.0, length_mm=240.0, facets=facets)
    body = body_of(shape)
    half_g = 0.5e-3 * body.shell.volume_mm3
    return build_of(body, mass_g=half_g, cg=(120.0, 0.0, -5.0), name="cylinder")


def demo_build(*, cg=(252.0, 0.0, 31.0), name="Tarnwing 90", **more):
    """Return the demo craft with seams, marks and bulkheads."""
    fittings = Fittings(
        seams=(
            Seam(name="nose joint", body="hull", station_mm=120.0),
            Seam(name="step joint", body="hull", station_mm=258.0),
        ),
        marks=(
            Mark(name="bow", point_mm=(40.0, 23.0, 60.0)),
            Mark(name="stern", point_mm=(476.0, 27.0, 62.0)),
        ),
    )
    walls = (Bulkhead(station_mm=120.0), Bulkhead(station_mm=310.0))
    given = {
        "mass_g": 690.0,
        "fittings": fittings,
        "structures": {"hull": Structure(wall_mm=1.0, bulkheads=walls)},
    }
    return build_of(*demo_bodies(), cg=cg, name=name, **(given | more))


def hostile_build():
    """Return a box whose craft, body, seam and mark have names that a page or a table would run."""
    fittings = Fittings(
        seams=(Seam(name=HOSTILE, body=FORMULA, station_mm=200.0),),
        marks=(Mark(name="$x_1$ " + HOSTILE, point_mm=(420.0, 50.0, 70.0)),),
    )
    return build_of(box_body(name=FORMULA), name=HOSTILE, fittings=fittings)


def well_build():
    """Return a box that lists, with a well from deck to bottom: a square of 30 mm on its corner."""
    whole = manifold3d.Manifold.cube([600.0, 100.0, 80.0]).translate([0.0, -50.0, 0.0])
    well = manifold3d.Manifold.cylinder(200.0, 15.0, 15.0, 4).translate([300.0, 0.0, -50.0])
    mesh = (whole - well).to_mesh64()
    triangles = np.asarray(mesh.vert_properties)[:, :3][np.asarray(mesh.tri_verts)]
    return build_of(body_of(triangles), cg=(300.0, 2.0, 30.0), name="well")


def ledger_build(**more):
    """Return a box by its ledger, 800 g aboard amidships and a battery of 400 g not yet."""
    items = (
        Item(name="hull", weighed_g=800.0, x_mm=300.0, z_mm=30.0),
        Item(name="battery", planned_g=400.0, x_mm=300.0, y_mm=more.pop("y", 0.0), z_mm=50.0,
             aboard=False),
    )  # fmt: skip
    return Build(name="box", bodies=(box_body(),), water=WATER, ledger=Ledger(items=items), **more)


STATES = {
    "box": build_of,
    "demo": demo_build,
    "listing": lambda: demo_build(cg=(252.0, 2.0, 31.0)),
    "wedge": wedge_build,
    "twins": lambda: build_of(
        box_body(beam_mm=60.0, origin_mm=(0.0, -100.0, 0.0), name="port float", role="main float"),
        box_body(beam_mm=60.0, origin_mm=(0.0, 100.0, 0.0), name="starboard float",
                 role="main float"),
        mass_g=1800.0,
    ),
    "large": lambda: build_of(
        box_body(300.0, 260.0, 300.0), mass_g=7800.0, cg=(150.0, 0.0, 60.0)
    ),
    "deep": lambda: build_of(
        box_body(600.0, 100.0, 600.0), mass_g=18000.0, cg=(300.0, 0.0, 60.0)
    ),
    "odd names": hostile_build,
}  # fmt: skip


ROWS_MM = {"large": 150.0, "deep": 300.0, "listing": 250.0, "twins": 300.0}
"""How far apart stations are where not 100 mm."""


@functools.cache
def marked(state):
    """Return a state's marking."""
    return marking(STATES[state](), every_mm=ROWS_MM.get(state, 100.0))


@functools.cache
def sheets_of(state, paper="a4"):
    """Return a state's sheets on a paper."""
    return marking_sheets(marked(state), paper)


@functools.cache
def pdf_of(state, paper="a4"):
    """Return the bytes of a state's sheets."""
    return sheets_of(state, paper).pdf()


@functools.cache
def read(state, paper="a4"):
    """Return the pages of a state's PDF and the lines of each, read back."""
    pages = pages_of(pdf_of(state, paper))
    return pages, [lines_of(page) for page in pages]
