"""Water shut in compartments: a given mass that lies level with the sea at every attitude.

Water of mass w in a compartment of permeability κ takes up the volume v = w/(ρ_w κ) of it, under a
plane parallel to the sea. Its centroid C moves parallel to that plane when the plane turns at fixed
volume, so the loaded craft's energy keeps its gradient rule with (m G + Σ w C)/(m + Σ w) in place
of G; its second derivative loses (w/(m + Σ w)) j/v for every free surface with second moments j.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hullcheck.errors import InputError
from hullcheck.flotation.draft import settle
from hullcheck.flotation.load import mass_of, volume_of
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.attitude import heel_of, level_directions, trim_of
from hullcheck.geometry.moment_tree import MomentTree

_FULL = 1e-12
_OVERFULL = 1e-9
_TOLERANCE = 1e-12
_ROUNDING = 2e-15
_AREA = 30


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Aboard:
    """Water of a given mass shut in a compartment.

    Attributes
    ----------
    name : str
        What the compartment is called.
    tree : MomentTree
        Of its closed surface, in body axes [mm].
    water_g : float
        Mass of the water [g]; 0 is none.
    permeability : float, default 1
        Share of the enclosed volume that water can fill.
    density_kg_m3 : float, optional
        Of this water [kg/m³]; that of the sea around when left out.
    """

    name: str
    tree: MomentTree
    water_g: float
    permeability: float = 1.0
    density_kg_m3: float | None = None

    def __post_init__(self) -> None:
        """Refuse a mass below 0, a permeability that is no share, a density that is none."""
        if not (math.isfinite(self.water_g) and self.water_g >= 0.0):
            raise InputError(f"{self.name}: {self.water_g:g} g of water: must be 0 or more")
        check_permeability(self.name, self.permeability)
        density = self.density_kg_m3
        if density is not None and not (math.isfinite(density) and density > 0.0):
            raise InputError(f"{self.name}: water of {density:g} kg/m³: must be above 0")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WaterAboard:
    """Where the water in one compartment lies at an attitude, in body axes from the datum.

    Attributes
    ----------
    name : str
        The compartment's.
    water_g : float
        Mass of the water [g].
    volume_mm3 : float
        Part of the compartment under its surface [mm³]: the water's own volume over the
        permeability.
    normal : ndarray, shape (3,)
        Unit normal out of the water, that of the sea.
    surface_height_mm : float
        Its surface holds the points p with normal·p = surface_height_mm [mm]; where the compartment
        is full, that of its highest point.
    centroid_mm : ndarray, shape (3,)
        Of the water [mm].
    free_surface_area_mm2 : float
        Area of its surface inside the compartment [mm²]; 0 where it is full.
    free_surface_center_mm : ndarray, shape (3,)
        Centroid of that area [mm].
    second_moments_mm4 : ndarray, shape (3, 3)
        Of that area about its centroid [mm⁴].
    full : bool
        Whether the compartment is full, so that its water cannot move.
    """

    name: str
    water_g: float
    volume_mm3: float
    normal: FloatArray
    surface_height_mm: float
    centroid_mm: FloatArray
    free_surface_area_mm2: float
    free_surface_center_mm: FloatArray
    second_moments_mm4: FloatArray
    full: bool

    @property
    def free_surface_moments_mm4(self) -> tuple[float, float]:
        """Second moments of the free surface that soften heel and trim [mm⁴]: across and along."""
        along, across = level_directions(trim=trim_of(self.normal), heel=heel_of(self.normal))
        moments = self.second_moments_mm4
        return float(across @ moments @ across), float(along @ moments @ along)


class Basin:
    """One compartment's water while the craft turns.

    Parameters
    ----------
    aboard : Aboard
        More than 0 g in it.
    sea_kg_m3 : float
        Density of the sea around [kg/m³].

    Raises
    ------
    InputError
        If it holds less than is to be in it.
    """

    def __init__(self, aboard: Aboard, sea_kg_m3: float) -> None:
        self.aboard = aboard
        density = aboard.density_kg_m3 or sea_kg_m3
        tree = aboard.tree
        water = volume_of(mass_g=aboard.water_g, density_kg_m3=density)
        self.volume = water / aboard.permeability
        self.capacity = tree.enclosed_mm3
        if self.volume > self.capacity * (1.0 + _OVERFULL):
            holds = mass_of(volume_mm3=self.capacity * aboard.permeability, density_kg_m3=density)
            raise InputError(
                f"{aboard.name}: {aboard.water_g:g} g of water do not fit in it; it holds "
                f"{holds:.4g} g"
            )
        self.full = self.volume >= self.capacity * (1.0 - _FULL)
        # A volume is what is left of sums as large as the surface times its size.
        sums = float(tree.whole()[_AREA]) * tree.length_mm
        self._tolerance = max(_TOLERANCE, _ROUNDING * sums / self.volume)
        self._near: FloatArray | None = None

    def at(self, normal: FloatArray) -> WaterAboard:
        """Return where the water lies when the sea has a normal [unit]."""
        tree = self.aboard.tree
        if self.full:
            height = tree.extent(normal)[1]
            under = tree.under(normal, height + tree.length_mm)
            area, moments = 0.0, np.zeros((3, 3))
        else:
            near = None if self._near is None else float(normal @ self._near)
            height, under = settle(
                tree, normal, self.volume, height=near, tolerance=self._tolerance
            )
            # Where the surface lay last is where the next attitude's search begins.
            self._near = under.area_centroid
            area, moments = under.area, under.second_moments
        return WaterAboard(
            name=self.aboard.name,
            water_g=self.aboard.water_g,
            volume_mm3=self.volume,
            normal=normal,
            surface_height_mm=height + float(normal @ tree.origin_mm),
            centroid_mm=under.position_integral / under.volume + tree.origin_mm,
            free_surface_area_mm2=area,
            free_surface_center_mm=under.area_centroid + tree.origin_mm,
            second_moments_mm4=moments,
            full=self.full,
        )


def basins_of(aboard: Sequence[Aboard], sea_kg_m3: float) -> tuple[Basin, ...]:
    """Return the compartments that hold water, ready to be turned.

    Parameters
    ----------
    aboard : sequence of Aboard
        Those with 0 g are left out.
    sea_kg_m3 : float
        Density of the sea around [kg/m³].

    Raises
    ------
    InputError
        If a compartment is named twice or holds less than is to be in it.
    """
    names = [one.name for one in aboard]
    twice = next((name for i, name in enumerate(names) if name in names[:i]), None)
    if twice is not None:
        raise InputError(f"{twice}: water in it is given twice; give one mass")
    return tuple(Basin(one, sea_kg_m3) for one in aboard if one.water_g > 0.0)


def center_with(center_mm: FloatArray, mass_g: float, water: Sequence[WaterAboard]) -> FloatArray:
    """Return the center of a load with water aboard [mm].

    Parameters
    ----------
    center_mm : ndarray, shape (3,)
        Without the water [mm].
    mass_g : float
        With the water [g].
    water : sequence of WaterAboard
        Where it lies.
    """
    center = center_mm
    for one in water:
        center = center + (one.water_g / mass_g) * (one.centroid_mm - center_mm)
    return center


def check_permeability(name: str, permeability: float) -> None:
    """Refuse a permeability that is not above 0 and at most 1."""
    if not 0.0 < permeability <= 1.0:
        raise InputError(f"{name}: permeability {permeability:g}: must be above 0, at most 1")
