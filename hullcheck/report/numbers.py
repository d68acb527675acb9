"""Numbers as they are printed: rounded once, no finer than true, the unit after a space.

Drawings, tables and the terminal print through these, so a value reads the same everywhere, in the
units of `hullcheck.report.display`.
"""

import math
from types import MappingProxyType
from typing import Final

from hullcheck.report.display import G_PER, MM_PER, shown

_NOISE = 1e-9
"""Share of a step by which arithmetic may miss a round number that is meant."""

MINUS = "−"

_HEIGHT_STEPS: Final = MappingProxyType({"mm": 0.5, "cm": 0.05, "in": 0.02})
_ARM_STEPS: Final = MappingProxyType({"mm": (1.0, 0.1), "cm": (0.1, 0.01), "in": (0.02, 0.005)})
"""Of arms and stations, and of arms under a whole millimeter or a tenth of the other units."""
_MASS_STEPS: Final = MappingProxyType({"g": 1.0, "oz": 0.1, "lb": 0.01, "kg": 0.001})
_LEAST_SHARE: Final = 0.85
"""Of an uncertainty that must be left when it is rounded."""
_MOST_OUNCES: Final = 160.0
"""Above 10 lb ounces are counted in pounds."""
_SINKAGE_LENGTHS: Final = MappingProxyType({"mm": 1.0, "cm": 1.0, "in": 0.1})
"""What a load that sinks her is told for; an inch would be more than many have left."""


def height_text(height_mm: float) -> str:
    """Return a height above the water [mm] in text, to 0.5 mm, never more than it is.

    Parameters
    ----------
    height_mm : float
        Negative under water: the depth is then rounded up, so that neither flatters.

    Examples
    --------
    >>> height_text(24.4), height_text(9.74), height_text(-2.6)
    ('24 mm', '9.5 mm', '−3 mm')
    """
    unit = shown().length
    steps = shown().length_of(height_mm) / _HEIGHT_STEPS[unit]
    return f"{_steps(math.floor(steps + _slack(steps)), _HEIGHT_STEPS[unit])} {unit}"


def depth_text(depth_mm: float) -> str:
    """Return how deep an opening or a float lies under water [mm] in text, rounded up to 0.5 mm."""
    unit = shown().length
    steps = shown().length_of(depth_mm) / _HEIGHT_STEPS[unit]
    return f"{_steps(math.ceil(steps - _slack(steps)), _HEIGHT_STEPS[unit])} {unit}"


def draft_text(draft_mm: float) -> str:
    """Return a draft [mm] in text, to the nearest 0.5 mm."""
    unit = shown().length
    steps = shown().length_of(draft_mm) / _HEIGHT_STEPS[unit]
    return f"{_steps(math.floor(steps + 0.5 + _slack(steps)), _HEIGHT_STEPS[unit])} {unit}"


def given_length_text(length_mm: float) -> str:
    """Return a length the user gave [mm], such as a limit, as given; in inches to 0.01 in."""
    unit = shown().length
    value = shown().length_of(length_mm)
    return f"{_signed(f'{value:g}' if unit == 'mm' else _plain(round(value, 2), 2))} {unit}"


def angle_text(angle_deg: float) -> str:
    """Return an angle in text, to 0.1° under 10° and to 1° above.

    Examples
    --------
    >>> angle_text(2.66), angle_text(9.96), angle_text(-22.4), angle_text(-0.04)
    ('2.7°', '10°', '−22°', '0°')
    """
    tenths = round(angle_deg, 1)
    return f"{_plain(tenths, 1) if abs(tenths) < 10.0 else _plain(round(angle_deg), 0)}°"


def arm_text(arm_mm: float) -> str:
    """Return a distance along or across [mm] in text, to 1 mm, to 0.1 mm under 1 mm."""
    unit, value = shown().length, shown().length_of(arm_mm)
    coarse, fine = _ARM_STEPS[unit]
    small = _nearest(value, fine)
    least = 1.0 if unit == "mm" else 0.1
    return f"{_text(small, fine) if abs(small) < least else _text(value, coarse)} {unit}"


def station_text(station_mm: float) -> str:
    """Return a station in text, to 1 mm, without its unit."""
    return _text(shown().length_of(station_mm), _ARM_STEPS[shown().length][0])


def mass_text(mass_g: float) -> str:
    """Return a mass in text: to 1 g, finer under 10 g, in kg from 10 kg.

    Examples
    --------
    >>> mass_text(689.6), mass_text(1.44), mass_text(312400)
    ('690 g', '1.4 g', '312 kg')
    """
    unit, value = _mass(mass_g)
    if unit == "g":
        if abs(value) >= 9_999.5:
            return f"{_figures(value / 1000.0, 3)} kg"
        return f"{_plain(round(value), 0) if abs(value) >= 9.95 else _figures(value, 2)} g"
    step = _MASS_STEPS[unit]
    if abs(value) < 9.95 * step:
        return f"{_figures(value, 2)} {unit}"
    if abs(value) >= 9_999.5 * step:
        return f"{_figures(value, 3)} {unit}"
    return f"{_text(value, step)} {unit}"


def grams_left_text(mass_g: float, plus_minus_g: float | None = None) -> str:
    """Return grams left in text, two figures, rounded down.

    Parameters
    ----------
    mass_g : float
        [g]
    plus_minus_g : float, optional
        How well it is known [g]; printed to one figure, and neither number finer than the other
        bears.

    Examples
    --------
    >>> grams_left_text(318.0), grams_left_text(48.96), grams_left_text(0.0)
    ('310 g', '48 g', '0 g')
    >>> grams_left_text(318.0, 32.0), grams_left_text(118.0, 41.3), grams_left_text(7.3, 40.0)
    ('310 ± 30 g', '110 ± 40 g', '7 ± 40 g')
    """
    unit, value = _mass(max(mass_g, 0.0))
    step = 0.0 if value == 0.0 else _figure_step(value) / 10.0
    if not plus_minus_g:
        return f"{_floored(value, step)} {unit}"
    about = plus_minus_g / G_PER[unit]
    step = max(step, _figure_step(about) / 10.0)
    # Its own first figure, unless the value is printed coarser: 300 ± 30 g.
    wide = max(_figure_step(about), step)
    count = max(round(about / wide), 1)
    # Rounded down by much it would promise what is not known.
    count += count * wide < _LEAST_SHARE * about
    return f"{_floored(value, step)} ± {_trimmed(count * wide)} {unit}"


def area_text(area_cm2: float) -> str:
    """Return an area in text, to 1 cm², finer under 10 cm²."""
    return _amount(shown().area_of(area_cm2), shown().area)


def volume_text(volume_cm3: float) -> str:
    """Return a volume in text, to 1 cm³, finer under 10 cm³."""
    return _amount(shown().volume_of(volume_cm3), shown().volume)


def sinkage_parts(sinkage_g_per_mm: float) -> tuple[str, str]:
    """Return what sinks her, and by how much, in text: ("32 g", "1 mm"), ("2.9 oz", "0.1 in")."""
    unit = shown().length
    length = _SINKAGE_LENGTHS[unit]
    return mass_text(sinkage_g_per_mm * length * MM_PER[unit]), f"{length:g} {unit}"


def sinkage_text(sinkage_g_per_mm: float) -> str:
    """Return the grams that sink her a millimeter, in text: "32 g a mm"."""
    mass, length = sinkage_parts(sinkage_g_per_mm)
    return f"{mass} per {length}" if shown().length == "in" else f"{mass} a {length[2:]}"


def plus_minus_text(value_text: str, uncertainty: float) -> str:
    """Return a printed value with its uncertainty [mm or g] and one unit: "24 ± 1 mm"."""
    number, unit = value_text.split(" ", 1)
    about = uncertainty / {**MM_PER, **G_PER}.get(unit, 1.0)
    figures = 2 if about < 1.0 and unit in {"mm", "g"} else 1
    return f"{number} ± {_figures(about, figures)} {unit}"


def _mass(mass_g: float) -> tuple[str, float]:
    """Return the unit a mass [g] is printed in, pounds for many ounces, and its value in it."""
    value = shown().mass_of(mass_g)
    if shown().mass == "oz" and abs(value) >= _MOST_OUNCES:
        return "lb", mass_g / G_PER["lb"]
    return shown().mass, value


def _amount(value: float, unit: str) -> str:
    """Return an area or a volume: to 1 cm² or 0.1 in², finer under ten of these."""
    step = 0.1 if unit.startswith("in") else 1.0
    return f"{_text(value, step) if value >= 9.95 * step else _figures(value, 2)} {unit}"


def _figure_step(value: float) -> float:
    """Return the step of a positive value's first figure."""
    return float(10.0 ** math.floor(math.log10(value)))


def _floored(value: float, step: float) -> str:
    """Return a value that is not negative, rounded down to a step."""
    return "0" if step == 0.0 else _trimmed(math.floor(value / step + _NOISE) * step)


def _slack(steps: float) -> float:
    """Return the rounding noise a number of steps may carry."""
    return _NOISE * max(1.0, 0.5 * abs(steps))


def _decimals(step: float) -> int:
    """Return how many decimals a step of at most 1 has."""
    return next(n for n in range(4) if abs(step * 10.0**n - round(step * 10.0**n)) < _NOISE)


def _steps(count: int, step: float) -> str:
    """Return a whole number of steps as text."""
    return _plain(count * step, _decimals(step))


def _nearest(value: float, step: float) -> float:
    """Return the nearest whole number of steps."""
    decimals = _decimals(step)
    if step == 10.0**-decimals:
        return round(value, decimals)
    return round(value / step) * step


def _text(value: float, step: float) -> str:
    """Return a value to the nearest step as text."""
    return _plain(_nearest(value, step), _decimals(step))


def _signed(number: str) -> str:
    """Return a number's text with a true minus."""
    return number.replace("-", MINUS)


def _plain(value: float, decimals: int) -> str:
    """Return a number with a true minus, no sign at zero and no idle decimals."""
    text = f"{abs(value):.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"{MINUS}{text}" if value < 0.0 and float(text) != 0.0 else text


def _figures(value: float, count: int) -> str:
    """Return a number to so many figures, whole digits all kept."""
    if value == 0.0:
        return "0"
    decimals = max(0, count - 1 - math.floor(math.log10(abs(value))))
    return _plain(round(value, decimals), decimals)


def _trimmed(value: float) -> str:
    """Return a positive number without rounding noise in its decimals."""
    return f"{value:.10f}".rstrip("0").rstrip(".")
