"""The outer skins of a build sheet's bodies: made or taken from the cache, told, mirrored."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from hullcheck.craft.bodies import Body
from hullcheck.craft.body_skin import BodySkin
from hullcheck.craft.fittings import Lid
from hullcheck.craft.found_openings import lid_of
from hullcheck.errors import SurfaceError
from hullcheck.files.body_parts import BodyParts, Notes, Tell
from hullcheck.files.sheet import SheetFile
from hullcheck.files.skin_cache import SkinCache, key_of
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.joining import numbered
from hullcheck.geometry.outer_records import OuterSkin, PartSeam
from hullcheck.geometry.outer_skin import outer_skin
from hullcheck.geometry.part_groups import lie_in_place
from hullcheck.geometry.shells import Shell
from hullcheck.units import MM3_PER_CM3

AS_FILED = "as filed"
_ACROSS = np.array([1.0, -1.0, 1.0])


def skin_of_parts(
    sheet: SheetFile, index: int, parts: BodyParts, lids: Sequence[Lid], tell: Tell
) -> tuple[OuterSkin, Notes]:
    """Return the outer skin of a sheet's body, from the cache beside the sheet where it is there.

    Parameters
    ----------
    sheet : SheetFile
        The sheet.
    index : int
        Which body.
    parts : BodyParts
        Its parts, placed.
    lids : sequence of Lid
        Those that close it.
    tell : callable
        Told what is being worked on.

    Returns
    -------
    OuterSkin
    list of (str, str)
        What was found and done: a code and a sentence each.

    Raises
    ------
    SurfaceError
        If the parts make no skin.

    Notes
    -----
    What is the files' own triangles is not kept: it takes no longer to make than to read.
    """
    keys = sheet.keys.body[index]
    outlines = [(lid.name, lid.outline_mm) for lid in lids]
    floods = [np.array(point, dtype=np.float64) for point in keys.floods]
    more = [f"lid {name} {outline.tolist()}" for name, outline in outlines]
    more += [f"flood {point.tolist()}" for point in floods]
    key = key_of(parts.pieces, keys.name, *more)
    cache = SkinCache(sheet.folder)
    notes: Notes = []
    skin = cache.get(key)
    if skin is None:
        skin = outer_skin(keys.name, parts.pieces, lids=outlines, floods=floods, progress=tell)
        refuse_loose(skin, "give each its at_mm and turn_deg, or have hullcheck begin suggest them")
        if skin.method != AS_FILED:
            note = cache.put(key, skin)
            notes += [] if note is None else [note]
    return skin, [*skin_notes(skin), *notes]


def refuse_loose(skin: OuterSkin, remedy: str) -> None:
    """Refuse a skin of segments that do not lie end to end: as they are printed they lie anyhow.

    Raises
    ------
    SurfaceError
        With the parts and what to do.
    """
    if skin.method == AS_FILED or len(skin.parts) < 2 or skin.seams:
        return
    in_place, loose = lie_in_place([part.triangles_mm for part in skin.parts])
    if in_place:
        return
    names = [skin.parts[i].name for i in loose]
    more = f" and {len(names) - 2} more" if len(names) > 2 else ""
    raise SurfaceError(
        f"{skin.name}: {', '.join(names[:2])}{more} are open at their ends and touch no other part "
        f"there; they look to be in the axes they are printed in: {remedy}"
    )


def bodies_of(made: BodySkin) -> list[Body]:
    """Return the bodies of a skin, numbered where it has several shells.

    Each has its share of what the volume may be out by; none where files are taken at their word.
    """
    whole = sum(shell.volume_mm3 for shell in made.shells)
    exact = made.skin is not None and made.skin.method == AS_FILED
    return [
        Body(
            name=name,
            role=made.role,
            shell=shell,
            volume_error_mm3=None if exact else made.error_mm3 * shell.volume_mm3 / whole,
        )
        for name, shell in numbered(made.name, made.shells)
    ]


def skin_notes(skin: OuterSkin) -> Notes:
    """Return what was found in a skin's parts and how it came to be: a code and a sentence each."""
    notes = [("repaired", f"{part.name}: {clause}") for part in skin.parts for clause in part.found]
    notes += skin.notes
    if skin.method != AS_FILED:
        notes.append(("outer-skin", _said_of(skin)))
    return notes


def lids_of_bodies(
    lids: Sequence[Lid], parts: Sequence[BodyParts | None], mirrored: Sequence[bool]
) -> list[list[Lid]]:
    """Return the lids of each body: those that lie in its box, or nearer to it than to any other.

    Parameters
    ----------
    lids : sequence of Lid
        Of the sheet.
    parts : sequence of BodyParts or None
        Of each body; None for one from offsets, which has no lids.
    mirrored : sequence of bool
        Whether each has a twin: a lid on the twin is turned over to close the body itself.

    Returns
    -------
    list of list of Lid
    """
    found: list[list[Lid]] = [[] for _ in parts]
    for lid in lids:
        choices: list[tuple[float, int, Lid]] = []
        for i, (body, has_twin) in enumerate(zip(parts, mirrored, strict=True)):
            if body is None:
                continue
            over = replace(lid, outline_mm=lid.outline_mm[::-1] * _ACROSS)
            sides = (lid, over) if has_twin else (lid,)
            choices += [(_outside_mm(one.outline_mm, body), i, one) for one in sides]
        if choices:
            _, i, one = min(choices, key=lambda choice: choice[0])
            found[i].append(one)
    return found


def idle_lids(lids: Sequence[Lid], skins: Sequence[OuterSkin]) -> list[str]:
    """Return the names of the lids that closed nothing."""
    patches = [patch for skin in skins for patch in skin.patches if patch.kind == "lid"]
    busy = {lid_of(patch, lids) for patch in patches}
    return [lid.name for lid in lids if lid.name not in busy]


def mirrored_shell(shell: Shell) -> Shell:
    """Return a shell with y turned over."""
    return replace(shell, triangles_mm=_over(shell.triangles_mm))


def mirrored_skin(skin: OuterSkin, name: str) -> OuterSkin:
    """Return a skin with y turned over, under another name; its notes stay with the first."""
    return replace(
        skin,
        name=name,
        shells=tuple(mirrored_shell(shell) for shell in skin.shells),
        parts=tuple(
            replace(part, triangles_mm=_over(part.triangles_mm), found=()) for part in skin.parts
        ),
        patches=tuple(
            replace(
                patch,
                triangles_mm=_over(patch.triangles_mm),
                edge_mm=patch.edge_mm[::-1] * _ACROSS + 0.0,
            )
            for patch in skin.patches
        ),
        seams=tuple(_mirrored_seam(seam) for seam in skin.seams),
        notes=(),
    )


def _mirrored_seam(seam: PartSeam) -> PartSeam:
    """Return a seam with y turned over."""
    return replace(seam, normal=seam.normal * _ACROSS + 0.0, place_mm=seam.place_mm * _ACROSS + 0.0)


def _over(triangles_mm: FloatArray) -> FloatArray:
    """Return triangles with y turned over, still outward; no corner keeps a negative zero."""
    turned: FloatArray = triangles_mm[:, ::-1] * _ACROSS + 0.0
    return turned


def _outside_mm(points_mm: FloatArray, body: BodyParts) -> float:
    """Return how far the middle of points lies outside the box of a body [mm]; 0 inside it."""
    low, high = body.box_mm
    middle = 0.5 * (points_mm.min(axis=0) + points_mm.max(axis=0))
    return float(np.linalg.norm(np.maximum(0.0, np.maximum(low - middle, middle - high))))


def _said_of(skin: OuterSkin) -> str:
    """Return how a skin came to be, in a sentence."""
    kinds = {part.kind for part in skin.parts}
    count, kind = len(skin.parts), f"{kinds.pop()} " if len(kinds) == 1 else ""
    kind = kind.replace("thin wall", "thin-wall").replace("closed skin", "closed")
    made = "solid of the sections" if skin.method == "sections" else "outer skin"
    openings = sum(patch.kind == "opening" for patch in skin.patches)
    found = f"{openings} opening{'' if openings == 1 else 's'} found" if openings else ""
    lids = dict.fromkeys(patch.name for patch in skin.patches if patch.kind == "lid")
    closed = f"closed by lids: {', '.join(lids)}" if lids else ""
    tail = ", ".join(text for text in (found, closed) if text) or "no openings found"
    volume, error = skin.volume_mm3 / MM3_PER_CM3, skin.error_mm3 / MM3_PER_CM3
    known = f" ± {error:.2g}" if error > 0.0 else ""
    parts = f"{count} {kind}part{'' if count == 1 else 's'}"
    return f"{skin.name}: {made} of {parts}, {volume:.2f} cm³{known}; {tail}"
