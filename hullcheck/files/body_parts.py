"""The parts of a build sheet's bodies: files beside the sheet, read and placed in body axes."""

import os
import re
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Final

import numpy as np

from hullcheck.errors import MissingFileError
from hullcheck.files.bodies import whole_if_patches
from hullcheck.files.mesh_file import MeshFile
from hullcheck.files.mesh_objects import no_object_words, object_of
from hullcheck.files.meshes import read_mesh
from hullcheck.files.placement import Placement, placed
from hullcheck.files.reading import Reading, in_body_axes
from hullcheck.files.sheet import SheetFile, place
from hullcheck.files.sheet_model import OffsetsKeys, PartKeys
from hullcheck.files.sheet_words import nearest
from hullcheck.files.toml_lines import Path as KeyPath
from hullcheck.geometry.arrays import FloatArray, bounds
from hullcheck.geometry.frames import body_rotation, turned

Notes = list[tuple[str, str]]
Tell = Callable[[str], None]
_IDENTITY: Final = np.eye(3)

_COMMENTED: Final = re.compile(r"^#\s*parts\s*=\s*\[", re.MULTILINE)
"""A list of parts that begin suggested and nobody has accepted yet."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BodyParts:
    """The parts of one [[body]], placed.

    Attributes
    ----------
    pieces : tuple of (str, ndarray of shape (n, 3, 3))
        File, with the object where one is named, and triangles in body axes [mm].
    units : tuple of str
        Unit each file was read in.
    """

    pieces: tuple[tuple[str, FloatArray], ...]
    units: tuple[str, ...]

    @property
    def box_mm(self) -> tuple[FloatArray, FloatArray]:
        """Corners of the box around all of them [mm]."""
        boxes = [bounds(triangles) for _, triangles in self.pieces]
        return np.min([low for low, _ in boxes], axis=0), np.max(
            [high for _, high in boxes], axis=0
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetReading(Reading):
    """How the files of a sheet lie, and those read so far that it names more than once.

    Attributes
    ----------
    again : frozenset of str
        Files that several parts are of, as the sheet names them: each is read once.
    files : dict
        Those of them that were read.
    """

    again: frozenset[str] = frozenset()
    files: dict[str, MeshFile] = field(default_factory=dict, repr=False, compare=False)

    def read(self, path: Path, called: str) -> MeshFile:
        """Return a file as read, from the disk the first time alone."""
        one = os.path.normpath(called)
        if one not in self.again:
            return read_mesh(path)
        if one not in self.files:
            self.files[one] = read_mesh(path)
        return self.files[one]


def reading_of(sheet: SheetFile) -> SheetReading:
    """Return how the sheet says the files lie."""
    axes = sheet.keys.axes
    forward, up = axes.forward, axes.up
    if forward is not None and up is not None:
        sheet.kept(("axes", "up"), lambda: body_rotation(forward=forward, up=up))
    parts = (part for body in sheet.keys.body for part in body.parts or ())
    named = Counter(os.path.normpath(part.file) for part in parts)
    again = frozenset(file for file, count in named.items() if count > 1)
    return SheetReading(unit=axes.unit, forward=forward, up=up, again=again)


def read_parts(
    sheet: SheetFile, index: int, reading: SheetReading, notes: Notes, tell: Tell
) -> BodyParts:
    """Return the parts of a sheet's body, placed as it says.

    Parameters
    ----------
    sheet : SheetFile
        The sheet.
    index : int
        Which body.
    reading : SheetReading
        From `reading_of`.
    notes : list of (str, str)
        What was assumed is added to it.
    tell : callable
        Told what is being worked on.

    Raises
    ------
    MissingFileError, MeshFileError, InputError
        If a file is not there or not what it claims to be, or is placed impossibly.
    """
    keys = sheet.keys.body[index]
    if keys.parts is None:
        why = "has neither parts nor offsets; give it one of them"
        if _COMMENTED.search(sheet.path.read_text(encoding="utf-8", errors="replace")):
            why = (
                "has its parts commented out: look at the places that were suggested, then take "
                "the # away from them"
            )
        raise sheet.refused(("body", index), f'"{keys.name}" {why}')
    pieces, units = [], []
    for number, part in enumerate(keys.parts):
        called = part.file if part.object is None else f'{part.file} "{part.object}"'
        tell(f"reading {called}")
        said: Notes = []
        triangles, unit = _placed_part(sheet, (index, number), part, reading, said)
        # What holds for a file is said once, however many parts are of it.
        notes += [note for note in said if note not in notes]
        pieces.append((called, triangles))
        units.append(unit)
    return BodyParts(pieces=tuple(pieces), units=tuple(units))


def turned_and_moved(triangles: FloatArray, keys: PartKeys | OffsetsKeys) -> FloatArray:
    """Return triangles turned about body x, y, z and then moved."""
    map_ = Placement(
        linear=turned(keys.turn_deg).T if keys.turn_deg is not None else _IDENTITY,
        offset=np.array(keys.at_mm or (0.0, 0.0, 0.0), dtype=np.float64),
    )
    return placed(triangles, map_, str(keys.file), "the part")


def beside(sheet: SheetFile, key: KeyPath, file: str) -> Path:
    """Return a file's path, relative to the sheet; refused with the nearest if it is not there."""
    path = sheet.folder / file
    if os.path.lexists(path):
        return path
    try:
        others = sorted(one.name for one in path.parent.iterdir())
    except OSError:
        others = []
    hint = nearest(path.name, others) or "check the name and the folder"
    raise MissingFileError(
        f"{place(sheet.path, sheet.lines, key)}: {path}: there is no such file; {hint}"
    )


def _placed_part(
    sheet: SheetFile, where: tuple[int, int], part: PartKeys, reading: SheetReading, notes: Notes
) -> tuple[FloatArray, str]:
    """Return a part's triangles in body axes, placed as the sheet says, and its file's unit."""
    path = ("body", where[0], "parts", where[1])
    if part.place is not None and (part.at_mm is not None or part.turn_deg is not None):
        raise sheet.refused((*path, "place"), "stands beside at_mm or turn_deg; keep one of them")
    file = _file_of(sheet, path, part, reading)
    unit = reading.unit or file.unit or "mm"
    if part.place is not None:
        as_filed = Reading(unit=reading.unit, forward="-x", up="+z")
        pieces = in_body_axes(replace(file, forward=None, up=None), as_filed, notes)
        whole = np.concatenate([t for _, t in whole_if_patches(file, pieces, notes)])
        return placed(whole, _map_of(sheet, path, part.place), str(part.file), "the part"), unit
    axis = ("axes", "up" if reading.up is not None else "forward")
    pieces = sheet.kept(axis, lambda: in_body_axes(file, reading, notes))
    whole = np.concatenate([t for _, t in whole_if_patches(file, pieces, notes)])
    if part.at_mm is not None or part.turn_deg is not None:
        return turned_and_moved(whole, part), unit
    datum = sheet.keys.axes.datum_mm
    if datum is None or not any(datum):
        return whole, unit
    forward = reading.forward or file.forward or "-x"
    rotation = body_rotation(forward=forward, up=reading.up or file.up or "+z")
    return whole - rotation @ np.array(datum), unit


def _file_of(sheet: SheetFile, path: KeyPath, part: PartKeys, reading: SheetReading) -> MeshFile:
    """Return the file of a part, with one object alone where the part names it."""
    file = reading.read(beside(sheet, (*path, "file"), part.file), part.file)
    if part.object is None:
        return file
    found = object_of(file, part.object)
    if found is None:
        raise sheet.refused((*path, "object"), no_object_words(file, part.object, part.file))
    return found


def _map_of(sheet: SheetFile, path: KeyPath, rows: list[list[float]]) -> Placement:
    """Return the map that a 4 × 4 stands for; refused where it stretches."""
    matrix = np.array(rows)
    if not np.array_equal(matrix[3], (0.0, 0.0, 0.0, 1.0)):
        raise sheet.refused((*path, "place"), f"its last row is {rows[3]} and not 0, 0, 0, 1")
    map_ = Placement(linear=matrix[:3, :3].T, offset=matrix[:3, 3])
    stretch = np.linalg.svd(map_.linear, compute_uv=False)
    if np.abs(stretch - 1.0).max() > 1e-4:
        raise sheet.refused(
            (*path, "place"),
            f"stretches the part by {stretch.min():.5g} to {stretch.max():.5g}; a placement "
            "turns, mirrors and moves only",
        )
    return map_
