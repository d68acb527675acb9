"""What wind and turn do to her on either side, and a wing tip pushed to the water."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from hullcheck.answers.heeling import SIDES, Heeling, degrees
from hullcheck.answers.rest import CAPSIZED_DEG
from hullcheck.answers.righting_floats import side_of
from hullcheck.answers.righting_records import FloatReport, SideReport
from hullcheck.answers.upset_loads import Loads, turn_of, upset_of, wind_of
from hullcheck.answers.upset_records import (
    Event,
    PushDown,
    PushedReport,
    SideArea,
    TurnReport,
    UpsetReport,
    WindReport,
)
from hullcheck.flotation.righting_curve import heels_between
from hullcheck.flotation.upsetting import (
    AIR_DENSITY_KG_M3,
    Upset,
    gust_limit_mm,
    steady_heel,
    steady_limit_mm,
    wind_speed_m_s,
)
from hullcheck.geometry.attitude import trim_of
from hullcheck.geometry.moment_tree import under_directly
from hullcheck.units import STANDARD_GRAVITY_M_S2


def upset_report(
    heeling: Heeling,
    loads: Loads,
    area: SideArea,
    sides: Sequence[SideReport],
    floats: Sequence[FloatReport],
) -> UpsetReport | None:
    """Return what upsets her and what it does; None where nothing was asked for."""
    if not loads.any:
        return None
    upset = upset_of(heeling, loads, area)
    push = _Push(heeling=heeling, loads=loads, area=area, upset=upset, floats=tuple(floats))
    pushed = tuple(push.to(one) for one in sides)
    lean = "port" if heeling.lean < 0.0 else "starboard"
    worse = max(
        pushed,
        key=lambda p: (
            math.inf if p.heel_deg is None else round(abs(p.heel_deg), 6),
            p.side == lean,
        ),
    )
    wing = loads.wet_wing_g
    tip = heeling.craft.fittings.wing
    across = 0.0 if tip is None else 0.5 * abs(tip.tip_mm[1])
    return UpsetReport(
        off_center=loads.off_center,
        wet_wing=None if wing is None else (wing, across),
        wind=_wind(loads, area),
        turn=_turn(heeling, loads, area),
        worse=worse.side,
        pushed=pushed,
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Push:
    """A craft and all that pushes her."""

    heeling: Heeling
    loads: Loads
    area: SideArea
    upset: Upset
    floats: tuple[FloatReport, ...]

    def to(self, report: SideReport) -> PushedReport:
        """Return what the loads do to her on one side."""
        heeling, side = self.heeling, dict(SIDES)[report.side]
        heel = steady_heel(heeling.curve, heeling.path(side), side, self.upset)
        if heel is not None and abs(heel) > math.radians(CAPSIZED_DEG):
            # By cos² φ any wind fades towards 90°: that she would lie there is no answer.
            heel = None
        low = None if heel is None else _lowest(heeling, heel)
        return PushedReport(
            side=report.side,
            heel_deg=degrees(heel),
            trim_deg=None if heel is None else degrees(trim_of(heeling.curve.state(heel).normal)),
            float_dry_share=None if heel is None else _dry_share(heeling, heel, side),
            lowest_opening=None if low is None else low[1],
            lowest_opening_mm=None if low is None else low[0],
            beyond_model=heel is not None and heeling.is_beyond(heel),
            events=self._events(report, side),
        )

    def _events(self, report: SideReport, side: float) -> tuple[Event, ...]:
        """Return the winds that bring a float or the first opening under; none without wind."""
        ends = [(one.name, one.under_deg) for one in self.floats if one.side == report.side]
        ends.append((report.downflooding_at or "", report.downflooding_deg))
        if self.loads.wind_m_s is None:
            return ()
        return tuple(
            self._event(f"{name} under", end, side) for name, end in ends if end is not None
        )

    def _event(self, name: str, heel_deg: float, side: float) -> Event:
        """Return the winds that bring her to an event by its heel [deg] and side."""
        heeling, heel = self.heeling, math.radians(heel_deg)
        if side * (heel - heeling.rest_heel) <= 0.0:
            return Event(name=name, heel_deg=heel_deg, steady_m_s=0.0, gust_m_s=0.0)
        path = heels_between(heeling.rest_heel, heel)
        unit = wind_of(self.loads, self.area, 1.0)
        steady, gust = (
            wind_speed_m_s(
                unit, limit(heeling.curve, path, side, self.upset.turn_mm), heeling.craft.mass_g
            )
            for limit in (steady_limit_mm, gust_limit_mm)
        )
        return Event(name=name, heel_deg=heel_deg, steady_m_s=steady, gust_m_s=gust)


def _wind(loads: Loads, area: SideArea) -> WindReport | None:
    """Return the wind."""
    if loads.wind_m_s is None:
        return None
    wind = wind_of(loads, area, loads.wind_m_s)
    return WindReport(
        speed_m_s=wind.speed_m_s,
        air_density_kg_m3=AIR_DENSITY_KG_M3,
        drag_coefficient=wind.drag_coefficient,
        side=area,
        moment_n_mm=wind.moment_n_mm,
    )


def _turn(heeling: Heeling, loads: Loads, area: SideArea) -> TurnReport | None:
    """Return the turn."""
    turn = turn_of(heeling, loads, area)
    if turn is None:
        return None
    weight = heeling.craft.mass_g * 1e-3 * STANDARD_GRAVITY_M_S2
    return TurnReport(
        speed_m_s=turn.speed_m_s,
        radius_m=turn.radius_m,
        lever_mm=turn.lever_mm,
        moment_n_mm=weight * turn.arm_mm,
    )


def _lowest(heeling: Heeling, heel: float) -> tuple[float, str] | None:
    """Return the height [mm] and name of the lowest opening that lets water in, at a heel."""
    heights = [
        (heeling.lowest_mm(one.points_mm)(heel), one.called)
        for one in heeling.craft.openings
        if one.lets_water_in
    ]
    return min(heights, default=None)


def _dry_share(heeling: Heeling, heel: float, side: float) -> float | None:
    """Return the share of a side's floats that is above the water at a heel; None without one."""
    bodies = [body for body in heeling.floats if side_of(body) == side]
    if not bodies:
        return None
    state = heeling.curve.state(heel)
    origin = heeling.craft.skin.tree.origin_mm
    wet = sum(
        under_directly(body.shell.triangles_mm, state.normal, state.height, origin).volume
        for body in bodies
    )
    return max(1.0 - wet / sum(body.shell.volume_mm3 for body in bodies), 0.0)


def push_downs(heeling: Heeling, floats: Sequence[FloatReport]) -> tuple[PushDown, ...]:
    """Return what happens when either wing tip is pushed to the water and let go.

    Parameters
    ----------
    heeling : Heeling
        In her heaviest setup.
    floats : sequence of FloatReport
        Of that setup; where no wing is given the float is pushed wholly under instead.

    Returns
    -------
    tuple of PushDown
        Empty on a side that has neither.
    """

    def turns_back(side: float) -> Callable[[float], float]:
        """Return the arm that turns her back from a side, by heel."""
        return lambda heel: side * heeling.curve.arm(heel)

    found = []
    for name, side in SIDES:
        heel, what = heeling.beyond[side], f"{name} wing tip"
        if heel is None:
            under = [one.under_deg for one in floats if one.side == name and one.under_deg]
            if not under:
                continue
            heel, what = math.radians(max(under, key=abs)), f"{name} float under"
        if heel == 0.0 or side * (heel - heeling.rest_heel) <= 0.0:
            continue
        # Let go there, she rolls back until nothing turns her any more.
        inward = heels_between(heel, heeling.rest_heel)
        back = heeling.curve.first_fall(turns_back(side), inward)
        arm = side * heeling.curve.arm(heel)
        found.append(
            PushDown(
                setup=heeling.craft.setup,
                mass_g=heeling.craft.mass_g,
                side=name,
                to=what,
                heel_deg=math.degrees(heel),
                arm_mm=arm,
                returns_to_deg=(
                    None
                    if arm <= 0.0
                    else math.degrees(heeling.rest_heel if back is None else back)
                ),
                comes_back=arm > 0.0,
            )
        )
    return tuple(found)
