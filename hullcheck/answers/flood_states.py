"""How she floats with water inside: one state after another, in brief."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Self

import numpy as np

from hullcheck.answers.float_records import Pair, Point
from hullcheck.answers.flood_places import BilgePoint
from hullcheck.answers.flood_records import BilgeLevel, FloodedState, NoseUp
from hullcheck.answers.freeboard import Deck, lowest
from hullcheck.answers.limits import limit_checks
from hullcheck.answers.rest import rest_of
from hullcheck.craft.compartment import Compartment, compartment_named
from hullcheck.craft.craft import Craft
from hullcheck.errors import InputError
from hullcheck.flotation.contents import Aboard
from hullcheck.flotation.flooded import Flooded, FloodedRest, float_flooded, water_at
from hullcheck.geometry.arrays import FloatArray

Surfaces = Mapping[str, float]
"""Height of the water inside by compartment, along the normal [mm]."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Flooder:
    """A craft to be floated with water inside; what does not depend on it is worked out once.

    Attributes
    ----------
    craft : Craft
        With a known center of gravity.
    deck : Deck
        What freeboard is read off where she has no opening.
    compartments : tuple of Compartment
        Hers.
    points : tuple of BilgePoint
        Points that should stay dry.
    """

    craft: Craft
    deck: Deck
    compartments: tuple[Compartment, ...]
    points: tuple[BilgePoint, ...] = ()

    @classmethod
    def of(
        cls,
        craft: Craft,
        compartments: tuple[Compartment, ...],
        points: tuple[BilgePoint, ...] = (),
    ) -> Self:
        """Return a craft ready to be flooded."""
        return cls(craft=craft, deck=Deck.alone(craft), compartments=compartments, points=points)

    @property
    def center_mm(self) -> Point:
        """Her center of gravity without water [mm]; InputError where it is not known."""
        center = self.craft.center_of_gravity_mm
        if center is None:
            raise InputError(
                f"{self.craft.name}: where her CG is decides where water runs; give every item of "
                "weights.csv x and z, cg_mm under [craft], or --cg X,Y,Z"
            )
        return center

    def named(self, name: str) -> Compartment:
        """Return a compartment by name."""
        return compartment_named(self.compartments, name)

    def flooded(self, aboard: Mapping[str, float], opened: Sequence[str] = ()) -> FloodedRest:
        """Return where she comes to rest with grams of water in compartments, and others open.

        Names are those of her compartments: see `named`.
        """
        density = self.craft.water.density_kg_m3
        return float_flooded(
            self.craft.skin,
            mass_g=self.craft.mass_g,
            center_of_gravity_mm=self.center_mm,
            density_kg_m3=density,
            aboard=self._aboard(aboard),
            open_to_sea=[one.open_to_sea() for one in self.compartments if one.name in opened],
        )

    def _aboard(self, grams: Mapping[str, float]) -> list[Aboard]:
        """Return water in compartments, in their own order so that sums come out alike."""
        return [
            one.aboard(grams[one.name])
            for one in self.compartments
            if grams.get(one.name, 0.0) > 0.0
        ]

    def state(self, aboard: Mapping[str, float], opened: Sequence[str] = ()) -> FloodedState:
        """Return how she floats with water inside, in brief."""
        return self.state_of(self.flooded(aboard, opened), sum(aboard.values()))

    def state_of(self, rest: FloodedRest, water_g: float) -> FloodedState:
        """Return a rest in brief."""
        craft, found = self.craft, rest.flooded
        if found is None:
            return FloodedState(
                mass_g=craft.mass_g + water_g,
                center_of_gravity_mm=None,
                rest="sinks",
                short_by_g=rest.short_g,
                limits=limit_checks(craft.limits, freeboard_mm=None, trim_deg=None, heel_deg=None),
            )
        floating = found.floating
        low = lowest(craft, self.deck, floating)
        height = None if low is None else low.height_mm
        lever, loss = floating.metacentric_height_mm, found.free_surface_loss_mm
        return FloodedState(
            mass_g=found.mass_g,
            center_of_gravity_mm=point_of(found.center_of_gravity_mm),
            rest=rest_of(craft, floating),
            trim_deg=floating.trim_deg,
            heel_deg=floating.heel_deg,
            height_mm=floating.height_mm,
            normal=point_of(floating.normal),
            freeboard_mm=height,
            at=None if low is None else low.name,
            metacentric_height_mm=None if lever is None else _pair(lever),
            free_surface_loss_mm=_pair(loss) if found.water else None,
            limits=limit_checks(
                craft.limits,
                freeboard_mm=height,
                trim_deg=floating.trim_deg,
                heel_deg=floating.heel_deg,
            ),
            bilge=levels(self.points, floating.normal, surfaces_of(found), floating.height_mm),
        )

    def nose_up(self, aboard: Mapping[str, float], trim_deg: float) -> NoseUp:
        """Return where water in compartments runs at a trim [deg], and the CG with it."""
        craft = self.craft
        moved = water_at(
            mass_g=craft.mass_g,
            center_of_gravity_mm=self.center_mm,
            aboard=self._aboard(aboard),
            density_kg_m3=craft.water.density_kg_m3,
            trim_deg=trim_deg,
        )
        most = max(moved.water, key=lambda one: one.water_g)
        center = point_of(moved.center_of_gravity_mm)
        pools = self.named(most.name).pools(most.normal, most.surface_height_mm)
        there = [point for point in self.points if point.compartment == most.name]
        return NoseUp(
            trim_deg=trim_deg,
            center_of_gravity_mm=center,
            behind_band_mm=behind_mm(craft, center[0]),
            surface_height_mm=most.surface_height_mm,
            centroid_mm=point_of(most.centroid_mm),
            pools=len(pools),
            bilge=levels(there, most.normal, {most.name: most.surface_height_mm}, None),
        )


def surfaces_of(found: Flooded) -> Surfaces:
    """Return the height of the water's surface in each compartment that holds any [mm]."""
    inside = {one.name: one.surface_height_mm for one in found.water}
    inside |= {one.name: found.floating.height_mm for one in found.open_water}
    return inside


def levels(
    points: Sequence[BilgePoint],
    normal: FloatArray,
    surfaces: Surfaces,
    sea_mm: float | None,
) -> tuple[BilgeLevel, ...]:
    """Return how high water stands at points.

    Parameters
    ----------
    points : sequence of BilgePoint
    normal : ndarray, shape (3,)
        Out of the water.
    surfaces : mapping of str to float
        Heights of the water inside, by compartment [mm].
    sea_mm : float or None
        Height of the sea, which wets what is in no compartment [mm]; None where it plays no part.
    """
    found = []
    for one in points:
        surface = sea_mm if one.compartment is None else surfaces.get(one.compartment)
        level = None if surface is None else surface - float(np.array(one.point_mm) @ normal)
        found.append(
            BilgeLevel(
                name=one.name,
                point_mm=one.point_mm,
                compartment=one.compartment,
                level_mm=level,
                wet=level is not None and level > 0.0,
            )
        )
    return tuple(found)


def behind_mm(craft: Craft, station_mm: float) -> float | None:
    """Return how far a station is behind the band of her CG [mm]; negative ahead of it, 0 in it."""
    if craft.cg_range_mm is None:
        return None
    low, high = craft.cg_range_mm
    return max(station_mm - high, 0.0) - max(low - station_mm, 0.0)


def point_of(values: FloatArray) -> Point:
    """Return an array of three as a plain tuple, without negative zeros."""
    x, y, z = (float(v) + 0.0 for v in values)
    return (x, y, z)


def _pair(values: tuple[float, float]) -> Pair:
    """Return across and along as a record."""
    return Pair(transverse=values[0], longitudinal=values[1])
