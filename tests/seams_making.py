"""Builds with seams and made-up logbooks, in every state that text and drawing must show."""

import functools
from datetime import datetime, timedelta, timezone

import make_bodies
import numpy as np
from crafts import WATER, body_of, box_body, demo_bodies, opening_at

from hullcheck.answers.seams_answer import seams_answer
from hullcheck.craft.build import Build
from hullcheck.craft.fittings import Bulkhead, Fittings, Seam, Structure
from hullcheck.craft.limits import Limits
from hullcheck.craft.log_records import Entry, LeakTest, LeakTestSetup, Reopening, Sealing
from hullcheck.craft.logbook import Logbook

ZONE = timezone(timedelta(hours=2))
NOW = datetime(2026, 5, 16, 9, 0, tzinfo=ZONE)
STATIONS = {"nose joint": 120.0, "step joint": 258.0, "aft joint": 380.0, "stern joint": 500.0}
LONG = "lower starboard reinforcement joint between the former and the battery tray"


def across(**stations):
    """Return seams across the hull by name and station [mm]."""
    return tuple(
        Seam(name=name.replace("_", " "), body="hull", station_mm=x) for name, x in stations.items()
    )


def along(name, *points_mm):
    """Return a seam along points [mm]."""
    return Seam(name=name, body="hull", points_mm=np.array(points_mm, dtype=float))


def seamed(bodies, seams, openings=(), **more):
    """Return a build of bodies with seams and openings, in water of 1 g/cm³."""
    usual = {"limits": Limits(leak_g_per_30min=1.0, time_on_water_min=15.0)}
    return Build(
        name="Tarnwing 90",
        bodies=tuple(bodies),
        water=WATER,
        fittings=Fittings(seams=tuple(seams)),
        openings=tuple(openings),
        **(usual | more),
    )


def box_build(seams=(), *, mass_g=1200.0, center_mm=(300.0, 0.0, 20.0), openings=(), **more):
    """Return a box of 600 × 100 × 80 mm with seams; 600 g sink it a centimeter."""
    return seamed(
        (box_body(),), seams, openings, mass_g=mass_g, center_of_gravity_mm=center_mm, **more
    )


def demo_build(seams=None, openings=None, **more):
    """Return the demo craft's bodies with the demo's seams and openings, or others."""
    if seams is None:
        seams = [Seam(name=n, body="hull", station_mm=x) for n, x in STATIONS.items()]
    if openings is None:
        openings = (
            opening_at((136, 23, 87), (236, 23, 90), (236, -23, 90), (136, -23, 87),
                       name="canopy edge", state="taped", kind="canopy"),
            opening_at((471.0, 28.0, 66.0), name="pushrod exit", kind="pushrod"),
            opening_at((410.0, -26.0, 78.0), name="", state=None),
            opening_at((260.0, 10.0, 95.0), name="wing seat", state="sealed", kind="wing seat"),
        )  # fmt: skip
    usual = {"mass_g": 701.0, "center_of_gravity_mm": (255.0, 0.0, 60.0)}
    return seamed(demo_bodies(), seams, openings, **(usual | more))


def on(day, hour=18):
    """Return an hour of a day in May."""
    return datetime(2026, 5, day, hour, 0, tzinfo=ZONE)


def book(*pairs):
    """Return a logbook of times and records."""
    entries = [
        Entry(number=i, at=at, written=at, record=record)
        for i, (at, record) in enumerate(pairs, start=1)
    ]
    return Logbook(entries=tuple(entries))


def seal(seam, material="thin CA", cure_h=24.0):
    """Return a sealing."""
    return Sealing(seam=seam, material=material, cure_h=cure_h)


def soak(gain_g=0.0, *, mass_g=702.0, minutes=30.0, found=(), scale_g=0.1, **setup):
    """Return a leak test; what is left over is of its set-up."""
    return LeakTest(
        setup=LeakTestSetup(mass_g=mass_g, before_g=mass_g, plus_minus_g=scale_g, **setup),
        minutes=minutes,
        after_g=mass_g + gain_g,
        found=found,
    )


EMPTY = Logbook()
ONE_LEAKS = book(
    *((on(10), seal(name)) for name in STATIONS),
    (on(12), soak(2.1, found=("step joint",))),
)
REPAIRED = book(
    *((on(10), seal(name)) for name in STATIONS),
    (on(12), soak(2.6, found=("step joint",))),
    (on(13), seal("step joint", "long-set epoxy")),
    (on(15, 10), soak()),
    (on(15, 12), soak(minutes=20.0, running=True)),
)
STILL = book(*((on(10), seal(name)) for name in STATIONS), (on(12), soak()))
EVERY = book(
    (on(5), seal("nose joint")),
    (on(5), seal("former joint")),
    (on(5), seal("step joint")),
    (on(5), seal("mid joint")),
    (on(7), soak()),
    (on(8), soak(2.4, found=("step joint", "former joint"))),
    (on(9), seal("former joint", "long-set epoxy")),
    (on(10), Reopening(seam="mid joint", why="cracked")),
    (on(15), seal("aft joint", "epoxy", 72.0)),
    (on(15), seal("stern joint", "UV resin", None)),
)
SEVEN = (
    *across(nose_joint=70.0, former_joint=140.0, step_joint=258.0),
    *across(mid_joint=310.0, aft_joint=380.0, stern_joint=450.0),
    along("port chine, aft", (300, -45, 25), (380, -38, 30), (440, -30, 35)),
)


def _every_state():
    """Return a build with a seam in each state, and openings by the sheet alone."""
    openings = (
        opening_at((186.0, 23.0, 90.0), name="canopy edge", state="taped", kind="canopy"),
        opening_at((330.0, 0.0, 93.0), name="motor pylon", state="sealed", kind="motor"),
        opening_at((471.0, 28.0, 66.0), name="pushrod exit", kind="pushrod"),
    )
    return demo_build(SEVEN, openings)


def _many():
    """Return a build with 12 seams and 15 openings."""
    seams = [Seam(name=f"joint {i}", body="hull", station_mm=60.0 + 40.0 * i) for i in range(1, 11)]
    seams += [SEVEN[-1], along("keel", (150, 0, 6), (200, 0, 3), (250, 0, 1))]
    kinds = ("canopy", "hatch", "wing seat", "pushrod", "screw", "motor", "vent", "drain", "other")
    states = (None, "open", "taped", "sealed")
    openings = [
        opening_at(
            (60.0 + 33.0 * i, 20.0 * (-1) ** i, 60.0 + 6.0 * (i % 5)),
            name=f"opening {i}",
            kind=kinds[i % len(kinds)],
            state=states[i % len(states)],
        )
        for i in range(14)
    ]
    drain = opening_at((255.0, 0.0, 1.0), name="drain plug", kind="drain", state="sealed")
    return demo_build(seams, (*openings, drain))


def _twins():
    """Return a craft on two main floats with a seam each."""
    floats = [
        body_of(
            make_bodies.box(length_mm=500.0, beam_mm=50.0, height_mm=50.0,
                            origin_mm=(0.0, y, 0.0)),
            name=name, role="main float",
        )
        for name, y in (("starboard float", 110.0), ("port float", -110.0))
    ]  # fmt: skip
    seams = [
        Seam(name=f"{side} joint", body=f"{side} float", station_mm=200.0)
        for side in ("starboard", "port")
    ]
    return seamed(floats, seams, mass_g=900.0, center_of_gravity_mm=(250.0, 0.0, 90.0))


def _odd_names():
    """Return a build with names that are long, of no glyphs, or formulas."""
    seams = (
        *across(nose_joint=120.0),
        Seam(name=LONG, body="hull", station_mm=258.0),
        Seam(name="=2+3 通気 $x$", body="hull", station_mm=380.0),
    )
    openings = (opening_at((471.0, 28.0, 66.0), name="Servoleitungsdurchführungsabdeckung"),)
    return demo_build(seams, openings)


ODD = book((on(10), seal(LONG, "@cyano acrylate of a very long trade name")))
STATES = {
    "empty log": lambda: (demo_build(), EMPTY),
    "one leaks": lambda: (demo_build(), ONE_LEAKS),
    "repaired": lambda: (demo_build(), REPAIRED),
    "every state": lambda: (_every_state(), EVERY),
    "many": lambda: (_many(), book((on(9), seal("joint 5")), (on(12), soak(1.4)))),
    "twin floats": lambda: (_twins(), EMPTY),
    "odd names": lambda: (_odd_names(), ODD),
    "sinks": lambda: (demo_build(mass_g=2800.0), ONE_LEAKS),
    "no center": lambda: (demo_build(center_of_gravity_mm=None), ONE_LEAKS),
    "listing": lambda: (demo_build(center_of_gravity_mm=(255.0, 3.0, 60.0)), STILL),
    "nothing known": lambda: (box_build(), EMPTY),
}
"""A build and its logbook by state."""


@functools.cache
def answered(state):
    """Return the build of a state and its answer."""
    build, logbook = STATES[state]()
    return build, seams_answer(build, logbook, NOW)


def bulkheaded_box():
    """Return the box with a watertight bulkhead at station 200, its walls of no thickness."""
    structure = Structure(permeability=1.0, bulkheads=(Bulkhead(station_mm=200.0),))
    return box_build(across(joint=250.0), structures={"hull": structure})
