"""What the reader must know beside where an item may sit."""

import math
from typing import Final

from hullcheck.answers.caveats import caveats
from hullcheck.answers.float_records import Caveat
from hullcheck.answers.place_ends import inside_skin
from hullcheck.answers.place_load import FreeItem
from hullcheck.answers.place_records import PlaceAnswer
from hullcheck.answers.place_room import Room

_NOISE: Final = 1e-9
_OTHERWISE_SAID = frozenset({"no-cg", "cg-out-of-range", "ledger-differs"})
"""Codes of what the answer itself says, or what is about another load."""


def said_of(
    free: FreeItem, room: Room, answer: PlaceAnswer, *, ballast_is_given: bool
) -> tuple[Caveat, ...]:
    """Return what must be said of where an item may sit.

    Parameters
    ----------
    free : FreeItem
        Her, with the item free.
    room : Room
        Where it was looked for.
    answer : PlaceAnswer
        What was found.
    ballast_is_given : bool
        Whether a place for ballast was asked for.

    Returns
    -------
    tuple of Caveat
        Codes "no-cg-range", "no-limits", "no-ballast-needed", "measured-cg", "moved-into-box",
        "put-aside", "narrower-than-known", "outside-skin", "ballast-outside-skin", and those of
        every answer about her load and her openings.
    """
    found = [*_of_limits(answer), *_of_place(free, room, answer)]
    if answer.item_mass_from == "given":
        found.append(
            Caveat(
                code="mass-given",
                message=f"{free.item.name}: the mass given is taken as planned, ± 10 %",
            )
        )
    if ballast_is_given and answer.best is not None:
        found.append(
            Caveat(code="no-ballast-needed", message="there is a place, so no ballast is needed")
        )
    if free.measured[1]:
        found.append(
            Caveat(
                code="measured-cg",
                message="her measured CG is moved by what the item's place changes; how well it "
                "was measured is not known, so ends set by the CG carry no ±",
            )
        )
    shown = answer.best or answer.closest
    place = free.start_mm if shown is None else (shown.x_mm, shown.y_mm, shown.z_mm)
    general = caveats(free.craft_with(place), None, ())
    return (*found, *(c for c in general if c.code not in _OTHERWISE_SAID))


def _of_limits(answer: PlaceAnswer) -> list[Caveat]:
    """Return which of the things to be held are not given."""
    found = []
    if answer.cg_range_mm is None:
        found.append(
            Caveat(
                code="no-cg-range",
                message="cg_range_mm is not in the sheet: only how she floats is held, which says "
                "nothing of how she flies",
            )
        )
    if not answer.limits:
        found.append(
            Caveat(
                code="no-limits",
                message="the sheet has no limits of freeboard, trim or heel: only her CG is held",
            )
        )
    return found


def _of_place(free: FreeItem, room: Room, answer: PlaceAnswer) -> list[Caveat]:
    """Return what is unusual about the place that was found."""
    found = []
    name = free.item.name
    if room.moved_into:
        found.append(
            Caveat(
                code="moved-into-box",
                message=f"the ledger's {' and '.join(room.moved_into)} of {name} lies outside the "
                f"box it may be put in: y {answer.y_mm:g}, z {answer.z_mm:g} mm are taken",
            )
        )
    if answer.y_mm != room.y_mm:
        found.append(
            Caveat(
                code="put-aside",
                message=f"at y {room.y_mm:g} mm nothing holds: {name} is put at y "
                f"{answer.y_mm:g} mm",
            )
        )
    found += _of_width(answer)
    out = _outside(free, answer)
    if out:
        found.append(
            Caveat(
                code="outside-skin",
                message=f"{name} at station {', '.join(out)}, y "
                f"{answer.y_mm:g}, z {answer.z_mm:g} mm lies outside the outer skin of her bodies",
            )
        )
    ballast = answer.ballast
    if ballast is not None and not ballast.inside_skin:
        x, y, z = ballast.center_mm
        found.append(
            Caveat(
                code="ballast-outside-skin",
                message=f"ballast at ({x:.0f}, {y:.0f}, {z:.0f}) mm lies outside the outer skin of "
                "her bodies",
            )
        )
    return found


def _of_width(answer: PlaceAnswer) -> list[Caveat]:
    """Return a word about an interval no wider than its ends are known."""
    one = answer.longest
    if one is None:
        return []
    known = [end.plus_minus_mm for end in (one.first, one.last) if end.plus_minus_mm is not None]
    if not known or one.width_mm > 2.0 * max(known):
        return []
    return [
        Caveat(
            code="narrower-than-known",
            message=f"the interval is {one.width_mm:.1f} mm long and its ends are known to ± "
            f"{max(known):.1f} mm: weigh what is planned only before it is fixed for good",
        )
    ]


def _outside(free: FreeItem, answer: PlaceAnswer) -> list[str]:
    """Return the stations that are printed and lie outside the skin, as they are printed."""
    longest, best, ballast = answer.longest, answer.best, answer.ballast
    stations: dict[str, float] = {}
    if longest is not None and best is not None:
        first, last = longest.first.at_mm, longest.last.at_mm
        stations = {
            f"{math.ceil(first - _NOISE)}": first,
            f"{best.x_mm:.0f}": best.x_mm,
            f"{math.floor(last + _NOISE)}": last,
        }
    elif ballast is not None:
        stations = {f"{ballast.aboard.x_mm:.0f}": ballast.aboard.x_mm}
    return [
        said
        for said, x in stations.items()
        if not inside_skin(free.craft, ((x, answer.y_mm, answer.z_mm),))
    ]
