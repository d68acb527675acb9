"""A body cut into sections, and the sections closed: what a plug and collars are made of."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.outer_records import PartSeam
from hullcheck.geometry.section_closing import closed_after, closed_sections
from hullcheck.geometry.section_lines import LINE_MM, Section, sections, whole
from hullcheck.geometry.skin_lids import WellEnd, with_wells
from hullcheck.geometry.skin_parts import Taken
from hullcheck.geometry.skin_stations import first_stations, refined, seam_ends, without_gaps

if TYPE_CHECKING:
    from shapely import MultiPolygon

FLUSH_MM: Final = 2e-4
"""How far behind its end a part is cut for the collar of its seam."""
_SAME: Final = 0.005
_OPEN_SHARE: Final = 0.2


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ends:
    """The sections at the two ends of a seam that gapes: as the parts enclose them, and closed."""

    raw: tuple["MultiPolygon", "MultiPolygon"]
    closed: tuple["MultiPolygon", "MultiPolygon"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cut:
    """A body's sections: as its parts enclose them, and closed."""

    stations_mm: FloatArray
    raw: tuple[Section, ...]
    closed: tuple["MultiPolygon", ...]
    at_ends: tuple[Ends | None, ...]
    well_ends: tuple[WellEnd, ...]


def cut_of(
    name: str,
    read: Sequence[Taken],
    seams: Sequence[PartSeam],
    floods: Sequence[FloatArray],
    tell: Callable[[str], None],
) -> Cut:
    """Return a body's sections, raw and closed.

    Parameters
    ----------
    name : str
        What the body is called.
    read : sequence of Taken
        Its parts and lids.
    seams : sequence of PartSeam
    floods : sequence of ndarray, shape (3,)
        A point in each well that water fills [mm].
    tell : callable
        Told what is being worked on.

    Raises
    ------
    SurfaceError
        If a length of the body is empty, or a point lies in no well.
    """
    tell(f"cutting {name} into sections")
    everything = np.concatenate([part.triangles() for part in read])

    def cut(at: FloatArray) -> list[Section]:
        """Return the sections of all parts at stations."""
        return sections(everything, at)

    raw = without_gaps(name, refined(cut(first_stations(everything, seams)), cut, seams), seams)
    tell(f"closing {len(raw)} sections of {name}")
    stations = np.array([section.station_mm for section in raw])
    regions = [section.region for section in raw]
    closed, wells = with_wells(name, stations, regions, closed_sections(regions, stations), floods)
    ends = tuple(_at_ends(seam, stations, closed, cut) for seam in seams)
    return Cut(
        stations_mm=stations,
        raw=tuple(raw),
        closed=tuple(closed),
        at_ends=ends,
        well_ends=tuple(wells),
    )


def _at_ends(
    seam: PartSeam,
    stations: FloatArray,
    closed: Sequence["MultiPolygon"],
    cut: Callable[[FloatArray], list[Section]],
) -> Ends | None:
    """Return the sections that close a seam across x on either side; None where it needs none."""
    near, far = seam_ends(seam)
    before = int(np.searchsorted(stations, near)) - 1
    after = int(np.searchsorted(stations, far))
    if not seam.across or seam.gap_mm <= FLUSH_MM or before < 0 or after >= len(stations):
        return None
    one, two = cut(np.array([near - FLUSH_MM, far + FLUSH_MM]))
    return Ends(
        raw=(one.region, two.region),
        closed=(_flush(one, closed[before]), _flush(two, closed[after])),
    )


def _flush(end: Section, closed: "MultiPolygon") -> "MultiPolygon":
    """Return the section at an end closed after its neighbor, without the width of its lines."""
    region = closed_after(end.region, closed)
    if end.open_mm > _OPEN_SHARE * region.length:
        region = whole(region.buffer(-LINE_MM, join_style="mitre"))
    return region if region.area > (1.0 - _SAME) * closed.area else closed
