"""Parts in place: which belong together, which lie in each other's place, which are mirrored."""

from collections.abc import Sequence
from itertools import combinations
from typing import Final

import numpy as np

from hullcheck.geometry import end_rings
from hullcheck.geometry.areas import surface_area_mm2
from hullcheck.geometry.arrays import FloatArray, bounds

TOGETHER_MM: Final = 4.0
"""Parts farther apart than this are different bodies (a seam gapes less; common practice, no
source)."""
_COARSE_MM: Final = 8.0
_FINE_MM: Final = 1.0
_MOST_POINTS: Final = 300_000
_SLACK: Final = 2.0 / np.sqrt(3.0)
"""No point of a triangle lies farther from its nearest corner than its longest side ÷ √3."""
_AREA_SHARE: Final = 0.005
_SIZE_MM: Final = 0.5
_SHAPE_MM: Final = 0.7
_INSIDE_MM: Final = 0.5
_SMALL_SHARE: Final = 0.2
"""Of all surface: open parts of less than this, such as a hatch with a rim, are fittings."""


def near_groups(
    parts: Sequence[FloatArray], *, within_mm: float = TOGETHER_MM
) -> tuple[tuple[int, ...], ...]:
    """Return which parts belong together, as groups of their numbers in order.

    Parameters
    ----------
    parts : sequence of ndarray, shape (n, 3, 3)
        As they lie [mm].
    within_mm : float
        Parts that touch, overlap or lie no farther apart than this are of one group [mm].

    Returns
    -------
    tuple of tuple of int

    Notes
    -----
    Surfaces are compared point by point: parts up to 1.2 mm farther apart may count as near, none
    that is nearer is missed. A group whose box lies inside that of another is in it, as a tray or a
    rib that touches nothing.
    """
    boxes = [bounds(part) for part in parts]
    group = list(range(len(parts)))
    for i, j in combinations(range(len(parts)), 2):
        if group[i] != group[j] and lie_near(parts[i], parts[j], within_mm=within_mm):
            group = [group[i] if g == group[j] else g for g in group]
    members = [[i for i, g in enumerate(group) if g == one] for one in dict.fromkeys(group)]
    members.sort(key=lambda m: -float(np.prod(np.ptp(_box([boxes[i] for i in m]), axis=0))))
    kept: list[list[int]] = []
    for group_ in members:
        own = _box([boxes[i] for i in group_])
        host = next((k for k in kept if box_within(own, _box([boxes[i] for i in k]))), None)
        if host is None:
            kept.append(group_)
        else:
            host += group_
    return tuple(sorted(tuple(sorted(k)) for k in kept))


def lie_in_place(parts: Sequence[FloatArray]) -> tuple[bool, tuple[int, ...]]:
    """Return whether parts lie in place as they were read, and those of which it is not sure.

    Parameters
    ----------
    parts : sequence of ndarray, shape (n, 3, 3)
        All in the same axes [mm].

    Returns
    -------
    bool
        True when fewer than two parts are open at an end, or the open ones lie end to end with
        another; a small one may lie elsewhere (a hatch with a rim), where more do than do not.
    tuple of int
        Numbers of those small ones.
    """
    rings = [ring for i, part in enumerate(parts) for ring in end_rings.rings_of(i, part)]
    tubes = {ring.part for ring in rings if ring.ends_a_tube}
    if len(tubes) < 2:
        return True, ()
    together = {
        ring.part
        for one, two in combinations(rings, 2)
        if one.part != two.part and (one.hollow or two.hollow)
        if end_rings.lie_together(one, two)
        for ring in (one, two)
    }
    apart = sorted(tubes - together)
    areas = np.array([surface_area_mm2(part) for part in parts])
    small = float(areas[apart].sum()) <= _SMALL_SHARE * float(areas.sum())
    return not apart or (small and len(apart) < len(tubes & together)), tuple(apart)


def lie_near(one: FloatArray, two: FloatArray, *, within_mm: float = TOGETHER_MM) -> bool:
    """Return whether two surfaces, (n, 3, 3) each, touch, overlap or lie near each other."""
    (low_a, high_a), (low_b, high_b) = bounds(one), bounds(two)
    low = np.maximum(low_a, low_b) - within_mm
    high = np.minimum(high_a, high_b) + within_mm
    if (low > high).any():
        return False
    # Points of both surfaces are really there: what is near in the coarse lattice is near.
    coarse = [_lattice(part, _COARSE_MM, low, high) for part in (one, two)]
    if any(len(points) == 0 for points, _ in coarse):
        return False
    if _distance(coarse[0][0], coarse[1][0], within_mm):
        return True
    (first, side), (second, other) = (_lattice(part, _FINE_MM, low, high) for part in (one, two))
    return _distance(first, second, within_mm + 0.5 * _SLACK * (side + other))


def _distance(one: FloatArray, two: FloatArray, within_mm: float) -> bool:
    """Return whether any of some points lies within a distance of any of others."""
    from scipy.spatial import cKDTree

    found, _ = cKDTree(one).query(two, distance_upper_bound=np.nextafter(within_mm, np.inf))
    return bool(np.isfinite(found).any())


def _lattice(
    triangles: FloatArray, side_mm: float, low: FloatArray, high: FloatArray
) -> tuple[FloatArray, float]:
    """Return points on triangles that reach into a box, and the longest side between them [mm].

    Longest sides are halved until none is longer than asked, or the points are too many.
    """
    kept = _reaching(triangles, low, high)
    longest = 0.0
    while len(kept):
        sides = np.linalg.norm(kept - np.roll(kept, -1, axis=1), axis=2)
        longest = float(sides.max())
        long = sides.max(axis=1) > side_mm
        if not long.any() or len(kept) > _MOST_POINTS:
            break
        turned = np.take_along_axis(
            kept[long],
            ((sides[long].argmax(axis=1)[:, None] + np.arange(3)) % 3)[:, :, None],
            axis=1,
        )
        start, stop, tip = turned[:, 0], turned[:, 1], turned[:, 2]
        middle = 0.5 * (start + stop)
        halves = np.concatenate(
            [np.stack([start, middle, tip], axis=1), np.stack([middle, stop, tip], axis=1)]
        )
        kept = np.concatenate([kept[~long], _reaching(halves, low, high)])
    return np.unique(kept.reshape(-1, 3), axis=0), longest


def _reaching(triangles: FloatArray, low: FloatArray, high: FloatArray) -> FloatArray:
    """Return the triangles whose boxes meet a box."""
    reach = (triangles.min(axis=1) <= high) & (triangles.max(axis=1) >= low)
    found: FloatArray = triangles[reach.all(axis=1)]
    return found


def _box(boxes: Sequence[tuple[FloatArray, FloatArray]]) -> FloatArray:
    """Return the box around boxes, shape (2, 3)."""
    return np.array([np.min([b[0] for b in boxes], axis=0), np.max([b[1] for b in boxes], axis=0)])


def box_within(inner: FloatArray, outer: FloatArray) -> bool:
    """Return whether a box, low and high corner (2, 3), lies inside another [mm]."""
    fits = (inner[0] >= outer[0] - _INSIDE_MM) & (inner[1] <= outer[1] + _INSIDE_MM)
    return bool(fits.all())


def shared_box(one: FloatArray, two: FloatArray) -> float:
    """Return the share of their common box that the boxes around two parts have in common, 0 to 1.

    Parameters
    ----------
    one, two : ndarray, shape (n, 3, 3)
        As they lie [mm]. A flat part counts as 1 mm thick.
    """
    (low_a, high_a), (low_b, high_b) = bounds(one), bounds(two)
    common = np.minimum(high_a, high_b) - np.maximum(low_a, low_b)
    if (common < 0.0).any():
        return 0.0
    volumes = [float(np.prod(np.maximum(s, 1.0))) for s in (common, high_a - low_a, high_b - low_b)]
    return volumes[0] / (volumes[1] + volumes[2] - volumes[0])


def alike(one: FloatArray, two: FloatArray, *, mirrored: bool) -> bool:
    """Return whether two parts have one shape, in the same attitude, wherever they lie.

    Parameters
    ----------
    one, two : ndarray, shape (n, 3, 3)
        Surfaces [mm].
    mirrored : bool
        Whether the first is turned over from left to right (y) before it is compared.

    Notes
    -----
    Area within 0.5 %, sides of the boxes within 0.5 mm, and 99 % of the corners of each within
    0.7 mm of the surface of the other (0.3 % of her length, if that is more).
    """
    sizes = [np.ptp(np.array(bounds(part)), axis=0) for part in (one, two)]
    areas = [surface_area_mm2(part) for part in (one, two)]
    if np.abs(sizes[0] - sizes[1]).max() > _SIZE_MM:
        return False
    if abs(areas[0] - areas[1]) > _AREA_SHARE * max(areas):
        return False
    first = one * np.array([1.0, -1.0, 1.0]) if mirrored else one
    shifted = [part - np.mean(bounds(part), axis=0) for part in (first, two)]
    return _covers(shifted[0], shifted[1]) and _covers(shifted[1], shifted[0])


def _covers(surface: FloatArray, other: FloatArray) -> bool:
    """Return whether nearly all corners of a surface lie on another."""
    from scipy.spatial import cKDTree

    everywhere = np.full(3, np.inf)
    fine = max(_FINE_MM, float(np.ptp(np.array(bounds(other)), axis=0).max()) / 200.0)
    points, side = _lattice(other, fine, -everywhere, everywhere)
    corners = np.unique(surface.reshape(-1, 3), axis=0)
    found, _ = cKDTree(points).query(corners)
    return bool(np.quantile(found, 0.99) <= max(_SHAPE_MM, 0.5 * _SLACK * side))


def asymmetry_mm(triangles: FloatArray, axis: int) -> float:
    """Return how far a surface lies from its mirror image across the middle of an axis [mm].

    Parameters
    ----------
    triangles : ndarray, shape (n, 3, 3)
        As they lie [mm].
    axis : int
        0, 1 or 2: the axis that is turned over.

    Returns
    -------
    float
        90th percentile of the distances of points on the one to points on the other.
    """
    from scipy.spatial import cKDTree

    low, high = bounds(triangles)
    everywhere = np.full(3, np.inf)
    side = max(_FINE_MM, float((high - low).max()) / 100.0)
    points, _ = _lattice(triangles, side, -everywhere, everywhere)
    over = points.copy()
    over[:, axis] = low[axis] + high[axis] - over[:, axis]
    found, _ = cKDTree(points).query(over)
    return float(np.quantile(found, 0.9))
