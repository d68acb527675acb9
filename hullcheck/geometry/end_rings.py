"""End rings: the flat ends of parts in any position, and how well two of them fit."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.geometry.areas import areas_mm2
from hullcheck.geometry.arrays import FloatArray, IntArray
from hullcheck.geometry.topology import merged

if TYPE_CHECKING:
    from shapely import Polygon

_FLAT_MM: Final = 0.02
"""Off the plane of a flat end: far above the rounding of files, far below a layer of print."""
_LEAST_MM: Final = 6.0
_LEAST_SHARE: Final = 0.002
"""Of the surface of the part's convex hull: smaller flats are facets of a curved surface."""
_COVERED: Final = 0.5
"""Of the circumference of an end: so much must be material, or a mere plane touches the part."""
_HOLLOW_SHARE: Final = 0.5
"""An end with less material than this share of its outline's convex hull is open."""
_SQUARE: Final = math.radians(0.05)
_TOUCH_MM: Final = 0.5
_SEAM_MM: Final = 4.0
_TAPER: Final = 0.5
"""Across a seam an outline may change by this share of the gap: a hull tapers."""
_BINS: Final = 720
_STARTS: Final = 6
_REACH: Final = math.radians(1.5)
_NEAR_MM: Final = 3.0
"""Radial profiles further apart than this (root mean square) are not fitted more closely."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class EndRing:
    """A flat end of a part: its plane, its outline there, and how deep the part is behind it.

    The center is the outline's centroid in file axes; the frame's columns are two directions in
    the plane and the normal away from the part; the outline is filled, its centroid at the origin
    [mm]; hollow is the rim of a tube or of a surface without thickness.
    """

    part: int
    center_mm: FloatArray
    frame: FloatArray
    outline: "Polygon"
    hollow: bool
    depth_mm: float

    @property
    def normal(self) -> FloatArray:
        """Unit normal away from the part, shape (3,)."""
        return np.asarray(self.frame[:, 2])

    @property
    def ends_a_tube(self) -> bool:
        """Whether it is open and the part deep behind it: a segment, and no lid or tray."""
        return self.hollow and self.depth_mm > 0.3 * math.sqrt(self.outline.area)

    def size(self) -> str:
        """Return length and width of the least box around it, such as "96 × 70 mm"."""
        import shapely

        box = np.array(shapely.oriented_envelope(self.outline).exterior.coords)
        sides = sorted(np.linalg.norm(np.diff(box[:3], axis=0), axis=1).tolist())
        return f"{sides[1]:.3g} × {sides[0]:.3g} mm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """How one outline lies on another: turned by an angle [rad], at most so far from it [mm]."""

    angle: float
    residual_mm: float


def rings_of(part: int, triangles_mm: FloatArray) -> list[EndRing]:
    """Return the flat ends of a part, whichever way they face.

    Parameters
    ----------
    part : int
        Its number.
    triangles_mm : ndarray, shape (n, 3, 3)
        In its file's axes [mm]; how triangles face is not used.

    Returns
    -------
    list of EndRing
        Flat faces and rims, a flat deck too; none that something reaches past (a tongue, a pin).
    """
    import shapely.affinity

    mesh = merged(triangles_mm)
    points = mesh.points[np.unique(mesh.faces)]
    if len(points) < 4 or float(np.ptp(points @ _normal_of(points))) < 10.0 * _FLAT_MM:
        return []
    found = []
    for normal, level in _planes(points):
        on_plane = np.abs(mesh.points @ normal - level) <= _FLAT_MM
        corners = on_plane[mesh.faces].sum(axis=1)
        faces, edges = mesh.faces[corners == 3], _free_edges(mesh.faces[corners >= 2])
        edges = edges[on_plane[edges].all(axis=1)]
        across = np.linalg.svd(normal[None])[2][1]
        frame = np.column_stack((across, np.cross(normal, across), normal))
        flat = mesh.points @ frame[:, :2]
        outline, hollow = _outline(flat[faces], flat[edges])
        if outline.is_empty:
            continue
        middle = np.array(outline.centroid.coords[0])
        ring = EndRing(
            part=part,
            center_mm=frame[:, :2] @ middle + level * normal,
            frame=frame,
            outline=shapely.affinity.translate(outline, *-middle),
            hollow=hollow,
            depth_mm=float(np.ptp(points @ normal)),
        )
        found.append(ring)
    return found


def _normal_of(points: FloatArray) -> FloatArray:
    """Return the unit normal of the plane nearest to points."""
    return np.asarray(np.linalg.svd(points - points.mean(axis=0), full_matrices=False)[2][2])


def _free_edges(faces: IntArray) -> IntArray:
    """Return the edges of one triangle alone, shape (k, 2); a triangle filed twice is one."""
    once = np.unique(np.sort(faces, axis=1), axis=0)
    edges = np.concatenate((once[:, :2], once[:, 1:], once[:, ::2]))
    edges, counts = np.unique(edges, axis=0, return_counts=True)
    return np.asarray(edges[counts == 1], dtype=np.int64)


def _planes(points: FloatArray) -> Iterator[tuple[FloatArray, float]]:
    """Return the planes of the flats of a part's convex hull, unit normal and level, each once."""
    from scipy.spatial import ConvexHull

    hull = ConvexHull(points)
    corners, areas = points[hull.vertices], areas_mm2(points[hull.simplices])
    labels = np.unique(np.round(hull.equations, 2), axis=0, return_inverse=True)[1].ravel()
    sums = np.bincount(labels, weights=areas)
    planes: list[tuple[FloatArray, float]] = []
    for group in np.flatnonzero(sums > _LEAST_SHARE * areas.sum()):
        members = np.flatnonzero(labels == group)
        equation = hull.equations[members[np.argmax(areas[members])]]
        near = corners[np.abs(corners @ equation[:3] + equation[3]) <= _FLAT_MM]
        normal = _normal_of(near)
        normal *= np.sign(normal @ equation[:3])
        level = float((near @ normal).mean())
        if any(normal @ known > 0.9999 and abs(level - at) < _FLAT_MM for known, at in planes):
            continue
        planes.append((normal, level))
        yield normal, level


def _outline(faces: FloatArray, edges: FloatArray) -> tuple["Polygon", bool]:
    """Return the outline of faces and free edges in a plane, empty if no end, and if hollow."""
    import shapely

    flat = shapely.polygons(faces)
    # Widened by next to nothing, or triangles that share an edge would not become one face.
    flat = shapely.buffer(flat[shapely.area(flat) > 0.0], 1e-4, join_style="mitre")
    face, lines = shapely.union_all(flat), shapely.union_all(shapely.linestrings(edges))
    whole = shapely.union_all([face, lines]).convex_hull
    if whole.area < _LEAST_MM**2:
        return shapely.Polygon(), False
    near = shapely.union_all([face, lines]).buffer(0.02 * whole.length)
    if whole.exterior.intersection(near).length < _COVERED * whole.length:
        return shapely.Polygon(), False
    hollow = bool(face.area < _HOLLOW_SHARE * whole.area)
    enclosed = shapely.union_all([*shapely.polygonize([lines]).geoms, face])
    largest = max(shapely.get_parts(enclosed), key=shapely.area, default=shapely.Polygon())
    # An end that openings cut into pieces is known by the convex hull of them all.
    cut = largest.area <= 0.9 * enclosed.area or largest.is_empty
    return (whole if cut else shapely.Polygon(largest.exterior)), hollow


def fits(one: EndRing, two: EndRing, within_mm: float = math.inf) -> list[Fit]:
    """Return the ways in which an end fits another that it faces, the best first.

    Parameters
    ----------
    one, two : EndRing
        The same ring twice gives the lines it is symmetric about: each at half the fit's angle.
    within_mm : float, optional
        Outlines whose areas tell that they lie further apart than this are not tried [mm].

    Returns
    -------
    list of Fit
        Over 2° apart; empty when no angle comes near.

    Notes
    -----
    Centroids are laid on each other, the other outline mirrored, since it is seen from behind; from
    the lows of the circular misfit of the radial profiles the mean square distance is brought down.
    """
    import shapely

    fixed = one.outline
    # Outlines within a limit of each other differ in area by no more than twice the strip between.
    limit = 2.0 * within_mm * max(fixed.length, two.outline.length)
    if abs(fixed.area - two.outline.area) > limit:
        return []
    moving = shapely.transform(two.outline, lambda points: points * [1.0, -1.0])
    here, there = _radial_profile(fixed), _radial_profile(moving)
    correlation = np.fft.irfft(np.fft.rfft(here) * np.conj(np.fft.rfft(there)), _BINS)
    square = (here @ here + there @ there - 2.0 * correlation) / _BINS
    if within_mm < math.inf and float(square.min()) > _NEAR_MM**2:
        return []
    is_low = (square <= np.roll(square, 1)) & (square <= np.roll(square, -1))
    lows = np.flatnonzero(is_low & (square <= max(_NEAR_MM**2, float(square.min()))))
    starts = lows[np.argsort(square[lows])][:_STARTS]
    # A round outline has no peaks to speak of; turned by these it still fits.
    starts = np.concatenate((starts, (starts[0] + np.array([_BINS // 5, _BINS // 2])) % _BINS))
    tried = [_refined(fixed, moving, 2.0 * np.pi * start / _BINS) for start in starts]
    found: list[Fit] = []
    for fit in sorted(tried, key=lambda fit: fit.residual_mm):
        if all(math.cos(fit.angle - known.angle) < math.cos(math.radians(2.0)) for known in found):
            found.append(fit)
    return found


def _radial_profile(outline: "Polygon") -> FloatArray:
    """Return the greatest distance of an outline from its centroid by direction [mm]."""
    corners = np.array(outline.exterior.coords)
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(corners, axis=0).T))))
    steps = np.linspace(0.0, along[-1], 8 * _BINS)
    x, y = (np.interp(steps, along, line) for line in corners.T)
    bins = np.round(np.arctan2(y, x) / (2.0 * np.pi) * _BINS).astype(int)
    radii = np.zeros(_BINS)
    np.maximum.at(radii, bins % _BINS, np.hypot(x, y))
    met = np.flatnonzero(radii)
    return np.asarray(np.interp(np.arange(_BINS), met, radii[met], period=_BINS))


def _refined(fixed: "Polygon", moving: "Polygon", start: float) -> Fit:
    """Return the best fit within 1.5° of an angle [rad]."""
    import shapely
    from scipy.optimize import minimize_scalar

    corners = np.array(moving.exterior.coords)
    few = corners[:: max(1, len(corners) // 200)]
    found = minimize_scalar(
        lambda by: np.square(
            shapely.distance(shapely.points(few @ _turn(by)), fixed.exterior)
        ).mean(),
        bounds=(start - _REACH, start + _REACH),
        method="bounded",
        options={"xatol": 1e-9},
    )
    whole = shapely.linearrings(corners @ _turn(found.x))
    residual = shapely.hausdorff_distance(whole, fixed.exterior)
    return Fit(angle=float(found.x), residual_mm=float(residual))


def _turn(angle: float) -> FloatArray:
    """Return what rows of plane coordinates are multiplied by to turn by an angle [rad]."""
    cos, sin = math.cos(angle), math.sin(angle)
    return np.array([[cos, sin], [-sin, cos]])


def facing(onto: EndRing, moved: EndRing, fit: Fit) -> FloatArray:
    """Return the 4 × 4 that carries a part to where its end lies on another's, facing it.

    The angle of a fit holds both ways round, since one of the two is mirrored.
    """
    turn = np.diag([1.0, -1.0, -1.0])
    turn[:2, :2] = _turn(fit.angle).T @ turn[:2, :2]
    whole = np.eye(4)
    whole[:3, :3] = squared(onto.frame @ turn @ moved.frame.T)
    whole[:3, 3] = onto.center_mm - whole[:3, :3] @ moved.center_mm
    return whole


def squared(rotation: FloatArray) -> FloatArray:
    """Return a rotation, made quarter turns exactly where it is within 0.05° of them."""
    exact = np.round(rotation) + 0.0
    # The Frobenius norm of what two rotations differ by is √8 times the sine of half the angle.
    apart = float(np.linalg.norm(exact - rotation)) / math.sqrt(8.0)
    return exact if apart <= math.sin(0.5 * _SQUARE) else rotation


def lie_together(one: EndRing, two: EndRing) -> bool:
    """Return whether two ends face each other where they are, a seam apart at most."""
    import shapely

    across, up, gap = (two.center_mm - one.center_mm) @ one.frame
    if one.normal @ two.normal > -0.999 or not -_TOUCH_MM <= gap <= _SEAM_MM:
        return False
    into = one.frame[:, :2].T @ two.frame[:, :2]
    there = shapely.transform(two.outline, lambda points: points @ into.T + [across, up])
    apart = shapely.hausdorff_distance(one.outline.exterior, there.exterior)
    return bool(apart <= _TOUCH_MM + _TAPER * abs(gap))
