"""The tub it needs: room around the bodies in the water and under the deepest of them."""

import math
from typing import Final

import numpy as np

from hullcheck.answers.bath_records import Tub
from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import Floating
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.attitude import level_directions
from hullcheck.geometry.sections import cut_segments

AROUND_MM: Final = 50.0
"""Room on every side: nearer, a wall pulls her in by surface tension (common practice, no
source)."""
UNDER_MM: Final = 30.0
"""Water left under her (common practice, no source)."""
_MM3_PER_L: Final = 1e6


def tub_of(craft: Craft, floating: Floating) -> Tub:
    """Return the tub a craft needs to float in.

    Parameters
    ----------
    craft : Craft
        Whose bodies count; those clear of the water only for the overall size.
    floating : Floating
        Where she floats.

    Returns
    -------
    Tub
        Bodies that touch the water, overhangs and all, seen from above with 50 mm all around, and
        30 mm under the deepest; the water is what fills that less what she displaces.
    """
    along, across = level_directions(
        trim=math.radians(floating.trim_deg), heel=math.radians(floating.heel_deg)
    )
    clouds = [body.shell.triangles_mm.reshape(-1, 3) for body in craft.bodies]
    wet = [points for points in clouds if _lowest(points, floating) < 0.0]
    line = cut_segments(
        craft.skin.triangles_mm, floating.normal, floating.height_mm
    ).reshape(-1, 3)  # fmt: skip
    draft = -min(_lowest(points, floating) for points in clouds)
    length = _extent(wet, along) + 2.0 * AROUND_MM
    width = _extent(wet, across) + 2.0 * AROUND_MM
    depth = draft + UNDER_MM
    return Tub(
        length_mm=length,
        width_mm=width,
        depth_mm=depth,
        water_l=(length * width * depth - floating.displaced_volume_mm3) / _MM3_PER_L,
        waterline_length_mm=_extent([line], along),
        waterline_beam_mm=_extent([line], across),
        draft_mm=draft,
        overall_length_mm=_extent(clouds, along),
        overall_width_mm=_extent(clouds, across),
    )


def _lowest(points: FloatArray, floating: Floating) -> float:
    """Return the height above the water of the lowest of some points [mm]."""
    return float(floating.height_above_water_mm(points).min())


def _extent(clouds: list[FloatArray], direction: FloatArray) -> float:
    """Return how far clouds of points reach along a direction [mm]; 0 where there are none."""
    if not any(len(points) for points in clouds):
        return 0.0
    return float(np.ptp(np.concatenate(clouds) @ direction))
