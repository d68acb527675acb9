"""Holes are openings until named: the patches of a skin against the openings of the sheet."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from hullcheck.craft.body_skin import BodySkin
from hullcheck.craft.fittings import Lid
from hullcheck.craft.openings import Opening
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outer_records import Patch

NEAR_MM: Final = 3.0
"""How far the points of an opening may lie from the hole they stand for: measured with a ruler, on
either side of a wall (common practice, no source)."""
MOST_POINTS: Final = 64
_LOOKED_AT: Final = 1024


def with_found(
    listed: Sequence[Opening], skins: Sequence[BodySkin], lids: Sequence[Lid] = ()
) -> tuple[tuple[Opening, ...], tuple[BodySkin, ...]]:
    """Return the openings of a craft, those of the sheet first, and the skins with their states.

    Parameters
    ----------
    listed : sequence of Opening
        The sheet's.
    skins : sequence of BodySkin
        With the patches that had to be invented.
    lids : sequence of Lid
        The sheet's: an opening under one of them has its name.

    Returns
    -------
    tuple of Opening
        A patch of kind "opening" or "lid" that no opening of the sheet stands for is one without a
        stated state.
    tuple of BodySkin
        With their patches called as the openings are: lids, and those that openings of the sheet
        stand for, by the sheet's names, others by what they are, no two alike; with their states.
    """
    holes = _holes(skins, lids)
    patches = [[skins[hole.body].patches[k] for k in hole.patches] for hole in holes]
    stands = _standing_for([pieces[0] for pieces in patches], [hole.name for hole in holes], listed)
    made = [_opening_of(pieces, hole.name) for pieces, hole in zip(patches, holes, strict=True)]
    openings = _named(listed, made, [skins[hole.body].name for hole in holes], stands)
    told = list(skins)
    for hole, opening, stand in zip(holes, openings, stands, strict=True):
        for number in hole.patches:
            told[hole.body] = _with_name(told[hole.body], number, opening.called, stand)
    new = [one for one, stand in zip(openings, stands, strict=True) if stand is None]
    return (*listed, *new), tuple(told)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hole:
    """What water could come in by: its body, its patches by number, the name of the lid on it."""

    body: int
    patches: tuple[int, ...]
    name: str


def _holes(skins: Sequence[BodySkin], lids: Sequence[Lid]) -> list[_Hole]:
    """Return the holes of all skins; what of one lid fell into pieces is one."""
    found: list[_Hole] = []
    for i, skin in enumerate(skins):
        of_lid: dict[str, int] = {}
        for k, patch in enumerate(skin.patches):
            if patch.kind == "seam":
                continue
            name = lid_of(patch, lids) if patch.kind == "lid" else ""
            if name in of_lid:
                whole = found[of_lid[name]]
                found[of_lid[name]] = replace(whole, patches=(*whole.patches, k))
                continue
            if name:
                of_lid[name] = len(found)
            found.append(_Hole(body=i, patches=(k,), name=name))
    return found


def _opening_of(pieces: Sequence[Patch], name: str) -> Opening:
    """Return the patches of a hole as an opening of which nothing is stated."""
    edge = np.concatenate([piece.edge_mm for piece in pieces])
    if not len(edge):
        edge = np.concatenate([piece.triangles_mm.reshape(-1, 3) for piece in pieces])
    return Opening(name=name, points_mm=thinned(edge))


def _with_name(skin: BodySkin, number: int, name: str, stands: Opening | None) -> BodySkin:
    """Return a skin with a patch called by a name, and the state of what stands for it."""
    if skin.skin is None:
        return skin
    patches = list(skin.skin.patches)
    patches[number] = replace(patches[number], name=name)
    states = dict(skin.states)
    if stands is not None and stands.state is not None:
        states[name] = stands.state
    return replace(skin, skin=replace(skin.skin, patches=tuple(patches)), states=states)


def lid_of(patch: Patch, lids: Sequence[Lid]) -> str:
    """Return the name of the lid that closes a patch."""
    for lid in lids:
        if patch.name == lid.name:
            return lid.name
    for lid in lids:
        if lies_within(patch.center_mm, lid.outline_mm):
            return lid.name
    return patch.name


def lies_on(points_mm: FloatArray, patch: Patch) -> bool:
    """Return whether points, shape (k, 3) [mm], are those of a patch's hole.

    They are where each lies within 3 mm of the box around it and one at least within 3 mm of its
    edge or face, or where they go around its middle.
    """
    low, high = patch.low_mm - NEAR_MM, patch.high_mm + NEAR_MM
    if bool(((points_mm >= low) & (points_mm <= high)).all()):
        return _distance_mm(points_mm, patch) <= NEAR_MM
    return lies_within(patch.center_mm, points_mm)


def lies_within(point_mm: FloatArray, outline_mm: FloatArray) -> bool:
    """Return whether a point lies inside a closed outline, shape (k, 3) [mm], seen square to it.

    It may lie off the outline's plane by half its shorter side, as a bulging deck does.
    """
    if len(outline_mm) < 3:
        return False
    middle = outline_mm.mean(axis=0)
    spokes = outline_mm - middle
    _, sizes, axes = np.linalg.svd(spokes, full_matrices=False)
    if len(sizes) < 2 or sizes[1] < 1e-9 * max(sizes[0], 1e-300):
        return False
    flat, at = spokes @ axes.T, (point_mm - middle) @ axes.T
    shorter = float(np.ptp(flat[:, 1]))
    if abs(float(at[2])) > float(np.abs(flat[:, 2]).max()) + max(0.5 * shorter, NEAR_MM):
        return False
    a, b = flat[:, :2], np.roll(flat[:, :2], -1, axis=0)
    spans = (a[:, 1] > at[1]) != (b[:, 1] > at[1])
    a, b = a[spans], b[spans]
    crossing = a[:, 0] + (at[1] - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])
    return bool(np.count_nonzero(crossing > at[0]) % 2)


def thinned(edge_mm: FloatArray, most: int = MOST_POINTS, *, within_mm: float = 0.0) -> FloatArray:
    """Return the points of a closed edge that matter, in order: those that stand off its chords.

    Parameters
    ----------
    edge_mm : ndarray, shape (k, 3)
        In order [mm].
    most : int
        How many to keep at most; 6 at least.
    within_mm : float
        Fewer are kept where none that goes stands farther than this off the line between its
        neighbors [mm]; at 0 those that are extreme along an axis stay besides.
    """
    spread = np.linspace(0, len(edge_mm) - 1, min(len(edge_mm), _LOOKED_AT)).astype(int)
    extremes = np.concatenate([edge_mm.argmin(axis=0), edge_mm.argmax(axis=0)])
    kept = np.union1d(spread, extremes)
    ring: FloatArray = edge_mm[kept]
    held = np.isin(kept, extremes) if within_mm == 0.0 else np.zeros(len(kept), dtype=bool)
    while len(ring) > most or (within_mm > 0.0 and len(ring) > 3):
        before, after = np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0)
        chords = np.linalg.norm(after - before, axis=1)
        spans = np.linalg.norm(np.cross(before - ring, after - ring), axis=1)
        off = np.where(chords > 0.0, spans / np.where(chords > 0.0, chords, 1.0), 0.0)
        off[held] = np.inf
        least = int(off.argmin())
        if len(ring) <= most and off[least] > within_mm:
            break
        ring, held = np.delete(ring, least, axis=0), np.delete(held, least)
    return ring


def _standing_for(
    patches: Sequence[Patch], names: Sequence[str], listed: Sequence[Opening]
) -> list[Opening | None]:
    """Return the sheet's opening that stands for each patch: by its place, else its lid's name.

    Of a lid and its twin by mirror only the nearer one goes by the name.
    """
    found: list[Opening | None] = []
    for patch in patches:
        near = [one for one in listed if lies_on(one.points_mm, patch)]
        one = min(near, key=lambda o: _distance_mm(o.points_mm, patch), default=None)
        found.append(one)
    for opening in listed:
        alike = [k for k, name in enumerate(names) if name and name == opening.name]
        if not alike or any(found[k] is opening for k in alike):
            continue
        nearest = min(alike, key=lambda k: _distance_mm(opening.points_mm, patches[k]))
        found[nearest] = found[nearest] or opening
    return found


def _distance_mm(points_mm: FloatArray, patch: Patch) -> float:
    """Return the least distance of any of some points to a patch's edge or face [mm]."""
    starts, stops = patch.edge_mm, np.roll(patch.edge_mm, -1, axis=0)
    along = stops - starts
    lengths = np.maximum(np.einsum("ij,ij->i", along, along), 1e-300)
    least = np.inf
    normals = np.cross(
        patch.triangles_mm[:, 1] - patch.triangles_mm[:, 0],
        patch.triangles_mm[:, 2] - patch.triangles_mm[:, 0],
    )
    for point in points_mm:
        if len(starts):
            share = (np.einsum("ij,ij->i", point - starts, along) / lengths).clip(0.0, 1.0)
            feet = starts + share[:, None] * along
            least = min(least, float(np.linalg.norm(feet - point, axis=1).min()))
        least = min(least, _over_faces_mm(point, patch.triangles_mm, normals))
    return float(least)


def _over_faces_mm(point: FloatArray, triangles: FloatArray, normals: FloatArray) -> float:
    """Return how far a point stands off the triangles it lies square above; inf if none [mm]."""
    inside = np.ones(len(triangles), dtype=bool)
    for k in range(3):
        a, b = triangles[:, k], triangles[:, (k + 1) % 3]
        inside &= np.einsum("ij,ij->i", np.cross(b - a, point - a), normals) >= 0.0
    sizes = np.linalg.norm(normals, axis=1)
    inside &= sizes > 0.0
    if not inside.any():
        return np.inf
    off = np.einsum("ij,ij->i", point - triangles[inside, 0], normals[inside])
    return float((np.abs(off) / sizes[inside]).min())


def _named(
    listed: Sequence[Opening],
    made: Sequence[Opening],
    bodies: Sequence[str],
    stands: Sequence[Opening | None],
) -> list[Opening]:
    """Return each hole's opening by its name: its lid's, the sheet's opening's, or its place."""
    held = [k for k, stand in enumerate(stands) if stand is not None]
    named = {
        k: replace(made[k], name=made[k].name or stand.called)
        for k, stand in enumerate(stands)
        if stand is not None
    }
    # One opening of the sheet may stand for several holes.
    apart = _told_apart([named[k] for k in held], [bodies[k] for k in held], [])
    taken = [one.called for one in (*listed, *apart)]
    openings = _told_apart(made, bodies, taken, [stand is None for stand in stands])
    for k, one in zip(held, apart, strict=True):
        openings[k] = one
    return openings


def _told_apart(
    openings: Sequence[Opening],
    bodies: Sequence[str],
    taken: Sequence[str],
    are_new: Sequence[bool] | None = None,
) -> list[Opening]:
    """Return openings so that no two are called the same: by side, then by body, then numbered.

    What is taken is so only for those that are new; all are where that is not told.
    """
    told = list(openings)
    new = [True] * len(told) if are_new is None else list(are_new)
    for words in ([_side(opening) for opening in told], [f" of {body}" for body in bodies]):
        names = [opening.called for opening in told]
        told = [
            replace(one, where=f"{one.where}{word}")
            if names.count(name) > 1 or (is_new and name in taken)
            else one
            for one, name, word, is_new in zip(told, names, words, new, strict=True)
        ]
    for i, one in enumerate(told):
        before = [other.called for other in told[:i]] + (list(taken) if new[i] else [])
        number = 2
        while told[i].called in before:
            told[i] = replace(one, where=f"{one.where} ({number})")
            number += 1
    return told


def _side(opening: Opening) -> str:
    """Return which side an opening lies on, in words; "" where it lies across the middle."""
    across = opening.points_mm[:, 1]
    low, high = float(across.min()), float(across.max())
    if low < 0.0 < high and min(-low, high) > 0.25 * (high - low):
        return ""
    return " to starboard" if low + high > 0.0 else " to port"
