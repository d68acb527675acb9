"""The bodies of a build sheet: parts read, placed, put together, mirrored."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from hullcheck.craft.bodies import Body
from hullcheck.craft.body_skin import BodySkin
from hullcheck.craft.fittings import Lid, Structure
from hullcheck.errors import InputError
from hullcheck.files.body_parts import (
    BodyParts,
    Notes,
    Tell,
    beside,
    read_parts,
    reading_of,
    turned_and_moved,
)
from hullcheck.files.body_skins import (
    AS_FILED,
    bodies_of,
    idle_lids,
    lids_of_bodies,
    mirrored_shell,
    mirrored_skin,
    skin_of_parts,
)
from hullcheck.files.offsets_file import read_offsets
from hullcheck.files.reading import note_size
from hullcheck.files.sheet import SheetFile
from hullcheck.files.sheet_fittings import structure_of
from hullcheck.files.sheet_model import OffsetsKeys
from hullcheck.geometry.joining import overlap_groups, united_group
from hullcheck.geometry.offsets import OffsetBody, offset_body
from hullcheck.geometry.outer_records import OuterSkin
from hullcheck.geometry.shells import Shell, outer_shells
from hullcheck.units import MM3_PER_CM3

_MIDDLE: Final = 1e-3
"""Of its breadth: a body so near to the middle of the craft is its own mirror image."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetBodies:
    """The bodies of a sheet, what each is made of by name, and how each [[body]] was read."""

    bodies: tuple[Body, ...]
    structures: dict[str, Structure]
    skins: tuple[BodySkin, ...] = ()


def sheet_bodies(sheet: SheetFile, lids: Sequence[Lid], notes: Notes, tell: Tell) -> SheetBodies:
    """Return the closed bodies of a sheet in body axes.

    Parameters
    ----------
    sheet : SheetFile
        The sheet.
    lids : sequence of Lid
        Its lids.
    notes : list of (str, str)
        What was assumed or repaired is added to it.
    tell : callable
        Told what is being worked on.

    Raises
    ------
    MissingFileError, MeshFileError, InputError
        If a file is not there or not what it claims to be, or is placed impossibly.
    SurfaceError
        If parts do not make one skin.
    """
    every = sheet.keys.body
    structures = [structure_of(sheet, i) for i in range(len(every))]
    parts = _read(sheet, notes, tell)
    theirs = lids_of_bodies(lids, parts, [keys.mirror is not None for keys in every])
    skins: list[BodySkin] = []
    bodies: list[Body] = []
    made_of: dict[str, Structure] = {}
    for i, (keys, placed) in enumerate(zip(every, parts, strict=True)):
        if placed is None:
            made = [_of_offsets(sheet, i, notes)]
        else:
            skin, said = skin_of_parts(sheet, i, placed, theirs[i], tell)
            notes += said
            made = [_of_skin(sheet, i, skin, placed.units)]
        if keys.mirror is not None:
            made.append(_mirrored(sheet, i, made[0]))
        skins += made
        for one in made:
            found = bodies_of(one)
            bodies += found
            made_of.update({body.name: structures[i] for body in found})
    if all(placed is not None for placed in parts):
        sizes = [(body.name, body.shell.triangles_mm) for body in bodies]
        note_size(sizes, reading_of(sheet), notes, key="unit {} under [axes]")
    _note_idle(lids, skins, notes)
    tell("looking for bodies that touch or overlap")
    return replace(_apart(bodies, made_of, notes), skins=tuple(skins))


def _read(sheet: SheetFile, notes: Notes, tell: Tell) -> list[BodyParts | None]:
    """Return the parts of every body, placed; None for one from offsets."""
    reading = reading_of(sheet)
    parts: list[BodyParts | None] = []
    for i, keys in enumerate(sheet.keys.body):
        if keys.offsets and keys.floods:
            raise sheet.refused(
                ("body", i, "floods"), "a well is left open in parts; offsets have none"
            )
        parts.append(None if keys.offsets else read_parts(sheet, i, reading, notes, tell))
    return parts


def _note_idle(lids: Sequence[Lid], skins: Sequence[BodySkin], notes: Notes) -> None:
    """Note the lids that closed nothing."""
    made = [one.skin for one in skins if one.skin is not None]
    idle = ", ".join(idle_lids(lids, made))
    if not idle:
        return
    if all(skin.method == AS_FILED for skin in made):
        said = f"lids close open skins; all bodies here are closed: {idle}"
    else:
        said = f"lids that lie on no opening of a skin, and close nothing: {idle}"
    notes.append(("lids-idle", said))


def _of_skin(sheet: SheetFile, index: int, skin: OuterSkin, units: tuple[str, ...]) -> BodySkin:
    """Return a sheet's body of a skin."""
    return BodySkin(
        name=skin.name,
        role=sheet.keys.body[index].role,
        skin=skin,
        units=units,
    )


def _of_offsets(sheet: SheetFile, index: int, notes: Notes) -> BodySkin:
    """Return the body of a sheet that is made from a table of offsets."""
    keys = sheet.keys.body[index]
    table = keys.offsets
    if table is None or keys.parts is not None:
        raise sheet.refused(
            ("body", index, "offsets"), f'"{keys.name}" has parts as well; keep one of them'
        )
    path = beside(sheet, ("body", index, "offsets", "file"), table.file)
    points, said = read_offsets(path)
    notes += said
    try:
        made = offset_body(points, smooth=table.smooth)
    except InputError as problem:
        raise InputError(f"{path} {problem}") from problem
    found = outer_shells(keys.name, turned_and_moved(made.triangles_mm, table))
    notes += [("repaired", sentence) for sentence in found.repairs]
    volume, off = sum(s.volume_mm3 for s in found.shells), made.error_mm3
    notes.append(("offsets-read", _said_of(keys.name, table, made, volume)))
    return BodySkin(name=keys.name, role=keys.role, skin=None, shells=found.shells, error_mm3=off)


def _said_of(name: str, table: OffsetsKeys, made: OffsetBody, volume_mm3: float) -> str:
    """Return what a body from offsets is, for the builder to hold against the plan."""
    size = np.ptp(made.triangles_mm.reshape(-1, 3), axis=0)
    return (
        f"{name}: {len(made.stations_mm)} stations, {len(made.lines)} lines of {table.file}, "
        f"{'smooth' if table.smooth else 'straight'} between the points, corners at "
        f"{', '.join(made.corners)}; {size[0]:.0f} mm long, {size[1]:.0f} wide, {size[2]:.0f} "
        f"deep; {_cm3(volume_mm3)}, known to {_cm3(made.error_mm3)} "
        f"({100.0 * made.error_mm3 / volume_mm3:.1f} %)"
    )


def _cm3(volume_mm3: float) -> str:
    """Return a volume: whole cm³ from 10, two figures below."""
    volume = volume_mm3 / MM3_PER_CM3
    return f"{volume:.0f} cm³" if volume >= 10.0 else f"{volume:.2g} cm³"


def _mirrored(sheet: SheetFile, index: int, made: BodySkin) -> BodySkin:
    """Return a body's twin on the other side; refused for a body in the middle, its own twin."""
    twin = sheet.keys.body[index].mirror
    if twin is None or any(_is_in_the_middle(shell) for shell in made.shells):
        raise sheet.refused(
            ("body", index, "mirror"),
            "its twin would lie where it lies itself, in the middle; move it aside with at_mm",
        )
    if made.skin is None:
        return replace(made, name=twin, shells=tuple(mirrored_shell(s) for s in made.shells))
    return replace(made, name=twin, skin=mirrored_skin(made.skin, twin))


def _is_in_the_middle(shell: Shell) -> bool:
    """Return whether a shell is its own mirror image, as near as that can be told."""
    breadth = float(shell.high_mm[1] - shell.low_mm[1])
    return bool(abs(shell.center_plane_mm) <= _MIDDLE * breadth)


def _apart(bodies: Sequence[Body], made_of: dict[str, Structure], notes: Notes) -> SheetBodies:
    """Return the bodies with overlapping ones united; the largest gives name, role, structure."""
    named = [(body.name, body.shell) for body in bodies]
    apart: list[Body] = []
    structures: dict[str, Structure] = {}
    for group in overlap_groups(named, notes):
        members = [bodies[i] for i in group]
        largest = max(members, key=lambda body: body.shell.volume_mm3)
        off = [b.volume_error_mm3 for b in members if b.volume_error_mm3 is not None]
        for name, shell in united_group([named[i] for i in group]):
            error = sum(off) if off else None
            apart.append(replace(largest, name=name, shell=shell, volume_error_mm3=error))
            structures[name] = made_of[largest.name]
    return SheetBodies(bodies=tuple(apart), structures=structures)
