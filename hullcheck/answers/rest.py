"""Where she rests, and what the way she does is called."""

from typing import Final

from hullcheck.answers.float_records import Point, Waterline
from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import Floating, Rest, float_at, short_by_g

UPRIGHT_DEG: Final = 0.5
CAPSIZED_DEG: Final = 45.0
_WET_MM: Final = 1e-6


def rest_of(craft: Craft, floating: Floating) -> str:
    """Return the name of an attitude.

    Parameters
    ----------
    craft : Craft
        Whose tip floats are looked at.
    floating : Floating
        The attitude.

    Returns
    -------
    str
        "capsized" beyond 45° of heel; "on starboard tip float" or "on port tip float" when floats
        of that side alone are wet; "upright" under 0.5° of heel, tip floats wet on neither side or
        on both; else "listing".
    """
    heel = abs(floating.heel_deg)
    if heel > CAPSIZED_DEG:
        return "capsized"
    wet = wet_sides(craft, floating)
    if len(wet) == 1:
        return f"on {wet[0]} tip float"
    return "upright" if heel < UPRIGHT_DEG else "listing"


def wet_sides(craft: Craft, floating: Floating) -> tuple[str, ...]:
    """Return the sides whose tip floats touch the water, "port" before "starboard"."""
    sides = set()
    for body in craft.tip_floats:
        corners = body.shell.triangles_mm.reshape(-1, 3)
        if float(floating.height_above_water_mm(corners).min()) < -_WET_MM:
            sides.add("starboard" if body.shell.center_plane_mm > 0.0 else "port")
    return tuple(sorted(sides))


def rest_at(craft: Craft, center_mm: Point | None) -> Rest | None:
    """Return where a craft rests with a center of gravity; None without one, or if she sinks.

    Raises
    ------
    SolverError
        If no rest was found.
    """
    mass, density = craft.mass_g, craft.water.density_kg_m3
    if center_mm is None or short_by_g(craft.skin, mass_g=mass, density_kg_m3=density) >= 0.0:
        return None
    return float_at(craft.skin, mass_g=mass, center_of_gravity_mm=center_mm, density_kg_m3=density)


def waterline_of(craft: Craft) -> Waterline | None:
    """Return where a craft floats at rest; None where her center is not known, or she sinks.

    Raises
    ------
    SolverError
        If no rest was found.
    """
    rest = rest_at(craft, craft.center_of_gravity_mm)
    if rest is None:
        return None
    x, y, z = (float(value) + 0.0 for value in rest.floating.normal)
    return Waterline(normal=(x, y, z), height_mm=rest.floating.height_mm)
