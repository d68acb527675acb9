"""Pieces of a first build sheet as TOML: numbers, points, comments, files and their places."""

import textwrap
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from hullcheck.answers.begin_records import Begun, FilePart
from hullcheck.files.first_build import path_from, quoted
from hullcheck.files.guard import clean_name
from hullcheck.geometry.arrays import FloatArray

_WIDTH: Final = 100
_COLUMN: Final = 37
"""Where comments behind a value begin, as in the rest of the sheet."""


def number(value: float) -> str:
    """Return a length or a coordinate to a hundredth of a millimeter."""
    return f"{round(value, 2) + 0.0:g}" if abs(value) < 1e4 else f"{value:.0f}"


def point(values: Sequence[float] | FloatArray) -> str:
    """Return a point."""
    return f"[{', '.join(number(float(value)) for value in values)}]"


def line_of_text(text: str) -> str:
    """Return a text on one line, without characters that do not print."""
    return "".join(char for char in " ".join(text.split()) if char.isprintable())


def comment(text: str) -> str:
    """Return a text as comment lines."""
    return "".join(f"# {line}\n" for line in textwrap.wrap(line_of_text(text), _WIDTH - 2))


def with_remark(line: str, remark: str) -> str:
    """Return a line with a remark behind it."""
    return f"{line.ljust(_COLUMN - 1)} # {line_of_text(remark)}\n"


def source_of(part: FilePart, folder: Path) -> str:
    """Return a part without a place: its file, or a table of file and object."""
    file = path_from(part.file, folder)
    return f"{{ file = {file}, object = {quoted(part.object)} }}" if part.object else file


def placed_part(part: FilePart, folder: Path, place: FloatArray | None) -> str:
    """Return a part with its place as an inline table; zeros to fill in where it has none."""
    if place is None:
        where = "at_mm = [0, 0, 0], turn_deg = [0, 0, 0]"
    else:
        rows = (
            f"[{', '.join(f'{round(v, 7) + 0.0:.10g}' for v in row.tolist())}]" for row in place
        )
        where = f"place = [{', '.join(rows)}]"
    source = f"file = {path_from(part.file, folder)}"
    if part.object:
        source += f", object = {quoted(part.object)}"
    return f"{{ {source}, {where} }}"


def unlike(name: str, taken: list[str]) -> str:
    """Return a name that is not taken yet, numbered if need be, and take it."""
    plain = clean_name(name)[:110].strip() or "unnamed"
    found, count = plain, 1
    while found.casefold() in (other.casefold() for other in taken):
        count += 1
        found = f"{plain} {count}"
    taken.append(found)
    return found


def left_out_lines(begun: Begun, parts: Sequence[int], folder: Path) -> list[tuple[str, str]]:
    """Return the files or objects that are left out beside some parts, and why."""
    return [
        (source_of(begun.parts[v.part], folder), v.why) for v in begun.left_out if v.used in parts
    ]
