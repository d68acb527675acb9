"""A hull's table of offsets as a spreadsheet keeps it."""

import os
from typing import Final

from hullcheck.errors import InputError
from hullcheck.files.cells import Cell, label, number
from hullcheck.files.table import read_table
from hullcheck.geometry.offsets import OffsetPoint

OFFSETS_COLUMNS: Final = {
    "station_mm": "mm",
    "line": "",
    "half_breadth_mm": "mm",
    "height_mm": "mm",
}
"""Columns of a table of offsets with the unit of their numbers, in their usual order."""


def read_offsets(
    path: str | os.PathLike[str],
) -> tuple[tuple[OffsetPoint, ...], tuple[tuple[str, str], ...]]:
    """Return the points of a table of offsets [mm], and notes on its reading.

    Parameters
    ----------
    path : str or path
        A CSV file with the columns of `OFFSETS_COLUMNS`, all of them.

    Returns
    -------
    points : tuple of OffsetPoint
        In the order of the file, each with its row as a spreadsheet counts.
    notes : tuple of (str, str)
        What was assumed or left out: a code and a sentence each.

    Raises
    ------
    MissingFileError
        If there is no such file.
    InputError
        If it is no table, holds no points, or a cell is blank or makes no sense; with row, column
        and value.

    Notes
    -----
    What is read as a table and as a number is told at `read_table` and `number`. Names of lines are
    kept as they are written, but for line breaks and runs of blanks, which become one blank.
    Whether the points make a hull, `hullcheck.geometry.offsets.offset_body` decides.
    """
    table = read_table(path, columns=OFFSETS_COLUMNS, required=tuple(OFFSETS_COLUMNS))
    if not table.rows:
        raise InputError(
            f"{table.page.name}: holds no points; write one in each row below the header"
        )
    points = tuple(
        OffsetPoint(
            row=row.number,
            station_mm=number(row["station_mm"]),
            line=_line(row["line"]),
            half_breadth_mm=number(row["half_breadth_mm"]),
            height_mm=number(row["height_mm"]),
        )
        for row in table.rows
    )
    return points, table.notes


def _line(cell: Cell) -> str:
    """Return the name of a line."""
    name = label(cell)
    if not name:
        raise cell.refused("is empty: name the line, such as keel, chine or deck edge")
    return name
