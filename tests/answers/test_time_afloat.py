"""Time afloat: boxes in closed form, leaks of every kind, and which leak counts."""

import itertools
import math

import numpy as np
import pytest
from crafts import WATER, box_body, craft_of, opening_at
from flood_making import (
    LEAK,
    NOON,
    answered_briefly,
    box,
    box_build,
    crack,
    flooder_of,
    hole,
    logbook_of,
    room_of,
)
from leak_boxes import LeakingBox
from scipy.integrate import solve_ivp

from hullcheck.answers.flood_places import BilgePoint, compartments_behind, distance_mm
from hullcheck.answers.flood_states import Flooder
from hullcheck.answers.time_afloat import breaches_of_test, known_leaks
from hullcheck.answers.time_afloat_fill import Filling
from hullcheck.answers.time_afloat_laws import Course, leak_time
from hullcheck.answers.time_afloat_leaks import Breach, net_heads, sheet_breach
from hullcheck.craft.compartments import compartments_of
from hullcheck.craft.fittings import Fittings, Leak, Seam
from hullcheck.craft.limits import Limits
from hullcheck.craft.log_records import Entry, LeakTest, Strike
from hullcheck.craft.logbook import Logbook
from hullcheck.errors import InputError
from hullcheck.flotation.leak_laws import Hole, fluid_factor
from hullcheck.water import fresh_water, sea_water

A_MM2 = 20000.0
"""Of the box of 200 × 100 mm; it weighs 500 g and floats 25 mm deep in water of 1 g/cm³."""
FLOW_G_S = Hole(diameter_mm=1.0).flow_g_s(25.0, WATER)
"""Of a hole of 1 mm under that draft, C_d 0.62."""
SAME = {"rel": 2e-7, "abs": 0.0}
"""Breaks are narrowed to 1e-8 of what fits in; quadrature adds less."""


def _box_craft(opening_z=60.0, **more):
    """Return that box, 80 mm high, with an opening."""
    given = {"mass_g": 500.0, "cg": (100.0, 0.0, 10.0)}
    openings = (opening_at((100.0, 0.0, opening_z)),)
    return craft_of(box_body(200.0, 100.0, 80.0), **{**given, "openings": openings, **more})


def _room(inner_mm2):
    """Return the room in it, of a floor area, down to the bottom."""
    if inner_mm2 == A_MM2:
        return room_of(box(200.0, 100.0, 79.0))
    return room_of(box(190.0, 90.0, 79.0, (5.0, 0.0, 0.0)))


def _told(z_mm=0.0, law=None, flow_g_s=FLOW_G_S):
    """Return a leak that by each law lets in a flow as she floats dry, at a height."""
    head = 25.0 - z_mm
    both = {"hole": 60.0 * flow_g_s / math.sqrt(head), "crack": 60.0 * flow_g_s / head}
    chosen = both if law is None else {law: both[law]}
    return Breach(
        name="leak", what="", lines_mm=(np.array([[100.0, 0.0, z_mm]]),), strengths=chosen
    )


def _seconds(found):
    """Return both times to the first limit [s]."""
    return tuple(None if t is None else 60.0 * t for t in (found.hole_min, found.crack_min))


@pytest.mark.parametrize("inner_mm2", [A_MM2, 190.0 * 90.0])
def test_a_box_loses_its_freeboard_in_closed_form(inner_mm2):
    """Head stays with thin walls, falls where less fits in: closed forms of `LeakingBox`."""
    known = LeakingBox(flow_g_s=FLOW_G_S, inner_mm2=inner_mm2)
    filling = Filling(flooder=flooder_of(_box_craft(), _room(inner_mm2)), compartment="hull")
    found = leak_time(_told(), filling)
    assert found.limited_by == "opening_under"
    assert found.breaks[0].water_g == pytest.approx(700.0, rel=1e-6)
    hole_s, crack_s = _seconds(found)
    assert hole_s == pytest.approx(known.seconds("hole"), **SAME)
    assert crack_s == pytest.approx(known.seconds("crack"), **SAME)


def test_the_numbers_of_those_closed_forms():
    """200 × 100 mm, 500 g, 35 mm, a hole of 1 mm: 2052.9 s; 190 × 90 inside: 2191.8 and 2343.7 s.

    Worked by hand from t = A F/Q and 2(√h₀ − √h₁)/(k C_d a √(2g)), ln(h₀/h₁)/(k c).
    """
    thin = Filling(flooder=flooder_of(_box_craft(), _room(A_MM2)), compartment="hull")
    assert 60.0 * leak_time(hole(1.0), thin).hole_min == pytest.approx(2052.9, abs=0.05)
    thick = Filling(flooder=flooder_of(_box_craft(), _room(17100.0)), compartment="hull")
    times = _seconds(leak_time(_told(), thick))
    assert times == pytest.approx((2191.8, 2343.7), abs=0.05)


def test_a_leak_above_the_floor_in_closed_form():
    """Until the water inside reaches it the head grows with the draft; after that it stays.

    h = h₀ + v/A: hole t = 2A(√(h₀ + v/A) − √h₀)/(C_d a √(2g)), crack (A/c) ln(1 + v/(A h₀)); then
    both levels rise alike, and Q stays what it is under the whole draft of 25 mm.
    """
    z = 15.0
    craft = _box_craft(opening_z=75.0, limits=Limits(freeboard_mm=42.0))
    filling = Filling(flooder=flooder_of(craft, _room(A_MM2)), compartment="hull")
    breaks = {one.limit: one for one in leak_time(_told(z), filling).breaks}
    head = 25.0 - z
    # Freeboard 50 mm dry: 8 mm of it are 160 g; the level inside, 8 mm, is under the leak.
    early = breaks["freeboard_mm"]
    root = A_MM2 * 2.0 * math.sqrt(head) * (math.sqrt(head + 8.0) - math.sqrt(head))
    assert 60.0 * early.hole_min == pytest.approx(1e-3 * root / FLOW_G_S, rel=1e-6)
    log = 1e-3 * A_MM2 * head / FLOW_G_S * math.log(1.0 + 8.0 / head)
    assert 60.0 * early.crack_min == pytest.approx(log, rel=1e-6)
    # The opening at 75 goes under after 50 mm; from 15 mm on the head is 25 mm.
    late = breaks["opening_under"]
    root = A_MM2 * 2.0 * math.sqrt(head) * (math.sqrt(head + z) - math.sqrt(head))
    rest = (50.0 - z) * A_MM2 * 1e-3 / (FLOW_G_S * math.sqrt(25.0 / head))
    assert 60.0 * late.hole_min == pytest.approx(1e-3 * root / FLOW_G_S + rest, rel=1e-6)
    log = 1e-3 * A_MM2 * head / FLOW_G_S * math.log(1.0 + z / head)
    rest = (50.0 - z) * A_MM2 * 1e-3 / (FLOW_G_S * 25.0 / head)
    assert 60.0 * late.crack_min == pytest.approx(log + rest, rel=1e-6)


def test_time_goes_as_one_over_the_area_of_a_tiny_leak():
    """A hole of half the diameter takes four times as long, to the last digits."""
    filling = Filling(flooder=flooder_of(_box_craft(), _room(17100.0)), compartment="hull")
    times = [leak_time(hole(d), filling).hole_min * d**2 for d in (1.0, 0.1, 0.01, 1e-4)]
    assert times == pytest.approx([times[0]] * 4, rel=1e-12)


def test_a_larger_leak_is_never_slower():
    """By diameter of a hole, by width and length of a crack, past where its law changes."""
    filling = Filling(flooder=flooder_of(_box_craft(), _room(17100.0)), compartment="hull")
    holes = [leak_time(hole(d), filling).hole_min for d in np.geomspace(0.05, 5.0, 9)]
    cracks = [leak_time(crack(w), filling).crack_min for w in np.geomspace(0.01, 1.0, 9)]
    longer = [leak_time(crack(0.1, length_mm=n), filling).crack_min for n in (20.0, 50.0, 90.0)]
    for times in (holes, cracks, longer):
        assert all(a > b for a, b in itertools.pairwise(times))


def test_given_leaks_go_by_their_own_law():
    """A hole by the hole law alone; a wide crack by the hole law of its area, the lesser one."""
    filling = Filling(flooder=flooder_of(_box_craft(), _room(17100.0)), compartment="hull")
    one = leak_time(hole(1.0), filling)
    assert one.crack_min is None
    assert one.crack_g_per_min is None
    wide = leak_time(crack(2.0, length_mm=10.0), filling)
    assert wide.hole_min is None
    round_hole = leak_time(hole(math.sqrt(4.0 * 20.0 / math.pi)), filling)
    assert wide.crack_min == pytest.approx(round_hole.hole_min, rel=1e-9)


def test_she_may_never_get_there():
    """A room that levels out, or fills, before any limit is met gives no time, and says so."""
    small = room_of(box(60.0, 100.0, 79.0, (70.0, 0.0, 0.0)))
    filling = Filling(flooder=flooder_of(_box_craft(), small), compartment="hull")
    found = leak_time(hole(2.0), filling)
    # Its floor is 0.3 of hers: w/A_i = 25 + w/A gives w = 25/(1/6000 − 1/20000) mm³.
    assert found.levels_out
    assert found.levels_at_g == pytest.approx(25e-3 / (1 / 6000.0 - 1 / 20000.0), rel=1e-6)
    assert found.hole_min is None
    assert found.limited_by is None
    above = leak_time(hole(2.0, (100.0, 0.0, 40.0)), filling)
    assert (above.levels_at_g, above.hole_min, above.hole_g_per_min) == (0.0, None, 0.0)


def test_limits_break_in_their_order():
    """Equipment, freeboard, an opening: each at its own water; a limit broken dry stands at 0."""
    craft = _box_craft(limits=Limits(freeboard_mm=30.0, trim_deg=(-1.0, 1.0)))
    point = BilgePoint(name="battery", point_mm=(100.0, 0.0, 2.0), compartment="hull")
    filling = Filling(flooder=flooder_of(craft, _room(A_MM2), [point]), compartment="hull")
    rows = leak_time(hole(1.0), filling).breaks
    assert [row.limit for row in rows] == ["equipment_wet", "freeboard_mm", "opening_under"]
    # 2 mm of water over the floor; 5 and 35 mm of sinkage.
    assert [row.water_g for row in rows] == pytest.approx([40.0, 100.0, 700.0], rel=1e-6)
    tight = _box_craft(limits=Limits(freeboard_mm=40.0))
    broken = leak_time(hole(1.0), Filling(flooder=flooder_of(tight, _room(A_MM2)),
                                          compartment="hull"))  # fmt: skip
    assert (broken.limited_by, broken.hole_min) == ("freeboard_mm", 0.0)
    assert broken.breaks[1].hole_min == pytest.approx(2052.9 / 60.0, abs=1e-2)


def test_she_sinks_where_nothing_else_breaks():
    """Sealed up and without limits: by the water that she cannot carry any more, at its time."""
    craft = _box_craft(opening_z=300.0)
    filling = Filling(flooder=flooder_of(craft, room_of(box(200.0, 100.0, 80.0))),
                      compartment="hull")  # fmt: skip
    found = leak_time(hole(1.0), filling)
    assert found.limited_by == "sinks"
    assert found.breaks[0].water_g == pytest.approx(1100.0, rel=1e-9)
    assert 60.0 * found.hole_min == pytest.approx(1100.0 / FLOW_G_S, rel=1e-6)


def test_she_that_sinks_already_has_no_time():
    """With more aboard than she carries the time is 0, not for ever; so with a limit broken dry."""
    aboard = {"hull 1": 1190.0, "hull 2": 2390.0, "hull 3": 100.0}
    answer = answered_briefly(box_build(), aboard=aboard, breaches=(hole(1.0, (500.0, 0.0, 0.0)),))
    assert answer.state.short_by_g == pytest.approx(80.0)
    assert answer.time_afloat_min.limited_by == "sinks"
    assert answer.time_afloat_min.hole == 0.0
    assert answer.time_afloat.holds is False
    tight = _box_craft(limits=Limits(freeboard_mm=40.0))
    filling = Filling(flooder=flooder_of(tight, _room(A_MM2)), compartment="hull")
    assert leak_time(hole(2.0, (100.0, 0.0, 40.0)), filling).hole_min == 0.0


def test_water_that_is_in_already_counts():
    """With 200 g aboard 500 g are left to 700; the head is the same, so the time is 5/7."""
    filling = Filling(
        flooder=flooder_of(_box_craft(), _room(A_MM2)), compartment="hull", aboard={"hull": 200.0}
    )
    found = leak_time(hole(1.0), filling)
    assert 60.0 * found.hole_min == pytest.approx(2052.9 * 5.0 / 7.0, rel=1e-4)


def test_quadrature_agrees_with_the_flow_followed_in_time():
    """A bow room that fills and trims her, head and all: against scipy's integrator in time.

    dw/dt = q(w), stopped at each limit's water. scipy's own tolerance is 1e-9.
    """
    build = box_build()
    flooder = Flooder.of(build.craft(), compartments_of(build))
    breach = hole(3.0, (40.0, 0.0, 0.0))
    filling = Filling(flooder=flooder, compartment="hull 1")
    found, course = leak_time(breach, filling), Course.of(breach, filling)
    row = found.breaks[0]
    assert row.limit == "trim_deg"

    def reached(_, water):
        """Return how far the water is from the limit's [g]."""
        return water[0] - row.water_g

    reached.terminal = True
    followed = solve_ivp(
        lambda _, water: [course.rate("hole", float(water[0]))], (0.0, 1000.0), [0.0],
        events=reached, rtol=1e-9, atol=1e-9,
    )  # fmt: skip
    assert row.hole_min == pytest.approx(float(followed.t_events[0][0]), rel=1e-6)


def test_net_heads_are_the_integral_of_head_outside_less_inside():
    """Against 200,000 points along a slanted line that leaves the water and the water inside."""
    line = np.array([[0.0, 0.0, -30.0], [50.0, 10.0, -5.0], [90.0, 0.0, 20.0]])
    normal = np.array([-0.1, 0.2, math.sqrt(0.95)])
    found = net_heads([line], normal, 4.0, -11.0)
    steps = (np.arange(100_000) + 0.5)[:, None] / 100_000
    crack_sum = hole_sum = 0.0
    for start, end in itertools.pairwise(line):
        heights = (start + steps * (end - start)) @ normal
        net = np.maximum(4.0 - heights, 0.0) - np.maximum(-11.0 - heights, 0.0)
        size = float(np.linalg.norm(end - start))
        crack_sum += size * float(net.mean())
        hole_sum += size * float(np.sqrt(net).mean())
    assert found.crack_integral_mm2 == pytest.approx(crack_sum, rel=1e-6)
    # The root's foot is met by points only so well.
    assert found.hole_integral_mm15 == pytest.approx(hole_sum, rel=1e-5)
    none = net_heads([line], normal, 4.0, 4.0)
    assert (none.crack_integral_mm2, none.hole_integral_mm15) == (0.0, 0.0)
    dry = net_heads([line], normal, 4.0, None)
    low = net_heads([line], normal, 4.0, -100.0)
    assert dry.hole_integral_mm15 == pytest.approx(low.hole_integral_mm15, rel=1e-12)


def test_what_was_asked_counts_before_the_last_test_and_that_before_the_sheet():
    """Each is taken only where the one before it is missing; struck tests do not count."""
    fittings = Fittings(leaks=(LEAK,))
    craft = _box_craft(fittings=fittings)
    log = logbook_of(2.0, 5.0, mass_g=500.0)
    assert known_leaks(craft, log, [hole(1.0)]).source == "asked"
    told = known_leaks(craft, log)
    assert (told.source, told.entry.number) == ("test", 2)
    strike = Entry(number=3, at=NOON, written=NOON, record=Strike(entry=2, why="wrong scale"))
    assert known_leaks(craft, Logbook(entries=(*log.entries, strike))).entry.number == 1
    assert known_leaks(craft, Logbook()).source == "sheet"
    assert known_leaks(_box_craft(), Logbook()) is None


def test_a_test_is_scaled_from_its_own_heads():
    """A gain of 3 g in 30 min comes in at 0.1 g/min as she lay then, by both laws, and so now."""
    build = box_build(water=fresh_water())
    found = answered_briefly(build, logbook_of(3.0, found=("middle joint",))).time_afloat
    worst = found.leaks[0]
    assert [one.name for one in found.leaks] == ["middle joint"]
    assert worst.hole_g_per_min == pytest.approx(0.1, rel=1e-9)
    assert worst.crack_g_per_min == pytest.approx(0.1, rel=1e-9)
    # Lain 250 g deeper the head on it was greater: less comes in now, by the crack law least.
    deep = answered_briefly(
        build, logbook_of(3.0, mass_g=1500.0, found=("middle joint",))
    ).time_afloat
    now = deep.leaks[0]
    assert now.crack_g_per_min < now.hole_g_per_min < 0.1


def test_the_water_of_a_test_counts():
    """A test in the sea tells of fresh water by density, and by viscosity in a crack."""
    craft = box_build(water=fresh_water()).craft()
    test = logbook_of(3.0, found=("middle joint",), water="sea", temperature_c=5.0).tests[0][1]
    sea = breaches_of_test(craft, test)[0].strengths
    fresh = breaches_of_test(craft, logbook_of(3.0, found=("middle joint",)).tests[0][1])[0]
    cold = sea_water(temperature_c=5.0)
    share = {law: fluid_factor(law, craft.water) / fluid_factor(law, cold) for law in sea}
    # She lay a little higher in the sea, so the ratio is not the fluid's alone.
    assert sea["crack"] / fresh.strengths["crack"] > 1.2
    assert sea["crack"] / fresh.strengths["crack"] == pytest.approx(share["crack"], rel=0.1)
    assert sea["hole"] / fresh.strengths["hole"] == pytest.approx(share["hole"], rel=0.1)


def test_a_gain_below_the_scale_gives_at_least():
    """What the scale may have hidden is taken to have come in; the range is open above."""
    build = box_build(water=fresh_water())
    dry = answered_briefly(build, logbook_of(0.1, found=("middle joint",))).time_afloat
    assert dry.at_least
    assert dry.high_min is None
    assert dry.leaks[0].hole_g_per_min == pytest.approx(math.sqrt(2.0) * 0.1 / 30.0)
    less = answered_briefly(build, logbook_of(-0.4, found=("middle joint",))).time_afloat
    assert less.low_min == pytest.approx(dry.low_min, rel=1e-12)


def test_the_range_holds_both_laws_and_the_scale():
    """From the lesser time at the most gain to the greater at the least; exactly as 1/gain."""
    found = answered_briefly(box_build(), logbook_of(10.0, found=("middle joint",))).time_afloat
    times = (found.leaks[0].hole_min, found.leaks[0].crack_min)
    share = math.sqrt(2.0) * 0.1 / 10.0
    assert found.low_min == pytest.approx(min(times) / (1.0 + share), rel=1e-12)
    assert found.high_min == pytest.approx(max(times) / (1.0 - share), rel=1e-12)


def test_every_place_under_water_is_tried_where_none_was_noted():
    """The worst stands first; a place named that lay dry in the test is no place."""
    found = answered_briefly(box_build(), logbook_of(30.0)).time_afloat
    assert {one.name for one in found.leaks} == {"bow joint", "middle joint"}
    times = [one.least_min for one in found.leaks]
    assert times == sorted(times)
    assert {one.compartment for one in found.leaks} == {"hull 1", "hull 2"}
    dry = answered_briefly(box_build(), logbook_of(30.0, found=("hatch",))).time_afloat
    assert {one.name for one in dry.leaks} == {"bow joint", "middle joint"}
    bare = answered_briefly(box_build(fittings=Fittings()), logbook_of(30.0)).time_afloat
    assert [one.name for one in bare.leaks] == ["lowest point of the skin"]


def test_a_leak_of_the_sheet():
    """A hole by its diameter, a crack by its three sizes."""
    crack_leak = Leak(name="split", point_mm=(1.0, 2.0, 3.0), crack_width_mm=0.1,
                      crack_length_mm=20.0, wall_mm=0.8)  # fmt: skip
    assert sheet_breach(LEAK).laws == ("hole",)
    assert sheet_breach(crack_leak).laws == ("crack",)
    assert sheet_breach(crack_leak).flow.width_mm == 0.1
    found = answered_briefly(box_build(fittings=Fittings(leaks=(LEAK,)))).time_afloat
    assert (found.source, found.leaks[0].compartment) == ("sheet", "hull 2")


def test_a_leak_into_what_is_open_already():
    """Of a test it is left out and said; asked about it is refused, with both names."""
    build = box_build()
    answer = answered_briefly(build, logbook_of(3.0, found=("middle joint",)), opened=("hull 2",))
    assert answer.time_afloat is None
    assert "leak-into-open" in {one.code for one in answer.warnings}
    with pytest.raises(InputError, match="hole: leaks into hull 2, which is open to the sea"):
        answered_briefly(build, opened=("hull 2",), breaches=(hole(1.0, (300.0, 0.0, 0.0)),))


def test_a_leak_runs_into_the_room_behind_it():
    """By the nearest body and the station; at a bulkhead into the larger of both rooms."""
    build = box_build()
    answer = answered_briefly(build, breaches=(hole(1.0, (10.0, 0.0, 0.0)),))
    assert answer.time_afloat.leaks[0].compartment == "hull 1"
    rooms = compartments_of(build)
    craft = build.craft()
    for station, name in ((149.0, "hull 1"), (150.0, "hull 2"), (451.0, "hull 3")):
        point = np.array([[station, 0.0, -0.5]])
        assert [one.name for one in compartments_behind(craft, rooms, [point])] == [name]
    keel = np.array([[100.0, 0.0, 0.0], [440.0, 0.0, 0.0]])
    found = compartments_behind(craft, rooms, [keel])
    assert [one.name for one in found] == ["hull 2", "hull 1"]


def test_a_seam_along_two_rooms_is_said():
    """All of its water is taken to fill the one that most of it runs beside."""
    keel = Seam(name="keel", body="hull", points_mm=np.array([[100.0, 0, 0], [440.0, 0, 0]]))
    build = box_build(fittings=Fittings(seams=(keel,)))
    answer = answered_briefly(build, logbook_of(3.0, found=("keel",)))
    assert answer.time_afloat.leaks[0].beside == ("hull 1",)
    said = {one.code: one.message for one in answer.warnings}
    assert "taken to fill hull 2" in said["leak-along"]


def test_distance_to_a_box():
    """Over a face, an edge and a corner: 3, √(3² + 4²), √(2² + 3² + 6²)."""
    one = box(10.0, 20.0, 30.0)
    assert distance_mm(one, np.array([5.0, 1.0, 33.0])) == pytest.approx(3.0)
    assert distance_mm(one, np.array([13.0, 14.0, 15.0])) == pytest.approx(5.0)
    assert distance_mm(one, np.array([12.0, 13.0, 36.0])) == pytest.approx(7.0)


def test_a_test_that_says_nothing_of_time_is_refused_by_its_record():
    """A test of no minutes is no test; the record itself refuses it."""
    setup = logbook_of(1.0).tests[0][1].setup
    with pytest.raises(InputError, match="must last longer than 0"):
        LeakTest(setup=setup, minutes=0.0, after_g=1201.0)
