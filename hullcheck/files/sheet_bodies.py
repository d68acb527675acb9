"""The bodies of a build sheet: parts read, placed, put together, mirrored."""

import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from pathlib import Path
from typing import Final

import numpy as np

from hullcheck.craft.bodies import Body
from hullcheck.craft.fittings import Structure
from hullcheck.errors import InputError, MissingFileError, SurfaceError
from hullcheck.files.bodies import closed_shells, whole_if_patches
from hullcheck.files.joining import (
    NamedShell,
    gap_mm,
    joined,
    meeting_place,
    numbered,
    overlap_groups,
    snapped,
    united_group,
)
from hullcheck.files.meshes import read_mesh
from hullcheck.files.offsets_file import read_offsets
from hullcheck.files.placement import Placement, placed
from hullcheck.files.reading import Reading, in_body_axes, note_size
from hullcheck.files.sheet import SheetFile, place
from hullcheck.files.sheet_fittings import structure_of
from hullcheck.files.sheet_model import BodyKeys, OffsetsKeys, PartKeys
from hullcheck.files.sheet_words import nearest
from hullcheck.files.toml_lines import Path as KeyPath
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.frames import body_rotation, turned
from hullcheck.geometry.offsets import OffsetBody, offset_body
from hullcheck.geometry.shells import Shell, outer_shells
from hullcheck.units import MM3_PER_CM3

Notes = list[tuple[str, str]]
Tell = Callable[[str], None]
_IDENTITY: Final = np.eye(3)
_MIDDLE: Final = 1e-3
"""Of its breadth: a body so near to the middle of the craft is its own mirror image."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetBodies:
    """The bodies of a sheet and what each is made of, by name."""

    bodies: tuple[Body, ...]
    structures: dict[str, Structure]


def sheet_bodies(sheet: SheetFile, notes: Notes, tell: Tell) -> SheetBodies:
    """Return the closed bodies of a sheet in body axes.

    Parameters
    ----------
    sheet : SheetFile
        The sheet.
    notes : list of (str, str)
        What was assumed or repaired is added to it.
    tell : callable
        Told what is being worked on.

    Raises
    ------
    MissingFileError, MeshFileError, InputError
        If a file is not there or not what it claims to be, or is placed impossibly.
    SurfaceError
        If parts do not close, or do not make one skin.
    """
    reading = _reading(sheet)
    bodies: list[Body] = []
    structures: dict[str, Structure] = {}
    for i, keys in enumerate(sheet.keys.body):
        structure = structure_of(sheet, i)
        made = (
            _of_offsets(sheet, i, notes)
            if keys.offsets
            else _of_parts(sheet, i, reading, notes, tell)
        )
        if keys.mirror is not None:
            made += [_mirrored(sheet, i, body) for body in made]
        bodies += made
        structures.update({body.name: structure for body in made})
    if not any(keys.offsets for keys in sheet.keys.body):
        sizes = [(body.name, body.shell.triangles_mm) for body in bodies]
        note_size(sizes, reading, notes, key="unit {} under [axes]")
    tell("looking for bodies that touch or overlap")
    return _apart(bodies, structures, notes)


def _reading(sheet: SheetFile) -> Reading:
    """Return how the sheet says the files lie."""
    axes = sheet.keys.axes
    forward, up = axes.forward, axes.up
    if forward is not None and up is not None:
        sheet.kept(("axes", "up"), lambda: body_rotation(forward=forward, up=up))
    return Reading(unit=axes.unit, forward=forward, up=up)


def _of_parts(
    sheet: SheetFile, index: int, reading: Reading, notes: Notes, tell: Tell
) -> list[Body]:
    """Return the body of a sheet that is made of parts; several where one file holds several."""
    keys = sheet.keys.body[index]
    if keys.parts is None:
        raise sheet.refused(
            ("body", index), f'"{keys.name}" has neither parts nor offsets; give it one of them'
        )
    pieces: list[tuple[str, FloatArray]] = []
    for number, part in enumerate(keys.parts):
        tell(f"reading {part.file}")
        pieces.append((part.file, _placed_part(sheet, (index, number), part, reading, notes)))
    tell(f"proving that {keys.name} is closed")
    shells = _one_skin(keys, pieces, notes, tell)
    return [Body(name=name, role=keys.role, shell=shell) for name, shell in shells]


def _placed_part(
    sheet: SheetFile, where: tuple[int, int], part: PartKeys, reading: Reading, notes: Notes
) -> FloatArray:
    """Return a part's triangles in body axes, placed as the sheet says."""
    path = ("body", where[0], "parts", where[1])
    if part.place is not None and (part.at_mm is not None or part.turn_deg is not None):
        raise sheet.refused((*path, "place"), "stands beside at_mm or turn_deg; keep one of them")
    file = read_mesh(_beside(sheet, (*path, "file"), part.file))
    if part.place is not None:
        as_filed = Reading(unit=reading.unit, forward="-x", up="+z")
        pieces = in_body_axes(replace(file, forward=None, up=None), as_filed, notes)
        whole = np.concatenate([t for _, t in whole_if_patches(file, pieces, notes)])
        matrix = np.array(part.place)
        if not np.array_equal(matrix[3], (0.0, 0.0, 0.0, 1.0)):
            raise sheet.refused(
                (*path, "place"), f"its last row is {part.place[3]} and not 0, 0, 0, 1"
            )
        map_ = Placement(linear=matrix[:3, :3].T, offset=matrix[:3, 3])
        stretch = np.linalg.svd(map_.linear, compute_uv=False)
        if np.abs(stretch - 1.0).max() > 1e-4:
            raise sheet.refused(
                (*path, "place"),
                f"stretches the part by {stretch.min():.5g} to {stretch.max():.5g}; a placement "
                "turns, mirrors and moves only",
            )
        return placed(whole, map_, str(part.file), "the part")
    axis = ("axes", "up" if reading.up is not None else "forward")
    pieces = sheet.kept(axis, lambda: in_body_axes(file, reading, notes))
    whole = np.concatenate([t for _, t in whole_if_patches(file, pieces, notes)])
    if part.at_mm is not None or part.turn_deg is not None:
        return _turned_and_moved(whole, part)
    datum = sheet.keys.axes.datum_mm
    if datum is None or not any(datum):
        return whole
    forward = reading.forward or file.forward or "-x"
    rotation = body_rotation(forward=forward, up=reading.up or file.up or "+z")
    moved: FloatArray = whole - rotation @ np.array(datum)
    return moved


def _turned_and_moved(triangles: FloatArray, keys: PartKeys | OffsetsKeys) -> FloatArray:
    """Return triangles turned about body x, y, z and then moved."""
    map_ = Placement(
        linear=turned(keys.turn_deg).T if keys.turn_deg is not None else _IDENTITY,
        offset=np.array(keys.at_mm or (0.0, 0.0, 0.0), dtype=np.float64),
    )
    return placed(triangles, map_, str(keys.file), "the part")


def _of_offsets(sheet: SheetFile, index: int, notes: Notes) -> list[Body]:
    """Return the body of a sheet that is made from a table of offsets."""
    keys = sheet.keys.body[index]
    table = keys.offsets
    if table is None or keys.parts is not None:
        raise sheet.refused(
            ("body", index, "offsets"), f'"{keys.name}" has parts as well; keep one of them'
        )
    path = _beside(sheet, ("body", index, "offsets", "file"), table.file)
    points, said = read_offsets(path)
    notes += said
    try:
        made = offset_body(points, smooth=table.smooth)
    except InputError as problem:
        raise InputError(f"{path} {problem}") from problem
    found = outer_shells(keys.name, _turned_and_moved(made.triangles_mm, table))
    notes += [("repaired", sentence) for sentence in found.repairs]
    volume, off = sum(s.volume_mm3 for s in found.shells), made.error_mm3
    notes.append(("offsets-read", _said_of(keys.name, table, made, volume)))
    return [
        Body(name=name, role=keys.role, shell=shell, volume_error_mm3=off)
        for name, shell in numbered(keys.name, found.shells)
    ]


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


def _one_skin(
    keys: BodyKeys, pieces: Sequence[tuple[str, FloatArray]], notes: Notes, tell: Tell
) -> list[NamedShell]:
    """Return the shells that a body's parts make; more than one only where one file holds them."""
    if len(pieces) == 1:
        return closed_shells([(keys.name, pieces[0][1])], tell, notes)
    closed = closed_shells(list(pieces), tell, notes)
    groups = overlap_groups(closed, [])
    gaps: list[str] = []
    for i, j in combinations(range(len(closed)), 2):
        (name, one), (other, two) = closed[i], closed[j]
        where = meeting_place(one, two)
        if where is None:
            continue
        groups = joined(groups, i, j)
        met = snapped(one, two)
        if met is None:
            gaps.append(f"{name} and {other}: {gap_mm(one, two):.2g} mm at {where}")
        else:
            closed[i], closed[j] = (name, met[0]), (other, met[1])
    if len(groups) > 1:
        (first, here), (second, there) = closed[groups[0][0]], closed[groups[1][0]]
        raise SurfaceError(
            f"{first} and {second} do not make one skin: about {_distance_mm(here, there):.1f} mm "
            "lie between them. Move one with at_mm, or give each a [[body]] of its own (they stand "
            f'under "{keys.name}")'
        )
    shells = [shell for _, shell in united_group(closed)]
    if len(shells) > 1:
        raise SurfaceError(
            f'the parts of "{keys.name}" leave {len(shells)} skins: {"; ".join(gaps)} apart. Move '
            "one with at_mm, or join them in the CAD program"
        )
    return [(keys.name, shells[0])]


def _distance_mm(one: Shell, two: Shell) -> float:
    """Return the least distance between the corners of two shells [mm]."""
    from scipy.spatial import cKDTree

    tree = cKDTree(one.triangles_mm.reshape(-1, 3))
    return float(tree.query(two.triangles_mm.reshape(-1, 3))[0].min())


def _mirrored(sheet: SheetFile, index: int, body: Body) -> Body:
    """Return a body's twin on the other side; refused for a body in the middle, its own twin."""
    keys, shell = sheet.keys.body[index], body.shell
    if abs(shell.center_plane_mm) <= _MIDDLE * float(shell.high_mm[1] - shell.low_mm[1]):
        raise sheet.refused(
            ("body", index, "mirror"),
            "its twin would lie where it lies itself, in the middle; move it aside with at_mm",
        )
    turned_over = shell.triangles_mm[:, ::-1] * np.array([1.0, -1.0, 1.0]) + 0.0
    twin = Shell(triangles_mm=turned_over, volume_mm3=shell.volume_mm3, area_mm2=shell.area_mm2)
    return replace(body, name=f"{keys.mirror}{body.name.removeprefix(keys.name)}", shell=twin)


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


def _beside(sheet: SheetFile, key: KeyPath, file: str) -> Path:
    """Return a file's path, relative to the sheet; refused with the nearest if it is not there."""
    path = sheet.folder / file
    if os.path.lexists(path):
        return path
    try:
        beside = sorted(one.name for one in path.parent.iterdir())
    except OSError:
        beside = []
    hint = nearest(path.name, beside) or "check the name and the folder"
    raise MissingFileError(
        f"{place(sheet.path, sheet.lines, key)}: {path}: there is no such file; {hint}"
    )
