"""The hull of "Tarnwing 90" as printed: her outer skin on a grid that her cuts and openings follow.

The shape is that of make_tarnwing.py; only the grid is another, coarser, with a row at each place
where the hull is cut across and lines along the edges of each opening. Body axes, mm.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from loft import FloatArray, cubic, on_grid
from make_tarnwing import (
    HULL_LENGTH_MM,
    STEP_STATION_MM,
    STERNPOST_STATION_MM,
    afterbody_sections,
    cabin_mm,
    deck_mm,
    forebody_sections,
)

IntArray = npt.NDArray[np.int64]

CUTS_MM = (120.0, 258.0, 380.0, 500.0)  # stations at which she is cut across for the printer
SEGMENTS = ("nose", "fore", "mid", "aft", "stern")

_THINNED = 2  # of the bottom's panels across, each flat from keel to chine, so many become one
_BOTTOM, _STEP, _SIDE, _DECK = 12 // _THINNED, 3, 5, 14  # panels around half a section
_DECK_ABOVE_MM = 60.0  # what has a height over this, and lies in an opening's plan, is deck
_FADE_MM = 22.0  # fore and aft of an opening, over which the grid's lines return to their places


@dataclass(frozen=True, kw_only=True)
class Opening:
    """An opening cut through the deck, on both sides alike; rectangular seen from above.

    `inner` and `outer` say which of the deck's grid lines, 0 its edge and 14 the center plane, run
    along its edges; an opening across the center plane has an outer one only.
    """

    name: str
    stations_mm: tuple[float, float]
    outer_mm: float
    outer: int
    inner_mm: float = 0.0
    inner: int = _DECK


CANOPY = Opening(name="canopy", stations_mm=(136.0, 236.0), outer_mm=23.0, outer=10)
PYLON = Opening(name="pylon", stations_mm=(318.0, 342.0), outer_mm=9.0, outer=12)
SERVOS = Opening(
    name="servos", stations_mm=(404.0, 428.0), outer_mm=28.0, outer=7, inner_mm=16.5, inner=10
)
OPENINGS = (CANOPY, PYLON, SERVOS)


@dataclass(frozen=True, eq=False)
class Sheet:
    """A surface of triangles.

    points_mm : (n, 3) float; faces : (m, 3) int, counterclockwise seen from outside;
    segment : (m,) int, the place in SEGMENTS of the segment a face belongs to; opening : (m,) int,
    the place in OPENINGS of the opening it closes, or −1.
    """

    points_mm: FloatArray
    faces: IntArray
    segment: IntArray
    opening: IntArray


def _between(*stations_and_panels: float) -> FloatArray:
    """Return stations from one to the next: station, panels up to the next, station, …, station."""
    ends = stations_and_panels
    runs = [
        np.linspace(ends[i], ends[i + 2], int(ends[i + 1]) + 1)[:-1]
        for i in range(0, len(ends) - 2, 2)
    ]
    return np.concatenate([*runs, [ends[-1]]])


def _stations() -> tuple[FloatArray, FloatArray]:
    """Return the stations before the step and abaft it, in mm, both with the step's own."""
    bow = 48.0 * np.linspace(0.12, 1.0, 11)[:-1] ** 2
    (canopy, canopy_end), (pylon, pylon_end) = CANOPY.stations_mm, PYLON.stations_mm
    servos, servos_end = SERVOS.stations_mm
    step, cut = STEP_STATION_MM, CUTS_MM
    before = _between(48.0, 9, cut[0], 2, canopy, 13, canopy_end, 3, cut[1], 1, step)
    abaft = [step, 6, pylon, 3, pylon_end, 5, cut[2], 3, servos, 3, servos_end]
    end = HULL_LENGTH_MM - 16.0  # from there on the tail is rounded off
    abaft += [6, STERNPOST_STATION_MM, 3, cut[3], 12, end]
    tail = end + 16.0 * np.sin(np.linspace(0.0, 0.5 * np.pi, 6))[1:]
    tail[-1] = HULL_LENGTH_MM
    return np.concatenate([[0.0], bow, before]), np.concatenate([_between(*abaft), tail])


def foredeck_mm(x: FloatArray, y: FloatArray) -> FloatArray:
    """Return the deck's height before the step at points (k,) of her plan, cabin too, in mm."""
    edge = forebody_sections(x)[:, -1 - _DECK]
    return _deck_height_mm(y[:, None], edge)[:, 0]


def _deck_height_mm(y: FloatArray, edge: FloatArray) -> FloatArray:
    """Return the deck's height at half-breadths y, in mm, in sections whose deck has this edge.

    Parameters
    ----------
    y : (..., k) float
    edge : (..., 3) float
        Where side and deck meet in each section.
    """
    x, half, foot = (edge[..., axis, None] for axis in range(3))
    share = np.clip(1.0 - np.abs(y / np.maximum(half, 1e-9)) ** 2.5, 0.0, 1.0) ** 0.4
    return np.asarray(foot + (deck_mm(x) - foot) * share + cabin_mm(x, y))


def _along_openings(sections: FloatArray) -> FloatArray:
    """Return sections with the deck's lines moved onto the edges of the openings, on the deck."""
    moved, first = sections.copy(), sections.shape[1] - 1 - _DECK
    for opening in OPENINGS:
        start, end = opening.stations_mm
        x = sections[:, 0, 0]
        weight = cubic(x, (start - _FADE_MM, 0.0, 0.0), (start, 1.0, 0.0))
        weight = weight * cubic(x, (end, 1.0, 0.0), (end + _FADE_MM, 0.0, 0.0))
        for row in np.flatnonzero(weight > 0.0):
            y = moved[row, first:, 1]
            # From the center plane out, so that they rise; the lines between keep their shares.
            lines = y[sorted({_DECK, opening.inner, opening.outer, 0}, reverse=True)]
            to = np.unique([0.0, opening.inner_mm, opening.outer_mm, y[0]])
            y = np.interp(y, lines, lines + weight[row] * (to - lines))
            moved[row, first:, 1] = y
            moved[row, first + 1 :, 2] = _deck_height_mm(y[1:], moved[row, first])
    return moved


def _bodies() -> list[FloatArray]:
    """Return the grids (rows, points, 3) of forebody, step's face and afterbody, starboard side."""
    before, abaft = _stations()
    made = forebody_sections(before), afterbody_sections(abaft)
    keep = [np.r_[0:12:_THINNED, 12 : half.shape[1]] for half in made]
    fore, after = (
        on_grid(_along_openings(half[:, kept])) for half, kept in zip(made, keep, strict=True)
    )
    up = np.linspace(0.0, 1.0, _STEP + 1)[:, None, None]
    face = on_grid(fore[-1, : _BOTTOM + 1] * (1.0 - up) + after[0, : _BOTTOM + 1] * up)
    face[:, -1] = fore[-1, _BOTTOM : _BOTTOM + _STEP + 1]
    after[0, : _BOTTOM + 1], after[0, _BOTTOM:] = face[-1], fore[-1, _BOTTOM + _STEP :]
    return [fore, face, after]


def _panels(grid: FloatArray, number: IntArray) -> IntArray:
    """Return a grid's panels as faces, each cut on its shorter diagonal; none without area."""
    corners = [np.s_[:-1, :-1], np.s_[:-1, 1:], np.s_[1:, 1:], np.s_[1:, :-1]]
    low, high, high_aft, low_aft = (grid[corner] for corner in corners)
    up, down = ((high_aft - low) ** 2).sum(axis=-1), ((low_aft - high) ** 2).sum(axis=-1)
    shorter = up < down * (1.0 - 1e-9)  # the margin decides a tie the same way on every machine
    a, b, c, d = (number[corner] for corner in corners)
    first = np.stack([a, b, np.where(shorter, c, d)], axis=-1)
    second = np.stack([np.where(shorter, a, b), c, d], axis=-1)
    faces = np.concatenate([first.reshape(-1, 3), second.reshape(-1, 3)])
    return faces[(faces != np.roll(faces, -1, axis=1)).all(axis=1)]


def outer_sheet() -> Sheet:
    """Return the hull's outer skin, closed, with the openings' own faces in it and marked."""
    grids = _bodies()
    every = np.concatenate([grid.reshape(-1, 3) for grid in grids])
    half, number = np.unique(every, axis=0, return_inverse=True)
    number = np.asarray(number).reshape(-1)
    faces, start = [], 0
    for grid in grids:
        count = grid.shape[0] * grid.shape[1]
        faces.append(_panels(grid, number[start : start + count].reshape(grid.shape[:2])))
        start += count
    starboard = np.concatenate(faces)
    off_center = half[:, 1] != 0.0
    port = np.arange(len(half))
    port[off_center] = len(half) + np.arange(int(off_center.sum()))
    points = np.concatenate([half, half[off_center] * [1.0, -1.0, 1.0]])
    both = np.concatenate([starboard, port[starboard][:, ::-1]])
    return Sheet(points, both, *_marks(points[both].mean(axis=1)))


def _marks(middle: FloatArray) -> tuple[IntArray, IntArray]:
    """Return for the middle of each face the segment it belongs to and the opening it closes."""
    x, y, z = middle[:, 0], np.abs(middle[:, 1]), middle[:, 2]
    opening = np.full(len(middle), -1)
    for place, cut in enumerate(OPENINGS):
        along = (x > cut.stations_mm[0]) & (x < cut.stations_mm[1])
        across = (y > cut.inner_mm) & (y < cut.outer_mm)
        opening[along & across & (z > _DECK_ABOVE_MM)] = place
    return np.searchsorted(np.array(CUTS_MM), x), opening
