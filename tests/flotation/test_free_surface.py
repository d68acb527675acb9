"""Water shut in compartments: worked examples, derivatives of the energy, limits, refusals."""

import math

import numpy as np
import pytest
from closed_form import FRESH, UP, exact
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from make_bodies import box
from strategies import SEEDS, bumpy, normals, uniform

from hullcheck.errors import InputError
from hullcheck.flotation.contents import Aboard
from hullcheck.flotation.descent import Descent
from hullcheck.flotation.floating import float_at
from hullcheck.flotation.flooded import (
    float_flooded,
    flooded_descent,
    held_flooded,
    water_at,
)
from hullcheck.flotation.load import Load
from hullcheck.flotation.righting import righting_arm
from hullcheck.flotation.steps import turned
from hullcheck.geometry.moment_tree import MomentTree

SEA = 1025.0
T_PER_M3 = 1e-3 * SEA / 1000.0  # ships of the books: 1 m as 1 mm, 1 t as 1 mg


def tank(name, *, length_mm, beam_mm, height_mm, at, **water):
    """Return water in a box whose bottom's forward edge has its middle at a place [mm]."""
    triangles = box(length_mm=length_mm, beam_mm=beam_mm, height_mm=height_mm, origin_mm=at)
    return Aboard(name=name, tree=MomentTree(triangles), **water)


def ship_with_metacenter_at_8(mass_t):
    """Return the length and beam of a box with KM 8 m at a mass: 18 m wide, draft 8 − √10 m."""
    draft, beam = 8.0 - math.sqrt(10.0), 18.0
    assert draft / 2.0 + beam**2 / (12.0 * draft) == pytest.approx(8.0, rel=1e-12)
    return mass_t / (1.025 * beam * draft), beam


def test_a_tank_half_pumped_out(skin_of):
    """8153.75 t, KG 7.5 m, a full tank of 15 × 10 × 2 m on the keel half pumped out: GM 0.2245 m.

    Derrett and Barrass, Ship Stability for Masters and Mates, 5th ed. 1999, p. 195, Example 1; it
    holds KM at 8 m, which a box of 18 m beam has at the 8000 t that are left.
    """
    length, beam = ship_with_metacenter_at_8(8000.0)
    skin = skin_of(box(length_mm=length, beam_mm=beam, height_mm=12.0))
    half = 0.5 * 15.0 * 10.0 * 2.0 * 1.025
    dry = 8153.75 - 2.0 * half
    height = (8153.75 * 7.5 - 2.0 * half * 1.0) / dry
    middle = length / 2.0
    water = tank(
        "double bottom",
        length_mm=15.0,
        beam_mm=10.0,
        height_mm=2.0,
        at=(middle - 7.5, 0.0, 0.0),
        water_g=1e-3 * half,
    )
    rest = float_flooded(
        skin,
        mass_g=1e-3 * dry,
        center_of_gravity_mm=(middle, 0.0, height),
        density_kg_m3=SEA,
        aboard=[water],
    )
    found = rest.flooded
    assert found.mass_g == exact(8.0)
    assert found.floating.metacentric_height_mm[0] == pytest.approx(0.2245, abs=5e-5)
    assert found.free_surface_loss_mm[0] == exact(15.0 * 10.0**3 / 12.0 * 1.025 / 8000.0)
    solid = found.metacentric_height_solid_mm[0]
    assert solid == exact(8.0 - found.center_of_gravity_mm[2])
    assert rest.upright_is_stable


@pytest.mark.parametrize("divisions", [1, 2, 3])
def test_virtual_loss_of_metacentric_height(skin_of, divisions):
    """(i/V)(ρ₁/ρ₂), over n² for n equal divisions across: fresh water in a ship at sea.

    Derrett and Barrass, Ship Stability for Masters and Mates, 5th ed. 1999, pp. 193–195.
    """
    skin = skin_of(box(length_mm=90.0, beam_mm=18.0, height_mm=12.0))
    each = 12.0 / divisions
    tanks = [
        tank(
            f"tank {k + 1}",
            length_mm=15.0,
            beam_mm=each,
            height_mm=2.0,
            at=(37.5, (k - 0.5 * (divisions - 1)) * each, 0.0),
            water_g=15.0 * each * 1.0 * FRESH,
            density_kg_m3=1000.0,
        )
        for k in range(divisions)
    ]
    found = float_flooded(
        skin,
        mass_g=7.0,
        center_of_gravity_mm=(45.0, 0.0, 5.0),
        density_kg_m3=SEA,
        aboard=tanks,
    ).flooded
    volume = found.floating.displaced_volume_mm3
    loss = 15.0 * 12.0**3 / 12.0 / volume * (1000.0 / SEA) / divisions**2
    assert found.free_surface_loss_mm[0] == exact(loss)
    gm = found.floating.metacentric_height_mm[0]
    assert found.metacentric_height_solid_mm[0] - gm == exact(loss)


def test_permeability_leaves_the_free_surface_its_share(skin_of):
    """A tank that water can fill to 60 %: v = w/(ρκ) and i κ in place of i (closed form)."""
    skin = skin_of(box(length_mm=90.0, beam_mm=18.0, height_mm=12.0))
    water = tank(
        "tank",
        length_mm=15.0,
        beam_mm=12.0,
        height_mm=2.0,
        at=(37.5, 0.0, 0.0),
        water_g=15.0 * 12.0 * 0.5 * FRESH,
        permeability=0.6,
    )
    found = float_flooded(
        skin, mass_g=7.0, center_of_gravity_mm=(45.0, 0.0, 5.0), aboard=[water]
    ).flooded
    (inside,) = found.water
    assert inside.surface_height_mm == exact(0.5 / 0.6)
    assert inside.free_surface_moments_mm4[0] == exact(15.0 * 12.0**3 / 12.0)
    volume = found.floating.displaced_volume_mm3
    assert found.free_surface_loss_mm[0] == exact(0.6 * 15.0 * 12.0**3 / 12.0 / volume)


def test_a_full_tank_is_a_solid_load(skin_of):
    """Full, its water cannot move: the rest is that of the same mass fixed at its center."""
    skin = skin_of(box(length_mm=90.0, beam_mm=18.0, height_mm=12.0))
    water = tank(
        "tank",
        length_mm=15.0,
        beam_mm=12.0,
        height_mm=2.0,
        at=(30.0, 1.0, 0.0),
        water_g=15.0 * 12.0 * 2.0 * FRESH,
    )
    dry, wet = 7.0, water.water_g
    center = np.array([45.0, 0.0, 5.0])
    rest = float_flooded(skin, mass_g=dry, center_of_gravity_mm=center, aboard=[water])
    both = (dry * center + wet * np.array([37.5, 1.0, 1.0])) / (dry + wet)
    solid = float_at(skin, mass_g=dry + wet, center_of_gravity_mm=both).floating
    found = rest.flooded
    assert found.water[0].full
    assert found.free_surface_loss_mm == (0.0, 0.0)
    assert list(found.floating.normal) == pytest.approx(list(solid.normal), abs=1e-10)
    assert found.floating.stiffness_mm == pytest.approx(solid.stiffness_mm, rel=1e-8)
    top = np.array([[x, y, 2.0] for x in (30.0, 45.0) for y in (-5.0, 7.0)])
    assert found.water[0].surface_height_mm == exact((top @ solid.normal).max())


def test_water_in_a_leaning_box_takes_a_wedge(skin_of):
    """Water in a tank held at heel φ shifts by b²/(12 d) tan φ across and half of that tan φ up.

    The closed form of a wall-sided body, for the water instead of the sea.
    """
    skin = skin_of(box(length_mm=200.0, beam_mm=100.0, height_mm=80.0))
    depth, breadth, heel = 10.0, 60.0, 12.0
    water = tank(
        "tank",
        length_mm=80.0,
        beam_mm=breadth,
        height_mm=40.0,
        at=(60.0, 0.0, 5.0),
        water_g=80.0 * breadth * depth * FRESH,
    )
    load = {"mass_g": 600.0, "center_of_gravity_mm": (100.0, 0.0, 30.0), "aboard": [water]}
    tangent = math.tan(math.radians(heel))
    shift = breadth**2 / (12.0 * depth) * tangent
    wet = 80.0 * breadth * depth * FRESH
    for held in (held_flooded(skin, heel_deg=heel, **load), water_at(heel_deg=heel, **load)):
        (inside,) = held.water
        truth = [100.0, shift, 5.0 + 0.5 * depth + 0.5 * shift * tangent]
        assert list(inside.centroid_mm) == exact(truth)
        share = wet / (600.0 + wet)
        moved = np.array([100.0, 0.0, 30.0]) * (1.0 - share) + share * np.array(truth)
        assert list(held.center_of_gravity_mm) == exact(list(moved))
        assert held.mass_g == exact(600.0 + wet)


@given(seed=SEEDS, normal=normals(), data=st.data())
@settings(max_examples=25)
def test_derivatives_of_the_energy(skin_of, seed, normal, data):
    """Gradient against the energy's finite difference, second derivative against the gradient's.

    On irregular bodies with water in two compartments, one of its own density. Along the geodesic
    n(a) = n cos a + e sin a the energy's slope is g(n(a))·n'(a). Central differences over ±ε leave
    ε² of the body's size and, where a surface passes over a corner of a facet, a jump of the second
    derivative of the order ε.
    """
    skin = skin_of(bumpy(seed))
    middle = skin.tree.origin_mm
    density = [None, 1040.0]
    aboard = []
    for k in range(2):
        inner = (0.35 + 0.2 * k) * (bumpy(seed + k + 1) - bumpy(seed + k + 1).mean(axis=(0, 1)))
        tree = MomentTree(inner + middle + np.array([10.0 - 20.0 * k, 5.0, -5.0]))
        share = data.draw(uniform(0.1, 0.9))
        water_g = 0.7 * share * tree.enclosed_mm3 * FRESH
        aboard.append(
            Aboard(
                name=f"tank {k}",
                tree=tree,
                water_g=water_g,
                permeability=0.7,
                density_kg_m3=density[k],
            )
        )
    total = data.draw(uniform(0.15, 0.85)) * skin.volume_mm3 * FRESH
    dry = total - sum(one.water_g for one in aboard)
    assume(dry > 0.05 * total)
    descent = Descent(
        skin.tree,
        Load(mass_g=dry, center_of_gravity_mm=middle + 7.0, density_kg_m3=1000.0),
        aboard,
    )
    angle, step = data.draw(uniform(-3.0, 3.0)), 1e-5
    first = np.cross(normal, UP if abs(normal[2]) < 0.9 else np.array([1.0, 0.0, 0.0]))
    first /= np.linalg.norm(first)
    way = math.cos(angle) * first + math.sin(angle) * np.cross(normal, first)
    before, here, after = (
        descent.settled(turned(normal, k * step * way), None) for k in (-1.0, 0.0, 1.0)
    )
    size = descent.length
    slope = float(here.gradient @ way)
    assert (after.energy - before.energy) / (2.0 * step) == pytest.approx(slope, abs=2e-7 * size)
    along = [
        float(state.gradient @ (math.cos(k * step) * way - k * math.sin(step) * normal))
        for k, state in ((-1.0, before), (1.0, after))
    ]
    stiff = float(way @ here.hessian @ way)
    scale = float(np.abs(here.hessian).max()) + size
    assert (along[1] - along[0]) / (2.0 * step) == pytest.approx(stiff, abs=1e-3 * scale)
    # Without the free surfaces' part it would not do: that part is not lost in the tolerance.
    soft = float(way @ descent.softening(here.water) @ way)
    assume(soft > 1e-2 * scale)
    assert (along[1] - along[0]) / (2.0 * step) != pytest.approx(stiff + soft, abs=1e-3 * scale)


def test_derivatives_on_the_demo_craft(tarnwing_skin):
    """The same on the demo craft's hull with 100 g in a compartment of its bottom."""
    water = tank(
        "bilge",
        length_mm=180.0,
        beam_mm=70.0,
        height_mm=40.0,
        at=(150.0, 0.0, 15.0),
        water_g=100.0,
    )
    descent = flooded_descent(
        tarnwing_skin,
        mass_g=690.0,
        center_of_gravity_mm=(252.0, 0.0, 55.0),
        aboard=[water],
    )
    upright = descent.settled(UP, None)
    step = 1e-4
    for way in upright.directions:
        before, after = (descent.settled(turned(UP, k * step * way), None) for k in (-1.0, 1.0))
        slope = (after.energy - before.energy) / (2.0 * step)
        assert slope == pytest.approx(float(upright.gradient @ way), abs=1e-6)
        bend = (after.energy - 2.0 * upright.energy + before.energy) / step**2
        stiff = float(way @ upright.hessian @ way)
        assert bend == pytest.approx(stiff, rel=1e-4, abs=1e-4 * descent.length)
        # The free surface is no part that the tolerance would hide.
        assert float(way @ descent.softening(upright.water) @ way) > 50e-4 * descent.length


def test_the_heeled_arm_is_that_of_the_water_shifted(skin_of):
    """At a held heel the arm with free water is that of the same load with the water fixed there.

    The water's place at that attitude is all that counts: nothing but the stiffness knows that it
    can move.
    """
    skin = skin_of(box(length_mm=200.0, beam_mm=100.0, height_mm=80.0))
    water = tank(
        "tank",
        length_mm=80.0,
        beam_mm=90.0,
        height_mm=40.0,
        at=(30.0, 0.0, 5.0),
        water_g=80.0 * 90.0 * 8.0 * FRESH,
    )
    load = {"mass_g": 600.0, "center_of_gravity_mm": (100.0, 0.0, 30.0)}
    descent = flooded_descent(skin, aboard=[water], **load)
    state = descent.settled(UP, None)
    for degrees in (5.0, 15.0, 30.0):
        heel = math.radians(degrees)
        state = descent.at_heel(heel, state)
        fixed = flooded_descent(
            skin,
            mass_g=descent.mass_g,
            center_of_gravity_mm=state.gravity + skin.tree.origin_mm,
        )
        same = fixed.at_heel(heel, state)
        assert righting_arm(state, heel) == pytest.approx(righting_arm(same, heel), abs=1e-8)
        assert list(state.normal) == pytest.approx(list(same.normal), abs=1e-9)


def test_no_water_is_no_change(skin_of):
    """0 g in a compartment leaves everything as it was, to the last bit."""
    skin = skin_of(box(length_mm=200.0, beam_mm=100.0, height_mm=80.0))
    empty = tank("tank", length_mm=80.0, beam_mm=90.0, height_mm=40.0, at=(30, 0, 5), water_g=0.0)
    load = {"mass_g": 600.0, "center_of_gravity_mm": (98.0, 1.0, 30.0)}
    found = float_flooded(skin, aboard=[empty], **load).flooded
    dry = float_at(skin, **load).floating
    assert found.water == ()
    assert list(found.floating.normal) == list(dry.normal)
    assert found.floating.stiffness_mm == dry.stiffness_mm


def test_water_can_sink_her(skin_of):
    """More than she can carry is an answer with the grams that are too many, and no error."""
    skin = skin_of(box(length_mm=200.0, beam_mm=100.0, height_mm=50.0))
    water = tank("hull 2", length_mm=90, beam_mm=90, height_mm=45, at=(5, 0, 2), water_g=300.0)
    load = {"mass_g": 800.0, "center_of_gravity_mm": (100.0, 0.0, 20.0), "aboard": [water]}
    rest = float_flooded(skin, **load)
    assert rest.sinks
    assert rest.short_g == exact(100.0)
    assert rest.flooded is None
    assert rest.attitudes == ()
    assert held_flooded(skin, **load) is None


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"water_g": 400.0}, r"hull 2: 400 g of water do not fit in it; it holds 364.5 g"),
        ({"water_g": -1.0}, r"hull 2: -1 g of water: must be 0 or more"),
        ({"water_g": math.nan}, r"hull 2: nan g of water"),
        ({"water_g": 1.0, "permeability": 0.0}, r"hull 2: permeability 0: must be above 0"),
        ({"water_g": 1.0, "permeability": 1.1}, r"hull 2: permeability 1.1"),
        ({"water_g": 1.0, "density_kg_m3": 0.0}, r"hull 2: water of 0 kg/m³"),
    ],
)
def test_water_that_cannot_be_there(skin_of, changes, message):
    """More than a compartment holds, and shares and densities that are none."""
    skin = skin_of(box(length_mm=200.0, beam_mm=100.0, height_mm=50.0))
    with pytest.raises(InputError, match=message):
        float_flooded(
            skin,
            mass_g=300.0,
            center_of_gravity_mm=(100.0, 0.0, 20.0),
            aboard=[
                tank("hull 2", length_mm=90, beam_mm=90, height_mm=45, at=(5, 0, 2), **changes)
            ],
        )


def test_one_compartment_twice(skin_of):
    """Water given twice for one compartment, and an open compartment with water, are refused."""
    skin = skin_of(box(length_mm=200.0, beam_mm=100.0, height_mm=50.0))
    one = tank("hull 2", length_mm=90, beam_mm=90, height_mm=45, at=(5, 0, 2), water_g=10.0)
    load = {"mass_g": 300.0, "center_of_gravity_mm": (100.0, 0.0, 20.0)}
    with pytest.raises(InputError, match="hull 2: water in it is given twice"):
        float_flooded(skin, aboard=[one, one], **load)
