"""Small tunnels through a united skin, found and filled."""

from collections.abc import Iterator, Sequence
from itertools import islice
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.skin_union import Hulk
from hullcheck.geometry.solids import as_solid

if TYPE_CHECKING:
    from manifold3d import Manifold

SIZES_MM: Final = (1.0, 3.0, 10.0)
"""Boxes that a tunnel is looked for in; one that fits in none of them is told of and left."""
MOST_MM3: Final = 1.0
"""No filling adds more to the skin's volume than this."""
_HALF: Final = 0.6
"""Share of a box that each of its halves takes: they overlap, so that a tunnel fits into one."""
_MOST: Final = 20
_TRIED: Final = 8
_SHUT_MM3: Final = 1e-3


def tunnel_fillings(hulks: Sequence[Hulk]) -> list["Manifold"]:
    """Return solids that fill the small tunnels of a skin when they are united with it.

    Parameters
    ----------
    hulks : sequence of Hulk
        Outer shells of a union.

    Returns
    -------
    list of Manifold
        Each the least convex body around what lies of the skin in a box of 1 to 10 mm that holds
        a tunnel; at most 20, none that adds more than 1 mm³, and none for a tunnel that fits in no
        such box.

    Notes
    -----
    Where a lost triangle meets the gap between two parts, plug, collar and sheet, each closed by
    itself, may leave a needle's eye between them. It holds no water worth the name, but a skin with
    one is not simply a bag.
    """
    fillings: list[Manifold] = []
    for hulk in hulks:
        if hulk.handles == 0:
            continue
        # What voids are left is not looked at: each would hide a handle of the whole.
        solid = max(as_solid(hulk.mesh).decompose(), key=lambda piece: piece.volume())
        while len(fillings) < _MOST and solid.genus() > 0:
            found = next((f for f in (_filled(solid, size) for size in SIZES_MM) if f), None)
            if found is None:
                break
            filling, solid = found
            fillings.append(filling)
    return fillings


def _filled(solid: "Manifold", size_mm: float) -> "tuple[Manifold, Manifold] | None":
    """Return what fills a tunnel or shuts a blind duct of a solid, and the solid so filled.

    None if none of the first few fillings did.
    """
    x, y, z, to_x, to_y, to_z = solid.bounding_box()
    low, high = np.array([x, y, z]) - size_mm, np.array([to_x, to_y, to_z]) + size_mm
    for filling in islice(_found(solid, low, high, size_mm), _TRIED):
        whole = solid + filling
        if whole.volume() - solid.volume() > MOST_MM3:
            continue
        pieces = sorted(whole.decompose(), key=lambda piece: -piece.volume())
        shut = any(piece.volume() < -_SHUT_MM3 for piece in pieces)
        if shut or pieces[0].genus() < solid.genus():
            return filling, pieces[0]
    return None


def _found(
    solid: "Manifold", low: FloatArray, high: FloatArray, size_mm: float
) -> Iterator["Manifold"]:
    """Yield the fillings of the tunnels in small boxes of a box, by halving it."""
    from manifold3d import Manifold

    size = high - low
    held = solid ^ Manifold.cube(tuple(size.tolist())).translate(tuple(low.tolist()))
    # A box that cuts a hollow through holds a ring, which is no tunnel: none of its halves does.
    if sum(piece.genus() for piece in held.decompose()) == 0:
        return
    if size.max() <= size_mm:
        yield held.hull()
        return
    axis = int(np.argmax(size))
    for start, end in ((0.0, _HALF), (1.0 - _HALF, 1.0)):
        one, other = low.copy(), high.copy()
        one[axis], other[axis] = low[axis] + start * size[axis], low[axis] + end * size[axis]
        yield from _found(held, one, other, size_mm)
