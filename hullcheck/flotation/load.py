"""What floats on the skin: a mass, its center, and the water."""

import math
from dataclasses import dataclass

from hullcheck.errors import InputError
from hullcheck.geometry.arrays import FloatArray, owned
from hullcheck.units import G_PER_MM3_PER_KG_M3


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Load:
    """A mass at a place.

    Attributes
    ----------
    mass_g : float
        All-up mass [g].
    center_of_gravity_mm : ndarray, shape (3,)
        Center of gravity in body axes [mm].
    density_kg_m3 : float
        Density of the water [kg/m³].
    """

    mass_g: float
    center_of_gravity_mm: FloatArray
    density_kg_m3: float

    def __post_init__(self) -> None:
        """Refuse a mass or a density that is not positive and finite."""
        check_mass(self.mass_g)
        if not (math.isfinite(self.density_kg_m3) and self.density_kg_m3 > 0.0):
            raise InputError(f"water density {self.density_kg_m3:g} kg/m³: must be above 0")
        try:
            center = owned(self.center_of_gravity_mm, (3,))
        except ValueError as problem:
            raise InputError(f"center of gravity: {problem}") from problem
        object.__setattr__(self, "center_of_gravity_mm", center)

    @property
    def volume_mm3(self) -> float:
        """Volume of water that weighs as much [mm³]."""
        return volume_of(mass_g=self.mass_g, density_kg_m3=self.density_kg_m3)


def volume_of(*, mass_g: float, density_kg_m3: float) -> float:
    """Return the volume of water of a mass [mm³]."""
    return mass_g / (density_kg_m3 * G_PER_MM3_PER_KG_M3)


def mass_of(*, volume_mm3: float, density_kg_m3: float) -> float:
    """Return the mass of a volume of water [g]."""
    return volume_mm3 * density_kg_m3 * G_PER_MM3_PER_KG_M3


def check_mass(mass_g: float) -> None:
    """Refuse a mass [g] that is not positive and finite."""
    if not (math.isfinite(mass_g) and mass_g > 0.0):
        raise InputError(f"mass {mass_g:g} g: the all-up mass must be above 0 g")
