"""Phrases about weight that several lines share."""

from collections.abc import Iterable
from typing import Final

from hullcheck.answers.weights_records import Cost
from hullcheck.report import table_values as show
from hullcheck.report.fitting import fitting
from hullcheck.report.numbers import MINUS, angle_text, mass_text
from hullcheck.report.words import shown_name

LABEL: Final = 16
WIDTH: Final = 80
SMALL_MM: Final = 0.05
SMALL_G: Final = 0.05
_SMALL_DEG: Final = 0.05
_DIGITS_G: Final = 10.0


def cost_words(cost: Cost, at: str | None) -> str:
    """Return what something costs: "pushrod exit 0.9 mm lower, 0.1° more bow up"."""
    said = []
    height, trim, heel = cost.freeboard_mm, cost.trim_deg, cost.heel_deg
    if height is not None and abs(height) >= SMALL_MM:
        what = shown_name(at, size=False) if at else "the hull"
        said.append(f"{what} {show.length(abs(height))} {'lower' if height < 0.0 else 'higher'}")
    if trim is not None and abs(trim) >= _SMALL_DEG:
        said.append(f"{angle_text(abs(trim))} more bow {'up' if trim > 0.0 else 'down'}")
    if heel is not None and abs(heel) >= _SMALL_DEG:
        side = "starboard" if heel > 0.0 else "port"
        said.append(f"{angle_text(abs(heel))} more to {side}")
    return ", ".join(said) or "nothing that shows"


def grams_text(mass_g: float) -> str:
    """Return grams in text, without sign: to 1 g, to 0.1 g under 10 g."""
    if abs(mass_g) >= _DIGITS_G:
        return mass_text(abs(mass_g))
    return show.mass(abs(mass_g)).replace(".0 ", " ")


def known_text(value_text: str, about_text: str) -> str:
    """Return a printed value with its ± and one unit, neither finer than the other bears.

    Examples
    --------
    >>> known_text("310.1 mm", "0.7 mm"), known_text("1990.4 g", "1.4 g")
    ('310.1 ± 0.7 mm', '1990 ± 1 g')
    """
    value, unit = value_text.rsplit(" ", 1)
    about = about_text.rsplit(" ", 1)[0]
    if float(about) >= 1.0:
        value, about = (show.number(float(v.replace(MINUS, "-")), 0) for v in (value, about))
    return f"{value} ± {about} {unit}"


def fitted(texts: Iterable[str], width: int = WIDTH - LABEL) -> str:
    """Return the first text that fits behind a label; the last one cut if none does."""
    return fitting(texts, width)
