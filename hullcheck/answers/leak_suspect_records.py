"""Which seam explains the water, and the leak test to make next."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from hullcheck.craft.leak_ladder import STATIC_CAUTION
from hullcheck.flotation.leak_laws import LeakLaw

Purpose = Literal["tell apart", "confirm", "confirm the repair"]
Verdict = Literal[
    "no tests", "no water", "named", "one alone", "cannot tell", "laws disagree", "unexplained"
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """A seam as it was from one work on it to the next: after that it is another leak.

    Attributes
    ----------
    seam : str
        The seam or opening.
    since, until : datetime or None
        The works on it that begin and end that time; None: the beginning, or up to now.
    """

    seam: str
    since: datetime | None = None
    until: datetime | None = None

    @property
    def current(self) -> bool:
        """Whether it is the seam as it is now."""
        return self.until is None


@dataclass(frozen=True, slots=True, kw_only=True)
class Strength:
    """How strongly one suspect leaks, by one law.

    Attributes
    ----------
    suspect : Suspect
        Which.
    law : str
        "hole" or "crack".
    best, low, high : float
        Best value and 95 % interval: g/min by ∫ √h dl [g/min/mm^1.5] for the hole law, by ∫ h dl
        [g/min/mm²] for the crack law, in fresh water at 15 °C.
    gains_g : tuple of float
        What `best` lets in in each test that was counted [g].
    worse_without : float
        By how much chi-squared rises where this one alone is taken to be tight.
    """

    suspect: Suspect
    law: LeakLaw
    best: float
    low: float
    high: float
    gains_g: tuple[float, ...]
    worse_without: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LawFit:
    """All suspects together against all tests, by one law.

    Attributes
    ----------
    law : str
        "hole" or "crack".
    chi_squared : float
        Weighted squares left over.
    explains : bool
        Whether that is no more than chance leaves in 99 of 100 cases.
    strengths : tuple of Strength
        One for each suspect.
    needed : tuple of Suspect
        Those without which no others explain the tests.
    alone : tuple of Suspect
        Those any of which explains the tests all by itself.
    """

    law: LeakLaw
    chi_squared: float
    explains: bool
    strengths: tuple[Strength, ...]
    needed: tuple[Suspect, ...]
    alone: tuple[Suspect, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SoakCounted:
    """A test that the sums were made of."""

    entry: int
    at: datetime
    gain_g: float
    gain_plus_minus_g: float
    minutes: float
    mass_g: float
    trim_deg: float
    heel_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A place where water was seen to come in: evidence of its own, not in the sums."""

    suspect: Suspect
    entry: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Prediction:
    """What the next test would gain if one explanation is true: both laws' least and greatest."""

    suspects: tuple[Suspect, ...]
    low_g: float
    high_g: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NextTest:
    """The test to make next.

    Attributes
    ----------
    purpose : str
        "tell apart", "confirm" or "confirm the repair".
    mass_g, ballast_g : float
        What she is to weigh, and what that is more than she weighs all-up [g].
    trim_deg, heel_deg : float
        Attitude [deg].
    held : bool
        Whether she must be held or ballasted to it; False: as she floats by herself.
    minutes : float
        How long [min].
    lowest_opening_mm : float
        Height of the lowest opening that is not sealed, above the water [mm].
    predictions : tuple of Prediction
        What each explanation would gain.
    apart_sigma : float
        The least difference between two of them, over what the scale and the laws leave open;
        above 3 they are told apart.
    inseparable : tuple of pairs of tuple of Suspect
        Pairs of explanations, each a set of suspects, that no one feasible test tells apart: dry
        one seam, tape or grease it over, and repeat the test.
    """

    purpose: Purpose
    mass_g: float
    ballast_g: float
    trim_deg: float
    heel_deg: float
    held: bool
    minutes: float
    lowest_opening_mm: float
    predictions: tuple[Prediction, ...]
    apart_sigma: float
    inseparable: tuple[tuple[tuple[Suspect, ...], tuple[Suspect, ...]], ...] = ()

    @property
    def tape_over(self) -> Suspect | None:
        """A seam to tape or grease over before the test is repeated; None where none need be."""
        for first, second in self.inseparable:
            for one in (*first, *second):
                if one not in first or one not in second:
                    return one
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairHeld:
    """The test that shows that a repair held: what it gained, and what would have come in without.

    Attributes
    ----------
    entry : int
        Number of the test's entry in the logbook.
    at : datetime
        When it was.
    gain_g : float
        What came in [g].
    expected_low_g, expected_high_g : float
        What the seams named would have let in as they were, by the two laws [g].
    """

    entry: int
    at: datetime
    gain_g: float
    expected_low_g: float
    expected_high_g: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LeakSuspects:
    """Which seam explains the water.

    Attributes
    ----------
    verdict : str
        "no tests": none to sum. "no water": none that the scale could tell. "named": `named` must
        leak, whatever else does. "one alone": one seam, and only that, explains all tests by
        itself, but several together could too, and it may then be innocent. "cannot tell": see
        `cannot_tell_between`. "laws disagree": each law would name another. "unexplained": no
        seams together explain the tests.
    named : tuple of Suspect
        Without these no other seams explain the tests, by either law; empty unless "named".
    alone : Suspect or None
        The only one that explains all tests by itself, by both laws; None where there is none or
        several do.
    cannot_tell_between : tuple of tuple of Suspect
        Groups of which any one does as well as another.
    fits : tuple of LawFit
        Hole law, crack law; empty without tests.
    counted : tuple of SoakCounted
        The tests the sums were made of.
    left_out : tuple of (int, str)
        Tests that were not, and why.
    seen : tuple of Seen
        Where water was seen to come in.
    never_wet : tuple of str
        Seams and openings that lay above the water in every counted test: nothing is known.
    repair_held : RepairHeld or None
        The test after which what was named is tight; None where none shows that.
    next_test : NextTest or None
        What would tell, or confirm.
    caution : str
        "static: a dry soak does not clear a hull under way".
    """

    verdict: Verdict
    named: tuple[Suspect, ...] = ()
    alone: Suspect | None = None
    cannot_tell_between: tuple[tuple[Suspect, ...], ...] = ()
    fits: tuple[LawFit, ...] = ()
    counted: tuple[SoakCounted, ...] = ()
    left_out: tuple[tuple[int, str], ...] = ()
    seen: tuple[Seen, ...] = ()
    never_wet: tuple[str, ...] = ()
    repair_held: RepairHeld | None = None
    next_test: NextTest | None = None
    caution: str = STATIC_CAUTION
