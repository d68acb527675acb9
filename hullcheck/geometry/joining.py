"""Bodies that touch, overlap or are one and the same."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from hullcheck.errors import SurfaceError
from hullcheck.geometry.rims import flat_ends_meet
from hullcheck.geometry.shells import Shell
from hullcheck.geometry.unite import overlapping, united

NamedShell = tuple[str, Shell]


_SNAP_MM = 1e-3
"""Flat ends as near as this meet: STL files keep a meter to 6e-5 mm, and no printer a thousandth
of a millimeter."""


def snapped(one: Shell, two: Shell) -> tuple[Shell, Shell] | None:
    """Return two shells with the flat ends that butt drawn to one plane, or None where they gape.

    Ends that meet in the CAD program lie a rounding of the file apart, or more after `at_mm`.
    """
    meeting = flat_ends_meet(one.triangles_mm, two.triangles_mm)
    if meeting is None or gap_mm(one, two) > _SNAP_MM:
        return None
    axis, place = meeting
    first, second = (_drawn(shell, axis, place) for shell in (one, two))
    return first, second


def gap_mm(one: Shell, two: Shell) -> float:
    """Return how far apart the boxes around two shells are, along the axis of the widest gap [mm].

    Below 0 they overlap by so much.
    """
    return float(np.maximum(two.low_mm - one.high_mm, one.low_mm - two.high_mm).max())


def _drawn(shell: Shell, axis: int, place_mm: float) -> Shell:
    """Return a shell whose corners within a thousandth of a plane lie in it."""
    triangles = shell.triangles_mm.copy()
    along = triangles[:, :, axis]
    along[np.abs(along - place_mm) <= _SNAP_MM] = place_mm
    return replace(shell, triangles_mm=triangles)


def meeting_place(one: Shell, two: Shell) -> str | None:
    """Return where two shells butt with flat ends, in words, or None."""
    meeting = flat_ends_meet(one.triangles_mm, two.triangles_mm)
    if meeting is None:
        return None
    axis, place = meeting
    return f"station {place:.0f}" if axis == 0 else f"{'xyz'[axis]} = {place:.0f} mm"


def overlap_groups(closed: Sequence[NamedShell], notes: list[tuple[str, str]]) -> list[list[int]]:
    """Return which shells overlap each other, as groups of indices in order.

    Raises
    ------
    SurfaceError
        If two are the same surface in the same place.
    """
    groups = [[i] for i in range(len(closed))]
    for i, (name, one) in enumerate(closed):
        for j in range(i + 1, len(closed)):
            other, two = closed[j]
            if _same(one, two):
                raise SurfaceError(
                    f"{name} and {other} are the same surface in the same place; name it once"
                )
            if overlapping(one, two):
                notes.append(("united", f"{name} and {other} overlap; they count as one body"))
                groups = joined(groups, i, j)
    return groups


def united_group(members: Sequence[NamedShell]) -> list[NamedShell]:
    """Return a group of overlapping shells as one, named after the largest."""
    if len(members) == 1:
        return list(members)
    name = max(members, key=lambda member: member[1].volume_mm3)[0]
    return numbered(name, united(name, [shell for _, shell in members]))


def numbered(name: str, shells: Sequence[Shell]) -> list[NamedShell]:
    """Return shells with a name, numbered when there are several."""
    if len(shells) == 1:
        return [(name, shells[0])]
    return [(f"{name} {i}", shell) for i, shell in enumerate(shells, start=1)]


def _same(one: Shell, two: Shell) -> bool:
    """Return whether two shells have the same triangles, in whatever order."""
    if one.triangles_mm.shape != two.triangles_mm.shape or not (
        np.array_equal(one.low_mm, two.low_mm) and np.array_equal(one.high_mm, two.high_mm)
    ):
        return False
    first, second = (np.sort(shell.triangles_mm.sum(axis=1), axis=0) for shell in (one, two))
    return bool(np.allclose(first, second, rtol=0.0, atol=1e-9))


def joined(groups: list[list[int]], i: int, j: int) -> list[list[int]]:
    """Return the groups with those of two members made one."""
    mine = next(group for group in groups if i in group)
    other = next(group for group in groups if j in group)
    if mine is other:
        return groups
    return [sorted(mine + other) if g is mine else g for g in groups if g is not other]
