"""Where a keel line jumps: what could be a step, with the keel on either side of it."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.geometry.profile import Profile

_STEEP: Final = 0.7
"""Rise over run from which the keel line counts as the face of a step (35°)."""
_LEAST_DEPTH_SHARE: Final = 0.003
"""Of the length: a third of the shallowest step model builders use (1 %, common practice)."""
_DEEP_SHARE: Final = 0.01
"""Of the length: the least depth of a step model builders ask for (common practice)."""
KEEL_SHARE: Final = 0.08
"""Of the length: keel that must lie on both sides of a step."""
_FIT_SHARE: Final = 1e-4
"""Of the length: how far a keel may stray from the line fitted to it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeelLine:
    """A straight line fitted to a stretch of keel.

    Attributes
    ----------
    angle_deg : float
        To body x [deg], positive when the keel rises aft.
    from_mm, to_mm : float
        Stations it was fitted over [mm].
    """

    angle_deg: float
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Jump:
    """A jump of a keel line that has keel on both sides.

    Attributes
    ----------
    first, after : int
        The first piece of its face and the first piece behind it.
    station_mm, z_mm : float
        Its corner, the lower one [mm].
    depth_mm : float
        Along z, from the corner to the line of the keel behind it [mm].
    run_mm : float
        Length of its face along x [mm]; 0 where it is square to x.
    ahead, behind : KeelLine
        Keel on either side.
    """

    first: int
    after: int
    station_mm: float
    z_mm: float
    depth_mm: float
    run_mm: float
    ahead: KeelLine
    behind: KeelLine


def jumps(profile: Profile, length_mm: float) -> list[Jump]:
    """Return the jumps of a keel line that could be a step, from the bow.

    Parameters
    ----------
    profile : Profile
        Lower edge of the center plane's cut, or of a buttock.
    length_mm : float
        Of the body [mm].

    Notes
    -----
    A jump is a stretch that rises aft at more than 35°, by at least 0.3 % of the length, between
    keels of at least 8 % of the length that rise or fall at less than 35° themselves.
    """
    found = []
    reach = KEEL_SHARE * length_mm
    for first, after in steep_runs(profile):
        corner, landing = profile.ends[first - 1], profile.starts[after]
        if corner[0] - profile.starts[0, 0] < reach or profile.ends[-1, 0] - landing[0] < reach:
            continue
        ahead = _fitted(profile, float(corner[0]), -1, length_mm)
        behind = _fitted(profile, float(landing[0]), 1, length_mm)
        gentle = max(abs(ahead.angle_deg), abs(behind.angle_deg)) < math.degrees(math.atan(_STEEP))
        run = float(landing[0] - corner[0])
        rise = math.tan(math.radians(behind.angle_deg)) * run
        depth = float(landing[1] - rise - corner[1])
        if gentle and depth >= _LEAST_DEPTH_SHARE * length_mm:
            found.append(
                Jump(
                    first=first,
                    after=after,
                    station_mm=float(corner[0]),
                    z_mm=float(corner[1]),
                    depth_mm=depth,
                    run_mm=run,
                    ahead=ahead,
                    behind=behind,
                )
            )
    return found


def main_jump(found: list[Jump], length_mm: float) -> Jump | None:
    """Return the jump that is the main step: the lowest of the deep ones; None of none.

    Notes
    -----
    Behind the main step the afterbody rises, so a second step lies higher, however deep it is.
    Deep is half as deep as the deepest or 1 % of the length, whichever is less: a ledge between
    printed parts is neither (common practice, no source).
    """
    if not found:
        return None
    least = min(0.5 * max(jump.depth_mm for jump in found), _DEEP_SHARE * length_mm)
    return min((j for j in found if j.depth_mm >= least), key=lambda jump: jump.z_mm)


def steep_runs(profile: Profile) -> list[tuple[int, int]]:
    """Return runs of jumps and steep pieces: the first steep piece, the first after it."""
    run = profile.ends[:, 0] - profile.starts[:, 0]
    steep = profile.ends[:, 1] - profile.starts[:, 1] > _STEEP * run
    jump = np.zeros(len(profile), dtype=bool)
    jump[1:] = profile.starts[1:, 1] - profile.ends[:-1, 1] > 1e-6
    runs: list[tuple[int, int]] = []
    i = 1
    while i < len(profile):
        if not (jump[i] or steep[i]):
            i += 1
            continue
        first = i
        while i < len(profile) and steep[i]:
            i += 1
        if i < len(profile):
            runs.append((first, i))
        i += 1
    return runs


def _fitted(profile: Profile, at: float, way: int, length: float) -> KeelLine:
    """Return the line fitted to the keel from a station on, grown forward (−1) or aft (1)."""
    ends = profile.ends[:, 0] if way > 0 else profile.starts[:, 0]
    limit = float(ends.max() if way > 0 else ends.min())
    best: KeelLine | None = None
    span = 0.5 * KEEL_SHARE * length
    while best is None or span <= abs(limit - at):
        along = at + way * np.linspace(0.002, 1.0, 60) * min(span, abs(limit - at))
        heights = np.array([profile.height_at(float(x)) for x in along])
        slope, offset = np.polyfit(along - at, heights, 1)
        if best is not None and np.abs(offset + slope * (along - at) - heights).max() > (
            _FIT_SHARE * length
        ):
            break
        best = KeelLine(
            angle_deg=math.degrees(math.atan(slope)),
            from_mm=min(at, float(along[-1])),
            to_mm=max(at, float(along[-1])),
        )
        span *= 1.15
    return best
