"""Triangles from rows of section points, and the curves the demo craft's lines are drawn with."""

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

GRID_MM = 1.0 / 1024.0


def on_grid(points: FloatArray) -> FloatArray:
    """Return points on a grid that 32-bit numbers hold exactly, whatever the machine's sine."""
    return np.asarray(np.rint(points / GRID_MM) * GRID_MM + 0.0)


def loft(sections: FloatArray, *, rising: bool | None = None) -> FloatArray:
    """Return the triangles (n, 3, 3) of a skin through sections, in the unit of the sections.

    Parameters
    ----------
    sections : (rows, points, 3) float
        Rows run aft, points run up, seen from starboard. A row may be one point repeated: its
        panels are triangles already, and the half of each panel that has no area is left out.
    rising : bool, optional
        Cut every panel on the diagonal that rises going aft, or on the one that falls. Without it,
        each on its shorter one, which keeps the triangles stout.
    """
    low, high = sections[:-1, :-1], sections[:-1, 1:]
    low_aft, high_aft = sections[1:, :-1], sections[1:, 1:]
    up, down = ((high_aft - low) ** 2).sum(axis=-1), ((low_aft - high) ** 2).sum(axis=-1)
    # The margin decides a tie the same way on every machine.
    shorter = up < down * (1.0 - 1e-9) if rising is None else np.full(up.shape, rising)
    first = np.stack([low, high, np.where(shorter[..., None], high_aft, low_aft)], axis=-2)
    second = np.stack([np.where(shorter[..., None], low, high), high_aft, low_aft], axis=-2)
    triangles = np.concatenate([first.reshape(-1, 3, 3), second.reshape(-1, 3, 3)])
    following = np.roll(triangles, -1, axis=1)
    return triangles[(triangles != following).any(axis=2).all(axis=1)]


def mirrored(triangles: FloatArray) -> FloatArray:
    """Return the triangles with port and starboard changed over, still facing outward."""
    return triangles[:, ::-1] * np.array([1.0, -1.0, 1.0]) + 0.0


def both_sides(starboard: FloatArray) -> FloatArray:
    """Return the triangles of the starboard half and of its mirror image."""
    return np.concatenate([starboard, mirrored(starboard)])


def bow_curve(x: FloatArray, length: float, fineness: float) -> FloatArray:
    """Return 0 at the bow growing to 1 from `length` on; fineness 1 a parabola, ½ an ellipse."""
    ahead = np.clip(1.0 - x / length, 0.0, 1.0)
    return np.asarray((1.0 - ahead**2) ** fineness)


def cubic(
    x: FloatArray, start: tuple[float, float, float], end: tuple[float, float, float]
) -> FloatArray:
    """Return the cubic between two ends, each (station, value, slope), level beyond them."""
    (x0, y0, slope0), (x1, y1, slope1) = start, end
    span = x1 - x0
    t = np.clip((x - x0) / span, 0.0, 1.0)
    return np.asarray(
        (y0 * (1 + 2 * t) + slope0 * span * t) * (1 - t) ** 2
        + (y1 * (3 - 2 * t) + slope1 * span * (t - 1)) * t**2
    )


def quarter(panels: int, fullness: float) -> tuple[FloatArray, FloatArray]:
    """Return breadth 1 → 0, height 0 → 1 around a quarter superellipse; fullness 2 an ellipse."""
    left = np.linspace(1.0, 0.0, panels + 1) ** (0.5 * fullness)  # keeps the last panels short
    angle = 0.5 * np.pi * (1.0 - left)
    breadth, height = np.cos(angle) ** (2.0 / fullness), np.sin(angle) ** (2.0 / fullness)
    breadth[-1] = 0.0
    return breadth, height


def rise_per_mm(angle_deg: float) -> float:
    """Return the rise per mm of a line at an angle."""
    return float(np.tan(np.deg2rad(angle_deg)))
