"""Points on the files: how well the skin is known, and openings that nobody has stated."""

from typing import Final

from hullcheck.answers.check_evidence import CheckEvidence
from hullcheck.answers.check_point import first_cause, has_rest, point
from hullcheck.answers.check_records import CheckDetail, CheckPoint
from hullcheck.answers.float_records import FloatAnswer, HeightPoint
from hullcheck.answers.rest import rest_at
from hullcheck.answers.uncertainty import wet_error_mm3
from hullcheck.units import MM2_PER_CM2

SHARE: Final = 0.1
"""Of the smallest margin, that the skin's error may take before it needs care."""
_LEAST_MM: Final = 1e-9


def files_point(evidence: CheckEvidence) -> CheckPoint:
    """Return how well the skin is known, held against the smallest margin.

    Notes
    -----
    The volume that may be out under water, as a layer over the waterplane [mm], against how far the
    lowest opening stands from the freeboard limit, or from the water where there is none, in the
    setup in which that is least.
    """
    skin = evidence.skin
    margins = [(_margin_mm(evidence, one), one) for one in evidence.looked_at]
    told = [(margin, one) for margin, one in margins if margin is not None]
    margin, worst = min(told, key=lambda pair: pair[0], default=(None, None))
    layer = None if worst is None else _layer_mm(evidence, worst)
    share = None if layer is None or margin is None else layer / max(margin, _LEAST_MM)
    tunnels = any(body.checks.handles for body in skin.bodies) or any(
        caveat.code == "tunnels-filled" for caveat in skin.warnings
    )
    cause = first_cause(
        "files",
        {
            "skin not closed": not all(body.watertight for body in skin.bodies),
            "error over the margin": share is not None and share >= 1.0,
            "no waterline": share is None,
            "tunnels": tunnels,
            "error over a tenth": share is not None and share > SHARE,
            "good enough": True,
        },
    )
    return point(
        "files",
        cause,
        "computed",
        value=layer,
        unit="mm",
        limit=None if margin is None else SHARE * margin,
        setup=None if worst is None else worst.setup,
        about=tuple(body.name for body in skin.bodies if not body.watertight),
        details=tuple(
            CheckDetail(name=body.name, word=body.method, value=body.error_cm3, unit="cm3")
            for body in skin.bodies
        ),
    )


def openings_point(evidence: CheckEvidence) -> CheckPoint:
    """Return whether the state of every opening is stated.

    Notes
    -----
    One that is not, lies lower than the freeboard limit in some setup and lets water in holds her
    back; without a limit any does.
    """
    openings = evidence.craft.openings
    doubtful = [one for one in openings if one.in_doubt]
    names = {one.called for one in doubtful}
    limit = evidence.craft.limits.freeboard_mm
    least, lowest_in = _lowest(evidence)
    low = any(limit is None or name not in least or least[name].height_mm < limit for name in names)
    cause = first_cause(
        "openings",
        {
            "none known": not openings,
            "low": bool(doubtful) and low,
            "high": bool(doubtful),
            "all stated": True,
        },
    )
    heights = {name: least[name].height_mm if name in least else None for name in names}
    about = sorted(names, key=lambda name: (heights[name] is None, heights[name] or 0.0, name))
    return point(
        "openings",
        cause,
        "noted" if openings and not doubtful else "assumed",
        value=None if not about else heights[about[0]],
        unit="mm" if about else None,
        limit=limit if about else None,
        setup=lowest_in.get(about[0]) if about else None,
        about=tuple(about),
        details=tuple(
            CheckDetail(
                name=one.called,
                word=one.state,
                value=least[one.called].height_mm if one.called in least else None,
                unit="mm",
            )
            for one in openings
        ),
    )


def _lowest(evidence: CheckEvidence) -> tuple[dict[str, HeightPoint], dict[str, str | None]]:
    """Return each opening where it is lowest, by its name, and the setup that is in."""
    least: dict[str, HeightPoint] = {}
    setups: dict[str, str | None] = {}
    for answer in evidence.looked_at:
        for one in opening_points(answer):
            if one.name not in least or one.height_mm < least[one.name].height_mm:
                least[one.name], setups[one.name] = one, answer.setup
    return least, setups


def opening_points(answer: FloatAnswer) -> tuple[HeightPoint, ...]:
    """Return the openings of an answer with their heights; none where she sinks."""
    board = answer.freeboard_mm
    return () if board is None else tuple(one for one in board.points if one.what == "opening")


def _margin_mm(evidence: CheckEvidence, answer: FloatAnswer) -> float | None:
    """Return how far the lowest opening is from its limit, on either side of it [mm]."""
    board = answer.freeboard_mm
    if not has_rest(answer) or board is None or board.least is None:
        return None
    return abs(board.least - (evidence.craft.limits.freeboard_mm or 0.0))


def _layer_mm(evidence: CheckEvidence, answer: FloatAnswer) -> float:
    """Return what the skin's error under water makes as a layer over the waterplane [mm]."""
    craft = evidence.build.craft(answer.setup)
    rest = rest_at(craft, craft.center_of_gravity_mm)
    if rest is None or answer.waterplane is None:
        raise AssertionError("she floats at rest")
    area = answer.waterplane.area_cm2 * MM2_PER_CM2
    return wet_error_mm3(craft, rest.floating) / area
