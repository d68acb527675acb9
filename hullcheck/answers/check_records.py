"""The answer to whether she is ready for the water. Attribute names are the keys of its JSON."""

from dataclasses import dataclass, replace
from typing import Final, Literal, Self, get_args

from hullcheck.answers.float_records import Caveat, Point
from hullcheck.answers.seams_order import Advice
from hullcheck.water import Water

State = Literal["stop", "not known", "caution", "pass"]
STATES: Final[tuple[State, ...]] = get_args(State)
"""From the worst to the best: what is not known may be worse than what needs care."""

Grounds = Literal["computed", "weighed", "tested", "noted", "assumed"]
"""What a point rests on: arithmetic on files and ledger, a scale, a test, what was written down in
sheet or log, or nothing but an assumption."""

Unit = Literal["mm", "g", "g_per_30min", "deg", "min", "percent", "ratio", "cm3"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckDetail:
    """One row behind a point: an opening, a setup, a seam, an item, a float.

    Attributes
    ----------
    name : str
        What it is of.
    word : str or None
        What is said of it: an opening's state, a seam's state, a compartment, a setup.
    value : float or None
        Its number.
    unit : str or None
        Of that number.
    when : str or None
        Of its newest entry in the logbook (ISO 8601).
    """

    name: str
    word: str | None = None
    value: float | None = None
    unit: Unit | None = None
    when: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckPoint:
    """One point of the list.

    Attributes
    ----------
    key : str
        Which point, the same in every run: "freeboard", "seams_stop".
    question : str
        What is asked, in a few words.
    state : str
        "stop", "not known", "caution" or "pass".
    cause : str
        Why it is in that state, the same word in every run: "broken", "no limit".
    evidence : str
        "computed", "weighed", "tested", "noted" or "assumed".
    when : str or None
        Of the newest evidence in the logbook (ISO 8601).
    value, plus_minus : float or None
        The number it is judged by, and how well that is known, in `unit`.
    unit : str or None
        "mm", "g", "g_per_30min", "deg", "min", "percent", "ratio" or "cm3".
    limit : float, tuple of float, or None
        What the value is held against; a pair has two ends.
    setup : str or None
        The setup the value is of; None as she is.
    about : tuple of str
        Seams, openings, items, floats it is about, the worst first.
    details : tuple of CheckDetail
        What lies behind it.
    next_step : str or None
        What to do about it; None where nothing is to be done.
    holds_back : bool
        Whether it must be settled before she goes on the water: every "stop", and what is not known
        of weight, center, freeboard, or of what keeps the water out.
    """

    key: str
    question: str
    state: State
    cause: str
    evidence: Grounds
    when: str | None = None
    value: float | None = None
    plus_minus: float | None = None
    unit: Unit | None = None
    limit: float | tuple[float, float] | None = None
    setup: str | None = None
    about: tuple[str, ...] = ()
    details: tuple[CheckDetail, ...] = ()
    next_step: str | None = None
    holds_back: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgmentPoint:
    """What no arithmetic settles; the builder's own judgment, never a pass.

    Attributes
    ----------
    key : str
        "wind", "waves", "hump", "retrieval", "batteries" or "local_rules".
    question : str
        What it is about.
    values : tuple of CheckDetail
        Planning values worked out from her (common practice, no source).
    """

    key: str
    question: str
    values: tuple[CheckDetail, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class GramsLeft:
    """Grams that may be added at the CG until the first limit breaks.

    Attributes
    ----------
    mass_g, plus_minus_g : float, float or None
        [g]
    limited_by, at : str or None
        As in the answer to where she floats: the limit's key, and where.
    setup : str or None
        None as she is.
    """

    mass_g: float
    plus_minus_g: float | None
    limited_by: str | None
    at: str | None
    setup: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LowestOpening:
    """The opening that counts, or the top of the hull where none does.

    Attributes
    ----------
    name : str
        What it is called.
    state : str or None
        "open", "taped", "sealed", or None where that is not stated.
    height_mm, plus_minus_mm : float, float or None
        Above the water, negative under it [mm].
    point_mm : tuple of float
        Its lowest point, in body axes [mm].
    setup : str or None
        None as she is.
    """

    name: str
    state: str | None
    height_mm: float
    plus_minus_mm: float | None
    point_mm: Point
    setup: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamToLookAt:
    """The seam or opening to look at first.

    Attributes
    ----------
    name : str
        What it is called.
    state : str
        One of `hullcheck.craft.seam_states.KINDS`.
    advice : str
        What is to be done, such as "repair, then soak".
    under_water : bool
        Whether any of it lies under water at rest.
    """

    name: str
    state: str
    advice: Advice
    under_water: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstFacts:
    """What is asked first beside the verdict; None where it has no answer.

    Attributes
    ----------
    grams_left, worst_grams_left : GramsLeft or None
        As she is, and in the setup with the fewest.
    lowest_opening, worst_lowest_opening : LowestOpening or None
        As she is, and in the setup in which it is lowest.
    seam : SeamToLookAt or None
        None where no seam needs anything.
    """

    grams_left: GramsLeft | None
    worst_grams_left: GramsLeft | None
    lowest_opening: LowestOpening | None
    worst_lowest_opening: LowestOpening | None
    seam: SeamToLookAt | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckAnswer:
    """The list before the first water taxi.

    Attributes
    ----------
    schema : str
        Name and version of this document.
    craft : str
        What she is called.
    setup : str or None
        The setup that was asked about; None: as she is, and the worst of all her setups.
    mass_g : float
        All-up mass [g].
    center_of_gravity_mm : tuple of float or None
        In body axes [mm].
    water : Water
        What she floats in.
    now : str
        The time the list is told for (ISO 8601).
    entries : int
        Entries of the logbook that stand.
    last_entry : int
        Number of the newest entry; 0 where there is none.
    verdict : str
        The worst state among the points.
    holds_back : bool
        Whether anything must be settled before she goes on the water.
    points : tuple of CheckPoint
        Stop, not known, caution, pass; inside each what holds her back first, then in the order of
        the list.
    judgment : tuple of JudgmentPoint
        What no arithmetic settles.
    facts : FirstFacts
        Grams left, lowest opening, the seam to look at.
    assumptions : tuple of Caveat
        What was assumed.
    large : bool
        Whether she is large enough to carry a person, or does.
    large_because : tuple of str
        Of "size" and "person".
    warnings : tuple of Caveat
        What was assumed or repaired in reading the files.
    """

    schema: str
    craft: str
    setup: str | None
    mass_g: float
    center_of_gravity_mm: Point | None
    water: Water
    now: str
    entries: int
    last_entry: int
    verdict: State
    holds_back: bool
    points: tuple[CheckPoint, ...]
    judgment: tuple[JudgmentPoint, ...]
    facts: FirstFacts
    assumptions: tuple[Caveat, ...]
    large: bool
    large_because: tuple[str, ...]
    warnings: tuple[Caveat, ...]

    def of_state(self, state: State) -> tuple[CheckPoint, ...]:
        """Return the points in a state, in their order."""
        return tuple(point for point in self.points if point.state == state)

    @property
    def first(self) -> CheckPoint | None:
        """The first point that holds her back; None where none does."""
        return next((point for point in self.points if point.holds_back), None)

    def with_warnings(self, more: tuple[Caveat, ...]) -> Self:
        """Return the same answer with more to know, put first."""
        return replace(self, warnings=(*more, *self.warnings))
