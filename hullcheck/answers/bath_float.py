"""How the load in the bath floats: rest, readings to expect with their ±, stiffness in heel."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from hullcheck.answers.bath_readings import Reader
from hullcheck.answers.bath_records import Bag, ExpectedReading, Flattery, Share, Stiffness
from hullcheck.answers.float_records import Point
from hullcheck.answers.uncertainty import READING_MM, wet_error_mm3
from hullcheck.craft.craft import Craft
from hullcheck.craft.ledger import WEIGHED_PLUS_MINUS_G, Ledger
from hullcheck.craft.weighing import Weighing
from hullcheck.flotation.descent import Descent
from hullcheck.flotation.floating import Floating, float_at
from hullcheck.flotation.load import Load
from hullcheck.flotation.righting import levers
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.attitude import normal_of
from hullcheck.units import G_PER_MM3_PER_KG_M3

PLACED_MM: Final = (5.0, 2.0, 5.0)
"""How well a bag is put where it belongs, along x, y and z (common practice, no source): a center
line is easier to keep than a station."""
_STEP_SHARE: Final = 1e-4
"""Of her mass and of her length: how far the load is changed to see what follows."""


@dataclass(frozen=True, kw_only=True, eq=False)
class BathLoaded:
    """A craft with the load she has in the bath.

    Attributes
    ----------
    craft : Craft
        With mass, center and weighing of that load.
    placed_mm : tuple of float
        How well her center is known from how well the bag is placed, along each axis [mm].
    """

    craft: Craft
    placed_mm: Point = (0.0, 0.0, 0.0)

    @property
    def center_plus_minus_mm(self) -> Point:
        """How well her center is known from masses and places, along each axis [mm]."""
        weighing, center = self.craft.weighing, self.craft.center_of_gravity_mm
        if weighing is None or center is None:
            return self.placed_mm
        known = [(grams / self.craft.mass_g, at) for grams, at in weighing.spread if at is not None]
        x, y, z = (
            math.hypot(self.placed_mm[i], *(share * (at[i] - center[i]) for share, at in known))
            for i in range(3)
        )
        return (x, y, z)


def bath_loaded(
    craft: Craft, shares: tuple[Share, Share, Ledger], bag: Bag | None, *, bare: bool
) -> BathLoaded:
    """Return a craft as she floats in the bath.

    Parameters
    ----------
    craft : Craft
        Finished.
    shares : tuple
        From `bath_bag.shares_of`.
    bag : Bag or None
        From `bath_bag.bag_of`.
    bare : bool
        Whether what is aboard floats without a bag.

    Returns
    -------
    BathLoaded
        Where the bag has no place to lie it is taken to be where it belongs; its mass is as well
        known as a weighed item's.
    """
    finished, aboard, ledger = shares
    there = Ledger(items=tuple(item for item in ledger.items if item.aboard))
    spread = [(item.uncertainty_g, item.center_mm) for item in there.items]
    if bag is None and not bare:
        return BathLoaded(craft=craft)
    if bag is None:
        return _with(craft, aboard.mass_g, aboard.center_of_gravity_mm, spread, 0.0)
    place = bag.lies_at_mm or bag.center_of_gravity_mm
    share = bag.mass_g / finished.mass_g
    spread.append((WEIGHED_PLUS_MINUS_G, place))
    center = _together(aboard, bag, place)
    return _with(craft, finished.mass_g, center, spread, share)


def _with(
    craft: Craft,
    mass_g: float,
    center: Point | None,
    spread: list[tuple[float, Point | None]],
    bag_share: float,
) -> BathLoaded:
    """Return a craft with another load, and how well each mass of it is known."""
    x, y, z = (bag_share * off for off in PLACED_MM)
    weighing = Weighing(
        plus_minus_g=math.hypot(*(grams for grams, _ in spread)), spread=tuple(spread)
    )
    changed = replace(craft, mass_g=mass_g, center_of_gravity_mm=center, weighing=weighing)
    return BathLoaded(craft=changed, placed_mm=(x, y, z))


def _together(aboard: Share, bag: Bag, place: Point | None) -> Point | None:
    """Return the center of what is aboard and the bag [mm]; None where a place is missing."""
    center = aboard.center_of_gravity_mm
    if center is None or place is None:
        return None
    share = bag.mass_g / (aboard.mass_g + bag.mass_g)
    x, y, z = (a + share * (b - a) for a, b in zip(center, place, strict=True))
    return (x, y, z)


def expected_readings(
    load: BathLoaded, reader: Reader, floating: Floating
) -> tuple[ExpectedReading, ...]:
    """Return the readings to expect at every mark and side, each with its ±.

    The mean of a pair is far better known than either: a bag off center lists her, and lifts the
    one as it lowers the other.

    Parameters
    ----------
    load : BathLoaded
        What floats; its center is known.
    reader : Reader
        Of her marks.
    floating : Floating
        Where that load rests.
    """
    if not reader.marks:
        return ()

    names = [mark.mark for mark in reader.marks]
    # Each mark's own row, then the mean over its name: of a pair, or of the one there is.
    alike = np.array([[one == other for other in names] for one in names], dtype=np.float64)
    means = alike / alike.sum(axis=1, keepdims=True)

    def values(at: Floating) -> FloatArray:
        """Return the readings at an attitude in the order of the marks, then their means."""
        own = np.array([reader.reading(m, at.normal, at.height_mm) for m in reader.marks])
        return np.concatenate((own, means @ own))

    found, count = [], len(names)
    here, spread = values(floating), _spread(load, values, floating)
    # What surface tension adds is the same on both sides: a mean is read no better than one.
    known, known_mean = np.split(np.hypot(READING_MM, spread), [count])
    for i, mark in enumerate(reader.marks):
        meets = reader.meets(mark, floating.normal, floating.height_mm)
        value, about = here[i], known[i]
        found.append(
            ExpectedReading(
                mark=mark.mark,
                side=mark.side,
                along=mark.along,
                point_mm=mark.point_mm,
                reading_mm=float(value) if meets else None,
                plus_minus_mm=float(about) if meets else None,
                mean_plus_minus_mm=float(known_mean[i]) if meets else None,
                meets="meets the water"
                if meets
                else "clear of the water"
                if value > 0.0
                else "under water",
            )
        )
    return tuple(found)


def _spread(
    load: BathLoaded, values: Callable[[Floating], FloatArray], floating: Floating
) -> FloatArray:
    """Return how well values are known from masses, their places, and the volume of the skin.

    As `uncertainty.spread_of`, for many values at once and with the placing of the bag.
    """
    craft, density = load.craft, load.craft.water.density_kg_m3
    center = np.array(craft.center_of_gravity_mm, dtype=np.float64)
    low, high = craft.skin.tree.low_mm, craft.skin.tree.high_mm
    less, move = _STEP_SHARE * craft.mass_g, _STEP_SHARE * float((high - low).max())
    here = values(floating)

    def at(mass_g: float, where: FloatArray) -> FloatArray:
        """Return the values with another load."""
        rest = float_at(
            craft.skin, mass_g=mass_g, center_of_gravity_mm=where, density_kg_m3=density
        )
        return values(rest.floating)

    per_mm = np.stack([(at(craft.mass_g, center + move * e) - here) / move for e in np.eye(3)])
    per_g = (here - at(craft.mass_g - less, center)) / less
    parts = [np.array(load.placed_mm)[:, None] * per_mm]
    for grams, place in () if craft.weighing is None else craft.weighing.spread:
        lever = np.zeros(3) if place is None else (np.array(place) - center) / craft.mass_g
        parts.append(grams * (per_g + lever @ per_mm)[None])
    off_g = wet_error_mm3(craft, floating) * density * G_PER_MM3_PER_KG_M3
    parts.append(off_g * per_g[None])
    spread: FloatArray = np.sqrt((np.concatenate(parts) ** 2).sum(axis=0))
    return spread


def flattery(craft: Craft, finished: Share, bath: Craft) -> Flattery | None:
    """Return how much stiffer in heel the load in the bath is than the finished craft.

    Parameters
    ----------
    craft : Craft
        Finished, her center known.
    finished : Share
        The same as a share.
    bath : Craft
        With the load in the bath, her center known.

    Returns
    -------
    Flattery or None
        Metacentric heights at heel 0, trim and draft free; None where a center is not known.
    """
    whole, low = finished.center_of_gravity_mm, bath.center_of_gravity_mm
    if whole is None or low is None:
        return None
    there, here = _stiffness(craft, whole), _stiffness(bath, low)
    gm, seen = there.metacentric_height_mm, here.metacentric_height_mm
    return Flattery(
        in_the_bath=here,
        finished=there,
        stiffer_by_mm=seen - gm,
        ratio=seen / gm if gm > 0.0 else None,
    )


def _stiffness(craft: Craft, center: Point) -> Stiffness:
    """Return how hard a craft is to heel about upright."""
    load = Load(
        mass_g=craft.mass_g,
        center_of_gravity_mm=np.array(center, dtype=np.float64),
        density_kg_m3=craft.water.density_kg_m3,
    )
    descent = Descent(craft.skin.tree, load)
    level = descent.state(normal_of(trim=0.0, heel=0.0), None)
    height = levers(descent.at_heel(0.0, level))[0]
    return Stiffness(
        center_of_gravity_mm=center,
        metacentric_height_mm=height,
        moment_to_heel_g_mm_per_deg=craft.mass_g * math.tan(math.radians(1.0)) * height,
    )
