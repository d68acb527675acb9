"""Makes the demo craft "Tarnwing 90": the hull and tip floats, as binary STL beside this file.

An invented flying boat of 900 mm span and 690 g all-up, her CG at (252, 0, 31). Body axes, mm: x
aft from the datum at the bow, y to starboard, z up from the keel at the step. Run it to write the
files again; the same bytes come out each time.
"""

from pathlib import Path

import numpy as np
from loft import (
    FloatArray,
    both_sides,
    bow_curve,
    cubic,
    loft,
    mirrored,
    on_grid,
    quarter,
    rise_per_mm,
)
from stl_bytes import stl_bytes

HULL_LENGTH_MM = 624.0
BEAM_MM = 108.0
FULLEST_STATION_MM = 225.0
STEP_STATION_MM = 265.0
STEP_DEPTH_MM = 11.0
DEADRISE_DEG = 16.0  # at the step, and all along the afterbody
FOREBODY_KEEL_DEG = 2.5  # rising forward from the step, against body x
AFTERBODY_KEEL_DEG = 4.4  # rising aft from the step, against body x
STERNPOST_STATION_MM = 480.0

FLOAT_LENGTH_MM = 142.0
FLOAT_BEAM_MM = 29.0
FLOAT_STATION_MM = 146.0  # of the float's bow
FLOAT_OFFSET_MM = 366.0  # from the craft's center plane to the float's own
FLOAT_KEEL_MM = 42.0  # height of the float's keel below its middle
FLOAT_KEEL_DEG = 2.0  # bow up

_BOW_MM = 65.0  # height of the point where keel, chine and deck meet
_DECK_MM = 76.0
_KEEL_CURVE_MM = 180.0  # ahead of this station the keel leaves its straight line
_CHINE_CURVE_MM = 245.0
_POST_HALF_BREADTH_MM = 27.0  # at the sternpost
_TAIL_ROUND_MM = 16.0  # length over which the tail's end is rounded off
_EDGE = 0.55  # where the side ends and the deck begins, between chine and deck
_BOTTOM, _STEP, _SIDE, _DECK = 12, 3, 5, 14  # panels around half a section
_BEFORE, _ABAFT = _BOTTOM + _STEP, _BOTTOM  # where the step's upper edge lies in a section


def half_breadth_mm(x: FloatArray) -> FloatArray:
    """Return the half-breadth at the chine at stations x, in mm."""
    run, exponent = STERNPOST_STATION_MM - FULLEST_STATION_MM, 2.4
    loss = 0.5 * BEAM_MM - _POST_HALF_BREADTH_MM
    after = np.clip((x - FULLEST_STATION_MM) / run, 0.0, 1.0)
    hull = 0.5 * BEAM_MM * bow_curve(x, FULLEST_STATION_MM, 0.85) - loss * after**exponent
    post = (STERNPOST_STATION_MM, _POST_HALF_BREADTH_MM, -loss * exponent / run)
    boom = cubic(x, post, (HULL_LENGTH_MM, 9.0, -0.02))
    return np.where(x < STERNPOST_STATION_MM, hull, boom)


def forebody_mm(x: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the heights of keel and chine at stations x before the step, in mm."""
    straight = rise_per_mm(FOREBODY_KEEL_DEG) * (STEP_STATION_MM - x)
    height = rise_per_mm(DEADRISE_DEG) * half_breadth_mm(np.maximum(x, FULLEST_STATION_MM))
    left = _BOW_MM - rise_per_mm(FOREBODY_KEEL_DEG) * STEP_STATION_MM
    keel = straight + left * (1.0 - bow_curve(x, _KEEL_CURVE_MM, 2.0 / 3.0))
    lift = np.clip(1.0 - x / _CHINE_CURVE_MM, 0.0, 1.0) ** 2.3
    return keel, straight + height + (left - rise_per_mm(DEADRISE_DEG) * 0.5 * BEAM_MM) * lift


def afterbody_mm(x: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the heights of keel and chine at stations x abaft the step, boom too, in mm."""
    rise = rise_per_mm(AFTERBODY_KEEL_DEG)
    straight = STEP_DEPTH_MM + rise * (x - STEP_STATION_MM)
    at_post = STEP_DEPTH_MM + rise * (STERNPOST_STATION_MM - STEP_STATION_MM)
    boom = cubic(x, (STERNPOST_STATION_MM, at_post, 0.34), (HULL_LENGTH_MM, 80.0, 0.18))
    keel = np.where(x < STERNPOST_STATION_MM, straight, boom)
    return keel, keel + rise_per_mm(DEADRISE_DEG) * half_breadth_mm(x)


def deck_mm(x: FloatArray) -> FloatArray:
    """Return the height of the deck on the center plane at stations x, in mm, without the cabin."""
    forward = _BOW_MM + (_DECK_MM - _BOW_MM) * bow_curve(x, 130.0, 0.55)
    after = cubic(x, (300.0, _DECK_MM, 0.0), (HULL_LENGTH_MM, 99.0, 0.10))
    return np.where(x < 300.0, forward, after)


def cabin_mm(x: FloatArray, y: FloatArray) -> FloatArray:
    """Return how far the cabin stands above the deck, in mm: windshield, wing seat, fairing aft."""
    windshield = cubic(x, (96.0, 0.0, 0.0), (150.0, 1.0, 0.0))
    fairing = cubic(x, (285.0, 1.0, 0.0), (420.0, 0.0, 0.0))
    across = np.clip(1.0 - np.abs(y / 42.0) ** 2.6, 0.0, 1.0) ** 2
    return 24.0 * windshield * fairing * across


def _step_share() -> float:
    """Return where on the side, 0 the fore chine and 1 the deck edge, the after chine meets it."""
    station = np.array([STEP_STATION_MM])
    chine = forebody_mm(station)[1]
    return float((STEP_DEPTH_MM / (_EDGE * (deck_mm(station) - chine)))[0])


def forebody_sections(x: FloatArray) -> FloatArray:
    """Return half sections (stations, points, 3) from the bow to the step."""
    share = _step_share()
    side = [np.linspace(0.0, share, _STEP + 1)[1:], np.linspace(share, 1.0, _SIDE + 1)[1:]]
    keel, chine = forebody_mm(x)
    edge = chine + _EDGE * (deck_mm(x) - chine)
    flare = 1.0 + 0.22 * np.clip(1.0 - x / 200.0, 0.0, 1.0) ** 1.5
    return _sections(x, (keel, chine, edge), flare, np.concatenate(side))


def afterbody_sections(x: FloatArray) -> FloatArray:
    """Return half sections (stations, points, 3) from the step to the end of the tail."""
    keel, chine = afterbody_mm(x)
    past = (x - STEP_STATION_MM) / (STERNPOST_STATION_MM - STEP_STATION_MM)
    unstepped = chine - STEP_DEPTH_MM * np.clip(1.0 - past, 0.0, 1.0)
    edge = unstepped + _EDGE * (deck_mm(x) - unstepped)
    sections = _sections(x, (keel, chine, edge), np.ones_like(x), np.linspace(0, 1, _SIDE + 1)[1:])
    into = np.clip(1.0 - (HULL_LENGTH_MM - x) / _TAIL_ROUND_MM, 0.0, 1.0)
    size = np.sqrt(1.0 - into**2)[:, None]
    middle = 0.5 * (sections[-1, 0, 2] + sections[-1, -1, 2])
    sections[..., 1] *= size
    sections[..., 2] = middle + size * (sections[..., 2] - middle)
    return sections


def _sections(
    x: FloatArray,
    heights: tuple[FloatArray, FloatArray, FloatArray],
    flare: FloatArray,
    side: FloatArray,
) -> FloatArray:
    """Return half sections: keel, chine, up the side by shares of it, over the deck."""
    keel, chine, edge = (height[:, None] for height in heights)
    bottom = np.linspace(0.0, 1.0, _BOTTOM + 1)
    breadth, height = (values[1:] for values in quarter(_DECK, 2.5))
    half, half_edge = half_breadth_mm(x)[:, None], (half_breadth_mm(x) * flare)[:, None]
    over = half_edge * breadth
    top = edge + (deck_mm(x)[:, None] - edge) * height + cabin_mm(x[:, None], over)
    y = np.hstack([half * bottom, half + (half_edge - half) * side, over])
    z = np.hstack([keel + (chine - keel) * bottom, chine + (edge - chine) * side, top])
    return np.stack(np.broadcast_arrays(x[:, None], y, z), axis=-1)


def _stations() -> tuple[FloatArray, FloatArray]:
    """Return the stations before the step and abaft it, in mm, both with the step's own."""
    bow = 48.0 * np.linspace(0.09, 1.0, 23)[:-1] ** 2
    forebody = np.linspace(48.0, STEP_STATION_MM, 53)
    afterbody = np.linspace(STEP_STATION_MM, STERNPOST_STATION_MM, 50)
    end = HULL_LENGTH_MM - _TAIL_ROUND_MM
    boom = np.linspace(STERNPOST_STATION_MM, end, 30)
    tail = end + _TAIL_ROUND_MM * np.sin(np.linspace(0.0, 0.5 * np.pi, 7))
    tail[-1] = HULL_LENGTH_MM
    before = np.concatenate([[0.0], bow, forebody])
    return before, np.concatenate([afterbody[:-1], boom[:-1], tail])


def hull_triangles() -> FloatArray:
    """Return the hull's skin as (n, 3, 3) corner points in mm, closed, facing outward."""
    before, abaft = _stations()
    fore = on_grid(forebody_sections(before))
    after = on_grid(afterbody_sections(abaft))
    # The step's face shares its rims with both bodies point for point, or the skin would not close.
    up = np.linspace(0.0, 1.0, _STEP + 1)[:, None, None]
    face = on_grid(fore[-1, : _BOTTOM + 1] * (1.0 - up) + after[0, : _BOTTOM + 1] * up)
    face[:, -1] = fore[-1, _BOTTOM : _BEFORE + 1]
    after[0, : _ABAFT + 1], after[0, _ABAFT:] = face[-1], fore[-1, _BEFORE:]
    return both_sides(np.concatenate([loft(fore), loft(face), loft(after)]))


def _float_sections() -> FloatArray:
    """Return half sections of a tip float on its own center plane, the last the transom."""
    along = np.concatenate([0.3 * np.linspace(0.0, 1.0, 17)[:-1] ** 2, np.linspace(0.3, 1.0, 30)])
    ahead, past = np.clip(1.0 - 2.0 * along, 0.0, 1.0), np.clip(2.0 * along - 1.0, 0.0, 1.0)
    half = 0.5 * FLOAT_BEAM_MM * bow_curve(along, 0.5, 0.74) * (1.0 - 0.62 * past**2)
    keel = 17.0 * (1.0 - bow_curve(along, 0.45, 0.625))
    keel += 11.0 * np.clip((along - 0.55) / 0.45, 0.0, 1.0) ** 1.5
    chine = keel + rise_per_mm(22.0) * half + 3.0 * ahead * bow_curve(along, 0.2, 0.83)
    top = 17.0 + 11.0 * bow_curve(along, 0.6, 0.59)
    bottom, (breadth, height) = np.linspace(0.0, 1.0, 7), (v[1:] for v in quarter(10, 2.2))
    keel, chine, half, top = (values[:, None] for values in (keel, chine, half, top))
    y = np.hstack([half * bottom, half * breadth])
    z = np.hstack([keel + (chine - keel) * bottom, chine + (top - chine) * height])
    x = np.broadcast_to(along[:, None] * FLOAT_LENGTH_MM, y.shape)
    z = z - rise_per_mm(FLOAT_KEEL_DEG) * (x - 0.5 * FLOAT_LENGTH_MM)
    sections = np.stack([FLOAT_STATION_MM + x, y, FLOAT_KEEL_MM + z], axis=-1)
    middle = 0.5 * (sections[-1, 0] + sections[-1, -1])
    return np.concatenate([sections, np.broadcast_to(middle, (1, *sections[-1].shape))])


def tip_float_triangles() -> FloatArray:
    """Return a tip float's skin on its own center plane, (n, 3, 3) corner points in mm, outward."""
    return both_sides(loft(on_grid(_float_sections())))


def starboard_float_triangles() -> FloatArray:
    """Return the starboard tip float's skin as (n, 3, 3) corner points in mm, outward."""
    return tip_float_triangles() + np.array([0.0, FLOAT_OFFSET_MM, 0.0])


def port_float_triangles() -> FloatArray:
    """Return the port tip float's skin, the starboard one's mirror image, in mm."""
    return mirrored(starboard_float_triangles())


def files() -> dict[str, bytes]:
    """Return the four files, their bytes by name."""
    axes = "mm, x aft, y starboard, z up"
    return {
        "tarnwing_hull.stl": stl_bytes(hull_triangles(), f"Tarnwing 90 hull: {axes}"),
        "tarnwing_starboard_float.stl": stl_bytes(
            starboard_float_triangles(), f"Tarnwing 90 starboard tip float: {axes}"
        ),
        "tarnwing_tip_float.stl": stl_bytes(
            tip_float_triangles(), f"Tarnwing 90 tip float on its own center plane: {axes}"
        ),
        "tarnwing_port_float.stl": stl_bytes(
            port_float_triangles(), f"Tarnwing 90 port tip float: {axes}"
        ),
    }


if __name__ == "__main__":
    for name, content in files().items():
        Path(__file__).with_name(name).write_bytes(content)
        print(f"{name}: {(len(content) - 84) // 50} triangles, {len(content)} bytes")
