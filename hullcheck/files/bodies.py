"""From mesh files to named bodies in body axes."""

import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np

from hullcheck.craft.bodies import Body, guessed_roles
from hullcheck.errors import InputError, SurfaceError
from hullcheck.files.mesh_file import MeshFile
from hullcheck.files.meshes import read_mesh
from hullcheck.geometry.arrays import FloatArray, bounds
from hullcheck.geometry.frames import axis_name, body_rotation
from hullcheck.geometry.rims import OpenSurfaceError, flat_ends_meet, rims_touch
from hullcheck.geometry.shells import Shell, Shells, outer_shells
from hullcheck.geometry.topology import edges_match, merged
from hullcheck.geometry.unite import overlapping, united
from hullcheck.units import MM_PER_UNIT

_USUAL_MM: Final = (150.0, 3000.0)
"""Longest side of a model's assembly (common practice, no source)."""
_ONE_HULL = (
    "hullcheck takes the outer skin as closed meshes: join the parts in the CAD program, close "
    "their openings and export the skin"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """How files are to be read; None leaves it to the file, else to what is usual.

    Attributes
    ----------
    unit : str or None
        "mm", "cm", "m" or "inch".
    forward, up : str or None
        File axes that point to the bow and to the sky.
    """

    unit: str | None = None
    forward: str | None = None
    up: str | None = None

    def __post_init__(self) -> None:
        """Refuse a unit or an axis that is none."""
        if self.unit is not None and self.unit not in MM_PER_UNIT:
            raise InputError(f"unit {self.unit!r} is none of {', '.join(MM_PER_UNIT)}")
        for field in ("forward", "up"):
            value = getattr(self, field)
            if value is not None:
                object.__setattr__(self, field, axis_name(value))


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What the files held.

    Attributes
    ----------
    bodies : tuple of Body
        Closed bodies in body axes, in the order of the files.
    notes : tuple of (str, str)
        What was assumed, repaired, dropped or united: a code and a sentence each.
    """

    bodies: tuple[Body, ...]
    notes: tuple[tuple[str, str], ...]


def read_bodies(
    paths: Sequence[str | os.PathLike[str]],
    reading: Reading,
    *,
    progress: Callable[[str], None] | None = None,
) -> Found:
    """Return the closed bodies that mesh files hold, in body axes.

    Parameters
    ----------
    paths : sequence of path
        One or several mesh files.
    reading : Reading
        Unit and axes, as far as they are stated.
    progress : callable, optional
        Told what is being worked on, in words.

    Returns
    -------
    Found

    Raises
    ------
    MissingFileError, MeshFileError
        If a file is not there or not what it claims to be.
    SurfaceError
        If a surface does not enclose a volume, or bodies are segments of one hull.
    """
    tell = progress or (lambda _: None)
    notes: list[tuple[str, str]] = []
    pieces: list[tuple[str, FloatArray]] = []
    for path in paths:
        tell(f"reading {path}")
        file = read_mesh(path)
        pieces += _whole_if_patches(file, _placed(file, reading, notes), notes)
    pieces = _unlike_names(pieces)
    _note_size(pieces, reading, notes)
    closed = _closed(pieces, tell, notes)
    if len(closed) > 1:
        tell("looking for bodies that touch or overlap")
        closed = _apart(closed, notes)
    shells = tuple(shell for _, shell in closed)
    roles = guessed_roles(shells)
    if len(closed) > 1:
        listed = ", ".join(
            f"{name} = {role}" for (name, _), role in zip(closed, roles, strict=True)
        )
        notes.append(("roles-guessed", f"roles taken from size and place: {listed}"))
    bodies = tuple(
        Body(name=name, role=role, shell=shell)
        for (name, shell), role in zip(closed, roles, strict=True)
    )
    return Found(bodies=bodies, notes=tuple(notes))


def _placed(
    file: MeshFile, reading: Reading, notes: list[tuple[str, str]]
) -> list[tuple[str, FloatArray]]:
    """Return a file's parts in body axes and millimeters, noting what was assumed or overruled."""
    unit = reading.unit or file.unit or "mm"
    if reading.unit is None and file.unit is None:
        notes.append(("unit-assumed", f"{file.name}: {file.kind} states no unit; mm assumed"))
    for what, wanted, own in (
        ("unit", reading.unit, file.unit),
        ("up", reading.up, file.up),
        ("forward", reading.forward, file.forward),
    ):
        if wanted is not None and own is not None and wanted != own:
            notes.append(
                (
                    f"{what}-overruled",
                    f"{file.name}: {what} {wanted} as asked, though {file.kind} says {own}",
                )
            )
    notes += [("left-out", f"{file.name}: left out {what}") for what in file.left_out]
    up = reading.up or file.up or "+z"
    forward = reading.forward or file.forward or "-x"
    if reading.forward is None and file.forward is None:
        notes.append(("axes-assumed", f"{file.name}: bow assumed at {forward}, up at {up}"))
    turn = body_rotation(forward=forward, up=up) * MM_PER_UNIT[unit]
    stem = Path(file.name).stem.replace("_", " ")
    placed = []
    for part in file.parts:
        name = stem if len(file.parts) == 1 else part.name or stem
        same = unit == "mm" and bool((turn == np.eye(3)).all())
        placed.append((name, part.triangles if same else part.triangles @ turn.T))
    return placed


def _whole_if_patches(
    file: MeshFile, pieces: list[tuple[str, FloatArray]], notes: list[tuple[str, str]]
) -> list[tuple[str, FloatArray]]:
    """Return the parts of a file, put together where they are open patches of one surface."""
    if len(pieces) == 1 or all(edges_match(merged(triangles)) for _, triangles in pieces):
        return pieces
    whole = np.concatenate([triangles for _, triangles in pieces])
    if not edges_match(merged(whole)):
        return pieces
    notes.append(
        ("patches-joined", f"{file.name}: its {len(pieces)} parts close only together; read as one")
    )
    return [(Path(file.name).stem.replace("_", " "), whole)]


def _unlike_names(pieces: list[tuple[str, FloatArray]]) -> list[tuple[str, FloatArray]]:
    """Return the pieces with a number behind names that occur twice."""
    names = [name for name, _ in pieces]
    named = []
    for i, (name, triangles) in enumerate(pieces):
        number = names[: i + 1].count(name)
        named.append((name if names.count(name) == 1 else f"{name} {number}", triangles))
    return named


def _note_size(
    pieces: list[tuple[str, FloatArray]], reading: Reading, notes: list[tuple[str, str]]
) -> None:
    """Note an overall size that suggests another unit."""
    boxes = [bounds(triangles) for _, triangles in pieces]
    low = np.min([box[0] for box in boxes], axis=0)
    high = np.max([box[1] for box in boxes], axis=0)
    size = float((high - low).max())
    least, most = _USUAL_MM
    if least <= size <= most:
        return
    used = reading.unit or "mm"
    own = size / MM_PER_UNIT[used]
    fitting = [unit for unit, mm in MM_PER_UNIT.items() if least <= own * mm <= most]
    hint = f"; --unit {' or '.join(fitting)} would make it " + " or ".join(
        f"{own * MM_PER_UNIT[unit]:.0f} mm" for unit in fitting
    )
    notes.append(
        (
            "size-unusual",
            f"she is {_plain(size)} mm over all, outside {least:.0f} to {most:.0f} mm"
            + (hint if fitting else ""),
        )
    )


def _plain(value: float) -> str:
    """Return a length without an exponent: whole from 10 mm, three figures below."""
    return f"{value:.0f}" if value >= 10.0 else f"{value:.3g}"


def _closed(
    pieces: list[tuple[str, FloatArray]],
    tell: Callable[[str], None],
    notes: list[tuple[str, str]],
) -> list[tuple[str, Shell]]:
    """Return the closed shells of all pieces, or say which of them are segments of one hull."""
    closed: list[tuple[str, Shell]] = []
    opened: list[tuple[str, OpenSurfaceError]] = []
    for name, triangles in pieces:
        tell(f"proving that {name} is closed")
        try:
            found = outer_shells(name, triangles)
        except OpenSurfaceError as problem:
            opened.append((name, problem))
            continue
        notes += [("repaired", sentence) for sentence in found.repairs]
        notes += [("inner-shell-dropped", sentence) for sentence in found.dropped]
        closed += _numbered(name, found)
    if opened:
        raise _segments(opened) or opened[0][1]
    return closed


def _numbered(name: str, found: Shells) -> list[tuple[str, Shell]]:
    """Return shells with the piece's name, numbered when there are several."""
    if len(found.shells) == 1:
        return [(name, found.shells[0])]
    return [(f"{name} {i}", shell) for i, shell in enumerate(found.shells, start=1)]


def _segments(opened: list[tuple[str, OpenSurfaceError]]) -> SurfaceError | None:
    """Return the refusal of open parts whose rims touch, or None."""
    for i, (name, one) in enumerate(opened):
        for other, two in opened[i + 1 :]:
            for rim in one.rims:
                if any(rims_touch(rim, another) for another in two.rims):
                    return SurfaceError(
                        f"{name} and {other} touch at their rims (station "
                        f"{rim.center_mm[0]:.0f}): they look like segments of one hull, not "
                        f"{len(opened)} bodies. {_ONE_HULL}"
                    )
    return None


def _apart(
    closed: list[tuple[str, Shell]], notes: list[tuple[str, str]]
) -> list[tuple[str, Shell]]:
    """Return the bodies with overlapping ones united; SurfaceError when flat ends butt."""
    groups = [[i] for i in range(len(closed))]
    for i, (name, one) in enumerate(closed):
        for j in range(i + 1, len(closed)):
            other, two = closed[j]
            meeting = flat_ends_meet(one.triangles_mm, two.triangles_mm)
            if meeting is not None:
                axis, place = meeting
                where = f"station {place:.0f}" if axis == 0 else f"{'xyz'[axis]} = {place:.0f} mm"
                raise SurfaceError(
                    f"{name} and {other} butt with flat ends ({where}): they look like segments "
                    f"of one hull, not {len(closed)} bodies. {_ONE_HULL}"
                )
            if overlapping(one, two):
                notes.append(("united", f"{name} and {other} overlap; they count as one body"))
                groups = _joined(groups, i, j)
    return [named for group in groups for named in _body_of([closed[i] for i in group])]


def _joined(groups: list[list[int]], i: int, j: int) -> list[list[int]]:
    """Return the groups with those of two members made one."""
    mine = next(group for group in groups if i in group)
    other = next(group for group in groups if j in group)
    if mine is other:
        return groups
    return [sorted(mine + other) if g is mine else g for g in groups if g is not other]


def _body_of(members: list[tuple[str, Shell]]) -> list[tuple[str, Shell]]:
    """Return a group of overlapping bodies as one, named after the largest."""
    if len(members) == 1:
        return members
    name = max(members, key=lambda member: member[1].volume_mm3)[0]
    shells = united(name, [shell for _, shell in members])
    return _numbered(name, Shells(shells=shells, repairs=(), dropped=()))
