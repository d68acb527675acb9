"""Points on her seams and openings: under water sealed, cured and tested; in reach of spray."""

from typing import Final

from hullcheck.answers.check_evidence import CheckEvidence
from hullcheck.answers.check_point import first_cause, point
from hullcheck.answers.check_records import STATES, CheckDetail, CheckPoint, Grounds
from hullcheck.answers.check_rules import RULES
from hullcheck.answers.seams_order import advice
from hullcheck.answers.seams_records import SeamReport

_LACKS: Final = (
    ("flying weight", "light test"),
    ("this depth", "at less depth"),
    ("planned time", "too short"),
)
"""What a dry test lacks, and the cause that makes; a running test is a point of its own."""
_EVIDENCE: Final[dict[str, Grounds]] = {
    "leaked": "tested",
    "light test": "tested",
    "at less depth": "tested",
    "too short": "tested",
    "tested dry": "tested",
    "not stated": "assumed",
}


def seams_points(evidence: CheckEvidence) -> tuple[CheckPoint, ...]:
    """Return a point for each state that seams under water are in, the worst first.

    Notes
    -----
    Counted is every seam and opening of which any lies under water at rest, as she is or in a setup
    that is looked at, and every one that leaked and was not sealed since, wherever it lies. Where
    no joint is named, none under water is not known to be one.
    """
    answer = evidence.seams
    if answer.short_by_g is not None:
        return (_lone("no waterline"),)
    wet = evidence.wet_in_setups
    counted = [
        seam
        for seam in answer.seams
        if seam.under_water or seam.state == "leaked" or seam.name in wet
    ]
    if not counted:
        named = any(seam.kind == "seam" for seam in answer.seams)
        return (_lone("none under water" if named else "no seams known"),)
    causes = {seam.name: _cause(seam) for seam in counted}
    points = []
    for state in STATES:
        inside = [one for one in counted if RULES["seams"][causes[one.name]].state == state]
        if inside:
            points.append(_of_state(inside, causes, wet))
    return tuple(points)


def _lone(cause: str) -> CheckPoint:
    """Return the only point where no seam lies under water."""
    return point("seams", cause, "computed", key=_key(RULES["seams"][cause].state))


def _key(state: str) -> str:
    """Return the key of the point for seams in a state."""
    return f"seams_{state.replace(' ', '_')}"


def _cause(seam: SeamReport) -> str:
    """Return what a seam under water is, a dry test with what it lacks."""
    if seam.state != "tested dry":
        return seam.state
    return next((cause for lack, cause in _LACKS if lack in seam.dry_lacks), seam.state)


def _of_state(
    seams: list[SeamReport], causes: dict[str, str], wet: dict[str, tuple[float, str]]
) -> CheckPoint:
    """Return the point for seams of one state; what holds her back, then the worst, leads.

    One that is dry as she is has the depth of the setup in which it is not.
    """
    order = list(RULES["seams"])
    seams = sorted(
        seams,
        key=lambda seam: (
            not RULES["seams"][causes[seam.name]].holds_back,
            order.index(causes[seam.name]),
            seam.height_mm or 0.0,
        ),
    )
    cause = causes[seams[0].name]
    rows = tuple(
        CheckDetail(
            name=seam.name,
            word=causes[seam.name],
            value=_depth(seam, wet)[0],
            unit="mm",
            when=_when(seam, causes[seam.name]),
        )
        for seam in seams
    )
    return point(
        "seams",
        cause,
        _EVIDENCE.get(cause, "noted"),
        key=_key(RULES["seams"][cause].state),
        when=rows[0].when,
        value=rows[0].value,
        unit="mm",
        setup=_depth(seams[0], wet)[1],
        about=tuple(seam.name for seam in seams),
        details=rows,
    )


def _depth(seam: SeamReport, wet: dict[str, tuple[float, str]]) -> tuple[float | None, str | None]:
    """Return how deep a seam lies [mm], and the setup that is in; None as she is."""
    if seam.under_water or seam.name not in wet:
        return seam.deepest_mm, None
    return wet[seam.name]


def _when(seam: SeamReport, cause: str) -> str | None:
    """Return when a seam came into its state; of one that cures when it is cured."""
    if cause == "curing" and seam.sealed is not None:
        return seam.sealed.cured_at
    return seam.state_at


def spray_point(evidence: CheckEvidence) -> CheckPoint:
    """Return whether anything that nothing seals, or that is curing, stands in reach of spray."""
    answer = evidence.seams
    open_to_it = sorted(
        (seam for seam in answer.seams if _lets_spray_in(seam)),
        key=lambda seam: seam.height_mm or 0.0,
    )
    cause = first_cause(
        "spray",
        {
            "no waterline": answer.short_by_g is not None,
            "not sealed": any(seam.state != "curing" for seam in open_to_it),
            "curing": bool(open_to_it),
            "none open": True,
        },
    )
    return point(
        "spray",
        cause,
        "noted",
        value=open_to_it[0].height_mm if open_to_it else None,
        unit="mm" if open_to_it else None,
        limit=answer.spray_reach_mm if open_to_it else None,
        about=tuple(seam.name for seam in open_to_it),
        details=tuple(
            CheckDetail(
                name=seam.name,
                word=seam.state,
                value=seam.height_mm,
                unit="mm",
                when=None if seam.sealed is None else seam.sealed.cured_at,
            )
            for seam in open_to_it
        ),
    )


def _lets_spray_in(seam: SeamReport) -> bool:
    """Return whether spray reaches a seam or an opening that nothing keeps it out of yet."""
    curing = seam.state == "curing" and seam.in_spray and not seam.under_water
    return curing or advice(seam) == "seal: spray reaches it"
