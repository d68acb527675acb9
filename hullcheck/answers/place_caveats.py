"""Bodies, openings and centers that lie where none is likely to: a slip of axes, datum or sign."""

from typing import Final

import numpy as np

from hullcheck.answers.float_records import Caveat, Freeboard, Level
from hullcheck.craft.craft import Craft

_AWAY: Final = 0.05
"""Of the length: an opening that far outside the box around the bodies is not in her skin."""
_FAR_CG: Final = 0.25
"""Of the length: a CG so far from where level wants it is no trim but a slip."""


def place_caveats(craft: Craft) -> tuple[Caveat, ...]:
    """Return what lies in an unlikely place: floats beyond the hull's ends, openings off the skin.

    Parameters
    ----------
    craft : Craft
        What floats.

    Returns
    -------
    tuple of Caveat
        Codes "body-adrift" and "opening-adrift".
    """
    hull = craft.deck_body
    fore, aft = float(hull.shell.low_mm[0]), float(hull.shell.high_mm[0])
    found = []
    for body in craft.bodies:
        low, high = float(body.shell.low_mm[0]), float(body.shell.high_mm[0])
        if high < fore or low > aft:
            way = "ahead of" if high < fore else "aft of"
            found.append(
                Caveat(
                    code="body-adrift",
                    message=f"{body.name} lies wholly {way} {hull.name}: stations {round(low)} to "
                    f"{round(high)}, {hull.name} {round(fore)} to {round(aft)}; a part with at_mm "
                    "is not moved by datum_mm",
                )
            )
    tree = craft.skin.tree
    room = _AWAY * float((tree.high_mm - tree.low_mm).max())
    for opening in craft.openings:
        points = opening.points_mm
        outside = (points < tree.low_mm - room) | (points > tree.high_mm + room)
        if outside.any():
            x, y, z = points[int(np.argmax(outside.any(axis=1)))].tolist()
            found.append(
                Caveat(
                    code="opening-adrift",
                    message=f"{opening.called} at ({x:g}, {y:g}, {z:g}) mm lies outside the "
                    "bodies; check its points_mm",
                )
            )
    return tuple(found)


def deck_caveats(board: Freeboard) -> tuple[Caveat, ...]:
    """Return a word about a deck that stands lower than the lowest opening."""
    edges = [p for p in board.points if p.what == "top of the hull"]
    edge = min(edges, key=lambda point: point.height_mm, default=None)
    by_opening = any(p.name == board.at and p.what == "opening" for p in board.points)
    if edge is None or board.least is None or not by_opening or edge.height_mm >= board.least:
        return ()
    where = "above" if edge.height_mm >= 0.0 else "under"
    message = (
        f"the {edge.name} is {abs(edge.height_mm):.1f} mm {where} the water, lower than the lowest "
        "opening: it counts only where water gets in"
    )
    return (Caveat(code="deck-lower", message=message),)


def lever_caveats(craft: Craft, level: Level) -> tuple[Caveat, ...]:
    """Return a word about a CG so far from where level wants it that axes or datum are in doubt."""
    off = level.cg_aft_of_cb_mm
    tree = craft.skin.tree
    length = float(tree.high_mm[0] - tree.low_mm[0])
    if off is None or abs(off) <= _FAR_CG * length:
        return ()
    way = "aft of" if off > 0.0 else "ahead of"
    message = (
        f"her CG lies {abs(off):.0f} mm {way} where she could float level, of {length:.0f} mm "
        "length: check axes and datum, and the stations of what she carries"
    )
    return (Caveat(code="cg-far", message=message),)
