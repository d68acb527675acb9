"""Loads that upset her, as they are asked for, and what they make of the craft."""

import math
from dataclasses import dataclass, replace

import numpy as np

from hullcheck.answers.heeling import Heeling
from hullcheck.answers.upset_records import SideArea
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.flotation.floating import Floating
from hullcheck.flotation.upsetting import DRAG_COEFFICIENT, Turn, Upset, Wind
from hullcheck.geometry.attitude import level_directions
from hullcheck.geometry.extremes import centroid_of
from hullcheck.geometry.outlines import EdgeWeb, below, outer_region
from hullcheck.units import MM2_PER_CM2


@dataclass(frozen=True, slots=True, kw_only=True)
class Loads:
    """What is to upset her.

    Attributes
    ----------
    wind_m_s : float or None
        Speed of a wind square on her side [m/s].
    side_area : tuple of float or None
        Side area above the water [cm²] and z of its center in body axes [mm]; None: the meshes'.
    drag_coefficient : float
        Of that side.
    off_center : tuple of float or None
        A mass aboard [g] that lies so far across from where the ledger has it [mm], starboard +.
    wet_wing_g : float or None
        Water on the starboard half of the wing, at the middle of that half [g].
    turn : tuple of float or None
        Speed [m/s] and radius [m] of a flat turn.
    """

    wind_m_s: float | None = None
    side_area: tuple[float, float] | None = None
    drag_coefficient: float = DRAG_COEFFICIENT
    off_center: tuple[float, float] | None = None
    wet_wing_g: float | None = None
    turn: tuple[float, float] | None = None

    def __post_init__(self) -> None:
        """Refuse what is not finite, an area or a mass that is not above 0."""
        for name in ("wind_m_s", "drag_coefficient", "wet_wing_g"):
            value = getattr(self, name)
            if value is not None and not (math.isfinite(value) and value >= 0.0):
                raise InputError(f"{name} {value:g}: must not be below 0")
        for name, pair in (("side area", self.side_area), ("off-center mass", self.off_center)):
            if pair is not None and not (np.isfinite(pair).all() and pair[0] > 0.0):
                raise InputError(f"{name} {pair[0]:g},{pair[1]:g}: the first must be above 0")

    @property
    def any(self) -> bool:
        """Whether there is a load at all."""
        given = (self.wind_m_s, self.off_center, self.wet_wing_g, self.turn)
        return any(one is not None for one in given)


def loaded(craft: Craft, loads: Loads) -> Craft:
    """Return a craft with an off-center mass and a wet wing in her mass and center of gravity.

    Raises
    ------
    InputError
        If a wing is wet and none is given, or more lies off center than she weighs.
    """
    center = craft.center_of_gravity_mm
    if center is None:
        return craft
    if loads.off_center is not None:
        grams, across = loads.off_center
        if grams > craft.mass_g:
            raise InputError(
                f"off-center mass {grams:g} g: she weighs {craft.mass_g:g} g all-up; give an item "
                "that is aboard"
            )
        center = (center[0], center[1] + grams * across / craft.mass_g, center[2])
    mass = craft.mass_g
    if loads.wet_wing_g:
        place = wet_wing_mm(craft)
        share = loads.wet_wing_g / (mass + loads.wet_wing_g)
        x, y, z = (c + share * (p - c) for c, p in zip(center, place, strict=True))
        center, mass = (x, y, z), mass + loads.wet_wing_g
    return replace(craft, mass_g=mass, center_of_gravity_mm=center)


def wet_wing_mm(craft: Craft) -> tuple[float, float, float]:
    """Return the middle of the wing's starboard half [mm]; InputError where no wing is given."""
    wing = craft.fittings.wing
    if wing is None:
        raise InputError(
            "a wet wing needs its place: give [wing] with tip_mm and chord_mm in the build sheet"
        )
    x, y, z = wing.tip_mm
    return (x + 0.5 * wing.chord_mm, 0.5 * abs(y), z)


def side_area(craft: Craft, floating: Floating, given: tuple[float, float] | None) -> SideArea:
    """Return her side above the water and the lever from the side under it.

    Parameters
    ----------
    craft : Craft
        Whose bodies are looked at from abeam.
    floating : Floating
        Where she rests.
    given : tuple of float or None
        Area [cm²] and z of its center in body axes [mm] instead of the meshes'.

    Notes
    -----
    The silhouette of all bodies together from abeam, parted at the water. What is not in the
    meshes (wing, fin, motor) is not in it.
    """
    aft = level_directions(
        trim=math.radians(floating.trim_deg), heel=math.radians(floating.heel_deg)
    )[0]
    loops = [
        loop
        for body in craft.bodies
        for loop in EdgeWeb.of(body.shell.triangles_mm).silhouette(aft, floating.normal, 0.0)
    ]
    region = outer_region(loops)
    whole, moments = centroid_of(region)
    wet, wet_moments = centroid_of(below(region, floating.height_mm))
    depth = floating.height_mm - float(wet_moments[1]) / wet if wet > 0.0 else 0.0
    if given is not None:
        area, z = given
        x, y, _ = craft.center_of_gravity_mm or (0.0, 0.0, 0.0)
        height = float(floating.height_above_water_mm(np.array([x, y, z])))
    else:
        area = (whole - wet) / MM2_PER_CM2
        height = 0.0
        if whole > wet:
            height = float(moments[1] - wet_moments[1]) / (whole - wet) - floating.height_mm
    return SideArea(
        area_cm2=area,
        center_height_mm=height,
        center_depth_mm=depth,
        lever_mm=height + depth,
        given=given is not None,
    )


def wind_of(loads: Loads, side: SideArea, speed_m_s: float) -> Wind:
    """Return a wind of a speed [m/s] on her side."""
    return Wind(
        speed_m_s=speed_m_s,
        area_mm2=side.area_cm2 * MM2_PER_CM2,
        lever_mm=side.lever_mm,
        drag_coefficient=loads.drag_coefficient,
    )


def turn_of(heeling: Heeling, loads: Loads, side: SideArea) -> Turn | None:
    """Return the turn that is asked for, None without one."""
    if loads.turn is None:
        return None
    center = np.array(heeling.craft.center_of_gravity_mm)
    height = float(heeling.rest.floating.height_above_water_mm(center))
    return Turn(
        speed_m_s=loads.turn[0],
        radius_m=loads.turn[1],
        lever_mm=height + side.center_depth_mm,
    )


def upset_of(heeling: Heeling, loads: Loads, side: SideArea) -> Upset:
    """Return the upsetting arms of wind and turn."""
    turn = turn_of(heeling, loads, side)
    wind = 0.0
    if loads.wind_m_s is not None:
        wind = wind_of(loads, side, loads.wind_m_s).arm_mm(heeling.craft.mass_g)
    return Upset(wind_mm=wind, turn_mm=0.0 if turn is None else turn.arm_mm)
