"""Which seam explains the water: round trips on made logbooks, and what cannot be told."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from leak_making import (
    BEGIN,
    STATIONS,
    book_of,
    integrals,
    leaking_soak,
    line_of,
    seamed_box,
    soak,
)

from hullcheck.answers.leak_fit import Fit
from hullcheck.answers.leak_suspect_records import LawFit, Suspect
from hullcheck.answers.leak_suspects import _verdict, leak_suspects
from hullcheck.craft.log_records import Reopening, Sealing, Strike
from hullcheck.craft.logbook import Logbook
from hullcheck.craft.seam_lines import seam_lines
from hullcheck.water import fresh_water, sea_water

CRAFT = seamed_box()
LINES = seam_lines(CRAFT)
ATTITUDES = ({}, {"trim_deg": -2.5}, {"trim_deg": 2.5}, {"trim_deg": -5.0, "mass_g": 1500.0})
LAWS = ("hole", "crack")
A_LITTLE = {"hole": 3e-4, "crack": 7e-5}
"""Strengths that let in some grams in half an hour [g/min by head integral]."""


def told(*records, craft=CRAFT, **more):
    """Return what a logbook of records says, without the test to make next."""
    lines = LINES if craft is CRAFT else None
    more = {"with_next_test": False} | more
    return leak_suspects(book_of(*records), craft, lines=lines, **more)


def soaks(strengths, law, *, attitudes=ATTITUDES, random=None, **more):
    """Return the tests of seams that leak so strongly, with the noise of a 0.1 g scale if asked."""
    noise = np.zeros(len(attitudes)) if random is None else random.normal(0, 0.14, len(attitudes))
    return [
        leaking_soak(CRAFT, strengths, law, noise_g=noise[k], **(attitude | more))
        for k, attitude in enumerate(attitudes)
    ]


def names(suspects):
    """Return the seams of suspects."""
    return tuple(one.seam for one in suspects)


@pytest.mark.parametrize("law", LAWS)
@pytest.mark.parametrize("seam", ["nose joint", "stern joint"])
def test_the_seam_that_leaks_is_named(law, seam):
    """Tests at several trims name a leaking end joint, by both laws, whichever law it follows."""
    found = told(*soaks({seam: A_LITTLE[law]}, law))
    assert found.verdict == "named"
    assert names(found.named) == (seam,)
    assert found.named[0].current
    assert found.cannot_tell_between == ()
    own = next(fit for fit in found.fits if fit.law == law)
    assert own.explains
    strength = next(s for s in own.strengths if s.suspect.seam == seam)
    assert strength.best == pytest.approx(A_LITTLE[law], rel=1e-6)
    assert strength.low < strength.best < strength.high
    assert strength.worse_without > 9.0
    gains = [test.gain_g for test in found.counted]
    assert strength.gains_g == pytest.approx(gains, abs=1e-6)


@given(seed=st.integers(0, 10**6), law=st.sampled_from(LAWS))
@settings(max_examples=40)
def test_an_innocent_seam_is_never_named(seed, law):
    """Random leaks and a noisy scale: what is named leaks; the true law's intervals hold the truth.

    Named is what both laws need, so the true law needs it: a chance of 0.1 %, within 40 tries none.
    """
    random = np.random.default_rng(seed)
    truth = {n: A_LITTLE[law] * random.uniform(0.3, 2.0) * random.integers(0, 2) for n in STATIONS}
    found = told(*soaks(truth, law, random=random))
    assert all(truth[one.seam] > 0.0 for one in found.named)
    own = next(fit for fit in found.fits if fit.law == law)
    inside = [s.low <= truth[s.suspect.seam] <= s.high for s in own.strengths]
    assert sum(inside) >= len(inside) - 1
    assert found.verdict != "unexplained"


def test_names_are_found_often():
    """Of 40 logbooks with one leaking end joint and noise, four tests name it in most."""
    named = 0
    for seed in range(40):
        law, seam = LAWS[seed % 2], ("nose joint", "stern joint")[seed // 2 % 2]
        random = np.random.default_rng(seed)
        found = told(*soaks({seam: 1.5 * A_LITTLE[law]}, law, random=random))
        assert names(found.named) in {(seam,), ()}
        named += bool(found.named)
    assert named >= 36


def test_both_of_two_leaks_are_named():
    """Leaks at both ends are both needed once each was tested with the joint amidships dry."""
    steep = ({}, {"trim_deg": -8.0, "mass_g": 400.0}, {"trim_deg": 8.0, "mass_g": 400.0})
    found = told(*soaks({"nose joint": 3e-4, "stern joint": 4e-4}, "hole", attitudes=steep))
    assert names(found.named) == ("nose joint", "stern joint")


def test_one_alone_is_no_name():
    """Nearly level, leaks at both ends look like one amidships: said as "one alone", not named.

    The innocent joint explains the tests all by itself, and so do the two that leak, together.
    """
    gentle = told(*soaks({"nose joint": 3e-4, "stern joint": 4e-4}, "hole"))
    assert (gentle.verdict, gentle.named) == ("one alone", ())
    assert gentle.alone == Suspect(seam="step joint")


def test_one_test_cannot_tell():
    """After one test any of the seams will do: refused, with all of them named as a group."""
    found = told(leaking_soak(CRAFT, {"nose joint": 3e-4}, "hole"))
    assert (found.verdict, found.named, found.alone) == ("cannot tell", (), None)
    assert [names(group) for group in found.cannot_tell_between] == [tuple(STATIONS)]


def test_a_joint_between_two_explains_alone():
    """Amidships the joint alone explains two tests; both ends together could as well: not named."""
    records = soaks({"step joint": 7e-5}, "crack", attitudes=ATTITUDES[1:3])
    found = told(*records)
    assert (found.verdict, found.named) == ("one alone", ())
    assert found.alone == Suspect(seam="step joint")
    assert found.cannot_tell_between == ()


def test_proportional_seams_are_not_told_apart():
    """Two lines as deep in every test are one group; a third leak is named beside them."""
    port = line_of("port chine", [100.0, -50.0, 0.0], [200.0, -50.0, 0.0])
    starboard = line_of("starboard chine", [100.0, 50.0, 0.0], [200.0, 50.0, 0.0])
    craft = seamed_box({"stern joint": 540.0}, seams=(port, starboard))
    for strengths, named in (
        ({"port chine": 4e-4}, ()),
        ({"port chine": 4e-4, "stern joint": 4e-4}, ("stern joint",)),
    ):
        records = [leaking_soak(craft, strengths, "hole", **a) for a in ATTITUDES]
        found = told(*records, craft=craft)
        assert names(found.named) == named
        assert [names(g) for g in found.cannot_tell_between] == [("port chine", "starboard chine")]
        assert found.verdict == ("named" if named else "cannot tell")
    heels = ({}, {"trim_deg": -2.5}, {"heel_deg": -15.0}, {"heel_deg": 15.0})
    heeled = [leaking_soak(craft, {"port chine": 4e-4}, "hole", **a) for a in heels]
    assert names(told(*heeled, craft=craft).named) == ("port chine",)


def test_a_repair_makes_another_seam():
    """A gain that ends with the repair of one seam names it as it was before that."""
    before = leaking_soak(CRAFT, {"step joint": 3e-4}, "hole")
    repair = Sealing(seam="step joint", material="epoxy")
    found = told(before, repair, soak(0.0))
    (was,) = found.named
    assert (was.seam, was.current, was.since) == ("step joint", False, None)
    assert was.until == BEGIN.replace(hour=12)  # the second entry, two hours after the beginning
    now = next(s for s in found.fits[0].strengths if s.suspect.current and s.suspect.since)
    assert (now.suspect.seam, now.best) == ("step joint", 0.0)
    struck = told(before, repair, soak(0.0), Strike(entry=2, why="was not done"))
    assert struck.named == ()
    assert {one.suspect.until for one in struck.fits[0].strengths} == {None}


def test_a_repair_that_did_not_help():
    """A gain that stays as it was after the repair of one seam does not name that seam."""
    leaks = leaking_soak(CRAFT, {"nose joint": 3e-4}, "hole")
    found = told(leaks, Reopening(seam="step joint", why="cut out"), leaks)
    assert "step joint" not in names(found.named)
    assert set(names(found.cannot_tell_between[0])) == {"nose joint", "stern joint"}


def test_a_dry_test_clears_what_it_wetted():
    """Dry bow up, wet level: the nose joint, which alone came out of the water, is named."""
    bow_up = {"trim_deg": 8.0}
    level = leaking_soak(CRAFT, {"nose joint": 3e-4}, "hole")
    assert integrals(CRAFT, soak(**bow_up).setup, "hole")["nose joint"] == 0.0
    assert names(told(level, soak(0.0, **bow_up)).named) == ("nose joint",)


def test_no_water_no_tests():
    """Gains the scale cannot tell explain nothing; an empty logbook even less."""
    assert told(soak(0.1), soak(-0.1)).verdict == "no water"
    empty = leak_suspects(Logbook(), CRAFT, lines=LINES)
    assert (empty.verdict, empty.next_test, empty.fits) == ("no tests", None, ())
    assert empty.never_wet == tuple(line.name for line in LINES)


def test_water_from_nowhere():
    """Water that no seam of the sheet can have let in is said to be unexplained."""
    found = told(soak(0.0, trim_deg=-2.5), soak(0.0, trim_deg=2.5), soak(9.0))
    assert (found.verdict, found.named) == ("unexplained", ())
    none = leak_suspects(book_of(soak(9.0)), seamed_box({}))
    assert (none.verdict, none.never_wet, none.next_test) == ("unexplained", ("hatch",), None)


def test_tests_that_cannot_be_summed():
    """She was run, or would have sunk: left out, each with its reason; never wet is said too."""
    found = told(soak(3.0, running=True), soak(3.0, mass_g=6000.0), soak(0.0))
    assert [test.entry for test in found.counted] == [3]
    assert [entry for entry, _ in found.left_out] == [1, 2]
    assert "she was run" in found.left_out[0][1]
    assert "at the 6000 g of the test she sinks" in found.left_out[1][1]
    assert found.never_wet == ("hatch",)


def test_direct_sight_stands_beside():
    """Where water was seen to come in is told apart and changes none of the sums."""
    blind = leaking_soak(CRAFT, {"nose joint": 3e-4}, "hole")
    seeing = leaking_soak(CRAFT, {"nose joint": 3e-4}, "hole", found=("stern joint",))
    found, without = told(seeing), told(blind)
    assert [(one.suspect.seam, one.entry) for one in found.seen] == [("stern joint", 1)]
    assert found.fits == without.fits
    assert found.verdict == without.verdict == "cannot tell"


def test_other_waters_count_by_the_laws():
    """Half the tests in a warm lake, half in a cold sea: strengths come back by their law."""
    records = []
    for attitude in ATTITUDES:
        for water, warm in (("fresh", 25.0), ("sea", 5.0)):
            blank = soak(water=water, temperature_c=warm, **attitude)
            made = fresh_water if water == "fresh" else sea_water
            there, here = made(temperature_c=warm), fresh_water()
            factor = (there.density_kg_m3 / here.density_kg_m3) ** 2
            factor *= here.viscosity_pa_s / there.viscosity_pa_s
            along = integrals(CRAFT, blank.setup, "crack")["nose joint"]
            gain = 30.0 * 7e-5 * along * factor
            records.append(replace(blank, after_g=blank.setup.before_g + gain))
    crack = next(fit for fit in told(*records).fits if fit.law == "crack")
    best = {s.suspect.seam: s.best for s in crack.strengths}
    assert best["nose joint"] == pytest.approx(7e-5, rel=1e-6)
    assert best["stern joint"] == pytest.approx(0.0, abs=1e-10)


A, B = Suspect(seam="a"), Suspect(seam="b")


@pytest.mark.parametrize(
    ("needed", "alone", "verdict"),
    [
        (((A,), (A,)), ((A,), (A,)), "named"),
        (((A, B), (A,)), ((), (A,)), "named"),
        (((A,), (B,)), ((A,), (B,)), "laws disagree"),
        (((), ()), ((A,), (B,)), "laws disagree"),
        (((), ()), ((A,), (A,)), "one alone"),
        (((), (A,)), ((A, B), (A,)), "cannot tell"),
        (((A,), ()), ((A,), (A,)), "one alone"),
        (((), ()), ((), ()), "cannot tell"),
    ],
)
def test_both_laws_must_agree(needed, alone, verdict):
    """Named is what both laws need; laws that name different seams disagree and name none."""
    fits = tuple(
        LawFit(law=law, chi_squared=0.0, explains=True, strengths=(), needed=n, alone=one)
        for law, n, one in zip(LAWS, needed, alone, strict=True)
    )
    water = {law: Fit(matrix=np.ones((1, 1)), measured=np.array([9.0])) for law in LAWS}
    assert _verdict(fits, water) == verdict
