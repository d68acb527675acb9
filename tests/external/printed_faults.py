"""Printed boats with one thing gravely wrong: what has to be refused, or said by name."""

from dataclasses import replace

import numpy as np
from printed_boats import KINDS, boat_of, printed, thin_wall_parts
from printed_dirt import with_missing
from printed_hull import (
    as_filed,
    bottom_height,
    box_between,
    canopy_drawn,
    cuts_drawn,
    hull_drawn,
    triangles_of,
)

DISPLACED_MM = 5.0
THIN_WALL_MM = 0.03
TORN_MM = (120.0, 60.0)
MISSING_SHARE = 0.05


def faulty(fault, seed, index, *, base=None):
    """Return a printed boat with a fault, drawn at random; the same for the same arguments.

    fault is one of FAULTS; base is K3 or K4 for those that are done to whole segments, drawn where
    left out; the others are thin-wall segments. Segments butt.
    """
    rng = np.random.default_rng((seed, index, len(KINDS) + list(FAULTS).index(fault)))
    make, to_segments = FAULTS[fault]
    if to_segments:
        boat = printed(seed, index, base or str(rng.choice(["K3", "K4"])), gap_mm=0.0)
        broken = make(boat, rng)
    else:
        broken = make(seed, index, rng)
    return replace(broken, fault=fault, described=f"{broken.described}; {fault}")


def segment_missing(boat, rng):
    """Return the boat without one of its segments."""
    number = int(rng.integers(len(boat.parts)))
    name, triangles = boat.parts[number]
    kept = boat.parts[:number] + boat.parts[number + 1 :]
    return replace(boat, parts=kept, fault_at=(name, _middle(triangles)))


def displaced_along(boat, rng):
    """Return the boat with one segment shifted 5 mm fore or aft."""
    return _moved(boat, [rng.choice([-DISPLACED_MM, DISPLACED_MM]), 0.0, 0.0], rng)


def displaced_across(boat, rng):
    """Return the boat with one segment shifted 5 mm to a side, up or down."""
    shift = np.zeros(3)
    shift[rng.integers(1, 3)] = rng.choice([-DISPLACED_MM, DISPLACED_MM])
    return _moved(boat, shift, rng)


def upside_down(boat, rng):
    """Return the boat with one segment turned over about a line along x at its middle."""
    number = int(rng.integers(len(boat.parts)))
    corners = boat.parts[number][1].reshape(-1, 3)
    twice = corners.min(axis=0) + corners.max(axis=0)
    return _with_part(boat, number, lambda t: t * [1.0, -1.0, -1.0] + [0.0, twice[1], twice[2]])


def wall_too_thin(seed, index, rng):
    """Return a boat whose wall is 0.03 mm."""
    hull = hull_drawn(seed, index, rng, fine=True, wall_mm=THIN_WALL_MM)
    return _thin_walled(hull, cuts_drawn(hull, rng), rng, f"seed {seed} index {index}")


def bottom_torn_off(seed, index, rng):
    """Return a boat without a piece of 120 × 60 mm of the bottom just ahead of the step."""
    hull = hull_drawn(seed, index, rng, fine=True)
    length, width = TORN_MM
    aft = hull.lines.step_station - 6.0
    half, fore = 0.5 * width, aft - length
    top = min(bottom_height(hull.lines, fore, half) + 6.0, hull.waterline_mm - 1.0)
    piece = box_between((fore, -half, -500.0), (aft, half, top))
    words = f"seed {seed} index {index}, bottom gone from {fore:.0f} to {aft:.0f}"
    boat = _thin_walled(hull, cuts_drawn(hull, rng), rng, words, take=piece)
    place = np.array([0.5 * (fore + aft), 0.0, bottom_height(hull.lines, 0.5 * (fore + aft), 0.0)])
    return replace(boat, fault_at=("", place))


def triangles_missing(boat, rng):
    """Return the boat without 5 % of its triangles."""
    parts = [(n, with_missing(t, round(MISSING_SHARE * len(t)), rng)) for n, t in boat.parts]
    return replace(boat, parts=parts)


def well_in_bottom(seed, index, rng):
    """Return a boat with a well of 30–50 × 18–26 mm that is open at the bottom, ahead of the step.

    `flooded` is her skin with the well open; `closed` has it shut by the bottom's own surface.
    """
    hull = hull_drawn(seed, index, rng, fine=True)
    lines, (length, width) = hull.lines, (rng.uniform(30.0, 50.0), rng.uniform(18.0, 26.0))
    aft = lines.step_station - rng.uniform(10.0, 20.0)
    roof = bottom_height(lines, aft - length, 0.5 * width) + rng.uniform(12.0, 20.0)
    low, high = (aft - length, -0.5 * width, -500.0), (aft, 0.5 * width, roof)
    return _with_well(hull, low, high, rng, f"seed {seed} index {index}")


def well_in_deck(seed, index, rng):
    """Return a boat with a well of 40–60 × 20–28 mm open at the deck, its floor under water.

    `flooded` is her skin with the well open; `closed` has it shut by the deck's own surface.
    """
    hull = hull_drawn(seed, index, rng, fine=True)
    lines, (length, width) = hull.lines, (rng.uniform(40.0, 60.0), rng.uniform(20.0, 28.0))
    fore = lines.step_station + rng.uniform(8.0, 16.0)
    bottom = bottom_height(lines, lines.step_station, 0.5 * width) + lines.step_depth
    bottom += np.tan(np.radians(lines.afterbody_keel)) * (fore + length - lines.step_station)
    floor = min(bottom + 6.0, hull.waterline_mm - 2.0)
    low, high = (fore, -0.5 * width, floor), (fore + length, 0.5 * width, 500.0)
    return _with_well(hull, low, high, rng, f"seed {seed} index {index}")


def _with_well(hull, low, high, rng, words):
    """Return a thin-wall boat with a box-shaped well that has walls of its own."""
    low, high, wall = np.array(low), np.array(high), hull.wall_mm
    well = replace(
        hull,
        outer=hull.outer - box_between(low, high),
        inner=hull.inner - box_between(low - wall, high + wall),
    )
    while True:
        cuts = cuts_drawn(hull, rng)
        if ((cuts < low[0] - 6.0) | (cuts > high[0] + 6.0)).all():
            break
    sides = " × ".join(f"{side:.0f}" for side in (high - low)[:2])
    words = f"{words}, well {sides} mm from {low[0]:.0f}"
    # A canopy over a well in the bottom leaves it whole; one over a well in the deck would join it.
    clear_of = (low[0] - 4.0, high[0] + 4.0) if high[2] > hull.lines.deck else (np.inf, np.inf)
    boat = _thin_walled(well, cuts, rng, words, clear_of=clear_of)
    # The end of the well that lies in the skin is beyond the hull: its place is the inner end.
    middle = 0.5 * (low + high)
    middle[2] = high[2] if low[2] < -400.0 else low[2]
    return replace(boat, fault_at=("", middle), flooded=as_filed(triangles_of(well.outer)))


def _thin_walled(hull, cuts, rng, words, *, take=None, clear_of=(np.inf, np.inf)):
    """Return butting thin-wall segments with a canopy opening, clear of a stretch, and no other."""
    while True:
        canopy, canopy_words = canopy_drawn(hull, cuts, rng)
        fore, aft = (canopy.bounding_box()[k] for k in (0, 3))
        if aft < clear_of[0] or fore > clear_of[1]:
            break
    openings = canopy if take is None else canopy + take
    cut = " ".join(f"{x:.1f}" for x in cuts)
    words = f"{words}, wall {hull.wall_mm:.2f} mm, cut at {cut}, {canopy_words}"
    return boat_of(hull, "K3", thin_wall_parts(hull, cuts, 0.0, openings), 0.0, words)


def _moved(boat, shift, rng):
    """Return the boat with one segment moved."""
    return _with_part(boat, int(rng.integers(len(boat.parts))), lambda t: t + np.asarray(shift))


def _with_part(boat, number, change):
    """Return the boat with one part changed, its number taken down as the fault's place."""
    name, triangles = boat.parts[number]
    changed = as_filed(change(triangles))
    parts = [*boat.parts[:number], (name, changed), *boat.parts[number + 1 :]]
    words = f"{boat.described}; {name} of {len(parts)}"
    return replace(boat, parts=parts, fault_at=(name, _middle(changed)), described=words)


def _middle(triangles):
    """Return the middle of the box around triangles [mm]."""
    corners = triangles.reshape(-1, 3)
    return 0.5 * (corners.min(axis=0) + corners.max(axis=0))


FAULTS = {
    "segment missing": (segment_missing, True),
    "segment displaced along x": (displaced_along, True),
    "segment displaced across": (displaced_across, True),
    "segment upside down": (upside_down, True),
    "wall of 0.03 mm": (wall_too_thin, False),
    "bottom torn off": (bottom_torn_off, False),
    "5 % of the triangles missing": (triangles_missing, True),
    "well in the bottom": (well_in_bottom, False),
    "well in the deck": (well_in_deck, False),
}
"""What makes each fault, and whether it is done to a boat's segments."""
