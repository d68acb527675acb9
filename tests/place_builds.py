"""Builds with an item to be placed, in every state that text and drawing must show."""

import dataclasses
import functools

import make_bodies
from crafts import WATER, body_of, box_body, demo_bodies, opening_at

from hullcheck.answers.place_answer import place_answer
from hullcheck.answers.place_load import Wanted
from hullcheck.craft.build import Build
from hullcheck.craft.fittings import Equipment, Fittings
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.limits import Limits

BOX = ((105.0, -20.0, 14.0), (210.0, 20.0, 50.0))
HATCH = opening_at((471.0, 28.0, 66.0), name="pushrod exit")
LIMITS = Limits(freeboard_mm=15.0, trim_deg=(0.0, 4.0), heel_deg=3.0)
DRY = dataclasses.replace(LIMITS, freeboard_mm=None)
"""Without a limit whose grams left take long to find."""
BAND = (246.0, 258.0)
LONG = "battery of four cells with its very long lead and the switch harness"


def _items(*, else_x_mm=290.0, name="battery", **battery):
    """Return two items: all else, and the one to be placed."""
    place = {"planned_g": 165.0, "x_mm": 142.0, "y_mm": 0.0, "z_mm": 20.0} | battery
    rest = {"weighed_g": 536.0, "x_mm": else_x_mm, "y_mm": 0.0, "z_mm": 72.0, "plus_minus_g": 8.0}
    return Ledger(items=(Item(name="all else", **rest), Item(name=name, **place)))


def _demo(**more):
    """Return the demo craft's bodies with two items."""
    ledger = more.pop("ledger", None) or _items()
    box = more.pop("box", BOX)
    name = ledger.items[1].name
    fittings = Fittings(equipment=(Equipment(item=name, within_mm=box),) if box else ())
    usual = {"cg_range_mm": BAND, "limits": LIMITS, "openings": (HATCH,), "bodies": demo_bodies()}
    return Build(
        name="Tarnwing 90", water=WATER, ledger=ledger, fittings=fittings, **(usual | more)
    )


def _box():
    """Return a box without an opening that holds with the battery anywhere."""
    hull = Item(name="hull", weighed_g=900.0, x_mm=300.0, z_mm=30.0)
    battery = Item(name="battery", weighed_g=300.0, x_mm=300.0, z_mm=20.0)
    return Build(
        name="box",
        bodies=(box_body(),),
        water=WATER,
        ledger=Ledger(items=(hull, battery)),
        limits=Limits(trim_deg=(-6.0, 6.0)),
        cg_range_mm=(200.0, 400.0),
    )


def _tiny():
    """Return a box of 30 mm with everything in it at scale."""
    body = body_of(make_bodies.box(length_mm=30.0, beam_mm=10.0, height_mm=6.0))
    hull = Item(name="hull", weighed_g=0.5, x_mm=15.2, z_mm=1.0)
    cell = Item(name="cell", weighed_g=0.2, x_mm=12.0, z_mm=1.0)
    items = Ledger(items=(hull, cell))
    return Build(name="mite", bodies=(body,), water=WATER, ledger=items, cg_range_mm=(14.0, 15.0))


STATES = {
    "a place": lambda: (_demo(), Wanted(item="battery")),
    "now outside": lambda: (_demo(ledger=_items(x_mm=236.0)), Wanted(item="battery")),
    "not in the ledger yet": lambda: (
        _demo(ledger=_items(planned_g=None, x_mm=None, z_mm=None)),
        Wanted(item="battery", mass_g=210.0, z_mm=20.0),
    ),
    "along the hull": lambda: (_demo(box=None), Wanted(item="battery")),
    "narrow": lambda: (_demo(cg_range_mm=(252.0, 252.04)), Wanted(item="battery")),
    "no band": lambda: (_demo(cg_range_mm=None), Wanted(item="battery")),
    "freeboard ends it": lambda: (
        _demo(limits=Limits(freeboard_mm=26.0), cg_range_mm=None), Wanted(item="battery")
    ),
    "ballast in the nose": lambda: (
        _demo(ledger=_items(planned_g=60.0)), Wanted(item="battery")
    ),
    "ballast in the tail": lambda: (
        _demo(ledger=_items(else_x_mm=235.0), limits=DRY), Wanted(item="battery")
    ),
    "nothing mends it": lambda: (
        _demo(limits=dataclasses.replace(LIMITS, freeboard_mm=60.0)), Wanted(item="battery")
    ),
    "sinks": lambda: (_demo(), Wanted(item="battery", mass_g=4000.0)),
    "long name, ballast": lambda: (
        _demo(ledger=_items(name=LONG, planned_g=40.0), limits=DRY), Wanted(item=LONG)
    ),
    "box": lambda: (_box(), Wanted(item="battery")),
    "tiny": lambda: (_tiny(), Wanted(item="cell")),
}  # fmt: skip


@functools.cache
def answered(name):
    """Return a state's answer, worked out once."""
    return place_answer(*STATES[name]())
