"""Where ballast can go furthest forward and aft inside the hull, and the arms from there."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.float_records import Point
from hullcheck.answers.place_ends import inside_skin
from hullcheck.answers.place_records import Arms
from hullcheck.craft.bodies import Body
from hullcheck.craft.craft import Craft
from hullcheck.geometry.sections import cut_segments

_SHARES: Final = (0.03, 0.05, 0.08, 0.12)
"""Of the hull's length from its end: ballast needs room and cannot lie in the very tip (common
practice of this program, no source)."""
_FORWARD: Final = np.array([1.0, 0.0, 0.0])


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place for ballast.

    Attributes
    ----------
    name : str
        "given", "nose" or "tail".
    points_mm : tuple of tuple of float
        Where it lies, in equal shares: one place, or one in each of a pair of floats [mm].
    """

    name: str
    points_mm: tuple[Point, ...]

    @property
    def center_mm(self) -> Point:
        """Where it acts [mm]."""
        x, y, z = np.mean(self.points_mm, axis=0).tolist()
        return (x, y, z)

    def inside(self, craft: Craft) -> bool:
        """Return whether all of it lies inside the outer skin."""
        return inside_skin(craft, self.points_mm)


def end_spots(craft: Craft) -> tuple[Spot, Spot]:
    """Return the foremost and the aftmost place for ballast a little inside the hull.

    Parameters
    ----------
    craft : Craft
        Whose hull, or main floats of one size, are looked at.

    Returns
    -------
    tuple of Spot
        Nose and tail: the middle of the section at 3 % of the length from the end, further in (5,
        8, 12 %) where that lies outside the skin. Floats of a pair share it equally.
    """
    main = craft.deck_body
    size = float(main.shell.high_mm[0] - main.shell.low_mm[0])
    same = [
        body
        for body in craft.deck_bodies
        if body is main
        or (
            body.role == main.role == "main float"
            and abs(float(body.shell.volume_mm3 / main.shell.volume_mm3) - 1.0) < 1e-3
            and abs(float(body.shell.low_mm[0] - main.shell.low_mm[0])) < 1e-3 * size
        )
    ]
    nose, tail = (
        Spot(name=name, points_mm=tuple(_inner_end(craft, body, aft=aft) for body in same))
        for name, aft in (("nose", False), ("tail", True))
    )
    return nose, tail


def arms_of(nose: Spot, tail: Spot, wanted: str, wanted_cg_x_mm: float) -> Arms | None:
    """Return what a gram at the tail asks for in the nose; None unless the CG lies between."""
    fore, aft = nose.center_mm, tail.center_mm
    nose_arm, tail_arm = wanted_cg_x_mm - fore[0], aft[0] - wanted_cg_x_mm
    if not (nose_arm > 0.0 and tail_arm > 0.0):
        return None
    return Arms(
        wanted=wanted,
        wanted_cg_x_mm=wanted_cg_x_mm,
        nose_mm=fore,
        tail_mm=aft,
        nose_arm_mm=nose_arm,
        tail_arm_mm=tail_arm,
        nose_per_tail=tail_arm / nose_arm,
    )


def _inner_end(craft: Craft, body: Body, *, aft: bool) -> Point:
    """Return the middle of a body's section near one of its ends, inside its skin."""
    low, high = float(body.shell.low_mm[0]), float(body.shell.high_mm[0])
    middle = low, body.shell.center_plane_mm, float(body.shell.middle_mm[2])
    for share in _SHARES:
        station = high - share * (high - low) if aft else low + share * (high - low)
        cut = cut_segments(body.shell.triangles_mm, _FORWARD, station).reshape(-1, 3)
        if len(cut) == 0:
            continue
        _, y, z = (0.5 * (cut.min(axis=0) + cut.max(axis=0))).tolist()
        middle = station, y, z
        if inside_skin(craft, (middle,)):
            break
    return middle
