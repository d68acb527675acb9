"""What a printed hull is made of: walls behind a sheet, ribs inside it, parts stood on a bed."""

import numpy as np
from loft import FloatArray, on_grid
from printed_skin import CUTS_MM, IntArray, Sheet

WALL_MM = 1.0
SOLID_MM = (7.0, 618.0)  # forward of the one and aft of the other, nose and tail are filled
_TIPS_MM = (4.5, 621.5)  # to where the hollow runs out in a point

_TURNS = {  # of the body's axes, for a part to stand on its aft end, its forward end, or lie
    "on its aft end": ((0, 0, 1), (0, 1, 0), (-1, 0, 0)),
    "on its forward end": ((0, 0, -1), (0, 1, 0), (1, 0, 0)),
    "lying": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
}


def inward_mm(sheet: Sheet) -> FloatArray:
    """Return for each point of a closed sheet the way (3,) to the wall's inner face, in mm.

    Along the mean normal, and so far that the wall has its thickness in the planes that meet
    there. At the cuts, straight across the hull, so that the segments' ends are flat.
    """
    corners = sheet.points_mm[sheet.faces]
    ahead, back = np.roll(corners, -1, axis=1) - corners, np.roll(corners, 1, axis=1) - corners
    across = np.cross(ahead, back)
    normal = across[:, 0] / np.linalg.norm(across[:, 0], axis=-1)[:, None]
    angle = np.arctan2(np.linalg.norm(across, axis=-1), (ahead * back).sum(axis=-1))
    total, mean = np.zeros(len(sheet.points_mm)), np.zeros_like(sheet.points_mm)
    np.add.at(total, sheet.faces, angle)
    np.add.at(mean, sheet.faces, angle[..., None] * normal[:, None])
    mean[np.isin(sheet.points_mm[:, 0], CUTS_MM), 0] = 0.0
    mean /= np.linalg.norm(mean, axis=1)[:, None]
    agreement = np.zeros_like(total)
    np.add.at(agreement, sheet.faces, angle * (normal[:, None] * mean[sheet.faces]).sum(axis=-1))
    return -WALL_MM * mean * (total / agreement)[:, None]


def rims(faces: IntArray) -> IntArray:
    """Return the directed edges (k, 2) of faces (m, 3) that no other face runs along."""
    edges = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    size = int(faces.max()) + 1
    return edges[~np.isin(edges @ [size, 1], edges @ [1, size])]


def walled(points: FloatArray, inner: FloatArray, faces: IntArray) -> FloatArray:
    """Return the triangles of a closed wall between faces and the same faces at inner points.

    Along the rims of the faces the two are joined by a strip. Inner faces that have come to have
    two equal corners are left out.
    """
    behind = inner[faces[:, ::-1]]
    apart = (behind != np.roll(behind, -1, axis=1)).any(axis=2).all(axis=1)
    start, end = rims(faces).T
    strip = [
        np.stack([points[end], points[start], inner[start]], axis=1),
        np.stack([points[end], inner[start], inner[end]], axis=1),
    ]
    return np.concatenate([points[faces], behind[apart], *strip])


def inner_points(sheet: Sheet) -> FloatArray:
    """Return the wall's inner face, point for point; in nose and tail all in one point."""
    inner = on_grid(sheet.points_mm + inward_mm(sheet))
    x, height = sheet.points_mm[:, 0], sheet.points_mm[:, 2]
    for beyond, tip in zip((x < SOLID_MM[0], x > SOLID_MM[1]), _TIPS_MM, strict=True):
        middle = 0.5 * (height[beyond].min() + height[beyond].max())
        inner[beyond] = on_grid(np.array([tip, 0.0, middle]))
    return inner


def _half_ring(sheet: Sheet, station: float) -> FloatArray:
    """Return the points (k, 3) of the row at a station, from the keel up the starboard side."""
    points = sheet.points_mm[(sheet.points_mm[:, 0] == station) & (sheet.points_mm[:, 1] >= 0.0)]
    return points[np.argsort(points[:, 2], kind="stable")]


def cross_rib(sheet: Sheet, station: float, *, between: bool) -> FloatArray:
    """Return a flat rib across the hull near a station, as a sheet's triangles (n, 3, 3).

    It stands on the row nearest to the station and shares that row's points, or, `between` rows,
    on the lines halfway to the next row aft, sharing none. Its hole has four fifths of the hull's
    breadth and height.
    """
    rows = np.unique(sheet.points_mm[:, 0])
    place = int(np.argmin(np.abs(rows - station)))
    half = _half_ring(sheet, rows[place])
    if between:
        half = on_grid(0.5 * (half + _half_ring(sheet, rows[place + 1])))
    ring = np.concatenate([half, half[-2:0:-1] * [1.0, -1.0, 1.0]])
    middle = np.array([ring[0, 0], 0.0, 0.5 * (half[0, 2] + half[-1, 2])])
    hole = on_grid(middle + 0.8 * (ring - middle))
    ring_next, hole_next = np.roll(ring, -1, axis=0), np.roll(hole, -1, axis=0)
    return np.concatenate(
        [np.stack([ring, ring_next, hole_next], axis=1), np.stack([ring, hole_next, hole], axis=1)]
    )


def keel_rib(sheet: Sheet, stations: tuple[float, float], height_mm: float) -> FloatArray:
    """Return an upright rib along the keel from one station to another, as triangles (n, 3, 3)."""
    rows = np.unique(sheet.points_mm[:, 0])
    rows = rows[(rows >= stations[0]) & (rows <= stations[1])]
    low = np.array([_half_ring(sheet, row)[0] for row in rows])
    high = low + np.array([0.0, 0.0, height_mm])
    first = np.stack([low[:-1], low[1:], high[1:]], axis=1)
    return np.concatenate([first, np.stack([low[:-1], high[1:], high[:-1]], axis=1)])


def on_bed(triangles: FloatArray, stands: str, quarter_turns: int) -> tuple[FloatArray, FloatArray]:
    """Return a part as it lies on a printer's bed, and the matrix that puts it back.

    Parameters
    ----------
    triangles : (n, 3, 3) float
        In place, mm.
    stands : str
        "on its aft end", "on its forward end" or "lying".
    quarter_turns : int
        By which it is turned about the bed's upright axis after that.

    Returns
    -------
    (n, 3, 3) float
        Resting on z = 0, the middle of its bounding box over x = y = 0 to the grid.
    (4, 4) float
        Places a point of the bed, (x, y, z, 1), in the hull; exact in binary.
    """
    quarter = np.array([[0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
    turn = np.linalg.matrix_power(quarter, quarter_turns) @ np.array(_TURNS[stands], dtype=float)
    turned = triangles @ turn.T
    low, high = turned.min(axis=(0, 1)), turned.max(axis=(0, 1))
    shift = -on_grid(np.array([0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1]), low[2]]))
    back = np.eye(4)
    back[:3, :3], back[:3, 3] = turn.T, -turn.T @ shift
    return turned + shift + 0.0, back + 0.0
