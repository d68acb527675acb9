"""Parts in their own print axes set end to end by their end rings: a suggestion, no more."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Final

import numpy as np

from hullcheck.errors import SurfaceError
from hullcheck.geometry import end_rings
from hullcheck.geometry.arrays import FloatArray, bounds
from hullcheck.geometry.end_rings import EndRing, Fit
from hullcheck.geometry.frames import turned
from hullcheck.geometry.sections import envelope

Part = tuple[str, FloatArray]
_Match = tuple[EndRing, EndRing, list[Fit]]
_Seam = tuple[FloatArray, EndRing, float]

FIT_MM: Final = 0.3
"""Outlines further apart than this are no joint: a print seam gapes 0.05 to 0.3 mm (common
practice, no source)."""
_MARGIN: Final = 3.0
_ALIKE_MM: Final = 0.01
"""Fits closer than this may differ by the rounding of the files alone."""
_STATIONS: Final = 200
_BY_HAND: Final = "set it by hand with turn_deg and at_mm, or place; or leave it out"


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """Two parts, by number, the forward one first; how far apart their outlines lie; their size."""

    parts: tuple[int, int]
    residual_mm: float
    size: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Suggestion:
    """Where parts in print axes may belong; to be looked at and confirmed.

    Attributes
    ----------
    placements : tuple of (ndarray, shape (4, 4)) or None
        One a part: file coordinates to body axes [mm]; None where nothing fits the part.
    order : tuple of int
        Parts that were placed, from the bow; joints in the same order.
    unplaced, doubts : tuple of str
        A sentence for each part without a place; what was guessed, first of all forward and up.
    """

    placements: tuple[FloatArray | None, ...]
    order: tuple[int, ...]
    joints: tuple[Joint, ...]
    unplaced: tuple[str, ...]
    doubts: tuple[str, ...]


def already_in_place(parts: Sequence[Part]) -> bool:
    """Return whether parts lie end to end as they were read, so that there is nothing to set.

    Parameters
    ----------
    parts : sequence of (str, ndarray of shape (n, 3, 3))
        Names and triangles, all in the same axes [mm].

    Returns
    -------
    bool
        True when each segment with an open end lies end to end with another part (planes −0.5 to
        4 mm apart, outlines within 0.5 mm and half the gap), or fewer than two have open ends.
    """
    rings = _rings(parts)
    tubes = {ring.part for ring in rings if ring.ends_a_tube}
    together = (pair for pair in _pairs(rings) if end_rings.lie_together(*pair))
    return len(tubes) < 2 or tubes <= {ring.part for pair in together for ring in pair}


def suggest_placements(
    parts: Sequence[Part], *, end_for_end: bool = False, upside_down: bool = False
) -> Suggestion:
    """Return where parts in print axes belong, set end to end by the ends that fit.

    Parameters
    ----------
    parts : sequence of (str, ndarray of shape (n, 3, 3))
        Names and triangles, each in its own axes [mm].
    end_for_end, upside_down : bool
        Turn the whole half round about z or about x, where the guess of forward or up was wrong.

    Returns
    -------
    Suggestion
        In body axes: x aft from the foremost point, y to starboard from the plane of symmetry, z up
        from the lowest point. Ends are set in touch: a gap left for glue is not known.

    Raises
    ------
    SurfaceError
        If an end fits two others alike, or another in two positions, or the parts make no one row;
        with the names of the parts.

    """
    names, rings = [name for name, _ in parts], _rings(parts)
    joined = _joined(names, rings)
    row = _row(names, rings, joined)
    placed = {row[0]: np.eye(4)}
    seams: list[_Seam] = []
    for before, after in pairwise(row):
        one, two, ways = next(m for m in joined if {m[0].part, m[1].part} == {before, after})
        onto, end = (one, two) if one.part == before else (two, one)
        placed[after] = placed[before] @ end_rings.facing(onto, end, ways[0])
        seams.append((placed[before], onto, ways[0].residual_mm))
    surface = np.concatenate([parts[i][1] @ placed[i][:3, :3].T + placed[i][:3, 3] for i in row])
    square, doubts = _square_to_body(seams, [placed[i][:3, :3] for i in row])
    guessed, guesses = _bow_and_deck(square, surface)
    turn = turned((180.0 * upside_down, 0.0, 180.0 * end_for_end)) @ guessed
    whole = _whole(turn, surface, seams)
    if float((turn @ seams[0][0][:3, :3] @ seams[0][1].normal)[0]) < 0.0:
        row, seams = row[::-1], seams[::-1]
    for ring in _loose(rings, joined, (row[0], row[-1])):
        doubts.append(
            f"{names[ring.part]} is open at its far end ({ring.size()}): is a part missing?"
        )
    left = [name for i, name in enumerate(names) if i not in placed]
    return Suggestion(
        placements=tuple(whole @ placed[i] if i in placed else None for i in range(len(parts))),
        order=tuple(row),
        joints=tuple(
            Joint(parts=pair, residual_mm=residual, size=ring.size())
            for pair, (_, ring, residual) in zip(pairwise(row), seams, strict=True)
        ),
        unplaced=tuple(f"{name} has no end that fits another part: {_BY_HAND}." for name in left),
        doubts=(*guesses, *doubts),
    )


def _rings(parts: Sequence[Part]) -> list[EndRing]:
    """Return the end rings of all parts."""
    return [ring for i, part in enumerate(parts) for ring in end_rings.rings_of(i, part[1])]


def _pairs(rings: list[EndRing]) -> list[tuple[EndRing, EndRing]]:
    """Return the pairs of ends of two parts, one open at least: decks and floors fit too easily."""
    pairs = combinations(rings, 2)
    return [(a, b) for a, b in pairs if a.part != b.part and (a.hollow or b.hollow)]


def _alike(best: float, second: float) -> bool:
    """Return whether a residual [mm] is too near to the best to tell the two apart."""
    return second <= _MARGIN * max(best, _ALIKE_MM)


def _joined(names: list[str], rings: list[EndRing]) -> list[_Match]:
    """Return the ends that fit each other and nothing else."""
    found: list[_Match] = []
    for one, two in _pairs(rings):
        ways = end_rings.fits(one, two, within_mm=FIT_MM)
        if ways and ways[0].residual_mm <= FIT_MM:
            found.append((one, two, ways))
    best: dict[EndRing, _Match] = {}
    for ring in rings:
        own = sorted((m for m in found if ring in m[:2]), key=lambda m: m[2][0].residual_mm)
        if own:
            _refuse_alike(names, ring, own)
            best[ring] = own[0]
    return [m for m in found if best[m[0]] is m and best[m[1]] is m]


def _refuse_alike(names: list[str], ring: EndRing, own: list[_Match]) -> None:
    """Refuse an end that fits in two positions, or fits two other ends, equally well."""
    end = f"the end of {names[ring.part]} ({ring.size()})"
    others = [names[m[1].part if m[0] is ring else m[0].part] for m in own]
    ways = own[0][2]
    residuals = [way.residual_mm for way in ways]
    if len(ways) > 1 and _alike(*residuals[:2]):
        apart = math.degrees(math.acos(math.cos(ways[0].angle - ways[1].angle)))
        raise SurfaceError(
            f"{end} fits {others[0]} turned by {apart:.0f}° as well as not turned "
            f"({residuals[0]:.2f} and {residuals[1]:.2f} mm apart), so how it sits is not known: "
            f"{_BY_HAND}"
        )
    nearest = [m[2][0].residual_mm for m in own]
    if len(own) > 1 and _alike(*nearest[:2]):
        both = others[0] == others[1]
        which = f"both ends of {others[0]}" if both else " and ".join(others[:2])
        raise SurfaceError(
            f"{end} fits {which} alike ({nearest[0]:.2f} and {nearest[1]:.2f} mm apart), so its "
            f"partner is not known: {_BY_HAND}"
        )


def _loose(rings: list[EndRing], joined: list[_Match], parts: Sequence[int]) -> list[EndRing]:
    """Return the open ends of some parts that fit nothing: of a joined part those opposite."""
    used = [ring for match in joined for ring in match[:2]]
    return [
        ring
        for ring in rings
        if ring.part in parts
        and ring.ends_a_tube
        and all(ring.normal @ other.normal < -0.5 for other in used if other.part == ring.part)
    ]


def _row(names: list[str], rings: list[EndRing], joined: list[_Match]) -> list[int]:
    """Return the parts of the one row that the joints make, from either end."""
    beside: dict[int, list[int]] = {}
    facing: dict[int, list[FloatArray]] = {}
    for match in joined:
        for ring, other in (match[:2], match[1::-1]):
            beside.setdefault(ring.part, []).append(other.part)
            facing.setdefault(ring.part, []).append(ring.normal)
    for part, others in beside.items():
        bent = len(others) == 2 and facing[part][0] @ facing[part][1] > -0.5
        if len(others) > len(set(others[:2])) or bent:
            told = " and ".join(sorted({names[i] for i in others}))
            raise SurfaceError(f"{names[part]} fits {told} in more than one way: {_BY_HAND}")
    rows: list[list[int]] = []
    for row in ([part] for part, others in beside.items() if len(others) == 1):
        while following := [i for i in beside[row[-1]] if i not in row]:
            row.append(following[0])
        rows += [row] * (row[::-1] not in rows)
    row = max(rows, key=len, default=[])
    loose = _loose(rings, joined, range(len(names)))
    apart = {ring.part in row for ring in loose}
    if len(rows) == 1 and len(apart) < 2:
        return row
    told = ", ".join(f"{names[ring.part]} ({ring.size()})" for ring in loose) or "none was found"
    raise SurfaceError(
        f"the parts make no one row: open ends that fit no other within {FIT_MM:g} mm: {told}. A "
        f"part is missing between them, or is of another scale or body: add it; or {_BY_HAND}"
    )


def _square_to_body(
    seams: list[_Seam], rotations: list[FloatArray]
) -> tuple[FloatArray, list[str]]:
    """Return the turn that lays cuts square to x, their line of symmetry along z, and doubts."""
    turns = [at[:3, :3] @ ring.frame for at, ring, _ in seams]
    areas = [ring.outline.area for _, ring, _ in seams]
    symmetries = [end_rings.fits(ring, ring) for _, ring, _ in seams]
    along = np.average([turn[:, 2] for turn in turns], axis=0, weights=areas)
    along /= np.linalg.norm(along)
    up = np.zeros(3)
    for k in np.argsort(areas)[::-1]:
        half = [0.5 * fit.angle for fit in symmetries[k]]
        lines = [turns[k] @ [math.cos(angle), math.sin(angle), 0.0] for angle in half]
        # The largest cut's best line leads; of each other cut the line nearest to it counts.
        line = max(lines, key=lambda line: abs(float(line @ up))) if up.any() else lines[0]
        up = up + areas[k] * line * (-1.0 if line @ up < 0.0 else 1.0)
    up -= along * float(up @ along)
    up /= np.linalg.norm(up)
    square = np.stack((along, np.cross(up, along), up))
    doubts = []
    skew = math.degrees(math.acos(min(1.0, *(float(turn[:, 2] @ along) for turn in turns))))
    if skew > 0.5:
        doubts.append(f"The cuts lie up to {skew:.1f}° askew: x runs along their mean.")
    if (worst := max(ways[0].residual_mm for ways in symmetries)) > FIT_MM:
        doubts.append(f"Not all cuts are symmetric ({worst:.1f} mm): the center plane is a guess.")
    exact = [(end_rings.squared(square @ rotation), rotation) for rotation in rotations]
    near = [turn @ rotation.T for turn, rotation in exact if (turn == np.round(turn)).all()]
    return (near[0] if near else square), doubts


def _bow_and_deck(turn: FloatArray, surface: FloatArray) -> tuple[FloatArray, list[str]]:
    """Return the turn with the fuller half forward and the straighter edge up, and what is told."""
    x, y, z = np.moveaxis(surface @ turn.T, 2, 0)
    stations = np.linspace(x.min(), x.max(), _STATIONS)
    (port, starboard), (low, high) = envelope(x, y, stations), envelope(x, z, stations)
    fullness = np.nan_to_num((starboard - port) * (high - low))
    forward = 0.5 - float(fullness @ np.linspace(0.0, 1.0, _STATIONS) / fullness.sum())
    inner = np.flatnonzero(np.isfinite(low))[_STATIONS // 20 : -_STATIONS // 20]
    bends = []
    for edge in (low, high):
        line = np.polynomial.Polynomial.fit(stations[inner], edge[inner], 1)
        bends.append(float(np.std(edge[inner] - line(stations[inner]))))
    told = [
        "Forward (the fuller half) and up (the straighter edge of the side view) were guessed.",
        "If that is wrong, turn the whole end for end or upside down.",
        "The ends are set in touch: gaps left for glue make the real hull longer.",
    ]
    if abs(forward) < 0.02:
        told.append("Both halves are about as full: forward is little more than a toss.")
    if max(bends) < 1.25 * min(bends):
        told.append("Both edges of the side view bend alike: up is little more than a toss.")
    over = turned((180.0 * (bends[0] < bends[1]), 0.0, 180.0 * (forward < 0.0)))
    return over @ turn, told


def _whole(turn: FloatArray, surface: FloatArray, seams: list[_Seam]) -> FloatArray:
    """Return the 4 × 4 to body axes: x and z from the least, y from the middle of the cuts."""
    areas = [ring.outline.area for _, ring, _ in seams]
    middles = [turn @ (at[:3, :3] @ ring.center_mm + at[:3, 3]) for at, ring, _ in seams]
    corner = bounds(surface @ turn.T)[0]
    corner[1] = np.average(middles, axis=0, weights=areas)[1]
    return np.block([[turn, -corner[:, None]], [np.eye(4)[3:]]])
