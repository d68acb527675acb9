"""The step of a planing bottom, found from the skin: where, how deep, and what lies around it."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray, bounds
from hullcheck.geometry.chine import chine_at, greatest_beam_over_chines
from hullcheck.geometry.keel_jumps import KEEL_SHARE, jumps, main_jump, steep_runs
from hullcheck.geometry.profile import Profile, buttock_profile
from hullcheck.geometry.sections import Cuts, Slices

_KINK: Final = math.radians(8.0)
"""A keel that turns up by more than this behind the step ends there: the sternpost under a tail
boom (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A step and the bottom around it, in body axes.

    Attributes
    ----------
    station_mm, keel_z_mm : float
        x and z of its keel corner, the forebody's, the lower one [mm].
    depth_mm : float
        Along body z, from the corner to the afterbody keel's line [mm].
    forebody_keel_angle_deg, afterbody_keel_angle_deg : float
        Keel lines just ahead and just behind, to body x [deg], positive rising aft.
    forebody_fit_mm, afterbody_fit_mm : float
        Lengths those lines were fitted over [mm].
    sternpost_station_mm, sternpost_z_mm : float
        Aft end of the afterbody keel [mm].
    sternpost_angle_deg : float
        Line from the keel corner to the sternpost, against the forebody keel [deg].
    forebody_length_mm : float
        Foremost point of the body to the step, along x [mm].
    beam_over_chines_mm : float or None
        Greatest beam over the chines of the forebody [mm]; None where no chine was found.
    deadrise_deg : float or None
        Keel to chine, just ahead of the step [deg].
    center_plane_mm : float
        y of the body's center plane [mm].
    """

    station_mm: float
    keel_z_mm: float
    depth_mm: float
    forebody_keel_angle_deg: float
    afterbody_keel_angle_deg: float
    forebody_fit_mm: float
    afterbody_fit_mm: float
    sternpost_station_mm: float
    sternpost_z_mm: float
    sternpost_angle_deg: float
    forebody_length_mm: float
    beam_over_chines_mm: float | None
    deadrise_deg: float | None
    center_plane_mm: float

    def behind(self, center_of_gravity_mm: FloatArray) -> tuple[float, float]:
        """Return how far the step lies behind a center of gravity, in mm and in degrees.

        Notes
        -----
        With t along the forebody keel aft, ν its normal downward and d from the center of gravity
        to the keel corner, the angle is atan2(d·t, d·ν), in the center plane; both are positive
        when the step is aft.
        """
        angle = self.angle_from(center_of_gravity_mm, self.forebody_keel_angle_deg)
        return self.station_mm - float(center_of_gravity_mm[0]), angle

    def angle_from(self, center_of_gravity_mm: FloatArray, line_deg: float) -> float:
        """Return the angle at a center of gravity from a line's normal to the keel corner [deg].

        Parameters
        ----------
        center_of_gravity_mm : ndarray, shape (3,)
            [mm]
        line_deg : float
            The line's angle to body x [deg], positive when it rises aft. The forebody keel gives
            the second number of `behind`.
        """
        slope = math.radians(line_deg)
        dx = self.station_mm - float(center_of_gravity_mm[0])
        dz = self.keel_z_mm - float(center_of_gravity_mm[2])
        aft = dx * math.cos(slope) + dz * math.sin(slope)
        down = dx * math.sin(slope) - dz * math.cos(slope)
        return math.degrees(math.atan2(aft, down))


def find_step(triangles_mm: FloatArray, *, cuts: Cuts | None = None) -> Step | None:
    """Return the step of a body's bottom, or None on a bottom without one.

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        Closed body in body axes [mm].
    cuts : Cuts, optional
        The same body, where it is cut elsewhere too.

    Returns
    -------
    Step or None
        The jump of the keel line that has keel on both sides, the lowest of the deep ones where
        there are several; a mere kink is none.

    Notes
    -----
    The keel line is the lower edge of the cut by the body's center plane. A step is a stretch that
    rises aft at more than 35°; its depth is the local jump, carried back to the corner along the
    afterbody keel. Straight lines are fitted to the keel on either side, each as long as the keel
    stays within 0.01 % of the body's length of its line.
    """
    low, high = bounds(triangles_mm)
    length, center = float(high[0] - low[0]), float(0.5 * (low[1] + high[1]))
    cuts = cuts or Cuts(triangles_mm)
    profile = buttock_profile(cuts.buttocks, center)
    if profile is None:
        return None
    found = main_jump(jumps(profile, length), length)
    if found is None:
        return None
    corner, ahead, behind = (found.station_mm, found.z_mm), found.ahead, found.behind
    post = _sternpost(profile, found.after, length)
    fore = math.radians(ahead.angle_deg)
    to_post = math.atan2(post[1] - corner[1], post[0] - corner[0])
    clear = _foremost_step_station(cuts.buttocks, (low, high), corner[0]) - 0.01 * length
    chine = chine_at(cuts.stations, clear, center)
    return Step(
        station_mm=corner[0],
        keel_z_mm=corner[1],
        depth_mm=found.depth_mm,
        forebody_keel_angle_deg=ahead.angle_deg,
        afterbody_keel_angle_deg=behind.angle_deg,
        forebody_fit_mm=ahead.to_mm - ahead.from_mm,
        afterbody_fit_mm=behind.to_mm - behind.from_mm,
        sternpost_station_mm=float(post[0]),
        sternpost_z_mm=float(post[1]),
        sternpost_angle_deg=math.degrees(to_post - fore),
        forebody_length_mm=corner[0] - float(low[0]),
        beam_over_chines_mm=greatest_beam_over_chines(cuts.stations, float(low[0]), clear, center),
        deadrise_deg=None if chine is None else chine.deadrise_deg,
        center_plane_mm=center,
    )


def _sternpost(profile: Profile, after: int, length: float) -> FloatArray:
    """Return the aft end of the keel behind a step: the next break or upward kink, or the end."""
    start = float(profile.starts[after, 0])
    stop = next(
        (float(profile.ends[first - 1, 0]) for first, _ in steep_runs(profile) if first > after),
        float(profile.ends[-1, 0]),
    )
    window = 0.5 * KEEL_SHARE * length
    kinks = np.array(
        [
            _rise(profile, x, x + window) - _rise(profile, x - window, x)
            for x in np.arange(start + window, stop - window, 0.1 * window)
        ]
    )
    if len(kinks) and np.nanmax(kinks) >= _KINK:
        middle = start + window + 0.1 * window * int(np.nanargmax(kinks))
        stop = _crossing(profile, middle, window)
    return np.array([stop, profile.height_at(stop)])


def _rise(profile: Profile, start: float, stop: float) -> float:
    """Return the angle of the chord between two stations of a profile [rad]."""
    return math.atan2(profile.height_at(stop) - profile.height_at(start), stop - start)


def _crossing(profile: Profile, middle: float, window: float) -> float:
    """Return the break of the profile nearest to where the lines on both sides of a kink cross."""
    lines = []
    for near, far in ((-0.3, -1.0), (0.3, 1.0)):
        along = middle + window * np.linspace(near, far, 12)
        lines.append(np.polyfit(along, [profile.height_at(float(x)) for x in along], 1))
    crossing = (lines[1][1] - lines[0][1]) / (lines[0][0] - lines[1][0])
    breaks = profile.starts[:, 0]
    return float(breaks[np.abs(breaks - crossing).argmin()])


def _foremost_step_station(
    buttocks: Slices, box: tuple[FloatArray, FloatArray], keel_station: float
) -> float:
    """Return the foremost station of the step over its plan: a V-plan step reaches forward."""
    low, high = box
    center, half = 0.5 * (low[1] + high[1]), 0.5 * (high[1] - low[1])
    length = float(high[0] - low[0])
    foremost = keel_station
    for share in (0.3, 0.6):
        buttock = buttock_profile(buttocks, float(center + share * half))
        if buttock is None:
            continue
        for jump in jumps(buttock, length):
            if abs(jump.station_mm - keel_station) < 0.15 * length:
                foremost = min(foremost, jump.station_mm)
    return foremost
