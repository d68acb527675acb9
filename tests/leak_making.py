"""Logbooks of leak tests made up for tests: a box with seams that leak as strongly as is wanted."""

from datetime import UTC, datetime, timedelta

import numpy as np
from crafts import box_craft, opening_at

from hullcheck.answers.soak_floating import floating_in_soak
from hullcheck.craft.fittings import Fittings, Seam
from hullcheck.craft.log_records import Entry, LeakTest, LeakTestSetup
from hullcheck.craft.logbook import Logbook
from hullcheck.craft.seam_lines import seam_lines
from hullcheck.water import fresh_water

BEGIN = datetime(2026, 5, 12, 10, 0, tzinfo=UTC)
STATIONS = {"nose joint": 60.0, "step joint": 290.0, "stern joint": 540.0}


def seamed_box(stations=STATIONS, **more):
    """Return the 600 × 100 × 80 mm box of 1200 g with seams across it, in fresh water at 15 °C."""
    seams = tuple(Seam(name=n, body="hull", station_mm=x) for n, x in stations.items())
    extra = more.pop("seams", ())
    fittings = Fittings(seams=(*seams, *extra))
    openings = more.pop("openings", (opening_at([300.0, 0.0, 80.0], state="taped"),))
    return box_craft(water=fresh_water(), fittings=fittings, openings=openings, **more)


def line_of(name, *points_mm):
    """Return a seam along points [mm] on the hull."""
    return Seam(name=name, body="hull", points_mm=np.array(points_mm, dtype=float))


def entry_at(number, record, hours=None):
    """Return an entry so many hours after the book's beginning; its number if that is not said."""
    at = BEGIN + timedelta(hours=number if hours is None else hours)
    return Entry(number=number, at=at, written=at, record=record)


def book_of(*records):
    """Return a logbook of records, one an hour."""
    return Logbook(entries=tuple(entry_at(i, r) for i, r in enumerate(records, start=1)))


def soak(gain_g=0.0, *, mass_g=1200.0, minutes=30.0, scale_g=0.1, **more):
    """Return a leak test that gained so much; what is no field of the test is one of its set-up."""
    of_test = {k: more.pop(k) for k in ("found", "aft_of_step", "stream") if k in more}
    setup = LeakTestSetup(mass_g=mass_g, before_g=mass_g, plus_minus_g=scale_g, **more)
    return LeakTest(setup=setup, minutes=minutes, after_g=mass_g + gain_g, **of_test)


def integrals(craft, setup, law):
    """Return the head integral of each seam and opening in a test, by name."""
    floating = floating_in_soak(craft, setup)
    heads = {
        line.name: line.heads(floating.normal, floating.height_mm) for line in seam_lines(craft)
    }
    field = "hole_integral_mm15" if law == "hole" else "crack_integral_mm2"
    return {name: getattr(along, field) for name, along in heads.items()}


def leaking_soak(craft, strengths, law, *, noise_g=0.0, **more):
    """Return the leak test of a craft whose seams leak so strongly [g/min by head integral]."""
    blank = soak(**more)
    along = integrals(craft, blank.setup, law)
    gain = blank.minutes * sum(strength * along[name] for name, strength in strengths.items())
    return soak(gain + noise_g, **more)
