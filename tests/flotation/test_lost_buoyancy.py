"""Compartments open to the sea: worked examples, water re-leveled with it, fixed water."""

import math

import numpy as np
import pytest
from closed_form import FRESH, UP, exact
from hypothesis import given, settings
from hypothesis import strategies as st
from make_bodies import box, stepped_box
from strategies import SEEDS, bumpy, normals, uniform

from hullcheck.errors import InputError
from hullcheck.flotation.contents import Aboard
from hullcheck.flotation.flooded import float_flooded, flooded_descent, held_flooded
from hullcheck.flotation.flooded_tree import FloodedTree, OpenToSea
from hullcheck.flotation.righting import righting_arm
from hullcheck.geometry.compartments import cut_at_stations
from hullcheck.geometry.inset import inset
from hullcheck.geometry.moment_tree import MomentTree

SEA = 1025.0


def room(name, *, permeability=1.0, **sizes):
    """Return a box of a compartment, open to the sea."""
    return OpenToSea(name=name, tree=MomentTree(box(**sizes)), permeability=permeability)


@pytest.mark.parametrize(
    ("ship", "expected", "printed_m"),
    [
        (((150.0, 24.0, 12.0), 5.0, 20.0, 11.2), (5.76923, 0.00462), 0.01),
        (((40.0, 6.0, 6.0), 2.0, 10.0, 1.9), (2.667, 0.5583), 0.559),
    ],
)
def test_a_midship_compartment_open(skin_of, ship, expected, printed_m):
    """Draft and GM after a compartment amidships, over the whole breadth and depth, is opened.

    Box 150 × 24 × 12 m, draft 5, GM 0.9, 20 m compartment, empty: Derrett and Barrass, Ship
    Stability for Masters and Mates, 5th ed. 1999, pp. 206–207, Example 2, which prints 5.77 and
    0.01 m. Box 40 × 6 m, draft 2, GM 0.6, 10 m compartment: a training problem, printed 2.667 and
    0.559 m. The GM given are met by KG = KM − GM: 11.2 and 1.9 m.
    """
    (whole, beam, depth), draft, length, height = ship
    skin = skin_of(box(length_mm=whole, beam_mm=beam, height_mm=depth))
    opened = room(
        "midship",
        length_mm=length,
        beam_mm=beam,
        height_mm=depth,
        origin_mm=(0.5 * (whole - length), 0.0, 0.0),
    )
    load = {
        "mass_g": 1e-3 * 1.025 * whole * beam * draft,
        "center_of_gravity_mm": (0.5 * whole, 0.0, height),
        "density_kg_m3": SEA,
    }
    found = held_flooded(skin, open_to_sea=[opened], **load)
    assert found.floating.height_mm == exact(draft * whole / (whole - length))
    assert found.floating.height_mm == pytest.approx(expected[0], abs=5e-4)
    rest = float_flooded(skin, open_to_sea=[opened], **load)
    gm = rest.flooded.floating.metacentric_height_mm[0]
    assert rest.upright_is_stable
    assert gm == pytest.approx(expected[1], abs=5e-5)
    assert gm == pytest.approx(printed_m, abs=6e-3)
    assert rest.flooded.open_water[0].volume_mm3 == exact(
        length * beam * draft * whole / (whole - length)
    )


def test_flooded_under_a_flat_below_the_waterline(skin_of):
    """20 × 10 × 4 m at permeability 25 % lose 205 t; with 20 t per cm the draft is 6.1025 m.

    Derrett and Barrass, Ship Stability for Masters and Mates, 5th ed. 1999, pp. 209–210, Example 5:
    TPC 20, draft 6 m, the flat 4 m above the keel. A box of 20 m beam stands for the ship.
    """
    area = 20.0 * 100.0 / 1.025
    skin = skin_of(box(length_mm=area / 20.0, beam_mm=20.0, height_mm=10.0))
    middle = 0.5 * area / 20.0
    opened = room(
        "under the flat",
        permeability=0.25,
        length_mm=20.0,
        beam_mm=10.0,
        height_mm=4.0,
        origin_mm=(middle - 10.0, 0.0, 0.0),
    )
    found = held_flooded(
        skin,
        mass_g=1e-3 * 1.025 * area * 6.0,
        center_of_gravity_mm=(middle, 0.0, 5.0),
        density_kg_m3=SEA,
        open_to_sea=[opened],
    )
    assert found.open_water[0].mass_g == exact(1e-3 * 205.0)
    assert found.floating.height_mm == exact(6.1025)
    assert found.floating.waterplane_area_mm2 == exact(area)


def test_an_end_compartment_of_a_box_open(skin_of):
    """The trim and draft of a box whose end is open to the sea, in closed form.

    What is left, L' = L − l long, floats as a box with G at δ = l/2 aft of its middle. The moment
    about its middle of a wall-sided body is nought where δ = tan τ (GM + ½ BM tan² τ), with the
    mean draft V/(L' B), BM = L'²/(12 d'), KB = d'/2; stern down, so the trim is negative.
    """
    length, beam, depth, draft, lost = 200.0, 60.0, 60.0, 20.0, 24.0
    skin = skin_of(box(length_mm=length, beam_mm=beam, height_mm=depth))
    opened = room(
        "stern",
        length_mm=lost,
        beam_mm=beam,
        height_mm=depth,
        origin_mm=(length - lost, 0.0, 0.0),
    )
    height = 15.0
    rest = float_flooded(
        skin,
        mass_g=FRESH * length * beam * draft,
        center_of_gravity_mm=(0.5 * length, 0.0, height),
        open_to_sea=[opened],
    )
    left = length - lost
    deep = draft * length / left
    radius = left**2 / (12.0 * deep)
    gm = 0.5 * deep + radius - height
    slopes = np.roots([0.5 * radius, 0.0, gm, -0.5 * lost])
    (slope,) = slopes[np.abs(slopes.imag) < 1e-12].real
    floating = rest.flooded.floating
    assert math.tan(math.radians(floating.trim_deg)) == pytest.approx(slope, rel=1e-8)
    middle = floating.height_above_water_mm(np.array([0.5 * left, 0.0, 0.0]))
    assert -middle / floating.normal[2] == pytest.approx(deep, rel=1e-9)
    assert slope > 0.1  # bow up by more than 6°, so the term in tan² counts


def hull_and_room(skin_of):
    """Return a stepped hull and the tree of its foremost compartment behind a wall of 1.5 mm."""
    hull = stepped_box(
        length_mm=600.0,
        beam_mm=110.0,
        height_mm=80.0,
        step_station_mm=290.0,
        step_depth_mm=9.0,
        deadrise_deg=15.0,
        forebody_keel_deg=2.0,
        afterbody_keel_deg=6.0,
    )
    bow = cut_at_stations("hull", inset("hull", hull, 1.5).mesh, [90.0])[0]
    return skin_of(hull), MomentTree(bow.mesh.triangles)


def releveled(skin, tree, share, load, heel):
    """Return the state at a heel with water added until its level is the sea's, and the water.

    Water of a given mass is put in and she is floated with it fixed where it lies; then as much as
    stands under the sea's plane takes its place, and so on: every step is a plain float of a mass
    at a point on the intact skin.
    """
    dry = np.asarray(load["center_of_gravity_mm"])
    water, center = 0.0, dry
    for _ in range(200):
        total = load["mass_g"] + water
        both = (load["mass_g"] * dry + water * center) / total
        descent = flooded_descent(skin, mass_g=total, center_of_gravity_mm=both)
        state = descent.at_heel(heel, descent.settled(UP, None))
        height = state.height + state.normal @ (skin.tree.origin_mm - tree.origin_mm)
        under = tree.under(state.normal, height)
        level = share * under.volume * FRESH
        if under.volume > 0.0:
            center = under.position_integral / under.volume + tree.origin_mm
        if abs(level - water) < 1e-11 * load["mass_g"]:
            return state, total
        water = level
    raise AssertionError("the water did not come to the level of the sea")


def test_lost_buoyancy_is_water_releveled_with_the_sea(skin_of):
    """Same draft, trim and righting moment over a heel sweep, by two ways that share no step."""
    skin, bow = hull_and_room(skin_of)
    load = {"mass_g": 900.0, "center_of_gravity_mm": (265.0, 2.0, 30.0)}
    size = skin.tree.length_mm
    opened = OpenToSea(name="bow", tree=bow, permeability=0.8)
    lost = flooded_descent(skin, open_to_sea=[opened], **load)
    state = lost.settled(UP, None)
    for degrees in range(0, 91, 15):
        heel = math.radians(degrees)
        state = lost.at_heel(heel, state)
        added, total = releveled(skin, bow, 0.8, load, heel)
        assert list(state.normal) == pytest.approx(list(added.normal), abs=1e-8)
        assert state.height == pytest.approx(added.height, abs=1e-8 * size)
        moment = load["mass_g"] * righting_arm(state, heel)
        assert total > load["mass_g"] + 5.0
        assert moment == pytest.approx(total * righting_arm(added, heel), abs=1e-8 * total * size)


def test_fixed_water_rests_alike_and_is_stiffer(skin_of):
    """The water that stands in an open room, shut in: same rest, another stiffness.

    Shut in it cannot run in and out as she trims. About the common centroid of a waterplane A with
    the room's surface a at a distance d from it, the stiffness (moment over ρ) of the lost
    buoyancy is less by a d² A/(A − a): parallel axes, twice. In a box with an end room that is all
    there is between them; across, d is 0 and they are alike.
    """
    length, beam, lost, draft = 200.0, 60.0, 24.0, 20.0
    skin = skin_of(box(length_mm=length, beam_mm=beam, height_mm=60.0))
    sizes = {
        "length_mm": lost,
        "beam_mm": beam,
        "height_mm": 60.0,
        "origin_mm": (length - lost, 0.0, 0.0),
    }
    opened = room("stern", **sizes)
    # She lies level when G is over the middle of what is left.
    load = {
        "mass_g": FRESH * length * beam * draft,
        "center_of_gravity_mm": (0.5 * (length - lost), 0.0, 15.0),
    }
    lost_rest = float_flooded(skin, open_to_sea=[opened], **load).flooded
    (inside,) = lost_rest.open_water
    shut = Aboard(name="stern", tree=opened.tree, water_g=inside.mass_g)
    fixed_rest = float_flooded(skin, aboard=[shut], **load).flooded
    assert list(fixed_rest.floating.normal) == pytest.approx(list(lost_rest.floating.normal))
    assert fixed_rest.floating.height_mm == exact(lost_rest.floating.height_mm)
    across, along = (
        fixed_rest.mass_g * fixed - lost_rest.mass_g * left
        for fixed, left in zip(
            fixed_rest.floating.metacentric_height_mm,
            lost_rest.floating.metacentric_height_mm,
            strict=True,
        )
    )
    whole, surface, apart = length * beam, lost * beam, 0.5 * (length - lost)
    scale = lost_rest.mass_g * lost_rest.floating.metacentric_height_mm[1]
    assert along == pytest.approx(FRESH * surface * apart**2 * whole / (whole - surface), rel=1e-8)
    assert along > 0.2 * scale
    assert across == pytest.approx(0.0, abs=1e-9 * scale)


@given(seed=SEEDS, normal=normals(), level=uniform(0.2, 0.8), share=uniform(0.2, 1.0))
@settings(max_examples=25)
def test_what_is_left_is_the_skin_less_its_rooms(skin_of, seed, normal, level, share):
    """Volume, center, waterplane and its moments: those of the skin less κ times the room's.

    The second moments about the centroid of what is left by the parallel-axis theorem, written out.
    """
    body = bumpy(seed)
    middle = body.mean(axis=(0, 1))
    skin, inner = skin_of(body), MomentTree(middle + 0.6 * (body - middle) + 2.0)
    left = FloodedTree(skin.tree, [OpenToSea(name="room", tree=inner, permeability=share)])
    low, high = skin.tree.extent(normal)
    height = low + level * (high - low)
    found = left.under(normal, height)
    outer = skin.tree.under(normal, height)
    shift = inner.origin_mm - skin.tree.origin_mm
    inside = inner.under(normal, height - normal @ shift)
    size = skin.tree.length_mm
    volume = outer.volume - share * inside.volume
    assert found.volume == pytest.approx(volume, abs=1e-11 * size**3)
    assert found.wetted_area == outer.wetted_area
    position = outer.position_integral - share * (inside.position_integral + inside.volume * shift)
    assert list(found.position_integral) == pytest.approx(list(position), abs=1e-11 * size**4)
    area = outer.area - share * inside.area
    assert found.area == pytest.approx(area, abs=1e-11 * size**2)
    center = outer.area * outer.area_centroid
    if inside.area > 0.0:
        center = center - share * inside.area * (inside.area_centroid + shift)
    center = center / area
    assert list(found.area_centroid) == pytest.approx(list(center), abs=1e-8 * size)
    second = outer.second_moments + _moved(outer.area, outer.area_centroid - center)
    if inside.area > 0.0:
        second = second - share * (
            inside.second_moments + _moved(inside.area, inside.area_centroid + shift - center)
        )
    assert np.abs(found.second_moments - second).max() < 1e-10 * size**4


def _moved(area, arm):
    """Return what moving an area's centroid by an arm adds to its second moments."""
    return area * np.outer(arm, arm)


@given(seed=st.integers(0, 10**6))
@settings(max_examples=10)
def test_the_flooded_rest_has_no_lever(skin_of, seed):
    """At rest the weight and the buoyancy of what is left share a plumb line and a size."""
    body = bumpy(seed)
    middle = body.mean(axis=(0, 1))
    skin, inner = skin_of(body), MomentTree(middle + 0.5 * (body - middle))
    mass = 0.5 * skin.volume_mm3 * FRESH
    opened = OpenToSea(name="room", tree=inner, permeability=0.9)
    found = float_flooded(
        skin, mass_g=mass, center_of_gravity_mm=middle - 5.0, open_to_sea=[opened]
    ).flooded
    floating = found.floating
    assert floating.stable
    assert floating.displaced_volume_mm3 * FRESH == pytest.approx(mass, rel=1e-10)
    lever = found.center_of_gravity_mm - floating.center_of_buoyancy_mm
    level = lever - (lever @ floating.normal) * floating.normal
    assert np.linalg.norm(level) < 1e-8 * skin.tree.length_mm


def test_a_hull_open_from_end_to_end_sinks(skin_of):
    """With all of her inside open only the wall displaces: short by the grams it cannot carry."""
    skin = skin_of(box(length_mm=200.0, beam_mm=100.0, height_mm=50.0))
    opened = room("hull", length_mm=198.0, beam_mm=98.0, height_mm=48.0, origin_mm=(1.0, 0.0, 1.0))
    wall = 200.0 * 100.0 * 50.0 - 198.0 * 98.0 * 48.0
    rest = float_flooded(
        skin, mass_g=300.0, center_of_gravity_mm=(100.0, 0.0, 20.0), open_to_sea=[opened]
    )
    assert rest.sinks
    assert rest.short_g == exact(300.0 - wall * FRESH)


def test_an_open_room_above_the_water_changes_nothing(skin_of):
    """Dry, it takes nothing off, and its center is no number."""
    skin = skin_of(box(length_mm=200.0, beam_mm=100.0, height_mm=50.0))
    opened = room("loft", length_mm=50.0, beam_mm=98.0, height_mm=8.0, origin_mm=(1.0, 0.0, 41.0))
    load = {"mass_g": 300.0, "center_of_gravity_mm": (100.0, 0.0, 20.0)}
    (inside,) = float_flooded(skin, open_to_sea=[opened], **load).flooded.open_water
    assert inside.mass_g == 0.0
    assert np.isnan(inside.centroid_mm).all()
    with pytest.raises(InputError, match="loft: named twice"):
        float_flooded(skin, open_to_sea=[opened, opened], **load)
    water = Aboard(name="loft", tree=opened.tree, water_g=1.0)
    with pytest.raises(InputError, match="loft: is open to the sea, so it cannot hold"):
        float_flooded(skin, open_to_sea=[opened], aboard=[water], **load)
