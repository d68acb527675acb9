"""Compartments of bodies: walls, bulkheads, names, foam, what is assumed, what is refused."""

import numpy as np
import pytest
from crafts import body_of, box_body
from make_bodies import box, stepped_box

from hullcheck.craft import compartments as module
from hullcheck.craft.body_skin import BodySkin
from hullcheck.craft.build import Build
from hullcheck.craft.compartments import (
    adjacent_pairs,
    compartment_named,
    compartments_in,
    compartments_of,
)
from hullcheck.craft.fittings import Bulkhead, Structure
from hullcheck.errors import InputError, SurfaceError
from hullcheck.flotation.flooded import float_flooded, water_at
from hullcheck.geometry.attitude import normal_of
from hullcheck.geometry.skin import Skin

UP = np.array([0.0, 0.0, 1.0])
DIVIDED = Structure(
    wall_mm=2.0,
    bulkheads=(
        Bulkhead(station_mm=150.0),
        Bulkhead(station_mm=300.0, watertight=False, limber_mm=4.0),
        Bulkhead(station_mm=450.0),
    ),
)


def of_box(structure, **more):
    """Return the compartments of the 600 × 100 × 80 mm box of a structure."""
    return compartments_in([box_body(**more)], {more.get("name", "hull"): structure})


def test_a_box_behind_its_wall_between_its_bulkheads():
    """2 mm of wall, bulkheads at 150 and 450: 148, 300, 148 mm of a 96 × 76 section (exact).

    The one at 300 has limber holes, so it parts nothing.
    """
    found = of_box(DIVIDED)
    assert [one.name for one in found] == ["hull 1", "hull 2", "hull 3"]
    assert [one.number for one in found] == [1, 2, 3]
    section = 96.0 * 76.0
    assert [one.volume_mm3 for one in found] == pytest.approx(
        [148.0 * section, 300.0 * section, 148.0 * section], rel=1e-12
    )
    assert [one.capacity_mm3 for one in found] == [one.volume_mm3 for one in found]
    ends = [(one.first_station_mm, one.last_station_mm) for one in found]
    assert np.array(ends) == pytest.approx(np.array([(2, 150), (150, 450), (450, 598)]))
    assert {one.method for one in found} == {"skin less the wall"}
    assert {one.note for one in found} == {""}
    assert [(one.name, two.name) for one, two in adjacent_pairs(found)] == [
        ("hull 1", "hull 2"),
        ("hull 2", "hull 3"),
    ]


def test_permeability_instead_of_a_wall():
    """The whole skin, of which water can fill a share."""
    (one,) = of_box(Structure(permeability=0.9))
    assert one.name == "hull"
    assert one.volume_mm3 == pytest.approx(4.8e6, rel=1e-12)
    assert one.capacity_mm3 == pytest.approx(0.9 * 4.8e6, rel=1e-12)
    assert one.method == "whole skin"
    assert one.note == ""


def test_neither_wall_nor_permeability_is_said():
    """The whole skin, and a note that says so."""
    (one,) = compartments_in([box_body()], {})
    assert one.capacity_mm3 == pytest.approx(4.8e6, rel=1e-12)
    assert "neither wall_mm nor permeability is given" in one.note


def test_names_that_could_be_mistaken():
    """A body whose name ends in a figure, and names that would clash, take a point between."""
    named = of_box(DIVIDED, name="hull 1")
    assert [one.name for one in named] == ["hull 1.1", "hull 1.2", "hull 1.3"]
    aside = body_of(
        box(length_mm=100.0, beam_mm=50.0, height_mm=40.0, origin_mm=(0, 300, 0)), name="hull 2"
    )
    both = compartments_in([box_body(), aside], {"hull": DIVIDED, "hull 2": Structure()})
    assert [one.name for one in both] == ["hull 1", "hull.2", "hull 3", "hull 2.1"]


def test_a_compartment_by_name():
    """Found by its name; else the names there are."""
    found = of_box(DIVIDED)
    assert compartment_named(found, "hull 2") is found[1]
    with pytest.raises(InputError, match="no compartment 'hull 4'; she has: 'hull 1', 'hull 2'"):
        compartment_named(found, "hull 4")


@pytest.mark.parametrize(("place", "there"), [((50.0, 0.0, 20.0), 0), ((500.0, 0.0, 20.0), 2)])
def test_foam_takes_room_where_it_lies(place, there):
    """120 cm³ less water fit into the compartment with the foam, and no less into others."""
    structure = Structure(wall_mm=2.0, foam_cm3=120.0, foam_mm=place, bulkheads=DIVIDED.bulkheads)
    plain, found = of_box(DIVIDED), of_box(structure)
    for k in range(3):
        less = plain[k].capacity_mm3 - found[k].capacity_mm3
        assert less == pytest.approx(120e3 if k == there else 0.0, abs=1e-3)
        assert found[k].volume_mm3 == plain[k].volume_mm3
    assert found[there].foam_mm == place
    assert found[there].foam_mm3 == 120e3


def test_foam_without_a_place_is_spread():
    """By volume, and that is said."""
    found = of_box(Structure(wall_mm=2.0, foam_cm3=120.0, bulkheads=DIVIDED.bulkheads))
    assert sum(one.foam_mm3 for one in found) == pytest.approx(120e3)
    assert found[1].permeability == pytest.approx(found[0].permeability, rel=1e-12)
    assert all("foam_mm is not given" in one.note for one in found)


def test_foam_that_fills_a_compartment_and_more():
    """Filled up, next to nothing fits in; more foam than that is refused by name."""
    whole = 96.0 * 76.0 * 148.0 / 1e3
    bulkheads = DIVIDED.bulkheads
    full = of_box(Structure(wall_mm=2.0, foam_cm3=whole, foam_mm=(50, 0, 20), bulkheads=bulkheads))
    assert full[0].capacity_mm3 < 2e-6 * full[0].volume_mm3
    with pytest.raises(InputError, match="hull 1: 1200 cm³ of foam do not fit in it; it holds 108"):
        of_box(Structure(wall_mm=2.0, foam_cm3=1200, foam_mm=(50, 0, 20), bulkheads=bulkheads))


def test_foam_of_a_twin_lies_on_its_own_side():
    """A float and its mirror image have the foam each: the twin's on the other side."""
    structure = Structure(wall_mm=1.0, foam_cm3=20.0, foam_mm=(50.0, 300.0, 20.0))
    sizes = {"length_mm": 100.0, "beam_mm": 50.0, "height_mm": 40.0}
    pair = [
        body_of(box(**sizes, origin_mm=(0.0, side * 300.0, 0.0)), name=name)
        for name, side in (("starboard float", 1.0), ("port float", -1.0))
    ]
    skins = [BodySkin(name=one.name, role=one.role, skin=None, shells=(one.shell,)) for one in pair]
    found = compartments_in(pair, {one.name: structure for one in pair}, skins)
    assert [one.foam_mm for one in found] == [(50.0, 300.0, 20.0), (50.0, -300.0, 20.0)]
    assert [one.foam_mm3 for one in found] == [20e3, 20e3]


def test_foam_of_one_body_of_two_shells_is_there_once():
    """Two shells of one body in the sheet share its foam: it is in the one it lies in."""
    sizes = {"length_mm": 100.0, "beam_mm": 50.0, "height_mm": 40.0}
    pair = [
        body_of(box(**sizes, origin_mm=(0.0, side * 300.0, 0.0)), name=f"floats {k}")
        for k, side in ((1, 1.0), (2, -1.0))
    ]
    one = BodySkin(name="floats", role="hull", skin=None, shells=tuple(body.shell for body in pair))
    for foam_mm, truth in (((50.0, -300.0, 20.0), [0.0, 20e3]), (None, [20e3, 0.0])):
        structure = Structure(wall_mm=1.0, foam_cm3=20.0, foam_mm=foam_mm)
        found = compartments_in(pair, {body.name: structure for body in pair}, [one])
        assert [part.foam_mm3 for part in found] == truth


def test_a_wall_that_cannot_be_cut_out_is_taken_as_a_share(monkeypatch):
    """Where the inside cannot be shown to be sound: κ = 1 − t A/V of the skin, and it is said."""

    def unsound(name, *_):
        raise SurfaceError(f"{name}: is inside out")

    monkeypatch.setattr(module, "inset", unsound)
    (one,) = of_box(Structure(wall_mm=2.0))
    area = 2.0 * (600.0 * 100.0 + 600.0 * 80.0 + 100.0 * 80.0)
    assert one.permeability == pytest.approx(1.0 - 2.0 * area / 4.8e6, rel=1e-12)
    assert one.method == "whole skin less the wall's share"
    assert one.note.startswith("hull: is inside out; its wall was taken off as a share")
    with pytest.raises(SurfaceError, match="hull: is inside out"):
        of_box(Structure(wall_mm=40.0))


def test_a_wall_thicker_than_half_the_body():
    """There is no inside, and the builder is asked whether that is the wall."""
    with pytest.raises(SurfaceError, match=r"hull: a wall of 45 mm leaves no inside\. Is that"):
        of_box(Structure(wall_mm=45.0))


def test_drain_and_vent_of_the_middle_compartment():
    """Lowest inside at rest, nose up and inverted, of a hull with a rising forebody keel.

    The step's corner is the lowest at rest; nose up far enough the stern end of it is.
    """
    hull = body_of(
        stepped_box(
            length_mm=600.0,
            beam_mm=110.0,
            height_mm=90.0,
            step_station_mm=290.0,
            step_depth_mm=9.0,
            deadrise_deg=15.0,
            forebody_keel_deg=2.0,
            afterbody_keel_deg=6.0,
        )
    )
    (one,) = compartments_in([hull], {"hull": Structure(wall_mm=1.0)})
    rest = one.lowest_mm(UP)
    assert rest[0] == pytest.approx(289.0, abs=0.1)
    assert rest[1:] == pytest.approx([0.0, 1.0 / np.cos(np.radians(15.0))], abs=0.05)
    nose_up = one.lowest_mm(normal_of(trim=np.radians(9.0), heel=0.0))
    assert nose_up[0] == pytest.approx(599.0, abs=1e-6)
    assert one.highest_mm(UP)[2] == pytest.approx(89.0, abs=1e-9)
    assert one.lowest_mm(-UP)[2] == pytest.approx(89.0, abs=1e-9)


def test_pools_hold_the_water_that_was_put_in():
    """Nose up, water stands before the step and at the stern: two pools that add up to it."""
    hull = body_of(
        stepped_box(
            length_mm=600.0,
            beam_mm=110.0,
            height_mm=90.0,
            step_station_mm=290.0,
            step_depth_mm=20.0,
            deadrise_deg=15.0,
        )
    )
    (one,) = compartments_in([hull], {"hull": Structure(permeability=0.8)})
    moved = water_at(
        mass_g=700.0,
        center_of_gravity_mm=(280.0, 0.0, 40.0),
        aboard=[one.aboard(60.0)],
        trim_deg=4.0,
    )
    (water,) = moved.water
    pools = one.pools(water.normal, water.surface_height_mm)
    assert sum(pool.volume_mm3 for pool in pools) == pytest.approx(60e3, rel=1e-9)
    assert pools[0].volume_mm3 >= pools[-1].volume_mm3


def test_a_build_floats_with_its_compartments_open():
    """A build's compartments are found once; opened, the box sinks by what they held.

    600 × 100 box, 1200 g, its middle room of 300 × 96 × 76 above a 2 mm floor open: the draft d is
    met by 60000 d − 28800 (d − 2) = 1.2e6 (closed form).
    """
    hull = box_body()
    build = Build(name="box", bodies=(hull,), structures={"hull": DIVIDED}, mass_g=1200.0)
    found = compartments_of(build)
    assert compartments_of(build) is found
    skin = Skin(names=("hull",), shells=(hull.shell,))
    load = {"mass_g": 1200.0, "center_of_gravity_mm": (300.0, 0.0, 10.0)}
    rest = float_flooded(skin, open_to_sea=[found[1].open_to_sea()], **load)
    draft = (1.2e6 - 2.0 * 28800.0) / (60000.0 - 28800.0)
    assert rest.flooded.floating.height_mm == pytest.approx(draft, rel=1e-9)
    assert rest.flooded.open_water[0].name == "hull 2"
