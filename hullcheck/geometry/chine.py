"""The chine of a section: the edge where bottom meets side."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.sections import Slices, chained, loop_area

_LEAST_TURN: Final = math.radians(25.0)
_SIDE: Final = math.radians(50.0)
"""A side stands steeper than this, a bottom lies flatter (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chine:
    """The chine of a section, on its starboard side.

    Attributes
    ----------
    half_breadth_mm, height_mm : float
        From the center plane, and z [mm].
    deadrise_deg : float
        Of the straight line from keel to chine, to the level [deg].
    """

    half_breadth_mm: float
    height_mm: float
    deadrise_deg: float


def chine_at(slices: Slices, station_mm: float, center_mm: float) -> Chine | None:
    """Return the chine of the section at a station, or None where bottom runs into side unbroken.

    Parameters
    ----------
    slices : Slices
        Sections of a closed body in body axes [mm].
    station_mm : float
        Where the section is taken [mm].
    center_mm : float
        y of the center plane [mm].

    Returns
    -------
    Chine or None
        The first corner of at least 25° going out from the keel, with bottom flatter than 50° on
        its inner side.
    """
    outline = _lower_half(slices, station_mm, center_mm)
    if outline is None:
        return None
    steps = np.linalg.norm(np.diff(outline, axis=0), axis=1)
    run = np.concatenate(([0.0], np.cumsum(steps)))
    width = 0.08 * float(outline[:, 0].max())
    inner = run > width
    candidates = np.flatnonzero(inner & (run < run[-1] - width))
    if len(candidates) == 0:
        return None
    before, after = (
        np.stack([np.interp(run[candidates] + s, run, outline[:, k]) for k in (0, 1)], axis=1)
        for s in (-width, width)
    )
    here = outline[candidates]
    turn = _direction(after - here) - _direction(here - before)
    rise = _direction(here - outline[0])
    good = (turn >= _LEAST_TURN) & (rise < _SIDE)
    if not good.any():
        return None
    first = int(np.argmax(good))
    near = slice(first, int(np.searchsorted(run[candidates], run[candidates][first] + 2 * width)))
    best = first + int(np.argmax(np.where(good[near], turn[near], -np.inf)))
    breadth, height = (float(v) for v in here[best])
    return Chine(
        half_breadth_mm=breadth,
        height_mm=height,
        deadrise_deg=math.degrees(math.atan2(height - float(outline[0, 1]), breadth)),
    )


def greatest_beam_over_chines(
    slices: Slices, bow_mm: float, last_mm: float, center_mm: float
) -> float | None:
    """Return the greatest beam over the chines between two stations [mm], None without a chine."""
    beams = []
    for station in np.linspace(bow_mm + 0.3 * (last_mm - bow_mm), last_mm, 15):
        chine = chine_at(slices, float(station), center_mm)
        if chine is not None:
            beams.append(2.0 * chine.half_breadth_mm)
    return max(beams, default=None)


def _lower_half(slices: Slices, station_mm: float, center_mm: float) -> FloatArray | None:
    """Return the section's starboard outline from keel to the top, shape (k, 2): breadth, z."""
    chains = [chain[:, 1:] - [center_mm, 0.0] for chain in chained(slices.at(station_mm))]
    if not chains:
        return None
    outline = max(chains, key=lambda c: abs(loop_area(c)))
    if loop_area(outline) < 0.0:
        outline = outline[::-1]
    keel = int(np.lexsort((np.abs(outline[:, 0]), outline[:, 1]))[0])
    outline = np.roll(outline, -keel, axis=0)
    top = int(np.argmax(outline[:, 1]))
    half: FloatArray = outline[: top + 1]
    return half if len(half) > 2 and half[:, 0].max() > 0.0 else None


def _direction(vectors: FloatArray) -> FloatArray:
    """Return the angle of each vector to the level [rad]."""
    angles: FloatArray = np.arctan2(vectors[:, 1], vectors[:, 0])
    return angles
