"""A floating craft as flat shapes in millimeters: what the float drawing is made of."""

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np

from hullcheck.answers.float_records import FloatAnswer
from hullcheck.craft.bodies import Body
from hullcheck.craft.craft import Craft
from hullcheck.geometry.arrays import FloatArray, owned
from hullcheck.geometry.attitude import heel_of, level_directions, trim_of
from hullcheck.geometry.outlines import EdgeWeb, Loops, chine_lines, plane_cut, seen, thinned
from hullcheck.report.float_marks import DraftMark, HeightMark, draft_marks, height_marks

TOLERANCE_SHARE: Final = 4e-4
"""Of the length: how far an outline may be off, 0.2 pt on the sheet."""
FLAT_HEEL_DEG: Final = 20.0
"""Past this heel the center plane is seen too much edge on for its outline to say anything."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BodyShape:
    """A body's outlines [mm]: from port, from astern and from above.

    `center` is its center plane's outline from port, `section` that of its step or middle from
    astern, `chines` lines from port, `waterline` its cut with the surface from above.
    """

    name: str
    role: str
    clearance_mm: float
    lowest: FloatArray
    side: Loops
    front: Loops
    plan: Loops
    center: Loops
    section: Loops
    chines: Loops
    waterline: Loops
    middle_mm: FloatArray


@dataclass(frozen=True, kw_only=True, eq=False)
class Scene:
    """A craft in the water.

    Attributes
    ----------
    craft, answer
        What is drawn.
    normal : ndarray, shape (3,)
        Up out of the water.
    height_mm : float
        The surface holds the points p with normal·p = height_mm [mm].
    """

    craft: Craft
    answer: FloatAnswer
    normal: FloatArray
    height_mm: float

    def __post_init__(self) -> None:
        """Own the normal."""
        object.__setattr__(self, "normal", owned(self.normal, (3,)))

    @classmethod
    def of(cls, craft: Craft, answer: FloatAnswer) -> "Scene":
        """Return the scene of an answer; she who sinks is drawn level, water to the deck."""
        if answer.waterline is not None:
            normal, height = np.array(answer.waterline.normal), answer.waterline.height_mm
        else:
            normal = np.array([0.0, 0.0, 1.0])
            height = max(float(b.shell.high_mm[2]) for b in craft.deck_bodies)
        return cls(craft=craft, answer=answer, normal=normal, height_mm=height)

    @cached_property
    def directions(self) -> tuple[FloatArray, FloatArray]:
        """Level unit vectors aft and to starboard."""
        return level_directions(trim=trim_of(self.normal), heel=heel_of(self.normal))

    @property
    def heel_deg(self) -> float:
        """Heel [deg], positive starboard down."""
        return math.degrees(heel_of(self.normal))

    @property
    def broken(self) -> bool:
        """Whether the span may be shown broken: she is near enough to upright."""
        return abs(self.heel_deg) < FLAT_HEEL_DEG

    @property
    def flat(self) -> bool:
        """Whether sections and the wing seen from astern still look like themselves."""
        return self.broken and abs(math.degrees(trim_of(self.normal))) < FLAT_HEEL_DEG

    @cached_property
    def tolerance_mm(self) -> float:
        """How far an outline may be off [mm]."""
        spans = [(b.shell.high_mm - b.shell.low_mm).max() for b in self.craft.deck_bodies]
        return TOLERANCE_SHARE * float(max(spans))

    def from_port(self, points_mm: FloatArray) -> FloatArray:
        """Return points as seen from port [mm]: aft, above the water."""
        return self._flat(points_mm, self.directions[0], self.normal, self.height_mm)

    def from_astern(self, points_mm: FloatArray) -> FloatArray:
        """Return points as seen from astern [mm]: to starboard, above the water."""
        return self._flat(points_mm, self.directions[1], self.normal, self.height_mm)

    def from_above(self, points_mm: FloatArray) -> FloatArray:
        """Return points as seen from above [mm]: aft, to starboard."""
        return self._flat(points_mm, self.directions[0], self.directions[1], 0.0)

    @cached_property
    def deck_body(self) -> Body:
        """The body that drafts are read off."""
        return self.craft.deck_body

    @cached_property
    def center_plane_mm(self) -> float:
        """Breadth coordinate y of that body's center plane [mm]."""
        return self.deck_body.shell.center_plane_mm

    @cached_property
    def shapes(self) -> tuple[BodyShape, ...]:
        """Every body's outlines, starboard ones first: the nearer to port, the later."""
        shapes = [self._shape(body) for body in self.craft.bodies]
        return tuple(sorted(shapes, key=lambda shape: -float(shape.middle_mm[1])))

    @property
    def hulls(self) -> tuple[BodyShape, ...]:
        """The bodies that float her: all but tip floats."""
        kept = tuple(s for s in self.shapes if s.role != "tip float")
        return kept or self.shapes

    @property
    def tip_floats(self) -> tuple[BodyShape, ...]:
        """The tip floats, unless she is nothing else."""
        return tuple(s for s in self.shapes if s not in self.hulls)

    @cached_property
    def height_marks(self) -> tuple[HeightMark, ...]:
        """The heights above the water to show."""
        return height_marks(self.answer)

    @cached_property
    def draft_marks(self) -> tuple[DraftMark, ...]:
        """The drafts to show."""
        return draft_marks(self.answer, self.deck_body, self.normal)

    def _flat(
        self, points: FloatArray, right: FloatArray, up: FloatArray, height: float
    ) -> FloatArray:
        """Return points on the plane of two directions, heights from the water."""
        flat: FloatArray = np.asarray(points) @ np.stack((right, up), axis=1)
        flat -= np.array([0.0, height])
        return flat

    def _lowered(self, loops: Loops) -> Loops:
        """Return loops seen level, with heights from the water."""
        return [loop - np.array([0.0, self.height_mm]) for loop in loops]

    def _shape(self, body: Body) -> BodyShape:
        """Return a body's outlines."""
        triangles = body.shell.triangles_mm
        web = EdgeWeb.of(triangles)
        low, high, center = body.shell.low_mm, body.shell.high_mm, body.shell.middle_mm
        aft, starboard = self.directions
        main = body.role != "tip float"
        flat_on = self.broken
        corners = triangles.reshape(-1, 3)
        lowest = corners[int((corners @ self.normal).argmin())]
        station = self._section_station(body, low, high)
        return BodyShape(
            name=body.name,
            role=body.role,
            clearance_mm=float(lowest @ self.normal) - self.height_mm,
            lowest=lowest,
            side=self._lowered(web.silhouette(aft, self.normal, self.tolerance_mm)),
            front=self._lowered(web.silhouette(starboard, self.normal, self.tolerance_mm)),
            plan=web.silhouette(aft, starboard, self.tolerance_mm),
            center=self._cut(triangles, 1, float(center[1]), aft) if main and flat_on else [],
            section=self._cut(triangles, 0, station, starboard) if main and self.flat else [],
            chines=self._chines(body, float(center[1])) if main and flat_on else [],
            waterline=self._waterline(triangles),
            middle_mm=center,
        )

    def _waterline(self, triangles: FloatArray) -> Loops:
        """Return a body's cut with the surface from above; empty when she sinks."""
        if self.answer.waterline is None:
            return []
        cut = plane_cut(triangles, self.normal, self.height_mm)
        return seen(cut, *self.directions, self.tolerance_mm)

    def _section_station(self, body: Body, low: FloatArray, high: FloatArray) -> float:
        """Return the station whose section is shown: just ahead of the step, else the middle."""
        step = next((s.step for s in self.answer.bodies if s.name == body.name), None)
        if step is None:
            return float(0.5 * (low[0] + high[0]))
        return step.station_mm - 1e-3 * float(high[0] - low[0])

    def _cut(self, triangles: FloatArray, axis: int, offset: float, right: FloatArray) -> Loops:
        """Return a body's cut across an axis, seen level."""
        cut = plane_cut(triangles, np.eye(3)[axis], offset)
        return self._lowered(seen(cut, right, self.normal, self.tolerance_mm))

    def _chines(self, body: Body, center_mm: float) -> Loops:
        """Return a body's port chine from port."""
        step = next((s.step for s in self.answer.bodies if s.name == body.name), None)
        breaks = () if step is None else (step.station_mm,)
        lines = chine_lines(body.shell.triangles_mm, center_mm, -1, breaks)
        return [thinned(self.from_port(line), self.tolerance_mm) for line in lines]
