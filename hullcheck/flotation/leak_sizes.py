"""The hole or the crack that would let in so much water."""

import math

from hullcheck.errors import InputError
from hullcheck.flotation.heads import Heads
from hullcheck.flotation.leak_laws import Crack, Hole, LeakLaw, crack_flow_g_s, hole_flow_g_s
from hullcheck.units import STANDARD_GRAVITY_M_S2
from hullcheck.water import Water


def hole_of(flow_g_s: float, head_mm: float, water: Water) -> Hole:
    """Return the round hole that lets in a flow under a head.

    Parameters
    ----------
    flow_g_s : float
        What comes in [g/s].
    head_mm : float
        Of water above the hole [mm].
    water : Water
        What she lies in.

    Returns
    -------
    Hole
        With the discharge coefficient of `leak_laws.DISCHARGE_COEFFICIENT`.

    Raises
    ------
    InputError
        If the flow or the head is not above 0.

    Examples
    --------
    >>> from hullcheck.water import water_of_density
    >>> round(hole_of(0.305, 20, water_of_density(1000)).diameter_mm, 2)
    1.0
    """
    _check(flow_g_s, head_mm)
    one = hole_flow_g_s(area_mm2=1.0, head_mm=head_mm, density_kg_m3=water.density_kg_m3)
    return Hole(diameter_mm=math.sqrt(4.0 / math.pi * flow_g_s / one))


def crack_of(flow_g_s: float, heads: Heads, wall_mm: float, water: Water) -> Crack:
    """Return the crack along all of a seam that lies under water that lets in a flow.

    Parameters
    ----------
    flow_g_s : float
        What comes in [g/s].
    heads : Heads
        Of the water along the seam.
    wall_mm : float
        Thickness the water goes through [mm].
    water : Water
        What she lies in.

    Returns
    -------
    Crack
        Its length the seam's under water; its width even, such that the lesser of both laws, each
        over the whole of the seam, gives the flow.

    Raises
    ------
    InputError
        If the flow is not above 0 or the seam lies above the water.
    """
    _check(flow_g_s, heads.deepest_mm)
    even = {"crack": heads.crack_integral_mm2 / heads.wet_length_mm}
    even["hole"] = (heads.hole_integral_mm15 / heads.wet_length_mm) ** 2
    length = heads.wet_length_mm
    laminar = crack_flow_g_s(
        width_mm=1.0,
        length_mm=length,
        wall_mm=wall_mm,
        head_mm=even["crack"],
        density_kg_m3=water.density_kg_m3,
        viscosity_pa_s=water.viscosity_pa_s,
    )
    free = hole_flow_g_s(area_mm2=length, head_mm=even["hole"], density_kg_m3=water.density_kg_m3)
    width = max(math.cbrt(flow_g_s / laminar), flow_g_s / free)
    return Crack(width_mm=width, length_mm=length, wall_mm=wall_mm)


def tube_flow_g_s(hole: Hole, wall_mm: float, head_mm: float, water: Water) -> float:
    """Return what viscosity lets through a round hole in a wall, in g/s.

    Notes
    -----
    ρ π d⁴ ρ g h/(128 μ t), laminar flow through a tube (Hagen and Poiseuille). Where this is less
    than the hole law gives, a hole passes less than the hole law says.
    """
    pressure_pa = water.density_kg_m3 * STANDARD_GRAVITY_M_S2 * 1e-3 * head_mm
    shape_m3 = math.pi * (1e-3 * hole.diameter_mm) ** 4 / (1e-3 * wall_mm)
    return 1e3 * water.density_kg_m3 * shape_m3 * pressure_pa / (128.0 * water.viscosity_pa_s)


def integral_of(law: LeakLaw, heads: Heads) -> float:
    """Return the head integral a law goes by: ∫ √h dl [mm^1.5] for holes, else ∫ h dl [mm²]."""
    return heads.hole_integral_mm15 if law == "hole" else heads.crack_integral_mm2


def _check(flow_g_s: float, head_mm: float) -> None:
    """Refuse a flow or a head that has no leak to it."""
    if not (math.isfinite(flow_g_s) and flow_g_s > 0.0):
        raise InputError(f"a flow of {flow_g_s:g} g/s: must be above 0 for a leak's size")
    if not (math.isfinite(head_mm) and head_mm > 0.0):
        raise InputError(f"a head of {head_mm:g} mm: the leak lies above the water")
