"""Density and viscosity of the water she floats in, with their sources.

The polynomial is the one-atmosphere equation of state of sea water, EOS-80. Its fresh-water
end (salinity 0) serves lakes and tap water. It differs from the pair of densities that towing
tanks use by up to 0.05 kg/m³ in sea water, a tenth of a gram on a two-kilogram model. Viscosity
matters for leaks alone: a narrow crack passes a third less at 5 °C than at 20 °C.
"""

import math
from dataclasses import dataclass
from typing import Final, Literal

from hullcheck.errors import InputError

WaterKind = Literal["fresh", "sea", "given"]

SEA_SALINITY: Final = 35.0
"""Practical salinity of standard sea water (EOS-80)."""

_G_PER_KG_BY_SALINITY: Final = 35.16504 / 35.0
"""Salt in sea water of the reference composition [g/kg] by practical salinity (TEOS-10)."""
_UNSTATED_TEMPERATURE_C: Final = 15.0
_TEMPERATURE_RANGE_C: Final = (-2.0, 40.0)
_SALINITY_RANGE: Final = (0.0, 42.0)
_DENSITY_RANGE_KG_M3: Final = (500.0, 2000.0)


def water_density_kg_m3(*, temperature_c: float, salinity: float = 0.0) -> float:
    """Return the density of water at atmospheric pressure, in kg/m³.

    Parameters
    ----------
    temperature_c : float
        Temperature [°C], −2 to 40.
    salinity : float, default 0
        Practical salinity [1], 0 to 42; 0 is fresh water, 35 the open sea.

    Returns
    -------
    float
        Density [kg/m³].

    Raises
    ------
    InputError
        If a value is not finite or lies outside the range the equation was fitted over.

    Notes
    -----
    EOS-80 at pressure 0 with temperatures on IPTS-68; the difference to ITS-90 is below
    0.003 kg/m³ in the range and is neglected.

    References
    ----------
    Fofonoff, N. P., and R. C. Millard, "Algorithms for computation of fundamental properties
    of seawater", UNESCO Technical Papers in Marine Science 44, 1983.
    Millero, F. J., and A. Poisson, "International one-atmosphere equation of state of
    seawater", Deep-Sea Research 28A, 1981.

    Examples
    --------
    >>> round(water_density_kg_m3(temperature_c=5), 5)
    999.96675
    >>> round(water_density_kg_m3(temperature_c=25, salinity=35), 5)
    1023.34306
    """
    _check_range("water temperature", temperature_c, _TEMPERATURE_RANGE_C, "°C")
    _check_range("salinity", salinity, _SALINITY_RANGE, "(practical salinity)")
    t, s = float(temperature_c), float(salinity)
    pure = 999.842594 + t * (
        6.793952e-2 + t * (-9.095290e-3 + t * (1.001685e-4 + t * (-1.120083e-6 + t * 6.536332e-9)))
    )
    linear = 8.24493e-1 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)))
    root = -5.72466e-3 + t * (1.0227e-4 - t * 1.6546e-6)
    return pure + s * linear + s * math.sqrt(s) * root + 4.8314e-4 * s * s


def viscosity_pa_s(*, temperature_c: float, salinity: float = 0.0) -> float:
    """Return the dynamic viscosity of water at atmospheric pressure, in Pa·s.

    Parameters
    ----------
    temperature_c : float
        Temperature [°C], −2 to 40.
    salinity : float, default 0
        Practical salinity [1], 0 to 42; 0 is fresh water, 35 the open sea.

    Returns
    -------
    float
        Dynamic viscosity [Pa·s].

    Raises
    ------
    InputError
        If a value is not finite or lies outside those ranges.

    Notes
    -----
    Fresh water: Σ aᵢ (T/300 K)^bᵢ in µPa·s, for 253 to 383 K, good to 1 %; its coefficients are
    from memory and are held to published values by the tests. Salt multiplies that by
    1 + A s + B s², s its share of the mass, A and B quadratic in temperature, good to 1.5 %.

    References
    ----------
    IAPWS R12-08, "Release on the IAPWS Formulation 2008 for the Viscosity of Ordinary Water
    Substance", recommended equation for 0.1 MPa.
    Sharqawy, M. H., J. H. Lienhard and S. M. Zubair, "Thermophysical properties of seawater: a
    review of existing correlations and data", Desalination and Water Treatment 16, 2010, eq. 22.

    Examples
    --------
    >>> round(1e3 * viscosity_pa_s(temperature_c=20), 3)
    1.002
    """
    _check_range("water temperature", temperature_c, _TEMPERATURE_RANGE_C, "°C")
    _check_range("salinity", salinity, _SALINITY_RANGE, "(practical salinity)")
    t, ratio = float(temperature_c), (float(temperature_c) + 273.15) / 300.0
    fresh = (
        280.68 * ratio**-1.9 + 511.45 * ratio**-7.7 + 61.131 * ratio**-19.6 + 0.45903 * ratio**-40.0
    )
    salt = 1e-3 * _G_PER_KG_BY_SALINITY * float(salinity)
    first = 1.541 + t * (1.998e-2 - t * 9.52e-5)
    second = 7.974 + t * (-7.561e-2 + t * 4.724e-4)
    return 1e-6 * float(fresh) * (1.0 + salt * (first + salt * second))


@dataclass(frozen=True, slots=True, kw_only=True)
class Water:
    """The water she floats in.

    Attributes
    ----------
    kind : {"fresh", "sea", "given"}
        Where the density comes from.
    temperature_c : float or None
        Temperature [°C]; None when the density was given outright.
    density_kg_m3 : float
        Density [kg/m³].
    """

    kind: WaterKind
    temperature_c: float | None
    density_kg_m3: float

    def __post_init__(self) -> None:
        """Refuse a density that no water has."""
        low, high = _DENSITY_RANGE_KG_M3
        value = self.density_kg_m3
        if math.isfinite(value) and 0.5 <= value <= 2.0:
            raise InputError(
                f"water density {value:g} kg/m³ looks like g/cm³: "
                f"did you mean {value * 1000:g} kg/m³?"
            )
        if not (math.isfinite(value) and low <= value <= high):
            raise InputError(
                f"water density {value:g} kg/m³ is outside {low:g} to {high:g} kg/m³; "
                "fresh water is about 1000, the sea about 1025"
            )

    @property
    def viscosity_pa_s(self) -> float:
        """Dynamic viscosity [Pa·s]; of fresh water at 15 °C where a density was given outright."""
        temperature = self.temperature_c
        if temperature is None:
            return viscosity_pa_s(temperature_c=_UNSTATED_TEMPERATURE_C)
        salinity = 0.0
        if self.kind == "sea":
            salinity = _salinity_at(temperature, self.density_kg_m3)
        return viscosity_pa_s(temperature_c=temperature, salinity=salinity)


def fresh_water(*, temperature_c: float = 15.0) -> Water:
    """Return fresh water at a temperature [°C], density by `water_density_kg_m3`."""
    density = water_density_kg_m3(temperature_c=temperature_c)
    return Water(kind="fresh", temperature_c=temperature_c, density_kg_m3=density)


def sea_water(*, temperature_c: float = 15.0, salinity: float = SEA_SALINITY) -> Water:
    """Return sea water at a temperature [°C] and practical salinity, by `water_density_kg_m3`."""
    density = water_density_kg_m3(temperature_c=temperature_c, salinity=salinity)
    return Water(kind="sea", temperature_c=temperature_c, density_kg_m3=density)


def water_of_density(density_kg_m3: float) -> Water:
    """Return water of a given density [kg/m³]."""
    return Water(kind="given", temperature_c=None, density_kg_m3=float(density_kg_m3))


def _salinity_at(temperature_c: float, density_kg_m3: float) -> float:
    """Return the practical salinity that gives water its density, by bisection."""
    low, high = _SALINITY_RANGE
    for _ in range(60):
        middle = 0.5 * (low + high)
        density = water_density_kg_m3(temperature_c=temperature_c, salinity=middle)
        low, high = (middle, high) if density < density_kg_m3 else (low, middle)
    return 0.5 * (low + high)


def _check_range(what: str, value: float, limits: tuple[float, float], unit: str) -> None:
    """Refuse a value that is not finite or not within the limits."""
    low, high = limits
    if not (math.isfinite(value) and low <= value <= high):
        raise InputError(f"{what} {value:g} {unit} is outside {low:g} to {high:g} {unit}")
