"""Findings about her files, openings and load, in words."""

from hullcheck.answers.check_records import CheckPoint
from hullcheck.report.check_parts import (
    detail,
    in_setup,
    name_words,
    names_words,
    number,
    with_plus_minus,
)
from hullcheck.report.float_titles import verb
from hullcheck.report.numbers import arm_text, mass_text, station_text
from hullcheck.report.table_values import length
from hullcheck.report.words import height_words

_LEAST_MM = 0.1


def files_words(point: CheckPoint, now: str) -> str:
    """Return how well the skin is known against the margin."""
    del now
    if point.cause == "skin not closed":
        return f"the skin of {names_words(point.about)} does not close"
    if point.value is None or not isinstance(point.limit, float):
        return "no waterline to hold the skin's error against"
    said = f"skin's error {_at_most(point.value)} of height"
    if point.cause == "tunnels":
        return f"a tunnel runs through the closed skin; {said}"
    limit = f"limit {_at_most(point.limit)}, a tenth of the least margin"
    if point.cause == "error over the margin":
        return f"{said}, more than the margin; {limit}"
    return f"{said}, {limit}"


def _at_most(value_mm: float) -> str:
    """Return a small length, one too small to print as less than the least."""
    return length(value_mm) if value_mm >= _LEAST_MM else f"under {length(_LEAST_MM)}"


def openings_words(point: CheckPoint, now: str) -> str:
    """Return which openings have no state or name, and how low the first lies."""
    del now
    if point.cause == "none known":
        return "no opening is known; the deck's edge counts"
    if not point.about:
        return f"all {len(point.details)} stated" if len(point.details) > 1 else "stated"
    where = "" if point.value is None else f", {height_words(point.value)}{in_setup(point)}"
    if len(point.about) > 1:
        return f"{names_words(point.about)}; lowest{where.lstrip(',')}, counted as open"
    row = detail(point, point.about[0])
    counted = "counted as open" if row is None or row.word is None else f"{row.word}, no name"
    return f"{name_words(point.about[0])}{where}, {counted}"


def weights_words(point: CheckPoint, now: str) -> str:
    """Return how many items are weighed, and how well the mass is known."""
    del now
    about = f"± {mass_text(point.plus_minus or 0.0)}"
    items, left = (int(number(point, name) or 0.0) for name in ("items", "not weighed"))
    if point.cause == "not all-up":
        names = names_words(point.about)
        return f"not known what {names} {verb(names, 'weighs', 'weigh')}"
    if point.cause == "scale differs" and point.value is not None:
        more = "more" if point.value > 0.0 else "less"
        than = "the mass given" if detail(point, "all of her") else "the ledger"
        return f"the scale showed {mass_text(abs(point.value))} {more} than {than} ({about})"
    if point.cause == "planned":
        share = number(point, "share not weighed") or 0.0
        return f"{left} of {items} items planned, not weighed: {share:.0f} % of her ({about})"
    mass = with_plus_minus(mass_text(point.value or 0.0), point.plus_minus)
    whole = detail(point, "all of her") is not None
    return f"given whole: {mass}" if whole else f"all {items} items weighed: {mass}"


def cg_words(point: CheckPoint, now: str) -> str:
    """Return where the CG lies against its band."""
    del now
    if point.value is None:
        return "her CG is not known"
    # Rounded to nothing it would say that the station is known exactly.
    about = f" ± {arm_text(max(point.plus_minus, _LEAST_MM))}" if point.plus_minus else ""
    station = f"station {station_text(point.value)}{about}"
    if not isinstance(point.limit, tuple):
        return f"{station}; no band to hold it against"
    low, high = point.limit
    band = f"{station_text(low)} to {station_text(high)}"
    if point.cause == "outside":
        off = max(low - point.value, point.value - high)
        way = "ahead of" if point.value < low else "behind"
        return f"{station}, {arm_text(off)} {way} its band {band}{in_setup(point)}"
    if point.cause == "near an end":
        return f"{station}: an end of its band {band} lies within ±{in_setup(point)}"
    if point.cause == "outside in a setup":
        return f"{station} in {band}; not in: {names_words(point.about)}"
    return f"{station}, band {band}{in_setup(point)}"
