"""The bodies that parts in place make: skins, roles, names, twins."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.begin_axes import step_below
from hullcheck.answers.begin_records import BodyBegun, FilePart
from hullcheck.craft.bodies import FREEBOARD_ROLES, Role, guessed_roles
from hullcheck.errors import SurfaceError
from hullcheck.geometry.arrays import FloatArray, bounds
from hullcheck.geometry.outer_records import OuterSkin
from hullcheck.geometry.part_groups import alike
from hullcheck.geometry.shells import Shell

_TWIN_MM: Final = 1.0
_SECOND_SHARE: Final = 0.01


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Made:
    """A group of parts, its surface, and the skin it makes or why it makes none."""

    parts: tuple[int, ...]
    surface: FloatArray
    skin: OuterSkin | None
    refusal: str

    @property
    def shell(self) -> Shell:
        """Its largest shell, or where there is none the convex hull of its parts."""
        return _convex_shell(self.surface) if self.skin is None else self.skin.shells[0]

    @property
    def inside(self) -> tuple[int, ...]:
        """Numbers of the parts of which nothing is outer skin."""
        if self.skin is None or len(self.skin.parts) != len(self.parts):
            return ()
        seen = np.unique(np.concatenate(self.skin.sources)).tolist()
        return tuple(part for k, part in enumerate(self.parts) if k not in seen)


@dataclass(frozen=True, slots=True, kw_only=True)
class BodiesBegun:
    """The bodies, the largest first; where their center plane stands, y [mm]; what is told."""

    bodies: tuple[BodyBegun, ...]
    center_plane_mm: float
    notes: tuple[str, ...]


def bodies_begun(
    parts: Sequence[FilePart],
    groups: Sequence[tuple[int, ...]],
    placed: Sequence[FloatArray | None],
    skin_of: Callable[[str, Sequence[tuple[str, FloatArray]]], OuterSkin],
    tell: Callable[[str], None],
) -> BodiesBegun:
    """Return the bodies of groups of parts, the largest first, and what is to be said of them.

    Parameters
    ----------
    parts : sequence of FilePart
        All of them.
    groups : sequence of tuple of int
        Which parts make a body.
    placed : sequence of ndarray, shape (n, 3, 3), or None
        Each part in body axes [mm]; None for one without a place: a body of such has no skin.
    skin_of, tell : callable
        As in `first_look`.
    """
    made = [_made(parts, _from_bow(group, placed), placed, skin_of) for group in groups]
    made.sort(key=lambda one: -one.shell.volume_mm3)
    roles = guessed_roles(tuple(one.shell for one in made))
    mains = [one.shell for one, role in zip(made, roles, strict=True) if role in FREEBOARD_ROLES]
    middle = float(np.mean([shell.center_plane_mm for shell in mains]))
    names = _names(parts, made, roles, middle)
    notes: list[str] = []
    bodies = []
    for k, (one, role, name) in enumerate(zip(made, roles, names, strict=True)):
        tell(f"looking for the step of {name}")
        twin = next((names[j] for j in _twins(made, k, middle)), "")
        shell = one.shell
        half = 0.5 * float(shell.high_mm[1] - shell.low_mm[1])
        bodies.append(
            BodyBegun(
                name=name,
                role=role,
                parts=one.parts,
                skin=one.skin,
                refusal=one.refusal,
                step=None if one.skin is None else step_below(shell.triangles_mm),
                twin=twin,
                inside=one.inside,
                lone=not twin and abs(shell.center_plane_mm - middle) > half,
                low_mm=_point(bounds(one.surface)[0]),
                high_mm=_point(bounds(one.surface)[1]),
            )
        )
        notes += _said_of(name, one, parts)
    return BodiesBegun(bodies=tuple(bodies), center_plane_mm=middle, notes=tuple(notes))


def _from_bow(group: tuple[int, ...], placed: Sequence[FloatArray | None]) -> tuple[int, ...]:
    """Return the parts of a group from the bow; as they come where they have no place."""
    foremost: list[tuple[float, int]] = []
    for i in group:
        own = placed[i]
        if own is None:
            return group
        foremost.append((float(bounds(own)[0][0]), i))
    return tuple(i for _, i in sorted(foremost))


def _made(
    parts: Sequence[FilePart],
    group: tuple[int, ...],
    placed: Sequence[FloatArray | None],
    skin_of: Callable[[str, Sequence[tuple[str, FloatArray]]], OuterSkin],
) -> _Made:
    """Return a group's surface and its skin; the refusal of one is kept as the user is to read."""
    pieces = [(parts[i].name, placed[i]) for i in group]
    ready = [(name, piece) for name, piece in pieces if piece is not None]
    if len(ready) < len(pieces):
        surface = np.concatenate([parts[i].triangles_mm for i in group])
        return _Made(parts=group, surface=surface, skin=None, refusal="")
    surface = np.concatenate([piece for _, piece in ready])
    skin, refusal = None, ""
    try:
        skin = skin_of(_working_name(parts, group), ready)
    except SurfaceError as problem:
        refusal = str(problem)
    return _Made(parts=group, surface=surface, skin=skin, refusal=refusal)


def _working_name(parts: Sequence[FilePart], group: Sequence[int]) -> str:
    """Return what a group is called before its role is known."""
    return parts[group[0]].name if len(group) == 1 else "the hull"


def _convex_shell(surface: FloatArray) -> Shell:
    """Return the convex hull of a surface: its size and place, for the guess of a role."""
    from scipy.spatial import ConvexHull

    points = surface.reshape(-1, 3)
    hull = ConvexHull(points)
    triangles = points[hull.simplices]
    sides = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    inward = np.einsum("ij,ij->i", sides, hull.equations[:, :3]) < 0.0
    triangles[inward] = triangles[inward, ::-1]
    return Shell(triangles_mm=triangles, volume_mm3=float(hull.volume), area_mm2=float(hull.area))


def _twins(made: Sequence[_Made], k: int, middle_mm: float) -> list[int]:
    """Return which groups are the mirror image of another, at its place on the other side."""
    own = made[k]
    found = []
    for j, other in enumerate(made):
        if j == k or abs(own.shell.volume_mm3 / other.shell.volume_mm3 - 1.0) > 0.02:
            continue
        low, high = (np.array(bounds(one.surface)) for one in (own, other))
        over = low * np.array([1.0, -1.0, 1.0]) + np.array([0.0, 2.0 * middle_mm, 0.0])
        over[:, 1] = np.sort(over[:, 1])
        aside = abs(own.shell.center_plane_mm - middle_mm) > _TWIN_MM
        there = aside and bool(np.abs(over - high).max() <= _TWIN_MM)
        if there and alike(own.surface, other.surface, mirrored=True):
            found.append(j)
    return found


def _names(
    parts: Sequence[FilePart], made: Sequence[_Made], roles: Sequence[Role], middle_mm: float
) -> list[str]:
    """Return what bodies are called: as their one part, else by side and role; none twice."""
    names: list[str] = []
    for one, role in zip(made, roles, strict=True):
        name = parts[one.parts[0]].name
        if len(one.parts) > 1:
            name = _group_name([parts[i].name for i in one.parts], role)
            across = one.shell.center_plane_mm - middle_mm
            if role in ("main float", "tip float"):
                name = f"{'starboard' if across > 0.0 else 'port'} {name}"
        plain, number = name, 1
        while name.casefold() in {other.casefold() for other in names}:
            number += 1
            name = f"{plain} {number}"
        names.append(name)
    return names


def _group_name(parts: Sequence[str], role: Role) -> str:
    """Return what a body of several parts is called: its role, else what its parts share."""
    if role in ("hull", "main float", "tip float"):
        return role.removeprefix("main ")
    shared = parts[0]
    while shared and not all(part.startswith(shared) for part in parts):
        shared = shared[:-1]
    shared = shared.rstrip(" -.0123456789")
    return shared if len(shared) > 2 else "body"


def _said_of(name: str, one: _Made, parts: Sequence[FilePart]) -> list[str]:
    """Return what is to be said of a body's skin, a sentence each."""
    if one.refusal:
        return [f"{name}: no outer skin yet: {one.refusal}"]
    if one.skin is None:
        return []
    said = [message for _, message in one.skin.notes]
    said += [
        f"{parts[i].name} lies inside {name} and adds nothing to her skin: does it lie in place? A "
        "float on its own center plane goes into a [[body]] of its own, with at_mm"
        for i in one.inside
    ]
    shells = one.skin.shells
    if len(shells) > 1 and shells[1].volume_mm3 > _SECOND_SHARE * shells[0].volume_mm3:
        said.append(
            f"{name}: its files hold {len(shells)} bodies apart from each other, which get one "
            "role and one name with numbers: give each a file of its own"
        )
    return said


def _point(values: FloatArray) -> tuple[float, float, float]:
    """Return three numbers as a point."""
    x, y, z = (float(value) for value in values)
    return x, y, z
