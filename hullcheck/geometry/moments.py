"""Surface moments of the wet skin, and the volume moments they contract to.

Everything a floating body needs under a plane is a contraction of three integrals over the wet
part of its closed skin: the area vector ∫ dS_i, the first moments ∫ p_j dS_i and the second
moments ∫ p_j p_k dS_i. No lid is ever built: the field (n·p − h) n has divergence 1 and vanishes
on the water plane.

One sum of them is a row of 31 numbers: 3 area vector, 9 first (i major), 18 second (i major, then
xx yy zz xy xz yz), 1 area. Rows add up.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray

ROW_LENGTH: Final = 31
_SYMMETRIC: Final = np.array([[0, 3, 4], [3, 1, 5], [4, 5, 2]])
_EYE: Final = np.eye(3)
SYMMETRIC_PAIRS: Final = ((0, 0), (1, 1), (2, 2), (0, 1), (0, 2), (1, 2))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class VolumeMoments:
    """What lies under a plane n·p = h, as far as second order.

    Attributes
    ----------
    volume : float
        Displaced volume [mm³].
    height_integral : float
        ∫ (n·p − h) dV [mm⁴], never positive.
    position_integral : ndarray, shape (3,)
        ∫ p dV [mm⁴].
    area : float
        Waterplane area [mm²].
    area_centroid : ndarray, shape (3,)
        Centroid of the waterplane, a point of the plane [mm]; the foot of the origin where the
        area is 0.
    second_moments : ndarray, shape (3, 3)
        ∫ (p − c)(p − c)ᵀ dA of the waterplane about its centroid c [mm⁴]; n is in its null space.
    wetted_area : float
        Area of the skin below the plane [mm²].
    closure_area, closure_volume : float
        Largest of the horizontal components of ∮ dS [mm²], and largest departure from the volume
        of the two independent volumes ∮ (e·p)(e·dS) [mm³]; both are 0 on a closed skin.
    """

    volume: float
    height_integral: float
    position_integral: FloatArray
    area: float
    area_centroid: FloatArray
    second_moments: FloatArray
    wetted_area: float
    closure_area: float
    closure_volume: float


def row_sum(triangles: FloatArray, origin: FloatArray | None = None) -> FloatArray:
    """Return the moments of a group of triangles, as one row.

    Parameters
    ----------
    triangles : ndarray, shape (n, 3, 3)
        Triangle, corner, coordinate [mm], wound so that area vectors point outward.
    origin : ndarray, shape (3,), optional
        Point the moments are taken about [mm]; that of the coordinates when left out.

    Returns
    -------
    ndarray, shape (31,)
        The row described at the head of this module [mm², mm³, mm⁴, mm²].

    Notes
    -----
    With area vector a and corner sum s, ∫ p_j dS_i = a_i s_j / 3 and
    ∫ p_j p_k dS_i = a_i (Σ v_j v_k + s_j s_k) / 12, exact for a flat triangle.

    Examples
    --------
    >>> unit = np.array([[[0.0, 0, 0], [1, 0, 0], [0, 1, 0]]])
    >>> row_sum(unit)[2], row_sum(unit)[30]
    (np.float64(0.5), np.float64(0.5))
    """
    row = np.zeros(ROW_LENGTH)
    for start in range(0, len(triangles), _CHUNK):
        chunk = triangles[start : start + _CHUNK]
        area_vectors, thirds, products = _factors(chunk if origin is None else chunk - origin)
        row[0:3] += area_vectors.sum(axis=1)
        row[3:12] += (area_vectors @ thirds.T).ravel()
        row[12:30] += (area_vectors @ products.T).ravel()
        row[30] += np.sqrt(np.einsum("in,in->n", area_vectors, area_vectors)).sum()
    return row


def group_rows(triangles: FloatArray, size: int) -> FloatArray:
    """Return the moments of each group of consecutive triangles, as `row_sum` has them.

    Parameters
    ----------
    triangles : ndarray, shape (n, 3, 3)
        Triangles [mm].
    size : int
        Triangles in a group; the last group may be short.

    Returns
    -------
    ndarray, shape (ceil(n / size), 31)
        One row a group.
    """
    count = -(-len(triangles) // size)
    table = np.empty((count, ROW_LENGTH))
    step = _CHUNK // size
    for start in range(0, count, step):
        stop = min(start + step, count)
        chunk = triangles[start * size : stop * size]
        columns = np.zeros((ROW_LENGTH, (stop - start) * size))
        here = columns[:, : len(chunk)]
        area_vectors, thirds, products = _factors(chunk)
        here[0:3] = area_vectors
        for i in range(3):
            np.multiply(area_vectors[i], thirds, out=here[3 + 3 * i : 6 + 3 * i])
            np.multiply(area_vectors[i], products, out=here[12 + 6 * i : 18 + 6 * i])
        np.sqrt(np.einsum("in,in->n", area_vectors, area_vectors), out=here[30])
        table[start:stop] = columns.reshape(ROW_LENGTH, stop - start, size).sum(axis=2).T
    return table


_CHUNK: Final = 1 << 12
"""Triangles worked on at once: their arrays stay in a processor's cache."""


def _factors(triangles: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return area vectors (3, n), corner sums / 3 (3, n) and (Σ v v + s s)/12 (6, n)."""
    corners = np.ascontiguousarray(triangles.reshape(-1, 9).T).reshape(3, 3, -1)
    first, second, third = corners
    one, two = second - first, third - first
    area_vectors = np.empty_like(one)
    for i, j, k in ((0, 1, 2), (1, 2, 0), (2, 0, 1)):
        area_vectors[i] = 0.5 * (one[j] * two[k] - one[k] * two[j])
    sums = first + second + third
    products = np.empty((6, sums.shape[1]))
    for q, (j, k) in enumerate(SYMMETRIC_PAIRS):
        products[q] = (
            sums[j] * sums[k] + first[j] * first[k] + second[j] * second[k] + third[j] * third[k]
        ) / 12.0
    return area_vectors, sums / 3.0, products


def cut_row(triangles: FloatArray, normal: FloatArray, height: float) -> FloatArray:
    """Return the moments of the parts of the triangles below a plane, as one row.

    Parameters
    ----------
    triangles : ndarray, shape (n, 3, 3)
        Triangles [mm]; any of them may be wet, dry or straddle the plane.
    normal : ndarray, shape (3,)
        Unit normal out of the water.
    height : float
        Height of the plane along the normal [mm]; a corner on the plane counts as dry.

    Returns
    -------
    ndarray, shape (31,)
        See `row_sum`.

    Notes
    -----
    A triangle that straddles has one lone corner. With one wet corner its tip is added, with two
    the whole is added and the tip taken off: one sub-triangle each, and as wet is strictly below,
    no quotient has a vanishing denominator.
    """
    heights = (triangles.reshape(-1, 3) @ normal - height).reshape(-1, 3)
    wet = heights < 0.0
    wet_count = wet.sum(axis=1, dtype=np.int8)
    row = row_sum(triangles[wet_count == 3])
    one = wet_count == 1
    two = wet_count == 2
    if one.any():
        row += row_sum(_tips(triangles[one], heights[one], wet[one].argmax(axis=1)))
    if two.any():
        row += row_sum(triangles[two])
        row -= row_sum(_tips(triangles[two], heights[two], (~wet[two]).argmax(axis=1)))
    return row


def _tips(triangles: FloatArray, heights: FloatArray, lone: np.ndarray) -> FloatArray:
    """Return the sub-triangle between the lone corner and the plane, same winding."""
    index = np.arange(len(triangles))
    following, last = (lone + 1) % 3, (lone + 2) % 3
    corner, own = triangles[index, lone], heights[index, lone]
    tips = np.empty_like(triangles)
    tips[:, 0] = corner
    for slot, other in ((1, following), (2, last)):
        share = own / (own - heights[index, other])
        tips[:, slot] = corner + share[:, None] * (triangles[index, other] - corner)
    return tips


def contract(row: FloatArray, normal: FloatArray, height: float) -> VolumeMoments:
    """Return the volume and waterplane moments under a plane from the wet skin's row.

    Parameters
    ----------
    row : ndarray, shape (31,)
        Moments of the wet skin about the origin in use.
    normal : ndarray, shape (3,)
        Unit normal out of the water.
    height : float
        Height of the plane along the normal [mm].

    Returns
    -------
    VolumeMoments
        About the same origin.

    Notes
    -----
    With m0 = n_i ∫dS_i, m1_j = n_i ∫p_j dS_i, m2_jk = n_i ∫p_j p_k dS_i and P = I − n nᵀ:
    V = n·m1 − h m0;  Z = ½ (nᵀ m2 n − 2 h n·m1 + h² m0);  ∫p dV = m2 n − h m1 − n Z;
    A = −m0;  c = h n − P m1/A;  J = −P m2 P − (P m1)(P m1)ᵀ/A  (the divergence theorem).
    """
    first = row[3:12].reshape(3, 3)
    m0 = float(normal @ row[0:3])
    m1 = normal @ first
    m2 = (normal @ row[12:30].reshape(3, 6))[_SYMMETRIC]
    lean = m2 @ normal
    volume = float(normal @ m1 - height * m0)
    below = 0.5 * float(normal @ lean - 2.0 * height * (normal @ m1) + height**2 * m0)
    flat = _EYE - normal[:, None] * normal
    moment = flat @ m1
    area = -m0
    centroid = height * normal
    second = -flat @ m2 @ flat
    if area > 0.0:
        centroid = centroid - moment / area
        second = second - moment[:, None] * moment / area
    closure_area, closure_volume = _closure(row, normal, volume)
    return VolumeMoments(
        volume=volume,
        height_integral=below,
        position_integral=lean - height * m1 - normal * below,
        area=area,
        area_centroid=centroid,
        second_moments=second,
        wetted_area=float(row[30]),
        closure_area=closure_area,
        closure_volume=closure_volume,
    )


def _closure(row: FloatArray, normal: FloatArray, volume: float) -> tuple[float, float]:
    """Return what two level directions find: the open area and the departure of their volumes."""
    level = _level_directions(normal)
    areas = np.abs(level @ row[0:3])
    volumes = np.abs(np.einsum("ki,ij,kj->k", level, row[3:12].reshape(3, 3), level) - volume)
    return float(areas.max()), float(volumes.max())


def _level_directions(normal: FloatArray) -> FloatArray:
    """Return two unit vectors square to a unit vector and to each other, as rows.

    Written out, since this runs at every evaluation and a cross product of two vectors costs more
    than all of the contraction.
    """
    x, y, z = normal.tolist()
    if abs(x) <= abs(y) and abs(x) <= abs(z):
        a, b, c = 0.0, z, -y
    elif abs(y) <= abs(z):
        a, b, c = -z, 0.0, x
    else:
        a, b, c = y, -x, 0.0
    size = math.sqrt(a * a + b * b + c * c)
    a, b, c = a / size, b / size, c / size
    return np.array([[a, b, c], [y * c - z * b, z * a - x * c, x * b - y * a]])
