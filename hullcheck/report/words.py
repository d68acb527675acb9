"""Phrases that text and drawings share: sides in words, never a bare sign."""

from typing import Final

from hullcheck.report.numbers import angle_text, depth_text, height_text, plus_minus_text
from hullcheck.water import Water

LEAST_ANGLE_DEG: Final = 0.05
"""Below this an angle is printed as level."""


def trim_words(trim_deg: float) -> str:
    """Return a trim in words: "0.5° bow up", "level fore and aft"."""
    if abs(trim_deg) < LEAST_ANGLE_DEG:
        return "level fore and aft"
    return f"{angle_text(abs(trim_deg))} bow {'up' if trim_deg > 0.0 else 'down'}"


def heel_words(heel_deg: float) -> str:
    """Return a heel in words: "1.3° to starboard", "level across"."""
    if abs(heel_deg) < LEAST_ANGLE_DEG:
        return "level across"
    return f"{angle_text(abs(heel_deg))} to {'starboard' if heel_deg > 0.0 else 'port'}"


def water_words(water: Water) -> str:
    """Return the water in words: kind and temperature, or the density that was given."""
    if water.temperature_c is None:
        return f"water of {water.density_kg_m3:g} kg/m³"
    return f"{water.kind} water, {water.temperature_c:g} °C"


def height_words(height_mm: float, plus_minus_mm: float | None = None) -> str:
    """Return a height in words: "24 ± 1 mm above the water", "3 mm under water"."""
    text, where = height_text(height_mm), "above the water"
    if height_mm < 0.0:
        text, where = depth_text(-height_mm), "under water"
    if plus_minus_mm is not None:
        text = plus_minus_text(text, plus_minus_mm)
    return f"{text} {where}"
