"""Mesh files of parts as a first sheet takes them: each object a part, in mm."""

import os
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal

import numpy as np

from hullcheck.answers.begin_records import FilePart
from hullcheck.errors import InputError
from hullcheck.files.begin_words import unlike
from hullcheck.files.bodies import whole_if_patches
from hullcheck.files.guard import clean_name
from hullcheck.files.mesh_file import MeshFile
from hullcheck.files.mesh_objects import named_objects
from hullcheck.files.meshes import read_mesh
from hullcheck.geometry.arrays import FloatArray, bounds
from hullcheck.geometry.topology import merged, unmatched_edges
from hullcheck.units import MM_PER_UNIT

_USUAL_MM: Final = (150.0, 3000.0)
"""Longest side of a model's assembly (common practice, no source)."""
_MOST_PARTS: Final = 200
_ENDING: Final = re.compile(r"\.(?:stl|obj|ply|off|3mf|glb|gltf|stp|step)$", re.IGNORECASE)
"""Slicers call an object by the file it came from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitFound:
    """The unit of files, and how it is known.

    Attributes
    ----------
    unit : str or None
        "mm", "cm", "m" or "inch"; None where each file states its own, or where it is not known.
    by : str
        "stated" (asked for), "files" (they state it), "assumed" or "unclear".
    longest : float
        Longest side of the box around all of them, in their own numbers.
    choices : tuple of str
        Units that would make it 150 to 3000 mm; where none does, all of them.
    """

    unit: str | None
    by: Literal["stated", "files", "assumed", "unclear"]
    longest: float
    choices: tuple[str, ...] = ()

    @property
    def question(self) -> str:
        """What there is to choose between, in words."""
        sizes = ", ".join(
            f"{_plain(self.longest * MM_PER_UNIT[unit])} mm if they are "
            f"{'inches' if unit == 'inch' else unit}"
            for unit in self.choices
        )
        return f"all files together are {_plain(self.longest)} long in their own numbers: {sizes}"


def read_files(
    paths: Sequence[str | os.PathLike[str]], *, progress: Callable[[str], None] | None = None
) -> tuple[MeshFile, ...]:
    """Return mesh files as read.

    Raises
    ------
    MissingFileError, MeshFileError
        If a file is not there or not what it claims to be.
    InputError
        If one is named twice, or there are over 200.
    """
    tell = progress or (lambda _: None)
    if len(paths) > _MOST_PARTS:
        raise InputError(f"{len(paths)} mesh files; {_MOST_PARTS} at most make a craft")
    real = [os.path.realpath(path) for path in paths]
    for number, path in enumerate(paths):
        if real[number] in real[:number]:
            raise InputError(f"{os.fspath(path)}: is named twice; name each part once")
    files = []
    for path in paths:
        tell(f"reading {os.fspath(path)}")
        files.append(read_mesh(path))
    return tuple(files)


def unit_found(files: Sequence[MeshFile], stated: str | None) -> UnitFound:
    """Return the unit of files: as stated, as they say, or mm or m where the size tells them apart.

    Parameters
    ----------
    files : sequence of MeshFile
    stated : str or None
        What the user says.

    Notes
    -----
    The longest side of a model is 150 to 3000 mm. That tells mm from m; where mm does not fit, cm
    and inches do not tell themselves apart, and the unit is unclear.
    """
    unsaid = [file for file in files if file.unit is None]
    said = {file.unit: file for file in files if file.unit is not None}
    longest, most_of = _longest(files)
    if stated is not None:
        return UnitFound(unit=stated, by="stated", longest=longest)
    if not unsaid:
        own = next(iter(said)) if len(said) == 1 else None
        return UnitFound(unit=own, by="files", longest=longest)
    fitting = tuple(
        unit
        for unit, mm in MM_PER_UNIT.items()
        if most_of * mm >= _USUAL_MM[0] and longest * mm <= _USUAL_MM[1]
    )
    # What fits as mm is mm, though cm may fit too; as m nothing else fits.
    likely = tuple(said) if said else ("mm",) if "mm" in fitting else ("m",)
    if len(likely) == 1 and likely[0] in fitting:
        return UnitFound(unit=likely[0], by="assumed", longest=longest, choices=fitting)
    choices = fitting or tuple(MM_PER_UNIT)
    return UnitFound(unit=None, by="unclear", longest=longest, choices=choices)


def parts_of(
    files: Sequence[MeshFile], unit: str | None
) -> tuple[tuple[FilePart, ...], tuple[str, ...]]:
    """Return files as parts in mm, their own axes kept, and what is to be said of them.

    Parameters
    ----------
    files : sequence of MeshFile
        A file of several objects is a part for each, unless they are open patches of one surface.
    unit : str or None
        The unit of all; None leaves it to each file.

    Raises
    ------
    InputError
        If they are over 200.
    """
    notes: list[str] = []
    parts: list[FilePart] = []
    taken: list[str] = []
    for number, file in enumerate(files, start=1):
        own = unit or file.unit or "mm"
        if file.unit is not None and own != file.unit:
            notes.append(f"{file.name}: unit {own} as asked, though {file.kind} says {file.unit}")
        notes += [f"{file.name}: left out {what}" for what in file.left_out]
        stem = clean_name(Path(file.name).stem.replace("_", " ")).strip() or f"part {number}"
        found = _parts_in(file, MM_PER_UNIT[own], notes)
        if len(parts) + len(found) > _MOST_PARTS:
            raise InputError(
                f"{file.name}: holds {len(found)} objects; {_MOST_PARTS} parts at most make a craft"
            )
        for called, title, triangles in found:
            name = unlike(title or stem, taken)
            parts.append(FilePart(file=file.name, object=called, name=name, triangles_mm=triangles))
    return tuple(parts), tuple(notes)


def own_axes(files: Sequence[MeshFile]) -> tuple[str | None, str | None]:
    """Return the forward and up axes that all files state, None where they state none.

    Raises
    ------
    InputError
        If files of a format with axes of its own stand beside others.
    """
    found = {(file.forward, file.up) for file in files}
    if len(found) > 1:
        named = next(file for file in files if file.up is not None)
        raise InputError(
            f"{named.name}: {named.kind} has axes of its own ({named.forward} forward, {named.up} "
            "up) and the other files have none: export all in one format, or say --forward and --up"
        )
    return found.pop()


def _parts_in(file: MeshFile, mm: float, notes: list[str]) -> list[tuple[str, str, FloatArray]]:
    """Return a file's parts: the object, "" for all of the file, its plain name, triangles [mm]."""
    objects = [
        (part.name, part.triangles if mm == 1.0 else part.triangles * mm)
        for part in named_objects(file)
    ]
    coded: list[tuple[str, str]] = []
    if len(whole := whole_if_patches(file, objects, coded)) == 1:
        notes += [message for _, message in coded]
        return [("", "", triangles) for _, triangles in whole]
    if _share_rims([mesh for _, mesh in objects]):
        notes.append(f"{file.name}: its {len(objects)} objects share their rims; read as one part")
        return [("", "", np.concatenate([mesh for _, mesh in objects]))]
    titles = [
        _ENDING.sub("", part.name or name).replace("_", " ").strip()
        for part, (name, _) in zip(file.parts, objects, strict=True)
    ]
    return [(n, title, mesh) for (n, mesh), title in zip(objects, titles, strict=True)]


def _share_rims(objects: Sequence[FloatArray]) -> bool:
    """Return whether objects are open patches that leave less than half of their rims together."""
    rims = sum(len(unmatched_edges(merged(mesh))) for mesh in objects)
    return 2 * len(unmatched_edges(merged(np.concatenate(objects)))) < rims


def _longest(files: Sequence[MeshFile]) -> tuple[float, float]:
    """Return the longest side of the box around all files, and how long they may be end to end.

    Parts that lie on top of each other, each in its own print axes, make a longer craft than the
    box around them: as many times longer as their own boxes fill it.
    """
    boxes = [
        (
            np.min([bounds(part.triangles)[0] for part in file.parts], axis=0),
            np.max([bounds(part.triangles)[1] for part in file.parts], axis=0),
        )
        for file in files
    ]
    size = np.max([b[1] for b in boxes], axis=0) - np.min([b[0] for b in boxes], axis=0)
    longest, room = float(size.max()), float(np.prod(size))
    filled = sum(float(np.prod(high - low)) for low, high in boxes)
    return longest, longest * max(1.0, filled / room if room > 0.0 else 1.0)


def _plain(value: float) -> str:
    """Return a length without an exponent: whole from 100, three figures below."""
    return f"{value:.0f}" if value >= 100.0 else f"{value:.3g}"
