"""The curve as rows, and what it comes to on either side: range, greatest arm, area, openings."""

import math
from collections.abc import Sequence

from hullcheck.answers.heeling import SIDES, Heeling, degrees
from hullcheck.answers.rest import rest_of
from hullcheck.answers.righting_records import (
    CurveRow,
    GreatestArm,
    JumpReport,
    OpeningReport,
    RestReport,
    SideReport,
)
from hullcheck.flotation.floating import Floating
from hullcheck.flotation.righting_curve import greatest_arm, heels_between
from hullcheck.geometry.attitude import trim_of

_WET_MM = 1e-6


def curve_rows(heeling: Heeling, heels_deg: Sequence[float]) -> tuple[CurveRow, ...]:
    """Return the arm at heels [deg], in their order; none past the end of the curve."""
    ends = [math.degrees(heeling.curve.end(side)) for _, side in reversed(SIDES)]
    return tuple(_row(heeling, heel) for heel in heels_deg if ends[0] <= heel <= ends[1])


def _row(heeling: Heeling, heel_deg: float) -> CurveRow:
    """Return the arm at one heel [deg]."""
    heel = math.radians(heel_deg)
    normal = heeling.curve.state(heel).normal
    x, y, z = (float(v) + 0.0 for v in normal)
    return CurveRow(
        heel_deg=heel_deg,
        righting_arm_mm=heeling.curve.arm(heel),
        trim_deg=math.degrees(trim_of(normal)),
        height_mm=heeling.curve.height_mm(heel),
        normal=(x, y, z),
        beyond_model=heeling.is_beyond(heel),
    )


def jump_reports(heeling: Heeling) -> tuple[JumpReport, ...]:
    """Return the jumps met on the curve, by heel."""
    return tuple(
        JumpReport(
            heel_deg=math.degrees(jump.heel),
            trim_before_deg=math.degrees(jump.trim_before),
            trim_after_deg=math.degrees(jump.trim_after),
            arm_before_mm=jump.arm_before_mm,
            arm_after_mm=jump.arm_after_mm,
        )
        for jump in heeling.curve.jumps
    )


def opening_reports(heeling: Heeling) -> tuple[OpeningReport, ...]:
    """Return the heels at which each opening goes under on either side."""
    found = []
    for opening in heeling.craft.openings:
        height = heeling.lowest_mm(opening.points_mm)
        starboard, port = (degrees(heeling.falls_at(height, side)) for _, side in SIDES)
        found.append(
            OpeningReport(
                name=opening.called, state=opening.state, starboard_deg=starboard, port_deg=port
            )
        )
    return tuple(found)


def side_reports(
    heeling: Heeling, openings: Sequence[OpeningReport]
) -> tuple[SideReport, SideReport]:
    """Return what the curve comes to on the starboard and on the port side."""
    starboard, port = (_side(heeling, openings, index) for index in range(2))
    return starboard, port


def _side(heeling: Heeling, openings: Sequence[OpeningReport], index: int) -> SideReport:
    """Return what the curve comes to on one side."""
    name, side = SIDES[index]
    end = heeling.range_to(side)
    heels = heels_between(heeling.rest_heel, heeling.curve.end(side) if end is None else end)
    top, arm = greatest_arm(heeling.curve, heels, side)
    under = [
        (heel, one.name)
        for one in openings
        if one.state != "sealed"
        for heel in [(one.starboard_deg, one.port_deg)[index]]
        if heel is not None
    ]
    first = min(under, key=lambda pair: abs(pair[0]), default=(None, None))
    return SideReport(
        side=name,
        range_deg=degrees(end),
        greatest=(
            GreatestArm(heel_deg=math.degrees(top), righting_arm_mm=arm) if arm > 0.0 else None
        ),
        area_mm_rad=heeling.curve.work_mm(heels[0], heels[-1]),
        downflooding_deg=first[0],
        downflooding_at=first[1],
        beyond_model_deg=degrees(heeling.beyond[side]),
        ends_deg=_end_deg(heeling, side),
    )


def _end_deg(heeling: Heeling, side: float) -> float | None:
    """Return where the curve ends on a side [deg]; None if it goes all the way."""
    end = math.degrees(heeling.curve.end(side))
    return None if abs(end) > 180.0 - 1e-9 else end


def leading_side(heeling: Heeling, sides: Sequence[SideReport]) -> SideReport:
    """Return the side whose range is hers: that she leans to, of both the lesser upright."""
    if heeling.lean != 0.0:
        return sides[0] if heeling.lean > 0.0 else sides[1]
    return min(
        sides,
        key=lambda one: (
            180.0 if one.range_deg is None else round(abs(one.range_deg), 6),
            0.0 if one.greatest is None else round(one.greatest.righting_arm_mm, 6),
        ),
    )


def rest_reports(heeling: Heeling) -> tuple[RestReport, ...]:
    """Return every stable attitude that was looked for, with what is wet and under in it."""
    return tuple(_rest(heeling, floating) for floating in heeling.rest.attitudes)


def _rest(heeling: Heeling, floating: Floating) -> RestReport:
    """Return one stable attitude."""
    craft = heeling.craft
    x, y, z = (float(v) + 0.0 for v in floating.normal)
    wing = heeling.wing_mm
    return RestReport(
        trim_deg=floating.trim_deg,
        heel_deg=floating.heel_deg,
        height_mm=floating.height_mm,
        normal=(x, y, z),
        rest=rest_of(craft, floating),
        wet=tuple(
            body.name
            for body in craft.bodies
            if float(floating.height_above_water_mm(heeling.points_of(body)).min()) < -_WET_MM
        ),
        openings_under=tuple(
            one.called
            for one in craft.openings
            if one.lets_water_in
            and float(floating.height_above_water_mm(one.points_mm).min()) < 0.0
        ),
        beyond_model=wing is not None and float(floating.height_above_water_mm(wing).min()) < 0.0,
    )
