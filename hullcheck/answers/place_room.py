"""Where an item may be looked for: the box of the sheet, or the length of the hull."""

import math
from dataclasses import dataclass
from typing import Final

from hullcheck.answers.float_records import Point
from hullcheck.answers.place_load import FreeItem, Wanted
from hullcheck.answers.place_records import PlaceRow
from hullcheck.errors import InputError

_MOST: Final = 60
"""Steps along the room."""
_ROUND: Final = (1.0, 2.0, 2.5, 5.0, 10.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Where an item may be looked for.

    Attributes
    ----------
    along_mm : tuple of float
        The foremost and the aftmost station.
    along : str
        "within_mm" or "hull": what ends them.
    across_mm : tuple of float or None
        Least and greatest y; None where the sheet leaves none.
    y_mm, z_mm : float
        Where it is taken along.
    within_mm : tuple of tuple of float or None
        Opposite corners of the box.
    moved_into : str
        Axes along which the ledger's place lies outside the box and its nearest side counts.
    """

    along_mm: tuple[float, float]
    along: str
    across_mm: tuple[float, float] | None
    y_mm: float
    z_mm: float
    within_mm: tuple[Point, Point] | None
    moved_into: str

    @property
    def step_mm(self) -> float:
        """How far apart she is floated: a round number, at most a sixtieth of the room."""
        size = self.along_mm[1] - self.along_mm[0]
        if size <= 0.0:
            return 0.0
        decade = 10.0 ** math.floor(math.log10(size / _MOST))
        return next(decade * r for r in _ROUND if decade * r * _MOST >= size * (1.0 - 1e-12))

    def place_mm(self, station: float) -> Point:
        """Return the place at a station, or at the end of the room nearest to it."""
        return (min(max(station, self.along_mm[0]), self.along_mm[1]), self.y_mm, self.z_mm)

    def stations_mm(self, more: tuple[float, ...]) -> list[float]:
        """Return round stations along the room, its ends, and what more lies in it."""
        low, high = self.along_mm
        step = self.step_mm
        found = {low, high, *(x for x in more if low <= x <= high)}
        if step > 0.0:
            first, last = math.ceil(low / step), math.floor(high / step)
            found |= {x for i in range(first, last + 1) if low <= (x := i * step) <= high}
        return sorted(found)

    def inside(self, row: PlaceRow | None) -> tuple[float, ...]:
        """Return the station of a row if it lies along the room."""
        if row is None or not self.along_mm[0] <= row.x_mm <= self.along_mm[1]:
            return ()
        return (row.x_mm,)


def room_of(free: FreeItem, wanted: Wanted) -> Room:
    """Return where an item may be looked for.

    Raises
    ------
    InputError
        If a place that is asked for lies outside the box of the sheet.
    """
    _, y, z = free.start_mm
    within = None if free.equipment is None else free.equipment.within_mm
    if within is None:
        shells = [body.shell for body in free.craft.deck_bodies]
        low = min(float(shell.low_mm[0]) for shell in shells)
        high = max(float(shell.high_mm[0]) for shell in shells)
        return Room(
            along_mm=(low, high), along="hull", across_mm=None, y_mm=y, z_mm=z,
            within_mm=None, moved_into="",
        )  # fmt: skip
    (x0, y0, z0), (x1, y1, z1) = (
        tuple(pick(a, b) for a, b in zip(*within, strict=True)) for pick in (min, max)
    )
    moved = ""
    for axis, at, low, high in (("y", y, y0, y1), ("z", z, z0, z1)):
        if low <= at <= high:
            continue
        if getattr(wanted, f"{axis}_mm") is not None:
            raise InputError(
                f"--{axis} {at:g} mm lies outside the box {free.item.name} may be put in, "
                f"{axis} {low:g} to {high:g} mm (within_mm in [[equipment]])"
            )
        moved += axis
    return Room(
        along_mm=(x0, x1),
        along="within_mm",
        across_mm=(y0, y1) if y1 > y0 else None,
        y_mm=min(max(y, y0), y1),
        z_mm=min(max(z, z0), z1),
        within_mm=((x0, y0, z0), (x1, y1, z1)),
        moved_into=moved,
    )
