"""The conversion factors against their definitions."""

import math

import pytest

from hullcheck import units


def test_lengths_by_definition():
    """An inch is 25.4 mm, a meter 1000.

    The International System of Units (SI), NIST Special Publication 811, 2008, appendix B: value
    from memory; exact by the agreement of 1959.
    """
    assert dict(units.MM_PER_UNIT) == {"mm": 1.0, "cm": 10.0, "m": 1000.0, "inch": 25.4}
    with pytest.raises(TypeError, match="does not support item assignment"):
        units.MM_PER_UNIT["mm"] = 2.0


def test_areas_volumes_and_density_follow_from_length_and_mass():
    """A cm² is 100 mm², a cm³ 1000 mm³, and a liter of 1000 kg/m³ weighs 1000 g."""
    centimeter = units.MM_PER_UNIT["cm"]
    assert centimeter**2 == units.MM2_PER_CM2
    assert centimeter**3 == units.MM3_PER_CM3
    liter_mm3 = (units.MM_PER_UNIT["m"] / 10.0) ** 3
    assert 1000.0 * units.G_PER_MM3_PER_KG_M3 * liter_mm3 == pytest.approx(1000.0, rel=1e-15)


def test_angles_and_gravity():
    """A turn is 360°; standard gravity is 9.80665 m/s².

    3rd General Conference on Weights and Measures, 1901: value from memory, exact by definition.
    """
    assert 2.0 * math.pi * units.DEG_PER_RAD == pytest.approx(360.0, rel=1e-15)
    assert units.STANDARD_GRAVITY_M_S2 == 9.80665
