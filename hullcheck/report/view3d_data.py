"""The scene of the turnable view as JSON text, small and safe within a page."""

import base64
import json
import math
from typing import Any, Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray, IntArray
from hullcheck.report import style
from hullcheck.report.view3d_eye import VIEWS, View
from hullcheck.report.view3d_marks import Mark3d
from hullcheck.report.view3d_scene import Line3d, Scene3d
from hullcheck.report.view3d_shapes import PATTERNS, PIXELS_PER_POINT, SHAPES
from hullcheck.report.view3d_tones import CREASE_DEG, LIT, tones

SCHEMA: Final = "hullcheck.view3d/1"
_COUNTS: Final = 65535
_BIAS: Final = 0.0012
"""Of the greatest size: lines are drawn this much nearer than the skin they lie on."""


class Counts:
    """Whole steps from a corner, so that 16 bits hold a coordinate.

    Parameters
    ----------
    points_mm : ndarray, shape (k, 3)
        All points of the skin [mm].
    """

    def __init__(self, points_mm: FloatArray) -> None:
        self.low_mm = points_mm.min(axis=0)
        self.step_mm = float((points_mm.max(axis=0) - self.low_mm).max()) / _COUNTS

    def of(self, points_mm: FloatArray) -> IntArray:
        """Return points [mm] in whole steps from the corner."""
        steps: IntArray = np.rint((points_mm - self.low_mm) / self.step_mm).astype(np.int64)
        return steps

    @property
    def error_mm(self) -> float:
        """How far a point is moved by it at most [mm]."""
        return float(0.5 * np.sqrt(3.0) * self.step_mm)


def skin_in_counts(scene: Scene3d) -> tuple[Counts, IntArray, IntArray]:
    """Return the skin's points in whole steps, shape (m, 3), and its faces, shape (n, 3)."""
    points, faces, first = [], [], 0
    for mesh in scene.skin.meshes:
        points.append(scene.placed(mesh.points))
        faces.append(mesh.faces + first)
        first += len(mesh.points)
    counts = Counts(np.concatenate(points))
    return counts, counts.of(np.concatenate(points)), np.concatenate(faces)


def data_json(scene: Scene3d, start: View, skin: tuple[Counts, IntArray, IntArray]) -> str:
    """Return the scene as JSON text that may stand within a script element as it is.

    Parameters
    ----------
    scene : Scene3d
        What is shown.
    start : View
        Where she is looked at from at first.
    skin : tuple
        From `skin_in_counts`.

    Notes
    -----
    No "<", ">" or "&" is in it: they are written as JSON's own escapes.
    """
    counts, points, faces = skin
    low, high = points.min(axis=0), points.max(axis=0)
    size_mm = counts.step_mm * float((high - low).max())
    middle_mm = counts.low_mm + 0.5 * counts.step_mm * (low + high)
    near_mm = 2.0 * (scene.skin.tolerance_mm + counts.error_mm) + _BIAS * size_mm
    document = {
        "schema": SCHEMA,
        "low_mm": counts.low_mm.round(4).tolist(),
        "step_mm": counts.step_mm,
        "middle_mm": middle_mm.round(2).tolist(),
        "size_mm": round(size_mm, 2),
        "near_mm": round(near_mm, 4),
        "points": _packed(points),
        "faces": _packed(faces),
        "water": _flat(counts, scene.water_mm),
        "lines": [_line(counts, line) for line in scene.lines],
        "marks": [_mark(counts, mark) for mark in scene.marks],
        "shapes": SHAPES,
        "views": {"start": start.angles_deg, **{v.key: v.angles_deg for v in VIEWS}},
        "crease": round(math.cos(math.radians(CREASE_DEG)), 6),
        "lit": LIT,
        "colors": _colors(),
    }
    text = json.dumps(document, separators=(",", ":"), allow_nan=False)
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


def _packed(numbers: IntArray) -> str:
    """Return numbers from 0 to 65535 as little-endian 16-bit numbers in base 64."""
    return base64.b64encode(numbers.astype("<u2").tobytes()).decode("ascii")


def _flat(counts: Counts, points_mm: FloatArray) -> list[int]:
    """Return points as one row of whole steps."""
    row: list[int] = counts.of(points_mm).ravel().tolist()
    return row


def _line(counts: Counts, line: Line3d) -> dict[str, Any]:
    """Return a line as the program reads it."""
    return {
        "pattern": PATTERNS.index(line.pattern),
        "width": round(line.width * PIXELS_PER_POINT, 2),
        "color": _shares(line.color),
        "points": _flat(counts, line.points_mm),
    }


def _mark(counts: Counts, mark: Mark3d) -> dict[str, Any]:
    """Return a mark as the program reads it."""
    return {
        "shape": mark.shape,
        "head": mark.head,
        "name": mark.name,
        "note": mark.note,
        "flag": mark.flag,
        "inside": mark.inside,
        "color": style.LIMIT if mark.flag else style.SOFT,
        "places": _flat(counts, mark.places_mm),
    }


def _colors() -> dict[str, list[float]]:
    """Return the colors the program paints with, as shares of red, green and blue."""
    (dry, dry_dark), (wet, wet_dark) = (tones()[name] for name in ("dry", "wet"))
    named = {
        "paper": style.PAPER,
        "ink": style.INK,
        "tint": style.TINT,
        "dry": dry,
        "dry_dark": dry_dark,
        "wet": wet,
        "wet_dark": wet_dark,
    }
    return {name: _shares(color) for name, color in named.items()}


def _shares(color: str) -> list[float]:
    """Return a color's shares of red, green and blue, 0 to 1."""
    return [round(int(color[i : i + 2], 16) / 255.0, 4) for i in (1, 3, 5)]
