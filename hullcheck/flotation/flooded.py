"""Where she floats with water aboard or compartments open to the sea, in body axes.

Water of a given mass runs to the low side of its compartment and lies parallel to the sea: it is
part of the load and softens her. A compartment open to the sea is no load: it displaces nothing.
"""

import math
from collections.abc import Sequence

import numpy as np

from hullcheck.errors import InputError
from hullcheck.flotation.contents import Aboard, WaterAboard, basins_of, center_with
from hullcheck.flotation.descent import NEUTRAL, Descent, State
from hullcheck.flotation.draft import settle
from hullcheck.flotation.equilibrium import settle_down, stable_attitudes
from hullcheck.flotation.floating import Floating, floating_of, record_under
from hullcheck.flotation.flooded_records import Flooded, FloodedRest, WaterMoved
from hullcheck.flotation.flooded_tree import FloodedTree, OpenToSea, open_water
from hullcheck.flotation.load import Load, mass_of
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.attitude import heel_of, level_directions, normal_of, trim_of
from hullcheck.geometry.skin import Skin

__all__ = [
    "Flooded",
    "FloodedRest",
    "WaterMoved",
    "float_flooded",
    "flooded_at",
    "flooded_descent",
    "held_flooded",
    "water_at",
]

Place = FloatArray | tuple[float, float, float]


def float_flooded(
    skin: Skin,
    *,
    mass_g: float,
    center_of_gravity_mm: Place,
    density_kg_m3: float = 1000.0,
    aboard: Sequence[Aboard] = (),
    open_to_sea: Sequence[OpenToSea] = (),
    all_attitudes: bool = False,
) -> FloodedRest:
    """Return where a load floats with water inside, set down upright.

    Parameters
    ----------
    skin : Skin
        Closed bodies in body axes.
    mass_g : float
        Without any water inside [g].
    center_of_gravity_mm : array_like, shape (3,)
        Of that mass, in body axes [mm].
    density_kg_m3 : float, default 1000
        Density of the sea, and of water aboard that does not say its own [kg/m³].
    aboard : sequence of Aboard, optional
        Water of given mass shut in compartments.
    open_to_sea : sequence of OpenToSea, optional
        Compartments that fill to the level outside.
    all_attitudes : bool, default False
        Whether to look for every other stable attitude too.

    Returns
    -------
    FloodedRest
        Sinking is an answer and no error.

    Raises
    ------
    InputError
        If the mass is not above 0, water does not fit where it is to be, or a compartment is both
        open and holds water of its own.
    SolverError
        If no rest was found.
    """
    descent = flooded_descent(
        skin,
        mass_g=mass_g,
        center_of_gravity_mm=center_of_gravity_mm,
        density_kg_m3=density_kg_m3,
        aboard=aboard,
        open_to_sea=open_to_sea,
    )
    short = _short_by_g(descent)
    if short >= 0.0:
        return FloodedRest(short_g=short, flooded=None)
    settled = settle_down(descent)
    states: tuple[State, ...] = (settled.state,)
    if all_attitudes:
        states = stable_attitudes(descent, settled.state)
    found = tuple(flooded_at(skin, descent, state, open_to_sea) for state in states)
    return FloodedRest(
        short_g=short,
        flooded=found[0],
        attitudes=found,
        upright_is_stable=settled.upright_slope_mm > NEUTRAL * descent.length,
        either_side=settled.either_side,
        neutral=settled.neutral,
    )


def flooded_descent(
    skin: Skin,
    *,
    mass_g: float,
    center_of_gravity_mm: Place,
    density_kg_m3: float = 1000.0,
    aboard: Sequence[Aboard] = (),
    open_to_sea: Sequence[OpenToSea] = (),
) -> Descent:
    """Return the solver for a load with water inside, for righting arms and held heels.

    Parameters and errors are those of `float_flooded`; that she floats is the caller's to know.
    """
    both = sorted({one.name for one in aboard} & {one.name for one in open_to_sea})
    if both:
        raise InputError(
            f"{both[0]}: is open to the sea, so it cannot hold a given mass of water too"
        )
    load = Load(
        mass_g=mass_g,
        center_of_gravity_mm=np.asarray(center_of_gravity_mm, dtype=np.float64),
        density_kg_m3=density_kg_m3,
    )
    tree = FloodedTree(skin.tree, open_to_sea) if open_to_sea else skin.tree
    return Descent(tree, load, aboard)


def flooded_at(
    skin: Skin, descent: Descent, state: State, open_to_sea: Sequence[OpenToSea] = ()
) -> Flooded:
    """Return a state of `flooded_descent` as a record in body axes.

    Parameters
    ----------
    skin : Skin
        That the descent was made with.
    descent : Descent
        As `flooded_descent` made it.
    state : State
        One of its states.
    open_to_sea : sequence of OpenToSea, optional
        Those that it was made with.
    """
    return _flooded(descent, floating_of(skin, state), state.water, open_to_sea)


def held_flooded(
    skin: Skin,
    *,
    mass_g: float,
    center_of_gravity_mm: Place,
    density_kg_m3: float = 1000.0,
    aboard: Sequence[Aboard] = (),
    open_to_sea: Sequence[OpenToSea] = (),
    trim_deg: float = 0.0,
    heel_deg: float = 0.0,
) -> Flooded | None:
    """Return a load with water inside, its attitude held: the draft and the water are free.

    Parameters
    ----------
    skin, mass_g, center_of_gravity_mm, density_kg_m3, aboard, open_to_sea
        As in `float_flooded`.
    trim_deg, heel_deg : float, default 0
        Attitude to hold [deg].

    Returns
    -------
    Flooded or None
        None where she sinks. Its center of buoyancy and of gravity need not be in one plumb line.

    Raises
    ------
    InputError
        As `float_flooded` does.
    """
    descent = flooded_descent(
        skin,
        mass_g=mass_g,
        center_of_gravity_mm=center_of_gravity_mm,
        density_kg_m3=density_kg_m3,
        aboard=aboard,
        open_to_sea=open_to_sea,
    )
    if _short_by_g(descent) >= 0.0:
        return None
    normal = normal_of(trim=math.radians(trim_deg), heel=math.radians(heel_deg))
    height, moments = settle(descent.tree, normal, descent.volume)
    floating = record_under(skin, normal, height, moments)
    water = descent.water_at(normal)
    return _flooded(descent, floating, water, open_to_sea)


def water_at(
    *,
    mass_g: float,
    center_of_gravity_mm: Place,
    aboard: Sequence[Aboard],
    density_kg_m3: float = 1000.0,
    trim_deg: float = 0.0,
    heel_deg: float = 0.0,
) -> WaterMoved:
    """Return where water aboard runs to at an attitude, and the load with it; no sea is needed.

    Parameters
    ----------
    mass_g : float
        Without the water [g].
    center_of_gravity_mm : array_like, shape (3,)
        Of that mass, in body axes [mm].
    aboard : sequence of Aboard
        Water in compartments.
    density_kg_m3 : float, default 1000
        Of water that does not say its own [kg/m³].
    trim_deg, heel_deg : float, default 0
        The attitude [deg]; her acceleration is taken to be none.

    Raises
    ------
    InputError
        If the mass is not above 0, or water does not fit where it is to be.
    """
    load = Load(
        mass_g=mass_g,
        center_of_gravity_mm=np.asarray(center_of_gravity_mm, dtype=np.float64),
        density_kg_m3=density_kg_m3,
    )
    normal = normal_of(trim=math.radians(trim_deg), heel=math.radians(heel_deg))
    water = tuple(basin.at(normal) for basin in basins_of(aboard, density_kg_m3))
    total = mass_g + math.fsum(one.water_g for one in water)
    center = center_with(load.center_of_gravity_mm, total, water)
    return WaterMoved(mass_g=total, center_of_gravity_mm=center, water=water)


def _flooded(
    descent: Descent,
    floating: Floating,
    water: tuple[WaterAboard, ...],
    open_to_sea: Sequence[OpenToSea],
) -> Flooded:
    """Return the record of a craft afloat with water inside."""
    normal = floating.normal
    soft = descent.softening(water)
    along, across = level_directions(trim=trim_of(normal), heel=heel_of(normal))
    return Flooded(
        floating=floating,
        mass_g=descent.mass_g,
        center_of_gravity_mm=center_with(descent.load.center_of_gravity_mm, descent.mass_g, water),
        water=water,
        open_water=tuple(
            open_water(
                one,
                normal=normal,
                height_mm=floating.height_mm,
                density_kg_m3=descent.load.density_kg_m3,
            )
            for one in open_to_sea
        ),
        free_surface_loss_mm=(float(across @ soft @ across), float(along @ soft @ along)),
    )


def _short_by_g(descent: Descent) -> float:
    """Return by how much a load exceeds what can carry it [g]."""
    return descent.mass_g - mass_of(
        volume_mm3=descent.tree.enclosed_mm3, density_kg_m3=descent.load.density_kg_m3
    )
