"""Numbers as they are printed: rounded once, no finer than true, the unit after a space.

Drawings, tables and the terminal print through these, so a value reads the same everywhere.
"""

import math

_NOISE = 1e-9
"""Share of a step by which arithmetic may miss a round number that is meant."""

MINUS = "−"


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
    return f"{_halves(math.floor(2.0 * height_mm + _slack(height_mm)))} mm"


def depth_text(depth_mm: float) -> str:
    """Return how deep an opening or a float lies under water [mm] in text, rounded up to 0.5 mm."""
    return f"{_halves(math.ceil(2.0 * depth_mm - _slack(depth_mm)))} mm"


def draft_text(draft_mm: float) -> str:
    """Return a draft [mm] in text, to the nearest 0.5 mm."""
    return f"{_halves(math.floor(2.0 * draft_mm + 0.5 + _slack(draft_mm)))} mm"


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
    tenths = round(arm_mm, 1)
    return f"{_plain(tenths, 1) if abs(tenths) < 1.0 else _plain(round(arm_mm), 0)} mm"


def station_text(station_mm: float) -> str:
    """Return a station in text, to 1 mm, without its unit."""
    return _plain(round(station_mm), 0)


def mass_text(mass_g: float) -> str:
    """Return a mass in text: to 1 g, finer under 10 g, in kg from 10 kg.

    Examples
    --------
    >>> mass_text(689.6), mass_text(1.44), mass_text(312400)
    ('690 g', '1.4 g', '312 kg')
    """
    if abs(mass_g) >= 9_999.5:
        return f"{_figures(mass_g / 1000.0, 3)} kg"
    return f"{_plain(round(mass_g), 0) if abs(mass_g) >= 9.95 else _figures(mass_g, 2)} g"


def grams_left_text(mass_g: float) -> str:
    """Return grams left in text, two figures, rounded down.

    Examples
    --------
    >>> grams_left_text(318.0), grams_left_text(48.96), grams_left_text(0.0)
    ('310 g', '48 g', '0 g')
    """
    if mass_g <= 0.0:
        return "0 g"
    step = 10.0 ** (math.floor(math.log10(mass_g)) - 1)
    return f"{_trimmed(math.floor(mass_g / step + _NOISE) * step)} g"


def area_text(area_cm2: float) -> str:
    """Return an area in text, to 1 cm², finer under 10 cm²."""
    return f"{_plain(round(area_cm2), 0) if area_cm2 >= 9.95 else _figures(area_cm2, 2)} cm²"


def sinkage_text(sinkage_g_per_mm: float) -> str:
    """Return the grams that sink her a millimeter, in text: "32 g a mm"."""
    return f"{mass_text(sinkage_g_per_mm)} a mm"


def plus_minus_text(value_text: str, uncertainty: float) -> str:
    """Return a printed value with its uncertainty and one unit: "24 ± 1 mm"."""
    number, unit = value_text.split(" ", 1)
    return f"{number} ± {_figures(uncertainty, 1 if uncertainty >= 1.0 else 2)} {unit}"


def _slack(value: float) -> float:
    """Return the rounding noise a value doubled may carry."""
    return _NOISE * max(1.0, abs(value))


def _halves(count: int) -> str:
    """Return a whole number of halves as text."""
    return _plain(count / 2.0, 0 if count % 2 == 0 else 1)


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
