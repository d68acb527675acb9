"""From one load to the next: changes put aboard one after another, each floated."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Final, Self

from hullcheck.answers.afloat import Afloat, Refloater
from hullcheck.answers.compare_changes import Change
from hullcheck.answers.compare_records import CompareChange
from hullcheck.answers.float_records import Caveat, Point
from hullcheck.answers.invented import refuse_invented
from hullcheck.answers.weights_records import Cost
from hullcheck.craft.craft import Craft
from hullcheck.errors import SolverError

Load = tuple[float, Point | None]

_ROUNDING: Final = 1e-9
"""Grams a gram, and millimeters a meter: what sums in another order may differ by."""


def with_loads(changes: Sequence[Change], old: Load, new: Load, *, measured: bool) -> list[Change]:
    """Return changes of the load, each with the load it ends at [g, mm]; the last ends at the new.

    Parameters
    ----------
    changes : sequence of Change
        In the order they are put aboard.
    old, new : tuple of (float, tuple of float or None)
        Mass and center before and after all of them.
    measured : bool
        Whether measured values stand in for a ledger's sums: what these add to the changes is a
        change of its own then, the last.

    Notes
    -----
    Moments are taken about the old center, so that they stay small. A load without a center, or of
    nothing, has none on the way.
    """
    mass, center = old
    origin = center or (0.0, 0.0, 0.0)
    grams: list[float] = [mass]
    moments: list[Point] = []
    found: list[Change] = []
    at: Load = old
    for change in changes:
        for more, place in change.loads:
            x, y, z = place or at[1] or origin
            grams.append(more)
            moments.append((more * (x - origin[0]), more * (y - origin[1]), more * (z - origin[2])))
        at = _load_of(grams, moments, None if center is None else origin)
        found.append(replace(change, ends=at))
    if not _differ(at, new):
        if found:
            found[-1] = replace(found[-1], ends=new)
        return found
    if not measured:
        raise AssertionError(f"the changes end at {at}, and she is at {new}")
    row = CompareChange(
        name="measured, beside the ledger", kind="measured", mass_g=math.fsum((new[0], -at[0]))
    )
    return [*found, Change(row=row, ends=new)]


@dataclass(kw_only=True, eq=False)
class Walk:
    """Where the changes so far have left her.

    Attributes
    ----------
    refloater : Refloater or None
        The craft as it is now; None where nothing is floated.
    load : tuple of (float, tuple of float or None)
        Mass and center now [g, mm].
    afloat : Afloat or None
        How she floats now.
    last : dict of str to float
        Freeboard, trim and heel of the last way of floating that had them [mm, deg].
    center : tuple of float or None
        The last center that was known [mm].
    said : list of Caveat
        What must be said of steps on the way.
    """

    refloater: Refloater | None
    load: Load
    afloat: Afloat | None = None
    last: dict[str, float] = field(default_factory=dict)
    center: Point | None = None
    said: list[Caveat] = field(default_factory=list)

    @classmethod
    def of(cls, craft: Craft, *, floats: bool) -> Self:
        """Return a craft before any change, floated if asked for.

        Raises
        ------
        SurfaceError
            If much of what is under water had to be invented.
        SolverError
            If no rest was found.
        """
        load = craft.mass_g, craft.center_of_gravity_mm
        walk = cls(refloater=Refloater.of(craft) if floats else None, load=load, center=load[1])
        if walk.refloater is not None and load[1] is not None:
            _refuse_invented(walk.refloater, craft.mass_g, load[1])
            walk.afloat = walk.refloater.at(craft.mass_g, load[1])
            walk._differences(walk.afloat)
        return walk

    def put(self, change: Change) -> CompareChange:
        """Put a change aboard and return it with what it did."""
        if change.ends is not None:
            self.load = change.ends
        if self.refloater is None:
            return change.row
        self._refit(change, self.refloater)
        self.afloat = self._float(change.row)
        freeboard, trim, heel = self._differences(self.afloat)
        moved = (0.0, 0.0, 0.0)
        if self.load[1] is not None and self.center is not None:
            x, y, z = (b - a for a, b in zip(self.center, self.load[1], strict=True))
            moved, self.center = (x, y, z), self.load[1]
        cost = Cost(
            freeboard_mm=freeboard, trim_deg=trim, heel_deg=heel, center_of_gravity_mm=moved
        )
        return replace(change.row, cost=cost, afloat=self.afloat)

    def end(self) -> Afloat | None:
        """Return how she floats with all changes.

        Raises
        ------
        SolverError
            If no rest was found: on the way that is said, in the end it is no answer.
        """
        if self.afloat is None and self.refloater is not None and self.load[1] is not None:
            self.afloat = self.refloater.at(self.load[0], self.load[1])
        return self.afloat

    def _refit(self, change: Change, refloater: Refloater) -> None:
        """Take over what a change replaces of the craft."""
        if change.whole is not None:
            self.refloater = Refloater.of(change.whole)
            if self.load[1] is not None:
                _refuse_invented(self.refloater, self.load[0], self.load[1])
        elif change.craft:
            self.refloater = replace(refloater, craft=replace(refloater.craft, **change.craft))

    def _float(self, row: CompareChange) -> Afloat | None:
        """Return how she floats now; None, and said, where that has no answer."""
        mass, center = self.load
        why, afloat = "there is nothing left of her", None
        if self.refloater is not None and center is not None:
            try:
                afloat = self.refloater.at(mass, center)
            except SolverError as problem:
                why = str(problem)
            else:
                why = "she sinks" if afloat.rest == "sinks" else ""
        if why:
            message = f"with {row.name} ({row.kind}) and the changes before it: {why}"
            tail = "; what it does falls to the next change with which she floats"
            self.said.append(Caveat(code="between", message=message + tail))
        return afloat

    def _differences(self, afloat: Afloat | None) -> tuple[float | None, ...]:
        """Return freeboard, trim and heel less what they were last known to be; keep them."""
        found = []
        for name in ("freeboard_mm", "trim_deg", "heel_deg"):
            value = None if afloat is None else getattr(afloat, name)
            found.append(
                None if value is None or name not in self.last else value - self.last[name]
            )
            if value is not None:
                self.last[name] = value
        return tuple(found)


def _load_of(grams: Sequence[float], moments: Sequence[Point], origin: Point | None) -> Load:
    """Return mass and center of grams with their moments about a point [g, g·mm]."""
    mass = math.fsum(grams)
    if origin is None or not mass > 0.0:
        return mass, None
    x, y, z = (origin[i] + math.fsum(m[i] for m in moments) / mass for i in range(3))
    return mass, (x, y, z)


def _differ(one: Load, other: Load) -> bool:
    """Return whether two loads differ by more than rounding."""
    if abs(one[0] - other[0]) > _ROUNDING * other[0]:
        return True
    if one[1] is None or other[1] is None:
        return False
    return math.dist(one[1], other[1]) > _ROUNDING * 1e3


def _refuse_invented(refloater: Refloater, mass_g: float, center_mm: Point) -> None:
    """Refuse to float her where much of what is under water is invented."""
    floating = refloater.floating(mass_g, center_mm)
    if floating is not None:
        refuse_invented(refloater.craft, floating)
