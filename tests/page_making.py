"""A small build whose every name and note is hostile, and the report's page of it."""

import functools
from dataclasses import replace
from datetime import timedelta

import make_bodies
from crafts import body_of, opening_at
from seams_making import NOW, across, book, on, seal, seamed, soak

from hullcheck.answers.check_answer import check_answer
from hullcheck.answers.check_evidence import check_evidence
from hullcheck.craft.fittings import Bulkhead, Equipment, Fittings, Leak, Mark, Structure
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.limits import Limits
from hullcheck.craft.log_records import Note, WeighIn
from hullcheck.craft.setups import Setup
from hullcheck.report.page import page_html
from hullcheck.report.page_answers import Reported
from hullcheck.report.page_records import NamedFile

HOSTILE = '<script>alert(1)</script> & "Ünï"'
SEAM = f"joint {HOSTILE}"
OPENING = f"hatch {HOSTILE}"
ITEM = f"battery {HOSTILE}"
NOTE = "<img src=x onerror=alert(2)> ' \"]]></style></svg>{{ 7 * 7 }}"
NAMES = (HOSTILE, SEAM, OPENING, ITEM, NOTE)
LOG = book(
    (on(8), WeighIn(item=ITEM, mass_g=200.0, plus_minus_g=0.5)),
    (on(9), WeighIn(mass_g=1205.0, plus_minus_g=1.0)),
    (on(10), seal(SEAM, NOTE)),
    (on(12), soak(2.6, mass_g=1205.0, found=(SEAM,))),
    (on(12, 20), Note(text=NOTE, about=SEAM)),
    (on(13), seal(SEAM, NOTE)),
    (on(15), soak(0.0, mass_g=1205.0)),
)


def hostile_build(**changes):
    """Return a stepped box of 600 × 110 × 80 mm with everything named badly."""
    hull = make_bodies.stepped_box(
        length_mm=600.0,
        beam_mm=110.0,
        height_mm=80.0,
        step_station_mm=290.0,
        step_depth_mm=9.0,
        deadrise_deg=15.0,
        forebody_keel_deg=2.0,
        afterbody_keel_deg=6.0,
    )
    fittings = Fittings(
        seams=across(joint=200.0),
        equipment=(Equipment(item=ITEM, lowest_mm=(250.0, 0.0, 30.0)),),
        marks=(Mark(name=HOSTILE, point_mm=(100.0, 55.0, 60.0)),),
        leaks=(Leak(name=f"hole {HOSTILE}", point_mm=(280.0, 0.0, 12.0), diameter_mm=0.5),),
    )
    fittings = replace(fittings, seams=(replace(fittings.seams[0], name=SEAM),))
    items = (
        Item(name="hull", planned_g=980.0, weighed_g=1000.0, x_mm=280.0, y_mm=0.0, z_mm=35.0),
        Item(name=ITEM, planned_g=190.0, weighed_g=200.0, x_mm=250.0, y_mm=0.0, z_mm=30.0),
        Item(name=f"=1+1 {HOSTILE}", planned_g=5.0, x_mm=300.0, y_mm=0.0, z_mm=50.0),
    )
    usual = {
        "openings": (
            opening_at((300.0, 0.0, 80.0), name=OPENING, state="taped", kind="hatch"),
            opening_at((500.0, 40.0, 70.0), name="vent", state="open", kind="vent"),
        ),
        "limits": Limits(
            freeboard_mm=15.0,
            trim_deg=(-4.0, 6.0),
            heel_deg=3.0,
            time_on_water_min=15.0,
            leak_g_per_30min=1.0,
        ),
        "structures": {
            "hull": Structure(permeability=1.0, bulkheads=(Bulkhead(station_mm=350.0),))
        },
        "setups": (Setup(name=f"wet {HOSTILE}", wet_g=20.0),),
    }
    build = seamed((body_of(hull),), (), ledger=Ledger(items=items), **(usual | changes))
    return replace(build, name=HOSTILE, fittings=fittings)


def told(build, logbook=LOG, now=NOW, **more):
    """Return all that the page of a build tells of."""
    evidence = check_evidence(build, logbook, now, **more)
    return Reported(
        evidence=evidence,
        check=check_answer(evidence),
        notes=build.notes,
        files=(NamedFile(name=f"{HOSTILE}.stl", what="mesh", sha256="0" * 64, size_bytes=84),),
        versions=(("hullcheck", "0"),),
    )


@functools.cache
def hostile_told():
    """Return all that the page of the hostile build tells of."""
    return told(hostile_build())


@functools.cache
def hostile_page():
    """Return the page of the hostile build."""
    return page_html(hostile_told())


CURES = book((on(15, 10), seal(SEAM)))
"""The joint is cured 24 h later: on day 16 at 10:00, an hour after NOW."""


def with_log(logbook, now=NOW):
    """Return what the page tells of the hostile build with another logbook, the list left as is."""
    return replace(hostile_told(), evidence=check_evidence(hostile_build(), logbook, now))


def curing(hours):
    """Return the same so many hours after NOW, the joint curing until one is over."""
    return with_log(CURES, NOW + timedelta(hours=hours))
