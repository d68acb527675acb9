"""The leak test to make next: it separates, it can be made, and what it predicts comes true."""

from dataclasses import replace

import numpy as np
import pytest
from crafts import opening_at
from leak_making import STATIONS, book_of, leaking_soak, line_of, seamed_box, soak

from hullcheck.answers.leak_candidates import DRY_MM, HEELED_TRIMS_DEG, LOADS, TRIMS_DEG, candidates
from hullcheck.answers.leak_suspects import leak_suspects
from hullcheck.craft.fittings import Fittings, Propeller, Wing
from hullcheck.craft.limits import Limits
from hullcheck.craft.log_records import Sealing
from hullcheck.craft.seam_lines import seam_lines

CRAFT = seamed_box()
LINES = seam_lines(CRAFT)
STRENGTH = {"hole": 3e-4, "crack": 7e-5}


def told(*records, craft=CRAFT):
    """Return what a logbook of records says, with the test to make next."""
    return leak_suspects(book_of(*records), craft, lines=LINES if craft is CRAFT else None)


def made(test, strengths, law, craft=CRAFT):
    """Return the proposed test as it comes out where the seams leak so strongly."""
    held = {"trim_deg": test.trim_deg, "heel_deg": test.heel_deg} if test.held else {}
    return leaking_soak(craft, strengths, law, mass_g=test.mass_g, minutes=test.minutes, **held)


def names(suspects):
    """Return the seams of suspects."""
    return tuple(one.seam for one in suspects)


@pytest.mark.parametrize(
    ("law", "seam"), [("hole", "nose joint"), ("crack", "step joint"), ("crack", "stern joint")]
)
def test_the_next_test_separates(law, seam):
    """Put in as proposed, one test leaves the one seam that explains alone, two name it at most.

    What each proposal predicts for the guilty seam holds what then comes in.
    """
    strengths = {seam: STRENGTH[law]}
    records = [leaking_soak(CRAFT, strengths, law)]
    found = told(*records)
    assert found.verdict == "cannot tell"
    for _ in range(2):
        test = found.next_test
        assert test.purpose == "tell apart"
        assert test.apart_sigma > 3.0
        assert test.inseparable == ()
        records.append(made(test, strengths, law))
        low, high = next(
            (p.low_g, p.high_g) for p in test.predictions if names(p.suspects) == (seam,)
        )
        assert low - 1e-6 <= records[-1].gain_g <= high + 1e-6
        found = told(*records)
        if found.verdict == "named":
            break
        assert (found.verdict, found.alone.seam) == ("one alone", seam)
    assert names(found.named) == (seam,)


def test_once_named_it_is_confirmed():
    """A named seam is put where it lets in far more or less than any other alone would."""
    strengths = {"nose joint": 3e-4}
    first = leaking_soak(CRAFT, strengths, "hole")
    found = told(first, soak(0.0, trim_deg=8.0))
    test = found.next_test
    assert test.purpose == "confirm"
    assert names(test.predictions[0].suspects) == ("nose joint",)
    assert {names(p.suspects) for p in test.predictions} == {(name,) for name in STATIONS}
    assert test.apart_sigma > 3.0
    again = told(first, soak(0.0, trim_deg=8.0), made(test, strengths, "hole"))
    assert names(again.named) == ("nose joint",)


def test_a_repair_is_confirmed():
    """After the repair: what the seam would let in as it was, against nothing."""
    before = leaking_soak(CRAFT, {"nose joint": 3e-4}, "hole")
    dry = soak(0.0, trim_deg=8.0)
    test = told(before, dry, Sealing(seam="nose joint", material="epoxy")).next_test
    assert test.purpose == "confirm the repair"
    leaks, holds = test.predictions
    assert names(leaks.suspects) == ("nose joint",)
    assert (holds.suspects, holds.low_g, holds.high_g) == ((), 0.0, 0.0)
    as_before = made(test, {"nose joint": 3e-4}, "hole").gain_g
    assert leaks.low_g - 1e-6 <= as_before <= leaks.high_g + 1e-6
    assert as_before > 5.0 * 0.1


def test_seams_that_no_test_separates():
    """Two seams in one place: no set-up tells them apart, so one is to be taped over."""
    ends = ([100.0, 0.0, 0.0], [200.0, 0.0, 0.0])
    craft = seamed_box(
        {"stern joint": 540.0}, seams=(line_of("inner bead", *ends), line_of("outer bead", *ends))
    )
    records = [
        leaking_soak(craft, {"inner bead": 4e-4}, "hole", **a) for a in ({}, {"trim_deg": -4.0})
    ]
    found = told(*records, craft=craft)
    assert [names(group) for group in found.cannot_tell_between] == [("inner bead", "outer bead")]
    test = found.next_test
    assert test.apart_sigma == 0.0
    assert [{names(s) for s in group} for group in test.inseparable] == [
        {("inner bead",), ("outer bead",)}
    ]
    assert test.tape_over.seam in {"inner bead", "outer bead"}


def test_heel_separates_what_trim_cannot():
    """Chines to port and starboard differ in no upright test: the next is heeled, and tells."""
    sides = [[[100.0, y, 0.0], [200.0, y, 0.0]] for y in (-50.0, 50.0)]
    craft = seamed_box(
        {}, seams=(line_of("port chine", *sides[0]), line_of("starboard chine", *sides[1]))
    )
    strengths = {"port chine": 8e-4}
    first = leaking_soak(craft, strengths, "crack")
    test = told(first, craft=craft).next_test
    assert abs(test.heel_deg) == pytest.approx(15.0)
    then = told(first, made(test, strengths, "crack", craft), craft=craft)
    assert names(then.named) == ("port chine",)


def test_nothing_to_ask():
    """Without water, without tests, with but one seam, or with water from nowhere: no test."""
    assert told(soak(0.0)).next_test is None
    assert told(soak(0.0, trim_deg=-2.5), soak(0.0, trim_deg=2.5), soak(9.0)).next_test is None
    alone = seamed_box({"step joint": 290.0})
    found = told(leaking_soak(alone, {"step joint": 3e-4}, "hole"), craft=alone)
    assert (found.verdict, names(found.named), found.next_test) == ("named", ("step joint",), None)


def test_no_test_is_made_twice():
    """A set-up that was tested already is not proposed again."""
    records = [leaking_soak(CRAFT, {"step joint": 7e-5}, "crack")]
    for _ in range(3):
        test = told(*records).next_test
        for old in records:
            trim, mass = old.setup.trim_deg or 0.0, old.setup.mass_g
            heel = old.setup.heel_deg or 0.0
            assert (
                abs(test.trim_deg - trim) > 1.0
                or abs(test.heel_deg - heel) > 1.0
                or abs(test.mass_g - mass) > 0.04 * mass
            )
        records.append(made(test, {"step joint": 7e-5}, "crack"))


def test_candidates_keep_openings_dry():
    """Held at no attitude an opening that is not sealed, the wing or the propeller gets wet."""
    low = opening_at([560.0, 0.0, 45.0], name="exit")
    sealed = opening_at([300.0, 50.0, 5.0], name="screw", state="sealed")
    fittings = Fittings(
        wing=Wing(tip_mm=(250.0, 200.0, 90.0)),
        propeller=Propeller(hub_mm=(20.0, 0.0, 90.0), diameter_mm=80.0),
    )
    craft = replace(CRAFT, openings=(low, sealed), fittings=fittings)
    found = list(candidates(craft, []))
    assert found
    for one in found:
        lies = one.soak.floating
        tips = [float(lies.height_above_water_mm(corner)) for corner in fittings.wing.corners_mm]
        heights = [
            float(lies.height_above_water_mm(low.points_mm[0])),
            float(lies.height_above_water_mm(fittings.propeller.lowest_mm(lies.normal))),
            *tips,
        ]
        assert min(heights) >= DRY_MM
        assert one.lowest_mm == pytest.approx(heights[0])
    everything = len(LOADS) * (1 + len(TRIMS_DEG) + 2 * len(HEELED_TRIMS_DEG))
    assert len(found) < len(list(candidates(CRAFT, []))) <= everything
    trims = {round(one.soak.floating.trim_deg) for one in found}
    assert 8 not in trims  # the exit near the stern would be under
    assert -8 not in trims  # the propeller would be in the water


def test_candidates_keep_the_freeboard():
    """Ballast is put in only as far as the sheet's freeboard holds at rest with it."""
    # 60 mm from water to hatch, 4 mm less for each 240 g.
    strict = replace(CRAFT, limits=Limits(freeboard_mm=58.0))
    masses = {round(one.mass_g / 1200.0, 2) for one in candidates(strict, [])}
    assert masses == {1.0, 0.85}
    assert {round(one.mass_g / 1200.0, 2) for one in candidates(CRAFT, [])} == set(LOADS)
    heavy = replace(CRAFT, mass_g=4000.0)
    assert max(one.mass_g for one in candidates(heavy, [])) < 4790.0


def test_the_simplest_comes_first():
    """At rest and at her own weight first; without a center every set-up is a held one."""
    first = next(iter(candidates(CRAFT, [])))
    assert (first.held, first.mass_g) == (False, 1200.0)
    nowhere = replace(CRAFT, center_of_gravity_mm=None)
    found = list(candidates(nowhere, []))
    assert all(one.held for one in found)
    assert found[0].soak.floating.trim_deg == pytest.approx(0.0)
    assert np.unique([one.mass_g for one in found]).tolist() == [1020.0, 1200.0, 1380.0, 1560.0]


def test_no_set_up_is_feasible():
    """Where she does not keep her freeboard with any load, no test is proposed."""
    strict = replace(CRAFT, limits=Limits(freeboard_mm=79.0))
    records = [leaking_soak(CRAFT, {"nose joint": 3e-4}, "hole")]
    found = told(*records, craft=strict)
    assert (found.verdict, found.next_test) == ("cannot tell", None)
