"""Compartments open to the sea: what is left of the skin's displacement under any plane.

A compartment open to the sea fills to the outside level, so it displaces nothing: V − Σ κ V_c and
A − Σ κ A_c stand in place of V and A, the second moments about the centroid of what is left. All of
these are contractions of sums over surfaces, so the compartments' sums are simply taken off.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hullcheck.errors import InputError
from hullcheck.flotation.contents import check_permeability
from hullcheck.flotation.load import mass_of
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.moment_tree import MomentTree, wet_row_about
from hullcheck.geometry.moments import VolumeMoments, contract

_WETTED = 30


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class OpenToSea:
    """A compartment that the sea runs in and out of.

    Attributes
    ----------
    name : str
        What the compartment is called.
    tree : MomentTree
        Of its closed surface, in body axes [mm]; it lies within the skin.
    permeability : float, default 1
        Share of the enclosed volume that water can fill.
    """

    name: str
    tree: MomentTree
    permeability: float = 1.0

    def __post_init__(self) -> None:
        """Refuse a permeability that is no share."""
        check_permeability(self.name, self.permeability)

    @property
    def capacity_mm3(self) -> float:
        """What water can fill in all [mm³]."""
        return self.permeability * self.tree.enclosed_mm3


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class OpenWater:
    """The sea inside a compartment that is open to it, at one attitude.

    Attributes
    ----------
    name : str
        The compartment's.
    volume_mm3 : float
        Water in it [mm³].
    mass_g : float
        Mass of that water [g]; it is no load, its buoyancy is what is lost.
    centroid_mm : ndarray, shape (3,)
        Of that water in body axes [mm]; NaN where it stays dry.
    capacity_mm3 : float
        What water can fill in all [mm³].
    """

    name: str
    volume_mm3: float
    mass_g: float
    centroid_mm: FloatArray
    capacity_mm3: float


class FloodedTree:
    """A skin's moment tree less those of the compartments open to the sea.

    Parameters
    ----------
    tree : MomentTree
        Of the skin.
    open_to_sea : sequence of OpenToSea
        Compartments within it that do not overlap.

    Attributes
    ----------
    origin_mm, low_mm, high_mm, length_mm
        Those of the skin's tree.
    evaluations : int
        How many planes were evaluated so far.

    Raises
    ------
    InputError
        If a compartment is named twice.
    """

    __slots__ = ("_open", "evaluations", "high_mm", "low_mm", "origin_mm", "tree")

    def __init__(self, tree: MomentTree, open_to_sea: Sequence[OpenToSea]) -> None:
        names = [one.name for one in open_to_sea]
        twice = next((name for i, name in enumerate(names) if name in names[:i]), None)
        if twice is not None:
            raise InputError(f"{twice}: named twice among those open to the sea")
        self.tree = tree
        self.low_mm, self.high_mm, self.origin_mm = tree.low_mm, tree.high_mm, tree.origin_mm
        self._open = tuple((one, one.tree.origin_mm - tree.origin_mm) for one in open_to_sea)
        self.evaluations = 0

    @property
    def length_mm(self) -> float:
        """Greatest side of the skin's bounding box [mm]."""
        return self.tree.length_mm

    @property
    def enclosed_mm3(self) -> float:
        """All that is left to displace water [mm³]."""
        return self.tree.enclosed_mm3 - sum(one.capacity_mm3 for one, _ in self._open)

    def under(self, normal: FloatArray, height: float) -> VolumeMoments:
        """Return what displaces water under a plane, about the skin's origin.

        Parameters
        ----------
        normal : ndarray, shape (3,)
            Unit normal out of the water.
        height : float
            Height of the plane above `origin_mm`, along the normal [mm].

        Returns
        -------
        VolumeMoments
            Its wetted area is that of the skin's outside.
        """
        self.evaluations += 1
        row = self.tree.wet_row(normal, height)
        wetted = row[_WETTED]
        for one, shift in self._open:
            row -= one.permeability * wet_row_about(one.tree, shift, normal, height)
        row[_WETTED] = wetted
        return contract(row, normal, height)


def open_water(
    one: OpenToSea, *, normal: FloatArray, height_mm: float, density_kg_m3: float
) -> OpenWater:
    """Return the sea inside an open compartment.

    Parameters
    ----------
    one : OpenToSea
        The compartment.
    normal : ndarray, shape (3,)
        Unit normal out of the water.
    height_mm : float
        The surface holds the points p with normal·p = height_mm [mm].
    density_kg_m3 : float
        Density of the sea [kg/m³].
    """
    under = one.tree.under(normal, height_mm - float(normal @ one.tree.origin_mm))
    volume = one.permeability * max(under.volume, 0.0)
    centroid = np.full(3, np.nan)
    if volume > 1e-12 * one.capacity_mm3:
        centroid = under.position_integral / under.volume + one.tree.origin_mm
    return OpenWater(
        name=one.name,
        volume_mm3=volume,
        mass_g=mass_of(volume_mm3=volume, density_kg_m3=density_kg_m3),
        centroid_mm=centroid,
        capacity_mm3=one.capacity_mm3,
    )
