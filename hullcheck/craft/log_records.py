"""What the logbook holds: weigh-ins, sealing work, leak tests, notes, and what was struck out.

Nothing here knows an array library: the logbook must open in the time it takes to say so.
"""

import math
from dataclasses import dataclass, fields
from datetime import datetime
from typing import Literal, get_args

from hullcheck.errors import InputError

LeakTestWater = Literal["fresh", "sea"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighIn:
    """One weighing.

    Attributes
    ----------
    mass_g : float
        What the scale showed [g].
    plus_minus_g : float
        The scale's resolution, or how well the mass is known [g].
    item : str or None
        The ledger's item that was weighed; None for the whole craft, all-up.
    """

    mass_g: float
    plus_minus_g: float
    item: str | None = None

    def __post_init__(self) -> None:
        """Refuse a mass that is none, and a scale without a resolution."""
        _check(self)
        if not self.mass_g > 0.0:
            raise InputError(f"a mass of {self.mass_g:g} g: must be above 0")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sealing:
    """A seam sealed, or sealed again.

    Attributes
    ----------
    seam : str
        The seam or opening.
    material : str
        What it was sealed with.
    batch : str or None
        Of that material.
    cure_h : float or None
        How long it cures before water [h]; None where that was not said.
    """

    seam: str
    material: str
    batch: str | None = None
    cure_h: float | None = None

    def __post_init__(self) -> None:
        """Refuse work on nothing, and a cure of less than no time."""
        _check(self)
        _named(self.seam, "seam")
        _named(self.material, "material")


@dataclass(frozen=True, slots=True, kw_only=True)
class Reopening:
    """A seam that is not sealed any more: it cracked, was cut open, its tape came off."""

    seam: str
    why: str = ""

    def __post_init__(self) -> None:
        """Refuse a seam without a name."""
        _named(self.seam, "seam")


@dataclass(frozen=True, slots=True, kw_only=True)
class LeakTestSetup:
    """How she was set on the water for a leak test.

    Attributes
    ----------
    mass_g : float
        What she weighed as she floated, ballast and all [g].
    before_g : float
        What the scale showed before the test, of whatever goes on the scale again after it [g].
    plus_minus_g : float
        The scale's resolution, for each of the two weighings [g].
    wet_baseline_g : float
        What only dipping and toweling her adds [g]: that much of a gain is not inside.
    water : str
        "fresh" or "sea".
    temperature_c : float or None
        Of the water [°C].
    trim_deg, heel_deg : float or None
        The attitude she was held or ballasted to [deg]; None: as she floats with her own center.
    running : bool
        Whether she was run, not left still.
    ballast : str
        What stood in for missing parts, and where it lay.
    minutes_planned : float or None
        How long the test is to last [min].
    """

    mass_g: float
    before_g: float
    plus_minus_g: float
    wet_baseline_g: float = 0.0
    water: LeakTestWater = "fresh"
    temperature_c: float | None = None
    trim_deg: float | None = None
    heel_deg: float | None = None
    running: bool = False
    ballast: str = ""
    minutes_planned: float | None = None

    def __post_init__(self) -> None:
        """Refuse masses that are none, and a water that is neither."""
        _check(self, signed=("temperature_c", "trim_deg", "heel_deg"))
        for name in ("mass_g", "before_g"):
            if not getattr(self, name) > 0.0:
                raise InputError(f"{name} {getattr(self, name):g} g: must be above 0")
        if self.water not in get_args(LeakTestWater):
            raise InputError(f"water {self.water!r} is none of {get_args(LeakTestWater)}")


@dataclass(frozen=True, slots=True, kw_only=True)
class LeakTest:
    """A leak test that was finished.

    Attributes
    ----------
    setup : LeakTestSetup
        How she was set on the water.
    minutes : float
        How long she lay there [min].
    after_g : float
        What the scale showed after it, dried outside [g].
    found : tuple of str
        Seams and openings where water was seen to come in.
    aft_of_step : bool or None
        Whether any water stood aft of the step; None where nobody looked.
    stream : bool
        Whether it came in as a visible stream.
    """

    setup: LeakTestSetup
    minutes: float
    after_g: float
    found: tuple[str, ...] = ()
    aft_of_step: bool | None = None
    stream: bool = False

    def __post_init__(self) -> None:
        """Refuse a test of no time, and a scale that showed nothing."""
        _check(self)
        if not self.minutes > 0.0:
            raise InputError(f"a test of {self.minutes:g} min: must last longer than 0")
        if not self.after_g > 0.0:
            raise InputError(f"after_g {self.after_g:g} g: must be above 0")
        for seam in self.found:
            _named(seam, "seam")

    @property
    def gain_g(self) -> float:
        """Water that came in [g]: after less before less the wet baseline; may be below 0."""
        return self.after_g - self.setup.before_g - self.setup.wet_baseline_g

    @property
    def gain_plus_minus_g(self) -> float:
        """How well the gain is known [g]: the resolution of both weighings together."""
        return math.sqrt(2.0) * self.setup.plus_minus_g

    @property
    def rate_g_per_min(self) -> float:
        """Gain over time [g/min]."""
        return self.gain_g / self.minutes

    @property
    def rate_plus_minus_g_per_min(self) -> float:
        """How well the rate is known [g/min]."""
        return self.gain_plus_minus_g / self.minutes

    @property
    def below_resolution(self) -> bool:
        """Whether the gain is no more than the scale can tell from nothing."""
        return self.gain_g <= self.gain_plus_minus_g

    @property
    def lost(self) -> bool:
        """Whether she weighs less than before by more than twice what the scale can tell.

        She was dried otherwise, or a number is a slip: the test says nothing of what came in.
        """
        return self.gain_g < -2.0 * self.gain_plus_minus_g


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """The builder's own words, about a seam or opening where one is named."""

    text: str
    about: str | None = None

    def __post_init__(self) -> None:
        """Refuse a note that says nothing."""
        _named(self.text, "note")


@dataclass(frozen=True, slots=True, kw_only=True)
class Strike:
    """A wrong entry struck out; it stays in the book."""

    entry: int
    why: str

    def __post_init__(self) -> None:
        """Refuse a strike without a reason."""
        if self.entry < 1:
            raise InputError(f"entry {self.entry}: entries are numbered from 1")
        _named(self.why, "reason")


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A picture that belongs to an entry: where it lies and what its bytes hash to (SHA-256)."""

    path: str
    sha256: str


Record = WeighIn | Sealing | Reopening | LeakTestSetup | LeakTest | Note | Strike
"""A test that was started and not finished yet is its LeakTestSetup alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One entry of the logbook.

    Attributes
    ----------
    number : int
        From 1, in the order of writing.
    at : datetime
        When what it tells happened, with its zone.
    written : datetime
        When it was written, with its zone.
    record : WeighIn, Sealing, Reopening, LeakTestSetup, LeakTest, Note or Strike
        What it tells.
    finishes : int or None
        Of a leak test: the number of the entry that started its clock.
    photo : Photo or None
        A picture that belongs to it.
    """

    number: int
    at: datetime
    written: datetime
    record: Record
    finishes: int | None = None
    photo: Photo | None = None

    def __post_init__(self) -> None:
        """Refuse times without a zone, and numbers below 1."""
        if self.number < 1:
            raise InputError(f"entry {self.number}: entries are numbered from 1")
        for name in ("at", "written"):
            if getattr(self, name).tzinfo is None:
                raise InputError(f"entry {self.number}: {name} has no time zone")


def _check(record: object, *, signed: tuple[str, ...] = ()) -> None:
    """Refuse numbers of a record that are not finite, and those below 0 that may not be."""
    for field in fields(record):  # type: ignore[arg-type] # only ever called with a dataclass
        value = getattr(record, field.name)
        if not isinstance(value, float | int) or isinstance(value, bool):
            continue
        if not math.isfinite(value):
            raise InputError(f"{field.name} {value}: not a finite number")
        if value < 0.0 and field.name not in signed:
            raise InputError(f"{field.name} {value:g}: must not be below 0")


def _named(text: str, what: str) -> None:
    """Refuse a name or a text of nothing."""
    if not text.strip():
        raise InputError(f"the {what} has no text")
