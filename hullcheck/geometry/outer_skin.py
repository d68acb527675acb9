"""The outer skin of one body, from the files of its parts as they are."""

from collections.abc import Callable, Sequence

import numpy as np

from hullcheck.errors import SurfaceError
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.as_filed import as_filed
from hullcheck.geometry.outer_records import OuterSkin


def outer_skin(
    name: str,
    parts: Sequence[tuple[str, FloatArray]],
    *,
    lids: Sequence[tuple[str, FloatArray]] = (),
    floods: Sequence[FloatArray] = (),
    progress: Callable[[str], None] | None = None,
) -> OuterSkin:
    """Return the outer skin that the parts of one body make, openings closed, and its error.

    Parameters
    ----------
    name : str
        What the body is called.
    parts : sequence of (str, ndarray of shape (n, 3, 3))
        Name and triangles of each part, placed, body axes [mm].
    lids : sequence of (str, ndarray of shape (k, 3)), optional
        Name and outline of what closes an opening [mm].
    floods : sequence of ndarray of shape (3,), optional
        A point in each well that fills with water [mm]; all other wells are closed.
    progress : callable, optional
        Told what is being worked on, in words.

    Returns
    -------
    OuterSkin

    Raises
    ------
    SurfaceError
        If the parts do not make one body, with what stops them.

    Notes
    -----
    Parts that close by themselves and meet are taken as they are: the skin is their own triangles.
    All others are cut into sections; each section's openings are closed after its neighbors; a plug
    a little inside the closed sections, collars in the seams, and what skin the parts have are
    united, and the voids left out.
    """
    if not parts or any(len(triangles) == 0 for _, triangles in parts):
        empty = next((part for part, triangles in parts if len(triangles) == 0), name)
        raise SurfaceError(f"{empty}: no triangles")
    tell = progress or (lambda _: None)
    tell(f"proving that {name} is closed")
    placed = [(part, np.asarray(triangles, dtype=np.float64)) for part, triangles in parts]
    _refuse_twice(placed)
    found = as_filed(name, placed)
    if found is not None:
        return found
    # Not at the top: it brings the polygon library, and closed parts need none of it.
    from hullcheck.geometry.printed_skin import printed_skin

    return printed_skin(name, placed, lids, floods, tell)


def _refuse_twice(parts: Sequence[tuple[str, FloatArray]]) -> None:
    """Refuse a part that is given twice in the same place."""
    seen: dict[tuple[int, bytes], str] = {}
    for part, triangles in parts:
        key = (len(triangles), triangles.tobytes())
        if key in seen:
            raise SurfaceError(
                f"{seen[key]} and {part} are the same surface in the same place; name it once"
            )
        seen[key] = part
