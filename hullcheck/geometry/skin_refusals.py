"""Skins that are not believed: flat, open at an end, open to their inside, mostly invented."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from hullcheck.errors import SurfaceError
from hullcheck.geometry.areas import area_vectors_mm2
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.skin_lids import WellEnd
from hullcheck.geometry.skin_patches import PLUG, WIDE_MM
from hullcheck.geometry.skin_union import Hulk

if TYPE_CHECKING:
    from shapely import MultiPolygon

_FLATTEST_MM: Final = 1.0
_END_MM: Final = 0.5
_ACROSS: Final = 0.99
_SLACK_MM: Final = 0.02
_WELL_MM2: Final = 25.0
_WELL_SHARE: Final = 0.25
_INVENTED: Final = 0.4
"""A skin of which more than this share is in no file is refused: an open boat lacks her deck, and
that is less."""


def refuse_flat(name: str, closed: Sequence["MultiPolygon"]) -> None:
    """Refuse a surface that closes to nothing: a plate, a rib, a single triangle.

    Parameters
    ----------
    name : str
        What the body is called.
    closed : sequence of MultiPolygon
        Its closed sections [mm].

    Raises
    ------
    SurfaceError
        If on the whole less than 1 mm lies between its two sides.
    """
    areas = sum(region.area for region in closed)
    around = sum(region.length for region in closed)
    thick = 2.0 * areas / max(around, 1e-300)
    if thick < _FLATTEST_MM:
        raise SurfaceError(
            f"{name}: its parts enclose no room: on the whole {thick:.2g} mm lie between its two "
            "sides. A plate, a rib or a fin is no body; leave it out of parts"
        )


def refuse_unbelievable(
    name: str, hulks: Sequence[Hulk], stations_mm: FloatArray, wells: Sequence[WellEnd] = ()
) -> None:
    """Refuse a skin that had to be invented where nothing tells how.

    Parameters
    ----------
    name : str
        What the body is called.
    hulks : sequence of Hulk
        Its shells; faces of the plug are invented.
    stations_mm : ndarray, shape (k,)
        Of its sections, rising [mm].
    wells : sequence of WellEnd
        Where the wells that water fills end.

    Raises
    ------
    SurfaceError
        If bow or stern is an open end wider than 30 mm both ways, a well opens into the inside, or
        more than 40 % of the skin is in no file.
    """
    for face in (face for hulk in hulks for face in _faces_across(hulk)):
        at_end = min(abs(face.station_mm - stations_mm[k]) for k in (0, -1)) < _END_MM
        if at_end and min(face.size_mm) > WIDE_MM:
            raise SurfaceError(_open_end_words(name, face))
    for well in wells:
        missing = sum(_across_mm2(hulk, well) for hulk in hulks)
        if missing > max(_WELL_SHARE * float(well.opening.area), _WELL_MM2):
            raise SurfaceError(
                f"{name}: a well under floods is the inside of the hull: it has no wall at station "
                f"{well.far_mm:.0f}. Close what opens the inside with a [[lid]], or put the point "
                "into the well"
            )
    share = sum(_invented_mm2(hulk) for hulk in hulks) / sum(hulk.area_mm2 for hulk in hulks)
    if share > _INVENTED:
        raise SurfaceError(
            f"{name}: {100.0 * share:.0f} % of her skin is in no file (limit "
            f"{100.0 * _INVENTED:.0f} %): parts are missing. Add them to parts, or close what is "
            "open with a [[lid]]"
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Across:
    """Invented faces in one plane across x."""

    station_mm: float
    low_mm: FloatArray
    high_mm: FloatArray
    area_mm2: float

    @property
    def size_mm(self) -> tuple[float, float]:
        """Its breadth and height [mm]."""
        breadth, height = (self.high_mm - self.low_mm).tolist()
        return breadth, height


def _plug_areas(hulk: Hulk) -> tuple[FloatArray, FloatArray]:
    """Return the triangles of the plug that show, and their area vectors."""
    triangles = hulk.mesh.points[hulk.mesh.faces[hulk.owner == PLUG]]
    return triangles, area_vectors_mm2(triangles)


def _invented_mm2(hulk: Hulk) -> float:
    """Return the area of the plug that shows [mm²]."""
    return float(np.linalg.norm(_plug_areas(hulk)[1], axis=1).sum())


def _across_mm2(hulk: Hulk, well: WellEnd) -> float:
    """Return the area of the plug that shows where a well's end wall should be [mm²]."""
    import shapely

    triangles, vectors = _plug_areas(hulk)
    sizes = np.linalg.norm(vectors, axis=1)
    middles = triangles.mean(axis=1)
    here = np.abs(vectors[:, 0]) > _ACROSS * np.maximum(sizes, 1e-300)
    here &= (middles[:, 0] > well.near_mm - _SLACK_MM) & (middles[:, 0] < well.far_mm + _SLACK_MM)
    within = shapely.contains_xy(well.opening, middles[here, 1], middles[here, 2])
    return float(sizes[here][within].sum())


def _faces_across(hulk: Hulk) -> list[_Across]:
    """Return what of the plug shows in planes across x, a plane each."""
    triangles, vectors = _plug_areas(hulk)
    sizes = np.linalg.norm(vectors, axis=1)
    flat = np.abs(vectors[:, 0]) > _ACROSS * np.maximum(sizes, 1e-300)
    triangles, sizes = triangles[flat], sizes[flat]
    keys = np.round(triangles[:, 0, 0], 1)
    found = []
    for key in np.unique(keys):
        own = keys == key
        corners = triangles[own][:, :, 1:].reshape(-1, 2)
        found.append(
            _Across(
                station_mm=float(triangles[own][0, 0, 0]),
                low_mm=corners.min(axis=0),
                high_mm=corners.max(axis=0),
                area_mm2=float(sizes[own].sum()),
            )
        )
    return found


def _open_end_words(name: str, face: _Across) -> str:
    """Return the refusal of an open end, with the lid to write."""
    (low_y, low_z), (high_y, high_z) = face.low_mm.tolist(), face.high_mm.tolist()
    corners = ", ".join(
        f"[{face.station_mm:.1f}, {y:.1f}, {z:.1f}]"
        for y, z in ((low_y, low_z), (high_y, low_z), (high_y, high_z), (low_y, high_z))
    )
    length, width = sorted(face.size_mm, reverse=True)
    return (
        f"{name} ends open at station {face.station_mm:.0f}, {length:.0f} × {width:.0f} mm: a part "
        "is missing there. Add it to parts; or, if she is closed there, write [[lid]] name = "
        f'"end" outline_mm = [{corners}]'
    )
