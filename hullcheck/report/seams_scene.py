"""Seams and openings as lines on the sheet: what of them is seen from port, and from below."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, Literal

import numpy as np

from hullcheck.answers.seams_records import SeamReport, SeamsAnswer
from hullcheck.craft.craft import Craft
from hullcheck.craft.seam_lines import SeamLine
from hullcheck.geometry.arrays import BoolArray, FloatArray
from hullcheck.report.float_scene import Scene

Facing = Literal["side", "below"]

_NEAR: Final = 0.004
"""Of the length: what lies no more than this under the skin lies on it."""
_STEP: Final = 0.01
"""Of the length: how finely a line is looked at."""
_ACROSS: Final = 0.25
"""A line that runs no more than this share of its size along her runs across her."""
_CHUNK: Final = 64


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Drawn:
    """One seam or opening as it is drawn.

    Attributes
    ----------
    seam : SeamReport
        What is said of it.
    side, below : tuple of ndarray, shape (k, 2)
        The pieces of it that are seen from port, aft and up from the water, and from below, aft and
        to port [mm].
    at_side, at_below : ndarray, shape (2,)
        Where it is where nothing of it is seen [mm].
    on_hull : bool
        Whether it lies on what is drawn: not on a tip float or out on a wing.
    facing : str
        The view that shows it best: "side" or "below".
    """

    seam: SeamReport
    side: tuple[FloatArray, ...]
    below: tuple[FloatArray, ...]
    at_side: FloatArray
    at_below: FloatArray
    on_hull: bool
    facing: Facing

    def pieces(self, facing: Facing) -> tuple[FloatArray, ...]:
        """Return what is seen of it in a view."""
        return self.side if facing == "side" else self.below


def drawn_seams(scene: Scene, lines: Sequence[SeamLine], answer: SeamsAnswer) -> tuple[Drawn, ...]:
    """Return every seam and opening of an answer as it is drawn, the worst first.

    Parameters
    ----------
    scene : Scene
        The craft in the water.
    lines : sequence of SeamLine
        Where they run.
    answer : SeamsAnswer
        What is said of them.
    """
    known = {line.name: line for line in lines}
    eyes = _Eyes.of(scene)
    return tuple(_drawn(scene, eyes, known[seam.name], seam) for seam in answer.seams)


def from_below(scene: Scene, points_mm: FloatArray) -> FloatArray:
    """Return points as seen from below [mm]: aft, to port."""
    flat: FloatArray = scene.from_above(points_mm) * np.array([1.0, -1.0])
    return flat


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Eyes:
    """The skin of all that is drawn, to tell what of a line is hidden behind it."""

    triangles_mm: FloatArray
    low_mm: FloatArray
    high_mm: FloatArray
    bodies: frozenset[str]

    @classmethod
    def of(cls, scene: Scene) -> "_Eyes":
        """Return the skin of a scene's hulls."""
        names = frozenset(shape.name for shape in scene.hulls)
        skins = [b.shell.triangles_mm for b in scene.craft.bodies if b.name in names]
        triangles = np.concatenate(skins)
        corners = triangles.reshape(-1, 3)
        return cls(
            triangles_mm=triangles,
            low_mm=corners.min(axis=0),
            high_mm=corners.max(axis=0),
            bodies=names,
        )

    @property
    def size_mm(self) -> float:
        """Greatest size of what is drawn [mm]."""
        return float((self.high_mm - self.low_mm).max())

    def seen(self, points_mm: FloatArray, toward: FloatArray) -> BoolArray:
        """Return which points (k, 3) no skin lies before, for a direction toward the viewer."""
        right = np.cross(toward, np.eye(3)[int(np.argmin(np.abs(toward)))])
        right /= np.linalg.norm(right)
        axes = np.stack((right, np.cross(toward, right), toward), axis=1)
        skin, points = self.triangles_mm @ axes, points_mm @ axes
        hidden = [
            _behind(skin, points[i : i + _CHUNK], _NEAR * self.size_mm)
            for i in range(0, len(points), _CHUNK)
        ]
        return ~np.concatenate(hidden)


def _behind(skin: FloatArray, points: FloatArray, near: float) -> BoolArray:
    """Return which points lie behind triangles; both as right, up and toward the viewer."""
    a, b, c = skin[None, :, 0], skin[None, :, 1], skin[None, :, 2]
    p = points[:, None, :]
    area = (b[..., 0] - a[..., 0]) * (c[..., 1] - a[..., 1]) - (b[..., 1] - a[..., 1]) * (
        c[..., 0] - a[..., 0]
    )
    area = np.where(np.abs(area) < 1e-12, np.nan, area)
    u = ((p[..., 0] - a[..., 0]) * (c[..., 1] - a[..., 1])
         - (p[..., 1] - a[..., 1]) * (c[..., 0] - a[..., 0])) / area  # fmt: skip
    v = ((b[..., 0] - a[..., 0]) * (p[..., 1] - a[..., 1])
         - (b[..., 1] - a[..., 1]) * (p[..., 0] - a[..., 0])) / area  # fmt: skip
    inside = (u >= 0.0) & (v >= 0.0) & (u + v <= 1.0)
    depth = a[..., 2] + u * (b[..., 2] - a[..., 2]) + v * (c[..., 2] - a[..., 2])
    found: BoolArray = np.logical_or.reduce(inside & (depth > p[..., 2] + near), axis=1)
    return found


def _drawn(scene: Scene, eyes: _Eyes, line: SeamLine, seam: SeamReport) -> Drawn:
    """Return one seam or opening as it is drawn."""
    up, starboard = scene.normal, scene.directions[1]
    fine = [_refined(one, _STEP * eyes.size_mm) for one in line.lines_mm]
    side = [scene.from_port(run) for one in fine for run in _runs(one, eyes.seen(one, -starboard))]
    below = [from_below(scene, run) for one in fine for run in _runs(one, eyes.seen(one, -up))]
    points = line.points_mm
    room = 0.02 * eyes.size_mm
    inside = (points >= eyes.low_mm - room).all() and (points <= eyes.high_mm + room).all()
    on_hull = bool(inside) and (line.body is None or line.body in eyes.bodies or not _is_named(
        scene.craft, line.body
    ))  # fmt: skip
    middle = points.mean(axis=0)
    return Drawn(
        seam=seam,
        side=tuple(side),
        below=tuple(below),
        at_side=scene.from_port(middle),
        at_below=from_below(scene, middle),
        on_hull=on_hull,
        facing=_facing(points, side, below, under_water=seam.under_water),
    )


def _is_named(craft: Craft, body: str) -> bool:
    """Return whether a body of the craft has just this name; shells of one file are numbered."""
    return any(one.name == body for one in craft.bodies)


def _facing(
    points: FloatArray, side: list[FloatArray], below: list[FloatArray], *, under_water: bool
) -> Facing:
    """Return the view that shows a line best.

    What runs across her is named where its height shows; so is what stands above the water. The
    rest is named where more of it is seen.
    """
    size = np.ptp(points, axis=0)
    across = size.max() > 0.0 and size[0] <= _ACROSS * size.max()
    if (side and (across or not under_water)) or not below:
        return "side"
    return "below" if _seen(below) > _seen(side) or not side else "side"


def _seen(pieces: list[FloatArray]) -> float:
    """Return how long pieces are in a view [mm]."""
    return float(sum(np.linalg.norm(np.diff(piece, axis=0), axis=1).sum() for piece in pieces))


def _refined(line: FloatArray, step: float) -> FloatArray:
    """Return a line with points added so that none are further apart than a step."""
    pieces = [line[:1]]
    for start, end in pairwise(line):
        count = max(int(np.ceil(np.linalg.norm(end - start) / step)), 1)
        shares = np.arange(1, count + 1)[:, None] / count
        pieces.append(start + shares * (end - start))
    return np.concatenate(pieces)


def _runs(line: FloatArray, seen: BoolArray) -> list[FloatArray]:
    """Return the runs of a line that are seen; a single point is one of its own."""
    if len(line) == 1:
        return [line] if seen[0] else []
    edges = np.flatnonzero(np.diff(seen.astype(int))) + 1
    runs = [part for part, flag in zip(np.split(line, edges), np.split(seen, edges), strict=True)
            if flag[0] and len(part) > 1]  # fmt: skip
    closed = len(runs) > 1 and seen[0] and seen[-1] and bool((line[0] == line[-1]).all())
    if closed:
        runs = [np.concatenate((runs[-1], runs[0][1:])), *runs[1:-1]]
    return runs
