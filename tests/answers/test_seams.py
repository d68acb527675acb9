"""Seams at the present load: head integrals, the heel that wets them, the log's word, the order."""

import math
from dataclasses import replace
from datetime import datetime

import numpy as np
import pytest
from crafts import opening_at
from scipy.optimize import brentq
from seams_making import (
    EMPTY,
    NOW,
    across,
    along,
    answered,
    book,
    box_build,
    bulkheaded_box,
    demo_build,
    on,
    seal,
    soak,
)

from hullcheck.answers.seams_answer import distinct, seams_answer
from hullcheck.answers.seams_order import advice, worst_first
from hullcheck.craft.limits import Limits
from hullcheck.craft.log_records import LeakTestSetup, Reopening, Strike
from hullcheck.craft.seam_lines import SeamLine
from hullcheck.craft.setups import Setup
from hullcheck.errors import InputError

JOINT = across(joint=250.0)
BEAM, LENGTH, HEIGHT = 100.0, 600.0, 80.0


def seam_of(answer, name="joint"):
    """Return a seam of an answer by name."""
    return next(seam for seam in answer.seams if seam.name == name)


def told(build, logbook=EMPTY, **more):
    """Return the answer for a build."""
    return seams_answer(build, logbook, NOW, **more)


def test_integrals_of_a_seam_round_a_level_box():
    """Derived: at 20 mm of draft b T + T² = 2400 mm² for a crack, b √T + 4/3 T^1.5 for holes."""
    seam = seam_of(told(box_build(JOINT)))
    draft = 1200.0 / (LENGTH * BEAM) * 1000.0
    assert seam.length_mm == pytest.approx(2.0 * (BEAM + HEIGHT), rel=1e-9)
    assert seam.wet_length_mm == pytest.approx(BEAM + 2.0 * draft, rel=1e-9)
    assert seam.deepest_mm == pytest.approx(draft, rel=1e-9)
    assert seam.height_mm == pytest.approx(-draft, rel=1e-9)
    assert seam.crack_integral_mm2 == pytest.approx(BEAM * draft + draft**2, rel=1e-9)
    hole = BEAM * math.sqrt(draft) + 4.0 / 3.0 * draft**1.5
    assert seam.hole_integral_mm15 == pytest.approx(hole, rel=1e-9)
    assert seam.wetted.heel_deg == 0.0


@pytest.mark.parametrize("station", [60.0, 300.0, 540.0])
def test_integrals_of_a_seam_round_a_trimmed_box(station):
    """Derived: wall-sided, the trim t solves (L²t/12T − g) + (T/2 + L²t²/24T − z_G) t = 0.

    g is how far aft of the middle the CG lies; the surface stands at T + (x − L/2) t over the
    floor, and depths are that times the cosine of the trim.
    """
    aft, center_z, draft = 4.0, 20.0, 30.0
    build = box_build(across(joint=station), mass_g=1800.0, center_mm=(300.0 + aft, 0.0, center_z))
    answer = told(build)
    seam = seam_of(answer)

    def moment(t):
        """Return the lever of buoyancy about the CG over the cosine of the trim [mm]."""
        lever = LENGTH**2 * t / (12.0 * draft) - aft
        return lever + (0.5 * draft + LENGTH**2 * t * t / (24.0 * draft) - center_z) * t

    slope = brentq(moment, 0.0, 0.1, xtol=1e-15)
    assert answer.trim_deg == pytest.approx(math.degrees(math.atan(slope)), rel=1e-6)
    side, cosine = draft + (station - 300.0) * slope, math.cos(math.atan(slope))
    assert seam.wet_length_mm == pytest.approx(BEAM + 2.0 * side, rel=1e-6)
    assert seam.crack_integral_mm2 == pytest.approx(cosine * (BEAM * side + side**2), rel=1e-6)
    hole = math.sqrt(cosine) * (BEAM * math.sqrt(side) + 4.0 / 3.0 * side**1.5)
    assert seam.hole_integral_mm15 == pytest.approx(hole, rel=1e-6)


def deck_edge(side):
    """Return a seam along a deck edge of the box: side 1 starboard, −1 port."""
    return along("edge", (100.0, side * 50.0, 80.0), (500.0, side * 50.0, 80.0))


@pytest.mark.parametrize("side", [1, -1])
def test_heel_that_wets_a_deck_edge(side):
    """Derived: while floor is wet and deck dry the edge comes under at tan φ = 2 F/b.

    A wall-sided hull heels about the middle of its waterplane: at 30 mm of freeboard 30.96°.
    """
    wetted = seam_of(told(box_build([deck_edge(side)], mass_g=3000.0)), "edge").wetted
    truth = side * math.degrees(math.atan(2.0 * 30.0 / BEAM))
    assert wetted.heel_deg == pytest.approx(truth, abs=1e-6)
    near, far = (wetted.starboard_deg, wetted.port_deg)[::side]
    assert near == pytest.approx(truth, abs=1e-6)
    assert far is None


def test_heel_is_the_lesser_of_both_sides_and_none_past_sixty():
    """Derived: tan φ = height over distance off; the middle of the deck stays dry to 60°."""
    middle = along("middle", (200.0, 0.0, 80.0), (400.0, 0.0, 80.0))
    wide = along("wide", (300.0, -35.0, 70.0), (300.0, 40.0, 70.0))
    answer = told(box_build([middle, wide], mass_g=3000.0))
    assert seam_of(answer, "middle").wetted.heel_deg is None
    wetted = seam_of(answer, "wide").wetted
    assert wetted.heel_deg == pytest.approx(math.degrees(math.atan(20.0 / 40.0)), abs=1e-6)
    assert wetted.port_deg == pytest.approx(-math.degrees(math.atan(20.0 / 35.0)), abs=1e-6)


def test_a_seam_clear_of_the_water_has_no_integrals_and_its_freeboard():
    """A seam 50 mm over the floor stands 30 mm above 20 mm of draft, and is none of spray's."""
    answer = told(box_build([along("side", (200.0, 50.0, 50.0), (400.0, 50.0, 50.0))]))
    seam = seam_of(answer, "side")
    assert seam.height_mm == pytest.approx(30.0, abs=1e-9)
    assert (seam.deepest_mm, seam.wet_length_mm, seam.crack_integral_mm2) == (0.0, 0.0, 0.0)
    assert seam.in_spray
    assert advice(seam) == "seal: spray reaches it"
    assert answer.spray_reach_mm == pytest.approx(BEAM)


def test_a_load_sinks_seams_deeper():
    """600 g more on the box is 10 mm more depth, by a setup or by the build's own mass."""
    heavier = told(box_build(JOINT, mass_g=1800.0))
    assert seam_of(heavier).deepest_mm == pytest.approx(30.0, rel=1e-9)
    wet = box_build(JOINT, setups=(Setup(name="wet", wet_g=600.0),))
    assert seam_of(told(wet, setup="wet")).deepest_mm == pytest.approx(30.0, rel=1e-2)


def test_a_leak_test_clears_what_lay_under_water_in_it():
    """Dry at 1200 g with a hatch above the water: the joint is tested dry, the hatch is not."""
    hatch = opening_at((300.0, 0.0, 60.0), name="hatch", state=None)
    logbook = book((on(10), seal("joint")), (on(10), seal("hatch")), (on(12), soak(mass_g=1200.0)))
    answer = told(box_build(JOINT, openings=(hatch,)), logbook)
    assert seam_of(answer).state == "tested dry"
    assert seam_of(answer, "hatch").state == "sealed"
    (test,) = seam_of(answer).dry_tests
    assert test.deepest_mm == pytest.approx(1.2e6 / (LENGTH * BEAM) / 0.9991, rel=1e-3)


@pytest.mark.parametrize(
    ("tests", "lacks"),
    [
        ([soak(mass_g=1200.0)], ("running test",)),
        ([soak(mass_g=1200.0, minutes=10.0)], ("planned time", "running test")),
        ([soak(mass_g=900.0)], ("flying weight", "running test")),
        ([soak(mass_g=1200.0, trim_deg=4.0)], ("this depth", "running test")),
        ([soak(mass_g=1200.0), soak(mass_g=1200.0, minutes=5.0, running=True)], ()),
        ([soak(mass_g=1190.0, running=True)], ()),
    ],
)
def test_what_a_dry_test_lacks(tests, lacks):
    """Dry under way needs flying weight, the planned time (15 min here) and a running test."""
    logbook = book((on(5), seal("joint")), *((on(10 + i), t) for i, t in enumerate(tests)))
    seam = seam_of(told(box_build(JOINT), logbook))
    assert seam.state == "tested dry"
    assert seam.dry_lacks == lacks


def test_the_last_standing_test_is_held_against_the_sheets_limit():
    """1.4 g in 30 min breaks 1.0, 0.7 g in 60 min does not; struck ones do not count."""
    build = box_build(JOINT)
    broken = book((on(10), soak(1.4, mass_g=1200.0)))
    (limit,) = told(build, broken).limits
    assert (limit.name, limit.limit, limit.ok) == ("leak_g_per_30min", 1.0, False)
    assert limit.value == pytest.approx(1.4)
    (limit,) = told(build, book((on(10), soak(0.7, mass_g=1200.0, minutes=60.0)))).limits
    assert limit.value == pytest.approx(0.35)
    assert limit.ok
    struck = book((on(10), soak(1.4, mass_g=1200.0)), (on(11), Strike(entry=1, why="spilled")))
    assert told(build, struck).limits == ()
    assert told(replace(build, limits=Limits()), broken).limits == ()


def test_a_setup_that_opens_an_opening_wins_over_the_log():
    """A hatch that was sealed by the log is open where the setup opens it."""
    hatch = opening_at((300.0, 0.0, 60.0), name="hatch", state="taped")
    setups = (Setup(name="off", openings=(("hatch", "open"),)),)
    build = box_build(openings=(hatch,), setups=setups)
    logbook = book((on(10), seal("hatch")))
    assert seam_of(told(build, logbook), "hatch").state == "sealed"
    assert seam_of(told(build, logbook, setup="off"), "hatch").state == "open"


def test_worst_comes_first():
    """Leaked, nothing under water sealed, curing, sealed, spray, tested dry, the rest."""
    _, answer = answered("every state")
    names = [seam.name for seam in answer.seams]
    assert names == [
        "step joint",
        "mid joint",
        "former joint",
        "aft joint",
        "stern joint",
        "pushrod exit",
        "port chine, aft",
        "nose joint",
        "canopy edge",
        "motor pylon",
    ]
    assert worst_first(list(reversed(answer.seams))) == answer.seams


def test_sinking_and_a_missing_center_leave_out_what_depends_on_them():
    """She who sinks has no heights; held level there are depths and no heel."""
    _, sunk = answered("sinks")
    assert sunk.short_by_g > 0.0
    assert all(seam.height_mm is None and seam.wetted is None for seam in sunk.seams)
    _, level = answered("no center")
    assert level.trim_deg == pytest.approx(0.0, abs=1e-9)
    assert all(seam.wetted is None and seam.height_mm is not None for seam in level.seams)
    assert "no-cg" in {caveat.code for caveat in level.warnings}


def test_a_test_in_which_she_would_sink_clears_nothing_and_is_told():
    """A mass of 5000 g is more than the box carries: the entry is named, its seam not cleared."""
    logbook = book((on(10), seal("joint")), (on(12), soak(mass_g=5000.0)))
    answer = told(box_build(JOINT), logbook)
    assert seam_of(answer).state == "sealed"
    (message,) = (c.message for c in answer.warnings if c.code == "test-not-floated")
    assert "entry 2" in message
    assert "5000 g" in message


@pytest.mark.parametrize(
    ("logbook", "code", "words"),
    [
        (book((on(10), seal("keel"))), "not-in-the-sheet", "keel"),
        (book(*((on(d), seal("joint")) for d in (5, 6, 7))), "keeps-opening", "3 times"),
        (book((on(10), soak(0.5, mass_g=1200.0))), "static", "does not clear a hull under way"),
        (book((on(10), soak(2.0, mass_g=1200.0, found=("joint",)))), "dunked", "same day"),
        (EMPTY, "glue", "dry seams only"),
        (EMPTY, "air-pressure", "millibars"),
        (
            book((on(10), LeakTestSetup(mass_g=1.0, before_g=1.0, plus_minus_g=1.0))),
            "test-running",
            "entry 1 is not finished",
        ),
    ],
)
def test_cautions_stand_where_they_are_due(logbook, code, words):
    """Each by its own cause, and not where nothing has happened or is to be done."""
    said = {c.code: c.message for c in told(box_build(JOINT), logbook).warnings}
    assert words in said[code]
    hatch = opening_at((300.0, 0.0, 75.0), name="hatch", state="sealed")
    quiet = {c.code for c in told(box_build(openings=(hatch,))).warnings}
    assert code not in quiet


def test_sheet_and_log_that_disagree_are_told():
    """An opening that the log sealed and the sheet calls open counts as open for freeboard."""
    hatch = opening_at((300.0, 0.0, 75.0), name="hatch", state="open")
    answer = told(box_build(openings=(hatch,)), book((on(10), seal("hatch"))))
    assert "sheet-and-log" in {caveat.code for caveat in answer.warnings}


def test_names_that_are_used_twice():
    """Joints of twin bodies get their body's name; others that share one are refused."""
    line = SeamLine(name="joint of a and b", kind="seam", body="left", lines_mm=(np.zeros((2, 3)),),
                    source="parts")  # fmt: skip
    two = distinct([line, replace(line, body="right")])
    assert [one.name for one in two] == ["joint of a and b, left", "joint of a and b, right"]
    hatch = opening_at((300.0, 0.0, 60.0), name="joint")
    with pytest.raises(InputError, match="called 'joint': give each its own name"):
        told(box_build(JOINT, openings=(hatch,)))


def test_a_time_without_a_zone_is_refused():
    """A cure ends at an instant, which a bare clock time is not."""
    with pytest.raises(InputError, match="has no time zone"):
        seams_answer(box_build(JOINT), EMPTY, datetime(2026, 5, 1))  # noqa: DTZ001 - on purpose


def test_drains_are_at_the_lowest_inside_points():
    """A box with a bulkhead at station 200: nose up water lies at the aft end of each part."""
    answer = told(bulkheaded_box())
    assert answer.nose_up_deg == 8.0
    places = {(one.compartment, one.attitude): one for one in answer.drains}
    assert len(places) == 6
    fore, aft = places["hull 1", "nose up"], places["hull 2", "nose up"]
    assert (fore.lowest_mm[0], fore.lowest_mm[2]) == pytest.approx((200.0, 0.0), abs=1e-6)
    assert (aft.lowest_mm[0], aft.lowest_mm[2]) == pytest.approx((600.0, 0.0), abs=1e-6)
    assert (aft.highest_mm[0], aft.highest_mm[2]) == pytest.approx((200.0, 80.0), abs=1e-6)
    assert places["hull 1", "at rest"].lowest_mm[2] == pytest.approx(0.0, abs=1e-6)
    assert places["hull 1", "inverted"].lowest_mm[2] == pytest.approx(80.0, abs=1e-6)


def test_nose_up_of_a_stepped_hull_is_how_far_she_turns_on_her_step():
    """The demo hull turns until her sternpost touches; the answer says where the angle is from."""
    answer = told(demo_build())
    assert 4.0 < answer.nose_up_deg < 12.0
    assert "turned about the step" in answer.nose_up_from


def test_a_seam_that_several_tests_name_leaks_by_inference():
    """Two seams, two tests: dry with one clear of the water and wet with it under names it."""
    ends = across(nose=20.0, stern=580.0)
    build = box_build(ends)
    logbook = book(
        (on(5), seal("nose")),
        (on(5), seal("stern")),
        (on(7), soak(mass_g=1200.0, trim_deg=-4.5)),
        (on(8), soak(4.0, mass_g=1200.0, trim_deg=4.5)),
        (on(9), soak(4.1, mass_g=1200.0, trim_deg=4.5)),
    )
    answer = told(build, logbook)
    assert answer.suspects.verdict == "named"
    stern = seam_of(answer, "stern")
    assert (stern.state, stern.leak_is_inferred, stern.leak.entry) == ("leaked", True, 5)
    assert seam_of(answer, "nose").state == "tested dry"
    reopened = book(*((e.at, e.record) for e in logbook.entries), (on(10), Reopening(seam="nose")))
    assert seam_of(told(build, reopened), "nose").state == "re-opened"
