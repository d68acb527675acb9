"""What lies around a step: other steps, its run in plan, ramps, and what touches first aft."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.keel_jumps import KEEL_SHARE, jumps
from hullcheck.geometry.profile import Profile, buttock_profile
from hullcheck.geometry.sections import Slices
from hullcheck.geometry.step import Step

_SHARES: Final = (0.15, 0.3, 0.45, 0.6, 0.75, 0.9)
"""Of the half beam: where the step's run across the bottom is read."""
_NEAR_SHARE: Final = 0.15
"""Of the length: a jump of a buttock further off than this is another step."""
_RAMP_RUN_SHARE: Final = 0.06
_RAMP_RISE_SHARE: Final = 0.003
_RAMP_TURN: Final = math.tan(math.radians(12.0))
"""A ramp is short, rises like the least of steps and is this much steeper than the keel on either
side (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Break:
    """Another step or a ramp on the keel line: where it begins, its rise and its run [mm]."""

    station_mm: float
    rise_mm: float
    run_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanPoint:
    """Where the step's edge crosses a buttock on one side of the center plane [mm]."""

    half_breadth_mm: float
    station_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Touch:
    """What of the keel line aft touches first when she turns bow up about the step's corner.

    `angle_deg` is that of the line from the corner to it, to body x [deg], positive rising aft.
    """

    station_mm: float
    z_mm: float
    angle_deg: float


def other_steps(profile: Profile, step: Step, length_mm: float) -> tuple[Break, ...]:
    """Return the steps of a keel line besides the main one, from the bow.

    Parameters
    ----------
    profile : Profile
        The cut of the body by its center plane.
    step : Step
        Its main step.
    length_mm : float
        Of the body [mm].
    """
    return tuple(
        Break(station_mm=jump.station_mm, rise_mm=jump.depth_mm, run_mm=jump.run_mm)
        for jump in jumps(profile, length_mm)
        if abs(jump.station_mm - step.station_mm) > 1e-6 * length_mm
    )


def step_plan(
    buttocks: Slices, step: Step, *, half_beam_mm: float, length_mm: float
) -> tuple[PlanPoint, ...]:
    """Return where the step's edge runs across the bottom, from the keel to starboard.

    Parameters
    ----------
    buttocks : Slices
        Cuts of the body across y.
    step : Step
        Its step.
    half_beam_mm : float
        Half the beam over the chines, or over all [mm].
    length_mm : float
        Of the body [mm].

    Returns
    -------
    tuple of PlanPoint
        The keel first; buttocks on which no step is found are left out.
    """
    points = [PlanPoint(half_breadth_mm=0.0, station_mm=step.station_mm)]
    for share in _SHARES:
        half = share * half_beam_mm
        profile = buttock_profile(buttocks, step.center_plane_mm + half)
        near = [
            jump.station_mm
            for jump in ([] if profile is None else jumps(profile, length_mm))
            if abs(jump.station_mm - points[-1].station_mm) < _NEAR_SHARE * length_mm
        ]
        if near:
            station = min(near, key=lambda x: abs(x - points[-1].station_mm))
            points.append(PlanPoint(half_breadth_mm=half, station_mm=station))
    return tuple(points)


def ramps(profile: Profile, length_mm: float) -> tuple[Break, ...]:
    """Return short rises of a keel line that are too gentle for a step, from the bow.

    Parameters
    ----------
    profile : Profile
        The cut of a body by its center plane.
    length_mm : float
        Of the body [mm].

    Notes
    -----
    A stretch of at most 6 % of the length that rises aft by at least 0.3 % of it, 12° steeper
    than the keel on either side of it and no steeper than a step.
    """
    slopes = (profile.ends[:, 1] - profile.starts[:, 1]) / (
        profile.ends[:, 0] - profile.starts[:, 0]
    )
    keel = float(np.median(slopes[np.abs(slopes) < 1.0])) if (np.abs(slopes) < 1.0).any() else 0.0
    steep = slopes > keel + _RAMP_TURN
    found, i = [], 0
    while i < len(slopes):
        first = i
        while i < len(slopes) and steep[i]:
            i += 1
        if i > first:
            found.append((first, i - 1))
        i += 1
    reach, breaks = KEEL_SHARE * length_mm, []
    for first, last in found:
        start, end = profile.starts[first], profile.ends[last]
        run, rise = float(end[0] - start[0]), float(end[1] - start[1])
        inside = start[0] - profile.starts[0, 0] > reach and profile.ends[-1, 0] - end[0] > reach
        if inside and run <= _RAMP_RUN_SHARE * length_mm and rise >= _RAMP_RISE_SHARE * length_mm:
            breaks.append(Break(station_mm=float(start[0]), rise_mm=rise, run_mm=run))
    return tuple(breaks)


def first_touch(profile: Profile, step: Step) -> Touch:
    """Return what touches level water first when she turns bow up about the step's corner.

    Parameters
    ----------
    profile : Profile
        The cut of the body by its center plane.
    step : Step
        Its step.

    Notes
    -----
    Turning about the corner brings the point to the water first whose line to the corner rises
    least. It is the sternpost on most hulls; on a hollow or hooked afterbody, or under a low tail,
    it is not. Only the center plane counts.
    """
    points: FloatArray = profile.points()
    behind = points[points[:, 0] > step.station_mm + 0.5 * step.depth_mm]
    rise = behind[:, 1] - step.keel_z_mm
    angles = np.arctan2(rise, behind[:, 0] - step.station_mm)
    least = int(angles.argmin())
    return Touch(
        station_mm=float(behind[least, 0]),
        z_mm=float(behind[least, 1]),
        angle_deg=math.degrees(float(angles[least])),
    )
