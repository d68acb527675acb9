"""What is said of one leak test, and whether "dry" may be."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from hullcheck.craft.leak_ladder import STATIC_CAUTION, Grade, LeakGrade
from hullcheck.flotation.leak_laws import DISCHARGE_COEFFICIENT

SizedAt = Literal["where water was found", "the deepest seam"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ScaledRate:
    """The rate of a test, scaled to another load by both laws.

    Attributes
    ----------
    mass_g : float
        At that load [g].
    low_g_per_30min, high_g_per_30min : float
        The least and the greatest, over both laws and every seam it may have come through [g].
    plus_minus_g_per_30min : float
        What the scale adds to either end [g].
    low_grade, high_grade : str
        The grades of both ends.
    not_wetted : tuple of str
        Seams and openings that lie under water at that load and did not in the test: it says
        nothing of them.
    """

    mass_g: float
    low_g_per_30min: float
    high_g_per_30min: float
    plus_minus_g_per_30min: float
    low_grade: Grade
    high_grade: Grade
    not_wetted: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class LeakSize:
    """The one hole and the one crack that would let in as much.

    Attributes
    ----------
    seam : str
        Where they are taken to be.
    sized_at : str
        "where water was found", or "the deepest seam" where nothing was.
    head_mm : float
        Depth of that seam's deepest point in the test [mm].
    hole_diameter_mm : float
        Of one round hole there [mm].
    hole_is_least : bool
        Whether so narrow a hole through that wall would be slowed by viscosity, which the hole law
        leaves out: a real one is wider.
    crack_width_mm : float or None
        Of a crack along all of that seam that lay under water [mm]; None for a single point.
    crack_length_mm : float or None
        That length [mm].
    wall_mm : float
        The wall the crack goes through [mm].
    wall_assumed : bool
        Whether the sheet gives no wall there, and 1 mm was taken.
    at_most : bool
        Whether the scale could not tell the gain from nothing: they are then what ± would let in.
    discharge_coefficient : float
        Of the hole.
    """

    seam: str
    sized_at: SizedAt
    head_mm: float
    hole_diameter_mm: float
    hole_is_least: bool
    crack_width_mm: float | None
    crack_length_mm: float | None
    wall_mm: float
    wall_assumed: bool
    at_most: bool
    discharge_coefficient: float = DISCHARGE_COEFFICIENT


@dataclass(frozen=True, slots=True, kw_only=True)
class GradedTest:
    """One leak test with all that it says.

    Attributes
    ----------
    entry : int or None
        Its number in the logbook.
    grade : LeakGrade
        By the ladder and by the sheet's limit, in the test itself.
    flying : ScaledRate or None
        At the craft's own load; None where she sinks at it or no seam was under water.
    size : LeakSize or None
        The one leak that would let in as much; None where no seam was under water.
    caution : str
        "static: a dry soak does not clear a hull under way".
    """

    entry: int | None
    grade: LeakGrade
    flying: ScaledRate | None
    size: LeakSize | None
    caution: str = STATIC_CAUTION


@dataclass(frozen=True, slots=True, kw_only=True)
class Dryness:
    """Whether "dry" may be said, and what it lacks.

    Attributes
    ----------
    seam : str or None
        Of one seam; None for the whole hull.
    since : datetime or None
        When it was last sealed or opened; for the whole hull the last such work; None: never.
    flying_weight, planned_time, running : bool
        Whether dry tests since then were made at flying weight, for the planned time, and running.
    minutes_needed : float or None
        The planned time [min]; None where neither the sheet nor a test says any.
    water_in : int or None
        The latest test since then in which water came in; None: none. Only tests after it count.
    dry_tests : tuple of int
        The dry ones after that.
    lacks : tuple of str
        What is missing, in words: "flying weight", "15 min", "a running test".
    """

    seam: str | None
    since: datetime | None
    flying_weight: bool
    planned_time: bool
    running: bool
    minutes_needed: float | None
    water_in: int | None
    dry_tests: tuple[int, ...]
    lacks: tuple[str, ...]

    @property
    def dry(self) -> bool:
        """Whether all three hold."""
        return self.flying_weight and self.planned_time and self.running
