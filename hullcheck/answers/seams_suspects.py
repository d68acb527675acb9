"""Which seams explain the water in the leak tests. Attribute names are keys of a JSON."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class SuspectReport:
    """A seam as it was from one work on it to the next: after that it is another leak.

    Attributes
    ----------
    seam : str
        The seam or opening.
    since, until : str or None
        The works on it that begin and end that time (ISO 8601); None: the beginning, or up to now.
    """

    seam: str
    since: str | None
    until: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SoakPrediction:
    """What a test would gain if one explanation is true.

    Attributes
    ----------
    suspects : tuple of SuspectReport
        The explanation.
    low_g, high_g : float
        The least and the greatest gain, over both leak laws [g].
    """

    suspects: tuple[SuspectReport, ...]
    low_g: float
    high_g: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NextSoak:
    """The leak test to make next.

    Attributes
    ----------
    purpose : str
        "tell apart", "confirm" or "confirm the repair".
    mass_g, ballast_g : float
        What she is to weigh, and what that is more than she weighs all-up [g].
    trim_deg, heel_deg : float
        The attitude, positive bow up and starboard down [deg].
    held : bool
        Whether she must be held or ballasted to it.
    minutes : float
        How long [min].
    predictions : tuple of SoakPrediction
        What each explanation would gain.
    """

    purpose: str
    mass_g: float
    ballast_g: float
    trim_deg: float
    heel_deg: float
    held: bool
    minutes: float
    predictions: tuple[SoakPrediction, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldReport:
    """The leak test that shows that a repair held.

    Attributes
    ----------
    entry : int
        Number of its entry in the logbook.
    at : str
        When it was (ISO 8601).
    gain_g : float
        What came in [g].
    expected_low_g, expected_high_g : float
        What the seams named would have let in as they were, by the two leak laws [g].
    """

    entry: int
    at: str
    gain_g: float
    expected_low_g: float
    expected_high_g: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A leak test that the sums were not made of.

    Attributes
    ----------
    entry : int
        Number of the entry in the logbook.
    why : str
        What is missing.
    """

    entry: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SuspectsReport:
    """Which seams explain the water in the leak tests; see `answers.leak_records.LeakSuspects`.

    Attributes
    ----------
    verdict : str
        "no tests", "no water", "named", "one alone", "cannot tell", "laws disagree" or
        "unexplained".
    named : tuple of SuspectReport
        Without these no other seams explain the tests, by either leak law.
    alone : SuspectReport or None
        The only one that explains all tests by itself, by both laws.
    cannot_tell_between : tuple of tuple of SuspectReport
        Groups of which any one does as well as another.
    counted : tuple of int
        Numbers of the entries the sums were made of.
    left_out : tuple of LeftOut
        Tests that were not counted, and why.
    never_wet : tuple of str
        Seams and openings above the water in every counted test.
    repair_held : HeldReport or None
        The test that shows that what was named is tight since it was worked on.
    next_test : NextSoak or None
        The test that would tell, or confirm.
    """

    verdict: str
    named: tuple[SuspectReport, ...]
    alone: SuspectReport | None
    cannot_tell_between: tuple[tuple[SuspectReport, ...], ...]
    counted: tuple[int, ...]
    left_out: tuple[LeftOut, ...]
    never_wet: tuple[str, ...]
    repair_held: HeldReport | None
    next_test: NextSoak | None
