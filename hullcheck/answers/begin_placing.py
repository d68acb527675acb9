"""Where parts in print axes may belong: ends that fit, and her step for bow and deck."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from hullcheck.answers.begin_axes import axes_found
from hullcheck.answers.begin_bodies import BodiesBegun, bodies_begun
from hullcheck.answers.begin_records import FilePart
from hullcheck.errors import SurfaceError
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outer_records import OuterSkin
from hullcheck.geometry.print_placement import Suggestion, suggest_placements

Over = tuple[bool, bool]
_GUESSES: Final = ("Forward (", "If that is wrong", "Both halves", "Both edges")
"""How the sentences begin that are void once the step tells bow and deck."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Placed:
    """Parts as they are suggested to lie, the bodies they make, or why there is no suggestion."""

    suggestion: Suggestion | None
    why: str
    placed: list[FloatArray | None]
    bodies: BodiesBegun


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Asked:
    """What there is to place: all parts, numbers of those used, how skins are made and told."""

    parts: Sequence[FilePart]
    used: Sequence[int]
    skin_of: Callable[[str, Sequence[tuple[str, FloatArray]]], OuterSkin]
    tell: Callable[[str], None]

    def suggestion(self, over: Over) -> Suggestion:
        """Return where ends fit, turned over as told."""
        named = [(self.parts[i].name, self.parts[i].triangles_mm) for i in self.used]
        return suggest_placements(named, end_for_end=over[0], upside_down=over[1])

    def placed(self, suggestion: Suggestion | None) -> list[FloatArray | None]:
        """Return all parts in body axes; None for one without a place."""
        placed: list[FloatArray | None] = [None] * len(self.parts)
        if suggestion is not None:
            for i, place in zip(self.used, suggestion.placements, strict=True):
                if place is not None:
                    placed[i] = self.parts[i].triangles_mm @ place[:3, :3].T + place[:3, 3]
        return placed

    def nowhere(self, why: str) -> Placed:
        """Return parts without places."""
        placed = self.placed(None)
        bodies = self.bodies(placed, every=True)
        return Placed(suggestion=None, why=why, placed=placed, bodies=bodies)

    def bodies(self, placed: Sequence[FloatArray | None], *, every: bool) -> BodiesBegun:
        """Return the one body that parts with a place make, or every part where none has one."""
        group = tuple(i for i in self.used if every or placed[i] is not None)
        return bodies_begun(self.parts, [group], placed, self.skin_of, self.tell)


def placed_to_fit(
    parts: Sequence[FilePart],
    used: Sequence[int],
    skin_of: Callable[[str, Sequence[tuple[str, FloatArray]]], OuterSkin],
    tell: Callable[[str], None],
    *,
    over: Over,
) -> Placed:
    """Return parts in print axes as their ends fit, bow and deck as her step tells if it does.

    Parameters
    ----------
    parts, used : sequence of FilePart, sequence of int
        All parts, and the numbers of those that count.
    skin_of, tell : callable
        As in `first_look`.
    over : (bool, bool)
        Whether to turn her end for end, and upside down, against what would be suggested.
    """
    asked = _Asked(parts=parts, used=used, skin_of=skin_of, tell=tell)
    tell("looking for ends that fit each other")
    try:
        suggestion = asked.suggestion((False, False))
    except SurfaceError as problem:
        return asked.nowhere(str(problem))
    placed = asked.placed(suggestion)
    told = told_by_step(np.concatenate([part for part in placed if part is not None]))
    turn = _both(told or (False, False), over)
    if any(turn):
        suggestion = asked.suggestion(turn)
        placed = asked.placed(suggestion)
    bodies = asked.bodies(placed, every=False)
    skin = bodies.bodies[0].skin
    if told is None and skin is not None:
        # Holes hide a step in parts, not in the closed skin; that is turned over as asked already.
        told = told_by_step(skin.shells[0].triangles_mm)
        if told is not None and told != over:
            suggestion = asked.suggestion(told)
            placed = asked.placed(suggestion)
            bodies = asked.bodies(placed, every=False)
    if told is not None:
        suggestion = _with_step(suggestion, bodies, over)
    return Placed(suggestion=suggestion, why="", placed=placed, bodies=bodies)


def told_by_step(surface: FloatArray) -> Over | None:
    """Return whether a body must be turned end for end, and upside down, as its step tells.

    Parameters
    ----------
    surface : ndarray, shape (n, 3, 3)
        Its skin or its parts, x fore and aft and z up or down [mm].

    Returns
    -------
    (bool, bool) or None
        None where no step tells it.
    """
    axes = axes_found(surface)
    if axes.assumed or (axes.forward[1], axes.up[1]) != ("x", "z"):
        return None
    return axes.forward == "+x", axes.up == "-z"


def _both(one: Over, two: Over) -> Over:
    """Return two turns one after the other: half turns undo each other."""
    return one[0] != two[0], one[1] != two[1]


def _with_step(suggestion: Suggestion, bodies: BodiesBegun, over: Over) -> Suggestion:
    """Return a suggestion that says that the step tells bow and deck, and no longer a guess."""
    step = bodies.bodies[0].step
    where = "" if step is None else f" at station {step.station_mm:.0f}"
    said = f"Bow and deck are told by her step{where}."
    if any(over):
        said = "She is turned over as asked, though her step tells bow and deck otherwise."
    kept = [doubt for doubt in suggestion.doubts if not doubt.startswith(_GUESSES)]
    return replace(suggestion, doubts=(said, *kept))
