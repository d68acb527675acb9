"""What the answer to how files were read is made from: the skins of a build, and her waterline."""

from collections.abc import Sequence

from hullcheck.answers.float_records import Waterline
from hullcheck.answers.rest import rest_at
from hullcheck.answers.skin_records import SkinOfBody
from hullcheck.craft.body_skin import BodySkin
from hullcheck.craft.craft import Craft


def skins_of(skins: Sequence[BodySkin]) -> tuple[SkinOfBody, ...]:
    """Return the bodies of a build as `hullcheck.answers.skin_answer.skin_answer` takes them."""
    return tuple(
        SkinOfBody(
            name=one.name,
            role=one.role,
            skin=one.skin,
            shells=one.shells,
            error_mm3=one.error_mm3,
            units=one.units,
            states=one.states,
        )
        for one in skins
    )


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
