"""From triangles to closed outer shells: closure proved, pieces told apart, voids dropped."""

from dataclasses import dataclass, field

import numpy as np

from hullcheck.errors import SurfaceError
from hullcheck.geometry.arrays import BoolArray, FloatArray, bounds, owned
from hullcheck.geometry.moments import row_sum
from hullcheck.geometry.repair import repaired
from hullcheck.geometry.topology import component_labels, is_closed_manifold, merged
from hullcheck.units import MM3_PER_CM3

CLOSURE_TOLERANCE = 1e-9
"""Allowed ∮ dS over the area and ∮ p_j dS_i − V δ_ij over area × size: rounding of exact
coordinates stays below 1e-12 even for a million triangles."""

_THIN_SHARE = 0.07
_SOLID_SHARE = 0.3


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shell:
    """One closed surface, area vectors outward.

    Attributes
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        Triangles in body axes [mm].
    volume_mm3 : float
        Enclosed volume [mm³], positive.
    area_mm2 : float
        Surface area [mm²].
    low_mm, high_mm : ndarray, shape (3,)
        Corners of its bounding box [mm], worked out when it is made.
    """

    triangles_mm: FloatArray
    volume_mm3: float
    area_mm2: float
    low_mm: FloatArray = field(init=False)
    high_mm: FloatArray = field(init=False)

    @property
    def middle_mm(self) -> FloatArray:
        """Middle of the bounding box [mm], shape (3,)."""
        middle: FloatArray = 0.5 * (self.low_mm + self.high_mm)
        return middle

    @property
    def center_plane_mm(self) -> float:
        """Where the fore-and-aft plane through that middle stands, y [mm]."""
        return float(self.middle_mm[1])

    def __post_init__(self) -> None:
        """Own the triangles and refuse a shell that is inside out."""
        object.__setattr__(self, "triangles_mm", owned(self.triangles_mm, (-1, 3, 3)))
        low, high = bounds(self.triangles_mm)
        object.__setattr__(self, "low_mm", owned(low, (3,)))
        object.__setattr__(self, "high_mm", owned(high, (3,)))
        if not self.volume_mm3 > 0.0:
            raise SurfaceError(f"a shell of {self.volume_mm3:g} mm³ encloses nothing")


@dataclass(frozen=True, slots=True, kw_only=True)
class Shells:
    """The outer shells of one surface.

    Attributes
    ----------
    shells : tuple of Shell
        Largest first.
    repairs : tuple of str
        What was done to the triangles, a sentence each; empty when nothing was.
    dropped : tuple of str
        Inner shells left out, a sentence each.
    """

    shells: tuple[Shell, ...]
    repairs: tuple[str, ...]
    dropped: tuple[str, ...]


def outer_shells(name: str, triangles_mm: FloatArray) -> Shells:
    """Return the closed outer shells that triangles form, the largest first.

    Parameters
    ----------
    name : str
        What the surface is called in messages.
    triangles_mm : ndarray, shape (n, 3, 3)
        Triangle soup in body axes [mm].

    Returns
    -------
    Shells

    Raises
    ------
    OpenSurfaceError
        If the surface has rims that are no small flat holes.
    SurfaceError
        If it is flat, contradicts itself, or is the wall of a thin-wall part.

    Notes
    -----
    Closure is proved twice: every directed edge is matched by its opposite, and over each shell
    ∮ dS = 0 and ∮ p_j dS_i = V δ_ij. A shell inside another bounds a void when it is turned inward,
    else a second solid within the first; either way it displaces no water of its own.
    """
    mesh = merged(triangles_mm)
    repairs: tuple[str, ...] = ()
    if not is_closed_manifold(mesh):
        mesh, repairs = repaired(name, mesh)
    count, labels = component_labels(mesh)
    if count == 1:
        pieces = [triangles_mm if not repairs else mesh.triangles]
    else:
        triangles = mesh.triangles
        order = np.argsort(labels, kind="stable")
        cuts = np.cumsum(np.bincount(labels, minlength=count))[:-1]
        pieces = [triangles[part] for part in np.split(order, cuts)]
    measured = sorted((_measured(name, piece) for piece in pieces), key=lambda m: -abs(m[1]))
    shells, dropped, turned = _outermost(name, measured)
    repairs = (*repairs, *turned)
    for shell in shells:
        _refuse_thin_wall(name, shell)
    return Shells(shells=tuple(shells), repairs=repairs, dropped=tuple(dropped))


def _measured(name: str, triangles: FloatArray) -> tuple[FloatArray, float, float]:
    """Return a piece with its signed volume and its area; SurfaceError if it does not close."""
    low, high = bounds(triangles)
    size = float((high - low).max())
    row = row_sum(triangles, 0.5 * (low + high))
    area = float(row[30])
    first = row[3:12].reshape(3, 3)
    volume = float(np.trace(first) / 3.0)
    gap = float(np.abs(row[0:3]).max()) / max(area, 1e-300)
    skew = float(np.abs(first - volume * np.eye(3)).max()) / max(area * size, 1e-300)
    if max(gap, skew) > CLOSURE_TOLERANCE:
        raise SurfaceError(
            f"{name}: edges match but the surface does not close: ∮ dS is {gap:.1e} of its area"
        )
    if abs(volume) <= 1e-9 * area * size:
        raise SurfaceError(f"{name}: a piece of {area:.3g} mm² is flat and encloses no volume")
    return triangles, volume, area


def _outermost(
    name: str, measured: list[tuple[FloatArray, float, float]]
) -> tuple[list[Shell], list[str], list[str]]:
    """Return the shells in no other, what was dropped, and what had to be turned."""
    shells: list[Shell] = []
    outward: list[bool] = []
    dropped: list[str] = []
    turned: list[str] = []
    for triangles, volume, area in measured:
        parent = next((i for i, s in enumerate(shells) if _inside(name, triangles, s)), None)
        if parent is None:
            facing = triangles if volume > 0.0 else triangles[:, ::-1]
            shells.append(Shell(triangles_mm=facing, volume_mm3=abs(volume), area_mm2=area))
            outward.append(volume > 0.0)
            if volume < 0.0:
                size = "" if len(measured) == 1 else f" of a shell of {_cm3(-volume)}"
                turned.append(f"{name}: all triangles{size} looked inward; turned outward")
            continue
        what = "a void" if (volume > 0.0) != outward[parent] else "a solid within the solid"
        dropped.append(f"{name}: left out an inner shell of {_cm3(abs(volume))}, {what}")
    return shells, dropped, turned


def _inside(name: str, triangles: FloatArray, shell: Shell) -> bool:
    """Return whether a piece lies within a shell; SurfaceError if it crosses it."""
    low, high = bounds(triangles)
    if (low < shell.low_mm).any() or (high > shell.high_mm).any():
        return False
    corners = triangles.reshape(-1, 3)
    picked = corners[np.linspace(0, len(corners) - 1, 16).astype(int)]
    inside = winding_inside(shell.triangles_mm, picked)
    if inside.all():
        return True
    if inside.any():
        x, y, z = picked[int(inside.argmin())]
        raise SurfaceError(
            f"{name}: two shells cross near ({x:.1f}, {y:.1f}, {z:.1f}) mm, so which of them is "
            "the outer skin cannot be told; unite them in the CAD program"
        )
    return False


def winding_inside(triangles_mm: FloatArray, points_mm: FloatArray) -> BoolArray:
    """Return which points lie inside a closed surface, by the solid angle it fills around them.

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        Closed surface [mm].
    points_mm : ndarray, shape (k, 3)
        Points [mm], none of them on the surface.

    Returns
    -------
    ndarray of bool, shape (k,)

    References
    ----------
    Van Oosterom, A., and J. Strackee, "The solid angle of a plane triangle", IEEE Transactions on
    Biomedical Engineering 30 (2), 1983.
    """
    inside = np.empty(len(points_mm), dtype=bool)
    for k, point in enumerate(points_mm):
        a, b, c = np.moveaxis(triangles_mm - point, 1, 0)
        la, lb, lc = (np.linalg.norm(v, axis=1) for v in (a, b, c))
        triple = np.einsum("ni,ni->n", a, np.cross(b, c))
        base = (
            la * lb * lc
            + np.einsum("ni,ni->n", a, b) * lc
            + np.einsum("ni,ni->n", b, c) * la
            + np.einsum("ni,ni->n", c, a) * lb
        )
        inside[k] = abs(np.arctan2(triple, base).sum()) > np.pi
    return inside


def _cm3(volume_mm3: float) -> str:
    """Return a volume in words: whole cm³ from 10, three figures below."""
    volume = volume_mm3 / MM3_PER_CM3
    return f"{volume:.0f} cm³" if volume >= 10.0 else f"{volume:.3g} cm³"


def _refuse_thin_wall(name: str, shell: Shell) -> None:
    """Refuse a shell that is the plastic of a thin-wall part and not what displaces water."""
    wall = 2.0 * shell.volume_mm3 / shell.area_mm2
    if wall >= _THIN_SHARE * float((shell.high_mm - shell.low_mm).min()):
        return
    from manifold3d import Manifold

    envelope = float(Manifold.hull_points(shell.triangles_mm.reshape(-1, 3)).volume())
    if shell.volume_mm3 >= _SOLID_SHARE * envelope:
        return
    raise SurfaceError(
        f"{name} is a thin-wall part: walls of about {wall:.2g} mm, {_cm3(shell.volume_mm3)} of "
        f"plastic in an outline of {_cm3(envelope)}. Its plastic is not what displaces water: "
        "export the outer skin as one closed mesh"
    )
