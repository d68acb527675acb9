"""The header of a table: which columns are known, and what is wrong with the others."""

import difflib
from collections.abc import Mapping
from typing import Final

from hullcheck.errors import InputError
from hullcheck.files.guard import shown

Record = tuple[int, list[str]]  # a row's number and the text of its cells, trimmed

MAX_COLUMNS: Final = 200

SEPARATORS: Final = ",;\t"
_FOREIGN_UNITS: Final = ("in", "inch", "inches", "cm", "m", "ft", "kg", "oz", "lb", "mm", "g")


def header_columns(
    header: Record, columns: Mapping[str, str], name: str
) -> tuple[dict[int, str], list[str]]:
    """Return the known columns by place, and the names of those that are left out."""
    number, cells = header
    _refuse_no_header(header, columns, name)
    # A name without its unit is as near to the column as one with a slip of the finger.
    near = {column: column for column in columns}
    near |= {column.removesuffix(f"_{unit}"): column for column, unit in columns.items() if unit}
    seen: dict[str, str] = {}
    known: dict[int, str] = {}
    ignored = []
    for i, cell in enumerate(cells):
        if not cell:
            continue
        column = folded(cell)
        if column in seen:
            raise InputError(
                f"{name} row {number}: two columns are named {shown(cell)}; take one out, or give "
                "it another name"
            )
        seen[column] = cell
        # A cell with separators in it is a whole header that was parted by another one.
        whole = any(separator in cell for separator in SEPARATORS)
        close = [] if whole else difflib.get_close_matches(column, near, n=1)
        stems = [column.removesuffix(f"_{unit}") for unit in _FOREIGN_UNITS]
        close = close or [stem for stem in stems if stem in near][:1]
        if column in columns:
            known[i] = column
        elif close:
            raise InputError(
                f"{name} row {number}: there is no column {shown(cell)}; did you mean "
                f"'{near[close[0]]}'? {_advice(column, columns[near[close[0]]])}"
            )
        else:
            ignored.append(cell)
    return known, ignored


def _refuse_no_header(header: Record, columns: Mapping[str, str], name: str) -> None:
    """Refuse a first row that is too long for a header, or one of values."""
    number, cells = header
    if len(cells) > MAX_COLUMNS and any(cells[MAX_COLUMNS:]):
        raise InputError(
            f"{name} row {number}: {len(cells)} columns, over the limit of {MAX_COLUMNS}; keep "
            "nothing but the table in the file"
        )
    named = any(folded(cell) in columns for cell in cells)
    if not named and any(_is_number(cell) for cell in cells):
        raise InputError(
            f"{name} row {number}: holds numbers and no names; the first row must name the "
            f"columns: {', '.join(columns)}"
        )


def _advice(column: str, unit: str) -> str:
    """Return what to do about a column whose name is near to a known one."""
    other = next((u for u in _FOREIGN_UNITS if column.endswith(f"_{u}")), None)
    if unit and other is not None and other != unit:
        return f"It holds {unit}: turn the values from {other} into {unit}, then name it so"
    return "Name it so, or give it a name less alike"


def _is_number(cell: str) -> bool:
    """Return whether a cell holds a number, with a decimal point or comma."""
    return cell.replace(",", ".", 1).replace(".", "", 1).lstrip("+-−").isdigit()


def folded(cell: str) -> str:
    """Return the name of a column as it is compared: small letters, underscores for blanks."""
    return "_".join(cell.lower().replace("_", " ").split())
