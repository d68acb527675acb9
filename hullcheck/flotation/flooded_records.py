"""What is said of a craft with water inside: at rest, held, and the load as the water moves it."""

from dataclasses import dataclass

from hullcheck.flotation.contents import WaterAboard
from hullcheck.flotation.floating import Floating
from hullcheck.flotation.flooded_tree import OpenWater
from hullcheck.geometry.arrays import FloatArray, owned


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WaterMoved:
    """A load with water aboard, at an attitude.

    Attributes
    ----------
    mass_g : float
        With the water [g].
    center_of_gravity_mm : ndarray, shape (3,)
        With the water where it lies [mm].
    water : tuple of WaterAboard
        A record for each compartment with water in it.
    """

    mass_g: float
    center_of_gravity_mm: FloatArray
    water: tuple[WaterAboard, ...]

    def __post_init__(self) -> None:
        """Own the center."""
        object.__setattr__(self, "center_of_gravity_mm", owned(self.center_of_gravity_mm, (3,)))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Flooded:
    """A skin afloat at one attitude with water inside.

    Attributes
    ----------
    floating : Floating
        At that attitude. Its displaced volume, waterplane and metacentric heights are of what is
        left once open compartments are taken off; water aboard is in its stiffness. Held at an
        attitude it has neither stiffness nor metacentric heights.
    mass_g : float
        With the water aboard, without the sea in open compartments [g].
    center_of_gravity_mm : ndarray, shape (3,)
        Of that mass, the water where it lies [mm].
    water : tuple of WaterAboard
        Water shut in, a record a compartment.
    open_water : tuple of OpenWater
        The sea in each open compartment.
    free_surface_loss_mm : tuple of float
        By how much free surfaces lower the metacentric heights, across and along [mm].
    """

    floating: Floating
    mass_g: float
    center_of_gravity_mm: FloatArray
    water: tuple[WaterAboard, ...]
    open_water: tuple[OpenWater, ...]
    free_surface_loss_mm: tuple[float, float]

    def __post_init__(self) -> None:
        """Own the center."""
        object.__setattr__(self, "center_of_gravity_mm", owned(self.center_of_gravity_mm, (3,)))

    @property
    def metacentric_height_solid_mm(self) -> tuple[float, float] | None:
        """Metacentric heights had the water aboard frozen where it lies [mm]: across, along."""
        fluid = self.floating.metacentric_height_mm
        if fluid is None:
            return None
        loss = self.free_surface_loss_mm
        return fluid[0] + loss[0], fluid[1] + loss[1]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FloodedRest:
    """The answer to where she floats with water inside, set down upright.

    Attributes
    ----------
    short_g : float
        By how much the load with the water aboard exceeds what is left to carry it [g]; at 0 or
        above she sinks, below 0 it is what she could still carry.
    flooded : Flooded or None
        At rest; None where she sinks.
    attitudes : tuple of Flooded
        Every stable attitude, rest first; rest alone unless asked for, empty where she sinks.
    upright_is_stable, either_side, neutral : bool
        As in `Rest`; False where she sinks.
    """

    short_g: float
    flooded: Flooded | None
    attitudes: tuple[Flooded, ...] = ()
    upright_is_stable: bool = False
    either_side: bool = False
    neutral: bool = False

    @property
    def sinks(self) -> bool:
        """Whether what is left of her cannot carry the load."""
        return self.short_g >= 0.0
