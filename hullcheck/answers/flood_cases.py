"""Water put in every compartment in turn, and compartments opened to the sea."""

import math
from collections.abc import Sequence

from hullcheck.answers.flood_records import (
    CompartmentWater,
    OpenCase,
    WaterCase,
    WaterPool,
)
from hullcheck.answers.flood_states import Flooder, point_of
from hullcheck.craft.compartment import Compartment, adjacent_pairs
from hullcheck.flotation.flooded import Flooded
from hullcheck.flotation.load import volume_of
from hullcheck.units import MM3_PER_CM3


def water_cases(
    flooder: Flooder, grams: Sequence[float], nose_up_deg: float
) -> tuple[WaterCase, ...]:
    """Return what some grams of water in each compartment do, at rest and run aft.

    Parameters
    ----------
    flooder : Flooder
        Hers; nothing else is aboard.
    grams : sequence of float
        How much [g]; what a compartment does not hold is left out.
    nose_up_deg : float
        The angle it runs aft at [deg].
    """
    density = flooder.craft.water.density_kg_m3
    found = []
    for one in flooder.compartments:
        for mass in grams:
            if volume_of(mass_g=mass, density_kg_m3=density) > one.capacity_mm3:
                continue
            aboard = {one.name: mass}
            case = WaterCase(
                compartment=one.name,
                water_g=mass,
                state=flooder.state(aboard),
                nose_up=flooder.nose_up(aboard, nose_up_deg),
            )
            found.append(case)
    return tuple(found)


def open_cases(flooder: Flooder) -> tuple[OpenCase, ...]:
    """Return how she floats with any one compartment, and any two neighbors, open to the sea."""
    ones = [(one.name,) for one in flooder.compartments]
    twos = [(a.name, b.name) for a, b in adjacent_pairs(flooder.compartments)]
    return tuple(
        OpenCase(compartments=names, state=flooder.state({}, names)) for names in (*ones, *twos)
    )


def compartment_waters(flooder: Flooder, found: Flooded | None) -> tuple[CompartmentWater, ...]:
    """Return every compartment with the water that is in it, as she floats; dry where she sinks."""
    return tuple(_compartment(one, found) for one in flooder.compartments)


def _compartment(one: Compartment, found: Flooded | None) -> CompartmentWater:
    """Return a compartment with its water."""
    aboard = [] if found is None else [w for w in found.water if w.name == one.name]
    sea = [] if found is None else [w for w in found.open_water if w.name == one.name]
    water, surface, centroid = 0.0, None, None
    if aboard:
        water, surface = aboard[0].water_g, aboard[0].surface_height_mm
        centroid = point_of(aboard[0].centroid_mm)
    elif sea and found is not None:
        water, surface = sea[0].mass_g, found.floating.height_mm
        middle = sea[0].centroid_mm
        centroid = point_of(middle) if math.isfinite(float(middle[0])) else None
    pools: tuple[WaterPool, ...] = ()
    if found is not None and surface is not None:
        pools = tuple(
            WaterPool(volume_cm3=pool.volume_mm3 / MM3_PER_CM3, lowest_mm=point_of(pool.lowest_mm))
            for pool in one.pools(found.floating.normal, surface)
        )
    return CompartmentWater(
        name=one.name,
        body=one.body,
        volume_cm3=one.volume_mm3 / MM3_PER_CM3,
        permeability=one.permeability,
        first_station_mm=one.first_station_mm,
        last_station_mm=one.last_station_mm,
        method=one.method,
        foam_cm3=one.foam_mm3 / MM3_PER_CM3,
        open_to_sea=bool(sea),
        water_g=water,
        surface_height_mm=surface,
        centroid_mm=centroid,
        pools=pools,
    )
