"""What is said of an outer skin: its parts, its seams, and every face that had to be invented."""

from dataclasses import dataclass, field
from typing import Final, Literal

import numpy as np

from hullcheck.errors import InputError
from hullcheck.geometry.areas import surface_area_mm2
from hullcheck.geometry.arrays import FloatArray, IntArray, bounds, owned
from hullcheck.geometry.shells import Shell

PartKind = Literal["closed skin", "thin wall", "sheet", "patched", "inside"]
PatchKind = Literal["opening", "seam", "lid"]
Method = Literal["as filed", "united", "sections"]

INVENTED: Final = -1
"""The part number of a face that no part has."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PartFound:
    """One part and what was found in it.

    Attributes
    ----------
    name : str
        What it is called.
    triangles_mm : ndarray, shape (n, 3, 3)
        As placed, in body axes, before anything was repaired [mm].
    kind : str
        "closed skin" (its outside is skin as it stands), "thin wall" (a wall with two sides),
        "sheet" (a surface without thickness), "patched" (too damaged to be taken whole: only its
        outward faces were used) or "inside" (nothing of it is outer skin).
    material_volume_mm3 : float or None
        Volume its triangles enclose [mm³]; None where they enclose none.
    wall_mm : float or None
        Thickness of a thin wall, 2 × volume ÷ area [mm].
    found : tuple of str
        What was repaired, dropped or noticed, a clause each, without the part's name.
    """

    name: str
    triangles_mm: FloatArray
    kind: PartKind
    material_volume_mm3: float | None = None
    wall_mm: float | None = None
    found: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Own the triangles."""
        object.__setattr__(self, "triangles_mm", owned(self.triangles_mm, (-1, 3, 3)))

    @property
    def area_mm2(self) -> float:
        """Area of all its triangles [mm²]."""
        return surface_area_mm2(self.triangles_mm)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Patch:
    """A connected piece of skin that no part has.

    Attributes
    ----------
    name : str
        Where and how large: "opening at station 172, 140 × 52 mm".
    kind : str
        "opening", "seam" (the groove between two parts) or "lid" (an opening that the build sheet
        closes).
    triangles_mm : ndarray, shape (n, 3, 3)
        Its faces, outward, body axes [mm].
    edge_mm : ndarray, shape (k, 3)
        Its longest edge in order: where it meets the parts [mm].
    error_mm3 : float
        How far the volume may be out because of it [mm³].
    low_mm, high_mm : ndarray, shape (3,)
        Corners of the box around it [mm].
    """

    name: str
    kind: PatchKind
    triangles_mm: FloatArray
    edge_mm: FloatArray
    error_mm3: float
    low_mm: FloatArray = field(init=False)
    high_mm: FloatArray = field(init=False)

    def __post_init__(self) -> None:
        """Own the arrays and refuse a bound below nothing."""
        object.__setattr__(self, "triangles_mm", owned(self.triangles_mm, (-1, 3, 3)))
        object.__setattr__(self, "edge_mm", owned(self.edge_mm, (-1, 3)))
        low, high = bounds(self.triangles_mm)
        object.__setattr__(self, "low_mm", owned(low, (3,)))
        object.__setattr__(self, "high_mm", owned(high, (3,)))
        if not self.error_mm3 >= 0.0:
            raise InputError(f"{self.name}: {self.error_mm3} mm³ is no bound")

    @property
    def area_mm2(self) -> float:
        """Its area [mm²]."""
        return surface_area_mm2(self.triangles_mm)

    @property
    def size_mm(self) -> tuple[float, float]:
        """The two longer sides of the box around it, the longest first [mm]."""
        _, width, length = np.sort(self.high_mm - self.low_mm).tolist()
        return length, width

    @property
    def center_mm(self) -> FloatArray:
        """Middle of the box around it [mm], shape (3,)."""
        middle: FloatArray = 0.5 * (self.low_mm + self.high_mm)
        return middle

    @property
    def lowest_mm(self) -> FloatArray:
        """Its lowest point along body z [mm], shape (3,)."""
        corners = self.triangles_mm.reshape(-1, 3)
        lowest: FloatArray = corners[int(np.argmin(corners[:, 2]))]
        return lowest


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PartSeam:
    """Where two parts meet with flat ends.

    Attributes
    ----------
    parts : tuple of str
        Names of the two, the forward one first.
    normal : ndarray, shape (3,)
        Unit normal of the ends, from the first part to the second.
    place_mm : ndarray, shape (3,)
        Middle of the seam [mm].
    gap_mm : float
        Distance of the ends [mm]; below 0 they overlap.
    mismatch_mm : float
        How far the outlines of the two ends lie apart, at the worst place [mm].
    """

    parts: tuple[str, str]
    normal: FloatArray
    place_mm: FloatArray
    gap_mm: float
    mismatch_mm: float

    def __post_init__(self) -> None:
        """Own the arrays."""
        object.__setattr__(self, "normal", owned(self.normal, (3,)))
        object.__setattr__(self, "place_mm", owned(self.place_mm, (3,)))

    @property
    def across(self) -> bool:
        """Whether it is a plane across x, within half a degree: a seam at one station."""
        return bool(abs(float(self.normal[0])) >= np.cos(np.radians(0.5)))

    @property
    def station_mm(self) -> float:
        """Station of its middle [mm]."""
        return float(self.place_mm[0])


@dataclass(frozen=True, slots=True, kw_only=True)
class SkinChecks:
    """What was held against what, to see whether the files were understood.

    Attributes
    ----------
    section_volume_mm3 : float or None
        Volume by the closed sections, to hold against that of the skin [mm³]; None where the skin
        is the input's own triangles.
    section_offset_mm : float or None
        Section area against the skin's own, over the perimeter: 95th percentile of the stations
        [mm].
    handles : int
        Tunnels through the skin, of all bodies together; a sound hull has none.
    solid_share : float or None
        Volume of all parts' material over that of the skin: about 1 for closed skins, under 0.3 for
        thin walls.
    """

    section_volume_mm3: float | None = None
    section_offset_mm: float | None = None
    handles: int = 0
    solid_share: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class OuterSkin:
    """The outer skin that parts make, and how well it is known.

    Attributes
    ----------
    name : str
        What the body is called.
    shells : tuple of Shell
        Closed surfaces in body axes, the largest first.
    sources : tuple of ndarray of int, one a shell, shape (n,)
        The part each triangle comes from, by its number in `parts`; −1 where it was invented.
    method : str
        "as filed" (the skin is the files' own triangles), "united" (parts and what closes them made
        one solid) or "sections" (the solid of the closed sections, where that failed).
    parts : tuple of PartFound
        What was read, in the order given.
    patches : tuple of Patch
        Every connected piece of invented skin, the largest first.
    seams : tuple of PartSeam
        Where parts meet, from the bow.
    bulkheads_mm : tuple of float
        Stations of walls across the inside, from the bow [mm].
    base_error_mm3 : float
        Bound of the volume from all but the patches [mm³]: repairs and rounding.
    checks : SkinChecks
    notes : tuple of (str, str)
        What the user should know of it: a code and a sentence each.
    """

    name: str
    shells: tuple[Shell, ...]
    sources: tuple[IntArray, ...]
    method: Method
    parts: tuple[PartFound, ...]
    patches: tuple[Patch, ...] = ()
    seams: tuple[PartSeam, ...] = ()
    bulkheads_mm: tuple[float, ...] = ()
    base_error_mm3: float = 0.0
    checks: SkinChecks = SkinChecks()
    notes: tuple[tuple[str, str], ...] = ()

    def __post_init__(self) -> None:
        """Own the sources; refuse a skin of nothing, or sources that do not fit."""
        if not self.shells or len(self.shells) != len(self.sources):
            raise InputError(f"{self.name}: {len(self.sources)} sources, {len(self.shells)} shells")
        kept = []
        for shell, source in zip(self.shells, self.sources, strict=True):
            if source.shape != (len(shell.triangles_mm),):
                raise InputError(
                    f"{self.name}: {len(source)} sources for {len(shell.triangles_mm)} triangles"
                )
            own = np.array(source, dtype=np.int64)
            own.flags.writeable = False
            kept.append(own)
        object.__setattr__(self, "sources", tuple(kept))

    @property
    def volume_mm3(self) -> float:
        """Volume of all shells [mm³]."""
        return sum(shell.volume_mm3 for shell in self.shells)

    @property
    def area_mm2(self) -> float:
        """Area of all shells [mm²]."""
        return sum(shell.area_mm2 for shell in self.shells)

    @property
    def error_mm3(self) -> float:
        """How far the volume may be out, patches and all [mm³]."""
        return self.base_error_mm3 + sum(patch.error_mm3 for patch in self.patches)
