"""From mesh files to named bodies in body axes."""

import os
import shlex
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

import numpy as np

from hullcheck.craft.bodies import Body, guessed_roles
from hullcheck.errors import SurfaceError
from hullcheck.files.mesh_file import MeshFile
from hullcheck.files.meshes import read_mesh
from hullcheck.files.reading import Reading, in_body_axes, note_size
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.joining import (
    NamedShell,
    meeting_place,
    numbered,
    overlap_groups,
    united_group,
)
from hullcheck.geometry.rims import OpenSurfaceError, rims_touch
from hullcheck.geometry.shells import outer_shells
from hullcheck.geometry.topology import edges_match, merged

_MOST_NAMED: Final = 8
"""Files in a line to use; of more the first two and the last are named."""


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
        If a surface does not enclose a volume, or bodies are segments of one hull: such parts are
        put together from a build sheet, and the line that writes one is named.
    """
    tell = progress or (lambda _: None)
    notes: list[tuple[str, str]] = []
    pieces = [piece.named for piece in read_pieces(paths, reading, notes, tell)]
    note_size(pieces, reading, notes)
    try:
        closed = closed_shells(pieces, tell, notes)
        if len(closed) > 1:
            tell("looking for bodies that touch or overlap")
            refuse_segments(closed)
    except SurfaceError as problem:
        message = f"{problem}. To have parts put together: {begin_line(paths)}"
        if isinstance(problem, OpenSurfaceError):
            raise OpenSurfaceError(message, problem.rims) from problem
        raise SurfaceError(message) from problem
    if len(closed) > 1:
        closed = _united(closed, notes)
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


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Piece:
    """A part of a mesh file in body axes [mm], and the unit its file was read in."""

    name: str
    triangles_mm: FloatArray
    unit: str

    @property
    def named(self) -> tuple[str, FloatArray]:
        """Name and triangles."""
        return self.name, self.triangles_mm


def read_pieces(
    paths: Sequence[str | os.PathLike[str]],
    reading: Reading,
    notes: list[tuple[str, str]],
    tell: Callable[[str], None],
) -> list[Piece]:
    """Return all parts of mesh files in body axes, no two with one name.

    Raises
    ------
    MissingFileError, MeshFileError
        If a file is not there or not what it claims to be.
    """
    pieces: list[Piece] = []
    for path in paths:
        tell(f"reading {path}")
        file = read_mesh(path)
        unit = reading.unit or file.unit or "mm"
        parts = whole_if_patches(file, in_body_axes(file, reading, notes), notes)
        pieces += [Piece(name=name, triangles_mm=mesh, unit=unit) for name, mesh in parts]
    names = [piece.name for piece in pieces]
    return [
        piece
        if names.count(piece.name) == 1
        else replace(piece, name=f"{piece.name} {names[: i + 1].count(piece.name)}")
        for i, piece in enumerate(pieces)
    ]


def begin_line(paths: Sequence[str | os.PathLike[str]]) -> str:
    """Return the line that writes a first build sheet of mesh files, shortened where they are many.

    Examples
    --------
    >>> begin_line(["nose.stl", "my tail.stl"])
    "hullcheck begin nose.stl 'my tail.stl' -o build.toml"
    """
    names = [shlex.quote(os.fspath(path)) for path in paths]
    if len(names) > _MOST_NAMED:
        names = [*names[:2], "…", names[-1]]
    return f"hullcheck begin {' '.join(names)} -o build.toml"


def whole_if_patches(
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


def closed_shells(
    pieces: list[tuple[str, FloatArray]],
    tell: Callable[[str], None],
    notes: list[tuple[str, str]],
) -> list[NamedShell]:
    """Return the closed shells of all pieces, or say which of them are segments of one hull."""
    closed: list[NamedShell] = []
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
        closed += numbered(name, found.shells)
    if opened:
        raise _segments(opened) or opened[0][1]
    return closed


def _segments(opened: list[tuple[str, OpenSurfaceError]]) -> SurfaceError | None:
    """Return the refusal of open parts whose rims touch, or None."""
    for i, (name, one) in enumerate(opened):
        for other, two in opened[i + 1 :]:
            for rim in one.rims:
                if any(rims_touch(rim, another) for another in two.rims):
                    return SurfaceError(
                        f"{name} and {other} touch at their rims (station "
                        f"{rim.center_mm[0]:.0f}): they look like segments of one hull, not "
                        f"{len(opened)} bodies"
                    )
    return None


def refuse_segments(closed: Sequence[NamedShell]) -> None:
    """Refuse bodies with flat ends that butt: they are segments of one."""
    for i, (name, one) in enumerate(closed):
        for other, two in closed[i + 1 :]:
            where = meeting_place(one, two)
            if where is not None:
                raise SurfaceError(
                    f"{name} and {other} butt with flat ends ({where}): they look like segments "
                    f"of one hull, not {len(closed)} bodies"
                )


def _united(closed: list[NamedShell], notes: list[tuple[str, str]]) -> list[NamedShell]:
    """Return the bodies with overlapping ones united."""
    groups = overlap_groups(closed, notes)
    return [named for group in groups for named in united_group([closed[i] for i in group])]
