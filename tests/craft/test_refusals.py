"""What limits, openings, fittings, setups and builds refuse, and in which words."""

import math

import numpy as np
import pytest
from crafts import box_body, opening_at

from hullcheck.craft.build import Build
from hullcheck.craft.fittings import (
    Equipment,
    Fittings,
    Leak,
    Lid,
    Mark,
    Seam,
    Structure,
)
from hullcheck.craft.ledger import Item, Ledger
from hullcheck.craft.limits import Limits
from hullcheck.craft.openings import Opening
from hullcheck.craft.setups import Setup
from hullcheck.errors import InputError

HOLE = {"name": "pinhole", "point_mm": (262.0, 10.0, -8.0)}
POINT = np.zeros((1, 3))


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: Limits(trim_deg=(4.0, 0.0)), r"limit trim_deg \[4\.0, 0\.0\]: the first must be"),
        (lambda: Limits(trim_deg=(2.0, 2.0)), r"limit trim_deg \[2\.0, 2\.0\]: the first must be"),
        (lambda: Limits(heel_deg=-3.0), r"limit heel_deg -3: must not be below 0"),
        (lambda: Limits(time_on_water_min=-1.0), r"time_on_water_min -1: must not be below 0"),
        (lambda: Limits(leak_g_per_30min=-0.5), r"leak_g_per_30min -0\.5: must not be below 0"),
        (lambda: Limits(freeboard_mm=math.nan), r"limit freeboard_mm nan: not a finite number"),
        (lambda: Limits(heel_deg=math.inf), r"limit heel_deg inf: not a finite number"),
        (lambda: Limits(trim_deg=(0.0, math.inf)), r"trim_deg \(0\.0, inf\): not a finite number"),
        (lambda: Opening(name="h", points_mm=[[0.0, 1.0]]), r"h: an array of shape \(1, 2\) was"),
        (lambda: Opening(points_mm=[[0.0, 1.0, math.nan]]), r"opening: an array holds a value"),
        (lambda: Opening(name="h", points_mm=np.empty((0, 3))), r"h: no points; one at least"),
        (
            lambda: Opening(name="h", points_mm=POINT, state="shut"),
            r"h: state 'shut' is none of \('open', 'taped', 'sealed'\)",
        ),
        (lambda: Opening(name="h", points_mm=POINT, kind="door"), r"h: kind 'door' is none of"),
        (lambda: Mark(name="bow", point_mm=(0, 0, 0), along="deck"), r"bow: along 'deck' is none"),
        (lambda: Seam(name="s", body="hull"), r"s: give station_mm or points_mm, one of them"),
        (
            lambda: Seam(name="s", body="hull", station_mm=262.0, points_mm=POINT),
            r"s: give station_mm or points_mm, one of them",
        ),
        (lambda: Leak(**HOLE), r"pinhole: give diameter_mm of a hole, or crack_width_mm"),
        (
            lambda: Leak(**HOLE, diameter_mm=0.5, wall_mm=1.0),
            r"pinhole: give diameter_mm of a hole, or crack_width_mm",
        ),
        (
            lambda: Leak(**HOLE, crack_width_mm=0.1, wall_mm=1.0),
            r"pinhole: a crack needs crack_width_mm, crack_length_mm and wall_mm",
        ),
        (
            lambda: Structure(wall_mm=1.0, permeability=0.95),
            r"give wall_mm or permeability, never both",
        ),
        (lambda: Setup(name="rain", wet_g=-20.0), r"setup 'rain': wet_g -20: must not be below 0"),
        (lambda: Setup(name="rain", wet_g=math.nan), r"setup 'rain': wet_g nan: must not be"),
        (
            lambda: Setup(name="bare", off=("wheels",), add=(("wheels", 1.0),)),
            r"setup 'bare': 'wheels' is taken off and changed as well",
        ),
        (
            lambda: Setup(name="bare", off=("wheels",), move=(("wheels", (1.0, 0.0, 0.0)),)),
            r"setup 'bare': 'wheels' is taken off and changed as well",
        ),
    ],
)
def test_what_makes_no_sense_is_refused(make, said):
    """Each record refuses what it cannot be, by name and value: the words are stated here."""
    with pytest.raises(InputError, match=said):
        make()


@pytest.mark.parametrize(
    ("group", "one"),
    [
        ("marks", Mark(name="twin", point_mm=(0.0, 0.0, 0.0))),
        ("seams", Seam(name="twin", body="hull", station_mm=1.0)),
        ("lids", Lid(name="twin", outline_mm=np.zeros((3, 3)))),
        ("leaks", Leak(name="twin", point_mm=(0.0, 0.0, 0.0), diameter_mm=1.0)),
        ("equipment", Equipment(item="twin")),
    ],
)
def test_fittings_of_one_kind_have_names_of_their_own(group, one):
    """Two marks, seams, lids, leaks or pieces of equipment of one name are refused by it."""
    with pytest.raises(InputError, match=rf"{group}: the name 'twin' is used twice"):
        Fittings(**{group: (one, one)})


def build_of(**more):
    """Return a build of one box, of 1200 g unless a ledger is given."""
    ledger = Ledger(items=(Item(name="all", planned_g=1200.0, x_mm=300.0, z_mm=30.0),))
    return Build(**{"name": "box", "bodies": (box_body(),), "ledger": ledger, **more})


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (
            {"openings": (opening_at((1, 0, 60)), opening_at((2, 0, 60)))},
            r"opening 'hatch': the name is used twice; give each its own",
        ),
        (
            {"openings": (opening_at((9, 5, 60), name=""), opening_at((9, -5, 60), name=""))},
            r"opening 'opening at station 9': the name is used twice; give each its own",
        ),
        (
            {"setups": (Setup(name="rain"), Setup(name="rain"))},
            r"setup 'rain': the name is used twice; give each its own",
        ),
        ({"bodies": (box_body(), box_body())}, r"body 'hull': the name is used twice"),
        (
            {"setups": (Setup(name="as she is", wet_g=20.0),)},
            r"setup 'as she is': that is what she is called without a setup; give it another name",
        ),
        (
            {"setups": (Setup(name="bare", off=("wheels",)),)},
            r"the ledger has no item 'wheels'",
        ),
        (
            {"setups": (Setup(name="s", openings=(("canopy", "open"),)),)},
            r"setup 's': there is no opening 'canopy'",
        ),
    ],
)
def test_a_build_that_does_not_hold_together_is_refused(more, said):
    """Names used twice, and setups of what is not there, are refused by name as she is built."""
    with pytest.raises(InputError, match=said):
        build_of(**more)


def test_an_unknown_setup_lists_those_that_are_known():
    """The refusal names the setups of the sheet, or says that there is none."""
    build = build_of(setups=(Setup(name="rain", wet_g=20.0), Setup(name="bare")))
    with pytest.raises(InputError, match=r"no setup 'snow'; the build sheet has: 'rain', 'bare'$"):
        build.craft("snow")
    with pytest.raises(InputError, match=r"no setup 'snow'; the build sheet has: none$"):
        build_of().craft("snow")


@pytest.mark.parametrize(
    ("more", "setup", "said"),
    [
        ({"ledger": Ledger()}, None, r"box: her mass is not known; write weights\.csv beside"),
        (
            {"ledger": Ledger(items=(Item(name="a"), Item(name="b", weighed_g=0.0)))},
            None,
            r"box: the ledger's items weigh 0 g in all; fill in planned_g or weighed_g",
        ),
        ({"mass_g": -5.0}, None, r"box: mass_g -5: must be above 0"),
        (
            {"mass_g": 900.0, "setups": (Setup(name="bare", off=("all",), wet_g=300.0),)},
            "bare",
            r"setup 'bare': it leaves her -300 g; the all-up mass must be above 0 g",
        ),
        (
            {"setups": (Setup(name="bare", off=("all",), wet_g=20.0),)},
            "bare",
            r"setup 'bare': it leaves her 0 g; the all-up mass must be above 0 g",
        ),
    ],
)
def test_a_mass_that_is_none_is_refused(more, setup, said):
    """Without grams nothing floats: refused with what to fill in, or the setup that is at fault."""
    with pytest.raises(InputError, match=said):
        build_of(**more).craft(setup)


def test_a_setup_that_moves_an_item_without_a_place_is_refused():
    """On a measured CG, grams at no place cannot be put aboard: refused by the item's name."""
    items = (
        Item(name="all", planned_g=1200.0, x_mm=300.0, z_mm=30.0),
        Item(name="paint", planned_g=5.0),
    )
    build = build_of(
        ledger=Ledger(items=items),
        center_of_gravity_mm=(300.0, 0.0, 30.0),
        setups=(Setup(name="thick", add=(("paint", 10.0),)),),
    )
    with pytest.raises(InputError, match=r"paint: has no place in the ledger, and a setup moves"):
        build.craft("thick")
