"""A craft on which every point of the check list passes, and what turns each of them."""

import copy
import functools
from dataclasses import replace
from datetime import datetime, timedelta, timezone

import make_bodies
from crafts import WATER, body_of, opening_at

from hullcheck.answers.check_answer import check_answer
from hullcheck.answers.check_evidence import CheckEvidence, check_evidence
from hullcheck.craft.build import Build
from hullcheck.craft.fittings import Equipment, Fittings, Propeller, Seam, Structure
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.limits import Limits
from hullcheck.craft.log_records import Entry, LeakTest, LeakTestSetup, Sealing
from hullcheck.craft.logbook import Logbook

ZONE = timezone(timedelta(hours=2))
NOW = datetime(2026, 5, 20, 9, 0, tzinfo=ZONE)
HULL = body_of(
    make_bodies.stepped_box(
        length_mm=600.0,
        beam_mm=120.0,
        height_mm=90.0,
        step_station_mm=310.0,
        step_depth_mm=10.0,
        deadrise_deg=10.0,
    )
)
LIMITS = Limits(
    freeboard_mm=15.0,
    trim_deg=(-2.0, 4.0),
    heel_deg=3.0,
    time_on_water_min=15.0,
    leak_g_per_30min=1.0,
)
ITEMS = (
    Item(name="hull", weighed_g=900.0, x_mm=292.0, z_mm=35.0, plus_minus_g=0.5),
    Item(name="battery", weighed_g=200.0, x_mm=292.0, z_mm=30.0, plus_minus_g=0.5),
    Item(name="receiver", weighed_g=100.0, x_mm=292.0, z_mm=70.0, plus_minus_g=0.5),
)
OPENINGS = (
    opening_at((250.0, 0.0, 90.0), name="canopy edge", state="taped", kind="canopy"),
    opening_at((480.0, 20.0, 90.0), name="vent", state="open", kind="vent"),
)
SEAMS = (Seam(name="joint", body="hull", station_mm=200.0),)
PROPELLER = Propeller(hub_mm=(350.0, 0.0, 180.0), diameter_mm=120.0, thrust_g=50.0)
EQUIPMENT = (Equipment(item="receiver", lowest_mm=(250.0, 0.0, 60.0)),)
FITTINGS = Fittings(seams=SEAMS, propeller=PROPELLER, equipment=EQUIPMENT)
STRUCTURE = Structure(wall_mm=1.0, foam_cm3=1300.0, foam_mm=(300.0, 0.0, 60.0))


def on(day, hour=18):
    """Return an hour of a day in May."""
    return datetime(2026, 5, day, hour, 0, tzinfo=ZONE)


def seal(seam, *, cure_h=24.0):
    """Return a sealing."""
    return Sealing(seam=seam, material="long-set epoxy", cure_h=cure_h)


def soak(gain_g=0.0, *, mass_g=1200.0, minutes=30.0, found=(), scale_g=0.1, **setup):
    """Return a leak test."""
    return LeakTest(
        setup=LeakTestSetup(mass_g=mass_g, before_g=mass_g, plus_minus_g=scale_g, **setup),
        minutes=minutes,
        after_g=mass_g + gain_g,
        found=found,
    )


def book(*pairs):
    """Return a logbook of times and records."""
    entries = [
        Entry(number=i, at=at, written=at, record=record)
        for i, (at, record) in enumerate(pairs, start=1)
    ]
    return Logbook(entries=tuple(entries))


RECORDS = (
    (on(10), seal("joint")),
    (on(10), seal("canopy edge")),
    (on(14), soak()),
    (on(15), soak(running=True, minutes=20.0)),
)
LOGBOOK = book(*RECORDS)


def made(**more):
    """Return the build on which every point passes, with something else in it."""
    given = {
        "name": "Box 60",
        "bodies": (HULL,),
        "water": WATER,
        "ledger": Ledger(items=ITEMS),
        "cg_range_mm": (286.0, 298.0),
        "openings": OPENINGS,
        "limits": LIMITS,
        "fittings": FITTINGS,
        "structures": {"hull": STRUCTURE},
    }
    return Build(**{**given, **more})


@functools.cache
def base_evidence() -> CheckEvidence:
    """Return the evidence on which every point passes, all of it worked out."""
    evidence = check_evidence(made(), LOGBOOK, NOW)
    check_answer(evidence)
    return evidence


def with_parts(**parts):
    """Return that evidence with other answers in the place of those that were worked out."""
    other = copy.copy(base_evidence())
    other.__dict__.update(parts)
    return other


def relogged(*pairs):
    """Return that evidence with another logbook; what it says of seams stays as it was."""
    return with_parts(logbook=book(*pairs))


def rebuilt(*, keep=("righting", "flood", "seams"), **more):
    """Return the evidence of the build with something else in it, floated anew.

    What a case is not about is kept as it was, as heeling and flooding her take a second.
    """
    evidence = check_evidence(made(**more), LOGBOOK, NOW)
    base = base_evidence()
    evidence.__dict__.update({name: getattr(base, name) for name in keep})
    return evidence


def limited(**limits):
    """Return the evidence with other limits, None for one that is taken away."""
    return rebuilt(limits=replace(LIMITS, **limits))


def fitted(**fittings):
    """Return the evidence with other fittings."""
    return rebuilt(fittings=replace(FITTINGS, **fittings))


def floating(**changes):
    """Return that evidence with something else in how she floats as she is."""
    one = replace(base_evidence().floating, **changes)
    return with_parts(floating=one, setups=replace(base_evidence().setups, setups=(one,)))


def heeled(**changes):
    """Return that evidence with something else in what rights her."""
    return with_parts(righting=replace(base_evidence().righting, **changes))


def flooded(**changes):
    """Return that evidence with something else in what water inside her does."""
    return with_parts(flood=replace(base_evidence().flood, **changes))


def seamed(**changes):
    """Return that evidence with something else in its joint, which lies under water."""
    seams = base_evidence().seams
    joint = next(seam for seam in seams.seams if seam.name == "joint")
    others = tuple(seam for seam in seams.seams if seam is not joint)
    return with_parts(seams=replace(seams, seams=(replace(joint, **changes), *others)))


def ledger_of(*changed):
    """Return the ledger with some items changed, by their names."""
    new = {item.name: item for item in changed}
    return Ledger(items=tuple(new.pop(one.name, one) for one in ITEMS) + tuple(new.values()))
