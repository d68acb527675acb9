"""Bodies whose volume is known in closed form, as triangles; run it to write some of them as STL.

Axes, mm: x aft, y to starboard, z up. Every function returns (n, 3, 3) float corner points of a
closed skin that faces outward, with no triangle without area. Where a body is round, its facets
are inscribed and the docstring gives the volume of the polyhedron itself.
"""

from pathlib import Path

import numpy as np
from loft import FloatArray, both_sides, loft, on_grid, rise_per_mm
from stl_bytes import stl_bytes

Point = tuple[float, float, float]

_ORIGIN: Point = (0.0, 0.0, 0.0)


def box(
    *, length_mm: float, beam_mm: float, height_mm: float, origin_mm: Point = _ORIGIN
) -> FloatArray:
    """Return a box's 12 triangles, in mm; its volume is length × beam × height.

    The origin is the middle of the bottom's forward edge.
    """
    _refuse_flat(length_mm, beam_mm, height_mm)
    half = 0.5 * beam_mm
    section = [(-half, 0.0), (half, 0.0), (half, height_mm), (-half, height_mm)]
    return _extruded(np.array(section), length_mm) + np.array(origin_mm)


def prism(
    *, length_mm: float, beam_mm: float, height_mm: float, origin_mm: Point = _ORIGIN
) -> FloatArray:
    """Return the 8 triangles of a wedge, apex down, in mm; volume length × beam × height / 2.

    The origin is the apex at the forward end: the keel runs aft from it, the top is flat.
    """
    _refuse_flat(length_mm, beam_mm, height_mm)
    section = [(0.0, 0.0), (0.5 * beam_mm, height_mm), (-0.5 * beam_mm, height_mm)]
    return _extruded(np.array(section), length_mm) + np.array(origin_mm)


def cylinder(
    *,
    diameter_mm: float,
    length_mm: float,
    facets: int = 96,
    upright: bool = False,
    origin_mm: Point = _ORIGIN,
) -> FloatArray:
    """Return a cylinder's 4 × facets triangles, in mm, lying along x or standing along z.

    The origin is the middle of the forward end, or of the bottom when upright. The ends are regular
    polygons in the circle of the diameter, a corner at the lowest point (upright: aft).
    Volume of the polyhedron, r the radius and n the facets: (n/2) r² sin(2π/n) × length.
    """
    _refuse_flat(diameter_mm, length_mm)
    ring = _circle(facets) * (0.5 * diameter_mm)
    if upright:
        low = np.column_stack([ring, np.zeros(facets)])
        along = np.array([0.0, 0.0, length_mm])
    else:
        low = np.column_stack([np.zeros(facets), ring[:, 1], -ring[:, 0]])
        along = np.array([length_mm, 0.0, 0.0])
    ends = np.zeros_like(low), np.broadcast_to(along, low.shape)
    return _around(np.stack([ends[0], low, low + along, ends[1]])) + np.array(origin_mm)


def cone(
    *, diameter_mm: float, height_mm: float, facets: int = 96, origin_mm: Point = _ORIGIN
) -> FloatArray:
    """Return a cone's 2 × facets triangles, in mm, axis upright and apex down at the origin.

    The top is a regular polygon in the circle of the diameter, a corner aft. Volume of the
    polyhedron, r the radius and n the facets: (n/6) r² sin(2π/n) × height.
    """
    _refuse_flat(diameter_mm, height_mm)
    ring = _circle(facets) * (0.5 * diameter_mm)
    top = np.column_stack([ring, np.full(facets, height_mm)])
    middle = np.broadcast_to([0.0, 0.0, height_mm], top.shape)
    return _around(np.stack([np.zeros_like(top), top, middle])) + np.array(origin_mm)


def sphere(
    *, diameter_mm: float, facets: int = 64, bands: int = 32, origin_mm: Point = _ORIGIN
) -> FloatArray:
    """Return the 2 × facets × (bands − 1) triangles of a sphere about the origin, in mm.

    `facets` meridians and `bands` bands of latitude, of equal angle, the poles at top and bottom.
    The four corners of a panel lie in one plane, so each band is a frustum of a regular pyramid.
    Volume of the polyhedron, r_k and z_k a parallel's radius and height, n the facets:
    Σ (z_{k+1} − z_k)/3 × (n/2) sin(2π/n) × (r_k² + r_k r_{k+1} + r_{k+1}²).
    """
    _refuse_flat(diameter_mm)
    polar = np.pi * np.arange(bands + 1) / bands
    radius, height = 0.5 * diameter_mm * np.sin(polar), -0.5 * diameter_mm * np.cos(polar)
    radius[[0, -1]] = 0.0
    across = _circle(facets)[None] * radius[:, None, None]
    up = np.broadcast_to(height[:, None, None], (bands + 1, facets, 1))
    return _around(np.concatenate([across, up], axis=2)) + np.array(origin_mm)


def parabolic_hull(
    *,
    length_mm: float,
    beam_mm: float,
    draft_mm: float,
    freeboard_mm: float = 0.0,
    columns: int = 64,
    rows: int = 32,
    origin_mm: Point = _ORIGIN,
) -> FloatArray:
    """Return a hull of parabolic waterlines and sections, in mm, wall-sided above its waterline.

    y = ±(B/2)(1 − (2x/L)²)(1 − (z/T)²) for −T ≤ z ≤ 0, with L the length, B the beam, T the draft;
    from there straight up to z = `freeboard_mm`, under a flat deck. The origin is amidships on the
    waterline. Volume below the waterline (4/9) L B T, and (2/3) L B × freeboard above it, less what
    the inscribed facets cut off, which falls fourfold each time columns and rows are doubled.

    Parameters
    ----------
    columns : int
        Panels along the length; even, so that forebody and afterbody are mirror images.
    rows : int
        Panels between keel and waterline.

    Raises
    ------
    ValueError
        If `columns` is odd, or a size is not above zero.
    """
    _refuse_flat(length_mm, beam_mm, draft_mm)
    if columns % 2:
        raise ValueError(f"columns is {columns}; give an even number, so that both ends are alike")
    along = np.arange(-columns, columns + 1, 2) / columns
    up = np.arange(-rows, 1) / rows
    breadth = 0.5 * beam_mm * np.outer(1.0 - along**2, 1.0 - up**2)
    height = draft_mm * up
    if freeboard_mm > 0:
        breadth = np.hstack([breadth, breadth[:, -1:]])
        height = np.append(height, freeboard_mm)
    x = np.broadcast_to(0.5 * length_mm * along[:, None], breadth.shape)
    z = np.broadcast_to(height, breadth.shape)
    side = np.stack([x, breadth, z], axis=-1)
    deck = np.stack([side[:, -1], side[:, -1] * np.array([1.0, 0.0, 1.0])], axis=1)
    half = columns // 2
    # The other diagonal would lay a triangle flat on the center plane where stem meets keel.
    ahead = [loft(part[: half + 1], rising=True) for part in (side, deck)]
    abaft = [loft(part[half:], rising=False) for part in (side, deck)]
    return both_sides(np.concatenate(ahead + abaft)) + np.array(origin_mm)


def stepped_box(
    *,
    length_mm: float,
    beam_mm: float,
    height_mm: float,
    step_station_mm: float,
    step_depth_mm: float,
    deadrise_deg: float = 0.0,
    forebody_keel_deg: float = 0.0,
    afterbody_keel_deg: float = 0.0,
    origin_mm: Point = _ORIGIN,
) -> FloatArray:
    """Return the triangles of a wall-sided hull with a V bottom and a step, in mm.

    The origin is below the bow at the height of the forebody keel's corner at the step. The keel
    rises forward from that corner at `forebody_keel_deg` and, from `step_depth_mm` above it, aft at
    `afterbody_keel_deg`, both against x. Bow and stern are upright, the deck flat at `height_mm`.
    Volume, with x_s the step's station, d its depth, a = tan(forebody), c = tan(afterbody),
    b = tan(deadrise): B [(H − b B/4) L − a x_s²/2 − d (L − x_s) − c (L − x_s)²/2].

    Raises
    ------
    ValueError
        If the step does not lie inside the length, a chine would come above the deck, or a size is
        not above zero.
    """
    _refuse_flat(length_mm, beam_mm, height_mm, step_depth_mm)
    if not 0.0 < step_station_mm < length_mm:
        raise ValueError(f"the step at {step_station_mm} mm is not between 0 and {length_mm} mm")
    half, after = 0.5 * beam_mm, length_mm - step_station_mm
    up = half * rise_per_mm(deadrise_deg)
    keels = [
        step_station_mm * rise_per_mm(forebody_keel_deg),
        0.0,
        step_depth_mm,
        step_depth_mm + after * rise_per_mm(afterbody_keel_deg),
    ]
    if max(keels) + up >= height_mm:
        raise ValueError(
            f"a chine at {max(keels) + up:.6g} mm is not below the {height_mm} mm deck"
        )
    stations = [0.0, step_station_mm, step_station_mm, length_mm]
    keel = np.array([(x, 0.0, z) for x, z in zip(stations, keels, strict=True)])
    chine = keel + np.array([0.0, half, up])
    edge = np.array([(x, half, height_mm) for x in (0.0, step_station_mm, length_mm)])
    return both_sides(_stepped_side(keel, chine, edge)) + np.array(origin_mm)


def _stepped_side(keel: FloatArray, chine: FloatArray, edge: FloatArray) -> FloatArray:
    """Return a stepped box's starboard half: keel and chine (4, 3), deck edge (3, 3)."""
    middle = edge * np.array([1.0, 0.0, 1.0])
    faces = [
        [keel[0], chine[0], chine[1], keel[1]],
        [keel[1], chine[1], chine[2], keel[2]],
        [keel[2], chine[2], chine[3], keel[3]],
        [edge[0], edge[1], chine[2], chine[1], chine[0]],
        [edge[1], edge[2], chine[3], chine[2]],
        [edge[0], middle[0], middle[1], edge[1]],
        [edge[1], middle[1], middle[2], edge[2]],
        [middle[0], edge[0], chine[0], keel[0]],
        [edge[2], middle[2], keel[3], chine[3]],
    ]
    return np.concatenate([_fan(np.array(face)) for face in faces])


def _refuse_flat(*sizes_mm: float) -> None:
    """Refuse a body with a size that is not above zero."""
    if not min(sizes_mm) > 0.0:
        raise ValueError(f"a size of {min(sizes_mm)} mm was given; a body needs sizes above 0 mm")


def _circle(facets: int) -> FloatArray:
    """Return the corners (facets, 2) of a regular polygon in the unit circle, counterclockwise."""
    angle = 2.0 * np.pi * np.arange(facets) / facets
    ring = np.column_stack([np.cos(angle), np.sin(angle)])
    return np.where(np.abs(ring) < 1e-15, 0.0, ring)


def _around(rings: FloatArray) -> FloatArray:
    """Return the triangles between rings (rings, facets, 3) that turn counterclockwise going up."""
    return loft(np.concatenate([rings, rings[:, :1]], axis=1))


def _fan(corners: FloatArray) -> FloatArray:
    """Return the triangles of a convex face from its corners (n, 3), all from the first one."""
    return np.stack([np.broadcast_to(corners[0], corners[2:].shape), corners[1:-1], corners[2:]], 1)


def _extruded(section: FloatArray, length_mm: float) -> FloatArray:
    """Return the triangles of a body of one section (n, 2), counterclockwise in (y, z), along x."""
    forward = np.column_stack([np.zeros(len(section)), section])
    aft = forward + np.array([length_mm, 0.0, 0.0])
    sides = [
        _fan(np.array([forward[i - 1], forward[i], aft[i], aft[i - 1]]))
        for i in range(len(section))
    ]
    return np.concatenate([_fan(forward[::-1]), _fan(aft), *sides])


def files() -> dict[str, bytes]:
    """Return the files, their bytes by name; the proof ones are for a printer."""
    wedge = prism(length_mm=240.0, beam_mm=96.0, height_mm=64.0)
    proof = {"length_mm": 80.0, "beam_mm": 50.0, "height_mm": 30.0}
    bodies = {
        "box": ("240 x 96 x 64 mm", box(length_mm=240.0, beam_mm=96.0, height_mm=64.0)),
        "wedge": ("240 x 96 x 64 mm, apex down", wedge),
        "cylinder": (
            "diameter 80, length 240 mm, 96 facets, lying",
            cylinder(diameter_mm=80.0, length_mm=240.0),
        ),
        "sphere": ("diameter 100 mm, 64 facets, 32 bands", sphere(diameter_mm=100.0)),
        "proof_box": ("80 x 50 x 30 mm", box(**proof)),
        "proof_wedge": ("80 x 50 x 30 mm, apex down", prism(**proof)),
    }
    return {
        f"{name}.stl": stl_bytes(on_grid(triangles), f"{name}: {size}")
        for name, (size, triangles) in bodies.items()
    }


if __name__ == "__main__":
    for name, content in files().items():
        Path(__file__).with_name(name).write_bytes(content)
        print(f"{name}: {(len(content) - 84) // 50} triangles, {len(content)} bytes")
