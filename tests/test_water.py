"""Density and viscosity of water against published tables, and what is refused."""

import math

import numpy as np
import pytest
from hypothesis import given
from strategies import uniform

from hullcheck.errors import HullcheckError, InputError
from hullcheck.water import (
    fresh_water,
    sea_water,
    viscosity_pa_s,
    water_density_kg_m3,
    water_of_density,
)

EOS_80 = [
    (0.0, 5.0, 999.96675),
    (0.0, 25.0, 997.04796),
    (35.0, 5.0, 1027.67547),
    (35.0, 25.0, 1023.34306),
]

FRESH = [
    (0.0, 999.8395),
    (4.0, 999.9720),
    (10.0, 999.7026),
    (15.0, 999.1026),
    (20.0, 998.2071),
    (25.0, 997.0479),
    (30.0, 995.6502),
]


@pytest.mark.parametrize(("salinity", "temperature_c", "density"), EOS_80)
def test_eos_80_check_set(salinity, temperature_c, density):
    """The check values of the equation of state at atmospheric pressure, all five decimals.

    Fofonoff, N. P., and R. C. Millard, Algorithms for computation of fundamental properties of
    seawater, UNESCO Technical Papers in Marine Science 44, 1983; Millero, F. J., and A. Poisson,
    1981. SEEN.
    """
    found = water_density_kg_m3(temperature_c=temperature_c, salinity=salinity)
    assert found == pytest.approx(density, abs=5e-6)  # half a unit of the last printed digit


@given(temperature=uniform(-2.0, 40.0), salinity=uniform(0.0, 42.0))
def test_eos_80_polynomial(temperature, salinity):
    """The polynomial as it is printed, power by power, evaluated by numpy.

    Fofonoff and Millard, UNESCO Technical Papers in Marine Science 44, 1983. SEEN. The sums differ
    in order only: 1e-11 of 1000.
    """
    pure = [6.536332e-9, -1.120083e-6, 1.001685e-4, -9.095290e-3, 6.793952e-2, 999.842594]
    linear = [5.3875e-9, -8.2467e-7, 7.6438e-5, -4.0899e-3, 8.24493e-1]
    root = [-1.6546e-6, 1.0227e-4, -5.72466e-3]
    truth = (
        np.polyval(pure, temperature)
        + salinity * np.polyval(linear, temperature)
        + salinity**1.5 * np.polyval(root, temperature)
        + 4.8314e-4 * salinity**2
    )
    found = water_density_kg_m3(temperature_c=temperature, salinity=salinity)
    assert found == pytest.approx(truth, abs=1e-8)


@pytest.mark.parametrize(("temperature_c", "density"), FRESH)
def test_fresh_water_against_the_standard_table(temperature_c, density):
    """Fresh water from 0 to 30 °C in the standard table of water density.

    Table of the density of air-free water in any handbook of physics (no single source). SEEN.
    Another table than EOS-80: 0.1 kg/m³ is allowed across tables; 0.005 is what they differ by.
    """
    found = fresh_water(temperature_c=temperature_c)
    assert found.density_kg_m3 == pytest.approx(density, abs=0.1)
    assert abs(found.density_kg_m3 - density) < 0.005
    assert (found.kind, found.temperature_c) == ("fresh", temperature_c)


def test_ittc_pair_at_15_degrees():
    """Fresh 999.1026 and sea 1026.021 kg/m³ at 15 °C, the towing tanks' pair.

    ITTC Recommended Procedure 7.5-02-01-03, Fresh Water and Seawater Properties. SEEN. Another
    table than EOS-80: they differ by up to 0.05 kg/m³ in the sea, 0.1 is allowed.
    """
    assert fresh_water(temperature_c=15.0).density_kg_m3 == pytest.approx(999.1026, abs=0.1)
    assert sea_water(temperature_c=15.0).density_kg_m3 == pytest.approx(1026.021, abs=0.1)


def test_fresh_water_in_pounds_per_gallon():
    """Fresh water weighs 8.34 lb in a US gallon.

    FAA-H-8083-23, Seaplane, Skiplane, and Float/Ski Equipped Helicopter Operations Handbook,
    p. 5-1. SEEN. The gallon is 231 cubic inches, the pound 0.45359237 kg, both exact.
    """
    gallon_m3 = 231.0 * 0.0254**3
    pounds = fresh_water(temperature_c=15.0).density_kg_m3 * gallon_m3 / 0.45359237
    assert pounds == pytest.approx(8.34, abs=0.005)


def test_defaults_are_said_on_the_record():
    """Fresh and sea water stand at 15 °C when nothing is said; a given density has none."""
    assert fresh_water() == fresh_water(temperature_c=15.0)
    assert sea_water() == sea_water(temperature_c=15.0, salinity=35.0)
    given_water = water_of_density(1011.5)
    assert (given_water.kind, given_water.temperature_c) == ("given", None)
    assert given_water.density_kg_m3 == 1011.5


@pytest.mark.parametrize("value", [1.0, 0.998, 1.025])
def test_a_density_in_g_per_cm3_is_asked_about(value):
    """A density near 1 is no water in kg/m³: g/cm³ is asked about, with the value meant."""
    with pytest.raises(
        InputError, match=rf"{value:g} kg/m³ looks like g/cm³: did you mean {value * 1000:g} kg/m³"
    ):
        water_of_density(value)


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (0.0, "0"),
        (-1000.0, "-1000"),
        (499.0, "499"),
        (2001.0, "2001"),
        (math.nan, "nan"),
        (math.inf, "inf"),
    ],
)
def test_a_density_no_water_has_is_refused(value, said):
    """A density out of range, not a number or infinite is refused with the value and the limits."""
    with pytest.raises(InputError, match=rf"density {said} kg/m³ is outside 500 to 2000 kg/m³"):
        water_of_density(value)


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ({"temperature_c": 41.0}, r"water temperature 41 °C is outside -2 to 40 °C"),
        ({"temperature_c": -2.5}, r"water temperature -2.5 °C is outside -2 to 40 °C"),
        ({"temperature_c": math.nan}, r"water temperature nan °C"),
        ({"temperature_c": 15.0, "salinity": 43.0}, r"salinity 43 .* is outside 0 to 42"),
        ({"temperature_c": 15.0, "salinity": -1.0}, r"salinity -1 .* is outside 0 to 42"),
        ({"temperature_c": 15.0, "salinity": math.inf}, r"salinity inf"),
    ],
)
def test_out_of_range_is_refused(arguments, message):
    """Outside what the equation was fitted over it says so, with value and limits."""
    with pytest.raises(InputError, match=message) as caught:
        water_density_kg_m3(**arguments)
    assert isinstance(caught.value, HullcheckError)
    assert isinstance(caught.value, ValueError)


def test_ittc_viscosities_at_15_degrees():
    """Fresh 1.13858e-6 and sea 1.18831e-6 m²/s at 15 °C, the towing tanks' pair, times densities.

    ITTC Recommended Procedure 7.5-02-01-03, Fresh Water and Seawater Properties. SEEN. Fresh water
    there is IAPWS's own: they differ by 1e-5, and 2e-5 is allowed. In the sea both sources
    state 1 to 1.5 %; they differ by 0.07 %, 0.1 % is allowed.
    """
    assert fresh_water().viscosity_pa_s == pytest.approx(1.13858e-6 * 999.1026, rel=2e-5)
    assert sea_water().viscosity_pa_s == pytest.approx(1.18831e-6 * 1026.021, rel=1e-3)


@pytest.mark.parametrize(
    ("temperature_c", "viscosity_mpa_s"),
    [(0.0, 1.792), (5.0, 1.518), (10.0, 1.306), (20.0, 1.0016), (25.0, 0.8900), (40.0, 0.6527)],
)
def test_fresh_viscosity_against_the_standard_table(temperature_c, viscosity_mpa_s):
    """Fresh water from 0 to 40 °C in the standard table, 1.0016 mPa·s at 20 °C (ISO/TR 3666).

    Table of the viscosity of water in any handbook of physics. Values from memory; half a unit of
    the last digit, and 1e-4 for the differences between tables.
    """
    found = 1e3 * viscosity_pa_s(temperature_c=temperature_c)
    assert found == pytest.approx(viscosity_mpa_s, rel=5e-4)


@given(temperature=uniform(0.0, 40.0))
def test_fresh_viscosity_by_two_equations(temperature):
    """Another published equation for fresh water agrees from 0 to 40 °C.

    Sharqawy, Lienhard and Zubair, Desalination and Water Treatment 16, 2010, eq. 23: stated good to
    0.05 % against IAPWS 2008. SEEN in programs that quote it.
    """
    other = 4.2844e-5 + 1.0 / (0.157 * (temperature + 64.993) ** 2 - 91.296)
    assert viscosity_pa_s(temperature_c=temperature) == pytest.approx(other, rel=5e-4)


def test_salt_makes_water_thicker():
    """At 25 °C and salinity 40 Millero's equation gives 0.96541 mPa·s.

    Millero, F. J., in The Sea, vol. 5, 1974; check value quoted by programs that use it, SEEN
    there. Another equation than ours: both state about 1 %, 0.5 % is allowed.
    """
    found = viscosity_pa_s(temperature_c=25.0, salinity=40.0)
    assert found == pytest.approx(9.6541e-4, rel=5e-3)


@given(temperature=uniform(-2.0, 40.0), salinity=uniform(0.0, 42.0))
def test_the_viscosity_of_a_water(temperature, salinity):
    """A water knows its viscosity by its density, whatever its salinity; halved to the last bit."""
    water = sea_water(temperature_c=temperature, salinity=salinity)
    direct = viscosity_pa_s(temperature_c=temperature, salinity=salinity)
    assert water.viscosity_pa_s == pytest.approx(direct, rel=1e-10)
    fresh = fresh_water(temperature_c=temperature)
    assert fresh.viscosity_pa_s == viscosity_pa_s(temperature_c=temperature)


def test_the_viscosity_of_a_given_density():
    """Where only a density was given, viscosity is that of fresh water at 15 °C."""
    assert water_of_density(1025.0).viscosity_pa_s == viscosity_pa_s(temperature_c=15.0)


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ({"temperature_c": 41.0}, r"water temperature 41 °C is outside -2 to 40 °C"),
        ({"temperature_c": 15.0, "salinity": -1.0}, r"salinity -1 .* is outside 0 to 42"),
    ],
)
def test_a_viscosity_out_of_range_is_refused(arguments, message):
    """Outside the ranges it says so, with value and limits."""
    with pytest.raises(InputError, match=message):
        viscosity_pa_s(**arguments)
