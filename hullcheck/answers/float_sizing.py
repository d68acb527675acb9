"""The least tip float that holds: by scaling it, and by moving it, and floating her again."""

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Final

import numpy as np

from hullcheck.answers.heeling import Heeling
from hullcheck.answers.righting_floats import moments_under, side_of, under_heel
from hullcheck.answers.righting_records import SizeReport
from hullcheck.craft.bodies import Body
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.flotation.roots import root_between
from hullcheck.flotation.upsetting import Upset
from hullcheck.geometry.shells import Shell
from hullcheck.units import MM3_PER_CM3

FACTORS: Final = (1.0, 1.5)
"""What just holds, and the former 14 CFR 23.757 for full-size seaplanes."""
VOLUMES: Final = (1e-3, 10.0)
"""Least and greatest share of a float's volume that is looked at."""
FURTHEST: Final = 3.0
"""Times the reach a float is moved out to at most."""
_CLOSE: Final = 1e-4


def float_sizes(craft: Craft, body: Body, upset: Upset) -> tuple[SizeReport, ...]:
    """Return the least tip float that holds, by volume and by reach, for each of `FACTORS`.

    Parameters
    ----------
    craft : Craft
        Her mass and center stay as they are: a larger float's own weight is not added.
    body : Body
        One of her tip floats; its twin across is changed with it. A sponson is joined to the hull
        and is neither scaled nor moved.
    upset : Upset
        Wind and turn.

    Notes
    -----
    A float holds when, it being just wholly under with sinkage and trim free, its buoyancy's moment
    about the center of gravity is the factor times the moment of what upsets her: of all other
    buoyancy, of wind and of turn. It is scaled about the middle of its foot, so that its gap to the
    water stays; the root is bracketed and found by false position on craft floated anew.
    """
    if body.role != "tip float":
        return ()
    return tuple(
        SizeReport(
            factor=factor,
            least_volume_cm3=_least_volume_cm3(craft, body, upset, factor),
            least_reach_mm=_least_reach_mm(craft, body, upset, factor),
        )
        for factor in FACTORS
    )


def with_float(
    craft: Craft, body: Body, *, volume: float = 1.0, reach_mm: float | None = None
) -> Craft:
    """Return a craft with a tip float and its twin scaled to a share of their volume, or moved.

    Parameters
    ----------
    craft : Craft
        Whose float it is.
    body : Body
        One of her bodies.
    volume : float, default 1
        Share of its volume, about the middle of its foot.
    reach_mm : float, optional
        Distance of its middle from the center plane [mm].
    """
    bodies = tuple(
        _changed(one, volume, reach_mm) if _are_twins(one, body) else one for one in craft.bodies
    )
    return replace(craft, bodies=bodies)


def spare_moment(craft: Craft, body: Body, upset: Upset, factor: float = 1.0) -> float:
    """Return what a float's moment has over a factor times what upsets her [g·mm]; 0 just holds.

    A float that never goes under holds: its share of the weight at its reach stands for the rest.
    """
    heeling = Heeling.of(craft)
    under = under_heel(heeling, body)
    if under is None or abs(under) > 0.5 * math.pi:
        return craft.mass_g * abs(body.shell.center_plane_mm)
    return moments_under(heeling, body, upset, under).spare(factor)


def _least_volume_cm3(craft: Craft, body: Body, upset: Upset, factor: float) -> float | None:
    """Return the least volume of a float that holds [cm³]."""

    def spare(volume: float) -> float:
        """Return what is left at a share of its volume."""
        changed = with_float(craft, body, volume=volume)
        return spare_moment(changed, _named(changed, body.name), upset, factor)

    share = _least(spare, VOLUMES, 1.0)
    if share is None:
        return None
    # What a thousandth of the float holds, the hull holds.
    return 0.0 if share == VOLUMES[0] else share * body.shell.volume_mm3 / MM3_PER_CM3


def _least_reach_mm(craft: Craft, body: Body, upset: Upset, factor: float) -> float | None:
    """Return the least reach of a float that holds [mm]."""
    half = 0.5 * float(body.shell.high_mm[1] - body.shell.low_mm[1])
    others = [one for one in craft.bodies if not _are_twins(one, body)]
    beside = max(
        float(max(abs(one.shell.low_mm[1]), abs(one.shell.high_mm[1]))) for one in others
    ) if others else 0.0  # fmt: skip

    def spare(reach: float) -> float:
        """Return what is left at a reach."""
        changed = with_float(craft, body, reach_mm=reach)
        return spare_moment(changed, _named(changed, body.name), upset, factor)

    here = abs(body.shell.center_plane_mm)
    if here < beside + half:
        return None
    return _least(spare, (beside + half, FURTHEST * here), here)


def _least(
    spare: Callable[[float], float], ends: tuple[float, float], start: float
) -> float | None:
    """Return the least value that leaves something, on the side that holds; None if none does.

    From a start it is halved while that holds, else doubled, so that few craft are floated.
    """
    at_low = spare(ends[0])
    if at_low >= 0.0:
        return ends[0]
    here, value = start, spare(start)
    while True:
        following = max(0.5 * here, ends[0]) if value >= 0.0 else min(2.0 * here, ends[1])
        if following == here:
            return None
        after = at_low if following == ends[0] else spare(following)
        if (after >= 0.0) != (value >= 0.0):
            break
        here, value = following, after
    close = _CLOSE * min(here, following)
    found = root_between(spare, (here, following), (value, after), tolerance=close)
    return found if spare(found) >= 0.0 else found + close


def _are_twins(one: Body, other: Body) -> bool:
    """Return whether two bodies are one, or tip floats across from each other."""
    if one.name == other.name:
        return True
    apart = abs(abs(one.shell.center_plane_mm) - abs(other.shell.center_plane_mm))
    wide = float(other.shell.high_mm[1] - other.shell.low_mm[1])
    along = abs(float(one.shell.middle_mm[0] - other.shell.middle_mm[0]))
    long = float(other.shell.high_mm[0] - other.shell.low_mm[0])
    return (
        one.role == other.role == "tip float"
        and side_of(one) != side_of(other)
        and apart < wide
        and along < long
    )


def _changed(body: Body, volume: float, reach_mm: float | None) -> Body:
    """Return a float scaled about the middle of its foot, and moved across."""
    if not volume > 0.0:
        raise InputError(f"{body.name}: share {volume:g} of its volume: must be above 0")
    shell = body.shell
    foot = np.array([shell.middle_mm[0], shell.middle_mm[1], shell.low_mm[2]])
    scale = volume ** (1.0 / 3.0)
    triangles = foot + scale * (shell.triangles_mm - foot)
    if reach_mm is not None:
        shift = reach_mm - abs(shell.center_plane_mm)
        triangles = triangles + np.array([0.0, side_of(body) * shift, 0.0])
    return replace(
        body,
        shell=Shell(
            triangles_mm=triangles,
            volume_mm3=shell.volume_mm3 * volume,
            area_mm2=shell.area_mm2 * scale**2,
        ),
    )


def _named(craft: Craft, name: str) -> Body:
    """Return a body of a craft by name."""
    return next(body for body in craft.bodies if body.name == name)
