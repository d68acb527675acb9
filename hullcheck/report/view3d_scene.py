"""What the page's turnable view shows: few triangles, lines and marks, in axes of the water.

Water axes: aft, to starboard, up, all level, heights from the water [mm].
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from hullcheck.answers.float_records import FloatAnswer
from hullcheck.answers.seams_answer import distinct
from hullcheck.answers.seams_records import SeamReport, SeamsAnswer
from hullcheck.craft.craft import Craft
from hullcheck.craft.seam_lines import SeamLine, seam_lines
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outlines import thinned
from hullcheck.geometry.sections import chained, cut_segments
from hullcheck.geometry.topology import Mesh
from hullcheck.report import style
from hullcheck.report.float_scene import Scene
from hullcheck.report.view3d_marks import Mark3d, centers, in_water, limiting_marks, seam_marks
from hullcheck.report.view3d_shapes import color_of, pattern_of
from hullcheck.report.view3d_skin import FewTriangles, few_triangles

_AROUND: Final = 1.2
"""Of her greatest size: water shown around her."""
_LINE_SHARE: Final = 2e-4
"""Of the greatest size: how far a line's points left out may lie from it."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Line3d:
    """A line on the skin or the water, shape (k, 3) in water axes [mm]; its width in points."""

    points_mm: FloatArray
    pattern: str
    width: float
    color: str
    state: str | None = None
    """Of a seam or opening."""
    is_seam: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Scene3d:
    """All that the view shows."""

    scene: Scene
    skin: FewTriangles
    lines: tuple[Line3d, ...]
    marks: tuple[Mark3d, ...]
    water_mm: FloatArray
    """Corners of the water that is shown, shape (8, 3)."""

    def placed(self, points_mm: FloatArray) -> FloatArray:
        """Return points in body axes as points in water axes [mm]."""
        return in_water(self.scene, points_mm)


def scene3d(
    craft: Craft,
    answer: FloatAnswer,
    seams: SeamsAnswer | None = None,
    skin: FewTriangles | None = None,
) -> Scene3d:
    """Return what the view shows of a craft.

    Parameters
    ----------
    craft : Craft
        What floats.
    answer : FloatAnswer
        Where she floats.
    seams : SeamsAnswer, optional
        What is known of her seams and openings; without it they are drawn as only supposed.
    skin : FewTriangles, optional
        Her skin in few triangles; worked out where it is not given.

    Raises
    ------
    SurfaceError
        If her bodies cannot be drawn in so few triangles.
    """
    scene = Scene.of(craft, answer)
    skin = skin or few_triangles(craft.bodies)
    corners = in_water(scene, np.concatenate([mesh.points for mesh in skin.meshes]))
    low, high = corners.min(axis=0), corners.max(axis=0)
    size = float((high - low).max())
    block = _water(low, high)
    edge = Line3d(
        points_mm=block[[0, 1, 2, 3, 0]],
        pattern="solid",
        width=style.WATER_LINE,
        color=style.WATER,
    )
    found = seam_lines(craft) if seams is None else distinct(seam_lines(craft))
    reports = {} if seams is None else {one.name: one for one in seams.seams}
    lines = [
        edge,
        *waterline(scene, skin.meshes),
        *(line for seam in found for line in _seam_lines(scene, seam, reports, size)),
    ]
    marks = [
        *centers(scene),
        *seam_marks(scene, found, seams),
        *limiting_marks(scene, found, seams),
    ]
    return Scene3d(
        scene=scene,
        skin=skin,
        lines=tuple(lines),
        marks=tuple(sorted(marks, key=lambda mark: mark.rank)),
        water_mm=block,
    )


def with_skin(scene: Scene3d, skin: FewTriangles) -> Scene3d:
    """Return a scene with her skin in other triangles, and the waterline that is theirs."""
    edge, *_ = scene.lines
    seams = (line for line in scene.lines if line.is_seam)
    return replace(scene, skin=skin, lines=(edge, *waterline(scene.scene, skin.meshes), *seams))


def _water(low: FloatArray, high: FloatArray) -> FloatArray:
    """Return the corners of the water shown, four at its surface, four deep under it, (8, 3)."""
    size = float((high - low).max())
    around = _AROUND * size
    (x0, y0), (x1, y1) = low[:2] - around, high[:2] + around
    rim = np.array([(x0, y0, 0.0), (x1, y0, 0.0), (x1, y1, 0.0), (x0, y1, 0.0)])
    return np.concatenate((rim, rim - np.array([0.0, 0.0, 2.0 * size])))


def waterline(scene: Scene, meshes: Iterable[Mesh]) -> list[Line3d]:
    """Return where the water meets a skin that is drawn; none where she sinks."""
    if scene.answer.waterline is None:
        return []
    loops = [
        loop
        for mesh in meshes
        for loop in chained(cut_segments(mesh.triangles, scene.normal, scene.height_mm))
    ]
    return [
        Line3d(
            points_mm=in_water(scene, np.concatenate((loop, loop[:1]))),
            pattern="solid",
            width=style.WATER_LINE,
            color=style.WATER,
        )
        for loop in loops
    ]


def _state(seam: SeamLine, reports: dict[str, SeamReport]) -> str | None:
    """Return the state of a seam or opening: the log's, else the sheet's of an opening."""
    report = reports.get(seam.name)
    if report is not None:
        return report.state
    return "sealed by the sheet, not in the log" if seam.state == "sealed" else seam.state


def _seam_lines(
    scene: Scene, seam: SeamLine, reports: dict[str, SeamReport], size: float
) -> Iterable[Line3d]:
    """Return a seam or opening as lines by its state; a single point is a mark alone."""
    state = _state(seam, reports)
    pattern, width = pattern_of(state)
    for line in seam.lines_mm:
        if len(line) > 1:
            yield Line3d(
                points_mm=in_water(scene, thinned(line, _LINE_SHARE * size)),
                pattern=pattern,
                width=width,
                color=color_of(state),
                state=state,
                is_seam=True,
            )
