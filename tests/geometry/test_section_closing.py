"""Sections closed after their neighbors: what is bridged, and what is not, in closed form."""

import numpy as np
import pytest
import shapely

from hullcheck.geometry.section_closing import SLIT_MM, closed_after, closed_sections
from hullcheck.geometry.section_lines import whole

BEAM, HEIGHT, WALL = 100.0, 80.0, 2.0
FULL = shapely.box(-50.0, 0.0, 50.0, HEIGHT)
TUBE = FULL.difference(shapely.box(WALL - 50.0, WALL, 50.0 - WALL, HEIGHT - WALL))


def area(*shapes):
    """Return regions as the sections have them."""
    return [whole(shape) for shape in shapes]


def mouth(half=20.0, *, low=70.0):
    """Return a thin wall with a mouth cut into its deck, a "C" lying on its back."""
    return whole(TUBE.difference(shapely.box(-half, low, half, 90.0)))


def test_a_mouth_is_closed_straight_from_rim_to_rim():
    """A chord of 40 mm in the deck's own line: the area is all of beam × height."""
    (full,) = area(FULL)
    closed = closed_after(mouth(), full)
    assert closed.area == pytest.approx(BEAM * HEIGHT, rel=1e-6)
    assert closed.bounds == pytest.approx((-50.0, 0.0, 50.0, HEIGHT))


def test_a_mouth_under_an_arch_is_closed_straight():
    """Its neighbor's deck is arched 12 mm; where the opening is the chord stays flat."""
    arch = FULL.union(shapely.Polygon([(-50, HEIGHT), (0, HEIGHT + 12.0), (50, HEIGHT)]))
    inside = arch.buffer(-WALL, join_style="mitre")
    walls = arch.difference(inside).difference(shapely.box(-20.0, 60.0, 20.0, 200.0))
    closed = closed_after(whole(walls), whole(arch))
    # The arch above the chord between the rims at y = ±20: a triangle 40 wide, 12 × 20/50 high.
    assert closed.area == pytest.approx(arch.area - 0.5 * 40.0 * 12.0 * 0.4, rel=1e-5)


@pytest.mark.parametrize(("deep", "bridged"), [(4.5, False), (5.5, True)])
def test_a_recess_is_bridged_from_5_mm_on(deep, bridged):
    """A recess 60 mm wide in a solid: left as it is when shallower than 5 mm."""
    own = FULL.difference(shapely.box(-30.0, HEIGHT - deep, 30.0, HEIGHT))
    (own, full) = area(own, FULL)
    closed = closed_after(own, full)
    assert closed.area == pytest.approx((full if bridged else own).area, rel=1e-6)


def test_a_narrow_well_is_bridged_too():
    """12 mm wide and 12 mm deep in the bottom: 1.8 % of the section, but deeper than 5 mm."""
    own, full = area(FULL.difference(shapely.box(-6.0, 0.0, 6.0, 12.0)), FULL)
    assert closed_after(own, full).area == pytest.approx(full.area, rel=1e-6)


def test_what_lacks_little_is_taken_as_it_is():
    """Less than 2 % smaller than its neighbor: the very same section."""
    own, full = area(shapely.box(-50.0, 0.0, 50.0, 0.985 * HEIGHT), FULL)
    assert closed_after(own, full) is own


def test_what_was_outside_before_stays_outside():
    """A "C" that opens where the neighbor has nothing encloses no more than itself."""
    own, low = area(TUBE.difference(shapely.box(-20.0, 70.0, 20.0, 90.0)), FULL)
    beside = whole(shapely.box(60.0, 0.0, 160.0, HEIGHT))
    assert closed_after(own, beside).area == pytest.approx(own.area, rel=1e-9)
    assert closed_after(own, low).area > own.area


def test_a_hatch_is_closed_along_the_hull():
    """Closed tubes fore and aft, a mouth for 20 mm between them: every section is the full one."""
    stations = np.arange(0.0, 60.0, 2.0)
    open_ = (stations > 20.0) & (stations < 40.0)
    raw = [mouth() if o else whole(FULL) for o in open_]
    for region in closed_sections(raw, stations):
        assert region.area == pytest.approx(BEAM * HEIGHT, rel=1e-6)


@pytest.mark.parametrize("aft_first", [False, True])
def test_a_step_is_no_opening(aft_first):
    """Where the bottom is 10 mm higher from one station on nothing is bridged, whichever way."""
    stations = np.arange(0.0, 60.0, 2.0)
    high = whole(shapely.box(-50.0, 10.0, 50.0, HEIGHT))
    raw = [whole(FULL) if x < 30.0 else high for x in stations]
    raw = raw[::-1] if aft_first else raw
    closed = closed_sections(raw, stations)
    assert [region.area for region in closed] == pytest.approx([r.area for r in raw], rel=1e-9)


def test_a_mouth_at_a_step_is_closed_on_both_sides():
    """A deck opening that runs past the step: fore and aft of it each section is its own full."""
    stations = np.arange(0.0, 60.0, 2.0)
    high = shapely.box(-50.0, 10.0, 50.0, HEIGHT)
    hollow = high.difference(high.buffer(-WALL, join_style="mitre"))
    cut = shapely.box(-20.0, 70.0, 20.0, 90.0)
    raw, full = [], []
    for x in stations:
        sides, walls = (FULL, TUBE) if x < 30.0 else (high, hollow)
        raw.append(whole(walls.difference(cut) if 16.0 < x < 44.0 else sides))
        full.append(sides.area)
    closed = closed_sections(raw, stations)
    assert [region.area for region in closed] == pytest.approx(full, rel=1e-6)


@pytest.mark.parametrize(("wide", "arched"), [(0.5, True), (3.0, False)])
def test_a_slit_across_x_is_closed_as_its_sides_are(wide, arched):
    """Up to 0.7 mm the sides' own arch goes through; a wider gap is closed by a flat chord."""
    assert SLIT_MM == 0.7
    arch = FULL.union(shapely.Polygon([(-50, HEIGHT), (0, HEIGHT + 12.0), (50, HEIGHT)]))
    walls = arch.difference(arch.buffer(-WALL, join_style="mitre"))
    walls = walls.difference(shapely.box(-20.0, 60.0, 20.0, 200.0))
    fore = np.arange(0.0, 20.0, 2.0)
    between = np.array([18.0 + 0.05, 18.0 + wide - 0.05])
    aft = 18.0 + wide + np.arange(0.0, 20.0, 2.0)
    stations = np.concatenate([fore, between, aft])
    slit = (stations > 18.0) & (stations < 18.0 + wide)
    raw = [whole(walls if s else arch) for s in slit]
    flat = arch.area - 0.5 * 40.0 * 12.0 * 0.4
    for region, within in zip(closed_sections(raw, stations), slit, strict=True):
        expected = flat if within and not arched else arch.area
        assert region.area == pytest.approx(expected, rel=1e-5)


def test_an_open_boat_is_closed_flat_at_her_rim():
    """No section has a deck: the widest is believed as its hull, all others after it.

    The "U" is a wall of 2 mm, 100 mm wide; sides of the bow and stern are lower, on a line.
    """
    stations = np.arange(0.0, 40.0, 2.0)
    heights = np.linspace(60.0, HEIGHT, len(stations))
    raw = []
    for height in heights:
        room = shapely.box(WALL - 50.0, WALL, 50.0 - WALL, 200.0)
        raw.append(whole(shapely.box(-50.0, 0.0, 50.0, height).difference(room)))
    for region, height in zip(closed_sections(raw, stations), heights, strict=True):
        assert region.area == pytest.approx(BEAM * height, rel=1e-5)


def test_sections_that_close_are_not_changed():
    """A hull that widens and narrows without any opening: each section is its own."""
    stations = np.arange(0.0, 100.0, 2.0)
    raw = [whole(shapely.Point(0.0, 0.0).buffer(10.0 + 8.0 * np.sin(0.05 * x))) for x in stations]
    for own, closed in zip(raw, closed_sections(raw, stations), strict=True):
        assert closed.area == pytest.approx(own.area, rel=1e-12)
