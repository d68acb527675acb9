"""The demo craft's meshes at any fineness, closed, in numbers that binary STL holds exactly."""

import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2] / "meshes"))

from make_tarnwing import (
    hull_triangles,
    port_float_triangles,
    starboard_float_triangles,
)
from stl_bytes import stl_bytes


def refined(triangles, parts):
    """Return every triangle cut into parts² alike, corners rounded to 32 bits.

    A point on an edge is the weighted sum of its two ends whichever triangle it is reckoned in, so
    the finer mesh closes to the last bit.
    """
    rows = [(i, j) for i in range(parts) for j in range(parts - i)]
    cells = [((i, j), (i + 1, j), (i, j + 1)) for i, j in rows]
    cells += [((i + 1, j), (i + 1, j + 1), (i, j + 1)) for i, j in rows if i + j < parts - 1]
    a, b, c = np.moveaxis(triangles, 1, 0)
    fine = np.empty((len(cells), len(triangles), 3, 3), dtype=np.float32)
    for cell, corners in zip(fine, cells, strict=True):
        for k, (i, j) in enumerate(corners):
            cell[:, k] = ((parts - i - j) * a + i * b + j * c) / parts
    return np.swapaxes(fine, 0, 1).reshape(-1, 3, 3).astype(np.float64) + 0.0


def hull(parts):
    """Return the demo hull's 20,630 × parts² triangles [mm]."""
    return refined(hull_triangles(), parts)


def craft(parts):
    """Return the demo craft's 26,390 × parts² triangles, tip floats and all [mm]."""
    surfaces = (hull_triangles(), starboard_float_triangles(), port_float_triangles())
    return np.concatenate([refined(surface, parts) for surface in surfaces])


def write_stl(path, triangles):
    """Write triangles [mm] as binary STL."""
    path.write_bytes(stl_bytes(triangles, "benchmark, mm"))
