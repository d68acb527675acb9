"""What floats on a given water plane: its mass and the place of its center, with their slopes."""

import math
from dataclasses import dataclass

import numpy as np

from hullcheck.answers.bath_fit_plane import HALF_WIDTH, Fitted, Gauge, Plane
from hullcheck.answers.bath_fit_records import Expected
from hullcheck.errors import InputError
from hullcheck.flotation.load import mass_of
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.attitude import level_directions
from hullcheck.geometry.moment_tree import MomentTree
from hullcheck.geometry.moments import VolumeMoments
from hullcheck.units import G_PER_MM3_PER_KG_M3


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlaneLoad:
    """The load that floats on a plane.

    Attributes
    ----------
    values : ndarray, shape (3,)
        Mass [g], and x and y of its center [mm].
    slopes : ndarray, shape (3, 3)
        How they change with the plane's trim [rad], heel [rad] and height [mm].
    per_z : ndarray, shape (3,)
        How they change with the height of the center along body z [per mm].
    """

    values: FloatArray
    slopes: FloatArray
    per_z: FloatArray


def load_on(
    tree: MomentTree, gauge: Gauge, plane: Plane, *, density_kg_m3: float, z_mm: float
) -> PlaneLoad:
    """Return the load that rests on a plane, its center at a given height.

    Parameters
    ----------
    tree : MomentTree
        Moments of the skin.
    gauge : Gauge
        Whose middle the plane is measured from.
    plane : ndarray, shape (3,)
        Trim [rad], heel [rad], height [mm].
    density_kg_m3 : float
        Of the water [kg/m³].
    z_mm : float
        z of the center of gravity in body axes [mm].

    Raises
    ------
    InputError
        If the plane lies clear of the skin or over it.

    Notes
    -----
    m = ρ V and G = B + λ n, λ from z_G: x_G = B_x + (n_x/n_z)(z_G − B_z), y_G likewise with n_y.
    When the plane turns by δn and rises by δh its area A with centroid c and second moments J
    sweeps δV = A (δh − δn·c), and δ(V B) = c δV − J δn: the slopes are exact.
    """
    normal, height = gauge.surface(plane)
    moments = tree.under(normal, height - float(normal @ tree.origin_mm))
    if not (moments.volume > 0.0 and moments.area > 0.0 and normal[2] > 0.0):
        raise InputError(
            f"the readings put the water at {height:.1f} mm, clear of her or right over her: check "
            "them, the marks and the unit of the meshes"
        )
    buoyancy = moments.position_integral / moments.volume
    lean = normal[:2] / normal[2]
    rise = z_mm - (buoyancy[2] + tree.origin_mm[2])
    center = buoyancy[:2] + tree.origin_mm[:2] + lean * rise
    columns = [
        _slope(moments, normal, turn, lift, rise)
        for turn, lift in _moves(gauge, plane, tree.origin_mm)
    ]
    slopes = np.column_stack(columns)
    slopes[0] *= density_kg_m3 * G_PER_MM3_PER_KG_M3
    mass = mass_of(volume_mm3=moments.volume, density_kg_m3=density_kg_m3)
    return PlaneLoad(values=np.array([mass, *center]), slopes=slopes, per_z=np.array([0.0, *lean]))


def load_covariance(
    tree: MomentTree, fitted: Fitted, load: PlaneLoad, *, density_kg_m3: float, z_mm: float
) -> FloatArray:
    """Return how well the readings tell mass, x and y of the load on a plane found, (3, 3).

    Parameters
    ----------
    tree : MomentTree
        Moments of the skin.
    fitted : Fitted
        The plane found.
    load : PlaneLoad
        On it.
    density_kg_m3, z_mm : float
        As for `load_on`.

    Notes
    -----
    The plane's covariance carried over by the slopes, then each quantity widened or narrowed to
    what it really does along the three axes of that covariance, to the greater side of ±1.96 σ: a
    tip float that comes clear of the water, or dips, within the ± bends y sharply. Where nothing
    bends that changes nothing.
    """
    covariance: FloatArray = load.slopes @ fitted.covariance @ load.slopes.T
    reach = np.array([fitted.gauge.reach_mm, fitted.gauge.reach_mm, 1.0])
    values, vectors = np.linalg.eigh(fitted.covariance * np.outer(reach, reach))
    axes = (vectors * np.sqrt(np.maximum(values, 0.0))).T / reach
    ends = []
    for axis in axes[values > 0.0]:
        for sign in (-HALF_WIDTH, HALF_WIDTH):
            end = load_on(
                tree,
                fitted.gauge,
                fitted.plane + sign * axis,
                density_kg_m3=density_kg_m3,
                z_mm=z_mm,
            )
            ends.append(end.values - load.values)
    pairs = np.array(ends).reshape(-1, 2, 3)
    up = np.linalg.norm(pairs.max(axis=1).clip(min=0.0), axis=0)
    down = np.linalg.norm(pairs.min(axis=1).clip(max=0.0), axis=0)
    straight = HALF_WIDTH * np.sqrt(np.diag(covariance))
    share = np.where(
        straight > 0.0, np.maximum(up, down) / np.where(straight > 0.0, straight, 1), 1
    )
    return np.asarray(covariance * np.outer(share, share))


def _moves(
    gauge: Gauge, plane: Plane, origin_mm: FloatArray
) -> tuple[tuple[FloatArray, float], ...]:
    """Return how normal and height above a skin's origin change with trim, heel and height."""
    along, across = level_directions(trim=float(plane[0]), heel=float(plane[1]))
    arm = gauge.middle_mm - origin_mm
    turns = (-along, -math.cos(plane[0]) * across)
    return (*((turn, float(turn @ arm)) for turn in turns), (np.zeros(3), 1.0))


def _slope(
    moments: VolumeMoments, normal: FloatArray, turn: FloatArray, lift: float, rise: float
) -> FloatArray:
    """Return how volume [mm³] and the center's x and y change as the plane turns and rises."""
    swept = moments.area * (lift - float(turn @ moments.area_centroid))
    buoyancy = moments.position_integral / moments.volume
    moved = (
        moments.area_centroid * swept - moments.second_moments @ turn - buoyancy * swept
    ) / moments.volume
    lean = normal[:2] / normal[2]
    leaning = (turn[:2] - lean * turn[2]) / normal[2]
    return np.array([swept, *(moved[:2] + leaning * rise - lean * moved[2])])


def expected_covariance(expected: Expected) -> tuple[FloatArray, float]:
    """Return how well an expected mass, x and y are known, (3, 3), and z [mm²].

    An item that is out by δ at p changes the mass by δ and moves the center by δ (p − G)/m.
    """
    covariance = np.zeros((4, 4))
    if expected.center_of_gravity_mm is not None:
        covariance[1:, 1:] += np.diag(np.square(expected.center_uncertainty_mm))
    for grams, place in expected.spread:
        change = np.array([grams, 0.0, 0.0, 0.0])
        if place is not None and expected.center_of_gravity_mm is not None:
            arm = np.array(place) - np.array(expected.center_of_gravity_mm)
            change[1:] = grams * arm / expected.mass_g
        covariance += np.outer(change, change)
    return covariance[:3, :3], float(covariance[3, 3])
