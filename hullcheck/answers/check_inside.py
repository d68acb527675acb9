"""Points on water inside her: swamped, and electronics above the bilge."""

from hullcheck.answers.check_evidence import CheckEvidence
from hullcheck.answers.check_point import first_cause, point
from hullcheck.answers.check_records import CheckDetail, CheckPoint
from hullcheck.answers.flood_records import BilgeLevel, FloodAnswer


def swamped_point(evidence: CheckEvidence) -> CheckPoint:
    """Return whether anything of her stays above the water when she is full."""
    flood = evidence.flood
    full = None if flood is None else flood.swamped
    cause = first_cause(
        "swamped",
        {
            "no waterline": full is None,
            "sinks": full is not None and not full.floats,
            "floats": True,
        },
    )
    if full is None:
        return point("swamped", cause, "computed")
    sunk = not full.floats
    return point(
        "swamped",
        cause,
        "computed",
        value=full.short_by_g if sunk else full.highest_mm,
        unit="g" if sunk else "mm",
        setup=evidence.craft.setup,
        about=full.sealed,
        details=(
            CheckDetail(name="rest", word=full.rest),
            CheckDetail(name="foam to float", value=full.foam_to_float_cm3, unit="cm3"),
        ),
    )


def electronics_point(evidence: CheckEvidence) -> CheckPoint:
    """Return the least water, of the amounts tried, that wets an item at rest or nose up.

    Notes
    -----
    Each amount is put into each compartment in turn. An item outside of all compartments is wetted
    by the sea itself.
    """
    flood = evidence.flood
    placed = [one for one in evidence.craft.fittings.equipment if one.lowest_mm is not None]
    left = [one.item for one in evidence.craft.fittings.equipment if one.lowest_mm is None]
    sea = [] if flood is None else [one for one in flood.state.bilge if one.wet]
    wet = [] if flood is None else _wet(flood)
    least = min((grams for grams, _, _ in wet), default=None)
    tried = 0.0 if flood is None else max((one.water_g for one in flood.water_cases), default=0.0)
    cause = first_cause(
        "electronics",
        {
            "no place": not placed,
            "no waterline": flood is None,
            "under the sea": bool(sea),
            "wet by little": bool(wet),
            "some without a place": bool(left),
            "dry": True,
        },
    )
    first = [one.name for grams, one, _ in wet if grams == least]
    return point(
        "electronics",
        cause,
        "computed",
        value=None if flood is None or not placed or sea else tried if least is None else least,
        unit=None if flood is None or not placed or sea else "g",
        setup=evidence.craft.setup,
        about=tuple(one.name for one in sea) or tuple(dict.fromkeys(first)) or tuple(left),
        details=tuple(
            CheckDetail(name=one.name, word=f"{one.compartment}, {how}", value=grams, unit="g")
            for grams, one, how in wet
        ),
    )


def _wet(flood: FloodAnswer) -> list[tuple[float, BilgeLevel, str]]:
    """Return the grams, the item and the attitude of every case in which an item gets wet."""
    found = []
    for case in flood.water_cases:
        for levels, how in ((case.state.bilge, "at rest"), (case.nose_up.bilge, "nose up")):
            found += [(case.water_g, one, how) for one in levels if one.wet]
    return sorted(found, key=lambda row: row[0])
