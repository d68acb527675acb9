"""Values as the table behind --all prints them: a fixed number of decimals, in the units shown."""

from types import MappingProxyType
from typing import Final

from hullcheck.answers.float_records import Point
from hullcheck.report.display import G_PER, MM_PER, shown
from hullcheck.report.numbers import MINUS

_LENGTH_DECIMALS: Final = MappingProxyType({"mm": 1, "cm": 2, "in": 3})
_MASS_DECIMALS: Final = MappingProxyType({"g": 1, "oz": 2, "lb": 3, "kg": 3})


def number(value: float, decimals: int = 1) -> str:
    """Return a number with so many decimals and a true minus."""
    text = f"{value:.{decimals}f}"
    return text.replace("-", MINUS) if float(text) != 0.0 else text.lstrip("-")


def bare_length(value_mm: float) -> str:
    """Return a length [mm] in the unit shown, without that unit."""
    return number(shown().length_of(value_mm), _LENGTH_DECIMALS[shown().length])


def length(value_mm: float) -> str:
    """Return a length [mm]."""
    return f"{bare_length(value_mm)} {shown().length}"


def mass(value_g: float) -> str:
    """Return a mass [g]."""
    return f"{number(shown().mass_of(value_g), _MASS_DECIMALS[shown().mass])} {shown().mass}"


def area(value_cm2: float) -> str:
    """Return an area [cm²]."""
    return f"{number(shown().area_of(value_cm2))} {shown().area}"


def volume(value_cm3: float) -> str:
    """Return a volume [cm³]."""
    return f"{number(shown().volume_of(value_cm3))} {shown().volume}"


def moment(value_g_mm: float) -> str:
    """Return a moment [g·mm]."""
    unit = f"{shown().mass}·{shown().length}"
    value = value_g_mm / (G_PER[shown().mass] * MM_PER[shown().length])
    return f"{number(value, 0 if unit == 'g·mm' else 2)} {unit}"


def angle(value_deg: float) -> str:
    """Return an angle."""
    return f"{number(value_deg)}°"


def trim(value_deg: float) -> str:
    """Return a trim with its side in words."""
    return f"{number(abs(value_deg))}° bow {'up' if value_deg >= 0.0 else 'down'}"


def heel(value_deg: float) -> str:
    """Return a heel with its side in words."""
    if round(value_deg, 1) == 0.0:
        return "0.0° across"
    return f"{number(abs(value_deg))}° to {'starboard' if value_deg > 0.0 else 'port'}"


def place(point: Point) -> str:
    """Return a point in body axes."""
    return f"({', '.join(bare_length(value) for value in point)}) {shown().length}"
