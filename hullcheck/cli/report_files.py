"""What the report was made from: every file with the hash of its bytes, and the versions."""

import hashlib
import importlib.metadata
import os
import platform
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from hullcheck import __version__
from hullcheck.cli.inputs import Notes
from hullcheck.errors import InputError
from hullcheck.files.logbook import logbook_path
from hullcheck.files.sheet import LEDGER_NAME, SheetFile, read_sheet, sheet_path
from hullcheck.report.page_records import NamedFile

_LIBRARIES: Final = ("numpy", "scipy", "manifold3d", "shapely", "matplotlib", "Jinja2")


def named_files(build: str) -> tuple[NamedFile, ...]:
    """Return the files of a build with the SHA-256 of each, in the order they are read.

    Parameters
    ----------
    build : str
        The build's folder, or its build sheet.

    Raises
    ------
    InputError
        If one cannot be read.
    """
    sheet = read_sheet(build)
    found = {sheet.path: (sheet.path.name, "build sheet")}
    for name, what in ((LEDGER_NAME, "ledger"), (logbook_path(build).name, "logbook")):
        path = sheet.folder / name
        if os.path.lexists(path):
            found.setdefault(path, (name, what))
    for name, what in _of_bodies(sheet):
        found.setdefault(sheet.folder / name, (name, what))
    return tuple(_named(path, name, what) for path, (name, what) in found.items())


def without_folder(notes: Notes, build: str) -> Notes:
    """Return notes of reading with files named as the sheet names them.

    The page then says nothing of the folders of a machine, and is the same wherever she is read
    from.
    """
    parent = sheet_path(build).parent
    if parent == Path():
        return notes
    folder = re.compile(rf"(?<![\w./\\-]){re.escape(f'{parent}{os.sep}')}")
    return tuple((code, folder.sub("", message)) for code, message in notes)


def versions() -> tuple[tuple[str, str], ...]:
    """Return the versions of this program, Python, and the libraries that the page rests on."""
    libraries = ((name, importlib.metadata.version(name)) for name in _LIBRARIES)
    return (("hullcheck", __version__), ("Python", platform.python_version()), *libraries)


def _of_bodies(sheet: SheetFile) -> Iterator[tuple[str, str]]:
    """Yield the files that a sheet's bodies are made of."""
    for body in sheet.keys.body:
        for part in body.parts or ():
            yield part.file, "mesh"
        if body.offsets is not None:
            yield body.offsets.file, "offsets"


def _named(path: Path, name: str, what: str) -> NamedFile:
    """Return a file with the hash of its bytes."""
    try:
        with path.open("rb") as stream:
            digest = hashlib.file_digest(stream, "sha256").hexdigest()
            size = os.fstat(stream.fileno()).st_size
    except OSError as problem:
        raise InputError(
            f"{path}: cannot be read ({problem.strerror}); check its rights"
        ) from problem
    return NamedFile(name=name, what=what, sha256=digest, size_bytes=size)
