"""Sections whose lines cross, or run the wrong way round: found before any skin is made."""

from itertools import pairwise
from typing import Final

import numpy as np

from hullcheck.errors import InputError
from hullcheck.geometry.arrays import FloatArray, IntArray
from hullcheck.geometry.offset_table import AHEAD, BEHIND, OffsetTable, millimeters

_TOUCH: Final = 1e-9
"""Of the section's size: nearer than this a point lies on a line; rounding is 1e-16 of it."""


def refuse_crossed(table: OffsetTable) -> None:
    """Refuse a table of offsets in which a section crosses itself.

    Parameters
    ----------
    table : OffsetTable
        Half-breadths not below 0.

    Raises
    ------
    InputError
        If half a section, from the center plane over all lines back to it, crosses itself on
        either side of a station; if the deck edge stands below the chine; if the lines run from
        deck to keel. It names station, lines and row.

    Notes
    -----
    Lines may touch: at a stem, where a chine runs out, at an end that is a level edge. Sections
    between the stations are not looked at.
    """
    for station in range(len(table.stations_mm)):
        for side in (AHEAD, BEHIND):
            _refuse_edge_below_chine(table, side, station)
            _refuse_crossed_section(table, side, station)


def _refuse_edge_below_chine(table: OffsetTable, side: int, station: int) -> None:
    """Refuse a deck edge below the chine of its section."""
    if "chine" not in table.lines or "deck edge" not in table.lines:
        return
    chine, edge = table.lines.index("chine"), table.lines.index("deck edge")
    low, high = table.points_mm[side, station, [chine, edge], 1]
    if high < low:
        raise InputError(
            f"row {table.rows[side, station, edge]}: at station "
            f"{millimeters(table.stations_mm[station])} the deck edge (height {millimeters(high)}) "
            f"is below the chine ({millimeters(low)}, row {table.rows[side, station, chine]}); "
            "look whether the two are exchanged"
        )


def _refuse_crossed_section(table: OffsetTable, side: int, station: int) -> None:
    """Refuse a section that crosses itself or that goes round the wrong way."""
    section = table.points_mm[side, station]
    foot, top = section[0] * (0.0, 1.0), section[-1] * (0.0, 1.0)
    outline = np.vstack([foot, section, top])
    names = np.array([0, *range(len(section)), len(section) - 1])
    new = np.append(True, (outline[1:] != outline[:-1]).any(axis=1))
    found = _crossing(outline[new], names[new])
    where = f"at station {millimeters(table.stations_mm[station])}"
    rows = table.rows[side, station]
    if found is not None:
        one, two = found
        raise InputError(
            f"row {rows[two]}: {where} {table.lines[two]} and {table.lines[one]} (row {rows[one]}) "
            "cross: the section from keel to deck runs through itself there; look whether two "
            "rows are exchanged or a number is mistyped"
        )
    breadth, height = outline.T
    area = float(0.5 * (breadth[1:] + breadth[:-1]) @ np.diff(height))
    size = float(np.ptp(outline, axis=0).max())
    if area < -_TOUCH * size * size:
        raise InputError(
            f"row {rows[0]}: {where} the lines run from deck to keel, {table.lines[0]} at height "
            f"{millimeters(section[0, 1])} and {table.lines[-1]} at {millimeters(section[-1, 1])}; "
            "list the lines from keel to deck"
        )


def _crossing(outline: FloatArray, names: IntArray) -> tuple[int, int] | None:
    """Return the two lines between which an open polyline (k, 2) crosses itself, if it does."""
    touch = _TOUCH * float(np.ptp(outline, axis=0).max())
    for i, run in enumerate(np.diff(outline, axis=0)):
        length = float(np.hypot(*run))
        along, off = (outline - outline[i]) @ run / length, _across(run, outline - outline[i])
        off = np.where(np.abs(off) <= touch * length, 0.0, off / length)
        inner = (touch, length - touch)
        before = _passes(along[:i], off[:i], inner)
        after = _passes(along[i + 2 :], off[i + 2 :], inner)
        if after is not None:
            low, high = (i, i + 1), (i + 2 + after, i + 3 + after)
        elif before is not None:
            low, high = (before, before + 1), (i, i + 1)
        else:
            continue
        # The nearer ends of both stretches are what a reader would call the two lines.
        one, two = int(names[low[1]]), int(names[high[0]])
        return (one, two) if one != two else (int(names[low[0]]), two)
    return None


def _across(run: FloatArray, points: FloatArray) -> FloatArray:
    """Return the cross products of a direction with points (k, 2)."""
    product: FloatArray = run[0] * points[:, 1] - run[1] * points[:, 0]
    return product


def _passes(along: FloatArray, off: FloatArray, inner: tuple[float, float]) -> int | None:
    """Return from which point a path leaves for the other side of a segment it goes through."""
    sided = np.flatnonzero(off)
    for first, last in pairwise(sided):
        if off[first] * off[last] > 0.0:
            continue
        if last == first + 1:
            share = off[first] / (off[first] - off[last])
            met = along[[first]] + share * (along[last] - along[first])
        else:
            met = along[first + 1 : last]
        if met.max() > inner[0] and met.min() < inner[1]:
            return int(last) - 1
    return None
