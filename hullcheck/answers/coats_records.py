"""What coats and soaked walls weigh and do. Attribute names are the keys of the JSON."""

import math
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from hullcheck.answers.afloat import Afloat
from hullcheck.answers.float_records import Caveat, Point
from hullcheck.errors import InputError

Sides = Literal["outside", "inside", "both"]

USUAL_G_PER_M2: Final = MappingProxyType(
    {
        "epoxy, brushed": (100.0, 150.0),
        "polyurethane, two coats": (60.0, 80.0),
        "glass of 25 g/m² with resin": (50.0, 60.0),
        "spray paint": (50.0, 100.0),
    }
)
"""Order of magnitude of coats, least and most, each side [g/m²] (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Coat:
    """A coat of so many grams a square meter.

    Attributes
    ----------
    name : str
        What it is called.
    g_per_m2 : float
        Mass a square meter and side, dry [g/m²].
    sides : {"outside", "inside", "both"}
        The inside is taken to be as large as the outside: walls are thin.
    bodies, parts : tuple of str
        Names of those it goes on; with neither, all of her. A part is named as its file.
    """

    name: str = "coat"
    g_per_m2: float
    sides: Sides = "outside"
    bodies: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a coat that weighs nothing or is put on no side."""
        if not (math.isfinite(self.g_per_m2) and self.g_per_m2 > 0.0):
            raise InputError(f"{self.name}: {self.g_per_m2:g} g/m²: must be above 0")
        if self.sides not in {"outside", "inside", "both"}:
            raise InputError(f"{self.name}: sides {self.sides!r} is none of outside, inside, both")


@dataclass(frozen=True, slots=True, kw_only=True)
class SkinArea:
    """Outer skin of a part, or of a whole body where it has no parts, without invented faces.

    Attributes
    ----------
    body : str
    part : str or None
        None for a body of offsets or of one closed mesh.
    area_cm2 : float
        [cm²]
    center_mm : tuple of float
        Center of that area in body axes [mm].
    """

    body: str
    part: str | None
    area_cm2: float
    center_mm: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Added:
    """Grams put on her skin, or soaked up by it, at the center of its area.

    `of` is the coat's name, or "water soaked up"; `area_cm2` counts both sides where both are
    coated.
    """

    of: str
    body: str
    part: str | None
    area_cm2: float
    mass_g: float
    center_mm: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatsAnswer:
    """What is added, and how she floats before and after.

    Attributes
    ----------
    added : tuple of Added
        By part.
    mass_g : float
        All of that [g].
    center_mm : tuple of float
        Its center [mm].
    before, after : Afloat
        How she floats without and with it.
    center_moves_mm : tuple of float
        What it does to her CG along each axis [mm].
    freeboard_changes_mm, trim_changes_deg, heel_changes_deg : float or None
        After less before; None where she sinks [mm, deg].
    warnings : tuple of Caveat
    """

    added: tuple[Added, ...]
    mass_g: float
    center_mm: Point
    before: Afloat
    after: Afloat
    center_moves_mm: Point
    freeboard_changes_mm: float | None
    trim_changes_deg: float | None
    heel_changes_deg: float | None
    warnings: tuple[Caveat, ...] = ()
