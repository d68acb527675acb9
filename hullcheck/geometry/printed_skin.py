"""The outer skin of parts as they are printed: walls and sheets, plugged and made one solid."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.errors import SurfaceError
from hullcheck.geometry.areas import surface_area_mm2
from hullcheck.geometry.arrays import FloatArray, IntArray
from hullcheck.geometry.outer_records import (
    INVENTED,
    Method,
    OuterSkin,
    PartFound,
    PartSeam,
    Patch,
)
from hullcheck.geometry.part_ends import End, flat_ends, overlap_notes, seams_between
from hullcheck.geometry.shells import Shell
from hullcheck.geometry.skin_checks import bulkheads, checked, rounding_mm3, stacked_mm3
from hullcheck.geometry.skin_cut import FLUSH_MM, Cut, Ends, cut_of
from hullcheck.geometry.skin_lids import lid_sheet
from hullcheck.geometry.skin_parts import DEPTH_MM, Depths, Taken, outward_faces, taken
from hullcheck.geometry.skin_patches import COLLAR, LID, PLUG, Closing, patches_of
from hullcheck.geometry.skin_refusals import refuse_flat, refuse_unbelievable
from hullcheck.geometry.skin_solids import collar, plug, stacked, thickened
from hullcheck.geometry.skin_stations import seam_ends
from hullcheck.geometry.skin_tunnels import MOST_MM3, tunnel_fillings
from hullcheck.geometry.skin_union import Hulk, united_hulks

if TYPE_CHECKING:
    from manifold3d import Manifold

Tell = Callable[[str], None]
_LEAST_MM: Final = 5.0
"""Pieces of a part shorter than this along x have no ends to join."""
_LOST: Final = 0.2
_PROUD: Final = 1.15
_ROUNDS: Final = 3
_ASTRAY: Final = 0.01
"""A union whose volume is farther from that of its sections, as a share, is not believed."""


def printed_skin(
    name: str,
    parts: Sequence[tuple[str, FloatArray]],
    lids: Sequence[tuple[str, FloatArray]],
    floods: Sequence[FloatArray],
    tell: Tell,
) -> OuterSkin:
    """Return the outer skin of parts of any kind; see `outer_skin` for what goes in."""
    tell(f"looking at the parts of {name}")
    read = [taken(part, triangles) for part, triangles in parts]
    covers = [lid_sheet(lid, outline) for lid, outline in lids]
    seams = _seams(read)
    cut = cut_of(name, [*read, *covers], seams, floods, tell)
    refuse_flat(name, cut.closed)
    tell(f"making one solid of {name}")
    depths = Depths(stations_mm=cut.stations_mm, regions=cut.closed)
    closing_solid = (plug(cut.stations_mm, cut.closed), PLUG)
    solids = [*_of_parts(read, covers, depths), closing_solid, *_collars(seams, cut)]
    method, hulks, notes = _united(name, solids, cut)
    hulks, notes = _of_the_hull(name, read, hulks), [*notes, *_lid_notes(covers, hulks)]
    tell(f"listing what {name} had to have invented")
    patches: list[Patch] = []
    if method == "united":
        refuse_unbelievable(name, hulks, cut.stations_mm, cut.well_ends)
        closing = _closing(depths, seams, cut, lids)
        patches = [patch for hulk in hulks for patch in patches_of(hulk, closing)]
    return _record(
        _Made(
            name=name,
            read=read,
            cut=cut,
            seams=seams,
            method=method,
            hulks=hulks,
            patches=patches,
            notes=notes,
        )
    )


def _closing(
    depths: Depths, seams: Sequence[PartSeam], cut: Cut, lids: Sequence[tuple[str, FloatArray]]
) -> Closing:
    """Return what patches are judged by."""
    return Closing(
        depths=depths,
        seams=tuple(seams),
        ends=tuple(None if ends is None else ends.raw for ends in cut.at_ends),
        lids=tuple(lid for lid, _ in lids),
    )


def _seams(read: Sequence[Taken]) -> list[PartSeam]:
    """Return the seams between parts, and between the pieces of a file that holds several."""
    names: list[str] = []
    ends: list[End] = []
    for part in read:
        long = [s for s in part.surfaces() if np.ptp(s[:, :, 0]) > _LEAST_MM]
        for number, surface in enumerate(long, start=1):
            ends += flat_ends(len(names), surface)
            names.append(part.name if len(long) == 1 else f"piece {number} of {part.name}")
    return seams_between(names, ends)


def _of_parts(
    read: Sequence[Taken], covers: Sequence[Taken], depths: Depths
) -> list[tuple["Manifold", int]]:
    """Return the solids of parts and lids, each with the number of what it is of."""
    solids: list[tuple[Manifold, int]] = []
    numbered = [*enumerate(read), *((LID - j, lid) for j, lid in enumerate(covers))]
    for number, part in numbered:
        solids += [(solid, number) for solid in part.solids]
        sheet = outward_faces(part.sheet, part.pieces, depths)
        if len(sheet.faces) == 0:
            continue
        solid = thickened(sheet, DEPTH_MM)
        if solid is None:
            raise SurfaceError(
                f"{part.name}: its surface crosses itself or folds so that no skin can be made of "
                "it; mend it in the CAD program and export it again"
            )
        solids.append((solid, number))
    return solids


def _collars(seams: Sequence[PartSeam], cut: Cut) -> list[tuple["Manifold", int]]:
    """Return the collars of the seams that gape, each with the owner of its faces."""
    collars: list[tuple[Manifold, int]] = []
    for k, (seam, ends) in enumerate(zip(seams, cut.at_ends, strict=True)):
        made = None if ends is None else _collar(seam, ends)
        if made is not None:
            collars.append((made, COLLAR - k))
    return collars


def _collar(seam: PartSeam, ends: Ends) -> "Manifold | None":
    """Return the solid that bridges a seam across x, flush with the skin on both sides."""
    near, far = seam_ends(seam)
    one, two = (max(region.geoms, key=lambda g: g.area) for region in ends.closed)
    return collar(one, near - FLUSH_MM, two, far + FLUSH_MM)


def _united(
    name: str, solids: Sequence[tuple["Manifold", int]], cut: Cut
) -> tuple[Method, list[Hulk], list[tuple[str, str]]]:
    """Return the union, or where it cannot be believed the solid of the sections alone."""
    expected = float(np.trapezoid([r.area for r in cut.closed], cut.stations_mm))
    try:
        hulks = united_hulks(name, solids)
        off = abs(sum(h.volume_mm3 for h in hulks) - expected) / expected
        why = "" if off <= _ASTRAY else f"it came out {100.0 * off:.1f} % from its sections"
    except SurfaceError:
        why, off = "it came out empty", 0.0
    if not why:
        return ("united", *_without_tunnels(name, solids, hulks))
    if off > _LOST:
        raise SurfaceError(
            f"{name}: its parts make no skin ({why}): walls that belong together lie apart, or too "
            "much of the surface is not there. See hullcheck skin --drawing for what was understood"
        )
    solid = stacked(cut.stations_mm, cut.closed)
    said = (
        "sections-used",
        (
            f"{name}: its parts could not be made one solid ({why}); the skin is that of its "
            f"sections at {len(cut.stations_mm)} stations instead"
        ),
    )
    return "sections", united_hulks(name, [(solid, PLUG)]), [said]


def _without_tunnels(
    name: str, solids: Sequence[tuple["Manifold", int]], hulks: list[Hulk]
) -> tuple[list[Hulk], list[tuple[str, str]]]:
    """Return the union with its small tunnels filled, and a note where there were any."""
    fillings: list[Manifold] = []
    # Put together anew the parts may leave another one beside a filling.
    for _ in range(_ROUNDS):
        more = tunnel_fillings(hulks)
        if not more:
            break
        fillings += more
        hulks = united_hulks(name, [*solids, *((filling, PLUG) for filling in fillings)])
    if not fillings:
        return hulks, []
    places = "one place" if len(fillings) == 1 else f"{len(fillings)} places"
    sentence = (
        f"{name}: at {places} a tunnel ran through the closed skin, where parts do not meet or "
        f"lack triangles; each was filled with less than {MOST_MM3:g} mm³"
    )
    return hulks, [("tunnels-filled", sentence)]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Made:
    """All that a skin is told from."""

    name: str
    read: Sequence[Taken]
    cut: Cut
    seams: Sequence[PartSeam]
    method: Method
    hulks: Sequence[Hulk]
    patches: Sequence[Patch]
    notes: list[tuple[str, str]]


def _of_the_hull(name: str, read: Sequence[Taken], hulks: Sequence[Hulk]) -> list[Hulk]:
    """Return the shells that are not a lid alone; refused where a part makes a body of its own."""
    kept = [hulk for hulk in hulks if (hulk.owner > COLLAR).any()]
    if len(kept) > 1 and len(read) > 1:
        first, *rest = (set(np.unique(hulk.owner).tolist()) for hulk in kept)
        lone = sorted(k for k in set().union(*rest) - first if 0 <= k < len(read))
        if lone:
            raise SurfaceError(
                f"{read[lone[0]].name} touches none of the other parts of {name}: it is not in "
                "its place. Place it with at_mm, turn_deg or place, leave it out, or give it a "
                "[[body]] of its own"
            )
    return kept


def _lid_notes(covers: Sequence[Taken], hulks: Sequence[Hulk]) -> list[tuple[str, str]]:
    """Return a note on each lid that stands out of the skin it should close."""
    said = []
    for j, lid in enumerate(covers):
        own = surface_area_mm2(lid.triangles_mm)
        shown = sum(
            surface_area_mm2(hulk.mesh.points[hulk.mesh.faces[hulk.owner == LID - j]])
            for hulk in hulks
        )
        if shown > _PROUD * own:
            sentence = (
                f"{lid.name}: stands out of the hull around its opening, and what is under it "
                "counts as hull; draw its outline along the opening's edge"
            )
            said.append(("lid-stands-out", sentence))
    return said


def _record(made: _Made) -> OuterSkin:
    """Return the skin with everything that is said of it."""
    cut, hulks, read = made.cut, made.hulks, made.read
    shells = tuple(
        Shell(triangles_mm=h.mesh.triangles, volume_mm3=h.volume_mm3, area_mm2=h.area_mm2)
        for h in hulks
    )
    sources: list[IntArray] = [np.where(h.owner >= 0, h.owner, INVENTED) for h in hulks]
    areas = np.array([region.area for region in cut.closed])
    material = sum(part.material_volume_mm3 or 0.0 for part in read)
    checks = checked(hulks, cut.stations_mm, cut.closed, material)
    shown = set(np.unique(np.concatenate([h.owner for h in hulks])).tolist())
    hidden = {k for k in range(len(read)) if k not in shown and made.method == "united"}
    walls = bulkheads([part.triangles() for part in read], cut.stations_mm, areas, made.seams)
    return OuterSkin(
        name=made.name,
        shells=shells,
        sources=tuple(sources),
        method=made.method,
        parts=tuple(_part(part, all_inside=k in hidden) for k, part in enumerate(read)),
        patches=tuple(sorted(made.patches, key=lambda patch: -patch.area_mm2)),
        seams=tuple(made.seams),
        bulkheads_mm=walls,
        base_error_mm3=(
            rounding_mm3(hulks) if made.method == "united" else stacked_mm3(cut.stations_mm, areas)
        ),
        checks=checks,
        notes=(*made.notes, *overlap_notes(made.seams), *_hidden_notes(read, hidden)),
    )


def _hidden_notes(read: Sequence[Taken], hidden: set[int]) -> list[tuple[str, str]]:
    """Return a note on each part that is no outer skin at all."""
    return [
        ("part-inside", f"{read[k].name}: lies inside the others; nothing of it is outer skin")
        for k in sorted(hidden)
    ]


def _part(part: Taken, *, all_inside: bool) -> PartFound:
    """Return what was found in a part."""
    return PartFound(
        name=part.name,
        triangles_mm=part.triangles_mm,
        kind="inside" if all_inside else part.kind,
        material_volume_mm3=part.material_volume_mm3,
        wall_mm=part.wall_mm,
        found=part.found,
    )
