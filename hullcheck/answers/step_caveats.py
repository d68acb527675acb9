"""What must be said about a step beside its numbers: another one, a ramp, a V in plan."""

from collections.abc import Iterable
from typing import Final

from hullcheck.answers.float_records import Caveat
from hullcheck.answers.step_bottom import Bottom
from hullcheck.answers.step_records import RuleCheck
from hullcheck.geometry.step import Step

_SHORT_FIT: Final = 0.1
"""Of the length: a keel straight over less than this has an angle that depends on where it is
read."""
_V_SHARE: Final = 0.005
"""Of the length: a step's edge that runs further fore or aft across the bottom is a V."""


def step_caveats(bottom: Bottom) -> tuple[Caveat, ...]:
    """Return what must be said about a body's step.

    Parameters
    ----------
    bottom : Bottom
        The bottom it is in.

    Returns
    -------
    tuple of Caveat
        Codes "no-step", "ramp", "other-step", "v-step", "curved-keel".
    """
    step = bottom.step
    if step is None:
        return (*_none(bottom), *_of_ramps(bottom))
    return (
        *_others(bottom, step),
        *_of_ramps(bottom),
        *_of_plan(bottom),
        *_of_keels(bottom, step),
    )


def _none(bottom: Bottom) -> list[Caveat]:
    """Return that there is no step."""
    return [
        Caveat(
            code="no-step",
            message=f"no step was found on the center plane of {bottom.body.name}: a step is a "
            "stretch of keel that rises aft at more than 35°, by 0.3 % of the length or more, with "
            "keel on both sides",
        )
    ]


def _of_ramps(bottom: Bottom) -> list[Caveat]:
    """Return the rises that are too gentle for a step."""
    return [
        Caveat(
            code="ramp",
            message=f"at station {ramp.station_mm:.0f} the keel rises {ramp.depth_mm:.1f} mm over "
            f"{ramp.run_mm:.1f} mm: a ramp, too gentle to count as a step. Water may follow it "
            "instead of breaking away (common practice, no source)",
        )
        for ramp in bottom.ramps
    ]


def _others(bottom: Bottom, step: Step) -> list[Caveat]:
    """Return the other steps."""
    main = step.station_mm
    return [
        Caveat(
            code="other-step",
            message=f"another step at station {other.station_mm:.0f}, {other.depth_mm:.1f} mm "
            f"deep: every number is that of the one at station {main:.0f}, the lowest of the deep "
            "ones" + (", and its afterbody ends at the other" if other.station_mm > main else ""),
        )
        for other in bottom.others
    ]


def _of_plan(bottom: Bottom) -> list[Caveat]:
    """Return that the step is a V in plan."""
    keel, last = bottom.plan[0], bottom.plan[-1]
    run = last.station_mm - keel.station_mm
    if abs(run) <= _V_SHARE * bottom.length_mm:
        return []
    way = "forward" if run < 0.0 else "aft"
    return [
        Caveat(
            code="v-step",
            message=f"the step is a V in plan: its edge runs {abs(run):.1f} mm {way} from keel to "
            f"{last.half_breadth_mm:.0f} mm off it. Rules rarely say which point they mean; here "
            "it is the keel corner",
        )
    ]


def _of_keels(bottom: Bottom, step: Step) -> list[Caveat]:
    """Return what is not straight enough for one angle, or not sharp."""
    found = []
    for name, fit in (("forebody", step.forebody_fit_mm), ("afterbody", step.afterbody_fit_mm)):
        if fit < _SHORT_FIT * bottom.length_mm:
            found.append(
                Caveat(
                    code="curved-keel",
                    message=f"the {name} keel is straight over {fit:.0f} mm beside the step only: "
                    "its angle, and what is read from it, changes with where it is read",
                )
            )
    return found


def comparing_caveats(rules: Iterable[RuleCheck], *, center_is_known: bool) -> tuple[Caveat, ...]:
    """Return which rules cannot be held against her, and why, a sentence each reason.

    Parameters
    ----------
    rules : iterable of RuleCheck
        Held against her.
    center_is_known : bool
        Whether her center of gravity is.
    """
    found = []
    if not center_is_known:
        found.append(
            Caveat(
                code="no-cg",
                message="no center of gravity given: what is read from it is not comparable "
                "(--cg X,Y,Z, or the places of the ledger's items)",
            )
        )
    reasons: dict[str, list[str]] = {}
    for rule in rules:
        if rule.missing is not None and (center_is_known or "CG" not in rule.missing):
            reasons.setdefault(rule.missing, []).append(rule.name)
    found += [
        Caveat(code="not-comparable", message=f"not comparable: {', '.join(names)} ({reason})")
        for reason, names in reasons.items()
        if reason != "no step was found"
    ]
    return tuple(found)
