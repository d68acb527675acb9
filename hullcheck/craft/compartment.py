"""A compartment: a space inside a body that water can fill."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from hullcheck.craft.fittings import Point
from hullcheck.errors import InputError
from hullcheck.flotation.contents import Aboard
from hullcheck.flotation.flooded_tree import OpenToSea
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.compartments import Pool, lowest_point, pools_under
from hullcheck.geometry.moment_tree import MomentTree
from hullcheck.geometry.topology import Mesh

Method = Literal["skin less the wall", "whole skin less the wall's share", "whole skin"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Compartment:
    """A space inside a body that water can fill.

    Attributes
    ----------
    name : str
        "hull 2" from the bow; "hull" where no watertight bulkhead divides the body.
    body : str
        Name of the body it is in.
    number : int
        From the bow, 1 first.
    mesh : Mesh
        Its closed surface in body axes, bulkheads included [mm].
    volume_mm3 : float
        What that encloses [mm³].
    permeability : float
        Share of that volume that water can fill; sealed foam is taken off.
    first_station_mm, last_station_mm : float
        Where it begins and ends along x [mm].
    method : str
        "skin less the wall", "whole skin less the wall's share" (the wall taken off as a share of
        the volume), or "whole skin".
    foam_mm3 : float
        Sealed foam in it [mm³].
    foam_mm : tuple of float or None
        Where that foam is [mm].
    note : str
        What was assumed, a sentence; empty where nothing was.
    """

    name: str
    body: str
    number: int
    mesh: Mesh
    volume_mm3: float
    permeability: float
    first_station_mm: float
    last_station_mm: float
    method: Method
    foam_mm3: float = 0.0
    foam_mm: Point | None = None
    note: str = ""

    @property
    def triangles_mm(self) -> FloatArray:
        """Triangles of its surface [mm], shape (n, 3, 3)."""
        return self.mesh.triangles

    @property
    def capacity_mm3(self) -> float:
        """What water can fill [mm³]."""
        return self.permeability * self.volume_mm3

    @cached_property
    def tree(self) -> MomentTree:
        """The moment tree of its surface."""
        return MomentTree(self.triangles_mm)

    def aboard(self, water_g: float, density_kg_m3: float | None = None) -> Aboard:
        """Return a mass of water [g] shut in it; its density [kg/m³] is the sea's if left out."""
        return Aboard(
            name=self.name,
            tree=self.tree,
            water_g=water_g,
            permeability=self.permeability,
            density_kg_m3=density_kg_m3,
        )

    def open_to_sea(self) -> OpenToSea:
        """Return it as one that the sea runs in and out of."""
        return OpenToSea(name=self.name, tree=self.tree, permeability=self.permeability)

    def lowest_mm(self, normal: FloatArray) -> FloatArray:
        """Return its lowest point inside [mm] for a normal out of the water: where a drain goes."""
        return lowest_point(self.mesh.points, normal)

    def highest_mm(self, normal: FloatArray) -> FloatArray:
        """Return its highest point inside [mm] for a normal out of the water: where a vent goes."""
        return lowest_point(self.mesh.points, -normal)

    def pools(self, normal: FloatArray, height_mm: float) -> tuple[Pool, ...]:
        """Return the pieces its water is parted into under a plane, the largest first.

        Parameters
        ----------
        normal : ndarray, shape (3,)
            Unit normal out of the water.
        height_mm : float
            The surface holds the points p with normal·p = height_mm [mm].

        Returns
        -------
        tuple of Pool
            Their volumes are of water, permeability taken in [mm³].
        """
        found = pools_under(self.mesh, normal, height_mm)
        return tuple(
            replace(pool, volume_mm3=self.permeability * pool.volume_mm3) for pool in found
        )


def compartment_named(compartments: Sequence[Compartment], name: str) -> Compartment:
    """Return a compartment by name; InputError with the names there are if none has it."""
    for one in compartments:
        if one.name == name:
            return one
    known = ", ".join(repr(one.name) for one in compartments) or "none"
    raise InputError(f"there is no compartment {name!r}; she has: {known}")


def adjacent_pairs(
    compartments: Sequence[Compartment],
) -> tuple[tuple[Compartment, Compartment], ...]:
    """Return the pairs of compartments of one body that share a bulkhead, from the bow."""
    return tuple(
        (one, two)
        for one in compartments
        for two in compartments
        if one.body == two.body and two.number == one.number + 1
    )
