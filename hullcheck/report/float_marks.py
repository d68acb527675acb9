"""What the float drawing marks on the hull: heights above the water, and drafts."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.float_records import FloatAnswer
from hullcheck.answers.keel import Keel
from hullcheck.craft.bodies import Body
from hullcheck.geometry.arrays import FloatArray, owned
from hullcheck.geometry.profile import keel_profile
from hullcheck.report.words import shown_name

_APART: Final = 0.15
"""Of the length: without a step the deepest draft is shown if it lies this far from the others."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HeightMark:
    """A height above the water to be shown: an opening, or the top of the hull."""

    name: str
    state: str | None
    point_mm: FloatArray
    height_mm: float
    limiting: bool
    opening: bool = False

    def __post_init__(self) -> None:
        """Own the point."""
        object.__setattr__(self, "point_mm", owned(self.point_mm, (3,)))

    @property
    def sealed(self) -> bool:
        """Whether it is an opening that is sealed."""
        return self.opening and self.state == "sealed"

    @property
    def in_doubt(self) -> bool:
        """Whether it is an opening whose state is not stated."""
        return self.opening and self.state is None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DraftMark:
    """A draft to be shown, at its point of the keel."""

    name: str
    point_mm: FloatArray
    draft_mm: float

    def __post_init__(self) -> None:
        """Own the point."""
        object.__setattr__(self, "point_mm", owned(self.point_mm, (3,)))


def height_marks(answer: FloatAnswer) -> tuple[HeightMark, ...]:
    """Return the heights to show; none for a craft upside down or on the bottom."""
    if answer.freeboard_mm is None or answer.rest in {"capsized", "sinks"}:
        return ()
    marks = []
    for point in answer.freeboard_mm.points:
        opening = point.what == "opening"
        name, place = " ".join(shown_name(point.name).split()), ""
        if not opening:
            name, _, place = name.partition(" at ")
        marks.append(
            HeightMark(
                name=name.replace("top of the hull", "hull top"),
                state=point.state if opening else f"at {place}" if place else None,
                point_mm=np.array(point.point_mm),
                height_mm=point.height_mm,
                limiting=point.name == answer.freeboard_mm.at,
                opening=opening,
            )
        )
    return tuple(marks)


def draft_marks(answer: FloatAnswer, body: Body, normal: FloatArray) -> tuple[DraftMark, ...]:
    """Return the drafts to show, read off a body; also the deepest where there is no step."""
    drafts = answer.draft_mm
    if drafts is None or answer.rest == "capsized":
        return ()
    triangles, step = body.shell.triangles_mm, answer.step
    keel = Keel(
        shell=body.shell,
        profile=keel_profile(triangles, body.shell.center_plane_mm),
        sternpost_mm=None if step is None else step.sternpost_station_mm,
    )
    found = [
        ("bow draft", drafts.bow, keel.bow_mm),
        ("step draft", drafts.step, None if step is None else step.station_mm),
        ("stern draft" if step is None else "sternpost draft", drafts.stern, keel.stern_mm),
    ]
    marks = []
    for name, draft, station in found:
        point = None if station is None else keel.point(station)
        if draft is not None and point is not None:
            marks.append(DraftMark(name=name, point_mm=point, draft_mm=draft))
    if drafts.step is None:
        corners = triangles.reshape(-1, 3)
        lowest = corners[int((corners @ normal).argmin())]
        apart = [abs(lowest[0] - mark.point_mm[0]) for mark in marks]
        if min(apart, default=np.inf) > _APART * float(
            body.shell.high_mm[0] - body.shell.low_mm[0]
        ):
            marks.append(DraftMark(name="draft", point_mm=lowest, draft_mm=drafts.deepest))
    return tuple(marks)
