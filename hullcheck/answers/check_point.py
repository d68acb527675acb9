"""A point of the list from its cause."""

from collections.abc import Mapping
from typing import Any

from hullcheck.answers.check_records import CheckPoint, Grounds
from hullcheck.answers.check_rules import QUESTIONS, RULES
from hullcheck.answers.float_records import FloatAnswer


def point(which: str, cause: str, evidence: Grounds, /, **more: Any) -> CheckPoint:  # noqa: ANN401
    """Return a point in the state that a cause makes of it.

    Parameters
    ----------
    which : str
        Which point.
    cause : str
        Why; one of its `check_rules.RULES`.
    evidence : str
        What that rests on.
    **more
        The other attributes of a `CheckPoint`.
    """
    rule = RULES[which][cause]
    return CheckPoint(
        **{"key": which, **more},
        question=QUESTIONS[which],
        state=rule.state,
        cause=cause,
        evidence=evidence,
        next_step=rule.next_step,
        holds_back=rule.holds_back,
    )


def first_cause(key: str, holds: Mapping[str, bool]) -> str:
    """Return the first cause of a point that holds, in the order of its rules."""
    unknown = set(holds) - set(RULES[key])
    if unknown:
        raise AssertionError(f"{key}: no rule for {sorted(unknown)}")
    return next(cause for cause in RULES[key] if holds.get(cause, False))


def has_rest(answer: FloatAnswer) -> bool:
    """Return whether she rests afloat: neither sinks, nor falls over, nor lacks a center."""
    return answer.rest is not None and answer.rest not in {"sinks", "capsized"}
