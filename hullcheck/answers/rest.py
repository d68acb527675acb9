"""What the way she rests is called."""

from typing import Final

from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import Floating

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
