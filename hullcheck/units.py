"""Every conversion factor, once.

Inside the package lengths are millimeters, masses grams, angles radians, densities kg/m³.
Areas are printed in cm², volumes in cm³, angles in degrees.
"""

import math
from types import MappingProxyType
from typing import Final

MM_PER_UNIT: Final = MappingProxyType({"mm": 1.0, "cm": 10.0, "m": 1000.0, "inch": 25.4})
"""Millimeters in one file unit. The inch is exact (international inch of 1959)."""

MM2_PER_CM2: Final = 100.0
MM3_PER_CM3: Final = 1000.0

G_PER_POUND: Final = 453.59237
G_PER_OUNCE: Final = 28.349523125
"""A sixteenth of the avoirdupois pound; both exact (International Yard and Pound Agreement, 1959).
"""

G_PER_MM3_PER_KG_M3: Final = 1e-6
"""1 kg/m³ is 1e-6 g/mm³."""

DEG_PER_RAD: Final = 180.0 / math.pi

STANDARD_GRAVITY_M_S2: Final = 9.80665
"""Standard acceleration of gravity (3rd CGPM, 1901; exact)."""
