"""Faces under water that no file has: too large to be guessed, they are refused."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from hullcheck.craft.craft import Craft
from hullcheck.craft.found_openings import thinned
from hullcheck.errors import SurfaceError
from hullcheck.flotation.floating import Floating
from hullcheck.geometry.areas import area_vectors_mm2, surface_area_mm2
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outer_records import Patch

WIDEST_MM: Final = 30.0
"""An invented face wider than this both ways may hide a shape nobody knows (common practice of this
program, no source)."""
MOST_SHARE: Final = 0.02
"""Of the wetted area: more of it may not be invented in all (the same)."""
_FILLED: Final = 0.25
"""Of the box around it: a face that fills less is a groove along its edge."""
_CORNERS: Final = 16
_OFF_MM: Final = 1.0
_INWARD_MM: Final = 2.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WetPatch:
    """An invented face as far as it is under water, and the body it is in."""

    body: str
    patch: Patch
    triangles_mm: FloatArray

    @property
    def area_mm2(self) -> float:
        """Area under water [mm²]."""
        return surface_area_mm2(self.triangles_mm)

    @property
    def size_mm(self) -> tuple[float, float]:
        """The two longer sides of the box around it, the longest first [mm]."""
        _, width, length = np.sort(np.ptp(self.triangles_mm.reshape(-1, 3), axis=0)).tolist()
        return length, width

    @property
    def is_wide(self) -> bool:
        """Whether it is wider than 30 mm both ways; the gap around a hatch is not."""
        length, width = self.size_mm
        return width > WIDEST_MM and self.area_mm2 > _FILLED * length * width


def refuse_invented(craft: Craft, floating: Floating) -> None:
    """Refuse to say where a craft floats if what is under water is largely invented.

    Parameters
    ----------
    craft : Craft
        With the skins her bodies are made of.
    floating : Floating
        Where she would float.

    Raises
    ------
    SurfaceError
        If a face that no file has and no lid of the sheet closes is wider than 30 mm both ways
        under water, or all of them are more than 2 % of the wetted area: with its place, its size
        and what to write in the sheet. Upside down nothing is refused: that she capsizes counts.
    """
    if float(floating.normal[2]) <= 0.0:
        return
    wet = wet_patches(craft, floating)
    wide = [one for one in wet if one.is_wide]
    total = sum(one.area_mm2 for one in wet)
    share = total / floating.wetted_area_mm2 if floating.wetted_area_mm2 > 0.0 else 0.0
    if wide:
        worst = max(wide, key=lambda one: one.area_mm2)
        length, width = worst.size_mm
        why = (
            f"{length:.0f} × {width:.0f} mm of it are under water, and a face wider than "
            f"{WIDEST_MM:.0f} mm both ways is not guessed there"
        )
    elif share > MOST_SHARE:
        worst = max(wet, key=lambda one: one.area_mm2)
        many = f"it and {len(wet) - 1} more like it are" if len(wet) > 1 else "it is"
        why = (
            f"{many} {100.0 * share:.1f} % of her wetted area, and more than "
            f"{100.0 * MOST_SHARE:.0f} % is not guessed"
        )
    else:
        return
    more = f" ({len(wide) - 1} more like it)" if len(wide) > 1 else ""
    raise SurfaceError(f"{_place(worst)}: no file has a face there; {why}{more}. {_remedy(worst)}")


def wet_patches(craft: Craft, floating: Floating) -> list[WetPatch]:
    """Return the undeclared invented faces of a craft as far as they are under water."""
    found = []
    for skin in craft.skins:
        for patch in skin.patches:
            if patch.kind != "opening":
                continue
            wet = below(patch.triangles_mm, floating.normal, floating.height_mm)
            if len(wet):
                found.append(WetPatch(body=skin.name, patch=patch, triangles_mm=wet))
    return found


def below(triangles_mm: FloatArray, normal: FloatArray, height_mm: float) -> FloatArray:
    """Return what of triangles lies where normal·p < height_mm, cut at the plane, (m, 3, 3) [mm].

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        [mm]
    normal : ndarray, shape (3,)
        Unit vector.
    height_mm : float
        [mm]
    """
    above = triangles_mm @ normal - height_mm
    wet, dry = (above <= 0.0).all(axis=1), (above >= 0.0).all(axis=1)
    cut = np.flatnonzero(~wet & ~dry)
    kept = [triangles_mm[wet & ~dry]]
    for corners, heights in zip(triangles_mm[cut], above[cut], strict=True):
        outline: list[FloatArray] = []
        for here, there, a, b in zip(
            heights, np.roll(heights, -1), corners, np.roll(corners, -1, axis=0), strict=True
        ):
            if here <= 0.0:
                outline.append(a)
            if here * there < 0.0:
                outline.append(a + here / (here - there) * (b - a))
        kept += [np.array([[outline[0], *outline[k : k + 2]]]) for k in range(1, len(outline) - 1)]
    return np.concatenate(kept)


def _place(wet: WetPatch) -> str:
    """Return which face it is and where."""
    x, y, z = wet.patch.center_mm
    return f"{wet.body}: {wet.patch.name} (x {x:.0f}, y {y:.0f}, z {z:.0f})"


def _remedy(wet: WetPatch) -> str:
    """Return what to write in the build sheet, whichever holds."""
    outline = ", ".join(
        _point(corner) for corner in thinned(wet.patch.edge_mm, _CORNERS, within_mm=_OFF_MM)
    )
    station = round(float(wet.patch.center_mm[0]))
    return (
        f'If it is closed on the craft, write in the sheet: [[lid]] name = "lid at {station}" '
        f"outline_mm = [{outline}]; if it is a well that fills with water, write under the "
        f'[[body]] "{wet.body}": floods = [{_point(_inside_mm(wet.patch))}]'
    )


def _inside_mm(patch: Patch) -> FloatArray:
    """Return a point 2 mm behind the middle of a patch: in the well it closes [mm]."""
    corners = patch.triangles_mm
    sides = area_vectors_mm2(corners)
    sizes = np.linalg.norm(sides, axis=1)
    middle = sizes @ corners.mean(axis=1) / sizes.sum()
    outward = sides.sum(axis=0)
    size = float(np.linalg.norm(outward))
    inside: FloatArray = middle if size == 0.0 else middle - _INWARD_MM / size * outward
    return inside


def _point(values: FloatArray) -> str:
    """Return a point as the sheet has it, to a tenth of a millimeter."""
    return f"[{', '.join(f'{value + 0.0:.1f}'.replace('-0.0', '0.0') for value in values)}]"
