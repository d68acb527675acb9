"""What must hold for any body and any load: nothing here needs a known answer.

The bodies are irregular and not convex, or the demo craft. Rounding of sums over some hundred
facets stays below 1e-12 of the whole; ROUNDING leaves it a tenfold margin.
"""

import itertools
import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from strategies import bumpy, bumpy_bodies, loads_on, normals, uniform

from hullcheck.flotation.descent import Descent
from hullcheck.flotation.floating import float_at, held_at
from hullcheck.flotation.load import Load
from hullcheck.geometry.attitude import angle_between
from hullcheck.geometry.frames import AXES, body_rotation
from hullcheck.geometry.moment_tree import under_directly

pytestmark = pytest.mark.no_cover  # covered elsewhere by quicker tests; tracing takes time

ROUNDING = 1e-11
SIZE = 150.0
"""The scale of the irregular bodies [mm]."""


def tangents(normal):
    """Return two unit vectors square to a normal and to each other."""
    first = np.cross(normal, np.eye(3)[int(np.argmin(np.abs(normal)))])
    first /= np.linalg.norm(first)
    return first, np.cross(normal, first)


@given(triangles=bumpy_bodies(), normal=normals(), share=uniform(-0.9, 0.9))
def test_below_and_above_make_the_whole(skin_of, triangles, normal, share):
    """What lies under a plane and what lies over it add up to the body, centers and all."""
    tree = skin_of(triangles).tree
    height = share * tree.length_mm / 2
    under, over = tree.under(normal, height), tree.under(-normal, -height)
    whole = tree.under(normal, 2.0 * tree.length_mm)
    assert under.volume + over.volume == pytest.approx(whole.volume, rel=ROUNDING)
    assert list(under.position_integral + over.position_integral) == pytest.approx(
        list(whole.position_integral), abs=ROUNDING * whole.volume * tree.length_mm
    )
    assert under.wetted_area + over.wetted_area == pytest.approx(whole.wetted_area, rel=ROUNDING)
    assert under.area == pytest.approx(over.area, abs=ROUNDING * whole.wetted_area)
    assert list(under.second_moments.ravel()) == pytest.approx(
        list(over.second_moments.ravel()),
        abs=ROUNDING * whole.wetted_area * tree.length_mm**2,
    )


@given(triangles=bumpy_bodies(), normal=normals(), share=uniform(-1.1, 1.1))
def test_tree_and_direct_pass_agree(skin_of, triangles, normal, share):
    """The tree gives what one pass over every triangle gives, to 1e-12 of each quantity's scale."""
    skin = skin_of(triangles)
    tree = skin.tree
    size = tree.length_mm
    height = share * size / 2
    found = tree.under(normal, height)
    truth = under_directly(skin.triangles_mm, normal, height, tree.origin_mm)
    for name, power in (
        ("volume", 3),
        ("height_integral", 4),
        ("position_integral", 4),
        ("area", 2),
        ("wetted_area", 2),
    ):
        assert np.abs(getattr(found, name) - getattr(truth, name)).max() <= 1e-12 * size**power
    if truth.area > 1e-3 * size**2:
        assert np.abs(found.area_centroid - truth.area_centroid).max() <= 1e-9 * size
        assert np.abs(found.second_moments - truth.second_moments).max() <= 1e-12 * size**4


@given(
    triangles=bumpy_bodies(), data=st.data(), scale=uniform(0.01, 100.0), heel_deg=uniform(-60, 60)
)
def test_scale(skin_of, triangles, data, scale, heel_deg):
    """A body s times as large with s³ the load floats alike, every length s times as long."""
    skin = skin_of(triangles)
    mass, _ = data.draw(loads_on(skin))
    one = held_at(skin, mass_g=mass, density_kg_m3=1000.0, heel_deg=heel_deg)
    two = held_at(
        skin_of(scale * triangles),
        mass_g=scale**3 * mass,
        density_kg_m3=1000.0,
        heel_deg=heel_deg,
    )
    reach = float(np.abs(triangles).max())
    assert two.displaced_volume_mm3 == pytest.approx(
        scale**3 * one.displaced_volume_mm3, rel=ROUNDING
    )
    assert two.waterplane_area_mm2 == pytest.approx(scale**2 * one.waterplane_area_mm2, rel=1e-9)
    for name in ("center_of_buoyancy_mm", "center_of_flotation_mm", "metacentric_radius_mm"):
        assert list(np.array(getattr(two, name)) / scale) == pytest.approx(
            list(getattr(one, name)), abs=1e-9 * reach
        )


@given(
    triangles=bumpy_bodies(),
    shares=st.lists(uniform(0.02, 0.98), min_size=2, max_size=5, unique=True),
    trim_deg=uniform(-80, 80),
    heel_deg=uniform(-180, 180),
)
def test_heavier_sits_deeper(skin_of, triangles, shares, trim_deg, heel_deg):
    """At a fixed attitude more mass never floats higher."""
    skin = skin_of(triangles)
    levels = [
        held_at(
            skin,
            mass_g=1e-3 * share * skin.volume_mm3,
            density_kg_m3=1000.0,
            trim_deg=trim_deg,
            heel_deg=heel_deg,
        ).height_mm
        for share in sorted(shares)
    ]
    # Volumes are solved to 1e-13: two shares closer than that may change places.
    assert (np.diff(levels) > -1e-9 * SIZE).all()
    assert levels[-1] > levels[0] or max(shares) - min(shares) < 1e-9


@given(triangles=bumpy_bodies(), normal=normals(), share=uniform(0.1, 0.9), data=st.data())
@settings(max_examples=50)
def test_center_of_buoyancy_moves_parallel_to_the_plane(skin_of, triangles, normal, share, data):
    """Tilted at fixed volume, B moves square to n and by −(J/V) dn: the energy's gradient rule.

    Central differences over ±ε leave ε² of the body's size, and its facets a jump of the same
    order in the second derivative.
    """
    skin = skin_of(triangles)
    load = Load(
        mass_g=1e-3 * share * skin.volume_mm3,
        center_of_gravity_mm=np.zeros(3),
        density_kg_m3=1000.0,
    )
    descent = Descent(skin.tree, load)
    first, second = tangents(normal)
    angle = data.draw(uniform(-3.0, 3.0))
    turn, step = math.cos(angle) * first + math.sin(angle) * second, 1e-5
    before, here, after = (
        descent.settled(math.cos(k * step) * normal + math.sin(k * step) * turn, None)
        for k in (-1.0, 0.0, 1.0)
    )
    assume(here.moments.area > 1e-2 * SIZE**2)
    moved = (after.buoyancy - before.buoyancy) / (2.0 * step)
    stiff = here.moments.second_moments / descent.volume
    # Positions are known to about 1e-13 of the size over the share: 1e-7 after division by ε.
    allowed = 1e-3 * float(np.abs(stiff).max()) + 1e-6 * SIZE
    assert float(moved @ normal) == pytest.approx(0.0, abs=2e-4 * np.linalg.norm(moved) + 1e-4)
    assert list(moved) == pytest.approx(list(-stiff @ turn), abs=allowed)


@given(seed=st.integers(0, 10**6), data=st.data())
@settings(max_examples=12)
def test_answer_holds_by_the_direct_pass(skin_of, descent_of, seed, data):
    """At rest mass and moment are met by the direct pass, and the energy is the least around.

    Mass to 1e-6 of itself and the lever to 1e-6 of the length; the energy against 200 directions,
    the draft settled anew at each.
    """
    skin = skin_of(bumpy(seed))
    mass, center = data.draw(loads_on(skin))
    rest = float_at(skin, mass_g=mass, center_of_gravity_mm=center)
    found, size = rest.floating, skin.tree.length_mm
    assert_balanced(skin, mass, center, found)
    descent = descent_of(skin, mass_g=mass, center_of_gravity_mm=center)
    bottom = descent.settled(found.normal, None)
    assert found.stiffness_mm[0] > 0.0
    first, second = tangents(found.normal)
    for k in range(200):
        # Four rings; the energy rises by half the stiffness times the angle squared.
        angle, tilt = 2.0 * math.pi * k / 50.0, (2e-4, 5e-4, 1e-3, 2e-3)[k // 50]
        aside = math.cos(angle) * first + math.sin(angle) * second
        around = math.cos(tilt) * found.normal + math.sin(tilt) * aside
        risen = descent.settled(around, bottom.height).energy - bottom.energy
        assert risen > -1e-13 * size
        if found.stiffness_mm[0] > 1e-2 * size:
            assert risen > 0.25 * found.stiffness_mm[0] * tilt**2


def assert_balanced(skin, mass, center, found):
    """Assert that one pass over every triangle finds mass and moment met, to 1e-6 of the mass."""
    origin = skin.tree.origin_mm
    under = under_directly(
        skin.triangles_mm, found.normal, found.height_mm - found.normal @ origin, origin
    )
    assert abs(1e-3 * under.volume - mass) < 1e-6 * mass
    lever = np.asarray(center) - origin - under.position_integral / under.volume
    aside = lever - (lever @ found.normal) * found.normal
    assert np.linalg.norm(aside) < 1e-6 * skin.tree.length_mm


@given(seed=st.integers(0, 10**6), data=st.data())
@settings(max_examples=12)
def test_files_and_axes_turned_together_change_nothing(skin_of, seed, data):
    """A file in any of the 24 right-handed axes, told which they are, floats to the same bits."""
    triangles = bumpy(seed)
    skin = skin_of(triangles)
    mass, center = data.draw(loads_on(skin))
    truth = float_at(skin, mass_g=mass, center_of_gravity_mm=center).floating
    pairs = [p for p in itertools.product(AXES, AXES) if p[0][1] != p[1][1]]
    assert len(pairs) == 24
    forward, up = data.draw(st.sampled_from(pairs))
    turn = body_rotation(forward=forward, up=up)
    in_file, center_in_file = triangles @ turn, center @ turn
    found = float_at(
        skin_of(in_file @ turn.T), mass_g=mass, center_of_gravity_mm=center_in_file @ turn.T
    ).floating
    assert list(found.normal) == list(truth.normal)
    assert found.height_mm == truth.height_mm
    assert list(found.center_of_buoyancy_mm) == list(truth.center_of_buoyancy_mm)


@given(seed=st.integers(0, 10**6), data=st.data(), far=st.sampled_from([1.0, 1e3, 1e7]))
@settings(max_examples=12)
def test_another_datum_changes_only_stations(skin_of, seed, data, far):
    """A datum elsewhere, 10 km off at the most, moves stations and leaves attitude and levers."""
    triangles = bumpy(seed)
    skin = skin_of(triangles)
    mass, center = data.draw(loads_on(skin))
    shift = far * np.array([1.0, -0.5, 0.25])
    # The coordinates themselves are rounded: 2e-9 mm at 10 km, against a stiffness of some mm.
    one = float_at(skin, mass_g=mass, center_of_gravity_mm=center)
    assume(one.floating.stiffness_mm[0] > 1.0)
    two = float_at(skin_of(triangles + shift), mass_g=mass, center_of_gravity_mm=center + shift)
    allowed = 1e-8 * (1.0 + 1e-7 * far)
    assert angle_between(one.floating.normal, two.floating.normal) < 20.0 * allowed
    assert list(two.floating.center_of_buoyancy_mm - shift) == pytest.approx(
        list(one.floating.center_of_buoyancy_mm), abs=1e3 * allowed
    )
    assert two.floating.metacentric_radius_mm == pytest.approx(
        one.floating.metacentric_radius_mm, rel=1e-6
    )


@given(seed=st.integers(0, 10**6), data=st.data())
@settings(max_examples=12)
def test_mirror_image_heels_the_other_way(skin_of, seed, data):
    """Port and starboard changed over, she heels as far to the other side and trims the same."""
    triangles = bumpy(seed)
    skin = skin_of(triangles)
    mass, center = data.draw(loads_on(skin))
    swap = np.array([1.0, -1.0, 1.0])
    one = float_at(skin, mass_g=mass, center_of_gravity_mm=center).floating
    assume(one.stiffness_mm[0] > 1.0)
    two = float_at(
        skin_of((triangles * swap)[:, ::-1]), mass_g=mass, center_of_gravity_mm=center * swap
    ).floating
    assert angle_between(one.normal * swap, two.normal) < 1e-7
    assert two.height_mm == pytest.approx(one.height_mm, abs=1e-6)


def test_demo_craft_is_alike_on_both_sides(tarnwing_skin):
    """The demo craft, loaded on her center plane, floats without heel; a load aside turns over."""
    found = float_at(tarnwing_skin, mass_g=690.0, center_of_gravity_mm=(252.0, 0.0, 31.0)).floating
    assert found.heel_deg == pytest.approx(0.0, abs=1e-8)
    sides = [
        float_at(tarnwing_skin, mass_g=690.0, center_of_gravity_mm=(252.0, y, 31.0)).floating
        for y in (3.0, -3.0)
    ]
    assert sides[0].heel_deg > 1.0
    assert sides[0].heel_deg == pytest.approx(-sides[1].heel_deg, abs=1e-7)
    assert sides[0].trim_deg == pytest.approx(sides[1].trim_deg, abs=1e-7)
