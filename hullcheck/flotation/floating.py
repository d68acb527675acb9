"""Where a load floats on a skin: the public solver and its record, in body axes."""

import math
from dataclasses import dataclass, replace

import numpy as np

from hullcheck.errors import InputError
from hullcheck.flotation.descent import NEUTRAL, Descent, State
from hullcheck.flotation.draft import settle
from hullcheck.flotation.equilibrium import Settled, settle_down, stable_attitudes
from hullcheck.flotation.load import Load, check_mass, mass_of, volume_of
from hullcheck.flotation.righting import levers
from hullcheck.geometry.arrays import FloatArray, owned
from hullcheck.geometry.attitude import heel_of, level_directions, normal_of, trim_of
from hullcheck.geometry.moments import VolumeMoments
from hullcheck.geometry.skin import Skin


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Floating:
    """A skin in the water at one attitude, in body axes from the datum.

    Attributes
    ----------
    normal : ndarray, shape (3,)
        Unit normal out of the water.
    height_mm : float
        The surface holds the points p with normal·p = height_mm [mm].
    displaced_volume_mm3 : float
        Volume under the surface [mm³].
    center_of_buoyancy_mm : ndarray, shape (3,)
        Its centroid [mm].
    waterplane_area_mm2 : float
        Area of the skin's cut with the surface [mm²].
    center_of_flotation_mm : ndarray, shape (3,)
        Centroid of that area [mm]: a load there sinks her without tilting.
    metacentric_radius_mm : tuple of float
        Across and along [mm]: second moments of the waterplane over the volume.
    wetted_area_mm2 : float
        Skin below the surface [mm²].
    stiffness_mm : tuple of float or None
        The two eigenvalues of the energy's second derivative [mm]; None without a load's center.
    metacentric_height_mm : tuple of float or None
        Across and along [mm].
    closure_error_mm2 : float
        Level component of the wet skin's area vector [mm²]; 0 on a closed skin.
    """

    normal: FloatArray
    height_mm: float
    displaced_volume_mm3: float
    center_of_buoyancy_mm: FloatArray
    waterplane_area_mm2: float
    center_of_flotation_mm: FloatArray
    metacentric_radius_mm: tuple[float, float]
    wetted_area_mm2: float
    stiffness_mm: tuple[float, float] | None
    metacentric_height_mm: tuple[float, float] | None
    closure_error_mm2: float

    def __post_init__(self) -> None:
        """Own the arrays."""
        for field in ("normal", "center_of_buoyancy_mm", "center_of_flotation_mm"):
            object.__setattr__(self, field, owned(getattr(self, field), (3,)))

    @property
    def trim_deg(self) -> float:
        """Trim [deg], positive bow up."""
        return math.degrees(trim_of(self.normal))

    @property
    def heel_deg(self) -> float:
        """Heel [deg], positive starboard down."""
        return math.degrees(heel_of(self.normal))

    @property
    def stable(self) -> bool:
        """Whether both stiffnesses are above zero."""
        return self.stiffness_mm is not None and self.stiffness_mm[0] > 0.0

    def height_above_water_mm(self, points_mm: FloatArray) -> FloatArray:
        """Return the heights of points above the surface [mm], negative under it."""
        return np.asarray(points_mm @ self.normal - self.height_mm)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rest:
    """The answer to where she floats, set down upright.

    Attributes
    ----------
    floating : Floating
        At rest.
    upright_is_stable : bool
        Whether the righting arm at heel 0, trim free, rises with heel.
    either_side : bool
        Whether she falls to either side alike; starboard is shown.
    neutral : bool
        Whether she stays where she is put (a sphere, a lying cylinder).
    attitudes : tuple of Floating
        Every stable attitude, rest first; rest alone unless asked for.
    evaluations : int
        Planes evaluated for it.
    """

    floating: Floating
    upright_is_stable: bool
    either_side: bool
    neutral: bool
    attitudes: tuple[Floating, ...]
    evaluations: int


def short_by_g(skin: Skin, *, mass_g: float, density_kg_m3: float) -> float:
    """Return by how much a mass exceeds the buoyancy of the whole skin [g]; below 0 it floats."""
    return mass_g - mass_of(volume_mm3=skin.volume_mm3, density_kg_m3=density_kg_m3)


def float_at(
    skin: Skin,
    *,
    mass_g: float,
    center_of_gravity_mm: FloatArray | tuple[float, float, float],
    density_kg_m3: float = 1000.0,
    all_attitudes: bool = False,
) -> Rest:
    """Return where a load floats on a skin, set down upright.

    Parameters
    ----------
    skin : Skin
        Closed bodies in body axes.
    mass_g : float
        All-up mass [g].
    center_of_gravity_mm : array_like, shape (3,)
        Center of gravity in body axes [mm].
    density_kg_m3 : float, default 1000
        Density of the water [kg/m³].
    all_attitudes : bool, default False
        Whether to look for every other stable attitude too.

    Returns
    -------
    Rest

    Raises
    ------
    InputError
        If the mass is not above 0 or she sinks.
    SolverError
        If no rest was found.

    Notes
    -----
    A minimum of potential energy over trim, heel and draft; the draft by bisection on displaced
    volume, bracketed, sped up by Newton steps.
    """
    load = Load(
        mass_g=mass_g,
        center_of_gravity_mm=np.asarray(center_of_gravity_mm, dtype=np.float64),
        density_kg_m3=density_kg_m3,
    )
    short = short_by_g(skin, mass_g=mass_g, density_kg_m3=density_kg_m3)
    if short >= 0.0:
        raise InputError(f"she sinks: {mass_g:g} g is {short:.0f} g more than the skin can carry")
    tree = skin.tree
    before = tree.evaluations
    descent = Descent(tree, load)
    settled: Settled = settle_down(descent)
    states: tuple[State, ...] = (settled.state,)
    if all_attitudes:
        states = stable_attitudes(descent, settled.state)
    attitudes = tuple(floating_of(skin, state) for state in states)
    return Rest(
        floating=attitudes[0],
        upright_is_stable=settled.upright_slope_mm > NEUTRAL * descent.length,
        either_side=settled.either_side,
        neutral=settled.neutral,
        attitudes=attitudes,
        evaluations=tree.evaluations - before,
    )


def held_at(
    skin: Skin,
    *,
    mass_g: float,
    density_kg_m3: float,
    trim_deg: float = 0.0,
    heel_deg: float = 0.0,
) -> Floating:
    """Return a mass floating with its attitude held: only the draft is free.

    Parameters
    ----------
    skin : Skin
        Closed bodies in body axes.
    mass_g : float
        All-up mass [g]; its center plays no part.
    density_kg_m3 : float
        Density of the water [kg/m³].
    trim_deg, heel_deg : float, default 0
        Attitude to hold [deg].

    Returns
    -------
    Floating
        Its center of buoyancy is where the center of gravity must be for her to rest so.

    Raises
    ------
    InputError
        If the mass is not above 0 or she sinks.
    """
    check_mass(mass_g)
    if short_by_g(skin, mass_g=mass_g, density_kg_m3=density_kg_m3) >= 0.0:
        raise InputError(f"she sinks at {mass_g:g} g")
    normal = normal_of(trim=math.radians(trim_deg), heel=math.radians(heel_deg))
    volume = volume_of(mass_g=mass_g, density_kg_m3=density_kg_m3)
    height, moments = settle(skin.tree, normal, volume)
    return record_under(skin, normal, height, moments)


def floating_of(skin: Skin, state: State) -> Floating:
    """Return a solver's state as a record in body axes, with its stiffness."""
    held = record_under(skin, state.normal, state.height, state.moments)
    least, most = state.eigen()[0].tolist()
    return replace(held, stiffness_mm=(least, most), metacentric_height_mm=levers(state))


def record_under(skin: Skin, normal: FloatArray, height: float, moments: VolumeMoments) -> Floating:
    """Return what lies under a plane as a record in body axes."""
    origin = skin.tree.origin_mm
    buoyancy = moments.position_integral / moments.volume
    along, across = level_directions(trim=trim_of(normal), heel=heel_of(normal))
    radii = moments.second_moments / moments.volume
    radius = (float(across @ radii @ across), float(along @ radii @ along))
    return Floating(
        normal=normal,
        height_mm=height + float(normal @ origin),
        displaced_volume_mm3=moments.volume,
        center_of_buoyancy_mm=buoyancy + origin,
        waterplane_area_mm2=moments.area,
        center_of_flotation_mm=moments.area_centroid + origin,
        metacentric_radius_mm=radius,
        wetted_area_mm2=moments.wetted_area,
        stiffness_mm=None,
        metacentric_height_mm=None,
        closure_error_mm2=moments.closure_area,
    )
