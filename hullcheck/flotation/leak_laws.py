"""What a hole or a crack under water lets in, and which hole or crack lets in so much.

Two laws bracket what leaks do: a hole's flow grows with the root of the head, that of a narrow
crack with the head itself. Lengths are mm, flows g/s; inside, everything is SI.
"""

import math
from dataclasses import dataclass
from typing import Final, Literal, Protocol, get_args

from hullcheck.errors import InputError
from hullcheck.units import STANDARD_GRAVITY_M_S2
from hullcheck.water import Water

LeakLaw = Literal["hole", "crack"]
LEAK_LAWS: Final[tuple[LeakLaw, ...]] = get_args(LeakLaw)

DISCHARGE_COEFFICIENT: Final = 0.62
"""Of a sharp-edged round hole (handbooks of hydraulics); a short tube has about 0.80."""

_M: Final = 1e-3
_G_PER_KG: Final = 1e3


class Flow(Protocol):
    """Anything that lets water in under a head."""

    def flow_g_s(self, head_mm: float, water: Water) -> float:
        """Return the flow under a head [mm] of water, in g/s."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A hole of an area, or of a diameter [mm]: flow by the hole law alone.

    Attributes
    ----------
    diameter_mm : float
        Of a round hole [mm].
    discharge_coefficient : float
        What share of the ideal flow comes through.
    """

    diameter_mm: float
    discharge_coefficient: float = DISCHARGE_COEFFICIENT

    def __post_init__(self) -> None:
        """Refuse a hole of no size."""
        _above_0(diameter_mm=self.diameter_mm, discharge_coefficient=self.discharge_coefficient)

    @property
    def area_mm2(self) -> float:
        """Its area [mm²]."""
        return 0.25 * math.pi * self.diameter_mm**2

    def flow_g_s(self, head_mm: float, water: Water) -> float:
        """Return the flow under a head [mm] of water, in g/s; 0 where the head is none."""
        return hole_flow_g_s(
            area_mm2=self.area_mm2,
            head_mm=head_mm,
            density_kg_m3=water.density_kg_m3,
            discharge_coefficient=self.discharge_coefficient,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Crack:
    """A crack by its dimensions: flow by the lesser of both laws.

    Attributes
    ----------
    width_mm : float
        Its opening, across the seam [mm].
    length_mm : float
        Along the seam [mm].
    wall_mm : float
        Through the wall [mm].
    """

    width_mm: float
    length_mm: float
    wall_mm: float

    def __post_init__(self) -> None:
        """Refuse a crack of no size."""
        _above_0(width_mm=self.width_mm, length_mm=self.length_mm, wall_mm=self.wall_mm)

    def flow_g_s(self, head_mm: float, water: Water) -> float:
        """Return the flow under a head [mm] of water, in g/s; 0 where the head is none."""
        return min(self.flow_by("crack", head_mm, water), self.flow_by("hole", head_mm, water))

    def flow_by(self, law: LeakLaw, head_mm: float, water: Water) -> float:
        """Return the flow by one law alone [g/s]; the hole's area is width times length."""
        if law == "hole":
            return hole_flow_g_s(
                area_mm2=self.width_mm * self.length_mm,
                head_mm=head_mm,
                density_kg_m3=water.density_kg_m3,
            )
        return crack_flow_g_s(
            width_mm=self.width_mm,
            length_mm=self.length_mm,
            wall_mm=self.wall_mm,
            head_mm=head_mm,
            density_kg_m3=water.density_kg_m3,
            viscosity_pa_s=water.viscosity_pa_s,
        )

    def law_at(self, head_mm: float, water: Water) -> LeakLaw:
        """Return which law gives the lesser flow under a head [mm]."""
        by_crack = self.flow_by("crack", head_mm, water)
        return "crack" if by_crack <= self.flow_by("hole", head_mm, water) else "hole"


def hole_flow_g_s(
    *,
    area_mm2: float,
    head_mm: float,
    density_kg_m3: float,
    discharge_coefficient: float = DISCHARGE_COEFFICIENT,
) -> float:
    """Return what a hole lets in, in g/s.

    Parameters
    ----------
    area_mm2 : float
        Of the hole [mm²].
    head_mm : float
        Water outside above the leak less water inside above it [mm]; below 0 nothing comes in.
    density_kg_m3 : float
        Of the water [kg/m³].
    discharge_coefficient : float, default 0.62
        What share of the ideal flow comes through.

    Returns
    -------
    float
        ρ C_d A √(2 g h) [g/s].

    Notes
    -----
    Surface tension is left out: it can hold a dry pinhole shut, 4γ/d being about 290 Pa or 30 mm
    of water at 1 mm. Viscosity is left out: a hole under about 0.2 mm passes less.

    References
    ----------
    Torricelli's law with a coefficient of discharge, any handbook of hydraulics.

    Examples
    --------
    >>> round(
    ...     hole_flow_g_s(
    ...         area_mm2=0.7854, head_mm=20, density_kg_m3=1000, discharge_coefficient=0.61
    ...     ),
    ...     3,
    ... )
    0.3
    """
    _not_below_0(area_mm2=area_mm2)
    _above_0(density_kg_m3=density_kg_m3, discharge_coefficient=discharge_coefficient)
    speed_m_s = math.sqrt(2.0 * STANDARD_GRAVITY_M_S2 * _M * max(_finite(head_mm), 0.0))
    kg_s = density_kg_m3 * discharge_coefficient * area_mm2 * _M**2 * speed_m_s
    return kg_s * _G_PER_KG


def crack_flow_g_s(
    *,
    width_mm: float,
    length_mm: float,
    wall_mm: float,
    head_mm: float,
    density_kg_m3: float,
    viscosity_pa_s: float,
) -> float:
    """Return what a narrow crack lets in, laminar, in g/s.

    Parameters
    ----------
    width_mm : float
        Its opening [mm].
    length_mm : float
        Along the seam [mm].
    wall_mm : float
        Through the wall [mm].
    head_mm : float
        Water outside above the leak less water inside above it [mm]; below 0 nothing comes in.
    density_kg_m3 : float
        Of the water [kg/m³].
    viscosity_pa_s : float
        Of the water [Pa·s].

    Returns
    -------
    float
        ρ w³ l ρ g h/(12 μ t) [g/s]. For a wide crack it is too much: take the lesser of this and
        the hole law of its area, as `Crack.flow_g_s` does.

    References
    ----------
    Plane Poiseuille flow between parallel walls; lubrication theory in any textbook of fluid
    mechanics.

    Examples
    --------
    >>> round(
    ...     crack_flow_g_s(
    ...         width_mm=0.05,
    ...         length_mm=100,
    ...         wall_mm=1,
    ...         head_mm=20,
    ...         density_kg_m3=999.1,
    ...         viscosity_pa_s=1.1376e-3,
    ...     ),
    ...     3,
    ... )
    0.179
    """
    _not_below_0(width_mm=width_mm, length_mm=length_mm)
    _above_0(wall_mm=wall_mm, density_kg_m3=density_kg_m3, viscosity_pa_s=viscosity_pa_s)
    pressure_pa = density_kg_m3 * STANDARD_GRAVITY_M_S2 * _M * max(_finite(head_mm), 0.0)
    shape_m3 = (width_mm * _M) ** 3 * length_mm / wall_mm
    return _G_PER_KG * density_kg_m3 * shape_m3 * pressure_pa / (12.0 * viscosity_pa_s)


def driving(law: LeakLaw, head_mm: float) -> float:
    """Return what a head [mm] drives water in with, up to a factor: √h by the hole law, else h.

    A leak of which one flow is known passes flow × driving(h)/driving(head of that flow), each
    head being that outside less that inside, never below 0.
    """
    head = max(_finite(head_mm), 0.0)
    return math.sqrt(head) if law == "hole" else head


def fluid_factor(law: LeakLaw, water: Water) -> float:
    """Return how a flow in g/s depends on the water, up to a factor: ρ, by the crack law ρ²/μ."""
    density = water.density_kg_m3
    return density if law == "hole" else density**2 / water.viscosity_pa_s


def _finite(value: float) -> float:
    """Return a value; refuse what is not a finite number."""
    if not math.isfinite(value):
        raise InputError(f"a leak's head_mm of {value}: not a finite number")
    return value


def _above_0(**values: float) -> None:
    """Refuse values that are not above 0."""
    for name, value in values.items():
        if not (math.isfinite(value) and value > 0.0):
            raise InputError(f"a leak's {name} of {value:g}: must be above 0")


def _not_below_0(**values: float) -> None:
    """Refuse values below 0."""
    for name, value in values.items():
        if not (math.isfinite(value) and value >= 0.0):
            raise InputError(f"a leak's {name} of {value:g}: must not be below 0")
