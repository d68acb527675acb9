"""What a build's sheet and ledger say at a glance, for the logbook: names, masses, water.

The sheet is not checked here and no mesh is loaded: an entry must be written in no time, and though
the sheet is half done.
"""

import csv
import io
import math
import os
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from hullcheck.craft.log_records import LeakTestWater
from hullcheck.errors import InputError
from hullcheck.files.logbook import logbook_path

SHEET_NAME: Final = "build.toml"
LEDGER_NAME: Final = "weights.csv"


@dataclass(frozen=True, slots=True, kw_only=True)
class Glance:
    """What a build sheet says at a glance.

    Attributes
    ----------
    name : str
        The sheet's file, as it is shown.
    seams : tuple of str
        Names of its seams and openings.
    open : tuple of str
        Names of the openings that it has open.
    parts : tuple of str
        Its parts' files.
    mass_g : float or None
        The measured all-up mass under [craft] [g].
    water : str or None
        The kind of water under [water], if "fresh" or "sea".
    leak_g_per_30min : float or None
        The limit of a leak test under [limits] [g].
    """

    name: str
    seams: tuple[str, ...] = ()
    open: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    mass_g: float | None = None
    water: LeakTestWater | None = None
    leak_g_per_30min: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerRow:
    """A row of a weight ledger at a glance; a mass that is blank or no number is None.

    Attributes
    ----------
    number : int
        As a spreadsheet counts, from 1.
    item : str
        What is weighed.
    planned_g, weighed_g : float or None
        Its masses [g].
    """

    number: int
    item: str
    planned_g: float | None
    weighed_g: float | None


def glance_at(where: str | os.PathLike[str]) -> Glance | None:
    """Return what a build sheet says at a glance; None where there is no sheet.

    Parameters
    ----------
    where : str or path
        The build's folder, or its build sheet.

    Raises
    ------
    InputError
        If the sheet cannot be read at all.
    """
    path = _sheet_path(where)
    try:
        with path.open("rb") as stream:
            keys = tomllib.load(stream)
    except FileNotFoundError:
        return None
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as problem:
        raise InputError(f"{path}: cannot be read ({problem})") from problem
    kind = _get(keys, "water", "kind")
    return Glance(
        name=str(path),
        seams=tuple(_names(keys, "seam")) + tuple(_names(keys, "opening")),
        open=tuple(_names(keys, "opening", state="open")),
        parts=tuple(_parts(keys)),
        mass_g=_number(_get(keys, "craft", "mass_g")),
        water="sea" if kind == "sea" else "fresh" if kind == "fresh" else None,
        leak_g_per_30min=_number(_get(keys, "limits", "leak_g_per_30min")),
    )


def ledger_rows(where: str | os.PathLike[str]) -> tuple[str, tuple[LedgerRow, ...]] | None:
    """Return a build's ledger, as its file is shown, and its rows; None where there is none."""
    path = logbook_path(where).parent / LEDGER_NAME
    try:
        text = path.read_bytes().decode("utf-8-sig", "replace")
    except OSError:
        return None
    separator = max(",;\t", key=text.count)
    rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator))
    for number, cells in enumerate(rows, start=1):
        header = [cell.strip().casefold() for cell in cells]
        if "item" in header:
            return str(path), tuple(_ledger_rows(header, rows[number:], number + 1))
    return str(path), ()


def plain_name(name: str) -> str:
    """Return a name as two are compared: blanks and capitals do not count."""
    return " ".join(name.split()).casefold()


def nearest(name: str, names: tuple[str, ...]) -> list[str]:
    """Return up to three of the names that are most like a name."""
    import difflib

    by_plain = {plain_name(one): one for one in names}
    close = difflib.get_close_matches(plain_name(name), by_plain, n=3, cutoff=0.5)
    return [by_plain[one] for one in close]


def _sheet_path(where: str | os.PathLike[str]) -> Path:
    """Return where a build's sheet lies."""
    path = Path(where)
    if path.suffix.lower() == ".toml" and not path.is_dir():
        return path
    return logbook_path(where).parent / SHEET_NAME


def _get(keys: dict[str, Any], table: str, key: str) -> object:
    """Return what a key of a table says, if both are there."""
    found = keys.get(table)
    return found.get(key) if isinstance(found, dict) else None


def _number(value: object) -> float | None:
    """Return a value of the sheet as a number above 0, if it is one."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not value > 0.0:
        return None
    return float(value) if math.isfinite(value) else None


def _names(keys: dict[str, Any], table: str, *, state: str | None = None) -> Iterator[str]:
    """Yield the names in an array of tables, of those in a state alone if one is given."""
    found = keys.get(table)
    for one in found if isinstance(found, list) else ():
        name = one.get("name") if isinstance(one, dict) else None
        if isinstance(name, str) and (state is None or one.get("state") == state):
            yield name


def _parts(keys: dict[str, Any]) -> Iterator[str]:
    """Yield the files of the bodies' parts."""
    bodies = keys.get("body")
    for body in bodies if isinstance(bodies, list) else ():
        parts = body.get("parts") if isinstance(body, dict) else None
        for part in parts if isinstance(parts, list) else ():
            file = part.get("file") if isinstance(part, dict) else part
            if isinstance(file, str):
                yield file


def _ledger_rows(header: list[str], rows: list[list[str]], first: int) -> Iterator[LedgerRow]:
    """Yield the rows below a ledger's header that name an item."""
    for number, cells in enumerate(rows, start=first):
        row = dict(zip(header, cells, strict=False))
        if row.get("item", "").strip():
            yield LedgerRow(
                number=number,
                item=" ".join(row["item"].split()),
                planned_g=_mass(row.get("planned_g", "")),
                weighed_g=_mass(row.get("weighed_g", "")),
            )


def _mass(cell: str) -> float | None:
    """Return the mass in a cell [g], if it is one."""
    try:
        return float(cell.strip().replace(",", "."))
    except ValueError:
        return None
