"""The turnable view's scene as it is seen at first: what faces the viewer, and what is hidden."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import BoolArray, FloatArray, owned
from hullcheck.report.view3d_scene import Scene3d

_CHUNK: Final = 128
_NEAR: Final = 0.002
"""Of the greatest size: what lies no more than this under the skin lies on it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """Where she is looked at from.

    Attributes
    ----------
    key, words : str
        "port", "from port".
    angles_deg : tuple of float
        Round her, from port towards astern, and up [deg].
    """

    key: str
    words: str
    angles_deg: tuple[float, float]


STARTS: Final = (
    View(key="start", words="from off the port bow", angles_deg=(-32.0, 24.0)),
    View(key="start", words="from off the starboard bow", angles_deg=(212.0, 24.0)),
)
VIEWS: Final = (
    View(key="port", words="from port", angles_deg=(0.0, 0.0)),
    View(key="astern", words="from astern", angles_deg=(90.0, 0.0)),
    View(key="above", words="from above", angles_deg=(0.0, 90.0)),
)


_ROUND: Final = (
    *STARTS,
    *VIEWS,
    View(key="starboard", words="from starboard", angles_deg=(180.0, 0.0)),
    View(key="ahead", words="from ahead", angles_deg=(270.0, 0.0)),
    View(key="below", words="from below", angles_deg=(0.0, -90.0)),
)


def surfaced(scene: Scene3d) -> Scene3d:
    """Return a scene whose marks that no view from round her shows are drawn through the skin.

    A place that was given a little inside her would never be seen.
    """
    eyes = [Eye.of(scene, view) for view in _ROUND]
    marks = tuple(
        mark
        if mark.inside or any(len(eye.free(mark.places_mm)) for eye in eyes)
        else replace(mark, inside=True)
        for mark in scene.marks
    )
    return replace(scene, marks=marks)


def start_of(scene: Scene3d) -> View:
    """Return the first view that shows what limits or leaks; that from port where both do."""

    def unseen(view: View) -> int:
        """Return how many of them a view does not show."""
        eye = Eye.of(scene, view)
        flags = [mark for mark in scene.marks if mark.flag and not mark.inside]
        return sum(len(eye.free(mark.places_mm)) == 0 for mark in flags)

    return min(STARTS, key=unseen)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Eye:
    """A viewer of a scene.

    Attributes
    ----------
    axes : ndarray, shape (3, 3)
        Columns: right, up, toward the viewer, in water axes.
    corners : tuple of ndarray, shape (m, 3)
        Each body's points by these axes [mm].
    triangles : ndarray, shape (n, 3, 3)
        All faces that look at the viewer, by these axes [mm].
    near_mm : float
        What lies no more than this under the skin lies on it [mm].
    """

    axes: FloatArray
    corners: tuple[FloatArray, ...]
    triangles: FloatArray
    near_mm: float

    def __post_init__(self) -> None:
        """Own the arrays."""
        object.__setattr__(self, "axes", owned(self.axes, (3, 3)))
        object.__setattr__(self, "triangles", owned(self.triangles, (-1, 3, 3)))

    @classmethod
    def of(cls, scene: Scene3d, view: View) -> "Eye":
        """Return the viewer of a scene."""
        axes = axes_of(*view.angles_deg)
        corners = tuple(scene.placed(mesh.points) @ axes for mesh in scene.skin.meshes)
        pairs = zip(corners, scene.skin.meshes, strict=True)
        triangles = np.concatenate([points[mesh.faces] for points, mesh in pairs])
        size = float(np.ptp(np.concatenate(corners), axis=0).max())
        return cls(
            axes=axes,
            corners=corners,
            triangles=triangles[normals_of(triangles)[:, 2] > 0.0],
            near_mm=2.0 * scene.skin.tolerance_mm + _NEAR * size,
        )

    @property
    def _box(self) -> tuple[FloatArray, FloatArray]:
        """Least and greatest of right and up [mm]."""
        points = np.concatenate(self.corners)[:, :2]
        return points.min(axis=0), points.max(axis=0)

    @property
    def middle_mm(self) -> FloatArray:
        """Middle of what is seen, right and up [mm]."""
        low, high = self._box
        middle: FloatArray = 0.5 * (low + high)
        return middle

    @property
    def wide_mm(self) -> float:
        """How wide she is as seen [mm]."""
        return float((self._box[1] - self._box[0])[0])

    @property
    def high_mm(self) -> float:
        """How high she is as seen [mm]."""
        return float((self._box[1] - self._box[0])[1])

    def seen(self, points_mm: FloatArray) -> FloatArray:
        """Return points in water axes as right, up and toward the viewer [mm]."""
        placed: FloatArray = points_mm @ self.axes
        return placed

    def hidden(self, points: FloatArray, near_mm: float) -> BoolArray:
        """Return which points, right, up, toward the viewer (k, 3), lie behind the skin."""
        found = [
            _behind(self.triangles, points[i : i + _CHUNK], near_mm)
            for i in range(0, len(points), _CHUNK)
        ]
        return np.concatenate(found) if found else np.zeros(0, dtype=bool)

    def free(self, places_mm: FloatArray) -> FloatArray:
        """Return places in water axes that nothing hides, as right, up, toward the viewer [mm]."""
        places = self.seen(places_mm)
        return places[~self.hidden(places, 2.0 * self.near_mm)]

    def runs(self, lines: Iterable[FloatArray], step: float, near_mm: float) -> list[FloatArray]:
        """Return the runs of lines, right, up, toward the viewer (k, 3), that are not hidden."""
        fine = [refined(line, step) for line in lines]
        if not fine:
            return []
        seen = ~self.hidden(np.concatenate(fine), near_mm)
        found: list[FloatArray] = []
        ends = np.cumsum([len(line) for line in fine])[:-1]
        for line, flags in zip(fine, np.split(seen, ends), strict=True):
            cuts = np.flatnonzero(np.diff(flags.astype(int))) + 1
            for run, shown in zip(np.split(line, cuts), np.split(flags, cuts), strict=True):
                if shown[0] and len(run) > 1:
                    found.append(run)
        return found


def axes_of(round_deg: float, up_deg: float) -> FloatArray:
    """Return right, up and toward the viewer as columns, for a viewer's angles [deg]."""
    a, b = np.radians([round_deg, up_deg])
    right = [np.cos(a), np.sin(a), 0.0]
    above = [-np.sin(a) * np.sin(b), np.cos(a) * np.sin(b), np.cos(b)]
    toward = [np.sin(a) * np.cos(b), -np.cos(a) * np.cos(b), np.sin(b)]
    return np.array([right, above, toward]).T


def refined(line: FloatArray, step: float) -> FloatArray:
    """Return a line with points added so that none are further apart than a step."""
    pieces = [line[:1]]
    for start, end in pairwise(line):
        count = max(int(np.ceil(np.linalg.norm(end - start) / step)), 1)
        pieces.append(start + np.arange(1, count + 1)[:, None] / count * (end - start))
    return np.concatenate(pieces)


def normals_of(triangles: FloatArray) -> FloatArray:
    """Return the unit normals of faces."""
    normals = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    sizes = np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-300)
    unit: FloatArray = normals / sizes
    return unit


def _behind(skin: FloatArray, points: FloatArray, near_mm: float) -> BoolArray:
    """Return which points lie behind faces; both as right, up and toward the viewer."""
    a, one, two = skin[:, 0], skin[:, 1] - skin[:, 0], skin[:, 2] - skin[:, 0]
    area = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]
    x = points[:, None, 0] - a[None, :, 0]
    y = points[:, None, 1] - a[None, :, 1]
    u = (x * two[:, 1] - y * two[:, 0]) / area
    v = (one[:, 0] * y - one[:, 1] * x) / area
    depth = a[:, 2] + u * one[:, 2] + v * two[:, 2]
    inside = (u >= 0.0) & (v >= 0.0) & (u + v <= 1.0)
    before = inside & (depth > points[:, None, 2] + near_mm)
    found: BoolArray = np.logical_or.reduce(before, axis=1)
    return found
