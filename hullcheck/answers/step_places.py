"""Where a step lies from a center of gravity, by every line it may be read from."""

import math
from dataclasses import dataclass

import numpy as np

from hullcheck.answers.float_records import Point
from hullcheck.answers.rest import rest_at, rest_of
from hullcheck.answers.step_records import StepPlace
from hullcheck.craft.craft import Craft
from hullcheck.craft.fittings import Reference
from hullcheck.flotation.floating import Rest
from hullcheck.geometry.step import Step


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """The lines angles are read against, each its angle to body x [deg], positive rising aft."""

    wing_deg: float | None
    fuselage_deg: float | None

    @classmethod
    def of(cls, reference: Reference) -> "Lines":
        """Return the lines a build sheet gives; a wing set bow up falls aft."""
        wing = None if reference.wing_angle_deg is None else -reference.wing_angle_deg
        if reference.line_mm is None:
            return cls(wing_deg=wing, fuselage_deg=None)
        fore, aft = sorted(reference.line_mm)
        run, rise = aft[0] - fore[0], aft[2] - fore[2]
        upright = run <= abs(rise)
        angle = None if upright else math.degrees(math.atan2(rise, run))
        return cls(wing_deg=wing, fuselage_deg=angle)


def step_place(
    craft: Craft,
    step: Step,
    lines: Lines,
    *,
    length_mm: float,
    center_mm: Point,
    rest: Rest | None,
) -> StepPlace:
    """Return where a step lies from a center of gravity.

    Parameters
    ----------
    craft : Craft
        Whose step it is.
    step : Step
        From `hullcheck.geometry.step.find_step`.
    lines : Lines
        Against which its angle is read too.
    length_mm : float
        Of the body it is in [mm].
    center_mm : tuple of float
        Center of gravity [mm].
    rest : Rest or None
        Where she rests with it: gives the plumb line. On her side or sunk there is none to speak
        of.
    """
    center = np.array(center_mm)
    behind, angle = step.behind(center)
    floating = None if rest is None else rest.floating
    name = "sinks" if floating is None else rest_of(craft, floating)
    trim = None if floating is None or name == "capsized" else floating.trim_deg
    return StepPlace(
        center_of_gravity_mm=center_mm,
        behind_cg_mm=behind,
        behind_cg_percent=100.0 * behind / length_mm,
        angle_from_keel_deg=angle,
        angle_from_wing_deg=_from(step, center, lines.wing_deg),
        angle_from_fuselage_line_deg=_from(step, center, lines.fuselage_deg),
        # Level water rises aft in body axes by the trim, bow up.
        angle_from_plumb_deg=_from(step, center, trim),
        trim_deg=trim,
        rest=name,
    )


def _from(step: Step, center: np.ndarray, line_deg: float | None) -> float | None:
    """Return the angle from a line's normal [deg], None without the line."""
    return None if line_deg is None else step.angle_from(center, line_deg)


def places_in_range(
    craft: Craft, step: Step, length_mm: float, lines: Lines
) -> tuple[StepPlace, ...]:
    """Return where the step lies with her center of gravity at either end of its range.

    Only its station is moved: height and side stay as they are.
    """
    center, band = craft.center_of_gravity_mm, craft.cg_range_mm
    if center is None or band is None:
        return ()
    ends: list[Point] = [(station, center[1], center[2]) for station in band]
    return tuple(
        step_place(craft, step, lines, length_mm=length_mm, center_mm=end, rest=rest_at(craft, end))
        for end in ends
    )
