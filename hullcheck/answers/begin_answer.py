"""A first look at the mesh files of a craft: how they lie, what they make, what is doubtful."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from hullcheck.answers.begin_axes import AxesFound, axes_found, body_rotation_of
from hullcheck.answers.begin_bodies import BodiesBegun, bodies_begun
from hullcheck.answers.begin_placing import Placed, placed_to_fit
from hullcheck.answers.begin_records import Begun, FilePart
from hullcheck.answers.begin_variants import variants_among
from hullcheck.answers.begin_weights import PlannedPart, planned_part
from hullcheck.geometry.arrays import FloatArray, bounds
from hullcheck.geometry.outer_records import OuterSkin
from hullcheck.geometry.part_groups import alike, lie_in_place, near_groups

SkinOf = Callable[[str, Sequence[tuple[str, FloatArray]]], OuterSkin]
_FLIPPED: Final = "--end-for-end and --upside-down are for parts that lie in their own print axes"

_PLANE_MM: Final = 0.05
"""Parts set down on a plane by a slicer stand on it to the rounding of the file."""
_SEE: Final = "touches no other part end to end: see with hullcheck skin whether it lies in place"


def first_look(
    parts: Sequence[FilePart],
    skin_of: SkinOf,
    *,
    forward: str | None = None,
    up: str | None = None,
    end_for_end: bool = False,
    upside_down: bool = False,
    progress: Callable[[str], None] | None = None,
) -> Begun:
    """Return what mesh files hold, as far as it can be told from their surfaces.

    Parameters
    ----------
    parts : sequence of FilePart
        One a file, or one an object of a file.
    skin_of : callable
        Makes the outer skin of a body from its name and its parts (name, triangles), or raises
        SurfaceError.
    forward, up : str or None
        File axes to the bow and to the sky, where stated.
    end_for_end, upside_down : bool
        For parts in print axes: turn the suggestion over.
    progress : callable, optional
        Told what is being worked on, in words.

    Returns
    -------
    Begun

    Raises
    ------
    InputError
        If the axes stated are none, or lie along one line.
    """
    tell = progress or (lambda _: None)
    tell("looking at how the parts lie")
    named = [(part.name, part.triangles_mm) for part in parts]
    in_place, unsure = lie_in_place([part.triangles_mm for part in parts])
    plates = [part.file if part.object else "" for part in parts]
    variants = variants_among(named, in_place=in_place, plates=plates)
    used = [i for i in range(len(parts)) if i not in {v.part for v in variants.left_out}]
    if variants.left_out:
        in_place, unsure = lie_in_place([parts[i].triangles_mm for i in used])
    axes, doubts = None, list(variants.doubts)
    if in_place:
        axes, made = _in_place(parts, used, skin_of, (forward, up), tell)
        doubts += [f"{parts[used[k]].name} {_SEE}" for k in unsure] + _on_a_plate(parts, used)
        doubts += [_FLIPPED] * (end_for_end or upside_down)
    else:
        made = placed_to_fit(parts, used, skin_of, tell, over=(end_for_end, upside_down))
        doubts += _alike_parts(parts, used)
    return Begun(
        parts=tuple(parts),
        planned=_planned(parts, made.placed, made.bodies),
        axes=axes,
        bodies=made.bodies.bodies,
        center_plane_mm=made.bodies.center_plane_mm,
        left_out=variants.left_out,
        suggestion=made.suggestion,
        loose=() if in_place else tuple(used),
        no_suggestion=made.why,
        doubts=tuple(doubts),
        notes=made.bodies.notes,
    )


def _in_place(
    parts: Sequence[FilePart],
    used: Sequence[int],
    skin_of: SkinOf,
    stated: tuple[str | None, str | None],
    tell: Callable[[str], None],
) -> tuple[AxesFound, Placed]:
    """Return how files lie whose parts lie in place, and what they make."""
    tell("looking for parts that belong together")
    filed = [parts[i].triangles_mm for i in used]
    groups = [tuple(used[k] for k in group) for group in near_groups(filed)]
    largest = max(groups, key=lambda group: _room(parts, group))
    hull = np.concatenate([parts[i].triangles_mm for i in largest])
    tell("looking for bow, deck and step")
    axes = axes_found(hull, forward=stated[0], up=stated[1])
    placed = _turned(parts, axes)
    bodies = bodies_begun(parts, groups, placed, skin_of, tell)
    skin = bodies.bodies[0].skin
    if None not in stated or skin is None:
        return axes, Placed(suggestion=None, why="", placed=placed, bodies=bodies)
    # Holes look like steps in parts, not in the closed skin: it has the last word.
    closed = skin.shells[0].triangles_mm @ body_rotation_of((axes.forward, axes.up))
    last = axes_found(closed, forward=stated[0], up=stated[1])
    if (last.forward, last.up) != (axes.forward, axes.up):
        placed = _turned(parts, last)
        bodies = bodies_begun(parts, groups, placed, skin_of, tell)
    return last, Placed(suggestion=None, why="", placed=placed, bodies=bodies)


def _turned(parts: Sequence[FilePart], axes: AxesFound) -> list[FloatArray | None]:
    """Return the triangles of parts in body axes; as filed where the axes are the same."""
    turn = body_rotation_of((axes.forward, axes.up))
    if (turn == np.eye(3)).all():
        return [part.triangles_mm for part in parts]
    return [part.triangles_mm @ turn.T for part in parts]


def _room(parts: Sequence[FilePart], group: Sequence[int]) -> float:
    """Return how much room the box around parts takes [mm³]."""
    boxes = [bounds(parts[i].triangles_mm) for i in group]
    size = np.max([b[1] for b in boxes], axis=0) - np.min([b[0] for b in boxes], axis=0)
    return float(np.prod(np.maximum(size, 1.0)))


def _planned(
    parts: Sequence[FilePart], placed: Sequence[FloatArray | None], begun: BodiesBegun
) -> tuple[PlannedPart, ...]:
    """Return what each part may weigh, its place in body axes; parts without a place have none."""
    volumes: dict[int, float | None] = {}
    for body in begun.bodies:
        if body.skin is not None and len(body.skin.parts) == len(body.parts):
            own = (part.material_volume_mm3 for part in body.skin.parts)
            volumes.update(zip(body.parts, own, strict=True))
    planned = []
    for i, (part, there) in enumerate(zip(parts, placed, strict=True)):
        surface = part.triangles_mm if there is None else there
        one = planned_part(surface, material_volume_mm3=volumes.get(i))
        planned.append(replace(one, center_mm=None) if there is None else one)
    return tuple(planned)


def _on_a_plate(parts: Sequence[FilePart], used: Sequence[int]) -> list[str]:
    """Return a sentence for each file whose objects stand on one plane, apart from each other."""
    found = []
    for file in dict.fromkeys(parts[i].file for i in used if parts[i].object):
        own = [parts[i].triangles_mm for i in used if parts[i].file == file]
        lowest = [float(bounds(part)[0][2]) for part in own]
        if len(own) < 2 or max(lowest) - min(lowest) > _PLANE_MM:
            continue
        if len(near_groups(own)) == len(own):
            found.append(
                f"the {len(own)} objects of {file} stand apart on one plane, as on a printer: they "
                "are taken to lie in place; if they do not, give each at_mm and turn_deg"
            )
    return found


def _alike_parts(parts: Sequence[FilePart], used: Sequence[int]) -> list[str]:
    """Return a sentence for each two parts in print axes that are each other's mirror image."""
    found = []
    for k, i in enumerate(used):
        for j in used[k + 1 :]:
            one, two = parts[i], parts[j]
            if alike(one.triangles_mm, two.triangles_mm, mirrored=True):
                found.append(
                    f"{one.name} and {two.name} are mirror images: a left and a right part, or one "
                    "printed twice"
                )
    return found
