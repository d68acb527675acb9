"""How she floats at values of a sweep, each floated once and kept."""

from dataclasses import dataclass, field, replace
from typing import Final, Self

from hullcheck.answers.afloat import Refloater
from hullcheck.answers.float_records import LimitCheck
from hullcheck.answers.freeboard import drafts, lowest
from hullcheck.answers.heights import clearances, opening_points
from hullcheck.answers.invented import refuse_invented
from hullcheck.answers.limits import limit_checks, slack
from hullcheck.answers.rest import CAPSIZED_DEG, rest_of
from hullcheck.answers.sweep_loads import Sweep
from hullcheck.answers.sweep_records import SweepRow
from hullcheck.craft.craft import Craft
from hullcheck.errors import SurfaceError
from hullcheck.flotation.floating import Floating, short_by_g
from hullcheck.units import G_PER_MM3_PER_KG_M3

CG_LIMIT: Final = "cg_range_mm"
_TOLERANCE: Final = 1e-7
"""Of her mass: within so little of sinking she is taken to sink, as no waterplane is left."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """How a row keeps the limits: least slack, whose it is, and the point or way it is about."""

    slack: float
    limit: str
    at: str | None


@dataclass(frozen=True, kw_only=True, eq=False)
class Samples:
    """The rows of a sweep at any value, each worked out once.

    Attributes
    ----------
    sweep : Sweep
        What is swept.
    refloater : Refloater
        What does not depend on the load.
    known : dict of float to SweepRow
        What was floated so far.
    """

    sweep: Sweep
    refloater: Refloater
    known: dict[float, SweepRow] = field(default_factory=dict)

    @classmethod
    def of(cls, sweep: Sweep) -> Self:
        """Return the samples of a sweep, none floated yet."""
        return cls(sweep=sweep, refloater=Refloater.of(sweep.craft))

    def at(self, value: float) -> SweepRow:
        """Return how she floats at a value.

        Raises
        ------
        SolverError
            If no rest was found.
        """
        if value not in self.known:
            self.known[value] = self._floated(value, self.sweep.craft_at(value))
        return self.known[value]

    def floating(self, craft: Craft) -> Floating | None:
        """Return where a craft of the sweep comes to rest; None where she sinks."""
        center = craft.center_of_gravity_mm or self.sweep.center_mm
        density = craft.water.density_kg_m3
        short = short_by_g(craft.skin, mass_g=craft.mass_g, density_kg_m3=density)
        if short >= -_TOLERANCE * craft.mass_g:
            return None
        return replace(self.refloater, craft=craft).floating(craft.mass_g, center)

    def _floated(self, value: float, craft: Craft) -> SweepRow:
        """Return the row of a craft, floated now."""
        floating = self.floating(craft)
        center = craft.center_of_gravity_mm or self.sweep.center_mm
        row = SweepRow(
            value=value,
            mass_g=craft.mass_g,
            center_of_gravity_mm=center,
            water=craft.water,
            rest="sinks",
        )
        if floating is None:
            density = craft.water.density_kg_m3
            short = short_by_g(craft.skin, mass_g=craft.mass_g, density_kg_m3=density)
            return replace(row, short_by_g=max(short, 0.0), limits=self._limits(craft, None, None))
        low, rest = lowest(craft, self.refloater.deck, floating), rest_of(craft, floating)
        limits = self._limits(craft, floating, None if low is None else low.height_mm)
        per_mm = craft.water.density_kg_m3 * G_PER_MM3_PER_KG_M3 * floating.waterplane_area_mm2
        return replace(
            row,
            rest=rest,
            freeboard_mm=None if low is None else low.height_mm,
            at=None if low is None else low.name,
            trim_deg=floating.trim_deg,
            heel_deg=floating.heel_deg,
            draft_mm=drafts(self.refloater.deck, floating, deepest_mm=_deepest(craft, floating)),
            sinkage_g_per_mm=per_mm,
            openings=opening_points(craft, floating),
            limits=limits,
            holds=rest != "capsized" and all(check.ok for check in limits),
            beyond_model=_is_beyond(craft, floating, rest),
        )

    def _limits(
        self, craft: Craft, floating: Floating | None, freeboard_mm: float | None
    ) -> tuple[LimitCheck, ...]:
        """Return the limits that count in this sweep, held against an attitude."""
        checks = limit_checks(
            craft.limits,
            freeboard_mm=freeboard_mm,
            trim_deg=None if floating is None else floating.trim_deg,
            heel_deg=None if floating is None else floating.heel_deg,
        )
        band, center = craft.cg_range_mm, craft.center_of_gravity_mm
        if not self.sweep.counts_cg or band is None or center is None:
            return checks
        holds = band[0] <= center[0] <= band[1]
        return (*checks, LimitCheck(name=CG_LIMIT, value=center[0], limit=band, ok=holds))


def judged(row: SweepRow) -> Judged:
    """Return how a row keeps the limits; sinking and capsizing count as limits always."""
    if row.rest == "sinks":
        return Judged(slack=-max(row.short_by_g or 0.0, _TOLERANCE), limit="sinks", at=None)
    over = abs(row.heel_deg or 0.0) - CAPSIZED_DEG
    if over > 0.0 or not row.limits:
        return Judged(slack=-over, limit="capsizes", at=None)
    least = min(row.limits, key=slack)
    return Judged(slack=slack(least), limit=least.name, at=_where(least, row))


def _where(check: LimitCheck, row: SweepRow) -> str | None:
    """Return the point freeboard is read off, or the way she trims, heels or her CG goes."""
    if check.name == "freeboard_mm":
        return row.at
    if check.name == "heel_deg":
        return f"to {'starboard' if (row.heel_deg or 0.0) > 0.0 else 'port'}"
    if not isinstance(check.limit, tuple) or check.value is None:
        return None
    below = check.value - check.limit[0] < check.limit[1] - check.value
    if check.name == CG_LIMIT:
        return "ahead" if below else "aft"
    return "bow down" if below else "bow up"


def _deepest(craft: Craft, floating: Floating) -> float:
    """Return how deep the lowest point of the hulls and main floats lies [mm]."""
    return max(
        -float(floating.height_above_water_mm(body.shell.triangles_mm.reshape(-1, 3)).min())
        for body in craft.deck_bodies
    )


def _is_beyond(craft: Craft, floating: Floating, rest: str) -> bool:
    """Return whether what is not in the meshes, or is much invented, is in the water."""
    if rest == "capsized":
        return True
    points = clearances(craft, floating)
    if any(p.what == "wing tip" and p.height_mm < 0.0 for p in points):
        return True
    try:
        refuse_invented(craft, floating)
    except SurfaceError:
        return True
    return False
