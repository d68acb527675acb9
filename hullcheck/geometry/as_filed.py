"""Parts that are closed as they are: their own triangles are the skin, or their union is."""

from collections.abc import Sequence
from itertools import combinations

import numpy as np

from hullcheck.errors import SurfaceError
from hullcheck.geometry.arrays import FloatArray, IntArray
from hullcheck.geometry.joining import joined, meeting_place, overlap_groups, snapped
from hullcheck.geometry.outer_records import OuterSkin, PartFound, SkinChecks
from hullcheck.geometry.part_ends import GAP_MM
from hullcheck.geometry.shells import Shell, Shells, outer_shells
from hullcheck.geometry.skin_solids import solid_of
from hullcheck.geometry.skin_union import united_hulks
from hullcheck.geometry.topology import merged


def as_filed(name: str, parts: Sequence[tuple[str, FloatArray]]) -> OuterSkin | None:
    """Return the skin of parts that each close by themselves, or None where one does not.

    Parameters
    ----------
    name : str
        What the body is called.
    parts : sequence of (str, ndarray of shape (n, 3, 3))
        Name and triangles of each, placed [mm].

    Raises
    ------
    SurfaceError
        If all are closed and too far apart to be one body, or one is given twice.

    Notes
    -----
    Nothing is invented: the skin is the triangles of one file, or the union of several. Parts that
    gape at a seam are not taken here.
    """
    found: list[Shells] = []
    for part, triangles in parts:
        try:
            found.append(outer_shells(part, triangles))
        except SurfaceError:
            # Open, a thin wall, or damaged: what that means is found out where walls are united.
            return None
    records = tuple(
        _part(part, triangles, shells)
        for (part, triangles), shells in zip(parts, found, strict=True)
    )
    if len(parts) == 1:
        shells, sources = found[0].shells, _all_of(found[0].shells, 0)
        return _skin(name, shells, sources, records)
    closed = [
        (part, shell)
        for (part, _), shells in zip(parts, found, strict=True)
        for shell in shells.shells
    ]
    owners = [k for k, shells in enumerate(found) for _ in shells.shells]
    return _joined(name, closed, owners, records)


def _joined(
    name: str,
    closed: list[tuple[str, Shell]],
    owners: Sequence[int],
    records: tuple[PartFound, ...],
) -> OuterSkin | None:
    """Return the union of closed parts that butt or overlap; None where a seam gapes."""
    groups = overlap_groups(closed, [])
    gapes = False
    for i, j in combinations(range(len(closed)), 2):
        (one_name, one), (two_name, two) = closed[i], closed[j]
        if meeting_place(one, two) is None:
            continue
        groups = joined(groups, i, j)
        met = snapped(one, two)
        gapes |= met is None
        if met is not None:
            closed[i], closed[j] = (one_name, met[0]), (two_name, met[1])
    if len(groups) > 1:
        (first, here), (second, there) = closed[groups[0][0]], closed[groups[1][0]]
        away = _distance_mm(here, there)
        if away <= GAP_MM:
            return None
        raise SurfaceError(
            f"{first} and {second} do not make one skin: about {away:.1f} mm lie between them. "
            "Move one with at_mm, or give each a [[body]] of its own (they stand under "
            f'"{name}")'
        )
    solids = [solid_of(merged(shell.triangles_mm)) for _, shell in closed]
    if gapes or any(solid is None for solid in solids):
        return None
    marked = [(solid, k) for solid, k in zip(solids, owners, strict=True) if solid is not None]
    hulks = united_hulks(name, marked)
    shells = tuple(
        Shell(triangles_mm=h.mesh.triangles, volume_mm3=h.volume_mm3, area_mm2=h.area_mm2)
        for h in hulks
    )
    if len(shells) > 1:
        return None
    return _skin(name, shells, tuple(h.owner for h in hulks), records, whole=False)


def _part(part: str, triangles: FloatArray, shells: Shells) -> PartFound:
    """Return what was found in a closed part."""
    said = [*shells.repairs, *shells.dropped]
    return PartFound(
        name=part,
        triangles_mm=triangles,
        kind="closed skin",
        material_volume_mm3=sum(shell.volume_mm3 for shell in shells.shells),
        found=tuple(sentence.removeprefix(f"{part}: ") for sentence in said),
    )


def _all_of(shells: Sequence[Shell], part: int) -> tuple[IntArray, ...]:
    """Return sources that are one part throughout."""
    return tuple(np.full(len(shell.triangles_mm), part, dtype=np.int64) for shell in shells)


def _skin(
    name: str,
    shells: tuple[Shell, ...],
    sources: tuple[IntArray, ...],
    parts: tuple[PartFound, ...],
    *,
    whole: bool = True,
) -> OuterSkin:
    """Return a skin without inventions."""
    volume = sum(part.material_volume_mm3 or 0.0 for part in parts)
    return OuterSkin(
        name=name,
        shells=shells,
        sources=sources,
        method="as filed" if whole else "united",
        parts=parts,
        checks=SkinChecks(solid_share=volume / sum(shell.volume_mm3 for shell in shells)),
    )


def _distance_mm(one: Shell, two: Shell) -> float:
    """Return the least distance between the corners of two shells [mm]."""
    from scipy.spatial import cKDTree

    tree = cKDTree(one.triangles_mm.reshape(-1, 3))
    return float(tree.query(two.triangles_mm.reshape(-1, 3))[0].min())
