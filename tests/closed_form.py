"""What the tests against closed forms share: the water, exact comparison, a skin held level."""

import numpy as np
import pytest

from hullcheck.flotation.floating import held_at

FRESH = 1e-3  # grams in a cubic millimeter at 1000 kg/m³
UP = np.array([0.0, 0.0, 1.0])
FOURFOLD = 0.02


def exact(truth):
    """Return what compares equal to a number, or to a list of them, within 1e-9."""
    return pytest.approx(truth, rel=1e-9, abs=1e-9)


def level(skin, volume_mm3, **attitude):
    """Return a skin held in fresh water with a volume under it."""
    return held_at(skin, mass_g=FRESH * volume_mm3, density_kg_m3=1000.0, **attitude)
