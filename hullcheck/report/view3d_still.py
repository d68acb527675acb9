"""The still picture of the turnable view: where a page has no script or no WebGL, and in print."""

from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outlines import EdgeWeb
from hullcheck.geometry.topology import Mesh
from hullcheck.report import marks, seams_marks, style
from hullcheck.report.labels import Room
from hullcheck.report.sheet import Box, Sheet, Spot
from hullcheck.report.style import Layer
from hullcheck.report.view3d_eye import Eye, View
from hullcheck.report.view3d_marks import Mark3d
from hullcheck.report.view3d_scene import Line3d, Scene3d
from hullcheck.report.view3d_skin import creases
from hullcheck.report.view3d_tones import CREASE_DEG, fills

if TYPE_CHECKING:
    from matplotlib.figure import Figure

NAME: Final = "view3d"
MOST_TRIANGLES: Final = 2400
"""Of the still picture: more would not be seen at its size."""
_WIDTH: Final = 0.86
_TALLEST: Final = 300.0
"""Of her on the sheet [pt]."""
_HEAD: Final = 44.0
"""Room for words over and under her [pt]."""
_FINE: Final = 3.0
"""How finely lines are looked at for what hides them [pt]."""
_SEAL: Final = 0.3
"""Edge of a face in its own color, so that no ground shows between faces [pt]."""
_TAKEN: Final = 100.0
"""Cost of a place where other words stand."""


def still_drawing(scene: Scene3d, start: View) -> "Figure":
    """Return the turnable view as it is at first, as a drawing.

    Parameters
    ----------
    scene : Scene3d
        What is shown, in no more than some thousand triangles.
    start : View
        Where it is looked at from.

    Returns
    -------
    matplotlib.figure.Figure
        8 in wide; `hullcheck.report.drawing_file.drawing_bytes` turns it into a file.

    Notes
    -----
    Bodies are painted from the farthest to the nearest, each in two tones by which way a face
    looks; lines are drawn where no face lies before them.
    """
    with style.context(NAME):
        picture = _Picture(scene, start)
        picture.paint()
        picture.name_marks()
        picture.sheet.caption(f"Afloat, {start.words}", f"She floats, seen {start.words}.")
    return picture.sheet.figure


class _Picture:
    """A scene on a sheet."""

    def __init__(self, scene: Scene3d, start: View) -> None:
        self.scene = scene
        self.sheet = Sheet(NAME)
        self.eye = Eye.of(scene, start)
        self.scale = min(_WIDTH * style.SHEET_WIDTH / self.eye.wide_mm, _TALLEST / self.eye.high_mm)
        height = self.scale * self.eye.high_mm + 2.0 * _HEAD
        self.sheet.cut(height)
        middle = np.array([0.5 * style.SHEET_WIDTH, -0.5 * height])
        self.zero = middle - self.scale * self.eye.middle_mm
        self.room = Room()
        self.words: list[tuple[Box, FloatArray]] = []

    def at(self, points: FloatArray) -> FloatArray:
        """Return points, right, up and toward the viewer [mm], as spots on the sheet [pt]."""
        spots: FloatArray = self.zero + self.scale * np.asarray(points)[..., :2]
        return spots

    def paint(self) -> None:
        """Paint the water, the bodies from the farthest, and the lines on them."""
        eye = self.eye
        sheet = Box(left=0.0, bottom=-self.sheet.height, right=self.sheet.width, top=0.0)
        self.sheet.block(sheet, style.TINT)
        order = np.argsort([float(corners[:, 2].mean()) for corners in eye.corners])
        for rank, i in enumerate(order.tolist()):
            self._body(self.scene.skin.meshes[i], eye.corners[i], 1.0 + 0.5 * rank / len(order))
        for line in self.scene.lines:
            for run in eye.runs([eye.seen(line.points_mm)], _FINE / self.scale, eye.near_mm):
                self._line(line, self.at(run))

    def _line(self, line: Line3d, path: FloatArray) -> None:
        """Draw what is seen of a line."""
        if line.is_seam:
            seams_marks.line(self.sheet, path, line.state or "not stated")
            return
        self.sheet.line(path, color=line.color, width=line.width, layer=Layer.WATER)
        self.room.line(path, hair=True)

    def _body(self, mesh: Mesh, corners: FloatArray, layer: float) -> None:
        """Paint a body in two tones, its outline and its sharp edges."""
        for color, loops in fills(self.eye, mesh, self.scene.placed(mesh.points)):
            path = [self.at(loop) for loop in loops]
            self.sheet.area(path, fill=color, edge=color, width=_SEAL, layer=layer)
        web = EdgeWeb.of(corners[mesh.faces])
        outline = [
            self.at(loop) for loop in web.silhouette(np.eye(3)[0], np.eye(3)[1], 0.2 / self.scale)
        ]
        self.sheet.area(outline, edge=style.INK, layer=layer + 0.01)
        self.room.loops(outline)
        sharp = [corners[[a, b]] for a, b in creases(mesh, CREASE_DEG)]
        for edge in self.eye.runs(sharp, _FINE / self.scale, self.eye.near_mm):
            self.sheet.line(self.at(edge), width=style.HAIR, layer=layer + 0.01)

    def name_marks(self) -> None:
        """Draw the marks that are seen, and their words where there is room."""
        shown = []
        for mark in self.scene.marks:
            places = self.eye.seen(mark.places_mm)
            free = places if mark.inside else self.eye.free(mark.places_mm)
            if len(free):
                x, y = self.at(free[int(np.argmax(free[:, 1]))])
                shown.append((mark, (float(x), float(y))))
        for _, (x, y) in shown:
            self.room.take(Box(left=x - 6.5, bottom=y - 6.5, right=x + 6.5, top=y + 6.5))
        for mark, spot in shown:
            self._words(mark, spot)
        for mark, spot in reversed(shown):
            _draw_mark(self.sheet, mark, spot)

    def _words(self, mark: Mark3d, spot: Spot) -> None:
        """Write a mark's words beside it with a leader, unless there is no room at all."""
        lines = [
            (mark.head, style.FLAG if mark.flag else style.BOLD_NAME),
            (mark.name, style.NAME),
            (mark.note, style.NOTE),
        ]
        lines = [(words, kind) for words, kind in lines if words]
        wide = max(self.sheet.width_of(words, kind) for words, kind in lines) + 4.0
        high = 12.0 * len(lines) + (4.0 if mark.flag else 0.0)
        middle = -0.5 * self.sheet.height
        whole = Box(
            left=2.0, bottom=2.0 - self.sheet.height, right=self.sheet.width - 2.0, top=-2.0
        )
        places = [
            (self._cost(mark, spot, box, end) + 2.0 * rank, box, end)
            for rank, (box, end) in enumerate(_places(spot, wide, high, down=spot[1] < middle))
            if _holds(whole, box)
        ]
        cost, box, end = min(places, key=lambda place: place[0], default=(_TAKEN, whole, spot))
        if cost >= _TAKEN:
            return
        self.room.take(box)
        self.words.append((box, np.array([spot, end])))
        self.sheet.line([spot, end], color=style.LIMIT if mark.flag else style.SOFT)
        self._write(box, lines, flag=mark.flag)

    def _cost(self, mark: Mark3d, spot: Spot, box: Box, end: Spot) -> float:
        """Return how bad a place for words is: 100 where others stand or leaders cross."""
        leader = np.array([spot, end])
        crossed = any(
            crosses(leader, other) or box_meets(box, other) or box_meets(taken, leader)
            for taken, other in self.words
        )
        on_skin = (30.0 if mark.flag or mark.inside else _TAKEN) * self._on_skin(box)
        return self.room.cost(box) + _TAKEN * crossed + on_skin

    def _on_skin(self, box: Box) -> bool:
        """Return whether a box lies over her anywhere."""
        x, y = np.meshgrid(np.linspace(box.left, box.right, 5), np.linspace(box.bottom, box.top, 3))
        flat = (np.stack((x.ravel(), y.ravel()), axis=1) - self.zero) / self.scale
        deep = np.column_stack((flat, np.full(len(flat), -1e9)))
        return bool(self.eye.hidden(deep, 0.0).any())

    def _write(self, box: Box, lines: list[tuple[str, style.Type]], *, flag: bool) -> None:
        """Write lines into a box on a ground of paper."""
        y = box.top - 10.0
        if flag:
            marks.flag(self.sheet, (box.left + 4.0, y - 3.0), lines[0][0])
            lines, y = lines[1:], y - 17.0
        if lines:
            ground = Box(left=box.left, bottom=box.bottom, right=box.right, top=y + 9.5)
            color = style.PAPER if self._on_skin(box) else style.TINT
            self.sheet.block(ground, color, layer=Layer.MARK - 0.1)
        for words, kind in lines:
            self.sheet.text((box.left + 2.0, y), words, kind)
            y -= 12.0


def _places(spot: Spot, wide: float, high: float, *, down: bool) -> list[tuple[Box, Spot]]:
    """Return boxes about a spot that words may fill, the wanted first, and their leaders' ends."""
    first = -1.0 if down else 1.0
    found = []
    for far in (16.0, 32.0, 52.0, 76.0, 104.0):
        for a, b in ((0.7, first), (-0.7, first), (0.7, -first), (-0.7, -first), (1, 0), (-1, 0)):
            end = (spot[0] + a * far, spot[1] + b * far)
            left = end[0] if a > 0.0 else end[0] - wide
            bottom = end[1] - 0.5 * high + 0.4 * b * high
            box = Box(left=left, bottom=bottom, right=left + wide, top=bottom + high)
            found.append((box, end))
    return found


def _holds(whole: Box, box: Box) -> bool:
    """Return whether a box lies wholly within another."""
    return (
        box.left >= whole.left
        and box.right <= whole.right
        and box.bottom >= whole.bottom
        and box.top <= whole.top
    )


def crosses(one: FloatArray, two: FloatArray) -> bool:
    """Return whether two straight lines, each its ends (2, 2), cross."""
    (a, b), (c, d) = one, two
    return _side(a, b, c) * _side(a, b, d) < 0.0 and _side(c, d, a) * _side(c, d, b) < 0.0


def box_meets(box: Box, line: FloatArray) -> bool:
    """Return whether a straight line, its ends (2, 2), passes through a box."""
    left, right, bottom, top = box.left, box.right, box.bottom, box.top
    ways = np.array([[(left, bottom), (right, top)], [(left, top), (right, bottom)]])
    return any(crosses(way, line) for way in ways)


def _side(a: FloatArray, b: FloatArray, c: FloatArray) -> float:
    """Return on which side of a line from a to b a point lies: its sign tells."""
    return float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))


def _draw_mark(sheet: Sheet, mark: Mark3d, spot: Spot) -> None:
    """Draw a mark."""
    if mark.shape == "cg":
        marks.center_of_gravity(sheet, spot)
    elif mark.shape == "cb":
        marks.center_of_buoyancy(sheet, spot)
    elif mark.shape in {"opening", "limiting"}:
        size = marks.DIAMOND
        corners = np.array([(0.0, -size), (size, 0.0), (0.0, size), (-size, 0.0)]) + spot
        color = style.LIMIT if mark.shape == "limiting" else style.INK
        fill = style.LIMIT if mark.shape == "limiting" else style.PAPER
        sheet.area([corners], fill=fill, edge=color, width=1.3, layer=Layer.MARK)
    else:
        seams_marks.end_mark(sheet, spot, mark.state or "not stated")
