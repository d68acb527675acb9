"""An outer skin into a mesh file that is proved to read back closed before it gets its name."""

import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np

from hullcheck.errors import HullcheckError, InputError, SurfaceError
from hullcheck.files.atomic import write_new_bytes
from hullcheck.files.guard import reason
from hullcheck.files.meshes import read_mesh_bytes
from hullcheck.files.ply_writer import binary_ply_bytes
from hullcheck.files.stl_writer import binary_stl_bytes
from hullcheck.files.threemf_writer import threemf_bytes
from hullcheck.geometry.arrays import FloatArray, owned
from hullcheck.geometry.shells import Shell, outer_shells
from hullcheck.geometry.solids import as_solid, mesh_of
from hullcheck.geometry.topology import Mesh, is_closed_manifold, merged
from hullcheck.units import MM3_PER_CM3

SIMPLIFIED_MM: Final = 1e-3
"""How far a skin may be moved so that its corners stay apart as float32: sixteen steps of float32
at 600 mm, and a hundredth of a printed layer."""

EXACT_TOLERANCE: Final = 1e-9
"""Allowed share by which a shell's volume reads back otherwise from float64: rounding of sums."""

STL_TOLERANCE: Final = 1e-4
"""The same from STL: 0.001 mm over the skin of a body some 20 mm thick, 0.01 %."""

_ENDINGS: Final = ".3mf, .ply or .stl"
_FLOAT64: Final = "keeps each shell by itself in 64-bit numbers"
_Shells = Sequence[tuple[str, FloatArray]]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Format:
    """How a kind of mesh file is made, and how true its volume is."""

    made: Callable[[_Shells], tuple[bytes, tuple[str, ...]]]
    tolerance: float
    next_step: str


def write_skin(
    path: str | os.PathLike[str], bodies: Sequence[tuple[str, Sequence[FloatArray]]]
) -> tuple[str, ...]:
    """Write closed shells as 3MF, PLY or STL [mm]; return what was done, a sentence each.

    Parameters
    ----------
    path : str or path
        The file; its ending says which of the three. One that is there already is replaced.
    bodies : sequence of (str, sequence of ndarray of shape (n, 3, 3))
        Each body's name and its closed shells in body axes, area vectors outward [mm].

    Returns
    -------
    tuple of str
        What rounding and simplifying did, what the format cannot hold, and what was read back.

    Raises
    ------
    InputError
        If the ending is another one, there is nothing to write, or the file cannot be written.
    SurfaceError
        If the file would not read back as the same number of closed shells, each with its volume
        within 1e-9 of itself (STL: 1e-4). Nothing is written then, and an older file stays.

    Notes
    -----
    The bytes are read by the reader of mesh files before they get their name, and what stands on
    the disk afterwards is held against them. Triangles with two equal corners, and pairs of
    triangles on the same corners that face each other, enclose nothing and are left out.

    STL holds every triangle's corners by themselves as float32, and whoever reads it makes equal
    ones one: corners nearer than its step, 6e-5 mm at 600 mm, may become one. Where the surface
    then no longer has two triangles at every edge, it is simplified by 0.001 mm first.
    """
    suffix = Path(path).suffix.lower()
    if suffix not in _FORMATS:
        raise InputError(f"{path}: a skin is written as {_ENDINGS}; name a file with such an end")
    shells = _named(bodies)
    if not shells:
        raise InputError(f"{path}: there is no shell to write; name a body that has a skin")
    empty = next((name for name, triangles in shells if len(triangles) == 0), None)
    if empty is not None:
        raise InputError(f"{path}: {empty} is a shell without triangles; leave it out")
    wanted = _FORMATS[suffix]
    try:
        data, said = wanted.made(shells)
        back = _read_back(os.fspath(path), data)
        differs = _compared(shells, back, wanted.tolerance)
    except HullcheckError as refused:
        # What the makers and the reader say begins with what they were given to call it.
        why = str(refused).removeprefix(f"{path}: ").removeprefix(f"{path} ")
        msg = f"{path}: not written, since it would not read back as the skin ({why})"
        raise SurfaceError(f"{msg}; {wanted.next_step}") from refused
    write_new_bytes(path, data, overwrite=True)
    _check_disk(Path(path), data)
    count = "1 closed shell" if len(back) == 1 else f"{len(back)} closed shells"
    volume = sum(shell.volume_mm3 for shell in back) / MM3_PER_CM3
    within = "its volume to rounding" if differs <= EXACT_TOLERANCE else f"volume to {differs:.1g}"
    return *said, f"{path}: {count}, {volume:.2f} cm³, in body axes and mm; read back, {within}"


def _named(bodies: Sequence[tuple[str, Sequence[FloatArray]]]) -> list[tuple[str, FloatArray]]:
    """Return all shells, each with a name of its own within its body."""
    return [
        (name if len(shells) == 1 else f"{name} {number}", owned(shell, (-1, 3, 3)))
        for name, shells in bodies
        for number, shell in enumerate(shells, start=1)
    ]


def _as_threemf(shells: _Shells) -> tuple[bytes, tuple[str, ...]]:
    """Return the skin as 3MF, an object each shell."""
    return threemf_bytes([(name, _indexed(triangles)) for name, triangles in shells]), ()


def _as_ply(shells: _Shells) -> tuple[bytes, tuple[str, ...]]:
    """Return the skin as PLY."""
    mesh = _joined([_indexed(triangles) for _, triangles in shells])
    return binary_ply_bytes(mesh), (_not_held("PLY"),)


def _as_stl(shells: _Shells) -> tuple[bytes, tuple[str, ...]]:
    """Return the skin as STL, simplified first where its 32-bit numbers would tear it."""
    given = sum(len(triangles) for _, triangles in shells)
    snapped = [_snapped(triangles) for _, triangles in shells]
    done = "rounded to STL's 32-bit numbers"
    if not _holds(snapped):
        snapped = [_snapped(_simplified(name, triangles)) for name, triangles in shells]
        done = f"simplified by {SIMPLIFIED_MM:g} mm for STL's 32-bit numbers"
        if not _holds(snapped):
            raise SurfaceError(
                f"rounded to STL's 32-bit numbers it touches itself, simplified by "
                f"{SIMPLIFIED_MM:g} mm or not"
            )
    gone = given - sum(len(mesh.faces) for mesh in snapped)
    count = "1 triangle" if gone == 1 else f"{gone} triangles"
    said = (f"{done}: {count} dropped",) if gone else ()
    return binary_stl_bytes(_joined(snapped).triangles), (*said, _not_held("STL"))


def _not_held(kind: str) -> str:
    """Return what a format cannot say."""
    return f"{kind} holds no unit, axes or names: read it as mm, x aft, y starboard, z up"


_FORMATS: Final = {
    ".3mf": _Format(
        made=_as_threemf,
        tolerance=EXACT_TOLERANCE,
        next_step="the skin itself is at fault; look at its drawing and mend the parts",
    ),
    ".ply": _Format(
        made=_as_ply, tolerance=EXACT_TOLERANCE, next_step=f"name a .3mf file, which {_FLOAT64}"
    ),
    ".stl": _Format(
        made=_as_stl, tolerance=STL_TOLERANCE, next_step=f"name a .3mf file, which {_FLOAT64}"
    ),
}


def _indexed(triangles: FloatArray) -> Mesh:
    """Return a shell by corner number, two triangles at every edge wherever that can be had."""
    mesh = _cleaned(merged(triangles))
    if is_closed_manifold(mesh):
        return mesh
    # Where a skin touches itself, the same place must be two corners for its edges to be told.
    apart = _solid_mesh(mesh)
    return mesh if apart is None or not is_closed_manifold(apart) else apart


def _snapped(triangles: FloatArray) -> Mesh:
    """Return a shell as a reader of its STL will see it, without what encloses nothing."""
    with np.errstate(over="ignore"):  # refused by the writer, with its place
        rounded = triangles.astype(np.float32).astype(np.float64)
    return _cleaned(merged(rounded))


def _holds(meshes: Sequence[Mesh]) -> bool:
    """Return whether every shell is left and all of them together close for whoever welds them."""
    if any(len(mesh.faces) == 0 for mesh in meshes):
        return False
    return is_closed_manifold(merged(_joined(meshes).triangles))


def _cleaned(mesh: Mesh) -> Mesh:
    """Return a mesh without triangles that enclose nothing: their edges cancel, so none opens."""
    a, b, c = mesh.faces.T
    faces = mesh.faces[(a != b) & (b != c) & (c != a)]
    if len(faces) == 0:
        return Mesh(points=mesh.points[:0], faces=faces)
    turn = faces.argmin(axis=1)[:, None]
    turned = np.take_along_axis(faces, (np.arange(3) + turn) % 3, axis=1)
    facing = np.where(turned[:, 1] < turned[:, 2], 1, -1)
    group = np.unique(np.sort(faces, axis=1), axis=0, return_inverse=True)[1].ravel()
    net = np.bincount(group, weights=facing).astype(np.int64)
    # Of all triangles on the same corners, as many stay as one facing has more than the other.
    order = np.flatnonzero(facing == np.sign(net)[group])
    order = order[np.argsort(group[order], kind="stable")]
    number = np.arange(len(order)) - np.searchsorted(group[order], group[order])
    faces = faces[np.sort(order[number < np.abs(net)[group[order]]])]
    used, corners = np.unique(faces, return_inverse=True)
    return Mesh(points=mesh.points[used], faces=corners.reshape(-1, 3))


def _joined(meshes: Sequence[Mesh]) -> Mesh:
    """Return meshes as one, their corners kept apart."""
    before = np.cumsum([0, *(len(mesh.points) for mesh in meshes)])
    return Mesh(
        points=np.concatenate([mesh.points for mesh in meshes]),
        faces=np.concatenate([m.faces + k for m, k in zip(meshes, before, strict=False)]),
    )


def _simplified(name: str, triangles: FloatArray) -> FloatArray:
    """Return a shell with what is smaller than 0.001 mm collapsed."""
    simple = _solid_mesh(_cleaned(merged(triangles)), simplify_mm=SIMPLIFIED_MM)
    if simple is None:
        raise SurfaceError(f"{name} cannot be simplified: it does not close")
    return simple.triangles


def _solid_mesh(mesh: Mesh, *, simplify_mm: float = 0.0) -> Mesh | None:
    """Return a mesh as the boolean library's solid has it; None if that takes it for none."""
    from manifold3d import Error

    solid = as_solid(mesh)
    if solid.status() != Error.NoError:
        return None
    return mesh_of(solid.simplify(simplify_mm) if simplify_mm else solid)


def _read_back(name: str, data: bytes) -> list[Shell]:
    """Return the shells that a reader finds in the file, the largest first."""
    shells: list[Shell] = []
    for part in read_mesh_bytes(data, name).parts:
        found = outer_shells(name, part.triangles)
        for sentence in (*found.repairs, *found.dropped):
            raise SurfaceError(sentence)
        shells += found.shells
    return sorted(shells, key=lambda shell: -shell.volume_mm3)


def _compared(shells: _Shells, back: Sequence[Shell], tolerance: float) -> float:
    """Return the greatest share by which a shell's volume differs; refuse more than allowed."""
    volumes = sorted((_volume_mm3(triangles) for _, triangles in shells), reverse=True)
    if len(back) != len(volumes):
        raise SurfaceError(f"shells to be written: {len(volumes)}, read back: {len(back)}")
    worst = 0.0
    for written, read in zip(volumes, back, strict=True):
        share = abs(read.volume_mm3 / written - 1.0)
        if not share <= tolerance:
            msg = f"a shell of {written / MM3_PER_CM3:.6g} cm³ came back {share:.1e} of that off"
            raise SurfaceError(f"{msg}, at most {tolerance:g}")
        worst = max(worst, share)
    return worst


def _volume_mm3(triangles: FloatArray) -> float:
    """Return the volume that triangles enclose [mm³]."""
    a, b, c = np.moveaxis(triangles - triangles.mean(axis=(0, 1)), 1, 0)
    return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6.0)


def _check_disk(path: Path, data: bytes) -> None:
    """Refuse and remove a file that does not hold what was written to it."""
    try:
        same = path.read_bytes() == data
        if not same:
            path.unlink()
    except OSError as refused:
        msg = f"{path}: was written and cannot be read back ({reason(refused)})"
        raise InputError(f"{msg}; check the disk") from refused
    if not same:
        msg = f"{path}: the disk gave back other bytes than the {len(data)} written; removed"
        raise InputError(f"{msg}; check the disk, or write to another one")
