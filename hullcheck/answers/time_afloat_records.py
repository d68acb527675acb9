"""How long she stays afloat with a leak, as it is told."""

from dataclasses import dataclass
from typing import Literal

Law = Literal["hole", "crack"]
LeakSource = Literal["asked", "test", "sheet"]


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeAfloatMinutes:
    """How long she stays within her limits, by each law.

    Attributes
    ----------
    hole, crack : float or None
        Minutes by that law [min]; None where it was not asked, or the first limit is never met.
    limited_by : str or None
        The first limit, by its key: one of the sheet's, or "equipment_wet", "opening_under",
        "capsizes", "sinks".
    """

    hole: float | None
    crack: float | None
    limited_by: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitBreak:
    """A limit that breaks as she fills.

    Attributes
    ----------
    limit : str
        By its key, as in `TimeAfloatMinutes`.
    at : str or None
        The opening, the item, or the way she trims or heels.
    water_g : float
        Water that has come in by then [g].
    hole_min, crack_min : float or None
        When, by each law [min]; None where a law was not asked.
    """

    limit: str
    at: str | None
    water_g: float
    hole_min: float | None
    crack_min: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LeakTime:
    """One leak, and what comes of it.

    Attributes
    ----------
    name : str
        Of the leak, or of the seam or opening it is taken to be.
    what : str
        What it is, in words.
    compartment : str
        Where the water runs.
    beside : tuple of str
        Other compartments that it runs along; what would come into them is taken to come into that
        one too.
    head_mm : float
        Depth of its lowest point at rest [mm].
    hole_g_per_min, crack_g_per_min : float or None
        What comes in at first, by each law [g/min].
    hole_min, crack_min : float or None
        Time to the first limit by each law [min]; None where not asked, or never met.
    limited_by, at : str or None
        The first limit and where; None where none is met.
    breaks : tuple of LimitBreak
        All limits in the order they break, until an opening is under, she falls over or sinks.
    levels_out : bool
        Whether the water inside meets the level outside, or fills its compartment, before she is
        lost.
    levels_at_g : float or None
        Water aboard from this leak then [g].
    """

    name: str
    what: str
    compartment: str
    head_mm: float
    hole_g_per_min: float | None
    crack_g_per_min: float | None
    hole_min: float | None
    crack_min: float | None
    limited_by: str | None
    at: str | None
    breaks: tuple[LimitBreak, ...]
    levels_out: bool
    levels_at_g: float | None
    beside: tuple[str, ...] = ()

    @property
    def least_min(self) -> float | None:
        """The lesser of both times [min]; None where no limit is met."""
        return min((t for t in (self.hole_min, self.crack_min) if t is not None), default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeAfloat:
    """How long she stays within her limits with her leak.

    Attributes
    ----------
    source : str
        "asked", "test" (the last standing one of the logbook) or "sheet" (its [[leak]]).
    entry : int or None
        The logbook's entry.
    test_day : str or None
        When that test was, as an ISO date.
    gain_g, gain_plus_minus_g, minutes : float or None
        What came in during the test and how well that is known [g], and how long it was [min].
    at_least : bool
        Whether the gain was below what the scale can tell, so that the times are least times.
    low_min, high_min : float or None
        The range over both laws and the scale's ± [min]; None at its open end.
    limit_min : float or None
        The sheet's limit on time on the water [min].
    holds : bool or None
        Whether the low end keeps that limit; None without one.
    leaks : tuple of LeakTime
        The worst first. Of a test, every place the water may have come in.
    """

    source: LeakSource
    entry: int | None
    test_day: str | None
    gain_g: float | None
    gain_plus_minus_g: float | None
    minutes: float | None
    at_least: bool
    low_min: float | None
    high_min: float | None
    limit_min: float | None
    holds: bool | None
    leaks: tuple[LeakTime, ...]
