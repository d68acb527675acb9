"""What is at her without displacing water: wing tip, propeller, marks, seams, lids, equipment."""

from dataclasses import dataclass, fields
from typing import Final, Literal, get_args

import numpy as np

from hullcheck.errors import InputError
from hullcheck.geometry.arrays import FloatArray, owned

Along = Literal["skin", "plumb"]
Point = tuple[float, float, float]

G_PER_CM3: Final = {
    "PLA": 1.24,
    "PETG": 1.27,
    "ABS": 1.04,
    "ASA": 1.07,
    "foaming PLA": 0.56,
    "EPP": 0.03,
    "EPS": 0.02,
    "XPS": 0.035,
    "balsa": 0.144,
}
"""Density by material [g/cm³]. PLA (ASTM D792) and PETG after makers' data sheets, foams and balsa
after handbooks' ranges; ABS, ASA and foaming PLA from memory."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wing:
    """Where the wing would reach the water.

    Attributes
    ----------
    tip_mm : tuple of float
        Lowest point of the starboard tip's leading edge, or of either side [mm]; it stands for its
        twin on the other side.
    chord_mm : float
        Chord at the tip, aft of that point [mm].
    """

    tip_mm: Point
    chord_mm: float = 0.0

    @property
    def corners_mm(self) -> FloatArray:
        """Leading and trailing edge of both tips, starboard first, shape (4, 3) [mm]."""
        x, y, z = self.tip_mm
        return np.array(
            [(x + aft, side * abs(y), z) for side in (1.0, -1.0) for aft in (0.0, self.chord_mm)]
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Propeller:
    """The propeller and its thrust.

    Attributes
    ----------
    hub_mm : tuple of float
        Middle of its disc [mm].
    diameter_mm : float
        Diameter of the disc [mm].
    thrust_g : float or None
        Full thrust [g].
    up_deg : float
        How far the thrust points up from body x [deg].
    """

    hub_mm: Point
    diameter_mm: float
    thrust_g: float | None = None
    up_deg: float = 0.0

    @property
    def axis(self) -> FloatArray:
        """Unit vector along the thrust, shape (3,): forward, and up by `up_deg`."""
        up = np.radians(self.up_deg)
        return np.array([-np.cos(up), 0.0, np.sin(up)])

    def lowest_mm(self, normal: FloatArray) -> FloatArray:
        """Return the disc's lowest point for a normal out of the water, shape (3,) [mm]."""
        across = normal - (normal @ self.axis) * self.axis
        size = float(np.linalg.norm(across))
        hub = np.array(self.hub_mm)
        if size < 1e-12:
            return hub
        lowest: FloatArray = hub - 0.5 * self.diameter_mm / size * across
        return lowest


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A mark on the hull to measure down to the water from.

    Attributes
    ----------
    name : str
        What it is called.
    point_mm : tuple of float
        Its place [mm]; with y above 0 it stands for its port twin too.
    along : str
        "skin" for a ruler laid on the hull side, "plumb" for a plumb distance.
    """

    name: str
    point_mm: Point
    along: Along = "skin"

    def __post_init__(self) -> None:
        """Refuse a way of measuring that is none."""
        if self.along not in get_args(Along):
            raise InputError(f"{self.name}: along {self.along!r} is none of {get_args(Along)}")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Seam:
    """Where parts are joined: a plane across a body, or an open line of points."""

    name: str
    body: str
    station_mm: float | None = None
    points_mm: FloatArray | None = None

    def __post_init__(self) -> None:
        """Own the points; refuse a seam with no place or two."""
        if (self.station_mm is None) == (self.points_mm is None):
            raise InputError(f"{self.name}: give station_mm or points_mm, one of them")
        if self.points_mm is not None:
            object.__setattr__(self, "points_mm", owned(self.points_mm, (-1, 3)))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lid:
    """A surface that closes an opening for buoyancy only, by its outline [mm]."""

    name: str
    outline_mm: FloatArray

    def __post_init__(self) -> None:
        """Own the outline."""
        object.__setattr__(self, "outline_mm", owned(self.outline_mm, (-1, 3)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Equipment:
    """An item of the ledger that must stay dry: its lowest point, and where it may be put [mm]."""

    item: str
    lowest_mm: Point | None = None
    within_mm: tuple[Point, Point] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Leak:
    """A hole of a diameter, or a crack of a width, length and wall, at a place [mm]."""

    name: str
    point_mm: Point
    diameter_mm: float | None = None
    crack_width_mm: float | None = None
    crack_length_mm: float | None = None
    wall_mm: float | None = None

    def __post_init__(self) -> None:
        """Refuse a leak that is both or neither."""
        crack = (self.crack_width_mm, self.crack_length_mm, self.wall_mm)
        if (self.diameter_mm is None) == all(value is None for value in crack):
            raise InputError(
                f"{self.name}: give diameter_mm of a hole, or crack_width_mm, crack_length_mm and "
                "wall_mm of a crack"
            )
        if self.diameter_mm is None and None in crack:
            raise InputError(
                f"{self.name}: a crack needs crack_width_mm, crack_length_mm and wall_mm"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Bulkhead:
    """A bulkhead across a body; one that is not watertight has limber holes of a diameter [mm]."""

    station_mm: float
    watertight: bool = True
    limber_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Structure:
    """What a body is made of and how it is divided.

    Attributes
    ----------
    wall_mm : float or None
        Thickness of its wall [mm]: compartments are the skin less the wall.
    permeability : float or None
        Share of the skin's volume that water can fill, instead of a wall.
    density_g_cm3 : float or None
        Of its wall's material [g/cm³].
    material : str or None
        Name of that material.
    foam_cm3 : float
        Sealed foam inside [cm³].
    foam_mm : tuple of float or None
        Where that foam is [mm].
    bulkheads : tuple of Bulkhead
        From the bow.
    """

    wall_mm: float | None = None
    permeability: float | None = None
    density_g_cm3: float | None = None
    material: str | None = None
    foam_cm3: float = 0.0
    foam_mm: Point | None = None
    bulkheads: tuple[Bulkhead, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a wall beside a permeability: water may be kept out by one of them only."""
        if self.wall_mm is not None and self.permeability is not None:
            raise InputError("give wall_mm or permeability, never both")


@dataclass(frozen=True, slots=True, kw_only=True)
class Reference:
    """Lines angles are read against: wing chord to body x [deg], fuselage line [mm]."""

    wing_angle_deg: float | None = None
    line_mm: tuple[Point, Point] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Fittings:
    """All that is at her besides bodies, openings and weights; empty where the sheet says none."""

    reference: Reference = Reference()
    wing: Wing | None = None
    propeller: Propeller | None = None
    lids: tuple[Lid, ...] = ()
    seams: tuple[Seam, ...] = ()
    equipment: tuple[Equipment, ...] = ()
    marks: tuple[Mark, ...] = ()
    leaks: tuple[Leak, ...] = ()

    def __post_init__(self) -> None:
        """Refuse two of a kind with one name."""
        for field in fields(self):
            group = getattr(self, field.name)
            if isinstance(group, tuple):
                names = [getattr(one, "name", None) or getattr(one, "item", "") for one in group]
                twice = next((n for i, n in enumerate(names) if n in names[:i]), None)
                if twice is not None:
                    raise InputError(f"{field.name}: the name {twice!r} is used twice")
