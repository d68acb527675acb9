"""What files make as an outer skin: their parts, every invented face, and how well it is known."""

import math
from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np

from hullcheck.answers.float_records import Caveat, Point, Waterline
from hullcheck.answers.skin_records import (
    ChecksReport,
    InventedReport,
    PartReport,
    SeamReport,
    SkinAnswer,
    SkinReport,
)
from hullcheck.craft.body_skin import BodySkin
from hullcheck.geometry.areas import areas_mm2, surface_area_mm2
from hullcheck.geometry.arrays import FloatArray, bounds
from hullcheck.geometry.outer_records import (
    PartFound,
    Patch,
)
from hullcheck.geometry.shells import Shell
from hullcheck.geometry.topology import edges_match, is_closed_manifold, merged
from hullcheck.units import MM2_PER_CM2, MM3_PER_CM3

__all__ = ["SCHEMA", "area_below_mm2", "skin_answer"]

SCHEMA: Final = "hullcheck.skin/1"
OFFSETS: Final = "offsets"
"""The method of a body that comes from a table of offsets and has no mesh."""


def skin_answer(
    bodies: Sequence[BodySkin], waterline: Waterline | None = None, *, name: str
) -> SkinAnswer:
    """Return what the files of a craft make, with volumes in cm³ and how well they are known.

    Parameters
    ----------
    bodies : sequence of BodySkin
    waterline : Waterline, optional
        Where she floats, if a load is known.
    name : str
        What the craft is called.

    Returns
    -------
    SkinAnswer

    Notes
    -----
    What the part under water may be out by: of each invented piece the share of its area that is
    wet, and the whole of the error that has no place, where the body is wet at all.
    """
    reports = tuple(_body(body, waterline) for body in bodies)
    notes = [
        Caveat(code=code, message=message)
        for body in bodies
        if body.skin is not None
        for code, message in body.skin.notes
    ]
    return SkinAnswer(
        schema=SCHEMA,
        name=name,
        bodies=reports,
        waterline=waterline,
        warnings=tuple(dict.fromkeys([*_caveats(reports), *notes])),
    )


def area_below_mm2(triangles_mm: FloatArray, normal: Point, height_mm: float) -> float:
    """Return how much of the triangles' area lies where normal·p < height_mm [mm²].

    Parameters
    ----------
    triangles_mm : ndarray, shape (n, 3, 3)
        [mm]
    normal : tuple of 3 floats
        Unit vector.
    height_mm : float
        [mm]

    Examples
    --------
    >>> corner = np.array([[[0.0, 0.0, 0.0], [2.0, 0.0, 0.0], [0.0, 0.0, 2.0]]])
    >>> area_below_mm2(corner, (0.0, 0.0, 1.0), 1.0)
    1.5
    """
    heights = np.sort(triangles_mm @ np.array(normal) - height_mm, axis=1)
    low, middle, high = heights.T
    share = np.where(high <= 0.0, 1.0, 0.0)
    # Cut off is a corner, above or below: a triangle like the whole in its two sides' shares.
    one = (low < 0.0) & (middle >= 0.0)
    share[one] = (low**2)[one] / ((low - middle) * (low - high))[one]
    two = (middle < 0.0) & (high > 0.0)
    share[two] = 1.0 - (high**2)[two] / ((high - low) * (high - middle))[two]
    return float(areas_mm2(triangles_mm) @ share)


def _body(body: BodySkin, waterline: Waterline | None) -> SkinReport:
    """Return what is said of a body."""
    skin = body.skin
    invented = tuple(_invented(patch, body.states, waterline) for patch in body.patches)
    return SkinReport(
        name=body.name,
        role=body.role,
        volume_cm3=sum(shell.volume_mm3 for shell in body.shells) / MM3_PER_CM3,
        area_cm2=sum(shell.area_mm2 for shell in body.shells) / MM2_PER_CM2,
        method=OFFSETS if skin is None else skin.method,
        watertight=all(_is_closed(shell) for shell in body.shells),
        error_cm3=body.error_mm3 / MM3_PER_CM3,
        displaced_error_cm3=_displaced_error(body, invented, waterline),
        parts=tuple(
            _part(part, body.units[i] if body.units else None) for i, part in enumerate(body.parts)
        ),
        invented=invented,
        seams=tuple(
            SeamReport(
                parts=seam.parts,
                station_mm=seam.station_mm,
                gap_mm=seam.gap_mm,
                mismatch_mm=seam.mismatch_mm,
            )
            for seam in body.seams
        ),
        bulkheads_mm=() if skin is None else skin.bulkheads_mm,
        checks=_checks(body, waterline),
    )


def _is_closed(shell: Shell) -> bool:
    """Return whether every edge of a shell is met once from either side."""
    mesh = merged(shell.triangles_mm)
    return is_closed_manifold(mesh) or edges_match(mesh)


def _displaced_error(
    body: BodySkin, invented: tuple[InventedReport, ...], waterline: Waterline | None
) -> float | None:
    """Return how far the volume under water may be out [cm³]; None without a load."""
    if waterline is None:
        return None
    normal = np.array(waterline.normal)
    lowest = min(float((shell.triangles_mm @ normal).min()) for shell in body.shells)
    if lowest >= waterline.height_mm:
        return 0.0
    whole = body.error_mm3 / MM3_PER_CM3
    dry = sum(
        piece.error_cm3 * (1.0 - (piece.area_under_water_cm2 or 0.0) / piece.area_cm2)
        for piece in invented
        if piece.area_cm2 > 0.0
    )
    return max(whole - dry, 0.0)


def _part(part: PartFound, unit: str | None) -> PartReport:
    """Return what is said of a part."""
    low, high = bounds(part.triangles_mm)
    material = part.material_volume_mm3
    return PartReport(
        file=part.name,
        triangles=len(part.triangles_mm),
        kind=part.kind,
        unit=unit,
        material_volume_cm3=None if material is None else material / MM3_PER_CM3,
        area_cm2=part.area_mm2 / MM2_PER_CM2,
        wall_mm=part.wall_mm,
        low_mm=_point(low),
        high_mm=_point(high),
        found=part.found,
    )


def _invented(
    patch: Patch, states: Mapping[str, str], waterline: Waterline | None
) -> InventedReport:
    """Return what is said of an invented piece."""
    height = wet = None
    if waterline is not None:
        above = patch.triangles_mm @ np.array(waterline.normal)
        height = float(above.min()) - waterline.height_mm
        wet = area_below_mm2(patch.triangles_mm, waterline.normal, waterline.height_mm)
    return InventedReport(
        name=patch.name,
        kind=patch.kind,
        state=states.get(patch.name),
        area_cm2=patch.area_mm2 / MM2_PER_CM2,
        lowest_mm=_point(patch.lowest_mm),
        size_mm=patch.size_mm,
        error_cm3=patch.error_mm3 / MM3_PER_CM3,
        under_water=None if height is None else height < 0.0,
        area_under_water_cm2=None if wet is None else wet / MM2_PER_CM2,
        height_mm=height,
    )


def _checks(body: BodySkin, waterline: Waterline | None) -> ChecksReport:
    """Return the checks of a body; what no file has is counted face by face."""
    checks = None if body.skin is None else body.skin.checks
    volume = None if checks is None else checks.section_volume_mm3
    invented, wet = 0.0, None if waterline is None else 0.0
    for shell, source in (
        () if body.skin is None else zip(body.skin.shells, body.skin.sources, strict=True)
    ):
        faces = shell.triangles_mm[source < 0]
        invented += surface_area_mm2(faces)
        if waterline is not None and wet is not None:
            wet += area_below_mm2(faces, waterline.normal, waterline.height_mm)
    return ChecksReport(
        shells=len(body.shells),
        section_volume_cm3=None if volume is None else volume / MM3_PER_CM3,
        section_offset_mm=None if checks is None else checks.section_offset_mm,
        handles=None if checks is None else checks.handles,
        solid_share=None if checks is None else checks.solid_share,
        invented_area_cm2=invented / MM2_PER_CM2,
        invented_under_water_cm2=None if wet is None else wet / MM2_PER_CM2,
    )


def _caveats(bodies: tuple[SkinReport, ...]) -> list[Caveat]:
    """Return what must be known of the skins that only triangles or the water tell."""
    found = []
    for body in bodies:
        if not body.watertight:
            message = f"{body.name}: the skin does not close, so its volume is not known"
            found.append(Caveat(code="skin-not-closed", message=message))
        for piece in body.openings:
            if piece.height_mm is None or piece.height_mm >= 0.0 or piece.state is not None:
                continue
            depth = math.ceil(-2.0 * piece.height_mm) / 2.0
            name = " ".join(f"{body.name}: {piece.name}".split())
            message = (
                f"{name} was closed for buoyancy and lies up to "
                f"{depth:g} mm under water: write a [[lid]] for it if it is closed "
                "there, or an [[opening]] with its state"
            )
            found.append(Caveat(code="opening-under-water", message=message))
    return found


def _point(values: FloatArray) -> Point:
    """Return an array of three as a tuple."""
    x, y, z = (float(value) for value in values)
    return x, y, z
