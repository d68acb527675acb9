"""The hull that printed boats are made from: its closed skin, its inside, its cuts and openings.

A curved hull of the Open CASCADE kernel is tessellated and its corners rounded to 32 bits; that is
the closed outer skin. The inside is another tessellation of it, every face moved inward.
"""

from dataclasses import dataclass

import numpy as np
from flying_boat_lines import drawn
from flying_boats import curved_boat
from outside import indexed, required

required("OCP")
manifold3d = required("manifold3d")
from OCP.BRep import BRep_Tool  # noqa: E402
from OCP.BRepMesh import BRepMesh_IncrementalMesh  # noqa: E402
from OCP.BRepTools import BRepTools  # noqa: E402
from OCP.TopAbs import TopAbs_FACE, TopAbs_REVERSED  # noqa: E402
from OCP.TopExp import TopExp_Explorer  # noqa: E402
from OCP.TopLoc import TopLoc_Location  # noqa: E402
from OCP.TopoDS import TopoDS  # noqa: E402

CLEAR_OF_STEP_MM = 4.0
SKIN = manifold3d.Manifold.reserve_ids(1)
"""What provenance knows the triangles of the closed skin by."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Hull:
    """A hull before it is cut: lines, closed triangles, solids of outside and inside."""

    lines: object
    closed: np.ndarray
    outer: object
    inner: object
    wall_mm: float
    waterline_mm: float
    chord_mm: float


def displaced(closed, waterline_mm):
    """Return the volume of a closed skin below a level plane, by manifold3d [mm³]."""
    return volume_below(solid_of(closed), waterline_mm)


def solid_of(triangles, owner=None):
    """Return closed triangles as a manifold3d solid; owner is what provenance knows them by."""
    points, faces = indexed(triangles)
    owner = manifold3d.Manifold.reserve_ids(1) if owner is None else owner
    mesh = manifold3d.Mesh64(
        points,
        faces.astype(np.uint64),
        run_index=np.array([0, 3 * len(faces)], dtype=np.uint64),
        run_original_id=np.array([owner], dtype=np.uint32),
    )
    solid = manifold3d.Manifold(mesh)
    assert solid.status() == manifold3d.Error.NoError, solid.status()
    return solid


def triangles_of(solid, owner=None):
    """Return a solid's triangles; only those that come from the owner where one is given."""
    mesh = solid.to_mesh64()
    triangles = mesh.vert_properties[:, :3][mesh.tri_verts]
    if owner is None:
        return triangles
    ends = np.asarray(mesh.run_index, dtype=np.int64) // 3
    runs = [
        triangles[a:b]
        for a, b, came_from in zip(ends[:-1], ends[1:], mesh.run_original_id, strict=True)
        if came_from == owner
    ]
    return np.concatenate(runs) if runs else np.empty((0, 3, 3))


def volume_below(solid, height_mm):
    """Return a solid's volume below a level plane [mm³]."""
    return solid.trim_by_plane((0.0, 0.0, -1.0), -height_mm).volume()


def as_filed(triangles):
    """Return triangles as 32-bit numbers hold them, without those that collapse to nothing."""
    kept = np.asarray(triangles).astype(np.float32).astype(np.float64)
    same = (kept == np.roll(kept, 1, axis=1)).all(axis=2).any(axis=1)
    return kept[~same]


def hull_drawn(seed, index, rng, fine, wall_mm=None):
    """Return a hull drawn at random; fine keeps every triangle small."""
    lines = drawn(seed, index)
    shape = curved_boat(lines)[0]
    chord = rng.uniform(0.05, 0.2)
    wall = rng.uniform(0.8, 1.5) if wall_mm is None else wall_mm
    closed = _tessellated(shape, chord)
    if fine or rng.uniform() < 0.8:
        closed = _refined(closed, rng)
    outer = solid_of(closed, SKIN)
    # The inside is tessellated otherwise than the outside, as offsets in a CAD program are; only
    # a wall thinner than the chords stray has to follow the outside's own triangles.
    inside = _tessellated(shape, rng.uniform(0.05, 0.2)) if wall > 0.5 else closed
    inner = solid_of(_offset(inside, wall))
    return Hull(
        lines=lines,
        closed=closed,
        outer=outer,
        inner=inner,
        wall_mm=wall,
        waterline_mm=_usual_waterline(outer, rng.uniform(0.28, 0.42)),
        chord_mm=chord,
    )


def _tessellated(shape, chord_mm, angle=0.2):
    """Return the kernel's triangles of a solid, rounded to 32 bits."""
    BRepTools.Clean_s(shape)
    BRepMesh_IncrementalMesh(shape, chord_mm, isRelative=False, theAngDeflection=angle)
    found, pieces = TopExp_Explorer(shape, TopAbs_FACE), []
    while found.More():
        face = TopoDS.Face(found.Current())
        net = BRep_Tool.Triangulation_s(face, TopLoc_Location())
        points = np.array([net.Node(i).Coord() for i in range(1, net.NbNodes() + 1)])
        faces = np.array([net.Triangle(i).Get() for i in range(1, net.NbTriangles() + 1)]) - 1
        if face.Orientation() == TopAbs_REVERSED:
            faces = faces[:, [0, 2, 1]]
        pieces.append(points[faces])
        found.Next()
    return as_filed(np.concatenate(pieces))


def _refined(triangles, rng):
    """Return the same surface in 3,000 to 20,000 triangles, split where they are long."""
    wanted, area = rng.uniform(3000.0, 15000.0), solid_of(triangles).surface_area()
    edge = 1.8 * np.sqrt(area / wanted)
    return as_filed(triangles_of(solid_of(triangles).refine_to_length(edge)))


def _offset(triangles, wall_mm):
    """Return the triangles with every face moved inward by the wall, corners where faces meet."""
    points, faces = indexed(triangles)
    a, b, c = np.moveaxis(points[faces], 1, 0)
    normals = np.cross(b - a, c - a)
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    system, right = np.zeros((len(points), 3, 3)), np.zeros((len(points), 3))
    for corner in range(3):
        here = points[faces[:, corner]]
        u, v = (points[faces[:, (corner + k) % 3]] - here for k in (1, 2))
        angle = np.arctan2(np.linalg.norm(np.cross(u, v), axis=1), np.einsum("ni,ni->n", u, v))
        outer = angle[:, None, None] * normals[:, :, None] * normals[:, None, :]
        np.add.at(system, faces[:, corner], outer)
        np.add.at(right, faces[:, corner], -wall_mm * angle[:, None] * normals)
    moves = np.einsum("nij,nj->ni", np.linalg.pinv(system, rcond=1e-3, hermitian=True), right)
    return (points + moves)[faces]


def _usual_waterline(outer, share):
    """Return the height below which about a share of the volume lies [mm]."""
    low, high = outer.bounding_box()[2], outer.bounding_box()[5]
    whole = outer.volume()
    for _ in range(9):
        middle = 0.5 * (low + high)
        if volume_below(outer, middle) < share * whole:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


# ------------------------------------------------------------------------------- cuts and openings


def cuts_drawn(hull, rng):
    """Return stations of 2 to 5 cuts, clear of step and ends and of each other [mm]."""
    length, step = hull.lines.length, hull.lines.step_station
    count = int(rng.integers(2, 6))
    while True:
        cuts = np.sort(rng.uniform(0.1 * length, 0.92 * length, size=count))
        apart = np.diff(cuts, prepend=0.0, append=length).min()
        if apart > 0.08 * length and np.abs(cuts - step).min() > CLEAR_OF_STEP_MM + 2.0:
            return cuts


def segment_boxes(hull, cuts, gap_mm):
    """Return a box for each segment, from half a gap behind one cut to half before the next."""
    half = 0.5 * gap_mm
    starts = [-50.0, *(cuts + half)]
    stops = [*(cuts - half), hull.lines.length + 50.0]
    return [
        box_between((a, -500.0, -500.0), (b, 500.0, 500.0))
        for a, b in zip(starts, stops, strict=True)
    ]


def box_between(low, high):
    """Return a box as a solid."""
    low, high = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    return manifold3d.Manifold.cube(tuple(high - low)).translate(tuple(low))


def rod_between(start, stop, radius):
    """Return a round rod between two points along an axis, as a solid."""
    start, stop = np.asarray(start, dtype=float), np.asarray(stop, dtype=float)
    length = np.linalg.norm(stop - start)
    rod = manifold3d.Manifold.cylinder(length, radius, circular_segments=24)
    turn = {0: (0.0, 90.0, 0.0), 1: (-90.0, 0.0, 0.0), 2: (0.0, 0.0, 0.0)}
    return rod.rotate(turn[int(np.argmax(stop - start))]).translate(tuple(start))


def canopy_drawn(hull, cuts, rng):
    """Return what cuts the canopy's opening into the deck, and words for it."""
    lines = hull.lines
    size = rng.uniform(60.0, 130.0), rng.uniform(0.3, 0.6) * lines.beam
    for _ in range(50):
        x = rng.uniform(lines.shoulder, lines.step_station)
        clear = np.abs(cuts - x).min() - 0.5 * size[0]
        if clear > 3.0 or rng.uniform() < 0.01:
            break
    floor = max(hull.waterline_mm + 3.0, lines.deck - 12.0)
    words = f"canopy {size[0]:.0f} × {size[1]:.0f} mm at {x:.0f}"
    if rng.uniform() < 0.5:
        half = 0.5 * np.array(size)
        return box_between((x - half[0], -half[1], floor), (x + half[0], half[1], 500.0)), words
    oval = manifold3d.Manifold.cylinder(500.0, 0.5, circular_segments=64)
    return oval.scale((*size, 1.0)).translate((x, 0.0, floor)), "oval " + words


def station_clear(cuts, low, high, radius, rng):
    """Return a station for a small opening, clear of every cut [mm]."""
    for _ in range(200):
        x = rng.uniform(low, high)
        if np.abs(cuts - x).min() > radius + 5.0:
            return x
    raise AssertionError("no room for an opening between the cuts")


def _small_openings(hull, cuts, rng):
    """Return what cuts one or two small openings above the water, and words for each."""
    lines, found = hull.lines, []
    for choice in rng.choice(["side", "deck", "bow"], size=int(rng.integers(1, 3)), replace=False):
        radius = rng.uniform(2.0, 5.0)
        if choice == "side":
            low, high = hull.waterline_mm + radius + 3.0, lines.deck - radius - 3.0
            if low > high:
                continue
            x, z = (
                station_clear(cuts, lines.shoulder, lines.length * 0.8, radius, rng),
                0.5 * (low + high),
            )
            side = 1.0 if rng.uniform() < 0.5 else -1.0
            ends = sorted([0.2 * side * lines.beam * lines.stern_beam_share, 400.0 * side])
            rod = rod_between((x, ends[0], z), (x, ends[1], z), radius)
        elif choice == "deck":
            x = station_clear(cuts, lines.step_station + 10.0, lines.length * 0.85, radius, rng)
            y = rng.uniform(-0.3, 0.3) * lines.beam * lines.stern_beam_share
            floor = max(lines.deck - 6.0, hull.waterline_mm + 3.0)
            rod = rod_between((x, y, floor), (x, y, 500.0), radius)
        else:
            radius = min(radius, 0.04 * lines.beam)
            x, z = 0.0, 0.86 * lines.deck
            if z - radius < hull.waterline_mm + 3.0:
                continue
            rod = rod_between((-20.0, 0.0, z), (8.0, 0.0, z), radius)
        found.append((rod, f"{choice} hole ⌀{2.0 * radius:.1f} at {x:.0f}"))
    return found


def _bottom_hole(hull, cuts, rng):
    """Return what cuts a hole of 3 to 8 mm into the bottom, under water, and words for it."""
    lines, radius = hull.lines, rng.uniform(1.5, 4.0)
    x = station_clear(cuts, lines.shoulder, lines.step_station - 12.0, radius, rng)
    y = rng.choice([-1.0, 1.0]) * rng.uniform(0.3, 0.7) * 0.5 * lines.beam
    z = bottom_height(lines, x, abs(y))
    words = f"bottom hole ⌀{2.0 * radius:.1f} at {x:.0f}"
    return rod_between((x, y, z - 60.0), (x, y, z + 6.0), radius), words


def bottom_height(lines, x, y):
    """Return the height of the forebody's bottom between shoulder and step [mm]."""
    keel = np.tan(np.radians(lines.forebody_keel)) * (lines.step_station - x)
    return keel + y * np.tan(np.radians(lines.deadrise))


def openings_drawn(hull, cuts, rng):
    """Return all openings as one solid to take away, and words for them."""
    found = [canopy_drawn(hull, cuts, rng), *_small_openings(hull, cuts, rng)]
    if rng.uniform() < 0.35:
        found.append(_bottom_hole(hull, cuts, rng))
    solids, words = zip(*found, strict=True)
    return manifold3d.Manifold.batch_boolean(list(solids), manifold3d.OpType.Add), ", ".join(words)
