"""Leak tests as the seams see them: how deep each lay, and the sheet's limit on the gain."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Self

from hullcheck.answers.float_records import Caveat, LimitCheck
from hullcheck.answers.seams_records import SoakReport
from hullcheck.answers.soak_floating import floating_in_soak
from hullcheck.craft.craft import Craft
from hullcheck.craft.leak_ladder import FLYING_WEIGHT_SHARE, grade_of
from hullcheck.craft.limits import Limits
from hullcheck.craft.log_records import Entry, LeakTest, LeakTestSetup
from hullcheck.craft.logbook import Logbook
from hullcheck.craft.seam_lines import SeamLine
from hullcheck.errors import InputError, SolverError
from hullcheck.flotation.floating import Floating

USUAL_SOAK_MIN: Final = 30.0
"""How long a soak usually is [min]: the planned time where the sheet has no time_on_water_min
(common practice, no source)."""
_SAME_DEPTH_MM: Final = 0.5
"""What a depth is read to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SoakDepths:
    """How deep the lowest point of each seam lay in each leak test.

    Attributes
    ----------
    depths_mm : mapping of int to mapping of str to float
        By the number of the test's entry and the seam's name [mm]; negative above the water.
    caveats : tuple of Caveat
        Tests of which it is not known how she floated, and why.
    """

    depths_mm: Mapping[int, Mapping[str, float]]
    caveats: tuple[Caveat, ...] = ()

    @classmethod
    def of(cls, craft: Craft, lines: Sequence[SeamLine], logbook: Logbook) -> Self:
        """Return the depths in every test that stands; tests set up alike are floated once."""
        floated: dict[LeakTestSetup, Floating | str] = {}
        depths, caveats = {}, []
        for entry, test in logbook.tests:
            setup = test.setup
            if setup not in floated:
                floated[setup] = _floating(craft, setup)
            floating = floated[setup]
            if isinstance(floating, str):
                caveats.append(Caveat(code="test-not-floated", message=_untold(entry, floating)))
                continue
            depths[entry.number] = {
                line.name: line.heads(floating.normal, floating.height_mm).deepest_mm
                for line in lines
            }
        return cls(depths_mm=depths, caveats=tuple(caveats))


def _floating(craft: Craft, setup: LeakTestSetup) -> Floating | str:
    """Return how she floated in a test, or why that cannot be told."""
    try:
        return floating_in_soak(craft, setup)
    except (InputError, SolverError) as problem:
        return str(problem)


def _untold(entry: Entry, why: str) -> str:
    """Return what is said of a test in which she cannot be floated."""
    return f"the leak test of entry {entry.number} clears no seam: {why}"


def soak_report(entry: Entry, craft: Craft, *, deepest_mm: float | None = None) -> SoakReport:
    """Return a leak test as it is reported, graded at a craft's mass and by her limit.

    Parameters
    ----------
    entry : Entry
        Of the test.
    craft : Craft
        Whose mass and limit count.
    deepest_mm : float, optional
        How deep a seam lay in it [mm].
    """
    test = entry.record
    if not isinstance(test, LeakTest):
        raise InputError(f"entry {entry.number}: no leak test")
    limit = craft.limits.leak_g_per_30min
    grade = grade_of(test, limit_g_per_30min=limit, flying_mass_g=craft.mass_g)
    return SoakReport(
        entry=entry.number,
        at=entry.at.isoformat(),
        mass_g=test.setup.mass_g,
        minutes=test.minutes,
        running=test.setup.running,
        gain_g=test.gain_g,
        plus_minus_g=test.gain_plus_minus_g,
        g_per_30min=grade.rate_g_per_30min,
        grade=grade.grade,
        within_limit=grade.within_limit,
        tells=grade.tells,
        deepest_mm=deepest_mm,
        found=test.found,
    )


def dry_lacks(
    tests: Sequence[SoakReport], limits: Limits, *, mass_g: float, deepest_mm: float | None
) -> tuple[str, ...]:
    """Return what a seam's dry tests lack to count for a hull under way.

    Parameters
    ----------
    tests : sequence of SoakReport
        Those that clear it; none lack nothing, as there is nothing to qualify.
    limits : Limits
        Whose `time_on_water_min` is the planned time; 30 min where there is none.
    mass_g : float
        The flying weight [g].
    deepest_mm : float or None
        How deep the seam lies at it [mm].

    Returns
    -------
    tuple of str
        Of "flying weight", "this depth", "planned time" and "running test".
    """
    if not tests:
        return ()
    heavy = [one for one in tests if one.mass_g >= FLYING_WEIGHT_SHARE * mass_g]
    planned = limits.time_on_water_min or USUAL_SOAK_MIN
    counted = heavy or list(tests)
    depth = max((one.deepest_mm for one in counted if one.deepest_mm is not None), default=None)
    shallow = depth is not None and deepest_mm is not None and depth < deepest_mm - _SAME_DEPTH_MM
    lacks = (
        ("flying weight", not heavy),
        ("this depth", bool(heavy) and shallow),
        ("planned time", max(one.minutes for one in counted) < planned),
        ("running test", not any(one.running for one in counted)),
    )
    return tuple(name for name, lacking in lacks if lacking)


def limit_checks(limits: Limits, tests: Sequence[SoakReport]) -> tuple[LimitCheck, ...]:
    """Return the sheet's limit on the gain in 30 minutes against the last test that could tell."""
    limit = limits.leak_g_per_30min
    telling = [one for one in tests if one.tells]
    if limit is None or not telling:
        return ()
    last = telling[-1]
    ok = bool(last.within_limit)
    return (LimitCheck(name="leak_g_per_30min", value=last.g_per_30min, limit=limit, ok=ok),)
