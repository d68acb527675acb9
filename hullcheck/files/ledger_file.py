"""The weight ledger as a spreadsheet keeps it."""

import os
import re
from collections.abc import Sequence
from typing import Final

from hullcheck.craft.ledger import Item, Ledger
from hullcheck.errors import InputError
from hullcheck.files.cells import Cell, Row, label, number_if_any, words
from hullcheck.files.table import Table, read_table

LEDGER_COLUMNS: Final = {
    "item": "",
    "group": "",
    "planned_g": "g",
    "weighed_g": "g",
    "x_mm": "mm",
    "y_mm": "mm",
    "z_mm": "mm",
    "plus_minus_g": "g",
    "aboard": "",
    "note": "",
}
"""Columns of a ledger with the unit of their numbers, in their usual order."""

_NUMBERS: Final = tuple(column for column, unit in LEDGER_COLUMNS.items() if unit)
# The last in each row are the truths that spreadsheets write in some languages.
_YES: Final = frozenset({"yes", "y", "true", "1", "x", "wahr", "vrai", "vero", "verdadero"})
_NO: Final = frozenset({"no", "n", "false", "0", "falsch", "faux", "falso"})
_SUM: Final = re.compile(
    r"\b(?:(?:sub ?)?totals?|sums?|all ?up|auw"
    r"|(?:empty|flying|ready to fly|take ?off) (?:weight|mass)"
    r"|(?:zwischen|gesamt)?summe|gesamt(?:gewicht|masse)?|(?:ab)?fluggewicht|leergewicht"
    r"|totale|totaal|somme|suma|σ)\b"
)
"""Words of a sum, in some languages of spreadsheets."""


def read_ledger(
    path: str | os.PathLike[str],
) -> tuple[Ledger, tuple[tuple[str, str], ...]]:
    """Return a weight ledger, masses [g] and places in body axes [mm], and notes on its reading.

    Parameters
    ----------
    path : str or path
        A CSV file with the columns of `LEDGER_COLUMNS`, of which only ``item`` and one of
        ``planned_g`` and ``weighed_g`` must be there; the others then count as blank.

    Returns
    -------
    ledger : Ledger
        Its items in the order of the file.
    notes : tuple of (str, str)
        What was assumed or left out: a code and a sentence each.

    Raises
    ------
    MissingFileError
        If there is no such file.
    InputError
        If it is no table, holds no items, or a row makes no sense; with row, column and value.

    Notes
    -----
    What is read as a table and as a number is told at `read_table` and `number`. A blank mass is
    one that is not known, 0 is a mass. A blank ``aboard`` is a yes; yes, y, true, 1, x and no, n,
    false, 0 are read in any case, and TRUE and FALSE as German, French, Italian and Spanish
    spreadsheets write them.

    Line breaks and runs of blanks in names and groups are read as one blank; two names that differ
    only so, or in their capitals, are one item twice. An item that is named like a sum would count
    twice and is refused. So is a row with numbers and no item; one without either, a heading or a
    remark, is left out with a note.
    """
    table = read_table(path, columns=LEDGER_COLUMNS, required=("item",))
    page = table.page
    if not {"planned_g", "weighed_g"} & set(table.columns):
        raise InputError(
            f"{page.name} row {table.header_row}: names neither 'planned_g' nor 'weighed_g'; a "
            f"ledger needs one of them: {','.join(LEDGER_COLUMNS)}"
        )
    items: list[Item] = []
    rows: dict[str, int] = {}
    remarks: list[int] = []
    for row in table.rows:
        name = label(row["item"])
        if not name:
            _check_no_numbers(row)
            remarks.append(row.number)
            continue
        _check_no_sum(row["item"], name)
        first = rows.setdefault(name.casefold(), row.number)
        if first != row.number:
            raise row["item"].refused(
                f"stands in row {first} too: take one out, or give each its own name"
            )
        items.append(_item(row, name))
    if not items:
        raise InputError(f"{page.name}: holds no items; write one in each row below the header")
    return Ledger(items=tuple(items)), table.notes + _remarks(table, remarks)


def _item(row: Row, name: str) -> Item:
    """Return the item of a row."""
    return Item(
        name=name,
        group=label(row["group"]),
        planned_g=_mass(row["planned_g"]),
        weighed_g=_mass(row["weighed_g"]),
        x_mm=number_if_any(row["x_mm"]),
        y_mm=number_if_any(row["y_mm"]),
        z_mm=number_if_any(row["z_mm"]),
        plus_minus_g=_mass(row["plus_minus_g"]),
        aboard=_aboard(row["aboard"]),
        note=words(row["note"]),
    )


def _mass(cell: Cell) -> float | None:
    """Return a mass [g], None for a blank cell; refused below 0."""
    mass_g = number_if_any(cell)
    if mass_g is not None and mass_g < 0.0:
        raise cell.refused("is below 0: write 0 or more, or leave the cell empty")
    return mass_g


def _aboard(cell: Cell) -> bool:
    """Return whether an item is built in so far; blank is a yes."""
    text = cell.text.lower()
    if not text or text in _YES:
        return True
    if text in _NO:
        return False
    words(cell)
    raise cell.refused("is neither yes nor no: write yes, no, or leave the cell empty for yes")


def _check_no_sum(cell: Cell, name: str) -> None:
    """Refuse an item whose name says that it is a sum."""
    folded = re.sub(r"[-_\s]+", " ", name.casefold().replace("\N{N-ARY SUMMATION}", "σ"))
    if _SUM.search(folded):
        raise cell.refused(
            "is named like a sum, which would count twice: take the row out, or name it otherwise"
        )


def _check_no_numbers(row: Row) -> None:
    """Refuse a row without an item that holds a number or what should be one."""
    for column in _NUMBERS:
        cell = row[column]
        if not cell.blank:
            raise cell.refused(
                "belongs to no item: name the item, or, if it is a sum, take the row out"
            )


def _remarks(table: Table, rows: Sequence[int]) -> tuple[tuple[str, str], ...]:
    """Return the note on rows that were left out, if any."""
    if not rows:
        return ()
    listed = ", ".join(str(row) for row in rows[:12]) + (", …" if len(rows) > 12 else "")
    many = "rows" if len(rows) > 1 else "row"
    sentence = f"{table.page.name}: {many} {listed} left out: neither an item nor a number"
    return (("row-ignored", sentence),)
