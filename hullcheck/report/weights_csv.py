"""What she weighs as CSV: a row an item, numbers never rounded."""

from typing import Final

from hullcheck.answers.weights_records import Cost, ItemWeight, WeightsAnswer
from hullcheck.report.csv_rows import csv_of

COLUMNS: Final = (
    "item",
    "group",
    "planned_g",
    "weighed_g",
    "mass_g",
    "plus_minus_g",
    "aboard",
    "x_mm",
    "y_mm",
    "z_mm",
    "growth_g",
    "running_mass_g",
    "freeboard_mm",
    "trim_deg",
    "heel_deg",
    "cg_x_mm",
    "cg_y_mm",
    "cg_z_mm",
    "growth_freeboard_mm",
    "growth_trim_deg",
    "note",
)


def csv_text(answer: WeightsAnswer) -> str:
    """Return the items as CSV text with a header; what is not known is empty.

    A text that a spreadsheet would run as a formula gets an apostrophe in front.
    """
    return csv_of(COLUMNS, map(_item_cells, answer.items))


def _item_cells(item: ItemWeight) -> list[object]:
    """Return an item's cells."""
    grown = item.growth_cost
    return [
        item.name,
        item.group,
        item.planned_g,
        item.weighed_g,
        item.mass_g,
        item.plus_minus_g,
        "yes" if item.aboard else "no",
        *(item.center_mm or (None,) * 3),
        item.growth_g,
        item.running_mass_g,
        *_cells(item.cost),
        None if grown is None else grown.freeboard_mm,
        None if grown is None else grown.trim_deg,
        item.note,
    ]


def _cells(cost: Cost | None) -> list[float | None]:
    """Return what something costs, empty where that has no answer."""
    if cost is None:
        return [None] * 6
    return [cost.freeboard_mm, cost.trim_deg, cost.heel_deg, *cost.center_of_gravity_mm]
