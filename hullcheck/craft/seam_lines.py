"""Every seam and opening as lines on the skin."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from hullcheck.craft.body_skin import BodySkin, part_stem
from hullcheck.craft.craft import Craft
from hullcheck.craft.fittings import Seam
from hullcheck.craft.openings import Opening, State
from hullcheck.errors import InputError
from hullcheck.flotation.heads import Heads, heads_along
from hullcheck.geometry.arrays import FloatArray, owned
from hullcheck.geometry.outer_records import PartSeam
from hullcheck.geometry.sections import chained, cut_segments
from hullcheck.geometry.shells import Shell

Source = Literal["sheet", "parts"]

_SAME_STATION_MM: Final = 3.0
"""A seam of the sheet within this of where two parts meet, or within their gap, is that seam."""
_RING: Final = 3
"""From so many points on, an opening's edge is taken to close."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SeamLine:
    """One seam or opening, and where it runs.

    Attributes
    ----------
    name : str
        As in the build sheet; "joint of nose and fore" where only the parts tell of it.
    kind : str
        "seam", or an opening's "canopy", "hatch", "wing seat", "pushrod", "screw", "motor",
        "vent", "drain" or "other".
    body : str or None
        The body it is on; None for an opening.
    lines_mm : tuple of ndarray, shape (k, 3)
        Open polylines in body axes [mm], closed ones with their first point again at the end; a
        single point for a small hole.
    state : str or None
        An opening's "open", "taped" or "sealed"; None for a seam, and where it is not stated.
    source : str
        "sheet", or "parts" where it was found between two of them.
    """

    name: str
    kind: str
    body: str | None
    lines_mm: tuple[FloatArray, ...]
    state: State | None = None
    source: Source = "sheet"

    def __post_init__(self) -> None:
        """Own the lines; refuse none at all."""
        kept = tuple(owned(line, (-1, 3)) for line in self.lines_mm)
        if not kept or not all(len(line) for line in kept):
            raise InputError(f"{self.name}: runs nowhere")
        object.__setattr__(self, "lines_mm", kept)

    @property
    def is_opening(self) -> bool:
        """Whether it is an opening and not a seam."""
        return self.kind != "seam"

    @property
    def points_mm(self) -> FloatArray:
        """All its points, shape (n, 3) [mm]."""
        return np.concatenate(self.lines_mm)

    def heads(self, normal: FloatArray, height_mm: float) -> Heads:
        """Return its head integrals under a water surface normal·p = height_mm [mm]."""
        return heads_along(self.lines_mm, normal, height_mm)

    def lowest_mm(self, normal: FloatArray) -> FloatArray:
        """Return its lowest point for a normal out of the water, shape (3,) [mm]."""
        points = self.points_mm
        lowest: FloatArray = points[int(np.argmin(points @ normal))]
        return lowest


def seam_lines(craft: Craft) -> tuple[SeamLine, ...]:
    """Return every seam of a craft, from the bow, then every opening.

    Parameters
    ----------
    craft : Craft
        With her skins, where her parts are to be asked for seams that the sheet does not name.

    Returns
    -------
    tuple of SeamLine

    Raises
    ------
    InputError
        If a seam's station does not reach its body.
    """
    named = [_of_sheet(craft, seam) for seam in craft.fittings.seams]
    found = [
        _between(skin, seam)
        for skin in craft.skins
        for seam in skin.seams
        if not any(_is(one, skin.name, seam) for one in craft.fittings.seams)
    ]
    seams = sorted(named + found, key=lambda line: float(line.points_mm[:, 0].mean()))
    return (*seams, *(_of_opening(opening) for opening in craft.openings))


def _shells(craft: Craft, body: str) -> tuple[Shell, ...]:
    """Return the closed surfaces of a body of the sheet."""
    for skin in craft.skins:
        if skin.name == body:
            return skin.shells
    return tuple(one.shell for one in craft.bodies if one.name == body)


def _of_sheet(craft: Craft, seam: Seam) -> SeamLine:
    """Return a seam of the build sheet."""
    if seam.points_mm is not None:
        lines: tuple[FloatArray, ...] = (seam.points_mm,)
    else:
        station = float(seam.station_mm or 0.0)
        shells = _shells(craft, seam.body)
        lines = tuple(_rings(shells, np.array([1.0, 0.0, 0.0]), station))
        if not lines:
            reach = [(float(one.low_mm[0]), float(one.high_mm[0])) for one in shells]
            low, high = min(a for a, _ in reach), max(b for _, b in reach)
            raise InputError(
                f"seam {seam.name!r}: station {station:g} does not meet {seam.body}, which lies "
                f"between stations {low:.0f} and {high:.0f}"
            )
    return SeamLine(name=seam.name, kind="seam", body=seam.body, lines_mm=lines)


def _is(seam: Seam, body: str, found: PartSeam) -> bool:
    """Return whether a seam of the sheet is one that was found between two parts."""
    if seam.body != body:
        return False
    near = max(_SAME_STATION_MM, abs(found.gap_mm))
    if seam.station_mm is not None:
        return found.across and abs(seam.station_mm - found.station_mm) <= near
    points = seam.points_mm
    return bool(
        points is not None and (np.abs((points - found.place_mm) @ found.normal) <= near).all()
    )


def _between(skin: BodySkin, seam: PartSeam) -> SeamLine:
    """Return a seam that was found between two parts."""
    rings = tuple(_rings(skin.shells, seam.normal, float(seam.normal @ seam.place_mm)))
    fore, aft = (part_stem(part) for part in seam.parts)
    return SeamLine(
        name=f"joint of {fore} and {aft}",
        kind="seam",
        body=skin.name,
        lines_mm=rings or (seam.place_mm[None],),
        source="parts",
    )


def _rings(shells: Iterable[Shell], normal: FloatArray, offset: float) -> list[FloatArray]:
    """Return where a plane cuts surfaces, as closed lines."""
    return [
        np.concatenate([ring, ring[:1]])
        for shell in shells
        for ring in chained(cut_segments(shell.triangles_mm, normal, offset))
    ]


def _of_opening(opening: Opening) -> SeamLine:
    """Return an opening's edge."""
    points = opening.points_mm
    ring = points if len(points) < _RING else np.concatenate([points, points[:1]])
    return SeamLine(
        name=opening.called,
        kind=opening.kind or "other",
        body=None,
        lines_mm=(ring,),
        state=opening.state,
    )
