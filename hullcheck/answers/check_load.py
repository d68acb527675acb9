"""Points on her load: what was weighed, and where the center of gravity lies."""

import math

from hullcheck.answers.check_evidence import CheckEvidence
from hullcheck.answers.check_point import first_cause, point
from hullcheck.answers.check_records import CheckDetail, CheckPoint
from hullcheck.answers.uncertainty import READING_MM, station_plus_minus_mm
from hullcheck.craft.ledger import Item
from hullcheck.craft.log_records import WeighIn
from hullcheck.craft.weighing import Weighing


def weights_point(evidence: CheckEvidence) -> CheckPoint:
    """Return what of her is weighed and what is guessed.

    Notes
    -----
    The last all-up weigh-in of the log is held against the mass as she is: beyond both ± the ledger
    leaves something out, or counts what is not there.
    """
    craft = evidence.craft
    weighing = craft.weighing or Weighing()
    items = evidence.build.setup(evidence.setup).of_ledger(evidence.build.ledger).items
    planned = [] if weighing.mass_is_measured else [one for one in items if one.weighed_g is None]
    whole = [(e, r) for e, r in evidence.logbook.weigh_ins if r.item is None]
    off = _off_scale_g(evidence, whole[-1][1]) if whole else None
    cause = first_cause(
        "weights",
        {
            "not all-up": not weighing.all_up,
            "scale differs": off is not None,
            "planned": any(one.mass_g for one in planned),
            "weighed": True,
        },
    )
    unknown = () if weighing.all_up else weighing.unknown
    grams = [(one.mass_g or 0.0, one.name) for one in planned]
    guessed = tuple(name for _, name in sorted(grams, key=lambda pair: -pair[0]))
    whole_row = [CheckDetail(name="all of her", word="weighed")] * weighing.mass_is_measured
    on_scale = cause in {"weighed", "scale differs"}
    times = [entry.at.isoformat() for entry, _ in evidence.logbook.weigh_ins]
    return point(
        "weights",
        cause,
        ("noted" if weighing.mass_is_measured else "weighed") if on_scale else "assumed",
        when=times[-1] if on_scale and times else None,
        value=off if cause == "scale differs" else craft.mass_g,
        plus_minus=weighing.plus_minus_g,
        unit="g",
        setup=craft.setup,
        about=unknown or guessed,
        details=(*_shares(craft.mass_g, planned, items), *whole_row, *map(_row, items)),
    )


def _shares(mass_g: float, planned: list[Item], items: tuple[Item, ...]) -> tuple[CheckDetail, ...]:
    """Return how many items there are, how many are not weighed, and their share of her mass."""
    guess = math.fsum(one.mass_g or 0.0 for one in planned)
    return (
        CheckDetail(name="items", value=float(len(items))),
        CheckDetail(name="not weighed", value=float(len(planned))),
        CheckDetail(name="share not weighed", value=100.0 * guess / mass_g, unit="percent"),
    )


def _row(item: Item) -> CheckDetail:
    """Return one item as a row behind the point."""
    word = "weighed" if item.weighed_g is not None else "planned"
    return CheckDetail(
        name=item.name, word=word if item.mass_g is not None else None, value=item.mass_g, unit="g"
    )


def _off_scale_g(evidence: CheckEvidence, weighed: WeighIn) -> float | None:
    """Return by how much the scale showed more than the ledger [g]; None within both ±."""
    craft = evidence.build.craft()
    known = 0.0 if craft.weighing is None else craft.weighing.plus_minus_g
    off = weighed.mass_g - craft.mass_g
    return off if abs(off) > known + weighed.plus_minus_g else None


def cg_point(evidence: CheckEvidence) -> CheckPoint:
    """Return whether the center of gravity lies in its band, here and in every setup.

    One that was measured is known to a millimeter at best (common practice, no source).
    """
    craft = evidence.craft
    band, center = craft.cg_range_mm, craft.center_of_gravity_mm
    measured = craft.weighing is not None and craft.weighing.center_is_measured
    known = math.hypot(station_plus_minus_mm(craft), READING_MM if measured else 0.0)
    low, high = band or (-math.inf, math.inf)
    station = math.nan if center is None else center[0]
    stations = [
        CheckDetail(
            name=one.setup or "as she is",
            value=None if one.center_of_gravity_mm is None else one.center_of_gravity_mm[0],
            unit="mm",
        )
        for one in evidence.looked_at
    ]
    outside = [one for one in stations if one.value is not None and not low <= one.value <= high]
    cause = first_cause(
        "cg",
        {
            "no center": center is None,
            "no band": band is None,
            "outside": not low <= station <= high,
            "near an end": min(station - low, high - station) < known,
            "outside in a setup": bool(outside),
            "inside": True,
        },
    )
    return point(
        "cg",
        cause,
        "noted" if measured else "computed",
        value=None if center is None else center[0],
        plus_minus=None if center is None else known,
        unit=None if center is None else "mm",
        limit=band,
        setup=craft.setup,
        about=tuple(one.name for one in outside),
        details=tuple(stations),
    )
