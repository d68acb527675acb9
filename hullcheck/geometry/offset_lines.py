"""Lines between their points: straight or smooth, along the body and around its sections."""

from itertools import pairwise
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray, IntArray
from hullcheck.geometry.offset_table import AHEAD, BEHIND, OffsetTable

_ALONG: Final = 8
"""Panels between two stations of a smooth body: their own facets leave out a 64th of what straight
lines between the stations would."""
_AROUND: Final = 6
"""The same between two points of a curve around a section: a 36th."""
_COINCIDENT: Final = 1e-9
"""Of a curve's length: points nearer than this are one."""


def gridded(table: OffsetTable, *, smooth: bool) -> tuple[FloatArray, IntArray]:
    """Return the points of a body's starboard skin in mm, and the gap each column of panels fills.

    Parameters
    ----------
    table : OffsetTable
        n stations, m lines.
    smooth : bool
        Whether lines are curves through their points or straight between them.

    Returns
    -------
    ndarray, shape (n - 1, p + 1, q, 3)
        For each stretch between two stations its p + 1 sections, each of q points from the center
        plane over all lines to the center plane [mm]. Both sections at a station are there, and
        differ at a step only.
    ndarray of int, shape (q - 1,)
        0 for the panels below the first line, k for those between the k-th and the next, m for
        those behind the last.

    Notes
    -----
    Smooth lines are modified Akima interpolants, of half-breadth and of height each: their slope at
    a point depends on two neighbors on either side, so that a straight run stays straight and a
    jump does not ring along the hull as it does with a spline; unlike monotone interpolants they do
    not flatten the widest section. A line breaks where it has two points at a station, and nowhere
    else. Around a section they run from corner to corner, by chord length; corners are the first
    and last line and those named keel, chine, edge or knuckle.

    References
    ----------
    Akima, H., "A new method of interpolation and smooth curve fitting based on local procedures",
    Journal of the ACM 17 (4), 1970; the modified weights are those of
    `scipy.interpolate.Akima1DInterpolator`.
    """
    panels = _ALONG if smooth else 1
    share = np.linspace(0.0, 1.0, panels + 1)
    stations = table.stations_mm
    x = stations[:-1, None] + share * np.diff(stations)[:, None]
    x[:, -1] = stations[1:]
    lines = [_line(table, number, x) for number in range(len(table.lines))]
    sections, gaps = _around(np.stack(lines, axis=2), np.flatnonzero(table.corners), smooth=smooth)
    ends = sections[:, :, [0, -1]] * (0.0, 1.0)
    sections = np.concatenate([ends[:, :, :1], sections, ends[:, :, 1:]], axis=2)
    along = np.broadcast_to(x[..., None, None], (*sections.shape[:3], 1))
    return np.concatenate([along, sections], axis=3) + 0.0, gaps


def _line(table: OffsetTable, number: int, x: FloatArray) -> FloatArray:
    """Return one line at x (n − 1, p + 1), between n stations: half-breadth and height [mm]."""
    ahead, behind = table.points_mm[AHEAD, :, number], table.points_mm[BEHIND, :, number]
    share = ((x - x[:, :1]) / (x[:, -1:] - x[:, :1]))[..., None]
    values = behind[:-1, None] + share * (ahead[1:] - behind[:-1])[:, None]
    broken = np.flatnonzero((ahead != behind).any(axis=1))
    breaks = [0, *broken.tolist(), len(ahead) - 1]
    for start, stop in pairwise(breaks):
        if x.shape[1] > 2 and stop - start > 1:
            given = np.vstack([behind[start], ahead[start + 1 : stop + 1]])
            inner = _smooth(table.stations_mm[start : stop + 1], given, x[start:stop, 1:-1])
            values[start:stop, 1:-1] = inner
    values[:, 0], values[:, -1] = behind[:-1], ahead[1:]
    values[..., 0] = np.maximum(values[..., 0], 0.0)
    return values


def _smooth(places: FloatArray, values: FloatArray, at: FloatArray) -> FloatArray:
    """Return a curve through values (k, 2) at rising places (k,), at other places."""
    from scipy.interpolate import Akima1DInterpolator

    curve: FloatArray = Akima1DInterpolator(places, values, method="makima")(at)
    return curve


def _around(points: FloatArray, corners: IntArray, *, smooth: bool) -> tuple[FloatArray, IntArray]:
    """Return sections (..., m, 2) with points added on their curves, and each panel's gap."""
    parts, gaps = [points[..., :1, :]], [0]
    for first, last in pairwise(corners):
        piece = points[..., first : last + 1, :]
        count = _AROUND if smooth and last - first > 1 else 1
        if count > 1:
            rows = [_curve(row, count) for row in piece.reshape(-1, *piece.shape[-2:])]
            piece = np.array(rows).reshape(*piece.shape[:-2], -1, 2)
        parts.append(piece[..., 1:, :])
        gaps += np.repeat(np.arange(first, last) + 1, count).tolist()
    return np.concatenate(parts, axis=-2), np.array([*gaps, points.shape[-2]])


def _curve(points: FloatArray, count: int) -> FloatArray:
    """Return a curve through points (k, 2), each chord cut in count by the curve's parameter."""
    chords = np.hypot(*np.diff(points, axis=0).T)
    apart = chords > _COINCIDENT * chords.sum()
    share = np.arange(count) / count
    curve = points[:-1, None] + share[:, None] * np.diff(points, axis=0)[:, None]
    if apart.sum() > 1:
        places = np.cumsum(np.append(0.0, chords[apart]))
        at = places[:-1, None] + share[1:] * chords[apart][:, None]
        nodes = points[np.append(apart, True)]
        curve[apart, 1:] = _smooth(places, nodes, at)
        curve[..., 0] = np.maximum(curve[..., 0], 0.0)
    return np.vstack([curve.reshape(-1, 2), points[-1]])
