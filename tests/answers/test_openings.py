"""Openings, clearances and the buoyancy up to the first opening, against brute force and cuts."""

import dataclasses

import numpy as np
import pytest
from crafts import body_of, box_body, box_craft, craft_of, floated, opening_at
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import SEEDS, bumpy, normals, uniform

from hullcheck.answers.float_answer import float_answer
from hullcheck.answers.freeboard import reserve_volume_mm3
from hullcheck.answers.heights import clearances
from hullcheck.craft.fittings import Fittings, Propeller, Wing
from hullcheck.craft.openings import Opening
from hullcheck.flotation.floating import held_at

POINTS = st.tuples(uniform(-900, 900), uniform(-400, 400), uniform(-200, 200))
EDGES = st.lists(POINTS, min_size=1, max_size=12).map(np.array)


def said(answer):
    """Return the caveats of an answer by code."""
    return {caveat.code: caveat.message for caveat in answer.warnings}


@given(EDGES, normals())
def test_the_lowest_point_is_the_least_of_all(points, normal):
    """In any attitude no point of an edge, nor of the lines between, lies lower: all are tried."""
    lowest = Opening(name="edge", points_mm=points).lowest_mm(normal)
    assert float(lowest @ normal) == min(float(p @ normal) for p in points)
    shares = np.linspace(0.0, 1.0, 7)[:, None, None]
    between = shares * points + (1.0 - shares) * np.roll(points, 1, axis=0)
    # A rounding of coordinates under 1000 mm.
    assert float((between @ normal).min()) >= float(lowest @ normal) - 1e-12


STATES = st.sampled_from(["open", "taped", "sealed", None])


@settings(max_examples=40)
@given(
    st.lists(st.tuples(POINTS, STATES), min_size=1, max_size=6),
    uniform(295.0, 305.0),
    uniform(-3.0, 3.0),
)
def test_the_lowest_that_is_not_sealed_limits(rows, x, y):
    """Freeboard is min(n·p − h) over what is not sealed, taken here over every point."""
    openings = tuple(opening_at(p, name=f"opening {i}", state=s) for i, (p, s) in enumerate(rows))
    answer = float_answer(box_craft(cg=(x, y, 30.0), openings=openings))
    n, h = np.array(answer.waterline.normal), answer.waterline.height_mm
    heights = {f"opening {i}": float(np.dot(p, n) - h) for i, (p, _) in enumerate(rows)}
    counting = {f"opening {i}" for i, (_, s) in enumerate(rows) if s != "sealed"}
    board = answer.freeboard_mm
    listed = {p.name: p for p in board.points if p.what == "opening"}
    assert {name: p.height_mm for name, p in listed.items()} == pytest.approx(heights, abs=1e-9)
    assert [listed[f"opening {i}"].state for i in range(len(rows))] == [s for _, s in rows]
    if counting:
        least = min(counting, key=heights.get)
        assert board.least == pytest.approx(heights[least], abs=1e-9)
        assert heights[board.at] == pytest.approx(heights[least], abs=1e-9)
        assert board.at in counting
    else:
        assert board.at.startswith("top of the hull at station")


@pytest.mark.parametrize(("state", "least"), [("open", 40.0), ("taped", 40.0), (None, 40.0)])
def test_taped_and_not_stated_let_water_in(state, least):
    """A hatch at z 60 over a 20 mm draft stands 40 mm clear unless it is sealed."""
    answer = float_answer(box_craft(openings=(opening_at((300, 0, 60), state=state),)))
    assert answer.freeboard_mm.least == pytest.approx(least, rel=1e-9)
    assert answer.freeboard_mm.at == "hatch"
    assert ("state-not-stated" in said(answer)) == (state is None)
    assert "all-sealed" not in said(answer)
    assert "no-openings" not in said(answer)


def test_without_one_that_lets_water_in_the_hull_is_read():
    """Sealed or none: 60 mm to the deck of a box of 80 mm, and a word says it is the deck."""
    shut = float_answer(box_craft(openings=(opening_at((300, 0, 60), state="sealed"),)))
    none = float_answer(box_craft())
    for answer in (shut, none):
        assert answer.freeboard_mm.least == pytest.approx(60.0, rel=1e-9)
        assert answer.freeboard_mm.at.startswith("top of the hull at station")
    assert said(shut)["all-sealed"] == (
        "all her openings are sealed: freeboard is read off the top of hull"
    )
    assert "no-openings" not in said(shut)
    assert said(none)["no-openings"].startswith("no openings are known: freeboard is read off")
    assert "all-sealed" not in said(none)


def test_openings_whose_state_is_not_stated_are_named():
    """Each one not stated is named, the unnamed by what it is; those stated are not."""
    openings = (
        opening_at((300, 0, 60), name="vent", state=None),
        opening_at((200, 0, 60), name="canopy"),
        opening_at((180, -26, 72), (320, 26, 72), name="", state=None),
    )
    answer = float_answer(box_craft(openings=openings))
    assert said(answer)["state-not-stated"] == (
        "openings whose state is not stated count as open: vent, opening at station 250, "
        "140 × 52 mm"
    )


@pytest.mark.parametrize(
    ("points", "called"),
    [
        ([(180, -26, 72), (320, 26, 72)], "opening at station 250, 140 × 52 mm"),
        ([(180, -26, 72), (320, -26, 70), (250, 26, 75)], "opening at station 250, 140 × 52 mm"),
        ([(249, -60, 72), (251, 60, 30)], "opening at station 250, 120 × 42 mm"),
        ([(250, 4, 72)], "opening at station 250"),
        ([(-0.2, 4, 72)], "opening at station 0"),
    ],
)
def test_an_unnamed_opening_is_called_by_what_it_is(points, called):
    """Middle station and the two greatest extents of its box, rounded: read off by eye here."""
    opening = Opening(points_mm=points)
    assert opening.called == called
    assert opening.in_doubt
    assert Opening(name="vent", points_mm=points).called == "vent"
    assert not Opening(name="vent", points_mm=points, state="sealed").in_doubt


@given(uniform(22.0, 79.0))
def test_reserve_of_a_level_box_is_its_area_times_the_height(z):
    """600 × 100 mm times what lies between the 20 mm line and the opening, in cm³ and per cent."""
    answer = float_answer(box_craft(openings=(opening_at((120, 30, z)),)))
    reserve = answer.reserve_buoyancy
    assert reserve.to_first_opening_cm3 == pytest.approx(60.0 * (z - 20.0), rel=1e-9)
    assert reserve.to_first_opening_percent == pytest.approx(5.0 * (z - 20.0), rel=1e-9)
    assert reserve.limited_by == "hatch"
    assert reserve.envelope_ratio == pytest.approx(4.0, rel=1e-12)


@pytest.mark.parametrize("z", [5.0, 19.9])
def test_an_opening_under_water_leaves_no_reserve(z):
    """Water stands over the opening already: nothing is left up to it."""
    answer = float_answer(box_craft(openings=(opening_at((300, 0, z)),)))
    assert answer.freeboard_mm.least == pytest.approx(z - 20.0, rel=1e-9)
    assert answer.reserve_buoyancy.to_first_opening_cm3 == 0.0


@settings(max_examples=40)
@given(uniform(285.0, 315.0), uniform(-1.5, 1.5), uniform(100.0, 500.0), uniform(45.0, 60.0))
def test_reserve_of_a_trimmed_box_is_sunk_level(x, y, station, z):
    """Sunk level by f the surface cuts the walls f/n_z higher all round: L B f/n_z more volume.

    Both planes meet the walls alone: the draft stays within 10 and 70 mm at all four corners.
    """
    answer = float_answer(box_craft(cg=(x, y, 30.0), openings=(opening_at((station, 0.0, z)),)))
    n, h = np.array(answer.waterline.normal), answer.waterline.height_mm
    freeboard = n @ (station, 0.0, z) - h
    for corner in [(a, b) for a in (0.0, 600.0) for b in (-50.0, 50.0)]:
        for rise in (0.0, freeboard):
            assert 0.0 < (h + rise - n[:2] @ corner) / n[2] < 80.0
    volume = 600.0 * 100.0 * freeboard / n[2]
    assert answer.reserve_buoyancy.to_first_opening_cm3 == pytest.approx(1e-3 * volume, rel=1e-9)


@settings(max_examples=25)
@given(SEEDS, uniform(0.2, 0.6), uniform(0.0, 0.3), uniform(-12.0, 12.0), uniform(-20.0, 20.0))
def test_reserve_is_what_a_solid_kernel_cuts(seed, share, rise, trim, heel):
    """The slice between two planes, by manifold3d's `trim_by_plane` and `volume`, on any body."""
    import manifold3d

    triangles = bumpy(seed)
    craft = craft_of(body_of(triangles), mass_g=1.0)
    mass = share * craft.skin.volume_mm3 * 1e-3
    held = held_at(craft.skin, mass_g=mass, density_kg_m3=1000.0, trim_deg=trim, heel_deg=heel)
    rise_mm = rise * float((craft.skin.tree.high_mm - craft.skin.tree.low_mm)[2])
    points, faces = np.unique(triangles.reshape(-1, 3), axis=0, return_inverse=True)
    solid = manifold3d.Manifold(manifold3d.Mesh64(points, faces.reshape(-1, 3).astype("uint64")))
    assert solid.status() == manifold3d.Error.NoError
    n, h = held.normal, held.height_mm
    lower, upper = (solid.trim_by_plane(-n, -height).volume() for height in (h, h + rise_mm))
    # Both kernels know the volumes to some 1e-12 of the whole.
    near = 1e-9 * craft.skin.volume_mm3
    assert reserve_volume_mm3(craft, held, rise_mm) == pytest.approx(upper - lower, abs=near)


def test_reserve_ends_at_the_top_of_the_skin():
    """An opening high above the deck leaves all the box has over the line: 3600 cm³."""
    answer = float_answer(box_craft(openings=(opening_at((300, 0, 500)),)))
    assert answer.freeboard_mm.least == pytest.approx(480.0, rel=1e-12)
    assert answer.reserve_buoyancy.to_first_opening_cm3 == pytest.approx(3600.0, rel=1e-9)


def turned(normal, height):
    """Return a box held anywhere, its surface then turned to a normal and a height."""
    held = held_at(box_craft().skin, mass_g=1200.0, density_kg_m3=1000.0)
    return dataclasses.replace(held, normal=normal, height_mm=height)


RIM = np.linspace(0.0, 2.0 * np.pi, 100_001)


@settings(max_examples=60)
@given(normals(), uniform(-100.0, 100.0), POINTS, uniform(20.0, 400.0), uniform(-90.0, 90.0))
def test_the_disc_is_lowest_where_its_rim_is(normal, height, hub, diameter, up):
    """Of 100,000 points around the rim none is lower, and one is as low as rounding tells.

    The rim is drawn from two directions across the thrust: body y, and up turned with the thrust.
    Neighboring points are 2π/1e5 apart, which leaves r (π/1e5)²/2 = 1e-7 mm at 200 mm of radius.
    """
    propeller = Propeller(hub_mm=hub, diameter_mm=diameter, up_deg=up)
    craft = box_craft(fittings=Fittings(propeller=propeller))
    angle = np.radians(up)
    across = np.array([0.0, 1.0, 0.0]), np.array([np.sin(angle), 0.0, np.cos(angle)])
    assert propeller.axis @ across[1] == pytest.approx(0.0, abs=1e-15)
    rim = hub + 0.5 * diameter * (
        np.cos(RIM)[:, None] * across[0] + np.sin(RIM)[:, None] * across[1]
    )
    floating = turned(normal, height)
    (found,) = clearances(craft, floating)
    truth = float((rim @ normal).min() - height)
    assert (found.name, found.what) == ("propeller disc", "propeller disc")
    assert truth - 2e-7 <= found.height_mm <= truth + 1e-9
    assert np.linalg.norm(np.array(found.point_mm) - hub) <= 0.5 * diameter + 1e-9


@pytest.mark.parametrize(
    ("up", "axis"),
    [(0.0, (-1.0, 0.0, 0.0)), (90.0, (0.0, 0.0, 1.0)), (30.0, (-(0.75**0.5), 0.0, 0.5))],
)
def test_thrust_points_forward_and_up(up, axis):
    """Since x runs aft, thrust points along −x, and turns towards +z: cosine and sine."""
    propeller = Propeller(hub_mm=(330.0, 0.0, 150.0), diameter_mm=140.0, up_deg=up)
    assert propeller.axis == pytest.approx(axis, abs=1e-15)


def test_a_disc_level_with_the_water_is_as_low_all_over():
    """A disc that lies flat over the water stands as high as its hub: 150 − 20 mm."""
    propeller = Propeller(hub_mm=(330.0, 0.0, 150.0), diameter_mm=140.0, up_deg=90.0)
    craft = box_craft(fittings=Fittings(propeller=propeller))
    (found,) = clearances(craft, floated(craft))
    assert found.height_mm == pytest.approx(130.0, rel=1e-9)


@given(normals(), uniform(-100.0, 100.0), POINTS, uniform(0.0, 200.0))
def test_a_wing_tip_is_the_lower_of_its_edges(normal, height, tip, chord):
    """Starboard and port tip, leading and trailing edge: the lowest of 1001 points of the chord."""
    craft = box_craft(fittings=Fittings(wing=Wing(tip_mm=tip, chord_mm=chord)))
    found = clearances(craft, turned(normal, height))
    assert [point.name for point in found] == ["starboard wing tip", "port wing tip"]
    aft = np.linspace(0.0, chord, 1001)[:, None] * np.array([1.0, 0.0, 0.0])
    for point, side in zip(found, (1.0, -1.0), strict=True):
        edge = np.array([tip[0], side * abs(tip[1]), tip[2]]) + aft
        assert point.height_mm == pytest.approx(float((edge @ normal).min() - height), abs=1e-9)
        assert point.what == "wing tip"
        assert np.sign(point.point_mm[1]) == side * (tip[1] != 0.0)


def test_heeled_to_starboard_the_starboard_tip_is_the_lower():
    """A CG 1 mm to starboard lowers the starboard tip by 2 y tan φ or so; the answer lists both."""
    wing = Wing(tip_mm=(210.0, 450.0, 95.0), chord_mm=120.0)
    answer = float_answer(box_craft(cg=(300.0, 1.0, 30.0), fittings=Fittings(wing=wing)))
    assert answer.heel_deg > 0.0
    starboard, port = answer.clearances_mm
    apart = 900.0 * np.sin(np.radians(answer.heel_deg)) * np.cos(np.radians(answer.trim_deg))
    assert port.height_mm - starboard.height_mm == pytest.approx(apart, rel=1e-9)


def test_no_fittings_no_clearances():
    """Without a wing or a propeller on the sheet nothing is said of either."""
    assert float_answer(box_craft()).clearances_mm == ()


def test_openings_are_listed_before_the_hull():
    """The order of the sheet is kept, and the top of the hull comes after all openings."""
    openings = (opening_at((9, 0, 70), name="b"), opening_at((9, 0, 60), name="a", state="sealed"))
    points = float_answer(box_craft(openings=openings)).freeboard_mm.points
    assert [p.name for p in points[:2]] == ["b", "a"]
    assert {p.what for p in points[2:]} == {"top of the hull"}
    assert len(points) > 2


def test_there_is_no_station_minus_zero():
    """A bow 0.3 mm ahead of the datum is at station 0 when it is rounded."""
    craft = craft_of(box_body(origin_mm=(-0.3, 0.0, 0.0)), mass_g=1200.0)
    assert float_answer(craft).freeboard_mm.at == "top of the hull at station 0"
