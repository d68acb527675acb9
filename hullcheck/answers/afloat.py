"""How a craft floats with one load after another, in brief: what tables of loads ask for."""

from dataclasses import dataclass
from typing import Self

from hullcheck.answers.float_records import LimitCheck, Point
from hullcheck.answers.freeboard import Deck, height_mm, lowest
from hullcheck.answers.limits import limit_checks
from hullcheck.answers.rest import rest_of
from hullcheck.craft.craft import Craft
from hullcheck.flotation.floating import Floating, float_at, short_by_g


@dataclass(frozen=True, slots=True, kw_only=True)
class Afloat:
    """How she floats with a load, in brief.

    Attributes
    ----------
    mass_g : float
        All-up mass [g].
    center_of_gravity_mm : tuple of float
        In body axes [mm].
    rest : str
        "upright", "listing", "on starboard tip float", "on port tip float", "capsized" or "sinks".
    freeboard_mm, at : float, str, or None
        Height above the water of the lowest opening that is not sealed, or of the hull's top where
        it is least [mm], negative under water, and what that is; None where she sinks.
    trim_deg, heel_deg : float or None
        Positive bow up, starboard down [deg]; None where she sinks.
    short_by_g : float or None
        How many grams too heavy she is [g]; None where she floats.
    limits : tuple of LimitCheck
        The sheet's limits about how she floats.
    """

    mass_g: float
    center_of_gravity_mm: Point
    rest: str
    freeboard_mm: float | None = None
    at: str | None = None
    trim_deg: float | None = None
    heel_deg: float | None = None
    short_by_g: float | None = None
    limits: tuple[LimitCheck, ...] = ()

    @property
    def holds(self) -> bool:
        """Whether she floats on her feet and keeps every limit."""
        return self.rest not in {"sinks", "capsized"} and all(check.ok for check in self.limits)


@dataclass(frozen=True, kw_only=True, eq=False)
class Refloater:
    """A craft to be floated with many loads; what does not depend on the load is worked out once.

    Attributes
    ----------
    craft : Craft
        Whose bodies, water, openings and limits count; her own mass and center do not.
    deck : Deck
        What freeboard is read off where she has no opening.

    Examples
    --------
    >>> import hullcheck
    >>> from hullcheck.answers.afloat import Refloater
    >>> craft = hullcheck.load("examples/twin-floats").craft()
    >>> refloater = Refloater.of(craft)
    >>> refloater.at(craft.mass_g, craft.center_of_gravity_mm).rest
    'upright'
    >>> refloater.at(100.0 * craft.mass_g, craft.center_of_gravity_mm).rest
    'sinks'
    """

    craft: Craft
    deck: Deck

    @classmethod
    def of(cls, craft: Craft) -> Self:
        """Return a craft ready to be floated with many loads."""
        return cls(craft=craft, deck=Deck.alone(craft))

    def floating(self, mass_g: float, center_of_gravity_mm: Point) -> Floating | None:
        """Return where she comes to rest, set down upright; None where she sinks.

        Raises
        ------
        SolverError
            If no rest was found.
        """
        density = self.craft.water.density_kg_m3
        if short_by_g(self.craft.skin, mass_g=mass_g, density_kg_m3=density) >= 0.0:
            return None
        return float_at(
            self.craft.skin,
            mass_g=mass_g,
            center_of_gravity_mm=center_of_gravity_mm,
            density_kg_m3=density,
        ).floating

    def height_mm(self, floating: Floating) -> float:
        """Return the height of whatever is lowest above the water [mm]; 0 where nothing is."""
        return height_mm(self.craft, self.deck, floating)

    def at(self, mass_g: float, center_of_gravity_mm: Point) -> Afloat:
        """Return how she floats with a load, set down upright.

        Raises
        ------
        SolverError
            If no rest was found.
        """
        craft, floating = self.craft, self.floating(mass_g, center_of_gravity_mm)
        if floating is None:
            density = craft.water.density_kg_m3
            return Afloat(
                mass_g=mass_g,
                center_of_gravity_mm=center_of_gravity_mm,
                rest="sinks",
                short_by_g=short_by_g(craft.skin, mass_g=mass_g, density_kg_m3=density),
                limits=limit_checks(craft.limits, freeboard_mm=None, trim_deg=None, heel_deg=None),
            )
        low = lowest(craft, self.deck, floating)
        height = None if low is None else low.height_mm
        return Afloat(
            mass_g=mass_g,
            center_of_gravity_mm=center_of_gravity_mm,
            rest=rest_of(craft, floating),
            freeboard_mm=height,
            at=None if low is None else low.name,
            trim_deg=floating.trim_deg,
            heel_deg=floating.heel_deg,
            limits=limit_checks(
                craft.limits,
                freeboard_mm=height,
                trim_deg=floating.trim_deg,
                heel_deg=floating.heel_deg,
            ),
        )
