"""Water inside her as CSV: a row a case, numbers never rounded."""

from typing import Final

from hullcheck.answers.flood_records import FloodAnswer, FloodedState, NoseUp
from hullcheck.report.csv_rows import csv_of

COLUMNS: Final = (
    "case",
    "compartments",
    "water_g",
    "mass_g",
    "rest",
    "freeboard_mm",
    "at",
    "trim_deg",
    "heel_deg",
    "metacentric_height_transverse_mm",
    "free_surface_loss_transverse_mm",
    "short_by_g",
    "wet",
    "nose_up_deg",
    "nose_up_cg_x_mm",
    "nose_up_behind_band_mm",
    "nose_up_wet",
)


def csv_text(answer: FloodAnswer) -> str:
    """Return every case as CSV text with a header; what has no answer is empty.

    First how she floats with the water asked about, or dry, then water in each compartment, then
    compartments open to the sea. A text that a spreadsheet would run as a formula gets an
    apostrophe in front.
    """
    held = [one for one in answer.compartments if one.water_g > 0.0 or one.open_to_sea]
    water = sum(one.water_g for one in held if not one.open_to_sea)
    names = " + ".join(one.name for one in held)
    case = "asked" if answer.asked else "dry"
    rows: list[list[object]] = [[case, names, water, *_cells(answer.state, None)]]
    for one in answer.water_cases:
        cells = _cells(one.state, one.nose_up)
        rows.append(["water", one.compartment, one.water_g, *cells])
    for opened in answer.open_cases:
        joined = " + ".join(opened.compartments)
        rows.append(["open to the sea", joined, None, *_cells(opened.state, None)])
    return csv_of(COLUMNS, rows)


def _cells(state: FloodedState, up: NoseUp | None) -> list[float | str | None]:
    """Return the cells of a state, and of the water run aft."""
    lever, loss = state.metacentric_height_mm, state.free_surface_loss_mm
    cells: list[float | str | None] = [
        state.mass_g,
        state.rest,
        state.freeboard_mm,
        state.at,
        state.trim_deg,
        state.heel_deg,
        None if lever is None else lever.transverse,
        None if loss is None else loss.transverse,
        state.short_by_g,
        "; ".join(state.wet),
    ]
    if up is None:
        return [*cells, None, None, None, None]
    wet = "; ".join(one.name for one in up.bilge if one.wet)
    x = up.center_of_gravity_mm[0]
    return [*cells, up.trim_deg, x, up.behind_band_mm, wet]
