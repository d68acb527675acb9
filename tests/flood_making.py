"""Boxes to be flooded: builds with bulkheads, equipment and logs of tests, small and in g/cm³ 1."""

from datetime import UTC, datetime, timedelta

import make_bodies
import numpy as np
from crafts import WATER, body_of, box_body, opening_at

from hullcheck.answers.flood_answer import flood_answer
from hullcheck.answers.flood_asked import Asked
from hullcheck.answers.flood_states import Flooder
from hullcheck.answers.time_afloat_leaks import Breach
from hullcheck.craft.build import Build
from hullcheck.craft.compartment import Compartment
from hullcheck.craft.fittings import Bulkhead, Equipment, Fittings, Leak, Seam, Structure
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.limits import Limits
from hullcheck.craft.log_records import Entry, LeakTest, LeakTestSetup
from hullcheck.craft.logbook import Logbook
from hullcheck.flotation.leak_laws import Crack, Hole
from hullcheck.geometry.topology import merged

NOON = datetime(2026, 5, 12, 12, 0, tzinfo=UTC)
LIMITS = Limits(freeboard_mm=15.0, trim_deg=(-2.0, 4.0), heel_deg=3.0, time_on_water_min=15.0)
BULKHEADS = (Bulkhead(station_mm=150.0), Bulkhead(station_mm=450.0))
LEAK = Leak(name="pinhole", point_mm=(300.0, 0.0, 0.0), diameter_mm=1.0)
EQUIPMENT = (
    Equipment(item="battery", lowest_mm=(200.0, 0.0, 6.0)),
    Equipment(item="receiver", lowest_mm=(400.0, 0.0, 30.0)),
)
SEAMS = (
    Seam(name="bow joint", body="hull", station_mm=100.0),
    Seam(name="middle joint", body="hull", station_mm=300.0),
)


def box(length_mm, beam_mm, height_mm, origin_mm=(0.0, 0.0, 0.0)):
    """Return a box, shape (12, 3, 3) [mm]; its center plane is y = 0."""
    return np.asarray(
        make_bodies.box(
            length_mm=length_mm, beam_mm=beam_mm, height_mm=height_mm, origin_mm=origin_mm
        )
    )


def box_build(**more):
    """Return a box of 600 × 100 × 80 mm, 1200 g, in three rooms of 150, 300 and 150 mm."""
    structure = more.pop("structure", Structure(bulkheads=BULKHEADS))
    given = {
        "name": "box",
        "bodies": (box_body(),),
        "water": WATER,
        "mass_g": 1200.0,
        "center_of_gravity_mm": (300.0, 0.0, 30.0),
        "cg_range_mm": (280.0, 310.0),
        "openings": (opening_at((300.0, 0.0, 70.0)),),
        "limits": LIMITS,
        "fittings": Fittings(equipment=EQUIPMENT, seams=SEAMS),
        "structures": {"hull": structure},
    }
    return Build(**{**given, **more})


def answered(build, logbook=None, **asked):
    """Return the answer of a build, with what is asked."""
    return flood_answer(build, logbook, asked=Asked(**asked))


def answered_briefly(build, logbook=None, **asked):
    """Return the answer of a build with one case of water alone, which takes less time."""
    return answered(build, logbook, **{"grams": (1199.0,), **asked})


def room_of(triangles, *, name="hull", body="hull"):
    """Return a closed surface as a compartment that water may fill altogether."""
    corners = triangles.reshape(-1, 3)
    volume = float(np.prod(np.ptp(corners, axis=0)))
    return Compartment(
        name=name,
        body=body,
        number=1,
        mesh=merged(triangles),
        volume_mm3=volume,
        permeability=1.0,
        first_station_mm=float(corners[:, 0].min()),
        last_station_mm=float(corners[:, 0].max()),
        method="whole skin",
    )


def flooder_of(craft, room, points=()):
    """Return a craft with one room, ready to be flooded."""
    return Flooder.of(craft, (room,), tuple(points))


def hole(diameter_mm, point_mm=(100.0, 0.0, 0.0)):
    """Return a hole as a breach."""
    flow = Hole(diameter_mm=diameter_mm)
    return Breach(name="hole", what="", lines_mm=(np.array([point_mm]),), flow=flow)


def crack(width_mm, point_mm=(100.0, 0.0, 0.0), *, length_mm=100.0, wall_mm=1.0):
    """Return a crack as a breach."""
    flow = Crack(width_mm=width_mm, length_mm=length_mm, wall_mm=wall_mm)
    return Breach(name="crack", what="", lines_mm=(np.array([point_mm]),), flow=flow)


def logbook_of(*gains_g, minutes=30.0, mass_g=1200.0, found=(), **more):
    """Return a logbook of tests, a day apart."""
    entries = []
    for number, gain in enumerate(gains_g, start=1):
        setup = LeakTestSetup(mass_g=mass_g, before_g=mass_g, **{"plus_minus_g": 0.1, **more})
        test = LeakTest(setup=setup, minutes=minutes, after_g=mass_g + gain, found=found)
        at = NOON + timedelta(days=number)
        entries.append(Entry(number=number, at=at, written=at, record=test))
    return Logbook(entries=tuple(entries))


def block_build(*, mass_g, wall_g, density_g_cm3, wall_mm=None, items=(), **more):
    """Return a box of 200 × 100 × 80 mm whose wall weighs so much, with other items."""
    every = (Item(name="hull", weighed_g=wall_g, x_mm=100.0, z_mm=30.0), *items)
    given = {
        "name": "block",
        "bodies": (body_of(box(200.0, 100.0, 80.0)),),
        "water": WATER,
        "ledger": Ledger(items=every),
        "mass_g": mass_g,
        "center_of_gravity_mm": (100.0, 0.0, 20.0),
        "structures": {"hull": Structure(density_g_cm3=density_g_cm3, wall_mm=wall_mm)},
    }
    return Build(**{**given, **more})
