"""How well the marks of a waterline are known: reading, weighing, placing, volume of the skin."""

from collections.abc import Callable, Sequence
from functools import partial
from typing import Final

import numpy as np

from hullcheck.answers.float_records import Point
from hullcheck.answers.marking_sections import KeelSection
from hullcheck.answers.uncertainty import READING_MM, wet_error_mm3
from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import Floating, float_at, short_by_g
from hullcheck.geometry.arrays import FloatArray
from hullcheck.units import G_PER_MM3_PER_KG_M3

_STEP_SHARE: Final = 1e-4
"""Of her mass and of her length: how far the load is changed to see what follows."""


def known_mm(
    craft: Craft, placed_mm: Point, sections: Sequence[KeelSection], floating: Floating
) -> FloatArray | None:
    """Return how well girth and vertical distance are known at sections, starboard then port [mm].

    Parameters
    ----------
    craft : Craft
        What floats; with its weighing.
    placed_mm : tuple of float
        How well its center is known from the placing of a bag [mm].
    sections : sequence of KeelSection
        Of all bodies.
    floating : Floating
        Where she rests.

    Returns
    -------
    ndarray, shape (n, 4), or None
        Standard uncertainties: what reading leaves, each mass acting where it sits, the bag's
        place, and the volume of the skin as water at the CG, square root of the sum of squares.
        NaN where a side does not meet the water, and where a load changed by a little moves it off
        the section whichever way it is changed; None without a center of gravity.

    Notes
    -----
    At an end of the waterline one way of changing the load leaves no crossing to compare with; the
    slope is then that of the other way.
    """
    if craft.center_of_gravity_mm is None or not sections:
        return None
    center = np.array(craft.center_of_gravity_mm, dtype=np.float64)
    low, high = craft.skin.tree.low_mm, craft.skin.tree.high_mm
    less, move = _STEP_SHARE * craft.mass_g, _STEP_SHARE * float((high - low).max())
    here = _values(sections, floating)

    def at(mass_g: float, where: FloatArray) -> FloatArray:
        """Return the values with another load; NaN where it would sink her."""
        density = craft.water.density_kg_m3
        if short_by_g(craft.skin, mass_g=mass_g, density_kg_m3=density) >= 0.0:
            return np.full_like(here, np.nan)
        rest = float_at(
            craft.skin, mass_g=mass_g, center_of_gravity_mm=where, density_kg_m3=density
        )
        return _values(sections, rest.floating)

    per_mm = np.stack([
        _slope(here, (move, -move), partial(_moved, at, craft.mass_g, center, e))
        for e in np.eye(3)
    ])  # fmt: skip
    per_g = _slope(here, (-less, less), lambda by: at(craft.mass_g + by, center))
    parts = [READING_MM * np.ones_like(here)[None], np.array(placed_mm)[:, None] * per_mm]
    for grams, place in () if craft.weighing is None else craft.weighing.spread:
        lever = np.zeros(3) if place is None else (np.array(place) - center) / craft.mass_g
        parts.append(grams * (per_g + lever @ per_mm)[None])
    off_g = wet_error_mm3(craft, floating) * craft.water.density_kg_m3 * G_PER_MM3_PER_KG_M3
    parts.append(off_g * per_g[None])
    spread: FloatArray = np.sqrt((np.concatenate(parts) ** 2).sum(axis=0)).reshape(-1, 4)
    return spread


def _moved(
    at: Callable[[float, FloatArray], FloatArray],
    mass_g: float,
    center: FloatArray,
    along: FloatArray,
    by: float,
) -> FloatArray:
    """Return the values with the CG moved along a direction [mm]."""
    return at(mass_g, center + by * along)


def _slope(
    here: FloatArray, steps: tuple[float, float], at: Callable[[float], FloatArray]
) -> FloatArray:
    """Return the slope of values by one step; by the other where the one leaves nothing there."""
    slope: FloatArray = (at(steps[0]) - here) / steps[0]
    if (np.isnan(slope) & ~np.isnan(here)).any():
        slope = np.where(np.isnan(slope), (at(steps[1]) - here) / steps[1], slope)
    return slope


def _values(sections: Sequence[KeelSection], floating: Floating) -> FloatArray:
    """Return girth and vertical distance at every section, starboard then port, in a row [mm]."""
    values = []
    for section in sections:
        for way in (section.starboard, section.port):
            found = way.crossing(floating.normal, floating.height_mm)
            if found is None:
                values += [np.nan, np.nan]
            else:
                values += [found[0], float(found[1][2] - section.keel_mm[2])]
    return np.array(values)
