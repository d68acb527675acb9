"""How she floats swamped, as it is told."""

from dataclasses import dataclass
from typing import Literal

from hullcheck.answers.float_records import Point

SolidKind = Literal["wall", "item", "foam", "sealed"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Solid:
    """Something that still displaces water when she is swamped.

    Attributes
    ----------
    name : str
        A body's wall, an item, foam, a sealed compartment.
    kind : str
        "wall", "item", "foam" or "sealed".
    volume_cm3 : float
        What it displaces wholly under [cm³].
    center_mm : tuple of float
        Its center [mm].
    told_by : str
        Where its volume comes from.
    """

    name: str
    kind: SolidKind
    volume_cm3: float
    center_mm: Point
    told_by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepDry:
    """The foam that keeps a named point out of the water when she is swamped.

    Attributes
    ----------
    name : str
        The point.
    point_mm : tuple of float
        Where it is [mm].
    height_mm : float or None
        Its height above the water without more foam [mm]; None where she sinks.
    foam_cm3 : float or None
        The least foam that keeps it dry [cm³]; 0 where it is dry without; None where no amount
        that was tried does.
    most_tried_cm3 : float
        The most foam that was tried [cm³].
    foam_mm : tuple of float
        Where that foam is [mm].
    """

    name: str
    point_mm: Point
    height_mm: float | None
    foam_cm3: float | None
    most_tried_cm3: float
    foam_mm: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Swamped:
    """How she floats with every compartment open to the sea that is not sealed.

    Attributes
    ----------
    sealed : tuple of str
        Compartments that stay closed.
    solids : tuple of Solid
        What still displaces.
    volume_cm3 : float
        All of that [cm³].
    rest : str
        "upright", "listing", "on starboard tip float", "on port tip float", "capsized" or "sinks".
    short_by_g : float or None
        How many grams she is too heavy [g]; None where she floats.
    foam_to_float_cm3 : float or None
        The foam that would just hold her up, wherever it is [cm³]; None where she floats.
    trim_deg, heel_deg : float or None
        Positive bow up, starboard down [deg]; None where she sinks.
    height_mm, normal : float and tuple of float, or None
        The water's surface: the points p with normal·p = height_mm [mm].
    highest_mm : float or None
        Height of her highest point above the water [mm].
    keep_dry : KeepDry or None
        The foam that keeps a point dry; None without a point.
    """

    sealed: tuple[str, ...]
    solids: tuple[Solid, ...]
    volume_cm3: float
    rest: str
    short_by_g: float | None
    foam_to_float_cm3: float | None
    trim_deg: float | None
    heel_deg: float | None
    height_mm: float | None
    normal: Point | None
    highest_mm: float | None
    keep_dry: KeepDry | None

    @property
    def floats(self) -> bool:
        """Whether anything of her stays above the water."""
        return self.rest != "sinks"
