"""The check list: every point turned to each of its states by its own cause, the rest unmoved."""

from dataclasses import replace

import numpy as np
import pytest
from check_cases import CASES, answer_of, case
from check_making import (
    FITTINGS,
    HULL,
    NOW,
    OPENINGS,
    RECORDS,
    base_evidence,
    floating,
    limited,
    made,
    on,
    rebuilt,
    relogged,
    seamed,
    soak,
    with_parts,
)
from crafts import box_body, opening_at

from hullcheck.answers.check_answer import check_answer, worst_first
from hullcheck.answers.check_evidence import check_evidence
from hullcheck.answers.check_records import STATES
from hullcheck.answers.check_rules import QUESTIONS, RULES
from hullcheck.answers.float_records import Caveat
from hullcheck.craft.fittings import Equipment
from hullcheck.craft.log_records import Strike
from hullcheck.craft.logbook import Logbook
from hullcheck.craft.setups import Setup
from hullcheck.errors import InputError
from hullcheck.report.check_words import finding


def told(evidence):
    """Return every point of the list that evidence makes; see `turned`."""
    return turned(check_answer(evidence))


def turned(answer):
    """Return every point by key, seams by "seams", with state and cause."""
    return {_kind(point): (point.state, point.cause) for point in reversed(answer.points)}


def _kind(point):
    """Return the key of a point's rules."""
    return "seams" if point.key.startswith("seams_") else point.key


BASE = {
    "files": ("pass", "good enough"),
    "openings": ("pass", "all stated"),
    "weights": ("pass", "weighed"),
    "cg": ("pass", "inside"),
    "freeboard": ("pass", "holds"),
    "trim": ("pass", "holds"),
    "heel": ("pass", "holds"),
    "upright": ("pass", "hull alone"),
    "step": ("pass", "behind"),
    "seams": ("pass", "tested dry"),
    "spray": ("pass", "none open"),
    "leak": ("pass", "within the limit"),
    "running": ("pass", "dry"),
    "time_afloat": ("pass", "long enough"),
    "swamped": ("pass", "floats"),
    "electronics": ("pass", "dry"),
    "propeller": ("pass", "clear"),
}


def test_a_craft_on_which_every_point_passes():
    """A stepped box, weighed, sealed, soaked and run: nothing is left but judgment."""
    answer = check_answer(base_evidence())
    assert told(base_evidence()) == BASE
    assert set(BASE) == set(QUESTIONS) == set(RULES)
    assert (answer.verdict, answer.holds_back, answer.first) == ("pass", False, None)
    assert answer.facts.seam is None
    assert [one.key for one in answer.judgment] == [
        "wind", "waves", "hump", "retrieval", "batteries", "local_rules",
    ]  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_a_point_turns_by_its_own_cause_alone(name):
    """Each case turns the points it names to their state, and no other."""
    assert turned(answer_of(name)) == BASE | case(name).turned


def test_every_cause_has_a_case():
    """No rule of the list stands untried."""
    tried = {(key, cause) for key, (_, cause) in BASE.items()}
    for name in CASES:
        tried |= {(key, cause) for key, (_, cause) in case(name).turned.items()}
    assert tried == {(key, cause) for key, rules in RULES.items() for cause in rules}


def test_only_what_is_right_passes_and_every_other_cause_says_what_to_do():
    """A cause that is no pass has a next step; every stop holds her back; no pass does."""
    for key, rules in RULES.items():
        assert list(rules)[-1] in {cause for cause, rule in rules.items() if rule.state == "pass"}
        for cause, rule in rules.items():
            assert (rule.next_step is None) == (rule.state == "pass"), (key, cause)
            assert rule.holds_back or rule.state != "stop", (key, cause)
            assert not rule.holds_back or rule.state in {"stop", "not known"}, (key, cause)


def test_worst_first_and_what_holds_her_back_leads():
    """Stop, not known, caution, pass; among what is not known what matters comes first."""
    evidence = limited(trim_deg=None, freeboard_mm=None)
    evidence.__dict__["seams"] = seamed(state="leaked").seams
    answer = check_answer(evidence)
    assert [(one.key, one.state) for one in answer.points[:4]] == [
        ("seams_stop", "stop"),
        ("freeboard", "not known"),
        ("trim", "not known"),
        ("leak", "pass"),
    ]
    assert [one.holds_back for one in answer.points[:3]] == [True, True, False]
    assert (answer.verdict, answer.holds_back) == ("stop", True)
    assert answer.first == answer.points[0]
    order = [STATES.index(one.state) for one in answer.points]
    assert order == sorted(order)
    assert worst_first(tuple(reversed(answer.points)))[0] == answer.points[0]


def test_what_is_not_known_is_no_pass_but_need_not_hold_her_back():
    """Without a trim limit the verdict is "not known"; she may go on all the same."""
    answer = check_answer(limited(trim_deg=None))
    assert (answer.verdict, answer.holds_back) == ("not known", False)
    assert answer.of_state("not known")[0].next_step == "write trim_deg under [limits]"


def test_an_empty_log_and_sheet_pass_nothing_that_rests_on_them():
    """No limits, no log: freeboard, leaks and seams are not known, and hold her back."""
    empty = made(limits=replace(base_evidence().build.limits, **dict.fromkeys(_LIMITS)))
    answer = check_answer(_kept(check_evidence(empty, Logbook(), NOW)))
    held = {one.key for one in answer.points if one.holds_back}
    assert held == {"seams_not_known", "leak", "freeboard"}
    assert answer.verdict == "not known"
    assert {"ladder", "usual-soak"} < {one.code for one in answer.assumptions}


_LIMITS = ("freeboard_mm", "trim_deg", "heel_deg", "time_on_water_min", "leak_g_per_30min")


def _kept(evidence):
    """Return evidence that is heeled and flooded as the base."""
    base = base_evidence()
    evidence.__dict__.update(righting=base.righting, flood=base.flood)
    return evidence


def test_seams_stand_by_state_the_worst_named_first():
    """Two seams in two states make two points, each with its own names and days."""
    seams = base_evidence().seams
    joint, *others = seams.seams
    dry = replace(joint, name="nose joint", deepest_mm=4.0)
    cured = replace(joint, name="keel", state="curing")
    evidence = with_parts(seams=replace(seams, seams=(cured, joint, dry, *others)))
    points = {one.key: one for one in check_answer(evidence).points if one.key[:5] == "seams"}
    assert set(points) == {"seams_stop", "seams_pass"}
    assert points["seams_stop"].about == ("keel",)
    assert points["seams_stop"].when == joint.sealed.cured_at
    assert points["seams_pass"].about == ("joint", "nose joint")
    assert points["seams_pass"].evidence == "tested"
    assert points["seams_pass"].when == on(15).isoformat()


def test_the_worst_setup_counts_unless_one_is_asked_about():
    """600 g more in a setup is what freeboard is judged in, and grams left say which."""
    setups = (Setup(name="wet", wet_g=600.0),)
    every = rebuilt(setups=setups)
    answer = check_answer(every)
    board = next(one for one in answer.points if one.key == "freeboard")
    assert board.setup == "wet"
    assert answer.facts.worst_grams_left.setup == "wet"
    assert answer.facts.grams_left.setup is None
    assert answer.facts.worst_grams_left.mass_g == every.setups.setups[1].margin_g
    # What is judged as she is says so, but only where she has other setups.
    told = [{one.code for one in of.assumptions} for of in (answer, check_answer(base_evidence()))]
    assert ["as-she-is" in codes for codes in told] == [True, False]
    assert answer.facts.grams_left.mass_g > answer.facts.worst_grams_left.mass_g + 500.0
    lone = _kept(check_evidence(every.build, every.logbook, NOW, setup="wet"))
    alone = check_answer(lone)
    assert (alone.setup, alone.mass_g) == ("wet", 1800.0)
    assert lone.looked_at == (lone.floating,)
    with pytest.raises(InputError, match="no setup 'dry'"):
        check_answer(check_evidence(every.build, every.logbook, NOW, setup="dry"))


def test_a_large_craft_and_a_person_aboard_are_told():
    """Over 25 kg or 5 m by the caveat of where she floats; with a person when asked."""
    size = Caveat(code="person-scale", message="at 30 kg and 1.0 m")
    assert not check_answer(base_evidence()).large
    large = check_answer(floating(warnings=(size,)))
    assert (large.large, large.large_because) == (True, ("size",))
    assert "person-scale" not in {one.code for one in large.assumptions}
    both = check_answer(floating(warnings=(size,)), person=True)
    assert both.large_because == ("size", "person")
    assert check_answer(base_evidence(), person=True).large_because == ("person",)


def test_the_size_at_which_she_may_carry_a_person():
    """A box of 26 kg says so by itself; one of 24 kg does not."""
    for grams, large in ((26_000.0, True), (24_000.0, False)):
        evidence = rebuilt(bodies=(_raft(),), mass_g=grams, center_of_gravity_mm=(300.0, 0.0, 9.0))
        assert check_answer(evidence).large is large


def _raft():
    """Return a box that carries 48 kg."""
    return box_body(600.0, 1000.0, 80.0)


def test_waves_are_judged_by_bow_freeboard_and_beam():
    """Half of the height of her bow over the water and a quarter of 120 mm of beam."""
    points = {one.key: one for one in check_answer(base_evidence()).judgment}
    of_bow, of_beam = points["waves"].values
    bow = next(
        one.height_mm
        for one in base_evidence().floating.freeboard_mm.points
        if one.name == "top of the hull at the bow"
    )
    assert of_bow.value == pytest.approx(0.5 * bow)
    assert of_beam.value == pytest.approx(30.0)


def test_evidence_is_worked_out_once():
    """Every answer behind the list is the same object each time it is asked for."""
    base = base_evidence()
    for name in ("craft", "setups", "floating", "righting", "flood", "seams", "skin"):
        assert getattr(base, name) is getattr(base, name)
    assert base.floating is base.setups.setups[0]
    said = []
    fresh = check_evidence(made(), base.logbook, NOW, progress=said.append)
    assert said == []
    assert fresh.looked_at == fresh.setups.setups
    assert said == ["floating her in every setup"]


def test_equipment_low_in_the_bilge_gets_wet_in_full():
    """Worked out in full: in the V ahead of the step 25 g stand 7 mm deep, 100 g no 12 mm.

    Derived: bow up by the slope s the pool is a wedge of d³/(3 s tan 10°) mm³, s = tan 1.2°.
    """
    places = {"receiver": 6.0, "battery": 20.0}
    items = tuple(
        Equipment(item=item, lowest_mm=(309.0, 0.0, height)) for item, height in places.items()
    )
    evidence = rebuilt(keep=("righting", "seams"), fittings=replace(FITTINGS, equipment=items))
    point = next(one for one in check_answer(evidence).points if one.key == "electronics")
    assert (point.state, point.value, point.about) == ("caution", 25.0, ("receiver",))
    assert {row.name for row in point.details} == {"receiver"}
    assert max(row.value for row in point.details) == 100.0


def test_a_craft_weighed_whole_or_on_floats_is_told_so():
    """The sheet's own mass stands for the ledger's, and main floats are no hull."""
    whole = rebuilt(mass_g=1200.0)
    floats = rebuilt(bodies=(replace(HULL, role="main float"),))
    assert turned(check_answer(whole)) == BASE
    points = {one.key: one for one in check_answer(whole).points}
    assert finding(points["weights"], NOW.isoformat()) == "given whole: 1200 ± 1 g"
    points = {one.key: one for one in check_answer(floats).points}
    assert finding(points["upright"], NOW.isoformat()).startswith("her main floats (GM ")


def test_the_last_test_that_stands_is_judged():
    """A wet test before the dry ones stops nothing, nor does one after them that is struck."""
    wet = soak(5.0)
    early = (*RECORDS[:2], (on(12), wet), *RECORDS[2:])
    assert told(relogged(*early)) == BASE
    struck = (*RECORDS, (on(16), wet), (on(17), Strike(entry=5, why="spilled")))
    assert told(relogged(*struck)) == BASE


def test_a_seam_that_a_heavier_setup_puts_under_water_is_counted():
    """A slot over the water as she is lies under that of a setup by what its waterline says."""
    ends = np.array([(280.0, 50.0, 28.5), (304.0, 50.0, 28.5)])
    slot = opening_at(*ends, name="slot", state="sealed")
    evidence = rebuilt(
        keep=("righting", "flood"),
        openings=(*OPENINGS, slot),
        setups=(Setup(name="heavy", add=(("battery", 300.0),)),),
    )
    here, heavy = (one.waterline for one in evidence.looked_at)
    assert (ends @ np.array(here.normal) > here.height_mm).all()
    deep = heavy.height_mm - (ends @ np.array(heavy.normal)).min()
    assert evidence.wet_in_setups["slot"] == (pytest.approx(deep, abs=1e-6), "heavy")
    points = {one.key: one for one in check_answer(evidence).points}
    slots = points["seams_not_known"]
    assert (slots.about, slots.setup) == (("slot",), "heavy")
    assert slots.value == pytest.approx(deep, abs=1e-6)
    assert finding(slots, NOW.isoformat()).endswith("mm deep (heavy)")


def test_a_measured_center_near_an_end_of_its_band_needs_care():
    """A CG that was balanced is read to a millimeter, never exactly."""
    evidence = rebuilt(center_of_gravity_mm=(297.5, 0.0, 40.0))
    points = {one.key: one for one in check_answer(evidence).points}
    assert (points["cg"].state, points["cg"].cause) == ("caution", "near an end")
    assert points["cg"].evidence == "noted"
