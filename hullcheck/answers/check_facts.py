"""What is asked first beside the verdict: grams left, the lowest opening, the seam to look at."""

from hullcheck.answers.check_evidence import CheckEvidence
from hullcheck.answers.check_records import FirstFacts, GramsLeft, LowestOpening, SeamToLookAt
from hullcheck.answers.float_records import FloatAnswer
from hullcheck.answers.seams_order import advice


def first_facts(evidence: CheckEvidence) -> FirstFacts:
    """Return grams left and the lowest opening as she is and at the worst, and the seam."""
    grams = [one for one in map(_grams, evidence.looked_at) if one is not None]
    heights = [one for one in map(_lowest, evidence.looked_at) if one is not None]
    return FirstFacts(
        grams_left=_grams(evidence.floating),
        worst_grams_left=min(grams, key=lambda one: one.mass_g, default=None),
        lowest_opening=_lowest(evidence.floating),
        worst_lowest_opening=min(heights, key=lambda one: one.height_mm, default=None),
        seam=_seam(evidence),
    )


def _grams(answer: FloatAnswer) -> GramsLeft | None:
    """Return the grams left in a setup; None without limits or a center of gravity."""
    if answer.margin_g is None:
        return None
    return GramsLeft(
        mass_g=answer.margin_g,
        plus_minus_g=answer.margin_plus_minus_g,
        limited_by=answer.margin_limited_by,
        at=answer.margin_at,
        setup=answer.setup,
    )


def _lowest(answer: FloatAnswer) -> LowestOpening | None:
    """Return what freeboard is read off in a setup; None where she sinks."""
    board = answer.freeboard_mm
    if board is None or board.least is None:
        return None
    found = next((one for one in board.points if one.name == board.at), None)
    if found is None:
        return None
    return LowestOpening(
        name=found.name,
        state=found.state,
        height_mm=board.least,
        plus_minus_mm=board.plus_minus,
        point_mm=found.point_mm,
        setup=answer.setup,
    )


def _seam(evidence: CheckEvidence) -> SeamToLookAt | None:
    """Return the worst seam that anything is to be done about."""
    for seam in evidence.seams.seams:
        if (todo := advice(seam)) != "none":
            return SeamToLookAt(
                name=seam.name, state=seam.state, advice=todo, under_water=seam.under_water
            )
    return None
