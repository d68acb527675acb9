"""A first build sheet and ledger of parts as their files hold them."""

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Final

import numpy as np

from hullcheck.answers.begin_records import Begun, BodyBegun
from hullcheck.craft.found_openings import thinned
from hullcheck.files.begin_parts import UnitFound
from hullcheck.files.begin_words import (
    comment,
    left_out_lines,
    number,
    placed_part,
    point,
    source_of,
    unlike,
    with_remark,
)
from hullcheck.files.first_build import (
    FirstItem,
    body_text,
    folder_of,
    quoted,
    write_first_build,
)
from hullcheck.geometry.outer_records import OuterSkin, Patch
from hullcheck.units import MM_PER_UNIT

_MOST_POINTS: Final = 12
_SAME_WALL: Final = 0.2
_TWIN_MM: Final = 1.0
_CONFIRM: Final = (
    "TO CONFIRM: her parts lie in their own print axes. The places below make ends fit and are a "
    "suggestion. Look at them, then take the # and the blank behind it away from the lines from "
    "parts to the closing bracket. Until then hullcheck float refuses this sheet."
)
_BY_HAND: Final = (
    "TO PLACE: her parts lie in their own print axes, and no places could be suggested. Take the # "
    "and the blank behind it away from the lines from parts to the closing bracket, and put in "
    "where each part goes: at_mm moves it, turn_deg turns it. Until then hullcheck float refuses "
    "this sheet."
)
_GROUPS: Final = {"hull": "hull", "main float": "floats", "tip float": "floats"}


def write_begun(
    sheet: str | os.PathLike[str], begun: Begun, unit: UnitFound, *, name: str
) -> tuple[Path, ...]:
    """Write a first build sheet of parts and a ledger beside it; return their paths.

    Parameters
    ----------
    sheet : str or path
        The sheet to write; its folder must be there.
    begun : Begun
        What was found in the parts.
    unit : UnitFound
        What their files count in.
    name : str
        What she is called.

    Raises
    ------
    InputError
        If either file is there already, or no sheet can hold the name of a part's file.
    """
    folder = folder_of(sheet)
    bodies = "\n".join(_body(begun, body, folder) for body in begun.bodies)
    found = _seams(begun.bodies) + _openings(begun.bodies)
    doubts = "".join(comment(f"Look at this: {doubt}.") for doubt in begun.doubts)
    return write_first_build(
        sheet,
        name=name,
        axes=_axes(begun, unit),
        bodies="\n".join(text for text in (doubts, bodies, *found) if text),
        items=_items(begun),
    )


def _axes(begun: Begun, unit: UnitFound) -> str:
    """Return the [axes] of a sheet: what was not said stands as what was assumed."""
    lines = ["\n[axes]                               # how the files lie\n"]
    if unit.unit is None:
        lines.append("# unit: each file states its own\n")
    else:
        long = f"all files together are {unit.longest * MM_PER_UNIT[unit.unit]:.0f} mm long"
        said = {
            "stated": "as stated",
            "files": "as the files state",
            "assumed": f"assumed: see whether it holds: {long}",
        }
        lines.append(with_remark(f'unit = "{unit.unit}"', said[unit.by]))
    if begun.axes is None:
        lines.append("# forward and up are not needed: each part has a place of its own\n")
        return "".join(lines)
    step = next((body.step for body in begun.bodies if body.step is not None), None)
    how = {
        "stated": "as stated",
        "step": "told by her step" + (f" at station {step.station_mm:.0f}" if step else ""),
        "assumed": "assumed: see whether it holds",
    }
    lines.append(with_remark(f'forward = "{begun.axes.forward}"', how[begun.axes.forward_by]))
    lines.append(with_remark(f'up = "{begun.axes.up}"', how[begun.axes.up_by]))
    return "".join(lines)


def _body(begun: Begun, body: BodyBegun, folder: Path) -> str:
    """Return a [[body]] with what was found in it as comments."""
    source = _parts_in_place(begun, body, folder) if begun.in_place else _parts_loose(begun, folder)
    text = body_text(body.name, body.role, source.rstrip("\n"))
    text += _wall(body.skin) + _twin(begun, body)
    if body.refusal:
        text += comment(f"No outer skin yet: {body.refusal}.")
    if body.skin is not None and body.skin.bulkheads_mm:
        listed = ", ".join(
            f"{{ station_mm = {number(x)}, watertight = false }}" for x in body.skin.bulkheads_mm
        )
        text += (
            "# Walls across her inside. Is one of them watertight? Say so, and take the # away:\n"
        )
        text += f"# bulkheads = [{listed}]\n"
    if body.step is not None:
        text += comment(
            f"Her step was found at station {body.step.station_mm:.1f}, {body.step.depth_mm:.1f} "
            "mm deep; nothing to fill in."
        )
    return text


def _parts_in_place(begun: Begun, body: BodyBegun, folder: Path) -> str:
    """Return the parts of a body that lie in place; those left out as comments."""
    left_out = left_out_lines(begun, body.parts, folder)
    files = [source_of(begun.parts[i], folder) for i in body.parts]
    if len(files) == 1 and not left_out:
        return f"parts = [{files[0]}]"
    lines = [
        with_remark(f"  {file},", "inside her, no part of her skin: does it lie in place?")
        if i in body.inside
        else f"  {file},\n"
        for i, file in zip(body.parts, files, strict=True)
    ]
    lines += [with_remark(f"  # {file},", f"left out: {why}") for file, why in left_out]
    return "parts = [\n" + "".join(lines) + "]"


def _parts_loose(begun: Begun, folder: Path) -> str:
    """Return the parts that lie in print axes, all commented out until they are confirmed."""
    suggested = begun.suggestion
    places = (None,) * len(begun.loose) if suggested is None else suggested.placements
    lines = [comment(_BY_HAND if suggested is None else _CONFIRM)]
    if suggested is not None:
        lines += [comment(text) for text in (*suggested.doubts, *suggested.unplaced)]
    elif begun.no_suggestion:
        lines.append(comment(f"{begun.no_suggestion}."))
    row = range(len(places)) if suggested is None else suggested.order
    lines.append("# parts = [\n")
    for k in (*row, *(k for k in range(len(places)) if k not in row)):
        part = placed_part(begun.parts[begun.loose[k]], folder, places[k])
        unfit = "# " if suggested is not None and places[k] is None else ""
        lines.append(f"#   {unfit}{part},\n")
    lines += [
        f"#   # {file},  # left out: {why}\n"
        for file, why in left_out_lines(begun, begun.loose, folder)
    ]
    return "".join([*lines, "# ]\n"])


def _wall(skin: OuterSkin | None) -> str:
    """Return the wall of a body: as measured where its parts agree, else to fill in."""
    walls = [part.wall_mm for part in skin.parts if part.kind == "thin wall"] if skin else []
    known = np.array([wall for wall in walls if wall is not None])
    if len(known) == 0:
        return ""
    middle = float(np.median(known))
    if np.abs(known - middle).max() > _SAME_WALL * middle:
        return with_remark(
            f"# wall_mm = {number(middle)}",
            f"its parts differ: {number(known.min())} to {number(known.max())}",
        )
    return with_remark(f"wall_mm = {number(middle)}", "measured in the files: 2 × volume ÷ area")


def _twin(begun: Begun, body: BodyBegun) -> str:
    """Return what is to be said of a body's twin, a comment at the starboard one of two."""
    aside = 0.5 * (body.low_mm[1] + body.high_mm[1]) - begun.center_plane_mm
    if body.twin and aside > 0.0:
        text = comment(
            f"{body.twin} is its mirror image. One of the two is enough: take the other [[body]] "
            "away, and the # here:"
        )
    elif body.lone:
        text = comment("It lies aside and no twin of it was found. This would add one:")
    else:
        return ""
    over = body.twin or f"twin of {body.name}"
    for own, other in (("starboard", "port"), ("port", "starboard")):
        if not body.twin and own in body.name:
            over = body.name.replace(own, other)
            break
    if abs(begun.center_plane_mm) > _TWIN_MM:
        text += comment("(only once her center plane lies at y = 0: set datum_mm)")
    return f"{text}# mirror = {quoted(over)}\n"


def _seams(bodies: Sequence[BodyBegun]) -> list[str]:
    """Return a [[seam]] for each place where parts meet."""
    taken: list[str] = []
    found = []
    for body in bodies:
        for seam in body.skin.seams if body.skin is not None else ():
            name = unlike(f"{seam.parts[0]} to {seam.parts[1]}", taken)
            gap = (
                f"ends {seam.gap_mm:.2f} mm apart"
                if seam.gap_mm >= 0.005
                else f"ends overlap by {-seam.gap_mm:.2f} mm"
                if seam.gap_mm <= -0.005
                else "ends touch"
            )
            askew = "" if seam.across else "; cut aslant, this is its middle"
            found.append(
                f"[[seam]]\nname = {quoted(name)}\nbody = {quoted(body.name)}\n"
                + with_remark(f"station_mm = {number(seam.station_mm)}", f"{gap}{askew}")
            )
    return found


def _openings(bodies: Sequence[BodyBegun]) -> list[str]:
    """Return an [[opening]] for each hole that the skin had to close; its state is left open."""
    taken: list[str] = []
    patches = [
        (body, patch)
        for body in bodies
        for patch in (body.skin.patches if body.skin is not None else ())
        if patch.kind == "opening"
    ]
    plain = [f"opening at station {round(float(p.center_mm[0]))}" for _, p in patches]
    return [
        _opening(patch, unlike(name + _side(body, patch) * (plain.count(name) > 1), taken))
        for (body, patch), name in zip(patches, plain, strict=True)
    ]


def _side(body: BodyBegun, patch: Patch) -> str:
    """Return which side of a body an opening lies on, in words; "" where it spans its middle."""
    middle = 0.5 * (body.low_mm[1] + body.high_mm[1])
    if float(patch.low_mm[1]) >= middle:
        return " to starboard"
    return " to port" if float(patch.high_mm[1]) <= middle else ""


def _opening(patch: Patch, name: str) -> str:
    """Return an [[opening]] with its edge; the lowest point is among its points."""
    edge = thinned(patch.edge_mm, _MOST_POINTS) if len(patch.edge_mm) else patch.lowest_mm[None]
    if float(edge[:, 2].min()) > float(patch.lowest_mm[2]) + 0.01:
        edge = np.vstack([edge[: _MOST_POINTS - 1], patch.lowest_mm])
    length, width = patch.size_mm
    low = point(patch.lowest_mm)
    points = ",\n  ".join(
        ", ".join(point(p) for p in edge[k : k + 3]) for k in range(0, len(edge), 3)
    )
    return (
        f"[[opening]]\nname = {quoted(name)}\n"
        + comment(f"{length:.0f} × {width:.0f} mm, lowest at {low}: what is it? Name it.")
        + with_remark('# state = "taped"', "open, taped, sealed; it counts as open until then")
        + f"points_mm = [\n  {points},\n]\n"
    )


def _items(begun: Begun) -> list[FirstItem]:
    """Return the rows of the ledger: one a part that is used, its mass and place a guess."""
    groups = {i: _GROUPS.get(body.role, body.role) for body in begun.bodies for i in body.parts}
    items = []
    for i in (*groups, *(i for i in begun.used if i not in groups)):
        planned = begun.planned[i]
        placed = "; place as suggested" if begun.loose and planned.center_mm else ""
        items.append(
            FirstItem(
                name=begun.parts[i].name,
                group=groups.get(i, "other"),
                planned_g=planned.mass_g,
                center_mm=planned.center_mm,
                note=f"{planned.why}{placed}" if planned.mass_g is not None else "",
            )
        )
    return items
