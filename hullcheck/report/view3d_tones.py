"""The two tones of the turnable view's skin, and where they lie in its still picture."""

from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outlines import Loops, outer_region
from hullcheck.geometry.topology import Mesh
from hullcheck.report import style
from hullcheck.report.view3d_eye import Eye, normals_of
from hullcheck.report.view3d_shapes import mixed

CREASE_DEG: Final = 32.0
"""Edges where the skin turns by more are drawn."""
LIT: Final = -0.4
"""What looks down by more than this share is of the darker tone."""
_DARK: Final = 0.13
"""Share of ink in what looks down."""

Fill = tuple[str, Loops]
"""A color and the loops it fills, right and up [mm]."""


def tones() -> dict[str, tuple[str, str]]:
    """Return the tones of the dry and of the wet skin: of what looks up, of what looks down."""
    colors = {"dry": style.SKIN, "wet": style.WET_SKIN}
    return {name: (color, mixed(color, style.INK, _DARK)) for name, color in colors.items()}


def fills(eye: Eye, mesh: Mesh, placed: FloatArray) -> list[Fill]:
    """Return what a body fills with each tone, the lowest first.

    Parameters
    ----------
    eye : Eye
        Who looks at her.
    mesh : Mesh
        The body's surface.
    placed : ndarray, shape (m, 3)
        Its points in water axes [mm].

    Notes
    -----
    Faces of which nothing is hidden do not overlap on the picture: they are joined to one region a
    tone. Those of which something is hidden are painted before, from the farthest.
    """
    seen = eye.seen(placed)
    corners = seen[mesh.faces]
    rising = corner_normals(Mesh(points=placed, faces=mesh.faces), CREASE_DEG)[:, :, 2] - LIT
    facing = normals_of(corners)[:, 2] > 0.0
    hidden = eye.hidden(seen, eye.near_mm)[mesh.faces].any(axis=1)
    order = np.argsort(corners[:, :, 2].mean(axis=1), kind="stable")
    rows = np.concatenate([corners, placed[mesh.faces][:, :, 2:], rising[:, :, None]], axis=2)
    found: list[Fill] = []
    for i in order[(facing & hidden)[order]].tolist():
        found += [(color, [piece]) for color, piece in _pieces(rows[i])]
    whole: dict[str, Loops] = {}
    for i in order[(facing & ~hidden)[order]].tolist():
        for color, piece in _pieces(rows[i]):
            whole.setdefault(color, []).append(piece)
    return [*found, *((color, outer_region(loops)) for color, loops in sorted(whole.items()))]


def corner_normals(mesh: Mesh, crease_deg: float) -> FloatArray:
    """Return the normal of each face's corners, shape (n, 3, 3).

    It is that of the faces about its point that turn from its own by no more than an angle [deg],
    each by its area.
    """
    corners = mesh.triangles
    areas = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    units = areas / np.maximum(np.linalg.norm(areas, axis=1, keepdims=True), 1e-300)
    least = np.cos(np.radians(crease_deg))
    flat = mesh.faces.ravel()
    order = np.argsort(flat, kind="stable")
    found = np.empty((len(flat), 3))
    for group in np.split(order, np.flatnonzero(np.diff(flat[order])) + 1):
        faces = group // 3
        found[group] = (units[faces] @ units[faces].T > least) @ areas[faces]
    found /= np.maximum(np.linalg.norm(found, axis=1, keepdims=True), 1e-300)
    return found.reshape(-1, 3, 3)


def _pieces(rows: FloatArray) -> list[tuple[str, FloatArray]]:
    """Return a face cut by the water and where it turns down, each part with its color.

    Its corners come as right, up, toward the viewer, height over water, rise over the edge.
    """
    found = []
    for name, sign in (("wet", -1.0), ("dry", 1.0)):
        part = _over(rows, sign * rows[:, 3])
        if len(part) < 3:
            continue
        lit, dark = tones()[name]
        for color, way in ((lit, 1.0), (dark, -1.0)):
            piece = _over(part, way * part[:, 4])
            if len(piece) > 2:
                found.append((color, piece[:, :2]))
    return found


def _over(rows: FloatArray, values: FloatArray) -> FloatArray:
    """Return the part of a convex polygon, a row a corner, where values are not negative."""
    if (values >= 0.0).all():
        return rows
    kept: list[FloatArray] = []
    for k in range(len(rows)):
        a, b, i, j = rows[k - 1], rows[k], values[k - 1], values[k]
        if (i >= 0.0) != (j >= 0.0):
            kept.append(a + i / (i - j) * (b - a))
        if j >= 0.0:
            kept.append(b)
    return np.array(kept).reshape(-1, rows.shape[1])
