"""A stepped body as flat shapes in millimeters: what the step drawing is made of."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.step_records import StepAnswer
from hullcheck.craft.bodies import Body
from hullcheck.craft.craft import Craft
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outlines import EdgeWeb, Loops, chine_lines, plane_cut, seen, thinned
from hullcheck.report.sheet import Spot

_X, _Y, _Z = np.eye(3)
_TOLERANCE_SHARE: Final = 4e-4
_BOW_SHARE: Final = 0.05
"""Of the length from the foremost point: where the bow is read (as float has it)."""
_BEYOND: Final = 1.15
"""Of a V step's run to the outermost buttock: its run to the chine, and a little more."""
_AHEAD_SHARE: Final = 2e-3
"""Of the length: how far ahead of an edge a section stands, so that it is not cut in the edge."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StepScene:
    """A body's shapes in body axes [mm]: from port and from astern."""

    craft: Craft
    answer: StepAnswer
    body: Body
    side: Loops
    center: Loops
    chines: Loops
    sections: tuple[tuple[str, float, Loops], ...]

    @classmethod
    def of(cls, craft: Craft, answer: StepAnswer) -> "StepScene":
        """Return the scene of an answer."""
        body = craft.deck_body
        triangles, length = body.shell.triangles_mm, answer.length_mm
        tolerance = _TOLERANCE_SHARE * length
        step = answer.step
        middle = body.shell.center_plane_mm
        cut = plane_cut(triangles, _Y, middle)
        lines = chine_lines(triangles, middle, -1, () if step is None else (step.station_mm,))
        return cls(
            craft=craft,
            answer=answer,
            body=body,
            side=EdgeWeb.of(triangles).silhouette(_X, _Z, tolerance),
            center=seen(cut, _X, _Z, tolerance),
            chines=[thinned(line[:, [0, 2]], tolerance) for line in lines],
            sections=tuple(
                (name, station, _section(triangles, station - ahead, tolerance))
                for name, station, ahead in _stations(answer, body)
            ),
        )


def _stations(answer: StepAnswer, body: Body) -> list[tuple[str, float, float]]:
    """Return what sections are shown, at what station, and how far ahead of it they are cut."""
    low, high = float(body.shell.low_mm[0]), float(body.shell.high_mm[0])
    length, step = high - low, answer.step
    bow = ("Bow", low + _BOW_SHARE * length, 0.0)
    if step is None:
        stern = ("Stern", high - _BOW_SHARE * length, 0.0)
        return [bow, ("Middle", 0.5 * (low + high), 0.0), stern]
    ahead = _AHEAD_SHARE * length
    # The outermost buttock lies a little inside the chine: a V goes on as it goes there.
    last = answer.plan[-1]
    forward = _BEYOND * (last.station_mm - step.station_mm)
    return [
        bow,
        ("Step", step.station_mm + min(forward, 0.0), ahead),
        ("Sternpost", step.sternpost_station_mm, ahead),
    ]


def _section(triangles: FloatArray, station: float, tolerance: float) -> Loops:
    """Return a section seen from astern."""
    return seen(plane_cut(triangles, _X, station), _Y, _Z, tolerance)


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A view's place on the sheet: scale [pt/mm], and the spot of its zero [mm]."""

    scale: float
    spot: Spot
    zero: tuple[float, float]

    def at(self, points: FloatArray) -> FloatArray:
        """Return flat points [mm] as spots [pt]."""
        flat: FloatArray = (np.asarray(points) - np.array(self.zero)) * self.scale
        flat += np.array(self.spot)
        return flat

    def spot_of(self, x: float, z: float) -> Spot:
        """Return one flat point [mm] as a spot [pt]."""
        there = self.at(np.array([x, z]))
        return float(there[0]), float(there[1])
