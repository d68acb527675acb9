"""Points on how she floats: freeboard, trim and heel in the worst of her setups."""

from collections.abc import Callable, Sequence
from typing import Final, Literal

from hullcheck.answers.check_evidence import CheckEvidence
from hullcheck.answers.check_files import opening_points
from hullcheck.answers.check_point import first_cause, has_rest, point
from hullcheck.answers.check_records import CheckDetail, CheckPoint
from hullcheck.answers.float_records import FloatAnswer, LimitCheck
from hullcheck.answers.limits import slack
from hullcheck.answers.uncertainty import response_of, spread_of
from hullcheck.craft.build import AS_SHE_IS
from hullcheck.flotation.floating import Floating

_DECIMALS: Final = 2


def freeboard_point(evidence: CheckEvidence) -> CheckPoint:
    """Return how high her lowest opening stands in the worst setup, against the sheet's limit."""
    looked_at, limit = evidence.looked_at, evidence.craft.limits.freeboard_mm
    lost = next((one for one in looked_at if one.rest in {"sinks", "capsized"}), None)
    heights = [
        (one.freeboard_mm.least, one)
        for one in looked_at
        if one.freeboard_mm is not None and one.freeboard_mm.least is not None
    ]
    least, worst = min(heights, key=lambda pair: pair[0], default=(0.0, looked_at[0]))
    board = worst.freeboard_mm
    known = 0.0 if board is None or board.plus_minus is None else board.plus_minus
    cause = first_cause(
        "freeboard",
        {
            "sinks": any(one.rest == "sinks" for one in looked_at),
            "capsizes": lost is not None,
            "no center": any(one.rest is None for one in looked_at),
            "under water": bool(heights) and least < 0.0,
            "no limit": limit is None,
            "broken": limit is not None and least < limit,
            "close": limit is not None and least - limit < known,
            "holds": True,
        },
    )
    shown = next((one for one in looked_at if one.rest == "sinks"), lost) or worst
    sunk = cause == "sinks"
    at = None if lost is not None or board is None else board.at
    return point(
        "freeboard",
        cause,
        "computed",
        value=shown.short_by_g if sunk else None if lost is not None else least,
        plus_minus=None if lost is not None or board is None else board.plus_minus,
        unit="g" if sunk else None if lost is not None else "mm",
        limit=None if lost is not None else limit,
        setup=shown.setup,
        about=() if at is None else _about(worst, at, limit),
        details=_heights(looked_at),
    )


def _about(worst: FloatAnswer, at: str, limit: float | None) -> tuple[str, ...]:
    """Return the lowest point, then other openings that let water in lower than the limit."""
    low = sorted(
        (one.height_mm, one.name)
        for one in opening_points(worst)
        if one.state != "sealed" and one.name != at
    )
    return (at, *(name for height, name in low if limit is not None and height < limit))


def _heights(answers: Sequence[FloatAnswer]) -> tuple[CheckDetail, ...]:
    """Return every opening with its height in each setup, the lowest first."""
    rows = [
        CheckDetail(
            name=f"{one.name}, {answer.setup or AS_SHE_IS.name}",
            word=one.state,
            value=one.height_mm,
            unit="mm",
        )
        for answer in answers
        for one in opening_points(answer)
    ]
    return tuple(sorted(rows, key=lambda row: (row.value or 0.0, row.name)))


def trim_point(evidence: CheckEvidence) -> CheckPoint:
    """Return her trim in the worst setup, against the sheet's limit."""
    return _angle_point(evidence, "trim", lambda floating: floating.trim_deg)


def heel_point(evidence: CheckEvidence) -> CheckPoint:
    """Return her list in the worst setup, against the sheet's limit."""
    return _angle_point(evidence, "heel", lambda floating: abs(floating.heel_deg))


def _angle_point(
    evidence: CheckEvidence, key: Literal["trim", "heel"], value: Callable[[Floating], float]
) -> CheckPoint:
    """Return trim or heel against its limit, in the setup that comes nearest to breaking it.

    Of setups that differ by less than is read off an angle the first counts.
    """
    name = f"{key}_deg"
    at_rest = [one for one in evidence.looked_at if has_rest(one)]
    checks = [(_check(one, name), one) for one in at_rest]
    told = [(check, one) for check, one in checks if check is not None]
    check, worst = _nearest(told) or (None, _most(at_rest, key))
    known = 0.0 if check is None or worst is None else _plus_minus_deg(evidence, worst, value)
    cause = first_cause(
        key,
        {
            "no rest": not at_rest,
            "no limit": check is None,
            "broken": check is not None and not check.ok and -slack(check) >= known,
            "close": check is not None and slack(check) < known,
            "holds": True,
        },
    )
    return point(
        key,
        cause,
        "computed",
        value=None if worst is None else _angle(worst, key),
        plus_minus=None if check is None else known,
        unit=None if worst is None else "deg",
        limit=None if check is None else check.limit,
        setup=None if worst is None else worst.setup,
        details=tuple(
            CheckDetail(name=one.setup or AS_SHE_IS.name, value=_angle(one, key), unit="deg")
            for one in at_rest
        ),
    )


def _nearest(told: list[tuple[LimitCheck, FloatAnswer]]) -> tuple[LimitCheck, FloatAnswer] | None:
    """Return the setup that comes nearest to breaking its limit; None where there is none."""
    return min(told, key=lambda pair: round(slack(pair[0]), _DECIMALS), default=None)


def _most(at_rest: list[FloatAnswer], key: Literal["trim", "heel"]) -> FloatAnswer | None:
    """Return the setup with the greatest trim or heel; None where she has no rest."""
    return max(at_rest, key=lambda one: round(abs(_angle(one, key)), _DECIMALS), default=None)


def _check(answer: FloatAnswer, name: str) -> LimitCheck | None:
    """Return a limit of an answer by its key."""
    return next((check for check in answer.limits if check.name == name), None)


def _angle(answer: FloatAnswer, key: Literal["trim", "heel"]) -> float:
    """Return trim or heel of a craft at rest [deg]."""
    angle = answer.trim_deg if key == "trim" else answer.heel_deg
    if angle is None:
        raise AssertionError("she floats at rest")
    return angle


def _plus_minus_deg(
    evidence: CheckEvidence, answer: FloatAnswer, value: Callable[[Floating], float]
) -> float:
    """Return how well an angle is known from how well masses and volumes are [deg]."""
    craft = evidence.build.craft(answer.setup)
    response = response_of(craft, value, craft.mass_g)
    return 0.0 if response is None else spread_of(craft, response)
