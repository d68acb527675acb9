"""Swamped: blocks that float by what still displaces, in closed form, and the foam for a point."""

import dataclasses

import numpy as np
import pytest
from crafts import WATER, body_of
from flood_making import answered, block_build, box

from hullcheck.answers.swamped import DryPoint, swamped, swamped_floating
from hullcheck.answers.swamped_solids import solids_of
from hullcheck.answers.swamped_tree import cube_mm
from hullcheck.craft.build import Build
from hullcheck.craft.compartments import compartments_of
from hullcheck.craft.fittings import Bulkhead, Structure
from hullcheck.craft.ledger import Item
from hullcheck.geometry.moment_tree import MomentTree

SKIN_CM3, INSIDE_CM3 = 1600.0, 190.0 * 90.0 * 70.0 / 1000.0
"""Of the block of 200 × 100 × 80 mm, and of its inside behind a wall of 5 mm."""


def _found(build, *, sealed=(), keep=None):
    """Return how a build floats swamped."""
    craft = build.craft()
    solids = solids_of(build, craft, compartments_of(build), sealed)
    return swamped(craft, solids, sealed=sealed, keep=keep)


def _draft(found):
    """Return the depth of the box's bottom under water [mm]; she floats level."""
    assert (found.trim_deg, found.heel_deg) == pytest.approx((0.0, 0.0), abs=1e-6)
    return found.height_mm


def test_a_block_spread_evenly_floats_by_mass_over_solids():
    """300 g of wall at 0.56 g/cm³ are 535.7 cm³: draft over height is 300/535.7 = 0.56."""
    found = _found(block_build(mass_g=300.0, wall_g=300.0, density_g_cm3=0.56))
    assert found.rest == "upright"
    assert found.volume_cm3 == pytest.approx(300.0 / 0.56, rel=1e-12)
    assert _draft(found) / 80.0 == pytest.approx(0.56, rel=1e-9)
    assert found.foam_to_float_cm3 is None
    assert "spread evenly" in found.solids[0].told_by


def test_a_wall_lies_where_it_is():
    """A wall of 5 mm: its floor first, then the sides; V(d) = A t + (A − A_i)(d − t)."""
    wall = SKIN_CM3 - INSIDE_CM3
    build = block_build(mass_g=240.0, wall_g=0.56 * wall, density_g_cm3=0.56, wall_mm=5.0)
    found = _found(build)
    assert found.volume_cm3 == pytest.approx(wall, rel=1e-9)
    depth = 5.0 + (240e3 - 20000.0 * 5.0) / (20000.0 - 190.0 * 90.0)
    assert _draft(found) == pytest.approx(depth, rel=1e-9)
    # Half the mass in the same wall is half the solids: twice the lift is wanted of each mm.
    half = block_build(mass_g=120.0, wall_g=0.28 * wall, density_g_cm3=0.56, wall_mm=5.0)
    assert _draft(_found(half)) == pytest.approx(depth, rel=1e-9)
    assert found.solids[0].center_mm == pytest.approx((100.0, 0.0, 40.0))


def test_without_a_ledger_the_wall_is_the_sheets():
    """By its thickness, and by what permeability leaves; nothing is counted that is not known."""
    build = block_build(mass_g=240.0, wall_g=1.0, density_g_cm3=None, wall_mm=5.0)
    bare = Build(**{**_fields(build), "ledger": type(build.ledger)()})
    wall = _found(bare).solids[0]
    assert wall.volume_cm3 == pytest.approx(SKIN_CM3 - INSIDE_CM3, rel=1e-9)
    assert wall.told_by == "wall of 5 mm"
    spread = Build(**{**_fields(bare), "structures": {"hull": Structure(permeability=0.8)}})
    assert _found(spread).solids[0].volume_cm3 == pytest.approx(0.2 * SKIN_CM3)
    nothing = _found(Build(**{**_fields(bare), "structures": {}}))
    # All else aboard at 2 g/cm³: half her weight of water.
    assert [one.name for one in nothing.solids] == ["all else aboard"]
    assert nothing.short_by_g == pytest.approx(120.0)


def _fields(build):
    """Return the fields of a build by name."""
    return {field.name: getattr(build, field.name) for field in dataclasses.fields(build)}


def test_she_sinks_by_what_is_not_carried():
    """300 g of PLA at 1.24 g/cm³ displace 241.9 g: 58.1 g short, and so much foam holds her up."""
    found = _found(block_build(mass_g=300.0, wall_g=300.0, density_g_cm3=1.24))
    assert found.rest == "sinks"
    assert not found.floats
    assert found.short_by_g == pytest.approx(300.0 - 300.0 / 1.24, rel=1e-12)
    assert found.foam_to_float_cm3 == pytest.approx(found.short_by_g)
    assert (found.trim_deg, found.height_mm, found.highest_mm) == (None, None, None)


def test_items_count_by_half_their_grams():
    """All items but the wall are cubes of their mass at 2 g/cm³, at their places."""
    heavy = Item(name="battery", planned_g=160.0, x_mm=60.0, z_mm=12.0)
    build = block_build(mass_g=460.0, wall_g=300.0, density_g_cm3=0.56, items=(heavy,))
    battery = next(one for one in _found(build).solids if one.kind == "item")
    assert (battery.volume_cm3, battery.center_mm) == (80.0, (60.0, 0.0, 12.0))
    cube = MomentTree(cube_mm(80e3, battery.center_mm))
    assert cube.enclosed_mm3 == pytest.approx(80e3)
    assert cube.origin_mm == pytest.approx(battery.center_mm)


def test_a_sealed_compartment_counts_once():
    """Sealed rooms keep their volume; wall and items in them are not counted again."""
    bulkhead = (Bulkhead(station_mm=100.0),)
    item = Item(name="battery", planned_g=100.0, x_mm=50.0, z_mm=30.0)
    build = block_build(
        mass_g=500.0, wall_g=200.0, density_g_cm3=0.5, items=(item,),
        structures={"hull": Structure(density_g_cm3=0.5, bulkheads=bulkhead)},
    )  # fmt: skip
    found = _found(build, sealed=("hull 1",))
    # Half the box is closed, 800 cm³; of 400 cm³ of wall half is in it; so is the battery.
    assert found.volume_cm3 == pytest.approx(800.0 + 200.0, rel=1e-9)
    assert {one.kind for one in found.solids} == {"wall", "sealed"}
    walled = Structure(density_g_cm3=0.5, wall_mm=5.0, bulkheads=bulkhead)
    build = Build(**{**_fields(build), "structures": {"hull": walled}})
    found = _found(build, sealed=("hull 1",))
    # The wall lies outside of the room: 400 cm³ of it and 95 × 90 × 70 mm.
    assert found.volume_cm3 == pytest.approx(400.0 + 0.5 * INSIDE_CM3, rel=1e-9)


def test_all_sealed_she_floats_as_if_dry():
    """With every room closed and all that is not wall inside, draft is that of the whole skin."""
    build = block_build(mass_g=500.0, wall_g=0.5 * (SKIN_CM3 - INSIDE_CM3), density_g_cm3=0.5,
                        wall_mm=5.0)  # fmt: skip
    assert _draft(_found(build, sealed=("hull",))) == pytest.approx(25.0, rel=1e-9)


def _point_build(foam_cm3=0.0, foam_mm=None):
    """Return a block that lies nearly wholly under, with foam of the sheet in it."""
    structure = Structure(density_g_cm3=0.9, foam_cm3=foam_cm3, foam_mm=foam_mm)
    return block_build(
        mass_g=1000.0, wall_g=900.0, density_g_cm3=0.9, structures={"hull": structure},
        center_of_gravity_mm=(100.0, 0.0, 10.0),
    )  # fmt: skip


def test_the_foam_keeps_the_point_dry_and_one_percent_less_does_not():
    """Put back in as the sheet's own foam at that place; and found again from the solver."""
    place, point = (100.0, 0.0, 50.0), (100.0, 0.0, 70.0)
    keep = DryPoint(name="receiver", point_mm=point, foam_mm=place)
    found = _found(_point_build(), keep=keep).keep_dry
    assert found.height_mm is None or found.height_mm < 0.0
    assert found.foam_cm3 is not None
    for share, dry in ((1.0, True), (0.99, False)):
        build = _point_build(share * found.foam_cm3, place)
        craft = build.craft()
        floating, _ = swamped_floating(craft, solids_of(build, craft, compartments_of(build), ()))
        height = float(floating.height_above_water_mm(np.array(point)))
        assert (height >= 0.0) == dry
        assert abs(height) < 1.0


def test_no_foam_at_a_place_may_do():
    """Foam far under the keel turns her over: that no amount keeps her deck dry is said."""
    keep = DryPoint(name="receiver", point_mm=(100.0, 0.0, 79.0), foam_mm=(100.0, 0.0, -400.0))
    found = _found(_point_build(), keep=keep).keep_dry
    assert found.foam_cm3 is None
    assert found.most_tried_cm3 == pytest.approx(2000.0)


def test_a_point_that_is_dry_needs_no_foam():
    """The answer is 0 and the height it has."""
    build = block_build(mass_g=300.0, wall_g=300.0, density_g_cm3=0.56)
    keep = DryPoint(name="hatch", point_mm=(100.0, 0.0, 80.0), foam_mm=(100.0, 0.0, 40.0))
    found = _found(build, keep=keep).keep_dry
    assert found.foam_cm3 == 0.0
    assert found.height_mm == pytest.approx(80.0 * 0.44, rel=1e-9)


def test_walls_of_twin_bodies_share_an_item_of_their_role():
    """The item "main floats" of the ledger weighs both floats, half each."""
    floats = [
        body_of(box(200.0, 40.0, 60.0) + np.array([0.0, y, 0.0]), name=name, role="main float")
        for name, y in (("port float", -100.0), ("starboard float", 100.0))
    ]
    build = Build(
        name="twins",
        bodies=tuple(floats),
        water=WATER,
        ledger=block_build(mass_g=1.0, wall_g=1.0, density_g_cm3=1.0).ledger.__class__(
            items=(Item(name="main floats", planned_g=100.0, x_mm=100.0, z_mm=30.0),)
        ),
        center_of_gravity_mm=(100.0, 0.0, 30.0),
        structures={one.name: Structure(density_g_cm3=0.5) for one in floats},
    )
    walls = [one.volume_cm3 for one in _found(build).solids]
    assert walls == pytest.approx([100.0, 100.0])


def test_the_answer_holds_it():
    """Asked for by name: the point of equipment is kept dry by foam at the station of her CG."""
    build = block_build(mass_g=300.0, wall_g=300.0, density_g_cm3=0.56)
    found = answered(build, keep_dry=("hatch", (100.0, 0.0, 80.0))).swamped
    assert found.keep_dry.foam_mm == (100.0, 0.0, 40.0)
    assert answered(build).swamped.keep_dry is None
