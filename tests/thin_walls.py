"""Boxes as they are printed: walls of 2 mm, open where segments meet, with holes cut into them."""

import numpy as np

LENGTH, BEAM, HEIGHT, WALL = 600.0, 100.0, 80.0, 2.0
CUT = 200.0
HATCH = ((250.0, -30.0, 70.0), (370.0, 30.0, 90.0))
BOTTOM = ((100.0, -20.0, -5.0), (160.0, 20.0, 5.0))
SLOT = ((100.0, 40.0, 50.0), (130.0, 60.0, 60.0))
"""The corners of a hatch in the deck, a hole in the bottom and a slot in the starboard side [mm]"""


def block(low, high):
    """Return a box between two corners as a solid."""
    from manifold3d import Manifold

    return Manifold.cube(np.subtract(high, low).tolist()).translate(list(low))


def wall(start=0.0, stop=LENGTH, *, holes=(), fore=True, aft=True, at=(0.0, 0.0, 0.0)):
    """Return the wall of a box between two stations, its bow or stern open where it is told so."""
    half = 0.5 * BEAM
    outside = block((start, -half, 0.0), (stop, half, HEIGHT))
    inside = block(
        (start + (WALL if fore else -1.0), WALL - half, WALL),
        (stop - (WALL if aft else -1.0), half - WALL, HEIGHT - WALL),
    )
    made = outside - inside
    for low, high in holes:
        made -= block(low, high)
    mesh = made.translate(list(at)).to_mesh64()
    return np.asarray(mesh.vert_properties)[:, :3][np.asarray(mesh.tri_verts).astype(np.int64)]


def segments(*, holes=(HATCH,), gap_mm=0.0):
    """Return the walls of nose and tail, which meet at station 200."""
    nose = wall(0.0, CUT, aft=False, holes=holes)
    return {"nose": nose, "tail": wall(CUT + gap_mm, LENGTH, fore=False, holes=holes)}


def finer(triangles, times=4):
    """Return triangles halved along every edge, as often as told."""
    for _ in range(times):
        a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
        ab, bc, ca = (a + b) / 2, (b + c) / 2, (c + a) / 2
        corners = ((a, ab, ca), (ab, b, bc), (ca, bc, c), (ab, bc, ca))
        triangles = np.concatenate([np.stack(three, axis=1) for three in corners])
    return triangles


def outline_toml(box):
    """Return the four corners of a box's middle plane as TOML."""
    (x0, y0, z0), (x1, y1, z1) = box
    z = 0.5 * (z0 + z1)
    return repr([[x0, y0, z], [x1, y0, z], [x1, y1, z], [x0, y1, z]])
