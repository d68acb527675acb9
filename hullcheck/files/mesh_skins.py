"""From mesh files without a build sheet to outer skins: bodies apart, or the parts of one."""

import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from hullcheck.craft.bodies import Role, guessed_roles
from hullcheck.craft.body_skin import BodySkin
from hullcheck.craft.found_openings import with_found
from hullcheck.errors import SurfaceError
from hullcheck.files.bodies import (
    Piece,
    begin_line,
    closed_shells,
    read_pieces,
    refuse_segments,
)
from hullcheck.files.body_skins import refuse_loose, skin_notes
from hullcheck.files.reading import Reading, note_size
from hullcheck.geometry.joining import overlap_groups
from hullcheck.geometry.outer_records import OuterSkin
from hullcheck.geometry.outer_skin import outer_skin

ONE_BODY: Final = "hull"
"""What the body is called that all files make together."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SkinsFound:
    """The outer skins of mesh files, and what was assumed or found: a code and a sentence each."""

    skins: tuple[BodySkin, ...]
    notes: tuple[tuple[str, str], ...]


def read_skins(
    paths: Sequence[str | os.PathLike[str]],
    reading: Reading,
    *,
    progress: Callable[[str], None] | None = None,
) -> SkinsFound:
    """Return the outer skins that mesh files make.

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
    SkinsFound
        Several bodies where all files are closed and lie apart; else all are parts of one.

    Raises
    ------
    MissingFileError, MeshFileError
        If a file is not there or not what it claims to be.
    SurfaceError
        If the parts make no skin.
    """
    tell = progress or (lambda _: None)
    notes: list[tuple[str, str]] = []
    pieces = read_pieces(paths, reading, notes, tell)
    note_size([piece.named for piece in pieces], reading, notes)
    groups = [[piece] for piece in pieces] if _are_bodies(pieces, tell) else [pieces]
    if len(pieces) > 1 and len(groups) == 1:
        said = f"the {len(pieces)} parts are taken for one body; a build sheet says more"
        notes.append(("one-body", said))
    made = []
    for group in groups:
        name = group[0].name if len(groups) > 1 or len(group) == 1 else ONE_BODY
        try:
            made.append((group, _skin_of(name, group, paths, tell)))
        except SurfaceError as problem:
            if len(pieces) == 1 or begin_line(paths) in str(problem):
                raise
            line = f"To have parts put together: {begin_line(paths)}"
            raise SurfaceError(f"{problem}. {line}") from problem
    roles: tuple[Role, ...] = guessed_roles(tuple(skin.shells[0] for _, skin in made))
    skins = [
        BodySkin(
            name=skin.name,
            role=role,
            skin=skin,
            units=tuple(piece.unit for piece in group),
        )
        for (group, skin), role in zip(made, roles, strict=True)
    ]
    for _, skin in made:
        notes += skin_notes(skin)
    _, named = with_found((), skins)
    return SkinsFound(skins=named, notes=tuple(notes))


def _skin_of(
    name: str,
    group: Sequence[Piece],
    paths: Sequence[str | os.PathLike[str]],
    tell: Callable[[str], None],
) -> OuterSkin:
    """Return the outer skin of pieces; refused where they are in the axes they are printed in."""
    skin = outer_skin(name, [piece.named for piece in group], progress=tell)
    refuse_loose(skin, f"have them placed: {begin_line(paths)}")
    return skin


def _are_bodies(pieces: Sequence[Piece], tell: Callable[[str], None]) -> bool:
    """Return whether pieces are closed each by itself and none touches or overlaps another."""
    if len(pieces) < 2:
        return False
    try:
        closed = closed_shells([piece.named for piece in pieces], tell, [])
        refuse_segments(closed)
    except SurfaceError:
        # What is wrong with them is told where they are put together.
        return False
    return all(len(group) == 1 for group in overlap_groups(closed, []))
