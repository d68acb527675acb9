"""Every change with what it does, and the whole they add up to: the table behind --all."""

from typing import Final

from hullcheck.answers.compare_records import CompareAnswer, CompareChange
from hullcheck.answers.weights_records import Cost
from hullcheck.report import table_values as show
from hullcheck.report.compare_text import change_name, cut, first_screen, side_words
from hullcheck.report.display import shown
from hullcheck.report.words import capital, shown_name, water_words

_WIDTH: Final = 80
_NAME: Final = 29
_COLUMNS: Final = (9, 9, 9, 8, 8, 8)
_DECIMALS: Final = 2
_MORE: Final = 2
"""Decimals more in inches than in millimeters."""


def all_lines(answer: CompareAnswer) -> list[str]:
    """Return the first screen, then every change in the order it is put aboard, and the whole.

    Parameters
    ----------
    answer : CompareAnswer
        Two loads compared.

    Returns
    -------
    list of str
        At most 80 characters each.
    """
    unit = shown().length
    heads = (shown().mass, f"low. {unit}", "trim °", "heel °", f"CG x {unit}", f"CG z {unit}")
    lines = [*first_screen(answer), "", _line("IN THE ORDER PUT ABOARD", heads)]
    lines += [
        _line(f"  {change_name(c, _NAME - 3)}", _cells(c.mass_g, c.cost)) for c in answer.changes
    ]
    lines.append(_line("  All together", _cells(answer.mass_g, answer.cost)))
    lines += [
        "Rows add up to the last line exactly (--json, --csv); printed they are rounded.",
        "low.: lowest opening, higher is positive; trim bow up, heel to starboard, CG x",
        "aft and z up are positive.",
    ]
    named = [line for change in answer.changes if (line := _detail(change))]
    if named:
        lines += ["", "From what to what", *named]
    for title, side in (("Before", answer.old), ("Now", answer.new)):
        weighed = f"{side.weighed} of {side.items} items weighed"
        lines += ["", cut(f"{title}: {side.name}", _WIDTH), f"  {side_words(side, _WIDTH - 2)}"]
        lines.append(f"  {water_words(side.water)}; {weighed}")
        if side.center_of_gravity_mm is not None:
            lines.append(f"  CG at {show.place(side.center_of_gravity_mm)}")
    return [cut(line, _WIDTH) for line in lines]


def _line(name: str, cells: tuple[str, ...]) -> str:
    """Return a row of the table."""
    right = "".join(f"{cell:>{width}}" for cell, width in zip(cells, _COLUMNS, strict=True))
    return f"{cut(name, _NAME - 1):<{_NAME}}{right}".rstrip()


def _cells(mass_g: float, cost: Cost | None) -> tuple[str, ...]:
    """Return the numbers of a row; a dash where nothing is floated, or she does not float."""
    mass = show.number(shown().mass_of(mass_g), 1 if shown().mass == "g" else 3)
    if cost is None:
        return (mass, *["–"] * 5)
    x, _, z = cost.center_of_gravity_mm
    return (
        mass,
        _length(cost.freeboard_mm),
        _angle(cost.trim_deg),
        _angle(cost.heel_deg),
        _length(x),
        _length(z),
    )


def _length(value_mm: float | None) -> str:
    """Return a length without its unit, a decimal finer than elsewhere."""
    if value_mm is None:
        return "–"
    more = 0 if shown().length == "mm" else _MORE - 1
    return show.number(shown().length_of(value_mm), _DECIMALS + more)


def _angle(value_deg: float | None) -> str:
    """Return an angle without its sign for degrees."""
    return "–" if value_deg is None else show.number(value_deg, _DECIMALS)


def _detail(change: CompareChange) -> str:
    """Return from what to what an item or a word changed; a long name is cut, not the change."""
    if change.was is not None:
        said = f"{change.was} → {change.now}"
    elif change.moved_mm is not None:
        said = f"moved by {show.place(change.moved_mm)}"
    elif change.mass_before_g is None and change.mass_after_g is None:
        return ""
    else:
        said = " → ".join(
            "not there" if mass is None else show.mass(mass)
            for mass in (change.mass_before_g, change.mass_after_g)
        )
    name = capital(shown_name(change.name))
    return f"  {cut(name, _WIDTH - 4 - len(said))}: {said}"
