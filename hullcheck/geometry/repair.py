"""The few repairs that are made, each reported; whatever else is wrong is refused by name."""

from itertools import pairwise

import numpy as np

from hullcheck.errors import SurfaceError
from hullcheck.geometry.areas import surface_area_mm2
from hullcheck.geometry.arrays import BoolArray, FloatArray, IntArray
from hullcheck.geometry.rims import OpenSurfaceError, Rim, rim_of, rims
from hullcheck.geometry.topology import Mesh, edge_keys, edges_match, loops, unmatched_edges

WELD_MM = 1e-4
HOLE_EDGES = 8
HOLE_AREA_SHARE = 1e-4
_FLAT_MM = 0.02


def repaired(name: str, mesh: Mesh) -> tuple[Mesh, tuple[str, ...]]:
    """Return a mesh whose edges all match, and a sentence for each thing that was done to it.

    Parameters
    ----------
    name : str
        What the surface is called in messages.
    mesh : Mesh
        Triangles by corner number, body axes [mm].

    Returns
    -------
    Mesh, tuple of str

    Raises
    ------
    OpenSurfaceError
        If it is still open after that.
    SurfaceError
        If triangles contradict each other about which side is outside.

    Notes
    -----
    Done, in this order, only as far as needed: triangles with two equal corners and triangles given
    twice are dropped; points of unmatched edges that lie within 0.0001 mm of each other are made
    one; flat holes of at most 8 edges are filled, if all of them together are at most 0.01 % of the
    surface.
    """
    done: list[str] = []
    mesh = _kept(name, mesh, ~_collapsed(mesh), "of zero area", done)
    mesh = _kept(name, mesh, _first_of_each(mesh), "given twice", done)
    for step in (_welded, _filled):
        if edges_match(mesh):
            break
        mesh = step(name, mesh, done)
    if not edges_match(mesh):
        raise _refusal(name, mesh)
    return mesh, tuple(done)


def welded_and_unique(mesh: Mesh) -> tuple[Mesh, tuple[str, ...]]:
    """Return a mesh of any kind with nothing in it twice, and a clause for each thing done.

    Points of unmatched edges within 0.0001 mm of each other are made one; triangles of no area and
    all but the first of those with the same three corners, whatever their facing, are dropped.
    """
    done: list[str] = []
    if not edges_match(mesh):
        mesh = _welded("", mesh, done)
    keep = ~_collapsed(mesh)
    mesh = _kept("", mesh, keep, "of zero area", done)
    corners = np.sort(mesh.faces, axis=1)
    _, first, counts = np.unique(corners, axis=0, return_index=True, return_counts=True)
    if (counts > 1).any() and not edges_match(mesh):
        alone = np.zeros(len(corners), dtype=bool)
        alone[first] = True
        mesh = _kept("", mesh, alone, "given twice", done)
    return mesh, tuple(sentence.removeprefix(": ") for sentence in done)


def _kept(name: str, mesh: Mesh, keep: BoolArray, reason: str, done: list[str]) -> Mesh:
    """Return the mesh with only the faces to keep, noting how many went."""
    gone = int(np.count_nonzero(~keep))
    if gone == 0:
        return mesh
    if gone == len(keep):
        raise SurfaceError(f"{name}: every triangle has zero area")
    count = "1 triangle" if gone == 1 else f"{gone} triangles"
    done.append(f"{name}: dropped {count} {reason}")
    return Mesh(points=mesh.points, faces=mesh.faces[keep])


def _collapsed(mesh: Mesh) -> BoolArray:
    """Return which faces have two equal corners: their edges cancel, so dropping opens nothing."""
    a, b, c = mesh.faces.T
    collapsed: BoolArray = (a == b) | (b == c) | (c == a)
    return collapsed


def _first_of_each(mesh: Mesh) -> BoolArray:
    """Return which faces are the first with their three corners in their sense of rotation."""
    turn = mesh.faces.argmin(axis=1)[:, None]
    rotated = np.take_along_axis(mesh.faces, (np.arange(3) + turn) % 3, axis=1)
    first = np.zeros(len(rotated), dtype=bool)
    first[np.unique(rotated, axis=0, return_index=True)[1]] = True
    return first


def _welded(name: str, mesh: Mesh, done: list[str]) -> Mesh:
    """Return the mesh with near-coincident points of unmatched edges made one."""
    from scipy.spatial import cKDTree

    loose = np.unique(unmatched_edges(mesh))
    pairs = cKDTree(mesh.points[loose]).query_pairs(WELD_MM, output_type="ndarray")
    if len(pairs) == 0:
        return mesh
    target = np.arange(len(mesh.points))
    for one, two in loose[np.sort(pairs, axis=1)].tolist():
        target[two] = target[one]
    moved = int(np.count_nonzero(target != np.arange(len(target))))
    done.append(f"{name}: joined {moved} corners that lay within {WELD_MM} mm of another")
    mesh = Mesh(points=mesh.points, faces=target[mesh.faces])
    return Mesh(points=mesh.points, faces=mesh.faces[~_collapsed(mesh)])


def _filled(name: str, mesh: Mesh, done: list[str]) -> Mesh:
    """Return the mesh with its small flat holes filled; as it was if one is not small."""
    chains = loops(unmatched_edges(mesh))
    holes = [rim_of(mesh.points[chain]) for chain in chains]
    total = surface_area_mm2(mesh.triangles)
    small = all(
        3 <= len(hole.points_mm) <= HOLE_EDGES and hole.flatness_mm <= _FLAT_MM for hole in holes
    )
    if not small or sum(hole.area_mm2 for hole in holes) > HOLE_AREA_SHARE * total:
        return mesh
    fans = [_fan(chain) for chain in chains]
    done.extend(
        f"{name}: filled a hole of {len(hole.points_mm)} edges, {hole.area_mm2:.3g} mm², "
        f"at {hole.place()}"
        for hole in holes
    )
    return Mesh(points=mesh.points, faces=np.concatenate([mesh.faces, *fans]))


def _fan(chain: IntArray) -> IntArray:
    """Return triangles over a flat chain, wound against its edges."""
    return np.array([(chain[0], b, a) for a, b in pairwise(chain[1:])])


def _refusal(name: str, mesh: Mesh) -> SurfaceError:
    """Return why a mesh whose edges do not match cannot be used."""
    turned = _contradicting(mesh)
    if turned is not None:
        x, y, z = turned
        return SurfaceError(
            f"{name}: triangles contradict each other about which side is outside, first near "
            f"({x:.1f}, {y:.1f}, {z:.1f}) mm; turn all of them outward in the CAD program "
            "(recalculate normals) and export again"
        )
    found = rims(mesh)
    widest = found[0]
    return OpenSurfaceError(
        f"{name} is open: {_rims_in_words(found)}, the widest at {widest.place()}; an open part "
        "(a print segment with open ends, or a single-wall sheet) encloses no volume. Export the "
        "outer skin as one closed mesh",
        found,
    )


def _rims_in_words(found: tuple[Rim, ...]) -> str:
    """Return how many rims there are."""
    return "1 rim" if len(found) == 1 else f"{len(found)} rims"


def _contradicting(mesh: Mesh) -> FloatArray | None:
    """Return the middle of an edge that two triangles run along the same way, if there is one."""
    forward, backward = edge_keys(mesh)
    keys, counts = np.unique(forward, return_counts=True)
    twice = keys[counts == 2]
    alone = twice[~np.isin(twice, backward)]
    if len(alone) == 0:
        return None
    start, end = divmod(int(alone[0]), len(mesh.points))
    middle: FloatArray = 0.5 * (mesh.points[start] + mesh.points[end])
    return middle
