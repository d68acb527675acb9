"""What she weighs, in words: the first screen, the answer first."""

from collections.abc import Sequence
from typing import Final

from hullcheck.answers.weights_records import ItemWeight, WeightsAnswer
from hullcheck.report import table_values as show
from hullcheck.report.float_text import head_line
from hullcheck.report.limit_words import end_words
from hullcheck.report.numbers import (
    arm_text,
    grams_left_text,
    mass_text,
    plus_minus_text,
    station_text,
)
from hullcheck.report.weights_scales import coats_row, scales_rows
from hullcheck.report.weights_words import (
    LABEL,
    SMALL_G,
    SMALL_MM,
    WIDTH,
    cost_words,
    fitted,
    grams_text,
)

CAUTION: Final = (
    "this is arithmetic on your files, no clearance to go on the water. Batteries out before she "
    "is weighed wet or floated; local rules and your own eyes decide."
)
_LINES: Final = 7


def first_screen(answer: WeightsAnswer) -> list[str]:
    """Return the answer in at most seven lines of at most 80 characters.

    Parameters
    ----------
    answer : WeightsAnswer
        What she weighs.

    Returns
    -------
    list of str
        Who she is and what she weighs; what her growth cost; which items grew; what is guessed; the
        CG against its band; grams left; what costs most.
    """
    asked = [*scales_rows(answer.scales, answer.ledger_check), *coats_row(answer.coats)]
    rows = [
        *asked,
        ("Grew", _grew(answer)),
        (_guess_label(answer), _guessed(answer)),
        ("CG", _center(answer)),
        ("Grams left", _left(answer)),
        ("Costs most", _dearest(answer.items)),
    ]
    lines = [head_line(answer), _growth_sentence(answer)]
    # What was asked comes first; what --all has as well makes room for it.
    spare = {"Grew", "Costs most", "Not weighed"} if asked else set()
    said = [(label, text) for label, text in rows if text]
    for label in ("Costs most", "Grew", "Not weighed"):
        if len(lines) + len(said) > _LINES and label in spare:
            said = [row for row in said if row[0] != label]
    return lines + [f"{label:<{LABEL}}{text}" for label, text in said]


def _growth_sentence(answer: WeightsAnswer) -> str:
    """Return how much over plan and target she is, and what that cost."""
    grown, target = answer.growth.mass_g, answer.load.target_mass_g if answer.load else None
    weighed = [item for item in answer.items if item.growth_g is not None]
    if not weighed:
        words = "Nothing planned is weighed yet"
    elif abs(grown) < SMALL_G:
        words = "As planned so far"
    else:
        words = f"{grams_text(grown)} {_over(grown)} plan"
    off = None if target is None else answer.mass_g - target
    if off is not None:
        words += (
            ", at target" if abs(off) < SMALL_G else (f", {grams_text(off)} {_over(off)} target")
        )
    cost = answer.growth.cost
    if cost is None or abs(grown) < SMALL_G:
        return f"{words}."
    at = answer.afloat.at if answer.afloat else None
    done = cost_words(cost, at)
    return fitted((f"{words}: {done}.", f"{words.partition(',')[0]}: {done}.", f"{words}."), WIDTH)


def _over(off_g: float) -> str:
    """Return whether grams are too many or too few."""
    return "over" if off_g > 0.0 else "under"


def _grew(answer: WeightsAnswer) -> str:
    """Return the items that grew most, and the rest in one."""
    grown = [i for i in answer.items if i.growth_g is not None and abs(i.growth_g) >= SMALL_G]
    grown.sort(key=lambda item: -abs(item.growth_g or 0.0))
    parts = [f"{item.name} {_signed_grams(item.growth_g or 0.0)}{_rise(item)}" for item in grown]
    for count in range(len(parts), 0, -1):
        left = grown[count:]
        more = _signed_grams(sum(item.growth_g or 0.0 for item in left))
        rest = [f"{len(left)} more {more}"] if left else []
        text = ", ".join([*parts[:count], *rest])
        if len(text) <= WIDTH - LABEL:
            return text
    return fitted(parts[:1])


def _rise(item: ItemWeight) -> str:
    """Return what growth did to the lowest opening, in brackets; "" where it does not show."""
    height = item.growth_cost.freeboard_mm if item.growth_cost else None
    if height is None or abs(height) < SMALL_MM:
        return ""
    return f" ({'+' if height > 0.0 else '−'}{show.length(abs(height))})"


def _signed_grams(mass_g: float) -> str:
    """Return a growth with its sign."""
    return f"{'+' if mass_g >= 0.0 else '−'}{grams_text(mass_g)}"


def _guess_label(answer: WeightsAnswer) -> str:
    """Return the label of what is not weighed, or of a whole that was."""
    whole = answer.load is not None and answer.load.mass_is_measured
    return "Weighed" if whole else "Not weighed"


def _guessed(answer: WeightsAnswer) -> str:
    """Return what is only planned, and how well the whole is known."""
    load = answer.load
    if load is not None and load.mass_is_measured:
        return f"whole: {plus_minus_text(mass_text(answer.mass_g), answer.plus_minus_g)}"
    rows = [item for item in answer.items if not item.is_weighed and item.mass_g]
    whole = plus_minus_text(mass_text(answer.mass_g), answer.plus_minus_g)
    if not rows:
        return f"nothing; {whole} in all"
    count = f"{len(rows)} item{'s' if len(rows) > 1 else ''}"
    most = max(rows, key=lambda item: item.plus_minus_g)
    about = grams_text(most.plus_minus_g)
    text = f"{count}, {mass_text(answer.guessed_g)} as planned: {whole} in all"
    more = f"; least sure: {most.name} ± {about}"
    return text + more if len(text + more) <= WIDTH - LABEL else text


def _center(answer: WeightsAnswer) -> str:
    """Return the center with how well it is known, against its band."""
    center, load = answer.center_of_gravity_mm, answer.load
    if center is None:
        missing = load.without_place if load else ()
        few = f"{', '.join(missing[:2])} and {len(missing) - 2} more in the ledger"
        names = (", ".join(missing) or "her items", few, f"{len(missing)} items of the ledger")
        return fitted(f"not known: no x or z for {some}" for some in names)
    x, _, z = center
    about = answer.center_plus_minus_mm
    place = f"station {station_text(x)}"
    if about is not None:
        place += f" ± {max(arm_text(about[0]), '1 mm', key=_length_of)}"
    text = f"{place}, {station_text(z)} up"
    band = load.cg_range_mm if load else None
    if band is None:
        return text
    low, high = (station_text(end) for end in band)
    holds = "holds" if band[0] <= x <= band[1] else "broken"
    return f"{text}; band {low} to {high} {holds}"


def _length_of(text: str) -> float:
    """Return the number a printed length begins with."""
    return float(text.split(" ", 1)[0])


def _left(answer: WeightsAnswer) -> str:
    """Return the grams left to the first limit, and to the next in brief."""
    if answer.afloat is None:
        return ""
    if answer.afloat.rest == "sinks":
        return f"none: she is {mass_text(answer.afloat.short_by_g or 0.0)} too heavy to float"
    first = answer.grams_left[0]
    end = end_words(answer.afloat.limits, first.limit, first.at, broken=not first.mass_g)
    if not first.mass_g:
        return f"none: {end} already"
    left = grams_left_text(first.mass_g, first.plus_minus_g)
    if answer.coats is not None:
        return fitted((f"{left} before it, then {end}", f"{left} before it; then a limit breaks"))
    return f"{left}, then {end}"


def _dearest(items: Sequence[ItemWeight]) -> str:
    """Return the items that cost most freeboard."""
    costly = [i for i in items if i.cost and i.cost.freeboard_mm is not None]
    costly.sort(key=lambda item: item.cost.freeboard_mm or 0.0 if item.cost else 0.0)
    parts: list[str] = []
    for item in costly[:3]:
        height = item.cost.freeboard_mm if item.cost else None
        if height is None or height > -SMALL_MM:
            break
        part = f"{item.name} {show.length(-height)}"
        if len(", ".join([*parts, part])) > WIDTH - LABEL - 27:
            break
        parts.append(part)
    return f"of freeboard, all of each: {', '.join(parts)}" if parts else ""
