"""The ladder a leak test is graded by: tight, damp, weeping, leaking.

Nothing here knows an array library or a mesh: a grade must be printed in the time it takes to write
an entry. Common practice, no source; the limit of the build sheet, where there is one, wins.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal, get_args

from hullcheck.craft.log_records import Entry, LeakTest
from hullcheck.errors import InputError

Grade = Literal["tight", "damp", "weeping", "leaking"]
GRADES: Final[tuple[Grade, ...]] = get_args(Grade)
"""From the best to the worst."""

STATIC_CAUTION: Final = "static: a dry soak does not clear a hull under way"
"""Stands beside every grade and every size of a leak."""

PER_MINUTES: Final = 30.0
"""Rates are told over so many minutes."""
TIGHT_G_PER_30MIN: Final = 1.0
"""What drying her outside repeats to, whatever the scale shows [g]."""
DAMP_SHARE: Final = 0.005
"""Up to this share of the mass in 30 minutes she is damp, above it weeping."""
WEEPING_SHARE: Final = 0.02
"""Up to this share of the mass in 30 minutes she is weeping, above it leaking."""
FLYING_WEIGHT_SHARE: Final = 0.99
"""A test at this share of the flying weight or above counts as one at flying weight."""

ACTIONS: Final[dict[Grade, str]] = {
    "tight": "no action",
    "damp": "mop out after each landing; repeat with a longer soak",
    "weeping": "repair and test again before any flight",
    "leaking": "do not launch",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class LeakGrade:
    """What one leak test says of the whole hull.

    Attributes
    ----------
    grade : str
        "tight", "damp", "weeping" or "leaking", by the ladder.
    worst_grade : str
        What the gain and its ± leave possible at the worst.
    because : str
        What the grade rests on: "0.37 % of 702 g in 30 min", "water aft of the step".
    action : str
        What the ladder says to do.
    gain_g, gain_plus_minus_g : float
        Water that came in, and how well that is known [g].
    minutes : float
        In how long [min].
    rate_g_per_30min, rate_plus_minus_g_per_30min : float
        The same over 30 minutes [g].
    below_resolution : bool
        Whether the scale cannot tell the gain from nothing.
    mass_g : float
        What the share is of [g]: her flying weight, else that of the test.
    at_flying_weight : bool or None
        Whether the test was made at her flying weight; None where that is not known.
    running : bool
        Whether she was run.
    limit_g_per_30min : float or None
        The build sheet's limit; None where there is none.
    within_limit : bool or None
        Whether the rate is within that limit, which wins over the ladder; None without one.
    limit_in_doubt : bool
        Whether the limit lies within ± of the rate.
    caution : str
        "static: a dry soak does not clear a hull under way".
    """

    grade: Grade
    worst_grade: Grade
    because: str
    action: str
    gain_g: float
    gain_plus_minus_g: float
    minutes: float
    rate_g_per_30min: float
    rate_plus_minus_g_per_30min: float
    below_resolution: bool
    mass_g: float
    at_flying_weight: bool | None
    running: bool
    limit_g_per_30min: float | None
    within_limit: bool | None
    limit_in_doubt: bool
    caution: str = STATIC_CAUTION

    @property
    def tells(self) -> bool:
        """Whether the test could have shown that she weeps: long enough, on a scale that fine."""
        return self.worst_grade in {"tight", "damp"} or not self.below_resolution

    @property
    def passes(self) -> bool:
        """Whether it is good enough to go on: the sheet's limit, or without one at worst damp."""
        if self.within_limit is not None:
            return self.within_limit
        return self.grade in {"tight", "damp"}


def grade_of(
    test: LeakTest,
    *,
    limit_g_per_30min: float | None = None,
    flying_mass_g: float | None = None,
) -> LeakGrade:
    """Return what a leak test says of the whole hull, by the ladder and by the sheet's limit.

    Parameters
    ----------
    test : LeakTest
        A finished test.
    limit_g_per_30min : float or None
        `[limits] leak_g_per_30min` of the build sheet [g].
    flying_mass_g : float or None
        Her all-up mass [g]; shares are of the test's own mass where it is not known.

    Returns
    -------
    LeakGrade
        The rate is the one in the test; at another load it is another (`answers.leak_grade`).

    Notes
    -----
    Tight: no more than the scale can tell, or than 1 g in 30 minutes where that is no more than
    damp. Damp: to 0.5 % of the mass in 30 minutes, none of it aft of the step. Weeping: to 2 %, or
    any water aft of the step. Leaking: above 2 %, or a visible stream. Common practice, no source.

    Examples
    --------
    >>> from hullcheck.craft.log_records import LeakTestSetup
    >>> setup = LeakTestSetup(mass_g=702.0, before_g=702.0, plus_minus_g=0.1)
    >>> test = LeakTest(setup=setup, minutes=30.0, after_g=704.6, aft_of_step=True)
    >>> grade_of(test).grade, grade_of(test).because
    ('weeping', 'water aft of the step')
    """
    mass = _mass(test, flying_mass_g)
    to_30min = PER_MINUTES / test.minutes
    rate, plus_minus = test.gain_g * to_30min, test.gain_plus_minus_g * to_30min
    measured = "tight" if test.below_resolution else grade_at(rate, mass)
    grade, seen = _worse(measured, test)
    worst, _ = _worse("leaking" if test.lost else grade_at(rate + plus_minus, mass), test)
    limit = limit_g_per_30min
    return LeakGrade(
        grade=grade,
        worst_grade=worst,
        because=seen or _because(test, rate, mass),
        action=ACTIONS[grade],
        gain_g=test.gain_g,
        gain_plus_minus_g=test.gain_plus_minus_g,
        minutes=test.minutes,
        rate_g_per_30min=rate,
        rate_plus_minus_g_per_30min=plus_minus,
        below_resolution=test.below_resolution,
        mass_g=mass,
        at_flying_weight=at_flying_weight(test, flying_mass_g),
        running=test.setup.running,
        limit_g_per_30min=limit,
        within_limit=None if limit is None else rate <= limit,
        limit_in_doubt=limit is not None and abs(rate - limit) < plus_minus,
    )


def grade_at(rate_g_per_30min: float, mass_g: float) -> Grade:
    """Return the grade of a rate [g in 30 min] alone, for a hull of a mass [g]."""
    share = rate_g_per_30min / mass_g
    if rate_g_per_30min <= TIGHT_G_PER_30MIN and share <= DAMP_SHARE:
        return "tight"
    if share <= DAMP_SHARE:
        return "damp"
    return "weeping" if share <= WEEPING_SHARE else "leaking"


def last_telling(
    tests: Sequence[tuple[Entry, LeakTest]], flying_mass_g: float | None = None
) -> tuple[Entry, LeakTest] | None:
    """Return the last leak test that could show anything; the last one where none could.

    Parameters
    ----------
    tests : sequence of (Entry, LeakTest)
        By time; None is returned without any.
    flying_mass_g : float or None
        Her all-up mass [g].
    """
    told = [(e, t) for e, t in tests if grade_of(t, flying_mass_g=flying_mass_g).tells]
    return (told or tests)[-1] if tests else None


def at_flying_weight(test: LeakTest, flying_mass_g: float | None) -> bool | None:
    """Return whether a test was made at flying weight, to 1 %; None where that is not known."""
    if flying_mass_g is None:
        return None
    return test.setup.mass_g >= FLYING_WEIGHT_SHARE * flying_mass_g


def worse_of(one: Grade, other: Grade) -> Grade:
    """Return the worse of two grades."""
    return max(one, other, key=GRADES.index)


def _worse(measured: Grade, test: LeakTest) -> tuple[Grade, str]:
    """Return a grade after what was seen, and what was seen if that made it worse."""
    if test.stream and measured != "leaking":
        return "leaking", "water came in as a visible stream"
    if test.aft_of_step and measured in {"tight", "damp"}:
        return "weeping", "water aft of the step"
    return measured, ""


def _because(test: LeakTest, rate: float, mass: float) -> str:
    """Return what a grade by the scale rests on."""
    if test.lost:
        return f"{-test.gain_g:.3g} g lighter than before: dried otherwise, or a slip"
    if test.below_resolution:
        return f"no more than the scale can tell: ±{test.gain_plus_minus_g:.2g} g"
    return f"{100.0 * rate / mass:.2g} % of {mass:.0f} g in {PER_MINUTES:.0f} min"


def _mass(test: LeakTest, flying_mass_g: float | None) -> float:
    """Return the mass that shares are of [g]."""
    if flying_mass_g is None:
        return test.setup.mass_g
    if not (math.isfinite(flying_mass_g) and flying_mass_g > 0.0):
        raise InputError(f"a flying weight of {flying_mass_g:g} g: must be above 0")
    return flying_mass_g
