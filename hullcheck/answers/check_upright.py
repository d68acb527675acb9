"""Points on what holds her upright, the step against the CG, and the propeller."""

from hullcheck.answers.check_evidence import CheckEvidence
from hullcheck.answers.check_point import first_cause, has_rest, point
from hullcheck.answers.check_records import CheckDetail, CheckPoint
from hullcheck.answers.righting_records import FloatReport, RightingAnswer, ThrustRow
from hullcheck.answers.uncertainty import READING_MM
from hullcheck.craft.build import AS_SHE_IS


def upright_point(evidence: CheckEvidence) -> CheckPoint:
    """Return what holds her upright: her hull alone, or a tip float within the heel limit.

    Notes
    -----
    Upright need not be stable: resting on one tip float is what tip floats are for. A float that
    pressed wholly under rights less than what upsets her then has no reserve; an opening that comes
    under before the float is pressed under lets water in first.
    """
    righting, floating = evidence.righting, evidence.floating
    rest = floating.rest
    on_float = rest is not None and rest.startswith("on ")
    leaning = [] if righting is None else _leaning(righting, rest)
    cause = first_cause(
        "upright",
        {
            "no center": righting is None,
            "sinks": rest == "sinks",
            "capsizes": rest == "capsized",
            "lolls": not floating.upright_is_stable and not on_float,
            "float without reserve": any(one.holds is False for one in leaning),
            "does not come back": righting is not None
            and not all(one.comes_back for one in righting.push_down),
            "opening before the float": righting is not None and _floods_first(righting),
            "hull alone": floating.upright_is_stable is True,
            "tip float": True,
        },
    )
    lever = floating.metacentric_height_mm
    return point(
        "upright",
        cause,
        "computed",
        value=None if lever is None else lever.transverse,
        unit=None if lever is None else "mm",
        setup=floating.setup,
        about=tuple(one.name for one in leaning),
        details=() if righting is None else (_held_by(evidence), *_upright_rows(righting)),
    )


def _leaning(righting: RightingAnswer, rest: str | None) -> list[FloatReport]:
    """Return the floats she rests on, or that would hold her on either side."""
    return [
        one for one in righting.floats if rest in {"upright", "listing", f"on {one.side} tip float"}
    ]


def _floods_first(righting: RightingAnswer) -> bool:
    """Return whether an opening comes under before the float of that side is pressed under."""
    for side in righting.sides:
        under = [
            abs(one.under_deg)
            for one in righting.floats
            if one.side == side.side and one.under_deg is not None
        ]
        if under and side.downflooding_deg is not None and abs(side.downflooding_deg) < min(under):
            return True
    return False


def _held_by(evidence: CheckEvidence) -> CheckDetail:
    """Return what she floats on, in a word."""
    roles = {body.role for body in evidence.craft.deck_bodies}
    word = "hull" if "hull" in roles else "main floats" if "main float" in roles else "bodies"
    return CheckDetail(name="floats on", word=word)


def _upright_rows(righting: RightingAnswer) -> tuple[CheckDetail, ...]:
    """Return list, range, first opening, and of each float its gap, when it is under, its ratio."""
    rows = [
        CheckDetail(name="heel", value=righting.heel_deg, unit="deg"),
        CheckDetail(name="range", value=righting.range_deg, unit="deg"),
    ]
    rows += [
        CheckDetail(name="opening under", word=one.side, value=one.downflooding_deg, unit="deg")
        for one in righting.sides
    ]
    for one in righting.floats:
        rows += [
            CheckDetail(name=one.name, word="gap", value=one.gap_at_rest_mm, unit="mm"),
            CheckDetail(name=one.name, word="under", value=one.under_deg, unit="deg"),
            CheckDetail(name=one.name, word="ratio", value=one.ratio, unit="ratio"),
        ]
    return tuple(rows)


def step_point(evidence: CheckEvidence) -> CheckPoint:
    """Return whether the step lies behind the CG; how far is shown on its rules, not judged."""
    step = evidence.floating.step
    behind = None if step is None else step.behind_cg_mm
    cause = first_cause(
        "step",
        {
            "no step": step is None,
            "no center": behind is None,
            "ahead": behind is not None and behind < 0.0,
            "behind": True,
        },
    )
    return point(
        "step",
        cause,
        "computed",
        value=behind,
        unit=None if behind is None else "mm",
        setup=evidence.floating.setup,
        details=()
        if step is None
        else (
            CheckDetail(name="angle", value=step.angle_from_cg_deg, unit="deg"),
            CheckDetail(name="depth", value=step.depth_mm, unit="mm"),
        ),
    )


def propeller_point(evidence: CheckEvidence) -> CheckPoint:
    """Return how far the propeller's disc clears the water at rest and at full thrust, held still.

    Notes
    -----
    At full thrust the lesser clearance of resistance at the waterline and at the keel counts.
    """
    propeller = evidence.craft.fittings.propeller
    clear = [
        (one.height_mm, answer.setup)
        for answer in evidence.looked_at
        if has_rest(answer)
        for one in answer.clearances_mm
        if one.what == "propeller disc"
    ]
    rest_mm, setup = min(clear, key=lambda pair: pair[0], default=(None, None))
    full = _full_thrust(evidence.righting) if propeller is not None else None
    pulled = [] if full is None else [full.at_waterline, full.at_keel]
    at_full = [one.propeller_clearance_mm for one in pulled if one is not None]
    known = [one for one in (rest_mm, *at_full) if one is not None]
    cause = first_cause(
        "propeller",
        {
            "no propeller": propeller is None,
            "no waterline": rest_mm is None,
            "in the water": rest_mm is not None and rest_mm < 0.0,
            "no thrust": full is None,
            "in at full thrust": any(one < 0.0 for one in at_full),
            "bow under": None in pulled,
            "close": min(known, default=0.0) < READING_MM,
            "clear": True,
        },
    )
    rows = [CheckDetail(name=name or AS_SHE_IS.name, value=mm, unit="mm") for mm, name in clear]
    return point(
        "propeller",
        cause,
        "computed",
        value=rest_mm,
        unit=None if rest_mm is None else "mm",
        limit=0.0 if rest_mm is not None else None,
        setup=setup,
        details=(*rows, *_thrust_rows(evidence.righting)),
    )


def _full_thrust(righting: RightingAnswer | None) -> ThrustRow | None:
    """Return how she lies at full thrust; None where that is not known."""
    thrust = None if righting is None else righting.thrust
    return None if thrust is None else thrust.rows[-1]


def _thrust_rows(righting: RightingAnswer | None) -> tuple[CheckDetail, ...]:
    """Return full thrust, the clearances there, and the least thrust that puts the bow under."""
    thrust = None if righting is None else righting.thrust
    if thrust is None:
        return ()
    last = thrust.rows[-1]
    rows = [CheckDetail(name="full thrust", value=thrust.full_g, unit="g")]
    for where, one in (("at the waterline", last.at_waterline), ("at the keel", last.at_keel)):
        clear = None if one is None else one.propeller_clearance_mm
        rows.append(CheckDetail(name="at full thrust", word=where, value=clear, unit="mm"))
    for where, grams in (
        ("at the waterline", thrust.bow_under_at_waterline_g),
        ("at the keel", thrust.bow_under_at_keel_g),
    ):
        rows.append(CheckDetail(name="bow under from", word=where, value=grams, unit="g"))
    return tuple(rows)
