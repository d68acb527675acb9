"""A first build folder to fill in: sheet and ledger, and a form for offsets with an example."""

import csv
import io
import json
import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final
from unicodedata import category

from hullcheck.errors import InputError
from hullcheck.files.atomic import write_new_bytes
from hullcheck.files.guard import clean_name, shown
from hullcheck.files.ledger_file import LEDGER_COLUMNS
from hullcheck.files.sheet import LEDGER_NAME, SHEET_NAME

EXAMPLE_OFFSETS: Final = """\
station_mm,line,half_breadth_mm,height_mm
0,keel,0,60
0,chine,0,60
0,deck edge,0,60
0,deck center,0,60
60,keel,0,24
60,chine,28,44
60,deck edge,33,64
60,deck center,0,74
150,keel,0,7
150,chine,47,25
150,deck edge,49,66
150,deck center,0,82
250,keel,0,0
250,keel,0,11
250,chine,52,15
250,chine,52,26
250,deck edge,52,66
250,deck center,0,84
360,keel,0,20
360,chine,45,33
360,deck edge,45,68
360,deck center,0,82
470,keel,0,29
470,chine,27,37
470,deck edge,27,70
470,deck center,0,80
"""
"""A hull of six stations, invented; two rows of a line at one station are the step."""

_ITEMS: Final = (
    ("wing", "wing"),
    ("tail", "tail"),
    ("motor and propeller", "drive"),
    ("battery", "drive"),
    ("receiver and controller", "electrics"),
    ("servos and pushrods", "electrics"),
    ("glue and sealing coat", "finish"),
    ("paint", "finish"),
)
"""Rows of a first ledger below those of the bodies: item and group."""

_SHEET: Final = """\
# A first build sheet: put in her own values, take away what does not hold. Lengths in mm, masses in
# g, angles in degrees; places in body axes: x aft from the datum, y to starboard, z up.

[craft]
name = {name}
# target_mass_g = 700                # what she was meant to weigh
# cg_range_mm = [240, 255]           # stations her CG must lie between to fly
# mass_g = 712                       # measured all-up mass and CG; they override weights.csv
# cg_mm = [248, 0, 45]

[water]
kind = "fresh"                       # or "sea"; or density_kg_m3 = 1000
temperature_c = 15
{axes}
{bodies}
# A part that does not lie in its place, and its twin on the other side. A twin copies the body
# only: list openings and weights for both.
# [[body]]
# name = "starboard float"
# role = "tip float"                 # hull, main float, tip float, sponson, wing, other
# parts = [{{ file = "float.stl", at_mm = [240, 420, 30] }}]
# mirror = "port float"

# [[opening]]                        # where water can come in: one each, the lowest edge counts
# name = "canopy edge"
# kind = "canopy"                    # canopy, hatch, wing seat, pushrod, screw, motor, vent, drain
# state = "taped"                    # open, taped, sealed
# points_mm = [[150, 40, 62], [190, 42, 62], [190, -42, 62], [150, -40, 62]]

# [[setup]]                          # another way she may be
# name = "heavy battery at the sea"
# add = {{ battery = 60 }}
# water = "sea"

# [limits]                           # hullcheck float then says how many grams are left
# freeboard_mm = 15
# trim_deg = [0, 4]
# heel_deg = 3
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstItem:
    """A row of a first ledger: planned mass [g] and place [mm] where they are guessed, and why."""

    name: str
    group: str
    planned_g: float | None = None
    center_mm: tuple[float, float, float] | None = None
    note: str = ""


def check_free(sheet: str | os.PathLike[str]) -> tuple[Path, Path]:
    """Return where a sheet and its ledger go.

    Raises
    ------
    InputError
        If either is there already: nothing is overwritten.
    """
    folder = folder_of(sheet)
    path = folder / SHEET_NAME if Path(sheet).is_dir() else Path(sheet)
    ledger = folder / LEDGER_NAME
    for one in (path, ledger):
        if os.path.lexists(one):
            raise InputError(
                f"{one}: is there already and is not overwritten; move it away, or name another "
                "sheet in another folder with -o"
            )
    return path, ledger


def write_first_build(
    sheet: str | os.PathLike[str],
    *,
    name: str,
    bodies: str,
    axes: str = "",
    items: Sequence[FirstItem],
) -> tuple[Path, ...]:
    """Write a first build sheet and, beside it, a ledger with blank rows; return their paths.

    Parameters
    ----------
    sheet : str or path
        The sheet to write; its folder must be there.
    name : str
        What she is called.
    bodies, axes : str
        What floats her and how mesh files lie, as TOML.
    items : sequence of FirstItem
        First rows of the ledger.

    Raises
    ------
    InputError
        If either file is there already: nothing is overwritten, and then nothing is written.
    """
    path, ledger = check_free(sheet)
    text = _SHEET.format(
        name=quoted(clean_name(name).strip() or "my seaplane"), axes=axes, bodies=bodies
    )
    write_new_bytes(path, text.encode())
    write_new_bytes(ledger, _ledger(items).encode())
    return path, ledger


def write_offsets_build(
    sheet: str | os.PathLike[str], form: str | os.PathLike[str], *, name: str
) -> tuple[tuple[Path, ...], bool]:
    """Write a first build of a hull from offsets, and the form with its example if it is not there.

    Returns
    -------
    tuple of Path
        What was written.
    bool
        Whether the form is new and holds the example.

    Raises
    ------
    InputError
        If the sheet or the ledger is there already; nothing is written then.
    """
    new = not os.path.lexists(form)
    hull = body_text("hull", "hull", f"offsets = {path_from(form, folder_of(sheet))}")
    # The form before the sheet: a folder that is not there must not leave half a build.
    check_free(sheet)
    if new:
        write_new_bytes(form, EXAMPLE_OFFSETS.encode())
    written = write_first_build(
        sheet, name=name, bodies=hull, items=[FirstItem(name="hull", group="hull")]
    )
    return (*written, Path(form)) if new else written, new


def name_for(sheet: str | os.PathLike[str]) -> str:
    """Return what a craft is called after the folder of her sheet."""
    name = folder_of(sheet).resolve().name
    return " ".join(name.replace("-", " ").replace("_", " ").split()) or "my seaplane"


def folder_of(sheet: str | os.PathLike[str]) -> Path:
    """Return the folder a sheet lies in; a folder stands for the sheet in it."""
    return Path(sheet) if Path(sheet).is_dir() else Path(sheet).parent


def path_from(file: str | os.PathLike[str], folder: Path) -> str:
    """Return a file's path as a sheet in a folder names it, in quotes.

    Raises
    ------
    InputError
        If no sheet can hold its name.
    """
    if any(category(char) in {"Cc", "Cs"} for char in os.fspath(file)):
        raise InputError(f"{shown(Path(file).name)}: its name holds a control character; rename it")
    # Links are followed up to the folders: ".." of a linked folder is that of its target.
    own = Path(os.path.realpath(Path(file).parent)) / Path(file).name
    return quoted(os.path.relpath(own, os.path.realpath(folder)).replace(os.sep, "/"))


def quoted(text: str) -> str:
    """Return a text as TOML writes it."""
    # JSON's escapes are TOML's, but for the one control character that JSON leaves as it is.
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def body_text(name: str, role: str, source: str) -> str:
    """Return a [[body]] of a sheet; its source is TOML that says what it is made of."""
    return f'[[body]]\nname = {quoted(name)}\nrole = "{role}"\n{source}\n'


def _ledger(items: Sequence[FirstItem]) -> str:
    """Return a ledger with blank rows; an item that is named like another stands there once."""
    page = io.StringIO()
    rows = csv.DictWriter(page, LEDGER_COLUMNS, restval="", lineterminator="\n")
    rows.writeheader()
    there: set[str] = set()
    for item in (*items, *(FirstItem(name=name, group=group) for name, group in _ITEMS)):
        if item.name.casefold() in there:
            continue
        there.add(item.name.casefold())
        row = {"item": item.name, "group": item.group, "note": item.note}
        if item.planned_g is not None:
            row["planned_g"] = f"{item.planned_g:.1f}"
        if item.center_mm is not None:
            values = (f"{round(value, 1) + 0.0:.1f}" for value in item.center_mm)
            row |= dict(zip(("x_mm", "y_mm", "z_mm"), values, strict=True))
        rows.writerow(row)
    return page.getvalue()
