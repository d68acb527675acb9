"""A build sheet as read from disk: its keys, and the line each stands in for refusals."""

import os
import tomllib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final, TypeVar

from hullcheck.errors import InputError, MissingFileError
from hullcheck.files.plain_file import FileKind, plain_bytes
from hullcheck.files.sheet_words import key_text, nearest, problem_words, syntax_words, value_text
from hullcheck.files.toml_lines import Path as KeyPath
from hullcheck.files.toml_lines import key_lines

if TYPE_CHECKING:
    from pydantic import ValidationError

    from hullcheck.files.sheet_model import SheetKeys

Made = TypeVar("Made")

SHEET_NAME: Final = "build.toml"
LEDGER_NAME: Final = "weights.csv"
_KIND: Final = FileKind(
    called="build sheet",
    limit_bytes=1 << 22,
    too_large="and a build sheet has {limit} at most; name the sheet, and mesh files with --mass",
    refusal=InputError,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetFile:
    """A build sheet.

    Attributes
    ----------
    path : Path
        Where it is; the files it names are relative to its folder.
    keys : SheetKeys
        What it says, checked key by key.
    lines : dict
        Line of each key path.
    """

    path: Path
    keys: "SheetKeys"
    lines: dict[KeyPath, int]

    @property
    def folder(self) -> Path:
        """The folder it lies in."""
        return self.path.parent

    def refused(self, key: KeyPath, what: str) -> InputError:
        """Return the refusal of a key: where it stands and what is wrong."""
        return InputError(f"{place(self.path, self.lines, key)}: {what}")

    def check_known(self, key: KeyPath, name: str, names: Sequence[str], what: str) -> None:
        """Refuse a name that stands for nothing, with the nearest that does."""
        if name in names:
            return
        hint = nearest(name, names)
        if not hint:
            ledger = f"there is no {LEDGER_NAME} beside the sheet" if "ledger" in what else ""
            hint = f"known: {', '.join(names[:12])}" if names else ledger or "there is none"
        raise self.refused(key, f"{value_text(name)} is no {what}; {hint}")

    def kept(self, key: KeyPath, make: Callable[[], Made]) -> Made:
        """Return what is made; its refusal is told with its place in the sheet."""
        try:
            return make()
        except InputError as problem:
            raise self.refused(key, str(problem)) from problem


def sheet_path(build: str | os.PathLike[str]) -> Path:
    """Return the build sheet a user means: the file named, or the one in the folder named.

    Raises
    ------
    MissingFileError
        If there is none.
    """
    path = Path(build)
    if path.is_dir():
        path = path / SHEET_NAME
        if not path.is_file():
            others = ", ".join(sorted(one.name for one in path.parent.glob("*.toml")))
            there = f", though {others}" if others else ""
            raise MissingFileError(
                f"{path}: there is no build sheet{there}; name one, name mesh files with --mass, "
                "or write a first one: hullcheck begin MESH..., or hullcheck begin --offsets "
                "hull.csv"
            )
    return path


def read_sheet(build: str | os.PathLike[str]) -> SheetFile:
    """Return a build sheet, its keys checked.

    Parameters
    ----------
    build : str or path
        The sheet, or the folder it lies in as build.toml.

    Returns
    -------
    SheetFile

    Raises
    ------
    MissingFileError
        If it is not there.
    InputError
        If it is no TOML, or a key is unknown, of the wrong type or impossible; with line, key and
        the nearest right key.
    """
    from pydantic import ValidationError

    from hullcheck.files.sheet_model import SheetKeys

    path = sheet_path(build)
    text = _text_of(path)
    try:
        document, lines = tomllib.loads(text), key_lines(text)
    except tomllib.TOMLDecodeError as problem:
        raise InputError(f"{path} {syntax_words(text, problem)}") from problem
    except ValueError as problem:
        # Python reads no number of more digits than these; where it stands is not told.
        raise InputError(f"{path}: holds a number of over 4300 digits; shorten it") from problem
    except RecursionError as problem:
        raise InputError(
            f"{path}: lists or tables lie too deep in each other; no key needs more than three"
        ) from problem
    try:
        keys = SheetKeys.model_validate(document)
    except ValidationError as problem:
        raise _refusal(path, lines, problem) from problem
    return SheetFile(path=path, keys=keys, lines=lines)


def place(path: Path, lines: dict[KeyPath, int], key: KeyPath) -> str:
    """Return where a key stands: file, line and key; the nearest line where it has none."""
    known = next((key[:n] for n in range(len(key), 0, -1) if key[:n] in lines), None)
    if known is None and (*key, 0) in lines:
        # A table of many stands in no line of its own, its first one does.
        known = (*key, 0)
    line = f" line {lines[known]}" if known else ""
    return f"{path}{line}, {key_text(key)}" if key else str(path)


def _text_of(path: Path) -> str:
    """Return the sheet's text; UTF-8, a byte-order mark is dropped."""
    data = plain_bytes(path, _KIND)
    try:
        # TOML has line feeds only within its own rules; tomllib takes CRLF, the line count too.
        return data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as problem:
        line = data.count(b"\n", 0, problem.start) + 1
        raise InputError(
            f"{path} line {line}: is not UTF-8 text; save the build sheet as UTF-8 from a text "
            "editor"
        ) from problem


def _refusal(path: Path, lines: dict[KeyPath, int], problem: "ValidationError") -> InputError:
    """Return what is wrong with a document's keys, the first in the file first.

    What lacks comes last: it may be there, misspelt.
    """
    found = sorted(
        problem.errors(include_url=False),
        key=lambda e: (e["type"] == "missing", _line(lines, tuple(e["loc"]))),
    )
    first = found[0]
    key = tuple(first["loc"])
    more = f" ({len(found) - 1} more after it)" if len(found) > 1 else ""
    said = problem_words(key, first)
    return InputError(f"{place(path, lines, key)}: {said}{more}")


def _line(lines: dict[KeyPath, int], key: KeyPath) -> int:
    """Return the line of a key or of the nearest table around it."""
    return next((lines[key[:n]] for n in range(len(key), 0, -1) if key[:n] in lines), 0)
