"""A build from its folder: sheet, ledger, meshes and offsets, checked against each other."""

import os
from collections.abc import Callable
from functools import partial

from hullcheck.craft.build import Build
from hullcheck.craft.found_openings import with_found
from hullcheck.craft.ledger import Ledger
from hullcheck.files.ledger_file import read_ledger
from hullcheck.files.sheet import LEDGER_NAME, SheetFile, read_sheet
from hullcheck.files.sheet_bodies import sheet_bodies
from hullcheck.files.sheet_fittings import fittings_of, point
from hullcheck.files.sheet_records import (
    cg_range_of,
    check_names,
    limits_of,
    openings_of,
    setups_of,
    water_of,
)


def load(
    path: str | os.PathLike[str] = ".", *, progress: Callable[[str], None] | None = None
) -> Build:
    """Return a build: its bodies in body axes [mm], ledger [g], openings, limits and setups.

    Parameters
    ----------
    path : str or path, default "."
        The build sheet, or the folder that holds it as build.toml. The ledger is weights.csv in the
        same folder; all other files are named in the sheet, relative to it. Outer skins that had
        to be put together are kept beside it in .hullcheck, which may be deleted at any time.
    progress : callable, optional
        Told what is being worked on, in words.

    Returns
    -------
    Build
        `Build.craft` makes it ready to be floated.

    Raises
    ------
    MissingFileError
        If a file that is named is not there.
    InputError
        If a key, a cell or a name makes no sense; with file, line or row, key or column.
    MeshFileError, SurfaceError
        If a mesh cannot be read, or does not enclose a volume.

    Examples
    --------
    >>> import hullcheck
    >>> build = hullcheck.load("examples/twin-floats")
    >>> answer = hullcheck.float_answer(build.craft())
    >>> answer.rest
    'upright'
    """
    tell = progress or (lambda _: None)
    sheet = read_sheet(path)
    check_names(sheet)
    notes: list[tuple[str, str]] = []
    ledger = _ledger(sheet, notes)
    listed = openings_of(sheet)
    fittings = fittings_of(sheet, ledger)
    limits, water, cg_range = limits_of(sheet), water_of(sheet), cg_range_of(sheet)
    found = sheet_bodies(sheet, fittings.lids, notes, tell)
    openings, skins = with_found(listed, found.skins, fittings.lids)
    setups = setups_of(sheet, ledger, openings)
    craft = sheet.keys.craft
    make = partial(
        Build,
        name=craft.name,
        bodies=found.bodies,
        water=water,
        ledger=ledger,
        mass_g=craft.mass_g,
        center_of_gravity_mm=None if craft.cg_mm is None else point(craft.cg_mm),
        target_mass_g=craft.target_mass_g,
        cg_range_mm=cg_range,
        openings=openings,
        limits=limits,
        fittings=fittings,
        structures=found.structures,
        setups=setups,
        notes=tuple(notes),
        skins=skins,
    )
    return sheet.kept((), make)


def _ledger(sheet: SheetFile, notes: list[tuple[str, str]]) -> Ledger:
    """Return the ledger beside a sheet; an empty one where there is none."""
    path = sheet.folder / LEDGER_NAME
    if not os.path.lexists(path):
        return Ledger()
    ledger, said = read_ledger(path)
    notes += said
    return ledger
