"""What no arithmetic settles: the builder's judgment, with planning values where there are any."""

from typing import Final

from hullcheck.answers.check_evidence import CheckEvidence
from hullcheck.answers.check_records import CheckDetail, JudgmentPoint
from hullcheck.answers.float_records import FloatAnswer

OF_BOW_FREEBOARD: Final = 0.5
OF_BEAM: Final = 0.25
"""Waves, crest to trough, under half the bow freeboard and a quarter of the beam (common practice,
no source)."""


def judgment_points(evidence: CheckEvidence) -> tuple[JudgmentPoint, ...]:
    """Return wind, waves, hump, retrieval, batteries and local rules, each for her own judgment."""
    return (
        JudgmentPoint(key="wind", question="wind"),
        JudgmentPoint(key="waves", question="waves", values=_wave_values(evidence)),
        JudgmentPoint(key="hump", question="over the hump"),
        JudgmentPoint(key="retrieval", question="fetching her"),
        JudgmentPoint(key="batteries", question="batteries"),
        JudgmentPoint(key="local_rules", question="local rules"),
    )


def _wave_values(evidence: CheckEvidence) -> tuple[CheckDetail, ...]:
    """Return the wave heights of planning practice, in the worst setup [mm]; none where she sinks.

    The beam is that of her hull, or of one main float.
    """
    bows = [height for one in evidence.looked_at if (height := bow_mm(one)) is not None]
    if not bows:
        return ()
    beam = evidence.seams.spray_reach_mm
    return (
        CheckDetail(
            name="of bow freeboard", value=OF_BOW_FREEBOARD * max(min(bows), 0.0), unit="mm"
        ),
        CheckDetail(name="of beam", value=OF_BEAM * beam, unit="mm"),
    )


def bow_mm(answer: FloatAnswer) -> float | None:
    """Return the height of the hull's top at the bow above the water [mm]; None where she sinks."""
    board = answer.freeboard_mm
    points = () if board is None else board.points
    return next(
        (one.height_mm for one in points if one.name == "top of the hull at the bow"),
        None,
    )
