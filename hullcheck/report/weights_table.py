"""What she weighs, item by item: the table behind --all."""

from collections.abc import Sequence
from typing import Final

from hullcheck.answers.weights_records import Cost, GramsLeft, WeightsAnswer
from hullcheck.report import table_values as show
from hullcheck.report.display import shown
from hullcheck.report.limit_words import end_words
from hullcheck.report.numbers import grams_left_text
from hullcheck.report.weights_scales import coats_lines, scales_lines
from hullcheck.report.weights_text import first_screen

_NAME: Final = 24
_COLUMN: Final = 8
_EMPTY: Final = "–"


def all_lines(answer: WeightsAnswer) -> list[str]:
    """Return the first screen, then every item, group, growth and limit.

    Parameters
    ----------
    answer : WeightsAnswer
        What she weighs.

    Returns
    -------
    list of str
        At most 80 characters each.
    """
    lines = first_screen(answer)
    lines += scales_lines(answer.scales, answer.ledger_check) + coats_lines(answer.coats)
    lines += _items(answer) + _groups(answer) + _growth(answer)
    return lines + _center(answer) + _left(answer)


def _head(title: str, names: Sequence[str], units: Sequence[str]) -> list[str]:
    """Return the two lines over a table."""
    return [
        "",
        f"{title:<{_NAME}}" + "".join(f"{name:>{_COLUMN}}" for name in names),
        " " * _NAME + "".join(f"{unit:>{_COLUMN}}" for unit in units).rstrip(),
    ]


def _row(name: str, cells: Sequence[str], end: str = "") -> str:
    """Return a line of a table; a long name is cut."""
    short = name if len(name) < _NAME else f"{name[: _NAME - 2]}…"
    return (f"{short:<{_NAME}}" + "".join(f"{c:>{_COLUMN}}" for c in cells) + end).rstrip()


def _mass(mass_g: float | None, *, sign: bool = False) -> str:
    """Return a mass without its unit, with its sign if asked for."""
    if mass_g is None:
        return _EMPTY
    text = show.mass(mass_g).rsplit(" ", 1)[0]
    return f"+{text}" if sign and mass_g > 0.0 and not text.startswith("0.0") else text


def _signed(text: str) -> str:
    """Return a number with its sign; none at zero."""
    return text if text.startswith("−") or float(text) == 0.0 else f"+{text}"


def _cost_cells(cost: Cost | None) -> list[str]:
    """Return freeboard, trim and station of the CG that something costs."""
    if cost is None:
        return [_EMPTY] * 3
    height = cost.freeboard_mm
    return [
        _EMPTY if height is None else _signed(show.bare_length(height)),
        _EMPTY if cost.trim_deg is None else _signed(show.number(cost.trim_deg, 2)),
        _signed(show.bare_length(cost.center_of_gravity_mm[0])),
    ]


def _items(answer: WeightsAnswer) -> list[str]:
    """Return the table of items: masses, and what each costs by floating her without it."""
    mass, length = shown().mass, shown().length
    lines = _head(
        "ITEM",
        ("planned", "counts", "grew", "freeb.", "trim", "CG x", ""),
        (mass, mass, mass, length, "°", length),
    )
    for item in answer.items:
        cells = [_mass(item.planned_g), _mass(item.mass_g), _mass(item.growth_g, sign=True)]
        end = "" if item.is_weighed else "  guess" if item.mass_g is not None else "  unknown"
        lines.append(_row(item.name, [*cells, *_cost_cells(item.cost)], end))
    planned, grown = answer.growth.planned_mass_g, answer.growth.mass_g
    whole = sum(item.mass_g or 0.0 for item in answer.items)
    lines.append(_row("sum of the ledger", [_mass(planned), _mass(whole), _mass(grown, sign=True)]))
    return [
        *lines,
        "What each costs is how she floats with it less how she floats without it: below",
        "0 is lower, more bow down, farther forward. A guess is planned and not weighed.",
    ]


def _groups(answer: WeightsAnswer) -> list[str]:
    """Return the table of groups."""
    if len(answer.groups) < 2:
        return []
    mass, length = shown().mass, shown().length
    lines = _head(
        "GROUP",
        ("planned", "counts", "grew", "freeb.", "trim", "CG x", "±"),
        (mass, mass, mass, length, "°", length, mass),
    )
    for group in answer.groups:
        cells = [_mass(group.planned_g), _mass(group.mass_g), _mass(group.growth_g, sign=True)]
        about = _mass(group.plus_minus_g)
        lines.append(_row(group.name or "(no group)", [*cells, *_cost_cells(group.cost), about]))
    return lines


def _growth(answer: WeightsAnswer) -> list[str]:
    """Return what growth cost, item after item, adding up to the whole."""
    grown = [item for item in answer.items if item.growth_cost is not None]
    if not grown:
        return []
    mass, length = shown().mass, shown().length
    lines = _head(
        "GROWTH, IN THIS ORDER", ("grew", "freeb.", "trim", "CG x"), (mass, length, "°", length)
    )
    for item in grown:
        lines.append(
            _row(item.name, [_mass(item.growth_g, sign=True), *_cost_cells(item.growth_cost)])
        )
    cells = _cost_cells(answer.growth.cost)
    return [*lines, _row("together", [_mass(answer.growth.mass_g, sign=True), *cells])]


def _center(answer: WeightsAnswer) -> list[str]:
    """Return the center of gravity with how well masses tell it, and what is aboard so far."""
    lines = ["", f"{'Built in so far':<40}{show.mass(answer.aboard_mass_g)}"]
    lines.append(f"{'All-up':<40}{show.mass(answer.mass_g)} ± {show.mass(answer.plus_minus_g)}")
    center, about = answer.center_of_gravity_mm, answer.center_plus_minus_mm
    if center is not None:
        for number, axis in enumerate("xyz"):
            text = show.length(center[number])
            if about is not None:
                text += f" ± {show.length(about[number])}"
            lines.append(f"{f'CG {axis}':<40}{text}")
        lines.append("± of the CG is from the masses alone: places are taken as written.")
    for label, value, unit in (
        ("Freeboard known, ruler aside, to ±", answer.freeboard_plus_minus_mm, "length"),
        ("Trim known to ±", answer.trim_plus_minus_deg, "angle"),
    ):
        if value is not None:
            text = show.length(value) if unit == "length" else f"{show.number(value, 2)}°"
            lines.append(f"{label:<40}{text}")
    return lines


def _left(answer: WeightsAnswer) -> list[str]:
    """Return the grams left to each limit."""
    if answer.afloat is None or not answer.grams_left:
        return []
    lines = ["", "Grams left at the CG to each limit by itself, the first one first:"]
    return lines + [f"{_left_text(row):>16}  {_end(answer, row)}" for row in answer.grams_left]


def _left_text(row: GramsLeft) -> str:
    """Return the grams left to a limit."""
    return grams_left_text(row.mass_g, row.plus_minus_g) if row.mass_g else "none"


def _end(answer: WeightsAnswer, row: GramsLeft) -> str:
    """Return what ends the grams left to a limit."""
    limits = answer.afloat.limits if answer.afloat else ()
    words = end_words(limits, row.limit, row.at, broken=not row.mass_g)
    return f"{words} already" if not row.mass_g else f"then {words}"
