"""Whether she is ready for the water: the whole list."""

from typing import Final

from hullcheck.answers.check_afloat import freeboard_point, heel_point, trim_point
from hullcheck.answers.check_assumed import PERSON_SCALE, assumptions
from hullcheck.answers.check_evidence import CheckEvidence
from hullcheck.answers.check_facts import first_facts
from hullcheck.answers.check_files import files_point, openings_point
from hullcheck.answers.check_inside import electronics_point, swamped_point
from hullcheck.answers.check_judgment import judgment_points
from hullcheck.answers.check_leaks import leak_point, running_point, time_point
from hullcheck.answers.check_load import cg_point, weights_point
from hullcheck.answers.check_records import STATES, CheckAnswer, CheckPoint
from hullcheck.answers.check_seams import seams_points, spray_point
from hullcheck.answers.check_upright import propeller_point, step_point, upright_point

SCHEMA: Final = "hullcheck.check/1"


def check_answer(evidence: CheckEvidence, *, person: bool = False) -> CheckAnswer:
    """Return the list before the first water taxi, the worst first.

    Parameters
    ----------
    evidence : CheckEvidence
        What it rests on; what is not worked out yet is worked out now.
    person : bool, default False
        Whether a person is to be aboard.

    Returns
    -------
    CheckAnswer

    Raises
    ------
    InputError
        If two seams or openings share a name, there is no such setup, or `now` has no zone.
    SolverError
        If no rest was found.
    SurfaceError
        If much of what is under water had to be invented; see `answers.invented`.

    Notes
    -----
    Each point stands in the state that `check_rules.RULES` gives the first of its causes that
    holds. What is not known is never a pass.
    """
    craft, points = evidence.craft, worst_first(_points(evidence))
    size = any(caveat.code == PERSON_SCALE for caveat in evidence.floating.warnings)
    because = tuple(word for word, holds in (("size", size), ("person", person)) if holds)
    return CheckAnswer(
        schema=SCHEMA,
        craft=craft.name,
        setup=craft.setup,
        mass_g=craft.mass_g,
        center_of_gravity_mm=craft.center_of_gravity_mm,
        water=craft.water,
        now=evidence.now.isoformat(),
        entries=len(evidence.logbook.standing),
        last_entry=evidence.logbook.last_number,
        verdict=points[0].state,
        holds_back=any(one.holds_back for one in points),
        points=points,
        judgment=judgment_points(evidence),
        facts=first_facts(evidence),
        assumptions=assumptions(evidence),
        large=bool(because),
        large_because=because,
        warnings=(),
    )


def worst_first(points: tuple[CheckPoint, ...]) -> tuple[CheckPoint, ...]:
    """Return points by state, in each what holds her back first, else in the order of the list."""
    return tuple(sorted(points, key=lambda one: (STATES.index(one.state), not one.holds_back)))


def _points(evidence: CheckEvidence) -> tuple[CheckPoint, ...]:
    """Return every point in the order of the list."""
    return (
        *seams_points(evidence),
        leak_point(evidence),
        freeboard_point(evidence),
        upright_point(evidence),
        cg_point(evidence),
        weights_point(evidence),
        openings_point(evidence),
        files_point(evidence),
        trim_point(evidence),
        heel_point(evidence),
        time_point(evidence),
        running_point(evidence),
        spray_point(evidence),
        electronics_point(evidence),
        propeller_point(evidence),
        step_point(evidence),
        swamped_point(evidence),
    )
