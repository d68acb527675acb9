"""Where water can come in, and what is known of it."""

from dataclasses import dataclass
from typing import Final, Literal, get_args

import numpy as np

from hullcheck.errors import InputError
from hullcheck.geometry.arrays import FloatArray, owned

State = Literal["open", "taped", "sealed"]
Kind = Literal[
    "canopy", "hatch", "wing seat", "pushrod", "screw", "motor", "vent", "drain", "other"
]

STATES: Final[tuple[str, ...]] = get_args(State)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Opening:
    """A place where water can come in.

    Attributes
    ----------
    name : str
        As given, or "" where it has none; `Opening.called` says what it is called.
    points_mm : ndarray, shape (k, 3)
        Points along its edge in body axes [mm]; a single one for a small hole.
    state : str or None
        "open", "taped" or "sealed"; None where it is not stated. What is not sealed lets water in.
    kind : str or None
        "canopy", "hatch", "wing seat", "pushrod", "screw", "motor", "vent", "drain" or "other".
    where : str
        What tells it from another that would be called the same, such as " to port".
    """

    name: str = ""
    points_mm: FloatArray
    state: State | None = None
    kind: Kind | None = None
    where: str = ""

    def __post_init__(self) -> None:
        """Own the points; refuse a state or a kind that is none."""
        try:
            object.__setattr__(self, "points_mm", owned(self.points_mm, (-1, 3)))
        except ValueError as problem:
            raise InputError(f"{self.name or 'opening'}: {problem}") from problem
        if len(self.points_mm) == 0:
            raise InputError(f"{self.name or 'opening'}: no points; one at least is needed")
        if self.state is not None and self.state not in STATES:
            raise InputError(f"{self.called}: state {self.state!r} is none of {STATES}")
        if self.kind is not None and self.kind not in get_args(Kind):
            raise InputError(f"{self.called}: kind {self.kind!r} is none of {get_args(Kind)}")

    @property
    def lets_water_in(self) -> bool:
        """Whether it counts for freeboard: anything that is not sealed."""
        return self.state != "sealed"

    @property
    def in_doubt(self) -> bool:
        """Whether its state is not stated, or it has no name."""
        return self.state is None or not self.name

    @property
    def called(self) -> str:
        """Its name, or what it is: "opening at station 250, 140 × 52 mm"."""
        if self.name:
            return f"{self.name}{self.where}"
        low, high = self.points_mm.min(axis=0), self.points_mm.max(axis=0)
        # A rounded integer, for there is no station −0.
        place = f"opening at station {round(0.5 * float(low[0] + high[0]))}{self.where}"
        length, width, _ = sorted((high - low).tolist(), reverse=True)
        return place if length < 0.5 else f"{place}, {length:.0f} × {width:.0f} mm"

    def lowest_mm(self, normal: FloatArray) -> FloatArray:
        """Return its lowest point for a normal out of the water, shape (3,) [mm]."""
        lowest: FloatArray = self.points_mm[int(np.argmin(self.points_mm @ normal))]
        return lowest
