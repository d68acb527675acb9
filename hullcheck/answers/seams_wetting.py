"""The heel at which the water reaches each seam, trim and draft free."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Self

from hullcheck.answers.heeling import SIDES, Heeling
from hullcheck.answers.seams_records import Wetted
from hullcheck.craft.craft import Craft
from hullcheck.craft.seam_lines import SeamLine
from hullcheck.errors import SolverError
from hullcheck.flotation.righting_curve import heels_between

MOST_HEEL_DEG: Final = 60.0
"""So far to either side the water is followed."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Wetting:
    """A craft on her righting curve, heeled until the water reaches her seams.

    Attributes
    ----------
    heeling : Heeling or None
        None where her center of gravity is not known or she sinks.
    ended : str
        Why she could not be heeled at all; "" where she could.
    """

    heeling: Heeling | None
    ended: str = ""

    @classmethod
    def of(cls, craft: Craft, *, sinks: bool) -> Self:
        """Return a craft to be heeled; nothing is heeled without a center, or where she sinks."""
        if craft.center_of_gravity_mm is None or sinks:
            return cls(heeling=None)
        try:
            return cls(heeling=Heeling.of(craft))
        except SolverError as problem:
            return cls(heeling=None, ended=str(problem))

    def of_line(self, line: SeamLine, *, wet: bool) -> Wetted | None:
        """Return the heel at which a seam or an opening comes under; `wet`: it is at rest."""
        if self.heeling is None:
            return None
        if wet:
            sides: list[float | None] = [0.0, 0.0]
        else:
            sides = [self._falls(self.heeling, line, side) for _, side in SIDES]
        least = nearest(sides, 0.0 if wet else self.heeling.rest_heel)
        return Wetted(
            heel_deg=_degrees(least),
            starboard_deg=_degrees(sides[0]),
            port_deg=_degrees(sides[1]),
            to_deg=MOST_HEEL_DEG,
            beyond_model=least is not None and not wet and self.heeling.is_beyond(least),
        )

    @staticmethod
    def _falls(heeling: Heeling, line: SeamLine, side: float) -> float | None:
        """Return the least heel on a side, from rest outward, at which a line comes under [rad]."""
        stop = side * math.radians(MOST_HEEL_DEG)
        if side * heeling.rest_heel >= side * stop:
            return None
        heels = heels_between(heeling.rest_heel, stop)
        return heeling.curve.first_fall(heeling.lowest_mm(line.points_mm), heels)


def nearest(heels: Sequence[float | None], rest: float) -> float | None:
    """Return the heel nearest to rest, starboard's of two as near; None where there is none."""
    known = [heel for heel in heels if heel is not None]
    # Of a symmetrical hull the two differ by rounding only, which must not choose the side.
    return min(known, key=lambda heel: (round(abs(heel - rest), 9), heel < 0.0), default=None)


def _degrees(heel: float | None) -> float | None:
    """Return an angle [rad] in degrees, without a negative zero."""
    return None if heel is None else math.degrees(heel) + 0.0
