"""A skin and its parts as flat shapes in millimeters: what the skin drawing is made of."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from hullcheck.answers.float_records import Waterline
from hullcheck.answers.skin_records import InventedReport, PartReport, SeamReport, SkinAnswer
from hullcheck.craft.body_skin import BodySkin
from hullcheck.geometry.areas import area_vectors_mm2
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.attitude import heel_of, level_directions, trim_of
from hullcheck.geometry.outer_records import PartSeam, Patch
from hullcheck.geometry.outlines import EdgeWeb, Loops, plane_cut
from hullcheck.report.skin_copies import copies_once
from hullcheck.report.skin_words import is_leak

Facing = Literal["port", "above", "below"]

TOLERANCE_SHARE: Final = 4e-4
"""Of the length: how far an outline may be off, 0.2 pt on the sheet."""
_GRID_SHARE: Final = 0.25
"""Of that: corners closer than this are drawn as one."""
_MOST_LEAN_DEG: Final = 20.0
"""Leaning or trimmed more than this she is drawn level and without water: the parts would not be
known again."""
_UP: Final = 0.6
_DOWN: Final = -0.4
"""Upward part of a piece's mean normal from which it is best seen from above or below."""
_OFF_CUT_MM: Final = 1e-3
"""A seam is cut this far beside its plane, where flat ends would leave nothing to cut."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Frame:
    """Where the viewer's aft, starboard and up lie; heights are counted from `height_mm`."""

    aft: FloatArray
    starboard: FloatArray
    up: FloatArray
    height_mm: float

    @classmethod
    def of(cls, waterline: Waterline | None) -> tuple["Frame", bool]:
        """Return the frame level with the water, and whether that is drawn."""
        if waterline is not None:
            up = np.array(waterline.normal)
            trim, heel = trim_of(up), heel_of(up)
            if max(abs(math.degrees(trim)), abs(math.degrees(heel))) < _MOST_LEAN_DEG:
                aft, starboard = level_directions(trim=trim, heel=heel)
                height = waterline.height_mm
                return cls(aft=aft, starboard=starboard, up=up, height_mm=height), True
        x, y, z = np.eye(3)
        return cls(aft=x, starboard=y, up=z, height_mm=0.0), False

    def side(self, points_mm: FloatArray) -> FloatArray:
        """Return points as seen from port [mm]: aft, up from the water."""
        flat: FloatArray = np.asarray(points_mm) @ np.stack((self.aft, self.up), axis=1)
        flat -= np.array([0.0, self.height_mm])
        return flat

    def plan(self, points_mm: FloatArray) -> FloatArray:
        """Return points as seen from above [mm]: aft, to starboard."""
        flat: FloatArray = np.asarray(points_mm) @ np.stack((self.aft, self.starboard), axis=1)
        return flat


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PartShape:
    """A part's outline from port [mm].

    `copies` is how many of its file there are, of which all but the first are left out;
    `is_mirrored` whether any of those is its mirror image.
    """

    report: PartReport
    body: int
    side: Loops
    copies: int = 1
    is_mirrored: bool = False

    @property
    def box(self) -> FloatArray:
        """Its least and greatest coordinates, shape (2, 2) [mm]."""
        every = np.concatenate(self.side)
        return np.stack((every.min(axis=0), every.max(axis=0)))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PatchShape:
    """An invented piece's outlines [mm], and from where it is seen best."""

    report: InventedReport
    facing: Facing
    seen_from: frozenset[Facing]
    side: Loops
    plan: Loops
    middle_mm: FloatArray

    @property
    def is_leak(self) -> bool:
        """Whether it is an opening under water."""
        return is_leak(self.report)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SeamShape:
    """A seam as lines across the skin [mm], and its place from port."""

    report: SeamReport
    side: Loops
    plan: Loops


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BodyShape:
    """A body's outlines [mm]."""

    name: str
    role: str
    side: Loops
    plan: Loops
    patches: tuple[PatchShape, ...]
    seams: tuple[SeamShape, ...]
    middle_mm: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SkinScene:
    """What is drawn: parts apart, bodies put together, water if there is any to show.

    `bodies` stand starboard ones first: the nearer to port, the later.
    """

    answer: SkinAnswer
    frame: Frame
    in_water: bool
    parts: tuple[PartShape, ...]
    bodies: tuple[BodyShape, ...]

    @classmethod
    def of(cls, bodies: Sequence[BodySkin], answer: SkinAnswer) -> "SkinScene":
        """Return the scene of bodies and what is said of them."""
        frame, in_water = Frame.of(answer.waterline)
        every = [shell for body in bodies for shell in body.shells]
        low = np.min([shell.low_mm for shell in every], axis=0)
        high = np.max([shell.high_mm for shell in every], axis=0)
        tolerance = TOLERANCE_SHARE * float((high - low)[[0, 2]].max())
        parts = [
            PartShape(
                report=said.parts[group.first],
                body=i,
                side=_side(frame, body.parts[group.first].triangles_mm, tolerance),
                copies=group.copies,
                is_mirrored=group.is_mirrored,
            )
            for group in copies_once([body.parts for body in bodies])
            for i, body, said in ((group.body, bodies[group.body], answer.bodies[group.body]),)
        ]
        shapes = [_body(body, i, answer, frame, tolerance) for i, body in enumerate(bodies)]
        return cls(
            answer=answer,
            frame=frame,
            in_water=in_water,
            parts=tuple(part for part in parts if part.side),
            bodies=tuple(sorted(shapes, key=lambda shape: -float(shape.middle_mm[1]))),
        )

    @property
    def main(self) -> tuple[BodyShape, ...]:
        """The bodies that float her, all but tip floats; all where there is nothing else."""
        kept = tuple(body for body in self.bodies if body.role != "tip float")
        return kept or self.bodies

    @property
    def patches(self) -> tuple[PatchShape, ...]:
        """All bodies' invented pieces."""
        return tuple(patch for body in self.bodies for patch in body.patches)

    @property
    def shows_below(self) -> bool:
        """Whether something worth seeing faces down."""
        return any(p.facing == "below" and p.report.kind != "seam" for p in self.patches)


def outline(
    triangles_mm: FloatArray, right: FloatArray, up: FloatArray, tolerance_mm: float
) -> Loops:
    """Return what triangles cover on the plane of two unit vectors, in simple loops [mm].

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        They need neither close nor face the same way [mm].
    right, up : ndarray, shape (3,)
        Unit vectors of the plane.
    tolerance_mm : float
        How far the outline may be off [mm].

    Notes
    -----
    Every triangle is turned to face the viewer first, so that the number of them over a point of
    the picture is never below 0: flipped and missing faces neither cut nor hide anything.
    """
    grid = _GRID_SHARE * tolerance_mm
    flat = np.round(triangles_mm @ np.stack((right, up), axis=1) / grid)
    ahead, aside = flat[:, 1] - flat[:, 0], flat[:, 2] - flat[:, 0]
    area = ahead[:, 0] * aside[:, 1] - ahead[:, 1] * aside[:, 0]
    turned = np.where((area < 0.0)[:, None, None], flat[:, ::-1], flat)[area != 0.0]
    if len(turned) == 0:
        return []
    level = np.concatenate((turned, np.zeros((len(turned), 3, 1))), axis=2)
    x, y, _ = np.eye(3)
    loops = EdgeWeb.of(level).silhouette(x, y, tolerance_mm / grid)
    return [loop * grid for loop in loops]


def _side(frame: Frame, triangles_mm: FloatArray, tolerance_mm: float) -> Loops:
    """Return the outline from port."""
    down = np.array([0.0, frame.height_mm])
    return [loop - down for loop in outline(triangles_mm, frame.aft, frame.up, tolerance_mm)]


def _plan(frame: Frame, triangles_mm: FloatArray, tolerance_mm: float) -> Loops:
    """Return the outline from above."""
    return outline(triangles_mm, frame.aft, frame.starboard, tolerance_mm)


def _body(
    body: BodySkin, number: int, answer: SkinAnswer, frame: Frame, tolerance_mm: float
) -> BodyShape:
    """Return a body's shape."""
    said = answer.bodies[number]
    triangles = np.concatenate([shell.triangles_mm for shell in body.shells])
    corners = triangles.reshape(-1, 3)
    return BodyShape(
        name=body.name,
        role=body.role,
        side=_side(frame, triangles, tolerance_mm),
        plan=_plan(frame, triangles, tolerance_mm),
        patches=tuple(
            _patch(patch, report, frame, tolerance_mm)
            for patch, report in zip(body.patches, said.invented, strict=True)
        ),
        seams=tuple(
            _seam(seam, report, triangles, frame)
            for seam, report in zip(body.seams, said.seams, strict=True)
        ),
        middle_mm=0.5 * (corners.min(axis=0) + corners.max(axis=0)),
    )


def _patch(patch: Patch, report: InventedReport, frame: Frame, tolerance_mm: float) -> PatchShape:
    """Return an invented piece's shape."""
    triangles = patch.triangles_mm
    mean = area_vectors_mm2(triangles).sum(axis=0)
    size = float(np.linalg.norm(mean))
    rise = float(mean @ frame.up) / size if size > 0.0 else 0.0
    facing: Facing = "above" if rise > _UP else "below" if rise < _DOWN else "port"
    seen: set[Facing] = {facing}
    seen |= {"port"} if mean @ frame.starboard < 0.0 else set()
    return PatchShape(
        report=report,
        facing=facing,
        seen_from=frozenset(seen | ({"above"} if rise > 0.0 else {"below"})),
        side=_side(frame, triangles, tolerance_mm),
        plan=_plan(frame, triangles, tolerance_mm),
        middle_mm=patch.center_mm,
    )


def _seam(seam: PartSeam, report: SeamReport, triangles_mm: FloatArray, frame: Frame) -> SeamShape:
    """Return a seam's lines: the cut of its plane with the skin."""
    offset = float(seam.place_mm @ seam.normal) - _OFF_CUT_MM
    cut = plane_cut(triangles_mm, seam.normal, offset)
    return SeamShape(
        report=report,
        side=[frame.side(loop) for loop in cut],
        plan=[frame.plan(loop) for loop in cut],
    )
