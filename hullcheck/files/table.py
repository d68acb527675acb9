"""Tables as spreadsheets write them: from a file to rows of named cells."""

import csv
import io
import os
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from hullcheck.errors import InputError
from hullcheck.files.cells import Page, Row, decimal_sign, trimmed
from hullcheck.files.guard import shown
from hullcheck.files.table_header import SEPARATORS, Record, folded, header_columns
from hullcheck.files.table_text import table_text

MAX_ROWS: Final = 10_000
"""Not counting blank ones; some twenty times a large ledger."""

_SEP_LINE: Final = re.compile(r'"?sep=(.)"?(?:\r\n|\r|\n|$)', re.IGNORECASE)

_FILLED: Final = re.compile(r'[^\s,;"\ufeff]')


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table as read.

    Attributes
    ----------
    page : Page
        What its cells share: the file's name, the separator, the decimal signs.
    header_row : int
        Row that names the columns.
    columns : tuple of str
        Known columns it has, in its order.
    rows : tuple of Row
        Rows below the header that are not blank.
    notes : tuple of (str, str)
        What was assumed or left out: a code and a sentence each.
    """

    page: Page
    header_row: int
    columns: tuple[str, ...]
    rows: tuple[Row, ...]
    notes: tuple[tuple[str, str], ...]


def read_table(
    path: str | os.PathLike[str], *, columns: Mapping[str, str], required: Sequence[str]
) -> Table:
    """Return the rows of a CSV file, their cells by column.

    Parameters
    ----------
    path : str or path
        The file. It is only read.
    columns : mapping of str to str
        Known columns, in their usual order, with the unit of their numbers; "" for words.
    required : sequence of str
        Columns that must be there.

    Returns
    -------
    Table

    Raises
    ------
    MissingFileError
        If there is no such file.
    InputError
        If it is no text, blank, or its header or the shape of a row makes no sense.

    Notes
    -----
    Encodings are those of `table_text`. The first row that is not blank names the columns, in any
    order and case, with blanks or underscores between words. Cells are parted by commas, semicolons
    or tabs: by what a first line ``sep=;`` says, else by the one that finds most known columns in
    the header. A cell in quotation marks may hold separators and line breaks.

    Rows are counted as a spreadsheet shows them: from 1, blank rows and the header included, a cell
    with line breaks as part of one row, and without a line ``sep=``, which spreadsheets hide. Rows
    of blanks and separators only are passed over; a row that ends early has blank cells to its end.

    An unknown column that is named almost like a known one is refused, another one is left out with
    a note. What stands under no name at all is refused: mostly it is the half of a number with a
    decimal comma.
    """
    name = os.fspath(path)
    text, notes = table_text(path)
    text, separator = _separated(text, columns, name)
    records = _records(text, separator, name)
    header = next(records, None) if _FILLED.search(text) else None
    if header is None:
        raise InputError(f"{name}: is empty; its first row must name the columns: {_csv(columns)}")
    known, ignored = header_columns(header, columns, name)
    lacking = [column for column in required if column not in known.values()]
    if lacking:
        raise InputError(
            f"{name} row {header[0]}: names no column '{lacking[0]}', but "
            f"{_listed(header[1])}; the first row must name the columns: {_csv(columns)}"
        )
    filled = [_checked(record, header, separator, name) for record in records]
    texts = [
        (number, {column: cells[i] for i, column in known.items() if i < len(cells)})
        for number, cells in filled
    ]
    signs = _decimal_signs(texts, columns)
    page = Page(name=name, separator=separator, units=dict(columns), decimal_signs=signs)
    return Table(
        page=page,
        header_row=header[0],
        columns=tuple(known.values()),
        rows=tuple(Row(page=page, number=number, texts=cells) for number, cells in texts),
        notes=notes + _notes(page, ignored),
    )


def _separated(text: str, columns: Mapping[str, str], name: str) -> tuple[str, str]:
    """Return the text without a line ``sep=``, and the separator of its cells."""
    line = _SEP_LINE.match(text)
    if line is not None:
        if line[1] not in SEPARATORS:
            raise InputError(
                f"{name}: its first line {shown(line[0].strip())} asks for a separator that is not "
                "read; save with commas, semicolons or tabs"
            )
        return text[line.end() :], line[1]
    fits = {separator: _fit(text, separator, columns) for separator in SEPARATORS}
    return text, max(fits, key=lambda separator: fits[separator])


def _fit(text: str, separator: str, columns: Mapping[str, str]) -> tuple[int, int]:
    """Return how many known columns a separator finds in the header, and how many cells."""
    try:
        header = next(_records(text, separator, ""), (0, []))[1]
    except InputError:
        return (0, 0)
    return (sum(folded(cell) in columns for cell in header), len(header))


def _records(text: str, separator: str, name: str) -> Iterator[Record]:
    """Yield the rows that are not blank, with their numbers, blank ones counted."""
    # Strict: a quotation mark that is never closed must not swallow the rows behind it.
    lines = io.StringIO(text, newline="")
    reader = csv.reader(lines, delimiter=separator, strict=True, skipinitialspace=True)
    number, filled = 0, 0
    while True:
        number += 1
        try:
            cells = [trimmed(cell) for cell in next(reader)]
        except StopIteration:
            return
        except csv.Error as problem:
            why = (
                f"a cell holds over {csv.field_size_limit()} characters: shorten it, or look for "
                "a quotation mark that is not closed"
                if "limit" in str(problem)
                else "a cell begins with a quotation mark and does not end with one: close it, or "
                "take the mark out"
            )
            raise InputError(f"{name} row {number}: {why}") from problem
        if any(cells):
            filled += 1
            if filled > MAX_ROWS:
                raise InputError(
                    f"{name} row {number}: over the limit of {MAX_ROWS} rows that are not blank; "
                    "keep nothing but the table in the file"
                )
            yield number, cells


def _checked(record: Record, header: Record, separator: str, name: str) -> Record:
    """Return a row; refused where cells stand under no name, or a cell holds whole rows."""
    number, cells = record
    names = header[1]
    for i, cell in enumerate(cells):
        if cell and (i >= len(names) or not names[i]):
            why = (
                "probably a decimal comma in a file separated by commas: write 12.5, or "
                '"12,5" in quotation marks'
                if separator == ","
                else "put quotation marks around a cell that holds the separator"
            )
            raise InputError(
                f"{name} row {number}: {shown(cell)} in cell {i + 1} stands under no name of the "
                f"header: {why}, or name the column"
            )
        if "\n" in cell and any(
            line.count(separator) >= len(names) - 1 > 0 for line in cell.split("\n")[1:-1]
        ):
            raise InputError(
                f"{name} row {number}: the cell {shown(cell)} holds whole rows between its "
                "quotation marks: close the first one, or take it out"
            )
    return record


def _decimal_signs(
    texts: Sequence[tuple[int, Mapping[str, str]]], columns: Mapping[str, str]
) -> frozenset[str]:
    """Return the signs that are decimal signs beyond doubt in the columns of numbers."""
    signs = {
        decimal_sign(text)
        for _, cells in texts
        for column, text in cells.items()
        if columns[column]
    }
    return frozenset(sign for sign in signs if sign is not None)


def _notes(page: Page, ignored: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """Return the notes on columns that were left out and on decimal signs that were mixed."""
    notes: list[tuple[str, str]] = []
    if ignored:
        many = "columns" if len(ignored) > 1 else "column"
        notes.append(("column-ignored", f"{page.name}: left out {many} {_listed(ignored)}"))
    if len(page.decimal_signs) > 1:
        sentence = f"{page.name}: numbers with decimal points and with decimal commas; read as such"
        notes.append(("decimal-signs-mixed", sentence))
    return tuple(notes)


def _csv(columns: Mapping[str, str]) -> str:
    """Return a header with all known columns."""
    return ",".join(columns)


def _listed(cells: Sequence[str]) -> str:
    """Return the first few names of a header in quotes."""
    named = [shown(cell) for cell in cells if cell]
    return ", ".join(named[:12]) + (f" and {len(named) - 12} more" if len(named) > 12 else "")
