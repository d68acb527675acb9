"""How well freeboard and grams left are known: reading, weighing, and the volume of the skin."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.answers.skin_answer import area_below_mm2
from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import Floating, float_at, short_by_g
from hullcheck.geometry.arrays import FloatArray
from hullcheck.units import G_PER_MM3_PER_KG_M3

READING_MM: Final = 1.0
"""Surface tension and a ruler make about this much (common practice, no source)."""
_STEP_SHARE: Final = 1e-4
"""Of her mass and of her length: how far the load is changed to see what follows. Little, so that a
craft that hardly stays upright is not pushed over by the trial."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Response:
    """What a value does when the load changes, about where she floats with it.

    Attributes
    ----------
    per_g : float
        Its change per gram put at the CG.
    per_mm : ndarray, shape (3,)
        Its change per millimeter that the CG moves along each axis.
    floating : Floating
    """

    per_g: float
    per_mm: FloatArray
    floating: Floating


def response_of(craft: Craft, value: Callable[[Floating], float], mass_g: float) -> Response | None:
    """Return what a value of an attitude does when the load changes a little.

    Parameters
    ----------
    craft : Craft
        With a known center of gravity.
    value : callable
        The value, from where she floats.
    mass_g : float
        The mass about which it is asked [g].

    Returns
    -------
    Response or None
        By floating her again with a ten-thousandth less mass and with the center moved by a
        ten-thousandth of her length along each axis; None where she does not float there.
    """
    center = np.array(craft.center_of_gravity_mm, dtype=np.float64)
    low, high = craft.skin.tree.low_mm, craft.skin.tree.high_mm
    less, move = _STEP_SHARE * mass_g, _STEP_SHARE * float((high - low).max())
    density = craft.water.density_kg_m3
    if short_by_g(craft.skin, mass_g=mass_g, density_kg_m3=density) >= -less:
        return None

    def at(mass: float, where: FloatArray) -> Floating:
        """Return where she floats with another load."""
        return float_at(
            craft.skin, mass_g=mass, center_of_gravity_mm=where, density_kg_m3=density
        ).floating

    floating = at(mass_g, center)
    here = value(floating)
    per_mm = [(value(at(mass_g, center + move * axis)) - here) / move for axis in np.eye(3)]
    per_g = (here - value(at(mass_g - less, center))) / less
    return Response(per_g=per_g, per_mm=np.array(per_mm), floating=floating)


def spread_of(craft: Craft, response: Response) -> float:
    """Return how well a value is known from how well masses and volumes are, in its own unit.

    Parameters
    ----------
    craft : Craft
        With its weighing.
    response : Response
        Of the value.

    Returns
    -------
    float
        Square root of the sum of squares over items, each with its mass acting where it sits: it
        changes the mass and moves the center. An item without a place acts at the CG. What the
        volume of a body is uncertain by acts as that much water at the CG.
    """
    weighing, center = craft.weighing, np.array(craft.center_of_gravity_mm, dtype=np.float64)
    parts = []
    for grams, place in () if weighing is None else weighing.spread:
        lever = np.zeros(3) if place is None else (np.array(place) - center) / craft.mass_g
        parts.append(grams * (response.per_g + float(response.per_mm @ lever)))
    density = craft.water.density_kg_m3 * G_PER_MM3_PER_KG_M3
    off = wet_error_mm3(craft, response.floating)
    return math.hypot(*parts, off * density * response.per_g)


def wet_error_mm3(craft: Craft, floating: Floating) -> float:
    """Return how far the volume that a craft displaces may be out [mm³].

    What her skins may be out by, but of the faces that had to be invented only the share under
    water: a closed canopy in the air makes no difference to how deep she floats.
    """
    if not craft.skins:
        return math.fsum(body.volume_error_mm3 or 0.0 for body in craft.bodies)
    x, y, z = floating.normal.tolist()
    total = []
    for one in craft.skins:
        dry = [
            patch.error_mm3
            * (1.0 - area_below_mm2(patch.triangles_mm, (x, y, z), floating.height_mm) / area)
            for patch in one.patches
            if (area := patch.area_mm2) > 0.0
        ]
        total.append(one.error_mm3 - math.fsum(dry))
    return math.fsum(total)


def height_plus_minus_mm(craft: Craft, value: Callable[[Floating], float]) -> float:
    """Return how well a height above the water is known [mm]: read to 1 mm, weighed as she is."""
    if craft.center_of_gravity_mm is None or _is_known(craft):
        return READING_MM
    response = response_of(craft, value, craft.mass_g)
    return READING_MM if response is None else math.hypot(READING_MM, spread_of(craft, response))


def margin_plus_minus_g(
    craft: Craft, value: Callable[[Floating], float], margin_g: float, *, reading: float
) -> float | None:
    """Return how well the grams left are known [g].

    Parameters
    ----------
    craft : Craft
        With a known center of gravity.
    value : callable
        What the limit is on, from where she floats.
    margin_g : float
        The grams left [g].
    reading : float
        How well that can be read, in its own unit; 0 where it is not read.

    Returns
    -------
    float or None
        The value's own uncertainty at the limit, in grams put at the CG; None where the value does
        not change as grams are added, or she does not float there.
    """
    response = response_of(craft, value, craft.mass_g + margin_g)
    if response is None or response.per_g == 0.0:
        return None
    return math.hypot(reading, spread_of(craft, response)) / abs(response.per_g)


def station_plus_minus_mm(craft: Craft) -> float:
    """Return how well the station of her CG is known [mm]: each mass acting on its own arm."""
    weighing, center = craft.weighing, craft.center_of_gravity_mm
    if weighing is None or center is None:
        return 0.0
    return math.hypot(
        *(
            grams * (place[0] - center[0]) / craft.mass_g
            for grams, place in weighing.spread
            if place is not None
        )
    )


def _is_known(craft: Craft) -> bool:
    """Return whether mass and volume are taken as given, with nothing to spread."""
    spread = () if craft.weighing is None else craft.weighing.spread
    return not any(g for g, _ in spread) and not any(b.volume_error_mm3 for b in craft.bodies)
