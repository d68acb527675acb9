"""What the reader must know beside the numbers."""

import math
from typing import Final

from hullcheck.answers.float_records import BodyShare, Caveat
from hullcheck.answers.load_caveats import load_caveats, names_in_a_row
from hullcheck.answers.place_caveats import place_caveats
from hullcheck.answers.rest import CAPSIZED_DEG, UPRIGHT_DEG, wet_sides
from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import Rest

_PERSON_MASS_G: Final = 25_000.0
_PERSON_LENGTH_MM: Final = 5_000.0
"""Above these a craft may carry a person (common practice, no source)."""


def caveats(craft: Craft, rest: Rest | None, shares: tuple[BodyShare, ...]) -> tuple[Caveat, ...]:
    """Return what must be said beside the answer, the gravest first.

    Parameters
    ----------
    craft : Craft
        What floats.
    rest : Rest or None
        Where she floats; None when she sinks or has no known center of gravity.
    shares : tuple of BodyShare
        What each body carries.

    Returns
    -------
    tuple of Caveat
    """
    found = [*_of_scale(craft), *_of_load(craft), *load_caveats(craft), *place_caveats(craft)]
    found += _of_sides(craft)
    if rest is not None:
        found += _of_rest(craft, rest)
    found += _of_openings(craft, shares)
    return tuple(found)


def _of_scale(craft: Craft) -> list[Caveat]:
    """Return the caution for craft large enough to carry a person."""
    low, high = craft.skin.tree.low_mm, craft.skin.tree.high_mm
    length = float((high - low).max())
    if craft.mass_g <= _PERSON_MASS_G and length <= _PERSON_LENGTH_MM:
        return []
    return [
        Caveat(
            code="person-scale",
            message=f"at {craft.mass_g / 1000:.0f} kg and {length / 1000:.1f} m this is no basis "
            "for airworthiness decisions; the designer of record and the inspector decide",
        )
    ]


def _of_load(craft: Craft) -> list[Caveat]:
    """Return what looks wrong about the center of gravity."""
    center = craft.center_of_gravity_mm
    if center is None:
        how = "--cg X,Y,Z" if craft.weighing is None else "cg_mm under [craft], or --cg X,Y,Z"
        if craft.weighing is not None and craft.weighing.without_place:
            how = f"fill in x_mm and z_mm of {names_in_a_row(craft.weighing.without_place)}"
        return [
            Caveat(
                code="no-cg",
                message="no center of gravity given: she is shown held level, with where her CG "
                f"must be for that ({how})",
            )
        ]
    low, high = craft.skin.tree.low_mm, craft.skin.tree.high_mm.copy()
    # On floats the fuselage and its weight ride above them.
    high[2] += float((high - low).max())
    outside = [
        f"{axis} {value:g} mm is outside {round(float(least))} to {round(float(most))} mm"
        for axis, value, least, most in zip("xyz", center, low, high, strict=True)
        if not least <= value <= most
    ]
    if not outside:
        return []
    return [
        Caveat(
            code="cg-outside",
            message="the center of gravity lies outside the box around the bodies: "
            f"{', '.join(outside)}; check the datum and the axes",
        )
    ]


def _of_sides(craft: Craft) -> list[Caveat]:
    """Return a word about tip floats that stand on one side only."""
    middles = [body.shell.center_plane_mm for body in craft.tip_floats]
    if not middles or min(middles) < 0.0 < max(middles):
        return []
    side, other = ("starboard", "port") if middles[0] > 0.0 else ("port", "starboard")
    return [
        Caveat(
            code="one-sided-tip-floats",
            message=f"tip floats are given to {side} only: nothing in these meshes holds her up to "
            f"{other}",
        )
    ]


def _of_rest(craft: Craft, rest: Rest) -> list[Caveat]:
    """Return what is unusual about the way she rests."""
    found = []
    floating = rest.floating
    if rest.neutral:
        found.append(
            Caveat(
                code="neutral",
                message="nothing rights her and nothing upsets her: she stays as she is put",
            )
        )
    if rest.either_side:
        found.append(
            Caveat(
                code="either-side",
                message="upright is a knife edge: she falls to port as well as to starboard, and "
                "starboard is shown",
            )
        )
    both = len(wet_sides(craft, floating)) == 2
    if both and abs(floating.heel_deg) < UPRIGHT_DEG:
        found.append(
            Caveat(
                code="both-tip-floats-wet",
                message="tip floats on both sides are in the water: she sits deep for them",
            )
        )
    if abs(floating.heel_deg) > CAPSIZED_DEG and not math.isnan(floating.heel_deg):
        found.append(
            Caveat(
                code="beyond-model",
                message="wing and tail are not in these meshes: the capsized attitude is that of "
                "the bodies alone",
            )
        )
    return found


def _of_openings(craft: Craft, shares: tuple[BodyShare, ...]) -> list[Caveat]:
    """Return what is not known about openings, and what freeboard is read off without them."""
    names = " and ".join(s.name for s in shares if s.role in {"hull", "main float"}) or "the skin"
    if not craft.openings:
        return [
            Caveat(
                code="no-openings",
                message=f"no openings are known: freeboard is read off the top of {names}; canopy, "
                "hatches, wing seat and screw holes may lie lower",
            )
        ]
    found = []
    doubtful = [opening.called for opening in craft.openings if opening.state is None]
    if doubtful:
        found.append(
            Caveat(
                code="state-not-stated",
                message=f"openings whose state is not stated count as open: {', '.join(doubtful)}",
            )
        )
    if not any(opening.lets_water_in for opening in craft.openings):
        found.append(
            Caveat(
                code="all-sealed",
                message=f"all her openings are sealed: freeboard is read off the top of {names}",
            )
        )
    return found
