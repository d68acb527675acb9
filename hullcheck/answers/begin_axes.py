"""How the files of a craft lie: bow and deck told by her length, her symmetry and her step."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.geometry.areas import areas_mm2
from hullcheck.geometry.arrays import FloatArray, bounds
from hullcheck.geometry.frames import AXES, axis_name, body_rotation
from hullcheck.geometry.part_groups import asymmetry_mm
from hullcheck.geometry.profile import buttock_profile
from hullcheck.geometry.sections import Cuts
from hullcheck.geometry.step import Step, find_step

_DEEPEST: Final = 0.3
"""Of her depth: a deeper jump of the lower edge is a hole that is looked into, and no step."""
_STEEP: Final = 0.7
_FALLS_BACK: Final = 0.5
_STANDS_OUT: Final = 3.0
_CLEARLY: Final = 0.5
_NOISE_SHARE: Final = 0.015
"""Of her length: a surface that lies nearer to its mirror image than this may be symmetric."""
_ASKEW_DEG: Final = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class AxesFound:
    """How the files lie, and how that is known.

    Attributes
    ----------
    forward, up : str
        File axes that point to the bow and to the sky.
    forward_by, up_by : str
        "stated", "step" (the step tells) or "assumed".
    askew_deg : float
        How far her length runs off her center plane in the files [deg]; 0 below 3°.
    """

    forward: str
    up: str
    forward_by: str
    up_by: str
    askew_deg: float = 0.0

    @property
    def assumed(self) -> bool:
        """Whether bow or deck are nothing but an assumption."""
        return "assumed" in (self.forward_by, self.up_by)


def axes_found(hull: FloatArray, *, forward: str | None = None, up: str | None = None) -> AxesFound:
    """Return how files lie, as stated, else as the step tells, else as is usual.

    Parameters
    ----------
    hull : ndarray, shape (n, 3, 3)
        The parts of the largest body, in the axes of the files [mm].
    forward, up : str or None
        What is stated.

    Raises
    ------
    InputError
        If what is stated is no axis, or both lie along one line.

    Notes
    -----
    The longest side of the box runs fore and aft, and she is symmetric across one of the others, if
    that is clear. Of the ways that remain the one counts in which a step is found, if it is found
    in one alone or is there three times as deep as in any other: an opening closed flat in a deck
    looks like a low step to who stands on his head.
    """
    ways = _ways(hull, forward, up)
    told = _told_by_step(hull, ways) if forward is None or up is None else None
    way = told or _usual(ways)
    by = "step" if told else "assumed"
    return AxesFound(
        forward=way[0],
        up=way[1],
        forward_by="stated" if forward is not None else by,
        up_by="stated" if up is not None else by,
        askew_deg=_askew_deg(hull @ body_rotation_of(way).T),
    )


def _told_by_step(hull: FloatArray, ways: Sequence[tuple[str, str]]) -> tuple[str, str] | None:
    """Return the way in which a step is found, if there is one that stands out."""
    steps = [(way, step_below(hull @ body_rotation_of(way).T)) for way in ways]
    found = sorted(((s.depth_mm, way) for way, s in steps if s is not None), reverse=True)
    if not found or (len(found) > 1 and found[0][0] < _STANDS_OUT * found[1][0]):
        return None
    return found[0][1]


def body_rotation_of(way: tuple[str, str]) -> FloatArray:
    """Return the rotation to body axes of a forward and an up axis."""
    return body_rotation(forward=way[0], up=way[1])


def step_below(triangles_mm: FloatArray) -> Step | None:
    """Return the step of a body in body axes, or None; a hole or a recess is none.

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        A skin, or the parts of one [mm].

    Notes
    -----
    What is deeper than 30 % of her depth is a hole that is looked into. Where the lower edge falls
    back behind it by more than half its depth it is a recess, such as a canopy seen upside down.
    """
    cuts = Cuts(triangles_mm)
    step = find_step(triangles_mm, cuts=cuts)
    low, high = bounds(triangles_mm)
    if step is None or step.depth_mm > _DEEPEST * float(high[2] - low[2]):
        return None
    edge = buttock_profile(cuts.buttocks, step.center_plane_mm)
    if edge is None:
        return None
    run, rise = (edge.ends - edge.starts).T
    behind = edge.starts[:, 0] >= step.station_mm
    steep = np.where(rise < -_STEEP * run, -rise, 0.0)[behind].sum()
    jumps = (edge.ends[:-1, 1] - edge.starts[1:, 1]).clip(min=0.0)[behind[1:]].sum()
    return None if steep + jumps > _FALLS_BACK * step.depth_mm else step


def _ways(hull: FloatArray, forward: str | None, up: str | None) -> list[tuple[str, str]]:
    """Return the forward and up axes that may be, the usual ones first."""
    if forward is not None and up is not None:
        body_rotation(forward=forward, up=up)
        return [(axis_name(forward), axis_name(up))]
    low, high = bounds(hull)
    length = "xyz"[int(np.argmax(high - low))]
    if forward is not None:
        length = axis_name(forward)[1]
    elif up is not None and axis_name(up)[1] == length:
        length = "xyz"[int(np.argsort(high - low)[1])]
    across = _across(hull, length) if up is None else {"x", "y", "z"} - {axis_name(up)[1]}
    ways = [
        (bow, sky)
        for bow in sorted(AXES, key=lambda axis: axis[0] != "-")
        for sky in sorted(AXES, key=lambda axis: (axis[0] != "+", -ord(axis[1])))
        if bow[1] == length and sky[1] != length and set("xyz") - {length, sky[1]} <= across
    ]
    stated = [forward and axis_name(forward), up and axis_name(up)]
    return [way for way in ways if all(s in (None, w) for s, w in zip(stated, way, strict=True))]


def _across(hull: FloatArray, length: str) -> set[str]:
    """Return the axes that may run across her: the one she is symmetric over, if that is clear."""
    others = [axis for axis in "yzx" if axis != length]
    off = [asymmetry_mm(hull, "xyz".index(axis)) for axis in others]
    noise = _NOISE_SHARE * float(np.ptp(np.array(bounds(hull)), axis=0).max())
    for k in (0, 1):
        if off[k] < _CLEARLY * off[1 - k] and off[1 - k] > noise:
            return {others[k]}
    return set(others)


def _usual(ways: Sequence[tuple[str, str]]) -> tuple[str, str]:
    """Return the usual one of some ways: bow at −x and deck at +z where they may be."""
    return ("-x", "+z") if ("-x", "+z") in ways else ways[0]


def _askew_deg(hull: FloatArray) -> float:
    """Return how far the principal axis of a surface runs off the fore-and-aft plane [deg]."""
    middles = hull.mean(axis=1)
    spread = np.cov(middles[:, :2].T, aweights=areas_mm2(hull))
    main = np.linalg.eigh(spread)[1][:, -1]
    askew = float(np.degrees(np.arctan2(abs(main[1]), abs(main[0]))))
    return askew if askew > _ASKEW_DEG else 0.0
