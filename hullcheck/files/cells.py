"""Cells of a table as spreadsheets write them, and the numbers and words in them."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from hullcheck.errors import InputError
from hullcheck.files.guard import shown

MAX_NUMBER: Final = 1e9
"""A thousand tonnes in grams, a thousand kilometers in millimeters: beyond is a slip."""

MAX_LABEL: Final = 120
"""Characters of a name; more is a remark in the wrong column."""

# What str.strip() takes away, no-break, thin and narrow blanks among it, and invisible marks.
_EDGES: Final = "".join(c for c in map(chr, range(0x3001)) if c.isspace()) + (
    "\ufeff\u200b\u200e\u200f\u2060"
)
_NUMBER: Final = re.compile(
    r"[+-]?(?=[.,]?[0-9])(?P<whole>[0-9]*)(?:(?P<sign>[.,])(?P<part>[0-9]+))?"
    r"(?P<power>[eE][+-]?[0-9]+)?"
)
_FIRST_GROUP: Final = re.compile(r"[1-9][0-9]{0,2}")
_GAPS: Final = re.compile(r"[+-]?[0-9]+(?:[.,'’\s]+[0-9]+)+")
_UNIT: Final = re.compile(r"[+-]?[.,]?[0-9][0-9.,]*\s*(?:[^\W\d_]{1,6}\.?|[%°\"'″′])")
# In the languages of the spreadsheets that write them: #REF!, #WERT!, #N/A, #N/D, #NV, Err:502.
_FAILED: Final = re.compile(r"#[^\W\d_][\w/]*[!?]|#N/[A-Z]|#NV|Err:[0-9]+", re.IGNORECASE)
_MONTH: Final = (
    "(?:jan|feb|fév|mar|mär|mrt|apr|abr|avr|may|mai|mag|mei|jun|juin|giu|jul|juil|lug|aug|ago|aoû|"
    r"sep|set|oct|okt|ott|nov|dec|dez|dic|déc|ene|gen)[^\W\d_]{0,6}\.?"
)
_DATE: Final = re.compile(
    r"[0-9]{1,4}([./-])[0-9]{1,2}\1(?:[0-9]{2,4})?(?:[ T][0-9:.]+)?"
    r"|[0-9]{1,2}[/-][0-9]{1,2}|[0-9]{1,2}:[0-9]{2}(?::[0-9]{2})?"
    rf"|[0-9]{{1,4}}[. /-]*{_MONTH}(?:[ /-]*[0-9]{{2,4}})?|{_MONTH}[ /-]*[0-9]{{1,4}}",
    re.IGNORECASE,
)
_FORMULA_FAILED: Final = (
    "is what a spreadsheet writes when its own formula fails: mend the formula there and save again"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """What all cells of a file share.

    Attributes
    ----------
    name : str
        The file, as the user gave it.
    separator : str
        What stands between its cells: a comma, a semicolon or a tab.
    units : mapping of str to str
        Known columns with the unit of their numbers, "" where they hold words.
    decimal_signs : frozenset of str
        Which of "." and "," stand in its numbers where they can be nothing but a decimal sign.
    """

    name: str
    separator: str
    units: Mapping[str, str]
    decimal_signs: frozenset[str] = frozenset()

    def settles(self, sign: str) -> bool:
        """Return whether a sign before three digits is the decimal sign beyond doubt.

        A point is one in a comma-separated file without decimal commas. Otherwise other numbers
        of the file must show it; a comma in a comma-separated file is never settled.
        """
        if self.separator == ",":
            return sign == "." and "," not in self.decimal_signs
        return self.decimal_signs == {sign}


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One cell of a table.

    Attributes
    ----------
    page : Page
        The file it stands in.
    row : int
        Its row as a spreadsheet counts, from 1.
    column : str
        Name of its column.
    text : str
        What it holds, without blanks and invisible marks at either end.
    """

    page: Page
    row: int
    column: str
    text: str

    @property
    def blank(self) -> bool:
        """Whether it holds nothing."""
        return not self.text

    def refused(self, why: str) -> InputError:
        """Return the refusal of the cell: file, row, column, what it holds, and why."""
        value = f"{shown(self.text)} " if self.text else ""
        return InputError(f"{self.page.name} row {self.row}, {self.column}: {value}{why}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of a table below the header.

    Attributes
    ----------
    page : Page
        The file it stands in.
    number : int
        Its number as a spreadsheet counts, from 1.
    texts : mapping of str to str
        What its cells hold, by known column; columns the file does not have are not in it.
    """

    page: Page
    number: int
    texts: Mapping[str, str]

    def __getitem__(self, column: str) -> Cell:
        """Return a cell; a column the file does not have counts as blank."""
        text = self.texts.get(column, "")
        return Cell(page=self.page, row=self.number, column=column, text=text)


def trimmed(text: str) -> str:
    """Return text without blanks and invisible marks at its ends, its line ends as LF."""
    return text.strip(_EDGES).replace("\r\n", "\n").replace("\r", "\n")


def decimal_sign(text: str) -> str | None:
    """Return the sign in a number that can be nothing but its decimal sign, else None."""
    found = _NUMBER.fullmatch(_plain_minus(text))
    return None if found is None or _could_group(found) else found["sign"]


def number(cell: Cell) -> float:
    """Return the number in a cell, in the unit of its column.

    Parameters
    ----------
    cell : Cell
        Of a column of numbers.

    Returns
    -------
    float
        The nearest to the decimal number written, as ``float`` reads it.

    Raises
    ------
    InputError
        If the cell is blank, no number, beyond `MAX_NUMBER`, or could be read in two ways.

    Notes
    -----
    Read are digits with at most one decimal sign, point or comma, with a sign before (a true minus
    too) and an exponent behind. Thousands groups are never read. A sign before exactly three
    digits, where it could part a group, is a decimal sign only where the file leaves no doubt: see
    `Page.settles`. Numbers with an exponent have no groups.
    """
    if cell.blank:
        raise cell.refused("is empty: write a number")
    return _value(cell, "write one such as 12.5")


def number_if_any(cell: Cell) -> float | None:
    """Return the number in a cell as `number` does, None for a blank cell."""
    if cell.blank:
        return None
    return _value(cell, "write one such as 12.5, or leave the cell empty if it is not known")


def words(cell: Cell) -> str:
    """Return the words in a cell; InputError where the spreadsheet put a failure of its own."""
    if _FAILED.fullmatch(cell.text):
        raise cell.refused(_FORMULA_FAILED)
    return cell.text


def label(cell: Cell) -> str:
    """Return the words in a cell as a name on one line; InputError if they are too many for one."""
    text = words(cell)
    if len(text) > MAX_LABEL:
        raise cell.refused(f"has {len(text)} characters, over the limit of {MAX_LABEL}: shorten it")
    return " ".join("".join(c for c in text if c.isprintable() or c.isspace()).split())


def _value(cell: Cell, hint: str) -> float:
    """Return the number in a cell that is not blank; the hint is for what is nothing like one."""
    unit = cell.page.units[cell.column]
    text = _plain_minus(cell.text)
    found = _NUMBER.fullmatch(text)
    if found is None:
        raise cell.refused(_why_no_number(text, unit, hint))
    if _could_group(found) and not cell.page.settles(found["sign"]):
        raise cell.refused(_two_ways(found, cell.page))
    value = float(text.replace(",", "."))
    if not abs(value) <= MAX_NUMBER:
        raise cell.refused(f"is beyond the limit of {MAX_NUMBER:.0f} {unit}: check the number")
    return value + 0.0  # a negative zero is a zero


def _plain_minus(text: str) -> str:
    """Return a number's text with a true minus sign made the one that is typed."""
    return "-" + text[1:] if text.startswith("\N{MINUS SIGN}") else text


def _could_group(found: re.Match[str]) -> bool:
    """Return whether a number's sign could part thousands: 1,250 but not 0,250 or 12,5."""
    return (
        found["sign"] is not None
        and not found["power"]
        and len(found["part"]) == 3
        and _FIRST_GROUP.fullmatch(found["whole"]) is not None
    )


def _two_ways(found: re.Match[str], page: Page) -> str:
    """Return why a number could be two, and how to write either so that it is one."""
    minus = "-" if found.string.startswith("-") else ""
    whole, part = minus + found["whole"], found["part"].rstrip("0")
    thousand = whole + found["part"]
    plain = f"{whole}.{part}" if part else whole
    sign = "." if page.separator == "," else found["sign"]
    if len(page.decimal_signs) == 1:
        (sign,) = page.decimal_signs
    # Three digits behind the sign would be in doubt again; with one more zero they are not.
    clear = whole + (f"{sign}{part}0" if len(part) == 3 else f"{sign}{part}" if part else "")
    return f"could be {thousand} or {plain}: write {thousand} or {clear}"


def _why_no_number(text: str, unit: str, hint: str) -> str:
    """Return what is wrong with text that is no number, and what to do about it."""
    if text.startswith("#") or _FAILED.fullmatch(text):
        return _FORMULA_FAILED
    if text.startswith("="):
        return "is a formula: save the table with values instead of formulas"
    if _DATE.fullmatch(text):
        return (
            "is a date or a time, which spreadsheets make of numbers: "
            "format the column as numbers and type the number again"
        )
    if _GAPS.fullmatch(text):
        return "has thousands groups or two signs: write the digits with one decimal sign at most"
    if _UNIT.fullmatch(text):
        return f"is not a number: leave the unit out, the column is in {unit}"
    return f"is not a number: {hint}"
